"""The types of a job file's values: lengths, pitches, sections and names, each with its range.

job.tables builds its tables from them. Each is a marker for ``Annotated`` that tells pydantic how
to read the value, in the unit the file declares, and tells editors what to expect.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import PydanticCustomError, core_schema

from parts.standard.errors import UnknownSize
from parts.standard.materials import material
from parts.standard.sections import Section
from parts.standard.threads import thread
from planner.words.numbers import Numbers
from planner.words.units import UnitError, length_mm, pitch_mm, section

LONGEST_MM = 20_000.0
"""Nothing in a shop with a small lathe is longer; more is a slip of the unit."""


def problem(code: str, limit: str, remedy: str) -> PydanticCustomError:
    """A finding of ours, as pydantic carries it; code: of the register."""
    carried = {"code": code, "limit": limit.rstrip("."), "remedy": remedy}
    return PydanticCustomError("shop", "{limit}. {remedy}", carried)


@dataclass(frozen=True)
class Read:
    """A value read from text or number by ``reader(value, declared unit)``.

    low_mm, high_mm: the range it must lie in, for lengths; what: its name in messages; json: its
    JSON Schema.
    """

    reader: Callable[[Any, str | None], Any]
    json: str
    numbers: bool = False
    low_mm: float | None = None
    high_mm: float | None = None
    what: str = "a length"

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
        if self.low_mm is None or self.high_mm is None or self.low_mm <= found <= self.high_mm:
            return found
        numbers = Numbers(inch=unit in ("in", "ft"))
        low, high = numbers.plain.size(self.low_mm), numbers.size(self.high_mm)
        raise problem(
            "out-of-range",
            f"{self.what} here lies between {low} and {high}, this is {numbers.size(found)}",
            "Check the unit" if found > 0 else "Give it as a size above zero",
        )


def length(low_mm: float, high_mm: float) -> Read:
    """A length within a range."""
    about = 'length: "12 mm", "1/2 in", or a number in the declared units'
    return Read(length_mm, about, numbers=True, low_mm=low_mm, high_mm=high_mm)


def named(look_up: Callable[[str], Any], kind: str) -> Callable[[Any, str | None], Any]:
    """A reader of names: the entry that ``look_up`` finds, or UnitError with the nearest there is."""

    def read(value: Any, unit: str | None) -> Any:
        if not isinstance(value, str):
            limit = f"a {kind} is named in quotes"
            raise UnitError("wrong-value", limit, "Write its usual name in quotes")
        try:
            return look_up(value)
        except UnknownSize as error:
            nearest = f"Nearest: {error.nearest}; see" if error.nearest else "See"
            remedy = error.remedy or f"{nearest} them all with: pommel list {kind}s"
            limit = f"no {kind} of that name in the tables"
            raise UnitError("unknown-name", limit, remedy) from None

    return read


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
        low_mm=0.3,
        high_mm=6.0,
        what="a screw pitch",
    ),
]
Speed = Annotated[float, Field(gt=0, le=20_000, allow_inf_nan=False)]
Money = Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=1, le=100_000, strict=True)]
Span = Annotated[list[Annotated[float, length(0, 1000)]], Field(min_length=2, max_length=2)]
"""The least and the most that something takes."""
