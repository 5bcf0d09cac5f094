"""Fixtures: example jobs worked out once, and jobs made from them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, ROOT, changed

from planner.job.reading import job_from
from planner.job.tables import Job
from planner.output.plan import Plan

MARKED = {
    "kernel": ("solids/", "checking/test_clearance.py", "geometry/test_edges.py"),
    "build": (
        *("output/test_package.py", "output/test_rebuild.py", "output/test_crash.py"),
        "drawing/test_sheet_repeats.py",
        *("output/test_example.py", "cli/test_net.py", "cli/test_ready.py"),
        "cli/test_cli.py::test_the_worked_example_of_build_runs",
        "cli/test_cli.py::test_the_worked_example_of_draw_runs",
        *("solids/", "checking/test_clearance.py", "checking/test_search.py"),
        *("drawing/test_sheets.py", "cli/test_draw.py"),
        "sizing/test_nonsense.py",
        "test_architecture.py::test_a_topic_loads_the_kernel_only_when_its_entry_says_so",
        "test_architecture.py::test_commands_that_need_no_solid_never_load_the_kernel",
    ),
    "elements": (
        *("checking/test_fem.py", "checking/test_fem_block.py", "checking/test_spring_solids.py"),
    ),
}
"""What costs most, by what it runs: the CAD kernel, packages or commands in processes of their
own, solids and searches, finite elements."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the costly tests by where they stand."""
    tests = Path(__file__).parent
    for item in items:
        place = f"{item.path.relative_to(tests).as_posix()}::{item.name}"
        for mark, places in MARKED.items():
            if place.startswith(places):
                item.add_marker(mark)


@cache
def _plan(path: Path) -> Plan:
    return Plan(path)


@pytest.fixture(params=EXAMPLES, ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each example job, worked out."""
    return _plan(request.param)


@pytest.fixture
def bench() -> Plan:
    """The metric bench lathe."""
    return _plan(ROOT / "examples" / "bench-lathe.toml")


@pytest.fixture
def job_with() -> Callable[..., Job]:
    """A job made from an example, keys changed: ``job_with(**{"lathe.jaw_reach": 3})``."""

    def make(example: str = "bench-lathe", **changes: Any) -> Job:
        return job_from(changed(example, **changes), "job.toml")

    return make
