"""Stock sections: round, square, flat, tube and sheet, and the sizes suppliers list."""

from __future__ import annotations

import functools
import math
from fractions import Fraction

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.value import Value

SHAPES = ("round", "square", "flat", "tube", "sheet")
MM_PER_INCH = 25.4


class Section(Value, frozen=True):
    """The cross-section of a piece of stock.

    Arguments:
        shape: "round", "square", "flat", "tube" or "sheet".
        width_mm: diameter, side or width (of a sheet: its own width), above 0.
        thickness_mm: 0 for round and square, thickness for flat and sheet, wall for tube.
    Raises ValueError when the sizes make no such section.
    """

    shape: str
    width_mm: float
    thickness_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.shape not in SHAPES:
            raise unknown("section shape", self.shape, SHAPES, f"one of {', '.join(SHAPES)}")
        width, thickness = self.width_mm, self.thickness_mm
        if not (math.isfinite(width) and width > 0):
            raise ValueError(f"{self.shape}: width {width:g} mm; give a width above 0")
        if self.shape in ("round", "square"):
            if thickness != 0:
                raise ValueError(f"{self.shape}: thickness {thickness:g} mm; has none, give 0")
            return
        name, bound = ("wall", width / 2) if self.shape == "tube" else ("thickness", math.inf)
        if not 0 < thickness < bound:
            below = f" and below {bound:g} mm" if math.isfinite(bound) else ""
            raise ValueError(
                f"{self.shape} {width:g} mm: {name} {thickness:g} mm; give a {name} above 0{below}"
            )

    @property
    def area_mm2(self) -> float:
        """Area of the cross-section with sharp corners, in mm2."""
        match self.shape:
            case "round":
                return math.pi / 4 * self.width_mm**2
            case "square":
                return self.width_mm**2
            case "tube":
                return math.pi * (self.width_mm - self.thickness_mm) * self.thickness_mm
            case _:
                return self.width_mm * self.thickness_mm

    @property
    def height_mm(self) -> float:
        """The size across the width, in mm: a flat's thickness, else the width again."""
        return self.thickness_mm if self.shape in ("flat", "sheet") else self.width_mm

    @property
    def thinnest_mm(self) -> float:
        """The least thickness of metal in it, in mm: a tube's wall, a flat's thickness."""
        return self.thickness_mm or self.width_mm

    def mass_kg_m(self, density_kg_m3: float) -> float:
        """Mass of one metre length in kg, at a density in kg/m3."""
        return self.area_mm2 * density_kg_m3 * 1e-6

    def label(self, inch: bool = False) -> str:
        """The section as it is ordered: "round 20", "flat 50x20", "round 3/4 in", "flat 1 x 5/16 in".

        With `inch`, sizes exact to 1/64 in are fractions, others decimal inches.
        """
        spell = inch_text if inch else _plain_text
        sizes = [spell(self.width_mm)]
        if self.thickness_mm:
            sizes.append(spell(self.thickness_mm))
        return f"{self.shape} {(' x ' if inch else 'x').join(sizes)}{' in' if inch else ''}"


class SectionRow(Value, frozen=True):
    """One stock size; masses are of steel at 7850 kg/m3."""

    shape: str
    standard: str
    width_mm: float
    thickness_mm: float
    mass_kg_m: float
    mass_published_kg_m: float | None
    source: str
    mark: str

    @property
    def section(self) -> Section:
        """The section without its standard and source."""
        return Section(self.shape, self.width_mm, self.thickness_mm)


def section_rows(inch: bool = False) -> tuple[SectionRow, ...]:
    """All stock sizes with their sources, in the metric or the inch table."""
    return load("sections_inch.csv" if inch else "sections_metric.csv", SectionRow)


@functools.cache
def standard_sections(shape: str, inch: bool = False) -> tuple[Section, ...]:
    """The stock sections of one shape, by width and then thickness.

    Arguments:
        shape: "round", "square", "flat" or "tube"; a sheet is cut to size and has no list.
        inch: inch sizes in place of metric ones (given in mm all the same).
    Raises UnknownSize for any other shape.
    """
    rows = [row for row in section_rows(inch) if row.shape == shape]
    if not rows:
        known = sorted({row.shape for row in section_rows(inch)})
        raise unknown("stock shape", shape, known, f"one of {', '.join(known)}")
    return tuple(
        row.section for row in sorted(rows, key=lambda row: (row.width_mm, row.thickness_mm))
    )


def _plain_text(size_mm: float) -> str:
    return f"{round(size_mm, 3):.12g}"


def inch_text(size_mm: float) -> str:
    """Whole inches and a fraction, "1-1/4", when exact to 1/64; else decimal inches."""
    sixty_fourths = size_mm / MM_PER_INCH * 64
    nearest = round(sixty_fourths)
    if nearest == 0 or abs(sixty_fourths - nearest) > 1e-4:
        return f"{round(size_mm / MM_PER_INCH, 4):.12g}"
    whole, rest = divmod(Fraction(nearest, 64), 1)
    return "-".join(str(part) for part in (whole, rest) if part)
