"""Plain entities of a drawing as the text that stands for them in its file, made in one go.

Imported by planner.drawing.dxf. A sheet has thousands of strokes, and ezdxf asks of each all that an
entity may have besides. What is written is what it would write (a test holds the two together), from
R2000 on.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from planner.geometry.curves import Point2

if TYPE_CHECKING:
    from ezdxf.layouts.base import BaseLayout


class Written(NamedTuple):
    """An entity: its type, its layer, and the groups of its own (code and value, a line each)."""

    kind: str
    layer: str
    groups: str


def line(start: Point2, end: Point2, layer: str) -> Written:
    """A straight line."""
    return Written("LINE", layer, f"100\nAcDbLine\n{_point(10, start)}{_point(11, end)}")


def circle(centre: Point2, radius: float, layer: str) -> Written:
    """A full circle."""
    return Written("CIRCLE", layer, _round(centre, radius))


def arc(centre: Point2, radius: float, start_deg: float, end_deg: float, layer: str) -> Written:
    """An arc, counter-clockwise."""
    ends = f"100\nAcDbArc\n 50\n{float(start_deg)}\n 51\n{float(end_deg)}\n"
    return Written("ARC", layer, _round(centre, radius) + ends)


def triangle(a: Point2, b: Point2, c: Point2, layer: str) -> Written:
    """A filled triangle."""
    corners = "".join(
        _point(code, at) for code, at in zip((10, 11, 12, 13), (a, b, c, c), strict=True)
    )
    return Written("SOLID", layer, f"100\nAcDbTrace\n{corners}")


def polyline(points: Sequence[Point2], closed: bool, layer: str) -> Written:
    """Straight lines end to end."""
    corners = "".join(f" 10\n{float(x)}\n 20\n{float(y)}\n" for x, y in points)
    head = f"100\nAcDbPolyline\n 90\n{len(points)}\n 70\n{int(closed)}\n"
    return Written("LWPOLYLINE", layer, head + corners)


def text(
    words: str, at: Point2, height: float, rotation_deg: float, style: str, layer: str
) -> Written:
    """One line of words from its lower left corner; a caret at its end would begin a sign."""
    one_line = words.replace("\n", "").replace("\r", "").rstrip("^")
    turned = f" 50\n{float(rotation_deg)}\n" if rotation_deg else ""
    said = f"{_point(10, at)} 40\n{float(height)}\n  1\n{one_line}\n{turned}  7\n{style}\n"
    return Written("TEXT", layer, f"100\nAcDbText\n{said}100\nAcDbText\n")


def add(space: BaseLayout, entities: Iterable[Written]) -> None:
    """Put them into a layout or a block, each with a handle of its own, after what is there."""
    handle, owner = space.doc.entitydb.next_handle, space.layout_key
    one = _entities()()
    one.text = "".join(
        f"  0\n{kind}\n  5\n{handle()}\n330\n{owner}\n100\nAcDbEntity\n  8\n{layer}\n{groups}"
        for kind, layer, groups in entities
    )
    space.entity_space.add(one)


@cache
def _entities() -> Any:
    """The class of what stands in ezdxf's list of entities for all that were added at once."""
    from ezdxf.entities.dxfgfx import DXFGraphic

    class Entities(DXFGraphic):
        text = ""

        def export_dxf(self, tagwriter: Any) -> None:
            tagwriter.write_str(self.text)

    return Entities


def _point(group: int, at: Point2) -> str:
    """A point of the plane as the three groups of one in space."""
    return f" {group}\n{float(at[0])}\n {group + 10}\n{float(at[1])}\n {group + 20}\n0.0\n"


def _round(centre: Point2, radius: float) -> str:
    return f"100\nAcDbCircle\n{_point(10, centre)} 40\n{float(radius)}\n"
