"""What a fine thread is tried with: the school's feed screw, M10x1."""

from __future__ import annotations

from typing import Any

import pytest
from jobs import ROOT, planned
from msgspec.structs import replace
from walking.part_walk import of_parts, walked

from planner.making.model import At, Centre, Grip, Hold
from planner.making.outfit import outfit
from planner.making.ways.screwed import no_nut, to_try

SCHOOL = ROOT / "tests" / "data" / "jobs" / "school-mill.toml"


@pytest.mark.parametrize(
    ("name", "rare"),
    [
        ("M10", False), ("M10x1", True), ("M8x1", True), ("3/8-16 UNC", False), ("1/2-20 UNF", False),
        ("1-12 UNF", True), ("1-8 UNC", False),
    ],
)  # fmt: skip
def test_which_nuts_lie_in_a_shop(name: str, rare: bool) -> None:
    """Coarse ones, and fine unified ones up to 3/4 in (common practice)."""
    assert no_nut(name) == rare


def _screw(gauge: str) -> list[Any]:
    """What is said of the feed thread's step, tried by a gauge."""
    plan = planned(SCHOOL)
    setups, steps = of_parts(plan, "feed-screw")
    cut = next(o for o in steps if o["feature"] == "feed thread" and o["kind"] == "thread")
    (read,) = cut["measure"]
    other = cut | {"measure": [read | {"with": read["with"] | {"name": gauge}}]}
    found = walked(plan, setups, [other if o is cut else o for o in steps])
    return [(o.code, o.value) for o in found if o.key == f"step {cut['number']}"]


def test_a_thread_tried_by_a_nut_that_nobody_has_is_refused() -> None:
    """M10's nut is of 1.5 (ISO 261, coarse): none of 1 is in the school, and its taps are coarse."""
    assert _screw("nut or thread gauge") == [("route-no-nut", "M10x1 tried by nut or thread gauge")]
    assert _screw("gauge nut") == _screw("three wires and micrometer") == []


def test_the_nut_is_an_aid_and_its_tap_is_listed_from_then_on() -> None:
    plan = planned(SCHOOL)
    assert [str(o) for o in plan.walked if o.code == "route-no-nut"] == []
    screw = next(o for o in plan.route.operations if "screw-cut feed thread" in o.text)
    nut = next(o for o in plan.route.operations if o.text.startswith("tap feed nut thread"))
    assert screw.gauge == "gauge nut" and screw.setup < nut.setup
    (aid,) = [o for o in plan.route.aids if o.name == "gauge nut"]
    assert (aid.setup, aid.size, aid.sawn) == (screw.setup, "M10x1", False)
    assert "drilled 9 mm and tapped M10x1 in one chucking" in aid.made  # 10 less the pitch
    (tap,) = [o for o in outfit(plan.route, plan.job) if o.name == "tap M10x1"]
    assert (tap.setups, tap.has) == ((screw.setup, nut.setup), "no")
    (gauge,) = [o for o in outfit(plan.route, plan.job) if o.name == "gauge nut"]
    assert (gauge.has, gauge.setups) == ("made first", (screw.setup,))


TAIL = "; to try the nut the tailstock is drawn back, the work left as it is held"
STEADY = TAIL.replace("back,", "back, the steady taken off,")


def _worded(part: str, name: str, old: str, new: str) -> list[str]:
    """What is refused of a thread's step on the large lathe, its words changed."""
    plan = planned(ROOT / "examples" / "engine-lathe.toml")
    setups, steps = of_parts(plan, part)
    cut = next(o for o in steps if o["feature"] == name and o["kind"] == "thread")
    assert old in cut["text"]
    other = cut | {"text": cut["text"].replace(old, new)}
    found = walked(plan, setups, [other if o is cut else o for o in steps])
    return [f"{o.value}: {o.limit}" for o in found if o.key == f"step {cut['number']}"]


def test_no_nut_passes_a_centre_or_a_steady() -> None:
    """As it was: the nut was to be tried on a thread whose free end was stopped by the live centre,
    and on the shaft by the fixed steady as well (a ring goes on over an end: a fact of the thing)."""
    nut = "gauge nut: it comes on over the work's end: the tailstock's centre in the way"
    assert _worded("feed-screw", "feed thread", TAIL, "") == [nut]
    assert _worded("feed-screw", "feed thread", TAIL, TAIL) == []
    by = "nut or thread gauge: it comes on over the work's end: "
    tail, steady = f"{by}the tailstock's centre in the way", f"{by}the steady in the way"
    assert _worded("rotating-body", "pivot thread", STEADY, "") == [tail, steady]
    assert _worded("rotating-body", "pivot thread", STEADY, TAIL) == [steady]
    assert _worded("rotating-body", "pivot thread", STEADY, STEADY) == []


def test_what_goes_out_of_a_nuts_way_comes_from_how_the_work_is_held() -> None:
    """Gripped from 0 to 40, the thread at 100: a steady at 60 is behind it, one at 140 before it."""
    grip = Grip("blank.round", 20.0, 0.0, 40.0)
    held = Hold("three-jaw chuck", "", (grip,))
    tail = Centre("live", "+x", 4.0)
    between = (
        "; to try the nut it comes out from between the centres, and goes back with its carrier"
    )
    assert to_try(held, 100.0) == to_try(replace(held, steady=At(60.0, 20.0)), 100.0) == ""
    assert to_try(replace(held, centre=tail), 100.0) == TAIL
    assert to_try(replace(held, centre=tail, steady=At(140.0, 20.0)), 100.0) == STEADY
    assert to_try(replace(held, centre=tail, follows_mm=10.0), 100.0) == STEADY
    both = replace(held, grips=(), centre=tail, headstock_centre=tail)
    assert to_try(both, 100.0) == f"{between} the same way round"
