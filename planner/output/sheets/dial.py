"""The dial: its engraving table, its figures and how to index it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from parts.screw import line_width_mm
from parts.standard.index_plates import IndexPlate, plate_sets
from planner.dial.design import (
    HEIGHTS_MM,
    INCH_HEIGHTS_MM,
    INCH_MM,
    Dial,
    design_dial,
    engraving_table,
    exact_mm,
)
from planner.dial.indexing import Setting, by_degrees, direct_indexing, index_on_plates
from planner.dial.reading import UnitReading, legibility, reading_in_other_unit
from planner.dial.sense import DEEPER, NUMBERED, READ_AT, UPRIGHT
from planner.job.tables import Job
from planner.making.ways.dividing import dividing
from planner.making.workshop import Workshop
from planner.sizing.apply import Sizing
from planner.words.numbers import INCH, METRIC, Numbers, counted
from planner.words.tables import Table, columns
from planner.words.units import MM_PER_INCH

WORDS = {"mm": "millimetres", "in": "inches"}


def job_dial(sizing: Sizing) -> Dial:
    """The dial of a job, as the engraving table and the solid have it."""
    s = sizing.sizes
    return design_dial(
        s.dial_divisions,
        s.screw_pitch_mm,
        s.dial_diameter_mm,
        rim_width_mm=s.dial_rim_mm,
        line_width_mm=line_width_mm(s),
        heights_mm=INCH_HEIGHTS_MM if s.series.inch else HEIGHTS_MM,
        line_step_mm=s.series.line_step_mm,
    )


def dial_tables(sizing: Sizing, job: Job) -> list[Table]:
    """The engraving table, the dial's figures, and how to index it."""
    dial = job_dial(sizing)
    numbers, plain = job.numbers, job.numbers.plain
    lines = engraving_table(dial)
    places = [_places(mm, numbers) for mm in (dial.advance_mm, dial.diameter_change_mm)]
    caliper = 3 if numbers.inch else 2
    rows, shown = [], []
    for line in lines:
        dms = numbers.dms(line.degrees, line.minutes, line.seconds)
        rows.append(
            (
                line.number,
                round(line.angle_deg, 6),
                dms,
                line.length_class,
                round(line.length_mm, 3),
                line.numeral,
                round(float(line.advance_mm), 6),
                round(float(line.diameter_change_mm), 6),
                round(line.arc_mm, 3),
            )
        )
        shown.append(
            (
                str(line.number),
                plain.angle(line.angle_deg, 3),
                dms,
                line.length_class,
                plain.column(line.length_mm, caliper),
                line.numeral,
                plain.column(float(line.advance_mm), places[0]),
                plain.column(float(line.diameter_change_mm), places[1]),
                plain.column(line.arc_mm, caliper),
            )
        )
    engraving = Table(
        "dial",
        f"Dial-engraving table for {job.name} ({numbers.unit})",
        columns(
            ("line", "line"),
            ("angle_deg", "degrees"),
            ("angle_dms", "deg min sec"),
            ("length_class", "class"),
            ("line_mm", "length"),
            ("numeral", "numeral"),
            ("advance_mm", "tip moves"),
            ("diameter_change_mm", "ball changes"),
            ("arc_mm", "along rim"),
        ),
        tuple(rows),
        tuple(shown),
    )
    return [_dial_figures(dial, numbers), engraving, *_indexing_tables(dial, job)]


def _places(division_mm: Fraction, numbers: Numbers) -> int:
    """Decimals of a column of a dial's lines, as fine as a division needs to be exact.

    In inches a micrometer's at least, and one more where that is exact: else the lines of 0.00125 in
    would read 0.0013, 0.0025, 0.0037, up here and down there. What is never exact has a micrometer's.
    """
    division = Fraction(division_mm) / (INCH_MM if numbers.inch else 1)
    usual, least, most = (4, 4, 5) if numbers.inch else (3, 1, 4)
    exact = (n for n in range(least, most + 1) if (division * 10**n).denominator == 1)
    return next(exact, usual)


def _division(mm: float, numbers: Numbers, mixed: bool) -> str:
    """What one division moves; in both units where the screw is not of the job's."""
    if mixed:
        return f"{METRIC.exact(mm, 5)} = {INCH.exact(mm)}"
    return numbers.exact(mm, 6 if numbers.inch else 5)


def _dial_figures(dial: Dial, numbers: Numbers) -> Table:
    legible = legibility(dial, numbers)
    other = reading_in_other_unit(exact_mm(dial.pitch_mm), dial.divisions)
    mixed = (other.screw_unit == "in") != numbers.inch
    entries: list[tuple[str, str]] = [
        ("divisions", str(dial.divisions)),
        ("turning it", DEEPER),
        ("numbered", NUMBERED),
        ("numerals", f"{numbers.size(dial.numeral_height_mm)} high, {UPRIGHT}"),
        ("zero", "the finished ball; before it the dial shows what is missing to a whole turn"),
        ("read", READ_AT),
        ("rim diameter", numbers.size(dial.diameter_mm)),
        ("one turn of the feed screw", numbers.pitch(float(dial.pitch_mm))),
        ("one division, tip", _division(float(dial.advance_mm), numbers, mixed)),
        (
            "one division, ball's diameter",
            _division(float(dial.diameter_change_mm), numbers, mixed),
        ),
        ("lines apart on the rim", numbers.caliper(legible.arc_spacing_mm)),
        ("legible at arm's length", "yes" if legible.ok else "no"),
    ]
    entries += [("to mend", text) for text in legible.findings]
    if mixed:
        entries += _read_otherwise(other)
    return Table(
        "figures",
        "The dial",
        columns(("what", "what"), ("value", "value")),
        tuple(entries),
    )


def _read_otherwise(other: UnitReading) -> list[tuple[str, str]]:
    """A dial in a shop of the other unit: the round step it is near, and what a turn is then out by."""
    theirs = INCH if other.other_unit == "in" else METRIC
    read_mm = float(other.read_as) * (MM_PER_INCH if theirs.inch else 1.0)
    out_mm = float(other.residual_per_turn_mm)
    residual = (theirs.micrometer if theirs.inch else theirs.exact)(abs(out_mm))
    less = "less" if out_mm < 0 else "more"
    goes = f"in a whole turn the tip goes {residual} {less} than was read"
    entries = [
        (
            f"each line taken as {theirs.exact(read_mm)}",
            "exact" if other.exact else goes,
        )
    ]
    if other.exact_divisions and not other.exact:
        counts = ", ".join(map(str, other.exact_divisions[:6]))
        entries.append((f"exact in {WORDS[other.other_unit]} with", f"{counts} divisions"))
    return entries


def _plates(own: int | None) -> Iterator[tuple[IndexPlate, ...]]:
    """The known sets of plates; on the shop's own head too, where its ratio is that of none of them.

    Sets that have the same circles are one set there: a plate goes on any head.
    """
    sets = plate_sets()
    yield from sets.values()
    known = {plate.ratio for plates in sets.values() for plate in plates}
    if own is None or own in known:
        return
    seen: set[tuple[int, ...]] = set()
    for name, plates in sets.items():
        new = [plate for plate in plates if plate.circles not in seen]
        seen |= {plate.circles for plate in new}
        bare = name.rpartition(" ")[0]
        yield tuple(replace(plate, set_name=bare, ratio=own) for plate in new)


def _arcsec(error: float) -> str:
    """What a line is off: to a tenth of a second of arc, and 0 where it is exact."""
    return f"{error:.1f}" if error else "0"


def _indexing_tables(dial: Dial, job: Job) -> list[Table]:
    rows, own = [], job.shop.dividing_head_ratio
    for plates in _plates(own):
        for found in index_on_plates(dial.divisions, plates):
            index = found.indexing
            rows.append(
                (
                    found.set_name,
                    found.plate,
                    index.ratio,
                    *_setting(index.setting),
                    index.exact,
                    round(index.error_arcsec, 3),
                    round(index.closing_error_arcsec, 2),
                )
            )
    rows.sort(key=lambda row: (not row[7], row[2] != own, row[2]))
    exact_ratios = {row[2] for row in rows if row[7]}
    kept = [row for row in rows if row[7] or row[2] not in exact_ratios]
    plain = Table(
        "indexing",
        "Plain indexing (worm head and plates)",
        columns(
            ("plates", "plates"),
            ("plate", "plate"),
            ("ratio", "head"),
            ("turns", "turns"),
            ("holes", "+ holes"),
            ("circle", "on circle"),
            ("sector_holes", "sector"),
            ("exact", "exact"),
            ("error_arcsec", "error a line, arc sec"),
            ("closing_error_arcsec", "at the last line"),
        ),
        tuple(kept),
        tuple(
            (
                r[0],
                r[1],
                f"{r[2]}:1",
                *(str(v) for v in r[3:7]),
                "yes" if r[7] else "NEAREST",
                _arcsec(r[8]),
                _arcsec(r[9]),
            )
            for r in kept
        ),
        notes=("Sector: holes between the arms, both ends counted.",),
    )
    direct = direct_indexing(dial.divisions)
    table = by_degrees(dial.divisions)
    step = table.step
    figures = [
        (
            "direct plate, 24 holes",
            f"every {counted(direct.step_holes, 'hole')}" if direct.step_holes else "does not go",
        ),
        (
            "direct plates that do",
            ", ".join(map(str, direct.circles_that_do)) or "none of 24, 30, 36, 60",
        ),
        (
            "rotary table, one division",
            job.numbers.dms(step.degrees, step.minutes, step.seconds)
            + ("" if step.residue_arcsec == 0 else f" and {float(step.residue_arcsec):+.4g} sec"),
        ),
        ("the shop's head", f"{own}:1" if own else "none listed"),
        ("the lathe's own circle", _circle(dial.divisions, job)),
        ("as the route divides it", _by_the_route(dial.divisions, job)),
    ]
    return [
        plain,
        Table(
            "ways",
            "Other ways",
            columns(("way", "way"), ("value", "setting")),
            tuple(figures),
            notes=("On a rotary table go by the degrees column, line by line: no error adds up.",),
        ),
    ]


def _circle(divisions: int, job: Job) -> str:
    """How a line is stepped on a circle behind the lathe's chuck, the smallest that goes."""
    circles = sorted(job.lathe.dividing_circles)
    for circle in circles:
        if step := direct_indexing(divisions, circle).step_holes:
            return f"every {step} of {circle}" if step > 1 else f"every one of {circle}"
    return "none goes" if circles else "none listed"


def _by_the_route(divisions: int, job: Job) -> str:
    """The way that the route takes, and how a line is stepped by it on the lathe's spindle."""
    way = dividing(divisions, Workshop(job))
    step = re.split(r"[,;:.] ", way.words)[0]
    return f"{way.by}: {step}" if way.on_spindle else way.by


def _setting(setting: Setting) -> tuple[int, int, int, int]:
    return setting.turns, setting.holes, setting.circle, setting.sector_holes
