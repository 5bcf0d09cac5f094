"""What the data of a part say that makes no shape on its solid, as facts that a sheet may say.

For the test of the sheets as they are read: taken from parts/ alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.threads import thread

Fact = tuple[str, str, tuple[float, ...]]

REQUIRED = ("limits", "thread", "blank", "angle", "divisions", "leaves at least")
"""What every sheet must say; the rest may stand in symbols, or nowhere where a place says it."""


def expected(subject: Any) -> Iterator[Fact]:
    """Every fact of a part, a piece or a weldment."""
    yield "quantity", "", (float(subject.part.quantity),)
    stock = subject.stock
    if stock is not None:
        sizes = _section(stock.section)
        yield "blank", stock.section.shape, (*sizes, stock.length_mm)
    for feature in subject.features:
        for name in ("diameter", "width", "length"):
            size = getattr(feature, name, None)
            if isinstance(size, Limits):
                yield from _limits(size, "Ø" if name == "diameter" else "")
        for location in feature.locations:
            yield from _limits(location.size, "")
        yield from _own(feature)
    for weld in subject.welds:
        yield f"{weld.kind} weld", "", (weld.leg_mm,)
        yield "run", "", (float(round(weld.length_mm)),)  # to a whole millimetre on every sheet


def _section(section: Any) -> tuple[float, ...]:
    if section.shape == "round":
        return (section.width_mm,)
    if section.shape == "tube":
        return (section.width_mm, section.thickness_mm)
    if section.shape == "square":
        return (section.width_mm,)
    return (section.width_mm, section.height_mm)


def _limits(size: Limits, sign: str) -> Iterator[Fact]:
    if not size.designation.startswith(("ISO 2768", "stock")):
        words = f"{sign}{size.designation}"
        yield "limits", words, (size.nominal_mm, size.upper_mm, size.lower_mm)


def _own(feature: f.Feature) -> Iterator[Fact]:
    if isinstance(feature, f.Hole) and not isinstance(feature, f.TappedHole):
        yield "depth", "", (feature.depth_mm,)
    match feature:
        case f.Thread():
            yield "thread", feature.thread, ()
            yield "thread length", feature.thread, (feature.end_mm - feature.start_mm,)
        case f.TappedHole():
            yield "thread", feature.thread, ()
            yield "thread length", feature.thread, (feature.depth_mm,)
            yield "drill", "", (thread(feature.thread).tap_drill_mm,)
        case f.Knurl():
            yield "knurl", "", (feature.pitch_mm,)
            yield "knurl length", "", (feature.end_mm - feature.start_mm,)
        case f.TurnedDiameter():
            if feature.roughness_um:
                yield "Ra", "", (feature.roughness_um,)
        case f.Slit():
            if feature.least_mm:
                yield "leaves at least", "", (feature.least_mm,)
        case f.EngravedScale():
            yield "divisions", "", (float(feature.divisions),)
        case f.IndexMark():
            yield "line all along", "", (feature.line_width_mm,)
            turn = feature.angle_deg % 90
            yield "angle", "", (turn if turn <= 45 else 90 - turn,)
        case f.ScribedLine():
            yield "line", "", (max(feature.box.size()),)
