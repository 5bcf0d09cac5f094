"""The lathe's bodies and the work, as plain meshes: chuck, jaws, blank, ball, post, cross slide.

Blocks and turned shapes to the job's sizes; what a job does not say is drawn at a usual size, and is
for looks alone. Imported by planner.scene.scene. Needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, radians, sin

import numpy as np

from parts.frame import Frame
from parts.placed import Carrier
from parts.sizes import Sizes
from parts.value import Value
from planner.job.tables import Job
from planner.scene.model import Kind, Mesh, Thing, by_matrix, joined

ROUND = 48
"""Facets round a turned body."""

STEEL, CAST, JAW, WORK = (
    (0.62, 0.64, 0.66),
    (0.46, 0.50, 0.53),
    (0.36, 0.38, 0.41),
    (0.80, 0.69, 0.42),
)


class Work(Value, frozen=True):
    """The work of one ball in the chuck: diameters, and what is behind the ball's centre, all mm.

    jaws_mm: from the ball's centre back to the jaws' front. relief_mm: how far back the blank is
    turned down to the stem; 0 for none.
    """

    ball_mm: float
    blank_mm: float
    stem_mm: float
    jaws_mm: float
    relief_mm: float


def lathe_things(s: Sizes, job: Job, work: Work, post_z_mm: float) -> Iterator[Thing]:
    """Every body of the lathe, and the work. post_z_mm: the tool post's middle from the ball's centre
    along the bed."""
    lathe, jaws = job.lathe, -work.jaws_mm
    face = jaws - lathe.jaw_reach
    chuck = lathe.chuck_diameter / 2
    deep = 0.45 * lathe.chuck_diameter
    yield _thing("chuck", "Chuck", "lathe", turned([(face - deep, chuck), (face, chuck)]), CAST)
    tall = max((lathe.jaw_diameter or lathe.chuck_diameter) / 2, work.blank_mm / 2 + 4.0)
    for number in range(3):
        jaw = block((-8.0, work.blank_mm / 2, face), (8.0, tall, jaws))
        about_z = _about_z(jaw, 90.0 + 120.0 * number)
        yield _thing(f"jaw {number + 1}", "Chuck jaw", "lathe", about_z, JAW)
    yield from work_things(work, face)
    front = s.post_front_x_mm
    slide = -s.spindle_over_cross_slide_mm
    seat = -s.spindle_over_seat_mm
    half = s.post_depth_mm / 2
    back = front - s.post_depth_mm
    base = block((back - 30.0, slide - 18.0, post_z_mm - 60.0), (60.0, slide, post_z_mm + 60.0))
    yield _thing("cross slide", "Cross slide", "lathe", base, CAST)
    top = seat + max(job.tool_post.height or 0.0, s.largest_shank_mm + 22.0)
    side = s.shank_inner_z_mm - (job.tool_post.stands_out or 0.0)
    wall = s.shank_inner_z_mm + s.shank_stock.width_mm
    far = max(2 * post_z_mm - side, wall + 8.0)
    shank = seat + s.shank_stock.width_mm
    for name, low, high in (
        ("foot", (back, slide, side), (front, seat, far)),
        ("core", (back, seat, wall), (front, top, far)),
        ("lip", (back, shank + 6.0, side), (front, top, wall)),
    ):
        yield _thing(f"tool post {name}", "Tool post", "lathe", block(low, high), STEEL)
    for number in (-1, 1):
        x, z = front - half + 0.5 * number * half, (side + wall) / 2
        screw = turned([(0.0, 4.0), (shank + 26.0 - shank, 4.0)])
        stands = Frame((x, shank, z), x="+z", z="+y")
        name = f"post screw {(number + 3) // 2}"
        yield Thing(name, "Tool post screw", "lathe", screw, stands, Carrier.POST, JAW)


def work_things(work: Work, face_mm: float) -> Iterator[Thing]:
    """The ball on its stem as it will be, and the blank it is turned from, as edges."""
    r, stem = work.ball_mm / 2, work.stem_mm / 2
    back = -work.relief_mm if work.relief_mm else -work.jaws_mm
    neck = -((r * r - stem * stem) ** 0.5) if 0 < stem < r else 0.0
    angles = [pi * k / 40 for k in range(41)]
    outline = [(r * cos(a), r * sin(a)) for a in angles if r * cos(a) > neck]
    profile = [(face_mm, work.blank_mm / 2), (back, work.blank_mm / 2), (back, max(stem, 1.0))]
    profile += [(neck, stem), *reversed(outline)]
    yield _thing("work", "Ball", "work", turned(profile), WORK)
    blank = turned([(-work.jaws_mm, work.blank_mm / 2), (r, work.blank_mm / 2)])
    yield _thing("blank", "Blank", "work", blank, WORK, solid=False)


def _thing(
    name: str,
    title: str,
    kind: Kind,
    mesh: Mesh,
    colour: tuple[float, float, float],
    solid: bool = True,
) -> Thing:
    return Thing(name, title, kind, mesh, Frame(), Carrier.POST, colour, solid=solid)


def block(low: Sequence[float], high: Sequence[float]) -> Mesh:
    """An upright box between two corners."""
    ends = (low, high)
    points = np.array(
        [[ends[i][0], ends[j][1], ends[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)],
        dtype=np.float64,
    )
    quads = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
    triangles = [part for a, b, c, d in quads for part in ((a, b, c), (a, c, d))]
    return joined(points, np.array(triangles, dtype=np.int32))


def turned(profile: Sequence[tuple[float, float]]) -> Mesh:
    """A body of revolution about z, closed at both ends: stations z and radii, z never falling."""
    rows = [(profile[0][0], 0.0), *profile, (profile[-1][0], 0.0)]
    around = [2 * pi * k / ROUND for k in range(ROUND)]
    points = [(radius * cos(a), radius * sin(a), z) for z, radius in rows for a in around]
    triangles = []
    for row in range(len(rows) - 1):
        for k in range(ROUND):
            a, b = row * ROUND + k, row * ROUND + (k + 1) % ROUND
            triangles += [(a, b, b + ROUND), (a, b + ROUND, a + ROUND)]
    return joined(np.array(points), np.array(triangles, dtype=np.int32))


def _about_z(mesh: Mesh, degrees: float) -> Mesh:
    """A mesh turned about z: its y to the given polar angle."""
    turn = radians(degrees - 90.0)
    c, s = cos(turn), sin(turn)
    moved = by_matrix(mesh.points, ((c, s, 0.0), (-s, c, 0.0), (0.0, 0.0, 1.0)))
    return Mesh(moved, mesh.triangles, mesh.edges)
