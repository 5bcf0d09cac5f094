"""How many jobs that the program once took it still takes, and what became of them.

    python tests/benchmarks/accepted.py                 # the tracked jobs by this version
    python tests/benchmarks/accepted.py --refused 200   # and as many that were refused: taken now?
    python tests/benchmarks/accepted.py --search        # and each with the search of `check`
    python tests/benchmarks/accepted.py --draw FOLDER   # once: the set anew, by the version there

A job is taken when its sizes are chosen and no finding of `check` refuses it (a warning does not). The
jobs and what was made of them before stand in accepted-jobs.json; what this version makes of them goes,
with its commit, to accepted-results.json. One process works through the jobs, about a minute for all;
one that was cut short goes on where it was, as long as the commit is the same and nothing is changed.
Exit code 1 when less than the goal is reached: 95 of 100 still taken, no largest ball of a lathe
smaller by more than a twentieth.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import statistics
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from drawn_jobs import JOBS, KEPT, SEED, drawn, kept, texts

ROOT, HERE = Path(__file__).parents[2], Path(__file__).parent
RESULTS = HERE / "accepted-results.json"
STILL, FALL = 0.95, 0.05
"""The goals: the share that is still taken, and by how much a largest ball may fall."""

NAME = "pommel-accepted"
"""What the file is called that a run keeps its answers in until it is done."""

SHOWN = 30
"""Jobs of the table, evenly spread over the set."""

Answer = dict[str, Any]


def asked_of(tree: Path, jobs: Iterable[tuple[str, str]], search: bool = False) -> Iterator[Answer]:
    """What the program in a folder makes of each job, one after another as they come."""
    words = [sys.executable, str(HERE / "judge_jobs.py")]
    env = {**os.environ, "PYTHONPATH": str(tree)}
    with subprocess.Popen(
        words, cwd=tree, env=env, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as judge:
        assert judge.stdin and judge.stdout
        for name, text in jobs:
            asked = {"name": name, "text": text, "largest": True, "search": search}
            judge.stdin.write(json.dumps(asked) + "\n")
            judge.stdin.flush()
            yield json.loads(judge.stdout.readline())
        judge.stdin.close()


def version(tree: Path) -> str:
    """The last commit of a folder's program, with a + when its files differ from it."""

    def git(*words: str) -> str:
        run = ["git", "-C", str(tree), *words]
        return subprocess.run(run, capture_output=True, text=True, check=True).stdout.strip()

    changed = git("status", "--porcelain", "--", "parts", "planner")
    last = git("log", "-1", "--format=%h", "--", "parts", "planner")
    return last + ("+" if changed else "")


def draw(tree: Path) -> None:
    """Draw until enough are taken, and keep those and what was made of them."""
    jobs: dict[str, list[str]] = {}
    before: dict[str, Answer] = {}
    refused: Counter[str] = Counter()
    number, source = 0, dict[str, str]()

    def remembered() -> Iterator[tuple[str, str]]:
        for name, text in drawn():
            source[name] = text
            yield name, text

    for answer in asked_of(tree, remembered()):
        number, name = number + 1, answer.pop("name")
        del answer["cpu_s"]
        if answer["accepted"]:
            jobs[name], before[name] = source[name].splitlines(), answer
        else:
            refused.update({one["code"] for one in answer["refused"]})
        if len(jobs) == JOBS:
            break
    whole = {
        "seed": SEED, "commit": version(tree), "drawn": number, "refused": dict(refused.most_common()),
        "jobs": jobs, "before": before,
    }  # fmt: skip
    KEPT.write_text(json.dumps(whole, indent=1) + "\n", encoding="utf-8")
    print(f"{number} drawn, {len(jobs)} taken; refused {dict(refused.most_common())}")


def judged_now(jobs: dict[str, str], commit: str, search: bool) -> dict[str, Answer]:
    """What this version makes of the jobs; what the results hold of the same commit is taken over."""
    done: dict[str, Answer] = {}
    mark = hashlib.sha256(str(ROOT).encode()).hexdigest()[:8]
    part = (
        Path(tempfile.gettempdir())
        / f"{NAME}-{os.getuid()}-{mark}-{commit}{'-search' * search}.jsonl"
    )
    if not commit.endswith("+") and part.exists():
        for line in part.read_text(encoding="utf-8").splitlines():
            answer = json.loads(line)
            done[answer["name"]] = answer
    left = [(name, text) for name, text in jobs.items() if name not in done]
    with part.open("a" if done else "w", encoding="utf-8") as file:
        for answer in asked_of(ROOT, left, search):
            print(json.dumps(answer), file=file, flush=True)
            done[answer["name"]] = answer
    return {
        name: {k: v for k, v in done[name].items() if k not in ("name", "cpu_s")} for name in jobs
    }


def told(finding: dict[str, str]) -> str:
    """A finding on one line."""
    parts = (finding["severity"], finding["code"], finding["key"], finding["value"])
    return " | ".join([part for part in parts if part] + [finding["limit"]])


def ratio(now: Answer, before: Answer, key: str) -> float | None:
    """A figure now over before, where both have one."""
    return now[key] / before[key] if now.get(key) and before.get(key) else None


def table(before: dict[str, Answer], now: dict[str, Answer]) -> Iterator[str]:
    """Some of the jobs, before and after; mm, kg."""
    yield "job       largest ball      blanks kg        springs mm        pieces   bought   taken"
    every = max(1, len(before) // SHOWN)
    for name in list(before)[::every][:SHOWN]:
        was, new = before[name], now[name]

        def pair(key: str, form: str, was: Answer = was, new: Answer = new) -> str:
            return " ".join(f"{one[key]:{form}}" if key in one else "    -" for one in (was, new))

        figures = (
            pair("largest_mm", "7.1f"), pair("mass_kg", "7.3f"), pair("deflection_mm", "8.4f"),
            pair("pieces", "3d"), pair("bought", "3d"),
        )  # fmt: skip
        yield f"{name}  " + "  ".join(figures) + ("  yes" if new["accepted"] else "  NO")


def summary(before: dict[str, Answer], now: dict[str, Answer]) -> Answer:
    """The figures by which versions are compared."""
    still = [name for name in before if now[name]["accepted"]]
    found: Answer = {"jobs": len(before), "still": len(still)}
    for key in ("largest_mm", "mass_kg", "deflection_mm", "pieces", "bought"):
        ratios = [r for name in before if (r := ratio(now[name], before[name], key)) is not None]
        if ratios:
            found[f"{key}_ratio"] = {
                "least": round(min(ratios), 4),
                "middle": round(statistics.median(ratios), 4),
                "greatest": round(max(ratios), 4),
            }
    return found


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--draw", metavar="FOLDER", type=Path, help="the set anew, by that version")
    parser.add_argument("--refused", metavar="N", type=int, default=0, help="refused before, too")
    parser.add_argument("--search", action="store_true", help="let the check search, too")
    wanted = parser.parse_args()
    if wanted.draw:
        draw(wanted.draw.resolve())
        return 0
    whole, commit = kept(), version(ROOT)
    before = whole["before"]
    now = judged_now(texts(), commit, wanted.search)
    print("\n".join(table(before, now)))
    found = summary(before, now)
    lost = {name: now[name]["refused"] for name in before if not now[name]["accepted"]}
    for name, why in lost.items():
        print(f"\n{name} is refused now:")
        print("\n".join(f"  {told(one)}" for one in why))
    warned = Counter(
        code for name in before for code in {*now[name]["warnings"]} - {*before[name]["warnings"]}
    )
    smaller = {
        name: (before[name]["largest_mm"], now[name].get("largest_mm", 0.0))
        for name in before
        if now[name].get("largest_mm", 0.0) < (1 - FALL) * before[name]["largest_mm"]
    }
    share = found["still"] / found["jobs"]
    print(f"\nstill taken: {found['still']} of {found['jobs']}, {share:.1%} (goal {STILL:.0%})")
    print(
        f"codes of the refusals: {dict(Counter(f['code'] for why in lost.values() for f in why))}"
    )
    print(f"warnings that were not there before: {dict(warned)}")
    for key, value in found.items():
        if key.endswith("_ratio"):
            print(f"{key:20} {value}")
    print(f"largest ball smaller by more than {FALL:.0%}: {len(smaller)} of {len(before)} lathes")
    for name, (was, new) in smaller.items():
        print(f"  {name}: {was:g} mm, now {new:g} mm")
    if wanted.search:
        faults = {name: a["search_fault"] for name, a in now.items() if "search_fault" in a}
        found["search_faults"] = faults
        print(f"the search of the check fails in {len(faults)}: {faults}")
    if wanted.refused:
        others = ((n, t) for n, t in islice(drawn(), whole["drawn"]) if n not in before)
        taken = [a["accepted"] for a in asked_of(ROOT, islice(others, wanted.refused))]
        found["refused_before"], found["refused_taken_now"] = len(taken), sum(taken)
        print(f"of {len(taken)} refused before, {sum(taken)} are taken now")
    record = {"commit": commit, "before": whole["commit"], "seed": SEED} | found
    record |= {"new_warnings": dict(warned), "smaller_ball": smaller, "refused": lost, "now": now}
    RESULTS.write_text(json.dumps(record, indent=1) + "\n", encoding="utf-8")
    return 0 if share >= STILL and not smaller else 1


if __name__ == "__main__":
    sys.exit(main())
