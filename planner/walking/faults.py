"""What a walk finds, gathered; numbers as the job writes them. Imported by the checks of this room."""

from __future__ import annotations

from planner.words.findings import Finding, finding
from planner.words.numbers import Numbers
from planner.words.register import Severity


class Faults:
    """The findings of a walk, in order; key: the set-up or the step they are of."""

    def __init__(self, file: str, numbers: Numbers, severity: Severity = "refused") -> None:
        self.file, self.numbers, self.severity = file, numbers, severity
        self.key = ""
        self.found: list[Finding] = []

    def refuse(self, code: str, value: str, limit: str, remedy: str) -> None:
        """One fault; code: of the register."""
        self.found.append(
            finding(code, self.file, self.key, value, limit, remedy, severity=self.severity)
        )

    def mm(self, length: float) -> str:
        """A length, as a caliper reads it."""
        return self.numbers.caliper(length)

    def least(self, length: float) -> str:
        """What a rule of the trade wants at least: rounded up to a number that an inch shop says."""
        return self.numbers.bound(length, up=True)

    def most(self, length: float) -> str:
        """What a rule of the trade allows at most: rounded down to such a number."""
        return self.numbers.bound(length, up=False)
