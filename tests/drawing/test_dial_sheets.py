"""The dial's sheet, strip and graver's file: places worked out here from divisions and diameter.

Which way the numbers grow is reasoned out in tests/dial/test_sense.py; here it is taken from there:
seen from the free end they go round counter-clockwise, from outside with it up to the right.
"""

from __future__ import annotations

from itertools import combinations, pairwise, product
from math import atan2, ceil, degrees, hypot, pi
from pathlib import Path

import ezdxf
import numpy as np
import pypdfium2
import pytest
from drawing_cases import FIELDS, shape
from shapely import STRtree
from shapely.geometry import Polygon

from planner.dial.design import Dial, design_dial
from planner.dial.reading import legibility
from planner.drawing.apart import drawn
from planner.drawing.dial_rim import write_rim
from planner.drawing.dial_sheet import dial_sheet
from planner.drawing.dial_strip import strip_sheets
from planner.drawing.frame import NoRoom, block, inside
from planner.drawing.lettering import corners
from planner.drawing.model import Arc, Circle, Dimension, Line, Polyline, Sheet, Text
from planner.drawing.pdf import pdf
from planner.words.numbers import INCH, METRIC, Numbers

PLAIN = design_dial(50, 1.0, 32.0, rim_width_mm=8.0, line_width_mm=0.2)
CASES = [
    (design_dial(4, 1.0, 22.0, rim_width_mm=7.0), METRIC, "A4"),
    (PLAIN, METRIC, "A4"),
    (design_dial(125, 2.0, 40.0, rim_width_mm=9.0, line_width_mm=0.2), METRIC, "Letter"),
    (design_dial(127, 1.5, 45.0, rim_width_mm=9.0), METRIC, "A4"),
    (design_dial(100, 25.4 / 10, 34.0, rim_width_mm=7.5), INCH, "Letter"),
    (design_dial(400, 25.4 / 10, 104.0, rim_width_mm=9.0, line_width_mm=0.15), INCH, "Letter"),
    (design_dial(36, 2.0, 104.0, rim_width_mm=14.0), METRIC, "A4"),
]
cases = pytest.mark.parametrize(
    ("dial", "numbers", "paper"), CASES, ids=lambda one: str(getattr(one, "divisions", ""))
)


def hold_clear(dial: Dial, numbers: Numbers, paper: str) -> None:
    """No words over words or lines, nothing past the frame, on any page of a dial."""
    for sheet in (
        dial_sheet(dial, FIELDS, numbers, paper),
        *strip_sheets(dial, FIELDS, numbers, paper),
    ):
        parts = [drawn(one) for one in sheet.items]
        inks = [Polygon(corners(text)) for part in parts for text in part.texts if text.words]
        strokes = [shape(one) for part in parts for one in part.strokes]
        frame = [shape(one) for item in sheet.frame for one in drawn(item).strokes]
        tree = STRtree(strokes + frame)
        assert not [ink for ink in inks if tree.query(ink, "intersects").size]
        assert not [1 for a, b in combinations(inks, 2) if a.intersects(b)]
        space = inside(sheet)
        for left, low, right, top in (one.bounds for one in strokes + inks):
            assert space.left <= left and right <= space.right
            assert space.low <= low and top <= space.top


@cases
def test_nothing_lies_over_anything_or_off_the_frame(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    assert legibility(dial).ok
    hold_clear(dial, numbers, paper)


@pytest.mark.slow
def test_nothing_lies_over_anything_on_dials_of_all_sizes() -> None:
    tried = 0
    for divisions, diameter, rim in product(
        (4, 5, 7, 10, 13, 36, 50, 64, 100, 125, 127, 200, 400),
        (22.0, 30.0, 40.0, 63.0, 104.0, 128.0),
        (5.0, 7.0, 9.0, 14.0, 20.0),
    ):
        dial = design_dial(divisions, 2.0, diameter, rim_width_mm=rim)
        if legibility(dial).ok:
            tried += 1
            for numbers, paper in ((METRIC, "A4"), (INCH, "Letter")):
                hold_clear(dial, numbers, paper)
    assert tried > 150


def ring(sheet: Sheet) -> tuple[tuple[float, float], float, float]:
    """Centre, inner and outer radius of the folded rim."""
    inner, outer = sorted(
        (one for one in sheet.items if isinstance(one, Circle)), key=lambda one: one.radius
    )
    assert inner.centre == outer.centre
    return inner.centre, inner.radius, outer.radius


@cases
def test_the_folded_rim_is_to_scale_and_its_lines_go_round_counter_clockwise(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    sheet = dial_sheet(dial, FIELDS, numbers, paper)
    (x, y), inner, outer = ring(sheet)
    one, many = map(int, sheet.scale.split(":"))
    times = one / many
    assert inner == pytest.approx(dial.diameter_mm / 2 * times)
    assert outer - inner == pytest.approx(dial.rim_width_mm * times)
    ticks = [
        item
        for item in sheet.items
        if isinstance(item, Line)
        and hypot(item.start[0] - x, item.start[1] - y) == pytest.approx(outer, abs=1e-6)
        and hypot(item.end[0] - x, item.end[1] - y) < outer
    ]
    assert len(ticks) == dial.divisions
    lengths = {"short": dial.short_mm, "middle": dial.middle_mm, "long": dial.long_mm}
    for number, tick in enumerate(ticks):
        # line 0 on top, each next one 360 degrees over the divisions on, counter-clockwise
        turned = degrees(atan2(tick.start[1] - y, tick.start[0] - x)) - 90
        off = (turned - number * 360 / dial.divisions + 180) % 360 - 180
        assert off == pytest.approx(0, abs=1e-6), number
        long = hypot(tick.end[0] - tick.start[0], tick.end[1] - tick.start[1]) / times
        assert any(long == pytest.approx(one) for one in lengths.values()), number
        if number % dial.numeral_every and number % dial.middle_every:
            assert long == pytest.approx(lengths["short"])
    assert hypot(ticks[0].end[0] - x, ticks[0].end[1] - y) == pytest.approx(
        outer - dial.long_mm * times
    )


def test_the_arrow_that_says_deeper_goes_round_clockwise() -> None:
    sheet = dial_sheet(PLAIN, FIELDS, METRIC)
    (x, y), _, outer = ring(sheet)
    arc = next(one for one in sheet.items if isinstance(one, Arc))
    arrow = next(one for one in sheet.items if isinstance(one, Polyline) and one.filled)
    tip, *foot = arrow.points
    back = [sum(p[k] for p in foot) / 2 for k in (0, 1)]
    # seen from the free end the tip goes in as the dial turns clockwise (dial.sense: DEEPER)
    turn = (back[0] - x) * (tip[1] - y) - (back[1] - y) * (tip[0] - x)
    assert turn < 0
    assert hypot(tip[0] - x, tip[1] - y) == pytest.approx(arc.radius) and arc.radius > outer
    assert hypot(back[0] - x, back[1] - y) == pytest.approx(arc.radius, abs=0.05)


@cases
def test_the_dimensions_say_the_dials_sizes(dial: Dial, numbers: Numbers, paper: str) -> None:
    found = {
        (one.feature, one.kind): one
        for one in dial_sheet(dial, FIELDS, numbers, paper).items
        if isinstance(one, Dimension)
    }
    unit = 25.4 if numbers.inch else 1.0
    spaces = dial.divisions
    expected = {
        ("rim", "diameter"): dial.diameter_mm,
        ("rim", "linear"): dial.rim_width_mm,
        ("long line", "linear"): dial.long_mm,
        ("lines", "linear"): pi * dial.diameter_mm / spaces,
    }
    assert expected.keys() - found.keys() <= {("lines", "linear")}
    for name, size in expected.items():
        if name in found:
            said = float(found[name].text.removeprefix("Ø ")) * unit
            assert said == pytest.approx(size, abs=0.005 if unit == 1 else 0.0127), name
    if ("short line", "linear") in found:
        assert found["short line", "linear"].measured == pytest.approx(dial.short_mm)
    said = float(found["lines", "angle"].text.removesuffix("°"))
    # from line 0 to its next numeral, or to line 1
    whole = [number * 360 / spaces for number in (dial.numeral_every, 1)]
    assert any(said == pytest.approx(one, rel=1e-5) for one in whole)


Rows = list[tuple[float, float, list[Line]]]


def pieces(sheets: tuple[Sheet, ...]) -> Rows:
    """Each piece of a strip: where it starts and ends on the paper, and its lines."""
    found = []
    for sheet in sheets:
        for one in sheet.items:
            if isinstance(one, Dimension):
                (left, low), (right, _) = one.feet
                ups = [
                    item
                    for item in sheet.items
                    if isinstance(item, Line)
                    and item.start[0] == item.end[0]
                    and left <= item.start[0] <= right
                    and 0 < item.start[1] - low < 8
                    and item.start[1] < item.end[1]
                ]
                found.append((left, right, ups))
    return found


def test_its_notes_are_in_letters_of_3_5_where_they_have_room_and_over_the_fields() -> None:
    """ISO 3098-1's series: 2.5, 3.5. A rim folded out large leaves less of the page."""
    found = set()
    for dial in (design_dial(50, 1.0, 24.0, rim_width_mm=9.0), design_dial(100, 2.0, 32.0)):
        sheet = dial_sheet(dial, FIELDS, METRIC)
        notes = [x for x in sheet.items if isinstance(x, Text) and x.at[0] == 128.0]
        (high,) = {one.height for one in notes}
        lines = len(notes)
        assert min(one.at[1] for one in notes) > block(sheet).top and lines > 5
        found.add(high)
    assert found == {2.5, 3.5}


@cases
@pytest.mark.parametrize("paper_mm", [0.1, 0.25])
def test_the_strip_goes_once_round_rim_and_paper(
    dial: Dial, numbers: Numbers, paper: str, paper_mm: float
) -> None:
    rows = pieces(strip_sheets(dial, FIELDS, numbers, paper, paper_mm))
    # the middle of the paper lies on a circle of d + t
    girth = pi * (dial.diameter_mm + paper_mm)
    assert sum(right - left for left, right, _ in rows) == pytest.approx(girth, abs=1e-6)
    apart = girth / dial.divisions
    # the two joint lines reach below the strip: its own lines start at its edge
    lines = [
        (line.start[0] - left + sum(b - a for a, b, _ in rows[:at]), line)
        for at, (left, _, ups) in enumerate(rows)
        for line in sorted(ups, key=lambda one: one.start[0])
        if line.start[1] == max(one.start[1] for one in ups)
    ]
    assert len(lines) == dial.divisions
    places = [place for place, _ in lines]
    assert all(b - a == pytest.approx(apart, abs=1e-6) for a, b in pairwise(places))
    # the joint is halfway between two lines, clear of numerals
    assert places[0] > 0 and places[-1] < girth
    longest = [
        place for place, line in lines if line.end[1] - line.start[1] == pytest.approx(dial.long_mm)
    ]
    half = dial.numeral_height_mm / 2
    assert all(half - 1e-6 < place < girth - half + 1e-6 for place in longest)


@pytest.mark.parametrize(("paper", "wide"), [("A4", 210.0), ("Letter", 215.9)])
def test_a_strip_too_long_for_the_page_comes_in_lapped_pieces(paper: str, wide: float) -> None:
    dial = design_dial(400, 2.54, 104.0, rim_width_mm=9.0)
    sheets = strip_sheets(dial, FIELDS, METRIC, paper)
    rows = pieces(sheets)
    assert len(rows) >= ceil(pi * 104.1 / wide) > 1
    letters = [
        text.words
        for sheet in sheets
        for one in sheet.items
        for text in drawn(one).texts
        if len(text.words) == 1
    ]
    # each piece ends with the letter that the next begins with, the last with the first's
    starts, ends = letters[::2], letters[1::2]
    assert ends == [*starts[1:], starts[0]] and len(set(starts)) == len(rows)
    laps = [
        one
        for sheet in sheets
        for one in sheet.items
        if isinstance(one, Polyline) and one.style == "hidden"
    ]
    assert len(laps) == len(rows)


def test_a_rim_too_wide_for_the_paper_is_told() -> None:
    wide = design_dial(50, 1.0, 60.0, rim_width_mm=120.0)
    with pytest.raises(NoRoom, match="A4"):
        strip_sheets(wide, FIELDS, METRIC, "A4")
    assert len(pieces(strip_sheets(wide, FIELDS, METRIC, "A3"))) == 1
    with pytest.raises(NoRoom, match="scale"):
        dial_sheet(design_dial(50, 1.0, 700.0, rim_width_mm=20.0), FIELDS, METRIC)


def test_the_printed_strip_has_its_lines_where_the_divisions_put_them() -> None:
    """As PDFium prints it at 600 dpi: dark columns just over the graduated edge."""
    sheets = strip_sheets(PLAIN, FIELDS, METRIC)
    left, right, ups = pieces(sheets)[0]
    level = max(one.start[1] for one in ups) + 1.0
    page = pypdfium2.PdfDocument(pdf(sheets, "strip"))[0]
    points = 72 / 25.4
    wide, high = page.get_size()
    crop = ((left - 2) * points, (level - 0.3) * points)
    crop = (*crop, wide - (right + 2) * points, high - (level + 0.3) * points)
    shown = page.render(scale=600 / 72, crop=crop, grayscale=True).to_numpy()
    dark = 1 - shown.reshape(shown.shape[:2]).mean(axis=0) / 255
    weight = np.where(dark > 0.3, dark, 0.0)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], weight > 0, [0]]).astype(int)))
    centres = [
        float(np.average(np.arange(a, b) + 0.5, weights=weight[a:b])) * 25.4 / 600
        for a, b in edges.reshape(-1, 2)
    ]
    joint, *places, last = (centre - 2 for centre in centres)
    assert (joint, last) == (pytest.approx(0, abs=0.05), pytest.approx(pi * 32.1, abs=0.1))
    assert len(places) == 50
    for number, place in enumerate(places):
        assert place - places[0] == pytest.approx(number * pi * 32.1 / 50, abs=0.05)


@pytest.mark.parametrize(
    ("dial", "version"),
    [*((one, "R2010") for one, _, _ in CASES), (PLAIN, "R12")],
    ids=lambda one: str(getattr(one, "divisions", one)),
)
def test_the_gravers_file(dial: Dial, version: str, tmp_path: Path) -> None:
    path = tmp_path / "rim.dxf"
    write_rim(path, dial, pi * dial.diameter_mm, version)
    doc = ezdxf.readfile(path)
    assert not doc.audit().errors
    space = doc.modelspace()
    lines = sorted(space.query('LINE[layer=="LINES"]'), key=lambda one: one.dxf.start.x)
    assert len(lines) == dial.divisions
    for number, line in enumerate(lines):
        x = number * pi * dial.diameter_mm / dial.divisions
        assert line.dxf.start.x == pytest.approx(x, abs=1e-5) == line.dxf.end.x
        assert line.dxf.start.y == 0 and line.dxf.end.y in (
            *(pytest.approx(one) for one in (dial.short_mm, dial.middle_mm, dial.long_mm)),
        )
    numerals = [one for one in space.query("LWPOLYLINE POLYLINE") if one.dxf.layer == "NUMERALS"]
    ys = [y for one in numerals for _, y, *_ in map(tuple, points_of(one))]
    # between the long lines' ends and the free end
    assert numerals and min(ys) > dial.long_mm and max(ys) <= dial.rim_width_mm + 1e-6
    assert {one.dxf.layer for one in space} == {"LINES", "NUMERALS", "RIM", "NOTE"}
    rim = [one for one in space.query('LINE[layer=="RIM"]') if one.dxf.start.y == one.dxf.end.y]
    girth = pytest.approx(pi * dial.diameter_mm, abs=1e-5)
    assert [one.dxf.end.x for one in rim] == [girth, girth]


def points_of(entity: object) -> list[tuple[float, ...]]:
    if entity.dxftype() == "LWPOLYLINE":
        return list(entity.get_points("xy"))
    return [tuple(one) for one in entity.points()]


def test_a_numeral_is_read_toward_the_graduated_edge_with_its_head_to_the_higher_numbers(
    tmp_path: Path,
) -> None:
    """A 7, whose bar is its head and whose foot is at the lower left of its upright."""
    path = tmp_path / "rim.dxf"
    dial = design_dial(10, 1.0, 20.0, rim_width_mm=6.0)
    write_rim(path, dial, pi * 20)
    x = 7 * pi * 20 / 10
    seven = next(
        one
        for one in ezdxf.readfile(path).modelspace().query('LWPOLYLINE[layer=="NUMERALS"]')
        if all(abs(px - x) < dial.numeral_height_mm for px, _ in one.get_points("xy"))
    )
    bar_start, bar_end, foot = seven.get_points("xy")
    # its head lies toward the higher numbers, to the right; read downward, to the graduated edge
    assert bar_start[0] == bar_end[0] > x > foot[0]
    assert bar_start[1] > bar_end[1] > dial.long_mm


def test_the_gravers_file_is_the_same_bytes_again(tmp_path: Path) -> None:
    for name in "ab":
        write_rim(tmp_path / name, PLAIN, pi * 32)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


@pytest.mark.parametrize(("dial", "numbers", "paper"), CASES[:5])
def test_a_dials_pages_are_of_the_angle_that_the_parts_sheets_are(
    dial: Dial, numbers: Numbers, paper: str
) -> None:
    # ASME Y14.3: third angle in an inch shop; ISO 5456-2 gives both, first is usual in a metric one
    pages = (dial_sheet(dial, FIELDS, numbers, paper), *strip_sheets(dial, FIELDS, numbers, paper))
    wanted = "third" if numbers.inch else "first"
    assert [page.projection for page in pages] == [wanted] * len(pages)
    # the sign itself: in third angle the rings stand to the left of the cone
    for page in pages:
        signs = [one for item in page.frame for one in drawn(item).strokes]
        rings = [one.centre[0] for one in signs if isinstance(one, Circle)]
        (cone,) = [one for one in signs if isinstance(one, Polyline) and len(one.points) == 4][-1:]
        middle = sum(x for x, _ in cone.points) / 4
        assert rings and all((ring < middle) is numbers.inch for ring in rings)
