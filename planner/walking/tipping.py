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
        runs = borne_runs(do.piece, (along, up, across), (low, high), faces)
        if not runs:
            continue
        past, grip = min((max(a - at, at - b, 0.0), b - a) for a, b in runs)
        if past > TIPS * grip + 0.5:
            do.faults.refuse(
                "route-tips",
                f"drilled {do.faults.mm(past)} past the jaws",
                f"they grip {do.faults.mm(grip)} of its length",
                "Grip it along the way it hangs out, or clamp it on the table",
            )
            return
