"""``pommel --version``: pommel, the kernel as it is installed, the formats."""

from __future__ import annotations

import re
from importlib.metadata import PackageNotFoundError, version

import pytest
from commands import call
from jobs import ROOT

from planner import __version__


def test_it_names_pommel_the_kernel_and_the_formats() -> None:
    said = call("--version")
    first, cadquery, ocp, read, json = said.stdout.splitlines()
    assert said.exit_code == 0 and first == f"pommel, version {__version__}"
    assert cadquery == f"cadquery {version('cadquery')}"
    assert ocp == f"cadquery-ocp {version('cadquery-ocp')}"
    assert read == "formats read: job 1, readings 1, made 1, balls 1, moves 1"
    assert "check 1, " in json and "package 1, " in json and "record 1" in json


def test_a_kernel_that_is_not_there_is_said_to_be_so(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(name: str) -> str:
        raise PackageNotFoundError(name)

    monkeypatch.setattr("importlib.metadata.version", none)
    said = call("--version")
    assert said.exit_code == 0 and "cadquery is not installed" in said.stdout


def test_the_change_log_has_this_version_and_the_number_is_semantic() -> None:
    # semver.org 2.0.0, clause 2
    assert re.fullmatch(r"(0|[1-9]\d*)\.(0|[1-9]\d*)\.(0|[1-9]\d*)", __version__)
    log = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## (\d+\.\d+\.\d+)", log, re.M)
    assert versions[0] == __version__
    numbers = [tuple(map(int, one.split("."))) for one in versions]
    assert numbers == sorted(numbers, reverse=True) and len(set(numbers)) == len(numbers)
