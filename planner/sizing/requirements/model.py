"""What a requirement is: a measure of the sizes, the bound it must keep, and what to say of it.

Imported by the requirements of each subject beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from parts.standard.threads import ThreadSize, thread
from parts.value import Value

CLEAN_UP_MM = 0.5
"""A bar is at least so much thicker than what is finished on it: its skin is off (common practice)."""

Measure = Callable[[Any], Any]
Says = Callable[[Any, Callable[[float], str]], tuple[str, str, str]]
"""Value, limit and remedy in words, from the sizes and the job's way of writing a length."""


class Requirement(Value, frozen=True):
    """A measure that must be at least, or at most, a bound.

    code: of its finding; key: the size to change, by its name in a job file; what: what is measured;
    value, bound: functions of Sizes, or of columns of them; remedy: what to do; most: whether the
    bound is the greatest, not the least; says: the whole in words, where the plain sentence will not
    do.
    """

    code: str
    key: str
    what: str
    value: Measure
    bound: Measure
    remedy: str
    most: bool = False
    says: Says | None = None

    def met(self, s: Any) -> Any:
        """Whether it is met: a truth, or one for each row."""
        if self.most:
            return self.value(s) <= self.bound(s) + 1e-6
        return self.value(s) >= self.bound(s) - 1e-6

    def words(self, s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
        """Value, limit and remedy of sizes that do not meet it."""
        if self.says:
            return self.says(s, mm)
        limit = "at most" if self.most else "needs"
        value, bound = (float(measure(s)) for measure in (self.value, self.bound))
        return f"{self.what} {mm(value)}", f"{limit} {mm(bound)}", self.remedy


def no_less(
    code: str, key: str, what: str, value: Measure, bound: Measure, remedy: str
) -> Requirement:
    """A measure that must not be less."""
    return Requirement(code, key, what, value, bound, remedy)


def no_more(
    code: str, key: str, what: str, value: Measure, bound: Measure, remedy: str
) -> Requirement:
    """A measure that must not be more."""
    return Requirement(code, key, what, value, bound, remedy, most=True)


def major_mm(size: Any) -> Any:
    """The diameter of a thread, by its name or as a column."""
    return thread(size).major_mm if isinstance(size, str) else size.major_mm


def of_thread(size: Any, look_up: Callable[[ThreadSize], float]) -> Any:
    """A number looked up for a thread, by its name or as a column."""
    return look_up(thread(size)) if isinstance(size, str) else size.of(look_up)
