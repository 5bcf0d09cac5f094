"""A mass off the spindle pulls with F = m e w^2 (any textbook of mechanics); a bench lathe of 50 kg
bears a tenth of its weight, 50 N, going round (common practice). Steel weighs 7850 kg/m3."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from jobs import EXAMPLES, ROOT, planned
from walking.part_walk import near

from parts.frame import Box
from planner.making.bodies import Body
from planner.making.unbalance import most_rpm

HEAVY = ROOT / "tests" / "data" / "shops" / "boat-yard.toml"


def test_a_block_off_the_spindle_turns_as_slowly_as_its_mass_asks() -> None:
    part = next(one for one in planned(EXAMPLES[0]).attachment.parts if one.name == "rotating-body")
    block = Body("block", Box((0.0, 0.0, 0.0), (100.0, 80.0, 50.0)), None, 0.0)  # 3.14 kg
    rpm = sqrt(50.0 / (3.14 * 0.030)) * 30 / pi  # 30 mm off: 220
    assert most_rpm(part, [block], 2, (50.0, 10.0, 0.0)) == pytest.approx(rpm, abs=1.0)
    assert most_rpm(part, [block], 2, (50.0, 40.0, 0.0)) == 400.0  # in balance, as before
    assert most_rpm(part, [block], 1, (50.0, 0.0, 24.0)) == 400.0  # 1 mm: 1200 would do


@pytest.mark.parametrize("path", [HEAVY, *EXAMPLES], ids=lambda path: path.stem)
def test_what_a_chuck_turns_out_of_balance_does_not_shake_the_lathe(path: object) -> None:
    """As it was: 400 rev/min at the most, whatever the work weighs."""
    plan = planned(path)  # type: ignore[arg-type]
    setups, steps = plan.route.setup_records(), plan.route.operation_records()
    body = "rotating-body"
    assert not [o for o in near(plan.attachment, plan.job, setups, steps, body)
                if o.code == "route-speed"]  # fmt: skip


def test_a_heavy_body_at_the_speed_of_a_light_one_is_refused() -> None:
    plan = planned(HEAVY)
    setups, steps = plan.route.setup_records(), plan.route.operation_records()
    chucked = {
        one["number"] for one in setups
        if one["part"] == "rotating-body" and one["hold"]["by"] == "four-jaw chuck"
        and "Out of balance" in one["caution"]
    }  # fmt: skip
    own = next(o for o in steps if o["setup"] in chucked and o["kind"] == "turn")
    fast = max(n for n in plan.job.lathe.spindle_speeds if n <= 400)
    assert own["speed_rpm"] < fast
    spoiled = [o | {"speed_rpm": fast} if o is own else o for o in steps]
    told = near(plan.attachment, plan.job, setups, spoiled, "rotating-body")
    assert any(o.code == "route-speed" and "shakes the lathe" in o.text for o in told)
