"""Lines put round a rim come even: steps of spaces, holes or tape against one turn, counted by hand."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, ROOT, changed, planned
from walk_pieces_turned import dial
from walk_shops import shop

from parts.features import TurnedDiameter
from planner.job.reading import job_from
from planner.making.ways.dividing import dividing
from planner.making.workshop import Workshop
from planner.output.plan import Plan
from planner.walking.walk import walk
from planner.words.findings import Finding

BENCH = "bench-lathe"


def _walked(job: Any = None, **divided: Any) -> list[Finding]:
    """The dial of the hand-written routes, its lines divided otherwise; text: of the step."""
    route = dial()
    (step,) = [o for o in route.operations if o["kind"] == "engrave"]
    step["text"] = divided.pop("text", "by a circle of 50, 60, 100 or 25, every 2 spaces")
    machine = divided.pop("machine", None)
    step["divided"] = {**step["divided"], **divided} if divided else None
    if machine:
        next(o for o in route.setups if o["number"] == step["setup"])["machine"] = machine
    found = walk(route.parts, job or shop(), route.setups, route.operations)
    return [o for o in found if o.key == f"step {step['number']}"]


def _said(found: list[Finding]) -> list[tuple[str, str, str]]:
    return [(o.code, o.value, o.limit) for o in found]


def _with(**more: Any) -> Any:
    gears = {"lathe.change_gears": [20, 25, 50, 60, 100], "lathe.dividing_circles": [60, 100]}
    return job_from(changed(BENCH, **(gears | more)), "job.toml")


@pytest.mark.parametrize(
    "how",
    [
        {"by": "wheel", "circle": 50, "step": 1},
        {"by": "wheel", "circle": 100, "step": 2},
        {"by": "wheel, two pins", "circle": 25, "step": 1},  # fifty half spaces
        {"by": "plate", "circle": 100, "step": 2},
        {"by": "tape", "across_mm": 159.155, "step_mm": 10.0},  # pi 159.155 = 500.0
    ],
)
def test_fifty_lines_come_even(how: dict[str, Any]) -> None:
    assert _said(_walked(_with(), **how)) == []


@pytest.mark.parametrize(
    ("how", "value", "limit"),
    [
        ({"by": "plate", "circle": 60, "step": 1}, "50 steps of 1", "once round is 60"),
        ({"by": "wheel", "circle": 100, "step": 1}, "50 steps of 1", "once round is 100"),
        ({"by": "wheel, two pins", "circle": 50, "step": 1}, "50 steps of 1", "once round is 100"),
        ({"lines": 60}, "60 lines", "the scale has 50"),
        ({"by": "plate", "circle": 50, "step": 1}, "a circle of 50", "the shop has none"),
        ({"by": "tape", "across_mm": 150.0, "step_mm": 10.0}, "50 times 10 mm of tape",
         "the disc is 471.24 mm round"),
        # 62 over the cross slide, that 28 over the bed: 180 swings
        ({"by": "tape", "across_mm": 190.986, "step_mm": 12.0}, "a disc of 190.99 mm",
         "over the bed swings 180 mm or little more"),
        ({"by": "wheel", "circle": 50, "text": "by a change gear of 60 teeth"},
         "by a circle of 50, a step of 1", "the step says other numbers"),
        ({"by": "dividing head"}, "divided by a dividing head on the lathe", "it is on the mill"),
    ],
)  # fmt: skip
def test_what_does_not_come_even_is_refused(how: dict[str, Any], value: str, limit: str) -> None:
    assert ("route-divided", value, limit) in _said(_walked(_with(), **how))


def test_a_scale_that_does_not_say_by_what_is_no_step() -> None:
    assert [o.code for o in _walked()] == ["route-record"]


@pytest.mark.parametrize(
    ("divisions", "circles", "gears", "by", "circle", "step"),
    [
        # A plate of 60 behind the chuck, as on many lathes' bull gears (common practice), by hand:
        (20, [60], [20, 40], "plate", 60, 3),
        (60, [60], [20, 40], "plate", 60, 1),
        (40, [60], [20, 40], "wheel", 40, 1),
        (40, [60, 80], [], "plate", 80, 2),
        (50, [], [25, 60], "wheel, two pins", 25, 1),
    ],
)
def test_what_the_shop_divides_with(
    divisions: int, circles: list[int], gears: list[int], by: str, circle: int, step: int
) -> None:
    job = _with(**{
        "lathe.dividing_circles": circles, "lathe.change_gears": gears,
        "shop.dividing_head_ratio": None, "shop.machines": {},
    })  # fmt: skip
    found = dividing(divisions, Workshop(job, None))
    assert found.on_spindle
    assert dict(found.record) == {"lines": divisions, "by": by, "circle": circle, "step": step}


@pytest.mark.parametrize("circles", [[60], [48, 60], [40, 80]])
def test_a_dial_by_the_plate_behind_the_chuck(circles: list[int], tmp_path: Path) -> None:
    """40 divisions: by the circle of 40 or 80; a plate that has none leaves the shop's other means."""
    bench = (ROOT / "examples" / f"{BENCH}.toml").read_text(encoding="utf-8")
    own = bench.replace("[lathe]", f"[lathe]\ndividing_circles = {circles}", 1)
    own = own.replace("dial_divisions = 50", "dial_divisions = 40")
    (tmp_path / "job.toml").write_text(own, encoding="utf-8")
    plan = Plan(tmp_path / "job.toml")
    (step,) = [
        o for o in plan.route.operation_records() if o["feature"] == "scale" and o["divided"]
    ]
    assert (step["divided"]["by"] == "plate") == (40 in circles)
    assert not [o for o in plan.walked if o.severity == "refused"]


def test_the_examples_say_by_what() -> None:
    for name in ("bench", "inch", "engine"):
        plan = planned(ROOT / "examples" / f"{name}-lathe.toml")
        steps = [o for o in plan.route.operation_records() if o["kind"] == "engrave"]
        for step in steps:
            assert bool(step["divided"]) == (step["feature"] == "scale")


def test_a_rotary_table_that_lies_flat_rules_no_lines_along_a_rim() -> None:
    """The lines lie along the dial's axis, which stands upright on a table laid flat (geometry)."""
    machines = {"mill": {"speeds": [500]}, "rotary table": {}}
    job = _with(**{"shop.machines": machines, "shop.dividing_head_ratio": None})
    how = {"by": "rotary table", "machine": "mill"}
    flat = "a rotary table laid flat"
    up = _walked(job, **how, text="stood on its edge, its axis along the mill's travel")
    assert flat not in [o.value for o in up]
    laid = _walked(job, **how, text="angles by the dial-engraving table")
    limit = "the lines lie along its axis, which stands upright"
    assert ("route-divided", flat, limit) in _said(laid)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_line_along_a_rim_is_not_drawn_up_against_a_shoulder(path: Path) -> None:
    """As it was: the ring's rim turned as long as the ring alone, so that the bar stood up where its
    line ends. A tool of 60 degrees laid on its side has a flank (common practice: turn past where the
    piece is parted off)."""
    plan = planned(path)
    setups, steps = plan.route.setup_records(), copy.deepcopy(plan.route.operation_records())
    whole = plan.attachment
    (rim,) = (one for one in steps if one["makes"] == ["ring rim"])
    assert "on past where it is parted off" in rim["text"] and "shoulder" not in rim["text"]
    ring = next(part for part in whole.parts if part.name == "index-ring")
    (turned,) = (one for one in ring.features if one.name == "ring rim")
    assert isinstance(turned, TurnedDiameter) and rim["cut"]["to_mm"] > turned.end_mm + 3.0
    rim["cut"]["to_mm"] = turned.end_mm
    found = walk(whole.parts, plan.job, setups, steps, placed=whole.placed)
    assert "route-tool-reach" in {one.code for one in found}
    assert any(one.value.startswith("the index mark up to a shoulder") for one in found)
