"""The forces of a pass with the round-nosed tool."""

from __future__ import annotations

from planner.checking.strength.model import Load
from planner.sums.cutting import cutting_forces_N


def cutting_load(depth_mm: float, feed_mm: float, nose_mm: float, material_name: str) -> Load:
    """The forces of a pass: ``sums.cutting`` says how, and what it raises."""
    chip, *forces = cutting_forces_N(depth_mm, feed_mm, nose_mm, material_name)
    return Load(material_name, depth_mm, feed_mm, chip, *forces)
