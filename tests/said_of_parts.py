"""What the data of a part say that makes no shape on its solid, as facts that a sheet may say.

For the test of the sheets as they are read: taken from parts/ alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from typing import Any

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.threads import thread

Fact = tuple[str, str, tuple[float, ...]]

SIGNS = ("texture", "weld", "true", "datum")
"""What signs say: each as often as the part has it."""

REQUIRED = ("limits", "thread", "blank", "pieces", "angle", "divisions", "rim pitch", "rim line",
            "leaves at least", "general texture", *SIGNS)  # fmt: skip
"""What every sheet must say; the rest may stand nowhere where a place says it."""


GENERAL_UM = 3.2
"""Ra of cut surfaces without a sign of their own (common practice: turned or milled)."""


def expected(subject: Any, inch: bool) -> Iterator[Fact]:
    """Every fact of a part, a piece or a weldment; inch: as an inch shop's sheet says it."""
    yield "general texture", "", (GENERAL_UM,)
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
        yield from _own(feature, inch)
    if subject.joined is not None:
        yield "pieces", "", (float(len(subject.joined.members)),)
    for weld in subject.welds:
        if weld.all_round:
            yield "weld", f"{weld.kind} all round", (weld.leg_mm,)
        else:
            yield "weld", weld.kind, (weld.leg_mm, weld.length_mm)
    yield from _lies(subject)


def _lies(subject: Any) -> Iterator[Fact]:
    """Textures, how true surfaces lie, and the datums that something is measured or true from."""
    used = {at.datum for feature in subject.features for at in feature.locations}
    for feature in subject.features:
        if feature.roughness_um:
            yield "texture", "", (feature.roughness_um,)
    if subject.member is None:
        for roughness in subject.part.textures.values():
            yield "texture", "", (roughness,)
        for one in subject.part.trueness:
            yield "true", " ".join((one.characteristic, *one.datums)), (one.value_mm,)
            used |= set(one.datums)
    own = subject.part if subject.member is None else subject.member
    for letter in used & set(own.datums):
        yield "datum", letter, ()


def _section(section: Any) -> tuple[float, ...]:
    if section.shape == "round":
        return (section.width_mm,)
    if section.shape == "tube":
        return (section.width_mm, section.thickness_mm)
    if section.shape == "square":
        return (section.width_mm,)
    return (section.width_mm, section.height_mm)


def _limits(size: Limits, sign: str) -> Iterator[Fact]:
    numbers = (size.nominal_mm, size.upper_mm, size.lower_mm)
    if not size.designation.startswith(("ISO 2768", ".X", "stock")):
        yield "limits", f"{sign}{size.designation}", numbers
    elif size.designation.startswith(".X"):
        yield "general limits", sign, numbers  # beside what no three decimals and no fraction say


def _classed(designation: str, which: str, inch: bool) -> str:
    """A unified thread with its class (ASME B1.1: 2A outside, 2B inside, the usual); in an inch shop a
    metric one too (ISO 965-1: 6g outside, 6H inside)."""
    if inch and designation[0] == "M":
        return f"{designation}-{'6g' if which == '2A' else '6H'}"
    return f"{designation}-{which}" if " UN" in designation else designation


def _own(feature: f.Feature, inch: bool) -> Iterator[Fact]:
    if isinstance(feature, f.Hole) and not isinstance(feature, f.TappedHole):
        yield "depth", "", (feature.depth_mm,)
    match feature:
        case f.Thread():
            name = _classed(feature.thread, "2A", inch)
            yield "thread", name, ()
            yield "thread length", name, (feature.end_mm - feature.start_mm,)
        case f.TappedHole():
            name = _classed(feature.thread, "2B", inch)
            yield "thread", name, ()
            yield "thread length", name, (feature.depth_mm,)
            yield "drill", "", (thread(feature.thread).tap_drill_mm,)
        case f.Knurl():
            yield "knurl", "", (feature.pitch_mm,)
            yield "knurl length", "", (feature.end_mm - feature.start_mm,)
        case f.Slit():
            if feature.least_mm:
                yield "leaves at least", "", (feature.least_mm,)
        case f.EngravedScale():
            yield "divisions", "", (float(feature.divisions),)
            yield "rim pitch", "", (pi * feature.diameter.nominal_mm / feature.divisions,)
            yield "rim line", "", (feature.end_mm - feature.start_mm,)
        case f.IndexMark():
            yield "line all along", "", (feature.line_width_mm,)
            turn = feature.angle_deg % 90
            yield "angle", "", (turn if turn <= 45 else 90 - turn,)
        case f.ScribedLine():
            yield "line", "", (max(feature.box.size()),)
