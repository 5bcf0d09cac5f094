"""How work that does not turn is held: vice, V-blocks, clamps on the table or on the cross slide.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from parts import features as f
from parts.features import Stage
from parts.frame import Point
from planner.making import bodies as b
from planner.making import onslide, vees
from planner.making.bodies import Body
from planner.making.gauges import Gauges
from planner.making.model import Align, Grip, Hold, Line, SetUp, Workpiece
from planner.making.near import Span, below, face_of, outside, overlap, same, way_of
from planner.making.setby import sets_true
from planner.making.wayup import RAM, SPUN, WayUp, held_on, set_on
from planner.making.workshop import Workshop

SHORT_MM = 20.0
"""A V-block, and a clamp beside the hole, want so much of a round (common practice)."""

DISC_MM = 40.0
"""A round no longer is gripped by its two faces (common practice)."""

FINE_UM, CLOSE_MM = 1.6, 0.05
"""A face as smooth as this, or in its place within as much, is finished: bare jaws mark it (common
practice)."""

INDICATED_MM = 0.02
"""A vice's jaw or a datum is set true within this, over its length (common practice)."""

BLOCK_MM = 25.0
"""A V-block for this work is so long (common practice)."""

APART_MM = 100.0
"""Two V-blocks beside a hole stand so far apart where the round is long enough (common practice)."""

SQUARED_MM = 0.1
"""A face is set square to the table by a square within this (common practice)."""

STANDS = 2.0
"""Work so many times as high as a vice grips of it, and as it is long between its jaws, stands on its
end, and is set square (common practice: the jaws set it one way only)."""


def _on(machine: str) -> str:
    """What is said of a vice that stands on the lathe."""
    return " on the milling slide" if machine == "milling slide" else ""


def _long(spans: Sequence[Span]) -> list[Span]:
    """Those of some stretches of a round that a V-block and its clamp have room on."""
    return [span for span in spans if span[1] - span[0] >= SHORT_MM]


class Holds:
    """Set-ups of one workpiece, and the ways it is held."""

    def __init__(self, on: Workpiece, shop: Workshop, gauges: Gauges) -> None:
        self.on, self.shop, self.gauges, self.numbers = on, shop, gauges, shop.numbers
        self.bodies = b.bodies_of(on.part, on.member)
        self.setups: list[SetUp] = []
        self.stage = Stage.BLANK
        self.way_up = WayUp()

    def new(self, machine: str, hold: Hold, align: tuple[Align, ...] = ()) -> SetUp:
        """A set-up; where there is no table to be square to, by what there is."""
        align = set_on(machine, align)
        made = self.on.member.features if self.on.member else ()
        way_up = self.way_up.other(machine, hold, align, self.bodies, made)
        words = onslide.said(hold, hold.words + way_up, self.bodies)
        said = replace(hold, words=held_on(machine, words))
        minded = SPUN if (machine, hold.by) == ("drill press", "machine vice") else ""
        minded = RAM if machine == "shaper" else minded
        setup = SetUp(self.on, self.stage, machine, said, align=align, caution=minded)
        self.way_up.keep(setup, hold)
        self.setups.append(setup)
        return setup

    def vice_hold(
        self, machine: str, held: b.Gripped, up: str, at: Point
    ) -> tuple[Hold, tuple[Align, ...]]:
        """A vice on two faces, or clamps on the cross slide, as a hold with what is set true."""
        grip, numbers = held.grip, self.numbers
        if fine := self.finished(held.body, held.across):
            grip = replace(grip, packing="card")
        opens = numbers.rule(grip.size_mm)
        body = self.called(held.body)
        height = numbers.rule(grip.to_mm - grip.from_mm)
        if machine == "lathe, on the cross slide":
            words = (
                "clamped to the cross slide on packing that brings the cut to spindle height, its faces"
                f" {opens} {onslide.BETWEEN}; clamps on the {body}"
            )
            if fine:
                words += f", card on the {fine}"
            hold = Hold("cross slide", words, (grip,), Line(up, at), rests=held.rests, up=up)
        else:
            words = (
                f"machine vice{_on(machine)} across the {body}, {opens} between the jaws,"
                f" {height} gripped, on parallels"
            )
            if fine:
                words += f", card between the jaws and the {fine}"
            hold = Hold("machine vice", words, (grip,), rests=held.rests, up=up)
        i = way_of(up)[0]
        align: tuple[Align, ...] = ()
        side = 3 - i - held.across
        foot = max(grip.to_mm - grip.from_mm, held.body.size(side))
        if hold.by == "machine vice" and held.body.size(i) > STANDS * foot:
            hold = replace(hold, words=f"{hold.words}, standing on its end")
            what = f"the {self.face_name(held.body, side, 1)} square to the table"
            align = (Align(what, held.body.face(side, 1), "square", SQUARED_MM),)
        if machine != "drill press":
            true = Align("true to the slide's travel", grip.surface, *sets_true(self.shop.job))
            align = (true, *align)
        return hold, align

    def called(self, body: Body) -> str:
        """What a body is called in words: a piece alone by its own name."""
        return body.name if body.name != "blank" else self.on.name

    def finished(self, body: Body, i: int) -> str:
        """The finished surface that is one of two opposite faces of a body, "" for none."""
        return self._finish(body, i, -1) or self._finish(body, i, 1)

    def _finish(self, body: Body, i: int, sign: int) -> str:
        """The finished surface that a face of a body is now: its feature's name, "" for none."""
        own = self.on.part.features if self.on.member is None else self.on.member.features
        for one in own:
            bands = [o.size.upper_mm - o.size.lower_mm for o in one.locations]
            if not 0 < one.roughness_um <= FINE_UM and min(bands, default=1.0) > CLOSE_MM:
                continue
            if isinstance(one, f.MilledFlat):
                letter, _, side = one.locations[0].element.partition("-")
                there = letter == "xyz"[i] and (side == "low") == (sign > 0)
                at = [face_of(one.box, i, -sign)] if there else []
                over = all(
                    overlap((one.box.low[k], one.box.high[k]), (body.low(k), body.high(k)))
                    for k in range(3)
                    if k != i
                )
            elif isinstance(one, f.FacedShoulder):
                at = [one.axis.at(to)[i] for to in (one.start_mm, one.end_mm)]
                k, far = way_of(one.axis.along)
                over = k == i and far == sign
            else:
                continue
            if over and any(same(place, body.end(i, sign)) for place in at):
                return one.name
        return ""

    def face_name(self, body: Body, i: int, sign: int) -> str:
        """What a face of a body is called in words."""
        return (
            self._finish(body, i, sign) or f"{self.called(body)}'s {b.SIDES[sign]}{'xyz'[i]} side"
        )

    def laid(
        self, body: Body, near: Sequence[Point], up: str, machine: str, past: Sequence[Span] = ()
    ) -> tuple[Hold, tuple[Align, ...]]:
        """A round that lies under the tool: in V-blocks, a short one in the vice."""
        assert body.axis is not None
        fit = any(_long(self._free(r, past)) for r in body.rounds if not b.between(body, r))
        alone = len(self.bodies) == 1
        wide = max((r.diameter for r in body.rounds), default=0.0)  # vees set no angle about it
        short = DISC_MM if not fit else max(SHORT_MM, min(DISC_MM, wide))
        if alone and b.flat_ended(body) and body.size(body.axis) <= short:
            return self.by_faces(body, up, machine)
        if fit or not alone:
            return self.v_blocks(body, near, up, machine, past)
        return self.rim_hold(body, up, machine)

    def _free(self, one: b.Round, past: Sequence[Span]) -> list[Span]:
        """The stretches of a round that no hole comes out of below."""
        spans: list[Span] = [(one.low, one.high)]
        for gone in past:
            spans = [left for span in spans for left in outside(span, gone)]
        return spans

    def by_faces(self, body: Body, up: str, machine: str) -> tuple[Hold, tuple[Align, ...]]:
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
            f"machine vice{_on(machine)} on the two faces,"
            f" {self.numbers.rule(wide)} between the jaws,"
            f" {self.numbers.rule(height)} gripped, card between, on parallels"
        )
        align: tuple[Align, ...] = ()
        if machine != "drill press":
            align = (Align("the face square to the table", face, "square", SQUARED_MM),)
        widest = max(body.rounds, key=lambda r: r.diameter)
        return Hold("machine vice", words, (grip,), rests=widest.surface, up=up), align

    def v_blocks(
        self, body: Body, near: Sequence[Point], up: str, machine: str, past: Sequence[Span] = ()
    ) -> tuple[Hold, tuple[Align, ...]]:
        """V-blocks under a round body near some points; past: where holes come out below, between the
        blocks or beyond them."""
        assert body.axis is not None
        at = [p[body.axis] for p in near]
        middle = (min(at) + max(at)) / 2

        def off(one: b.Round) -> float:
            return max(one.low - middle, middle - one.high, 0.0)

        whole = [r for r in body.rounds if _long([(r.low, r.high)])] or list(body.rounds)
        long = [r for r in whole if _long(self._free(r, past))] or whole
        one = min(long, key=lambda r: (off(r), r.low - r.high))
        spans = _long(self._free(one, past)) or [(one.low, one.high)]
        stands = [o for o in self.bodies if o.axis is None]
        if stands and _long(spans) and not _long(vees.clear(spans, body, one, self.bodies, up)):
            return self.on_table(up, self._lowest(stands, up))
        words = f"V-blocks under the Ø{self.numbers.plain.size(one.diameter)}"
        below_it = [span for span in spans if past and span[1] <= min(at)][-1:]
        above_it = [span for span in spans if past and span[0] >= max(at)][:1]
        if below_it and above_it:
            words += ", one on each side of the hole"
            places = [(max(below_it[0][0], below_it[0][1] - BLOCK_MM), below_it[0][1]),
                      (above_it[0][0], min(above_it[0][1], above_it[0][0] + BLOCK_MM))]  # fmt: skip
        else:
            span = min(spans, key=lambda s: (max(s[0] - middle, middle - s[1], 0.0), s[0] - s[1]))
            a, c = max(span[0], min(at) - APART_MM), min(span[1], max(at) + APART_MM)
            if not past:
                a, c = max(span[0], min(at) - BLOCK_MM), min(span[1], max(at) + BLOCK_MM)
            if c - a < SHORT_MM:
                a, c = span
            places = [(a, c)]
            if past:
                words += ", the hole hanging past their end"
                if max(abs(middle - a), abs(middle - c)) - (c - a) > one.diameter:
                    words += ", a jack under the work beside it"
        grips = tuple(
            Grip(one.surface, one.diameter, *place, packing="card under the clamps")
            for place in places
        )
        words += ", clamped to the table, card under the clamps"
        if not self.shop.job.shop.measuring.v_blocks:
            self.shop.lacks(self.on.part.name, "a pair of V-blocks", "Make it first, as an aid")
        return Hold("V-blocks", words, grips, up=up), self._turned_true(body, one, up, machine)

    def _lowest(self, bodies: Sequence[Body], up: str) -> Body:
        """The body that the others stand on: it reaches farthest down, and is the longest that does."""
        upward, sign = way_of(up)
        low = min(sign * one.end(upward, -sign) for one in bodies)
        down = [one for one in bodies if same(sign * one.end(upward, -sign), low)]
        return max(down, key=lambda one: max(one.size(k) for k in range(3)))

    def _turned_true(self, body: Body, one: b.Round, up: str, machine: str) -> tuple[Align, ...]:
        """What sets work about the axis it lies on: a face of a block on it; a bar alone lies as it
        likes, and is set along the slide where that cuts."""
        blocks = [other for other in self.bodies if other.axis is None]
        if blocks:
            i = next(k for k in range(3) if k not in (body.axis, way_of(up)[0]))
            block = max(blocks, key=lambda o: o.size(0) * o.size(1) * o.size(2))
            sign = 1 if self._finish(block, i, 1) or not self._finish(block, i, -1) else -1
            what = f"the {self.face_name(block, i, sign)} square to the table"
            return (Align(what, block.face(i, sign), "square", SQUARED_MM),)
        if flat := self._by_a_flat(up, machine):
            return flat
        if machine == "drill press":
            return ()
        return (Align("true to the slide's travel", one.surface, *sets_true(self.shop.job)),)

    def rim_hold(self, body: Body, up: str, machine: str) -> tuple[Hold, tuple[Align, ...]]:
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
        thick = self.numbers.plain.size(one.diameter)
        words = f"machine vice{_on(machine)} on the Ø{thick}, on parallels, card between"
        if wide is not None:  # on long parallels what is thicker beside would lie
            words = (
                f"{words.partition(', on')[0]}, between two strips {self.numbers.size(wide)} wide and"
                " thicker than what stands out beside, on a packing no longer than they are wide"
            )
        align: tuple[Align, ...] = ()
        if machine != "drill press":
            align = (Align("true to the slide's travel", name, "dial indicator", INDICATED_MM),)
        if not standing:
            align = self._by_a_flat(up, machine) or align
        return Hold("machine vice", words, (grip,), rests=rests, up=up), align

    def _by_a_flat(self, up: str, machine: str) -> tuple[Align, ...]:
        """What sets a bar about its axis: a flat that was milled on it before, on another machine."""
        for setup in self.setups:
            for op in setup.ops:
                if isinstance(op.feature, f.MilledFlat) and setup.machine != machine:
                    face = op.feature.locations[0].element
                    how = "parallel" if face[0] == up[1] else "square"
                    by = sets_true(self.shop.job)[0].replace("square", "scribing block")
                    by = by if how == "parallel" else how
                    return (
                        Align(f"the {op.feature.name} {how} to the table",
                              f"{op.feature.name}.{face}", by, SQUARED_MM),
                    )  # fmt: skip
        return ()

    def bench(self, free: int | None = None, up: str = "") -> Hold:
        """The bench vice; free: the axis whose faces the jaws leave free; up: the face worked on."""
        return b.bench_hold(self.bodies, free, up)

    def on_table(
        self, up: str, low: Body, first: f.Hole | None = None
    ) -> tuple[Hold, tuple[Align, ...]]:
        """Clamps on a body that stands on packing tall enough for what hangs below it; first: the hole
        that is drilled into the face that is up."""
        upward, sign = way_of(up)
        bottom = low.end(upward, -sign)
        hang = max(sign * (bottom - other.end(upward, -sign)) for other in self.bodies)
        top, under = low.face(upward, sign), low.face(upward, -sign)
        ends = sorted((low.low(upward), low.high(upward)))
        grip = Grip(top, low.size(upward), ends[0], ends[1], under)
        thin = all(not below(low.size(i), low.size(upward)) for i in range(3))
        stands = "flat" if thin else "on its edge"
        words = f"clamped to the table on the {self.called(low)}, {stands}, its {up} side"
        if first is not None:
            words += f", where the {first.name} begins,"
        words += " up, level on packing"
        if first is not None and first.through and not first.opens_into:
            words += " clear of where it comes out"
        if hang > 1:
            words += (
                f" of {self.numbers.rule(self.shop.job.series.up(hang + 3, 1.0))}, the rest"
                " hanging free"
            )
        return Hold("clamps on the table", words, (grip,), rests=under, up=up), (
            self._upright(low, upward),
        )

    def _upright(self, low: Body, upward: int) -> Align:
        """What of the work stands upright and is set square to the table: a round, else a side."""
        rounds = [one for one in self.bodies if one.axis == upward]
        if rounds:
            one = max(rounds, key=lambda o: o.size(upward))
            name = max(one.rounds, key=lambda r: r.high - r.low).surface
            return Align(f"the {one.name} square to the table", name, "square", SQUARED_MM)
        i = min((k for k in range(3) if k != upward), key=low.size)
        what = f"the {self.face_name(low, i, 1)} square to the table"
        return Align(what, low.face(i, 1), "square", SQUARED_MM)

    def under(self, own: Body, up: str) -> str:
        """The face or round away from the tool."""
        if own.axis is not None and "xyz"[own.axis] != up[1]:
            return own.rounds[0].surface
        return own.face("xyz".index(up[1]), -1 if up[0] == "+" else 1)

    def on_slide(self, own: Body, up: str, hold: Hold) -> Hold:
        """The cross slide, for a hold that would lie on a machine's table."""
        words = (
            "clamped to the cross slide at spindle height, on packing and against a squared block"
            " bolted down behind it, the drill in the chuck"
        )
        i = "xyz".index(up[1])
        grips = hold.grips
        between = {grip.packing for grip in grips if grip.packing}
        if between and hold.by == "machine vice":
            words += f"; {' and '.join(sorted(between))} between clamps and work"
        if hold.by == "clamps on the table":
            side = hold.words.partition(", its ")[2].partition(" up, ")[0]
            words += f"; its {side} toward the spindle"
            own = next((o for o in self.bodies if o.name == hold.rests.rpartition(".")[0]), own)
            j = min((k for k in range(3) if k != i), key=own.size)
            grips = (Grip(own.face(j, -1), own.size(j), own.low(i), own.high(i), own.face(j, 1)),)
        elif hold.by == "V-blocks":
            words = (
                "in V-blocks on the cross slide, clamped at spindle height, card under the clamps, the"
                " drill in the chuck"
            )
        return replace(hold, by="cross slide", words=words, grips=grips,
                       rests=hold.rests or self.under(own, up))  # fmt: skip
