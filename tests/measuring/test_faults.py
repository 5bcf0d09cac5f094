"""What is wrong with readings, each just inside and just outside its bound, its words by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.measuring.correct import CannotFit, Measured, Pip, Reading, Rig, Size, correct
from planner.measuring.correct.faults import problems

RIG = Rig("across", 0.01, 0.02)
ROUND = Measured((Reading(60.0, 30.0), Reading(90.0, 30.0)), 0.01, 30.0)


def told(measured: Measured, rig: Rig = RIG) -> list[tuple[str, str]]:
    """Code and the whole sentence of each problem."""
    return [
        (one.code, f"{one.where}: {one.value}: {one.limit}. {one.remedy}")
        for one in problems(measured, rig)
    ]


def readings(*pairs: tuple[float, float]) -> Measured:
    return replace(ROUND, readings=tuple(Reading(*pair) for pair in pairs))


def test_good_readings_have_none() -> None:
    assert told(ROUND) == []
    with pytest.raises(CannotFit) as caught:
        correct(replace(ROUND, accuracy_mm=0.0), RIG)
    assert str(caught.value) == (
        "accuracy: 0 mm: must be a finite length above zero. Measure it and write it in millimetres"
    )


def test_a_stem_or_an_anvil_may_be_nothing_but_not_less() -> None:
    assert told(replace(ROUND, stem_mm=0.0, anvil_mm=0.0)) == []
    assert told(replace(ROUND, stem_mm=-0.1)) == [
        (
            "out-of-range",
            "stem diameter: -0.1 mm: must be a finite length of zero or more."
            " Measure it and write it in millimetres",
        )
    ]


def test_a_pip_is_smaller_than_its_ball() -> None:
    assert told(replace(ROUND, readings=(), pips=(Pip(29.9, 0.1, 30.0),))) == []
    assert told(replace(ROUND, readings=(), pips=(Pip(30.0, 0.1, 30.0),))) == [
        ("out-of-range", "pip 1: 30 mm: must be less than its ball's 30 mm. Measure again")
    ]


def test_a_size_a_fifth_from_what_was_set_is_a_slip() -> None:
    # a radius among diameters is off by half, a digit by more: a fifth tells them (common practice)
    for diameter in (36.0, 24.0):
        assert told(replace(ROUND, sizes=(Size(30.0, diameter, 0.01),))) == []
    assert told(replace(ROUND, sizes=(Size(30.0, 36.1, 0.01),))) == [
        (
            "reading-slip",
            "size 1: 36.1 mm: more than 20% from the 30 mm set."
            " Look for a slip of digit, or a radius among diameters",
        )
    ]


def test_nothing_measured_is_told() -> None:
    assert told(replace(ROUND, readings=())) == [
        ("no-readings", "readings: none: need one or a pip. Measure across the ball")
    ]


def test_angles_run_from_the_nose_to_180() -> None:
    for angle in (0.0, 180.0):
        assert told(readings((angle, 30.0))) == []
    for angle in (-0.1, 180.1):
        assert told(readings((angle, 30.0))) == [
            (
                "reading-angle",
                f"reading 1: angle {angle:g} degrees: must be 0 at the nose to 180."
                " The equator is at 90",
            )
        ]


def test_readings_half_to_twice_what_was_wanted() -> None:
    for diameter in (15.0, 60.0):
        assert told(readings((90.0, diameter))) == []
    for diameter in (14.9, 60.1):
        assert told(readings((90.0, diameter))) == [
            (
                "reading-slip",
                f"readings: median {diameter:g} mm: must be within half to twice the wanted 30 mm."
                " Look for a slip of digit, or inches among millimetres",
            )
        ]


def test_one_reading_a_fifth_from_the_others_is_a_slip() -> None:
    # of three, the middle one is the median; of four, the mean of the two in the middle
    assert told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 36.0))) == []
    slip = "Look for a slip of digit, or inches among millimetres"
    assert told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 36.1))) == [
        (
            "reading-slip",
            f"reading 3: 36.1 mm at 90 degrees: more than 20% from the median 30 mm. {slip}",
        )
    ]
    four = readings((60.0, 30.0), (70.0, 30.0), (80.0, 32.0), (90.0, 37.3))
    assert [text.split(": ")[2] for _, text in told(four)] == [
        "more than 20% from the median 31 mm. Look for a slip of digit, or inches among millimetres"
    ]


def test_an_anvil_keeps_off_the_stem() -> None:
    # a stem of half the ball leaves it at asin(1/2) = 30 degrees, from either end
    ball = replace(readings((30.1, 30.0), (149.9, 30.0)), stem_mm=15.0)
    assert told(ball) == []
    for angle in (29.9, 150.1):
        assert told(replace(readings((angle, 30.0)), stem_mm=15.0)) == [
            (
                "on-the-stem",
                f"reading 1: 30 mm at {angle:g} degrees: an anvil is on the stem up to 30.0 and from"
                " 150.0 degrees. Measure nearer the equator",
            )
        ]
    assert told(replace(readings((90.0, 30.0)), stem_mm=30.0)) == [
        (
            "stem-size",
            "stem diameter: 30 mm: must be less than the ball's 30 mm."
            " Look for a slip of digit, or inches among millimetres",
        )
    ]


def test_of_two_pips_the_one_nearest_the_balls_size_is_kept_off() -> None:
    # a pip of 6 on a ball of 30 reaches to 2 atan 0.2 = 22.6 degrees, one of 1 on 50 to 2.3
    pips = (Pip(1.0, 0.1, 50.0), Pip(6.0, 0.1, 30.0))
    measured = replace(readings((20.0, 30.0), (90.0, 30.0)), pips=pips)
    assert [code for code, _ in told(measured)] == ["on-the-pip"]
    assert told(replace(measured, pips=pips[:1])) == []


def test_an_anvil_keeps_off_the_pip() -> None:
    # tan(a / 2) under p / R: a pip of 3 on a ball of 30 reaches to 2 atan 0.1 = 11.42 degrees
    for angle, codes in ((11.5, []), (11.3, ["on-the-pip"])):
        ball = replace(readings((angle, 30.0)), pips=(Pip(3.0, 0.1, 30.0),))
        assert [code for code, _ in told(ball)] == codes
    assert told(ball)[0][1] == (
        "reading 1: 30 mm at 11.3 degrees: an anvil rests on the pip. Measure beside the pip"
    )
