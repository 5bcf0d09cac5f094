"""Pieces, holdings and operations to ask single questions of the walk with; lengths in mm."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace
from walk_records import bar

from parts import features as f
from parts.frame import Axis, Box
from parts.part import Part
from parts.standard.sections import Section
from planner.walking.cuts import Cut
from planner.walking.doing import Doing
from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.shape import Line, OffBall, Ring
from planner.walking.shop import Shop
from planner.walking.state import Mark, Piece, sawn
from planner.words.numbers import METRIC

X = Line(0, 1, (0.0, 0.0, 0.0))
ALONG: Any = Axis((0.0, 0.0, 0.0), "+x")
BACK: Any = Axis((50.0, 0.0, 0.0), "-x")
TENTH = f.Limits(20.0, 0.1, -0.1, "")
SIX = f.Limits(6.0, 0.1, -0.1, "")


def rod(size: float = 20.0, low: float = 0.0, high: float = 200.0, *features: f.Feature) -> Piece:
    """A round bar between two ends."""
    part: Part = bar("rod", Section("round", size), 300.0, "S355", *features)
    return sawn(part, "rod", low, high)


class Told(Faults):
    """What is refused, by code; ``last`` is the whole of the last."""

    def __init__(self) -> None:
        super().__init__("job.toml", METRIC)

    @property
    def codes(self) -> list[str]:
        return [one.code for one in self.found]

    @property
    def last(self) -> tuple[str, str]:
        return self.found[-1].value, self.found[-1].limit


def turned(kind: type[f.Feature], axis: Any = ALONG, **sizes: Any) -> f.Feature:
    return kind(**({"name": "x", "datum": "A", "axis": axis} | sizes))


def ends(one: Any) -> list[float]:
    """The figures of a region, to a thousandth."""
    if isinstance(one, Ring):
        found = [one.low, one.high, one.outer, one.inner]
    elif isinstance(one, OffBall):
        found = [one.middle[one.along], one.radius, one.low, one.high]
    else:
        found = [*one.low, *one.high]
    return [round(value, 3) + 0.0 for value in found]


LOC = (f.Location("A", "+z", f.Limits(5.0, 0.05, -0.15, ""), "z-low"),)
BOX = Box((0.0, -8.0, 5.0), (30.0, 8.0, 9.0))


def held(front: float, by: str = "three-jaw chuck", grip: float = 30.0, sign: int = 1) -> Held:
    """Jaws on round 20 that end so far out; sign: which way the work's own line runs."""
    found = Held(Line(0, sign, (0.0, 0.0, 0.0)), by)
    found.grips.append((front - grip, front, 20.0, False))
    return found


SHOP = Shop(
    {}, (2.0, 95.0), (25.0, 90.0), (5.0, 95.0), (), 20.0, 80.0, 40.0, True, 100.0, (), (), ()
)
WIDE = replace(SHOP, through_mm=40.0)


def centred(at: float, sign: int, depth: float = 5.0) -> Mark:
    return Mark("centre", Line(0, -sign, (0.0, 0.0, 0.0)), at, at, 2.5, False, sign)


def doing(piece: Piece, cut: Cut | None = None, kind: str = "turn", **operation: Any) -> Doing:
    """An operation on the lathe as the checks look at it."""
    record = {"tool": {"kind": "", "name": "x"}, "feature": "", **operation}
    return Doing(piece, record, {}, kind, "lathe", cut or Cut("none"), None, Told())


def codes(do: Doing) -> list[str]:
    return [one.code for one in do.faults.found]
