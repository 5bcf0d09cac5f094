"""Whether a drill's thrust tips work that a vice grips: past the jaws only friction holds it up.

Imported by planner.walking.reach.
"""

from __future__ import annotations

from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.jaws import borne_runs

TIPS = 1.0
"""The thrust may lie past the end of what the jaws grip by its length: farther out only friction holds
the work (common practice)."""


FINE, NEAR_MM = 600, 0.5
"""Where that is near, the jaws are looked at in so many places along the work; and what counts as past
by rounding only."""


def _thrust(runs: list[tuple[float, float]], at: float) -> tuple[float, float] | None:
    """How far past the jaws a place is, and the length that they grip; None where they bear nowhere."""
    return min(((max(a - at, at - b, 0.0), b - a) for a, b in runs), default=None)


def stays_down(do: Doing, held: Fixed) -> None:
    """A drill that pushes down past the end of the jaws, farther than they grip the work, tips it.

    Where the thrust lies beside the jaws, across them, they hold the work by their faces.
    """
    cut = do.cut
    if do.kind != "drill" or held.by != "machine vice" or held.up is None or cut.line is None:
        return
    up = held.up[0]
    if cut.line.along != up:
        return
    for across, faces, low, high in held.jaws:
        along = 3 - up - across
        at = cut.line.through[along]
        ways = (along, up, across)
        found = _thrust(borne_runs(do.piece, ways, (low, high), faces), at)
        if found is None or found[0] <= TIPS * found[1] + NEAR_MM:
            continue
        past, grip = _thrust(borne_runs(do.piece, ways, (low, high), faces, FINE), at) or found
        if past > TIPS * grip + NEAR_MM:
            do.faults.refuse(
                "route-tips",
                f"drilled {do.faults.mm(past)} past the jaws",
                f"they grip {do.faults.mm(grip)} of its length",
                "Grip it along the way it hangs out, or clamp it on the table",
            )
            return
