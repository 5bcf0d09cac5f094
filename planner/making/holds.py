"""How work that does not turn is held: vice, V-blocks, clamps on the table or on the cross slide.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from parts.features import Stage
from parts.frame import Point
from planner.making import bodies as b
from planner.making.bodies import Body
from planner.making.gauges import Gauges
from planner.making.model import Align, Grip, Hold, Line, SetUp, Workpiece
from planner.making.workshop import Workshop

SHORT_MM = 20.0
"""A V-block, and a clamp beside the hole, want so much of a round (common practice)."""

DISC_MM = 40.0
"""A round no longer is gripped by its two faces (common practice)."""

INDICATED_MM = 0.02
"""A vice's jaw or a datum is set true within this, over its length (common practice)."""


class Holds:
    """Set-ups of one workpiece, and the ways it is held."""

    def __init__(self, on: Workpiece, shop: Workshop, gauges: Gauges) -> None:
        self.on, self.shop, self.gauges, self.numbers = on, shop, gauges, shop.numbers
        self.bodies = b.bodies_of(on.part, on.member)
        self.setups: list[SetUp] = []
        self.stage = Stage.BLANK

    def new(self, machine: str, hold: Hold, align: tuple[Align, ...] = ()) -> SetUp:
        """A set-up; a milling slide has no table to be square to, but its face."""
        if machine == "milling slide":
            align = tuple(
                replace(one, what=one.what.replace("to the table", "to the milling slide's face"))
                for one in align
            )
        setup = SetUp(self.on, self.stage, machine, hold, align=align)
        self.setups.append(setup)
        return setup

    def vice_hold(
        self, machine: str, held: b.Gripped, up: str, at: Point
    ) -> tuple[Hold, tuple[Align, ...]]:
        """A vice on two faces, or clamps on the cross slide, as a hold with what is set true."""
        grip, numbers = held.grip, self.numbers
        opens = numbers.size(grip.size_mm)
        body = held.body.name if held.body.name != "blank" else self.on.name
        height = numbers.rule(grip.to_mm - grip.from_mm)
        if machine == "lathe, on the cross slide":
            words = (
                "clamped to the cross slide on packing that brings the cut to spindle height, its"
                " faces"
                f" {opens} apart between stops; clamps on the {body}"
            )
            hold = Hold("cross slide", words, (grip,), Line(up, at), rests=held.rests, up=up)
        else:
            on = " on the milling slide" if machine == "milling slide" else ""
            words = (
                f"machine vice{on} across the {body}, {opens} between the jaws, {height} gripped,"
                " on"
            )
            words += " parallels"
            hold = Hold("machine vice", words, (grip,), rests=held.rests, up=up)
        if machine == "drill press":
            return hold, ()
        by = "dial indicator" if self.shop.job.shop.measuring.dial_indicator else "square"
        return hold, (Align("true to the slide's travel", grip.surface, by, INDICATED_MM),)

    def laid(self, body: Body, near: Sequence[Point], up: str) -> tuple[Hold, tuple[Align, ...]]:
        """A round that lies under the tool: in V-blocks, a short one in the vice."""
        assert body.axis is not None
        fit = any(r.high - r.low >= SHORT_MM and not b.between(body, r) for r in body.rounds)
        alone = len(self.bodies) == 1
        if (
            alone
            and b.flat_ended(body)
            and body.size(body.axis) <= (DISC_MM if not fit else SHORT_MM)
        ):
            return self.by_faces(body, up)
        return self.v_blocks(body, near, up) if fit or not alone else self.rim_hold(body, up)

    def by_faces(self, body: Body, up: str) -> tuple[Hold, tuple[Align, ...]]:
        """A disc on its edge in the vice, between its faces."""
        assert body.axis is not None
        i, upward, sign = body.axis, "xyz".index(up[1]), 1 if up[0] == "+" else -1
        bottom = body.end(upward, -sign)
        height = min(0.5 * body.size(upward), b.JAW_HIGH_MM)
        low, high = sorted((bottom, bottom + sign * height))
        face, other = body.face(i, -1), body.face(i, 1)
        wide = body.size(i)
        grip = Grip(face, wide, low, high, other, packing="card")
        words = (
            f"machine vice on the two faces, {self.numbers.rule(round(wide, 2))} between the jaws,"
            f" {self.numbers.rule(round(height, 1))} gripped, card between, on parallels"
        )
        align = (Align("the face square to the table", face, "square", 0.1),)
        widest = max(body.rounds, key=lambda r: r.diameter)
        return Hold("machine vice", words, (grip,), rests=widest.surface, up=up), align

    def v_blocks(
        self, body: Body, near: Sequence[Point], up: str
    ) -> tuple[Hold, tuple[Align, ...]]:
        """V-blocks under a round body near some points."""
        assert body.axis is not None
        at = [p[body.axis] for p in near]
        middle = (min(at) + max(at)) / 2
        long = [r for r in body.rounds if r.high - r.low >= SHORT_MM] or list(body.rounds)
        one = min(long, key=lambda r: (max(r.low - middle, middle - r.high, 0.0), r.low - r.high))
        a, c = max(one.low, min(at) - 25.0), min(one.high, max(at) + 25.0)
        if c - a < SHORT_MM:
            a, c = one.low, one.high
        grip = Grip(one.surface, one.diameter, a, c, packing="card under the clamps")
        words = f"V-blocks under the Ø{self.numbers.plain.size(one.diameter)}, clamped to the table"
        if not self.shop.job.shop.measuring.v_blocks:
            self.shop.lacks(self.on.part.name, "a pair of V-blocks", "Saw and file one of hardwood")
        align = (Align("square to the table", one.surface, "square", 0.1),)
        return Hold("V-blocks", words, (grip,), up=up), align

    def rim_hold(self, body: Body, up: str) -> tuple[Hold, tuple[Align, ...]]:
        """A vice on the sides of a round that lies along the table or stands on its end."""
        assert body.axis is not None
        upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
        bottom = body.end(upward, -sign)
        standing = upward == body.axis
        one = max(body.rounds, key=lambda r: r.high - r.low)
        strips = b.between(body, one) and not standing
        height = max(0.6 * body.size(upward), min(3.0, 0.8 * body.size(upward)))
        if not standing:
            bottom = -sign * one.diameter / 2
            height = 0.55 * one.diameter
        low, high = sorted((bottom, bottom + sign * height))
        name = one.surface
        wide = self.shop.job.series.down(one.high - one.low - 1.0, 1.0) if strips else None
        packing = "strips" if strips else "card"
        grip = Grip(name, one.diameter, low, high, name, packing=packing, wide_mm=wide)
        rests = body.face(upward, -sign) if standing else name
        words = f"machine vice on the Ø{self.numbers.plain.size(one.diameter)}, on parallels"
        if wide is not None:
            words += (
                f", between two strips {self.numbers.size(wide)} wide and thicker than what stands out"
                " beside"
            )
        align = (Align("true to the slide's travel", name, "dial indicator", INDICATED_MM),)
        return Hold("machine vice", words, (grip,), rests=rests, up=up), align

    def bench(self, free: int | None = None) -> Hold:
        """The bench vice; free: the axis whose faces the jaws leave free."""
        return b.bench_hold(self.bodies, free)

    def on_table(self, up: str, low: Body) -> tuple[Hold, tuple[Align, ...]]:
        """Clamps on a body that stands on packing tall enough for what hangs below it."""
        upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
        bottom = low.end(upward, -sign)
        hang = max(sign * (bottom - other.end(upward, -sign)) for other in self.bodies)
        top, under = low.face(upward, sign), low.face(upward, -sign)
        ends = sorted((low.low(upward), low.high(upward)))
        grip = Grip(top, low.size(upward), ends[0], ends[1], under)
        words = f"clamped to the table on the {low.name}, level on packing"
        if hang > 1:
            words += (
                f" of {self.numbers.rule(self.shop.job.series.up(hang + 3, 1.0))}, the rest"
                " hanging free"
            )
        align = (Align("square to the table", top, "square", 0.1),)
        return Hold("clamps on the table", words, (grip,), rests=under, up=up), align

    def under(self, own: Body, up: str) -> str:
        """The face or round away from the tool."""
        if own.axis is not None and "xyz"[own.axis] != up[1]:
            return own.rounds[0].surface
        return own.face("xyz".index(up[1]), -1 if up[0] == "+" else 1)

    def on_slide(self, own: Body, up: str, hold: Hold) -> Hold:
        """The cross slide, for a hold that would lie on a machine's table."""
        words = (
            "clamped to the cross slide at spindle height, the drill in the chuck; or held against a"
            " drilling pad in the tailstock, the punch mark on the spot"
        )
        i = "xyz".index(up[1])
        grips = hold.grips
        if hold.by == "clamps on the table":
            j = min((k for k in range(3) if k != i), key=own.size)
            grips = (Grip(own.face(j, -1), own.size(j), own.low(i), own.high(i), own.face(j, 1)),)
        elif hold.by == "V-blocks":
            words = (
                "in V-blocks on the cross slide, clamped at spindle height, the drill in the chuck"
            )
        return replace(hold, by="cross slide", words=words, grips=grips,
                       rests=hold.rests or self.under(own, up))  # fmt: skip
