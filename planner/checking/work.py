"""How far the work itself bends in a pass: ball, stem and blank as a stepped cantilever from the jaws.

The passive force of a pass points at the ball's centre all along the sweep: at a polar angle a its part
P sin a bends the work, and lets the surface give way by the square of the sine. The equator is bent off
most, the nose not at all: on the ball it is form, not only size. Unit-load integral of s^2 / EI from
the centre to the jaws (any handbook of mechanics): ball as it is round, stem from the shoulder to the
wall of the relief, blank from there. A tailstock centre props the end: the force in it is what holds
the end still (method of forces). The chuck is taken as stiff, and the main force, which bends the work
along the pivot, is left out: it moves the tip's plane and hardly the size. Plain numbers; imported by
output.plan, checking.budget and turning.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, pi

from parts.attachment import Attachment
from parts.standard.materials import material
from parts.value import Value
from planner.checking.behind import Stand, room_behind, staircase
from planner.checking.clearance import BallCase, BallClearance
from planner.checking.strength import MOST_DEFLECTION_MM, cutting_load
from planner.geometry.envelope import Outline, swinging_outlines
from planner.job.tables import Job
from planner.sums.mechanics import sound
from planner.words.findings import Finding, finding

SLICES = 32
"""Of the ball behind its centre, for the integral over its round (Simpson's rule)."""


class Bar(Value, frozen=True):
    """The work from the ball's centre to the jaws, mm, all above 0.

    shoulder_mm: where ball and stem meet, behind the centre; relief_mm: the wall, from which the blank
    is as thick as it came; out_mm: the jaws' front. propped: a tailstock centre stands at the nose.
    stands: what stands between shoulder and wall, in order; none for one stem all along.
    """

    ball_mm: float
    stem_mm: float
    blank_mm: float
    shoulder_mm: float
    relief_mm: float
    out_mm: float
    propped: bool = False
    stands: tuple[Stand, ...] = ()


class Bending(Value, frozen=True):
    """How far the work of one ball bends in the job's pass: for one newton, the force, both together.

    stem_mm, free_mm: its stem, and how far the centre stands out of the jaws; material: of the work.
    """

    ball: BallCase
    mm_per_N: float
    passive_N: float
    stem_mm: float
    free_mm: float
    material: str

    @property
    def mm(self) -> float:
        """At the equator, in the pass."""
        return self.mm_per_N * self.passive_N


def bar_of(
    clear: BallClearance,
    job: Job,
    relief_mm: float,
    out_mm: float,
    stands: tuple[Stand, ...] = (),
) -> Bar:
    """The work of a ball, with the relief's wall and the jaws so far behind its centre, and what stands
    between."""
    ball = clear.ball
    half = not ball.behind
    return Bar(
        ball.diameter_mm,
        ball.diameter_mm if half else ball.stem_mm,
        ball.blank_mm,
        1e-6 if half else max(clear.shoulder_mm, 1e-6),
        max(relief_mm, 1e-6),
        max(out_mm, relief_mm),
        job.turning.tailstock_centre is not None,
        stands,
    )


def bending_mm_per_N(bar: Bar, modulus_MPa: float) -> float:
    """How far the ball's centre gives way across the spindle for one newton there."""
    sound(modulus_MPa=modulus_MPa, stem_mm=bar.stem_mm, ball_mm=bar.ball_mm, blank_mm=bar.blank_mm)
    own = _integral(bar, 0.0, 0.0)
    if bar.propped:
        ahead = bar.ball_mm / 2
        own -= _integral(bar, 0.0, ahead) ** 2 / _integral(bar, ahead, ahead)
    return own / modulus_MPa


def bendings(
    found: Sequence[BallClearance], attachment: Attachment, job: Job, nose_mm: float
) -> tuple[Bending, ...]:
    """What the work of each ball comes to, each in its material, at the job's depth and feed.

    Behind its neck it stands as thick as what swings lets it.
    """
    outlines, clear_mm = swinging_outlines(attachment), attachment.sizes.clearance_mm
    named = {b.name or f"ball {n}": b.material for n, b in enumerate(job.ball, 1)}
    turning = job.turning
    made = []
    for clear in found:
        name = named.get(clear.ball.name) or job.materials.dial
        stands = _stands(clear, outlines, job, clear_mm)
        wall = stands[-1].to_mm if stands else clear.relief_mm
        bar = bar_of(clear, job, wall, clear.jaws_mm, stands)
        load = cutting_load(turning.depth_of_cut, turning.feed, nose_mm, name)
        give = bending_mm_per_N(bar, material(name).modulus_MPa)
        made.append(Bending(clear.ball, give, load.passive_N, bar.stem_mm, bar.out_mm, name))
    return tuple(made)


def _stands(
    clear: BallClearance, outlines: Sequence[Outline], job: Job, clear_mm: float
) -> tuple[Stand, ...]:
    """What may stand behind a ball's neck while it is swung; nothing is said of half a ball."""
    ball = clear.ball
    if not ball.behind:
        return ()
    radius, blank = ball.diameter_mm / 2, ball.blank_mm / 2
    room = room_behind(
        outlines,
        (radius, hypot(radius, blank)),
        (clear.start_deg, clear.end_deg),
        (clear.shoulder_mm, ball.stem_mm / 2),
        blank,
        clear_mm,
    )
    return staircase(room, clear.shoulder_mm + 2 * job.turning.roughing_width)


def bending_findings(found: Sequence[Bending], job: Job, file: str) -> Iterator[Finding]:
    """Work that bends so far that a spring pass no longer mends the ball."""
    numbers, most = job.numbers, job.series.limit(MOST_DEFLECTION_MM)
    for one in found:
        ball = one.ball
        if one.mm <= most:
            continue
        thicker = one.stem_mm * (one.mm / most) ** 0.25
        remedy = "Take less depth, or rough it with the tailstock up"
        if thicker < 0.9 * ball.diameter_mm:
            remedy = (
                f"Leave a stem of {numbers.at_least(thicker)} till the last, or take less depth"
            )
        small = ball.bound and ball.name == "smallest"
        yield finding(
            "work-bends",
            file,
            "ball" if ball.bound else f"ball.{ball.name}",
            f"in the pass the work bends {numbers.fine_up(one.mm)}: stem {numbers.length(one.stem_mm)},"
            f" {numbers.rule(one.free_mm)} out of the jaws",
            f"at most {numbers.within(most)}",
            remedy,
            severity="note" if small else "warning",
            subject=ball.name,
            source="a stepped cantilever from the jaws",
        )


def _integral(bar: Bar, one_mm: float, other_mm: float) -> float:
    """Of (s + one)(s + other) / I over the length, s from the ball's centre; 1/mm."""
    radius = bar.ball_mm / 2
    total, step = 0.0, bar.shoulder_mm / SLICES
    for k in range(SLICES + 1):
        s = k * step
        weight = 1 if k in (0, SLICES) else 4 if k % 2 else 2
        second = pi / 4 * max(radius**2 - s**2, (bar.stem_mm / 2) ** 2) ** 2
        total += weight * step / 3 * (s + one_mm) * (s + other_mm) / second
    stem = [(one.from_mm, one.to_mm, 2 * one.radius_mm) for one in bar.stands]
    for low, high, across in (
        *(stem or [(bar.shoulder_mm, bar.relief_mm, bar.stem_mm)]),
        (max(bar.shoulder_mm, bar.relief_mm), bar.out_mm, bar.blank_mm),
    ):
        if high > low:
            cubes = (high**3 - low**3) / 3 + (one_mm + other_mm) * (high**2 - low**2) / 2
            cubes += one_mm * other_mm * (high - low)
            total += cubes / (pi / 64 * across**4)
    return total
