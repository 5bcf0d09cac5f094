"""Boring bars: how stout a hole lets them be, and how long one between centres is, with its carrier.

Imported by making.across, making.inplace and making.aids.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.sizes import Sizes
from parts.standard.drills import drill_at_least, drill_at_most, drills
from parts.standard.holding import holding_limit
from parts.standard.series import Series
from parts.value import Value
from planner.making.model import Op
from planner.making.near import below, same
from planner.making.workshop import Workshop

CARRIER_MM = 12.0
"""So much of a bar's end a carrier takes (common practice: 10 to 15 on a small lathe)."""

CENTRED_MM = 3.0
"""Past the carrier, and at the other end, the bar runs on its centre (common practice)."""

RUN_MM = 2.0
"""The work is run so far clear of the bit, of the carrier and of the bar's end (common practice)."""

CARRIER_SWINGS_MM = 12.0
"""So far over the bar a carrier's screw stands (common practice)."""

BAR_STEP_MM = 1.0
"""A bar that is made for its hole is so many whole millimetres thick, or 64ths of an inch."""

HAIR_MM = 0.01
"""A bar that much over its part of the hole goes in as well: chips want no hundredths."""

BIT_PART, LEAST_BIT_MM = 1 / 3, 2.0
"""A bit is a third as thick as its bar, and no thinner than this (common practice)."""

BIT_HELD = 0.55
"""It is held in so much of its bar: past the middle, where its screw bears (common practice)."""


BARREL_MM = 32.0
"""A small lathe's tailstock barrel is so thick, or thinner (common practice: 25 to 32)."""

CENTRE_OUT_MM = 25.0
"""Its centre stands so far out of it (common practice: Morse 2 and 3)."""


DRILL_CHUCKS_MM = (6.5, 8.0, 10.0, 13.0)
DRILL_CHUCKS_IN = (6.35, 7.9375, 9.525, 12.7)
"""What drill chucks take (common practice): one of 3/8 in, as it is said in inches, takes 10 mm."""

POST_CLEAR_MM = 1.0
"""The tool post goes past that with so much room (common practice)."""


DRY = ". The bar's end on the dead centre greased, set up without pressure"
"""A bar turns on it as work does: dry or tight it seizes (common practice)."""


def minded(caution: str, shop: Workshop) -> str:
    """A caution for a bar between centres, with what a dead centre wants."""
    return caution if shop.kit.live_centre else caution + DRY


class Passing(Value, frozen=True):
    """The work that passes along a bar between centres, mm.

    long_mm: how long it is about the bar; past_mm: how much longer the bar's tail is for it, where
    something of it runs on beside the tailstock's barrel; centre_out_mm: how far the tailstock's centre
    stands out instead, 0 as any does; post: whether it is the post that holds it that runs on there.
    """

    long_mm: float
    past_mm: float = 0.0
    centre_out_mm: float = 0.0
    post: bool = False


NOTHING = Passing(0.0)


LEAST_HOLE_MM = 7.0
"""A hole so wide takes a bar that can be made: 5 mm, with a bit of 2 mm across it and a screw on that
(common practice)."""


class BarKind(Value, frozen=True):
    """A kind of boring bar, as a hole has room for it.

    limit: its row of the limits of length over diameter; part: of the hole at most so much is the bar;
    left_mm: what the drill leaves to it, on the diameter; made: whether it is made for the hole, in
    whole steps, or one of the shop's.
    """

    limit: str
    part: float
    left_mm: float
    made: bool


IN_THE_REST = BarKind(
    "boring bar of steel", holding_limit("tool", "boring bar in its bore"), 2.0, False
)
"""One in the tool post."""

BETWEEN_CENTRES = BarKind("boring bar between centres", 0.75, 1.0, True)
"""One that the work slides along, with room for chips (common practice)."""


def bit_mm(bar_mm: float, series: Series) -> float:
    """The bit across a bar."""
    return max(series.down(BIT_PART * bar_mm, BAR_STEP_MM), series.down(LEAST_BIT_MM, BAR_STEP_MM))


def bit_long_mm(ops: Sequence[Op], op: Op, series: Series) -> float:
    """How long a bit is: to the back of its bar in the hole that it begins in, and for a much wider
    bore another one, that goes past the bar's middle there too.

    ops: of the set-up, in their order; op: one of them that is bored by the bar.
    """
    bar_mm, hole, long = op.tool.diameter_mm or 0.0, 0.0, 0.0
    for one in ops:
        if one.tool.name != op.tool.name or "before_mm" not in one.cut:
            continue
        out = (one.cut["after_mm"] - bar_mm) / 2
        if not hole or below(long - out, BIT_HELD * bar_mm):
            hole = one.cut["before_mm"]
            long = series.down((bar_mm + hole) / 2, 0.5)
            long = max(long, series.up(out + BIT_HELD * bar_mm, 0.5))
        if one is op:
            break
    return long or series.down(bar_mm, 0.5)


def long_mm(work: Passing, bar_mm: float, series: Series) -> float:
    """How long a bar between centres is: the work passes right through on either side of the bit, and
    on one side a carrier is on it besides."""
    passes = 2 * (work.long_mm + 2 * RUN_MM) + bit_mm(bar_mm, series) + work.past_mm
    return series.up(passes + CARRIER_MM + 2 * CENTRED_MM, BAR_STEP_MM)


def bit_at_mm(work: Passing, bar_mm: float, series: Series) -> float:
    """How far its bit's middle is from the end that the carrier is on."""
    before = CENTRED_MM + CARRIER_MM + 2 * RUN_MM + work.long_mm
    return series.up(before + bit_mm(bar_mm, series) / 2, 0.5)


def made_bar_mm(hole_mm: float, work: Passing, series: Series) -> float:
    """The bar between centres that is made for a hole and so long a work: in whole steps, as thick as
    chips allow where a thinner one would be too slender."""
    usual = series.down(BETWEEN_CENTRES.part * hole_mm, BAR_STEP_MM)
    if stiff(usual, work, series):
        return usual
    return max(usual, series.down(IN_THE_REST.part * hole_mm + HAIR_MM, BAR_STEP_MM / 2))


def stiff(bar_mm: float, work: Passing, series: Series) -> bool:
    """Whether a bar between centres is thick enough for its length."""
    limit = holding_limit("tool", BETWEEN_CENTRES.limit)
    return not below(limit * bar_mm, long_mm(work, bar_mm, series))


def on_a_long_centre(kind: BarKind, one: f.Hole, hole_mm: float, shop: Workshop,
                     work: Passing) -> Passing:  # fmt: skip
    """The work, with a long centre for a long bar where that would want a wider hole, or still bend."""
    short, series = Passing(work.long_mm, post=work.post), shop.job.series
    wide, least = (room_for_a_bar(kind, one, hole_mm, shop, passing) for passing in (work, short))
    if same(wide, least) and stiff(made_bar_mm(wide, work, series), work, series):
        return work
    return replace(short, centre_out_mm=CENTRE_OUT_MM + work.past_mm) if work.past_mm else short


def past_the_post(work: Passing, long_mm: float, sizes: Sizes, shop: Workshop) -> Passing:
    """The same, where the tool post, turned along the bed, goes past the barrel with the work: its jaws
    stand out so far toward the bore.

    long_mm: of the work about the bar, from the front that the post's place is counted from.
    """
    post, high = shop.job.tool_post, sizes.spindle_over_seat_mm
    level = sizes.shank_inner_z_mm - (post.stands_out or 0.0)
    near = hypot(level, max(0.0, high - (post.height or high)))
    if not below(near, BARREL_MM / 2 + POST_CLEAR_MM):
        return work
    rear = sizes.thrust_x_mm - sizes.post_rear_x_mm
    past = rear - long_mm - CENTRE_OUT_MM
    return replace(work, past_mm=past, post=True) if past > work.past_mm else work


def room_for_a_bar(
    kind: BarKind, one: f.Hole, hole_mm: float, shop: Workshop, work: Passing = NOTHING
) -> float:
    """What a hole is drilled to, wider where no bar that goes into ``hole_mm`` is stiff enough, mm.

    work: what passes along a bar between centres. No wider than leaves the bar its cut, and then by a
    drill that is sold in the shop's own system.
    """
    limit, series = holding_limit("tool", kind.limit), shop.job.series
    most = one.diameter.nominal_mm - kind.left_mm if isinstance(one, f.Bore | f.ReamedHole) else 0.0
    if kind.made:
        least = made_bar_mm(hole_mm, work, series)
        enough = stiff(least, work, series)
        while not stiff(least, work, series):
            least = series.up(least + series.step_mm, series.step_mm)
        wider = series.up(least / kind.part, BAR_STEP_MM)
    else:
        least = one.depth_mm / limit
        enough = not below(hole_mm, least / kind.part)
        if hole_mm < LEAST_HOLE_MM and not shop.boring_bar(hole_mm, one.depth_mm).owned:
            own, enough = shop.stout_bar(one.depth_mm), False
            goes_in = own > 0 and not below(most, own / kind.part)
            least = own if goes_in else max(least, LEAST_HOLE_MM * kind.part)
        wider = drill_at_least(least / kind.part, shop.inch).diameter_mm
    if enough or not below(hole_mm, min(wider, most)):
        return hole_mm
    if below(most, wider) and not below(drills(shop.inch)[-1].diameter_mm, most):
        return max(hole_mm, drill_at_most(most, shop.inch).diameter_mm)
    return min(wider, most)


def hole_for_a_bar(
    one: f.Hole, hole_mm: float, shop: Workshop, work: Passing
) -> tuple[float, Passing]:
    """What a hole is drilled to for a bar between centres, 0 where any that goes in bends, and the work
    that passes along it."""
    kind, series = BETWEEN_CENTRES, shop.job.series
    passes = on_a_long_centre(kind, one, hole_mm, shop, work)
    wide = room_for_a_bar(kind, one, hole_mm, shop, passes)
    if stiff(made_bar_mm(wide, passes, series), passes, series):
        return wide, passes
    return 0.0, Passing(0.0)


def drill_chuck_mm(shop: Workshop) -> float:
    """What the tailstock's drill chuck takes, mm: the least sold for the thickest drill of the shop,
    those aside that have thinner shanks."""
    drills = (shop.kit.drills_to_mm, *shop.kit.drills)
    largest = DRILL_CHUCKS_MM[-1]
    most = max((one for one in drills if not below(largest, one)), default=largest)
    i = next(i for i, one in enumerate(DRILL_CHUCKS_MM) if not below(one, most))
    return (DRILL_CHUCKS_IN if shop.inch else DRILL_CHUCKS_MM)[i]


def down_for_chuck(shop: Workshop, wide_mm: float, held_mm: float, end: str = "it") -> str:
    """That a round made for the drill chuck is thinner where that takes no more; "" where it does."""
    takes = drill_chuck_mm(shop)
    if not below(takes, wide_mm):
        return ""
    held = shop.numbers.size(shop.job.series.nominal(held_mm))
    return f", {held} of {end} down to {shop.numbers.size(takes)} for the drill chuck"


def centre_made(shop: Workshop, wide_mm: float, held_mm: float) -> str:
    """How a long centre is made; its end is thinner where the drill chuck takes no more."""
    down = down_for_chuck(shop, wide_mm, held_mm)
    return (
        f"turned to its size all along{down}, its end to a 60 degree point; in the tailstock's drill"
        " chuck, the point greased: it does not turn"
    )
