"""Ordinary slips of the hand in a job file: the slip is told, its line, and the way it is meant.

The grammar is that of TOML 1.0 (toml.io/en/v1.0.0), read here by the Python library's own reader: a
line mended as the message says must be TOML again, and hold what was meant. The slips are common
practice.
"""

from __future__ import annotations

import random
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
    ("d = 1.000,5", {"d": 1000.5}),
    ("d = 1 000", {"d": 1000}),
    ("d = 1OO", {"d": 100}),
    ("d = ~26", {"d": 26}),
    ("p = €14.50", {"p": 14.5}),
    ("p = 14.50 EUR", {"p": 14.5}),
    ("a = 30°", {"a": 30}),
    ("d = 20+6.5", {"d": 26.5}),
    ("r = 40:1", {"r": 40}),
    ("d = 26 measured twice", {"d": 26}),
    ("d = 26 -- measured twice", {"d": 26}),
    ("d = 26 (twice)", {"d": 26}),
    ("d = −26", {"d": -26}),
    ("d =\u00a026", {"d": 26}),
    ("d = 26\u200b", {"d": 26}),
    ("d == 26", {"d": 26}),
    ("d := 26", {"d": 26}),
    ("chuck_diameter (mm) = 100", {"chuck_diameter": 100}),
    ('p = "1 mm', {"p": "1 mm"}),
    ('p = 1 mm"', {"p": "1 mm"}),
    ("p = '1 mm\"", {"p": "1 mm"}),
    ('p = "C:\\Users"', {"p": "C:\\Users"}),
    ("p: 1 mm", {"p": "1 mm"}),
    ("units: mm", {"units": "mm"}),
    ("shop:", {"shop": {}}),
    ("m = 6061-T6", {"m": "6061-T6"}),
    ("t = 1/4-20 UNC", {"t": "1/4-20 UNC"}),
    ("s = flat 60x15", {"s": "flat 60x15"}),
    ("r = [80 rpm, 140 rpm, 220]", {"r": [80, 140, 220]}),
    ("r = [1/4, 5/16]", {"r": ["1/4", "5/16"]}),
    ("r = [6 mm, 8]", {"r": ["6 mm", 8]}),
    ("r = [.5, 1]", {"r": [0.5, 1]}),
    ('t = ["M3" "M4"]', {"t": ["M3", "M4"]}),
    ("[shop.machines.drill press]", {"shop": {"machines": {"drill press": {}}}}),
    ("[lathe] of my own", {"lathe": {}}),
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


@pytest.mark.parametrize(
    "line, limit, remedy",
    [
        (
            "d = 1,000",
            "a comma in a number",
            "Write d = 1000, or 1.000 if the comma is a decimal point",
        ),
        ("d = 80-1900", "two numbers", "Write one number, or a list: [80, 1900]"),
        ("d = ?", "? is no value", "Write its value, or put # before the line"),
        ("d = none", "none is no value", "Write its value, or put # before the line"),
        ("d = 12.5.3", "more than one point in a number", "Write it with one"),
        ("d = 1, e = 2", "two keys on one line", "Write each on a line of its own"),
        ("[a] b = 1", "a heading and a key on one line", "Write each on a line of its own"),
        (
            "a = {",
            "a { that is not closed on its line",
            "Write [a] on a line, and its keys below it",
        ),
        ("```toml", "a fence of Markdown", "Take the line out"),
    ],
)
def test_what_a_line_may_have_been_meant_as(line: str, limit: str, remedy: str) -> None:
    told = broken(f"# one\n{line}\n")
    assert (told.line, told.limit, told.remedy) == (2, limit, remedy)


def test_a_line_inside_a_list_is_told_as_its_members() -> None:
    told = broken('r = [\n  "M3", M4,\n  "M5",\n]\n')
    assert (told.line, told.remedy) == (2, 'Write "M3", "M4",')
    told = broken('r = [\n  "M3"\n  "M5",\n]\nx = 1\n')
    assert "TOML:" in told.limit or told.line == 3


def test_a_file_of_an_old_mac_is_told() -> None:
    told = broken("a = 1\rb = 2\r")
    assert (told.line, told.limit) == (1, "lines that end in CR alone")


def test_a_long_line_is_told_as_the_slip_it_is_all_the_same() -> None:
    told = broken(f"r = [{', '.join(f'{n} rpm' for n in range(100, 130))}]")
    assert told.limit == "rpm behind a number, in a list" and told.remedy.startswith(
        "Write r = [100, 101, 102, "
    )
    assert len(told.remedy) < 130


def test_a_table_that_stands_several_times_is_told_so_where_a_heading_is_repeated() -> None:
    text = "[shop.rack]\na = 1\n[shop.rack]\na = 2\n"
    with pytest.raises(grammar.Broken) as caught:
        grammar.loads(text, lambda: ["shop.rack"])
    assert (caught.value.line, caught.value.remedy) == (3, "Write [[shop.rack]] for each")
    assert broken(text).remedy == "Keep one of them"


def test_a_list_or_a_quote_left_open() -> None:
    told = broken("a = 1\nr = [6, 8, 10\nb = 2\n")
    assert (told.line, told.limit) == (2, "a bracket is not closed")
    told = broken('a = 1\nu = "mm\nb = 2\n')
    assert (told.line, told.limit) == (2, "a quote that is not closed")
    assert told.remedy == 'Write u = "mm"'


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
    assert (told.line, told.remedy) == (1, "Write [[shop.rack]] for each")


PROSE = re.compile(
    r"key = value|and its value|its value|for each|one number|comma is a decimal|each on a line"
    r"|on a line|if it is|it with one"
)
"""Remedies that name no one line to write."""

SIGNS = [*"[]{}\"'=,.;:#-+ \t()/\\x°µØ½1O0“”\u00a0\u200b−", "yes", "mm", " in", "M8"]


def test_a_line_spoiled_at_random_is_told_in_short_and_a_line_to_write_is_toml() -> None:
    chance = random.Random(11)
    told, lines = 0, BENCH.split("\n")
    for _ in range(200):
        place = chance.randrange(len(lines))
        line = lines[place]
        for _ in range(chance.randint(1, 4)):
            at = chance.randint(0, len(line))
            gone = chance.choice((0, 0, 1, 3))
            line = line[:at] + chance.choice(["", *SIGNS]) + line[at + gone :]
        try:
            grammar.loads("\n".join([*lines[:place], line, *lines[place + 1 :]]))
        except grammar.Broken as found:
            assert len(found.value) + len(found.limit) + len(found.remedy) < 260, line
            asked = re.fullmatch(r"Write (.*)", found.remedy)
            if asked and not PROSE.search(asked[1]) and not asked[1].endswith("..."):
                tomllib.loads(asked[1])
                told += 1
    assert told > 25


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


def test_an_empty_file_is_one_finding() -> None:
    (one,) = found_in({})
    assert (one.limit, one.line) == ("the file is empty", 1) and "pommel new" in one.remedy


@pytest.mark.parametrize(
    "moves, code, key, remedy",
    [
        # the key in another table, at the top, or with the table's name before it once more
        ({"lathe.largest_shank": 16, "tool_post.largest_shank": None}, "unknown-key",
         "lathe.largest_shank", "It belongs in [tool_post]"),
        ({"chuck_diameter": 100, "lathe.chuck_diameter": None}, "unknown-key",
         "chuck_diameter", "It belongs in [lathe]"),
        ({"lathe.lathe": {"chuck_diameter": 100}, "lathe.chuck_diameter": None}, "unknown-key",
         "lathe.lathe", "Leave lathe. out: the line stands in [lathe]"),
        # of two keys that are near, the one that is missing
        ({"attachment.ball_diameter": 50, "attachment.max_ball_diameter": None}, "unknown-key",
         "attachment.ball_diameter", "Did you mean max_ball_diameter?"),
        ({"rack": [{"section": "round 20"}]}, "unknown-key", "rack", "Write [[shop.rack]]"),
        ({"sizes": {"rod_diameter": 20}}, "unknown-key", "sizes", "Write [attachment.sizes]"),
    ],
)  # fmt: skip
def test_what_stands_in_another_place_is_not_missing_too(
    moves: dict[str, Any], code: str, key: str, remedy: str
) -> None:
    (one,) = found_in(changed(**moves))
    assert (one.code, one.key, one.remedy) == (code, key, remedy)


@pytest.mark.parametrize("word, meant", [("inch", "in"), ("millimeter", "mm"), ("Inches", "in")])
def test_another_word_for_a_unit_is_one_finding(word: str, meant: str) -> None:
    data = changed() if meant == "mm" else inch_bench()
    (one,) = found_in(data | {"units": word})
    assert (one.code, one.key) == ("not-a-choice", "units")
    assert one.remedy == f'Did you mean "{meant}"?'


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
    assert one.code == "heights-reversed" and one.remedy.startswith(
        "Exchange the two heights, or mend the one that is wrong"
    )
    assert one.key == "lathe.spindle_over_seat" and one.value == "62"
    (one,) = found_in(changed(ball=[{"diameter": 10, "stem_diameter": 30}]))
    assert (
        one.code == "stem-size" and one.remedy == "Exchange diameter and stem_diameter, or mend one"
    )
    assert (one.key, one.value) == ("ball[1].stem_diameter", "30")


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
        ("attachment.max_ball_diameter", "50–1/2", 'Write "50-1/2", with the keyboard\'s signs'),
        ("lathe.jaw_reach", "2½ in", 'Write "2 1/2 in", with the keyboard\'s signs'),
        ("lathe.chuck_diameter", "1.000,5", 'Write "1000.5", with a point alone'),
        ("lathe.chuck_diameter", "+-100", 'Write "100", without a sign'),
        ("turning.finish", "2 µm", 'Write "0.002 mm"'),
        ("lathe.jaw_reach", "500 thou", 'Write "0.5 in"'),
        ("attachment.screw_pitch", "1/20", 'If threads per inch are meant, write "20 tpi"'),
        ("attachment.screw_pitch", "M10x1.5", 'Write "1.5 mm"'),
        ("shop.dividing_head_ratio", "40:1", "Write 40, without quotes"),
        ("shop.taps", "M3, M4; M5", 'Write it in brackets: ["M3", "M4", "M5"]'),
        ("shop.machines", ["drill press"], 'Write [shop.machines."drill press"] for each'),
        ("shop.tool_material", "hss", 'Did you mean "HSS"?'),
        ("materials.dial", 304, 'Write "304"'),
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
        ("flat 60 by 15", "flat 60x15"),
        ("tube 35,8", "tube 35x8"),
        ("round 25,4", "round 25.4"),
    ],
)
def test_a_section_said_otherwise(said: str, meant: str) -> None:
    bar = {"section": said, "material": "S355", "length": 300}
    (one,) = found_in(changed(**{"shop.rack": [bar]}))
    assert one.remedy == f'Write "{meant}"'
    job_from(changed(**{"shop.rack": [bar | {"section": meant}]}), "job.toml")


def test_a_section_with_more_behind_it() -> None:
    bar = {"section": "round 25 S355", "material": "S355", "length": 300}
    (one,) = found_in(changed(**{"shop.rack": [bar]}))
    assert one.remedy == 'Write "round 25", and material = "S355"'
    (one,) = found_in(changed(**{"shop.rack": [bar | {"section": "flat 60x15x240"}]}))
    assert one.remedy == 'Write "flat 60x15", and length = 240'


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
    balls = key_lines(
        "[[ball]]\nname = \"knob 1.\"\n[[ball]]\ndiameter = 3\n[[ball]]\nname = 'ball 2'\n"
    )
    assert line_of("ball.knob 1.", balls) == 1 and line_of("ball.knob 1..tolerance", balls) == 1
    assert line_of("ball.ball 3", balls) == 5 and line_of("ball.ball 2", balls) in (3, 5)
    dotted = key_lines("[lathe]\na = 1\nlathe.b = 2\n")
    assert line_of("lathe.lathe", dotted) == 3


def test_a_finding_is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(BENCH.replace("jaw_reach = 26", "jaw_reach = 2600"), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_job(path)
    (one,) = located(caught.value.findings)
    line = BENCH[: BENCH.index("jaw_reach")].count("\n") + 1
    assert one.line == line and f"{path}:{line}: lathe.jaw_reach: 2600" in one.message
    path.write_text(BENCH.split("[materials]")[0].replace("[lathe]", "[lather]"), encoding="utf-8")
    missing = finding("missing-key", str(path), "lathe", "", "missing", "Write it")
    (one,) = located([missing])
    assert one.line == len(path.read_text(encoding="utf-8").splitlines())
    gone = finding("no-file", str(tmp_path / "none.toml"), "lathe", "", "x", "y")
    assert located([gone]) == (gone,)


def test_what_a_record_has_of_a_feature_is_found_by_the_names_it_has() -> None:
    """Counted by hand: the last of two entries of one feature is the one that counts."""
    lines = key_lines(
        'format = 1\n\n[[size]]\npart = "housing"\nfeature = "pivot bore"\nvalue = 20\n'
        "[[size]]\nfeature = 'pivot bore'\npart = 'housing'\n"  # the other way round: not told
        "[[size]]\npart = 'housing'\nfeature = 'pivot bore'\n"
        '[[done]]\npart = "knob"\nfeature = "a, b"\n'
    )
    assert line_of("housing, pivot bore", lines) == 10
    assert line_of("rotating-body, journal in housing, pivot bore", lines) is None
    assert line_of("housing, pivot bore in rotating-body, journal", lines) == 10
    assert line_of("knob, a, b", lines) == 13
    assert line_of("knob, pivot bore", lines) is None
    assert line_of("size[2].value", lines) == 7
