"""Sketches of work in a chuck: it is drawn as thick as it is by then, and with the tool that is named.

How thick a bar is by then is worked out here from the route's JSON and the stock that the part is cut
from; where each tool stands is common practice: a parting tool on the side of its kerf, a die before
the end of the work about its axis, a boring tool's point on the wall of its bore.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from math import hypot

import pytest

from parts.features import TurnedBall
from parts.part import Joined, members
from planner.book.route import Held
from planner.book.sketch import drawn
from planner.drawing.model import Item, Line, Polyline
from planner.output.book.pages import Pages
from planner.output.plan import Plan


@cache
def pages(plan: Plan) -> Pages:
    return Pages(plan)


@pytest.fixture
def of(bench: Plan) -> Pages:
    return pages(bench)


def near(value: float, by: float = 0.02) -> object:
    return pytest.approx(value, abs=by)


def chucked(of: Pages) -> Iterator[tuple[Held, list[Item], float, float]]:
    """Every set-up in a chuck with what is drawn of it, which way its axis runs, where the jaws end."""
    for held in of.route:
        if held.hold is None or "chuck" not in held.hold["by"] or not held.hold["grips"]:
            continue
        sign = 1.0 if held.hold["axis"]["along"][0] == "+" else -1.0
        front = max(sign * held.hold["grips"][0][key] for key in ("from_mm", "to_mm"))
        found = drawn(held.hold, held.cuts, of.shop, of.bodies(held), held.before)
        yield held, found, sign, front


def half_at(found: list[Item], u: float) -> float:
    """How far the work's thin outline is off its axis at a place, above as below."""
    level = [
        one.start[1]
        for one in found
        if isinstance(one, Line) and one.style == "thin" and one.start[1] == one.end[1]
        if min(one.start[0], one.end[0]) < u < max(one.start[0], one.end[0])
    ]
    assert sorted(level) == [-max(level), max(level)]
    return max(level)


def test_a_bar_is_drawn_as_thick_as_it_is_by_then(of: Pages) -> None:
    """The feed screw has its collar and journal already when the die comes to it."""
    operations = of.record["operations"]
    stepped = 0
    for held, found, sign, front in chucked(of):
        part = next(one for one in of.plan.attachment.parts if one.name == held.part)
        own = [one for one in members(part) if one.name == held.piece]
        if isinstance(part.blank, Joined) and not own:
            continue
        stock = (own[0] if own else members(part)[0]).blank
        if not stock.round:
            continue
        before = [
            one["cut"]
            for one in operations
            if (one["part"], one["piece"]) == (held.part, held.piece)
            and one["setup"] < held.number
            and one["cut"]
            and one["cut"]["shape"] == "turn"
        ]
        out = float(held.hold["out_mm"])  # type: ignore[index]
        ends = {0.0, out} | {
            sign * one[key] - front for one in before for key in ("from_mm", "to_mm")
        }
        seen = set()
        for low, high in pairwise(sorted(u for u in ends if 0.0 <= u <= out)):
            if high - low < 0.1:
                continue
            at = sign * ((low + high) / 2 + front)
            wide = [
                one["after_mm"]
                for one in before
                if min(one["from_mm"], one["to_mm"]) < at < max(one["from_mm"], one["to_mm"])
            ]
            want = min([stock.section.width_mm, *wide])
            assert half_at(found, (low + high) / 2) == near(want / 2), (held.number, low, high)
            seen.add(want)
        stepped += len(seen) > 1
    assert stepped >= 3


def test_a_weldment_is_drawn_with_its_pieces(of: Pages) -> None:
    """The rotating body in four jaws: its block is no longer than it is, the shaft runs on thinner."""
    (one,) = [x for x in chucked(of) if x[0].part == "rotating-body" and not x[0].piece]
    held, found, _, front = one
    thick = max(b.high[0] for b in of.bodies(held) if b.axis is None)
    face = -min(b.low[0] for b in of.bodies(held) if b.axis is None) - front
    assert thick > 0.0 and half_at(found, face - 1.0) == near(held.hold["grips"][0]["size_mm"] / 2)  # type: ignore[index]
    shaft = next(m for m in members(part_of(of, "rotating-body")) if m.name == "shaft")
    assert half_at(found, face + 30.0) == near(shaft.blank.section.width_mm / 2)


def part_of(of: Pages, name: str):  # type: ignore[no-untyped-def]
    return next(one for one in of.plan.attachment.parts if one.name == name)


def rings(found: list[Item]) -> list[list[tuple[float, float]]]:
    return [
        list(one.points) for one in found if isinstance(one, Polyline) and one.style != "centre"
    ]


def test_a_piece_is_parted_off_by_a_blade_on_the_side_of_its_kerf(of: Pages) -> None:
    seen = 0
    for held, found, sign, front in chucked(of):
        part = [cut for cut in held.cuts if cut["op"] == "part"]
        if not part:
            continue
        u, blade = sign * part[-1]["at_mm"] - front, part[-1]["off_mm"]
        edges = [
            (a, b)
            for ring in rings(found)
            for a, b in pairwise(ring)
            if a[1] == b[1] < 0.0 and sorted((a[0], b[0])) == [near(u - blade), near(u)]
        ]
        assert edges and u - blade >= 0.0, held.number  # its edge on the work, clear of the jaws
        seen += 1
    assert seen >= 4


def test_a_die_runs_on_over_the_end(of: Pages) -> None:
    seen = 0
    for held, found, _, _ in chucked(of):
        if not held.cuts or held.cuts[-1].get("tool", {}).get("kind") != "die":
            continue
        out, wide = held.hold["out_mm"], held.cuts[-1]["diameter_mm"]  # type: ignore[index]
        hole = [
            ring
            for ring in rings(found)
            if min(x for x, _ in ring) == near(out)
            and max(y for _, y in ring) == near(wide / 2) == near(-min(y for _, y in ring))
        ]
        assert hole, held.number
        seen += 1
    assert seen >= 1


def test_a_bore_is_bored_by_a_bar_no_drill(of: Pages) -> None:
    seen = 0
    for held, found, sign, front in chucked(of):
        shaped = [cut for cut in held.cuts if cut["shape"] in ("bore", "hole", "turn", "face")]
        if not shaped or shaped[-1]["shape"] != "bore":
            continue
        low, high = sorted(sign * shaped[-1][key] - front for key in ("from_mm", "to_mm"))
        wall = -shaped[-1]["after_mm"] / 2
        assert held.hold is not None
        every = [point for ring in rings(found) for point in ring]
        points = [(u, v) for u, v in every if low < u < high and v == near(wall)]
        tips = [(u, v) for u, v in every if u > held.hold["out_mm"] and v == 0.0]
        assert points and not tips, held.number
        seen += 1
    assert seen >= 1


def test_a_ball_is_drawn_round_where_it_is_turned_and_from_then_on(of: Pages) -> None:
    """The lever's hand ball and the round end of its boss: what is drawn of them lies on circles whose
    middles are half a diameter in from their ends (geometry)."""
    lever = part_of(of, "clamp-lever")
    circles = []
    for one in lever.features:
        if isinstance(one, TurnedBall):
            radius = one.diameter.nominal_mm / 2
            ends = sorted(one.axis.at(at)[0] for at in (one.start_mm, one.end_mm))
            circles.append((one.axis.at(one.end_mm - radius)[0], radius, ends))
    assert len(circles) == 2
    ((_, found, sign, front),) = [x for x in chucked(of) if x[0].part == "clamp-lever"]
    thick = [
        (sign * (u + front), abs(v))
        for one in found
        if isinstance(one, Polyline) and one.style == "visible"
        for u, v in one.points
    ]
    for middle, radius, (low, high) in circles:
        outline = [(x, v) for x, v in thick if low + 0.1 < x < high - 0.1 and v > 0.0]
        assert len({x for x, _ in outline}) > 10
        for x, v in outline:  # in steps of a third of a millimetre
            assert min(abs(hypot(x + off - middle, v) - radius) for off in (-0.2, 0.0, 0.2)) < 0.08
    (bench,) = [one for one in of.route if one.part == "clamp-lever" and one.machine == "bench"]
    assert bench.hold is not None
    items = drawn(bench.hold, bench.cuts, of.shop, of.bodies(bench), bench.before)
    rounds = [one.points for one in items if isinstance(one, Polyline) and len(one.points) > 20]
    assert len(rounds) == 2
    for points, (middle, radius, _) in zip(rounds, circles, strict=True):
        for x, z in points:
            assert hypot(x - middle, z) == near(radius) or z == 0.0
