"""What is wrong with what was measured, all of it at once."""

from __future__ import annotations

from math import asin, atan2, degrees, hypot, isfinite, radians, tan

from planner.measuring.correct.model import Fault, Measured, Rig

SLIP = 0.2
"""Part of the median beyond which a reading is likely a slip of unit or digit."""


def _length(where: str, value: float, zero: bool = False) -> list[Fault]:
    if isfinite(value) and (value > 0 or (zero and value == 0)):
        return []
    limit = "must be a finite length " + ("of zero or more" if zero else "above zero")
    remedy = "Measure it and write it in millimetres"
    return [Fault("out-of-range", where, f"{value:g} mm", limit, remedy)]


def problems(measured: Measured, rig: Rig) -> tuple[Fault, ...]:
    """Everything for which nothing can be fitted, all at once; empty when all is well."""
    found = _length("accuracy", measured.accuracy_mm)
    found += _length("wanted diameter", measured.wanted_mm)
    found += _length("stem diameter", measured.stem_mm, zero=True)
    found += _length("anvil diameter", measured.anvil_mm, zero=True)
    for dial, step in (("tip", rig.tip_mm_per_division), ("slide", rig.slide_mm_per_division)):
        found += _length(f"{dial} dial, one division", 1.0 if step is None else step)
    for i, pip in enumerate(measured.pips, 1):
        found += _length(f"pip {i}", pip.diameter_mm, zero=True)
        found += _length(f"pip {i}: accuracy", pip.accuracy_mm)
        found += _length(f"pip {i}: ball diameter", pip.ball_diameter_mm)
        if pip.diameter_mm >= pip.ball_diameter_mm > 0:
            limit = f"must be less than its ball's {pip.ball_diameter_mm:g} mm"
            value = f"{pip.diameter_mm:g} mm"
            found.append(Fault("out-of-range", f"pip {i}", value, limit, "Measure again"))
    for i, size in enumerate(measured.sizes, 1):
        found += _length(f"size {i}: set", size.set_mm)
        found += _length(f"size {i}", size.diameter_mm)
        found += _length(f"size {i}: accuracy", size.accuracy_mm)
        if size.set_mm > 0 and abs(size.diameter_mm - size.set_mm) > SLIP * size.set_mm:
            limit = f"more than {SLIP:.0%} from the {size.set_mm:g} mm set"
            remedy = "Look for a slip of digit, or a radius among diameters"
            value = f"{size.diameter_mm:g} mm"
            found.append(Fault("reading-slip", f"size {i}", value, limit, remedy))
    if not measured.readings and not measured.pips and not measured.sizes:
        limit = "need one or a pip"
        found.append(Fault("no-readings", "readings", "none", limit, "Measure across the ball"))
    for i, reading in enumerate(measured.readings, 1):
        found += _length(f"reading {i}", reading.diameter_mm)
        if not 0 <= reading.angle_deg <= 180:  # so that NaN is refused as well
            value, limit = f"angle {reading.angle_deg:g} degrees", "must be 0 at the nose to 180"
            remedy = "The equator is at 90"
            found.append(Fault("reading-angle", f"reading {i}", value, limit, remedy))
    return tuple(found or (_misplaced(measured) if measured.readings else ()))


def _misplaced(measured: Measured) -> list[Fault]:
    """Readings off by an absurd amount, on the stem or on the pip.

    The pip stands as high as the facing left the nose, z = R: an anvil at a rests on its corner (p, R)
    while p sin a + R cos a is above R, that is tan(a/2) below p/R. An anvil's flat touches the ball at
    its angle and reaches half its width along the tangent, toward the stem.
    """
    sizes = sorted(r.diameter_mm for r in measured.readings)
    median = (sizes[len(sizes) // 2] + sizes[(len(sizes) - 1) // 2]) / 2
    unit = "Look for a slip of digit, or inches among millimetres"
    found = []
    if not 0.5 <= median / measured.wanted_mm <= 2:
        limit = f"must be within half to twice the wanted {measured.wanted_mm:g} mm"
        found.append(Fault("reading-slip", "readings", f"median {median:g} mm", limit, unit))
    if measured.stem_mm >= median:
        limit = f"must be less than the ball's {median:g} mm"
        value = f"{measured.stem_mm:g} mm"
        return [*found, Fault("stem-size", "stem diameter", value, limit, unit)]
    wide = hypot(median, measured.anvil_mm)
    stem = degrees(asin(measured.stem_mm / wide) + atan2(measured.anvil_mm, median))
    pip = min(measured.pips, key=lambda p: abs(p.ball_diameter_mm - median), default=None)
    for i, reading in enumerate(measured.readings, 1):
        at = min(reading.angle_deg, 180 - reading.angle_deg)  # one line, from either side
        where, value = (
            f"reading {i}",
            f"{reading.diameter_mm:g} mm at {reading.angle_deg:g} degrees",
        )
        if abs(reading.diameter_mm - median) > SLIP * median:
            limit = f"more than {SLIP:.0%} from the median {median:g} mm"
            found.append(Fault("reading-slip", where, value, limit, unit))
        if measured.stem_mm and at <= stem + 1e-9:
            limit = f"an anvil is on the stem up to {stem:.1f} and from {180 - stem:.1f} degrees"
            found.append(Fault("on-the-stem", where, value, limit, "Measure nearer the equator"))
        elif pip and tan(radians(at) / 2) < pip.diameter_mm / pip.ball_diameter_mm:
            limit = "an anvil rests on the pip"
            found.append(Fault("on-the-pip", where, value, limit, "Measure beside the pip"))
    return found
