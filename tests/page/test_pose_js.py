"""Where the page's view puts things, against parts.placed; meshes as they were packed."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from page_node import in_node

from parts.placed import in_pose
from planner.output.plan import Plan
from planner.page import packed
from planner.scene import Scene, Thing
from planner.scene.bodies import block, turned
from planner.scene.model import Mesh

BODY = """
const matrix = pommel.placed(one.thing, one.tip, one.swing, one.out);
return one.points.map((point) => pommel.at(matrix, point));
"""

POINTS = [[0.0, 0.0, 0.0], [13.0, -4.5, 7.25], [-120.0, 60.0, 0.5]]
GRID = list(itertools.product((0.0, 12.5, 40.0), (0.0, 31.5, 90.0, 158.9, 180.0), (0.0, 0.4, 1.0)))


def test_a_pose_is_that_of_the_parts(plan: Plan) -> None:
    calls, wanted = [], []
    for number, placed in enumerate(plan.attachment.placed):
        away = (3.0 * number, -7.0, 11.0 - number)
        thing = {
            "origin": placed.frame.origin,
            "axes": placed.frame.directions(),
            "carrier": placed.carrier.value,
            "away": away,
        }
        for tip, swing, out in GRID[number % 3 :: 3]:
            calls.append({"thing": thing, "tip": tip, "swing": swing, "out": out, "points": POINTS})
            for point in POINTS:
                x, y, z = placed.frame.place((point[0], point[1], point[2]))
                moved = (x + out * away[0], y + out * away[1], z + out * away[2])
                wanted.append(in_pose(moved, placed.carrier, tip, swing))
    found = [
        point for points in in_node(["inflate.js", "pose.js"], BODY, calls) for point in points
    ]
    assert len(found) > 500
    assert np.abs(np.array(found) - np.array(wanted)).max() < 1e-9


def one_thing(mesh: Mesh) -> Thing:
    from parts.frame import Frame
    from parts.placed import Carrier

    return Thing("a", "A", "part", mesh, Frame(), Carrier.POST, (0.5, 0.5, 0.5))


@pytest.mark.parametrize(
    "mesh",
    [block((-3, 2, 0.5), (120.125, 9, 40)), turned([(0, 12.7), (300, 12.7), (900, 3)])],
    ids=["block", "turned"],
)
def test_a_mesh_is_unpacked_as_it_was_packed(mesh: Mesh) -> None:
    body = """
    const mesh = pommel.unpacked(one);
    const local = pommel.measured(mesh);
    const points = [];
    for (let i = 0; i < mesh.points.length; i += 3) {
      points.push(pommel.at(local, [...mesh.points.slice(i, i + 3)]));
    }
    return [points, [...mesh.triangles], [...mesh.edges]];
    """
    (made,) = packed(Scene((one_thing(mesh),), (0, 1), (0, 1)), [])["meshes"]
    ((points, triangles, edges),) = in_node(["inflate.js", "pose.js"], body, [made])
    size = np.ptp(mesh.points, axis=0).max()
    assert np.abs(np.array(points) - mesh.points).max() <= max(0.002, size / 65535)
    assert triangles == mesh.triangles.reshape(-1).tolist()
    assert edges == mesh.edges.reshape(-1).tolist()


def test_things_that_are_alike_share_a_mesh_and_none_is_too_large() -> None:
    mesh = block((0, 0, 0), (1, 1, 1))
    scene = Scene((one_thing(mesh), one_thing(mesh)), (0, 1), (0, 1))
    assert len(packed(scene, [("b", scene)])["meshes"]) == 1
    points = np.zeros((70_000, 3))
    too_many = Mesh(points, np.zeros((1, 3), np.int32), np.zeros((0, 2), np.int32))
    with pytest.raises(ValueError, match="70000 points"):
        packed(Scene((one_thing(too_many),), (0, 1), (0, 1)), [])
