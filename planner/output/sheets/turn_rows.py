"""What the rows of the turning sheets share: a step as data, spindle speeds, whole divisions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor

from parts.value import Value
from planner.turning.model import PassLoad
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns

SENSE = (
    "Spindle forward, tip over the top, rake face to the rear, to the oncoming work. Never reversed,"
    " never"
    " the tip below the axis, never begun before the nose: the work would then come onto the bit's"
    " back."
)
"""How the head and the spindle turn, and what the head never does."""


class Row(Value, frozen=True):
    """A step of a sheet: what, set to what, how, and what to take care of there."""

    what: str
    value: str
    how: str
    caution: str = ""


def row(what: str, value: str, how: str, caution: str = "") -> Row:
    """A step."""
    return Row(what, value, how, caution)


def many(quantity: int) -> str:
    """How many of a ball are turned, behind what it is; nothing of one."""
    return f"; {quantity} to turn" if quantity > 1 else ""


def whole_divisions(mm: float, division_mm: float) -> int:
    """A distance still to go in whole divisions of a dial, none too few: the tip stays clear."""
    return ceil(mm / division_mm - NEAR_A_LINE)


def whole_divisions_in(mm: float, division_mm: float) -> int:
    """How much a dial is set to have to go to the size, in whole divisions, none too many: 0 is the
    size or over it, never under."""
    return floor(mm / division_mm + NEAR_A_LINE)


NEAR_A_LINE = 0.02
"""Of a division: no eye sees how far off a line so little is (common practice)."""


def spindle_row(passes: Sequence[PassLoad], numbers: Numbers) -> Row:
    """The spindle's speed for the passes, and how long a quarter turn of the head takes."""
    cuts = [one.cut for one in passes]
    speeds = sorted({cut.rev_min for cut in cuts})
    last = numbers.spindle_speed(speeds[-1])
    several = len(speeds) > 1
    shown = f"{numbers.plain.spindle_speed(speeds[0])} to {last}" if several else last
    quarter = [90 / (cut.deg_per_turn * cut.rev_min / 60) for cut in cuts]
    slow, fast = numbers.seconds(max(quarter)), numbers.seconds(min(quarter))
    spell = fast if fast == slow else f"{fast} to {slow}"
    return Row(
        "spindle",
        shown,
        f"a quarter of a turn of the head in {spell}, evenly; in air quicker, but a quarter"
        " in no less than 5 s",
    )


def in_order(
    name: str, title: str, steps: Iterable[tuple[str, Iterable[Row]]], notes: tuple[str, ...]
) -> Table:
    """The steps of each ball as a table to be ticked off; steps: of each, by its name."""
    rows = [
        (ball, number, one.what, one.value, one.how, one.caution)
        for ball, found in steps
        for number, one in enumerate(found, 1)
    ]
    return Table(
        name,
        f"{title}: in this order",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("what", "what"),
            ("value", "set to"),
            ("how", "how"),
            ("caution", "take care"),
        ),
        tuple(rows),
        tuple(
            (ball, str(number), what, value, f"{how} CAUTION: {care}" if care else how, "[ ]")
            for ball, number, what, value, how, care in rows
        ),
        heads=("ball", "", "what", "set to", "how", "done"),
        notes=notes,
    )
