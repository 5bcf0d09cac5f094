"""Whether a knurling wheel comes to what it knurls: its fork has a cheek on either side of it.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.held import Held
from planner.walking.spans import spans

FORK_MM = 3.0
"""A cheek of the fork beside the wheel is so thick (common practice)."""

STANDS_MM = 4.0
"""The wheel stands out of the fork by so much at the most: over no higher shoulder do its cheeks pass
(common practice: a wheel of 20 mm on a pin of 6)."""


def wheel_comes(do: Doing) -> None:
    """No shoulder and no jaw stands where a cheek of the fork is, when the wheel is at either end."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    held, cut = do.held, do.cut
    if not isinstance(feature, f.Knurl) or not isinstance(held, Held) or cut.line is None:
        return
    near, far = held.span(cut.low, cut.high)
    over = feature.diameter.nominal_mm / 2 + STANDS_MM
    high = [(*held.span(s.low, s.high), s.outer) for s in spans(do.piece.metal, held.line)]
    high = [one for one in high if one[2] > over + 0.05]
    for a, b in ((near - FORK_MM, near), (far, far + FORK_MM)):
        there = [outer for low, top, outer in high if low < b - 0.05 and top > a + 0.05]
        stands = max(there, default=0.0)
        jaws = any(a + 0.05 < front < b + 0.05 for _, front, _, inside in held.grips if not inside)
        if stands or jaws:
            what = (
                "the jaws" if jaws else f"a shoulder of {do.faults.mm(stands - over + STANDS_MM)}"
            )
            do.faults.refuse(
                "route-tool-reach",
                f"{what} beside {feature.name}",
                f"the wheel stands {do.faults.mm(STANDS_MM)} out of its fork",
                f"Turn it down to the knurl's size for {do.faults.mm(FORK_MM)} first, or knurl it"
                " clear of it",
            )
            return
