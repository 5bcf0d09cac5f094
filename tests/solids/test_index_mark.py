"""The index mark: where its line and the dial's lines really are, and whether the operator sees them.

Rays on the solids: from the middle of the mark to an eye 500 mm in front of the spindle, 350 above it
and 200 to the left of the ball's centre, straight before it or 200 to the right (a man at a lathe,
common practice), with the tip at the nose. A ray that meets metal on its way is blocked.
"""

from __future__ import annotations

from math import atan2, degrees
from pathlib import Path
from typing import Any

import pytest

from parts.attachment import Attachment, Carrier, Placed
from parts.features import DrilledHole, EngravedScale, IndexMark
from parts.frame import Box
from parts.part import Bought, Part
from planner.output.plan import Plan
from planner.solids import bought_solid, kernel, placement, solid
from planner.solids.cutters import cutters

EYES = {"left": -200.0, "straight": 0.0, "right": 200.0}
SEEN = {
    "bench-lathe": {"left": True, "straight": True, "right": False},
    "engine-lathe": {"left": True, "straight": True, "right": False},
    "inch-lathe": {"left": True, "straight": True, "right": False},
}
"""What the rays find: from the right the tube stands before the dial."""


def named(whole: Attachment, name: str) -> Placed:
    (found,) = [p for p in whole.placed if isinstance(p.item, Part) and p.item.name == name]
    return found


def grooves(placed: Placed, kind: type) -> list[Any]:
    """The grooves that a feature engraves, as solids in the part's own frame."""
    part = placed.item
    assert isinstance(part, Part)
    (feature,) = [f for f in part.features if isinstance(f, kind)]
    return cutters(feature, Box((0.0, -50.0, -50.0), (50.0, 50.0, 50.0)))


def at_nose(whole: Attachment, placed: Placed, shape: Any, tip_mm: float) -> Any:
    return shape.moved(placement(placed, tip_mm, 0.0))


def in_sight(point: Any, eye: Any, things: list[Any]) -> bool:
    """Whether a thin rod from just off the point to the eye meets no metal."""
    cq = kernel()
    line = eye - point
    start = point + line.normalized() * 0.3
    rod = cq.Solid.makeCylinder(0.05, line.Length - 0.3, start, line)
    return all(thing.distance(rod) > 1e-6 for thing in things)


def mark_mm(whole: Attachment, tip_mm: float) -> Any:
    """The middle of the mark on the ring's rim, tip at the nose."""
    ring = named(whole, "index-ring")
    part = ring.item
    assert isinstance(part, Part)
    (groove,) = grooves(ring, IndexMark)
    centre = groove.Center()
    radius = whole.sizes.dial_diameter_mm / 2
    out = kernel().Vector(0, centre.y, centre.z).normalized() * radius
    rim = kernel().Vertex.makeVertex(centre.x, out.y, out.z)
    return kernel().Vector(*rim.moved(placement(ring, tip_mm, 0.0)).toTuple())


@pytest.mark.parametrize("eye", list(EYES))
def test_the_mark_is_seen_with_the_tip_at_the_nose(plan: Plan, eye: str) -> None:
    cq, whole = kernel(), plan.attachment
    tip = plan.sizing.sizes.max_ball_diameter_mm / 2
    things = []
    for p in whole.placed:
        shape = bought_solid(p.item) if isinstance(p.item, Bought) else solid(p.item, False)
        place = placement(p, tip, 0.0)
        things.append(shape.moved(place))
    found = in_sight(mark_mm(whole, tip), cq.Vector(-500.0, 350.0, EYES[eye]), things)
    assert found is SEEN[Path(plan.file).stem][eye]


def test_it_stands_in_front_and_above(plan: Plan) -> None:
    whole, tip = plan.attachment, 20.0
    mark = mark_mm(whole, tip)
    s = plan.sizing.sizes
    # the axis of the dial lies along the spindle at the nose, feed_offset under the pivot's height
    axis = (s.rod_x_mm, -s.feed_offset_mm)
    angle = degrees(atan2(mark.y - axis[1], axis[0] - mark.x))  # up from straight at the operator
    assert angle == pytest.approx(45.0, abs=0.01)


def test_the_lines_follow_one_another_as_the_dial_says(plan: Plan) -> None:
    # turned about the dial's own x, from y to z: by the right-hand rule the next number is farther on
    dial = named(plan.attachment, "dial")
    n = plan.sizing.sizes.dial_divisions
    at = [g.Center() for g in grooves(dial, EngravedScale)]
    turns = [degrees(atan2(c.z, c.y)) for c in at]
    for one, following in zip(turns, turns[1:], strict=False):
        assert (following - one) % 360.0 == pytest.approx(360.0 / n, abs=1e-6)
    # they begin at the edge that meets the ring: what cuts them comes in from outside it
    starts = {round(g.BoundingBox().xmin, 6) for g in grooves(dial, EngravedScale)}
    ends = {round(g.BoundingBox().xmax, 6) for g in grooves(dial, EngravedScale)}
    assert max(starts) <= 0.0 < min(ends) and len(starts) == 1 and len(ends) > 1


def test_mark_and_lines_meet_on_one_rim(plan: Plan) -> None:
    from OCP.BRepTools import BRepTools

    s, whole = plan.sizing.sizes, plan.attachment
    ring, dial = named(whole, "index-ring"), named(whole, "dial")
    shapes = [at_nose(whole, p, solid(p.item, False), 20.0) for p in (ring, dial)]
    for shape in shapes:
        BRepTools.Clean_s(shape.wrapped)  # a mesh of another test would widen the box
    boxes = [shape.BoundingBox() for shape in shapes]
    assert boxes[0].ymax - boxes[0].ymin == pytest.approx(s.dial_diameter_mm, abs=1e-6)
    assert boxes[0].ymax == pytest.approx(boxes[1].ymax) and boxes[0].zmin == pytest.approx(
        boxes[1].zmax
    )
    assert dial.carrier is ring.carrier is Carrier.BODY


def test_the_mark_stands_where_the_sheet_says_from_its_screws(plan: Plan) -> None:
    # seen from the dial's side, that is against the ring's own x
    ring = named(plan.attachment, "index-ring")
    assert isinstance(ring.item, Part)
    (groove,) = grooves(ring, IndexMark)
    (near,) = [f for f in ring.item.features if f.name == "near ring hole"]
    assert isinstance(near, DrilledHole) and "45 degrees clockwise from the index mark" in near.note
    mark, hole = groove.Center(), near.axis.origin

    def seen(y: float, z: float) -> float:
        # an eye on +x that looks along -x, z up: look x up = (-x) x z = y is to its right
        return degrees(atan2(y, z)) % 360.0  # clockwise from z

    apart = seen(hole[1], hole[2]) - seen(mark.y, mark.z)
    assert apart % 360.0 == pytest.approx(45.0, abs=0.01)
