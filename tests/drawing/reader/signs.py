"""Signs on a sheet: textures, welds, tolerance frames and datums, known by their strokes.

Shapes of ISO 2553, ISO 21920-1 (as ISO 1302), ISO 1101 and ISO 5459 and their American sisters, from
memory: the legs of a texture's sign are 60 degrees apart, the longer 15/7 of the shorter; a frame and a
datum's box are two letters high; a weld's sign is one letter high on its line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, dist, hypot, radians

from . import numbers as n
from .ink import Ink, Point, Unreadable

NEAR_MM = 0.01
LETTER_MM = 3.5
"""Height of the letters in frames, boxes and on welds."""

GAP_MM = 1.0
"""Between a weld's line and the words on it."""

MICRONS = {"16": 0.4, "32": 0.8, "63": 1.6, "125": 3.2, "250": 6.3}
"""Ra in um for microinches (the rounded rows of ASME B46.1 and ISO, from memory)."""


@dataclass(frozen=True)
class Sign:
    """One sign. kind: "texture", "general texture" (the data block's), "weld", "true" or "datum";
    words: a weld's or a frame's sign and letters; numbers: um, or mm; texts: as printed."""

    kind: str
    words: str
    numbers: tuple[float, ...]
    texts: tuple[str, ...]


def signs(ink: Ink) -> list[Sign]:
    """Every sign of a sheet."""
    return [*_textures(ink), *_boxes(ink), *_welds(ink)]


# ---- texture ----


def _textures(ink: Ink) -> Iterator[Sign]:
    general = next(at for at, _, words in ink.texts if words == "Surface texture")
    for layer, points, closed in ink.curves:
        if layer != "THIN" or closed or len(points) != 4:
            continue
        a, b, c, d = points
        short, long = dist(a, b), dist(b, c)
        if short < 1.0 or abs(long / short - 15 / 7) > 0.01:
            continue
        if abs(_dot(b, a, b, c) / (short * long) - cos(radians(60))) > 0.01:
            continue
        bar = dist(c, d)
        # under the bar, between the long leg and the bar's end
        there = [
            words
            for at, height, words in ink.texts
            if 0.5 < _dot(c, d, c, at) / bar < bar
            and abs(abs(_cross(c, d, c, at) / bar) - height - GAP_MM) < NEAR_MM
        ]
        if len(there) != 1:
            raise Unreadable("a texture's sign without its number")
        block = -1.0 < b[0] - general[0] < 28.0 and 0.0 < general[1] - b[1] < 15.0
        yield Sign(
            "general texture" if block else "texture", "", (_micrometres(there[0]),), (there[0],)
        )


def _micrometres(words: str) -> float:
    if found := re.match(rf"^Ra ({n.NUMBER})$", words):
        return float(found[1])
    if re.match(r"^\d+$", words):
        return MICRONS.get(words, int(words) * 0.0254)
    raise Unreadable(f"texture {words!r}")


def _dot(a: Point, b: Point, c: Point, d: Point) -> float:
    return (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])


def _cross(a: Point, b: Point, c: Point, d: Point) -> float:
    return (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])


# ---- frames and datums ----

CHARACTERISTICS = {
    # how many corners its strokes have, how many circles, how many strokes are level or upright
    ((2,), 0, 1): "straightness", ((5,), 0, 0): "flatness", ((), 1, 0): "roundness",
    ((2, 2), 1, 0): "cylindricity", ((2, 2), 0, 0): "parallelism",
    ((2, 2), 0, 2): "perpendicularity", ((3,), 0, 0): "angularity", ((2, 2), 1, 2): "position",
    ((), 2, 0): "concentricity", ((2, 2, 2), 0, 3): "symmetry", ((2, 3), 0, 0): "run-out",
    ((2, 2, 2, 3, 3), 0, 1): "total run-out",
}  # fmt: skip


def _boxes(ink: Ink) -> Iterator[Sign]:
    for layer, points, closed in ink.curves:
        if layer != "THIN" or not closed or len(points) != 4:
            continue
        xs, ys = sorted({round(p[0], 3) for p in points}), sorted({round(p[1], 3) for p in points})
        if len(xs) != 2 or len(ys) != 2 or abs(ys[1] - ys[0] - 2 * LETTER_MM) > NEAR_MM:
            continue
        inside = sorted(
            (at[0], words)
            for at, height, words in ink.texts
            if xs[0] < at[0] < xs[1] and ys[0] < at[1] < ys[1] and height == LETTER_MM
        )
        texts = tuple(words for _, words in inside)
        if abs(xs[1] - xs[0] - 2 * LETTER_MM) < NEAR_MM:
            if len(texts) != 1 or not re.match(r"^[A-Z]{1,2}$", texts[0]):
                raise Unreadable(f"a datum's box with {texts}")
            yield Sign("datum", texts[0], (), texts)
        elif texts:
            yield _frame(ink, (xs[0], ys[0], ys[1]), texts)


def _frame(ink: Ink, box: tuple[float, float, float], texts: tuple[str, ...]) -> Sign:
    left, low, high = box
    right = left + high - low

    def holds(points: tuple[Point, ...]) -> bool:
        return all(left < x < right and low < y < high for x, y in points)

    own = [
        pts for layer, pts, closed in ink.curves if layer == "THIN" and not closed and holds(pts)
    ]
    rings = sum(r.layer == "THIN" and holds((r.centre,)) for r in ink.rounds)
    square = sum(min(abs(p[0][k] - p[1][k]) for k in (0, 1)) < NEAR_MM for p in own if len(p) == 2)
    key = (tuple(sorted(map(len, own))), rings, square)
    if key not in CHARACTERISTICS or not re.match(rf"^{n.NUMBER}$", texts[0]):
        raise Unreadable(f"a tolerance frame with {texts}")
    words = " ".join((CHARACTERISTICS[key], *texts[1:]))
    return Sign("true", words, (n.number(texts[0]) * ink.unit,), texts)


# ---- welds ----


def _welds(ink: Ink) -> Iterator[Sign]:
    for knee, s in ink.references:
        yield _weld(ink, knee, min(s.a[0], s.b[0]), max(s.a[0], s.b[0]))


def _weld(ink: Ink, knee: Point, left: float, right: float) -> Sign:
    y = knee[1]
    strokes = []
    for layer, pts, closed in ink.curves:
        if layer != "THIN" or not all(left - 0.5 < p[0] < right + 0.5 for p in pts):
            continue
        for up in (1, -1):
            shape = [(p[0], up * (p[1] - y)) for p in pts]
            if abs(min(q[1] for q in shape)) < NEAR_MM and 2.0 < max(q[1] for q in shape) < 4.0:
                strokes.append((shape, closed, up))
    kind = _kind([(shape, closed) for shape, closed, _ in strokes])
    up = strokes[0][2]
    base = y + GAP_MM if up > 0 else y - GAP_MM - LETTER_MM
    at = min(q[0] for shape, _, _ in strokes for q in shape)
    there = sorted(
        (p[0], words)
        for p, _, words in ink.texts
        if abs(p[1] - base) < NEAR_MM and left < p[0] < right
    )
    sizes = [words for x, words in there if x < at]
    runs = [words for x, words in there if x > at]
    ringed = any(
        r.layer == "THIN" and r.whole and dist(r.centre, knee) < NEAR_MM for r in ink.rounds
    )
    if len(sizes) != 1 or len(runs) != (0 if ringed else 1):
        raise Unreadable(f"a {kind} weld with {sizes}, {runs}")
    found = re.match(rf"^([zas]?)({n.NUMBER})$", sizes[0])
    if found is None or (found[1] and (found[1] == "s") == (kind == "fillet")):
        raise Unreadable(
            f"a {kind} weld's size {sizes[0]!r}"
        )  # z its leg, a its throat: a fillet's
    if found[1] == "a":
        raise Unreadable("a fillet by its throat")
    numbers = tuple(n.number(words) * ink.unit for words in (found[2], *runs))
    return Sign("weld", f"{kind} all round" if ringed else kind, numbers, (*sizes, *runs))


def _kind(strokes: list[tuple[list[Point], bool]]) -> str:
    """Which weld a sign is of, from its strokes over the line."""
    if len(strokes) == 1:
        shape, closed = strokes[0]
        if closed and len(shape) == 3:
            return "fillet"
        if not closed and len(shape) in (3, 4):
            return {3: "v", 4: "plug"}[len(shape)]
    if len(strokes) == 2:
        upright = [abs(s[0][0] - s[-1][0]) < NEAR_MM and len(s) == 2 for s, _ in strokes]
        other = strokes[upright.index(False)][0] if False in upright else []
        if any(upright) and (not other or hypot(other[0][0] - other[-1][0], 0) > 1.0):
            return "square" if not other else "bevel" if len(other) == 2 else "flare-bevel"
    raise Unreadable(f"a weld's sign of {len(strokes)} strokes")
