"""The housing: a tube welded along a shank, bored at spindle height in place on the lathe.

Frame: origin on the bore's axis at the front (thrust) face, x towards the work, y up, z away from
the chuck. The tool post holds the shank; the tube runs beside the post and the shaft's tail is free.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

from parts.drag import drag_head_mm, drag_wall_mm
from parts.features import (
    Bore,
    DrilledHole,
    FacedLength,
    FacedShoulder,
    Feature,
    Location,
    MilledFlat,
    ScribedLine,
    Stage,
    TappedHole,
    Weld,
)
from parts.frame import Axis, Box, Frame
from parts.part import Agreement, Datum, Joined, Member, Part, Stock, Trueness
from parts.sizes import Sizes
from parts.standard.fits import SLIDING, Limits
from parts.stop import fixing_depth_mm, fixing_z_mm
from parts.trueness import face_run_out_mm

BORE_HEIGHT_MM = 0.02
"""Half the band the bore's height may lie in: what a bore made in place holds. It sets the form
error of the ball, which equals the height error to first order (common practice: what a boring
tool in a spindle and a shank clamped twice repeat to)."""

OIL_HOLE_MM = 4.0
"""For an oiler's ball or a few drops from a can."""

NUT_PLAY_MM = 0.5
"""Clearance of the pivot's nut, which turns beside the shank."""


def nut_reach_mm(s: Any) -> Any:
    """From the pivot axis to what must be free for the nut; s: sizes, or columns of them."""
    return s.nut_diameter_mm / 2 + s.series.nominal(NUT_PLAY_MM)


def nut_relief_mm(s: Sizes) -> float:
    """How deep the shank is relieved where the pivot's nut turns beside it; 0 when it clears."""
    least = nut_reach_mm(s) - s.shank_inner_z_mm
    if least <= 0.0:
        return 0.0
    left = s.shank_stock.width_mm - least
    return float(least + (left - s.series.thousandths(left)))


def _nut_relief(s: Sizes) -> tuple[MilledFlat, ...]:
    depth = nut_relief_mm(s)
    if depth == 0.0:
        return ()
    side = s.shank_stock.width_mm
    before, past = s.series.nominal(1.0), s.series.nominal(3.0)
    start = s.housing_length_mm - s.setback_mm - before
    return (
        MilledFlat(
            name="nut relief",
            datum="R",
            box=Box(
                (start, -side / 2 - 1.0, -side / 2 - 1.0),
                (start + s.thread_run_mm + past, side / 2 + 1.0, -side / 2 + depth),
            ),
            locations=(
                Location("R", "-z", s.series.within(side - depth, 0.2, -0.2), "z-high"),
                Location("V", "+x", s.series.general(start), "x-low"),
            ),
            note="on the side toward the tube: the pivot's nut turns here",
        ),
    )


def _stop_holes(s: Sizes) -> tuple[TappedHole, ...]:
    """The tapped holes in the shank's end that the stop bar is screwed to."""
    if s.stop_stock is None:
        return ()
    side = s.shank_stock.width_mm
    up = s.spindle_over_seat_mm - s.stop_drop_mm - s.stop_mm / 2
    return tuple(
        TappedHole(
            name=f"stop bar hole {number}",
            datum="R",
            axis=Axis((s.shank_length_mm, side / 2 - up, z - middle), "-x"),
            depth_mm=fixing_depth_mm(s),
            thread=s.stop_thread,
            through=False,
            locations=(
                Location("W", "-y", s.series.general(up)),
                Location("R", "-z", s.series.general(side / 2 - (z - middle))),
            ),
            note="in the rear end; by their places, or spotted through the stop bar",
        )
        for middle in (s.shank_inner_z_mm + side / 2,)
        for number, z in enumerate(fixing_z_mm(s), 1)
    )


def drag_hole_mm(s: Sizes) -> float:
    """From the thrust face back to the drag screw: three quarters of the housing."""
    return s.series.nearest(0.75 * s.housing_length_mm)


def oil_hole_mm(s: Sizes) -> float:
    """From the thrust face back to the oil hole: the middle, or where the drag screw's head leaves it
    free."""
    beside = (drag_head_mm(s) + s.series.nominal(OIL_HOLE_MM)) / 2 + s.series.nominal(1.0)
    clear = drag_hole_mm(s) - beside
    return s.series.down(min(s.housing_length_mm / 2, max(s.housing_length_mm / 4, clear)))


def drag_frame(s: Sizes) -> Frame:
    """The drag screw's frame in the whole: from the journal up."""
    return Frame((s.thrust_x_mm - drag_hole_mm(s), s.pivot_diameter_mm / 2, 0.0), x="+y", z="+z")


def bore_height_mm(s: Sizes) -> float:
    """Half the band of the bore's height over the seat."""
    return s.series.tolerance(BORE_HEIGHT_MM)


def _bore_height(s: Sizes) -> Limits:
    return s.series.within(s.spindle_over_seat_mm, BORE_HEIGHT_MM, -BORE_HEIGHT_MM)


MARK_MM = 0.15
"""Depth of a line cut with a scriber or a pointed tool, and half its width (common practice)."""

LINE_MM, PAST_MM = 4.0, 0.01
"""How long a scribed line is, in inches to 1/16; how far past the edge it begins."""


def _marks(s: Sizes) -> tuple[Feature, ...]:
    """Lines on the tube's front edge that the body's own line meets: tip on top, tip at the nose."""
    radius, flat = s.tube_stock.width_mm / 2, s.tube_stock.width_mm / 2 - s.shank_flat_mm
    deep, half = s.series.nominal(MARK_MM), s.series.nominal(MARK_MM) / 2
    front = s.dressing_mm + PAST_MM
    whole = s.series.step_mm
    nose = (front + s.setback_mm - s.series.nominal(0.5)) // whole * whole
    return (
        ScribedLine(
            name="top line",
            datum="A",
            stage=Stage.WELDED,
            box=Box(
                (front - s.series.whole(LINE_MM), radius - deep, -half),
                (front, radius + 0.01, half),
            ),
            note="on top, over the axis: the body's line meets it with the tip on top",
            check=("in line with the tube", "square"),
        ),
        ScribedLine(
            name="nose line",
            datum="A",
            stage=Stage.WELDED,
            box=Box(
                (front - nose, -half, flat - deep),
                (front, half, flat + 0.01),
            ),
            note=(
                "on the shank's side, level with the axis: the body's line meets it with the tip at"
                " the nose"
            ),
            check=("in line with the tube", "square"),
        ),
    )


def _cheek(s: Sizes, run_mm: float) -> tuple[Member, ...]:
    """The plate between tube and shank, where the shank's top lies too far below the axis."""
    if s.cheek_stock is None:
        return ()
    width, thick = s.cheek_stock.width_mm, s.cheek_stock.thickness_mm
    centre = (-s.setback_mm, width / 2 - s.spindle_over_seat_mm, s.shank_inner_z_mm - thick / 2)
    return (
        Member(
            "cheek",
            Stock(s.cheek_stock, run_mm, s.structure_material),
            Frame(centre, x="-x", z="+z"),
            features=(
                FacedLength(name="cheek length", datum="U", length=s.series.general(run_mm)),
            ),
            datums={"U": Datum("blank", "x-low", "front end")},
        ),
    )


def _beds(s: Sizes) -> tuple[Agreement, ...]:
    """What beds on what before it is welded."""
    if s.cheek_stock is None:
        return (Agreement("touching", "tube/shank seat:z-low", "shank:z-low", "welded there"),)
    return (
        Agreement("touching", "tube/shank seat:z-low", "cheek:z-low", "welded there"),
        Agreement("touching", "cheek:z-high", "shank:z-low", "welded there"),
        Agreement("flush", "cheek:y-low", "shank:y-low", "the seat stays flat"),
        Agreement("flush", "cheek:x-high", "shank:x-high", "both stand back by the same"),
    )


def _welds(s: Sizes, run_mm: float) -> tuple[Weld, ...]:
    """Tube to shank above and below; by way of the cheek where there is one."""

    def weld(name: str, kind: str, one: str, other: str, edge: str, note: str = "") -> Weld:
        return Weld(
            name=name,
            datum="B",
            kind=kind,
            leg_mm=s.weld_leg_mm,
            length_mm=run_mm,
            members=(one, other),
            edge=edge,
            note=note,
        )

    care = "tack both ends, then short runs from side to side; keep the seat flat"
    if s.cheek_stock is None:
        flat = s.tube_stock.width_mm / 2 - s.shank_flat_mm
        half = sqrt((s.tube_stock.width_mm / 2) ** 2 - flat**2)
        top = s.shank_stock.width_mm - s.spindle_over_seat_mm
        # an edge on the tube's flat makes a corner; past the flat it is the round that leaves it
        above, below = (
            "fillet" if abs(edge) < half else "flare-bevel"
            for edge in (top, -s.spindle_over_seat_mm)
        )
        return (
            weld("upper weld", above, "tube", "shank", "y-high", care),
            weld("lower weld", below, "tube", "shank", "y-low"),
        )
    return (
        weld("upper shank weld", "fillet", "cheek", "shank", "y-high", care),
        weld("lower shank weld", "bevel", "cheek", "shank", "y-low", "flush: the seat stays flat"),
        weld("upper tube weld", "flare-bevel", "tube", "cheek", "y-high"),
        weld("lower tube weld", "flare-bevel", "tube", "cheek", "y-low"),
    )


def housing(s: Sizes) -> Part:
    """The housing for the given sizes."""
    outside = s.tube_stock.width_mm
    length = s.housing_length_mm
    side = s.shank_stock.width_mm
    flat_z = outside / 2 - s.shank_flat_mm
    tube = Member(
        "tube",
        Stock(s.tube_stock, length + s.dressing_mm, s.structure_material),
        Frame((s.dressing_mm, 0.0, 0.0), x="-x", z="+z"),
        features=(
            FacedLength(
                name="tube length", datum="P", length=s.series.general(length + s.dressing_mm)
            ),
            MilledFlat(
                name="shank seat",
                datum="Q",
                box=Box(
                    (-1.0, -outside / 2, flat_z), (length + 1.0, outside / 2, outside / 2 + 1.0)
                ),
                locations=(Location("Q", "+z", s.series.within(flat_z, 0.1, -0.1), "z-low"),),
                note=f"the {'cheek' if s.cheek_stock else 'shank'} beds here; full length",
            ),
        ),
        datums={
            "P": Datum("blank", "x-low", "front end"),
            "Q": Datum("blank", "axis", "tube axis"),
        },
    )
    shank = Member(
        "shank",
        Stock(s.shank_stock, s.shank_length_mm, s.structure_material),
        Frame(
            (-s.setback_mm, side / 2 - s.spindle_over_seat_mm, s.shank_inner_z_mm + side / 2),
            x="-x",
            z="+z",
        ),
        features=(
            FacedLength(name="shank length", datum="V", length=s.series.general(s.shank_length_mm)),
            *_nut_relief(s),
            *_stop_holes(s),
        ),
        datums={
            "W": Datum("blank", "y-high", "the seat"),
            "V": Datum("blank", "x-low", "front end"),
            "R": Datum("blank", "z-high", "the side away from the tube"),
        },
    )
    run = length - s.setback_mm
    return Part(
        name="housing",
        title="Housing",
        colour=(0.36, 0.45, 0.55),
        axes="from the bore's axis at the front face: x to the work, y up, z away from the chuck",
        blank=Joined(
            members=(tube, *_cheek(s, run), shank),
            welds=_welds(s, run),
        ),
        features=(
            DrilledHole(
                name="oil hole",
                datum="A",
                stage=Stage.WELDED,
                axis=Axis((-oil_hole_mm(s), outside / 2, 0.0), "-y"),
                depth_mm=outside / 2,
                diameter=s.series.general(s.series.nominal(OIL_HOLE_MM)),
                opens_into="pivot bore",
                locations=(Location("N", "-x", s.series.general(oil_hole_mm(s) + s.dressing_mm)),),
                note="a drop of oil before each session; an oiler or a plug keeps chips out",
            ),
            TappedHole(
                name="drag hole",
                datum="A",
                stage=Stage.WELDED,
                axis=Axis((-drag_hole_mm(s), outside / 2, 0.0), "-y"),
                depth_mm=drag_wall_mm(s),
                thread=s.drag_thread,
                opens_into="pivot bore",
                locations=(Location("N", "-x", s.series.general(drag_hole_mm(s) + s.dressing_mm)),),
                note="for the drag screw; deburr the bore's side after boring",
            ),
            *_marks(s),
            Bore(
                name="pivot bore",
                datum="B",
                stage=Stage.IN_PLACE,
                axis=Axis((0.0, 0.0, 0.0), "-x"),
                depth_mm=length,
                diameter=s.series.hole(s.pivot_diameter_mm, SLIDING),
                locations=(Location("B", "+y", _bore_height(s)),),
                roughness_um=1.6,
                note=(
                    "bored from the spindle with the shank in the tool post turned a quarter turn,"
                    " so that its height over the seat is the spindle's own"
                ),
            ),
            FacedShoulder(
                name="thrust face",
                datum="A",
                stage=Stage.IN_PLACE,
                axis=Axis((0.0, 0.0, 0.0), "+x"),
                start_mm=0.0,
                end_mm=s.dressing_mm,
                diameter=s.series.hole(s.pivot_diameter_mm, SLIDING),
                roughness_um=1.6,
                note="faced in the same setting as the bore",
            ),
        ),
        datums={
            "A": Datum("pivot bore", "axis", "axis of the pivot bore"),
            "B": Datum("shank", "y-low", "seat: underside of the shank"),
            "N": Datum("tube", "x-high", "the tube's front end, as welded"),
        },
        agreements=(
            Agreement("coaxial", "pivot bore:axis", "tube:axis", "an even wall"),
            Agreement("symmetric", "oil hole:axis", "tube:axis", "straight down on the journal"),
            Agreement("symmetric", "drag hole:axis", "tube:axis", "straight down on the journal"),
            Agreement("symmetric", "top line:z-middle", "tube:axis", "over the bore"),
            Agreement("symmetric", "nose line:y-middle", "tube:axis", "beside the bore"),
            *_beds(s),
        ),
        trueness=(
            Trueness(
                "parallelism",
                "pivot bore:axis",
                bore_height_mm(s),
                ("B",),
                "its height over the seat is the ball's form",
            ),
            Trueness(
                "run-out",
                "thrust face:start",
                face_run_out_mm(s, outside),
                ("A",),
                "the pivot leans no more than its play lets it",
            ),
        ),
        textures={"shank:y-low": 3.2},
        notes=(
            "After welding the seat must not rock on a surface plate: dress it before boring.",
            "With the same bar true the tube's rear end, a light cut: the pivot's nut bears on it.",
            "Mark the seat side: the housing always goes back the same way up.",
        ),
    )
