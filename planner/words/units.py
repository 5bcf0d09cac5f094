"""The door in for units: text and numbers come in and millimetres go on.

pint does the conversion and is loaded when the first length comes in a unit that is not of EXACT, since
to load it takes longer than some commands do. Any module of the planner may import this; it imports
nothing of the project but the sections and words.short. Forces, torques and powers come in by
words.amounts. What goes out goes through words.numbers,
which alone uses the last functions here.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from math import inf, isfinite
from typing import Any

from parts.standard.sections import Section
from planner.words.short import begun

MM_PER_INCH = 25.4

DUST_PLACES = 8
"""Of an inch: what comes of binary fractions lies beyond."""

EXACT = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH}
"""Millimetres in the units that most jobs are written in, by definition: those of the SI, and the inch
of the international yard and pound agreement (1959)."""

OTHER_UNITS = {
    **dict.fromkeys(("um", "µm", "μm", "micron", "microns"), (0.001, "mm")),
    **dict.fromkeys(("thou", "thous", "mil", "mils"), (0.001, "in")),
    **dict.fromkeys(("tenth", "tenths"), (0.0001, "in")),
    "dm": (10.0, "cm"),
}
"""What shops say besides, in units that are known here: by definition."""

NUMBER = r"(?:\d+\s*-\s*\d+/\d+|\d+\s+\d+/\d+|\d+/\d+|\d*\.\d+|\d+\.?\d*)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*([+-]?)\s*({NUMBER})\s*([A-Za-z\"'µμ]*)\s*")
_SECTION = re.compile(
    rf"\s*(round|square|flat|tube|sheet)\s+({NUMBER})"
    rf"(?:\s*[x×X*]\s*({NUMBER}))?\s*([A-Za-z\"]*)\s*"
)
_PITCH = re.compile(rf"\s*({NUMBER})\s*tpi\s*", re.IGNORECASE)
_PER_INCH = re.compile(r"\s*(\d{1,2})\s*(?:threads|t\.?)?\s*(?:per|/|p\.?)\s*i(?:n\w*)?\.?\s*")
WALL = ("wall", "wt", "thick", "thk")
"""What a shop writes behind the second size of a section."""

_FEET = re.compile(rf"({NUMBER})\s*(?:ft|foot|feet|')\s*({NUMBER})\s*(?:in|inch|inches|\")?", re.I)
SHAPES = ("round", "square", "flat", "tube", "sheet")
TWO_SIZES = ("flat", "tube", "sheet")


class UnitError(Exception):
    """A value that cannot be read: its finding's ``code``, ``limit`` and ``remedy``.

    Not a ValueError: job.fields makes a finding of it, and of nothing else.
    """

    def __init__(self, code: str, limit: str, remedy: str) -> None:
        self.code, self.limit, self.remedy = code, limit, remedy
        super().__init__(f"{limit}. {remedy}")


@cache
def registry() -> Any:
    """The units that are known, as pint has them: made when the first one is asked for."""
    import pint

    units: Any = pint.UnitRegistry(None)
    for definition in (
        "milli- = 1e-3 = m-",
        "centi- = 1e-2 = c-",
        "kilo- = 1e3 = k-",
        "metre = [length] = m = meter",
        "inch = 0.0254 * metre = in = inches",
        "foot = 12 * inch = ft = feet",
        "gram = [mass] = g",
        "second = [time] = s",
        "minute = 60 * second = min",
        "newton = kilogram * metre / second ** 2 = N",
        "pound_force = 4.4482216152605 * newton = lbf",
        "ounce_force = pound_force / 16 = ozf",
        "kilogram_force = 9.80665 * newton = kgf = kp",
        "watt = newton * metre / second = W",
        "horsepower = 550 * foot * pound_force / second = hp",
        "metric_horsepower = 75 * kilogram_force * metre / second = PS",
    ):
        units.define(definition)
    return units


def example(inch: bool) -> str:
    """A length as the file writes them, in quotes."""
    return '"1/2 in"' if inch else '"12 mm"'


INCH_UNITS = ("in", "ft")
"""Units of an inch shop's file."""


@cache
def _unit_in_mm(unit: str, inch: bool) -> float:
    """Millimetres in one of a unit of length; UnitError for anything that is none.

    inch: whether the file is in inches, and has its examples so.
    """
    known = f"Write in, ft or mm, as in {example(inch)}"
    if not inch:
        known = f"Write mm, cm, m, in or ft, as in {example(inch)}"
    if unit in EXACT:
        return EXACT[unit]
    import pint

    try:
        if not unit.isalpha():  # quotes: pint's reader breaks on them
            raise pint.UndefinedUnitError(unit)
        return float(registry().Quantity(1.0, unit).to("millimetre").magnitude)
    except pint.UndefinedUnitError:
        if unit.lower() in EXACT:
            limit = f"'{unit}' is not a unit known here"
            remedy = f"Did you mean {unit.lower()}?"
            raise UnitError("wrong-unit", limit, remedy) from None
        limit = f"'{begun(unit, 20)}' is not a unit known here"
        raise UnitError("wrong-unit", limit, known) from None
    except pint.DimensionalityError:
        limit = f"'{begun(unit, 20)}' is not a unit of length"
        raise UnitError("wrong-unit", limit, known) from None


def number(text: str) -> float:
    """A plain, decimal, fractional or mixed number: "12", "0.5", "1/2", "3-7/8", "3 7/8"."""
    mixed = re.fullmatch(r"(\d+)(?:\s*-\s*|\s+)(\d+)/(\d+)", text)
    try:
        if mixed:
            whole, top, bottom = (int(group) for group in mixed.groups())
            return float(whole + Fraction(top, bottom))
        return float(Fraction(text)) if "/" in text else float(text)
    except ZeroDivisionError:
        limit = f"'{begun(text, 30)}' divides by zero"
        raise UnitError("not-a-length", limit, "Write a fraction such as 3/8") from None
    except OverflowError:  # too many digits for a float
        return inf


def length_mm(value: Any, unit: str | None, inch: bool | None = None) -> float:
    """A length in millimetres.

    value: a number in the file's declared unit, or text with a unit of its own ("12 mm", "1/2 in",
    "3-7/8 in"). unit: the declared unit ("mm", "in", ...), None when the file declares none. inch:
    whether examples are in inches; as the declared unit is, unless given.
    Raises UnitError when it is no length, has no unit, or is not finite.
    """
    inch = unit in INCH_UNITS if inch is None else inch
    such_as = 'Write a length such as "12 mm" or "1/2 in"'
    if inch:
        such_as = 'Write a length such as "1/2", "3-7/8 in" or 0.125'
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise UnitError("not-a-length", "not a length", such_as)
    if isinstance(value, str):
        match = _LENGTH.fullmatch(value)
        if not match:
            raise UnitError("not-a-length", "not a length", _meant(value, inch) or such_as)
        sign, digits, own_unit = match.groups()
        amount = number(digits) * (-1.0 if sign == "-" else 1.0)
        if own_unit in ("''", '""'):
            limit, meant = f"{own_unit} is not a unit known here", f"{sign}{digits.strip()} in"
            raise UnitError("wrong-unit", limit, f'Write "{meant}"')
        if own_unit in OTHER_UNITS:
            limit = f"'{own_unit}' is not a unit known here"
            meant = trimmed(amount * OTHER_UNITS[own_unit][0], 6)
            raise UnitError("wrong-unit", limit, f'Write "{meant} {OTHER_UNITS[own_unit][1]}"')
        unit = {'"': "in", "'": "ft"}.get(own_unit, own_unit) or unit
    else:
        try:
            amount = float(value)
        except OverflowError:
            amount = inf
    if not isfinite(amount):
        raise UnitError(
            "not-a-length", "not a finite number", f"Write a length such as {example(inch)}"
        )
    if unit is None:
        raise UnitError(
            "no-unit",
            "a number without a unit, and the file declares none",
            'Write a unit, as in "12 mm" or "1/2 in",'
            ' or put units = "mm" or "in" at the top of the file',
        )
    in_mm = amount * _unit_in_mm(unit, inch)
    if not isfinite(in_mm):
        raise UnitError(
            "not-a-length", "too large to be a length", f"Write one such as {example(inch)}"
        )
    return in_mm


def _meant(text: str, inch: bool) -> str:
    """What a text that is no length was perhaps meant as, as a remedy; "" where that is not seen."""
    plain = text.strip()
    if re.fullmatch(r"[+-]?\d+,\d+\s*[A-Za-z\"']*", plain):
        return f'Write "{plain.replace(",", ".")}", with a point'
    nought = re.sub(r"(?<=[\d.])[Oo](?=\d)", "0", plain)
    if nought != plain and _LENGTH.fullmatch(nought):
        return f'Write "{nought}", with a nought for the letter O'
    if feet := _FEET.fullmatch(plain):
        inches = float(12 * number(feet[1]) + number(feet[2]))
        return f'Write "{trimmed(inches, 6)} in"'
    if plain[:1] in "±Ø⌀" and _LENGTH.fullmatch(plain[1:]):
        return f'Write "{plain[1:].strip()}", without {plain[0]}'
    if re.fullmatch(r"\d{1,3}(\.\d{3})+,\d+", plain):
        return f'Write "{plain.replace(".", "").replace(",", ".")}", with a point alone'
    if plain and plain[-1] in "″”“" and re.fullmatch(NUMBER, plain[:-1].strip()):
        return f'Write "{plain[:-1].strip()} in"'  # an inch mark that is not the keyboard's
    looks = as_typed(plain)
    if looks != plain and _LENGTH.fullmatch(looks):
        return f'Write "{looks}", with the keyboard\'s signs'
    if plain.startswith(("+-", "+/-")) and _LENGTH.fullmatch(plain.lstrip("+-/")):
        return f'Write "{plain.lstrip("+-/").strip()}", without a sign'
    if found := re.fullmatch(rf"({NUMBER})\s*[A-Za-z]{{1,2}}\d{{1,2}}", plain):
        own = "in" if inch else "mm"
        return f'Write "{found[1]} {own}": the size alone, or its unit'
    return ""


LOOKS = str.maketrans("−–—‐‑⁄∕\u00a0\u2007\u202f", "-----//   ", "\u200b\u200c\u200d")
"""Signs that only look like those of the keyboard."""


def as_typed(text: str) -> str:
    """A text with the keyboard's own signs: ½ as 1/2."""
    from unicodedata import normalize

    parted = re.sub(r"(\d)(?=[\u00bc-\u00be\u2150-\u215e])", r"\1 ", text)
    return normalize("NFKC", parted).translate(LOOKS).strip()


def pitch_mm(value: Any, unit: str | None) -> float:
    """A screw pitch in millimetres: a length, or threads per inch as in "20 tpi"."""
    match = _PITCH.fullmatch(value) if isinstance(value, str) else None
    if match:
        per_inch = number(match.group(1))
        if per_inch <= 0 or not isfinite(MM_PER_INCH / per_inch) or not isfinite(per_inch):
            raise UnitError("not-a-pitch", "no pitch", 'Write threads per inch such as "20 tpi"')
        return MM_PER_INCH / per_inch
    if isinstance(value, str) and not _LENGTH.fullmatch(value):
        meant = re.fullmatch(r"\s*(?:M|Tr)\s*\d+(?:\.\d+)?\s*[xX×]\s*(\d+(?:\.\d+)?)\s*", value)
        inches = _PER_INCH.fullmatch(value)
        if inches:
            raise UnitError("not-a-pitch", "no pitch", f'Write "{inches[1]} tpi"')
        remedy = f'Write "{meant[1]} mm"' if meant else 'Write a pitch such as "1 mm" or "20 tpi"'
        raise UnitError("not-a-pitch", "no pitch", begun(remedy))
    return length_mm(value, unit)


def section(value: Any, unit: str | None) -> Section:
    """A stock section from text: "round 20 mm", "flat 50 x 20 mm", "tube 1-1/2 x 1/4 in"."""
    inch = unit in INCH_UNITS
    such_as = 'Write a section such as "round 20 mm", "flat 50x20 mm" or "tube 40x5 mm"'
    if inch:
        such_as = 'Write a section such as "round 3/4", "flat 2 x 3/4" or "tube 1-1/2 x 1/4 in"'
    match = _SECTION.fullmatch(value) if isinstance(value, str) else None
    if not match:
        meant = _section_meant(value) if isinstance(value, str) else ""
        raise UnitError("not-a-section", "not a stock section", meant or such_as)
    shape, first, second, own_unit = match.groups()
    if own_unit.lower() in WALL and second:
        limit = f"'{own_unit}' is no unit: the second size of a {shape} is its thickness"
        raise UnitError("not-a-section", limit, f'Write "{shape} {first} x {second}"')
    own = {'"': "in"}.get(own_unit, own_unit) or unit
    width = length_mm(first, own, inch)
    thickness = length_mm(second, own, inch) if second else 0.0
    if (shape in TWO_SIZES) != (second is not None):
        limit = f"a {shape} takes {'two sizes' if second is None else 'one size'}"
        raise UnitError("not-a-section", limit, such_as)
    if width <= 0 or (second is not None and thickness <= 0):
        raise UnitError("not-a-section", "a section has no size of zero", such_as)
    if shape == "tube" and 2 * thickness >= width:
        limit = "the wall is thicker than the tube's radius"
        said = f"tube {second}x{first}" + (f" {own_unit}" if own_unit else "")
        swapped = f'Write "{said}"'
        raise UnitError("not-a-section", limit, swapped if 2 * width < thickness else such_as)
    if shape == "flat" and thickness > width:
        width, thickness = thickness, width
    return Section(shape, width, thickness)


SHAPES_SAID = {
    "ø": "round",
    "⌀": "round",
    "dia": "round",
    "diameter": "round",
    "rod": "round",
    "bar": "flat",
    "rect": "flat",
    "rectangle": "flat",
    "pipe": "tube",
    "rd": "round",
    "sq": "square",
    "plate": "sheet",
}
"""Other words for the shape of a section."""


def _section_meant(text: str) -> str:
    """What a text that is no section was perhaps meant as, as a remedy; "" where that is not seen."""
    words = re.findall(r"[^\W\d_]+|⌀", text)
    shapes = {word: SHAPES_SAID.get(word.lower(), word.lower()) for word in words}
    named = [word for word, shape in shapes.items() if shape in SHAPES]
    if len(named) != 1:
        return ""
    shape, said = shapes[named[0]], re.sub(r"\s+by\s+", "x", text.replace(named[0], " "))
    two = shape in TWO_SIZES
    if two and said.count(",") == 1 and not re.search(r"[x×X*]", said):
        said = said.replace(",", "x")
    second = rf"\s*[x×X*]\s*{NUMBER}" if two else ""
    found = re.fullmatch(rf"\s*({NUMBER}{second})(\s*[A-Za-z\"]*)(.*)", said.replace(",", "."))
    if not found:
        return ""
    meant = f"{shape} {' '.join((found[1] + found[2]).split())}"
    if not _SECTION.fullmatch(meant):
        return ""
    if length := re.fullmatch(rf"\s*[x×X*]\s*({NUMBER})\s*", found[2] + found[3]):
        return begun(f'Write "{shape} {found[1]}", and length = {length[1]}')
    if found[2].strip() and found[3].strip():
        behind = (found[2] + found[3]).strip()
        return begun(f'Write "{shape} {found[1]}", and material = "{behind}"')
    return begun(f'Write "{meant}"') if not found[3].strip() else ""


_SAID = re.compile(r"[\d./-]+ (?:mm|in)\b")


def lengths_said(text: str) -> set[str]:
    """Every length with its unit in a text, as it is written."""
    return {*_SAID.findall(text)}


def show_length(mm: float, inch: bool, decimals: int | None = None) -> str:
    """A length without its unit: millimetres to 0.01, or inches as a fraction or to 0.001."""
    if not inch:
        return trimmed(mm, 2 if decimals is None else decimals)
    inches = mm / MM_PER_INCH
    sixtyfourths = Fraction(round(inches * 64), 64)
    if decimals is None and abs(float(sixtyfourths) * MM_PER_INCH - mm) < 0.002:
        return fraction_text(sixtyfourths)
    text = f"{round(inches, DUST_PLACES):.{3 if decimals is None else decimals}f}"
    return text if float(text) else text.removeprefix("-")


def fraction_text(value: Fraction) -> str:
    """A mixed number as the shop writes it: 3-7/8, 1/2, 4."""
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole}-{part}" if whole else f"{sign}{part}"


def trimmed(value: float, decimals: int) -> str:
    """A decimal number without trailing zeros, and never "-0"."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def unit_name(inch: bool) -> str:
    """The unit lengths are shown in."""
    return "in" if inch else "mm"
