"""Threads that the repair shop's change wheels do not cut, and how much of a thread a groove leaves."""

from __future__ import annotations

from typing import Any

import pytest
from jobs import ROOT, planned
from walk_asked import Told, X, doing, rod
from walking.part_walk import of_parts, walked

from parts.standard.threads import thread
from planner.making.outfit import outfit
from planner.making.ways.wheels import lacking, wheel_for
from planner.making.workshop import Workshop
from planner.walking.cuts import Cut
from planner.walking.order import _thread
from planner.walking.shape import FAR_MM, Ring
from planner.words.findings import Finding

REPAIR = ROOT / "tests" / "data" / "jobs" / "repair-inch.toml"


@pytest.mark.parametrize(
    ("name", "prime"),
    [
        ("1/2-13 UNC", 13),
        ("3/8-16 UNC", 0),
        ("5/8-18 UNF", 0),
        ("5/8-11 UNC", 0),
        ("7/16-14 UNC", 0),
    ],
)
def test_a_pitch_wants_a_wheel_that_its_prime_divides(name: str, prime: int) -> None:
    """24, 30, 32, 36, 40, 44, 46, 48, 54, 60, 63, 72: 11 divides 44, 7 divides 63, 13 none of them. The
    nearest of them for 13 on a leadscrew of 8 is 0.28 % out (all pairs and pairs of pairs, by hand)."""
    shop = Workshop(planned(REPAIR).job, None)
    assert lacking(thread(name), shop) == prime
    if prime:
        assert wheel_for(prime) == 52  # four times: 26 and 39 would do too


def _screw_cut(**more: Any) -> list[Finding]:
    """The shaft's end thread by a single point, as a route once had it; more: of its tool."""
    plan = planned(REPAIR)
    every = plan.route.operation_records()
    name = next(o["part"] for o in every if o["feature"] == "shaft end thread")
    setups, steps = of_parts(plan, name)
    die = next(o for o in steps if " by the die" in o["text"])
    assert die["feature"] == "shaft end thread"
    tool = die["tool"] | {"kind": "threading tool", "name": "HSS threading tool", "owned": True}
    cut = die | {"tool": tool | more, "speed_rpm": 120.0}
    steps = [cut if o is die else o for o in steps]
    return [o for o in walked(plan, setups, steps) if o.key == f"step {die['number']}"]


def test_thirteen_to_the_inch_by_these_wheels_is_refused() -> None:
    (wheels,) = [o for o in _screw_cut() if o.code == "route-wheels"]
    assert (wheels.value, wheels.limit) == (
        "1/2-13 UNC by the shop's change wheels",
        "none of them is divided by 13",
    )
    got = _screw_cut(owned=False, instead="borrow a change wheel of 52 teeth")
    assert "route-wheels" not in {o.code for o in got}


def test_the_die_that_does_it_is_listed_as_missing() -> None:
    plan = planned(REPAIR)
    assert [str(o) for o in plan.walked if o.code == "route-wheels"] == []
    (die,) = [o for o in outfit(plan.route, plan.job) if o.name.startswith("die 1/2-13")]
    assert (die.name, die.has, die.instead) == (
        "die 1/2-13 UNC in the tailstock holder", "no", "buy or borrow one",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("job", "said"),
    [
        ("inch-jobs/metric-feed", "no threading dial finds a metric pitch again"),
        ("shops/mixed-stock", "no threading dial finds an inch pitch again"),
    ],
)
def test_a_thread_of_the_other_system_is_cut_with_the_half_nuts_closed(job: str, said: str) -> None:
    """1 mm on a leadscrew of so many to the inch: the half-nuts fall in at the same place only after
    127 turns of something (25.4 = 127 / 5), so they are not opened (common practice)."""
    plan = planned(ROOT / "tests" / "data" / f"{job}.toml")
    setups, steps = of_parts(plan, "feed-screw")
    step = next(one for one in steps if one["feature"] == "feed thread" and one["kind"] == "thread")
    assert step["tool"]["kind"] == "threading tool" and said in step["text"]
    own = [o for o in plan.route.operation_records() if "screw-cut" in o["text"] and o != step]
    assert not any("half-nuts" in one["text"] for one in own)

    def told(text: str) -> list[str]:
        rows = [one | {"text": text} if one is step else one for one in steps]
        here = [one for one in walked(plan, setups, rows) if one.key == f"step {step['number']}"]
        return [one.limit for one in here if one.code == "route-words"]

    start, _, rest = step["text"].partition("; the half-nuts")
    old = start + rest[rest.index(" again") + len(" again") :]
    assert told(old) == ["the leadscrew is of the other system"]
    assert told(step["text"]) == []


@pytest.mark.parametrize(("end", "codes"), [(100.0, ["route-words"]), (98.2, [])])
def test_a_groove_leaves_so_much_less_of_the_thread(end: float, codes: list[str]) -> None:
    """1/2-13 (12.7 by 1.954) on 24 of pin, a groove of a pitch before the shoulder: 22 are full."""
    piece = rod(12.7, 0.0, 100.0)
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 98.05, 100.0, FAR_MM, 5.2))
    cut = Cut("thread", X, 76.0, end, 6.35)
    do = doing(piece, cut, "thread")
    do.operation = {**do.operation, "feature": "x", "cut": {"shape": "thread", "pitch_mm": 1.954}}
    _thread(do, X)
    assert isinstance(do.faults, Told)
    assert do.faults.codes == codes
    if codes:
        assert do.faults.last == ("24 mm of thread", "22.05 mm of it stands: the rest is a groove")
