"""A key that a ball's shape has nothing for is told, and such alone: without it nothing is other."""

from __future__ import annotations

import pytest
from turned import coarse_job, turned_of

BALL: dict[str, object] = {"diameter": 40, "blank_diameter": 42}
HALF = {"shape": "hemisphere"}
HOLLOW = {"shape": "socket", "diameter": 260, "depth": 2, "blank_diameter": 40}
HANDLE = {"shape": "taper handle", "stem_length": 60, "large_diameter": 20, "stem_diameter": 12}


def told(row: dict[str, object]) -> tuple[dict[str, str], object]:
    """What is told of unused keys by key, and all else that is found and planned."""
    found = turned_of(coarse_job(BALL | row))
    said = {f.key.rpartition(".")[2]: f.text for f in found.findings if f.code == "unused-key"}
    rest = [f.text for f in found.findings if f.code != "unused-key"]
    plans = [
        (one.roughing, one.passes, one.second, one.hole, one.blank_length_mm, one.behind)
        for one in found.balls
    ]
    return said, (rest, plans, [one.passes for one in found.sockets])


@pytest.mark.parametrize(
    ("row", "key", "value", "says"),
    [
        # half a ball is parted off at its equator, a hollow is faced and has nothing behind, a thread
        # wants a hole (common practice)
        (HALF, "stem_length", 20, "no stem stays on it. Leave it out"),
        (HALF, "stem_diameter", 12, "no stem stays on it. Leave it out"),
        (HALF, "large_diameter", 20, 'Leave it out, or say shape = "taper handle"'),
        (HALF, "depth", 5, 'Leave it out, or say shape = "socket"'),
        ({}, "large_diameter", 20, 'Leave it out, or say shape = "taper handle"'),
        ({}, "depth", 5, 'Leave it out, or say shape = "socket"'),
        ({}, "hole_depth", 10, "Give its hole or its thread, or leave it out"),
        (HANDLE, "depth", 5, 'Leave it out, or say shape = "socket"'),
        (HOLLOW, "stem_length", 20, "a hollow has no stem, and no hole. Leave it out"),
        (HOLLOW, "stem_diameter", 12, "a hollow has no stem, and no hole. Leave it out"),
        (HOLLOW, "hole", 6, "a hollow has no stem, and no hole. Leave it out"),
        (HALF, "second_holding", "cup", "in one holding"),
        (HANDLE, "second_holding", "cup", "of a whole ball. Leave it out"),
        ({"stem_length": 20}, "second_holding", "cup", "Leave it out, or its stem_length"),
        (HOLLOW, "thread", "M6", "a hollow has no stem, and no hole. Leave it out"),
    ],
)
def test_what_a_shape_has_nothing_for_is_told(
    row: dict[str, object], key: str, value: object, says: str
) -> None:
    said, rest = told(row | {key: value})
    assert list(said) == [key] and says in said[key]
    assert told(row) == ({}, rest)


@pytest.mark.parametrize(
    ("row", "key", "value"),
    [
        ({}, "stem_length", 20),
        ({}, "stem_diameter", 12),
        ({}, "thread", "M6"),
        ({}, "second_holding", "soft jaws"),
        ({"thread": "M6"}, "hole_depth", 12),
        (HALF, "hole", 6),
        (HOLLOW, "depth", 1.5),
        (HANDLE, "large_diameter", 16),
    ],
)
def test_what_is_used_is_not(row: dict[str, object], key: str, value: object) -> None:
    said, rest = told(row | {key: value})
    assert said == {} and rest != told(row)[1]
