"""The clamp lever: a nut and its handle in one piece, on the stud that closes the clamp.

The clamp is opened and closed at every pass, so it has a lever of its own and no key. Frame: its own
axis is x, from the boss that is the nut to the ball that is pushed; z points away from the leaf.
"""

from __future__ import annotations

from math import sqrt

from parts.features import (
    FacedLength,
    Location,
    MilledFlat,
    TappedHole,
    TurnedBall,
    TurnedDiameter,
)
from parts.frame import Axis, Box, Frame
from parts.part import Agreement, Datum, Part, Stock
from parts.placed import Turn
from parts.sizes import Sizes
from parts.standard.fasteners import washer

ARM = 0.65
"""The lever's arm over its boss: what is left stands clear of the block's face."""

HAND_BALL_MM = 0.5
"""The hand's ball is so much smaller than the boss: it comes clean out of the same bar."""

TIGHT_DEG = (0.0, 30.0)
"""How far the lever leans from the rod's line, toward the operator: slack, and at most when tight."""

CLOCKED_DEG = 20.0
"""How far it leans at least when tight: slack is up to so much before that, and still not past the
rod's line."""

FACING_FOR_DEG = 30.0
"""A twelfth of the pitch off the lever's washer turns it by so much: it is clocked so."""


def lever_mm(s: Sizes) -> float:
    """Length over all: half the boss more than from the stud to the end."""
    return s.lever_boss_mm / 2 + s.lever_length_mm


def arm_mm(s: Sizes) -> float:
    """Diameter of the lever's arm."""
    return s.series.nearest(ARM * s.lever_boss_mm, 0.5)


def clamp_lever(s: Sizes) -> Part:
    """The clamp lever for the given sizes."""
    boss, end = s.lever_boss_mm, lever_mm(s)
    radius, arm, hand = boss / 2, arm_mm(s), boss - s.series.nominal(HAND_BALL_MM)
    ball = end - hand / 2 - sqrt((hand / 2) ** 2 - (arm / 2) ** 2)
    seat = s.lever_seat_mm
    degrees = FACING_FOR_DEG
    return Part(
        name="clamp-lever",
        title="Clamp lever",
        axes="x along the axis from the boss's end, z away from the lever seat",
        colour=(0.60, 0.30, 0.30),
        blank=Stock(s.lever_stock, end, s.screw_material),
        features=(
            FacedLength(name="lever length", datum="B", length=s.series.general(end)),
            TurnedDiameter(
                name="lever boss",
                datum="A",
                start_mm=0.0,
                end_mm=end,
                diameter=s.series.general(boss),
            ),
            TurnedDiameter(
                name="lever arm",
                datum="A",
                start_mm=boss,
                end_mm=ball,
                diameter=s.series.general(arm),
            ),
            TurnedBall(
                name="boss end",
                datum="A",
                axis=Axis((boss, 0.0, 0.0), "-x"),
                start_mm=radius,
                end_mm=boss,
                diameter=s.series.general(boss),
                note="round in plan about the stud: no corner of it comes out of the block's front",
            ),
            TurnedBall(
                name="hand ball",
                datum="A",
                start_mm=ball,
                end_mm=end,
                diameter=s.series.general(hand),
            ),
            MilledFlat(
                name="lever seat",
                datum="A",
                box=Box((-1.0, -radius - 1.0, -radius - 1.0), (end + 1.0, radius + 1.0, -seat)),
                locations=(Location("A", "-z", s.series.general(seat), "z-high"),),
                note="all along: the boss bears on the washer, the arm clears the block by as much",
            ),
            TappedHole(
                name="lever thread",
                datum="A",
                axis=Axis((radius, 0.0, -seat), "+z"),
                depth_mm=seat + radius,
                thread=s.clamp_screw,
                locations=(Location("B", "+x", s.series.general(radius)),),
                note="square to the seat",
            ),
        ),
        datums={
            "A": Datum("blank", "axis", "axis"),
            "B": Datum("blank", "x-low", "the boss's end"),
        },
        agreements=(
            Agreement("symmetric", "lever thread:axis", "lever boss:axis", "through the middle"),
        ),
        notes=(
            "Clock it last, the rod in its bore: tightened on none, the hinge is bent. Tight, it must"
            f" lean {CLOCKED_DEG:g} to {TIGHT_DEG[1]:g} degrees from the rod's line toward the"
            " operator. To let it go farther rub its washer down: a twelfth of the thread's pitch off"
            f" turns it {degrees:g} degrees. Where it goes too far, a ring cut of shim goes under the"
            " washer.",
            "Slack, it never goes past the rod's line: beyond, it comes out of the block's front,"
            " toward the blank.",
            "The stud is set in the block with thread-locking compound, and stays there.",
        ),
    )


def clamp_x_mm(s: Sizes) -> float:
    """Where the stud stands along the pivot axis."""
    return s.block_front_x_mm - s.clamp_screw_from_front_mm


def along_lever(s: Sizes) -> Frame:
    """The lever's frame: pointing along the rod to the tip, its seat on the washer."""
    seat_z = s.leaf_z_mm - washer(s.clamp_screw).thickness_mm
    radius = s.lever_boss_mm / 2
    return Frame((clamp_x_mm(s), -radius, seat_z - s.lever_seat_mm), x="+y", z="-z")


def lever_turn(s: Sizes) -> Turn:
    """How the lever turns on its stud, from slack to tight, about its own z."""
    slack, tight = TIGHT_DEG
    return Turn((s.lever_boss_mm / 2, 0.0, 0.0), (-slack, -tight))
