"""What just fits and what just does not, by every way to fill a sheet; and what all the tries try."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from itertools import islice, product
from math import hypot

import pytest
from nest_cases import profile, rectangle

from planner.nest import tries as tried
from planner.nest.guillotine import CHOICES, SPLITS, Filled, Sawing, saw_sheet
from planner.nest.model import Piece, Sheet
from planner.nest.nofit import RANKS, Shapes, _left_over, box_sheet, fit_sheet
from planner.nest.sawblocks import Block, _pair, saw_blocks
from planner.nest.tries import Work, tries

HAIR = 5e-7
"""Half of what counts as nothing: what floats lose is far less, what a saw loses far more."""

Fill = Callable[[Sheet, list[int], list[tuple[float, float, tuple[int, ...]]], float], Filled]


def by_outline(sheet, queue, sizes, gap, rank):  # type: ignore[no-untyped-def]
    outlines = [rectangle(length, width).outline for length, width, _ in sizes]
    return fit_sheet(sheet, queue, Shapes(outlines, gap, [size[2] for size in sizes]), rank)


SAWINGS = [Sawing(CHOICES[n % 4], SPLITS[n % 5], n % 2 > 0) for n in range(10)]
FILLS: dict[str, Fill] = {
    **{f"saw {n}": partial(saw_sheet, sawing=way) for n, way in enumerate(SAWINGS)},
    "blocks": partial(saw_blocks, sawing=Sawing(CHOICES[0], SPLITS[0]), most_waste=0.1, seed=1),
    **{f"boxes {n}": partial(box_sheet, rank=rank) for n, rank in enumerate(RANKS)},
    **{f"outlines {n}": partial(by_outline, rank=rank) for n, rank in enumerate(RANKS)},
}


@pytest.mark.parametrize("name", FILLS)
def test_a_row_that_just_fits_is_placed_and_one_a_hundredth_longer_is_not(name: str) -> None:
    # three in a row, margins of 4 and gaps of 3: 3 x 20 + 2 x 3 + 8 long and 10 + 8 wide
    for turns, (length, width), upright in product(
        ((0,), (0, 90)), ((20.0, 10.0), (10.0, 20.0)), (False, True)
    ):
        if turns == (0,) and (length < width):
            continue
        size = (length, width, turns)
        sheet_size = [3 * 20 + 2 * 3 + 8.0, 10 + 8.0]
        if upright:
            sheet_size.reverse()
            size = (width, length, turns)
        for at, less in product((0, 1), (-HAIR, 0.0, HAIR, 0.01)):
            there = list(sheet_size)
            there[at] -= less
            found = FILLS[name](Sheet("s", *there, None, 0.0, 4.0), [0, 0, 0], [size], 3.0)
            along = at == (1 if upright else 0)
            wanted = 3 if less < 0.001 else 2 if along else 0
            assert len(found.spots) == wanted, (turns, length, upright, at, less)


def rectangles(sizes, spots):  # type: ignore[no-untyped-def]
    """Each spot's left, bottom, right and top."""
    for spot in spots:
        length, width, turns = sizes[spot.piece]
        assert spot.turn_deg in turns
        w, h = (length, width) if spot.turn_deg == 0 else (width, length)
        yield spot.x_mm, spot.y_mm, spot.x_mm + w, spot.y_mm + h


@pytest.mark.parametrize("seed", range(4))
def test_pieces_drawn_by_lot_lie_apart_and_what_is_left_over_finds_no_room(seed: int) -> None:
    draw = random.Random(seed)
    sizes = [
        (draw.uniform(8, 60), draw.uniform(8, 40), draw.choice([(0,), (0, 90)])) for _ in range(7)
    ]
    queue = draw.choices(range(7), k=12)
    gap, margin = draw.choice([(0.0, 0.0), (3.0, 0.0), (3.0, 5.0), (3.0, 1.0)])
    sheet = Sheet("s", 150.0, 80.0, None, 0.0, margin)
    for name, fill in FILLS.items():
        if name.startswith("outlines") and name != "outlines 0":
            continue
        found = fill(sheet, queue, sizes, gap)
        low = max(margin, gap) if margin and not name.startswith(("boxes", "outl")) else margin
        boxes = list(rectangles(sizes, found.spots))
        for k, (a, b, c, d) in enumerate(boxes):
            assert min(a, b) >= low - 1e-9 and c <= 150 - margin + 1e-3 and d <= 80 - margin + 1e-3
            for e, f, g, h in boxes[:k]:
                aside, above = max(e - c, a - g), max(f - d, b - h)
                apart = max(aside, above)  # round corners let a torch go nearer, corner to corner
                if min(aside, above) > 0 and name.startswith("outlines"):
                    apart = hypot(aside, above)
                assert apart >= gap - 1e-3, name
        placed = Counter(spot.piece for spot in found.spots)
        assert not placed - Counter(queue)
        assert found.work > 0
        if name.startswith("boxes"):  # by brute force: nothing left over goes anywhere
            for piece in Counter(queue) - placed:
                length, width, turns = sizes[piece]
                for turn in turns:
                    w, h = (length, width) if turn == 0 else (width, length)
                    xs = [low] + [box[2] + gap for box in boxes]
                    ys = [low] + [box[3] + gap for box in boxes]
                    for x, y in product(xs, ys):
                        inside = x + w <= 150 - margin and y + h <= 80 - margin
                        assert not inside or any(
                            max(e - x - w, x - g, f - y - h, y - i) < gap - 1e-6
                            for e, f, g, i in boxes
                        ), name


def test_a_hair_too_much_or_too_little_leaves_the_same_empty_rectangles() -> None:
    whole = (0.0, 0.0, 10.0, 8.0)
    for x0, x1, y0, y1 in product((-2, 0, 3, 10), (0, 5, 10, 12), (-2, 0, 3, 8), (0, 5, 8, 9)):
        if x0 >= x1 or y0 >= y1:
            continue
        exact = sorted(_left_over([whole], (x0, y0, x1, y1)))
        inside = max(x0, 0) < min(x1, 10) and max(y0, 0) < min(y1, 8)
        assert len(exact) == (sum((x0 > 0, x1 < 10, y0 > 0, y1 < 8)) if inside else 1)
        for dx0, dx1, dy0, dy1 in product((-HAIR, HAIR), repeat=4):
            near = sorted(_left_over([whole], (x0 + dx0, y0 + dy0, x1 + dx1, y1 + dy1)))
            assert len(near) == len(exact)
            for one, other in zip(near, exact, strict=True):
                assert one == pytest.approx(other, abs=1e-6)


@pytest.mark.parametrize("seed", range(40))
def test_two_blocks_are_joined_the_way_that_wastes_least(seed: int) -> None:
    # every way to lay one beside or above the other: what is lost is the whole less both and the cut
    draw = random.Random(seed)
    ways = draw.choice([((0, 90), (0, 90)), ((0,), (0,)), ((0,), (0, 90)), ((90,), (0, 90))])
    one, other = (
        Block(draw.choice([10.0, 20.0, 25.5]), draw.choice([8.0, 20.0, 30.0]), turns, piece=n)
        for n, turns in enumerate(ways)
    )
    kerf, space = draw.choice([0.0, 2.0]), draw.choice([(60.0, 40.0), (40.0, 25.0), (30.0, 58.0)])
    whole_turns = all(len(turns) == 2 for turns in ways)
    best = 1.0
    for a, b, beside in product(one.turns, other.turns, (True, False)):
        (w, h), (u, v) = one.size(a), other.size(b)
        size = (w + kerf + u, max(h, v)) if beside else (max(w, u), h + kerf + v)
        cut = kerf * (size[1] if beside else size[0])
        fits = size[0] <= space[0] and size[1] <= space[1]
        fits |= whole_turns and size[1] <= space[0] and size[0] <= space[1]
        if fits:
            best = min(best, 1 - (w * h + u * v + cut) / (size[0] * size[1]))
    found = _pair(one, other, kerf, space)
    assert (found is None) == (best == 1.0)
    if found:
        share, block = found
        assert share == pytest.approx(best, abs=1e-9)
        assert block.members == (0, 1) and block.turns == ((0, 90) if whole_turns else (0,))


# ---- what is tried ----

SIZES = ((50.0, 30.0), (20.0, 45.0), (12.0, 12.5), (70.0, 8.0), (40.0, 25.0))
CORNERED = profile("corner", (0, 0, 0), (30, 0, 0), (30, 10, 0), (10, 40, 0), (0, 40, 0))


def all_tries(process: str, *more: Piece) -> Iterator[tuple[list[int], object]]:
    """All that would be tried if no try cost anything."""
    pieces = [Piece(rectangle(*size), 3, n != 3) for n, size in enumerate(SIZES)]
    work = Work([*pieces, *more], [Sheet("s", 300, 200)], 2.0, process)
    yield from tries(work)


@pytest.mark.parametrize("process", ["saw", "plasma"])
def test_every_piece_is_tried_every_way_it_may_lie(
    process: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tried, "TRIES", 1000 if process == "saw" else 400)
    held: list[Counter[tuple[int, ...]]] = [Counter() for _ in SIZES]
    orders, ways = [], Counter()
    for order, fill in all_tries(process):
        assert Counter(order) == Counter({n: 3 for n in range(5)})
        orders.append(tuple(order))
        given = fill.keywords  # type: ignore[attr-defined]
        ways[fill.func.__name__] += 1  # type: ignore[attr-defined]
        for n, (length, width, turns) in enumerate(given["sizes"]):
            assert (length, width) == SIZES[n]
            held[n][turns] += 1
        assert given.get("kerf_mm", given.get("gap_mm")) == 2.0
    assert len(orders) == tried.TRIES
    assert set(held[3]) == {(0,)}  # may not be turned
    for n in (0, 1, 2, 4):  # as often along the sheet as across it, and free as often as not
        assert set(held[n]) == {(0,), (90,), (0, 90)}
        low, high = sorted((held[n][(0,)], held[n][(90,)]))
        assert high < 1.6 * low and 0.3 < held[n][(0, 90)] / tried.TRIES < 0.7
    by_size = {"saw": "saw_sheet", "plasma": "box_sheet"}[process]
    assert set(ways) == {by_size, "saw_blocks"}
    assert max(ways.values()) < 5 * min(ways.values())
    plain = {tuple(order) for order in orders[:160]}
    assert len(plain) <= 4 and len(set(orders)) > 20  # then shaken
    # but not at random: the largest is hardly ever among the last third
    late = sum(order.index(0) >= 10 for order in orders)
    assert late < 0.1 * len(orders)


def test_pieces_of_any_outline_are_tried_by_it_and_a_few_times_by_their_rectangles() -> None:
    made = [fill.func.__name__ for _, fill in all_tries("plasma", Piece(CORNERED))]  # type: ignore
    assert "fit_sheet" not in made[:4] and set(made[4:]) == {"fit_sheet"}
    ranks = {fill.keywords.get("rank") for _, fill in all_tries("plasma", Piece(CORNERED))}  # type: ignore
    assert set(RANKS[:2]) <= ranks
    assert not any(
        fill.func is fit_sheet
        for _, fill in all_tries("saw", Piece(CORNERED))  # type: ignore
    )


@pytest.mark.parametrize("process", ["saw", "plasma"])
def test_the_tries_end_when_enough_is_done_after_one_at_least(process: str) -> None:
    pieces = [Piece(rectangle(*size), 2) for size in SIZES]
    work = Work(pieces, [Sheet("s", 300, 200)], 2.0, process)
    assert len(list(islice(tries(work), 5))) == 5
    work.done = tried.WORK
    assert len(list(islice(tries(work), 5))) == 5  # enough, and not more than enough
    work.done = tried.WORK + 1
    assert len(list(tries(work))) == 1
    found = 0
    for found, _ in enumerate(tries(work), 1):  # noqa: B007
        work.done = 0 if found < 350 else tried.WORK + 1
    assert found == 1 or found == 350
