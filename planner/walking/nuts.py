"""Whether there is a nut to try an outside thread with. Imported by planner.walking.gauging."""

from __future__ import annotations

from parts import features as f
from parts.standard.threads import thread
from planner.walking.doing import Doing
from planner.walking.records import Record, rows, table

COARSE = ("UNC", "UNF")
"""The unified series whose nuts are sold everywhere."""

LARGE_MM = 19.05
"""And the fine ones of them up to 3/4 in (common practice)."""

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


def _gauge(one: Record) -> str:
    return str(table(one, "with").get("name") or "")


def _rare(designation: str) -> bool:
    size = thread(designation)
    if size.system == "metric":
        return "x" in size.designation
    common = any(series in designation for series in COARSE)
    return not common or "UNC" not in designation and size.major_mm > LARGE_MM
