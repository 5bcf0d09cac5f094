"""A job watched by a whole process, shown by a real browser: saved, broken, mended, ended."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from queue import Empty, Queue
from typing import Any

import pytest
from jobs import ROOT
from page_browser import DESK

BENCH = ROOT / "examples" / "bench-lathe.toml"

pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("watchfiles") is None,
    reason="watchfiles is not installed (pip install watchfiles): watching is not tried",
)

ONLY = """
import os, signal, threading
import planner.output.package.write as write
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell may have started it deaf to ctrl-C
write.TOPICS = [one for one in write.TOPICS if one.name in {topics}]
topics = write._write_topics
def held(plan, folder, earlier, solids, tell):
    tell("begun")
    while os.path.exists({gate!r}):
        threading.Event().wait(0.02)
    return topics(plan, folder, earlier, solids, tell)
write._write_topics = held
write._check_solids = lambda plan, tell: None
"""
"""A package of a few files and no solids; as long as the gate is there a build does not go on."""

WAIT_S = 60.0
"""For what must come, on a computer that has much else to do."""


class Watched:
    """``pommel build --watch`` of a copy of the bench lathe's job."""

    def __init__(self, folder: Path, topics: tuple[str, ...]) -> None:
        self.job, self.package = folder / "lathe.toml", folder / "package"
        self.gate = folder / "gate"
        self.save("metric")
        code = ONLY.format(topics=topics, gate=str(self.gate))
        words = ["pommel", "build", str(self.job), "--out", str(self.package), "--watch"]
        code += f"import sys\nsys.argv = {words!r}\nfrom planner.cli.main import run\nrun()\n"
        path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
        self.process = subprocess.Popen(
            [sys.executable, "-u", "-c", code],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            cwd=folder,
            env={**os.environ, "PYTHONPATH": path},
        )
        self.lines: Queue[str] = Queue()
        threading.Thread(target=self._read, daemon=True).start()
        self.address = self.until("watching").partition("open ")[2].split()[0]

    def _read(self) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self.lines.put(line.rstrip())

    def until(self, word: str) -> str:
        """The next line with a word in it."""
        seen = []
        while True:
            try:
                seen.append(self.lines.get(timeout=WAIT_S))
            except Empty:
                raise AssertionError(f"no {word!r} after {seen}") from None
            if word in seen[-1]:
                return seen[-1]

    def save(self, name: str, more: str = "") -> None:
        """The job under a name, as an editor saves it: another file of the same name."""
        text = f'name = "{name}"\n' + BENCH.read_text(encoding="utf-8") + more
        beside = self.job.with_suffix(".new")
        beside.write_text(text, encoding="utf-8")
        beside.replace(self.job)

    def hashes(self) -> dict[str, str]:
        return {
            path.name: sha256(path.read_bytes()).hexdigest()
            for path in self.package.rglob("*")
            if path.is_file()
        }

    def interrupted(self) -> tuple[int, list[str]]:
        """Ctrl-C: the exit code, and what was said from then on."""
        while not self.lines.empty():
            self.lines.get()
        self.process.send_signal(signal.SIGINT)
        code = self.process.wait(WAIT_S)
        last = self.until("interrupted")
        return code, [last, *self.lines.queue]


@contextmanager
def watched(folder: Path, *topics: str) -> Iterator[Watched]:
    found = Watched(folder, topics)
    try:
        yield found
    finally:
        found.process.kill()
        found.process.wait()


@contextmanager
def seen(browser: Any, address: str) -> Iterator[Any]:
    """The address in the browser; nothing but it was asked, and no script failed."""
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(WAIT_S * 1000)
    page, asked, errors = context.new_page(), set[str](), []
    page.on("request", lambda request: asked.add(request.url.partition("?")[0].partition("#")[0]))
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(address)
    yield page
    context.close()
    own = {address, f"{address}state.json", f"{address}page.html"}
    assert {one for one in asked if not one.startswith("data:")} <= own and errors == []


def test_it_is_built_again_shown_fresh_and_ended_in_one_word(browser: Any, tmp_path: Path) -> None:
    with (
        watched(tmp_path, "sizes", "page") as job,
        seen(browser, job.address) as page,
    ):
        frame = page.frame_locator("#page")
        frame.locator("h1", has_text="metric").wait_for()
        first = job.hashes()
        assert (
            first["page.html"]
            == sha256(page.request.get(f"{job.address}page.html").body()).hexdigest()
        )
        frame.locator('nav a[href="#saw"]').click()

        for name in ("one", "two", "three"):  # rapid saves: one build, of the last
            job.save(name)
        frame.locator("h1", has_text="three").wait_for()
        assert frame.locator("#screen-saw").is_visible()  # where one was
        assert page.inner_text("#state") == "is built."
        said = [line for line in job.lines.queue if "files, listed" in line]
        assert len(said) == 2 and job.hashes()["page.html"] != first["page.html"]

        good = job.hashes()
        job.save("three", "\n[attachment.sizes]\nshaft_diameter_mm = 3\n")
        page.locator("#findings li").first.wait_for()
        told = page.inner_text("#findings")
        line = job.until("refused [").partition("lathe.toml:")[2].partition(":")[0]
        assert f"lathe.toml:{line} " in told and int(line) > 40
        assert "before" in page.inner_text("#state")
        assert frame.locator("h1", has_text="three").is_visible() and job.hashes() == good

        job.gate.touch()  # a build under way, and two saves meanwhile: one more build, of the last
        job.save("four")
        job.until("begun")
        job.save("five")
        job.save("six")
        page.locator("#state", has_text="is being built.").wait_for()
        job.gate.unlink()
        frame.locator("h1", has_text="six").wait_for()
        assert not page.locator("#findings").is_visible()
        assert [line for line in job.lines.queue if line == "begun"] == ["begun"]

        assert job.interrupted() == (130, ["interrupted"])
        page.locator("body[data-state='ended']").wait_for()
        assert sorted(path.name for path in tmp_path.iterdir()) == ["lathe.toml", "package"]


@pytest.mark.slow
def test_a_whole_package_is_built_again_as_it_would_be_by_itself(tmp_path: Path) -> None:
    from planner.output.topics import TOPICS

    with watched(tmp_path, *(one.name for one in TOPICS)) as job:
        job.until("files, listed")
        job.save("other")
        job.until("files, listed")
        assert job.interrupted()[0] == 130
        by_itself = tmp_path / "by-itself"
        made = subprocess.run(
            [sys.executable, "-m", "planner", "build", str(job.job), "--out", str(by_itself)],
            cwd=ROOT,
            check=False,
            capture_output=True,
        )
        assert made.returncode == 0, made.stderr
        for path in by_itself.rglob("*"):
            if path.is_file() and path.name != "package.json":
                other = job.package / path.relative_to(by_itself)
                assert path.read_bytes() == other.read_bytes(), path
        names = [
            {one["path"] for one in json.loads((folder / "package.json").read_text())["files"]}
            for folder in (by_itself, job.package)
        ]
        assert names[0] == names[1]
        shutil.rmtree(by_itself)
