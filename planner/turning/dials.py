"""What the lathe's own dials are set to: whole divisions, in millimetres.

Plain numbers, and the dials of a job's lathe. Imported by roughing, ball and the sheets.
"""

from __future__ import annotations

from math import ceil, inf

from parts.value import Value
from planner.job.tables import Job
from planner.words.numbers import CUT_IN, CUT_MM
from planner.words.units import MM_PER_INCH

_SLACK = 1e-9


def not_below_zero(**values: float) -> None:
    """Raises ValueError for a number below zero or without end, by its name."""
    for name, value in values.items():
        if not 0.0 <= value < inf:
            raise ValueError(f"{name} {value:g}: give a number not below zero")


class Divisions(Value, frozen=True):
    """One division of the carriage's dial and of the cross slide's (radius); 0 for none."""

    carriage_mm: float = 0.0
    cross_mm: float = 0.0

    def __post_init__(self) -> None:
        not_below_zero(carriage_mm=self.carriage_mm, cross_mm=self.cross_mm)


NO_DIALS = Divisions()


def dials_of(job: Job) -> Divisions:
    """The lathe's dials as the job says them; else as fine as a caliper and a usual slide read."""
    usual = CUT_IN * MM_PER_INCH if job.inch else CUT_MM
    lathe = job.lathe
    return Divisions(lathe.carriage_division or usual, lathe.cross_slide_division or usual)


def whole_up(value_mm: float, division_mm: float) -> float:
    """Up to a whole division, none when it is 0."""
    if division_mm == 0.0:
        return value_mm
    return round(ceil(value_mm / division_mm - _SLACK) * division_mm, 9)


def whole_down(value_mm: float, division_mm: float) -> float:
    """Down to a whole division, none when it is 0."""
    return -whole_up(-value_mm, division_mm)


def whole_near(value_mm: float, division_mm: float) -> float:
    """To the nearest whole division."""
    return round(round(value_mm / division_mm) * division_mm, 9)


def whole_from(blank_mm: float, radius_mm: float, division_mm: float) -> float:
    """A radius of work in a blank, mm, rounded up so that whole divisions are turned off the blank's.

    No more than the blank's; as it is where the division is 0.
    """
    return min(blank_mm - whole_down(blank_mm - radius_mm, division_mm), blank_mm)
