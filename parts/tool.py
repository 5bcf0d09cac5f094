"""The cutting tool: a square bit ground to a rounded point.

Frame: origin at the middle of the cutting end, x along the bit away from the work; the +z face is
the rake face and lies in the tip plane.
"""

from __future__ import annotations

from parts.features import GroundPoint
from parts.part import Datum, Part, Stock
from parts.sizes import Sizes
from parts.standard.series import Series

INCLUDED_DEG = 38.0
"""Angle between the two cutting sides. Half of it is less than the 20.5 degrees (the angle whose sine
is 0.35) at which the usual stem leaves the ball, so that the side stays off the stem at the neck."""


PROUD_MM = 2.0
"""The bit stands out of the arm's back by so much, to push on (common practice)."""


def bit_length_mm(s: Sizes) -> float:
    """Through the arm, out to the tip, and 2 mm proud at the back to push on."""
    return s.bit_stickout_mm + s.arm_stock.height_mm + s.series.nominal(PROUD_MM)


def nose_radius_mm(s: Sizes) -> float:
    """Radius of the ground nose of the attachment's bit."""
    return nose_radius_of_mm(s.bit_stock.width_mm, s.series)


def nose_radius_of_mm(bit_mm: float, series: Series) -> float:
    """Radius of the nose of a bit so wide: a twelfth of it, at least 0.4 mm or 1/64 in."""
    return series.nearest(max(0.4, bit_mm / 12), 0.1)


def tool_bit(s: Sizes) -> Part:
    """The tool bit for the given sizes."""
    length = bit_length_mm(s)
    return Part(
        name="tool-bit",
        title="Tool bit",
        colour=(0.85, 0.80, 0.45),
        blank=Stock(s.bit_stock, length, s.tool_material),
        features=(
            GroundPoint(
                name="point",
                datum="A",
                nose_radius_mm=nose_radius_mm(s),
                included_deg=INCLUDED_DEG,
                clearance_deg=8.0,
                tip=(0.0, 0.0, s.bit_stock.width_mm / 2),
                note="cuts both ways round the ball; the point lies on the bit's centre line",
            ),
        ),
        datums={
            "A": Datum("blank", "z-high", "rake face"),
            "B": Datum("point", "tip", "the tip, on the bit's centre line"),
        },
    )
