"""A sheet taken apart into strokes and texts: the door for the writers and the layout's checks.

drawn(item) is of one item, whatever it is: here every rule is loaded.
"""

from __future__ import annotations

from planner.drawing import dimensioned, symbols  # noqa: F401 - their rules are registered
from planner.drawing.model import Dimension, Sheet
from planner.drawing.strokes import Drawn, drawn

__all__ = ["Drawn", "apart", "drawn"]


def apart(sheet: Sheet, dimensions: bool = True) -> Drawn:
    """All strokes and texts of a sheet, frame and all, in order; without its dimensions if so asked."""
    items = [one for one in sheet.everything if dimensions or not isinstance(one, Dimension)]
    pieces = [drawn(one) for one in items]
    return Drawn(
        tuple(stroke for piece in pieces for stroke in piece.strokes),
        tuple(text for piece in pieces for text in piece.texts),
    )
