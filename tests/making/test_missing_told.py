"""What the route calls missing is told as a finding too, each thing once (a rule of this program: all
findings at once)."""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT, planned

from planner.output.sheets.outfit import missing_findings, outfit_lines

SHOPS = ROOT / "tests" / "data" / "shops"
JOBS = (*EXAMPLES, SHOPS / "cellar.toml", SHOPS / "watch-bench.toml")


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_what_is_missing_is_a_finding(path: Path) -> None:
    plan = planned(path)
    lines = [one for one in outfit_lines(plan.outfit) if "MISSING: " in one]
    names = {one.partition("MISSING: ")[2].partition(" (set-up")[0] for one in lines}
    found = missing_findings(plan.route, plan.outfit, "job.toml")
    told = [one.value.removeprefix("a ") for one in found]
    assert names and len(told) == len(set(told))  # each of these shops lacks something
    own = tuple(one.what.removeprefix("a ") for one in plan.route.missing)
    assert set(told) == {*own, *(name for name in names if not name.startswith(own))}
    assert all(one.remedy and one.file == "job.toml" for one in found)
