"""Random balls on random attachments, and what swings sampled as points against the turning work.

Shares nothing with the formulas of the sweep: arm and bit are laid out here from the sizes (the bit
with the round of its nose, its sides touching it), everything else is points of the edges' convex
hulls; each point is turned about the pivot by a rotation, at many swings and tip radii, and its
distance from the spindle is held against the work as it is after roughing: stem, neck, relief, blank,
jaws and chuck, all solids of revolution. A check looks for points nearer than the clearance, and says
by how much.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import asin, cos, hypot, radians, sin, tan
from random import Random
from typing import Any

import numpy as np
from jobs import changed

from parts.attachment import Attachment, Carrier, attachment
from parts.features import GroundPoint
from parts.part import every_feature
from parts.sizes import Sizes
from planner.checking.clearance import BallClearance, clearances
from planner.geometry.envelope import Edge, swinging_edges
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.sizing.apply import size_up
from planner.words.findings import BadInput

STEP_MM = 0.5
"""Between points along an outline."""

TIPS, SWINGS, OFTEN = 7, 5, 31
"""Tip radii and swings tried besides the ends of both; swings at the least and greatest radius."""

BIT_MM, NOSE_MM = 0.2, 0.05
"""Kept between the stem and the bit's corners, and between it and the nose (common practice)."""

NEAR_MM = 0.02
"""How much nearer than the clearance a sampled point may come before it counts."""


@dataclass(frozen=True)
class Case:
    """One ball on one attachment."""

    made: Attachment
    job: Job
    found: BallClearance


def random_cases(seed: int, count: int, balls: int = 4) -> Iterator[Case]:
    """So many balls of random accepted jobs: sizes, blanks, stems and shapes all drawn."""
    draw = Random(seed)
    while count > 0:
        try:
            job = job_from(_job(draw, balls), "job.toml")
            made = attachment(size_up(job, "job.toml").sizes)
        except BadInput:
            continue
        for found in clearances(made, job)[2:]:
            if count > 0 and found.start_deg < 90.0:
                count -= 1
                yield Case(made, job, found)


def _job(draw: Random, balls: int) -> dict[str, Any]:
    largest = draw.choice((20.0, 30.0, 40.0, 50.0, 60.0, 80.0))
    least = largest * draw.uniform(0.33, 0.5)
    blank = largest * draw.uniform(1.0, 1.15)
    room = largest * draw.uniform(1.4, 2.2)
    turned: list[dict[str, Any]] = []
    for _ in range(balls):
        across = draw.uniform(least, largest)
        shape = "hemisphere" if draw.random() < 0.2 else "ball"
        turned.append(
            {
                "diameter": across,
                "blank_diameter": draw.choice((across, draw.uniform(across, blank))),
                "stem_diameter": across * draw.uniform(0.25, 0.7),
                "shape": shape,
            }
        )
    sizes = {
        "lathe.spindle_over_cross_slide": room + 30,
        "lathe.chuck_diameter": draw.uniform(60.0, 200.0),
        "lathe.jaw_diameter": draw.uniform(blank + 10.0, blank + 60.0),
        "lathe.jaw_reach": draw.uniform(0.0, 40.0),
        "attachment.max_ball_diameter": largest,
        "attachment.min_ball_diameter": least,
        "attachment.max_blank_diameter": blank,
    }
    return changed(
        draw.choice(("bench-lathe", "engine-lathe", "inch-lathe")),
        **{key: _mm(value) for key, value in sizes.items()},
        **{"attachment.sizes": None, "attachment.prefer": None},
        ball=[
            {key: value if key == "shape" else _mm(value) for key, value in ball.items()}
            for ball in turned
        ],
    )


def _mm(value: float) -> str:
    return f"{value:.4f} mm"


# ---- the points ----


def bit_points(made: Attachment) -> tuple[Any, Any]:
    """The nose's round, and the rest of the bit's outline: out along the tip, and across it."""
    s = made.sizes
    (point,) = [f for p in made.parts for _, f in every_feature(p) if isinstance(f, GroundPoint)]
    r, half, side = point.nose_radius_mm, radians(point.included_deg / 2), s.bit_stock.width_mm / 2
    turn = np.linspace(-(np.pi / 2 - half), np.pi / 2 - half, 41)
    nose = np.stack([r - r * np.cos(turn), r * np.sin(turn)], axis=1)
    touch = np.array([r - r * sin(half), r * cos(half)])
    shoulder = np.array([touch[0] + (side - touch[1]) / tan(half), side])
    back = np.array([s.bit_stickout_mm + s.arm_stock.height_mm + 2.0, side])
    rest = np.concatenate([_line(shoulder, touch)[:-1], _line(shoulder, back)])
    return nose, np.concatenate([rest, rest * (1, -1)])


def arm_points(s: Sizes) -> Any:
    """The arm's end in the tip plane: inner face out, from its lead on the chuck's side."""
    low, high = s.bit_stickout_mm, s.bit_stickout_mm + s.arm_stock.height_mm
    half = s.arm_half_width_mm
    lead = s.arm_lead_mm if half - s.arm_lead_mm >= 1.0 else half
    ring = [(low, -lead), (high, -lead), (high, half), (low, half), (low, -lead)]
    return np.concatenate(
        [_line(np.array(a), np.array(b)) for a, b in zip(ring, ring[1:], strict=False)]
    )


def _line(a: Any, b: Any) -> Any:
    count = max(2, int(hypot(*(b - a)) / STEP_MM) + 1)
    return a + (b - a) * np.linspace(0.0, 1.0, count)[:, None]


@cache
def other_points(s: Sizes) -> tuple[tuple[str, bool, float, Any], ...]:
    """Everything else: name, whether it slides, how far off the tip plane, points of its outline."""
    grouped: dict[tuple[Any, ...], list[Edge]] = {}
    for e in swinging_edges(attachment(s)):
        if not e.cuts:
            grouped.setdefault((e.name, e.carrier, e.x_low_mm, e.x_high_mm), []).append(e)
    found = []
    for (name, carrier, low, high), edges in grouped.items():
        lines = []
        for e in edges:
            turn = np.linspace(0.0, 2 * np.pi, 25)
            ring = np.stack([np.cos(turn), np.sin(turn)], axis=1) * e.round_mm
            lines.append(np.array([e.y_mm, e.z_mm]) + (ring if e.round_mm else ring[:1]))
        for a, b in combinations(edges, 2):
            lines.append(_line(np.array([a.y_mm, a.z_mm]), np.array([b.y_mm, b.z_mm])))
        off = max(0.0, low, -high)
        found.append((name, carrier is Carrier.HEAD, off, np.concatenate(lines)))
    return tuple(found)


def turned(points: Any, tips: Any, swings: Any) -> tuple[Any, Any]:
    """Height over the spindle and depth behind the ball's centre, for every swing, tip and point."""
    out, across = points[:, 0] + tips[:, None], points[:, 1]
    a = np.radians(swings)[:, None, None]
    up, along = np.sin(a), np.cos(a)
    return out * up - across * along, -(out * along + across * up)


# ---- the checks ----


def complaints(
    case: Case, longer_deg: float = 0.0, relief_mm: float = 0.0, out_mm: float = 0.0
) -> dict[str, float]:
    """What comes nearer than it may, and by how much; the sweep longer, relief or stick-out changed."""
    found, s, lathe = case.found, case.made.sizes, case.job.lathe
    ball, clear = found.ball, s.clearance_mm
    radius, blank, stem = ball.diameter_mm / 2, ball.blank_mm / 2, ball.stem_mm / 2
    end = found.end_deg + longer_deg
    swings = np.append(np.linspace(found.start_deg, end, SWINGS), end)
    far = hypot(radius, blank) + clear
    tips = np.linspace(radius, far, TIPS)
    told: dict[str, float] = {}

    def tell(what: str, short: Any, near_mm: float = NEAR_MM) -> None:
        worst = float(np.max(short, initial=0.0))
        if worst > near_mm:
            told[what] = max(worst, told.get(what, 0.0))

    nose, rest = bit_points(case.made)
    last, at_end = np.array([radius]), np.array([end])
    lowest = turned(nose, last, at_end)[0].min()
    if ball.behind:
        tell("nose in the stem", stem + NOSE_MM - lowest, NEAR_MM / 2)
        sides = turned(rest, last, at_end)[0]
        tell("side past the nose", lowest - sides.min())
        corners = rest[np.abs(np.abs(rest[:, 1]) - s.bit_stock.width_mm / 2) < 1e-9]
        tell("bit at the stem", stem + BIT_MM - turned(corners, last, at_end)[0])
        tell("arm at the stem", stem + clear - turned(arm_points(s), last, at_end)[0])

    wall = (found.relief_mm - relief_mm) if found.relief_mm else None
    jaws = (lathe.jaw_diameter or lathe.chuck_diameter) / 2
    out = found.stick_out_mm - out_mm
    everything = [
        ("bit", True, 0.0, np.concatenate([nose, rest])),
        ("arm", True, 0.0, arm_points(s)),
        *other_points(s),
    ]
    often = np.linspace(found.start_deg, end, OFTEN)
    fine = np.linspace(radius, far, max(TIPS, int((far - radius) / 0.3)))
    for name, slides, off, points in everything:
        for at, these in ((tips, swings), (fine, at_end), (tips[[0, -1]], often)):
            moved = at if slides else np.zeros(1)
            height, depth = turned(points, moved, these)
            from_axis = np.hypot(height, off) if off else np.abs(height)

            def inside(within: float, back: float, rho: Any = from_axis, b: Any = depth) -> Any:
                return np.minimum(within + clear - rho, b + clear - back)

            if wall is not None and off < blank:
                tell(f"{name} in the blank", inside(blank, wall))
            tell(f"{name} at the jaws", inside(jaws, out))
            tell(f"{name} at the chuck", inside(lathe.chuck_diameter / 2, out + lathe.jaw_reach))
    return told


def governed(case: Case) -> bool:
    """Whether what swings sets the relief, and not the ball's own neck."""
    found = case.found
    ball = found.ball
    neck = ball.diameter_mm / 2 * cos(asin(ball.stem_mm / ball.diameter_mm)) if ball.behind else 0.0
    return found.relief_mm > neck + case.made.sizes.clearance_mm + 0.6


__all__ = ["Case", "complaints", "governed", "random_cases"]
