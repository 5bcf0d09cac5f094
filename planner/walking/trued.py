"""What sets work true before it is cut: the surface said can be set so, and it sets the angle.

Imported by planner.walking.fixed.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from planner.walking.faults import Faults
from planner.walking.finished import line_of
from planner.walking.records import Record, rows, text
from planner.walking.shape import Line
from planner.walking.state import Piece
from planner.walking.surfaces import Axis, Cylinder, NoSurface, Plane, surface

UPRIGHT = ("square to the table", "square to the milling slide's face")
LEVEL = ("parallel to the table", "parallel to the milling slide's face")
"""What is said of a face by what the work is bolted to: a milling slide's face is its table."""

ALONG_THE_BED, SQUARE_TO_IT = ("along the bed", "parallel to the bed"), "square to the spindle"
"""What is said of work that stands still on the lathe: a face square to the spindle looks at it."""


STANDS = 3.0
"""So many times as high as what a vice grips of it, work is set upright (common practice)."""


TRUE_MM = 0.05
"""What is set true to what is finished runs out no more (common practice: a hundredth or two)."""

LIGHT_MM = 0.045
"""Less is not seen under a square's blade (common practice: half a tenth, 0.002 in)."""

BORED_TO_IT = ("split bush", "soft jaws")
"""What is bored in its place, so that it holds a finish true."""

CLOSE_MM = 0.15
"""What has limits so close fits something, and runs true to the rest; so does a thread. The general
tolerance is wider (ISO 2768-m: 0.2 and more)."""


def runs_true(piece: Piece, setup: Record, operations: Sequence[Record], faults: Faults) -> None:
    """What is cut closely about the line of a finished round in jaws is true to it: it is set so.

    A collet, a split bush and soft jaws bored to it hold it true; a die goes by the work itself.
    """
    hold = setup.get("hold") or {}
    made = (str(name) for one in operations if not _die(one) for name in one.get("makes") or ())
    cut = [name for name in made if _close(piece.features.get(name))]
    if hold.get("by") == "collet" or not cut:
        return
    for grip in rows(hold, "grips"):
        name = text(grip, "surface")
        packing = str(grip.get("packing") or "")
        on = piece.features.get(name.rpartition(".")[0])
        if grip.get("other") or any(one in packing for one in BORED_TO_IT):
            continue
        if not isinstance(on, f.TurnedDiameter | f.Bore | f.ReamedHole):
            continue
        if not any(_on_line(piece, one, line_of(on.axis)) for one in rows(setup, "align")):
            faults.refuse(
                "route-not-trued",
                f"jaws on the finished {on.name}, then the {cut[0]}",
                "jaws that close together are out by more than it may be",
                "Set it true by an indicator: in the four-jaw chuck, or a shim under a jaw",
            )


def _die(operation: Record) -> bool:
    return (operation.get("tool") or {}).get("kind") == "die"


def _close(feature: f.Feature | None) -> bool:
    """Whether it fits something, about an axis."""
    if isinstance(feature, f.Thread):
        return True
    if not isinstance(feature, f.TurnedDiameter | f.Bore | f.ReamedHole):
        return False
    return feature.diameter.max_mm - feature.diameter.min_mm <= CLOSE_MM


def _on_line(piece: Piece, align: Record, line: Line) -> bool:
    """Whether a round about a line is set to run true, closely enough."""
    try:
        face = surface(piece, text(align, "surface"))
    except NoSurface:
        return False
    within = float(align.get("within_mm") or 0.0)
    true = "runs true" in text(align, "what") and 0 < within <= TRUE_MM
    return true and isinstance(face, Cylinder | Axis) and face.line.same(line)


def set_along(piece: Piece, setup: Record, spindle: Line, faults: Faults) -> None:
    """What is said to lie along the bed does, what is said to be square to the spindle is.

    spindle: the line of the work that lies on the spindle's.
    """
    for one in rows(setup, "align"):
        what = text(one, "what")
        try:
            face = surface(piece, text(one, "surface"))
        except NoSurface:
            continue  # said by set_true
        if isinstance(face, Plane):
            along = face.along != spindle.along
        else:
            along = face.line.along == spindle.along
        lies = any(words in what for words in ALONG_THE_BED)
        if lies and not along or SQUARE_TO_IT in what and along:
            faults.refuse(
                "route-not-trued",
                f"{text(one, 'surface')}: {what}",
                "it lies along the bed" if along else "it is square to the spindle",
                "Set it as it lies when the cut is on the spindle's line",
            )


def _long(piece: Piece, i: int) -> float:
    """How long the work is along an axis, mm."""
    low, high = piece.metal.box
    return float(high[i] - low[i])


def set_upright(
    piece: Piece, setup: Record, up: int, jaws: Sequence[tuple[int, float, float]], faults: Faults
) -> None:
    """Work that stands high out of a vice is set square to the table: the jaws do it one way only.

    jaws: across which direction each pair closes, and from where to where it grips along the way up.
    """
    high = _long(piece, up)
    held = max((b - a for _, a, b in jaws), default=0.0)
    foot = max((held, *(_long(piece, 3 - up - across) for across, _, _ in jaws)))
    said = (text(one, "what") for one in rows(setup, "align"))
    if held and high > STANDS * foot and not any(o.endswith(UPRIGHT) for o in said):
        faults.refuse(
            "route-not-trued",
            f"{faults.mm(high)} high, {faults.mm(held)} of it in the vice",
            "the jaws set it upright one way only",
            "Set a side square to the table by a square",
        )


def set_true(piece: Piece, setup: Record, up: int, faults: Faults) -> None:
    """What is said to be square to the table stands upright, what is said to be parallel lies."""
    for one in rows(setup, "align"):
        what, name = text(one, "what"), text(one, "surface")
        try:
            face = surface(piece, name)
        except NoSurface as none:
            faults.refuse(
                "route-no-surface",
                none.what,
                "the work has no such surface as it is then",
                "Set it by what is there",
            )
            continue
        if what.endswith(LEVEL) and one.get("by") == "square":
            faults.refuse(
                "route-not-trued",
                f"{name}: {what}",
                "a square reads only what stands upright",
                "Run an indicator over it, or a scribing block",
            )
        stands = face.along != up if isinstance(face, Plane) else face.line.along == up
        if what.endswith(UPRIGHT) and not stands or what.endswith(LEVEL) and stands:
            faults.refuse(
                "route-not-trued",
                f"{name}: {what}",
                "it lies level" if not stands else "it stands upright",
                "Set a face or a round that can be set so",
            )


def closely_read(setup: Record, faults: Faults) -> None:
    """A square shows no less than the light under its blade."""
    for one in rows(setup, "align"):
        within = one.get("within_mm")
        if one.get("by") == "square" and isinstance(within, float) and within < LIGHT_MM:
            faults.refuse(
                "route-not-trued",
                f"{text(one, 'what')}, by a square within {faults.mm(within)}",
                "light shows under a square at half a tenth",
                "Say what a square is read to, or set it by an indicator",
            )


def angle_set(piece: Piece, setup: Record, line: Line, faults: Faults) -> None:
    """Work that lies on a round and is not round about it all over is set about it by something else.

    line: the axis of the round that it lies on.
    """
    if not _has_an_angle(piece, line):
        return
    for one in rows(setup, "align"):
        try:
            face = surface(piece, text(one, "surface"))
        except NoSurface:
            continue
        if isinstance(face, Plane) and face.along != line.along:
            return
        if isinstance(face, Cylinder | Axis) and not face.line.same(line):
            return
    faults.refuse(
        "route-not-trued",
        "a round alone lies in the vees or the jaws",
        "it sets no angle about its own axis",
        "Set a face of the work square or parallel to the table",
    )


def _has_an_angle(piece: Piece, line: Line) -> bool:
    """Whether there is something on the work that is not about a line."""
    if len(piece.metal.bodies) > 1:
        return True
    for name in piece.begun:
        feature = piece.features.get(name)
        about = isinstance(feature, f.Turned | f.Hole) and line_of(feature.axis).same(line)
        if not about and not isinstance(feature, f.FacedLength | None):
            return True
    return False
