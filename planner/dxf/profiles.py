"""DXF files for a cutter: one flat profile, or outlines on layers of the caller's, 1:1 in mm.

Knows plane curves and nothing else. Imported by the package and by the nest's DXF.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from planner.dxf.drawing import (
    CENTRE_MARK_MM,
    LAYERS,
    OVERRUN_MM,
    TEXT_MM,
    Text,
    add_path,
    add_text,
    document,
    finish,
    repeatable,
)
from planner.dxf.paths import Chain, Extent, extent_of, line_of
from planner.geometry.curves import FlatProfile, Line, Outline


def write_profile(
    path: Path, profile: FlatProfile, version: str = "R2010", inch: bool = False, thick: str = ""
) -> None:
    """Write a flat profile for the cutter.

    path: the file, whole or not at all; a file of that name is replaced.
    profile: what to cut and mark, in mm, at its own coordinates.
    version: one of VERSIONS. All but R12 say what the unit is ($INSUNITS 4, the millimetre, or 1) and
    give the layers their line weights; R12 has neither, so its reader must be told "mm", or "in".
    inch: the file is in inches. thick: the thickness as its title has it; by default in mm.
    Layer MARK holds the centre marks and, below the piece, its title as text; layer CUT the holes
    and then the outline, in that order in the file, so that a cutter that follows the file cuts
    the holes while the piece is still held. Kerf is the cutter's to allow for.
    Raises ValueError for an unknown version, OSError when the file cannot be written.
    """
    outline = Chain(profile.outline.vertices, closed=True)
    extent = extent_of([outline])
    with repeatable():
        doc = document(version, LAYERS, inch)
        space = doc.modelspace()
        for x, y in profile.marks:
            half = CENTRE_MARK_MM / 2
            space.add_line((x - half, y), (x + half, y), {"layer": "MARK"})
            space.add_line((x, y - half), (x, y + half), {"layer": "MARK"})
        thick = thick or f"{profile.thickness_mm:g} mm"
        label = f"{profile.title}, {profile.material}, {thick} thick"
        base = extent.bottom - OVERRUN_MM - TEXT_MM
        add_text(space, label, (extent.left, base), TEXT_MM)
        for hole in profile.holes:
            add_path(space, Chain(hole.vertices, closed=True), "CUT")
        add_path(space, outline, "CUT")
        finish(doc, path, Extent(extent.left, base, extent.right, extent.top), inch)


def write_layers(
    path: Path,
    layers: Mapping[str, tuple[int, str, int]],
    drawn: Sequence[tuple[str, Outline | Line | Text]],
    version: str = "R2010",
    inch: bool = False,
) -> None:
    """Write outlines, lines and texts on layers of the caller's, in the order given, 1:1.

    path: the file, whole or not at all; layers: as LAYERS; drawn: (layer, what) at least one of
    them no text; version, inch: as for write_profile. Outlines are closed polylines with bulges and
    keep their first vertex and their direction, circles too, so that a cutter starts where it should.
    Raises ValueError for an unknown version, OSError when the file cannot be written.
    """
    paths = {
        at: Chain(what.vertices, closed=True)
        if isinstance(what, Outline)
        else line_of(what.start, what.end)
        for at, (_, what) in enumerate(drawn)
        if not isinstance(what, Text)
    }
    with repeatable():
        doc = document(version, layers, inch)
        space = doc.modelspace()
        for at, (layer, what) in enumerate(drawn):
            if isinstance(what, Text):
                add_text(space, what.text, what.at, what.height_mm, layer)
            else:
                add_path(space, paths[at], layer, circles=False)
        finish(doc, path, extent_of(paths.values()), inch)
