"""Outlines of cutting tools at the surface that they cut, from plain sizes in mm.

Each has its cutting point at its origin, and stands away from the work along +v unless it says
otherwise; At turns it to where it comes from. What holds the work is in setup. For the route's
pictures; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin, sqrt, tan

from planner.drawing.model import Item
from planner.drawing.sketch import At, box

DRILL_POINT_DEG = 118.0
"""Of a twist drill (common practice)."""

SHANK_LONG = 4.0
"""How much of a tool's shank is drawn, in its widths."""


def turning_tool(at: At, shank_mm: float) -> Iterator[Item]:
    """A turning tool from above that cuts along -u: point at the origin, shank along +v.

    Its leading edge stands 3 degrees off the way it feeds, its trailing edge 20 degrees off the work.
    """
    wide = shank_mm
    lead, trail = tan(radians(3.0)), tan(radians(20.0))
    deep = 0.8 * wide
    yield at.ring(
        (
            (0.0, 0.0),
            (deep, deep * trail),
            (deep, deep),
            (wide + lead * deep, deep * 1.4),
            (wide + lead * deep, SHANK_LONG * wide),
            (lead * deep, SHANK_LONG * wide),
            (lead * deep, deep),
        )
    )


def facing_tool(at: At, shank_mm: float) -> Iterator[Item]:
    """A facing tool from above: point at the origin against a face at u = 0, the work at u < 0."""
    wide, off, back = shank_mm, tan(radians(8.0)), tan(radians(30.0))
    deep = 0.7 * wide
    yield at.ring(
        (
            (0.0, 0.0),
            (deep, deep * back),
            (deep, SHANK_LONG * wide),
            (off * deep, SHANK_LONG * wide),
            (off * deep, deep),
        )
    )


def pointed_tool(at: At, shank_mm: float) -> Iterator[Item]:
    """A tool of 60 degrees upright over the work: its point at the origin, its shank along +v."""
    half, deep = shank_mm / 2, shank_mm * sqrt(3.0) / 2
    yield at.ring(
        ((0.0, 0.0), (half, deep), (half, 3.0 * shank_mm), (-half, 3.0 * shank_mm), (-half, deep))
    )


def ball_bit(at: At, bit_mm: float, out_mm: float) -> Iterator[Item]:
    """The attachment's bit over the top of a ball: its tip at the origin, out of its arm along +v."""
    half = bit_mm / 2
    yield at.ring(((0.0, 0.0), (half, bit_mm), (half, out_mm), (-half, out_mm), (-half, bit_mm)))
    yield at.ring(box(-2.0 * bit_mm, out_mm, 2.0 * bit_mm, out_mm + 2.0 * bit_mm))


def swing(at: At, radius_mm: float, start_deg: float, end_deg: float) -> Iterator[Item]:
    """The way of a tip about the origin, from u towards -u over the top, with an arrow at its end."""
    steps = 24
    ways = [radians(start_deg + (end_deg - start_deg) * k / steps) for k in range(steps + 1)]
    points = [(radius_mm * cos(way), radius_mm * sin(way)) for way in ways]
    yield at.path(points)
    (x, y), last = points[-1], ways[-1]
    for turn in (0.4, -0.4):
        back = last - radians(90.0) + turn
        yield at.path(((x, y), (x + 4.0 * cos(back), y + 4.0 * sin(back))))


def parting_tool(at: At, blade_mm: float, deep_mm: float, shank_mm: float) -> Iterator[Item]:
    """A parting tool from above: its edge at v = 0 from u = 0 to the blade's width, shank along +v."""
    clear = min(0.1 * blade_mm, 0.3)
    yield at.ring(
        (
            (0.0, 0.0),
            (blade_mm, 0.0),
            (blade_mm - clear, deep_mm),
            (shank_mm, deep_mm),
            (shank_mm, deep_mm + 3.0 * shank_mm),
            (0.0, deep_mm + 3.0 * shank_mm),
            (clear, deep_mm),
        )
    )


def boring_tool(at: At, bar_mm: float, long_mm: float) -> Iterator[Item]:
    """A boring tool in a bore from above: point at the origin on the bore's wall over it, bar along +u.

    bar_mm: its diameter, less than the bore's; long_mm: how far it reaches in.
    """
    gap = 0.25 * bar_mm
    yield at.ring(
        (
            (0.0, 0.0),
            (0.15 * bar_mm, -gap),
            (long_mm, -gap),
            (long_mm, -gap - bar_mm),
            (-0.15 * bar_mm, -gap - bar_mm),
            (-0.15 * bar_mm, -gap),
        )
    )
    yield at.ring(box(long_mm, -1.6 * bar_mm - gap, long_mm + 2.5 * bar_mm, 0.6 * bar_mm - gap))


def drill(at: At, diameter_mm: float, long_mm: float) -> Iterator[Item]:
    """A twist drill: its point at the origin, its body along +v."""
    radius = diameter_mm / 2
    point = radius / tan(radians(DRILL_POINT_DEG / 2))
    shank = 0.75 * long_mm
    yield at.ring(
        ((0.0, 0.0), (radius, point), (radius, long_mm), (-radius, long_mm), (-radius, point))
    )
    pitch = 1.6 * diameter_mm
    up = point
    while up + 0.6 * pitch < shank:
        yield at.path(((-radius, up), (radius, up + 0.6 * pitch)))
        up += 0.5 * pitch


def die(at: At, thread_mm: float) -> Iterator[Item]:
    """A round die in its holder before the end of the work: its face at u = 0 about v = 0, the holder's
    shank along +u.

    About as wide and thick as round dies are, three and one and a quarter times the thread
    (common practice; for looks alone).
    """
    radius, thick = 1.5 * thread_mm + 2.0, 1.25 * thread_mm
    yield at.ring(box(0.0, -radius, thick, radius))
    yield at.ring(box(0.0, -0.5 * thread_mm, thick, 0.5 * thread_mm), "hidden")
    rim = radius + 2.0
    yield at.ring(
        (
            (0.0, radius),
            (0.0, rim),
            (1.6 * thick, rim),
            (1.6 * thick, -rim),
            (0.0, -rim),
            (0.0, -radius),
        )
    )
    yield at.ring(box(1.6 * thick, -0.4 * rim, 1.6 * thick + 2.0 * rim, 0.4 * rim))


def end_mill(at: At, diameter_mm: float, long_mm: float) -> Iterator[Item]:
    """An end mill: its face at v = 0 about u = 0, its shank along +v."""
    radius = diameter_mm / 2
    flutes = min(long_mm, 2.0 * diameter_mm)
    yield at.ring(box(-radius, 0.0, radius, long_mm))
    yield at.path(((-radius, flutes), (radius, flutes)))
    for k in (0.0, 0.5):
        yield at.path(((-radius, k * flutes), (radius, k * flutes + 0.5 * flutes)))


def bar_between_centres(
    at: At, bar_mm: float, long_mm: float, cut_mm: float, cutter_mm: float
) -> Iterator[Item]:
    """A boring bar between centres, its axis along u about u = 0.

    Its cutter, cutter_mm wide, stands out at v > 0 to the diameter that it bores, cut_mm. Raises
    ValueError where that is no more than the bar.
    """
    if not 0 < bar_mm < cut_mm:
        raise ValueError(f"bar {bar_mm:g}: bores no {cut_mm:g}")
    radius, half = bar_mm / 2, cutter_mm / 2
    yield at.ring(box(-long_mm / 2, -radius, long_mm / 2, radius))
    yield at.ring(
        ((-half, radius), (half, radius), (half, cut_mm / 2 - 0.3 * half), (-half, cut_mm / 2))
    )
