"""The tightest spot of a sweep: tool, arm, neck and relief there, the gap ringed, measured, enlarged.

Seen along the pivot: from the front with the pivot across the bed, from above with it upright, the
chuck on the left in both. Plain numbers and outlines of what swings. Black on white; works nothing out
but where lines go, and where the gap it is given lies (tight_scene).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import hypot
from typing import Any

from planner.checking.clearance import Gap
from planner.geometry.ball import Arrangement
from planner.geometry.envelope import Outline
from planner.output.pictures.marks import ROW_MM, TITLE, WORDS, Point, arc, leader, rows, wrapped
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.output.pictures.tight_scene import Half, Scene, Standing, bounds, scene_of
from planner.words.numbers import Numbers

WIDE_MM, HIGH_MM = 92.0, 80.0
"""How large the whole is drawn at most; its words stand beside it on the book's page."""

DETAIL_MM, MOST_TIMES = 44.0, 8.0
"""The enlarged spot is so wide and high, and at most so many times full size."""

SHOWN_GAP_MM = 10.0
"""How wide the gap is drawn in the detail, where that takes no more than MOST_TIMES; one that is half
as wide without has none."""

CHAIN, DASH, DOTS, NEARER = "8 1.5 1 1.5", "3 1.5", "1 1", "2 1"

Label = tuple[str, float, float]
"""What is pointed at on the work: its name, z and radius."""

View = Callable[[Point], Point]
"""From millimetres of the lathe, z and up, to millimetres of the paper."""


def tight_svg(
    title: str,
    work: Half,
    outlines: Sequence[Outline],
    gap: Gap,
    standing: Standing,
    numbers: Numbers,
    labels: Sequence[Label] = (),
    arrangement: Arrangement = "across",
) -> str:
    """The pose in which a gap is least, with the gap in it.

    work: at least two points of its half profile. outlines: of what swings. gap: where it is least, and
    what it is. labels: of the neck, the relief and what else is to be pointed at on the work. What
    stands beside the plane of the swing is drawn in dashes. Raises ValueError for no profile, or a
    part that does not swing; a gap of the body as a whole is known by "body".
    """
    known = {o[0].name for o in outlines} | {"body"}
    if len(work) < 2 or gap.part not in known:
        raise ValueError(f"{len(work)} points, part '{gap.part}': give 2 or more, and what swings")
    scene, sheet = scene_of(work, outlines, gap, standing), Sheet()
    flip = -1.0 if arrangement == "upright" else 1.0
    z0, y0, z1, y1 = bounds(scene)
    low, high = (y0, y1) if flip > 0 else (-y1, -y0)
    scale = min(1.0, WIDE_MM / (z1 - z0), HIGH_MM / (high - low))

    def view(point: Point) -> Point:
        return scale * (point[0] - z0), scale * (flip * point[1] - high)

    _draw(sheet, scene, view, flip)
    sheet.path([view((z0, 0.0)), view((z1, 0.0))], THIN, CHAIN)
    if gap.tip_radius_mm:
        way = arc(view((0.0, 0.0)), scale * gap.tip_radius_mm, 0.0, flip * 180.0)
        sheet.path(way, THIN, DOTS, name="the tip's way")
    _names(sheet, scene, view, scale * (z1 - z0) + 4.0)
    foot = _under(sheet, scene, view, labels, flip, scale * (low - high))
    if scene.spot:
        (x0, up0), (x1, up1) = map(view, scene.spot)
        around = max(3.0, hypot(x1 - x0, up1 - up0) / 2 + 1.5)
        sheet.circle((x0 + x1) / 2, (up0 + up1) / 2, around, THICK)
        sheet.path([(x0, up0), (x1, up1)], MIDDLE, name="gap")
        if hypot(x1 - x0, up1 - up0) < SHOWN_GAP_MM / 2:
            _detail(sheet, scene, gap, numbers, flip, foot)
    _head(sheet, title, gap, numbers, scale, arrangement, bool(scene.spot))
    return sheet.svg(title)


def _draw(sheet: Sheet, scene: Scene, view: View, flip: float, window: Any = None) -> None:
    """Everything, or what of it lies in a window: the work, what stands, then what swings."""
    import shapely

    def put(shape: Any, width: float, fill: str, dash: str = "", name: str = "") -> None:
        seen = shape if window is None else shape.intersection(window)
        for part in getattr(seen, "geoms", [seen]):
            if part.is_empty or part.geom_type not in ("Polygon", "LineString"):
                continue
            closed = part.geom_type == "Polygon"
            line = part.exterior.coords[:-1] if closed else part.coords
            sheet.path([view(p) for p in line], width, dash, fill, closed=closed, name=name)

    put(scene.work, MIDDLE, "url(#work)", name="work")
    for name, shape in scene.stands.items():
        if name == "tool post":
            put(shape, THICK, "none", DASH, name)  # nearer than the work
            continue
        put(shape, THICK, "#fff")
        put(shape, THICK, "url(#steel)", name=name)
    # the jaws turn: they are as deep as they stand out all round the work
    _, low, front, high = scene.stands["jaws"].bounds
    put(shapely.LineString([(front, low), (front, high)]), MIDDLE, "none", DASH, "jaws' front")
    for one in sorted(scene.swinging, key=lambda one: (one.before, -flip * one.rear_mm)):
        if one.before and one.own:
            # nearer to the eye across, and solid; upright it is lower down, hidden by the work
            fill = "none" if window is None or flip < 0 else "#fff"
            put(one.shape, THICK, fill, DASH if flip < 0 else "", one.name)
        elif one.before:
            put(one.shape, THIN, "none", NEARER, one.name)
        else:
            put(one.shape, THICK if one.own else MIDDLE, "#fff", name=one.name)


def _names(sheet: Sheet, scene: Scene, view: View, right: float) -> None:
    """The names of what swings, in a column on the right, each pointing at its own."""
    named: dict[str, Point] = {}
    for one in sorted(scene.swinging, key=lambda one: -one.shape.area):
        if one.own or not one.before:
            inside = one.shape.representative_point()
            named.setdefault(one.name, view((inside.x, inside.y)))
    at = float("inf")
    for name, point in sorted(named.items(), key=lambda one: -one[1][1]):
        at = min(at - ROW_MM - 0.6, point[1] + 1.0)
        sheet.text(right, at, name, WORDS)
        leader(sheet, (right - 1.0, at + 1.0), point)


def _under(
    sheet: Sheet, scene: Scene, view: View, labels: Sequence[Label], flip: float, low: float
) -> float:
    """What stands and what is pointed at on the work, in a row under it; returns how low it goes."""
    wanted = [(name, z, -flip * r) for name, z, r in labels]
    for name, shape in scene.stands.items():
        z0, y0, z1, y1 = shape.bounds
        wanted.append((name, (z0 + z1) / 2, y0 + 1.0 if flip > 0 else y1 - 1.0))
    end, foot = 0.0, low - 8.0
    for name, z, y in sorted(wanted, key=lambda one: one[1]):
        x, up = view((z, y))
        long = 0.6 * WORDS * len(name)
        left = max(end, x - long / 2)
        end = left + long + 2.0
        sheet.text(left, foot, name, WORDS)
        leader(sheet, (left + long / 2, foot + WORDS), (x, up))
    return foot - ROW_MM


def _detail(
    sheet: Sheet, scene: Scene, gap: Gap, numbers: Numbers, flip: float, low: float
) -> None:
    """The spot enlarged, with the gap's size."""
    import shapely

    assert scene.spot
    (z0, y0), (z1, y1) = scene.spot
    wide = hypot(z1 - z0, y1 - y0)
    times = min(MOST_TIMES, SHOWN_GAP_MM / max(wide, SHOWN_GAP_MM / MOST_TIMES))
    half, middle = DETAIL_MM / 2 / times, ((z0 + z1) / 2, (y0 + y1) / 2)
    window = shapely.box(middle[0] - half, middle[1] - half, middle[0] + half, middle[1] + half)
    at = (DETAIL_MM / 2, low - DETAIL_MM / 2)

    def view(point: Point) -> Point:
        return at[0] + times * (point[0] - middle[0]), at[1] + flip * times * (point[1] - middle[1])

    _draw(sheet, scene, view, flip, window)
    side = DETAIL_MM / 2
    frame = [(at[0] + a * side, at[1] + b * side) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    sheet.path(frame, MIDDLE, closed=True, name="detail")
    _measure(sheet, view((z0, y0)), view((z1, y1)))
    beside = "in front of the axis" if flip > 0 else "under the axis"
    said = (
        numbers.clearance(gap.distance_mm),
        f"{gap.part} to {gap.obstacle},",
        f"at least {numbers.clearance(gap.least_mm)};",
        *((f"{beside} by {numbers.clearance(scene.off_mm)};",) if scene.off_mm else ()),
        f"drawn {times:.2g} times full size",
    )
    rows(sheet, (DETAIL_MM + 5.0, at[1] + 6.0), said)


def _measure(sheet: Sheet, here: Point, there: Point) -> None:
    """A dimension line with a head at each end, and what it runs between."""
    (x0, y0), (x1, y1) = here, there
    long = hypot(x1 - x0, y1 - y0)
    if long < 1e-6:
        return
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    sheet.path([here, there], MIDDLE, name="gap, enlarged")
    head = min(2.4, long / 3)
    for (x, y), way in ((here, head), (there, -head)):
        wings = [(x + way * ux - s * 0.7 * uy, y + way * uy + s * 0.7 * ux) for s in (1, -1)]
        sheet.path([(x, y), *wings], 0.0, fill="#000", closed=True)
        sheet.path([(x - 5 * uy, y + 5 * ux), (x + 5 * uy, y - 5 * ux)], THIN)


def _head(
    sheet: Sheet,
    title: str,
    gap: Gap,
    numbers: Numbers,
    scale: float,
    arrangement: Arrangement,
    seen: bool,
) -> None:
    """The title, the gap, the pose, and from where it is seen."""
    lies = "ringed" if seen else "along the pivot, out of sight"
    tip = f", tip radius {numbers.caliper(gap.tip_radius_mm)}" if gap.tip_radius_mm else ""
    side, dashes = (
        ("From the front, the chuck on the left", "nearer to you")
        if arrangement == "across"
        else ("From above, the chuck left, you below", "lower down")
    )
    said = wrapped(
        f"Tightest: {gap.part} to {gap.obstacle}, {numbers.clearance(gap.distance_mm)}, {lies}."
        f" Swing {numbers.angle(gap.swing_deg, 1)}{tip}. Drawn 1 : {1 / scale:.2g}."
        f" {side}. Thin dashes: {dashes}."
    )
    rows(sheet, (0.0, 6.0 + ROW_MM * (len(said) - 1)), said)
    sheet.text(0.0, 8.0 + ROW_MM * len(said), title, TITLE)
