"""What an inch shop reads by a gauge is said as that gauge reads: a height gauge, a depth gauge and a
caliper in thousandths, a micrometer in tenths (common practice), a rule in 64ths that allow no more.
"""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest
from jobs import ROOT, planned
from msgspec.structs import replace
from turned import turned_of

from planner.book.model import Step
from planner.checking.sweep_findings import clearance_findings
from planner.job.reading import job_from
from planner.job.template import readings_template
from planner.output.book.lathe import first_ball
from planner.output.book.opening import cover
from planner.output.book.pages import Pages
from planner.output.sheets.turn import ball_sheets, turn_tables
from planner.output.topics import TOPICS
from planner.words.numbers import INCH
from planner.words.tables import Table

EXAMPLE = ROOT / "examples" / "inch-lathe.toml"
JOBS = sorted((ROOT / "tests" / "data" / "inch-jobs").glob("*.toml"))


def tables_of(path: Path, topic: str) -> list[Table]:
    one = next(one for one in TOPICS if one.name == topic)
    return list(one.tables(planned(path), one.asked(one.packaged)))


def turned(job: str, table: str) -> Table:
    path = ROOT / "tests" / "data" / "inch-jobs" / f"{job}.toml"
    return next(one for one in tables_of(path, "turn") if one.name == table)


def said(table: Table, ball: str) -> dict[str, str]:
    return {row[2]: f"{row[3]}: {row[4]}" for row in table.rows if row[0] == ball}


def test_a_dish_is_set_and_measured_by_what_its_gauges_read() -> None:
    # tool-room: the spindle 4-1/8 in over the cross slide, a dish of an 8 in sphere, 1/16 in deep:
    # the point stands 4.125 + 4 high, the mouth is 2 root(2 x 4 x 0.0625 - 0.0625^2) = 1.4087 across
    dish = said(turned("tool-room", "socket"), "dish")
    assert "a height gauge on the cross slide reads 8.125 in at the point" in dish["dial zero"]
    assert dish["measure"].startswith("mouth 1.409 in: across the face, and 0.0625 in deep in the")
    # by the rule that stands there the radius comes out: of 0.062 it came to 4.03
    assert pytest.approx(4.0, abs=0.005) == ((1.409 / 2) ** 2 + 0.0625**2) / (2 * 0.0625)
    assert re.search(r"beyond the arm, [\d-]*\d+/\d+ = \d\.\d{3} in out of it", dish["bit"])


@pytest.mark.parametrize("path", [EXAMPLE, *JOBS], ids=lambda path: path.stem)
def test_the_dial_set_at_the_touch_leaves_the_ball_no_smaller_than_its_size(path: Path) -> None:
    # from the thickness that stands there half the ball, by so many divisions, is what is left over:
    # metal that is off is not put on again (a fact of the trade), so that 0 is never under the size
    setup = next(one for one in tables_of(path, "turn") if one.name == "setup")
    balls = {row[0] for row in setup.rows}
    seen = 0
    for ball in balls:
        rows = said(setup, ball)
        touched = re.search(r"where it is (\d+\.\d+) in thick", rows["dial zero"])
        if not touched:
            continue
        at = re.match(r"at (\d+)(?:, (\d+) turns? to go)?:", rows["dial zero"])
        radius = re.match(r"(\d+\.\d+) in behind the end", rows["set-over"])
        assert at and radius
        job = tomllib.loads(path.read_text())["attachment"]
        pitch = job["screw_pitch"]
        count = job["dial_divisions"]
        number, unit = pitch.split()
        division = (1 / float(number) if unit == "tpi" else float(number) / 25.4) / count
        to_go = (count - int(at[1])) % count + int(at[2] or 0) * count
        rest = float(touched[1]) / 2 - float(radius[1]) - to_go * division
        assert -0.03 * division - 8e-5 <= rest < division  # as printed, in tenths
        stated = re.search(r"whole divisions: (\d\.\d+) in more is there to go", rows["dial zero"])
        assert pytest.approx(float(stated[1]) if stated else 0.0, abs=1.6e-4) == rest
        seen += 1
    assert seen


@pytest.mark.parametrize(
    ("job", "said"), [("metric-feed", "1 mm = 0.03937 in"), ("tool-room", "0.100 in")]
)
def test_the_cover_names_the_advance_that_the_dials_divisions_come_to(job: str, said: str) -> None:
    # 1 mm / 25.4 is 0.03937 in: fifty divisions of 0.000787; of 0.039 they do not come out
    made = planned(ROOT / "tests" / "data" / "inch-jobs" / f"{job}.toml")
    assert ("feed screw, advance a turn", said) in cover(Pages(made), "a.svg").sizes


def test_a_hollow_is_not_left_out_of_the_check_without_a_word() -> None:
    # whoever counts the balls of the job in the check misses one (a fact of reading)
    path = ROOT / "tests" / "data" / "inch-jobs" / "tool-room.toml"
    table = next(one for one in tables_of(path, "check") if one.name == "clearance")
    told = {row[0] for row in table.rows} | set(re.findall(r"turn: ([\w ]+)\.", table.notes[-1]))
    assert {one["name"] for one in tomllib.loads(path.read_text())["ball"]} <= told
    plain = next(one for one in tables_of(EXAMPLE, "check") if one.name == "clearance")
    assert "ollow" not in " ".join(plain.notes)


def test_half_a_ball_is_measured_by_a_micrometer_in_tenths() -> None:
    half = said(turned("metric-feed", "setup"), "half")  # of 1-1/2 in
    assert "by a micrometer over nose and flat the half is then 0.7500 in high" in half["part off"]
    bit = half["bit"]
    found = re.match(r"([\d/-]+) = (\d\.\d{3}) in out of the arm", bit)
    assert found and inches(found[1]) == pytest.approx(float(found[2]), abs=6e-4)
    assert re.search(r"its nose kept at \d/\d+ in for", bit)


def test_a_ball_is_asked_for_as_a_micrometer_reads_it() -> None:
    # 1-3/16 in is 1.1875 exactly: by a 1.188 a micrometer is half a thousandth out; 3/8 is 0.375
    exact = {30.1625: "1.1875 in", 9.525: "0.375 in", 46.0375: "1.8125 in", 25.4: "1.000 in"}
    assert {mm: INCH.asked(mm) for mm in exact} == exact
    assert INCH.asked(30.1625, 0.127) == "1.1875 in ±0.0050"


def test_the_book_of_an_inch_shop_asks_for_readings_in_inches() -> None:
    """What `new --readings` writes is in millimetres unless --inch is said."""
    for job, ends in (("inch-lathe", " --inch"), ("bench-lathe", "")):
        chapter = first_ball(Pages(planned(ROOT / "examples" / f"{job}.toml")))
        under = [
            line.words for one in chapter.blocks if isinstance(one, Step) for line in one.lines
        ]
        assert f"pommel new readings.toml --readings{ends}" in under
        # and so says the note under each table of readings, which left it out
        plan = planned(ROOT / "examples" / f"{job}.toml")
        noted = [
            one.notes[-1] for _, tables in ball_sheets(plan.turned, plan.job)
            for one in tables if one.name == "measuring"
        ]  # fmt: skip
        assert noted and all(f"READINGS --readings{ends})." in one for one in noted)
    assert 'units = "in"' in readings_template(inch=True)


def inches(text: str) -> float:
    whole, _, part = text.rpartition("-") if "-" in text else ("0", "", text)
    return float(int(whole) + Fraction(part))


LEAST = (
    "from the pivot axis to the post",
    "the same, turned",
    "boring bar that",
    "middle of the post from the jaws",
)
MOST = ("middle of the post from the spindle", "boring bar between", "tailstock's", "cross slide's")


@pytest.mark.parametrize("path", [EXAMPLE, *JOBS], ids=lambda path: path.stem)
def test_what_post_and_slides_must_do_is_rounded_so_that_it_will_do(path: Path) -> None:
    """A bar said to pass is no thicker than does, a travel no shorter than is needed."""
    table = next(one for one in tables_of(path, "check") if one.name == "tool_post")
    seen = 0
    for row, shown in zip(table.rows, table.shown or (), strict=True):
        told, needed = inches(shown[1]), row[1] / 25.4
        assert abs(told - needed) < 1 / 64 + 1e-4
        if row[0].startswith(LEAST):
            assert told <= needed + 1e-4, row
            seen += 1
        elif row[0].startswith(MOST):
            assert told >= needed - 1e-4, row
            seen += 1
        if "is wanted" in row[3]:
            assert re.fullmatch(r"[\d/-]+ in or more is wanted", row[3])
    assert seen == len(table.rows) - 1


@pytest.mark.parametrize("path", [EXAMPLE, *JOBS], ids=lambda path: path.stem)
def test_a_table_for_programs_has_the_inches_of_the_job(path: Path) -> None:
    """2-3/16 is 2.1875 (an inch is 25.4 mm, ISO 31), not the 2.1874 of its hundredths of a mm."""
    job = tomllib.loads(path.read_text(encoding="utf-8"))
    had = inches(str(job["lathe"]["spindle_over_cross_slide"]))
    reach = next(one for one in tables_of(path, "sizes") if one.name == "reach")
    rows = {row[0]: row[1] for row in reach.rows}
    assert round(rows["had over the cross slide"] / 25.4, 4) == pytest.approx(had, abs=1e-9)
    tables = {one.name: one for one in tables_of(path, "check")}
    beside = {row[0]: row[-1] for row in tables["clearance"].rows}
    gaps = {row[0]: row[2] for row in tables["gaps"].rows if row[1] == "blank"}
    assert gaps
    for ball, gap in gaps.items():  # the same distance in two tables
        assert round(beside[ball] / 25.4, 4) == round(gap / 25.4, 4), ball


def test_a_centre_hole_in_the_nose_is_as_wide_as_a_rule_reads(tmp_path: Path) -> None:
    """An inch shop's rule reads 64ths: 5/32 is the largest within 4 mm, 0.1575 in (common practice)."""
    path = tmp_path / "centred.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    ball = '[[ball]]\nname = "knob"\ndiameter = "1-1/2"\nstem_diameter = "5/8"\n'
    centre = '[turning]\ntailstock_centre = { diameter = "1/2", point_length = "7/16" }\n'
    path.write_text(f"{text}\n{ball}\n{centre}", encoding="utf-8")
    table = next(one for one in tables_of(path, "turn") if one.name == "setup")
    rows = [row for row in table.rows if row[2] == "centre up" and row[0] == "knob"]
    assert len(rows) == 1 and "no more than 5/32 in across its mouth" in rows[0][4]


def test_a_centre_is_named_by_the_size_that_it_was_bought_by(tmp_path: Path) -> None:
    """Bars and centres are called by fractions, 3/4, not 0.750 (common practice)."""
    path = tmp_path / "thick.toml"
    centre = '[turning]\ntailstock_centre = { diameter = "3/4", point_length = "11/16" }\n'
    path.write_text(f"{EXAMPLE.read_text(encoding='utf-8')}\n{centre}", encoding="utf-8")
    job = planned(path).job
    small = replace(planned(path).clearances[1], start_deg=90.0)
    sizes = planned(path).sizing.sizes
    told = [one for one in clearance_findings([small], sizes, job, "j") if one.code == "centre"]
    assert [" 3/4 in thick," in one.text for one in told] == [True]


@pytest.mark.parametrize(
    ("carriage", "per_inch"),
    # a lathe whose screws are metric: half a millimetre a line of the carriage's dial
    # (common practice); 25.4 mm are an inch
    [("0.5 mm", 50.8), ("0.01 in", 100.0)],
)
def test_the_carriage_is_set_to_a_line_of_its_dial(carriage: str, per_inch: float) -> None:
    path = ROOT / "tests" / "data" / "inch-jobs" / "milling-slide.toml"
    data = tomllib.loads(path.read_text())
    data["lathe"] |= {"carriage_division": carriage, "cross_slide_division": "0.025 mm"}
    job = job_from(data, str(path))
    sheets = turn_tables(turned_of(job), job)[0].records()
    told = [f"{row['value']} {row['how']}" for row in sheets if row["what"] in MOVED]
    reads = [one for text in told for one in re.findall(CARRIAGE, text)]
    assert len(reads) == 4  # the rim of the knob's hole, both parted off, the handle's taper
    for inch, lines in reads:
        at = float(inch) * per_inch
        assert at == pytest.approx(round(at), abs=0.0006 * per_inch)
        assert lines == (f"{at:.0f}" if "mm" in carriage else "")


MOVED = ("carriage zero", "stem", "taper", "part off")
CARRIAGE = re.compile(r"(?:carriage |^)(\d\.\d{3}) in(?: \((\d+) div\))?")


def test_half_a_ball_is_parted_at_its_middle_between_two_lines_if_need_be() -> None:
    # six-by-eighteen's carriage has a line each hundredth: to 0.69 the flat would lie 0.002 off the
    # middle of 1-1/8 in, past the blade of 1/8 in: 0.5625 + 0.125 = 0.6875
    half = said(turned("six-by-eighteen", "setup"), "half")
    assert half["part off"].startswith("carriage 0.688 in: ")


def test_what_an_indicator_or_a_fingernail_finds_is_said_in_round_numbers() -> None:
    # a ball turned round runs true within a thousandth, the step between its halves is half of one
    # (common practice); 0.0008 and 0.0004 are two hundredths and one of a millimetre
    knob = said(turned("milling-slide", "setup"), "knob")
    assert knob["run true"].startswith("0.001 in: ")
    assert (
        "leaves a step of at most 0.0005 in: none that a fingernail finds" in knob["second sweep"]
    )


def test_what_a_depth_gauge_may_be_off_is_a_thousandth() -> None:
    # what it reads (common practice), not two hundredths of a millimetre: of tool-room's dish, half
    # the mouth 0.7044 and the depth 0.0625, that is 0.001 (1 - (0.7044 / 0.0625)^2) / 2 of the radius
    # and 0.001 x 0.7044 / 0.0625 / 2 of the mouth
    note = turned("tool-room", "socket_measuring").notes[0]
    found = re.search(r"(\S+) in more read .* is (\S+) in less .* mouth (\S+) in more", note)
    assert found and found[1] == "0.001"
    assert float(found[2]) == pytest.approx(0.001 * ((0.7044 / 0.0625) ** 2 - 1) / 2, abs=1e-4)
    assert float(found[3]) == pytest.approx(0.001 * 0.7044 / 0.0625 / 2, abs=1e-4)
