"""What a shop is taken to have where its job does not say: a usual home shop, typed here by hand.

Common practice for a small lathe; each assumption is named once, with the key that says otherwise.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from jobs import changed

from planner.job.reading import job_from
from planner.job.tables import Job
from planner.job.usual import Range, kit

JobWith = Callable[..., Job]

SAID = {
    "lathe.three_jaw_outside": [3, 80],
    "lathe.three_jaw_inside": [20, 70],
    "lathe.four_jaw_outside": [0, 0],
    "lathe.chuck_bore": 18,
    "lathe.chuck_depth": 50,
    "lathe.faceplate": 0,
    "lathe.steady": 0,
    "lathe.travelling_steady": False,
    "lathe.centres": ["dead"],
    "lathe.change_gears": [20, 50, 50],
    "lathe.tailstock_die_holder": False,
    "lathe.knurling_tool": False,
    "shop.drills_to": 10,
    "shop.end_mills": [],
    "shop.boring_bars": [8],
    "shop.dies": ["M3"],
    "shop.measuring": {
        **{"micrometers": [[0, 30]], "telescoping_gauges": False, "gauge_blocks": False},
        **{"dial_indicator": False, "v_blocks": False, "surface_plate": False},
    },
}


def test_a_shop_that_says_nothing_is_a_usual_one(job_with: JobWith) -> None:
    # the bench lathe has a chuck of 100 mm: its jaws take 2 to 95 outside, 25 to 90 inside
    found = kit(job_with())
    assert (found.three_jaw, found.three_jaw_inside) == (Range(2, 95), Range(25, 90))
    assert found.four_jaw == Range(5, 95)
    assert (found.chuck_bore_mm, found.chuck_depth_mm) == (20, 80)
    assert (found.steady_mm, found.faceplate_mm) == (40, 150)
    assert found.change_gears == (*range(20, 81, 5), 63) and found.drills_to_mm == 13
    # as the taps, but none as large as M16
    assert found.dies == ("M3", "M4", "M5", "M6", "M8", "M8x1")
    assert found.micrometers == (Range(0, 25), Range(25, 50))
    keys = [key for key, _ in found.assumed]
    assert len(keys) == len(set(keys)) and all(words for _, words in found.assumed)
    assert set(SAID) - {"shop.measuring"} <= set(keys)


def test_in_inches_the_usual_sets_are_inch_ones(job_with: JobWith) -> None:
    found = kit(job_with("inch-lathe"))
    assert found.drills_to_mm == pytest.approx(12.7)
    assert [one.most_mm for one in found.micrometers] == pytest.approx([25.4, 50.8])


@pytest.mark.parametrize("chuck", [4, 5, "6-1/4", 7.9])
def test_what_an_inch_shop_is_taken_to_have_is_in_sixteenths(chuck: object) -> None:
    # the same shares of the chuck as above, the least rounded up and the most down: within what it is
    job = job_from(changed("inch-lathe", **{"lathe.chuck_diameter": chuck}), "job.toml")
    found, across = kit(job), job.lathe.chuck_diameter / 25.4
    lengths = {
        found.three_jaw.least_mm: across / 50, found.three_jaw_inside.least_mm: across / 4,
        found.three_jaw.most_mm: 0.95 * across, found.three_jaw_inside.most_mm: 0.9 * across,
        found.steady_mm: 0.4 * across, found.faceplate_mm: 1.5 * across,
        found.chuck_depth_mm: 0.8 * across, found.chuck_bore_mm: across / 5,
    }  # fmt: skip
    for number, (mm, share) in enumerate(lengths.items()):
        assert mm is not None and mm / 25.4 * 16 == pytest.approx(round(mm / 25.4 * 16), abs=1e-6)
        off = mm / 25.4 - share
        assert -1e-9 <= (off if number < 2 else -off) < 1 / 16
    said = "; ".join(words for _, words in found.assumed)
    assert not re.search(r"\d\.\d", said) and not re.search(r"; and ", said), said
    sixteenths = [one / 25.4 * 16 for one in found.end_mills]
    assert sixteenths == pytest.approx([4, 5, 6, 8, 10])


def test_what_is_said_is_not_assumed(job_with: JobWith) -> None:
    found = kit(job_with(**SAID))
    assert found.assumed == ()
    assert found.four_jaw is None and found.steady_mm is None and found.faceplate_mm is None
    assert (found.live_centre, found.dead_centre, found.die_holder) == (False, True, False)
    assert found.end_mills == () and found.dies == ("M3",)
    assert found.micrometers == (Range(0, 30),)


def test_a_spindle_with_a_bore_takes_work_right_through(job_with: JobWith) -> None:
    found = kit(job_with(**{"lathe.spindle_bore": 26}))
    assert found.chuck_bore_mm == 26 and found.chuck_depth_mm >= 3000


@pytest.mark.parametrize(("size", "takes"), [(2, True), (1.99, False), (95, True), (95.1, False)])
def test_a_range_takes_both_its_ends(size: float, takes: bool) -> None:
    assert Range(2, 95).takes(size) is takes


@pytest.mark.parametrize(
    ("example", "chuck", "nominal", "made", "grips"),
    [
        # the four-jaw's least is a twentieth of its chuck: 6 in says 5/16, a journal of 0.312 is one of
        # 5/16 by name; 200 mm says 10, and 10 h7 is at the middle of its limits 9.9925 (ISO 286)
        ("inch-lathe", 6, "5/16", 0.312 * 25.4, True), ("inch-lathe", 6, "5/16", 0.305 * 25.4, False),
        ("engine-lathe", "200 mm", "10", 9.9925, True), ("engine-lathe", "200 mm", "10", 9.89, False),
        ("engine-lathe", "200 mm", "10", 190.05, False),
    ],
)  # fmt: skip
def test_jaws_that_grip_a_size_by_name_grip_what_is_turned_to_it(
    example: str, chuck: object, nominal: str, made: float, grips: bool
) -> None:
    found = kit(job_from(changed(example, **{"lathe.chuck_diameter": chuck}), "job.toml"))
    assert found.four_jaw is not None and found.four_jaw.grips(made) is grips
    (said,) = [words for key, words in found.assumed if key == "lathe.four_jaw_outside"]
    assert said.startswith(f"a four-jaw chuck that grips {nominal} to ")


@pytest.mark.parametrize(
    ("example", "machines", "travel", "noted"),
    [
        ("bench-lathe", {"milling slide": {}}, 75.0, "75 mm"),  # common practice: 60 to 100
        ("inch-lathe", {"milling slide": {}}, 76.2, "3 in"),
        ("bench-lathe", {"milling slide": {"travel": "90 mm"}}, 90.0, ""),
        ("bench-lathe", {"mill": {}}, 0.0, ""),
    ],
)
def test_how_far_a_milling_slide_travels(
    example: str, machines: object, travel: float, noted: str
) -> None:
    found = kit(job_from(changed(example, **{"shop.machines": machines}), "job.toml"))
    assert found.slide_travel_mm == pytest.approx(travel)
    said = [words for key, words in found.assumed if key == 'shop.machines."milling slide".travel']
    assert said == ([f"a milling slide that travels up and down {noted}"] if noted else [])


def test_the_tool_posts_places_say_how_far_the_cross_slide_goes() -> None:
    for far, goes in (("180 mm", 160.0), (None, None)):
        data = changed("bench-lathe", **{"lathe.post_nearest": "20 mm"})
        data["lathe"].pop("post_farthest", None)
        if far:
            data["lathe"]["post_farthest"] = far
        assert kit(job_from(data, "job.toml")).cross_travel_mm == goes
