"""Whole plans of bars worked out by hand: what is missing, what is left, the order of sawing."""

from __future__ import annotations

from itertools import permutations, product
from random import Random

import pytest
from msgspec.structs import replace

from planner.barcut import (
    Bar,
    Demand,
    NotEnoughBars,
    PlanError,
    check_plan,
    cut_bars,
    first_fit_decreasing,
)
from planner.barcut.check import count_settings
from planner.barcut.model import CutPlan, Layout, LevelStatus
from planner.barcut.sequence import StockLoad, chain, least_settings, settings_of


@pytest.mark.parametrize(
    "demands, bars, kerf, says",
    [
        # one of 700 goes into 1000; two are left, 2 (700 + 3), too long for one bar of 1000
        (
            [Demand(700, 3, "leg")],
            [Bar(1000, 1, 0)],
            3,
            "left over 2 x 700 (leg), 1406 with kerfs. Add 2 of length 1000",
        ),
        # one of 400 is left: a bar as long as it, no kerf after it
        (
            [Demand(400, 2)],
            [Bar(500, 1, 0)],
            3,
            "left over 1 x 400, 403 with kerfs. Add 1 of length 400",
        ),
        # two of 300 and their kerf, 603, go into one bar like those there are
        (
            [Demand(300, 4)],
            [Bar(650, 1, 0)],
            3,
            "left over 2 x 300, 606 with kerfs. Add 1 of length 603",
        ),
        # longest first into bars of 1000: 600 + 300, 600 + 300, 600 + 300 make three
        (
            [Demand(600, 3, "a"), Demand(300, 3, "b")],
            [Bar(1000, 0, 0)],
            0,
            "left over 3 x 600 (a), 3 x 300 (b), 2700 with kerfs. Add 3 of length 1000",
        ),
        # no bar is as long as the longest piece: then that is the length
        (
            [Demand(900, 2)],
            [Bar(500, 4, 0)],
            5,
            "left over 2 x 900, 1810 with kerfs. Add 2 of length 900",
        ),
        # 600, 600, 400 + 400, 400 in four
        (
            [Demand(600, 2), Demand(400, 3)],
            [Bar(900, 0, 0)],
            1,
            "left over 2 x 600, 3 x 400, 2405 with kerfs. Add 4 of length 900",
        ),
    ],
)
def test_what_is_missing_is_told_with_the_bar_that_would_do(
    demands: list[Demand], bars: list[Bar], kerf: int, says: str
) -> None:
    with pytest.raises(NotEnoughBars) as caught:
        cut_bars(demands, bars, kerf)
    assert str(caught.value) == f"bars: those given cannot hold the pieces; {says}"
    assert caught.value.proven
    more = Bar(caught.value.nearest_bar, caught.value.bars_needed, 0, "more")
    assert cut_bars(demands, [*bars, more], kerf).layouts


def test_first_fit_takes_the_longest_first_and_the_cheapest_metre() -> None:
    # kerf 2: 500 begins a 1000 (3 a unit of length, before 700 at 4; the free offcut of 450 is too
    # short), 400 goes beside it, leaving 1000 - 904 = 96; 300 takes the offcut and leaves 148, so that
    # 200 begins another 1000
    bars = [Bar(450, 1, 0, "offcut", True), Bar(1000, None, 3000), Bar(700, None, 2800)]
    demands = [Demand(200, 1), Demand(500, 1), Demand(400, 1), Demand(300, 1)]
    plan = first_fit_decreasing(demands, bars, 2)
    held = {
        (x.bar.length, tuple(sorted(demands[i].length for i in x.pieces)), x.remnant)
        for x in plan.layouts
    }
    assert held == {(1000, (400, 500), 96), (450, (300,), 148), (1000, (200,), 798)}
    assert (plan.cost, plan.drawn_length, plan.longest_remnant) == (6000, 2450, 798)
    # bounds plain at sight: nothing for the cost, the pieces' own 1400, a bar with the least piece
    assert [level.bound for level in plan.status] == [0, 1400, 798, 4]


def test_a_bar_is_sawn_with_the_stop_set_as_seldom_as_by_any_order() -> None:
    # every order of the bars and of the lengths in each, tried in turn
    rng = Random(11)
    for _ in range(12):
        loads = [
            StockLoad(0, tuple(rng.choice([0, 0, 1, 2]) for _ in range(3)), rng.randint(1, 2))
            for _ in range(3)
        ]
        loads = [load for load in loads if any(load.pattern)]
        bars = [load for load in loads for _ in range(load.count)]
        held = [[k for k, n in enumerate(load.pattern) if n] for load in bars]
        fewest = (
            min(
                1 + sum(a != b for a, b in zip(line, line[1:], strict=False))
                for order in permutations(held)
                for ways in product(*(list(permutations(one)) for one in order))
                for line in [[k for way in ways for k in way]]
            )
            if held
            else 0
        )
        runs = chain(loads, 0)
        assert least_settings(loads) <= fewest <= settings_of(runs) <= fewest + 1 or not held
        sawn = [k for run in runs for _ in range(run.count) for k, _ in run.cuts]
        changes = sum(a != b for a, b in zip(sawn, sawn[1:], strict=False))
        assert settings_of(runs) == bool(sawn) + changes
        for load in loads:
            made = sum(run.count for run in runs if sorted(run.cuts) == [
                (k, n) for k, n in enumerate(load.pattern) if n])  # fmt: skip
            assert made >= load.count


def test_the_stop_settings_of_layouts_in_order() -> None:
    # 300 300 450, twice: set for 300, 450, back to 300, 450; then 450 again needs none
    demands, bar = [Demand(300, 4), Demand(450, 3)], Bar(1100, None, 1)
    twice, last = Layout(bar, (0, 0, 1), 2, 41), Layout(bar, (1,), 1, 647)
    assert count_settings([twice, last], demands) == 4
    assert count_settings([last, twice], demands) == 1 + 2 + 2
    assert count_settings([], demands) == 0


def by_hand() -> tuple[list[Demand], list[Bar], CutPlan]:
    """Two bars of 1000 at 500: 450 + 300 and 300, kerf 3; all levels left open below their values."""
    demands, bar = [Demand(450, 1), Demand(300, 2)], Bar(1000, 2, 500)
    layouts = (Layout(bar, (0, 1), 1, 244), Layout(bar, (1,), 1, 697))
    status = (
        LevelStatus("cost", 1000, 500, "gap"),
        LevelStatus("drawn length", 2000, 1050, "gap"),
        LevelStatus("longest remnant", 697, 700, "gap"),
        LevelStatus("stop settings", 2, 2, "proven"),
    )
    return (
        demands,
        [bar],
        CutPlan(layouts, 1000, 2000, 697, 2, status, cut_bars(demands, [bar], 3).proof),
    )


def test_a_plan_that_adds_up_is_passed() -> None:
    demands, bars, plan = by_hand()
    assert check_plan(demands, bars, 3, plan)


@pytest.mark.parametrize(
    "change, says",
    [
        ({"cost": 1001}, "cost: 1001; the layouts make it 1000"),
        ({"drawn_length": 1999}, "drawn length: 1999; the layouts make it 2000"),
        ({"longest_remnant": 698}, "longest remnant: 698; the layouts make it 697"),
        ({"stop_settings": 3}, "stop settings: 3; the layouts make it 2"),
    ],
)
def test_a_figure_that_is_not_the_layouts_is_told(change: dict[str, int], says: str) -> None:
    demands, bars, plan = by_hand()
    with pytest.raises(PlanError) as caught:
        check_plan(demands, bars, 3, replace(plan, **change))  # type: ignore[arg-type]
    assert says in str(caught.value).split("; ", 0)[0]


@pytest.mark.parametrize(
    "number, change, says",
    [
        (0, {"remnant": 245}, "layout 0: remnant 245; is 244"),
        (1, {"count": 0}, "layout 1: count 0 of 1 pieces; needs 1"),
        (1, {"pieces": ()}, "layout 1: count 1 of 0 pieces; needs 1"),
        (1, {"pieces": (2,)}, "layout 1: no demand [2]; there are 0 to 1"),
        (1, {"pieces": (-1,)}, "layout 1: no demand [-1]; there are 0 to 1"),
        (0, {"pieces": (0, 0, 1)}, "layout 0: pieces and kerfs take 1209 of 1003"),
        (1, {"pieces": (1, 1)}, "demand 1: 3 made of 2"),
        (1, {"count": 2}, "3 used of 2"),
        (1, {"bar": Bar(999, 2, 500)}, "layout 1: no such bar, Bar(length=999,"),
    ],
)
def test_a_layout_that_cannot_be_sawn_is_told(
    number: int, change: dict[str, object], says: str
) -> None:
    demands, bars, plan = by_hand()
    layouts = list(plan.layouts)
    layouts[number] = replace(layouts[number], **change)  # type: ignore[arg-type]
    with pytest.raises(PlanError) as caught:
        check_plan(demands, bars, 3, replace(plan, layouts=tuple(layouts)))
    assert says in str(caught.value)


@pytest.mark.parametrize(
    "level, bound, status, fault",
    [
        (0, 1000, "proven", False),
        (0, 1001, "gap", True),  # a cost is never below its bound
        (0, 999, "proven", True),
        (0, 1000, "gap", True),
        (2, 697, "proven", False),
        (2, 696, "gap", True),  # a remnant is never above its bound
        (2, 698, "proven", True),
        (3, 1, "gap", False),
        (1, 1500, "sure", True),
    ],
)
def test_a_level_says_proven_exactly_where_it_meets_its_bound(
    level: int, bound: int, status: str, fault: bool
) -> None:
    demands, bars, plan = by_hand()
    levels = list(plan.status)
    levels[level] = replace(levels[level], bound=bound, status=status)
    changed = replace(plan, status=tuple(levels))
    if not fault:
        assert check_plan(demands, bars, 3, changed)
        return
    with pytest.raises(PlanError, match=levels[level].level):
        check_plan(demands, bars, 3, changed)


@pytest.mark.parametrize("effort", [0, -1, float("inf"), float("nan"), "1"])
def test_an_effort_that_is_none_is_refused(effort: int) -> None:
    with pytest.raises(ValueError, match="is not a number above 0; give the steps to spend"):
        cut_bars([Demand(5, 1)], [Bar(9, 1, 0)], 1, effort=effort)


def test_the_drawers_offcut_goes_before_a_bar_alike_and_the_counted_before_the_endless() -> None:
    bars = [
        Bar(1000, None, 0, "endless"),
        Bar(1000, 1, 0, "counted"),
        Bar(1000, 1, 0, "offcut", True),
    ]
    for count, names in ((1, ["offcut"]), (2, ["offcut", "counted"])):
        plan = cut_bars([Demand(900, count)], bars, 2)
        assert [x.bar.name for x in plan.layouts] == names
    plan = cut_bars([Demand(900, 5)], bars, 2)
    used = {x.bar.name: x.count for x in plan.layouts}
    assert used == {"offcut": 1, "counted": 1, "endless": 3}
