"""DXF files of flat profiles and views: true arcs, 1:1 in millimetres, the same bytes every time.

The only module that imports ezdxf, and only while it writes. Knows plane curves and nothing else.
"""

from __future__ import annotations

import io
import os
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, radians, sin, tan
from pathlib import Path
from typing import TYPE_CHECKING

from planner.geometry.curves import Arc, Curve, FlatProfile, Line, Outline, Point2, Polyline

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")

WIDE, NARROW = 50, 25
"""Line weights in 1/100 mm, wide and narrow in the ratio 2:1 (ISO 128-2, from memory)."""

LAYERS = {
    # name: (colour index, linetype, line weight)
    "CUT": (7, "CONTINUOUS", WIDE),
    "MARK": (3, "CONTINUOUS", NARROW),
    "VISIBLE": (7, "CONTINUOUS", WIDE),
    "HIDDEN": (8, "HIDDEN", NARROW),
    "CENTER": (1, "CENTER", NARROW),
}
PROFILE_LAYERS = ("CUT", "MARK")
VIEW_LAYERS = ("VISIBLE", "HIDDEN", "CENTER", "MARK")

LINETYPES = {
    # Dashes above 0, gaps below, in mm: 12, 24 and 3 narrow line widths (ISO 128-2, from memory).
    # The dot of the centre line is drawn as a short dash, as CAD programs do (common practice).
    "HIDDEN": ("Hidden __ __ __", (3.0, -0.75)),
    "CENTER": ("Center ____ _ ____", (6.0, -0.75, 1.5, -0.75)),
}

VIEW_NAMES = {"front": "Front view", "top": "Top view", "left": "View from the left"}

JOIN_MM = 0.002
"""Curve ends closer together than this meet."""

CENTRE_MARK_MM = 3.0
GAP_MM = 20.0
OVERRUN_MM = 3.0
TITLE_MM, TEXT_MM = 5.0, 3.5
"""Text heights in the series of ISO 3098-1 (from memory)."""

Vertex = tuple[float, float, float]


@dataclass(frozen=True)
class _Path:
    """Lines and arcs end to end: vertices with bulges, as geometry.curves.Outline, or open."""

    vertices: tuple[Vertex, ...]
    closed: bool

    def segments(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Each vertex with the next."""
        return pairwise([*self.vertices, self.vertices[0]] if self.closed else self.vertices)

    def reversed(self) -> _Path:
        """The same open path the other way: each bulge goes to the other end of its arc."""
        back = self.vertices[::-1]
        bulges = [-vertex[2] for vertex in back[1:]] + [0.0]
        return _Path(
            tuple((x, y, bulge) for (x, y, _), bulge in zip(back, bulges, strict=True)),
            closed=False,
        )

    def moved(self, dx_mm: float, dy_mm: float) -> _Path:
        """The same path elsewhere."""
        return replace(self, vertices=tuple((x + dx_mm, y + dy_mm, b) for x, y, b in self.vertices))


@dataclass(frozen=True)
class Text:
    """One line of text from its lower left corner."""

    text: str
    at: Point2
    height_mm: float


_Placed = tuple[str, _Path]
"""A path and the layer it goes on."""


@dataclass(frozen=True)
class _Extent:
    """An upright rectangle round something drawn."""

    left: float
    bottom: float
    right: float
    top: float


def write_profile(path: Path, profile: FlatProfile, version: str = "R2010") -> None:
    """Write a flat profile for the cutter.

    path: the file, whole or not at all; a file of that name is replaced.
    profile: what to cut and mark, in mm, at its own coordinates.
    version: one of VERSIONS. All but R12 say that the unit is the millimetre ($INSUNITS 4) and
    give the layers their line weights; R12 has neither, so its reader must be told "mm".
    Layer MARK holds the centre marks and, below the piece, its title as text; layer CUT the holes
    and then the outline, in that order in the file, so that a cutter that follows the file cuts
    the holes while the piece is still held. Kerf is the cutter's to allow for.
    Raises ValueError for an unknown version, OSError when the file cannot be written.
    """
    outline = _Path(profile.outline.vertices, closed=True)
    extent = _extent([outline])
    with _repeatable():
        doc = _document(version, {name: LAYERS[name] for name in PROFILE_LAYERS})
        space = doc.modelspace()
        for x, y in profile.marks:
            half = CENTRE_MARK_MM / 2
            space.add_line((x - half, y), (x + half, y), {"layer": "MARK"})
            space.add_line((x, y - half), (x, y + half), {"layer": "MARK"})
        label = f"{profile.title}, {profile.material}, {profile.thickness_mm:g} mm thick"
        base = extent.bottom - OVERRUN_MM - TEXT_MM
        _add_text(space, label, (extent.left, base), TEXT_MM)
        for hole in profile.holes:
            _add_path(space, _Path(hole.vertices, closed=True), "CUT")
        _add_path(space, outline, "CUT")
        _finish(doc, path, _Extent(extent.left, base, extent.right, extent.top))


def write_layers(
    path: Path,
    layers: Mapping[str, tuple[int, str, int]],
    drawn: Sequence[tuple[str, Outline | Line | Text]],
    version: str = "R2010",
) -> None:
    """Write outlines, lines and texts on layers of the caller's, in the order given, 1:1 in mm.

    path: the file, whole or not at all; layers: as LAYERS; drawn: (layer, what) at least one of
    them no text; version: as for write_profile. Outlines are closed polylines with bulges and keep
    their first vertex and their direction, circles too, so that a cutter starts where it should.
    Raises ValueError for an unknown version, OSError when the file cannot be written.
    """
    paths = {
        at: _Path(what.vertices, closed=True)
        if isinstance(what, Outline)
        else _line(what.start, what.end)
        for at, (_, what) in enumerate(drawn)
        if not isinstance(what, Text)
    }
    with _repeatable():
        doc = _document(version, layers)
        space = doc.modelspace()
        for at, (layer, what) in enumerate(drawn):
            if isinstance(what, Text):
                _add_text(space, what.text, what.at, what.height_mm, layer)
            else:
                _add_path(space, paths[at], layer, circles=False)
        _finish(doc, path, _extent(paths.values()))


def write_views(
    path: Path,
    title: str,
    views: Mapping[str, Sequence[Curve]],
    inch: bool = False,
    turned: bool = False,
    version: str = "R2010",
) -> None:
    """Write the views of one part in first-angle projection (ISO 5456-2, from memory), 1:1 in mm.

    path: the file, whole or not at all; a file of that name is replaced.
    title: the part's, written above the views.
    views: "front", "top" and "left" (from the left) -> the view's curves in mm. The front view
    stays at its own coordinates, the top view goes straight down from its own and the view from
    the left straight to the right, so views stay in line when they share the part's axes.
    inch: the shop works in inches; the note then says how the drawing's millimetres convert.
    turned: the part is turned about the x axis, which gets its centre lines: along y = 0 in the
    front and top views, crossing at the origin in the view from the left.
    version: one of VERSIONS; R12 has no $INSUNITS and no line weights.
    Curves that meet end to end become polylines on VISIBLE or HIDDEN, circles stay circles.
    Raises ValueError for an unknown version, an unknown or empty view, OSError when the file
    cannot be written.
    """
    unknown = [name for name in views if name not in VIEW_NAMES]
    empty = [name for name, curves in views.items() if not _joined(curves)]
    if unknown or empty or not views:
        wrong = f"unknown view {unknown[0]!r}" if unknown else f"nothing to draw in {empty}"
        raise ValueError(f"{title}: {wrong}; give curves for some of {', '.join(VIEW_NAMES)}")
    drawn = _first_angle(
        {name: _view_paths(name, views[name], turned) for name in VIEW_NAMES if name in views}
    )
    whole = _extent(path for paths in drawn.values() for _, path in paths)
    note_y = whole.top + 2 * OVERRUN_MM + 2 * TEXT_MM
    title_y = note_y + 2 * TEXT_MM
    note = "1:1 in mm (1 in = 25.4 mm)" if inch else "1:1 in mm"
    with _repeatable():
        doc = _document(version, {name: LAYERS[name] for name in VIEW_LAYERS})
        space = doc.modelspace()
        for name, paths in drawn.items():
            for layer, line in paths:
                _add_path(space, line, layer)
            extent = _extent(line for _, line in paths)
            _add_text(space, VIEW_NAMES[name], (extent.left, extent.top + OVERRUN_MM), TEXT_MM)
        _add_text(space, f"{note}, first-angle projection", (whole.left, note_y), TEXT_MM)
        _add_text(space, title, (whole.left, title_y), TITLE_MM)
        _finish(doc, path, replace(whole, top=title_y + TITLE_MM))


# ---- the sheet ----


def _view_paths(name: str, curves: Sequence[Curve], turned: bool) -> list[_Placed]:
    """A view's paths, hidden ones first so that visible ones lie on top, and its centre lines."""
    paths = [("HIDDEN", path) for path in _joined(c for c in curves if c.hidden)]
    paths += [("VISIBLE", path) for path in _joined(c for c in curves if not c.hidden)]
    if turned:
        extent = _extent(path for _, path in paths)
        left, right = extent.left - OVERRUN_MM, extent.right + OVERRUN_MM
        paths.append(("CENTER", _line((left, 0.0), (right, 0.0))))
        if name == "left":
            bottom, top = extent.bottom - OVERRUN_MM, extent.top + OVERRUN_MM
            paths.append(("CENTER", _line((0.0, bottom), (0.0, top))))
    return paths


def _first_angle(views: Mapping[str, list[_Placed]]) -> dict[str, list[_Placed]]:
    """The views in their places: the front stays, the top goes down, the left to the right."""
    extents = {name: _extent(path for _, path in paths) for name, paths in views.items()}
    moves = dict.fromkeys(views, (0.0, 0.0))
    if "top" in views and len(views) > 1:
        floor_y = min(extent.bottom for name, extent in extents.items() if name != "top")
        moves["top"] = (0.0, floor_y - GAP_MM - extents["top"].top)
    if "left" in views and len(views) > 1:
        wall_x = max(extent.right for name, extent in extents.items() if name != "left")
        moves["left"] = (wall_x + GAP_MM - extents["left"].left, 0.0)
    return {
        name: [(layer, path.moved(*moves[name])) for layer, path in paths]
        for name, paths in views.items()
    }


# ---- curves into paths ----


def _joined(curves: Iterable[Curve]) -> list[_Path]:
    """Curves joined where exactly two ends meet; at a fork of three or more the paths end."""
    paths: list[_Path] = []
    pieces: list[_Path] = []
    ends: list[tuple[int, int]] = []
    nodes: list[Vertex] = []
    at: dict[int, list[int]] = {}
    for curve in curves:
        piece = _piece(curve)
        if piece.closed:
            paths.append(piece)
            continue
        first, last = _node(nodes, piece.vertices[0]), _node(nodes, piece.vertices[-1])
        if first != last or _chords_mm(piece) > 4 * JOIN_MM:
            at.setdefault(first, []).append(len(pieces))
            at.setdefault(last, []).append(len(pieces))
            ends.append((first, last))
            pieces.append(piece)
    used: set[int] = set()

    def walk(number: int, node: int) -> _Path:
        start, vertices = node, list[Vertex]()
        while True:
            used.add(number)
            forward = ends[number][0] == node
            piece = pieces[number] if forward else pieces[number].reversed()
            node = ends[number][1] if forward else ends[number][0]
            vertices[-1:] = piece.vertices
            following = [other for other in at[node] if other not in used]
            if len(at[node]) != 2 or not following:
                break
            number = following[0]
        if node == start:
            return _Path(tuple(vertices[:-1]), closed=True)
        return _Path(tuple(vertices), closed=False)

    for number, both in enumerate(ends):
        for node in both:
            if number not in used and len(at[node]) != 2:
                paths.append(walk(number, node))
    paths.extend(walk(number, both[0]) for number, both in enumerate(ends) if number not in used)
    return paths


def _node(nodes: list[Vertex], vertex: Vertex) -> int:
    """The number of the node that a curve's end meets; a new one when it meets none."""
    for number, node in enumerate(nodes):
        if hypot(node[0] - vertex[0], node[1] - vertex[1]) <= JOIN_MM:
            return number
    nodes.append(vertex)
    return len(nodes) - 1


def _piece(curve: Curve) -> _Path:
    """One curve as a path; an arc of more than half a turn in two halves."""
    match curve:
        case Line(start, end):
            return _line(start, end)
        case Polyline(points):
            return _Path(tuple((x, y, 0.0) for x, y in points), closed=False)
        case Arc((x, y), radius, start_deg, end_deg):
            sweep = (end_deg - start_deg) % 360 or (360.0 if end_deg != start_deg else 0.0)
            if sweep > 180 and radius * radians(360 - sweep) < JOIN_MM:
                return _Path(((x - radius, y, 1.0), (x + radius, y, 1.0)), closed=True)
            count = 2 if sweep > 180 else 1
            angles = [radians(start_deg + sweep * k / count) for k in range(count + 1)]
            bulges = [tan(radians(sweep) / count / 4)] * count + [0.0]
            return _Path(
                tuple(
                    (x + radius * cos(angle), y + radius * sin(angle), bulge)
                    for angle, bulge in zip(angles, bulges, strict=True)
                ),
                closed=False,
            )
    raise TypeError(f"no rule to draw a {type(curve).__name__}")


def _line(start: Point2, end: Point2) -> _Path:
    return _Path(((*start, 0.0), (*end, 0.0)), closed=False)


def _chords_mm(path: _Path) -> float:
    return sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in path.segments())


def _arc(p: Vertex, q: Vertex) -> tuple[float, float, float]:
    """Centre and radius of the arc from p to q with p's bulge: the bulge is tan(angle / 4)."""
    dx, dy, bulge = q[0] - p[0], q[1] - p[1], p[2]
    off = (1 - bulge**2) / (4 * bulge)
    radius = hypot(dx, dy) * (1 + bulge**2) / (4 * abs(bulge))
    return (p[0] + q[0]) / 2 - off * dy, (p[1] + q[1]) / 2 + off * dx, radius


def _circle(path: _Path) -> tuple[float, float, float] | None:
    """Centre and radius when a closed path is one full circle."""
    bulges = [vertex[2] for vertex in path.vertices]
    if not path.closed or not (min(bulges) > 0 or max(bulges) < 0):
        return None
    arcs = [_arc(p, q) for p, q in path.segments()]
    same = all(abs(a - b) < JOIN_MM for arc in arcs for a, b in zip(arc, arcs[0], strict=True))
    return arcs[0] if same else None


def _extent(paths: Iterable[_Path]) -> _Extent:
    """What the paths span, with the outermost points of their arcs."""
    xs: list[float] = []
    ys: list[float] = []
    for p, q in (segment for path in paths for segment in path.segments()):
        points = [p[:2], q[:2]]
        if p[2]:
            x, y, radius = _arc(p, q)
            for side in ((x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)):
                # A point of the circle is on the arc when it lies to the right of a left turn's
                # chord, or to the left of a right turn's.
                turn = (q[0] - p[0]) * (side[1] - p[1]) - (q[1] - p[1]) * (side[0] - p[0])
                if turn * p[2] < 0:
                    points.append(side)
        xs.extend(x for x, _ in points)
        ys.extend(y for _, y in points)
    return _Extent(min(xs), min(ys), max(xs), max(ys))


# ---- ezdxf ----


@contextmanager
def _repeatable() -> Iterator[None]:
    """ezdxf with a fixed time stamp and fixed identifiers instead of the clock and chance."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]  # public, though not in __all__
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _document(version: str, layers: Mapping[str, tuple[int, str, int]]) -> Drawing:
    """An empty drawing in mm with these layers and the linetypes they need."""
    from ezdxf.document import Drawing

    if version not in VERSIONS:
        raise ValueError(f"DXF version {version!r} is not written; use {', '.join(VERSIONS)}")
    doc = Drawing.new(version)
    doc.header["$MEASUREMENT"] = 1
    if version != "R12":
        doc.units = 4
    for name, (colour, linetype, weight) in layers.items():
        if linetype in LINETYPES and linetype not in doc.linetypes:
            description, dashes = LINETYPES[linetype]
            length = sum(abs(dash) for dash in dashes)
            doc.linetypes.add(linetype, [length, *dashes], description=description)
        doc.layers.add(name, color=colour, linetype=linetype, lineweight=weight)
    return doc


def _add_path(space: Modelspace, path: _Path, layer: str, circles: bool = True) -> None:
    """A path; circles: one that is a full circle as such, not as a polyline."""
    attributes = {"layer": layer}
    if circles and (circle := _circle(path)):
        space.add_circle(_plain(circle[:2]), round(circle[2], 6), attributes)
        return
    if not path.closed and len(path.vertices) == 2:
        p, q = path.vertices
        if not p[2]:
            space.add_line(_plain(p[:2]), _plain(q[:2]), attributes)
            return
    points = [(*_plain((x, y)), round(bulge, 12) + 0.0) for x, y, bulge in path.vertices]
    if space.dxfversion == "AC1009":
        space.add_polyline2d(points, format="xyb", close=path.closed, dxfattribs=attributes)
    else:
        space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs=attributes)


def _add_text(
    space: Modelspace, text: str, at: Point2, height_mm: float, layer: str = "MARK"
) -> None:
    line = " ".join(text.split())
    space.add_text(line, height=height_mm, dxfattribs={"layer": layer, "insert": _plain(at)})


def _plain(point: Point2) -> Point2:
    """A point without the dust of binary fractions."""
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0


def _finish(doc: Drawing, path: Path, extent: _Extent) -> None:
    """Opens on the whole drawing; written beside its place and moved there in one step."""
    width, height = extent.right - extent.left, extent.top - extent.bottom
    centre = _plain((extent.left + width / 2, extent.bottom + height / 2))
    doc.set_modelspace_vport(round(1.1 * max(height, width / 1.5), 6), centre)
    low, high = _plain((extent.left, extent.bottom)), _plain((extent.right, extent.top))
    doc.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    # ezdxf takes the classes it needs from a set: put them in an order that is the same every time
    doc.classes.add_required_classes(doc.dxfversion)
    doc.classes.classes = OrderedDict(sorted(doc.classes.classes.items()))
    text = io.StringIO()
    doc.write(text)
    partial = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        partial.write_bytes(doc.encode(text.getvalue()))
        os.replace(partial, path)
    finally:
        partial.unlink(missing_ok=True)
