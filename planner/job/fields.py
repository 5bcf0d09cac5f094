"""The types of a job file's values: lengths, pitches, sections and names, each with its range.

job.tables builds its tables from them. Each is a marker for ``Annotated`` that tells pydantic how
to read the value, in the unit the file declares, and tells editors what to expect.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from typing import Annotated, Any
from unicodedata import category

from pydantic import (
    AfterValidator,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ValidationInfo,
)
from pydantic_core import PydanticCustomError, core_schema

from parts.standard.drills import drill_named
from parts.standard.errors import UnknownSize
from parts.standard.materials import material
from parts.standard.sections import Section
from parts.standard.threads import thread
from parts.value import Value
from planner.words.amounts import FORCE, POWER, TORQUE, Kind, amount
from planner.words.numbers import Numbers
from planner.words.units import INCH_UNITS, UnitError, as_typed, length_mm, pitch_mm, section

LONGEST_MM = 20_000.0
"""Nothing in a shop with a small lathe is longer; more is a slip of the unit."""


FAR_MM = 1e7
"""Ten kilometres: beyond, the figures of a length say nothing."""


def problem(code: str, limit: str, remedy: str) -> PydanticCustomError:
    """A finding of ours, as pydantic carries it; code: of the register."""
    carried = {"code": code, "limit": limit.rstrip("."), "remedy": remedy}
    return PydanticCustomError("shop", "{limit}. {remedy}", carried)


class Read(Value, frozen=True):
    """A value read from text or number by ``reader(value, declared unit)``.

    low, high: the range it must lie in, of the unit that goes on; what: its name in messages; json: its
    JSON Schema. hint: what a value out of the range was perhaps meant as, "" for nothing. said: how a
    language of numbers writes it.
    """

    reader: Callable[[Any, str | None], Any]
    json: str
    numbers: bool = False
    low: float | None = None
    high: float | None = None
    what: str = "a length"
    hint: Callable[[Any, str | None], str] | None = None
    said: Callable[[Numbers, float], str] = Numbers.size

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Pydantic's door."""
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """What editors are told."""
        text = {"type": "string"}
        kind = {"anyOf": [{"type": "number"}, text]} if self.numbers else text
        return kind | {"description": self.json}

    def _read(self, value: Any, info: ValidationInfo) -> Any:
        unit = (info.context or {}).get("unit")
        try:
            found = self.reader(value, unit)
        except UnitError as error:
            raise problem(error.code, error.limit, error.remedy) from None
        if self.low is None or self.high is None or self.low <= found <= self.high:
            return found
        numbers = Numbers(inch=unit in INCH_UNITS)
        if self.said is Numbers.size:
            low = numbers.plain.end_of_range(self.low, up=True)
            high = numbers.end_of_range(self.high, up=False)
        else:
            low, high = self.said(numbers.plain, self.low), self.said(numbers, self.high)
        this = self.said(numbers, found) if abs(found) < FAR_MM else "far off"
        raise problem(
            "out-of-range",
            f"{self.what} here lies between {low} and {high}, this is {this}",
            (self.hint and self.hint(value, unit))
            or self._in_other_unit(value, unit)
            or _other_than(found),
        )

    def _in_other_unit(self, value: Any, unit: str | None) -> str:
        """The remedy for a length without a unit that would do in the other one; "" for any other."""
        if self.reader is not length_mm or unit is None or isinstance(value, bool):
            return ""
        other = "mm" if unit in INCH_UNITS else "in"
        text = value.strip() if isinstance(value, str) else str(value)
        if not text[-1:].isdigit():
            return ""
        try:
            meant = length_mm(text, other)
        except UnitError:
            return ""
        if self.low is None or self.high is None or not 0 < self.low <= meant <= self.high:
            return ""
        word = "millimetres" if other == "mm" else "inches"
        return f'If {word} are meant, write "{text} {other}"; else correct the number'


def _names_one(text: str) -> str:
    """A name that prints on every sheet as it stands, and is no formula in a spreadsheet."""
    if text and not text.strip():
        raise problem("wrong-value", "is blank", "Give it a name, or leave the key out")
    if not all(category(sign)[0] not in "CZ" or sign == " " for sign in text):
        limit = "has signs in it that do not print"
        raise problem("wrong-value", limit, "Write it with letters, figures and blanks")
    if text.strip() != text or text[:1] in ("=", "+", "-", "@"):
        limit = "begins with a sign that a spreadsheet takes for a formula"
        if text.strip() != text:
            limit = "begins or ends with a blank"
        raise problem("wrong-value", limit, "Begin with a letter or a figure")
    return text


Named = Annotated[str, AfterValidator(_names_one)]
"""A name of the user's own, as it is printed on sheets, in CSV and in pictures."""


def length(low_mm: float, high_mm: float) -> Read:
    """A length within a range."""
    about = 'length: "12 mm", "1/2 in", or a number in the declared units'
    return Read(length_mm, about, numbers=True, low=low_mm, high=high_mm)


def _drill_mm(value: Any, unit: str | None) -> float:
    """A drill by its size, or an inch one by its number or letter: "7 mm", "5/16 in", "#7", "F"."""
    known = drill_named(value) if isinstance(value, str) else None
    if known:
        return known.diameter_mm
    marked = isinstance(value, str) and re.fullmatch(r"(.+?)\s+(?:drill|bit)", value.strip(), re.I)
    if marked:
        mark = next((one for one in (f"#{marked[1]}", marked[1]) if drill_named(one)), marked[1])
        raise UnitError("not-a-length", "not a drill", f'Write "{mark}"')
    try:
        return length_mm(value, unit)
    except UnitError as error:
        if error.code != "not-a-length" or not isinstance(value, str):
            raise
        size = '"17/64"' if unit in INCH_UNITS else '"7 mm"'
        remedy = f'Write a drill such as {size}, "#7" or "F"'
        raise UnitError(error.code, "not a drill", remedy) from None


def drill_size(low_mm: float, high_mm: float) -> Read:
    """The size of a drill within a range."""
    about = 'drill: "7 mm", "5/16 in", "#7", "F", or a number in the declared units'
    return Read(_drill_mm, about, numbers=True, low=low_mm, high=high_mm)


def _of(kind: Kind, low: float, high: float, said: Callable[[Numbers, float], str]) -> Read:
    about = f"{kind.name}: {kind.example}, or a number of {kind.metric}, in inch files of"
    return Read(
        lambda value, unit: amount(value, unit, kind),
        f"{about} {kind.inch.replace('*', '·')}",
        numbers=True,
        low=low,
        high=high,
        what=kind.name,
        said=said,
    )


def force(low_N: float, high_N: float) -> Read:
    """A force within a range, in newtons."""
    return _of(FORCE, low_N, high_N, Numbers.force)


def torque(low_Nm: float, high_Nm: float) -> Read:
    """A torque within a range, in newton metres."""
    return _of(TORQUE, low_Nm, high_Nm, Numbers.fine_torque)


def power(low_kW: float, high_kW: float) -> Read:
    """A power within a range, in kilowatts."""
    return _of(POWER, low_kW, high_kW, Numbers.power)


def _other_than(found_mm: float) -> str:
    return "Check the unit" if found_mm > 0 else "Give it as a size above zero"


def _threads_per_inch(value: Any, unit: str | None) -> str:
    """A whole number from 4 to 80 is no pitch in millimetres or inches, but threads per inch."""
    over = re.fullmatch(r"\s*1/(\d{1,2})\s*", value) if isinstance(value, str) else None
    try:
        number = float(over[1] if over else value)
    except (TypeError, ValueError, OverflowError):
        return ""
    if isinstance(value, bool) or not 4 <= number <= 80 or number != int(number):
        return ""
    return f'If threads per inch are meant, write "{Numbers(True).threads_per_inch(number)}"'


def named(look_up: Callable[[str], Any], kind: str) -> Callable[[Any, str | None], Any]:
    """A reader of names: the entry that ``look_up`` finds, or UnitError with the nearest there is."""

    def read(value: Any, unit: str | None) -> Any:
        if not isinstance(value, str):
            limit = f"a {kind} is named in quotes"
            number = isinstance(value, int | float) and not isinstance(value, bool)
            meant = (
                f'Write "{value:g}"' if number and abs(value) < 1e6 else "Write its name in quotes"
            )
            raise UnitError("wrong-value", limit, meant)
        try:
            return look_up(value)
        except UnknownSize as error:
            if typed := _typed(look_up, value):
                limit, remedy = f"no {kind} of that name in the tables", f'Write "{typed}"'
                raise UnitError("unknown-name", limit, remedy) from None
            nearest = f"Nearest: {error.nearest}; see" if error.nearest else "See"
            remedy = error.remedy or f"{nearest} them all with: pommel list {kind}s"
            limit = f"no {kind} of that name in the tables"
            raise UnitError("unknown-name", limit, remedy) from None

    return read


def _typed(look_up: Callable[[str], Any], value: str) -> str:
    """A name with the keyboard's own signs and points for commas, where that is one; else ""."""
    typed = " ".join(as_typed(value).replace(",", ".").split())
    with suppress(UnknownSize):
        return typed if typed != value and look_up(typed) else ""
    return ""


_material, _thread = named(material, "material"), named(thread, "thread")

Material = Annotated[
    str, Read(lambda value, unit: _material(value, unit).name, "a material by its usual name")
]
ThreadName = Annotated[
    str, Read(lambda value, unit: _thread(value, unit).designation, "a thread by its usual name")
]
SectionText = Annotated[
    Section,
    Read(section, '"round 20 mm", "square 16 mm", "flat 50x20 mm", "tube 40x5 mm"'),
]
Pitch = Annotated[
    float,
    Read(
        pitch_mm,
        'screw pitch: "1 mm" or "20 tpi"',
        numbers=True,
        low=0.3,
        high=6.0,
        what="a screw pitch",
        hint=_threads_per_inch,
    ),
]
Speed = Annotated[float, Field(ge=1, le=20_000, allow_inf_nan=False)]
Money = Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=1, le=100_000, strict=True)]
Span = Annotated[list[Annotated[float, length(0, 1000)]], Field(min_length=2, max_length=2)]
"""The least and the most that something takes."""
