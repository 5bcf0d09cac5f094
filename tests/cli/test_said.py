"""What the commands say of a slip, whole sentences as a machinist reads them, written by hand."""

from __future__ import annotations

import os
import re
import shlex
import tempfile
import tomllib
from pathlib import Path

import click
import pytest
from commands import call
from jobs import ROOT

from planner import __version__
from planner.cli import answer
from planner.cli.net import Terminated, caught, internal_error, library_missing
from planner.cli.topics import help_text
from planner.output.topics import TOPICS


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("said") / "my-lathe.toml"
    path.write_bytes((ROOT / "examples" / "bench-lathe.toml").read_bytes())
    return path


@pytest.mark.parametrize(
    "words, says",
    [
        (
            "",
            "note [nothing-recorded]: RECORD: nothing is recorded yet. Record with --made or --done",
        ),
        (
            "--gauge caliper",
            "refused [missing-key]: record: --made: nothing is recorded with it."
            " Give --made or --done too",
        ),
        (
            "--made housing 'upper weld' 3",
            "refused [no-size]: record: --made: housing, upper weld: has no one size to measure."
            " Record it with --done",
        ),
        (
            # under a thousandth of a millimetre no shop measures, past 20 m no lathe turns
            "--made dial rim 0.00099 --made dial rim 20000.1 --made dial rim much",
            "refused [out-of-range]: record: --made: 0.00099 mm: no size that can be measured."
            " Check the unit\n"
            "refused [out-of-range]: record: --made: 20000.1 mm: no size that can be measured."
            " Check the unit\n"
            "refused [not-a-length]: record: --made: much: not a length."
            ' Write a length such as "12 mm" or "1/2 in"',
        ),
        (
            "--done dial rim --date today",
            "refused [wrong-value]: record: --date: today: not a day. Write it as in 2026-11-28",
        ),
    ],
)
def test_what_cannot_be_recorded_is_told(job: Path, words: str, says: str) -> None:
    said = call("record", str(job), *shlex.split(words))
    folder = str(job.with_name("my-lathe-record"))
    assert said.stderr.replace(folder, "RECORD").strip() == says
    assert said.exit_code == (0 if says.startswith("note") else 2)
    assert not Path(folder).exists()


def test_the_least_and_the_longest_that_is_measured_is_recorded(job: Path, tmp_path: Path) -> None:
    other = tmp_path / "lathe.toml"
    other.write_bytes(job.read_bytes())
    words = "--made dial rim 0.001 --made dial knurl 20000 --done dial rim --date 2026-11-28"
    said = call("record", str(other), *shlex.split(words))
    assert (
        said.exit_code == 1
        and [line.split(":")[0] for line in said.stderr.splitlines()]
        == ["warning [out-of-limits]"] * 2
    )
    text = (tmp_path / "lathe-record" / "made.toml").read_text(encoding="utf-8")
    assert [one["value"] for one in tomllib.loads(text)["size"]] == ["0.001 mm", "20000 mm"]


@pytest.mark.parametrize(
    "words, code, says",
    [
        (
            "bolt",
            2,
            "refused [unknown-kind]: list: bolt: there is no list of that. Did you mean bolts?",
        ),
        (
            "zzz",
            2,
            "refused [unknown-kind]: list: zzz: there is no list of that."
            " See the kinds with: pommel list",
        ),
        (
            "materials --like zzz",
            1,
            "warning [none-listed]: list: materials: zzz: no row is like that."
            " See all of them with: pommel list materials",
        ),
        (
            "plates --metric",
            2,
            "refused [no-filter]: list: plates: has no metric and inch series."
            " Leave --metric/--inch out",
        ),
        (
            "threads --shape round",
            2,
            "refused [no-filter]: list: threads: have no shape. Leave --shape out",
        ),
        (
            "sections --shape oval",
            2,
            "refused [not-a-choice]: list: --shape: oval: a shape is one of round, square, flat, tube."
            " Name one",
        ),
    ],
)
def test_what_cannot_be_listed_is_told(words: str, code: int, says: str) -> None:
    said = call("list", *shlex.split(words))
    assert (said.stderr.strip(), said.exit_code, said.stdout) == (says, code, "")


def test_a_new_file_says_what_is_next_and_is_never_written_over(tmp_path: Path) -> None:
    file, readings = tmp_path / "new.toml", tmp_path / "readings.toml"
    said = call("new", str(file))
    assert said.stdout == f"wrote {file}: fill in your lathe, then: pommel sizes {file}\n"
    said = call("new", str(readings), "--readings")
    assert said.stdout == (
        f"wrote {readings}: fill in what you measured, then: pommel correct JOB {readings}\n"
    )
    said = call("new", str(file))
    assert said.exit_code == 2 and said.stderr.strip() == (
        f"refused [already-there]: {file}: is there already. Choose another name"
    )


def test_the_codes_are_listed_under_what_they_are_about() -> None:
    # the register read here by the standard library: each heading once, its codes under it
    text = (ROOT / "planner" / "words" / "register.toml").read_text(encoding="utf-8")
    entries = tomllib.loads(text)
    lines = call("explain").stdout.splitlines()
    heads = [line for line in lines if line and not line.startswith(" ")]
    assert len(heads) == len(set(heads)) > 5
    under: dict[str, str] = {}
    for line in lines:
        if line in heads:
            head = line
        elif found := re.match(r"  ([a-z0-9-]+) \((.*)\)$", line):
            under[found[1]] = head
    about = {code: one["about"] for code, one in entries.items() if isinstance(one, dict)}
    assert under == about
    at = [lines.index(head) for head in heads]
    assert at[0] == 0 and all(lines[k - 1] == "" for k in at[1:])
    one = call("explain", "thin-wall").stdout.splitlines()
    assert one[0] == f"thin-wall: {' or '.join(entries['thin-wall']['severities'])}"
    assert one[1:] == [entries["thin-wall"]["meaning"], entries["thin-wall"]["remedy"]]


def test_a_flag_that_asks_something_else_says_what_it_answers() -> None:
    (sizes,) = (topic for topic in TOPICS if topic.name == "sizes")
    assert help_text(sizes).endswith(
        ' With --largest only: format ("pommel.largest/1"), job, largest_ball_mm, bound, findings.'
    )


# ---- the outermost net, without a process of its own ----


def a_fault() -> ValueError:
    try:
        raise ValueError("a slip\nof ours")
    except ValueError as error:
        return error


def test_a_fault_of_ours_is_told_with_where_its_traceback_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    found = internal_error(a_fault(), ["pommel", "sizes", "job.toml"])
    (file,) = tmp_path.iterdir()
    assert file.name.startswith("pommel-") and file.suffix == ".txt"
    assert (found.code, found.file, found.value) == ("internal-error", "pommel", "of ours")
    assert found.limit == f"a fault of pommel, not of the input; its traceback is in {file}"
    assert found.remedy == "Send that file with the job to those who keep pommel"
    text = file.read_text(encoding="utf-8")
    assert re.match(
        rf"pommel {re.escape(__version__)}, Python [\d.]+\S*: pommel sizes job.toml\n\nTraceback",
        text,
    )
    assert text.rstrip().endswith("ValueError: a slip\nof ours")


@pytest.mark.parametrize("own", [False, True])
def test_a_traceback_is_never_left_in_the_folder_one_works_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], own: bool
) -> None:
    # where the system has no folder for temporary files Python takes the one it stands in; only
    # who names that one by TMPDIR wants it
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(tempfile, "tempdir", os.getcwd())
    monkeypatch.delenv("TMPDIR", raising=False)
    if own:
        monkeypatch.setenv("TMPDIR", str(tmp_path))
    found = internal_error(a_fault(), ["pommel"])
    assert len(list(tmp_path.iterdir())) == own
    told = capsys.readouterr().err
    assert ("ValueError: a slip" in told) is not own
    if not own:
        assert found.limit == "a fault of pommel, not of the input; its traceback stands above"
        assert found.remedy == "Send it with the job to those who keep pommel"


def test_a_library_that_is_not_there_is_told_with_how_to_get_it() -> None:
    found = library_missing(ModuleNotFoundError("no", name="shapely.geometry"))
    assert found is not None and found.text.startswith(
        "not installed: this command needs it. Install"
    )
    assert found.key == "shapely" and found.remedy.endswith(
        " -m pip install shapely; then: pommel ready"
    )
    for ours in ("planner.wings", "parts.wings", None):
        assert library_missing(ModuleNotFoundError("no", name=ours)) is None
    assert library_missing(ImportError("no", name="shapely")) is None


@pytest.mark.parametrize(
    "end, code, says",
    [
        (Terminated(), 143, "terminated\n"),
        (KeyboardInterrupt(), 130, "interrupted\n"),  # 128 and the signal's number (POSIX shells)
        (click.Abort(), 130, "interrupted\n"),
        (click.exceptions.Exit(7), 7, ""),
        (click.UsageError("no such thing"), 2, None),
        (ModuleNotFoundError("no", name="scipy"), 2, None),
    ],
)
def test_however_a_command_ends_it_ends_in_words_and_with_its_code(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    end: BaseException,
    code: int,
    says: str | None,
) -> None:
    monkeypatch.setattr("planner.cli.net.deaf", lambda: None)  # the test's own signals stay

    @click.command()
    def ends() -> None:
        raise end

    group = click.Group("pommel", commands={"ends": ends})
    assert caught(group, "pommel", ["ends"]) == code
    told = capsys.readouterr().err
    assert told == says if says is not None else told


def test_an_answer_that_cannot_be_printed_is_told(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told: list[str] = []

    def full(text: str, nl: bool = True, err: bool = False) -> None:
        if not err:
            raise OSError(28, "No space left on device")
        told.append(text)

    monkeypatch.setattr(answer, "mute", lambda stream: None)  # the test's own streams stay
    monkeypatch.setattr(answer.click, "echo", full)
    with pytest.raises(SystemExit) as caught:
        answer.say("an answer")
    assert caught.value.code == 2
    assert told == ["the answer cannot be printed (No space left on device)"]


@pytest.mark.parametrize("there", [False, True])
@pytest.mark.parametrize("printed", [False, True])
def test_a_package_says_where_it_is_and_what_to_open_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool, printed: bool
) -> None:
    # the package itself is built by the tests of the output room; here only what is said of it
    paths = ["a.txt", "b.txt", "book.pdf" if printed else "drawings/01-a.svg"]
    files = [{"path": path} for path in paths]
    manifest = {"findings": [], "files": files, "open_first": "START.txt"}
    monkeypatch.setattr("planner.output.package.mended", lambda target: None)
    known = manifest if there else None
    monkeypatch.setattr("planner.output.package.unchanged", lambda job, target: known)
    monkeypatch.setattr("planner.cli.build._made", lambda job, target, fresh: manifest)
    target = tmp_path / "made"
    said = call("build", str(tmp_path / "job.toml"), "--out", str(target))
    assert said.exit_code == 0 and said.stderr == ("unchanged\n" if there else "")
    book = f"print and build by: {target / 'book.pdf'}\n" if printed else ""
    assert said.stdout == (
        f"{target}: 3 files, listed in package.json\nopen first: {target / 'START.txt'}\n{book}"
    )


def test_the_route_says_first_what_the_check_refuses(tmp_path: Path) -> None:
    """A centre 60 thick holds the head back past the equator, so that no ball comes of it; as it was,
    route said nothing of what check refuses. A job that check takes is not told of."""
    job = tmp_path / "centre.toml"
    text = (ROOT / "examples" / "bench-lathe.toml").read_text("utf-8")
    assert "[turning]\n" not in text
    job.write_text(
        text + "\n[turning]\ntailstock_centre = { diameter = 60, point_length = 20 }\n", "utf-8"
    )
    checked, routed = call("check", str(job)), call("route", str(job))
    codes = re.findall(r"^refused \[(\S+)\]", checked.stderr, re.MULTILINE)
    assert "centre" in codes and routed.exit_code == 1
    (told,) = [one for one in routed.stderr.splitlines() if "[check-refuses]" in one]
    assert all(code in told for code in codes) and "pommel check" in told
    firsts = [one for one in routed.stderr.splitlines() if one.startswith(("warning", "refused"))]
    assert firsts[0] == told
    sound = call("route", str(ROOT / "examples" / "bench-lathe.toml"))
    assert "check-refuses" not in sound.stderr
