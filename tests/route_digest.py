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

import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

from digests import Piece, flat, make_anew
from drawn_shops import drawn, kept
from making.shops import SHOPS, shop

from parts.attachment import Attachment, attachment
from parts.part import every_feature
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.callouts import callout
from planner.making.outfit import outfit
from planner.making.route import Route, whole_route
from planner.sizing.apply import size_up

TRACKED = Path(__file__).with_name("data") / "routes.txt"

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

KITS = (0, 3, 7, 12, 20, 34, 47, 55)
"""Shops of tests/drawn_shops.py, by their seed: other fittings and tools than a usual shop has."""

IDLE = ("number", "setup", "needs")
"""What moves with every step before."""


@cache
def made_of(name: str) -> tuple[Job, Attachment, Route]:
    """A job, its attachment and its route: of one of the shops, or a user's job in another."""
    if name in SHOPS:
        return shop(name)
    if name.startswith("kit "):
        return _planned(drawn(int(name.removeprefix("kit ")))[1])
    data = tomllib.loads("\n".join(kept()[name]))
    shop_ = data.setdefault("shop", {})
    shop_["machines"] = DRAWN[name]
    shop_.pop("dividing_head_ratio", None)
    return _planned(data)


def _planned(data: dict[str, Any]) -> tuple[Job, Attachment, Route]:
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    return job, whole, whole_route(whole, job)


def lines(job: Job, whole: Attachment, route: Route) -> Iterator[Piece]:
    """Every set-up with its steps, in order, then what is beside them; each the lines of one piece."""
    steps: dict[int, list[dict[str, Any]]] = {}
    for one in route.operation_records():
        steps.setdefault(one["setup"], []).append(one)
    for one in route.setup_records():
        name = f"{one['part']} {one['piece']}".strip()
        found = [f"{one['number']} {name}, {one['machine']}", flat(one, IDLE)]
        for step in steps.pop(one["number"], []):
            after = [step["number"] - number for number in step["needs"]]
            found.append(f"  {flat(step, IDLE)} after {after}")
        yield found
    assert not steps
    for name in ("aids", "assumed", "missing", "order"):
        yield [name, *(str(row) for row in getattr(route, name))]
    yield [
        f"{route.changes} changes of machine, at least {route.least_changes};"
        f" at least {route.least_setups} set-ups"
    ]
    yield ["outfit", *(str(one) for one in outfit(route, job))]
    named = ((part.name, one) for part in whole.parts for _, one in every_feature(part))
    yield [
        "call-outs",
        *(f"{part}, {one.name}: {callout(one, job.numbers)}" for part, one in named),
    ]


DIGESTS = (*SHOPS, *DRAWN, *(f"kit {seed}" for seed in KITS))


if __name__ == "__main__":
    make_anew(TRACKED, DIGESTS, lambda name: lines(*made_of(name)), sys.argv[1:])
