"""What is turned about a piece's own axis later, on the welded whole: its ends are made for that.

Imported by making.chucked and making.turned.
"""

from __future__ import annotations

from math import hypot

from parts import features as f
from parts.features import Stage
from parts.frame import vector
from planner.making.model import Workpiece
from planner.making.near import same


def _later(on: Workpiece, low: bool) -> list[f.TurnedDiameter]:
    """What is turned after welding about this piece's own axis, as far as its end."""
    member = on.member
    if member is None or on.part.blank is member.blank:
        return []
    at = member.frame.place((0.0 if low else member.blank.length_mm, 0.0, 0.0))
    found = []
    for one in on.part.features:
        if not isinstance(one, f.TurnedDiameter) or one.stage is not Stage.WELDED:
            continue
        way = vector(one.axis.along)
        from_origin = [a - b for a, b in zip(at, one.axis.origin, strict=True)]
        far = sum(a * b for a, b in zip(from_origin, way, strict=True))
        off = hypot(*(a - far * b for a, b in zip(from_origin, way, strict=True)))
        if same(off, 0.0) and same(one.end_mm, far):
            found.append(one)
    return found


def centre_later(on: Workpiece, low: bool) -> bool:
    """Whether an end must run on a centre when the whole is turned."""
    return bool(_later(on, low))


def end_later(on: Workpiece, low: bool) -> float:
    """How thin an end becomes later, mm; 1000 where it stays."""
    return min([*(one.diameter.nominal_mm for one in _later(on, low)), 1000.0])
