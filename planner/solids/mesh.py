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
    return _triangles(shape)


def _triangles(shape: Any) -> tuple[NDArray[np.float64], NDArray[np.int32]]:
    """A shape's mesh, face by face; what cadquery's tessellate gives, without an object a point."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.BRepTools import BRepTools
    from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS

    BRepTools.Clean_s(shape.wrapped)  # a finer mesh of another's would be kept
    BRepMesh_IncrementalMesh(shape.wrapped, CHORD_MM, True, TURN_RAD, False)
    points: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    walk = TopExp_Explorer(shape.wrapped, TopAbs_FACE)
    while walk.More():
        face = TopoDS.Face_s(walk.Current())
        walk.Next()
        place = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(face, place)
        if mesh is None:
            continue
        first = len(points) - 1  # the kernel counts from 1
        move = place.Transformation()
        nodes = (mesh.Node(k) for k in range(1, mesh.NbNodes() + 1))
        points += [node.Transformed(move).Coord() for node in nodes]
        corners = (mesh.Triangle(k).Get() for k in range(1, mesh.NbTriangles() + 1))
        if face.Orientation() == TopAbs_REVERSED:
            triangles += [(a + first, c + first, b + first) for a, b, c in corners]
        else:
            triangles += [(a + first, b + first, c + first) for a, b, c in corners]
    return (
        np.array(points, dtype=np.float64).reshape(-1, 3),
        np.array(triangles, dtype=np.int32).reshape(-1, 3),
    )
