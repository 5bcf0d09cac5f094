"""A block with a bar welded to it, turned and bored as a whole; worked out by hand.

The block is 30 x 50 x 40, the bar of 20 stands on its face. The chuck is of 100 and grips 20 deep. All
rules are common practice: turned clear of the jaws by 3, on a centre no farther out than ten times the
diameter of a plain bar as limber, else on a steady 12 beside the seat.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from types import SimpleNamespace
from typing import Any, cast

import pytest
from making.shops import of

from parts import features as f
from parts.blank import Joined, Member, Stock
from parts.features import Stage
from parts.frame import Axis, Box, Frame
from parts.places import Datum
from parts.standard.fits import Limits
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.making.gauges import Gauges
from planner.making.model import Grip, Hold, Line, SetUp, Tool, Workpiece
from planner.making.mouths import Mouth, far_mouth
from planner.making.ways.later import centre_later, end_later
from planner.making.whole import Whole
from planner.making.workshop import Workshop

JobWith = Callable[..., Job]
CHUCK: dict[str, Any] = {"lathe.chuck_diameter": 100, "lathe.jaw_reach": 20}


def whole(job: Job, members: tuple[Member, ...], *features: f.Feature) -> Whole:
    datums = {"A": Datum(members[0].name, "z-low", "")}
    part = SimpleNamespace(name="p", blank=Joined(members, ()), features=features, datums=datums,
                           agreements=(), trueness=())  # fmt: skip
    shop = Workshop(job)
    seat = {"spindle_over_seat_mm": 20.0, "nut_diameter_mm": 26.0}
    sizes = SimpleNamespace(beside_nut=False, shank_inner_z_mm=50.0, **seat)
    behind = SimpleNamespace(sizes=sizes, placed=())  # the tool post far from every bar
    return Whole(Workpiece(cast(Any, part), None), cast(Any, behind), shop, Gauges(shop))


def weldment(long: float, way: str, metal: str = "S355") -> tuple[Member, ...]:
    """The block from 0 to 30 along x or -x, the bar from 30 on."""
    sign = 1 if way == "+x" else -1
    block = Member("block", Stock(Section("flat", 50.0, 40.0), 30.0, "S275"),
                   Frame((0.0 if sign > 0 else -30.0, 0.0, 0.0)))  # fmt: skip
    bar = Member("bar", Stock(Section("round", 20.0), long, metal),
                 Frame((sign * 30.0, 0.0, 0.0), cast(Any, way), "+z"))  # fmt: skip
    return block, bar


def turned(way: Any, *rows: tuple[float, float, float]) -> list[f.TurnedDiameter]:
    return [
        f.TurnedDiameter(name=f"d{d:g}", datum="A", start_mm=a, end_mm=z, axis=Axis((0, 0, 0), way),
                         diameter=f.general(d), stage=Stage.WELDED)
        for a, z, d in rows
    ]  # fmt: skip


@pytest.mark.parametrize("way", ["+x", "-x"])
def test_a_weldment_is_turned_with_its_block_in_the_four_jaw_chuck(
    job_with: JobWith, way: Any
) -> None:
    sign = 1 if way == "+x" else -1
    shoulder = f.FacedShoulder(name="s", datum="A", start_mm=27.0, end_mm=30.0, stage=Stage.WELDED,
                               axis=Axis((0, 0, 0), way), diameter=f.general(40.0))  # fmt: skip
    features = [*turned(way, (80, 130, 16), (27, 80, 18)), shoulder]
    work = whole(job_with(**CHUCK), weldment(100.0, way), *features)
    (setup,) = work._turned(features)
    hold = setup.hold
    # 20 gripped from the block's back; the end 130 off, 110 out
    assert [(g.surface, g.other, g.size_mm) for g in hold.grips] == [
        ("block.-y", "block.+y", 50.0), ("block.-z", "block.+z", 40.0),
    ]  # fmt: skip
    span = (0.0, 20.0) if sign > 0 else (-20.0, 0.0)
    assert all((g.from_mm, g.to_mm) == span for g in hold.grips)
    assert (hold.out_mm, hold.by, hold.steady) == (110.0, "four-jaw chuck", None)
    assert hold.axis == Line(way, (0, 0, 0)) and hold.centre and hold.centre.end == way
    # a mouth of 0.6 of 16 at most: 3.15 mm, 6.68
    assert hold.centre.hole_mm == pytest.approx(2.12 * 3.15)
    assert setup.align[0].surface == "bar.round" and "110 mm out" in hold.words
    (face, *_) = [op for op in setup.ops if op.kind == "face"]
    assert face.cut["diameter_mm"] == pytest.approx(2 * hypot(25.0, 20.0))  # its corners
    assert face.cut["at_mm"] == sign * 27.0 and face.stock_mm == 3.0
    assert not work.shop.missing
    # the block is thinner then
    work.across.bodies = [*work.across.bodies]
    work._shouldered(shoulder)
    block = work.across.bodies[0]
    assert (block.low(0), block.high(0)) == ((0.0, 27.0) if sign > 0 else (-27.0, 0.0))
    off = f.FacedShoulder(name="s", datum="A", start_mm=20.0, end_mm=26.9,
                          axis=Axis((0, 0, 0), way), diameter=f.general(40.0))  # fmt: skip
    work._shouldered(off)
    assert work.across.bodies[0] is block


def test_jaws_end_three_before_what_is_turned(job_with: JobWith) -> None:
    for start, deep in ((23.0, 20.0), (22.0, 19.0)):
        features = turned("+x", (start, 130, 16))
        (setup,) = whole(job_with(**CHUCK), weldment(100.0, "+x"), *features)._turned(features)
        assert setup.hold.grips[0].to_mm == deep and setup.hold.out_mm == 130.0 - deep


def test_a_block_that_begins_elsewhere_is_gripped_there(job_with: JobWith) -> None:
    block, bar = weldment(100.0, "+x")
    block = Member("block", block.blank, Frame((10.0, 0.0, 0.0)))
    bar = Member("bar", bar.blank, Frame((40.0, 0.0, 0.0)))
    features = turned("+x", (32, 140, 16))
    (setup,) = whole(job_with(**CHUCK), (block, bar), *features)._turned(features)
    # from 10 to 32 less 3
    assert (setup.hold.grips[0].from_mm, setup.hold.grips[0].to_mm) == (10.0, 29.0)
    assert setup.hold.out_mm == 111.0


def test_a_chuck_that_does_not_open_so_far_is_told(job_with: JobWith) -> None:
    for four, told in (([5, 50], False), ([5, 49.9], True)):
        features = turned("+x", (30, 130, 16))
        work = whole(
            job_with(**CHUCK | {"lathe.four_jaw_outside": four, "lathe.faceplate": 0}),
            weldment(100.0, "+x"), *features,
        )  # fmt: skip
        (setup,) = work._turned(features)
        assert bool(work.shop.missing) is told
        assert bool(setup.hold.chuck_instead) is told
    assert work.shop.missing[0].what == "a four-jaw chuck that opens 50 mm"
    # off the axis: the farther side counts twice
    block, bar = weldment(100.0, "+x")
    aside = Member("block", block.blank, Frame((0.0, 3.0, 0.0)))
    for four, told in (([5, 56], False), ([5, 55.9], True)):
        few = CHUCK | {"lathe.four_jaw_outside": four, "lathe.faceplate": 0}
        work = whole(job_with(**few), (aside, bar), *features)
        work._turned(features)
        assert bool(work.shop.missing) is told


@pytest.mark.parametrize("way", ["+x", "-x"])
def test_past_ten_diameters_a_steady_is_put_under_it(job_with: JobWith, way: Any) -> None:
    sign = 1 if way == "+x" else -1
    for out, steady in (
        (159.9, False),
        (160.1, True),
    ):  # 16 thick all along, from the jaws at 20 on
        features = turned(way, (30, 20 + out, 16))
        work = whole(job_with(**CHUCK | {"lathe.steady": 20}), weldment(out - 10, way), *features)
        assert bool(work._turned(features)[0].hold.steady) is steady
    features = turned(way, (30, 180, 18), (180, 230, 16))
    work = whole(job_with(**CHUCK | {"lathe.steady": 20}), weldment(200.0, way), *features)
    one, two = work._turned(features)
    # the end first, the steady 12 before it on the bar; then on the end, 12 past where it begins
    assert one.hold.steady and two.hold.steady
    assert (one.hold.steady.at_mm, one.hold.steady.size_mm) == (sign * 168.0, 20.0)
    assert (two.hold.steady.at_mm, two.hold.steady.size_mm) == (sign * 192.0, 16.0)
    assert [op.feature.name for op in one.ops if op.feature] == ["d16"]
    assert {op.feature.name for op in two.ops if op.feature} == {"d18"}
    assert "62 mm from the end, on Ø20" in one.hold.words
    assert "38 mm from the end, on Ø16" in two.hold.words
    bare = whole(job_with(**CHUCK | {"lathe.steady": 19}), weldment(200.0, way), *features)
    assert bare._turned(features)[0].hold.steady_instead and bare.shop.missing


def test_how_limber_a_turned_bar_is() -> None:
    # beam formula: length over the fourth power of the diameter adds up
    one = turned("+x", (0, 50, 10), (50, 150, 20))
    mean = Whole._mean(cast(Any, None), one)
    assert 150 / mean**4 == pytest.approx(50 / 10**4 + 100 / 20**4)
    assert Whole._mean(cast(Any, None), one[:1]) == pytest.approx(10.0)


def test_what_is_turned_later_thins_an_end(job_with: JobWith) -> None:
    ways: tuple[Any, ...] = ("+x", "-x")
    for way in ways:
        block, bar = weldment(100.0, way)
        for rows, low, high in (
            (((80, 130, 16),), 1000.0, 16.0), (((80, 129.9, 16),), 1000.0, 1000.0),
            (((80, 130, 16), (30, 130, 18)), 1000.0, 16.0), (((10, 30, 15),), 15.0, 1000.0),
        ):  # fmt: skip
            features = turned(way, *cast(Any, rows))
            part = SimpleNamespace(name="p", blank=Joined((block, bar), ()), features=features)
            on = Workpiece(cast(Any, part), bar)
            assert (end_later(on, True), end_later(on, False)) == (low, high)
            assert centre_later(on, False) is (high < 1000.0)
        off = f.TurnedDiameter(name="d", datum="A", start_mm=80, end_mm=130, stage=Stage.WELDED,
                               axis=Axis((0, 0.1, 0), way), diameter=f.general(9))  # fmt: skip
        moved = f.TurnedDiameter(
            name="d", datum="A", start_mm=75, end_mm=125, stage=Stage.WELDED, diameter=f.general(9),
            axis=Axis((5 if way == "+x" else -5, 0, 0), way),
        )  # fmt: skip
        for one, thin in ((off, 1000.0), (moved, 9.0)):
            part = SimpleNamespace(name="p", blank=Joined((block, bar), ()), features=[one])
            assert end_later(Workpiece(cast(Any, part), bar), False) == thin


# ---- in place ----


def tube(at: float = 0.0, hole: float = 24.0, length: float = 60.0) -> Member:
    """A tube along x, 40 outside, beside the plate it is welded to."""
    section = Section("tube", 40.0, (40.0 - hole) / 2)
    return Member("tube", Stock(section, length, "S355"), Frame((at, 0.0, 40.0)))


def plate(posts: tuple[float, float] | None = None) -> tuple[Member, ...]:
    """A plate of 100 x 80 x 20 from 0 to 100 along x, under it or beside it a post."""
    own = Member(
        "plate", Stock(Section("flat", 80.0, 20.0), 100.0, "S355"), Frame((0.0, 0.0, 10.0))
    )
    if posts is None:
        return (own,)
    stock = Stock(Section("flat", 10.0, 30.0), posts[1] - posts[0], "S355")
    return own, Member("post", stock, Frame((posts[0], 0.0, 40.0)))


@pytest.mark.parametrize(
    ("post", "span", "wide"),
    [
        # a millimetre off the post, on the longer side; 60 to bore pass along a bar of 13 by 150, in
        # three quarters of 18; a plate of 100 along one of 20
        ((40.0, 70.0), (0.0, 39.0), 18.0), ((30.0, 60.0), (61.0, 100.0), 18.0),
        (None, (0.0, 100.0), 27.0),
    ],
)  # fmt: skip
def test_a_plate_is_bored_in_the_tool_post(
    job_with: JobWith, post: tuple[float, float] | None, span: tuple[float, float], wide: float
) -> None:
    where = f.Location("A", "+z", Limits(40.0, 0.02, -0.02, ""), "axis")
    one = f.Bore(name="b", datum="A", axis=Axis((0.0, 0.0, 40.0), "+x"), depth_mm=60.0,
                 diameter=f.general(30.0), stage=Stage.IN_PLACE, locations=(where,))  # fmt: skip
    work = whole(job_with(**CHUCK), (*plate(post), tube()), one)
    assert work._hole_there(one) == 24.0
    beside = f.Bore(name="b", datum="A", axis=Axis((0.0, 0.1, 40.0), "+x"), depth_mm=60.0,
                    diameter=f.general(30.0), stage=Stage.IN_PLACE, locations=(where,))  # fmt: skip
    assert work._hole_there(beside) == 0.0
    solid = whole(job_with(**CHUCK), plate(post), one)
    assert solid._hole_there(one) == 0.0
    setup = solid._bored(one, ())
    (grip,) = setup.hold.grips
    assert (grip.surface, grip.other, grip.size_mm) == ("plate.-z", "plate.+z", 20.0)
    assert (grip.from_mm, grip.to_mm) == span
    # into the solid: 13, then wide enough for the bar
    assert [op.cut["after_mm"] for op in setup.ops if op.kind == "drill"] == [13.0, wide]
    first = 0.0 if post is None else solid.across.bodies[-1].low(0)
    assert setup.ops[0].cut["from_mm"] == first
    # from the seat to the wall: 40 less 15
    over = [m for op in setup.ops for m in op.measures if m.end == "b.bore" and m.start != m.end]
    assert (over[-1].low_mm, over[-1].high_mm) == pytest.approx((24.98, 25.02))


@pytest.mark.parametrize(
    ("at", "inner", "across", "beside"),
    [
        # the plate's face 20 from the axis, half a millimetre left of that: 39, while the plate runs on
        (0.0, None, 39.0, "plate"), (30.0, None, 39.0, "plate"),
        # as far as the plate: all of the face and 1 mm over, 40 and 2
        (40.0, None, 42.0, ""),
        # a post that stands out 1.5 past a side at 18: 16 are left; at 25 it is farther than all
        (0.0, 18.0, 32.0, "tool post"), (40.0, 18.0, 32.0, "tool post"), (40.0, 25.0, 42.0, ""),
        # half millimetres downward: 16.2 less 1.5 and 0.5, twice
        (0.0, 16.2, 28.0, "tool post"), (0.0, 16.5, 29.0, "tool post"),
    ],
)  # fmt: skip
def test_a_cutter_sweeps_past_what_stands_beside_the_far_mouth(
    job_with: JobWith, at: float, inner: float | None, across: float, beside: str
) -> None:
    job = job_with(**{"tool_post.stands_out": 1.5}, **CHUCK)
    one = f.Bore(name="b", datum="A", axis=Axis((at, 0.0, 40.0), "+x"), depth_mm=60.0,
                 diameter=f.general(30.0), stage=Stage.IN_PLACE)  # fmt: skip
    bodies = whole(job, (*plate(), tube(at)), one).across.bodies
    post = {"beside_nut": inner is not None, "shank_inner_z_mm": inner}
    sizes = SimpleNamespace(**post, nut_diameter_mm=26.0)
    assert far_mouth(bodies, bodies[-1], one, cast(Any, sizes), Workshop(job)) == Mouth(
        across, beside
    )


@pytest.mark.parametrize(
    ("relief", "nut", "across"),
    [
        # 0.6 deep beside the mouth at 60: 20.6 less 0.5, twice, in half millimetres; for a nut of 40.1,
        # or 40.3, that turns free there it is ground as wide, for one of 40.8, 0.2 off, it is not; 3
        # deep all of the face and 1 mm over
        ((59.0, 75.0, 0.6), 40.0, 40.0), ((59.0, 75.0, 0.6), 40.1, 40.1),
        ((59.0, 75.0, 0.6), 40.3, 40.3), ((59.0, 75.0, 0.6), 40.8, 40.0),
        ((59.0, 75.0, 3.0), 40.0, 42.0),
        # one that begins behind the mouth, or ends beside the cutter: the plate as it was
        ((61.0, 75.0, 3.0), 40.0, 39.0), ((59.0, 64.0, 3.0), 40.0, 39.0),
    ],
)  # fmt: skip
def test_a_cutter_turns_in_the_relief_that_the_nut_turns_in(
    job_with: JobWith, relief: tuple[float, float, float], nut: float, across: float
) -> None:
    start, end, deep = relief
    box = Box((start, -41.0, 10.0 - deep), (end, 41.0, 11.0))
    plain = plate()[0]
    cut = f.MilledFlat(name="nut relief", datum="R", box=box)
    shank = Member(plain.name, plain.blank, plain.frame, (cut,))
    one = f.Bore(name="b", datum="A", axis=Axis((0.0, 0.0, 40.0), "+x"), depth_mm=60.0,
                 diameter=f.general(30.0), stage=Stage.IN_PLACE)  # fmt: skip
    job = job_with(**CHUCK)
    bodies = whole(job, (shank, tube()), one).across.bodies
    sizes = cast(Any, SimpleNamespace(beside_nut=False, nut_diameter_mm=nut))
    assert far_mouth(bodies, bodies[-1], one, sizes, Workshop(job)).across_mm == pytest.approx(
        across
    )


@pytest.mark.parametrize(
    ("start", "end", "at", "keeps"), [(58.0, 60.0, 58.0, "-x"), (0.0, 3.0, 3.0, "+x")]
)
def test_a_tubes_end_is_faced_in_place(
    job_with: JobWith, start: float, end: float, at: float, keeps: str
) -> None:
    for move in (0.0, 7.0):
        axis = Axis((move, 0.0, 40.0), "+x")
        one = f.FacedShoulder(name="s", datum="A", start_mm=start, end_mm=end, axis=axis,
                              diameter=f.general(40.0), stage=Stage.IN_PLACE)  # fmt: skip
        work = whole(job_with(**CHUCK), (*plate(), tube(move)), one)
        grip = Grip("plate.-z", 20.0, 0.0, 9.0)
        hold = Hold("tool post", "", (grip,), Line("+x", (0, 0, 40)))
        setup = SetUp(work.on, Stage.IN_PLACE, "lathe", hold)
        work._faced(setup, one, Tool("boring bar", "bar", 12.0))
        (op,) = setup.ops
        assert (op.cut["at_mm"], op.cut["keeps"], op.cut["off_mm"]) == (
            at + move,
            keeps,
            end - start,
        )
        deep = end - start  # fed along by so much, the whole face at once
        assert (op.cut["diameter_mm"], op.length_mm, op.stock_mm) == (40.0, deep, deep)
        assert op.rate == "form"


@pytest.mark.parametrize(
    ("size", "drills"),
    [
        # reamed 40 deep: the bar wants a hole of 12; a drill over 8 follows a pilot of 0.6 of it
        (12.0, [7.0, 11.75]), (8.0, [7.8]), (9.0, [5.3, 8.8]),
    ],
)  # fmt: skip
def test_a_hole_by_the_spindle_is_piloted(
    job_with: JobWith, size: float, drills: list[float]
) -> None:
    one = f.ReamedHole(name="h", datum="A", axis=Axis((50.0, 0.0, 20.0), "-z"), depth_mm=20.0,
                       diameter=f.general(size), stage=Stage.IN_PLACE, made_with="housing")  # fmt: skip
    work = whole(job_with(**CHUCK, **{"shop.reamers": [8, 9, 12]}), plate(), one)
    setup = work._mounted(one)
    found = [op.cut["after_mm"] for op in setup.ops if op.kind == "drill"]
    assert found == pytest.approx(drills, abs=0.26) and len(found) == len(drills)
    # clamped on the faces that are farthest apart
    (grip,) = setup.hold.grips
    assert (grip.surface, grip.size_mm) == ("plate.-x", 100.0)
    assert (grip.from_mm, grip.to_mm) == (0.0, 20.0)
    assert setup.with_parts == setup.after_parts == ("housing",)


@pytest.mark.parametrize(
    ("opens", "said"),
    [
        (95, "Out of balance, and a chuck has nowhere to bolt a counterweight: begin at the slowest"
         " speed, turn it round by hand first; keep clear of the corners"),
        (20, "Out of balance: bolt a counterweight opposite until it stays as it is turned, begin at"
         " the slowest speed, turn it round by hand first; keep clear of corners and bolts; the"
         " carriage run up to its last cut before: bolts and angle plate clear slide and tool"),
    ],
)  # fmt: skip
def test_a_counterweight_only_where_a_faceplate_takes_it(opens: float, said: str) -> None:
    """The block is 50 wide: a four-jaw chuck that opens 20 leaves the faceplate and its slots."""
    _, _, route = of("bench-lathe", **{"lathe.four_jaw_outside": [5, opens]})
    turned = next(s for s in route.setups if any("turn journal" in o.text for o in s.ops))
    assert turned.caution == said
