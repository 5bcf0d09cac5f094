"""Reading a record: every problem at once, the user's own keys and comments kept, odd files told."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from planner.record.adding import add_ball, add_made, new_text, with_entries
from planner.record.files import record_folder
from planner.record.model import BallReading, BallTurned, Setting
from planner.record.reading import read_record
from planner.words.findings import BadInput

WHOLE = """\
# my notes
format = 1
units = "mm"
shop = "the shed"          # a key of my own

[[size]]
part = "rod"
feature = "rod"            # turned on Saturday
value = 16.002
gauge = "micrometer"
date = 2026-11-28
by = "me"

[[done]]
part = "housing"
feature = "oil hole"
date = "2026-11-27"
"""
LINE = '{"ball": "knob", "setting": {"diameter_mm": 40}, "verdict": "good"}'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The name of a job whose record folder is there, and empty."""
    (tmp_path / "job-record").mkdir()
    return tmp_path / "job.toml"


def put(job: Path, name: str, text: str | bytes) -> Path:
    path = record_folder(job) / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def refused(job: Path) -> list[tuple[str, str]]:
    """The codes and keys of what is wrong, each finding whole."""
    with pytest.raises(BadInput) as caught:
        read_record(job)
    for found in caught.value.findings:
        assert found.severity == "refused" and found.limit and found.remedy
    return [(found.code, found.key) for found in caught.value.findings]


def test_nothing_is_there_to_begin_with(job: Path, tmp_path: Path) -> None:
    for one in (job, tmp_path / "other.toml"):
        kept = read_record(one)
        assert (kept.made.size, kept.made.done, kept.balls) == ([], [], ())
        assert kept.text is None and kept.findings == ()


def test_a_file_written_by_hand_is_read(job: Path) -> None:
    put(job, "made.toml", WHOLE)
    kept = read_record(job)
    (size,), (done,) = kept.made.size, kept.made.done
    assert (size.part, size.feature, size.value, size.gauge) == ("rod", "rod", 16.002, "micrometer")
    assert (size.date, done.date) == (date(2026, 11, 28), date(2026, 11, 27))
    assert size.feature_sha256 == "" and kept.made.format == 1
    told = [(one.severity, one.code, one.key) for one in kept.findings]
    assert told == [("note", "own-key", "shop"), ("note", "own-key", "size[1].by")]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("tail", ["", "# the end", "\n\n"])
def test_what_stands_there_stays_to_the_byte(job: Path, end: str, tail: str) -> None:
    text = (WHOLE + tail).replace("\n", end)
    path = put(job, "made.toml", text)
    own = {
        "part": "dial",
        "feature": 'a "quoted" name',
        "value": "1/2 in",
        "date": date(2026, 1, 2),
    }
    add_made(job, [("size", own), ("done", {"part": "a", "feature": "b\\c"})], "mm")
    after = path.read_bytes().decode("utf-8")
    assert after.startswith(text)
    assert after.count("\n") == after.count(end)
    kept = read_record(job)
    assert (kept.made.size[-1].value, kept.made.size[-1].feature) == (12.7, 'a "quoted" name')
    assert kept.made.size[-1].date == date(2026, 1, 2) and len(kept.made.done) == 2
    assert kept.made.done[-1].feature == "b\\c"


@pytest.mark.parametrize(
    "text", ["", "format = 1", "# nothing yet\n", "size = []\n[other]\na = 1\n"]
)
def test_an_almost_empty_file_can_be_added_to_or_is_told(job: Path, text: str) -> None:
    path = put(job, "made.toml", text)
    entries: Any = [("size", {"part": "rod", "feature": "rod", "value": "1 mm"})]
    if "size = []" not in text:
        add_made(job, entries, "mm")
        assert path.read_text(encoding="utf-8").startswith(text)
        assert len(read_record(job).made.size) == 1
        return
    with pytest.raises(BadInput) as caught:
        add_made(job, entries, "mm")
    assert [one.code for one in caught.value.findings] == ["record-form"]
    assert path.read_text(encoding="utf-8") == text


def test_an_entry_that_is_not_in_order_is_never_written(job: Path) -> None:
    for wrong in ({"value": "1 mm"}, {"part": "a", "feature": "b", "value": "much"}):
        with pytest.raises(BadInput):
            with_entries(new_text("job.toml", "mm"), [("size", wrong)], job)


def test_every_problem_of_both_files_is_told_at_once(job: Path) -> None:
    text = WHOLE.replace("value = 16.002", 'value = "16 kg"').replace('part = "housing"\n', "")
    put(job, "made.toml", text.replace("2026-11-27", "yesterday"))
    bad = [
        LINE.replace("good", "splendid"),
        LINE.replace("40", "-1"),
        '{"format": 2, "wings": 1}',
        "[1]",
        LINE,
    ]
    put(job, "balls.jsonl", "\n".join(bad) + "\n")
    assert refused(job) == [
        ("wrong-unit", "size[1].value"),
        ("missing-key", "done[1].part"),
        ("wrong-value", "done[1].date"),
        ("not-a-choice", "verdict"),
        ("out-of-range", "setting.diameter_mm"),
        ("newer-format", "format"),
        ("wrong-value", ""),
    ]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (b"\xff\xfe", "not-text"),
        (b"[[size", "not-toml"),
        (b"a = " + b"[" * 100_000, "not-toml"),
        (b"a = " + b"9" * 5_000, "not-toml"),
        (b"size = 5\n", "wrong-value"),
        (b"size = [1]\n", "wrong-value"),
        (b"format = 2\n[[wings]]\n", "newer-format"),
        (b"format = 0\n", "unknown-format"),
        (b'[[size]]\npart = "a"\nfeature = "b"\nvalue = 12\n', "no-unit"),
        (b'units = "mm"\n[[size]]\npart = "a"\nfeature = "b"\nvalue = nan\n', "not-a-length"),
        (
            b'units = "mm"\n[[size]]\npart = "a"\nfeature = "b"\nvalue = 1' + b"0" * 400,
            "not-a-length",
        ),
        (b'[[done]]\npart = ""\nfeature = "b"\n', "out-of-range"),
        (b'[[done]]\npart = "a"\nfeature = "b"\ndate = 2026-01-01T10:00:00\n', "wrong-value"),
        (b'[[done]]\npart = "a"\nfeature = "b"\ndate = 20261128\n', "wrong-value"),
        (b'[[done]]\npart = "a"\nfeature = "b"\njob_file_sha256 = "XYZ"\n', "wrong-value"),
    ],
)
def test_an_odd_file_is_told_and_never_written(job: Path, text: bytes, code: str) -> None:
    path = put(job, "made.toml", text)
    assert [one for one, _ in refused(job)] == [code]
    with pytest.raises(BadInput):
        add_made(job, [("done", {"part": "a", "feature": "b"})], "mm")
    assert path.read_bytes() == text
    assert [one.name for one in record_folder(job).iterdir()] == ["made.toml"]
    # a ball is not lost for it
    add_ball(job, BallTurned(ball="a", setting=Setting(diameter_mm=1), verdict="good"))
    assert (record_folder(job) / "balls.jsonl").read_bytes().count(b"\n") == 1


def test_a_folder_where_a_file_should_be_is_told(job: Path) -> None:
    for name in ("made.toml", "balls.jsonl"):
        (record_folder(job) / name).mkdir()
    assert [code for code, _ in refused(job)] == ["not-a-file", "not-a-file"]


@pytest.mark.parametrize(
    "line",
    ['{"ball": "kn', "ball = knob", b"\xff", "[" * 100_000, LINE.replace("40", "NaN"), "\x00" * 9],
)
def test_a_line_that_is_no_json_is_passed_over_and_told(job: Path, line: str | bytes) -> None:
    raw = line if isinstance(line, bytes) else line.encode()
    path = put(job, "balls.jsonl", LINE.encode() + b"\n" + raw + b"\n\n" + LINE.encode() + b"\n")
    before = path.read_bytes()
    kept = read_record(job)
    assert [one.ball for one in kept.balls] == ["knob", "knob"]
    told = [(one.severity, one.code, one.key) for one in kept.findings]
    assert told == [("warning", "broken-line", "line 2")]
    add_ball(job, kept.balls[0])
    assert path.read_bytes().startswith(before) and len(read_record(job).balls) == 3


def test_a_ball_is_read_as_it_was_recorded(job: Path) -> None:
    turned = BallTurned(
        ball="knob Ø40",
        date=date(2026, 11, 28),
        setting=Setting(diameter_mm=40, dial_divisions=12.5, rev_min=520),
        readings=[BallReading(angle_deg=90, diameter_mm=40.012)],
        accuracy_mm=0.005,
        verdict="rework",
        note="pip at the nose",
        job_file_sha256="ab" * 32,
    )
    add_ball(job, turned)
    add_ball(job, turned.model_copy(update={"verdict": "good"}))
    path = record_folder(job) / "balls.jsonl"
    first, second = path.read_text(encoding="utf-8").splitlines()
    assert json.loads(first)["format"] == 1 and json.loads(first)["date"] == "2026-11-28"
    kept = read_record(job)
    assert kept.balls[0] == turned and kept.balls[1].verdict == "good"
    assert kept.findings == ()


def test_a_key_of_ones_own_in_a_line_is_a_note_with_the_slip_it_may_be(job: Path) -> None:
    put(job, "balls.jsonl", LINE.replace('"ball"', '"notes": "dull", "ball"') + "\n")
    (found,) = read_record(job).findings
    assert (found.severity, found.key) == ("note", "line 1: notes")
    assert found.remedy == "Did you mean note?"
