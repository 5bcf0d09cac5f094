"""The feed nut: the arm's root tapped for the feed screw, no farther than a nut is long.

A thick arm is drilled clear of a thin screw from the side that its rod stands out of, and the rest is
tapped: so many turns never bind, and a hand tap reaches. Imported by parts.head.
"""

from __future__ import annotations

from parts.features import DrilledHole, Location, TappedHole
from parts.features import Stage as At
from parts.frame import Axis
from parts.part import Agreement
from parts.sizes import Sizes
from parts.standard.fasteners import clearance_hole_mm
from parts.standard.threads import thread

TAPPED = 2.0
"""A nut of a feed screw is so many of its diameters long (common practice: 1.5 to 2.5; more shares
the load no better, for the first turns carry most of it, and a pitch that is off binds)."""

TAPPED_MOST = 4.0
"""Up to so many diameters the arm is tapped right through, as far as a hand tap's own thread goes (3 to
4 diameters: DIN 352); beyond, it is drilled clear."""


def feed_clear_mm(s: Sizes, seat_mm: float) -> float:
    """How deep the arm is drilled clear of the feed screw; 0: tapped right through.

    seat_mm: depth of the felt ring's seat at the other end, which takes thread away.
    """
    thick, major = s.arm_stock.height_mm, thread(s.feed_thread).major_mm
    if thick <= TAPPED_MOST * major:
        return 0.0
    return s.series.down(thick - seat_mm - TAPPED * major, 0.5)


def feed_nut(s: Sizes, seat_mm: float) -> tuple[DrilledHole | TappedHole, ...]:
    """The thread in the arm, and before it the hole clear of its screw where the arm is thick."""
    rod_x, inner, clear = s.rod_x_mm, s.bit_stickout_mm, feed_clear_mm(s, seat_mm)
    tapped = TappedHole(
        name="feed nut thread",
        datum="H",
        stage=At.WELDED,
        axis=Axis((rod_x, inner + clear, s.feed_offset_mm), "+y"),
        depth_mm=s.arm_stock.height_mm - clear,
        thread=s.feed_thread,
        locations=(Location("H", "+z", s.series.general(s.feed_offset_mm)),),
        made_with="rotating-body",
        note="spotted through the body's feed screw hole with the rod in its bore",
    )
    if not clear:
        return (tapped,)
    return (
        DrilledHole(
            name="feed nut clearance",
            datum="H",
            stage=At.WELDED,
            axis=Axis((rod_x, inner, s.feed_offset_mm), "+y"),
            depth_mm=clear,
            diameter=s.series.general(clearance_hole_mm(s.feed_thread)),
            through=False,
            note="the feed screw passes it: so long a thread would bind, and a tap does not reach",
        ),
        tapped,
    )


def feed_nut_agreements(s: Sizes, seat_mm: float) -> tuple[Agreement, ...]:
    """Where the nut and what is drilled before it lie."""
    beside = Agreement("symmetric", "feed nut thread:axis", "rod/rod:axis", "beside the rod")
    if not feed_clear_mm(s, seat_mm):
        return (beside,)
    return (
        beside,
        Agreement(
            "coaxial", "feed nut clearance:axis", "feed nut thread:axis", "one screw goes in"
        ),
    )
