"""What a size is measured with, among what the shop has, where both anvils find metal.

Imported by the ways. An instrument reads to a quarter of the band of limits at most, and is sure to a
quarter of it where there is one so sure; else the surest there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.measuring import InstrumentRow, instruments
from planner.making.model import Gauge, Measure, Missing, SetUp
from planner.making.workshop import Workshop

PART_OF_BAND = 4
"""An instrument is sure to a quarter of the band at worst, better a tenth (common practice)."""

ROD_MM = 4.0
"""A depth micrometer's rod is so thick (common practice): what is narrower it does not go into."""


CALIPER = "vernier caliper"

POCKET_MM, LONG_MM = 152.4, 304.8
"""A workshop's caliper reads to 150 mm, 6 in; the next longer one to 300 mm, 12 in (common practice,
DIN 862)."""


FEELERS_MM, LEAVES_MM = 2.0, 0.05
"""The leaves of a feeler gauge, laid together, fill a gap so wide, and go by so much (common
practice)."""


PLUG = "plug gauge turned to size"
"""What tries a hole where nothing in the shop reads it, made first."""

BLOCKS = {"gap": "gauge blocks", "height": "dial indicator over gauge blocks"}
"""How blocks read a gap and a height; a depth by a straight edge across its mouth."""

LEVEL_MM, TENTH_MM = 1.0, 0.002
"""What lies so nearly level is read by running an indicator of so fine divisions from one face to the
other: no gauge block is so thin (common practice)."""

TRAVEL_MM, HUNDREDTH_MM = 10.0, 0.01
"""What lies a little farther apart, by one of such a travel and such divisions (common practice)."""


class Gauges:
    """The shop's instruments."""

    def __init__(self, shop: Workshop) -> None:
        self.shop, self.numbers = shop, shop.numbers
        self.has = shop.job.shop.measuring

    def owned(self, row: InstrumentRow) -> bool:
        """Whether the shop has an instrument."""
        words = {
            "depth micrometer": self.has.depth_micrometer,
            "telescoping gauge and micrometer": self.has.telescoping_gauges,
            "small-hole gauge and micrometer": self.has.telescoping_gauges,
            "inside micrometer": self.has.inside_micrometer,
            "gauge blocks": self.has.gauge_blocks,
            "dial indicator over gauge blocks": self.has.dial_indicator and self.has.gauge_blocks,
            "height gauge": self.has.height_gauge,
        }
        return words.get(row.name, True)

    def gauge(self, kind: str, size: Limits, wide_mm: float = ROD_MM) -> Gauge | None:
        """The coarsest instrument that will do for limits; the surest where none will; None if none.

        wide_mm: the opening that a depth is read in.
        """
        low, high, band = size.min_mm, size.max_mm, size.max_mm - size.min_mm
        spans = [
            row
            for row in instruments(kind, self.shop.inch)
            if self.owned(row)
            and row.least_mm <= low + 1e-9
            and high <= row.most_mm + 1e-9
            and (wide_mm >= ROD_MM or row.name != "depth micrometer")
        ]
        reads = [row for row in spans if row.resolution_mm * PART_OF_BAND <= band + 1e-9]
        numbered = [row for row in reads if row.name != PLUG]
        for row in numbered:
            if row.uncertainty_mm * PART_OF_BAND <= band + 1e-9:
                return self._as(row, size)
        return self._as((numbered or reads)[-1], size) if reads else None

    def _as(self, row: InstrumentRow, size: Limits) -> Gauge:
        least, most, name = row.least_mm, row.most_mm, row.name
        if name == "micrometer":
            own = [
                r
                for r in self.shop.kit.micrometers
                if r.takes(size.min_mm) and r.takes(size.max_mm)
            ]
            if own:
                least, most = own[0].least_mm, own[0].most_mm
            else:
                unit = 25.4 if self.shop.inch else 25.0
                least = size.min_mm // unit * unit
                most = max(least + unit, size.max_mm)
                words = f"a micrometer {self.numbers.micrometer_range(size.nominal_mm)}"
                blocks = ", or set calipers by gauge blocks" if self.has.gauge_blocks else ""
                self.shop.lacks("", words, f"Borrow one{blocks}")
            name = f"micrometer {self.numbers.micrometer_range((least + most) / 2)}"
        elif name == CALIPER and size.max_mm > POCKET_MM:
            most = LONG_MM if size.max_mm <= LONG_MM and most > LONG_MM else most
            name = (
                f"{CALIPER} to {self.numbers.size(most if self.shop.inch else most // 100 * 100)}"
            )
        elif name == CALIPER:
            most = min(most, POCKET_MM)
        return Gauge(name, row.kind, least, most, row.resolution_mm)

    def diameter(self, size: Limits, surface: str, inside: bool, how: str = "") -> Measure:
        """The measure of a diameter."""
        kind = "inside" if inside else "outside"
        found = self.gauge(kind, size) or Gauge(
            PLUG if inside else "the mating part", kind, 0.0, 1000.0, 0.001
        )
        words = self.numbers.between(size, found.resolution_mm)
        return Measure(words, kind, size.min_mm, size.max_mm, surface, surface, found, how)

    def length(
        self,
        size: Limits,
        start: str,
        end: str,
        kind: str = "outside",
        how: str = "",
        wide_mm: float = ROD_MM,
    ) -> Measure:
        """The measure of a length between two faces: outside, inside, depth, gap or height.

        wide_mm: the opening that a depth is read in.
        """
        name = BLOCKS.get(kind, "gauge blocks and a straight edge")
        other = Gauge(name, kind, 0.0, 300.0, 0.001)
        wide = size.max_mm - size.min_mm >= PART_OF_BAND * LEAVES_MM - 1e-9
        if kind == "gap" and size.max_mm <= FEELERS_MM and wide:
            other = Gauge("feeler gauge", kind, 0.0, FEELERS_MM, LEAVES_MM)
        found = self.gauge(kind, size, wide_mm)
        if kind == "height" and size.min_mm < LEVEL_MM and not found:
            reads = (LEVEL_MM, TENTH_MM) if size.max_mm < LEVEL_MM else (TRAVEL_MM, HUNDREDTH_MM)
            other = Gauge("dial indicator", kind, 0.0, *reads)  # run from one to the other
            if not self.has.dial_indicator:
                self.shop.lacks("", "a dial indicator with its stand", "Borrow one")
        found = found or other
        shown = {"gap": "inside", "height": "length"}.get(kind, kind)
        words = self.numbers.between(size, found.resolution_mm)
        return Measure(words, shown, size.min_mm, size.max_mm, start, end, found, how)

    def sunk(self, hole: f.Counterbore) -> Measure:
        """How deep a head or a ring lies: from the face that it is sunk in."""
        size = self.shop.job.series.general(hole.depth_mm)
        start, end = (f"{hole.name}.{face}" for face in ("entry", "bottom"))
        return self.length(size, start, end, "depth", "how deep", hole.diameter.nominal_mm)


def asked_for(missing: Iterable[Missing], setups: Iterable[SetUp]) -> Iterator[Missing]:
    """What is missing, less the micrometers of measures that were thought of and are in no step."""
    names = {m.gauge.name for one in setups for op in one.ops for m in op.measures}
    for one in missing:
        name = one.what.removeprefix("a ")
        if not name.startswith("micrometer ") or name in names:
            yield one


def by_eye(what: str, start: str, name: str, how: str = "") -> Measure:
    """What is looked at."""
    return Measure(what, "eye", None, None, start, start, Gauge(name, "eye", 0.0, 0.0, 0.0), how)


def by_thread(what: str, start: str, name: str) -> Measure:
    """What is tried with its mating thread."""
    return Measure(what, "thread", None, None, start, start, Gauge(name, "thread", 0.0, 0.0, 0.0))
