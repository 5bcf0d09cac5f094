"""What wears and is renewed reaches the list of what is bought, in sizes that fit where it sits."""

from __future__ import annotations

import json
from typing import Any

import pytest
from commands import call
from jobs import ROOT, planned

from parts.features import Counterbore, TappedHole
from parts.part import Bought, Part, every_feature
from parts.placed import Placed
from planner.output.plan import Plan


def bought(plan: Plan, kind: str) -> list[Placed]:
    placed = plan.attachment.placed
    return [p for p in placed if isinstance(p.item, Bought) and p.item.kind == kind]


def features(plan: Plan, part: str, kind: type) -> list[Any]:
    (made,) = [p for p in plan.attachment.parts if p.name == part]
    assert isinstance(made, Part)
    return [one for _, one in every_feature(made) if isinstance(one, kind)]


MAJOR_MM = {
    "M8x1": 8.0,
    "Tr10x2": 10.0,
    "1/4-20 UNC": 6.35,
    "1/4-28 UNF": 6.35,
    "3/4-10 UNC": 19.05,
}
"""ISO 261, ISO 2904, ASME B1.1."""

DRILL_MM = {"M3": 2.5, "M4": 3.3, "M5": 4.2, "No.5-40 UNC": 2.578}
"""Tap drills: ISO 2306; No. 38 (tap and drill charts)."""


def test_a_felt_ring_fills_each_seat_and_wipes_the_thread(plan: Plan) -> None:
    s, rings = plan.sizing.sizes, bought(plan, "felt ring")
    seats = features(plan, "sliding-head", Counterbore)
    assert len(rings) == len(seats) == 2
    for placed in rings:
        assert isinstance(placed.item, Bought) and placed.item.quantity == 2
        ring = placed.item.ring
        assert ring is not None and ring.inside_mm == pytest.approx(
            MAJOR_MM[s.feed_thread], abs=1e-3
        )
        for seat in seats:
            assert ring.outside_mm == pytest.approx(seat.diameter.nominal_mm)
            # felt is pressed by a tenth to a third, so that it stands tight (common practice)
            assert 1.1 <= ring.thickness_mm / seat.depth_mm <= 1.34
            assert ring.pressed_mm == seat.depth_mm
    # each in its own seat: from the seat's bottom to the arm's face
    deep = 3 / 32 * 25.4 if plan.job.inch else 2.5
    lies = sorted((p.frame.origin[1], p.frame.origin[1] + deep) for p in rings)
    inner, outer = s.bit_stickout_mm, s.bit_stickout_mm + s.arm_stock.height_mm
    assert lies[0] == pytest.approx((inner, inner + deep))
    assert lies[1] == pytest.approx((outer - deep, outer))


@pytest.mark.parametrize("screw", ["metric-feed", "tool-room", "milling-slide"])
def test_a_felt_ring_is_cut_no_smaller_than_the_thread_that_runs_in_it(screw: str) -> None:
    """An inch shop's ring for a metric feed screw has the next 64th over it: under it they clash."""
    plan = planned(ROOT / "tests" / "data" / "inch-jobs" / f"{screw}.toml")
    major, rings = MAJOR_MM[plan.sizing.sizes.feed_thread], bought(plan, "felt ring")
    assert len(rings) == 2
    for placed in rings:
        assert isinstance(placed.item, Bought) and placed.item.ring is not None
        assert major - 1e-9 <= placed.item.ring.inside_mm < major + 25.4 / 64


def test_the_pellet_drops_through_its_hole_and_is_pressed_by_the_screw(plan: Plan) -> None:
    s = plan.sizing.sizes
    (pellet,) = bought(plan, "brass disc")
    (hole,) = [
        one
        for one in features(plan, "pivot-nut", TappedHole)
        if one.thread == s.nut_screw and one.opens_into
    ]
    assert isinstance(pellet.item, Bought) and pellet.item.ring is not None
    sheet = 25.4 / 32 if plan.job.inch else 0.7
    assert not pellet.item.ring.inside_mm and pellet.item.ring.thickness_mm == sheet
    drill = DRILL_MM[hole.thread]
    assert drill - 0.35 <= pellet.item.ring.outside_mm <= drill - 0.15
    # the screw that is set on it begins where it ends, on the same line
    (screw,) = [
        p
        for p in bought(plan, "set screw")
        if (p.frame.origin[0], p.frame.origin[2]) == (pellet.frame.origin[0], 0.0)
    ]
    ends = pellet.frame.origin[1] + pellet.item.ring.pressed_mm
    assert screw.frame.origin[1] == pytest.approx(ends) and screw.frame.x == pellet.frame.x


@pytest.mark.parametrize(
    ("job", "felt", "pellet"),
    [
        # M8 and 5 over it; 2.5 is M3's tap drill
        ("bench", "felt ring 13 x 8 x 3", "brass disc 2.3 x 0.7"),
        # 1/4 in and 13/64 over it; No. 38 is 0.1015 in
        ("inch", "felt ring 29/64 x 1/4 x 1/8", "brass disc 3/32 x 1/32"),
    ],
)
def test_what_wears_is_in_the_cut_list(job: str, felt: str, pellet: str) -> None:
    path = str(ROOT / "examples" / f"{job}-lathe.toml")
    rows = json.loads(call("cutlist", path, "--json").stdout)["tables"]["bought"]
    by_kind = {row["kind"]: row for row in rows}
    assert by_kind["felt ring"]["quantity"] == 2 and by_kind["brass disc"]["quantity"] == 1
    assert by_kind["felt ring"]["outside_mm"] > by_kind["felt ring"]["inside_mm"] > 0
    assert by_kind["washer"]["outside_mm"] is None
    sheet = call("cutlist", path).stdout
    assert felt in sheet and pellet in sheet
