"""What is wrong with readings, each just inside and just outside its bound, its words by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from planner.measuring.correct import CannotFit, Measured, Pip, Reading, Rig, Size, correct
from planner.measuring.correct.faults import problems
from planner.words.numbers import Numbers

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
        "accuracy: 0 mm: must be a finite length above zero. Measure it and write it with its unit"
    )


def test_a_stem_or_an_anvil_may_be_nothing_but_not_less() -> None:
    assert told(replace(ROUND, stem_mm=0.0, anvil_mm=0.0)) == []
    assert told(replace(ROUND, stem_mm=-0.1)) == [
        (
            "out-of-range",
            "stem diameter: -0.1 mm: must be a finite length of zero or more."
            " Measure it and write it with its unit",
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


def test_readings_a_fifth_from_what_was_wanted_are_of_no_such_ball() -> None:
    for diameter in (24.0, 36.0):
        assert told(readings((90.0, diameter))) == []
    for diameter in (23.9, 36.1):
        assert told(readings((90.0, diameter))) == [
            (
                "reading-slip",
                f"readings: median {diameter:g} mm: must be within 20% of the ball's 30 mm."
                " Look for a slip of digit, or inches among millimetres",
            )
        ]


RADII = "half the ball's size: radii entered for diameters"
DOUBLED = "twice the ball's size: diameters taken for radii and doubled, or the job has the ball's"
DOUBLED += " radius for its diameter"
SLIPS = [
    # how a reading of the ball comes to stand in the file, and what it is called
    (0.5, RADII),
    (2.0, DOUBLED),
    (1 / 25.4, "a 25.4th of the ball's size: inches entered as millimetres"),
    (25.4, "25.4 times the ball's size: millimetres entered as inches"),
    (0.1, "a tenth of the ball's size: the decimal point"),
    (10.0, "ten times the ball's size: the decimal point"),
]


@pytest.mark.parametrize("wanted", [4.0, 36.0, 300.0])
@pytest.mark.parametrize(("factor", "name"), SLIPS)
@pytest.mark.parametrize("inch", [False, True])
@pytest.mark.parametrize("most", [None, 1.0])
def test_a_slip_of_all_readings_is_called_by_its_name(
    wanted: float, factor: float, name: str, inch: bool, most: float | None
) -> None:
    # a ball 0.02 mm over its size, read at the equator and half way, each reading with the same slip
    rows = tuple(Reading(a, (wanted + 0.02) * factor) for a in (55.0, 90.0, 75.0))
    ball = Measured(rows, 0.005, wanted, 0.35 * wanted * min(factor, 1.0))
    rig = replace(RIG, most_mm=most)
    (found,) = problems(ball, rig, Numbers(inch))
    assert (found.code, found.where) == ("reading-slip", "readings")
    assert found.limit.endswith(f"and is {name}")
    unit = " in" if inch else " mm"
    assert found.value.endswith(unit) and unit in found.limit
    # rightly entered there is nothing to say; nor of a ball that lies as far off as it may
    for size in (wanted + 0.02, 0.9 * wanted, 1.1 * wanted):
        good = tuple(Reading(a, size) for a in (55.0, 90.0, 75.0))
        assert problems(replace(ball, readings=good, stem_mm=0.0), rig) == ()


@pytest.mark.parametrize(
    ("entered", "meant"),
    [
        (63.02, "36.02 mm is likely meant: two digits exchanged"),
        (3.602, "36.02 mm is likely meant: the decimal point"),
        (360.2, "36.02 mm is likely meant: the decimal point"),
        (18.01, "36.02 mm is likely meant: a radius entered among diameters"),
        (72.04, "36.02 mm is likely meant: a diameter taken for a radius and doubled"),
        (36.02 / 25.4, "36.02 mm is likely meant: inches entered as millimetres"),
        (36.02 * 25.4, "36.02 mm is likely meant: millimetres entered as inches"),
        (49.5, "Look for a slip of digit, or inches among millimetres"),
    ],
)
@pytest.mark.parametrize("rest", [(36.01,), (36.01, 36.03), (36.01, 36.03, 36.05)])
@pytest.mark.parametrize("place", [0, -1])
def test_one_slip_among_readings_is_told_by_its_place(
    entered: float, meant: str, rest: tuple[float, ...], place: int
) -> None:
    sizes = [entered, *rest] if place == 0 else [*rest, entered]
    rows = tuple(Reading(a, d) for a, d in zip((90.0, 80.0, 65.0, 50.0), sizes, strict=False))
    ball = Measured(rows, 0.005, 36.0, 12.6)
    (found,) = problems(ball, replace(RIG, most_mm=1.0))
    where = 1 if place == 0 else len(sizes)
    assert (found.code, found.where) == ("reading-slip", f"reading {where}")
    assert found.remedy.startswith(meant)


def test_a_slip_is_named_in_inches_where_the_job_is() -> None:
    # 1.418 in entered as 4.118
    rows = (Reading(90.0, 36.017), Reading(70.0, 4.118 * 25.4), Reading(60.0, 36.017))
    (found,) = problems(Measured(rows, 0.005, 36.0), replace(RIG, most_mm=1.0), Numbers(True))
    assert found.remedy.startswith("1.418 in is likely meant: two digits exchanged")
    assert found.value.startswith("4.118 in at")


def test_readings_differ_by_no_more_than_the_farthest_skew_makes_them() -> None:
    # D = 2 (R + h sin a): between the pole and the equator 2 h, so 2 mm for a skew of one turn of 1 mm
    rig = replace(RIG, most_mm=1.0)
    assert told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 31.999)), rig) == []
    slip = "Look for a slip of digit, or inches among millimetres"
    ((code, text),) = told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 32.001)), rig)
    assert code == "reading-slip" and text.startswith(
        "reading 3: 32.001 mm at 90 degrees: more than 2 mm from where the readings stand, 30 mm."
    )
    # where nothing is known of the dial a fifth of the ball, of three readings from the middle one,
    # of four from between the two in the middle
    assert told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 36.0))) == []
    assert told(readings((60.0, 30.0), (80.0, 30.0), (90.0, 37.1))) == [
        (
            "reading-slip",
            "reading 3: 37.1 mm at 90 degrees: more than 6 mm from where the readings stand,"
            f" 30 mm. {slip}",
        )
    ]
    four = readings((60.0, 30.0), (70.0, 30.0), (80.0, 32.0), (90.0, 37.4))
    assert [text.split(": ")[2] for _, text in told(four)] == [
        f"more than 6 mm from where the readings stand, 31 mm. {slip}"
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
