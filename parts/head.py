"""The sliding head: a rod that slides in the body, an arm that overhangs to the work, a foot.

Frame: origin at the cutting tip, x along the pivot axis towards the rear, y out along the rod's
direction, z away from the chuck when the tip stands on top. The foot bears on the body's flat and
keeps the rod from turning; the feed screw works in the arm's root.
"""

from __future__ import annotations

from math import pi
from typing import Any

from parts.features import (
    Counterbore,
    FacedLength,
    Location,
    MilledFlat,
    MilledSlot,
    ReamedHole,
    SawnNotch,
    Stage,
    TappedHole,
    TurnedDiameter,
    Weld,
)
from parts.feed_nut import feed_nut, feed_nut_agreements
from parts.frame import Axis, Box, Direction, Frame
from parts.part import Agreement, Bought, Datum, Joined, Member, Part, Ring, Stock, Trueness
from parts.placed import Carrier, Placed, Seat
from parts.sizes import Sizes
from parts.standard.fits import LOCATED, SLIDING
from parts.standard.threads import thread
from parts.standard.toolbox import fastener_standard, reamers_mm
from parts.trueness import FOOT_PLAY_MM, LEAST_PLAY_MM, foot_true_mm, polished_by

TOOL_PLAY_MM = 0.1
"""The tool's slot over the bit: it goes in by hand (common practice)."""

NOTCH_RADIUS_MM = 3.0
"""Inner corner of the arm's outline: what a file, a hole saw or a plasma cut leaves."""

PLUG_LEG_MM = 2.0
"""Leg of the rod's weld, in the chamfer of its hole."""

INCH_PLUG_LEG_MM = 25.4 * 3 / 32
"""The same in inches, a whole 32nd as weld gauges have them (common practice)."""

WIPER_MM = 2.5
"""Depth of the seats for felt rings at both ends of the feed nut: they keep chips off the thread."""

FELT_MM = 3.0
"""Thickness of the felt: pressed into its seat it stands tight (common practice)."""

INCH_FELT_MM = 25.4 / 8
"""The same of inch felt: 1/8 in."""

WIPER_OVER_MM, WIPER_STEP_MM = 5.0, 0.5
"""A felt ring is so much wider than its thread (common practice), a metric one to halves."""

SHOULDER_MM = 2.0
"""How far the rod's shoulder stands out round its spigot: it takes the thrust."""

LEDGE_MM = 1.0
"""A ledge is so much wider than a fillet's leg: else its edge melts away (common practice)."""


def foot_weld_leg_mm(s: Sizes) -> float:
    """Leg of the foot's weld, or the depth of its bevel."""
    return min(s.weld_leg_mm, s.foot_stock.height_mm / 2)


def foot_ledge_mm(s: Sizes) -> float:
    """How far the arm stands out beside the foot's outer side, where a fillet weld would lie."""
    outer_z = (
        s.flat_offset_mm + s.series.limit(FOOT_PLAY_MM) - s.dressing_mm + s.foot_stock.height_mm
    )
    return s.arm_stock.width_mm - s.arm_half_width_mm - s.series.thousandths(outer_z)


def _foot_weld(s: Sizes) -> Weld:
    """In a bevel on the foot where the arm leaves no ledge to lay a fillet on."""
    leg, kind, where = foot_weld_leg_mm(s), "fillet", "on the outside"
    if foot_ledge_mm(s) < leg + s.series.nominal(LEDGE_MM):
        kind, where = "bevel", "in the foot's bevel, flush: the arm has no ledge for a fillet there"
    return Weld(
        name="foot weld",
        datum="H",
        kind=kind,
        leg_mm=leg,
        length_mm=s.foot_stock.width_mm,
        members=("foot", "arm"),
        edge="z-high",
        note=f"{where}; keep spatter off the rod",
    )


def spigot_diameter_mm(s: Sizes) -> float:
    """The rod's end in the arm, stepped down to a stocked reamer: a shoulder takes the thrust."""
    most = s.rod_diameter_mm - 2 * s.series.whole(SHOULDER_MM)
    return max((one for one in reamers_mm(s.series.inch) if one < most + 1e-6), default=most)


def plug_leg_mm(s: Sizes) -> float:
    """Leg of the rod's weld."""
    return INCH_PLUG_LEG_MM if s.series.inch else PLUG_LEG_MM


def notch_radius_mm(s: Any) -> float:
    """Inner corner of the arm's outline; s: sizes, or columns of them."""
    return float(s.series.nominal(NOTCH_RADIUS_MM))


def wiper_deep_mm(s: Any) -> float:
    """Depth of the felt rings' seats; s: sizes, or columns of them."""
    return float(s.series.nominal(WIPER_MM))


def wiper_seat_mm(s: Any, thread_mm: Any) -> Any:
    """Diameter of the felt rings' seats round a feed thread; s: sizes, or columns of them."""
    return s.series.nearest(thread_mm + WIPER_OVER_MM, WIPER_STEP_MM)


def _chuck_side_notch(s: Sizes, arm_z: float) -> tuple[SawnNotch, ...]:
    """The arm is narrower than the rod's root on the chuck side, to reach behind the ball."""
    depth = s.arm_half_width_mm - s.arm_lead_mm
    if depth < 1.0:
        return ()
    thick, width = s.arm_stock.height_mm, s.arm_stock.width_mm
    return (
        SawnNotch(
            name="chuck-side notch",
            datum="E",
            box=Box(
                (0.0, -width / 2, -thick / 2),
                (s.arm_overhang_mm, -s.arm_lead_mm - arm_z, thick / 2),
            ),
            locations=(
                Location("E", "+x", s.series.general(s.arm_overhang_mm), "x-high"),
                Location("M", "+y", s.series.general(depth), "y-high"),
            ),
            corner_radius_mm=min(notch_radius_mm(s), s.series.nearest(0.8 * depth, 0.1)),
        ),
    )


def _wiper_seats(s: Sizes) -> tuple[Counterbore, ...]:
    """Seats for the felt rings that wipe the feed thread, in both faces of the arm."""
    rod_x, inner = s.rod_x_mm, s.bit_stickout_mm
    outer = inner + s.arm_stock.height_mm
    sides: tuple[tuple[str, float, Direction], ...] = (
        ("inner", inner, "+y"),
        ("outer", outer, "-y"),
    )
    return tuple(
        Counterbore(
            name=f"{which} wiper seat",
            datum="H",
            stage=Stage.WELDED,
            axis=Axis((rod_x, y, s.feed_offset_mm), along),
            depth_mm=wiper_deep_mm(s),
            diameter=s.series.general(wiper_seat_mm(s, thread(s.feed_thread).major_mm)),
            through=False,
            opens_into="feed nut thread",
            note="for a ring of felt, oiled; renewed when it no longer wipes",
        )
        for which, y, along in sides
    )


def wipers(s: Sizes) -> tuple[Placed, ...]:
    """The felt rings in their seats at both ends of the feed nut, pressed in level with the arm."""
    feed, inner = thread(s.feed_thread), s.bit_stickout_mm
    thick = INCH_FELT_MM if s.series.inch else FELT_MM
    ring = Bought(
        "felt ring",
        s.feed_thread,
        fastener_standard("felt ring", s.feed_thread),
        "wipes the feed thread, oiled",
        2,
        ring=Ring(
            wiper_seat_mm(s, feed.major_mm),
            s.series.punched(feed.major_mm),
            thick,
            wiper_deep_mm(s),
        ),
    )
    outer = inner + s.arm_stock.height_mm - wiper_deep_mm(s)
    return tuple(
        Placed(
            *(ring, Frame((s.rod_x_mm, y, s.feed_offset_mm), x="+y", z="+x"), Carrier.HEAD),
            seat=Seat(on, "+y"),
        )
        for y, on in ((inner, "feed-screw"), (outer, "sliding-head"))
    )


def sliding_head(s: Sizes) -> Part:
    """The sliding head for the given sizes."""
    thick, width = s.arm_stock.height_mm, s.arm_stock.width_mm
    half, inner_y, rod_x = s.arm_half_width_mm, s.bit_stickout_mm, s.rod_x_mm
    arm_z = width / 2 - half
    rod_member_length = thick + s.rod_length_mm
    bit = s.bit_stock.width_mm
    foot_inner_z = s.flat_offset_mm + s.series.limit(FOOT_PLAY_MM)
    slot = s.series.thousandths_up(bit + s.series.limit(TOOL_PLAY_MM))
    foot_thick = s.foot_stock.height_mm
    outer_z = foot_inner_z - s.dressing_mm + foot_thick
    dressed = s.dressing_mm + (outer_z - s.series.thousandths(outer_z))
    arm = Member(
        "arm",
        Stock(s.arm_stock, s.arm_length_mm, s.structure_material),
        Frame((0.0, inner_y + thick / 2, arm_z), x="-x", z="+y"),
        features=(
            FacedLength(name="arm length", datum="E", length=s.series.general(s.arm_length_mm)),
            SawnNotch(
                name="arm notch",
                datum="E",
                box=Box(
                    (0.0, half - arm_z, -thick / 2),
                    (s.arm_overhang_mm, width / 2, thick / 2),
                ),
                locations=(
                    Location("E", "+x", s.series.general(s.arm_overhang_mm), "x-high"),
                    Location("M", "+y", s.series.general(s.arm_width_mm), "y-low"),
                ),
                corner_radius_mm=notch_radius_mm(s),
                note="leaves the arm in front of its root",
            ),
            *_chuck_side_notch(s, arm_z),
            ReamedHole(
                name="rod hole",
                datum="E",
                axis=Axis((-rod_x, -arm_z, -thick / 2), "+z"),
                depth_mm=thick,
                diameter=s.series.hole(spigot_diameter_mm(s), LOCATED),
                locations=(
                    Location("E", "+x", s.series.general(-rod_x)),
                    Location("M", "+y", s.series.general(half)),
                ),
                note=s.series.words(
                    f"chamfer the outer mouth {{{PLUG_LEG_MM:g} mm|3/32 in}} for the rod's weld"
                ),
            ),
        ),
        datums={
            "E": Datum("blank", "x-low", "tip end of the arm"),
            "M": Datum("blank", "y-low", "the chuck side"),
        },
    )
    rod = Member(
        "rod",
        Stock(s.rod_stock, rod_member_length, s.shaft_material),
        Frame((rod_x, inner_y + thick, 0.0), x="-y", z="+z"),
        features=(
            FacedLength(name="rod length", datum="F", length=s.series.general(rod_member_length)),
            TurnedDiameter(
                name="rod spigot",
                datum="K",
                start_mm=0.0,
                end_mm=thick,
                diameter=s.series.shaft(spigot_diameter_mm(s), LOCATED),
            ),
            TurnedDiameter(
                name="rod",
                datum="K",
                start_mm=thick,
                end_mm=rod_member_length,
                diameter=s.series.shaft(s.rod_diameter_mm, SLIDING),
                roughness_um=0.8,
                note=s.series.words(
                    f"turned to the body's bore as it came out, {polished_by(s.shaft_material)},"
                    f" {{{LEAST_PLAY_MM:g}}} to {{{s.rod_play_mm:g} mm}} less; before its limits"
                ),
            ),
        ),
        datums={
            "F": Datum("blank", "x-low", "outer end of the spigot"),
            "K": Datum("blank", "axis", "axis of the bar"),
        },
    )
    foot = Member(
        "foot",
        Stock(s.foot_stock, s.foot_length_mm, s.structure_material),
        Frame(
            (rod_x, inner_y, foot_inner_z - dressed + foot_thick / 2),
            x="-y",
            z="+z",
        ),
        features=(
            FacedLength(name="foot length", datum="G", length=s.series.general(s.foot_length_mm)),
        ),
        datums={"G": Datum("blank", "x-low", "end against the arm")},
    )
    return Part(
        name="sliding-head",
        title="Sliding head",
        colour=(0.30, 0.55, 0.40),
        axes="from the cutting tip: x off the end of the arm, y out along the rod, z to the foot",
        blank=Joined(
            members=(arm, rod, foot),
            welds=(
                Weld(
                    name="rod weld",
                    datum="H",
                    kind="bevel",
                    leg_mm=plug_leg_mm(s),
                    length_mm=pi * spigot_diameter_mm(s),
                    members=("rod", "arm"),
                    edge="y-high",
                    all_round=True,
                    note="in the chamfer at the arm's outer face, opposite runs: the rod stays square",
                ),
                _foot_weld(s),
            ),
        ),
        features=(
            MilledFlat(
                name="foot bearing face",
                datum="H",
                stage=Stage.WELDED,
                box=Box(
                    (
                        rod_x - s.foot_stock.width_mm / 2 - 1.0,
                        inner_y - s.foot_length_mm - 1.0,
                        foot_inner_z - dressed - 1.0,
                    ),
                    (
                        rod_x + s.foot_stock.width_mm / 2 + 1.0,
                        inner_y,
                        foot_inner_z,
                    ),
                ),
                locations=(
                    Location("H", "+z", s.series.within(foot_inner_z, 0.02, 0.0), "z-high"),
                ),
                roughness_um=1.6,
                note="parallel to the rod; bears on the body's flat, running clear: milled over or"
                " under its size by as much as that came out; the cutter's round may stay at the arm",
            ),
            MilledSlot(
                name="tool slot",
                datum="H",
                stage=Stage.WELDED,
                box=Box(
                    (-bit, inner_y - 1.0, -slot / 2),
                    (1.0, inner_y + thick + 1.0, slot / 2),
                ),
                width=s.series.within(slot, 0.1, 0.0),
                locations=(Location("N", "-x", s.series.general(bit), "x-low"),),
                note="across the end of the arm, open to the work side; centred on the rod",
            ),
            TappedHole(
                name="tool screw hole",
                datum="H",
                stage=Stage.WELDED,
                axis=Axis((-bit / 2, inner_y + thick / 2, half), "-z"),
                depth_mm=half - slot / 2,
                thread=s.tool_screw,
                opens_into="tool slot",
                locations=(Location("N", "-x", s.series.general(bit / 2)),),
                note="into the slot",
            ),
            *feed_nut(s, wiper_deep_mm(s)),
            *_wiper_seats(s),
        ),
        datums={
            "H": Datum("rod/rod", "axis", "axis of the rod"),
            "N": Datum("arm", "x-high", "the arm's tip end"),
        },
        agreements=(
            Agreement("coaxial", "arm/rod hole:axis", "rod/rod:axis", "the rod fits in it"),
            Agreement("touching", "foot:y-high", "arm:y-low", "welded there"),
            Agreement("symmetric", "foot:x-middle", "rod/rod:axis", "bears in line with the rod"),
            Agreement(
                "symmetric", "tool slot:z-middle", "rod/rod:axis", "the tip on the rod's line"
            ),
            Agreement("symmetric", "tool screw hole:axis", "arm:y-middle", "in the arm's middle"),
            *feed_nut_agreements(s, wiper_deep_mm(s)),
            Agreement("coaxial", "inner wiper seat:axis", "feed nut thread:axis", "round it"),
            Agreement("coaxial", "outer wiper seat:axis", "feed nut thread:axis", "round it"),
        ),
        trueness=(
            Trueness(
                "parallelism",
                "foot bearing face:z-high",
                foot_true_mm(s),
                ("H",),
                "half of the foot's running clearance",
            ),
        ),
    )
