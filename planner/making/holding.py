"""How each piece of stock is held while it is worked, and what that adds to its length.

The cut list takes the allowances from here and the route takes the holding, so they cannot disagree.
"""

from __future__ import annotations

from enum import StrEnum
from math import inf

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.features import (
    FacedLength,
    Feature,
    Hole,
    Thread,
    Turned,
    TurnedBall,
    TurnedDiameter,
)
from parts.part import Joined, Member, Stock, members
from parts.standard.holding import holding_limit
from parts.standard.sections import Section
from parts.standard.series import Series
from parts.standard.threads import thread
from parts.value import Value
from planner.job.tables import Job
from planner.job.usual import THROUGH_MM, kit

FACING_MM = 1.0
"""Left on each sawn end to face (common practice: 1 mm after a bandsaw, a little more by hand)."""

PARTING_MM = 3.0
"""Width of a parting tool: what is lost between pieces turned off the bar (common practice)."""

CLEAR_MM = 1.0
"""Between the jaws and a parting tool (common practice)."""

ROUGHED_MM = 0.1
"""Limits closer than this are roughed first (common practice)."""

SOFT_JAWS = "soft jaws, bored to it"
"""What goes between where the chuck has jaws to bore."""

SOFT_LEAST_MM = 12.0
"""They are bored to no less: a boring bar does not go in (common practice)."""

BUSH_LEAST_MM = 7.5
"""A split bush is bored to no less: in a smaller hole a bar of 6 has no room for its chips, and a drill
leaves none of the work's own size (common practice)."""

NECK, LEAST_NECK_MM = 1 / 3, 6.0
"""Long work is parted to a neck of so much of its thickness, and sawn off it (common practice)."""

PARTED = "Tool on centre and square, close to the jaws; stand clear of what falls"
PARTED_LONG = (
    "Tool on centre and square, never right through under power: nothing carries its far end"
)

BAR_BEHIND = (
    "What of the bar stands out behind the headstock whips: saw it so short that it ends in the"
    " spindle, or run it in a fixed tube, guarded"
)

SHORTEST_GRIP_MM = 15.0
"""Left to hold by, at the least (common practice)."""


SHORT_OUT = 1.5
"""Work that stands out no more times its diameter is held by less of it than a diameter (common
practice)."""

LEAST_GRIP_MM = 10.0
"""Work that stands out farther is gripped no shorter, however thin (common practice)."""

HALF_HELD = 0.45
"""Short work is held by so much of its length, whatever its diameter (common practice: half of it)."""

JAW_OF_CHUCK = 5.0
"""Where it is not said, a chuck's jaws stand out of it by its diameter over this (common practice)."""

SAWN_OVER_MM = 2.0
"""A piece comes off the saw so much longer than it was meant at the most, by the stop's step: jaws are
taken to be so much shorter where they are barely long enough (1/16 in is 1.6)."""


def jaws_mm(job: Job) -> float:
    """How deep the chuck's jaws grip, mm: as far as they stand out of it, where that is said."""
    return job.lathe.jaw_reach or job.lathe.chuck_diameter / JAW_OF_CHUCK


def deepest_mm(round_mm: float, job: Job) -> float:
    """How deep a round goes into the chuck at the most: behind the jaws, where it passes its bore."""
    own = kit(job)
    return max(own.chuck_depth_mm if own.passes(round_mm) else 0.0, jaws_mm(job))


def least_grip_mm(thick_mm: float, out_mm: float, whole_mm: float) -> float:
    """How much of a round in the jaws holds what stands out of them, mm; whole_mm: its length."""
    if out_mm > SHORT_OUT * thick_mm:
        return max(holding_limit("grip", "long work") * thick_mm, LEAST_GRIP_MM)
    share = "stub" if out_mm <= thick_mm else "short work"
    return min(holding_limit("grip", share) * thick_mm, HALF_HELD * whole_mm)


def facing_mm(series: Series) -> float:
    """Left on each sawn end to face."""
    return series.nominal(FACING_MM)


def neck_mm(thick_mm: float) -> float:
    """What long work so thick is parted to, and sawn off by hand, mm."""
    return max(thick_mm * NECK, LEAST_NECK_MM)


def parting_mm(series: Series) -> float:
    """Width of the parting tool."""
    return series.nominal(PARTING_MM)


class Hold(StrEnum):
    """The ways a piece is held."""

    PARTED = "chuck, on a spare grip that is parted off last"
    BAR = "chuck, the bar through the spindle, parted off from it; one grip a bar"
    CHUCK = "chuck, one end after the other"
    VICE = "vice"
    ASIS = "as bought"


class Holding(Value, frozen=True):
    """How one piece is held; facing_mm both ends together, grip_mm the spare length to hold by.

    In inches one of them has what is sawn over a whole step of the saw's stop, the facing's at x high.
    Held in the bar (Hold.BAR) the grip is one for all pieces of a bar. centre: whether it needs the
    tailstock's centre while it is turned.
    """

    hold: Hold
    facing_mm: float
    grip_mm: float
    centre: bool = False


def one_by_one(held: Holding, job: Job) -> str:
    """What is said where several are made off one bar: it has one end, the next one's is in it."""
    if job.attachment.quantity == 1:
        return ""
    end = "faced and centred" if held.centre else "faced"
    return (
        f"the {job.attachment.quantity} one after the other, each through to its parting off; only then"
        f" is the bar drawn out for the next, its end {end}"
    )


def holdings(attachment: Attachment, job: Job) -> dict[tuple[str, str], Holding]:
    """How every piece is held, by part and piece.

    Where all pieces of a section and material are made on the end of a length and parted off, and the
    bar goes through the spindle, they are turned off the bar itself: one grip serves all of a bar.
    """
    held: dict[tuple[str, str], Holding] = {}
    groups: dict[tuple[Section, str], list[tuple[str, str]]] = {}
    for part in attachment.parts:
        for member in members(part):
            key = (part.name, member.name)
            welded = isinstance(part.blank, Joined)
            held[key] = holding(member, welded, job.series, jaws_mm(job))
            stock = member.blank
            groups.setdefault((stock.section, stock.material), []).append(key)
    bore = job.lathe.spindle_bore
    others = {(piece.section, piece.material) for piece in job.piece}
    for (section, material), keys in groups.items():
        through = bore is not None and section.width_mm + THROUGH_MM <= bore
        if (
            through
            and (section, material) not in others
            and all(held[key].hold is Hold.PARTED for key in keys)
        ):
            for key in keys:
                held[key] = replace(held[key], hold=Hold.BAR)
    for part in attachment.parts:
        for member in members(part):
            one = held[part.name, member.name]
            if one.hold not in (Hold.BAR, Hold.ASIS) and not from_sheet(member.blank, job):
                facing, grip = sawn(member.blank.length_mm, one.facing_mm, one.grip_mm, job)
                held[part.name, member.name] = replace(one, facing_mm=facing, grip_mm=grip)
    return held


def sawn(length_mm: float, facing_mm: float, grip_mm: float, job: Job) -> tuple[float, float]:
    """What is faced and what is gripped of a piece, so that the saw's stop has its length, mm.

    In inches what the stop is over goes to the grip, or is faced off where there is none; metric, the
    stop's half millimetres are less than what a hacksaw is off, and both stay as they are.
    """
    if not job.inch:
        return facing_mm, grip_mm
    whole = length_mm + facing_mm + grip_mm
    over = job.numbers.saw_stop_mm(whole) - whole
    return (facing_mm, grip_mm + over) if grip_mm else (facing_mm + over, 0.0)


def from_sheet(stock: Stock, job: Job) -> bool:
    """Whether a flat piece is cut from a sheet: one of its thickness and material lies in the shop."""
    return stock.section.shape == "flat" and any(
        abs(row.thickness - stock.section.thickness_mm) < 0.01 and row.material == stock.material
        for row in job.shop.sheet
    )


THIN_MM = (0.8, 6.0)
"""Sheet that templates and a jig are cut from: stiff enough to scribe by, thin enough to cut well."""


def thin_sheet(job: Job) -> tuple[float, str] | None:
    """The thickness and material of the shop's thinnest sheet that does for them, None without one."""
    rows = {(round(row.thickness, 4), row.material) for row in job.shop.sheet}
    return min((key for key in rows if THIN_MM[0] <= key[0] <= THIN_MM[1]), default=None)


BY_DIALS = ("mill", "milling slide")
"""Machines that bring a drill to its place by their dials."""


def is_axial(feature: Feature) -> bool:
    """Whether a feature lies about its blank's own axis, so that it is lathe work."""
    if isinstance(feature, Turned | Hole):
        axis = feature.axis
    else:
        return False
    return axis.along[1] == "x" and abs(axis.origin[1]) < 1e-9 and abs(axis.origin[2]) < 1e-9


def holding(member: Member, welded: bool, series: Series, jaws_mm: float = inf) -> Holding:
    """How a piece is held.

    member: the piece; welded: whether it goes into a weldment; series: of the design; jaws_mm: how deep
    the chuck's jaws grip. What can all be
    turned from one end, and stands out no farther than a chuck, or a chuck and a centre, holds it, is
    made on a spare grip and parted off; everything else is held by one end after the other.
    """
    stock = member.blank
    if not any(isinstance(feature, FacedLength) for feature in member.features):
        return Holding(Hold.ASIS, 0.0, 0.0)
    both_ends = 2 * facing_mm(series)
    if stock.section.shape not in ("round", "tube"):
        facing = 0.0 if stock.material == "HSS" else both_ends
        return Holding(Hold.VICE if facing else Hold.ASIS, facing, 0.0)
    turned = [f for f in member.features if is_axial(f) and isinstance(f, Turned)]
    covered = sum(f.end_mm - f.start_mm for f in turned if isinstance(f, TurnedDiameter))
    bored = any(is_axial(f) and isinstance(f, Hole) for f in member.features)
    if not turned and not bored:
        return Holding(Hold.CHUCK, both_ends, 0.0)
    if covered and covered < 0.7 * stock.length_mm or not from_one_end(member):
        return Holding(Hold.CHUCK, both_ends, 0.0)
    thick = stock.section.width_mm
    out = stock.length_mm + facing_mm(series) + parting_mm(series) + CLEAR_MM
    fine = any(f.diameter.upper_mm - f.diameter.lower_mm < ROUGHED_MM for f in turned
               if isinstance(f, TurnedDiameter))  # fmt: skip
    cut = (
        "chuck only, roughing" if fine else "chuck only, finishing"
    )  # what is not fine has light cuts
    widest = max(
        [f.diameter.nominal_mm for f in turned if isinstance(f, TurnedDiameter)] or [thick]
    )
    centre = out > holding_limit("work", cut) * (thick if fine else widest)
    thin = min([f.diameter.nominal_mm for f in turned if isinstance(f, TurnedDiameter)] or [thick])
    if centre and out > holding_limit("work", "chuck and centre") * thin:
        return Holding(Hold.CHUCK, both_ends, 0.0)
    # it stands out by what is faced off its second end as well
    stands = out + both_ends - facing_mm(series)
    short = stands <= SHORT_OUT * thick
    share = "short work" if short else "long work"  # the centre is drawn back for parting
    beside, deep = parting_mm(series) + CLEAR_MM, jaws_mm - (SAWN_OVER_MM if series.inch else 0.0)
    least = max(LEAST_GRIP_MM, holding_limit("grip", share) * thick)
    barely = deep < least_grip_mm(thick, stands, stands + deep)
    rounded = any(isinstance(one, TurnedBall) for one in turned)
    if barely and not (covered and (short or rounded)):  # what has no end to hold by is parted off
        return Holding(Hold.CHUCK, both_ends, 0.0)
    grip = series.up(max(SHORTEST_GRIP_MM, least + beside), 1.0)
    grip = min(grip, max(deep, SHORTEST_GRIP_MM - beside) + beside)
    return Holding(Hold.PARTED, both_ends, grip, centre)


def from_one_end(member: Member) -> bool:
    """Whether every thread is reached from the end at x = 0, with nothing thicker before it."""
    turned = [f for f in member.features if is_axial(f)]
    if any(isinstance(f, Hole) and f.axis.along != "+x" for f in turned):
        return False
    threads = [one for one in turned if isinstance(one, Thread)]
    thick = [one for one in turned if isinstance(one, TurnedDiameter)]
    return not any(
        other.start_mm < one.start_mm - 1e-6
        and other.diameter.nominal_mm > thread(one.thread).major_mm + 0.1
        for one in threads
        for other in thick
    )
