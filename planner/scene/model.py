"""What a scene is: things with a mesh each, where they stand, what they move with. Plain data.

Frame: that of parts.placed, the ball's centre at the origin, x to the rear along the pivot, y up, z
away from the chuck. Lengths in millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from parts.frame import Frame, Point
from parts.placed import Carrier
from parts.value import Value

Points = NDArray[np.float64]
Indices = NDArray[np.int32]

Kind = Literal["part", "bought", "lathe", "work"]
"""A part that is made, an item that is bought, a body of the lathe, or the work in the chuck."""

SAME_MM = 1e-5
"""Points no farther apart are one."""

EDGE_DEG = 32.0
"""Two triangles that meet at more than this make an edge that is drawn: over what a round face turns
from triangle to triangle (planner.solids.mesh), under any chamfer."""


class Mesh(Value, frozen=True, eq=False):
    """A surface: points (n, 3), triangles of them (m, 3), and the edges to draw (k, 2)."""

    points: Points
    triangles: Indices
    edges: Indices


class Thing(Value, frozen=True, eq=False):
    """A body of the scene. Things that are alike share a mesh.

    name: unique in the scene; title: as a person calls it. frame, carrier: as of parts.placed.Placed.
    away: how far, and which way, it goes when the whole is taken apart, in the frame of the whole with
    the tip on top. solid: whether it is drawn filled; the blank about the ball is edges alone.
    """

    name: str
    title: str
    kind: Kind
    mesh: Mesh
    frame: Frame
    carrier: Carrier
    colour: tuple[float, float, float]
    away: Point = (0.0, 0.0, 0.0)
    solid: bool = True


class Scene(Value, frozen=True, eq=False):
    """Things, and the poses they may take: tip radius, mm, and swing, degrees, from least to most."""

    things: tuple[Thing, ...]
    tip_mm: tuple[float, float]
    swing_deg: tuple[float, float]


def by_matrix(points: Points, matrix: Sequence[Sequence[float]]) -> Points:
    """Points times a matrix of three rows, term by term: no library's order of adding, the same bits
    on every computer."""
    rows = [np.array(row, dtype=np.float64) for row in matrix]
    found: Points = points[:, 0:1] * rows[0] + points[:, 1:2] * rows[1] + points[:, 2:3] * rows[2]
    return found


def joined(points: Points, triangles: Indices) -> Mesh:
    """A mesh whose points of one place are one, with its edges found."""
    rounded = np.round(points / SAME_MM).astype(np.int64)
    _, first, back = np.unique(rounded, axis=0, return_index=True, return_inverse=True)
    order = np.argsort(first, kind="stable")  # as they came, so that the bytes are the same
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    found = rank[back.reshape(-1)][triangles].astype(np.int32)
    sound = (
        (found[:, 0] != found[:, 1]) & (found[:, 1] != found[:, 2]) & (found[:, 2] != found[:, 0])
    )
    found = found[sound]
    kept = points[first[order]]
    return Mesh(kept, found, _edges(kept, found))


def _edges(points: Points, triangles: Indices) -> Indices:
    """The lines where two triangles meet at an angle, or where there is one triangle alone."""
    corners = points[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    sides = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    owner = np.tile(np.arange(len(triangles)), 3)
    sides = np.sort(sides, axis=1)
    order = np.lexsort((owner, sides[:, 1], sides[:, 0]))
    sides, owner = sides[order], owner[order]
    change = np.any(sides[1:] != sides[:-1], axis=1)
    starts = np.concatenate([[0], np.flatnonzero(change) + 1])
    counts = np.diff(np.concatenate([starts, [len(sides)]]))
    dots = np.ones(len(starts))
    pairs = counts == 2
    one, other = owner[starts[pairs]], owner[starts[pairs] + 1]
    dots[pairs] = (normals[one] * normals[other]).sum(axis=1)
    sharp = (counts != 2) | (dots < np.cos(np.radians(EDGE_DEG)))
    found: Indices = sides[starts[sharp]].astype(np.int32)
    return found
