"""Steps of each feature type, every word and size of them written by hand, in mm and in inches.

What is left for a finishing cut, how far a drill stays under a reamer, which gauge reads how fine: all
common practice, said where it is typed. Sizes of drills are those of ISO 235 and ASME B94.11M.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from parts import features as f
from parts.features import Stage
from parts.frame import Axis, Box
from parts.standard.fits import Limits
from planner.job.tables import Job
from planner.making.machines import Workshop
from planner.making.steps import Step, Work, steps

JobWith = Callable[..., Job]
AXIS = Axis((0.0, 0.0, 0.0), "+x")
BOX = Box((0.0, 0.0, 0.0), (27.0, 42.0, 5.0))
ACROSS = "machine vice on parallels, edges set square"
PLACE = "in place: work on the cross slide, tool in the spindle"
LAID_OUT = "edge finder or scribed lines"


@pytest.fixture
def work(job_with: JobWith) -> Callable[..., Work]:
    """On the lathe's axis, 30 mm thick, in the metric shop; keys to change it."""

    def of(
        example: str = "bench-lathe", hole: float = 0.0, axial: bool = True, **changes: Any
    ) -> Work:
        return Work(Workshop(job_with(example, **changes)), 30.0, hole, axial)

    return of


def named(kind: type[f.Feature], /, **sizes: object) -> f.Feature:
    return kind(**{"name": "x", "datum": "A"} | sizes)  # type: ignore[arg-type]


def turned(kind: type[f.Feature], /, **sizes: object) -> f.Feature:
    return named(kind, **{"start_mm": 0.0, "end_mm": 40.0} | sizes)


def hole(kind: type[f.Feature], /, **sizes: object) -> f.Feature:
    return named(kind, **{"axis": AXIS, "depth_mm": 30.0} | sizes)


def within(nominal: float, upper: float, lower: float, name: str = "") -> Limits:
    return Limits(nominal, upper, lower, name)


# ---- ends and turned ----


def test_ends_are_faced_on_the_lathe_or_milled(work: Callable[..., Work]) -> None:
    ends = named(f.FacedLength, length=within(96.0, 0.3, -0.3, "ISO 2768-m"))
    measure = ("95.7 to 96.3 mm", "vernier caliper")
    text = "face the ends to length 96"
    assert steps(ends, work()) == (
        Step("end", "turn", text, "facing tool", "", ("face", 30.0), *measure),
    )
    # a 16 mm end mill is what a small mill carries (common practice)
    assert steps(ends, work(axial=False)) == (
        Step("end", "mill", text, "end mill", "", ("mill", 16.0), *measure),
    )


def test_a_fine_diameter_is_roughed_half_a_millimetre_or_a_64th_over(
    work: Callable[..., Work],
) -> None:
    # half a millimetre on the diameter is left for the finishing cuts (common practice)
    fine = turned(f.TurnedDiameter, diameter=within(20.0, -0.007, -0.02, "g6"))
    cut = ("turn", 30.0)
    assert steps(fine, work()) == (
        Step("turn", "turn", "rough turn x to Ø20.5", "HSS turning tool", "", cut),
        Step("turn", "turn", "turn x Ø20 g6 (-0.007/-0.02) x 40", "HSS turning tool", "", cut,
             "19.98 to 19.993 mm", "micrometer 0 to 25 mm"),
    )  # fmt: skip
    (rough, _) = steps(fine, work(**{"shop.tool_material": "carbide"}))
    assert rough.tool == "carbide turning tool"
    # 3/4 in and 1/64 more
    inch = turned(f.TurnedDiameter, diameter=within(19.05, 0.0, -0.021, "h7"))
    (rough, finish) = steps(inch, work("inch-lathe"))
    assert rough.text == "rough turn x to Ø49/64"
    assert finish.text == "turn x Ø3/4 h7 (0/-0.0008) x 1.575"
    assert (finish.measure, finish.gauge) == ("0.7492 to 0.75 in", "micrometer 0 to 1 in")


@pytest.mark.parametrize(("band", "cuts"), [(0.099, 2), (0.101, 1)])
def test_a_band_of_a_tenth_is_turned_in_one(
    work: Callable[..., Work], band: float, cuts: int
) -> None:
    feature = turned(f.TurnedDiameter, diameter=within(20.0, 0.0, -band))
    assert len(steps(feature, work())) == cuts


def test_a_shoulder_is_faced_flat(work: Callable[..., Work]) -> None:
    measure = "flat: no light under a straight edge across the face"
    gauge = "straight edge; dial indicator for run-out"
    size = within(20.0, 0.021, 0.0, "H7")
    for stage, tool in (
        (f.Stage.WELDED, "HSS facing tool"),
        (f.Stage.IN_PLACE, "facing cutter in the boring bar"),
    ):
        face = turned(f.FacedShoulder, stage=stage, start_mm=0.0, end_mm=0.5, diameter=size)
        assert steps(face, work()) == (
            Step("shoulder", "turn", "face the x: faced, 0.5 off", tool, "", ("face", 30.0),
                 measure, gauge),
        )  # fmt: skip


def test_threads_knurls_scales_and_balls(work: Callable[..., Work]) -> None:
    assert steps(turned(f.Thread, thread="M8x1"), work()) == (
        Step("thread", "turn", "screw-cut x M8x1 x 40",
             "threading tool, or a die after the first passes", "", ("thread", 8.0),
             "M8x1: nut runs without shake", "nut or thread gauge"),
    )  # fmt: skip
    size = within(24.0, 0.2, -0.2, "ISO 2768-m")
    assert steps(turned(f.Knurl, diameter=size, pitch_mm=1.0), work()) == (
        Step("knurl", "turn", "knurl straight knurl 1 pitch x 40", "straight knurl", "",
             ("knurl", 24.0), "full form, no double tracks", "eye"),
    )  # fmt: skip
    scale = turned(f.EngravedScale, diameter=size, divisions=50, line_width_mm=0.2)
    ways = ("by the 40:1 dividing head", "by a plate on the spindle")
    for ratio, how in zip((40, None), ways, strict=True):
        assert steps(scale, work(**{"shop.dividing_head_ratio": ratio})) == (
            Step("engrave", "turn", f"divide and cut 50 divisions on Ø24 {how}, spindle locked,"
                 " the tool on its side drawn along by the top slide; table: dial."
                 " Numbered counter-clockwise seen from its free end: at the nose they grow upward on"
                 " the side toward you. Numerals upright with the tip at the nose: along the dial's"
                 " axis, from the free end toward the index ring",
                 "pointed tool, 60 degrees, on its side", "", None,
                 "lines sharp, the last meets the first", "eye-glass"),
        )  # fmt: skip
    line = turned(
        f.IndexMark, diameter=size, angle_deg=135.0, line_width_mm=0.2, check=("square", "dividers")
    )
    assert steps(line, work()) == (
        Step("engrave", "turn", "cut the x, line 40 long on Ø24, spindle locked, the tool on its side"
             " drawn along by the top slide; ink it", "pointed tool, 60 degrees, on its side", "",
             None, "square", "dividers"),
    )  # fmt: skip
    ball = turned(f.TurnedBall, diameter=within(22.0, 0.1, -0.1))
    # no attachment is there yet for a ball that is part of it
    assert steps(ball, work()) == (
        Step("turn", "turn", "round the x: SØ22 ±0.1",
             "form tool, or turned off in steps and filed to a radius template", "", ("turn", 22.0),
             "21.9 to 22.1 mm", "vernier caliper"),
    )  # fmt: skip
    assert steps(replace(ball, stage=Stage.IN_PLACE), work()) == (
        Step("ball", "turn", "turn the ball SØ22 ±0.1 with the attachment",
             "the attachment's own bit", "", ("turn", 22.0), "21.9 to 22.1 mm",
             "vernier caliper"),
    )  # fmt: skip


# ---- holes ----


@pytest.mark.parametrize(
    ("example", "size", "drill", "marked"),
    [
        # the drill of its own size; else the next one under if within the limits, else the next over
        ("bench-lathe", within(5.5, 0.1, -0.1, "ISO 2768-m"), 5.5, "5.5 mm"),
        ("bench-lathe", within(13.3, 0.4, -0.4), 13.0, "13 mm"),
        ("bench-lathe", within(13.3, 0.4, -0.1), 13.5, "13.5 mm"),
        ("inch-lathe", within(6.35, 0.1, -0.1, "ISO 2768-m"), 6.35, "E"),  # letter E is 0.250 in
    ],
)
def test_a_drilled_hole_takes_a_drill_within_its_limits(
    work: Callable[..., Work], example: str, size: Limits, drill: float, marked: str
) -> None:
    spot, drilled = steps(hole(f.DrilledHole, diameter=size), work(example))
    assert spot == Step("spot", "turn", "spot x", "centre drill", "", ("drill", 3.0))
    if marked == "E":
        assert drilled.tool in ("drill E", "drill 1/4 in")  # the same size, two names
    else:
        assert drilled.tool == f"drill {marked}"
    assert drilled.speed == ("drill", drill) and size.min_mm <= drill <= size.max_mm
    assert (drilled.kind, drilled.work, drilled.holding) == ("drill", "turn", "")
    assert drilled.text.startswith("drill x Ø") and drilled.text.endswith(" through")
    assert drilled.gauge == "vernier caliper"


def test_a_hole_across_is_laid_out_and_drilled_in_the_vice(work: Callable[..., Work]) -> None:
    size = within(4.0, 0.1, -0.1, "ISO 2768-m")
    assert steps(hole(f.DrilledHole, diameter=size), work(axial=False)) == (
        Step("spot", "drill", "spot x", "centre drill", ACROSS, ("drill", 3.0), "", LAID_OUT),
        Step("drill", "drill", "drill x Ø4 through", "drill 4 mm", ACROSS, ("drill", 4.0),
             "3.9 to 4.1 mm", "vernier caliper"),
    )  # fmt: skip
    mounted = hole(f.DrilledHole, diameter=size, made_with="rotating-body")
    for step in steps(mounted, work(axial=False)):
        assert step.holding == "assembled with the rotating body and clamped to the table"
        assert step.work == "drill"
    there = hole(f.DrilledHole, diameter=size, stage=f.Stage.IN_PLACE)
    for step in steps(there, work(axial=False)):
        assert (step.work, step.holding) == ("turn", PLACE)


@pytest.mark.parametrize(
    ("example", "nominal", "under", "marked"),
    [
        # a reamer wants 0.2 mm under 12 mm and 0.3 mm from there (common practice); drills by 0.1 to
        # 13 and by 0.5 above, so the drill is the next that leaves as much
        ("bench-lathe", 8.0, 7.8, "7.8 mm"),
        ("bench-lathe", 10.0, 9.8, "9.8 mm"),
        ("bench-lathe", 11.9, 11.7, "11.7 mm"),
        ("bench-lathe", 12.0, 11.7, "11.7 mm"),
        ("bench-lathe", 14.0, 13.5, "13.5 mm"),
        ("inch-lathe", 9.525, 9.128125, "23/64 in"),
        ("inch-lathe", 12.7, 12.303125, "31/64 in"),
    ],
)
def test_a_reamed_hole_is_drilled_under_its_reamer(
    work: Callable[..., Work], example: str, nominal: float, under: float, marked: str
) -> None:
    feature = hole(f.ReamedHole, diameter=within(nominal, 0.015, 0.0, "H7"))
    spot, drilled, ream = steps(feature, work(example))
    assert spot.text == "spot x" and spot.tool == "centre drill"
    assert drilled.tool == f"drill {marked}" and drilled.text == f"drill x {marked}"
    assert drilled.speed == ("drill", under) and not drilled.measure
    assert ream.text.startswith("ream x Ø") and "H7 (+0.0" in ream.text
    assert ream.kind == "ream" and ream.work == "turn" and ream.speed == ("ream", nominal)
    low, high = ream.measure.split(" ")[0], ream.measure.split(" ")[2]
    unit = 25.4 if example == "inch-lathe" else 1.0
    assert float(low) * unit == pytest.approx(nominal, abs=0.002)
    assert float(high) * unit == pytest.approx(nominal + 0.015, abs=0.002)
    assert ream.gauge == (
        "telescoping gauge and micrometer" if nominal >= 8.0 else "plug gauge"
    )  # a telescoping gauge begins at 8 mm (common practice)


def test_a_reamer_that_is_not_there_is_said(work: Callable[..., Work]) -> None:
    # the metric shop has 6 8 10 12 14 16 20
    absent = " (not on the shop's list: buy, borrow, or bore to size)"
    for nominal, tool in ((10.0, "reamer 10 mm"), (9.0, f"reamer 9 mm{absent}")):
        feature = hole(f.ReamedHole, diameter=within(nominal, 0.015, 0.0, "H7"))
        assert steps(feature, work())[-1].tool == tool


def test_a_bore_is_roughed_half_a_millimetre_under(work: Callable[..., Work]) -> None:
    size = within(20.0, 0.021, 0.0, "H7")
    rough = "rough bore x to Ø19.5"
    # from the solid: a drill 2 mm under, and none over 20
    made = steps(hole(f.Bore, diameter=size), work())
    gauge = "telescoping gauge and micrometer"
    assert made == (
        Step("spot", "turn", "spot x", "centre drill", "", ("drill", 3.0)),
        Step("drill", "turn", "drill x 18 mm", "drill 18 mm", "", ("drill", 18.0)),
        Step("bore", "turn", rough, "boring bar", "", ("bore", 20.0)),
        Step("bore", "turn", "bore x Ø20 H7 (+0.021/0) through", "boring bar", "", ("bore", 20.0),
             "20 to 20.021 mm", gauge),
    )  # fmt: skip
    wide = steps(hole(f.Bore, diameter=within(30.0, 0.021, 0.0, "H7")), work())
    assert wide[1].tool == "drill 20 mm" and wide[2].text == "rough bore x to Ø29.5"
    assert wide[1].speed == ("drill", 20.0)
    # in a tube whose hole is over half of it there is nothing to drill
    assert [s.text for s in steps(hole(f.Bore, diameter=size), work(hole=10.1))][0] == rough
    assert [s.kind for s in steps(hole(f.Bore, diameter=size), work(hole=9.9))][0] == "spot"
    # in place the bar runs between spindle and tailstock; off the axis it is set true in four jaws
    placed = steps(hole(f.Bore, diameter=size, stage=f.Stage.IN_PLACE), work(axial=False))
    assert {step.holding for step in placed} == {PLACE} and placed[0].gauge == ""
    assert placed[-1].tool == placed[-2].tool == "boring bar between spindle and tailstock"
    beside = steps(hole(f.Bore, diameter=size), work(axial=False))
    assert {step.holding for step in beside} == {"four-jaw chuck, the bore's centre set true"}
    assert beside[0].gauge == LAID_OUT and beside[-1].tool == "boring bar"
    # 3/4 in less 1/64
    inch = steps(hole(f.Bore, diameter=within(19.05, 0.021, 0.0, "H7")), work("inch-lathe"))
    assert inch[-2].text == "rough bore x to Ø47/64"
    assert inch[1].tool == "drill 21/32 in"  # 2 mm under is 17.05: 43/64 is 17.066, 21/32 16.669


def test_counterbores_and_tapped_holes(work: Callable[..., Work]) -> None:
    bored = hole(
        f.Counterbore, diameter=within(9.0, 0.2, -0.2, "ISO 2768-m"), depth_mm=5.0, through=False
    )
    assert steps(bored, work(axial=False)) == (
        Step("counterbore", "drill", "counterbore Ø9 5 deep", "counterbore or flat drill", ACROSS,
             ("drill", 9.0), "8.8 to 9.2 mm", "vernier caliper"),
    )  # fmt: skip
    for thread, tool in (("M6", "tap M6"), ("M12", "tap M12 (not on the shop's list)")):
        spot, drill, tap = steps(hole(f.TappedHole, thread=thread), work(axial=False))
        under = {"M6": "5 mm", "M12": "10.2 mm"}[thread]  # ISO 2306
        assert spot.tool == "centre drill" and drill.tool == f"drill {under}"
        assert tap == Step("tap", "drill", f"tap x {thread} through, tap drill {under}", tool,
                           ACROSS, None, f"{thread}: screw runs in by hand",
                           "screw or thread gauge")  # fmt: skip


# ---- milled, sawn, by hand ----


def test_flats_and_slots_are_milled(work: Callable[..., Work]) -> None:
    hold = "machine vice, datum set parallel to the table"
    flat = named(
        f.MilledFlat, box=BOX, locations=(f.Location("C", "+z", within(33.0, 0.05, -0.05)),)
    )
    assert steps(flat, work(axial=False)) == (
        Step("mill", "mill", "mill x: flat, 33 ±0.05 from C", "end mill", hold, ("mill", 16.0),
             "32.95 to 33.05 mm", "micrometer 25 to 50 mm"),
    )  # fmt: skip
    # a slot no wider than the cutter is cut by one of its width
    for width, cutter in ((10.0, 10.0), (20.0, 16.0)):
        slot = named(f.MilledSlot, box=BOX, width=within(width, 0.02, 0.0, "H8"))
        (step,) = steps(slot, work(axial=False))
        assert step.text == f"mill x: slot {width:g} H8 (+0.02/0) wide"
        assert step.speed == ("mill", cutter)
        assert step.gauge == "telescoping gauge and micrometer"


def test_notches_slits_marks_points_and_welds(work: Callable[..., Work]) -> None:
    assert steps(named(f.SawnNotch, box=BOX), work(axial=False)) == (
        Step("notch", "saw", "cut x: notch 27 x 42; profile DXF for plasma, or drill the inner"
             " corner and saw both ways", "saw, or plasma table", "vice", None,
             "to the scribed line", "rule"),
    )  # fmt: skip
    check = ("the rod still slides", "the rod itself")
    slit = named(f.Slit, box=BOX, width=within(1.6, 0.3, -0.3), check=check)
    # a slitting saw of 63 mm is the common size (ISO 2296)
    assert steps(slit, work(axial=False)) == (
        Step("slit", "slit", "saw the x: slit 1.6 ±0.3 wide", "slitting saw, or hacksaw",
             "machine vice, not across the slit", ("mill", 63.0), *check),
    )  # fmt: skip
    mark = named(
        f.ScribedLine, box=Box((0.0, 0.0, 0.0), (0.2, 6.0, 0.2)), check=("in line", "square")
    )
    assert steps(mark, work(axial=False)) == (
        Step("engrave", "bench", "scribe the x, line 6 long", "scriber and square, or graver",
             "bench vice", None, "in line", "square"),
    )  # fmt: skip
    point = named(
        f.GroundPoint, tip=(0.0, 0.0, 0.0), nose_radius_mm=0.5, included_deg=38.0, clearance_deg=8.0
    )
    assert steps(point, work(axial=False)) == (
        Step("grind", "grind", "grind the x: point 38° included, 8° clearance, nose R0.5; hone the"
             " nose", "grinding wheel and slip stone", "by hand on the rest", None,
             "angles and nose", "template or protractor"),
    )  # fmt: skip
    weld = named(f.Weld, kind="fillet", leg_mm=4.0, length_mm=25.0, members=("foot", "arm"))
    assert steps(weld, work(axial=False)) == (
        Step("weld", "weld", "x: fillet weld 4 mm, run 25, foot to arm", "welder",
             "clamped square on a flat plate", None, "square, no cracks, no undercut",
             "square and fillet gauge"),
    )  # fmt: skip
