"""Where there is room on a sheet, in lanes, for leaders and notes: by shapely and by brute force."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise
from math import atan2, cos, hypot, radians, sin

import numpy as np
import pytest
from drawing_cases import shape
from shapely import box
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from parts.features import general
from parts.standard.series import Series
from planner.drawing.callouts import Call
from planner.drawing.choose import View
from planner.drawing.dimensioned import words_width_mm
from planner.drawing.lanes import Lane, Lined, arranged, depth_mm
from planner.drawing.leaders import DoesNotFit, _knees, _place, noted
from planner.drawing.lettering import corners, width_mm
from planner.drawing.model import (
    Arc,
    Box,
    Circle,
    DatumSymbol,
    GeometricTolerance,
    Item,
    Leader,
    Line,
    Polyline,
    Text,
)
from planner.drawing.pointing import _on
from planner.drawing.room import Room, sampled
from planner.drawing.standing import Block
from planner.drawing.strokes import LINE_PITCH, TEXT_GAP_MM
from planner.geometry import curves
from planner.words.numbers import INCH, METRIC

SPACE = Box(20.0, 10.0, 200.0, 140.0)
ITEMS: tuple[Item, ...] = (
    Line((60.0, 30.0), (60.0, 90.0)),
    Line((80.3, 20.7), (130.0, 95.0)),
    Circle((150.0, 60.0), 18.0),
    Arc((100.0, 110.0), 15.0, 20.0, 160.0),
    Polyline(((30.0, 100.0), (45.0, 120.0), (50.0, 100.0)), closed=True),
    Text((90.0, 60.5), "Ø 12 H7", 3.5),
    Text((35.0, 60.5), "M8", 3.5, "left", 90.0),
)
LINES = [shape(one) for one in ITEMS if not isinstance(one, Text)]  # type: ignore[arg-type]
WORDS = [Polygon(corners(one)) for one in ITEMS if isinstance(one, Text)]


def room() -> Room:
    made = Room(SPACE)
    made.take(ITEMS)
    return made


def test_points_on_a_stroke_lie_on_it_close_together() -> None:
    for item in ITEMS:
        if isinstance(item, Text):
            continue
        line = shape(item)
        points = np.concatenate(sampled(item))
        gaps = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
        assert max(gaps) < 0.8 and sorted(gaps)[len(gaps) // 2] > 0.4  # half a millimetre each way
        assert all(line.distance(LineString([p, p])) < 0.01 for p in points)
        ends = [points[0], points[-1]]
        whole = sum(gaps)
        assert whole == pytest.approx(line.length, rel=2e-3) and len(ends) == 2


def test_a_place_is_free_where_nothing_is_and_taken_where_something_is() -> None:
    # squares of a millimetre and six tenths round: free means clear, taken that something is within 3
    made, draw = room(), random.Random(1)
    ink = unary_union(LINES + WORDS)
    seen = {True: 0, False: 0}
    for _ in range(250):
        wide, high = draw.choice([(12.0, 5.0), (3.0, 20.0), (25.0, 9.0)])
        x, y = draw.uniform(12, 205), draw.uniform(4, 145)
        free = made.empty(Box(x, y, x + wide, y + high))
        place = box(x, y, x + wide, y + high)
        inside = box(20, 10, 200, 140)
        seen[bool(free)] += 1
        if free:
            assert inside.contains(place) and place.distance(ink) > 0.0
            assert all(place.distance(one) > 0.6 for one in WORDS)
        else:
            assert not inside.contains(place.buffer(2.0)) or place.distance(ink) < 3.2
    assert min(seen.values()) > 50


def test_of_columns_and_rows_the_places_are_those_where_one_alone_is_free() -> None:
    made, draw = room(), random.Random(2)
    for _ in range(6):
        wide, high = draw.choice([(12.0, 5.0), (3.0, 20.0), (25.0, 9.0)])
        at = draw.uniform(0.0, wide), draw.uniform(0.0, high)
        xs = np.array([draw.uniform(0.0, 230.0) for _ in range(17)])
        ys = np.array([draw.uniform(0.0, 160.0) for _ in range(11)])
        alone = [
            (x, y)
            for y in ys
            for x in xs
            if made.empty(Box(x - at[0], y - at[1], x - at[0] + wide, y - at[1] + high))
        ]
        assert 0 < len(alone) < 150
        assert [tuple(one) for one in made.places(xs, ys, wide, high, at)] == alone


def test_a_line_hits_words_and_the_edge_and_counts_the_lines_it_crosses() -> None:
    made = room()
    made.leaders.append(((70.0, 20.0), (70.0, 28.0)))
    for points, hit, crossed in (
        (((55.0, 50.0), (66.0, 50.0)), False, 1),
        (((66.0, 50.0), (55.0, 50.0)), False, 1),
        (((62.0, 50.0), (66.0, 50.0)), False, 0),
        (((60.0, 50.0), (66.0, 50.0)), False, 0),  # the line that it points at
        (((125.0, 60.0), (175.0, 60.5)), False, 2),  # right through the circle
        (((85.0, 62.0), (110.0, 62.0)), True, None),  # through words
        (((30.0, 50.0), (30.0, 145.0)), True, None),  # off the sheet
        (((65.0, 24.0), (75.0, 24.0)), True, None),  # over a leader
        (((65.0, 32.0), (75.0, 32.0)), False, 0),
    ):
        found = made.crossings(points)
        assert found[0] is hit, points
        assert crossed is None or found[1] == crossed, points


def placed(
    call: Call, tips: list[tuple[float, float]], made: Room, tried: int
) -> tuple[tuple[float, float], tuple[float, float], bool] | None:
    """Where the words of a call-out are put: 3.5 mm high, their lines 1.6 of that apart."""
    wide = max(width_mm(words, 3.5) for words in call.lines)
    above = TEXT_GAP_MM + 3.5 + LINE_PITCH * 3.5 * (len(call.lines) - 1) + 1.0
    block = Block("bore", (tuple(tips),), wide, above, 0.0, None)
    return _place(_knees(block, made), tips, made, tried)


@pytest.mark.parametrize("seed", range(4))
def test_a_leader_is_the_shortest_that_crosses_least(seed: int) -> None:
    # by brute force over a grid of knees two millimetres apart: no place that is surely free costs
    # less, 12 mm more for each line crossed
    draw = random.Random(seed)
    made = room()
    tip = draw.choice([(60.0, 70.0), (168.0, 60.0), (105.15, 57.9), (37.5, 100.0), (115.0, 110.0)])
    call = Call(
        ("bore",), View("front"), ("Ø 12 H7", "through")[: draw.choice([1, 2])], ("a|b", "c|d")
    )
    found = placed(call, [tip], made, 600)
    assert found is not None
    start, knee, rightward = found
    assert start == tip and rightward is (knee[0] > tip[0])
    wide = max(width_mm(words, 3.5) for words in call.lines)
    high = 4.5 + 5.6 * (len(call.lines) - 1)
    ink, inside = unary_union(LINES + WORDS), box(20, 10, 200, 140)

    def words_at(x: float, y: float) -> Polygon:
        left = x if x > tip[0] else x - wide
        return box(left, y, left + wide, y + high)

    def cost(x: float, y: float) -> float:
        line = LineString([tip, (x, y)])
        return line.length + 12.0 * sum(
            line.crosses(one) and one.distance(LineString([tip, tip])) > 2.0 for one in LINES
        )

    across, up = abs(knee[0] - tip[0]), abs(knee[1] - tip[1])
    assert across >= 3.0 and up >= 0.25 * across and 7.0 < hypot(across, up) < 90.0
    assert words_at(*knee).distance(ink) > 0.4 and inside.contains(words_at(*knee))
    assert all(LineString([tip, knee]).distance(one) > 0.0 for one in WORDS)
    least = min(
        (
            cost(x, y)
            for x in np.arange(22.0, 198.0, 2.0)
            for y in np.arange(12.0, 136.0, 2.0)
            if abs(x - tip[0]) >= 3.0
            and abs(y - tip[1]) >= 0.25 * abs(x - tip[0])
            and 7.0 < hypot(x - tip[0], y - tip[1]) < cost(*knee)
            and words_at(x, y).distance(ink) > 3.5
            and inside.contains(words_at(x, y).buffer(3.5))
            and all(LineString([tip, (x, y)]).distance(one) > 2.5 for one in WORDS)
        ),
        default=99.0,
    )
    assert cost(*knee) <= least + 1e-6
    made.take_leader([Leader((tip, knee), call.lines)], (tip, knee))
    again = placed(call, [tip], made, 600)
    assert again is None or again[1] != knee


def test_a_tip_from_which_nothing_is_free_has_no_leader() -> None:
    full = Room(SPACE)
    full.take_box(Box(20.0, 10.0, 200.0, 140.0))
    call = Call(("bore",), View("front"), ("Ø 12",), ("a|b",))
    assert placed(call, [(100.0, 60.0)], full, 600) is None


SENTENCES = [
    "Bored in place, on the lathe that it is made for, with the tool post's own bolt.",
    "Break all edges.",
    "Word " * 60,
]


@pytest.mark.parametrize("high", [2.5, 3.5])
@pytest.mark.parametrize("beside", [False, True])
def test_notes_are_numbered_broken_and_as_high_as_is_said(beside: bool, high: float) -> None:
    space, block = Box(20.0, 10.0, 400.0, 287.0), Box(220.0, 10.0, 400.0, 60.0)
    items, taken = noted(SENTENCES, space, block, beside, high)
    pitch, stands_in = 1.6 * high, 2.0 * high
    foot, right = (10.0, 216.0) if beside else (60.0, 394.0)
    # lines 1.6 of their letters apart (ASME Y14.2: a space of half to one height)
    tops = [item.at[1] for item in items]
    assert all(a - b == pytest.approx(pitch) for a, b in pairwise(tops))
    assert (taken.left, taken.low) == (20.0, foot) and taken.right == pytest.approx(right + 3.0)
    assert taken.top == pytest.approx(foot + 3.0 + pitch * len(items))
    assert foot < tops[-1] < foot + 5.0 and tops[0] + high <= taken.top
    for item in items:
        assert item.height == high
        assert item.at[0] + width_mm(item.words, high) <= right
    starts = [n for n, item in enumerate(items) if item.at[0] == 23.0]
    assert [items[n].words.split()[0] for n in starts] == ["1", "2", "3"]
    assert all(item.at[0] in (23.0, 23.0 + stands_in) for item in items)
    joined = [
        " ".join(" ".join(item.words for item in items[a:b]).split())
        for a, b in pairwise([*starts, len(items)])
    ]
    assert joined == [f"{n} {' '.join(s.split())}" for n, s in enumerate(SENTENCES, 1)]
    # no line could have taken the next one's first word
    for n, (one, two) in enumerate(pairwise(items)):
        if n + 1 not in starts:
            wider = width_mm(f"{one.words} {two.words.split()[0]}", high)
            assert wider > (right - 20.0) - 3.2 * high


def test_notes_that_have_no_room_are_told() -> None:
    block = Box(220.0, 10.0, 400.0, 60.0)
    assert noted([], Box(20, 10, 400, 287), block, True) == ([], Box(20, 10, 20, 10))
    for left, good in ((136.0, True), (136.1, False)):  # 80 wide at the least, and 4 off the block
        space = Box(left, 10.0, 400.0, 287.0)
        if good:
            assert noted(SENTENCES[:1], space, block, True)[0]
        else:
            with pytest.raises(DoesNotFit, match="beside"):
                noted(SENTENCES[:1], space, block, True)
    for top, good in ((87.0, True), (86.9, False)):  # one line over the block, and 20 for views
        space = Box(20.0, 10.0, 400.0, top)
        if good:
            assert len(noted(["Break all edges."], space, block, False)[0]) == 1
        else:
            with pytest.raises(DoesNotFit, match="notes"):
                noted(["Break all edges."], space, block, False)


# ---- lanes ----


def lined(a: float, b: float, **more: object) -> Lined:
    feet = {"below": (-2.0, -3.0), "above": (5.0, 6.0)}
    return Lined("f|diameter", general(abs(b - a)), True, a, b, feet, **more)  # type: ignore[arg-type]


def test_words_stand_in_the_middle_where_there_is_room_and_beyond_where_there_is_none() -> None:
    wide, narrow = lined(0.0, 60.0), lined(100.0, 106.25)
    assert arranged([wide, narrow], METRIC, 1.0) == 1
    assert (wide.lane, wide.shift, narrow.lane) == (0, 0.0, 0)
    # beyond the arrows' tails, 7 mm outside, and clear of them
    off = abs(narrow.shift) - narrow.wide(METRIC) / 2 - 3.125
    assert 7.0 < off < 7.0 + 1.2 + 2.0
    # eight millimetres take two arrows and what is between them (3 mm each, common practice)
    for size, inside in ((8.125, True), (7.875, False)):
        one = lined(0.0, size)
        arranged([one], METRIC, 1.0)
        past = abs(one.shift) - one.wide(METRIC) / 2 - size / 2
        assert (past < 2.0) is inside


def test_the_shorter_stands_nearer_and_what_overlaps_in_lanes_of_its_own() -> None:
    dims = [lined(0.0, 60.0), lined(0.0, 40.0), lined(0.0, 90.0), lined(100.0, 160.0)]
    assert arranged(dims, METRIC, 1.0) == 3
    assert [one.lane for one in dims] == [1, 0, 2, 0]
    # end to end they would run into each other: one further out
    chain = [lined(0.0, 40.0), lined(40.0, 80.0)]
    assert arranged(chain, METRIC, 1.0) == 2
    assert [depth_mm(n) for n in (0, 1, 2, 3)] == [4.0, 16.0, 24.0, 32.0]


def test_a_stretch_of_a_lane_is_free_beyond_a_little_room() -> None:
    lane = Lane([(10.0, 20.0), (40.0, 50.0)])
    for low, high, free in (
        (21.2, 38.8, True),
        (21.1, 38.0, False),
        (22.0, 38.9, False),
        (0.0, 8.8, True),
        (0.0, 8.9, False),
        (51.2, 60.0, True),
        (12.0, 15.0, False),
    ):
        assert lane.free(low, high) is free, (low, high)


@pytest.mark.parametrize("numbers", [METRIC, INCH])
@pytest.mark.parametrize(("side", "level"), [("below", True), ("above", True), ("left", False)])
def test_a_dimension_of_a_lane_measures_from_foot_to_foot(
    numbers: object, side: str, level: bool
) -> None:
    size = Series(inch=False).within(20.0, 0.02, -0.01)
    feet = {side: (3.0, 4.5)}
    one = Lined("f|x|a|b", size, level, 5.0, 25.0, feet, "Ø", side)  # type: ignore[arg-type]
    one.shift = 2.5
    made = one.dimension(numbers, Fraction(1, 2), (100.0, 50.0), 30.0, "f|x|a|b")  # type: ignore[arg-type]
    # feet at the lane's ends on the paper: half of the model, from the view's origin
    places = [(100 + 2.5, 50 + 1.5), (100 + 12.5, 50 + 2.25)]
    if not level:
        places = [(100 + 1.5, 50 + 2.5), (100 + 2.25, 50 + 12.5)]
    assert list(made.feet) == places and made.measured == pytest.approx(20.0)
    assert made.at[1 if level else 0] == 30.0 and made.shift == 2.5
    assert made.along_deg == (0.0 if level else 90.0) and made.feature == "f|x|a|b"
    assert made.text.startswith("Ø") and made.inch is (numbers is INCH)
    assert one.wide(numbers) == pytest.approx(words_width_mm(made))  # type: ignore[arg-type]
    assert made.upper and made.lower


def test_leaders_are_kept_by_the_room() -> None:
    made = Room(SPACE)
    one = Leader(((30.0, 30.0), (40.0, 40.0)), ("M8",))
    made.take_leader([one], one.points)
    assert made.leaders == [((30.0, 30.0), (40.0, 40.0))]
    # over it, and over its words
    assert made.crossings(((30.0, 40.0), (40.0, 30.0)))[0]
    assert not made.empty(Box(41.0, 41.0, 44.0, 43.0))


def test_what_a_view_is_round_is_taken_and_its_notch_is_not() -> None:
    """An L of 80 by 60, its notch of 50 by 40 at the upper left."""
    corners_of = (
        (40.0, 30.0),
        (120.0, 30.0),
        (120.0, 90.0),
        (90.0, 90.0),
        (90.0, 50.0),
        (40.0, 50.0),
    )
    made = Room(SPACE)
    made.take_inside([Polyline(corners_of, closed=True)])
    outline = Polygon(corners_of)
    for u in range(25, 190, 5):
        for v in range(15, 130, 5):
            spot = box(u, v, u + 4.0, v + 4.0)
            free = made.empty(Box(u, v, u + 4.0, v + 4.0))
            if spot.distance(outline) > 2.0 or spot.within(outline):
                assert free == (not spot.intersects(outline)), (u, v)


def test_no_leader_cuts_a_frame_between_its_words() -> None:
    """A frame of two boxes and a datum's box: a line through either, off every letter, is a hit."""
    made = Room(SPACE)
    made.take([
        GeometricTolerance((60.0, 60.0), "run-out", "0.005", ("A",), height=3.5),
        DatumSymbol((120.0, 60.0), "B", 270.0, 3.0, 3.5),
    ])  # fmt: skip
    for u in np.arange(60.5, 80.0, 0.25):
        assert made.crossings(((u, 40.0), (u, 100.0)))[0], u
    for u in (117.0, 123.0):
        assert made.crossings(((u, 40.0), (u, 100.0)))[0], u
    assert not made.crossings(((100.0, 40.0), (100.0, 100.0)))[0]


@pytest.mark.parametrize("curve", [
    curves.Line((10.0, 20.0), (40.0, 35.0)),
    curves.Polyline(((10.0, 20.0), (40.0, 20.0), (40.0, 60.0))),
    *(curves.Arc((30.0, 30.0), 12.0, start, end) for start, end in (
        (0.0, 90.0), (300.0, 400.0), (200.0, 359.0), (350.0, 370.0), (0.0, 360.0))),
], ids=str)  # fmt: skip
def test_what_lies_on_a_drawn_curve(curve: curves.Curve) -> None:
    # points on it and a twentieth of a millimetre beside it; all the way round, whatever it starts at
    line = shape(_on_paper(curve))
    for k in range(73):
        near = line.interpolate(k / 72, normalized=True)
        if isinstance(curve, curves.Arc):  # shapely's chords lie a little inside
            turn = atan2(near.y - 30.0, near.x - 30.0)
            near = Point(30.0 + 12.0 * cos(turn), 30.0 + 12.0 * sin(turn))
        assert _on((near.x, near.y), curve)
    for k in range(180):
        spot = (30.0 + 12.05 * cos(radians(2 * k)), 30.0 + 12.05 * sin(radians(2 * k)))
        assert _on(spot, curve) is (line.distance(Point(spot)) < 0.02)
        over = (30.0 + 12.0 * cos(radians(2 * k)), 30.0 + 12.0 * sin(radians(2 * k)))
        if isinstance(curve, curves.Arc):
            far = line.distance(Point(over))
            assert far < 0.2 or not _on(over, curve)
            assert far > 0.02 or _on(over, curve)


def _on_paper(curve: curves.Curve) -> Line | Polyline | Arc:
    match curve:
        case curves.Line(start, end):
            return Line(start, end)
        case curves.Polyline(points):
            return Polyline(points)
        case curves.Arc(centre, radius, start, end):
            return Arc(centre, radius, start, end)
    raise TypeError
