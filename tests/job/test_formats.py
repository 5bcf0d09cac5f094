"""A file's format, and keys that were renamed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from commands import call
from jobs import ROOT, changed

from planner.job import oldkeys
from planner.job.oldkeys import OLD_KEYS, OldKey
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.words.findings import BadInput, Finding

BENCH = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
READINGS = 'format = {}\naccuracy = "0.005 mm"\n'


def stops(data: dict[str, Any], keys: list[OldKey] | None = None) -> list[Finding]:
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml", keys)
    return list(caught.value.findings)


def test_the_first_format_may_be_named_or_left_out() -> None:
    assert job_from(changed(), "job.toml").format == 1
    assert job_from(changed(format=1), "job.toml") == job_from(changed(), "job.toml")
    assert job_from(changed(format=1), "job.toml").findings == ()


@pytest.mark.parametrize(
    ("given", "code"),
    [
        *((2, "newer-format"), (10**30, "newer-format")),
        *((0, "unknown-format"), (-1, "unknown-format"), ("1", "unknown-format")),
        *((1.0, "unknown-format"), (True, "unknown-format"), ([1], "unknown-format")),
    ],
)
def test_another_format_is_refused_alone_whatever_else_is_wrong(given: Any, code: str) -> None:
    (found,) = stops(changed(format=given, **{"lathe.wings": 2}))
    assert (found.code, found.key, found.severity) == (code, "format", "refused")
    assert "reads 1" in found.limit or "known here: 1" in found.limit


def test_the_commands_refuse_a_newer_job_and_newer_readings(tmp_path: Path) -> None:
    job, readings = tmp_path / "job.toml", tmp_path / "readings.toml"
    job.write_text("format = 2\n" + BENCH, encoding="utf-8")
    for words in (["sizes", str(job)], ["sizes", str(job), "--largest"], ["record", str(job)]):
        said = call(*words)
        assert said.exit_code == 2 and "refused [newer-format]" in said.stderr
        assert len(said.stderr.splitlines()) == 1 and said.stdout == ""
    job.write_text(BENCH, encoding="utf-8")
    readings.write_text(READINGS.format(7), encoding="utf-8")
    said = call("correct", str(job), str(readings))
    assert said.exit_code == 2 and f"{readings}:1: format: 7: " in said.stderr


@pytest.mark.parametrize("words", [[], ["--inch"], ["--readings"]])
def test_a_new_file_says_its_format(words: list[str], tmp_path: Path) -> None:
    assert call("new", str(tmp_path / "new.toml"), *words).exit_code == 0
    assert "\nformat = 1 " in (tmp_path / "new.toml").read_text(encoding="utf-8")


# ---- old keys, by renames made up for the test ----

REACH = OldKey("lathe.jaws_out", "lathe.jaw_reach", "0.2")
WIDE = OldKey("ball.wide", "ball.diameter", "0.2")


def test_a_renamed_key_stays_in_its_table_and_a_name_is_never_used_twice() -> None:
    assert len({one.old for one in OLD_KEYS}) == len(OLD_KEYS)
    for one in OLD_KEYS:
        assert one.old.rpartition(".")[0] == one.new.rpartition(".")[0]


def test_an_old_key_is_read_with_a_warning_and_the_data_given_stays() -> None:
    data = changed(**{"lathe.jaw_reach": None, "lathe.jaws_out": 26})
    job = job_from(data, "job.toml", [REACH])
    assert job.lathe.jaw_reach == 26 and "jaws_out" in data["lathe"]
    (found,) = job.findings
    assert (found.code, found.severity, found.key) == ("old-key", "warning", "lathe.jaws_out")
    assert "lathe.jaw_reach" in found.limit and "0.3" in found.remedy
    assert job.model_copy(update={"name": "x"}).findings == job.findings


def test_an_old_key_in_a_list_is_told_in_each_entry() -> None:
    balls = [{"name": "a", "wide": 30}, {"name": "b", "diameter": 31}, {"name": "c", "wide": 32}]
    job = job_from(changed(ball=balls), "job.toml", [WIDE])
    assert [ball.diameter for ball in job.ball] == [30, 31, 32]
    assert [one.key for one in job.findings] == ["ball[1].wide", "ball[3].wide"]


def test_an_old_key_beside_its_new_one_is_refused() -> None:
    (found,) = stops(changed(**{"lathe.jaws_out": 26}), [REACH])
    assert (found.code, found.severity) == ("old-key", "refused")
    assert "given too" in found.limit


@pytest.mark.parametrize(
    ("version", "read"),
    [("0.3.0", True), ("0.3.9", True), ("0.4.0", True), ("0.5.0", False), ("1.0.0", False)],
)
def test_an_old_key_is_read_for_two_minor_versions(version: str, read: bool) -> None:
    key = OldKey("lathe.jaws_out", "lathe.jaw_reach", "0.3")
    assert key.read_by(version) is read
    data = changed(**{"lathe.jaw_reach": None, "lathe.jaws_out": 26})
    if read:
        renamed, found = oldkeys.renamed(data, "job.toml", [key], version)
        assert renamed["lathe"]["jaw_reach"] == 26 and found[0].severity == "warning"
        return
    with pytest.raises(BadInput) as caught:
        oldkeys.renamed(data, "job.toml", [key], version)
    (stop,) = caught.value.findings
    assert stop.code == "old-key" and "lathe.jaw_reach since version 0.3" in stop.limit


def test_tables_that_are_none_are_left_to_the_reader() -> None:
    for odd in (3, "x", [1, 2], None):
        data = changed(lathe=odd)
        assert {one.code for one in stops(data, [REACH])} <= {"wrong-value", "missing-key"}


def test_every_command_tells_an_old_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(oldkeys, "OLD_KEYS", (REACH,))
    job, readings = tmp_path / "job.toml", tmp_path / "readings.toml"
    text = BENCH.replace("jaw_reach", "jaws_out")
    assert text != BENCH
    job.write_text(text, encoding="utf-8")
    assert call("new", str(readings), "--readings").exit_code == 0
    for words in (["sizes", str(job)], ["route", str(job)], ["record", str(job)]):
        said = call(*words)
        assert said.exit_code == 1 and "warning [old-key]" in said.stderr, words
    said = call("sizes", str(job), "--largest")
    assert "warning [old-key]" in said.stderr and said.exit_code == 1
    said = call("correct", str(job), str(readings), "--json")
    assert said.exit_code == 1 and '"old-key"' in said.stdout
    assert said.stderr.count("warning [old-key]") == 1
    copy = tmp_path / "copy.toml"  # --write keeps the text as it is, the old key too
    said = call("cutlist", str(job), "--write", str(copy))
    assert said.exit_code == 1 and "warning [old-key]" in said.stderr
    assert "jaws_out" in copy.read_text(encoding="utf-8")


def test_the_jobs_own_table_of_keys_has_no_old_one() -> None:
    assert not {one.old for one in OLD_KEYS} & {f"{n}" for n in Job.model_fields}
