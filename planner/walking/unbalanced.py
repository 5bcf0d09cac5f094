"""Does work in a chuck, which takes no counterweight, shake the lathe?

Imported by planner.walking.lathe.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, pi

import numpy as np

from parts.part import members
from parts.standard.materials import material
from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.records import Record
from planner.walking.shop import Shop
from planner.walking.state import Piece

SHAKES_N = 60.0
"""A rotating force over it walks a bench lathe of some 50 kg: an eighth of its weight (common practice:
a tenth)."""

STEPS = 32
"""Places to a side at which the work's metal is asked for."""


def unbalanced(
    piece: Piece, held: Held, operations: Sequence[Record], shop: Shop, faults: Faults
) -> None:
    """The rotating force m e w^2 of the metal as it is then stays within what the lathe bears."""
    metal = piece.metal
    spans = [(metal.end(k, -1) or 0.0, metal.end(k, 1) or 0.0) for k in range(3)]
    ways = [low + (np.arange(STEPS) + 0.5) * (high - low) / STEPS for low, high in spans]
    points = np.array(np.meshgrid(*ways, indexing="ij")).reshape(3, -1).T
    there = points[metal.has(points)]
    if not len(there):
        return
    cell = float(np.prod([(high - low) / STEPS for low, high in spans])) * 1e-9  # m3
    own = piece.member or members(piece.part)[0]
    kg = len(there) * cell * material(own.blank.material).density_kg_m3
    across = [k for k in range(3) if k != held.line.along]
    out_mm = hypot(*(float(there[:, k].mean()) - held.line.through[k] for k in across))
    slowest = min(shop.speeds("lathe"), default=0.0)
    for operation in operations:
        rpm = float(operation.get("speed_rpm") or 0.0)
        force = kg * out_mm / 1000 * (rpm * pi / 30) ** 2
        if rpm > slowest + 0.5 and force > SHAKES_N:
            numbers = faults.numbers
            faults.refuse(
                "route-speed",
                f"{numbers.spindle_speed(rpm)} with {numbers.mass(kg)} {faults.mm(out_mm)} off the"
                " spindle",
                f"it shakes the lathe with {numbers.force(force)}, over {numbers.force(SHAKES_N)}",
                "Take a slower speed, or the faceplate with a counterweight",
            )
            return
