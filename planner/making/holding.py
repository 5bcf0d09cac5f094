"""How each piece of stock is held while it is worked, and what that adds to its length.

The cut list takes the allowances from here and the route takes the holding, so they cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from parts.attachment import Attachment
from parts.features import FacedLength, Feature, Hole, Turned, TurnedDiameter
from parts.part import Joined, Member, Stock, members
from parts.standard.sections import Section
from parts.standard.series import Series
from planner.job.tables import Job

FACING_MM = 1.0
"""Left on each sawn end to face (common practice: 1 mm after a bandsaw, a little more by hand)."""


def facing_mm(series: Series) -> float:
    """Left on each sawn end to face."""
    return series.nominal(FACING_MM)


class Hold(StrEnum):
    """The ways a piece is held."""

    PARTED = "chuck, on a spare grip that is parted off last"
    BAR = "chuck, the bar through the spindle, parted off from it; one grip a bar"
    CENTRES = "between centres"
    CHUCK = "chuck, both ends faced first"
    VICE = "vice"
    ASIS = "as bought"


@dataclass(frozen=True)
class Holding:
    """How one piece is held; facing_mm both ends together, grip_mm the spare length to hold by.

    Held in the bar (Hold.BAR) the grip is one for all pieces of a bar.
    """

    hold: Hold
    facing_mm: float
    grip_mm: float


PARTING_MM = 3.0
"""Width of a parting tool: what is lost between pieces turned off the bar (common practice)."""


def parting_mm(series: Series) -> float:
    """Width of the parting tool."""
    return series.nominal(PARTING_MM)


def holdings(attachment: Attachment, job: Job) -> dict[tuple[str, str], Holding]:
    """How every piece is held, by part and piece.

    Where all pieces of a section and material are made on the end of a length and parted off, and the
    bar goes through the spindle, they are turned off the bar itself: one grip serves all of a bar.
    """
    held: dict[tuple[str, str], Holding] = {}
    groups: dict[tuple[Section, str], list[tuple[str, str]]] = {}
    for part in attachment.parts:
        for member in members(part):
            key = (part.name, member.name)
            held[key] = holding(member, isinstance(part.blank, Joined), job.series)
            stock = member.blank
            groups.setdefault((stock.section, stock.material), []).append(key)
    bore = job.lathe.spindle_bore or 0.0
    others = {(piece.section, piece.material) for piece in job.piece}
    for (section, material), keys in groups.items():
        goes_through = section.width_mm <= bore and (section, material) not in others
        if goes_through and all(held[key].hold is Hold.PARTED for key in keys):
            for key in keys:
                held[key] = replace(held[key], hold=Hold.BAR)
    return held


def from_sheet(stock: Stock, job: Job) -> bool:
    """Whether a flat piece is cut from a sheet: one of its thickness and material lies in the shop."""
    return stock.section.shape == "flat" and any(
        abs(row.thickness - stock.section.thickness_mm) < 0.01 and row.material == stock.material
        for row in job.shop.sheet
    )


def is_axial(feature: Feature) -> bool:
    """Whether a feature lies about its blank's own axis, so that it is lathe work."""
    if isinstance(feature, Turned | Hole):
        axis = feature.axis
    else:
        return False
    return axis.along[1] == "x" and abs(axis.origin[1]) < 1e-9 and abs(axis.origin[2]) < 1e-9


def holding(member: Member, welded: bool, series: Series) -> Holding:
    """How a piece is held.

    member: the piece; welded: whether it goes into a weldment; series: of the design. A short turned
    piece is made on the end of a longer length and parted off; a long one whose middle stays as bought
    is faced at both ends first; a shaft that is finished after welding runs between centres.
    """
    stock = member.blank
    if not any(isinstance(feature, FacedLength) for feature in member.features):
        return Holding(Hold.ASIS, 0.0, 0.0)
    both_ends = 2 * facing_mm(series)
    if stock.section.shape not in ("round", "tube"):
        facing = 0.0 if stock.material == "HSS" else both_ends
        return Holding(Hold.VICE if facing else Hold.ASIS, facing, 0.0)
    turned = [f for f in member.features if is_axial(f) and isinstance(f, Turned)]
    covered = sum(f.end_mm - f.start_mm for f in turned if isinstance(f, TurnedDiameter))
    if not turned and not any(is_axial(f) for f in member.features):
        return Holding(Hold.CHUCK, both_ends, 0.0)
    if welded and covered < 0.5 * stock.length_mm:
        return Holding(Hold.CENTRES, both_ends, 0.0)
    if not welded and turned and covered < 0.7 * stock.length_mm and covered > 0:
        return Holding(Hold.CHUCK, both_ends, 0.0)
    grip = series.up(max(15.0, 0.7 * stock.section.width_mm), 1.0)
    return Holding(Hold.PARTED, both_ends, grip)
