"""Holes: spotted, drilled, bored, reamed, counterbored, tapped, with the tools there are.

``axial`` makes them in the lathe about the spindle's axis, ``stacked`` across the work, several on one
axis at once: one spot, the smallest drill first and deepest, the larger after it. Imported by the ways
and by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import singledispatch
from math import inf
from typing import TYPE_CHECKING

from parts import features as f
from parts.frame import ORIGIN
from parts.standard.drills import drill_at_least, drill_at_most, sold_at_most
from parts.standard.holding import holding_limit
from parts.standard.reaming import reaming_allowance_mm
from parts.standard.threads import thread
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.gauges import Gauges, by_thread
from planner.making.holding import facing_mm
from planner.making.model import Line, Op, Tool
from planner.making.near import Span, below, same, way_of
from planner.making.ways import screwed
from planner.making.ways.sunk import counterbore
from planner.making.workshop import Workshop

if TYPE_CHECKING:
    from planner.making.ways.onaxis import OnAxis

ROUGH_MM = 0.5
"""What roughing leaves on a bore (common practice)."""

SPOT_MM = 3.0
"""A centre drill's pilot begins a hole no larger (common practice)."""

BAR_IN_BORE = 0.8
"""A boring bar is at most so much of the hole (common practice)."""

ROOM_MM = 4.0
"""It is worth while where so much is left to bore."""

WORTH_MM = 0.2
"""Roughing a bore is worth while where it takes more than this (common practice)."""

STOUT_MM = 9.5
"""From so thick up a bar takes roughing cuts (common practice)."""

DRILL_FEED_NOTE = "withdraw each diameter past three"

POINT = 0.3
"""A drill's point is so much of its size long (118 degrees: half of it over the tangent of 59)."""

SOLID_MM, MOST_SOLID_MM, PILOT, WEB = 13.0, 20.0, 0.6, 0.25
"""A thicker drill follows one of no more than so much of its size: its web, a sixth to a quarter of it,
cuts nothing; past the second that is bought, where the shop's own do not reach (common practice)."""


@singledispatch
def drill_mm(feature: f.Hole, shop: Workshop) -> float:
    """What a hole is drilled to before it is finished, mm."""
    return 0.0


@drill_mm.register
def _(feature: f.DrilledHole, shop: Workshop) -> float:
    size = feature.diameter
    under = drill_at_most(size.nominal_mm, shop.inch)
    if under.diameter_mm >= size.min_mm:
        return under.diameter_mm
    return drill_at_least(size.nominal_mm, shop.inch).diameter_mm


@drill_mm.register
def _(feature: f.ReamedHole, shop: Workshop) -> float:
    least, most = reaming_allowance_mm(feature.diameter.nominal_mm, shop.inch)
    under = drill_at_most(feature.diameter.nominal_mm - least, shop.inch).diameter_mm
    if shop.has_drill(under) and under >= feature.diameter.nominal_mm - 1.5 * most:
        return under
    return feature.diameter.nominal_mm - most  # bored to it


def drilled_mm(feature: f.Hole, shop: Workshop) -> float:
    """What a hole is drilled to where nothing bores it: by a drill that is sold, bought if need be."""
    if isinstance(feature, f.ReamedHole):
        least, most = reaming_allowance_mm(feature.diameter.nominal_mm, shop.inch)
        for inch in (shop.inch, not shop.inch):  # of the other kind where none of its own will do
            under = sold_at_most(feature.diameter.nominal_mm - least, inch)
            if under >= feature.diameter.nominal_mm - 1.5 * most:
                return under
    return drill_mm(feature, shop)


@drill_mm.register
def _(feature: f.TappedHole, shop: Workshop) -> float:
    return thread(feature.thread).tap_drill_mm


@drill_mm.register
def _(feature: f.Bore, shop: Workshop) -> float:
    most = feature.diameter.nominal_mm - 2.0
    found = shop.drill(most)
    return found.diameter_mm if found else most


@drill_mm.register
def _(feature: f.Counterbore, shop: Workshop) -> float:
    return 0.0


class Holes:
    """Operations of holes on one axis, with what every one of them needs."""

    def __init__(self, shop: Workshop, gauges: Gauges, part: str, line: Line) -> None:
        self.shop, self.gauges, self.numbers = shop, gauges, shop.numbers
        self.part, self.line = part, line

    def spot(self, feature: f.Hole, at: float, laid_out: str, note: str = "") -> Op:
        """The spot that a drill begins in."""
        wide = min(SPOT_MM, drill_mm(feature, self.shop) or SPOT_MM)
        tool = Tool("centre drill", "centre drill", wide)
        _, sign = way_of(self.line.along)
        cut = cuts.hole(self.line, (at, at + sign * wide / 2), wide)
        text = f"spot {feature.name}" + (f" by {laid_out}" if laid_out else "")
        return Op(
            "spot",
            text,
            tool,
            feature,
            cut=cut,
            speed=("drill", wide),
            rate="spot",
            length_mm=2.0,
            note=note,
        )

    def pilot_mm(
        self, want_mm: float, before_mm: float, deep_mm: float, most_mm: float = MOST_SOLID_MM
    ) -> float | None:
        """The drill that a thick one follows into the solid, or into no more of a hole, or None; as
        thick as so deep a hole asks, else at most what the solid takes; bought where it is a must."""
        least = deep_mm / holding_limit("tool", "drill")
        if want_mm <= SOLID_MM or before_mm >= WEB * want_mm:
            return None
        led = min(PILOT * want_mm, most_mm)
        tried = [self.shop.drill(max(led, least + 0.5))]
        if want_mm > most_mm:
            tried.append(drill_at_most(led, self.shop.inch))
        sizes = (one.diameter_mm for one in tried if one)
        return next((one for one in sizes if least <= one < want_mm), None)

    def led_mm(self, feature: f.Hole, deep_mm: float) -> float:
        """What a bore is drilled to first: by the shop's own drill, or by a thicker one that is bought,
        where the hole is too deep for that."""
        own, least = drill_mm(feature, self.shop), deep_mm / holding_limit("tool", "drill")
        return drill_at_least(least, self.shop.inch).diameter_mm if below(own, least) else own

    def deep(self, feature: f.Hole, deep: float) -> str:
        """How deep a hole is drilled: by a rule, but before a tap as its drawing has it."""
        halves = abs(2 * deep - round(2 * deep)) < 1e-6
        tapped = isinstance(feature, f.TappedHole) and not feature.through
        exact = tapped and not (halves or self.numbers.inch)
        return self.numbers.caliper(deep) if exact else self.numbers.rule(deep)

    def drill(
        self,
        feature: f.Hole,
        size: float,
        span: tuple[float, float],
        last: bool,
        into: str = "",
        parted: bool = False,
        tube: str = "",
    ) -> Op:
        """Drill to a size; into: what it opens into, where that is made later; tube: whose own bore,
        there already, it comes out in then; parted: deeper than the piece is long when it is parted
        off."""
        metric = isinstance(feature, f.TappedHole) and thread(feature.thread).system == "metric"
        by = self.shop.named_drill(size, metric)
        tool = self.shop.twist_drill(by)
        deep = abs(span[1] - span[0])
        if not tool.owned:
            tool = Tool(tool.kind, tool.name, size, None, tool.reach_mm, False, "buy one")
        text = f"drill {feature.name} {self.numbers.drill(by)}"
        if last:
            text = f"drill {feature.name} {callout(feature, self.numbers)}"
        if into and tube:
            text += (
                f", through the wall into the {tube}'s bore as bought; ease off as it breaks through:"
                f" the {into} is made later"
            )
        elif into:
            text += f", {self.numbers.rule(deep)} deep: the {into} is not there yet"
        elif parted:
            text += f", {self.numbers.rule(deep)} deep, past where it is parted off"
        elif (feature.opens_into and feature.through) or not (last or feature.through):
            text += f", {self.deep(feature, deep)} deep"
        if deep > 3 * size:
            text += f"; {DRILL_FEED_NOTE}"
        op = Op("drill", text, tool, feature, last, cuts.hole(self.line, span, size),
                speed=("drill", size), rate="drill", length_mm=deep)  # fmt: skip
        if last and isinstance(feature, f.DrilledHole):
            op.measures = (self.gauges.diameter(feature.diameter, f"{feature.name}.bore", True),)
            op.note = feature.note
        return op

    def bored(self, feature: f.Hole, before: float, after: float, span: tuple[float, float], 
              last: bool, allowance: float) -> Op:  # fmt: skip
        """Bore from one diameter to another in the lathe."""
        deep = abs(span[1] - span[0])
        tool = self.shop.boring_bar(before, deep)
        said = callout(feature, self.numbers) if last else f"to Ø{self.numbers.plain.worked(after)}"
        rough = "rough bore" if size_of(tool) >= STOUT_MM else "bore"
        rate = "finish" if last else rough
        text = f"{'bore' if last else 'rough bore'} {feature.name} {said}"
        op = Op("bore", text, tool, feature, last, cuts.bore(self.line, span, before, after),
                allowance, ("bore", after), rate, deep,
                (after - before) / 2)  # fmt: skip
        return op

    def finish(
        self, feature: f.Hole, before: float, span: tuple[float, float], lathe: bool
    ) -> list[Op]:
        """Ream, bore, counterbore or tap a hole that is drilled to ``before``; [] where that is all."""
        deep = abs(span[1] - span[0])
        if isinstance(feature, f.TappedHole):
            size = thread(feature.thread)
            name = self.numbers.thread_made(size.designation, True)
            tool = self.shop.tap(size.designation)
            if not tool.owned:
                self.shop.lacks(self.part, tool.name, "Buy or borrow one")
            text = f"tap {feature.name} {callout(feature, self.numbers)}"
            text += ", the tailstock's centre in the tap's" if lathe else ", the tap guided square"
            cut = cuts.thread(self.line, span, size.major_mm, size.pitch_mm, True)
            return [
                Op("tap", text, tool, feature, True, cut, minutes=2.0 + deep / 10, length_mm=deep,
                   measures=(by_thread(f"{name}: screw runs in by hand", f"{feature.name}.bore",
                                       "screw or thread gauge"),),
                   note=feature.note,
                   caution="The spindle turned by hand, the switch off" if lathe else "")
            ]  # fmt: skip
        if isinstance(feature, f.ReamedHole):
            return self._ream(feature, before, span, lathe)
        if isinstance(feature, f.Counterbore):
            size_mm = feature.diameter.nominal_mm
            tool = counterbore(size_mm, self.shop)
            return [
                Op("counterbore", f"{feature.name}: {callout(feature, self.numbers)}", tool,
                   feature, True, cuts.hole(self.line, span, size_mm),
                   speed=("counterbore", size_mm), rate="counterbore", length_mm=deep,
                   note=feature.note,
                   measures=(self.gauges.diameter(feature.diameter, f"{feature.name}.bore", True),
                             self.gauges.sunk(feature)))
            ]  # fmt: skip
        if isinstance(feature, f.Bore):
            limits = feature.diameter
            left = self.shop.job.series.nominal(ROUGH_MM)
            ops = []
            stout = self.shop.stout_bar(deep)
            if stout and limits.mean_mm - ROOM_MM > stout / BAR_IN_BORE > before + WORTH_MM:
                wide = self.shop.job.series.up(stout / BAR_IN_BORE, 0.5)
                open_up = self.bored(feature, before, wide, span, False, limits.mean_mm - wide)
                open_up.text += ", so that a thicker bar goes in"
                ops.append(open_up)
                before = wide
            if limits.mean_mm - before > left + WORTH_MM:
                ops.append(self.bored(feature, before, limits.nominal_mm - left, span, False, left))
                before = limits.nominal_mm - left
            last = self.bored(feature, before, limits.mean_mm, span, True, 0.0)
            last.measures = (self.gauges.diameter(limits, f"{feature.name}.bore", True),)
            last.note = feature.note
            return [*ops, last]
        return []

    def _ream(self, feature: f.ReamedHole, before: float, span: tuple[float, float], lathe: bool
              ) -> list[Op]:  # fmt: skip
        size = feature.diameter
        measure = (self.gauges.diameter(size, f"{feature.name}.bore", True),)
        said = callout(feature, self.numbers)
        owned = self.shop.reamer(size.nominal_mm)
        if lathe and not owned and size.nominal_mm >= 8.0:
            op = self.bored(feature, before, size.mean_mm, span, True, 0.0)
            op.measures, op.note = measure, feature.note
            return [op]
        name = f"reamer {self.numbers.tool(size.nominal_mm)}"
        if not owned:
            self.shop.lacks(self.part, name, "Buy or borrow one")
        tool = Tool("reamer", name, size.nominal_mm, None, 8 * size.nominal_mm, owned,
                    "" if owned else "buy or borrow one")  # fmt: skip
        return [
            Op("ream", f"ream {feature.name} {said}, never turned backwards", tool, feature, True,
               cuts.hole(self.line, span, size.mean_mm), speed=("ream", size.nominal_mm), rate="ream",
               length_mm=abs(span[1] - span[0]), measures=measure, note=feature.note)
        ]  # fmt: skip


def size_of(tool: Tool) -> float:
    """How large a drill, cutter or bar is, mm."""
    assert tool.diameter_mm is not None
    return tool.diameter_mm


def span_of(feature: f.Hole, deep_mm: float) -> Span:
    """From where to where a hole goes that is so deep, as coordinates along its axis."""
    along, sign = way_of(feature.axis.along)
    entry = feature.axis.origin[along]
    return entry, entry + sign * deep_mm


def sunk(op: Op, one: f.Hole, stack: Sequence[f.Hole]) -> Op:
    """Say from where its depth is counted, where it begins at another hole's bottom."""
    along, start = way_of(one.axis.along)[0], one.axis.origin
    for other in stack:
        if other.axis.along == one.axis.along and same(
            span_of(other, other.depth_mm)[1], start[along]
        ):
            op.text = op.text.replace(" deep", f" deep from the bottom of the {other.name}", 1)
    return op


def drilled_past(feature: f.Hole, closed: bool = False) -> float:
    """How much deeper than the feature it is drilled; closed: what it opens into is made later."""
    if isinstance(feature, f.TappedHole) and (closed or not feature.through):
        return thread(feature.thread).tap_lead_mm
    return 0.0


def axial(feature: f.Hole, work: OnAxis) -> list[Op]:
    """A hole about the spindle's axis."""
    made = Holes(work.shop, work.gauges, work.on.part.name, Line(feature.axis.along, ORIGIN))
    deep = feature.depth_mm + drilled_past(feature)
    parted = False
    if feature.through:  # a parted piece is longer yet
        past, whole = _to_the_jaws(feature, work)
        tapped, blind = _tapped_to(feature, whole, work)
        deep = max(deep, past, blind)
        parted = below(deep, whole)
    entry, bottom = span_of(feature, deep)
    drill, want = _drills(feature, abs(bottom - entry), work.shop)
    ops = [made.spot(feature, entry, "")]
    finishes = isinstance(feature, f.DrilledHole) and not below(drill, want)
    if pilot := made.pilot_mm(drill, 0.0, abs(bottom - entry)):
        ops.append(made.drill(feature, pilot, (entry, bottom), False, parted=parted))
    ops.append(made.drill(feature, drill, (entry, bottom), finishes, parted=parted))
    if not finishes and below(drill, want):
        last = isinstance(feature, f.DrilledHole)
        op = made.bored(feature, drill, want, (entry, bottom), last, 0.0 if last else 0.1)
        if isinstance(feature, f.DrilledHole):
            op.measures = (work.gauges.diameter(feature.diameter, f"{feature.name}.bore", True),)
            op.note = feature.note
        ops.append(op)
    if not feature.through:
        deep = feature.depth_mm
    elif isinstance(feature, f.TappedHole):
        deep, room = tapped, abs(bottom - entry) - tapped
        if single := screwed.inside(feature, made.line, span_of(feature, deep), room, work):
            return ops + single
    return ops + made.finish(feature, max(want, drill), span_of(feature, deep), True)


def _drills(feature: f.Hole, deep_mm: float, shop: Workshop) -> tuple[float, float]:
    """With what a hole is drilled in the lathe, and to what it is bored then, mm: by the shop's own
    drill and bar, else by the drill that is wanted, bought. A bar that is made for it is thin, and
    reaches no way."""
    want = drill_mm(feature, shop)
    own = shop.drill(want)
    if own is None or not below(own.diameter_mm, want):
        return want, want
    if shop.boring_bar(own.diameter_mm, deep_mm).owned or not below(own.diameter_mm, want):
        return own.diameter_mm, want
    bought = drilled_mm(feature, shop)
    return bought, bought


def _to_the_jaws(feature: f.Hole, work: OnAxis) -> Span:
    """How far it is from a hole's mouth to the jaws or to the end, whichever is nearer; to the end."""
    along, sign = way_of(feature.axis.along)
    entry, grip = feature.axis.origin[along], work.setup.hold.grips[0]
    jaws, end = (grip.from_mm, work.profile.high) if sign > 0 else (grip.to_mm, work.profile.low)
    whole = sign * (end - entry)
    return min(sign * (jaws - entry), whole), whole


def _tapped_to(feature: f.Hole, whole_mm: float, work: OnAxis) -> Span:
    """How deep a through thread in the end of a bar is tapped, and drilled for the tap's lead.

    whole_mm: from its mouth to the bar's other end. A hole without a thread is as deep as it is.
    """
    if not isinstance(feature, f.TappedHole):
        return feature.depth_mm, feature.depth_mm
    deep = feature.depth_mm + facing_mm(work.shop.job.series)
    return min(deep, whole_mm), min(deep + thread(feature.thread).tap_lead_mm, whole_mm)


def order(stack: Sequence[f.Hole], shop: Workshop) -> list[f.Hole]:
    """Holes on one axis in the order they are drilled: the smallest first."""
    return sorted(stack, key=lambda one: drill_mm(one, shop) or inf)
