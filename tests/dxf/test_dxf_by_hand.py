"""Where things stand in a DXF file, and how its numbers are written, worked out by hand."""

from math import cos, radians, sin, sqrt, tan

import pytest
from dxf_cases import PLATE, audited, read
from msgspec.structs import replace

from planner.dxf.drawing import NARROW, WIDE
from planner.dxf.paths import Chain, Extent, circle_of, extent_of
from planner.dxf.profiles import write_layers, write_profile
from planner.geometry.curves import Line, Outline


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


def test_a_chain_reaches_as_its_points_and_its_arcs_do():
    # half a circle of 20 from 0, 0 to 20, 0, anticlockwise: it dips to -10 (bulge 1)
    half = Chain(((0.0, 0.0, 1.0), (20.0, 0.0, 0.0)), False)
    assert extent_of([half]) == Extent(0.0, -10.0, 20.0, 0.0)
    moved = Chain(((3.0, 5.0, 1.0), (23.0, 5.0, 0.0)), False)
    assert extent_of([moved]) == Extent(3.0, -5.0, 23.0, 5.0)
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
    back = Chain(((*points[1], -bulge), (*points[0], 0.0)), False)
    for chain in (forth, back):
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
    other = Chain(((15.0, 1.0, 1.0), (25.0, 1.0, 1.0)), True)
    assert extent_of([circle]) == Extent(-5.0, -5.0, 5.0, 5.0)
    assert extent_of([circle, other]) == Extent(-5.0, -5.0, 25.0, 6.0)


def test_a_profiles_title_stands_under_it(tmp_path):
    path = tmp_path / "plate.dxf"
    write_profile(path, PLATE)
    document = audited(path)
    (text,) = document.modelspace().query("TEXT")
    assert text.dxf.text == "Bracket, S355, 10 mm thick"
    assert text.dxf.style == "Standard" and text.dxf.height == 3.5  # ISO 3098-1
    assert tuple(text.dxf.insert)[:2] == pytest.approx((0, -3 - 3.5))
    marks = document.modelspace().query('LINE[layer=="MARK"]')
    ends = [(*tuple(m.dxf.start)[:2], *tuple(m.dxf.end)[:2]) for m in marks]
    # a cross of 3 mm on each centre
    assert ends == [
        pytest.approx(one)
        for x, y in PLATE.marks
        for one in ((x - 1.5, y, x + 1.5, y), (x, y - 1.5, x, y + 1.5))
    ]


@pytest.mark.parametrize("version", ["R2000", "R2010"])
def test_lines_are_told_apart_by_dash_weight_and_colour(tmp_path, version):
    # wide 0.5 and narrow 0.25 mm; dashes of 12 and gaps of 3 narrow widths, the centre line's long
    # ones of 24 and its dot drawn as 6 (ISO 128-2, from memory); names as CAD programs list them
    wanted = {
        "VISIBLE": (7, "CONTINUOUS", WIDE),
        "HIDDEN": (8, "HIDDEN", NARROW),
        "CENTER": (1, "CENTER", NARROW),
    }
    path = tmp_path / "pin.dxf"
    drawn = [(name, Line((0, y), (50, y))) for y, name in enumerate(wanted)]
    write_layers(path, wanted, drawn, version)
    assert [layer for layer, *_ in read(path)] == list(wanted)
    document = audited(path)
    layers = {
        layer.dxf.name: (layer.dxf.color, layer.dxf.linetype.upper(), layer.dxf.lineweight)
        for layer in document.layers
        if layer.dxf.name in wanted
    }
    assert layers == {
        "VISIBLE": (7, "CONTINUOUS", 50),
        "HIDDEN": (8, "HIDDEN", 25),
        "CENTER": (1, "CENTER", 25),
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
    assert document.header["$INSUNITS"] == 4  # the millimetre (DXF reference, from memory)
    assert "PHANTOM" not in document.linetypes  # none but those that a layer has


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
