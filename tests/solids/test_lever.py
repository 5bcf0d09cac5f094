"""The clamp lever from slack to tight, by the kernel's solids: what it clears, what says it does."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from parts.attachment import Placed
from parts.lever import CLOCKED_DEG, TIGHT_DEG
from parts.part import Bought, Part
from parts.standard.fasteners import washer
from planner.geometry.envelope import swinging_edges
from planner.output.plan import Plan
from planner.solids import bought_solid, kernel, placement, solid

ANGLES = (0.0, 10.0, 20.0, 30.0)


def named(plan: Plan, name: str) -> Placed:
    return next(p for p in plan.attachment.placed if p.name == name)


def lever_at(plan: Plan, lean_deg: float, tip_mm: float, swing_deg: float) -> Any:
    """The lever leaning so far from the rod's line, toward the operator: turned about the stud here."""
    placed = named(plan, "clamp-lever")
    x = plan.sizing.sizes.lever_boss_mm / 2
    assert isinstance(placed.item, Part)
    shape = solid(placed.item, False).rotate((x, 0, 0), (x, 0, 1), -lean_deg)
    return shape.moved(placement(placed, tip_mm, swing_deg))


def standing(plan: Plan, name: str, tip_mm: float, swing_deg: float) -> Any:
    placed = named(plan, name)
    item = placed.item
    shape = bought_solid(item) if isinstance(item, Bought) else solid(item, False)
    return shape.moved(placement(placed, tip_mm, swing_deg))


def test_the_lever_clears_everything_from_slack_to_tight(plan: Plan) -> None:
    s = plan.sizing.sizes
    assert (ANGLES[0], ANGLES[-1]) == TIGHT_DEG
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    for lean in ANGLES:
        lever = lever_at(plan, lean, 0.0, 90.0)
        # the block by its washer, all along; its front face by nothing that stands out of it
        body = standing(plan, "rotating-body", 0.0, 90.0)
        assert lever.distance(body) >= washer(s.clamp_screw).thickness_mm - 1e-4
        box = lever.BoundingBox()
        assert box.xmax <= s.block_front_x_mm + 1e-4
        assert box.xmin > s.thrust_x_mm  # no farther back than the block
        for tip in radii:
            for other in ("sliding-head", "tool-bit"):
                assert lever.distance(standing(plan, other, tip, 90.0)) >= 0.5, (lean, other)
        for other in ("feed-screw", "dial"):
            assert lever.distance(standing(plan, other, 0.0, 90.0)) >= 0.5
        housing = standing(plan, "housing", 0.0, 90.0)
        for swing in (0.0, 60.0, 120.0, 180.0):
            assert lever_at(plan, lean, 0.0, swing).distance(housing) >= 0.5, (lean, swing)


def test_the_lever_clears_jaws_and_slide_through_every_sweep(plan: Plan) -> None:
    cq, s, lathe = kernel(), plan.sizing.sizes, plan.job.lathe
    slide = cq.Solid.makeBox(
        900, 40, 900, cq.Vector(-450, -s.spindle_over_cross_slide_mm - 40, -450)
    )
    for found in plan.clearances[:2]:
        out, chuck = found.stick_out_mm, (lathe.jaw_diameter or lathe.chuck_diameter) / 2
        jaws = cq.Solid.makeCylinder(chuck, 20, cq.Vector(0, 0, -out - 20), cq.Vector(0, 0, 1))
        blank = cq.Solid.makeCylinder(found.ball.blank_mm / 2, 400, cq.Vector(0, 0, -200))
        for lean in (ANGLES[0], ANGLES[-1]):
            for swing in (found.start_deg, 30.0, 60.0, 90.0, 120.0, found.end_deg):
                lever = lever_at(plan, lean, 0.0, swing)
                for obstacle in (jaws, slide, blank):
                    assert lever.distance(obstacle) >= s.clearance_mm - 1e-3, (lean, swing)


def test_the_outline_of_the_lever_holds_it_at_both_ends_and_between(plan: Plan) -> None:
    placed = named(plan, "clamp-lever")
    edges = swinging_edges(replace(plan.attachment, placed=(placed,)))
    low_x, high_x = min(e.x_low_mm for e in edges), max(e.x_high_mm for e in edges)
    low_y = min(e.y_mm - e.round_mm for e in edges)
    high_y = max(e.y_mm + e.round_mm for e in edges)
    low_z = min(e.z_mm - e.round_mm for e in edges)
    for lean in ANGLES:
        box = lever_at(plan, lean, 0.0, 90.0).BoundingBox()
        assert low_x - 1e-4 <= box.xmin and box.xmax <= high_x + 1e-4, lean
        assert low_y - 1e-4 <= box.ymin and box.ymax <= high_y + 1e-4, lean
        assert low_z == pytest.approx(box.zmin, abs=1e-3)
    # past its slack it comes out of what is held of it: so the check can fail
    past = lever_at(plan, -40.0, 0.0, 90.0).BoundingBox()
    assert past.xmax > high_x + 1.0


def test_slack_to_tight_is_within_its_lean(plan: Plan) -> None:
    # slack it must not point past the rod's line, where it comes out of the block's front
    assert 0.0 < plan.strength.hold.turn_deg <= CLOCKED_DEG
