"""The time a search may still take."""

from __future__ import annotations

from time import monotonic


class Clock:
    """Counts down `seconds` of wall-clock time from when it is made."""

    def __init__(self, seconds: float) -> None:
        self._end = monotonic() + seconds

    @property
    def over(self) -> bool:
        """Whether time is up."""
        return monotonic() >= self._end

    @property
    def left(self) -> float:
        """Seconds left, 0 when time is up."""
        return max(0.0, self._end - monotonic())

    def share(self, part: float) -> Clock:
        """Return a clock that runs for `part` (0 to 1) of the seconds left."""
        return Clock(self.left * part)
