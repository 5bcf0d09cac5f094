"""Odd lathes, small and large, metric and inch: whether an attachment follows, and how it is held.

Run with: python tests/benchmarks/post_lathes.py [N]. Draws N lathes by a seed, with and without what a
job may say of the tool post; prints how many have sizes, a stop bar, and a post beside the pivot's nut
by default where its jaws stand out 0, 2 and 5 mm. What it printed for 60 is post_lathes-results.json.
"""

from __future__ import annotations

import json
import random
import sys
from collections import Counter
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[2])]

from jobs import changed  # noqa: E402

from parts.attachment import attachment  # noqa: E402
from parts.stop import stop_screws_mm, stop_tops_mm  # noqa: E402
from planner.checking.clearance import clearances  # noqa: E402
from planner.job.reading import job_from  # noqa: E402
from planner.sizing.apply import size_up  # noqa: E402
from planner.words.findings import BadInput  # noqa: E402

SEED = 20_261_129


def drawn(chance: random.Random) -> dict[str, Any]:
    """The changes that make one odd lathe of an example."""
    height = chance.uniform(40, 320)  # of the spindle over the bed's ways, less its slides
    slide = height * chance.uniform(0.55, 0.8)
    seat = max(6.0, slide * chance.uniform(0.2, 0.45))
    ball = min(slide * chance.uniform(0.35, 0.75), 120)
    shank = max(6, round(seat * chance.uniform(0.5, 1.0)))
    made: dict[str, Any] = {
        "lathe.spindle_over_seat": f"{seat:.1f} mm",
        "lathe.spindle_over_cross_slide": f"{slide:.1f} mm",
        "lathe.chuck_diameter": f"{height:.0f} mm",
        "tool_post.largest_shank": f"{shank} mm",
        "attachment.max_ball_diameter": f"{ball:.0f} mm",
        "attachment.min_ball_diameter": None,
        "attachment.max_blank_diameter": None,
        "ball": None,
    }
    new = ("depth", "height", "screws", "first_screw", "screw_spacing", "slot_to_middle")
    for key in new:
        made[f"tool_post.{key}"] = None
    for key in ("post_nearest", "post_farthest", "post_to_jaws", "tailstock_reach"):
        made[f"lathe.{key}"] = None
    if chance.random() < 0.5:
        made["tool_post.depth"] = f"{shank * chance.uniform(2.5, 4):.0f} mm"
        made["tool_post.height"] = f"{seat * chance.uniform(0.7, 1.8):.1f} mm"
        made["tool_post.slot_to_middle"] = f"{shank * chance.uniform(0.2, 1):.1f} mm"
    return made


def main(lathes: int) -> dict[str, Any]:
    chance = random.Random(SEED)
    came = Counter[str]()
    beside: dict[str, Counter[str]] = {}
    refused = Counter[str]()
    least = 1e9
    for _ in range(lathes):
        example = chance.choice(("bench-lathe", "engine-lathe", "inch-lathe"))
        base = drawn(chance)
        for out in (None, "0 mm", "2 mm", "5 mm"):
            job = job_from(changed(example, **base, **{"tool_post.stands_out": out}), "job.toml")
            held = beside.setdefault(str(out), Counter())
            try:
                s = size_up(job, "job.toml").sizes
            except BadInput as problem:
                codes = {one.code for one in problem.findings}
                assert "not-makeable" not in codes, (example, base, out)
                held["refused"] += 1
                refused.update(codes)
                continue
            clearances(attachment(s), job)
            held["beside the nut" if s.beside_nut else "behind it"] += 1
            if out is None:
                came["a stop bar" if s.stop_stock else "no stop bar"] += 1
            if s.stop_stock:
                for top, length in zip(stop_tops_mm(s), stop_screws_mm(s), strict=True):
                    least = min(least, (length - top - s.stop_drop_mm) / s.stop_major_mm)
                    assert top - length >= 1.0 - s.spindle_over_seat_mm - 1e-6, (example, base)
    return {
        "seed": SEED,
        "lathes": lathes,
        "sized_without_stands_out": dict(came),
        "held_by_stands_out": {out: dict(held) for out, held in beside.items()},
        "refused_for": dict(refused.most_common()),
        "stop_screws_engage_at_least_diameters": round(least, 2),
    }


if __name__ == "__main__":
    result = main(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
    print(json.dumps(result, indent=2))
