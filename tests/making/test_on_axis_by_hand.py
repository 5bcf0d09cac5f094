"""What is made about the spindle's axis, on bars made up here: shoulders, run-outs, holes, bars.

All rules are common practice: a die cuts threads of three diameters and 12 mm at most; a thread leaves
a pitch before a shoulder and is grooved up to two and a half; a boring bar stands out four of its
diameters in a bore of 1.25, one between centres is twelve of its own long, three quarters of its hole,
eight tenths where it would be too slender; the work passes right through on both sides of its bit, and
a carrier is on one end.
"""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, cast

import pytest
from making.shops import of

from parts import features as f
from parts.features import Stage
from parts.frame import ORIGIN, Axis, Direction
from parts.standard.fits import Limits
from planner.job.tables import Job
from planner.making.gauges import Gauges
from planner.making.model import Centre, Grip, Hold, Line, Op, SetUp, Workpiece
from planner.making.near import same_way, stacks
from planner.making.profile import Profile, Stretch
from planner.making.ways import bars, holes
from planner.making.ways.onaxis import OnAxis
from planner.making.ways.screwed import by_die, run_out
from planner.making.workshop import Workshop

JobWith = Callable[..., Job]


def on_lathe(
    job: Job, *stretches: tuple[float, float, float], along: str = "+x", centre: bool = False,
    jaws: tuple[float, float] = (60.0, 90.0),
) -> OnAxis:  # fmt: skip
    """Work on the lathe: from, to and diameter of each stretch, the tailstock ``along``."""
    made = [Stretch(a, z, d, f"s{a:g}.round") for a, z, d in stretches or ((0.0, 90.0, 30.0),)]
    part = SimpleNamespace(name="p", features=(), trueness=())
    on = cast(Workpiece, SimpleNamespace(part=part, member=None, piece=""))
    shop = Workshop(job)
    work = OnAxis(on, shop, Gauges(shop), Profile(*made), "S355")
    run = Centre("live", along, 4.0) if centre else None
    hold = Hold("three-jaw chuck", "", (Grip("s.round", 30.0, *jaws),), Line(along, ORIGIN), run)
    work.setup, work.axis = SetUp(on, Stage.BLANK, "lathe", hold), Line(along, ORIGIN)
    return work


def made(work: OnAxis, *features: f.Feature) -> list[Op]:
    work.all(work.setup, features, work.axis, 0.1)
    return work.setup.ops


def diameter(start: float, end: float, size: float, band: float = 0.2) -> f.TurnedDiameter:
    return f.TurnedDiameter(name=f"d{size:g}", datum="A", start_mm=start, end_mm=end,
                            diameter=Limits(size, 0.0, -band, ""))  # fmt: skip


def thread(start: float, end: float, name: str = "M6") -> f.Thread:
    return f.Thread(name="t", datum="A", start_mm=start, end_mm=end, thread=name)


@pytest.mark.parametrize(
    ("name", "long", "die"),
    [
        ("M3", 9.0, True), ("M3", 9.01, False), ("M12", 36.0, True), ("M12", 36.01, False),
        ("M14x1.5", 10.0, False), ("1/4-20", 19.05, True), ("1/4-20", 19.06, False),
        ("1/2-13", 38.1, False),
    ],
)  # fmt: skip
def test_what_a_die_cuts(job_with: JobWith, name: str, long: float, die: bool) -> None:
    wheels = list(range(20, 121))  # all of them: none lacks for any pitch
    keys = {"lathe.change_gears": wheels, "shop.dies": ["M3", "M12", "M14x1.5", "1/4-20", "1/2-13"]}
    assert by_die(name, long, Workshop(job_with(**keys))) is die


def test_a_die_that_is_not_there_cuts_no_thread_that_a_single_point_cuts(job_with: JobWith) -> None:
    """Common practice: a lathe cuts a thread of 6 mm and more itself; a thinner one bends under the
    tool, and its die is bought."""
    for name, die in (("M5", True), ("M6", False), ("M8", False)):
        keys = {"lathe.change_gears": list(range(20, 121)), "shop.dies": ["M3"]}
        assert by_die(name, 8.0, Workshop(job_with(**keys))) is die


@pytest.mark.parametrize("dies", [["M8"], ["M3", "M4", "M5"]])
def test_every_die_that_a_step_wants_is_there_or_told(dies: list[str]) -> None:
    _, _, route = of("bench-lathe", **{"shop.dies": dies})
    wanted = {op.tool for op in route.operations if op.tool.startswith("die ")}
    lacking = {name for name in wanted if name.split()[1] not in dies}
    assert lacking == {one.what for one in route.missing if one.what.startswith("die ")}
    assert wanted and (lacking or dies != ["M8"])


@pytest.mark.parametrize(
    ("end", "groove"),
    [
        # M6, 1 mm of pitch, a shoulder at 20
        (17.5, (17.5, 20.0)), (17.4, None), (19.0, (19.0, 20.0)), (19.5, (19.0, 20.0)),
        (19.8, (19.0, 20.0)), (20.0, (19.0, 20.0)), (20.1, None),
    ],
)  # fmt: skip
def test_the_run_out_before_a_shoulder(
    job_with: JobWith, end: float, groove: tuple[float, float] | None
) -> None:
    for along in ("+x", "-x"):
        work = on_lathe(job_with(), (0.0, 20.0, 6.0), (20.0, 40.0, 6.2), along=along)
        work.setup.add(*run_out(thread(4.0, end), work, 4.0, end))
        back = on_lathe(job_with(), (-40.0, -20.0, 6.2), (-20.0, 0.0, 6.0), along=along)
        back.setup.add(*run_out(thread(-end, -4.0), back, -end, -4.0))
        if groove is None:
            assert not work.setup.ops and not back.setup.ops
            continue
        (op,), (other,) = work.setup.ops, back.setup.ops
        assert (op.cut["from_mm"], op.cut["to_mm"]) == pytest.approx(groove)
        assert (other.cut["from_mm"], other.cut["to_mm"]) == pytest.approx((-groove[1], -groove[0]))
        assert op.tool.width_mm == pytest.approx(groove[1] - groove[0])
        # ISO 724: to the root, 1.2269 of a pitch under M6's 6 mm; DIN 13 gives 4.773
        assert op.cut["before_mm"] == 6.0 and op.cut["after_mm"] == pytest.approx(4.773, abs=0.01)
        assert op.speed == ("part", 6.2)


def test_no_groove_before_what_is_hardly_thicker(job_with: JobWith) -> None:
    work = on_lathe(job_with(), (0.0, 20.0, 6.0), (20.0, 40.0, 6.1))
    work.setup.add(*run_out(thread(4.0, 19.0), work, 4.0, 19.0))
    assert not work.setup.ops


def test_a_screw_cut_thread_says_how_long_and_deep_it_is(job_with: JobWith) -> None:
    work = on_lathe(job_with(), (0.0, 40.0, 6.0))
    (op,) = made(work, thread(10.0, 30.0))  # over three diameters
    assert (op.kind, op.length_mm, op.speed) == ("thread", 20.0, ("thread", 6.0))
    assert op.stock_mm == pytest.approx((6.0 - 4.773) / 2, abs=0.01)
    # and it is not bitten into
    assert [s.fine for s in work.profile.stretches] == [True]


@pytest.mark.parametrize(("along", "order"), [("-x", ["d10", "d16"]), ("+x", ["d16", "d10"])])
def test_the_free_end_is_turned_first(job_with: JobWith, along: str, order: list[str]) -> None:
    work = on_lathe(job_with(), along=along)
    ops = made(work, diameter(20.0, 40.0, 16.0), diameter(0.0, 20.0, 10.0))
    assert [op.feature.name for op in ops if op.feature] == order
    centred = on_lathe(job_with(), along=along, centre=True)  # the thickest: the bar stays stiff
    ops = made(centred, diameter(20.0, 40.0, 16.0), diameter(0.0, 20.0, 10.0))
    assert [op.feature.name for op in ops if op.feature] == ["d16", "d10"]


@pytest.mark.parametrize(
    ("along", "span", "turned"),
    [("-x", (40.0, 60.0), (0.0, 40.0)), ("+x", (30.0, 50.0), (50.0, 90.0))],
)
def test_a_collar_beside_a_fine_seat_is_turned_while_the_bar_is_stiff(
    job_with: JobWith, along: str, span: tuple[float, float], turned: tuple[float, float]
) -> None:
    seat = diameter(0.0, 40.0, 12.0, 0.02) if along == "-x" else diameter(50.0, 90.0, 12.0, 0.02)
    work = on_lathe(job_with(), along=along, centre=True)
    ops = made(work, seat, diameter(*span, 20.0))
    first = ops[0]  # the bar down to the collar, 20 less half of its band
    assert (first.cut["from_mm"], first.cut["to_mm"]) == turned
    assert (first.cut["before_mm"], first.cut["after_mm"]) == (30.0, 19.9)
    assert (first.stock_mm, first.length_mm) == (pytest.approx(5.05), 40.0)
    assert [op.feature.name for op in ops if op.feature] == ["d12", "d20", "d12", "d12"]
    assert ops[2].cut["after_mm"] == 12.5  # and half a millimetre left for finishing
    # a collar at the free end itself has nothing before it
    end = (0.0, 20.0) if along == "-x" else (70.0, 90.0)
    there = diameter(20.0, 40.0, 12.0, 0.02) if along == "-x" else diameter(50.0, 70.0, 12.0, 0.02)
    work = on_lathe(job_with(), along=along, centre=True)
    assert made(work, there, diameter(*end, 20.0))[0].feature.name == "d20"  # type: ignore[union-attr]


def test_what_is_not_roughed(job_with: JobWith) -> None:
    # 0.5 is left on a fine seat; where no more than 0.1 over that is there, it is finished at once
    for bar, steps in ((12.6, 1), (12.61, 2)):
        work = on_lathe(job_with(), (0.0, 90.0, bar))
        assert len(made(work, diameter(0.0, 40.0, 12.0, 0.02))) == steps
    for band, steps in ((0.1, 1), (0.099, 2)):
        assert len(made(on_lathe(job_with()), diameter(0.0, 40.0, 12.0, band))) == steps


@pytest.mark.parametrize(("thick", "shoulder"), [(13.1, True), (13.0, False)])
def test_what_stands_beside_as_a_shoulder(job_with: JobWith, thick: float, shoulder: bool) -> None:
    # thicker by more than 1 than the 12 that is turned; on either side, and touching it
    for stretches in (
        ((0.0, 20.0, 12.5), (20.0, 90.0, thick)),
        ((0.0, 20.0, thick), (20.0, 90.0, 12.5)),
    ):
        span = (0.0, 20.0) if stretches[1][2] == thick else (20.0, 90.0)
        (op,) = made(on_lathe(job_with(), *stretches), diameter(*span, 12.0))
        assert ("its shoulder faced" in op.text) is shoulder
        apart = (1.0, 19.0) if span[0] == 0.0 else (21.0, 89.0)
        (op,) = made(on_lathe(job_with(), *stretches), diameter(*apart, 12.0))
        assert "its shoulder faced" not in op.text


@pytest.mark.parametrize("along", ["+x", "-x"])
def test_a_blocks_shoulder_is_faced_close_and_then_true(
    job_with: JobWith, along: Direction
) -> None:
    """A bar of 20 that stands in a block, its corners on a circle of 60: 5 mm come off the block."""
    sign = 1 if along == "+x" else -1
    stretches = [(0.0, 30.0, 60.0), (30.0, 100.0, 20.0)]
    if sign < 0:
        stretches = [(-100.0, -30.0, 20.0), (-30.0, 0.0, 60.0)]
    work = on_lathe(job_with(), *stretches, along=along, centre=True)
    axis, size = Axis((0.0, 0.0, 0.0), along), f.general(60.0)
    shoulder = f.FacedShoulder(
        name="s", datum="A", start_mm=25.0, end_mm=30.0, axis=axis, diameter=size
    )
    close, true = made(work, shoulder)
    assert close.cut["at_mm"] == sign * 25.0 and close.cut["keeps"] == ("-x" if sign > 0 else "+x")
    assert (close.cut["diameter_mm"], close.cut["off_mm"]) == (60.0, 5.0)
    assert (close.length_mm, close.stock_mm) == (20.0, 5.0)  # from the corners in to the bar
    assert true.speed == ("face", 60.0) and true.length_mm == 30.0
    # a seat that ends at the shoulder leaves it what it takes
    low, high = (25.0, 60.0) if sign > 0 else (-60.0, -25.0)
    seat = f.TurnedDiameter(name="d", datum="A", start_mm=25.0, end_mm=60.0, axis=axis,
                            diameter=f.general(16.0))  # fmt: skip
    work.faced = [work.span(shoulder)]
    assert work.span(seat) == ((30.0, high) if sign > 0 else (low, -30.0))
    assert work.span(shoulder) == ((25.0, 30.0) if sign > 0 else (-30.0, -25.0))


# ---- holes about the axis ----


def drilled(along: Direction, size: float, deep: float = 50.0, **more: Any) -> f.DrilledHole:
    entry = 0.0 if along == "+x" else 50.0
    return f.DrilledHole(name="h", datum="A", axis=Axis((entry, 0.0, 0.0), along), depth_mm=deep,
                         diameter=f.general(size), **more)  # fmt: skip


@pytest.mark.parametrize(
    ("along", "stretch", "jaws", "ends", "parted"),
    [
        # a piece of 50 on a longer bar: on to the jaws, or to the bar's end where that is nearer
        ("+x", (0.0, 90.0), (60.0, 90.0), (0.0, 60.0), True),
        ("+x", (0.0, 55.0), (60.0, 90.0), (0.0, 55.0), False),
        ("+x", (0.0, 90.0), (40.0, 90.0), (0.0, 50.0), True),
        ("-x", (-40.0, 50.0), (-40.0, -10.0), (50.0, -10.0), True),
        ("-x", (-5.0, 50.0), (-40.0, -10.0), (50.0, -5.0), False),
    ],
)
def test_a_through_hole_goes_on_where_its_piece_is_parted_off(
    job_with: JobWith, along: Direction, stretch: tuple[float, float], jaws: tuple[float, float],
    ends: tuple[float, float], parted: bool,
) -> None:  # fmt: skip
    work = on_lathe(job_with(), (*stretch, 30.0), jaws=jaws)
    spot, op = holes.axial(drilled(along, 10.0), work)
    assert (op.cut["from_mm"], op.cut["to_mm"]) == ends
    assert op.length_mm == abs(ends[1] - ends[0])
    assert ("past where it is parted off" in op.text) is parted
    assert op.text.endswith("; withdraw each diameter past three")
    assert spot.cut["from_mm"] == ends[0]
    assert spot.cut["to_mm"] == ends[0] + (1.5 if along == "+x" else -1.5)  # half of its pilot of 3
    blind = holes.axial(drilled(along, 10.0, 30.0, through=False), work)[1]
    assert abs(blind.cut["to_mm"] - blind.cut["from_mm"]) == 30.0
    assert "withdraw" not in blind.text and "withdraw" in holes.axial(
        drilled(along, 9.9, 30.0, through=False), work)[1].text  # fmt: skip


def test_what_no_drill_of_the_shop_makes_is_bored_to_size(job_with: JobWith) -> None:
    spot, op, bore = holes.axial(drilled("+x", 20.0, 20.0, through=False), on_lathe(job_with()))
    assert op.cut["after_mm"] == 13.0 and not op.last  # drills to 13
    assert (bore.cut["before_mm"], bore.cut["after_mm"], bore.last) == (13.0, 20.0, True)
    assert bore.stock_mm == 3.5 and bore.measures and bore.allowance_mm == 0.0
    assert len(holes.axial(drilled("+x", 13.0, 20.0, through=False), on_lathe(job_with()))) == 2


def bore(size: float, deep: float) -> f.Bore:
    axis = Axis((0.0, 0.0, 0.0), "+x")
    return f.Bore(name="b", datum="A", axis=axis, depth_mm=deep, diameter=f.general(size))


@pytest.mark.parametrize(
    ("size", "deep", "before", "steps"),
    [
        # bars of 6, 10 and 12: the 10 reaches 35 and wants 12.5; 4 more to bore make that worth while
        (30.0, 30.0, 10.0, [12.5, 29.5, 30.0]), (30.0, 30.0, 12.3, [29.5, 30.0]),
        (30.0, 30.0, 12.2, [12.5, 29.5, 30.0]), (16.6, 30.0, 10.0, [12.5, 16.1, 16.6]),
        (16.5, 30.0, 10.0, [16.0, 16.5]), (30.0, 36.0, 10.0, [15.0, 29.5, 30.0]),
        # half a millimetre is left; roughing for no more than 0.2 is not worth while
        (30.0, 30.0, 29.2, [29.5, 30.0]), (30.0, 30.0, 29.31, [30.0]),
    ],
)  # fmt: skip
def test_in_how_many_cuts_a_bore_is_bored(
    job_with: JobWith, size: float, deep: float, before: float, steps: list[float]
) -> None:
    shop = Workshop(job_with())
    work = holes.Holes(shop, Gauges(shop), "p", Line("+x", ORIGIN))
    ops = work.finish(bore(size, deep), before, (0.0, deep), True)
    assert [op.cut["after_mm"] for op in ops] == steps
    assert [op.cut["before_mm"] for op in ops] == [before, *steps[:-1]]
    assert [op.last for op in ops] == [False] * (len(ops) - 1) + [True]
    assert ops[-1].allowance_mm == 0.0 and all(op.allowance_mm > 0 for op in ops[:-1])


@pytest.mark.parametrize(
    ("want", "deep", "to", "pilot"),
    [
        # common practice: over 13 a drill follows one of about half its size, past 20 it must. One of 8
        # goes 8 diameters deep at most; past that one is bought, unless the solid takes the thick one
        (22.0, 60.0, 8.0, 8.0), (22.0, 70.0, 8.0, 13.2), (18.0, 70.0, 8.0, None),
        (13.0, 30.0, 8.0, None), (22.0, 70.0, 13.0, 13.0),
    ],
)  # fmt: skip
def test_a_thick_drill_follows_a_thinner_one_bought_where_the_shops_do_not_reach(
    job_with: JobWith, want: float, deep: float, to: float, pilot: float | None
) -> None:
    shop = Workshop(job_with(**{"shop.drills_to": f"{to:g} mm"}))
    found = holes.Holes(shop, Gauges(shop), "p", Line("+x", ORIGIN)).pilot_mm(want, 0.0, deep)
    assert found == (None if pilot is None else pytest.approx(pilot, abs=0.26))


@pytest.mark.parametrize(("want", "most", "pilot"), [(1.0, 0.512, 1 / 2), (0.75, 0.512, 7 / 16)])
def test_a_drill_that_leads_a_thick_one_goes_into_the_solid_itself(
    job_with: JobWith, want: float, most: float, pilot: float
) -> None:
    # common practice: half an inch at most into what the tool post holds; six tenths of 1 in are more,
    # and the shop has one of 9/16
    shop = Workshop(job_with("inch-lathe", **{"shop.drills": ["9/16", "5/8", "3/4", "1"]}))
    made = holes.Holes(shop, Gauges(shop), "p", Line("+x", ORIGIN))
    found = made.pilot_mm(want * 25.4, 0.0, 3.0 * 25.4, most * 25.4)
    assert found == pytest.approx(pilot * 25.4)


@pytest.mark.parametrize(
    ("size", "deep", "hole", "wide"),
    [
        # 40 deep: a bar of 10 in a hole of 12.5
        (30.0, 40.0, 12.5, 12.5), (30.0, 40.0, 12.4, 12.5), (30.0, 32.0, 9.0, 10.0),
        # no wider than leaves 2 to bore, and no narrower than it is
        (14.0, 40.0, 10.0, 12.0), (14.0, 40.0, 12.2, 12.2),
    ],
)  # fmt: skip
def test_a_bore_is_drilled_so_wide_that_a_bar_reaches_its_bottom(
    job_with: JobWith, size: float, deep: float, hole: float, wide: float
) -> None:
    found = bars.room_for_a_bar(bars.IN_THE_REST, bore(size, deep), hole, Workshop(job_with()))
    assert found == pytest.approx(wide)


@pytest.mark.parametrize(
    ("size", "hole", "wide"),
    [
        # 46 pass twice, 26 of runs, carrier and centres, a bit of 3: 121, in twelve diameters: a bar of
        # 11 in a hole of 14.7, or of 10.5, as thick as chips allow, in one of 13.2
        (40.0, 14.7, 14.7), (40.0, 13.2, 13.2), (40.0, 13.1, 15.0), (40.0, 10.0, 15.0),
        (14.5, 10.0, 13.5), (14.5, 13.7, 13.7),
    ],
)  # fmt: skip
def test_the_hole_for_a_bar_between_centres(
    job_with: JobWith, size: float, hole: float, wide: float
) -> None:
    shop = Workshop(job_with())
    kind = bars.BETWEEN_CENTRES
    assert bars.room_for_a_bar(
        kind, bore(size, 46.0), hole, shop, bars.Passing(46.0)
    ) == pytest.approx(wide)
    plain = drilled("+x", 10.0, 60.0)  # a drill's own hole is not opened up for a bar
    assert bars.room_for_a_bar(kind, plain, 10.0, shop, bars.Passing(60.0)) == 10.0


@pytest.mark.parametrize(
    ("kind", "size_in", "work_in", "wide_in"),
    [
        # 1 mm is left to a bar between centres: 0.4606, 0.5856 and 0.7106 in; 2 mm to the shop's own:
        # 0.5463 in. Fractional drills go by 64ths to 1 in, letters end at Z, 0.413 (ASME B94.11M, from
        # memory)
        (bars.BETWEEN_CENTRES, 1 / 2, 2.0, 29 / 64), (bars.BETWEEN_CENTRES, 5 / 8, 2.5, 37 / 64),
        (bars.BETWEEN_CENTRES, 3 / 4, 3.0, 45 / 64), (bars.IN_THE_REST, 5 / 8, 2.0, 17 / 32),
        # past the drills that are sold it is said as it is: a bore of 1-1/4, left 1 mm
        (bars.BETWEEN_CENTRES, 1.25, 5.0, 1.25 - 1 / 25.4),
    ],
)  # fmt: skip
def test_the_hole_for_a_bar_is_drilled_by_an_inch_shops_drill(
    job_with: JobWith, kind: bars.BarKind, size_in: float, work_in: float, wide_in: float
) -> None:
    shop = Workshop(job_with("inch-lathe"))
    work = work_in * 25.4
    found = bars.room_for_a_bar(
        kind, bore(size_in * 25.4, work), 0.375 * 25.4, shop, bars.Passing(work)
    )
    assert found / 25.4 == pytest.approx(wide_in, abs=1e-5)
    if wide_in < 1.0:
        assert "mm" not in shop.drill_to_buy(found).name


def test_a_bar_a_hair_over_its_part_of_the_hole_goes_in(job_with: JobWith) -> None:
    # letter Q, 0.332 in (ASME B94.11M, from memory): eight tenths are 0.2656, and 17/64 in is 0.265625,
    # a fortieth of a thousandth more. One of 1/4 reaches 3 in, and 1 in of work passed twice wants more
    shop = Workshop(job_with("inch-lathe"))
    work = bars.Passing(25.4)
    bar = bars.made_bar_mm(0.332 * 25.4, work, shop.job.series)
    assert bar / 25.4 == pytest.approx(17 / 64)
    assert bars.long_mm(work, bar, shop.job.series) > 12 * 25.4 / 4
    assert bars.stiff(bar, work, shop.job.series)


@pytest.mark.parametrize("example", ["bench-lathe", "inch-lathe"])
def test_a_bar_that_is_made_for_its_hole_is_stiff_and_takes_its_carrier(
    job_with: JobWith, example: str
) -> None:
    shop = Workshop(job_with(example))
    series = shop.job.series
    for work in range(20, 121, 5):
        for hole in (6.35, 10.0, 12.7):
            kind = bars.BETWEEN_CENTRES
            passing = bars.Passing(work)
            wide = bars.room_for_a_bar(kind, bore(90.0, work), hole, shop, passing)
            bar = bars.made_bar_mm(wide, passing, series)
            long, at = bars.long_mm(passing, bar, series), bars.bit_at_mm(passing, bar, series)
            assert bar <= 0.8 * wide + 1e-9 and long <= 12 * bar + 1e-9, (work, hole)
            # a carrier of 10 at the least, the point of a centre of 3, clear of the bit by 1
            assert at - bar / 6 - work - 1 >= 13 and long - at - bar / 6 - work - 1 >= 3
            step = 25.4 / 64 if shop.inch else 0.5
            assert bar / step == pytest.approx(round(bar / step))


def test_holes_on_one_axis_and_the_order_they_are_drilled_in(job_with: JobWith) -> None:
    shop = Workshop(job_with())

    def at(name: str, y: float, z: float, size: float, along: Direction = "+x") -> f.DrilledHole:
        axis = Axis((0.0, y, z), along)
        return f.DrilledHole(
            name=name, datum="A", axis=axis, depth_mm=9.0, diameter=f.general(size)
        )

    one, two, three = at("one", 1.0, 2.0, 8.0), at("two", 1.0, 2.0, 4.0), at("three", 1.0, 2.1, 3.0)
    sunk = f.Counterbore(
        name="sunk", datum="A", axis=one.axis, depth_mm=3.0, diameter=f.general(9.0)
    )
    assert [[o.name for o in s] for s in stacks([sunk, one, three, two])] == [
        ["sunk", "one", "two"], ["three"],
    ]  # fmt: skip
    assert [o.name for o in holes.order([sunk, one, two], shop)] == ["two", "one", "sunk"]
    assert same_way(one, at("back", 1.0, 2.0, 4.0, "-x"))
    assert not same_way(one, at("up", 1.0, 2.0, 4.0, "+z"))
    tapped = f.TappedHole(
        name="t", datum="A", axis=Axis(), depth_mm=9.0, thread="M6", through=False
    )
    # the lead of a second tap: three pitches
    assert holes.drilled_past(tapped) == 3.0 and holes.drilled_past(one) == 0.0
    through = f.TappedHole(name="t", datum="A", axis=Axis(), depth_mm=9.0, thread="M6")
    assert holes.drilled_past(through) == 0.0 and holes.drilled_past(through, True) == 3.0


def test_what_a_hole_is_drilled_to(job_with: JobWith) -> None:
    shop = Workshop(job_with(**{"shop.reamers": [8]}))

    def size(kind: Any, limits: Limits) -> float:
        made = kind(name="h", datum="A", axis=Axis(), depth_mm=9.0, diameter=limits)
        return holes.drill_mm(made, shop)

    # the drill under the size where that is within its limits, else the next over it
    assert size(f.DrilledHole, Limits(6.55, 0.2, -0.05, "")) == 6.5
    assert size(f.DrilledHole, Limits(6.55, 0.2, -0.04, "")) == 6.6
    # 0.2 to 0.3 is left for a reamer of 8 (test_ways)
    assert size(f.ReamedHole, Limits(8.0, 0.02, 0.0, "")) == 7.8
    # a bore: the shop's largest drill that leaves 2
    assert size(f.Bore, Limits(14.0, 0.02, 0.0, "")) == 12.0
    assert size(f.Bore, Limits(30.0, 0.02, 0.0, "")) == 13.0
    assert size(f.Bore, Limits(2.5, 0.02, 0.0, "")) == 0.5
    assert size(f.Counterbore, Limits(9.0, 0.2, 0.0, "")) == 0.0


@pytest.mark.parametrize(
    ("centre", "span", "stays"),
    [
        ("+x", (70.0, 90.0), True), ("+x", (69.0, 89.0), False), ("-x", (0.0, 20.0), True),
        ("-x", (1.0, 21.0), False), ("-x", (70.0, 90.0), False), ("+x", (0.0, 20.0), False),
    ],
)  # fmt: skip
def test_a_ball_on_the_centre_keeps_its_hole(
    job_with: JobWith, centre: str, span: tuple[float, float], stays: bool
) -> None:
    ball = f.TurnedBall(name="b", datum="A", start_mm=span[0], end_mm=span[1],
                        diameter=f.general(20.0))  # fmt: skip
    (op,) = made(on_lathe(job_with(), along=centre, centre=True), ball)
    assert op.text.endswith("; the small centre hole stays") is stays
    assert (op.length_mm, op.stock_mm) == (20.0, 6.0)  # half of what is over the ball, and 1
    (free,) = made(on_lathe(job_with(), along=centre), ball)
    assert not free.text.endswith("stays")


@pytest.mark.parametrize("along", ["-x", "+x"])
def test_no_recess_is_turned_on_a_centre(job_with: JobWith, along: str) -> None:
    """A bar of 30, its tail to be 12, 16 and 20 from the end inward: 20 down to the end first, then 16,
    then 12, each to the end; with no centre, or a thicker end that stays, each over its own length."""

    def placed(low: float, high: float, wide: float, band: float = 0.5) -> f.TurnedDiameter:
        ends = (low, high) if along == "-x" else (90.0 - high, 90.0 - low)
        return diameter(*ends, wide, band)

    def cut(work: OnAxis, *features: f.TurnedDiameter) -> list[tuple[float, float, float]]:
        rough = [op for op in made(work, *features) if op.cut["before_mm"] - op.cut["after_mm"] > 1]
        ends = [(op.cut["from_mm"], op.cut["to_mm"], op.feature.diameter) for op in rough]  # type: ignore[union-attr]
        turned = [(min(a, b), max(a, b), d.nominal_mm) for a, b, d in ends]
        return [(a, b, d) if along == "-x" else (90.0 - b, 90.0 - a, d) for a, b, d in turned]

    seat, neck, pin = placed(30, 60, 20.0, 0.01), placed(20, 30, 16.0), placed(0, 20, 12.0)
    work = on_lathe(job_with(), along=along, centre=True)
    assert cut(work, seat, neck, pin) == [(0, 60, 20.0), (0, 30, 16.0), (0, 20, 12.0)]
    stays = on_lathe(job_with(), along=along, centre=True)
    assert (20.0, 30.0, 16.0) in cut(stays, placed(20, 30, 16.0), placed(0, 20, 24.0))
