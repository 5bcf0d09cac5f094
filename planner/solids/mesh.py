"""Solids as triangles, for pictures and the page: plain arrays, the same every time.

Imported by planner.scene alone. Without engraving: lines of a tenth of a millimetre make many triangles
and show on no screen.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.part import Bought, Part
from planner.solids.build import bought_solid, solid

CHORD_MM, TURN_RAD = 0.15, 0.4
"""How far a triangle may lie off its face, and how much the face may turn along it."""


def mesh(item: Part | Bought) -> tuple[NDArray[np.float64], NDArray[np.int32]]:
    """The surface of a part or bought item in its own frame: points, mm, (n, 3), and triangles of
    them, (m, 3), each counter-clockwise from outside. Points of one place stand once a face.
    """
    shared = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
    shape: Any = shared.copy()  # a mesh leaves traces in a shape, and this one is written to files
    points, triangles = shape.tessellate(CHORD_MM, TURN_RAD)
    return (
        np.array([point.toTuple() for point in points], dtype=np.float64).reshape(-1, 3),
        np.array(triangles, dtype=np.int32).reshape(-1, 3),
    )
