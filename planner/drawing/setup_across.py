"""Outlines of what holds a piece that does not turn: V-blocks, straps, tool post, plate, jaws of a saw.

Each function makes items of a sheet from plain sizes in mm, as those of setup do, which has the chuck,
the vice and the table. Imported by planner.book (the sketches of set-ups); needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from planner.drawing.model import Item
from planner.drawing.sketch import At, box

STRAP_MM = 8.0
"""How thick a strap clamp is drawn."""


def v_block_end(at: At, round_mm: float, low_mm: float) -> Iterator[Item]:
    """A V-block of 90 degrees from its end, under a round. Origin: on the round's axis.

    low_mm: where the block ends, below what it bears, so below -0.71 of the diameter. Raises ValueError
    for a block that ends over the bottom of its V.
    """
    radius = round_mm / 2
    bottom = -radius * sqrt(2.0)
    if radius <= 0 or low_mm >= bottom:
        raise ValueError(f"a V-block down to {low_mm:g} under a round of {round_mm:g}: no V")
    half, top = 1.25 * radius + 3.0, -0.25 * radius
    reach = top - bottom
    groove = min(0.12 * radius, 0.4 * (bottom - low_mm))  # the relief at the bottom of the V
    yield at.ring(
        (
            (-half, top),
            (-half, low_mm),
            (half, low_mm),
            (half, top),
            (reach, top),
            (groove, bottom + groove),
            (groove, bottom - groove),
            (-groove, bottom - groove),
            (-groove, bottom + groove),
            (-reach, top),
        )
    )


def v_block_side(at: At, wide_mm: float, round_mm: float, low_mm: float) -> Iterator[Item]:
    """The same from its side, from u = 0: what of it stands before the round hides that."""
    yield at.ring(box(0.0, low_mm, wide_mm, -0.125 * round_mm))


def strap(at: At, on_mm: float, high_mm: float) -> Iterator[Item]:
    """A strap clamp: its nose on the work over on_mm from the origin along -u, its heel on a block.

    Origin: the upper edge of the work; u away from it. high_mm: of that edge over the table. Raises
    ValueError where it has no hold or no room under it.
    """
    if on_mm <= 0 or high_mm <= 0:
        raise ValueError(f"a strap {on_mm:g} on work {high_mm:g} high: no hold")
    heel = max(22.0, 3.0 * on_mm)
    yield at.ring(box(-on_mm, 0.0, heel, STRAP_MM))
    yield at.ring(box(heel - 8.0, -high_mm, heel, 0.0))
    bolt = 0.45 * heel
    yield at.ring(box(bolt - 4.0, STRAP_MM, bolt + 4.0, STRAP_MM + 5.0))
    yield at.path(((bolt, STRAP_MM + 7.0), (bolt, -high_mm)), "centre")


def strap_across(at: At, wide_mm: float) -> Iterator[Item]:
    """A strap clamp cut across, on the work from u = 0 to its width, with its nut."""
    yield at.ring(box(0.0, 0.0, wide_mm, STRAP_MM))
    yield at.ring(box(0.15 * wide_mm, STRAP_MM, 0.85 * wide_mm, STRAP_MM + 4.0))


def strap_behind(at: At, round_mm: float, tool_mm: float, low_mm: float) -> Iterator[Item]:
    """A strap over a round from its end, a tool of some width before it, on two heel blocks.

    Origin: on the round's axis; low_mm: of the table.
    """
    radius = round_mm / 2
    reach, gap = 1.25 * radius + 16.0, tool_mm / 2 + 1.0
    for side in (1.0, -1.0):
        if gap < reach - 8.0:
            yield at.path(
                [
                    (side * u, v)
                    for u, v in (
                        (gap, radius),
                        (reach, radius),
                        (reach, radius + STRAP_MM),
                        (gap, radius + STRAP_MM),
                    )
                ]
            )
        yield at.ring([(side * u, v) for u, v in box(reach - 7.0, low_mm, reach, radius)])


def packing(at: At, long_mm: float, high_mm: float) -> Iterator[Item]:
    """Packing under the work: from u = 0, its top at v = 0. Two lines along show what it is."""
    yield at.ring(box(0.0, -high_mm, long_mm, 0.0))
    yield at.path(((0.0, -high_mm), (long_mm, 0.0)))


def faceplate(at: At, plate_mm: float) -> Iterator[Item]:
    """A faceplate from its edge, on the spindle's nose. Origin: on the axis in its face; u away."""
    half, thick = plate_mm / 2, 0.1 * plate_mm
    yield at.ring(box(-thick, -half, 0.0, half))
    yield at.ring(box(-thick - 0.12 * plate_mm, -0.2 * plate_mm, -thick, 0.2 * plate_mm))


def angle_plate(at: At, long_mm: float, foot_mm: float) -> Iterator[Item]:
    """An angle plate from its end: its wall from u = 0, the work at v = 0, its foot up from u = 0."""
    wall = min(10.0, 0.4 * foot_mm, 0.4 * long_mm)
    yield at.ring(
        ((0.0, 0.0), (long_mm, 0.0), (long_mm, wall), (wall, wall), (wall, foot_mm), (0.0, foot_mm))
    )


def saw_jaws(at: At, bar_mm: float, from_mm: float, to_mm: float) -> Iterator[Item]:
    """The jaws of a saw's vice from above, on either side of a bar about v = 0."""
    half = bar_mm / 2
    thick = max(6.0, 0.3 * bar_mm)
    for side in (1.0, -1.0):
        yield at.ring([(u, side * v) for u, v in box(from_mm, half, to_mm, half + thick)])


def vice_front(at: At, long_mm: float, grip_mm: float, parallels_mm: float) -> Iterator[Item]:
    """A machine vice from its front: the moving jaw before the work, the bed under it.

    Origin: the work's lower edge where the jaw begins; grip_mm: how far up it reaches.
    """
    floor = -parallels_mm
    yield at.ring(box(0.0, floor, long_mm, grip_mm))
    deep = max(10.0, 0.25 * long_mm)
    yield at.ring(box(-4.0, floor - deep, long_mm + 4.0, floor))
    yield at.circle((long_mm / 2, (floor + grip_mm) / 2), min(4.0, 0.3 * (grip_mm - floor)))


def tool_post(at: At, long_mm: float, shank_mm: float, screws: int = 2) -> Iterator[Item]:
    """A tool post into whose slot one looks: its floor at v = 0 from u = 0, screws on the shank."""
    roof, tall = 1.25 * shank_mm + 2.0, max(14.0, 0.9 * shank_mm)
    yield at.ring(box(0.0, -tall, long_mm, 0.0))
    yield at.ring(box(0.0, roof, long_mm, roof + tall))
    for number in range(screws):
        u = long_mm * (number + 0.5) / screws
        yield at.ring(box(u - 3.0, shank_mm, u + 3.0, roof))
        yield at.ring(box(u - 4.0, roof + tall, u + 4.0, roof + tall + 6.0))


def tool_post_above(at: At, wide_mm: float, long_mm: float) -> Iterator[Item]:
    """A tool post from above about the origin, with its bolt."""
    yield at.ring(box(-wide_mm / 2, -long_mm / 2, wide_mm / 2, long_mm / 2))


def surface_plate(at: At, long_mm: float) -> Iterator[Item]:
    """A flat plate on its feet, its top at v = 0 from u = 0."""
    deep = 0.09 * long_mm
    yield at.ring(box(0.0, -deep, long_mm, 0.0))
    for u in (0.08 * long_mm, 0.82 * long_mm):
        yield at.ring(box(u, -1.6 * deep, u + 0.1 * long_mm, -deep))


def clamp(at: At, work_mm: float, under_mm: float) -> Iterator[Item]:
    """A C-clamp from its side: its pad on the work, its screw from under the plate.

    Origin: the upper edge of the work; u away from it; work_mm: from there down to under the plate;
    under_mm: how far its screw stands out below.
    """
    reach, out = 10.0, 14.0
    yield at.path(
        (
            (-reach, 0.0),
            (-reach, 8.0),
            (out + 6.0, 8.0),
            (out + 6.0, -work_mm - under_mm),
            (-reach, -work_mm - under_mm),
        )
    )
    yield at.path(
        (
            (-reach, 0.0),
            (-reach + 6.0, 0.0),
            (-reach + 6.0, 2.0),
            (out, 2.0),
            (out, -work_mm - under_mm + 6.0),
            (-reach, -work_mm - under_mm + 6.0),
            (-reach, -work_mm - under_mm),
        )
    )
    yield at.ring(box(-reach + 1.0, -work_mm - under_mm + 6.0, -reach + 5.0, -work_mm))


def mandrel(at: At, round_mm: float, long_mm: float, through_mm: float) -> Iterator[Item]:
    """A mandrel along u from u = 0: within the work, to through_mm, by hidden lines, then seen."""
    radius = round_mm / 2
    inside = min(through_mm, long_mm)
    for side in (radius, -radius):
        yield at.path(((0.0, side), (inside, side)), "hidden")
    if long_mm > inside:
        yield at.ring(box(inside, -radius, long_mm, radius))
    else:
        yield at.path(((inside, radius), (inside, -radius)), "hidden")


def slitting_saw(at: At, diameter_mm: float) -> Iterator[Item]:
    """A slitting saw from its side, on its arbor. Origin: its middle."""
    yield at.circle((0.0, 0.0), diameter_mm / 2)
    yield at.circle((0.0, 0.0), 0.17 * diameter_mm)
    for number in range(16):
        turn = At((0.0, 0.0), 1.0, 22.5 * number)
        ends = ((0.0, 0.44 * diameter_mm), (0.02 * diameter_mm, 0.5 * diameter_mm))
        yield at.path([turn.point(p) for p in ends])


def grinding_wheel(at: At, diameter_mm: float, rest_mm: float) -> Iterator[Item]:
    """A wheel and its rest: the wheel's rim at the origin, its middle along -u; the rest's top at
    v = -rest_mm, a little off the rim."""
    radius = diameter_mm / 2
    yield at.circle((-radius, 0.0), radius)
    yield at.circle((-radius, 0.0), 0.18 * radius)
    yield at.ring(((2.0, -rest_mm), (0.5 * radius, -rest_mm), (0.5 * radius, -rest_mm - 8.0),
                   (6.0, -rest_mm - 8.0)))  # fmt: skip


def dividing_head(at: At, spindle_mm: float, high_mm: float) -> Iterator[Item]:
    """A dividing head on the table from its front. Origin: on its axis in its spindle's nose; u out of
    it. high_mm: of the axis over the table."""
    nose = 1.6 * spindle_mm
    yield at.ring(box(-8.0, -nose / 2, 0.0, nose / 2))
    yield at.ring(box(-40.0, -high_mm, -8.0, 0.8 * high_mm))
    yield at.circle((-24.0, -0.3 * high_mm), 0.4 * high_mm)  # its plate, with the crank over it
    yield at.path(((-24.0, -0.3 * high_mm), (-24.0, 0.25 * high_mm)))
    yield at.circle((-24.0, 0.25 * high_mm), 2.0)
    yield at.ring(box(-46.0, -high_mm - 6.0, 30.0, -high_mm))


def punch(at: At, block_mm: float, long_mm: float) -> Iterator[Item]:
    """A punch upright on the origin, in the guide block that stands there."""
    half = 0.3 * block_mm
    wide = 2.0 * block_mm
    for left in (-wide, half):
        yield at.ring(box(left, 0.0, left + wide - half, wide))
    yield at.ring(((-0.5 * half, 0.0), (0.5 * half, 0.0), (half, 0.3 * block_mm), (half, long_mm),
                   (-half, long_mm), (-half, 0.3 * block_mm)))  # fmt: skip


def bench_top(at: At, long_mm: float) -> Iterator[Item]:
    """A bench from its front, its top at v = 0 from u = 0."""
    yield at.ring(box(0.0, -5.0, long_mm, 0.0))
    for u in (0.08 * long_mm, 0.84 * long_mm):
        yield at.ring(box(u, -20.0, u + 0.08 * long_mm, -5.0))
