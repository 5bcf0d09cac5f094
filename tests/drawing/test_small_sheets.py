"""A plate and a pin whose whole sheets are worked out by hand: every line, size and word of them.

What is seen of a plate of 100 x 60 x 12 with holes in known places needs no kernel to know. Views stand
in first or third angle (ISO 5456-2), threads are drawn by ISO 6410-1 (both from memory).
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from math import hypot
from typing import Literal

import pytest
from sheet_faults import mutations, overlaps

from parts import features as f
from parts.frame import Axis, Box
from parts.part import Datum, Part, Stock
from parts.places import Agreement
from parts.standard.fits import Limits, limits
from parts.standard.sections import Section
from planner.drawing.model import Arc, Circle, Dimension, Leader, Line, Sheet, TextureSymbol, factor
from planner.drawing.proof import faults
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import Subject
from planner.words.numbers import INCH, METRIC, Numbers


def at(datum: str, along: str, mm: float, play: float = 0.0) -> f.Location:
    size = Limits(mm, play, -play, "own") if play else f.general(mm)
    return f.Location(datum, along, size)  # type: ignore[arg-type]


def bolt(number: int, x: float) -> f.DrilledHole:
    return f.DrilledHole(
        name=f"bolt hole {number}", datum="A", axis=Axis((x, 10.0, 6.0), "-z"), depth_mm=12.0,
        diameter=f.general(9.0), locations=(at("A", "+x", x), at("B", "+y", 40.0)),
    )  # fmt: skip


PLATE = Subject(Part(
    name="plate", title="Plate", colour=(0.5, 0.5, 0.5),
    blank=Stock(Section("flat", 60.0, 12.0), 100.0, "S355"),
    features=(
        f.FacedLength(name="length", datum="A", length=f.general(100.0)),
        bolt(1, 20.0),
        bolt(2, 80.0),
        f.ReamedHole(
            name="pin hole", datum="A", axis=Axis((50.0, -10.0, 6.0), "-z"), depth_mm=12.0,
            diameter=limits(10.0, "H7"),
            locations=(at("A", "+x", 50.0, 0.05), at("B", "+y", 20.0, 0.02)),
        ),
        f.TappedHole(
            name="end thread", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=15.0,
            through=False, thread="M6",
        ),
    ),
    datums={
        "A": Datum("blank", "x-low", "the sawn end"),
        "B": Datum("blank", "y-low", "the edge"),
        "C": Datum("blank", "z-low", "the seat"),
    },
))  # fmt: skip

PIN = Subject(Part(
    name="pin", title="Pin", colour=(0.5, 0.5, 0.5),
    blank=Stock(Section("round", 30.0), 80.0, "C45"),
    features=(
        f.FacedLength(name="length", datum="B", length=f.general(80.0)),
        f.TurnedDiameter(
            name="seat", datum="A", start_mm=0.0, end_mm=35.0, diameter=limits(20.0, "g6"),
            roughness_um=1.6,
        ),
        f.TurnedDiameter(
            name="tip", datum="A", start_mm=65.0, end_mm=80.0,
            diameter=Limits(12.0, -0.03, -0.15, "own"),
        ),
        f.Thread(name="tip thread", datum="A", start_mm=65.0, end_mm=80.0, thread="M12"),
        f.DrilledHole(
            name="cross hole", datum="A", axis=Axis((50.0, 0.0, 15.0), "-z"), depth_mm=30.0,
            diameter=f.general(6.0), locations=(at("B", "+x", 50.0),),
        ),
        f.TappedHole(
            name="centre thread", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=12.0,
            through=False, thread="M6",
        ),
    ),
    datums={"A": Datum("blank", "axis", "axis"), "B": Datum("blank", "x-low", "the end")},
    agreements=(
        Agreement("symmetric", "cross hole:axis", "blank:axis", "through the middle"),
        Agreement("coaxial", "centre thread:axis", "blank:axis", "drilled in the lathe"),
    ),
))  # fmt: skip


RAIL = Subject(Part(
    name="rail", title="Rail", colour=(0.5, 0.5, 0.5),
    blank=Stock(Section("flat", 40.0, 20.0), 70.0, "S355"),
    features=(
        f.FacedLength(name="length", datum="A", length=f.general(70.0)),
        f.MilledFlat(name="top", datum="C", box=Box((0.0, -20.0, 7.0), (70.0, 20.0, 10.0)),
                     locations=(f.Location("C", "+z", f.general(17.0), "z-low"),)),
        f.MilledFlat(name="side", datum="B", box=Box((0.0, 15.0, -10.0), (70.0, 20.0, 7.0)),
                     locations=(f.Location("B", "+y", f.general(35.0), "y-low"),)),
        f.MilledSlot(
            name="slot", datum="C", box=Box((20.0, -20.0, 2.0), (28.0, 15.0, 7.0)),
            width=limits(8.0, "H9"), locations=(f.Location("A", "+x", f.general(20.0), "x-low"),),
        ),
    ),
    datums={
        "A": Datum("blank", "x-low", "the sawn end"),
        "B": Datum("blank", "y-low", "the edge"),
        "C": Datum("blank", "z-low", "the seat"),
    },
))  # fmt: skip


@cache
def sheet(
    subject: Subject, numbers: Numbers = METRIC, projection: Literal["first", "third"] = "first"
) -> Sheet:
    return drawn_sheet(subject, numbers, (1, 2), "job", "A4", projection)


def said(found: Sheet) -> set[tuple[str, ...]]:
    """What its dimensions and leaders print."""
    return {
        (one.text, one.upper, one.lower) if isinstance(one, Dimension) else one.words
        for one in found.items
        if isinstance(one, Dimension | Leader)
    }


def test_a_plates_sizes_are_these_and_no_others() -> None:
    # M6 is drilled 5 mm (ISO 724: 6 less the pitch of 1) and three pitches deeper than its thread;
    # 10 H7 is +0.015/0 (ISO 286-2)
    level = {"50 ±0.05", "100", "20", "80", "20 ±0.02", "40", "60", "12", "6", "30"}
    leaders = {
        ("M6 15 deep", "drill 5 mm, 18 deep"),
        ("Ø10 H7 (+0.015/0)", "reamed through"),
        ("2× Ø9", "through"),
    }
    assert said(sheet(PLATE)) == {(text, "", "") for text in level} | leaders
    # over 25.4, a limit rounded inward: 0.05 mm is 0.00197 in, 0.02 is 0.00079, 0.015 is 0.00059; what
    # no decimals say to three, with the general tolerance of those; 60 and 12 are bought
    inch = {"1.9685 ±0.0019", "3.937", "0.787", "3.150", "0.7874 ±0.0007",
            "1.575", "2.362 (60 mm)", "0.472 (12 mm)", "0.236", "1.181"}  # fmt: skip
    leaders = {
        ("M6-6H 0.591 deep", "drill 5 mm, 0.1969 (or #9, 0.196), 45/64 deep"),
        ("Ø0.3937 H7 (+0.0005/0.0000)", "reamed through"),
        ("2× Ø0.354", "through"),
    }
    assert said(sheet(PLATE, INCH)) == {(text, "", "") for text in inch} | leaders


def test_a_pins_sizes_are_these_and_no_others() -> None:
    # 20 g6 is -0.007/-0.020 (ISO 286-2)
    assert said(sheet(PIN)) == {
        *(("50", "", ""), ("35", "", ""), ("80", "", ""), ("Ø30", "", "")),
        *(("Ø20 g6", "-0.007", "-0.020"), ("Ø12 own", "-0.03", "-0.15")),
        *(("M6 12 deep", "drill 5 mm, 15 deep"), ("M12 × 15",), ("Ø6", "through")),
    }
    textures = [one.words for one in sheet(PIN).items if isinstance(one, TextureSymbol)]
    assert textures == ["Ra 1.6"]


def test_what_is_milled_off_is_measured_to_where_it_is_now() -> None:
    # of the flat of 40 x 20 the top 3 and a side of 5 are milled off: 35 and 17 are left of it; the
    # slot of 8 H9 (+0.036/0, ISO 286-2), its floor 12 over the seat, 20 from the end
    assert said(sheet(RAIL)) == {
        *((text, "", "") for text in ("70", "35", "17", "20", "12")),
        ("slot 8 H9 (+0.036/0) wide",),
    }


def lines(
    found: Sheet, style: str, corner: tuple[float, float], wide: float, high: float, times: float
):  # type: ignore[no-untyped-def]
    """The straight lines of a style in a view, in mm of the model from the view's lower left corner."""
    out = Counter()
    for one in found.items:
        if isinstance(one, Line) and one.style == style:
            ends = sorted(
                (round((x - corner[0]) / times, 2) + 0.0, round((y - corner[1]) / times, 2) + 0.0)
                for x, y in (one.start, one.end)
            )
            if all(-9 <= x <= wide + 9 and -9 <= y <= high + 9 for x, y in ends):
                out[tuple(ends)] += 1
    return out


def box(wide: float, high: float) -> Counter[tuple[tuple[float, float], ...]]:
    corners = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return Counter(tuple(sorted((corners[k - 1], corners[k]))) for k in range(4))


def views(found: Sheet) -> tuple[tuple[float, float], tuple[float, float]]:
    """The lower left corners of the plate's view from the front and of the one from its left end."""
    k = float(factor(found.scale))
    (pin,) = [one for one in found.items if isinstance(one, Circle) and one.radius == 5.0 * k]
    (end,) = [one for one in found.items if isinstance(one, Circle) and one.radius == 2.5 * k]
    at = (pin.centre[0] - 50 * k, pin.centre[1] - 20 * k)
    return at, (end.centre[0] - 6 * k, end.centre[1] - 30 * k)


@pytest.mark.parametrize("projection", ["first", "third"])
def test_every_line_of_the_plate(projection: Literal["first", "third"]) -> None:
    found = sheet(PLATE, METRIC, projection)
    k = float(factor(found.scale))
    over = 2.5 / k  # of a centre line, on the paper
    front, end = views(found)
    assert lines(found, "visible", front, 100, 60, k) == box(100.0, 60.0)
    # the drill of 5 in from the left, 18 deep, in the middle of the edge
    assert lines(found, "hidden", front, 100, 60, k) == Counter([
        ((0.0, 27.5), (18.0, 27.5)), ((0.0, 32.5), (18.0, 32.5)), ((18.0, 27.5), (18.0, 32.5)),
    ])  # fmt: skip
    circles = {
        (
            round((one.centre[0] - front[0]) / k, 3),
            round((one.centre[1] - front[1]) / k, 3),
            one.radius / k,
        )
        for one in found.items
        if isinstance(one, Circle) and one.radius > 3 * k
    }
    assert circles == {(20.0, 40.0, 4.5), (80.0, 40.0, 4.5), (50.0, 20.0, 5.0)}
    # centre lines two and a half beyond what they are the middle of: crosses, and the thread's axis
    crosses = [(20.0, 40.0, 4.5 + over), (80.0, 40.0, 4.5 + over), (50.0, 20.0, 5.0 + over)]
    wanted = [((x - r, y), (x + r, y)) for x, y, r in crosses]
    wanted += [((x, y - r), (x, y + r)) for x, y, r in crosses] + [
        ((-over, 30.0), (18 + over, 30.0))
    ]
    assert lines(found, "centre", front, 100, 60, k) == Counter(wanted)
    # from the end: 12 wide, the drill's circle and three quarters of the thread's about it
    assert lines(found, "visible", end, 12, 60, k) == box(12.0, 60.0)
    assert lines(found, "hidden", end, 12, 60, k) == Counter(
        ((0.0, y), (12.0, y)) for y in (15.0, 25.0, 35.5, 44.5)
    )
    (round_it,) = [one for one in found.items if isinstance(one, Arc) and one.style == "thin"]
    assert (round_it.centre, round_it.radius) == (
        (end[0] + 6 * k, end[1] + 30 * k),
        pytest.approx(3.0 * k),
    )
    assert (round_it.end_deg - round_it.start_deg) % 360 == pytest.approx(270.0)
    assert lines(found, "centre", end, 12, 60, k) == Counter([
        ((3.5 - over, 30.0), (8.5 + over, 30.0)), ((6.0, 27.5 - over), (6.0, 32.5 + over)),
        ((-over, 20.0), (12 + over, 20.0)), ((-over, 40.0), (12 + over, 40.0)),
    ])  # fmt: skip
    # seen from the left: to the right of the front in first angle, to the left in third; in line
    assert (end[0] > front[0] + 100 * k) is (projection == "first")
    assert end[1] == pytest.approx(front[1])


@pytest.mark.parametrize("subject", [PLATE, PIN], ids=lambda one: one.name)
def test_dimension_lines_stand_apart_and_clear_of_the_view(subject: Subject) -> None:
    # common practice: 8 mm or more from the part, 7 to 8 from line to line
    found = sheet(subject)
    points = [
        point
        for one in found.items
        if isinstance(one, Line) and one.style == "visible"
        for point in (one.start, one.end)
    ]
    if subject is PLATE:
        front, end = views(found)
        k = float(factor(found.scale))
        spans = [(front[0], front[0] + 100 * k), (end[0], end[0] + 12 * k)]
    else:
        spans = [(min(x for x, _ in points), max(x for x, _ in points))]
    low, top = min(y for _, y in points), max(y for _, y in points)
    level = [one for one in found.items if isinstance(one, Dimension) and one.along_deg == 0.0]
    upright = [one for one in found.items if isinstance(one, Dimension) and one.along_deg == 90.0]
    assert level and upright
    for one in level:
        y = one.at[1]
        assert y <= low - 8.0 or y >= top + 8.0
        other = [abs(two.at[1] - y) for two in level if two is not one]
        assert all(gap < 1e-6 or gap >= 7.0 for gap in other)
    for one in upright:
        x = one.at[0]
        assert all(x <= left - 8.0 or x >= right + 8.0 for left, right in spans)
        assert (
            min(min(abs(x - left), abs(x - right)) for left, right in spans)
            <= 11.0 + 3 * 8.0 + 20.0
        )
    # feet begin where the surface that is measured to ends: on a drawn line, or a circle's edge
    for one in (*level, *upright):
        assert one.measured * float(one.scale) == pytest.approx(
            abs(
                one.feet[1][0] - one.feet[0][0] if one in level else one.feet[1][1] - one.feet[0][1]
            )
        )


def test_every_line_of_the_pin() -> None:
    found = sheet(PIN)
    k = float(factor(found.scale))
    seat = min(
        (one for one in found.items if isinstance(one, Line) and one.style == "visible"),
        key=lambda one: min(one.start[0], one.end[0]),
    )
    corner = (seat.start[0], min(seat.start[1], seat.end[1]) - k * 5.0)  # 20 thick where 30 is most
    visible = lines(found, "visible", corner, 80, 30, k)
    for wanted in (
        ((0.0, 5.0), (0.0, 25.0)),  # its end, 20 thick, to 35 along
        ((0.0, 5.0), (35.0, 5.0)),
        ((0.0, 25.0), (35.0, 25.0)),
        ((35.0, 0.0), (35.0, 5.0)),
        ((35.0, 25.0), (35.0, 30.0)),
        ((35.0, 0.0), (47.0, 0.0)),  # 30 thick to the cross hole, 6 wide at 50
        ((53.0, 30.0), (65.0, 30.0)),
        ((47.0, 0.0), (47.0, 30.0)),
        ((53.0, 0.0), (53.0, 30.0)),
        ((65.0, 9.0), (80.0, 9.0)),  # the tip, 12 thick, and the wide lines that end its thread
        ((65.0, 21.0), (80.0, 21.0)),
        ((65.0, 9.0), (65.0, 21.0)),
        ((80.0, 9.0), (80.0, 21.0)),
        ((0.0, 12.5), (15.0, 12.5)),  # drilled 5, 15 deep
        ((15.0, 12.5), (15.0, 17.5)),
    ):
        assert visible[wanted], wanted
    # threads thin: M12's root 9.853 (ISO 724), M6 to its 6 and only as deep as it is tapped
    assert lines(found, "thin", corner, 80, 30, k) == Counter([
        ((65.0, 10.07), (80.0, 10.07)), ((65.0, 19.93), (80.0, 19.93)),
        ((0.0, 12.0), (12.0, 12.0)), ((0.0, 18.0), (12.0, 18.0)),
    ])  # fmt: skip
    assert lines(found, "centre", corner, 80, 30, k) == Counter([
        ((-2.5 / k, 15.0), (80 + 2.5 / k, 15.0)), ((50.0, -2.5 / k), (50.0, 30 + 2.5 / k)),
    ])  # fmt: skip


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["mm", "in"])
@pytest.mark.parametrize("subject", [PLATE, PIN, RAIL], ids=lambda one: one.name)
def test_they_are_proven_and_every_change_is_seen(subject: Subject, numbers: Numbers) -> None:
    found = sheet(subject, numbers)
    assert faults(subject, found) == [] and list(overlaps(found)) == []
    for what, changed in mutations(found):
        assert faults(subject, changed), what


@pytest.mark.parametrize("subject", [PLATE, PIN], ids=lambda one: one.name)
def test_leaders_are_short_and_slant(subject: Subject) -> None:
    # 7 to 90 mm, at least three aside and never flatter than one in four: told from the part's lines
    for one in sheet(subject).items:
        if isinstance(one, Leader):
            (x, y), (u, v) = one.points
            assert 7.0 < hypot(u - x, v - y) < 60.0 and abs(u - x) >= 3.0
            assert abs(v - y) >= 0.25 * abs(u - x)


def test_a_part_that_is_wrong_on_paper_is_found_out() -> None:
    """A dimension drawn to another surface, or a size that is not the solid's: each is a fault."""
    from msgspec.structs import replace

    found = sheet(PLATE)
    number, one = next(
        (n, one)
        for n, one in enumerate(found.items)
        if isinstance(one, Dimension) and one.text == "20"
    )
    for change in (
        {"feature": "bolt hole 1|x|blank:x-high|bolt hole 1:axis"},
        {"feature": "bolt hole 1|x|blank:x-low|bolt hole 2:axis"},
        {"feature": "bolt hole 1|y|blank:y-low|bolt hole 1:axis"},
        {"feature": ""},
    ):
        items = [*found.items]
        items[number] = replace(one, **change)
        assert faults(PLATE, replace(found, items=tuple(items))), change
    number, lead = next(
        (n, one)
        for n, one in enumerate(found.items)
        if isinstance(one, Leader) and "M6" in one.words[0]
    )
    for words in (("M6 16 deep", "drill 5 mm, 18 deep"), ("M6 115 deep",), ("M6 1.15 deep",)):
        items = [*found.items]
        items[number] = replace(lead, words=words)
        assert faults(PLATE, replace(found, items=tuple(items))), words
