"""Where jaws cannot close on a round: between thicker ends, or balls, on both its sides."""

from __future__ import annotations

import pytest

from parts.frame import Box
from planner.making.bodies import Body, Round, between


def turned(*rounds: tuple[float, float, float], low: float = 0.0, high: float = 60.0) -> Body:
    """A body along x of rounds: from, to, diameter; low, high: how far the whole reaches."""
    made = tuple(Round(a, b, d, f"r{k}") for k, (a, b, d) in enumerate(rounds))
    return Body("made", Box((low, -20.0, -20.0), (high, 20.0, 20.0)), 0, 40.0, made)


@pytest.mark.parametrize(
    ("one", "is_between"),
    [
        (turned((0, 20, 30), (20, 40, 10), (40, 60, 30)), True),
        (turned((0, 20, 8), (20, 40, 10), (40, 60, 30)), False),  # open to the left
        (turned((0, 20, 30), (20, 40, 10), (40, 60, 8)), False),  # open to the right
        (turned((0, 20, 10), (20, 40, 10), (40, 60, 10)), False),
        # a ball past the last of the rounds is as a thicker end
        (turned((0, 20, 8), (20, 40, 10), (40, 60, 30), low=-15.0), True),
        (turned((0, 20, 30), (20, 40, 10), (40, 60, 8), high=75.0), True),
        (turned((0, 20, 8), (20, 40, 10), (40, 60, 8), high=75.0), False),
    ],
)
def test_a_neck_is_thicker_on_both_its_sides(one: Body, is_between: bool) -> None:
    assert between(one, one.rounds[1]) is is_between
