"""The outermost net, in whole processes: a fault of the program's own, ctrl-C, a reader gone."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from planner.output.package import mended

BENCH = str(ROOT / "examples" / "bench-lathe.toml")

BROKEN_SIZING = """
import planner.output.plan
def broken(*_):
    raise {error}
planner.output.plan.size_up = broken
"""
BROKEN_STEP = """
import planner.solids
def broken(*_, **__):
    raise {error}
planner.solids.write_assembly_step = broken
"""
BROKEN_SHEET = """
import planner.output.part_sheets
import planner.solids
planner.solids.clashes = lambda *_: []
def broken(*_, **__):
    raise {error}
planner.output.part_sheets.whole_sheet = broken
"""
"""At the first drawing already, before the kernel is there."""
FAULT = "ZeroDivisionError('a fault put in by hand')"


def pommel(
    words: list[str], temporary: Path, before: str = "", cwd: Path = ROOT
) -> subprocess.CompletedProcess[str]:
    """The console script in a process of its own, something broken before it runs."""
    code = f"import sys\nsys.argv = {['pommel', *words]!r}\n{before}\n"
    code += "from planner.cli.main import run\nrun()\n"
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    return subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        cwd=cwd,
        check=False,
        env={**os.environ, "TMPDIR": str(temporary), "PYTHONPATH": path},
    )


def test_a_fault_is_one_finding_and_its_traceback_is_in_the_file_it_names(tmp_path: Path) -> None:
    done = pommel(["sizes", BENCH], tmp_path, BROKEN_SIZING.format(error=FAULT))
    assert done.returncode == 2 and done.stdout == ""
    assert "Traceback" not in done.stderr and len(done.stderr.splitlines()) == 1
    assert "[internal-error]" in done.stderr and "a fault put in by hand" in done.stderr
    (kept,) = tmp_path.iterdir()
    assert str(kept) in done.stderr
    text = kept.read_text(encoding="utf-8")
    assert "Traceback" in text and "ZeroDivisionError: a fault put in by hand" in text
    assert f"pommel sizes {BENCH}" in text


SIGNALLED = pytest.mark.parametrize(
    ("name", "code", "word"), [("SIGTERM", 143, "terminated"), ("SIGINT", 130, "interrupted")]
)
"""By each signal that ends a command: what it ends with, and the word it says."""

SWALLOWED = """
import os, signal
import planner.output.plan
signal.signal(signal.SIGINT, signal.default_int_handler)
def broken(*_):
    try:
        os.kill(os.getpid(), signal.{name})
        signal.pause()
    except BaseException:
        raise RuntimeError("a library's own") from None
planner.output.plan.size_up = broken
"""


@SIGNALLED
def test_a_signal_that_a_library_makes_an_error_of_its_own_of_is_none_of_ours(
    name: str, code: int, word: str, tmp_path: Path
) -> None:
    done = pommel(["sizes", BENCH], tmp_path, SWALLOWED.format(name=name))
    assert (done.returncode, done.stderr, done.stdout) == (code, f"{word}\n", "")
    assert list(tmp_path.iterdir()) == []


HALF_LOADED = """
import os, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)
class Looks:
    def find_spec(self, name, path, target=None):
        if name == "planner.job.lathe":  # deep in what a command loads, where classes are being made
            try:
                os.kill(os.getpid(), signal.{name})
                print("goes on")
            except BaseException:
                raise RuntimeError("a library's own") from None
sys.meta_path.insert(0, Looks())
"""


@SIGNALLED
def test_a_signal_as_a_command_is_loaded_waits_until_it_is(
    name: str, code: int, word: str, tmp_path: Path
) -> None:
    done = pommel(["sizes", BENCH], tmp_path, HALF_LOADED.format(name=name))
    assert (done.returncode, done.stderr, done.stdout) == (code, f"{word}\n", "goes on\n")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("library", "words"),
    [
        ("pydantic", ["sizes", BENCH]),
        ("tabulate", ["ready"]),
        ("shapely", ["flat", BENCH]),
    ],
)
def test_a_library_that_is_not_installed_is_named_with_the_command_that_installs_it(
    library: str, words: list[str], tmp_path: Path
) -> None:
    done = pommel(words, tmp_path, f"sys.modules[{library!r}] = None")
    assert done.returncode == 2 and list(tmp_path.iterdir()) == []
    assert len(done.stderr.splitlines()) == 1 and "[library-missing]" in done.stderr
    assert f"-m pip install {library};" in done.stderr


def test_for_machines_the_fault_is_strict_json_on_stdout(tmp_path: Path) -> None:
    done = pommel(["sizes", BENCH, "--json"], tmp_path, BROKEN_SIZING.format(error=FAULT))
    assert done.returncode == 2
    (finding,) = json.loads(done.stdout)["findings"]
    assert finding["code"] == "internal-error" and finding["severity"] == "refused"
    assert all(finding[key] for key in ("file", "value", "limit", "remedy", "text"))


@pytest.mark.parametrize(
    ("error", "broken"),
    [
        (FAULT, BROKEN_STEP),
        ("KeyboardInterrupt", BROKEN_SHEET),
        ("SystemError('x')", BROKEN_SHEET),
        pytest.param("MemoryError", BROKEN_SHEET, marks=pytest.mark.slow),
    ],
)
def test_a_build_that_fails_half_way_leaves_nothing(
    tmp_path: Path, error: str, broken: str
) -> None:
    mine, temporary = tmp_path / "mine", tmp_path / "temporary"
    mine.mkdir(), temporary.mkdir()
    before = broken.format(error=error)
    done = pommel(["build", BENCH, "--out", "package"], temporary, before, cwd=mine)
    assert "drawings" in done.stderr  # it had begun
    assert list(mine.iterdir()) == []
    interrupted = error == "KeyboardInterrupt"
    assert done.returncode == (130 if interrupted else 2)
    assert len(list(temporary.iterdir())) == (0 if interrupted else 1)


KILLED_STEP = """
import os, signal
import planner.solids
planner.solids.write_assembly_step = lambda *_, **__: os.kill(os.getpid(), signal.{name})
"""


@pytest.mark.parametrize("name", ["SIGTERM", pytest.param("SIGKILL", marks=pytest.mark.slow)])
def test_a_build_that_is_killed_leaves_nothing_that_the_next_does_not_mend(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    mine, home = tmp_path / "mine", tmp_path / "home"
    mine.mkdir(), home.mkdir()
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    before = KILLED_STEP.format(name=name)
    done = pommel(["build", BENCH, "--out", "package"], tmp_path, before, cwd=mine)
    assert "drawings" in done.stderr  # it had begun
    if name == "SIGTERM":
        assert done.returncode == 143 and done.stderr.splitlines()[-1] == "terminated"
    else:
        assert done.returncode == -9 and len(os.listdir(mine)) == 1
    mended(mine / "package")
    assert os.listdir(mine) == []
    assert os.listdir(home) == []  # where ezdxf would keep a list of fonts


def test_without_a_folder_for_temporary_files_nothing_is_put_among_the_users(
    tmp_path: Path,
) -> None:
    # Python's own last resort is the folder one stands in
    before = BROKEN_SIZING.format(error=FAULT)
    before += "import os, tempfile\nos.environ.pop('TMPDIR')\ntempfile.tempdir = os.getcwd()\n"
    done = pommel(["sizes", BENCH], tmp_path, before, cwd=tmp_path)
    assert done.returncode == 2 and "[internal-error]" in done.stderr
    assert "a fault put in by hand" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_an_interrupt_is_one_word_and_130(tmp_path: Path) -> None:
    done = pommel(["sizes", BENCH], tmp_path, BROKEN_SIZING.format(error="KeyboardInterrupt"))
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "interrupted\n")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", [["route", BENCH], ["route", BENCH, "--json"], ["--help"]])
def test_a_reader_who_has_gone_ends_it_quietly(words: list[str]) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert process.stdout and process.stderr
    process.stdout.close()
    told = process.stderr.read().splitlines()  # what the shop has not, and no word of the reader
    assert all(line.startswith("note [not-in-the-shop]") for line in told)
    assert process.wait() == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_an_answer_that_cannot_be_printed_is_told() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "planner", "route", BENCH],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            check=False,
        )
    assert done.returncode == 2
    *notes, last = done.stderr.splitlines()
    assert re.fullmatch(r"the answer cannot be printed \(.+\)", last)
    assert all(line.startswith("note [not-in-the-shop]") for line in notes)


def test_clicks_own_messages_and_codes_come_through(tmp_path: Path) -> None:
    wrong = pommel(["sizes", BENCH, "--nothing"], tmp_path)
    assert wrong.returncode == 2 and "No such option" in wrong.stderr
    assert pommel(["--version"], tmp_path).stdout.startswith("pommel, version")
    assert pommel(["sizes", "--help"], tmp_path).returncode == 0
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("word", ["—json", "–json", "−−json", "-json"])
def test_a_dash_too_few_or_of_a_word_processor_is_told(word: str, tmp_path: Path) -> None:
    wrong = pommel(["sizes", word, BENCH], tmp_path)
    assert wrong.returncode == 2
    assert wrong.stderr.rstrip().endswith(" Write --json with two dashes of the keyboard.")


def test_what_has_its_dashes_gets_no_such_advice(tmp_path: Path) -> None:
    wrong = pommel(["sizes", BENCH, "--jsno"], tmp_path)
    assert wrong.returncode == 2 and "two dashes" not in wrong.stderr
    asked = pommel(["help"], tmp_path)
    assert asked.returncode == 2 and asked.stderr.rstrip().endswith(" Write: pommel --help")


def test_the_commands_the_tests_call_are_not_behind_the_net(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("a fault put in by hand")

    monkeypatch.setattr("planner.output.plan.size_up", broken)
    with pytest.raises(ZeroDivisionError):
        call("sizes", str(shutil.copy(BENCH, tmp_path)))  # worked out by no test before
