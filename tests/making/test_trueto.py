"""What is clocked before a cut that must lie true to a datum, and how closely: worked out by hand.

Common practice: half of what a surface may be out is left to the machine and to what bends; an
indicator is set to a whole number of its lines.
"""

from __future__ import annotations

import pytest
from jobs import ROOT, planned

from planner.making.trueto import reading_mm
from planner.output.plan import Plan
from planner.output.topics import topic


@pytest.mark.parametrize(
    ("true", "size", "long", "shows"),
    [
        (0.02, 50.0, 100.0, 0.02),  # half of 0.02 over twice the length: 0.02
        (0.02, 50.0, 90.0, 0.015),  # 0.018
        (0.018, 32.0, 115.0, 0.02),  # 0.032, and no more than a vice's jaw is set by
        (0.015, 71.0, 83.0, 0.005),  # 0.0088
        (0.015, 50.0, 70.0, 0.01),  # 0.0105
        (0.004, 80.0, 40.0, 0.005),  # 0.001: no closer than an indicator reads
    ],
)
def test_an_indicator_shows_half_of_what_may_be_out(
    true: float, size: float, long: float, shows: float
) -> None:
    assert reading_mm(true, size, long) == shows


def _said(plan: Plan) -> str:
    one = topic("route")
    return " ".join(one.printed(plan, one.asked({})).split())


def test_what_is_clocked_is_said() -> None:
    text = _said(planned(ROOT / "examples" / "bench-lathe.toml"))
    for line in (
        "set: the shank's side along the bed, over its length, by dial indicator, within 0.01 mm",
        "set: the journal, over its length, parallel to the table, by dial indicator, within 0.005 mm",
        "set: the housing's shank square to the bed: its side, over its length, by the cross slide's"
        " travel, by dial indicator, within 0.02 mm",
        "set: the rod, over its length, true to the slide's travel, by dial indicator, within 0.005 mm",
        "; a block clamped behind the foot near its end, touching without pushing it: an indicator on"
        " the foot stays still",
    ):
        assert text.count(line) == 1, line


def test_each_face_has_its_datum_clocked_once(plan: Plan) -> None:
    """Level, upright or along the travel, as it lies."""
    aligned = [
        (row["part"], one["what"], one["surface"])
        for row in plan.route.setup_records()
        for one in row["align"]
        if "over its length, " in one["what"] and "bed" not in one["what"]
    ]
    assert sorted(row[::2] for row in aligned) == [
        ("rotating-body", "journal.round"),
        ("sliding-head", "rod/rod.round"),
    ]
    assert all(row[1].endswith(("the table", "the slide's travel")) for row in aligned)
