"""Says which pieces find no bar, how much is missing, and what bar would do."""

from __future__ import annotations

from collections.abc import Sequence

from planner.barcut.model import NotEnoughBars, Unplaced
from planner.barcut.problem import Problem


def not_enough(problem: Problem, left: Sequence[int], proven: bool) -> NotEnoughBars:
    """Return the exception for `left`, the pieces of each kind left over."""
    unplaced: list[Unplaced] = []
    for kind, missing in enumerate(left):
        for i in reversed(problem.members[kind]):
            demand = problem.demands[i]
            short = min(missing, demand.quantity)
            missing -= short
            if short:
                unplaced.append(Unplaced(i, demand.name, demand.length, short))
    short_by = sum(u.quantity * (u.length + problem.kerf) for u in unplaced)
    longest_piece = max(u.length for u in unplaced)
    longest_bar = max((bar.length for bar in problem.bars), default=0)
    if short_by - problem.kerf <= max(longest_bar, longest_piece):
        nearest, bars = short_by - problem.kerf, 1
    else:
        nearest = max(longest_bar, longest_piece)
        bars = _bars_needed(problem, left, nearest)
    return NotEnoughBars(tuple(unplaced), short_by, nearest, bars, proven)


def _bars_needed(problem: Problem, left: Sequence[int], length: int) -> int:
    """Return how many bars of `length` first-fit decreasing takes for the pieces left."""
    begun: list[tuple[int, int]] = []  # room left, count
    full_room = (length + problem.kerf) // problem.unit
    for size, missing in zip(problem.sizes, left, strict=True):
        packed: list[tuple[int, int]] = []
        for room, count in [*begun, (full_room, missing)]:
            per_bar = room // size
            full = min(count, missing // per_bar) if per_bar else 0
            rest = missing - full * per_bar if per_bar and full < count else 0
            missing -= full * per_bar + rest
            new = room == full_room
            packed += [(room - per_bar * size, full)] if full else []
            packed += [(room - rest * size, 1)] if rest else []
            unused = count - full - (1 if rest else 0)
            packed += [(room, unused)] if unused and not new else []
        begun = packed
    return sum(count for _, count in begun)
