"""Meshes, the lathe's bodies, poses and pictures without the kernel, each against sums done by hand.

The lathe is the bench lathe's job: its own sizes; what a job does not say stands at sizes of our own,
for looks alone, typed here once more so that a slip in one is noticed.
"""

from __future__ import annotations

import struct
import zlib
from math import cos, hypot, pi, radians, sin
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace

from parts.frame import Frame
from parts.placed import Carrier
from planner.output.plan import Plan
from planner.scene import Work, pictures
from planner.scene.bodies import CAST, JAW, STEEL, WORK, block, lathe_things, turned
from planner.scene.model import Mesh, Scene, Thing, by_matrix, joined
from planner.scene.pictures import FROM_FRONT, FROM_REAR, drawn, shots
from planner.scene.png import png
from planner.scene.render import Drawn, render
from planner.scene.scene import Sweep, lathe_scene, placed_points

HERE = Frame((0.0, 0.0, 0.0))


def box(mesh: Mesh) -> list[list[float]]:
    """The least and the greatest corner, to a thousandth."""
    found = (mesh.points.min(axis=0), mesh.points.max(axis=0))
    return [[round(float(v), 3) + 0.0 for v in corner] for corner in found]


# ---- meshes ----


def test_a_block_has_its_corners_sides_and_edges() -> None:
    mesh = block((1.0, 2.0, 3.0), (4.0, 6.0, 8.0))
    assert (len(mesh.points), len(mesh.triangles), len(mesh.edges)) == (8, 12, 12)
    long = np.linalg.norm(mesh.points[mesh.edges[:, 0]] - mesh.points[mesh.edges[:, 1]], axis=1)
    assert sorted(long.tolist()) == [3.0] * 4 + [4.0] * 4 + [5.0] * 4
    assert mesh.points.dtype == np.float64 and mesh.triangles.dtype == np.int32


def test_a_turned_body_is_of_48_facets_with_an_edge_round_each_end() -> None:
    mesh = turned([(0.0, 10.0), (30.0, 10.0)])
    # two rings and two middles; round it two triangles a facet, on each end one
    assert len(mesh.points) == 2 * 48 + 2 and len(mesh.triangles) == 4 * 48
    assert len(mesh.edges) == 2 * 48
    assert box(mesh) == [[-10.0, -10.0, 0.0], [10.0, 10.0, 30.0]]
    assert len(turned([(0.0, 10.0), (5.0, 4.0), (9.0, 4.0)]).edges) == 3 * 48


@pytest.mark.parametrize(("bent", "edges"), [(31.0, 4), (33.0, 5), (-31.0, 4), (-33.0, 5)])
def test_an_edge_is_where_two_faces_meet_at_more_than_32_degrees(bent: float, edges: int) -> None:
    up = sin(radians(bent))
    points = np.array([[0.0, 0, 0], [0, 1, 0], [-1, 0, 0], [cos(radians(bent)), 0, up]])
    mesh = joined(points, np.array([[0, 1, 2], [1, 0, 3]], dtype=np.int32))
    assert len(mesh.edges) == edges


def test_points_of_one_place_are_one_and_what_has_no_area_goes() -> None:
    points = np.array(
        [[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [1.000004, 0, 0], [1, 1, 0], [1.00002, 0, 0]]
    )
    faces = np.array([[0, 1, 2], [3, 4, 2], [1, 3, 4]], dtype=np.int32)
    mesh = joined(points, faces)
    assert len(mesh.points) == 5 and mesh.triangles.tolist() == [[0, 1, 2], [1, 3, 2]]
    assert mesh.points.tolist() == points[[0, 1, 2, 4, 5]].tolist()  # as they came


def test_points_times_a_matrix() -> None:
    rng = np.random.default_rng(3)
    points, matrix = rng.uniform(-9, 9, (7, 3)), rng.uniform(-1, 1, (3, 3))
    assert by_matrix(points, matrix.tolist()) == pytest.approx(points @ matrix)
    frame = Frame((5.0, -7.0, 9.0), x="+z", z="-y")
    for one, other in zip(points, placed_points(points, frame), strict=True):
        assert tuple(other) == pytest.approx(frame.place((one[0], one[1], one[2])))


# ---- the lathe ----

WORKED = Work(30.0, 32.0, 10.0, 60.0, 25.0)


def things(plan: Plan, work: Work = WORKED, post_z: float = 80.0) -> dict[str, Thing]:
    sizes = plan.attachment.sizes
    return {one.name: one for one in lathe_things(sizes, plan.job, work, post_z)}


def test_every_body_of_the_bench_lathe_by_its_box(bench: Plan) -> None:
    """Chuck Ø100, jaws reach 26, blank Ø32: from the job; the seat 20 and the slide 62 under it."""
    named, s, job = things(bench), bench.attachment.sizes, bench.job
    assert (job.lathe.chuck_diameter, job.lathe.jaw_reach) == (100, 26)
    assert (s.spindle_over_seat_mm, s.spindle_over_cross_slide_mm) == (20, 62)
    assert box(named["chuck"].mesh) == [[-50, -50, -131], [50, 50, -86]]
    assert box(named["jaw 1"].mesh) == [[-8, 16, -86], [8, 50, -60]]
    low, high = box(named["jaw 2"].mesh)  # at 210 degrees: its y along (-sin 120, cos 120)
    s120, c120 = sin(radians(120)), cos(radians(120))
    assert low == pytest.approx([-50 * s120 + 8 * c120, 50 * c120 - 8 * s120, -86], abs=1e-3)
    assert high == pytest.approx([-16 * s120 - 8 * c120, 16 * c120 + 8 * s120, -60], abs=1e-3)
    assert box(named["jaw 3"].mesh)[1][0] == pytest.approx(-low[0], abs=1e-3)
    front, back = s.post_front_x_mm, s.post_front_x_mm - s.post_depth_mm
    assert box(named["cross slide"].mesh) == [[back - 30, -80, 20], [60, -62, 140]]
    shank, stands = s.shank_stock.width_mm, job.tool_post.stands_out or 0.0
    top = -20 + max(job.tool_post.height or 0.0, s.largest_shank_mm + 22)
    side, wall = s.shank_inner_z_mm - stands, s.shank_inner_z_mm + shank
    far = max(160 - side, wall + 8)
    assert box(named["tool post foot"].mesh) == [[back, -62, side], [front, -20, far]]
    assert box(named["tool post core"].mesh) == [[back, -20, wall], [front, top, far]]
    assert box(named["tool post lip"].mesh) == [[back, shank - 14, side], [front, top, wall]]
    middle, z = front - s.post_depth_mm / 2, (side + wall) / 2
    for name, x in (("1", middle - s.post_depth_mm / 4), ("2", middle + s.post_depth_mm / 4)):
        screw = named[f"post screw {name}"]
        assert screw.frame.origin == pytest.approx((x, shank - 20, z))
        assert screw.frame.place((0.0, 0.0, 26.0)) == pytest.approx((x, shank + 6, z))
        assert box(screw.mesh) == [[-4, -4, 0], [4, 4, 26]]
    assert len(named) == 12


def test_a_far_post_and_a_wide_blank(bench: Plan) -> None:
    s = bench.attachment.sizes
    far = things(bench, post_z=10.0)["tool post foot"]
    assert box(far.mesh)[1][2] == s.shank_inner_z_mm + s.shank_stock.width_mm + 8
    wide = things(bench, replace(WORKED, blank_mm=110.0))["jaw 1"]
    assert box(wide.mesh)[:2] == [[-8, 55, -86], [8, 59, -60]]


def test_kinds_colours_and_titles(bench: Plan) -> None:
    named = things(bench)
    assert {one.carrier for one in named.values()} == {Carrier.POST}
    assert [name for name, one in named.items() if not one.solid] == ["blank"]
    assert {name for name, one in named.items() if one.kind == "work"} == {"work", "blank"}
    for names, colour in (
        ("chuck,cross slide", CAST),
        ("jaw 1,jaw 2,jaw 3,post screw 1,post screw 2", JAW),
        ("tool post foot,tool post core,tool post lip", STEEL),
        ("work,blank", WORK),
    ):
        assert {named[one].colour for one in names.split(",")} == {colour}
    # steel grey, cast iron and jaws darker, brass yellow: for looks, the darker the harder
    assert [STEEL, CAST, JAW, WORK] == [
        (0.62, 0.64, 0.66), (0.46, 0.5, 0.53), (0.36, 0.38, 0.41), (0.8, 0.69, 0.42),
    ]  # fmt: skip


@pytest.mark.parametrize("relief", [0.0, 25.0])
def test_the_work_is_a_ball_on_its_stem_on_its_bar(bench: Plan, relief: float) -> None:
    named = things(bench, replace(WORKED, relief_mm=relief))
    points = named["work"].mesh.points
    radii = np.hypot(points[:, 0], points[:, 1])
    # the bar Ø32 from the chuck to the relief or the jaws; the stem Ø10 to the ball of 30
    assert radii[points[:, 2] < -86 + 1e-6].max() == pytest.approx(16)
    back = -relief if relief else -60.0
    assert points[radii > 15.001][:, 2].max() == pytest.approx(back)
    neck = -((15.0**2 - 5.0**2) ** 0.5)
    between = (points[:, 2] > back + 1e-6) & (points[:, 2] < neck + 1e-6)
    assert radii[between].max() == pytest.approx(5) and points[:, 2].max() == pytest.approx(15)
    ball = points[points[:, 2] > neck + 1e-6]
    assert np.linalg.norm(ball, axis=1) == pytest.approx(np.full(len(ball), 15.0))
    # 40 facets from pole to pole, those behind the neck left out
    stations = sorted({round(float(z), 6) for z in ball[:, 2]})
    assert stations == sorted(
        {round(15 * cos(pi * k / 40), 6) for k in range(41) if 15 * cos(pi * k / 40) > neck}
    )
    assert box(named["blank"].mesh) == [[-16, -16, -60], [16, 16, 15]]
    thick = things(bench, replace(WORKED, stem_mm=30.0))["work"].mesh.points
    assert (thick[:, 2] > 0).any() and np.hypot(thick[:, 0], thick[:, 1]).max() == pytest.approx(16)


def test_on_the_lathe_the_tip_goes_from_the_ball_to_the_blanks_corner(bench: Plan) -> None:
    alone = Scene((), (4.0, 21.0), (0.0, 180.0))
    found = lathe_scene(alone, bench.attachment, bench.job, WORKED, Sweep(10.0, 150.0, 80.0))
    assert found.tip_mm == pytest.approx((15.0, 21.0)) and found.swing_deg == (10.0, 150.0)
    found = lathe_scene(replace(alone, tip_mm=(4.0, 40.0)), bench.attachment, bench.job, WORKED,
                        Sweep(10.0, 150.0, 80.0))  # fmt: skip
    assert found.tip_mm == pytest.approx((15.0, hypot(15.0, 16.0))) and len(found.things) == 12
    small = lathe_scene(replace(alone, tip_mm=(4.0, 9.0)), bench.attachment, bench.job, WORKED,
                        Sweep(10.0, 150.0, 80.0))  # fmt: skip
    assert small.tip_mm == (15.0, 15.0)


# ---- pictures ----


def test_the_five_pictures_show_the_poses_that_they_name(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[Any, ...]] = []
    monkeypatch.setattr(pictures, "picture", lambda *asked: seen.append(asked) or b"")
    alone, there = Scene((), (10.0, 20.0), (0.0, 180.0)), Scene((), (15.0, 19.0), (12.0, 143.0))
    found = shots(alone, there)
    for one in found:
        one.draw()
    assert [one.name.removeprefix("attachment-") for one in found] == [
        "alone", "apart", "sweep-start", "sweep-top", "sweep-end",
    ]  # fmt: skip
    # six tenths of the way out, half swung; taken apart upright; the sweep's begin, top and end
    assert seen == [
        (alone, 16.0, 118.0, 0.0, FROM_FRONT), (alone, 16.0, 90.0, 1.0, FROM_FRONT),
        (there, 15.0, 12.0, 0.0, FROM_REAR), (there, 15.0, 90.0, 0.0, FROM_REAR),
        (there, 15.0, 143.0, 0.0, FROM_REAR),
    ]  # fmt: skip
    seen.clear()
    shots(alone, replace(there, swing_deg=(12.0, 80.0)))[3].draw()
    assert seen[0][2] == 80.0
    # the eye stands in front (-x) or behind, above (+y), and toward the tailstock (+z)
    assert FROM_FRONT == (-0.78, 0.52, 0.72) and FROM_REAR == (0.85, 0.5, 0.75)


def test_a_picture_is_1000_by_750_and_a_thing_stands_where_it_is_moved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    mesh = block((-1.0, -1.0, -1.0), (1.0, 1.0, 1.0))
    one = Thing(
        "a", "A", "part", mesh, Frame((10.0, 0, 0)), Carrier.HEAD, (0.5, 0.5, 0.5), (0, 4.0, 0)
    )
    assert drawn(one, 20.0, 90.0, 0.5).points.mean(axis=0) == pytest.approx([10, 22, 0])
    # swung to the nose the radius lies along +z (parts.placed)
    assert drawn(one, 20.0, 0.0, 0.0).points.mean(axis=0) == pytest.approx([10, 0, 20])
    asked: list[tuple[Any, ...]] = []
    monkeypatch.setattr(
        pictures, "render", lambda *those: asked.append(those) or np.zeros((1, 1, 3), np.uint8)
    )
    pictures.picture(Scene((one,), (20.0, 20.0), (0.0, 180.0)), 20.0, 90.0)
    (((body,), *rest),) = asked
    assert rest == [FROM_FRONT, 1000, 750] and body.points.mean(axis=0) == pytest.approx(
        [10, 20, 0]
    )


def shade(normal: tuple[float, float, float], colour: float) -> int:
    """Light from the upper left in front, on a tint that stays light under black edges: our own."""
    lit = -0.36 * normal[0] + 0.64 * normal[1] + 0.68 * normal[2]
    return round(255 * min(1.0, (0.62 + 0.38 * min(1.0, max(-0.6, lit))) * (0.35 + 0.65 * colour)))


@pytest.mark.parametrize("colour", [0.1, 0.5, 1.0])
def test_a_face_has_the_shade_of_the_way_it_looks(colour: float) -> None:
    mesh = block((-10, -10, -10), (10, 10, 10))
    for towards, normals in (
        ((0.0, 0.0, 1.0), [(0.0, 0.0, 1.0)]),
        ((0.0, 3.0, 4.0), [(0.0, 0.8, 0.6), (0.0, -0.6, 0.8)]),
        ((0.0, -3.0, 4.0), [(0.0, -0.8, 0.6), (0.0, 0.6, 0.8)]),
        ((3.0, 0.0, 4.0), [(0.8, 0.0, 0.6), (-0.6, 0.0, 0.8)]),
    ):
        picture = render(
            [Drawn(mesh.points, mesh.triangles, mesh.edges, (colour,) * 3)], towards, 90, 90
        )
        values, counts = np.unique(picture[..., 0], return_counts=True)
        flat = {int(v) for v, n in zip(values, counts, strict=True) if n > 600 and v < 255}
        wanted = {shade(one, colour) for one in normals} - {255}
        assert flat == wanted, towards


def test_an_edge_is_one_dot_wide_and_the_margin_three_in_a_hundred() -> None:
    mesh = block((0, 0, 0), (40, 20, 5))
    whole = Drawn(mesh.points, mesh.triangles, mesh.edges, (0.5, 0.5, 0.5))
    picture = render([whole], (0.0, 0.0, 1.0), 400, 200)[..., 0]
    rows, columns = (
        np.flatnonzero((picture < 250).any(axis=1)),
        np.flatnonzero((picture < 250).any(axis=0)),
    )
    assert (rows[0], columns[0]) == (6, 12) and (rows[-1], columns[-1]) in ((193, 387), (194, 388))
    across = picture[100, :20]  # two dots of the larger picture, so one or two of this
    assert (across[:12] == 255).all() and across[12:14].min() == 0 and (across[14:] > 100).all()


def test_an_edge_a_quarter_millimetre_behind_a_face_still_shows() -> None:
    wall = block((-20, -20, -1), (20, 20, 0))
    for back, shown in ((0.2, True), (0.3, False)):
        points = np.array([[-10.0, 0, -back], [10.0, 0, -back], [0.0, 1, -back]])
        wire = Drawn(
            points, np.zeros((0, 3), np.int32), np.array([[0, 1]], np.int32), (0, 0, 0), False
        )
        board = Drawn(wall.points, wall.triangles, wall.edges, (1.0, 1.0, 1.0))
        picture = render([board, wire], (0.0, 0.0, 1.0), 100, 100)[..., 0]
        assert bool((picture[45:55, 40:60] < 60).any()) is shown


def test_the_bytes_of_a_png_chunk_by_chunk() -> None:
    """ISO/IEC 15948: signature, then length, name, data and CRC-32 of name and data."""
    pixels = np.arange(2 * 3 * 3, dtype=np.uint8).reshape(2, 3, 3)
    for one, colour, more in (
        (pixels, 2, [b"pHYs"]),
        (np.repeat(pixels[..., :1], 3, axis=2), 0, []),
    ):
        data = png(one, 11.811 if more else 0.0)
        assert data[:8] == bytes((137, 80, 78, 71, 13, 10, 26, 10))
        at, chunks = 8, {}
        while at < len(data):
            (long,) = struct.unpack(">I", data[at : at + 4])
            name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + long]
            assert struct.unpack(">I", data[at + 8 + long : at + 12 + long])[0] == zlib.crc32(
                name + body
            )
            chunks[name] = body
            at += 12 + long
        assert list(chunks) == [b"IHDR", *more, b"IDAT", b"IEND"]
        assert chunks[b"IHDR"] == struct.pack(">IIBBBBB", 3, 2, 8, colour, 0, 0, 0)
        if more:  # 11.811 a millimetre is 300 an inch, said a metre
            assert chunks[b"pHYs"] == struct.pack(">IIB", 11811, 11811, 1)
    with pytest.raises(ValueError, match="8-bit"):
        png(np.zeros((2, 3, 4), np.uint8))
    with pytest.raises(ValueError, match="8-bit"):
        png(np.zeros((2, 3), np.uint8))
