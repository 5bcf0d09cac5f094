"""Whether there is a nut to try an outside thread with, and whether it comes on.

Imported by planner.walking.gauging.
"""

from __future__ import annotations

import re

from parts import features as f
from parts.standard.threads import thread
from planner.walking.doing import Doing
from planner.walking.held import Held
from planner.walking.records import Record, rows, table, text
from planner.walking.runout import by_die

COARSE = ("UNC", "UNF")
"""The unified series whose nuts are sold everywhere."""

LARGE_MM = 19.05
"""And the fine ones of them up to 3/4 in (common practice)."""

RINGS = r"\bnut\b"
"""What goes round a thread to try it; wires and a micrometer lie on it from the side."""

MADE = ("gauge nut", "wires")
"""What tries a thread that no nut in a shop has."""


def nut_there(do: Doing, makes: tuple[str, ...]) -> None:
    """A fine thread is tried by what is made or got for it: no nut of it lies in a shop."""
    for name in makes:
        feature = do.piece.features.get(name)
        if not isinstance(feature, f.Thread) or not _rare(feature.thread):
            continue
        gauges = [
            _gauge(one) for one in rows(do.operation, "measure") if one.get("kind") == "thread"
        ]
        if not any(word in gauge for gauge in gauges for word in MADE):
            do.faults.refuse(
                "route-no-nut",
                f"{thread(feature.thread).designation} tried by {', '.join(gauges) or 'nothing'}",
                "no nut of it lies in a shop",
                "Tap a gauge nut first, or measure it over three wires",
            )


def nut_comes_on(do: Doing) -> None:
    """A nut is run on over the work's end: no centre and no steady stands there, or it is taken away.

    A die comes on over that end itself, so that of it reach asks.
    """
    held, cut = do.held, do.cut
    gauges = [_gauge(one) for one in rows(do.operation, "measure") if one.get("kind") == "thread"]
    if (
        do.kind != "thread"
        or by_die(do)
        or not isinstance(held, Held)
        or cut.line is None
        or not any(re.search(RINGS, gauge) for gauge in gauges)
    ):
        return
    said = text(do.operation, "text")
    if held.headed:
        stands = [("the centres", r"out from between the centres")]
    else:
        stands = (
            [("the tailstock's centre", r"tailstock is drawn back")]
            if held.tail is not None
            else []
        )
        beyond = held.steady is not None and held.steady > min(held.span(cut.low, cut.high))
        if beyond or held.travelling:
            stands.append(("the steady", r"steady (is )?taken off"))
    for what, words in stands:
        if not re.search(words, said):
            do.faults.refuse(
                "route-not-measured",
                f"{', '.join(gauges)}: it comes on over the work's end",
                f"{what} in the way",
                "Say what is taken away to try it, or measure it over three wires",
            )


def _gauge(one: Record) -> str:
    return str(table(one, "with").get("name") or "")


def _rare(designation: str) -> bool:
    size = thread(designation)
    if size.system == "metric":
        return "x" in size.designation
    common = any(series in designation for series in COARSE)
    return not common or "UNC" not in designation and size.major_mm > LARGE_MM
