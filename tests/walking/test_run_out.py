"""A thread that ends at a shoulder: room for a die's lead, time to stop a threading tool.

Common practice: the first two or three threads of a die are its lead and cut no full thread; turned
round, it comes to within one of the shoulder, and a groove a turn wide takes that. A hand needs a
second to disengage or to switch off: at 1 mm of pitch and 60 rev/min 1 mm is crossed in one.
"""

from __future__ import annotations

from functools import cache

import pytest
from jobs import ROOT, planned
from walking.part_walk import Data, of_parts, walked

SMALL = ROOT / "tests" / "data" / "jobs" / "small-alone.toml"
REPAIR = ROOT / "tests" / "data" / "jobs" / "repair-inch.toml"


@cache
def _steps(path: object, part: str) -> tuple[list[Data], list[Data]]:
    return of_parts(planned(path), part)


def _found(path: object, part: str, steps: list[Data], number: int) -> list[tuple[str, str, str]]:
    setups, _ = _steps(path, part)
    found = walked(planned(path), setups, steps)
    return [(o.code, o.value, o.limit) for o in found if o.key == f"step {number}"]


@pytest.mark.parametrize("end", ["shaft end", "knob end"])
def test_a_die_right_up_to_a_shoulder_is_refused(end: str) -> None:
    """As the handle's threads once were: full from the end to the shoulder, no groove before it."""
    path = ROOT / "examples" / "bench-lathe.toml"
    _, steps = _steps(path, "handle")
    ((number, step),) = [
        (i, one) for i, one in enumerate(steps) if one["kind"] == "thread" and end in one["text"]
    ]
    groove, turned = steps[number - 1], steps[number - 2]
    assert groove["kind"] == "groove" and "by the die" in step["text"]
    pitch = step["cut"]["pitch_mm"]
    assert groove["cut"]["to_mm"] - groove["cut"]["from_mm"] >= pitch - 1e-6
    assert _found(path, "handle", steps, step["number"]) == []
    whole = {key: turned["cut"][key] for key in ("from_mm", "to_mm")}
    full = step | {"cut": step["cut"] | whole}
    old = [full if one is step else one for one in steps if one is not groove]
    assert ("route-tool-reach", "the thread runs against a shoulder") in [
        told[:2] for told in _found(path, "handle", old, step["number"])
    ]
    plain = step | {"text": step["text"].split("; the last turns")[0]}
    (told,) = _found(path, "handle", [plain if o is step else o for o in steps], step["number"])
    assert told[0] == "route-tool-reach" and told[2].startswith("its lead is")


def test_a_thread_before_a_shoulder_is_cut_so_slowly_that_a_hand_stops_it() -> None:
    """As it was: 120 rev/min and a groove of one pitch, half a second, with 45 and 75 in the list."""
    _, steps = _steps(REPAIR, "feed-screw")
    (step,) = [one for one in steps if one["text"].startswith("screw-cut feed thread")]
    assert (
        step["speed_rpm"] in (45, 75) and _found(REPAIR, "feed-screw", steps, step["number"]) == []
    )
    fast = [one | {"speed_rpm": 120.0} if one is step else one for one in steps]
    (told,) = _found(REPAIR, "feed-screw", fast, step["number"])
    assert told[0] == "route-speed" and told[1].startswith("120 rev/min, the tool")


def test_where_no_speed_is_slow_enough_the_chuck_is_turned_by_hand() -> None:
    """The small lathe's slowest is 130 rev/min: 1 mm at 1 mm of pitch is crossed in 0.46 s."""
    _, steps = _steps(SMALL, "feed-screw")
    (step,) = [one for one in steps if one["text"].startswith("screw-cut feed thread")]
    assert step["speed_rpm"] == 130
    assert "Switch off before the shoulder and turn the chuck by hand" in step["caution"]
    assert _found(SMALL, "feed-screw", steps, step["number"]) == []
    old = "Stop before the shoulder by hand, or cut away from it with the spindle reversed"
    bare = [one | {"caution": old} if one is step else one for one in steps]
    (told,) = _found(SMALL, "feed-screw", bare, step["number"])
    assert told[0] == "route-words" and "for 0.5 s" in told[2]
