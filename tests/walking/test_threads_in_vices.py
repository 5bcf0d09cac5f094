"""A vice crushes a thread: a screw is held by a round that has none (common practice)."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest
from jobs import EXAMPLES, planned
from walking.part_walk import of_parts, walked

from parts import features as f
from parts.blank import Member, Stock
from parts.frame import Axis, Frame
from parts.standard.sections import Section
from planner.making.bodies import bench_hold
from planner.making.model import Workpiece
from planner.making.unthreaded import unthreaded

ALONG = Axis((0.0, 0.0, 0.0), "+x")


def _held(head_mm: float, *, threaded: bool = True) -> str:
    """What a screw is held by in the bench vice: 8 of a thread, a head so long behind it."""
    rows = ((0.0, 8.0, 6.0, "shank"), (8.0, 8.0 + head_mm, 12.0, "head"))
    features: tuple[f.Feature, ...] = tuple(
        f.TurnedDiameter(
            name=name, datum="A", start_mm=a, end_mm=z, axis=ALONG, diameter=f.general(d)
        )
        for a, z, d, name in rows
    )
    if threaded:
        cut = f.Thread(name="thread", datum="A", axis=ALONG, start_mm=0.0, end_mm=7.0, thread="M6")
        features += (cut,)
    stock = Stock(Section("round", 16.0), 8.0 + head_mm, "CW614N")
    member = Member("screw", stock, Frame(), features)
    part = SimpleNamespace(name="screw", blank=stock)
    (grip,) = bench_hold(unthreaded(Workpiece(cast(Any, part), member))).grips
    return grip.surface


@pytest.mark.parametrize("head", [7.0, 9.0])
def test_a_screw_is_held_by_its_head(head: float) -> None:
    """As it was at 7: the thread is the longer round."""
    assert _held(head) == "head.round"


def test_without_a_thread_the_longer_round_is_held() -> None:
    assert _held(7.0, threaded=False) == "shank.round"
    assert _held(9.0, threaded=False) == "head.round"


def test_a_grip_on_the_thread_is_refused() -> None:
    plan = planned(next(one for one in EXAMPLES if one.stem == "inch-lathe"))
    setups, steps = of_parts(plan, "drag-screw")
    filed = next(one for one in setups if one["machine"] == "bench")
    assert filed["hold"]["grips"][0]["surface"] == "drag head.round"
    assert [one for one in walked(plan, setups, steps) if "set-up" in one.key] == []
    thread = "drag thread diameter.round"
    (part,) = (one for one in plan.attachment.parts if one.name == "drag-screw")
    turned = next(o for o in part.features if o.name == "drag thread diameter")
    assert isinstance(turned, f.TurnedDiameter)
    size = turned.diameter.mean_mm
    (grip,) = filed["hold"]["grips"]
    old = grip | {"surface": thread, "other": thread, "size_mm": size, "from_mm": -size / 2,
                  "to_mm": 0.4 * size}  # fmt: skip
    spoiled = [
        one | {"hold": one["hold"] | {"grips": [old]}} if one is filed else one for one in setups
    ]
    told = [(one.key, one.code) for one in walked(plan, spoiled, steps)]
    assert told == [(f"set-up {filed['number']}", "route-grip-finished")]
