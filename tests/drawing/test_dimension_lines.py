"""Dimensions and leaders as they are drawn, by shapely: gaps, overruns, arrows, words, at any angle."""

from __future__ import annotations

from fractions import Fraction
from math import cos, degrees, hypot, radians, sin

import pytest
from drawing_cases import polar, shape
from msgspec.structs import replace
from shapely.geometry import LineString, Point, Polygon

from planner.drawing.apart import drawn
from planner.drawing.lettering import corners, width_mm
from planner.drawing.model import Arc, Balloon, Dimension, Leader, Line, Polyline, Text
from planner.drawing.strokes import along, arrow, direction_deg, distance, dot, readable_deg

TURNS = [0.0, 30.0, 90.0, 135.0, 300.0]


def turned(points: tuple[tuple[float, float], ...], deg: float) -> tuple[tuple[float, float], ...]:
    c, s = cos(radians(deg)), sin(radians(deg))
    return tuple((100 + x * c - y * s, 120 + x * s + y * c) for x, y in points)


def level(long: float, deg: float, off: float = 15.0, **more: object) -> Dimension:
    """A dimension of a length, turned; its line so far to the left of the way from foot to foot."""
    feet = turned(((0.0, 0.0), (long, 0.0)), deg)
    (at,) = turned(((long / 2, off),), deg)
    flat = ((0.0, 0.0), (long, 0.0))
    return Dimension("linear", flat, feet, f"{long:g}", at, **more)  # type: ignore[arg-type]


def parts(one: Dimension) -> tuple[list[Line], list[Polyline], list[Text]]:
    made = drawn(one)
    lines = [stroke for stroke in made.strokes if isinstance(stroke, Line)]
    arrows = [stroke for stroke in made.strokes if isinstance(stroke, Polyline) and stroke.filled]
    return lines, arrows, list(made.texts)


@pytest.mark.parametrize("deg", TURNS)
@pytest.mark.parametrize("long", [7.5, 8.5, 40.0])
def test_extension_lines_gaps_overruns_and_tails(long: float, deg: float) -> None:
    # a millimetre off the edge, two past the dimension line; arrows three long and one wide; from
    # outside, with seven of line beyond, where there is no room for two and two between them
    one = level(long, deg)
    lines, arrows, texts = parts(one)
    outside = long < 8.0
    (line,) = [each for each in lines if parallel(each, deg)]
    rest = [each for each in lines if each is not line]
    assert len(rest) == 2 and len(arrows) == 2
    for each in rest:
        assert shape(each).length == pytest.approx(15.0 - 1.0 + 2.0)
        assert min(Point(foot).distance(shape(each)) for foot in one.feet) == pytest.approx(1.0)
    solid = [Polygon(each.points) for each in arrows]
    assert [each.area for each in solid] == [pytest.approx(1.5)] * 2
    between = LineString([shape(line).interpolate(shape(line).project(Point(f))) for f in one.feet])
    assert between.length == pytest.approx(long)
    for each in solid:
        away = each.centroid.distance(between)
        assert (away > 0.5) is outside
    assert shape(line).length >= long + (14.0 if outside else 0.0) - 1e-6
    # the words over the line, a millimetre off it, read from below or the right
    (text,) = texts
    foot = LineString(corners(text)[:2])
    assert foot.distance(shape(line)) == pytest.approx(1.0, abs=0.4)
    assert -90.0 < text.rotation_deg <= 90.0 + 1e-9
    assert abs((text.rotation_deg - deg + 90) % 180 - 90) < 1e-6
    up = (-sin(radians(text.rotation_deg)), cos(radians(text.rotation_deg)))
    ink = Polygon(corners(text)).centroid
    near = shape(line).interpolate(shape(line).project(ink))
    assert (ink.x - near.x) * up[0] + (ink.y - near.y) * up[1] > 1.0
    # a line reaches under words that stand beyond its feet
    assert ink.distance(shape(line)) < 1.0 + 3.5


def parallel(line: Line, deg: float) -> bool:
    return abs((direction_deg(line.start, line.end) - deg + 90) % 180 - 90) < 1e-6


@pytest.mark.parametrize("deg", TURNS)
@pytest.mark.parametrize("shift", [-40.0, -5.0, 0.0, 12.0, 60.0])
def test_words_stand_where_they_are_shifted_to(deg: float, shift: float) -> None:
    one = level(60.0, deg, shift=shift)
    lines, _, (text,) = parts(one)
    middle = LineString(corners(text)[:2]).centroid
    # along the line as it is read, from its own middle
    reads = readable_deg(deg)
    (base,) = turned(((30.0, 15.0),), deg)
    run = (middle.x - base[0]) * cos(radians(reads)) + (middle.y - base[1]) * sin(radians(reads))
    assert run == pytest.approx(shift, abs=1e-6)
    (under,) = [each for each in lines if parallel(each, deg)]
    wide = width_mm("60", 3.5)
    beyond = abs(shift) - wide / 2 > 30.0
    assert shape(under).length == pytest.approx(30.0 + abs(shift) + wide / 2 if beyond else 60.0)


def test_without_room_words_go_beyond_the_second_foot() -> None:
    for long in (5.0, 7.0):
        one = replace(level(long, 0.0), text=f"{long:.3f}")
        lines, _, (text,) = parts(one)
        wide = width_mm(one.text, 3.5)
        left = corners(text)[0][0] - 100.0
        assert left == pytest.approx(long + 7.0 + 1.0)
        assert max(shape(each).bounds[2] for each in lines) == pytest.approx(100 + left + wide)
    inside = replace(level(20.0, 0.0), text="20.00")
    assert Polygon(corners(parts(inside)[2][0])).centroid.x == pytest.approx(110.0, abs=0.2)


@pytest.mark.parametrize("deg", TURNS)
def test_limits_stand_over_each_other_behind_the_size(deg: float) -> None:
    one = level(60.0, deg, upper="+0.021", lower="0")
    _, _, (main, lower, upper) = parts(one)
    assert (main.words, lower.words, upper.words) == ("60", "0", "+0.021")
    assert lower.height == upper.height == pytest.approx(0.7 * 3.5)
    right = (cos(radians(main.rotation_deg)), sin(radians(main.rotation_deg)))
    up = (-right[1], right[0])

    def seen(point: tuple[float, float]) -> tuple[float, float]:
        dx, dy = point[0] - main.at[0], point[1] - main.at[1]
        return dx * right[0] + dy * right[1], dx * up[0] + dy * up[1]

    wide = width_mm("60", 3.5)
    assert seen(lower.at)[0] == pytest.approx(wide + 1.0) == seen(upper.at)[0]
    # 1.45 of their height apart, and the size in the middle of them
    assert seen(upper.at)[1] - seen(lower.at)[1] == pytest.approx(1.45 * 0.7 * 3.5)
    middle = (seen(upper.at)[1] + 0.7 * 3.5 + seen(lower.at)[1]) / 2
    assert middle == pytest.approx(3.5 / 2)
    # together in the middle of the line
    whole = wide + 1.0 + width_mm("+0.021", 0.7 * 3.5)
    (base,) = turned(((30.0, 15.0),), deg)
    start = (base[0] - main.at[0]) * right[0] + (base[1] - main.at[1]) * right[1]
    assert start == pytest.approx(whole / 2)


CENTRE = (80.0, 160.0)


@pytest.mark.parametrize("deg", [20.0, 100.0, 170.0, 250.0, 340.0])
@pytest.mark.parametrize("radius", [3.0, 20.0])
def test_diameters_and_radii_point_at_their_circle(radius: float, deg: float) -> None:
    near, far = polar(CENTRE, deg, radius), polar(CENTRE, deg + 180, radius)
    flat = (polar((0, 0), deg, radius), polar((0, 0), deg + 180, radius))
    at = polar(CENTRE, deg, radius + 25)
    across = Dimension("diameter", flat, (near, far), f"Ø {2 * radius:g}", at)
    spoke = Dimension("radius", ((0, 0), flat[0]), (CENTRE, near), f"R {radius:g}", at)
    for one in (across, spoke):
        made = drawn(one)
        line = next(s for s in made.strokes if isinstance(s, Polyline) and not s.filled)
        # the slanting line goes from the circle, and the level shoulder away from it under the words
        *slant, end = line.points
        begins = far if one is across and radius > 4.0 else near
        assert slant[0] == pytest.approx(begins) and slant[1] == at
        assert end[1] == at[1] and abs(end[0] - at[0]) == pytest.approx(width_mm(one.text, 3.5))
        assert (end[0] > at[0]) is (cos(radians(deg)) > 0)
        (text,) = made.texts
        ink = Polygon(corners(text)).bounds
        assert ink[0] == pytest.approx(min(at[0], end[0]), abs=1e-6)
        assert text.at[1] == pytest.approx(at[1] + 1.0)
        tips = [s for s in made.strokes if isinstance(s, Polyline) and s.filled]
        assert {tuple(round(v, 6) for v in s.points[0]) for s in tips} <= {
            tuple(round(v, 6) for v in p) for p in (near, far)
        }
        assert len(tips) == (2 if one is across and radius > 4.0 else 1)
        for tip in tips:  # from inside across a large circle; from outside at a small one
            inward = Polygon(tip.points).centroid.distance(Point(CENTRE)) < radius
            assert inward is (one is across and radius > 4.0)


def near(deg: float) -> float:
    """The same angle between -180 and 180."""
    return (deg + 180.0) % 360.0 - 180.0


@pytest.mark.parametrize("start", [0.0, 70.0, 160.0, 260.0])
@pytest.mark.parametrize("sweep", [6.0, 40.0, 100.0])
def test_an_angles_arc_arrows_and_words(start: float, sweep: float) -> None:
    flat = ((0, 0), polar((0, 0), start, 10), polar((0, 0), start + sweep, 10))
    feet = (CENTRE, polar(CENTRE, start, 10), polar(CENTRE, start + sweep, 10))
    one = Dimension("angle", flat, feet, f"{sweep:g}°", polar(CENTRE, start + sweep / 2, 30))
    made = drawn(one)
    (arc,) = [s for s in made.strokes if isinstance(s, Arc)]
    long = radians(sweep) * 30
    inside = long >= 8.0
    beyond = 0.0 if inside else degrees(7.0 / 30)
    assert arc.centre == CENTRE and arc.radius == pytest.approx(30)
    begins, ends = near(arc.start_deg - start), near(arc.end_deg - start - sweep)
    assert begins <= -beyond + 1e-6 and ends >= beyond - 1e-6
    if inside:
        assert (begins, ends) == (pytest.approx(0.0, abs=1e-6), pytest.approx(0.0, abs=1e-6))
    legs = [s for s in made.strokes if isinstance(s, Line)]
    for leg, deg in zip(legs, (start, start + sweep), strict=True):
        assert distance(CENTRE, leg.start) == pytest.approx(11.0)
        assert distance(CENTRE, leg.end) == pytest.approx(32.0)
        assert near(direction_deg(CENTRE, leg.end) - deg) == pytest.approx(0.0, abs=1e-6)
    for tip in (s for s in made.strokes if isinstance(s, Polyline)):
        foot = [(a + b) / 2 for a, b in zip(tip.points[1], tip.points[2], strict=True)]
        assert distance(CENTRE, tip.points[0]) == pytest.approx(30.0)
        assert distance(CENTRE, (foot[0], foot[1])) == pytest.approx(30.0, abs=1e-3)
        at = (direction_deg(CENTRE, (foot[0], foot[1])) - start) % 360
        assert (0.0 < at < sweep) is inside
    (text,) = made.texts
    assert -90.0 <= text.rotation_deg <= 90.0
    ink = Polygon(corners(text))
    assert 0.2 < ink.distance(shape(arc)) < 2.5


def test_an_arrow_is_three_to_one_and_points() -> None:
    for deg in TURNS:
        tip, one, other = arrow((10.0, 20.0), deg).points
        foot = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        assert tip == (10.0, 20.0) and distance(tip, foot) == pytest.approx(3.0)
        assert distance(one, other) == pytest.approx(1.0)
        assert along(foot, deg, 3.0) == pytest.approx(tip)
    spot = Polygon(dot((5.0, 6.0)).points)
    assert spot.centroid.coords[0] == pytest.approx((5.0, 6.0))
    assert spot.bounds[2] - spot.bounds[0] == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("deg", "reads"),
    [(0, 0), (90, 90), (91, -89), (180, 0), (270, 90), (-90, 90), (359, -1), (45, 45)],
)
def test_words_are_read_from_below_or_from_the_right(deg: float, reads: float) -> None:
    assert readable_deg(deg) == pytest.approx(reads)


@pytest.mark.parametrize("way", [1.0, -1.0])
@pytest.mark.parametrize("end", ["arrow", "dot", "none"])
def test_a_leaders_words_stand_on_its_shoulder_line_over_line(way: float, end: str) -> None:
    words = ("4× M6 ↧ 12", "⌴ Ø 11", "through")
    knee = (50.0 + 12 * way, 60.0)
    made = drawn(Leader(((50.0, 40.0), knee), words, 3.5, end))  # type: ignore[arg-type]
    wide = max(width_mm(line, 3.5) for line in words)
    line = next(s for s in made.strokes if isinstance(s, Polyline) and not s.filled)
    assert line.points == ((50.0, 40.0), knee, (pytest.approx(knee[0] + way * wide), 60.0))
    lefts = min(knee[0], knee[0] + way * wide)
    # from the foot up: 1.4 mm over the shoulder, 1.6 of their height apart, the first on top
    assert [text.words for text in made.texts] == list(reversed(words))
    for up, text in enumerate(made.texts):
        assert text.at == (pytest.approx(lefts), pytest.approx(61.4 + up * 1.6 * 3.5))
    tips = [s for s in made.strokes if isinstance(s, Polyline) and s.filled]
    assert len(tips) == (0 if end == "none" else 1)
    if end == "arrow":
        assert tips[0].points[0] == (50.0, 40.0)
        assert Polygon(tips[0].points).distance(LineString([(50.0, 40.0), knee])) == 0.0
        foot = tips[0].points[1]
        assert hypot(foot[0] - knee[0], foot[1] - knee[1]) < hypot(12.0, 20.0)
    if end == "dot":
        assert Polygon(tips[0].points).centroid.coords[0] == pytest.approx((50.0, 40.0))
    bare = drawn(Leader(((50.0, 40.0), knee), ()))
    assert [s.points for s in bare.strokes if isinstance(s, Polyline) and not s.filled] == [
        ((50.0, 40.0), knee)
    ]


def test_a_balloons_line_runs_from_its_ring_to_the_thing() -> None:
    for tip in ((60.0, 20.0), (10.0, 70.0)):
        made = drawn(Balloon((40.0, 50.0), "12", tip))
        (line,) = [s for s in made.strokes if isinstance(s, Line)]
        assert distance((40.0, 50.0), line.start) == pytest.approx(4.0) and line.end == tip
        assert LineString([(40.0, 50.0), tip]).buffer(1e-6).contains(shape(line))
        (text,) = made.texts
        assert Polygon(corners(text)).centroid.coords[0] == pytest.approx((40.0, 50.0), abs=0.3)
    assert len(drawn(Balloon((40.0, 50.0), "12")).strokes) == 1


@pytest.mark.parametrize("scale", [Fraction(1, 5), Fraction(1, 2), Fraction(2)])
def test_a_dimension_may_be_a_thousandth_out_of_scale_and_no_more(scale: Fraction) -> None:
    feet = ((0.0, 0.0), (40.0 * float(scale), 0.0))
    Dimension("linear", ((0, 0), (40, 0)), feet, "40", (0, 10), scale)
    near = (feet[0], (feet[1][0] + 0.0009, 0.0))
    Dimension("linear", ((0, 0), (40, 0)), near, "40", (0, 10), scale)
    with pytest.raises(ValueError, match="to scale"):
        Dimension(
            "linear", ((0, 0), (40, 0)), (feet[0], (feet[1][0] + 0.0011, 0.0)), "40", (0, 10), scale
        )
