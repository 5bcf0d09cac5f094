"""Digits as an engraver cuts them: single strokes, so that a numeral is as wide as it is designed.

Imported by the dial's pictures and its sheet. Plain numbers.
"""

from __future__ import annotations

from planner.dial.design import DIGIT

Point = tuple[float, float]

WIDE = 0.5
"""Of a digit, as part of its height; the space to the next one comes on top (ISO 3098-0:1997,
lettering B: memory)."""

_BOWL: tuple[Point, ...] = ((0.0, 0.15), (0.12, 0.0), (0.38, 0.0), (0.5, 0.15))
_CAP: tuple[Point, ...] = ((0.5, 0.85), (0.38, 1.0), (0.12, 1.0), (0.0, 0.85))

STROKES: dict[str, tuple[tuple[Point, ...], ...]] = {
    "0": ((*_BOWL, *_CAP, (0.0, 0.15)),),
    "1": (((0.08, 0.78), (0.3, 1.0), (0.3, 0.0)),),
    "2": ((*_CAP[::-1], (0.5, 0.65), (0.0, 0.0), (0.5, 0.0)),),
    "3": (
        (*_CAP[::-1], (0.5, 0.67), (0.36, 0.53), (0.18, 0.53)),
        ((0.36, 0.53), (0.5, 0.39), *_BOWL[::-1]),
    ),
    "4": (((0.37, 0.0), (0.37, 1.0), (0.0, 0.3), (0.5, 0.3)),),
    "5": (
        (
            *((0.47, 1.0), (0.06, 1.0), (0.02, 0.55), (0.15, 0.62)),
            *((0.37, 0.62), (0.5, 0.47), *_BOWL[::-1]),
        ),
    ),
    "6": (
        (
            *((0.45, 0.93), (0.34, 1.0), (0.16, 1.0), (0.0, 0.75), *_BOWL),
            *((0.5, 0.45), (0.38, 0.6), (0.12, 0.6), (0.0, 0.45)),
        ),
    ),
    "7": (((0.0, 1.0), (0.5, 1.0), (0.17, 0.0)),),
    "8": (
        (
            *((0.13, 0.54), (0.0, 0.4), *_BOWL, (0.5, 0.4), (0.37, 0.54)),
            *((0.13, 0.54), (0.02, 0.67), (0.02, 0.87), (0.13, 1.0), (0.37, 1.0)),
            *((0.48, 0.87), (0.48, 0.67), (0.37, 0.54)),
        ),
    ),
    "9": (
        (
            *((0.5, 0.55), (0.38, 0.4), (0.12, 0.4), (0.0, 0.55), *_CAP[::-1]),
            *((0.5, 0.25), (0.34, 0.0), (0.16, 0.0), (0.05, 0.07)),
        ),
    ),
}
"""Of every digit in a box WIDE by 1, from its lower left corner."""


def numeral_strokes(numeral: str, right: float, middle: float, high: float) -> list[list[Point]]:
    """The strokes of a numeral that ends at its right and stands about a middle height, mm."""
    left = right - DIGIT * high * len(numeral) + (DIGIT - WIDE) * high
    return [
        [(left + high * (DIGIT * at + x), middle + high * (y - 0.5)) for x, y in stroke]
        for at, digit in enumerate(numeral)
        for stroke in STROKES[digit]
    ]
