"""The tube, the shank and what joins them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from parts.housing import nut_reach_mm
from planner.sizing.requirements.model import Requirement, no_less, no_more

LEAST_WALL_MM = 3.0
"""Metal left round a bore that carries load (common practice)."""


BARS_REACH, BARS_ENDS_MM, SHALLOW_BORE = 4.5, 16.0, 3.0
"""Length of the housing over its bore, at most, less so much: a bar between centres, three quarters of
the bore and twelve times as long as it is thick, has the work pass on either side of its bit, beside
carrier and centres (common practice). So short a bore as the last, in diameters, is bored by any."""

LONGEST_SHANK = 10.0
"""Length of the shank behind the housing over its side, at most: turning tools are about six sides long
(ISO 5610: 100 mm for 16, 150 mm for 25; from memory)."""


def _wall_mm(s: Any) -> Any:
    return (s.tube_stock.width_mm - s.pivot_diameter_mm) / 2


def _wall_says(s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
    tube, bore = s.tube_stock, s.pivot_diameter_mm
    return (
        f"bore {mm(bore)} leaves a {mm(_wall_mm(s))} wall in {mm(tube.width_mm)} tube",
        f"needs {mm(LEAST_WALL_MM)}",
        f"Use {mm(bore + 2 * LEAST_WALL_MM)} tube or a bore of at most"
        f" {mm(tube.width_mm - 2 * LEAST_WALL_MM)}",
    )


def _tube_hole_mm(s: Any) -> Any:
    """The hole of a tube, 0 of a round bar."""
    wall = s.tube_stock.thickness_mm
    return np.where(np.asarray(wall) > 0, s.tube_stock.width_mm - 2 * wall, 0.0)


def _hole_says(s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
    return (
        f"the tube's hole is {mm(float(_tube_hole_mm(s)))}",
        f"must be under the bore, {mm(s.pivot_diameter_mm)}, to clean up",
        "Use a thicker wall or a larger pivot",
    )


def _bed_mm(s: Any) -> Any:
    """How much of the tube's flat beds on the shank; with a cheek between them, all that is needed."""
    radius = s.tube_stock.width_mm / 2
    flat = np.clip(s.shank_flat_mm, 0.0, radius)
    bed = np.sqrt(2 * radius * flat - flat**2) - (s.spindle_over_seat_mm - s.shank_stock.width_mm)
    return np.where(np.asarray(s.cheek_mm) > 0, LEAST_BED_MM, bed)


LEAST_BED_MM = 1.0
"""Width of the tube's flat on the shank, at least."""


def _bed_says(s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
    return (
        f"the shank's top lies {mm(s.spindle_over_seat_mm - s.shank_stock.width_mm)}"
        " below the bore's axis",
        f"the tube beds on it by {mm(max(float(_bed_mm(s)), 0.0))} only, needs {mm(LEAST_BED_MM)}",
        "Use a taller shank, pack it up, use a larger tube, or put a cheek between",
    )


def _cheek_height_mm(s: Any) -> Any:
    """The cheek's height; without one, all that is needed."""
    if s.cheek_stock is None:
        return s.spindle_over_seat_mm
    if hasattr(s.cheek_stock, "of"):
        return s.cheek_stock.of(lambda cheek: cheek.width_mm if cheek else np.inf)
    return s.cheek_stock.width_mm


def _cheek_says(s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
    return (
        f"cheek {mm(s.cheek_stock.width_mm)} high",
        f"must reach the axis, {mm(s.spindle_over_seat_mm)} over the seat",
        "Use a wider flat",
    )


def _shank_says(s: Any, mm: Callable[[float], str]) -> tuple[str, str, str]:
    limit = f"the tool post takes {mm(s.largest_shank_mm)}"
    return f"shank {mm(s.shank_stock.width_mm)}", limit, "Use a smaller square"


def _waist_mm(s: Any) -> Any:
    """What the shank keeps beside the pivot's nut."""
    relief = np.maximum(0.0, nut_reach_mm(s) - s.shank_inner_z_mm)
    return s.shank_stock.width_mm - relief


THROAT = 0.707
"""Of a weld's leg: the throat that the check counts its strength on (Shigley, 9-2; ISO 2553)."""

HOUSING: tuple[Requirement, ...] = (
    Requirement(
        "thin-wall",
        "tube_stock",
        "wall round the bore",
        _wall_mm,
        lambda s: LEAST_WALL_MM,
        "",
        says=_wall_says,
    ),
    Requirement(
        "tube-hole",
        "tube_stock",
        "the tube's hole",
        _tube_hole_mm,
        lambda s: s.pivot_diameter_mm - 0.2,
        "",
        most=True,
        says=_hole_says,
    ),
    Requirement(
        "shank-bed",
        "shank_stock",
        "bed of the tube on the shank",
        _bed_mm,
        lambda s: LEAST_BED_MM,
        "",
        says=_bed_says,
    ),
    Requirement(
        "cheek-height",
        "cheek_stock",
        "cheek",
        _cheek_height_mm,
        lambda s: s.spindle_over_seat_mm,
        "",
        says=_cheek_says,
    ),
    Requirement(
        "shank-size",
        "shank_stock",
        "shank",
        lambda s: s.shank_stock.width_mm,
        lambda s: s.largest_shank_mm,
        "",
        most=True,
        says=_shank_says,
    ),
    no_less(
        "thin-wall",
        "shank_flat",
        "metal between the bore and the shank's flat",
        lambda s: _wall_mm(s) - s.shank_flat_mm,
        lambda s: 1.5,
        "Mill the flat less deep",
    ),
    no_less(
        "too-small",
        "shank_stock",
        "shank beside the pivot's nut",
        _waist_mm,
        lambda s: s.shank_stock.width_mm / 3,
        "Use a larger shank or tube",
    ),
    no_less(
        "short-part",
        "housing_length",
        "housing",
        lambda s: s.housing_length_mm,
        lambda s: np.maximum(s.pivot_diameter_mm, 6.0),
        "Make it longer: a bearing shorter than its bore tilts",
    ),
    no_more(
        "too-large",
        "housing_length",
        "housing",
        lambda s: s.housing_length_mm,
        lambda s: np.maximum(
            SHALLOW_BORE * s.pivot_diameter_mm, BARS_REACH * s.pivot_diameter_mm - BARS_ENDS_MM
        ),
        "Make it shorter: so deep a bore is not bored true",
    ),
    no_more(
        "too-large",
        "shank_length",
        "shank behind the housing",
        lambda s: s.shank_length_mm - s.housing_length_mm,
        lambda s: LONGEST_SHANK * s.shank_stock.width_mm,
        "Make the shank shorter, or use a larger square: the handle swings behind its end",
    ),
    no_less(
        "short-part",
        "shank_length",
        "shank behind the housing",
        lambda s: s.shank_length_mm - s.housing_length_mm,
        lambda s: s.shank_stock.width_mm,
        "Make the shank longer: the tool post holds it there",
    ),
    no_more(
        "weld-leg",
        "weld_leg",
        "weld leg",
        lambda s: s.weld_leg_mm,
        lambda s: np.minimum(s.tube_stock.thinnest_mm, s.shank_stock.width_mm),
        "Make it no larger than what it is welded to",
    ),
    no_more(
        "weld-leg",
        "weld_leg",
        "weld leg",
        lambda s: s.weld_leg_mm,
        lambda s: np.where(np.asarray(s.cheek_mm) > 0, s.cheek_mm, np.inf),
        "Make it no larger than the cheek is thick",
    ),
    no_more(
        "weld-leg",
        "weld_leg",
        "weld leg",
        lambda s: s.weld_leg_mm,
        lambda s: np.minimum(s.block_stock.thinnest_mm, s.arm_stock.thinnest_mm),
        "Make it no larger than what it is welded to",
    ),
    no_less(
        "weld-leg",
        "weld_leg",
        "shaft's weld once it is faced flush",
        lambda s: s.weld_leg_mm - s.dressing_mm,
        lambda s: THROAT * s.weld_leg_mm,
        "Make it larger: what is faced off leaves less than its strength is counted on",
    ),
)
