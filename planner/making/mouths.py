"""The mouths of a bore made in place: the facing cutters in its bar, and how wide one may sweep.

Imported by making.inplace.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from parts import features as f
from parts.frame import Box
from parts.sizes import Sizes
from parts.value import Value
from planner.making.bodies import Body
from planner.making.model import Op, Tool
from planner.making.near import below, way_of
from planner.making.workshop import Workshop
from planner.words.numbers import Numbers

WIDER_MM = 2.0
"""A facing cutter's edge is so much longer than the face that it cuts is wide (common practice)."""

PASSES_MM = 0.5
"""It turns past what stands beside the mouth with so much room at least (common practice)."""

STEP_MM = 0.5
"""Its edge is ground to so many whole millimetres, or 64ths of an inch."""

DEEP_MM = 8.0
"""A cutter and the light cut it takes are within so much of a mouth: no bit of a bar is thicker."""


class Mouth(Value, frozen=True):
    """Across what circle a cutter sweeps there, mm; by whose side it is kept so small, "" for none."""

    across_mm: float
    beside: str = ""


def whole_mm(wide_mm: float, shop: Workshop) -> float:
    """The cutter for a whole face."""
    return shop.job.series.up(wide_mm + WIDER_MM, 1.0)


def far_mouth(
    bodies: Sequence[Body], own: Body, bore: f.Bore, sizes: Sizes, shop: Workshop
) -> Mouth:
    """The widest sweep that clears what runs on past the far mouth, and the tool post beside that.

    own: what is bored. The nut bears all over what is swept, or it bears on the rim that is left
    standing: where the shank is relieved for the nut the cutter turns in that relief too, and where
    half millimetres would leave it narrower than the nut it is ground to the nut's own size. A post
    that holds the shank beside the pivot's nut stands beside the cutter; one that holds it behind the
    nut is behind the cutter too.
    """
    i, way = way_of(bore.axis.along)
    middle, end = bore.axis.at(bore.depth_mm / 2), own.end(i, way)
    wide = own.diameter or max(own.size(j) for j in range(3) if j != i)
    most, beside = whole_mm(wide, shop), ""
    rooms = []
    for body in bodies:
        if body is not own and below(way * end, way * body.end(i, way)):
            left = _past(body, i, (end, end + way * DEEP_MM))
            off = [max(left.low[j] - middle[j], middle[j] - left.high[j], 0.0)
                   for j in range(3) if j != i]  # fmt: skip
            rooms.append((hypot(*off), body.name))
    if sizes.beside_nut:
        post = sizes.shank_inner_z_mm - (shop.job.tool_post.stands_out or 0.0)
        rooms.append((post, "tool post"))
    for room, name in rooms:
        across = shop.job.series.down(2 * (room - PASSES_MM), STEP_MM)
        if below(across, sizes.nut_diameter_mm) and below(
            sizes.nut_diameter_mm, 2 * room - PASSES_MM
        ):
            across = sizes.nut_diameter_mm  # where the nut turns free, so does what is as wide
        if below(across, most):
            most, beside = across, name
    return Mouth(most, beside)


def _past(body: Body, i: int, ends: tuple[float, float]) -> Box:
    """What is left of a body between two ends along i: less what is cut off its sides there."""
    low, high = list(body.box.low), list(body.box.high)
    first, last = sorted(ends)
    for void in body.voids:
        if below(first, void.low[i]) or below(void.high[i], last):
            continue
        for j in range(3):
            k = 3 - i - j
            if j == i or below(low[k], void.low[k]) or below(void.high[k], high[k]):
                continue
            if not below(low[j], void.low[j]):
                low[j] = min(max(low[j], void.high[j]), high[j])
            elif not below(void.high[j], high[j]):
                high[j] = max(min(high[j], void.low[j]), low[j])
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def cutter(across_mm: float, bar: Tool) -> Tool:
    """A cutter in the bar's cross hole, by the circle that its edge sweeps."""
    return Tool("facing cutter", "facing cutter in the boring bar", across_mm, bar.diameter_mm)


def trued(mouth: Mouth, bar: Tool, numbers: Numbers) -> Op:
    """The far mouth trued with the bar that bored it: a nut bears on it."""
    wide = numbers.plain.size(mouth.across_mm)
    no_wider = f", no wider: the {mouth.beside} stands beside it" if mouth.beside else ""
    return Op(
        "deburr",
        f"true the bore's other mouth over Ø{wide}{no_wider}, with the facing cutter that is ground for"
        " it, a light cut; break its edges, and those of the holes that come out in it",
        cutter(mouth.across_mm, bar), None, False, minutes=5.0,
    )  # fmt: skip
