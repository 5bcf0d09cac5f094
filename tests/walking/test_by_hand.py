"""Single questions of the walk, each worked out by hand: sizes just inside a limit, and just outside.

Metres of lathe work in millimetres. A limit that is a ratio is held twice, as the table of holding says
it (common practice, parts/standard/holding_limits.csv) and typed here once more.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from walk_records import bar

from parts import features as f
from parts.blank import Stock
from parts.frame import Axis, Box, Frame
from parts.part import Member, Part
from parts.standard.sections import Section
from planner.walking.centres import between, centre_stands, in_steady, on_centre
from planner.walking.cuts import Cut
from planner.walking.doing import Doing
from planner.walking.faults import Faults
from planner.walking.fineness import process_of
from planner.walking.finished import Takes, kept_of_member, stock_region, takes
from planner.walking.held import Held
from planner.walking.lathe import _behind, _unmarked
from planner.walking.overhang import overhang
from planner.walking.records import Missing, box, direction, line, number, pair, rows, table, text
from planner.walking.said import sizes_said
from planner.walking.shape import FAR_MM, Block, Line, OffBall, Ring
from planner.walking.shop import Shop
from planner.walking.state import Mark, Piece, sawn
from planner.words.numbers import METRIC

X = Line(0, 1, (0.0, 0.0, 0.0))
ALONG: Any = Axis((0.0, 0.0, 0.0), "+x")
BACK: Any = Axis((50.0, 0.0, 0.0), "-x")
TENTH = f.Limits(20.0, 0.1, -0.1, "")
SIX = f.Limits(6.0, 0.1, -0.1, "")


def rod(size: float = 20.0, low: float = 0.0, high: float = 200.0, *features: f.Feature) -> Piece:
    """A round bar between two ends."""
    part: Part = bar("rod", Section("round", size), 300.0, "S355", *features)
    return sawn(part, "rod", low, high)


class Told(Faults):
    """What is refused, by code; ``last`` is the whole of the last."""

    def __init__(self) -> None:
        super().__init__("job.toml", METRIC)

    @property
    def codes(self) -> list[str]:
        return [one.code for one in self.found]

    @property
    def last(self) -> tuple[str, str]:
        return self.found[-1].value, self.found[-1].limit


# ---- what a feature takes ----


def turned(kind: type[f.Feature], axis: Any = ALONG, **sizes: Any) -> f.Feature:
    return kind(**({"name": "x", "datum": "A", "axis": axis} | sizes))


def ends(one: Any) -> list[float]:
    """The figures of a region, to a thousandth."""
    if isinstance(one, Ring):
        found = [one.low, one.high, one.outer, one.inner]
    elif isinstance(one, OffBall):
        found = [one.middle[one.along], one.radius, one.low, one.high]
    else:
        found = [*one.low, *one.high]
    return [round(value, 3) + 0.0 for value in found]


LOC = (f.Location("A", "+z", f.Limits(5.0, 0.05, -0.15, ""), "z-low"),)
BOX = Box((0.0, -8.0, 5.0), (30.0, 8.0, 9.0))
BY_HAND = [
    # a shoulder is where it is within 0.05; two thousandths over and under the limits of its size
    (turned(f.TurnedDiameter, start_mm=10.0, end_mm=30.0, diameter=TENTH),
     [10.05, 29.95, FAR_MM, 10.052], [9.95, 30.05, FAR_MM, 9.948]),
    (turned(f.TurnedDiameter, BACK, start_mm=10.0, end_mm=30.0, diameter=TENTH),
     [20.05, 39.95, FAR_MM, 10.052], [19.95, 40.05, FAR_MM, 9.948]),
    (turned(f.FacedShoulder, start_mm=30.0, end_mm=10.0, diameter=TENTH),
     [10.05, 29.95, FAR_MM, 10.052], [9.95, 30.05, FAR_MM, 9.948]),
    # M8x1: its crest, and half a pitch under it
    (turned(f.Thread, start_mm=0.0, end_mm=12.0, thread="M8x1"),
     [0.05, 11.95, FAR_MM, 4.002], [-0.05, 12.05, FAR_MM, 3.748]),
    # a ball of 20 that ends at 28 has its middle at 18; its back may run on
    (turned(f.TurnedBall, start_mm=10.0, end_mm=28.0, diameter=TENTH),
     [18.0, 10.1, 10.05, 27.95], [18.0, 9.9, 9.7, 48.0]),
    (turned(f.TurnedBall, BACK, start_mm=10.0, end_mm=28.0, diameter=TENTH),
     [32.0, 10.1, 22.05, 39.95], [32.0, 9.9, 21.7, 60.0]),
    # a blind drill's point is 0.35 of 6.1 deeper; through, a millimetre past; from a millimetre before
    (turned(f.DrilledHole, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 12.135, 3.052, 0.0]),
    (turned(f.ReamedHole, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 12.135, 3.052, 0.0]),
    (turned(f.ReamedHole, BACK, depth_mm=10.0, diameter=SIX),
     [40.05, 49.95, 2.948, 0.0], [39.0, 51.0, 3.052, 0.0]),
    (turned(f.Bore, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 10.05, 3.052, 0.0]),
    (turned(f.Counterbore, depth_mm=10.0, diameter=SIX, through=False, opens_into="y"),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 16.1, 3.052, 0.0]),
    # M6: minor diameter 4.9175 (ISO 724), six pitches and its point deeper
    (turned(f.TappedHole, depth_mm=10.0, thread="M6", through=False),
     [0.05, 9.95, 2.457, 0.0], [-1.0, 18.1, 3.002, 0.0]),
    (turned(f.TappedHole, depth_mm=10.0, thread="M6"),
     [0.05, 9.95, 2.457, 0.0], [-1.0, 11.0, 3.002, 0.0]),
    # boxes: 0.022 each way, where it is located the larger of its limits, a notch half a millimetre
    (f.MilledFlat(name="x", datum="A", box=BOX, locations=LOC),
     [0.022, -7.978, 5.152, 29.978, 7.978, 8.848], [-0.022, -8.022, 4.848, 30.022, 8.022, 9.152]),
    (f.MilledSlot(name="x", datum="A", box=BOX, width=f.Limits(4.0, 0.3, -0.1, "")),
     [0.022, -7.978, 5.152, 29.978, 7.978, 8.848], [-0.022, -8.022, 4.848, 30.022, 8.022, 9.152]),
    (f.Slit(name="x", datum="A", box=BOX, width=f.Limits(4.0, 0.1, -0.4, "")),
     [0.022, -7.978, 5.202, 29.978, 7.978, 8.798], [-0.022, -8.022, 4.798, 30.022, 8.022, 9.202]),
    (f.SawnNotch(name="x", datum="A", box=BOX),
     [0.502, -7.498, 5.502, 29.498, 7.498, 8.498], [-0.502, -8.502, 4.498, 30.502, 8.502, 9.502]),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "least", "most"), BY_HAND)
def test_what_a_feature_takes_at_least_and_at_most(
    feature: f.Feature, least: list[float], most: list[float]
) -> None:
    found: Takes = takes(feature)
    assert [ends(one) for one in found.least] == [least]
    assert [ends(one) for one in found.most] == [most]


def test_stock_as_regions() -> None:
    for section, wanted in (
        (Section("round", 20.0), [-1.0, 9.0, 10.0, 0.0]),
        (Section("tube", 35.0, 8.0), [-1.0, 9.0, 17.5, 9.5]),
        (Section("square", 16.0), [-1.0, -8.0, -8.0, 9.0, 8.0, 8.0]),
        (Section("flat", 25.0, 8.0), [-1.0, -12.5, -4.0, 9.0, 12.5, 4.0]),
    ):
        assert ends(stock_region(Stock(section, 40.0, "S355"), -1.0, 9.0)) == wanted


def test_what_must_stay_of_a_bar_is_its_length_less_its_limits() -> None:
    stock = Stock(Section("round", 20.0), 40.0, "S355")
    for lower, play in ((-0.3, 0.3), (-0.01, 0.05), (None, 0.5)):
        length = f.FacedLength(name="l", datum="B", length=f.Limits(40.0, 0.3, lower or 0.0, ""))
        member = Member("m", stock, Frame(), (length,) if lower else ())
        (body,) = kept_of_member(member).bodies
        assert ends(body.stock) == [play, 40 - play, 10.0, 0.0]


# ---- regions ----


def test_a_ring_a_block_and_a_ball_have_what_lies_within() -> None:
    ring = Ring(0, (0.0, 1.0, 2.0), 0.0, 10.0, 5.0, 2.0)
    ball = OffBall(0, (5.0, 1.0, 2.0), 4.0, 0.0, 10.0)
    block = Block((0.0, -1.0, -2.0), (10.0, 3.0, 4.0))
    for one, inside, outside in (
        (ring, [(5, 3.01, 2), (0.01, 1, -2.9), (9.99, 5.9, 2)],
         [(5, 2.99, 2), (-0.01, 1, -2.9), (10.01, 5.9, 2), (5, 6.01, 2)]),
        (ball, [(9.01, 1, 2), (5, 5.01, 2), (0.01, 1, 2)], [(8.99, 1, 2), (5, 4.99, 2), (-0.01, 9, 9)]),
        (block, [(0.01, -0.99, 3.99), (9.99, 2.99, -1.99)],
         [(-0.01, 0, 0), (10.01, 0, 0), (5, -1.01, 0), (5, 3.01, 0), (5, 0, -2.01), (5, 0, 4.01)]),
    ):  # fmt: skip
        assert one.has(np.array(inside, dtype=float)).all()  # type: ignore[attr-defined]
        assert not one.has(np.array(outside, dtype=float)).any()  # type: ignore[attr-defined]
    assert ring.edges(0) == (0, 10) and sorted(ring.edges(1)) == [-4, -1, 3, 6]
    assert ball.edges(0) == (0, 10) and ball.edges(1) == () and block.edges(2) == (-2, 4)
    for low, high, clear in (
        ([10.0, 0, 0], [11.0, 1, 1], True), ([9.9, 0, 0], [11.0, 1, 1], False),
        ([-1.0, 0, 0], [0.0, 1, 1], True), ([-1.0, 0, 0], [0.1, 1, 1], False),
        ([1.0, 6.1, 0], [2.0, 7, 1], True), ([1.0, 5.9, 0], [2.0, 7, 1], False),
        ([1.0, -9, 0], [2.0, -4.1, 1], True), ([1.0, -9, 0], [2.0, -3.9, 1], False),
        ([1.0, 0, 7.1], [2.0, 1, 9], True), ([1.0, 0, -9], [2.0, 1, -3.1], True),
    ):  # fmt: skip
        assert ring.clear_of(low, high) is clear, (low, high)
    assert ball.clear_of([10.0, 0, 0], [11.0, 1, 1]) and not ball.clear_of(
        [9.9, 0, 0], [11.0, 1, 1]
    )
    assert ball.clear_of([-2.0, 0, 0], [0.0, 1, 1]) and not ball.clear_of([-2.0, 0, 0], [0.1, 1, 1])
    assert block.clear_of([0.0, 3, 0], [1.0, 4, 1]) and not block.clear_of(
        [0.0, 2.9, 0], [1.0, 4, 1]
    )
    assert Ring(0, (0, 0, 0), 0.0, 1.0, 5.0).inner == 0.0


# ---- on the lathe ----


def held(front: float, by: str = "three-jaw chuck", grip: float = 30.0, sign: int = 1) -> Held:
    """Jaws on round 20 that end so far out; sign: which way the work's own line runs."""
    found = Held(Line(0, sign, (0.0, 0.0, 0.0)), by)
    found.grips.append((front - grip, front, 20.0, False))
    return found


SHOP = Shop(
    {}, (2.0, 95.0), (25.0, 90.0), (5.0, 95.0), (), 20.0, 80.0, 40.0, True, 100.0, (), (), ()
)
WIDE = SHOP.__class__(**{**vars(SHOP), "through_mm": 40.0})


@pytest.mark.parametrize("sign", [1, -1])
def test_what_goes_back_through_the_jaws(sign: int) -> None:
    """Ø20 gripped 130 from its end: as far back as the chuck is deep, or as thin as its bore."""
    for size, through, depth, blocked in (
        (20.0, 19.9, 129.9, True), (20.0, 20.0, 129.9, False), (20.0, 19.9, 130.0, False),
    ):  # fmt: skip
        piece = rod(size, 0.0, 200.0) if sign > 0 else rod(size, -200.0, 0.0)
        faults, shop = (
            Told(),
            SHOP.__class__(**{**vars(SHOP), "through_mm": through, "depth_mm": depth}),
        )
        # jaws from 100 to 130; two cuts make the work behind them a stretch of its own
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), *sorted((sign * 99.0, sign * 99.5)), FAR_MM, 9.0))
        _behind(piece, held(130.0, sign=sign), 100.0, 130.0, 20.0, shop, faults)
        assert faults.codes == ["route-grip-blocked"] * blocked
        if blocked:
            assert faults.last == ("130 mm back from the jaws' front", "the chuck is 129.9 mm deep")


def test_nothing_thicker_than_the_grip_lies_behind_the_jaws() -> None:
    for thick, blocked in ((20.1, False), (20.3, True)):
        piece = rod(thick, 0.0, 120.0)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 58.0, 120.0, FAR_MM, 10.0))
        faults = Told()
        _behind(piece, held(90.0), 60.0, 90.0, 20.0, WIDE, faults)
        assert faults.codes == ["route-grip-blocked"] * blocked, thick
    assert faults.last == ("20.3 mm behind the jaws", "they close on 20 mm")


@pytest.mark.parametrize(
    ("a", "b", "radius", "inside", "packing", "marked"),
    [
        (0.0, 10.4, 10.0, False, None, False), (0.0, 10.6, 10.0, False, None, True),
        (29.6, 60.0, 10.0, False, None, False), (29.4, 60.0, 10.0, False, None, True),
        (0.0, 60.0, 11.4, False, None, True), (0.0, 60.0, 11.6, False, None, False),
        (0.0, 60.0, 8.6, False, None, True), (0.0, 60.0, 8.4, False, None, False),
        (0.0, 60.0, 10.0, True, None, False), (0.0, 60.0, 10.0, False, "copper", False),
    ],
)  # fmt: skip
def test_bare_jaws_mark_what_is_finished(
    a: float, b: float, radius: float, inside: bool, packing: str | None, marked: bool
) -> None:
    """A fine journal Ø20 from 10 to 30: half a millimetre of it, or of a size within 1.5 of its own."""
    for kind in ("fine", "thread", "knurl", "engraved", "spot"):
        piece, faults = rod(), Told()
        piece.marks.append(Mark(kind, X, 10.0, 30.0, 10.0))
        _unmarked(piece, X, a, b, radius, inside, {"packing": packing}, faults)
        assert faults.codes == ["route-grip-finished"] * (marked and kind != "spot")
        _unmarked(piece, Line(0, 1, (0.0, 0.06, 0.0)), 0.0, 60.0, 10.0, False, {}, faults)
        assert len(faults.codes) == (marked and kind != "spot")


@pytest.mark.parametrize(
    ("by", "kind", "rough", "most"),
    [
        ("three-jaw chuck", "turn", True, 3.0), ("three-jaw chuck", "turn", False, 4.0),
        ("collet", "turn", True, 4.0), ("three-jaw chuck", "knurl", False, 2.0),
        *(("three-jaw chuck", kind, False, 4.0)
          for kind in ("drill", "bore", "ream", "tap", "spot", "centre", "counterbore")),
    ],
)  # fmt: skip
@pytest.mark.parametrize("sign", [1, -1])
def test_how_far_round_work_stands_out(
    by: str, kind: str, rough: bool, most: float, sign: int
) -> None:
    """Ø20: so many diameters; what stands out no more than 5 mm is no question."""
    for over, refused in ((-0.1, 0), (2.0, 1)):
        out = most * 20.0 + over
        piece = rod(20.0, 0.0, 200.0) if sign > 0 else rod(20.0, -200.0, 0.0)
        faults = Told()
        overhang(piece, held(30.0, by, sign=sign), (30.0, 30.0 + out), kind, rough, faults)
        assert faults.codes == ["route-overhang"] * refused, (over, faults.found)
        if refused:
            value, limit = faults.last
            assert value.endswith(f"{out:g} mm out, 20 mm thick: {out / 20:.1f} diameters")
            assert limit == f"at most {most:g}"
    thin = rod(1.0)
    for out, refused in ((5.0, 0), (5.1, 1)):
        faults = Told()
        overhang(thin, held(30.0, by), (30.0, 30.0 + out), kind, rough, faults)
        assert len(faults.codes) == refused


def test_parting_stands_out_one_diameter_to_its_nearer_side() -> None:
    for near, refused in ((50.9, 0), (51.1, 1)):
        faults = Told()
        overhang(rod(), held(30.0), (near, near + 30.0), "part", False, faults)
        assert len(faults.codes) == refused


@pytest.mark.parametrize(
    ("by", "steady", "follows", "kind", "most"),
    [
        ("three-jaw chuck", None, False, "turn", 10.0), ("between centres", None, False, "turn", 12.0),
        ("three-jaw chuck", 0.5, False, "turn", 12.0), ("three-jaw chuck", None, True, "turn", 20.0),
        ("three-jaw chuck", None, True, "thread", 20.0), ("three-jaw chuck", None, True, "face", 10.0),
    ],
)  # fmt: skip
def test_how_long_work_is_between_its_supports(
    by: str, steady: float | None, follows: bool, kind: str, most: float
) -> None:
    """Ø20 on a centre: from the jaws to it, or from support to support about the cut."""
    for over, refused in ((0.0, 0), (1.5, 1)):
        long = (most * 20.0 + over) * (2 if steady else 1)
        piece = rod(20.0, 0.0, 1000.0)
        one = held(30.0, by)
        if by == "between centres":
            one.grips.clear()
            piece = rod(20.0, 30.0, 1000.0)
        one.tail, one.travelling = 30.0 + long, follows
        if steady:
            one.steady = 30.0 + long / 2
        faults, end = Told(), 30.0 + long - 5.0
        overhang(piece, one, (end - 20.0, end), kind, False, faults)
        assert faults.codes == ["route-overhang"] * refused, (over, [str(f) for f in faults.found])
    # fingers follow no shorter cut than they are wide
    if follows and kind == "turn":
        for wide, codes in ((10.0, 0), (9.9, 1)):
            one, faults = held(30.0, by), Told()
            one.tail, one.travelling = 30.0 + 300.0, True
            overhang(rod(20.0, 0.0, 400.0), one, (200.0, 200.0 + wide), kind, False, faults)
            assert len(faults.codes) == codes


def test_near_the_jaws_a_centre_is_not_wanted() -> None:
    """Three diameters roughing, four finishing, though the whole is too slender for its centre."""
    for rough, most in ((True, 60.0), (False, 80.0)):
        for out, refused in ((most, 0), (most + 1.0, 1)):
            one, faults = held(30.0), Told()
            one.tail = 330.0
            overhang(rod(20.0, 0.0, 330.0), one, (30.0, 30.0 + out), "turn", rough, faults)
            assert len(faults.codes) == refused, (rough, out)


def centred(at: float, sign: int, depth: float = 5.0) -> Mark:
    return Mark("centre", Line(0, -sign, (0.0, 0.0, 0.0)), at, at, 2.5, False, sign)


def test_a_centre_stands_where_its_hole_is_and_it_can_be_come_to() -> None:
    piece = rod(20.0, 0.0, 100.0)
    assert centre_stands(piece, centred(100.0, 1)) and centre_stands(piece, centred(0.0, -1))
    assert not centre_stands(piece, centred(95.0, 1))  # buried
    assert not centre_stands(piece, centred(105.0, 1))  # faced off since
    assert not centre_stands(piece, Mark("centre", X, 100.0, 100.0, 2.5))
    # in a recess of 12: its point of 60 degrees wants 2.5 + depth x 0.577 of radius, 12 long at most
    for deep, wide, stands in (
        (5.0, 5.5, True),
        (5.0, 4.2, False),
        (20.0, 9.5, True),
        (20.0, 9.3, False),
    ):
        pocket = rod(24.0, 0.0, 100.0)
        pocket.metal.cut(Ring(0, (0.0, 0.0, 0.0), 100.0 - deep, 100.0, wide))
        assert centre_stands(pocket, centred(100.0 - deep, 1)) is stands, (deep, wide)


def test_a_centre_on_its_end_in_a_hole_of_its_size() -> None:
    for end, hole, outward, code in (
        ("+x", 5.0, 1, ""), ("end", 5.0, 1, ""), ("+x", 5.09, 1, ""), ("+x", 5.11, 1, "size"),
        ("+x", 4.91, 1, ""), ("+x", 4.89, 1, "size"), ("-x", 5.0, 1, "side"), ("start", 5.0, 1, "side"),
        ("+y", 5.0, 1, "side"), ("start", 5.0, -1, ""), ("-x", 5.0, -1, ""), ("+x", 5.0, -1, "side"),
    ):  # fmt: skip
        piece, faults, one = rod(20.0, 0.0, 100.0), Told(), held(30.0)
        piece.marks += [centred(100.0, 1), centred(0.0, -1)]
        on_centre(piece, one, {"kind": "live", "end": end, "hole_mm": hole}, outward, faults)
        assert faults.codes == ["route-no-centre"] * bool(code), (end, hole)
        if code == "size":
            assert faults.last[1] == "what was drilled is 5 mm"
        if code == "side":
            assert faults.last[1].endswith("tailstock" if outward > 0 else "headstock")
        elif outward > 0:
            assert one.tail == 100.0 and not one.headed
        else:
            assert one.tail is None and one.headed
    piece, faults = rod(20.0, 0.0, 100.0), Told()
    piece.marks.append(Mark("centre", Line(0, -1, (0.0, 0.06, 0.0)), 100.0, 100.0, 2.5, False, 1))
    on_centre(piece, held(30.0), {"kind": "live", "end": "+x", "hole_mm": 5.0}, 1, faults)
    assert faults.codes == ["route-no-centre"]


def test_a_carrier_and_a_steady_stand_on_metal_of_their_size() -> None:
    both = {key: {"x": 1} for key in ("centre", "headstock_centre")}
    for at, size, good in (
        (50.0, 20.0, True), (97.9, 20.0, True), (100.1, 20.0, False), (50.0, 20.3, False),
        (50.0, 19.7, False),
    ):  # fmt: skip
        faults, one = Told(), held(30.0, sign=-1)
        between(
            rod(20.0, 0.0, 100.0), one, {**both, "driver": {"at_mm": at, "size_mm": size}}, faults
        )
        assert faults.codes == ["route-no-driver"] * (not good), (at, size)
        assert one.driver == -at
    for missing in both:
        faults = Told()
        between(rod(), held(30.0), {k: v for k, v in both.items() if k != missing}, faults)
        assert faults.codes == ["route-no-centre", "route-no-driver"]
        assert faults.found[0].value == f"no {missing.replace('_', ' ')}"
    # three fingers, 6 wide: 9 in 10 of what is under them is there; no larger than the steady takes
    for low, high, at, size, most, codes in (
        (0.0, 100.0, 50.0, 20.0, 20.0, 0), (0.0, 100.0, 50.0, 20.0, 19.9, 1),
        (0.0, 100.0, 50.0, 20.3, 40.0, 1),
        (47.4, 100.0, 50.0, 20.0, 40.0, 0), (47.6, 100.0, 50.0, 20.0, 40.0, 1),
        (0.0, 52.6, 50.0, 20.0, 40.0, 0), (0.0, 52.4, 50.0, 20.0, 40.0, 1),
    ):  # fmt: skip
        faults, one = Told(), held(30.0, sign=-1)
        shop = SHOP.__class__(**{**vars(SHOP), "steady_mm": most})
        in_steady(rod(20.0, low, high), one, {"at_mm": at, "diameter_mm": size}, shop, faults)
        assert faults.codes == ["route-steady"] * codes, (low, high, size)
        assert one.steady == -50.0
    for there in (True, False):
        faults, one = Told(), held(30.0)
        shop = SHOP.__class__(**{**vars(SHOP), "travelling": there})
        in_steady(rod(), one, {"diameter_mm": 12.0, "travelling": True}, shop, faults)
        assert (faults.codes, one.travelling) == ([] if there else ["route-steady"], there)


# ---- ways of working, records, sentences ----


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
    feature = BY_HAND[-3][0] if slot else BY_HAND[-4][0]
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
