"""The rod, the clamp that holds it, and the slits that make it one."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.clamp import ENGAGED
from parts.lever import arm_mm
from parts.standard.fasteners import clearance_hole_mm, washer
from parts.standard.threads import ThreadSize
from planner.sizing.requirements.model import (
    CLEAN_UP_MM,
    Requirement,
    major_mm,
    no_less,
    no_more,
    of_thread,
)
from planner.sums.columns import most

SLENDER_LEVER, PARTED_MM = 10.0, 5.0
"""The lever is turned all along between chuck and centre: so many times its arm is thick, beside
what is faced, parted off and kept clear of the jaws (common practice)."""


def longest_lever_mm(s: Any) -> Any:
    """From the stud to the lever's end, at most: as slender as chuck and centre carry while it is
    turned."""
    return SLENDER_LEVER * arm_mm(s) - s.lever_boss_mm / 2 - PARTED_MM


LEAST_LEVER_MM = 20.0
"""Two fingers find no hold on a shorter lever (common practice)."""

LEAST_METAL_MM = 1.0
"""Metal between two holes below which a drill runs from one into the other (common practice)."""


def _hole_mm(s: Any) -> Any:
    """The clearance hole of the clamp's stud."""
    return of_thread(s.clamp_screw, lambda size: clearance_hole_mm(size.designation))


def _washer_mm(size: ThreadSize) -> float:
    return washer(size.designation).thickness_mm


def _outside_mm(size: ThreadSize) -> float:
    return washer(size.designation).outside_mm


def _between_mm(s: Any) -> Any:
    """From the rod's axis to the stud's."""
    return s.rod_from_front_mm - s.clamp_screw_from_front_mm


def _stud_out_mm(s: Any) -> Any:
    """From the middle of the clamp's slit to the stud's outer end, at the lever's outside."""
    return -s.leaf_z_mm + of_thread(s.clamp_screw, _washer_mm) + s.lever_height_mm


def _drilled_mm(s: Any) -> Any:
    """How deep the stud's tap drill goes past the rod's axis, at most.

    As parts.clamp has it: the stud is cut to a whole millimetre or a sixteenth of an inch; two turns
    past its end in half millimetres or 64ths, and the lead of the tap beyond.
    """
    pitch = of_thread(s.clamp_screw, lambda size: size.pitch_mm)
    step, out = s.series.step_mm, _stud_out_mm(s)
    least = out + s.slit_width_mm / 2 + ENGAGED * major_mm(s.clamp_screw)
    past = np.ceil(np.round(least / step, 6)) * step - out
    lead = of_thread(s.clamp_screw, lambda size: size.tap_lead_mm)
    return s.series.up(past + 2 * pitch, 0.5) + lead


CLAMP: tuple[Requirement, ...] = (
    no_less(
        "too-small",
        "rod_diameter",
        "rod",
        lambda s: s.rod_diameter_mm,
        lambda s: 8.0,
        "A thinner one leaves its spigot no shoulder",
    ),
    no_more(
        "too-large",
        "rod_diameter",
        "rod",
        lambda s: s.rod_diameter_mm,
        lambda s: 100.0,
        "Use a thinner one",
    ),
    no_less(
        "small-stock",
        "rod_stock",
        "rod bar",
        lambda s: s.rod_stock.width_mm,
        lambda s: s.rod_diameter_mm + CLEAN_UP_MM,
        "Use a thicker bar",
    ),
    no_less(
        "thin-wall",
        "leaf_thickness",
        "clamp leaf",
        lambda s: s.leaf_thickness_mm,
        lambda s: 3.0,
        "Make the leaf thicker",
    ),
    no_less(
        "thin-wall",
        "hinge",
        "least metal of the hinge",
        lambda s: s.hinge_least_mm,
        lambda s: 1.0,
        "A thinner one tears when the clamp is closed",
    ),
    no_less(
        "thin-wall",
        "hinge",
        "slit behind the rod for the hinge",
        lambda s: s.hinge_z_mm - s.leaf_z_mm,
        lambda s: 2.0,
        "Make the leaf thicker or the hinge thinner",
    ),
    no_less(
        "too-small",
        "slit_width",
        "slit",
        lambda s: s.slit_width_mm,
        lambda s: 0.5,
        "Give a saw's width",
    ),
    no_more(
        "too-large",
        "slit_width",
        "slit",
        lambda s: s.slit_width_mm,
        lambda s: s.rod_diameter_mm / 4,
        "Use a thinner saw",
    ),
    no_less(
        "thin-wall",
        "clamp_screw_from_front",
        "metal in front of the clamp stud",
        lambda s: s.clamp_screw_from_front_mm - _hole_mm(s) / 2,
        lambda s: LEAST_METAL_MM,
        "Move the stud back",
    ),
    no_less(
        "thin-wall",
        "rod_from_front",
        "metal between the clamp stud and the rod",
        lambda s: _between_mm(s) - _hole_mm(s) / 2 - s.rod_diameter_mm / 2,
        lambda s: LEAST_METAL_MM,
        "Move the rod back",
    ),
    no_more(
        "too-large",
        "rod_from_front",
        "from the clamp stud to the rod",
        lambda s: _between_mm(s),
        lambda s: 1.5 * s.rod_diameter_mm,
        "Move the rod forward: a long leaf bends and does not grip",
    ),
    no_less(
        "thin-wall",
        "clamp_screw",
        "metal between the clamp stud and the feed screw",
        lambda s: (
            _between_mm(s) - major_mm(s.clamp_screw) / 2 - s.feed_journal_diameter_mm / 2 - 0.1
        ),
        lambda s: LEAST_METAL_MM,
        "Use a smaller stud",
    ),
    no_less(
        "too-small",
        "clamp_screw_from_front",
        "from the stud to the block's front",
        lambda s: s.clamp_screw_from_front_mm,
        lambda s: most(of_thread(s.clamp_screw, _outside_mm), s.lever_boss_mm) / 2,
        "Move the stud back: its washer or its lever would stand out toward the blank",
    ),
    no_less(
        "thin-wall",
        "lever_boss",
        "metal round the thread of the clamp's lever",
        lambda s: (s.lever_boss_mm - major_mm(s.clamp_screw)) / 2,
        lambda s: 0.3 * major_mm(s.clamp_screw),
        "Make the boss thicker",
    ),
    no_more(
        "too-large",
        "lever_boss",
        "boss of the clamp's lever",
        lambda s: s.lever_boss_mm,
        lambda s: 4 * major_mm(s.clamp_screw),
        "Make the boss thinner",
    ),
    no_less(
        "small-stock",
        "lever_stock",
        "the clamp lever's bar",
        lambda s: s.lever_stock.width_mm,
        lambda s: s.lever_boss_mm + CLEAN_UP_MM,
        "Use a thicker bar",
    ),
    no_less(
        "too-small",
        "lever_length",
        "clamp lever",
        lambda s: s.lever_length_mm,
        lambda s: most(LEAST_LEVER_MM, 1.5 * s.lever_boss_mm + 3.0),
        "Make it longer: no hand holds it",
    ),
    no_more(
        "too-large",
        "lever_length",
        "clamp lever",
        lambda s: s.lever_length_mm,
        longest_lever_mm,
        "Make it shorter, or its boss thicker: chuck and centre do not carry it",
    ),
    no_more(
        "thin-wall",
        "clamp_screw",
        "the clamp stud's tap drill",
        _drilled_mm,
        lambda s: s.flat_offset_mm - LEAST_METAL_MM,
        "Use a smaller stud, or move the foot out",
    ),
)
