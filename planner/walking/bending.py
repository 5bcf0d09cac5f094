"""What a heavy cut does to the thin end that runs on the centre: whether it is bent for good.

Imported by planner.walking.reach.
"""

from __future__ import annotations

from math import pi

import numpy as np

from parts import features as f
from parts.part import members
from parts.standard.cutting_forces import (
    LEAST_CHIP_MM,
    MOST_CHIP_MM,
    PASSIVE_SHARE,
    specific_force_MPa,
)
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.walking.doing import Doing
from planner.walking.held import Held
from planner.walking.spans import spans

MARGIN = 1.5
"""The stress of a cut is to stay so far under the yield (common practice)."""

STEADIED_MM = 10.0
"""A steady that follows holds the work once its fingers, so wide, are on what was turned (common
practice)."""

STATIONS = 60
"""Places at which the work, and the tool along its cut, is looked at."""


def bends(do: Doing, held: Held) -> None:
    """The bending between the tailstock's centre and the tool stays under the yield, with a margin.

    The work is a beam, fast in the jaws or on the headstock's centre, and propped by the centre; the
    cut's main and passive force push it where the tool is. What a steady takes is left to it. Looked at
    where the record says how deep each cut is and its feed.
    """
    depth, feed = do.operation.get("depth_mm"), do.operation.get("feed_mm_per_rev")
    if do.kind != "turn" or held.tail is None or not depth or not feed:
        return
    own = do.piece.member or members(do.piece.part)[0]
    metal = material(own.blank.material)
    chip = min(max(float(feed), LEAST_CHIP_MM), MOST_CHIP_MM)
    main = specific_force_MPa(metal.group, chip) * float(feed) * float(depth)
    force = main * (1 + PASSIVE_SHARE**2) ** 0.5
    fast = held.front
    if fast is None:
        fast = min(held.span(s.low, s.high)[0] for s in spans(do.piece.metal, held.line))
    stress, at = _most_MPa(do, held, force, held.tail, fast)
    if metal.yield_MPa is not None and stress > metal.yield_MPa / MARGIN:
        numbers = do.faults.numbers
        do.faults.refuse(
            "route-bends",
            f"{numbers.stress(stress)} where it is {do.faults.mm(_thin(do, held, at))} thick,"
            f" {do.faults.mm(held.tail - at)} from the centre",
            f"{metal.name} bears {numbers.stress(metal.yield_MPa / MARGIN)}",
            "Cut that end thin last, or take lighter cuts",
        )


def _most_MPa(
    do: Doing, held: Held, force_N: float, tail: float, fast: float
) -> tuple[float, float]:
    """The greatest stress between the centre and the tool as it goes along, and where."""
    near, far = held.span(do.cut.low, do.cut.high)
    far = min(far, tail)
    near = max(near, fast, far - STEADIED_MM if held.travelling or held.steady else near)
    worst = (0.0, far)
    length = tail - fast
    if length <= 0 or far <= near:
        return worst
    stations = np.linspace(near, tail, STATIONS)[:-1]
    thick = np.asarray([_thin(do, held, at) for at in stations.tolist()])
    stations, thick = stations[thick > 0], thick[thick > 0]
    for tool in np.linspace(near, far, STATIONS):
        x = (tool - fast) / length
        prop = force_N * x**2 * (3 - x) / 2  # of a propped cantilever (a handbook's, from memory)
        beyond = stations >= tool - 1e-6
        there = stations[beyond]
        if len(there):
            stress = prop * (tail - there) * 32 / (pi * thick[beyond] ** 3)
            most = int(stress.argmax())
            worst = max(worst, (float(stress[most]), float(there[most])))
    return worst


def _thin(do: Doing, held: Held, at: float) -> float:
    """How thick the work is at a station once this cut is taken, to a thread's root, mm; 0 past it."""
    place = held.line.sign * at
    here = [s for s in spans(do.piece.metal, held.line) if s.low - 1e-6 <= place <= s.high + 1e-6]
    size = 2 * min((s.outer for s in here), default=0.0)
    if do.cut.low <= place <= do.cut.high:
        size = min(size, 2 * do.cut.radius)
    for mark in do.piece.marks_of("thread"):
        if mark.inside or not mark.line.same(held.line, 0.05) or not mark.low <= place <= mark.high:
            continue
        root = _root_mm(do, mark.low, mark.high)
        size = min(size, root or size)
    return size


def _root_mm(do: Doing, low: float, high: float) -> float:
    """The root of the thread that was cut between two stations, mm; 0 where none of the part's is."""
    for one in do.piece.features.values():
        if isinstance(one, f.Thread):
            size = thread(one.thread)
            along = "xyz".index(one.axis.along[1])
            a, b = sorted(one.axis.at(end)[along] for end in (one.start_mm, one.end_mm))
            if min(b, high) - max(a, low) > size.pitch_mm:
                return size.minor_external_mm
    return 0.0
