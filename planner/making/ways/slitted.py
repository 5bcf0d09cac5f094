"""What is measured of a slit: its width, its depth, where it lies. Imported by making.ways.slits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from parts import features as f
from parts.features import Location
from parts.standard.fits import Limits
from planner.making.gauges import by_eye
from planner.making.model import Measure
from planner.making.ways.asked import datum_surface, leaf, wide

if TYPE_CHECKING:
    from planner.making.across import Across


def slit_measures(work: Across, feature: f.Slit, depth: Sequence[Location]) -> tuple[Measure, ...]:
    """The readings of a slit; depth: the locations that say how deep it is."""
    letter = wide(feature.box, feature.width)
    name = feature.name
    found = [
        work.gauges.length(feature.width, f"{name}.{letter}-low", f"{name}.{letter}-high",
                                "gap", "by feelers or a slip of sheet"),
        by_eye(feature.check[0], f"{name}.{letter}-low", feature.check[1]),
    ]  # fmt: skip
    if feature.least_mm:
        found[:0] = leaf(work, depth)
    for where in depth:
        found.append(
            work.gauges.length(where.size, datum_surface(work, where),
                                    f"{name}.{where.element}", "depth",
                                    f"from {where.datum}", feature.width.min_mm)
        )  # fmt: skip
    for where in feature.locations:
        if where.element.endswith("middle"):
            found += _beside(work, feature, where, letter)
    return tuple(found)


def _beside(work: Across, feature: f.Slit, where: Location, letter: str) -> list[Measure]:
    """The metal between a slit and the bore that it is placed from."""
    datum = work.on.part.datums[where.datum]
    bore = next((o for o in work.on.part.features if o.name == datum.of), None)
    if not isinstance(bore, f.ReamedHole | f.Bore):
        return []
    off = bore.diameter.mean_mm / 2 + feature.width.nominal_mm / 2
    size = where.size
    wall = Limits(size.nominal_mm - off, size.upper_mm, size.lower_mm, "")
    if wall.nominal_mm < 0:  # the slit lies under the bore: nothing is between them
        return _from_a_face(work, feature, where, letter, bore)
    side = "low" if where.along[0] == "+" else "high"
    how = "from a pin in the bore to a slip in the slit: the place and half of bore and slit"
    end = f"{feature.name}.{letter}-{side}"
    return [work.gauges.length(wall, f"{bore.name}.bore", end, "length", how)]


def _from_a_face(
    work: Across, feature: f.Slit, where: Location, letter: str, bore: f.ReamedHole | f.Bore
) -> list[Measure]:
    """From the face that the bore is placed from to the slit's wall on that side."""
    placed = next((loc for loc in bore.locations if loc.along[1] == letter), None)
    if placed is None:
        return []
    same_way = 1 if placed.along[0] == where.along[0] else -1
    size, half = where.size, feature.width.nominal_mm / 2
    ends = sorted((same_way * size.upper_mm, same_way * size.lower_mm))
    from_face = Limits(placed.size.nominal_mm + same_way * size.nominal_mm - half,
                       ends[1], ends[0], "")  # fmt: skip
    side = "low" if placed.along[0] == "+" else "high"
    drawn = work.numbers.caliper(placed.size.nominal_mm)
    how = (
        f"from {placed.datum} to a slip of sheet that fills the slit; the {bore.name}'s own place as"
        f" measured, {drawn} as drawn"
    )
    end = f"{feature.name}.{letter}-{side}"
    return [work.gauges.length(from_face, datum_surface(work, placed), end, "length", how)]
