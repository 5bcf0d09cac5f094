"""The plug that holds a tube's far end on the tailstock where it is tacked in place on the lathe.

Imported by making.aids.
"""

from __future__ import annotations

from math import hypot

from parts import features as f
from parts.features import Stage
from parts.part import Part, members
from parts.sizes import Sizes
from parts.value import Value
from planner.making import bodies as b
from planner.making.flame import on_the_lathe
from planner.making.model import SetUp
from planner.making.near import below, way_of
from planner.making.sequence import SENT
from planner.making.ways import bars
from planner.making.workshop import Workshop

SHOULDER_MM = 8.0
"""A tacking plug's shoulder is so much wider than what goes into the tube (common practice)."""

CLEARS_MM = 1.0
"""It stays so far off what runs past it (common practice)."""

INSIDE_MM, OUT_MM = 15.0, 25.0
"""It goes so far into the tube, and stands so far out of it at the least (common practice)."""

WIDE_MM = 5.0
"""Its shoulder is so wide: what passes beside has room behind it (common practice)."""

SUNK_MM = 6.0
"""The tailstock's centre is so far in its centre hole at the most, the rest clear (common practice)."""


class Plug(Value, frozen=True):
    """A tacking plug, mm: the tube's bore, its shoulder, how far it stands out; what runs on beside the
    tailstock's barrel, if anything."""

    inside_mm: float
    shoulder_mm: float
    out_mm: float
    beside: str


def plug(setup: SetUp, shop: Workshop, sizes: Sizes | None) -> Plug | None:
    """The plug of a set-up in which a tube may be tacked on the lathe; sizes: for the post's place."""
    part = setup.on.part
    if setup.stage is not Stage.JOINING or setup.machine in SENT or not on_the_lathe(part, shop):
        return None
    bored = [o for o in part.features if o.stage is Stage.IN_PLACE and isinstance(o, f.Bore)]
    for member in members(part) if bored else ():
        section = member.blank.section
        if section.shape == "tube":
            inside = section.width_mm - 2 * section.thickness_mm
            past, beside, near = _past(part, member.name, bored[0], shop, sizes)
            series = shop.job.series
            out = series.up(past + SUNK_MM, 1.0) if past else series.nominal(OUT_MM)
            most = series.down(2 * (near - CLEARS_MM), 0.5)  # the shank runs past it
            wide = min(inside + series.nominal(SHOULDER_MM), most, section.width_mm)
            return Plug(inside, wide, max(out, series.nominal(OUT_MM)), beside)
    return None


def _past(
    part: Part, tube: str, bore: f.Bore, shop: Workshop, sizes: Sizes | None
) -> tuple[float, str, float]:
    """How far the plug stands out for what runs on behind the tube beside the barrel, and what does;
    how near to the tube's axis anything comes there."""
    bodies = b.bodies_of(part, None)
    own = next(one for one in bodies if one.name == tube)
    i, way = way_of(bore.axis.along)
    past, beside, near = 0.0, "", own.size((i + 1) % 3)
    for body in bodies:
        off = [max(body.low(j) - bore.axis.origin[j], bore.axis.origin[j] - body.high(j), 0.0)
               for j in range(3) if j != i]  # fmt: skip
        runs = way * (body.end(i, way) - own.end(i, way))
        near = min(near, hypot(*off)) if runs > 0 else near
        far = runs - bars.CENTRE_OUT_MM
        if far > past and below(hypot(*off), bars.BARREL_MM / 2 + bars.RUN_MM):
            past, beside = far, body.name
    if sizes is not None:
        long = abs(own.end(i, way) - bore.axis.origin[i])
        posted = bars.past_the_post(bars.Passing(long, past), long, sizes, shop)
        if posted.post:
            past, beside = posted.past_mm, "tool post"
    return past, beside, near


def made(one: Plug, shop: Workshop) -> str:
    """How it is made."""
    numbers = shop.numbers
    past = f": the {one.beside} runs on beside the tailstock's barrel" if one.beside else ""
    return (
        "turned at one setting to slide into the tube's end, a shoulder of"
        f" {numbers.size(one.shoulder_mm)} against it, no thicker anywhere: the shank runs past it;"
        f" centred for the tailstock, {numbers.size(one.out_mm)} out of the tube{past}; the"
        f" shoulder {numbers.size(shop.job.series.nominal(WIDE_MM))} wide, behind it no thicker than in"
        " the tube; paper between plug and tube keeps the current off the bearing"
    )
