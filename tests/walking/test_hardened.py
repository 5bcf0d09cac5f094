"""Austenitic stainless steels harden where an edge rubs: a drill is fed without a stop, with a
sulphurised oil or a paste that stays on its edge, not with soluble oil (common practice)."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from jobs import ROOT, changed, planned
from walking.part_walk import near

from parts.attachment import Attachment, attachment
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.route import whole_route
from planner.sizing.apply import size_up

Data = dict[str, Any]


@cache
def stainless() -> tuple[Attachment, Job, list[Data], list[Data]]:
    """The bench lathe's attachment of 304, and its route."""
    data = changed(**{"materials.structure": "304", "materials.shaft": "304"})
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    return whole, job, list(route.setup_records()), list(route.operation_records())


def the_step() -> Data:
    """The drilling of the oil hole, or of whatever is drilled first in the housing."""
    return next(o for o in stainless()[3] if o["kind"] == "drill" and o["part"] == "housing")


def found(**changes: Any) -> list[tuple[str, str]]:
    whole, job, setups, steps = stainless()
    own = the_step()["number"]
    changed_steps = [one | changes if one["number"] == own else one for one in steps]
    told = near(whole, job, setups, changed_steps, "housing")
    return [(one.code, one.key) for one in told]


def test_a_hole_in_stainless_steel_is_oiled_thickly_and_fed_without_a_stop() -> None:
    step = the_step()
    assert "sulphurised" in step["coolant"] and "paste" in step["coolant"]
    assert "never let it dwell" in step["caution"]
    assert found() == []
    plain = planned(ROOT / "examples" / "bench-lathe.toml").route.operation_records()
    assert not any("dwell" in one["caution"] for one in plain)


@pytest.mark.parametrize(
    "changes",
    [{"coolant": "soluble oil or cutting oil"}, {"coolant": ""}, {"caution": ""}],
    ids=["oil", "dry", "fed"],
)
def test_as_it_was_it_is_refused(changes: dict[str, str]) -> None:
    assert found(**changes) == [("route-words", f"step {the_step()['number']}")]
