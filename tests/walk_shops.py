"""The shop that the hand-written routes are made in."""

from __future__ import annotations

from typing import Any

from jobs import changed

from planner.job.reading import job_from
from planner.job.tables import Job

MACHINES: dict[str, Any] = {
    "shop.machines": {
        "mill": {"speeds": [95, 180, 270, 500, 930, 1420]},
        "drill press": {"speeds": [280, 540, 950, 1700, 2800]},
        "milling slide": {},
        "welder": {},
    },
    "shop.reamers": [6, 8, 14],
    "lathe.jaw_reach": 0,  # not looked at: tests/walking/test_grip_deep.py does
}


def shop() -> Job:
    """A bench lathe with a mill, a drill press, a milling slide and a welder."""
    return job_from(changed("bench-lathe", **MACHINES), "job.toml")
