"""Chapters at the lathe: the dial, the first ball, the card for each mounting."""

from __future__ import annotations

from collections.abc import Iterator

from parts.housing import bore_height_mm
from parts.trueness import rod_square_mm
from planner.book.model import (
    FILL,
    TICK,
    Block,
    Chapter,
    Drawn,
    Line,
    Rows,
    Step,
    Words,
    only,
    page_of,
    rows_of,
    ticked,
)
from planner.output.book.pages import CARD, Pages
from planner.output.book.parts import CHECKS
from planner.output.sheets.outfit import in_rows
from planner.output.topic import DIAL

FIRST_BALL = (
    (
        "Set up line by line; swing once by hand, the spindle switched off, before the first cut.",
        "",
    ),
    ("Rough by the table, then take the passes, each at its dial reading.", ""),
    (
        "Measure the ball across at several angles, and write what the micrometer says.",
        "pommel new readings.toml --readings",
    ),
    (
        "pommel correct JOB readings.toml",
        "It says what to move, which way and by how many divisions of the dial; or that your readings"
        " bear no correction out, and then the ball is as round as you can measure.",
    ),
    (
        "Turn the next one: each ball is kept in a record beside the job, and the second tells the skew"
        " better than the first did.",
        "",
    ),
    (
        "When pivot, tool post or cross slide is moved, say so, so that balls before the move are no"
        " longer used.",
        "pommel correct JOB --moved",
    ),
)
"""The steps of docs/first-ball.md from the first cut on, and what is said under them (a test holds the
two together)."""

INCH_READINGS = " --inch"
"""What the command for a file of readings has behind it in an inch shop."""

LINES = ("line", "degrees", "deg min sec", "class", "length", "numeral", "along rim")
"""Of the dial's table what is read at the dividing."""

TRAVEL_MM, TRAVEL_INCH_MM = 50.0, 2 * 25.4
"""How far the indicator runs along the shank to see whether it stands square."""

MOUNTINGS = 3
"""Columns of boxes on the card."""


def dial(of: Pages) -> Chapter:
    """What its lines are, how to index them, its sheet and the strip to wrap."""
    from planner.output.dial_pages import dial_pages

    pages = dial_pages(of.job.name, of.plan.sizing, of.numbers, of.revision)
    titles = [page.fields.title for page in pages]
    tables = of.tables("dial")
    return Chapter(
        "Dividing the dial",
        (
            Words(
                "The dial's sheet, and its lines on a strip in full size, are at the end of this"
                " chapter. Print the strip at 100%, measure its bars, wrap it round the blank: its"
                " ends meet where the rim has its size."
            ),
            rows_of(tables["figures"]),
            ticked(only(rows_of(tables["dial"]), LINES)),
            *(rows_of(tables[name]) for name in ("indexing", "ways") if name in tables),
            *(Drawn(DIAL, number, title) for number, title in enumerate(titles, 1)),
        ),
    )


def first_ball(of: Pages) -> Chapter:
    """From the attachment on the lathe to a ball that is true."""
    steps: list[Block] = []
    numbers = of.numbers
    card = f"The card: {page_of('Card for each mounting')}"
    for number, (words, under) in enumerate(FIRST_BALL, 2):
        if numbers.inch and under.endswith("--readings"):
            under += INCH_READINGS
        steps.append(Step(str(number), words, (Line(under),) if under else ()))
    found = of.plan.budgets[0][1]
    return Chapter(
        "First ball",
        (
            Words(
                "Eye protection on, sleeves and gloves away; the chuck's key out; the first swing by"
                " hand, the spindle switched off and isolated.",
                "caution",
            ),
            Step("1", "Mount the attachment by the card for each mounting.", (Line(card),)),
            *steps,
            Words(
                f"What to expect of the largest ball: 95 of 100 come within"
                f" {numbers.fine(found.size_95_mm)} of their diameter and are round within"
                f" {numbers.fine(found.form_95_mm)} on the radius; a trial ball that is measured"
                " takes the first out."
            ),
        ),
    )


def mounting(of: Pages) -> Chapter:
    """The card for every mounting: what is put back where, with limits, a column each time."""
    return Chapter(
        CARD,
        (
            Words(
                "Spindle switched off and isolated, chuck's key out, until the trial ball. Each time"
                " the attachment goes back into the post, one column from top to bottom.",
                "caution",
            ),
            *_card(of),
        ),
    )


def _gauges(many: int) -> Rows:
    """The gauge's length: of many each housing, by its number, has one to its own bore."""
    kept = "stamped and kept with the attachment"
    if many == 1:
        return Rows(("gauge", "length"), ((kept, FILL),))
    each = tuple((f"no. {n}, {kept}", FILL) for n in range(1, many + 1))
    return Rows(
        ("gauge", "length"),
        each,
        notes=(
            "Each housing is bored at a height of its own: a gauge for each, stamped with its number."
            " Of this card a print for each.",
        ),
    )


def _card(of: Pages) -> Iterator[Block]:
    s, numbers = of.sizes, of.numbers
    height = bore_height_mm(s)
    travel = TRAVEL_INCH_MM if numbers.inch else TRAVEL_MM
    gauge = s.spindle_over_cross_slide_mm - s.spindle_over_seat_mm
    square = rod_square_mm(s) / s.block_length_mm * travel
    checks = [
        doing
        for one in of.route
        if one.of_the_whole
        for doing in one.doings
        if doing.kind == "check" and doing.words.startswith("end ")
    ]
    bored = f", set-up {of.as_bored.number}" if of.as_bored else ""
    yield Words(
        f"The gauge is set while the housing still stands in the post as it was bored{bored}: an offcut"
        " of bar, a little shorter than the gap between the cross slide and the underside of the shank,"
        " with a screw and its lock nut in one end, screwed out until it just goes under, without lift"
        f" and without light: about {numbers.size(gauge)}. Locked, it is"
    )
    yield _gauges(of.job.attachment.quantity)
    found = numbers.within(height)
    where = f" (from {page_of(CHECKS)})"
    again = in_rows(one.number for one in checks)
    steps = [
        ("date", "", True),
        ("post", "seat and shank wiped, no burr; the post at its mark on the slide", False),
        (
            "shank",
            "seated over its whole length, marked side down, as far out as marked",
            False,
        ),
        ("height", f"the gauge goes under as it did, a feeler beside it: within {found}", True),
        (
            "square",
            f"indicator on the headstock, along the shank's side: over {numbers.size(travel)} of the"
            f" cross slide it changes by no more than {numbers.within(square)}",
            True,
        ),
        ("post screws", "each tight; then height and square are read again", False),
        (
            "end play",
            "pushed and pulled by hand: none to be felt, the nut locked"
            + (f"; as in step{'s' if len(checks) > 1 else ''} {again}{where}" if again else ""),
            False,
        ),
        ("bit", f"{numbers.worked(s.bit_stickout_mm)} out of the arm, its screw tight", False),
        ("cross slide", "tip on the axis, its dial to 0, locked", False),
        ("carriage", "tip set over, then locked", False),
        ("top slide", "locked, and left alone", False),
        (
            "hand swing",
            f"from {'stop to stop' if s.stop_stock else 'end to end'} at the start reading: nothing"
            " touches",
            False,
        ),
        ("trial ball", "turned, cool, measured across: diameter", True),
        ("trial ball", "out of round, the most of its readings less the least", True),
    ]
    rows = []
    for name, words, reads in steps:
        rows.append((name, words, *((FILL if reads else TICK),) * MOUNTINGS))
    heads = ("", "", *(f"{n}." for n in range(1, MOUNTINGS + 1)))
    why = "Square: as much as the error budget takes for the rod's bore; more makes a larger pip."
    yield Rows(heads, tuple(rows), notes=(why,))
