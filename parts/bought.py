"""What is bought: screws, nuts and washers, each ordered once and placed where it sits.

Imported by parts.attachment, and by a part's file that orders its own.
"""

from __future__ import annotations

from parts.clamp import clamp_screw_mm, clamp_screw_past_mm
from parts.frame import Frame
from parts.part import Bought
from parts.placed import Carrier, Placed, Seat, along_feed
from parts.screw import dial_clear_mm, dial_screw_mm
from parts.sizes import Sizes
from parts.standard.fasteners import screw_length_mm, thin_nut, washer
from parts.standard.threads import thread
from parts.standard.toolbox import fastener_standard


def order(kind: str, size: str, use: str, quantity: int = 1, at_least_mm: float = 0.0) -> Bought:
    """A bought item; a screw is the shortest stocked one of at least the given length.

    A stud is cut to the length from threaded rod.
    """
    length_mm = at_least_mm
    if at_least_mm and kind != "stud":
        length_mm = screw_length_mm(at_least_mm, thread(size).system == "unified")
    return Bought(kind, size, fastener_standard(kind, size), use, quantity, length_mm)


def bought_items(s: Sizes) -> tuple[Placed, ...]:
    """Every bought item in its place, once for each piece of it.

    Raises UnknownSize for a thread or a length that is not sold.
    """
    tail_nut, tail_ring = thin_nut(s.feed_tail_thread), washer(s.feed_tail_thread)
    dial_y = s.dial_y_mm - s.dial_length_mm
    clamp_x = s.block_front_x_mm - s.clamp_screw_from_front_mm
    tool_depth = s.arm_half_width_mm - s.bit_stock.width_mm / 2
    dial_thread = (s.dial_diameter_mm - s.feed_journal_diameter_mm) / 2 - dial_clear_mm(s)
    dial_mid_y = s.dial_y_mm - dial_screw_mm(s)

    feed_nut = order("thin nut", s.feed_tail_thread, "feed screw tail, two locked together", 2)
    feed_ring = order("washer", s.feed_tail_thread, "behind the dial")
    stud = clamp_screw_mm(s)
    clamp = order("stud", s.clamp_screw, "clamps the rod, set in the block", 1, stud)
    clamp_washer = order("washer", s.clamp_screw, "under the clamp lever")
    tool = order("set screw", s.tool_screw, "holds the bit", 1, tool_depth)
    zero = order("set screw", s.dial_set_screw, "holds the dial", 1, 0.6 * dial_thread)

    def on_feed(item: Bought, y: float, on: str) -> Placed:
        return Placed(item, along_feed(s, y), Carrier.BODY, seat=Seat(on, "-y"))

    nut_y = dial_y - tail_ring.thickness_mm
    return (
        on_feed(feed_ring, dial_y, "dial"),
        on_feed(feed_nut, nut_y, feed_ring.use),
        on_feed(feed_nut, nut_y - tail_nut.height_mm, feed_nut.use),
        Placed(
            clamp_washer,
            Frame((clamp_x, 0.0, s.leaf_z_mm), x="-z", z="+x"),
            Carrier.BODY,
            seat=Seat(clamp.use, "-z"),
        ),
        Placed(
            clamp,
            Frame((clamp_x, 0.0, clamp_screw_past_mm(s)), x="-z", z="+x"),
            Carrier.BODY,
            seat=Seat("rotating-body", "-z"),
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
            seat=Seat("sliding-head", "+z"),
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
            seat=Seat("dial", "+z"),
        ),
    )
