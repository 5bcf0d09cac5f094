"""The turning plans, taken off on a half profile: nothing in the piece, nothing in the head's way, all
of it turned.

The checker (simulator, swinging, trial) is of first principles: what a tool passes over is gone, what
swings may not come near what stands. That it can fail is shown by spoiling one figure of a plan at a time.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import pi, radians, sqrt, tan
from typing import Any

import numpy as np
import pytest
from turning.drawn import LATHES, Case, Keys, case, drawn_ball, drawn_hollow, made_for, mm
from turning.simulator import Work, blade_floor, places, swing_floor
from turning.swinging import Head, nearest, poses
from turning.trial import BallTrial

from planner.turning.model import SecondHolding, SocketPlan

KNOB: Keys = {"name": "knob", "diameter": 40, "blank_diameter": 42, "stem_diameter": 14}
SMALL: Keys = {"diameter": 18, "blank_diameter": 20, "stem_diameter": 7, "stem_length": 5}
HANDLE: Keys = {
    "name": "handle",
    "shape": "taper handle",
    "diameter": 30,
    "blank_diameter": 32,
    "stem_diameter": 10,
    "stem_length": 90,
    "large_diameter": 13,
}
DISH: Keys = {
    "name": "dish",
    "shape": "socket",
    "diameter": 180,
    "depth": 3,
    "blank_diameter": 48,
}
CENTRE: Keys = {"turning.tailstock_centre": {"diameter": 8, "point_length": 10}}
DIALS: Keys = {"lathe.carriage_division": 0.1, "lathe.cross_slide_division": 0.025}

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
    dish = DISH | {key: mm(DISH[key] * by) for key, by in (("depth", 1), ("blank_diameter", 1))}
    found = case("engine-lathe", dish | {"diameter": mm(220)})
    assert found.planned and found.faults() == []


@pytest.mark.parametrize("seed", range(1, 19))
def test_drawn_balls(seed: int) -> None:
    found = drawn_ball(seed)
    if found.planned:
        assert found.faults() == []
    else:
        assert any(finding.severity == "refused" for finding in found.turned.findings)


@pytest.mark.parametrize("seed", range(5))
def test_drawn_hollows(seed: int) -> None:
    found = drawn_hollow(seed)
    if found.planned:
        assert found.faults() == []
    else:
        assert any(finding.severity == "refused" for finding in found.turned.findings)


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
    # beside the plane of the swing, above what is no thicker than that, it is out of reach
    off = replace(box, off=21.5)
    found, _ = nearest([off], 0.0, poses(0.0, 180.0), (z, wall), 3.0)
    assert found == pytest.approx(1.5, abs=0.02)


Spoil = Callable[[BallTrial], BallTrial]


def spoiled(**changes: Any) -> Spoil:
    """A plan with figures changed; a callable is given what stood there."""

    def spoil(trial: BallTrial) -> BallTrial:
        new = {k: v(getattr(trial.plan, k)) if callable(v) else v for k, v in changes.items()}
        return replace(trial, plan=replace(trial.plan, **new), faults=[])

    return spoil


def steps(change: Callable[[list[Any]], list[Any]]) -> Spoil:
    """The roughing steps changed."""
    return spoiled(roughing=lambda was: replace(was, steps=tuple(change(list(was.steps)))))


def of_side(side: str, number: int, **by: float) -> Spoil:
    """One step of a side with figures moved by so much."""

    def change(was: list[Any]) -> list[Any]:
        which = [k for k, step in enumerate(was) if step.side == side][number]
        was[which] = replace(was[which], **{k: getattr(was[which], k) + v for k, v in by.items()})
        return was

    return steps(change)


def deeper(side: str, number: int, by: float) -> Spoil:
    """One step turned so much deeper, all its figures agreeing."""
    return of_side(side, number, diameter_mm=-2 * by, radius_mm=-by, infeed_mm=by)


def without(side: str, number: int) -> Spoil:
    """One step of a side left out."""

    def change(was: list[Any]) -> list[Any]:
        which = [k for k, step in enumerate(was) if step.side == side][number]
        return was[:which] + was[which + 1 :]

    return steps(change)


def twice(was: list[Any]) -> list[Any]:
    """A step that repeats another."""
    return [*was[:2], was[1], *was[2:]]


def in_passes(number: int, **by: float) -> Callable[[Any], Any]:
    """One pass with figures moved: of its swing's end, its radius, its volume by a factor."""

    def change(passes: Any) -> Any:
        one = passes[number]
        start, stop = one.cut.swing_deg
        radius = one.cut.taken.radius_mm + by.get("radius", 0.0)
        cut = replace(
            one.cut,
            taken=replace(one.cut.taken, radius_mm=radius),
            swing_deg=(start + by.get("start", 0.0), stop + by.get("stop", 0.0)),
            removed_mm3=one.cut.removed_mm3 * by.get("volume", 1.0),
        )
        return (*passes[:number], replace(one, cut=cut), *passes[number:][1:])

    return change


def ball_key(**keys: Any) -> Spoil:
    """The job's own ball is another than was planned for."""
    return spoiled(ball=lambda was: replace(was, spec=was.spec.model_copy(update=keys)))


def job_key(table: str, **keys: Any) -> Spoil:
    """The shop is another than was planned for."""

    def spoil(trial: BallTrial) -> BallTrial:
        other = getattr(trial.job, table).model_copy(update=keys)
        return replace(trial, job=trial.job.model_copy(update={table: other}), faults=[])

    return spoil


def second(**changes: Any) -> Spoil:
    """The second holding changed."""

    def change(was: SecondHolding | None) -> SecondHolding:
        assert was is not None
        new = {k: v(getattr(was, k)) if callable(v) else v for k, v in changes.items()}
        return replace(was, **new)

    return spoiled(second=change)


def head(change: Callable[[Head], Head]) -> Spoil:
    """Other parts swing."""
    return lambda trial: replace(trial, head=change(trial.head), faults=[])


def farther(by: float) -> Callable[[float], float]:
    """A figure moved by so much."""
    return lambda was: was + by


def short_bit(was: Head) -> Head:
    """All but the bit 3 mm nearer to the tip."""
    return Head(tuple(p if p.cuts else p.moved(-3.0 * p.slides) for p in was.prisms), was.nose_mm)


def wide_bit(was: Head) -> Head:
    """A bit 2 mm wider on either side."""
    wide = np.array([1.0, 1.7])
    return Head(
        tuple(replace(p, points=p.points * wide) if p.cuts else p for p in was.prisms), was.nose_mm
    )


SPOILED: list[tuple[str, Keys, Keys, Spoil, str]] = [
    ("wall nearer", {"stem_length": 5}, {}, of_side("behind", 0, to_mm=-0.5), "arm at"),
    ("a stand thicker", {"stem_length": 5}, {}, deeper("behind", 1, -1.0), "has"),
    ("neck's length thicker", {"stem_length": 5}, {}, deeper("behind", -1, -1.0), "tool bit at"),
    ("stand left out", {"stem_length": 5}, {}, without("behind", -1), "has"),
    ("stand too deep", {"stem_length": 60}, {}, deeper("behind", -1, 0.3), "enters the piece"),
    ("nose step deeper", {}, {}, deeper("nose", 1, 0.3), "roughing leaves less"),
    ("nose step farther", {}, {}, of_side("nose", 1, to_mm=0.3), "roughing leaves less"),
    ("nose step left out", {}, {}, without("nose", 0), "the tip is in the work"),
    ("stem step left out", {}, {}, without("stem", 1), "the tip is in the work"),
    ("stem step nearer", {}, {}, of_side("stem", 1, from_mm=-0.3), "roughing leaves less"),
    ("stem step stops short", {}, {}, of_side("stem", -1, to_mm=-0.2), "the tip is in the work"),
    ("body too deep", {}, {}, deeper("body", 0, 0.6), "enters the piece|roughing leaves less"),
    ("neck too deep", {"stem_length": 5}, {}, deeper("neck", 0, 0.3), "enters the piece"),
    ("neck too thick", {}, {}, deeper("neck", 0, -0.3), "tool bit at"),
    ("a step twice", {}, {}, steps(twice), "takes 0.000 only"),
    ("infeed", {}, {}, of_side("nose", 0, infeed_mm=0.1), "is not from the blank"),
    ("flank", {}, {}, spoiled(flank_deg=farther(-3.0)), "cuts in"),
    ("wide corner", {}, {}, job_key("turning", roughing_corner=0.9), "the tip is in the work"),
    ("narrow blade", {}, {}, job_key("turning", roughing_width=2.5), "the tip is in the work"),
    ("first reading", {}, {}, spoiled(first_mm=farther(-0.3)), "the tip is in the work"),
    ("sweep longer", {"stem_length": 5}, {}, spoiled(passes=in_passes(-1, stop=0.5)), "enters"),
    ("sweep shorter", {}, {}, spoiled(passes=lambda was: tuple(
        replace(p, cut=replace(p.cut, swing_deg=(0.0, p.cut.swing_deg[1] - 1.0))) for p in was
    )), "is left between ball and stem"),
    ("last radius", {}, {}, spoiled(passes=in_passes(-1, radius=-0.01)), "enters the piece"),
    ("last radius short", {}, {}, spoiled(passes=lambda was: was[:-2]), "the ball is off"),
    ("depth", {}, {}, spoiled(passes=in_passes(1, radius=0.05)), "depth"),
    ("volume", {}, {}, spoiled(passes=in_passes(2, volume=1.05)), "printed"),
    ("empty pass", {}, {}, spoiled(passes=lambda was: (was[0], was[0], *was[1:])), "takes nothing"),
    ("stick-out", SMALL, {"lathe.jaw_diameter": 120}, spoiled(blank_length_mm=farther(-3.0)),
     "feed screw at"),
    ("stick-out for the wall", {"stem_length": 5}, {}, spoiled(blank_length_mm=farther(-7.0)),
     "meets the jaws"),
    ("stick-out of a long stem", {"stem_length": 200}, {},
     spoiled(blank_length_mm=farther(-3.0)), "too short to part off"),
    ("parted short", {"stem_length": 60}, {}, spoiled(part_off_mm=farther(-1.0)), "not all there"),
    ("longer piece", {"stem_length": 60}, {}, ball_key(stem_length=61.0), "not all there"),
    ("thicker stem", {"stem_length": 60}, {}, ball_key(stem_diameter=14.6), "enters the piece"),
    ("larger ball", {}, {}, ball_key(diameter=40.02), "enters the piece"),
    ("a hole into the neck", {"hole": 13.5, "hole_depth": 15}, {}, spoiled(
        hole=lambda was: replace(was, depth_mm=45.0)), "of neck"),
    ("a hole out at the back", {"hole": 8, "hole_depth": 15}, {}, spoiled(
        hole=lambda was: replace(was, depth_mm=39.8)), "of neck"),
    ("arm nearer", {"stem_length": 5}, {}, head(short_bit), "arm at"),
    ("bit wider", {"stem_length": 5}, {}, head(wide_bit), "tool bit at"),
    ("wider chuck", SMALL, {}, job_key("lathe", chuck_diameter=130.0), "feed screw at"),
    ("start under the centre", {}, CENTRE, spoiled(
        sweep=lambda was: replace(was, start_deg=was.start_deg - 5.0)), "has"),
    ("stub end", {}, {}, second(stub_end_mm=farther(0.5)), "the stub ends elsewhere"),
    ("second's first reading", {}, {}, second(first_mm=farther(-0.3)), "the tip is in the work"),
    ("mouth nearer", {}, {}, second(mouth_mm=farther(40.0)), "second holding, start: arm"),
    ("second too short", {}, {}, second(passes=lambda was: tuple(
        replace(p, cut=replace(p.cut, swing_deg=(0.0, 15.0))) for p in was)), "whole ball is off"),
    ("second pass left out", {}, {}, second(passes=lambda was: was[1:]), "depth"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("ball", "keys", "spoil", "words"),
    [row[1:] for row in SPOILED],
    ids=[row[0] for row in SPOILED],
)
def test_a_spoiled_plan_is_found_out(ball: Keys, keys: Keys, spoil: Spoil, words: str) -> None:
    found = knob(ball, keys)
    faults = spoil(found.trial()).run()
    assert any(part in fault for fault in faults for part in words.split("|")), faults


_KNOBS: dict[str, Case] = {}


def knob(ball: Keys, keys: Keys) -> Case:
    """A knob of the bench lathe, worked out once."""
    key = repr((ball, keys))
    if key not in _KNOBS:
        _KNOBS[key] = case("bench-lathe", KNOB | ball, **keys)
    return _KNOBS[key]


STEEP: tuple[tuple[str, float, str], ...] = (
    ("half a degree more", 0.5, "enters the piece"),
    ("as it is", 0.0, ""),
)


@pytest.mark.parametrize(("more", "words"), [row[1:] for row in STEEP], ids=[r[0] for r in STEEP])
def test_a_handle_steeper_than_was_planned_for(more: float, words: str) -> None:
    # its side is half the difference of its diameters over its length (any handbook)
    steeper = HANDLE["large_diameter"] + 2 * HANDLE["stem_length"] * tan(radians(more))
    faults = ball_key(large_diameter=steeper)(case("bench-lathe", HANDLE).trial()).run()
    assert any(words in fault for fault in faults) if words else not faults


HOLLOWS: list[tuple[str, Callable[[SocketPlan], SocketPlan], str]] = [
    ("nearer the jaws", lambda was: replace(was, out_mm=was.out_mm - 3.0), "has"),
    ("no metal behind", lambda was: replace(was, out_mm=4.0), "stands out too little"),
    ("volume", lambda was: replace(was, passes=(
        replace(was.passes[0], removed_mm3=1.2 * was.passes[0].removed_mm3 + 1), *was.passes[1:]
    )), "printed"),
    ("a pass left out", lambda was: replace(was, passes=was.passes[1:]), "depth"),
    ("not finished", lambda was: replace(was, passes=was.passes[:-2]), "the hollow is off"),
    ("too far", lambda was: replace(was, passes=(*was.passes[:-1], replace(
        was.passes[-1], radius_mm=was.passes[-1].radius_mm + 0.02))), "the hollow is off"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("spoil", "words"), [row[1:] for row in HOLLOWS], ids=[row[0] for row in HOLLOWS]
)
def test_a_spoiled_hollow_is_found_out(
    spoil: Callable[[SocketPlan], SocketPlan], words: str
) -> None:
    wide = {"lathe.jaw_diameter": 150, "lathe.chuck_diameter": 150}
    trial = case("bench-lathe", DISH | {"diameter": 165}, **wide).hollow()
    assert trial.run() == []
    faults = replace(trial, plan=spoil(trial.plan), faults=[]).run()
    assert any(words in fault for fault in faults), faults


def test_an_arm_nearer_to_the_face_of_a_hollow_is_found_out() -> None:
    found = case("bench-lathe", DISH | {"diameter": 162, "depth": 3.5}).hollow()
    assert found.run() == []
    near = Head(
        tuple(p if p.cuts else p.moved(20.0 * p.slides) for p in found.head.prisms),
        found.head.nose_mm,
    )
    assert any("arm at" in fault for fault in replace(found, head=near, faults=[]).run())
