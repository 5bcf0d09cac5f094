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


BESIDE_MM, SUNK_MM = 3.0, 0.5
"""So far beside a knurl is looked at what a wider wheel would mark: what lies less deep below it
(common practice: wheels of 8 and 10 mm, pressed in half a pitch)."""


def wheel_comes(do: Doing) -> None:
    """No shoulder and no jaw stands where a cheek of the fork is, when the wheel is at either end; and
    a wheel between two rounds as thick is no wider than what it knurls."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    held, cut = do.held, do.cut
    if not isinstance(feature, f.Knurl) or not isinstance(held, Held) or cut.line is None:
        return
    near, far = held.span(cut.low, cut.high)
    _no_wider(do, feature, held, (near, far))
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
                f"the wheel stands {do.faults.most(STANDS_MM)} out of its fork",
                f"Turn it down to the knurl's size for {do.faults.least(FORK_MM)} first, or knurl it"
                " clear of it",
            )
            return


def _no_wider(do: Doing, feature: f.Knurl, held: Held, ends: tuple[float, float]) -> None:
    """A wheel that can stand out on neither side marks what is beside it, if it is wider."""
    near, far = ends
    low = feature.diameter.nominal_mm / 2 - SUNK_MM
    thick = [held.span(s.low, s.high) for s in spans(do.piece.metal, held.line) if s.outer > low]
    sides = ((near - BESIDE_MM, near), (far, far + BESIDE_MM))
    if not all(any(a < b1 - 0.05 and b > a1 + 0.05 for a, b in thick) for a1, b1 in sides):
        return
    wide, long = do.tool.get("width_mm"), feature.end_mm - feature.start_mm
    if wide is None or float(wide) > long + 0.1:
        do.faults.refuse(
            "route-tool-reach",
            f"{feature.name}: a wheel of "
            + ("no said width" if wide is None else do.faults.mm(float(wide))),
            f"{do.faults.mm(long)}: it marks what is as thick on either side",
            "Say how wide the wheel may be at most",
        )
