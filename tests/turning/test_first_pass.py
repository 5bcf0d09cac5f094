"""The first pass: it meets the corners of roughing alone, and is worth its swing."""

from __future__ import annotations

from turned import job_of, plan_of


def test_no_first_pass_takes_next_to_nothing() -> None:
    # it would be a swing of half a minute for a speck; the next takes it along
    for across in range(24, 46, 2):
        plan = plan_of(
            job_of({"diameter": across, "blank_diameter": across + 4, "material": "C45"})
        )
        rough = [one for one in plan.passes if one.cut.taken.kind == "rough"]
        usual = max(one.depth_mm for one in rough[1:])
        assert rough[0].depth_mm >= 0.1 * usual - 0.02 or len(rough) < 3, across
        assert rough[0].depth_mm <= 1.1 * usual + 0.02
