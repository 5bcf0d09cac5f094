"""How often a ball is gone over once more at the last reading."""

from __future__ import annotations

from parts.standard.cutting_forces import LEAST_CHIP_MM
from parts.standard.materials import material
from planner.checking.budget import SPRING_LEAVES, WORK_HARDENS
from planner.checking.strength import cutting_load
from planner.turning.limits import Limits


def spring_passes(
    depth_mm: float, feed_mm: float, limits: Limits, give_mm_per_N: float, asked: int | None
) -> int:
    """One, and a second only where what the first leaves is still a chip; none where metal hardens.

    depth_mm, feed_mm: of the last cut; give_mm_per_N: of tip and work together; asked: the job's own
    number, None for this rule.
    """
    if asked is not None:
        return asked
    if material(limits.material).group in WORK_HARDENS:
        return 0
    load = cutting_load(depth_mm, feed_mm, limits.nose_mm, limits.material)
    return 2 if load.passive_N * give_mm_per_N * SPRING_LEAVES >= LEAST_CHIP_MM else 1
