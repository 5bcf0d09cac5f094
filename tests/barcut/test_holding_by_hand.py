"""How bars are filled from fractions, packed anew, priced and proven: on cases of a few pieces."""

from __future__ import annotations

from math import inf
from typing import Any

import pytest
from msgspec.structs import replace

from planner.barcut import Bar, Demand, ProofError, check_proof, cut_bars, knapsack
from planner.barcut.columns import Relaxed
from planner.barcut.counts import Rooms
from planner.barcut.effort import Effort
from planner.barcut.fill import Load
from planner.barcut.holding import Holder
from planner.barcut.knapsack import Pricing
from planner.barcut.model import Exclusion, PriceCut, Proof

SIZES, MOST = (5, 3, 2), (4, 2, 2)
FIVES, MIXED = (2, 0, 0), (0, 2, 2)  # each fills a bar of 10


class Watched(Holder):
    """A holder that tells what it is asked to pack, and packs it or not."""

    def __init__(self, packs: bool) -> None:
        super().__init__(SIZES, MOST, 10, Effort(inf), 0)
        self.packs = packs
        self.asked: list[tuple[Rooms, tuple[int, ...]]] = []
        self.tried: list[int] = []

    def _pack_rest(self, rooms: Rooms, left: tuple[int, ...]) -> tuple[Load, ...] | None:
        self.asked.append((rooms, left))
        return super()._pack_rest(rooms, left) if self.packs or not any(left) else None

    def _fill(self, rooms: Rooms, left: Any, tries: int) -> tuple[Load, ...] | None:
        self.tried.append(tries)
        return super()._fill(rooms, left, tries)


def made(loads: tuple[Load, ...] | None) -> list[int]:
    """How many of each piece the loads hold; none holds more than its room."""
    assert loads is not None
    for load in loads:
        assert sum(s * n for s, n in zip(SIZES, load.pattern, strict=True)) <= load.room
    return [sum(load.pattern[k] * load.count for load in loads) for k in range(3)]


ROOMS: Rooms = ((10, 3),)


def test_whole_patterns_are_kept_and_the_rest_is_packed() -> None:
    # two bars of fives, and one and a half patterns' worth of the others: the whole one is kept
    holder = Watched(packs=True)
    relaxed = Relaxed(((10, FIVES, 2.0), (10, MIXED, 0.5), (10, (0, 1, 3), 0.4)))
    found = holder._dive(ROOMS, relaxed, 0)
    assert holder.asked == [(((10, 1),), (0, 2, 2))]
    assert made(found) == [4, 2, 2] and found is not None and found[0] == Load(10, FIVES, 2)
    # as little as a float loses of a whole is a whole
    lost = Watched(packs=True)
    lost._dive(ROOMS, Relaxed(((10, FIVES, 2.0 - 5e-7), (10, MIXED, 0.99))), 0)
    assert lost.asked == [(((10, 1),), (0, 2, 2))]


@pytest.mark.parametrize(
    ("chance", "left"),
    [
        # under four in ten a pattern gives one bar back, used once as well as twice
        (0.39, (2, 2, 2)),
        (0.41, (0, 0, 0)),
    ],
)
def test_another_start_gives_bars_back_to_the_rest(
    monkeypatch: pytest.MonkeyPatch, chance: float, left: tuple[int, ...]
) -> None:
    holder = Watched(packs=True)
    monkeypatch.setattr(holder._rng, "random", lambda: chance)
    relaxed = Relaxed(((10, FIVES, 2.0), (10, MIXED, 1.0)))
    assert made(holder._dive(ROOMS, relaxed, 1)) == [4, 2, 2]
    bars = 2 if left[0] else 0
    assert holder.asked[0][1] == left and sum(n for _, n in holder.asked[0][0]) == bars


def test_where_the_rest_is_not_packed_one_more_pattern_is_rounded_up() -> None:
    # nothing whole: the fraction that is most is taken, then the next, until all lie on a bar
    holder = Watched(packs=False)
    relaxed = Relaxed(((10, FIVES, 0.9), (10, MIXED, 0.8)))
    assert made(holder._dive(ROOMS, relaxed, 0)) == [4, 2, 2]
    assert holder.asked[0] == (ROOMS, MOST)
    # solved again in fractions the rest comes out whole
    assert holder.asked[-1] == ((), (0, 0, 0)) and len(holder.asked) == 2
    # two bars are too few: no answer, and no bar used twice
    assert Watched(packs=False)._dive(((10, 2),), relaxed, 0) is None


def test_the_rest_is_filled_three_times_and_few_pieces_are_tried_out() -> None:
    holder = Watched(packs=True)
    assert made(holder._pack_rest(ROOMS, MOST)) == [4, 2, 2]
    assert holder.tried == [3]
    # 10 = 5 + 3 + 2 twice and 5 + 5: by trying, where filling takes the fives first and all the same
    assert holder._pack_rest(((10, 2),), MOST) is None
    # more than 120 pieces that filling does not hold are not tried out
    many = Holder((1,), (121,), 100, Effort(inf), 0)
    assert many._pack_rest(((100, 1), (20, 1)), (121,)) is None
    found = many._pack_rest(((100, 1), (21, 1)), (121,))
    assert found is not None and {(one.room, one.pattern) for one in found} == {
        *((100, (100,)), (21, (21,)))
    }


def test_a_table_in_an_array_takes_as_much_memory_as_is_allowed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # a bar of 9 and three kinds: (9 + 1) x (3 + 1) cells
    monkeypatch.setattr(knapsack, "ARRAY_LIMIT", 40)
    priced = Pricing((5, 3, 2), SIZES, MOST, 9, Effort(inf), arrays=True)
    assert priced.arrays
    monkeypatch.setattr(knapsack, "ARRAY_LIMIT", 39)
    assert not Pricing((5, 3, 2), SIZES, MOST, 9, Effort(inf), arrays=True).arrays
    with pytest.raises(MemoryError, match="too many states to price the patterns of one bar"):
        priced._fill_arrays(9)
    monkeypatch.setattr(knapsack, "ARRAY_LIMIT", 40)
    priced._fill_arrays(9)
    with pytest.raises(MemoryError):
        priced._fill_arrays(10)


@pytest.mark.parametrize(
    ("pieces", "settings"),
    [
        # each length once is the least there can be; taken as first packed they take one more
        ({72: 1, 48: 1, 43: 3, 37: 1, 34: 2}, 5),
        ({71: 2, 58: 2, 55: 3, 46: 3, 31: 1}, 5),
        ({75: 4, 62: 4, 49: 2, 26: 1}, 5),
        ({82: 3, 80: 4, 25: 2, 23: 2}, 6),
    ],
)
def test_bars_are_packed_anew_to_set_the_stop_less(pieces: dict[int, int], settings: int) -> None:
    demands = [Demand(length, number) for length, number in pieces.items()]
    plan = cut_bars(demands, [Bar(200, None, 100)], 1)
    assert plan.stop_settings == settings
    assert check_proof(demands, [Bar(200, None, 100)], 1, plan)


# ---- what a proof is refused for ----

PIECES, BARS = [Demand(5, 2), Demand(3, 2)], [Bar(10, 4, 7)]  # 16 of 20: two bars, 14


def refused(**changes: Any) -> str:
    plan = cut_bars(PIECES, BARS, 0)
    assert plan.cost == 14 and check_proof(PIECES, BARS, 0, plan)
    with pytest.raises(ProofError) as caught:
        check_proof(PIECES, BARS, 0, replace(plan, **changes))
    return str(caught.value)


def test_a_cut_that_is_not_what_it_says() -> None:
    # by length: a bar of 10 holds 10 of 16; a cut has a price for each piece, none below 0
    right = PriceCut((5, 3), (10,), 16)
    assert check_proof(
        PIECES, BARS, 0, replace(cut_bars(PIECES, BARS, 0), proof=Proof((right,), ()))
    )
    for wrong, sentence in (
        (replace(right, prices=(5,)), "cut 0: needs 2 prices of 0 or more"),
        (replace(right, prices=(5, -1)), "cut 0: needs 2 prices of 0 or more"),
        (
            replace(right, bar_values=(11,)),
            "cut 0: claims bar values (11,) and need 16; recomputed (10,) and 16",
        ),
        (
            replace(right, need=17),
            "cut 0: claims bar values (10,) and need 17; recomputed (10,) and 16",
        ),
        (
            replace(right, prices=(1 << 61, 1 << 60)),
            f"cut 0: the pieces are worth more than {1 << 62}",
        ),
    ):
        assert refused(proof=Proof((wrong,), ())) == sentence
    twice = [Demand(5, 1), Demand(5, 1), Demand(3, 2)]
    plan = cut_bars(twice, BARS, 0)
    with pytest.raises(ProofError, match="cut 0: pieces of one length have different prices"):
        other = Proof((PriceCut((5, 4, 3), (10,), 15),), ())
        check_proof(twice, BARS, 0, replace(plan, proof=other))


def test_an_exclusion_that_does_hold_the_pieces_or_is_not_decided(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    holds = Proof((), (Exclusion(((10, 2),)),))
    assert refused(proof=holds) == "exclusion 0: the bars ((10, 2),) do hold the pieces"
    monkeypatch.setattr("planner.barcut.proof.STEPS", 0)
    found = Proof((), (Exclusion(((8, 1), (7, 1))),))
    plan = replace(cut_bars(PIECES, BARS, 0), proof=found)
    with pytest.raises(ProofError) as caught:
        check_proof(PIECES, BARS, 0, plan)
    assert str(caught.value) in (
        "exclusion 0: undecided after 0 steps",
        "cost and drawn length: (7, 10) not ruled out, bound claimed (14, 20)",
    )
