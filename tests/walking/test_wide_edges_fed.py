"""A facing cutter cuts its whole face at once: fed as a form tool, or a thin bit breaks.

Bending of a round bit (any handbook): the force at the middle of its edge, times how far that lies
out of the bar, over pi/32 of its diameter cubed. The force: width, chip and specific force (VDI
3323, non-alloy steel under 0.25 C: 1350 MPa at 1 mm, to the power of -0.21). High-speed steel
breaks in bending at about 3000 MPa (from memory), and half of that is borne at a cut that begins
all at once (common practice). A bit is a quarter of its bar thick at least (this design's own).
"""

from __future__ import annotations

from math import pi

import pytest
from walking.shop_files import planned, sound, walked

BREAKS_MPA = 3000.0


def _stress_MPa(
    bore_mm: float, face_mm: float, bar_mm: float, bit_mm: float, feed_mm: float
) -> float:
    wide = (face_mm - bore_mm) / 2
    force = wide * feed_mm * 1350.0 * feed_mm**-0.21
    arm = (face_mm + bore_mm) / 4 - bar_mm / 2
    return force * arm / (pi * bit_mm**3 / 32)


@pytest.mark.parametrize("shop", ["watch-bench", "farm-shed"])
def test_a_facing_cutter_fed_as_a_pointed_tool_is_refused(shop: str) -> None:
    """As it was: 0.1 a turn, what a tool's point takes."""
    route = planned(shop).route
    setups, steps = route.setup_records(), route.operation_records()
    (face,) = (o for o in steps if (o["kind"], o["tool"]["kind"]) == ("face", "facing cutter"))
    (bore,) = (o for o in steps if o["kind"] == "bore" and o["makes"] == ["pivot bore"])
    outer, inner = face["cut"]["diameter_mm"], bore["cut"]["after_mm"]
    sizes = outer, inner, face["tool"]["width_mm"], bore["tool"]["width_mm"]

    def stress(feed_mm: float) -> float:
        outer, inner, bar, bit = sizes
        return _stress_MPa(inner, outer, bar, bit, feed_mm)

    assert stress(face["feed_mm_per_rev"]) < BREAKS_MPA / 2
    key = f"step {face['number']}"
    assert ("route-feed", key) not in [(o.code, o.key) for o in sound(shop)]
    spoiled = [o | {"feed_mm_per_rev": 0.1} if o is face else o for o in steps]
    told = [(o.code, o.key) for o in walked(shop, setups, spoiled, face["part"])]
    assert ("route-feed", key) in told


def test_what_was_shipped_broke_the_bit() -> None:
    """A bar of 8 with a bit of 2, a face of 18 round a bore of 12."""
    assert _stress_MPa(12.0, 18.0, 8.0, 2.0, 0.1) > BREAKS_MPA * 0.9
    assert _stress_MPa(12.0, 18.0, 8.0, 2.0, 0.03) < BREAKS_MPA / 2


@pytest.mark.parametrize("shop", ["watch-bench", "school-row"])
def test_a_form_tool_is_fed_as_one(shop: str) -> None:
    """As it was: the lever's balls by a form tool at 0.12 a turn (common practice: 0.01 to 0.04)."""
    route = planned(shop).route
    setups, steps = route.setup_records(), route.operation_records()
    balls = [o for o in steps if o["tool"]["kind"] == "form tool" and o["feed_mm_per_rev"]]
    assert balls and all(0.01 <= o["feed_mm_per_rev"] <= 0.04 for o in balls)
    spoiled = [o | {"feed_mm_per_rev": 0.12} if o in balls else o for o in steps]
    parts = {o["part"] for o in balls}
    told = [o.key for o in walked(shop, setups, spoiled, *parts) if o.code == "route-feed"]
    assert told == [f"step {o['number']}" for o in balls]


@pytest.mark.parametrize(
    ("shop", "said"),
    [("garage-inch", "0.0015 in/rev at most"), ("watch-bench", "0.05 mm/rev at most")],
)
def test_a_feed_that_is_too_fast_is_told_as_feeds_are_set(shop: str, said: str) -> None:
    """It was "0.002 in: fed 0.002 in a turn at most": 0.05 mm is 1.97 thousandths."""
    route = planned(shop).route
    setups, steps = route.setup_records(), route.operation_records()
    ball = next(o for o in steps if o["tool"]["kind"] == "form tool")
    spoiled = [o | {"feed_mm_per_rev": 0.0511} if o is ball else o for o in steps]
    found = walked(shop, setups, spoiled, ball["part"])
    (told,) = [o for o in found if o.code == "route-feed"]
    assert told.limit.endswith(said)
    assert told.value == ("0.0021 in" if "in/" in said else "0.052 mm")


def test_a_form_tool_turns_no_faster_than_a_parting_blade() -> None:
    """As it was: a knob rounded to a template at the middle of the turning speed of brass, 800 or 1000
    a minute at 30 mm, where the lever's balls had a form tool's (form tools: a quarter to 0.4 of
    turning, parting 0.4 to 0.6, common practice)."""
    route = planned("boat-yard").route
    setups, steps = route.setup_records(), route.operation_records()
    (ball,) = [o for o in steps if o["text"].startswith("round the ball S")]
    assert ball["tool"]["kind"] == "form tool"
    assert pi * 0.032 * ball["speed_rpm"] <= 0.6 * 120.0  # brass, HSS: turned at 120 m/min at most
    told = {
        rpm: [
            o.limit
            for o in walked(
                "boat-yard",
                setups,
                [o | {"speed_rpm": rpm} if o is ball else o for o in steps],
                ball["part"],
            )
            if (o.code, o.key) == ("route-speed", f"step {ball['number']}")
        ]
        for rpm in (ball["speed_rpm"], 800.0)
    }
    assert told[ball["speed_rpm"]] == [] and len(told[800.0]) == 1, told
