"""What is wrong, where, by how much and what to do: one finding a problem, all at once.

Any module of the planner may import this; it imports nothing of the project.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Literal

Severity = Literal["refused", "warning", "note"]


@dataclass(frozen=True)
class Finding:
    """One problem.

    severity: "refused" (nothing can be made of it), "warning" (can be made; look at it first) or
    "note". file and key: where. value: what stands there. limit: what it is held against.
    remedy: what to do. text: the whole in one shop sentence. code: our own short name of the
    check; source: of its formula, where it has one.
    """

    severity: Severity
    file: str
    key: str
    value: str
    limit: str
    remedy: str
    text: str
    code: str = ""
    source: str = ""

    def __str__(self) -> str:
        where = f"{self.file}: {self.key}" if self.key else self.file
        return f"{where}: {self.text}"

    def as_dict(self) -> dict[str, str]:
        """The finding as a plain dictionary, keys as the fields."""
        return asdict(self)


class BadInput(Exception):
    """The job cannot be worked on; carries every finding."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in findings))


def refused(file: str, key: str, value: str, limit: str, remedy: str) -> Finding:
    """A refusal whose sentence is made of its pieces."""
    text = f"{value}: {limit}. {remedy}" if value else f"{limit}. {remedy}"
    return Finding("refused", file, key, value, limit, remedy, text)
