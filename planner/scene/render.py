"""A scene drawn by a z-buffer of our own: flat shading, black edges, smoothed by drawing it larger.

Parallel projection, no display, no graphics library. Imported by planner.scene.pictures.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from parts.frame import Point
from parts.value import Value
from planner.scene.model import Indices, Points, by_matrix
from planner.solids.together import extent

LARGER = 2
"""How many times as large each way it is drawn before it is smoothed."""

EDGE_DOTS = 1
"""Half the width of an edge, in dots of the larger picture."""

NEARER_MM = 0.25
"""How much nearer an edge counts than the face it is on."""

STRIP = 25
"""How many rows of the picture are smoothed at once."""

WHITE, BLACK = 0xFFFFFF, 0

Pixels = NDArray[np.uint8]

Packed = NDArray[np.uint32]
"""Colours of three bytes as one number each, the first of them its lowest byte."""


class Drawn(Value, frozen=True, eq=False):
    """A body in its pose: points of the whole frame, triangles, edges, and its colour, 0 to 1.

    solid: filled; else its edges alone.
    """

    points: Points
    triangles: Indices
    edges: Indices
    colour: tuple[float, float, float]
    solid: bool = True


def render(bodies: Iterable[Drawn], towards: Point, width: int, height: int) -> Pixels:
    """The picture, (height, width, 3), white behind; the bodies fill it but for a margin.

    towards: from the scene to the eye; y stands upright in the picture.
    """
    found = list(bodies)
    eye = np.array(towards) / np.linalg.norm(towards)
    right = np.cross([0.0, 1.0, 0.0], eye)
    right /= np.linalg.norm(right)
    view = np.array([right, np.cross(eye, right), eye]).T
    seen = [by_matrix(one.points, view.tolist()) for one in found]
    wide, tall = LARGER * width, LARGER * height
    every = np.concatenate(seen)[:, :2]
    low, high = extent(every)
    scale = 0.94 * float(min(wide / (high[0] - low[0]), tall / (high[1] - low[1])))
    middle = (low + high) / 2
    canvas = _Canvas(wide, tall)
    placed = []
    for one, points in zip(found, seen, strict=True):
        at = np.empty_like(points)
        at[:, 0] = wide / 2 + scale * (points[:, 0] - middle[0])
        at[:, 1] = tall / 2 - scale * (points[:, 1] - middle[1])
        at[:, 2] = points[:, 2]
        placed.append(at)
        if one.solid:
            canvas.fill(at, one.triangles, _shades(points, one))
    for one, at in zip(found, placed, strict=True):
        canvas.draw(at, one.edges)
    return _smoothed(canvas.colour)


def _shades(seen: Points, one: Drawn) -> NDArray[np.float64]:
    """The colour of each triangle, 0 to 255: lit from the upper left, light enough for black edges."""
    corners = seen[one.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    lit = -0.36 * normals[:, 0] + 0.64 * normals[:, 1] + 0.68 * normals[:, 2]
    light = 0.62 + 0.38 * np.clip(lit, -0.6, 1.0)
    tint = 0.35 + 0.65 * np.array(one.colour)
    shades: NDArray[np.float64] = 255.0 * np.clip(light[:, None] * tint[None], 0.0, 1.0)
    return shades


def _packed(shades: NDArray[np.float64]) -> Packed:
    """Colours, (n, 3), 0 to 255."""
    red, green, blue = np.rint(shades).astype(np.uint32).T
    packed: Packed = red | green << 8 | blue << 16
    return packed


def _smoothed(colour: Packed) -> Pixels:
    """The picture at its own size, (height, width, 3): each dot the mean of those it was drawn with.

    Two bytes of a colour are added in one word: each has 16 bits of it, and four make less than 1024.
    It goes by STRIP rows, which the processor's own memory holds.
    """
    dots, halves = LARGER * LARGER, 0x00FF00FF
    height, width = (size // LARGER for size in colour.shape)
    smooth = np.zeros((height, width), "<u4")
    for top in range(0, height, STRIP):
        strip = colour[LARGER * top : LARGER * (top + STRIP)]
        for shift in (0, 8):
            words = strip >> shift & halves
            rows = reduce(np.add, [words[row::LARGER] for row in range(LARGER)])
            total = reduce(np.add, [rows[:, column::LARGER] for column in range(LARGER)])
            mean = (total + (dots // 2 * 0x00010001)) // dots & halves
            smooth[top : top + STRIP] |= mean << shift
    found: Pixels = smooth.view(np.uint8).reshape(height, width, 4)[:, :, :3].copy()
    return found


class _Canvas:
    """Colours and depths of the larger picture; the greatest depth is nearest."""

    def __init__(self, width: int, height: int) -> None:
        self.colour = np.full((height, width), WHITE, np.uint32)
        self.depth = np.full((height, width), -np.inf)

    def fill(self, at: Points, triangles: Indices, shades: NDArray[np.float64]) -> None:
        """Triangles, those that face the eye alone, row by row of dots: all rows of all at once."""
        a, b, c = (at[triangles[:, k]] for k in range(3))
        area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (c[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
        front = np.flatnonzero(area < -1e-9)  # rows run downward, so that the sense is turned
        if not len(front):
            return
        a, b, c, area = a[front], b[front], c[front], area[front]
        heights = np.stack([a[:, 1], b[:, 1], c[:, 1]])
        height, width = self.depth.shape
        low = np.clip(np.ceil(heights.min(axis=0) - 0.5), 0, height - 1).astype(np.int64)
        high = np.clip(np.floor(heights.max(axis=0) - 0.5), -1, height - 1).astype(np.int64)
        owner, row = _runs(low, high - low + 1)
        y = row + 0.5
        left, right = np.full(len(owner), np.inf), np.full(len(owner), -np.inf)
        corners_xy = [(one[:, 0][owner], one[:, 1][owner]) for one in (a, b, c)]
        with np.errstate(divide="ignore", invalid="ignore"):
            for k in range(3):
                (px, py), (qx, qy) = corners_xy[k], corners_xy[(k + 1) % 3]
                x = px + (y - py) / (qy - py) * (qx - px)
                crosses = (np.minimum(py, qy) <= y) & (y <= np.maximum(py, qy)) & (py != qy)
                left = np.where(crosses, np.minimum(left, x), left)
                right = np.where(crosses, np.maximum(right, x), right)
        first = np.clip(np.ceil(np.where(np.isfinite(left), left, 1) - 0.5), 0, width).astype(
            np.int64
        )
        last = np.clip(np.floor(np.where(np.isfinite(right), right, 0) - 0.5), -1, width - 1)
        count = np.maximum(last.astype(np.int64) - first + 1, 0)
        slope_x = (
            (b[:, 2] - a[:, 2]) * (c[:, 1] - a[:, 1]) - (c[:, 2] - a[:, 2]) * (b[:, 1] - a[:, 1])
        ) / area
        slope_y = (
            (c[:, 2] - a[:, 2]) * (b[:, 0] - a[:, 0]) - (b[:, 2] - a[:, 2]) * (c[:, 0] - a[:, 0])
        ) / area
        # all that is the same along a row of a triangle is worked out once for the row
        start = row * width + first - (np.cumsum(count) - count)
        down = slope_y[owner] * (y - a[owner, 1])
        colours = _packed(shades[front])[owner]
        nth = np.arange(count.sum())
        place = nth + np.repeat(start, count)
        along = (place - np.repeat(row * width, count)) + 0.5
        along -= np.repeat(a[owner, 0], count)
        along *= np.repeat(slope_x[owner], count)
        along += np.repeat(a[owner, 2], count)
        along += np.repeat(down, count)
        self._put(place, along, np.repeat(colours, count))

    def draw(self, at: Points, edges: Indices) -> None:
        """Edges in black, where nothing stands before them."""
        if not len(edges):
            return
        p, q = at[edges[:, 0]], at[edges[:, 1]]
        across, down = np.abs(q - p)[:, :2].T
        steps = np.ceil(np.maximum(across, down)).astype(np.int64) + 1
        owner, step = _runs(np.zeros(len(edges), np.int64), steps)
        share = (step / np.maximum(1, steps[owner] - 1))[:, None]
        points = p[owner] + share * (q[owner] - p[owner])
        height, width = self.depth.shape
        depth = points[:, 2] + NEARER_MM
        x0, y0 = np.floor(points[:, 0]).astype(np.int64), np.floor(points[:, 1]).astype(np.int64)
        inside = (x0 >= 1) & (x0 < width - 1) & (y0 >= 1) & (y0 < height - 1)
        x, y = np.clip(x0, 1, width - 2), np.clip(y0, 1, height - 2)
        seen = inside & (depth >= self.depth[y, x])
        flat = self.colour.reshape(-1)
        for dx in range(EDGE_DOTS + 1):
            for dy in range(EDGE_DOTS + 1):
                flat[((y + dy) * width + x + dx)[seen]] = BLACK

    def _put(self, place: NDArray[np.int64], depth: NDArray[np.float64], colour: Packed) -> None:
        """Of several dots in one place the nearest, of those as near the last."""
        depths, colours = self.depth.reshape(-1), self.colour.reshape(-1)
        nearest = np.flatnonzero(depth >= depths[place])
        while len(nearest):  # of several in one place the last is put there, then a nearer one
            place, depth, colour = place[nearest], depth[nearest], colour[nearest]
            depths[place], colours[place] = depth, colour
            nearest = np.flatnonzero(depth > depths[place])


def _runs(
    start: NDArray[np.int64], count: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """For counts of whole numbers on from each start: whose each is, and the number."""
    count = np.maximum(count, 0)
    owner = np.repeat(np.arange(len(count)), count)
    before = np.concatenate([[0], np.cumsum(count)[:-1]]) if len(count) else count
    return owner, start[owner] + np.arange(len(owner)) - before[owner]
