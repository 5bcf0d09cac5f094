"""The outline of a view as an area: what it draws, filled."""

from __future__ import annotations

from math import cos, dist, radians, sin
from typing import Any

from shapely import unary_union
from shapely.geometry import LineString, Polygon

from .views import View

GRID_MM = 1e-4
"""Lines are known this well: what is nearer lies on one place."""

CLOSING_MM = 2e-3
"""Lines are this wide for once, that corners close which curves end in."""

OVERRUN_MM = 5e-3
"""Lines are drawn on by so much, that corners close which curves end in."""


def silhouette(view: View) -> Any:
    """What a view draws, filled: holes too. Ends of lines nearer than twice CLOSING_MM close."""
    paths = [list(s.points) for s in view.lines("VISIBLE")]
    paths += [[view.at(p) for p in points] for layer, points in view.curves if layer == "VISIBLE"]
    paths += [_arc(r, view) for r in view.circles("VISIBLE", whole=False)]
    lines = [LineString(path) for path in paths if dist(path[0], path[1]) > 1e-6]
    wide = unary_union(lines).buffer(CLOSING_MM, cap_style="square", join_style="mitre")
    filled = [Polygon(part.exterior) for part in getattr(wide, "geoms", [wide])]
    return unary_union(filled).buffer(-CLOSING_MM, join_style="mitre")


def longer(path: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A path drawn on at both ends."""

    def beyond(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
        far = dist(a, b)
        if far < 1e-9:
            return b
        return tuple(q + (q - p) / far * OVERRUN_MM for p, q in zip(a, b, strict=True))  # type: ignore[return-value]

    return [beyond(path[1], path[0]), *path[1:-1], beyond(path[-2], path[-1])]


def _arc(r: Any, view: View) -> list[tuple[float, float]]:
    su, sv, _ = view.signs
    turned = [radians(r.start + (r.end - r.start) * k / 96) for k in range(97)]
    return [
        (r.centre[0] + su * r.radius * cos(t), r.centre[1] + sv * r.radius * sin(t)) for t in turned
    ]
