"""What to move, which way and by how much, from what was measured on a turned ball.

A micrometer across the ball, its anvils at polar angles a and 180 - a on either side of the spindle,
reads D(a) = 2 (R0 + h sin a): exact for a tip in the plane of the axis (the swept circle stands h off
the spindle: its support at a is R0 + h sin a), to first order beside it; R0 is root(R^2 + e^2). So the
line of D on sin a gives R0 and the skew h, and a pip gives the offset e.

Signs: h above zero is a pivot that passes the spindle on the side where the tip meets the equator.
Across the bed, tip over the top, the tip stands at h + R there: the pivot is h too high, the ball thick
at its equator and flat at its nose. h below zero: too low, the ball long on its axis.
Lengths in millimetres, angles in degrees; u and "uncertainty" are standard uncertainties.
"""

from planner.measuring.correct.advice import correct
from planner.measuring.correct.faults import problems
from planner.measuring.correct.fit import chi2_limit, fit_pips, fit_readings, fit_sizes
from planner.measuring.correct.model import (
    ANVIL_OFF_DEG,
    OVER_INCH_MM,
    OVER_MM,
    SURE,
    UNSEEN,
    Advice,
    AnvilsOff,
    CannotFit,
    Correction,
    Earlier,
    Estimate,
    Fault,
    Fit,
    Measured,
    Pip,
    PipFit,
    Reading,
    Rig,
    Scatter,
    Series,
    Size,
    SizeFit,
    Squareness,
    Standing,
    Toleranced,
    What,
)
from planner.measuring.correct.odd import odd

__all__ = [
    "ANVIL_OFF_DEG",
    "SURE",
    "UNSEEN",
    "Advice",
    "AnvilsOff",
    "CannotFit",
    "Correction",
    "Earlier",
    "Estimate",
    "Fit",
    "Measured",
    "Pip",
    "PipFit",
    "Fault",
    "Reading",
    "OVER_INCH_MM",
    "OVER_MM",
    "Rig",
    "Scatter",
    "Series",
    "Size",
    "SizeFit",
    "Squareness",
    "Standing",
    "Toleranced",
    "What",
    "chi2_limit",
    "correct",
    "fit_pips",
    "fit_readings",
    "fit_sizes",
    "odd",
    "problems",
]
