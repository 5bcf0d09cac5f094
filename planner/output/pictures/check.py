"""Pictures of the check, as SVG: the sweep seen along the pivot, and the deflection shares.

Black on white, told apart by line and hatching, so that they print. Imported by output.plan and the
build; works nothing out but where lines go.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin

from parts.attachment import Attachment, Carrier
from planner.checking.clearance import BallClearance
from planner.checking.strength import StrengthReport
from planner.geometry.envelope import Edge, swinging_edges
from planner.job.tables import Job
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.words.short import ball_called


def sweep_svg(attachment: Attachment, job: Job, found: BallClearance) -> str:
    """The sweep of one ball, seen along the pivot from the front: chuck left, tip on top.

    attachment and job: what swings and round what; found: the ball and its clearance. The outline is
    drawn with the tip at the nose and at the end of its sweep, the swept limit as arcs. Only what
    stands in front of the bearing is seen.
    """
    s, sheet = attachment.sizes, Sheet()
    ball, radius = found.ball, found.ball.diameter_mm / 2
    edges = swinging_edges(attachment)
    front = tuple(edge for edge in edges if edge.x_high_mm > s.thrust_x_mm + 1e-6)
    jaws = -found.stick_out_mm
    chuck = job.lathe.chuck_diameter / 2
    face = jaws - job.lathe.jaw_reach
    slide = -s.spindle_over_cross_slide_mm

    # the work: stem, ball, what is left of the blank before the chuck
    neck = found.shoulder_mm
    relief = -found.relief_mm
    blank = ball.blank_mm / 2
    stem = ball.stem_mm / 2 if ball.behind else radius
    if relief > jaws:
        sheet.path(
            [(jaws, blank), (relief, blank), (relief, -blank), (jaws, -blank)],
            MIDDLE,
            fill="url(#work)",
            closed=True,
        )
    sheet.path([(max(relief, jaws), stem), (-neck, stem)], MIDDLE)
    sheet.path([(max(relief, jaws), -stem), (-neck, -stem)], MIDDLE)
    sheet.arc(radius, -found.end_deg, found.end_deg, THICK)
    sheet.path(
        [(jaws, blank), (radius, blank), (radius, -blank), (jaws, -blank)], THIN, "6 1 1 1 1 1"
    )

    # the chuck and its jaws, the cross slide, the spindle's axis
    sheet.path(
        [(face - 12, chuck), (face, chuck), (face, -chuck), (face - 12, -chuck)],
        THICK,
        fill="url(#steel)",
        closed=True,
    )
    for side in (1, -1):
        tall = max((job.lathe.jaw_diameter or job.lathe.chuck_diameter) / 2, blank + 2.0)
        sheet.path(
            [(face, side * tall), (jaws, side * tall), (jaws, side * blank), (face, side * blank)],
            THICK,
            fill="url(#steel)",
            closed=True,
        )
    reach = max(hypot(e.y_mm + s.tip_radius_max_mm, e.z_mm) for e in front)
    right = max(radius, 0.9 * reach)
    sheet.path([(face - 12, slide), (right, slide)], THICK)
    for i in range(int((right - face + 12) / 6)):
        z = face - 12 + 6 * i
        sheet.path([(z, slide - 5), (z + 5, slide)], THIN)
    sheet.path([(face - 20, 0), (right + 6, 0)], THIN, "8 1.5 1 1.5")

    # what swings, at both ends of its sweep
    for swing, width in ((found.start_deg, THIN), (found.end_deg, MIDDLE)):
        for name in dict.fromkeys(edge.name for edge in front):
            bars = sorted({(e.x_low_mm, e.x_high_mm) for e in front if e.name == name})
            for bar in bars:
                own = [e for e in front if (e.name, e.x_low_mm, e.x_high_mm) == (name, *bar)]
                _outline(sheet, own, radius, swing, width)

    # swept limits and the two tight spots
    out = found.stick_out_by
    sheet.arc(out.distance_mm, 200, 160, MIDDLE, "3 1.5")
    sheet.circle(-out.distance_mm, out.height_mm, 2.5, MIDDLE)
    down = found.cross_slide_by
    sheet.arc(down.distance_mm, -110, -70, MIDDLE, "3 1.5")
    numbers = job.numbers
    say = numbers.clearance

    tightest = min(found.cross_slide_mm, s.clearance_mm)
    sheet.path([(0, slide), (0, -down.distance_mm)], MIDDLE)
    words = f"{say(found.cross_slide_mm)} over the cross slide ({down.name})"
    sheet.text(3, (slide - down.distance_mm) / 2 - 1.5, words)
    sheet.path([(jaws, slide - 9), (0, slide - 9)], THIN)
    sheet.path([(0, 0), (0, slide - 11)], THIN)
    sheet.path([(jaws, -blank), (jaws, slide - 11)], THIN)
    sheet.text(jaws / 2, slide - 14, f"{say(found.stick_out_mm)} from the jaws", anchor="middle")
    title = f"{job.name}: {ball_called(ball.name)}, {job.numbers.size(ball.diameter_mm)}"
    top = sheet.top + 14
    sheet.text(face - 12, top + 7, title, 6.0)
    sheet.text(
        face - 12,
        top,
        f"sweep {numbers.swing(found.start_deg, found.end_deg)}, ends at {found.end_limit};"
        f" tightest {say(tightest)} ({out.name} to the jaws)",
    )
    sheet.text(
        face - 12,
        top - 6,
        "thin: tip at the nose; firm: at the end of the sweep; dashes: how far anything swings;"
        " ring: tightest; dash and dots: the blank",
        3.2,
    )
    scale = 25.4 if numbers.inch else 20.0
    sheet.path([(right - scale, slide - 9), (right, slide - 9)], THICK)
    sheet.text(right - scale, slide - 14, numbers.size(scale))
    return sheet.svg(title)


def _outline(
    sheet: Sheet, edges: list[Edge], tip_mm: float, swing_deg: float, width: float
) -> None:
    """The convex outline of a thing's edges at a swing."""
    import shapely

    points = set()
    for e in edges:
        y = e.y_mm + (tip_mm if e.carrier is Carrier.HEAD else 0.0)
        a = radians(swing_deg)
        across = y * cos(a) + e.z_mm * sin(a)
        up = y * sin(a) - e.z_mm * cos(a)
        points.add((round(across, 4), round(up, 4)))
    hull = shapely.orient_polygons(shapely.MultiPoint(sorted(points)).convex_hull)
    if isinstance(hull, shapely.Polygon):
        ring = hull.exterior.coords[:-1]
        first = ring.index(min(ring))
        line = [(x, y) for x, y in ring[first:] + ring[:first]]
        sheet.path(line, width, fill="#fff" if width == MIDDLE else "none", closed=True)


def shares_svg(found: StrengthReport, job: Job) -> str:
    """The deflection of the tip by links, as bars with their shares."""
    sheet = Sheet()
    title = f"{job.name}: the tip springs {job.numbers.micrometer(found.sprung_mm)} in the pass"
    sheet.text(0, 8, title, 5.0)
    longest = max(link.share for link in found.links)
    for row, link in enumerate(found.links):
        y = -9.0 * row
        length = 90.0 * max(0.0, link.share) / longest  # none for what springs the other way
        sheet.text(0, y - 4.5, link.name)
        sheet.path(
            [(55, y), (55 + length, y), (55 + length, y - 6), (55, y - 6)],
            MIDDLE,
            fill="url(#steel)" if link.share == longest else "#fff",
            closed=True,
        )
        sheet.text(57 + length, y - 4.5, f"{job.numbers.share(link.share)}  {link.mend}")
    return sheet.svg(title)
