"""Every field of a sheet holds what its name says, in its own cell; the grid, marks and margins."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from drawing_cases import FIELDS
from shapely import box
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from planner.drawing.apart import drawn
from planner.drawing.frame import blank, block, inside, wrapped
from planner.drawing.lettering import corners, width_mm
from planner.drawing.model import Line, Polyline, Sheet, Text
from planner.drawing.strokes import PENS

ALL = [("A4", False), ("A3", True), ("Letter", True), ("Tabloid", False), ("Tabloid", True)]

HELD = {
    "Material": "S355",
    "Stock × finished length": "Flat 50 × 20",
    "Mass": "0.85 kg",
    "Quantity": "1",
    "Scale": "1:5",
    "Owner": "Own workshop",
    "Title": ("Housing", "before welding"),
    "Number": "BL-07",
    "Made by": "A. B.",
    "Approved by": "C. D.",
    "Type of document": "Part drawing",
    "Date of issue": "2026-01-31",
    "Revision": "B",
    "Sheet": "3 / 15",
    "General tolerances": ("ISO 2768-m", "Angles: ISO 2768-m"),
    "Surface texture": "Ra 3.2",
}
"""What tests/drawing_cases.py: FIELDS has in each field, by the name printed in it."""


def cells(sheet: Sheet) -> list[Polygon]:
    return [
        Polygon(one.points)
        for one in sheet.frame
        if isinstance(one, Polyline) and one.style == "thin" and len(one.points) == 4
        and len({x for x, _ in one.points}) == 2 and len({y for _, y in one.points}) == 2
    ]  # fmt: skip


def texts(sheet: Sheet) -> list[tuple[str, Polygon, Text]]:
    return [
        (text.words, Polygon(corners(text)), text)
        for one in sheet.frame
        for text in drawn(one).texts
        if text.words
    ]


@pytest.mark.parametrize(("paper", "landscape"), ALL)
def test_each_field_holds_what_its_name_says(paper: str, landscape: bool) -> None:
    sheet = blank(FIELDS, paper, landscape, "1:5")
    found = texts(sheet)
    for name, held in HELD.items():
        labels = [area for words, area, _ in found if words == name]
        around = [cell for cell in cells(sheet) for area in labels if cell.contains(area)]
        assert len(around) == 1, name
        for words in (held,) if isinstance(held, str) else held:
            assert [1 for w, area, _ in found if w == words and around[0].contains(area)], name
    # a field's name is smaller than what stands in it, and over it
    (label,) = [text for words, _, text in found if words == "Material"]
    (value,) = [text for words, _, text in found if words == "S355"]
    assert label.height < value.height and label.at[1] > value.at[1] + value.height
    assert label.at[0] == value.at[0]
    unit = [words for words, _, _ in found if words.startswith("Lengths in")]
    assert unit == ["Lengths in mm"]
    edges = [words for words, _, _ in found if words.startswith(("broken", "inside"))]
    assert " ".join(edges) == FIELDS.edges or len(edges) == 2


@pytest.mark.parametrize(("paper", "landscape"), ALL)
def test_the_fields_fill_their_block_and_do_not_overlap(paper: str, landscape: bool) -> None:
    sheet = blank(FIELDS, paper, landscape)
    area, found = block(sheet), cells(sheet)
    around = box(area.left, area.low, area.right, area.top)
    within = [one for one in found if around.buffer(1e-6).contains(one)]
    assert len(within) == 20
    assert unary_union(within).symmetric_difference(around).area < 1e-6
    for one, other in combinations(within, 2):
        assert one.intersection(other).area < 1e-6
    # ISO 7200: 180 mm at the most; every one has room for a letter of 1.8 and one of 2.5
    assert area.right - area.left == pytest.approx(
        min(180.0, inside(sheet).right - inside(sheet).left)
    )
    assert area.top - area.low == 50.0
    assert min(one.bounds[3] - one.bounds[1] for one in within) >= 1.8 + 2.5 + 3 * 1.0
    # everything written in the block stands inside its own field, what letters reach below counted
    for words, ink, _ in texts(sheet):
        if around.contains(ink):
            (cell,) = [one for one in within if one.contains(ink.centroid)]
            assert cell.buffer(-0.15).contains(ink), words


FIELD_MM = {"A4": (50, 50), "A3": (50, 50), "Letter": None, "Tabloid": (4.25 * 25.4, 5.5 * 25.4)}
"""How long the grid's fields are along the long and the short side: ISO 5457, 50 mm; ASME Y14.1 size B
4.25 by 5.5 in (both from memory); size A has none."""

MARGINS = {
    "A4": (20, 10, 10),
    "A3": (20, 10, 10),
    "Letter": (0.25 * 25.4, 0.25 * 25.4, 0.38 * 25.4),
    "Tabloid": (0.62 * 25.4, 0.62 * 25.4, 0.38 * 25.4),
}
"""Left, right, above and below: ISO 5457; ASME Y14.1-2005, sizes A and B (memory)."""


@pytest.mark.parametrize(("paper", "landscape"), ALL)
def test_the_grid_counts_from_the_papers_middle(paper: str, landscape: bool) -> None:
    sheet = blank(FIELDS, paper, landscape)
    space, known = inside(sheet), FIELD_MM[paper]
    ticks = [one for one in sheet.frame if isinstance(one, Line) and one.style == "thin"]
    across = sorted({one.start[0] for one in ticks if one.start[1] == space.top})
    down = sorted({one.start[1] for one in ticks if one.start[0] == space.right})
    numbers = [one for one in sheet.frame if isinstance(one, Text) and one.at[1] > space.top]
    letters = [one for one in sheet.frame if isinstance(one, Text) and one.at[0] > space.right]
    if known is None:
        assert not across and not down and not numbers and not letters
        return
    long, short = known
    steps = (long, short) if sheet.width > sheet.height else (short, long)
    sides = (
        (across, space.left, space.right, sheet.width),
        (down, space.low, space.top, sheet.height),
    )
    for (places, low, high, whole), step in zip(sides, steps, strict=True):
        for k in range(-12, 13):
            at = whole / 2 + k * step
            if low + 5.001 < at < high - 5.001:
                assert any(abs(at - place) < 1e-6 for place in places), at
        assert all((place - whole / 2) / step == pytest.approx(round((place - whole / 2) / step))
                   for place in places)  # fmt: skip
    # a number or letter in the middle of each field, five wide outside the frame
    for marks, places, low, high, k in (
        (numbers, across, space.left, space.right, 0),
        (letters, down, space.low, space.top, 1),
    ):
        ends = [low, *places, high]
        middles = sorted((a + b) / 2 for a, b in pairwise(ends))
        assert len(marks) == len(middles)
        found = sorted(Polygon(corners(one)).centroid.coords[0][k] for one in marks)
        assert found == pytest.approx(middles, abs=0.4)
    for one in ticks:
        if one.start[1] == space.top:
            assert one.end == (one.start[0], space.top + 5.0)
        if one.start[0] == space.right:
            assert one.end == (space.right + 5.0, one.start[1])
    for one in numbers:
        assert Polygon(corners(one)).centroid.y == pytest.approx(space.top + 2.5, abs=0.3)
    for one in letters:
        assert Polygon(corners(one)).centroid.x == pytest.approx(space.right + 2.5, abs=0.3)


@pytest.mark.parametrize(("paper", "landscape"), ALL)
def test_the_frame_and_its_centring_marks(paper: str, landscape: bool) -> None:
    sheet = blank(FIELDS, paper, landscape)
    space = inside(sheet)
    margins = (space.left, sheet.width - space.right, space.low)
    assert margins == pytest.approx(MARGINS[paper])
    assert sheet.height - space.top == pytest.approx(space.low)
    (frame,) = [
        one for one in sheet.frame
        if isinstance(one, Polyline) and one.style == "frame" and len(one.points) == 4
    ]  # fmt: skip
    assert frame.closed and Polygon(frame.points).bounds == (
        space.left,
        space.low,
        space.right,
        space.top,
    )
    assert PENS["frame"].width == 0.7
    # at the middle of each side, five into the frame and through the band to outside of it
    marks = [
        LineString([one.start, one.end]) for one in sheet.frame
        if isinstance(one, Line) and one.style == "frame"
    ]  # fmt: skip
    x, y = sheet.width / 2, sheet.height / 2
    sides = [
        ((x, space.top), (x, space.top - 5.0)),
        ((space.left, y), (space.left + 5.0, y)),
        ((space.right, y), (space.right - 5.0, y)),
    ]
    if not block(sheet).left <= x <= block(sheet).right:
        sides.append(((x, space.low), (x, space.low + 5.0)))
    assert len(marks) == len(sides)
    for edge, tip in sides:
        (mark,) = [one for one in marks if one.distance(Point(edge)) < 1e-9]
        assert mark.distance(Point(tip)) < 1e-9 and Point(tip).distance(mark.boundary) < 1e-9
        band = min(5.0, space.left, space.low, sheet.width - space.right)
        assert mark.length == pytest.approx(5.0 + band)


def test_words_are_broken_as_late_as_they_fit() -> None:
    words = "broken 0.2 to 0.5, inside free to 0.3"
    for wide in (20.0, 30.0, 45.0, 200.0):
        lines = wrapped(words, wide)
        assert " ".join(lines) == words
        assert all(width_mm(line, 2.5) <= wide for line in lines)
        for one, two in pairwise(lines):
            assert width_mm(f"{one} {two.split()[0]}", 2.5) > wide
    assert wrapped("", 30.0) == () and wrapped("Overlongword", 1.0) == ("Overlongword",)
