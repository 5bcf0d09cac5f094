"""Notches in plate: the inner corner drilled where the holes are, sawn close, filed to the line.

Imported by making.across, which holds the work for them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts import features as f
from parts.frame import Box, Point
from parts.standard.holding import holding_limit
from planner.making import bodies as b
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.model import Hold, Line, Op, SetUp, Tool
from planner.making.near import middle
from planner.making.ways import asked
from planner.making.ways.holes import SPOT_MM
from planner.making.ways.travels import MOVED, apart
from planner.making.workshop import filing_minutes, sawing_minutes

if TYPE_CHECKING:
    from planner.making.across import Across

SAWN_MM = 3.0
"""Less than this is filed off, not sawn (common practice)."""

LEFT_MM = 1.0
"""A saw leaves so much for the file (common practice)."""

PAST_MM = 2.0
"""A drill goes so far past the underside (common practice)."""


class Notches:
    """Notches of one workpiece, in set-ups of ``work``."""

    def __init__(self, work: Across) -> None:
        self.work, self.shop, self.numbers = work, work.shop, work.numbers

    def make(self, features: Sequence[f.SawnNotch]) -> None:
        """Add the set-ups and operations of the notches of a piece: drilled, then sawn, then filed."""
        large = [one for one in features if min(self._wide(one)) >= SAWN_MM]
        cornered = [one.name for one in large if self._cornered(one)]
        sawn = large if self.shop.owns("bandsaw") else []
        for one in sawn:
            self._sawn(one, one.name in cornered)
        for one in features:
            long = max(self._wide(one))
            said = f"{one.name}: {callout(one, self.numbers)}"
            radius = self.numbers.size(2 * one.corner_radius_mm)
            text = (
                f"cut {said}: file down to a scribed line, the corner left round, {radius} across"
            )
            thick, sides = self._thick(one), sum(self._wide(one))
            tool, minutes = (
                Tool("file", "files"),
                filing_minutes(long * min(self._wide(one)) * thick),
            )
            spare = filing_minutes(sides * thick * LEFT_MM)
            if one in sawn:
                text, minutes = f"file {said}: to the lines", spare
            elif one in large:
                into = _into(one.name in cornered)
                lines = self._lines()
                text = f"cut {said}: saw both ways beside {lines}, {into}, file to the lines"
                minutes = sawing_minutes(sides * thick, "hacksaw") + spare
                tool = Tool("file", "hacksaw and files")
            cut = cuts.slot(one.box, asked.open_sides(self.work, one))
            self._bench().add(
                Op("file", text, tool, one, True, cut, minutes=minutes,
                   measures=asked.notch_measures(self.work, one), note=one.note,
                   caution="Deburr before it is handled")
            )  # fmt: skip

    def _wide(self, one: f.SawnNotch) -> tuple[float, float]:
        """How long and how deep it is in the plate."""
        size = one.box.size()
        return size[0], size[1]

    def _thick(self, one: f.SawnNotch) -> float:
        """How thick the plate is there."""
        return b.owner(self.work.bodies, middle(one.box)).size(2)

    def _lines(self) -> str:
        """The lines that a notch is sawn by, and that they are scribed before it."""
        by = "round the template first" if asked.templated(self.work) else "first"
        return f"its lines, scribed {by}"

    def _bench(self) -> SetUp:
        """The set-up of the notch before, else a new one in the bench vice."""
        last = self.work.setups[-1] if self.work.setups else None
        if last and last.machine == "bench" and isinstance(last.ops[-1].feature, f.SawnNotch):
            return last
        return self.work.new("bench", self.work.bench())

    def _cornered(self, one: f.SawnNotch) -> bool:
        """The inner corner drilled, its hole touching both lines; False where it would come out of the
        edge, the plate is too thick for so thin a drill, or nothing holds it."""
        sides = asked.open_sides(self.work, one)
        walls = [w for w in ("-x", "+x", "-y", "+y", "-z", "+z") if w not in sides]
        through = [i for i in range(3) if not any(w[1] == "xyz"[i] for w in walls)]
        machine, wide = self.shop.machine("drill"), 2 * one.corner_radius_mm
        if len(walls) != 2 or len(through) != 1 or not wide:
            return False
        if min(self._wide(one)) < 2 * wide:
            return False
        (i,) = through
        at = list(middle(one.box))
        for wall in walls:
            k, sign = "xyz".index(wall[1]), 1 if wall[0] == "+" else -1
            face = one.box.high[k] if sign > 0 else one.box.low[k]
            at[k] = face - sign * one.corner_radius_mm
        own = b.owner(self.work.bodies, middle(one.box))
        if own.size(i) + PAST_MM > holding_limit("tool", "drill") * wide:
            return False
        for sign in self._ways(machine, i):
            top = own.end(i, sign)
            at[i] = top
            mouth: Point = (at[0], at[1], at[2])
            up = ("+" if sign > 0 else "-") + "xyz"[i]
            inside = [middle(own.box)[k] if k == i else at[k] for k in range(3)]
            inner: Point = (inside[0], inside[1], inside[2])
            opens = self.shop.vice_opens_mm(machine)
            held = b.vice(self.work.bodies, up, [inner], sign * b.FAR, None, opens, True)
            if held is None:
                continue
            hold, align = self.work.vice_hold(machine, held, up, mouth)
            setup = self._same(machine, hold)
            spots = (
                [op.cut["axis"]["through"] for op in setup.ops if op.kind == "spot"]
                if setup
                else []
            )
            if apart(self.shop, machine, [mouth, *spots], i):
                setup, hold = None, replace(hold, words=hold.words + MOVED)
            setup = setup or self.work.new(machine, hold, align)
            line = Line(("-" if sign > 0 else "+") + "xyz"[i], mouth)
            end = own.end(i, -sign) - sign * PAST_MM
            self._drilled(setup, one, line, (top, end), wide)
            return True
        return False

    def _ways(self, machine: str, i: int) -> tuple[int, ...]:
        """Which side up first: the one that a hole the same way was drilled from."""
        for setup in self.work.setups:
            if setup.machine == machine and setup.hold.up and setup.hold.up[1] == "xyz"[i]:
                return (1, -1) if setup.hold.up[0] == "+" else (-1, 1)
        return (1, -1)

    def _same(self, machine: str, hold: Hold) -> SetUp | None:
        """A set-up that holds the work just so; on the cross slide each hole is set by itself."""
        if hold.axis is not None:
            return None
        return next(
            (
                o
                for o in self.work.setups
                if o.machine == machine and replace(o.hold, words=hold.words) == hold
            ),
            None,
        )

    def _drilled(
        self, setup: SetUp, one: f.SawnNotch, line: Line, span: tuple[float, float], wide: float
    ) -> None:
        """Spot and drill the corner, before the edges of that set-up are broken."""
        by, numbers = self.shop.named_drill(wide), self.numbers
        spot = min(SPOT_MM, wide)
        laid = asked.laid_out(setup.machine, self.shop.job, one.name)
        sign = 1 if line.along[0] == "+" else -1
        setup.add(
            Op("spot", f"spot the inner corner of the {one.name} by {laid}",
               Tool("centre drill", "centre drill", spot), one,
               cut=cuts.hole(line, (span[0], span[0] + sign * spot / 2), spot),
               speed=("drill", spot), rate="spot", length_mm=2.0),
            Op("drill", f"drill {numbers.drill(by)}, in the inner corner of the {one.name}, its rim on"
               " both lines", self.shop.drill_to_buy(wide), one, cut=cuts.hole(line, span, wide),
               speed=("drill", wide), rate="drill", length_mm=abs(span[1] - span[0])),
        )  # fmt: skip

    def _sawn(self, one: f.SawnNotch, cornered: bool) -> None:
        """Sawn close to both lines on the bandsaw."""
        sides = asked.open_sides(self.work, one)
        low, high = list(one.box.low), list(one.box.high)
        for i, letter in enumerate("xyz"):
            low[i] += 0.0 if f"-{letter}" in sides else LEFT_MM
            high[i] -= 0.0 if f"+{letter}" in sides else LEFT_MM
        box = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
        left = self.numbers.size(self.shop.job.series.nominal(LEFT_MM))
        last = self.work.setups[-1] if self.work.setups else None
        if last is None or last.machine != "bandsaw":
            last = self.work.new("bandsaw", Hold("hand", "flat on the saw's table, fed by hand"))
        last.add(
            Op("saw", f"saw {one.name} {left} from {self._lines()}, {_into(cornered)}",
               Tool("saw", "bandsaw"), one, False, cuts.slot(box, sides), LEFT_MM, minutes=6.0,
               caution="A stick, not fingers, near the blade")
        )  # fmt: skip


def _into(cornered: bool) -> str:
    """What the saw comes into."""
    return "into the drilled corner" if cornered else "short of the corner"
