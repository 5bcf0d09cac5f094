"""The register of findings: what each code means, how bad it may be, and what helps in general.

The entries are data: planner/words/register.toml. words.findings makes every finding from one of them;
``pommel explain`` and docs/findings.md show them. Imports nothing of the project.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from parts.value import Value

Severity = Literal["refused", "warning", "note"]


class Kind(Value, frozen=True):
    """One kind of finding.

    code: its name. about: the heading it stands under. severities: those it may have, worst first:
    "refused" (nothing can be made of it), "warning" (can be made; look at it first) or "note".
    meaning: what is wrong, in one or two shop sentences. remedy: what helps, in general; the finding
    itself says it with its numbers.
    """

    code: str
    about: str
    severities: tuple[Severity, ...]
    meaning: str
    remedy: str


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of finding by its code, in the order of the register; read once, when first asked."""
    import tomllib
    from pathlib import Path

    text = Path(__file__).with_name("register.toml").read_text(encoding="utf-8")
    return {
        code: Kind(code, **(entry | {"severities": tuple(entry["severities"])}))
        for code, entry in tomllib.loads(text).items()
    }


def page() -> str:
    """The register as a page of Markdown: docs/findings.md."""
    lines = [
        "# Findings",
        "",
        "What pommel finds is told as `severity [code]: file: key: what, limit, remedy`. A finding is",
        "**refused** (nothing can be made of it), a **warning** (can be made; look at it first) or a",
        "**note**. `pommel explain CODE` says what stands here. This page is made from",
        "planner/words/register.toml; do not edit it.",
    ]
    about = ""
    for kind in kinds().values():
        if kind.about != about:
            about = kind.about
            lines += [
                "",
                f"## {about}",
                "",
                "| code | may be | meaning | remedy |",
                "|---|---|---|---|",
            ]
        severities = ", ".join(kind.severities)
        lines.append(f"| `{kind.code}` | {severities} | {kind.meaning} | {kind.remedy} |")
    return "\n".join(lines) + "\n"
