"""A knurl on a turned round, and the room that its wheel wants beside a shoulder.

Imported by making.ways.onaxis.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts import features as f
from planner.making import bending, cuts
from planner.making.gauges import by_eye
from planner.making.holding import facing_mm, parting_mm
from planner.making.model import Op, Tool
from planner.making.near import below, overlap

if TYPE_CHECKING:
    from planner.making.ways.onaxis import OnAxis

WHEEL_MM = 3.0
"""A knurling wheel stands out of its fork by little more: the fork goes over no higher shoulder (common
practice)."""

WIDE_MM = 10.0
"""Wheels are up to so wide, 8 mm most of them (common practice)."""

SUNK_MM = 0.5
"""Over what lies so much lower a wheel may stand out beside its knurl (common practice: a knurl of 1 mm
pitch is pressed half as deep)."""


def knurled(feature: f.Knurl, on: OnAxis) -> list[Op]:
    """The operations that knurl a round: what stands too high beside it is turned down first."""
    low, high = on.span(feature)
    found = [one for span in _beside(low, high, on) for one in _turned_down(feature, span, on)]
    owned = on.shop.kit.knurling_tool
    most = None if _stands_out(low, high, feature.diameter.nominal_mm, on) else high - low
    wheel = "" if most is None else f", its wheel at most {on.numbers.rule_down(most)} wide"
    tool = Tool(
        "knurling tool",
        f"straight knurl {on.numbers.knurl(feature.pitch_mm)}{wheel}",
        width_mm=most,
        owned=owned,
        instead="" if owned else _notched(on),
    )
    found.append(
        Op("knurl", f"knurl {on.said(feature)}, {on.from_end(low, high)}", tool, feature,
           True, cuts.along((low, high)),
           speed=("knurl", feature.diameter.nominal_mm), rate="knurl", length_mm=high - low,
           measures=(by_eye("full form, no double tracks", on.surface(feature), "eye"),),
           note=feature.note)
    )  # fmt: skip
    on.profile.mark(low, high)
    return found


def _notched(on: OnAxis) -> str:
    """What does for a knurl: a dial's lines space its notches; another round has none."""
    if any(isinstance(one, f.EngravedScale) for one in on.on.part.features):
        return "file or saw notches by the divisions, once they are cut"
    return "file or saw notches, spaced by dividers round the rim"


def _stands_out(low: float, high: float, size: float, on: OnAxis) -> bool:
    """Whether a wheel may stand out beside the knurl on one side: the end, or what is thinner."""
    sides = ((low - WIDE_MM, low), (high, high + WIDE_MM))
    return any(on.profile.largest(*side) < size - 2 * SUNK_MM for side in sides)


def _beside(low: float, high: float, on: OnAxis) -> list[tuple[float, float]]:
    """On either side what is cut off or faced off later: a parting tool's width, and what is faced."""
    series = on.shop.job.series
    room = facing_mm(series) + parting_mm(series)
    sides = ((low - room, low), (high, high + room))
    inside = on.profile.low, on.profile.high
    return [
        span
        for span in sides
        if not below(span[0], inside[0])
        and not below(inside[1], span[1])
        and not any(overlap(span, stays) for stays, _ in on.stays)
    ]


def _turned_down(feature: f.Knurl, span: tuple[float, float], on: OnAxis) -> list[Op]:
    """What stands up beside it turned to its size, where the wheel's fork does not go over it."""
    size, before = feature.diameter.nominal_mm, on.profile.largest(*span)
    if before <= size + 2 * WHEEL_MM:
        return []
    turned = (one for one in on.own() if isinstance(one, f.TurnedDiameter))
    under = next((o for o in turned if overlap(on.span(o), on.span(feature))), feature)
    surface = next(one.name for one in on.profile.between(*span))
    deepest = bending.borne_mm(on.metal, on.profile, on.setup.hold, span, size)
    on.profile.turn(*span, size, surface, False)
    said = on.numbers
    return [
        Op("turn", f"turn down what stands beside the {under.name} to Ø{said.plain.worked(size)},"
           f" {said.rule(span[1] - span[0])} long: the knurl's wheel runs out there",
           on.shop.turning("turning", on.metal), under, False,
           cuts.turn(on.axis, span, before, size), speed=("turn", before), rate="turn",
           length_mm=span[1] - span[0], stock_mm=(before - size) / 2, deepest_mm=deepest)
    ]  # fmt: skip
