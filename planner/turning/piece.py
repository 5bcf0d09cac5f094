"""The finished piece behind its ball, by shape: how thick it is there and where it ends.

Depths are behind the ball's centre, millimetres. Imported by the other modules of the room.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, degrees, radians, sqrt

from parts.value import Value
from planner.turning.model import BallWork

ACROSS = {"round": 1.0, "square": 2**0.5, "hexagon": 1 / cos(radians(30.0))}
"""Across the corners over across the flats."""


class Behind(Value, frozen=True):
    """What the piece is behind its ball: from the shoulder, where ball and stem meet, to its end.

    small_mm, large_mm: diameters there; both 0 for a piece that has nothing behind its ball.
    """

    shoulder_mm: float
    end_mm: float
    small_mm: float
    large_mm: float

    @property
    def length_mm(self) -> float:
        """From shoulder to end."""
        return self.end_mm - self.shoulder_mm

    @property
    def taper_deg(self) -> float:
        """The angle its side makes with the axis: the top slide's set-over."""
        if self.length_mm <= 0.0:
            return 0.0
        return degrees(atan2((self.large_mm - self.small_mm) / 2, self.length_mm))

    def radius_mm(self, depth_mm: float) -> float:
        """Of the finished piece so far behind the centre; the small end's before the shoulder."""
        if depth_mm > self.end_mm + 1e-9 or self.length_mm <= 0.0:
            return 0.0
        part = max(0.0, depth_mm - self.shoulder_mm) / self.length_mm
        return (self.small_mm + part * (self.large_mm - self.small_mm)) / 2

    def rising(self, spare_mm: float, beyond_mm: float = 0.0) -> Callable[[float], float]:
        """The radius that must stay until the ball is done, some spare over the piece; never falling.

        beyond_mm: how much deeper than asked a tool may stop. Behind the piece's end the last of it
        counts on: the bar carries it.
        """

        def needed(depth_mm: float) -> float:
            if self.length_mm <= 0.0:
                return 0.0
            return self.radius_mm(min(depth_mm + beyond_mm, self.end_mm)) + spare_mm

        return needed


def behind_of(ball: BallWork) -> Behind:
    """What a ball has behind it once finished."""
    spec, radius = ball.spec, ball.radius_mm
    shoulder = sqrt(radius**2 - (ball.stem_mm / 2) ** 2) if ball.behind else 0.0
    if not ball.behind or spec.stem_length is None:
        return Behind(shoulder, shoulder, 0.0, 0.0)
    large = ball.stem_mm
    if spec.shape == "taper handle" and spec.large_diameter:
        large = spec.large_diameter
    return Behind(shoulder, shoulder + spec.stem_length, ball.stem_mm, large)


def corners_mm(ball: BallWork) -> float:
    """The blank's diameter across its corners."""
    return ball.blank_mm * ACROSS[ball.spec.blank_shape]


def sound_mm(ball: BallWork) -> float:
    """The diameter of sound metal in the blank: across its flats, less the skin."""
    return ball.blank_mm - 2 * ball.spec.skin
