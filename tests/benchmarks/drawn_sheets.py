"""The sheets of a hundred jobs that were taken: proven, mutated, and looked through for overprinting.

    python tests/benchmarks/drawn_sheets.py                 # a hundred jobs, drawn by seed
    python tests/benchmarks/drawn_sheets.py --count 5       # the first five of them

Of every sheet: what its proof finds, how many of its sayings could be left out or said twice without
the proof noticing, what stands on what, its paper and scale, and in which share of the squares of 10 mm
that the data fields leave something is drawn. What was found goes, with the seed and
the commit, to drawn-sheets-results.json. Exit code 1 when a sheet is missing, unproven or overprinted.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "benchmarks")]

import numpy as np  # noqa: E402
from accepted import version  # noqa: E402
from drawn_jobs import texts  # noqa: E402
from sheet_faults import mutations, overlaps  # noqa: E402

from planner.drawing import frame  # noqa: E402
from planner.drawing.layout import sheet  # noqa: E402
from planner.drawing.model import Sheet  # noqa: E402
from planner.drawing.proof import faults  # noqa: E402
from planner.drawing.room import Room  # noqa: E402
from planner.drawing.scheme import scheme  # noqa: E402
from planner.drawing.sheets import fields  # noqa: E402
from planner.drawing.subjects import subjects  # noqa: E402
from planner.output.plan import Plan  # noqa: E402
from planner.solids import kernel, solid  # noqa: E402
from planner.words.findings import BadInput  # noqa: E402

RESULTS = Path(__file__).parent / "drawn-sheets-results.json"
SEED = 13


def share(sheet: Sheet) -> float:
    """In which part of the squares of 10 mm outside the data fields something is drawn."""
    space, block = frame.inside(sheet), frame.block(sheet)
    room = Room(space)
    room.take(sheet.items)
    taken = (room.lines + room.words) > 0
    high, wide = (n // 10 * 10 for n in taken.shape)
    squares = taken[:high, :wide].reshape(high // 10, 10, wide // 10, 10).any((1, 3))
    free = np.ones(squares.shape, bool)
    free[: int((block.top - space.low) / 10) + 1, int((block.left - space.left) / 10) :] = False
    return float(squares[free].mean())


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--count", metavar="N", type=int, default=100, help="jobs looked at")
    wanted = parser.parse_args()
    jobs = texts()
    names = sorted(jobs)
    random.Random(SEED).shuffle(names)
    kernel()
    papers: Counter[str] = Counter()
    used: list[float] = []
    missing: dict[str, str] = {}
    unproven: dict[str, list[str]] = {}
    printed: dict[str, list[str]] = {}
    unseen: list[str] = []
    done, refused, mutated, drawing_s, solids_s = 0, 0, 0, 0.0, 0.0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        for name in names:
            if done == wanted.count:
                break
            path.write_text(jobs[name], encoding="utf-8")
            try:
                plan = Plan(path)
                whole = plan.attachment
            except BadInput:
                refused += 1
                continue
            done += 1
            began = time.process_time()
            for part in whole.parts:
                solid(part, engraved=False)
            solids_s += time.process_time() - began
            found = subjects(whole)
            for number, subject in enumerate(found, 1):
                key = f"{name}: {subject.name}"
                began = time.process_time()
                try:
                    data = fields(subject, plan.job.numbers, number, len(found), name)
                    one = sheet(scheme(subject), data, plan.job.numbers)
                except Exception as fault:
                    missing[key] = f"{type(fault).__name__}: {fault}"[:200]
                    continue
                finally:
                    drawing_s += time.process_time() - began
                papers[f"{one.paper} {one.scale}"] += 1
                used.append(share(one))
                if wrong := faults(subject, one):
                    unproven[key] = wrong
                if over := list(overlaps(one)):
                    printed[key] = over
                for what, changed in mutations(one):
                    mutated += 1
                    if not faults(subject, changed):
                        unseen.append(f"{key}: {what}")
            print(name, done, len(missing), len(unproven), len(printed), len(unseen), flush=True)
    result = {
        "commit": version(ROOT),
        "seed": SEED,
        "jobs": done,
        "refused": refused,
        "sheets": sum(papers.values()),
        "papers": dict(papers.most_common()),
        "used": round(sum(used) / max(len(used), 1), 3),
        "missing": missing,
        "unproven": unproven,
        "overprinted": printed,
        "mutations": mutated,
        "unseen": unseen,
        "cpu_s of the sheets of a job": round(drawing_s / max(done, 1), 2),
        "cpu_s of its solids": round(solids_s / max(done, 1), 2),
    }
    RESULTS.write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")
    print(json.dumps({k: v for k, v in result.items() if not isinstance(v, dict | list)}))
    return int(bool(missing or unproven or printed or unseen))


if __name__ == "__main__":
    sys.exit(main())
