"""Which steps make a feature: one rule a feature type, the last step finishes it.

making.route asks; it adds sawing, facing and parting off and puts everything in order.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import singledispatch

from parts import features as f
from parts.features import Feature, Stage, Weld
from parts.standard.drills import Drill, drill_at_least, drill_at_most
from parts.standard.fits import Limits
from parts.standard.threads import thread
from planner.making.callouts import callout
from planner.making.machines import Workshop
from planner.words.numbers import Numbers


@dataclass(frozen=True)
class Step:
    """One step toward a feature, before it is placed in the sequence.

    kind: a key of making.route.RANK; work: a key of machines.PREFERENCE; holding: how it is held,
    "" for the piece's own way; tool and text: as a shop says it; speed: (operation, diameter in mm)
    or None.
    """

    kind: str
    work: str
    text: str
    tool: str
    holding: str = ""
    speed: tuple[str, float] | None = None
    measure: str = ""
    gauge: str = ""


@dataclass(frozen=True)
class Work:
    """What a rule may ask while it makes steps: the shop, the stock under the feature, the holding.

    diameter_mm: what swings when the feature is turned; hole_mm: the hole that is there already
    (a tube's), 0 for none; axial: on the lathe's own axis.
    """

    shop: Workshop
    diameter_mm: float
    hole_mm: float
    hold: str
    axial: bool
    tool: str

    @property
    def numbers(self) -> Numbers:
        """How to write numbers."""
        return self.shop.numbers

    @property
    def inch(self) -> bool:
        """Whether to choose among inch drills."""
        return self.shop.job.inch

    def callout(self, feature: Feature) -> str:
        """The call-out of a feature in the job's language of numbers."""
        return callout(feature, self.numbers)


IN_PLACE = "in place: work on the cross slide, tool in the spindle"


# ---- one rule a feature type: the steps that make it; the last step makes it ----


@singledispatch
def steps(feature: Feature, work: Work) -> tuple[Step, ...]:
    """The steps that make a feature, in order; the last one finishes it."""
    raise TypeError(f"no operation rule for {type(feature).__name__}")


@steps.register
def _(feature: f.FacedLength, work: Work) -> tuple[Step, ...]:
    axial = work.axial
    return (
        Step(
            "end",
            "turn" if axial else "mill",
            f"face the ends to {work.callout(feature)}",
            "facing tool" if axial else "end mill",
            speed=("face" if axial else "mill", work.diameter_mm if axial else 16.0),
            measure=work.numbers.between(feature.length),
            gauge="vernier caliper",
        ),
    )


@steps.register
def _(feature: f.TurnedDiameter, work: Work) -> tuple[Step, ...]:
    size = feature.diameter
    fine = size.upper_mm - size.lower_mm < 0.1
    rough = Step(
        "turn",
        "turn",
        f"rough turn {feature.name} to Ø{work.numbers.plain.size(size.nominal_mm + 0.5)}",
        f"{work.tool} turning tool",
        speed=("turn", work.diameter_mm),
    )
    finish = replace(
        rough,
        text=f"turn {feature.name} {work.callout(feature)}",
        measure=work.numbers.between(size),
        gauge=work.shop.gauge(size, inside=False),
    )
    return (rough, finish) if fine else (finish,)


@steps.register
def _(feature: f.FacedShoulder, work: Work) -> tuple[Step, ...]:
    in_place = feature.stage is Stage.IN_PLACE
    return (
        Step(
            "shoulder",
            "turn",
            f"face the {feature.name}: {work.callout(feature)}",
            "facing cutter in the boring bar" if in_place else f"{work.tool} facing tool",
            speed=("face", work.diameter_mm),
            measure="flat: no light under a straight edge across the face",
            gauge="straight edge; dial indicator for run-out",
        ),
    )


@steps.register
def _(feature: f.Thread, work: Work) -> tuple[Step, ...]:
    size = thread(feature.thread)
    cut = Step(
        "thread",
        "turn",
        f"screw-cut {feature.name} {work.callout(feature)}",
        "threading tool, or a die after the first passes",
        speed=("thread", size.major_mm),
        measure=f"{work.numbers.thread(feature.thread)}: nut runs without shake",
        gauge="nut or thread gauge",
    )
    return (cut,)


@steps.register
def _(feature: f.Knurl, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "knurl",
            "turn",
            f"knurl {work.callout(feature)}",
            "straight knurl",
            speed=("knurl", feature.diameter.nominal_mm),
            measure="full form, no double tracks",
            gauge="eye",
        ),
    )


@steps.register
def _(feature: f.EngravedScale, work: Work) -> tuple[Step, ...]:
    ratio = work.shop.job.shop.dividing_head_ratio
    how = f"by the {ratio}:1 dividing head" if ratio else "by a plate on the spindle"
    return (
        Step(
            "engrave",
            "turn",
            f"divide and cut {work.callout(feature)} {how}, spindle locked,"
            " the tool on its side drawn along by the top slide; table: dial",
            "pointed tool, 60 degrees, on its side",
            measure="lines sharp, the last meets the first",
            gauge="eye-glass",
        ),
    )


@steps.register
def _(feature: f.TurnedBall, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "ball",
            "turn",
            f"turn the ball {work.callout(feature)} with the attachment",
            "the attachment's own bit",
            holding="on a threaded stub in the chuck",
            speed=("turn", feature.diameter.nominal_mm),
            measure=work.numbers.between(feature.diameter),
            gauge=work.shop.gauge(feature.diameter, inside=False),
        ),
    )


def position(feature: f.Hole, numbers: Numbers) -> str:
    """Where a hole begins, in the two axes across it: "x 22, z 19"."""
    return ", ".join(
        f"{letter} {numbers.plain.rule(round(value, 2))}"
        for letter, value in zip("xyz", feature.axis.origin, strict=True)
        if letter != feature.axis.along[1]
    )


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
        measure="" if work.axial else position(feature, work.numbers),
        gauge="" if work.axial else "edge finder or scribed lines",
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
    rough = replace(
        bore,
        text=f"rough bore {feature.name} to Ø{work.numbers.plain.size(size.nominal_mm - 0.5)}",
        measure="",
        gauge="",
    )
    if work.hole_mm > 0.5 * size.nominal_mm:
        return (rough, bore)
    under = drill_at_most(min(size.nominal_mm - 2.0, 20.0), work.inch)
    name = work.numbers.drill(under)
    spot = Step("spot", "turn", f"spot {feature.name}", "centre drill", hold, ("drill", 3.0))
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


@steps.register(f.MilledFlat)
@steps.register(f.MilledSlot)
def _(feature: f.MilledFlat | f.MilledSlot, work: Work) -> tuple[Step, ...]:
    size: Limits = feature.across if isinstance(feature, f.MilledFlat) else feature.width
    cutter = min(16.0, size.nominal_mm) if isinstance(feature, f.MilledSlot) else 16.0
    return (
        Step(
            "mill",
            "mill",
            f"mill {feature.name}: {work.callout(feature)}",
            "end mill",
            "machine vice, datum set parallel to the table",
            speed=("mill", cutter),
            measure=work.numbers.between(size),
            gauge=work.shop.gauge(size, inside=isinstance(feature, f.MilledSlot)),
        ),
    )


@steps.register
def _(feature: f.SawnNotch, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "notch",
            "saw",
            f"cut {feature.name}: {work.callout(feature)}; profile DXF for plasma, or drill"
            " the inner corner and saw both ways",
            "saw, or plasma table",
            "vice",
            measure="to the scribed line",
            gauge="rule",
        ),
    )


@steps.register
def _(feature: f.Slit, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "slit",
            "slit",
            f"saw the {feature.name}: {work.callout(feature)}",
            "slitting saw, or hacksaw",
            "machine vice on the block's outside, not across the bore",
            speed=("mill", 63.0),
            measure=feature.check[0],
            gauge=feature.check[1],
        ),
    )


@steps.register
def _(feature: f.IndexMark, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "engrave",
            "bench",
            f"scribe the {feature.name}, {work.callout(feature)}",
            "scriber and square, or graver",
            "bench vice",
            measure=feature.check[0],
            gauge=feature.check[1],
        ),
    )


@steps.register
def _(feature: f.GroundPoint, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "grind",
            "grind",
            f"grind the {feature.name}: {work.callout(feature)}; hone the nose",
            "grinding wheel and slip stone",
            "by hand on the rest",
            measure="angles and nose",
            gauge="template or protractor",
        ),
    )


@steps.register
def _(feature: Weld, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "weld",
            "weld",
            f"{feature.name}: {work.callout(feature)}, {feature.members[0]} to"
            f" {feature.members[1]}",
            "welder",
            "clamped square on a flat plate",
            measure="square, no cracks, no undercut",
            gauge="square and fillet gauge",
        ),
    )
