"""What a sheet or a step says of a feature: its size with limits, in the trade's signs.

One rule a feature type. Imported by the route and the drawings.
"""

from __future__ import annotations

from functools import singledispatch

from parts import features as f
from parts.standard.drills import Drill
from parts.standard.threads import thread
from planner.words.numbers import Numbers


@singledispatch
def callout(feature: f.Feature, numbers: Numbers) -> str:
    """The call-out of a feature in a job's language of numbers; the sheet names the unit of lengths."""
    raise TypeError(f"no call-out rule for {type(feature).__name__}")


@callout.register
def _(feature: f.FacedLength, numbers: Numbers) -> str:
    return f"length {numbers.limits(feature.length)}"


@callout.register
def _(feature: f.TurnedDiameter, numbers: Numbers) -> str:
    length = numbers.turned_length(feature.end_mm - feature.start_mm)
    finish = f", {numbers.roughness(feature.roughness_um)}" if feature.roughness_um else ""
    return f"Ø{numbers.worked_limits(feature.diameter)} x {length}{finish}"


@callout.register
def _(feature: f.FacedShoulder, numbers: Numbers) -> str:
    return f"faced, {numbers.plain.faced(feature.end_mm - feature.start_mm)} off"


@callout.register
def _(feature: f.Thread, numbers: Numbers) -> str:
    length = numbers.general(feature.end_mm - feature.start_mm)
    return f"{numbers.thread_made(feature.thread, False)} x {length}"


@callout.register
def _(feature: f.Knurl, numbers: Numbers) -> str:
    width = numbers.general(feature.end_mm - feature.start_mm)
    return f"straight knurl {numbers.plain.knurl(feature.pitch_mm)} x {width}"


@callout.register
def _(feature: f.EngravedScale, numbers: Numbers) -> str:
    return f"{feature.divisions} divisions on Ø{numbers.limits(feature.diameter)}"


@callout.register
def _(feature: f.TurnedBall, numbers: Numbers) -> str:
    return f"SØ{numbers.limits(feature.diameter)}"


def _depth(feature: f.Hole, numbers: Numbers) -> str:
    if feature.through and feature.opens_into:
        return f"into the {feature.opens_into}"
    return "through" if feature.through else f"{numbers.general(feature.depth_mm)} deep"


def _wide_and_deep(
    feature: f.DrilledHole | f.ReamedHole | f.Bore | f.Counterbore, numbers: Numbers
) -> str:
    """A hole's diameter and depth; two fractions with a sign between: "Ø1/4 x 5/32 deep"."""
    wide, deep = numbers.limits(feature.diameter), _depth(feature, numbers)
    between = " x " if "/" in wide and "(" not in wide and deep[0].isdigit() else " "
    return f"Ø{wide}{between}{deep}"


@callout.register(f.DrilledHole)
@callout.register(f.ReamedHole)
@callout.register(f.Bore)
def _(feature: f.DrilledHole | f.ReamedHole | f.Bore, numbers: Numbers) -> str:
    return _wide_and_deep(feature, numbers)


@callout.register
def _(feature: f.Counterbore, numbers: Numbers) -> str:
    return f"counterbore {_wide_and_deep(feature, numbers)}"


@callout.register
def _(feature: f.TappedHole, numbers: Numbers) -> str:
    size = thread(feature.thread)
    drill = numbers.plain.drill(Drill(size.tap_drill_name, size.tap_drill_mm))
    name = numbers.thread_made(feature.thread, True)
    return f"{name} {_depth(feature, numbers)}, tap drill {drill}"


@callout.register
def _(feature: f.MilledFlat, numbers: Numbers) -> str:
    return f"flat, {numbers.limits(feature.across)} from {feature.locations[0].datum}"


@callout.register
def _(feature: f.MilledSlot, numbers: Numbers) -> str:
    return f"slot {numbers.limits(feature.width)} wide"


@callout.register
def _(feature: f.Slit, numbers: Numbers) -> str:
    said = f"slit {numbers.limits(feature.width)} wide"
    if not feature.least_mm:
        return said
    deep = next(one for one in feature.locations if not one.element.endswith("middle"))
    least = numbers.plain.caliper(feature.least_mm)
    return f"{said}, {numbers.limits(deep.size)} deep, leaves at least {least}"


@callout.register
def _(feature: f.SawnNotch, numbers: Numbers) -> str:
    size = [numbers.lined_mm(mm) for mm in feature.box.size()[:2]]
    return f"notch {size[0]} x {size[1]}"


@callout.register
def _(feature: f.IndexMark, numbers: Numbers) -> str:
    length = numbers.general(feature.end_mm - feature.start_mm)
    return f"line {length} long on Ø{numbers.limits(feature.diameter)}"


@callout.register
def _(feature: f.ScribedLine, numbers: Numbers) -> str:
    return f"line {numbers.plain.scribed(max(feature.box.size()))} long"


@callout.register
def _(feature: f.GroundPoint, numbers: Numbers) -> str:
    return (
        f"point {numbers.drawn_angle(feature.included_deg)} included,"
        f" {numbers.drawn_angle(feature.clearance_deg)} clearance,"
        f" nose R{numbers.plain.size(feature.nose_radius_mm)}"
    )


@callout.register
def _(feature: f.Weld, numbers: Numbers) -> str:
    run = numbers.plain.run(feature.length_mm)
    return f"{feature.kind} weld {numbers.size(feature.leg_mm)}, run {run}"
