"""Frames and fields: papers against ezdxf's sizes and ISO 5457, nothing printed over anything else."""

from __future__ import annotations

from itertools import combinations

import pytest
from drawing_cases import FIELDS, shape
from ezdxf.tools.standards import PAGE_SIZES
from msgspec.structs import replace
from shapely import STRtree
from shapely.geometry import LineString, Polygon

from planner.drawing.apart import drawn
from planner.drawing.frame import PAPERS, blank, block, check_bar, fitted, inside
from planner.drawing.lettering import corners, width_mm
from planner.drawing.model import Fields, Line, Sheet, Text

LONG = Fields(
    **{
        name: "Wide words that no field of a sheet can ever have room for, whatever they say" * 2
        for name in (
            *("title", "identification_number", "legal_owner", "date_of_issue", "approval_person"),
            *("creator", "document_type", "revision_index", "supplementary_title", "material"),
            *("stock", "mass", "quantity"),
        )
    },
    tolerances=("Decimals of two places by 0.01, of three by 0.005 and then some more",) * 4,
    edges="broken 0.2 to 0.5, inside free to 0.3",
    texture="Ra 3.2",
    sheet_number=999,
    number_of_sheets=999,
)

MARKED = replace(
    FIELDS,
    edges="",
    edge_sizes=("-0.008", "+0.008"),
    texture="Ra 12.5",
    texture_of="of what is cut",
)

ALL = [(paper, landscape) for paper in PAPERS for landscape in (False, True)]


@pytest.mark.parametrize(("paper", "name"), [("A4", "ISO A4"), ("A3", "ISO A3")])
def test_iso_papers(paper: str, name: str) -> None:
    unit, width, height = PAGE_SIZES[name]
    sheet = blank(FIELDS, paper)
    assert unit == "mm" and sorted((sheet.width, sheet.height)) == sorted((width, height))
    # ISO 5457: the drawing space of A4 is 180 x 277, of A3 277 x 390 (lying: 390 x 277)
    space = inside(blank(FIELDS, paper, landscape=paper == "A3"))
    assert (space.right - space.left, space.top - space.low) == {
        "A4": (180, 277),
        "A3": (390, 277),
    }[paper]
    assert space.left == 20


@pytest.mark.parametrize(("paper", "inches"), [("Letter", (8.5, 11)), ("Tabloid", (11, 17))])
def test_inch_papers(paper: str, inches: tuple[float, float]) -> None:
    # ASME Y14.1 sizes A and B
    sheet = blank(FIELDS, paper)
    assert (sheet.width / 25.4, sheet.height / 25.4) == pytest.approx(inches)


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="A4"):
        blank(FIELDS, "A5")


@pytest.mark.parametrize(
    ("paper", "landscape", "fields"), [("A4", False, (4, 6)), ("A3", True, (8, 6))]
)
def test_the_grid_of_iso_5457(paper: str, landscape: bool, fields: tuple[int, int]) -> None:
    # ISO 5457:1999 Table 2 (memory): 4 x 6 fields on A4, 8 x 6 on A3
    sheet = blank(FIELDS, paper, landscape)
    space = inside(sheet)
    outside = [one for one in sheet.frame if isinstance(one, Text) and one.at[1] > space.top]
    letters = [one for one in sheet.frame if isinstance(one, Text) and one.at[0] > space.right]
    assert [one.words for one in outside] == [str(n + 1) for n in range(fields[0])]
    assert "".join(one.words for one in letters) == "ABCDEF"[: fields[1]]
    assert [one.at[1] for one in letters] == sorted((one.at[1] for one in letters), reverse=True)


def inks(sheet: Sheet) -> list[Polygon]:
    return [
        Polygon(corners(text)) for one in sheet.frame for text in drawn(one).texts if text.words
    ]


@pytest.mark.parametrize(("paper", "landscape"), ALL)
@pytest.mark.parametrize(
    "fields",
    [FIELDS, LONG, replace(FIELDS, unit="in"), MARKED],
    ids=["usual", "long", "inch", "marked"],
)
def test_nothing_is_printed_over_anything(paper: str, landscape: bool, fields: Fields) -> None:
    sheet = blank(fields, paper, landscape)
    texts = inks(sheet)
    lines = [shape(stroke) for one in sheet.frame for stroke in drawn(one).strokes]
    assert len(texts) > 25 and len(lines) > 30
    tree = STRtree(lines)
    for ink in texts:
        assert tree.query(ink, "intersects").size == 0, ink.wkt
    assert not [1 for a, b in combinations(texts, 2) if a.intersects(b)]
    page = Polygon([(0, 0), (sheet.width, 0), (sheet.width, sheet.height), (0, sheet.height)])
    assert all(page.contains(one) for one in texts + lines)


@pytest.mark.parametrize(("paper", "landscape"), ALL)
def test_the_fields_lie_in_the_corner_and_are_no_wider_than_iso_7200_allows(
    paper: str, landscape: bool
) -> None:
    sheet = blank(FIELDS, paper, landscape)
    box, space = block(sheet), inside(sheet)
    assert (box.right, box.low) == (space.right, space.low)
    assert box.right - box.left <= 180
    words = {text.words for one in sheet.frame for text in drawn(one).texts}
    # the fields that ISO 7200 asks for
    for value in (
        *(FIELDS.legal_owner, FIELDS.identification_number, FIELDS.date_of_issue, "3 / 15"),
        *(FIELDS.title, FIELDS.approval_person, FIELDS.creator, FIELDS.document_type),
    ):
        assert value in words, value


def test_words_too_wide_get_smaller_and_then_end_in_dots() -> None:
    text = Text((0, 0), "Housing of the pivot")
    wide = width_mm(text.words, 3.5)
    assert fitted(text, wide, (5.0, 3.5)).height == 3.5
    short = fitted(text, wide / 2, (5.0, 3.5))
    assert short.words.endswith("…") and width_mm(short.words, 3.5) <= wide / 2
    assert text.words.startswith(short.words[:-1])


@pytest.mark.parametrize(
    ("inch", "short", "long"),
    [(False, False, 100.0), (False, True, 50.0), (True, False, 101.6), (True, True, 50.8)],
)
@pytest.mark.parametrize("upright", [False, True])
def test_check_bars_are_as_long_as_they_say(
    inch: bool, short: bool, long: float, upright: bool
) -> None:
    items = list(check_bar((20, 30), inch, short, upright))
    bar = LineString([items[0].start, items[0].end])
    assert bar.length == pytest.approx(long)
    said = items[-1].words.split(",")[0]
    number, unit = said.split()
    assert float(number) * {"mm": 1, "in": 25.4}[unit] == pytest.approx(long)
    ticks = [one for one in items[1:-1] if isinstance(one, Line)]
    assert all(bar.distance(LineString([one.start, one.end])) < 1e-9 for one in ticks)


@pytest.mark.parametrize(("projection", "cone_first"), [("first", True), ("third", False)])
def test_the_projections_sign(projection: str, cone_first: bool) -> None:
    # ISO 5456-2: in first angle the view from the left stands to the right of the cone
    sheet = blank(FIELDS, projection=projection)  # type: ignore[arg-type]
    cone = next(
        one
        for one in sheet.frame
        if len(getattr(one, "points", ())) == 4 and one.points[0][1] > one.points[1][1]
    )
    rings = [one for one in sheet.frame if type(one).__name__ == "Circle"]
    assert len(rings) == 2 and rings[0].centre == rings[1].centre
    assert (cone.points[0][0] < rings[0].centre[0]) is cone_first
    left = min(x for x, _ in cone.points)
    small = max(y for x, y in cone.points if x == left) - min(
        y for x, y in cone.points if x == left
    )
    # its small end is on the left, so that both circles are seen from there
    assert small == pytest.approx(2 * min(ring.radius for ring in rings))
