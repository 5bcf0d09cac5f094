"""A reamer runs no faster than its grade is published for, not than another of its group.

"Drilling and reaming table in ft/min, grouped as in Machinery's Handbook" (seen): reaming 304 of 225 to
275 HB at 30, of 135 to 185 HB at 35 ft/min; 303 at 45 and 55.
"""

from __future__ import annotations

from math import pi

import pytest
from jobs import ROOT, planned
from walking.part_walk import near

from parts.standard.speeds import speed_m_min

FOOT_MM = 304.8


def test_rows_of_another_grade_are_left_out() -> None:
    found = {
        grade: speed_m_min("ream", "HSS", "stainless steel", grade) for grade in ("303", "304")
    }
    sped = {
        grade: (1000 * one.low_m_min / FOOT_MM, 1000 * one.high_m_min / FOOT_MM)
        for grade, one in found.items()
    }
    assert sped["304"] == pytest.approx((30, 35)) and sped["303"] == pytest.approx((45, 55))


def test_a_reamer_in_304_at_the_speed_of_303_is_refused() -> None:
    """The shaft of 304: 3/4 in at 240 rev/min are 47 ft/min; as it was, 32 mm at 16 m/min."""
    plan = planned(ROOT / "tests" / "data" / "inch-jobs" / "twelve-inch.toml")
    setups, steps = plan.route.setup_records(), plan.route.operation_records()
    (one,) = (o for o in steps if o["kind"] == "ream" and o["part"] == "rotating-body")
    most = 35 * FOOT_MM / (pi * one["tool"]["diameter_mm"])
    assert one["speed_rpm"] <= most
    fast = next(n for n in sorted(plan.job.lathe.spindle_speeds) if n > most + 1)
    spoiled = [o | {"speed_rpm": fast} if o is one else o for o in steps]
    told = near(plan.attachment, plan.job, setups, spoiled, one["part"])
    assert ("route-speed", f"step {one['number']}") in [(o.code, o.key) for o in told]
