"""A route's records as set-ups and steps: both forms of them, blanks, and the sketch to scale."""

from __future__ import annotations

import re
from typing import Any

import pytest

from planner.book.model import Line, SetUp, Step
from planner.book.route import blocks, read_route
from planner.book.sketch import Shop, sketched
from planner.words.numbers import Numbers

SHOP = Shop(100.0, 26.0)
MM = Numbers(inch=False)

HOLD: dict[str, Any] = {
    "by": "three-jaw chuck",
    "axis": {"along": "-x", "through": [0.0, 0.0, 0.0]},
    "grips": [
        {
            "surface": "blank.round",
            "other": None,
            "from_mm": 30.0,
            "to_mm": 50.0,
            "size_mm": 25.0,
            "inside": False,
            "packing": None,
        }
    ],
    "centre": None,
    "driver": None,
    "headstock_centre": None,
    "steady": None,
    "out_mm": 40.0,
    "rests": None,
    "up": None,
    "stop": None,
}
TURN = {"shape": "turn", "axis": "-x", "from_mm": 20.0, "to_mm": -10.0, "before_mm": 25.0,
        "after_mm": 18.0}  # fmt: skip
VICE = HOLD | {
    "by": "machine vice",
    "axis": None,
    "grips": [HOLD["grips"][0] | {"from_mm": 16.0, "to_mm": -4.0, "size_mm": 32.0}],
    "rests": "blank.+z",
    "up": "-z",
    "out_mm": None,
}
DRILLED = {
    "shape": "hole",
    "axis": {"along": "+z", "through": [0.0, 0.0, -14.0]},
    "from_mm": -14.0,
    "to_mm": 6.0,
    "after_mm": 5.0,
}

NEW: dict[str, Any] = {
    "setups": [
        {
            "number": 7,
            "part": "shaft",
            "piece": "",
            "with_parts": [],
            "stage": "on the blank",
            "machine": "lathe",
            "hold": HOLD,
            "align": [
                {"what": "runs true", "surface": "x", "by": "dial indicator", "within_mm": 0.02}
            ],
            "minutes": 5.0,
            "caution": "slowest speed first",
            "holding": "three-jaw chuck, 40 mm out",
        }
    ],
    "operations": [
        {
            "number": 12,
            "setup": 7,
            "part": "shaft",
            "kind": "turn",
            "text": "turn journal 18 h8 x 30",
            "place": "from the end",
            "note": "in one setting",
            "caution": "chip hook",
            "cut": TURN,
            "tool": {"name": "turning tool", "owned": False, "instead": "borrow one"},
            "speed_rpm": 520.0,
            "feed_mm_per_rev": 0.1,
            "cuts": 3,
            "depth_mm": 1.2,
            "coolant": "cutting oil",
            "measure": [
                {
                    "what": "17.973 to 18 mm",
                    "low_mm": 17.973,
                    "high_mm": 18.0,
                    "with": {"name": "micrometer"},
                    "how": "cool",
                    "blank": True,
                },
                {
                    "what": "no chatter",
                    "low_mm": None,
                    "high_mm": None,
                    "with": {"name": "eye"},
                    "how": "",
                    "blank": True,
                },
            ],
        }
    ],
    "tables": {"route": []},
}

OLD = {
    "tables": {
        "route": [
            {
                "number": 12,
                "setup": 7,
                "part": "shaft",
                "piece": "shaft",
                "stage": "on the blank",
                "kind": "turn",
                "machine": "lathe",
                "holding": "three-jaw chuck, 40 mm out",
                "text": "turn journal 18 h8 x 30",
                "place": "from the end",
                "tool": "turning tool",
                "speed_rpm": 520.0,
                "measure": "17.973 to 18 mm",
                "gauge": "micrometer",
                "note": "in one setting",
                "caution": "chip hook",
            }
        ]
    }
}


def test_the_records_of_set_ups_are_read_with_their_blanks_and_cautions() -> None:
    head, step = blocks(read_route(NEW, MM), SHOP)
    assert isinstance(head, SetUp) and isinstance(step, Step)
    assert head.title == "Set-up 7: lathe" and head.sketch is not None
    assert head.lines[2:] == (
        Line("Set runs true, by dial indicator, within 0.02 mm", "reading"),
        Line("slowest speed first", "caution"),
    )
    assert (step.number, step.words) == ("12", "turn journal 18 h8 x 30")
    assert step.lines == (
        Line(
            "turning tool; 520 rev/min; feed 0.1 mm; 3 cuts of 1.2 mm; cutting oil; not in the shop:"
            " borrow one"
        ),
        Line("Place: from the end"),
        Line("Measure 17.973 to 18 mm, micrometer (cool)", "reading"),
        Line("Measure no chatter, eye"),
        Line("in one setting"),
        Line("chip hook", "caution"),
    )


def test_the_one_table_of_before_is_read_as_the_same_set_up_without_a_sketch() -> None:
    (new,), (old,) = read_route(NEW, MM), read_route(OLD, MM)
    assert (old.number, old.part, old.piece, old.machine) == (7, "shaft", "", "lathe")
    assert (old.hold, old.cuts, old.holding) == (None, (), new.holding)
    one, other = new.doings[0], old.doings[0]
    assert (one.number, one.words, one.place, one.speed_rpm) == (
        other.number,
        other.words,
        other.place,
        other.speed_rpm,
    )
    head, step = blocks((old,), SHOP)
    assert isinstance(head, SetUp) and head.sketch is None
    assert (
        isinstance(step, Step)
        and Line("Measure 17.973 to 18 mm, micrometer", "reading") in step.lines
    )


def rings(svg: str) -> list[list[tuple[float, float]]]:
    """Every line of a sketch as its points, mm."""
    found = []
    for way in re.findall(r' d="([^"]+)"', svg):
        numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", way)]
        found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


def test_a_chucked_piece_is_drawn_in_proportion() -> None:
    """Chuck Ø100, work Ø25, 20 gripped and 40 out, turned to 18 from the end: by the drawn points."""
    picture = sketched(HOLD, [TURN], SHOP, "x")
    assert picture is not None and picture.width <= 56 and picture.height <= 36
    ways = rings(picture.svg)
    body = max(ways, key=lambda way: max(y for _, y in way) - min(y for _, y in way))
    chuck = max(y for _, y in body) - min(y for _, y in body)
    by = chuck / 100.0
    level = [way for way in ways if len(way) == 2 and abs(way[0][1] - way[1][1]) < 1e-6]
    long = [abs(way[0][0] - way[1][0]) / by for way in level]
    assert sum(one == pytest.approx(60.0, abs=0.1) for one in long) == 2  # the work's two sides
    assert sum(one == pytest.approx(30.0, abs=0.1) for one in long) == 2  # what is turned
    sides = sorted(way[0][1] for way, one in zip(level, long, strict=True) if 29.9 < one < 30.1)
    assert (sides[-1] - sides[0]) / by == pytest.approx(18.0, abs=0.1)


@pytest.mark.parametrize("missing", ["axis", "grips", "out_mm"])
def test_a_record_that_says_too_little_has_no_sketch(missing: str) -> None:
    assert sketched(HOLD, [TURN], SHOP, "x") is not None
    assert sketched(HOLD | {missing: None}, [TURN], SHOP, "x") is None


def test_work_in_the_vice_stands_as_high_as_it_is_drilled_from() -> None:
    """Upside down: it rests at z = 16 and is drilled from z = -14, 30 high, 20 of it gripped."""
    picture = sketched(VICE, [DRILLED], SHOP, "x")
    assert picture is not None
    ways = [way for way in rings(picture.svg) if len(way) == 4]
    boxes = [
        (max(x for x, _ in w) - min(x for x, _ in w), max(y for _, y in w) - min(y for _, y in w))
        for w in ways
    ]
    assert any(wide / high == pytest.approx(32 / 30, rel=1e-3) for wide, high in boxes)
    assert sketched(VICE, [], SHOP, "x") is None  # how high it stands is not said
    assert sketched(VICE | {"up": None}, [DRILLED], SHOP, "x") is None
