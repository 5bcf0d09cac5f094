"""Of a size that dealers have and the shop too it is said that the shop has it (common practice)."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from planner.job.tables import Job
from planner.sizing.apply import size_up

JobWith = Callable[..., Job]


@pytest.mark.parametrize("owned", [True, False])
def test_a_thread_is_the_shops_where_it_has_the_tap(owned: bool, job_with: JobWith) -> None:
    # two screws No.6-32 keep the ring from turning, whether or not the tap is owned
    taps = ["No.10-32 UNF", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "5/8-18 UNF", "No.5-40 UNC"]
    taps += ["No.6-32 UNC"] if owned else []
    found = size_up(job_with("inch-lathe", **{"shop.taps": taps}), "job.toml")
    (screw,) = [one for one in found.steps if one.name == "index_screw"]
    assert screw.value == "No.6-32 UNC"
    assert screw.origin == ("shop" if owned else "standard")
