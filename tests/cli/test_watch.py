"""``pommel build --watch`` without a process: the order of its builds, and what its address gives.

A whole process and a browser are in tests/page/test_watching.py.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest
from commands import ended
from jobs import ROOT

from planner.cli.net import library_missing
from planner.cli.watch import rounds
from planner.output.live import Shown, answered
from planner.output.package import read_hashes
from planner.page import strings
from planner.words.findings import finding

BENCH = ROOT / "examples" / "bench-lathe.toml"


class Ended(Exception):
    """Ctrl-C, as it were."""


class Bench:
    """A folder in which things happen: what is saved while a build runs, and while one waits."""

    def __init__(self, while_building: list[list[str]], while_waiting: list[list[str]]) -> None:
        self.text, self.built = "one", list[str]()
        self.building, self.waiting = iter(while_building), iter(while_waiting)

    def build(self) -> None:
        self.built.append(self.text)
        for text in next(self.building, []):
            self.text = text

    def wait(self) -> None:
        for text in next(self.waiting, self._over()):
            self.text = text

    @staticmethod
    def _over() -> Iterator[str]:
        raise Ended
        yield ""

    def run(self) -> list[str]:
        with pytest.raises(Ended):
            rounds(self.build, lambda: self.text, self.wait)
        return self.built


@pytest.mark.parametrize(
    ("while_building", "while_waiting", "wanted"),
    [
        ([], [], ["one"]),
        ([], [["two"]], ["one", "two"]),
        ([], [["two", "three", "four"]], ["one", "four"]),  # rapid saves: gathered
        ([], [["one"], ["one"], ["two"]], ["one", "two"]),  # saved as it was: nothing
        ([["two"]], [], ["one", "two"]),  # saved while it builds: one more
        ([["two", "three", "four"]], [], ["one", "four"]),  # however often
        ([["two"], ["three"]], [["four"]], ["one", "two", "three", "four"]),
        ([["two", "one"]], [], ["one"]),  # and back again: what was built is what is there
    ],
)
def test_it_is_built_once_for_what_was_saved(
    while_building: list[list[str]], while_waiting: list[list[str]], wanted: list[str]
) -> None:
    assert Bench(while_building, while_waiting).run() == wanted


def test_what_is_watched_is_the_job_and_what_is_recorded_of_it(tmp_path: Path) -> None:
    job, record = tmp_path / "lathe.toml", tmp_path / "lathe-record"
    seen = [read_hashes(job)]
    for path, text in ((job, "one"), (job, "two"), (record / "made.toml", "three")):
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        seen.append(read_hashes(job))
    (tmp_path / "other.toml").write_text("four", encoding="utf-8")
    assert len(set(seen)) == 4 and read_hashes(job) == seen[-1]
    assert seen[1][0] == sha256(b"one").hexdigest()


def test_what_is_wrong_is_given_with_its_line_and_its_remedy() -> None:
    stop = finding("no-file", "lathe.toml", "lathe.swing", "3", "too little", "Raise it", line=12)
    shown = Shown("lathe.toml", "broken", b"<!doctype html>kept", (stop,))
    found = answered(shown, "/state.json", "127.0.0.1:9", 9)
    said = json.loads(found.body)
    assert (found.status, said["state"], said["job"]) == (200, "broken", "lathe.toml")
    (one,) = said["findings"]
    assert (one["place"], one["code"], one["remedy"]) == ("lathe.toml:12", "no-file", "Raise it")
    assert one["what"] == "lathe.swing: 3: too little."
    kept = answered(shown, "/page.html?x", "localhost:9", 9)
    assert kept.body == shown.page and kept.status == 200


@pytest.mark.parametrize(
    ("path", "host", "status"),
    [
        ("/", "127.0.0.1:9", 200),
        ("/page.html", "127.0.0.1:9", 404),  # nothing built yet
        ("/package.json", "127.0.0.1:9", 404),
        ("/../../etc/passwd", "127.0.0.1:9", 404),
        ("/", "lathe.example:9", 403),  # another site's name that leads here (DNS rebinding)
        ("/state.json", "", 403),
        ("/", "127.0.0.1:10", 403),
    ],
)
def test_nothing_else_is_given_and_to_nobody_else(path: str, host: str, status: int) -> None:
    assert answered(Shown("lathe.toml"), path, host, 9).status == status


def test_the_frame_has_all_its_words_and_asks_its_own_server_alone() -> None:
    text = answered(Shown("x"), "/", "127.0.0.1:9", 9).body.decode()
    words = strings()["watch"]
    assert all(value in text for value in words.values()) and "{{" not in text
    states = {"building", "built", "broken", "broken_kept", "ended"}
    assert set(words) == states | {"title", "page"}
    assert "default-src 'none'" in text and "connect-src 'self'" in text and "://" not in text


def test_without_the_library_it_says_what_installs_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "watchfiles", None)
    wrong = ended("build", str(BENCH), "--watch").exception
    assert isinstance(wrong, ModuleNotFoundError)
    found = library_missing(wrong)
    assert found is not None and found.code == "library-missing" and found.key == "watchfiles"
    assert f"{sys.executable} -m pip install watchfiles" in found.remedy


def test_a_job_that_is_not_there_ends_it(tmp_path: Path) -> None:
    pytest.importorskip("watchfiles", reason="watchfiles is not installed: no job is watched")
    done = ended("build", str(tmp_path / "none.toml"), "--watch")
    assert done.exit_code == 2 and "[no-file]" in done.stderr
