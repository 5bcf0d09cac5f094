"""In a vice a weldment, or a block that is bored, lies any of its sides up: which is said.

Common practice: a set-up that can be made four ways is told by the side that looks to the tool. The
vent is drilled from the leaf's side, 6 mm from the spigot's bore; from the other it would not reach it.
"""

from __future__ import annotations

import re
from functools import cache

import pytest
from jobs import ROOT, planned
from walking.part_walk import Data, of_parts, walked

BENCH = ROOT / "examples" / "bench-lathe.toml"
ALONE = ROOT / "tests" / "data" / "shops" / "cellar.toml"
SIDE = r"; its [+-][xyz] side (up|toward the spindle)"


@cache
def _route(path: object, part: str) -> tuple[list[Data], list[Data]]:
    return of_parts(planned(path), part)


def _set_up(path: object, part: str, step: str) -> Data:
    setups, steps = _route(path, part)
    (number,) = {one["setup"] for one in steps if one["text"].startswith(step)}
    (found,) = (one for one in setups if one["number"] == number)
    return found


@pytest.mark.parametrize(
    ("path", "part", "step", "side"),
    [
        (BENCH, "rotating-body", "drill vent", "-y side up"),  # into the leaf, before it is welded
        (BENCH, "rotating-body", "mill foot flat", "+z side up"),
        (BENCH, "rotating-body", "drill clamp screw hole", "-z side up"),  # the leaf's outer face
        (BENCH, "housing", "drill oil hole", "+y side up"),  # on top
        (ALONE, "rotating-body", "fly-cut foot flat", "+z side toward the spindle"),
    ],
)
def test_the_side_that_is_up_is_said(path: object, part: str, step: str, side: str) -> None:
    """The axes are the part's: y up and z to the foot's flat; the leaf lies on the other side of it."""
    held = _set_up(path, part, step)
    assert f"; its {side}" in held["holding"]
    setups, steps = _route(path, part)
    key, code = f"set-up {held['number']}", "route-words"

    def said(words: str) -> list[tuple[str, str]]:
        other = [one | {"holding": words} if one is held else one for one in setups]
        found = walked(planned(path), other, steps)
        return [(o.limit, o.remedy) for o in found if o.key == key and o.code == code]

    assert said(held["holding"]) == []
    bare = re.sub(SIDE, "", held["holding"])
    assert ("which side is up is not said", f"Say that its {side[:7]} is") in said(bare)
    wrong = {"+": "-", "-": "+"}[side[0]] + side[1:7]
    assert said(held["holding"].replace(side[:7], wrong))


@pytest.mark.parametrize("shop", ["garage-inch", "tool-room"])
def test_what_work_lies_on_tells_no_side_of_it(shop: str) -> None:
    """A square bar is drilled through, on packings, then tapped a quarter turn from there, on
    parallels: the holes cross (common practice: a turn is said by what was made before it). As it was,
    the other packing passed for another side, and nothing said that the bar is turned at all."""
    path = ROOT / "tests" / "data" / "shops" / f"{shop}.toml"
    setups, steps = _route(path, "stop-bar")
    held = _set_up(path, "stop-bar", "spot neck stop hole")
    before = _set_up(path, "stop-bar", "spot stop fixing hole 1")
    assert "short packings" in before["holding"] and "on parallels" in held["holding"]
    assert held["hold"]["up"] != before["hold"]["up"]
    turn = "; turned a quarter turn counter-clockwise from the stop fixing hole 1"
    turn += ", seen from the far end"
    assert held["holding"].endswith(turn)
    old = [one | {"holding": one["holding"].replace(turn, "")} for one in setups]

    def found(setups: list[Data]) -> list[str]:
        key = f"set-up {held['number']}"
        walks = walked(planned(path), setups, steps)
        return [o.remedy for o in walks if o.key == key and o.code == "route-words"]

    assert found(setups) == []
    assert found(old) == ["Say how far the work is turned, or which side is up"]


def test_a_round_that_is_turned_on_has_lines_to_be_set_by() -> None:
    """A rim has no sides: a quarter turn is found by lines scribed on the end, through the middle by a
    centre square (common practice). As it was, "turned a quarter turn" alone stood there."""
    path = ROOT / "tests" / "data" / "shops" / "farm-shed.toml"
    setups, steps = _route(path, "pivot-nut")
    held = _set_up(path, "pivot-nut", "spot spanner hole 1")
    words = re.search(r": by lines? scribed.*by a square", held["holding"])
    assert words is not None

    def found(setups: list[Data]) -> list[str]:
        key = f"set-up {held['number']}"
        walks = walked(planned(path), setups, steps)
        return [o.remedy for o in walks if o.key == key and o.code == "route-words"]

    assert found(setups) == []
    old = [one | {"holding": one["holding"].replace(words[0], "")} for one in setups]
    assert found(old) == ["Say by what it is set: lines scribed across its end, and a square"]
