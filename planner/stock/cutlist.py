"""The cut list worked out: the pieces of a job laid out on the bars of its rack and buy list.

Lengths go to the saw in whole units, tenths of a millimetre or 64ths of an inch: pieces and kerf
rounded up, bars down, so that what fits on paper fits on the saw. Needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from math import ceil, floor

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.standard.materials import material
from parts.standard.sections import Section
from planner.barcut import Bar, CutPlan, Demand, Layout, NotEnoughBars, TooMuch, cut_bars
from planner.job.tables import Job
from planner.job.usual import THROUGH_MM
from planner.making.holding import parting_mm
from planner.stock.bars import (
    BUY,
    ORDER,
    RACK,
    BarLayout,
    CutList,
    Cutting,
    Group,
    RackRow,
    same_section,
)
from planner.stock.pieces import Piece, pieces_of
from planner.stock.remarks import Remarks
from planner.words.findings import BadInput, finding
from planner.words.units import MM_PER_INCH

UNPRICED = 10**12
"""What a bar of no known price counts as: it is taken only where no listed bar will do."""

MOST_WAYS = 128
"""Ways of letting thicker rounds serve that are gone through; with more, sections go as a whole."""

ONE_BAR_MM, ONE_BAR_IN = 1000.0, 36.0
"""Pieces that are to be ordered and go on a bar no longer are ordered as one, more of them as the
fewest that are no longer: a metre or a yard is what dealers post, and a stub a piece is a cut each to
pay for and nothing to hold in the saw (common practice)."""

CUT_BY_WHEEL = "tool steel"
"""Bits of it are sold one by one, and no saw cuts them (common practice)."""

ORDER_TRIES = 8
"""Lengths of several bars that are tried from the shortest up, before the longest is ordered."""

KERF_PART = 0.1
"""Of a unit, what a kerf may be over a whole one and count as it: a saw of 1.6 mm is one of 1/16 in
(rounding: 0.04 mm a cut, and every piece has its facing)."""

LEAST_REMNANT_MM = 20.0
"""What is left of a bar and shorter is scrap (common practice)."""


def cut_list(attachment: Attachment, job: Job, file: str, more: tuple[Piece, ...] = ()) -> CutList:
    """The cut list of a job from its rack and buy list.

    Least cost, then least length drawn, proven for each section. A thicker round serves where the shop
    allows it (turn_down) and that costs less: the ways of it are gone through one by one. What the
    lists cannot make is laid out on bars to be ordered, with a note. file: what findings call the job;
    more: pieces besides the attachment's and the user's own.
    Raises BadInput when there are more pieces than can be laid out.
    """
    return laid_out(pieces_of(attachment, job) + more, job, file)


def laid_out(pieces: tuple[Piece, ...], job: Job, file: str) -> CutList:
    """The cut list of these pieces and no others. Raises BadInput as ``cut_list`` does."""
    return _Sawing(job, file).cut_list(pieces)


Key = tuple[Section, str]


class _Sawing:
    """One job's stock, and the groups already laid out from it."""

    def __init__(self, job: Job, file: str) -> None:
        self.job, self.file = job, file
        self.unit_mm = job.numbers.bar_grain_mm
        self.done: dict[tuple[Key, tuple[Piece, ...]], Group] = {}

    def cut_list(self, pieces: tuple[Piece, ...]) -> CutList:
        best = min(
            (self._groups(way) for way in self._ways(pieces)),
            key=lambda groups: (
                sum(group.cutting.plan.cost for group in groups),
                round(sum(group.drawn_mm for group in groups), 3),
            ),
        )
        findings = Remarks(self.job, self.file).all(best)
        return CutList(best, self._rack_after(best), findings)

    def _groups(self, pieces: Sequence[Piece]) -> tuple[Group, ...]:
        groups: dict[Key, list[Piece]] = {}
        for piece in pieces:
            groups.setdefault((piece.taken_from, piece.material), []).append(piece)
        return tuple(self._group(key, tuple(found)) for key, found in groups.items())

    def _ways(self, pieces: tuple[Piece, ...]) -> Iterator[tuple[Piece, ...]]:
        """The pieces as they are, then thicker rounds serving for what costs money or is missing."""
        yield pieces
        allowed = self.job.shop.turn_down
        if not allowed:
            return
        plain = self._groups(pieces)
        paid = {(g.section, g.material) for g in plain if g.cutting.plan.cost > 0}
        stock = self._rounds()
        choices: list[list[Piece]] = []
        for piece in pieces:
            options = [piece]
            if piece.section.shape == "round" and (piece.section, piece.material) in paid:
                width = piece.section.width_mm
                options += [
                    replace(piece, stock=section)
                    for section, name in stock
                    if name == piece.material
                    and 0.01 < section.width_mm - width <= allowed + 1e-6
                    and (not piece.from_bar or self._through(section))
                ]
            choices.append(options)
        ways = 1
        for options in choices:
            ways *= len(options)
        if ways <= MOST_WAYS:
            yield from (tuple(way) for way in product(*choices))
            return
        for key in paid:
            for section, name in stock:
                way = tuple(
                    next((o for o in options if o.stock == section), options[0])
                    if (options[0].section, options[0].material) == key and name == key[1]
                    else options[0]
                    for options in choices
                )
                yield way

    def _through(self, section: Section) -> bool:
        """Whether a bar goes through the spindle, as what is turned off its end must."""
        bore = self.job.lathe.spindle_bore
        return bore is not None and section.width_mm + THROUGH_MM <= bore

    def _rounds(self) -> list[Key]:
        listed = [(bar.section, bar.material) for bar in self.job.shop.rack]
        listed += [(bar.section, bar.material) for bar in self.job.shop.buy]
        keys = [key for key in listed if key[0].shape == "round"]
        return list(dict.fromkeys(keys))

    def _group(self, key: Key, pieces: tuple[Piece, ...]) -> Group:
        if (key, pieces) not in self.done:
            self.done[key, pieces] = self._laid_out(key, pieces)
        return self.done[key, pieces]

    def _laid_out(self, key: Key, pieces: tuple[Piece, ...]) -> Group:
        shared = all(piece.from_bar for piece in pieces)
        if (
            not shared
        ):  # a piece turned off the bar comes with its own grip among others that are not
            pieces = tuple(
                replace(p, grip_mm=p.grip_mm + p.shared_grip_mm, shared_grip_mm=0.0) for p in pieces
            )
        kerf = self._kerf(max(self.job.shop.kerf, parting_mm(self.job.series) if shared else 0.0))
        kept = self._up(max(piece.shared_grip_mm for piece in pieces)) + kerf if shared else 0
        numbers = self.job.numbers
        demands = tuple(
            Demand(self._up(p.sawn_mm(numbers)), p.quantity, f"{p.part}/{p.piece}") for p in pieces
        )
        listed = tuple(self._bars(key, kept))
        short: NotEnoughBars | None = None
        try:
            bars, plan = listed, cut_bars(demands, listed, kerf)
        except NotEnoughBars as missing:
            short = missing
            blanks = material(key[1]).group == CUT_BY_WHEEL
            bars, plan = self._ordered(missing, demands, listed, (kept, kerf), blanks)
        except TooMuch as error:
            where = f"{self.job.numbers.stock(key[0])} {key[1]}"
            limit = f"cannot be laid out: {error}"
            remedy = "Lower the quantities, or lay them out in several jobs"
            found = finding("too-many-pieces", self.file, "piece", where, limit, remedy)
            raise BadInput([found]) from None

        def held(layout: Layout) -> int:
            return sum(demands[index].length + kerf for index in layout.pieces)

        laid = tuple(
            BarLayout(
                layout.bar.name,
                (layout.bar.length + kept) * self.unit_mm,
                0.0 if layout.bar.name == ORDER else layout.bar.cost / 100,
                tuple(pieces[index] for index in layout.pieces),
                # not the layout's own remnant: a cut that ran out of its end runs into the grip here
                max(0, layout.bar.length + kept - held(layout)) * self.unit_mm,
                layout.count,
            )
            for layout in plan.layouts
        )
        mass = key[0].mass_kg_m(material(key[1]).density_kg_m3)
        cutting = Cutting(self.unit_mm, kerf, demands, bars, plan)
        return Group(*key, pieces, laid, mass, kerf * self.unit_mm, cutting, short)

    def _kerf(self, mm: float) -> int:
        """A kerf in whole units, up but where the next is as near as the set of the teeth scatters."""
        return ceil(round(mm / self.unit_mm - KERF_PART, 4))

    def _up(self, mm: float) -> int:
        return ceil(round(mm / self.unit_mm, 4))

    def _bars(self, key: Key, kept: int) -> Iterator[Bar]:
        """The listed bars of a section, less what is kept to hold by."""

        def down(mm: float) -> int:
            return floor(round(mm / self.unit_mm, 4)) - kept

        for bar in self.job.shop.rack:
            if (
                same_section(bar.section, key[0])
                and bar.material == key[1]
                and down(bar.length) > 0
            ):
                yield Bar(down(bar.length), bar.quantity, _cents(bar.cost), RACK, remnant=True)
        for buy in self.job.shop.buy:
            if (
                same_section(buy.section, key[0])
                and buy.material == key[1]
                and down(buy.length) > 0
            ):
                yield Bar(down(buy.length), buy.available, _cents(buy.bar_price), BUY)

    def _ordered(
        self,
        missing: NotEnoughBars,
        demands: Sequence[Demand],
        listed: tuple[Bar, ...],
        spent: tuple[int, int],
        blanks: bool,
    ) -> tuple[tuple[Bar, ...], CutPlan]:
        """The listed bars and one to order, of a whole length, 50 mm or 1 in, and what is sawn of them:
        one for all that is missing where that is no longer than ONE_BAR, else the shortest of which as
        few do as of that. spent: kept of each to hold by, and the kerf. blanks: each bought alone."""
        kept, kerf = spent
        step = round(50.0 / self.unit_mm) if not self.job.inch else 64
        most = (ONE_BAR_IN * MM_PER_INCH if self.job.inch else ONE_BAR_MM) / self.unit_mm
        longest = max(floor(most / step) * step, ceil((missing.nearest_bar + kept) / step) * step)

        def of(length: int) -> tuple[tuple[Bar, ...], CutPlan]:
            bars = (*listed, Bar(length - kept, None, UNPRICED, ORDER))
            return bars, cut_bars(demands, bars, kerf)

        if blanks:
            return of(ceil((missing.nearest_bar + kept) / step) * step)
        together = missing.short_by - kerf + kept
        if together <= longest:
            return of(ceil(together / step) * step)
        best = of(longest)
        few = number_of(best[1])
        least = max(missing.nearest_bar, ceil(missing.short_by / few) - kerf) + kept
        for length in range(ceil(least / step) * step, longest, step)[:ORDER_TRIES]:
            shorter = of(length)
            if number_of(shorter[1]) <= few:
                return shorter
        return best

    def _rack_after(self, groups: tuple[Group, ...]) -> tuple[RackRow, ...]:
        """The rack with used bars gone and remnants put back; those too short are scrap."""
        rows: dict[tuple[Section, str, float, float], int] = {}
        for bar in self.job.shop.rack:
            row = (bar.section, bar.material, bar.length, bar.cost)
            rows[row] = rows.get(row, 0) + bar.quantity
        for group in groups:
            for used in group.bars:
                if used.origin == RACK:
                    self._take(rows, group, used)
                if used.drop_mm >= LEAST_REMNANT_MM:
                    drop = self.job.series.down(used.drop_mm, 0.1)
                    row = (group.section, group.material, drop, 0.0)
                    rows[row] = rows.get(row, 0) + used.count
        return tuple(
            RackRow(section, name, length, count, cost)
            for (section, name, length, cost), count in rows.items()
            if count
        )

    def _take(
        self,
        rows: dict[tuple[Section, str, float, float], int],
        group: Group,
        used: BarLayout,
    ) -> None:
        left = used.count
        for row in rows:
            section, name, length, cost = row
            alike = same_section(section, group.section) and name == group.material
            if alike and 0 <= length - used.length_mm < self.unit_mm and cost == used.price:
                taken = min(left, rows[row])
                rows[row] -= taken
                left -= taken


def number_of(plan: CutPlan) -> int:
    """How many bars of a plan are to be ordered."""
    return sum(layout.count for layout in plan.layouts if layout.bar.name == ORDER)


def _cents(price: float) -> int:
    return round(price * 100)
