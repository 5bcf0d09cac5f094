"""The fewest set-ups that any order of the work has: each piece held once in each way, but where rules
of the trade put other work between.

A bound by counting: of the set-ups that hold one piece in one way, those that must follow each other
with another holding between are so many set-ups in any order. Imported by making.route.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from parts.features import Stage
from planner.making.model import SetUp

REASONS = {
    "stage": "pieces are made before they are joined, joined before the whole is made, slit last",
    "ends": "the ends are what the rest is measured from",
    "dressed": "a weldment is dressed before it is gripped or stands on anything",
    "cleaned": "what is welded is cleaned last: oil and chips of other work would spoil it",
    "roughed": "a surface is roughed before it is finished",
    "datum": "a feature comes after the one it is measured from",
}
"""Why one set-up of a piece comes before another in any order, each common practice."""


def least_setups(setups: Sequence[SetUp]) -> int:
    """No order has fewer set-ups than this."""
    pieces: dict[tuple[str, str], list[SetUp]] = {}
    for one in setups:
        pieces.setdefault((one.part, one.piece), []).append(one)
    return sum(_least(own) for own in pieces.values())


def _least(own: Sequence[SetUp]) -> int:
    """Of one piece: for each holding the longest line of set-ups that others must part."""
    ways: dict[object, list[int]] = {}
    for i, one in enumerate(own):
        ways.setdefault(one.holding, []).append(i)
    found = 0
    for holding, places in ways.items():
        longest: dict[int, int] = {}
        for j in places:
            before = [i for i in longest if _parted(own, i, j, holding)]
            longest[j] = 1 + max((longest[i] for i in before), default=0)
        found += max(longest.values())
    return found


def _parted(own: Sequence[SetUp], i: int, j: int, holding: object) -> bool:
    """Whether another holding must come between two set-ups."""
    return any(
        own[k].holding != holding and why(own[i], own[k]) and why(own[k], own[j])
        for k in range(i + 1, j)
    )


def why(one: SetUp, other: SetUp) -> str:
    """Why a set-up comes before a later one of the same piece in any order, a key of REASONS; "" for
    no reason."""
    stages = list(Stage)
    if stages.index(one.stage) < stages.index(other.stage):
        return "stage"
    if _makes_length(one) and not _makes_length(other):
        return "ends"
    if one.stage is Stage.WELDED and _dresses(one):
        return "dressed"
    if other.stage is Stage.BLANK and _dresses(other):
        return "cleaned"
    made = {op.feature.name for op in one.ops if op.feature is not None}
    for op in other.ops:
        if op.feature is None:
            continue
        if op.feature.name in made and op.last:
            return "roughed"
        member = other.on.member
        datums = member.datums if member is not None and other.on.piece else other.on.part.datums
        if any(datums[at.datum].of in made for at in op.feature.locations if at.datum in datums):
            return "datum"
    return ""


def _makes_length(one: SetUp) -> bool:
    return any(isinstance(op.feature, f.FacedLength) for op in one.ops)


def _dresses(one: SetUp) -> bool:
    return any(op.kind == "dress" for op in one.ops)
