"""Fewest changes of machine: against every order there is on small cases, and on whole jobs."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

import pytest
from making.shops import SHOPS, of, shop

from planner.making.fewest import Runs, fewest
from planner.making.leastsetups import REASONS, least_setups, why
from planner.making.model import SetUp

Before = Mapping[int, set[int]]


def every_order(count: int, before: Before) -> Iterator[list[int]]:
    """Every order in which each comes after those it waits for, by plain recursion."""

    def more(done: list[int]) -> Iterator[list[int]]:
        if len(done) == count:
            yield done
        for i in range(count):
            if i not in done and all(j in done for j in before.get(i, ())):
                yield from more([*done, i])

    return more([])


def cost_of(order: Sequence[int], machines: Sequence[str], weights: Mapping[str, int]) -> int:
    """What an order's runs cost, counted from one to the next."""
    total, last = 0, ""
    for i in order:
        if machines[i] != last:
            total += weights.get(machines[i], 1)
        last = machines[i]
    return total


def flat(found: Runs) -> list[int]:
    return [i for _, members in found.runs for i in members]


def drawn(seed: int) -> tuple[list[str], Before, dict[str, int]]:
    """A case of up to seven set-ups on up to four machines, what waits for what drawn at random."""
    draw = random.Random(seed)
    count = draw.randint(1, 7)
    machines = [draw.choice("abcd"[: draw.randint(2, 4)]) for _ in range(count)]
    names = list(range(count))
    draw.shuffle(names)  # so that what waits does not stand in the order of the numbers
    likely = draw.choice((0.15, 0.3, 0.5))
    before = {
        names[i]: {names[j] for j in range(i) if draw.random() < likely} for i in range(count)
    }
    return machines, before, {"d": draw.choice((1, 3, 1000))}


@pytest.mark.parametrize("seed", range(150))
def test_no_order_has_fewer(seed: int) -> None:
    machines, before, weights = drawn(seed)
    orders = list(every_order(len(machines), before))
    least = min(cost_of(order, machines, weights) for order in orders)
    found = fewest(machines, before, weights)
    assert flat(found) in orders
    assert cost_of(flat(found), machines, weights) == found.cost == found.least == least


def test_nor_where_each_machine_has_a_price_of_its_own() -> None:
    draw = random.Random(3)
    for seed in range(1000, 1250):
        machines, before, _ = drawn(seed)
        weights = {one: draw.choice((1, 2, 3, 7, 20)) for one in "abcd"}
        orders = every_order(len(machines), before)
        least = min(cost_of(order, machines, weights) for order in orders)
        found = fewest(machines, before, weights)
        assert cost_of(flat(found), machines, weights) == found.cost == found.least == least, seed


@pytest.mark.parametrize("seed", range(150, 190))
def test_a_search_cut_short_still_says_a_bound_that_holds(seed: int) -> None:
    machines, before, weights = drawn(seed)
    orders = list(every_order(len(machines), before))
    least = min(cost_of(order, machines, weights) for order in orders)
    for states in (0, 1, 3):
        found = fewest(machines, before, weights, states)
        assert flat(found) in orders
        assert cost_of(flat(found), machines, weights) == found.cost
        assert found.least <= least <= found.cost


def test_set_ups_that_wait_for_each_other_are_refused() -> None:
    with pytest.raises(ValueError, match="wait for each other"):
        fewest("ab", {0: {1}, 1: {0}}, {})


def test_one_machine_is_one_run_and_turn_about_is_as_many() -> None:
    assert fewest("aaaa", {}, {}).cost == 1
    chain = {i: {i - 1} for i in range(1, 6)}
    assert fewest("ababab", chain, {}).cost == 6
    # two such lines side by side, one a step behind: b is gone to with both
    two = {1: {0}, 2: {1}, 4: {3}, 5: {4}}
    assert fewest("abaaba", two, {}).cost == 3


@pytest.mark.parametrize("name", ["bench-lathe", "engine-lathe", "inch-lathe", *SHOPS])
def test_the_route_of_a_job_has_the_fewest_changes_of_machine(name: str) -> None:
    example, changes = SHOPS.get(name, (name, {}))
    _, _, route = of(example, **changes)
    counted = sum(
        a.machine != b.machine for a, b in zip(route.setups, route.setups[1:], strict=False)
    )
    assert counted == route.changes == route.least_changes
    assert len(route.setups) == route.least_setups
    # no machine is gone to less often than its set-ups alternate along one workpiece's own line
    for one in {s.on.part.name for s in route.setups}:
        own = [s for s in route.setups if s.part == one]
        lines: dict[str, list[str]] = {}
        for s in own:
            lines.setdefault(s.piece, []).append(s.machine)
        for line in lines.values():
            alone = sum(a != b for a, b in zip(line, line[1:], strict=False))
            assert alone <= route.least_changes


@pytest.mark.parametrize("name", ["no mill", "a lathe alone"])
def test_no_order_of_a_piece_has_fewer_set_ups(name: str) -> None:
    """All orders of the set-ups of each piece that keep the rules, counted one by one."""
    _, _, route = shop(name)
    pieces: dict[tuple[str, str], list[SetUp]] = {}
    for one in route.setups:
        pieces.setdefault((one.part, one.piece), []).append(one)
    twice = 0
    for own in pieces.values():
        if len(own) > 7:
            continue
        before = [
            (i, j)
            for i, j in combinations(range(len(own)), 2)
            if (reason := why(own[i], own[j])) and reason in REASONS
        ]
        waits: dict[int, set[int]] = {}
        for i, j in before:
            waits.setdefault(j, set()).add(i)
        names = [repr(one.holding) for one in own]
        fewest_runs = min(cost_of(o, names, {}) for o in every_order(len(own), waits))
        assert least_setups(own) == fewest_runs
        twice += fewest_runs > len({one.holding for one in own})
    assert twice  # on some piece the rules part two set-ups that hold it alike
