"""Sheets for the cutter read back by GDAL and by ezdxf's audit; areas by shoelace and segments."""

import math
from collections import Counter

import ezdxf
import pyogrio
import pytest
import shapely
from msgspec.structs import replace
from shapes import ELL, circle

from planner.geometry.curves import FlatProfile, Outline
from planner.nest.dxf import write_piece, write_sheet
from planner.nest.place import Piece, Sheet, nest

# A bulge is the tangent of a quarter of the arc's angle, below 0 clockwise (DXF reference, memory).


def slot(x, y, length, width):
    """Straight sides of a length, ends of half the width, its left end's centre at x, y."""
    r = width / 2
    return Outline(
        ((x, y - r, 0.0), (x + length, y - r, 1.0), (x + length, y + r, 0.0), (x, y + r, 1.0))
    )


ANGLE = FlatProfile(
    name="angle",
    title="Angle",
    material="S355",
    thickness_mm=10.0,
    outline=ELL,
    holes=(circle(80, 40, 8), circle(80, 15, 4.5), slot(20, 10, 15, 12)),
    marks=((8.0, 10.0),),
)
DISC = FlatProfile("disc", "Disc", "S355", 10.0, circle(30, 30, 30), (circle(30, 30, 12),), ())


def exact_area(vertices, shift=0.0):
    """Shoelace of the vertices and the segment of each arc, by its chord and angle."""
    total = 0.0
    for (x0, y0, b), (x1, y1, _) in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if b:
            angle = 4 * math.atan(b)
            radius = math.hypot(x1 - x0, y1 - y0) / 2 / abs(math.sin(angle / 2))
            total += math.copysign(radius**2 / 2 * (abs(angle) - math.sin(abs(angle))), b)
    return abs(total)


def exact_length(vertices):
    total = 0.0
    for (x0, y0, b), (x1, y1, _) in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        chord = math.hypot(x1 - x0, y1 - y0)
        half = 2 * math.atan(abs(b))
        total += chord * half / math.sin(half) if b else chord
    return total


@pytest.fixture(scope="module", autouse=True)
def gdal():
    """GDAL's own options: closed polylines as polygons, arcs in chords of half a degree."""
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": True, "OGR_ARC_STEPSIZE": 0.5})
    yield
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": None, "OGR_ARC_STEPSIZE": None})


def read(path):
    """GDAL's view: (layer, shapely geometry, text) of every entity in the file's order."""
    meta, _, shapes, fields = pyogrio.raw.read(path)
    columns = dict(zip(meta["fields"], fields, strict=True))
    rows = zip(columns["Layer"], shapely.from_wkb(shapes), columns["Text"], strict=True)
    return [(layer, shapely.force_2d(shape), text) for layer, shape, text in rows]


def audited(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


@pytest.fixture(scope="module")
def plasma():
    pieces = [Piece(ANGLE, 3), Piece(DISC, 2)]
    return nest(pieces, [Sheet("s", 400, 200, None, 1, 10)], 8.0, "plasma").sheets[0]


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_sheet_read_back(tmp_path, plasma, version):
    path = tmp_path / "sheet.dxf"
    write_sheet(path, plasma, version)
    found = read(path)
    # An angle: two holes of 16 and 12 wide are cut, the one of 9 in 10 mm plate is marked, and a
    # mark is two lines. Discs have a hole each.
    assert Counter(layer for layer, *_ in found) == {
        "SHEET": 1,
        "CUT_INSIDE": 3 * 2 + 2,
        "CUT_OUTSIDE": 5,
        "MARK": 3 * 2 * 2,
    }
    closed = [(layer, shape) for layer, shape, _ in found if layer != "MARK"]
    assert {shape.geom_type for _, shape in closed} == {"Polygon"}
    areas = {
        layer: sorted(shape.area for name, shape in closed if name == layer)
        for layer in ("SHEET", "CUT_INSIDE", "CUT_OUTSIDE")
    }
    assert areas["SHEET"] == [400 * 200]
    holes = [ANGLE.holes[0], ANGLE.holes[2]] * 3 + [DISC.holes[0]] * 2
    for layer, outlines in (
        ("CUT_INSIDE", holes),
        ("CUT_OUTSIDE", [ANGLE.outline] * 3 + [DISC.outline] * 2),
    ):
        by_hand = sorted(exact_area(outline.vertices) for outline in outlines)
        assert areas[layer] == pytest.approx(by_hand, rel=1e-4)
    # The two known without any formula of this file: the L and the disc.
    l_area = 100 * 20 + 40 * 40 + (1 - math.pi / 4) * 25
    assert exact_area(ANGLE.outline.vertices) == pytest.approx(l_area)
    assert exact_area(DISC.outline.vertices) == pytest.approx(math.pi * 900)
    # On the sheet and 8 mm apart, by shapely: GDAL's chords leave 0.001 mm.
    outside = [shape for layer, shape in closed if layer == "CUT_OUTSIDE"]
    inside = [shape for layer, shape in closed if layer == "CUT_INSIDE"]
    assert all(shapely.box(10, 10, 390, 190).buffer(2e-3).contains(s) for s in outside)
    for n, one in enumerate(outside):
        assert all(one.distance(other) > 8 - 2e-3 for other in outside[n + 1 :])
    assert all(sum(s.contains(hole) for s in outside) == 1 for hole in inside)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_the_file_is_sound(tmp_path, plasma, version):
    path, again = tmp_path / "sheet.dxf", tmp_path / "again.dxf"
    write_sheet(path, plasma, version, labels=True)
    write_sheet(again, plasma, version, labels=True)
    assert path.read_bytes() == again.read_bytes()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["again.dxf", "sheet.dxf"]
    document = audited(path)
    assert document.acad_release == version
    # $INSUNITS 4 is millimetres (DXF reference, from memory); R12 does not know it.
    assert document.header.get("$INSUNITS", None) == (None if version == "R12" else 4)
    cut = document.modelspace().query('*[layer=="CUT_INSIDE" | layer=="CUT_OUTSIDE"]')
    # Whole arcs, not chords: polylines of that version's kind, an angle's outline of 7 vertices.
    kind = "POLYLINE" if version == "R12" else "LWPOLYLINE"
    assert {entity.dxftype() for entity in cut} == {kind}
    assert sorted(len(entity) for entity in cut) == [2] * 7 + [4] * 3 + [7] * 3
    assert all(entity.is_closed for entity in cut)
    texts = document.modelspace().query("TEXT")
    assert sorted(t.dxf.text for t in texts) == ["angle"] * 3 + ["disc"] * 2
    assert {t.dxf.layer for t in texts} == {"MARK"}


def test_labels_stand_on_the_metal_of_their_piece(tmp_path, plasma):
    path = tmp_path / "sheet.dxf"
    write_sheet(path, plasma, labels=True)
    found = read(path)
    metal = {}
    for placed in plasma.placed:
        profile = placed.on_sheet()
        (outline,) = [
            s
            for layer, s, _ in found
            if layer == "CUT_OUTSIDE"
            and s.contains(shapely.Point(profile.holes[0].vertices[0][:2]))
        ]
        metal.setdefault(profile.name, []).append(outline)
    holes = shapely.union_all([s for layer, s, _ in found if layer == "CUT_INSIDE"])
    for _, at, text in (row for row in found if row[2]):
        # From the lower left corner along the line: at the least half a height a letter.
        line = shapely.LineString([(at.x, at.y + 1), (at.x + 1.75 * len(text), at.y + 1)])
        assert any(outline.contains(line) for outline in metal[text])
        assert not holes.intersects(line)
    write_sheet(path, plasma)
    assert not any(text for *_, text in read(path))


def test_holes_come_first_and_the_next_piece_is_near(tmp_path, plasma):
    path = tmp_path / "sheet.dxf"
    write_sheet(path, plasma)
    cuts = [(layer, shape) for layer, shape, _ in read(path) if layer.startswith("CUT")]
    waiting = []
    for layer, shape in cuts:
        if layer == "CUT_INSIDE":
            waiting.append(shape)
        else:
            # Every hole cut since the last outline lies in this one, and none is left for later.
            assert waiting and all(shape.contains(hole) for hole in waiting)
            waiting = []
    assert not waiting
    # The way between the cuts is shorter than in the order of placing, or as long.
    starts = [shape.exterior.coords[0] for layer, shape in cuts if layer == "CUT_OUTSIDE"]
    assert math.dist(starts[0], (0, 0)) == min(math.dist(s, (0, 0)) for s in starts)
    # A plasma arc cuts squarer on its right: outlines clockwise, holes anticlockwise (common
    # practice).
    for layer, shape in cuts:
        assert shape.exterior.is_ccw is (layer == "CUT_INSIDE")


@pytest.mark.parametrize(("least", "cut"), [(None, 2), (0.0, 3), (9.0, 3), (12.0, 2), (12.1, 1)])
def test_small_holes_are_marked(tmp_path, least, cut):
    path = tmp_path / "angle.dxf"
    write_piece(path, ANGLE, least_hole_mm=least)
    found = read(path)
    count = Counter(layer for layer, *_ in found)
    assert count["CUT_INSIDE"] == cut and count["CUT_OUTSIDE"] == 1
    assert count["MARK"] == 2 * (1 + 3 - cut) and "SHEET" not in count
    middles = {
        (round(s.centroid.x, 6), round(s.centroid.y, 6)) for name, s, _ in found if name == "MARK"
    }
    expected = {(8, 10)} | ({(80, 15)} if cut < 3 else set()) | ({(27.5, 10)} if cut < 2 else set())
    assert middles == expected


def test_a_slanted_slot_is_as_wide_as_it_is(tmp_path):
    # 12 wide at 45 degrees: its bounds are over 22 mm both ways.
    c = math.sqrt(0.5)
    straight = slot(0, 0, 15, 12).vertices
    slanted = Outline(tuple((30 + c * (x - y), 25 + c * (x + y), b) for x, y, b in straight))
    plate = replace(DISC, outline=slot(30, 40, 40, 80), holes=(slanted,))
    for least, count in ((11.9, 1), (12.1, 0)):
        write_piece(tmp_path / "plate.dxf", plate, least_hole_mm=least)
        layers = Counter(layer for layer, *_ in read(tmp_path / "plate.dxf"))
        assert layers["CUT_INSIDE"] == count


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_the_kerf_offset_is_exact(tmp_path, version):
    kerf = 3.0
    path = tmp_path / "angle.dxf"
    write_piece(path, ANGLE, version, kerf_offset_mm=kerf)
    cuts = [(layer, shape) for layer, shape, _ in read(path) if layer.startswith("CUT")]
    *holes, (_, outline) = cuts
    # Steiner: area less perimeter d + pi d2 inside a circle or slot.
    expected = [
        exact_area(hole.vertices) - exact_length(hole.vertices) * 1.5 + math.pi * 1.5**2
        for hole in (ANGLE.holes[0], ANGLE.holes[2])
    ]
    assert sorted(shape.area for _, shape in holes) == pytest.approx(sorted(expected), rel=1e-4)
    # By hand: each straight side and the fillet moves out; at the five outer corners a quarter disc
    # is added; the fillet's radius falls to 3.5, so its quarter ring is 5^2 - 3.5^2.
    straights = 100 + 60 + 40 + 35 + 55 + 20
    ring = math.pi / 4 * (5**2 - 3.5**2)
    by_hand = exact_area(ANGLE.outline.vertices) + straights * 1.5 + ring + 5 / 4 * math.pi * 1.5**2
    assert outline.area == pytest.approx(by_hand, rel=1e-5)
    assert outline.bounds == pytest.approx((-1.5, -1.5, 101.5, 61.5), abs=1e-6)


@pytest.mark.parametrize("kerf", [0.0, 2.0])
def test_lead_ins_come_from_the_waste(tmp_path, plasma, kerf):
    path = tmp_path / "sheet.dxf"
    write_sheet(path, plasma, lead_in_mm=4.0, kerf_offset_mm=kerf)
    audited(path)
    cuts = [(layer, shape) for layer, shape, _ in read(path) if layer.startswith("CUT")]
    contours = cuts[1::2]
    outside = [shape for layer, shape in contours if layer == "CUT_OUTSIDE"]
    assert len(cuts) == 2 * 13
    for (layer, lead), (same, contour) in zip(cuts[::2], contours, strict=True):
        assert layer == same and lead.geom_type == "LineString"
        start, end = lead.coords
        assert lead.length == pytest.approx(4, abs=1e-5)
        # It ends where the contour starts, and starts with room all round the pierce.
        assert end == pytest.approx(contour.exterior.coords[0], abs=1e-5)
        pierce = shapely.Point(start)
        assert contour.exterior.distance(pierce) > 0.7 * 4 - 1e-2
        assert contour.contains(pierce) is (layer == "CUT_INSIDE")
        if layer == "CUT_OUTSIDE":
            assert all(shape.distance(lead) > 0.5 for shape in outside if shape is not contour)
            assert shapely.box(0, 0, 400, 200).contains(pierce)


def test_the_saws_file_shows_its_cuts(tmp_path):
    pieces = [Piece(ANGLE, 3), Piece(DISC, 2)]
    sheet = nest(pieces, [Sheet("s", 400, 200, None, 1, 5)], 3.0, "saw").sheets[0]
    path = tmp_path / "saw.dxf"
    for into in (0.0, 3.0):
        write_sheet(path, sheet, kerf_offset_mm=into)
        audited(path)
        found = read(path)
        lines = [shape for layer, shape, _ in found if layer == "CUT_OUTSIDE"]
        assert [line.length for line in lines] == pytest.approx([c.length_mm for c in sheet.cuts])
        shapes = [s for layer, s, _ in found if layer == "MARK" and s.area > 300]
        assert "CUT_INSIDE" not in {layer for layer, *_ in found}
        # No cut goes into a piece, and the whole kerf beside it is clear of them as well.
        boxes = [shapely.box(*s.bounds) for s in shapes]
        for line in lines:
            (x0, y0), (x1, y1) = line.coords
            dx, dy = (3.0, 0.0) if x0 == x1 else (0.0, 3.0)
            ox, oy = dx * into / 6, dy * into / 6
            kerf = shapely.box(x0 - ox, y0 - oy, x1 - ox + dx, y1 - oy + dy)
            assert all(kerf.intersection(box).area < 1e-3 for box in boxes)


def test_refusals_write_nothing(tmp_path, plasma):
    path = tmp_path / "none.dxf"
    narrow = replace(ANGLE, holes=(circle(80, 40, 5),))
    wide = replace(DISC, outline=slot(40, 40, 300, 80), holes=())
    full = nest([Piece(wide)], [Sheet("f", 400, 100, 1, 1, 10)], 8.0, "plasma").sheets[0]
    for write, says in (
        (lambda: write_sheet(path, plasma, "R9"), "'R9' is not written"),
        (lambda: write_piece(path, ANGLE, "R9", lead_in_mm=-1), "lead_in_mm is -1.*'R9'"),
        (lambda: write_piece(path, ANGLE, kerf_offset_mm=math.nan), "kerf_offset_mm is nan"),
        (lambda: write_piece(path, ANGLE, least_hole_mm=-2), "least_hole_mm is -2"),
        (lambda: write_sheet(path, plasma, kerf_offset_mm=9), "wider than the gap of 8 mm"),
        (lambda: write_piece(path, ANGLE, kerf_offset_mm=10.5), "'angle': a detail.*too narrow"),
        (lambda: write_piece(path, narrow, kerf_offset_mm=10.1), "'angle': a detail"),
        (lambda: write_sheet(path, plasma, lead_in_mm=30), r"of 30 mm to a hole near \("),
        (lambda: write_sheet(path, full, lead_in_mm=15), r"of 15 mm to the outline near \("),
        (lambda: write_piece(path, DISC, lead_in_mm=15), "lead-in of 15 mm to a hole"),
    ):
        with pytest.raises(ValueError, match=says):
            write()
    with pytest.raises(OSError):
        write_piece(tmp_path / "missing" / "a.dxf", ANGLE)
    assert list(tmp_path.iterdir()) == []
