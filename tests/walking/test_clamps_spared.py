"""Clamps stand on a face that the cut leaves; work that was turned thinner is held as it is then.

Common practice: a face that is milled from edge to edge has no room for a clamp; it is held by other
faces. A shaft of 35 that stands 1.7 past the sides of a block of 31.75 keeps a vice's jaws off
it, turned down to 22 it does not (arithmetic).
"""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of

from parts import features as f
from parts.blank import Joined
from parts.frame import Axis, Box
from parts.standard.fits import Limits
from planner.making.bodies import Body, Round, turned, vice
from planner.walking.walk import walk

NO_MILL = {
    "shop.machines": {"drill press": {"speeds": [250, 480, 900, 1650, 2900]}, "welder": {}},
}

SHAFT = Body("shaft", Box((-150.0, -17.5, -17.5), (20.0, 17.5, 17.5)), 0, 35.0,
             (Round(-150.0, 20.0, 35.0, "shaft/blank.round"),))  # fmt: skip
BLOCK = Body("block", Box((0.0, -15.875, -15.875), (50.4, 15.875, 60.3)), None, 0.0)


def _down_to(mm: float) -> f.TurnedDiameter:
    size = Limits(mm, 0.0, 0.0, "")
    axis = Axis((20.0, 0.0, 0.0), "-x")
    return f.TurnedDiameter(
        name="journal", datum="C", axis=axis, start_mm=0.0, end_mm=170.0, diameter=size
    )


def test_a_vice_takes_the_work_as_thick_as_it_was_turned() -> None:
    point = (25.0, 0.0, 55.0)
    assert vice([SHAFT, BLOCK], "+z", [point], 48.8, None) is None
    thin = turned(SHAFT, [_down_to(22.0)])
    assert (thin.diameter, thin.size(1), thin.size(2)) == pytest.approx((22.0, 22.0, 22.0))
    assert (thin.low(0), thin.high(0)) == (-150.0, 20.0)  # as long as before
    held = vice([thin, BLOCK], "+z", [point], 48.8, None)
    assert held is not None and held.grip.size_mm == pytest.approx(31.75)
    same = turned(SHAFT, [_down_to(35.0)])
    assert (same.diameter, same.box) == (35.0, SHAFT.box)


@pytest.mark.parametrize("name", ["bench-lathe", "inch-lathe"])
def test_clamps_on_the_face_that_is_milled_are_refused(name: str) -> None:
    """As it was in a shop without a mill: the block stood on the table, clamped on the foot's flat."""
    plan = planned(ROOT / "examples" / f"{name}.toml")
    setups, steps = (
        copy.deepcopy(rows) for rows in (plan.route.setup_records(), plan.route.operation_records())
    )
    (own,) = (one for one in steps if one["feature"] == "foot flat" and one["makes"])
    (held,) = (one for one in setups if one["number"] == own["setup"])

    def found() -> list[tuple[str, str, str]]:
        parts, job, placed = plan.attachment.parts, plan.job, plan.attachment.placed
        told = walk(parts, job, setups, steps, placed=placed)
        at = (f"step {own['number']}", f"set-up {held['number']}")
        return [(one.code, one.value, one.limit) for one in told if one.key in at]

    assert found() == []
    assert held["hold"]["up"] == "+z"
    body = next(one for one in plan.attachment.parts if one.name == "rotating-body")
    assert isinstance(body.blank, Joined)
    (block,) = (one for one in body.blank.members if one.name == "block")
    box = block.blank.box.placed(block.frame)
    clamp: dict[str, Any] = {
        "surface": "block.+z", "other": "block.-z", "from_mm": box.low[2], "to_mm": box.high[2],
        "size_mm": box.size()[2], "inside": False, "packing": None,
    }  # fmt: skip
    held["hold"] |= {"by": "clamps on the table", "grips": [clamp], "rests": "block.-z"}
    refused = (
        "route-cut-in-grip",
        "the clamps stand on block.+z",
        "this cut takes all of that face",
    )
    assert refused in found()
    # half of the face is left: there is room for a clamp
    flat = own["cut"]["box"]
    flat[1][0] = (flat[0][0] + flat[1][0]) / 2 - own["tool"]["diameter_mm"]
    assert refused not in found()


@pytest.mark.parametrize(
    ("name", "bar"), [("bench-lathe", "round 35 mm"), ("inch-lathe", "round 1-3/8")]
)
def test_a_thick_bar_turned_down_leaves_the_foots_flat_to_the_lathe(name: str, bar: str) -> None:
    """It was sent out to a mill, and clamped there on the very face that is milled."""
    job, whole, route = of(name, **NO_MILL, **{"attachment.sizes": {"shaft_stock": bar}})
    body = next(one for one in whole.parts if one.name == "rotating-body")
    assert isinstance(body.blank, Joined)
    shaft, block = body.blank.members
    assert shaft.blank.section.width_mm > block.blank.length_mm  # 35 past 32, 1-3/8 past 1-1/4
    (cut,) = (o for o in route.operation_records() if "foot flat" in o["makes"])
    (held,) = (one for one in route.setup_records() if one["number"] == cut["setup"])
    assert held["machine"] == "lathe" and held["hold"]["by"] == "cross slide"
    assert not any("foot flat" in one.what for one in route.missing)
    setups, steps = route.setup_records(), route.operation_records()
    assert not walk(whole.parts, job, setups, steps, placed=whole.placed)


def test_the_shaft_hangs_clear_of_the_tables_edge() -> None:
    """By hand: of the block what lies past the shaft's half lies on the table, less a chip's room."""
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    (cut,) = (o for o in plan.route.operation_records() if "hinge slit" in o["makes"])
    (held,) = (one for one in plan.route.setup_records() if one["number"] == cut["setup"])
    (lies,) = re.findall(r"over the table's edge, ([\d.]+) mm of it on the table", held["holding"])
    assert "the shaft hanging down beside it" in held["holding"]
    body = next(one for one in plan.attachment.parts if one.name == "rotating-body")
    (flat,) = (one for one in body.features if one.name == "foot flat")
    size = flat.locations[0].size.nominal_mm  # from the shaft's axis to the flat
    shaft = plan.sizing.sizes.spigot_diameter_mm / 2
    room = size - shaft - float(lies)
    assert 2.0 <= room < 3.0
