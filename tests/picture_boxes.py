"""What a picture's words and lines take on the paper, read back from the SVG, for the tests."""

from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"

WIDE, TALL = 0.6, 0.75
"""A letter of a plain sans serif, of its size: its mean width, and its height over the foot (memory:
the widest of the usual ones)."""

Box = tuple[float, float, float, float]
"""Left, low, right, top; y up."""


def points_of(path: ElementTree.Element) -> list[tuple[float, float]]:
    """The points that a path goes through, y up."""
    found = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.attrib["d"])
    return [(float(x), -float(y)) for x, y in found]


def box_of(points: list[tuple[float, float]]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def named(root: ElementTree.Element) -> list[tuple[str, ElementTree.Element]]:
    """The paths that say what they are, in order."""
    return [
        (title.text or "", path)
        for path in root.iter(f"{SVG}path")
        if (title := path.find(f"{SVG}title")) is not None
    ]


def words_of(root: ElementTree.Element) -> list[tuple[str, Box]]:
    """Every text and the box it takes."""
    found = []
    for text in root.iter(f"{SVG}text"):
        words, size = text.text or "", float(text.attrib["font-size"])
        x, y = float(text.attrib["x"]), -float(text.attrib["y"])
        wide = WIDE * size * len(words)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.attrib["text-anchor"]]
        found.append((words, (left, y - 0.2 * size, left + wide, y + TALL * size)))
    return found


POINT_MM = 25.4 / 72
"""A point of type in DTP, as CSS and PDF have it."""


def smallest_pt(root: ElementTree.Element) -> float:
    """The size of the smallest letters, in points."""
    return min(float(text.attrib["font-size"]) for text in root.iter(f"{SVG}text")) / POINT_MM


def overlapping(boxes: list[tuple[str, Box]]) -> list[tuple[str, str]]:
    """The pairs that lie on each other."""
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes, 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def within_paper(root: ElementTree.Element, boxes: list[tuple[str, Box]]) -> list[str]:
    """What runs over the sheet's edge."""
    left, top, wide, high = (float(v) for v in root.attrib["viewBox"].split())
    return [
        words
        for words, b in boxes
        if b[0] < left or b[2] > left + wide or b[1] < -(top + high) or b[3] > -top
    ]
