"""The searches of the bar cutter, each on cases small enough to try everything."""

from __future__ import annotations

from itertools import product
from math import inf
from random import Random

import pytest

from planner.barcut import Bar, Demand, cut_bars
from planner.barcut.arcflow import arcs_of, pack_by_flow
from planner.barcut.columns import Known, relax, whole_prices
from planner.barcut.counts import CountSearch, Rooms, pool
from planner.barcut.effort import Effort
from planner.barcut.exhaust import OutOfEffort, try_all
from planner.barcut.fill import Load, fill_bars, full_pattern
from planner.barcut.holding import Holder
from planner.barcut.knapsack import chunks, value_table
from planner.barcut.problem import reduce
from planner.barcut.remnant import assign, longest_of
from planner.barcut.sequence import StockLoad

ENDLESS = Effort(inf)


def small(rng: Random) -> tuple[Rooms, list[int], list[int]]:
    """Some bars, and pieces that nearly fill them."""
    rooms = pool([(rng.randint(6, 14), 1) for _ in range(rng.randint(1, 3))])
    sizes = sorted(rng.sample(range(2, 9), 3), reverse=True)
    return rooms, sizes, [rng.randint(0, 2) for _ in sizes]


def patterns(room: int, sizes: list[int], most: list[int]) -> list[tuple[int, ...]]:
    """Every number of every piece that a bar has room for."""
    return [
        taken
        for taken in product(*(range(q + 1) for q in most))
        if sum(s * n for s, n in zip(sizes, taken, strict=True)) <= room
    ]


def can_hold(rooms: Rooms, sizes: list[int], most: list[int]) -> bool:
    """Whether the bars hold the pieces, by every pattern of every bar."""
    bars = [room for room, count in rooms for _ in range(count)]

    def after(at: int, left: list[int]) -> bool:
        if not any(left):
            return True
        return at < len(bars) and any(
            after(at + 1, [q - n for q, n in zip(left, taken, strict=True)])
            for taken in patterns(bars[at], sizes, left)
        )

    return after(0, most)


def judge(
    loads: list[Load] | tuple[Load, ...], rooms: Rooms, sizes: list[int], most: list[int]
) -> None:
    """The loads hold each piece once, in no bar too much and in no more bars than there are."""
    used: dict[int, int] = {}
    for load in loads:
        assert sum(s * n for s, n in zip(sizes, load.pattern, strict=True)) <= load.room
        used[load.room] = used.get(load.room, 0) + load.count
    assert all(count <= dict(rooms)[room] for room, count in used.items())
    made = [sum(load.pattern[k] * load.count for load in loads) for k in range(len(sizes))]
    assert made == list(most)


def test_each_way_to_hold_the_pieces_agrees_with_trying_everything() -> None:
    rng = Random(2)
    held = 0
    for _ in range(150):
        rooms, sizes, most = small(rng)
        if not any(most):
            continue
        can = can_hold(rooms, sizes, most)
        held += can
        longest = rooms[0][0]
        table = value_table(sizes, sizes, most, longest, ENDLESS)
        found = try_all(rooms, sizes, most, [(sizes, table)], 10_000, ENDLESS)
        assert (found is not None) is can
        if found is not None:
            judge(found, rooms, sizes, most)
        verdict = Holder(sizes, most, longest, ENDLESS, 0).decide(rooms)
        assert (verdict.loads is not None) is can
        assert can or verdict.excluded or verdict.cut is not None
        if verdict.loads is not None:
            judge(verdict.loads, rooms, sizes, most)
        if verdict.cut is not None:
            assert verdict.cut.slack(rooms) < 0
        relaxed = relax(rooms, sizes, most, Known(), ENDLESS)
        assert not (can and relaxed.prices is not None)
        if relaxed.prices is not None:  # they say no: what the bars hold of them is too little
            worth = [
                max(sum(p * n for p, n in zip(relaxed.prices, taken, strict=True))
                    for taken in patterns(room, sizes, most)) * count
                for room, count in rooms
            ]  # fmt: skip
            assert sum(worth) < sum(p * q for p, q in zip(relaxed.prices, most, strict=True))
        filled = fill_bars(rooms, sizes, most, None, ENDLESS)
        if filled.complete:
            assert can
            judge(filled.loads, rooms, sizes, most)
    assert 30 < held < 120


def test_packing_by_flow_agrees_with_trying_everything() -> None:
    rng = Random(5)
    both = set()
    for _ in range(12):
        rooms, sizes, most = small(rng)
        if not any(most):
            continue
        can = can_hold(rooms, sizes, most)
        table = value_table(sizes, sizes, most, rooms[0][0], ENDLESS)
        need = sum(s * q for s, q in zip(sizes, most, strict=True))
        if sum(table.best(room) * count for room, count in rooms) < need:
            assert not can
            continue
        found = pack_by_flow(rooms, sizes, most, sizes, table, ENDLESS)
        assert (found is not None) is can
        both.add(can)
        if found is not None:
            judge(found, rooms, sizes, most)
    assert True in both


def test_the_arcs_of_a_bar_are_those_of_its_patterns_worth_enough() -> None:
    sizes, most, prices = [5, 3, 2], [1, 2, 2], [5, 4, 1]
    for least in (0, 5, 8, 9, 10):
        wanted = set()
        for taken in patterns(10, sizes, most):
            if sum(p * n for p, n in zip(prices, taken, strict=True)) < least:
                continue
            used = 0
            for kind, n in enumerate(taken):
                for _ in range(n):
                    wanted.add(((kind, used), (kind, used + sizes[kind])))
                    used += sizes[kind]
                wanted.add(((kind, used), (kind + 1, used)))
        found = arcs_of(10, sizes, most, prices, least, ENDLESS)
        assert found is not None and wanted <= set(found)


def test_a_full_bar_is_as_full_as_any() -> None:
    rng = Random(7)
    for _ in range(200):
        rooms, sizes, most = small(rng)
        order = list(range(3))
        rng.shuffle(order)
        kinds = [k for k in order if most[k]]
        for chance in (None, Random(1)):
            taken = full_pattern(rooms[0][0], sizes, most, kinds, chance)
            fullest = max(
                sum(s * n for s, n in zip(sizes, one, strict=True))
                for one in patterns(rooms[0][0], sizes, most)
            )
            assert sum(s * n for s, n in zip(sizes, taken, strict=True)) == fullest
            assert all(n <= q for n, q in zip(taken, most, strict=True))
    # of 10 in a bar: 5 + 5 or 5 + 3 + 2; what is late in the order is preferred
    assert full_pattern(10, [5, 3, 2], [2, 1, 1], [2, 1, 0], None) == (2, 0, 0)
    assert full_pattern(10, [5, 3, 2], [2, 1, 1], [0, 1, 2], None) == (1, 1, 1)


def test_too_many_bars_or_kinds_are_left_undecided() -> None:
    table = value_table([3], [3], [1], 9, ENDLESS)
    assert try_all(((9, 200),), [3], [1], [([3], table)], 1000, ENDLESS) is not None
    with pytest.raises(OutOfEffort):
        try_all(((9, 201),), [3], [1], [([3], table)], 1000, ENDLESS)
    with pytest.raises(OutOfEffort):
        try_all(((9, 1),), list(range(1, 202)), [0] * 200 + [1], [], 10**6, ENDLESS)
    with pytest.raises(OutOfEffort):
        try_all(((9, 3),), [4, 3, 2], [3, 3, 3], [], 3, ENDLESS)


def test_counts_come_in_order_of_cost_and_length() -> None:
    # every number of every bar, the cheapest first and then the shortest, that meets the cuts
    costs, lengths, limits, rooms = [5, 3, 0], [10, 6, 4], [2, 3, 1], [10, 6, 4]
    cuts = [([10, 6, 4], 15), ([2, 1, 0], 2)]
    search = CountSearch(costs, lengths, limits, rooms)
    for values, need in cuts:
        search.add_cut(values, need)
    good = [
        n
        for n in product(*(range(limit + 1) for limit in limits))
        if all(sum(v * k for v, k in zip(vs, n, strict=True)) >= need for vs, need in cuts)
    ]
    good.remove((1, 1, 0))
    search.exclude(((10, 1), (6, 1)))  # and with it none of fewer or shorter bars

    def key(n: tuple[int, ...]) -> tuple[int, int]:
        return tuple(sum(v * k for v, k in zip(vs, n, strict=True)) for vs in (costs, lengths))  # type: ignore[return-value]

    found = []
    while (counts := search.next(ENDLESS)) is not None:
        assert search.bound() == key(counts)
        found.append(counts)
        search.pass_over(counts)
    assert [key(n) for n in found] == sorted(key(n) for n in good)
    assert sorted(found) == sorted(good) and search.bound() is None
    assert search.rooms_of((1, 2, 0)) == ((10, 1), (6, 2))


def test_some_counts_within_a_bound_are_found_at_once() -> None:
    search = CountSearch([5, 3], [10, 6], [2, 3], [10, 6])
    search.add_cut([10, 6], 15)
    # the cheapest that hold 15: one of each, 8 and 16 long
    assert search.some_within((8, 16), ENDLESS) == (1, 1)
    assert search.some_within((8, 15), ENDLESS) is None
    assert search.some_within((7, 99), ENDLESS) is None
    nine = search.some_within((9, 18), ENDLESS)
    assert nine in ((1, 1), (0, 3))


def test_prices_are_whole_and_in_proportion() -> None:
    assert whole_prices([0.5, 1.0, 0.25]) == (2, 4, 1)
    assert whole_prices([1 / 3, 2 / 3]) == (1, 2)
    assert whole_prices([3.0, 0.0]) == (3, 0)
    assert whole_prices([0.0, 0.0]) == (0, 0)
    assert whole_prices([1 / 24, 1.0]) == (1, 24)
    assert whole_prices([2**0.5, 1.0]) == (1_000_000, 707_107)  # to a millionth of the dearest


def test_a_quantity_in_parts_gives_every_number_up_to_it() -> None:
    for quantity in range(40):
        sums = {0}
        for part in chunks(quantity):
            sums |= {s + part for s in sums}
        assert sums == set(range(quantity + 1))


def test_what_a_bar_leaves_and_whose_it_is() -> None:
    # 1000 and 600 mm, kerf 2: pieces of 400 and 198; in units of their common 2: 201 and 100
    problem = reduce([Demand(400, 2), Demand(198, 3)], [Bar(1000, 1, 5), Bar(600, 2, 3)], 2)
    assert (problem.unit, problem.sizes, problem.quantities) == (2, (201, 100), (2, 3))
    assert [s.length for s in problem.stock] == [600, 1000]
    assert [s.room for s in problem.stock] == [301, 501]
    assert (problem.total_size, problem.piece_length) == (702, 1394)
    assert problem.room_of(601) == 300 and problem.room_of(-5) == 0
    loads = [Load(501, (2, 0), 1), Load(301, (0, 3), 1)]
    given = assign(problem, (1, 1), loads)
    assert given == [StockLoad(1, (2, 0), 1), StockLoad(0, (0, 3), 1)]
    # 1000 - 2 (400 + 2) = 196; 600 - 3 (198 + 2) = 0
    assert longest_of(problem, given) == 196 and longest_of(problem, []) == 0
    short = assign(problem, (1, 1), [Load(402, (2, 0), 1), Load(301, (0, 3), 1)], (1, 402))
    assert short == given


def test_pieces_of_one_length_are_given_to_those_who_asked_in_turn() -> None:
    demands = [Demand(300, 1, "a"), Demand(450, 1, "b"), Demand(300, 3, "c")]
    plan = cut_bars(demands, [Bar(1000, None, 1)], 3)
    sawn = [i for x in plan.layouts for _ in range(x.count) for i in x.pieces]
    assert sorted(sawn) == [0, 1, 2, 2, 2]
    assert [i for i in sawn if i != 1] == [0, 2, 2, 2]
    assert (plan.cost, plan.drawn_length) == (2, 2000)
