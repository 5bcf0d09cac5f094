"""How long a quarter turn of the head takes, as the spindle's row tells it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from jobs import EXAMPLES, planned

from planner.output.sheets.turn_rows import spindle_row


@pytest.mark.parametrize(
    ("speeds", "told"),
    # 90 degrees at 3 a turn are 30 turns: 3 s at 600 rev/min, 6 s at 300 (arithmetic)
    [((600.0, 600.0), "in 3 s, evenly"), ((300.0, 600.0), "in 3 s to 6 s, evenly")],
)
def test_one_time_is_told_once(speeds: tuple[float, ...], told: str) -> None:
    """As it was: in 5 s to 5 s."""
    passes: Any = [
        SimpleNamespace(cut=SimpleNamespace(rev_min=one, deg_per_turn=3.0)) for one in speeds
    ]
    row = spindle_row(passes, planned(EXAMPLES[0]).job.numbers)
    assert f"a quarter of a turn of the head {told};" in row.how
