"""What may stand behind a ball: against outlines swung point by point; and how the staircase bends."""

from __future__ import annotations

import random
from bisect import bisect_right
from collections.abc import Callable
from math import pi, sqrt

import numpy as np
import pytest
from msgspec.structs import replace
from turned import job_of, plan_of, sizes_of, swung

from parts.attachment import attachment
from planner.checking.behind import Room, Stand, fouled, room_behind, staircase
from planner.checking.work import Bar, bending_mm_per_N
from planner.geometry.envelope import swinging_outlines

STEEL_MPa = 210_000.0

# The room

CASES: list[dict[str, object]] = [
    {"diameter": 40, "blank_diameter": 42, "stem_diameter": 14, "stem_length": 60},
    {"diameter": 22, "blank_diameter": 36},
    {"diameter": 30, "blank_diameter": 46, "shape": "hemisphere"},
]


@pytest.mark.parametrize("row", CASES, ids=["stem", "small in thick", "half"])
def test_nothing_that_swings_comes_into_the_room_and_no_room_is_given_away(
    row: dict[str, object],
) -> None:
    job = job_of(row)
    plan, s = plan_of(job), sizes_of(job)
    room, tips = plan.room, (plan.ball.radius_mm, max(plan.first_mm, plan.ball.radius_mm))
    swings = plan.clearance.start_deg, plan.clearance.end_deg
    points = swung(swinging_outlines(attachment(s)), tips, swings, each_deg=1.0, each_mm=0.5)
    assert len(room.radii_mm) > 20 and list(room.from_mm) == sorted(room.from_mm)
    before = room.from_mm[0]
    for k in range(1, len(room.radii_mm), 4):
        # the bit comes as near as two tenths, all else keeps the clearance: above and behind
        deep = 0.0
        for outline, along, over in points:
            kept = 0.2 if outline[0].cuts else s.clearance_mm
            behind = -along[(over < room.radii_mm[k] + kept) & (along < 0.0)]
            deep = max(deep, float(behind.max(initial=-kept)) + kept)
        assert room.from_mm[k] >= min(deep, room.from_mm[k] + 1.0) - 0.02
        if deep > before + 0.5:  # felt for in halves of a millimetre and of a degree at the tail
            assert room.from_mm[k] <= deep + 1.2
        before = room.from_mm[k]


def test_the_room_is_what_the_outlines_leave_and_grows_when_one_is_left_out() -> None:
    job = job_of(CASES[0])
    plan, s = plan_of(job), sizes_of(job)
    outlines = swinging_outlines(attachment(s))
    given = ((20.0, plan.first_mm), (0.0, plan.clearance.end_deg), (18.0, 7.0), 21.0)
    whole = room_behind(outlines, *given, s.clearance_mm)
    bits = tuple(one for one in outlines if one[0].cuts)
    alone = room_behind(bits, *given, s.clearance_mm)
    assert alone.from_mm[-1] < whole.from_mm[-1] - 0.5
    more = room_behind(outlines, *given, s.clearance_mm + 1.0)
    assert all(a >= b for a, b in zip(more.from_mm, whole.from_mm, strict=True))
    assert more.from_mm[-1] > whole.from_mm[-1]


# The staircase


def lot(draw: random.Random) -> tuple[Room, Callable[[float], float], float]:
    """A room, a handle that it has room for, and where the groove ends."""
    neck, blank, shoulder = draw.uniform(3, 8), draw.uniform(10, 25), draw.uniform(8, 20)
    radii, depths = [neck], [shoulder]
    for k in range(1, 41):
        radii.append(neck + (blank - neck) * (k / 40) ** 2)
        depths.append(depths[-1] + draw.choice([0.0, 0.0, draw.uniform(0, 4)]))
    groove = shoulder + draw.uniform(0, 6)
    room = Room(tuple(radii), tuple(depths))
    share, slope = draw.uniform(0.2, 0.95), draw.uniform(0, 0.1)

    def needed(depth: float) -> float:
        clears = radii[bisect_right(depths, depth + 1e-9) - 1]
        return min(neck + max(0.0, slope * (depth - groove)), max(neck, share * clears))

    tops = np.maximum.accumulate([needed(z) for z in np.arange(shoulder, depths[-1] + 30, 0.05)])

    def rising(depth: float) -> float:
        return float(tops[min(len(tops) - 1, max(0, int((depth - shoulder) / 0.05)))])

    return room, rising, groove


@pytest.mark.parametrize("seed", range(40))
def test_the_staircase_is_never_thicker_than_the_room_nor_thinner_than_the_piece(seed: int) -> None:
    room, needed, groove = lot(random.Random(seed))
    stands = staircase(room, groove, needed)
    assert stands[0].from_mm == room.from_mm[0] and stands[0].radius_mm == room.radii_mm[0]
    for one, after in zip(stands, stands[1:], strict=False):
        assert one.to_mm == after.from_mm and one.radius_mm < after.radius_mm + 1e-9
    for one in stands[1:]:
        for z in np.linspace(one.from_mm, one.to_mm, 30):
            clears = room.radii_mm[bisect_right(room.from_mm, z + 1e-9) - 1]
            assert one.radius_mm <= clears + 1e-9
            assert one.radius_mm >= min(needed(float(z)), clears) - 0.06 - 0.31 * (
                z > one.to_mm - 0.5
            )
    # behind it the blank clears as it came
    assert room.radius_at(stands[-1].to_mm + 1e-6) == pytest.approx(room.radii_mm[-1])


def test_a_staircase_by_hand() -> None:
    # neck 4, blank 12: a step is two high at least, and as thick as clears where it begins
    room = Room((4.0, 6.0, 8.0, 10.0, 12.0), (10.0, 13.0, 16.0, 20.0, 26.0))
    assert room.radius_at(9.0) == 0.0 and room.radius_at(15.9) == 6.0 and room.where(7.0) == 16.0
    assert staircase(room, 11.0) == (
        Stand(10.0, 13.0, 4.0),
        Stand(13.0, 16.0, 6.0),
        Stand(16.0, 20.0, 8.0),
        Stand(20.0, 26.0, 10.0),
    )
    # a groove that goes farther back makes the first step as thick as clears there
    assert staircase(room, 17.0)[:2] == (Stand(10.0, 17.0, 4.0), Stand(17.0, 20.0, 8.0))


def test_a_piece_is_fouled_where_it_is_thicker_than_the_room() -> None:
    room = Room((4.0, 6.0, 12.0), (10.0, 15.0, 20.0))
    cone = {slope: (lambda z, slope=slope: 4.0 + slope * (z - 10.0)) for slope in (0.0, 0.2, 0.25)}
    assert fouled(room, cone[0.0], 40.0) is None
    assert fouled(room, cone[0.2], 40.0) == (15.0, 5.0, 4.0)  # a millimetre at 15; none at 20
    assert fouled(room, cone[0.25], 40.0) == (15.0, 5.25, 4.0)
    assert fouled(room, cone[0.25], 10.0) is None  # it ends where it begins


# Its bending


def by_elements(bar: Bar, modulus: float, propped: bool) -> float:
    """The centre's give under one newton, by beam elements of two nodes, cubic between them.

    Stiffness 12, 6L, 4L^2, 2L^2 times E I / L^3 (any textbook of finite elements).
    """
    lengths = [(one.from_mm, one.to_mm, one.radius_mm) for one in bar.stands]
    lengths = lengths or [(bar.shoulder_mm, bar.relief_mm, bar.stem_mm / 2)]
    lengths.append((max(bar.shoulder_mm, bar.relief_mm), bar.out_mm, bar.blank_mm / 2))
    radius = bar.ball_mm / 2
    stations = list(np.linspace(-radius, 0.0, 60))
    if bar.shoulder_mm > 1e-3:
        stations += list(np.linspace(0.0, bar.shoulder_mm, 120)[1:])
    for low, high, _ in lengths:
        stations += list(np.linspace(low, high, 6)[1:])
    stiff = np.zeros((2 * len(stations), 2 * len(stations)))
    for k, (low, high) in enumerate(zip(stations, stations[1:], strict=False)):
        middle, long = (low + high) / 2, high - low
        if middle < bar.shoulder_mm:
            thick = sqrt(max(radius**2 - middle**2, (bar.stem_mm / 2) ** 2))
            thick *= 1.0 if middle > 0.0 else 5.0  # the half in front is taken as stiff
        else:
            thick = next(r for a, b, r in lengths if a <= middle <= b)
        bend = modulus * pi / 4 * thick**4 / long**3
        one = np.array(
            [
                [12, 6 * long, -12, 6 * long],
                [6 * long, 4 * long**2, -6 * long, 2 * long**2],
                [-12, -6 * long, 12, -6 * long],
                [6 * long, 2 * long**2, -6 * long, 4 * long**2],
            ]
        )
        stiff[2 * k : 2 * k + 4, 2 * k : 2 * k + 4] += bend * one
    centre = 2 * 59
    free = np.arange(2 * len(stations) - 2)  # built in at the jaws
    if propped:
        free = free[free != 0]
    load = np.zeros(2 * len(stations))
    load[centre] = 1.0
    moved = np.zeros_like(load)
    moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], load[free])
    return float(moved[centre])


def stepped(*rows: tuple[float, float, float]) -> tuple[Stand, ...]:
    return tuple(Stand(*row) for row in rows)


BARS = [
    Bar(40.0, 14.0, 42.0, 18.74, 51.0, 80.0, stands=stepped(
        (18.74, 25.0, 7.0), (25.0, 33.0, 10.0), (33.0, 51.0, 16.0))),
    Bar(24.0, 6.0, 40.0, 11.62, 60.0, 66.0, stands=stepped(
        (11.62, 20.0, 3.0), (20.0, 44.0, 6.5), (44.0, 60.0, 13.0))),
    Bar(30.0, 30.0, 70.0, 1e-6, 22.0, 44.0, stands=stepped((1e-6, 19.0, 15.5), (19.0, 22.0, 24.0))),
]  # fmt: skip


@pytest.mark.parametrize("propped", [False, True])
@pytest.mark.parametrize("bar", BARS, ids=["knob", "thin neck", "half"])
def test_the_staircases_bending_against_beam_elements(bar: Bar, propped: bool) -> None:
    found = bending_mm_per_N(replace(bar, propped=propped), STEEL_MPa)
    assert found == pytest.approx(by_elements(bar, STEEL_MPa, propped), rel=3e-3)
    # the staircase left out, the bar gives way a good deal more
    plain = replace(bar, propped=propped, stands=())
    if bar.stem_mm < bar.ball_mm:
        assert bending_mm_per_N(plain, STEEL_MPa) > 1.2 * found


def test_the_plan_counts_the_bending_of_the_work_as_it_is_left() -> None:
    plan = plan_of(job_of(CASES[0]))
    steps = sorted((s for s in plan.roughing.steps if s.side == "behind"), key=lambda s: s.to_mm)
    neck = next(step for step in plan.roughing.steps if step.side == "neck")
    start, rows = neck.to_mm - 20.0, [(plan.behind.shoulder_mm, neck.to_mm - 20.0, neck.radius_mm)]
    for step in steps:
        rows.append((start, step.to_mm - 20.0, step.radius_mm))
        start = step.to_mm - 20.0
    jaws = plan.blank_length_mm - 20.0
    bar = Bar(40.0, 14.0, 42.0, plan.behind.shoulder_mm, start, jaws, stands=stepped(*rows))
    # brass, 97 GPa (a table of metals, as the example's dial is); the neck is read off the clearance
    assert plan.bends_mm_per_N == pytest.approx(by_elements(bar, 97_000.0, False), rel=0.02)
