"""The work a search may still do, in counted steps; every search of this room spends from it.

No clock is read: the same input gives the same plan on a slow machine as on a fast one, whatever else
it does. A step is about an addition in a Python list, of which a machine of 2020 does some twenty
million a second. What compiled code does is counted in the same steps, at measured rates.
"""

from __future__ import annotations

BITS_A_STEP = 1_500
"""Bits of a long whole number gone through once (moved, masked and joined),"""
CELLS_A_STEP = 70
"""and cells of an array (added to and compared), in the time of a step."""
ARRAY_CALL = 30
"""Steps it takes to begin on an array."""


class _Meter:
    """Counts the steps spent."""

    def __init__(self) -> None:
        self.spent = 0.0


class Effort:
    """So many steps, to be spent; over when all are."""

    def __init__(self, steps: float, meter: _Meter | None = None) -> None:
        """steps: from now on, 0 or more, `math.inf` for work without end; meter: where they are
        counted together with others' (a meter of its own when None)."""
        self._meter = meter or _Meter()
        self._end = self._meter.spent + steps

    def spend(self, steps: float) -> None:
        """Count steps as done; the last of them may be more than are left."""
        self._meter.spent += steps

    @property
    def over(self) -> bool:
        """Whether nothing is left."""
        return self._meter.spent >= self._end

    @property
    def left(self) -> float:
        """Steps left, 0 when all are spent."""
        return max(0, self._end - self._meter.spent)

    def share(self, part: float) -> Effort:
        """Return an effort that is over as soon as `part` (0 to 1) of what is left is spent,
        through it or through this one: both count on one meter."""
        return Effort(self.left * part, self._meter)
