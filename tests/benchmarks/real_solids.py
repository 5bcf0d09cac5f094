"""The real solids of the jobs that were taken: swing, ten poses, walls and assembly of each.

    python tests/benchmarks/real_solids.py                # every tracked job; about ten minutes
    python tests/benchmarks/real_solids.py --each 10      # every tenth
    python tests/benchmarks/real_solids.py --minutes 5    # as many as can be begun in five minutes
    python tests/benchmarks/real_solids.py --orders 8     # taken apart: every eighth (six seconds each)

One process, job after job; what is done is kept in a file of the temporary folder by the program's
commit, so that a run that was cut short goes on. What was found goes, with the commit, to
real-solids-results.json. Exit code 1 when something stands out of the envelope, two things meet,
a wall is under the floor, or something cannot be taken out.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import tempfile
import time
from collections import defaultdict
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "benchmarks")]

from accepted import version  # noqa: E402
from drawn_jobs import texts  # noqa: E402
from real_order import order  # noqa: E402
from real_poses import meetings  # noqa: E402
from real_swing import known_mm, outlines, outside, reaches  # noqa: E402
from real_things import things_of  # noqa: E402
from real_walls import FLOOR_MM, walls  # noqa: E402

from parts.stop import USUAL_NECK_DEG  # noqa: E402
from planner.output.plan import Plan  # noqa: E402
from planner.sizing.requirements import REQUIREMENTS  # noqa: E402
from planner.words.findings import BadInput  # noqa: E402

RESULTS = Path(__file__).parent / "real-solids-results.json"
SWING_DEG = 172.0
KEPT_WALLS = 24
"""Walls of each job that are kept."""

CLAIMED_MM = 0.06
"""A wall is one that a requirement speaks of when it is no more than this under what that says."""


def looked_at(path: Path, apart: bool) -> dict[str, Any]:
    """Everything that is measured on one job. apart: whether it is taken apart, too."""
    plan = Plan(path)
    whole = plan.attachment
    things = things_of(whole)
    claims, known = outlines(whole, things), known_mm(things)
    found = walls(things)
    said = {r.what: float(r.value(whole.sizes)) for r in REQUIREMENTS if r.code == "thin-wall"}
    reached = reaches(whole, things, SWING_DEG, plan.job.lathe.chuck_diameter / 2)
    answer: dict[str, Any] = {
        "outside": [
            [one.name, round(one.by_mm, 3), [round(v, 2) for v in one.at]]
            for one in outside(things, claims)
        ],
        "beyond_known": [[one.name, round(one.by_mm, 3)] for one in outside(things, claims, known)],
        "reaches": [
            [
                r.what,
                round(r.said_mm + known.get(r.what.rpartition(":")[0], 0.0), 3),
                round(r.real_mm, 3),
            ]
            for r in reached
        ],
        "meet": [
            [m.one, m.other, m.swing_deg, round(m.tip_radius_mm, 2), round(m.volume_mm3, 3)]
            for m in meetings(whole, things)
            if m.swing_deg <= USUAL_NECK_DEG or m.other != "stops the swing at the neck"
        ],
        "walls": [[w.part, w.one, w.other, round(w.thickness_mm, 3)] for w in found[:KEPT_WALLS]],
        "said": {what: round(mm, 3) for what, mm in said.items()},
    }
    if apart:
        taken = order(whole, things)
        answer["order"] = [[list(one.names), list(one.along)] for one in taken.drawn]
        answer["stuck"] = [[name, list(by)] for name, by in taken.stuck]
    return answer


def run(names: list[str], every_order: int, minutes: float) -> dict[str, dict[str, Any]]:
    """What was found of each job, by its name; goes on where an earlier run of the same commit was.

    minutes: no job is begun after so many, and those that are left are left out.
    """
    end = time.monotonic() + 60 * minutes
    commit, jobs = version(ROOT), texts()
    mark = hashlib.sha256(str(ROOT).encode()).hexdigest()[:8]
    part = Path(tempfile.gettempdir()) / f"pommel-real-solids-{os.getuid()}-{mark}-{commit}.jsonl"
    done: dict[str, dict[str, Any]] = {}
    if part.exists() and not commit.endswith("+"):
        for line in part.read_text(encoding="utf-8").splitlines():
            one = json.loads(line)
            done[one["name"]] = one
    ordered = set(list(jobs)[::every_order]) if every_order else set()
    with tempfile.TemporaryDirectory() as folder, part.open("a" if done else "w") as file:
        path = Path(folder) / "job.toml"
        for name in names:
            if name in done and (name not in ordered or "order" in done[name]):
                continue
            if time.monotonic() > end:
                break
            path.write_text(jobs[name], encoding="utf-8")
            began = time.process_time()
            try:
                found = looked_at(path, name in ordered)
            except BadInput as problem:
                found = {"refused": sorted({one.code for one in problem.findings})}
            except Exception as fault:
                found = {"fault": f"{type(fault).__name__}: {fault}"[:300]}
            done[name] = {"name": name, **found, "cpu_s": round(time.process_time() - began, 2)}
            print(json.dumps(done[name]), file=file, flush=True)
    return {name: done[name] for name in names if name in done}


def gathered(found: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """All jobs together: how many have what, and the worst of each kind with its job."""
    solid = {name: one for name, one in found.items() if "walls" in one}
    result: dict[str, Any] = {
        "jobs": len(found),
        "refused": sorted(name for name, one in found.items() if "refused" in one),
        "faults": {name: one["fault"] for name, one in found.items() if "fault" in one},
    }

    def worst(key: str, of: Any, least: bool = False) -> dict[str, Any]:
        kinds: dict[str, list[tuple[float, str, Any]]] = defaultdict(list)
        for name, one in solid.items():
            for row in one[key]:
                if (picked := of(row, one)) is not None:
                    kinds[picked[0]].append((picked[1], name, row))
        return {
            kind: {
                "jobs": len({name for _, name, _ in rows}),
                "worst": [round((min if least else max)(rows)[0], 3)],
                "job": (min if least else max)(rows)[1],
                "there": (min if least else max)(rows)[2],
            }
            for kind, rows in sorted(kinds.items())
        }

    def pair(row: list[Any]) -> str:
        return f"{row[0]}: {plain(row[1])} / {plain(row[2])}"

    def claimed(row: list[Any], one: dict[str, Any]) -> bool:
        return any(
            -1e-3 <= row[3] - mm + CLAIMED_MM <= 2 * CLAIMED_MM for mm in one["said"].values()
        )

    result["outside"] = worst("outside", lambda row, _: (row[0], row[1]))
    result["outside beyond what is known"] = worst("beyond_known", lambda row, _: (row[0], row[1]))
    result["reaches short"] = worst(
        "reaches", lambda row, _: (row[0], row[2] - row[1]) if row[2] > row[1] + 0.01 else None
    )
    result["meet"] = worst("meet", lambda row, _: (f"{row[0]} and {row[1]}", row[4]))
    result["thinnest"] = worst("walls", lambda row, _: (pair(row), row[3]), least=True)
    result["under the floor"] = worst(
        "walls",
        lambda row, _: (pair(row), row[3]) if row[3] < FLOOR_MM - 1e-3 else None,
        least=True,
    )
    result["thin and in no requirement"] = worst(
        "walls",
        lambda row, one: (pair(row), row[3]) if row[3] < 2.0 and not claimed(row, one) else None,
        least=True,
    )
    apart = {name: one for name, one in solid.items() if "order" in one}
    result["taken apart"] = len(apart)
    result["stuck"] = {name: one["stuck"] for name, one in apart.items() if one["stuck"]}
    return result


def plain(name: str) -> str:
    """A face's name without where it lies, so that those of many jobs go together."""
    return (
        name.split(" at ")[0].split(" of ")[0] if " side at " in name or name[0] in "rh" else name
    )


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--each", metavar="N", type=int, default=1, help="every Nth job")
    parser.add_argument(
        "--orders", metavar="N", type=int, default=8, help="apart: every Nth; 0: none"
    )
    parser.add_argument(
        "--minutes", metavar="N", type=float, default=600.0, help="begin none after"
    )
    wanted = parser.parse_args()
    names = list(texts())[:: wanted.each]
    found = run(names, wanted.orders, wanted.minutes)
    result = gathered(found)
    thinnest = sorted(result["thinnest"].items(), key=lambda item: item[1]["worst"])
    result["thinnest"] = dict(thinnest[:40])
    for head in (
        "outside",
        "outside beyond what is known",
        "reaches short",
        "meet",
        "under the floor",
    ):
        print(f"\n{head}:")
        for kind, row in result[head].items():
            print(f"  {row['worst'][0]:10.3f}  {row['jobs']:3} jobs, worst {row['job']}  {kind}")
    print("\nthe ten thinnest walls, mm:")
    for kind, row in thinnest[:10]:
        print(f"  {row['worst'][0]:10.3f}  {row['jobs']:3} jobs, worst {row['job']}  {kind}")
    print("\nunder 2 mm and in no requirement:")
    for kind, row in result["thin and in no requirement"].items():
        print(f"  {row['worst'][0]:10.3f}  {row['jobs']:3} jobs, worst {row['job']}  {kind}")
    print(f"\ntaken apart {result['taken apart']}, stuck {result['stuck'] or 'none'}")
    print(f"refused {len(result['refused'])}, faults {result['faults'] or 'none'}")
    record = {"commit": version(ROOT)} | result
    RESULTS.write_text(json.dumps(record, indent=1) + "\n", encoding="utf-8")
    bad = (
        "outside beyond what is known",
        "reaches short",
        "meet",
        "under the floor",
        "stuck",
        "faults",
    )
    return int(any(result[key] for key in bad))


if __name__ == "__main__":
    sys.exit(main())
