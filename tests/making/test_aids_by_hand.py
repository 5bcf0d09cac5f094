"""Aids, gauges and the order of set-ups by hand: sizes worked out beside each, common practice.

An aid is sized from what it holds or cuts, and of the least bar that the shop lists and that is wide
enough; sizes of bar are those that dealers list.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from making.shops import of, shop
from msgspec.structs import replace

from parts import features as f
from parts.features import Stage
from parts.frame import Axis, Frame
from parts.part import Joined, Member, Stock
from parts.standard.fits import Limits
from parts.standard.sections import Section
from parts.standard.series import METRIC
from planner.job.tables import Job
from planner.making.aids import STEELS, Aid, aids, bar
from planner.making.fewest import fewest
from planner.making.gauges import Gauges
from planner.making.holding import Hold as Way
from planner.making.holding import from_one_end, holding, is_axial
from planner.making.model import Grip, Hold, Op, SetUp, Tool, Workpiece
from planner.making.outfit import Item, outfit
from planner.making.sequence import JOURNEY, changes
from planner.making.workshop import Workshop
from planner.output.sheets.route import size_said

JobWith = Callable[..., Job]
IN = 25.4
LOOKED_AT = "turned between centres to the bore as it came out, a tenth of taper over its length"


def table(name: str) -> list[tuple[Any, ...]]:
    """The aids of a shop's route, in short: lengths to a hundredth of a millimetre."""
    job, _, route = shop(name)
    return [
        (
            one.name,
            one.size,
            job.numbers.stock(one.section),
            one.material,
            round(one.length_mm, 2),
            round(one.grip_mm, 2),
            one.sawn,
            one.quantity,
        )
        for one in route.aids
    ]


def test_the_aids_of_a_metric_shop() -> None:
    # a bush has 5 of wall and 4 more than the most it grips; a plug and a stub a shoulder of 4 all
    # round; a bar between centres 1 to turn off all round; an indicator's stem of 8 (ISO 463) or the
    # bar, with 4 of wall; 15 to hold by and 3 to part off. The rack and the dealer have round 16, 18,
    # 25 and 35. A bit is a third of its bar, down to whole millimetres, and as long as half of bar and
    # hole together, 15 and 19, 9 and 13: its back stays within the bar. A bar is as long as lets the
    # work (50.5 of tube, 32 of block) pass on both sides of its bit by 2 at each end, with 12 for the
    # carrier and 3 before each centre: 2 x 54.5 + 5 + 18, 2 x 36
    # + 3 + 18; the shank runs 65 past the tube beside the barrel, of which its centre takes 25
    long = "between centres"
    assert table("no mill") == [
        ("split bush", "24 mm", "round 35", "S355", 13.0, 18.0, True, 1),  # 34
        # a drill of 13 is 151 long (DIN 338, from memory), 20 of it in its chuck
        ("flat drill 13 mm", "13 mm", "round 13", "HSS", 131.0, 0.0, False, 1),
        ("gauge nut", "M8x1", "round 18", "S355", 8.0, 0.0, False, 1),  # no shop has a nut of it
        # one of 6 is 93 long, of which the lower bound is 31 and ten diameters
        ("flat drill 6 mm", "6 mm", "round 6", "HSS", 71.0, 0.0, False, 1),
        # 27, of 35 less 2 x 8; 15 in the tube, and the 40 that the centre leaves of 65, its hole 6
        ("tacking plug", "19 mm", "round 35", "S355", 61.0, 18.0, True, 1),
        (f"boring bar Ø15 {long}", "15 mm", "round 18", "S355", 172.0, 0.0, True, 1),  # 17
        (
            f"bit for the boring bar Ø15 {long}",
            "5 mm, 17 mm long",
            "round 5",
            "HSS",
            17.0,
            0.0,
            False,
            1,
        ),
        ("setting gauge for boring bars", "8 mm", "round 25", "S355", 30.0, 18.0, True, 1),  # 22
        ("facing cutter for the bar", "5 mm", "round 5", "HSS", 37.0, 0.0, False, 1),  # 35 and 2
        ("fly cutter", "50 mm", "round 25", "S355", 60.0, 0.0, True, 1),
        ("bit for the fly cutter", "6 mm", "square 6", "HSS", 60.0, 0.0, False, 1),
        (f"boring bar Ø9 {long}", "9 mm", "round 18", "S355", 93.0, 0.0, True, 1),  # 11
        (
            f"bit for the boring bar Ø9 {long}",
            "3 mm, 11 mm long",
            "round 3",
            "HSS",
            11.0,
            0.0,
            False,
            1,
        ),
        ("threaded stub", "M6", "round 18", "S355", 40.0, 0.0, True, 1),  # 14
    ]


def test_the_aids_of_an_inch_shop() -> None:
    # the same in inches, lengths up and bits down to thirty-seconds and sixty-fourths: 13.89 is 35/64,
    # 126.21 is 4-31/32, 18.26 is 23/32: 19/32 and 1/8; an indicator's stem of 3/8
    long = "between centres"
    found = table("inch, no dividing head")
    assert found == [
        ("split bush", "1 in", "round 1-1/2 in", "1018", 13.89, 18.26, True, 1),
        ("split bush", "15/16 in", "round 1-1/2 in", "1018", 12.3, 18.26, True, 1),
        ("flat drill 1/2 in", "1/2 in", "round 1/2 in", "HSS", 131.0, 0.0, False, 1),
        ("flat drill 1/4 in", "1/4 in", "round 1/4 in", "HSS", 74.5, 0.0, False, 1),
        # 19/32 in the tube; 67.47 run on beside the barrel: 48.47 of it up to 1-59/64
        ("tacking plug", "5/8 in", "round 1 in", "1018", 63.9, 18.26, True, 1),
        (f"boring bar Ø15/32 {long}", "15/32 in", "round 3/4 in", "1018", 126.21, 0.0, True, 1),
        (f"bit for the boring bar Ø15/32 {long}", "5/32 in, 35/64 in long", "round 5/32 in", "HSS",
         13.89, 0.0,
         False, 1),
        ("setting gauge for boring bars", "3/8 in", "round 1 in", "1018", 30.16, 18.26, True, 1),
        # a longer bar would bend in so narrow a bore: a centre 67.3 out, 25 in its chuck
        ("long centre", "1/2 in", "round 3/4 in", "1018", 92.47, 0.0, True, 1),
        ("facing cutter for the bar", "5/32 in", "round 5/32 in", "HSS", 34.13, 0.0, False, 1),
        (f"boring bar Ø3/8 {long}", "3/8 in", "round 3/4 in", "1018", 92.87, 0.0, True, 1),
        (f"bit for the boring bar Ø3/8 {long}", "1/8 in, 7/16 in long", "round 1/8 in", "HSS",
         11.11, 0.0,
         False, 1),
        ("flat drill 29/64 in", "29/64 in", "round 29/64 in", "HSS", 126.09, 0.0, False, 1),
        ("threaded stub", "1/4-20 UNC", "round 3/4 in", "1018", 40.08, 0.0, True, 1),
    ]  # fmt: skip


def made(
    job: Job, hold: Hold, *tools: Op, stage: Stage = Stage.BLANK, part: str = "dial"
) -> list[Aid]:
    """The aids of one set-up of a bench lathe's part."""
    _, whole, _ = shop("no mill")
    on = Workpiece(next(one for one in whole.parts if one.name == part), None)
    return list(aids([SetUp(on, stage, "lathe", hold, list(tools))], Workshop(job)))


def test_aids_of_single_set_ups(job_with: JobWith) -> None:
    job = job_with()
    chuck = Hold("chuck", "")
    # a mandrel of 16: of a thicker bar of its own metal before the rack's round 16 of screws' C45
    (mandrel,) = made(job, Hold("mandrel", ""))
    assert (mandrel.name, mandrel.size, mandrel.length_mm) == ("mandrel", "16 mm", 80.0)
    assert mandrel.made == LOOKED_AT and mandrel.grip_mm == 0.0
    assert (mandrel.section.width_mm, mandrel.material) == (18.0, "S355")
    thin = job_with(**{"shop.rack": [{"section": "round 16", "material": "S355", "length": 100}]})
    assert made(thin, Hold("mandrel", ""))[0].section.width_mm == 16.0
    # a plain bore of 12 on a stub: 20 wide, 25 there is
    held = Grip("bore.bore", 12.0, 0.0, 10.0, inside=True)
    (stub,) = made(job, Hold("mandrel", "", (held,)))
    assert (stub.name, stub.size, stub.section.width_mm) == ("stub mandrel", "12 mm", 25.0)
    # a bush for 30 gripped over 12, whichever way round: 40 wide, no bar within 10 but the standard 40
    for ends in ((5.0, 17.0), (17.0, 5.0)):
        (bush,) = made(
            job, replace(chuck, grips=(Grip("x.round", 30.0, *ends, packing="split bush"),))
        )
        assert (bush.section.width_mm, bush.length_mm) == (40.0, 16.0)
    # jaws for 24 keep 3 all round behind it: a plug of 18, one more to turn; the rack's next is 25
    soft = Grip("x.round", 24.0, 0.0, 9.0, packing="soft jaws, bored to it")
    (plug,) = made(job, replace(chuck, grips=(soft,)))
    assert (plug.name, plug.size, plug.length_mm) == ("soft-jaw plug", "18 mm", 10.0)
    assert plug.section.width_mm == 25.0 and plug.made == (
        "turned true on its rim; the jaws are closed on it at their back, as hard as on the work, and"
        " bored before it, with a step for the work's end; closed on it again whenever they are bored"
    )
    # V-blocks for 14, where the shop has none: square 24, a pair; 25 is the next that dealers list
    vees = Hold("V-blocks", "", (Grip("x.round", 14.0, 0.0, 30.0),))
    assert made(job, vees) == []
    bare = job_with(**{"shop.measuring": {"v_blocks": False, "dial_indicator": False}})
    (blocks,) = made(bare, vees)
    assert (blocks.name, blocks.quantity, blocks.length_mm) == ("V-block", 2, 30.0)
    assert blocks.section == Section("square", 25.0)
    # a bar of 5 has a bit of 2 all the same; no gauge to set it by where there is no indicator
    slender = Op(
        "bore", "", Tool("boring bar between centres", "boring bar Ø5, its bit", 5.0, None, 60.0,
                           bit_at_mm=34.0)
    )  # fmt: skip
    rod, bit, gauge = made(job, chuck, slender)
    assert [one.name for one in made(bare, chuck, slender)] == [rod.name, bit.name]
    assert (bit.section, bit.length_mm) == (Section("round", 2.0), 5.0)
    assert "a cross hole for a 2 mm bit 34 mm from the carrier's end" in rod.made
    assert rod.length_mm == 60.0
    # the gauge is bored for the stem of 8: 16 wide, though the bar is thinner
    assert (gauge.size, gauge.section.width_mm) == ("8 mm", 18.0)
    # what is turned to its size all along is of a bar thicker than that (common practice): 12 of 14;
    # it was of 12, with nothing on it to turn
    far = replace(slender, tool=replace(slender.tool, centre_out_mm=50.0))
    long_centre = made(bare, chuck, far)[-1]
    assert (long_centre.name, long_centre.size) == ("long centre", "12 mm")
    assert long_centre.section.width_mm > 12.5
    # a tool without a size is none that can be made
    assert made(job, chuck, replace(slender, tool=Tool("boring bar between centres", "bar"))) == []
    # joined in place only where a tube is bored on the lathe later
    plate = Hold("flat plate", "")
    assert [one.name for one in made(job, plate, stage=Stage.JOINING, part="housing")] == [
        "tacking plug"
    ]
    assert made(job, plate, stage=Stage.JOINING, part="sliding-head") == []
    assert made(job, plate, stage=Stage.WELDED, part="housing") == []


@pytest.mark.parametrize(
    ("example", "wide", "says"),
    [
        # the tubes' bores of 19, 29 and 5/8, and a shoulder of 4 (5/32) all round
        ("bench-lathe", 27.0, "27 mm"),
        ("engine-lathe", 37.0, "37 mm"),
        ("inch-lathe", 23.8125, "15/16 in"),
    ],
)
def test_the_tacking_plug_lets_the_shank_past(example: str, wide: float, says: str) -> None:
    """As it was: a shoulder of no size, of a bar of 35. In the tube's rear end it stands beside the
    shank, which runs on behind the tube 14.9 from its axis."""
    _, whole, route = of(example)
    (plug,) = (one for one in route.aids if one.name == "tacking plug")
    assert (
        f"a shoulder of {says} against it, no thicker anywhere: the shank runs past it;"
        in plug.made
    )
    assert wide / 2 < whole.sizes.shank_inner_z_mm and plug.section.width_mm >= wide


def test_the_bar_an_aid_is_made_of(job_with: JobWith) -> None:
    def found(
        width: float, metal: str = "S355", shape: str = "round", **more: Any
    ) -> tuple[float, str]:
        section, name = bar(shape, width, metal, Workshop(job_with(**more)))
        return section.width_mm, name

    # the rack's round 25 before the dealer's; its own metal before the screws' C45
    assert found(12.0) == (18.0, "S355") and found(8.0) == (18.0, "S355")
    assert found(7.9) == (10.0, "C45")  # 18 is more than 10 thicker
    assert found(25.0) == (25.0, "S355") and found(25.00000095) == (25.0, "S355")
    assert found(25.00000105) == (35.0, "S355")
    assert found(25.1) == (35.0, "S355")
    # past what is listed the next that dealers list, past that the size itself, up to a whole mm
    assert found(35.1) == (36.0, "S355") and found(100.0) == (100.0, "S355")
    assert found(130.4) == (131.0, "S355") and found(120.0, shape="square") == (120.0, "S355")
    # the least, on the rack or to buy; of its own metal before a thinner one of another
    for wide, least in ((17, 17.0), (22, 18.0)):
        rack = [{"section": f"round {wide}", "material": "S355", "length": 100}]
        assert found(16.5, **{"shop.rack": rack}) == (least, "S355")
    # brass is used, but too soft; each steel would do
    brass = [{"section": "round 30", "material": "CW614N", "length": 500, "price": 1.0}]
    assert found(28.0, **{"shop.rack": [], "shop.buy": brass}) == (28.0, "S355")
    # stainless steel is hard enough, but seizes in stainless work (common practice)
    assert STEELS == ("mild steel", "medium carbon steel", "alloy steel", "tool steel")


@pytest.mark.parametrize("steel", ["C45", "42CrMo4", "303", "11SMn30", "CW614N"])
def test_of_another_metal_only_where_it_is_hard_enough(job_with: JobWith, steel: str) -> None:
    # structure and screws of it: a bar that is there is taken if it is a steel that does
    rack = [{"section": "round 20", "material": steel, "length": 100}]
    job = job_with(**{"shop.rack": rack, "shop.buy": []})
    job = job.model_copy(update={"materials": job.materials.model_copy(update={"screw": steel})})
    does = steel in ("C45", "42CrMo4")
    assert bar("round", 19.5, "S355", Workshop(job))[1] == (steel if does else "S355")


def limits(low: float, high: float) -> Limits:
    return Limits(low, high - low, 0.0, "")


@pytest.mark.parametrize(
    ("example", "owned", "low", "high", "least", "most", "name"),
    [
        # micrometers go by 25 mm or by an inch; what lies across a step wants one opened wide
        ("bench-lathe", [[0.0, 25.0], [25.0, 50.0]], 24.9, 25.0, 0.0, 25.0, "micrometer 0 to 25 mm"),
        ("bench-lathe", [[0.0, 25.0]], 49.98, 50.01, 25.0, 50.01, "micrometer 25 to 50 mm"),
        ("bench-lathe", [[0.0, 25.0]], 60.0, 60.02, 50.0, 75.0, "micrometer 50 to 75 mm"),
        ("inch-lathe", [[0.0, 1.0]], 1.2 * IN, 1.201 * IN, IN, 2 * IN, "micrometer 1 to 2 in"),
    ],
)  # fmt: skip
def test_the_micrometer_for_a_size(
    example: str,
    owned: list[list[float]],
    low: float,
    high: float,
    least: float,
    most: float,
    name: str,
) -> None:
    job, _, _ = of(example, **{"shop.measuring": {"micrometers": owned}})
    shop = Workshop(job)
    gauge = Gauges(shop).gauge("outside", limits(low, high))
    assert gauge is not None and gauge.name == name and gauge.kind == "outside"
    assert (gauge.least_mm, gauge.most_mm) == pytest.approx((least, most))
    mine = any(
        a <= (low + high) / 2 / (IN if example == "inch-lathe" else 1) <= b for a, b in owned
    )
    said = [(one.part, one.what, one.remedy) for one in shop.missing]
    assert said == (
        [] if mine else [("", f"a {name}", "Borrow one, or set calipers by gauge blocks")]
    )


def test_what_no_instrument_spans_is_tried_with_what_is_made_to_size(job_with: JobWith) -> None:
    gauges = Gauges(Workshop(job_with()))
    # a bore of 200, a shaft of 400 to a hundredth, a gap of 150: past all that a small shop has
    bore = gauges.diameter(limits(200.0, 200.01), "a.bore", True, "so")
    assert (bore.gauge.name, bore.gauge.kind) == ("plug gauge turned to size", "inside")
    assert (bore.gauge.least_mm, bore.gauge.most_mm, bore.gauge.resolution_mm) == (0, 1000, 0.001)
    assert bore.what == "200.00 to 200.01 mm" and bore.how == "so"
    assert (bore.low_mm, bore.high_mm, bore.start, bore.end) == (200.0, 200.01, "a.bore", "a.bore")
    shaft = gauges.diameter(limits(400.0, 400.01), "a.round", False)
    assert (shaft.gauge.name, shaft.gauge.kind, shaft.kind) == (
        "the mating part",
        "outside",
        "outside",
    )
    gap = gauges.length(limits(150.0, 150.02), "a.-x", "b.+x", "gap")
    assert (gap.gauge.name, gap.kind) == ("gauge blocks", "inside")
    assert (gap.gauge.least_mm, gap.gauge.most_mm, gap.gauge.resolution_mm) == (0, 300, 0.001)
    assert (gap.start, gap.end) == ("a.-x", "b.+x")
    # gauge blocks begin at 1 mm, leaves go by 0.05: a slit of 1 by these, a wall level with a seat
    # by an indicator run from one to the other (common practice)
    slit = gauges.length(limits(0.7, 1.3), "a.-x", "b.+x", "gap")
    assert (slit.gauge.name, slit.gauge.most_mm) == ("feeler gauge", 2.0)
    level = gauges.length(limits(0.0, 0.03), "a.-x", "b.+x", "height")
    assert (level.gauge.name, level.gauge.most_mm) == ("dial indicator", 1.0)
    # and where the limits lie on both sides of the thinnest block, by one of the longer travel: a dial
    # gauge of 10 mm in hundredths (ISO 463, from memory)
    near = gauges.length(limits(0.985, 1.025), "a.-x", "b.+x", "height")
    assert (near.gauge.name, near.gauge.most_mm) == ("dial indicator", 10.0)
    assert near.gauge.resolution_mm <= (1.025 - 0.985) / 4 + 1e-9
    # a shop without one is to get one: no block is so thin there either
    bare = Gauges(Workshop(job_with(**{"shop.measuring": {"dial_indicator": False}})))
    assert bare.length(limits(0.0, 0.03), "a.-x", "b.+x", "height").gauge == level.gauge


@pytest.mark.parametrize(
    ("kind", "low", "high", "name"),
    [
        # a caliper is sure to 0.03 outside: limits 0.12 apart are read by it, whatever sums leave of
        # them in binary (10.12 less 10 is 0.1199999); 0.119 wants a micrometer
        ("outside", 10.0, 10.12, "vernier caliper"),
        ("outside", 10.0, 10.119, "micrometer 0 to 25 mm"),
        ("outside", 10.0, 10.12 - 0.95e-9, "vernier caliper"),
        ("outside", 10.0, 10.12 - 1.05e-9, "micrometer 0 to 25 mm"),
        # between shoulders it is sure to 0.05 and reads 0.02: it is used down to 0.08, there being none
        # better
        ("length", 20.0, 20.08, "vernier caliper"),
        ("length", 20.0, 20.079, None),
        ("length", 10.0, 10.08 - 0.95e-9, "vernier caliper"),
        ("length", 10.0, 10.08 - 1.05e-9, None),
        # a drill's shank tells half a tenth: limits of 0.2 and a caliper no longer
        ("inside", 4.0, 4.2, "drill shanks as plugs"),
        ("inside", 4.0, 4.199, "small-hole gauge and micrometer"),
        # no caliper goes into 4 mm; what is turned to size only where nothing that reads will do
        ("inside", 4.0, 4.008, "small-hole gauge and micrometer"),
        ("inside", 2.0, 2.012, "plug gauge turned to size"),
    ],
)
def test_an_instrument_is_sure_to_a_quarter_of_the_limits(
    job_with: JobWith, kind: str, low: float, high: float, name: str | None
) -> None:
    found = Gauges(Workshop(job_with())).gauge(kind, limits(low, high))
    assert (found.name if found else None) == name


def test_what_sums_leave_is_forgiven(job_with: JobWith) -> None:
    """A millionth of a millimetre of a size, a billionth of a band or a place: no more than that."""
    shop = Workshop(job_with(**{"shop.drills": [14, 20], "shop.end_mills": [6, 10]}))
    for less, end_mill, drill in (
        (0.0, 6.0, 14.0),
        (9.5e-7, 6.0, 14.0),
        (1.05e-6, 6.0, 13.0),  # one of 6 is bought
        (1e-3, 5.0, 13.0),  # sold by whole millimetres (common practice)
    ):
        assert shop.end_mill(6.0 - less).diameter_mm == end_mill
        found = shop.drill(14.0 - less)
        assert found is not None and found.diameter_mm == drill
    # a file holds 0.062 at 33
    assert shop.attains("file", 0.062 - 9.5e-10, 33.0) and not shop.attains(
        "file", 0.062 - 1.05e-9, 33.0
    )
    for off, axial in ((9.5e-10, True), (1.05e-9, False)):
        for origin in ((0.0, off, 0.0), (0.0, 0.0, off)):
            bore = f.Bore(name="b", datum="A", axis=Axis(origin, "+x"), depth_mm=5.0,
                          diameter=f.general(8.0))  # fmt: skip
            assert is_axial(bore) is axial
    thread = f.Thread(name="t", datum="A", start_mm=10.0, end_mm=20.0, thread="M8")
    for before, reached in ((9.5e-7, True), (1.05e-6, False)):
        collar = f.TurnedDiameter(name="c", datum="A", start_mm=10.0 - before, end_mm=20.0,
                                  diameter=f.general(9.0))  # fmt: skip
        stock = Stock(Section("round", 20.0), 40.0, "S355")
        assert from_one_end(Member("m", stock, Frame(), (thread, collar))) is reached


def test_only_what_is_turned_counts_as_turned() -> None:
    # from 10 to 72 of 90 is less than seven tenths, though it ends beyond them; 10 to 73 is that
    stock = Stock(Section("round", 18.0), 90.0, "S355")
    ends = f.FacedLength(name="ends", datum="A", length=f.general(90.0))
    for end, way in ((72.0, Way.CHUCK), (73.0, Way.PARTED)):
        one = f.TurnedDiameter(name="d", datum="A", start_mm=10.0, end_mm=end,
                               diameter=f.general(16.0))  # fmt: skip
        assert holding(Member("m", stock, Frame(), (ends, one)), False, METRIC).hold is way


# ---- the order ----


def test_a_search_that_is_cut_short_takes_the_machine_that_leaves_least() -> None:
    # b after c's own step: c, then both of b. b first would be b, c, b
    assert fewest("cbb", {2: {0}}, {}, 0).cost == 2
    # a journey to d counts a thousand, and comes once whatever the order: c, a and d are three runs
    assert fewest("cada", {1: {0}}, {"d": 1000}, 0).cost == 1002
    # what is left at the least is said before anything is looked into
    chain = {i: {i - 1} for i in range(1, 6)}
    assert fewest("ababab", chain, {}, 0).least == 6


def test_what_is_put_off_is_bounded_so_that_few_states_are_looked_into() -> None:
    # eight lines of a, b, c in turn: three runs do them all, and every state on the way costs least
    machines = "abc" * 8
    before = {i: {i - 1} for i in range(24) if i % 3}
    found = fewest(machines, before, {}, 4)
    assert found.cost == found.least == 3
    assert [name for name, _ in found.runs] == ["a", "b", "c"]
    # b then a, and a then b: whichever is begun with is gone back to; one state told as much
    against = fewest("baab", {1: {0}, 3: {2}}, {}, 1)
    assert against.cost == against.least == 3


def test_a_journey_and_the_changes_beside_it() -> None:
    # one journey among four runs: three changes; two among nine: eight
    assert JOURNEY == 1000 and changes(1003) == 3 and changes(2007) == 8 and changes(5) == 4


def test_things_of_two_set_ups_are_one_line_that_names_both() -> None:
    job, _, route = shop("a lathe alone")
    items = outfit(route, job)
    (blue,) = (i for i in items if (i.kind, i.name) == ("consumable", "marking blue"))
    wanted = [
        n
        for n, s in enumerate(route.setups, 1)
        if any(o.tool.kind in ("ink", "scraper") for o in s.ops)
    ]
    assert blue == Item("consumable", "marking blue", tuple(wanted), "look", "") and len(wanted) > 1
    others = {one.name: one.instead for one in items if one.kind == "other"}
    assert others == {
        "a slitting saw 40 x 1.6 mm": "Buy one with an arbor",
        "a bench grinder": "Have the bit ground, then hone it yourself",
        "a welder": "Take the pieces with their weld sheets (housing, rotating body, sliding head),"
        " in 2 journeys",
    }
    # who takes the pieces to a welder buys no filler; who welds here does, each once
    assert not [one for one in items if one.name.startswith("filler")]
    own, whole, here = shop("no mill")
    (filler,) = (one for one in outfit(here, own) if one.name.startswith("filler"))
    assert filler.name == "filler G3Si1 (ER70S-6)"
    assert len(filler.setups) == sum(isinstance(part.blank, Joined) for part in whole.parts)
    bits = [one.name for one in outfit(here, own) if one.name.startswith("HSS")]
    assert "HSS square 6 for the bit for the fly cutter" in bits and len(bits) == len(set(bits))


def test_a_stub_goes_over_to_the_dividing_head_in_its_chuck() -> None:
    # a stub taken out of the chuck that it was turned in runs true no more (common practice)
    for name in ("no mill", "everything", "a school"):
        _, _, route = shop(name)
        for aid in route.aids:
            if aid.name == "stub mandrel":
                machine = route.setups[aid.setup - 1].machine
                assert ("the chuck it is used in" in aid.made) == (machine == "lathe")
                assert ("goes over to the dividing head" in aid.made) == (machine != "lathe")
    used = {route.setups[a.setup - 1].machine for _, _, route in map(shop, ("everything",))
            for a in route.aids if a.name == "stub mandrel"}  # fmt: skip
    assert used == {"mill"}


def test_a_stub_goes_over_to_the_rotary_table_where_that_divides() -> None:
    # there is no dividing head for it to go to
    machines = {"mill": {"speeds": [500, 930]}, "rotary table": {}}
    bare = {"shop.dividing_head_ratio": None, "lathe.change_gears": [20, 30]}
    _, _, route = of(**{"shop.machines": machines} | bare)
    (aid,) = (one for one in route.aids if one.name == "stub mandrel")
    assert "a chuck that goes over to the rotary table with it" in aid.made
    assert "dividing head" not in aid.made


@pytest.mark.parametrize(
    ("aid", "said"),
    [  # size, name, stock, how it is made
        (("13 mm", "flat drill 13 mm", "round 13", "a second drill"), ""),
        (("15 mm", "boring bar Ø15 between centres", "round 18", "centred"), ""),
        (("5 mm, 17 mm long", "bit for the bar Ø15", "round 5", "ground"), "17 mm long"),
        (("8 mm", "setting gauge", "round 25", "a hole of 8 mm along it"), ""),
        (("24 mm", "split bush", "round 35", "bored to the work"), "24 mm"),
        (("1 mm", "flat drill 1.1 mm", "round 10", "a hole of 11 mm"), "1 mm"),
        (("3/8 in", "boring bar Ø3/8 in", "round 1/2", "centred"), ""),
        (("1/8 in", "bit", "round 3/8", "ground"), "1/8 in"),
        (("3/8 in", "mandrel", "round 1-3/8", "turned"), "3/8 in"),
        (("M8x1", "gauge nut", "round 8", "tapped M8x1"), "M8x1"),
    ],
)
def test_a_size_of_an_aid_is_said_once(aid: tuple[str, str, str, str], said: str) -> None:
    """As it was: "flat drill 13 mm, 13 mm, HSS, round 13"."""
    assert size_said(*aid) == said
