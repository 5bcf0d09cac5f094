"""Routes of users' jobs in shops drawn by seed, each walked: what is refused, and why.

    python tests/benchmarks/walked_routes.py --jobs 60 --seed 7          # prints what is refused
    python tests/benchmarks/walked_routes.py --jobs 60 --seed 7 --write  # and keeps the counts

The jobs are those of accepted-jobs.json. A shop is drawn for each: any of mill, drill press, milling
slide, bandsaw, grinder, welder and dividing head may be there or not. Results, with seed and commit, go
to walked-routes-results.json. Exit code 1 where anything is refused.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import time
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

ROOT, HERE = Path(__file__).parents[2], Path(__file__).parent
sys.path[:0] = [str(ROOT), str(HERE)]

from parts.attachment import attachment  # noqa: E402
from planner.job.reading import job_from  # noqa: E402
from planner.making.route import whole_route  # noqa: E402
from planner.sizing.apply import size_up  # noqa: E402
from planner.walking.walk import walk  # noqa: E402
from planner.words.findings import BadInput  # noqa: E402

RESULTS = HERE / "walked-routes-results.json"
MACHINES: dict[str, dict[str, Any]] = {
    "mill": {"speeds": [95, 180, 270, 500, 930, 1420]},
    "drill press": {"speeds": [280, 540, 950, 1700, 2800]},
    "milling slide": {},
    "bandsaw": {},
    "grinder": {},
    "welder": {},
}


def drawn_shop(job: dict[str, Any], draw: random.Random) -> str:
    """Give a job another shop; returns it in words."""
    shop = job.setdefault("shop", {})
    shop["machines"] = {name: one for name, one in MACHINES.items() if draw.random() < 0.5}
    if draw.random() < 0.5:
        shop["dividing_head_ratio"] = 40
    else:
        shop.pop("dividing_head_ratio", None)
    return ", ".join(
        [*shop["machines"], *(["dividing head"] if "dividing_head_ratio" in shop else [])]
    )


def main() -> int:
    """Draw, plan, walk, tell."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--jobs", type=int, default=40)
    ask.add_argument("--seed", type=int, default=7)
    ask.add_argument("--write", action="store_true")
    asked = ask.parse_args()
    draw = random.Random(asked.seed)
    kept = json.loads((HERE / "accepted-jobs.json").read_text(encoding="utf-8"))
    texts = ["\n".join(lines) for lines in kept["jobs"].values()]
    codes: Counter[str] = Counter()
    walked = refused = 0
    steps: list[int] = []
    cpu: list[float] = []
    for number in draw.sample(range(len(texts)), min(asked.jobs, len(texts))):
        data = tomllib.loads(texts[number])
        shop = drawn_shop(data, draw)
        try:
            job = job_from(data, f"job {number}")
            whole = attachment(size_up(job, f"job {number}").sizes)
        except BadInput:
            continue
        route = whole_route(whole, job)
        setups, operations = route.setup_records(), route.operation_records()
        before = time.process_time()
        found = walk(whole.parts, job, setups, operations, f"job {number}")
        cpu.append(time.process_time() - before)
        steps.append(len(operations))
        walked += 1
        refused += bool(found)
        codes.update(one.code for one in found)
        if found:
            print(f"job {number}; {shop}: {len(operations)} steps")
            by_step = {str(one["number"]): one for one in operations}
            for one in found:
                step = by_step.get(one.key.split()[-1], {}) if one.key.startswith("step") else {}
                what = " ".join(
                    str(step.get(key, "")) for key in ("part", "piece", "kind", "feature")
                )
                print(f"    {one.code} {one.key} {what}: {one.value}: {one.limit}")
    print(f"{walked} routes walked, {refused} refused; {dict(codes)}")
    if cpu:
        print(f"{sum(cpu) / len(cpu):.3f} s CPU and {sum(steps) / len(steps):.0f} steps a route")
    if asked.write:
        commit = subprocess.run(
            ["git", "rev-parse", "--short", "HEAD"],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        results = {
            "seed": asked.seed,
            "commit": commit,
            "walked": walked,
            "refused": refused,
            "codes": dict(sorted(codes.items())),
        }
        RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")
    return 1 if refused else 0


if __name__ == "__main__":
    sys.exit(main())
