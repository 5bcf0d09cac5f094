"""What a record says of itself: whole sentences, bounds of its values, and a new file's first lines."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, planned

from parts.standard.fits import Limits
from planner.output.sheets.record import record_tables
from planner.record import files
from planner.record.adding import add_made, new_text, with_entries
from planner.record.files import append_line, held, record_folder, unwritable, write_whole
from planner.record.judge import Judged
from planner.record.model import BallTurned, Made, SizeMade, own_keys
from planner.record.reading import made_from, read_record
from planner.words.findings import BadInput


@pytest.fixture
def job(tmp_path: Path) -> Path:
    record_folder(tmp_path / "my-lathe.toml").mkdir()
    return tmp_path / "my-lathe.toml"


def told(work: Callable[[], object]) -> list[tuple[str, str, str]]:
    """Code, place and whole sentence of each problem."""
    with pytest.raises(BadInput) as caught:
        work()
    return [(one.code, one.key, one.text) for one in caught.value.findings]


def test_a_new_file_begins_with_what_it_is() -> None:
    wanted = (
        "# What was made for my-lathe.toml, as measured; written by pommel record, and yours to edit.\n"
        "# Where a feature stands here twice, the last entry counts.\n"
        "format = 1\n"
    )
    assert new_text("my-lathe.toml", None).decode() == wanted
    assert new_text("my-lathe.toml", "in").decode() == wanted + 'units = "in"\n'
    assert "for my lathe.toml," in new_text("my\nlathe.toml", None).decode()


def test_entries_stand_at_the_end_each_after_a_blank_line() -> None:
    size = {"part": "dial", "feature": "rim", "value": "24 mm"}
    entries: list[Any] = [("size", size), ("done", {"part": "dial", "feature": "knurl"})]
    said = (
        '\n[[size]]\npart = "dial"\nfeature = "rim"\nvalue = "24 mm"\n'
        '\n[[done]]\npart = "dial"\nfeature = "knurl"\n'
    )
    for before, lead in ((b"", b""), (b"format = 1\n", b""), (b"format = 1", b"\n")):
        assert with_entries(before, entries, Path("made.toml")) == before + lead + said.encode()
    crlf = b"format = 1\r\n# mine\r\n"
    after = with_entries(crlf, entries, Path("made.toml"))
    assert after == crlf + said.replace("\n", "\r\n").encode()
    mixed = b"format = 1\r\n# mine\n"  # the ends of both sorts: as Unix has them
    assert with_entries(mixed, entries, Path("made.toml")) == mixed + said.encode()


def test_a_list_in_brackets_cannot_be_added_to_and_says_how() -> None:
    text = b'done = [{part = "dial", feature = "rim"}]\n'
    entries: list[Any] = [("done", {"part": "dial", "feature": "knurl"})]
    assert told(lambda: with_entries(text, entries, Path("made.toml"))) == [
        (
            "record-form",
            "",
            "its lists are written so that an entry cannot be put behind them."
            " Write each entry as a table of its own under [[size]] or [[done]]",
        )
    ]


def test_what_stands_in_the_way_of_writing_is_told(job: Path) -> None:
    folder = record_folder(job)
    folder.rmdir()
    folder.write_text("a file", encoding="utf-8")

    def enter() -> None:
        with held(folder):
            raise AssertionError("held")

    assert told(enter) == [("already-there", "", "a file of that name is there. Move it away")]
    full = unwritable(folder, OSError(28, "No space left on device"))
    assert (full.code, full.file) == ("unwritable", str(folder))
    assert full.text == (
        "cannot be written (No space left on device). Make room, or mend its permissions"
    )
    assert "(a slip)" in unwritable(folder, OSError("a slip")).text


def test_who_waits_in_vain_and_who_was_overtaken_are_told(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = record_folder(job)

    def busy(*_: object) -> None:
        raise BlockingIOError

    if files.fcntl:
        monkeypatch.setattr(files.fcntl, "flock", busy)

        def enter() -> None:
            with held(folder, wait_s=0.0):
                raise AssertionError("held")

        said = "another pommel has been writing here all the while. Wait for it, then try again"
        assert told(enter) == [("record-busy", "", said)]
    file = folder / "made.toml"
    file.write_bytes(b"edited")
    assert told(lambda: write_whole(file, b"read", b"written")) == [
        (
            "edited-meanwhile",
            "",
            "was changed after it was read; left as it is now, and nothing recorded."
            " Give the command once more",
        )
    ]
    assert file.read_bytes() == b"edited"


BALL = {"ball": "knob", "setting": {"diameter_mm": 40}, "verdict": "good"}


def test_lines_that_are_no_balls_are_told_with_their_number(job: Path) -> None:
    lines = ["[1]", json.dumps(BALL | {"colour": "blue", "notes": "dull"}), "", "{"]
    balls = record_folder(job) / "balls.jsonl"
    balls.write_text("\n".join(lines) + "\n", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_record(job)
    (found,) = caught.value.findings
    assert found.file == f"{balls}: line 1"
    assert found.text == 'not a table of keys. Write it as in {"ball": "knob"}'
    balls.write_text("\n".join(lines[1:]) + "\n", encoding="utf-8")
    assert [(one.code, one.key, one.text) for one in read_record(job).findings] == [
        (
            "own-key",
            "line 1: colour",
            "not a key that pommel knows; kept as it is. Nothing to do if it is your own",
        ),
        (
            "own-key",
            "line 1: notes",
            "not a key that pommel knows; kept as it is. Did you mean note?",
        ),
        (
            "broken-line",
            "line 3",
            "not finished, or not JSON; passed over. Mend the line, or take it out",
        ),
    ]


def test_keys_of_ones_own_are_told_where_they_stand() -> None:
    text = (
        b'wings = 2\n[[size]]\npart = "a"\nfeature = "b"\nvalue = "1 mm"\n'
        b'[[size]]\npart = "a"\nfeature = "c"\nvalue = "1 mm"\nmaker = "me"\n'
        b'[[done]]\npart = "a"\nfeature = "b"\nby = "me"\n'
    )
    made = made_from(text, Path("made.toml"))
    assert [(place, key) for place, key, _ in own_keys(made)] == [
        ("", "wings"),
        ("size[2]", "maker"),
        ("done[1]", "by"),
    ]
    turned = BallTurned.model_validate(
        BALL | {"readings": [{"angle_deg": 90, "diameter_mm": 40, "who": "me"}]}
    )
    turned.setting.__pydantic_extra__ = {"speed": 3}
    found = [(place, key) for place, key, _ in own_keys(turned)]
    assert found == [("setting", "speed"), ("readings[1]", "who")]


@pytest.mark.parametrize(
    "key, inside, outside",
    [
        # a ball is some size up to 2 m, an angle once round either way, a spindle turns
        ("setting.diameter_mm", (0.001, 2000), (0, 2000.1)),
        ("setting.rev_min", (0.1, 20_000), (0, 20_000.1)),
        ("readings.angle_deg", (-360, 360), (-360.1, 360.1)),
        ("readings.diameter_mm", (0.001, 2000), (0, 2000.1)),
        ("accuracy_mm", (0.001, 2000), (0, 2000.1)),
    ],
)
def test_a_turned_balls_figures_just_inside_and_just_outside(
    job: Path, key: str, inside: tuple[float, ...], outside: tuple[float, ...]
) -> None:
    balls = record_folder(job) / "balls.jsonl"

    def put(value: float) -> None:
        ball: dict[str, Any] = json.loads(json.dumps(BALL))
        ball["readings"] = [{"angle_deg": 90, "diameter_mm": 40}]
        table, _, name = key.rpartition(".")
        place = ball if not table else ball[table][0] if table == "readings" else ball[table]
        place[name] = value
        balls.write_text(json.dumps(ball) + "\n", encoding="utf-8")

    for value in inside:
        put(value)
        assert read_record(job).findings == ()
    for value in outside:
        put(value)
        assert [code for code, _, _ in told(lambda: read_record(job))] == ["out-of-range"]


@pytest.mark.parametrize("digits, good", [(0, True), (64, True), (65, False)])
def test_a_hash_has_sixty_four_digits_at_most(digits: int, good: bool) -> None:
    # SHA-256 is 32 bytes (FIPS 180-4), two digits each
    text = f'[[done]]\npart = "a"\nfeature = "b"\njob_file_sha256 = "{"a" * digits}"\n'.encode()
    if good:
        assert isinstance(made_from(text, Path("made.toml")), Made)
        return
    assert [code for code, _, _ in told(lambda: made_from(text, Path("made.toml")))] == [
        "out-of-range"
    ]


def test_a_line_begins_on_its_own_after_one_that_was_not_finished(tmp_path: Path) -> None:
    path = tmp_path / "balls.jsonl"
    for before, after in (
        (b"", b"x\n"),
        (b"a\n", b"a\nx\n"),
        (b"a\nb", b"a\nb\nx\n"),
        (b"a", b"a\nx\n"),
    ):
        path.write_bytes(before)
        append_line(path, "x")
        assert path.read_bytes() == after


def test_a_new_record_can_be_read_by_all_and_written_by_its_owner(job: Path) -> None:
    add_made(job, [("done", {"part": "dial", "feature": "rim"})], "mm")
    (file,) = record_folder(job).iterdir()
    assert file.stat().st_mode & 0o777 == 0o644


def test_limits_of_an_inch_record_are_rounded_inward() -> None:
    # 5/32 is 0.15625, and 0.003 either way are 0.15325 and 0.15925: a reading of 0.1532 is out
    drilled = Limits(0.15625 * 25.4, 0.003 * 25.4, -0.003 * 25.4, ".XXX")
    entry = SizeMade.model_validate(
        {"part": "housing", "feature": "oil hole", "value": "0.156 in"}, context={"unit": "in"}
    )
    one = Judged(entry, "as recorded", drilled, 0.0, True)
    job = planned(ROOT / "examples" / "inch-lathe.toml").job
    (sizes, *_) = record_tables([one], [], [], job)
    assert sizes.shown and sizes.shown[0][3:6] == ("0.1560", "0.1533", "0.1592")
