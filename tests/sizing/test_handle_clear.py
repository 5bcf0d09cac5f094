"""The handle comes down to level at the nose, behind the shank's end: what is off in both never meets.

ISO 2768-m: a length from 30 to 120 mm may be off by 0.3, one from 120 to 400 by 0.5.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT, planned

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


def gap_mm(path: Path) -> tuple[float, float, float]:
    """From the shank's end to the handle along the pivot, off the parts; shank and handle's place."""
    whole = planned(path).attachment
    handle = next(one for one in whole.placed if one.name == "handle")
    housing = next(one for one in whole.placed if one.name == "housing").item
    assert isinstance(housing, Part) and isinstance(housing.blank, Joined)
    shank = next(one for one in housing.blank.members if one.name == "shank")
    s, long = whole.sizes, shank.blank.length_mm
    at = s.thrust_x_mm - handle.frame.origin[0]
    return at - s.handle_stock.width_mm / 2 - s.setback_mm - long, long, at


FLAT = {"M3": 2.0, "M4": 2.5, "M5": 3.5, "M6": 4.0, "M8": 5.5, "No.6-32 UNC": 2.2}
"""The flat of a set screw's end, mm: ISO 4026; ASME B18.3 for No.6 (0.087 in; from memory)."""


def off_the_screw(path: Path) -> tuple[float, str] | None:
    """How far the handle's underside crosses beside the middle of its stop screws, and their thread."""
    placed = planned(path).attachment.placed
    handle = next(one for one in placed if one.name == "handle").frame.origin[0]
    for one in placed:
        if one.name.startswith("stops the swing"):
            assert isinstance(one.item, Bought) and one.item.thread
            return abs(one.frame.origin[0] - handle), one.item.thread
    return None


@pytest.mark.parametrize("path", [*EXAMPLES, *DATA], ids=lambda path: path.stem)
def test_the_handle_clears_the_shank_or_lies_as_far_off_as_its_stops_let_it(path: Path) -> None:
    gap, long, at = gap_mm(path)
    lies, clear = off_the_screw(path), gap + 1e-6 >= off_mm(long) + off_mm(at)
    assert gap > -1e-6 and (clear or lies is not None)
    if lies is not None and not clear:  # half a millimetre farther it came off the flat, or is off
        assert lies[0] + 0.5 > FLAT.get(lies[1], 0.6 * thread(lies[1]).major_mm) / 2 - 1e-6


@pytest.mark.parametrize("path", [*EXAMPLES, *DATA], ids=lambda path: path.stem)
def test_it_is_not_moved_off_the_flat_of_the_screws_that_stop_it(path: Path) -> None:
    """A round bar touches a flat end along the line under its middle: beside the flat it would slide
    off (geometry). A handle that is much thicker than the bar stands behind the shank all the same."""
    lies = off_the_screw(path)
    s = planned(path).attachment.sizes
    if lies is not None and lies[0] > FLAT.get(lies[1], 0.6 * thread(lies[1]).major_mm) / 2:
        assert lies[0] <= (s.handle_stock.width_mm - s.stop_mm) / 2 + 1e-6


def test_where_it_may_meet_the_shank_that_is_filed_as_it_is_put_together() -> None:
    plan = planned(EXAMPLES[0])
    said = [op.text for op in plan.route.operations if op.kind == "check"]
    assert any("the shank's end too, or that is filed back" in one for one in said)
