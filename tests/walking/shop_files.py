"""The shops of tests/data/shops: planned once each, and walked with what is put into their records."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from parts.attachment import Attachment, attachment
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.route import Route, whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]
SHOPS = Path(__file__).parents[1] / "data" / "shops"


@cache
def planned(name: str) -> tuple[Job, Attachment, Route]:
    """A shop's job, its attachment and its route."""
    job = job_from(tomllib.loads((SHOPS / f"{name}.toml").read_text("utf-8")), f"{name}.toml")
    whole = attachment(size_up(job, f"{name}.toml").sizes)
    return job, whole, whole_route(whole, job)


def walked(name: str, setups: list[Data], steps: list[Data]) -> list[Finding]:
    """What a walk finds in its set-ups and steps."""
    job, whole, _ = planned(name)
    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]
