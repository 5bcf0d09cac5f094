"""How each piece of stock is held while it is worked, and what that adds to its length.

The cut list takes the allowances from here and the route takes the holding, so they cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from parts.features import FacedLength, Feature, Hole, Turned, TurnedDiameter
from parts.part import Member

FACING_MM = 1.0
"""Left on each sawn end to face (common practice: 1 mm after a bandsaw, a little more by hand)."""


class Hold(StrEnum):
    """The ways a piece is held."""

    PARTED = "chuck, on a spare grip that is parted off last"
    CENTRES = "between centres"
    CHUCK = "chuck, both ends faced first"
    VICE = "vice"
    ASIS = "as bought"


@dataclass(frozen=True)
class Holding:
    """How one piece is held; facing_mm both ends together, grip_mm the spare length to hold by."""

    hold: Hold
    facing_mm: float
    grip_mm: float


def is_axial(feature: Feature) -> bool:
    """Whether a feature lies about its blank's own axis, so that it is lathe work."""
    if isinstance(feature, Turned | Hole):
        axis = feature.axis
    else:
        return False
    return axis.along[1] == "x" and abs(axis.origin[1]) < 1e-9 and abs(axis.origin[2]) < 1e-9


def holding(member: Member, welded: bool) -> Holding:
    """How a piece is held.

    member: the piece; welded: whether it goes into a weldment. A short turned piece is made on the
    end of a longer length and parted off; a long one whose middle stays as bought is faced at both
    ends first; a shaft that is finished after welding runs between centres.
    """
    stock = member.blank
    if not any(isinstance(feature, FacedLength) for feature in member.features):
        return Holding(Hold.ASIS, 0.0, 0.0)
    if stock.section.shape not in ("round", "tube"):
        facing = 0.0 if stock.material == "HSS" else 2 * FACING_MM
        return Holding(Hold.VICE if facing else Hold.ASIS, facing, 0.0)
    turned = [f for f in member.features if is_axial(f) and isinstance(f, Turned)]
    covered = sum(f.end_mm - f.start_mm for f in turned if isinstance(f, TurnedDiameter))
    if not turned and not any(is_axial(f) for f in member.features):
        return Holding(Hold.CHUCK, 2 * FACING_MM, 0.0)
    if welded and covered < 0.5 * stock.length_mm:
        return Holding(Hold.CENTRES, 2 * FACING_MM, 0.0)
    if not welded and turned and covered < 0.7 * stock.length_mm and covered > 0:
        return Holding(Hold.CHUCK, 2 * FACING_MM, 0.0)
    grip = float(ceil(max(15.0, 0.7 * stock.section.width_mm)))
    return Holding(Hold.PARTED, 2 * FACING_MM, grip)
