"""What of the work may stand behind the ball while the head swings past it: a staircase, thick as
clears.

Work that turns is a solid of revolution: a length of it may be as thick as nothing that swings comes
within. geometry.swept says how deep behind the ball's centre anything comes within a height of the
spindle; read the other way round that is how thick the work may stand from where on. The neck is so
turned only as deep as the swing asks, and bends less. Depths are behind the ball's centre. Plain
numbers, millimetres; imported by checking.work and turning.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence

import numpy as np

from parts.value import Value
from planner.geometry.envelope import Outline
from planner.geometry.swept import depths_within

BIT_CLEARANCE_MM = 0.2
"""The bit's own sides come close to the stem at the neck: that is where it cuts."""

LEVELS = 40
"""Heights from the neck to the blank at which the room is looked at; between two the lower counts."""

STEPS = 4
"""The staircase goes from neck to blank in about so many steps (common practice: few stops to set)."""

SAME_MM = 0.3
"""A length thicker by less than this than the one before is turned with it, where the piece lets it."""

LEAST_RUN_MM = 0.5
"""No step is shorter."""

LEAST_RISE_MM = 1.0
"""A step that is higher by less is not worth its stop on the carriage."""


class Stand(Value, frozen=True):
    """A length of the work, from from_mm to to_mm behind the ball's centre, radius_mm thick."""

    from_mm: float
    to_mm: float
    radius_mm: float


class Room(Value, frozen=True):
    """How thick the work may stand: radii_mm, rising, each from its from_mm behind the centre on."""

    radii_mm: tuple[float, ...]
    from_mm: tuple[float, ...]

    def radius_at(self, depth_mm: float) -> float:
        """The thickest that clears from so far behind the centre on; nothing, in front of the neck."""
        number = bisect_right(self.from_mm, depth_mm + 1e-9)
        return self.radii_mm[number - 1] if number else 0.0

    def where(self, radius_mm: float) -> float:
        """From where behind the centre work of a radius clears, on the safe side; the last for more."""
        for radius, depth in zip(self.radii_mm, self.from_mm, strict=True):
            if radius >= radius_mm - 1e-9:
                return depth
        return self.from_mm[-1]


def room_behind(
    outlines: Sequence[Outline],
    tip_radii_mm: tuple[float, float],
    swing_deg: tuple[float, float],
    neck_mm: tuple[float, float],
    blank_radius_mm: float,
    clear_mm: float,
) -> Room:
    """The room behind a ball.

    outlines: of what swings; tip_radii_mm: the ball's and the first pass's; swing_deg: of the sweep;
    neck_mm: where the ball ends behind the centre, and the radius that stands there; clear_mm: kept
    from all but the bit, whose sides come as near as BIT_CLEARANCE_MM.
    """
    shoulder, neck = neck_mm
    bits = [one for one in outlines if one[0].cuts]
    rest = [one for one in outlines if not one[0].cuts]
    grown = neck + (blank_radius_mm - neck) * (np.arange(1, LEVELS + 1) / LEVELS) ** 2
    deep = np.full(LEVELS, shoulder)  # the levels are closest beside the neck
    for some, clear in ((bits, BIT_CLEARANCE_MM), (rest, clear_mm)):
        reach = depths_within(some, tip_radii_mm, swing_deg, grown + clear)
        deep = np.maximum(deep, np.where(reach > 0.0, reach + clear, 0.0))
    deep = np.maximum.accumulate(deep)
    return Room((neck, *grown.tolist()), (shoulder, *deep.tolist()))


CLOSE_MM = 0.05
"""So much of the clearance a piece that fills its room may take: the nose stops as far off the stem."""


def nothing_needed(depth_mm: float) -> float:
    """Where no finished piece stands behind the neck."""
    return 0.0


def staircase(
    room: Room,
    groove_mm: float,
    needed: Callable[[float], float] = nothing_needed,
    piece: Callable[[float], float] = nothing_needed,
) -> tuple[Stand, ...]:
    """The work behind the ball, from the shoulder to where the blank may stand as thick as it came.

    groove_mm: how far behind the centre the neck goes at least. needed: the radius, never falling, that
    the piece still wants so far behind the centre, some spare with it; piece: without. Each step is as
    thick as clears where it begins, but never less than the piece: where that does not clear, it stays.
    """
    neck, blank = room.radii_mm[0], room.radii_mm[-1]
    rise = max(LEAST_RISE_MM, (blank - neck) / STEPS)
    here = max(groove_mm, room.from_mm[0])
    found = [Stand(room.from_mm[0], here, neck)]
    while (thick := max(room.radius_at(here), neck)) < blank - 1e-9:
        end = room.where(min(thick + rise, blank))
        if needed(here) <= thick < needed(end):
            end = _where(needed, thick, here, end)
        elif piece(end) > thick:
            fouls = piece(here) > thick + 2 * CLOSE_MM
            top = piece(here) + LEAST_RISE_MM if fouls else thick + CLOSE_MM
            end = _where(piece, top, here, end)
        end = max(end, here + LEAST_RUN_MM)
        thick = max(thick, piece(end))
        before = found[-1].radius_mm
        if thick <= before + SAME_MM and max(needed(end), thick - SAME_MM) <= before + 1e-9:
            found[-1] = Stand(found[-1].from_mm, end, found[-1].radius_mm)
        else:
            found.append(Stand(here, end, thick))
        here = end
    return tuple(found)


def _where(rising: Callable[[float], float], value: float, low: float, high: float) -> float:
    """Where a rising function passes a value, from below; by bisection."""
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) <= value else (low, middle)
    return low


def fouled(
    room: Room, finished: Callable[[float], float], to_mm: float
) -> tuple[float, float, float] | None:
    """Where a finished piece would stand in the way of what swings; None where it clears.

    finished: its radius so far behind the centre, never falling; to_mm: where it ends. Gives the depth,
    the piece's radius there, and what clears.
    """
    worst: tuple[float, float, float] | None = None
    for radius, start, end in zip(
        room.radii_mm, room.from_mm, (*room.from_mm[1:], float("inf")), strict=True
    ):
        stop = min(end, to_mm)
        if stop <= start or radius >= room.radii_mm[-1]:
            continue
        over = finished(stop) - radius
        if over > 1e-6 and (worst is None or over > worst[1] - worst[2]):
            worst = (stop, finished(stop), radius)
    return worst
