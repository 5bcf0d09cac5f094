"""Proof stress of steel screws by property class (ISO 898-1), and their torque coefficients."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.value import Value


class BoltRow(Value, frozen=True):
    """A proof stress of a class, or a torque coefficient of a finish, for over < d <= upto."""

    kind: str
    name: str
    over_mm: float
    upto_mm: float
    proof_MPa: float | None
    torque_coefficient: float | None
    source: str
    mark: str


def proof_MPa(property_class: str, diameter_mm: float) -> float:
    """Proof stress of a screw, MPa.

    property_class: "8.8", "10.9" or "12.9"; diameter_mm: above 0, to 39. Raises UnknownSize for a
    class or diameter not in the table.
    """
    rows = _rows("class")
    for row in rows:
        if row.name == property_class and row.over_mm < diameter_mm <= row.upto_mm:
            assert row.proof_MPa is not None
            return row.proof_MPa
    known = sorted({row.name for row in rows})
    raise unknown("screw class", f"{property_class} at {diameter_mm:g} mm", known)


def torque_coefficient(finish: str) -> float:
    """K of T = K F d for a screw of that finish.

    finish: "plain black", "zinc plated", "lubricated", "cadmium plated" or "anti-seize". Raises
    UnknownSize for another.
    """
    rows = _rows("finish")
    for row in rows:
        if row.name == finish:
            assert row.torque_coefficient is not None
            return row.torque_coefficient
    raise unknown("screw finish", finish, [row.name for row in rows])


def _rows(kind: str) -> tuple[BoltRow, ...]:
    rows = load("bolts.csv", BoltRow, key=("kind", "name", "over_mm"))
    return tuple(row for row in rows if row.kind == kind)
