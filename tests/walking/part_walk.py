"""One part's share of a route, walked: the set-ups in which it is worked on alone, and their steps.

A fault put into one part's route is looked for there: the others' routes are walked once for all, by
tests/walking/test_routes.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from parts.attachment import Attachment
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]


def of_parts(plan: Plan, *names: str, kind: str = "") -> tuple[list[Data], list[Data]]:
    """Records of set-ups in which one of the parts is worked on, mounted with no other; and steps.

    kind: of steps, after the last of which nothing more is asked for.
    """
    alone = [
        one for one in plan.route.setup_records() if one["part"] in names and not one["with_parts"]
    ]
    numbers = {one["number"] for one in alone}
    steps = [one for one in plan.route.operation_records() if one["setup"] in numbers]
    if kind:
        last = max(i for i, one in enumerate(steps) if one["kind"] == kind)
        steps = [one for i, one in enumerate(steps) if i <= last]
    kept = {one["setup"] for one in steps}
    return [one for one in alone if one["number"] in kept], steps


def walked(plan: Plan, setups: Sequence[Data], operations: Sequence[Data]) -> list[Finding]:
    """What is found in set-ups and steps: what else is made of the parts is not asked for."""
    names = {one["part"] for one in setups}
    parts = [part for part in plan.attachment.parts if part.name in names]
    found = walk(parts, plan.job, setups, operations)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]


def near(
    whole: Attachment, job: Job, setups: Sequence[Data], steps: Sequence[Data], *names: str
) -> list[Finding]:
    """What is found in the set-ups of some parts and of those they are mounted with, no others."""
    own = set(names)
    while more := {o for one in setups if one["part"] in own for o in one["with_parts"]} - own:
        own |= more
    parts = [part for part in whole.parts if part.name in own]
    mine = [one for one in setups if one["part"] in own]
    numbers = {one["number"] for one in mine}
    theirs = [one for one in steps if one["setup"] in numbers]
    found = walk(parts, job, mine, theirs, placed=whole.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]
