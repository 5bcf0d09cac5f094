"""The drill of one system that serves for one of the other. Imported by planner.words.numbers."""

from __future__ import annotations

from functools import cache

from parts.standard.drills import Drill, drills
from parts.standard.threads import threads

NEAR_DRILL_MM = 0.05
"""A drill so much larger serves for one of the other system that a shop has not, a metric one also so
much smaller: less than a drill itself cuts over its size (common practice)."""


@cache
def that_serves(drill: Drill, inch: bool) -> Drill | None:
    """None where none is near.

    An inch one is no thinner; a metric one the nearest: they come by tenths. Where no inch one is so
    near to the tap drill of a metric thread, the nearest that leaves its hole within class 6H.

    >>> [that_serves(Drill(f"{mm:g} mm", mm), True).name for mm in (4.2, 3.3, 9.0)]
    ['#19', '#30', 'T']
    """
    own = drill.diameter_mm
    ranges = [(own - (0.0 if inch else NEAR_DRILL_MM), own + NEAR_DRILL_MM)]
    if inch:
        ranges += [one.minor_6h_mm for one in threads("metric") if one.tap_drill_name == drill.name]
    for least, most in ranges:
        near = [one for one in drills(inch) if least <= one.diameter_mm <= most]
        if near:
            return min(near, key=lambda one: abs(one.diameter_mm - own))
    return None
