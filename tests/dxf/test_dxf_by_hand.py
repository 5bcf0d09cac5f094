"""Where things stand in a DXF file, and how its numbers are written, worked out by hand."""

from dataclasses import replace
from math import cos, radians, sin, sqrt, tan

import pytest
from dxf_cases import PLATE, audited, bounds, lines_on

from planner.dxf.paths import Chain, Extent, circle_of, extent_of, joined
from planner.dxf.profiles import write_profile
from planner.dxf.views import write_views
from planner.geometry.curves import Arc, Line, Outline, Polyline


def box(left, bottom, right, top):
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


@pytest.mark.parametrize(
    "front, top, left, floor, wall",
    [
        # first angle (ISO 5456-2, from memory): the top view hangs 20 mm under the lowest of the
        # others, the view from the left stands 20 mm beside the rightmost
        ((0, -10, 50, 10), (0, -8, 50, 8), (-10, -30, 10, 30), -30 - 20, 50 + 20),
        ((0, -40, 50, 10), (0, -8, 70, 8), (-10, -30, 10, 30), -40 - 20, 70 + 20),
        ((5, 2, 50, 10), (5, 100, 45, 120), (30, 2, 60, 10), 2 - 20, 50 + 20),
    ],
)
def test_views_stand_clear_of_each_other(tmp_path, front, top, left, floor, wall):
    path = tmp_path / "part.dxf"
    write_views(path, "Part", {"front": box(*front), "top": box(*top), "left": box(*left)})
    found = [bounds(points) for points in lines_on(path, "VISIBLE")]
    assert found[0] == pytest.approx(front)
    assert found[1] == pytest.approx((top[0], floor - (top[3] - top[1]), top[2], floor))
    assert found[2] == pytest.approx((wall, left[1], wall + left[2] - left[0], left[3]))
    # one view by itself stays where it is
    for name, edges in (("top", top), ("left", left)):
        write_views(path, "Part", {name: box(*edges)})
        assert bounds(lines_on(path, "VISIBLE")[0]) == pytest.approx(edges)


def test_centre_lines_run_out_as_far_at_each_end(tmp_path):
    path = tmp_path / "part.dxf"
    views = {"front": box(10, -10, 50, 10), "left": box(-10, -10, 10, 10)}
    write_views(path, "Part", views, turned=True)
    front, across, up = (bounds(points) for points in lines_on(path, "CENTER"))
    body, end = (bounds(points) for points in lines_on(path, "VISIBLE"))
    for line, edges, low, high in ((front, body, 0, 2), (across, end, 0, 2), (up, end, 1, 3)):
        out = {round(edges[low] - line[low], 6), round(line[high] - edges[high], 6)}
        # a few millimetres beyond what they belong to (ISO 128-2, from memory)
        assert len(out) == 1 and 2 <= out.pop() <= 5


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_file_opens_on_the_whole_drawing(tmp_path, version):
    # the view's centre is the drawing's, and it is as high as the drawing and as wide, and a tenth
    # more; 3:2 is the least wide that screens are (common practice)
    for dx, dy, size in ((0.0, 0.0, (300, 40)), (900.0, -70.0, (20, 60))):
        corners = [(0, 0), (size[0], 0), size, (0, size[1])]
        outline = Outline(tuple((x + dx, y + dy, 0.0) for x, y in corners))
        path = tmp_path / "plate.dxf"
        write_profile(path, replace(PLATE, outline=outline, holes=(), marks=()), version)
        document = audited(path)
        low, high = (document.header[name] for name in ("$EXTMIN", "$EXTMAX"))
        assert low[0] == pytest.approx(dx) and high[0] == pytest.approx(size[0] + dx)
        assert dy - 10 < low[1] < dy and high[1] == pytest.approx(size[1] + dy)  # words below
        (view,) = document.viewports.get("*Active")
        middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
        assert tuple(view.dxf.center)[:2] == pytest.approx(middle, abs=1e-6)
        tall = max(high[1] - low[1], (high[0] - low[0]) / 1.5)
        assert view.dxf.height == pytest.approx(1.1 * tall, abs=1e-6)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_numbers_are_written_without_the_dust_of_fractions(tmp_path, version):
    # a bulge to twelve places: over a chord of a metre that is a thousandth of a micrometre;
    # a millimetre to six
    vertices = ((1 / 3, 0.0, 1 / 3), (100 / 7, -0.0, -2 / 3), (20.0, 30.0, 0.0))
    path = tmp_path / "plate.dxf"
    write_profile(path, replace(PLATE, outline=Outline(vertices), holes=(), marks=()), version)
    said = [row.strip() for row in path.read_text().splitlines()]
    pairs = list(zip(said[::2], said[1::2], strict=True))
    bulges = {value for code, value in pairs if code == "42" and value.lstrip("-")[0] == "0"}
    assert {"0.333333333333", "-0.666666666667"} <= bulges
    places = {value for code, value in pairs if code == "10"}
    assert {"0.333333", "14.285714", "20.0"} <= places
    assert not any(value.startswith("-0.0") and float(value) == 0 for _, value in pairs if value)


def test_a_chain_moves_and_reaches_as_its_points_do():
    # half a circle of 20 from 0, 0 to 20, 0, anticlockwise: it dips to -10 (bulge 1)
    half = Chain(((0.0, 0.0, 1.0), (20.0, 0.0, 0.0)), False)
    assert extent_of([half]) == Extent(0.0, -10.0, 20.0, 0.0)
    assert extent_of([half.moved(3.0, 5.0)]) == Extent(3.0, -5.0, 23.0, 5.0)
    line = Chain(((40.0, 7.0, 0.0), (41.0, 60.0, 0.0)), False)
    assert extent_of([half, line]) == Extent(0.0, -10.0, 41.0, 60.0)


@pytest.mark.parametrize("turn_deg", [0, 90, 180, 270])
def test_an_arc_reaches_past_its_ends_on_its_own_side_alone(turn_deg):
    # an arc of 120 degrees about 5, 7 of radius 10, its middle to the right, up, left or down: it
    # reaches 10 there, and 10 sin 60 either side
    ends = [radians(turn_deg - 60), radians(turn_deg + 60)]
    points = [(5 + 10 * cos(a), 7 + 10 * sin(a)) for a in ends]
    bulge = tan(radians(120) / 4)
    forth = Chain(((*points[0], bulge), (*points[1], 0.0)), False)
    for chain in (forth, forth.reversed()):
        extent = extent_of([chain])
        far = {
            0: extent.right - 5,
            90: extent.top - 7,
            180: 5 - extent.left,
            270: 7 - extent.bottom,
        }
        assert far.pop(turn_deg) == pytest.approx(10)
        opposite = far.pop((turn_deg + 180) % 360)
        assert opposite == pytest.approx(-5)  # the ends, at the cosine of 60
        assert list(far.values()) == pytest.approx([10 * sqrt(3) / 2] * 2)


def test_a_full_circle_reaches_as_far_every_way():
    circle = Chain(((-5.0, 0.0, 1.0), (5.0, 0.0, 1.0)), True)
    assert extent_of([circle]) == Extent(-5.0, -5.0, 5.0, 5.0)
    assert extent_of([circle, circle.moved(20.0, 1.0)]) == Extent(-5.0, -5.0, 25.0, 6.0)


def test_the_words_of_views_stand_clear_of_each_other(tmp_path):
    # letters 3.5 and a title 5 mm high (ISO 3098-1), a view's name 3 mm above it, then a note and the
    # title, each a line and a line's room above the last
    path = tmp_path / "part.dxf"
    views = {"front": box(0, -10, 50, 10), "top": box(0, -8, 50, 8)}
    write_views(path, "Part", views)
    texts = {t.dxf.text: t.dxf for t in audited(path).modelspace().query("TEXT")}
    places = {text: (*tuple(at.insert)[:2], at.height) for text, at in texts.items()}
    note = 10 + 6 + 7.0
    assert places == {
        "Front view": (0, 13, 3.5),
        "Top view": (0, -30 + 3, 3.5),
        "1:1 in mm, first-angle projection": (0, note, 3.5),
        "Part": (0, note + 7, 5),
    }


def test_a_profiles_title_stands_under_it(tmp_path):
    path = tmp_path / "plate.dxf"
    write_profile(path, PLATE)
    document = audited(path)
    (text,) = document.modelspace().query("TEXT")
    assert text.dxf.text == "Bracket, S355, 10 mm thick"
    assert tuple(text.dxf.insert)[:2] == pytest.approx((0, -3 - 3.5))
    marks = document.modelspace().query('LINE[layer=="MARK"]')
    ends = [(*tuple(m.dxf.start)[:2], *tuple(m.dxf.end)[:2]) for m in marks]
    # a cross of 3 mm on each centre
    assert ends == [
        pytest.approx(one)
        for x, y in PLATE.marks
        for one in ((x - 1.5, y, x + 1.5, y), (x, y - 1.5, x, y + 1.5))
    ]


def test_lines_are_told_apart_by_dash_weight_and_colour(tmp_path):
    # wide 0.5 and narrow 0.25 mm; dashes of 12 and gaps of 3 narrow widths, the centre line's long
    # ones of 24 and its dot drawn as 6 (ISO 128-2, from memory); names as CAD programs list them
    path = tmp_path / "pin.dxf"
    views = {"front": [*box(0, -10, 50, 10), Line((0, 0), (50, 0), hidden=True)]}
    write_views(path, "Pin", views, turned=True)
    document = audited(path)
    layers = {
        layer.dxf.name: (layer.dxf.color, layer.dxf.linetype.upper(), layer.dxf.lineweight)
        for layer in document.layers
        if layer.dxf.name in ("VISIBLE", "HIDDEN", "CENTER", "MARK")
    }
    assert layers == {
        "VISIBLE": (7, "CONTINUOUS", 50),
        "HIDDEN": (8, "HIDDEN", 25),
        "CENTER": (1, "CENTER", 25),
        "MARK": (3, "CONTINUOUS", 25),
    }
    for name, says, dashes in (
        ("HIDDEN", "Hidden __ __ __", [3.75, 3.0, -0.75]),
        ("CENTER", "Center ____ _ ____", [9.0, 6.0, -0.75, 1.5, -0.75]),
    ):
        linetype = document.linetypes.get(name)
        assert linetype.dxf.description == says
        found = [tag.value for tag in linetype.pattern_tags.tags if tag.code in (40, 49)]
        assert found == pytest.approx(dashes)
    assert document.header["$MEASUREMENT"] == 1  # metric dashes (DXF reference, from memory)


def test_a_short_line_between_two_others_is_kept_and_dust_is_not():
    # ends within 0.002 mm meet: a step of 0.005 is a step, one of 0.001 is none
    for step, corners in ((0.005, 4), (0.001, 3)):
        lines = [
            Line((0.0, 0.0), (10.0, 0.0)),
            Line((10.0, 0.0), (10.0, step)),
            Line((10.0, step), (20.0, step)),
        ]
        (chain,) = joined(lines)
        assert len(chain.vertices) == corners and not chain.closed
        assert {chain.vertices[0][0], chain.vertices[-1][0]} == {0.0, 20.0}


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_views_are_as_high_as_their_title(tmp_path, version):
    # the note stands at 10 + 6 + 7, the title 7 above it, 5 high; the top view ends at -30 - 16
    path = tmp_path / "part.dxf"
    write_views(
        path, "P", {"front": box(0, -10, 50, 10), "top": box(0, -8, 50, 8)}, version=version
    )
    header = audited(path).header
    assert tuple(header["$EXTMIN"])[:2] == pytest.approx((0, -46))
    assert tuple(header["$EXTMAX"])[:2] == pytest.approx((50, 35))


@pytest.mark.parametrize(("out_mm", "kept"), [(0.0039, 0), (0.0041, 1), (0.0045, 1), (0.1, 1)])
def test_what_goes_out_and_back_is_dust_up_to_four_joints(out_mm: float, kept: int) -> None:
    # ends within 0.002 mm are one place: there and back over 0.008 mm in all is nothing drawn
    found = joined([Polyline(((0.0, 0.0), (out_mm, 0.0), (0.0, 0.0)), False)])
    assert len(found) == kept


def test_what_is_a_circle():
    # two half turns, four quarters or one drawn the other way; not an open path, nor one with a flat
    quarter = tan(radians(90) / 4)
    four = [(10.0, 0.0), (0.0, 10.0), (-10.0, 0.0), (0.0, -10.0)]
    round_four = Chain(tuple((x + 3, y - 4, quarter) for x, y in four), True)
    assert circle_of(round_four) == pytest.approx((3.0, -4.0, 10.0))
    other_way = tuple((x + 3, y - 4, -quarter) for x, y in four[::-1])
    assert circle_of(Chain(other_way, True)) == pytest.approx((3.0, -4.0, 10.0))
    two = Chain(((-5.0, 0.0, 1.0), (5.0, 0.0, 1.0)), True)
    assert circle_of(two) == pytest.approx((0.0, 0.0, 5.0))
    assert circle_of(replace(two, closed=False)) is None
    assert circle_of(Chain(((-5.0, 0.0, 1.0), (5.0, 0.0, 0.0)), True)) is None
    assert circle_of(Chain(((-5.0, 0.0, 1.0), (5.0, 0.0, -0.5)), True)) is None
    # an oval of two halves apart by what is joined, and by more
    for apart, found in ((0.001, True), (0.003, False)):
        bulge = tan(radians(180) / 4) * (1 + apart / 5)
        oval = Chain(((-5.0, 0.0, 1.0), (5.0, 0.0, bulge)), True)
        assert (circle_of(oval) is not None) is found


@pytest.mark.parametrize(
    ("start", "end", "pieces", "sweep"),
    [(0, 90, 1, 90), (0, 180, 1, 180), (0, 181, 2, 181), (300, 390, 1, 90), (350, 10, 1, 20)],
)
def test_an_arc_is_drawn_in_pieces_of_half_a_turn_at_most(start, end, pieces, sweep):
    (chain,) = joined([Arc((2.0, 3.0), 10.0, start, end, False)])
    segments = list(chain.segments())
    assert len(segments) == pieces and not chain.closed
    bulge = tan(radians(sweep / pieces) / 4)
    assert [p[2] for p, _ in segments] == pytest.approx([bulge] * pieces)
    first, last = segments[0][0], segments[-1][1]
    a, b = radians(start), radians(start + sweep)
    assert first[:2] == pytest.approx((2 + 10 * cos(a), 3 + 10 * sin(a)))
    assert last[:2] == pytest.approx((2 + 10 * cos(b), 3 + 10 * sin(b)))


def test_an_arc_that_is_all_but_whole_is_a_circle():
    # of radius 10 a gap of 0.002 mm is 0.0115 degrees
    for end, closed in ((360.0, True), (359.99, True), (359.98, False)):
        (chain,) = joined([Arc((0.0, 0.0), 10.0, 0.0, end, False)])
        assert chain.closed is closed
