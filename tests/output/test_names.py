"""Names that every system takes.

Checked against the rules of Windows as Python's own library has them (pathlib's is_reserved, 3.11) and
against what is common practice: no character that a shell or a file system treats apart.
"""

from __future__ import annotations

import json
from pathlib import Path, PureWindowsPath

import pytest
from commands import call
from jobs import EXAMPLES, changed, planned
from standin import Job, build, install

from planner.output.package.names import clashing, unsafe
from planner.output.topic import File, Topic
from planner.output.topics import TOPICS

DEVICES = ["CON", "prn", "Aux", "NUL", "COM1", "com9", "LPT1", "lpt9", "nul.txt", "com1.tar.gz"]


def test_every_name_in_the_examples_packages_is_safe_everywhere() -> None:
    for example in EXAMPLES:
        plan = planned(example)
        paths = [file.path for one in TOPICS for file in one.files(one, plan)]
        assert len(paths) > 60
        assert [path for path in paths if unsafe(path)] == []
        assert len({path.lower() for path in paths}) == len(paths) and clashing(paths) == []
        assert not any(PureWindowsPath(path).is_reserved() for path in paths)
        assert not any(set('<>:"\\|?*') & set(path) or not path.isascii() for path in paths)
        assert max(len(path) for path in paths) < 100


@pytest.mark.parametrize("name", DEVICES)
def test_devices_of_windows_are_no_names(name: str) -> None:
    assert PureWindowsPath(name).is_reserved()
    assert unsafe(name) and unsafe(f"tables/{name}") and unsafe(f"{name}/a.csv")


@pytest.mark.parametrize(
    "name", ["a:b", "a?", "a*", 'a"', "a|b", "a\\b", "a.", "a ", " a", ".", ".."]
)
def test_what_some_system_cannot_have_is_no_name(name: str) -> None:
    assert unsafe(name)


@pytest.mark.parametrize("name", ["a", "README.txt", "turn-ball-1.svg", "console.txt", "com10.txt"])
def test_plain_names_are_names(name: str) -> None:
    assert not PureWindowsPath(name).is_reserved()
    assert unsafe(name) == ""


def test_a_name_that_is_another_in_capitals_clashes() -> None:
    assert clashing(["a.txt", "A.txt"]) == ["A.txt"]
    assert clashing(["tables/a.csv", "Tables/b.csv"]) == ["Tables/b.csv"]
    assert clashing(["solids", "solids/a.step"]) == ["solids/a.step"]
    assert clashing(["a", "a"]) == ["a"]
    assert clashing(["a/x", "b/x", "a/y"]) == []


@pytest.mark.parametrize("path", ["tables/nul.csv", "A.TXT", "a.txt", "README.txt", "package.json"])
def test_a_topic_that_brings_such_a_name_is_refused_as_a_slip_of_its_author(
    path: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "job.toml").write_text("x")
    job = Job(tmp_path / "job.toml")
    install(job, monkeypatch.setattr)
    extra = Topic(name="more", summary="More.", files=lambda _t, _p: iter([File(path, "x", "x")]))
    topics = (*job.topics(), extra)
    monkeypatch.setattr("planner.output.package.write.TOPICS", topics)
    with pytest.raises(ValueError, match="names in the package"):
        build(job, tmp_path / "package")
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.parametrize("name", ["CON", "..", "ends.", "nul.x"])
def test_a_job_whose_name_makes_no_folder_is_told(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    text = EXAMPLES[0].read_text(encoding="utf-8")
    assert "name" not in changed(EXAMPLES[0].stem)
    Path("mine.toml").write_text(f"name = {json.dumps(name)}\n{text}", encoding="utf-8")
    done = call("build", "mine.toml")
    assert done.exit_code == 2 and "refused [unsafe-name]: mine.toml:1: name:" in done.stderr
    assert [p.name for p in tmp_path.iterdir()] == ["mine.toml"]
