"""How far the end of a bar is tapped and drilled, where the piece is parted off through the thread."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from parts.features import TappedHole
from parts.frame import Axis
from parts.standard.series import METRIC
from planner.making.ways.holes import _tapped_to

AT_END = SimpleNamespace(shop=SimpleNamespace(job=SimpleNamespace(series=METRIC)))


@pytest.mark.parametrize(
    ("along", "entry", "end", "tapped", "drilled"),
    [
        # M10, 1.5 mm of pitch, 15 deep and 1 more to part and face off; a tap's lead of three pitches
        ("+x", 0.0, 90.0, 16.0, 20.5),
        ("-x", 80.0, 0.0, 64.0, 59.5),
        # no farther than the bar is long
        ("+x", 0.0, 18.0, 16.0, 18.0),
        ("-x", 80.0, 62.0, 64.0, 62.0),
        ("-x", 80.0, 70.0, 70.0, 70.0),
    ],
)
def test_a_thread_goes_past_where_it_is_parted_off_and_the_hole_past_the_thread(
    along: Any, entry: float, end: float, tapped: float, drilled: float
) -> None:
    hole = TappedHole(
        name="t", datum="A", axis=Axis((entry, 0.0, 0.0), along), depth_mm=15.0, thread="M10",
        through=True,
    )  # fmt: skip
    assert _tapped_to(hole, entry, end, AT_END) == pytest.approx((tapped, drilled))  # type: ignore[arg-type]
