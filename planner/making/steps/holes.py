"""Steps of holes: spotted, drilled, reamed, bored, counterbored, tapped."""

from __future__ import annotations

from dataclasses import replace

from parts import features as f
from parts.features import Stage
from parts.standard.drills import Drill, drill_at_least, drill_at_most
from parts.standard.fits import Limits
from parts.standard.threads import thread
from planner.making.steps.model import IN_PLACE, ROUGH_MM, Step, Work, steps

LAID_OUT = "edge finder or scribed lines"
"""What brings a drill or a cutter to its place."""


def _hole_holding(feature: f.Hole, work: Work) -> tuple[str, str]:
    """The work and the holding of a hole: on the axis in the lathe, else drilled across."""
    if feature.stage is Stage.IN_PLACE:
        return "turn", IN_PLACE
    if feature.made_with:
        name = feature.made_with.replace("-", " ")
        return "drill", f"assembled with the {name} and clamped to the table"
    if work.axial:
        return "turn", ""
    return "drill", "machine vice on parallels, edges set square"


def _drilling(feature: f.Hole, work: Work, by: Drill) -> tuple[Step, Step]:
    kind_of_work, hold = _hole_holding(feature, work)
    name = work.numbers.drill(by)
    spot = Step(
        "spot",
        kind_of_work,
        f"spot {feature.name}",
        "centre drill",
        hold,
        speed=("drill", 3.0),
        gauge="" if work.axial else LAID_OUT,
    )
    drill = Step(
        "drill",
        kind_of_work,
        f"drill {feature.name} {name}",
        f"drill {name}",
        hold,
        speed=("drill", by.diameter_mm),
    )
    return spot, drill


def _drill_for(size: Limits, inch: bool) -> Drill:
    """The drill for a drilled hole: of its size, else the next that keeps within its limits."""
    under = drill_at_most(size.nominal_mm, inch)
    if under.diameter_mm >= size.min_mm:
        return under
    return drill_at_least(size.nominal_mm, inch)


@steps.register
def _(feature: f.DrilledHole, work: Work) -> tuple[Step, ...]:
    size = feature.diameter
    drill = _drill_for(size, work.inch)
    spot, drilled = _drilling(feature, work, drill)
    finish = replace(
        drilled,
        text=f"drill {feature.name} {work.callout(feature)}",
        measure=work.numbers.between(size),
        gauge="vernier caliper",
    )
    return spot, finish


@steps.register
def _(feature: f.ReamedHole, work: Work) -> tuple[Step, ...]:
    size = feature.diameter
    under = drill_at_most(size.nominal_mm - (0.2 if size.nominal_mm < 12 else 0.3), work.inch)
    spot, drilled = _drilling(feature, work, under)
    owned = any(abs(d - size.nominal_mm) < 0.01 for d in work.shop.job.shop.reamers)
    ream = Step(
        "ream",
        drilled.work,
        f"ream {feature.name} {work.callout(feature)}",
        f"reamer {work.numbers.size(size.nominal_mm)}"
        + ("" if owned else " (not on the shop's list: buy, borrow, or bore to size)"),
        drilled.holding,
        speed=("ream", size.nominal_mm),
        measure=work.numbers.between(size),
        gauge=work.shop.gauge(size, inside=True),
    )
    return spot, drilled, ream


@steps.register
def _(feature: f.Bore, work: Work) -> tuple[Step, ...]:
    size = feature.diameter
    hold = _hole_holding(feature, work)[1]
    if feature.stage is not Stage.IN_PLACE:
        hold = "" if work.axial else "four-jaw chuck, the bore's centre set true"
    bore = Step(
        "bore",
        "turn",
        f"bore {feature.name} {work.callout(feature)}",
        "boring bar"
        + (" between spindle and tailstock" if feature.stage is Stage.IN_PLACE else ""),
        hold,
        speed=("bore", size.nominal_mm),
        measure=work.numbers.between(size),
        gauge=work.shop.gauge(size, inside=True),
    )
    roughed = size.nominal_mm - work.series.nominal(ROUGH_MM)
    rough = replace(
        bore,
        text=f"rough bore {feature.name} to Ø{work.numbers.plain.size(roughed)}",
        measure="",
        gauge="",
    )
    if work.hole_mm > 0.5 * size.nominal_mm:
        return (rough, bore)
    under = drill_at_most(min(size.nominal_mm - 2.0, 20.0), work.inch)
    name = work.numbers.drill(under)
    by_spindle = work.axial or feature.stage is Stage.IN_PLACE
    spot = Step(
        "spot",
        "turn",
        f"spot {feature.name}",
        "centre drill",
        hold,
        ("drill", 3.0),
        gauge="" if by_spindle else LAID_OUT,
    )
    drill = Step(
        "drill",
        "turn",
        f"drill {feature.name} {name}",
        f"drill {name}",
        hold,
        ("drill", under.diameter_mm),
    )
    return (spot, drill, rough, bore)


@steps.register
def _(feature: f.Counterbore, work: Work) -> tuple[Step, ...]:
    kind_of_work, hold = _hole_holding(feature, work)
    return (
        Step(
            "counterbore",
            kind_of_work,
            f"{work.callout(feature)}",
            "counterbore or flat drill",
            hold,
            speed=("drill", feature.diameter.nominal_mm),
            measure=work.numbers.between(feature.diameter),
            gauge="vernier caliper",
        ),
    )


@steps.register
def _(feature: f.TappedHole, work: Work) -> tuple[Step, ...]:
    size = thread(feature.thread)
    spot, drilled = _drilling(feature, work, Drill(size.tap_drill_name, size.tap_drill_mm))
    owned = size.designation in work.shop.job.shop.taps
    name = work.numbers.thread(size.designation)
    tap = Step(
        "tap",
        drilled.work,
        f"tap {feature.name} {work.callout(feature)}",
        f"tap {name}" + ("" if owned else " (not on the shop's list)"),
        drilled.holding,
        measure=f"{name}: screw runs in by hand",
        gauge="screw or thread gauge",
    )
    return spot, drilled, tap
