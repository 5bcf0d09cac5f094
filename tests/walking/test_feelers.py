"""A slit thinner than the thinnest gauge block is measured by the leaves of a feeler gauge.

Common practice: usual sets of gauge blocks begin at 1 mm, those of leaves go from 0.05 to 1 by 0.05.
"""

from __future__ import annotations

from making.shops import of

from planner.walking.walk import walk


def test_a_thin_slit_measured_by_gauge_blocks_is_refused() -> None:
    """As it was: a slit of 1 mm, by gauge blocks and a straight edge."""
    job, attachment, route = of(**{"attachment.sizes": {"slit_width": 1.0}})
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "slit" and "clamp slit" in one["makes"]]
    (own,) = [one for one in step["measure"] if "slip of sheet" in str(one["how"])]
    assert own["with"]["name"] == "feeler gauge"
    blocks = {"name": "gauge blocks and a straight edge", "resolution_mm": 0.001, "most_mm": 300.0}
    old = own | {"with": own["with"] | blocks}
    spoiled = step | {"measure": [old if one is own else one for one in step["measure"]]}

    def told(rows: list[dict[str, object]]) -> list[tuple[str, str]]:
        found = walk(attachment.parts, job, setups, rows, placed=attachment.placed)
        return [(one.code, one.value) for one in found if one.key == f"step {step['number']}"]

    assert told(steps) == []
    rows = [spoiled if one is step else one for one in steps]
    assert told(rows) == [("route-gauge-range", "0.7 mm to 1.3 mm")]
