"""The ends of flat and square pieces: milled, faced in the four-jaw chuck, or filed to length.

Imported by making.pieces.
"""

from __future__ import annotations

from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.frame import ORIGIN, Box
from planner.making import bodies as b
from planner.making import cuts
from planner.making.across import Across
from planner.making.holds import INDICATED_MM
from planner.making.model import Align, Grip, Hold, Line, Op, SetUp, Tool
from planner.making.near import way_of
from planner.making.ways.holes import size_of
from planner.making.ways.travels import passes_both, reaches
from planner.making.workshop import FLUTES, LONG_FLUTES

CUTTER_MM = 16.0
"""The cutter that mills ends (common practice for a small mill)."""

UPRIGHT_MM = 80.0
"""A piece no longer stands well on its end in the vice (common practice)."""


class Ends:
    """The set-ups that bring a flat or square piece to its length."""

    def __init__(
        self, work: Across, length: f.FacedLength, near_mm: float, far_mm: float
    ) -> None:  # what is left on the end at x = 0, which is first, and on the other
        self.work, self.length, self.near, self.far = work, length, near_mm, far_mm
        self.shop, self.body = work.shop, work.bodies[0]
        self.long = length.length.nominal_mm

    def plan(self) -> None:
        """Both ends, by the first way there is."""
        band = self.length.length.upper_mm - self.length.length.lower_mm
        for machine in ("mill", "milling slide"):
            reached = reaches(self.shop, machine, self.work.bodies, self.body.box, 0, CUTTER_MM)
            if self.shop.owns(machine) and reached and self._milled(machine):
                return
        if self._four_jaw():
            return
        if self.shop.owns("shaper") and self._milled("shaper"):
            return
        if not self.shop.attains("file", band, self.long):
            self.shop.lacks(self.work.on.part.name, "a mill for the ends", "Have them milled")
        self._filed()

    def _left(self, low: bool) -> float:
        """What is left on an end."""
        return self.near if low else self.far

    def _op(self, low: bool, kind: str, tool: Tool, verb: str) -> Op:
        at = 0.0 if low else self.long
        body = self.body.box
        outer = (-self.near, 0.0) if low else (self.long, self.long + self.far)
        box = Box((outer[0], body.low[1], body.low[2]), (outer[1], body.high[1], body.high[2]))
        cut = cuts.flat("-x" if low else "+x", at, box)
        last = not low
        said = self.work.numbers.worked_limits(self.length.length)
        text = f"{verb} the first end square" if low else f"{verb} the other end to length {said}"
        op = Op(kind, text, tool, self.length if last else None, last, cut)
        if last:
            op.measures = (
                self.work.gauges.length(self.length.length, "blank.-x", "blank.+x", "outside"),
            )
            op.note = self.length.note
        return op

    def _milled(self, machine: str) -> bool:
        opens = self.work.shop.vice_opens_mm(machine)
        held = next(
            (
                found
                for up in ("+z", "+y")
                if (found := b.vice(self.work.bodies, up, [ORIGIN], b.FAR, 0, opens))
            ),
            None,
        )
        if held is None:
            return False
        up = "+z" if held.across == 1 else "+y"
        tall = self.body.size(way_of(up)[0])
        # of the shop's own mill, where it has one that would reach by its side
        short = FLUTES * size_of(self.shop.end_mill(CUTTER_MM, tall))
        if tall > short and self._upright(machine, tall > LONG_FLUTES * CUTTER_MM):
            return True
        both = self.long > b.JAW_WIDE_MM + 4 and passes_both(
            self.shop, machine, self.long, CUTTER_MM
        )
        setup: SetUp | None = None
        for low in (True, False):
            if setup is None or not both:
                hold, align = self.work.vice_hold(machine, held, up, ORIGIN)
                if not both:
                    hold = replace(
                        hold, words=f"{hold.words}, {'first' if low else 'other'} end out"
                    )
                setup = self.work.new(machine, hold, align)
            if machine == "shaper":
                tool, rate, speed = Tool("shaper tool", "shaper tool, round nose"), "shape", None
            else:
                tool = self.shop.end_mill(CUTTER_MM, tall)
                rate, speed = "mill", ("mill", size_of(tool))
            op = self._op(low, "mill", tool, "mill" if rate == "mill" else "shape")
            if rate == "mill":
                op.text += ", with the side of the cutter, the end standing out of the jaws"
            op.speed, op.rate = speed, rate
            op.length_mm, op.stock_mm = max(self.body.size(1), self.body.size(2)), self._left(low)
            setup.add(op)
        return True

    def _upright(self, machine: str, must: bool) -> bool:
        """Each end on top in turn, under the cutter's face: where its flutes are too short."""
        if machine == "shaper" or self.long > UPRIGHT_MM and not must:
            return False
        opens = self.work.shop.vice_opens_mm(machine)
        found = [b.vice(self.work.bodies, up, [ORIGIN], b.FAR * s, None, opens)
                 for up, s in (("-x", -1), ("+x", 1))]  # fmt: skip
        if None in found:
            return False
        for low, held in zip((True, False), found, strict=True):
            assert held is not None
            hold, _ = self.work.vice_hold(machine, held, "-x" if low else "+x", ORIGIN)
            align = (Align("square to the table", held.grip.surface, "square", 0.05),)
            tool = self.shop.end_mill(CUTTER_MM)
            op = self._op(low, "mill", tool, "mill")
            stands = "the other end against the parallels, by the cutter's face"
            if machine == "mill":
                stands = "standing on the other end, under the cutter's face"
            op.text += f", {stands}"
            op.speed, op.rate = ("mill", size_of(tool)), "mill"
            op.length_mm, op.stock_mm = max(self.body.size(1), self.body.size(2)), self._left(low)
            self.work.new(machine, hold, align).add(op)
        return True

    def _four_jaw(self) -> bool:
        kit = self.shop.kit
        wide, high = self.body.size(1), self.body.size(2)
        jaws = self.shop.jaws_mm
        through = kit.passes(hypot(wide, high))
        deep = min(jaws, 0.7 * self.long)

        def out_mm(whole: float) -> float:
            return max(whole - kit.chuck_depth_mm, 5.0) if through else whole - deep

        sawn = self.near + self.long + self.far
        if (
            deep < 0.5 * (sawn - self.near)
            or not kit.four_jaw
            or not (kit.four_jaw.takes(wide) and kit.four_jaw.takes(high))
            or out_mm(sawn) > 2.5 * min(wide, high)
        ):
            return False
        for low in (True, False):
            out = out_mm(sawn if low else sawn - self.near)  # both ends are to face, then one
            begins = out - self.near if low else self.long + self.far - out - deep
            a = max(begins, 0.0 if low else -self.near)
            c = min(begins + deep, self.long + self.far)
            grips = (
                Grip("blank.-y", wide, a, c, "blank.+y"),
                Grip("blank.-z", high, a, c, "blank.+z"),
            )
            line = Line("-x" if low else "+x", ORIGIN)
            words = (
                f"four-jaw chuck on its four sides, {self.work.numbers.rule(out)} out, the"
                " long"
                " faces along the spindle"
            )
            hold = Hold("four-jaw chuck", words, grips, line, out_mm=out)
            align = (Align("along the spindle, by the carriage", "blank.+y", "dial indicator",
                           2 * INDICATED_MM),)  # fmt: skip
            setup = self.work.new("lathe", hold, align)
            diameter = hypot(wide, high)
            tool = self.shop.turning("facing", self.work.on.member.blank.material)  # type: ignore[union-attr]
            op = self._op(low, "face", tool, "face")
            off = self._left(low)
            at = 0.0 if low else self.long
            op.cut = cuts.face(line, at, "+x" if low else "-x", diameter, off)
            op.speed, op.rate, op.length_mm, op.stock_mm = (
                ("face", diameter),
                "face",
                diameter / 2,
                off,
            )
            setup.add(op)
        return True

    def _filed(self) -> None:
        setup = self.work.new("bench", self.work.bench(free=0))
        tool = Tool("file", "files, second cut and smooth; square")
        for low in (True, False):
            op = self._op(low, "file", tool, "file")
            op.minutes = 10.0
            setup.add(op)
