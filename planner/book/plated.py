"""Work clamped to the faceplate, seen from the side: the plate, the angle plate, the straps, the cut.

Imported by book.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bodies import Body, View, way
from planner.book.cutting import tool
from planner.drawing import setup, setup_across, setup_tools
from planner.drawing.model import Item
from planner.drawing.sketch import At

Record = Mapping[str, Any]

ORIGIN = At((0.0, 0.0))

FOOT_MM = 30.0
"""So far an angle plate's foot is drawn from the work."""

STRAP_MM = 12.0
"""So wide a strap is drawn from its end."""

NOSE_MM = 8.0
"""So much of it on the work from its side."""


def on_faceplate(hold: Record, cuts: Sequence[Record], bodies: Sequence[Body]) -> Iterator[Item]:
    """The work on the plate with its spindle's line level, the tailstock to the right."""
    plate, along = hold["plate"], way(hold["axis"]["along"])
    over = [way(one["surface"].rpartition(".")[2]) for one in plate["straps"]]
    bolts = [bolt for one in plate["straps"] for bolt in one["bolts"]]
    beside = next(k for k in range(3) if k != along[0])
    if plate["angle_plate"]:
        across = over[0]
    else:  # the way from strap to strap
        at = [one["at"] for one in plate["straps"]]
        across = (
            max((k for k in range(3) if k != along[0]), key=lambda k: abs(at[0][k] - at[1][k])),
            1,
        )
    view = View(along, across)
    own = next((one for one in bodies if one.name == hold["rests"].rpartition(".")[0]), bodies[0])
    left, right = view.span(own, view.u)
    low, high = view.span(own, view.v)
    middle = across[1] * hold["axis"]["through"][across[0]]
    packing = float(plate["packing_mm"] or 0.0)
    ends = [abs(one[k] - hold["axis"]["through"][k]) for one in bolts for k in (across[0], beside)]
    face = left - packing
    half = 1.1 * max(*ends, high - middle, middle - low + FOOT_MM)
    yield from setup_across.faceplate(ORIGIN.moved(face, middle), 2 * half)
    if packing:
        thick = 0.2 * (high - low)
        for edge in (low, high - thick):
            turned = At((face, edge + thick), 1.0)
            yield from setup_across.packing(turned, packing, thick)
    yield from view.drawn(ORIGIN, bodies)
    grip = hold["grips"][0]
    front = max(along[1] * float(grip[key]) for key in ("from_mm", "to_mm"))
    if plate["angle_plate"]:
        under = At((face, low), 1.0, 0.0, flip=True)
        yield from setup_across.angle_plate(under, front - face, FOOT_MM)
        for one in plate["straps"]:
            u = along[1] * float(one["at"][along[0]])
            yield from setup_across.strap_across(ORIGIN.moved(u - STRAP_MM / 2, high), STRAP_MM)
    else:
        for edge, flip in ((high, True), (low, False)):
            turned = At((right, edge), 1.0, 90.0 if flip else -90.0, flip=flip)
            yield from setup_across.strap(turned, NOSE_MM, right - face)
    last = max(view.whole(bodies)[2], right)
    yield ORIGIN.path(((face - 14.0, middle), (last + 14.0, middle)), "centre")
    if hold["centre"]:
        hole = max(2.0, float(hold["centre"]["hole_mm"] or 4.0))
        yield from setup.centre(ORIGIN.moved(last, middle), hole, max(12.0, hole))
    turned_last = [cut for cut in cuts if cut["shape"] == "turn"]
    for cut in turned_last:
        a, c = sorted(along[1] * float(cut[key]) for key in ("from_mm", "to_mm"))
        for side in (1.0, -1.0):
            edge = middle + side * float(cut["after_mm"]) / 2
            yield ORIGIN.path(((a, edge), (c, edge)), "visible")
    if turned_last:
        cut = turned_last[-1]
        a, c = sorted(along[1] * float(cut[key]) for key in ("from_mm", "to_mm"))
        point = At(((a + c) / 2, middle - float(cut["after_mm"]) / 2), 1.0, 0.0, flip=True)
        yield from setup_tools.turning_tool(point, 8.0)
        return
    yield from tool(view, cuts, ORIGIN)
