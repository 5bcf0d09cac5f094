"""What the routes of some shops say, in short, as a tracked file: any change is noticed.

    python tests/route_digest.py          # makes tests/data/routes.txt anew, prints what changed: look
    python tests/route_digest.py job-057  # prints the whole of one route, to hold two versions together

It says nothing of whether a route is right: that each step can be held, reached and measured says the
walk (planner/walking), which shares nothing with the planner; sizes and limits other tests hold against
tables and the features. But where jaws close, how far out, in what order, by which tool of several that
would do, how many minutes: of that there is no truth outside the project, and a slip in it may still be
walked. Imported by tests/making/test_route_digest.py.
"""

from __future__ import annotations

import json
import sys
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

from making.shops import SHOPS, shop

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import Route, whole_route
from planner.sizing.apply import size_up

TRACKED = Path(__file__).with_name("data") / "routes.txt"
KEPT = Path(__file__).parent / "benchmarks" / "accepted-jobs.json"

MILL: dict[str, Any] = {"mill": {"speeds": [95, 180, 270, 500, 930, 1420]}}
PRESS: dict[str, Any] = {"drill press": {"speeds": [280, 540, 950, 1700, 2800]}}
SLIDE: dict[str, Any] = {"milling slide": {}}
DRAWN: dict[str, dict[str, Any]] = {
    "job-502": SLIDE,
    "job-511": MILL | {"grinder": {}, "welder": {}},
    "job-415": MILL | PRESS | SLIDE | {"grinder": {}},
    "job-154": SLIDE | {"bandsaw": {}, "grinder": {}},
    "job-309": PRESS | {"bandsaw": {}},
    "job-057": MILL,
    "job-001": {"bandsaw": {}, "welder": {}, "shaper": {}, "rotary table": {}, "torch table": {}},
}
"""Users' jobs with the machines of other shops: of sixty, those whose routes have most that others have
not."""

IDLE = ("number", "setup", "needs")
"""What moves with every step before."""


@cache
def route_of(name: str) -> Route:
    """The route of one of the shops, or of a user's job in its own."""
    if name in SHOPS:
        return shop(name)[2]
    data = tomllib.loads("\n".join(_jobs()[name]))
    shop_ = data.setdefault("shop", {})
    shop_["machines"] = DRAWN[name]
    shop_.pop("dividing_head_ratio", None)
    job = job_from(data, "job.toml")
    return whole_route(attachment(size_up(job, "job.toml").sizes), job)


@cache
def _jobs() -> dict[str, list[str]]:
    found: dict[str, list[str]] = json.loads(KEPT.read_text(encoding="utf-8"))["jobs"]
    return found


def flat(value: Any) -> str:
    """A record in one line, what is nothing left out."""
    if isinstance(value, Mapping):
        kept = {
            k: flat(v)
            for k, v in value.items()
            if k not in IDLE and v not in (None, "", [], {}, False)
        }
        return "{" + " ".join(f"{k}={v}" for k, v in kept.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(flat, value)) + "]"
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def lines(route: Route) -> Iterator[list[str]]:
    """Every set-up with its steps, in order, then what is beside them; each the lines of one piece."""
    steps: dict[int, list[dict[str, Any]]] = {}
    for one in route.operation_records():
        steps.setdefault(one["setup"], []).append(one)
    for one in route.setup_records():
        name = f"{one['part']} {one['piece']}".strip()
        found = [f"{one['number']} {name}, {one['machine']}", flat(one)]
        for step in steps.pop(one["number"], []):
            after = [step["number"] - number for number in step["needs"]]
            found.append(f"  {flat(step)} after {after}")
        yield found
    assert not steps
    for name in ("aids", "assumed", "missing", "order"):
        yield [name, *(str(row) for row in getattr(route, name))]


def short(piece: list[str]) -> str:
    """The first line of a piece, how many follow, and a sum of them all."""
    return f"{piece[0]}: {len(piece) - 1}, {sha256(chr(10).join(piece).encode()).hexdigest()[:10]}"


DIGESTS = (*SHOPS, *DRAWN)


def tracked() -> dict[str, list[str]]:
    """The pieces of each route, in short, as they were when they were last looked over."""
    found: dict[str, list[str]] = {}
    for line in TRACKED.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            own = found.setdefault(line[3:], [])
        else:
            own.append(line)
    return found


def differences(was: list[str], now: list[list[str]]) -> list[str]:
    """What is gone, what is new, in full, and whether the order is another. was: in short."""
    new = [short(piece) for piece in now]
    found = [f"- {line}" for line in was if line not in new]
    found += [
        f"+ {chr(10).join(one)}" for one, line in zip(now, new, strict=True) if line not in was
    ]
    return found or ([] if was == new else ["the same in another order"])


def main() -> None:
    """Write the file and print how it differs."""
    for name in sys.argv[1:]:
        print("\n".join("\n".join(piece) for piece in lines(route_of(name))))
    if sys.argv[1:]:
        return
    old = tracked() if TRACKED.exists() else {}
    written = []
    for name in DIGESTS:
        now = list(lines(route_of(name)))
        for line in differences(old.get(name, []), now):
            print(f"{name}: {line}")
        written += [f"## {name}", *map(short, now)]
    TRACKED.write_text("\n".join(written) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
