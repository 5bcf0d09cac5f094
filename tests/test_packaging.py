"""What is shipped: licence, declared dependencies, data files, and where each comes from."""

from __future__ import annotations

import ast
import csv
import fnmatch
import re
import sys
import tomllib
from pathlib import Path

from jobs import ROOT
from sources import nodes, sources

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
FLOORS = ("parts", "planner")

KNOWN_AS = {"OCP": "cadquery", "pydantic_core": "pydantic"}
"""Modules that come with a package of another name."""


def shipped() -> list[Path]:
    """Every file of the two floors that is no Python source."""
    return [
        path
        for floor in FLOORS
        for path in sorted((ROOT / floor).rglob("*"))
        if path.is_file() and path.suffix not in (".py", ".pyc")
    ]


def test_the_licence_is_named_and_there() -> None:
    assert PROJECT["project"]["license"] == "MIT"
    text = (ROOT / "LICENSE").read_text(encoding="utf-8")
    # the grant and the disclaimer as the Open Source Initiative prints them
    assert text.startswith("MIT License") and "the pommel developers" in text
    assert 'THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND' in text
    assert PROJECT["project"]["authors"] == [{"name": "the pommel developers"}]


def test_every_data_file_goes_into_the_wheel() -> None:
    data = PROJECT["tool"]["setuptools"]["package-data"]
    assert len(shipped()) > 15
    for path in shipped():
        package = ".".join(path.parent.relative_to(ROOT).parts)
        patterns = data.get(package, [])
        assert any(fnmatch.fnmatch(path.name, one) for one in patterns), path


def test_every_data_file_says_where_it_is_from() -> None:
    for path in shipped():
        if path.suffix == ".ttf":  # a font: its licence is shipped and names it
            licences = [one.read_text("utf-8") for one in (ROOT / "LICENSES").glob("*.txt")]
            place = path.relative_to(ROOT).as_posix()
            assert any(place in one and "Permission is hereby granted" in one for one in licences)
            continue
        text = path.read_text(encoding="utf-8")
        if path.parent.name == "page":  # ours: written by hand, no library in it
            begins = {".js": "// ", ".css": "/* ", ".html": "<!-- ", ".json": '{\n "about": '}
            assert text.startswith(begins[path.suffix]), path
            assert not any(word in text for word in ("@license", "Copyright", "sourceMappingURL"))
            continue
        if path.suffix == ".csv":
            lines = [line for line in text.splitlines() if line and not line.startswith("#")]
            rows = list(csv.DictReader(lines))
            assert rows, path
            keyed = path.stem == "sources"
            assert keyed or all(row["source"] and row["mark"] for row in rows), path
        else:  # our own words: a comment at the top says what they are for
            assert text.startswith(("#", "// ")), path


def imported() -> set[str]:
    """Every top-level module that the two floors import and that is none of Python's or ours."""
    found = set()
    for path in sources():
        for node in nodes(path):
            if isinstance(node, ast.Import):
                found |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.split(".")[0])
    return {KNOWN_AS.get(name, name) for name in found - set(sys.stdlib_module_names) - set(FLOORS)}


def test_dependencies_are_what_is_imported() -> None:
    optional = PROJECT["project"]["optional-dependencies"]
    names = PROJECT["project"]["dependencies"] + optional["watch"]
    assert imported() == {re.split(r"[<>=!~ \[]", one)[0] for one in names}


def test_licences_of_what_is_shipped_go_into_the_wheel() -> None:
    patterns = PROJECT["project"]["license-files"]
    for path in [ROOT / "LICENSE", *(ROOT / "LICENSES").iterdir()]:
        place = path.relative_to(ROOT).as_posix()
        assert any(fnmatch.fnmatch(place, one) for one in patterns), place


def test_every_dependency_is_pinned_for_the_tests() -> None:
    pins = {}
    for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            name, _, version = line.partition("==")
            pins[name.lower().replace("_", "-")] = version
            assert re.fullmatch(r"[\w.]+", version), line
    optional = PROJECT["project"]["optional-dependencies"]
    wanted = PROJECT["project"]["dependencies"] + optional["watch"] + optional["test"]
    for one in wanted:
        assert re.split(r"[<>=!~ \[]", one)[0].lower() in pins, one
