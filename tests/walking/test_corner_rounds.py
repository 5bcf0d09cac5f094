"""A cutter that mills by its side leaves its round in an inner corner: nothing is pushed home there.

By hand: a cutter of 16 whose side cuts 0.5 off the foot stands, where it touches the arm, with its
middle 8 from the arm; nearer than 8 - sqrt(8^2 - 7.5^2) = 5.2 to the arm it takes nothing off the foot,
and from there to 8 less than all (geometry). A block held flat against the foot stands on that.
"""

from __future__ import annotations

import copy
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, planned
from walking.part_walk import near

from parts import features as f
from planner.output.plan import Plan

JOBS = [
    *(ROOT / "examples" / f"{name}.toml" for name in ("bench-lathe", "inch-lathe")),
    ROOT / "tests" / "data" / "jobs" / "repair-inch.toml",  # no mill: the foot's face is scraped
]
HOME = "pushed home on the rod, its foot flat held against the foot bearing face by a clamp"
OFF_MM = 9.5


@pytest.fixture(scope="module", params=JOBS, ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> Plan:
    path: Path = request.param
    return planned(path)


def _held(plan: Plan) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The set-ups, and what is said of the body that the feed nut is spotted through."""
    setups = copy.deepcopy(plan.route.setup_records())
    (found,) = (
        row
        for one in setups
        if one["part"] == "sliding-head"
        for row in one["align"]
        if (row.get("against") or {}).get("part") == "rotating-body"
    )
    return setups, found


def test_how_far_the_round_reaches() -> None:
    assert 8 - sqrt(8**2 - (8 - 0.5) ** 2) == pytest.approx(5.22, abs=0.01)


def test_the_body_stops_short_of_the_round(plan: Plan) -> None:
    setups, held = _held(plan)
    said = "10 mm" if not plan.job.inch else "13/32 in"
    assert held["what"].startswith(
        f"the rotating body pushed up the rod to {said} from the arm, clear of the round in the corner"
    )
    mills = [
        row["tool"]["diameter_mm"]
        for row in plan.route.operation_records()
        if (row["kind"], row["feature"]) == ("mill", "foot bearing face")
    ]
    assert mills and max(mills) / 2 < OFF_MM
    assert not plan.walked


def test_pushed_home_it_is_refused(plan: Plan) -> None:
    setups, held = _held(plan)
    held["what"] = f"the rotating body {HOME} across both: else it swings"
    steps = plan.route.operation_records()
    found = near(plan.attachment, plan.job, setups, steps, "sliding-head")
    ((code, value),) = {(one.code, one.value) for one in found}
    assert code == "route-spot-guide"
    assert value == "rotating-body against the foot bearing face, pushed home"


def test_the_sheet_lets_the_round_stay(plan: Plan) -> None:
    (face,) = (
        one
        for part in plan.attachment.parts
        for one in part.features
        if one.name == "foot bearing face"
    )
    assert isinstance(face, f.MilledFlat)
    assert face.note.endswith("the cutter's round may stay at the arm")


def test_in_use_the_block_never_comes_to_it(plan: Plan) -> None:
    """At the smallest ball the arm is nearest: tip and stick-out less half of the block (geometry)."""
    s = plan.sizing.sizes
    assert s.tip_radius_min_mm + s.bit_stickout_mm - s.block_length_mm / 2 > OFF_MM
