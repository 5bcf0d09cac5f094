"""Steps done by hand or by the torch: scribed lines, ground points, welds."""

from __future__ import annotations

from parts import features as f
from planner.making.steps.model import Step, Work, steps


@steps.register
def _(feature: f.ScribedLine, work: Work) -> tuple[Step, ...]:
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
def _(feature: f.Weld, work: Work) -> tuple[Step, ...]:
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
