"""The shops of tests/data/shops, walked with what is put into their records."""

from __future__ import annotations

from functools import cache
from typing import Any

from jobs import ROOT
from jobs import planned as of_file

from planner.output.plan import Plan
from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]


@cache
def planned(name: str) -> Plan:
    """A shop's plan, made once."""
    return of_file(ROOT / "tests" / "data" / "shops" / f"{name}.toml")


def walked(name: str, setups: list[Data], steps: list[Data]) -> list[Finding]:
    """What a walk finds in its set-ups and steps."""
    plan = planned(name)
    found = walk(plan.attachment.parts, plan.job, setups, steps, placed=plan.attachment.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]
