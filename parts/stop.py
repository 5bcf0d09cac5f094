"""The stop bar: across under the handle pin, screwed to the shank's end; a screw at each side that the
handle lies on at the nose and at the neck.

Frame: x along the bar from its chuck end, z to the work (against the shank's end), y down.
"""

from __future__ import annotations

from math import cos, radians, tan
from typing import Any

from parts.bought import order
from parts.features import DrilledHole, FacedLength, Location, TappedHole
from parts.frame import Axis, Frame
from parts.handle import handle_station_mm
from parts.part import Agreement, Bought, Datum, Part, Stock
from parts.placed import Carrier, Placed, Seat
from parts.sizes import NOSE_PAST_DEG, Sizes, larger
from parts.standard.fasteners import clearance_hole_mm, screw_length_mm, set_screw, thin_nut
from parts.standard.threads import thread
from parts.standard.toolbox import fastener_standard

USUAL_NECK_DEG = 159.5
"""The swing at which the tip meets the usual stem, 0.35 of the ball; the neck's stop is drawn there."""

HEADS_APART = 1.85
"""Distance of two socket screws over their diameter, at least: their heads, 1.5 to 1.83 diameters wide
(ISO 4762), stand clear of each other."""

MOST_BAR = 4.0
"""Side of the bar over its screws, at most: more is only longer holes (of this design)."""

SEAT_GAP_MM = 1.0
"""What the bar and its screws stay above the seat: the slide lies there."""


def _major_mm(s: Sizes) -> float:
    return thread(s.stop_thread).major_mm


def least_bar_mm(screw_mm: Any) -> Any:
    """Side of the bar at least: 6 mm, or two of its screws, so that each hole leaves half a screw."""
    return larger(6.0, 2 * screw_mm)


def stop_end_mm(s: Sizes) -> float:
    """From either stop screw to the bar's end: one and a half diameters."""
    return s.series.up(1.5 * _major_mm(s), 0.5)


def stop_length_mm(s: Sizes) -> float:
    """Length of the bar."""
    return s.stop_z_mm + s.stop_neck_z_mm + 2 * stop_end_mm(s)


def fixing_z_mm(s: Sizes) -> tuple[float, float]:
    """Where the two screws into the shank's end stand, from the pivot axis away from the chuck: about
    the quarters of its side, whole lengths from its outer face."""
    side, outer = s.shank_stock.width_mm, s.shank_outer_z_mm
    apart = s.series.up(side / 2, 0.5)
    near = s.series.nearest((side - apart) / 2, 0.5)
    return outer - near - apart, outer - near


def fixing_screw_mm(s: Sizes) -> float:
    """Length of those screws: through the bar and 1.3 diameters into the shank, as stocked."""
    size = thread(s.stop_thread)
    return screw_length_mm(s.stop_mm + 1.3 * size.major_mm, size.system == "unified")


def fixing_depth_mm(s: Sizes) -> float:
    """Full thread in the shank's end: two turns past the screw."""
    return s.series.up(fixing_screw_mm(s) - s.stop_mm + 2 * thread(s.stop_thread).pitch_mm, 0.5)


def _edge_mm(s: Any) -> Any:
    """From a stop screw's middle to its end's edge where the handle's underside crosses it."""
    off = handle_station_mm(s) - s.setback_mm - s.shank_length_mm - s.stop_mm / 2
    return larger((s.stop_major_mm / 2) ** 2 - off**2, 0.0) ** 0.5


def stop_tops_mm(s: Sizes) -> tuple[float, float]:
    """Heights of the screws' tops over the pivot axis: 3 degrees past the nose, and at the neck.

    The handle's underside meets the nearer edge of a screw's flat end: the outer at the nose, where it
    falls outward, and the inner at the neck, where it rises.
    """
    half, edge = s.handle_stock.width_mm / 2, _edge_mm(s)
    fall, rise = radians(NOSE_PAST_DEG), radians(180.0 - USUAL_NECK_DEG)
    return (
        -(s.stop_z_mm + edge) * tan(fall) - half / cos(fall),
        (s.stop_neck_z_mm - edge) * tan(rise) - half / cos(rise),
    )


def stop_screws_mm(s: Sizes) -> tuple[float, float]:
    """Lengths of the screws at nose and neck: the longest stocked that stay above the seat."""
    room = (s.spindle_over_seat_mm - SEAT_GAP_MM + top for top in stop_tops_mm(s))
    sold = set_screw(s.stop_thread).lengths_mm
    nose, neck = (
        max((one for one in sold if one <= most + 1e-6), default=sold[0]) for most in room
    )
    return nose, neck


def _handle_x_mm(s: Sizes) -> float:
    return s.shank_end_x_mm - s.stop_mm / 2


def stop_frame(s: Sizes) -> Frame:
    """The bar in its place behind the shank's end."""
    y = -s.stop_drop_mm - s.stop_mm / 2
    return Frame((_handle_x_mm(s), y, -s.stop_neck_z_mm - stop_end_mm(s)), x="+z", z="+x")


def stop_bar(s: Sizes) -> Part:
    """The stop bar for the given sizes; they have one."""
    assert s.stop_stock is not None  # asked for only where there is room for one
    half, end, length = s.stop_mm / 2, stop_end_mm(s), stop_length_mm(s)
    pivot = end + s.stop_neck_z_mm
    fixing = [
        DrilledHole(
            name=f"stop fixing hole {number}",
            datum="B",
            axis=Axis((pivot + z, 0.0, -half), "+z"),
            depth_mm=s.stop_mm,
            diameter=s.series.general(clearance_hole_mm(s.stop_thread)),
            locations=(Location("B", "+x", s.series.general(pivot + z)),),
        )
        for number, z in enumerate(fixing_z_mm(s), 1)
    ]
    upright = [
        TappedHole(
            name=f"{what} stop hole",
            datum="B",
            axis=Axis((at, -half, 0.0), "+y"),
            depth_mm=s.stop_mm,
            thread=s.stop_thread,
            locations=(Location("B", "+x", s.series.general(at)),),
        )
        for what, at in (("neck", end), ("nose", length - end))
    ]
    holes = (*fixing, *upright)
    return Part(
        name="stop-bar",
        title="Stop bar",
        colour=(0.45, 0.45, 0.55),
        blank=Stock(s.stop_stock, length, s.structure_material),
        features=(
            FacedLength(name="stop bar length", datum="B", length=s.series.general(length)),
            *holes,
        ),
        datums={"B": Datum("blank", "x-low", "the chuck end")},
        agreements=tuple(
            Agreement(
                "symmetric",
                f"{hole.name}:axis",
                "blank:z-middle" if hole.axis.along[1] == "y" else "blank:y-middle",
                "in the bar's middle",
            )
            for hole in holes
        ),
        notes=(
            "Off for boring the housing and for turning it over; its two screws bring it back.",
            "Both stop screws with the socket up, each locked by its nut on top of the bar.",
            "The nose's stop is set once, with the tip a little past the nose; the neck's for each"
            " ball, before the tip meets the stem. A thicker stem may want a longer screw there, a"
            " thinner one a shorter: no screw reaches down to the slide.",
        ),
    )


def stop_items(s: Sizes) -> tuple[Placed, ...]:
    """Screws and nuts of the stop bar, in place; none without one."""
    if s.stop_stock is None:
        return ()
    fixing = order("socket screw", s.stop_thread, "holds the stop bar", 2, fixing_screw_mm(s))
    nut = order("thin nut", s.stop_thread, "locks the stop screws", 2)
    rear = s.shank_end_x_mm - s.stop_mm
    y = -s.stop_drop_mm - s.stop_mm / 2
    placed = [
        Placed(
            *(fixing, Frame((rear, y, z), x="+x", z="+z"), Carrier.POST),
            seat=Seat("stop-bar", "-x"),
        )
        for z in fixing_z_mm(s)
    ]
    x, lock = _handle_x_mm(s), thin_nut(s.stop_thread).height_mm
    names = ("stops the swing at the nose", "stops the swing at the neck")
    for what, z, top, length in zip(
        names, (s.stop_z_mm, -s.stop_neck_z_mm), stop_tops_mm(s), stop_screws_mm(s), strict=True
    ):
        standard = fastener_standard("set screw", s.stop_thread)
        screw = Bought("set screw", s.stop_thread, standard, what, 1, length)
        for item, frame, on in (
            (screw, Frame((x, top - length, z), x="+y", z="+z"), nut.use),
            (nut, Frame((x, -s.stop_drop_mm + lock, z), x="-y", z="+z"), "stop-bar"),
        ):
            placed.append(Placed(item, frame, Carrier.POST, seat=Seat(on, "+y")))
    return tuple(placed)
