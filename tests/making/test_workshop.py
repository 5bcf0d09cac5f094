"""What the shop does the work with and how it holds it, by hand: machines, speeds, gauges, allowances.

Speeds: n = 1000 v / (pi d) with the cutting speeds of handbooks, worked out beside each. Allowances and
ways of holding are common practice, and are typed here as numbers.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from parts import features as f
from parts.attachment import attachment
from parts.features import FacedLength, TurnedDiameter, general
from parts.frame import Axis, Frame
from parts.part import Member, Stock
from parts.standard.sections import Section
from parts.standard.series import METRIC
from planner.job.tables import Job
from planner.making.holding import Hold, Holding, from_sheet, holding, holdings, is_axial
from planner.making.route import route
from planner.making.workshop import Speed, Workshop
from planner.sizing.apply import size_up

JobWith = Callable[..., Job]

# ---- machines ----

ALL = {name: {} for name in ("mill", "drill press", "bandsaw", "welder", "grinder")}


@pytest.mark.parametrize(
    ("work", "owned", "bare"),
    [
        ("turn", "lathe", "lathe"),
        ("mill", "mill", "lathe, on the cross slide"),
        ("drill", "mill", "lathe, on the cross slide"),
        ("slit", "mill", "lathe, on the cross slide"),
        ("saw", "bandsaw", "hacksaw"),
        ("weld", "welder", "a welder's shop"),
        ("grind", "grinder", "a shop with a grinder"),
        ("bench", "bench", "bench"),
    ],
)
def test_the_machine_for_each_kind_of_work(
    job_with: JobWith, work: str, owned: str, bare: str
) -> None:
    assert Workshop(job_with(**{"shop.machines": ALL})).machine(work) == owned
    assert Workshop(job_with(**{"shop.machines": {}})).machine(work) == bare


def test_without_a_mill_holes_go_to_the_drill_press(job_with: JobWith) -> None:
    shop = Workshop(job_with(**{"shop.machines": {"drill press": {"speeds": [500]}}}))
    assert shop.machine("drill") == "drill press" and shop.speeds("drill press") == [500]
    # whatever is done on the lathe runs at the lathe's own speeds
    lathe = [80, 140, 220, 340, 520, 800, 1250, 1900]
    assert shop.speeds("lathe, on the cross slide") == shop.speeds("lathe") == lathe
    assert shop.speeds("milling slide") == lathe  # it sits on the lathe, the cutter in its spindle
    assert shop.speeds("bench") == shop.speeds("hacksaw") == []


@pytest.mark.parametrize(
    ("operation", "tool", "metal", "diameter", "machine", "rpm"),
    [
        # mild steel with HSS 25 to 45 m/min: at 25 mm 318 to 573, its middle 446: 520 is nearer than
        # 340 in ratio (520/446 = 1.17, 446/340 = 1.31)
        ("turn", "HSS", "S355", 25.0, "lathe", 520),
        # brass 45 to 120: at 24 mm 597 to 1592, middle 1094: 1250 (1.14) before 800 (1.37)
        ("turn", "HSS", "CW614N", 24.0, "lathe", 1250),
        # C45 20 to 30 turned, parted at 0.4 to 0.6 of it, 8 to 18: at 16 mm 159 to 358, middle 259:
        # 220 (1.18) before 340 (1.31)
        ("part", "HSS", "C45", 16.0, "lathe", 220),
        # knurled at the same
        ("knurl", "HSS", "C45", 16.0, "lathe", 220),
        # threads by hand at about 120: 140 is nearer than 80
        ("thread", "HSS", "S355", 8.0, "lathe", 140),
        # drills: mild steel 21.336 to 36 m/min; 9.8 mm: 693 to 1169, middle 931: 930 is on the mill
        ("drill", "HSS", "S355", 9.8, "mill", 930),
        # reamed at 13.716 to 18.288: 10 mm 437 to 582, middle 509: 500
        ("ream", "HSS", "S355", 10.0, "mill", 500),
        # end mills 25 to 35: 16 mm 497 to 696, middle 597: 500 (1.19) before 930, which is over
        ("mill", "HSS", "S355", 16.0, "mill", 500),
        # carbide 150 to 250 in mild steel: 25 mm 1910 to 3183; 1900 is the fastest there is
        ("turn", "carbide", "S355", 25.0, "lathe", 1900),
    ],
)
def test_speeds_worked_out_by_hand(
    job_with: JobWith,
    operation: str,
    tool: str,
    metal: str,
    diameter: float,
    machine: str,
    rpm: float,
) -> None:
    found = Workshop(job_with()).speed(operation, tool, metal, diameter, machine)
    assert found.rpm == rpm and found.caution == ""
    assert found.surface_m_min == pytest.approx(3.14159265 * diameter * rpm / 1000, rel=1e-6)


def test_too_fast_at_the_slowest_is_cautioned(job_with: JobWith) -> None:
    # 200 mm in mild steel at 80 rev/min: 50.3 m/min, over 45
    found = Workshop(job_with()).speed("turn", "HSS", "S355", 200.0, "lathe")
    assert found.rpm == 80 and found.caution == (
        "slowest speed gives 50 m/min, over 45: light cuts and plenty of oil"
    )
    # and just within: 80 rev/min at 45 m/min is 179.05 mm
    assert Workshop(job_with()).speed("turn", "HSS", "S355", 179.0, "lathe").caution == ""
    assert Workshop(job_with()).speed("turn", "HSS", "S355", 179.1, "lathe").caution != ""


def test_hand_work_has_no_speed_and_an_unknown_one_says_so(job_with: JobWith) -> None:
    shop = Workshop(job_with())
    assert shop.speed("mill", "HSS", "S355", 16.0, "bench") == Speed(None, 0.0)
    assert shop.speed("tap", "carbide", "S355", 6.0, "lathe") == Speed(
        None, 0.0, "", "no cutting speed known for S355: start slow"
    )


# ---- holding ----


def bar(
    shape: str, width: float, length: float, *features: f.Feature, metal: str = "S355"
) -> Member:
    thickness = 0.0 if shape in ("round", "square") else 8.0
    ends = FacedLength(name="ends", datum="A", length=general(length))
    section = Section(shape, width, thickness)  # type: ignore[arg-type]
    return Member("bar", Stock(section, length, metal), Frame(), features=(ends, *features))


def cylinder(start: float, end: float) -> TurnedDiameter:
    return TurnedDiameter(
        name=f"d{start:g}",
        datum="A",
        start_mm=start,
        end_mm=end,
        diameter=METRIC.within(10.0, 0.0, -0.1),
    )


@pytest.mark.parametrize(
    ("member", "welded", "held"),
    [
        # 1 mm to face on each sawn end; a parting tool of 3 and 1 clear of the jaws; gripped six tenths
        # of the diameter where it stands out no more than one and a half, else a whole diameter, and at
        # least 15 in all. 82 out of 18 is over four diameters: on the centre
        (bar("round", 18.0, 82.0, cylinder(0, 82)), False, Holding(Hold.PARTED, 2.0, 22.0, True)),
        (bar("round", 28.0, 22.0, cylinder(0, 20)), False, Holding(Hold.PARTED, 2.0, 21.0)),
        (bar("round", 40.0, 22.0, cylinder(0, 20)), False, Holding(Hold.PARTED, 2.0, 28.0)),
        (bar("round", 12.0, 30.0, cylinder(0, 30)), False, Holding(Hold.PARTED, 2.0, 16.0)),
        # covered by turning to seven tenths it is made on the end of a bar, below that from its ends
        (bar("round", 18.0, 90.0, cylinder(0, 63)), False, Holding(Hold.PARTED, 2.0, 22.0, True)),
        (bar("round", 18.0, 90.0, cylinder(0, 62)), False, Holding(Hold.CHUCK, 2.0, 0.0)),
        # ten diameters of 10 mm are the most on a centre: 95 + 5 out, and no more
        (bar("round", 18.0, 95.0, cylinder(0, 95)), False, Holding(Hold.PARTED, 2.0, 22.0, True)),
        (bar("round", 18.0, 96.0, cylinder(0, 96)), False, Holding(Hold.CHUCK, 2.0, 0.0)),
        (bar("round", 25.0, 100.0, cylinder(0, 49)), True, Holding(Hold.CHUCK, 2.0, 0.0)),
        (bar("tube", 35.0, 50.0), True, Holding(Hold.CHUCK, 2.0, 0.0)),
        (bar("square", 16.0, 96.0), True, Holding(Hold.VICE, 2.0, 0.0)),
        # tool steel is ground, not faced
        (bar("square", 6.0, 40.0, metal="HSS"), False, Holding(Hold.ASIS, 0.0, 0.0)),
    ],
)
def test_how_a_piece_is_held(member: Member, welded: bool, held: Holding) -> None:
    assert holding(member, welded, METRIC) == held


def threaded(start: float, end: float) -> f.Thread:
    return f.Thread(name="t", datum="A", start_mm=start, end_mm=end, thread="M8")


def test_a_thread_behind_a_collar_is_not_reached_from_one_end() -> None:
    # a die or a threading tool does not pass a collar of 14 to a thread of 8 behind it
    collar = TurnedDiameter(
        name="collar", datum="A", start_mm=0.0, end_mm=5.0, diameter=general(14.0)
    )
    before = bar("round", 16.0, 40.0, collar, cylinder(5, 40), threaded(20, 40))
    assert holding(before, False, METRIC).hold is Hold.CHUCK
    after = bar("round", 16.0, 40.0, cylinder(0, 35), replace(collar, start_mm=35.0, end_mm=40.0),
                threaded(0, 20))  # fmt: skip
    assert holding(after, False, METRIC).hold is Hold.PARTED
    # nor a hole that goes in at the end that is parted off
    hole = f.TappedHole(
        name="h", datum="A", axis=Axis((40.0, 0, 0), "-x"), depth_mm=8.0, thread="M6"
    )
    assert (
        holding(bar("round", 16.0, 40.0, cylinder(0, 40), hole), False, METRIC).hold is Hold.CHUCK
    )


def test_what_is_not_faced_is_as_bought() -> None:
    plain = Member("bar", Stock(Section("round", 20.0), 50.0, "S355"), Frame())
    assert holding(plain, False, METRIC) == Holding(Hold.ASIS, 0.0, 0.0)


def test_the_words_of_holding() -> None:
    assert {hold.name: str(hold) for hold in Hold} == {
        "PARTED": "chuck, on a spare grip that is parted off last",
        "BAR": "chuck, the bar through the spindle, parted off from it; one grip a bar",
        "CHUCK": "chuck, one end after the other",
        "VICE": "vice",
        "ASIS": "as bought",
    }


@pytest.mark.parametrize(("bore", "through"), [(10.2, True), (10.1, False), (None, False)])
def test_a_bar_that_goes_through_the_spindle_is_turned_from_it(
    job_with: JobWith, bore: float | None, through: bool
) -> None:
    # the clamp's lever is of 10 mm bar, and so is the handle, which is made from both its ends: another
    # metal for the one parts them
    job = job_with(**{"lathe.spindle_bore": bore})
    made = attachment(size_up(job, "job.toml").sizes)
    held = holdings(made, job)
    both = {held["clamp-lever", "clamp-lever"].hold, held["handle", "handle"].hold}
    assert both == {Hold.PARTED, Hold.CHUCK}
    alone = replace(
        made, placed=tuple(p for p in made.placed if getattr(p.item, "name", "") != "handle")
    )
    one = holdings(alone, job)["clamp-lever", "clamp-lever"]
    assert one.hold is (Hold.BAR if through else Hold.PARTED) and one.grip_mm == 15.0


def test_what_is_cut_from_a_sheet_is_of_its_thickness(job_with: JobWith) -> None:
    job = job_with()  # an 8 mm sheet of S355 and a 3 mm one of S235 lie there
    assert from_sheet(Stock(Section("flat", 25.0, 8.0), 60.0, "S355"), job)
    assert not from_sheet(Stock(Section("flat", 25.0, 8.0), 60.0, "S235"), job)
    assert not from_sheet(Stock(Section("flat", 25.0, 8.02), 60.0, "S355"), job)
    assert not from_sheet(Stock(Section("tube", 25.0, 8.0), 60.0, "S355"), job)


def test_lathe_work_lies_about_the_bars_own_axis() -> None:
    for axis, own in (
        (Axis(), True),
        (Axis((5.0, 0.0, 0.0), "-x"), True),
        (Axis((0.0, 0.1, 0.0), "+x"), False),
        (Axis((0.0, 0.0, 0.1), "+x"), False),
        (Axis((0.0, 0.0, 0.0), "+y"), False),
    ):
        one = f.Bore(name="b", datum="A", axis=axis, depth_mm=5.0, diameter=general(8.0))
        assert is_axial(one) is own
    assert not is_axial(FacedLength(name="ends", datum="A", length=general(8.0)))


# ---- cautions ----


def test_cautions_stand_with_their_work(job_with: JobWith) -> None:
    # each common practice: what hurts people at these kinds of work
    job = job_with()
    ops = route(attachment(size_up(job, "job.toml").sizes), job)
    wanted = {
        "grind": "the rest at most 2 mm off the wheel",
        "part": "Tool on centre and square",
        "engrave": "Spindle locked",
        "slit": "nothing is squeezed into the slit to hold it open",
        "die": "the switch off",
        "bevel": "No chlorinated cleaner near an arc",
    }
    said = {kind: [op for op in ops if words in op.caution] for kind, words in wanted.items()}
    assert all(said.values())
    for op in ops:
        if op.kind in ("grind", "part", "slit"):
            assert op in said[op.kind], op.text
        if op.tool.startswith("die ") or op.kind == "tap" and op.machine == "lathe":
            assert "switch off" in op.caution, op.text
        if op.kind == "dress" and "bright metal" in op.text:
            assert op in said["bevel"]


def test_medium_carbon_steel_is_preheated(job_with: JobWith) -> None:
    # C45 cracks beside a weld that cools fast: preheat (common practice for 0.45 % carbon)
    job = job_with(**{"materials.shaft": "C45"})
    ops = route(attachment(size_up(job, "job.toml").sizes), job)
    preheated = [op for op in ops if "preheat by the steel maker's sheet" in op.caution]
    # the shaft and the rod are of the material of shafts, each welded to structural steel; a tack is
    # the first arc on them
    assert {op.text.split(":")[0] for op in preheated if op.op.kind == "weld"} == {
        "shaft weld",
        "rod weld",
    }
    assert {op.text.split(" at ")[0] for op in preheated if op.op.kind == "tack"} == {
        "tack shaft to block",
        "tack rod to arm, foot to arm",
    }
