"""The parts as solids: features to shapes, volumes, STEP files, views. Alone loads the CAD kernel.

The kernel is imported inside functions, when the first solid is asked for: help, sizing, cut list
and route answer without it. Solids are nominal; limits of size live on the drawing.
"""

from planner.solids.build import (
    bought_solid,
    label,
    location,
    mass_kg,
    placement,
    solid,
    volume_mm3,
)
from planner.solids.cutters import TRUTH, cutters
from planner.solids.interference import Clash, clashes
from planner.solids.kernel import KernelMissing, kernel
from planner.solids.step import write_assembly_step, write_step

__all__ = [
    "TRUTH",
    "Clash",
    "clashes",
    "KernelMissing",
    "bought_solid",
    "cutters",
    "kernel",
    "label",
    "location",
    "mass_kg",
    "placement",
    "solid",
    "volume_mm3",
    "write_assembly_step",
    "write_step",
]
