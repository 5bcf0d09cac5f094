"""The edges of what swings against the boxes of the solids: every thing, several swings, every example.

The kernel turns each solid and measures the upright box round it; the edges are turned here by the
rotation alone. They may reach farther than the solid where they leave a cut out, and never less.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, radians, sin, sqrt
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from parts.attachment import Attachment, Carrier, Placed, attachment
from parts.features import GroundPoint, MilledFlat, TurnedBall
from parts.part import Bought, Part, every_feature
from planner.checking.clearance import ball_cases, ball_clearance
from planner.geometry.envelope import (
    Edge,
    front_mm,
    greatest_radius,
    swinging_edges,
    swinging_outlines,
    toward_post,
)
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up

if TYPE_CHECKING:
    from planner.solids.kernel import Shape

SWINGS = (0.0, 35.0, 90.0, 145.0, 180.0)
TIP_MM = 20.0


def turned(edge: Edge, tip_mm: float, swing_deg: float) -> tuple[float, float]:
    """Height over the spindle and distance along it, at a swing: 90 has the tip on top."""
    y = edge.y_mm + (tip_mm if edge.carrier is Carrier.HEAD else 0.0)
    a = radians(swing_deg)
    return y * sin(a) - edge.z_mm * cos(a), y * cos(a) + edge.z_mm * sin(a)


def box_of_edges(edges: tuple[Edge, ...], swing: float) -> tuple[float, ...]:
    """Lowest and highest along the pivot, upward and along the spindle."""
    places = [(*turned(e, TIP_MM, swing), e.round_mm) for e in edges]
    return (
        min(e.x_low_mm for e in edges),
        max(e.x_high_mm for e in edges),
        min(h - r for h, _, r in places),
        max(h + r for h, _, r in places),
        min(z - r for _, z, r in places),
        max(z + r for _, z, r in places),
    )


def left_out(placed: Placed) -> float:
    """How much farther the edges may reach than the solid, mm.

    What is milled off and what is turned to a ball is left out, and a nut is taken as round: all more
    than there is. So is a round nose: ground along its ridge, it is an oval at its sides.
    """
    item = placed.item
    if isinstance(item, Bought):
        across = {"M6": 10.0, "M8": 13.0, "M10": 16.0, "M12": 18.0, "M14": 21.0, "M16": 24.0,
                  "M18": 27.0, "M20": 30.0, "M24": 36.0}  # ISO 4035, ISO 4032  # fmt: skip
        most = across.get(item.thread, 40.0)
        return most * (2 / sqrt(3) - 1) / 2 + 0.2 if item.kind == "thin nut" else 0.0
    more = 0.0
    for _, feature in every_feature(item):
        if isinstance(feature, MilledFlat):
            more += feature.box.size()[2]
        if isinstance(feature, TurnedBall):
            more += 2 * feature.diameter.nominal_mm
        if isinstance(feature, GroundPoint):  # its ridge falls away below the rake face: an oval
            more += 0.03 * feature.nose_radius_mm
    return more


def half_space_below_zero() -> Shape:
    """Where a screw's head is in its own frame, as far as any screw goes: x from -100 to 0."""
    from planner.solids.kernel import kernel

    cq = kernel()
    return cq.Solid.makeBox(100, 100, 100, cq.Vector(-100, -50, -50))


@pytest.mark.kernel
def test_the_edges_hold_every_solid_that_swings(plan: Plan) -> None:
    from OCP.BRepTools import BRepTools

    from planner.solids import bought_solid, placement, solid

    seen = set()
    for placed in plan.attachment.placed:
        if placed.carrier is Carrier.POST:
            continue
        item = placed.item
        edges = swinging_edges(replace(plan.attachment, placed=(placed,)))
        shape = bought_solid(item) if isinstance(item, Bought) else solid(item, False)
        if isinstance(item, Bought) and item.kind == "socket screw":
            # its shank is in the parts (below): of the screw only the head counts
            shape = shape.intersect(half_space_below_zero())
        more = left_out(placed)
        for swing in SWINGS:
            BRepTools.Clean_s(shape.wrapped)  # a mesh of another test would widen the box
            box = shape.moved(placement(placed, TIP_MM, swing)).BoundingBox()
            there = (box.xmin, box.xmax, box.ymin, box.ymax, box.zmin, box.zmax)
            for index, (edge, metal) in enumerate(
                zip(box_of_edges(edges, swing), there, strict=True)
            ):
                beyond = edge - metal if index % 2 else metal - edge
                name = f"{item.name if isinstance(item, Part) else item.kind} at {swing:g}"
                assert beyond >= -1e-4, (name, index, beyond)
                assert beyond <= more + 1e-4, (name, index, beyond)
        seen.add(placed.carrier)
    assert seen == {Carrier.BODY, Carrier.HEAD}


def test_the_index_rings_screws_stand_out_of_nothing(plan: Plan) -> None:
    # heads of ISO 4762 and of ASME B18.3: M3 5.5 by 3, M4 7 by 4, No.6 0.226 by 0.138 in
    heads = {"M3": (5.5, 3.0), "M4": (7.0, 4.0), "No.6-32 UNC": (5.74, 3.51)}
    s = plan.sizing.sizes
    ring, tip_side = -s.block_length_mm / 2 - s.index_ring_mm, s.block_length_mm / 2
    screws = [
        p
        for p in plan.attachment.placed
        if isinstance(p.item, Bought)
        and p.item.kind == "socket screw"
        and p.carrier is Carrier.BODY
    ]
    assert len(screws) == 2
    for p in screws:
        assert isinstance(p.item, Bought)
        diameter, height = heads[p.item.thread]
        edges = swinging_edges(replace(plan.attachment, placed=(p,)))
        low, high, down, up, *_ = box_of_edges(edges, 90.0)  # the tip on top: up is toward it
        assert high - low == pytest.approx(diameter, abs=0.02)
        assert up - down == pytest.approx(height, abs=0.02)
        # the head lies 0.2 under the face that the dial turns on, and is all in the ring; or in a hole
        # of 5/32 in, the next 64th that is deep enough for 0.138 in and that
        under = 25.4 * (5 / 32 - 0.138) if plan.job.inch else 0.2
        assert down == pytest.approx(ring + under) and up < -s.block_length_mm / 2
        # its shank points to the tip and ends in the block
        assert p.frame.x == "+y" and up + p.item.length_mm < tip_side


def test_of_the_clamp_stud_washer_and_lever_stand_out(bench: Plan) -> None:
    # rod 14, leaf 7: 14 from the rod's axis plane; washer of M5 10 wide and 1 thick (ISO 7089); the
    # lever's boss of 9, 0.15 of it milled off as its seat, is 7.65 high
    s = bench.sizing.sizes
    assert (s.rod_diameter_mm, s.leaf_thickness_mm, s.clamp_screw) == (14.0, 7.0, "M5")
    assert (s.lever_boss_mm, s.lever_length_mm, s.clamp_screw_from_front_mm) == (9.0, 25.0, 6.0)
    edges = swinging_edges(bench.attachment)
    lever = [e for e in edges if e.name == "clamp lever"]
    out = -(7 + 7 + 1 + 7.65)
    assert min(e.z_mm - e.round_mm for e in lever) == pytest.approx(out)
    stud = [e for e in edges if e.name == "stud"]
    assert min(e.z_mm for e in stud) == pytest.approx(out)
    # slack it points to the tip: 25 up from the stud; tight it leans 30 degrees away from the blank:
    # its ball, 8.5 across and 20.75 off, stands 20.75 sin 30 behind the stud
    front = s.block_front_x_mm
    assert max(e.y_mm + e.round_mm for e in lever) == pytest.approx(25.0)
    assert min(e.x_low_mm for e in lever) == pytest.approx(front - 6 - 20.75 / 2 - 4.25)
    assert max(e.x_high_mm for e in lever) == pytest.approx(front - 6 + 4.5)


def test_nothing_of_the_body_stands_out_of_its_front_face(plan: Plan) -> None:
    # the arm alone reaches over the blank
    edges = swinging_edges(plan.attachment)
    assert front_mm(edges) == pytest.approx(plan.sizing.sizes.block_front_x_mm)
    washers = [e for e in edges if e.name == "washer" and e.x_high_mm > plan.sizing.sizes.rod_x_mm]
    assert washers


def test_what_stands_out_of_the_front_is_what_the_blank_meets(bench: Plan) -> None:
    # the check can fail: the stud and its washer moved until the washer, 5 in radius, is 2 mm out
    whole = bench.attachment
    s = bench.sizing.sizes
    moved = []
    for p in whole.placed:
        if p.name == "under the clamp lever":
            x, y, z = p.frame.origin
            p = replace(p, frame=replace(p.frame, origin=(s.block_front_x_mm - 3.0, y, z)))
        moved.append(p)
    outlines = swinging_outlines(replace(whole, placed=tuple(moved)))
    edges = tuple(edge for outline in outlines for edge in outline)
    assert front_mm(edges) == pytest.approx(s.block_front_x_mm + 2.0)
    ball = ball_cases(s, bench.job)[0]
    clear = ball_clearance(ball, outlines, s, bench.job)
    assert clear.beside_mm == pytest.approx(s.arm_overhang_mm - 2.0 - ball.blank_mm / 2)


def test_what_stands_in_the_post_does_not_swing(job_with: Callable[..., Job]) -> None:
    job = job_with()
    whole = attachment(size_up(job, "job.toml").sizes)
    posted = [p for p in whole.placed if p.carrier is Carrier.POST]
    assert posted
    without = Attachment(
        whole.sizes,
        tuple(p for p in whole.placed if p.carrier is not Carrier.POST),
        whole.fits,
    )
    assert swinging_edges(whole) == swinging_edges(without)


# ---- single edges, by hand ----


def edge(y: float, z: float, low: float = -10.0, high: float = 0.0, **more: object) -> Edge:
    return replace(Edge("thing", Carrier.BODY, low, high, y, z), **more)  # type: ignore[arg-type]


def test_the_greatest_radius_counts_the_tip_for_the_head_alone() -> None:
    # 3-4-5 and 6-8-10: with the tip 3 farther out the head's (3, 4) is (6, 4)
    edges = (edge(3.0, 4.0), edge(6.0, 8.0, round_mm=1.5),
             edge(3.0, 4.0, carrier=Carrier.HEAD))  # fmt: skip
    assert greatest_radius(edges, Carrier.BODY, 3.0) == pytest.approx(11.5)
    assert greatest_radius(edges, Carrier.HEAD, 3.0) == pytest.approx(hypot(6.0, 4.0))


def test_beside_the_post_counts_what_lies_between_its_ends() -> None:
    post, face = (-40.0, -20.0), 12.0
    beside = edge(0.0, 8.0, low=-30.0, high=-25.0)
    found = toward_post((beside,), post, face)
    assert found is not None and found.distance_mm == pytest.approx(8.0)
    # the whole swing is taken: pointing at the post with the tip at the nose, or at the chuck
    for y, swing in ((8.0, 0.0), (-8.0, 180.0)):
        found = toward_post((edge(y, 0.0, low=-30.0, high=-25.0),), post, face)
        assert found is not None and found.swing_deg == pytest.approx(swing, abs=1e-9)
        assert found.distance_mm == pytest.approx(8.0, abs=1e-9)
    # ending where the post begins, or beginning where it ends, it is not beside it
    for low, high in ((-20.0, -10.0), (-60.0, -40.0)):
        assert toward_post((edge(0.0, 8.0, low=low, high=high),), post, face) is None
    for low, high in ((-20.1, -10.0), (-60.0, -39.9)):
        assert toward_post((edge(0.0, 8.0, low=low, high=high),), post, face) is not None
    # of the head nothing is; what lies wholly farther out than the face is carried round
    assert toward_post((replace(beside, carrier=Carrier.HEAD),), post, face) is None
    far = [edge(y, z, low=-30.0, high=-25.0) for y in (-2.0, 2.0) for z in (13.0, 15.0)]
    assert toward_post(tuple(far), post, face) is None
    near = [edge(y, z, low=-30.0, high=-25.0) for y in (-2.0, 2.0) for z in (11.0, 15.0)]
    found = toward_post(tuple(near), post, face)
    assert found is not None and found.distance_mm == pytest.approx(hypot(2.0, 15.0))
