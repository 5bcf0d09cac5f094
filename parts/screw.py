"""The feed screw and its dial.

Frame of each: its own axis is x. The screw starts at its tip end, with the thread that works in the
arm's root; the collar bears on the body's tip-side face, the dial on the index ring on its tail-side
face. The dial's x runs from its graduated edge, on the ring, to its free end.
"""

from __future__ import annotations

from math import pi

from parts.features import (
    DrilledHole,
    EngravedScale,
    FacedLength,
    Knurl,
    Location,
    ReamedHole,
    TappedHole,
    Thread,
    TurnedDiameter,
)
from parts.frame import Axis
from parts.part import Agreement, Datum, Part, Stock, Trueness
from parts.sizes import Sizes
from parts.standard.fasteners import clearance_hole_mm, thin_nut, washer
from parts.standard.fits import SNUG
from parts.standard.threads import thread
from parts.trueness import dial_reading_mm

LINE_WIDTH_MM = 0.2
"""Width of a division line: read at arm's length, cut in one pass (common practice)."""

FINE_LINE_WIDTH_MM = 0.15
"""Width where the lines stand closer than five of those: they are read from 0.8 mm apart (common
practice)."""

KNURL_MM = 1.0
"""Pitch of a straight knurl for fingers: a medium one (common practice)."""

SHORT_MM = 0.5
"""The journal ends so far inside the dial, that the washer draws the dial up and not the journal; and
the tail's thread begins so far behind that (common practice)."""

LINE_SPACING_MM = 1.0
"""Least distance of division lines on the rim: five of their widths (common practice)."""

FINE_DIVISIONS = 100
"""A dial of more lines is a fine one."""

FINE_SPACING_MM = 0.9
"""Distance of a fine dial's lines: a little closer, or the dial is larger than the block it turns on
(common practice: not under 0.8)."""

END_FLOAT_MM = 0.05
"""End float of the screw before the tail nuts take it up."""


SCREW_WALL_MM = 1.0
"""Brass between the set screw's thread and the dial's free end, at least (common practice)."""


TAPPED = 3.0
"""The set screw's thread in the dial, in its diameters: a tap reaches no deeper (common practice)."""

TAPPED_MOST = 3.5
"""Up to so many diameters the dial is tapped right through; beyond, drilled clear from outside."""


def dial_clear_mm(s: Sizes) -> float:
    """How deep the dial is drilled clear of its set screw from the rim; 0: tapped right through."""
    wall = (s.dial_diameter_mm - s.feed_journal_diameter_mm) / 2
    major = thread(s.dial_set_screw).major_mm
    if wall <= TAPPED_MOST * major:
        return 0.0
    return s.series.up(wall - TAPPED * major, 0.5)


def dial_hole_mm(s: Sizes) -> float:
    """The widest of the hole that the dial's set screw goes in by."""
    if dial_clear_mm(s):
        return clearance_hole_mm(s.dial_set_screw)
    return thread(s.dial_set_screw).major_mm


def dial_screw_mm(s: Sizes) -> float:
    """From the graduated edge to the set screw: the knurl's middle, or a wall from the free end."""
    middle = (s.dial_rim_mm + s.dial_length_mm) / 2
    wall = SCREW_WALL_MM + dial_hole_mm(s) / 2
    return s.series.down(min(middle, s.dial_length_mm - wall))


def line_width_mm(s: Sizes) -> float:
    """Width of the lines of dial and index ring: narrower where they stand close."""
    usual = s.series.limit(LINE_WIDTH_MM)
    apart = pi * s.dial_diameter_mm / s.dial_divisions
    close = apart < usual * LINE_SPACING_MM / LINE_WIDTH_MM
    return s.series.limit(FINE_LINE_WIDTH_MM) if close else usual


def tail_run_mm(s: Sizes) -> float:
    """The threaded tail: washer, two thin nuts and two turns of thread."""
    return s.series.up(
        washer(s.feed_tail_thread).thickness_mm
        + 2 * thin_nut(s.feed_tail_thread).height_mm
        + 2 * thread(s.feed_tail_thread).pitch_mm
    )


def feed_screw(s: Sizes) -> Part:
    """The feed screw for the given sizes."""
    thread_end = s.feed_thread_length_mm
    collar_end = thread_end + s.feed_collar_thickness_mm
    short = s.series.nominal(SHORT_MM)
    journal_end = collar_end + s.block_length_mm + s.index_ring_mm + s.dial_length_mm - short
    end = journal_end + short + tail_run_mm(s)
    return Part(
        name="feed-screw",
        title="Feed screw",
        colour=(0.55, 0.55, 0.60),
        blank=Stock(s.feed_stock, end, s.screw_material),
        features=(
            FacedLength(name="screw length", datum="B", length=s.series.general(end)),
            TurnedDiameter(
                name="screw diameter",
                datum="A",
                start_mm=0.0,
                end_mm=thread_end,
                diameter=s.series.major(thread(s.feed_thread), -0.03, -0.15),
            ),
            TurnedDiameter(
                name="collar",
                datum="A",
                start_mm=thread_end,
                end_mm=collar_end,
                diameter=s.series.general(s.feed_collar_diameter_mm),
                note="both faces square: they take the thrust",
            ),
            TurnedDiameter(
                name="screw journal",
                datum="A",
                start_mm=collar_end,
                end_mm=journal_end,
                diameter=s.series.shaft(s.feed_journal_diameter_mm, SNUG),
                roughness_um=1.6,
            ),
            TurnedDiameter(
                name="tail diameter",
                datum="A",
                start_mm=journal_end,
                end_mm=end,
                diameter=s.series.major(thread(s.feed_tail_thread), -0.03, -0.15),
            ),
            Thread(
                name="feed thread",
                datum="A",
                start_mm=0.0,
                end_mm=s.series.down(thread_end - thread(s.feed_thread).pitch_mm, 0.5),
                thread=s.feed_thread,
                note="screw-cut: its pitch is what the dial reads",
            ),
            Thread(
                name="tail thread",
                datum="A",
                start_mm=journal_end + short,
                end_mm=end,
                thread=s.feed_tail_thread,
            ),
        ),
        datums={
            "A": Datum("blank", "axis", "axis"),
            "B": Datum("blank", "x-low", "the tip end"),
        },
        trueness=(
            Trueness(
                "run-out",
                "collar:end",
                dial_reading_mm(s),
                ("A",),
                "what it runs out, the dial reads wrong",
            ),
        ),
        notes=(
            s.series.words(
                f"End float with the tail nuts locked: at most {{{END_FLOAT_MM:g} mm}}."
            ),
        ),
    )


def dial(s: Sizes) -> Part:
    """The dial for the given sizes: rim and knurl in one chucking with the bore."""
    radius, clear, at = s.dial_diameter_mm / 2, dial_clear_mm(s), dial_screw_mm(s)
    wide: tuple[DrilledHole, ...] = ()
    if clear:
        wide = (
            DrilledHole(
                name="dial screw clearance",
                datum="A",
                axis=Axis((at, 0.0, radius), "-z"),
                depth_mm=clear,
                diameter=s.series.general(dial_hole_mm(s)),
                through=False,
                locations=(Location("B", "+x", s.series.general(at)),),
                note="the set screw and its key pass it: a tap does not reach from the rim",
            ),
        )
    return Part(
        name="dial",
        title="Dial",
        colour=(0.80, 0.78, 0.70),
        blank=Stock(s.dial_stock, s.dial_length_mm, s.dial_material),
        features=(
            FacedLength(name="dial length", datum="B", length=s.series.general(s.dial_length_mm)),
            TurnedDiameter(
                name="rim",
                datum="A",
                start_mm=0.0,
                end_mm=s.dial_length_mm,
                diameter=s.series.general(s.dial_diameter_mm),
                roughness_um=0.8,
                note="bore, rim and knurl in one chucking, before it is parted off",
            ),
            ReamedHole(
                name="dial bore",
                datum="A",
                axis=Axis((0.0, 0.0, 0.0), "+x"),
                depth_mm=s.dial_length_mm,
                diameter=s.series.hole(s.feed_journal_diameter_mm, SNUG),
                roughness_um=1.6,
            ),
            EngravedScale(
                name="scale",
                datum="A",
                start_mm=0.0,
                end_mm=s.dial_rim_mm / 2,
                diameter=s.series.general(s.dial_diameter_mm),
                divisions=s.dial_divisions,
                line_width_mm=line_width_mm(s),
                line_step_mm=s.series.line_step_mm,
                note="see the dial-engraving table",
            ),
            Knurl(
                name="knurl",
                datum="A",
                start_mm=s.dial_rim_mm,
                end_mm=s.dial_length_mm,
                diameter=s.series.general(s.dial_diameter_mm),
                pitch_mm=s.series.knurl(KNURL_MM),
            ),
            *wide,
            TappedHole(
                name="dial screw hole",
                datum="A",
                axis=Axis((at, 0.0, radius - clear), "-z"),
                depth_mm=radius - clear,
                thread=s.dial_set_screw,
                opens_into="dial bore",
                locations=(Location("B", "+x", s.series.general(at)),),
                note="into the bore; slack it to set the dial to zero",
            ),
        ),
        datums={
            "A": Datum("dial bore", "axis", "axis of the bore"),
            "B": Datum("blank", "x-low", "the graduated edge"),
        },
        agreements=(
            Agreement("coaxial", "dial bore:axis", "rim:axis", "in one chucking"),
            Agreement("symmetric", "dial screw hole:axis", "dial bore:axis", "points at the axis"),
            *(
                Agreement(
                    "coaxial", f"{one.name}:axis", "dial screw hole:axis", "one screw goes in"
                )
                for one in wide
            ),
        ),
        trueness=(
            Trueness(
                "run-out",
                "blank:x-low",
                dial_reading_mm(s),
                ("A",),
                "what it runs out, the dial reads wrong",
            ),
        ),
    )
