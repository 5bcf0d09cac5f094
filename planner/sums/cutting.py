"""The forces of a round-nosed tool, by the size of its chip.

Imported by sizing, which lays the clamp's lever out for them, and by checking.strength.
"""

from __future__ import annotations

from math import acos, cos, radians, sin

from parts.standard.cutting_forces import (
    FEED_SHARE,
    LEAST_CHIP_MM,
    PASSIVE_SHARE,
    specific_force_MPa,
)
from parts.standard.materials import material
from parts.tool import INCLUDED_DEG


def cutting_forces_N(
    depth_mm: float, feed_mm: float, nose_mm: float, material_name: str
) -> tuple[float, float, float, float]:
    """Mean chip thickness in mm, then main, passive and feed force of a pass, N.

    depth_mm, feed_mm (per turn), nose_mm: above 0. The chip's area is depth times feed, its width the
    length of edge in the cut: the arc r acos(1 - a/r) up to where the nose runs into the side, then the
    side; its mean thickness is area over width. Passive and feed force are shares of the main force.
    """
    for name, value in (("depth", depth_mm), ("feed", feed_mm), ("nose radius", nose_mm)):
        if not 0.0 < value < 1e3:
            raise ValueError(f"{name} {value:g}: give a size above zero")
    side = radians(90.0 - INCLUDED_DEG / 2)  # of the cutting side to the surface that is turned
    round_mm = nose_mm * (1 - cos(side))
    if depth_mm <= round_mm:
        width = nose_mm * acos(1 - depth_mm / nose_mm)
    else:
        width = nose_mm * side + (depth_mm - round_mm) / sin(side)
    area = depth_mm * feed_mm
    chip = max(LEAST_CHIP_MM, area / width)
    main = specific_force_MPa(material(material_name).group, chip) * area
    return chip, main, PASSIVE_SHARE * main, FEED_SHARE * main
