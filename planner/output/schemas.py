"""The JSON Schema of every format: of the files that are read, and of what every command prints.

The schemas of files come from the tables that read them, those of topics from the columns their entries
declare; what the other outputs hold stands here, beside which a test lays what they print. A column
whose key ends in a unit holds numbers. ``pommel schema`` prints them, ``pommel --version`` the numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from importlib import import_module
from typing import Any, NamedTuple, get_args

from msgspec.structs import fields

from planner.output.topic import Topic
from planner.output.topics import TOPICS
from planner.words.formats import OUTPUTS, format_name

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"

UNITS = frozenset(("mm", "deg", "kg", "N", "MPa", "mm2", "mm3", "arcsec", "rpm"))
"""How the key of a column ends that holds numbers: one, none (null), or a list (of spans)."""

LISTED = ("saw_mm",)
"""Columns that have a number in one table, and in another several as text."""

TEXT: Schema = {"type": "string"}
NUMBER: Schema = {"type": ["number", "null", "array"], "items": {"type": ["number", "array"]}}
ANY: Schema = {"type": ["string", "number", "boolean", "null", "array"]}


class FileFormat(NamedTuple):
    """A file that is read: what it is, where its table stands, and the numbers that are read.

    A file of lines has the schema of one line.
    """

    about: str
    module: str
    table: str
    numbers: tuple[int, ...] = (1,)


FILES: Mapping[str, FileFormat] = {
    "job": FileFormat("a job file, TOML", "planner.job.tables", "Job"),
    "readings": FileFormat("readings of a ball, TOML", "planner.measuring.readings", "Readings"),
    "made": FileFormat("made.toml of a record", "planner.record.model", "Made"),
    "balls": FileFormat("a line of balls.jsonl of a record", "planner.record.model", "BallTurned"),
    "moves": FileFormat("a line of moves.jsonl of a record", "planner.record.model", "MoveMade"),
}


def outputs() -> dict[str, int]:
    """The number of every JSON output, by its name."""
    found = {one.name: one.number for one in TOPICS if one.columns}
    found |= {other.name: other.number for one in TOPICS for other in one.instead}
    return found | OUTPUTS


def names() -> list[str]:
    """What ``schema_of`` knows: the files, then the outputs."""
    return [*FILES, *outputs()]


def schema_of(name: str) -> Schema:
    """The JSON Schema of a file or an output. Raises KeyError when there is none of that name."""
    if name in FILES:
        return _file(name)
    for one in TOPICS:
        if one.name == name and one.columns:
            return _headed(name, _topic(one))
        for other in one.instead:
            if other.name == name:
                cells = {key: _cell(key) for key in other.keys}
                return _headed(name, _object(cells | {"findings": _findings()}))
    return _headed(name, OWN[name]())


def _file(name: str) -> Schema:
    table = getattr(import_module(FILES[name].module), FILES[name].table)
    schema: Schema = table.model_json_schema()
    return schema | {"$schema": DIALECT, "title": f"pommel {name}"}


def _headed(name: str, schema: Schema) -> Schema:
    """The schema of an output, saying what it is; every output names its format."""
    says = {"const": format_name(name, outputs()[name])}
    schema["properties"] = {"format": says} | {
        key: value for key, value in schema["properties"].items() if key != "format"
    }
    schema["required"] = list(dict.fromkeys(["format", *schema["required"]]))
    return {"$schema": DIALECT, "title": f"pommel {name}"} | schema


def _object(properties: Mapping[str, Schema], optional: Iterable[str] = ()) -> Schema:
    """A table of these keys and no other, all there but the optional ones."""
    return {
        "type": "object",
        "properties": dict(properties),
        "required": [key for key in properties if key not in optional],
        "additionalProperties": False,
    }


def _rows(keys: Iterable[str]) -> Schema:
    return {"type": "array", "items": _object({key: _cell(key) for key in keys})}


def _cell(key: str) -> Schema:
    named = "_" in key and key.rpartition("_")[2] in UNITS
    return NUMBER if named and key not in LISTED else ANY


def _tables(columns: Mapping[str, Iterable[str]], optional: Iterable[str] = ()) -> Schema:
    return _object({name: _rows(keys) for name, keys in columns.items()}, optional)


def _findings() -> Schema:
    from planner.words.findings import Finding
    from planner.words.register import Severity, kinds

    keys: dict[str, Schema] = {one.name: TEXT for one in fields(Finding)}
    keys |= {"severity": {"enum": list(get_args(Severity))}, "code": {"enum": list(kinds())}}
    keys |= {"line": {"type": "integer", "minimum": 1}}
    return {"type": "array", "items": _object(keys, ["line"])}


def _topic(one: Topic) -> Schema:
    """Which of a topic's tables there are is for the job and the options to say."""
    found = {"job": TEXT, "lengths": {"const": "mm"}}
    found["tables"] = _tables(one.columns, one.columns)
    for more in one.records:
        found[more.key] = {
            "type": "array",
            "items": _object({key: {} for key in more.keys}),
        }
    found["findings"] = _findings()
    if one.copy:
        found["written"] = {"type": ["string", "null"]}
    return _object(found, ["written"])  # the package's file has it not


def _new() -> Schema:
    return _object({"written": TEXT, "units": {"enum": ["mm", "in"]}})


def _correct() -> Schema:
    from planner.measuring.correct import Standing
    from planner.output.sheets.correct import COLUMNS

    found = {"job": TEXT, "ball": TEXT, "lengths": {"const": "mm"}, "tables": _tables(COLUMNS)}
    found["standing"] = {"enum": [*get_args(Standing), None]}
    found |= {key: {"type": "integer", "minimum": 0} for key in ("setting", "balls")}
    found["recorded"] = {"type": "boolean"}
    return _object(found | {"findings": _findings()})


def _draw() -> Schema:
    from planner.output.part_sheets import COLUMNS

    sheets = {"type": "array", "items": _object({key: {} for key in COLUMNS})}
    files = {"type": "array", "items": TEXT}
    found = {"job": TEXT, "folder": TEXT, "sheets": sheets, "files": files}
    return _object(found | {"findings": _findings()})


def _package() -> Schema:
    whole: Schema = {"type": "integer", "minimum": 0}
    digest: Schema = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
    file = _object({"path": TEXT, "what": TEXT, "bytes": whole, "sha256": digest})
    return _object(
        {
            "job": TEXT,
            "made_by": TEXT,
            "job_file_sha256": digest,
            "made_from": _object(
                {
                    "job_file": TEXT,
                    "record_sha256": {"type": "string", "pattern": "^([0-9a-f]{64})?$"},
                    "program_sha256": digest,
                    "libraries": {"type": "object", "additionalProperties": TEXT},
                }
            ),
            "solids_from": {"type": "object", "additionalProperties": digest},
            "open_first": TEXT,
            "findings": _findings(),
            "files": {"type": "array", "items": file},
            "manifest_sha256": digest,
        }
    )


def _build() -> Schema:
    found = _package()
    return _object(found["properties"] | {"folder": TEXT})


def _explain() -> Schema:
    from planner.words.register import Kind, Severity

    keys: dict[str, Schema] = {one.name: TEXT for one in fields(Kind)}
    keys["severities"] = {"type": "array", "items": {"enum": list(get_args(Severity))}}
    return _object({"codes": {"type": "array", "items": _object(keys)}})


def _list() -> Schema:
    """The kinds there are, or the rows of one under its name."""
    from planner.output.listing import KINDS

    found: dict[str, Schema] = {"kind": TEXT, "findings": _findings()}
    found["kinds"] = {"type": "array", "items": _object({"kind": TEXT, "about": TEXT})}
    found |= {
        one.name: {"type": "array", "items": _object({key: {} for key in one.keys})}
        for one in KINDS
    }
    return _object(found, found)


def _ready() -> Schema:
    looked = {"what": TEXT, "found": TEXT, "remedy": TEXT}
    looked |= {key: {"type": "boolean"} for key in ("right", "needed")}
    looks = {"type": "array", "items": _object(looked)}
    return _object({"looks": looks, "findings": _findings()})


def _record() -> Schema:
    from planner.output.sheets.record import COLUMNS

    found = {"job": TEXT, "folder": TEXT, "lengths": {"const": "mm"}, "tables": _tables(COLUMNS)}
    return _object(found | {"findings": _findings()})


def _only_findings() -> Schema:
    return _object({"findings": _findings()})


def _scene() -> Schema:
    """Meshes in base64, the things that have them, and the poses they may take."""
    place: Schema = {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}
    span: Schema = {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}
    mesh = {"low": place, "high": place, "step": {"type": "number", "exclusiveMinimum": 0}}
    mesh |= {key: {"type": "string", "contentEncoding": "base64"} for key in PACKED}
    thing: dict[str, Schema] = {key: TEXT for key in ("name", "title")}
    thing |= {"kind": {"enum": ["part", "bought", "lathe", "work"]}}
    thing |= {"mesh": {"type": "integer", "minimum": 0}}
    thing |= {"axes": {"type": "array", "items": place, "minItems": 3, "maxItems": 3}}
    thing |= {"carrier": {"enum": ["post", "body", "head"]}, "solid": {"type": "boolean"}}
    thing |= {key: place for key in ("origin", "colour", "away")}
    poses: dict[str, Schema] = {"tip_mm": span, "swing_deg": span}
    things: Schema = {"type": "array", "items": _object(thing)}
    balls = {"type": "array", "items": _object({"title": TEXT, **poses, "things": things})}
    meshes = {"type": "array", "items": _object(mesh)}
    return _object({"meshes": meshes, "things": things, **poses, "balls": balls})


PACKED = ("points", "triangles", "edges")
"""What of a mesh is in base64: whole numbers of sixteen bits, the lower eight first."""


def _sheets() -> Schema:
    sheet = _object({"name": TEXT, "title": TEXT, "svg": TEXT})
    return _object({"sheets": {"type": "array", "items": sheet}})


OWN: Mapping[str, Callable[[], Schema]] = {
    "new": _new,
    "correct": _correct,
    "draw": _draw,
    "build": _build,
    "package": _package,
    "explain": _explain,
    "list": _list,
    "ready": _ready,
    "record": _record,
    "findings": _only_findings,
    "scene": _scene,
    "sheets": _sheets,
}
"""What the outputs that are no topic's hold."""
