"""How depth and speed are taken down for slender bars, so that they do not chatter."""

from __future__ import annotations

from parts.standard.table import load
from parts.value import Value


class OverhangRow(Value, frozen=True):
    """Shares of depth and of cutting speed at a ratio of overhang to thickness."""

    ratio: float
    depth: float
    speed: float
    source: str
    mark: str


class Factors(Value, frozen=True):
    """What is left of depth and of cutting speed, 0 to 1."""

    depth: float
    speed: float


def overhang_rows() -> tuple[OverhangRow, ...]:
    """The published shares, from the stiffest."""
    return tuple(sorted(load("overhang_factors.csv", OverhangRow, ("ratio",)), key=_ratio))


def overhang_factors(ratio: float) -> Factors:
    """The shares at an overhang over thickness, 0 or more: straight between rows, none beyond the ends.

    >>> overhang_factors(5.0).depth
    0.6
    """
    if not ratio >= 0.0:
        raise ValueError(f"overhang ratio {ratio:g}: give one not below zero")
    rows = overhang_rows()
    if ratio <= rows[0].ratio:
        return Factors(rows[0].depth, rows[0].speed)
    for low, high in zip(rows, rows[1:], strict=False):
        if ratio <= high.ratio:
            part = (ratio - low.ratio) / (high.ratio - low.ratio)
            return Factors(
                round(low.depth + part * (high.depth - low.depth), 12),
                round(low.speed + part * (high.speed - low.speed), 12),
            )
    return Factors(rows[-1].depth, rows[-1].speed)


def _ratio(row: OverhangRow) -> float:
    return row.ratio
