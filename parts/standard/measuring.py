"""What lengths are measured with: over which range, how finely, how surely."""

from __future__ import annotations

from parts.standard.table import load
from parts.value import Value


class InstrumentRow(Value, frozen=True):
    """An instrument for one kind of length; what it spans, reads to and is sure to (k = 2), mm.

    kind: outside, inside, depth, length, gap or height; system: metric or inch.
    """

    name: str
    kind: str
    system: str
    least_mm: float
    most_mm: float
    resolution_mm: float
    uncertainty_mm: float
    source: str
    mark: str


def instruments(kind: str, inch: bool) -> tuple[InstrumentRow, ...]:
    """The instruments for a kind of length, coarsest first."""
    own = "inch" if inch else "metric"
    rows = load("measuring.csv", InstrumentRow, ("name", "kind", "system"))
    found = [row for row in rows if row.kind == kind and row.system == own]
    return tuple(sorted(found, key=lambda row: -row.uncertainty_mm))
