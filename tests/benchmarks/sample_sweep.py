"""Random balls against sampled points of what swings; prints a JSON report.

    python tests/benchmarks/sample_sweep.py --seed 11 --count 200 > tests/benchmarks/sweep-samples.json

Counts balls where something comes nearer to the work than it may, and how many of them notice a sweep
longer by half a degree, a relief or a stick-out shorter by half a millimetre (tests/sweep_cases.py).
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from sweep_cases import complaints, governed, random_cases  # noqa: E402


def main() -> None:
    """Print the report."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--seed", type=int, default=11)
    asked.add_argument("--count", type=int, default=200)
    given = asked.parse_args()
    cases = list(random_cases(given.seed, given.count))
    whole = [case for case in cases if case.found.ball.behind]
    led = [case for case in cases if governed(case)]
    commit = subprocess.run(
        ["git", "rev-parse", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.strip()
    report = {
        "seed": given.seed,
        "commit": commit,
        "balls": len(cases),
        "attachments": len({case.made.sizes for case in cases}),
        "ended_by": dict(Counter(case.found.end_limit for case in cases)),
        "stick_out_by": dict(Counter(case.found.stick_out_by.name for case in cases)),
        "too_near": sum(1 for case in cases if complaints(case)),
        "sweep_longer": [sum(1 for c in whole if complaints(c, longer_deg=0.5)), len(whole)],
        "relief_shorter": [sum(1 for c in led if complaints(c, relief_mm=0.5)), len(led)],
        "stick_out_shorter": [sum(1 for c in cases if complaints(c, out_mm=0.5)), len(cases)],
    }
    print(json.dumps(report, indent=1))


if __name__ == "__main__":
    main()
