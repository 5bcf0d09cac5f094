"""Ways of working, records that say what they must, and sizes in sentences, by hand."""

from __future__ import annotations

from typing import Any

import pytest
from walk_asked import (
    BOX,
    LOC,
    Told,
    rod,
    turned,
)

from parts import features as f
from planner.walking.cuts import Cut
from planner.walking.doing import Doing
from planner.walking.fineness import process_of
from planner.walking.records import Missing, box, direction, line, number, pair, rows, table, text
from planner.walking.said import sizes_said
from planner.walking.shape import Line


@pytest.mark.parametrize(
    ("machine", "kind", "tool", "slot", "way"),
    [
        ("mill", "mill", "end mill", False, "mill"), ("mill", "mill", "end mill", True, "slot"),
        ("bench", "mill", "end mill", True, "file"), ("bench", "file", "x", False, "file"),
        ("mill", "mill", "Filed by hand", False, "file"), ("bench", "scrape", "x", False, "scrape"),
        ("mill", "mill", "scraper", False, "scrape"), ("hacksaw", "slit", "blade", True, "hacksaw"),
        ("bandsaw", "mill", "blade", True, "bandsaw"), ("bench", "slit", "blade", True, "hacksaw"),
        ("bench", "saw", "blade", True, "hacksaw"), ("torch table", "mill", "x", False, "torch"),
        ("shaper", "mill", "x", True, "shape"), ("mill", "slit", "x", True, "slitting saw"),
        ("lathe", "ball", "x", False, ""), ("lathe", "thread", "x", False, ""),
        ("lathe", "ream", "x", False, "ream"),
    ],
)  # fmt: skip
def test_the_way_of_working_that_holds_the_limits(
    machine: str, kind: str, tool: str, slot: bool, way: str
) -> None:
    width = f.Limits(4.0, 0.3, -0.1, "")
    made = f.MilledSlot(name="x", datum="A", box=BOX, width=width)
    feature = made if slot else f.MilledFlat(name="x", datum="A", box=BOX)
    do = Doing(
        rod(), {"tool": {"kind": tool, "name": ""}}, {}, kind, machine, Cut("none"), None, Told()
    )
    assert process_of(do, feature) == way
    named = Doing(
        rod(), {"tool": {"kind": "", "name": tool}}, {}, kind, machine, Cut("none"), None, Told()
    )
    assert process_of(named, feature) == way


def test_a_record_says_what_it_must_or_is_told_so() -> None:
    record = {"n": 3, "t": "x", "e": "", "b": True, "z": None, "d": {"a": 1}, "l": [{"a": 1}]}
    assert (number(record, "n"), text(record, "t"), table(record, "d")) == (3.0, "x", {"a": 1})
    assert list(rows(record, "l")) == [{"a": 1}] and list(rows(record, "z")) == []
    assert pair({"from_mm": 5, "to_mm": 2}) == pair({"from_mm": 2, "to_mm": 5}) == (2.0, 5.0)
    assert [direction(one) for one in ("+x", "-x", "+z", "-y")] == [
        (0, 1),
        (0, -1),
        (2, 1),
        (1, -1),
    ]
    assert line({"axis": "-z"}) == Line(2, -1, (0.0, 0.0, 0.0))
    assert line({"axis": {"along": "+y", "through": [1, 2, 3]}}) == Line(1, 1, (1.0, 2.0, 3.0))
    assert box({"box": [[3, -1, 5], [1, 1, 4]]}) == ([1, -1, 4], [3, 1, 5])
    for ask, key in (
        (number, "b"), (number, "t"), (number, "z"), (text, "e"), (text, "n"), (table, "t"),
        (table, "none"),
    ):  # fmt: skip
        with pytest.raises(Missing) as caught:
            ask(record, key)
        assert caught.value.key == key
    for word in ("x", "+w", "*x", "+xx", 3, None):
        with pytest.raises(Missing):
            direction(word)


def heard(sentence: str, feature: f.Feature | None = None, inch: bool = False, **data: Any) -> bool:
    """Whether a sentence's size stands in its data."""
    faults = Told()
    sizes_said({"text": sentence, **data}, feature, inch, faults)
    assert faults.codes in ([], ["route-words"])
    return not faults.codes


def test_a_size_in_a_sentence_is_one_of_its_data() -> None:
    lopsided = turned(
        f.TurnedDiameter, start_mm=3.0, end_mm=51.0, diameter=f.Limits(20.0, 0.1, -0.25, "")
    )
    for words, good in (
        ("turn Ø20", True), ("turn Ø20.1", True), ("turn Ø19.75", True), ("turn Ø19.6", False),
        ("turn Ø20.005", True), ("turn Ø20.007", False), ("turn to 48 mm", True),
        ("turn to 47 mm", False),
    ):  # fmt: skip
        assert heard(words, lopsided) is good, words
    hole = turned(f.TappedHole, depth_mm=7.0, thread="M6")  # M6: pitch 1, drill 5 (ISO 2306)
    for words, good in (
        ("drill 7 mm", True),
        ("drill 6 mm", True),
        ("drill 5 mm", True),
        ("drill 8.5 mm", False),
    ):
        assert heard(words, hole) is good, words
    flat = f.MilledFlat(name="x", datum="A", box=BOX, locations=LOC)
    assert heard("face 5 mm off", flat) and not heard("face 5.5 mm off", flat)
    # the data's own numbers, and the difference of two
    cut = {"from_mm": -12.5, "to_mm": 30.0, "box": [[1.0], [4.0]]}
    for words, good in (
        ("bore 12.5 mm", True), ("bore 42.5 mm", True), ("saw 26 mm", True), ("saw 27 mm", False),
        ("R4", True),
        ("SØ30", True), ("SØ31", False), ("nothing said: 99 mm", True),
    ):  # fmt: skip
        assert heard(words, cut=cut) is good, words
    assert heard("Ø0.4", allowance_mm=0.4) and not heard("Ø0.5", allowance_mm=0.4)
    # inches: 0.0005 in is 0.013 mm; a fraction within half a 64th, 0.198 mm
    for words, good in (
        ("turn Ø0.5", True), ("turn Ø0.5005", True), ("turn Ø0.501", False), ("turn 1/2 in", True),
        ("turn 33/64 in", False), ("drill 1-27/32 in", False),
    ):  # fmt: skip
        assert heard(words, inch=True, cut={"after_mm": 12.7}) is good, words
    assert heard("drill 1-27/32 in", inch=True, cut={"after_mm": 46.8313})
    assert heard("drill 12.7 mm", inch=True, cut={"after_mm": 12.7})
