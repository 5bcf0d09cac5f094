"""Six shops that a route must be right for, as changes of the examples."""

from __future__ import annotations

from functools import cache
from typing import Any

from jobs import changed

from parts.attachment import Attachment, attachment
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.route import Route, whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk
from planner.words.findings import Finding

BARE_LATHE = {"shop.machines": {}, "shop.dividing_head_ratio": None}
ALUMINIUM = {f"materials.{key}": "6082-T6" for key in ("structure", "shaft")}

SHOPS: dict[str, tuple[str, dict[str, Any]]] = {
    "no mill": (
        "bench-lathe",
        {
            "shop.machines": {
                "drill press": {"speeds": [280, 540, 950, 1700, 2800]},
                "grinder": {},
                "welder": {"process": "MIG"},
            },
            "shop.dividing_head_ratio": None,
        },
    ),
    "no welder": (
        "bench-lathe",
        {
            "shop.machines": {
                "mill": {"speeds": [95, 180, 270, 500, 930, 1420]},
                "drill press": {"speeds": [280, 540, 950, 1700, 2800]},
                "grinder": {},
            }
        },
    ),
    "everything": (
        "engine-lathe",
        {
            "shop.slitting_saws": ["1 mm", "1.6 mm", "2 mm"],
            "shop.measuring": {"height_gauge": True},
        },
    ),
    "a school": ("inch-lathe", {"attachment.quantity": 12}),
    "inch, no dividing head": ("inch-lathe", {"shop.dividing_head_ratio": None}),
    "aluminium": ("bench-lathe", ALUMINIUM),
    "a lathe alone": ("bench-lathe", BARE_LATHE),
}


_MADE: dict[str, tuple[Job, Attachment, Route]] = {}


def of(example: str = "bench-lathe", **changes: Any) -> tuple[Job, Attachment, Route]:
    """A job, its attachment and its route, made once for all tests: none of them can be changed."""
    key = f"{example} {sorted(changes.items())!r}"
    if key not in _MADE:
        job = job_from(changed(example, **changes), "job.toml")
        whole = attachment(size_up(job, "job.toml").sizes)
        _MADE[key] = job, whole, whole_route(whole, job)
    return _MADE[key]


_WALKED: dict[str, tuple[Finding, ...]] = {}


def walked_whole(example: str = "bench-lathe", **changes: Any) -> tuple[Finding, ...]:
    """What a walk finds in the route of ``of``, once for all tests."""
    key = f"{example} {sorted(changes.items())!r}"
    if key not in _WALKED:
        job, whole, route = of(example, **changes)
        records = route.setup_records(), route.operation_records()
        _WALKED[key] = walk(whole.parts, job, *records, placed=whole.placed)
    return _WALKED[key]


@cache
def shop(name: str) -> tuple[Job, Attachment, Route]:
    """The route of one of the shops; each worked out once."""
    example, changes = SHOPS[name]
    return of(example, **changes)
