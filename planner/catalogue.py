"""What a size may be chosen from: the shop's own stock, tools and taps first, then the standards.

planner.sizing asks it; it knows the shop and the tables and no rule of the attachment.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Generic, TypeVar

from parts.standard.errors import UnknownSize
from parts.standard.fasteners import set_screw, socket_screw, thin_nut, washer
from parts.standard.sections import Section, standard_sections
from parts.standard.threads import ThreadSize, thread, threads
from parts.standard.toolbox import reamers_mm, tool_bits_mm
from planner.job import Job

OWN_STOCK_MARGIN = 2.0
"""Own or buyable stock is taken up to this many times the area of the leanest standard section."""

T = TypeVar("T")


class NothingFits(Exception):
    """No entry of the catalogue meets the rule; ``wanted`` says what was asked for."""

    def __init__(self, wanted: str, remedy: str) -> None:
        self.wanted, self.remedy = wanted, remedy
        super().__init__(f"{wanted}. {remedy}")


@dataclass(frozen=True)
class Choice(Generic[T]):
    """A chosen entry and where it is from: "rack", "buy list", "shop" or "standard"."""

    value: T
    origin: str


class Catalogue:
    """The shop's and the standards' sizes for one job.

    lean: take the leanest section there is, whoever has it, instead of favouring the shop's own.
    """

    def __init__(self, job: Job, lean: bool = False) -> None:
        self.job = job
        self.margin = 1.0 if lean else OWN_STOCK_MARGIN
        self.inch = job.inch
        self.thread_system = "unified" if job.inch else "metric"
        self._taps = [thread(name) for name in job.shop.taps]

    def section(
        self,
        shapes: tuple[str, ...],
        material: str,
        wanted: str,
        fits: Callable[[Section], bool],
        largest: bool = False,
    ) -> Choice[Section]:
        """The leanest section that fits, from the rack, else the buy list, else the standards.

        shapes: tried in this order. wanted: the rule in words, for the refusal. fits: the rule.
        largest: take the largest that fits instead. Raises NothingFits.
        """
        shop = self.job.shop
        tiers = (
            ("rack", [bar.section for bar in shop.rack if bar.material == material]),
            ("buy list", [bar.section for bar in shop.buy if bar.material == material]),
            ("standard", [s for shape in shapes for s in standard_sections(shape, self.inch)]),
        )

        def leanness(section: Section) -> tuple[int, float]:
            return shapes.index(section.shape), -section.area_mm2 if largest else section.area_mm2

        best: list[tuple[str, Section]] = []
        for origin, sections in tiers:
            fitting = [s for s in sections if s.shape in shapes and fits(s)]
            if fitting:
                best.append((origin, min(fitting, key=leanness)))
        if not best:
            raise NothingFits(f"no {' or '.join(shapes)} section has {wanted}", "List one you have")
        lean = min((found for _, found in best), key=leanness)
        for origin, section in best:
            if largest:
                close = section.area_mm2 * self.margin >= lean.area_mm2
            else:
                close = section.area_mm2 <= self.margin * lean.area_mm2
            if close:
                return Choice(section, origin)
        return Choice(lean, best[-1][0])

    def reamer(self, at_least_mm: float, at_most_mm: float) -> Choice[float]:
        """The smallest reamer between two diameters: the shop's, else a stocked one."""
        return self._between(
            "reamer", self.job.shop.reamers, reamers_mm(self.inch), at_least_mm, at_most_mm
        )

    def largest_reamer(self, at_most_mm: float) -> Choice[float]:
        """The largest reamer of at most a diameter: the shop's if within a quarter of it."""
        own = [d for d in self.job.shop.reamers if 0.75 * at_most_mm <= d <= at_most_mm + 1e-6]
        if own:
            return Choice(max(own), "shop")
        stocked = [d for d in reamers_mm(self.inch) if d <= at_most_mm + 1e-6]
        if not stocked:
            raise NothingFits(f"no reamer of at most {at_most_mm:.2f} mm", "List one you have")
        return Choice(max(stocked), "standard")

    def tool_bit(self, at_least_mm: float) -> Choice[float]:
        """The smallest square tool bit of at least a side: the shop's, else a stocked one."""
        return self._between(
            "tool bit",
            self.job.shop.tool_bits,
            tool_bits_mm(self.inch),
            at_least_mm,
            1.6 * at_least_mm,
        )

    def _between(
        self,
        kind: str,
        own: Iterable[float],
        stocked: Iterable[float],
        low_mm: float,
        high_mm: float,
    ) -> Choice[float]:
        for origin, sizes in (("shop", own), ("standard", stocked)):
            fitting = [size for size in sizes if low_mm - 1e-6 <= size <= high_mm + 1e-6]
            if fitting:
                return Choice(min(fitting), origin)
        over = [size for size in stocked if size >= low_mm - 1e-6]
        if over:
            return Choice(min(over), "standard")
        raise NothingFits(f"no {kind} of at least {low_mm:.2f} mm is stocked", "List one you have")

    def tapped(self, at_least_mm: float, kind: str) -> Choice[str]:
        """The smallest thread of at least a diameter that a screw of that kind is sold in.

        kind: "socket screw", "set screw" or "any". The shop's taps first, if no more than half as
        large again.
        """
        own = [
            t.designation
            for t in self._taps
            if at_least_mm - 1e-6 <= t.major_mm <= 1.5 * at_least_mm and _sold(kind, t)
        ]
        if own:
            return Choice(min(own, key=lambda name: thread(name).major_mm), "shop")
        series = "coarse" if not self.inch else "UNC"
        for size in threads(self.thread_system):
            if size.series == series and size.major_mm >= at_least_mm - 1e-6 and _sold(kind, size):
                return Choice(size.designation, "standard")
        raise NothingFits(
            f"no {kind} thread of at least {at_least_mm:.2f} mm", "List a tap for one"
        )

    def of_pitch(self, pitch_mm: float, at_least_mm: float, at_most_mm: float) -> Choice[str]:
        """The largest thread of a pitch within a band of diameters, one of the shop's taps first.

        Where the pitch has none in the band: the smallest above it, else the largest there is.
        """
        matching = threads(None, pitch_mm)
        if not matching:
            pitches = sorted({t.pitch_mm for t in threads(None)}, key=lambda p: abs(p - pitch_mm))
            near = ", ".join(f"{p:.4g} mm ({25.4 / p:.4g} tpi)" for p in sorted(pitches[:4]))
            raise NothingFits(
                f"no standard thread has a pitch of {pitch_mm:.4g} mm", f"Nearest: {near}"
            )
        own = {t.designation for t in self._taps}
        band = [t for t in matching if at_least_mm - 1e-6 <= t.major_mm <= at_most_mm + 1e-6]
        for size in reversed(band):
            if size.designation in own:
                return Choice(size.designation, "shop")
        above = [t for t in matching if t.major_mm > at_most_mm]
        found = band[-1] if band else above[0] if above else matching[-1]
        return Choice(found.designation, "shop" if found.designation in own else "standard")

    def nut_thread(self, at_most_mm: float) -> Choice[str]:
        """The largest thread of at most a diameter that thin nuts and washers are sold in."""
        series = "coarse" if not self.inch else "UNF"
        for size in reversed(threads(self.thread_system)):
            if size.series == series and size.major_mm <= at_most_mm + 1e-6 and _nutted(size):
                return Choice(size.designation, "standard")
        raise NothingFits(
            f"no thin nut has a thread of at most {at_most_mm:.2f} mm", "Make the shaft thicker"
        )


def _sold(kind: str, size: ThreadSize) -> bool:
    try:
        if kind == "socket screw":
            socket_screw(size.designation)
            washer(size.designation)
        elif kind == "set screw":
            set_screw(size.designation)
    except UnknownSize:
        return False
    return True


def _nutted(size: ThreadSize) -> bool:
    try:
        thin_nut(size.designation)
        washer(size.designation)
    except UnknownSize:
        return False
    return True
