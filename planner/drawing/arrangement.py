"""The general arrangement: the attachment in its working place on the lathe, with what fits it there.

The attachment is drawn with the tip on top, all else that stands or swings about it in phantom lines.
Which numbers stand on it is handed in (Standing), so that they are those of the check. Imported by
whoever makes the set of sheets.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin
from typing import Literal

import shapely

from parts.attachment import Attachment, Carrier
from parts.frame import Point as Point3
from parts.part import Part
from parts.value import Value
from planner.drawing.model import Point
from planner.drawing.panel import Panel, size_words
from planner.geometry.envelope import Outline, swinging_outlines
from planner.solids.seen import bounds
from planner.solids.together import in_place, seen_together
from planner.words.numbers import Numbers

Ways = dict[str, tuple[Point3, Point3]]

VIEWS: dict[str, Ways] = {
    "across": {
        "end": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
        "side": ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        "top": ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
    },
    "upright": {
        "end": ((0.0, 0.0, 1.0), (0.0, -1.0, 0.0)),
        "side": ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        "top": ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    },
}
"""Where one looks from and what is to the right, in the frame of the whole: from the tailstock's end,
from where the operator stands, from above. With the pivot upright the whole is turned a quarter about
the spindle, the tip on the operator's side."""

LEAST_SHOWN_MM = 0.05
"""A clearance that is less is none to be shown."""

SAME = 1e-6
"""Two places, or two ways of the swing, that differ by less are one."""

SMOOTH_MM = 1e-3
"""What an outline is smoothed within."""

CHUCK_DEEP = 0.15
"""How much of the chuck behind its face is drawn, in its diameters: how deep it is no job says."""


class Tight(Value, frozen=True):
    """The least distance to an obstacle: of which ball, and by which part in which pose."""

    obstacle: str
    ball: str
    clears_mm: float
    least_mm: float
    part: str
    swing_deg: float
    tip_mm: float


class Post(Value, frozen=True):
    """The tool post: its front and rear along the pivot, its sides along the bed, its top's height.

    side_known, top_known: whether the job says how far it stands out, and how high it is.
    """

    front_x_mm: float
    rear_x_mm: float
    near_mm: float
    far_mm: float
    top_mm: float
    side_known: bool
    top_known: bool


class Standing(Value, frozen=True):
    """What the attachment stands in, and the largest ball's swing; mm and degrees.

    slide_mm, seat_mm: the spindle's axis over the cross slide and over the tool post's seat. jaws_mm:
    from the ball's centre to the jaws' front. tip_range_mm: the least and greatest tip radius. gaps:
    of the largest ball, the same that are drawn; tightest: of all balls, by obstacle.
    """

    arrangement: Literal["across", "upright"]
    slide_mm: float
    seat_mm: float
    chuck_mm: float
    jaw_mm: float
    jaw_reach_mm: float
    jaws_mm: float
    ball_mm: float
    blank_mm: float
    stem_mm: float
    relief_mm: float
    shoulder_mm: float
    start_deg: float
    end_deg: float
    tip_range_mm: tuple[float, float]
    post: Post | None
    gaps: tuple[Tight, ...]
    tightest: tuple[Tight, ...]

    def gap(self, obstacle: str) -> Tight | None:
        """The largest ball's least distance to an obstacle."""
        return next((one for one in self.gaps if one.obstacle == obstacle), None)

    @property
    def tip_mm(self) -> float:
        """The tip radius at which the attachment is drawn: the finished ball's."""
        return self.ball_mm / 2


def panels(attachment: Attachment, standing: Standing, numbers: Numbers) -> dict[str, Panel]:
    """The three views with all that is drawn and measured on them, not yet on a paper."""
    made = {name: Panel(name, *way) for name, way in VIEWS[standing.arrangement].items()}
    shapes = [in_place(one, standing.tip_mm, 90.0) for one in attachment.placed]
    for panel in made.values():
        for own in seen_together(shapes, panel.towards, panel.right):
            panel.paths += [("visible", path) for path in own]
        _work(panel, standing)
        _lathe(panel, standing)
    swinging(made[swing_view(standing)], attachment, standing)
    reach = outermost(attachment, standing)
    for panel in made.values():
        _centre_lines(panel, standing)
    _measured(made, attachment, standing, reach, numbers)
    return made


def swing_view(standing: Standing) -> str:
    """The view along the pivot, in which the swing is seen."""
    return "side" if standing.arrangement == "across" else "top"


# ---- the lathe and the work ----


def _across(panel: Panel, distance: float, z: float) -> Point3:
    """A point so far beside the spindle's axis in a view along neither."""
    return (distance, 0.0, z) if panel.towards[0] == 0.0 else (0.0, distance, z)


def _ring(radius: float, z: float = 0.0) -> list[Point3]:
    turns = [radians(5.0 * k) for k in range(72)]
    ring = [(radius * cos(t), radius * sin(t), z) for t in turns]
    return [*ring, ring[0]]


def _work(panel: Panel, st: Standing) -> None:
    """Ball, stem, what is left of the blank, and the blank before it is turned."""
    ball, blank, stem, jaws = st.ball_mm / 2, st.blank_mm / 2, st.stem_mm / 2, -st.jaws_mm
    if panel.towards[2]:
        panel.draw("phantom", *_ring(ball))
        if blank > ball + 0.01:
            panel.draw("phantom", *_ring(blank))
        return
    round_it = [radians(-st.end_deg + 2 * st.end_deg * k / 60) for k in range(61)]
    panel.draw("phantom", *(_across(panel, ball * sin(t), ball * cos(t)) for t in round_it))
    relief = max(jaws, -st.relief_mm)
    for side in (1.0, -1.0):
        ends = ((stem, -st.shoulder_mm), (stem, relief), (blank, relief), (blank, jaws))
        panel.draw("phantom", *(_across(panel, side * r, z) for r, z in ends))
    front = ((blank, relief), (blank, ball), (-blank, ball), (-blank, relief))
    panel.draw("phantom", *(_across(panel, r, z) for r, z in front))


def _lathe(panel: Panel, st: Standing) -> None:
    """Chuck, jaws, cross slide and tool post."""
    chuck, face, front = st.chuck_mm / 2, -st.jaws_mm - st.jaw_reach_mm, -st.jaws_mm
    jaw, grip = max(st.jaw_mm / 2, st.blank_mm / 2 + 2.0), st.blank_mm / 2
    if panel.towards[2]:
        panel.draw("phantom", *_ring(chuck))
    else:
        back = face - CHUCK_DEEP * st.chuck_mm
        corners = ((chuck, back), (chuck, face), (-chuck, face), (-chuck, back))
        panel.draw("phantom", *(_across(panel, r, z) for r, z in (*corners, corners[0])))
        nose = ((0.4 * chuck, back), (0.4 * chuck, back - 6.0), (-0.4 * chuck, back - 6.0))
        panel.draw("phantom", *(_across(panel, r, z) for r, z in (*nose, (-0.4 * chuck, back))))
        for side in (1.0, -1.0):
            tooth = ((jaw, face), (jaw, front), (grip, front), (grip, face))
            panel.draw("phantom", *(_across(panel, side * r, z) for r, z in tooth))
    if st.post is not None:
        p = st.post
        panel.draw("phantom", *_box_seen(panel, st, p))
    across = st.arrangement == "across"
    if panel.name != "top":
        span = panel.span
        ends = (span.left - 4.0, span.right + 4.0)
        _, v = panel.flat((0.0, -st.slide_mm, 0.0) if across else (-st.slide_mm, 0.0, 0.0))
        panel.paths.append(("phantom", ((ends[0], v), (ends[1], v))))


def _box_seen(panel: Panel, st: Standing, post: Post) -> list[Point3]:
    """The tool post's outline as a view shows it: the rectangle across the way one looks."""
    low = (post.rear_x_mm, -st.seat_mm, post.near_mm)
    high = (post.front_x_mm, post.top_mm, post.far_mm)
    one, other = (k for k in range(3) if not panel.towards[k])
    ring = []
    for first, second in ((low, low), (high, low), (high, high), (low, high), (low, low)):
        corner = list(low)
        corner[one], corner[other] = first[one], second[other]
        ring.append((corner[0], corner[1], corner[2]))
    return ring


def _centre_lines(panel: Panel, st: Standing) -> None:
    """The spindle's axis and the pivot's."""
    span = panel.span
    u, v = panel.flat((0.0, 0.0, 0.0))
    panel.paths.append(("centre", ((span.left - 4.0, v), (span.right + 4.0, v))))
    panel.paths.append(("centre", ((u, span.low - 4.0), (u, span.top + 4.0))))


# ---- what swings ----


def swinging(panel: Panel, attachment: Attachment, st: Standing) -> None:
    """What swings in front of the bearing, at both ends of its swing, and the tip's way at its least
    and its greatest radius."""
    outlines = [
        outline
        for outline in swinging_outlines(attachment)
        if max(edge.x_high_mm for edge in outline) > attachment.sizes.thrust_x_mm + SAME
    ]
    poses = [(st.start_deg, st.tip_mm), (st.end_deg, st.tip_mm)]
    jaws, slide = st.gap("jaws"), st.gap("cross slide")
    if jaws is not None and abs(jaws.swing_deg - st.end_deg) < SAME:
        poses[1] = (st.end_deg, jaws.tip_mm)
    if slide is not None and abs(slide.swing_deg - st.start_deg) < SAME:
        poses[0] = (st.start_deg, slide.tip_mm)
    for swing, tip in poses:
        for ring in silhouette(outlines, swing, tip):
            panel.draw("phantom", *((0.0, y, z) for y, z in ring))
    for gap in (jaws, slide):
        at_end = gap is None or min(abs(gap.swing_deg - s) for s, _ in poses) < SAME
        if gap is not None and not at_end and st.arrangement == "across":
            own = [o for o in outlines if o[0].name == gap.part]
            for ring in silhouette(own, gap.swing_deg, gap.tip_mm):
                panel.draw("phantom", *((0.0, y, z) for y, z in ring))
    for radius in st.tip_range_mm:
        count = max(8, int((st.end_deg - st.start_deg) / 4))
        turns = [
            radians(st.start_deg + (st.end_deg - st.start_deg) * k / count)
            for k in range(count + 1)
        ]
        panel.draw("phantom", *((0.0, radius * sin(t), radius * cos(t)) for t in turns))


def silhouette(
    outlines: Sequence[Outline], swing_deg: float, tip_mm: float
) -> Iterator[list[Point]]:
    """The outline of things along the pivot in a pose, as y and z ring by ring."""
    a = radians(90.0 - swing_deg)
    hulls = []
    for outline in outlines:
        discs = []
        for e in outline:
            y = e.y_mm + (tip_mm if e.carrier is Carrier.HEAD else 0.0)
            at = shapely.Point(y * cos(a) - e.z_mm * sin(a), y * sin(a) + e.z_mm * cos(a))
            discs.append(at.buffer(e.round_mm, 24) if e.round_mm else at)
        hull = shapely.union_all(discs).convex_hull
        if isinstance(hull, shapely.Polygon):
            hulls.append(hull)
    whole = shapely.union_all(hulls)
    parts = getattr(whole, "geoms", [whole])
    for part in sorted(parts, key=lambda p: p.bounds):
        if not part.is_empty:
            yield [(float(y), float(z)) for y, z in part.simplify(SMOOTH_MM).exterior.coords]


def outermost(attachment: Attachment, st: Standing) -> tuple[Point3, Point3]:
    """The lowest and the greatest x, y and z of all parts as they are drawn."""
    points = []
    for placed in attachment.placed:
        if isinstance(placed.item, Part):
            for corner in bounds(placed.item).corners():
                x, y, z = placed.frame.place(corner)
                points.append((x, y + (st.tip_mm if placed.carrier is Carrier.HEAD else 0.0), z))
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


# ---- what is measured ----


def _measured(
    made: dict[str, Panel],
    attachment: Attachment,
    st: Standing,
    reach: tuple[Point3, Point3],
    numbers: Numbers,
) -> None:
    """Every fitting dimension, in the view that shows it."""
    s, mm = attachment.sizes, numbers.plain.clearance
    end, side = made["end"], made["side"]
    across = st.arrangement == "across"

    def size(value: float) -> str:
        return size_words(value, numbers)

    def height(value: float) -> Point3:
        return (0.0, value, 0.0) if across else (value, 0.0, 0.0)

    end.measure("right", height(-st.slide_mm), height(0.0), f"{size(st.slide_mm)} over slide")
    side.measure("below", (0, 0, -st.jaws_mm), (0, 0, 0), f"{mm(st.jaws_mm)} from jaws")
    jaws, slide = st.gap("jaws"), st.gap("cross slide")
    blank, post = st.gap("blank"), st.gap("tool post")
    if jaws is not None and jaws.clears_mm > LEAST_SHOWN_MM:
        near = -st.jaws_mm + jaws.clears_mm
        side.measure(
            "below", (0, 0, -st.jaws_mm), (0, 0, near), f"{mm(jaws.clears_mm)} clear of jaws"
        )
    if slide is not None and slide.clears_mm > LEAST_SHOWN_MM:
        ends = (height(-st.slide_mm), height(-st.slide_mm + slide.clears_mm))
        side.measure("right", *ends, f"{mm(slide.clears_mm)} clear")
    rim = -st.blank_mm / 2
    if blank is not None and blank.clears_mm > LEAST_SHOWN_MM:
        ends = ((rim - blank.clears_mm, 0.0, 0.0), (rim, 0.0, 0.0))
        end.measure("below" if across else "left", *ends, f"{mm(blank.clears_mm)} clear of blank")
    if not across or st.post is None:
        return
    seat, shank = -st.seat_mm, s.shank_stock
    end.measure("left", (s.shank_end_x_mm, seat, 0), (0, 0, 0), f"{size(st.seat_mm)} over seat")
    tall = (s.shank_end_x_mm, seat + shank.height_mm, 0)
    square = abs(shank.width_mm - shank.height_mm) < SAME
    words = f"{size(shank.height_mm)} {'square' if square else 'shank'}"
    end.measure("left", (s.shank_end_x_mm, seat, 0), tall, words)
    front, rear = st.post.front_x_mm, st.post.rear_x_mm
    end.measure("below", (front, seat, 0), (0, seat, 0), f"{size(-front)} to post")
    end.measure("below", (rear, seat, 0), (front, seat, 0), f"{size(front - rear)} post")
    far = reach[0][0]
    end.measure("below", (far, seat, 0), (0, 0, 0), f"{size(-far)} overall")
    inner, wide = s.shank_inner_z_mm, shank.width_mm
    side.measure("below", (0, 0, 0), (0, seat, inner), f"{size(inner)} set over")
    if not square:
        side.measure("below", (0, seat, inner), (0, seat, inner + wide), f"{size(wide)} shank")
    if post is not None and post.clears_mm > LEAST_SHOWN_MM:
        near = st.post.near_mm
        ends = ((0, 0, near - post.clears_mm), (0, 0, near))
        side.measure("below", *ends, f"{mm(post.clears_mm)} clear of post")
    highest = reach[1][1]
    side.measure("right", (0, 0, 0), (0, highest, 0), f"{size(highest)} overall")
