"""Pieces set up with everything there is to hold and cut them, on one sheet; what may touch where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from drawing_cases import FIELDS, shape
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from planner.drawing import setup, setup_tools
from planner.drawing.frame import blank
from planner.drawing.model import Circle, Item, Polyline, Sheet, Text
from planner.drawing.setup import Step
from planner.drawing.sketch import At
from planner.geometry.curves import Outline

Place = tuple[float, float]


@dataclass(frozen=True)
class Scene:
    """One piece set up: what is drawn of it, each thing that holds or cuts it, and where these may
    touch it: points of the paper, or stretches of them."""

    words: str
    work: tuple[Item, ...]
    area: BaseGeometry
    things: dict[str, tuple[tuple[Item, ...], BaseGeometry]]


def _on(at: At, *points: Place) -> BaseGeometry:
    """A stretch, or a point, of the paper."""
    there = [at.point(p) for p in points]
    return shapely.LineString(there) if len(there) > 1 else shapely.Point(there[0])


def _both(at: At, u1: float, u2: float, v: float) -> BaseGeometry:
    """The same stretch over and under the axis."""
    return shapely.union_all([_on(at, (u1, v), (u2, v)), _on(at, (u1, -v), (u2, -v))])


def solid_of(at: At, corners: Sequence[Place]) -> BaseGeometry:
    return shapely.Polygon([at.point(p) for p in corners])


def chucked(at: At) -> Scene:
    """A shaft in the chuck, on a live centre, in a steady, being turned, faced, parted."""
    steps = (Step(30.0, 20.0), Step(50.0, 30.0), Step(40.0, 16.0))
    edges = setup.turned_edges(steps, (0.0, 5.0))
    deep = 2.5 * 3**0.5
    corners = [(0, -10), (30, -10), (30, -15), (80, -15), (80, -8), (120, -8), (120, -2.5)]
    corners += [
        (120 - deep, 0),
        (120, 2.5),
        (120, 8),
        (80, 8),
        (80, 15),
        (30, 15),
        (30, 10),
        (0, 10),
    ]
    front = at.moved(22.0)
    return Scene(
        "three-jaw chuck, steady, live centre; turning, facing and parting tools",
        tuple(setup.piece(at, edges, ("top 1", "face 2"))),
        solid_of(at, corners),
        {
            "chuck": (
                tuple(setup.chuck(front, 80.0, 20.0, 18.0, 28.0)),
                _both(at, 4.0, 22.0, 10.0),
            ),
            "centre": (
                tuple(setup.centre(at.moved(120.0), 5.0, 12.0, live=True)),
                shapely.union_all(
                    [
                        _on(at, (120.0 - deep, 0.0), (120.0, 2.5)),
                        _on(at, (120.0 - deep, 0.0), (120.0, -2.5)),
                    ]
                ),
            ),
            "steady": (tuple(setup.steady(at.moved(108.0), 16.0, 6.0)), _both(at, 105, 111, 8.0)),
            "turning tool": (
                tuple(setup_tools.turning_tool(at.moved(50.0, 15.0), 8.0)),
                _on(at, (50.0, 15.0)),
            ),
            "facing tool": (
                tuple(setup_tools.facing_tool(at.moved(80.0, 12.0), 8.0)),
                _on(at, (80.0, 12.0)),
            ),
            "parting tool": (
                tuple(
                    setup_tools.parting_tool(
                        At(at.point((90.0, -8.0)), at.scale, flip=True), 3.0, 12.0, 10.0
                    )
                ),
                _on(at, (90.0, -8.0), (93.0, -8.0)),
            ),
        },
    )


def bored(at: At) -> Scene:
    """A ring in a four-jaw chuck from the end; it takes its hold on the outside alone."""
    ring = shapely.Point(at.point((0, 0))).buffer(at.scale * 15.0, 256)
    hole = shapely.Point(at.point((0, 0))).buffer(at.scale * 8.0, 256)
    rims = [at.circle((0, 0), 15.0), at.circle((0, 0), 8.0, "visible")]
    spots = [_on(at, p) for p in ((0, 15), (15, 0), (0, -15), (-15, 0))]
    return Scene(
        "four-jaw chuck from its end",
        tuple(rims),
        ring.difference(hole),
        {"chuck": (tuple(setup.chuck_end(at, 70.0, 30.0, 4)), shapely.union_all(spots))},
    )


def steadied(at: At) -> Scene:
    """A bar in a steady and a three-jaw chuck, from the end."""
    bar = shapely.Point(at.point((0, 0))).buffer(at.scale * 10.0, 256)
    turn = [At((0.0, 0.0), 1.0, 120.0 * k).point((0.0, 10.0)) for k in range(3)]
    spots = shapely.union_all([_on(at, p) for p in turn])
    return Scene(
        "steady and three-jaw chuck from the end",
        (at.circle((0, 0), 10.0, "visible"),),
        bar,
        {
            "steady": (tuple(setup.steady_end(at, 20.0)), spots),
            "chuck": (tuple(setup.chuck_end(at, 66.0, 20.0, 3)), spots),
        },
    )


def in_vice(at: At) -> Scene:
    """A block in the vice on parallels against a stop, being milled and drilled."""
    outline = Outline(((0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (30.0, 24.0, 0.0), (0.0, 24.0, 0.0)))
    edges = setup.profile_edges(outline)
    wall = _on(at, (0, 0), (0, 14))
    return Scene(
        "vice with parallels; end mill, drill",
        tuple(setup.piece(at, edges, ("edge 2",))),
        solid_of(at, [(0, 0), (30, 0), (30, 24), (0, 24)]),
        {
            "vice": (
                tuple(setup.vice(at, 30.0, 24.0, 14.0, 10.0)),
                shapely.union_all([wall, _on(at, (30, 0), (30, 14)), _on(at, (0, 0), (30, 0))]),
            ),
            "end mill": (
                tuple(setup_tools.end_mill(at.moved(8.0, 24.0), 8.0, 30.0)),
                _on(at, (4.0, 24.0), (12.0, 24.0)),
            ),
            "drill": (
                tuple(setup_tools.drill(at.moved(23.0, 24.0), 6.0, 40.0)),
                _on(at, (23.0, 24.0)),
            ),
        },
    )


def on_table(at: At) -> Scene:
    """A plate with a rounded corner on a table against a stop."""
    bulge = 2**0.5 - 1  # a quarter circle's: the tangent of a quarter of 90 degrees
    corners = ((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 8.0, bulge), (40.0, 18.0, 0.0))
    edges = setup.profile_edges(Outline((*corners, (0.0, 18.0, 0.0))))
    round_it = shapely.Point(at.point((40, 8))).buffer(at.scale * 10.0, 256)
    plain = solid_of(at, [(0, 0), (50, 0), (50, 8), (40, 8), (40, 18), (0, 18)])
    return Scene(
        "table and stop",
        tuple(setup.piece(at, edges, ("edge 3",))),
        plain.union(round_it.intersection(solid_of(at, [(40, 8), (51, 8), (51, 19), (40, 19)]))),
        {
            "stop": (tuple(setup.stop(at, 20.0, 12.0)), _on(at, (0, 0), (0, 12))),
            "table": (tuple(setup.table(at.moved(-25.0), 100.0)), _on(at, (0, 0), (50, 0))),
        },
    )


def bored_by(at: At, by: str) -> Scene:
    """A tube bored by a bar between centres, or by a boring tool: cut, the wall over the bar."""
    wall = [(-20.0, 10.0), (20.0, 10.0), (20.0, 17.0), (-20.0, 17.0)]
    made = {
        "boring bar between centres": (
            tuple(setup_tools.bar_between_centres(at, 12.0, 70.0, 20.0, 5.0)),
            _on(at, (-2.5, 10.0), (2.5, 10.0)),
        ),
        "boring tool": (
            tuple(setup_tools.boring_tool(at.moved(10.0, 10.0), 6.0, 20.0)),
            _on(at, (10.0, 10.0)),
        ),
    }
    return Scene(
        by,
        (at.ring(wall), at.path(((-20.0, 10.0), (20.0, 10.0)), "visible")),
        solid_of(at, wall),
        {by: made[by]},
    )


def scenes(scale: float = 1.0) -> tuple[Scene, ...]:
    """All of them, beside and under one another on an A3 sheet."""
    return (
        chucked(At((70.0, 225.0), scale)),
        bored(At((270.0, 225.0), scale)),
        steadied(At((355.0, 225.0), scale)),
        in_vice(At((60.0, 70.0), scale)),
        on_table(At((150.0, 90.0), scale)),
        bored_by(At((270.0, 120.0), scale), "boring bar between centres"),
        bored_by(At((355.0, 120.0), scale), "boring tool"),
    )


def areas(items: Sequence[Item]) -> BaseGeometry:
    """What closed outlines fill; a circle alone is a rim, and fills nothing."""
    rings = [
        shapely.Polygon(one.points) for one in items if isinstance(one, Polyline) and one.closed
    ]
    return shapely.union_all(rings)


def lines(items: Sequence[Item]) -> BaseGeometry:
    """Everything drawn, as lines."""
    return shapely.union_all([shape(one) for one in items])  # type: ignore[arg-type]


def sheet() -> Sheet:
    """All on one sheet."""
    items: list[Item] = []
    for one in scenes():
        drawn = [*one.work, *(item for own, _ in one.things.values() for item in own)]
        left, low, right, _ = lines(drawn).bounds
        items += [*drawn, Text(((left + right) / 2, low - 8.0), one.words, 2.5, "middle")]
    return replace(blank(FIELDS, "A3", True), items=tuple(items))


def others() -> Sheet:
    """What holds and cuts large and small pieces, out of proportion; only to be looked at."""
    one, two, three = At((60.0, 200.0)), At((180.0, 200.0)), At((300.0, 200.0))
    low = At((60.0, 80.0))
    items = [
        *setup.chuck(one, 100.0, 90.0, 10.0, 10.0),
        *setup.chuck(two, 60.0, 6.0, 8.0, 12.0, 15.0),
        *setup.chuck_end(three, 80.0, 10.0, 3),
        *setup.vice(low, 60.0, 30.0, 14.0, 0.0),
        *setup.vice(low.moved(120.0), 20.0, 10.0, 8.0, 4.0),
        *setup.vice(low.moved(220.0), 45.0, 20.0, 12.0, 6.0),
        *setup.centre(one.moved(40.0), 4.0, 10.0),
        *setup.steady_end(three.moved(80.0), 8.0),
        *setup.table(low.moved(0.0, -40.0), 120.0, 2),
        *setup_tools.parting_tool(two.moved(30.0, 20.0), 2.0, 10.0, 8.0),
        *setup_tools.end_mill(low.moved(170.0), 12.0, 20.0),
        *setup_tools.drill(low.moved(190.0), 3.0, 30.0),
    ]
    return replace(blank(FIELDS, "A3", True), items=tuple(items))


__all__ = ["Circle", "Scene", "areas", "lines", "others", "scenes", "sheet"]
