"""Leaders and notes, placed last where there is room: nearest first, across no words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from planner.drawing.callouts import Call
from planner.drawing.lanes import DoesNotFit
from planner.drawing.lettering import width_mm
from planner.drawing.model import TEXT_MM, Box, Item, Leader, Point, Text
from planner.drawing.pointing import Pointing
from planner.drawing.room import Room
from planner.drawing.standing import (
    FLAG_APART_MM,
    Block,
    Views,
    flags_at,
    flags_mm,
    hanging,
    hung,
)
from planner.drawing.strokes import LINE_PITCH, TEXT_GAP_MM
from planner.words.numbers import Numbers

NOTE_MM = 2.5
"""Height of the sentences of a sheet, the smallest of ISO 3098's series but one."""

CROSSING_MM = 12.0
"""What a leader may be longer, to cross a line less."""

LEAST_NOTES = 32.0
"""Notes are hard to read that are narrower, in heights of their letters."""

PAST_MARK_MM = 6.5
"""From the frame to notes that would stand on its centring mark, which is 5 mm long inside."""

TRIED, MANY, TIPS = 30, 600, 10
"""Places looked at for each tip, those where none of them is free, and tips for each feature."""

GRID_MM, UNDER_TOP_MM = 2.0, 4.0
"""Words are tried at places so far apart, and so far off the frame; off its top by more."""

ASIDE_MM, STEEP, NEAREST_MM, FARTHEST_MM = 3.0, 0.25, 7.0, 90.0
"""Of a leader: how far aside its words are at least, how steep it is, how short and how long."""

LEFT_MM, RIGHT_MM, FOOT_MM, OFF_FIELDS_MM = 3.0, 3.0, 3.0, 4.0
"""Round the notes: what is left free of the frame and under them, and beside the data fields."""

STANDS_IN, NUMBER = 2.0, 3.2
"""Lines of a note after its first stand in, and are shorter by so much, in heights of their letters."""

TOP_MM = 20.0
"""Notes that come so near the top of a sheet leave no room for views."""


def placed_leaders(
    calls: Sequence[Call],
    blocks: Sequence[Block],
    views: Views,
    scale: float,
    room: Room,
    numbers: Numbers,
) -> Iterator[Item]:
    """A leader for each call-out and each block. Raises DoesNotFit where one finds no place."""
    aimed = [*blocks, *(_words_block(call, views, scale, numbers) for call in calls)]
    # what can be pointed at in few places comes first, then the largest
    aimed.sort(key=lambda one: (sum(map(len, one.tips)) > 3, one.below == 0.0, -one.wide))
    for block in aimed:
        found = place_of(block, room)
        if found is None:
            raise DoesNotFit(f"no place for the words of the {block.of}")
        tip, knee, rightward = found
        items = block.make(tip, knee, rightward)
        room.take_leader(items, (tip, knee))
        yield from items


def place_of(block: Block, room: Room) -> tuple[Point, Point, bool] | None:
    """Where a block goes: tip, knee and whether it runs to the right of it; None where nowhere."""
    tries = ((tips, tried) for tips in block.tips for tried in (TRIED, MANY))
    knees = _knees(block, room)
    return next(filter(None, (_place(knees, t, room, n) for t, n in tries)), None)


def _words_block(call: Call, views: Views, scale: float, numbers: Numbers) -> Block:
    """A call-out with what stands at its words."""
    outline, origin = views[call.view]
    tips = tuple(
        (origin[0] + scale * u, origin[1] + scale * v)
        for name in call.features
        for u, v in Pointing(outline).targets(name)[:TIPS]
    )
    words = max(width_mm(line, TEXT_MM) for line in call.lines)
    high = TEXT_GAP_MM + TEXT_MM + LINE_PITCH * TEXT_MM * (len(call.lines) - 1) + 1.0
    wide, above, below = hung(call.held, numbers, words)

    def make(tip: Point, knee: Point, rightward: bool) -> list[Item]:
        leader = Leader((tip, knee), call.lines, feature=";".join(call.marks))
        off = wide + FLAG_APART_MM
        end = (knee[0] + (off if rightward else -off), knee[1] + TEXT_GAP_MM + TEXT_MM / 2)
        flags = flags_at(call.flags, end, rightward)
        return [leader, *hanging(call.held, numbers, knee, rightward, words), *flags]

    long = wide + flags_mm(call.flags)
    return Block(call.features[0], (tips,), long, max(high, above), below, make)


def led(
    lines: tuple[str, ...],
    tips: Sequence[Point],
    room: Room,
    tried: int = TRIED,
    end: Literal["arrow", "dot"] = "arrow",
) -> Leader | None:
    """A leader for some lines of words to one of some tips, None where none of the nearest is free."""
    wide = max(width_mm(words, TEXT_MM) for words in lines)
    high = TEXT_GAP_MM + TEXT_MM + LINE_PITCH * TEXT_MM * (len(lines) - 1) + 1.0
    knees = _knees(Block("", (tuple(tips),), wide, high, 0.0, None), room)
    found = _place(knees, tips, room, tried)
    return Leader(found[:2], lines, end=end) if found else None


Knees = tuple[tuple[bool, NDArray[np.float64]], ...]
"""Where a leader may have its knee: whether the words run to the right, and the places, (n, 2)."""


def _knees(block: Block, room: Room) -> Knees:
    """Where there is room for a block's words."""
    wide, space = block.wide, room.space
    xs = np.arange(space.left + GRID_MM, space.right - GRID_MM, GRID_MM)
    ys = np.arange(space.low + GRID_MM, space.top - UNDER_TOP_MM, GRID_MM)
    return tuple(
        (
            rightward,
            room.places(xs, ys, wide, block.above + block.below + 1.0, (left, block.below + 1.0)),
        )
        for rightward, left in ((True, block.back), (False, wide - block.back))
    )


def _place(
    places: Knees, tips: Sequence[Point], room: Room, tried: int
) -> tuple[Point, Point, bool] | None:
    """Tip, knee and whether the words run to the right of it; the cheapest of the nearest places."""
    best: tuple[float, tuple[Point, Point, bool]] | None = None
    for rightward, at in places:
        gx, gy = at[:, 0].copy(), at[:, 1].copy()
        for tip in tips:
            dx, dy = gx - tip[0], gy - tip[1]
            aside = dx if rightward else -dx
            where = np.flatnonzero((aside >= ASIDE_MM) & (np.abs(dy) >= STEEP * aside))
            far = np.hypot(dx[where], dy[where])
            cheaper = FARTHEST_MM if best is None else min(FARTHEST_MM, best[0])
            usable = (far > NEAREST_MM) & (far < cheaper)
            where, far = where[usable], far[usable]
            if not len(where):
                continue
            nearest = np.argsort(far, kind="stable")[:tried]
            near, far = where[nearest], far[nearest]
            hit, crossed = room.runs(tip, at[near])
            cost = np.where(hit, np.inf, far + CROSSING_MM * crossed)
            k = int(cost.argmin())
            if np.isfinite(cost[k]) and (best is None or cost[k] < best[0]):
                knee = (float(gx[near[k]]), float(gy[near[k]]))
                best = (float(cost[k]), (tip, knee, rightward))
    return best[1] if best else None


def noted(
    sentences: Sequence[str], space: Box, block: Box, beside: bool, height_mm: float = NOTE_MM
) -> tuple[list[Text], Box]:
    """The sentences of a sheet and the box they take: beside the data fields, or over them.

    height_mm: of their letters. Raises DoesNotFit where they are higher than the sheet, or the place
    beside is too narrow.
    """
    if not sentences:
        return [], Box(space.left, space.low, space.left, space.low)
    foot, wide = block.top, space.right - space.left - LEFT_MM - RIGHT_MM
    if beside:
        foot, wide = space.low, block.left - space.left - OFF_FIELDS_MM
    if wide < LEAST_NOTES * height_mm:
        raise DoesNotFit("no room beside the data fields")
    lines = _lines(tuple(sentences), wide, height_mm)
    pitch, left = LINE_PITCH * height_mm, space.left + LEFT_MM
    if foot + FOOT_MM + pitch * len(lines) > (space.low + space.top) / 2 - height_mm:
        # past the middle of the sheet, where its centring mark stands
        left, wide = space.left + PAST_MARK_MM, wide - PAST_MARK_MM + LEFT_MM
        lines = _lines(tuple(sentences), wide, height_mm)
    top = foot + FOOT_MM + pitch * len(lines)
    if top > space.top - TOP_MM:
        raise DoesNotFit("no place for the notes")
    items = [
        Text(
            (left + (0.0 if first else STANDS_IN * height_mm), top - pitch * (row + 1) + 1.0),
            words,
            height_mm,
        )
        for row, (first, words) in enumerate(lines)
    ]
    return items, Box(space.left, foot, left + wide, top)


@lru_cache(maxsize=256)
def _lines(
    sentences: tuple[str, ...], wide: float, height_mm: float
) -> tuple[tuple[bool, str], ...]:
    """The sentences, numbered, in lines no wider."""
    return tuple(
        line
        for number, s in enumerate(sentences, 1)
        for line in _broken(s, wide, number, height_mm)
    )


def _broken(
    sentence: str, wide: float, number: int, height_mm: float
) -> Iterator[tuple[bool, str]]:
    """A sentence in lines no wider, the first with its number; the others stand in."""
    line = f"{number} "
    first = True
    for word in sentence.split():
        longer = f"{line} {word}" if line.strip() else word
        if width_mm(longer, height_mm) > wide - NUMBER * height_mm:
            yield first, line
            line, first = word, False
        else:
            line = longer
    yield first, line
