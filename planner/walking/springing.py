"""A thin piece that stands out of what is gripped springs from the cutter, unless it is backed.

Imported by planner.walking.walk.
"""

from __future__ import annotations

import numpy as np

from parts import features as f
from parts.part import members
from parts.places import element
from parts.standard.materials import material
from planner.walking.faults import Faults
from planner.walking.records import Record, rows, text
from planner.walking.shape import NEAR_MM
from planner.walking.state import Piece

PRESSED_N = 50.0
"""What a small end mill's last cut presses from the face at the most (common practice, estimated)."""


def springs(piece: Piece, operation: Record, setup: Record, faults: Faults) -> None:
    """A flat that must be true to something, milled on a piece that is held by another."""
    name = str(operation.get("feature") or "")
    flat = piece.features.get(name)
    if piece.member is not None or not isinstance(flat, f.MilledFlat):
        return
    if operation.get("kind") != "mill" or name not in (operation.get("makes") or ()):
        return
    true = [one for one in piece.part.trueness if one.of.partition(":")[0] == name]
    if not true:
        return
    hold = setup.get("hold") or {}
    gripped = {text(grip, "surface").rpartition(".")[0] for grip in rows(hold, "grips")}
    face = element(flat, true[0].of.partition(":")[2])
    own, sign = _under(piece, flat, face.along, face.at[face.along])
    if own is None or own in gripped or str(hold.get("backed") or "").rpartition(".")[0] == own:
        return
    ends = {body.name: _box(piece, body.name) for body in piece.metal.bodies}
    low, high = ends[own]
    stood = [ends[body] for body in gripped if body in ends]
    if not stood:
        return
    size = [high[i] - low[i] for i in range(3)]
    along = max((i for i in range(3) if i != face.along), key=lambda i: size[i])
    other = 3 - along - face.along
    out = max(
        high[along] - max(box[1][along] for box in stood),
        min(box[0][along] for box in stood) - low[along],
    )
    if out <= 0:
        return
    stock = next(m.blank for m in members(piece.part) if m.name == own)
    bent = size[other] * size[face.along] ** 3 / 12
    spring = PRESSED_N * out**3 / (3 * material(stock.material).modulus_MPa * bent)
    if spring > true[0].value_mm:
        faults.refuse(
            "route-overhang",
            f"{own}, {faults.mm(size[face.along])} thick, {faults.mm(out)} out: {name}",
            f"its end springs {faults.mm(spring)} from the cutter, where {faults.mm(true[0].value_mm)}"
            " is all it may be out",
            "Back it near its end by a block or a jack",
        )


def _under(piece: Piece, flat: f.MilledFlat, along: int, at: float) -> tuple[str | None, int]:
    """The body whose metal lies under a flat, and on which side."""
    middle = [(flat.box.low[i] + flat.box.high[i]) / 2 for i in range(3)]
    for sign in (-1, 1):
        middle[along] = at + sign * 5 * NEAR_MM
        for body in piece.metal.bodies:
            if body.has(np.asarray([middle]))[0]:
                return body.name, sign
    return None, 0


def _box(piece: Piece, name: str) -> tuple[list[float], list[float]]:
    found = [[piece.metal.end(i, sign, name) or 0.0 for i in range(3)] for sign in (-1, 1)]
    return found[0], found[1]
