"""The attachment: its parts, the bought items, what fits in what, and where everything stands.

Frame of the whole: the ball's centre is the origin, x along the pivot axis towards the rear of the
lathe, y up, z along the spindle away from the chuck. A new part is one line in ``attachment``, a screw
that is bought for it another.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from parts.body import rotating_body
from parts.bought import bought_items
from parts.drag import drag_screw
from parts.errors import NotMakeable
from parts.fitting import AGREEMENTS, FITS, Fit, Overlap, loose_fits, screwed
from parts.frame import Frame
from parts.handle import handle, knob
from parts.head import sliding_head, wipers
from parts.housing import drag_frame, housing
from parts.index_ring import index_ring, ring_screws
from parts.lever import along_lever, clamp_lever, lever_turn
from parts.part import Agreement, Bought, Part
from parts.pivot_nut import nut_lock, pivot_nut
from parts.placed import (
    Carrier,
    Placed,
    Seat,
    Turn,
    along_feed,
    along_handle,
    along_pivot,
    bit_frame,
    feed_top_mm,
    handle_out_mm,
    in_pose,
    knob_base_mm,
)
from parts.screw import dial, feed_screw
from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from parts.stop import stop_bar, stop_frame, stop_items
from parts.tool import tool_bit
from parts.value import Value


class Attachment(Value, frozen=True):
    """All of it."""

    sizes: Sizes
    placed: tuple[Placed, ...]
    fits: tuple[Fit, ...]
    overlaps: tuple[Overlap, ...] = ()
    agreements: tuple[Agreement, ...] = ()

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


@lru_cache(maxsize=32)
def attachment(s: Sizes) -> Attachment:
    """The whole attachment for the given sizes.

    Raises NotMakeable with every complaint of every part when they make none.
    """
    making = _Making(s)
    body, head = Frame((s.thrust_x_mm, 0.0, 0.0)), Frame()
    making.part(housing, Carrier.POST, lambda: body, seat=Seat("rotating-body", "-x"))
    making.part(rotating_body, Carrier.BODY, lambda: body)
    making.part(
        sliding_head, Carrier.HEAD, lambda: head, seat=Seat("wipes the feed thread, oiled", "+y")
    )
    making.part(
        index_ring,
        Carrier.BODY,
        lambda: along_feed(s, -s.block_tip_y_mm),
        seat=Seat("rotating-body", "-y"),
    )
    making.part(
        dial,
        Carrier.BODY,
        lambda: along_feed(s, s.dial_y_mm),
        seat=Seat("holds the index ring", "-y"),
    )
    making.part(
        feed_screw,
        Carrier.BODY,
        lambda: along_feed(s, feed_top_mm(s)),
        seat=Seat("rotating-body", "+y"),
    )
    making.part(
        handle,
        Carrier.BODY,
        lambda: along_handle(s, -handle_out_mm(s)),
        # across the shaft's end: housing and nut are slipped over that, and would not pass it
        seat=Seat("rotating-body", "+y", past=("housing", "pivot-nut")),
    )
    making.part(
        knob, Carrier.BODY, lambda: along_handle(s, knob_base_mm(s)), seat=Seat("handle", "+y")
    )
    making.part(
        *(clamp_lever, Carrier.BODY, lambda: along_lever(s), lever_turn),
        # tightened with no rod in the bore, the clamp would be bent
        Seat("under the clamp lever", "-z", past=("sliding-head",)),
    )
    making.part(tool_bit, Carrier.HEAD, lambda: bit_frame(s), seat=Seat("sliding-head", "-y"))
    making.part(pivot_nut, Carrier.BODY, lambda: along_pivot(s), seat=Seat("housing", "-x"))
    making.part(drag_screw, Carrier.POST, lambda: drag_frame(s), seat=Seat("housing", "+y"))
    if s.stop_stock is not None:
        making.part(stop_bar, Carrier.POST, lambda: stop_frame(s), seat=Seat("housing", "-x"))
    making.bought(bought_items)
    making.bought(ring_screws)
    making.bought(nut_lock)
    making.bought(wipers)
    making.bought(stop_items)
    return making.whole()


class _Making:
    """Things placed one after another, and everything that is wrong with any of them."""

    def __init__(self, s: Sizes) -> None:
        self.sizes = s
        self.made: list[Placed] = []
        self.ordered: list[Placed] = []
        self.complaints: list[str] = []

    def part(
        self,
        make: Callable[[Sizes], Part],
        carrier: Carrier,
        where: Callable[[], Frame],
        turns: Callable[[Sizes], Turn] | None = None,
        seat: Seat | None = None,
    ) -> None:
        """A part in its place, or what is wrong with it; turns: how it turns there by hand."""
        try:
            turn = turns(self.sizes) if turns else None
            self.made.append(Placed(make(self.sizes), where(), carrier, turn, seat))
        except NotMakeable as problem:
            self.complaints += problem.complaints
        except UnknownSize as problem:
            self.complaints.append(f"{make.__name__.replace('_', '-')}: {problem}")

    def bought(self, order: Callable[[Sizes], tuple[Placed, ...]]) -> None:
        """What is bought, in its place, or what is not sold."""
        try:
            self.ordered += order(self.sizes)
        except UnknownSize as problem:
            self.complaints.append(f"{order.__name__.replace('_', ' ')}: {problem}")

    def whole(self) -> Attachment:
        """All of it, the parts before what is bought; raises NotMakeable with every complaint."""
        made = {p.item.name: p.item for p in self.made if isinstance(p.item, Part)}
        self.complaints += loose_fits(made)
        if self.complaints:
            raise NotMakeable(self.complaints)
        placed = (*self.made, *self.ordered)
        return Attachment(self.sizes, placed, FITS, screwed(placed), AGREEMENTS)


__all__ = [
    "Attachment",
    "Carrier",
    "Fit",
    "Overlap",
    "Placed",
    "Seat",
    "Turn",
    "attachment",
    "in_pose",
]
