"""Outlines of a set-up: what holds the work touches it where it holds it, and nowhere else.

Held against shapely: areas of the closed outlines, and how far their lines are from the work. The sizes
of a 60 degree centre and a 118 degree drill are common practice.
"""

from __future__ import annotations

from math import acos, degrees, sqrt

import pytest
import shapely
from drawing_cases import shape
from setup_scenes import Scene, areas, lines, scenes, sheet
from sheet_faults import overlaps

from planner.drawing import setup, setup_tools
from planner.drawing.model import Arc, Polyline
from planner.drawing.setup import Step
from planner.drawing.sketch import At
from planner.drawing.svg import svg
from planner.geometry.curves import Outline

NEAR_MM = 1e-3


@pytest.mark.parametrize("scene", scenes(), ids=lambda scene: scene.words)
def test_things_touch_the_work_where_they_hold_or_cut_it_and_nowhere_else(scene: Scene) -> None:
    for name, (items, spots) in scene.things.items():
        # a circle of many sides stands a hair inside the round one
        inside = areas(items).intersection(scene.area.buffer(-NEAR_MM)).area
        assert inside < 1e-3, f"{scene.words}: {name} stands {inside:.3g} mm2 in the work"
        touched = lines(items).intersection(scene.area.buffer(NEAR_MM))
        assert not touched.is_empty, f"{scene.words}: {name} does not touch the work"
        assert touched.within(spots.buffer(0.15)), f"{scene.words}: {name} touches elsewhere"
        for spot in getattr(spots, "geoms", [spots]):
            assert spot.distance(areas(items)) < NEAR_MM, f"{scene.words}: {name} misses a spot"


def test_things_do_not_stand_in_one_another() -> None:
    for scene in scenes():
        every = [(name, areas(items)) for name, (items, _) in scene.things.items()]
        for k, (one, first) in enumerate(every):
            for other, second in every[k + 1 :]:
                if {one, other} == {"steady", "chuck"} and "from the end" in scene.words:
                    continue  # one behind the other
                assert first.intersection(second).area < 1e-3, (one, other)


def test_a_thing_is_moved_turned_flipped_and_scaled_as_it_is_told() -> None:
    """Against shapely's own affine transformations."""
    plain = areas(tuple(setup_tools.facing_tool(At((0.0, 0.0)), 8.0)))
    at = At((30.0, 40.0), 0.5, 90.0, flip=True)
    there = areas(tuple(setup_tools.facing_tool(at, 8.0)))
    wanted = shapely.affinity.affine_transform(plain, [1, 0, 0, -1, 0, 0])
    wanted = shapely.affinity.scale(wanted, 0.5, 0.5, origin=(0, 0))
    wanted = shapely.affinity.rotate(wanted, 90, origin=(0, 0))
    wanted = shapely.affinity.translate(wanted, 30, 40)
    assert there.symmetric_difference(wanted).area < 1e-9


def test_the_worked_surface_alone_is_thick_and_the_outline_is_closed() -> None:
    steps = (Step(30.0, 20.0), Step(50.0, 30.0))
    edges = setup.turned_edges(steps, (4.0, 0.0))
    items = list(setup.piece(At((0.0, 0.0)), edges, ("top 1",)))
    thick = [item for item in items if getattr(item, "style", "") == "visible"]
    assert [(i.start, i.end) for i in thick] == [((30.0, 15.0), (80.0, 15.0))]  # type: ignore[union-attr]
    made = shapely.polygonize([lines(items)])
    # pi taken away: the area of the half section on both sides of the axis, less the centre hole's
    assert sum(p.area for p in made.geoms) == pytest.approx(
        30 * 20 + 50 * 30 - 2 * 2 * sqrt(3) / 2 * 2
    )


def test_an_arc_of_a_profile_keeps_its_corners_and_its_middle() -> None:
    """A bulge is the tangent of a quarter of the arc's angle (DXF reference)."""
    edges = setup.profile_edges(Outline(((0.0, 0.0, 1.0), (20.0, 0.0, 1.0))))
    for k, side in enumerate((-1.0, 1.0)):
        drawn = At((0.0, 0.0)).curve(edges[f"edge {k}"])
        assert isinstance(drawn, Arc)
        assert drawn.centre == pytest.approx((10.0, 0.0)) and drawn.radius == pytest.approx(10.0)
        middle = shape(drawn).interpolate(0.5, normalized=True)
        assert (middle.x, middle.y) == pytest.approx((10.0, 10.0 * side), abs=0.01)


def test_a_centre_and_a_drill_have_their_usual_angles() -> None:
    centre = next(iter(setup.centre(At((0.0, 0.0)), 4.0, 10.0)))
    drill = next(iter(setup_tools.drill(At((0.0, 0.0)), 10.0, 60.0)))
    assert isinstance(centre, Polyline) and isinstance(drill, Polyline)
    for ring, wanted in ((centre, 60.0), (drill, 118.0)):
        tip, one, other = (
            shapely.Point(p) for p in (ring.points[0], ring.points[1], ring.points[-1])
        )
        a, b, c = tip.distance(one), tip.distance(other), one.distance(other)
        assert degrees(acos((a * a + b * b - c * c) / (2 * a * b))) == pytest.approx(wanted)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda at: setup.chuck(at, 80.0, 90.0, 10.0, 20.0),
        lambda at: setup.chuck(at, 80.0, 20.0, 30.0, 20.0),
        lambda at: setup.chuck_end(at, 80.0, 20.0, 5),
        lambda at: setup.vice(at, 30.0, 10.0, 12.0),
        lambda at: setup.centre(at, 12.0, 10.0),
        lambda at: setup_tools.bar_between_centres(at, 20.0, 90.0, 18.0, 5.0),
        lambda at: setup.piece(at, setup.turned_edges((Step(10.0, 5.0),)), ("top 7",)),
        lambda at: iter(setup.turned_edges(())),
        lambda at: iter(setup.turned_edges((Step(10.0, 5.0),), (6.0, 0.0))),
    ],
)
def test_what_holds_nothing_is_refused(wrong: object) -> None:
    with pytest.raises(ValueError):
        list(wrong(At((0.0, 0.0))))  # type: ignore[operator]


def test_a_sheet_with_all_of_them_has_nothing_on_anything() -> None:
    made = sheet()
    assert list(overlaps(made)) == []
    assert all(one.words.replace("&", "&amp;") in svg(made) for one in scenes())
