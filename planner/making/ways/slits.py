"""Slits: a slitting saw on its arbor square to its spindle, or two blades in a hacksaw frame.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from parts import features as f
from parts.features import Location
from parts.standard.fits import Limits
from parts.standard.sections import MM_PER_INCH
from planner.making import bodies as b
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.gauges import by_eye
from planner.making.model import Align, Grip, Hold, Line, Measure, Op, SetUp, Tool
from planner.making.near import face_of, middle, way_of
from planner.making.ways.asked import datum_surface, open_sides, wide

if TYPE_CHECKING:
    from planner.making.across import Across

SPINDLE_MM = 30.0
"""A saw on a short arbor stands so far out of its spindle: what is taller beside it is in the way."""

WANDERS_MM = 0.05
"""A saw cuts so much wider than it is (common practice)."""

SAW_MM, SAW_IN = 63.0, 2.5
"""Diameter of a usual slitting saw: metric (ISO 2296), and in inches (common practice)."""

SLIT_CAUTION = "Clamp well; slow; goggles; nothing is squeezed into the slit to hold it open"


class Slits:
    """Slits of one workpiece, in set-ups of ``work``."""

    def __init__(self, work: Across) -> None:
        self.work, self.shop, self.numbers = work, work.shop, work.numbers

    def _saw_mm(self) -> float:
        """The diameter of the shop's usual slitting saw, mm."""
        return SAW_IN * MM_PER_INCH if self.shop.inch else SAW_MM

    def make(self, feature: f.Slit) -> None:
        """Add the set-up and the operation of a slit."""
        i = "xyz".index(wide(feature.box, feature.width))
        sides = open_sides(self.work, feature)
        depth = [loc for loc in feature.locations if not loc.element.endswith("middle")]
        owned = [w for w in self.shop.kit.slitting_saws
                 if feature.width.min_mm <= w + WANDERS_MM <= feature.width.max_mm]  # fmt: skip
        broad = owned[0] if owned else feature.width.nominal_mm
        wheel = self._saw_mm()
        across = self.numbers.plain.size(wheel)
        tool = Tool("slitting saw", f"slitting saw {across} x"
                    f" {self.numbers.size(broad)} on its arbor", wheel, broad, None, bool(owned),
                    "" if owned else "buy one with an arbor")  # fmt: skip
        by_hand = not depth and not owned
        measures = self._slit_measures(feature, depth)
        cut = cuts.slot(feature.box, sides)
        text = f"{feature.name}: {callout(feature, self.numbers)}"
        if by_hand:
            setup = self.work.new(
                "bench", replace(self.work.bench(), words=feature.held or "bench vice")
            )
            setup.add(
                Op(
                    "slit",
                    f"saw the {text}, two blades side by side in the hacksaw frame, along a"
                    " scribed"
                    " line",
                    Tool("hacksaw", "hacksaw, two fine blades"),
                    feature,
                    True,
                    cut,
                    minutes=20.0,
                    measures=measures,
                    note=feature.note,
                    caution=SLIT_CAUTION,
                )
            )
            return
        if not owned:
            self.shop.lacks(self.work.on.part.name, f"a {tool.name}", "Buy one with an arbor")
        setup = self._slit_held(feature, i, sides)
        deep = max(abs(feature.box.size()[j]) for j in range(3) if j != i)
        setup.add(
            Op("slit", f"saw the {text}", tool, feature, True, cut, speed=("mill", wheel),
               rate="slit", length_mm=deep + wheel / 2, stock_mm=self._deep(feature, i),
               measures=measures, note=feature.note, caution=SLIT_CAUTION)
        )  # fmt: skip

    def _deep(self, feature: f.Slit, i: int) -> float:
        """How far the saw goes in: from the open side to the bottom, or right through, mm."""
        own = b.owner(self.work.bodies, middle(feature.box))
        ways = [
            min(feature.box.high[j], own.high(j)) - max(feature.box.low[j], own.low(j))
            for j in range(3)
            if j != i
        ]
        return min(ways)

    def _slit_held(self, feature: f.Slit, i: int, sides: Sequence[str]) -> SetUp:
        """A saw stands square to its spindle: the slit's width lies along the spindle."""
        centre = middle(feature.box)
        for machine in ("mill", "milling slide"):
            if not self.shop.owns(machine):
                continue
            for sign in "+-":
                up = sign + "xyz"[i]
                floor = face_of(feature.box, i, -way_of(up)[1])
                held = b.vice(self.work.bodies, up, [centre], floor, None)
                if held and not b.towers(self.work.bodies, up, held.body, SPINDLE_MM):
                    hold, align = self.work.vice_hold(machine, held, up, centre)
                    return self.work.new(machine, hold, align)
        own = b.owner(self.work.bodies, centre)
        j = max(
            (k for k in range(3) if k != i),
            key=lambda k: f"+{'xyz'[k]}" in sides and f"-{'xyz'[k]}" in sides,
        )
        grip = Grip(own.face(j, -1), own.size(j), own.low(j), own.high(j), own.face(j, 1))
        words = (
            "clamped to the cross slide on packing, the slit at spindle height and square to the"
            " spindle;"
            " the saw on its arbor between chuck and centre"
        )
        line = Line("+" + "xyz"[i], centre)
        hold = Hold("cross slide", words, (grip,), line, rests=own.face(j, -1), up="+" + "xyz"[j])
        align = (Align("square to the spindle", own.face(i, 1), "dial indicator", 0.02),)
        return self.work.new("lathe, on the cross slide", hold, align)

    def _slit_measures(self, feature: f.Slit, depth: Sequence[Location]) -> tuple[Measure, ...]:
        letter = wide(feature.box, feature.width)
        name = feature.name
        found = [
            self.work.gauges.length(feature.width, f"{name}.{letter}-low", f"{name}.{letter}-high",
                                    "gap", "by feelers or a slip of sheet"),
            by_eye(feature.check[0], f"{name}.{letter}-low", feature.check[1]),
        ]  # fmt: skip
        for where in depth:
            found.append(
                self.work.gauges.length(where.size, datum_surface(self.work, where),
                                        f"{name}.{where.element}", "depth")
            )  # fmt: skip
        for where in feature.locations:
            if where.element.endswith("middle"):
                found += self._beside(feature, where, letter)
        return tuple(found)

    def _beside(self, feature: f.Slit, where: Location, letter: str) -> list[Measure]:
        """The metal between a slit and the bore that it is placed from."""
        datum = self.work.on.part.datums[where.datum]
        bore = next((o for o in self.work.on.part.features if o.name == datum.of), None)
        if not isinstance(bore, f.ReamedHole | f.Bore):
            return []
        off = bore.diameter.mean_mm / 2 + feature.width.nominal_mm / 2
        size = where.size
        wall = Limits(size.nominal_mm - off, size.upper_mm, size.lower_mm, "")
        if wall.nominal_mm < 0:  # the slit lies under the bore: so far inside its wall
            wall = Limits(off - size.nominal_mm, -size.lower_mm, -size.upper_mm, "")
        side = "low" if where.along[0] == "+" else "high"
        how = "from a pin in the bore to a slip in the slit: the place and half of bore and slit"
        end = f"{feature.name}.{letter}-{side}"
        return [self.work.gauges.length(wall, f"{bore.name}.bore", end, "length", how)]
