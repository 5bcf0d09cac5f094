"""Steps of ends, turned surfaces, threads, knurls, scales and balls."""

from __future__ import annotations

from dataclasses import replace

from parts import features as f
from parts.features import Stage
from parts.standard.threads import thread
from planner.dial.sense import NUMBERED, UPRIGHT
from planner.making.steps.model import ROUGH_MM, Step, Work, steps


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
    roughed = size.nominal_mm + work.series.nominal(ROUGH_MM)
    rough = Step(
        "turn",
        "turn",
        f"rough turn {feature.name} to Ø{work.numbers.plain.size(roughed)}",
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
            " the tool on its side drawn along by the top slide; table: dial."
            f" Numbered {NUMBERED}. Numerals {UPRIGHT}",
            "pointed tool, 60 degrees, on its side",
            measure="lines sharp, the last meets the first",
            gauge="eye-glass",
        ),
    )


@steps.register
def _(feature: f.IndexMark, work: Work) -> tuple[Step, ...]:
    return (
        Step(
            "engrave",
            "turn",
            f"cut the {feature.name}, {work.callout(feature)}, spindle locked, the tool on its side"
            " drawn along by the top slide; ink it",
            "pointed tool, 60 degrees, on its side",
            measure=feature.check[0],
            gauge=feature.check[1],
        ),
    )


@steps.register
def _(feature: f.TurnedBall, work: Work) -> tuple[Step, ...]:
    if feature.stage is not Stage.IN_PLACE:
        return (
            Step(
                "turn",
                "turn",
                f"round the {feature.name}: {work.callout(feature)}",
                "form tool, or turned off in steps and filed to a radius template",
                speed=("turn", feature.diameter.nominal_mm),
                measure=work.numbers.between(feature.diameter),
                gauge=work.shop.gauge(feature.diameter, inside=False),
            ),
        )
    return (
        Step(
            "ball",
            "turn",
            f"turn the ball {work.callout(feature)} with the attachment",
            "the attachment's own bit",
            speed=("turn", feature.diameter.nominal_mm),
            measure=work.numbers.between(feature.diameter),
            gauge=work.shop.gauge(feature.diameter, inside=False),
        ),
    )
