"""A nut that sets an end play is turned no farther at a time than the play's limits are apart.

A thread moves by its pitch in a turn (ISO 68-1): M16 by 2 mm, M24 by 3 mm, 7/16-20 by 1/20 in.
"""

from __future__ import annotations

import copy
from math import pi
from typing import Any

import pytest
from making.shops import of

from planner.walking.walk import walk
from planner.words.findings import Finding


def adjusted(route: Any) -> dict[str, Any]:
    (step,) = (o for o in route.operation_records() if o["tool"]["kind"] == "nut")
    return dict(step)


def walked(job: Any, whole: Any, route: Any, **said: Any) -> tuple[Finding, ...]:
    operations = copy.deepcopy(list(route.operation_records()))
    (step,) = (o for o in operations if o["tool"]["kind"] == "nut")
    step["eased"] = {**step["eased"], **said} if said else None
    return walk(whole.parts, job, route.setup_records(), operations, placed=whole.placed)


@pytest.mark.parametrize(
    ("example", "size", "rim_mm", "pitch_mm", "said"),
    [
        ("bench-lathe", "M16", 24.0, 2.0, "slack the nut by 0.5 mm at its rim"),
        ("engine-lathe", "M24", 35.0, 3.0, "slack the nut by 0.5 mm at its rim"),
        (
            "inch-lathe",
            "5/8-18 UNF",
            15 / 16 * 25.4,
            25.4 / 18,
            "slack the nut by 1/64 in at its rim",
        ),
    ],
)
def test_no_turn_of_the_nut_takes_it_past_both_limits(
    example: str, size: str, rim_mm: float, pitch_mm: float, said: str
) -> None:
    _, whole, route = of(example)
    step = adjusted(route)
    assert said in step["text"]
    nut = next(part for part in whole.parts if part.name == "pivot-nut")
    own: dict[str, Any] = {one.name: one for one in nut.features}
    assert own["nut thread"].thread == size
    assert own["nut rim"].diameter.nominal_mm == pytest.approx(rim_mm, abs=0.01)
    (play,) = step["measure"]
    moved = pitch_mm * step["eased"]["arc_mm"] / (pi * rim_mm)
    apart = (
        0.0005 * 25.4 if example == "inch-lathe" else 0.02
    )  # 0.0005 to 0.0010 in; 0.01 to 0.03 mm
    assert 0.3 * apart < moved <= play["high_mm"] - play["low_mm"] == pytest.approx(apart)


def test_a_twelfth_of_a_turn_is_refused() -> None:
    """As it was said: M16 moved by 2/12 = 0.167 mm, where 0.02 lie between too little and too much."""
    job, whole, route = of()
    assert walked(job, whole, route, arc_mm=0.5) == ()
    (found,) = walked(job, whole, route, arc_mm=pi * 24 / 12)
    assert found.code == "route-not-fine"
    assert "6.28 mm at its rim: 0.167 mm of play" in str(found)
    assert "its limits are 0.02 mm apart" in str(found)


@pytest.mark.parametrize("said", [{}, {"part": "housing"}, {"rim": "nut thread"}, {"thread": ""}])
def test_how_far_it_is_turned_is_said_of_the_nut(said: dict[str, Any]) -> None:
    job, whole, route = of()
    assert [found.code for found in walked(job, whole, route, **said)] == ["route-record"]
