"""CPU of building again against a whole build, in the same run; prints ratios.

    python tests/benchmarks/bench_build.py [RUNS]

Each figure is the least CPU time (user and system) of RUNS whole processes, 3 unless given. The limit
of an unchanged job is 0.05 of a whole build; after a change of prices no solid is made, and what is
left is the plan. The exit code is 1 when the limit is passed.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
JOB = ROOT / "examples" / "bench-lathe.toml"
UNCHANGED_LIMIT = 0.05


def cpu_s(*words: str) -> float:
    """The CPU time of one build."""
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "build", *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        cwd=ROOT,
    )
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"build {' '.join(words)}: exit {process.returncode}")
    return usage.ru_utime + usage.ru_stime


def main() -> int:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    with tempfile.TemporaryDirectory() as folder:
        job, out = Path(folder) / "job.toml", str(Path(folder) / "package")
        text = JOB.read_text(encoding="utf-8")

        def priced(turn: int) -> None:
            """The job with other prices, each turn others."""
            job.write_text(re.sub(r"(price\w*) = ", rf"\1 = {turn + 1}", text), encoding="utf-8")

        priced(0)
        whole = min(cpu_s(str(job), "--out", out, "--fresh") for _ in range(runs))
        unchanged = min(cpu_s(str(job), "--out", out) for _ in range(runs))
        prices = []
        for turn in range(1, runs + 1):
            priced(turn)
            prices.append(cpu_s(str(job), "--out", out))
    print(f"whole build      {whole:6.2f} s CPU")
    verdict = "ok" if unchanged <= UNCHANGED_LIMIT * whole else "OVER"
    print(
        f"unchanged        {unchanged:6.2f} s CPU  {unchanged / whole:5.3f} of a whole build"
        f" (limit {UNCHANGED_LIMIT:g}) {verdict}"
    )
    print(f"prices only      {min(prices):6.2f} s CPU  {min(prices) / whole:5.3f} of a whole build")
    return 0 if verdict == "ok" else 1


if __name__ == "__main__":
    sys.exit(main())
