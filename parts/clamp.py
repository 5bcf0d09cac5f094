"""The clamp flexure: the slit, the leaf on its hinge, and the screw that closes it on the rod.

It is cut in the rotating body's block, so its features are made on that weldment; parts.body puts
them there. Frame: the body's own (origin on the pivot axis at the thrust face).
"""

from __future__ import annotations

from math import ceil

from parts.features import DrilledHole, Feature, Location, Slit, Stage, TappedHole, general, within
from parts.frame import Axis, Box
from parts.places import Agreement
from parts.sizes import Sizes
from parts.standard.fasteners import clearance_hole_mm, screw_length_mm, washer
from parts.standard.threads import thread

SLIDES = ("the rod still slides; deburr the bore", "the rod itself")
"""What is tried after each slit."""

HELD = "machine vice on the block's outside, not across the bore"
"""How the block is held for a slit, so that the vice does not close it on the saw."""

AGREEMENTS = (
    Agreement("symmetric", "clamp screw hole:axis", "block:y-middle", "grips the rod evenly"),
    Agreement("coaxial", "clamp screw thread:axis", "clamp screw hole:axis", "one screw"),
    Agreement(
        "symmetric", "clamp slit:z-middle", "rod bore:axis", "opens the bore on its diameter"
    ),
)
"""What of the clamp is in line by design."""


def clamp_screw_mm(s: Sizes) -> float:
    """Length of the clamp screw: the shortest stocked one a diameter deep behind the slit."""
    size, ring = thread(s.clamp_screw), washer(s.clamp_screw).thickness_mm
    least = -s.leaf_z_mm + s.slit_width_mm / 2 + ring + size.major_mm
    return screw_length_mm(least, size.system == "unified")


def clamp_screw_past_mm(s: Sizes) -> float:
    """How far the clamp screw reaches past the middle of the slit."""
    return clamp_screw_mm(s) - washer(s.clamp_screw).thickness_mm + s.leaf_z_mm


def clamp_thread_depth_mm(s: Sizes) -> float:
    """Full thread for the clamp screw, from the middle of the slit, in half millimetres.

    One and a half diameters in steel, and two turns past the screw's end: a screw that comes to the
    end of a blind thread holds there and not on the rod (common practice).
    """
    size = thread(s.clamp_screw)
    deep = max(1.5 * size.major_mm, clamp_screw_past_mm(s) + 2 * size.pitch_mm)
    return ceil(2 * deep - 1e-6) / 2


def clamp_flexure(s: Sizes) -> tuple[Feature, ...]:
    """The features of the clamp: a leaf on a thin hinge behind the rod, a screw in front of it."""
    screw_x = s.block_thickness_mm - s.clamp_screw_from_front_mm
    rod_x = s.block_thickness_mm - s.rod_from_front_mm
    half_length = s.block_length_mm / 2
    return (
        DrilledHole(
            name="clamp screw hole",
            datum="D",
            stage=Stage.WELDED,
            axis=Axis((screw_x, 0.0, s.leaf_z_mm), "+z"),
            depth_mm=-s.leaf_z_mm,
            diameter=general(clearance_hole_mm(s.clamp_screw)),
            through=False,
            locations=(Location("D", "+x", general(screw_x - rod_x)),),
            note="clear through the leaf as far as the slit",
        ),
        TappedHole(
            name="clamp screw thread",
            datum="D",
            stage=Stage.WELDED,
            axis=Axis((screw_x, 0.0, 0.0), "+z"),
            depth_mm=clamp_thread_depth_mm(s),
            thread=s.clamp_screw,
            through=False,
            note="drilled and tapped in line with the clear hole, before slitting",
        ),
        Slit(
            name="hinge slit",
            datum="C",
            stage=Stage.LAST,
            box=Box(
                (
                    rod_x - s.hinge_behind_mm - s.slit_width_mm / 2,
                    -half_length - 1.0,
                    s.leaf_z_mm - 1.0,
                ),
                (
                    rod_x - s.hinge_behind_mm + s.slit_width_mm / 2,
                    half_length + 1.0,
                    s.hinge_z_mm,
                ),
            ),
            width=within(s.slit_width_mm, 0.3, -0.3),
            locations=(
                Location("D", "-x", general(s.hinge_behind_mm), "x-middle"),
                Location("D", "-z", within(-s.hinge_z_mm, 0.1, -0.1), "z-high"),
            ),
            check=SLIDES,
            held=HELD,
            note="from the leaf side behind the rod, leaving a thin hinge to the bore",
        ),
        Slit(
            name="clamp slit",
            datum="C",
            stage=Stage.LAST,
            box=Box(
                (rod_x, -half_length - 1.0, -s.slit_width_mm / 2),
                (s.block_thickness_mm + 1.0, half_length + 1.0, s.slit_width_mm / 2),
            ),
            width=within(s.slit_width_mm, 0.3, -0.3),
            check=SLIDES,
            held=HELD,
            note="from the front face into the rod bore, full length",
        ),
    )
