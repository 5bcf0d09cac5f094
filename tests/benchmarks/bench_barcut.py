"""CPU of the bar cutter on one attachment, ten-fold and fifty-fold, and of a general solver.

    python tests/benchmarks/bench_barcut.py [ATTACHMENTS]

Prints the CPU of solving the six sections of ATTACHMENTS random attachments (3 unless given), and
its ratio to the one-fold; then, for the sections of the first attachment, the CPU of the assignment
model solved by SciPy's HiGHS on the same instances, its ratio to ours, and how many it proved in
LIMIT_S seconds per level; last, why the bar cutter has two ways to solve its linear programme: the CPU
with both, with the simplex of its own alone and with HiGHS alone, the least of RUNS in turns.
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from barcut_cases import Case, assignment_milp, attachment, shop  # noqa: E402

from planner.barcut import columns, cut_bars  # noqa: E402
from planner.barcut.highs import HighsProgramme  # noqa: E402
from planner.barcut.programme import programme  # noqa: E402
from planner.barcut.simplex import ColumnProgramme  # noqa: E402

FOLDS = (1, 10, 50)
LIMIT_S = 3.0
RUNS = 3
LENGTHS = 50
"""Different lengths out of one section, more than the simplex is asked for."""
WAYS = {
    "both": programme,
    "simplex": ColumnProgramme,
    "HiGHS": HighsProgramme,
}


def ours(cases: list[Case]) -> tuple[float, int]:
    """CPU seconds of the bar cutter, and how many cases it proved."""
    start = process_time()
    plans = [cut_bars(*case) for case in cases]
    used = process_time() - start
    return used, sum(p.level("drawn length").status == "proven" for p in plans)


def general(cases: list[Case]) -> tuple[float, int]:
    """CPU seconds of the assignment model, and how many cases it proved."""
    start = process_time()
    found = [assignment_milp(case, LIMIT_S) for case in cases]
    return process_time() - start, sum(f is not None for f in found)


def by_each_programme(label: str, cases: list[Case]) -> None:
    """Print the CPU with both programmes, with the simplex alone and with HiGHS alone."""
    least = dict.fromkeys(WAYS, float("inf"))
    for _ in range(RUNS):
        for way, columns.programme in WAYS.items():
            used, proven = ours(cases)
            least[way] = min(least[way], used)
            assert proven == len(cases), (label, way, proven)
    columns.programme = programme
    shown = "   ".join(
        f"{way} {least[way]:7.3f} s {least[way] / least['both']:5.2f}" for way in WAYS
    )
    print(f"{label:20} {shown}")


def main() -> None:
    """Print the tables."""
    seeds = range(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
    one = 0.0
    for fold in FOLDS:
        cases = [case for seed in seeds for case in attachment(seed, fold)]
        used, proven = ours(cases)
        one = one or used
        print(
            f"x{fold:<3} {used:8.3f} s CPU {used / one:8.2f} of x1   {proven}/{len(cases)} proven"
        )
    assignment_milp(attachment(seeds[0])[0])  # loading the solver is not counted
    print(f"general solver, {LIMIT_S:g} s a level, first attachment only")
    for fold in FOLDS:
        cases = attachment(seeds[0], fold)
        used, _ = ours(cases)
        slow, proven = general(cases)
        print(
            f"x{fold:<3} {slow:8.3f} s CPU {slow / used:8.2f} of ours {proven}/{len(cases)} proven"
        )
    print("which programme")
    for fold in FOLDS[1:]:
        cases = [case for seed in seeds for case in attachment(seed, fold)]
        by_each_programme(f"attachments x{fold}", cases)
    many = [shop(seed, 10, 3 * LENGTHS, LENGTHS) for seed in (0, 1)]
    by_each_programme(f"{LENGTHS} lengths x10", many)


if __name__ == "__main__":
    main()
