"""What a size may be chosen from: the shop's own stock, tools and taps first, then the standards.

sizing.rules asks it; it knows the shop and the tables and no rule of the attachment. Bounds may be
columns (one for each candidate attachment); the answer says, row by row, which entries will do.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, cached_property
from typing import Any, NamedTuple

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from parts.standard.errors import UnknownSize
from parts.standard.fasteners import clearance_hole_mm, set_screw, socket_screw, thin_nut, washer
from parts.standard.sections import Section, standard_sections
from parts.standard.threads import ThreadSize, thread, threads
from parts.standard.toolbox import reamers_mm, tool_bits_mm
from parts.value import Value
from planner.job.tables import Shop
from planner.sums.columns import first_true
from planner.words.limited import of_inches, of_metric
from planner.words.numbers import Numbers, inch_pitch

OWN_STOCK_MARGIN = 2.0
"""Own or buyable stock is taken up to this many times the area of the leanest section that fits."""


OWN_TAP_MARGIN = 1.5
"""Own taps are taken up to this many times the diameter that is wanted."""


OWN_NUT_SHARE = 0.9
"""For a nut that is made own taps are taken down to so much of what would be bought: a finer or
slightly slimmer thread holds as well, and no tap is bought (of this design)."""

STUD_SERIES = ("coarse", "UNC", "UNF")
"""Threads that threaded rod lies in stock with (common practice)."""


class NothingFits(Exception):
    """No entry of the catalogue meets the rule; ``wanted`` says what was asked for."""

    def __init__(self, wanted: str, remedy: str) -> None:
        self.wanted, self.remedy = wanted, remedy
        super().__init__(f"{wanted}. {remedy}")


class Options(Value, frozen=True):
    """Entries to choose from, best first, and which of them will do.

    items: the entries; origins: where each is from ("rack", "buy list", "shop", "standard");
    fits: a row for each entry, a column for each candidate attachment (or one for all).
    wanted, remedy: what to say when none will do. same: where many candidates ask for the same, the
    columns of fits stand for the different ones, and this says for each candidate which is its own.
    """

    items: tuple[Any, ...]
    origins: tuple[str, ...]
    fits: NDArray[np.bool_]
    wanted: str = ""
    remedy: str = ""
    same: NDArray[np.intp] | None = None

    def full(self) -> Options:
        """The same with a column of fits for each candidate."""
        if self.same is None:
            return self
        return replace(self, fits=self.fits[:, self.same], same=None)


class Bars:
    """Sections of one shape as upright arrays, so that a rule of one section serves them all.

    width_mm, thickness_mm and height_mm have a row for each section; shape is theirs.
    """

    def __init__(self, shape: str, sections: Sequence[tuple[Section, str]]) -> None:
        self.shape = shape
        self.sections = tuple(section for section, _ in sections)
        self.origins = tuple(origin for _, origin in sections)
        self.width_mm = _upright([s.width_mm for s in self.sections])
        self.thickness_mm = _upright([s.thickness_mm for s in self.sections])
        self.height_mm = _upright([s.height_mm for s in self.sections])
        self.area_mm2 = np.array([s.area_mm2 for s in self.sections])
        self.listed = np.array([origin != "standard" for origin in self.origins], dtype=bool)
        self._orders: dict[bool, _Order] = {}

    def order(self, largest: bool) -> _Order:
        """In which order they are chosen from, the leanest first or the largest."""
        if largest not in self._orders:
            by = np.argsort(-self.area_mm2 if largest else self.area_mm2, kind="stable")
            own = [i for i in by if self.origins[i] == "rack"]
            own += [i for i in by if self.origins[i] == "buy list"]
            places = [*own, *by]
            self._orders[largest] = _Order(
                by,
                np.array(own, dtype=np.intp),
                tuple(self.sections[i] for i in places),
                tuple(self.origins[i] for i in places),
            )
        return self._orders[largest]


class _Order(NamedTuple):
    """by: all sections in turn; own: those of the shop, which come first where they are near enough;
    items, origins: the own ones, then all."""

    by: NDArray[np.intp]
    own: NDArray[np.intp]
    items: tuple[Section, ...]
    origins: tuple[str, ...]


class Catalogue:
    """The shop's and the standards' sizes.

    shop: the job's. inch: choose from the inch series. margin: how far own and buyable sections are
    favoured; at 1 the leanest is taken, whoever has it.
    """

    def __init__(self, shop: Shop, inch: bool, margin: float = OWN_STOCK_MARGIN) -> None:
        self.shop, self.inch, self.margin = shop, inch, margin
        self.numbers = Numbers(inch)
        self._taps = [thread(name) for name in shop.taps]
        self._own_taps: dict[str, tuple[tuple[ThreadSize, ...], NDArray[np.float64]]] = {}
        self._bars: dict[tuple[str, str], Bars] = {}

    def _shown(self, mm: Any) -> str:
        """A bound in words: the least of a column."""
        return self.numbers.caliper(float(np.min(mm)))

    @cached_property
    def lean(self) -> Catalogue:
        """The same catalogue, favouring nothing but leanness."""
        return Catalogue(self.shop, self.inch, 1.0)

    def bars(self, shape: str, material: str) -> Bars:
        """The sections of a shape: on the rack, on the buy list, in the standards."""
        if (shape, material) not in self._bars:
            tiers = (
                ("rack", [bar.section for bar in self.shop.rack if bar.material == material]),
                ("buy list", [bar.section for bar in self.shop.buy if bar.material == material]),
                ("standard", standard_sections(shape, self.inch)),
            )
            listed = [(s, origin) for origin, found in tiers for s in found if s.shape == shape]
            self._bars[shape, material] = Bars(shape, list(dict.fromkeys(listed)))
        return self._bars[shape, material]

    def section(
        self,
        shapes: tuple[str, ...],
        material: str,
        wanted: str,
        fits: Callable[[Bars], Any],
        largest: bool = False,
    ) -> Options:
        """Sections of the first shape, then the next: rack, buy list, then the leanest of any.

        Own and buyable ones come first only while within the margin of the leanest that fits.
        wanted: the rule in words. fits: the rule. largest: the largest, not the leanest.
        """
        chosen = []
        for shape in shapes:
            bars = self.bars(shape, material)
            if bars.sections:
                chosen.append(self._own_first(bars, np.asarray(fits(bars), dtype=bool), largest))
        return _joined(
            chosen, f"no {' or '.join(shapes)} section has {wanted}", "List one you have"
        )

    def _own_first(self, bars: Bars, fits: NDArray[np.bool_], largest: bool) -> Options:
        """Sections of one shape in order of choice."""
        fits = fits.reshape(len(bars.sections), -1)
        areas, order = bars.area_mm2, bars.order(largest)
        first = areas[order.by][first_true(fits[order.by])]  # the leanest that fits, row by row
        close = areas[:, None] <= first * self.margin
        if largest:
            close = areas[:, None] * self.margin >= first
        rest = fits & ~(close & bars.listed[:, None])
        chosen = np.concatenate([(fits & close)[order.own], rest[order.by]])
        return Options(order.items, order.origins, chosen)

    def reamer(self, at_least_mm: Any, at_most_mm: Any) -> Options:
        """Reamers from a diameter up: the shop's to another diameter, then the stocked ones."""
        own = sorted(self.shop.reamers)
        return self._upward("reamer", own, reamers_mm(self.inch), at_least_mm, at_most_mm)

    def tool_bit(self, at_least_mm: Any) -> Options:
        """Square tool bits from a side up, as sections: the shop's first, of those the ones of the
        job's own language: the next is bought where the shop buys."""
        other = of_metric if self.inch else of_inches
        own = sorted(self.shop.tool_bits, key=lambda mm: (other(mm), mm))
        stocked = tool_bits_mm(self.inch)
        found = self._upward("tool bit", own, stocked, at_least_mm, 1.6 * at_least_mm)
        return replace(found, items=tuple(Section("square", side) for side in found.items))

    def _upward(
        self, kind: str, own: Sequence[float], stocked: Sequence[float], low_mm: Any, high_mm: Any
    ) -> Options:
        owned, sold = list(own), sorted(stocked)
        sizes = _upright(owned)
        near = (sizes >= low_mm - 1e-6) & (sizes <= high_mm + 1e-6)
        return _joined(
            [
                Options(tuple(owned), ("shop",) * len(owned), near),
                Options(tuple(sold), ("standard",) * len(sold), _upright(sold) >= low_mm - 1e-6),
            ],
            f"no {kind} of at least {self._shown(low_mm)} is stocked",
            "List one you have",
        )

    def tapped(self, at_least_mm: Any, kind: str, own_to: float = OWN_TAP_MARGIN) -> Options:
        """Threads from a diameter up that a screw of that kind is sold in, the shop's taps first.

        kind: "socket screw", "set screw", "stud" or "any". own_to: own taps are taken up to so many
        times that. Of a shop with taps of both languages those of the job's own come first: its
        screws are bought with the others (common practice). Before one of the other is taken, those
        of its own may be so many times the smallest that is sold; with one that will do the other's
        are left to the last, after those to be bought.
        """
        if kind not in self._own_taps:
            rising = sorted(self._taps, key=lambda t: t.major_mm)
            had = tuple(t for t in rising if is_sold(kind, t))
            self._own_taps[kind] = had, _upright([t.major_mm for t in had])
        had, majors = self._own_taps[kind]
        sold, sold_majors = _sold_threads("UNC" if self.inch else "coarse", kind)
        enough = sold_majors >= at_least_mm - 1e-6
        other = "metric" if self.inch else "unified"
        foreign = _upright([t.system == other for t in had]).astype(bool)
        thick = majors >= at_least_mm - 1e-6
        near = thick & (majors <= own_to * at_least_mm)
        smallest = np.where(enough, sold_majors, np.inf).min(axis=0, initial=np.inf)
        beyond = thick & (majors <= own_to * smallest) & ~foreign & (near & foreign).any(axis=0)
        own = (near & ~foreign) | (beyond & ~(near & ~foreign).any(axis=0))
        from_shop = ("shop",) * len(had)
        return _joined(
            [
                Options(had, from_shop, own),
                Options(had, from_shop, near & foreign & ~own.any(axis=0)),
                Options(sold, ("standard",) * len(sold), enough),
                Options(had, from_shop, near & foreign),
            ],
            f"no {kind} thread of at least {self._shown(at_least_mm)}",
            "List a tap for one",
        )

    def of_pitch(self, pitch_mm: float, at_least_mm: Any, at_most_mm: Any) -> Options:
        """Threads of a pitch, the largest within a band of diameters first, own taps before all.

        Where the pitch has none in the band: the smallest above it.
        """
        matching = threads(None, pitch_mm)
        slimmest = float(np.min(at_least_mm))
        system = "unified" if self.inch and inch_pitch(pitch_mm) else None
        stout = {t.pitch_mm for t in threads(system) if t.major_mm >= slimmest}
        pitches = sorted(sorted(stout, key=lambda p: abs(p - pitch_mm))[:4])
        near = "Nearest that has: " + ", ".join(self.numbers.screw_pitch(p) for p in pitches)
        wanted = (
            f"no standard thread of {self.numbers.screw_pitch(pitch_mm)} pitch is"
            f" {self._shown(at_least_mm)} or thicker"
        )
        if not matching:
            raise NothingFits(wanted, near)
        names = {t.designation for t in self._taps}
        falling = tuple(reversed(matching))
        own = tuple(t for t in falling if t.designation in names)

        def entries(found: tuple[ThreadSize, ...], fits: Any) -> Options:
            origins = ["shop" if t.designation in names else "standard" for t in found]
            return Options(found, tuple(origins), fits)

        def within(found: tuple[ThreadSize, ...]) -> Any:
            majors = _upright([t.major_mm for t in found])
            return (majors >= at_least_mm - 1e-6) & (majors <= at_most_mm + 1e-6)

        above = _upright([t.major_mm for t in matching]) > at_most_mm
        return _joined(
            [
                entries(own, within(own)),
                entries(falling, within(falling)),
                entries(matching, above),
            ],
            wanted,
            near,
        )

    def made_nut_thread(self, at_most_mm: Any) -> Options:
        """Threads of at most a diameter for a nut that is made: the shop's own taps first,
        else as for one that is sold."""
        falling = sorted(self._taps, key=lambda t: (-t.major_mm, t.pitch_mm))
        own = tuple(t for t in falling if t.system != "trapezoidal")
        majors = _upright([t.major_mm for t in own])
        sold = self.nut_thread(at_most_mm)
        best = (_upright([t.major_mm for t in sold.items]) * sold.fits).max(axis=0)
        near = (majors <= at_most_mm + 1e-6) & (majors >= OWN_NUT_SHARE * best - 1e-6)
        first = Options(own, ("shop",) * len(own), near)
        return _joined([first, sold], sold.wanted, sold.remedy)

    def nut_thread(self, at_most_mm: Any) -> Options:
        """Threads of at most a diameter that thin nuts and washers are sold in, largest first."""
        sold = tuple(reversed(_nut_threads("UNF" if self.inch else "coarse")))
        return Options(
            sold,
            ("standard",) * len(sold),
            _upright([t.major_mm for t in sold]) <= at_most_mm + 1e-6,
            f"no thin nut has a thread of at most {self._shown(at_most_mm)}",
            "Make the shaft thicker",
        )


def _upright(values: Sequence[float]) -> NDArray[np.float64]:
    return np.array(values, dtype=float).reshape(-1, 1)


def _joined(chosen: Sequence[Options], wanted: str, remedy: str) -> Options:
    """Several options one after another."""
    tables = [np.atleast_2d(found.fits) for found in chosen]
    rows = max((table.shape[1] for table in tables), default=1)
    fits = [np.broadcast_to(t, (len(f.items), rows)) for t, f in zip(tables, chosen, strict=True)]
    return Options(
        tuple(item for found in chosen for item in found.items),
        tuple(origin for found in chosen for origin in found.origins),
        np.concatenate(fits) if fits else np.zeros((0, 1), dtype=bool),
        wanted,
        remedy,
    )


@cache
def _sold_threads(series: str, kind: str) -> tuple[tuple[ThreadSize, ...], NDArray[np.float64]]:
    """The threads of a series that something is sold in, and their diameters, upright."""
    found = tuple(t for t in threads(None) if t.series == series and is_sold(kind, t))
    return found, _upright([t.major_mm for t in found])


@cache
def _nut_threads(series: str) -> tuple[ThreadSize, ...]:
    return tuple(t for t in threads(None) if t.series == series and is_sold("thin nut", t))


def is_sold(kind: str, size: ThreadSize) -> bool:
    """Whether a kind of fastener is sold in a thread.

    kind: "socket screw" (with a washer), "set screw", "thin nut" (with a washer), "stud" (with a
    washer, of a thread that rod is sold in) or "any" for a thread that is cut, not bought; several,
    parted by commas, where all are needed.
    """
    return all(_is_sold(one, size) for one in kind.split(", "))


def _is_sold(kind: str, size: ThreadSize) -> bool:
    try:
        if kind == "stud":
            clearance_hole_mm(size.designation)
            washer(size.designation)
            return size.system != "trapezoidal" and size.series in STUD_SERIES
        if kind == "socket screw":
            socket_screw(size.designation)
            washer(size.designation)
        elif kind == "set screw":
            set_screw(size.designation)
        elif kind == "thin nut":
            thin_nut(size.designation)
            washer(size.designation)
    except UnknownSize:
        return False
    return True
