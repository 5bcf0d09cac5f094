"""A slit sawn by hand is as wide as its blades side by side cut.

By hand: a blade 0.65 thick (ISO 2336, from memory) cuts about 0.95; two side by side 1.6, three 2.25. A
slit of 2.4 within 0.3 is not cut by two, nor one of 1.0 by two.
"""

from __future__ import annotations

import pytest
from making.shops import of

from planner.making.ways.blades import by_blades
from planner.walking.walk import walk


@pytest.mark.parametrize(
    ("wide", "said"),
    [
        (0.7, "hacksaw, a fine blade"),
        (1.0, "hacksaw, a fine blade"),
        (1.6, "hacksaw, two fine blades"),
        (2.0, "hacksaw, three fine blades"),
        (2.4, "hacksaw, three fine blades"),
        (3.2, "hacksaw, a fine blade, slim file"),
    ],
)
def test_blades_side_by_side_make_the_width(wide: float, said: str) -> None:
    words, tool = by_blades(wide)
    assert tool.name == said
    assert ("two scribed lines" in words) == ("file" in said)


@pytest.mark.parametrize(("wide", "blades"), [(2.4, "three"), (1.0, "a")])
def test_two_blades_for_every_slit_are_refused(wide: float, blades: str) -> None:
    """As it was: two blades side by side, whatever the width."""
    job, attachment, route = of(**{"attachment.sizes": {"slit_width": wide}})
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "slit" and "clamp slit" in one["makes"]]
    assert step["tool"]["name"].startswith(f"hacksaw, {blades} fine blade")
    old = step | {"tool": step["tool"] | {"name": "hacksaw, two fine blades"}}
    spoiled = [old if one is step else one for one in steps]

    def told(rows: list[dict[str, object]]) -> list[str]:
        found = walk(attachment.parts, job, setups, rows, placed=attachment.placed)
        return [one.value for one in found if one.key == f"step {step['number']}"]

    assert told(steps) == []
    assert told(spoiled) == ["two fine blades: a slit 1.6 mm wide"]
