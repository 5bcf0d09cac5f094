"""On a terminal and off it: plain text without colours; and what a shell completes."""

from __future__ import annotations

import os
import pty
import subprocess
import sys

import pytest
from commands import call
from jobs import ROOT

from planner.cli.main import OWN, main
from planner.output.topics import TOPICS

BENCH = "examples/bench-lathe.toml"
ESC = b"\x1b"

ASKED = [[t.name, BENCH] for t in TOPICS if t.columns]
ASKED += [["--help"], ["list", "threads"], ["explain", "thin-wall"], ["sizes", "none.toml"]]


@pytest.mark.parametrize("words", ASKED, ids=lambda words: "-".join(words[:1]))
def test_no_escape_is_written(words: list[str]) -> None:
    result = call(*words)
    assert ESC.decode() not in result.stdout + result.stderr
    assert result.stdout or result.stderr


@pytest.mark.parametrize("more", [{}, {"NO_COLOR": "1"}, {"FORCE_COLOR": "1", "TERM": "xterm"}])
def test_no_escape_is_written_to_a_terminal(more: dict[str, str]) -> None:
    # no-color.org: with NO_COLOR set no colour may be written; here none is, set or not
    ours, theirs = pty.openpty()
    done = subprocess.Popen(
        [sys.executable, "-m", "planner", "check", "none.toml", "--prefer", "stiff"],
        stdout=theirs,
        stderr=theirs,
        cwd=ROOT,
        env={**os.environ, **more},
    )
    done.wait(60)
    os.close(theirs)
    written = os.read(ours, 65536)
    os.close(ours)
    assert b"[no-file]" in written and ESC not in written


def completed(*words: str) -> list[str]:
    """What bash would offer after these words, the last of them begun."""
    done = subprocess.run(
        [sys.executable, "-c", "from planner.cli.main import run; run()"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
        env={
            **os.environ,
            "_POMMEL_COMPLETE": "bash_complete",
            "COMP_WORDS": " ".join(["pommel", *words]),
            "COMP_CWORD": str(len(words)),
        },
    )
    assert done.returncode == 0 and not done.stderr, done.stderr
    return [line.partition(",")[2] for line in done.stdout.splitlines()]


def test_a_shell_completes_commands_options_kinds_and_codes() -> None:
    known = {*OWN, *(t.name for t in TOPICS if t.columns)}
    assert set(completed("")) == known
    assert completed("si") == ["sizes"]
    assert completed("check", "--pre") == ["--prefer"]
    assert completed("check", "--prefer", "l") == ["light"]
    assert completed("list", "thr") == ["threads"]
    assert completed("explain", "thin-w") == ["thin-wall"]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_line_of_the_readme_gives_the_shell_its_script(shell: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from planner.cli.main import run; run()"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
        env={**os.environ, "_POMMEL_COMPLETE": f"{shell}_source"},
    )
    assert done.returncode == 0 and "_POMMEL_COMPLETE" in done.stdout
    assert f"{shell}_complete" in done.stdout
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "_POMMEL_COMPLETE=bash_source pommel" in text and main.name
