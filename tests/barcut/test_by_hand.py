"""The pieces the bar cutter is built from, against sums by hand and against trying everything."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations, product
from math import inf
from random import Random

import pytest
from barcut_cases import Case

from planner.barcut import Bar, Demand, ProofError, check_proof, cut_bars, knapsack
from planner.barcut.counts import fits_within, pool
from planner.barcut.effort import Effort
from planner.barcut.knapsack import Pricing, reachable, value_table
from planner.barcut.model import CutPlan, Layout, LevelStatus, PriceCut, Proof
from planner.barcut.problem import TooMuch, check_input

HELD = ((7, 3), (5, 2), (4, 3), (3, 1))
"""Sizes and quantities of the pieces that bars are filled with here."""
SIZES, QUANTITIES = zip(*HELD, strict=True)


@pytest.mark.parametrize(
    "what, put, least, most",
    [
        ("kerf", lambda n: ([Demand(5, 1)], [Bar(9, 1, 0)], n), 0, 10**9),
        ("demand 0: length", lambda n: ([Demand(n, 1)], [Bar(9, 1, 0)], 1), 1, 10**9),
        ("demand 0: quantity", lambda n: ([Demand(5, n)], [Bar(9, 1, 0)], 1), 1, 5_000_000),
        ("bar 0: length", lambda n: ([Demand(5, 1)], [Bar(n, 1, 0)], 1), 1, 10**9),
        ("bar 0: cost", lambda n: ([Demand(5, 1)], [Bar(9, 1, n)], 1), 0, 10**12),
        ("bar 0: available", lambda n: ([Demand(5, 1)], [Bar(9, n, 0)], 1), 0, 10**9),
    ],
)
def test_each_number_asked_has_its_least_and_its_most(
    what: str, put: Callable[[int], Case], least: int, most: int
) -> None:
    # a piece or a bar has a length, a kerf, a price and a rack may be nothing (common practice);
    # a metre is 10^6 micrometres: more than a thousand of them is a slip of unit
    for good in (least, most):
        check_input(*put(good))
    for bad in (least - 1, most + 1):
        with pytest.raises(TooMuch) as caught:
            check_input(*put(bad))
        assert f"{what} {bad} is outside {least} to {most}; check its unit" in str(caught.value)


def test_so_many_lines_are_planned_at_once_and_no_more() -> None:
    one, bar = Demand(5, 1), Bar(9, 1, 0)
    check_input([one] * 5_000, [bar] * 1_000, 0)
    with pytest.raises(TooMuch) as caught:
        check_input([one] * 5_001, [bar] * 1_001, 0)
    assert str(caught.value) == (
        "demands: 5001 entries; at most 5000. Split the job; "
        "bars: 1001 entries; at most 1000. Group bars of like length"
    )
    check_input([Demand(5, 2_500_000)] * 2, [bar], 0)
    with pytest.raises(TooMuch, match="demands: 5000001 pieces in all; at most 5000000. Split"):
        check_input([Demand(5, 2_500_000), Demand(6, 2_500_001)], [bar], 0)


def test_bars_stand_in_for_bars_as_a_matching_says() -> None:
    # every way to give each bar of one lot its own bar of the other, tried in turn
    rng = Random(3)
    for _ in range(300):
        some = sorted((rng.randint(1, 4) for _ in range(rng.randint(0, 4))), reverse=True)
        others = sorted((rng.randint(1, 4) for _ in range(rng.randint(0, 4))), reverse=True)
        can = any(
            all(a <= b for a, b in zip(some, way, strict=True))
            for way in permutations(others, len(some))
        )
        inner, outer = pool([(a, 1) for a in some]), pool([(b, 1) for b in others])
        assert fits_within(inner, outer) is can, (inner, outer)
    assert pool([(3, 1), (9, 0), (5, 2), (3, 4)]) == ((5, 2), (3, 5))


def most_held(prices: tuple[int, ...], room: int) -> int:
    """The most that a bar holds, by every number of every piece."""
    return max(
        sum(p * n for p, n in zip(prices, taken, strict=True))
        for taken in product(*(range(q + 1) for q in QUANTITIES))
        if sum(s * n for s, n in zip(SIZES, taken, strict=True)) <= room
    )


@pytest.mark.parametrize("prices", [SIZES, (14, 10, 8, 6), (9, 0, 7, 2), (3, 8, 1, 5)])
@pytest.mark.parametrize("way", ["as it is", "arrays", "longer than bits"])
def test_what_a_bar_holds_is_the_most_it_can(
    monkeypatch: pytest.MonkeyPatch, prices: tuple[int, ...], way: str
) -> None:
    if way != "as it is":
        monkeypatch.setattr(knapsack, "BIT_LIMIT", 0)
        monkeypatch.setattr(knapsack, "LIST_LIMIT", 2 if way == "arrays" else 4096)
    limit = sum(s * q for s, q in HELD)
    best = [most_held(prices, room) for room in range(limit + 1)]
    table = value_table(prices, SIZES, QUANTITIES, limit, Effort(inf))
    assert [table.best(room) for room in range(limit + 1)] == best
    for value in range(best[-1] + 1):
        assert table.least_room(value) == next(r for r, b in enumerate(best) if b >= value)
    assert table.least_room(best[-1] + 1) is None
    pricing = Pricing(prices, SIZES, QUANTITIES, limit, Effort(inf), arrays=way == "arrays")
    assert pricing.arrays is (way == "arrays")
    for room in range(limit + 1):
        taken = pricing.pattern(room)
        assert pricing.best(room) == sum(p * n for p, n in zip(prices, taken, strict=True))
        assert pricing.best(room) == best[room]
        assert sum(s * n for s, n in zip(SIZES, taken, strict=True)) <= room
        assert all(n <= q for n, q in zip(taken, QUANTITIES, strict=True))


def test_a_bar_too_long_for_memory_is_never_said_to_hold_too_little(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(knapsack, "LIST_LIMIT", 2)
    monkeypatch.setattr(knapsack, "ARRAY_LIMIT", 128)  # 44 units in 16 cells
    prices = (9, 0, 7, 2)
    table = value_table(prices, SIZES, QUANTITIES, 46, Effort(inf))
    found = [table.best(room) for room in range(47)]
    exact = [most_held(prices, room) for room in range(47)]
    assert all(a >= b for a, b in zip(found, exact, strict=True)) and found != exact
    assert found[-1] == exact[-1]


def test_the_lengths_that_pieces_make() -> None:
    # of 7, 7 and 3: nothing, 3, 7, 10, 14 and 17; the last is past 16
    bits = reachable((7, 3), (2, 1), 16)
    assert [room for room in range(20) if bits >> room & 1] == [0, 3, 7, 10, 14]


# ---- proofs that are wrong by the least there is ----


def claimed(layouts: list[Layout], proof: Proof) -> CutPlan:
    """A plan of these layouts that calls its cost, its length and its remnant proven."""
    cost = sum(x.bar.cost * x.count for x in layouts)
    length = sum(x.bar.length * x.count for x in layouts)
    remnant = max(x.remnant for x in layouts)
    levels = [
        LevelStatus(name, value, value, "proven")
        for name, value in (("cost", cost), ("drawn length", length), ("longest remnant", remnant))
    ]
    settings = cut_settings(layouts)
    levels.append(LevelStatus("stop settings", settings, settings, "proven"))
    return CutPlan(tuple(layouts), cost, length, remnant, settings, tuple(levels), proof)


def cut_settings(layouts: list[Layout]) -> int:
    """The stop is set for each piece that differs from the one before (one bar after another)."""
    order = [i for x in layouts for _ in range(x.count) for i in x.pieces]
    return 1 + sum(a != b for a, b in zip(order, order[1:], strict=False))


def test_a_remnant_one_short_of_the_longest_is_not_proven() -> None:
    # 50 + 40 of 100 leave 100 - 39 = 61 of the other bar; 50 + 39 leave 100 - 40 = 60
    case = [Demand(50, 1), Demand(40, 1), Demand(39, 1)], [Bar(100, 2, 7)], 0
    best = cut_bars(*case)
    assert best.level("longest remnant") == LevelStatus("longest remnant", 61, 61, "proven")
    assert check_proof(*case, best)
    bar = case[1][0]
    worse = [Layout(bar, (0, 2), 1, 11), Layout(bar, (1,), 1, 60)]
    plan = claimed(worse, best.proof)
    with pytest.raises(ProofError, match="remnant: above 60 on a bar of 100 not ruled out"):
        check_proof(*case, plan)


def test_a_bar_dearer_by_one_is_not_proven() -> None:
    # six pieces of 2: two bars of 6 cost 40, one of 12 costs 41; a bar of 10 for 30 gives most for
    # its money, so that a bound that stops at whole bars would say 41 and be wrong
    case = [Demand(2, 6)], [Bar(10, None, 30), Bar(6, None, 20), Bar(12, None, 41)], 0
    best = cut_bars(*case)
    assert (best.cost, best.drawn_length) == (40, 12) and check_proof(*case, best)
    cut = PriceCut((2,), (10, 6, 12), 12)
    plan = claimed([Layout(case[1][2], (0,) * 6, 1, 0)], Proof((cut,)))
    with pytest.raises(ProofError, match=r"\(40, 12\) not ruled out, bound claimed \(41, 0\)"):
        check_proof(*case, plan)


def test_a_longer_draw_by_one_is_not_proven() -> None:
    # three pieces of 4 and a kerf of 1 take 14 of a bar: those of 15 and 14 cost alike
    case = [Demand(4, 3)], [Bar(15, None, 5), Bar(14, None, 5)], 1
    best = cut_bars(*case)
    assert (best.cost, best.drawn_length) == (5, 14) and check_proof(*case, best)
    plan = claimed([Layout(case[1][0], (0, 0, 0), 1, 0)], best.proof)
    with pytest.raises(ProofError, match=r"\(5, 14\) not ruled out, bound claimed \(5, 15\)"):
        check_proof(*case, plan)
