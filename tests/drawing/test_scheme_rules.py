"""Every feature type has its rules for sheets, and sizes read on them as a machinist expects."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from jobs import ROOT

from parts.features import feature_types, general
from parts.standard.fits import SLIDING, Limits, limits
from parts.standard.series import Series
from planner.drawing.callouts import notes
from planner.drawing.choose import note_cost
from planner.drawing.lanes import CLEAR_MM, DoesNotFit, Lined, arranged
from planner.drawing.marks import Said
from planner.drawing.proof import _tree, implied
from planner.drawing.scheme import levels, scheme
from planner.drawing.stations import claims, leaves
from planner.drawing.subjects import subjects
from planner.drawing.wording import edge_sizes, general_tolerances, words
from planner.output.plan import Plan
from planner.words.numbers import INCH, METRIC

within = Series(inch=False).within
INCH_SERIES = Series(inch=True)
SLIDING_IN, WIDER_IN = (INCH_SERIES.shaft(mm, SLIDING) for mm in (12.7, 19.05))


def test_every_feature_type_has_its_rules() -> None:
    for rule in (leaves, words, note_cost):
        default = rule.dispatch(object)
        missing = [t.__name__ for t in feature_types() if rule.dispatch(t) is default]
        if rule is words:  # a weld is said by its symbol
            missing.remove("Weld")
        if rule is note_cost:  # its default asks whether the feature is seen, and holds for most
            missing = []
        assert missing == []


@pytest.mark.parametrize(
    ("size", "metric", "inch"),
    [
        # ISO 286-1: 20 H7 is +0.021/0; 0.021 mm is 0.00083 in, which rounded inward is 0.0008
        (limits(20.0, "H7"), ("20 H7", "+0.021", "0"), ("0.7874 H7", "+0.0008", "0.0000")),
        # 19.05 mm is 3/4 in exactly
        (limits(19.05, "H7"), ("19.05 H7", "+0.021", "0"), ("0.7500 H7", "+0.0008", "0.0000")),
        # 40 mm is 1.574803 in, which no decimals and no 64th say: 1.5748 is 0.03 of a tenth off
        (general(40.0), ("40", "", ""), ("1.575", "", "")),
        # without limits two decimals from 1.2 in where they say it, else three, else a fraction
        (general(50.8), ("50.8", "", ""), ("2.00", "", "")),
        (general(25.4), ("25.4", "", ""), ("1.000", "", "")),
        (general(14.2875), ("14.29", "", ""), ("9/16", "", "")),
        (general(13.49375), ("13.49", "", ""), ("17/32", "", "")),
        # a number 18 drill, 0.1695 (ASME B94.11M, from memory): three decimals, and their tolerance
        (general(25.4 * 0.1695), ("4.31", "", ""), ("0.170", "", "")),
        (Limits(14.2875, 0.0, 0.0, "stock"), ("14.29", "", ""), ("9/16", "", "")),
        # ANSI B4.1: LC5 over 0.40 to 0.71 in has +0.7/0 and -0.25/-0.65 thousandths, inward in tenths;
        # over 0.71 to 1.19 in -0.3/-0.8
        (
            SLIDING_IN,
            ("12.7 LC5 [g6]", "-0.007", "-0.016"),
            ("0.5000 LC5 [g6]", "-0.0003", "-0.0006"),
        ),
        (
            WIDER_IN,
            ("19.05 LC5 [g6]", "-0.008", "-0.020"),
            ("0.7500 LC5 [g6]", "-0.0003", "-0.0008"),
        ),
        # limits in whole thousandths take three decimals, and the size then too
        (INCH_SERIES.within(12.7, 0.05, -0.05), ("12.7 ±0.05", "", ""), ("0.500 ±0.002", "", "")),
        # 27/64 is 0.421875, written 0.422 (halves to even), and limits as many places (ASME Y14.5,
        # from memory): 0.420 to 0.424, which is 10.668 to 10.7696 mm
        (
            INCH_SERIES.within(10.715625, 0.05, -0.05),
            ("10.716", "+0.053", "-0.048"),
            ("0.422 ±0.002", "", ""),
        ),
        (Limits(25.4, 0.0, 0.0, "stock"), ("25.4", "", ""), ("1", "", "")),
        # 0.02 mm is 0.00079 in: no more than 0.0007 may be printed
        (within(22.225, 0.02, -0.02), ("22.225 ±0.02", "", ""), ("0.8750 ±0.0007", "", "")),
        # 10 mm is 0.393701 in, printed 0.3937; 9.98 and 10.02 are 0.392913 and 0.394488 in
        (within(10.0, 0.02, -0.02), ("10 ±0.02", "", ""), ("0.3937 ±0.0007", "", "")),
        (within(7.0, 0.0, -0.1), ("7", "0", "-0.1"), ("0.2756", "-0.0001", "-0.0039")),
    ],
)
def test_sizes_as_dimensions_have_them(
    size: Limits, metric: tuple[str, str, str], inch: tuple[str, str, str]
) -> None:
    """Worked out by hand; an inch is 25.4 mm. What is printed allows no more than was meant."""
    assert METRIC.dimensioned(size) == metric
    assert INCH.dimensioned(size) == inch


def test_limits_too_fine_for_the_unit_are_refused() -> None:
    with pytest.raises(ValueError, match="no limits left"):
        INCH.dimensioned(within(10.0005, 0.0005, 0.0004))


def test_general_tolerances_are_written_out_in_inches_by_their_decimals() -> None:
    """Each as the sizes that are printed so have it, and none more than ISO 2768-1 medium: ±0.1 to
    6 mm, 0.2 to 30, 0.3 to 120, 0.5 to 400."""
    rows = " ".join(general_tolerances(INCH))
    said = {
        len(found[1]): float(found[2]) for found in re.finditer(r"\.(X+) ±([.\d]+)(?! to)", rows)
    }
    small, upto, large = re.search(r"\.XXX ±([.\d]+) to ([.\d]+), ±([.\d]+) over", rows).groups()  # type: ignore[union-attr]
    for inches in (0.1, 0.2, 0.25, 0.3, 1.0, 1.5, 1.23, 1.375, 2.0, 4.6, 5.5, 6.0, 11.0):
        text = INCH.dimensioned(general(25.4 * inches))[0]
        decimals = 3 if "/" in text else len(text.partition(".")[2])
        fine = float(small) if inches <= float(upto) else float(large)
        within = fine if decimals == 3 else said[decimals]
        assert within * 25.4 <= general(25.4 * inches).upper_mm, inches
        assert sum(Fraction(part) for part in text.split("-")) == Fraction(str(inches))
        assert ("/" in text) == (inches * 64 % 1 == 0 and inches % 1 > 0)
        assert decimals == INCH_SERIES.general(25.4 * inches).designation.count("X")
        assert INCH_SERIES.general(25.4 * inches).upper_mm == pytest.approx(25.4 * within)
    assert (said[1], said[2], float(small), float(large)) == (0.015, 0.010, 0.003, 0.005)
    assert (
        "fractions as .XXX, angles ±0.5°" in rows
    )  # common practice; ISO 2768-1 m has 30' for sides of 10 to 50 mm


def test_what_an_inch_size_says_is_what_its_limits_are() -> None:
    """Every 64th to 6 in, every thousandth and drills of four decimals, with limits and without: what
    is printed is the size, or that to three decimals, and its limits, read off the print, are those it
    is made to, to as many decimals (ASME Y14.5, from memory)."""
    sizes = [Fraction(n, 64) for n in range(1, 385)]
    sizes += [Fraction(n, 10_000) for n in (*range(10, 60_000, 10), 595, 1695, 2055, 15625)]
    for inches in sizes:
        given = INCH_SERIES.general(25.4 * float(inches))
        text, upper, lower = INCH.dimensioned(given)
        said = sum(Fraction(part) for part in text.split("-"))
        assert upper == lower == ""
        assert ("/" in text) == (64 % inches.denominator == 0 < inches % 1)
        if inches * 64 % 1 == 0 or inches * 1000 % 1 == 0:
            assert said == inches, text
        assert abs(said - inches) <= Fraction(1, 2000) and len(text.partition(".")[2]) <= 3
        most = {3: 0.003 if inches <= Fraction(1, 4) else 0.005, 2: 0.010, 1: 0.015}
        within = most[len(text.partition(".")[2]) or 3] * 25.4
        assert given.max_mm == pytest.approx(25.4 * float(said) + within, abs=1e-6)
        assert given.min_mm == pytest.approx(25.4 * float(said) - within, abs=1e-6)
        for limit in (0.05, 0.1, 0.2):  # as within() has them: 0.002, 0.004 and 0.008 in
            given = INCH_SERIES.within(25.4 * float(inches), limit, -limit)
            text = INCH.dimensioned(given)[0]
            size, _, even = text.partition(" ±")
            assert len(even.partition(".")[2]) == len(size.partition(".")[2]) == 3
            assert float(even) == {0.05: 0.002, 0.1: 0.004, 0.2: 0.008}[limit]
            assert abs(Fraction(size) - inches) <= Fraction(1, 2000)
            assert given.max_mm / 25.4 == pytest.approx(float(Fraction(size) + Fraction(even)))
            assert given.min_mm / 25.4 == pytest.approx(float(Fraction(size) - Fraction(even)))


def test_general_tolerances_of_a_weldment_add_what_is_left_as_welded() -> None:
    """ISO 13920: a letter A to D for lengths and angles, E to H for straight, flat and parallel.

    Its tables are in millimetres: an inch sheet has their class B written out, ±1 to 30 and ±2 to 400,
    and class F, 1 from 30 to 120 (from memory), by fractions that allow no more: a welder's,
    16ths and 32nds, and no 64ths, to a length of whole quarters (common practice).
    """
    alone, welded = (" ".join(general_tolerances(METRIC, w)) for w in (False, True))
    assert "ISO 13920" not in alone and re.search(r"ISO 13920-[A-D][E-H]\b", welded)
    alone, welded = (" ".join(general_tolerances(INCH, w)) for w in (False, True))
    assert "welded" not in alone and "ISO" not in welded
    said = re.search(r"as welded ±(\S+) to (\S+), ±(\S+) over, flat (\S+)$", welded)
    assert said is not None
    small, upto, large, flat = (
        25.4 * float(sum(map(Fraction, one.split("-")))) for one in said.groups()
    )
    assert 0.75 < small <= 1 and 30 <= upto < 32 and 1.5 < large <= 2 and 0.75 < flat <= 1
    assert (
        all(one * 32 / 25.4 % 1 == 0 for one in (small, large, flat)) and upto / 25.4 * 4 % 1 == 0
    )


def test_edges_are_broken_outside_and_may_be_filled_inside() -> None:
    """ISO 13715: minus is off the edge, plus is left on it."""
    for numbers, unit in ((METRIC, 1.0), (INCH, 25.4)):
        outside, inside = edge_sizes(numbers)
        assert (outside[0], inside[0], outside[1:]) == ("-", "+", inside[1:])
        # as much as the route breaks them by: 0.2 to 0.5 on small work (common practice)
        assert 0.15 < float(Fraction(inside[1:])) * unit <= 0.5


def _lined(a: float, b: float) -> Lined:
    return Lined("f|diameter", general(abs(b - a)), True, a, b, {"below": (0.0, 0.0)})


@pytest.mark.parametrize("scale", [0.2, 0.5, 1.0, 2.0])
def test_no_extension_line_runs_through_words_and_lanes_hold_no_two(scale: float) -> None:
    dims = [_lined(0.0, b) for b in (3.0, 7.5, 21.0, 21.5, 40.0, 120.0)] + [_lined(40.0, 44.0)]
    count = arranged(dims, METRIC, scale)
    words_at = []
    for dim in dims:
        low, high = sorted((dim.a * scale, dim.b * scale))
        middle, half = (low + high) / 2 + dim.shift, dim.wide(METRIC) / 2
        words_at.append((dim.lane, middle - half, middle + half, dim))
    for lane, left, right, own in words_at:
        assert 0 <= lane < count
        for other in dims:
            if other is not own and other.lane >= lane:
                for x in (other.a * scale, other.b * scale):
                    assert not left - CLEAR_MM / 2 < x < right + CLEAR_MM / 2
        for lane2, left2, right2, two in words_at:
            if two is not own and lane2 == lane:
                assert right <= left2 or right2 <= left


def test_words_that_find_no_place_are_told() -> None:
    crowded = [_lined(0.0, 1.0), *(_lined(2.0 * k, 2.0 * k + 400.0) for k in range(-70, 70))]
    with pytest.raises(DoesNotFit):
        arranged(crowded, METRIC, 1.0)


def test_how_far_the_tube_stands_over_is_drawn_where_a_cheek_lies_between(tmp_path: Path) -> None:
    """Who welds sets it by the sheet (ISO 129-1: no size is worked out by who makes it): it was to be
    had from the lengths on two other sheets, because tube and cheek end level at the rear."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    path = tmp_path / "high.toml"
    path.write_text(
        text.replace("spindle_over_seat = 20", "spindle_over_seat = 30"), encoding="utf-8"
    )
    plan = Plan(path)
    s = plan.attachment.sizes
    assert s.cheek_stock is not None
    housing = next(one for one in subjects(plan.attachment) if one.name == "housing" and one.joined)
    drawn = [one for one in scheme(housing).edges if one.said == "drawn" and one.direction == 0]
    over = [one for one in drawn if {one.one, one.other} & {"cheek:x-high", "shank:x-high"}]
    (one,) = over
    front = {housing.place(end).at[0] for end in (one.one, one.other)}
    assert one.size.nominal_mm == pytest.approx(max(front) - min(front))
    assert min(front) == pytest.approx(-s.setback_mm)

    # the proof of the sheet refuses one without it
    def joined(without: bool) -> list[str]:
        said = [Said(e.feature, "xyz"[e.direction], e.one, e.other) for e in scheme(housing).edges]
        kept = [e for e in said if not (without and {e.one, e.other} == {one.one, one.other})]
        found = claims(housing)
        return list(_tree(found, implied(housing), kept, levels(housing, found)[0]))

    assert joined(False) == [] and any("is not said" in one for one in joined(True))


def test_how_far_a_cheek_stands_past_the_axis_is_said_on_the_housings_sheet(tmp_path: Path) -> None:
    """As it was: to be had from the width on the cheek's sheet, less the height on this one (ISO 129-1:
    no size is worked out by who makes it). Width less height over the seat: plain geometry."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    for seat, told in ((30, True), (20, False)):
        path = tmp_path / f"over-{seat}.toml"
        path.write_text(
            text.replace("spindle_over_seat = 20", f"spindle_over_seat = {seat}"), encoding="utf-8"
        )
        plan = Plan(path)
        stock = plan.attachment.sizes.cheek_stock
        housing = next(
            one for one in subjects(plan.attachment) if one.name == "housing" and one.joined
        )
        tube = next(one for one in housing.part.blank.members if one.name == "tube")
        seated = next(one for one in tube.features if one.name == "shank seat")
        # as it was, a cheek was spoken of where there is none
        beds = "cheek" if stock is not None else "shank"
        assert seated.note == f"the {beds} beds here; full length"
        said = [one.words for one in notes(scheme(housing), METRIC) if "'s edge" in one.words]
        assert bool(said) is told is (stock is not None)
        if stock is not None:
            by = stock.width_mm - seat
            way = "past" if by > 0 else "short of"
            (words,) = said
            assert words.endswith(f"; the cheek's edge away from B lies {abs(by):g} {way} A.")
