"""Sketches of set-ups against their records: each thing that is said there is drawn, at its size.

Items are in mm of the work; what they are held against is read from the route's records, the parts and
the whole's placings, not from what draws them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from jobs import ROOT

from parts.features import ScribedLine, TurnedBall
from parts.part import members
from planner.book.across import across
from planner.book.bodies import Body
from planner.book.route import Held
from planner.book.sketch import sketched
from planner.drawing.model import Circle, Item, Polyline
from planner.output.book.pages import Pages
from planner.output.plan import Plan


@pytest.fixture
def of(bench: Plan) -> Pages:
    return pages(bench)


@cache
def pages(plan: Plan) -> Pages:
    return Pages(plan)


def items(of: Pages, held: Held) -> list[Item]:
    assert held.hold is not None
    return across(held.hold, held.cuts, of.bodies(held), of.shop.chuck_mm)


def having(of: Pages, op: str, part: str = "", machine: str = "") -> list[Held]:
    """The set-ups with an operation of a kind."""
    return [
        one
        for one in of.route
        if any(cut["op"] == op for cut in one.cuts)
        and part in ("", one.part)
        and machine in ("", one.machine)
    ]


def boxes(found: list[Item], style: str) -> Iterator[tuple[float, float, float, float]]:
    """Left, low, right, top of every line of a style."""
    for one in found:
        if isinstance(one, Polyline) and one.style == style:
            xs, ys = zip(*one.points, strict=True)
            yield min(xs), min(ys), max(xs), max(ys)


def near(value: float, by: float = 0.02) -> object:
    return pytest.approx(value, abs=by)


def test_the_ball_is_turned_by_the_bit_over_its_top(of: Pages) -> None:
    (held,) = having(of, "ball", "knob")
    part = next(one for one in of.plan.attachment.parts if one.name == held.part)
    (ball,) = [one for one in part.features if isinstance(one, TurnedBall)]
    radius = ball.diameter.nominal_mm / 2
    found = items(of, held)
    (drawn,) = [one for one in found if isinstance(one, Circle) and one.style == "visible"]
    x, y = drawn.centre
    assert (drawn.radius, x, y) == (near(radius), near(ball.end_mm - radius), near(0.0))
    tips = [p for one in found if isinstance(one, Polyline) for p in one.points]
    assert any(u == near(x) and v == near(radius) for u, v in tips)
    stock = part.blank.section.width_mm  # type: ignore[union-attr]
    below = [b for b in boxes(found, "thin") if b[0] > 0.0 and b[1] < -stock / 2 - 1.0]
    assert below == []  # no tool from the front


def test_numerals_are_stamped_with_the_rim_on_a_v(of: Pages) -> None:
    (held,) = having(of, "stamp")
    assert held.hold is not None and held.hold["by"] == "hand" and "V of hardwood" in held.holding
    found = items(of, held)
    (rim,) = [one for one in found if isinstance(one, Circle)]
    assert rim.radius == near(12.0)  # of the dial's 24
    (v_block,) = [one for one in found if isinstance(one, Polyline) and len(one.points) == 10]
    assert max(y for _, y in v_block.points) < 0.0 < rim.radius
    punch = [b for b in boxes(found, "thin") if b[1] == near(rim.radius) and b[3] > 2 * rim.radius]
    assert punch


def test_a_round_lies_in_its_vees_as_thick_as_it_is_by_then(of: Pages) -> None:
    seen = 0
    for held in of.route:
        if held.hold is None or held.hold["by"] != "V-blocks":
            continue
        size = float(held.hold["grips"][0]["size_mm"])
        low, high = (float(held.hold["grips"][0][key]) for key in ("from_mm", "to_mm"))
        across_it = [
            b
            for b in boxes(items(of, held), "thin")
            if b[0] <= low + 0.1 and b[2] >= high - 0.1 and b[3] - b[1] == near(size)
        ]
        assert across_it, held.number
        seen += 1
    assert seen >= 1


def test_a_travelling_steady_is_drawn_where_it_is_said(of: Pages) -> None:
    seen = 0
    for held in of.route:
        steady = held.hold and held.hold["steady"]
        if not held.hold or not steady or not steady.get("travelling"):
            continue
        with_it, without = (
            sketched(hold, held.cuts, of.shop, "x", of.bodies(held))
            for hold in (held.hold, held.hold | {"steady": None})
        )
        assert with_it is not None and without is not None
        assert with_it.svg.count("<path") > without.svg.count("<path")
        seen += 1
    assert seen >= 1


def test_what_is_spotted_through_another_part_shows_it_in_its_place(of: Pages) -> None:
    """The index ring, of the dial's 24 and as long as it is, stands on the block's own side."""
    (held,) = [one for one in having(of, "spot") if one.with_parts == ("index-ring",)]
    ring = next(one for one in of.plan.attachment.parts if one.name == "index-ring")
    long = ring.blank.length_mm  # type: ignore[union-attr]
    found = items(of, held)
    discs = [b for b in boxes(found, "phantom") if b[2] - b[0] == near(24.0)]
    (disc,) = discs
    assert disc[3] - disc[1] == near(long)
    block = [b for b in boxes(found, "thin") if b[3] == near(disc[1])]
    assert block  # it lies on the top of something
    record = next(
        one for one in of.record["setups"] if one["number"] == held.number
    )["align"]  # fmt: skip
    (size,) = [
        one["against"]["size_mm"] for one in record if (one.get("against") or {}).get("size_mm")
    ]
    assert any(b[2] - b[0] == near(size) for b in boxes(found, "phantom"))
    (other,) = [one for one in having(of, "spot") if one.with_parts == ("rotating-body",)]
    body = next(one for one in of.plan.attachment.parts if one.name == "rotating-body")
    wide = {one.blank.section.width_mm for one in members(body)}
    assert wide and list(boxes(items(of, other), "phantom"))


def test_what_goes_back_through_the_jaws_is_said_and_drawn(of: Pages) -> None:
    seen = 0
    for held in of.route:
        said = re.search(r"([\d.]+) mm back through the jaws", held.holding)
        if not said or not held.hold:
            continue
        grip = held.hold["grips"][0]
        picture = sketched(held.hold, held.cuts, of.shop, "x", of.bodies(held))
        bare = sketched(held.hold, held.cuts, of.shop, "x")
        assert picture is not None and bare is not None
        assert picture.svg.count("<path") > bare.svg.count("<path"), held.number
        record = [
            c for c in of.record["operations"] if c["kind"] == "saw" and c["part"] == held.part
        ]
        (sawn,) = [c["cut"] for c in record if c["piece"] == held.piece]
        whole = abs(sawn["at_mm"][1] - sawn["at_mm"][0]) if "at_mm" in sawn else None
        gripped = abs(grip["to_mm"] - grip["from_mm"])
        if whole is not None and "made end" not in held.holding:
            assert gripped + held.hold["out_mm"] + float(said[1]) == near(whole, 3.0), held.number
        seen += 1
    assert seen >= 4


def test_a_scale_is_divided_in_a_head_by_a_tool_over_the_rim(of: Pages) -> None:
    (held,) = having(of, "engrave", "dial")
    assert held.machine == "mill" and "dividing head" in held.holding
    found = items(of, held)
    jaws = [one for one in found if isinstance(one, Polyline) and len(one.points) in (8, 9)]
    assert jaws == []  # no chuck
    assert any(
        (u, v) == (near(u), near(12.0)) and min(y for _, y in one.points) == near(12.0)
        for one in found
        if isinstance(one, Polyline) and len(one.points) == 5
        for u, v in one.points
    )


def test_what_is_worked_at_the_bench_is_thick(of: Pages) -> None:
    """How to use this book promises thick lines where it is worked: at every vice on the bench."""
    seen = 0
    for held in of.route:
        if held.hold is None or held.hold["by"] != "bench vice":
            continue
        kinds = {cut["op"] for cut in held.cuts}
        if kinds & {"dress", "engrave", "file"}:
            assert list(boxes(items(of, held), "visible")), held.number
            seen += 1
    assert seen >= 9


def test_a_scraped_seat_is_thick_over_its_whole_length(of: Pages) -> None:
    """As it was: thick lines round the welds alone, thin over the underside that is scraped."""
    (held,) = [
        one
        for one in having(of, "dress", machine="bench")
        if any((cut.get("tool") or {}).get("kind") == "scraper" for cut in one.cuts)
    ]
    part = next(one for one in of.plan.attachment.parts if one.name == held.part)
    seat = part.datums["B"]
    (shank,) = [one for one in of.bodies(held) if one.name == seat.of]
    long = shank.high[0] - shank.low[0]
    drawn = [box for box in boxes(items(of, held), "visible") if near(box[2] - box[0]) == long]
    assert seat.element == "y-low" and held.hold is not None and held.hold["up"] == "-y"
    # its underside up, a line as long as the shank and as high as that
    assert any(box[1] == near(-shank.low[1]) and box[3] == near(-shank.low[1]) for box in drawn)


def test_a_notch_is_seen_from_where_its_corner_shows(of: Pages) -> None:
    (held,) = [one for one in having(of, "file", "sliding-head") if one.piece == "arm"]
    (notch,) = [cut for cut in held.cuts if cut.get("feature") == "arm notch"]
    (a, b, _), (d, e, _) = notch["box"]
    sizes = [(r - left, top - low) for left, low, r, top in boxes(items(of, held), "visible")]
    assert (near(d - a), near(e - b)) in sizes


def test_a_scribed_line_is_drawn_where_the_part_has_it(of: Pages) -> None:
    lines = 0
    for held in having(of, "engrave", machine="bench"):
        part = next(one for one in of.plan.attachment.parts if one.name == held.part)
        drawn = [(b[0], b[2]) for b in boxes(items(of, held), "visible")]
        for one in part.features:
            if isinstance(one, ScribedLine) and one.name in {c.get("feature") for c in held.cuts}:
                assert (near(one.box.low[0]), near(one.box.high[0])) in drawn, one.name
                lines += 1
    assert lines >= 3


def test_no_sketch_is_lower_than_it_can_be_read(of: Pages) -> None:
    """As high as a thumb is wide; one that is wide for that stands under the words."""
    for held in of.route:
        if held.hold is None:
            continue
        picture = sketched(held.hold, held.cuts, of.shop, "x", of.bodies(held))
        if picture is not None:
            assert picture.height >= 18.0, (held.number, picture.width, picture.height)
            assert picture.width <= 122.0


def test_work_on_a_faceplate_lies_on_it_with_its_straps(tmp_path: Path) -> None:
    """A shop without a four-jaw chuck: plate, angle plate and straps where the records have them."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    path = tmp_path / "job.toml"
    none = '[lathe]\nfour_jaw_outside = ["0 mm", "0 mm"]\n'
    path.write_text(text.replace("[lathe]\n", none, 1), encoding="utf-8")
    of, seen = Pages(Plan(path)), 0
    for held in of.route:
        if not held.hold or held.hold["by"] != "faceplate":
            continue
        found = list(boxes(items(of, held), "thin"))
        along = held.hold["axis"]["along"]
        sign, k = (-1.0 if along[0] == "-" else 1.0), "xyz".index(along[1])
        (grip,) = held.hold["grips"]
        back, front = sorted(sign * grip[key] for key in ("from_mm", "to_mm"))
        assert [
            b for b in found if b[2] == near(back) and b[3] - b[1] > 2 * grip["size_mm"]
        ]  # plate
        assert [b for b in found if (b[0], b[2]) == (near(back), near(front))]  # the angle plate
        for strap in held.hold["plate"]["straps"]:
            u = sign * strap["at"][k]
            assert [b for b in found if (b[0] + b[2]) / 2 == near(u) and b[2] - b[0] == near(12.0)]
        seen += 1
    assert seen == 2


def test_straps_over_the_face_are_drawn_on_packing() -> None:
    """A block of 60 x 50 x 40 on packing of 10: the plate is 10 behind it, the straps over its face."""
    straps = [{"surface": "blank.+z", "at": [x, 0.0, 20.0], "bolts": [[bolt, 0.0, 20.0]]}
              for x, bolt in ((4.0, -5.0), (56.0, 65.0))]  # fmt: skip
    hold = {"by": "faceplate", "axis": {"along": "+z", "through": [30.0, 0.0, 20.0]}, "centre": None,
            "rests": "blank.-z", "grips": [{"from_mm": -20.0, "to_mm": 20.0, "size_mm": 40.0}],
            "plate": {"straps": straps, "angle_plate": None, "packing_mm": 10.0}}  # fmt: skip
    body = Body("blank", (0.0, -25.0, -20.0), (60.0, 25.0, 20.0))
    found = list(boxes(across(hold, [], [body], 100.0), "thin"))
    assert [b for b in found if b[2] == near(-30.0)]
    assert [b for b in found if b == (near(-20.0), near(0.0), near(20.0), near(60.0))]
    packed = {(b[1], b[3]) for b in found if (b[0], b[2]) == (near(-30.0), near(-20.0))}
    assert packed == {(0.0, 12.0), (48.0, 60.0)}
    noses = [b for b in found if (b[0], b[2]) == (near(20.0), near(28.0))]  # 8 thick
    assert sorted((b[1] < 8.1, b[3] > 51.9) for b in noses) == [(False, True), (True, False)]


def test_no_sketch_is_too_small_to_read(plan: Plan) -> None:
    """Over 17 mm wide and high: smaller, a wall of 6 mm in work of 100 comes under a millimetre, about
    the least that is told apart at arm's length (legibility, from memory)."""
    of, seen = pages(plan), 0
    for held in of.route:
        found = held.hold and sketched(
            held.hold, held.cuts, of.shop, "x", of.bodies(held), held.before
        )
        if found:
            assert min(found.width, found.height) > 17.0, (held.number, found.width, found.height)
            assert found.width < 122.1 and found.height < 64.1
            seen += 1
    assert seen > 60


def test_bench_jaws_are_drawn_clear_of_what_stands_before_the_gripped_faces(of: Pages) -> None:
    """The housing by its shank, seat up to be scraped, then the tube's top up to be scribed: the jaws
    end before the tube, which would stand in them (common practice)."""
    seen = set()
    for held in of.route:
        if held.part != "housing" or held.stage != "after welding" or held.machine != "bench":
            continue
        tube = next(one for one in of.bodies(held) if one.name == "tube")
        jaws = next(iter(boxes(items(of, held), "thin")))
        assert jaws[2] < tube.low[0] and jaws[2] - jaws[0] > 20.0
        assert held.hold is not None
        seen.add(held.hold["up"])
    assert seen == {"-y", "+y"}
