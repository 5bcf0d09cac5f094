"""A dial's lines and numerals lie in the same places on its sheet, its strip and in the graver's file.

The graver's file is read by ezdxf and is what the others are held against: each of them turned back,
line by line, to how far along the rim from its line a point lies and how far from the graduated edge.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from math import ceil, cos, hypot, pi, radians, sin
from pathlib import Path
from tempfile import TemporaryDirectory

import ezdxf
import pytest
from drawing.test_dial_sheets import CASES
from drawing_cases import FIELDS

from planner.dial.design import Dial
from planner.drawing.dial_rim import write_rim
from planner.drawing.dial_sheet import dial_sheet
from planner.drawing.dial_strip import strip_sheets
from planner.drawing.frame import block, inside
from planner.drawing.model import Circle, Dimension, Line, Polyline, Sheet, Text
from planner.words.numbers import Numbers

Places = dict[int, set[tuple[float, float]]]
cases = pytest.mark.parametrize(
    ("dial", "numbers", "paper"), CASES[1:3], ids=lambda one: str(getattr(one, "divisions", ""))
)


def rounded(dx: float, up: float) -> tuple[float, float]:
    return round(dx, 3) + 0.0, round(up, 3) + 0.0


@cache
def graved(dial: Dial) -> tuple[Places, dict[int, float]]:
    """Points of the numerals and lengths of the lines, by the line's number."""
    girth = pi * dial.diameter_mm
    with TemporaryDirectory() as folder:
        path = Path(folder) / "rim.dxf"
        write_rim(path, dial, girth)
        space = ezdxf.readfile(path).modelspace()
    apart = girth / dial.divisions
    points: Places = defaultdict(set)
    for one in space.query('LWPOLYLINE[layer=="NUMERALS"]'):
        found = list(one.get_points("xy"))
        middle = sum(x for x, _ in found) / len(found)
        number = next(
            n for n in range(0, dial.divisions, dial.numeral_every)
            if abs(middle - n * apart) <= dial.numeral_every * apart / 2
        )  # fmt: skip
        points[number] |= {rounded(x - number * apart, y) for x, y in found}
    lengths = {
        round(one.dxf.start.x / apart): round(one.dxf.end.y, 6)
        for one in space.query('LINE[layer=="LINES"]')
    }
    note = [one.dxf.text for one in space.query("TEXT")]
    assert len(note) == 1 and "free end up" in note[0]
    return points, lengths


def same(found: Places, wanted: Places, numbers: set[int]) -> None:
    for number in numbers:
        assert len(found[number]) == len(wanted[number]), number
        for one in wanted[number]:
            near = min(hypot(one[0] - a, one[1] - b) for a, b in found[number])
            assert near < 3e-3, (number, one)


@cases
def test_the_folded_rim_has_the_gravers_lines_and_numerals(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    sheet = dial_sheet(dial, FIELDS, numbers, paper)
    rings = sorted(
        (one for one in sheet.items if isinstance(one, Circle)), key=lambda one: one.radius
    )
    (x, y), outer = rings[1].centre, rings[1].radius
    times = outer / (dial.diameter_mm / 2 + dial.rim_width_mm)
    points, lengths = graved(dial)
    found: Places = defaultdict(set)
    for one in sheet.items:
        if isinstance(one, Polyline) and not one.filled and not one.closed and one.style == "thin":
            if not all(hypot(u - x, v - y) < outer for u, v in one.points):
                continue
            number = min(
                points,
                key=lambda n: sum(_off(dial, n, p, (x, y)) for p in one.points),  # noqa: B023
            )
            deg = radians(90.0 + 360.0 * number / dial.divisions)
            for u, v in one.points:
                out = (u - x) * cos(deg) + (v - y) * sin(deg)
                aside = -(u - x) * sin(deg) + (v - y) * cos(deg)
                found[number].add(rounded(aside / times, (outer - out) / times))
    same(found, points, set(points))
    ticks = [
        one for one in sheet.items
        if isinstance(one, Line) and abs(hypot(one.start[0] - x, one.start[1] - y) - outer) < 1e-6
    ]  # fmt: skip
    long = [hypot(b.end[0] - b.start[0], b.end[1] - b.start[1]) / times for b in ticks]
    assert long == pytest.approx([lengths[n] for n in range(dial.divisions)], abs=1e-5)


def _off(dial: Dial, number: int, point: tuple[float, float], centre: tuple[float, float]) -> float:
    """How far off a line's own ray a point lies."""
    deg = radians(90.0 + 360.0 * number / dial.divisions)
    dx, dy = point[0] - centre[0], point[1] - centre[1]
    ahead = dx * cos(deg) + dy * sin(deg)
    return abs(-dx * sin(deg) + dy * cos(deg)) + (1e3 if ahead < 0 else 0.0)


def edge_lines(sheet: Sheet, low: float) -> list[Line]:
    """The dial's own lines of a strip's piece: upright from its lower edge."""
    return [
        one for one in sheet.items
        if isinstance(one, Line) and one.start[0] == one.end[0] and abs(one.start[1] - low) < 1e-9
    ]  # fmt: skip


@cases
def test_the_strip_has_the_gravers_lines_and_numerals(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    points, lengths = graved(dial)
    found: Places = defaultdict(set)
    numbered: list[float] = []
    for sheet in strip_sheets(dial, FIELDS, numbers, paper):
        # a piece has its dimension under it: 6 mm below its edge its feet, 10 more its line
        for size in (one for one in sheet.items if isinstance(one, Dimension)):
            (left, foot), (right, _) = size.feet
            low = foot + 6.0
            assert foot - size.at[1] == pytest.approx(10.0)
            ticks = [one for one in edge_lines(sheet, low) if left <= one.start[0] <= right]
            begins = len(numbered)
            numbered += [one.end[1] - low for one in sorted(ticks, key=lambda one: one.start[0])]
            joints = [
                one for one in sheet.items
                if isinstance(one, Line) and one.start[0] == one.end[0] in (left, right)
                and low - 10.0 < one.start[1] < low
            ]  # fmt: skip
            for joint in joints:  # half of the free room past both edges
                assert joint.start[1] == pytest.approx(low - 3.0)
                assert joint.end[1] == pytest.approx(low + dial.rim_width_mm + 3.0)
            assert len(joints) == 2
            xs = [one.start[0] for one in sorted(ticks, key=lambda one: one.start[0])]
            for one in sheet.items:
                if isinstance(one, Polyline) and one.style == "thin" and not one.closed:
                    (u, v) = one.points[0]
                    if left < u < right and low < v < low + dial.rim_width_mm:
                        middle = sum(p[0] for p in one.points) / len(one.points)
                        k = min(
                            range(len(xs)),
                            key=lambda k: abs(xs[k] - middle) + _short(ticks, xs[k], low, dial),
                        )  # noqa: B023, E501
                        found[begins + k] |= {rounded(p[0] - xs[k], p[1] - low) for p in one.points}
    first = numbered.index(max(numbered))  # the first long line of the strip
    assert len(numbered) == dial.divisions
    # the strip's first line is any one: its lengths go round as the graver's do
    order = [lengths[n] for n in range(dial.divisions)]
    shift = next(
        s for s in range(dial.divisions)
        if [round(a, 4) for a in numbered] == [round(a, 4) for a in order[s:] + order[:s]]
        and {(k + s) % dial.divisions for k in found} == set(points)
        and all(len(held) == len(points[(k + s) % dial.divisions]) for k, held in found.items())
    )  # fmt: skip
    assert first >= 0
    same({(k + shift) % dial.divisions: held for k, held in found.items()}, points, set(points))


def _short(ticks: list[Line], x: float, low: float, dial: Dial) -> float:
    """Far off for a line that has no numeral: those that have are the long ones."""
    line = min(ticks, key=lambda one: abs(one.start[0] - x))
    return 0.0 if line.end[1] - low > dial.long_mm - 1e-6 else 1e3


@cases
def test_the_unrolled_part_begins_with_line_0(dial: Dial, numbers: Numbers, paper: str) -> None:
    sheet = dial_sheet(dial, FIELDS, numbers, paper)
    points, lengths = graved(dial)
    (rim,) = [
        one for one in sheet.items
        if isinstance(one, Dimension) and (one.feature, one.kind) == ("rim", "linear")
    ]  # fmt: skip
    low, times = rim.feet[0][1], float(rim.scale)
    assert rim.feet[1][1] - low == pytest.approx(dial.rim_width_mm * times)
    ticks = sorted(
        (
            one for one in sheet.items
            if isinstance(one, Line) and one.start[0] == one.end[0]
            and abs(one.start[1] - low) < 1e-9 and one.style == "visible"
        ),
        key=lambda one: one.start[0],
    )  # fmt: skip
    apart = pi * dial.diameter_mm / dial.divisions
    for number, tick in enumerate(ticks):
        assert tick.start[0] - ticks[0].start[0] == pytest.approx(number * apart * times, abs=1e-6)
        assert (tick.end[1] - low) / times == pytest.approx(lengths[number], abs=1e-5)
    # up to before the next line that is longer, no more than 46 mm of it (what the page has for it)
    assert len(ticks) <= max(1, min(dial.middle_every, dial.numeral_every))
    half = dial.numeral_height_mm / 2
    assert ((len(ticks) - 1) * apart + half) * times <= 46.0
    if len(ticks) < min(dial.middle_every, dial.numeral_every):
        assert (len(ticks) * apart + half) * times > 46.0
    found: Places = defaultdict(set)
    for one in sheet.items:
        stroke = isinstance(one, Polyline) and one.style == "thin" and not one.closed
        if stroke and all(
            low <= v <= low + dial.rim_width_mm * times + 1e-6 for _, v in one.points
        ):
            x = ticks[0].start[0]
            if all(abs(u - x) <= (half + 0.5) * times for u, _ in one.points):
                found[0] |= {rounded((u - x) / times, (v - low) / times) for u, v in one.points}
    same(found, points, {0})


@cases
def test_pages_of_a_strip_are_filled_from_the_top_and_numbered(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    pages = strip_sheets(dial, FIELDS, numbers, paper)
    rows = [sum(isinstance(one, Dimension) for one in page.items) for page in pages]
    assert len(set(rows[:-1])) <= 1 and rows[-1] <= rows[0]
    assert len(pages) == ceil(sum(rows) / rows[0])
    for number, page in enumerate(pages, 1):
        assert (page.fields.sheet_number, page.fields.number_of_sheets) == (number, len(pages))
        space, free = inside(page), block(page).top
        # a bar of 100 mm or 4 in level, one of 50 mm or 2 in upright, over the fields and in the frame
        bars = [
            one for one in page.items if isinstance(one, Text) and "printed full size" in one.words
        ]
        said = {one.words.split(",")[0] for one in bars}
        assert said == ({"4 in", "2 in"} if numbers.inch else {"100 mm", "50 mm"})
        assert [one.rotation_deg for one in bars].count(90.0) == 1
        for bar in bars:
            assert free < bar.at[1] < free + 62.0 and space.left + 6.0 <= bar.at[0] < space.right
        lows = [one.feet[0][1] for one in page.items if isinstance(one, Dimension)]
        steps = {round(a - b, 6) for a, b in zip(lows, lows[1:], strict=False)}
        assert steps <= {round(dial.rim_width_mm + 6.0 + 24.0, 6)}
        assert min(lows) - 10.0 > free + 62.0 - 24.0
        laps = [one for one in page.items if isinstance(one, Polyline) and one.style == "hidden"]
        assert len(laps) == len(lows)
        for lap, size in zip(
            laps, (o for o in page.items if isinstance(o, Dimension)), strict=True
        ):
            xs = sorted({x for x, _ in lap.points})
            assert xs[0] == size.feet[1][0] and xs[1] <= space.right
            assert {round(y - size.feet[0][1] - 6.0, 6) for _, y in lap.points} == {
                0.0,
                dial.rim_width_mm,
            }
