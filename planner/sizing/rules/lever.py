"""The lever that closes the clamp."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner.sizing.clamping import DESIGN_GRIP, HAND_N, design_passive_N, grip_torque_Nm
from planner.sizing.draft import OURS, Draft, Rule
from planner.sizing.requirements.clamp import longest_lever_mm
from planner.sums.columns import least, most

LEAST_LEVER_MM = 25.0
"""Two fingers find no hold on a shorter one (common practice)."""


def _for_the_grip_mm(d: Draft) -> Any:
    """The lever at whose end HAND_N gives the torque of the design grip."""
    passive = d.bit_stock.of(lambda bit: design_passive_N(d.job, bit.width_mm))
    return grip_torque_Nm(d, passive, d.clamp_screw.major_mm) / HAND_N * 1000


def _behind_the_arm_mm(d: Draft) -> Any:
    """How long it may be and still lie behind the arm's outer face at the smallest ball."""
    return d.tip_radius_min_mm + d.bit_stickout_mm + d.arm_stock.height_mm


LEVER: tuple[Rule, ...] = (
    Rule(
        "lever_length_mm",
        f"from the clamp's stud to the lever's end: {{{HAND_N:g} N|9 lbf}} there grips"
        f" {DESIGN_GRIP:g} times the passive force; past the block's edge by its ball; at least"
        f" {{{LEAST_LEVER_MM:g} mm}}; no farther than the arm at the smallest ball, and no more slender"
        " than chuck and centre carry",
        OURS,
        lambda d: least(
            d.up(
                np.maximum(
                    least(
                        most(
                            d.nominal(LEAST_LEVER_MM),
                            d.block_length_mm / 2 + d.lever_boss_mm,
                            _for_the_grip_mm(d),
                        ),
                        _behind_the_arm_mm(d),
                    ),
                    1.5 * d.lever_boss_mm + d.nominal(5.0),
                )
            ),
            d.down(longest_lever_mm(d)),
        ),
    ),
)
