"""How true surfaces lie to one another: figures that the sheets print and the error budget adds up.

One function each, so that a sheet and the budget cannot disagree. Imported by the parts, and by
planner.checking.budget.
"""

from __future__ import annotations

from parts.sizes import Sizes
from parts.standard.fits import SLIDING

FOOT_PLAY_MM = 0.03
"""Running clearance between the foot and the body's flat."""

LEAST_RUN_OUT_MM = 0.0127
"""What an indicator of half thousandths of an inch shows (common practice)."""

DIAL_READING = 0.25
"""Part of a division that a dial is read to (common practice)."""


def rod_square_mm(s: Sizes) -> float:
    """The rod bore out of square with the journal over its length: as much as its size may vary."""
    hole = s.series.hole(s.rod_diameter_mm, SLIDING)
    return hole.upper_mm - hole.lower_mm


def face_run_out_mm(s: Sizes, across_mm: float) -> float:
    """What a thrust face so far across may run out: it then leans no more than its play lets the pivot.

    The budget takes the pivot's clearance as shared out over the housing's length. In inches no less
    than the half thousandth that an indicator shows.
    """
    leans = s.pivot_play_mm * across_mm / s.housing_length_mm
    return max(leans, LEAST_RUN_OUT_MM) if s.series.inch else leans


def foot_true_mm(s: Sizes) -> float:
    """How true the foot's face and the body's flat each are: half of the clearance between them."""
    return s.series.limit(FOOT_PLAY_MM) / 2


def screw_face_mm(s: Sizes) -> float:
    """What a face that the feed screw turns on may run out: as much as a reading of its dial is off.

    In inches no less than the half thousandth that an indicator shows.
    """
    read = _dial_read_mm(s)
    return max(read, LEAST_RUN_OUT_MM) if s.series.inch else read


def dial_reading_mm(s: Sizes) -> float:
    """What a reading of the feed's dial may be off, either way: by eye, or by half of what the faces
    that its screw turns on run out."""
    return max(_dial_read_mm(s), screw_face_mm(s) / 2)


def _dial_read_mm(s: Sizes) -> float:
    return DIAL_READING * s.screw_pitch_mm / s.dial_divisions
