"""Where a ball has a tolerance, the step that measures it says between what each reading is to lie."""

from __future__ import annotations

from typing import Any

import pytest
from turned import job_of, turned_of

from planner.output.sheets.turn import turn_tables

HALF: dict[str, Any] = {"shape": "hemisphere", "diameter": 40, "blank_diameter": 44}
WHOLE: dict[str, Any] = {"diameter": 40, "blank_diameter": 44}


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
