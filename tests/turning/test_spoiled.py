"""The trial of turning plans finds out every plan that is spoiled, one figure at a time."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import radians, tan
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace
from turning.drawn import CENTRE, DISH, HANDLE, KNOB, Case, Keys, case, mm
from turning.swinging import Head
from turning.trial import BallTrial

from planner.turning.model import SecondHolding, SocketPlan

SMALL: Keys = {"diameter": 18, "blank_diameter": 20, "stem_diameter": 7, "stem_length": 5}

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
    ("steps exchanged", {}, {}, steps(lambda was: [was[0], was[2], was[1], *was[3:]]), "of order"),
    ("metal counted", {}, {}, spoiled(roughing=lambda was: replace(
        was, removed_mm3=1.03 * was.removed_mm3)), "roughing takes"),
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
    faults = spoil(replace(found.trial(), every=False)).run()
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


@cache
def near_the_jaws() -> Case:
    """A hollow whose feed screw swings past the jaws."""
    dish = DISH | {"diameter": mm(204), "depth": mm(2), "blank_diameter": mm(52)}
    return case("engine-lathe", dish)


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
    trial = near_the_jaws().hollow()
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
