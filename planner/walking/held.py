"""Work in the lathe, as it is held. Imported by the checks."""

from __future__ import annotations

from msgspec import Struct, field

from planner.walking.shape import Line


class Held(Struct, dict=True):
    """Work in the lathe: its line, the jaws' reach along it outward, the tailstock, the driver.

    steady: where the fixed steady stands along it; steady_mm: the diameter that its fingers rub on;
    cat_head: whether they run on a cat head there.
    """

    line: Line
    by: str
    grips: list[tuple[float, float, float, bool]] = field(default_factory=list)
    tail: float | None = None
    headed: bool = False
    steady: float | None = None
    steady_mm: float = 0.0
    cat_head: bool = False
    travelling: bool = False
    driver: float | None = None

    def out(self, coordinate: float) -> float:
        """A coordinate of the work, counted toward the tailstock."""
        return self.line.sign * coordinate

    def span(self, low: float, high: float) -> tuple[float, float]:
        """Two coordinates so counted, the one nearer the headstock first."""
        a, b = self.out(low), self.out(high)
        return (a, b) if a <= b else (b, a)

    @property
    def front(self) -> float | None:
        """The jaws' front; None without jaws."""
        return max((high for _, high, _, _ in self.grips), default=None)
