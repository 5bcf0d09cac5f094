"""DXF files of a part's views in first-angle projection: true arcs, 1:1 in millimetres.

Knows plane curves and nothing else. Imported by the package.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from planner.dxf.drawing import (
    LAYERS,
    OVERRUN_MM,
    TEXT_MM,
    TITLE_MM,
    add_path,
    add_text,
    document,
    finish,
    repeatable,
)
from planner.dxf.paths import Chain, extent_of, joined, line_of
from planner.geometry.curves import Curve

VIEW_LAYERS = ("VISIBLE", "HIDDEN", "CENTER", "MARK")

VIEW_NAMES = {"front": "Front view", "top": "Top view", "left": "View from the left"}

GAP_MM = 20.0

_Placed = tuple[str, Chain]
"""A path and the layer it goes on."""


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
    empty = [name for name, curves in views.items() if not joined(curves)]
    if unknown or empty or not views:
        wrong = f"unknown view {unknown[0]!r}" if unknown else f"nothing to draw in {empty}"
        raise ValueError(f"{title}: {wrong}; give curves for some of {', '.join(VIEW_NAMES)}")
    drawn = _first_angle(
        {name: _view_paths(name, views[name], turned) for name in VIEW_NAMES if name in views}
    )
    whole = extent_of(path for paths in drawn.values() for _, path in paths)
    note_y = whole.top + 2 * OVERRUN_MM + 2 * TEXT_MM
    title_y = note_y + 2 * TEXT_MM
    note = "1:1 in mm (1 in = 25.4 mm)" if inch else "1:1 in mm"
    with repeatable():
        doc = document(version, {name: LAYERS[name] for name in VIEW_LAYERS})
        space = doc.modelspace()
        for name, paths in drawn.items():
            for layer, line in paths:
                add_path(space, line, layer)
            extent = extent_of(line for _, line in paths)
            add_text(space, VIEW_NAMES[name], (extent.left, extent.top + OVERRUN_MM), TEXT_MM)
        add_text(space, f"{note}, first-angle projection", (whole.left, note_y), TEXT_MM)
        add_text(space, title, (whole.left, title_y), TITLE_MM)
        finish(doc, path, replace(whole, top=title_y + TITLE_MM))


def _view_paths(name: str, curves: Sequence[Curve], turned: bool) -> list[_Placed]:
    """A view's paths, hidden ones first so that visible ones lie on top, and its centre lines."""
    paths = [("HIDDEN", path) for path in joined(c for c in curves if c.hidden)]
    paths += [("VISIBLE", path) for path in joined(c for c in curves if not c.hidden)]
    if turned:
        extent = extent_of(path for _, path in paths)
        left, right = extent.left - OVERRUN_MM, extent.right + OVERRUN_MM
        paths.append(("CENTER", line_of((left, 0.0), (right, 0.0))))
        if name == "left":
            bottom, top = extent.bottom - OVERRUN_MM, extent.top + OVERRUN_MM
            paths.append(("CENTER", line_of((0.0, bottom), (0.0, top))))
    return paths


def _first_angle(views: Mapping[str, list[_Placed]]) -> dict[str, list[_Placed]]:
    """The views in their places: the front stays, the top goes down, the left to the right."""
    extents = {name: extent_of(path for _, path in paths) for name, paths in views.items()}
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
