"""Rounding to whole steps: what is on a step stays there, and what a gauge would tell does not."""

from __future__ import annotations

import numpy as np
import pytest

from planner.sums.columns import Chosen, Picked, alike, down, least, most, up


@pytest.mark.parametrize("step", [0.1, 0.5, 1.0, 5.0, 25.4 / 16])
def test_up_and_down_forgive_a_millionth_of_a_step_and_no_more(step: float) -> None:
    for count in (1, 7, 240):
        on = count * step
        # 0.1 * 3 is a little over 0.3 in binary fractions: not a step more for that
        for stray in (0.0, 3e-7, -3e-7, 4.9e-7, -4.9e-7):
            assert float(up(on + stray * step, step)) == pytest.approx(on, abs=1e-12)
            assert float(down(on + stray * step, step)) == pytest.approx(on, abs=1e-12)
        for off in (2e-6, 0.3, 0.999_998):
            assert float(up(on + off * step, step)) == pytest.approx(on + step)
            assert float(down(on + off * step, step)) == pytest.approx(on)
    found = up(np.array([0.0, 0.2, 1.0, 1.01]) * step, step)
    assert found == pytest.approx(np.array([0.0, 1.0, 1.0, 2.0]) * step)


def test_the_most_and_the_least_go_row_by_row() -> None:
    one, other = np.array([1.0, 5.0, 3.0]), np.array([4.0, 2.0, 3.0])
    assert list(most(one, other, 2.5)) == [4.0, 5.0, 3.0]
    assert list(least(one, other, 2.5)) == [1.0, 2.0, 2.5]


def test_a_column_of_entries_is_each_rows_own() -> None:
    picked = Picked(["a", "bbb", "cc"], np.array([2, 0, 1, 1]))
    assert [picked.row(row) for row in range(len(picked))] == ["cc", "a", "bbb", "bbb"]
    assert list(picked.of(len)) == [2, 1, 3, 3]
    assert [picked.take(np.array([3, 0])).row(row) for row in (0, 1)] == ["bbb", "cc"]
    lengths = Picked([np.array(3.0), np.array(5.0)], np.array([1, 0]))
    assert list(lengths.ndim) == [0, 0]


def test_rows_that_differ_by_a_grain_are_alike() -> None:
    # sums of inches come out a grain apart; of two rows of three columns one is met twice
    rows = np.array(
        [[25.4 / 3, 1.0000005, 2.0], [7.0, 1.0, 2.0], [25.4 / 3 + 1e-13, 1.0000005, 2.0]]
    )
    first, same = alike(rows)
    assert len(first) == 2 and same[0] == same[2] != same[1]
    assert np.allclose(rows[first][same], rows, atol=1e-9)
    # and rows that differ by a thousandth are not
    assert len(alike(np.array([[1.0, 2.0], [1.001, 2.0]]))[0]) == 2


def test_a_choice_of_a_choice_is_the_rows_of_the_first() -> None:
    # as numpy picks them, one choice after the other; a column of one row is the same in all
    size, bar = np.arange(10.0) ** 2, Picked(("thin", "stout"), np.arange(10) % 2)
    known = {"size": size, "bar": bar, "all": np.array([3.0]), "name": "S355"}
    some = np.array([9, 1, 1, 4, 6])
    once = Chosen(known, some)
    once["late"] = np.arange(5.0)
    twice = Chosen(once, slice(1, 4))
    assert twice["size"].tolist() == size[some][1:4].tolist() == [1.0, 1.0, 16.0]
    assert [twice["bar"].row(at) for at in range(3)] == ["stout", "stout", "thin"]
    assert twice["all"].tolist() == [3.0] and twice["name"] == "S355"
    assert twice["late"].tolist() == [1.0, 2.0, 3.0]
    assert "size" in twice and "late" in twice and "none" not in twice
    with pytest.raises(KeyError):
        twice["none"]
