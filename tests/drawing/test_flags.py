"""Numbers of notes at what they speak of: each note of a feature is found at it, and at nothing else.

Where an arrow ends is held against the part's own data, not the faces that the layout points at. That a
note says at the place which one it is, by its number, is common practice of drawing (flag notes).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist
from typing import Any, NamedTuple

import pytest
from shapely.geometry import Point as Spot
from sheet_faults import shape

from parts import features as f
from planner.drawing import layout
from planner.drawing.apart import drawn
from planner.drawing.callouts import Call, Note, notes
from planner.drawing.choose import View
from planner.drawing.flags import Flag, flagged, placed_flags
from planner.drawing.lettering import width_mm
from planner.drawing.model import Balloon, Box, Leader, Sheet, Text, TextureSymbol
from planner.drawing.room import Room
from planner.drawing.scheme import Scheme
from planner.drawing.sheets import sheets
from planner.drawing.subjects import Subject
from planner.output.plan import Plan
from planner.solids.seen import onto

NEAR_MM = 0.1
"""On the paper: what an arrow may end outside of what it points at."""


class Flown(NamedTuple):
    """A finished sheet, its views with their places, and what had arrows of their own."""

    subject: Subject
    scheme: Scheme
    sheet: Sheet
    flags: Sequence[Flag]
    views: Any
    scale: float

    def at(self, number: str) -> Balloon:
        """The one flag of a note."""
        (found,) = (x for x in self.sheet.items if isinstance(x, Balloon) and x.number == number)
        return found


@pytest.fixture
def flown(plan: Plan) -> tuple[Flown, ...]:
    """Every sheet of an example, drawn once."""
    if plan.job.name not in _FLOWN:
        last: list[Any] = []

        def placed(flags: Any, scheme: Any, views: Any, scale: float, room: Room) -> Any:
            last[:] = [flags, views, scale]
            yield from placed_flags(flags, scheme, views, scale, room)

        paper, way = ("Letter", "third") if plan.job.inch else ("A4", "first")
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(layout, "placed_flags", placed)
            every = sheets(plan.attachment, plan.job.numbers, plan.job.name, paper, way)  # type: ignore[arg-type]
            _FLOWN[plan.job.name] = tuple(Flown(*one, *last) for one in every)
    return _FLOWN[plan.job.name]


_FLOWN: dict[str, tuple[Flown, ...]] = {}


def test_every_note_of_a_feature_has_its_number_in_a_view_once(
    flown: tuple[Flown, ...], plan: Plan
) -> None:
    found = 0
    for one in flown:
        names = {x.name for x in (*one.subject.features, *one.subject.welds)}
        said = [note.words for note in notes(one.scheme, plan.job.numbers)]
        of = [str(k) for k, words in enumerate(said, 1) if words.split(":")[0] in names]
        shown = [x.number for x in one.sheet.items if isinstance(x, Balloon)]
        assert sorted(shown) == sorted(of), one.subject.name
        found += len(of)
        # the number is the one that the sentence has on the sheet
        texts = [x.words for x in one.sheet.items if isinstance(x, Text)]
        for number, words in enumerate(said, 1):
            start = f"{number}  {words.split()[0]}"
            assert any(text.startswith(start) for text in texts), (one.subject.name, start)
    assert found > 50


def test_a_number_stands_at_the_call_out_of_its_feature(
    flown: tuple[Flown, ...], plan: Plan
) -> None:
    found = 0
    for one in flown:
        own = {number for flag in one.flags for number in flag.numbers}
        leaders = [x for x in one.sheet.items if isinstance(x, Leader)]
        before: tuple[str, Balloon] | None = None
        for number, note in enumerate(notes(one.scheme, plan.job.numbers), 1):
            if not note.of or str(number) in own:
                continue
            flag = one.at(str(number))
            assert flag.tip is None
            if before is not None and before[0] == note.of:  # in a row with the one before
                assert dist(before[1].at, flag.at) == pytest.approx(2 * flag.radius + 0.8)
                before = note.of, flag
                continue
            before = note.of, flag
            # of the leaders whose last line of words it stands beside the nearest by its words
            words = min(leaders, key=lambda x: _off(x, one.sheet, flag.at))
            assert note.of in {mark.split("|")[0] for mark in words.feature.split(";")}, note
            found += 1
    assert found > 20


def _off(leader: Leader, sheet: Sheet, at: tuple[float, float]) -> float:
    """How far a place is from the nearer end of a leader's line under its words and their texture."""
    (x, y), before = leader.points[-1], leader.points[-2]
    long = max(width_mm(words, leader.height) for words in leader.words)
    end = x + (long if x >= before[0] else -long)
    ends = [x, end]
    for item in sheet.items:
        if (
            isinstance(item, TextureSymbol)
            and item.leader
            and dist(item.leader[0], (end, y)) < 0.01
        ):
            ends.append(item.leader[1][0])
    return min(dist(at, (one, y + 2.75)) for one in ends)


def test_an_arrow_ends_on_the_feature_of_its_note(flown: tuple[Flown, ...]) -> None:
    """On a drawn line, in what the part's data say of where the feature is, in one of the views."""
    found = 0
    for one in flown:
        lines = [
            shape(stroke)
            for item in one.sheet.items
            for stroke in drawn(item).strokes
            if stroke.style in ("visible", "hidden", "phantom")
        ]
        for flag in one.flags:
            tip = one.at(flag.numbers[0]).tip
            assert tip is not None
            assert min(Spot(tip).distance(line) for line in lines) < 0.05, (one.subject.name, flag)
            inside = [
                view
                for view, (_, origin) in one.views.items()
                if _in(_box(one.subject, flag.of), view, origin, one.scale, tip)
            ]
            assert inside, (one.subject.name, flag)
            assert flag.view is None or flag.view in inside, (one.subject.name, flag)
            found += 1
    assert found > 10


def _in(box: Any, view: View, origin: Any, scale: float, tip: Any) -> bool:
    ends = [onto(view.side, end) for end in box]
    for k in (0, 1):
        low, high = sorted(origin[k] + scale * end[k] for end in ends)
        if not low - NEAR_MM <= tip[k] <= high + NEAR_MM:
            return False
    return True


def _box(subject: Subject, name: str) -> tuple[Any, Any]:
    """The corners of what a feature takes of space, by its own numbers."""
    (one,) = (x for x in (*subject.features, *subject.welds) if x.name == name)
    if isinstance(one, f.Weld):  # where the boxes of its two members meet, and the weld about them
        assert subject.joined is not None
        boxes = [
            [member.frame.place(end) for end in _extent(member)]
            for member in subject.joined.members
            if member.name in one.members
        ]
        low = [max(min(a[k], b[k]) for a, b in boxes) - one.leg_mm for k in range(3)]
        high = [min(max(a[k], b[k]) for a, b in boxes) + one.leg_mm for k in range(3)]
        return low, high
    if isinstance(one, f.Removed):
        return one.box.low, one.box.high
    if isinstance(one, f.GroundPoint):
        return one.tip, one.tip
    if isinstance(one, f.Hole):
        ends, size = (0.0, one.depth_mm), _across(one)
    else:
        assert isinstance(one, f.Turned)
        ends, size = (one.start_mm, one.end_mm), _across(one)
    along = "xyz".index(one.axis.along[1])
    places = [one.axis.at(end) for end in ends]
    low = [min(p[k] for p in places) - (size / 2) * (k != along) for k in range(3)]
    high = [max(p[k] for p in places) + (size / 2) * (k != along) for k in range(3)]
    return low, high


def _across(one: Any) -> float:
    """A diameter by its own limits, of a thread what stands first in its name, mm."""
    if hasattr(one, "diameter"):
        return float(one.diameter.nominal_mm)
    from parts.standard.threads import thread

    return float(thread(one.thread).major_mm)


def _extent(member: Any) -> tuple[Any, Any]:
    from planner.solids.build import piece

    box = piece(member).BoundingBox()
    return (box.xmin, box.ymin, box.zmin), (box.xmax, box.ymax, box.zmax)


def test_nothing_runs_through_a_flag(flown: tuple[Flown, ...]) -> None:
    for one in flown:
        every = [(item, shape(s)) for item in one.sheet.items for s in drawn(item).strokes]
        for flag in (x for x in one.sheet.items if isinstance(x, Balloon)):
            disc = Spot(flag.at).buffer(flag.radius)
            through = [item for item, line in every if item is not flag and line.intersects(disc)]
            assert not through, (one.subject.name, flag.number)
            # its figures within the circle, 2.5 mm high: the least of ISO 3098-1's usual heights
            assert flag.height == 2.5
            assert (width_mm(flag.number, 2.5) ** 2 + 2.5**2) ** 0.5 < 2 * flag.radius


def test_notes_are_as_high_as_the_other_words_where_the_room_allows(
    flown: tuple[Flown, ...], plan: Plan
) -> None:
    """ISO 3098-1: nominal heights 1.8, 2.5, 3.5, 5 ...; 3.5 is usual on A4 and A3 (common practice). A
    sheet's notes are of one height."""
    heights: list[float] = []
    for one in flown:
        first = {note.words.split()[0] for note in notes(one.scheme, plan.job.numbers)}
        found = {
            x.height
            for x in one.sheet.items
            if isinstance(x, Text) and x.words[:1].isdigit() and x.words.split()[-1:]
            and len(x.words.split()) > 1 and x.words.split()[1] in first
        }  # fmt: skip
        assert len(found) <= 1 and found <= {2.5, 3.5}, one.subject.name
        heights += found
    assert heights.count(3.5) >= 13 and len(heights) == 18


# ---- by hand ----

FRONT, TOP = View("front"), View("top")


def test_which_call_out_has_a_notes_number() -> None:
    alone = Call(("bore",), FRONT, ("Ø 12",), ("bore|d",))
    alike = Call(("hole 1", "hole 2"), TOP, ("2× Ø 4",), ("h|d",))
    said = [Note("Of all."), Note("bore: a.", "bore"), Note("hole 2: b.", "hole 2"),
            Note("bore: c.", "bore"), Note("face: d.", "face")]  # fmt: skip
    calls, rest = flagged([alone, alike], said)
    assert [call.flags for call in calls] == [("2", "4"), ()]
    assert rest == [Flag("hole 2", ("3",), TOP), Flag("face", ("5",), None)]
    calls, rest = flagged([alone, alike], said, at_calls=False)
    assert [call.flags for call in calls] == [(), ()] and rest[0] == Flag("bore", ("2", "4"), FRONT)


def test_a_note_without_a_place_stays_without_a_number(flown: tuple[Flown, ...]) -> None:
    one = next(x for x in flown if x.flags)
    space = Box(10.0, 10.0, one.sheet.width - 10.0, one.sheet.height - 10.0)
    full = Room(space)
    assert list(placed_flags(one.flags, one.scheme, one.views, one.scale, full))
    full.take_box(space)
    assert list(placed_flags(one.flags, one.scheme, one.views, one.scale, full)) == []
