"""A saw that is fed by hand follows a line: who is to saw beside one has scribed it before (common
practice)."""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import of

from planner.making.outfit import SAID_TOOLS, outfit

SHEET = {"thickness": 3, "width": 120, "length": 180, "material": "S235"}


@pytest.mark.parametrize(
    ("example", "changes", "scribed"),
    [
        ("engine-lathe", {}, "scribed first,"),
        ("engine-lathe", {"shop.sheet": [{**SHEET, "thickness": "3 mm", "width": "120 mm",
                                          "length": "180 mm"}]}, "scribed round the template first,"),
        ("bench-lathe", {}, "scribed round the template first,"),
        ("bench-lathe", {"shop.sheet": []}, "scribed first,"),
        ("inch-lathe", {}, "scribed first,"),
    ],
    ids=["bandsaw", "bandsaw, template", "hacksaw, template", "hacksaw", "inch"],
)  # fmt: skip
def test_the_lines_of_a_notch_are_scribed_before_they_are_sawn_by(
    example: str, changes: dict[str, Any], scribed: str
) -> None:
    """As it was: "saw arm notch 1 mm from both lines" on the bandsaw, and the first word of a line
    that is scribed, if any, at the file in the set-up after it; no scriber on the list for it."""
    job, _, route = of(example, **changes)
    sawn = next(
        one
        for one in route.operations
        if one.kind in ("saw", "file") and "arm notch" in one.text and "saw " in one.text
    )
    assert f" its lines, {scribed}" in sawn.text
    (scriber,) = (one for one in outfit(route, job) if one.name == SAID_TOOLS["scribe"])
    assert sawn.setup in scriber.setups
