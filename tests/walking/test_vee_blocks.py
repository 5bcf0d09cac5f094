"""In a shop without V-blocks the pair is made before the first round lies in it, held or measured.

Common practice: a flat's height over a journal is read on a plate with the journal in a pair of
V-blocks; any pair that is wider than three quarters of a round takes it, since that bears 0.707 of its
diameter apart in a vee of 90 degrees.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from making.shops import of

from planner.stock.aidpieces import aid_records
from planner.walking.aided import aided

Data = dict[str, Any]


@cache
def _bare() -> tuple[Any, Any, Any]:
    return of("bench-lathe", **{"shop.measuring": {"v_blocks": False}})


def _found(**changes: Any) -> list[tuple[str, str, str]]:
    """What is said where the pair's record has other values."""
    job, whole, route = _bare()
    made = [one | changes if one["name"] == "V-block" else one
            for one in aid_records(route.aids, job)]  # fmt: skip
    steps = route.setup_records(), route.operation_records()
    said = aided(whole.parts, job, *steps, made)
    return [(one.key, one.value, one.limit) for one in said]


def test_the_pair_is_made_before_a_height_is_read_with_it() -> None:
    """As it was: made before the handle's hole, to hold the thin pin, and the flat of the body, milled
    before that, was measured with the thick journal in it."""
    job, _, route = _bare()
    read = {op.setup for op in route.operations for m in op.measures if "V-blocks" in m.how}
    held = {n for n, one in enumerate(route.setups, 1) if one.hold.by == "V-blocks"}
    (pair,) = (one for one in route.aids if one.name == "V-block")
    assert read and held and min(read) < min(held)
    assert pair.setup == min(read) and pair.quantity == 2
    assert _found() == []
    late = _found(setup=min(held))
    assert late == [
        (f"set-up {n}", "V-block", f"is made before set-up {min(held)} only") for n in sorted(read)
    ]


def test_one_pair_takes_every_round() -> None:
    _, whole, route = _bare()
    (pair,) = (one for one in route.aids if one.name == "V-block")
    journal = whole.sizes.pivot_diameter_mm
    assert pair.section.width_mm >= journal + 10.0
    narrow = _found(stock_mm=0.74 * journal, size_mm=0.5 * journal)
    assert {value for _, value, _ in narrow} == {"V-block: too narrow"}
