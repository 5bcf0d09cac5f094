"""The door out for numbers: how a job's language of numbers writes each kind of quantity.

A sheet never formats a unit by itself; it asks ``job.numbers`` by what the quantity is for: a length
as a rule, a caliper or a micrometer reads it, a force, a mass. Any room may import it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from parts.standard.sections import Section
from planner.words.units import MM_PER_INCH, show_length, trimmed, unit_name


@dataclass(frozen=True)
class Numbers:
    """A job's language of numbers; inch: lengths in inches, else in millimetres.

    Methods that end in nothing else return the number with its unit; ``bare`` and what ends in
    ``_bare`` without it, for a column whose head names the unit.
    """

    inch: bool

    @property
    def unit(self) -> str:
        """The unit lengths are shown in."""
        return unit_name(self.inch)

    def bare(self, mm: float, places: int | None = None) -> str:
        """A length without its unit; places: decimals, by default 0.01 mm, a fraction or 0.001 in."""
        return show_length(mm, self.inch, places)

    def length(self, mm: float, places: int | None = None) -> str:
        """A length with its unit."""
        return f"{self.bare(mm, places)} {self.unit}"

    def rough(self, mm: float) -> str:
        """A length in a sentence, to 0.1 mm or 0.01 in."""
        return self.length(round(mm, 1), 2 if self.inch else 1)

    def fine(self, mm: float) -> str:
        """A small length in a sentence, to 0.001 mm or 0.0001 in."""
        return self.length(mm, 4 if self.inch else 3)

    def at_least(self, mm: float) -> str:
        """A least length, rounded up to 0.1 mm or 0.01 in so that it still does."""
        unit, parts = (MM_PER_INCH, 100) if self.inch else (1.0, 10)
        return f"{ceil(mm / unit * parts - 1e-6) / parts:g} {self.unit}"

    def at_most(self, mm: float) -> str:
        """A greatest length, rounded down to 0.1 mm or 0.01 in so that it still does."""
        unit, parts = (MM_PER_INCH, 100) if self.inch else (1.0, 10)
        return f"{floor(mm / unit * parts + 1e-6) / parts:g} {self.unit}"

    def stock(self, section: Section) -> str:
        """A stock section by its name."""
        return section.label(self.inch)

    def force(self, newtons: float, places: int = 0) -> str:
        """A force."""
        return f"{newtons:.{places}f} N"

    def torque(self, newton_metres: float) -> str:
        """A torque."""
        return f"{newton_metres:.1f} Nm"

    def stress(self, megapascals: float) -> str:
        """A stress."""
        return f"{megapascals:.0f} MPa"

    def mass(self, kilograms: float) -> str:
        """A mass."""
        return f"{trimmed(kilograms, 2)} kg"
