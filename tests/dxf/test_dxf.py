"""DXF files read back by GDAL and by ezdxf's own audit, areas and lengths worked out by hand."""

import math
import os
import struct
import subprocess
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path

import ezdxf
import pyogrio
import pytest
from ezdxf.math import Vec2, bulge_center, bulge_radius
from shapes import ELL, QUARTER, circle

from planner.dxf.write import VERSIONS, write_profile, write_views
from planner.geometry.curves import Arc, FlatProfile, Line, Polyline

ROOT = Path(__file__).parents[2]

# A bulge is the tangent of a quarter of the arc's angle, below 0 clockwise (DXF reference, memory:
# LWPOLYLINE group 42): -tan(90 / 4 degrees) for a quarter turn to the right.


PLATE = FlatProfile(
    name="bracket",
    title="Bracket",
    material="S355",
    thickness_mm=10.0,
    outline=ELL,
    holes=(circle(80, 40, 8), circle(80, 15, 6)),
    marks=((20.0, 10.0), (40.0, 10.0)),
)


def pin_views():
    """A pin 20 x 50 with a round-nosed end 12 x 30 and a blind 6 mm bore, in three views."""
    front = [
        Line((0, -10), (50, -10)),
        Line((50, 10), (0, 10)),
        Line((50, 10), (50, -10)),
        Line((0, 10), (0, -10)),
        Line((50, -6), (74, -6)),
        Line((74, 6), (50, 6)),
        Arc((74, 0), 6, 270, 450),
        Line((0, -3), (60, -3), hidden=True),
        Line((60, 3), (0, 3), hidden=True),
        Line((60, -3), (60, 3), hidden=True),
    ]
    top = [curve for curve in front if not curve.hidden]
    left = [
        Arc((0, 0), 10, 0, 360),
        Arc((0, 0), 3, 90, 270),
        Arc((0, 0), 3, -90, 90),
        Arc((0, 0), 6, 45, 405, hidden=True),
    ]
    return {"front": front, "top": top, "left": left}


@pytest.fixture(scope="module", autouse=True)
def gdal():
    """GDAL's own options: closed polylines as polygons, arcs in chords of half a degree."""
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": True, "OGR_ARC_STEPSIZE": 0.5})
    yield
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": None, "OGR_ARC_STEPSIZE": None})


def read(path):
    """GDAL's view of a file: (layer, linetype, text, kind, points) of every entity in its order."""
    meta, _, shapes, fields = pyogrio.raw.read(path)
    columns = dict(zip(meta["fields"], fields, strict=True))
    rows = zip(columns["Layer"], columns["Linetype"], columns["Text"], shapes, strict=True)
    return [(layer, linetype, text, *points_of(shape)) for layer, linetype, text, shape in rows]


def points_of(wkb):
    """Kind and points of a point, line or polygon with one ring in WKB (OGC 06-103r4, memory)."""
    assert wkb[0] == 1
    kind = struct.unpack_from("<I", wkb, 1)[0]
    size = 3 if kind & 0x80000000 else 2
    kind &= 0xFF
    at, count = 5, 1
    if kind == 3:
        assert struct.unpack_from("<I", wkb, at) == (1,)
        at += 4
    if kind in (2, 3):
        count = struct.unpack_from("<I", wkb, at)[0]
        at += 4
    numbers = struct.unpack_from(f"<{size * count}d", wkb, at)
    points = list(zip(numbers[::size], numbers[1::size], strict=True))
    return {1: "point", 2: "line", 3: "polygon"}[kind], points


def area(points):
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(points)) / 2


def bounds(points):
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )


def audited(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


@pytest.mark.parametrize("version", VERSIONS)
def test_a_profile_read_back(tmp_path, version):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE, version)
    found = read(path)
    # Two marks of two lines each and one text; two holes and the outline.
    assert Counter(layer for layer, *_ in found) == {"MARK": 5, "CUT": 3}
    assert [text for _, _, text, *_ in found if text] == ["Bracket, S355, 10 mm thick"]
    # Holes before the outline (common practice: the piece is still held while they are cut).
    *holes, outline = [shape for layer, *shape in found if layer == "CUT"]
    for _, _, _, points in holes:
        assert points[0] == pytest.approx(points[-1])
    assert [abs(area(hole[3])) for hole in holes] == pytest.approx(
        [math.pi * 8**2, math.pi * 6**2], rel=1e-4
    )
    _, _, kind, points = outline
    assert kind == "polygon"
    # By hand: the L's two rectangles, and the fillet leaves a square less a quarter disc.
    by_hand = 100 * 20 + 40 * 40 + (1 - math.pi / 4) * 5**2
    assert area(points) == pytest.approx(by_hand, rel=1e-6)
    assert bounds(points) == pytest.approx((0, 0, 100, 60))
    # The text stands clear of the piece.
    ((_, _, _, _, (at,)),) = [row for row in found if row[3] == "point"]
    assert at[0] == 0 and at[1] < -3


@pytest.mark.parametrize("version", VERSIONS)
def test_a_profile_is_sound_and_says_it_is_in_millimetres(tmp_path, version):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE, version)
    document = audited(path)
    assert document.acad_release == version
    text = path.read_text(encoding="utf-8")
    # $INSUNITS 4 is millimetres (DXF reference, from memory); R12 does not know it.
    assert document.header.get("$INSUNITS", None) == (None if version == "R12" else 4)
    assert ("$INSUNITS" in text) is (version != "R12")
    assert set(document.layers.entries) == {"0", "defpoints", "cut", "mark"}
    if version != "R12":
        assert document.header["$MEASUREMENT"] == 1
        # Line weights in 1/100 mm (DXF reference, group 370, from memory).
        assert document.layers.get("CUT").dxf.lineweight == 50
        assert document.layers.get("MARK").dxf.lineweight == 25


def test_the_outline_is_one_closed_polyline_with_a_true_arc(tmp_path):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE)
    space = audited(path).modelspace()
    assert [entity.dxftype() for entity in space.query('*[layer=="CUT"]')] == [
        "CIRCLE",
        "CIRCLE",
        "LWPOLYLINE",
    ]
    outline = space.query("LWPOLYLINE").first
    assert outline.closed
    points = outline.get_points("xyb")
    assert len(points) == 7
    (arc,) = [k for k, (_, _, bulge) in enumerate(points) if bulge]
    start, end, bulge = Vec2(points[arc][:2]), Vec2(points[arc + 1][:2]), points[arc][2]
    assert bulge_radius(start, end, bulge) == pytest.approx(5, rel=1e-9)
    assert bulge_center(start, end, bulge).isclose((55, 25), abs_tol=1e-9)
    assert [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in space.query("CIRCLE")] == [
        (80, 40, 8),
        (80, 15, 6),
    ]
    # A centre mark is two short lines that cross in the middle of both.
    middles = [(line.dxf.start + line.dxf.end) / 2 for line in space.query("LINE")]
    assert [(m.x, m.y) for m in middles] == [(20, 10), (20, 10), (40, 10), (40, 10)]
    assert {line.dxf.start.distance(line.dxf.end) for line in space.query("LINE")} == {3.0}


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_views_read_back(tmp_path, version):
    path = tmp_path / "pin.dxf"
    write_views(path, "Stepped pin", pin_views(), turned=True, version=version)
    audited(path)
    found = read(path)
    # Front and top: a rectangle and a nose that meets it; three hidden lines are one path; three
    # circles in the view from the left. Centre lines: one, one and two. Three names, a note, a
    # title.
    assert Counter(layer for layer, *_ in found) == {
        "VISIBLE": 2 + 2 + 2,
        "HIDDEN": 1 + 1,
        "CENTER": 4,
        "MARK": 5,
    }
    texts = [text for _, _, text, *_ in found if text]
    assert texts[-1] == "Stepped pin"
    assert texts[:3] == ["Front view", "Top view", "View from the left"]
    # The rectangle 50 x 20 of front and top are closed polygons.
    polygons = [points for *_, kind, points in found if kind == "polygon"]
    assert [abs(area(points)) for points in polygons] == pytest.approx([1000, 1000])


def shapes(path, layer):
    return [points for name, _, _, _, points in read(path) if name == layer]


def test_first_angle_places_top_below_and_left_to_the_right(tmp_path):
    # First angle: the view from above goes below, from the left to the right (ISO 5456-2, memory).
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views())
    nose, front, top_nose, top, *left = (bounds(p) for p in shapes(path, "VISIBLE"))
    # The front view stays at its own coordinates, so the top view's x and the left view's y do.
    assert front == pytest.approx((0, -10, 50, 10))
    assert nose == pytest.approx((50, -6, 80, 6))
    assert (top[0], top[2]) == pytest.approx((0, 50))
    assert (top_nose[0], top_nose[2]) == pytest.approx((50, 80))
    assert front[1] - top[3] == pytest.approx(20)
    outer = max(left, key=lambda b: b[2] - b[0])
    assert (outer[1], outer[3]) == pytest.approx((-10, 10))
    assert outer[0] - nose[2] == pytest.approx(20)
    assert outer[2] - outer[0] == pytest.approx(20)


def test_centre_lines_run_through_the_axis(tmp_path):
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views(), turned=True)
    front, top, across, up = (bounds(points) for points in shapes(path, "CENTER"))
    assert front[1] == front[3] == 0 and front[0] < 0 and front[2] > 80
    assert top[1] == top[3]
    top_body = [bounds(p) for p in shapes(path, "VISIBLE")][3]
    assert top[1] == pytest.approx((top_body[1] + top_body[3]) / 2)
    ring = max((bounds(p) for p in shapes(path, "VISIBLE")[4:]), key=lambda b: b[2] - b[0])
    assert across[1] == across[3] == 0 and across[0] < ring[0] and across[2] > ring[2]
    assert up[0] == up[2] == pytest.approx((ring[0] + ring[2]) / 2)
    assert up[1] < -10 and up[3] > 10


def test_linetypes_weights_and_units_of_views(tmp_path):
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views(), inch=True, turned=True)
    document = audited(path)
    assert document.header["$INSUNITS"] == 4
    layers = {layer.dxf.name: layer.dxf for layer in document.layers}
    assert layers["HIDDEN"].linetype == "HIDDEN" and layers["CENTER"].linetype == "CENTER"
    for name in ("HIDDEN", "CENTER"):
        assert name in document.linetypes
    # Wide and narrow lines of the 0.5 mm group, 2:1 (ISO 128-2, from memory).
    weights = {name: layers[name].lineweight for name in ("VISIBLE", "HIDDEN", "CENTER", "MARK")}
    assert weights == {"VISIBLE": 50, "HIDDEN": 25, "CENTER": 25, "MARK": 25}
    # An inch job's drawing is the same drawing in millimetres; its note says so.
    note = [t.dxf.text for t in document.modelspace().query("TEXT")][-2]
    assert note == "1:1 in mm (1 in = 25.4 mm), first-angle projection"
    # Every text in the style that every drawing has.
    assert {t.dxf.style for t in document.modelspace().query("TEXT")} == {"Standard"}


def entities(tmp_path, *curves):
    path = tmp_path / "curves.dxf"
    write_views(path, "Curves", {"front": curves})
    space = audited(path).modelspace()
    return [entity for entity in space if entity.dxftype() != "TEXT"]


def test_ends_that_meet_become_one_closed_polyline_in_any_order(tmp_path):
    # A slot 20 x 10 with round ends, its four curves shuffled and some reversed.
    (slot,) = entities(
        tmp_path,
        Line((0, -5), (10, -5)),
        Arc((0, 0), 5, 90, 270),
        Line((0, 5), (10, 5)),
        Arc((10, 0), 5, -90, 90),
    )
    assert slot.closed and len(slot) == 4
    points = slot.get_points("xyb")
    centres = {
        tuple(round(v, 9) + 0.0 for v in bulge_center(Vec2(p[:2]), Vec2(q[:2]), p[2]))
        for p, q in pairwise([*points, points[0]])
        if p[2]
    }
    assert centres == {(0, 0), (10, 0)}
    # Exact length: two straights of 10 and a circle of radius 5.
    (visible,) = shapes(tmp_path / "curves.dxf", "VISIBLE")
    length = sum(math.dist(p, q) for p, q in pairwise(visible))
    assert length == pytest.approx(20 + 10 * math.pi, rel=1e-4)
    assert abs(area(visible)) == pytest.approx(100 + 25 * math.pi, rel=1e-4)


@pytest.mark.parametrize("flip", [False, True])
def test_an_open_chain_keeps_its_arcs_whichever_way_it_runs(tmp_path, flip):
    # A quarter arc of radius 7 about (10, 7) between a straight from the left and one going up.
    ends = ((0, 0), (10, 0)), ((17, 7), (17, 30))
    lines = [Line(*(end[::-1] if flip else end)) for end in ends]
    (chain,) = entities(tmp_path, lines[1], Arc((10, 7), 7, 270, 360), lines[0])
    assert not chain.closed and len(chain) == 4
    (k,) = [k for k, p in enumerate(chain.get_points("xyb")) if p[2]]
    p, q = chain.get_points("xyb")[k : k + 2]
    assert bulge_center(Vec2(p[:2]), Vec2(q[:2]), p[2]).isclose((10, 7), abs_tol=1e-9)
    # tan(90 / 4 degrees), above 0 when the chain runs anticlockwise round the arc.
    forward = chain.get_points("xy")[0] == (0, 0)
    assert p[2] == pytest.approx(QUARTER if forward else -QUARTER)


def test_a_large_arc_is_itself(tmp_path):
    # Three quarters of a circle of radius 10 closed by two radii: area 3/4 pi r^2.
    (sector,) = entities(
        tmp_path, Arc((0, 0), 10, 0, 270), Line((0, -10), (0, 0)), Line((0, 0), (10, 0))
    )
    assert sector.closed
    (points,) = shapes(tmp_path / "curves.dxf", "VISIBLE")
    assert abs(area(points)) == pytest.approx(75 * math.pi, rel=1e-4)
    assert bounds(points) == pytest.approx((-10, -10, 10, 10), abs=1e-3)


def test_circles_stay_circles(tmp_path):
    found = entities(
        tmp_path,
        Arc((0, 0), 10, 30, 390),
        Arc((40, 0), 5, 0, 120),
        Arc((40, 0), 5, 120, 240),
        Arc((40, 0), 5, 240, 360),
        Arc((80, 0), 4, 0, 359.999999),
    )
    assert [entity.dxftype() for entity in found] == ["CIRCLE"] * 3
    assert sorted(round(entity.dxf.radius, 6) for entity in found) == [4, 5, 10]
    assert sorted(round(entity.dxf.center.x, 6) for entity in found) == [0, 40, 80]


def test_two_arcs_that_are_no_circle_stay_a_lens(tmp_path):
    # Two unit arcs of 120 degrees through (0, +-sin 60): area 2 (pi/3 - sqrt(3)/4) (vesica piscis).
    (lens,) = entities(tmp_path, Arc((0.5, 0), 1, 120, 240), Arc((-0.5, 0), 1, -60, 60))
    assert lens.dxftype() == "LWPOLYLINE" and lens.closed
    (points,) = shapes(tmp_path / "curves.dxf", "VISIBLE")
    assert abs(area(points)) == pytest.approx(2 * (math.pi / 3 - math.sqrt(3) / 4), rel=1e-3)


def test_forks_part_the_paths(tmp_path):
    # A rectangle with a line across it: three paths, and no line is drawn twice.
    found = entities(
        tmp_path,
        Line((0, 0), (10, 0)),
        Line((10, 0), (20, 0)),
        Line((20, 0), (20, 10)),
        Line((20, 10), (10, 10)),
        Line((10, 10), (0, 10)),
        Line((0, 10), (0, 0)),
        Line((10, 0), (10, 10)),
    )
    assert Counter(entity.dxftype() for entity in found) == {"LWPOLYLINE": 2, "LINE": 1}
    lines = shapes(tmp_path / "curves.dxf", "VISIBLE")
    assert sum(math.dist(p, q) for line in lines for p, q in pairwise(line)) == pytest.approx(70)


def test_sampled_curves_join_and_close(tmp_path):
    # An ellipse 20 x 10 in two halves of 100 chords: its area is pi a b less the chords' part.
    half = [math.pi * k / 100 for k in range(101)]
    (ellipse,) = entities(
        tmp_path,
        Polyline(tuple((10 * math.cos(t), 5 * math.sin(t)) for t in half)),
        Polyline(tuple((10 * math.cos(t), -5 * math.sin(t)) for t in half)),
    )
    assert ellipse.closed and len(ellipse) == 200
    (points,) = shapes(tmp_path / "curves.dxf", "VISIBLE")
    # A polygon inscribed at even parameters: n/2 a b sin(2 pi / n) (affine image of a circle's).
    assert abs(area(points)) == pytest.approx(100 * 50 * math.sin(math.pi / 100), rel=1e-6)


def test_near_ends_meet_and_specks_are_left_out(tmp_path):
    found = entities(
        tmp_path,
        Line((0, 0), (10, 0)),
        Line((10.0008, 0.0005), (10, 10)),
        Line((10, 10), (10.0001, 10.0001)),
        Line((10, 10.0001), (0, 0.0004)),
        Line((5, 5), (5.0003, 5)),
    )
    (triangle,) = found
    assert triangle.closed and len(triangle) == 3
    # A gap that can be seen stays one: 0.05 mm.
    found = entities(tmp_path, Line((0, 0), (10, 0)), Line((10.05, 0), (20, 0)))
    assert [entity.dxftype() for entity in found] == ["LINE", "LINE"]


def test_visible_and_hidden_curves_do_not_join(tmp_path):
    hidden, visible = entities(tmp_path, Line((0, 0), (10, 0)), Line((10, 0), (20, 0), hidden=True))
    assert (hidden.dxf.layer, visible.dxf.layer) == ("HIDDEN", "VISIBLE")


def test_refusals(tmp_path):
    path = tmp_path / "none.dxf"
    line = [Line((0, 0), (1, 0))]
    for views, says in (
        ({}, "front, top, left"),
        ({"front": []}, "nothing to draw"),
        ({"front": [Line((1, 1), (1, 1))]}, "nothing to draw"),
        ({"bottom": line}, "unknown view 'bottom'"),
    ):
        with pytest.raises(ValueError, match=says):
            write_views(path, "Part", views)
    with pytest.raises(ValueError, match=r"R13.*R12, R2000"):
        write_profile(path, PLATE, "R13")
    with pytest.raises(OSError):
        write_profile(tmp_path / "nowhere" / "a.dxf", PLATE)
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch):
    path = tmp_path / "bracket.dxf"
    path.write_text("old")

    def full(*_):
        raise OSError("no space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="no space"):
        write_profile(path, PLATE)
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]
    monkeypatch.undo()
    write_profile(path, PLATE)
    assert path.read_text() != "old"
    assert list(tmp_path.iterdir()) == [path]


def test_ezdxf_options_are_put_back(tmp_path):
    for before in (False, True):
        ezdxf.options.write_fixed_meta_data_for_testing = before
        try:
            write_profile(tmp_path / "a.dxf", PLATE)
            with pytest.raises(ValueError):
                write_profile(tmp_path / "a.dxf", PLATE, "R9")
            assert ezdxf.options.write_fixed_meta_data_for_testing is before
        finally:
            ezdxf.options.write_fixed_meta_data_for_testing = False


SCRIPT = """
import hashlib, sys
from pathlib import Path
from test_dxf import PLATE, pin_views
from planner.dxf.write import write_profile, write_views
folder = Path(sys.argv[1])
for version in ("R12", "R2010"):
    for turn in (1, 2):
        write_profile(folder / "profile.dxf", PLATE, version)
        write_views(folder / "views.dxf", "Pin", pin_views(), turned=True, version=version)
        for name in ("profile", "views"):
            print(hashlib.sha256((folder / f"{name}.dxf").read_bytes()).hexdigest())
"""


def test_the_same_bytes_from_every_process(tmp_path):
    runs = []
    search = os.pathsep.join(str(ROOT / place) for place in (".", "tests", "tests/dxf"))
    for seed in ("0", "1", "4711"):
        folder = tmp_path / seed
        folder.mkdir()
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT, str(folder)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": search},
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stderr == ""
        runs.append(run.stdout.split())
    assert runs[0] == runs[1] == runs[2]
    # Two writes in one process are the same too; the four kinds of file are not.
    r12, r2010 = runs[0][:4], runs[0][4:]
    assert r12[:2] == r12[2:] and r2010[:2] == r2010[2:]
    assert len({*r12, *r2010}) == 4


def test_another_hash_seed_gives_the_same_bytes(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path;"
        "from planner.geometry.curves import FlatProfile, Outline;"
        "from planner.dxf.write import write_profile;"
        "o = Outline(((0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (0.0, 9.0, 0.0)));"
        "write_profile(Path(sys.argv[1]), FlatProfile('p', 'P', 'S235', 3.0, o, (), ()))"
    )
    made = []
    for seed in ("1", "2", "3"):
        path = tmp_path / f"{seed}.dxf"
        env = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parents[2])}
        subprocess.run([sys.executable, "-c", code, str(path)], env=env, check=True)
        made.append(path.read_bytes())
    assert made[0] == made[1] == made[2]
