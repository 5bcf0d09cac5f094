"""The room a hand has round the knob while it swings the head."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from planner.geometry.envelope import Edge
from planner.job.lathe import Lathe

HAND_ROOM_MM = 40.0
"""Round a knob that a hand is on, to whatever stands or turns (from memory)."""


def hand_room_mm(
    edges: Sequence[Edge], swing_deg: tuple[float, float], jaws_mm: float, lathe: Lathe
) -> tuple[float, str]:
    """The least room round what the hand is on, and to what: chuck or cross slide.

    The hand is on what swings farthest from the spindle along the pivot. edges: of all that swings;
    swing_deg: of the sweep; jaws_mm: from the jaws' front to the ball's centre. Every degree is tried;
    at the knob's radius that is a millimetre or two.
    """
    far = min(edge.x_low_mm for edge in edges)
    held = [edge for edge in edges if edge.x_low_mm == far]
    beside = -max(edge.x_high_mm for edge in held) - lathe.chuck_diameter / 2
    best = (float("inf"), "")
    first, last = swing_deg
    for step in range(int(last - first) + 2):
        a = radians(min(first + step, last))
        for edge in held:
            high = edge.y_mm * sin(a) - edge.z_mm * cos(a) - edge.round_mm
            deep = -edge.y_mm * cos(a) - edge.z_mm * sin(a) + edge.round_mm
            slide = lathe.spindle_over_cross_slide + high
            chuck = hypot(max(0.0, beside), max(0.0, jaws_mm - deep))
            best = min(best, (slide, "cross slide"), (chuck, "chuck"))
    return best
