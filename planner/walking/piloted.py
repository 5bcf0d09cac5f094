"""A thick drill follows a thinner one. Imported by planner.walking.cutting."""

from __future__ import annotations

from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.records import number
from planner.walking.shape import even

SOLID_MM = 20.0
"""The thickest drill that goes into the solid (common practice: 13 to 20 mm in a small machine)."""

IN_POST, IN_POST_MM = "tool post", 13.0
"""And into work that the tool post holds by its shank: thrust on the web pushes it along under the
screws and turns the post, and the carriage is fed by hand (common practice: half an inch)."""

WEB = 0.2
"""A drill's web is so much of its size: it cuts nothing, and wants a hole first (common practice)."""


def piloted(do: Doing) -> None:
    """No thick drill goes into the solid. Raises Missing."""
    cut = do.cut
    if do.kind != "drill" or cut.line is None or cut.shape != "hole":
        return
    size, deep = number(do.tool, "diameter_mm"), cut.high - cut.low
    in_post = isinstance(do.held, Fixed) and do.held.by == IN_POST
    most = IN_POST_MM if in_post else SOLID_MM
    if size <= most + 0.05:
        return
    steps = even(cut.low + 0.3 * deep, cut.high - 0.3 * deep, 9)
    if do.piece.metal.has(cut.line.cloud(steps, [0.05, WEB * size / 2], 8)).any():
        gives = "it pushes the tool post aside" if in_post else "it wanders, a small machine stalls"
        do.faults.refuse(
            "route-order",
            f"a drill of {do.faults.mm(size)} into the solid",
            f"past {do.faults.most(most)} its web cuts nothing: {gives}",
            "Drill first with one of about half of its size",
        )
