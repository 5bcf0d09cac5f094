"""The pivot shaft, its nut and its plain end."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.handle import handle_station_mm
from parts.pivot_nut import pellet_mm, spanner_deep_mm
from planner.sizing.requirements.model import (
    CLEAN_UP_MM,
    Requirement,
    major_mm,
    no_less,
    no_more,
    of_thread,
)
from planner.sums.columns import most

PIVOT: tuple[Requirement, ...] = (
    no_less(
        "too-small",
        "pivot_diameter",
        "pivot",
        lambda s: s.pivot_diameter_mm,
        lambda s: 6.0,
        "Use a thicker one",
    ),
    no_more(
        "too-large",
        "spigot_diameter",
        "spigot",
        lambda s: s.spigot_diameter_mm,
        lambda s: 120.0,
        "Use a thinner one: the tables of fits end there",
    ),
    no_less(
        "small-stock",
        "shaft_stock",
        "shaft bar",
        lambda s: s.shaft_stock.width_mm,
        lambda s: s.spigot_diameter_mm + CLEAN_UP_MM,
        "Use a thicker bar",
    ),
    no_less(
        "thin-wall",
        "spigot_diameter",
        "spigot over the pivot",
        lambda s: s.spigot_diameter_mm - s.pivot_diameter_mm,
        lambda s: 0.5,
        "Make the spigot thicker: all of the journal is turned after welding",
    ),
    no_less(
        "wont-pass",
        "pivot_thread",
        "pivot over its thread",
        lambda s: s.pivot_diameter_mm - major_mm(s.pivot_thread),
        lambda s: 0.3,
        "Use a smaller thread: it goes through the bore",
    ),
    no_less(
        "wont-pass",
        "pin_diameter",
        "pivot thread's root over the handle pin",
        lambda s: (
            of_thread(s.pivot_thread, lambda size: size.minor_external_mm) - s.pin_diameter_mm
        ),
        lambda s: 0.0,
        "Make the pin thinner: the nut passes over it",
    ),
    no_less(
        "thin-wall",
        "pin_diameter",
        "metal beside the handle's thread",
        lambda s: (s.pin_diameter_mm - major_mm(s.handle_thread)) / 2,
        lambda s: 1.5,
        "Use a smaller handle thread",
    ),
    no_less(
        "short-part",
        "shank_length",
        "plain shaft between the pivot's nut and the handle",
        lambda s: (
            handle_station_mm(s)
            - major_mm(s.handle_thread) / 2
            - s.housing_length_mm
            - s.thread_run_mm
        ),
        lambda s: 1.0,
        "Make the shank longer, or the housing shorter",
    ),
    no_more(
        "too-large",
        "shank_length",
        "shaft",
        lambda s: s.spigot_length_mm + handle_station_mm(s),
        lambda s: 1000.0,
        "Make shank or housing shorter",
    ),
)

LONGEST_NUT = 2.0
"""Length of a nut over its thread, at most: farther threads carry nothing (common practice)."""

WIDEST_NUT = 3.0
"""Diameter of the pivot's nut over its thread, at most: it turns beside the tool post."""

DEEPEST_LOCK = 3.5
"""A lock screw's hole is tapped no deeper than so many of its thread's diameters: with what the nut's
own tap drill leaves it comes to four, as deep as a hand tap goes (common practice)."""

LEAST_BEARING = 1.5
"""The nut's face stands on the housing round the bore by so much at least, mm: both their edges are
broken 0.3 and a turned rim is under its size by 0.2 (common practice)."""


def _spanner_hole_mm(s: Any) -> Any:
    """What parts.pivot_nut.spanner_hole_mm says, for columns too."""
    found = s.series.nearest(s.nut_diameter_mm / 8, 1.0)
    return np.clip(found, s.series.nominal(3.0), s.series.nominal(6.0))


def _lock_mm(s: Any) -> Any:
    """What the shortest lock screw on its pellet takes of the wall, with its edges inside the rim."""
    inside = major_mm(s.pivot_thread) / 2
    return np.hypot(inside + pellet_mm(s) + s.nut_screw_mm, major_mm(s.nut_screw) / 2) - inside


PIVOT_NUT: tuple[Requirement, ...] = (
    no_less(
        "thin-wall",
        "nut_diameter",
        "metal of the pivot's nut round its thread",
        lambda s: (s.nut_diameter_mm - major_mm(s.pivot_thread)) / 2,
        lambda s: most(_lock_mm(s), spanner_deep_mm(s) + _spanner_hole_mm(s) / 2 + 0.1),
        "Make the nut larger, or its lock screw smaller",
    ),
    no_less(
        "thin-wall",
        "nut_diameter",
        "what the pivot's nut bears on round the bore",
        lambda s: (s.nut_diameter_mm - s.pivot_diameter_mm) / 2,
        lambda s: LEAST_BEARING,
        "Make the nut larger: it would go into the bore",
    ),
    no_more(
        "too-large",
        "nut_diameter",
        "pivot's nut",
        lambda s: s.nut_diameter_mm,
        lambda s: WIDEST_NUT * major_mm(s.pivot_thread),
        "Make the nut smaller",
    ),
    no_more(
        "too-large",
        "nut_diameter",
        "wall of the pivot's nut that its lock screw is tapped through",
        lambda s: (s.nut_diameter_mm - major_mm(s.pivot_thread)) / 2,
        lambda s: DEEPEST_LOCK * major_mm(s.nut_screw),
        "Make the nut smaller, or its lock screw larger",
    ),
    no_less(
        "short-part",
        "nut_length",
        "pivot's nut beside the holes in its rim",
        lambda s: s.nut_length_mm - most(major_mm(s.nut_screw), _spanner_hole_mm(s)),
        lambda s: 2.0,
        "Make the nut longer, or its lock screw smaller",
    ),
    no_more(
        "too-large",
        "nut_length",
        "pivot's nut",
        lambda s: s.nut_length_mm,
        lambda s: LONGEST_NUT * major_mm(s.pivot_thread),
        "Make the nut shorter",
    ),
    no_less(
        "small-stock",
        "nut_stock",
        "bar of the pivot's nut",
        lambda s: s.nut_stock.width_mm,
        lambda s: s.nut_diameter_mm + CLEAN_UP_MM,
        "Use a thicker bar",
    ),
)
