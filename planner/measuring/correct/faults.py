"""What is wrong with what was measured, all of it at once."""

from __future__ import annotations

from math import isfinite, radians, tan

from planner.geometry.ball import anvil_off_stem_deg, anvil_on_wall
from planner.measuring.correct.model import Fault, Measured, Rig
from planner.measuring.correct.slips import SLIP, UNIT, middle_mm, slipped_all, slipped_one
from planner.words.numbers import METRIC, Numbers


def _length(where: str, value: float, numbers: Numbers, zero: bool = False) -> list[Fault]:
    if isfinite(value) and (value > 0 or (zero and value == 0)):
        return []
    limit = "must be a finite length " + ("of zero or more" if zero else "above zero")
    remedy = "Measure it and write it with its unit"
    return [Fault("out-of-range", where, numbers.exact(value, 4), limit, remedy)]


def problems(measured: Measured, rig: Rig, numbers: Numbers = METRIC) -> tuple[Fault, ...]:
    """Everything for which nothing can be fitted, all at once; empty when all is well.

    numbers: the language that the findings are written in.
    """
    found = _length("accuracy", measured.accuracy_mm, numbers)
    found += _length("wanted diameter", measured.wanted_mm, numbers)
    found += _length("stem diameter", measured.stem_mm, numbers, zero=True)
    found += _length("anvil diameter", measured.anvil_mm, numbers, zero=True)
    for dial, step in (("tip", rig.tip_mm_per_division), ("slide", rig.slide_mm_per_division)):
        found += _length(f"{dial} dial, one division", 1.0 if step is None else step, numbers)
    for i, pip in enumerate(measured.pips, 1):
        found += _length(f"pip {i}", pip.diameter_mm, numbers, zero=True)
        found += _length(f"pip {i}: accuracy", pip.accuracy_mm, numbers)
        found += _length(f"pip {i}: ball diameter", pip.ball_diameter_mm, numbers)
        if pip.diameter_mm >= pip.ball_diameter_mm > 0:
            limit = f"must be less than its ball's {numbers.exact(pip.ball_diameter_mm, 4)}"
            value = numbers.exact(pip.diameter_mm, 4)
            found.append(Fault("out-of-range", f"pip {i}", value, limit, "Measure again"))
    for i, size in enumerate(measured.sizes, 1):
        found += _length(f"size {i}: set", size.set_mm, numbers)
        found += _length(f"size {i}", size.diameter_mm, numbers)
        found += _length(f"size {i}: accuracy", size.accuracy_mm, numbers)
        if size.set_mm > 0 and abs(size.diameter_mm - size.set_mm) > SLIP * size.set_mm:
            limit = f"more than {SLIP:.0%} from the {numbers.exact(size.set_mm, 4)} set"
            remedy = "Look for a slip of digit, or a radius among diameters"
            value = numbers.exact(size.diameter_mm, 4)
            found.append(Fault("reading-slip", f"size {i}", value, limit, remedy))
    if not measured.readings and not measured.pips and not measured.sizes:
        limit = "need one or a pip"
        found.append(Fault("no-readings", "readings", "none", limit, "Measure across the ball"))
    for i, reading in enumerate(measured.readings, 1):
        found += _length(f"reading {i}", reading.diameter_mm, numbers)
        if not 0 <= reading.angle_deg <= 180:  # so that NaN is refused as well
            value, limit = f"angle {reading.angle_deg:g} degrees", "must be 0 at the nose to 180"
            remedy = "The equator is at 90"
            found.append(Fault("reading-angle", f"reading {i}", value, limit, remedy))
    return tuple(found or (_misplaced(measured, rig, numbers) if measured.readings else ()))


def _misplaced(measured: Measured, rig: Rig, numbers: Numbers) -> list[Fault]:
    """Readings off by an absurd amount, on the stem, on the wall behind it or on the pip.

    The pip stands as high as the facing left the nose, z = R: an anvil at a rests on its corner (p, R)
    while p sin a + R cos a is above R, that is tan(a/2) below p/R.
    """
    if slipped := slipped_all(measured, numbers):  # where they stand tells nothing then
        return slipped
    found: list[Fault] = []
    middle = middle_mm(measured)
    if measured.stem_mm >= middle:
        limit = f"must be less than the ball's {numbers.exact(middle, 4)}"
        value = numbers.exact(measured.stem_mm, 4)
        return [Fault("stem-size", "stem diameter", value, limit, UNIT)]
    stem = anvil_off_stem_deg(middle, measured.stem_mm, measured.anvil_mm)
    pip = min(measured.pips, key=lambda p: abs(p.ball_diameter_mm - middle), default=None)
    for i, reading in enumerate(measured.readings, 1):
        at = min(reading.angle_deg, 180 - reading.angle_deg)  # one line, from either side
        where = f"reading {i}"
        value = f"{numbers.exact(reading.diameter_mm, 4)} at {reading.angle_deg:g} degrees"
        if slip := slipped_one(reading.diameter_mm, measured, rig, numbers):
            found.append(Fault("reading-slip", where, value, *slip))
        if measured.stem_mm and at <= stem + 1e-9:
            limit = f"an anvil is on the stem up to {stem:.1f} and from {180 - stem:.1f} degrees"
            found.append(Fault("on-the-stem", where, value, limit, "Measure nearer the equator"))
        elif pip and tan(radians(at) / 2) < pip.diameter_mm / pip.ball_diameter_mm:
            limit = "an anvil rests on the pip"
            found.append(Fault("on-the-pip", where, value, limit, "Measure beside the pip"))
        elif _walled(middle, measured, at):
            limit = "an anvil is on the wall behind the stem"
            remedy = "Measure nearer the equator, or turn the wall away first"
            found.append(Fault("on-the-wall", where, value, limit, remedy))
    return found


def _walled(middle_mm: float, measured: Measured, fold_deg: float) -> bool:
    if measured.wall_mm is None:
        return False
    blank = max(measured.blank_mm, middle_mm)
    return anvil_on_wall(middle_mm, blank, measured.wall_mm, measured.anvil_mm, fold_deg)
