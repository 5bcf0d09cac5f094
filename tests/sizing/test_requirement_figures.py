"""Requirements on the sizes: each measure and bound worked out by hand, each sentence, each edge.

The sums stand in requirements.txt beside this, a line each, from the bench lathe's size sheet.
"""

from __future__ import annotations

from math import hypot, inf, pi, sqrt
from pathlib import Path
from typing import Any

import pytest
from jobs import changed
from msgspec.structs import replace

from parts.standard.sections import Section
from planner.job.reading import job_from
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.sizing.requirements import REQUIREMENTS
from planner.sizing.requirements.check import check_sizes
from planner.sizing.requirements.model import no_less, no_more
from planner.words.findings import Finding

BY_HAND = [
    [word.strip() for word in line.split("|")]
    for line in Path(__file__).with_name("requirements.txt").read_text("utf-8").splitlines()
    if not line.startswith("#")
]


def summed(words: str) -> float:
    """A sum of numbers as it is written in the file."""
    return float(
        eval(words, {"__builtins__": {}}, {"sqrt": sqrt, "hypot": hypot, "pi": pi, "inf": inf})
    )


def test_every_requirement_stands_in_the_file_and_as_it_is_there(bench: Plan) -> None:
    s = bench.sizing.sizes
    assert len(BY_HAND) == len(REQUIREMENTS)
    for (name, what, measure, way, bound, *remedy), asked in zip(
        BY_HAND, REQUIREMENTS, strict=True
    ):
        assert f"{asked.code} {asked.key}" == name
        assert (asked.what, asked.most, asked.remedy) == (what, way == "at most", "".join(remedy))
        assert float(asked.value(s)) == pytest.approx(summed(measure), abs=1e-3), what
        assert float(asked.bound(s)) == pytest.approx(summed(bound), abs=1e-6), what


def test_a_bound_is_kept_when_it_is_just_met() -> None:
    def bound(_: Any) -> float:
        return 3.0

    for value, enough, little in ((3.0, True, True), (2.999, False, True), (3.001, True, False)):

        def measure(_: Any, value: float = value) -> float:
            return value

        assert no_less("thin-wall", "x", "wall", measure, bound, "Mend it").met(None) is enough
        assert no_more("thin-wall", "x", "wall", measure, bound, "Mend it").met(None) is little
    less = no_less("thin-wall", "x", "wall", lambda s: 2.0, bound, "Mend it")
    assert less.words(None, "{:g} mm".format) == ("wall 2 mm", "needs 3 mm", "Mend it")
    more = no_more("thin-wall", "x", "wall", lambda s: 4.0, bound, "Mend it")
    assert more.words(None, "{:g} mm".format) == ("wall 4 mm", "at most 3 mm", "Mend it")


def told(plan: Plan, **sizes: Any) -> dict[str, Finding]:
    """The findings on the bench lathe's sizes with some changed, by code; the first of each."""
    found = check_sizes(replace(plan.sizing.sizes, **sizes), plan.job, "job.toml")
    return {one.code: one for one in reversed(found)}


def test_the_examples_sizes_have_none(bench: Plan) -> None:
    assert told(bench) == {}


@pytest.mark.parametrize(
    ("code", "inside", "outside", "key", "text"),
    [
        # 3 mm of wall: a 20 bore in tube 26
        (
            "tube-hole",
            {"tube_stock": Section("tube", 35.0, 7.6)},
            {"tube_stock": Section("tube", 35.0, 7.5)},
            "attachment.sizes.tube_stock",
            "the tube's hole is 20 mm: must be under the bore, 20 mm, to clean up. Use a thicker wall"
            " or a larger pivot",
        ),
        (
            "shank-size",
            {"largest_shank_mm": 16.0},
            {"largest_shank_mm": 15.9},
            "attachment.sizes.shank_stock",
            "shank 16 mm: the tool post takes 15.9 mm. Use a smaller square",
        ),
        # a spindle 24.2 over the seat leaves 9.18 - 8.2 of bed, under 1
        (
            "shank-bed",
            {"spindle_over_seat_mm": 24.1},
            {"spindle_over_seat_mm": 24.2},
            "attachment.sizes.shank_stock",
            None,
        ),
        # five widths of a 6 mm bit (common practice: four to five)
        (
            "bit-stickout",
            {"bit_stickout_mm": 24.0},
            {"bit_stickout_mm": 30.1},
            "attachment.min_ball_diameter",
            "the bit sticks out 30.1 mm for a ball of 16 mm: at most five of its own widths, 30 mm."
            " Use a thicker bit, or turn smaller balls with a smaller attachment",
        ),
        # 24 pi / 94 is 0.802, / 95 is 0.794: under 0.8 mm lines are hard to read (common practice)
        (
            "dial-lines",
            {"dial_divisions": 94},
            {"dial_divisions": 95},
            "attachment.sizes.dial_diameter",
            "lines 0.79 mm apart: closer than 0.8 mm, hard to read. Use a larger dial or fewer"
            " divisions",
        ),
        # the arm swings 51 down, 2 to clear
        (
            "cross-slide",
            {"spindle_over_cross_slide_mm": 53.01},
            {"spindle_over_cross_slide_mm": 52.9},
            "attachment.max_ball_diameter",
            "max ball diameter 50 mm: needs 53 mm over the cross slide (arm, 2 mm clear of it);"
            " this lathe has 52.9 mm."
            " Make the ball or its blank smaller",
        ),
    ],
)  # fmt: skip
def test_just_inside_and_just_outside(
    bench: Plan, code: str, inside: dict[str, Any], outside: dict[str, Any], key: str,
    text: str | None,
) -> None:  # fmt: skip
    assert code not in told(bench, **inside)
    found = told(bench, **outside)[code]
    assert found.key == key
    assert found.severity == ("warning" if code == "dial-lines" else "refused")
    if text:
        assert found.text == text


def test_walls_round_the_bore_say_both_ways_out(bench: Plan) -> None:
    # bore 30 in tube 35: 2.5 of 3
    found = told(bench, pivot_diameter_mm=30.0)["thin-wall"]
    assert found.text.startswith(
        "bore 30 mm leaves a 2.5 mm wall in 35 mm tube: needs 3 mm. Use 36 mm tube or a bore of at"
        " most 29 mm"
    )


def test_a_low_shank_is_told_with_its_ways_out(bench: Plan) -> None:
    found = told(bench, spindle_over_seat_mm=26.0)["shank-bed"]
    # the tube's flat is 2 x 9.18 wide, its lower half 9.18; the shank's top lies 10 below
    assert "the tube beds on it by 0 mm only, needs 1 mm" in found.text
    assert found.text.endswith(
        "Use a taller shank, pack it up, use a larger tube, or put a cheek between"
    )


def test_a_cheek_reaches_the_axis(bench: Plan) -> None:
    low, high = Section("flat", 19.9, 6.0), Section("flat", 20.0, 6.0)
    assert "cheek-height" not in told(bench, cheek_stock=high)
    found = told(bench, cheek_stock=low)["cheek-height"]
    assert found.text == (
        "cheek 19.9 mm high: must reach the axis, 20 mm over the seat. Use a wider flat"
    )
    # a cheek thinner than the weld's leg
    assert "weld-leg" in told(bench, cheek_stock=Section("flat", 20.0, 4.0))
    assert "weld-leg" not in told(bench, cheek_stock=Section("flat", 20.0, 4.5))


def test_blank_and_block_swing_over_the_slide(bench: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    # what else such sizes would break is left aside
    monkeypatch.setattr("planner.sizing.requirements.check.REQUIREMENTS", ())
    # half of 120 and 2 to clear: 62
    assert "blank-swing" not in told(bench, max_blank_diameter_mm=120.0)
    found = told(bench, max_blank_diameter_mm=121.0)["blank-swing"]
    assert found.text == (
        "blank 121 mm: needs 62.5 mm over the cross slide (2 mm of it clear);"
        " this lathe has 62 mm. Use a thinner blank"
    )
    assert found.key == "attachment.max_blank_diameter"
    # the block: 50 wide of which 14 stand to the chuck's side, 32 long: hypot(36, 16) = 39.395, and 1
    assert "block-swing" not in told(bench, spindle_over_cross_slide_mm=40.4)
    found = told(bench, spindle_over_cross_slide_mm=40.3)["block-swing"]
    assert found.text == (
        "the block swings 39.4 mm when its journal is turned: this lathe has 40.3 mm over the cross"
        " slide. Use a smaller block or pivot"
    )


@pytest.mark.parametrize(
    ("name", "severity", "limit"),
    [
        ("CW614N", "refused", "is not weldable, and this is welded. Use S355"),
        (
            "C45",
            "warning",
            "welds only with preheat and slow cooling. Use S355, or preheat by the steel"
            " maker's sheet",
        ),
    ],
)
def test_what_is_welded_welds(bench: Plan, name: str, severity: str, limit: str) -> None:
    for key in ("structure", "shaft"):
        found = told(bench, **{f"{key}_material": name})["weldability"]
        assert (found.key, found.severity) == (f"materials.{key}", severity)
        assert found.text == f"{name}: {limit}"


@pytest.mark.parametrize(
    ("structure", "shaft", "severity", "reason"),
    [
        ("S355", "6082-T6", "refused", "gets brittle"),
        ("6061-T6", "S355", "refused", "gets brittle"),
        ("6061-T6", "304", "refused", "gets brittle"),
        ("304", "S355", "warning", "filler for dissimilar steels"),
        ("6082-T6", "6061-T6", None, ""),
        ("S355", "1018", None, ""),
    ],
)
def test_what_is_welded_to_another_goes_with_it(
    bench: Plan, structure: str, shaft: str, severity: str | None, reason: str
) -> None:
    # steel to aluminium is not fusion welded; stainless to plain steel is, with a 309 filler (common
    # practice, any welding handbook)
    found = told(bench, structure_material=structure, shaft_material=shaft).get("weldability")
    assert (found.severity if found else None) == severity
    if found:
        assert reason in found.text and found.remedy and found.key == "materials.shaft"


def test_an_inch_shop_is_offered_an_inch_shops_steel() -> None:
    # 1018 to ASTM A108 is what it buys; S355 to EN 10025-2 is not on its dealer's list
    job = job_from(changed("inch-lathe"), "job.toml")
    sizes = replace(size_up(job, "job.toml").sizes, structure_material="C360")
    said = [one.remedy for one in check_sizes(sizes, job, "job.toml") if one.code == "weldability"]
    assert said and all("1018" in one and "S355" not in one for one in said)


def test_free_cutting_steel_is_refused_by_itself(bench: Plan) -> None:
    found = told(bench, structure_material="S355", shaft_material="11SMn30")["weldability"]
    assert found.severity == "refused" and "is not weldable" in found.text


@pytest.mark.parametrize(("rod", "rim"), [(10, 7.0), (14, 9.0), (16, 9.0)])
def test_a_dials_rim_is_seven_to_nine(rod: float, rim: float) -> None:
    # six tenths of the rod up to the next millimetre, 7 to hold by and 9 at most (of this design)
    job = job_from(changed(**{"attachment.sizes": {"rod_diameter": rod}}), "job.toml")
    assert size_up(job, "job.toml").sizes.dial_rim_mm == rim
