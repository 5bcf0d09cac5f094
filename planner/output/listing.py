"""What ``pommel list`` shows: the tables of the standards and of the trade, a kind of thing at a time.

A kind is data: its name, a line about it and where its rows come from; the keys are the fields of its
rows. Help, JSON, docs/tables.md and the tests are made from KINDS. Rows are loaded when they are asked
for, by functions that import what they use in their bodies.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple

from msgspec.structs import asdict, fields

from parts.standard.bolts import BoltRow
from parts.standard.cutting_data import CuttingRow
from parts.standard.cutting_forces import ForceRow
from parts.standard.fasteners import LengthRow
from parts.standard.fits import DeviationRow, GeneralRow, ToleranceRow
from parts.standard.holding import LimitRow, ProcessRow
from parts.standard.inch_limits import AnsiRow, GeneralInchRow
from parts.standard.index_plates import PlateRow
from parts.standard.materials import Material
from parts.standard.measuring import InstrumentRow
from parts.standard.overhang import OverhangRow
from parts.standard.reaming import ReamingRow
from parts.standard.sections import SHAPES
from parts.standard.speeds import FactorRow, SpeedRow
from parts.standard.table import load
from planner.output.listing_rows import (
    ClearanceListed,
    DrillListed,
    FastenerListed,
    MachineListed,
    SectionListed,
    Stocked,
    ThreadListed,
    bits,
    clearances,
    drills,
    fasteners,
    machines,
    reamers,
    sections,
    threads,
)
from planner.words.inches import heads

SIZED_NOTES = ("holding", "processes")
"""Kinds whose numbers are shares and grades, with sizes in what is said of them."""

INCH_INSTEAD = {"grades": "fits", "deviations": "fits", "tolerances": "decimals"}
"""What has an inch shop's limits (ANSI B4.1, and by decimals) where a list is ISO's own, by sizes
in whole millimetres."""


class Kind(NamedTuple):
    """One kind of thing: its name, a line about it, the type of its rows, and what loads them.

    inch: whether a row is of the inch series, where there are two.
    tables: the files of parts/standard that its rows come from.
    """

    name: str
    about: str
    row: type[Any]
    rows: Callable[[], Sequence[Any]]
    tables: tuple[str, ...]
    inch: Callable[[Any], bool] | None = None

    @property
    def measured(self) -> bool:
        """Whether its rows have sizes, speeds or masses that can be shown in inches."""
        if self.name in INCH_INSTEAD:
            return False
        if self.name in SIZED_NOTES:
            return True
        told = heads(self.keys, ())
        return told != list(self.keys) and not any(key.endswith("_um") for key in told)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of its rows in JSON."""
        return tuple(field.name for field in fields(self.row))

    @property
    def shaped(self) -> bool:
        """Whether its rows have a shape of section."""
        return "shape" in self.keys


def _of(file: str, row: type[Any]) -> Callable[[], Sequence[Any]]:
    return lambda: load(file, row)


def _plain(
    name: str,
    about: str,
    file: str,
    row: type[Any],
    inch: Callable[[Any], bool] | None = None,
) -> Kind:
    """A kind whose rows are those of one table."""
    return Kind(name, about, row, _of(file, row), (file,), inch)


def _inch_system(row: Any) -> bool:
    return row.system in ("inch", "unified")


def _inch_size(row: Any) -> bool:
    return not row.size.startswith("M")


KINDS: tuple[Kind, ...] = (
    _plain(
        "materials",
        "Materials by the names a job file takes, their strength and whether they weld.",
        "materials.csv",
        Material,
    ),
    Kind(
        "sections",
        "Stock sections: round, square, flat and tube; masses of steel.",
        SectionListed,
        sections,
        ("sections_metric.csv", "sections_inch.csv"),
        _inch_system,
    ),
    Kind(
        "threads",
        "Screw threads with their tap drills.",
        ThreadListed,
        threads,
        ("threads.csv",),
        _inch_system,
    ),
    Kind(
        "drills",
        "Twist drills: metric, number, letter and fractional.",
        DrillListed,
        drills,
        ("drills.csv",),
        lambda row: row.series != "metric",
    ),
    Kind(
        "reamers",
        "Reamers that dealers stock.",
        Stocked,
        reamers,
        ("reamers.csv",),
        _inch_system,
    ),
    Kind(
        "bits",
        "Square tool bits of high-speed steel.",
        Stocked,
        bits,
        ("tool_bits.csv",),
        _inch_system,
    ),
    Kind(
        "fasteners",
        "Socket screws, set screws, thin nuts and washers.",
        FastenerListed,
        fasteners,
        (
            *("socket_screws.csv", "set_screws.csv", "thin_nuts.csv", "washers.csv"),
            "fastener_standards.csv",
        ),
        _inch_system,
    ),
    _plain(
        "lengths",
        "Standard lengths of screws.",
        "screw_lengths.csv",
        LengthRow,
        _inch_system,
    ),
    Kind(
        "holes",
        "Clearance holes for screws.",
        ClearanceListed,
        clearances,
        ("clearance_holes.csv",),
        _inch_size,
    ),
    _plain(
        "bolts",
        "Proof stress of screws by class, and torque coefficients by finish.",
        "bolts.csv",
        BoltRow,
    ),
    _plain(
        "plates",
        "Index plates and their circles of holes.",
        "index_plates.csv",
        PlateRow,
    ),
    Kind(
        "machines",
        "Kinds of work and the machines that do it, the one taken first before the rest.",
        MachineListed,
        machines,
        (),
    ),
    _plain(
        "speeds",
        "Cutting speeds by operation, tool and group of material, as published.",
        "cutting_speeds.csv",
        SpeedRow,
    ),
    _plain(
        "shares",
        "Operations whose speed is a share of another's.",
        "speed_factors.csv",
        FactorRow,
    ),
    _plain(
        "overhang",
        "Shares of depth and speed that are left as a slender bar stands out.",
        "overhang_factors.csv",
        OverhangRow,
    ),
    _plain(
        "feeds",
        "Feed, depth of cut and handling of each kind of work, to plan by.",
        "cutting_data.csv",
        CuttingRow,
        _inch_system,
    ),
    _plain(
        "reaming",
        "What is left in a hole for the reamer.",
        "reaming_allowances.csv",
        ReamingRow,
        _inch_system,
    ),
    _plain(
        "gauges",
        "What lengths are measured with: range, reading, uncertainty.",
        "measuring.csv",
        InstrumentRow,
        _inch_system,
    ),
    _plain(
        "holding",
        "How far work and tools may stand out, and how much is gripped.",
        "holding_limits.csv",
        LimitRow,
    ),
    _plain(
        "processes",
        "The finest grade of ISO 286 that each way of working holds.",
        "process_grades.csv",
        ProcessRow,
    ),
    _plain(
        "forces",
        "Specific cutting forces by group of material.",
        "cutting_forces.csv",
        ForceRow,
    ),
    _plain(
        "grades",
        "Standard tolerances of ISO 286-1 by grade and range.",
        "iso286_it.csv",
        ToleranceRow,
    ),
    _plain(
        "deviations",
        "Fundamental deviations of ISO 286-1 by letter and range.",
        "iso286_deviations.csv",
        DeviationRow,
    ),
    _plain(
        "fits",
        "Fits of ANSI B4.1 in inches, deviations in thousandths.",
        "ansi_b4_1.csv",
        AnsiRow,
    ),
    _plain(
        "decimals",
        "General tolerances of sizes in inches by their number of decimals.",
        "general_inch.csv",
        GeneralInchRow,
    ),
    _plain(
        "tolerances",
        "General tolerances of ISO 2768-1 for sizes without limits of their own.",
        "iso2768.csv",
        GeneralRow,
    ),
)


class UnknownKind(LookupError):
    """There is no kind of that name."""


def kind(name: str) -> Kind:
    """The kind of a name. Raises UnknownKind."""
    for one in KINDS:
        if one.name == name:
            return one
    raise UnknownKind(name)


def listed(
    one: Kind, like: str | None = None, inch: bool | None = None, shape: str | None = None
) -> list[Any]:
    """The rows of a kind that pass the filters, in the order of the table.

    like: text that a word of the row begins with, case and blanks apart; inch: only that series, None
    for both; shape: of sections. A filter that the kind does not have must be None.
    """
    rows: Iterable[Any] = one.rows()
    if like is not None:
        rows = [row for row in rows if _is_like(row, like)]
    if inch is not None and one.inch is not None:
        rows = [row for row in rows if one.inch(row) == inch]
    if shape is not None:
        rows = [row for row in rows if row.shape == shape]
    return list(rows)


def _is_like(row: Any, like: str) -> bool:
    """Whether a word of the row's own cells begins with the text; sources and marks do not count."""
    wanted = re.escape(_spelling(like))
    cells = [v for k, v in asdict(row).items() if k not in ("source", "mark")]
    texts = [f"{v:g}" if isinstance(v, float) else str(v) for v in cells if v is not None]
    begins = re.compile(rf"(?<![\w.]){wanted}")
    return any(begins.search(_spelling(text)) for text in texts)


def _spelling(text: str) -> str:
    return re.sub(r"\s+", " ", text.strip().lower())


def kinds_text() -> str:
    """Every kind with the number of its rows."""
    widest = max(len(one.name) for one in KINDS)
    lines = [f"{one.name:{widest}}  {len(one.rows()):4}  {one.about}" for one in KINDS]
    return "\n".join(["What there are lists of, and how many of each:", *lines]) + "\n"


def shapes() -> tuple[str, ...]:
    """The shapes of sections that have a list: a sheet is cut to size."""
    return tuple(shape for shape in SHAPES if shape != "sheet")
