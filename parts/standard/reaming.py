"""What is left in a hole for the reamer."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.value import Value


class ReamingRow(Value, frozen=True):
    """What is left on the diameter for a reamer of a span of sizes, mm; system: metric or inch."""

    system: str
    over_mm: float
    upto_mm: float
    least_mm: float
    most_mm: float
    source: str
    mark: str


def reaming_allowance_mm(diameter_mm: float, inch: bool = False) -> tuple[float, float]:
    """The least and the most left on the diameter before reaming, mm, of that system.

    Raises UnknownSize over 100 mm.

    >>> reaming_allowance_mm(12.0)
    (0.2, 0.3)
    """
    for row in load("reaming_allowances.csv", ReamingRow, ("system", "over_mm")):
        if (
            row.system == ("inch" if inch else "metric")
            and row.over_mm < diameter_mm <= row.upto_mm
        ):
            return row.least_mm, row.most_mm
    raise unknown("reamer", f"{diameter_mm:g} mm", [], "bore it")
