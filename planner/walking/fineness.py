"""Whether a way of working makes a feature within its limits. Imported by
planner.walking.cutting, order and joining.
"""

from __future__ import annotations

import re

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.holding import finest_band_mm
from planner.walking.doing import Doing
from planner.walking.finished import line_of
from planner.walking.fixed import Fixed
from planner.walking.records import direction, need, table
from planner.walking.runout import by_die
from planner.walking.shape import NEAR_MM

FINISH_DEPTH_MM = 1.5
"""A fine size is come to by a last cut no deeper: what is roughed first leaves this or less."""

PACKED_MM = 0.05
"""Packing and shims set a height no closer (common practice: the thin leaves of a feeler gauge)."""

FINE_BAND_MM = 0.05
"""Limits as narrow make a surface a fine one."""

MAKES: dict[type[f.Feature], tuple[str, ...]] = {
    f.FacedLength: ("face", "mill", "file", "part", "grind"),
    f.TurnedDiameter: ("turn", "grind"),
    f.FacedShoulder: ("face", "turn"),
    f.Thread: ("thread",),
    f.Knurl: ("knurl",),
    f.EngravedScale: ("engrave",),
    f.IndexMark: ("engrave",),
    f.TurnedBall: ("ball", "turn"),
    f.DrilledHole: ("drill", "bore", "ream"),
    f.ReamedHole: ("ream", "bore"),
    f.Bore: ("bore", "ream"),
    f.Counterbore: ("counterbore", "bore", "mill", "turn"),
    f.TappedHole: ("tap", "thread"),
    f.MilledFlat: ("mill", "file", "grind", "scrape", "face"),
    f.MilledSlot: ("mill", "file", "slit"),
    f.Slit: ("slit", "mill"),
    f.SawnNotch: ("saw", "mill", "file", "slit"),
    f.ScribedLine: ("engrave", "mill"),
    f.GroundPoint: ("grind",),
    f.Weld: ("weld",),
}
"""By what kind of work each type of feature is finished."""


def fine_enough(do: Doing, feature: f.Feature) -> None:
    """The way of working holds the feature's limits."""
    kinds = MAKES.get(type(feature), ())
    if do.kind not in kinds:
        do.faults.refuse(
            "route-machine-cannot",
            f"{feature.name} by {do.kind}",
            "is not made so",
            "Finish it by " + " or ".join(kinds),
        )
        return
    process = process_of(do, feature)
    for size in _sizes(feature):
        band = size.upper_mm - size.lower_mm
        finest = finest_band_mm(process, size.nominal_mm) if process else None
        if finest is not None and band < 0.75 * finest:
            do.faults.refuse(
                "route-not-fine",
                f"{feature.name}: limits {do.faults.numbers.fine(band)} apart",
                f"{process} holds {do.faults.numbers.fine(finest)}",
                "Take a finer way of working",
            )


def process_of(do: Doing, feature: f.Feature) -> str:
    """The way of working by its name in parts.standard.holding."""
    said = (str(do.tool.get("kind") or "") + " " + str(do.tool.get("name") or "")).lower()
    if "scrap" in said or do.kind == "scrape":
        return "scrape"
    if do.kind == "file" or "file" in said or (do.machine == "bench" and do.kind == "mill"):
        return "file"
    if do.machine in ("hacksaw", "bandsaw") or (
        do.machine == "bench" and do.kind in ("slit", "saw")
    ):
        return "bandsaw" if do.machine == "bandsaw" else "hacksaw"
    if do.machine == "torch table":
        return "torch"
    if do.machine == "shaper":
        return "shape"
    if isinstance(feature, f.MilledSlot) and do.kind == "mill":
        return "slot"
    if do.kind == "turn" and re.search(r"last of it by (fine emery|crocus cloth)", _words(do)):
        return "lap"
    named = {
        "slit": "slitting saw",
        "ball": "",
        "tap": "",
        "thread": "",
        "knurl": "",
        "engrave": "",
        "weld": "",
    }
    return named.get(do.kind, do.kind)


def _words(do: Doing) -> str:
    return f"{do.operation.get('text')} {do.operation.get('note')}"


def set_by_packing(do: Doing) -> None:
    """On the lathe nothing feeds the work up: by the side of the cutter packing sets the depth."""
    beside = do.cut.shape == "flat" and isinstance(do.held, Fixed) and do.held.axis is not None
    if not beside or do.kind != "mill" or do.machine != "lathe":
        return
    assert isinstance(do.held, Fixed) and do.held.axis is not None
    cut = table(do.operation, "cut")
    if direction(need(cut, "normal"), "cut.normal")[0] == do.held.axis.along:
        return
    left = float(do.operation.get("allowance_mm") or 0.0)
    if 0 < left < PACKED_MM - 1e-6:
        do.faults.refuse(
            "route-not-fine",
            f"{do.faults.numbers.fine(left)} left to scrape",
            f"packing and shims set it within {do.faults.numbers.fine(PACKED_MM)}",
            "Leave more for the scraper",
        )
    if "packing" not in str(do.operation.get("text")):
        do.faults.refuse(
            "route-words",
            f'"{do.operation.get("text")}"',
            "nothing feeds the work up: packing sets the depth",
            "Say that it is set by packing",
        )


def _sizes(feature: f.Feature) -> list[Limits]:
    """The limits that a way of working must hold: its own size, and where its face lies."""
    found = []
    for key in ("diameter", "length", "width"):
        if isinstance(feature, f.FacedShoulder):
            break  # its diameter is the journal's before it
        if (size := getattr(feature, key, None)) is not None:
            found.append(size)
    if isinstance(feature, f.MilledFlat | f.Slit):
        found += [location.size for location in feature.locations]
    return found


def is_fine(feature: f.TurnedDiameter) -> bool:
    """Whether its limits make it a fine one."""
    return feature.diameter.upper_mm - feature.diameter.lower_mm <= FINE_BAND_MM


def rough_before_fine(do: Doing) -> None:
    """In one chucking nothing is roughed, knurled or screw-cut after a fine diameter is finished."""
    cut = do.cut
    rough = cut.shape == "turn" and do.kind == "turn" and cut.before - cut.radius > FINISH_DEPTH_MM
    screwed = do.kind == "thread" and do.machine == "lathe" and not by_die(do)
    if not (rough or screwed or do.kind == "knurl"):
        return
    for name, setup in do.piece.fined.items():
        fine = do.piece.features.get(name)
        if setup != do.setup.get("number") or not isinstance(fine, f.TurnedDiameter):
            continue
        line = line_of(fine.axis)
        base = line.through[line.along]
        low, high = sorted(base + line.sign * at for at in (fine.start_mm, fine.end_mm))
        if not (low - NEAR_MM < cut.low and cut.high < high + NEAR_MM):  # a thread on it
            do.faults.refuse(
                "route-order",
                f"{do.kind} after {name} is finished",
                "what still takes much off warms, bends and marks the work",
                "Rough all of it first, and finish what is fine last",
            )
            return
