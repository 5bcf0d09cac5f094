"""A slit under its saw: over the edge of a mill's table, and on the cross slide under the arbor.

Imported by book.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bodies import Body, View, way
from planner.book.cutting import tool
from planner.drawing import setup, setup_across
from planner.drawing.model import Item
from planner.drawing.sketch import At, box

Record = Mapping[str, Any]

ORIGIN = At((0.0, 0.0))
TABLE_MM = 90.0
"""So much of the table is drawn, for looks alone."""

ARBOR = 0.13
"""Half of an arbor's thickness over its saw's diameter, for looks alone."""


def at_the_edge(hold: Record, cut: Record, own: Body, bodies: Sequence[Body]) -> Iterator[Item]:
    """The open side to the right, over the table's edge; what is longer hangs down beside it."""
    inward, up = way(cut["depth"]), way(hold["up"])
    view = View((inward[0], -inward[1]), up)
    a, b = view.span(own, view.u)
    low, top = view.span(own, view.v)
    hung = [view.span(one, view.u)[0] for one in bodies if view.span(one, view.v)[0] < low - 0.5]
    edge = min([*hung, (a + b) / 2]) - 1.0
    yield from setup.table(ORIGIN.moved(edge - TABLE_MM, low), TABLE_MM, 2)
    yield from view.drawn(ORIGIN, bodies)
    back = At((a, top), 1.0, 180.0, flip=True)
    yield from setup_across.strap(back, min(8.0, 0.5 * (edge - a)), top - low)
    yield from tool(view, [cut], ORIGIN)
    left, under, _, over = view.rect(*cut["box"])
    said = cut.get("tool") or {}
    size, out = float(said.get("diameter_mm") or 60.0), float(said.get("reach_mm") or 30.0)
    yield ORIGIN.ring(box(left, under, left + size, over))
    middle, half = left + size / 2, ARBOR * size
    yield ORIGIN.ring(box(middle - half, over, middle + half, over + out))


def lying_under(view: View, cut: Record) -> Iterator[Item]:
    """The saw along its arbor over work that is fed past beneath it."""
    left, low, right, _ = view.rect(*cut["box"])
    size = float((cut.get("tool") or {}).get("diameter_mm") or 60.0)
    yield from setup_across.slitting_saw(ORIGIN.moved((left + right) / 2, low + size / 2), size)
