"""What is made across a round's axis, on blocks and on weldments: flats, slots, holes, slits, lines.

Groups what one holding reaches, chooses the machine and how it holds. Imported by making.pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from msgspec.structs import replace

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.frame import Point
from parts.standard.holding import holding_limit
from planner.making import bodies as b
from planner.making import plated as plates
from planner.making import unbalance
from planner.making.gauges import Gauges
from planner.making.holds import Holds
from planner.making.kinds import work_of
from planner.making.model import (
    Align,
    Grip,
    Hold,
    Line,
    Op,
    SetUp,
    Workpiece,
)
from planner.making.near import against, below, in_metal, on_axis, same_way, stacks, way_of
from planner.making.ways import asked, bars, beside, holes, milled, notches, scribed, slits
from planner.making.ways.blind import flat_bottomed
from planner.making.ways.counterbored import chuck_mm, reaching
from planner.making.ways.spotted import CLOCKED_IN, Spotted, clocked
from planner.making.ways.travels import MOVED, apart
from planner.making.wayup import set_on, turned_round
from planner.making.workshop import Workshop

HALF_LENGTH = 0.45
"""A block is gripped by half of its length, or what is left of half when it is faced."""


SLOWLY = "Out of balance: begin at the slowest speed, turn it round by hand first"
BALANCED = (
    "Out of balance: bolt a counterweight opposite until it stays as it is turned, begin at the slowest"
    " speed, turn it round by hand first; keep clear of corners and bolts"
)
"""What is said of a block in a chuck, and of one on a faceplate, which takes a counterweight."""


class Across(Holds):
    """The set-ups of one workpiece across its axis."""

    def __init__(
        self, on: Workpiece, attachment: Attachment, shop: Workshop, gauges: Gauges
    ) -> None:
        super().__init__(on, shop, gauges)
        self.attachment = attachment
        self.crossed: dict[str, tuple[str, str]] = {}
        self.turned_over: list[tuple[Line, list[Op]]] = []
        self.turned_before = False

    def plan(self, features: Sequence[Feature], stage: Stage) -> list[SetUp]:
        """The set-ups of features of one stage, in order."""
        self.setups, self.stage = [], stage
        by: dict[str, list[Feature]] = {}
        for one in features:
            by.setdefault(work_of(one), []).append(one)
        lines_first = stage is Stage.WELDED and not self.turned_before
        for one in by.get("line", ()) if lines_first else ():  # on the bench, where it is dressed
            scribed.line(self, one)  # type: ignore[arg-type]
        flats = milled.Milled(self)
        for one in (*by.get("flat", ()), *by.get("slot", ())):
            flats.make(one)
        for one in by.get("bore", ()):
            self._bored(one)  # type: ignore[arg-type]
        self._holes(by.get("hole", ()))  # type: ignore[arg-type]
        # last, on the bench, where it is cleaned for its weld
        notches.Notches(self).make(by.get("notch", ()))  # type: ignore[arg-type]
        for one in by.get("line", ()) if not lines_first else ():
            scribed.line(self, one)  # type: ignore[arg-type]
        for one in by.get("slit", ()):
            slits.Slits(self).make(one)  # type: ignore[arg-type]
        return self.setups

    # ---- holes ----

    def _holes(self, features: Sequence[f.Hole]) -> None:
        """Holes by the way they go, what is made with another part last."""
        groups: dict[tuple[str, str, str], list[f.Hole]] = {}
        late: list[tuple[str, str, str]] = []
        for one in sorted(features, key=lambda o: bool(o.made_with)):
            feed, other = self._feed(one, features), one.made_with
            mates = [o for o in features if o is not one and on_axis(one, o) and same_way(one, o)]
            for mate in mates:  # on one axis with what is made with another part: after that
                other = other or (mate.made_with if mate.axis.along == one.axis.along else "")
            own = b.owner(self.bodies, in_metal(self._entry(one, feed), feed)).name
            key = (feed, other, own)
            groups.setdefault(key, []).append(one)
            if isinstance(one, f.Counterbore) and not other and mates and key not in late:
                late.append(key)
        rest = [key for key in groups if key not in late]
        for key in [*(k for k in rest if not k[1]), *(k for k in rest if k[1]), *late]:
            self._drilled(key[0], key[1], groups[key])
        while self.turned_over:
            line, _ = self.turned_over[0]
            self._drilled(line.along, "", ())

    def _feed(self, one: f.Hole, others: Sequence[f.Hole]) -> str:
        """The way a hole is drilled: a through hole the way of a blind one on its axis, or of its
        mouth."""
        if one.through and not one.made_with and not one.opens_into:
            for other in others:
                same = other.axis.along[1] == one.axis.along[1] and on_axis(one, other)
                if other is not one and same and not other.through:
                    return other.axis.along
            if asked.welded_round(self.on, one):
                return against(one.axis.along)
        return one.axis.along

    def _drilled(self, feed: str, other: str, group: Sequence[f.Hole]) -> None:
        up, along = against(feed), way_of(feed)[0]
        over = [one for one in self.turned_over if one[0].along == feed]
        entries = [self._entry(one, feed) for one in group] or [line.through for line, _ in over]
        inner = [in_metal(p, feed) for p in entries]
        own = b.owner(self.bodies, inner[0])
        machine = self.shop.machine("drill")
        opens = self.shop.vice_opens_mm(machine)
        held = b.vice(self.bodies, up, inner, way_of(up)[1] * b.FAR, None, opens, True)
        past = beside.come_out(group, own, self.shop)
        if own.axis is not None and len(self.bodies) == 1:
            if along == own.axis:
                hold, align = self.rim_hold(own, up, machine)
                align += asked.clocked(self, group, up)
            else:
                hold, align = self.laid(own, inner, up, machine, past)
        elif held is not None:
            hold, align = self.vice_hold(machine, held, up, entries[0])
            hold = beside.off_parallels(hold, held, group, self.shop)
        elif own.axis is not None and along != own.axis:
            hold, align = self.v_blocks(own, inner, up, machine, past)
        else:
            deepest = max(group, key=lambda one: one.depth_mm, default=None)
            hold, align = self.on_table(up, own, deepest)
        if self.attachment is not None and hold.by in CLOCKED_IN:
            also = [op.feature for _, ops in over for op in ops if isinstance(op.feature, f.Hole)]
            align = clocked(self, self.attachment, [*group, *also], up, align)
        if machine == "lathe, on the cross slide" and hold.by != "cross slide":
            hold = self.on_slide(own, up, hold)
        if own.axis is not None and along != own.axis and len(self.bodies) == 1:
            hold = replace(hold, words=hold.words + self._turned_on(up, own.axis, group[0].name))

        def on_line(line: Line) -> Hold:  # each line is brought to the spindle's
            return replace(hold, axis=line) if hold.by == "cross slide" else hold

        setup: SetUp | None = None
        at: list[Point] = []  # where holes begin that are drilled in it
        stacked = stacks(group)
        through = Spotted(self, self.attachment, other) if other else None
        for stack in stacked:
            mouth = self._entry(stack[0], feed)
            far = apart(self.shop, machine, [*at, mouth], along)
            if setup is None or hold.by == "cross slide" or far:
                if far:
                    hold = replace(hold, words=hold.words + MOVED)
                setup, at = self.new(machine, on_line(Line(up, mouth)), align), []
                if through:
                    setup.with_parts, setup.after_parts = (other,), (other,)
                    located = through.located(holes.order(stack, self.shop)[0])
                    setup.align += set_on(machine, located)
                    mouths = [self._entry(one[0], feed) for one in stacked]
                    alone = hold.by == "cross slide" or apart(self.shop, machine, mouths, along)
                    at_once = [stack] if alone else stacked
                    for each in at_once:  # before the other part is taken off
                        self._begin(setup, each, feed, through)
                    setup.ops[-1].text += f"; then take the {through.words} off"
            at.append(mouth)
            if not through:
                self._begin(setup, stack, feed, None)
            self._stack(setup, stack, feed)
        for one in over:  # tapped from this side, which is free: after a pilot ran in the hole
            if setup is None or hold.by == "cross slide":
                setup = self.new(machine, on_line(one[0]), align)
            setup.add(*one[1])
            self.turned_over.remove(one)

    def _turned_on(self, up: str, axis: int, name: str) -> str:
        """How far a round is turned on from the first hole across it, seen from its first end."""
        first = self.crossed.setdefault("first", (up, name))
        return turned_round(first[0], up, axis, first[1])

    def _entry(self, one: f.Hole, feed: str) -> Point:
        """Where the drill goes in."""
        if feed == one.axis.along:
            return one.axis.origin
        return one.axis.at(one.depth_mm)

    def _top(self, stack: Sequence[f.Hole], feed: str) -> float:
        """Where the first of holes on one axis begins, as the drill comes."""
        index, sign = way_of(feed)
        starts = [self._entry(one, feed)[index] for one in stack]
        return min(starts) if sign > 0 else max(starts)

    def _beside(
        self, first: f.Hole, feed: str, chuck: float = beside.CHUCK_MM
    ) -> tuple[float, float]:
        """How tall what stands beside a hole is, for a chuck and for a tap wrench, mm."""
        mouth = self._entry(first, feed)
        own = b.owner(self.bodies, in_metal(mouth, feed))
        tall, wrench = (
            beside.stands_beside(self.bodies, against(feed), mouth, own, wide)
            for wide in (chuck, beside.HANDLE_MM)
        )
        return tall, wrench

    def _under(self, first: f.Hole, feed: str, chuck: float) -> float:
        """How far over a hole a chuck, and the spindle's nose behind it, must stay, mm."""
        mouth = self._entry(first, feed)
        own = b.owner(self.bodies, in_metal(mouth, feed))
        return beside.under_the_nose(self.bodies, against(feed), mouth, own, chuck)

    def _long(self, op: Op, first: f.Hole, feed: str) -> Op:
        """A drilling past what stands beside a hole, with as long a drill as its chuck asks for."""
        chuck = beside.chuck_mm(holes.size_of(op.tool))
        return beside.long_drill(self, op, self._under(first, feed, chuck))

    def _begin(
        self, setup: SetUp, stack: Sequence[f.Hole], feed: str, through: Spotted | None
    ) -> None:
        """The spot of holes on one axis: by what was laid out, or through another part's hole."""
        top = self._top(stack, feed)
        line = Line(feed, stack[0].axis.origin)
        first = holes.order(stack, self.shop)[0]
        want = holes.drill_mm(first, self.shop)
        if through:
            setup.add(self._long(through.spot(first, line, top, want), first, feed))
        elif want:
            made = holes.Holes(self.shop, self.gauges, self.on.part.name, line)
            located = next((o for o in stack if o.locations), first)
            laid = asked.laid_out(setup.machine, self.shop.job, located.name)
            setup.add(self._long(made.spot(located, top, laid), first, feed))

    def _stack(self, setup: SetUp, stack: Sequence[f.Hole], feed: str) -> None:
        """Holes on one axis: the smallest drill first and right down, the larger after it."""
        index, sign = way_of(feed)
        line = Line(feed, stack[0].axis.origin)
        made = holes.Holes(self.shop, self.gauges, self.on.part.name, line)
        ordered = holes.order(stack, self.shop)
        top, first = self._top(stack, feed), ordered[0]
        wrench = self._beside(first, feed)[1]
        before = 0.0
        whole = max(
            abs(self._entry(o, feed)[index] - top)
            + o.depth_mm
            + holes.drilled_past(o, bool(asked.opened_later(self.on.part, o)))
            for o in stack
        )
        slender = whole > holding_limit("tool", "drill") * (holes.drill_mm(first, self.shop) or inf)
        if slender:  # the wide first, so that the thin one has the less to go
            ordered.reverse()
        finishers: list[Op] = []
        for one in ordered:
            want = holes.drilled_mm(one, self.shop)
            start = self._entry(one, feed)[index]
            into = asked.opened_later(self.on.part, one)
            deep = one.depth_mm + holes.drilled_past(one, bool(into))
            tip = deep + holes.POINT * want
            tube = asked.hollow(self.on.part, one, tip) if into and not self.on.member else ""
            end = start + sign * deep
            span = (top if one is first and not slender else start, end)
            plain, under = isinstance(one, f.DrilledHole), () if span[0] == top else stack
            if below(before, want) or slender and want:
                if isinstance(one, f.DrilledHole | f.TappedHole | f.ReamedHole):
                    pilot = made.pilot_mm(want, before, abs(span[1] - span[0]))
                    for size in (pilot, want) if pilot else (want,):
                        op = made.drill(one, size, span, plain and size == want, into, tube=tube)
                        setup.add(self._long(holes.sunk(op, one, under), first, feed))
                before = max(before, want)
            own = (start, start + sign * one.depth_mm)
            over = self._beside(first, feed, beside.wrench_mm(one))[0]
            why = beside.turned_over(one, over, feed, self._all_own())
            if not why:
                sunk = abs(start - top) + wrench
                chuck = self._under(first, feed, chuck_mm(one))
                said = [holes.sunk(o, one, stack) for o in made.finish(one, want, own, False)]
                finishers += [
                    reaching(self, beside.long_tap(self, op, sunk), one, self._all_own(), chuck)
                    for op in said
                ]
                continue
            other_side = Line(against(feed), self._entry(one, against(feed)))
            back = holes.Holes(self.shop, self.gauges, self.on.part.name, other_side)
            tapping = back.finish(one, want, own[::-1], False)
            for op in tapping:
                op.text += f", from the other side: {why}"
            self.turned_over.append((other_side, tapping))
        # a counterbore's pilot goes in the plain hole: it would bruise a thread
        setup.add(*sorted(finishers, key=lambda op: op.kind == "tap"))
        for one in (o for o in stack if asked.welded_round(self.on, o)):
            setup.add(asked.mouth(self, one, setup.machine))

    def _all_own(self) -> Sequence[f.Feature]:
        """What is made of the work in any state that has holes of its own."""
        return self.on.member.features if self.on.member else self.on.part.features

    # ---- a bore in a block: the four-jaw chuck, or the faceplate ----

    def _bored(self, one: f.Bore) -> None:
        along, sign = way_of(one.axis.along)
        body = b.owner(self.bodies, in_metal(one.axis.origin, one.axis.along))
        far = body.end(along, sign)
        jaws = self.shop.jaws_mm
        deep = min(jaws, 0.6 * body.size(along))
        low, high = sorted((far, far - sign * deep))
        grips, reach = [], 0.0
        for i in range(3):
            if i == along:
                continue
            reach = max(reach, *(2 * abs(body.end(i, s) - one.axis.origin[i]) for s in (-1, 1)))
            grips.append(Grip(body.face(i, -1), body.size(i), low, high, body.face(i, 1)))
        kit = self.shop.kit
        wide = min(grip.size_mm for grip in grips)
        short = deep < min(
            holding_limit("grip", "short work") * wide, HALF_LENGTH * body.size(along)
        )
        line = Line(against(one.axis.along), one.axis.origin)
        if short or not (kit.four_jaw and kit.four_jaw.takes(reach)):
            hold = self._on_faceplate(body, one, line, tuple(grips))
        else:
            out = body.size(along) - deep
            words = (
                f"four-jaw chuck on its four sides, {self.numbers.rule(out)} out, the bore's centre,"
                " scribed and punched before, true"
            )
            hold = Hold("four-jaw chuck", words, tuple(grips), line, out_mm=out)
        align = (
            Align("the punched centre runs true, on a wobbler", body.face(along, -sign),
                  "dial indicator", 0.05),
            Align("the face runs true", body.face(along, -sign), "dial indicator", 0.03),
        )  # fmt: skip
        setup = self.new("lathe", hold, align)
        made = holes.Holes(self.shop, self.gauges, self.on.part.name,
                           Line(one.axis.along, one.axis.origin))  # fmt: skip
        span = holes.span_of(one, one.depth_mm)
        drill = holes.drill_mm(one, self.shop)
        setup.add(made.spot(one, span[0], "the punched centre"))
        pilot, sizes = made.pilot_mm(drill, 0.0, one.depth_mm), [drill]
        wide = bars.room_for_a_bar(bars.IN_THE_REST, one, drill, self.shop)
        if wide > drill:  # one that is borrowed, after the shop's largest
            sizes.append(wide)
        sizes = [pilot, *sizes] if pilot else sizes
        if one.through:
            setup.add(*(made.drill(one, size, span, False) for size in sizes))
        else:
            setup.add(*flat_bottomed(made, one, sizes, span))
        drill = sizes[-1]
        setup.add(*made.finish(one, drill, span, True))
        if asked.welded_round(self.on, one):
            setup.add(asked.mouth(self, one))
        off = unbalance.most_rpm(self.on.part, self.bodies, along, one.axis.origin)
        setup.caution, setup.most_rpm = SLOWLY, off
        if hold.plate:
            setup.caution, setup.most_rpm = BALANCED, plates.MOST_RPM

    def _on_faceplate(self, body: b.Body, one: f.Bore, line: Line, jaws: tuple[Grip, ...]) -> Hold:
        """A block on the faceplate, its far side on it; jaws: what is said where it does not go."""
        along, out = way_of(line.along)
        back, front = body.end(along, -out), body.end(along, out)
        end = holes.span_of(one, one.depth_mm)[1]
        free = one.diameter.max_mm / 2
        if asked.welded_round(self.on, one):
            free = max(free, (asked.mouth(self, one).tool.diameter_mm or 0.0) / 2)
        through = one.through or not below(abs(end - front), abs(front - back))
        high = self.numbers.rule(abs(front - back))
        true = f"; {high} high, the bore's centre, scribed and punched before, true"
        plate = None
        if most := self.shop.kit.faceplate_mm:
            way = (along, out)
            plate = plates.plated(body, way, one.axis.origin, most, free, front, through)
        rests = body.face(along, -out)
        if plate is None:
            instead = "Bore it on the cross slide with a bar between centres"
            if not one.through:  # no bar goes in from one side alone
                instead = "Have it bored where there is one"
            lacking = "a four-jaw chuck or a faceplate large enough"
            self.shop.lacks(self.on.part.name, lacking, instead)
            words = f"on the faceplate, its {rests.rpartition('.')[2]} side flat on it{true}"
            return Hold("faceplate", words, jaws, line, out_mm=abs(front - back), rests=rests,
                        chuck_instead=instead)  # fmt: skip
        packing = self.numbers.size(self.shop.job.series.nominal(plate.packing_mm))
        words = plates.words(plate, f"its {rests.rpartition('.')[2]} side", packing) + true
        grip = plates.clamped(plate, body, rests, (back, front))
        return Hold("faceplate", words, (grip,), line, out_mm=abs(front - back), rests=rests,
                    plate=plate)  # fmt: skip
