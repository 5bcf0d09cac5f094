"""CPU of the sums of the check, in this process; prints seconds and how many in one.

    python tests/benchmarks/bench_sums.py

A million balls of the error budget, and the search of all combinations, for each example.
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from planner.checking.budget import simulate, tolerances_of  # noqa: E402
from planner.output.plan import Plan  # noqa: E402


def main() -> None:
    """Print both for every example."""
    for job in sorted((ROOT / "examples").glob("*.toml")):
        plan = Plan(job)
        tolerances = tolerances_of(plan.sizing.sizes, plan.strength.sprung_mm)
        start = process_time()
        simulate(tolerances, plan.sizing.sizes.max_ball_diameter_mm / 2, 1_000_000)
        balls = process_time() - start
        start = process_time()
        found = plan.search("stiff")
        searched = process_time() - start
        print(
            f"{job.stem:14} 1000000 balls {balls:5.2f} s CPU   {found.combinations} combinations"
            f" {searched:5.2f} s CPU, {found.combinations / searched:9.0f} in a second"
        )


if __name__ == "__main__":
    main()
