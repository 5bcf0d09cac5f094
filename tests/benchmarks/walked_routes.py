"""Routes of users' jobs in shops drawn by seed, each walked: what is refused, and why.

    python tests/benchmarks/walked_routes.py --jobs 60 --seed 7          # prints what is refused
    python tests/benchmarks/walked_routes.py --jobs 60 --seed 7 --write  # and keeps the counts

The jobs are those of accepted-jobs.json, their shops drawn by seed (tests/drawn_shops.py): machines,
fittings of the lathe, tools, gauges. Results, with seed and commit, go to walked-routes-results.json.
Exit code 1 where anything is refused.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

ROOT, HERE = Path(__file__).parents[2], Path(__file__).parent
sys.path[:0] = [str(ROOT), str(HERE.parent)]

from drawn_shops import drawn  # noqa: E402

from parts.attachment import attachment  # noqa: E402
from planner.job.reading import job_from  # noqa: E402
from planner.making.route import whole_route  # noqa: E402
from planner.sizing.apply import size_up  # noqa: E402
from planner.stock.aidpieces import aid_records  # noqa: E402
from planner.walking.aided import aided  # noqa: E402
from planner.walking.walk import walk  # noqa: E402
from planner.words.findings import BadInput  # noqa: E402

RESULTS = HERE / "walked-routes-results.json"


def main() -> int:
    """Draw, plan, walk, tell."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--jobs", type=int, default=40)
    ask.add_argument("--seed", type=int, default=7)
    ask.add_argument("--write", action="store_true")
    asked = ask.parse_args()
    codes: Counter[str] = Counter()
    walked = refused = 0
    steps: list[int] = []
    cpu: list[float] = []
    for number in range(asked.seed * 10_000, asked.seed * 10_000 + asked.jobs):
        name, data = drawn(number)
        shop = ", ".join(data["shop"]["machines"])
        try:
            job = job_from(data, f"job {number}")
            whole = attachment(size_up(job, f"job {number}").sizes)
        except BadInput:
            continue
        route = whole_route(whole, job)
        setups, operations = route.setup_records(), route.operation_records()
        before = time.process_time()
        steps_said = whole.parts, job, setups, operations
        found = walk(*steps_said, f"job {number}", placed=whole.placed)
        found += aided(*steps_said, aid_records(route.aids, job), f"job {number}")
        cpu.append(time.process_time() - before)
        steps.append(len(operations))
        walked += 1
        refused += bool(found)
        codes.update(one.code for one in found)
        if found:
            print(f"job {number}, {name}; {shop}: {len(operations)} steps")
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
