"""The meshes against the kernel's solids, the poses against parts.placed, the lathe against the job."""

from __future__ import annotations

from functools import cache
from math import hypot
from pathlib import Path

import numpy as np
import pytest
from jobs import EXAMPLES, ROOT, planned

from parts.frame import vector
from parts.part import Part
from parts.placed import Carrier, in_pose
from planner.drawing.exploding import STEP_MM, exploded
from planner.output.page_files import scenes, stands
from planner.output.plan import Plan
from planner.scene import Scene
from planner.scene.model import Mesh
from planner.scene.pictures import drawn, posed, shots
from planner.solids.apart import GAP_MM

BENCH = ROOT / "examples" / "bench-lathe.toml"


@cache
def made(path: Path) -> tuple[Plan, Scene, Scene]:
    plan = planned(path)
    alone, on_lathe = scenes(plan)
    return plan, alone, on_lathe[0][1]


def volume_mm3(mesh: Mesh) -> float:
    """By the divergence theorem: a sixth of the triple product of each triangle's corners."""
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def is_closed(mesh: Mesh) -> bool:
    """Whether every side of a triangle is gone along once each way, by another triangle."""
    t = mesh.triangles
    sides = np.concatenate([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]])
    there = {tuple(side) for side in sides.tolist()}
    return len(there) == len(sides) and {(b, a) for a, b in there} == there


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_mesh_has_the_volume_of_its_solid(path: Path) -> None:
    from planner.solids import bought_solid, solid

    plan, alone, _ = made(path)
    for thing, placed in zip(alone.things, plan.attachment.placed, strict=True):
        item = placed.item
        shape = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
        # what facets of 0.4 radians take off a circle: 1 - sin(0.4)/0.4 = 2.6 %, off a ball twice that
        assert volume_mm3(thing.mesh) == pytest.approx(shape.Volume(), rel=0.053), thing.name


def test_every_body_of_the_lathe_is_closed_and_looks_outward() -> None:
    _, alone, on_lathe = made(BENCH)
    for thing in on_lathe.things[len(alone.things) :]:
        assert is_closed(thing.mesh), thing.name
        assert volume_mm3(thing.mesh) > 0, thing.name


def test_a_pose_of_many_points_is_that_of_each() -> None:
    rng = np.random.default_rng(2)
    points = rng.uniform(-200, 200, (20, 3))
    for carrier in Carrier:
        for tip, swing in ((0.0, 90.0), (12.5, 0.0), (25.4, 133.7)):
            found = posed(points, carrier, tip, swing)
            for point, moved in zip(points, found, strict=True):
                wanted = in_pose((point[0], point[1], point[2]), carrier, tip, swing)
                assert moved == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_bits_point_runs_over_the_ball(path: Path) -> None:
    _, alone, on_lathe = made(path)
    bit = next(thing for thing in alone.things if thing.title == "Tool bit")
    work = next(thing for thing in on_lathe.things if thing.name == "work")
    radius = max(work.mesh.points[:, 2])  # the nose
    assert radius == pytest.approx(on_lathe.tip_mm[0])
    for swing in (0.0, 45.0, 90.0, on_lathe.swing_deg[1]):
        points = drawn(bit, radius, swing, 0.0).points
        nearest = min(hypot(*point) for point in points.tolist())
        assert nearest == pytest.approx(radius, abs=0.1)  # the nose's round, in facets


def test_the_lathe_stands_where_the_job_says() -> None:
    plan, _, on_lathe = made(BENCH)
    named = {thing.name: thing for thing in on_lathe.things}
    (_, work, sweep), *_ = stands(plan)
    lathe = plan.job.lathe
    low, high = named["jaw 1"].mesh.points.min(axis=0), named["jaw 1"].mesh.points.max(axis=0)
    assert high[2] == pytest.approx(-work.jaws_mm)
    assert high[2] - low[2] == pytest.approx(lathe.jaw_reach)
    chuck = named["chuck"].mesh.points
    assert chuck[:, 0].max() == pytest.approx(lathe.chuck_diameter / 2)
    assert chuck[:, 2].max() == pytest.approx(low[2])
    top = named["cross slide"].mesh.points[:, 1].max()
    assert top == pytest.approx(-lathe.spindle_over_cross_slide)
    # the post stands on the slide, its slot's floor at the seat, and beside the housing's tube
    foot = named["tool post foot"].mesh.points
    assert (foot[:, 1].min(), foot[:, 1].max()) == pytest.approx((top, -lathe.spindle_over_seat))
    assert foot[:, 2].mean() == pytest.approx(sweep.post_z_mm, abs=0.5)


def test_taken_apart_bearing_body_and_head_stand_clear() -> None:
    _, alone, _ = made(BENCH)
    mains = {thing.carrier: thing for thing in reversed(alone.things)}
    boxes = {}
    for carrier, thing in mains.items():
        points = drawn(thing, alone.tip_mm[0], 90.0, 1.0).points
        boxes[carrier] = (points.min(axis=0), points.max(axis=0))
    assert boxes[Carrier.POST][1][0] < boxes[Carrier.BODY][0][0]
    assert boxes[Carrier.BODY][1][1] < boxes[Carrier.HEAD][0][1]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_it_comes_apart_as_on_the_exploded_sheet_but_no_farther(path: Path) -> None:
    """Each off the same thing the same way; the sheet goes on in steps until it covers nothing."""
    plan, alone, _ = made(path)
    placed = plan.attachment.placed
    sheet = exploded(plan.attachment, alone.tip_mm[0])
    away = [np.array(thing.away) for thing in alone.things]
    assert any(one.seat is None for one in placed) and len(placed) == len(away) > 20
    for k, one in enumerate(placed):
        if one.seat is None:
            assert not away[k].any() and not np.array(sheet.moved[k]).any()
            continue
        way = np.array(vector(one.seat.off))
        seats = [n for n, other in enumerate(placed) if other.name == one.seat.on]
        own = [away[k] - away[n] for n in seats]
        drawn_so = [np.array(sheet.moved[k]) - np.array(sheet.moved[n]) for n in seats]
        found = [
            (float(mine @ way), float(theirs @ way))
            for mine, theirs in zip(own, drawn_so, strict=True)
            if np.allclose(mine, (mine @ way) * way) and np.allclose(theirs, (theirs @ way) * way)
        ]
        assert found, one.name
        more = [(theirs - mine) / STEP_MM for mine, theirs in found if mine >= GAP_MM - 1e-9]
        assert any(step > -1e-6 and abs(step - round(step)) < 1e-6 for step in more), one.name


def test_the_pictures_are_the_same_each_time_and_show_what_they_say() -> None:
    _, alone, on_lathe = made(BENCH)
    first = [shot.draw() for shot in shots(alone, on_lathe)]
    assert first == [shot.draw() for shot in shots(alone, on_lathe)]
    assert len(set(first)) == len(first) == 5
