"""The PNG pictures of an attachment: alone, taken apart, on the lathe, and through a ball's sweep.

Imported by planner.output.files and the documentation. Light fills and black edges, so that they print
in black and white too.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin
from typing import NamedTuple

import numpy as np

from parts.frame import Point
from parts.placed import Carrier
from planner.scene.model import Points, Scene, Thing, by_matrix
from planner.scene.png import png
from planner.scene.render import Drawn, render
from planner.scene.scene import placed_points

FROM_FRONT: Point = (-0.78, 0.52, 0.72)
"""Where the eye stands: with the operator, above, toward the tailstock."""

FROM_REAR: Point = (0.85, 0.5, 0.75)
"""The same behind the lathe, from where the tip is seen at the ball."""

WIDTH, HEIGHT = 1000, 750


class Shot(NamedTuple):
    """A picture: its name, what it shows, and what draws it."""

    name: str
    what: str
    draw: Callable[[], bytes]


def shots(alone: Scene, on_lathe: Scene) -> tuple[Shot, ...]:
    """The pictures of a package: alone, apart, and three of the sweep, begun, at the top and ended."""
    start, end = on_lathe.swing_deg
    tip = on_lathe.tip_mm[0]
    middle = alone.tip_mm[0] + 0.6 * (alone.tip_mm[1] - alone.tip_mm[0])

    def shot(
        one: Scene, tip_mm: float, swing_deg: float, out: float = 0.0, towards: Point = FROM_FRONT
    ) -> Callable[[], bytes]:
        return lambda: picture(one, tip_mm, swing_deg, out, towards)

    found = [
        Shot("attachment-alone", "the attachment by itself", shot(alone, middle, 118.0)),
        Shot("attachment-apart", "the attachment taken apart", shot(alone, middle, 90.0, 1.0)),
    ]
    for name, words, swing in (
        ("start", "at the nose", start),
        ("top", "on top of the ball", min(90.0, end)),
        ("end", "at the end of its sweep", end),
    ):
        what = f"the attachment on the lathe, the tip {words}"
        found.append(
            Shot(f"attachment-sweep-{name}", what, shot(on_lathe, tip, swing, 0.0, FROM_REAR))
        )
    return tuple(found)


def picture(
    one: Scene, tip_mm: float, swing_deg: float, out: float = 0.0, towards: Point = FROM_FRONT
) -> bytes:
    """A scene in a pose as PNG. out: how far taken apart, 0 to 1; towards: from it to the eye."""
    bodies = [drawn(thing, tip_mm, swing_deg, out) for thing in one.things]
    return png(render(bodies, towards, WIDTH, HEIGHT))


def drawn(thing: Thing, tip_mm: float, swing_deg: float, out: float) -> Drawn:
    """A thing in a pose."""
    points = placed_points(thing.mesh.points, thing.frame) + out * np.array(thing.away)
    points = posed(points, thing.carrier, tip_mm, swing_deg)
    return Drawn(points, thing.mesh.triangles, thing.mesh.edges, thing.colour, thing.solid)


def posed(points: Points, carrier: Carrier, tip_mm: float, swing_deg: float) -> Points:
    """What parts.placed.in_pose says of one point, of many."""
    if carrier is Carrier.POST:
        return points
    moved = points + np.array([0.0, tip_mm if carrier is Carrier.HEAD else 0.0, 0.0])
    turn = radians(90.0 - swing_deg)
    c, s = cos(turn), sin(turn)
    return by_matrix(moved, ((1.0, 0.0, 0.0), (0.0, c, s), (0.0, -s, c)))
