"""A boring bar between centres: the work passes it right through on either side of its bit.

Imported by planner.walking.reach and planner.walking.gauging.
"""

from __future__ import annotations

from math import hypot

import numpy as np

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.records import number, rows, table, text
from planner.walking.shape import Line, even
from planner.walking.shop import Shop

BAR = "boring bar between centres"

CARRIER_MM = 10.0
"""A small lathe's carrier takes so much of the bar at the least (common practice: 10 to 15)."""

POINT_MM = 3.0
"""And the centre in the bar's end so much, at either end (common practice)."""

CLEAR_MM = 1.0
"""The work is run so far clear of the bit (common practice: until it cuts no more)."""

BARREL_MM, CENTRE_OUT_MM = 32.0, 25.0
"""A small lathe's tailstock barrel, and how far its centre stands out (common practice)."""

NEAR_THE_BORE_MM = 40.0
"""No farther from a bore is it looked for what a tool post holds."""

WALL_MM = (0.3, 0.7, 1.2)
"""So far outside the bore the work that passes along the bar is looked for."""


def passes(do: Doing, shop: Shop) -> None:
    """Whether the work comes clear of the bit at both ends, the carrier and the centres where they are.

    Raises Missing.
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
                f"at least {faults.least(taken)}: the work, {faults.mm(work)} long, passes right"
                " through",
                "Make the bar longer, or say where on it the bit is",
            )
    _past_the_barrel(do, long - at, needs)
    _post_past_the_barrel(do, long - at, needs, shop)
    between_mm = shop.between_mm
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
            f"its centre stands {do.faults.most(out)} out",
            "Make the bar's tail longer, or set a long slender centre",
        )


def _post_past_the_barrel(do: Doing, tail_mm: float, needs_mm: float, shop: Shop) -> None:
    """Whether a tool post whose jaws stand out beside the work, toward the bore, goes past the barrel.

    It holds the work as near to the bore as it can at the best. Raises Missing.
    """
    cut, hold = do.cut, table(do.setup, "hold")
    grips = list(rows(hold, "grips"))
    alone = hold.get("by") == "tool post" and not do.setup.get("with_parts")
    if not shop.post_mm or not alone or cut.line is None or not grips:
        return
    sign, ends = cut.line.sign, [number(grips[0], key) for key in ("from_mm", "to_mm")]
    start = min(sign * one for one in ends)
    side = _side_mm(do, cut.line, text(grips[0], "surface"), ends)
    if side is None or hypot(side - shop.post_out_mm, shop.post_under_mm) >= BARREL_MM / 2:
        return
    past = start - max(sign * cut.low, sign * cut.high) + shop.post_mm
    out = float(do.tool.get("centre_out_mm") or CENTRE_OUT_MM)
    if needs_mm + past > tail_mm + out + 1.0:
        do.faults.refuse(
            "route-tool-reach",
            f"the tool post runs {do.faults.mm(past)} on beside the tailstock's barrel",
            f"its centre stands {do.faults.most(out)} out",
            "Make the bar's tail longer, or set a long slender centre",
        )


def _side_mm(do: Doing, line: Line, under: str, ends: list[float]) -> float | None:
    """How far beside the bore's axis, level, the side of what a tool post holds lies; mm.

    under: the name of the face that it is gripped by from below; ends: from where to where it may be.
    """
    up = "xyz".find(under[-1])
    if up in (-1, line.along):
        return None
    across = next(i for i in range(3) if i not in (line.along, up))
    low, high = do.piece.metal.box
    places = np.array(even(0.25, NEAR_THE_BORE_MM, 160))
    steps = even(min(ends) + 1.0, max(ends) - 1.0, 9)
    heights = even(low[up] + 0.5, high[up] - 0.5, 25)
    found = []
    for sign in (-1, 1):
        points = np.empty((len(places), len(steps), len(heights), 3))
        points[..., across] = (line.through[across] + sign * places)[:, None, None]
        points[..., line.along] = np.array(steps)[None, :, None]
        points[..., up] = np.array(heights)[None, None, :]
        there = do.piece.metal.has(points.reshape(-1, 3)).reshape(len(places), -1).any(axis=1)
        if there.any():
            found.append(float(places[int(np.argmax(there))]))
    return min(found, default=None)


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
