"""Ordinary slips of the hand in a job file: the slip is told, its line, and the way it is meant.

The grammar is that of TOML 1.0 (toml.io/en/v1.0.0), read here by the Python library's own reader: a
line mended as the message says must be TOML again, and hold what was meant. The slips are common
practice.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, changed

from planner.job import grammar
from planner.job.lines import key_lines, line_of, located
from planner.job.reading import job_from, read_job
from planner.words.findings import BadInput, Finding, finding

BENCH = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")


def broken(text: str) -> grammar.Broken:
    with pytest.raises(grammar.Broken) as caught:
        grammar.loads(text)
    return caught.value


MEANT: list[tuple[str, dict[str, Any]]] = [
    ("d = 1,6", {"d": 1.6}),
    ("d = -0,25", {"d": -0.25}),
    ("d = 12;", {"d": 12}),
    ("d = 12,", {"d": 12}),
    ('u = "mm";', {"u": "mm"}),
    ("u = “mm”", {"u": "mm"}),
    ("u = „mm“", {"u": "mm"}),
    ("u = ‘mm’", {"u": "mm"}),
    ("u = mm", {"u": "mm"}),
    ("t = M8x1", {"t": "M8x1"}),
    ("m = free-cutting brass", {"m": "free-cutting brass"}),
    ("s = yes", {"s": True}),
    ("s = No", {"s": False}),
    ("s = True", {"s": True}),
    ("s = off", {"s": False}),
    ("d = .5", {"d": 0.5}),
    ("d = 5.", {"d": 5.0}),
    ("d = 1/2", {"d": "1/2"}),
    ("d = 3-7/8", {"d": "3-7/8"}),
    ("d = 12 mm", {"d": "12 mm"}),
    ("d = 3/4 in", {"d": "3/4 in"}),
    ('d = 3/4"', {"d": "3/4 in"}),
    ("p = 20 tpi", {"p": "20 tpi"}),
    ("d = 012", {"d": 12}),
    ("d: 12", {"d": 12}),
    ("d 12", {"d": 12}),
    ("chuck diameter = 12", {"chuck_diameter": 12}),
    ("r = [6 8 10]", {"r": [6, 8, 10]}),
    ("r = [6; 8; 10]", {"r": [6, 8, 10]}),
    ("t = [M4, M5]", {"t": ["M4", "M5"]}),
    ('t = ["M4", M5]', {"t": ["M4", "M5"]}),
    ("[lathe", {"lathe": {}}),
    ("[[shop.rack]", {"shop": {"rack": [{}]}}),
    ("// a remark", {}),
    ("; a remark", {}),
]


@pytest.mark.parametrize("line, meant", MEANT)
@pytest.mark.parametrize("before", ["", 'units = "mm"\n\n'])
def test_the_line_is_told_and_mended_as_said_it_is_toml(
    line: str, meant: dict[str, Any], before: str
) -> None:
    told = broken(f"{before}{line}\n[last]\nx = 1\n")
    assert told.line == before.count("\n") + 1
    assert told.value == repr(line) and "TOML:" not in told.limit
    mended = re.fullmatch(r"Write (.*)", told.remedy)
    assert mended, told.remedy
    assert tomllib.loads(mended[1]) == meant


def test_a_list_or_a_quote_left_open() -> None:
    told = broken("a = 1\nr = [6, 8, 10\nb = 2\n")
    assert (told.line, told.limit) == (2, "a bracket is not closed")
    told = broken('a = 1\nu = "mm\nb = 2\n')
    assert (told.line, told.limit) == (2, "a quote that is not closed")


def test_what_stands_twice_is_told_with_where_it_stands_first() -> None:
    told = broken("a = 1\n[lathe]\nx = 1\ny = 2\nx = 3\n")
    assert (told.line, told.limit) == (5, "x stands twice, first on line 3")
    told = broken("[lathe]\nx = 1\n[shop]\n[lathe]\ny = 1\n")
    assert (told.line, told.limit) == (4, "lathe stands twice, first on line 1")
    assert told.remedy == "Keep one of them"


def test_other_files_and_both_kinds_of_heading() -> None:
    assert broken('{"units": "mm"}').limit == "JSON, not TOML"
    assert broken("hello\n").limit == "neither a table's heading nor key = value"
    told = broken("[shop.rack]\na = 1\n[[shop.rack]]\na = 2\n")
    assert (told.line, told.remedy) == (3, "Write [[shop.rack]] for each")


def test_what_no_hand_writes_is_told_too() -> None:
    assert "brackets in one another" in broken("a = " + "[" * 900 + "]" * 900).limit
    assert broken("b = 1\na = " + "[" * 65 + "]" * 65).line == 2
    assert grammar.loads("a = " + "[" * 64 + "]" * 64)
    for text in ("a = " + "9" * 5000, ".".join("a" * 9000) + " = 1", "a = \0", "\0" * 50):
        told = broken(text)
        assert len(told.limit) < 130 and len(told.value) < 80
    assert grammar.loads("\ufeffa = 1\n") == {"a": 1}


def found_in(data: dict[str, Any]) -> list[Finding]:
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml")
    return list(caught.value.findings)


def test_no_units_is_one_finding() -> None:
    (one,) = found_in(changed(units=None))
    assert (one.code, one.key) == ("no-unit", "units") and "numbers wait for it" in one.limit
    (one,) = found_in(changed(units=None) | {"unit": "mm"})
    assert (one.code, one.key) == ("no-unit", "unit")
    assert one.remedy.startswith('Write it as units = "mm" at the top')
    (one,) = found_in(changed(units=None, **{"lathe.units": "in"}))
    assert (one.code, one.key) == ("no-unit", "lathe.units") and '"in"' in one.remedy


@pytest.mark.parametrize("word, meant", [("inch", "in"), ("millimeter", "mm"), ("Inches", "in")])
def test_another_word_for_a_unit_is_one_finding(word: str, meant: str) -> None:
    data = changed() if meant == "mm" else inch_bench()
    (one,) = found_in(data | {"units": word})
    assert (one.code, one.key) == ("not-a-choice", "units")


def inch_bench() -> dict[str, Any]:
    path = next((ROOT / "examples").glob("*inch*.toml"))
    return tomllib.loads(path.read_text(encoding="utf-8"))


def test_a_file_in_the_other_unit_is_one_finding() -> None:
    (one,) = found_in(changed() | {"units": "in"})
    assert (one.code, one.key) == ("other-unit", "units") and 'units = "mm"' in one.remedy
    (one,) = found_in(inch_bench() | {"units": "mm"})
    assert (one.code, one.key) == ("other-unit", "units") and 'units = "in"' in one.remedy
    # two lengths out of range are two slips, not a slip of the unit
    two = found_in(changed(**{"lathe.jaw_reach": 3000, "lathe.chuck_diameter": 5000}))
    assert [one.code for one in two] == ["out-of-range"] * 2


def test_what_is_exchanged_is_recognised() -> None:
    (one,) = found_in(
        changed(**{"lathe.spindle_over_seat": 62, "lathe.spindle_over_cross_slide": 20})
    )
    assert one.code == "heights-reversed" and one.remedy == "Exchange the two heights"
    assert one.key == "lathe.spindle_over_seat" and one.value == "62"
    (one,) = found_in(changed(ball=[{"diameter": 10, "stem_diameter": 30}]))
    assert one.code == "stem-size" and one.remedy == "Exchange diameter and stem_diameter"


@pytest.mark.parametrize("pitch, says", [(20, '"20 tpi"'), (8, '"8 tpi"')])
def test_threads_per_inch_without_saying_so(pitch: int, says: str) -> None:
    (one,) = found_in(changed(**{"attachment.screw_pitch": pitch}))
    assert one.code == "out-of-range" and says in one.remedy
    (one,) = found_in(changed(**{"attachment.screw_pitch": 8.5}))
    assert "tpi" not in one.remedy


@pytest.mark.parametrize(
    "name",
    [
        "a\x1b[31mred",
        "bell\x07",
        "c1\x9b",
        "\u202eturned",
        "=1+1",
        "+x",
        "-x",
        "@x",
        "\tx",
        " x",
        " ",
    ],
)
def test_a_name_that_would_not_print_as_it_stands_is_refused(name: str) -> None:
    (one,) = found_in(changed(ball=[{"name": name, "diameter": 30, "stem_diameter": 10}]))
    assert (one.code, one.key) == ("wrong-value", "ball[1].name")
    assert one.message.isprintable()
    piece = {"name": name, "section": "round 20", "material": "S355", "length": 30}
    (one,) = found_in(changed(piece=[piece]))
    assert (one.code, one.key) == ("wrong-value", "piece[1].name")


def test_no_key_or_value_steers_the_terminal_or_fills_it() -> None:
    (one,) = found_in(changed() | {"a\x1b[31m\u202e": 1})
    assert one.message.isprintable() and len(one.message) < 300
    (one,) = found_in(changed() | {"k" * 9000: 1})
    assert len(one.message) < 300
    (one,) = found_in(changed() | {"units": "x" * 10_000})
    assert len(one.message) < 300
    (one,) = found_in(changed(**{"lathe.chuck_diameter": int("9" * 400)}))
    assert len(one.message) < 300


def test_a_list_of_the_wrong_sort_throughout_is_told_once() -> None:
    (one,) = found_in(changed(**{"lathe.spindle_speeds": ["fast"] * 40}))
    assert one.key == "lathe.spindle_speeds[1]" and "39 more" in one.limit


@pytest.mark.parametrize(
    "key, value, says",
    [
        ("attachment.max_ball_diameter", "50,5 mm", 'Write "50.5 mm", with a point'),
        ("attachment.max_ball_diameter", "Ø50", 'Write "50", without Ø'),
        ("attachment.max_ball_diameter", "50 MM", "Did you mean mm?"),
        ("shop.reamers", ["8 H7"], 'Write "8 mm": the size alone, or its unit'),
        ("attachment.screw_pitch", "M8", 'Write a pitch such as "1 mm" or "20 tpi"'),
        ("lathe.spindle_speeds", 500, "Write it in brackets: [500]"),
        ("shop.rack", {"section": "round 20"}, "Write [[shop.rack]] for each"),
        ("standards", "imperial", 'Did you mean "inch"?'),
        ("lathe", None, "Write [lathe] on a line, and its keys below it"),
        ("materials.dial", "stainless", "Say which: 303, 304; or: pommel list materials"),
        (
            "materials.dial",
            "aluminum",
            "Say which: 6082-T6, 6082-T6 extruded, 6061-T6; or: pommel list materials",
        ),
    ],
)
def test_a_value_that_is_nearly_one(key: str, value: Any, says: str) -> None:
    (one,) = found_in(changed(**{key: value}))
    assert one.remedy == says


@pytest.mark.parametrize(
    "said, meant",
    [
        ("25 round", "round 25"),
        ("Ø25", "round 25"),
        ("dia 25 mm", "round 25 mm"),
        ("rect 60x15", "flat 60x15"),
        ("pipe 35x8", "tube 35x8"),
        ("1/2 in round", "round 1/2 in"),
    ],
)
def test_a_section_said_otherwise(said: str, meant: str) -> None:
    bar = {"section": said, "material": "S355", "length": 300}
    (one,) = found_in(changed(**{"shop.rack": [bar]}))
    assert one.remedy == f'Write "{meant}"'
    job_from(changed(**{"shop.rack": [bar | {"section": meant}]}), "job.toml")


def test_a_table_misspelt_is_not_missing_too() -> None:
    data = changed()
    data["toolpost"] = data.pop("tool_post")
    (one,) = found_in(data)
    assert (one.code, one.remedy) == ("unknown-key", "Did you mean tool_post?")


# ---- lines ----


def test_every_key_of_the_examples_is_on_its_line() -> None:
    for path in sorted((ROOT / "examples").glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        lines, rows = key_lines(text), text.split("\n")
        data = tomllib.loads(text)
        for key, value in leaves(data):
            line = line_of(key, lines)
            assert line, key
            last = re.sub(r"\[\d+\]$", "", key).rsplit(".", 1)[-1]
            assert rows[line - 1].lstrip().startswith(last), (key, rows[line - 1])
            # the same key on another line would not do: what it holds stands there
            if isinstance(value, int | float) and "[" not in key.rsplit(".", 1)[-1]:
                assert str(value) in rows[line - 1]


def leaves(data: Any, head: str = "") -> list[tuple[str, Any]]:
    if isinstance(data, dict):
        found = []
        for key, value in data.items():
            shown = f'"{key}"' if " " in key else key
            found += leaves(value, f"{head}.{shown}" if head else shown)
        return found
    if isinstance(data, list) and data and isinstance(data[0], dict):
        return [pair for i, one in enumerate(data, 1) for pair in leaves(one, f"{head}[{i}]")]
    return [(head, data)]


def test_a_key_that_is_not_there_has_the_line_of_its_table() -> None:
    text = '# a\nunits = "mm"\n[lathe] # b\nx = """\ny = 1\n"""\n'
    text += '[[shop.rack]]\n"a b" = 1\n[[shop.rack]]\n[shop.rack.z]\n'
    lines = key_lines(text)
    assert line_of("lathe.y", lines) == 3 and line_of("lathe.x", lines) == 4
    assert line_of('shop.rack[1]."a b"', lines) == 8 and line_of("shop.rack[2].q", lines) == 9
    assert line_of("shop.rack[2].z", lines) == 10
    assert line_of("nowhere.x", lines) is None


def test_a_finding_is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(BENCH.replace("jaw_reach = 26", "jaw_reach = 2600"), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_job(path)
    (one,) = located(caught.value.findings)
    line = BENCH[: BENCH.index("jaw_reach")].count("\n") + 1
    assert one.line == line and f"{path}:{line}: lathe.jaw_reach: 2600" in one.message
    gone = finding("no-file", str(tmp_path / "none.toml"), "lathe", "", "x", "y")
    assert located([gone]) == (gone,)
