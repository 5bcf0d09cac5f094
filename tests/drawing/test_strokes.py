"""What items look like: hatching against shapely's areas, arrows on what they measure, words clear."""

from __future__ import annotations

from itertools import combinations
from math import atan2, degrees, hypot

import pytest
from drawing_cases import (
    ANGLE,
    DIAMETER,
    DIMENSIONS,
    HATCH,
    LIMITED,
    LINEAR,
    RADIUS,
    SHEET,
    SMALL,
    shape,
)
from PIL import ImageFont
from shapely.geometry import LineString, Point, Polygon

from planner.drawing.apart import apart, drawn
from planner.drawing.lettering import FONT, corners
from planner.drawing.model import (
    Arc,
    Balloon,
    Characteristic,
    Circle,
    DatumSymbol,
    Dimension,
    GeometricTolerance,
    Hatch,
    Item,
    Leader,
    Line,
    Polyline,
    TextureSymbol,
    WeldSymbol,
)
from planner.drawing.strokes import PENS


@pytest.mark.parametrize("angle_deg", [0.0, 30.0, 45.0, 90.0, 135.0])
@pytest.mark.parametrize("spacing", [0.7, 2.0])
def test_hatching_covers_its_area_and_nothing_else(angle_deg: float, spacing: float) -> None:
    outer, hole = HATCH.loops
    area = Polygon(outer, [hole])
    lines = [
        LineString([line.start, line.end])
        for line in drawn(Hatch(HATCH.loops, angle_deg, spacing)).strokes
        if isinstance(line, Line)
    ]
    assert all(area.buffer(1e-6).contains(line) for line in lines)
    # each line stands for a band of its spacing: together they are the area
    assert sum(line.length for line in lines) * spacing == pytest.approx(area.area, rel=0.03)
    assert {round(hatch_deg(line) - angle_deg) % 180 for line in lines} == {0}


def hatch_deg(line: LineString) -> float:
    (ax, ay), (bx, by) = line.coords
    return degrees(atan2(by - ay, bx - ax))


def tips(dimension: Dimension) -> list[tuple[float, float]]:
    return [
        one.points[0]
        for one in drawn(dimension).strokes
        if isinstance(one, Polyline) and one.filled
    ]


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda one: one.text)
def test_arrows_end_on_the_lines_of_what_is_measured(dimension: Dimension) -> None:
    pieces = drawn(dimension)
    found = tips(dimension)
    assert len(found) == (1 if dimension.kind == "radius" else 2)
    if dimension.kind == "radius":
        assert found[0] == pytest.approx(dimension.feet[1])
    elif dimension.kind == "diameter":
        assert sorted(found) == [pytest.approx(foot) for foot in sorted(dimension.feet)]
    elif dimension.kind == "linear":
        apart_mm = hypot(found[0][0] - found[1][0], found[0][1] - found[1][1])
        assert apart_mm == pytest.approx(dimension.measured * float(dimension.scale))
        lines = [shape(one) for one in pieces.strokes if isinstance(one, Line)]
        for tip in found:  # an extension line and the dimension line
            assert sum(line.distance(Point(tip)) < 1e-6 for line in lines) == 2
    else:
        vertex = Point(dimension.feet[0])
        radius = vertex.distance(Point(dimension.at))
        assert [vertex.distance(Point(tip)) for tip in found] == [pytest.approx(radius)] * 2


def test_arrows_point_from_outside_where_there_is_no_room() -> None:
    for dimension, inward in ((LINEAR, False), (SMALL, True)):
        solids = [
            one for one in drawn(dimension).strokes if isinstance(one, Polyline) and one.filled
        ]
        xs = sorted(foot[0] for foot in dimension.feet)
        for solid in solids:
            centroid = Polygon(solid.points).centroid.x
            assert (xs[0] < centroid < xs[1]) is not inward


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda one: one.text)
def test_words_are_clear_of_the_dimension_and_read_from_below_or_the_right(
    dimension: Dimension,
) -> None:
    pieces = drawn(dimension)
    inks = [Polygon(corners(text)) for text in pieces.texts]
    for text in pieces.texts:
        assert -90 < text.rotation_deg <= 90
    for ink in inks:
        assert all(ink.distance(shape(stroke)) > 0.2 for stroke in pieces.strokes)
    assert all(not a.intersects(b) for a, b in combinations(inks, 2))
    together = " ".join(text.words for text in pieces.texts)
    assert together == " ".join(filter(None, (dimension.text, dimension.lower, dimension.upper)))


def test_limits_stand_one_over_the_other_in_smaller_letters() -> None:
    main, lower, upper = drawn(LIMITED).texts
    assert lower.height == upper.height < main.height
    # read from the right: over is to the left
    assert upper.at[0] < lower.at[0] and upper.at[1] == pytest.approx(lower.at[1])


def test_a_dimension_line_reaches_under_words_that_stand_beyond_it() -> None:
    words, line = drawn(SMALL).texts[0], shape(drawn(SMALL).strokes[2])
    xs = [x for x, _ in corners(words)]
    assert line.bounds[0] <= min(xs) + 1e-6 and line.bounds[2] >= max(xs) - 1e-6


def test_a_diameter_goes_across_and_a_radius_does_not() -> None:
    centre = Point(DIAMETER.feet[0]).distance(Point(DIAMETER.feet[1])) / 2
    assert centre == pytest.approx(15)
    line = next(one for one in drawn(DIAMETER).strokes if isinstance(one, Polyline))
    assert shape(line).length > 30
    spoke = next(one for one in drawn(RADIUS).strokes if isinstance(one, Polyline))
    assert shape(spoke).distance(Point(RADIUS.feet[0])) == pytest.approx(15)


def test_an_arc_runs_from_leg_to_leg() -> None:
    arc = next(one for one in drawn(ANGLE).strokes if isinstance(one, Arc))
    assert (arc.start_deg, arc.end_deg) == (pytest.approx(0), pytest.approx(30))


def test_line_widths_are_of_iso_128_and_two_to_one() -> None:
    # ISO 128-2: 0.13 0.18 0.25 0.35 0.5 0.7 1 1.4 2, wide to narrow 2:1
    assert {pen.width for pen in PENS.values()} <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}
    assert PENS["visible"].width == 2 * PENS["thin"].width == PENS["cutting"].width
    assert all(PENS[one].width == 0.25 for one in ("hidden", "centre", "phantom"))


WELD_FLAT = WeldSymbol(((0, 0), (10, 10), (15, 10)), "fillet", "a3", "50")


def dashed_level(weld: WeldSymbol) -> set[float]:
    return {
        one.start[1]
        for one in drawn(weld).strokes
        if isinstance(one, Line) and one.style == "hidden"
    }


def test_a_weld_on_the_other_side_hangs_on_the_dashed_line() -> None:
    # ISO 2553 system A: on the continuous line for the arrow's side, on the dashed for the other
    other = WeldSymbol(WELD_FLAT.points, "fillet", "a3", side="other")
    both = WeldSymbol(WELD_FLAT.points, "fillet", "a3", side="both")
    for weld, above in ((WELD_FLAT, True), (other, False)):
        sign = next(
            one
            for one in drawn(weld).strokes
            if isinstance(one, Polyline) and one.closed and not one.filled
        )
        level = 10.0 if above else dashed_level(weld).pop()
        ys = [y for _, y in sign.points]
        assert (min(ys) if above else max(ys)) == pytest.approx(level)
    assert dashed_level(both) == set() and len(dashed_level(WELD_FLAT)) == 1


def test_a_texture_sign_says_whether_metal_is_taken_off() -> None:
    counts = {}
    for removal in ("required", "barred", "free"):
        strokes = drawn(TextureSymbol((0, 0), "Ra 1.6", removal)).strokes  # type: ignore[arg-type]
        counts[removal] = [type(one).__name__ for one in strokes]
    assert counts["free"] == ["Polyline"]
    assert counts["required"] == ["Polyline", "Line"] and counts["barred"] == ["Polyline", "Circle"]
    sign = drawn(TextureSymbol((5, 5), "Ra 1.6")).strokes[0]
    legs = [a for a in zip(sign.points, sign.points[1:], strict=False)][:2]
    # 60 degrees to the surface on either side (ISO 1302)
    for (ax, ay), (bx, by) in legs:
        assert abs(abs(degrees(atan2(by - ay, bx - ax))) - 60) < 1e-6


@pytest.mark.parametrize("name", Characteristic.__args__)
def test_every_characteristic_has_a_sign_inside_its_own_cell(name: str) -> None:
    pieces = drawn(GeometricTolerance((10, 20), name, "0.02", ("A",)))  # type: ignore[arg-type]
    frame, first, *_ = pieces.strokes
    cell = Polygon([(10, 20), (first.start[0], 20), (first.start[0], 27), (10, 27)])
    signs = [shape(one) for one in pieces.strokes[3:]]
    assert signs and all(cell.contains(sign) for sign in signs), name
    assert len({(x, y) for x, y in frame.points}) == 4


def test_a_whole_sheet_comes_apart() -> None:
    whole, bare = apart(SHEET), apart(SHEET, dimensions=False)
    assert len(whole.texts) - len(bare.texts) == len(DIMENSIONS) + 2  # two limits
    for text in whole.texts:
        for x, y in corners(text):
            assert 0 <= x <= SHEET.width and 0 <= y <= SHEET.height, text


FLAT = (0.0, 0.0)
RIGHT, LEFT = (FLAT, (8.0, 10.0), (13.0, 10.0)), (FLAT, (-8.0, 10.0), (-13.0, 10.0))


@pytest.mark.parametrize(
    "item",
    [
        *(
            WeldSymbol(points, kind, "a3", "50", side, True, True, "135")  # type: ignore[arg-type]
            for points in (RIGHT, LEFT)
            for side in ("arrow", "other", "both")
            for kind in ("fillet", "square", "v", "bevel", "plug")
        ),
        *(TextureSymbol(FLAT, "Ra 1.6", "barred", turn, True) for turn in (0.0, 90.0)),
        GeometricTolerance(FLAT, "position", "Ø 0.05", ("A", "B"), ((-9, 3), (-4, 3.5), (0, 3.5))),
        *(DatumSymbol(FLAT, "A", deg) for deg in (0.0, 90.0, 180.0, 270.0)),
        Balloon(FLAT, "12", (20.0, 5.0)),
        *(Leader(points, ("4× M6 ↧ 12", "⌴ Ø 11")) for points in (RIGHT, LEFT)),
    ],
)
def test_words_of_symbols_are_clear_of_their_lines_and_of_each_other(item: Item) -> None:
    pieces = drawn(item)
    inks = [Polygon(corners(text)) for text in pieces.texts]
    assert inks
    for ink in inks:
        for stroke in pieces.strokes:
            # a balloon's ring is drawn round its number
            if not (isinstance(item, Balloon) and isinstance(stroke, Circle)):
                assert ink.distance(shape(stroke)) > 0.2, (ink.wkt, stroke)
    assert all(not a.intersects(b) for a, b in combinations(inks, 2))


def test_words_on_a_leaders_shelf_touch_no_line() -> None:
    """As FreeType has the font's letters: in "bought" the g went through the shelf, onto a datum."""
    letters = ImageFont.truetype(str(FONT), 1000)
    tall = -letters.getbbox("H", anchor="ls")[1]  # the height that a size is given by (ISO 3098)
    low = max(letters.getbbox(one, anchor="ls")[3] for one in "gjpqy,Q()")
    made = drawn(Leader(((0.0, 0.0), (10.0, 10.0)), ("bore Ø19, as bought",)))
    (text,) = made.texts
    lowest = text.at[1] - low / tall * text.height
    shelf = max(y for one in made.strokes if isinstance(one, Polyline) for _, y in one.points)
    assert lowest > shelf + PENS["thin"].width / 2
