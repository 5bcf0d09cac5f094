"""A small SVG sheet: lines, arcs, hatched shapes and words in millimetres, black on white.

Told apart by line and hatching, so that it prints. Imported by the pictures; works nothing out.
"""

from __future__ import annotations

from math import cos, radians, sin
from xml.sax.saxutils import escape

MARGIN_MM = 14.0
THICK, MIDDLE, THIN = 0.6, 0.35, 0.18
"""Line widths, mm: outlines, the swept limit, dimensions and hatching (ISO 128 steps)."""

HATCH = (
    '<pattern id="steel" width="3" height="3" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(45)"><path d="M0,0V3" stroke="#000" stroke-width="0.25"/></pattern>'
    '<pattern id="work" width="2" height="2" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(-45)"><path d="M0,0V2" stroke="#000" stroke-width="0.15"/></pattern>'
)


class Sheet:
    """An SVG being drawn: z to the right, y up, in millimetres; its box grows with what is drawn."""

    def __init__(self) -> None:
        self.marks: list[str] = []
        self.left = self.low = float("inf")
        self.right = self.top = float("-inf")

    def _at(self, z: float, y: float) -> str:
        self.left, self.right = min(self.left, z), max(self.right, z)
        self.low, self.top = min(self.low, y), max(self.top, y)
        return f"{z:.2f},{-y:.2f}"

    def path(
        self,
        points: list[tuple[float, float]],
        width: float,
        dash: str = "",
        fill: str = "none",
        closed: bool = False,
        name: str = "",
    ) -> None:
        """A line or a shape; of width 0 only its filling; name: what it is, kept with it."""
        way = "M" + " L".join(self._at(z, y) for z, y in points) + ("Z" if closed else "")
        self._drawn(way, width, dash, fill, name)

    def strokes(self, lines: list[list[tuple[float, float]]], width: float, name: str = "") -> None:
        """Several lines that are one thing, a numeral say."""
        way = " ".join("M" + " L".join(self._at(z, y) for z, y in line) for line in lines)
        self._drawn(way, width, "", "none", name)

    def _drawn(self, way: str, width: float, dash: str, fill: str, name: str) -> None:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        pen = f'stroke="#000" stroke-width="{width}"' if width else 'stroke="none"'
        end = f"><title>{escape(name)}</title></path>" if name else "/>"
        self.marks.append(f'<path d="{way}" fill="{fill}" {pen}{dashed}{end}')

    def arc(self, radius: float, start: float, end: float, width: float, dash: str = "") -> None:
        count = max(2, int(abs(end - start) / 2))
        turns = [start + (end - start) * i / count for i in range(count + 1)]
        self.path([(radius * cos(t), radius * sin(t)) for t in map(radians, turns)], width, dash)

    def circle(self, z: float, y: float, radius: float, width: float) -> None:
        """A ring, clear inside."""
        self._at(z - radius, y - radius)
        self._at(z + radius, y + radius)
        self.marks.append(
            f'<circle cx="{z:.2f}" cy="{-y:.2f}" r="{radius:.2f}" fill="none" stroke="#000"'
            f' stroke-width="{width}"/>'
        )

    def text(
        self, z: float, y: float, words: str, size: float = 4.0, anchor: str = "start"
    ) -> None:
        self._at(z, y)
        reach = len(words) * size * 0.55
        if anchor == "start":
            self._at(z + reach, y + size)
        elif anchor == "middle":
            self._at(z - reach / 2, y + size)
            self._at(z + reach / 2, y)
        self.marks.append(
            f'<text x="{z:.2f}" y="{-y:.2f}" font-size="{size}" text-anchor="{anchor}"'
            f' font-family="sans-serif">{escape(words)}</text>'
        )

    def svg(self, title: str) -> str:
        width = self.right - self.left + 2 * MARGIN_MM
        height = self.top - self.low + 2 * MARGIN_MM
        box = f"{self.left - MARGIN_MM:.2f} {-self.top - MARGIN_MM:.2f} {width:.2f} {height:.2f}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="{width:.2f}mm"'
            f' height="{height:.2f}mm"><title>{escape(title)}</title><defs>{HATCH}</defs>'
            f'<rect x="{self.left - MARGIN_MM:.2f}" y="{-self.top - MARGIN_MM:.2f}"'
            f' width="{width:.2f}" height="{height:.2f}" fill="#fff"/>'
            + "".join(self.marks)
            + "</svg>\n"
        )
