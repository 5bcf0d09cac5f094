"""Rectangles joined into blocks that match, before a sheet is divided: what a saw operator sees.

Two blocks whose sides are alike make one with little waste; the blocks are then sawn as pieces.
"""

from __future__ import annotations

import heapq
import random
from collections.abc import Sequence
from functools import cached_property

from msgspec.structs import replace

from parts.value import Value
from planner.nest.guillotine import (
    SAME_MM,
    Filled,
    Panel,
    Saw,
    Sawing,
    Size,
    Spot,
    room,
    saw_sheet,
)
from planner.nest.model import Sheet

PAIR_WORK = 8
"""Places that a pair of blocks counts as."""

SHAKEN, TIES = (0.5, 1.5), 1e-3
"""What a pair's waste is shaken by, as a factor and on top."""


class Block(Value, frozen=True):
    """Pieces side by side with a kerf between them, cut apart along ``along``; or one piece.

    length_mm, width_mm: outside; turns: of 0 and 90 degrees, those it may take; parts: near and far
    block, each with its own turn; piece: its number when it is one.
    """

    length_mm: float
    width_mm: float
    turns: tuple[int, ...]
    piece: int = -1
    along: str = "width"
    parts: tuple[tuple[Block, int], ...] = ()

    def size(self, turn: int) -> tuple[float, float]:
        """Length and width when turned."""
        both = (self.length_mm, self.width_mm)
        return both if turn == 0 else both[::-1]

    @cached_property
    def members(self) -> tuple[int, ...]:
        """The numbers of its pieces."""
        if not self.parts:
            return (self.piece,)
        return tuple(n for part, _ in self.parts for n in part.members)


def saw_blocks(
    sheet: Sheet,
    queue: Sequence[int],
    sizes: Sequence[Size],
    kerf_mm: float,
    sawing: Sawing,
    most_waste: float,
    seed: int,
) -> Filled:
    """Saw pieces out of one sheet as saw_sheet does, after joining them into blocks.

    most_waste: part of a block's area that may be lost in joining it, 0 to 1; seed: shakes the
    order in which blocks are joined, the same way for the same number.
    """
    blocks, work = _joined(queue, sizes, kerf_mm, room(sheet, kerf_mm), most_waste, seed)
    blocks.sort(key=lambda block: (-block.length_mm * block.width_mm, block.members))
    filled = saw_sheet(
        sheet,
        range(len(blocks)),
        [(block.length_mm, block.width_mm, block.turns) for block in blocks],
        kerf_mm,
        sawing,
        divide=lambda saw, panel, number, turn: _parted(saw, panel, blocks[number], turn),
    )
    return replace(filled, work=filled.work + work)


def _joined(
    queue: Sequence[int],
    sizes: Sequence[Size],
    kerf_mm: float,
    space: tuple[float, float],
    most_waste: float,
    seed: int,
) -> tuple[list[Block], int]:
    """The blocks made, and the pairs looked at: those that waste least are joined first."""
    chance = random.Random(seed)
    blocks: dict[int, Block] = {}
    pairs: list[tuple[float, int, int, Block]] = []
    work = 0

    def add(block: Block) -> None:
        nonlocal work
        name = len(names)
        names.append(name)
        for other, there in blocks.items():
            work += PAIR_WORK
            pair = _pair(there, block, kerf_mm, space)
            if pair and pair[0] <= most_waste + 1e-9:
                # A shaken order breaks the ties, and now and then takes the second best.
                score = pair[0] * chance.uniform(*SHAKEN) + chance.uniform(0, TIES)
                heapq.heappush(pairs, (score, other, name, pair[1]))
        blocks[name] = block

    names: list[int] = []
    for piece in queue:
        add(Block(*sizes[piece], piece=piece))
    while pairs:
        _, one, other, whole = heapq.heappop(pairs)
        if one in blocks and other in blocks:
            del blocks[one], blocks[other]
            add(whole)
    return list(blocks.values()), work


def _pair(
    one: Block, other: Block, kerf_mm: float, space: tuple[float, float]
) -> tuple[float, Block] | None:
    """The best way to join two blocks within a space: the part of it wasted, and the block."""
    turnable = len(one.turns) > 1 and len(other.turns) > 1
    best: tuple[float, Block] | None = None
    for a in one.turns:
        w1, h1 = one.size(a)
        for b in other.turns:
            w2, h2 = other.size(b)
            # What may be turned as a whole need not be tried one above the other as well.
            for along in ("width",) if turnable else ("width", "length"):
                if along == "width":
                    w, h, waste = (
                        w1 + kerf_mm + w2,
                        max(h1, h2),
                        (w1 if h1 < h2 else w2) * abs(h1 - h2),
                    )
                else:
                    w, h, waste = (
                        max(w1, w2),
                        h1 + kerf_mm + h2,
                        (h1 if w1 < w2 else h2) * abs(w1 - w2),
                    )
                share = waste / (w * h)
                if best is not None and share >= best[0]:
                    continue
                fits = w <= space[0] + SAME_MM and h <= space[1] + SAME_MM
                if fits or (turnable and h <= space[0] + SAME_MM and w <= space[1] + SAME_MM):
                    turns = (0, 90) if turnable else (0,)
                    best = share, Block(w, h, turns, along=along, parts=((one, a), (other, b)))
    return best


def _parted(saw: Saw, panel: Panel, block: Block, turn: int) -> list[Spot]:
    """Cut a panel of the block's size, or larger, into its pieces; turned, it is transposed."""
    if not block.parts:
        panel = saw.cut_to(panel, *block.size(turn), ("width", "length"))[0]
        return [Spot(block.piece, panel.x, panel.y, turn, panel.name)]
    (one, a), (other, b) = block.parts
    if turn:
        a, b = 90 - a, 90 - b
    across = block.along == "width"
    along = "width" if across == (turn == 0) else "length"
    near, far = saw.cut(panel, along, one.size(a)[0 if along == "width" else 1])
    return _parted(saw, near, one, a) + _parted(saw, far, other, b)
