"""Counterbores: what cuts them, and whether it comes to them past what stands beside.

A counterbore that the shop has, or a flat drill where it has the drill to grind; else a bar with a bit
across it, made first, whose end runs in the hole. Imported by making.across and making.aids.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from parts import features as f
from parts.standard.holding import drill_out_mm
from planner.making.holds import Holds
from planner.making.model import Op
from planner.making.near import on_axis, same_way
from planner.making.ways import beside, holes
from planner.making.ways.sunk import FLAT, has_counterbore

OUT_MM = ((6.0, 51.0), (11.0, 60.0), (18.0, 80.0))
"""A counterbore up to such a diameter stands so far out of a chuck: 71, 80 and 100 long (DIN 373, from
memory), 20 of it held."""

PILOT_LONG = 1.5
"""Of its diameters so much of a bar goes on in the hole past its bit (common practice)."""

BAR_SLENDER = 15.0
"""A bar whose end runs in the hole stands out so many times its thickness (common practice; extra-long
drills, DIN 1869 from memory, stand out farther with no pilot)."""

BAR = "counterbore bar"

FLAT_MADE = (
    "a second drill of that size, so that the first stays as it is: its end ground square across, its"
    " lips equal and backed off"
)
"""How it is made: the drill that bored the hole, or one like it, is wanted again with its point."""

THIN_SHANK_MM = 11.0
"""Counterbores over so much have shanks of 12.5, those up to it thinner ones (DIN 373, from memory)."""


def counterbore_out_mm(size_mm: float) -> float:
    """How far a counterbore with a straight shank stands out of its chuck, mm; 0 past the table."""
    return next((out for most, out in OUT_MM if size_mm <= most), 0.0)


def chuck_mm(one: f.Hole) -> float:
    """Half of what the chuck is wide that a hole's last tool is held in, mm."""
    wide = isinstance(one, f.Counterbore) and one.diameter.nominal_mm > THIN_SHANK_MM
    return beside.WIDE_CHUCK_MM if wide else beside.CHUCK_MM


def reaching(work: Holds, op: Op, one: f.Hole, others: Sequence[f.Feature], tall_mm: float) -> Op:
    """A counterboring with a tool that the shop has or makes, as long as what stands beside wants.

    others: of the work, for the hole that a bar runs in; tall_mm: of what the chuck does not pass.
    """
    if not isinstance(one, f.Counterbore):
        return op
    size, numbers = holes.size_of(op.tool), work.numbers
    out = tall_mm + op.length_mm if tall_mm else 0.0
    if has_counterbore(size, work.shop) and out <= counterbore_out_mm(size):
        return op
    if work.shop.has_drill(size) and out <= drill_out_mm(size):
        op.tool = replace(op.tool, name=f"{FLAT} {numbers.tool(size)}")
        return op
    pilot = max(
        (
            holes.drilled_mm(o, work.shop)
            for o in others
            if isinstance(o, f.Hole) and o is not one and o.through
            and on_axis(one, o) and same_way(one, o)
        ),
        default=0.0,
    )  # fmt: skip
    long = max(out, op.length_mm + size)
    if pilot <= 0.0 or long > BAR_SLENDER * pilot:
        name = f"counterbore {numbers.tool(size)} that stands {numbers.rule(long)} out"
        work.shop.lacks(work.on.part.name, name, "Borrow one, or braze it to a rod")
        op.tool = replace(op.tool, reach_mm=long, owned=False, instead="buy or borrow one")
        return op
    thick, across = numbers.plain.size(pilot), numbers.size(size)
    op.tool = replace(
        op.tool,
        name=f"{BAR} Ø{thick}, its bit {across} across",
        owned=True,
        instead="",
        width_mm=pilot,
        reach_mm=long,
    )
    op.text += f", with the bar's end in the {numbers.size(pilot)} hole"
    return op
