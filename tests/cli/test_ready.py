"""``pommel ready``: each look finds what is amiss, and says what helps."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from planner.output.caches import caches_away
from planner.output.readiness import (
    Look,
    browser_look,
    folder_look,
    fonts_look,
    kernel_look,
    letters_look,
    library_looks,
    pdf_look,
    python_look,
    watch_look,
    width_look,
    within,
)


def test_libraries_keep_nothing_in_the_home(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # the XDG Base Directory Specification: caches go to $XDG_CACHE_HOME, else to $HOME/.cache; a
    # process that is begun meanwhile puts its list of fonts elsewhere, and nothing stays of that
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    with caches_away():
        kept = Path(os.environ["XDG_CACHE_HOME"])
        code = "import ezdxf.fonts.fonts as f; print(f.font_manager.dumps())"
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        )
        assert (
            json.loads(done.stdout)["font-faces"] == []
            and kept.is_dir()
            and tmp_path not in kept.parents
        )
    assert "XDG_CACHE_HOME" not in os.environ and not kept.exists()
    assert os.listdir(tmp_path) == []


def test_this_computer_is_ready_and_the_json_has_the_keys_its_help_names() -> None:
    # the other tests make solids and packages here, so it must be
    result = call("ready", "--json")
    assert result.exit_code == 0, result.stderr
    record = json.loads(result.stdout)
    shown = re.sub(r"\s+", " ", call("ready", "--help").stdout)
    named = re.search(r"looks\[\] \(([^)]*)\)", shown)
    assert named and all(list(look) == named[1].split(", ") for look in record["looks"])
    kernel = next(look for look in record["looks"] if look["what"] == "CAD kernel")
    assert kernel["right"] and re.search(r"\d+\.\d+", kernel["found"])
    assert {"cadquery", "click", "shapely"} <= {look["what"] for look in record["looks"]}
    assert len(record["findings"]) == sum(not look["right"] for look in record["looks"])


def test_what_is_needed_and_amiss_is_exit_1_and_what_is_not_needed_is_a_note(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    amiss = [
        Look("browser", "none", False, False, "get one"),
        Look("kernel", "gone", False, True, "put it there"),
    ]
    monkeypatch.setattr("planner.output.readiness.looks", lambda: iter(amiss[:1]))
    result = call("ready")
    assert result.exit_code == 0 and "note [not-ready]" in result.stderr
    monkeypatch.setattr("planner.output.readiness.looks", lambda: iter(amiss))
    result = call("ready")
    assert result.exit_code == 1 and "refused [not-ready]" in result.stderr
    assert "put it there" in result.stderr and "amiss" in result.stdout


def test_no_pdf_is_a_note_with_the_command_that_helps(monkeypatch: pytest.MonkeyPatch) -> None:
    found = pdf_look()
    assert found.right and not found.needed and re.search(r"typst \d+\.\d+", found.found)
    monkeypatch.setattr("planner.drawing.pdf.NEEDS", "no-such-library-anywhere")
    missing = pdf_look()
    assert not missing.right and not missing.needed
    assert "pip install" in missing.remedy and "no-such-library-anywhere" in missing.remedy


def test_what_watches_a_job_is_better_to_have(monkeypatch: pytest.MonkeyPatch) -> None:
    # as pyproject.toml asks for it
    watch = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    (asked,) = watch["project"]["optional-dependencies"]["watch"]
    assert f'"{asked}"' in watch_look().remedy
    monkeypatch.setattr("planner.output.live.NEEDS", "no-such-library-anywhere")
    missing = watch_look()
    assert not missing.right and not missing.needed and "not installed" in missing.found


def test_a_python_too_old_is_amiss() -> None:
    assert not python_look((3, 10, 14)).right and "3.11" in python_look((3, 10, 14)).remedy
    assert python_look((3, 11, 0)).right and python_look((3, 14, 1)).right


@pytest.mark.parametrize(
    ("version", "bounds", "right"),
    [
        ("2.8", "<2.9,>=2.8", True),
        ("2.8.1", "<2.9,>=2.8", True),
        ("2.9", "<2.9,>=2.8", False),
        ("2.10", "<2.9,>=2.8", False),
        ("2.7.9", "<2.9,>=2.8", False),
        ("8.5.1", ">=8.1", True),
        ("1.4.4", "<1.5,>=1.4.4", True),
        ("1.4", ">=1.4.4", False),
        ("2.0", "==2.0.0", True),
        ("3.0rc1", ">=3", True),
        ("anything", "", True),
    ],
)
def test_bounds_of_versions(version: str, bounds: str, right: bool) -> None:
    assert within(version, bounds) is right


def test_bounds_agree_with_the_packaging_library() -> None:
    specifiers = pytest.importorskip("packaging.specifiers")
    for bounds in ("<2.9,>=2.8", ">=8.1", "<1.5,>=1.4.4", ">2,<=3", "==2.0"):
        for version in (
            "1.4.3",
            "1.4.4",
            "1.5",
            "2.0",
            "2.8",
            "2.8.9",
            "2.9",
            "3.0",
            "8.1",
            "10.0",
        ):
            assert within(version, bounds) == (version in specifiers.SpecifierSet(bounds))


def test_a_library_missing_or_too_old_is_named_with_the_command_that_mends_it() -> None:
    old, missing, right = library_looks(["click>=999", "no-such-library<2,>=1", "click>=8.1"])
    assert not old.right and old.needed and 'pip install "click>=999"' in old.remedy
    assert not missing.right and 'pip install "no-such-library<2,>=1"' in missing.remedy
    assert right.right and old.found == right.found
    (alone,) = library_looks([])
    assert not alone.needed and "pip install -e ." in alone.remedy


@pytest.mark.parametrize(
    ("code", "found", "remedy"),
    [
        ("raise ImportError('libGL.so.1: cannot open shared object')", "libGL", "libgl1"),
        ("raise ImportError('No module named cadquery')", "No module", "pip install"),
        ("import os; os.kill(os.getpid(), 11)", "signal 11", "pip install"),
        ("raise SystemExit(3)", "no reason", "pip install"),
    ],
)
def test_a_kernel_that_breaks_breaks_nothing_else(code: str, found: str, remedy: str) -> None:
    look = kernel_look(code)
    assert not look.right and look.needed and found in look.found and remedy in look.remedy


def test_fonts_browser_and_width(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not fonts_look([tmp_path, tmp_path / "none"]).right
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "Plain.ttf").touch()
    assert fonts_look([tmp_path]) == fonts_look([tmp_path])._replace(found="Plain.ttf", right=True)
    monkeypatch.setattr("webbrowser.get", lambda: type("B", (), {"name": "lynx"})())
    assert browser_look().right and browser_look().found == "lynx"
    assert width_look(None).right and width_look(120).right and not width_look(79).right


def test_a_folder_that_cannot_be_written_is_amiss(tmp_path: Path) -> None:
    assert folder_look("this folder", tmp_path).right
    assert list(tmp_path.iterdir()) == []  # nothing is left there
    look = folder_look("this folder", tmp_path / "none")
    assert not look.right and look.needed and "cannot be written" in look.found


def test_a_full_disk_is_amiss(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    free = type("Usage", (), {"free": 3e6})()
    monkeypatch.setattr("shutil.disk_usage", lambda folder: free)
    look = folder_look("this folder", tmp_path)
    assert not look.right and "3 MB free" in look.found and "room" in look.remedy


@pytest.mark.parametrize(
    ("encoding", "right"),
    [("utf-8", True), ("latin-1", True), ("ascii", False), ("koi8-r", False), ("", False)],
)
def test_letters(encoding: str, right: bool) -> None:
    look = letters_look(encoding)
    assert look.right is right and "PYTHONUTF8" in look.remedy


def test_a_terminal_without_the_letters_is_told_so_in_letters_it_has() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "planner", "ready"],
        capture_output=True,
        cwd=ROOT,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "koi8-r", "PYTHONUTF8": "0"},
    )
    assert done.returncode == 1, done.stderr
    assert b"letters printed" in done.stderr and b"internal-error" not in done.stderr
