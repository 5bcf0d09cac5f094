"""What milling and drilling ask about a piece: weld preparations, open sides, datum surfaces, notches.

Imported by making.across and the ways.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts import features as f
from parts.features import Location
from parts.frame import Box
from parts.part import Joined, Part
from parts.places import surface
from parts.standard.fits import Limits
from planner.making import bodies as b
from planner.making.model import Measure, Op, Tool, Workpiece
from planner.making.near import below, middle

if TYPE_CHECKING:
    from planner.making.across import Across


def opened_later(part: Part, one: f.Hole) -> str:
    """What a hole opens into where that is made at a later stage, "" where it is there."""
    stages = list(f.Stage)
    for other in part.features:
        if other.name == one.opens_into and stages.index(other.stage) > stages.index(one.stage):
            return other.name
    return ""


def laid_out(machine: str) -> str:
    """What brings a drill to its place on a machine."""
    if machine in ("mill", "milling slide"):
        return "edge finder and dials"
    return "scribed lines and a punch mark"


def welded_round(on: Workpiece, one: f.Hole) -> bool:
    """Whether a hole of a piece is welded round its mouth, in a bevel or by a plug weld."""
    weld = _weld_of(on, one)
    return weld is not None and weld.kind in PREPARED


PREPARED = ("bevel", "plug")
"""Welds that lie in a preparation, cut before."""


def bevelled(on: Workpiece) -> list[f.Weld]:
    """The welds whose bevel lies along an edge of a piece: of the first named of the two pieces."""
    blank = on.part.blank
    if not isinstance(blank, Joined) or on.member is None:
        return []
    holes = [one for m in blank.members for one in m.features if isinstance(one, f.Hole)]
    round_a_hole = {
        weld.name
        for m in blank.members
        for one in holes
        if (weld := _weld_of(Workpiece(on.part, m), one)) is not None
    }
    return [
        weld
        for weld in blank.welds
        if weld.kind in PREPARED
        and weld.members[0] == on.member.name
        and weld.name not in round_a_hole
    ]


def _weld_of(on: Workpiece, one: f.Hole) -> f.Weld | None:
    """The weld between the piece of a hole and the piece that goes into it."""
    blank = on.part.blank
    if not isinstance(blank, Joined) or on.member is None:
        return None
    for agreement in on.part.agreements:
        if agreement.kind != "coaxial":
            continue
        ends = [surface(agreement.one)[0], surface(agreement.other)[0]]
        if f"{on.member.name}/{one.name}" not in ends:
            continue
        other = next(end for end in ends if end != f"{on.member.name}/{one.name}").split("/")[0]
        for weld in blank.welds:
            if set(weld.members) == {other, on.member.name}:
                return weld
    return None


def mouth(work: Across, one: f.Hole) -> Op:
    """The preparation of a weld round the mouth of a hole."""
    weld = _weld_of(work.on, one)
    assert weld is not None
    leg = weld.leg_mm
    wide = getattr(one, "diameter").nominal_mm + 2 * leg  # noqa: B009
    tool = Tool("countersink", "countersink, or a tool set over 45 degrees", wide, leg)
    text = (
        f"chamfer the mouth of the {one.name} {work.numbers.size(leg)} x"
        f" {work.numbers.drawn_angle(45)}"
    )
    return Op("chamfer", f"{text} for the weld", tool, None, minutes=3.0,
              speed=("part", wide))  # fmt: skip


def open_sides(work: Across, one: f.Removed) -> tuple[str, ...]:
    """The sides where a cut comes out of the metal it is in."""
    own = b.owner(work.bodies, middle(one.box))
    found = []
    for i, letter in enumerate("xyz"):
        if not below(own.low(i), one.box.low[i]):
            found.append(f"-{letter}")
        if not below(one.box.high[i], own.high(i)):
            found.append(f"+{letter}")
    return tuple(found)


def notch_measures(work: Across, one: f.SawnNotch) -> tuple[Measure, ...]:
    """The two sizes of a notch from its datums."""
    found = []
    for location in one.locations:
        end = f"{one.name}.{location.element}"
        found.append(work.gauges.length(location.size, datum_surface(work, location), end, "depth"))
    return tuple(found)


def datum_surface(work: Across, location: Location) -> str:
    """The name of the surface a location is measured from."""
    owner = work.on.member if work.bodies[0].name == "blank" and work.on.piece else None
    datums = owner.datums if owner else work.on.part.datums
    datum = datums[location.datum]
    return f"{datum.of}.{datum.element}"


def wide(box: Box, width: Limits) -> str:
    """The direction that a slot is wide in."""
    sizes = box.size()
    return "xyz"[min(range(3), key=lambda i: abs(sizes[i] - width.nominal_mm))]
