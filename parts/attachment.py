"""The attachment: its parts, the bought items, what fits in what, and where everything stands.

Frame of the whole: the ball's centre is the origin, x along the pivot axis towards the rear of the
lathe, y up, z along the spindle away from the chuck. A new part is one line in ``attachment``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import cos, radians, sin

from parts.body import handle_station_mm, rotating_body
from parts.clamp import clamp_screw_mm
from parts.frame import Frame, Point
from parts.handle import handle, knob
from parts.head import sliding_head
from parts.housing import housing
from parts.part import Bought, Part
from parts.screw import dial, feed_screw
from parts.sizes import Sizes
from parts.standard.fasteners import screw_length_mm, thin_nut, washer
from parts.standard.threads import thread
from parts.standard.toolbox import fastener_standard
from parts.tool import tool_bit


class Carrier(StrEnum):
    """What a thing moves with: the tool post, the swinging body, or the head that slides in it."""

    POST = "post"
    BODY = "body"
    HEAD = "head"


@dataclass(frozen=True)
class Placed:
    """A part or bought item in its place, with the tip on top and at radius zero.

    frame: its own frame in the frame of the whole; ``Carrier.HEAD`` things then move out along y
    by the tip radius, and all but ``Carrier.POST`` swing about x.
    """

    item: Part | Bought
    frame: Frame
    carrier: Carrier


@dataclass(frozen=True)
class Fit:
    """A hole and the shaft that runs in it; the hole is made first and the shaft made to it."""

    hole_part: str
    hole: str
    shaft_part: str
    shaft: str


@dataclass(frozen=True)
class Attachment:
    """All of it."""

    sizes: Sizes
    placed: tuple[Placed, ...]
    fits: tuple[Fit, ...]

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts to be made, in the order of the attachment."""
        return tuple(p.item for p in self.placed if isinstance(p.item, Part))

    @property
    def bought(self) -> tuple[Bought, ...]:
        """The items to be bought; each is placed once for every piece of it."""
        items: dict[Bought, None] = {}
        for p in self.placed:
            if isinstance(p.item, Bought):
                items.setdefault(p.item)
        return tuple(items)


FITS = (
    Fit("housing", "pivot bore", "rotating-body", "journal"),
    Fit("rotating-body", "rod bore", "sliding-head", "rod"),
    Fit("rotating-body", "spigot bore", "rotating-body", "spigot"),
    Fit("sliding-head", "rod hole", "sliding-head", "rod spigot"),
    Fit("dial", "dial bore", "feed-screw", "screw journal"),
)
"""Which hole takes which shaft."""


def attachment(s: Sizes) -> Attachment:
    """The whole attachment for the given sizes."""
    body = Frame((s.thrust_x_mm, 0.0, 0.0))
    head = Frame()
    feed_top_y = s.block_tip_y_mm + s.feed_collar_thickness_mm + s.feed_thread_length_mm
    tail_y = -s.block_length_mm / 2
    pin_x = s.thrust_x_mm - handle_station_mm(s)
    handle_y = s.pin_diameter_mm / 2 + 2.0
    knob_base_y = -handle_y + s.handle_length_mm - 1.25 * thread(s.handle_thread).major_mm
    return Attachment(
        sizes=s,
        placed=(
            Placed(housing(s), body, Carrier.POST),
            Placed(rotating_body(s), body, Carrier.BODY),
            Placed(sliding_head(s), head, Carrier.HEAD),
            Placed(
                dial(s),
                Frame((s.rod_x_mm, tail_y, s.feed_offset_mm), x="-y", z="+z"),
                Carrier.BODY,
            ),
            Placed(
                feed_screw(s),
                Frame((s.rod_x_mm, feed_top_y, s.feed_offset_mm), x="-y", z="+z"),
                Carrier.BODY,
            ),
            Placed(handle(s), Frame((pin_x, -handle_y, 0.0), x="+y", z="+z"), Carrier.BODY),
            Placed(knob(s), Frame((pin_x, knob_base_y, 0.0), x="+y", z="+z"), Carrier.BODY),
            Placed(
                tool_bit(s),
                Frame((-s.bit_stock.width_mm / 2, 0.0, 0.0), x="+y", z="+x"),
                Carrier.HEAD,
            ),
            *_bought(s),
        ),
        fits=FITS,
    )


def _order(kind: str, size: str, use: str, quantity: int = 1, at_least_mm: float = 0.0) -> Bought:
    """A bought item; a screw is the shortest stocked one of at least the given length."""
    length_mm = 0.0
    if at_least_mm:
        length_mm = screw_length_mm(at_least_mm, thread(size).system == "unified")
    return Bought(kind, size, fastener_standard(kind, size), use, quantity, length_mm)


def _bought(s: Sizes) -> tuple[Placed, ...]:
    nut, ring = thin_nut(s.pivot_thread), washer(s.pivot_thread)
    tail_nut, tail_ring = thin_nut(s.feed_tail_thread), washer(s.feed_tail_thread)
    half = s.block_length_mm / 2
    rear_x = s.thrust_x_mm - s.housing_length_mm
    dial_y = -half - s.dial_length_mm
    clamp_ring = washer(s.clamp_screw)
    clamp_x = s.block_front_x_mm - s.clamp_screw_from_front_mm
    tool_depth = s.arm_half_width_mm - s.bit_stock.width_mm / 2
    dial_depth = (s.dial_diameter_mm - s.feed_journal_diameter_mm) / 2
    dial_mid_y = -half - (s.dial_rim_mm + s.dial_length_mm) / 2

    pivot_nut = _order("thin nut", s.pivot_thread, "pivot, two locked together", 2)
    pivot_ring = _order("washer", s.pivot_thread, "behind the housing")
    feed_nut = _order("thin nut", s.feed_tail_thread, "feed screw tail, two locked together", 2)
    feed_ring = _order("washer", s.feed_tail_thread, "behind the dial")
    clamp = _order("socket screw", s.clamp_screw, "clamps the rod", 1, clamp_screw_mm(s))
    clamp_washer = _order("washer", s.clamp_screw, "under the clamp screw")
    tool = _order("set screw", s.tool_screw, "holds the bit", 1, tool_depth)
    zero = _order("set screw", s.dial_set_screw, "holds the dial", 1, 0.6 * dial_depth)

    def along_pivot(item: Bought, x: float) -> Placed:
        return Placed(item, Frame((x, 0.0, 0.0), x="-x", z="+z"), Carrier.BODY)

    def along_feed(item: Bought, y: float) -> Placed:
        return Placed(item, Frame((s.rod_x_mm, y, s.feed_offset_mm), x="-y", z="+z"), Carrier.BODY)

    nut_x = rear_x - ring.thickness_mm
    nut_y = dial_y - tail_ring.thickness_mm
    return (
        along_pivot(pivot_ring, rear_x),
        along_pivot(pivot_nut, nut_x),
        along_pivot(pivot_nut, nut_x - nut.height_mm),
        along_feed(feed_ring, dial_y),
        along_feed(feed_nut, nut_y),
        along_feed(feed_nut, nut_y - tail_nut.height_mm),
        Placed(
            clamp_washer,
            Frame((clamp_x, 0.0, s.leaf_z_mm), x="-z", z="+x"),
            Carrier.BODY,
        ),
        Placed(
            clamp,
            Frame((clamp_x, 0.0, s.leaf_z_mm - clamp_ring.thickness_mm), x="+z", z="+x"),
            Carrier.BODY,
        ),
        Placed(
            tool,
            Frame(
                (
                    -s.bit_stock.width_mm / 2,
                    s.bit_stickout_mm + s.arm_stock.height_mm / 2,
                    s.bit_stock.width_mm / 2,
                ),
                x="+z",
                z="+x",
            ),
            Carrier.HEAD,
        ),
        Placed(
            zero,
            Frame(
                (
                    s.rod_x_mm,
                    dial_mid_y,
                    s.feed_offset_mm + s.feed_journal_diameter_mm / 2,
                ),
                x="+z",
                z="+x",
            ),
            Carrier.BODY,
        ),
    )


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
