"""Proof stress of steel screws by property class (ISO 898-1)."""

from __future__ import annotations

from dataclasses import dataclass

from parts.standard.errors import unknown
from parts.standard.table import load


@dataclass(frozen=True)
class ProofRow:
    """The proof stress of a class over a range of diameters: over < d <= upto."""

    property_class: str
    over_mm: float
    upto_mm: float
    proof_MPa: float
    source: str
    mark: str


def proof_MPa(property_class: str, diameter_mm: float) -> float:
    """Proof stress of a screw, MPa. Raises UnknownSize for a class or diameter not in the table."""
    rows = load("bolts.csv", ProofRow, key=("property_class", "over_mm"))
    for row in rows:
        if row.property_class == property_class and row.over_mm < diameter_mm <= row.upto_mm:
            return row.proof_MPa
    known = sorted({row.property_class for row in rows})
    raise unknown("screw class", f"{property_class} at {diameter_mm:g} mm", known)
