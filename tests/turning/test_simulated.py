"""The turning plans, taken off on a half profile: nothing in the piece, nothing in the head's way, all
of it turned.

The checker (simulator, swinging, trial) is of first principles: what a tool passes over is gone, what
swings may not come near what stands. That it can fail is shown in test_spoiled.
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from msgspec.structs import replace
from turning.drawn import (
    CENTRE,
    DIALS,
    DISH,
    HANDLE,
    KNOB,
    LATHES,
    Keys,
    case,
    drawn_ball,
    drawn_hollow,
    made_for,
    mm,
)
from turning.simulator import Work, blade_floor, places, swing_floor
from turning.swinging import nearest, poses

BALLS: list[tuple[str, str, Keys | None, Keys]] = [
    ("largest", "bench-lathe", None, {}),
    ("largest inch", "inch-lathe", None, {}),
    ("a cup", "bench-lathe", KNOB | {"second_holding": "cup"}, {}),
    ("soft jaws, dials", "bench-lathe", KNOB | {"second_holding": "soft jaws"}, DIALS),
    ("a threaded stub", "bench-lathe", KNOB | {"thread": "M8", "hole_depth": 16}, {}),
    ("a short stem", "bench-lathe", KNOB | {"stem_length": 5}, {}),
    ("a long stem", "bench-lathe", KNOB | {"stem_length": 200}, DIALS),
    ("a hole", "bench-lathe", KNOB | {"stem_length": 5, "hole": 6, "hole_depth": 20}, {}),
    ("a square bar", "bench-lathe", KNOB | {"diameter": 32, "blank_diameter": 33,
                                            "blank_shape": "square", "stem_length": 40}, {}),
    ("a hexagon with scale", "bench-lathe", KNOB | {"diameter": 38, "blank_diameter": 40,
                                                    "blank_shape": "hexagon", "skin": 0.5}, {}),
    ("half, as thick", "bench-lathe", {"shape": "hemisphere", "diameter": 40}, {}),
    ("half, in a thick bar", "bench-lathe", {"shape": "hemisphere", "diameter": 30,
                                             "blank_diameter": 50}, DIALS),
    ("a handle", "bench-lathe", HANDLE, {}),
    ("a slim handle", "bench-lathe", HANDLE | {"large_diameter": 10.2, "stem_length": 150}, DIALS),
    ("a thick handle", "bench-lathe", HANDLE | {"large_diameter": 17, "stem_length": 150}, {}),
    ("a steep handle", "bench-lathe", {"shape": "taper handle", "diameter": 21, "blank_diameter": 25,
                                       "stem_diameter": 9.8, "stem_length": 30, "large_diameter": 17.6},
     {"turning.allowance": 0.2, "turning.roughing_corner": 0.4}),
    ("inch, on a stem", "inch-lathe", {"diameter": "1-1/4", "blank_diameter": "1-5/16",
                                       "stem_diameter": "7/16", "stem_length": 2}, {}),
    ("a plain tool", "bench-lathe", KNOB, {"turning.roughing_tool": "plain",
                                           "turning.roughing_corner": 0.4}),
    ("a centre, a pitch", "bench-lathe", KNOB, CENTRE | {"turning.roughing_pitch": 2}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("example", "ball", "keys"), [row[1:] for row in BALLS], ids=[row[0] for row in BALLS]
)
def test_a_ball(example: str, ball: Keys | None, keys: Keys) -> None:
    found = case(example, ball, **keys)
    assert found.planned, [finding.code for finding in found.turned.findings]
    assert found.faults() == []


@pytest.mark.parametrize("example", LATHES)
@pytest.mark.parametrize("end", ["min_ball_diameter_mm", "max_ball_diameter_mm"])
def test_both_ends_of_the_range(example: str, end: str) -> None:
    across = getattr(made_for(example).sizes, end)
    found = case(example, {"diameter": mm(across), "stem_length": mm(across)})
    assert found.planned and found.faults() == []


@pytest.mark.parametrize("radius", [80.5, 99.0])
@pytest.mark.parametrize("depth", [0.5, 2.9])
def test_a_hollow(radius: float, depth: float) -> None:
    found = case("bench-lathe", DISH | {"diameter": 2 * radius, "depth": depth})
    assert found.planned and found.faults() == []


def test_a_hollow_of_the_engine_lathe() -> None:
    dish = DISH | {"diameter": mm(220), "depth": mm(5), "blank_diameter": mm(80)}
    found = case("engine-lathe", dish)
    assert found.planned and found.faults() == []


@pytest.mark.parametrize("seed", range(6))
def test_drawn_balls(seed: int) -> None:
    found = drawn_ball(seed)
    if found.planned:
        assert found.faults() == []
    else:
        assert any(finding.severity == "refused" for finding in found.turned.findings)


@pytest.mark.parametrize("seed", range(3))
def test_drawn_hollows(seed: int) -> None:
    found = drawn_hollow(seed)
    if found.planned:
        assert found.faults() == []
    else:
        assert any(finding.severity == "refused" for finding in found.turned.findings)


SMALL_KNOB: Keys = {"diameter": 16, "blank_diameter": 18}


@pytest.mark.parametrize(
    ("ball", "told"),
    [
        # drilled for M8 three pitches over its thread of 12, 15.75 deep, its 6.8 meets a neck of 5.6
        (SMALL_KNOB | {"thread": "M8", "stem_length": 30}, True),
        (SMALL_KNOB | {"thread": "M8", "stem_length": 30, "stem_diameter": 8}, False),
        (SMALL_KNOB | {"thread": "M8", "hole_depth": 6}, False),
        # without a stem it would come out of the ball: root(8^2 - 7.75^2) = 1.98 is less than 3.4
        (SMALL_KNOB | {"thread": "M8", "stem_diameter": 9}, True),
        (SMALL_KNOB | {"hole": 5}, True),
        (SMALL_KNOB | {"hole": 5, "stem_diameter": 6.5}, False),
    ],
)
def test_a_hole_through_what_holds_the_ball_is_told(ball: Keys, told: bool) -> None:
    found = case("bench-lathe", ball)
    assert ("hole-neck" in {finding.code for finding in found.turned.findings}) is told
    # and the trial finds the same where the planner says nothing
    trial = replace(found.trial(), findings=())
    assert any("of neck" in fault for fault in trial.run()) is told


@pytest.mark.parametrize(("shape", "told"), [("round", True), ("square", True), ("round", False)])
def test_a_bar_that_keeps_its_skin_on_the_ball_is_told(shape: str, told: bool) -> None:
    # a square bar as wide across its flats as the ball is touched along four lines (any handbook)
    ball = {"diameter": 30, "blank_diameter": 30 if told else 31, "blank_shape": shape}
    found = case("bench-lathe", ball)
    assert ("thin-blank" in {finding.code for finding in found.turned.findings}) is told


@pytest.mark.slow
def test_many_drawn() -> None:
    wrong: dict[str, list[str]] = {}
    tried = 0
    for draw, seeds in ((drawn_ball, range(1000, 1300)), (drawn_hollow, range(1000, 1100))):
        for seed in seeds:
            found = draw(seed)
            tried += found.planned
            if found.planned and (faults := found.faults()):
                wrong[f"{draw.__name__} {seed}"] = faults
    assert tried > 200
    assert wrong == {}


# The checker itself


def test_what_a_tool_passes_over_is_gone_and_no_more() -> None:
    # the volume of a cylinder and of a sphere (any handbook); a groove with square and round corners
    z = places(-10.0, 10.0, [-2.0, 3.0])
    bar = Work(z, np.full_like(z, 5.0))
    assert bar.volume() == pytest.approx(pi * 25 * (z[-1] - z[0]), rel=1e-9)
    bar.cut(blade_floor(z, -2.0, 3.0, 4.0, 0.0))
    assert pi * 25 * (z[-1] - z[0]) - bar.volume() == pytest.approx(pi * 9 * 5.0, rel=1e-4)
    # a round corner of 1 leaves 1 - pi / 4 of section at either side, a quarter of 1 off its middle
    groove = Work(z, np.full_like(z, 5.0))
    groove.cut(blade_floor(z, -2.0, 3.0, 4.0, 1.0))
    left = 2 * (1 - pi / 4) * 2 * pi * (4 + 0.2234)
    assert groove.volume() - bar.volume() == pytest.approx(left, rel=1e-2)
    ball = Work(z, np.where(np.abs(z) <= 5.0, 5.0, 0.0))
    ball.cut(swing_floor(z, 5.0, 0.0 + 1e-9, 0.0, 180.0))
    assert ball.volume() == pytest.approx(4 / 3 * pi * 125, rel=1e-4)


def test_how_near_a_box_on_the_head_comes() -> None:
    # a corner (x, y) from the pivot swings at root(x^2 + y^2): a square bar end 10 to 12 out, 2 wide
    head = made_for("bench-lathe").head
    (one, *_) = [p for p in head.prisms if p.name == "arm"]
    sides = np.array([[10.0, -1.0], [12.0, -1.0], [12.0, 1.0], [10.0, 1.0]])
    none = np.zeros(4, dtype=bool)
    box = replace(one, points=sides, nose=none, side=none, slides=False, off=0.0)
    z = places(-30.0, 5.0, [-14.0])
    wall = np.where(z <= -14.0, 20.0, 0.0)
    found, _ = nearest([box], 0.0, poses(0.0, 180.0), (z, wall), 3.0)
    assert found == pytest.approx(14 - sqrt(12**2 + 1), abs=0.02)
    # beside the plane of the swing it passes the wall's corner 1.5 farther out
    off = replace(box, off=21.5)
    found, _ = nearest([off], 0.0, poses(0.0, 180.0), (z, wall), 3.0)
    assert found == pytest.approx(sqrt(1.5**2 + (14 - sqrt(12**2 + 1)) ** 2), abs=0.02)
