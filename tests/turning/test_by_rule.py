"""What is drilled, turned and bought by a rule is told as a rule has it, and is planned so.

A tailstock's barrel is divided in sixteenths of an inch or in millimetres, and bar is sold by
sixteenths: nobody drills 0.773 deep with it, nor buys bar of 2.032 (common practice).
"""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from jobs import ROOT

from planner.output.plan import Plan
from planner.output.topics import TOPICS

TAPPED = [
    # thread, full thread, its pitch (ASME B1.1, ISO 261), what a rule reads
    ("inch-lathe", "5/16-18 UNC", "5/8 in", 1 / 18, 1 / 64),
    ("inch-lathe", "3/8-16 UNC", "3/4 in", 1 / 16, 1 / 64),
    ("bench-lathe", "M8", "16 mm", 1.25, 0.5),
    ("engine-lathe", "M12", "25 mm", 1.75, 0.5),
]


BALL = {"inch-lathe": "1-1/2 in", "bench-lathe": "30 mm", "engine-lathe": "60 mm"}


def told(folder: Path, example: str, ball: str) -> dict[str, tuple[str, str]]:
    """The steps of the only ball of a job: set to what, and how."""
    text = (ROOT / "examples" / f"{example}.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^\[\[ball\]\]\n(?:[^\n\[]*\n)*", "", text)
    path = folder / "job.toml"
    path.write_text(f"{text}\n[[ball]]\n{ball}\n", encoding="utf-8")
    turn = next(one for one in TOPICS if one.name == "turn")
    steps, *_ = turn.tables(Plan(path), turn.asked(turn.packaged))
    heads = [one.heading for one in steps.columns]
    at = heads.index("what")
    return {row[at]: (row[at + 1], row[at + 2]) for row in steps.shown or ()}


def read(text: str) -> float:
    """A number of a sheet, "1-5/64" or "30.5"."""
    return float(sum(Fraction(one) for one in text.split("-")))


@pytest.mark.parametrize(("example", "name", "full", "pitch", "step"), TAPPED)
def test_a_tapped_hole_is_drilled_as_deep_as_a_rule_tells(
    example: str, name: str, full: str, pitch: float, step: float, tmp_path: Path
) -> None:
    ball = f'diameter = "{BALL[example]}"\nstem_diameter = "1/2 in"\nthread = "{name}"'
    rows = told(tmp_path, example, f'{ball}\nhole_depth = "{full}"')
    found = re.search(r"then (\S+) (?:in|mm) deep", rows["drill"][1])
    assert found, rows["drill"]
    deep, least = read(found[1]), read(full.split()[0]) + 3 * pitch
    assert least - 1e-9 <= deep < least + step
    assert deep / step == pytest.approx(round(deep / step), abs=1e-9)


@pytest.mark.parametrize(
    ("example", "step", "sold"), [("inch-lathe", 1 / 64, 1 / 16), ("bench-lathe", 0.5, 0.5)]
)
def test_a_cup_is_turned_from_bar_as_it_is_sold(
    example: str, step: float, sold: float, tmp_path: Path
) -> None:
    rows = told(tmp_path, example, f'diameter = "{BALL[example]}"\nstem_diameter = "1/2 in"')
    value, how = rows["second holding"]
    assert value.startswith("split cup")
    bar = re.search(r"from bar (\S+) (?:in|mm) thick or more", how)
    outside = re.search(r"equator, (\S+) (?:in|mm) across outside", how)
    assert bar and outside, how
    thick, across = read(bar[1]), read(outside[1])
    assert across / step == pytest.approx(round(across / step), abs=1e-9)
    assert across <= thick < across + sold
    assert thick / sold == pytest.approx(round(thick / sold), abs=1e-9)


def test_a_plain_hole_of_an_inch_has_the_decimal_of_its_drill_beside_it(tmp_path: Path) -> None:
    ball = 'diameter = "1-1/2"\nstem_diameter = "1/2"\nhole = "1/4"\nhole_depth = "1/2"'
    rows = told(tmp_path, "inch-lathe", ball)
    assert rows["drill"][0] == "1/4, 0.250 in" and "then 1/2 in deep" in rows["drill"][1]


@pytest.mark.parametrize(
    ("example", "hole", "depth", "drill", "deep"),
    [
        # 6 / 25.4 = 0.2362 and 15 / 25.4 = 0.591; letter B is 0.238, #7 0.201 (ASME B94.11M)
        (
            *("inch-lathe", "6 mm", "15 mm"),
            *("6 mm, 0.2362 in (or letter B, 0.238)", "15 mm = 0.591 in"),
        ),
        ("inch-lathe", "0.201 in", "1/2 in", "#7, 0.201 in", "1/2 in"),
        ("inch-lathe", "0.45 in", "1/2 in", "0.450 in", "1/2 in"),  # no drill's: bored
        ("bench-lathe", "6 mm", "15 mm", "6 mm", "15 mm"),
        ("bench-lathe", "1/4 in", "15 mm", "1/4 in, 6.35 mm (or 6.3 mm)", "15 mm"),
    ],
)
def test_a_plain_hole_is_drilled_by_what_its_drill_is_sold_by(
    example: str, hole: str, depth: str, drill: str, deep: str, tmp_path: Path
) -> None:
    """It read "0.236 in" and "0.591 in deep", which no drill is marked with and no rule has."""
    ball = f'diameter = "{BALL[example]}"\nstem_diameter = "1/2 in"\nhole = "{hole}"'
    value, how = told(tmp_path, example, f'{ball}\nhole_depth = "{depth}"')["drill"]
    assert value == drill and f"then {deep} deep" in how


def test_radii_of_an_inch_ball_add_up_by_the_dial(tmp_path: Path) -> None:
    # half of 1-5/8 is 0.8125: in three decimals two divisions of 0.001 before it read as 0.003
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^\[\[ball\]\]\n(?:[^\n\[]*\n)*", "", text)
    path = tmp_path / "job.toml"
    path.write_text(
        f'{text}\n[[ball]]\ndiameter = "1-5/8"\nstem_diameter = "1/2"\n', encoding="utf-8"
    )
    plan = Plan(path)
    turn = next(one for one in TOPICS if one.name == "turn")
    tables = {one.name: one for one in turn.tables(plan, turn.asked(turn.packaged))}
    steps, passes = tables["setup"], tables["passes"]
    assert any("0.8125 in behind the end" in row for row in steps.shown or ())
    at = [passes.heads.index(one) for one in ("dial at", "turns to go", "tip radius")]
    rows = [[float(row[i]) for i in at] for row in passes.shown or ()]
    for dial, turns, radius in rows:  # of 50 divisions, 0.001 each: the dial's numbers fall to go
        to_go = turns * 50 + (50 - dial) % 50
        assert radius == pytest.approx(0.8125 + to_go * 0.001, abs=1e-9)
    assert len({row[0] for row in rows}) > 2
    (picture,) = [
        one.content for one in turn.files(turn, plan) if one.path.endswith("turn-ball-1.svg")
    ]
    jaws = re.search(r">([^<]*) to the jaws<", str(picture))
    by_hand = next(row for row in steps.shown or () if "by hand" in row)
    assert jaws and f"Jaws at least {jaws[1]} from the centre" in " ".join(by_hand)


def test_a_hollow_is_told_so_that_its_radius_comes_out(tmp_path: Path) -> None:
    # half the mouth squared and the depth squared over twice the depth: of 0.062 for 1/16 came 3.53
    ball = 'diameter = 7\nshape = "socket"\ndepth = "1/16"\nblank_diameter = "1-7/8"'
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^\[\[ball\]\]\n(?:[^\n\[]*\n)*", "", text)
    path = tmp_path / "job.toml"
    path.write_text(f'{text}\n[[ball]]\nname = "cup"\n{ball}\n', encoding="utf-8")
    turn = next(one for one in TOPICS if one.name == "turn")
    steps = next(one for one in turn.tables(Plan(path), turn.asked(turn.packaged)) if one.shown)
    words = {cell: row for row in steps.shown or () for cell in row}
    out = " ".join(words["blank"])
    assert re.search(r" (\d-)?\d+/\d+ in or so out of the jaws", out), out
    told = " ".join(words["measure"])
    mouth, deep = (float(one) for one in re.findall(r"(\d\.\d+) in", told)[:2])
    assert ((mouth / 2) ** 2 + deep**2) / (2 * deep) == pytest.approx(3.5, abs=0.005)


def test_what_a_job_asks_for_in_millimetres_is_said_in_both_on_an_inch_lathe(
    tmp_path: Path,
) -> None:
    """A stem asked for as 12 mm was told as 0.472 alone, 20 of it as 0.787, a handle's taper as 0.394
    to 0.630: 12, 20, 10, 16 and 70 / 25.4. A stem of 5/8 is turned by a caliper, which has no 64ths."""
    thick = 'diameter = "1-1/4"\nblank_diameter = "1-5/16"\n'
    rows = told(tmp_path, "inch-lathe", f'{thick}stem_diameter = "12 mm"\nstem_length = "20 mm"')
    stem = next(value for what, (value, _) in rows.items() if what.startswith("stem"))
    assert stem == "12 mm = 0.472 in"
    assert "20 mm = 0.787 in of stem left" in rows["part off"][1]
    rows = told(tmp_path, "inch-lathe", f'{thick}stem_diameter = "5/8"\nstem_length = "3/4"')
    stem = next(value for what, (value, _) in rows.items() if what.startswith("stem"))
    assert stem == "5/8 = 0.625 in" and "3/4 in of stem left" in rows["part off"][1]
    taper = 'stem_diameter = "10 mm"\nstem_length = "70 mm"\nlarge_diameter = "16 mm"'
    rows = told(tmp_path, "inch-lathe", f'shape = "taper handle"\n{thick}{taper}')
    assert "10 mm = 0.394 in where it leaves the ball to 16 mm = 0.630 in" in rows["taper"][1]
    assert "70 mm = 2.756 in behind it" in rows["taper"][1]


@pytest.mark.parametrize(
    ("example", "ball", "said", "more"),
    [
        # 25 / 25.4 = 0.984; a sixteenth more is 1.047, and bar is sold by sixteenths
        ("inch-lathe", "25 mm", "blank 25 mm = 0.984 in", "1-1/16 in or more"),
        ("inch-lathe", "7/8 in", "blank 7/8 in", "15/16 in or more"),
        ("bench-lathe", "25 mm", "blank 25 mm", "26 mm or more"),
    ],
)
def test_a_thin_blank_is_named_as_asked_and_the_next_as_it_is_sold(
    example: str, ball: str, said: str, more: str, tmp_path: Path
) -> None:
    """ "Take a blank of 1.047 in": nobody sells one."""
    text = (ROOT / "examples" / f"{example}.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^\[\[ball\]\]\n(?:[^\n\[]*\n)*", "", text)
    path = tmp_path / "job.toml"
    blank = f'blank_diameter = "{ball}"\nstem_diameter = "3/8 in"\nstem_length = "1 in"'
    path.write_text(f'{text}\n[[ball]]\ndiameter = "{ball}"\n{blank}\n', encoding="utf-8")
    found = [one for one in Plan(path).turned.findings if one.code == "thin-blank"]
    assert [one.value for one in found] == [said]
    assert f"Take a blank of {more}" in found[0].remedy
