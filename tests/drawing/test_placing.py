"""What decides where a dimension stands, of shapes that the examples have not."""

from __future__ import annotations

from math import cos, radians, sin
from types import SimpleNamespace
from typing import Any

import pytest
import shapely
from drawing_cases import shape

from parts import features as f
from parts.blank import Stock
from parts.features import general
from parts.places import Agreement
from parts.standard.fits import limits
from parts.standard.sections import Section
from parts.standard.series import Series
from planner.drawing import standing
from planner.drawing.apart import drawn
from planner.drawing.beside import Beside, _thicker
from planner.drawing.items import Numbered, high_mm, listed
from planner.drawing.lanes import beyond
from planner.drawing.lettering import corners
from planner.drawing.model import Box, Text, factor
from planner.drawing.panel import _run, size_words
from planner.drawing.pointing import _on
from planner.drawing.relations import in_one_line
from planner.drawing.scheme import _stock
from planner.drawing.signs import Sign, sized_by
from planner.drawing.subjects import Subject, _inside
from planner.geometry.curves import Arc, Line, Polyline
from planner.words.numbers import INCH, METRIC, Numbers

within = Series(inch=False).within
ENDS = ("low", "high")
BAR = Stock(Section("round", 40.0), 80.0, "C45")


def _outline(*spans: tuple[float, float, float, float]) -> Any:
    """A view of faces with these rectangles: left, low, right, top."""
    return SimpleNamespace(
        scheme=SimpleNamespace(claims=SimpleNamespace(faces=spans)), face_span=lambda face: face
    )


@pytest.mark.parametrize("off", [-30.0, 0.0, 30.0])
@pytest.mark.parametrize("k", [0, 1])
def test_a_diameter_passes_nothing_that_stands_out_further(off: float, k: int) -> None:
    """A shaft of 20 from 0 to 50 about an axis anywhere, a collar of 24 from 50 to 60, one of 20 after
    it; a boss on one side alone is in the way too. Laid level (k 0) and upright (k 1)."""

    def span(
        start: float, end: float, low: float, high: float
    ) -> tuple[float, float, float, float]:
        there = (start, off + low, end, off + high)
        return there if k == 0 else (there[1], there[0], there[3], there[2])

    bar = [span(0, 50, -10, 10), span(50, 60, -12, 12), span(60, 90, -10, 10)]
    for start, end, wanted in ((0, 0, False), (50, 90, True), (50, 55, True), (60, 90, False)):
        found = _thicker(_outline(*bar), 0, (start, end), k, 10.0, off)
        assert found is wanted, (start, end)
    for side in ((-10.0, 10.5), (-10.5, 10.0)):
        assert _thicker(_outline(span(20, 30, *side)), 0, (10.0, 40.0), k, 10.0, off)
    assert not _thicker(_outline(span(20, 30, -10.0, 10.0)), 0, (10.0, 40.0), k, 10.0, off)
    # what only touches the place is not passed
    assert not _thicker(_outline(span(40, 50, -12, 12)), 0, (10.0, 40.0), k, 10.0, off)
    assert not _thicker(_outline(span(0, 10, -12, 12)), 0, (10.0, 40.0), k, 10.0, off)


def test_a_piece_has_its_own_agreements_by_its_own_names() -> None:
    """Those of the weldment whose two surfaces are both of the piece, and no others."""
    assert _inside("shank:z-high", "shank") == "blank:z-high"
    assert _inside("shank/foot flat:z-low", "shank") == "foot flat:z-low"
    assert _inside("tube:z-high", "shank") == _inside("shanks:z-high", "shank") == ""
    both = [
        Agreement("flush", "shank/foot flat:z-low", "shank:z-low", "milled at once"),
        Agreement("touching", "shank:z-high", "tube/shank seat:z-low", "welded there"),
        Agreement("coaxial", "tube/bore:axis", "shank:axis", "bored there"),
    ]
    piece: Any = SimpleNamespace(name="shank")
    (own,) = Subject(SimpleNamespace(agreements=both), piece).agreements  # type: ignore[arg-type]
    assert (own.one, own.other, own.kind) == ("foot flat:z-low", "blank:z-low", "flush")


@pytest.mark.parametrize(
    ("other", "alike"),
    [
        (("A", "+x", within(20.0, 0.1, -0.1)), True),
        (("B", "+x", within(20.0, 0.1, -0.1)), False),
        (("A", "-x", within(20.0, 0.1, -0.1)), False),
        (("A", "+x", within(21.0, 0.1, -0.1)), False),
        (("A", "+x", within(20.0, 0.2, -0.1)), False),
        (("A", "+x", within(20.0, 0.1, -0.2)), False),
    ],
)
def test_only_what_is_located_alike_in_all_stands_in_one_line(other: Any, alike: bool) -> None:
    """The same datum, the same way, the same size with both of its limits."""
    first = ("A", "+x", within(20.0, 0.1, -0.1))
    located = {
        name: [(SimpleNamespace(along=along, size=size), datum, f"{name}:axis")]
        for name, (datum, along, size) in (("hole", first), ("slot", other))
    }
    subject: Any = SimpleNamespace(
        features=list(located),
        located=located.get,
        place=lambda ref: SimpleNamespace(kind="axis"),
    )
    found = [(one.direction, one.one, one.other) for one in in_one_line(subject)]
    assert found == ([(0, "hole:axis", "slot:axis")] if alike else [])


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        (19.05, "19.05", "3/4"),
        (12.5, "12.5", "0.492"),  # 0.49213 in
        (20.0, "20", "0.787"),  # 0.78740 in
        (
            20.637,
            "20.64",
            "0.812",
        ),  # 13/16 is 20.6375 mm, 0.81250 in: no fraction that is not exact
    ],
)
def test_a_nominal_size_is_a_fraction_of_an_inch_only_where_it_is_one(
    mm: float, metric: str, inch: str
) -> None:
    assert size_words(mm, METRIC) == metric
    assert size_words(mm, INCH) == inch


def _blocks(numbers: Numbers) -> dict[str, standing.Block]:
    """One of each kind that stands on a leader."""
    weld: Any = SimpleNamespace(kind="fillet", leg_mm=4.0, length_mm=120.0, all_round=False)
    true: Any = SimpleNamespace(characteristic="position", value_mm=0.05, datums=("A", "B"))
    texture = Sign("texture", "seat", "seat|texture", 1.6)
    frame, datum = Sign("true", "seat", "seat|true", true), Sign("datum", "seat", "seat|datum", "C")
    nowhere: Any = None
    return {
        "weld": standing._weld_block(nowhere, Sign("weld", "w", "w|", weld), {}, 1.0, numbers),
        "texture": standing._texture_block(texture, (), numbers),
        "frame": standing._frame_block([frame], (), numbers),
        "two frames and a datum": standing._frame_block([frame, frame, datum], (), numbers),
    }


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("rightward", [True, False])
def test_a_block_is_as_large_as_what_is_drawn_of_it(
    numbers: Numbers, rightward: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Away from the knee, above and below it: no line or word beyond, and little to spare. Against
    the ends of all lines and the corners of all words."""
    monkeypatch.setattr(standing, "runs_along", lambda subject, weld: 0)
    knee = (60.0, 50.0)
    for name, block in _blocks(numbers).items():
        tip = (30.0 if rightward else 90.0, 40.0)
        spots = []
        for item in block.make(tip, knee, rightward):
            piece = drawn(item)
            for stroke in piece.strokes:
                spots += [(p[0], p[1]) for p in shapely.get_coordinates(shape(stroke))]
            spots += [corner for text in piece.texts for corner in corners(text)]
        own = [p for p in spots if (p[0] >= knee[0] if rightward else p[0] <= knee[0])]
        far = max(abs(x - knee[0]) for x, _ in own)
        assert far <= block.wide + 1e-6 and block.wide - far < 2.1, name
        above, below = max(y for _, y in own) - knee[1], knee[1] - min(y for _, y in own)
        assert above <= block.above + 1e-6 and block.above - above < 1.1, name
        assert below <= block.below + 1e-6 and block.below - below < 1.1, name


def test_a_bar_gives_a_size_where_both_of_its_faces_are_left() -> None:
    """A flat of 40 by 20; a round bar's diameter is said otherwise."""
    flat = SimpleNamespace(round=False, section=SimpleNamespace(width_mm=40.0, height_mm=20.0))
    every = {(i, f"blank:{letter}-{end}") for i, letter in ((1, "y"), (2, "z")) for end in ENDS}

    def said(there: set[tuple[int, str]], stock: Any = flat) -> list[tuple[int, str, str, float]]:
        return [(e.direction, e.one, e.other, e.size.nominal_mm) for e in _stock(stock, there)]

    wide, high = (1, "blank:y-low", "blank:y-high", 40.0), (2, "blank:z-low", "blank:z-high", 20.0)
    assert said(every) == [wide, high]
    for gone in every:
        assert said(every - {gone}) == [high if gone[0] == 1 else wide]
    assert said({*every, (0, "slot:x-low")}) == [wide, high]
    assert said(every, SimpleNamespace(round=True)) == []


def test_a_bars_axis_is_said_by_the_closest_fit_about_that_axis() -> None:
    """Of a tube 3 above the origin: its bore, not the journal on another axis, nor what lies across."""
    bore = f.ReamedHole(
        name="bore",
        datum="A",
        axis=f.Axis(),
        depth_mm=9.0,
        through=True,
        diameter=limits(20.0, "H7"),
    )
    wide = f.TurnedDiameter(
        name="wide", datum="A", start_mm=0.0, end_mm=9.0, diameter=general(30.0)
    )
    close = f.TurnedDiameter(
        name="close", datum="A", start_mm=0.0, end_mm=9.0, diameter=limits(20.0, "g6")
    )
    axes = {"tube:axis": (0, (0.0, 0.0, 3.0)), "bore:axis": (0, (9.0, 0.0, 3.0))}

    def said(**others: tuple[int, tuple[float, float, float]]) -> str:
        places = {**axes, **{f"{name}:axis": place for name, place in others.items()}}
        of = {"wide": wide, "close": close, "bore": bore}
        subject: Any = SimpleNamespace(
            carriers={"tube": (BAR, None)},
            features=[one for name, one in of.items() if f"{name}:axis" in places],
            place=lambda ref: SimpleNamespace(along=places[ref][0], at=places[ref][1]),
        )
        return sized_by(subject, "tube:axis")

    assert said() == "bore"
    # ISO 286: 20 H7 has 21 um, 20 g6 13 um
    assert said(wide=(0, (0.0, 0.0, 3.0))) == "bore"
    assert said(close=(0, (5.0, 0.0, 3.0))) == "close"
    for elsewhere in ((0, (5.0, 0.0, 0.0)), (0, (5.0, 3.0, 3.0)), (1, (5.0, 0.0, 3.0))):
        assert said(close=elsewhere) == "bore"
    del axes["bore:axis"]
    assert said() == "blank"


def test_how_far_words_run_past_a_side() -> None:
    assert beyond([]) == 0.0
    assert beyond([-3.0, -1.0, -2.0]) == -1.0 and beyond([1.0, 4.0, 2.0]) == 4.0


@pytest.mark.parametrize("taken", [Beside.taken, _run], ids=["part", "whole"])
def test_a_dimension_takes_its_line_and_its_words(taken: Any) -> None:
    """At 1:2, from 20 to 120 of the model: 10 to 60 on the paper, words as wide as they are."""
    for wide, shift, wanted in (
        (12.0, 0.0, (10.0, 60.0)),
        (70.0, 0.0, (0.0, 70.0)),
        (12.0, 40.0, (10.0, 81.0)),  # 35 and 40 and half of 12
        (12.0, -40.0, (-11.0, 60.0)),
    ):
        dim = SimpleNamespace(a=120.0, b=20.0, shift=shift, wide=lambda numbers, w=wide: w)
        assert taken(dim, METRIC, 0.5) == pytest.approx(wanted)


@pytest.mark.parametrize("scale", ["0:2", "2:0", "0/1", "2", "1:2:3", "-1:2", ""])
def test_what_is_no_scale_is_refused(scale: str) -> None:
    with pytest.raises(ValueError, match="a scale is written as"):
        factor(scale)


def test_a_place_is_on_a_curve_or_off_it() -> None:
    """Within two hundredths of a millimetre, and half a degree of an arc's ends."""
    line, path = Line((0.0, 0.0), (30.0, 40.0)), Polyline(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)))
    for p, on in (((15.0, 20.0), True), ((0.0, 0.0), True), ((30.0, 40.0), True),
                  ((15.01, 20.0), True), ((15.1, 20.0), False), ((30.6, 40.8), False),
                  ((-0.6, -0.8), False)):  # fmt: skip
        assert _on(p, line) is on, p
    for p, on in (
        ((5.0, 0.0), True),
        ((10.0, 5.0), True),
        ((5.0, 5.0), False),
        ((0.0, 5.0), False),
    ):
        assert _on(p, path) is on, p
    assert not _on((0.0, 0.0), Line((0.0, 0.0), (0.0, 0.0)))
    for start, end in ((10.0, 80.0), (300.0, 380.0)):
        arc = Arc((5.0, 5.0), 20.0, start, end)
        for deg, radius, on in (
            *((start + 1, 20.0, True), (end - 1, 20.0, True), (start - 0.4, 20.0, True)),
            *((end + 0.4, 20.0, True), (start - 0.6, 20.0, False), (end + 0.6, 20.0, False)),
            *((start + 9, 20.01, True), (start + 9, 20.1, False), (start + 9, 19.9, False)),
        ):
            turn = radians(deg)
            assert _on((5 + radius * cos(turn), 5 + radius * sin(turn)), arc) is on, (start, deg)


@pytest.mark.parametrize("count", [0, 1, 12])
def test_the_list_is_as_high_as_it_says(count: int) -> None:
    """From the data fields up to its highest line, a head and a row for each item; words in between."""
    nothing: Any = None
    items = [Numbered(n, nothing, 1, "Shaft", "C45", "made", n) for n in range(count)]
    block = Box(220.0, 10.0, 400.0, 60.0)
    drawn_list = list(listed(items, block))
    tops = [y for one in drawn_list for y in shapely.get_coordinates(_strokes(one))[:, 1]]
    assert max(tops) - block.top == pytest.approx(high_mm(items, 180.0))
    rows = {round(one.at[1], 3) for one in drawn_list if isinstance(one, Text)}
    assert len(rows) == count + 1
    assert all(block.top < y < block.top + high_mm(items, 180.0) for y in rows)


def test_every_item_of_the_list_is_in_letters_of_one_height() -> None:
    """Words that are too long for their column go on in a second line, and none is left out or runs
    into the next column; all letters 2.5 mm, the least of ISO 3098 for a sheet (from memory)."""
    nothing: Any = None
    for titles in (
        ("Set screw M3 × 3: locks the pivot's nut, on a brass pellet", "Shaft"),
        (
            "Set screw 1/4-28 × 1/4: locks the pivot's nut, on a brass pellet that it presses",
            "Shaft",
        ),
    ):
        standard = "ASME B18.31.3, grade B7, cut to length"
        items = [
            Numbered(n, nothing, 1, title, standard, "bought") for n, title in enumerate(titles, 1)
        ]
        block = Box(220.0, 10.0, 400.0, 60.0)
        found = list(listed(items, block))
        texts = [one for one in found if isinstance(one, Text)]
        body = [one for one in texts if one.at[1] > block.top + 5.0]
        assert {one.height for one in body} == {2.5}
        lines = [one for one in found if not isinstance(one, Text)]
        uprights = {one.start[0] for one in lines if one.start[0] == one.end[0]}  # type: ignore[union-attr]
        columns = sorted({*uprights, block.right})
        for one in body:
            left, right = corners(one)[0][0], corners(one)[1][0]
            begin = max(x for x in columns if x <= left)
            assert right <= min(x for x in columns if x > begin)
        said = " ".join(one.words for one in sorted(body, key=lambda one: -one.at[1]))
        for word in f"{' '.join(titles)} {standard}".split():
            assert word in said


def _strokes(item: Any) -> Any:
    return shapely.union_all([shape(stroke) for stroke in drawn(item).strokes])
