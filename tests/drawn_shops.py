"""Shops drawn by seed: a user's job with other machines, other fittings of the lathe, other tools.

Each is one that could be: what is not drawn is as its job says or as a usual home shop has it
(planner.job.usual). Imported by route_digest and by benchmarks/walked_routes.py.
"""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

from planner.job.reading import job_from

KEPT = Path(__file__).parent / "benchmarks" / "accepted-jobs.json"
MACHINES: dict[str, dict[str, Any]] = {
    "mill": {"speeds": [95, 180, 270, 500, 930, 1420]},
    "drill press": {"speeds": [280, 540, 950, 1700, 2800]},
    "milling slide": {},
    "bandsaw": {},
    "grinder": {},
    "welder": {},
    "shaper": {},
    "rotary table": {},
    "torch table": {},
}
OFTEN = ("mill", "drill press", "welder", "grinder")
MEASURING = (
    *("depth_micrometer", "telescoping_gauges", "inside_micrometer", "gauge_blocks"),
    *("height_gauge", "dial_indicator", "v_blocks", "surface_plate"),
)
NOT_SAID = (
    *(
        "three_jaw_outside",
        "four_jaw_outside",
        "three_jaw_inside",
        "collets",
        "faceplate",
        "steady",
    ),
    *("spindle_bore", "chuck_bore", "chuck_depth", "between_centres", "centres", "change_gears"),
)
INCH_REAMERS = (
    ["1/4 in", "1/2 in"],
    ["3/8 in"],
    ["1/4 in", "5/16 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in", "1 in"],
)


@cache
def kept() -> dict[str, list[str]]:
    """The users' jobs, by name, as lines of TOML."""
    found: dict[str, list[str]] = json.loads(KEPT.read_text(encoding="utf-8"))["jobs"]
    return found


def drawn(seed: int) -> tuple[str, dict[str, Any]]:
    """A user's job in a shop drawn by seed: the job's name, and the job as read from TOML."""
    draw = random.Random(seed)
    name = draw.choice(sorted(kept()))
    data = tomllib.loads("\n".join(kept()[name]))
    shop = data.setdefault("shop", {})
    shop["machines"] = {
        machine: one
        for machine, one in MACHINES.items()
        if draw.random() < (0.5 if machine in OFTEN else 0.25)
    }
    if draw.random() < 0.5:
        shop["dividing_head_ratio"] = 40
    else:
        shop.pop("dividing_head_ratio", None)
    _fitted(data, draw)
    return name, data


def _mm(*sizes: float) -> list[str]:
    return [f"{round(size, 3)} mm" for size in sizes]


def _fitted(data: dict[str, Any], draw: random.Random) -> None:
    """Other fittings and tools."""
    inch = data.get("units") == "in"
    chuck = job_from(json.loads(json.dumps(data)), "job.toml").lathe.chuck_diameter
    lathe, shop = data["lathe"], data["shop"]

    def put(where: dict[str, Any], key: str, share: float, choices: Sequence[Any]) -> None:
        if draw.random() < share:
            where[key] = draw.choice(choices)

    for key in NOT_SAID:
        if draw.random() < 0.5:
            lathe.pop(key, None)
    least = [_mm(one, chuck * share) for one in (1, 2, 3, 5) for share in (0.6, 0.8, 0.95)]
    put(lathe, "three_jaw_outside", 0.3, least)
    put(lathe, "four_jaw_outside", 0.2, [[0, 0], _mm(8, chuck * 0.8)])
    put(lathe, "collets", 0.3, [_mm(4, 5, 6, 8, 10, 12, 16), _mm(3.175, 6.35, 9.525, 12.7)])
    put(lathe, "faceplate", 0.2, [0, *_mm(chuck * 1.2)])
    put(lathe, "steady", 0.3, [0, *_mm(chuck * 0.25, chuck * 0.6)])
    put(lathe, "spindle_bore", 0.3, _mm(10, 16, 20, 26, 38))
    put(lathe, "between_centres", 0.2, _mm(180, 250, 400, 700))
    put(lathe, "soft_jaws", 0.2, [True])
    put(lathe, "travelling_steady", 0.2, [False])
    put(lathe, "centres", 0.2, [["dead"], ["live"]])
    put(lathe, "tailstock_die_holder", 0.2, [False])
    put(lathe, "knurling_tool", 0.2, [False])
    gears = ([20, 30, 40, 50, 60], [24, 32, 40, 44, 48, 56, 64, 72, 80])
    put(lathe, "change_gears", 0.15, gears)
    put(shop, "tool_material", 0.2, ["carbide"])
    put(shop, "drills_to", 0.3, _mm(8, 10, 13, 16))
    put(shop, "drills", 0.3, [_mm(14, 18), _mm(16, 20, 25), _mm(12.7, 19.05)])
    metric = [_mm(6, 10), _mm(8), _mm(6, 8, 10, 12, 14, 16, 20, 25)]
    put(shop, "reamers", 0.3, INCH_REAMERS if inch else metric)
    put(shop, "end_mills", 0.2, [_mm(6), _mm(4, 6, 8, 10, 12), _mm(10, 16)])
    put(shop, "slitting_saws", 0.2, [_mm(1), _mm(1.6), _mm(2), _mm(0.8, 1.2)])
    put(shop, "boring_bars", 0.3, [_mm(6), _mm(6, 10), _mm(8, 12, 16), _mm(16)])
    if draw.random() < 0.3:
        shop["measuring"] = {one: draw.random() < 0.5 for one in MEASURING}
    put(shop, "dies", 0.2, [[], list(shop.get("taps", []))[:2]])
