"""The chain of stiffness against recorded three-dimensional elements, and its pieces against handbooks.

The elements are those of tests/spring_solids.py, at the mesh of the record; a coarser mesh of some is
made anew by tests/checking/test_spring_solids.py.
"""

from __future__ import annotations

import json
from functools import cache
from math import pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from msgspec.structs import astuple, replace
from spring_cases import SWINGS_DEG, cases, fingerprint, moved

from parts.features import GroundPoint
from parts.sizes import Sizes
from parts.standard.sections import Section
from parts.tool import INCLUDED_DEG, nose_radius_mm, tool_bit
from planner.checking.strength import Load, bit, deflection_links
from planner.checking.strength.shank import joint_give, joint_of, swing
from planner.output.plan import Plan
from planner.sums import bedded
from planner.sums.bedded import (
    SHEAR,
    Bar,
    Strip,
    front_flexibility,
    rectangle,
    strip_stiffness,
    web_stiffness,
)

RECORD = Path(__file__).parents[1] / "benchmarks" / "spring-results.json"
FOUND: dict[str, Any] = json.loads(RECORD.read_text(encoding="utf-8"))["cases"]

LINK, OF_TOTAL = 0.25, 0.04
"""A link is right within a quarter of its own, or within so much of the total."""

SHANK = ("shank on the tube", "bare shank")


@cache
def known() -> dict[str, tuple[Sizes, Load]]:
    return cases()


def by_link(s: Sizes, load: Load, where: str) -> dict[str, tuple[float, float]]:
    """Links in 1e-6 mm for a newton of passive and of main force, the shank's two as one."""
    found: dict[str, tuple[float, float]] = {}
    for x in deflection_links(s, load, None, SWINGS_DEG[where]):
        name = "shank" if x.name in SHANK else x.name
        one, two = found.get(name, (0.0, 0.0))
        found[name] = (one + 1e6 * x.mm_per_N, two + 1e6 * x.main_mm / load.main_N)
    return found


def recorded(name: str, where: str) -> dict[str, tuple[float, float]]:
    entry = FOUND[name]["swings"][where]
    found: dict[str, tuple[float, float]] = {}
    for key, passive in entry["passive"].items():
        group = "shank" if key in SHANK else key
        one, two = found.get(group, (0.0, 0.0))
        found[group] = (one + passive, two + entry["main"][key])
    return found


def test_the_record_is_of_these_sizes() -> None:
    stale = [name for name, (s, _) in known().items() if FOUND[name]["sizes"] != fingerprint(s)]
    assert not stale, f"run tests/benchmarks/spring_by_elements.py {' '.join(stale)} --write"
    assert set(FOUND) == set(known())


PLACES = [(name, where) for name in FOUND for where in FOUND[name]["swings"]]


@pytest.mark.parametrize(("name", "where"), PLACES)
def test_each_link_and_the_total_against_elements(name: str, where: str) -> None:
    s, load = known()[name]
    closed, elements = by_link(s, load, where), recorded(name, where)
    assert set(closed) == set(elements)
    p, f = load.passive_N, load.main_N
    total = sum(passive for passive, _ in elements.values())
    both = sum(passive * p + main * f for passive, main in elements.values())
    for link, (passive, main) in elements.items():
        assert abs(closed[link][0] - passive) <= max(LINK * passive, OF_TOTAL * total), link
        # by the main force the links work against each other, so the total is that of both forces
        assert abs(closed[link][1] - main) * f <= max(LINK * abs(main) * f, OF_TOTAL * both), link
    softer = sum(passive for passive, _ in closed.values()) / total - 1
    assert -0.05 <= softer <= 0.10
    softer = sum(passive * p + main * f for passive, main in closed.values()) / both - 1
    # what is left when the bit's and the arm's share are taken off
    assert -0.05 <= softer <= 0.15


def test_a_support_or_a_length_taken_away_is_noticed() -> None:
    # so that the comparison above can fail: the post 5 mm further, the shank a tenth thinner
    s, load = known()["bench"]
    total = sum(passive for passive, _ in recorded("bench", "top").values())
    for other in (
        moved(s, s.thread_run_mm + 5.0),
        replace(s, shank_stock=replace(s.shank_stock, width_mm=0.9 * s.shank_stock.width_mm)),
    ):
        softer = sum(x.mm_per_N * 1e6 for x in deflection_links(other, load)) / total - 1
        assert softer > 0.10


def test_the_bit_is_ground_as_its_sheet_says(bench: Plan) -> None:
    s = bench.sizing.sizes
    (point,) = [one for one in tool_bit(s).features if isinstance(one, GroundPoint)]
    assert point.clearance_deg == bit.CLEARANCE_DEG and point.included_deg == INCLUDED_DEG
    for wide in (4.0, 6.0, 8.0, 12.7):
        other = replace(s, bit_stock=replace(s.bit_stock, width_mm=wide))
        assert bit.nose_mm(wide, s.series) == nose_radius_mm(other)


def test_a_bit_that_is_hardly_ground_is_a_bar_pushed_at_its_edge(bench: Plan) -> None:
    # far out, the point tells little: e^2 L / EI along the rod, -e L^2 / 2EI by the main force (any
    # handbook: a moment at a cantilever's end), e half its side
    s = replace(bench.sizing.sizes, bit_stickout_mm=2000.0)
    give, w = bit.bit_give(s), s.bit_stock.width_mm
    EI = 207_000 * w**4 / 12
    assert give.passive == pytest.approx((w / 2) ** 2 * 2000 / EI + 2000 / 207_000 / w**2, rel=0.02)
    assert give.main == pytest.approx(-w / 2 * 2000**2 / 2 / EI, rel=0.02)


# ---- two bars on a strip ----


def bed(across: float, along: float, turning: float) -> Strip:
    """A strip as stiff upright as sideways, that does not feel turning in its own face."""
    return Strip(across, across, along, turning, 0.0)


def rear(strip: Strip, off_y: float = 0.0, off_z: float = 0.0, long: float = 400.0) -> np.ndarray:
    """Flexibility of the held bar's rear end, the other bar rigid and its line that of the strip.

    The other is loaded at its front end; it being rigid, that is a load at the rear with its lever.
    """
    bar = rectangle(10.0, 10.0, 210_000.0, -off_y, -off_z)
    rigid = Bar(*(1e6 * one for one in astuple(bar)[:5]), 0.0, 0.0)
    found = front_flexibility((bar, rigid), (strip,), long)[0]
    # the strip's line at the rear is long mm behind the front: a force there has that lever
    shift = np.eye(6)
    shift[5, 1], shift[4, 2] = -long, long
    return shift.T @ found @ shift


def test_a_long_bar_on_its_bed_as_a_semi_infinite_beam() -> None:
    # Hetenyi, Beams on Elastic Foundation: end load P gives 2 L P / k and a slope 2 L^2 P / k, an end
    # moment M a slope 4 L^3 M / k, L^4 = k / (4 E I); the bed soft, so that shear hardly tells
    k, EI = 20.0, 210_000 * 10.0**4 / 12
    found, L = rear(bed(k, 1e3, 1e7)), (k / (4 * EI)) ** 0.25
    assert found[1, 1] == pytest.approx(2 * L / k, rel=0.02)
    assert found[2, 2] == pytest.approx(2 * L / k, rel=0.02)
    assert found[5, 5] == pytest.approx(4 * L**3 / k, rel=0.02)
    assert found[4, 4] == pytest.approx(4 * L**3 / k, rel=0.02)
    # the bar lies before its held end: pushed up at that end it slopes down along x
    assert found[1, 5] == pytest.approx(-2 * L**2 / k, rel=0.02)
    assert found[2, 4] == pytest.approx(2 * L**2 / k, rel=0.02)


def test_a_long_bar_twisted_and_pulled_on_its_bed() -> None:
    # d2u/dx2 = k u / EA: the end gives 1 / root(k EA); twisted likewise by GJ (any handbook)
    along, turning = 5_000.0, 40_000.0
    found = rear(bed(1e5, along, turning))
    assert found[0, 0] == pytest.approx(1 / (along * 210_000 * 100) ** 0.5, rel=0.02)
    GJ = 210_000 / 2.6 * 0.1406 * 1e4
    assert found[3, 3] == pytest.approx(1 / (turning * GJ) ** 0.5, rel=0.02)


def test_two_bars_on_a_hard_strip_bend_as_one() -> None:
    # two equal bars side by side, no slip: bent across the side they share, I is eight times one's; a
    # cantilever of that (any handbook), with the shear of both; bent the other way, twice
    bar = rectangle(10.0, 10.0, 210_000.0, 0.0, -5.0)
    other = rectangle(10.0, 10.0, 210_000.0, 0.0, 5.0)
    long, one = (
        3000.0,
        210_000 * 10.0**4 / 12,
    )  # long, so that the hold of one bar alone hardly tells
    found = front_flexibility((bar, other), (bed(1e7, 1e7, 1e9),), long)[0]
    sheared = long / (SHEAR * 210_000 / 2.6 * 200)
    assert found[2, 2] == pytest.approx(long**3 / (3 * 8 * one) + sheared, rel=0.04)
    assert found[1, 1] == pytest.approx(long**3 / (3 * 2 * one), rel=0.03)


def test_three_bars_on_hard_strips_bend_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    # as before: I of three across their sides is 27 times one's, the other way three times; with a
    # strip that lets the last bar slip it is eight times and once, a third of 27. Of ten metres a few
    # centimetres at the held end, where one bar holds all three, hardly tell
    monkeypatch.setattr(bedded, "DOUBLINGS", 9)
    bars = [rectangle(10.0, 10.0, 210_000.0, 0.0, 10.0 * at) for at in range(3)]
    hard = [bed(1e6, 1e6, 1e8).at(0.0, 10.0 * at + 5.0) for at in range(2)]
    long, one = 10_000.0, 210_000 * 10.0**4 / 12
    found = front_flexibility(bars, hard, long)[0]
    assert found[2, 2] == pytest.approx(long**3 / (3 * 27 * one), rel=0.04)
    assert found[1, 1] == pytest.approx(long**3 / (3 * 3 * one), rel=0.02)
    soft = [hard[0], bed(1e-3, 1e-3, 1e-3).at(0.0, 15.0)]
    assert front_flexibility(bars, soft, long)[0][2, 2] == pytest.approx(3 * found[2, 2], rel=0.04)


def test_a_strip_that_leans_is_stiff_the_way_it_leans() -> None:
    # a strip that lies flat: its own height goes along z, so that square to it is y; and turned half
    # over (45 degrees) it is as stiff both ways, the mean of the two (a spring's matrix turned)
    long, across, edgeways = 2.0, 1e3, 4e3
    one = Strip(across, edgeways, 1e7, 1e9, 0.0)
    flat, half = (one.at(0.0, 0.0, lean, out) for lean, out in ((0.0, 1.0), (0.5**0.5, 0.5**0.5)))
    up, lying, leaning = (mean_give(strip, long) for strip in (one, flat, half))
    assert (up[1], up[2]) == pytest.approx((1 / (edgeways * long), 1 / (across * long)), rel=0.01)
    assert (lying[1], lying[2]) == pytest.approx((up[2], up[1]), rel=0.01)
    assert leaning[1] == pytest.approx((up[1] + up[2]) / 2, rel=0.01)


def mean_give(strip: Strip, long: float) -> np.ndarray:
    """What a rigid bar gives on the strip, pushed at the middle of its length, so not tipped."""
    bar = rectangle(10.0, 10.0, 210_000.0, 0.0, 0.0)
    rigid = Bar(*(1e6 * one for one in astuple(bar)[:5]), 0.0, 0.0)
    found = front_flexibility((rigid, rigid), (strip,), long)[0]
    shift = np.eye(6)
    shift[5, 1], shift[4, 2] = -long / 2, long / 2
    return np.diag(shift.T @ found @ shift)


def test_a_strip_off_the_middle_twists_the_bar() -> None:
    # 2 mm of bar move as one; pushed up at its middle, 5 mm beside the strip, it turns about the strip,
    # and pushed at its end it tips along it (statics of a bed k long, k long^3 / 12)
    k, turning, long = 1e3, 5e4, 2.0
    found = rear(bed(k, 2e3, turning), off_z=5.0, long=long)
    at = np.array([0.0, 1.0, 0.0, 5.0, 0.0, 0.0])
    tips = (long / 2) ** 2 / (k * long**3 / 12)
    turns = 25.0 / (turning * long)
    assert at @ found @ at == pytest.approx(1 / (k * long) + tips + turns, rel=0.05)
    away = np.array([0.0, 1.0, 0.0, 0.0, 0.0, 0.0])
    assert at @ found @ at - away @ found @ away == pytest.approx(turns, rel=0.05)


def test_a_strip_gives_as_a_punch_does() -> None:
    # Johnson, Contact Mechanics: a rigid strip turned on a half-plane, M = pi E' a^2 / 4 a radian; two
    # half-planes, one after the other, half of it
    strip = strip_stiffness(8.0, 16.0, 210_000.0)
    assert strip.turning == pytest.approx(pi * 210_000 / 0.91 * 4.0**2 / 4)
    assert strip.before(strip).turning == pytest.approx(strip.turning / 2)
    # pushed, over 8 mm of depth: 2 / (pi E') ln(16 / 4) a newton a mm; lengthwise ln(16 / 4) - ln 2 of
    # 1 / (pi G), what is left to the shear of a bar as deep taken off
    assert strip.across == strip.edgeways == pytest.approx(pi * 210_000 / 0.91 / (2 * 1.386294))
    assert strip.along == pytest.approx(pi * 210_000 / 2.6 / 0.693147, rel=1e-5)


def test_a_strip_turned_in_its_face_shears_the_half_plane() -> None:
    # the half-plane's own potential, a line force's -ln r / (pi G) (Johnson, as above), put together of
    # two hundred pieces until the strip's face is turned by one radian: what moment that takes
    a, G, count = 4.0, 210_000 / 2.6, 200
    long = 2 * a / count
    at = (np.arange(count) + 0.5) * long - a
    apart = np.abs(at[:, None] - at[None, :]) + long / 2 / np.e * np.eye(count)
    force = np.linalg.solve(-np.log(apart) / (pi * G), at)
    strip = strip_stiffness(2 * a, 16.0, 210_000.0)
    assert strip.swivel == pytest.approx(force @ at, rel=0.02)


def test_bars_on_a_strip_that_resists_swivelling_are_held_like_a_fork() -> None:
    # d2M/dx2 = k M / EI, k the strip's: an end moment turns a long bar by 1 / root(k EI), shear apart
    k, EI = 2e5, 210_000 * 10.0**4 / 12
    found = rear(Strip(1e-3, 1e-3, 1e-3, 1e9, k), long=300.0)
    assert found[5, 5] == pytest.approx(1 / (k * EI) ** 0.5, rel=0.02)
    assert found[4, 4] > 100 * found[5, 5]  # about the other axis nothing holds it


def test_a_web_is_a_plate_built_in_at_both_sides() -> None:
    # any handbook, a strip 1 mm wide of a plate 10 thick, 20 across: 12 E'I / L^3 with I = t^3 / 12,
    # E' = 230 769; sheared 5/6 G t / L with G = 80 769; E'I / L; E't / L; G t / L; and lengthwise,
    # unevenly through the thickness, G t^3 / 12 L
    web = web_stiffness(10.0, 20.0, 210_000.0)
    bent, sheared = 12 * 230_769 * 1000 / 12 / 8000, 5 / 6 * 80_769 * 10 / 20
    assert web.edgeways == pytest.approx(1 / (1 / bent + 1 / sheared), rel=1e-4)
    assert web.turning == pytest.approx(230_769 * 1000 / 12 / 20, rel=1e-4)
    assert web.across == pytest.approx(115_385, rel=1e-4)
    assert web.along == pytest.approx(40_385, rel=1e-4)
    assert web.swivel == pytest.approx(80_769 * 1000 / 240, rel=1e-4)


def test_a_plate_as_thin_as_paper_leaves_tube_and_shank_on_their_bed(bench: Plan) -> None:
    # in the limit there is nothing between them but the welded strips, as without one; it is left that
    # the plate holds the shank by its whole side, and is one more body to give
    s = bench.sizing.sizes
    bare = joint_of(s)
    side = s.shank_stock.width_mm
    thin = replace(s, cheek_stock=Section("flat", side, 0.01))
    for where in SWINGS_DEG.values():
        at = swing(s.max_ball_diameter_mm / 2, where)
        assert joint_give(thin, at).passive == pytest.approx(joint_give(s, at).passive, rel=0.15)
    assert joint_of(thin).tube_low == pytest.approx(float(bare.tube_low))


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_an_absurd_strip_gives_no_stiffness(bad: float) -> None:
    for sizes in ((bad, 16.0, 210_000.0), (8.0, bad, 210_000.0), (8.0, 16.0, bad)):
        with pytest.raises(ValueError):
            strip_stiffness(*sizes)
        with pytest.raises(ValueError):
            web_stiffness(*sizes)
    with pytest.raises(ValueError):
        rear(bed(1.0, 1.0, 1.0), long=bad)
