"""Index plates of dividing heads and rotary tables: their circles of holes."""

from __future__ import annotations

from parts.standard.table import load
from parts.value import Value


class IndexPlate(Value, frozen=True):
    """One plate, or one side of a plate; `ratio` is crank turns a turn of the spindle."""

    set_name: str
    ratio: int
    plate: str
    circles: tuple[int, ...]


class PlateRow(Value, frozen=True):
    """One row of index_plates.csv; circles are hole counts parted by blanks."""

    set_name: str
    ratio: int
    plate: str
    circles: str
    source: str
    mark: str


def plate_sets() -> dict[str, tuple[IndexPlate, ...]]:
    """The index plates by the name of their set, in the order of the table.

    >>> plate_sets()["three-plate set A 40:1"][0].circles
    (15, 16, 17, 18, 19, 20)
    """
    sets: dict[str, tuple[IndexPlate, ...]] = {}
    for row in plate_rows():
        circles = tuple(int(holes) for holes in row.circles.split())
        plate = IndexPlate(row.set_name, row.ratio, row.plate, circles)
        sets[row.set_name] = (*sets.get(row.set_name, ()), plate)
    return sets


def plate_rows() -> tuple[PlateRow, ...]:
    """Every plate with its source."""
    return load("index_plates.csv", PlateRow, ("set_name", "plate"))
