"""An end mill in the lathe's own spindle is in a collet or a holder, not bare in the chuck's jaws.

Common practice: its hard shank slips in the jaws, and the helix draws it out into the work.
"""

from __future__ import annotations

import pytest
from making.shops import BARE_LATHE, of, walked_whole
from walk_asked import Told
from walking.part_walk import near

from planner.making.outfit import NOT_BARE_IN, outfit
from planner.walking.headstock import headstock_ready

SLIDE = {"shop.machines": {"milling slide": {}, "drill press": {}, "bandsaw": {}, "welder": {}}}


@pytest.mark.parametrize(
    ("machine", "kind", "caution", "refused"),
    [
        ("milling slide", "end mill", "", True),
        ("milling slide", "end mill", "Goggles", True),
        ("milling slide", "end mill", "In a collet", False),
        ("lathe", "end mill", "", True),  # the work on the cross slide
        ("lathe", "end mill", "In a holder with a screw on its flat", False),
        # it has its arbor, but runs close before the chuck
        ("milling slide", "slitting saw", "Turn it by hand a full turn: all must clear", False),
        ("milling slide", "slitting saw", "Goggles", True),
        ("mill", "slitting saw", "Goggles", False),
        ("mill", "end mill", "", False),  # its spindle has no jaws
    ],
)
def test_it_is_said_what_holds_it(machine: str, kind: str, caution: str, refused: bool) -> None:
    told = Told()
    one = {"number": 7, "tool": {"kind": kind}, "caution": caution}
    headstock_ready({"machine": machine, "hold": {"by": "machine vice"}}, [one], told)
    assert told.codes == ["route-words"] * refused


def test_a_route_that_leaves_it_to_the_chuck_is_refused() -> None:
    """What routes said before: nothing but the milling slide's vice, for the work."""
    job, whole, route = of("bench-lathe", **SLIDE)
    setups, steps = route.setup_records(), route.operation_records()
    own = {s["number"] for s in setups if s["machine"] == "milling slide"}
    milled = [o for o in steps if o["setup"] in own and o["tool"]["kind"] == "end mill"]
    assert len(milled) > 5 and all("collet" in one["caution"] for one in milled)
    assert NOT_BARE_IN in {item.name for item in outfit(route, job)}
    assert walked_whole(**SLIDE) == ()
    milled[0]["caution"] = ""
    (told,) = near(whole, job, setups, steps, milled[0]["part"])
    assert told.key == f"step {milled[0]['number']}"
    assert (told.code, told.value) == ("route-words", "an end mill in the lathe's spindle")


def test_a_saw_before_the_chuck_is_turned_round_by_hand_first() -> None:
    """The vice that holds the block is wider than it, and passes before the chuck's jaws (common
    practice). As it was: clamp well, slow, goggles."""
    job, whole, route = of("bench-lathe", **SLIDE)
    setups, steps = route.setup_records(), route.operation_records()
    sawn = [o for o in steps if o["tool"]["kind"] == "slitting saw"]
    assert sawn and all("by hand a full turn at both ends" in one["caution"] for one in sawn)
    sawn[0]["caution"] = sawn[0]["caution"].partition("jaws. ")[2]
    assert sawn[0]["caution"].startswith("Clamp well")
    (told,) = near(whole, job, setups, steps, sawn[0]["part"])
    assert (told.code, told.key) == ("route-words", f"step {sawn[0]['number']}")
    assert told.value == "a slitting saw in the lathe's spindle"
    job, whole, route = of("bench-lathe")
    on_mill = [o for o in route.operation_records() if o["tool"]["kind"] == "slitting saw"]
    assert on_mill and not any("full turn" in one["caution"] for one in on_mill)


def test_a_fly_cutter_is_turned_round_by_hand_first() -> None:
    """Its one bit sweeps past clamps and slide, and is not seen as it turns (common practice). As it
    was, nothing was said of it."""
    job, whole, route = of("bench-lathe", **BARE_LATHE)
    setups, steps = route.setup_records(), route.operation_records()
    swept = (
        "Turn the spindle by hand a full turn first: the bit must clear work, clamps and slide; stand"
        " out of its plane"
    )
    (flown,) = [o for o in steps if o["tool"]["kind"] == "fly cutter"]
    assert swept in flown["caution"]
    old = [o | {"caution": ""} if o is flown else o for o in steps]

    def told(records: list[dict[str, object]]) -> list[tuple[str, str]]:
        found = near(whole, job, setups, records, flown["part"])
        return [(one.key, one.value) for one in found if one.code == "route-words"]

    assert told(steps) == []
    assert told(old) == [(f"step {flown['number']}", "a fly cutter")]


def test_on_a_mill_nothing_is_said_of_it() -> None:
    job, _, route = of("bench-lathe")
    assert any(one["tool"]["kind"] == "end mill" for one in route.operation_records())
    assert NOT_BARE_IN not in {item.name for item in outfit(route, job)}
