"""The tracked example against a fresh build, byte for byte, with the versions that are pinned."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest
from jobs import ROOT

TRACKED = ROOT / "exports" / "bench-lathe"
BOUND = ("cadquery", "ezdxf", "numpy", "shapely", "tabulate")
"""Libraries whose version the bytes of a package depend on."""


def pins() -> dict[str, str]:
    """The versions of constraints.txt."""
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    return {
        name.lower(): number
        for name, _, number in (line.partition("==") for line in lines if "==" in line)
    }


def files(folder: Path) -> dict[str, bytes]:
    """Every file of a package by its path, but the manifest, which names the program's own hash."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != "package.json"
    }


def test_only_one_example_is_tracked_and_it_is_whole() -> None:
    manifest = json.loads((TRACKED / "package.json").read_text(encoding="utf-8"))
    assert {entry["path"] for entry in manifest["files"]} == set(files(TRACKED))
    ignored = (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()
    assert {"/exports/*", "!/exports/bench-lathe/"} <= set(ignored)


def test_a_fresh_build_is_the_tracked_example(packages: Callable[[Path], Path]) -> None:
    other = [name for name in BOUND if version(name) != pins()[name]]
    if other:
        pytest.skip(f"other versions than constraints.txt has: {', '.join(other)}")
    made, tracked = files(packages(ROOT / "examples" / "bench-lathe.toml")), files(TRACKED)
    assert set(made) == set(tracked)
    assert [name for name in made if made[name] != tracked[name]] == []
