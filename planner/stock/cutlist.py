"""The cut list: pieces from the parts' blanks, and the bars they are sawn from.

Lengths go to the saw in whole units, tenths of a millimetre or 64ths of an inch: pieces and kerf
rounded up, bars down, so that what fits on paper fits on the saw. Needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import ceil, floor

from parts.attachment import Attachment
from parts.part import members
from parts.standard.materials import material
from parts.standard.sections import Section
from planner.barcut import Bar, CutPlan, Demand, NotEnoughBars, TooMuch, cut_bars
from planner.job.tables import BuyBar, Job
from planner.making.holding import PARTING_MM, Hold, from_sheet, holdings
from planner.words.findings import BadInput, Finding, finding

RACK, BUY, ORDER = "rack", "buy list", "not listed"

UNPRICED = 10**12
"""What a bar of no known price counts as: it is taken only where no listed bar will do."""

MOST_WAYS = 128
"""Ways of letting thicker rounds serve that are gone through; with more, sections go as a whole."""

LEAST_REMNANT_MM = 20.0
"""What is left of a bar and shorter is scrap (common practice)."""


@dataclass(frozen=True)
class Piece:
    """One length to saw.

    part, piece: whose it is. finished_mm: after facing. facing_mm: both ends together; grip_mm: the
    spare to hold by, its own. cut_mm: the sawn length, their sum. from_bar: turned and parted off the
    bar itself, one grip for all of a bar; shared_grip_mm: that grip. stock: what it is taken from,
    where that is thicker than its section.
    """

    part: str
    piece: str
    section: Section
    material: str
    quantity: int
    finished_mm: float
    facing_mm: float
    grip_mm: float
    from_bar: bool = False
    shared_grip_mm: float = 0.0
    stock: Section | None = None

    @property
    def cut_mm(self) -> float:
        """What the saw is set to."""
        return self.finished_mm + self.facing_mm + self.grip_mm

    @property
    def taken_from(self) -> Section:
        """The section it is sawn from."""
        return self.stock or self.section

    @property
    def swarf_kg(self) -> float:
        """What all of them lose by being turned down from a thicker bar."""
        extra = self.taken_from.area_mm2 - self.section.area_mm2
        density = material(self.material).density_kg_m3
        return extra * self.cut_mm * self.quantity * density * 1e-9


@dataclass(frozen=True)
class BarLayout:
    """``count`` bars sawn alike, and what is sawn from each, in sawing order.

    origin: "rack", "buy list" or "not listed" (to be ordered, price unknown). price: of one bar in
    the shop's currency. drop_mm: what is left after the last cut, a shared grip with it.
    """

    origin: str
    length_mm: float
    price: float
    pieces: tuple[Piece, ...]
    drop_mm: float
    count: int = 1


@dataclass(frozen=True)
class Cutting:
    """What the bar cutter was given and gave, in whole units: its proof can be gone over again."""

    unit_mm: float
    kerf: int
    demands: tuple[Demand, ...]
    bars: tuple[Bar, ...]
    plan: CutPlan


@dataclass(frozen=True)
class Group:
    """All pieces taken from one section and material, and their bars.

    kerf_mm: between the pieces. cutting: the sums in whole units. short: why listed bars did not do.
    """

    section: Section
    material: str
    pieces: tuple[Piece, ...]
    bars: tuple[BarLayout, ...]
    mass_kg_m: float
    kerf_mm: float
    cutting: Cutting
    short: NotEnoughBars | None = None

    @property
    def proven(self) -> bool:
        """Whether cost and drawn length are proven least."""
        return all(level.status == "proven" for level in self.cutting.plan.status[:2])

    @property
    def cost(self) -> float:
        """Price of all its bars."""
        return sum(bar.price * bar.count for bar in self.bars)

    @property
    def drawn_mm(self) -> float:
        """Length of all its bars."""
        return sum(bar.length_mm * bar.count for bar in self.bars)

    @property
    def number(self) -> int:
        """How many bars."""
        return sum(bar.count for bar in self.bars)

    @property
    def sawn_kg(self) -> float:
        """Mass of the sawn pieces."""
        return sum(p.cut_mm * p.quantity for p in self.pieces) * self.mass_kg_m / 1000

    @property
    def drop_mm(self) -> float:
        """Length of all the drops."""
        return sum(bar.drop_mm * bar.count for bar in self.bars)


@dataclass(frozen=True)
class RackRow:
    """Bars of one length on the rack."""

    section: Section
    material: str
    length_mm: float
    quantity: int
    cost: float


@dataclass(frozen=True)
class CutList:
    """The whole cut list, and the rack as it is afterwards."""

    groups: tuple[Group, ...]
    rack_after: tuple[RackRow, ...]
    findings: tuple[Finding, ...]

    @property
    def kerf_mm(self) -> float:
        """The saw's kerf as the layouts used it."""
        return min((group.kerf_mm for group in self.groups), default=0.0)


def pieces_of(attachment: Attachment, job: Job) -> tuple[Piece, ...]:
    """Every piece of bar of the job: the attachment's, as often as it is made, and the user's own."""
    found = []
    held = holdings(attachment, job)
    for part in attachment.parts:
        for member in members(part):
            if from_sheet(member.blank, job):
                continue  # nested on sheets: stock.flats
            how = held[part.name, member.name]
            shared = how.hold is Hold.BAR
            found.append(
                Piece(
                    part.name,
                    member.name,
                    member.blank.section,
                    member.blank.material,
                    part.quantity * job.attachment.quantity,
                    member.blank.length_mm,
                    how.facing_mm,
                    0.0 if shared else how.grip_mm,
                    shared,
                    how.grip_mm if shared else 0.0,
                )
            )
    for own in job.piece:
        found.append(
            Piece("own", own.name, own.section, own.material, own.quantity, own.length, 0.0, 0.0)
        )
    return tuple(found)


def cut_list(attachment: Attachment, job: Job, file: str) -> CutList:
    """The cut list of a job from its rack and buy list.

    Least cost, then least length drawn, proven for each section. A thicker round serves where the shop
    allows it (turn_down) and that costs less: the ways of it are gone through one by one. What the
    lists cannot make is laid out on bars to be ordered, with a note. file: what findings call the job.
    Raises BadInput when there are more pieces than can be laid out.
    """
    return _Sawing(job, file).cut_list(pieces_of(attachment, job))


Key = tuple[Section, str]


class _Sawing:
    """One job's stock, and the groups already laid out from it."""

    def __init__(self, job: Job, file: str) -> None:
        self.job, self.file, self._mm = job, file, job.numbers.length
        self.unit_mm = 25.4 / 64 if job.inch else 0.1
        self.done: dict[tuple[Key, tuple[Piece, ...]], Group] = {}

    def cut_list(self, pieces: tuple[Piece, ...]) -> CutList:
        best = min(
            (self._groups(way) for way in self._ways(pieces)),
            key=lambda groups: (
                sum(group.cutting.plan.cost for group in groups),
                round(sum(group.drawn_mm for group in groups), 3),
            ),
        )
        findings = [*self._kerf_findings(best)]
        findings += [self._to_order(group) for group in best if group.short]
        findings += [self._turned_down(p) for group in best for p in group.pieces if p.stock]
        return CutList(best, self._rack_after(best), tuple(findings))

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
                    if name == piece.material and 0.01 < section.width_mm - width <= allowed + 1e-6
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
                replace(p, from_bar=False, grip_mm=p.grip_mm + p.shared_grip_mm, shared_grip_mm=0.0)
                for p in pieces
            )
        kerf = self._up(max(self.job.shop.kerf, PARTING_MM if shared else 0.0))
        kept = self._up(max(piece.shared_grip_mm for piece in pieces)) + kerf if shared else 0
        demands = tuple(
            Demand(self._up(p.cut_mm), p.quantity, f"{p.part}/{p.piece}") for p in pieces
        )
        listed = tuple(self._bars(key, kept))
        short: NotEnoughBars | None = None
        try:
            bars, plan = listed, cut_bars(demands, listed, kerf)
        except NotEnoughBars as missing:
            short = missing
            bars = (*listed, self._ordered(missing))
            plan = cut_bars(demands, bars, kerf)
        except TooMuch as error:
            where = f"{key[0].label(self.job.inch)} {key[1]}"
            limit = f"cannot be laid out: {error}"
            remedy = "Lower the quantities, or lay them out in several jobs"
            found = finding("too-many-pieces", self.file, "piece", where, limit, remedy)
            raise BadInput([found]) from None
        laid = tuple(
            BarLayout(
                layout.bar.name,
                (layout.bar.length + kept) * self.unit_mm,
                0.0 if layout.bar.name == ORDER else layout.bar.cost / 100,
                tuple(pieces[index] for index in layout.pieces),
                (layout.remnant + kept) * self.unit_mm,
                layout.count,
            )
            for layout in plan.layouts
        )
        mass = key[0].mass_kg_m(material(key[1]).density_kg_m3)
        cutting = Cutting(self.unit_mm, kerf, demands, bars, plan)
        return Group(*key, pieces, laid, mass, kerf * self.unit_mm, cutting, short)

    def _up(self, mm: float) -> int:
        return ceil(round(mm / self.unit_mm, 4))

    def _bars(self, key: Key, kept: int) -> Iterator[Bar]:
        """The listed bars of a section, less what is kept to hold by."""

        def down(mm: float) -> int:
            return floor(round(mm / self.unit_mm, 4)) - kept

        for bar in self.job.shop.rack:
            if _same(bar.section, key[0]) and bar.material == key[1] and down(bar.length) > 0:
                yield Bar(down(bar.length), bar.quantity, _cents(bar.cost), RACK, remnant=True)
        for buy in self.job.shop.buy:
            if _same(buy.section, key[0]) and buy.material == key[1] and down(buy.length) > 0:
                yield Bar(down(buy.length), buy.available, _cents(buy.bar_price), BUY)

    def _ordered(self, missing: NotEnoughBars) -> Bar:
        step = round(50.0 / self.unit_mm) if not self.job.inch else 64
        whole = ceil(missing.nearest_bar / step) * step
        return Bar(whole, None, UNPRICED, ORDER)

    # what to say of it

    def _to_order(self, group: Group) -> Finding:
        assert group.short is not None
        label = f"{group.section.label(self.job.inch)} {group.material}"
        left = ", ".join(
            f"{u.quantity} of {self._mm(u.length * self.unit_mm)} ({u.name})"
            for u in group.short.unplaced
        )
        bars = [bar for bar in group.bars if bar.origin == ORDER]
        number, length = sum(bar.count for bar in bars), self._mm(bars[0].length_mm)
        missing = self._mm(group.short.short_by * self.unit_mm)
        order = f"Order {number} of {length} and list it; its price is not known"
        limit = f"rack and buy list leave over {left}: {missing} with kerfs"
        source = "" if group.short.proven else "not proven: a cutting may exist"
        return finding("shortage", self.file, "shop.buy", label, limit, order, source=source)

    def _turned_down(self, piece: Piece) -> Finding:
        label = f"{piece.part}/{piece.piece}"
        stock = piece.taken_from.label(self.job.inch)
        limit = f"{piece.section.label(self.job.inch)} is taken from {stock}"
        remedy = f"Turn it down first: {piece.swarf_kg:.2f} kg of swarf"
        return finding("turn-down", self.file, "shop.turn_down", label, limit, remedy)

    def _kerf_findings(self, groups: tuple[Group, ...]) -> Iterator[Finding]:
        kerf = self.job.shop.kerf
        for group in groups:
            for piece in group.pieces:
                if piece.cut_mm < kerf:
                    value = f"{piece.part}/{piece.piece} {self._mm(piece.cut_mm)}"
                    limit = f"shorter than the kerf, {self._mm(kerf)}"
                    remedy = "Check shop.kerf and the piece's unit"
                    yield finding("kerf", self.file, "shop.kerf", value, limit, remedy)

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
                    drop = floor(used.drop_mm * 10 + 1e-6) / 10
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
            alike = _same(section, group.section) and name == group.material
            if alike and 0 <= length - used.length_mm < self.unit_mm and cost == used.price:
                taken = min(left, rows[row])
                rows[row] -= taken
                left -= taken


def _cents(price: float) -> int:
    return round(price * 100)


def _same(a: Section, b: Section) -> bool:
    return (
        a.shape == b.shape
        and abs(a.width_mm - b.width_mm) < 0.01
        and abs(a.thickness_mm - b.thickness_mm) < 0.01
    )


def bars_for_sale(job: Job, section: Section, material_name: str) -> tuple[BuyBar, ...]:
    """The buyable bars of a section and material."""
    return tuple(
        bar for bar in job.shop.buy if _same(bar.section, section) and bar.material == material_name
    )
