"""A slit sawn by hand is as wide as its blades side by side cut.

By hand: a blade 0.65 thick (ISO 2336, from memory) cuts about 0.95; two side by side 1.6, three 2.25. A
slit of 2.4 within 0.3 is not cut by two, nor one of 1.0 by two.
"""

from __future__ import annotations

import pytest
from making.shops import of

from parts.features import Hole
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


@pytest.mark.parametrize(
    ("up", "grip", "code"),
    [
        # as it was: the leaf's side in the vice's bottom, the slit between the jaws
        ("+z", (-15.0, 21.6), "route-cut-in-grip"),
        # the leaf above the jaws: the blades lie flat over them
        ("-z", (2.0, 20.0), "route-tool-reach"),
        # the front up, the jaws over half of the slit
        ("+x", (0.0, 30.0), "route-cut-in-grip"),
    ],
)
def test_blades_come_down_over_the_jaws(up: str, grip: tuple[float, float], code: str) -> None:
    """The slit runs from the block's front through both its sides: jaws on those sides hold what is
    under it, the front up (common practice: work is held close under the cut, never round it)."""
    job, attachment, route = of(**{"attachment.sizes": {"slit_width": 2.4}})
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "slit" and "clamp slit" in one["makes"]]
    (held,) = [one for one in setups if one["number"] == step["setup"]]
    (own,) = held["hold"]["grips"]
    assert (held["hold"]["up"], own["surface"], own["other"]) == ("+x", "block.-y", "block.+y")
    (body,) = (one for one in attachment.parts if one.name == "rotating-body")
    (bore,) = (one for one in body.features if one.name == "rod bore" and isinstance(one, Hole))
    # from the raw back to under the rod bore's front wall, where the slit ends
    wall = bore.axis.origin[0] + attachment.sizes.rod_diameter_mm / 2
    assert own["from_mm"] <= 0.0 < bore.axis.origin[0] < own["to_mm"] < wall - 0.5
    assert "its +x side up" in held["holding"] and "the shaft down between them" in held["holding"]

    def told(rows: list[dict[str, object]]) -> list[str]:
        found = walk(attachment.parts, job, rows, steps, placed=attachment.placed)
        return [one.code for one in found if one.key == f"step {step['number']}"]

    assert told(setups) == []
    other = own | {"from_mm": grip[0], "to_mm": grip[1]}
    spoiled = held | {"hold": held["hold"] | {"up": up, "grips": [other]}}
    assert told([spoiled if one is held else one for one in setups]) == [code]


def test_a_shaft_between_a_bench_vices_jaws_hangs_beside_its_slide() -> None:
    """As it was: only between the jaws. Vices of 100 to 150 mm have their slide 50 to 90 mm under the
    jaws' tops (common practice); the shaft of the least attachment ends lower."""
    job, attachment, route = of(**{"attachment.sizes": {"slit_width": 2.4}})
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "slit" and "clamp slit" in one["makes"]]
    (held,) = [one for one in setups if one["number"] == step["setup"]]
    where = " at their end, beside the vice's slide"
    assert held["holding"].endswith("the shaft down between them" + where)

    def told(holding: str) -> list[str]:
        old = [one | {"holding": holding} if one is held else one for one in setups]
        found = walk(attachment.parts, job, old, steps, placed=attachment.placed)
        return [f"{one.code} {one.key} {one.limit}" for one in found]

    assert told(held["holding"]) == []
    (said,) = told(held["holding"].replace(where, ""))
    assert said.startswith("route-jaws-room") and "50 mm" in said
