"""Long work is not parted right through: nothing carries its far end once the centre is drawn back.

Common practice: no more than three to four diameters stand out of a chuck without a centre, and what is
longer is parted to a neck, the spindle stopped, the neck sawn. The tool room's rod of 14 is 84 long:
six diameters; the boat yard's of 30 is 163, and weighs 0.9 kg.
"""

from __future__ import annotations

import copy

import pytest
from walking.shop_files import planned, walked


@pytest.mark.parametrize(
    ("name", "said", "neck", "fast"),
    # a third of 14, but 6 at the least; of 30, to the nearest half
    [("tool-room", "84 mm", "6 mm", 2000), ("boat-yard", "163 mm", "10 mm", 500)],
)
def test_a_rod_is_parted_to_a_neck_and_sawn(name: str, said: str, neck: str, fast: float) -> None:
    """As it was: "part off at 84 mm", at 2000 rev/min, the centre drawn back."""
    route = planned(name).route
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "part" and one["part"] == "sliding-head"]
    assert step["text"] == (
        f"part off at {said}: to a neck of {neck}, then switch off and saw the neck through by hand"
    )
    assert step["speed_rpm"] <= 400
    # what is short is parted right through, with nothing more said
    assert not any("neck" in one["text"] for one in steps if one["kind"] == "part" and one != step)
    spoiled = copy.deepcopy(steps)
    old = spoiled[step["number"] - 1]
    old |= {"text": f"part off at {said}", "caution": "", "speed_rpm": fast}
    found = [one for one in walked(name, setups, spoiled) if one.key == f"step {step['number']}"]
    assert {(one.code, one.remedy) for one in found} == {
        ("route-overhang", "Part it to a neck, switch off, and saw the neck through"),
        ("route-speed", "Take a slower speed of its list"),
    }
    assert [one for one in walked(name, setups, steps) if one.key == f"step {step['number']}"] == []
