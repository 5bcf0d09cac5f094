"""What goes between metals that run on each other: oil, or more where they seize on their like.

Imported by making.assembly and making.trueto.
"""

from __future__ import annotations

from collections.abc import Iterable

from parts.part import Part, members
from parts.standard.materials import galls, material

PASTE = "anti-seize paste"
OILED = "oiled"
SMEARED = {"aluminium": "greased", "stainless steel": f"smeared with {PASTE}"}
"""How what runs on its like is put together, by the group that tears and seizes there (common
practice): oil is wiped off by the first turn."""


def apart(*pairs: tuple[str, str]) -> str:
    """How metals that run on each other are put together where one of the pairs seizes, else ""."""
    return next((SMEARED[material(one).group] for one, other in pairs if galls(one, other)), "")


def apart_in(part: Part, others: Iterable[Part]) -> str:
    """The same of a part, by its pieces, in or under others."""
    own = [one.blank.material for one in members(part)]
    their = [one.blank.material for other in others for one in members(other)]
    return apart(*((one, other) for one in own for other in their))
