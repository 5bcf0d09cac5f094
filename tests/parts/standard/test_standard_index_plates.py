"""Index plates against what they are known to divide."""

from __future__ import annotations

from parts.standard.index_plates import plate_rows, plate_sets

SET_A = "three-plate set A 40:1"
TWO_SIDED = "two-sided plate set 40:1"
SET_90 = "three-plate set 90:1"


def circles(set_name: str) -> set[int]:
    return {circle for plate in plate_sets()[set_name] for circle in plate.circles}


def divides(set_name: str, divisions: int) -> bool:
    """Whether ratio / divisions turns come out in whole holes of some circle."""
    ratio = plate_sets()[set_name][0].ratio
    return any(ratio * circle % divisions == 0 for circle in circles(set_name))


def test_set_a_divides_every_number_to_fifty() -> None:
    # Machinery's Handbook, simple indexing with this set: 2 to 50 all appear, 51 does not;
    # from memory.
    assert all(divides(SET_A, number) for number in range(2, 51))
    assert not divides(SET_A, 51)


def test_two_sided_set_divides_every_number_to_sixty() -> None:
    # US Army ordnance OD1644: all numbers to 60, then even numbers and those divisible by 5
    # to 120; from memory.
    assert all(divides(TWO_SIDED, number) for number in range(2, 61))
    assert all(divides(TWO_SIDED, n) for n in range(60, 121) if n % 2 == 0 or n % 5 == 0)
    assert not divides(TWO_SIDED, 61)


def test_worked_examples_use_circles_of_the_sets() -> None:
    # Six divisions, 40:1: 6 turns + 12 holes on 18, or 26 on 39 (US Army ordnance OD1644; seen).
    assert {18, 39} <= circles(SET_A) and 39 in circles(TWO_SIDED)
    # A fifth of a turn: 3/15 or 4/20, else 5/25 or 6/30 (Machinery's Handbook 27e p.1995; seen).
    assert {15, 20} <= circles(SET_A) and {25, 30} <= circles(TWO_SIDED)
    # 0.2326 turn is 10/43 with both (Machinery's Handbook 27e p.1995; seen).
    assert 43 in circles(SET_A) & circles(TWO_SIDED)
    # One degree, 40:1: 2 holes on 18 or 3 on 27 (Machinery's Handbook 1916; seen).
    assert {18, 27} <= circles(SET_A)
    # Twelve divisions, 90:1: 7 1/2 turns need an even circle (dividing head practice sheet).
    assert any(circle % 2 == 0 for circle in circles(SET_90))


def test_sets_hold_every_row_in_order() -> None:
    # Ratios as in the set's name: common practice.
    sets = plate_sets()
    assert set(sets) == {SET_A, TWO_SIDED, SET_90}
    assert sum(len(plates) for plates in sets.values()) == len(plate_rows())
    for name, plates in sets.items():
        assert {plate.ratio for plate in plates} == {int(name.split()[-1].split(":")[0])}
        for plate in plates:
            assert plate.set_name == name
            assert list(plate.circles) == sorted(set(plate.circles)) and min(plate.circles) >= 15
