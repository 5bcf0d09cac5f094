"""Whatever breaks a build off, at whatever step: one whole package, and nothing left after the next.

A stand-in for the topics writes small files, so that every step of a build can be tried. What a whole
package is, is told here by its manifest's hashes alone, by hand.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path

import pytest
import standin
from jobs import ROOT
from standin import Job, Steps

from planner.output.package import mended
from planner.words.findings import BadInput

SIGNALS = [signal.SIGKILL, signal.SIGTERM, signal.SIGINT]


def version_at(folder: Path) -> str:
    """Which version of the package is there, whole by its hashes; fails when it is not whole."""
    manifest = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    listed = {row["path"]: row["sha256"] for row in manifest["files"]}
    found = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if p.is_file()}
    found.pop("package.json")
    assert {path: sha256(p.read_bytes()).hexdigest() for path, p in found.items()} == listed
    assert len(listed) == 4
    return (folder / "a.txt").read_text(encoding="utf-8").split()[1]


@pytest.fixture
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The way a package is put in its place: at one stroke, or as where the system cannot do that."""
    if request.param == "two renames":
        monkeypatch.setattr("planner.output.package.swap.exchanged", lambda *_: False)


BOTH_WAYS = ["exchange", "two renames"]


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Path]:
    """An empty folder with a job beside it, in memory where the system has such a place."""
    memory = Path("/dev/shm")
    folder = tmp_path
    if memory.is_dir() and os.access(memory, os.W_OK):
        folder = Path(tempfile.mkdtemp(prefix="pommel-tests-", dir=memory))
    (folder / "job.toml").write_text("x")
    (folder / "out").mkdir()
    yield folder / "out"
    shutil.rmtree(folder)


def job(place: Path, version: str) -> Job:
    return Job(place.parent / "job.toml", version)


def built(place: Path, version: str) -> None:
    """Build a version of it, undisturbed."""
    made = job(place, version)
    with pytest.MonkeyPatch.context() as patch:
        standin.install(made, patch.setattr)
        standin.build(made, place / "package")


def disturbed(place: Path, steps: Steps) -> BaseException | None:
    """Build version two with something happening at a step; returns how it ended."""
    made = job(place, "two")
    with pytest.MonkeyPatch.context() as patch:
        standin.install(made, patch.setattr)
        steps.install(patch.setattr)
        try:
            standin.build(made, place / "package")
        except (BadInput, KeyboardInterrupt) as end:
            return end
    return None


def emptied(place: Path) -> None:
    shutil.rmtree(place)
    place.mkdir()


def interrupted() -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize(
    ("what", "way", "earlier"),
    [
        (standin.full_disk, "exchange", True),
        (standin.full_disk, "two renames", True),
        (standin.full_disk, "exchange", False),
        (standin.no_permission, "exchange", True),
        (interrupted, "exchange", True),
        (interrupted, "two renames", True),
    ],
    indirect=["way"],
)
def test_a_failure_at_any_step(
    place: Path, way: None, what: Callable[[], None], earlier: bool
) -> None:
    ends, at = [], 0
    while True:
        at += 1
        emptied(place)
        if earlier:
            built(place, "one")
        steps = Steps(at, what)
        end = disturbed(place, steps)
        if steps.count < at:
            break
        ends.append(end)
        if end is not None and isinstance(end, BadInput):
            (found,) = end.findings  # what cannot be read may be the user's
            assert found.code in ("unwritable", "foreign-files")
        if (place / "package").exists():
            assert version_at(place / "package") in ("one", "two")
        else:
            assert not earlier or (place / ".package.pommel-build").exists()
        mended(place / "package")
        assert os.listdir(place) == ["package"] if earlier else len(os.listdir(place)) < 2
        built(place, "three")
        assert os.listdir(place) == ["package"] and version_at(place / "package") == "three"
    assert len(ends) > 40
    stopped = [end for end in ends if end is not None]
    assert len(stopped) > 25  # what fails while it is cleared up is no failure of the build


KILLED = (
    (signal.SIGKILL, "exchange", True),
    (signal.SIGKILL, "two renames", True),
    (signal.SIGKILL, "exchange", False),
    (signal.SIGTERM, "exchange", True),
    (signal.SIGINT, "two renames", True),
)
"""How it is killed, how the package is put in its place, and whether one was there."""


@pytest.mark.parametrize(
    ("number", "way", "earlier", "every"),
    [
        *((*case, every) for case, every in zip(KILLED, (2, 3, 3, 5, 5), strict=True)),
        *(pytest.param(*case, 1, marks=pytest.mark.slow) for case in KILLED),
    ],
    indirect=["way"],
)
def test_a_process_killed_at_any_step(
    place: Path, way: None, number: signal.Signals, earlier: bool, every: int
) -> None:
    emptied(place)
    at, killed, versions = 1 - every, 0, set()
    while True:
        at += every
        emptied(place)
        if earlier:
            built(place, "one")
        child = os.fork()
        if not child:  # the process that is killed
            code = 99
            try:
                os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
                # a shell has what it starts in the background ignore ctrl-C, and its children too
                signal.signal(signal.SIGINT, signal.default_int_handler)
                made = job(place, "two")
                standin.install(made, standin.set_for_good)
                steps = Steps(at, standin.kills_itself(number))
                steps.install(standin.set_for_good)
                code = standin.command(made, place / "package")
                if steps.count < at:
                    code = 98
            finally:
                os._exit(code)
        _, status = os.waitpid(child, 0)
        code = os.waitstatus_to_exitcode(status)
        if code == 98:
            break
        assert code in (0, -9, 128 + number), code
        killed += code != 0
        mended(place / "package")
        assert os.listdir(place) == ["package"] if earlier else len(os.listdir(place)) < 2
        if (place / "package").exists():
            versions.add(version_at(place / "package"))
        built(place, "three")
        assert os.listdir(place) == ["package"] and version_at(place / "package") == "three"
    assert killed > 60 // every
    assert versions == ({"one", "two"} if earlier else {"two"})


def test_real_processes_killed_at_random_moments(place: Path) -> None:
    chance = random.Random(20)
    target = place / "package"
    path = os.pathsep.join(str(ROOT / folder) for folder in (".", "tests"))
    words = [sys.executable, str(ROOT / "tests" / "standin.py"), str(place.parent / "job.toml")]
    built(place, "one")
    codes = []
    for turn in range(30):
        process = subprocess.Popen(
            [*words, str(target), f"turn-{turn}"],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": path},
        )
        assert process.stdout and process.stdout.readline() == "ready\n"
        time.sleep(chance.uniform(0.0, 0.03))
        number = chance.choice(SIGNALS)
        process.send_signal(number)
        _, told = process.communicate()
        codes.append(process.returncode)
        assert process.returncode in (0, -number, 128 + number), (number, told)
        if process.returncode == 128 + number:
            assert told == {15: "terminated\n", 2: "interrupted\n"}[number]
        mended(target)
        assert os.listdir(place) == ["package"]
        assert version_at(target)
    assert len(set(codes)) > 1


@pytest.mark.parametrize("way", BOTH_WAYS, indirect=True)
@pytest.mark.parametrize("act", ["adds a file", "changes a file", "adds a folder", "adds a link"])
def test_what_the_user_does_in_the_folder_at_any_step_is_kept(
    place: Path, way: None, act: str
) -> None:
    target = place / "package"

    def user() -> None:
        if not target.exists():
            return
        done.append(act)
        if act == "adds a file":
            (target / "mine.txt").write_bytes(b"mine")
        elif act == "changes a file":
            with open(target / "a.txt", "ab") as file:
                file.write(b"mine")
        elif act == "adds a folder":
            (target / "mine").mkdir()
        else:
            (target / "mine").symlink_to(place.parent / "job.toml")

    def kept() -> bool:
        if act == "adds a file":
            return (target / "mine.txt").read_bytes() == b"mine"
        if act == "changes a file":
            return (target / "a.txt").read_bytes().endswith(b"mine")
        return (target / "mine").is_dir() or (target / "mine").is_symlink()

    at, refused, done = 0, 0, [""]
    while True:
        at += 1
        emptied(place)
        built(place, "one")
        done.clear()
        steps = Steps(at, user)
        end = disturbed(place, steps)
        if steps.count < at:
            break
        if not done:
            continue
        assert kept(), at
        assert os.listdir(place) == ["package"]
        if (target / "a.txt").read_text().startswith("text one"):
            assert isinstance(end, BadInput)
        if isinstance(end, BadInput):
            refused += 1
            assert [one.code for one in end.findings] == ["foreign-files"]
        with pytest.raises(BadInput, match=r"mine|a\.txt"):
            built(place, "three")
        assert kept()
    assert refused > 20


def test_two_builds_of_one_folder_at_once_and_the_second_is_refused(place: Path) -> None:
    built(place, "one")

    def second() -> None:
        with pytest.raises(BadInput) as refused:
            built(place, "three")
        (found,) = refused.value.findings
        assert found.code == "busy-folder" and str(os.getpid()) in found.limit
        with pytest.raises(BadInput):
            mended(place / "package")
        tried.append(found)

    tried: list[object] = []
    made = job(place, "two")
    with pytest.MonkeyPatch.context() as patch:
        standin.install(made, patch.setattr)
        patch.setattr("planner.output.package.write._check_solids", lambda *_: second())
        standin.build(made, place / "package", fresh=True)
    assert len(tried) == 1
    assert os.listdir(place) == ["package"] and version_at(place / "package") == "two"


def test_a_folder_of_that_name_that_no_build_made_is_left_alone(place: Path) -> None:
    mine = place / ".package.pommel-build"
    for name in ("new", "owner"):
        mine.mkdir(exist_ok=True)
        (mine / name).write_text("mine")
        with pytest.raises(BadInput, match="no build made"):
            built(place, "one")
        assert (mine / name).read_text() == "mine" and len(list(mine.iterdir())) == 1
        (mine / name).unlink()
    built(place, "one")  # an empty one is what a build leaves that is killed as it begins
    assert os.listdir(place) == ["package"]
