"""The commands as a user meets them: exit codes, streams, JSON keys, no traceback."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from pathlib import Path

import pytest
from commands import answered, call
from jobs import EXAMPLES, ROOT

from planner.cli.main import OWN
from planner.output.topic import Topic
from planner.output.topics import TOPICS as ALL

BENCH = str(ROOT / "examples" / "bench-lathe.toml")
ANSWERED = [one for one in ALL if one.columns]
TOPICS = [one.name for one in ANSWERED]
each_topic = pytest.mark.parametrize("one", ANSWERED, ids=lambda one: one.name)


def help_of(command: str) -> str:
    """What a command's help says, its lines run together."""
    return re.sub(r"\s+", " ", call(command, "--help").stdout)


def examples_of(command: str) -> list[list[str]]:
    """The worked examples in a command's help, as words after the program's name."""
    shown = call(command, "--help").stdout
    lines = re.findall(r"^ +(?:Example: +)?pommel (\S.*)$", shown, re.M)
    return [shlex.split(line.partition(">")[0]) for line in lines]


def keys_in(text: str) -> dict[str, list[str]]:
    """The lists of records that a help text names, with their keys."""
    found = re.findall(r"([\w.]+)\[\] \(([^)]*)\)", text)
    return {name: keys.split(", ") for name, keys in found}


@pytest.fixture
def beside_the_examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in, but for the examples."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")  # a record may be kept beside them
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_answer_on_every_example_is_clean(topic: str, example: Path) -> None:
    result = call(topic, str(example))
    assert result.exit_code == 0
    named = topic in ("sizes", "route", "dial")
    assert result.stdout.count("\n") > 3 and (example.stem in result.stdout or not named)


@each_topic
def test_help_names_exactly_the_keys_of_the_entry(one: Topic) -> None:
    named = keys_in(help_of(one.name))
    finding = named.pop("findings")
    assert {"severity", "file", "key", "value", "limit", "remedy", "text"} <= set(finding)
    for records in one.records:
        assert tuple(named.pop(records.key)) == records.keys
    assert named == {f"tables.{name}": list(keys) for name, keys in one.columns.items()}


@each_topic
def test_json_has_the_keys_its_help_names(one: Topic) -> None:
    for example in EXAMPLES:
        record = json.loads(answered(one.name, example))
        assert record["job"] == example.stem and record["lengths"] == "mm"
        named = keys_in(shown := help_of(one.name))
        assert all(re.search(rf"\b{key}\b", shown) for key in record)
        tables = {f"tables.{name}": rows for name, rows in record["tables"].items()}
        assert any(tables.values())
        for name, rows in tables.items():
            assert all(list(row) == named[name] for row in rows), name
        told = [key for key in named["findings"] if key != "line"]  # where the line is known
        assert all([key for key in row if key != "line"] == told for row in record["findings"])


@each_topic
def test_the_worked_examples_of_a_topic_run(one: Topic, beside_the_examples: Path) -> None:
    found = examples_of(one.name)
    assert len(found) == len(one.examples) > 0
    for words in found:
        assert words[0] == one.name
        result = call(*words)
        assert result.exit_code == 0 and result.stdout
    written = [words[words.index("--write") + 1] for words in found if "--write" in words]
    assert sorted(p.name for p in beside_the_examples.iterdir()) == sorted(["examples", *written])
    assert bool(written) == (one.copy is not None)


def test_the_worked_examples_of_the_other_commands_run(beside_the_examples: Path) -> None:
    for words in [*examples_of("new"), *examples_of("schema")]:
        for given in (word for word in words if word.endswith(".toml")):
            Path(given).unlink(missing_ok=True)
        assert call(*words).exit_code == 0
    Path("readings.toml").unlink()
    made, corrected, moved = examples_of("correct")
    assert call(*made).exit_code == 0
    assert call(*corrected).exit_code in (0, 1)
    assert call(*moved).exit_code == 0
    for words in [*examples_of("explain"), *examples_of("list"), *examples_of("ready")]:
        assert call(*words).stdout
    assert set(OWN) == {
        *("new", "schema", "correct", "build", "draw", "explain", "list", "ready", "record"),
    }


def test_the_worked_example_of_build_runs_and_has_the_keys_its_help_names(
    beside_the_examples: Path,
) -> None:
    result = call(*examples_of("build")[0], "--json")
    assert result.exit_code == 0 and "solids" in result.stderr
    manifest = json.loads(result.stdout)
    shown = help_of("build")
    assert all(re.search(rf"\b{key}\b", shown) for key in manifest)
    assert all(list(file) == keys_in(shown)["files"] for file in manifest["files"])
    folder = beside_the_examples / manifest["folder"]
    assert all((folder / file["path"]).is_file() for file in manifest["files"])


def test_the_worked_example_of_draw_runs_and_has_the_keys_its_help_names(
    beside_the_examples: Path,
) -> None:
    _, one_part = examples_of("draw")
    result = call(*one_part, "--json")
    assert result.exit_code == 0
    record, shown = json.loads(result.stdout), help_of("draw")
    assert all(re.search(rf"\b{key}\b", shown) for key in record)
    assert [list(sheet) for sheet in record["sheets"]] == [keys_in(shown)["sheets"]]
    assert all(
        (beside_the_examples / record["folder"] / file).is_file() for file in record["files"]
    )


def test_an_unknown_command_is_exit_2_and_a_topic_without_tables_is_none() -> None:
    for name in ("sizez", "drawings", "solids"):
        result = call(name, BENCH)
        assert result.exit_code == 2 and "No such command" in result.stderr


def test_new_writes_a_file_that_sizes_and_leaves_an_existing_one_alone(tmp_path: Path) -> None:
    path = tmp_path / "my.toml"
    assert call("new", str(path)).exit_code == 0
    assert call("sizes", str(path)).exit_code == 0
    before = path.read_bytes()
    again = call("new", str(path))
    assert again.exit_code == 2 and "is there already" in again.stderr
    assert path.read_bytes() == before


def test_new_in_inches(tmp_path: Path) -> None:
    path = tmp_path / "my.toml"
    assert json.loads(call("new", str(path), "--inch", "--json").stdout)["units"] == "in"
    assert "1/16 in" in call("sizes", str(path)).stdout


@pytest.mark.parametrize("topic", [*TOPICS, "build"])
def test_a_missing_file_is_one_message_and_exit_2(topic: str, tmp_path: Path) -> None:
    result = call(topic, str(tmp_path / "none.toml"))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "no such file" in result.stderr and "pommel new" in result.stderr


def test_bad_input_for_machines_is_json_with_every_finding(tmp_path: Path) -> None:
    text = Path(BENCH).read_text(encoding="utf-8")
    bad = tmp_path / "bad.toml"
    bad.write_text(text.replace("jaw_reach = 26", "jaw_reech = 26").replace("= 50", "= -50"))
    result = call("sizes", str(bad), "--json")
    assert result.exit_code == 2
    findings = json.loads(result.stdout)["findings"]
    assert len(findings) >= 3
    assert {"severity", "file", "key", "value", "limit", "remedy", "text"} <= set(findings[0])
    assert "Traceback" not in result.stderr


def test_an_impossible_job_gives_the_number_that_would_work(tmp_path: Path) -> None:
    text = Path(BENCH).read_text(encoding="utf-8")
    big = tmp_path / "big.toml"
    big.write_text(text.replace("max_ball_diameter = 50", "max_ball_diameter = 90"))
    result = call("sizes", str(big))
    assert result.exit_code == 2
    bound = re.search(r"at most ([\d.]+) mm", result.stderr)
    assert bound
    big.write_text(text.replace("max_ball_diameter = 50", f"max_ball_diameter = {bound.group(1)}"))
    assert call("sizes", str(big)).exit_code == 0
    largest = json.loads(call("sizes", BENCH, "--largest", "--json").stdout)
    assert largest["largest_ball_mm"] == float(bound.group(1))


def test_a_warning_is_exit_1_and_on_stderr(tmp_path: Path) -> None:
    text = Path(BENCH).read_text(encoding="utf-8")
    job = tmp_path / "warm.toml"
    job.write_text(text.replace('shaft = "S355"', 'shaft = "C45"'))
    result = call("sizes", str(job))
    assert result.exit_code == 1
    assert "preheat" in result.stderr and "preheat" not in result.stdout


def test_the_route_warns_of_what_can_hurt() -> None:
    shown = call("route", BENCH).stdout
    assert "eye protection" in shown and "local rules" in shown


def test_the_schema_is_json() -> None:
    assert json.loads(call("schema").stdout)["title"] == "pommel job"


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("chek", "No such command: chek. Did you mean check?"),
        (
            "my.toml",
            "No such command: my.toml. A command stands before the file: pommel check my.toml",
        ),
        ("zzz", "No such command: zzz."),
        ("z" * 900, f"No such command: {'z' * 57}...."),
    ],
)
def test_a_command_that_is_none_is_told_with_the_one_that_was_meant(word: str, says: str) -> None:
    result = call(word)
    assert result.exit_code == 2 and result.stderr.splitlines()[-1] == f"Error: {says}"
