"""Specific cutting force of material groups, and the passive and feed force that go with it."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.value import Value

PASSIVE_SHARE = 0.5
"""Passive (radial) force over main force for a small round-nosed tool at a light cut: a half is on the
safe side of the 0.3 to 0.5 that workshop handbooks give (common practice; from memory)."""

FEED_SHARE = 0.4
"""Feed force over main force, on the safe side of 0.2 to 0.4 (common practice; from memory)."""

LEAST_CHIP_MM, MOST_CHIP_MM = 0.005, 2.0
"""Chips the formula holds for: thinner ones are rubbed, not cut (common practice)."""

BASE_RAKE_DEG = 6.0
"""Rake of the published values, steel."""

RAKE_RATE = 0.015
"""Change of the force for a degree of rake, less for more rake (textbooks; from memory)."""


class ForceRow(Value, frozen=True):
    """A published pair: kc1_1_MPa at a chip 1 mm thick, and the exponent mc."""

    group: str
    material: str
    kc1_1_MPa: float
    mc: float
    source: str
    mark: str


class SpecificForce(Value, frozen=True):
    """The specific cutting force of a material group.

    kc1_1_MPa, mc: of the row that asks most at a chip 0.1 mm thick, about what these tools cut;
    low_MPa, high_MPa: least and greatest kc1_1 of the published rows, which differ by up to half.
    """

    group: str
    kc1_1_MPa: float
    mc: float
    low_MPa: float
    high_MPa: float


def force_rows(group: str) -> tuple[ForceRow, ...]:
    """The published rows of a material group. Raises UnknownSize when there is none."""
    rows = load("cutting_forces.csv", ForceRow, key=("group", "material"))
    found = tuple(row for row in rows if row.group == group)
    if not found:
        raise unknown("cutting force", group, sorted({row.group for row in rows}))
    return found


def specific_force(group: str) -> SpecificForce:
    """The specific cutting force of a group, with its bounds. Raises UnknownSize when there is none."""
    rows = force_rows(group)
    most = max(rows, key=lambda row: kc_MPa(row.kc1_1_MPa, row.mc, 0.1))
    every = [row.kc1_1_MPa for row in rows]
    return SpecificForce(group, most.kc1_1_MPa, most.mc, min(every), max(every))


def kc_MPa(kc1_1_MPa: float, mc: float, chip_mm: float, rake_deg: float = BASE_RAKE_DEG) -> float:
    """Force over chip area, MPa: kc1_1 h^-mc (Kienzle), less 1.5 % for each degree of rake over 6.

    chip_mm: mean thickness, above 0; rake_deg: -20 to 30.
    """
    return kc1_1_MPa * chip_mm**-mc * (1 - RAKE_RATE * (rake_deg - BASE_RAKE_DEG))  # type: ignore[no-any-return]


def specific_force_MPa(group: str, chip_mm: float, rake_deg: float = BASE_RAKE_DEG) -> float:
    """Force over chip area for a chip of a thickness: the greatest of the published rows.

    group: of parts.standard.materials.GROUPS; chip_mm: 0.005 to 2, mean thickness of the chip;
    rake_deg: -20 to 30. Raises ValueError outside, UnknownSize for a group without rows.
    """
    if not LEAST_CHIP_MM <= chip_mm <= MOST_CHIP_MM:
        raise ValueError(
            f"chip {chip_mm:g} mm; the formula holds from {LEAST_CHIP_MM:g} to {MOST_CHIP_MM:g} mm"
        )
    if not -20.0 <= rake_deg <= 30.0:
        raise ValueError(f"rake {rake_deg:g} degrees; give -20 to 30")
    return max(kc_MPa(row.kc1_1_MPa, row.mc, chip_mm, rake_deg) for row in force_rows(group))
