"""Grooves and stubs of an inch shop are of sizes that its rule and its tools have."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from pathlib import Path

import pytest
from jobs import ROOT, planned
from making.test_on_axis_by_hand import on_lathe, thread

from planner.checking.stub import own_ball
from planner.job.tables import Job
from planner.making.ways.screwed import run_out

JobWith = Callable[..., Job]


@pytest.mark.parametrize(
    ("name", "long", "told"),
    [
        # 18 threads per inch are 0.0556 in: the next 64th is 1/16; what the part leaves stays as it is
        ("5/8-18", 20.0, "1/16 in"), ("5/8-18", 20.0 - 1.5875, "1/16 in"),
        ("5/8-18", 20.0 - 3.175, "1/8 in"), ("1/4-20", 19.9, "1/16 in"),
    ],
)  # fmt: skip
def test_a_run_out_groove_is_as_wide_as_an_inch_shops_tool(
    job_with: JobWith, name: str, long: float, told: str
) -> None:
    """Grooving tools are ground to 64ths by a rule in an inch shop (common practice)."""
    work = on_lathe(job_with("inch-lathe"), (0.0, 20.0, 6.0), (20.0, 40.0, 19.0))
    work.setup.add(*run_out(thread(4.0, long, name), work, 4.0, long))
    (op,) = work.setup.ops
    assert f"run-out groove {told} wide" in op.text


@pytest.mark.parametrize(
    "path",
    [
        ROOT / "examples" / "inch-lathe.toml",
        ROOT / "tests" / "data" / "inch-jobs" / "metric-feed.toml",
        ROOT / "tests" / "data" / "inch-jobs" / "tool-room.toml",
    ],
    ids=lambda path: path.stem,
)
def test_a_stub_is_turned_to_what_a_rule_reads_no_wider_than_the_knobs_flat(path: Path) -> None:
    """A knob cut to a length in 64ths has a flat of no size: 0.394 in; a stub is turned to the 64th
    under it (common practice)."""
    plan = planned(path)
    found = own_ball(plan.attachment)
    assert plan.stub is not None and found is not None
    sixtyfourths = plan.stub.seat_mm / 25.4 * 64
    assert sixtyfourths == pytest.approx(round(sixtyfourths), abs=1e-5)
    radius = found[1].diameter.nominal_mm / 2
    flat = 2 * sqrt(radius**2 - (found[1].end_mm - radius) ** 2)
    assert flat - 25.4 / 64 < plan.stub.seat_mm <= flat + 1e-6


@pytest.mark.parametrize("job", ["inch-lathe", "bench-lathe"])
def test_what_runs_into_a_ball_is_turned_as_long_as_a_rule_reads(job: str) -> None:
    """A lever's arm ends where its hand ball begins, at no size: 0.542 in and 13.24 mm were told; a
    form tool takes the rest (common practice)."""
    route = planned(ROOT / "examples" / f"{job}.toml").route
    (said,) = [op.text for s in route.setups for op in s.ops if "turn lever arm" in op.text]
    told = {"inch-lathe": "x 17/32,", "bench-lathe": "x 13,"}  # 34.7 of 64; half millimetres
    assert told[job] in said
