"""Commands that write, killed at random moments: what is there is whole, and the next run clears up.

Real processes of real commands, by SIGKILL, SIGTERM and SIGINT; what is whole is told here by the files
alone: TOML by the Python library's reader, a package by the hashes of its manifest, sheets and copies
by the bytes of a run that nobody disturbed. The seed is POMMEL_SEED.
"""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from jobs import ROOT

from planner.job.template import write_new

SIGNALS = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
BENCH = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")


class Shop:
    """A folder with a job, a home and a folder for temporary files, all of them watched."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.home, self.temporary = folder / "shop", folder / "home", folder / "tmp"
        for place in (self.folder, self.home, self.temporary):
            place.mkdir()
        self.job = self.folder / "job.toml"
        self.job.write_text(BENCH, encoding="utf-8")
        self.chance = random.Random(int(os.environ.get("POMMEL_SEED", "1")))
        self.ended: list[int] = []

    def begun(self, words: tuple[str, ...]) -> subprocess.Popen[str]:
        own = {"HOME": str(self.home), "TMPDIR": str(self.temporary), "PYTHONPATH": str(ROOT)}
        return subprocess.Popen(
            [sys.executable, "-m", "planner", *words],
            cwd=self.folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, **own},
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
        )

    def run(self, *words: str) -> float:
        """Run a command to its end; returns how long it took, s."""
        begun = time.monotonic()
        process = self.begun(words)
        _, told = process.communicate()
        assert process.returncode in (0, 1), told
        return time.monotonic() - begun

    def kill(self, within_s: float, *words: str) -> None:
        """Run a command and kill it at a random moment."""
        process = self.begun(words)
        time.sleep(self.chance.uniform(0.0, within_s))
        number = self.chance.choice(SIGNALS)
        process.send_signal(number)
        _, told = process.communicate()
        assert process.returncode in (0, 1, -number, 128 + number), told
        # before it comes to the program's first line the interpreter tells an interrupt its own way
        assert "Traceback" not in told or str(ROOT / "planner") not in told, told
        assert "internal-error" not in told
        self.ended.append(process.returncode)

    def names(self) -> list[str]:
        """What lies in the folder; nothing may lie in the home or among the temporary files."""
        assert not list(self.home.rglob("*")) and not list(self.temporary.iterdir())
        return sorted(one.name for one in self.folder.iterdir())


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return Shop(tmp_path)


def entries(made: Path) -> int:
    return len(tomllib.loads(made.read_text("utf-8"))["size"]) if made.exists() else 0


@pytest.mark.slow
def test_record_is_killed(shop: Shop) -> None:
    words = ("record", "job.toml", "--made", "rotating-body", "journal", "19.98 mm")
    made = shop.folder / "job-record" / "made.toml"
    took = shop.run(*words)
    for _ in range(25):
        before = entries(made)
        shop.kill(1.1 * took, *words)
        assert entries(made) in (before, before + 1)
        before = entries(made)
        shop.run(*words)
        assert entries(made) == before + 1
        assert shop.names() == ["job-record", "job.toml"]
        assert os.listdir(made.parent) == ["made.toml"]
    assert len(set(shop.ended)) > 1


@pytest.mark.slow
def test_a_copy_of_the_job_is_killed(shop: Shop) -> None:
    words = ("cutlist", "job.toml", "--write", "after.toml")
    after = shop.folder / "after.toml"
    took = shop.run(*words)
    whole = after.read_bytes()
    for _ in range(25):
        after.unlink()
        shop.kill(1.1 * took, *words)
        assert shop.names() in (["job.toml"], ["after.toml", "job.toml"])
        if after.exists():
            assert after.read_bytes() == whole
        else:
            shop.run(*words)
            assert after.read_bytes() == whole and shop.names() == ["after.toml", "job.toml"]
    assert len(set(shop.ended)) > 1


def contents(folder: Path) -> dict[str, str]:
    files = (one for one in folder.rglob("*") if one.is_file())
    return {
        one.relative_to(folder).as_posix(): sha256(one.read_bytes()).hexdigest() for one in files
    }


@pytest.mark.slow
def test_sheets_are_killed(shop: Shop) -> None:
    words = ("draw", "job.toml", "knob", "--out", "sheets")
    sheets = shop.folder / "sheets"
    took = shop.run(*words)
    whole = contents(sheets)
    assert len(whole) >= 2
    for _ in range(12):
        for one in sheets.iterdir():
            one.unlink()
        sheets.rmdir()
        shop.kill(1.1 * took, *words)
        if not sheets.exists():
            shop.run(*words)
        assert contents(sheets) == whole
        left = [one for one in shop.names() if one != ".sheets.pommel-build"]
        assert left == ["job.toml", "sheets"]
    for one in sheets.iterdir():
        one.unlink()
    sheets.rmdir()
    shop.run(*words)
    assert shop.names() == ["job.toml", "sheets"]
    assert len(set(shop.ended)) > 1


def price(package: Path) -> str:
    """Which version a package is of, whole by its manifest; fails where it is not whole."""
    manifest = json.loads((package / "package.json").read_text(encoding="utf-8"))
    listed = {one["path"]: one["sha256"] for one in manifest["files"]}
    found = contents(package)
    del found["package.json"]
    assert found == listed
    return str(manifest["job_file_sha256"])


@pytest.mark.slow
def test_a_build_is_killed(shop: Shop) -> None:
    package = shop.folder / "package"
    words = ("build", "job.toml", "--out", "package")
    shop.run(*words)
    seen = price(package)
    took = 0.0
    for turn in range(12):
        shop.job.write_text(BENCH.replace("price = 6.80", f"price = 6.{turn + 10}"), "utf-8")
        new = sha256(shop.job.read_bytes()).hexdigest()
        if not took:
            took = shop.run(*words)
        else:
            shop.kill(1.1 * took, *words)
        assert price(package) in (seen, new)
        shop.run(*words)
        assert price(package) == new and shop.names() == ["job.toml", "package"]
        seen = new
    assert len(set(shop.ended)) > 1


LOADED = "OCP.cpython"
"""In the map of a process's memory from the moment on that the kernel's library is loaded."""


def loading(process: subprocess.Popen[str]) -> bool:
    """Whether a process has begun to load the CAD kernel, by the system's map of its memory."""
    try:
        return LOADED in Path(f"/proc/{process.pid}/maps").read_text(encoding="utf-8")
    except OSError:
        return False


@pytest.mark.build
@pytest.mark.skipif(
    not Path("/proc/self/maps").exists(), reason="no map of a process's memory here"
)
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_build_is_stopped_as_the_kernel_is_loaded(shop: Shop, number: signal.Signals) -> None:
    # a library of C++ that starts may drop what a signal raises, fault, or wait for a thread that does
    # not end: the command ends with the shell's code all the same, and leaves nothing
    for later_s in (0.0, 0.1, 0.3, 0.6, 1.0):
        process = shop.begun(("build", "job.toml", "--out", "package"))
        while not loading(process):
            assert process.poll() is None, "it ended without the kernel"
            time.sleep(0.002)
        time.sleep(later_s)
        process.send_signal(number)
        try:
            _, told = process.communicate(timeout=60)
        except subprocess.TimeoutExpired:
            process.kill()
            process.communicate()
            pytest.fail(
                f"signal {number.name}, {later_s} s after the kernel began: it waits for ever"
            )
        assert process.returncode == 128 + number, told
        assert "Traceback" not in told and "internal-error" not in told, told
        assert shop.names() == ["job.toml"]


def killed(act: Callable[[], object]) -> int:
    """Do something in a process of its own; returns the signal it ended by, 0 for none."""
    child = os.fork()
    if not child:
        try:
            act()
        finally:
            os._exit(0)
    return -os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.mark.parametrize("step", ["write", "fsync", "link"])
def test_a_new_file_is_there_whole_or_not_at_all(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not hasattr(os, "O_TMPFILE"):
        pytest.skip("this system has no files without a name")
    path = tmp_path / "new.toml"

    def dies(*_: object, **__: object) -> None:
        os.kill(os.getpid(), signal.SIGKILL)

    with monkeypatch.context() as patch:
        if step == "write":
            patch.setattr(os, "fdopen", dies)
        else:
            patch.setattr(os, step, dies)
        assert killed(lambda: write_new(path, "a = 1\n")) == signal.SIGKILL
    assert not list(tmp_path.iterdir())
    write_new(path, "a = 1\n")
    assert path.read_bytes() == b"a = 1\n" and path.stat().st_mode & 0o777 == 0o666 & ~umask()


def umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now


def test_a_new_file_where_each_has_a_name_from_the_beginning(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unknown(*_: object, **__: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", unknown)
    write_new(tmp_path / "new.toml", "a = 1\n")
    assert (tmp_path / "new.toml").read_bytes() == b"a = 1\n"
