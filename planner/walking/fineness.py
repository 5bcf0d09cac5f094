"""Whether a way of working makes a feature within its limits. Imported by planner.walking.cutting."""

from __future__ import annotations

from parts import features as f
from parts.standard.fits import Limits
from parts.standard.holding import finest_band_mm
from planner.walking.doing import Doing

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
