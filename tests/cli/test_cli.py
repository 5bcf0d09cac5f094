"""The commands as a user meets them: exit codes, streams, JSON keys, no traceback."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jobs import EXAMPLES, ROOT

from planner.cli.main import main

BENCH = str(ROOT / "examples" / "bench-lathe.toml")
TOPICS = ("sizes", "check", "cutlist", "route", "dial")


def call(*words: str) -> Result:
    result = CliRunner().invoke(main, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_every_answer_on_every_example_is_clean(topic: str, example: Path) -> None:
    result = call(topic, str(example))
    assert result.exit_code == 0
    assert example.stem in result.stdout or topic in ("cutlist", "check")


@pytest.mark.parametrize("topic", TOPICS)
def test_json_has_the_keys_its_help_names(topic: str) -> None:
    record = json.loads(call(topic, BENCH, "--json").stdout)
    assert record["job"] == "bench-lathe" and record["lengths"] == "mm"
    shown = re.sub(r"\s+", " ", call(topic, "--help").stdout)
    for name, rows in record["tables"].items():
        keys = re.search(rf"tables\.{name}\[\] \(([^)]*)\)", shown)
        assert keys, name
        named = {key.split(":")[0].strip() for key in keys.group(1).split(",")}
        if name in ("choices", "next_up") and not rows:
            continue  # the search leaves this job as it is
        assert rows and set(rows[0]) <= named | {"the numbers of the"}, name


def test_every_command_shows_a_worked_example() -> None:
    for command in ("new", "build", "sizes", "check", "cutlist", "route", "dial", "schema"):
        assert "Example:" in call(command, "--help").stdout


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
