"""A knurl on a turned round, and how wide its wheel may be.

Imported by making.ways.onaxis.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts import features as f
from planner.making import cuts
from planner.making.gauges import by_eye
from planner.making.model import Op, Tool

if TYPE_CHECKING:
    from planner.making.ways.onaxis import OnAxis

WIDE_MM = 10.0
"""Wheels are up to so wide, 8 mm most of them (common practice)."""

SUNK_MM = 0.5
"""Over what lies so much lower a wheel may stand out beside its knurl (common practice: a knurl of 1 mm
pitch is pressed half as deep)."""


def knurled(feature: f.Knurl, on: OnAxis) -> list[Op]:
    """The operations that knurl a round."""
    low, high = on.span(feature)
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
    on.profile.mark(low, high)
    return [
        Op("knurl", f"knurl {on.said(feature)}, {on.from_end(low, high)}", tool, feature,
           True, cuts.along((low, high)),
           speed=("knurl", feature.diameter.nominal_mm), rate="knurl", length_mm=high - low,
           measures=(by_eye("full form, no double tracks", on.surface(feature), "eye"),),
           note=feature.note)
    ]  # fmt: skip


def _notched(on: OnAxis) -> str:
    """What does for a knurl: a dial's lines space its notches; another round has none."""
    if any(isinstance(one, f.EngravedScale) for one in on.on.part.features):
        return "file or saw notches by the divisions, once they are cut"
    return "file or saw notches, spaced by dividers round the rim"


def _stands_out(low: float, high: float, size: float, on: OnAxis) -> bool:
    """Whether a wheel may stand out beside the knurl on one side: the end, or what is thinner."""
    sides = ((low - WIDE_MM, low), (high, high + WIDE_MM))
    return any(on.profile.largest(*side) < size - 2 * SUNK_MM for side in sides)
