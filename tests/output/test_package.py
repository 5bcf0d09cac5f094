"""The build package: whole, listed, the same every time, and nothing of the user's touched."""

from __future__ import annotations

import csv
import json
import os
from hashlib import sha256
from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT

from planner.output.package import MANIFEST, build
from planner.output.plan import Plan
from planner.words.findings import BadInput

BENCH = ROOT / "examples" / "bench-lathe.toml"


def quiet(_text: str) -> None:
    """Progress nobody reads."""


def contents(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each example, built once."""
    folder: Path = tmp_path_factory.mktemp("built") / "package"
    build(Plan(request.param), folder, quiet)
    return folder


def test_the_manifest_lists_every_file_with_its_hash(built: Path) -> None:
    manifest = json.loads((built / MANIFEST).read_text(encoding="utf-8"))
    listed = {entry["path"]: entry for entry in manifest["files"]}
    found = contents(built)
    found.pop(MANIFEST)
    assert set(listed) == set(found)
    for path, data in found.items():
        assert listed[path]["sha256"] == sha256(data).hexdigest()
        assert listed[path]["bytes"] == len(data) > 0
        assert listed[path]["what"]


def test_every_part_has_its_step_and_its_views(built: Path) -> None:
    names = set(contents(built))
    sizes = json.loads((built / "data" / "sizes.json").read_text(encoding="utf-8"))
    assert sizes["findings"] == []
    for part in ("housing", "rotating-body", "sliding-head", "feed-screw", "dial", "handle"):
        assert {f"solids/{part}.step", f"drawings/{part}-views.dxf"} <= names
    assert "solids/attachment.step" in names
    assert any(name.endswith("arm-profile.dxf") for name in names)


def test_csv_and_json_say_the_same(built: Path) -> None:
    for topic, table in (("cutlist", "pieces"), ("dial", "dial"), ("route", "route")):
        name = f"{topic}.csv" if topic == table else f"{topic}-{table}.csv"
        rows = list(
            csv.DictReader((built / "tables" / name).read_text(encoding="utf-8").splitlines())
        )
        records = json.loads((built / "data" / f"{topic}.json").read_text(encoding="utf-8"))
        records = records["tables"][table]
        assert len(rows) == len(records) > 0
        for row, record in zip(rows, records, strict=True):
            assert list(row) == list(record)
            for key, value in record.items():
                assert row[key] == ("" if value is None else str(value))


def test_no_file_carries_a_path_of_the_machine_that_made_it(built: Path) -> None:
    for name, data in contents(built).items():
        assert str(built.parent).encode() not in data, name
        assert str(ROOT).encode() not in data, name


def test_the_same_job_builds_the_same_bytes(tmp_path: Path) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    build(Plan(BENCH), first, quiet)
    build(Plan(BENCH), second, quiet)
    assert contents(first) == contents(second)


def test_an_untouched_package_is_replaced_and_a_touched_one_is_not(tmp_path: Path) -> None:
    folder = tmp_path / "package"
    build(Plan(BENCH), folder, quiet)
    build(Plan(BENCH), folder, quiet)
    (folder / "route.txt").write_text("my own notes")
    before = contents(folder)
    with pytest.raises(BadInput, match=r"route\.txt"):
        build(Plan(BENCH), folder, quiet)
    assert contents(folder) == before
    assert [p.name for p in tmp_path.iterdir()] == ["package"]


def test_a_folder_of_the_users_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "photo.jpg").write_bytes(b"x")
    with pytest.raises(BadInput, match=r"photo\.jpg"):
        build(Plan(BENCH), folder, quiet)
    assert contents(folder) == {"photo.jpg": b"x"}


def test_a_failure_half_way_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_arguments: object, **_named: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("planner.solids.write_assembly_step", full)
    with pytest.raises(BadInput, match="No space left"):
        build(Plan(BENCH), tmp_path / "package", quiet)
    assert list(tmp_path.iterdir()) == []


def test_a_target_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("x")
    with pytest.raises(BadInput, match="a file of that name"):
        build(Plan(BENCH), blocked, quiet)
    with pytest.raises(BadInput, match="cannot be written"):
        build(Plan(BENCH), blocked / "package", quiet)
    if os.geteuid() != 0:
        tmp_path.chmod(0o500)
        with pytest.raises(BadInput, match="cannot be written"):
            build(Plan(BENCH), tmp_path / "package", quiet)
        tmp_path.chmod(0o700)


def test_a_torch_too_wide_for_a_piece_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    job = tmp_path / "wide.toml"
    torch = '\n[shop.torch]\nkerf = "10 mm"\nleast_hole = "0 mm"\n'
    job.write_text(BENCH.read_text(encoding="utf-8") + torch, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        build(Plan(job), tmp_path / "package", quiet)
    (found,) = caught.value.findings
    assert (found.code, found.key) == ("torch-room", "shop.torch")
    assert "5 mm" in found.limit and os.listdir(tmp_path) == ["wide.toml"]
