"""The index ring: the line that the dial is read against, on a rim of the dial's own diameter.

It is screwed to the block's tail face between block and dial and does not turn with the dial, so that
line and divisions meet on one rim and are read without parallax. The dial bears on it: it hands the
feed's thrust on to the block.

Frame: its own axis is x, from the block's face to the dial. z lies as the block's: away from the chuck
with the tip on top; the operator is on -y, the clamp's leaf on -z.
"""

from __future__ import annotations

from parts.body import feed_hole_mm
from parts.bought import order
from parts.features import (
    Counterbore,
    DrilledHole,
    FacedLength,
    IndexMark,
    Location,
    TurnedDiameter,
)
from parts.frame import Axis, Frame
from parts.part import Agreement, Datum, Part, Stock
from parts.placed import Carrier, Placed, Seat
from parts.screw import line_width_mm
from parts.sizes import Sizes
from parts.standard.fasteners import clearance_hole_mm, socket_screw
from parts.standard.threads import thread

HEAD_PLAY_MM = 0.5
"""The counterbores over the screws' heads (common practice: half a millimetre to one)."""

SUNK_MM = 0.2
"""How far the screws' heads lie under the face that the dial turns on."""

ENGAGED = 1.5
"""Thread of each screw in the block, in its diameters: it only keeps the ring from turning."""

LINE_DEG = 135.0
"""Where the line stands, from z about the ring's axis by the right-hand rule: between the operator's
side (-y, 90) and the leaf's (-z, 180). With the tip at the nose that is in front and above."""


FROM_MARK = "45 degrees clockwise from the index mark, seen from the dial's side"
"""Where the near hole stands: LINE_DEG less the 90 of the operator's side, seen against the axis."""


def sunk_mm(s: Sizes) -> float:
    """Depth of the counterbores: the screw's head, and SUNK_MM."""
    return s.series.up(socket_screw(s.index_screw).head_height_mm + SUNK_MM)


def index_ring(s: Sizes) -> Part:
    """The index ring for the given sizes."""
    length, across = s.index_ring_mm, s.index_screws_mm
    holes = {"near": -across, "far": across}  # to the operator
    return Part(
        name="index-ring",
        title="Index ring",
        colour=(0.85, 0.83, 0.75),
        axes="from the block's face on the ring's axis: x to the dial, y away from the operator, z away"
        " from the chuck",
        blank=Stock(s.dial_stock, length, s.dial_material),
        features=(
            FacedLength(name="ring length", datum="B", length=s.series.within(length, 0.05, -0.05)),
            TurnedDiameter(
                name="ring rim",
                datum="A",
                start_mm=0.0,
                end_mm=length,
                diameter=s.series.general(s.dial_diameter_mm),
                roughness_um=0.8,
                note="of the dial's own diameter, from the same bar; both faces square: they take the"
                " feed's thrust",
            ),
            DrilledHole(
                name="ring bore",
                datum="A",
                axis=Axis((0.0, 0.0, 0.0), "+x"),
                depth_mm=length,
                diameter=s.series.general(feed_hole_mm(s)),
            ),
            IndexMark(
                name="index mark",
                datum="A",
                start_mm=0.0,
                end_mm=length,
                diameter=s.series.general(s.dial_diameter_mm),
                angle_deg=LINE_DEG,
                line_width_mm=line_width_mm(s),
                note="on the block it goes to the operator's side, toward the leaf: in front and above"
                " with the tip at the nose",
                check=("square to the edge", "square"),
            ),
            *(
                DrilledHole(
                    name=f"{side} ring hole",
                    datum="A",
                    axis=Axis((0.0, y, 0.0), "+x"),
                    depth_mm=length,
                    diameter=s.series.general(clearance_hole_mm(s.index_screw)),
                    note=FROM_MARK if side == "near" else "straight across from the near one",
                    locations=(Location("A", "-y" if y < 0 else "+y", s.series.general(abs(y))),),
                )
                for side, y in holes.items()
            ),
            *(
                Counterbore(
                    name=f"{side} ring counterbore",
                    datum="A",
                    axis=Axis((length, y, 0.0), "-x"),
                    depth_mm=sunk_mm(s),
                    diameter=s.series.general(s.series.up(s.index_head_across_mm + HEAD_PLAY_MM)),
                    through=False,
                    locations=(Location("A", "-y" if y < 0 else "+y", s.series.general(abs(y))),),
                    note="in line with its hole: the head lies under the face",
                )
                for side, y in holes.items()
            ),
        ),
        datums={
            "A": Datum("ring rim", "axis", "axis of the rim"),
            "B": Datum("blank", "x-low", "the block's side"),
        },
        agreements=(
            Agreement("coaxial", "ring bore:axis", "ring rim:axis", "in one chucking"),
            *(
                Agreement("symmetric", f"{side} ring hole:axis", "ring rim:axis", "across it")
                for side in holes
            ),
            *(
                Agreement(
                    "coaxial",
                    f"{side} ring counterbore:axis",
                    f"{side} ring hole:axis",
                    "one screw goes through both",
                )
                for side in holes
            ),
        ),
    )


def ring_screws(s: Sizes) -> tuple[Placed, ...]:
    """The screws that hold the ring to the block, each in its place."""
    under = s.index_ring_mm - sunk_mm(s)
    at_least = under + ENGAGED * thread(s.index_screw).major_mm
    screw = order("socket screw", s.index_screw, "holds the index ring", 2, at_least)
    y = -s.block_tip_y_mm - under
    return tuple(
        Placed(
            *(screw, Frame((s.rod_x_mm + x, y, s.feed_offset_mm), x="+y", z="+z"), Carrier.BODY),
            seat=Seat("index-ring", "-y"),
        )
        for x in (-s.index_screws_mm, s.index_screws_mm)
    )
