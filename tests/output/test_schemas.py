"""Every output names its format, and is what the JSON Schema of that format says it is.

The check is a general-purpose library's (jsonschema), by draft 2020-12 of the JSON Schema standard.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, get_args

import pytest
from commands import answered, call
from jobs import EXAMPLES, ROOT
from jsonschema import Draft202012Validator
from key_lists import TRACKED, key_list, refused_changes, tracked

from planner.cli.main import OWN as OWN_COMMANDS
from planner.job.template import job_template, readings_template
from planner.output.schemas import FILES, OWN, names, schema_of
from planner.output.topics import TOPICS
from planner.words.formats import OUTPUTS

BENCH = str(ROOT / "examples" / "bench-lathe.toml")
COMMANDS = [*OWN_COMMANDS, *(one.name for one in TOPICS if one.columns)]
ANSWERED = [one.name for one in TOPICS if one.columns]


def problems(name: str, record: Any) -> list[str]:
    """What the library finds wrong with an output or a file."""
    validator = Draft202012Validator(
        schema_of(name), format_checker=Draft202012Validator.FORMAT_CHECKER
    )
    return [f"{list(one.path)}: {one.message}" for one in validator.iter_errors(record)]


def printed(*words: str) -> Any:
    return json.loads(call(*words, "--json").stdout)


def plain(value: Any) -> Any:
    """TOML as JSON would have it: its days as text."""
    if isinstance(value, dict):
        return {key: plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [plain(one) for one in value]
    return value.isoformat() if isinstance(value, date) else value


@pytest.mark.parametrize("name", names())
def test_every_schema_is_one(name: str) -> None:
    Draft202012Validator.check_schema(schema_of(name))
    said = json.loads(call("schema", "--of", name).stdout)
    assert said == schema_of(name) and said["title"] == f"pommel {name}"


def test_the_schema_of_a_job_describes_every_table() -> None:
    schema = json.loads(call("schema").stdout)
    assert {"lathe", "tool_post", "attachment"} <= set(schema["required"])
    assert schema["properties"].keys() >= {"format", "units", "shop", "materials"}
    assert schema["additionalProperties"] is False


def test_there_is_a_schema_of_every_command_that_prints_json() -> None:
    with_json = {name for name in COMMANDS if "\n  --json " in call(name, "--help").stdout}
    assert with_json == {*ANSWERED, *OWN} - {"package", "findings", "scene", "sheets"}
    assert set(names()) == {*FILES, *ANSWERED, *OWN, "largest"}
    assert len(names()) == len(set(names())) and set(OWN) == set(OUTPUTS)


SECOND = {"route": 2}
"""Answers whose format has been changed since the first."""


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("topic", ANSWERED)
def test_what_a_topic_prints_is_what_its_schema_says(topic: str, example: Path) -> None:
    record = json.loads(answered(topic, example))
    assert (
        next(iter(record)) == "format"
        and record["format"] == f"pommel.{topic}/{SECOND.get(topic, 1)}"
    )
    assert problems(topic, record) == []


def lists_of(name: str) -> dict[str, list[str]]:
    """The lists of tables that a schema has, with their keys."""
    schema = schema_of(name)["properties"]
    inner = schema.get("tables", {}).get("properties", {})
    found = schema | {f"tables.{table}": one for table, one in inner.items()}
    return {
        key: list(one["items"]["properties"])
        for key, one in found.items()
        if key != "findings" and "properties" in one.get("items", {})
    }


@pytest.mark.parametrize("name", ["build", "correct", "explain", "record"])
def test_the_help_of_the_other_commands_names_the_keys_of_their_schemas(name: str) -> None:
    shown = re.sub(r"\s+", " ", call(name, "--help").stdout)
    named = re.findall(r"([\w.]+)\[\] \(([^)]*)\)", shown)
    assert {key: keys.replace("[]", "").split(", ") for key, keys in named} == lists_of(name)
    assert f'"pommel.{name}/1"' in shown
    assert all(re.search(rf"\b{key}\b", shown) for key in schema_of(name)["properties"])


def test_what_the_other_commands_print_is_what_their_schemas_say(tmp_path: Path) -> None:
    said = {
        "largest": printed("sizes", BENCH, "--largest"),
        "new": printed("new", str(tmp_path / "readings.toml"), "--readings"),
        "explain": printed("explain"),
        "list": printed("list", "threads"),
        "ready": printed("ready"),
        "findings": printed("sizes", str(tmp_path / "none.toml")),
    }
    job = tmp_path / "job.toml"
    job.write_bytes(Path(BENCH).read_bytes())
    said["correct"] = printed("correct", str(job), str(tmp_path / "readings.toml"))
    said["record"] = printed("record", str(job), "--made", "rotating-body", "journal", "30 mm")
    assert said["record"]["findings"] and said["findings"]["findings"]
    for name, record in said.items():
        assert record["format"] == f"pommel.{name}/1" and problems(name, record) == []
    unknown = printed("explain", "none-such")
    assert unknown["format"] == "pommel.findings/1" and problems("findings", unknown) == []


def test_the_files_of_a_package_are_what_their_schemas_say(
    packages: Callable[[Path], Path],
) -> None:
    package = packages(Path(BENCH))
    manifest = json.loads((package / "package.json").read_text(encoding="utf-8"))
    found = {path.stem: path for path in package.rglob("*.json")}
    assert {*ANSWERED, "package"} - set(found) <= {"flat"}  # which only a shop with sheets has
    for name, path in found.items():
        record = json.loads(path.read_text(encoding="utf-8"))
        number = 2 if name == "route" else 1
        assert record["format"] == f"pommel.{name}/{number}" and problems(name, record) == []
    built = manifest | {"format": "pommel.build/1", "folder": "package"}
    assert problems("build", built) == []


def test_the_files_that_are_read_are_what_their_schemas_say(tmp_path: Path) -> None:
    texts = [path.read_text(encoding="utf-8") for path in EXAMPLES]
    texts += [job_template(inch) for inch in (False, True)]
    for text in texts:
        assert problems("job", tomllib.loads(text)) == []
    for inch in (False, True):
        assert problems("readings", tomllib.loads(readings_template(inch))) == []
    job = tmp_path / "job.toml"
    job.write_bytes(Path(BENCH).read_bytes())
    call("record", str(job), "--made", "rod", "x", "1", "--date", "2026-11-28")
    call("record", str(job), "--made", "dial", "rim", "30", "--date", "2026-11-28")
    made = tomllib.loads((tmp_path / "job-record" / "made.toml").read_text(encoding="utf-8"))
    assert made["size"] and problems("made", plain(made)) == []


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("check", {"format": "pommel.check/2"}),
        ("check", {"more": 1}),
        ("sizes", {"tables": {"reach": [{"what": "x", "length_mm": "long", "where": ""}]}}),
        ("sizes", {"findings": [{"code": "none-such"}]}),
        ("package", {"files": [{"path": "a"}]}),
    ],
)
def test_the_library_finds_what_is_not_so(name: str, change: dict[str, Any]) -> None:
    package = {"format": "pommel.package/1"}
    record = package if name == "package" else json.loads(answered(name, EXAMPLES[0]))
    assert len(problems(name, record | change)) > (4 if name == "package" else 0)


def test_the_numbers_that_are_read_are_those_of_the_tables() -> None:
    from importlib import import_module

    for name, file in FILES.items():
        table = getattr(import_module(file.module), file.table)
        assert get_args(table.model_fields["format"].annotation) == file.numbers, name


# ---- keys once given stay, unless the number rises ----


def test_no_key_is_gone_or_renamed_unless_the_number_rose() -> None:
    assert refused_changes(tracked(), key_list()) == []


def test_the_tracked_list_has_every_key_of_today() -> None:
    # made anew with: python tests/key_lists.py
    assert tracked() == key_list(), f"make {TRACKED.name} anew: python tests/key_lists.py"


def test_the_lists_reach_into_tables_and_rows() -> None:
    now = key_list()
    assert "tables.gaps[].distance_mm" in now["check"]["keys"]
    assert "lathe.jaw_reach" in now["job"]["keys"] and "ball[].diameter" in now["job"]["keys"]
    assert "shop.machines.*.speeds" in now["job"]["keys"]
    assert "setting.diameter_mm" in now["balls"]["keys"]
    assert sum(len(one["keys"]) for one in now.values()) > 400


def test_a_key_taken_away_or_renamed_is_noticed_and_a_risen_number_allows_it() -> None:
    now = key_list()
    keys = now["check"]["keys"]
    less = now | {"check": {"number": 1, "keys": [k for k in keys if k != "tables.gaps[].ball"]}}
    assert refused_changes(now, less) == ["check/1: tables.gaps[].ball is gone"]
    other = [k.replace("gaps[].ball", "gaps[].knob") for k in keys]
    assert refused_changes(now, now | {"check": {"number": 1, "keys": other}}) == [
        "check/1: tables.gaps[].ball is gone"
    ]
    assert refused_changes(now, now | {"check": {"number": 2, "keys": other}}) == []
    assert refused_changes(now, now | {"check": {"number": 1, "keys": [*keys, "new"]}}) == []
    gone = {name: one for name, one in now.items() if name != "dial"}
    assert refused_changes(now, gone) == ["dial: the whole format is gone"]


def test_a_key_of_the_job_may_go_where_it_is_told_as_an_old_key() -> None:
    now = key_list()
    keys = [k.replace("lathe.jaw_reach", "lathe.jaws_out") for k in now["job"]["keys"]]
    new = now | {"job": {"number": 1, "keys": keys}}
    assert refused_changes(now, new) == ["job/1: lathe.jaw_reach is gone"]
    assert refused_changes(now, new, old_keys=["lathe.jaw_reach"]) == []
