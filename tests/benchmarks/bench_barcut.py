"""CPU of the bar cutter on one attachment, ten-fold and fifty-fold, and of a general solver.

    python tests/benchmarks/bench_barcut.py [ATTACHMENTS]

Prints the CPU of solving the six sections of ATTACHMENTS random attachments (3 unless given), the
ratio of each fold to the one-fold, and the assignment model solved by SciPy's HiGHS on the one-fold
instances in the same run.
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "barcut")]

from barcut_cases import assignment_milp, attachment  # noqa: E402

from planner.barcut import cut_bars  # noqa: E402


def main() -> None:
    seeds = range(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
    used: dict[int, float] = {}
    for fold in (1, 10, 50):
        cases = [case for seed in seeds for case in attachment(seed, fold)]
        start = process_time()
        plans = [cut_bars(*case) for case in cases]
        used[fold] = process_time() - start
        proven = sum(p.level("drawn length").status == "proven" for p in plans)
        ratio = used[fold] / used[1]
        print(
            f"x{fold:<3} {used[fold]:7.3f} s CPU  {ratio:6.2f} of x1   {proven}/{len(plans)} proven"
        )
    cases = [case for seed in seeds for case in attachment(seed, 1)]
    assignment_milp(cases[0])  # loading the solver is not counted
    start = process_time()
    found = [assignment_milp(case, 20.0) for case in cases]
    general = process_time() - start
    print(
        f"general solver, x1 {general:7.3f} s CPU  {general / used[1]:6.2f} of ours"
        f"   {sum(f is not None for f in found)}/{len(found)} proven"
    )


if __name__ == "__main__":
    main()
