"""The shops of tests/data/shops, walked with what is put into their records."""

from __future__ import annotations

from functools import cache
from typing import Any

from jobs import ROOT
from jobs import planned as of_file
from walking.part_walk import near

from planner.output.plan import Plan
from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]


@cache
def planned(name: str) -> Plan:
    """A shop's plan, made once."""
    return of_file(ROOT / "tests" / "data" / "shops" / f"{name}.toml")


@cache
def sound(name: str) -> list[Finding]:
    """What a walk finds in a shop's route as it is planned."""
    route = planned(name).route
    return walked(name, route.setup_records(), route.operation_records())


def walked(name: str, setups: list[Data], steps: list[Data], *parts: str) -> list[Finding]:
    """What a walk finds in its set-ups and steps; parts: in those of these alone."""
    plan = planned(name)
    if parts:
        return near(plan.attachment, plan.job, setups, steps, *parts)
    found = walk(plan.attachment.parts, plan.job, setups, steps, placed=plan.attachment.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]
