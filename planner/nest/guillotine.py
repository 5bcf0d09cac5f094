"""Rectangles out of one sheet by straight cuts from edge to edge, and the order to saw them in."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from parts.value import Value
from planner.nest.model import Cut, Sheet

SAME_MM = 1e-6
"""Sizes closer than this are equal: no cut between them."""

Size = tuple[float, float, tuple[int, ...]]
"""A piece's bounding length and width, and the turns it may take: of 0 and 90 degrees."""


class Spot(Value, frozen=True):
    """Where one piece goes: its number, lower left corner, turn, and the saw's panel."""

    piece: int
    x_mm: float
    y_mm: float
    turn_deg: int
    panel: int | None = None


class Filled(Value, frozen=True):
    """One sheet filled: the spots, the saw's cuts, and how many places were looked at."""

    spots: tuple[Spot, ...]
    cuts: tuple[Cut, ...] = ()
    work: int = 0


class Panel(Value, frozen=True):
    """A rectangle of the sheet: its name, lower left corner, and size along x and y."""

    name: int
    x: float
    y: float
    w: float
    h: float


Choice = Callable[[Panel, float, float], tuple[float, ...]]
"""How good a panel is for a piece of a length and width; the least is taken."""

CHOICES: tuple[Choice, ...] = (
    lambda p, w, h: (min(p.w - w, p.h - h), max(p.w - w, p.h - h)),
    lambda p, w, h: (p.x + w, p.y),
    lambda p, w, h: (p.w * p.h - w * h, min(p.w - w, p.h - h)),
    lambda p, w, h: (p.h - h, p.x),
)

WidthFirst = Callable[[Panel, float, float], bool]
"""Whether the first cut beside a piece runs along the panel's width."""

SPLITS: tuple[WidthFirst, ...] = (
    lambda p, w, h: p.w - w > p.h - h,
    lambda p, w, h: w * (p.h - h) < h * (p.w - w),
    lambda p, w, h: True,
    lambda p, w, h: p.w - w <= p.h - h,
    lambda p, w, h: False,
)


class Sawing(Value, frozen=True):
    """How a sheet is sawn up.

    choice, width_first: of CHOICES and SPLITS; by_fit: take whatever piece fits any panel best, instead
    of the next in the queue.
    """

    choice: Choice
    width_first: WidthFirst
    by_fit: bool = False


class Saw(Struct, dict=True):
    """The panels still whole and the cuts made, as a sheet is divided."""

    kerf: float
    cuts: list[Cut] = field(default_factory=list)
    names: int = 0

    def name(self) -> int:
        self.names += 1
        return self.names

    def cut(self, panel: Panel, along: str, position: float) -> tuple[Panel, Panel]:
        """The near and far panel; one with no material is not counted as made."""
        if along == "width":
            near = replace(panel, w=position)
            far = replace(panel, x=panel.x + position + self.kerf, w=panel.w - position - self.kerf)
        else:
            near = replace(panel, h=position)
            far = replace(panel, y=panel.y + position + self.kerf, h=panel.h - position - self.kerf)
        there = [part.w > 1e-9 and part.h > 1e-9 for part in (near, far)]
        near = replace(near, name=self.name() if there[0] else -1)
        far = replace(far, name=self.name() if there[1] else -1)
        self.cuts.append(
            Cut(
                number=0,
                panel=panel.name,
                along=along,
                position_mm=position,
                length_mm=panel.h if along == "width" else panel.w,
                near=near.name if there[0] else None,
                far=far.name if there[1] else None,
            )
        )
        return near, far

    def cut_to(
        self, panel: Panel, length: float, width: float, ways: Sequence[str]
    ) -> tuple[Panel, list[Panel]]:
        """The near corner of a panel cut to size, by cuts in the order of ways; and the rests."""
        rests = []
        for along in ways:
            wanted, there = (length, panel.w) if along == "width" else (width, panel.h)
            if there - wanted > SAME_MM:
                panel, rest = self.cut(panel, along, wanted)
                rests += [rest] if rest.name > 0 else []
        return panel, rests

    def trimmed(self, sheet: Sheet) -> Panel:
        """The sheet without its margins; a near edge loses at least the kerf."""
        panel = Panel(0, 0.0, 0.0, sheet.length_mm, sheet.width_mm)
        if sheet.margin_mm <= 0:
            return panel
        low = max(sheet.margin_mm, self.kerf)
        for along in ("width", "length"):
            _, panel = self.cut(panel, along, low - self.kerf)
        panel, _ = self.cut(panel, "width", panel.w - sheet.margin_mm)
        panel, _ = self.cut(panel, "length", panel.h - sheet.margin_mm)
        return panel


Divide = Callable[[Saw, Panel, int, int], list[Spot]]
"""Cuts the panel of what has a number, turned so, into pieces."""


def room(sheet: Sheet, kerf_mm: float) -> tuple[float, float]:
    """Length and width inside the trimmed margins of a sheet that is sawn."""
    lost = sheet.margin_mm + max(sheet.margin_mm, kerf_mm) if sheet.margin_mm > 0 else 0.0
    return sheet.length_mm - lost, sheet.width_mm - lost


def saw_sheet(
    sheet: Sheet,
    queue: Sequence[int],
    sizes: Sequence[Size],
    kerf_mm: float,
    sawing: Sawing,
    divide: Divide | None = None,
) -> Filled:
    """Saw pieces out of one sheet.

    queue: numbers of the pieces wanted, each as often as wanted, in the order to try;
    sizes: of all pieces; kerf_mm: width of each cut;
    divide: cuts a panel further when what is placed is not one piece.
    Returns the spots found, possibly none, and the cuts, panel by panel as they are sawn.
    """
    saw = Saw(kerf_mm)
    panels = [saw.trimmed(sheet)]
    waiting = list(queue)
    taken: list[Spot] = []
    hopeless: set[int] = set()
    work = 0
    while waiting:
        offered = list(dict.fromkeys(waiting)) if sawing.by_fit else [waiting.pop(0)]
        best: tuple[tuple[float, ...], int, int, int] | None = None
        for piece in offered:
            if piece in hopeless:
                continue
            length, width, turns = sizes[piece]
            fits = False
            for turn in turns:
                w, h = (length, width) if turn == 0 else (width, length)
                work += len(panels)
                for number, panel in enumerate(panels):
                    if w <= panel.w + SAME_MM and h <= panel.h + SAME_MM:
                        fits = True
                        found = (sawing.choice(panel, w, h), number, piece, turn)
                        if best is None or found[0] < best[0]:
                            best = found
            if not fits:
                hopeless.add(piece)
        if best is None:
            if sawing.by_fit:
                break
            continue
        _, number, piece, turn = best
        if sawing.by_fit:
            waiting.remove(piece)
        panel = panels.pop(number)
        length, width, _ = sizes[piece]
        w, h = (length, width) if turn == 0 else (width, length)
        ways = ("width", "length") if sawing.width_first(panel, w, h) else ("length", "width")
        panel, rests = saw.cut_to(panel, w, h, ways)
        panels += rests
        if divide is None:
            taken.append(Spot(piece, panel.x, panel.y, turn, panel.name))
        else:
            taken += divide(saw, panel, piece, turn)
    if not taken:
        return Filled((), (), work)
    return _in_order(taken, saw.cuts, work)


def _in_order(spots: Sequence[Spot], cuts: Sequence[Cut], work: int) -> Filled:
    """The same cuts so that each panel is finished before the next is taken up, renumbered."""
    divides = {cut.panel: cut for cut in cuts}
    names = {0: 0}
    ordered: list[Cut] = []
    waiting = [0]
    while waiting:
        cut = divides.get(waiting.pop())
        if cut is None:
            continue
        for part in (cut.near, cut.far):
            if part is not None:
                names[part] = len(names)
        made = [part for part in (cut.far, cut.near) if part is not None]
        waiting += made
        ordered.append(
            replace(
                cut,
                number=len(ordered) + 1,
                panel=names[cut.panel],
                near=None if cut.near is None else names[cut.near],
                far=None if cut.far is None else names[cut.far],
            )
        )
    # A piece that is the whole sheet needs no cut and is panel 0.
    placed = tuple(replace(s, panel=None if s.panel is None else names[s.panel]) for s in spots)
    return Filled(placed, tuple(ordered), work)
