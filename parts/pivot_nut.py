"""The pivot's nut: it sets the end play, and takes the thrust on the housing's rear end.

Round, so that it turns beside the tool post. Frame: its own axis is x, from the face that bears on the
housing to the rear.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

from parts.features import (
    DrilledHole,
    FacedLength,
    Feature,
    Location,
    TappedHole,
    TurnedDiameter,
)
from parts.frame import Axis, Frame
from parts.part import Agreement, Bought, Datum, Part, Ring, Stock, Trueness
from parts.placed import Carrier, Placed, Seat
from parts.sizes import Sizes
from parts.standard.fasteners import set_screw
from parts.standard.materials import galls
from parts.standard.threads import thread
from parts.standard.toolbox import fastener_standard
from parts.trueness import face_run_out_mm

PELLET_SHEET_MM = 0.7
"""Thickness of the brass sheet that the pellet is cut from (common practice)."""

PELLET_PLAY_MM = 0.19
"""The pellet is smaller than the tap drill of its hole, so that it drops through (common practice)."""

PELLET_MM = 0.25
"""What the brass pellet keeps over the crests of the shaft's thread once pressed into it (common
practice)."""

SPANNER_HOLE_DEPTH_MM = 1.8
"""Depth of the holes in the rim for a pin spanner, or a drill's shank (common practice)."""


def nut_material(shaft_material: str, screw_material: str) -> str:
    """The nut's: the shaft's, or the screws' where a nut of the shaft's would seize on its thread."""
    return screw_material if galls(shaft_material, shaft_material) else shaft_material


def spanner_hole_mm(s: Sizes) -> float:
    """Diameter of the holes in the rim: an eighth of the nut's, 3 to 6 mm, in whole ones; 1/8
    to 1/4 in, in 64ths."""
    least, greatest = s.series.nominal(3.0), s.series.nominal(6.0)
    return max(least, min(greatest, s.series.nearest(s.nut_diameter_mm / 8, 1.0)))


def spanner_deep_mm(s: Any) -> float:
    """Depth of the holes in the rim; s: sizes, or columns of them."""
    return float(s.series.nominal(SPANNER_HOLE_DEPTH_MM))


def pellet_mm(s: Any) -> float:
    """What the pellet keeps over the thread's crests; s: sizes, or columns of them."""
    return float(s.series.nominal(PELLET_MM))


def lock_depth_mm(s: Sizes) -> float:
    """From the rim down to the thread's hole, where the lock screw presses."""
    return (s.nut_diameter_mm - thread(s.pivot_thread).tap_drill_mm) / 2


def lock_screw_mm(s: Sizes) -> float:
    """Length of the lock screw: the longest sold that, on its pellet, does not stand out of the rim."""
    sold = set_screw(s.nut_screw).lengths_mm
    edge = thread(s.nut_screw).major_mm / 2
    rim = sqrt(max(0.0, s.nut_diameter_mm**2 / 4 - edge**2))  # at the screw's edges
    room = rim - thread(s.pivot_thread).major_mm / 2 - pellet_mm(s)
    return max((one for one in sold if one <= room + 1e-6), default=sold[0])


def pivot_nut(s: Sizes) -> Part:
    """The pivot's nut for the given sizes."""
    radius, middle = s.nut_diameter_mm / 2, s.nut_length_mm / 2
    spanner: list[Feature] = [
        DrilledHole(
            name=f"spanner hole {number}",
            datum="A",
            axis=axis,
            depth_mm=spanner_deep_mm(s),
            diameter=s.series.general(spanner_hole_mm(s)),
            through=False,
            locations=(Location("B", "+x", s.series.general(middle)),),
        )
        for number, axis in enumerate(
            (
                Axis((middle, 0.0, radius), "-z"),
                Axis((middle, radius, 0.0), "-y"),
                Axis((middle, 0.0, -radius), "+z"),
            ),
            1,
        )
    ]
    return Part(
        name="pivot-nut",
        title="Pivot nut",
        colour=(0.62, 0.62, 0.66),
        blank=Stock(s.nut_stock, s.nut_length_mm, nut_material(s.shaft_material, s.screw_material)),
        features=(
            FacedLength(name="nut length", datum="B", length=s.series.general(s.nut_length_mm)),
            TurnedDiameter(
                name="nut rim",
                datum="A",
                start_mm=0.0,
                end_mm=s.nut_length_mm,
                diameter=s.series.general(s.nut_diameter_mm),
            ),
            TappedHole(
                name="nut thread",
                datum="A",
                axis=Axis(),
                depth_mm=s.nut_length_mm,
                thread=s.pivot_thread,
                note="in the same setting as the face that bears: the two must be square",
            ),
            TappedHole(
                name="lock screw hole",
                datum="A",
                axis=Axis((middle, -radius, 0.0), "+y"),  # up, with the tip on top
                depth_mm=lock_depth_mm(s),
                thread=s.nut_screw,
                opens_into="nut thread",
                note="then run the large tap, or a screw of it, through: its burr would tear the"
                " shaft's thread",
                locations=(Location("B", "+x", s.series.general(middle)),),
            ),
            *spanner,
        ),
        datums={
            "A": Datum("nut thread", "axis", "axis of the thread"),
            "B": Datum("blank", "x-low", "the face that bears on the housing"),
        },
        agreements=(
            Agreement("symmetric", "lock screw hole:axis", "nut rim:axis", "straight at the axis"),
            *(
                Agreement("symmetric", f"{hole.name}:axis", "nut rim:axis", "straight at the axis")
                for hole in spanner
            ),
        ),
        trueness=(
            Trueness(
                "run-out",
                "blank:x-low",
                face_run_out_mm(s, s.nut_diameter_mm),
                ("A",),
                "it bears on the housing evenly",
            ),
        ),
        notes=(
            "Set so that the body swings freely without shake, then lock the screw on its pellet.",
            s.series.words(
                "The pellet is a disc of brass sheet, {0.7 mm} thick, that drops through the tapped"
                " hole: a new one whenever the screw has been out. The locked screw must not stand out"
                " of the rim: the tool post stands beside it."
            ),
            "Turned by a pin spanner, or a rod in a hole, from above or from the chuck side.",
        ),
    )


def nut_lock(s: Sizes) -> tuple[Placed, ...]:
    """The lock screw of the pivot's nut, and its pellet on the crests of the shaft's thread."""
    length = lock_screw_mm(s)
    screw = Bought(
        "set screw",
        s.nut_screw,
        fastener_standard("set screw", s.nut_screw),
        "locks the pivot's nut, on a brass pellet",
        1,
        length,
    )
    x = s.thrust_x_mm - s.housing_length_mm - s.nut_length_mm / 2
    crest_mm = thread(s.pivot_thread).major_mm / 2
    across = s.series.down(thread(s.nut_screw).tap_drill_mm - PELLET_PLAY_MM, 0.1)
    pellet = Bought(
        "brass disc",
        s.nut_screw,
        fastener_standard("brass disc", s.nut_screw, s.series.inch),
        "pellet under the pivot nut's lock screw",
        ring=Ring(across, 0.0, s.series.nominal(PELLET_SHEET_MM), pellet_mm(s)),
    )

    def standing(item: Bought, y: float, on: str) -> Placed:
        place = Frame((x, y, 0.0), x="+y", z="+x")
        return Placed(item, place, Carrier.BODY, seat=Seat(on, "+y"))

    return (
        standing(pellet, crest_mm, "pivot-nut"),
        standing(screw, crest_mm + pellet_mm(s), pellet.use),
    )
