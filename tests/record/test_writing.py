"""Writing a record: whole or not at all, no edit overwritten, two writers one after the other.

Whole processes where that is what is asked: two at once, one that is killed at any step.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from jobs import ROOT

from planner.record import files
from planner.record.adding import add_ball, add_made, add_turned
from planner.record.files import UNFINISHED, append_line, held, record_folder, write_whole
from planner.record.model import BallTurned, MoveMade, Setting
from planner.record.reading import read_record, read_turned
from planner.words.findings import BadInput

ADDING = """
import sys
from pathlib import Path
from planner.record.adding import add_ball, add_made
from planner.record.model import BallTurned, Setting
job, who = Path(sys.argv[1]), sys.argv[2]
for number in range(int(sys.argv[3])):
    add_made(job, [("done", {"part": who, "feature": str(number)})], "mm")
    setting = Setting(diameter_mm=number + 1)
    add_ball(job, BallTurned(ball=who, setting=setting, verdict="good"))
"""


def apart(code: str, *words: str) -> subprocess.Popen[str]:
    """Python in a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-c", code, *words], stderr=subprocess.PIPE, text=True, cwd=ROOT
    )


def entry(part: str = "rod", feature: str = "x") -> list[Any]:
    return [("done", {"part": part, "feature": feature})]


def ball(name: str = "knob") -> BallTurned:
    return BallTurned(ball=name, setting=Setting(diameter_mm=40), verdict="good")


def code_of(work: Callable[[], object]) -> str:
    with pytest.raises(BadInput) as caught:
        work()
    (found,) = caught.value.findings
    return found.code


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The name of a job file; a record needs no more."""
    return tmp_path / "my-lathe.toml"


def test_the_folder_stands_beside_the_job_and_is_not_hidden(job: Path) -> None:
    add_made(job, entry(), "mm")
    add_ball(job, ball())
    assert record_folder(job) == job.parent / "my-lathe-record"
    assert [one.name for one in job.parent.iterdir()] == ["my-lathe-record"]
    assert sorted(p.name for p in record_folder(job).iterdir()) == ["balls.jsonl", "made.toml"]


def test_two_writers_at_once_lose_nothing(job: Path) -> None:
    workers = [apart(ADDING, str(job), who, "12") for who in ("one", "other")]
    for worker in workers:
        _, told = worker.communicate(timeout=120)
        assert worker.returncode == 0, told
    kept = read_record(job)
    wanted = {(who, str(number)) for who in ("one", "other") for number in range(12)}
    assert {(one.part, one.feature) for one in kept.made.done} == wanted
    assert len(kept.made.done) == 24
    turned = [(one.ball, one.setting.diameter_mm) for one in kept.balls]
    assert len(turned) == 24
    for who in ("one", "other"):  # each in its own order
        assert [mm for name, mm in turned if name == who] == [n + 1.0 for n in range(12)]


def test_who_waits_too_long_is_told(job: Path) -> None:
    record_folder(job).mkdir()
    code = (
        "import sys, time\nfrom pathlib import Path\nfrom planner.record.files import held\n"
        "with held(Path(sys.argv[1])):\n    print('held', file=sys.stderr, flush=True)\n"
        "    time.sleep(60)\n"
    )
    holder = apart(code, str(record_folder(job)))
    assert holder.stderr
    try:
        assert holder.stderr.readline() == "held\n"

        def enter() -> None:
            with held(record_folder(job), wait_s=0.1):
                raise AssertionError("held by two")

        assert code_of(enter) == "record-busy"
    finally:
        holder.kill()
        holder.wait()
    add_made(job, entry(), "mm")  # the lock went with its holder
    assert len(read_record(job).made.done) == 1


def test_an_edit_between_reading_and_writing_stays(job: Path) -> None:
    add_made(job, entry(), "mm")
    path = record_folder(job) / "made.toml"
    before = path.read_bytes()
    edited = before + b"# my own line\n"
    path.write_bytes(edited)
    with held(record_folder(job)):
        assert code_of(lambda: write_whole(path, before, b"format = 1\n")) == "edited-meanwhile"
    assert path.read_bytes() == edited
    path.unlink()
    with held(record_folder(job)):
        assert code_of(lambda: write_whole(path, edited, b"format = 1\n")) == "edited-meanwhile"
    assert not path.exists()
    path.write_bytes(edited)
    with held(record_folder(job)):
        assert code_of(lambda: write_whole(path, None, b"format = 1\n")) == "edited-meanwhile"
    assert path.read_bytes() == edited
    assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]


def test_an_edit_while_the_new_file_is_being_written_stays(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_made(job, entry(), "mm")
    path = record_folder(job) / "made.toml"
    edited = path.read_bytes() + b"# my own line\n"

    def edit_then_sync(handle: int) -> None:
        path.write_bytes(edited)
        monkeypatch.undo()

    monkeypatch.setattr(files.os, "fsync", edit_then_sync)
    assert code_of(lambda: add_made(job, entry("dial"), "mm")) == "edited-meanwhile"
    assert path.read_bytes() == edited
    assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]
    add_made(job, entry("dial"), "mm")  # once more, as the finding says
    assert path.read_bytes().startswith(edited)
    assert [one.part for one in read_record(job).made.done] == ["rod", "dial"]


KILLED = """
import os, signal, sys
from pathlib import Path
import planner.record.adding as adding
import planner.record.files as files
from planner.record.adding import add_ball, add_made
from planner.record.model import BallTurned, Setting
job, step, late = Path(sys.argv[1]), sys.argv[2], sys.argv[3] == "late"
where, name = step.split(".")
owner = {"os": os, "files": files, "adding": adding}[where]
real = getattr(owner, name)
def killed(*given, **named):
    if name == "write":  # half a line, then dead
        real(given[0], given[1][: len(given[1]) // 2])
    elif late:
        real(*given, **named)
    os.kill(os.getpid(), signal.SIGKILL)
setattr(owner, name, killed)
if name == "write":
    add_ball(job, BallTurned(ball="new", setting=Setting(diameter_mm=2), verdict="good"))
else:
    add_made(job, [("done", {"part": "new", "feature": "x"})], "mm")
"""
STEPS = ["files._lock", "adding.write_whole", "os.fdopen", "os.fsync", "os.replace", "files._sync"]


@pytest.mark.parametrize("late", ["early", "late"])
@pytest.mark.parametrize("step", STEPS)
def test_a_crash_at_any_step_leaves_the_old_file_or_the_new_one(
    job: Path, step: str, late: str
) -> None:
    add_made(job, entry("old"), "mm")
    path = record_folder(job) / "made.toml"
    before = path.read_bytes()
    worker = apart(KILLED, str(job), step, late)
    worker.communicate(timeout=60)
    assert worker.returncode == -9
    after = path.read_bytes()
    done = step == "files._sync" or (
        late == "late" and step in ("os.replace", "adding.write_whole")
    )
    parts = [one["part"] for one in tomllib.loads(after.decode())["done"]]
    assert parts == (["old", "new"] if done else ["old"])
    assert done or after == before
    add_made(job, entry("next"), "mm")  # the next writing works, and clears what was left
    assert [one.part for one in read_record(job).made.done] == [*parts, "next"]
    assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]


def test_a_crash_in_the_first_writing_is_no_hindrance(job: Path) -> None:
    worker = apart(KILLED, str(job), "os.fsync", "early")
    worker.communicate(timeout=60)
    (left,) = record_folder(job).iterdir()
    assert worker.returncode == -9 and left.name.endswith(UNFINISHED)
    assert read_record(job).text is None
    add_made(job, entry(), "mm")
    assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]


def test_a_ball_half_written_costs_no_other_ball(job: Path) -> None:
    add_ball(job, ball("first"))
    path = record_folder(job) / "balls.jsonl"
    whole = path.read_bytes()
    worker = apart(KILLED, str(job), "os.write", "early")
    worker.communicate(timeout=60)
    torn = path.read_bytes()
    assert worker.returncode == -9 and torn.startswith(whole) and not torn.endswith(b"\n")
    kept = read_record(job)
    assert [one.ball for one in kept.balls] == ["first"]
    assert [(one.code, one.key) for one in kept.findings] == [("broken-line", "line 2")]
    add_ball(job, ball("next"))
    assert path.read_bytes().startswith(torn)  # never rewritten
    assert [one.ball for one in read_record(job).balls] == ["first", "next"]


def test_a_full_disk_is_told_and_leaves_what_was(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_made(job, entry(), "mm")
    before = (record_folder(job) / "made.toml").read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    for name in ("fsync", "replace"):
        monkeypatch.setattr(files.os, name, full)
        assert code_of(lambda: add_made(job, entry("dial"), "mm")) == "unwritable"
        monkeypatch.undo()
        assert (record_folder(job) / "made.toml").read_bytes() == before
        assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]


def test_a_first_writing_that_fails_leaves_no_folder(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(files.os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        add_made(job, entry(), "mm")
    assert list(job.parent.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(job: Path, tmp_path: Path) -> None:
    record_folder(job).write_text("not a folder")
    assert code_of(lambda: add_made(job, entry(), "mm")) == "already-there"
    assert record_folder(job).read_text() == "not a folder"
    lost = tmp_path / "none" / "job.toml"
    assert code_of(lambda: add_made(lost, entry(), "mm")) == "unwritable"


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is forbidden to root")
def test_a_folder_without_permission_is_told(job: Path) -> None:
    add_made(job, entry(), "mm")
    record_folder(job).chmod(0o500)
    try:
        assert code_of(lambda: add_made(job, entry("dial"), "mm")) == "unwritable"
    finally:
        record_folder(job).chmod(0o700)


def test_a_link_stays_a_link_and_permissions_stay(job: Path, tmp_path: Path) -> None:
    add_made(job, entry(), "mm")
    path, elsewhere = record_folder(job) / "made.toml", tmp_path / "elsewhere.toml"
    path.rename(elsewhere)
    elsewhere.chmod(0o640)
    path.symlink_to(elsewhere)
    add_made(job, entry("dial"), "mm")
    assert path.is_symlink() and len(read_record(job).made.done) == 2
    assert elsewhere.stat().st_mode & 0o777 == 0o640


def test_a_file_of_the_users_beside_it_is_left_alone(job: Path) -> None:
    add_made(job, entry(), "mm")
    for name in ("made.toml.new", "made.toml~", "photo.jpg", "unfinished"):
        (record_folder(job) / name).write_text("mine")
    add_made(job, entry("dial"), "mm")
    assert sorted(p.name for p in record_folder(job).iterdir()) == sorted(
        ["made.toml", "made.toml.new", "made.toml~", "photo.jpg", "unfinished"]
    )


def test_lines_are_appended_in_one_write_to_the_end(tmp_path: Path) -> None:
    path = tmp_path / "log"
    append_line(path, "a")
    path.write_bytes(b"a\nhalf")
    append_line(path, "Ø 20")
    assert path.read_text(encoding="utf-8") == "a\nhalf\nØ 20\n"


# ---- balls that were measured, and moves ----


def measured(name: str = "knob", sha256: str = "ab") -> BallTurned:
    return ball(name).model_copy(update={"readings_sha256": sha256})


def test_a_measured_ball_waits_for_who_holds_the_record(job: Path) -> None:
    folder = record_folder(job)
    worker = Thread(target=add_turned, args=(job, measured()))
    with held(folder):
        worker.start()
        worker.join(0.1)
        assert worker.is_alive() and not (folder / "balls.jsonl").exists()
        append_line(folder / "balls.jsonl", measured(sha256="cd").model_dump_json())
    worker.join(10)
    assert [one.readings_sha256 for one in read_turned(job).balls] == ["cd", "ab"]


def test_the_same_readings_are_added_once_and_lines_are_never_written_again(job: Path) -> None:
    assert add_turned(job, measured()) == (True, 1)
    path = record_folder(job) / "balls.jsonl"
    before = path.read_bytes()
    assert add_turned(job, measured()) == (False, 1) and path.read_bytes() == before
    assert add_turned(job, measured(sha256="")) == (True, 1)  # without a hash nothing is the same
    assert add_turned(job, measured(sha256="")) == (True, 1)
    assert add_turned(job, None, MoveMade(setting=2)) == (True, 2)
    assert add_turned(job, measured(sha256="cd"), MoveMade(setting=2)) == (True, 2)
    assert add_turned(job, measured(sha256="ef"), MoveMade(setting=2)) == (True, 3)
    assert path.read_bytes().startswith(before)
    assert [one.setting.number for one in read_turned(job).balls] == [1, 1, 1, 2, 3]
    assert code_of(lambda: add_turned(job, measured("other"))) == "readings-before-move"
    assert read_record(job).balls == read_turned(job).balls and read_turned(job).setting == 3


def test_a_record_that_cannot_be_read_is_not_added_to(job: Path) -> None:
    add_turned(job, measured())
    (record_folder(job) / "moves.jsonl").mkdir()
    assert code_of(lambda: add_turned(job, measured(sha256="cd"))) == "not-a-file"
    assert len((record_folder(job) / "balls.jsonl").read_text().splitlines()) == 1
