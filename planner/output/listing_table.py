"""The rows of a list as a table, in millimetres or inches: its columns, heads and cells.

Imported by cli.list.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import ceil, floor
from typing import Any

from planner.output.listing import Kind
from planner.words.inches import converted, heads
from planner.words.numbers import INCH
from planner.words.tables import Column, Table
from planner.words.units import MM_PER_INCH

HEADS = {
    "_kg_m3": ", kg/m3",
    "_kg_m": ", kg/m",
    "_m_min": ", m/min",
    "_mm2": ", mm2",
    "_mm": ", mm",
    "_um": ", um",
    "_lb_in3": ", lb/in3",
    "_lb_ft": ", lb/ft",
    "_ft_min": ", ft/min",
    "_in2": ", in2",
    "_psi": ", psi",
    "_in": ", in",
    "_thou": ", thou",
    "_MPa": ", MPa",
}
"""How a key that ends in a unit is headed in text."""

MOST_PLACES, MOST_PLACES_IN = 3, 4
"""Decimals at most: of millimetres and what has no unit, and of inches as charts have them."""

THOUSANDTHS = {
    "feeds": ("upto_mm", "depth_mm"),
    "reaming": ("over_mm", "upto_mm", "least_mm", "most_mm"),
    "bolts": ("over_mm", "upto_mm"),
}
"""What tables in millimetres have that a dial is set to in inches, or that only bounds a row: 1 mm of
depth is 0.039 in, not 0.0394."""

FIGURES = ("_kg_m", "_kg_m3", "_mm2", "_N", "_MPa")
"""How keys end of what has so many figures and not so many decimals: a mass, a stress area."""

NONE = {"sections": ("thickness_mm",), "feeds": ("upto_mm", "feed_mm", "depth_mm")}
"""Where 0 stands for none: a round bar's thickness, a drill's depth of cut."""


MARKED = ("name", "nearest")
"""What a thing is marked with is no size to turn to inches: the drill of 1 mm has no other name."""


def heading(key: str) -> str:
    """The heading of a column from its key: "width_mm" is "width, mm"."""
    for end, unit in HEADS.items():
        if key.endswith(end):
            return key.removesuffix(end).replace("_", " ") + unit
    return key.replace("_", " ")


def list_table(one: Kind, rows: Sequence[Any], inch: bool = False) -> Table:
    """The rows as a table: for machines whole, in text with numbered sources below.

    inch: the text in inches, pounds and feet, a pitch as threads per inch; what the rows say in inches
    besides millimetres only so.
    """
    keys = one.keys
    shows = [key for key in keys if key not in ("source", "mark")]
    if inch:
        shows = [
            key
            for key in shows
            if f"{key.removesuffix('_mm')}_in" not in shows or key[-3:] == "_in"
        ]
    whole = tuple(tuple(getattr(row, key) for key in keys) for row in rows)
    numbers: dict[str, int] = {}
    told = []
    for row in rows:
        origin = f"{row.source} ({row.mark})" if row.source != row.mark else row.source
        told.append(str(numbers.setdefault(origin, len(numbers) + 1)))
    columns = [_column(one, key, rows, inch) for key in shows]
    named = heads(tuple(shows), ()) if inch else shows
    return Table(
        name=one.name,
        title=f"{one.name}: {len(rows)}. {one.about}",
        columns=tuple(Column(key, heading(key)) for key in keys),
        rows=whole,
        shown=tuple(zip(*columns, told, strict=True)),
        heads=(*("tpi" if key == "pitch_in" else heading(key) for key in named), "source"),
        notes=("Sources", *(f"{number} {origin}" for origin, number in numbers.items())),
    )


def _column(kind: Kind, key: str, rows: Sequence[Any], inch: bool) -> list[str]:
    """A column's cells, its numbers all in one way: as many decimals as the finest of them needs.

    Where a list has both series, each has its way. What has a unit but is no length has three figures;
    a cutting speed is whole, within its range.
    """
    series = [kind.inch(row) if kind.inch else False for row in rows]
    told = {}
    for one in (True, False):
        own = [row for row, of in zip(rows, series, strict=True) if of is one]
        told[one] = iter(_cells(kind.name, key, own, inch))
    return [next(told[one]) for one in series]


def _cells(kind: str, key: str, rows: Sequence[Any], inch: bool) -> list[str]:
    """The cells of a column of one series."""
    cells = [getattr(row, key) for row in rows]
    if key == "limit" or not all(isinstance(cell, int | float | None) for cell in cells):
        return ["" if cell is None else _plain(key, cell, inch) for cell in cells]
    said = [None if cell == 0 and key in NONE.get(kind, ()) else cell for cell in cells]
    if key.endswith("_m_min"):
        return [_speed(key, row, inch) for row in rows]
    values = [None if cell is None else _value(key, cell, inch) for cell in said]
    if key.endswith(FIGURES):
        return ["" if value is None else _figures(value) for value in values]
    places = _places(kind, key, [value for value in values if value is not None], inch)
    if inch and key == "feed_mm":  # half thousandths, as a feed is told
        values = [None if value is None else round(value * 2000) / 2000 for value in values]
    return ["" if value is None else f"{value:z.{places}f}" for value in values]


def _plain(key: str, cell: Any, inch: bool) -> str:
    """A cell of a column that is not all numbers."""
    if key in MARKED:
        return str(cell)
    (told,) = converted((key,), (cell,), ()) if inch else (cell,)
    if inch and isinstance(told, str):
        return _SIZES.sub(_in_inches, _THICK.sub(_thick_in, _STRENGTH.sub(_in_psi, told)))
    return f"{told:.6g}" if isinstance(told, float) else str(told)


_STRENGTH = re.compile(r"(?:(\d+)-)?(\d+)MPa\b")
"""What a group of materials bears, in its name: "steel <700MPa", "steel 700-1000MPa"."""


_SIZES = re.compile(r"(?:([\d.]+) to )?([\d.]+) mm\b")
"""What a note says of a size, or of two: "0.05 to 0.2 mm over the drill"."""


_THICK = re.compile(r"(?:(\d+)<)?\b([dt])<=(\d+)\b")
"""How thick a material of a condition is, in the millimetres of its standard: "T6 drawn d<=80"."""


def _thick_in(found: re.Match[str]) -> str:
    """The same in inches, round and no thicker: "T6 drawn d<=3.000 in"."""
    least, what, most = found.groups()
    low = f"{INCH.plain.bound(float(least), up=False)}<" if least else ""
    return f"{low}{what}<={INCH.bound(float(most), up=False)}"


def _in_inches(found: re.Match[str]) -> str:
    """The same in inches: of two as a dial has them, "0.002 to 0.008 in"; one is a least, round."""
    least, most = found.groups()
    if least:
        return f"{INCH.plain.dial(float(least))} to {INCH.dial(float(most))}"
    return INCH.bound(float(most), up=True)


def _in_psi(found: re.Match[str]) -> str:
    """The same in inches: "101500 psi", "101500-145000 psi"."""
    least, most = found.groups()
    low = f"{INCH.plain.stress(float(least))}-" if least else ""
    return f"{low}{INCH.stress(float(most))}"


def _value(key: str, cell: float, inch: bool) -> float:
    """A number in the unit of its column's head: a pitch as threads per inch."""
    if inch and key == "pitch_mm":
        return float(f"{MM_PER_INCH / cell:.4g}")
    (told,) = converted((key,), (cell,), ()) if inch else (cell,)
    return float(told)


def _places(kind: str, key: str, values: Sequence[float], inch: bool) -> int:
    """The decimals of a column: what its finest number needs, so many at most."""
    if inch and key in THOUSANDTHS.get(kind, ()):
        return 3
    most = MOST_PLACES_IN if inch or key.endswith("_in") else MOST_PLACES
    texts = [f"{value:.{most}f}".rstrip("0") for value in values]
    return max((len(text.partition(".")[2]) for text in texts), default=0)


def _figures(value: float) -> str:
    """Three figures: "0.606", "2.67", "42.8", "84100"."""
    text = f"{float(f'{value:.3g}'):#.3g}" if abs(value) < 100 else f"{float(f'{value:.3g}'):.0f}"
    return text.removesuffix(".")


def _speed(key: str, row: Any, inch: bool) -> str:
    """A cutting speed in whole ft/min or m/min, within the range that is published.

    Where one is published and no range, the nearest.
    """
    speed = _value(key, getattr(row, key), inch)
    near = round(speed)
    if row.low_m_min == row.high_m_min or abs(speed - near) < 1e-3:
        return str(near)
    return str(ceil(speed) if key.startswith("low") else floor(speed))
