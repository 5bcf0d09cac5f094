"""Which kind of work makes a feature of each type; a test holds it complete.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Mapping

from parts import features as f
from parts.features import Feature

WORK_OF: Mapping[type[Feature], str] = {
    f.FacedLength: "ends",
    f.TurnedDiameter: "turned",
    f.FacedShoulder: "turned",
    f.Thread: "turned",
    f.Knurl: "turned",
    f.EngravedScale: "turned",
    f.IndexMark: "turned",
    f.TurnedBall: "turned",
    f.DrilledHole: "hole",
    f.ReamedHole: "hole",
    f.TappedHole: "hole",
    f.Counterbore: "hole",
    f.Bore: "bore",
    f.MilledFlat: "flat",
    f.MilledSlot: "slot",
    f.Slit: "slit",
    f.SawnNotch: "notch",
    f.ScribedLine: "line",
    f.GroundPoint: "ground",
    f.Weld: "weld",
}
"""The kind of work by the feature's type."""


def work_of(feature: Feature) -> str:
    """The kind of work that makes a feature. Raises TypeError for a type that none is known for."""
    found = WORK_OF.get(type(feature))
    if found is None:
        raise TypeError(f"no way of making a {type(feature).__name__}")
    return found
