"""The command that draws the sheets: what it writes, and what it refuses."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from commands import call
from jobs import ROOT

BENCH = str(ROOT / "examples" / "bench-lathe.toml")


def test_it_writes_each_sheet_of_a_part_and_says_so(tmp_path: Path) -> None:
    """The DXF has as many dimensions as JSON says (read by ezdxf), the SVG is as large as its paper."""
    out = tmp_path / "sheets"
    answer = call("draw", BENCH, "sliding-head", "--out", str(out), "--json")
    record = json.loads(answer.stdout)
    assert record["format"] == "pommel.draw/1" and record["folder"] == str(out)
    names = [row["name"] for row in record["sheets"]]
    assert names == ["sliding-head-arm", "sliding-head-rod", "sliding-head-foot", "sliding-head"]
    assert sorted(p.name for p in out.iterdir()) == sorted(record["files"])
    revisions: set[str] = set()
    papers = {"A4": {210.0, 297.0}, "A3": {297.0, 420.0}}  # ISO 216
    for row in record["sheets"]:
        stem = out / f"{row['number']:02d}-{row['name']}"
        doc = ezdxf.readfile(stem.with_suffix(".dxf"))  # type: ignore[attr-defined]
        assert len(doc.modelspace().query("DIMENSION")) == row["dimensions"] > 0
        assert not doc.audit().errors
        root = ElementTree.parse(stem.with_suffix(".svg")).getroot()
        size = {float(root.attrib[key].removesuffix("mm")) for key in ("width", "height")}
        assert size == papers[row["paper"]]
        assert row["projection"] == "first"
        # the revision: another where another job name makes other sheets; six letters of a hash
        hashes = [words for words in root.itertext() if re.fullmatch("[0-9a-f]{6}", words)]
        assert len(hashes) == 1
        revisions.add(hashes[0])
    assert len(revisions) == 1


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one", "two"):
        call("draw", BENCH, "dial", "--out", str(tmp_path / name))
    files = sorted(p.name for p in (tmp_path / "one").iterdir())
    assert files
    for file in files:
        assert (tmp_path / "one" / file).read_bytes() == (tmp_path / "two" / file).read_bytes()


@pytest.mark.parametrize(("sheet", "projection"), [("Tabloid", "third"), ("A3", "first")])
def test_paper_and_projection_are_those_asked_for(
    sheet: str, projection: str, tmp_path: Path
) -> None:
    asked = ("--sheet", sheet, "--projection", projection, "--out", str(tmp_path / "s"), "--json")
    record = json.loads(call("draw", BENCH, "stop-bar", *asked).stdout)
    assert [(r["paper"], r["projection"]) for r in record["sheets"]] == [(sheet, projection)]


def test_a_part_that_is_none_and_a_folder_that_is_there_are_refused(tmp_path: Path) -> None:
    answer = call("draw", BENCH, "flywheel", "--out", str(tmp_path / "s"), "--json")
    assert answer.exit_code == 2
    found = json.loads(answer.stdout)["findings"]
    assert [one["code"] for one in found] == ["no-such-part"] and "feed-screw" in found[0]["remedy"]
    assert not (tmp_path / "s").exists()
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "keep.txt").write_text("mine")
    answer = call("draw", BENCH, "knob", "--out", str(tmp_path / "mine"), "--json")
    assert answer.exit_code == 2
    assert [one["code"] for one in json.loads(answer.stdout)["findings"]] == ["already-there"]
    assert [p.name for p in (tmp_path / "mine").iterdir()] == ["keep.txt"]


def test_a_sheet_that_finds_no_place_is_told_and_a_page_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At one scale only, five times as large, the body has no room on either paper."""
    from planner.drawing import layout

    monkeypatch.setattr(layout, "SCALES", ("5:1",))
    answer = call("draw", BENCH, "rotating-body", "--out", str(tmp_path / "s"), "--json")
    record = json.loads(answer.stdout)
    assert answer.exit_code == 1
    (body,) = (row for row in record["sheets"] if row["name"] == "rotating-body")
    assert (body["title"], body["paper"], body["dimensions"]) == ("Rotating body", "A4", 0)
    found = [one for one in record["findings"] if one["value"] == body["title"]]
    assert [one["code"] for one in found] == ["sheet-too-small"]
    assert "views" not in found[0]["remedy"] and "rotating-body.step" in found[0]["remedy"]
    stem = f"{body['number']:02d}-rotating-body"
    assert {f"{stem}.svg", f"{stem}.dxf"} <= set(record["files"])
    texts = ezdxf.readfile(tmp_path / "s" / f"{stem}.dxf").modelspace().query("TEXT")
    assert "Rotating body finds no place" in " ".join(one.dxf.text for one in texts)
