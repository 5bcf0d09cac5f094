"""Specific cutting force of material groups, and the passive and feed force that go with it."""

from __future__ import annotations

from dataclasses import dataclass

from parts.standard.errors import unknown
from parts.standard.table import load

PASSIVE_SHARE = 0.5
"""Passive (radial) force over main force for a small round-nosed tool at a light cut: a half is on the
safe side of the 0.3 to 0.5 that workshop handbooks give (common practice; from memory)."""

FEED_SHARE = 0.4
"""Feed force over main force, on the safe side of 0.2 to 0.4 (common practice; from memory)."""


@dataclass(frozen=True)
class ForceRow:
    """A published pair: kc1_1_MPa at a chip 1 mm thick, and the exponent mc."""

    group: str
    material: str
    kc1_1_MPa: float
    mc: float
    source: str
    mark: str


def force_rows(group: str) -> tuple[ForceRow, ...]:
    """The published rows of a material group. Raises UnknownSize when there is none."""
    rows = load("cutting_forces.csv", ForceRow, key=("group", "material"))
    found = tuple(row for row in rows if row.group == group)
    if not found:
        raise unknown("cutting force", group, sorted({row.group for row in rows}))
    return found


def specific_force_MPa(group: str, chip_mm: float) -> float:
    """Force over chip area for a chip of a thickness: the greatest of the published rows.

    group: of parts.standard.materials.GROUPS; chip_mm: 0.005 to 2, mean thickness of the chip.
    kc = kc1_1 h^-mc (Kienzle). Thinner chips than 0.005 mm are not cut but rubbed.
    """
    if not 0.005 <= chip_mm <= 2.0:
        raise ValueError(f"chip {chip_mm:g} mm; the formula holds from 0.005 to 2 mm")
    return max(float(row.kc1_1_MPa * chip_mm**-row.mc) for row in force_rows(group))
