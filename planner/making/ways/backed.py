"""A thin piece that stands out of its weld is backed where it is cut: else it springs from the cutter.

Imported by making.ways.milled.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts import features as f
from parts.part import members
from parts.standard.materials import material
from planner.making import bodies as b
from planner.making.model import Hold
from planner.making.near import against, face_of, in_metal, middle, moved_to, way_of

if TYPE_CHECKING:
    from planner.making.across import Across

FINISHING_N = 40.0
"""What an end mill's last cut presses away from the face (common practice, an estimate)."""


def backed(work: Across, hold: Hold, feature: f.Removed) -> Hold:
    """The hold, with a block behind a piece whose end would spring by half of what it may be out."""
    allowed = _allowed_mm(work, feature)
    if allowed is None or not hold.grips or len(work.bodies) < 2:
        return hold
    letter, _, side = feature.locations[0].element.partition("-")
    normal = {"low": "+", "high": "-"}[side] + letter
    i, sign = way_of(normal)
    at = face_of(feature.box, i, -sign)
    own = b.owner(work.bodies, in_metal(moved_to(middle(feature.box), i, at), against(normal)))
    gripped = hold.grips[0].surface.rpartition(".")[0]
    held = next((body for body in work.bodies if body.name == gripped), own)
    if held is own or own.axis is not None:
        return hold
    k = max(range(3), key=own.size)
    if k == i:
        return hold
    out = max(own.high(k) - held.high(k), held.low(k) - own.low(k))
    thick = sign * (at - own.end(i, -sign))
    wide = own.size(3 - i - k)
    stock = next(m for m in members(work.on.part) if m.name == own.name).blank
    stiff = material(stock.material).modulus_MPa * wide * thick**3 / (4 * out**3)  # 3 E I / L3
    if out <= 0 or FINISHING_N / stiff <= allowed / 2:
        return hold
    words = (
        f"{hold.words}; a block clamped behind the {own.name} near its end, touching without pushing"
        f" it: an indicator on the {own.name} stays still"
    )
    return replace(hold, words=words, backed=own.face(i, -sign))


def _allowed_mm(work: Across, feature: f.Removed) -> float | None:
    """How true a face must lie, None where nothing is said of it."""
    return min(
        (
            true.value_mm
            for true in work.on.part.trueness
            if true.of.partition(":")[0] == feature.name
        ),
        default=None,
    )
