"""What a shop is told to borrow some step asks for; and gauge blocks that it has not help nobody.

Common practice: a list of what is missing is gone through before the work is begun, so what stands on
it for nothing is a journey for nothing.
"""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import of

from planner.walking.walk import walk

SMALL: dict[str, Any] = {"units": "mm", "shop.measuring.micrometers": [[0, 25]]}
SHAPER = {"shaper": {}, "welder": {"process": "gas"}, "drill press": {"speeds": [300, 900]}}


def _asked(name: str, **changes: Any) -> tuple[list[tuple[str, str]], set[str]]:
    """The micrometers that are missing, with what is said instead; all that the steps name."""
    _, _, route = of(name, **changes)
    named = {m.gauge.name for op in route.operations for m in op.measures}
    missing = [one for one in route.missing if one.what.startswith("a micrometer")]
    return [(one.what, one.remedy) for one in missing], named


@pytest.mark.parametrize("machines", [SHAPER, {"milling slide": {}}])
def test_no_micrometer_is_borrowed_for_a_reading_that_no_step_has(machines: Any) -> None:
    """A flat over a tube of 28 is read by caliper in the end; the micrometer of a finer reading,
    thought of and given up, was asked for all the same."""
    missing, named = _asked("bench-lathe", **SMALL | {"shop.machines": machines})
    assert "micrometer 0 to 25 mm" in named and missing == []


def test_who_shapes_is_told_of_the_ram() -> None:
    """It comes out behind as far as before, and throws its chips (common practice: stand beside it).
    As it was, a shaper alone of all machines had no caution."""
    job, whole, route = of("bench-lathe", **{"shop.machines": SHAPER})
    setups, steps = route.setup_records(), route.operation_records()
    shaped = [one for one in setups if one["machine"] == "shaper"]
    assert shaped
    assert {one["caution"] for one in shaped} == {
        "Stand beside, never in line with the ram, before it or behind: its stroke set and tried by"
        " hand first; goggles and a screen for the chips it throws"
    }
    bare = [one | {"caution": ""} if one in shaped else one for one in setups]

    def told(records: list[dict[str, Any]]) -> set[str]:
        found = walk(whole.parts, job, records, steps)
        return {one.limit for one in found if one.code == "route-words"}

    assert told(setups) == set()
    assert told(bare) == {"its ram comes out before and behind, and its chips fly"}


@pytest.mark.parametrize(
    ("blocks", "remedy"),
    [(True, "Borrow one, or set calipers by gauge blocks"), (False, "Borrow one")],
)
def test_calipers_are_set_by_gauge_blocks_where_there_are_any(blocks: bool, remedy: str) -> None:
    """The larger lathe's shaft has a spigot thicker than 25, within 0.033 (ISO 286 h8)."""
    changes = SMALL | {"shop.measuring.gauge_blocks": blocks}
    missing, named = _asked("engine-lathe", **changes)
    assert missing == [("a micrometer 25 to 50 mm", remedy)]
    assert "micrometer 25 to 50 mm" in named
