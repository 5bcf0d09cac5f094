"""CPU of the commands against loading the CAD kernel, in the same run; prints ratios.

    python tests/benchmarks/bench_commands.py [RUNS]

Each figure is the least CPU time (user and system) of RUNS whole processes, 3 unless given; the
limit stands beside the ratio. The exit code is 1 when a limit is passed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
JOB = str(ROOT / "examples" / "bench-lathe.toml")


READINGS = """
accuracy = "0.005 mm"
reading = [
    {angle = 30, diameter = "50 mm"},
    {angle = 60, diameter = "50.001 mm"},
    {angle = 90, diameter = "50 mm"},
]
"""


def cpu_s(words: list[str], runs: int) -> float:
    """The least CPU time of a command over some runs, after one that is not counted."""
    best = float("inf")
    for run in range(runs + 1):
        process = subprocess.Popen(
            words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT
        )
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{' '.join(words)}: exit {process.returncode}")
        if run:
            best = min(best, usage.ru_utime + usage.ru_stime)
    return best


def main() -> int:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    pommel = [sys.executable, "-m", "planner"]
    kernel = cpu_s([sys.executable, "-c", "import cadquery"], runs)
    print(f"import cadquery              {kernel:6.2f} s CPU")
    passed = True
    with tempfile.TemporaryDirectory() as folder:
        readings = Path(folder) / "readings.toml"
        readings.write_text(READINGS, encoding="utf-8")
        kept = str(shutil.copy(JOB, folder))  # its record goes beside it
        commands = [
            ("--help", ["--help"], 0.25),
            ("sizes", ["sizes", JOB], 0.25),
            ("dial", ["dial", JOB], 0.25),
            ("schema", ["schema"], 0.25),
            ("check", ["check", JOB], 0.6),
            ("cutlist", ["cutlist", JOB], 0.4),
            ("route", ["route", JOB], 0.3),
            ("turn", ["turn", JOB], 0.4),
            ("correct", ["correct", kept, str(readings)], 0.2),
        ]
        for name, words, limit in commands:
            passed &= tell(name, cpu_s([*pommel, *words], runs), kernel, limit, "import cadquery")
        bare = cpu_s([sys.executable, str(ROOT / "tests/benchmarks/bare_parts.py"), folder], runs)
        print(f"bare script, six parts       {bare:6.2f} s CPU")
        built = cpu_s([*pommel, "build", JOB, "--out", str(Path(folder) / "package")], runs)
        passed &= tell("build", built, bare, 2.5, "bare script")
    return 0 if passed else 1


def tell(name: str, used_s: float, against_s: float, limit: float, what: str) -> bool:
    ratio = used_s / against_s
    verdict = "ok" if ratio <= limit else "OVER"
    print(f"{name:<28} {used_s:6.2f} s CPU  {ratio:5.2f} of {what} (limit {limit:g}) {verdict}")
    return ratio <= limit


if __name__ == "__main__":
    sys.exit(main())
