"""The scene of an attachment: every thing in its place, and round it the lathe with one ball's work.

Imported by planner.output (the page's data and the pictures). ``scene`` loads the CAD kernel.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

import numpy as np

from parts.attachment import Attachment
from parts.frame import Frame
from parts.part import Bought, Part
from parts.value import Value
from planner.job.tables import Job
from planner.scene.bodies import Work, lathe_things
from planner.scene.model import Mesh, Points, Scene, Thing, by_matrix, joined
from planner.solids.apart import apart
from planner.solids.mesh import mesh

BOUGHT_GREY = (0.55, 0.57, 0.60)
"""Colour of everything bought."""


class Sweep(Value, frozen=True):
    """How the tip goes over one ball, degrees from its nose, and where the tool post then stands: its
    middle from the ball's centre along the bed, mm."""

    start_deg: float
    end_deg: float
    post_z_mm: float


def scene(attachment: Attachment, called: Callable[[Bought], str]) -> Scene:
    """The attachment alone, its things movable from the smallest to the largest tip radius.

    called: what a bought item is called, as the list of what to buy has it.
    """
    meshes: dict[Bought | int, Mesh] = {}
    made: list[tuple[Mesh, str]] = []
    names: dict[str, int] = {}
    for placed in attachment.placed:
        key = placed.item if isinstance(placed.item, Bought) else id(placed.item)
        if key not in meshes:
            meshes[key] = joined(*mesh(placed.item))
        names[placed.name] = names.get(placed.name, 0) + 1
        again = names[placed.name]
        made.append((meshes[key], placed.name if again == 1 else f"{placed.name} ({again})"))
    away = apart(attachment.placed, attachment.sizes.tip_radius_min_mm)
    things = tuple(
        Thing(
            name,
            placed.item.title if isinstance(placed.item, Part) else _bought(placed.item, called),
            "part" if isinstance(placed.item, Part) else "bought",
            one,
            placed.frame,
            placed.carrier,
            placed.item.colour if isinstance(placed.item, Part) else BOUGHT_GREY,
            way,
        )
        for (one, name), placed, way in zip(made, attachment.placed, away, strict=True)
    )
    sizes = attachment.sizes
    return Scene(things, (sizes.tip_radius_min_mm, sizes.tip_radius_max_mm), (0.0, 180.0))


def lathe_scene(alone: Scene, attachment: Attachment, job: Job, work: Work, sweep: Sweep) -> Scene:
    """The same on the lathe, with the work of one ball, free to swing through that ball's sweep."""
    more = tuple(lathe_things(attachment.sizes, job, work, sweep.post_z_mm))
    least = work.ball_mm / 2
    most = min(max(hypot(least, work.blank_mm / 2), least), alone.tip_mm[1])
    return Scene(
        (*alone.things, *more), (least, max(least, most)), (sweep.start_deg, sweep.end_deg)
    )


def placed_points(points: Points, frame: Frame) -> Points:
    """Points of a frame in its parent."""
    found: Points = by_matrix(points, frame.directions()) + np.array(frame.origin)
    return found


def _bought(item: Bought, called: Callable[[Bought], str]) -> str:
    """What a bought item is called, and what it is for."""
    name = called(item)
    return f"{name[0].upper()}{name[1:]}: {item.use}"
