"""The rod, the clamp that holds it, and the slits that make it one."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.makeable import TAP_LEAD_PITCHES
from parts.standard.fasteners import clearance_hole_mm, screw_lengths_mm, washer
from parts.standard.threads import ThreadSize
from planner.sizing.requirements.model import (
    CLEAN_UP_MM,
    Requirement,
    major_mm,
    no_less,
    no_more,
    of_thread,
)

LEAST_METAL_MM = 1.0
"""Metal between two holes below which a drill runs from one into the other (common practice)."""


def _hole_mm(s: Any) -> Any:
    """The clearance hole of the clamp screw."""
    return of_thread(s.clamp_screw, lambda size: clearance_hole_mm(size.designation))


def _washer_mm(size: ThreadSize) -> float:
    return washer(size.designation).thickness_mm


def _between_mm(s: Any) -> Any:
    """From the rod's axis to the clamp screw's."""
    return s.rod_from_front_mm - s.clamp_screw_from_front_mm


def _least_screw_mm(s: Any) -> Any:
    """The clamp screw's least length: through washer and leaf, a diameter past the slit."""
    ring = of_thread(s.clamp_screw, _washer_mm)
    return -s.leaf_z_mm + s.slit_width_mm / 2 + ring + major_mm(s.clamp_screw)


def _drilled_mm(s: Any) -> Any:
    """How deep the clamp screw's tap drill goes past the rod's axis, at most.

    As parts.clamp has it: two turns past the screw's end or one and a half diameters, in half
    millimetres, and three pitches of drill point beyond.
    """
    pitch = of_thread(s.clamp_screw, lambda size: size.pitch_mm)
    inch = of_thread(s.clamp_screw, lambda size: float(size.system == "unified"))
    least = np.atleast_1d(np.asarray(_least_screw_mm(s), dtype=float))
    stocked = [np.array([*screw_lengths_mm(unified), np.inf]) for unified in (False, True)]
    found = [
        table[np.searchsorted(table, least - 1e-6).clip(max=len(table) - 1)] for table in stocked
    ]
    length = np.where(np.asarray(inch) > 0, found[1], found[0])
    past = length - of_thread(s.clamp_screw, _washer_mm) + s.leaf_z_mm
    deep = np.maximum(1.5 * major_mm(s.clamp_screw), past + 2 * pitch)
    deepest = np.ceil(2 * deep - 1e-6) / 2 + TAP_LEAD_PITCHES * pitch
    return deepest if len(deepest) > 1 else float(deepest[0])


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
        "hinge",
        lambda s: s.hinge_mm,
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
        "metal in front of the clamp screw",
        lambda s: s.clamp_screw_from_front_mm - _hole_mm(s) / 2,
        lambda s: LEAST_METAL_MM,
        "Move the screw back",
    ),
    no_less(
        "thin-wall",
        "rod_from_front",
        "metal between the clamp screw and the rod",
        lambda s: _between_mm(s) - _hole_mm(s) / 2 - s.rod_diameter_mm / 2,
        lambda s: LEAST_METAL_MM,
        "Move the rod back",
    ),
    no_more(
        "too-large",
        "rod_from_front",
        "from the clamp screw to the rod",
        lambda s: _between_mm(s),
        lambda s: 1.5 * s.rod_diameter_mm,
        "Move the rod forward: a long leaf bends and does not grip",
    ),
    no_less(
        "thin-wall",
        "clamp_screw",
        "metal between the clamp screw and the feed screw",
        lambda s: (
            _between_mm(s) - major_mm(s.clamp_screw) / 2 - s.feed_journal_diameter_mm / 2 - 0.1
        ),
        lambda s: LEAST_METAL_MM,
        "Use a smaller clamp screw",
    ),
    no_more(
        "too-large",
        "leaf_thickness",
        "clamp screw through leaf and slit",
        _least_screw_mm,
        lambda s: of_thread(
            s.clamp_screw, lambda size: max(screw_lengths_mm(size.system == "unified"))
        ),
        "Make the leaf thinner",
    ),
    no_more(
        "thin-wall",
        "clamp_screw",
        "the clamp screw's tap drill",
        _drilled_mm,
        lambda s: s.flat_offset_mm - LEAST_METAL_MM,
        "Use a smaller screw, or move the foot out",
    ),
)
