"""A thick drill follows a thinner one: its web cuts nothing, and a small machine has no thrust for it.

Common practice: over 13 mm (half an inch) a hole is drilled first with one of about half the size; past
20 mm (3/4 in) it must be.
"""

from __future__ import annotations

import pytest
from walking.shop_files import planned, walked


@pytest.mark.parametrize(
    ("pilot", "thick", "refused"), [(13.0, 25.5, True), (9.6, 16.0, False), (8.4, 14.0, False)]
)
def test_a_thick_drill_into_the_solid_is_refused(pilot: float, thick: float, refused: bool) -> None:
    """As it was: after a centre drill the boat yard's rod hole at once by 25.5, its feed screw hole
    by 16 and its feed nut by 14. All are drilled thinner first now."""
    route = planned("boat-yard").route
    setups, steps = route.setup_records(), route.operation_records()
    found = [
        (before, one)
        for before, one in zip(steps, steps[1:], strict=False)
        if (one["kind"], before["kind"], one["tool"]["diameter_mm"]) == ("drill", "drill", thick)
    ]
    ((before, step),) = found
    assert before["tool"]["diameter_mm"] == pilot and before["setup"] == step["setup"]
    spoiled = [one for one in steps if one is not before]
    told = [one for one in walked("boat-yard", setups, spoiled) if one.code == "route-order"]
    what = (f"step {step['number']}", f"a drill of {thick:g} mm into the solid")
    assert (what in [(one.key, one.value) for one in told]) == refused
