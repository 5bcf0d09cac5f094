"""Building again: nothing where nothing changed, no kernel where no solid did, the same bytes."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pypdf
import pytest
import standin
from bound_books import Read
from commands import call
from jobs import ROOT
from standin import Job

from planner.output.package import MANIFEST, origin, unchanged
from planner.words.findings import BadInput, finding

BENCH = ROOT / "examples" / "bench-lathe.toml"

KERNEL = {"cadquery", "OCP"}
HEAVY = KERNEL | {"numpy", "scipy", "shapely", "pydantic", "ezdxf"}


def apart(job: Path, target: Path, unloaded: set[str], *more: str) -> tuple[int, str, str]:
    """Build in a process of its own and see that it has not loaded these: code, stdout, stderr."""
    code = (
        "import sys\n"
        "from planner.cli.main import run\n"
        f"sys.argv = {['pommel', 'build', str(job), '--out', str(target), *more]!r}\n"
        "try:\n    run()\n"
        "finally:\n"
        f"    loaded = {sorted(unloaded)!r}\n"
        "    print('loaded:', *(name for name in loaded if name in sys.modules), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False
    )
    told, _, loaded = done.stderr.rpartition("loaded:")
    assert loaded.split() == [], loaded
    return done.returncode, done.stdout, told


def contents(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, str, str]:
    """The bench lathe's job and its package, and what the build printed."""
    folder: Path = tmp_path_factory.mktemp("rebuilt")
    job = folder / "bench-lathe.toml"
    shutil.copy(BENCH, job)
    done = call("build", str(job), "--out", str(folder / "package"))
    return job, folder / "package", done.stdout, done.stderr


def test_an_unchanged_job_loads_nothing_and_says_the_same(
    built: tuple[Path, Path, str, str],
) -> None:
    job, package, said, told = built
    before = contents(package)
    code, again, words = apart(job, package, HEAVY)
    assert code == 0 and again == said
    findings = re.findall(r"^(?:note|warning|refused) \[.*$", told, re.M)
    assert words.splitlines() == ["unchanged", *findings] and findings
    assert contents(package) == before


def test_after_a_change_of_prices_and_rack_no_kernel_is_loaded_and_the_bytes_are_a_fresh_builds(
    built: tuple[Path, Path, str, str], tmp_path: Path
) -> None:
    job, package, *_ = built
    shutil.copytree(package, tmp_path / "package")
    text = job.read_text(encoding="utf-8")
    text, prices = re.subn(r"(price_per_metre|price) = ([\d.]+)", r"\1 = 1\2", text)
    text, bars = re.subn(r"^length = 310$", "length = 290", text, count=1, flags=re.M)
    other = tmp_path / job.name
    other.write_text(text, encoding="utf-8")
    assert prices and bars and tomllib.loads(other.read_text(encoding="utf-8"))
    code, _, told = apart(other, tmp_path / "package", KERNEL)
    assert code == 0 and "unchanged" not in told and "drawings/" not in told
    fresh = call("build", str(other), "--out", str(tmp_path / "fresh"), "--fresh")
    assert "solids/housing.step" in fresh.stderr and "solids/housing.step" not in told
    made, taken = contents(tmp_path / "fresh"), contents(tmp_path / "package")
    assert made == taken
    before = contents(package)
    assert made != before  # the prices do show
    drawn = [name for name in made if re.match(r"drawings/(sheets\.pdf|\d\d-)", name)]
    assert len(drawn) > 15 and all(made[name] == before[name] for name in drawn)


def test_after_a_change_of_the_jobs_name_the_sheets_are_drawn_anew_and_the_solids_taken_over(
    built: tuple[Path, Path, str, str], tmp_path: Path
) -> None:
    job, package, *_ = built
    shutil.copytree(package, tmp_path / "package")
    other = tmp_path / job.name
    other.write_text(f'name = "another name"\n{job.read_text(encoding="utf-8")}', encoding="utf-8")
    done = call("build", str(other), "--out", str(tmp_path / "package"))
    assert done.exit_code == 0 and "solids/housing.step" not in done.stderr
    said = done.stdout.splitlines()
    assert said[-2:] == [
        f"print and build by: {tmp_path / 'package' / 'book.pdf'}",
        f"at the lathe, in a phone's browser: {tmp_path / 'package' / 'page.html'}",
    ]
    before, after = contents(package), contents(tmp_path / "package")
    solids = [name for name in after if name.startswith("solids/")]
    assert len(solids) > 10 and all(after[name] == before[name] for name in solids)
    names = [name for name in after if re.match(r"drawings/\d\d-", name)]
    assert len(names) > 15 and all(after[name] != before[name] for name in names)
    read = pypdf.PdfReader(tmp_path / "package" / "drawings" / "sheets.pdf")
    assert len(read.outline) == len(names) and "another name" in read.pages[0].extract_text()
    assert all(str(mark.title).endswith(", another name") for mark in read.outline)  # type: ignore[union-attr]


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A stand-in's package of version one, just built."""
    (tmp_path / "job.toml").write_text("x")
    made = Job(tmp_path / "job.toml")
    standin.install(made, monkeypatch.setattr)
    standin.build(made, tmp_path / "package")
    assert made.made == 1
    return tmp_path


def again(place: Path, monkeypatch: pytest.MonkeyPatch, shape: str = "round", **asked: bool) -> int:
    """Build the next version over it; how often the solid was made."""
    made = Job(place / "job.toml", "two", shape)
    standin.install(made, monkeypatch.setattr)
    standin.build(made, place / "package", **asked)
    assert (place / "package" / "solids" / "c.step").read_text() == f"solid {shape}\n"
    return made.made


def test_solids_are_made_anew_when_what_they_are_made_of_is_other(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert again(place, monkeypatch) == 0
    assert again(place, monkeypatch, "square") == 1
    assert again(place, monkeypatch, "square") == 0
    assert again(place, monkeypatch, "square", fresh=True) == 1
    (place / "package" / "solids" / "c.step").unlink()
    assert again(place, monkeypatch, "square") == 1
    monkeypatch.setattr(origin, "_libraries", lambda: {"cadquery": "another"})
    assert again(place, monkeypatch, "square") == 1
    monkeypatch.setattr(origin, "_program_sha256", lambda: "another")
    assert again(place, monkeypatch, "square") == 1


def test_it_is_unchanged_only_when_job_program_libraries_and_every_file_are(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, package = place / "job.toml", place / "package"

    def same() -> bool:
        return unchanged(job, package) is not None

    assert same()
    with monkeypatch.context() as patch:
        patch.setattr(origin, "_libraries", lambda: {"cadquery": "another"})
        assert not same()
    with monkeypatch.context() as patch:
        patch.setattr(origin, "_program_sha256", lambda: "another")
        assert not same()
    assert same()
    job.write_text("y")
    assert not same()
    job.write_text("x")
    other = job.rename(place / "other.toml")
    assert unchanged(other, package) is None  # findings and titles may name the file
    other.rename(job)
    for path in contents(package):
        file = package / path
        before = file.read_bytes()
        file.write_bytes(before + b" ")
        assert not same(), path
        file.unlink()
        assert not same(), path
        file.write_bytes(before)
    assert same()
    (package / "mine").mkdir()
    assert not same()


def test_the_book_has_every_drawing_of_the_package_as_it_is(
    built: tuple[Path, Path, str, str],
) -> None:
    _, package, *_ = built
    book = Read((package / "book.pdf").read_bytes())
    sheets = Read((package / "drawings" / "sheets.pdf").read_bytes())
    pages = [page for _, title, page in book.marks if title.startswith("Sheet ")]
    assert len(pages) == len(sheets.words)
    for page, words, sheet in zip(pages, sheets.words, sheets.pdf, strict=True):
        assert book.pdf[page].get_size() == pytest.approx(sheet.get_size(), abs=0.01)
        assert book.words[page].startswith(words)  # then its foot
        assert f"{page + 1} / {len(book.words)}" in book.words[page].removeprefix(words)
        assert book.overprinted(page, feet_alone=True) == []
    cover = book.pdf[0].render(scale=1.0, grayscale=True).to_numpy()
    high = cover.shape[0]
    assert (cover[high // 6 : high // 2] < 128).sum() > 1500  # the attachment's lines


def test_a_kept_warning_is_told_again_with_its_exit_code(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = tmp_path / "job.toml"
    job.write_text("x = 1")
    made = Job(job)
    standin.install(made, monkeypatch.setattr)
    warning = finding("ball-form", str(job), "ball", "3", "more than 2", "Go slower", subject="B")
    assert warning.severity == "warning"
    monkeypatch.setattr("planner.output.package.write.build_findings", lambda _plan: (warning,))
    standin.build(made, tmp_path / "package")
    done = call("build", str(job), "--out", str(tmp_path / "package"))
    assert done.exit_code == 1
    assert done.stderr == f"unchanged\n{warning.message}\n"
    assert done.stdout.splitlines()[-1] == f"open first: {tmp_path / 'package' / 'README.txt'}"


def test_the_libraries_whose_versions_count_are_all_that_the_project_needs() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = {re.split(r"[^\w-]", one)[0] for one in project["dependencies"]}
    assert needed and needed <= set(origin.LIBRARIES)
    assert {"numpy", "cadquery-ocp"} <= set(origin.LIBRARIES)  # brought by those, and they compute
    assert "none" not in origin._libraries().values()


@pytest.mark.parametrize(
    "edit",
    [
        {"files": []},
        {"job": "mine"},
        {"findings": []},
        None,
    ],
)
def test_a_manifest_that_is_not_as_written_makes_it_no_package(
    place: Path, monkeypatch: pytest.MonkeyPatch, edit: dict[str, object] | None
) -> None:
    path = place / "package" / MANIFEST
    manifest = json.loads(path.read_text(encoding="utf-8"))
    if edit == {"findings": []}:
        path.write_text(path.read_text(encoding="utf-8") + "\n")  # the same, written otherwise
    else:
        path.write_text(
            json.dumps(edit if edit == {"files": []} else manifest | (edit or {"n": 1}))
        )
    before = contents(place / "package")
    with pytest.raises(BadInput) as refused:
        again(place, monkeypatch)
    assert [one.code for one in refused.value.findings] == ["foreign-files"]
    assert "package.json" in refused.value.findings[0].limit or edit == {"files": []}
    assert contents(place / "package") == before
    assert sorted(os.listdir(place)) == ["job.toml", "package"]


def test_a_folder_with_nothing_but_an_empty_list_of_files_is_no_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "job.toml").write_text("x")
    (tmp_path / "package").mkdir()
    (tmp_path / "package" / MANIFEST).write_text('{"files": []}')
    with pytest.raises(BadInput, match=r"package\.json"):
        again(tmp_path, monkeypatch)
    assert (tmp_path / "package" / MANIFEST).read_text() == '{"files": []}'


def test_a_file_become_a_link_is_the_users(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = place / "package" / "a.txt"
    file.rename(place / "elsewhere.txt")
    file.symlink_to(place / "elsewhere.txt")
    with pytest.raises(BadInput, match=r"a\.txt"):
        again(place, monkeypatch)
    assert file.is_symlink()


def test_a_link_is_followed_and_stays_one(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    link = place / "link"
    link.symlink_to("package")
    made = Job(place / "job.toml", "two")
    standin.install(made, monkeypatch.setattr)
    standin.build(made, link)
    assert link.is_symlink() and os.readlink(link) == "package"
    assert (place / "package" / "a.txt").read_text() == "text two\n"
    round_about = place / "round"
    round_about.symlink_to("round")
    with pytest.raises(BadInput, match="cannot be written"):
        standin.build(made, round_about)
    assert round_about.is_symlink()
