"""Feeds, depths of cut and handling times to plan small-shop work by."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.value import Value


class CuttingRow(Value, frozen=True):
    """Feed, depth of a roughing cut and handling time of a kind of work, for tools up to a diameter.

    system: "metric", or "inch": the same in round thousandths, up to round fractions. upto_mm 0: of any
    diameter. feed_mm per turn, 0 where it is given otherwise; depth_mm 0 where the
    tool's own size is the depth.
    """

    operation: str
    system: str
    upto_mm: float
    feed_mm: float
    depth_mm: float
    handling_s: float
    source: str
    mark: str


def cutting_data(operation: str, diameter_mm: float, inch: bool = False) -> CuttingRow:
    """The row of an operation for a tool's diameter, of that system. Raises UnknownSize without one.

    >>> cutting_data("drill", 5.0).feed_mm
    0.08
    """
    system = "inch" if inch else "metric"
    rows = [row for row in cutting_rows() if (row.operation, row.system) == (operation, system)]
    for row in rows:
        if row.upto_mm == 0 or diameter_mm <= row.upto_mm:
            return row
    if rows:
        return rows[-1]
    raise unknown("operation", operation, sorted({row.operation for row in cutting_rows()}), "")


def cutting_rows() -> tuple[CuttingRow, ...]:
    """Every row."""
    return load("cutting_data.csv", CuttingRow, ("operation", "system", "upto_mm"))
