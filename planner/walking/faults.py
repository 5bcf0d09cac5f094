"""What a walk finds, gathered; numbers as the job writes them. Imported by the checks of this room."""

from __future__ import annotations

from planner.words.findings import Finding, finding
from planner.words.numbers import Numbers


class Faults:
    """The findings of a walk, in order; key: the set-up or the step they are of."""

    def __init__(self, file: str, numbers: Numbers) -> None:
        self.file, self.numbers = file, numbers
        self.key = ""
        self.found: list[Finding] = []

    def refuse(self, code: str, value: str, limit: str, remedy: str) -> None:
        """One fault; code: of the register."""
        self.found.append(finding(code, self.file, self.key, value, limit, remedy))

    def mm(self, length: float) -> str:
        """A length, as a caliper reads it."""
        return self.numbers.caliper(length)
