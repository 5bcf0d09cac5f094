"""Slips of sixty that were told by what followed from them, or by a remedy that does not help.

Each remedy is tried: the line is written as the message says, and must hold what was meant. The slips
are common practice; the grammar is that of TOML 1.0 (toml.io/en/v1.0.0), as Python reads it.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, changed

from planner.job import grammar
from planner.job.reading import job_from, read_job, read_table, validated
from planner.job.template import readings_template
from planner.measuring.readings import Readings, read_readings
from planner.output.package.swap import checked
from planner.sizing.apply import size_up
from planner.words.findings import BadInput, Finding


def broken(text: str) -> grammar.Broken:
    with pytest.raises(grammar.Broken) as caught:
        grammar.loads(text)
    return caught.value


def found_in(data: dict[str, Any]) -> list[Finding]:
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml")
    return list(caught.value.findings)


@pytest.mark.parametrize(
    "line, limit, meant",
    [
        ('u = "mm""', "a quote too many", {"u": "mm"}),
        ('u = ""mm"', "a quote too many", {"u": "mm"}),
        ('h = "2-3/4""', "a quote too many", {"h": "2-3/4 in"}),
        ('t = ["M8", "M8x1"", "M16"]', "a quote too many, in a list", {"t": ["M8", "M8x1", "M16"]}),
        ("[tool post]", "a blank in a name that is not in quotes", {"tool_post": {}}),
        ("[tool_post]:", "words behind a table's heading", {"tool_post": {}}),
        ("(tool_post)", "a table's heading in brackets of another kind", {"tool_post": {}}),
        ("{shop.torch}", "a table's heading in brackets of another kind", {"shop": {"torch": {}}}),
        ("d = Ø100 mm", "Ø before a number", {"d": "100 mm"}),
        ("d = about 26", "about before a number", {"d": 26}),
        ("d = ca. 26 mm", "ca. before a number", {"d": "26 mm"}),
    ],
)
def test_a_line_written_as_the_remedy_says_holds_what_was_meant(
    line: str, limit: str, meant: dict[str, Any]
) -> None:
    told = broken(f"a = 1\n{line}\n")
    asked = re.fullmatch(r"Write (.*)", told.remedy)
    assert (told.line, told.limit) == (2, limit) and asked, told
    assert tomllib.loads(asked[1]) == meant


def test_a_diameter_sign_before_a_number_is_no_word() -> None:
    told = broken("d = Ø25\n")
    assert told.remedy == 'Write d = 25, or "round 25" if it is a section'


def test_a_line_that_is_half_written_is_a_key_or_a_heading() -> None:
    told = broken("[shop]\nkerf\n")
    assert told.remedy == "Write kerf = and its value, or [kerf] if it is a table's heading"


def test_of_two_kinds_of_heading_the_one_that_is_wrong_is_shown() -> None:
    told = broken("[shop.rack]\na = 1\n[[shop.rack]]\na = 2\n")
    assert (told.line, told.value) == (1, "'[shop.rack]'")
    told = broken("[[shop.rack]]\na = 1\n[shop.rack]\na = 2\n")
    assert (told.line, told.value) == (3, "'[shop.rack]'")
    assert told.remedy == "Write [[shop.rack]] for each"


def test_a_list_of_machines_beside_their_tables_is_not_a_table_twice() -> None:
    told = broken('[shop]\nmachines = ["mill"]\n\n[shop.machines.mill]\nspeeds = [95]\n')
    assert (told.line, told.limit) == (
        4,
        "shop.machines has a value on line 2, and is a table here",
    )
    assert told.remedy == "Keep the table, and take line 2 out"


@pytest.mark.parametrize(
    "key, value, remedy",
    [
        ("lathe.spindle_speeds", "80, 140, 220", "Write it in brackets: [80, 140, 220]"),
        ("lathe.spindle_speeds", "80-1900", "Write it in brackets, as in [1, 2]"),
        ("shop.reamers", "6; 8.5", "Write it in brackets: [6, 8.5]"),
    ],
)
def test_numbers_in_one_pair_of_quotes_are_a_list_of_numbers(
    key: str, value: str, remedy: str
) -> None:
    (one,) = found_in(changed(**{key: value}))
    assert one.remedy == remedy
    if "[1, 2]" not in remedy:
        job_from(
            changed(**{key: tomllib.loads(f"a = {remedy.partition(': ')[2]}")["a"]}), "job.toml"
        )


@pytest.mark.parametrize(
    "changes, remedy",
    [
        # 4 and 7/8 are inches on a lathe of 100 mm, 0.31 is a metre for a bar: none of ours
        ({"lathe.chuck_diameter": 4}, 'If inches are meant, write "4 in"; else correct the number'),
        ({"lathe.spindle_over_seat": "7/8"},
         'If inches are meant, write "7/8 in"; else correct the number'),
        ({"units": "in", "lathe.chuck_diameter": 125},
         'If millimetres are meant, write "125 mm"; else correct the number'),
        ({"lathe.chuck_diameter": 10000}, "Check the unit"),
        ({"lathe.chuck_diameter": "4 mm"}, "Check the unit"),
        ({"lathe.chuck_diameter": -4}, "Give it as a size above zero"),
    ],
)  # fmt: skip
def test_a_length_that_would_do_in_the_other_unit_is_told_so(
    changes: dict[str, Any], remedy: str
) -> None:
    key = [*changes][-1]
    if "units" in changes:
        with open(ROOT / "examples" / "inch-lathe.toml", "rb") as file:
            data = tomllib.load(file)
        data["lathe"]["chuck_diameter"] = changes[key]
    else:
        data = changed(**changes)
    (one,) = found_in(data)
    assert (one.code, one.key, one.remedy) == ("out-of-range", key, remedy)
    if meant := re.search(r'write "(.*)";', remedy):
        table, _, last = key.partition(".")
        data[table][last] = meant[1]
        job_from(data, "job.toml")


@pytest.mark.parametrize(
    "name, remedy",
    [
        ("M8x1,25", 'Write "M8x1.25"'),
        ("1/4−20 UNC", 'Write "1/4-20 UNC"'),
        ("M8x3", "Nearest: M8x1; see them all with: pommel list threads"),
    ],
)
def test_a_thread_with_a_comma_is_the_thread_with_a_point(name: str, remedy: str) -> None:
    (one,) = found_in(changed(**{"shop.taps": [name]}))
    assert one.code == "unknown-name" and one.remedy.startswith(remedy[:12])
    if meant := re.fullmatch(r'Write "(.*)"', remedy):
        assert one.remedy == remedy
        job_from(changed(**{"shop.taps": [meant[1]]}), "job.toml")


@pytest.mark.parametrize("text", ["7/8″", "7/8”", "7/8''"])
def test_an_inch_mark_that_is_not_the_keyboards(text: str) -> None:
    (one,) = found_in(changed(**{"lathe.spindle_over_seat": text}))
    assert one.remedy == 'Write "7/8 in"'
    job_from(changed(**{"lathe.spindle_over_seat": "7/8 in"}), "job.toml")


@pytest.mark.parametrize(
    "text, remedy",
    [
        ("14,50", "Write 14.50, without quotes"),
        ("14.50 EUR", "Write 14.50, without quotes"),
        ("EUR 14.50", "Write 14.50, without quotes"),
        ("1,450", "Write it without quotes"),
        ("much", "Write it without quotes"),
    ],
)
def test_a_price_in_quotes(text: str, remedy: str) -> None:
    bar = {"section": "round 20", "material": "S355", "length": 500, "price": text}
    (one,) = found_in(changed(**{"shop.buy": [bar]}))
    assert (one.key, one.remedy) == ("shop.buy[1].price", remedy)


@pytest.mark.parametrize("text", ['round 1""', 'flat 2x1 ""', 'round 1"in'])
def test_quotes_behind_a_section_are_no_unit(text: str) -> None:
    bar = {"section": text, "material": "S355", "length": 500}
    (one,) = found_in(changed(**{"shop.rack": [bar]}))
    assert one.key == "shop.rack[1].section" and one.code in ("wrong-unit", "not-a-section")
    (one,) = found_in(changed(**{"lathe.chuck_diameter": "5'\""}))
    assert one.code == "wrong-unit" and "mm, cm, m, in or ft" in one.remedy


def test_a_file_of_another_kind_is_one_finding() -> None:
    (one,) = found_in(tomllib.loads(readings_template(inch=False)))
    assert (one.key, one.limit) == (
        "reading",
        "this is a file of readings, and another file is wanted here",
    )
    with pytest.raises(BadInput) as caught:
        read_table(ROOT / "examples" / "bench-lathe.toml", Readings)
    (one,) = caught.value.findings
    assert (one.key, one.limit) == ("lathe", "this is a job, and another file is wanted here")
    assert one.remedy == "Name the files in the order of the command's --help, the job first"
    with pytest.raises(BadInput) as caught:
        validated({"units": "mm", "done": [{"part": "housing"}]}, "made.toml", Readings)
    assert caught.value.findings[0].limit.startswith("this is a record of what was made")
    # a job with a table of readings too many is a job all the same
    (one,) = found_in(changed(reading=[{"angle": 90}]))
    assert one.limit == "unknown table"


def test_of_several_balls_the_readings_say_which(tmp_path: Path) -> None:
    file = tmp_path / "readings.toml"
    file.write_text(readings_template(inch=False), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_readings(file, read_job(ROOT / "examples" / "engine-lathe.toml"))
    (one,) = caught.value.findings
    assert one.text == "which ball was measured is not said. Name one: knob, lever, dish"


@pytest.mark.parametrize(
    "name, meant",
    [
        ("pillar drill", "drill press"),
        ("drilling machine", "drill press"),
        ("milling machine", "mill"),
        ("Mill", "mill"),
    ],
)
def test_a_machine_by_another_name(name: str, meant: str) -> None:
    (one,) = found_in(changed(**{"shop.machines": {name: {}}}))
    assert one.code == "not-a-choice" and one.remedy == f'Did you mean "{meant}"?'


@pytest.mark.parametrize("table", ["shop", "shop.machines.mill", "lathe"])
def test_a_machine_as_a_key_is_a_table_of_its_own(table: str) -> None:
    (one,) = found_in(changed(**{f"{table}.drill_press": True}))
    assert one.code == "unknown-key"
    assert one.remedy == 'Write [shop.machines."drill press"] on a line of its own'


def test_two_balls_of_one_name_cannot_be_told_apart() -> None:
    # readings, --ball and the record name a ball by its name
    balls = [{"name": "knob", "diameter": 20}, {"diameter": 25}, {"name": "knob", "diameter": 30}]
    (one,) = found_in(changed(ball=balls))
    assert (one.code, one.key) == ("wrong-value", "ball[3].name")
    assert f"{one.key}: {one.limit}" == "ball[3].name: knob is the name of ball 1 too"
    assert (one.value, one.remedy) == ("", "Give each ball a name of its own")
    job_from(changed(ball=[balls[0], {"diameter": 25}, {"diameter": 30}]), "job.toml")


def test_an_accuracy_of_microns_is_not_taken_for_millimetres() -> None:
    data = tomllib.loads(readings_template(inch=False)) | {"accuracy": 5}
    with pytest.raises(BadInput) as caught:
        validated(data, "readings.toml", Readings)
    (one,) = caught.value.findings
    assert (one.code, one.key) == ("out-of-range", "accuracy") and "0 and 1 mm" in one.limit


def test_out_on_a_file_that_is_there_is_to_name_another(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_text("", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        checked(file)
    (one,) = caught.value.findings
    assert one.text == "a file of that name is there. Name another folder with --out"


@pytest.mark.parametrize(
    "heading, first, more",
    [
        ("[tool_post]", "lathe.largest_shank", 7),
        ("[attachment]", "tool_post.max_ball_diameter", 2),
        ("[lathe]", "spindle_over_seat", 8),
    ],
)
def test_a_heading_left_out_is_the_one_cause(heading: str, first: str, more: int) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    (one,) = found_in(tomllib.loads(text.replace(f"{heading}\n", "", 1)))
    assert (one.code, one.key) == ("missing-key", first)
    said = f"a key of [{heading.strip('[]')}] that has no heading; {more} more stand with it"
    assert one.limit == said
    assert one.remedy == f"Write [{heading.strip('[]')}] on a line before them"


def test_one_key_of_a_table_that_is_missing_is_no_heading_left_out() -> None:
    data = changed(**{"lathe.max_ball_diameter": 50})
    del data["attachment"]
    assert all("no heading" not in one.limit for one in found_in(data))


@pytest.mark.parametrize("text", ["20 per inch", "20 threads per inch", "20 t.p.i.", "20/in"])
def test_threads_per_inch_in_other_words(text: str) -> None:
    (one,) = found_in(changed(**{"attachment.screw_pitch": text}))
    assert one.remedy == 'Write "20 tpi"'


@pytest.mark.parametrize(
    "text, meant", [("tube 8x35", "tube 35x8"), ("tube 8 x 35 mm", "tube 35x8 mm")]
)
def test_a_tubes_wall_before_its_diameter(text: str, meant: str) -> None:
    bar = {"section": text, "material": "S355", "length": 500}
    (one,) = found_in(changed(**{"shop.rack": [bar]}))
    assert one.remedy == f'Write "{meant}"'
    job_from(changed(**{"shop.rack": [bar | {"section": meant}]}), "job.toml")
    (one,) = found_in(changed(**{"shop.rack": [bar | {"section": "tube 35x20"}]}))
    assert one.remedy.startswith("Write a section such as")


@pytest.mark.parametrize("word, meant", [("MMA", "stick"), ("arc", "stick"), ("GMAW", "MIG")])
def test_a_way_of_welding_by_another_name(word: str, meant: str) -> None:
    (one,) = found_in(changed(**{"shop.machines": {"welder": {"process": word}}}))
    assert one.remedy == f'Did you mean "{meant}"?'


def test_a_metal_that_is_not_welded_is_not_the_balls_fault() -> None:
    with pytest.raises(BadInput) as caught:
        size_up(job_from(changed(**{"materials.structure": "CW614N"}), "job.toml"), "job.toml")
    first = caught.value.findings[0]
    assert (first.code, first.remedy) == ("weldability", "Use S355")


def test_sizes_of_a_ball_are_told_at_their_own_key() -> None:
    balls = {
        "blank_diameter: the blank is thinner than the ball": ("blank_diameter", 10),
        "stem_diameter: the stem is as thick as the ball": ("stem_diameter", 30),
    }
    for said, (key, size) in balls.items():
        (one,) = found_in(changed(ball=[{"diameter": 30, key: size}]))
        assert (one.key, one.value) == (f"ball[1].{key}", str(size))
        assert f"{key}: {one.limit}" == said
        if key == "blank_diameter":
            assert one.remedy == "Give at least the ball's diameter, or mend that"
