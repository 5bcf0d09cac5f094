"""What the readings say and what to move."""

from __future__ import annotations

from math import ceil, floor

from planner.job.tables import Job
from planner.measuring.correct import (
    ANVIL_OFF_DEG,
    SURE,
    Advice,
    Correction,
    Estimate,
    Measured,
)
from planner.words.numbers import Numbers, counted
from planner.words.tables import Table, columns

NEAR_A_LINE = 0.05
"""Of a division: so near to a line of a dial, nothing is over (common practice)."""

SHARE_PLACES = 5
"""Decimals of what a screw's travel is off, of one."""

NAMES = {
    "squareness": "pivot out of square",
    "skew": "pivot off the spindle (skew)",
    "offset": "tip off the spindle (offset)",
    "size": "size against the drawing, on the radius",
    "zero": "zero of the feed dial",
    "screw": "travel of the feed screw",
}


OFF = f"anvils {ANVIL_OFF_DEG:g} degrees off"
RADIUS_OFF, SKEW_OFF = f"radius, {OFF}", f"skew, {OFF}"
TOLD = {
    "within": "The ball is within its tolerance",
    "cannot be told": "It cannot be told whether the ball is within its tolerance",
    "outside": "The ball is outside its tolerance",
}

FIT = columns(("what", "what"), ("value", "value"), ("uncertainty", "uncertainty"))
ADVICE = columns(
    ("what", "what"),
    ("error_mm", "error"),
    ("uncertainty_mm", "uncertainty"),
    ("justified", "justified"),
    ("move", "move"),
    ("amount_mm", "by"),
    ("divisions", "divisions"),
    ("sign_known", "way known"),
    ("remains_mm", "may remain"),
    ("reason", "why"),
)
UNSEEN = columns(("what", "what"))
COLUMNS = {
    name: tuple(one.key for one in row)
    for name, row in (("fit", FIT), ("advice", ADVICE), ("unseen", UNSEEN))
}
"""The keys of each table, by its name."""


def correct_tables(
    found: Correction, measured: Measured, job: Job, name: str, kept: str = ""
) -> list[Table]:
    """The fit, the advice in the order to act, and what the readings cannot show.

    kept: what is said of the record, "" for nothing.
    """
    numbers = job.numbers.plain
    return [
        _fit(found, measured, name, job.numbers, kept),
        _advice(found.advice, numbers),
        _unseen(found),
    ]


def no_tables() -> list[Table]:
    """The tables, each without a row: of a move that is confirmed without readings."""
    return [
        Table(name, "", row, (), ())
        for name, row in (("fit", FIT), ("advice", ADVICE), ("unseen", UNSEEN))
    ]


def _fit(found: Correction, measured: Measured, name: str, named: Numbers, kept: str) -> Table:
    numbers = named.plain
    rows: list[tuple[str, float | None, float | None]] = []

    def add(what: str, one: Estimate | None) -> None:
        if one is None:
            rows.append((what, None, None))
        else:
            rows.append((what, round(one.mm, 7), round(one.u_mm, 7)))

    notes = []
    if found.fit:
        add("mean diameter", found.fit.mean)
        add("radius", found.fit.radius)
        add("skew", found.fit.skew)
        if found.fit.chi2_limit is not None:
            rows.append(("chi-square of the readings", round(found.fit.chi2, 4), None))
            rows.append(("at most, were the accuracy as stated", found.fit.chi2_limit, None))
        if found.fit.anvils and found.fit.skew and found.fit.radius:
            off = found.fit.anvils
            add(RADIUS_OFF, Estimate(found.fit.radius.mm, off.radius_u_mm))
            add(SKEW_OFF, Estimate(found.fit.skew.mm, off.skew_u_mm))
        notes.append(found.fit.words)
        if found.fit.balls > 1:
            notes.append(f"The skew rests on {found.fit.balls} balls turned at this setting.")
        notes += _anvils(found, named)
    notes += _tolerance(found, measured, named) + ([kept] if kept else [])
    if found.pips:
        add("offset, by the pips, side unknown", found.pips.offset)
        for answer in found.pips.answers:
            rows.append(("pivot out of square, deg", answer.tilt_deg, answer.tilt_u_deg))
            add("and offset with it", answer.offset)
    if found.sizes:
        add("dial's zero, by the sizes", found.sizes.zero)
        if found.sizes.screw:
            rows.append(
                (
                    "screw's travel off, of one",
                    round(found.sizes.screw.mm, 9),
                    round(found.sizes.screw.u_mm, 9),
                )
            )
    return Table(
        "fit",
        f"{name}: what {counted(len(measured.readings), 'reading')},"
        f" {counted(len(measured.pips), 'pip')} and {counted(len(measured.sizes), 'size')} determine"
        f" ({numbers.unit})",
        FIT,
        tuple(rows),
        tuple(
            (what, *("" if v is None else _shown(what, v, numbers) for v in (value, u)))
            for what, value, u in rows
        ),
        notes=tuple(notes),
    )


def _anvils(found: Correction, numbers: Numbers) -> list[str]:
    """What anvils off their angles do to the readings and to the stated uncertainty."""
    if not (found.fit and found.fit.anvils and found.fit.skew):
        return []
    off, skew = found.fit.anvils, found.fit.skew
    more, without = numbers.error(off.skew_u_mm), numbers.error(skew.u_mm)
    by = numbers.error(off.reading_mm)
    if not float(by.partition(" ")[0]):  # less than the last place there is
        by = numbers.error(numbers.least_error_mm)
    changes = (
        f"An anvil {numbers.angle(ANVIL_OFF_DEG)} off its angle changes a reading of this ball by"
        f" {by} at most"
    )
    if more == without:
        return [f"{changes}: the skew is no more uncertain for it."]
    return [
        f"{changes}; with each off by so much, two times in three, the skew is uncertain by {more}"
        f" instead of {without}."
    ]


def _tolerance(found: Correction, measured: Measured, numbers: Numbers) -> list[str]:
    """Whether the ball is within its tolerance, by how much it is off and how sure that is."""
    if not found.tolerance or measured.tolerance_mm is None:
        return []
    worst = found.tolerance.worst
    where = "clear of the stem" if found.fit and found.fit.skew else "at the one angle measured"
    return [
        f"{TOLD[found.tolerance.standing]} of {numbers.micrometer(measured.tolerance_mm)} either way:"
        f" the diameter farthest off, {where}, is off by {numbers.error(worst.mm)}, twice its"
        f" uncertainty {numbers.error(SURE * worst.u_mm)}."
    ]


def _shown(what: str, value: float, numbers: Numbers) -> str:
    if "of one" in what:  # a hundred-thousandth, as far as a micrometer over a travel tells
        return f"{value:z.{SHARE_PLACES}f}"
    return (
        f"{value:.3g}"
        if "chi" in what or "stated" in what or what.endswith(", deg")
        else numbers.error(value)
    )


def _advice(advice: tuple[Advice, ...], numbers: Numbers) -> Table:
    rows = tuple(
        (
            one.what,
            one.error and round(one.error.mm, 7),
            one.error and round(one.error.u_mm, 7),
            one.justified,
            one.move,
            round(one.amount_mm, 7),
            one.divisions and round(one.divisions, 3),
            one.sign_known,
            one.remains_mm and round(one.remains_mm, 7),
            one.reason,
        )
        for one in advice
    )
    shown = []
    for one in advice:
        amount, move = "", "leave it"
        over = f" over {numbers.rule(one.over_mm)}" if one.over_mm else ""
        if one.justified:
            move = one.move if one.sign_known else f"{one.move}, either way to begin with"
            amount = numbers.error(one.amount_mm)
            if one.divisions is not None:
                amount += _on_the_dial(one, numbers)
        shown.append(
            (
                NAMES[one.what] + over,
                numbers.error(one.error.mm) if one.error else "?",
                move,
                amount,
                numbers.error(one.remains_mm) if one.remains_mm is not None else "?",
                one.reason,
            )
        )
    return Table(
        "advice",
        f"What to do, in this order ({numbers.unit})",
        ADVICE,
        rows,
        tuple(shown),
        heads=("what", "error", "move", "by", "may remain", "why"),
    )


def _on_the_dial(one: Advice, numbers: Numbers) -> str:
    """A move in whole divisions of its dial, never one that takes off too much, and what is over.

    Inward the last division is not begun, since more comes off in the next pass; outward it is gone to
    its end, since what is off is off.
    """
    assert one.divisions is not None
    exact, division_mm = one.divisions, one.amount_mm / one.divisions
    if abs(exact - round(exact)) < NEAR_A_LINE and round(exact):
        return f", {round(exact)} div"
    if one.outward:
        return f", {ceil(exact)} div: {numbers.error((ceil(exact) - exact) * division_mm)} more"
    rest = numbers.error((exact - floor(exact)) * division_mm)
    return f", {floor(exact)} div and {rest}" if exact >= 1 else ", less than 1 div"


def _unseen(found: Correction) -> Table:
    return Table(
        "unseen",
        "What readings across cannot show",
        UNSEEN,
        tuple((words,) for words in found.unseen),
        (),
        notes=found.unseen,
    )
