"""Will it hold and how much will it bend: forces of a pass, deflection by links, stresses, grip.

The load path, tip on top (the frame of parts.sizes; y up here):

    y ^        arm, along x            F main along -x (the work's surface comes to the front),
      |    rod ==========+ bit         P passive along +y, out of the work, S feed along z
      |     |            |
      |     |            o tip (0, R)  <- F, ^ P
      |  [block]
      +--[block]--|bearing|...         pivot axis, y = 0, z = 0
                  [ tube  ]
                  [ shank =========]   beside the tube at z = offset, depth below the axis: the post

P has a lever along x about everything behind the tip: the rod's axis, the thrust face, the post.
F has a lever along y: tip to arm, to the block's face, to the pivot, to the shank. F pushes the tip
toward the body and P out of the work, so both tip shaft and shank the same way and make the ball
larger; only in bit and arm, and in the rod beyond the tip, is F's moment against P's.

The spring of each link is worked out with what sits in a fit held fast by the load, the least it can
be; beside it stands what shaft and rod give more on two supports with their clearance, the most. Tube
and shank are bars on the strip that joins them, with a plate between them four on three. Held against
three-dimensional elements on the solids by tests/checking/test_spring.py. Imported by output.plan;
needs no solid.
"""

from planner.checking.strength.chain import bearing_tilt_mm, deflection_links, deflection_mm
from planner.checking.strength.findings import (
    LEAST_GRIP,
    MOST_DEFLECTION_MM,
    MOST_HAND_N,
    MOST_OF_PROOF,
    MOST_OVERHANG,
    overhangs,
    size_that_will_do,
    strength_findings,
)
from planner.checking.strength.load import cutting_load
from planner.checking.strength.model import Hold, Link, Load, Strength, StrengthReport
from planner.checking.strength.report import HOUSING, strength_report
from planner.checking.strength.stresses import (
    LEAST_SAFETY,
    SCREW_CLASS,
    BIT_STRENGTH_MPa,
    ELECTRODE_MPa,
    clamp_hold,
    strengths,
)
from planner.sizing.clamping import ABUSE_N, HAND_N, LEAST_PRELOAD, SCREW_FINISH

__all__ = [
    "ABUSE_N",
    "HAND_N",
    "BIT_STRENGTH_MPa",
    "ELECTRODE_MPa",
    "HOUSING",
    "Hold",
    "LEAST_GRIP",
    "LEAST_PRELOAD",
    "LEAST_SAFETY",
    "Link",
    "Load",
    "MOST_DEFLECTION_MM",
    "MOST_HAND_N",
    "MOST_OF_PROOF",
    "MOST_OVERHANG",
    "SCREW_CLASS",
    "SCREW_FINISH",
    "Strength",
    "StrengthReport",
    "bearing_tilt_mm",
    "clamp_hold",
    "cutting_load",
    "deflection_links",
    "deflection_mm",
    "overhangs",
    "size_that_will_do",
    "strength_findings",
    "strength_report",
    "strengths",
]
