"""How the lines of a dial are put round a rim, by what the shop divides with. Exact counts only.

A divided plate behind the chuck or a change gear on the spindle leaves the rim in the chucking it was
turned in; the dividing head and the rotary table stand on the mill's table; two pins, or a disc with a
tape, where there is nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf, pi

from msgspec import field
from msgspec.structs import replace

from parts.value import Value
from planner.making.workshop import Workshop
from planner.words.numbers import counted

DISC_MM = 150.0
"""A disc about so large still swings over most small lathes' beds (common practice)."""

SADDLE_MM = 25.0
"""At least so far the cross slide's top lies over the bed (common practice: 25 to 60)."""


class Dividing(Value, frozen=True):
    """A means of dividing: its name, the sentence of how it is used, whether on the lathe's spindle.

    record: the same as data, for the route's records: ``by`` ("plate", "wheel", "wheel, two pins",
    "dividing head", "rotary table" or "tape") and ``lines``; ``circle``, its holes or teeth; ``step``,
    the spaces to a line; of a tape ``across_mm``, the disc, and ``step_mm``.
    """

    by: str
    words: str
    on_spindle: bool
    record: Mapping[str, str | int | float] = field(default_factory=dict)


def gear_for(divisions: int, gears: Sequence[int]) -> tuple[int, int] | None:
    """The wheel for a number of divisions, and how many of its spaces make one, or None.

    The smallest wheel whose teeth the divisions go into (common practice: a wheel fixed to the spindle,
    a pin in its tooth spaces).

    >>> gear_for(50, (20, 40, 50, 80))
    (50, 1)
    """
    fitting = sorted(z for z in set(gears) if z % divisions == 0)
    return (fitting[0], fitting[0] // divisions) if fitting else None


def half_spaces(divisions: int, gears: Sequence[int]) -> tuple[int, int] | None:
    """The wheel whose half spaces the divisions go into, by two pins half a space apart; or None."""
    fitting = sorted(z for z in set(gears) if 2 * z % divisions == 0)
    return (fitting[0], 2 * fitting[0] // divisions) if fitting else None


def disc(divisions: int, inch: bool, swings_mm: float = inf) -> tuple[float, float]:
    """A disc's diameter and the step of a tape round it, mm, a whole step of the tape a division.

    swings_mm: no larger, where any step is small enough.

    >>> disc(50, False), disc(50, False, 150.0)
    ((159.15494309189535, 10.0), (143.2394487827058, 9.0))
    """
    unit = 25.4 / 16 if inch else 1.0
    steps = -(-pi * DISC_MM / divisions // unit)
    most = pi * swings_mm / divisions // unit
    step = max(1.0, min(steps, most)) * unit
    return divisions * step / pi, step


def dividing(divisions: int, shop: Workshop) -> Dividing:
    """The first means the shop has for so many divisions."""
    found = _dividing(divisions, shop)
    return replace(found, record={"lines": divisions, **found.record})


def _dividing(divisions: int, shop: Workshop) -> Dividing:
    ratio, gears = shop.job.shop.dividing_head_ratio, shop.kit.change_gears
    by_table = bool(shop.owns("mill") and (ratio or shop.owns("rotary table")))
    said = shop.job.lathe.change_gears is not None
    if found := gear_for(divisions, shop.job.lathe.dividing_circles):
        circle, step = found
        each = "every one of it" if step == 1 else f"every {step} spaces of it"
        return Dividing(
            f"the circle of {circle} on the spindle",
            f"the pin or pointer to {each}, the play taken one way; the tool on its side drawn along by"
            f" the top slide. {divisions} lines: the last step ends where it began",
            True,
            {"by": "plate", "circle": circle, "step": step},
        )
    if (found := gear_for(divisions, gears)) and (said or not by_table):
        wheel, step = found
        each = "every space" if step == 1 else f"every {step} spaces"
        return Dividing(
            f"a change gear of {wheel} teeth on the spindle",
            f"a pin in {each} of it, the play taken one way; the tool on its side drawn along by the"
            f" top slide. {divisions} lines: the last step ends in the space it began in",
            True,
            {"by": "wheel", "circle": wheel, "step": step},
        )
    if by_table and ratio:
        return Dividing(
            f"the {ratio}:1 dividing head",
            "plate, circle and turns by the dial-engraving table, the crank turned one way only; the"
            " table drawn along for each line",
            False,
            {"by": "dividing head"},
        )
    if by_table:
        return Dividing(
            "the rotary table",
            "stood on its edge, its axis along the mill's travel, the point over it: angles by the"
            " dial-engraving table, the handle turned one way only; the mill's table drawn along for"
            " each line",
            False,
            {"by": "rotary table"},
        )
    if found := half_spaces(divisions, gears):
        wheel, step = found
        return Dividing(
            f"a change gear of {wheel} teeth on the spindle, two pins half a space apart",
            f"{counted(step, 'half space')} a line, the pins by turns; prove both first. The"
            " tool on its side drawn along by the top slide",
            True,
            {"by": "wheel, two pins", "circle": wheel, "step": step},
        )
    swings = 2 * (shop.job.lathe.spindle_over_cross_slide + SADDLE_MM)
    across, step_mm = disc(divisions, shop.inch, swings)
    numbers = shop.numbers
    return Dividing(
        f"a tape round a disc of {numbers.caliper(across)} on the spindle",
        f"{numbers.size(step_mm)} of the tape a line, read by a fixed pointer: turn the wooden disc"
        " until the tape closes on itself. The tool on its side drawn along by the top slide",
        True,
        {"by": "tape", "across_mm": across, "step_mm": step_mm},
    )
