"""Rows of ``pommel list`` that are not simply those of one table, and what makes them."""

from __future__ import annotations

from msgspec.structs import asdict

from parts.standard.fasteners import ClearanceRow
from parts.standard.sections import MM_PER_INCH
from parts.standard.table import Sourced, load
from parts.standard.threads import ThreadSize
from parts.value import Value

DECIMALS = 4
"""Of an inch, as charts of drills have them."""


class Stocked(Value, frozen=True):
    """A tool by its diameter or side: a reamer, a tool bit."""

    name: str
    system: str
    size_mm: float
    source: str
    mark: str


class DrillListed(Value, frozen=True):
    """A twist drill as it is marked; its size in both units, and the nearest of the other kind.

    nearest: the metric drill to one of an inch shop, and the other way; off_mm, off_in: how much larger
    that one is, below 0 where it is smaller.
    """

    series: str
    name: str
    diameter_mm: float
    diameter_in: float
    nearest: str
    off_mm: float
    off_in: float
    source: str
    mark: str


class ThreadListed(ThreadSize, frozen=True):
    """A screw thread; its tap drill's size in inches too."""

    tap_drill_in: float


class ClearanceListed(ClearanceRow, frozen=True):
    """A clearance hole; its size in inches too."""

    hole_in: float


class SectionListed(Value, frozen=True):
    """A stock section as a job file names it."""

    section: str
    shape: str
    system: str
    standard: str
    width_mm: float
    thickness_mm: float
    mass_kg_m: float
    source: str
    mark: str


class FastenerListed(Value, frozen=True):
    """A bought screw, nut or washer.

    across_mm: of the head, across flats, or outside; height_mm: of head, nut or washer; key: of the
    socket.
    """

    kind: str
    size: str
    system: str
    standard: str
    across_mm: float | None
    height_mm: float | None
    key: str
    shortest_mm: float | None
    longest_mm: float | None
    source: str
    mark: str


class MachineListed(Value, frozen=True):
    """A machine for a kind of work; order: of preference for that work, 1 the best."""

    machine: str
    work: str
    order: int
    source: str
    mark: str


def drills() -> list[DrillListed]:
    """The twist drills, those of inches with the decimal that a chart has, and the nearest other."""
    from parts.standard.drills import DrillRow
    from parts.standard.drills import drills as of_kind

    listed = []
    for row in load("drills.csv", DrillRow):
        own = row.diameter_mm
        other = min(of_kind(inch=row.series == "metric"), key=lambda d: abs(d.diameter_mm - own))
        off = other.diameter_mm - own
        ends = (other.name, round(off, 3), _inches(off), row.source, row.mark)
        listed.append(DrillListed(row.series, row.name, own, _inches(own), *ends))
    return listed


def threads() -> list[ThreadListed]:
    """The screw threads."""
    rows = load("threads.csv", ThreadSize)
    return [ThreadListed(**asdict(row), tap_drill_in=_inches(row.tap_drill_mm)) for row in rows]


def clearances() -> list[ClearanceListed]:
    """The clearance holes."""
    rows = load("clearance_holes.csv", ClearanceRow)
    return [ClearanceListed(**asdict(row), hole_in=_inches(row.hole_mm)) for row in rows]


def _inches(mm: float) -> float:
    """Inches as a chart of drills has them, halves to even."""
    return round(round(mm / MM_PER_INCH, 2 * DECIMALS), DECIMALS)


def reamers() -> list[Stocked]:
    """The reamers."""
    from parts.standard.toolbox import ReamerRow

    rows = load("reamers.csv", ReamerRow)
    return [_stocked(row.diameter_mm, row.system, row) for row in rows]


def bits() -> list[Stocked]:
    """The square tool bits."""
    from parts.standard.toolbox import ToolBitRow

    rows = load("tool_bits.csv", ToolBitRow)
    return [_stocked(row.side_mm, row.system, row) for row in rows]


def _stocked(size_mm: float, system: str, row: Sourced) -> Stocked:
    from planner.words.numbers import INCH, METRIC

    name = (INCH if system == "inch" else METRIC).size(size_mm)
    return Stocked(name, system, size_mm, row.source, row.mark)


def sections() -> list[SectionListed]:
    """The stock sections, metric and then inch."""
    from parts.standard.sections import section_rows

    return [
        SectionListed(
            row.section.label(inch),
            row.shape,
            "inch" if inch else "metric",
            row.standard,
            row.width_mm,
            row.thickness_mm,
            row.mass_kg_m,
            row.source,
            row.mark,
        )
        for inch in (False, True)
        for row in section_rows(inch)
    ]


def fasteners() -> list[FastenerListed]:
    """The bought screws, nuts and washers, each with the standard it is ordered to."""
    from parts.standard.fasteners import SetScrewRow, SocketScrewRow, ThinNutRow, Washer

    found = []
    for s in load("socket_screws.csv", SocketScrewRow):
        head = (s.head_diameter_mm, s.head_height_mm, s.key_name)
        lengths = (s.length_min_mm, s.length_max_mm)
        found.append(_fastener("socket screw", s.thread, s, head, lengths))
    for k in load("set_screws.csv", SetScrewRow):
        lengths = (k.length_min_mm, k.length_max_mm)
        found.append(_fastener("set screw", k.thread, k, (None, None, k.key_name), lengths))
    for n in load("thin_nuts.csv", ThinNutRow):
        found.append(_fastener("thin nut", n.thread, n, (n.across_flats_mm, n.height_mm, "")))
    for w in load("washers.csv", Washer):
        found.append(_fastener("washer", w.size, w, (w.outside_mm, w.thickness_mm, "")))
    return found


def _fastener(
    kind: str,
    size: str,
    row: Sourced,
    head: tuple[float | None, float | None, str],
    lengths: tuple[float | None, float | None] = (None, None),
) -> FastenerListed:
    """head: across, height and key; lengths: the shortest and the longest."""
    from parts.standard.toolbox import FastenerStandardRow

    metric = size.startswith("M")
    ordered = load("fastener_standards.csv", FastenerStandardRow)
    standards = {(one.kind, one.system): one.standard for one in ordered}
    return FastenerListed(
        kind,
        size,
        "metric" if metric else "inch",
        standards[kind, "metric" if metric else "unified"],
        *head,
        *lengths,
        row.source,
        row.mark,
    )


def machines() -> list[MachineListed]:
    """The machines by the work they do."""
    from planner.making.workshop import PREFERENCE

    practice = "common practice"
    every = PREFERENCE | {"index": ("rotary table",)}  # the dial alone asks for one
    return [
        MachineListed(name, work, order, practice, practice)
        for work, names in every.items()
        for order, name in enumerate(names, 1)
    ]
