"""Which side of the work is up is said, where it is not all one.

Imported by planner.walking.walk.
"""

from __future__ import annotations

import re

from parts import features as f
from planner.walking.faults import Faults
from planner.walking.finished import line_of
from planner.walking.records import Record, direction, rows, table
from planner.walking.shape import Ring
from planner.walking.state import Piece

SIDED = ("machine vice", "cross slide")
"""What holds work any side up."""

OTHERWISE = re.compile(r"standing on|its end toward|side to be slit")
"""What tells the side in other words."""


LIES = re.compile(r", [^,;]+ gripped\b|, on (?:parallels|two short packings, clear of [^,;]+)")
"""What tells how deep work lies and on what, never which of its sides looks up."""


ON_A_ROUND = re.compile(r"turned (?:a quarter|half a) turn")
"""What is said of a round that is turned on about its axis."""


class WayUp:
    """The ways up that the work of a route had, by all that was said of how it was held."""

    def __init__(self) -> None:
        self.ups: dict[tuple[str, ...], str] = {}

    def look(self, setup: Record, faults: Faults, piece: Piece | None = None) -> None:
        """Work that is held with another side up than before is not held by the same words; where its
        sides are told apart, the one that is up is named."""
        up = (setup.get("hold") or {}).get("up")
        if not up or setup.get("machine") == "bench":
            return  # by hand one sees which side is worked on
        names = [str(setup.get(key)) for key in ("part", "piece", "machine")]
        names.append(LIES.sub("", str(setup.get("holding"))))
        whats = (str(one.get("what")) for one in rows(setup, "align"))
        before = self.ups.setdefault((*names, *whats), str(up))
        if before != up:
            faults.refuse(
                "route-words",
                f'"{setup.get("holding")}"',
                f"said before with {before} up, now {up} is",
                "Say how far the work is turned, or which side is up",
            )
        holding = str(setup.get("holding"))
        turned = ON_A_ROUND.search(holding) and "scribed" not in holding
        if turned and piece is not None and _round_across(piece, str(up)):
            faults.refuse(
                "route-words",
                f'"{holding}"',
                "a round has no side to tell how far it is turned by",
                "Say by what it is set: lines scribed across its end, and a square",
            )
        side = f"{up} side"
        if piece is not None and _sided(setup, piece, str(up)) and side not in str(names_of(setup)):
            faults.refuse(
                "route-words",
                f'"{setup.get("holding")}"',
                "which side is up is not said",
                f"Say that its {side} is",
            )


def _round_across(piece: Piece, up: str) -> bool:
    """Whether it is one round that lies across what is up."""
    (first, *more) = piece.metal.bodies
    along = direction(up, "hold.up")[0]
    return not more and isinstance(first.stock, Ring) and first.stock.along != along


def _sided(setup: Record, piece: Piece, up: str) -> bool:
    """Whether work lies in a vice or on the cross slide any way up, but is made on one side alone: a
    weldment, or a piece that is bored across what is up."""
    holding = str(setup.get("holding"))
    if table(setup, "hold").get("by") not in SIDED or OTHERWISE.search(holding):
        return False
    along = direction(up, "hold.up")[0]
    bores = [line_of(one.axis).along for one in piece.features.values()
             if isinstance(one, f.Bore) and one.name in piece.made]  # fmt: skip
    if piece.member is None and len(piece.metal.bodies) > 1:
        return True
    return along != 0 and any(one != along for one in bores)


def names_of(setup: Record) -> list[str]:
    """What is said of how work is held and set."""
    whats = [str(one.get("what")) for one in rows(setup, "align")]
    return [str(setup.get("holding")), *whats]
