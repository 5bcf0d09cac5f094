"""A scene as plain data: points in whole steps of sixteen bits, in base64, so that it is small.

What the page's pose.js unpacks; a test compares the two. Imported by planner.output.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from typing import Any

import numpy as np

from planner.scene import Mesh, Scene, Thing

STEPS = 65535
"""The greatest whole number of sixteen bits: a mesh's longest side has so many steps at most."""

FINEST_MM = 0.002
"""No step is finer: nobody sees it."""


def packed(alone: Scene, on_lathe: Sequence[tuple[str, Scene]]) -> dict[str, Any]:
    """The attachment alone, and by a title each the same on the lathe with one ball's work.

    Raises ValueError for a mesh of more points than sixteen bits number.
    """
    meshes: list[dict[str, Any]] = []
    numbers: dict[int, int] = {}
    kept = {thing.name for thing in alone.things}

    def thing_of(thing: Thing) -> dict[str, Any]:
        if id(thing.mesh) not in numbers:
            numbers[id(thing.mesh)] = len(meshes)
            meshes.append(_mesh(thing.mesh))
        return {
            "name": thing.name,
            "title": thing.title,
            "kind": thing.kind,
            "mesh": numbers[id(thing.mesh)],
            "origin": [_short(value) for value in thing.frame.origin],
            "axes": [list(one) for one in thing.frame.directions()],
            "carrier": thing.carrier.value,
            "colour": [round(share, 3) for share in thing.colour],
            "away": [_short(value) for value in thing.away],
            "solid": thing.solid,
        }

    def poses(scene: Scene) -> dict[str, Any]:
        return {
            "tip_mm": [_short(value) for value in scene.tip_mm],
            "swing_deg": [_short(value) for value in scene.swing_deg],
        }

    things = [thing_of(one) for one in alone.things]
    balls = []
    for title, one in on_lathe:
        more = [thing_of(thing) for thing in one.things if thing.name not in kept]
        balls.append({"title": title, **poses(one), "things": more})
    return {"meshes": meshes, "things": things, **poses(alone), "balls": balls}


def _short(value: float) -> float:
    return round(value, 6) + 0.0


def _mesh(mesh: Mesh) -> dict[str, Any]:
    if len(mesh.points) > STEPS:
        raise ValueError(f"a mesh of {len(mesh.points)} points; sixteen bits number {STEPS}")
    low, high = mesh.points.min(axis=0), mesh.points.max(axis=0)
    low = np.round(low, 4)
    step = max(FINEST_MM, float(np.ceil((high - low).max() / STEPS * 1e6)) / 1e6)
    whole = np.rint((mesh.points - low) / step).astype("<u2")
    return {
        "low": [_short(float(value)) for value in low],
        "high": [_short(float(value)) for value in high],
        "step": step,
        "points": _packed(whole),
        "triangles": _packed(mesh.triangles.astype("<u2")),
        "edges": _packed(mesh.edges.astype("<u2")),
    }


def _packed(numbers: Any) -> str:
    return b64encode(numbers.tobytes()).decode("ascii")
