"""A route's records as set-ups and steps: both forms of them, blanks, and the sketch to scale."""

from __future__ import annotations

import re
from typing import Any

import pytest

from planner.book.bodies import Body
from planner.book.model import Line, SetUp, Step
from planner.book.route import blocks, read_route
from planner.book.sawn import at_the_edge
from planner.book.sketch import Shop, sketched
from planner.drawing.model import Polyline
from planner.output.book.pages import Pages
from planner.output.plan import Plan
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
    "grips": [
        HOLD["grips"][0]
        | {
            "surface": "blank.-y",
            "other": "blank.+y",
            "from_mm": 16.0,
            "to_mm": -4.0,
            "size_mm": 32.0,
        }
    ],
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
            "turning tool; 520 rev/min; feed 0.1 mm/rev; 3 cuts of 1.2 mm at most; cutting oil; not in"
            " the shop: borrow one"
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


BLOCK = Body("blank", (0.0, -16.0, -14.0), (80.0, 16.0, 16.0))
"""80 long along x, 32 wide along y, 30 high along z."""


def sides(svg: str) -> list[tuple[float, float]]:
    """How wide and high every four-sided outline is."""
    return [
        (max(x for x, _ in w) - min(x for x, _ in w), max(y for _, y in w) - min(y for _, y in w))
        for w in rings(svg)
        if len(w) == 4
    ]


def spread(way: list[tuple[float, float]]) -> float:
    return max(y for _, y in way) - min(y for _, y in way)


def test_work_in_the_vice_is_drawn_to_scale_upside_down() -> None:
    """It rests at z = 16 and is drilled from z = -14, 30 high, 20 gripped, 32 between the jaws."""
    picture = sketched(VICE, [DRILLED], SHOP, "x", [BLOCK])
    assert picture is not None and picture.width <= 56 and picture.height <= 36
    found = sides(picture.svg)
    work = [one for one in found if one[0] / one[1] == pytest.approx(32 / 30, rel=1e-3)]
    assert work
    by = work[0][0] / 32
    jaws = [one for one in found if one[1] / by == pytest.approx(20.0 + 6.0, abs=0.01)]
    assert len(jaws) == 2  # over parallels of 6
    wall = max(y for way in rings(picture.svg) for _, y in way)
    assert wall > 0  # the drill stands over it, within the paper
    assert sketched(VICE, [DRILLED], SHOP, "x") is None  # what is held is not known
    assert sketched(VICE | {"up": None}, [DRILLED], SHOP, "x", [BLOCK]) is None


def test_an_end_that_is_milled_sticks_out_of_the_vice() -> None:
    """The block from its front, 80 long: its end at x = 0 worked, so the jaw begins past it."""
    end = {"shape": "flat", "normal": "-x", "at_mm": 0.0,
           "box": [[-1.0, -16.0, -14.0], [0.0, 16.0, 16.0]],
           "tool": {"kind": "end mill", "diameter_mm": 16.0}}  # fmt: skip
    picture = sketched(VICE, [end], SHOP, "x", [BLOCK])
    assert picture is not None
    level = [w for w in rings(picture.svg) if len(w) == 2 and abs(w[0][1] - w[1][1]) < 1e-6]
    long = max(abs(a[0] - b[0]) for a, b in level)  # the work's upper edge, over the jaw
    (top,) = [w for w in level if abs(w[0][0] - w[1][0]) == long]
    by = long / 80
    jaw = [
        w
        for w in rings(picture.svg)
        if len(w) == 4 and spread(w) == pytest.approx(26 * by, abs=0.01)
    ]
    out = min(x for x, _ in jaw[0]) - min(x for x, _ in top)
    assert out / by == pytest.approx(12.0, abs=0.05)
    filed = sketched(VICE, [end | {"tool": {"kind": "file"}}], SHOP, "x", [BLOCK])
    assert filed is not None and len(rings(filed.svg)) < len(rings(picture.svg))  # no cutter there


SAW = HOLD | {"by": "saw vice", "axis": None, "out_mm": None}


def test_a_bar_is_sawn_at_its_length() -> None:
    grip = HOLD["grips"][0] | {"from_mm": -1.0, "to_mm": 51.5, "size_mm": 35.0}
    cut = {"shape": "saw", "at_mm": [-1.0, 51.5]}
    picture = sketched(SAW | {"grips": [grip]}, [cut], SHOP, "x")
    assert picture is not None
    upright = [w for w in rings(picture.svg) if len(w) == 2 and abs(w[0][0] - w[1][0]) < 1e-6]
    (blade,) = upright
    bar = next(w for w in rings(picture.svg) if len(w) == 4 and w[0][0] > w[1][0])
    by = (max(y for _, y in bar) - min(y for _, y in bar)) / 35.0
    assert (blade[0][0] - min(x for x, _ in bar)) / by == pytest.approx(52.5, abs=0.05)


def test_every_operation_of_an_examples_route_has_a_sketch(plan: Plan) -> None:
    of = Pages(plan)
    seen = {
        one.number
        for one in of.route
        if one.hold and sketched(one.hold, one.cuts, of.shop, "x", of.bodies(one))
    }
    operations = of.record["operations"]
    assert len(operations) > 200
    without = {(one["number"], one["text"]) for one in operations if one["setup"] not in seen}
    assert without == set()
    held = {one.number: one.hold["by"] for one in of.route if one.hold}
    for kind in ("V-blocks", "tool post", "mandrel", "flat plate"):
        assert kind in held.values()


EDGE: dict[str, Any] = {
    "by": "clamps on the table", "up": "+x", "rests": "block.-x", "axis": None,
    "grips": [{"surface": "block.+x", "from_mm": 0.0, "to_mm": 40.0, "size_mm": 40.0}],
}  # fmt: skip
SLIT: dict[str, Any] = {
    "shape": "slot", "box": [[15.0, -17.0, -15.0], [17.0, 17.0, -7.0]], "feed": "+y", "depth": "+z",
    "open": ["-z", "-y", "+y"], "tool": {"diameter_mm": 63.0, "reach_mm": 29.0},
}  # fmt: skip


def test_a_slit_over_the_tables_edge_has_its_shaft_beside_the_table() -> None:
    block = Body("block", (0.0, -16.0, -14.0), (40.0, 16.0, 36.0))
    shaft = Body("shaft", (-100.0, -12.0, -12.0), (0.0, 12.0, 12.0))
    items = list(at_the_edge(EDGE, SLIT, block, [block, shaft]))
    table = items[0]
    assert isinstance(table, Polyline)
    # up is x, the open side (-z) to the right: the shaft from -12 to 12, the table left of it
    assert max(u for u, _ in table.points) == -13.0 and max(v for _, v in table.points) == 0.0
    saw = [one for one in items if isinstance(one, Polyline)][-2]
    # its rim at the slit's bottom, 7 to the right of the axis, two thick, 63 across
    assert min(u for u, _ in saw.points) == 7.0 and max(u for u, _ in saw.points) == 70.0
    assert {v for _, v in saw.points} == {15.0, 17.0}
    bare = list(at_the_edge(EDGE, SLIT, block, [block]))
    assert max(u for u, _ in bare[0].points) == -12.0  # type: ignore[union-attr]
