"""Clearance: the closed form against distances between solids, and what each obstacle must yield.

The kernel measures the same poses from the parts' solids, with the chuck, the jaws, the slide and the
blank drawn here by hand. It is another road to the same number: no edge list, no formula.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from msgspec.structs import replace

from parts.attachment import Attachment, Carrier, Placed, attachment
from parts.features import GroundPoint
from parts.frame import Frame
from parts.part import Bought, Part, Stock
from parts.standard.sections import Section
from planner.checking.clearance import BallClearance, Gap, clearances
from planner.checking.sweep_findings import clearance_findings
from planner.geometry.envelope import swinging_edges
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.sizing.requirements.post import post_findings

JobWith = Callable[..., Job]


def gap(found: BallClearance, obstacle: str) -> Gap:
    return next(one for one in found.gaps if one.obstacle == obstacle)


@pytest.fixture(scope="module")
def solids() -> Iterator[Any]:
    from planner.solids import bought_solid, kernel, placement, solid

    cq = kernel()

    def standing(plan: Plan, tip_mm: float, swing_deg: float, name: str = "") -> list[Any]:
        shapes = []
        for placed in plan.attachment.placed:
            item = placed.item
            if placed.carrier is Carrier.POST or (name and getattr(item, "name", "") != name):
                continue
            shape = bought_solid(item) if isinstance(item, Bought) else solid(item, False)
            shapes.append(shape.moved(placement(placed, tip_mm, swing_deg)))
        return shapes

    yield cq, standing


def test_the_kernel_finds_the_same_distance_to_jaws_and_slide(bench: Plan, solids: Any) -> None:
    cq, standing = solids
    s, lathe = bench.sizing.sizes, bench.job.lathe
    found = bench.clearances[0]
    out, chuck = found.stick_out_mm, lathe.chuck_diameter / 2
    jaws = cq.Solid.makeCylinder(chuck, 20, cq.Vector(0, 0, -out - 20), cq.Vector(0, 0, 1))
    # a pose at the tightest spot measures it, others never less (z is along the spindle)
    tight = gap(found, "jaws")
    apart = min(jaws.distance(x) for x in standing(bench, tight.tip_radius_mm, tight.swing_deg))
    assert apart == pytest.approx(tight.distance_mm, abs=0.02)
    for swing in (20.0, 90.0, 140.0):
        near = min(jaws.distance(x) for x in standing(bench, tight.tip_radius_mm, swing))
        assert near >= tight.distance_mm - 0.02

    down = gap(found, "cross slide")
    slide = cq.Solid.makeBox(
        600, 40, 600, cq.Vector(-300, -s.spindle_over_cross_slide_mm - 40, -300)
    )
    apart = min(slide.distance(x) for x in standing(bench, down.tip_radius_mm, down.swing_deg))
    assert apart == pytest.approx(down.distance_mm, abs=0.02)
    for swing in (20.0, 90.0, 140.0):
        near = min(slide.distance(x) for x in standing(bench, down.tip_radius_mm, swing))
        assert near >= down.distance_mm - 0.02


def test_the_kernel_finds_the_body_beside_the_blank(bench: Plan, solids: Any) -> None:
    cq, standing = solids
    found = bench.clearances[0]
    blank = cq.Solid.makeCylinder(found.ball.blank_mm / 2, 200, cq.Vector(0, 0, -100))
    (body,) = standing(bench, found.ball.diameter_mm / 2, 90.0, "rotating-body")
    assert body.distance(blank) == pytest.approx(gap(found, "blank").distance_mm, abs=0.02)


# Obstacles


def made(job: Job) -> tuple[tuple[BallClearance, ...], list[str]]:
    whole = attachment(size_up(job, "job.toml").sizes)
    found = clearances(whole, job)
    return found, [f.code for f in clearance_findings(found, whole.sizes, job, "job.toml")]


def test_jaws_apart_from_the_face_let_the_ball_nearer(job_with: JobWith) -> None:
    # small jaws on a large chuck: the sweep passes beside them and is stopped by the face behind
    whole, _ = made(job_with())
    small, _ = made(job_with(**{"lathe.jaw_diameter": 20}))
    assert small[0].stick_out_mm < whole[0].stick_out_mm
    for found in (whole[0], small[0]):
        clear = min(gap(found, "jaws").distance_mm, gap(found, "chuck face").distance_mm)
        assert clear == pytest.approx(2.0)


def collar(whole: Attachment, diameter_mm: float, start_x_mm: float) -> Attachment:
    """The attachment with a collar 8 mm wide on its shaft, from a station back along the pivot."""
    part = Part(
        name="collar",
        title="Collar",
        blank=Stock(Section("round", diameter_mm), 8.0, "S355"),
        features=(),
        datums={},
        colour=(0.5, 0.5, 0.5),
    )
    there = Placed(part, Frame((start_x_mm, 0.0, 0.0), x="-x", z="+z"), Carrier.BODY)
    return replace(whole, placed=(*whole.placed, there))


def test_whatever_turns_beside_the_post_is_looked_at(job_with: JobWith, solids: Any) -> None:
    cq, _ = solids
    from planner.solids import placement, solid

    job = job_with(**{"tool_post.stands_out": 3, "tool_post.height": 200})
    plain = attachment(size_up(job, "job.toml").sizes)
    s = plain.sizes
    found = gap(clearances(plain, job)[0], "tool post")
    # the shaft's pin is 13 mm thick: by hand
    assert found.part == "shaft"
    assert found.distance_mm == pytest.approx(s.shank_inner_z_mm - 3 - 13 / 2)
    middle = s.post_front_x_mm - s.post_depth_mm / 2
    whole = collar(plain, 20.0, middle)
    found = gap(clearances(whole, job)[0], "tool post")
    assert found.part == "collar"
    post = cq.Solid.makeBox(
        56,
        300,
        100,
        cq.Vector(s.post_front_x_mm - 56, -150, s.shank_inner_z_mm - 3),
    )
    there = whole.placed[-1]
    assert isinstance(there.item, Part)
    shape = solid(there.item, False).moved(placement(there, 25.0, 90.0))
    assert found.distance_mm == pytest.approx(shape.distance(post), abs=1e-6)
    # as it grows it is refused, by its own name
    wide = collar(plain, 2 * (s.shank_inner_z_mm - 3) + 1, middle)
    told = [
        one
        for one in post_findings(s, swinging_edges(wide), job, "job.toml")
        if one.code == "tool-post"
    ]
    assert len(told) == 1 and "the collar clears the tool post by -0.5" in told[0].text
    # in front of the post and behind it, it turns in the open
    for start in (s.post_front_x_mm + 8.0, s.post_front_x_mm - 56):
        beside = gap(clearances(collar(plain, 60.0, start), job)[0], "tool post")
        assert beside.part == "shaft"


def test_a_lever_that_swings_through_the_post_is_refused(job_with: JobWith) -> None:
    # the handle as it is stands behind the post; moved forward by 20 it would sweep through it
    job = job_with(**{"tool_post.stands_out": 3, "tool_post.height": 200})
    plain = attachment(size_up(job, "job.toml").sizes)
    moved = tuple(
        replace(p, frame=replace(p.frame, origin=(p.frame.origin[0] + 20, *p.frame.origin[1:])))
        if isinstance(p.item, Part) and p.item.name == "handle"
        else p
        for p in plain.placed
    )
    found = gap(clearances(replace(plain, placed=moved), job)[0], "tool post")
    assert found.part == "handle" and found.distance_mm < -50.0


def test_the_bit_is_known_by_its_point_and_not_by_its_name(bench: Plan) -> None:
    cutting = {edge.name for edge in swinging_edges(bench.attachment) if edge.cuts}
    assert cutting == {
        part.title.lower()
        for part in bench.attachment.parts
        if any(isinstance(feature, GroundPoint) for feature in part.features)
    }
    renamed = tuple(
        replace(p, item=replace(p.item, title="Cutter"))
        if isinstance(p.item, Part) and p.item.title.lower() in cutting
        else p
        for p in bench.attachment.placed
    )
    other = clearances(replace(bench.attachment, placed=renamed), bench.job)
    for one, same in zip(bench.clearances, other, strict=True):
        assert (one.end_deg, one.relief_mm) == (same.end_deg, same.relief_mm)
        assert one.reaching_bit_mm == same.reaching_bit_mm


def test_upright_the_head_stands_on_the_slide(job_with: JobWith, bench: Plan) -> None:
    # the same head turned over: what meets jaws and blank is alike, the slide must hold the stack
    upright = clearances(bench.attachment, bench.job, "upright")
    for one, other in zip(bench.clearances, upright, strict=True):
        assert one.stick_out_mm == other.stick_out_mm and one.end_deg == other.end_deg
        assert gap(one, "blank") == gap(other, "blank")
    s = bench.sizing.sizes
    stack = s.arm_overhang_mm + s.block_thickness_mm + s.housing_length_mm
    height = s.spindle_over_cross_slide_mm
    assert gap(upright[0], "cross slide").distance_mm == pytest.approx(height - stack)
    findings = clearance_findings(upright, s, bench.job, "job.toml")
    assert {f.code for f in findings if f.severity == "refused"} == {"cross-slide"}
    tall = replace(s, spindle_over_cross_slide_mm=stack + s.clearance_mm)
    higher = clearances(replace(bench.attachment, sizes=tall), bench.job, "upright")
    again = clearance_findings(higher, tall, bench.job, "job.toml")
    assert not [f for f in again if f.severity == "refused"]


def test_a_centre_too_thick_leaves_no_sweep(job_with: JobWith) -> None:
    # it stands on the axis as thick as the ball: nothing that swings comes past it before the equator
    thick = {"turning.tailstock_centre": {"diameter": 60, "point_length": 20}}
    found, codes = made(job_with(**thick))
    assert found[0].start_deg == 90.0 and "centre" in codes
    slim = {"turning.tailstock_centre": {"diameter": 12, "point_length": 20}}
    found, codes = made(job_with(**slim))
    assert 0.0 < found[0].start_deg < 60.0
    assert codes.count("centre") == 1  # for the smallest ball, a note: it is turned without


def test_what_is_advised_reaches_the_neck(job_with: JobWith) -> None:
    ball = {"name": "knob", "diameter": 40, "stem_diameter": 13.6}
    near = {"attachment.sizes": {"bit_stickout": 20}}
    found, codes = made(job_with(ball=[ball], **near))
    assert "sweep" in codes and found[-1].end_deg < found[-1].neck_deg - 0.05
    assert found[-1].end_limit == "arm"
    out = found[-1].reaching_bit_mm
    assert out is not None
    again, codes = made(
        job_with(**{"ball": [ball], "attachment.sizes": {"bit_stickout": out + 0.05}})
    )
    assert again[-1].end_limit in ("the stem", "tool bit")  # no longer the arm
    assert again[-1].end_deg > found[-1].end_deg
    short, _ = made(job_with(**{"ball": [ball], "attachment.sizes": {"bit_stickout": out - 0.5}}))
    assert short[-1].end_limit == "arm"
    stem = found[-1].least_stem_mm
    for thick, reached in ((stem + 0.05, True), (stem - 0.1, False)):
        other, _ = made(job_with(ball=[ball | {"stem_diameter": thick}], **near))
        assert (other[-1].end_limit == "the stem") is reached


def test_a_bit_that_meets_the_stem_itself_is_not_sent_out(job_with: JobWith) -> None:
    # its own shoulder comes down first: farther out it comes down just the same
    found, _ = made(job_with(ball=[{"name": "knob", "diameter": 40, "stem_diameter": 12.4}]))
    assert found[-1].end_limit == "tool bit" and found[-1].reaching_bit_mm is None


def test_a_bit_is_not_sent_farther_out_than_it_bears(job_with: JobWith) -> None:
    found, codes = made(job_with(ball=[{"name": "knob", "diameter": 40, "stem_diameter": 5}]))
    assert "sweep" in codes and found[-1].reaching_bit_mm is None
