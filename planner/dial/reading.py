"""How a dial is read: whether lines and numerals are legible, and what it reads in the other unit.

Imported by the dial's sheet and the tests. Plain numbers.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Protocol

from parts.value import Value
from planner.dial.design import (
    INCH_MM,
    OFF_LINE_MM,
    Dial,
    exact_mm,
    numeral_diameter_mm,
    numeral_need_mm,
    numeral_run_mm,
)
from planner.dial.indexing import FEWEST_DIVISIONS, check_divisions

MOST_SENSIBLE = 400
# Steps that count evenly up to ten or a hundred, and so are read without pencil and paper.
ROUND_STEPS = (Fraction(1), Fraction(2), Fraction(5, 2), Fraction(4), Fraction(5), Fraction(10))
# Lines of 0.15 to 0.2 mm are read at arm's length from 0.8 to 1 mm apart (common practice): five
# widths, as on a micrometer thimble, and never less than 0.8 mm.
LEAST_SPACING_MM, WIDTHS_APART = 0.8, 5
# A length that just meets its limit is not failed for the last bit of a float.
SLACK = 1e-9


class Saying(Protocol):
    """How lengths are written in what is to mend: a nominal one, one worked out, a least one, in mm."""

    def size(self, mm: float) -> str: ...

    def caliper(self, mm: float) -> str: ...

    def at_least(self, mm: float) -> str: ...


class Millimetres:
    """Where nothing else is asked for."""

    def size(self, mm: float) -> str:
        return f"{mm:g} mm"

    def caliper(self, mm: float) -> str:
        return f"{mm:.2f} mm"

    def at_least(self, mm: float) -> str:
        """A least size rounded up to a tenth, so that what the message says will do."""
        return f"{math.ceil(mm * 10 - SLACK) / 10:g} mm"


MILLIMETRES = Millimetres()


class Legibility(Value, frozen=True):
    """Whether a dial can be read at arm's length, and which could be.

    numeral_gap_mm, numeral_need_mm: from one numeral to the next along the rim, centre to centre:
    what there is, and what two take. rim_ok: the widest numeral has room beside its long line.
    least_diameter_mm: of the rim, for these lines and numerals. most_divisions: on this diameter.
    sensible_divisions: counts from 4 up to that (400 at most) that make one division a round step
    in mm or in inches, finest first; empty when this pitch has none.
    findings: a message for each check that fails.
    """

    ok: bool
    arc_spacing_mm: float
    least_spacing_mm: float
    lines_ok: bool
    numeral_gap_mm: float
    numeral_need_mm: float
    numerals_ok: bool
    rim_ok: bool
    least_diameter_mm: float
    most_divisions: int
    sensible_divisions: tuple[int, ...]
    findings: tuple[str, ...]


class UnitReading(Value, frozen=True):
    """A dial read in the unit its screw is not made in.

    screw_unit, other_unit: "mm" or "in". advance_mm, advance_in: of one division, exact.
    read_as: the round step, in `other_unit`, nearest to one division.
    residual_per_turn_mm, residual_per_turn_in: what the tip moves in a turn less what is read.
    exact_divisions: counts from 2 to 400 that make one division a round step in `other_unit`.
    """

    pitch_mm: Fraction
    divisions: int
    screw_unit: str
    other_unit: str
    advance_mm: Fraction
    advance_in: Fraction
    read_as: Fraction
    residual_per_turn_mm: Fraction
    residual_per_turn_in: Fraction
    exact: bool
    exact_divisions: tuple[int, ...]


def legibility(dial: Dial, say: Saying = MILLIMETRES) -> Legibility:
    """Whether lines and numerals can be read at arm's length on this diameter.

    Assumes an eye at about 0.6 m and filled lines: lines at least 0.8 mm and five line widths
    apart (common practice), a digit 0.7 of its height wide with its space, numerals 0.4 of
    their height apart along the rim (ISO 3098-0:1997 lettering B), half a millimetre off the lines.
    say: how the findings write lengths.
    """
    around_mm = math.pi * dial.diameter_mm
    spacing_mm = around_mm / dial.divisions
    least_mm = max(LEAST_SPACING_MM, WIDTHS_APART * dial.line_width_mm)
    most = math.floor(around_mm / least_mm + SLACK)
    sensible = _sensible(dial.pitch_mm, most)
    gap_mm, need_mm = dial.numeral_every * spacing_mm, numeral_need_mm(dial)
    numerals_diameter_mm = numeral_diameter_mm(dial)
    height_mm, rim_mm = dial.numeral_height_mm, dial.rim_width_mm
    run_mm = numeral_run_mm(dial)
    lines_ok = spacing_mm >= least_mm - SLACK
    numerals_ok = numerals_diameter_mm <= dial.diameter_mm + SLACK
    rim_ok = run_mm <= rim_mm + SLACK
    least_diameter_mm = max(dial.divisions * least_mm / math.pi, numerals_diameter_mm)

    findings = []
    if not lines_ok:
        counts = ", ".join(map(str, sensible[:3]))
        findings.append(
            f"dial: {dial.divisions} lines on {say.size(dial.diameter_mm)} stand "
            f"{say.caliper(spacing_mm)} apart; needs {say.size(least_mm)}. Use a rim of at least "
            f"{say.at_least(least_diameter_mm)} or at most {most} divisions"
            + (f" ({counts})" if counts else "")
        )
    if not numerals_ok:
        findings.append(
            f"dial: numerals {say.size(height_mm)} high stand {say.caliper(gap_mm)} apart; need "
            f"{say.caliper(need_mm)}. Use a rim of at least {say.at_least(numerals_diameter_mm)}, "
            "lower numerals or fewer of them"
        )
    if not rim_ok:
        beside_mm = dial.long_mm + OFF_LINE_MM
        most_mm = height_mm * max(rim_mm - beside_mm, 0) / (run_mm - beside_mm)
        findings.append(
            f"dial: numerals {say.size(height_mm)} high beside {say.size(dial.long_mm)} lines need a "
            f"rim {say.caliper(run_mm)} wide; has {say.size(rim_mm)}. Use a wider rim"
            + (f" or numerals of at most {say.caliper(most_mm)}" if most_mm >= 0.01 else "")
        )
    return Legibility(
        ok=not findings,
        arc_spacing_mm=spacing_mm,
        least_spacing_mm=least_mm,
        lines_ok=lines_ok,
        numeral_gap_mm=gap_mm,
        numeral_need_mm=need_mm,
        numerals_ok=numerals_ok,
        rim_ok=rim_ok,
        least_diameter_mm=least_diameter_mm,
        most_divisions=most,
        sensible_divisions=sensible,
        findings=tuple(findings),
    )


def reading_in_other_unit(pitch_mm: Fraction | float, divisions: int) -> UnitReading:
    """What a metric dial on an inch screw reads, or an inch dial on a metric one.

    Arguments: pitch_mm: the screw's lead, over 0, mm, as in `exact_mm`; divisions: 2 to 1000.
    A lead counts as inch when 127 divides the numerator of its mm fraction (1 in = 127/5 mm), so
    127 must be in the count of an exact metric dial on an inch screw, and no count makes an
    exact inch dial on a metric screw: 127 stays in the denominator.
    Raises ValueError for input out of range.

    >>> reading_in_other_unit(Fraction(127, 100), 50).residual_per_turn_mm
    Fraction(1, 50)
    """
    check_divisions(divisions)
    pitch = exact_mm(pitch_mm)
    inch_screw = pitch.numerator % INCH_MM.numerator == 0
    unit_mm = Fraction(1) if inch_screw else INCH_MM
    step = pitch / unit_mm / divisions
    read_as = _round_step(step)
    residual_mm = (step - read_as) * divisions * unit_mm
    return UnitReading(
        pitch_mm=pitch,
        divisions=divisions,
        screw_unit="in" if inch_screw else "mm",
        other_unit="mm" if inch_screw else "in",
        advance_mm=pitch / divisions,
        advance_in=pitch / INCH_MM / divisions,
        read_as=read_as,
        residual_per_turn_mm=residual_mm,
        residual_per_turn_in=residual_mm / INCH_MM,
        exact=residual_mm == 0,
        exact_divisions=tuple(_round_counts(pitch / unit_mm, FEWEST_DIVISIONS, MOST_SENSIBLE)),
    )


def _sensible(pitch: Fraction, most: int) -> tuple[int, ...]:
    counts = {n for lead in (pitch, pitch / INCH_MM) for n in _round_counts(lead, 4, most)}
    return tuple(sorted(counts, reverse=True))


def _round_counts(lead: Fraction, fewest: int, most: int) -> list[int]:
    """Counts that divide a lead into round steps, fewest first, up to 400."""
    most = min(most, MOST_SENSIBLE)
    if most < fewest:
        return []
    counts, power = set(), _power_of_ten(lead / most)
    while power * fewest <= lead:
        counts |= {lead / (mark * power) for mark in ROUND_STEPS}
        power *= 10
    return sorted(int(n) for n in counts if n.denominator == 1 and fewest <= n <= most)


def _round_step(step: Fraction) -> Fraction:
    """The nearest of 1, 2, 2.5, 4, 5 times a power of ten; of equals the smaller."""
    power = _power_of_ten(step)
    return min((mark * power for mark in ROUND_STEPS), key=lambda mark: abs(mark - step))


def _power_of_ten(step: Fraction) -> Fraction:
    """The greatest power of ten not over `step`."""
    power = Fraction(1)
    while step >= 10 * power:
        power *= 10
    while step < power:
        power /= 10
    return power
