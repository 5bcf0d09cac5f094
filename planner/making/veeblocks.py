"""The pair of V-blocks of a shop that has none: for every round that lies in them, held or measured.

Imported by making.aids.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts.features import TurnedDiameter
from parts.part import every_feature
from planner.making.model import SetUp

if TYPE_CHECKING:
    from planner.making.aids import Aid

NAME = "V-block"

IN_THEM = "the round in V-blocks"
"""How a height over a round is read from a plate: words of making.ways.milled."""

MADE = (
    "a pair sawn from one bar and clamped together; a vee of 90 degrees sawn and filed through both at"
    " once, a run-out slot at its bottom; true when a round lies in both and an indicator reads the"
    " same at both ends"
)

LONG_MM, WIDER_MM = 30.0, 10.0
"""Of one, and how much wider than its round (common practice)."""


def rounds(setup: SetUp) -> Iterator[float]:
    """How thick each round is that lies in V-blocks in a set-up, mm."""
    if setup.hold.by == "V-blocks":
        yield from (grip.size_mm for grip in setup.hold.grips)
    lying = {m.start for op in setup.ops for m in op.measures if m.how.startswith(IN_THEM)}
    for _, one in every_feature(setup.on.part):
        if isinstance(one, TurnedDiameter) and f"{one.name}.round" in lying:
            yield one.diameter.nominal_mm


def one_pair(every: Sequence[Aid]) -> Iterator[Aid]:
    """The aids with one pair, made before the first is wanted: the widest takes all rounds."""
    pairs = [one for one in every if one.name == NAME]
    for one in every:
        if one.name != NAME:
            yield one
        elif one is pairs[0]:
            yield replace(max(pairs, key=lambda o: o.section.width_mm), setup=one.setup)
