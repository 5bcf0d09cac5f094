"""The picture of a ball in its blank and that of its error: what is drawn against sizes of the job."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from jobs import ROOT, planned
from picture_boxes import SVG, overlapping, points_of, words_of
from turned import job_of, plan_of

from planner.output.pictures.check import sweep_svg
from planner.output.pictures.turning import error_svg, turning_svg
from planner.output.pictures.turning_spots import spot_svg

Point = tuple[float, float]


def lines_of(picture: str) -> list[list[Point]]:
    return [points_of(path) for path in ElementTree.fromstring(picture).iter(f"{SVG}path")]


@pytest.mark.parametrize(
    ("ball", "small", "large", "far"),
    [
        # a handle from 14 to 20, 60 long behind the shoulder, root(20^2 - 7^2) behind the centre
        (
            {"shape": "taper handle", "stem_length": 60, "large_diameter": 20},
            *(7.0, 10.0, (20**2 - 7**2) ** 0.5 + 60),
        ),
        ({"stem_length": 15}, 7.0, 7.0, (20**2 - 7**2) ** 0.5 + 15),
        # parted 1 mm behind the pole, for the second holding
        ({}, 7.0, 7.0, 21.0),
    ],
)
def test_the_piece_behind_the_ball_is_drawn_as_it_will_be(
    ball: dict[str, object], small: float, large: float, far: float
) -> None:
    job = job_of({"diameter": 40, "blank_diameter": 42, "stem_diameter": 14} | ball)
    (piece,) = [
        line
        for line in lines_of(turning_svg(plan_of(job), job))
        if len(line) == 4 and min(z for z, _ in line) == pytest.approx(-far, abs=0.02)
    ]
    assert [y for _, y in piece] == pytest.approx([small, large, -large, -small], abs=0.02)


@pytest.mark.parametrize("across", [24, 30, 44])
def test_no_words_of_a_short_blank_lie_on_each_other(across: int) -> None:
    ball = {"shape": "hemisphere", "diameter": across, "blank_diameter": across + 2}
    job = job_of(ball)
    root = ElementTree.fromstring(turning_svg(plan_of(job), job))
    assert len(words_of(root)) >= 4 and overlapping(words_of(root)) == []


def test_a_ball_swung_behind_a_centre_is_drawn_whole_at_its_nose() -> None:
    centre = {"turning.tailstock_centre": {"diameter": 12, "point_length": 12}}
    job = job_of({"diameter": 40, "blank_diameter": 42, "stem_length": 40}, **centre)
    lines = lines_of(turning_svg(plan_of(job), job))
    (ball,) = [line for line in lines if len(line) == 2 * 91]
    assert max(z for z, _ in ball) == pytest.approx(20.0, abs=0.02)


def test_the_words_of_the_error_stand_off_what_is_drawn() -> None:
    for across in (24.0, 40.0):
        plan = plan_of(job := job_of({"diameter": across, "blank_diameter": across + 2}))
        for skew in (0.01, 0.05):
            picture = error_svg(plan, job, skew, 0.05)
            words = words_of(ElementTree.fromstring(picture))
            (swing,) = [box for said, box in words if "swing" in said]
            lowest = min(y for line in lines_of(picture) for _, y in line)
            assert swing[3] < lowest


def test_a_picture_calls_a_ball_by_the_size_that_the_job_gives_it() -> None:
    # a tow ball of 2-5/16 in is 2.3125 (the inch is 25.4 mm, NIST SP 811): no title has 2.312 or 2.313
    plan = planned(ROOT / "tests" / "data" / "inch-jobs" / "twelve-inch.toml")
    (ball,) = [one for one in plan.turned.balls if one.ball.name == "tow ball"]
    (swept,) = [one for one in plan.clearances if one.ball.name == "tow ball"]
    for picture in (
        turning_svg(ball, plan.job),
        sweep_svg(plan.attachment, plan.job, swept),
        spot_svg(ball, plan.attachment, plan.job),
    ):
        (title,) = {one for one in re.findall(r">([^<>]*tow ball[^<>]*)<", picture)}
        assert "2-5/16 in" in title and "2.31" not in title
