"""CPU and memory of `check`, whose search goes through the combinations, against the CAD kernel's.

    python tests/benchmarks/bench_search.py [RUNS]

CPU is the least of RUNS whole processes (3 unless given), as a ratio to that of `import cadquery` in
the same run; memory is the most that the process held. The exit code is 1 when a limit is passed.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
JOBS = sorted((ROOT / "examples").glob("*.toml"))

MOST_CPU = 0.5
"""Of `import cadquery`."""

MOST_MB = 150.0


def measured(words: list[str], runs: int) -> tuple[float, float, str]:
    """Least CPU seconds, most memory in MB, and what came last on standard output."""
    best, held, said = float("inf"), 0.0, ""
    for _ in range(runs):
        with tempfile.TemporaryFile("w+") as out:
            process = subprocess.Popen(words, stdout=out, stderr=subprocess.DEVNULL, cwd=ROOT)
            _, status, usage = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            if process.returncode:
                raise SystemExit(f"{' '.join(words)}: exit {process.returncode}")
            out.seek(0)
            said = out.read()
        best = min(best, usage.ru_utime + usage.ru_stime)
        held = max(held, usage.ru_maxrss / 1024)
    return best, held, said


def main() -> int:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    kernel, held, _ = measured([sys.executable, "-c", "import cadquery"], runs)
    print(f"import cadquery {kernel:5.2f} s CPU, {held:4.0f} MB")
    passed = True
    for job in JOBS:
        words = [sys.executable, "-m", "planner", "check", str(job), "--json"]
        cpu, held, said = measured(words, runs)
        rows = {row["what"]: row["value"] for row in json.loads(said)["tables"]["search"]}
        many = rows["combinations of stock, reamers and threads"]
        good = cpu / kernel <= MOST_CPU and held <= MOST_MB
        passed &= good
        print(
            f"check {job.stem:<13} {many} combinations: {cpu:5.2f} s CPU, {cpu / kernel:4.2f} of it"
            f" (limit {MOST_CPU:g}), {held:4.0f} MB (limit {MOST_MB:g}) {'ok' if good else 'OVER'}"
        )
    return 0 if passed else 1


if __name__ == "__main__":
    sys.exit(main())
