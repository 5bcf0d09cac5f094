"""What an operation takes away, by its shape, as the record of a route has it.

One function a shape; lengths in mm in the frame of the work, along the letter of the axis. Imported by
the ways.
"""

from __future__ import annotations

from parts.frame import Box
from planner.making.model import Cut, Line, as_record


def face(axis: Line, at_mm: float, keeps: str, diameter_mm: float, off_mm: float) -> Cut:
    """A face turned square to the axis: where, which side stays, how far out it sweeps, what comes
    off."""
    return {
        "shape": "face",
        "axis": as_record(axis),
        "at_mm": at_mm,
        "keeps": keeps,
        "diameter_mm": diameter_mm,
        "off_mm": off_mm,
    }


def _round(
    shape: str, axis: Line, span: tuple[float, float], before_mm: float, after_mm: float
) -> Cut:
    return {
        "shape": shape,
        "axis": as_record(axis),
        "from_mm": span[0],
        "to_mm": span[1],
        "before_mm": before_mm,
        "after_mm": after_mm,
    }


def turn(axis: Line, span: tuple[float, float], before_mm: float, after_mm: float) -> Cut:
    """An outside diameter."""
    return _round("turn", axis, span, before_mm, after_mm)


def bore(axis: Line, span: tuple[float, float], before_mm: float, after_mm: float) -> Cut:
    """An inside diameter turned; before 0 in the solid."""
    return _round("bore", axis, span, before_mm, after_mm)


def hole(axis: Line, span: tuple[float, float], after_mm: float) -> Cut:
    """A hole by a tool of its size, fed along the axis from the first to the second."""
    return {
        "shape": "hole",
        "axis": as_record(axis),
        "from_mm": span[0],
        "to_mm": span[1],
        "after_mm": after_mm,
    }


def thread(
    axis: Line, span: tuple[float, float], diameter_mm: float, pitch_mm: float, inside: bool
) -> Cut:
    """A thread."""
    return {
        "shape": "thread",
        "axis": as_record(axis),
        "from_mm": span[0],
        "to_mm": span[1],
        "diameter_mm": diameter_mm,
        "pitch_mm": pitch_mm,
        "inside": inside,
    }


def flat(normal: str, at_mm: float, box: Box) -> Cut:
    """A flat: which way it faces, where the new face lies, what is taken off."""
    corners = [list(box.low), list(box.high)]
    return {"shape": "flat", "normal": normal, "at_mm": at_mm, "box": corners}


def slot(box: Box, sides: tuple[str, ...]) -> Cut:
    """A slot, notch or slit: what is taken out, and the sides that are open."""
    return {"shape": "slot", "box": [list(box.low), list(box.high)], "open": list(sides)}


def slit(
    box: Box, sides: tuple[str, ...], feed: str, depth: str, travel_mm: float, fed_by: str = ""
) -> Cut:
    """A slot by a round saw: the way the work is fed past it, how far, and the way that it goes in.

    fed_by: the slide that feeds it, where the lathe's slides do.
    """
    found = slot(box, sides) | {"feed": feed, "depth": depth, "travel_mm": travel_mm}
    return found | ({"fed_by": fed_by} if fed_by else {})


def saw(low_mm: float, high_mm: float) -> Cut:
    """Cut off the bar: what is there then, along the piece."""
    return {"shape": "saw", "at_mm": [low_mm, high_mm]}


def along(span: tuple[float, float]) -> Cut:
    """What takes off nothing that counts, from where to where."""
    return {"shape": "other", "from_mm": span[0], "to_mm": span[1]}
