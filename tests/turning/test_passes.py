"""Passes of the swinging tip, against closed forms of solids, a grid swept here and trade practice."""

from __future__ import annotations

from math import acos, asin, cos, degrees, hypot, inf, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from planner.turning.passes import (
    Cylinder,
    Kind,
    Pass,
    Sweep,
    engaged,
    engagement,
    finish_feed_mm,
    outside_mm3,
    passes_at,
    socket,
    start_radius_mm,
    whole_divisions,
)

STEPPED = (
    Cylinder(-17.0, -12.0, 5.2),
    Cylinder(-12.0, -8.0, 10.5),
    Cylinder(-8.0, 6.0, 13.0),
    Cylinder(6.0, 10.0, 11.5),
    Cylinder(10.0, 12.5, 8.3),
)


def evenly(start: float, final: float, each: int, division: float, turns: int) -> tuple[Pass, ...]:
    """Passes of so many divisions each, what is left over first; a last cut of two, a spring pass."""
    left = whole_divisions(start, final, division) - 2
    depths: list[tuple[Kind, int]] = [("rough", left % each)] if left % each else []
    depths += [("rough", each)] * (left // each)
    return passes_at(start, final, [*depths, ("finish", 2), ("spring", 0)], division, turns)


def taken_mm3(profile: tuple[Cylinder, ...], passes: tuple[Pass, ...], sweep: Sweep) -> list[float]:
    """What each pass takes: more than the one before."""
    out = [0.0] + [outside_mm3(profile, one.radius_mm, sweep) for one in passes]
    return [b - a for a, b in zip(out, out[1:], strict=False)]


def cap(radius: float, height: float) -> float:
    """Spherical cap, pi h^2 (3 R - h) / 3 (any handbook's table of solids)."""
    return pi * height**2 * (3 * radius - height) / 3


def ball_and_stem(radius: float, stem: float, back: float) -> float:
    """A whole ball on a stem that is cut off at a distance behind its centre, by the cap formula."""
    shoulder = sqrt(radius**2 - stem**2)
    whole = 4 * pi * radius**3 / 3
    return whole - cap(radius, radius - shoulder) + pi * stem**2 * (back - shoulder)


def volume(profile: tuple[Cylinder, ...]) -> float:
    return sum(pi * c.radius_mm**2 * (c.z_to_mm - c.z_from_mm) for c in profile)


def inside(profile: tuple[Cylinder, ...], rho: np.ndarray, z: np.ndarray) -> np.ndarray:
    """Whether points of the half-plane are metal, cylinder by cylinder."""
    solid = np.zeros(np.broadcast(rho, z).shape, dtype=bool)
    for c in profile:
        solid |= (z >= c.z_from_mm) & (z <= c.z_to_mm) & (rho <= c.radius_mm)
    return solid


@pytest.mark.parametrize(
    ("blank", "stem", "back"), [(12.5, 4.5, 14.0), (14.0, 4.5, 12.0), (20.0, 0.5, 30.0)]
)
def test_the_passes_take_the_blank_less_ball_and_stem(
    blank: float, stem: float, back: float
) -> None:
    profile = (Cylinder(-back, 12.5, blank),)
    sweep = Sweep(stem_radius_mm=stem, back_mm=back)
    passes = evenly(start_radius_mm(profile, sweep), 12.5, 4, 0.1, 10)
    taken = taken_mm3(profile, passes, sweep)
    whole = pi * blank**2 * (12.5 + back)
    assert sum(taken) == pytest.approx(whole - ball_and_stem(12.5, stem, back), rel=1e-12)
    assert min(taken[:-1]) > 0.0
    assert taken[-1] == 0.0  # a spring pass takes only what has sprung away


def test_the_passes_take_a_roughed_profile_less_ball_and_stem() -> None:
    sweep = Sweep(stem_radius_mm=4.5, back_mm=17.0)
    passes = evenly(start_radius_mm(STEPPED, sweep), 12.5, 6, 0.05, 40)
    # the steps stay outside ball and stem, so plain differences of solids hold
    inner = [(10.0, 8.3), (6.0, 11.5), (-8.0, 10.5), (-12.0, 5.2)]
    assert min(hypot(*corner) for corner in inner) > 12.5
    left = volume(STEPPED) - ball_and_stem(12.5, 4.5, 17.0)
    assert sum(taken_mm3(STEPPED, passes, sweep)) == pytest.approx(left, rel=1e-12)


def test_a_hemisphere_and_a_ball_with_a_flat() -> None:
    bar = (Cylinder(-20.0, 10.0, 10.0),)
    half = pi * 100 * 10 - 2 * pi * 1000 / 3
    assert outside_mm3(bar, 10.0, Sweep(end_deg=90.0)) == pytest.approx(half, rel=1e-12)
    flat = (Cylinder(-20.0, 8.0, 10.0),)
    # Archimedes: a ball is two thirds of its cylinder; the flat takes a cap of height 2 off both
    less = pi * 100 * 8 - (2 * pi * 1000 / 3 - cap(10.0, 2.0))
    assert outside_mm3(flat, 10.0, Sweep(end_deg=90.0)) == pytest.approx(less, rel=1e-12)


def test_a_tailstock_centre_leaves_a_cone_at_the_nose() -> None:
    start = radians(20.0)
    kept = pi * (10 * tan(start)) ** 2 * 10 / 3 + 2 * pi * 1000 / 3 * cos(
        start
    )  # cone, less sector
    found = outside_mm3((Cylinder(0.0, 10.0, 10.0),), 10.0, Sweep(20.0, 90.0))
    assert found == pytest.approx(pi * 1000 - kept, rel=1e-12)
    # the same behind: the cone is as far as the wall at 12
    end = outside_mm3((Cylinder(-12.0, 0.0, 10.0),), 10.0, Sweep(0.0, 160.0))
    kept = pi * (12 * tan(start)) ** 2 * 12 / 3 + 2 * pi * 1000 / 3 * cos(start)
    assert end == pytest.approx(pi * 1200 - kept, rel=1e-12)


@pytest.mark.parametrize("sweep", [Sweep(0, 180, 4.5, 15.5), Sweep(12, 150), Sweep(5, 170, 2, 13)])
def test_each_pass_against_a_tip_swung_over_a_grid(sweep: Sweep) -> None:
    """The tip takes all that lies radially beyond it, within the swing of each pass."""
    d = 0.02
    z, rho = np.meshgrid(np.arange(-17 + d / 2, 12.5, d), np.arange(d / 2, 13.0, d))
    far, polar = np.hypot(z, rho), np.degrees(np.arctan2(rho, z))
    metal = inside(STEPPED, rho, z)
    passes = evenly(start_radius_mm(STEPPED, sweep), 12.5, 2, 0.1, 10)
    found = taken_mm3(STEPPED, passes, sweep)
    total = 0.0
    for one, removed in zip(passes, found, strict=True):
        low, high = sweep.limits_deg(one.radius_mm)
        chip = metal & (far > one.radius_mm) & (polar >= low) & (polar <= high)
        # what is beyond the wall stays: the tool is narrow and is stopped before it
        chip &= z >= -sweep.back_mm
        metal &= ~chip
        taken = float((2 * pi * rho * d * d)[chip].sum())
        # half a cell along the edges of the chip, and the ridge at the stem, one pass deep
        assert removed == pytest.approx(taken, abs=0.8)
        total += taken
    assert sum(found) == pytest.approx(total, rel=0.002)


@pytest.mark.parametrize("radius", [9.0, 12.5, 12.9, 13.2, 14.0, 15.0, 16.5])
@pytest.mark.parametrize("sweep", [Sweep(), Sweep(8.0, 150.0), Sweep(0.0, 180.0, 6.0, 14.0)])
def test_engagement_against_points_along_the_swing(radius: float, sweep: Sweep) -> None:
    angles = np.linspace(0.0, 180.0, 180_001)
    rho, z = radius * np.sin(np.radians(angles)), radius * np.cos(np.radians(angles))
    metal = inside(STEPPED, rho, z)
    metal &= (angles >= sweep.start_deg) & (angles <= sweep.end_deg) & (z >= -sweep.back_mm)
    metal &= (z > 0) | (rho >= sweep.stem_radius_mm)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], metal.astype(int), [0]])))
    arcs = [(angles[a], angles[b - 1]) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    found = engagement(STEPPED, radius, sweep)
    assert len(arcs) == len(found)
    assert np.array(found).reshape(-1) == pytest.approx(np.array(arcs).reshape(-1), abs=2.5e-3)


def test_engagement_of_a_plain_blank() -> None:
    # by right-angled triangles to the corner of the blank and to its sides
    blank = (Cylinder(-60.0, 12.5, 14.0),)
    for radius in (14.5, 16.0, 18.7):
        first, second = engagement(blank, radius)
        rim = degrees(asin(14.0 / radius))
        assert first == pytest.approx((degrees(acos(12.5 / radius)), rim))
        assert second == pytest.approx((180.0 - rim, 180.0))
    (arc,) = engagement(blank, 14.0)
    assert arc == pytest.approx((degrees(acos(12.5 / 14.0)), 180.0))
    (arc,) = engagement(blank, 12.5)
    assert arc == pytest.approx((0.0, 180.0), abs=1e-5)
    corner = sqrt(14.0**2 + 12.5**2)
    assert start_radius_mm(blank, Sweep(back_mm=0.0)) == pytest.approx(corner)
    assert engagement((Cylinder(0.0, 12.5, 14.0),), corner + 1e-6) == ()
    assert len(engagement((Cylinder(0.0, 12.5, 14.0),), corner - 1e-3)) == 1


def test_readings_of_a_dial_of_ten_divisions_on_a_pitch_of_one() -> None:
    # common practice: 1 mm pitch and ten divisions are 0.1 mm a division, 0.2 mm on the diameter
    corner = 12.5 * sqrt(2)  # 17.678: 51.8 divisions over the ball, worked by hand below
    assert whole_divisions(corner, 12.5, 0.1) == 52
    depths: list[tuple[Kind, int]] = [("rough", 2), *[("rough", 7)] * 7, ("finish", 1)]
    passes = passes_at(corner, 12.5, [*depths, ("spring", 0), ("spring", 0)], 0.1, 10)
    assert [p.kind for p in passes] == ["rough"] * 8 + ["finish", "spring", "spring"]
    first, last, finish = passes[0], passes[7], passes[8]
    assert (first.turns, first.divisions) == (5, 0)  # 52 less 2
    assert first.radius_mm == pytest.approx(17.5)
    assert first.depth_mm == pytest.approx(0.178, abs=5e-4)
    assert (last.turns, last.divisions, last.radius_mm) == (0, 1, pytest.approx(12.6))
    assert [(p.turns, p.divisions, p.radius_mm) for p in passes[8:]] == [(0, 0, 12.5)] * 3
    assert 2 * (last.radius_mm - finish.radius_mm) == pytest.approx(0.2)
    # the dial's numbers grow to 0 at the ball: with one division to go it shows one before 10
    assert (last.reads, finish.reads) == (9, 0)


@pytest.mark.parametrize("start", [13.01, 13.0, 14.37, 30.0])
@pytest.mark.parametrize("each", [2, 4, 29])
def test_readings_only_go_in_and_the_first_takes_the_odd_part(start: float, each: int) -> None:
    passes = evenly(start, 12.7, each, 0.025, 40)
    assert sum(p.depth_mm for p in passes) == pytest.approx(start - 12.7)
    assert all(p.depth_mm <= each * 0.025 + 1e-9 for p in passes)
    radii = [start] + [p.radius_mm for p in passes if p.kind != "spring"]
    assert all(a > b for a, b in zip(radii, radii[1:], strict=False))
    assert passes[-1].radius_mm == pytest.approx(12.7) and passes[-2].kind == "finish"
    whole = [p.depth_mm / 0.025 for p in passes[1:]]
    assert whole == pytest.approx([round(w) for w in whole], abs=1e-9)
    for p in passes:
        assert (p.turns * 40 + p.divisions) * 0.025 == pytest.approx(p.radius_mm - 12.7)


def test_less_metal_than_the_finishing_cut_is_one_light_pass() -> None:
    (only,) = passes_at(12.52, 12.5, [("finish", 2)], 0.01, 10)
    assert (only.kind, only.radius_mm) == ("finish", 12.5)
    assert only.depth_mm == pytest.approx(0.02)


def test_the_first_touch_is_the_farthest_corner_in_reach() -> None:
    # 5-12-13 and 3-4-5 triangles
    profile = (Cylinder(-12.0, 0.0, 5.0), Cylinder(0.0, 3.0, 4.0))
    assert start_radius_mm(profile, Sweep(stem_radius_mm=2.0)) == pytest.approx(13.0)
    assert start_radius_mm(profile, Sweep(stem_radius_mm=2.0, back_mm=3.75)) == pytest.approx(6.25)
    assert start_radius_mm(profile, Sweep(stem_radius_mm=5.0)) == pytest.approx(5.0)


def test_feed_for_a_finish() -> None:
    # h = f^2 / 8r: f = 0.2 mm, r = 0.8 mm leave 6.25 um (ideal roughness of turning, any textbook of
    # metal cutting; from memory)
    assert finish_feed_mm(0.00625, 0.8, 1.0) == pytest.approx(0.2)
    assert finish_feed_mm(0.00625, 0.8, 0.08) == 0.08
    feed = finish_feed_mm(0.002, 0.4, 1.0)
    assert 0.4 - sqrt(0.4**2 - feed**2 / 4) == pytest.approx(0.002, rel=0.01)  # the exact segment


def test_ridges_on_a_ball_against_noses_set_round_it() -> None:
    radius, nose, height = 5.0, 0.8, 0.004
    feed = finish_feed_mm(height, nose, 1.0, radius)
    step = feed / radius
    polar = np.linspace(0.0, step, 2001)
    # each nose's centre stands at R + r; the surface left is the lower envelope of two of them
    left = np.full_like(polar, inf)
    for centre in (0.0, step):
        aside = (radius + nose) * np.sin(np.abs(polar - centre))
        along = (radius + nose) * np.cos(polar - centre) - np.sqrt(nose**2 - aside**2)
        left = np.minimum(left, along)
    assert left.min() == pytest.approx(radius)
    assert left.max() - radius == pytest.approx(height, rel=0.02)


def test_only_the_diameter_that_is_cut_counts() -> None:
    # the tip cuts only between the end face and the side of the blank: rho from the triangle's root
    bar = (Cylinder(0.0, 12.5, 14.0),)
    quarter = Sweep(end_deg=90.0)
    near = start_radius_mm(bar) - 0.1

    def highest(profile: tuple[Cylinder, ...], radius: float, sweep: Sweep) -> float:
        return float(engaged(profile, np.array([radius]), sweep)[1][0])

    assert highest(bar, near, quarter) == pytest.approx(28.0)
    assert highest(bar, 12.5, quarter) == pytest.approx(25.0)
    bar = (Cylinder(-16.0, 12.5, 14.0),)
    at = highest(bar, 12.5, Sweep(0, 180, 4.5, 16))
    assert at == pytest.approx(25.0)  # the equator, not an end of the arc
    # a cap that ends 3-4-5 from the axis: 2 * 10 * 0.6
    assert highest((Cylinder(8.0, 9.0, 20.0),), 10.0, quarter) == pytest.approx(12.0)


def test_sockets() -> None:
    # the 3-4-5 triangle: radius 10, 4 deep: the pivot 6 before the face, the mouth 8
    found = socket(10.0, 4.0)
    assert found.mouth_radius_mm == pytest.approx(8.0) and found.pivot_mm == pytest.approx(6.0)
    assert found.end_deg == pytest.approx(degrees(acos(0.6)))
    half = socket(10.0, 10.0)
    assert (half.mouth_radius_mm, half.end_deg) == pytest.approx((10.0, 90.0))


@pytest.mark.parametrize("ahead", [-170.0, -80.0, -30.0, 0.0, 25.0, 60.0, 120.0])
@pytest.mark.parametrize("edge", [4.0, 9.5, 10.5, 14.0])
def test_what_fouls_a_socket_meets_metal_somewhere_in_the_swing(edge: float, ahead: float) -> None:
    found = socket(10.0, 7.0)
    swing = np.radians(np.linspace(0.0, found.end_deg, 4001) + ahead)
    into = edge * np.cos(swing)  # toward the chuck; the face stands 3 before the pivot's plane
    metal = (into > 10.0 - 7.0 + 1e-6) & (edge > 10.0)
    assert (found.clear_mm(edge, ahead) < 0.0) == bool(metal.any())


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Cylinder(3.0, 3.0, 5.0), "length_mm 0"),
        (lambda: Sweep(95.0, 180.0), "start it before 90"),
        (lambda: Sweep(30.0, 30.0), "end it later"),
        (lambda: Sweep(0.0, 181.0), "at most at 180"),
        (lambda: Sweep(nose_mm=-0.1), "give neither below zero"),
        (lambda: Sweep(stem_radius_mm=-1.0), "below zero"),
        (lambda: engagement(STEPPED, 0.0), "tip_radius_mm"),
        (lambda: start_radius_mm((), Sweep()), "no metal"),
        (lambda: whole_divisions(12.0, 12.5, 0.1), "outside the ball"),
        (lambda: passes_at(12.0, 12.5, [("finish", 1)], 0.1, 10), "outside the ball"),
        (lambda: passes_at(14.0, 12.5, [("finish", 14)], 0.1, 10), "15 divisions to take"),
        (lambda: passes_at(12.6, 12.5, [("finish", 1)], 0.1, 0), "give at least one"),
        (lambda: socket(10.0, 12.0), "at most its radius 10"),
    ],
)
def test_refusals_name_the_remedy(call: object, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_the_swing_ends_at_the_stem() -> None:
    # the tip meets a stem of diameter d on a ball of D at 180 less the angle whose sine is d / D
    low, high = Sweep(stem_radius_mm=4.375).limits_deg(12.5)
    assert (low, sin(radians(high))) == (0.0, pytest.approx(0.35)) and high > 90.0
    assert Sweep(back_mm=5.0).limits_deg(10.0)[1] == pytest.approx(120.0)


def test_a_round_nose_stops_short_of_the_stem() -> None:
    # its middle swings at R + r and stands r and the room over the stem: the sine of a right triangle
    sweep = Sweep(0.0, 180.0, stem_radius_mm=6.0, nose_mm=0.5, off_stem_mm=0.05)
    for radius in (12.5, 14.0, 20.0):
        _, high = sweep.limits_deg(radius)
        assert (radius + 0.5) * sin(radians(180.0 - high)) == pytest.approx(6.55)
    # a sweep that ends before the equator is let be: it is a cap's
    assert Sweep(0.0, 60.0).limits_deg(10.0) == (0.0, 60.0)
    assert Sweep(0.0, 60.0).lowest_mm == 0.0
