"""Keys of a ball that are not heeded for its shape are told; without them the same is turned."""

from __future__ import annotations

from typing import Any

import pytest
from turned import job_of, turned_of

from planner.output.sheets.turn import turn_tables

HALF: dict[str, Any] = {"shape": "hemisphere", "diameter": 40, "blank_diameter": 44}
WHOLE: dict[str, Any] = {"diameter": 40, "blank_diameter": 44}
HANDLE = WHOLE | {"shape": "taper handle", "stem_length": 60, "large_diameter": 20}
DISH: dict[str, Any] = {"shape": "socket", "diameter": 160, "depth": 3, "blank_diameter": 50}


def told(ball: dict[str, Any]) -> list[str]:
    return [one.message for one in turned_of(job_of(ball)).findings if one.code == "unused-key"]


@pytest.mark.parametrize(
    ("ball", "more", "words"),
    [
        (HALF, {"stem_diameter": 14}, "parted off at its equator"),
        (HALF, {"stem_length": 20}, "parted off at its equator"),
        (HALF, {"large_diameter": 20, "stem_length": 20}, "parted off at its equator"),
        (HALF, {"second_holding": "cup"}, "parted off at its equator"),
        (HALF, {"depth": 3}, "only a hollow"),
        (HALF, {"hole_depth": 10}, "neither a hole nor a thread"),
        (WHOLE, {"large_diameter": 20}, "only a taper handle"),
        (WHOLE, {"depth": 3}, "only a hollow"),
        (WHOLE, {"hole_depth": 10}, "neither a hole nor a thread"),
        (WHOLE | {"stem_length": 20}, {"second_holding": "cup"}, "in one holding"),
        (HANDLE, {"second_holding": "cup"}, "in one holding"),
        (HANDLE, {"depth": 3}, "only a hollow"),
        (DISH, {"stem_diameter": 14}, "its sphere and depth alone"),
        (DISH, {"thread": "M6", "hole_depth": 10}, "its sphere and depth alone"),
        (DISH, {"hole": 6}, "its sphere and depth alone"),
    ],
)
def test_a_key_that_is_not_heeded_is_told_and_indeed_is_not(
    ball: dict[str, Any], more: dict[str, Any], words: str
) -> None:
    assert told(ball) == []
    (said,) = told(ball | more)
    assert words in said and all(key in said for key in more)
    with_, without = job_of(ball | more), job_of(ball)
    first, second = (turn_tables(turned_of(job), job) for job in (with_, without))
    assert [one.rows for one in first] == [one.rows for one in second]


@pytest.mark.parametrize(
    "ball",
    [
        WHOLE | {"stem_diameter": 14, "stem_length": 20},
        WHOLE | {"second_holding": "cup"},
        WHOLE | {"thread": "M8", "hole_depth": 12},
        HALF | {"thread": "M8", "hole_depth": 12},
        HALF | {"hole": 6, "hole_depth": 12},
        HANDLE | {"stem_diameter": 14},
    ],
)
def test_keys_that_are_heeded_are_not_told(ball: dict[str, Any]) -> None:
    assert told(ball) == []


@pytest.mark.parametrize(
    ("example", "ball", "said"),
    [
        ("bench-lathe", WHOLE | {"tolerance": 0.1}, "each reading 39.9 to 40.1 mm; "),
        # 0.013 allows 39.987 to 40.013: rounded inward to the thimble's hundredths
        ("bench-lathe", HALF | {"tolerance": 0.013}, "each reading 39.99 to 40.01 mm; "),
        ("bench-lathe", WHOLE, ""),
    ],
)
def test_a_reading_is_told_what_it_is_to_lie_between(
    example: str, ball: dict[str, Any], said: str
) -> None:
    job = job_of(ball, example)
    (setup,) = [one for one in turn_tables(turned_of(job), job) if one.name == "setup"]
    (how,) = [row["how"] for row in setup.records() if row["what"] == "measure"]
    assert how.startswith(f"{said}tip at the nose")
