"""Measured balls to the record and back: what is one ball, what counts once, what is compared."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from planner.measuring.correct import (
    Correction,
    Estimate,
    Measured,
    Pip,
    Reading,
    Rig,
    Size,
    correct,
)
from planner.measuring.correct.model import Toleranced
from planner.measuring.log import as_turned, earlier_of, readings_sha256, same_ball, verdict
from planner.record.model import BallTurned

RIG = Rig("across", 0.01, 0.02)
ONE = Measured((Reading(90.0, 30.02), Reading(60.0, 30.01)), 0.004, 30.0)


def line(
    measured: Measured = ONE, name: str = "knob", piece: str = "", number: int = 1, rig: Rig = RIG
) -> BallTurned:
    ball = as_turned(measured, rig, name, piece, "")
    return ball.model_copy(update={"setting": ball.setting.model_copy(update={"number": number})})


def rows(*pairs: tuple[float, float]) -> Measured:
    return replace(ONE, readings=tuple(Reading(*pair) for pair in pairs))


def test_what_is_measured_comes_back_as_it_was() -> None:
    full = replace(
        ONE, pips=(Pip(0.0, 0.05, 30.0),), sizes=(Size(30.0, 30.05, 0.01),), before_nose=True
    )
    other = line(rows((90.0, 30.5), (60.0, 30.4)))
    other = other.model_copy(update={"before_nose": True})
    found = earlier_of([BallTurned.model_validate_json(line(full).model_dump_json())], other, 1)
    assert found.series[0].readings == full.readings and found.series[0].accuracy_mm == 0.004
    assert (found.pips, found.sizes) == (full.pips, full.sizes)


def test_the_hash_is_of_what_was_measured_and_of_which_ball() -> None:
    changed = [
        line(rows((90.0, 30.02), (60.0, 30.011))),
        line(rows((90.0, 30.02), (61.0, 30.01))),
        line(replace(ONE, accuracy_mm=0.005)),
        line(replace(ONE, pips=(Pip(0.1, 0.05, 30.0),))),
        line(replace(ONE, sizes=(Size(30.0, 30.1, 0.01),))),
        line(replace(ONE, before_nose=True)),
        line(name="lever"),
        line(piece="2"),
        line(rig=Rig("upright", 0.01, 0.02)),
    ]
    hashes = {readings_sha256(one) for one in [line(), *changed]}
    assert len(hashes) == 1 + len(changed) and all(len(one) == 16 for one in hashes)
    again = line(replace(ONE, tolerance_mm=0.1, anvil_mm=6.0, stem_mm=4.0), number=3)
    assert readings_sha256(again) == readings_sha256(line())
    dated = line().model_copy(update={"date": None, "note": "mine", "verdict": "good"})
    assert readings_sha256(dated) == readings_sha256(line())


@pytest.mark.parametrize(
    ("pairs", "one"),
    [
        (((90.0, 30.02), (60.0, 30.01)), True),
        (((90.0, 30.02), (60.0, 30.01), (45.0, 30.0), (40.0, 30.0)), True),  # measured on
        (((90.0, 30.02), (60.0, 30.03)), True),  # a slip mended
        (((90.0, 30.03), (60.0, 30.03)), False),
        (((80.0, 30.02), (50.0, 30.01)), False),
        (((90.0, 30.02), (60.0, 30.03), (45.0, 30.0)), True),
    ],
)
def test_files_that_share_half_their_readings_are_of_one_ball(
    pairs: tuple[tuple[float, float], ...], one: bool
) -> None:
    now, before = line(rows(*pairs)), line()
    assert same_ball(now, before) is same_ball(before, now) is one
    assert len(earlier_of([before], now, 1).series) == (0 if one else 1)
    named = line(rows(*pairs), piece="2")
    assert same_ball(named, before) is one  # one of them without a name: as before
    assert not same_ball(named, line(piece="1"))
    assert same_ball(line(rows((20.0, 31.0)), piece="1"), line(piece="1"))
    assert not same_ball(line(rows(*pairs), name="lever"), before)


def test_of_several_lines_of_one_ball_the_last_counts() -> None:
    fuller = line(rows((90.0, 30.02), (60.0, 30.01), (45.0, 30.005)))
    now = line(rows((90.0, 30.3), (60.0, 30.2)))
    (series,) = earlier_of([line(), fuller], now, 1).series
    assert len(series.readings) == 3
    (series,) = earlier_of([fuller, line()], now, 1).series
    assert len(series.readings) == 2


def test_only_balls_of_the_same_setting_are_compared() -> None:
    now = line(rows((90.0, 30.3), (60.0, 30.2)))
    by_hand = as_turned(ONE, RIG, "knob", "", "")  # without a number
    assert by_hand.setting.number is None
    upright = line(rig=Rig("upright", 0.01, 0.02))
    assert earlier_of([line(number=2), by_hand, upright], now, 1).series == ()
    assert len(earlier_of([line(number=2), by_hand, upright], now, 2).series) == 1


def test_a_pip_or_a_size_in_several_files_counts_once() -> None:
    pips, sizes = (Pip(0.1, 0.05, 30.0), Pip(0.2, 0.05, 20.0)), (Size(30.0, 30.05, 0.01),)
    now = line(Measured((), 0.004, 30.0, pips=pips[:1]))
    before = [line(Measured((), 0.004, 30.0, pips=pips, sizes=sizes), name=n) for n in "abc"]
    found = earlier_of(before, now, 1)
    assert (found.pips, found.sizes) == (pips[1:], sizes)
    crossed = line(Measured((), 0.004, 30.0, pips=pips[1:], before_nose=True), name="d")
    assert earlier_of([crossed], now, 1).pips == ()


@pytest.mark.parametrize(
    ("diameter", "tolerance", "said"),
    [
        (30.0, 0.05, "good"),
        (30.2, 0.05, "rework"),
        (29.8, 0.05, "scrap"),  # no metal comes back
        (30.05, 0.05, "unknown"),
        (30.2, None, "unknown"),
    ],
)
def test_the_verdict_is_the_tolerances(diameter: float, tolerance: float | None, said: str) -> None:
    ball = replace(rows(*((a, diameter) for a in (90.0, 60.0, 30.0, 20.0))), tolerance_mm=tolerance)
    assert verdict(correct(ball, RIG)) == said


def test_a_ball_too_small_anywhere_is_scrap() -> None:
    judged = Toleranced("outside", Estimate(0.2, 0.01), True)
    assert verdict(Correction(None, None, (), tolerance=judged)) == "scrap"
