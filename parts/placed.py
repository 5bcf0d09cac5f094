"""A thing in its place, what it moves with, and the frames along feed screw, handle and bit.

Frame of the whole: the ball's centre is the origin, x along the pivot axis towards the rear of the
lathe, y up, z along the spindle away from the chuck. Imported by parts.attachment and parts.bought.
"""

from __future__ import annotations

from enum import StrEnum
from math import cos, radians, sin

from parts.frame import Direction, Frame, Point
from parts.handle import handle_past_mm, handle_station_mm, handle_thread_mm
from parts.part import Bought, Part
from parts.sizes import Sizes
from parts.value import Value


class Carrier(StrEnum):
    """What a thing moves with: the tool post, the swinging body, or the head that slides in it."""

    POST = "post"
    BODY = "body"
    HEAD = "head"


class Turn(Value, frozen=True):
    """How a thing turns by hand where it stands: about a line along its own z, between two angles.

    about: a point of the line, in its own frame; degrees: from its own x toward its own y, first as it
    is placed.
    """

    about: Point
    degrees: tuple[float, float]


class Seat(Value, frozen=True):
    """How a thing comes off: what it comes off next, and which way it leaves, tip on top.

    on: the name of what it sits on or in, or of what else came off before it and stands in its way no
    more once that is put back; off: in the frame of the whole; past: the names of what else is on
    before it: what comes on over the place where it stands, or what it is tightened on.
    """

    on: str
    off: Direction
    past: tuple[str, ...] = ()


class Placed(Value, frozen=True):
    """A part or bought item in its place, with the tip on top and at radius zero.

    frame: its own frame in the frame of the whole; ``Carrier.HEAD`` things then move out along y
    by the tip radius, and all but ``Carrier.POST`` swing about x. turn: of what also turns by hand
    where it stands. seat: how it comes off when the whole is taken apart; None for what all else is on.
    """

    item: Part | Bought
    frame: Frame
    carrier: Carrier
    turn: Turn | None = None
    seat: Seat | None = None

    @property
    def name(self) -> str:
        """A part's name, or what a bought item is for."""
        return self.item.name if isinstance(self.item, Part) else self.item.use


def along_feed(s: Sizes, y: float) -> Frame:
    """Along the feed screw's axis from a height, down to the tail."""
    return Frame((s.rod_x_mm, y, s.feed_offset_mm), x="-y", z="+z")


def feed_top_mm(s: Sizes) -> float:
    """The feed screw's tip end over the pivot axis."""
    return s.block_tip_y_mm + s.feed_collar_thickness_mm + s.feed_thread_length_mm


def along_pivot(s: Sizes) -> Frame:
    """Along the pivot axis from the housing's rear end, away from the work."""
    return Frame((s.thrust_x_mm - s.housing_length_mm, 0.0, 0.0), x="-x", z="+z")


def along_handle(s: Sizes, y: float) -> Frame:
    """Along the handle's axis from a height, up to the knob."""
    return Frame((s.thrust_x_mm - handle_station_mm(s), y, 0.0), x="+y", z="+z")


def handle_out_mm(s: Sizes) -> float:
    """From the pivot axis to the handle's end, on the far side of the pin."""
    return s.pin_diameter_mm / 2 + handle_past_mm(s)


def knob_base_mm(s: Sizes) -> float:
    """The knob's seat over the pivot axis."""
    return s.handle_length_mm - handle_out_mm(s) - handle_thread_mm(s)


def bit_frame(s: Sizes) -> Frame:
    """The bit's frame: its rake face in the tip plane."""
    return Frame((-s.bit_stock.width_mm / 2, 0.0, 0.0), x="+y", z="+x")


def in_pose(point: Point, carrier: Carrier, tip_radius_mm: float, swing_deg: float) -> Point:
    """A point of a placed item, moved to a pose of the attachment.

    point: in the frame of the whole, tip on top and at radius zero, mm.
    tip_radius_mm: where the head stands (any); swing_deg: polar angle of the tip from the ball's
    nose, 0 at the nose, 90 on top.
    """
    x, y, z = point
    if carrier is Carrier.POST:
        return point
    if carrier is Carrier.HEAD:
        y += tip_radius_mm
    turn = radians(90.0 - swing_deg)
    return (x, y * cos(turn) - z * sin(turn), y * sin(turn) + z * cos(turn))
