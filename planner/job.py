"""The job file: one lathe, one shop, one attachment, read from TOML and validated.

Only the door reads it: planner.cli and the tests. Everything behind works on the Job it returns.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from difflib import get_close_matches
from math import isfinite
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from parts.standard.errors import UnknownSize
from parts.standard.materials import material
from parts.standard.sections import Section
from parts.standard.threads import thread
from planner.findings import BadInput, Finding, refused
from planner.units import UnitError, length_mm, pitch_mm, section, show_length

LONGEST_MM = 20_000.0
"""Nothing in a shop with a small lathe is longer; more is a slip of the unit."""


def _problem(limit: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError(
        "shop", "{limit}. {remedy}", {"limit": limit.rstrip("."), "remedy": remedy}
    )


def _through(reader: Callable[[Any, str | None], Any]) -> Callable[[Any, ValidationInfo], Any]:
    def read(value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, Section) or value is None:
            return value
        try:
            return reader(value, (info.context or {}).get("unit"))
        except UnitError as error:
            raise _problem(error.limit, error.remedy) from None

    return read


def _between(
    low_mm: float, high_mm: float, what: str = "a length"
) -> Callable[[float, ValidationInfo], float]:
    def check(value: float, info: ValidationInfo) -> float:
        if low_mm <= value <= high_mm:
            return value
        inch = (info.context or {}).get("unit") in ("in", "ft")
        unit = "in" if inch else "mm"
        low, high = show_length(low_mm, inch), show_length(high_mm, inch)
        hint = "Check the unit" if value > 0 else "Give it as a size above zero"
        raise _problem(
            f"{what} here lies between {low} and {high} {unit}, this is"
            f" {show_length(value, inch)} {unit}",
            hint,
        )

    return check


def _length(low_mm: float, high_mm: float) -> Any:
    check = _between(low_mm, high_mm)
    read = _through(length_mm)
    return Annotated[
        float,
        BeforeValidator(lambda value, info: check(read(value, info), info)),
        WithJsonSchema(
            {
                "anyOf": [{"type": "number"}, {"type": "string"}],
                "description": 'length: "12 mm", "1/2 in", or a number in the declared units',
            }
        ),
    ]


def _named(look_up: Callable[[str], Any], kind: str) -> Any:
    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise _problem(f"a {kind} is named in quotes", f'Write its name, as in "{kind}"')
        try:
            found = look_up(value)
        except UnknownSize as error:
            nearest = f"Nearest: {error.nearest}" if error.nearest else "See the tables"
            raise _problem(f"no {kind} of that name in the tables", nearest) from None
        return str(getattr(found, "designation", None) or found.name)

    return Annotated[
        str,
        BeforeValidator(check),
        WithJsonSchema({"type": "string", "description": f"a {kind} by its usual name"}),
    ]


Material = _named(material, "material")
ThreadName = _named(thread, "thread")
SectionText = Annotated[
    Section,
    BeforeValidator(_through(section)),
    WithJsonSchema(
        {
            "type": "string",
            "description": '"round 20 mm", "square 16 mm", "flat 50x20 mm", "tube 40x5 mm"',
        }
    ),
]
_pitch_in_range = _between(0.3, 6.0, "a screw pitch")
_read_pitch = _through(pitch_mm)
Pitch = Annotated[
    float,
    BeforeValidator(lambda value, info: _pitch_in_range(_read_pitch(value, info), info)),
    WithJsonSchema(
        {
            "anyOf": [{"type": "number"}, {"type": "string"}],
            "description": 'screw pitch: "1 mm" or "20 tpi"',
        }
    ),
]
Speed = Annotated[float, Field(gt=0, le=20_000, allow_inf_nan=False)]
Money = Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=1, le=100_000, strict=True)]


class Table(BaseModel):
    """A table of the file: no unknown keys, nothing changed once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Lathe(Table):
    """The lathe."""

    spindle_over_seat: _length(3, 400) = Field(
        description="height of the spindle axis over the seat of the tool post"
    )
    spindle_over_cross_slide: _length(10, 800) = Field(
        description="height of the spindle axis over the cross slide"
    )
    chuck_diameter: _length(20, 1000)
    jaw_reach: _length(0, 300) = Field(description="how far the jaws stand out of the chuck's face")
    spindle_speeds: list[Speed] = Field(min_length=1, description="all of them, rev/min")


class ToolPost(Table):
    """The tool post."""

    largest_shank: _length(4, 100) = Field(description="the tallest shank it takes")


class AttachmentJob(Table):
    """What the attachment is to do."""

    max_ball_diameter: _length(4, 1000)
    screw_pitch: Pitch
    dial_divisions: int = Field(ge=4, le=400, strict=True)
    min_ball_diameter: _length(2, 1000) | None = Field(
        None, description="default: a third of the largest"
    )
    max_blank_diameter: _length(4, 1200) | None = Field(
        None, description="default: the largest ball's diameter"
    )
    clearance: _length(0.2, 20) | None = Field(
        None, description="kept between moving and standing things; default 2 mm or 1/16 in"
    )
    sizes: dict[str, Any] = Field(
        default_factory=dict, description="sizes of your own, by their name in `pommel sizes`"
    )


class RackBar(Table):
    """A bar or remnant on the rack."""

    section: SectionText
    material: Material
    length: _length(5, LONGEST_MM)
    quantity: Count = 1
    cost: Money = 0.0


class BuyBar(Table):
    """A bar one can buy."""

    section: SectionText
    material: Material
    length: _length(50, LONGEST_MM)
    price: Money


class Machine(Table):
    """A machine other than the lathe."""

    speeds: list[Speed] = Field(default_factory=list, description="rev/min; empty when it has none")


class Shop(Table):
    """Machines, tools and stock."""

    machines: dict[
        Literal["mill", "drill press", "bandsaw", "grinder", "welder", "rotary table"], Machine
    ] = Field(default_factory=dict)
    dividing_head_ratio: int | None = Field(None, ge=2, le=360, strict=True)
    kerf: _length(0.0, 10) = 2.0
    reamers: list[_length(1, 100)] = Field(default_factory=list)  # type: ignore[valid-type]
    taps: list[ThreadName] = Field(default_factory=list)
    tool_bits: list[_length(2, 40)] = Field(default_factory=list)  # type: ignore[valid-type]
    tool_material: Literal["HSS", "carbide"] = "HSS"
    currency: str = "EUR"
    rack: list[RackBar] = Field(default_factory=list)
    buy: list[BuyBar] = Field(default_factory=list)


class Materials(Table):
    """What the parts are made of."""

    structure: Material = Field("S355", description="housing, block, arm, foot: it is welded")
    shaft: Material = Field("S355", description="pivot shaft and rod")
    screw: Material = Field("C45", description="feed screw and handle")
    dial: Material = Field("CW614N", description="dial and knob")


class Job(Table):
    """A whole job file."""

    name: str = Field(
        "",
        max_length=60,
        pattern=r"^[\w .-]*$",
        description="names the output folder; default: the file's own name",
    )
    units: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None, description="what a number without a unit means"
    )
    standards: Literal["metric", "inch"] | None = Field(
        None, description="which series sizes are chosen from; default by units"
    )
    lathe: Lathe
    tool_post: ToolPost
    attachment: AttachmentJob
    shop: Shop = Field(default_factory=Shop)
    materials: Materials = Field(default_factory=Materials)

    @property
    def inch(self) -> bool:
        """Whether sizes are chosen and shown in inches."""
        if self.standards is not None:
            return self.standards == "inch"
        return self.units in ("in", "ft")

    @model_validator(mode="after")
    def _balls_in_order(self) -> Job:
        wanted = self.attachment
        if wanted.min_ball_diameter and wanted.min_ball_diameter > wanted.max_ball_diameter:
            raise _problem(
                "attachment.min_ball_diameter: the smallest ball is larger than the largest",
                "Exchange them, or leave the smallest out",
            )
        if wanted.max_blank_diameter and wanted.max_blank_diameter < wanted.max_ball_diameter:
            raise _problem(
                "attachment.max_blank_diameter: the blank is thinner than the ball",
                "Give at least the ball's diameter, or leave it out",
            )
        return self


def read_job(path: Path) -> Job:
    """The job in a file.

    Raises BadInput with every problem of the file: missing, unreadable, not TOML, unknown keys
    (with the nearest known one), wrong units, sizes out of range.
    """
    file = str(path)
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadInput(
            [refused(file, "", "", "no such file", f"Make one with: pommel new {file}")]
        ) from None
    except IsADirectoryError:
        raise BadInput(
            [refused(file, "", "", "a folder, not a job file", "Name the .toml file in it")]
        ) from None
    except UnicodeDecodeError:
        raise BadInput(
            [refused(file, "", "", "not a text file in UTF-8", "Save it as UTF-8 text")]
        ) from None
    except OSError as error:
        raise BadInput(
            [refused(file, "", "", f"cannot be read ({error.strerror})", "Check its permissions")]
        ) from None
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(
            [refused(file, "", "", f"not TOML: {error}", "Mend that line and try again")]
        ) from None
    return job_from(data, file)


def job_from(data: dict[str, Any], file: str) -> Job:
    """A job from parsed TOML; ``file`` is what findings call it. Raises BadInput."""
    unit = data.get("units")
    known_unit = unit if isinstance(unit, str) and unit in ("mm", "cm", "m", "in", "ft") else None
    if known_unit is None and unit is not None:
        known_unit = "mm"  # the unit itself is reported; do not report every number with it
    try:
        job = Job.model_validate(data, context={"unit": known_unit})
    except ValidationError as error:
        findings = [_finding(file, data, detail) for detail in error.errors(include_url=False)]
        raise BadInput(findings) from None
    if not job.name:
        job = job.model_copy(update={"name": Path(file).stem})
    return job


def _finding(file: str, data: Any, detail: Any) -> Finding:
    place = [step for step in detail["loc"] if step != "[key]"]
    key = _key(place)
    value = detail.get("input")
    kind = detail["type"]
    context = detail.get("ctx") or {}
    shown = _shown(value)
    if kind == "shop":
        limit, remedy = context["limit"], context["remedy"]
        if not place and ": " in limit:
            key, limit = limit.split(": ", 1)
            shown = ""
        return refused(file, key, shown, limit, remedy)
    if kind == "extra_forbidden":
        known = _known_keys(place[:-1])
        near = get_close_matches(str(place[-1]), known, 1)
        remedy = f"Did you mean {near[0]}?" if near else f"Known here: {', '.join(known)}"
        return refused(file, key, "", "unknown key", remedy)
    if kind == "missing":
        field = _field(place)
        about = f" ({field})" if field else ""
        return refused(file, key, "", f"missing{about}", "Add it; see pommel new --help")
    if kind in ("literal_error", "enum"):
        return refused(file, key, shown, f"must be {context.get('expected', '')}", "Choose one")
    limit = str(detail["msg"]).replace("Input should", "should").replace("Value should", "should")
    return refused(file, key, shown, limit, "Correct the value")


def _key(place: list[Any]) -> str:
    text = ""
    for step in place:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += ("." if text else "") + (f'"{step}"' if " " in str(step) else str(step))
    return text


def _shown(value: Any) -> str:
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, float) and not isfinite(value):
        return str(value)
    return repr(value) if isinstance(value, str) else str(value)


def _model(place: list[Any]) -> type[BaseModel] | None:
    model: Any = Job
    for step in place:
        if isinstance(step, int):
            continue
        if isinstance(model, type) and issubclass(model, BaseModel):
            field = model.model_fields.get(str(step))
            model = field.annotation if field else None
        elif model is not None:
            model = getattr(model, "__args__", (None,))[-1]
        if model is None:
            return None
        origin = getattr(model, "__origin__", None)
        if origin is list:
            model = model.__args__[0]
        elif origin is dict and step is not place[-1]:
            continue
    if getattr(model, "__origin__", None) is dict:
        return None
    return model if isinstance(model, type) and issubclass(model, BaseModel) else None


def _known_keys(place: list[Any]) -> list[str]:
    model = _model(place)
    return sorted(model.model_fields) if model else []


def _field(place: list[Any]) -> str:
    model = _model(place[:-1])
    field = model.model_fields.get(str(place[-1])) if model else None
    return (field.description or "") if field else ""


def json_schema() -> dict[str, Any]:
    """The JSON Schema of a job file, for editors that complete and check TOML."""
    schema = Job.model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "pommel job"
    return schema
