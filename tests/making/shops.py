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


def of(example: str = "bench-lathe", **changes: Any) -> tuple[Job, Attachment, Route]:
    """A job, its attachment and its route."""
    job = job_from(changed(example, **changes), "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    return job, whole, whole_route(whole, job)


@cache
def shop(name: str) -> tuple[Job, Attachment, Route]:
    """The route of one of the shops; each worked out once."""
    example, changes = SHOPS[name]
    return of(example, **changes)
