"""How much of the clamp's hinge is joined metal, read off the body's own features.

The hinge is the strip of the block between the rod's bore and the hinge slit, as long as the block.
What crosses it takes its chord off: a hole, and also the bore that another member fits in, for a slip
fit carries no pull. Imported by the planner's strength check.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from parts.body import rotating_body
from parts.features import Hole, ReamedHole, Slit
from parts.frame import Box
from parts.makeable import hole_mm
from parts.part import Part, every_feature
from parts.sizes import Sizes

BORE, SLIT = "rod bore", "hinge slit"


@lru_cache(maxsize=256)
def hinge_joined_mm(s: Sizes) -> float:
    """The length of the hinge that is joined metal of the block, mm, along the rod.

    Raises NotMakeable for sizes that make no body.
    """
    return joined_mm(rotating_body(s))


def joined_mm(body: Part) -> float:
    """The same for a body as it is made; 0 where nothing is left."""
    strip = hinge_strip(body)
    low, high = strip.low[1], strip.high[1]
    left, at = 0.0, low
    for start, end in sorted(_chords(body, strip)):
        left += max(0.0, min(start, high) - at)
        at = max(at, min(end, high))
    return left + max(0.0, high - at)


def hinge_strip(body: Part) -> Box:
    """The hinge and the metal it stands in, in the body's frame.

    From the slit's near side to as far behind the slit as the hinge is thick, there where its pull goes
    into the block; from the slit's end up to where the bore is highest over it; as long as the block.
    """
    named = {feature.name: feature for _, feature in every_feature(body)}
    bore, slit = named[BORE], named[SLIT]
    assert isinstance(bore, ReamedHole) and isinstance(slit, Slit)
    x, half, z = bore.axis.origin
    radius, (far, _, _), (near, _, end) = bore.diameter.nominal_mm / 2, slit.box.low, slit.box.high
    thin = ((x - near) ** 2 + (z - end) ** 2) ** 0.5 - radius
    top = z - (radius**2 - min(radius, x - far) ** 2) ** 0.5
    return Box((far - thin, half - bore.depth_mm, end), (near, half, max(top, end + thin)))


def _chords(body: Part, strip: Box) -> Iterator[tuple[float, float]]:
    """What each hole takes of the strip, along the rod."""
    for member, feature in every_feature(body):
        if not isinstance(feature, Hole) or feature.name == BORE:
            continue
        radius = hole_mm(feature) / 2
        axis = feature.axis
        ends = (axis.origin, axis.at(feature.depth_mm))
        if member is not None:
            ends = (member.frame.place(ends[0]), member.frame.place(ends[1]))
        yield from _chord(ends, radius, strip)


def _chord(
    ends: tuple[tuple[float, ...], tuple[float, ...]], radius: float, strip: Box
) -> Iterator[tuple[float, float]]:
    """What a round hole between two ends takes of the strip's length: its widest chord there."""
    one, other = ends
    along = max(range(3), key=lambda i: abs(one[i] - other[i]))
    low, high = sorted((one[along], other[along]))
    if high <= strip.low[along] or low >= strip.high[along]:
        return
    if along == 1:  # beside the rod, all along: all of the hinge or nothing
        off = [max(strip.low[i] - one[i], one[i] - strip.high[i], 0.0) for i in (0, 2)]
        if off[0] ** 2 + off[1] ** 2 < radius**2:
            yield low, high
        return
    across = 2 - along
    off_mm = max(strip.low[across] - one[across], one[across] - strip.high[across], 0.0)
    if off_mm < radius:
        half = (radius**2 - off_mm**2) ** 0.5
        yield one[1] - half, one[1] + half
