"""Which steps toward the nose and beside the neck are turned at all. Imported by turning.roughing.

A stop a hair behind the faced end takes a speck and is as easily run past: it is left to the swing
where the corner that stays is little higher for it. And where a hole or a centre has taken the middle
of the faced end, the tip touches beside it: so much of it must stay. Plain numbers in millimetres.
"""

from __future__ import annotations

from math import hypot

LEAST_STOP_MM = 0.5
"""A stop nearer to the faced end is left out."""

MOST_LEFT = 1.5
"""Where the corner that stays then stands over by so many step heights at most."""

LEAST_RISE_MM = 0.2
"""A stem-side step that stands less over the neck is left out too."""


def kept_steps(
    steps: list[tuple[float, float]],
    top_mm: float,
    end_mm: float,
    over_mm: float,
    height_mm: float,
    face_mm: float,
) -> list[tuple[float, float]]:
    """Of stops (from the faced end, radius), from the equator on, those that are turned.

    top_mm: radius of the body before them; end_mm: the faced end in front of the centre; over_mm: the
    ball and its allowance; height_mm: the most that a corner stands over it, 0 to leave no stop out for
    being near the end; face_mm: radius of the end that stays.
    """
    kept = [(along, radius) for along, radius in steps if radius >= face_mm]
    if kept and kept[-1][0] < LEAST_STOP_MM:
        before = kept[-2][1] if len(kept) > 1 else top_mm
        if hypot(end_mm, before) - over_mm <= MOST_LEFT * height_mm:
            kept.pop()
    return kept
