"""The cut list: pieces from the parts' blanks, and the bars they are sawn from.

Lengths go to the saw in whole units, tenths of a millimetre or 64ths of an inch: pieces and kerf
rounded up, bars down, so that what fits on paper fits on the saw. Needs no solid.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, floor

from parts.attachment import Attachment
from parts.part import Joined, members
from parts.standard.materials import material
from parts.standard.sections import Section
from planner.barcut import Bar, Demand, NotEnoughBars, cut_bars
from planner.findings import Finding
from planner.holding import holding
from planner.job import Job

RACK, BUY, ORDER = "rack", "buy list", "not listed"


@dataclass(frozen=True)
class Piece:
    """One length to saw.

    part, piece: whose it is. finished_mm: after facing. facing_mm: both ends together; grip_mm: the
    spare to hold by. cut_mm: the sawn length, their sum.
    """

    part: str
    piece: str
    section: Section
    material: str
    quantity: int
    finished_mm: float
    facing_mm: float
    grip_mm: float

    @property
    def cut_mm(self) -> float:
        """What the saw is set to."""
        return self.finished_mm + self.facing_mm + self.grip_mm


@dataclass(frozen=True)
class BarLayout:
    """One bar and what is sawn from it, in sawing order.

    origin: "rack", "buy list" or "not listed" (to be ordered, price unknown). price: of one bar in
    the shop's currency. drop_mm: what is left after the last cut.
    """

    origin: str
    length_mm: float
    price: float
    pieces: tuple[Piece, ...]
    drop_mm: float


@dataclass(frozen=True)
class Group:
    """All pieces of one section and material, and their bars.

    proven: whether cost and drawn length are proven least.
    """

    section: Section
    material: str
    pieces: tuple[Piece, ...]
    bars: tuple[BarLayout, ...]
    mass_kg_m: float
    proven: bool

    @property
    def cost(self) -> float:
        """Price of all its bars."""
        return sum(bar.price for bar in self.bars)

    @property
    def drawn_mm(self) -> float:
        """Length of all its bars."""
        return sum(bar.length_mm for bar in self.bars)

    @property
    def sawn_kg(self) -> float:
        """Mass of the sawn pieces."""
        return sum(p.cut_mm * p.quantity for p in self.pieces) * self.mass_kg_m / 1000

    @property
    def drop_mm(self) -> float:
        """Length of all the drops."""
        return sum(bar.drop_mm for bar in self.bars)


@dataclass(frozen=True)
class CutList:
    """The whole cut list; kerf_mm as the layouts used it."""

    groups: tuple[Group, ...]
    kerf_mm: float
    findings: tuple[Finding, ...]


def pieces_of(attachment: Attachment) -> tuple[Piece, ...]:
    """Every piece of stock of an attachment, with the allowances of the way it is held."""
    found = []
    for part in attachment.parts:
        for member in members(part):
            held = holding(member, isinstance(part.blank, Joined))
            found.append(
                Piece(
                    part.name,
                    member.name,
                    member.blank.section,
                    member.blank.material,
                    part.quantity,
                    member.blank.length_mm,
                    held.facing_mm,
                    held.grip_mm,
                )
            )
    return tuple(found)


def cut_list(attachment: Attachment, job: Job, file: str) -> CutList:
    """The cut list of an attachment from the job's rack and buy list.

    A section on neither, or too short on both, is laid out on one length to be ordered, with a
    note. file: what findings call the job file.
    """
    groups: dict[tuple[Section, str], list[Piece]] = {}
    for piece in pieces_of(attachment):
        groups.setdefault((piece.section, piece.material), []).append(piece)
    unit_mm = 25.4 / 64 if job.inch else 0.1
    kerf = _up(job.shop.kerf, unit_mm)
    findings: list[Finding] = []
    laid = []
    for (section, material_name), pieces in groups.items():
        bars, proven = _lay_out(section, material_name, pieces, job, unit_mm, kerf)
        for bar in bars:
            if bar.origin == ORDER:
                findings.append(_to_order(section, material_name, bar, job, file))
        mass = section.mass_kg_m(material(material_name).density_kg_m3)
        laid.append(Group(section, material_name, tuple(pieces), bars, mass, proven))
    return CutList(tuple(laid), kerf * unit_mm, tuple(findings))


def _up(mm: float, unit_mm: float) -> int:
    return ceil(round(mm / unit_mm, 4))


def _lay_out(
    section: Section,
    material_name: str,
    pieces: list[Piece],
    job: Job,
    unit_mm: float,
    kerf: int,
) -> tuple[tuple[BarLayout, ...], bool]:
    demands = [Demand(_up(p.cut_mm, unit_mm), p.quantity, f"{p.part}/{p.piece}") for p in pieces]
    bars = _bars(section, material_name, job, lambda mm: floor(round(mm / unit_mm, 4)))
    try:
        plan = cut_bars(demands, bars, kerf)
    except (NotEnoughBars, ValueError):
        needed = sum(d.length * d.quantity + kerf * d.quantity for d in demands)
        step = round(50.0 / unit_mm) if not job.inch else 64
        whole = ceil(needed / step) * step
        plan = cut_bars(demands, [Bar(whole, None, 0, ORDER)], kerf)
    laid = []
    for layout in plan.layouts:
        taken = tuple(pieces[index] for index in layout.pieces)
        bar = BarLayout(
            layout.bar.name,
            layout.bar.length * unit_mm,
            layout.bar.cost / 100,
            taken,
            layout.remnant * unit_mm,
        )
        laid += [bar] * layout.count
    return tuple(laid), all(level.status == "proven" for level in plan.status[:2])


def _bars(
    section: Section, material_name: str, job: Job, down: Callable[[float], int]
) -> list[Bar]:
    found = [
        Bar(down(bar.length), bar.quantity, round(bar.cost * 100), RACK, remnant=True)
        for bar in job.shop.rack
        if _same(bar.section, section) and bar.material == material_name
    ]
    found += [
        Bar(down(bar.length), None, round(bar.price * 100), BUY)
        for bar in job.shop.buy
        if _same(bar.section, section) and bar.material == material_name
    ]
    return found


def _same(a: Section, b: Section) -> bool:
    return (
        a.shape == b.shape
        and abs(a.width_mm - b.width_mm) < 0.01
        and abs(a.thickness_mm - b.thickness_mm) < 0.01
    )


def _to_order(section: Section, material_name: str, bar: BarLayout, job: Job, file: str) -> Finding:
    label = section.label(job.inch)
    length = f"{bar.length_mm / 25.4:g} in" if job.inch else f"{bar.length_mm:g} mm"
    text = (
        f"{label} {material_name}: not enough on the rack or the buy list; order {length},"
        " price not known"
    )
    return Finding(
        "note", file, "shop.buy", label, "not enough listed", f"Order {length} and list it", text
    )
