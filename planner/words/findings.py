"""What is wrong, where, by how much and what to do: one finding a problem, all at once.

``finding`` makes every one of them from a code of words.register; ``read_back`` one that was kept.
Any module of the planner may import this; it imports the register and words.short alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, get_args

from msgspec.structs import asdict, replace

from parts.value import Value
from planner.words.register import Severity, kinds
from planner.words.short import LONGEST_SUBJECT, begun, printed

BADNESS = get_args(Severity)
"""The severities, worst first."""


class Finding(Value, frozen=True):
    """One problem; made by ``finding`` only.

    severity: "refused" (nothing can be made of it), "warning" (can be made; look at it first) or
    "note". file and key: where. value: what stands there. limit: what it is held against.
    remedy: what to do. text: the whole in one shop sentence. code: of the register; source: of its
    formula, where it has one. line: of the file, from 1, where it is known.
    """

    severity: Severity
    file: str
    key: str
    value: str
    limit: str
    remedy: str
    text: str
    code: str
    source: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        where = f"{place}: {self.key}" if self.key else place
        subject, colon, rest = self.text.partition(": ")
        name = f".{subject.removesuffix('...')}"
        cut = subject.endswith("...") and name in self.key
        said = colon and (cut or self.key.endswith(name))  # by the key already
        return f"{where}: {rest if said else self.text}"

    @property
    def told(self) -> str:
        """The sentence where no key stands before it, with the ball, step, set-up or aid that the key
        alone names.

        One called "half" is not named by "half a ball is parted off".
        """
        if re.match(r"(step|set-up|aid) ", self.key):
            return self.text if self.key in self.text else f"{self.key}: {self.text}"
        found = re.fullmatch(r"ball\.(.+?)(\.[a-z_]+)?", self.key)
        if found is None:
            return self.text
        name, (subject, colon, _) = found[1], self.text.partition(": ")
        cut = subject.endswith("...") and name.startswith(subject.removesuffix("..."))
        begins = colon and (subject == name or cut)
        named = begins or re.search(rf"\bball {re.escape(name)}(?!\w)", self.text)
        return self.text if named else f"ball {name}: {self.text}"

    @property
    def message(self) -> str:
        """The finding as a line of stderr: severity, code, where, the sentence."""
        return f"{self.severity} [{self.code}]: {self}"

    def as_dict(self) -> dict[str, Any]:
        """The finding as a plain dictionary, keys as the fields; line only where it is known."""
        fields = asdict(self)
        if self.line is None:
            del fields["line"]
        return fields


class BadInput(Exception):
    """The job cannot be worked on; carries every finding."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in findings))


def finding(
    code: str,
    file: str,
    key: str,
    value: str,
    limit: str,
    remedy: str,
    *,
    severity: Severity | None = None,
    subject: str = "",
    source: str = "",
    line: int | None = None,
) -> Finding:
    """A finding of a registered kind, its sentence made of its pieces.

    code: of the register. file, key, value, limit, remedy: as of Finding; value and key may be empty.
    severity: needed only where the kind may have several. subject: what the sentence begins with, a
    ball's name say. line: of the file, from 1, where known. No sign of it steers a terminal, and a
    long value is told by its beginning. Raises LookupError for a code that is not
    registered or a severity that it may not have: a mistake of ours, not of the job.
    """
    kind = kinds().get(code)
    if kind is None:
        raise LookupError(
            f"finding {code!r} is not registered; add it to planner/words/register.toml"
        )
    if severity is None and len(kind.severities) == 1:
        severity = kind.severities[0]
    if severity not in kind.severities:
        raise LookupError(f"finding {code!r}: {severity} is none of {', '.join(kind.severities)}")
    key, value, limit, remedy = (printed(one) for one in (key, value, limit, remedy))
    key, value, subject = begun(key), begun(value), begun(printed(subject), LONGEST_SUBJECT)
    sentence = ": ".join(piece for piece in (subject, value, limit) if piece)
    text = f"{sentence}. {remedy}"
    return Finding(severity, file, key, value, limit, remedy, text, code, source, line)


def read_back(entry: Mapping[str, Any], file: str) -> Finding:
    """A finding from what as_dict made of it, in the file as it is called now."""
    code, key, value, limit, remedy = (
        entry[name] for name in ("code", "key", "value", "limit", "remedy")
    )
    made = finding(
        code, file, key, value, limit, remedy, severity=entry["severity"], source=entry["source"]
    )
    return replace(made, text=entry["text"], line=entry.get("line"))


def once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings in order, the worst of those that say the same of the same place."""
    worst: dict[tuple[str, str, str, str], Finding] = {}
    for one in findings:
        same = (one.code, one.file, one.key, one.text)
        told = worst.setdefault(same, one)
        if BADNESS.index(one.severity) < BADNESS.index(told.severity):
            worst[same] = one
    return tuple(worst.values())
