"""A cut list as it stands: the bars, what is sawn from each, and the rack afterwards.

Plain records that the cut list fills; the sheets, the sawing picture and the copy of a job read them.
"""

from __future__ import annotations

from parts.standard.sections import Section
from parts.value import Value
from planner.barcut import Bar, CutPlan, Demand, NotEnoughBars
from planner.job.tables import BuyBar, Job
from planner.stock.pieces import Piece
from planner.words.findings import Finding

RACK, BUY, ORDER = "rack", "buy list", "not listed"


class BarLayout(Value, frozen=True):
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


class Cutting(Value, frozen=True):
    """What the bar cutter was given and gave, in whole units: its proof can be gone over again."""

    unit_mm: float
    kerf: int
    demands: tuple[Demand, ...]
    bars: tuple[Bar, ...]
    plan: CutPlan


class Group(Value, frozen=True):
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


class RackRow(Value, frozen=True):
    """Bars of one length on the rack."""

    section: Section
    material: str
    length_mm: float
    quantity: int
    cost: float


class CutList(Value, frozen=True):
    """The whole cut list, and the rack as it is afterwards."""

    groups: tuple[Group, ...]
    rack_after: tuple[RackRow, ...]
    findings: tuple[Finding, ...]

    @property
    def kerf_mm(self) -> float:
        """The saw's kerf as the layouts used it."""
        return min((group.kerf_mm for group in self.groups), default=0.0)


def same_section(a: Section, b: Section) -> bool:
    """Whether two sections are one to the saw: of one shape, their sizes within 0.01 mm."""
    return (
        a.shape == b.shape
        and abs(a.width_mm - b.width_mm) < 0.01
        and abs(a.thickness_mm - b.thickness_mm) < 0.01
    )


def bars_for_sale(job: Job, section: Section, material_name: str) -> tuple[BuyBar, ...]:
    """The buyable bars of a section and material."""
    return tuple(
        bar
        for bar in job.shop.buy
        if same_section(bar.section, section) and bar.material == material_name
    )
