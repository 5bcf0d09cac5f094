"""The handle comes down to level at the nose, behind the shank's end: what is off in both never meets.

ISO 2768-m: a length from 30 to 120 mm may be off by 0.3, one from 120 to 400 by 0.5.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT, planned
from msgspec.structs import replace

from parts.attachment import attachment
from parts.part import Bought, Joined, Part
from parts.standard.threads import thread

DATA = sorted(
    path
    for room in ("shops", "jobs", "inch-jobs")
    for path in (ROOT / "tests/data" / room).glob("*.toml")
)


def off_mm(length: float) -> float:
    """How far a length may be off."""
    return 0.3 if length <= 120.0 else 0.5


def gap_mm(path: Path, **sizes: float) -> tuple[float, float, float]:
    """From the shank's end to the handle along the pivot, off the parts; shank and handle's place."""
    plan = planned(path)
    whole = attachment(replace(plan.sizing.sizes, **sizes)) if sizes else plan.attachment
    handle = next(one for one in whole.placed if one.name == "handle")
    housing = next(one for one in whole.placed if one.name == "housing").item
    assert isinstance(housing, Part) and isinstance(housing.blank, Joined)
    shank = next(one for one in housing.blank.members if one.name == "shank")
    s, long = whole.sizes, shank.blank.length_mm
    at = s.thrust_x_mm - handle.frame.origin[0]
    return at - s.handle_stock.width_mm / 2 - s.setback_mm - long, long, at


@pytest.mark.parametrize("path", [*EXAMPLES, *DATA], ids=lambda path: path.stem)
def test_the_handle_clears_the_shank_that_came_out_long(path: Path) -> None:
    gap, long, at = gap_mm(path)
    assert gap + 1e-6 >= off_mm(long) + off_mm(at)


def test_nor_does_a_thick_handle_of_ones_own_meet_it() -> None:
    gap, long, at = gap_mm(EXAMPLES[0], shank_length_mm=140.0)
    assert gap + 1e-6 >= off_mm(long) + off_mm(at)


@pytest.mark.parametrize("path", [*EXAMPLES, *DATA], ids=lambda path: path.stem)
def test_it_lies_on_the_ends_of_the_screws_that_stop_it(path: Path) -> None:
    """A round bar on a flat end touches it along the line under its middle: beside the end, the screw's
    edge would push it off (geometry)."""
    placed = planned(path).attachment.placed
    handle = next(one for one in placed if one.name == "handle").frame.origin[0]
    for one in placed:
        if one.name.startswith("stops the swing"):
            assert isinstance(one.item, Bought)
            half = thread(one.item.thread).major_mm / 2
            assert abs(one.frame.origin[0] - handle) <= half + 1e-6
