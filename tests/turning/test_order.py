"""The order of the rows of the turning sheets: rules of the shop walked down the rows.

Each rule is a fact of the trade (common practice). `broken` knows nothing of how the sheets are made;
it is itself held to fail when a row is moved or left out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import Any

import pytest
from turned import coarse_job, turned_of

from planner.output.plan import Plan
from planner.output.sheets.turn import turn_tables

Row = dict[str, Any]

BEFORE = (
    ("blank", "face", "an end is faced on work that is held"),
    ("face", "rough", "the steps are read from the faced end"),
    ("face", "drill", "a drill starts on a faced end"),
    ("face", "set-over", "half the diameter is set off from the faced end"),
    ("drill", "tap", "a hole is tapped once it is drilled"),
    ("rough", "bit", "the head goes on when the turning tools are done"),
    ("bit", "attachment", "the bit is set before the head is in the post"),
    ("attachment", "cross slide", "the tip is put on the axis with the head in the post"),
    ("cross slide", "dial zero", "the tip on top touches the thickest only on the axis"),
    ("dial zero", "set-over", "the set-over is touched with the dial at 0"),
    ("set-over", "clear the end", "the carriage is locked before the head is swung"),
    ("set-over", "start at", "the carriage is locked before the head is swung"),
    ("set-over", "sweep", "the carriage is locked before the head is swung"),
    ("set-over", "by hand", "the carriage is locked before the head is swung"),
    ("sweep", "by hand", "the stops are set before the swing is tried"),
    ("spindle", "each pass", "the speed is set before the cut"),
    ("dial", "each pass", "which way the dial goes is known before it is turned"),
    ("rough", "parting line", "the line goes into the body that roughing has left"),
    ("parting line", "attachment", "one post holds either the parting tool or the head"),
    ("face", "centre up", "a centre hole is drilled in a faced end"),
    ("centre up", "rough", "the centre steadies the roughing"),
    ("nose first", "centre up again", "where the centre stands nothing swings"),
    ("by hand", "nose first", "a swing is tried by hand before it is made under power"),
    ("centre up again", "each pass", "the sweep begins behind the centre"),
    ("measure", "carriage zero", "the carriage stays locked until the ball is measured"),
    ("carriage zero", "steady", "the nose is touched before a cup bears on it"),
    ("carriage zero", "stem", "a reading counts from a zero"),
    ("carriage zero", "taper", "a reading counts from a zero"),
    ("carriage zero", "part off", "a reading counts from a zero"),
    ("by hand", "each pass", "a swing is tried by hand before it is made under power"),
    ("each pass", "measure", "a ball is measured once it is turned"),
    ("measure", "polish", "a ball is measured before a file takes its form"),
    ("measure", "stem", "the neck is turned down once the ball is done"),
    ("measure", "taper", "a taper is turned after the ball, which needs its stiff neck"),
    ("steady", "stem", "a slender neck is steadied first"),
    ("steady", "taper", "a slender neck is steadied first"),
    ("stem", "part off", "nothing is turned on a piece that is off"),
    ("taper", "part off", "nothing is turned on a piece that is off"),
    ("measure", "part off", "what is parted off cannot be put back to be turned again"),
    ("part off", "second holding", "a ball is turned round once it is off the bar"),
    ("second holding", "run true", "what is held anew is trued"),
    ("run true", "centre", "a centre is found on work that runs true"),
    ("run true", "attachment back", "the indicator is away before the head is in the post"),
    ("attachment back", "centre", "the head feels its way only once it is in the post"),
    ("centre", "second sweep", "a centre is found before it is swung about"),
)

NEEDED = (
    *("blank", "face", "bit", "attachment", "cross slide", "dial zero", "set-over", "start at"),
    *("sweep", "by hand", "each pass", "spindle", "dial", "measure", "carriage zero", "part off"),
)


def broken(rows: Sequence[Row]) -> list[str]:
    """The rules that a sheet's rows break, in words."""
    first: dict[str, int] = {}
    for number, row in enumerate(rows):
        first.setdefault(row["what"], number)
    found = [f"no row {what}" for what in NEEDED if what not in first]
    for early, late, why in BEFORE:
        if early in first and late in first and first[early] > first[late]:
            found.append(f"{early} after {late}: {why}")
    if "centre up" in first and "nose first" not in first:
        found.append("the nose behind the centre is never turned")
    for key, early in (
        ("second holding", "run true"),
        ("run true", "attachment back"),
        ("run true", "centre"),
    ):
        if key in first and early not in first:
            found.append(f"{key} without {early}")
    if ("stem" in first or "taper" in first) and "steady" not in first:
        found.append("a neck without a steady")
    speeds = [number for number, row in enumerate(rows) if row["what"] == "spindle"]
    if "second sweep" in first and not any(
        first.get("second holding", 0) < number < first["second sweep"] for number in speeds
    ):
        found.append("no speed is set for the second sweep")
    if not any(number < first.get("each pass", 0) for number in speeds):
        found.append("no speed is set for the passes")
    for row in rows:
        if row["what"] == "dial zero" and "run out to the right" not in row["how"]:
            found.append("the tip is swung back to the nose through the steps")
        if row["what"] == "measure" and "still locked" not in row["how"]:
            found.append("measured with the setting given up: no further division can follow")
        if row["what"] == "centre" and "paper is thick" not in row["how"]:
            found.append("the second holding's zero is a paper too far out")
    lock, swing = first.get("set-over", 10**6), first.get("each pass", -1)
    if lock < 10**6 and "lock the carriage" not in rows[lock]["how"]:
        found.append("the carriage is not locked")
    if (centre := first.get("centre up")) is not None:
        for what in ("cross slide", "set-over"):
            touch = rows[first[what]]["how"] if what in first else ""
            if first.get(what, 0) > centre and not re.search("ring|beside the hole", touch):
                found.append(f"{what} touches where the centre's hole is")
    if drill := first.get("drill"):
        # the middle of the end turns without moving: what is set by it comes before, or by a ring
        for row in rows[drill + 1 :]:
            if "middle of the faced end" in row["how"]:
                found.append(f"{row['what']} wants the middle that is drilled away")
        for what in ("cross slide", "set-over"):
            touch = rows[first[what]]["how"] if what in first else ""
            if first.get(what, 0) > drill and not re.search("ring|beside the hole", touch):
                found.append(f"{what} touches where the hole is")
        if drill > lock and not lock < first.get("clear the end", -1) < drill:
            found.append("the tip stands before the end that is drilled")
        if lock > drill and drill > first.get("rough", 10**6):
            found.append("drilled once the neck is thin")
        if drill > swing:
            found.append("drilled through a finished ball: its burr stays")
        if "tap" in first and first["tap"] != drill + 1:
            found.append("tapped at another setting than drilled")
    care = {row["what"]: row["caution"] for row in rows}
    for what, words in (
        ("blank", "key is out"),
        ("by hand", "isolated"),
        ("tap", "isolated"),
        ("measure", "stopped"),
        ("polish", "never wound round"),
        ("part off", "stand aside"),
        ("run true", "isolated"),
        ("attachment", "Never reversed"),
        ("set-over", "stays locked"),
        ("each pass", "away from the chuck"),
    ):
        if what in care and words not in care[what]:
            found.append(f"{what} without its caution")
    return found


BALLS: dict[str, dict[str, object]] = {
    "stemless": {},
    "tapped": {"thread": "M6"},
    "drilled": {"hole": 6},
    "stem": {"stem_length": 30},
    "handle": {"shape": "taper handle", "stem_length": 60, "large_diameter": 20},
    "half": {"shape": "hemisphere"},
    "half, drilled": {"shape": "hemisphere", "hole": 6},
    "rusty": {"skin": 0.5, "blank_shape": "hexagon"},
    "centred": {"stem_length": 60, "material": "C45"},
    "centred, tapped": {"thread": "M6"},
}
CASES = [(name, reach) for name in BALLS for reach in (None, 400)]
CENTRE = {"diameter": 12, "point_length": 12}


@cache
def rows_of(name: str, reach: int | None) -> tuple[Row, ...]:
    job = coarse_job({"diameter": 40, "blank_diameter": 42} | BALLS[name], **{
        "lathe.tailstock_reach": reach, "lathe.top_slide_travel": 50,
        **({"turning.tailstock_centre": CENTRE} if name.startswith("centred") else {}),
    })  # fmt: skip
    found = turned_of(job)
    tables = {table.name: table for table in turn_tables(found, job)}
    return tuple(tables["setup"].records())


@pytest.mark.parametrize(("name", "reach"), CASES)
def test_no_sheet_breaks_a_rule_of_order(name: str, reach: int | None) -> None:
    rows = rows_of(name, reach)
    assert broken(rows) == []
    whats = [row["what"] for row in rows]
    assert ("nose first" in whats) is name.startswith("centred")
    if "drilled" in name or name == "tapped":
        late = whats.index("drill") > whats.index("set-over")
        assert late is (reach is not None)
    assert ("second holding" in whats) is (
        name in ("stemless", "tapped", "drilled", "rusty", "centred, tapped")
    )
    assert ("taper" in whats) is (name == "handle")
    assert ("parting line" in whats) is name.startswith("half")


def test_the_examples_sheets_break_no_rule(plan: Plan) -> None:
    made = turn_tables(plan.turned, plan.job)
    (setup,) = [table for table in made if table.name == "setup"]
    for ball in plan.turned.balls:
        rows = [row for row in setup.records() if row["ball"] == ball.ball.name]
        assert rows and broken(rows) == []


MOVED = [("tapped", None), ("tapped", 400), ("handle", None), ("half", None), ("centred", None)]


@pytest.mark.parametrize(("name", "reach"), MOVED)
def test_the_rules_notice_a_row_that_is_moved_or_left_out(name: str, reach: int | None) -> None:
    rows = list(rows_of(name, reach))
    free = {"ball", "rough", "time", "polish", "start at", "tap", "clear the end"}
    for number, row in enumerate(rows):
        rest = rows[:number] + rows[number + 1 :]
        if row["what"] not in free and not row["what"].startswith("second"):
            ends = (broken([row, *rest]), broken([*rest, row]))
            assert any(ends), row["what"]
        if row["what"] in (
            *NEEDED,
            *("clear the end", "steady", "run true", "attachment back", "nose first"),
        ):
            assert broken(rest), row["what"]
    for what, other in (
        ("by hand", "each pass"),
        ("set-over", "sweep"),
        ("part off", "measure"),
        *([("drill", "rough")] if reach is None and name == "tapped" else []),
        *([("taper", "each pass")] if name == "handle" else []),
        *([("second holding", "part off")] if name == "tapped" else []),
    ):
        at = {row["what"]: k for k, row in enumerate(rows)}
        swapped = list(rows)
        swapped[at[what]], swapped[at[other]] = rows[at[other]], rows[at[what]]
        assert broken(swapped), (what, other)


def test_a_hole_drilled_first_is_touched_beside() -> None:
    rows = list(rows_of("tapped", None))
    at = next(k for k, row in enumerate(rows) if row["what"] == "cross slide")
    for how in ("the tip at the middle of the faced end", "the tip on the axis"):
        wrong = [*rows[:at], rows[at] | {"how": how}, *rows[at + 1 :]]
        assert any("cross slide" in text for text in broken(wrong))
    late = rows_of("tapped", 400)
    assert "ring" not in " ".join(row["how"] for row in late if row["what"] == "cross slide")


def test_a_square_bar_is_held_in_four_jaws_and_a_skin_is_cut_under() -> None:
    (blank,) = [row for row in rows_of("rusty", None) if row["what"] == "blank"]
    assert "three jaws" in blank["how"] and "0.5 mm" in blank["how"]
    job = coarse_job({"diameter": 30, "blank_diameter": 34, "blank_shape": "square"})
    setup = turn_tables(turned_of(job), job)[0].records()
    assert any("four jaws" in row["how"] for row in setup if row["what"] == "blank")


def test_a_taper_longer_than_the_slides_travel_says_its_lengths() -> None:
    (taper,) = [row for row in rows_of("handle", None) if row["what"] == "taper"]
    assert "2 lengths" in taper["how"]  # 60 by a slide of 50


def test_what_no_one_could_do_is_not_asked() -> None:
    half = {row["what"]: row for row in rows_of("half", None)}
    # half of 40 mm parted with the usual blade of 3: its left side stands 20 + 3 behind the end
    assert "reads 23 mm" in half["parting line"]["how"]
    assert half["parting line"]["value"] == "to diameter 36 mm"  # 2 mm under the ball all round
    # jaws of 26 mm grip no more than that, however thick the bar
    assert "gripped over 26 mm" in half["blank"]["how"]
    # a nose with an 8.5 mm hole (M10): its rim lies 20 - root(20^2 - 5^2) behind where the pole was,
    # by a carriage whose dial is not said to the 0.05 that a caliper reads
    job = coarse_job({"diameter": 40, "blank_diameter": 42, "thread": "M10", "tolerance": 0.2})
    rows = {row["what"]: row for row in turn_tables(turned_of(job), job)[0].records()}
    assert rows["carriage zero"]["value"] == f"{round(20 * (20 - (20**2 - 5**2) ** 0.5)) / 20:g} mm"
    # a fingernail finds a step of a hundredth (common practice), whatever the tolerance lets be
    assert "at most 0.01 mm" in rows["second sweep"]["how"]


def test_a_stem_that_roughing_left_at_size_is_not_turned_again() -> None:
    short = [row["what"] for row in rows_of("stem", None)]
    job = coarse_job(
        {"diameter": 30, "blank_diameter": 35, "stem_diameter": 14, "stem_length": 200}
    )
    long = [row["what"] for row in turn_tables(turned_of(job), job)[0].records()]
    assert ("stem" in long) and ("stem's size" not in long)  # the bar is left as thick as it came
    assert ("stem" in short) is not ("stem's size" in short)


def test_the_faced_end_stays_where_the_tip_is_to_touch_it() -> None:
    # a hole of 20 in a ball of 40: without its face the end would be set off from a step behind it
    for hole in (6, 12, 20):
        ball = {"diameter": 40, "blank_diameter": 45, "hole": hole, "hole_depth": 15}
        job = coarse_job(ball, **{"lathe.tailstock_reach": None})
        (plan,) = turned_of(job).balls
        nose = [step.radius_mm for step in plan.roughing.steps if step.side == "nose"]
        assert plan.ring_mm > hole / 2 + 1.0
        assert min(nose) >= plan.ring_mm + 0.5
        assert plan.hole is not None and plan.hole.ring_mm == plan.ring_mm


def test_a_centre_is_told_and_its_nose() -> None:
    job = coarse_job(
        {"diameter": 40, "blank_diameter": 42, "stem_length": 60},
        **{"turning.tailstock_centre": CENTRE},
    )
    found = turned_of(job)
    assert [f.code for f in found.findings].count("centre-nose") == 1
    free = turned_of(coarse_job({"diameter": 40, "blank_diameter": 42, "stem_length": 60}))
    assert "centre-nose" not in [f.code for f in free.findings]


def test_a_swing_too_slow_for_a_hand_is_told() -> None:
    def told(**changes: object) -> tuple[set[str], float]:
        job = coarse_job({"diameter": 40, "blank_diameter": 42, "material": "304"}, **changes)
        found = turned_of(job)
        # 90 degrees at the ball's own feed a turn, by the pass's own speed: the slowest of them
        slowest = max(
            90 / (one.cut.deg_per_turn * one.cut.rev_min / 60)
            for plan in found.balls
            for one in plan.passes
        )
        return {f.code for f in found.findings}, slowest

    codes, slowest = told()
    assert ("slow-swing" in codes) is (slowest > 180.0)
    assert slowest > 180.0
    codes, slowest = told(**{"shop.tool_material": "carbide"})
    assert slowest < 180.0 and "slow-swing" not in codes
