"""What is worked in its place on the lathe: bored in the tool post, mounted in another part, a ball.

Imported by making.whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.frame import ORIGIN
from parts.part import datum_place, members
from parts.standard.drills import drill_at_least
from parts.standard.fits import Limits
from parts.standard.holding import holding_limit
from parts.standard.threads import thread
from planner.making import bodies as b
from planner.making import cuts
from planner.making.across import Across
from planner.making.callouts import callout
from planner.making.gauges import Gauges
from planner.making.model import (
    OUT_OF_BALANCE_RPM,
    Align,
    Gauge,
    Grip,
    Hold,
    Line,
    Measure,
    Op,
    SetUp,
    Tool,
    Workpiece,
)
from planner.making.mouths import cutter, far_mouth, trued, whole_mm
from planner.making.near import below, middle, outside, way_of
from planner.making.trueto import across, free_side, in_its_own, run_out, set_in_post
from planner.making.ways import bars, holes
from planner.making.ways.onaxis import FILED
from planner.making.ways.touched import by_rod
from planner.making.workshop import Workshop

FACE_MM = 0.015
"""What a thrust face may run out about its bore at the most (common practice)."""

PILOTED_MM, PILOT_UNDER_MM = 8.0, 1.0
"""A thicker drill follows a pilot drill, one that is thinner by more than this (common practice)."""

BY_HAND = (
    "Turn the spindle by hand a full turn before boring: the bit must clear all round. Carrier guarded;"
    " nothing reached past the turning bar"
)
CLEAR = "Turn the spindle by hand a full turn first: the tool must clear all round"

CHANGES = {
    "centre": "the drill chuck out of the spindle, the work left as it is held: the bar through the"
    " hole, between the headstock's centre and the tailstock's, the carrier on its headstock's end",
    "chuck": "the bar and its carrier out, the work left as it is held: the headstock's centre out, the"
    " chuck for drill and reamer in the spindle",
}
"""What is put into the headstock, with the work still held: another step, since it takes its time."""

BAR_OUT = (
    "; to measure it the tailstock is drawn back and the bar comes out, the work left as it is held"
)
"""No gauge goes into a bore beside the bar."""

HEADSTOCK = {"centre": "headstock centre and carrier", "chuck": "chuck for the headstock"}

CHANGE_MINUTES = 5.0
"""Minutes for it (common practice)."""


def changed_over(setup: SetUp) -> SetUp:
    """A set-up with a step wherever what drives the tool is changed in the headstock."""
    there, ops = "", []
    for op in setup.ops:
        bar = op.tool.kind in ("boring bar between centres", "facing cutter")
        need = "centre" if bar else "chuck"
        if there and need != there:
            tool = Tool(f"headstock {need}", HEADSTOCK[need])
            ops.append(Op("rest", CHANGES[need], tool, minutes=CHANGE_MINUTES,
                          caution="Switch off at the wall; chuck key out before it turns"))  # fmt: skip
        there = need
        ops.append(op)
    setup.ops = ops
    return setup


class InPlace:
    """The set-ups in place of a whole part."""

    def __init__(
        self, on: Workpiece, attachment: Attachment, shop: Workshop, gauges: Gauges
    ) -> None:
        self.on, self.part, self.attachment = on, on.part, attachment
        self.shop, self.gauges, self.numbers = shop, gauges, shop.numbers
        self.across = Across(on, attachment, shop, gauges)

    def of(self, *stages: Stage) -> list[Feature]:
        """The features of the whole made at some stages."""
        return [one for one in self.part.features if one.stage in stages]

    def _round_on(self, one: f.Turned) -> b.Body:
        """The round body that lies about a turning axis."""
        return next(body for body in self.across.bodies if b.about(body, one))

    def in_place(self) -> list[SetUp]:
        """What is made by the spindle with the part in its own place."""
        here = self.of(Stage.IN_PLACE)
        setups = []
        bores = [o for o in here if isinstance(o, f.Bore)]
        for bore in bores:
            setups.append(self._bored(bore, [o for o in here if isinstance(o, f.FacedShoulder)]))
        for one in here:
            if isinstance(one, f.ReamedHole | f.DrilledHole | f.TappedHole):
                setups.append(self._mounted(one))
            elif isinstance(one, f.TurnedBall):
                setups.append(self._ball(one))
        return setups

    def _bored(self, one: f.Bore, faces: Sequence[f.FacedShoulder]) -> SetUp:
        """The part in the tool post, the bar between headstock and tailstock."""
        where = one.locations[0]
        datum = self.part.datums[where.datum]
        place = datum_place(self.part, None, where.datum)
        j, (i, way) = place.along, way_of(one.axis.along)
        held = next(body for body in self.across.bodies if body.name == datum.of)
        spans = [(held.low(i), held.high(i))]
        for other in self.across.bodies:
            if other is not held:
                taken = (other.low(i) - b.BESIDE_MM, other.high(i) + b.BESIDE_MM)
                spans = [left for span in spans for left in outside(span, taken)]
        a, c = max(spans, key=lambda s: s[1] - s[0])
        grip = Grip(held.face(j, -1), held.size(j), a, c, held.face(j, 1))
        line = Line(one.axis.along, one.axis.origin)
        height = self.numbers.micrometer(where.size.nominal_mm)
        words = (
            f"the {held.name} in the tool post turned a quarter turn, along the bed, on the seat"
            " without packing; the bar between the headstock's centre and the tailstock's, driven by a"
            " carrier at its headstock's end"
        )
        hold = Hold("tool post", words, (grip,), line, rests=held.face(j, -1))
        side, _ = free_side(self.part, one)
        align = (
            Align(f"the {held.name}'s side along the bed, over its length", side,
                  "dial indicator", 0.01),
            Align(f"the bar's centre over the seat {height}, half of the bar as measured",
                  held.face(j, -1), "gauge blocks and indicator", where.size.upper_mm / 2),
        )  # fmt: skip
        setup = SetUp(self.on, Stage.IN_PLACE, "lathe", hold, align=align,
                      caution=bars.minded(BY_HAND, self.shop),
                      most_rpm=OUT_OF_BALANCE_RPM)  # fmt: skip
        before, work = self._hole_there(one), self._passes(one)
        span = holes.span_of(one, one.depth_mm)
        made = holes.Holes(self.shop, self.gauges, self.part.name, line)
        tube, own = before > 0, b.owner(self.across.bodies, one.axis.at(one.depth_mm / 2))
        setup.align += (across(own.name, tube),)
        first = own.end(i, -way)  # what is still to be faced stands before the bore
        if not tube:
            before = made.led_mm(one, abs(span[1] - first))
            setup.add(made.spot(one, first, "the spindle"))
        long = abs(own.end(i, way) - one.axis.origin[i])
        work = bars.past_the_post(work, long, self.attachment.sizes, self.shop)
        work = bars.on_a_long_centre(bars.BETWEEN_CENTRES, one, before, self.shop, work)
        setup.hold = self._on_centre(setup.hold, work)
        stout = bars.room_for_a_bar(bars.BETWEEN_CENTRES, one, before, self.shop, work)
        solid, deep = holes.SOLID_MM, abs(span[1] - first)
        if not tube and (pilot := made.pilot_mm(min(before, stout), 0.0, deep, solid)):
            setup.add(made.drill(one, pilot, (first, span[1]), False))
        if not tube and below(before, stout):  # the largest drill leads the one that is borrowed
            setup.add(made.drill(one, before, (first, span[1]), False))
        if not tube or below(before, stout):
            setup.add(made.drill(one, stout, (first, span[1]), False))
        before = stout
        bar = self._bar(before, work)
        for op in made.finish(one, before, span, True):
            op.tool = bar
            setup.add(op)
        measure = setup.ops[-1].measures
        half = one.diameter.mean_mm / 2
        size = where.size
        over = Limits(size.nominal_mm - half, size.upper_mm, size.lower_mm, "")
        if over.nominal_mm < 0:  # the bore's wall lies lower than the seat
            over = Limits(half - size.nominal_mm, -size.lower_mm, -size.upper_mm, "")
        over = Limits(over.nominal_mm, over.upper_mm, max(over.lower_mm, -over.nominal_mm), "")
        how = (
            "from the seat to the bore's wall: between the height and half of the bore as measured"
        )
        setup.ops[-1].text += BAR_OUT
        setup.ops[-1].measures = (
            *measure,
            self.gauges.length(
                over, f"{datum.of}.{datum.element}", f"{one.name}.bore", "height", how
            ),
        )
        for face in faces:
            self._faced(setup, face, bar)
        mouth = far_mouth(self.across.bodies, own, one, self.attachment.sizes, self.shop)
        setup.add(trued(mouth, bar, self.numbers))
        return changed_over(setup)

    def _hole_there(self, one: f.Bore) -> float:
        """The hole of the tube that a bore follows, 0 in the solid."""
        for member in members(self.part):
            body = next(x for x in self.across.bodies if x.name == member.name)
            section = member.blank.section
            if section.shape == "tube" and b.about(body, one):
                return section.width_mm - 2 * section.thickness_mm
        return 0.0

    def _passes(self, one: f.Hole) -> bars.Passing:
        """The work that passes along a bar in a hole, as far as what meets the carrier.

        The bar's tail is longer for what of the work runs on beside the tailstock's barrel.
        """
        i, way = way_of(one.axis.along)
        middle = one.axis.at(one.depth_mm / 2)
        own = b.owner(self.across.bodies, middle)
        head = own.end(i, -way)  # the axis runs from the headstock to the tailstock
        tail = own.end(i, way)
        reach = bars.CARRIER_SWINGS_MM + holes.drill_mm(one, self.shop) / 2
        for body in self.across.bodies:
            off = [max(body.low(j) - middle[j], middle[j] - body.high(j), 0.0)
                   for j in range(3) if j != i]  # fmt: skip
            if below(hypot(*off), reach):
                head = max(head, body.end(i, -way), key=lambda at: -way * at)
            if below(hypot(*off), bars.BARREL_MM / 2 + bars.RUN_MM):
                tail = max(tail, body.end(i, way), key=lambda at: way * at)
        past = max(way * (tail - own.end(i, way)) - bars.CENTRE_OUT_MM, 0.0)
        return bars.Passing(max(way * (own.end(i, way) - head), one.depth_mm), past)

    def _bar(self, hole_mm: float, work: bars.Passing) -> Tool:
        """A bar for a hole, along which work passes; the lathe must take it."""
        series, plain = self.shop.job.series, self.numbers.plain
        size = bars.made_bar_mm(hole_mm, work, series)
        long = bars.long_mm(work, size, series)
        name = f"boring bar Ø{plain.size(size)} between centres, its bit across"
        instead = "made first: see the aids"
        most = self.shop.job.lathe.between_centres
        owned = most is None or not below(most, long)
        if not owned:
            lacking = f"a lathe that takes {self.numbers.size(long)} between its centres"
            self.shop.lacks(self.part.name, lacking, "Have it bored on a longer lathe")
            instead += f"; on {lacking}"
        return Tool("boring bar between centres", name, size, bars.bit_mm(size, series), long, owned,
                    instead, bit_at_mm=bars.bit_at_mm(work, size, series),
                    centre_out_mm=work.centre_out_mm or None)  # fmt: skip

    def _on_centre(self, hold: Hold, work: bars.Passing) -> Hold:
        """What is said of the tailstock's centre where it must stand far out."""
        if not work.centre_out_mm:
            return hold
        out = self.numbers.rule_up(work.centre_out_mm)
        words = (
            f"; at the tailstock the long centre (made first), {out} out of the drill chuck: the"
            f" {'post' if work.post else 'work'} runs on beside it"
        )
        return replace(hold, words=hold.words + words)

    def _faced(self, setup: SetUp, one: f.FacedShoulder, bar: Tool) -> None:
        i, _ = way_of(one.axis.along)
        low, high = sorted((one.axis.at(one.start_mm)[i], one.axis.at(one.end_mm)[i]))
        own = self._round_on(one)
        assert setup.hold.axis is not None
        within, words = run_out(
            self.part, one, self.shop.job.series.tolerance(FACE_MM), self.numbers
        )
        outer = low > middle(own.box)[i]  # at the high end of its round
        at = low if outer else high
        keeps = ("-" if outer else "+") + "xyz"[i]
        cut = cuts.face(setup.hold.axis, at, keeps, own.diameter, high - low)
        setup.add(
            Op(
                "face",
                f"face the {one.name}: {callout(one, self.numbers)}",
                cutter(whole_mm(own.diameter, self.shop), bar),
                one,
                True,
                cut,
                speed=("form", own.diameter),
                rate="form",
                length_mm=high - low,
                stock_mm=high - low,
                note=one.note,
                measures=(
                    Measure(
                        f"flat and square by an indicator in the bar, within {words}",
                        "runout",
                        0.0,
                        within,
                        f"{one.name}.start",
                        f"{one.name}.start",
                        Gauge("dial indicator", "runout", 0.0, 1.0, 0.002),
                    ),
                ),
            )
        )

    def _mounted(self, one: f.Hole) -> SetUp:
        """A hole made by the spindle with the part in another, which is in the tool post."""
        i, _ = way_of(one.axis.along)
        own = b.owner(self.across.bodies, one.axis.at(one.depth_mm / 2))
        across = [j for j in range(3) if j != i]
        j = max(across, key=lambda k: own.size(k))  # the clamp bears on the faces farthest apart
        grips = (Grip(own.face(j, -1), own.size(j), own.low(i), own.high(i), own.face(j, 1)),)
        line = Line(one.axis.along, one.axis.origin)
        drawn, nuts = in_its_own(self.part, self.attachment, one.made_with)
        words = (
            f"in its own {one.made_with.replace('-', ' ')}{drawn}, that in the tool post as for"
            " turning; the swing locked by a clamp from the part to the cross slide; the drill in the"
            " headstock, fed by the carriage"
        )
        flat = next((o for o in self.part.features if isinstance(o, f.MilledFlat)), None)
        surface = f"{flat.name}.{flat.locations[0].element}" if flat else f"{one.name}.axis"
        hold = Hold("tool post", words, grips, line)
        what = f"the {flat.name if flat else one.name} parallel to the bed over its length"
        square = set_in_post(self.part, self.attachment, one)
        align = (Align(what, surface, "dial indicator", 0.02), *square)
        setup = SetUp(self.on, Stage.IN_PLACE, "lathe", hold, align=align, caution=CLEAR,
                      with_parts=(one.made_with,), after_parts=(one.made_with, *nuts))  # fmt: skip
        made = holes.Holes(self.shop, self.gauges, self.part.name, line)
        span, slide = holes.span_of(one, one.depth_mm), self.shop.job.lathe.cross_slide_division
        want = holes.drill_mm(one, self.shop)
        there = self.shop.drill(want)
        first = there.diameter_mm if there else want  # what it is bored to need be no drill's size
        setup.add(made.spot(one, span[0], "the spindle" + by_rod(self.numbers, own, one, slide)))
        work = self._passes(one)
        if below(first, want):
            there_mm, reamed_from = first, holes.drilled_mm(one, self.shop)
            first, work = bars.hole_for_a_bar(one, there_mm, self.shop, work)
            if not first or below(there_mm, first) and not below(holes.SOLID_MM, reamed_from):
                # any bar would bend, or a drill is bought all the same: then that before the reamer
                first, want, work = reamed_from, reamed_from, bars.NOTHING
            setup.hold = self._on_centre(setup.hold, work)
            want = max(want, first)
        stout = one.depth_mm / holding_limit("tool", "drill")
        pilot = self.shop.drill(max(0.6 * first, stout))
        if pilot and pilot.diameter_mm < stout:
            pilot = drill_at_least(stout, self.shop.inch)
        leads = pilot and PILOTED_MM < first > pilot.diameter_mm + PILOT_UNDER_MM
        sizes = [pilot.diameter_mm, first] if pilot and leads else [first]
        thin = made.pilot_mm(sizes[0], 0.0, one.depth_mm, holes.SOLID_MM)
        setup.add(*(made.drill(one, x, span, False) for x in (thin, *sizes) if x))
        if below(first, want):
            op = made.bored(one, first, want, span, False, 0.2)
            op.tool = self._bar(first, work)
            setup.caution = bars.minded(BY_HAND, self.shop)
            setup.most_rpm = OUT_OF_BALANCE_RPM
            setup.add(op)
        for op in made.finish(one, want, span, False):
            op.text = op.text.replace(", never", " from the headstock, never")
            setup.add(op)
        return changed_over(setup)

    def _ball(self, one: f.TurnedBall) -> SetUp:
        """A ball turned with the attachment, on a threaded stub in the chuck."""
        tapped = next((o for o in self.part.features if isinstance(o, f.TappedHole)), None)
        grips: tuple[Grip, ...] = ()
        if tapped is not None:
            a, c = sorted((tapped.axis.origin[0], tapped.axis.at(tapped.depth_mm)[0]))
            size = thread(tapped.thread).tap_drill_mm
            grips = (Grip(f"{tapped.name}.bore", size, a, c, inside=True, packing="threaded stub"),)
        words = one.held or "on a stub in the chuck"
        if stub := self.shop.stub:
            words += f", {self.numbers.rule_up(stub.out_mm)} of the stub out of the jaws"
        hold = Hold("mandrel", words, grips, Line("+x", ORIGIN), out_mm=one.end_mm)
        others = tuple(p.name for p in self.attachment.parts if p.name != self.part.name)
        setup = SetUp(self.on, Stage.IN_PLACE, "lathe", hold, with_parts=others, after_parts=others)
        setup.caution = "Sweep the head by hand, unpowered, before the first cut"
        text = f"turn the ball {callout(one, self.numbers)} with the attachment"
        tool, fast = Tool("attachment", "the attachment's own bit"), "turn"
        if below(one.diameter.nominal_mm, self.attachment.sizes.min_ball_diameter_mm):
            setup.caution = FILED
            text = f"round the ball {callout(one, self.numbers)} by steps and a file to a template"
            text += ": it is smaller than the attachment turns"
            tool = Tool("form tool", "HSS form tool, or steps and a file to a template")
            fast = "part"  # as fast as the lever's balls
        setup.add(
            Op(
                "ball",
                text,
                tool,
                one,
                True,
                cuts.along((one.start_mm, one.end_mm)),
                speed=(fast, one.diameter.nominal_mm),
                most_rpm=stub.rev_min if stub else None,
                minutes=20.0,
                note=one.note,
                measures=(self.gauges.diameter(one.diameter, f"{one.name}.round", False),),
            )
        )
        return setup
