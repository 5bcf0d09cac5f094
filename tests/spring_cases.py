"""The attachments whose spring is held against elements, and what a record of them is good for."""

from __future__ import annotations

import hashlib
import random
from typing import Any

from jobs import changed
from msgspec.structs import fields

from parts.sizes import Sizes
from parts.standard.sections import Section
from parts.tool import nose_radius_mm
from planner.checking.strength import Load
from planner.checking.strength.report import strength_report
from planner.job.reading import job_from
from planner.sizing.apply import size_up
from planner.words.findings import BadInput

SEED = 11

SWINGS_DEG = {"nose": 0.0, "top": 90.0, "neck": 150.0}
"""Where the tip is held against elements."""

UNSEEN = (
    "series",
    "handle",
    "knob",
    "dial",
    "feed",
    "screw",
    "tool_screw",
    "clearance",
    "spindle_over_cross",
    "index",
    "lever",
    "nut_",
    "stop_",
    "drag",
    "post_depth",
    "shank_length",
)
"""Sizes, by how their names begin, of what is not meshed."""


class Moved(Sizes, frozen=True):
    """Sizes whose tool post stands so far behind the tube, the shank with or without a second bar."""

    post_behind_mm: float = 0.0
    doubling_stock: Section | None = None

    @property
    def post_front_x_mm(self) -> float:
        """Where the tool post begins."""
        return self.thrust_x_mm - self.housing_length_mm - self.post_behind_mm


def moved(s: Sizes, behind_mm: float, doubling: Section | None = None) -> Moved:
    """The same sizes with the tool post elsewhere."""
    same = {f.name: getattr(s, f.name) for f in fields(Sizes) if f.name != "doubling_stock"}
    return Moved(**same, post_behind_mm=behind_mm, doubling_stock=doubling)


def lathe(ball: float, seat: float, shank: float, over: float) -> dict[str, Any]:
    """Changes to the bench lathe's job that make another lathe of it, with no stock of its own."""
    return {
        **{f"lathe.{key}": None for key in ("post_nearest", "post_farthest", "post_to_jaws")},
        "lathe.spindle_over_seat": seat,
        "lathe.spindle_over_cross_slide": over,
        "tool_post": {"largest_shank": shank, "stands_out": 1.5},
        "attachment.max_ball_diameter": ball,
        "shop": {"dividing_head_ratio": 40},
    }


def cases() -> dict[str, tuple[Sizes, Load]]:
    """Sizes and load by name: the examples, about the smallest and largest accepted, one at random.

    Of those with a plate between tube and shank one that stands tall on a low shank, and one on a
    shank as thin as is accepted under it.
    And the examples with the tool post beside the pivot's nut and behind it, and behind it with a
    second bar of the shank's own square on top of the shank.
    """
    jobs = {
        "bench": changed("bench-lathe"),
        "engine": changed("engine-lathe"),
        "inch": changed("inch-lathe"),
        "smallest": changed("bench-lathe", **lathe(20.0, 12.0, 8.0, 44.0)),
        "cheek": changed("bench-lathe", **lathe(60.0, 30.0, 16.0, 90.0)),
        "tall": changed("bench-lathe", **lathe(77.5, 72.8, 32.0, 129.0)),
        "thin": changed("bench-lathe", **lathe(54.0, 14.9, 8.0, 74.6)),
        "largest": changed("bench-lathe", **lathe(150.0, 50.0, 40.0, 205.0)),
    }
    found = {name: _sized(data) for name, data in jobs.items()}
    found["random"] = _random()
    for name in ("bench", "engine", "inch"):
        s, load = found[name]
        behind = s.thread_run_mm + 1.0
        found[f"{name}-{'behind' if s.beside_nut else 'beside'}"] = (
            moved(s, behind if s.beside_nut else 1.0),
            load,
        )
        if name != "inch":  # of that solid no mesh comes out sound
            found[f"{name}-doubled"] = (moved(s, behind, s.shank_stock), load)
    return found


def _sized(data: dict[str, Any]) -> tuple[Sizes, Load]:
    job = job_from(data, "job.toml")
    s = size_up(job, "job.toml").sizes
    return s, strength_report(s, job, nose_radius_mm(s)).load


def _random() -> tuple[Sizes, Load]:
    """The first lathe drawn for which there is an attachment."""
    chance = random.Random(SEED)
    while True:
        ball = chance.uniform(25, 110)
        shank = chance.choice((10.0, 12.0, 16.0, 20.0, 25.0))
        drawn = lathe(
            ball, shank * chance.uniform(1.0, 1.6), shank, ball * chance.uniform(1.3, 1.7)
        )
        try:
            return _sized(changed("bench-lathe", **drawn))
        except BadInput:
            continue


PLATED_SEED = 29


def plated(count: int) -> dict[str, tuple[Sizes, Load]]:
    """So many lathes drawn, on which a plate stands between tube and shank; by what was drawn."""
    chance, found = random.Random(PLATED_SEED), dict[str, tuple[Sizes, Load]]()
    while len(found) < count:
        ball = chance.uniform(25, 110)
        shank = chance.choice((8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0))
        seat = shank * chance.uniform(1.2, 2.4)
        over = ball * chance.uniform(1.3, 1.8)
        try:
            sized = _sized(changed("bench-lathe", **lathe(ball, seat, shank, over)))
        except BadInput:
            continue
        if sized[0].cheek_stock:
            found[f"ball {ball:.0f}, seat {seat:.0f}, shank {shank:.0f}"] = sized
    return found


def fingerprint(s: Sizes) -> str:
    """Of the sizes that what is meshed follows from, in whatever order: a record of others is stale."""
    names = sorted(f.name for f in fields(Sizes) if not f.name.startswith(UNSEEN))
    at = (round(s.post_front_x_mm, 6), getattr(s, "doubling_stock", None))
    text = repr([(name, getattr(s, name)) for name in names]) + repr(at)
    return hashlib.sha256(text.encode()).hexdigest()[:16]
