"""Bars cut into pieces: known optima, an independent solver, proofs that can be refuted."""

from __future__ import annotations

from random import Random

import pytest
from barcut_cases import (
    HUNDRED,
    ROLL,
    Case,
    assignment_milp,
    attachment,
    shop,
    tiny,
    triplets,
    try_everything,
)
from msgspec.structs import replace

from planner.barcut import (
    Bar,
    CutPlan,
    Demand,
    NotEnoughBars,
    PlanError,
    ProofError,
    check_plan,
    check_proof,
    cut_bars,
    first_fit_decreasing,
)


def proven(case: Case) -> CutPlan:
    """The plan of a case, its cost and drawn length proven and the proof checked."""
    plan = cut_bars(*case)
    assert [plan.level(name).status for name in ("cost", "drawn length")] == ["proven", "proven"]
    assert check_proof(*case, plan)
    return plan


def test_the_paper_roll_takes_73() -> None:
    # 5600 mm roll, 13 widths: 73 rolls are least (Wikipedia, "Cutting stock problem", seen)
    assert proven(ROLL).cost == 73


def test_the_hundred_unit_roll_takes_453() -> None:
    # GAMS cutting-stock example; optimum 453 (from memory, re-proved with a MILP)
    assert proven(HUNDRED).cost == 453


@pytest.mark.parametrize("seed", range(8))
def test_triplets_are_cut_without_waste(seed: int) -> None:
    # pieces made by cutting whole bars in three: as many bars are enough, and none fewer can be
    bars = 6 + 3 * seed
    assert proven(triplets(Random(seed), bars, 1000 + 37 * seed)).cost == bars


@pytest.mark.parametrize("seed", range(60))
def test_small_cases_agree_with_trying_everything(seed: int) -> None:
    case = tiny(Random(seed))
    best = try_everything(case)
    if best is None:
        with pytest.raises(NotEnoughBars):
            cut_bars(*case)
        return
    plan = proven(case)
    assert (plan.cost, plan.drawn_length, plan.longest_remnant) == best


@pytest.mark.parametrize("seed", range(12))
def test_shop_cases_agree_with_a_general_solver(seed: int) -> None:
    # the assignment model solved by SciPy's HiGHS, an independent general-purpose solver
    case = shop(seed, pieces=5, kinds=3)
    plan = proven(case)
    assert (plan.cost, plan.drawn_length) == assignment_milp(case)


@pytest.mark.parametrize("fold", [1, 10, 50])
@pytest.mark.parametrize("seed", range(3))
def test_an_attachment_and_a_class_set_are_proven(seed: int, fold: int) -> None:
    for case in attachment(seed, fold):
        plan = proven(case)
        greedy = first_fit_decreasing(*case)
        assert (plan.cost, plan.drawn_length) <= (greedy.cost, greedy.drawn_length)
        check_plan(*case, greedy)


def test_the_kerf_is_counted_exactly() -> None:
    # three pieces and two kerfs fill the bar: n pieces fit when sum(length + kerf) <= bar + kerf
    fits = [Demand(100, 3)], [Bar(320, 1, 5)], 10
    assert proven(fits).layouts[0].remnant == 0
    with pytest.raises(NotEnoughBars):
        cut_bars([Demand(100, 3)], [Bar(319, 1, 5)], 10)


def test_remnants_on_the_rack_come_before_bars_to_buy() -> None:
    plan = proven(([Demand(400, 2)], [Bar(1000, 1, 0, "rack"), Bar(900, None, 700, "buy")], 2))
    assert plan.cost == 0
    assert [layout.bar.name for layout in plan.layouts] == ["rack"]


def test_what_is_missing_is_told() -> None:
    with pytest.raises(NotEnoughBars) as caught:
        cut_bars([Demand(700, 3, "leg")], [Bar(1000, 1, 0)], 3)
    assert sum(u.quantity for u in caught.value.unplaced) == 2
    assert caught.value.nearest_bar >= 700
    assert caught.value.bars_needed >= 1


@pytest.mark.parametrize(
    ("demands", "bars", "kerf"),
    [
        ([Demand(0, 1)], [Bar(10, 1, 0)], 0),
        ([Demand(-5, 1)], [Bar(10, 1, 0)], 0),
        ([Demand(5, 0)], [Bar(10, 1, 0)], 0),
        ([Demand(5, 1)], [Bar(10, 1, 0)], -1),
        ([Demand(5, 1)], [Bar(0, 1, 0)], 0),
        ([Demand(5, 1)], [Bar(10, 1, -3)], 0),
        ([Demand(5, 10**7)], [Bar(10, None, 1)], 0),
    ],
)
def test_bad_input_is_refused(demands: list[Demand], bars: list[Bar], kerf: int) -> None:
    with pytest.raises(ValueError):
        cut_bars(demands, bars, kerf)


def test_every_fault_of_the_input_is_told_at_once() -> None:
    with pytest.raises(ValueError) as caught:
        cut_bars([Demand(0, 1), Demand(5, -2)], [Bar(-1, 1, 0)], -1)
    assert len(str(caught.value).split(";")) >= 3 or str(caught.value).count("\n") >= 2


def test_a_plan_that_does_not_add_up_is_found_out() -> None:
    plan = cut_bars(*HUNDRED)
    short = replace(plan, layouts=plan.layouts[1:])
    with pytest.raises(PlanError):
        check_plan(*HUNDRED, short)
    crowded = replace(plan.layouts[0], pieces=plan.layouts[0].pieces * 2)
    with pytest.raises(PlanError):
        check_plan(*HUNDRED, replace(plan, layouts=(crowded, *plan.layouts[1:])))


def test_a_false_bound_is_found_out() -> None:
    # a worse plan may not call itself proven: first-fit decreasing's own cost as its bound
    case = shop(3, fold=10, pieces=6, kinds=3)
    best, greedy = cut_bars(*case), first_fit_decreasing(*case)
    levels = tuple(replace(level, bound=level.value, status="proven") for level in greedy.status)
    claimed = replace(greedy, status=levels, proof=best.proof)
    if (greedy.cost, greedy.drawn_length) == (best.cost, best.drawn_length):
        pytest.skip("first-fit decreasing happens to be best here")
    with pytest.raises(ProofError):
        check_proof(*case, claimed)


def test_a_proof_without_its_cuts_proves_nothing() -> None:
    plan = cut_bars(*ROLL)
    empty = replace(plan, proof=replace(plan.proof, cuts=(), exclusions=()))
    with pytest.raises(ProofError):
        check_proof(*ROLL, empty)


def test_the_same_input_gives_the_same_plan() -> None:
    for case in attachment(5, 10):
        assert cut_bars(*case) == cut_bars(*case)


def test_a_hard_case_ends_with_a_plan_that_holds_and_its_gap() -> None:
    # 120 bars cut into three without waste: 120 are enough and fewer are too short; not found so soon
    case = triplets(Random(99), 120, 10_007)
    plan = cut_bars(*case, effort=4_000_000)
    check_plan(*case, plan)
    assert plan.level("cost").status == "gap" and plan.level("cost").bound == 120 < plan.cost
