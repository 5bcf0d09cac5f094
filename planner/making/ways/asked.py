"""What milling and drilling ask about a piece: weld preparations, open sides, datum surfaces, notches.

Imported by making.across and the ways.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, degrees, hypot, radians
from typing import TYPE_CHECKING

from parts import features as f
from parts import hinge
from parts.features import Location
from parts.frame import Box
from parts.part import Joined, Part, members
from parts.places import surface
from parts.standard.fits import Limits
from planner.making import bodies as b
from planner.making.holding import BY_DIALS, thin_sheet
from planner.making.model import Align, Measure, Op, Tool, Workpiece
from planner.making.near import below, middle, way_of

if TYPE_CHECKING:
    from planner.job.tables import Job
    from planner.making.across import Across


JIGGED = ("rod bore", "feed screw hole")
"""Bores of the block that its drilling jig marks."""

TURNED_DEG = 1.0
"""Work is turned by a line on its rim within this (ISO 2768-1 m, angles, to 10 mm)."""


def opened_later(part: Part, one: f.Hole) -> str:
    """What a hole opens into where that is made at a later stage, "" where it is there."""
    stages = list(f.Stage)
    for other in part.features:
        if other.name == one.opens_into and stages.index(other.stage) > stages.index(one.stage):
            return other.name
    return ""


def hollow(part: Part, one: f.Hole, deep_mm: float) -> str:
    """The tube whose own bore a drill comes out in so deep, "" for metal all the way."""
    for member in members(part):
        section = member.blank.section
        if section.shape != "tube":
            continue
        end, at = one.axis.at(deep_mm), member.frame.place((0.0, 0.0, 0.0))
        along = member.frame.turned(0)
        off = sum((end[i] - at[i]) ** 2 for i in range(3) if i != along) ** 0.5
        if off < section.width_mm / 2 - section.thickness_mm:
            return member.name
    return ""


def clocked(work: Across, group: Sequence[f.Hole], up: str) -> tuple[Align, ...]:
    """What a disc on its end is turned by in the vice, before holes off its axis: a line on its rim."""
    on = work.on.member if work.on.piece and work.on.member else work.on.part
    mark = next((one for one in on.features if isinstance(one, f.IndexMark)), None)
    k, sign = way_of(up)
    i, j = (2, 0) if k == 1 else (0, 1) if k == 2 else (2, 1)  # from here, and toward there
    if mark is None or not group or way_of(mark.axis.along)[0] != k:
        return ()
    first, about = group[0], mark.axis.origin
    to, off = (first.axis.origin[n] - about[n] for n in (i, j))
    if hypot(to, off) < 1e-6:
        return ()
    # by the right-hand rule about x, from z, it goes toward -y
    turn = -1 if k == 0 else 1
    hole_deg = degrees(atan2(turn * off, to))
    on_from = (mark.angle_deg * way_of(mark.axis.along)[1] - hole_deg + 180) % 360 - 180
    sense = "counter-clockwise" if on_from * sign > 0 else "clockwise"
    at = f"{abs(on_from):g} ±{TURNED_DEG:g} degrees {sense} of the {first.name}"
    what = f"the {mark.name} {at}, seen from above"
    rim = mark.diameter.nominal_mm / 2
    within = round(rim * radians(TURNED_DEG), 1)
    return (Align(what, f"{mark.name}.round", "protractor", within),)


def leaf(work: Across, depth: Sequence[Location]) -> Iterator[Measure]:
    """The metal between the face that a hinge's depth is taken from and the bore over it: what the
    depth is corrected by."""
    for where in depth:
        face = datum_surface(work, where)
        own, (k, inward) = face.rpartition(".")[0], way_of(where.along)
        body = next((one for one in work.bodies if one.name == own), None)
        bore = next((one for one in work.on.part.features if one.name == hinge.BORE), None)
        if body is None or not isinstance(bore, f.ReamedHole):
            continue
        thick = abs(bore.axis.origin[k] - body.end(k, -inward)) - bore.diameter.nominal_mm / 2
        size = work.shop.job.series.general(thick)
        how = "the leaf under the bore, before the saw goes in"
        yield work.gauges.length(size, face, f"{bore.name}.bore", "outside", how)


def laid_out(machine: str, job: Job, hole: str) -> str:
    """What brings a drill to the place of a hole on a machine."""
    if machine in BY_DIALS:
        return "edge finder and dials"
    if hole in JIGGED and thin_sheet(job) is not None:
        return "the drilling jig's punch mark"
    return "scribed lines and a punch mark"


def templated(work: Across) -> bool:
    """Whether a template of a piece is cut: of flat stock, where there is sheet for one."""
    flat = work.on.member is not None and work.on.member.blank.section.shape == "flat"
    return flat and thin_sheet(work.shop.job) is not None


def welded_round(on: Workpiece, one: f.Hole) -> bool:
    """Whether a hole of a piece is welded round its mouth, in a bevel or by a plug weld."""
    weld = _weld_of(on, one)
    return weld is not None and weld.kind in PREPARED


COUNTERSINK_MM = 31.0
"""The widest countersink that is sold from stock (DIN 335 form C ends there; from memory)."""

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


def mouth(work: Across, one: f.Hole, machine: str = "lathe") -> Op:
    """The preparation of a weld round the mouth of a hole; a tool is set over on a lathe alone."""
    weld = _weld_of(work.on, one)
    assert weld is not None
    leg = weld.leg_mm
    wide = getattr(one, "diameter").nominal_mm + 2 * leg  # noqa: B009
    cut = f"the mouth of the {one.name} {work.numbers.size(leg)} x {work.numbers.drawn_angle(45)}"
    text = f"chamfer {cut} for the weld"
    tools = ["countersink"] if wide <= COUNTERSINK_MM else []
    tools += ["a tool set over 45 degrees"] if machine == "lathe" else []
    if not tools:
        tool = Tool("file", "half-round file, coarse", None, leg)
        return Op("chamfer", f"file {cut}, all round, for the weld", tool, None, minutes=15.0)
    tool = Tool("countersink", ", or ".join(tools), wide, leg)
    return Op("chamfer", text, tool, None, minutes=3.0, speed=("counterbore", wide))


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
        start, how = datum_surface(work, location), f"from {location.datum}"
        found.append(work.gauges.length(location.size, start, end, "depth", how))
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
