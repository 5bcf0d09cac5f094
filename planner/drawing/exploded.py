"""The exploded view: the whole taken apart, every item with its number, and the list of them.

Imported by whoever makes the set of sheets. How far each thing leaves is worked out in exploding.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import sqrt

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from parts.attachment import Attachment, Placed
from parts.frame import Frame, vector
from planner.drawing import frame
from planner.drawing.balloons import balloons
from planner.drawing.exploding import CELL_MM, Exploded, exploded
from planner.drawing.items import Numbered, high_mm, listed, number_of
from planner.drawing.layout import PAPERS
from planner.drawing.model import Box, Item, Line, Point, Polyline, Sheet, factor
from planner.drawing.room import Room
from planner.drawing.whole import DoesNotFit, Drawing, on_paper, sentences, tried
from planner.solids.apart import seats
from planner.solids.together import Path, extent, flat, in_place, seen_together

FULL = sqrt(1.5)
"""What an isometric projection is enlarged by, so that lengths along the axes are true to scale."""

MARGIN_MM = 13.0
"""Between what is drawn and the frame or the list: a balloon stands there."""

EDGE_MM = 1.0
"""Round the view where it stands alone."""

TIPS, MOST = 4, 600
"""Places tried on each item for the end of its balloon's line, of so many looked at."""

GRID_MM = 4.0
"""The view is tried at places so far apart on the paper."""

LEAST_FLOW_MM, FLOW_MM, LEAST_RUN = 1.0, 6.0, 4
"""Of the line along which a thing left: it is drawn on before it where less is between; how far; and of
how many half cells at least, for what is shorter is not seen."""

NEAR_MM = 0.1
"""An axis that lies so little outside a thing is still its own."""

TIPS_APART_MM, OTHERS = 4.0, 10
"""Places of one thing to point at are so far apart; and another thing beside one is so much worse than
its own outline."""


def exploded_sheet(
    attachment: Attachment,
    tip_radius_mm: float,
    items: Sequence[Numbered],
    drawing: Drawing,
    paper: str = "A4",
) -> Sheet:
    """The sheet of the exploded view; items: as the list has them. Raises DoesNotFit."""
    apart = exploded(attachment, tip_radius_mm)
    towards, right = apart.corner
    shapes = [
        in_place(one, tip_radius_mm, 90.0, moved)
        for one, moved in zip(attachment.placed, apart.moved, strict=True)
    ]
    paths = [path for own in seen_together(shapes, towards, right) for path in own]
    seen = _Seen(attachment.placed, items, apart)
    last: Exception | None = None
    for name, scale in tried(PAPERS[paper], "1:2"):
        blank = drawing.blank(name, True, scale)
        try:
            return _laid_out(blank, items, seen, paths)
        except DoesNotFit as problem:
            last = problem
    raise DoesNotFit(f"{drawing.name}: {last}")


def view_alone(sheet: Sheet) -> Sheet:
    """What a sheet of it shows of the attachment, with neither frame, words, list nor numbers.

    A page that stands in its place is given back as it is.
    """
    seen = [
        one
        for one in sheet.items
        if isinstance(one, Line | Polyline) and one.style in ("visible", "centre")
    ]
    points = [p for one in seen for p in _ends(one)]
    if not points:
        return sheet
    left, low = (min(p[k] for p in points) - EDGE_MM for k in (0, 1))
    right, top = (max(p[k] for p in points) + EDGE_MM for k in (0, 1))
    moved = tuple(
        replace(one, start=_off(one.start, left, low), end=_off(one.end, left, low))
        if isinstance(one, Line)
        else replace(one, points=tuple(_off(p, left, low) for p in one.points))
        for one in seen
    )
    return replace(sheet, width=right - left, height=top - low, frame=(), items=moved)


def _ends(one: Line | Polyline) -> tuple[Point, ...]:
    """The points that a line goes through."""
    return (one.start, one.end) if isinstance(one, Line) else one.points


def _off(point: Point, left: float, low: float) -> Point:
    return point[0] - left, point[1] - low


def _laid_out(blank: Sheet, items: Sequence[Numbered], seen: _Seen, paths: Sequence[Path]) -> Sheet:
    space, block = frame.inside(blank), frame.block(blank)
    by = FULL * float(factor(blank.scale))
    many = blank.fields.quantity
    fields = Box(
        block.left, block.low, block.right, block.top + high_mm(items, block.right - block.left)
    )
    words, under = sentences(
        (
            "Everything leaves along its own axis, in the order in which it comes off;"
            " it goes back in reverse.",
            "Ring round a number: bought. All else is made, by the sheet in the list.",
            f"Isometric, {blank.scale} along the three axes.",
            *([f"The list is of one; {many} are made."] if many != "1" else []),
        ),
        (space.left + 7.0, space.top - 6.0),
        82.0,
    )
    origin = _origin(by * seen.paper, space, fields, under)
    drawn: list[Item] = list(on_paper(paths, origin, by))
    drawn += on_paper(seen.flow(), origin, by, "centre")
    room = Room(space)
    room.take((*blank.frame, *words, *drawn))
    room.take_box(Box(fields.left - 1, fields.low, fields.right, fields.top + 1))
    room.take_box(under)
    tips = {
        number: [(origin[0] + by * u, origin[1] + by * v) for u, v in places]
        for number, places in seen.tips().items()
    }
    bought = {one.number for one in items if one.source == "bought"}
    drawn += balloons(tips, room, bought)
    return replace(blank, items=(*words, *listed(items, block), *drawn))


def _origin(paper: NDArray[np.float64], space: Box, *kept: Box) -> Point:
    """Where the view's origin goes, so that nothing of it is on what is kept free. Raises DoesNotFit.

    paper: points of what is drawn, in mm of the paper from the view's origin.
    """
    low, high = extent(paper)
    xs = np.arange(space.left + MARGIN_MM - low[0], space.right - MARGIN_MM - high[0], GRID_MM)
    ys = np.arange(space.low + MARGIN_MM - low[1], space.top - MARGIN_MM - high[1], GRID_MM)
    if not len(xs) or not len(ys):
        raise DoesNotFit("the view is larger than the sheet")
    grid = np.stack([one.ravel() for one in np.meshgrid(xs, ys)], axis=1)
    good = np.ones(len(grid), bool)
    rim = _rim(paper)
    for box in kept:
        x, y = grid[:, :1] + rim[None, :, 0], grid[:, 1:] + rim[None, :, 1]
        inside = (x > box.left - MARGIN_MM) & (x < box.right + MARGIN_MM)
        inside &= (y > box.low - MARGIN_MM) & (y < box.top + MARGIN_MM)
        good &= ~inside.any(axis=1)
    free = grid[good]
    if not len(free):
        raise DoesNotFit("the view finds no place beside the list")
    middle = free.mean(axis=0)
    best = free[np.hypot(*(free - middle).T).argmin()]
    return float(best[0]), float(best[1])


def _rim(paper: NDArray[np.float64]) -> NDArray[np.float64]:
    """Of points the lowest and the highest in every strip: what meets a box in a corner."""
    strip = np.floor((paper[:, 0] - paper[:, 0].min()) / GRID_MM).astype(int)
    low, high = np.full(strip.max() + 1, np.inf), np.full(strip.max() + 1, -np.inf)
    np.minimum.at(low, strip, paper[:, 1])
    np.maximum.at(high, strip, paper[:, 1])
    x = paper[:, 0].min() + GRID_MM * (np.arange(len(low)) + 0.5)
    some = np.isfinite(low)
    return np.concatenate([np.stack([x, y], axis=1)[some] for y in (low, high)])


class _Seen:
    """What is seen of each thing, from the points of its surface."""

    def __init__(
        self, placed: Sequence[Placed], items: Sequence[Numbered], apart: Exploded
    ) -> None:
        self.placed, self.items, self.apart = placed, items, apart
        towards, right = apart.corner
        self.flat = [flat(points, towards, right) for points in apart.points]
        self.paper: NDArray[np.float64] = np.concatenate(self.flat)
        way = np.array(towards) / np.linalg.norm(towards)
        depth = np.concatenate([points @ way for points in apart.points])
        of = np.repeat(np.arange(len(placed)), [len(points) for points in self.flat])
        self.low = np.floor(extent(self.paper)[0] / CELL_MM).astype(int) - 2
        cells = self._cells(self.paper)
        wide, high = extent(cells)[1] + 3
        nearest = np.full((wide, high), -np.inf)
        np.maximum.at(nearest, (cells[:, 0], cells[:, 1]), depth)
        self.owner = np.full((wide, high), -1)
        front = depth >= nearest[cells[:, 0], cells[:, 1]]
        self.owner[cells[front, 0], cells[front, 1]] = of[front]

    def _cells(self, paper: NDArray[np.float64]) -> NDArray[np.int_]:
        return np.asarray(np.floor(paper / CELL_MM).astype(int) - self.low)

    def tips(self) -> dict[int, list[Point]]:
        """For each number places well inside its items, nothing else near, the best first."""
        found: dict[int, list[Point]] = defaultdict(list)
        for k, thing in enumerate(self.placed):
            every = self.flat[k]
            paper = every[:: max(1, len(every) // MOST)]
            cells = self._cells(paper)
            around = np.zeros(len(paper), int)
            for a in (-1, 0, 1):
                for b in (-1, 0, 1):
                    other = self.owner[cells[:, 0] + a, cells[:, 1] + b]
                    around += np.where(other >= 0, OTHERS, 1) * (other != k)
            best = paper[around == around.min()]
            found[number_of(self.items, thing)] += _apart(best)
        return dict(found)

    def flow(self) -> Iterator[Path]:
        """Thin lines along the way that each thing left, where nothing is drawn."""
        order, on = seats(self.placed)
        towards, right = self.apart.corner
        for k in order:
            seat = self.placed[k].seat
            if seat is None:
                continue
            way = np.array(vector(seat.off))
            start = self._on_axis(k, on[k])
            own = self.apart.points[k] @ way
            under = self.apart.points[on[k]] @ way
            rest = start - way * (start @ way)
            reach = (float(under.max()), float(own.min()))
            if reach[1] - reach[0] < LEAST_FLOW_MM:
                reach = (float(own.min()) - FLOW_MM, float(own.min()))
            steps = np.arange(reach[0], reach[1], CELL_MM / 2)
            run = flat(rest + steps[:, None] * way, towards, right)
            cells = self._cells(run)
            inside = ((cells >= 0) & (cells < np.array(self.owner.shape))).all(axis=1)
            free = np.zeros(len(run), bool)
            free[inside] = self.owner[cells[inside, 0], cells[inside, 1]] < 0
            yield from _runs(run, free)

    def _on_axis(self, k: int, below: int) -> NDArray[np.float64]:
        """A point of the line along which a thing left, where it now stands."""
        seat = self.placed[k].seat
        assert seat is not None
        points = self.apart.points[k]
        low, high = extent(points)
        for n in (k, below):
            framed: Frame = self.placed[n].frame
            along = framed.x[1] == seat.off[1]
            at = np.array(framed.origin) + np.array(self.apart.moved[n])
            across = [i for i in range(3) if not vector(seat.off)[i]]
            if along and all(low[i] - NEAR_MM <= at[i] <= high[i] + NEAR_MM for i in across):
                return np.asarray(at)
        return np.asarray((low + high) / 2)


def _apart(points: NDArray[np.float64]) -> list[Point]:
    """A few of some points: the one nearest their middle, then those farthest from all before."""
    far = np.hypot(*(points - points.mean(axis=0)).T)
    chosen = [int(far.argmin())]
    near = np.hypot(*(points - points[chosen[0]]).T)
    while len(chosen) < TIPS and near.max() > TIPS_APART_MM:
        chosen.append(int(near.argmax()))
        near = np.minimum(near, np.hypot(*(points - points[chosen[-1]]).T))
    return [(float(points[n][0]), float(points[n][1])) for n in chosen]


def _runs(run: NDArray[np.float64], free: NDArray[np.bool_]) -> Iterator[Path]:
    """The stretches of a line that are free, but for what is too short to be seen."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], free.astype(int), [0]])))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        if last - first >= LEAST_RUN:
            one, two = run[first], run[last - 1]
            yield (float(one[0]), float(one[1])), (float(two[0]), float(two[1]))
