"""What a sheet or a step says of a feature: its size with limits, in the trade's signs.

One rule a feature type. Imported by the route and the drawings.
"""

from __future__ import annotations

from functools import singledispatch

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.threads import thread
from planner.words.units import show_length, trimmed, unit_name


def show_limits(size: Limits, inch: bool) -> str:
    """A size with its fit letter and deviations, or +- a general tolerance in its own right."""
    nominal = show_length(size.nominal_mm, inch)
    upper, lower = _deviation(size.upper_mm, inch), _deviation(size.lower_mm, inch)
    if size.designation.startswith("ISO 2768"):
        return nominal
    if size.upper_mm == -size.lower_mm:
        return f"{nominal} ±{upper.lstrip('+')}"
    fit = f" {size.designation}" if size.designation else ""
    return f"{nominal}{fit} ({upper}/{lower})"


def _deviation(mm: float, inch: bool) -> str:
    text = trimmed(mm / 25.4, 4) if inch else trimmed(mm, 3)
    return text if mm <= 0 or text == "0" else f"+{text}"


@singledispatch
def callout(feature: f.Feature, inch: bool) -> str:
    """The call-out of a feature, lengths in the job's unit and without naming it."""
    raise TypeError(f"no call-out rule for {type(feature).__name__}")


@callout.register
def _(feature: f.FacedLength, inch: bool) -> str:
    return f"length {show_limits(feature.length, inch)}"


@callout.register
def _(feature: f.TurnedDiameter, inch: bool) -> str:
    length = show_length(feature.end_mm - feature.start_mm, inch)
    finish = f", Ra {feature.roughness_um:g}" if feature.roughness_um else ""
    return f"Ø{show_limits(feature.diameter, inch)} x {length}{finish}"


@callout.register
def _(feature: f.FacedShoulder, inch: bool) -> str:
    return f"faced, {show_length(feature.end_mm - feature.start_mm, inch, 2)} off"


@callout.register
def _(feature: f.Thread, inch: bool) -> str:
    return f"{feature.thread} x {show_length(feature.end_mm - feature.start_mm, inch)}"


@callout.register
def _(feature: f.Knurl, inch: bool) -> str:
    width = show_length(feature.end_mm - feature.start_mm, inch)
    return f"straight knurl {show_length(feature.pitch_mm, inch)} pitch x {width}"


@callout.register
def _(feature: f.EngravedScale, inch: bool) -> str:
    return f"{feature.divisions} divisions on Ø{show_limits(feature.diameter, inch)}"


@callout.register
def _(feature: f.TurnedBall, inch: bool) -> str:
    return f"SØ{show_limits(feature.diameter, inch)}"


def _depth(feature: f.Hole, inch: bool) -> str:
    return "through" if feature.through else f"{show_length(feature.depth_mm, inch)} deep"


@callout.register(f.DrilledHole)
@callout.register(f.ReamedHole)
@callout.register(f.Bore)
def _(feature: f.DrilledHole | f.ReamedHole | f.Bore, inch: bool) -> str:
    return f"Ø{show_limits(feature.diameter, inch)} {_depth(feature, inch)}"


@callout.register
def _(feature: f.Counterbore, inch: bool) -> str:
    return f"counterbore Ø{show_limits(feature.diameter, inch)} {_depth(feature, inch)}"


@callout.register
def _(feature: f.TappedHole, inch: bool) -> str:
    size = thread(feature.thread)
    return f"{feature.thread} {_depth(feature, inch)}, tap drill {size.tap_drill_name}"


@callout.register
def _(feature: f.MilledFlat, inch: bool) -> str:
    return f"flat, {show_limits(feature.across, inch)} from {feature.datum}"


@callout.register
def _(feature: f.MilledSlot, inch: bool) -> str:
    return f"slot {show_limits(feature.width, inch)} wide"


@callout.register
def _(feature: f.Slit, inch: bool) -> str:
    return f"slit {show_limits(feature.width, inch)} wide"


@callout.register
def _(feature: f.SawnNotch, inch: bool) -> str:
    size = feature.box.size()
    return f"notch {show_length(size[0], inch)} x {show_length(size[1], inch)}"


@callout.register
def _(feature: f.IndexMark, inch: bool) -> str:
    return f"line {show_length(max(feature.box.size()), inch)} long"


@callout.register
def _(feature: f.GroundPoint, inch: bool) -> str:
    return (
        f"point {feature.included_deg:g}° included, {feature.clearance_deg:g}° clearance,"
        f" nose R{show_length(feature.nose_radius_mm, inch)}"
    )


@callout.register
def _(feature: f.Weld, inch: bool) -> str:
    size = f"{show_length(feature.leg_mm, inch)} {unit_name(inch)}"
    return f"{feature.kind} weld {size}, run {show_length(round(feature.length_mm), inch)}"
