"""The proof of a sheet's signs: each texture, weld, datum and trueness once, with its own figure.

Counts what the part asks for by itself. Imported by proof.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import floor, pi

from parts import features as f
from planner.dial.design import design_dial, engraving_table
from planner.drawing.marks import Said
from planner.drawing.model import (
    MM_PER_INCH,
    DatumSymbol,
    GeometricTolerance,
    Item,
    Sheet,
    TextureSymbol,
    WeldSymbol,
    printed,
)
from planner.drawing.subjects import Subject
from planner.words.numbers import Numbers

Key = tuple[str, str]


def signs_due(subject: Subject) -> Counter[Key]:
    """What a sheet has to say in signs, and how often."""
    due: Counter[Key] = Counter()
    letters = {at.datum for feature in subject.features for at in feature.locations}
    due.update((one.name, "texture") for one in subject.features if one.roughness_um)
    if subject.member is None:
        due.update((ref, "texture") for ref in subject.part.textures)
        due.update((one.of, one.characteristic) for one in subject.part.trueness)
        letters |= {letter for one in subject.part.trueness for letter in one.datums}
    for scale in _scales(subject):
        due.update((scale.name, what) for what in _scale_mm(scale))
    due.update((weld.name, "weld") for weld in subject.welds)
    due.update((subject.datum(letter), f"datum {letter}") for letter in letters)
    return due


def _scales(subject: Subject) -> Iterator[f.EngravedScale]:
    for feature in subject.features:
        if isinstance(feature, f.EngravedScale):
            yield feature


def _scale_mm(scale: f.EngravedScale) -> dict[str, float]:
    """How long each class of a dial's lines is, and how far they are apart along the rim."""
    across = scale.diameter.nominal_mm
    dial = design_dial(
        scale.divisions,
        1.0,
        across,
        rim_width_mm=2 * (scale.end_mm - scale.start_mm),
        line_step_mm=scale.line_step_mm,
    )
    found = {f"{line.length_class} line": line.length_mm for line in engraving_table(dial)}
    return {**found, "spacing": pi * across / scale.divisions}


def scale_faults(subject: Subject, one: Said, said_mm: float, last_mm: float) -> Iterator[str]:
    """Whether a dimension of a dial's scale is the dial's own."""
    for scale in _scales(subject):
        true = _scale_mm(scale).get(one.what)
        if scale.name == one.feature and true is not None and abs(said_mm - true) > last_mm:
            yield f"{one.feature}: {one.what} is {said_mm:.3f} where it should be {true:.3f}"


def sign_faults(subject: Subject, item: Item, one: Said, numbers: Numbers) -> Iterator[str]:
    """Whether a sign says the part's own figure."""
    if isinstance(item, TextureSymbol):
        wanted = _roughness(subject, one)
        if wanted and item.words != numbers.plain.roughness(wanted):
            yield f"{one.feature}: {item.words} stands where Ra {wanted:g} is wanted"
    elif isinstance(item, GeometricTolerance):
        for true in subject.part.trueness:
            if (true.of, true.characteristic) == (one.feature, one.what):
                unit, step = (MM_PER_INCH, 1e-4) if numbers.inch else (1.0, 1e-3)
                most = floor(true.value_mm / unit / step + 1e-6) * step
                if abs(float(item.value) - most) > step / 2 or item.datums != true.datums:
                    yield f"{one.feature}: {item.value} {item.datums} is not its own"
        if item.characteristic != one.what:
            yield f"{one.feature}: the sign of {item.characteristic} stands for {one.what}"
    elif isinstance(item, WeldSymbol):
        for weld in subject.welds:
            if weld.name == one.feature:
                size, last = printed(item.size.lstrip("asz"))
                unit = MM_PER_INCH if numbers.inch else 1.0
                sized = abs(size * unit - weld.leg_mm) <= last * unit / 2 + 1e-3
                if not sized or item.kind != weld.kind or item.all_round != weld.all_round:
                    yield f"{one.feature}: {item.kind} {item.size} is not its own"
    elif isinstance(item, DatumSymbol) and one.what != f"datum {item.letter}":
        yield f"{one.feature}: letter {item.letter} stands for {one.what}"


def _roughness(subject: Subject, one: Said) -> float:
    for feature in subject.features:
        if feature.name == one.feature:
            return feature.roughness_um
    return subject.part.textures.get(one.feature, 0.0)


def letter_faults(sheet: Sheet) -> Iterator[str]:
    """Whether every letter in a frame stands on the sheet, once."""
    there = Counter(item.letter for item in sheet.items if isinstance(item, DatumSymbol))
    for item in sheet.items:
        for letter in item.datums if isinstance(item, GeometricTolerance) else ():
            if there[letter] != 1:
                yield f"datum {letter} of a frame stands on the sheet {there[letter]} times"
