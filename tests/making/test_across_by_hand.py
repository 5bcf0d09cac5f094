"""What is made across the axis and on blocks, on pieces made up here: flats, slits, bores, lines.

A block of 60 x 50 x 40 about its own axis along x. All rules are common practice.
"""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, cast

import pytest

from parts import features as f
from parts.blank import Member, Stock
from parts.features import Stage
from parts.frame import Axis, Box, Frame
from parts.places import Datum
from parts.standard.fits import Limits
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.making import cuts
from planner.making.across import Across
from planner.making.bodies import Body
from planner.making.gauges import Gauges
from planner.making.model import Hold, Op, Tool, Workpiece
from planner.making.ways import asked, beside, scribed
from planner.making.ways.milled import Milled
from planner.making.ways.notches import Notches
from planner.making.ways.slits import Slits
from planner.making.ways.slitted import _beside
from planner.making.workshop import Workshop

JobWith = Callable[..., Job]
CHUCK: dict[str, Any] = {"lathe.chuck_diameter": 100, "lathe.jaw_reach": 20}
BARE: dict[str, Any] = {"shop.machines": {}, "shop.dividing_head_ratio": None}


def across(
    job: Job, section: Section | None = None, long: float = 60.0, *features: f.Feature
) -> Across:
    section = section or Section("flat", 50.0, 40.0)
    datums = {"A": Datum("blank", "axis", ""), "B": Datum("blank", "x-low", ""),
              "C": Datum("blank", "z-low", "")}  # fmt: skip
    member = Member("p", Stock(section, long, "S355"), Frame(), features, datums)
    part = SimpleNamespace(name="p", blank=member.blank, features=features, trueness=(), datums=datums,
                           agreements=())  # fmt: skip
    shop = Workshop(job)
    return Across(Workpiece(cast(Any, part), member), cast(Any, None), shop, Gauges(shop))


def at(element: str, along: Any, size: float, datum: str = "B", band: float = 0.1) -> f.Location:
    return f.Location(datum, along, Limits(size, band, -band, ""), element)


# ---- a bore in a block ----


def bore(size: float = 30.0, deep: float = 40.0, along: Any = "-z") -> f.Bore:
    high = {"-z": 20.0, "+z": -20.0}[along]
    axis = Axis((30.0, 0.0, high), along)
    return f.Bore(name="b", datum="A", axis=axis, depth_mm=deep, diameter=f.general(size))


@pytest.mark.parametrize("along", ["-z", "+z"])
def test_a_block_is_bored_in_the_four_jaw_chuck(job_with: JobWith, along: str) -> None:
    work = across(job_with(**CHUCK))
    work._bored(bore(along=along))
    (setup,) = work.setups
    # gripped 20 deep on its four sides, 20 out
    span = (-20.0, 0.0) if along == "-z" else (0.0, 20.0)
    assert [(g.surface, g.size_mm, (g.from_mm, g.to_mm)) for g in setup.hold.grips] == [
        ("blank.-x", 60.0, span), ("blank.-y", 50.0, span),
    ]  # fmt: skip
    assert (setup.hold.by, setup.hold.out_mm) == ("four-jaw chuck", 20.0)
    assert [true.surface for true in setup.align] == [
        "blank.+z" if along == "-z" else "blank.-z"
    ] * 2
    # 40 deep: a bar of 10 wants a hole of 12.5, the shop's drills go to 13; 2 are left to bore
    sizes = [op.cut["after_mm"] for op in setup.ops if op.kind == "drill"]
    assert sizes == [13.0]
    assert [op.cut["from_mm"] for op in setup.ops] == [20.0 if along == "-z" else -20.0] * len(
        setup.ops
    )


def test_a_wide_drill_is_borrowed_so_that_a_bar_reaches_the_bottom(job_with: JobWith) -> None:
    work = across(job_with(**CHUCK))
    work._bored(bore(deep=44.0))  # a bar of 11 in a hole of 13.75
    drills = [op.cut["after_mm"] for op in work.setups[0].ops if op.kind == "drill"]
    assert drills == [13.0, pytest.approx(13.8, abs=0.21)] and drills[1] >= 13.75


@pytest.mark.parametrize(
    ("four", "by"),
    [
        # 60 between the jaws at the widest
        ([5, 60], "four-jaw chuck"), ([5, 59], "faceplate"),
    ],
)  # fmt: skip
def test_what_the_jaws_do_not_take_goes_on_the_faceplate(
    job_with: JobWith, four: list[int], by: str
) -> None:
    # bored 30 between two straps: bolts 5 beside the block of 60, and half a washer of 16: 86
    for plate, told in ((86, False), (85.8, True)):
        job = job_with(**CHUCK | {"lathe.four_jaw_outside": four, "lathe.faceplate": plate})
        work = across(job)
        work._bored(bore())
        hold = work.setups[0].hold
        assert (hold.by, hold.rests) == (by, "blank.-z" if by == "faceplate" else "")
        assert bool(work.shop.missing) is (told and by == "faceplate")


def test_a_block_off_its_middle_wants_wider_jaws(job_with: JobWith) -> None:
    for x, by in ((30.0, "four-jaw chuck"), (30.1, "faceplate"), (29.9, "faceplate")):
        work = across(job_with(**CHUCK | {"lathe.four_jaw_outside": [5, 60]}))
        axis = Axis((x, 0.0, 20.0), "-z")
        work._bored(f.Bore(name="b", datum="A", axis=axis, depth_mm=40.0, diameter=f.general(30.0)))
        assert work.setups[0].hold.by == by
    # half of its height is gripped, or what is left of half: 20 of 44.4
    for high, by in ((44.4, "four-jaw chuck"), (44.5, "faceplate")):
        work = across(job_with(**CHUCK), Section("flat", 50.0, high))
        work._bored(bore())
        assert work.setups[0].hold.by == by


# ---- a slot, a flat, what is open ----


def test_the_sides_where_a_cut_comes_out(job_with: JobWith) -> None:
    work = across(job_with())

    def sides(*box: tuple[float, float]) -> tuple[str, ...]:
        low, high = zip(*box, strict=True)
        one = f.SawnNotch(name="n", datum="A", box=Box(cast(Any, low), cast(Any, high)))
        return asked.open_sides(work, one)

    assert sides((10, 20), (-9, 9), (-5, 5)) == ()
    assert sides((0, 20), (-25, 9), (-20, 5)) == ("-x", "-y", "-z")
    assert sides((10, 60), (-9, 25), (-5, 20)) == ("+x", "+y", "+z")
    assert sides((-1, 61), (-9, 9), (-5, 21)) == ("-x", "+x", "+z")
    assert sides((0.1, 59.9), (-24.9, 24.9), (-19.9, 19.9)) == ()
    # of two bodies, the one that the cut lies in the middle of
    far = Body("far", Box((100, 100, 100), (120, 120, 120)), None, 0.0)
    work.bodies.append(far)
    assert sides((100, 110), (105, 115), (105, 115)) == ("-x",)
    assert sides((0, 20), (-9, 9), (-5, 5)) == ("-x",)


def test_which_way_a_slot_is_wide() -> None:
    for size, letter in (
        ((8.0, 40.0, 12.0), "x"),
        ((40.0, 8.1, 3.0), "y"),
        ((1.0, 40.0, 8.0), "z"),
    ):
        assert asked.wide(Box((0, 0, 0), size), f.general(8.0)) == letter


MILL: dict[str, Any] = {"shop.machines": {"mill": {}}}


@pytest.mark.parametrize(
    ("side", "up", "box"),
    [
        ("low", "+z", ((20, -4, 12), (40, 4, 21))), ("high", "-z", ((20, -4, -21), (40, 4, -12))),
    ],
)  # fmt: skip
def test_a_slot_is_milled_from_its_open_side(
    job_with: JobWith, side: str, up: str, box: tuple[Any, Any]
) -> None:
    where = at(f"z-{side}", "+z" if side == "low" else "-z", 32.0, "C")
    slot = f.MilledSlot(
        name="s", datum="A", box=Box(*box), locations=(where,), width=f.general(8.0)
    )
    work = across(job_with(**MILL))
    Milled(work).make(slot)
    (setup,), (op,) = work.setups, work.setups[0].ops
    assert setup.hold.up == up and op.tool.diameter_mm == 8.0 and op.speed == ("mill", 8.0)
    assert (op.stock_mm, op.length_mm) == (8.0, 20.0)  # a millimetre of its box is over the metal
    assert [m.start.rpartition(".")[2] for m in op.measures][0] == "y-low"
    assert op.measures[0].kind == "inside" and op.measures[1].kind == "depth"
    # the jaws end a millimetre under it
    grip = setup.hold.grips[0]
    assert (grip.to_mm, grip.from_mm) == ((11.0, -20.0) if side == "low" else (20.0, -11.0))


def test_a_slot_without_a_mill_is_filed_where_a_file_holds_its_limits(job_with: JobWith) -> None:
    for width, told in (
        (f.general(8.0), False), (Limits(8.0, 0.02, 0.01, ""), True),
        (Limits(8.0, 0.02, -0.18, ""), False),
    ):  # fmt: skip
        slot = f.MilledSlot(name="s", datum="A", box=Box((20, -4, 12), (40, 4, 21)), width=width,
                            locations=(at("z-low", "+z", 32.0, "C"),))  # fmt: skip
        work = across(job_with(**BARE))
        Milled(work).make(slot)
        assert [s.machine for s in work.setups] == ["bench"]
        assert [one.what for one in work.shop.missing] == (["a mill for the s"] if told else [])


def flat(side: str, deep: float, datum: str = "C", axis: str = "z") -> f.MilledFlat:
    low = {
        "low": ((0, -25, 20 - deep), (60, 25, 21)),
        "high": ((0, -25, -21), (60, 25, -20 + deep)),
    }
    where = at(f"z-{side}", "+z" if side == "low" else "-z", 40.0 - deep, datum)
    return f.MilledFlat(name="f", datum="A", box=Box(*cast(Any, low[side])), locations=(where,))


@pytest.mark.parametrize("side", ["low", "high"])
def test_a_flat_is_milled_from_above_and_the_block_is_lower_then(
    job_with: JobWith, side: str
) -> None:
    work = across(job_with(**MILL))
    Milled(work).make(flat(side, 3.0))
    (setup,), (op,) = work.setups, work.setups[0].ops
    assert setup.hold.up == ("+z" if side == "low" else "-z")
    assert op.cut["at_mm"] == (17.0 if side == "low" else -17.0)
    assert (op.stock_mm, op.length_mm) == (3.0, 60.0)  # what stands over it, not all of the box
    (body,) = work.bodies
    assert (body.low(2), body.high(2)) == ((-20, 17) if side == "low" else (-17, 20))
    skim = across(job_with(**MILL))
    Milled(skim).make(flat(side, 0.2))
    assert skim.setups[0].ops[0].stock_mm == 0.5
    thin = across(job_with(**MILL))
    one = flat(side, 3.0)  # a box that is shallower than what stands over it
    box = (
        Box((0, -25, 17), (60, 25, 18.5)) if side == "low" else Box((0, -25, -18.5), (60, 25, -17))
    )
    Milled(thin).make(f.MilledFlat(name="f", datum="A", box=box, locations=one.locations))
    assert thin.setups[0].ops[0].stock_mm == 1.5
    # one that is no wider than a part of it leaves the block as high as it is
    part = across(job_with(**MILL))
    box = Box((0, -24, 17), (60, 25, 21)) if side == "low" else Box((0, -24, -21), (60, 25, -17))
    Milled(part).make(f.MilledFlat(name="f", datum="A", box=box, locations=one.locations))
    assert (part.bodies[0].low(2), part.bodies[0].high(2)) == (-20, 20)


def test_what_is_left_for_the_cutter_and_the_scraper(job_with: JobWith) -> None:
    work = Milled(across(job_with()))
    for side, up, near, box in (
        ("low", "+z", 18.5, [[0, -25, 18.5], [60, 25, 21]]),
        ("high", "-z", -18.5, [[0, -25, -21], [60, 25, -18.5]]),
    ):
        one = flat(side, 3.0)
        cut = work._short_of(one, cuts.flat(up, 17.0 if side == "low" else -17.0, one.box), 1.5)
        assert (cut["at_mm"], cut["box"], cut["normal"]) == (near, box, up)
        assert work._floor(one.box, up) == (17.0 if side == "low" else -17.0)


def test_a_flat_on_a_round_is_measured_over_the_round(job_with: JobWith) -> None:
    # Ø20 of a bar of 24, on one end Ø22 shorter: the datum is the widest, and of two the longest
    turned = tuple(
        f.TurnedDiameter(
            name=f"d{a:g}", datum="A", start_mm=a, end_mm=z, diameter=Limits(d, 0.0, 0.0, "")
        )
        for a, z, d in ((0.0, 5.0, 22.0), (5.0, 30.0, 20.0), (30.0, 40.0, 22.0), (40.0, 60.0, 20.0))
    )
    where = at("z-low", "+z", 8.0, "A")
    one = f.MilledFlat(name="f", datum="A", box=Box((30, -11, 8), (40, 11, 12)), locations=(where,))
    work = across(job_with(**MILL), Section("round", 24.0), 60.0, *turned)
    own = work.bodies[0]
    milled = Milled(work)
    assert milled._round("blank", own) == (
        "p/d30.round" if own.name != "blank" else "d30.round",
        22.0,
    )
    (measure,) = milled._across(one, where, own, (2, 1, 8.0))
    # 8 and half of 22
    assert (measure.kind, measure.low_mm, measure.high_mm) == ("outside", 18.9, 19.1)
    assert measure.start == "d30.round"
    (gap,) = milled._across(one, at("z-low", "+z", 20.0, "A"), own, (2, 1, -20.0))
    assert (gap.low_mm, gap.high_mm) == (8.9, 9.1)  # under it: 20 less half of 22


# ---- slits, notches, lines ----


def slit(*box: tuple[float, float], **more: Any) -> f.Slit:
    low, high = zip(*box, strict=True)
    return f.Slit(name="slit", datum="A", box=Box(cast(Any, low), cast(Any, high)),
                  width=f.general(2.0), check=("it closes", "by hand"), **more)  # fmt: skip


def test_how_deep_a_saw_goes(job_with: JobWith) -> None:
    work = Slits(across(job_with()))
    # 2 wide along y, right through along z, 30 in from +x and its box a millimetre past it
    for box, deep, opens, long in (
        (((30, 61), (-1, 1), (-21, 21)), 30.0, "+x", 2),
        (((-1, 61), (-1, 1), (5, 21)), 15.0, "+z", 0),
        (((-1, 25), (-1, 1), (-21, 21)), 25.0, "-x", 2),
        (((-1, 1), (-26, 26), (-21, -8)), 12.0, "-z", 1),
    ):
        way = work._way(slit(*cast(Any, box)))
        assert (way.deep_mm, way.up, way.long) == (deep, opens, long)


@pytest.mark.parametrize(
    ("saws", "owned"), [([1.95], True), ([1.84], False), ([2.06], False), ([1.8, 1.9], True)]
)
def test_a_saw_that_cuts_within_the_slits_limits(
    job_with: JobWith, saws: list[float], owned: bool
) -> None:
    # 2 mm by 0.1 either way; a saw wanders 0.05
    one = slit((-1, 61), (-1, 1), (5, 21))
    work = across(job_with(**MILL, **{"shop.slitting_saws": saws}))
    deep = f.Slit(name="slit", datum="A", box=one.box, width=Limits(2.0, 0.1, -0.1, ""),
                  locations=(at("z-low", "+z", 25.0, "C"),), check=one.check)  # fmt: skip
    Slits(work).make(deep)
    (op,) = work.setups[-1].ops
    assert op.tool.owned is owned and op.kind == "slit"
    assert op.tool.width_mm == ((1.9 if len(saws) > 1 else saws[0]) if owned else 2.0)
    # 15 deep, a saw of 63 runs in and out of the 60 by root(31.5^2 - 16.5^2) = 26.8, and 2 clear
    assert (op.length_mm, op.stock_mm) == (118.0, 15.0)
    assert op.cut["feed"] == "+x" and op.cut["depth"] == "-z"
    assert op.feed_mm / cast(int, op.tool.teeth) == pytest.approx(0.01)  # 0.005 to 0.015 a tooth
    assert bool(work.shop.missing) is not owned


def test_without_a_saw_two_blades_where_its_depth_is_no_matter(job_with: JobWith) -> None:
    work = across(job_with(**MILL, **{"shop.slitting_saws": []}))
    Slits(work).make(slit((-1, 61), (-1, 1), (5, 21), held="between hardwood"))
    Slits(work).make(slit((-1, 61), (-1, 1), (5, 21)))
    assert [s.machine for s in work.setups] == ["bench", "bench"]
    # 40 high, the slit down to 5 over its middle: 25 are under it, and the blades stay 1 over the jaws
    under = "its +z side up, 24 mm gripped, the jaws' tops below the slit"
    assert [s.hold.words for s in work.setups] == [
        f"between hardwood; {under}",
        f"bench vice; {under}",
    ]
    (grip,) = work.setups[0].hold.grips
    assert (work.setups[0].hold.up, grip.surface, grip.other) == ("+z", "blank.-x", "blank.+x")
    assert (grip.from_mm, grip.to_mm) == (-20.0, 4.0)


def test_a_slit_on_the_cross_slide_lies_under_the_saw(job_with: JobWith) -> None:
    """A block of 40 high, the slit 15 deep: 25 under it; a saw of 63 wants 56.5 under the spindle. The
    first cut is on 0.2 less packing than that, and what cannot be less is not sawn so."""
    one = slit((-1, 61), (-1, 1), (5, 21))
    for over, saw, first in (
        (62.0, 63.0, "on packing of 5.3 mm at first"),
        (56.7, 63.0, "on the slide itself at first"),
        (56.6, None, ""),
    ):
        lathe = {"lathe.spindle_over_cross_slide": over, "lathe.spindle_over_seat": 15}
        work = across(job_with(**BARE | lathe, **{"shop.slitting_saws": [2]}))
        Slits(work).make(one)
        setup = work.setups[0]
        if saw is None:  # no smaller one's collar clears 15
            assert setup.machine == "bench"
            continue
        hold, (op,) = setup.hold, setup.ops
        assert (hold.by, hold.up, hold.rests) == ("cross slide", "+z", "blank.-z")
        assert hold.axis is not None and hold.axis.along[1] == "y"
        assert op.tool.diameter_mm == saw and op.cut["feed"] == "+x"
        assert f" {first}, between stops" in hold.words
        assert "the slit measured, then shims under the work for what is left" in op.text


@pytest.mark.parametrize(
    ("along", "far", "wall", "side"),
    [
        # a slit of 2 and a bore of 20: 11 less than from middle to middle. Under the bore nothing lies
        # between them: from the face that the bore is 30 from, 30 +- 4 less 1 to the nearer wall
        ("+z", 15.0, (3.9, 4.1), "low"), ("-z", 15.0, (3.9, 4.1), "high"),
        ("+z", 11.5, (0.4, 0.6), "low"), ("+z", 4.0, (32.9, 33.1), "low"),
        ("-z", 4.0, (24.9, 25.1), "low"),
    ],
)  # fmt: skip
def test_the_metal_between_a_slit_and_a_bore(
    job_with: JobWith, along: Any, far: float, wall: tuple[float, float], side: str
) -> None:
    axis = Axis((30.0, -25.0, 0.0), "+y")
    hole = f.ReamedHole(name="rod bore", datum="A", axis=axis, depth_mm=50.0,
                        diameter=Limits(20.0, 0.02, -0.02, ""),
                        locations=(at("axis", "+z", 30.0, "F"),))  # fmt: skip
    work = across(job_with(), None, 60.0, hole)
    datums = cast(Any, work.on.part.datums)
    datums["D"] = Datum("rod bore", "axis", "")
    where = f.Location("D", along, Limits(far, 0.1, -0.1, ""), "z-middle")
    datums["F"] = Datum("blank", "z-low", "the face")
    (measure,) = _beside(work, slit((-1, 61), (-26, 26), (5, 7)), where, "z")
    assert (measure.low_mm, measure.high_mm) == pytest.approx(wall)
    start = "rod bore.bore" if far > 11 else "blank.z-low"
    assert measure.end == f"slit.z-{side}" and measure.start == start
    assert _beside(work, slit((-1, 61), (-26, 26), (5, 7)), at("z-middle", along, 9.0), "z") == []


def notch(x: float, y: float, name: str = "n") -> f.SawnNotch:
    box = Box((60 - x, 25 - y, -20), (60, 25, 20))
    where = (at("x-low", "+x", 60 - x), at("y-low", "+y", 25 - y, "A"))
    return f.SawnNotch(name=name, datum="A", box=box, corner_radius_mm=3.0, locations=where)


def test_notches_are_drilled_sawn_together_and_slivers_filed(job_with: JobWith) -> None:
    # a corner of radius 3 by a drill of 6, twice as far in as that is wide; less than 3 is filed off
    many = (notch(20.0, 12.0), notch(20.0, 11.9, "m"), notch(10.0, 2.9, "o"), notch(2.9, 9.0, "q"))
    work = across(job_with(**{"shop.machines": {"drill press": {"speeds": [500]}}}))
    Notches(work).make(many)
    drilled, setup = work.setups
    assert (drilled.machine, setup.machine) == ("drill press", "bench")
    assert [(op.kind, op.tool.diameter_mm) for op in drilled.ops] == [("spot", 3.0), ("drill", 6.0)]
    ways = [op.text.rpartition(": ")[2] for op in setup.ops]
    assert [way.startswith("file down") for way in ways] == [False, False, True, True]
    assert "into the drilled corner" in ways[0] and "short of the corner" in ways[1]
    assert "6 mm across" in ways[2] and setup.ops[0].tool.name == "hacksaw and files"
    # two cuts through 40 thick by hand, 75 mm2 a minute; the millimetre that is left, or all, filed
    # off at 150 mm3 a minute, and two minutes to try it
    sawn = [32.0 * 40.0 * (1 / 75.0 + 1 / 150.0) + 2.0, 31.9 * 40.0 * (1 / 75.0 + 1 / 150.0) + 2.0]
    filed = [10.0 * 2.9 * 40.0 / 150.0 + 2.0, 2.9 * 9.0 * 40.0 / 150.0 + 2.0]
    assert [op.minutes for op in setup.ops] == pytest.approx([*sawn, *filed])
    assert len(setup.ops[0].measures) == 2
    # a bandsaw takes both large ones in one set-up, a millimetre off their lines
    work = across(job_with(**{"shop.machines": {"bandsaw": {}, "mill": {"speeds": [500]}}}))
    Notches(work).make(many)
    drilled, sawn, setup = work.setups
    assert (drilled.machine, sawn.machine, setup.machine) == ("mill", "bandsaw", "bench")
    assert [op.allowance_mm for op in sawn.ops] == [1.0, 1.0] and len(setup.ops) == 4
    assert [op.last for op in setup.ops] == [True] * 4


def test_notches_are_sawn_together_and_slivers_filed(job_with: JobWith) -> None:
    work = across(job_with())
    notches = [
        notch(20.0, 10.0),
        notch(3.0, 10.0, "m"),
        notch(10.0, 2.9, "o"),
        notch(2.9, 9.0, "q"),
    ]
    Notches(work).make(notches)
    (setup,) = work.setups  # a lathe alone: nothing drills the corners
    assert setup.machine == "bench"
    ways = [op.text.rpartition(": ")[2] for op in setup.ops]
    assert [way.startswith("file down") for way in ways] == [False, False, True, True]
    assert "short of the corner" in ways[0] and "6 mm across" in ways[2]
    # 75 mm2 a minute through 40 thick, and a millimetre of it filed, 150 mm3 a minute, and two
    sawn = [30.0 * 40.0 * (1 / 75.0 + 1 / 150.0) + 2.0, 13.0 * 40.0 * (1 / 75.0 + 1 / 150.0) + 2.0]
    filed = [10.0 * 2.9 * 40.0 / 150.0 + 2.0, 2.9 * 9.0 * 40.0 / 150.0 + 2.0]
    assert [op.minutes for op in setup.ops] == pytest.approx([*sawn, *filed])
    assert len(setup.ops[0].measures) == 2


def test_a_line_is_scribed_where_it_is_filed(job_with: JobWith) -> None:
    line = f.ScribedLine(name="line", datum="A", box=Box((10, -0.1, 20), (40, 0.1, 20.1)),
                         check=("it meets", "eye"))  # fmt: skip
    work = across(job_with())
    scribed.line(work, line)
    scribed.line(work, line)
    (setup,) = work.setups  # one after the other in the bench vice
    cut = setup.ops[0].cut
    assert (cut["from_mm"], cut["to_mm"]) == (10, 40) and len(setup.ops) == 2
    for machine, by in (("mill", "bench vice"), ("bench", "machine vice")):
        work.new(machine, Hold(by, ""))
        before = len(work.setups)
        scribed.line(work, line)
        assert len(work.setups) == before + 1


# ---- beside what stands up ----


def drilling(size: float, deep: float, kind: str = "drill") -> Op:
    return Op(kind, "", Tool(kind, f"{kind} {size:g}", size), length_mm=deep)


def test_a_drill_that_its_chuck_does_not_bring_down_is_long(job_with: JobWith) -> None:
    # DIN 338, DIN 340: drills of 6 are 93 and 139 long, some 22 in the chuck (from memory)
    from parts.standard.holding import drill_out_mm, tap_out_mm

    work = across(job_with())
    short, long = drill_out_mm(6.0), drill_out_mm(6.0, long=True)
    assert 65 <= short <= 75 and 105 <= long <= 125
    assert beside.long_drill(work, drilling(6.0, 10.0), short - 10).tool.name == "drill 6"
    assert beside.long_drill(work, drilling(6.0, 500.0), 0.0).tool.name == "drill 6"
    for tall, told in ((long - 10, 0), (long - 9.9, 1)):
        op = beside.long_drill(work, drilling(6.0, 10.0), tall)
        assert (op.tool.name, op.tool.reach_mm) == (
            ("long", "lengthened")[told] + " drill 6",
            tall + 10,
        )
        assert not op.tool.owned and len(work.shop.missing) == told
    assert (
        work.shop.missing[0].remedy
        == "Turn a drill's shank down and braze it into a bored rod no thicker than the drill"
    )
    work = across(job_with())
    out = tap_out_mm(6.0)
    assert beside.long_tap(work, drilling(6.0, 10.0, "tap"), out - 10).tool.name == "tap 6"
    assert beside.long_tap(work, drilling(6.0, 500.0, "tap"), 0.0).tool.name == "tap 6"
    assert beside.long_tap(work, drilling(6.0, 10.0, "ream"), 500.0).tool.name == "ream 6"
    assert not work.shop.missing
    op = beside.long_tap(work, drilling(6.0, 10.0, "tap"), out - 9.9)
    assert (op.tool.name, op.tool.reach_mm) == ("long tap 6", pytest.approx(out + 0.1))
    assert work.shop.missing[0].remedy == "Buy one, or braze a rod with a square to a tap's end"
    tapped = f.TappedHole(name="t", datum="A", axis=Axis(), depth_mm=10.0, thread="M6")
    assert beside.wrench_comes(tapped, out - 10) and not beside.wrench_comes(tapped, out - 9.9)
    assert beside.wrench_comes(tapped, 0.0)


# ---- a round turned on between cross holes ----


def test_how_far_a_round_is_turned_on(job_with: JobWith) -> None:
    """Seen from the far end of its axis, +y to +z is a quarter turn; the work turns the other way."""
    ways = {
        ("+y", "+z"): "a quarter turn clockwise from the first, seen from the far end",
        ("+y", "-z"): "a quarter turn counter-clockwise from the first, seen from the far end",
        ("+z", "-z"): "half a turn from the first", ("-z", "+y"): "a quarter turn clockwise"
        " from the first, seen from the far end", ("+z", "+y"): "a quarter turn counter-clockwise"
        " from the first, seen from the far end",
    }  # fmt: skip
    for (first, second), words in ways.items():
        work = across(job_with(), Section("round", 30.0))
        assert work._turned_on(first, 0, "first") == ""
        assert work._turned_on(first, 0, "again") == ""
        # a round has no sides: lines on its end tell the turn (common practice, a centre square)
        by = ": by a line scribed across its end through the middle, in line with that hole,"
        if "quarter" in words:
            by = ": by lines scribed across its end through the middle, one in line with that hole,"
            by += " one square to it,"
        assert (
            work._turned_on(second, 0, "second") == f"; turned {words}{by} set upright by a square"
        )
    work = across(job_with(), Section("round", 30.0))
    work._turned_on("+z", 1, "first")  # about y: z to x is a quarter turn
    assert "clockwise from" in work._turned_on("+x", 1, "second")
    assert "counter-clockwise" not in work._turned_on("+x", 1, "second")
    work = across(job_with(), Section("round", 30.0))
    work._turned_on("+x", 2, "first")
    assert "counter-clockwise" in work._turned_on("-y", 2, "second")
    assert work.stage is Stage.BLANK


@pytest.mark.parametrize(
    ("at_mm", "blocks"),
    [
        # 6 of hole and 2 of room: a block of 25 on each side, else all of what is left of the bar
        (60.0, [(30.0, 55.0), (65.0, 90.0)]),
        (25.0, [(0.0, 20.0), (30.0, 55.0)]),
        (24.9, [(29.9, 120.0)]),
        (112.0, [(12.0, 107.0)]),
    ],
)
def test_a_hole_comes_out_between_v_blocks_or_past_them(
    job_with: JobWith, at_mm: float, blocks: list[tuple[float, float]]
) -> None:
    work = across(job_with(**MILL), Section("round", 20.0), 120.0)
    axis = Axis((at_mm, 0.0, 10.0), "-z")
    size = Limits(6.0, 0.1, -0.1, "")
    one = f.DrilledHole(name="h", datum="A", axis=axis, depth_mm=20.0, diameter=size)
    work._holes([one])
    (setup,) = work.setups
    held = [(grip.from_mm, grip.to_mm) for grip in setup.hold.grips]
    assert setup.hold.by == "V-blocks"
    assert held == [pytest.approx(span) for span in blocks]
    said = "one on each side of the hole" if len(blocks) == 2 else "the hole hanging past their end"
    assert said in setup.hold.words and "card" in setup.hold.words


def test_a_thread_under_what_stands_beside_is_tapped_from_the_other_side(job_with: JobWith) -> None:
    work = across(job_with(**MILL))
    tower = Body("tower", Box((62, -25, -20), (72, 25, 120)), None, 0.0)
    work.bodies.append(tower)
    axis = Axis((55.0, 0.0, 20.0), "-z")
    one = f.TappedHole(name="t", datum="A", axis=axis, depth_mm=40.0, thread="M6")
    work._holes([one])
    first, second = work.setups
    # 100 of a tower seven beside it: a lengthened drill, and the tap from below
    assert [op.kind for op in first.ops] == ["spot", "drill"]
    assert all(op.tool.name.startswith("lengthened") for op in first.ops)
    (tap,) = second.ops
    assert tap.kind == "tap" and "from the other side" in tap.text
    assert (tap.cut["from_mm"], tap.cut["to_mm"]) == (-20.0, 20.0)
    assert first.hold.up == "+z" and second.hold.up == "-z" and not work.turned_over


@pytest.mark.parametrize("feed", ["-z", "+z"])
def test_holes_on_one_axis_are_drilled_the_smallest_first_and_right_down(
    job_with: JobWith, feed: Any
) -> None:
    sign, top = (-1, 20.0) if feed == "-z" else (1, -20.0)
    axis = Axis((30.0, 0.0, top), feed)
    sunk = f.DrilledHole(name="wide", datum="A", axis=axis, depth_mm=15.0, diameter=f.general(9.0),
                         through=False, opens_into="thin")  # fmt: skip
    below = Axis((30.0, 0.0, top + sign * 15.0), feed)
    thin = f.DrilledHole(name="thin", datum="A", axis=below, depth_mm=25.0, diameter=f.general(6.0))
    work = across(job_with(**MILL))
    work._holes([sunk, thin])
    (setup,) = work.setups
    spans = [(op.kind, op.cut["from_mm"], op.cut["to_mm"], op.cut["after_mm"]) for op in setup.ops]
    assert spans[1:] == [
        ("drill", top, top + sign * 40.0, 6.0), ("drill", top, top + sign * 15.0, 9.0),
    ]  # fmt: skip
    assert spans[0][:2] == ("spot", top)
    # over eight diameters deep the wide one comes first, so that the thin has the less to go
    for deep, first in ((33.0, "thin"), (33.1, "wide")):
        block = across(job_with(**MILL), Section("flat", 50.0, 50.0))
        axis = Axis((30.0, 0.0, sign * -25.0), feed)
        low = Axis((30.0, 0.0, sign * -25.0 + sign * 15.0), feed)
        wide = f.DrilledHole(name="wide", datum="A", axis=axis, depth_mm=15.0, diameter=f.general(9.0),
                             through=False, opens_into="thin")  # fmt: skip
        slim = f.DrilledHole(name="thin", datum="A", axis=low, depth_mm=deep, diameter=f.general(6.0),
                             through=False)  # fmt: skip
        block._holes([wide, slim])
        drills = [op for op in block.setups[0].ops if op.kind == "drill"]
        assert drills[0].feature is not None and drills[0].feature.name == first


@pytest.mark.parametrize(
    ("wide", "size", "through", "off"),
    [
        (8.0, 4.5, True, True),
        (8.0, 4.5, False, False),
        (12.0, 5.0, True, False),
        (12.0, 5.1, True, True),
    ],
)
def test_narrow_work_is_not_drilled_into_its_parallels(
    job_with: JobWith, wide: float, size: float, through: bool, off: bool
) -> None:
    """Parallels of 3 mm along either jaw, and half a millimetre beside the drill (common practice)."""
    hole = f.DrilledHole(
        name="h", datum="A", axis=Axis(), depth_mm=8.0, through=through,
        diameter=f.Limits(size, 0.1, -0.1, ""),
    )  # fmt: skip
    body = SimpleNamespace(low=lambda i: -wide / 2, high=lambda i: wide / 2)
    held = SimpleNamespace(across=1, body=body)
    hold = Hold("machine vice", "in the vice, on parallels", ())
    found = beside.off_parallels(hold, held, [hole], Workshop(job_with()))  # type: ignore[arg-type]
    assert ("on parallels" not in found.words) == off


@pytest.mark.parametrize(
    ("along", "at", "into", "why"),
    [
        ("-x", 0.0, "", "the s is cut before it, while the hole is plain"),
        ("+x", 0.0, "", ""),
        ("-x", 5.0, "", ""),
        ("-x", 0.0, "slot", ""),
    ],
)
def test_a_thread_with_a_seat_on_its_far_side_is_tapped_from_there(
    along: Any, at: float, into: str, why: str
) -> None:
    """A pilot in a thread bruises it (common practice): the seat first, and the tap after it."""
    tapped = f.TappedHole(
        name="t", datum="A", axis=Axis(), depth_mm=10.0, thread="M6", opens_into=into
    )
    seat = f.Counterbore(
        name="s", datum="A", axis=Axis((10.0, at, 0.0), along), depth_mm=2.0,
        diameter=f.Limits(11.0, 0.2, -0.2, ""),
    )  # fmt: skip
    assert beside.turned_over(tapped, 0.0, "+x", [tapped, seat]) == why
    assert beside.turned_over(tapped, 90.0, "+x", [tapped, seat]) == (
        why if into else "the wrench does not come in beside what stands here"
    )
