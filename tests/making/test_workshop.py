"""What the shop does the work with and how it holds it, by hand: machines, speeds, gauges, allowances.

Speeds: n = 1000 v / (pi d) with the cutting speeds of handbooks, worked out beside each. Allowances and
ways of holding are common practice, and are typed here as numbers.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from parts import features as f
from parts.attachment import attachment
from parts.features import FacedLength, Stage, TurnedDiameter, general
from parts.frame import Axis, Frame
from parts.part import Datum, Member, Part, Stock
from parts.standard.fits import Limits
from parts.standard.sections import Section
from parts.standard.series import METRIC
from planner.job.tables import Job
from planner.making.holding import Hold, Holding, from_sheet, holding, holdings, is_axial
from planner.making.machines import Speed, Workshop
from planner.making.order import comes_after
from planner.making.pieces import plan_part
from planner.making.route import route
from planner.making.sequence import Nodes
from planner.output.topics import topic
from planner.sizing.apply import size_up

JobWith = Callable[..., Job]

# ---- machines ----

ALL = {name: {} for name in ("mill", "drill press", "bandsaw", "welder", "grinder")}


@pytest.mark.parametrize(
    ("work", "owned", "bare"),
    [
        ("turn", "lathe", "lathe"),
        ("mill", "mill", "bench: saw and file"),
        ("drill", "mill", "lathe, work on the cross slide"),
        ("slit", "mill", "bench: hacksaw"),
        ("saw", "bandsaw", "bench: hacksaw"),
        ("weld", "welder", "a welder's shop"),
        ("grind", "grinder", "bench: oilstone"),
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
    assert shop.speeds("lathe, work on the cross slide") == shop.speeds("lathe") == lathe
    assert shop.speeds("bench") == shop.speeds("bench: hacksaw") == []


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
    assert shop.speed("mill", "HSS", "S355", 16.0, "bench: saw and file") == Speed(None, 0.0)
    assert shop.speed("tap", "carbide", "S355", 6.0, "lathe") == Speed(
        None, 0.0, "no cutting speed known for S355: start slow"
    )


@pytest.mark.parametrize(
    ("band", "nominal", "inside", "gauge"),
    [
        # a caliper repeats to a few hundredths: it is trusted with bands over 0.12 (common practice)
        (0.121, 20.0, False, "vernier caliper"),
        (0.121, 20.0, True, "vernier caliper"),
        (0.119, 20.0, False, "micrometer 0 to 25 mm"),
        (0.119, 25.0, False, "micrometer 25 to 50 mm"),
        (0.119, 55.0, False, "micrometer 50 to 75 mm"),
        # telescoping gauges begin at 8 mm (common practice)
        (0.119, 8.0, True, "telescoping gauge and micrometer"),
        (0.119, 7.9, True, "plug gauge"),
    ],
)
def test_the_gauge_by_its_band(
    job_with: JobWith, band: float, nominal: float, inside: bool, gauge: str
) -> None:
    size = Limits(nominal, band / 2, -band / 2, "")
    assert Workshop(job_with()).gauge(size, inside) == gauge


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
        # 1 mm to face on each sawn end; the grip is 0.7 diameters and at least 15 mm, in whole mm
        (bar("round", 18.0, 82.0, cylinder(0, 82)), False, Holding(Hold.PARTED, 2.0, 15.0)),
        (bar("round", 28.0, 22.0, cylinder(0, 20)), False, Holding(Hold.PARTED, 2.0, 20.0)),
        (bar("round", 40.0, 22.0, cylinder(0, 20)), False, Holding(Hold.PARTED, 2.0, 28.0)),
        # covered by turning to seven tenths it is made on the end of a bar, below that from its ends
        (bar("round", 18.0, 100.0, cylinder(0, 70)), False, Holding(Hold.PARTED, 2.0, 15.0)),
        (bar("round", 18.0, 100.0, cylinder(0, 69)), False, Holding(Hold.CHUCK, 2.0, 0.0)),
        # welded and less than half turned: it is finished between centres
        (bar("round", 25.0, 100.0, cylinder(0, 49)), True, Holding(Hold.CENTRES, 2.0, 0.0)),
        (bar("round", 25.0, 100.0, cylinder(0, 50)), True, Holding(Hold.PARTED, 2.0, 18.0)),
        (bar("tube", 35.0, 50.0), True, Holding(Hold.CHUCK, 2.0, 0.0)),
        (bar("square", 16.0, 96.0), True, Holding(Hold.VICE, 2.0, 0.0)),
        # tool steel is ground, not faced
        (bar("square", 6.0, 40.0, metal="HSS"), False, Holding(Hold.ASIS, 0.0, 0.0)),
    ],
)
def test_how_a_piece_is_held(member: Member, welded: bool, held: Holding) -> None:
    assert holding(member, welded, METRIC) == held


def test_what_is_not_faced_is_as_bought() -> None:
    plain = Member("bar", Stock(Section("round", 20.0), 50.0, "S355"), Frame())
    assert holding(plain, False, METRIC) == Holding(Hold.ASIS, 0.0, 0.0)


def test_the_words_of_holding() -> None:
    assert {hold.name: str(hold) for hold in Hold} == {
        "PARTED": "chuck, on a spare grip that is parted off last",
        "BAR": "chuck, the bar through the spindle, parted off from it; one grip a bar",
        "CENTRES": "between centres",
        "CHUCK": "chuck, both ends faced first",
        "VICE": "vice",
        "ASIS": "as bought",
    }


@pytest.mark.parametrize(("bore", "through"), [(16.0, True), (15.9, False), (None, False)])
def test_a_bar_that_goes_through_the_spindle_is_turned_from_it(
    job_with: JobWith, bore: float | None, through: bool
) -> None:
    # the feed screw is 16 mm and alone of its section
    job = job_with(**{"lathe.spindle_bore": bore})
    held = holdings(attachment(size_up(job, "job.toml").sizes), job)
    one = held["feed-screw", "feed-screw"]
    assert one == Holding(Hold.BAR if through else Hold.PARTED, 2.0, 15.0)


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


# ---- order ----


def test_what_waits_for_what() -> None:
    diameter, inside = cylinder(0, 20), cylinder(5, 10)

    def thread(start: float, end: float, **more: Any) -> f.Thread:
        return f.Thread(name="t", datum="A", start_mm=start, end_mm=end, thread="M8", **more)

    axis = Axis()
    bore = f.Bore(name="b", datum="A", axis=axis, depth_mm=5.0, diameter=general(8.0))
    tapped = f.TappedHole(name="m", datum="A", axis=axis, depth_mm=5.0, thread="M6")
    face = f.FacedShoulder(name="f", datum="A", start_mm=0, end_mm=1, diameter=general(20.0))
    # a thread is cut on its own diameter, after it
    assert comes_after(thread(0, 20), diameter) and comes_after(thread(5, 10), diameter)
    assert not comes_after(thread(0, 20), inside) and not comes_after(thread(5, 11), inside)
    assert not comes_after(thread(4, 10), inside) and not comes_after(diameter, thread(0, 20))
    # a face after the bore it is square to; what is later by stage is later
    assert comes_after(face, bore) and not comes_after(bore, face)
    assert comes_after(thread(0, 5, stage=Stage.WELDED), bore)
    assert not comes_after(bore, thread(0, 5, stage=Stage.WELDED))
    box = f.Box((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))
    slot = f.MilledSlot(name="s", datum="A", box=box, width=general(5.0))
    assert comes_after(tapped, slot) and not comes_after(slot, tapped)
    scale = f.EngravedScale(
        name="e", datum="A", start_mm=0, end_mm=5, diameter=general(20.0), divisions=50,
        line_width_mm=0.2,
    )  # fmt: skip
    assert comes_after(scale, bore) and comes_after(scale, diameter)


# ---- pieces ----


def planned(job: Job, member: Member, held: Holding) -> list[tuple[str, str, str, str]]:
    """Kind, text, holding and tool of every step of one piece."""
    part = Part(name="bar", title="Bar", blank=member.blank, features=member.features,
                datums={"A": Datum("blank", "axis", "axis")}, colour=(0, 0, 0))  # fmt: skip
    nodes = Nodes()
    plan_part(part, {("bar", "bar"): held}, Workshop(job), nodes)
    return [(n.step.kind, n.step.text, n.step.holding, n.step.tool) for n in nodes.all]


def test_a_piece_on_a_spare_grip(job_with: JobWith) -> None:
    # 82 long: sawn 82 + 2 x 1 to face + 15 to hold by; parted off 1 mm long, and faced to length
    piece = bar("round", 18.0, 82.0, cylinder(0, 82))
    made = planned(job_with(), piece, holding(piece, False, METRIC))
    grip = "chuck, by the spare grip"
    assert made == [
        ("saw", "saw round 18 S355, 99 mm", "saw vice", "saw"),
        ("face", "chuck by the spare 15 mm, face the first end, 1 mm off", grip, "facing tool"),
        ("turn", "turn d0 Ø10 (0/-0.1) x 82", grip, "HSS turning tool"),
        ("part", "part off at 83 mm", grip, "parting tool"),
        ("end", "face the ends to length 82", "chuck, on the made end", "facing tool"),
    ]


def test_a_piece_off_the_bar(job_with: JobWith) -> None:
    # out of the chuck: 82 + 2 to face + 3 for the parting tool
    piece = bar("round", 18.0, 82.0, cylinder(0, 82))
    made = planned(job_with(), piece, Holding(Hold.BAR, 2.0, 15.0))
    assert made[0] == (
        "face",
        "chuck the bar round 18 S355 through the spindle, 87 mm out, face the first end, 1 mm off",
        "chuck, the bar through the spindle",
        "facing tool",
    )
    assert ("part", "part off at 83 mm", made[0][2], "parting tool") in made
    assert "saw" not in {step[0] for step in made}


def test_a_shaft_between_centres(job_with: JobWith) -> None:
    piece = bar("round", 25.0, 100.0, cylinder(0, 40))
    made = planned(job_with(), piece, Holding(Hold.CENTRES, 2.0, 0.0))
    assert made[0][1:] == ("saw round 25 S355, 102 mm", "saw vice", "saw")
    assert made[1][1:] == ("face the ends to length 100", "chuck", "facing tool")
    assert made[2] == ("centre", "centre-drill both ends", "chuck", "centre drill")
    assert {step[2] for step in made[3:]} == {"between centres"}


def test_tool_steel_is_cut_off_and_a_flat_is_cut_by_its_dxf(job_with: JobWith) -> None:
    hard = bar("square", 6.0, 40.5, metal="HSS")
    cut = planned(job_with(), hard, Holding(Hold.ASIS, 0.0, 0.0))[0]
    assert cut == (
        "saw",
        "cut off with an abrasive wheel square 6 HSS, 40.5 mm",
        "saw vice",
        "abrasive wheel",
    )
    flat = planned(job_with(), bar("flat", 25.0, 61.0), Holding(Hold.VICE, 2.0, 0.0))[0]
    assert flat == (
        "saw",
        f"cut the outline of the bar from 8 mm S355 plate by its DXF ({topic('flat').folder}/); grind"
        " the edges, a torch leaves them hard",
        "sheet",
        "plasma table, or saw",
    )


# ---- cautions ----


def test_cautions_stand_with_their_work(job_with: JobWith) -> None:
    job = job_with()
    ops = route(attachment(size_up(job, "job.toml").sizes), job)
    wanted = {
        "weld": "Weld away from oil and chips; screen, ventilation; by a competent welder to local"
        " rules",
        "grind": "Goggles; rest close to the wheel",
        "part": "Slow, tool on centre; stand clear",
        "engrave": "Spindle off and locked",
        "slit": "Clamp well; slow; goggles",
    }
    kinds = {op.kind for op in ops}
    assert set(wanted) <= kinds
    for op in ops:
        assert op.caution == wanted.get(op.kind, ""), op.text


def test_medium_carbon_steel_is_preheated(job_with: JobWith) -> None:
    # C45 cracks beside a weld that cools fast: preheat (common practice for 0.45 % carbon)
    job = job_with(**{"materials.shaft": "C45"})
    ops = route(attachment(size_up(job, "job.toml").sizes), job)
    preheated = [op for op in ops if "preheat by the steel maker's sheet" in op.caution]
    # the shaft and the rod are of the material of shafts, each welded to structural steel
    assert {op.text.split(":")[0] for op in preheated} == {"shaft weld", "rod weld"}
