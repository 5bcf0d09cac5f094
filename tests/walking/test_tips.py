"""A milling slide's vice, and what a drill does past the end of the jaws: the small shop's housing."""

from __future__ import annotations

from typing import Any

from jobs import ROOT, planned
from walk_records import grip
from walking.part_walk import of_parts, walked

SMALL = ROOT / "tests" / "data" / "jobs" / "small-alone.toml"


def _drilled(**changes: Any) -> list[tuple[str, str, str]]:
    """What is said of the set-up that drills the oil hole, its grip changed."""
    plan = planned(SMALL)
    setups, steps = of_parts(plan, "housing")
    number = next(o["setup"] for o in steps if "drill oil hole" in o["text"])
    setups = [
        s | {"hold": s["hold"] | {"grips": [s["hold"]["grips"][0] | changes]}}
        if s["number"] == number
        else s
        for s in setups
    ]
    keys = {f"step {o['number']}" for o in steps if o["setup"] == number} | {f"set-up {number}"}
    return [(o.code, o.value, o.limit) for o in walked(plan, setups, steps) if o.key in keys]


def test_the_shank_is_gripped_across_its_ten() -> None:
    """The lathe has 47 over its cross slide: the vice of such a slide opens some 50 to 60 mm (common
    practice); the shank is 81 long and 10 wide."""
    plan = planned(SMALL)
    setups, steps = of_parts(plan, "housing")
    number = next(o["setup"] for o in steps if "drill oil hole" in o["text"])
    held = next(s for s in setups if s["number"] == number)["hold"]
    assert [(g["surface"], g["size_mm"]) for g in held["grips"]] == [("shank.-z", 10.0)]
    assert _drilled() == []


def test_a_vice_that_opens_81_on_a_small_slide_is_refused_and_the_drill_tips_the_work() -> None:
    """As a route once had it: across the shank's length. The holes at z = 0 lie 18 outside the 10 that
    the jaws then bear on along z (the shank is 18 to 28 below the tube's line)."""
    across = grip("shank.-x", -14.0, -5.5, 81.0, other="shank.+x")
    found = _drilled(**across)
    assert ("route-grip-range", "81 mm", "the vice opens to 51.7 mm") in found
    tips = [o for o in found if o[0] == "route-tips"]
    assert len(tips) == 2  # the oil hole, the drag hole
    assert all(17.5 < float(value.split()[1]) < 18.5 for _, value, _ in tips)
    assert all(9.0 < float(limit.split()[2]) <= 10.0 for _, _, limit in tips)
