"""A thick arm is drilled clear of a thin feed screw: a nut is 1.5 to 2.5 diameters long (common
practice), a hand tap's thread 3 to 4 (DIN 352); 1/4 in passes 9/32 (ASME B18.2.8, normal)."""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT, planned
from walking.part_walk import near

from parts import feed_nut
from parts.attachment import attachment
from parts.features import DrilledHole, TappedHole
from parts.part import Part
from planner.output.plan import Plan

THICK = '\n[attachment.sizes]\narm_stock = "flat 2-1/2 x 1-1/4"\n'


def thick(folder: Path) -> Plan:
    """The inch example with an arm of 1-1/4 in for its feed screw of 1/4-20, 5 diameters."""
    job = folder / "thick.toml"
    example = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    job.write_text(example + THICK, encoding="utf-8")
    return Plan(job)


def head_of(plan: Plan) -> Part:
    return next(one for one in plan.attachment.parts if one.name == "sliding-head")


def found(plan: Plan) -> list[str]:
    steps = plan.route.setup_records(), plan.route.operation_records()
    return [one.code for one in near(plan.attachment, plan.job, *steps, "sliding-head")]


def test_a_thin_screw_has_a_nut_of_two_diameters_in_a_thick_arm(tmp_path: Path) -> None:
    plan = thick(tmp_path)
    whole = {one.name: one for one in head_of(plan).features}
    clear, tapped = whole["feed nut clearance"], whole["feed nut thread"]
    assert isinstance(clear, DrilledHole) and isinstance(tapped, TappedHole)
    assert clear.diameter.nominal_mm == pytest.approx(25.4 * 9 / 32)
    assert clear.depth_mm + tapped.depth_mm == pytest.approx(25.4 * 1.25)
    seat = 25.4 * 3 / 32  # of the felt ring at the far end, which takes thread away
    assert 1.5 <= (tapped.depth_mm - seat) / 6.35 <= 2.5
    steps = [op.text for op in plan.route.operations if op.text.count("feed nut")]
    assert [one.split()[0] for one in steps[:4]] == ["spot", "drill", "drill", "tap"]
    assert "drill feed nut clearance Ø9/32 x 21/32 deep" in steps[2]
    assert found(plan) == []


def test_tapped_right_through_it_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As it was: 5 diameters of thread for a tap that has 4."""
    monkeypatch.setattr(feed_nut, "TAPPED_MOST", 9.0)
    attachment.cache_clear()
    try:
        assert "route-tool-reach" in found(thick(tmp_path))
    finally:
        attachment.cache_clear()


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_arm_that_a_tap_goes_through_is_tapped_through(example: Path) -> None:
    names = [one.name for one in head_of(planned(example)).features]
    assert "feed nut thread" in names and "feed nut clearance" not in names
