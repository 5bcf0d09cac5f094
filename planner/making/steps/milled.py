"""Steps of what is milled or sawn: flats, slots, notches and slits."""

from __future__ import annotations

from parts import features as f
from parts.standard.fits import Limits
from planner.making.steps.model import Step, Work, steps


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
            "machine vice, not across the slit",
            speed=("mill", 63.0),
            measure=feature.check[0],
            gauge=feature.check[1],
        ),
    )
