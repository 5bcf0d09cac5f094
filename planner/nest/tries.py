"""The tries at a nest: orders of the pieces and ways to fill a sheet, until enough work is done."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import zip_longest

from planner.nest.guillotine import CHOICES, SPLITS, Filled, Sawing, Size, saw_sheet
from planner.nest.model import Piece, Sheet
from planner.nest.nofit import RANKS, Shapes, box_sheet, fit_sheet
from planner.nest.outlines import area_mm2, bounds
from planner.nest.sawblocks import saw_blocks

MOST_BY_OUTLINE = 300
"""Above this many pieces, or distinct outlines in MOST_OUTLINES, only the rectangles are tried."""
MOST_OUTLINES = 25
WORK = 450_000
"""Places looked at before no further try is begun: about half a second."""
TRIES = 400
MOST_WASTE = (0.0, 0.02, 0.05, 0.1, 0.2)
"""Parts of a block that may be wasted in joining pieces, each tried."""
MOST_JOINED = 60
"""Above this many pieces none are joined into blocks."""

Filler = Callable[[Sheet, Sequence[int]], Filled]


class Work:
    """The task: what is placed, by which size, and how much has been done."""

    def __init__(
        self, pieces: Sequence[Piece], sheets: Sequence[Sheet], gap_mm: float, process: str
    ) -> None:
        self.pieces, self.sheets, self.gap_mm, self.process = pieces, sheets, gap_mm, process
        self.outlines = [piece.profile.outline for piece in pieces]
        boxes = [bounds(outline) for outline in self.outlines]
        self.sizes: list[Size] = [
            (box[2] - box[0], box[3] - box[1], (0, 90) if piece.may_turn else (0,))
            for box, piece in zip(boxes, pieces, strict=True)
        ]
        self.areas = [abs(area_mm2(outline)) for outline in self.outlines]
        self.queue = [n for n, piece in enumerate(pieces) for _ in range(piece.quantity)]
        self.done = 0

    def boxed(self) -> bool:
        """Whether all pieces are their own bounding rectangles."""
        return all(
            length * width - area < 1e-6
            for (length, width, _), area in zip(self.sizes, self.areas, strict=True)
        )

    def by_outline(self) -> bool:
        """Whether true outlines are worth it, and few enough."""
        few = len(self.queue) <= MOST_BY_OUTLINE and len(set(self.outlines)) <= MOST_OUTLINES
        return few and not self.boxed()

    def orders(self) -> list[list[int]]:
        """The pieces from the largest, by area, longer side, shorter side and girth."""
        keys: list[Callable[[int], tuple[float, ...]]] = [
            lambda n: (-self.sizes[n][0] * self.sizes[n][1], n),
            lambda n: (-max(self.sizes[n][:2]), -min(self.sizes[n][:2]), n),
            lambda n: (-min(self.sizes[n][:2]), -max(self.sizes[n][:2]), n),
            lambda n: (-sum(self.sizes[n][:2]), n),
        ]
        return [sorted(self.queue, key=key) for key in keys]


def tries(work: Work) -> Iterator[tuple[list[int], Filler]]:
    """Queues and ways to fill a sheet, until enough work is done; the first one always."""
    orders, both = work.orders(), work.sizes
    ways = [both, *(_held(both, across) for across in (False, True))]
    pairs = [(order, fill) for order in orders for sizes in ways for fill in _by_size(work, sizes)]
    if work.process == "plasma" and work.by_outline():
        turns = [(0, 90, 180, 270) if len(size[2]) > 1 else (0,) for size in both]
        shapes = Shapes(work.outlines, work.gap_mm, turns)
        fillers: list[Filler] = [partial(fit_sheet, shapes=shapes, rank=rank) for rank in RANKS[:2]]
        # A try by outline costs far more; by rectangle a few show whether they do as well.
        pairs = pairs[:4] + [(order, fill) for order in orders for fill in fillers]
    for order, fill in pairs[:TRIES]:
        yield order, fill
        if work.done > WORK:
            return
    # Then with the order shaken and some pieces held one way, by chance but always the same.
    chance = random.Random(1)
    for seed in range(len(pairs), TRIES):
        order = chance.choice(orders)
        places = {n: k for k, n in reversed(list(enumerate(order)))}
        spread = max(2.0, len(order) / 6)
        shaken = {n: place + chance.gauss(0, spread) for n, place in places.items()}
        if work.process == "plasma" and work.by_outline():
            fill = chance.choice(fillers)
        else:
            held = [_held(both, across) for across in (False, True)]
            sizes = [
                chance.choice((size, size, low[n], high[n]))
                for n, size in enumerate(both)
                for low, high in (held,)
            ]
            fill = chance.choice(_by_size(work, sizes, seed))
        yield sorted(order, key=lambda n: (shaken[n], n)), fill
        if work.done > WORK:
            return


def _held(sizes: Sequence[Size], across: bool) -> list[Size]:
    """The pieces that may be turned held with the longer side across the sheet, or along it."""
    return [
        (length, width, (90,) if (length > width) == across else (0,))
        if len(turns) > 1
        else (length, width, turns)
        for length, width, turns in sizes
    ]


def _by_size(work: Work, sizes: Sequence[Size], seed: int = 0) -> list[Filler]:
    """The ways to fill a sheet with rectangles. What a saw can do, a torch can do as well."""
    number = len(work.queue)
    saws: list[Filler] = [
        partial(
            saw_sheet,
            sizes=sizes,
            kerf_mm=work.gap_mm,
            sawing=Sawing(choice, split, by_fit),
        )
        for by_fit in ((False, True) if number * len(work.pieces) <= 5000 else (False,))
        for choice in CHOICES
        for split in SPLITS
    ]
    blocks: list[Filler] = [
        partial(
            saw_blocks,
            sizes=sizes,
            kerf_mm=work.gap_mm,
            sawing=Sawing(choice, SPLITS[0]),
            most_waste=waste,
            seed=seed,
        )
        for choice in CHOICES[:2]
        for waste in MOST_WASTE
        if number <= MOST_JOINED
    ]
    if work.process == "saw":
        return _in_turn(blocks, saws)
    boxes: list[Filler] = [
        partial(box_sheet, sizes=sizes, gap_mm=work.gap_mm, rank=rank) for rank in RANKS
    ]
    return _in_turn(boxes, blocks)


def _in_turn(some: Sequence[Filler], others: Sequence[Filler]) -> list[Filler]:
    """One of each in turn, so that neither takes all the work."""
    both = (pair for pair in zip_longest(some, others))
    return [fill for pair in both for fill in pair if fill is not None]
