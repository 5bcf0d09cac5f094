"""How true surfaces lie to one another: figures that the sheets print and the error budget adds up.

One function each, so that a sheet and the budget cannot disagree. Imported by the parts, and by
planner.checking.budget and planner.making.asmade.
"""

from __future__ import annotations

from parts.sizes import Sizes
from parts.standard.fits import SLIDING
from parts.standard.materials import material

FOOT_PLAY_MM = 0.03
"""Running clearance between the foot and the body's flat."""

LEAST_PLAY_MM = 0.003
"""Least play of a shaft turned to its bore (common practice: size for size it does not go in)."""

DIAL_READING = 0.25
"""Part of a division that a dial is read to (common practice)."""


def polished_by(name: str) -> str:
    """What takes the last off a running shaft: grit stays in aluminium (common practice)."""
    cloth = "crocus cloth" if material(name).group == "aluminium" else "fine emery"
    return f"the last of it by {cloth} held by its ends"


def rod_square_mm(s: Sizes) -> float:
    """The rod bore out of square with the journal over its length: as much as its size may vary."""
    hole = s.series.hole(s.rod_diameter_mm, SLIDING)
    return hole.upper_mm - hole.lower_mm


def face_run_out_mm(s: Sizes, across_mm: float) -> float:
    """What a thrust face so far across may run out: it then leans no more than its play lets the pivot.

    The budget takes the pivot's clearance as shared out over the housing's length.
    """
    return s.pivot_play_mm * across_mm / s.housing_length_mm


def foot_true_mm(s: Sizes) -> float:
    """How true the foot's face and the body's flat each are: half of the clearance between them."""
    return s.series.limit(FOOT_PLAY_MM) / 2


def dial_reading_mm(s: Sizes) -> float:
    """What a reading of the feed's dial may be off; a face that its screw turns on runs out no more."""
    return DIAL_READING * s.screw_pitch_mm / s.dial_divisions
