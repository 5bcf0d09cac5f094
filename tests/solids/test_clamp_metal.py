"""The metal of the block, by rays in the kernel's solid of the block member alone: walls and the hinge.

Nothing of the shaft is in it: its spigot is a slip fit, and what it fills carries no pull. Each wall is
the length of metal on a ray from the surface of a bore, a slit or a thread to the next surface, and is
held against what the requirements and the check claim of it. The jobs: the examples, the smallest and
the largest attachment.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from functools import cache
from math import atan2, cos, hypot, sin
from typing import Any

import pytest
from jobs import changed
from msgspec.structs import force_setattr, replace

from parts.body import FEED_HOLE_PLAY_MM, rotating_body
from parts.clamp import clamp_thread_depth_mm
from parts.hinge import joined_mm
from parts.part import Part, members
from parts.sizes import SPIGOT_SHORT_MM, Sizes
from parts.standard.fasteners import clearance_hole_mm
from parts.standard.threads import TAP_LEAD_PITCHES, thread
from planner.checking.strength import clamp_hold, cutting_load
from planner.job.reading import job_from
from planner.sizing.apply import size_up
from planner.solids import kernel
from planner.solids.build import _cut, _member

NO_STOCK = {"shop.reamers": [], "shop.rack": [], "shop.buy": []}
SMALL = {"lathe.spindle_over_cross_slide": "49.7 mm", "lathe.spindle_over_seat": "20.9 mm",
         "attachment.max_ball_diameter": "35 mm", "tool_post.largest_shank": "20 mm"}  # fmt: skip
SMALL_INCH = {"lathe.spindle_over_cross_slide": "64.7 mm", "lathe.spindle_over_seat": "24 mm",
              "attachment.max_ball_diameter": "27.5 mm", "tool_post.largest_shank": "16.1 mm",
              "attachment.min_ball_diameter": None, "ball": None}  # fmt: skip
LARGE = {"lathe.spindle_over_cross_slide": "156.7 mm", "lathe.spindle_over_seat": "42.6 mm",
         "attachment.max_ball_diameter": "135.2 mm", "attachment.min_ball_diameter": None,
         "attachment.max_blank_diameter": None, "tool_post.largest_shank": "28 mm",
         "ball": None}  # fmt: skip
CASES: dict[str, tuple[str, dict[str, Any]]] = {
    "bench": ("bench-lathe", {}),
    "engine": ("engine-lathe", {}),
    "inch": ("inch-lathe", {}),
    "smallest": ("bench-lathe", SMALL | NO_STOCK),
    "smallest inch": ("inch-lathe", SMALL_INCH | NO_STOCK),
    "largest": ("engine-lathe", LARGE | NO_STOCK),
}


@cache
def sizes(case: str) -> Sizes:
    example, changes = CASES[case]
    return size_up(job_from(changed(example, **changes), "job.toml"), "job.toml").sizes


def block_alone(body: Part) -> Any:
    """The block as its own member, with all that is cut in the whole."""
    block = next(m for m in members(body) if m.name == "block")
    return _cut(_member(block), body.features)


@cache
def block_of(case: str) -> Any:
    return block_alone(rotating_body(sizes(case)))


Point = tuple[float, float, float]


def wall_mm(shape: Any, start: Point, toward: Point, far_mm: float = 300.0) -> float:
    """The metal on a ray from a surface, up to the next surface; 0 where none begins within 1 um."""
    size = hypot(*toward)
    u = tuple(c / size for c in toward)
    ends = [tuple(start[i] + u[i] * d for i in range(3)) for d in (-1e-3, far_mm)]
    ray = kernel().Edge.makeLine(kernel().Vector(*ends[0]), kernel().Vector(*ends[1]))
    stretches = []
    for edge in shape.intersect(ray).Edges():
        along = sorted(
            sum((p[i] - start[i]) * u[i] for i in range(3))
            for p in (edge.startPoint().toTuple(), edge.endPoint().toTuple())
        )
        stretches.append(along)
    return next((high - low for low, high in sorted(stretches) if abs(low) < 2e-3), 0.0)


@dataclass(frozen=True)
class Wall:
    """A wall: a ray's start and direction, what is claimed of it, and the least it may be."""

    name: str
    start: Point
    toward: Point
    claimed_mm: float
    least_mm: float = 1.0


def walls(s: Sizes) -> Iterator[Wall]:
    """What stands between the bores, slits and threads of the block, worked out from the sizes."""
    rod_x, rod = s.block_thickness_mm - s.rod_from_front_mm, s.rod_diameter_mm / 2
    half, spigot = s.block_length_mm / 2, s.spigot_diameter_mm / 2
    stud_x = s.block_thickness_mm - s.clamp_screw_from_front_mm
    hole, size = clearance_hole_mm(s.clamp_screw) / 2, thread(s.clamp_screw)
    play = 25.4 / 64 if s.series.inch else FEED_HOLE_PLAY_MM
    feed = (s.feed_journal_diameter_mm + play) / 2
    outside = (half + spigot) / 2  # between the spigot's bore and the block's end
    short = 25.4 * 5 / 64 if s.series.inch else SPIGOT_SHORT_MM
    back = max(rod, s.hinge_behind_mm + s.slit_width_mm / 2) - rod + short
    yield Wall("bore to spigot", (rod_x - rod, 0.0, 0.0), (-1, 0, 0), back, short)
    yield Wall("bore to back", (rod_x - rod, outside, 0.0), (-1, 0, 0), s.block_back_wall_mm, 5.0)
    for y in (0.0, outside):
        yield Wall("leaf", (rod_x, y, -rod), (0, 0, -1), s.leaf_thickness_mm, 3.0)
        between = s.feed_offset_mm - rod - feed
        yield Wall("bore to feed hole", (rod_x, y, rod), (0, 0, 1), between, 1.9)
        beyond = s.flat_offset_mm - s.feed_offset_mm - feed
        start = (rod_x, y, s.feed_offset_mm + feed)
        yield Wall("feed hole to flat", start, (0, 0, 1), beyond, 2.9)
    low = (s.leaf_z_mm - rod) / 2  # under the bore
    ahead = s.clamp_screw_from_front_mm - hole
    yield Wall("stud's hole to front", (stud_x + hole, 0.0, low), (1, 0, 0), ahead)
    slit = -s.slit_width_mm / 2 - 1e-3
    between = stud_x - hole - (rod_x + (rod**2 - slit**2) ** 0.5)
    yield Wall("stud's hole to bore", (stud_x - hole, 0.0, slit), (-1, 0, 0), between)
    tap = size.tap_drill_mm / 2
    between = stud_x - tap - (rod_x + (rod**2 - slit**2) ** 0.5)
    yield Wall("stud's thread to bore", (stud_x - tap, 0.0, -slit), (-1, 0, 0), between)
    deep = clamp_thread_depth_mm(s) + TAP_LEAD_PITCHES * size.pitch_mm
    left = s.flat_offset_mm - deep
    yield Wall("stud's thread to flat", (stud_x, 0.0, deep), (0, 0, 1), left)
    into = s.spigot_length_mm / 2
    yield Wall("spigot to end", (into, spigot, 0.0), (0, 1, 0), half - spigot, 3.0)
    yield Wall("spigot to flat", (into, 0.0, spigot), (0, 0, 1), s.flat_offset_mm - spigot)
    yield Wall("spigot to leaf", (into, 0.0, -spigot), (0, 0, -1), -s.leaf_z_mm - spigot, 0.5)


@pytest.mark.parametrize("case", CASES)
def test_every_wall_is_as_thick_as_it_is_claimed_to_be(case: str) -> None:
    s, block, seen = sizes(case), block_of(case), 0
    for wall in walls(s):
        found = wall_mm(block, wall.start, wall.toward)
        assert found == pytest.approx(wall.claimed_mm, abs=5e-3), (case, wall.name)
        assert found >= wall.least_mm - 1e-6, (case, wall.name, found)
        seen += 1
    assert seen >= 15
    rod = s.rod_diameter_mm
    ends = {"smallest": rod <= 10.0, "smallest inch": rod < 10.0, "largest": rod >= 40.0}
    assert ends.get(case, True)


def hinge_by_rays(shape: Any, s: Sizes, stations: int = 41) -> tuple[float, float]:
    """The hinge's least metal where it is whole, and how much of the block's length it is whole over.

    Along the rod, rays from the bore through the slit's near corner and a little to both sides of it,
    and rays behind the slit from its far side: metal there must hold what the hinge pulls.
    """
    rod_x, rod = s.block_thickness_mm - s.rod_from_front_mm, s.rod_diameter_mm / 2
    near, deep = -s.hinge_behind_mm + s.slit_width_mm / 2, s.hinge_z_mm
    corner, far = atan2(deep, near), near - s.slit_width_mm
    least, whole = float("inf"), 0
    wide = hypot(near, deep) - rod
    half = s.block_length_mm / 2
    for i in range(stations):
        y = -half + s.block_length_mm * (i + 0.5) / stations
        thin = []
        for turn in (0.0, -2e-3, -1e-2):  # to the corner, and on to the slit's end
            a = corner + turn
            start = (rod_x + rod * cos(a), y, rod * sin(a))
            thin.append(wall_mm(shape, start, (cos(a), 0.0, sin(a))))
        behind = wall_mm(shape, (rod_x + far, y, deep - 0.25 * wide), (-1, 0, 0))
        good = min(thin) > 0.9 * wide and behind > 0.9 * wide
        whole += good
        least = min(least, *thin) if good else least
    return least, s.block_length_mm * whole / stations


@pytest.mark.parametrize("case", CASES)
def test_all_of_the_hinge_is_joined_metal_of_the_block_alone(case: str) -> None:
    s = sizes(case)
    least, joined = hinge_by_rays(block_of(case), s)
    near = s.hinge_behind_mm - s.slit_width_mm / 2
    assert least == pytest.approx(hypot(near, s.hinge_z_mm) - s.rod_diameter_mm / 2, rel=0.01)
    assert joined == pytest.approx(s.block_length_mm)
    hold = clamp_hold(s, cutting_load(0.25, 0.08, 0.5, "S355"), None)
    assert hold.joined_mm == pytest.approx(joined)
    # what is claimed of it at the slit's limits is less than what the nominal solid has, by little
    assert 1.0 <= hold.hinge_mm <= least and hold.hinge_mm == pytest.approx(s.hinge_least_mm)
    assert least - hold.hinge_mm < 0.2


def test_the_hinge_at_its_limits_is_what_is_claimed() -> None:
    # the slit moved 0.1 toward the bore and 0.2 wider, as its limits let it be
    s = sizes("bench")
    worst = replace(s, slit_width_mm=s.slit_width_mm + 0.2)
    body = rotating_body(worst)
    moved = []
    for feature in body.features:
        if feature.name == "hinge slit":
            (x0, y0, z0), (x1, y1, z1) = feature.box.low, feature.box.high  # type: ignore[attr-defined]
            box = replace(feature.box, low=(x0 + 0.1, y0, z0), high=(x1 + 0.1, y1, z1))  # type: ignore[attr-defined]
            feature = replace(feature, box=box, locations=())  # type: ignore[call-arg]
        moved.append(feature)
    block = next(m for m in members(body) if m.name == "block")
    shape = _cut(_member(block), tuple(moved))
    rod_x, rod = s.block_thickness_mm - s.rod_from_front_mm, s.rod_diameter_mm / 2
    a = atan2(s.hinge_z_mm, -s.hinge_behind_mm + 0.1 + worst.slit_width_mm / 2) - 1e-4
    start = (rod_x + rod * cos(a), 3.0, rod * sin(a))
    found = wall_mm(shape, start, (cos(a), 0.0, sin(a)))
    assert found == pytest.approx(s.hinge_least_mm, abs=2e-3)


def spoiled(s: Sizes, by: str) -> Part:
    """A body whose hinge is not whole: a spigot right to the rod's axis, or a hole across."""
    body = rotating_body(s)
    if by == "hole":
        feature = next(f for f in body.features if f.name == "clamp screw hole")
        rod_x = s.block_thickness_mm - s.rod_from_front_mm
        axis = replace(feature.axis, origin=(rod_x - s.hinge_behind_mm, 0.0, s.leaf_z_mm))  # type: ignore[attr-defined]
        hole = replace(feature, name="stray hole", axis=axis, locations=(), depth_mm=30.0)  # type: ignore[call-arg]
        return replace_features(body, (*body.features, hole))
    blank = body.blank
    made = []
    for member in blank.members:  # type: ignore[union-attr]
        features = tuple(
            replace(f, depth_mm=f.depth_mm + s.block_thickness_mm - s.rod_from_front_mm
                    - s.spigot_length_mm)  # type: ignore[call-arg]
            if f.name == "spigot bore" else f
            for f in member.features
        )  # fmt: skip
        made.append(replace(member, features=features))
    wrong = copy(body)
    force_setattr(wrong, "blank", replace(blank, members=tuple(made)))
    return wrong


def replace_features(body: Part, features: tuple[Any, ...]) -> Part:
    """The same part with other features, unchecked."""
    wrong = copy(body)
    force_setattr(wrong, "features", features)
    return wrong


@pytest.mark.parametrize("by", ["spigot", "hole"])
@pytest.mark.parametrize("case", ["bench", "largest"])
def test_a_spigot_or_a_hole_across_the_hinge_is_taken_off(case: str, by: str) -> None:
    # both by the kernel's rays and by what the check reads off the features; the check counts no more
    s = sizes(case)
    wrong = spoiled(s, by)
    _, there = hinge_by_rays(block_alone(wrong), s, 25)
    claimed = joined_mm(wrong)
    assert there < 0.9 * s.block_length_mm
    assert claimed <= there + s.block_length_mm / 25 and claimed > 0.5 * there
