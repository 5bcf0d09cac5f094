"""A boring bar between centres: the work passes it right through on either side of its bit.

Imported by planner.walking.reach and planner.walking.gauging.
"""

from __future__ import annotations

import numpy as np

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.records import number, rows
from planner.walking.shape import even

BAR = "boring bar between centres"

CARRIER_MM = 10.0
"""A small lathe's carrier takes so much of the bar at the least (common practice: 10 to 15)."""

POINT_MM = 3.0
"""And the centre in the bar's end so much, at either end (common practice)."""

CLEAR_MM = 1.0
"""The work is run so far clear of the bit (common practice: until it cuts no more)."""

BARREL_MM, CENTRE_OUT_MM = 32.0, 25.0
"""A small lathe's tailstock barrel, and how far its centre stands out (common practice)."""

WALL_MM = (0.3, 0.7, 1.2)
"""So far outside the bore the work that passes along the bar is looked for."""


def passes(do: Doing, between_mm: float) -> None:
    """Whether the work comes clear of the bit at both ends, the carrier and the centres where they are.

    between_mm: what the lathe takes between its centres, 0 where it is not known. Raises Missing.
    """
    cut, faults, tool = do.cut, do.faults, do.tool
    if cut.line is None:
        return
    long = number(tool, "reach_mm")
    work = _work_mm(do)
    thick = float(tool.get("width_mm") or number(tool, "diameter_mm") / 3)
    at = float(tool.get("bit_at_mm") or long / 2)
    needs = work + CLEAR_MM + thick / 2
    for there, taken, what in (
        (at, CARRIER_MM + POINT_MM, "the carrier and the centre"),
        (long - at, POINT_MM, "the centre"),
    ):
        room = there - needs
        if room < taken - 0.05:
            faults.refuse(
                "route-tool-reach",
                f"{faults.mm(room)} of the bar left beside the work for {what}",
                f"at least {faults.mm(taken)}: the work, {faults.mm(work)} long, passes right through",
                "Make the bar longer, or say where on it the bit is",
            )
    _past_the_barrel(do, long - at, needs)
    if between_mm and long > between_mm + 0.05 and tool.get("owned") is not False:
        faults.refuse(
            "route-tool-reach",
            f"a bar of {faults.mm(long)} between centres",
            f"the lathe takes {faults.mm(between_mm)}",
            "Have it bored on a longer lathe",
        )


def out_to_measure(do: Doing) -> None:
    """A bore is measured by what goes into it when the bar is out of it."""
    said = str(do.operation.get("text"))
    if do.tool.get("kind") != BAR or "the bar comes out" in said:
        return
    for one in rows(do.operation, "measure"):
        if one.get("kind") == "inside":
            do.faults.refuse(
                "route-not-measured",
                f"{one.get('what')}: {(one.get('with') or {}).get('name')}",
                "the bar is in the bore",
                "Say that the bar comes out to measure",
            )


def goes_through(do: Doing) -> None:
    """Whether a bar between centres, where it is said to serve for a chuck, finds a way through."""
    instead = str((do.setup.get("hold") or {}).get("instead") or "")
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    if "between centres" in instead and isinstance(feature, f.Bore) and not feature.through:
        do.faults.refuse(
            "route-tool-reach",
            f"{feature.name}: {instead}",
            "it does not go through, and the bar must",
            "Bore it by a tool that comes in from its mouth",
        )


def _past_the_barrel(do: Doing, tail_mm: float, needs_mm: float) -> None:
    """Whether what of the work runs on beside the bar's tail clears the tailstock's barrel.

    tail_mm: from the bit to the bar's end; needs_mm: how far the work about the bar runs past the bit.
    """
    cut, metal = do.cut, do.piece.metal
    assert cut.line is not None
    along, sign = cut.line.along, cut.line.sign
    ends = [sign * face[along] for face in metal.box]
    own = max(sign * cut.low, sign * cut.high)
    steps = [sign * float(at) for at in even(own + 1.0, max(ends), 200)]
    if max(ends) <= own + 1.0:
        return
    radii = [float(one) for one in even(1.0, BARREL_MM / 2, 12)]
    there = metal.has(cut.line.cloud(steps, radii, 24)).reshape(len(steps), -1).any(axis=1)
    if not there.any():
        return
    past = sign * steps[int(np.flatnonzero(there)[-1])] - own
    out = float(do.tool.get("centre_out_mm") or CENTRE_OUT_MM)
    if needs_mm + past > tail_mm + out + 1.0:
        do.faults.refuse(
            "route-tool-reach",
            f"the work runs {do.faults.mm(past)} on beside the tailstock's barrel",
            f"its centre stands {do.faults.mm(out)} out",
            "Make the bar's tail longer, or set a long slender centre",
        )


def _work_mm(do: Doing) -> float:
    """How long the work about the bar is, as it is before the cut, mm."""
    cut, metal = do.cut, do.piece.metal
    assert cut.line is not None
    along = cut.line.along
    low, high = metal.box
    steps = [float(one) for one in even(low[along] + 0.02, high[along] - 0.02, 400)]
    radii = [max(cut.radius, cut.before) + over for over in WALL_MM]
    there = metal.has(cut.line.cloud(steps, radii, 12)).reshape(len(steps), -1).any(axis=1)
    own = (cut.low + cut.high) / 2
    held = np.asarray(steps)[there]
    if not len(held):
        return cut.high - cut.low
    runs = np.split(held, np.flatnonzero(np.diff(held) > 2 * (high[along] - low[along]) / 400) + 1)
    best = min(runs, key=lambda run: max(run[0] - own, own - run[-1], 0.0))
    return float(best[-1] - best[0])
