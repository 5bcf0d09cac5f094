"""What a bad job file is told, each sentence as a machinist reads it, written here by hand."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal, get_args

import pytest
from jobs import changed
from pydantic import BaseModel

from planner import __version__
from planner.job.base import FileTable
from planner.job.oldkeys import OldKey, renamed
from planner.job.reading import (
    job_from,
    read_bytes,
    read_job,
    read_table,
    refuse_format,
    toml_from,
)
from planner.job.tables import Job
from planner.measuring.readings import Readings
from planner.record.model import BallTurned, Made, MoveMade
from planner.words.findings import BadInput, Finding

BAR = {"section": "round 20", "material": "S355", "length": 300}
REACH = OldKey("lathe.jaws_out", "lathe.jaw_reach", "0.2")


def told(data: dict[str, Any], keys: list[OldKey] | None = None) -> list[str]:
    """Where, and the whole sentence, of each finding."""
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml", keys)
    return [f"{one.key}: {one.text}" for one in caught.value.findings]


def only(caught: pytest.ExceptionInfo[BadInput]) -> Finding:
    (found,) = caught.value.findings
    return found


def test_a_file_that_cannot_be_had(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    none = tmp_path / "none.toml"
    with pytest.raises(BadInput) as caught:
        read_job(none)
    assert only(caught).text == f"no such file. Make one with: pommel new {none}"
    with pytest.raises(BadInput) as caught:
        read_table(none, Job)
    assert only(caught).text == "no such file. Check its name"
    (tmp_path / "lathe.toml").write_text("")
    for name in ("lathe", "lathes.toml", "lath.toml"):
        with pytest.raises(BadInput) as caught:
            read_job(tmp_path / name)
        assert only(caught).text == f"no such file. Did you mean {tmp_path / 'lathe.toml'}?"
    with pytest.raises(BadInput) as caught:
        read_job(tmp_path)
    assert only(caught).text == "a folder, not a file. Name the .toml file in it"

    def barred(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", barred)
    with pytest.raises(BadInput) as caught:
        read_bytes(none, "Check its name")
    found = only(caught)
    assert (found.code, found.file, found.key) == ("unreadable", str(none), "")
    assert found.text == "cannot be read (Permission denied). Check its permissions"


def test_a_file_that_is_no_toml() -> None:
    with pytest.raises(BadInput) as caught:
        toml_from(b"a = 1\n# \xd8", "job.toml")
    assert only(caught).text == "not a text file in UTF-8. Save it as UTF-8 text"
    assert only(caught).line == 2
    with pytest.raises(BadInput) as caught:
        toml_from("a = 1".encode("utf-16"), "job.toml")
    assert only(caught).text == "text in UTF-16, not in UTF-8. Save it as UTF-8 text"
    with pytest.raises(BadInput) as caught:
        toml_from(b"a = 1\nb = \n", "job.toml")
    found = only(caught)
    assert (found.code, found.file) == ("not-toml", "job.toml")
    assert found.line == 2 and found.text == (
        "'b =': nothing after =. Write b = and its value, or take the line out"
    )


@pytest.mark.parametrize(
    "given, says",
    [
        (
            2,
            f"format: 2: this is pommel {__version__}, which reads 1."
            " Work on it with the pommel that wrote it, or a newer one",
        ),
        (0, "format: 0: no such format; known here: 1. Write format = 1"),
        ("1", "format: '1': no such format; known here: 1. Write format = 1"),
        ({}, "format: a table: no such format; known here: 1. Write format = 1"),
        ([1], "format: a list: no such format; known here: 1. Write format = 1"),
    ],
)
def test_a_format_that_is_not_read(given: Any, says: str) -> None:
    assert told(changed(format=given)) == [says]


@pytest.mark.parametrize(
    "changes, says",
    [
        ({"lathe.jaw_raech": 3}, "lathe.jaw_raech: unknown key. Did you mean jaw_reach?"),
        ({"shop.torch.kerv": 3}, "shop.torch.kerv: unknown key. Did you mean kerf?"),
        (
            {"shop.torch": {"colour": 3}},
            "shop.torch.colour: unknown key. Known here: kerf, labels, lead_in, least_hole",
        ),
        (
            {"turning.tailstock_centre": {"diameter": 12, "point_length": 10, "angle": 60}},
            "turning.tailstock_centre.angle: unknown key. Known here: diameter, point_length",
        ),
        (
            {"shop.rack": [BAR, BAR | {"lenght": 3}]},
            "shop.rack[2].lenght: unknown key. Did you mean length?",
        ),
        (
            {"lathe.jaw_reach": None},
            "lathe.jaw_reach: missing (how far the jaws stand out of the chuck's face)."
            " Write jaw_reach = and its value",
        ),
        (
            {"attachment.prefer": "cheap"},
            "attachment.prefer: 'cheap': must be 'stiff', 'light' or 'on-hand'. Choose one",
        ),
        (
            {"shop.taps": ["M6", "M7"]},
            "shop.taps[2]: 'M7': no thread of that name in the tables. Nearest: M8; see them all"
            " with: pommel list threads",
        ),
        (
            {"shop.taps": ["xyz"]},
            "shop.taps[1]: 'xyz': no thread of that name in the tables."
            " See them all with: pommel list threads",
        ),
        (
            {"materials.dial": "S356"},
            "materials.dial: 'S356': no material of that name in the tables. Nearest: S355; see them"
            " all with: pommel list materials",
        ),
    ],
)
def test_a_key_or_a_name_that_is_not_known(changes: dict[str, Any], says: str) -> None:
    assert told(changed(**changes)) == [says]


def test_a_key_that_was_renamed() -> None:
    called = "called lathe.jaw_reach since version 0.2"
    both = changed(**{"lathe.jaws_out": 26})
    assert told(both, [REACH]) == [
        f"lathe.jaws_out: {called}, and that is given too. Take the old one out"
    ]
    old = changed(**{"lathe.jaws_out": 26, "lathe.jaw_reach": None})
    (warned,) = job_from(old, "job.toml", [REACH]).findings
    # read by the version that renames it and by the one after: 0.2 and 0.3
    last = "0.3 is the last version that reads the old one"
    assert warned.text == f"{called}. Rename it; {last}"
    with pytest.raises(BadInput) as caught:
        renamed(old, "job.toml", [REACH], "0.4.0")
    assert only(caught).text == f"{called}. Rename it"


# ---- what the keys say of themselves, to an editor that reads the schema ----


def tables(*roots: type[BaseModel]) -> dict[str, type[BaseModel]]:
    """These tables and all within them, by name."""
    found: dict[str, type[BaseModel]] = {}

    def walk(kind: Any) -> None:
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            if kind.__name__ not in found:
                found[kind.__name__] = kind
                for field in kind.model_fields.values():
                    walk(field.annotation)
            return
        for inside in get_args(kind):
            walk(inside)

    for root in roots:
        walk(root)
    return found


TABLES = tables(Job, Readings, Made, BallTurned, MoveMade)


def test_each_key_says_what_it_is() -> None:
    said = {
        f"{table}.{name}": field.description
        for table, kind in TABLES.items()
        for name, field in kind.model_fields.items()
        if field.description
    }
    lines = Path(__file__).with_name("keys_said.txt").read_text(encoding="utf-8").splitlines()
    held = dict(line.split(" | ", 1) for line in lines if not line.startswith("#"))
    assert said == held


def test_a_default_that_is_said_is_the_default() -> None:
    told = 0
    inches: dict[str, float] = {}
    for table, kind in TABLES.items():
        for name, field in kind.model_fields.items():
            words = (field.description or "").partition(";")[0 if name == "depth_of_cut" else 2]
            words = words or field.description or ""
            if said := re.search(r"default:? ([\d.]+)(?: mm)?(?: or ([\d./]+) in)?$", words):
                if field.default is None:
                    continue  # worked out where it is used
                assert field.default == float(said[1]), f"{table}.{name}"
                told += 1
                if said[2]:
                    inches[name] = float(Fraction(said[2]))
    assert told >= 8
    # where two are said, the second is what an inch shop's job has when it does not say
    assert inches.pop("anvil") == 0.25  # of readings: tests/job/test_inch_defaults.py
    assert len(inches) == 8
    job = job_from(changed("inch-lathe", turning=None, **{"shop.kerf": None}), "job.toml")
    assert job.inch
    for name, said_in in inches.items():
        there = job.shop if name == "kerf" else job.turning
        assert getattr(there, name) == pytest.approx(25.4 * said_in)
    own = changed("inch-lathe", turning={"feed": 0.005, "depth_of_cut": 0.02})
    turning = job_from(own, "job.toml").turning
    assert turning.feed == pytest.approx(0.127) and turning.pinned_depth == pytest.approx(0.508)
    assert job.turning.pinned_depth is None


class OfTwo(FileTable):
    """A file of which two formats are read, a third was never written."""

    format: Literal[1, 2, 4] = 1  # type: ignore[assignment]


@pytest.mark.parametrize("given", [1, 2, 4])
def test_a_format_of_several_that_is_read(given: int) -> None:
    refuse_format({"format": given}, "f.toml", OfTwo)
    refuse_format({}, "f.toml", OfTwo)


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (5, f"5: this is pommel {__version__}, which reads 1, 2, 4. Work on it with the pommel that"
            " wrote it, or a newer one"),
        (3, "3: no such format; known here: 1, 2, 4. Write format = 4"),
        (0, "0: no such format; known here: 1, 2, 4. Write format = 4"),
        (True, "true: no such format; known here: 1, 2, 4. Write format = 4"),
    ],
)  # fmt: skip
def test_a_format_of_several_that_is_not_read(given: object, sentence: str) -> None:
    with pytest.raises(BadInput) as caught:
        refuse_format({"format": given}, "f.toml", OfTwo, "in")
    assert (only(caught).text, only(caught).key) == (sentence, "in.format")


@pytest.mark.parametrize(
    ("post", "right"),
    [
        # 56 deep: one screw anywhere before its end, two with a known spacing, none known
        ({"screws": 1, "first_screw": 55.95}, True),
        ({"screws": 1, "first_screw": 56}, False),
        ({"screws": 2, "first_screw": 55.95}, True),
        ({"screws": 2, "screw_spacing": 55.95}, True),
        ({"screws": 2, "screw_spacing": 56}, False),
        ({"screws": 2, "first_screw": 28, "screw_spacing": 27.95}, True),
        ({"screws": 2, "first_screw": 28, "screw_spacing": 28}, False),
        ({"screws": 3, "first_screw": 26, "screw_spacing": 14.95}, True),
        ({"screws": 3, "first_screw": 26, "screw_spacing": 15}, False),
    ],
)
def test_the_row_of_a_posts_screws(post: dict[str, Any], right: bool) -> None:
    keys = dict.fromkeys(("first_screw", "screw_spacing")) | post
    data = changed(**{f"tool_post.{key}": value for key, value in keys.items()})
    if right:
        assert job_from(data, "job.toml").tool_post.screws == post["screws"]
    else:
        assert told(data) == [
            "tool_post: its screws stand in a row longer than the post is deep. Measure depth,"
            " first_screw and screw_spacing again"
        ]


def test_an_old_key_is_found_however_deep_and_however_often_it_stands() -> None:
    key = OldKey("shop.machines.speed", "shop.machines.speeds", "0.2")
    data = {
        "shop": {"speed": 1, "machines": [{"speed": 2}, {"speeds": 3}, {"mill": {"speed": 4}}]},
        "speed": 5,
    }
    made, found = renamed(data, "j.toml", [key], "0.2.0")
    assert made["shop"]["machines"] == [{"speeds": 2}, {"speeds": 3}, {"mill": {"speed": 4}}]
    assert (made["speed"], made["shop"]["speed"]) == (5, 1)
    assert [one.key for one in found] == ["shop.machines[1].speed"]
    assert data["shop"]["machines"][0] == {"speed": 2}  # type: ignore[index]
    top = renamed({"label": 1}, "j.toml", [OldKey("label", "name", "0.2")], "0.3.1")
    assert top[0] == {"name": 1} and [one.text for one in top[1]] == [
        "called name since version 0.2. Rename it; 0.3 is the last version that reads the old one"
    ]
    # two minor versions on, or a major one, it is refused
    for version in ("0.4.0", "1.2.0"):
        with pytest.raises(BadInput) as caught:
            renamed(data, "j.toml", [key], version)
        assert only(caught).text == "called shop.machines.speeds since version 0.2. Rename it"
    both = {"shop": {"machines": {"speed": 1, "speeds": 2}}}
    with pytest.raises(BadInput) as caught:
        renamed(both, "j.toml", [key], "0.2.0")
    assert (only(caught).key, only(caught).text) == (
        "shop.machines.speed",
        "called shop.machines.speeds since version 0.2, and that is given too. Take the old one out",
    )
