"""The rotating body: a shaft welded into a block that carries rod, clamp and feed screw.

Frame: origin on the pivot axis at the thrust face (the block's back), x towards the work, y out to
the tip, z away from the chuck when the tip stands on top. The shaft runs along -x.
"""

from __future__ import annotations

from math import pi

from parts.clamp import AGREEMENTS, clamp_flexure
from parts.features import (
    Bore,
    DrilledHole,
    FacedLength,
    FacedShoulder,
    Location,
    MilledFlat,
    ReamedHole,
    ScribedLine,
    Stage,
    TappedHole,
    Thread,
    TurnedDiameter,
    Weld,
)
from parts.frame import Axis, Box, Frame
from parts.handle import handle_station_mm
from parts.part import Agreement, Datum, Joined, Member, Part, Stock, Trueness
from parts.sizes import Sizes, larger
from parts.standard.fits import LOCATED, SLIDING
from parts.standard.threads import thread
from parts.trueness import LEAST_PLAY_MM, face_run_out_mm, foot_true_mm, polished_by, rod_square_mm

FEED_HOLE_PLAY_MM = 0.2
"""The feed screw finds its own line in this hole; its collar and the dial take the thrust."""

INDEX_THREAD = 3.0
"""Full thread of the index ring's screws, in their diameters: half of it is used (common practice)."""


RUN_OUT_PITCHES = 1.0
"""Between the journal's shoulder and its thread is a groove as wide as so many pitches: the threading
tool runs out in it (common practice: one pitch at the least)."""

THREAD_IN_BORE_PITCHES = 1.5
"""The journal ends so many pitches inside the bore, so that there is thread where the nut comes up to
the tube."""


VENT_MM = 3.0
"""The hole out of the spigot's bore: welded all round, the bore would shut air in (common practice: a
closed space is vented before it is welded, by a drilled hole of some 3 mm)."""


GROOVE_EDGE_MM = 0.5
"""Metal beside the groove of the shaft's weld, out to the block's nearest side: a groove that runs out
there has no wall to weld to (common practice)."""

LEAST_GROOVE_MM = 1.0
"""A smaller weld is none (common practice)."""


def shaft_weld_leg_mm(s: Sizes) -> float:
    """Leg of the shaft's weld, mm: the housing's, or what the block has round the spigot to its nearest
    finished side; not under LEAST_GROOVE_MM: where there is not even that, the sizes are refused.
    """
    sides = min(-s.leaf_z_mm, s.flat_offset_mm, s.block_length_mm / 2)
    room = sides - s.spigot_diameter_mm / 2 - GROOVE_EDGE_MM
    return min(s.weld_leg_mm, s.series.down(larger(room, LEAST_GROOVE_MM), 0.5))


OPEN_MM = 6.0
"""The shaft is down to its spigot so far behind the weld's groove, or its leg and OPEN_PAST_MM: a
thicker bar's shoulder beside the block would cover the groove (common practice: room for the torch)."""

OPEN_PAST_MM = 2.0
"""The electrode leans out of the groove past its outer edge, which lies a leg out."""


def weld_open_mm(s: Sizes) -> float:
    """From the block's raw back to the shoulder behind the spigot: the torch comes to the groove."""
    return s.series.up(larger(OPEN_MM, shaft_weld_leg_mm(s) + OPEN_PAST_MM), 0.5)


def pin_length_mm(s: Sizes) -> float:
    """The plain end of the shaft: back to the handle and one handle thread beyond."""
    reach = s.series.up(handle_station_mm(s) + thread(s.handle_thread).major_mm, 0.5)
    return reach - s.housing_length_mm - s.thread_run_mm


def rod_from_back_mm(s: Sizes) -> float:
    """From the thrust face, the block's back, to the rod's axis."""
    return s.block_thickness_mm - s.rod_from_front_mm


def feed_hole_mm(s: Sizes) -> float:
    """The hole that the feed screw's journal turns in: of the block, and of the index ring."""
    return s.feed_journal_diameter_mm + s.series.nominal(FEED_HOLE_PLAY_MM)


def _swing_line(s: Sizes) -> ScribedLine:
    """The line that meets the housing's: on the tip end's face, at its back edge."""
    half = s.block_length_mm / 2
    return ScribedLine(
        name="swing line",
        datum="C",
        stage=Stage.WELDED,
        box=Box(
            (-0.01, half - s.series.nominal(0.15), -0.1),
            (s.series.whole(4.0) - 0.01, half + 0.01, 0.1),
        ),
        note="meets the housing's lines with the tip on top and at the nose",
        check=("in line with the journal's axis", "square"),
    )


def rotating_body(s: Sizes) -> Part:
    """The rotating body for the given sizes."""
    rod_x, spigot_end = rod_from_back_mm(s), s.spigot_length_mm
    pitch = thread(s.pivot_thread).pitch_mm
    journal_end = s.housing_length_mm - s.series.up(THREAD_IN_BORE_PITCHES * pitch, 0.5)
    thread_end = s.housing_length_mm + s.thread_run_mm
    shaft_end = thread_end + pin_length_mm(s)
    half_length = s.block_length_mm / 2
    thickness, width = s.block_stock.height_mm, s.block_stock.width_mm
    pivot = Axis((0.0, 0.0, 0.0), "-x")
    shaft_length = spigot_end + shaft_end
    shaft = Member(
        "shaft",
        Stock(s.shaft_stock, shaft_length, s.shaft_material),
        Frame((spigot_end, 0.0, 0.0), x="-x", z="+z"),
        features=(
            FacedLength(name="shaft length", datum="S", length=s.series.general(shaft_length)),
            TurnedDiameter(
                name="spigot",
                datum="V",
                start_mm=0.0,
                end_mm=spigot_end + s.dressing_mm + weld_open_mm(s),
                diameter=s.series.shaft(s.spigot_diameter_mm, LOCATED),
                note=s.series.words(
                    "its end chamfered {1 mm} x 45 degrees: the vent stays open to the bore's bottom;"
                    " longer than the bore is deep, so that the weld's groove is open behind the block"
                ),
            ),
        ),
        datums={
            "S": Datum("blank", "x-low", "end inside the block"),
            "V": Datum("blank", "axis", "axis of the bar"),
        },
    )
    vent = s.series.nominal(VENT_MM)
    # right into the bore, and no deeper where that is made first
    vent_deep = s.series.up(vent - s.leaf_z_mm - s.spigot_diameter_mm / 2, 0.5)
    vent_from_back = s.series.nearest(spigot_end + s.dressing_mm - vent / 2)
    block = Member(
        "block",
        Stock(s.block_stock, s.block_length_mm, s.structure_material),
        Frame(
            (-s.dressing_mm + thickness / 2, -half_length, s.leaf_z_mm + width / 2),
            x="+y",
            z="+x",
        ),
        features=(
            FacedLength(name="block length", datum="T", length=s.series.general(s.block_length_mm)),
            Bore(
                name="spigot bore",
                datum="T",
                axis=Axis((half_length, -s.leaf_z_mm - width / 2, -thickness / 2), "+z"),
                depth_mm=spigot_end + s.dressing_mm,
                diameter=s.series.hole(s.spigot_diameter_mm, LOCATED),
                through=False,
                locations=(
                    Location("T", "+x", s.series.general(half_length)),
                    Location("L", "+y", s.series.general(-s.leaf_z_mm)),
                ),
                note=s.series.words(
                    f"then a {{{shaft_weld_leg_mm(s):g} mm}} x 45 degree weld preparation"
                    " round its mouth"
                ),
            ),
            DrilledHole(
                name="vent",
                datum="T",
                axis=Axis((half_length, -width / 2, vent_from_back - thickness / 2), "+y"),
                depth_mm=vent_deep,
                diameter=s.series.general(vent),
                opens_into="spigot bore",
                locations=(
                    Location("T", "+x", s.series.general(half_length)),
                    Location("K", "+z", s.series.general(vent_from_back)),
                ),
                note="into the bore at its bottom: else the weld all round shuts air in. Left open",
            ),
        ),
        datums={
            "T": Datum("blank", "x-low", "tail end"),
            "L": Datum("blank", "y-low", "the leaf side"),
            "K": Datum("blank", "z-low", "the back, where the shaft goes in"),
        },
    )
    features = (
        FacedShoulder(
            name="body thrust face",
            datum="C",
            stage=Stage.WELDED,
            axis=pivot,
            start_mm=0.0,
            end_mm=s.dressing_mm,
            diameter=s.series.shaft(s.pivot_diameter_mm, SLIDING),
            roughness_um=1.6,
            note="weld dressed flush; square to the journal, turned in the same setting",
        ),
        TurnedDiameter(
            name="journal",
            datum="C",
            stage=Stage.WELDED,
            axis=pivot,
            start_mm=0.0,
            end_mm=journal_end,
            diameter=s.series.shaft(s.pivot_diameter_mm, SLIDING),
            roughness_um=0.8,
            note=s.series.words(
                f"turned to the bore as it came out, {polished_by(s.shaft_material)},"
                f" {{{LEAST_PLAY_MM:g}}} to {{{s.pivot_play_mm:g} mm}} less; before its limits"
            ),
        ),
        TurnedDiameter(
            name="thread diameter",
            datum="C",
            stage=Stage.WELDED,
            axis=pivot,
            start_mm=journal_end,
            end_mm=thread_end,
            diameter=s.series.major(thread(s.pivot_thread), -0.05, -0.2),
        ),
        TurnedDiameter(
            name="handle pin",
            datum="C",
            stage=Stage.WELDED,
            axis=pivot,
            start_mm=thread_end,
            end_mm=shaft_end,
            diameter=s.series.general(s.pin_diameter_mm),
        ),
        Thread(
            name="pivot thread",
            datum="C",
            stage=Stage.WELDED,
            axis=pivot,
            start_mm=journal_end + s.series.up(RUN_OUT_PITCHES * pitch, 0.5),
            end_mm=thread_end,
            thread=s.pivot_thread,
            note="the nut's: it sets the end play",
        ),
        MilledFlat(
            name="foot flat",
            datum="C",
            stage=Stage.WELDED,
            box=Box(
                (-1.0, -half_length - 1.0, s.flat_offset_mm),
                (thickness + 1.0, half_length + 1.0, s.leaf_z_mm + width + 1.0),
            ),
            locations=(
                Location("C", "+z", s.series.within(s.flat_offset_mm, 0.05, -0.05), "z-low"),
            ),
            roughness_um=1.6,
            note="the head's foot bears here; square to the thrust face",
        ),
        TappedHole(
            name="handle hole",
            datum="C",
            stage=Stage.WELDED,
            axis=Axis((-handle_station_mm(s), s.pin_diameter_mm / 2, 0.0), "-y"),
            depth_mm=s.pin_diameter_mm,
            thread=s.handle_thread,
            locations=(Location("J", "-x", s.series.general(handle_station_mm(s))),),
            note="right through, on the tip side's line",
        ),
        ReamedHole(
            name="rod bore",
            datum="C",
            stage=Stage.IN_PLACE,
            axis=Axis((rod_x, half_length, 0.0), "-y"),
            depth_mm=s.block_length_mm,
            diameter=s.series.hole(s.rod_diameter_mm, SLIDING),
            made_with="housing",
            locations=(Location("J", "+x", s.series.general(rod_x)),),
            roughness_um=1.6,
            note=(
                "made from the spindle with the body in its own housing, its shank set square across"
                " the bed, so the rod crosses the pivot axis square; the foot flat parallel to the bed"
            ),
        ),
        DrilledHole(
            name="feed screw hole",
            datum="C",
            stage=Stage.WELDED,
            axis=Axis((rod_x, half_length, s.feed_offset_mm), "-y"),
            depth_mm=s.block_length_mm,
            diameter=s.series.general(feed_hole_mm(s)),
            locations=(
                Location("J", "+x", s.series.general(rod_x)),
                Location("C", "+z", s.series.general(s.feed_offset_mm)),
            ),
        ),
        *(
            TappedHole(
                name=f"{side} index hole",
                datum="C",
                stage=Stage.WELDED,
                axis=Axis((rod_x + out, -half_length, s.feed_offset_mm), "+y"),
                depth_mm=s.series.up(INDEX_THREAD * thread(s.index_screw).major_mm),
                thread=s.index_screw,
                through=False,
                made_with="index-ring",
                locations=(Location("J", "+x", s.series.general(rod_x + out)),),
                note="spotted through the ring, a rod of their size through both bores, its mark"
                " toward the leaf",
            )
            for side, out in (("near", -s.index_screws_mm), ("far", s.index_screws_mm))
        ),
        _swing_line(s),
        *clamp_flexure(s),
    )
    return Part(
        name="rotating-body",
        title="Rotating body",
        colour=(0.72, 0.45, 0.20),
        axes="from the pivot axis at the thrust face: x to the work, y to the tip, z to the flat",
        blank=Joined(
            members=(shaft, block),
            welds=(
                Weld(
                    name="shaft weld",
                    datum="C",
                    kind="bevel",
                    leg_mm=shaft_weld_leg_mm(s),
                    length_mm=pi * s.spigot_diameter_mm,
                    members=("shaft", "block"),
                    edge="x-low",
                    all_round=True,
                    note="all round in the preparation at the block's back; let it cool slowly",
                ),
            ),
        ),
        features=features,
        datums={
            "C": Datum("journal", "axis", "axis of the journal"),
            "J": Datum("body thrust face", "start", "the thrust face"),
            "D": Datum("rod bore", "axis", "axis of the rod bore"),
            "E": Datum("block", "z-low", "outer face of the clamp's leaf"),
        },
        agreements=(
            Agreement("coaxial", "shaft:axis", "journal:axis", "turned from the welded bar"),
            Agreement("coaxial", "block/spigot bore:axis", "shaft:axis", "the shaft fits in it"),
            Agreement("touching", "shaft:x-high", "block/spigot bore:bottom", "pushed home in it"),
            Agreement("symmetric", "block:y-middle", "journal:axis", "the block swings evenly"),
            Agreement("symmetric", "handle hole:axis", "journal:axis", "through the pin's middle"),
            Agreement("symmetric", "rod bore:axis", "journal:axis", "the rod crosses the pivot"),
            Agreement(
                "symmetric", "near index hole:axis", "feed screw hole:axis", "beside the screw"
            ),
            Agreement(
                "symmetric", "far index hole:axis", "feed screw hole:axis", "beside the screw"
            ),
            Agreement("symmetric", "swing line:z-middle", "journal:axis", "over the journal"),
            *AGREEMENTS,
        ),
        trueness=(
            Trueness(
                "run-out",
                "body thrust face:start",
                face_run_out_mm(s, s.tube_stock.width_mm),
                ("C",),
                "the pivot leans no more than its play lets it",
            ),
            Trueness(
                "perpendicularity",
                "rod bore:axis",
                rod_square_mm(s),
                ("C",),
                "out of square the rod leaves a pip",
            ),
            Trueness(
                "perpendicularity",
                "foot flat:z-low",
                foot_true_mm(s),
                ("J",),
                "half of the foot's running clearance",
            ),
        ),
    )
