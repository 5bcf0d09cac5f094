"""Whether a drill that comes out below goes into what the work lies on. Imported by walking.reach."""

from __future__ import annotations

from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.shape import even

DEEP_MM = 35.0
"""A vice's jaw is so thick, outward from the work (common practice: 30 to 40 mm)."""

PARALLEL_MM = 3.0
"""A parallel stands along either jaw under the work, the thinnest of a usual set so thick (common
practice)."""

STEPS = 80
"""Metal under a hole is looked for at so many places."""

CUTS = ("drill", "ream", "tap", "counterbore", "bore")


def nothing_beneath(do: Doing, held: Fixed) -> None:
    """No V-block, no jaw and no parallel stands where a through hole comes out."""
    cut = do.cut
    if do.kind not in CUTS or cut.shape not in ("hole", "bore") or cut.line is None:
        return
    if held.up is None or cut.line.along != held.up[0] or not _comes_out(do, held.up):
        return
    for line, low, high in held.vees:
        at = cut.line.through[line.along]
        beside = abs(
            cut.line.through[3 - line.along - held.up[0]]
            - line.through[3 - line.along - held.up[0]]
        )
        if low - cut.radius < at < high + cut.radius and beside < DEEP_MM:
            _refuse(do, "a V-block", at, low, high)
            return
    for across, (low, high), bottom, top in held.jaws:
        at, edge = cut.line.through[across], top if held.up[1] > 0 else bottom
        end = cut.low if held.up[1] > 0 else cut.high
        under = (end - edge) * held.up[1] < 0
        outside = low - DEEP_MM < at < low + cut.radius or high - cut.radius < at < high + DEEP_MM
        if under and outside:
            _refuse(do, "a jaw", at, low, high)
            return
        if "on parallels" in str(do.setup.get("holding")):
            left = min(at - low, high - at) - cut.radius
            if left < PARALLEL_MM and not outside:
                _refuse(do, "a parallel", at, low, high)
                return


def _refuse(do: Doing, what: str, at: float, low: float, high: float) -> None:
    mm = do.faults.mm
    do.faults.refuse(
        "route-cut-in-grip",
        f"the hole comes out into {what}, at {mm(at)}",
        f"the work is held from {mm(low)} to {mm(high)}",
        "Let the hole come out between the blocks or past them",
    )


def _comes_out(do: Doing, up: tuple[int, int]) -> bool:
    """Whether no metal is left under the cut's end."""
    cut = do.cut
    assert cut.line is not None
    end = cut.low if up[1] > 0 else cut.high
    low, high = do.piece.metal.box
    far = float((low if up[1] > 0 else high)[up[0]])
    if (end - far) * up[1] <= 0.05:
        return True
    steps = even(end - up[1] * 0.3, far + up[1] * 0.05, STEPS)
    return not bool(do.piece.metal.has(cut.line.cloud(steps, [0.05, 0.5 * cut.radius], 12)).any())
