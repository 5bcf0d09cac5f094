"""A split bush that serves several works has its step at the depth of each (common practice: work that
is shorter than the pocket is deep sinks into it, and no tool comes to its face).
"""

from __future__ import annotations

from making.shops import of, shop

from planner.making.aids import aids
from planner.making.model import Grip, Hold, SetUp, Workpiece
from planner.making.workshop import Workshop

BORED = (
    "bored to the work in the chuck it is used in, {} deep, with a step at the bottom for the work's"
    " end to seat on, marked at jaw one, slit on one side"
)


def bush(*depths: float) -> str:
    """What is said of a bush for round 30 that grips so deep in one set-up after the other."""
    job, whole, _ = shop("no mill")
    on = Workpiece(next(one for one in whole.parts if one.name == "dial"), None)
    setups = [
        SetUp(on, on.part.features[0].stage, "lathe",
              Hold("chuck", "", (Grip("x.round", 30.0, 0.0, deep, packing="split bush"),)))
        for deep in depths
    ]  # fmt: skip
    (found,) = aids(setups, Workshop(job))
    assert found.length_mm == max(depths) + 4.0
    return found.made


def test_the_step_is_as_deep_as_the_work_is_gripped() -> None:
    assert bush(12.0) == BORED.format("12 mm")
    # deeper work comes later: 3, then 9; what is gripped by 8.5 of 9 stands out half a millimetre less
    assert bush(3.0, 9.0, 8.5) == BORED.format("3 mm") + "; bored on to 9 mm deep for set-up 2"
    # 3 in a pocket of 9: six under it
    assert bush(9.0, 3.0) == (
        BORED.format("9 mm") + "; for set-up 2 a washer of 6 mm, its faces parallel, on the step"
    )


def test_ring_and_dial_share_a_bush() -> None:
    """The bench lathe's ring is 5.5 long when it is turned round, the dial 15: at one depth of 9 the
    ring would be sunk by 3.5."""
    _, _, route = of("bench-lathe")
    held = [
        (number, abs(grip.to_mm - grip.from_mm))
        for number, one in enumerate(route.setups, 1)
        for grip in one.hold.grips
        if grip.packing == "split bush" and abs(grip.size_mm - 24.0) < 0.01
    ]
    depths = [round(deep, 2) for _, deep in held]
    assert depths == [3.0, 8.5, 9.0]
    (made,) = [one.made for one in route.aids if (one.name, one.size) == ("split bush", "24 mm")]
    second = held[1][0]
    assert made == BORED.format("3 mm") + f"; bored on to 8.5 mm deep for set-up {second}"
