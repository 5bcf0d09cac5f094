"""Aids made in the shop: bars, plugs, stubs, bushes and mandrels, sized from the set-ups that need
them.

Imported by making.route. Each is made before the first set-up that uses it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.standard.materials import material
from planner.making.model import SetUp
from planner.making.workshop import Workshop


@dataclass(frozen=True)
class Aid:
    """One aid: what it is, its sizes in words, of which stock (diameter and length, mm), before which
    set-up, and how it is made."""

    name: str
    size: str
    stock_mm: tuple[float, float]
    material: str
    setup: int
    made: str


def aids(setups: Sequence[SetUp], shop: Workshop) -> tuple[Aid, ...]:
    """The aids of all set-ups, each once, at its first use."""
    found: dict[tuple[str, str], Aid] = {}
    for number, one in enumerate(setups, 1):
        for aid in _of(number, one, shop):
            found.setdefault((aid.name, aid.size), aid)
    return tuple(found.values())


def _of(number: int, one: SetUp, shop: Workshop) -> Iterator[Aid]:
    numbers, steel = shop.numbers, shop.job.materials.shaft
    if material(steel).group == "aluminium":  # too soft and too limber for a bar
        steel = "any mild steel"
    up = shop.job.series.up
    for op in one.ops:
        tool = op.tool
        if tool.kind == "boring bar between centres" and tool.diameter_mm and tool.reach_mm:
            bit = numbers.size(shop.job.series.down(tool.diameter_mm / 3, 1.0))
            yield Aid(
                tool.name.split(",")[0], numbers.size(tool.diameter_mm),
                (up(tool.diameter_mm + 2, 1.0), up(tool.reach_mm, 1.0)), steel, number,
                f"centred at both ends, turned true between centres; a cross hole for a {bit} bit at"
                " its middle,"
                " a screw on it, a flat for the carrier; the bit is set by a micrometer over the bar:"
                " half of"
                " bar and bore",
            )  # fmt: skip
        if tool.kind == "facing cutter" and tool.diameter_mm:
            yield Aid(
                "facing cutter for the bar",
                numbers.size(tool.diameter_mm),
                (tool.diameter_mm / 2, 60.0),
                "HSS",
                number,
                "a flat bit through the bar's cross hole, its edge ground square to the bar",
            )
        if tool.kind == "fly cutter":
            yield Aid("fly cutter", numbers.size(tool.diameter_mm or 50.0), (25.0, 60.0), steel, number,
                      "a stub with a bit across at 45 degrees, held in the chuck")  # fmt: skip
    for grip in one.hold.grips:
        if grip.packing == "split bush":
            yield Aid(
                "split bush",
                numbers.size(grip.size_mm),
                (up(grip.size_mm + 10, 1.0), up(abs(grip.to_mm - grip.from_mm) + 4, 1.0)),
                steel,
                number,
                "bored to the work in the chuck it is used in, marked at jaw one, slit on one side",
            )
    if one.hold.by == "mandrel":
        for grip in one.hold.grips:
            yield Aid(
                "threaded stub",
                numbers.size(grip.size_mm),
                (up(grip.size_mm + 8, 1.0), 40.0),
                steel,
                number,
                "turned and threaded in the chuck it is used in, its shoulder faced with it",
            )
        if not one.hold.grips:
            yield Aid("mandrel", "by the bore", (16.0, 80.0), steel, number,
                      "turned between centres to the bore as it came out, a tenth of taper over its"
                      " length")  # fmt: skip
