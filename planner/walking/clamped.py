"""Whether the clamps stand clear of what is cut: none stands on a face that is milled all over.

Imported by planner.walking.reach.
"""

from __future__ import annotations

import numpy as np

from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.records import rows, text
from planner.walking.shape import Block
from planner.walking.surfaces import NoSurface, Plane, sides, surface

MILLED = ("mill", "shape")
"""What takes metal off a face by a tool that runs past its edges."""

TABLE = "clamps on the table"


def clamps_spared(do: Doing, held: Fixed) -> None:
    """On the face that the clamps press on something is left to press on. Raises Missing."""
    if held.by != TABLE or do.kind not in MILLED or held.up is None:
        return
    run = float(do.tool.get("diameter_mm") or 0.0) / 2
    for grip in rows(do.setup["hold"], "grips"):
        try:
            face = surface(do.piece, text(grip, "surface"))
        except NoSurface:
            continue
        if not isinstance(face, Plane) or face.along != held.up[0]:
            continue
        rising, falling = sides(do.piece.metal, face)
        looks_up = rising if held.up[1] > 0 else falling
        free = np.ones(len(looks_up), dtype=bool)
        for region in do.cut.regions:
            if isinstance(region, Block) and _reaches(region, face):
                across = [i for i in range(3) if i != face.along]
                low = np.asarray([region.low[i] - run for i in across])
                high = np.asarray([region.high[i] + run for i in across])
                on = looks_up[:, across]
                free &= ~((on > low) & (on < high)).all(axis=1)
        if len(looks_up) and not free.any():
            do.faults.refuse(
                "route-cut-in-grip",
                f"the clamps stand on {face.name}",
                "this cut takes all of that face",
                "Hold it by other faces: in a vice, or laid so that the cutter's side comes to the cut",
            )


def _reaches(region: Block, face: Plane) -> bool:
    """Whether what is cut away comes through a face."""
    return region.low[face.along] - 0.05 < face.at < region.high[face.along] + 0.05
