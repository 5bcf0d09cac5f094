"""The dial's files of the package: sheet, strip and rim of the same dial; what is said without PDF."""

from __future__ import annotations

import io
import tomllib
from math import pi
from pathlib import Path

import ezdxf
import pypdf
import pytest
from commands import call
from jobs import ROOT

from planner.drawing.pdf import BOUNDS, NEEDS
from planner.output.part_sheets import ground
from planner.output.plan import Plan
from planner.output.topics import topic

POINTS = 72 / 25.4


DIVISIONS = {"bench-lathe": 50, "engine-lathe": 100, "inch-lathe": 50}
"""As the example jobs ask for."""


def test_the_files_show_the_jobs_own_dial(plan: Plan, tmp_path: Path) -> None:
    one = topic("dial")
    for file in one.files(one, plan):
        if file.path.startswith("drawings/"):
            file.write(tmp_path)
    drawings = tmp_path / "drawings"
    assert {path.name for path in drawings.iterdir()} == {
        *("dial-sheet.svg", "dial-sheet.dxf", "dial-strip-1.svg", "dial.pdf"),
        *("dial-rim-R2010.dxf", "dial-rim-R12.dxf"),
    }
    sizes, divisions = plan.sizing.sizes, DIVISIONS[plan.job.name]
    assert sizes.dial_divisions == divisions
    read = pypdf.PdfReader(io.BytesIO((drawings / "dial.pdf").read_bytes()))
    assert read.metadata and str(read.metadata.title).startswith("Dial, ")
    pages = read.pages
    assert len(pages) == 2
    # A4 in a metric shop, Letter in an inch one
    size = (215.9, 279.4) if plan.job.name == "inch-lathe" else (210, 297)
    for page in pages:
        assert float(page.mediabox.width) / POINTS == pytest.approx(size[0], abs=0.01)
        assert float(page.mediabox.height) / POINTS == pytest.approx(size[1], abs=0.01)
        assert f"{divisions} divisions" in page.extract_text()
    space = ezdxf.readfile(drawings / "dial-rim-R2010.dxf").modelspace()
    lines = [one for one in space.query("LINE") if one.dxf.layer == "LINES"]
    assert len(lines) == divisions
    # the graver's file is in the shop's own unit
    unit = 25.4 if plan.job.name == "inch-lathe" else 1.0
    last = unit * max(line.dxf.start.x for line in lines)
    assert last == pytest.approx(pi * sizes.dial_diameter_mm * (1 - 1 / divisions), abs=1e-5)


def test_the_dials_pages_have_the_revision_of_the_parts_sheets(bench: Plan, tmp_path: Path) -> None:
    """A page of an older dial among newer sheets is told by it (ISO 7200: revision
    index, from memory)."""
    one = topic("dial")
    (file,) = [file for file in one.files(one, bench) if file.path == "drawings/dial.pdf"]
    file.write(tmp_path)
    of_parts = ground(bench).revision
    for page in pypdf.PdfReader(tmp_path / "drawings" / "dial.pdf").pages:
        words = page.extract_text().split()
        assert of_parts and words[words.index("Revision") + 1] == of_parts


def test_without_what_writes_pdf_the_rest_is_there_and_a_note_says_what_helps(
    monkeypatch: pytest.MonkeyPatch, bench: Plan
) -> None:
    job = ROOT / "examples" / "bench-lathe.toml"
    assert topic("dial").all_findings(bench, {}) == bench.findings
    monkeypatch.setattr("planner.drawing.pdf.NEEDS", "no_such_library_anywhere")
    told = call("dial", str(job))
    assert told.exit_code == 0 and "note [no-pdf]" in told.stderr
    assert "pip install" in told.stderr
    one = topic("dial")
    paths = [file.path for file in one.files(one, bench)]
    assert "drawings/dial-strip-1.svg" in paths and "drawings/dial.pdf" not in paths


def test_the_command_that_helps_installs_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert f"{NEEDS}{BOUNDS}" in project["dependencies"]
