"""The clamp flexure: the slit, the leaf on its hinge, and the stud whose lever closes it on the rod.

It is cut in the rotating body's block, so its features are made on that weldment; parts.body puts
them there. Frame: the body's own (origin on the pivot axis at the thrust face).
"""

from __future__ import annotations

from math import ceil

from parts.features import DrilledHole, Feature, Location, Slit, Stage, TappedHole
from parts.frame import Axis, Box
from parts.places import Agreement
from parts.sizes import HINGE_PLACE_MM, HINGE_SLIT_MM, Sizes
from parts.standard.fasteners import clearance_hole_mm, washer
from parts.standard.threads import thread

SLIDES = ("the rod still slides; deburr the bore", "the rod itself")
"""What is tried after each slit."""

HELD = "vice on the block's outside, not across the bore"
"""How the block is held for a slit, so that the vice does not close it on the saw."""

HINGE_DEPTH_MM = 0.1
"""How much shallower than its size the hinge slit may be; deeper it may not be at all."""

AGREEMENTS = (
    Agreement("symmetric", "clamp screw hole:axis", "block:y-middle", "grips the rod evenly"),
    Agreement("coaxial", "clamp screw thread:axis", "clamp screw hole:axis", "one screw"),
    Agreement(
        "symmetric", "clamp slit:z-middle", "rod bore:axis", "opens the bore on its diameter"
    ),
)
"""What of the clamp is in line by design."""


ENGAGED = 1.5
"""The stud's thread in the block, over its diameter (common practice in steel: 1 to 1.5)."""


def clamp_screw_mm(s: Sizes) -> float:
    """Length of the clamp's stud: through lever, washer and leaf, ENGAGED deep behind the slit.

    It is cut to length from threaded rod: to a whole millimetre, or a sixteenth of an inch.
    """
    step = s.series.step_mm
    least = _stud_out_mm(s) + s.slit_width_mm / 2 + ENGAGED * thread(s.clamp_screw).major_mm
    return ceil(round(least / step, 6)) * step


def _stud_out_mm(s: Sizes) -> float:
    """From the middle of the slit to the lever's outside, where the stud ends."""
    return -s.leaf_z_mm + washer(s.clamp_screw).thickness_mm + s.lever_height_mm


def clamp_screw_past_mm(s: Sizes) -> float:
    """How far the clamp's stud reaches past the middle of the slit."""
    return clamp_screw_mm(s) - _stud_out_mm(s)


def clamp_thread_depth_mm(s: Sizes) -> float:
    """Full thread for the stud, from the middle of the slit: two turns past its end, in half
    millimetres or 64ths: one that comes to the end of a blind thread wedges there (common practice)."""
    return s.series.up(clamp_screw_past_mm(s) + 2 * thread(s.clamp_screw).pitch_mm, 0.5)


def _hinge_slit(s: Sizes, rod_x: float) -> Slit:
    """The slit behind the rod: as deep as leaves the hinge, and never deeper."""
    half_length, half_slit = s.block_length_mm / 2, s.slit_width_mm / 2
    middle = rod_x - s.hinge_behind_mm
    place = s.series.within(s.hinge_behind_mm, HINGE_PLACE_MM, -HINGE_PLACE_MM)
    deep = s.series.within(s.hinge_z_mm - s.leaf_z_mm, 0.0, -HINGE_DEPTH_MM)
    return Slit(
        name="hinge slit",
        datum="C",
        stage=Stage.LAST,
        box=Box(
            (middle - half_slit, -half_length - 1.0, s.leaf_z_mm - 1.0),
            (middle + half_slit, half_length + 1.0, s.hinge_z_mm),
        ),
        width=s.series.within(s.slit_width_mm, HINGE_SLIT_MM, -HINGE_SLIT_MM),
        locations=(
            Location("D", "-x", place, "x-middle"),
            Location("E", "+z", deep, "z-high"),
        ),
        least_mm=s.hinge_least_mm,
        check=SLIDES,
        held=HELD,
        note=(
            "from the leaf side behind the rod. Measure the leaf under the bore first; its size is"
            + s.series.words(f" {{{s.leaf_thickness_mm:g} mm}}")
            + ": by as much as it is over that the slit is deeper, by as much as under it shallower."
            " Too deep is dangerous: the hinge tears; too shallow is only stiff. Fill the slit with"
            " grease"
        ),
    )


def clamp_flexure(s: Sizes) -> tuple[Feature, ...]:
    """The features of the clamp: a leaf on a thin hinge behind the rod, a screw in front of it."""
    screw_x = s.block_thickness_mm - s.clamp_screw_from_front_mm
    rod_x = s.block_thickness_mm - s.rod_from_front_mm
    half_length = s.block_length_mm / 2
    return (
        DrilledHole(
            name="clamp screw hole",
            datum="C",
            stage=Stage.WELDED,
            axis=Axis((screw_x, 0.0, s.leaf_z_mm), "+z"),
            depth_mm=-s.leaf_z_mm,
            diameter=s.series.general(clearance_hole_mm(s.clamp_screw)),
            through=False,
            locations=(Location("J", "+x", s.series.general(screw_x)),),
            note="clear through the leaf as far as the slit",
        ),
        TappedHole(
            name="clamp screw thread",
            datum="C",
            stage=Stage.WELDED,
            axis=Axis((screw_x, 0.0, 0.0), "+z"),
            depth_mm=clamp_thread_depth_mm(s),
            thread=s.clamp_screw,
            through=False,
            note=(
                "drilled and tapped in line with the clear hole, before slitting; the stud is set in it"
                " with thread-locking compound when the slits are sawn"
            ),
        ),
        _hinge_slit(s, rod_x),
        Slit(
            name="clamp slit",
            datum="C",
            stage=Stage.LAST,
            box=Box(
                (rod_x, -half_length - 1.0, -s.slit_width_mm / 2),
                (s.block_thickness_mm + 1.0, half_length + 1.0, s.slit_width_mm / 2),
            ),
            width=s.series.within(s.slit_width_mm, 0.3, -0.3),
            check=SLIDES,
            held=HELD,
            note=(
                "from the front face into the rod bore, full length. Fill it with grease and keep it"
                " filled: one chip in it, and the clamp does not close"
            ),
        ),
    )
