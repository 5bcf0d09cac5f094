"""The plug that holds a tube's far end on the tailstock where the shop tacks it on its own lathe.

It slides into the tube as it is before its bore is bored, its shoulder comes past the shank, and it
stands out so far that the tailstock's barrel stays behind what runs on beside it. Imported by
planner.walking.aided.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from parts import features as f
from parts.blank import Member
from parts.frame import Box, Point
from parts.part import Part, members
from parts.standard.materials import material
from planner.job.tables import Job
from planner.walking.records import Record, length_said, number, text
from planner.walking.shop import Shop, shop_of
from planner.walking.wanted import Said, Wanted

INSIDE_MM = 10.0
"""So much of it is in the tube at the least: with less it does not lie along it (common practice)."""

BARREL_MM, CENTRE_OUT_MM = 32.0, 25.0
"""A small lathe's tailstock barrel, and how far its centre stands out (common practice)."""

LEDGE_MM = 1.0
"""Its shoulder bears on the tube by so much at the least, all round (common practice)."""

ROOM_MM = 0.5
"""And clears what passes beside it by so much (common practice)."""


def tacking(
    parts: Sequence[Part], job: Job, setups: Sequence[Record], mm: Said
) -> Iterator[Wanted]:
    """The plugs that are wanted: one for each part whose tube is bored in place, where an own arc tacks
    it. Raises Missing."""
    shop = shop_of(job)
    for part in parts:
        own = [one for one in setups if one.get("part") == part.name]
        there = [int(number(one, "number")) for one in own if one.get("machine") == "welder"]
        tube = _tube(part)
        if there and tube is not None and _by_arc(part, job):
            yield _plug(min(there), part, tube, shop, mm)


def _by_arc(part: Part, job: Job) -> bool:
    """Whether an own arc tacks it: no flame, and no high frequency, as light metal takes but by MIG."""
    owned = job.shop.machines.get("welder")
    light = any(material(one.blank.material).group == "aluminium" for one in members(part))
    return owned is not None and owned.process != "gas" and (not light or owned.process == "MIG")


def _tube(part: Part) -> tuple[Member, f.Bore] | None:
    """The tube of a part that is bored when it is welded, and the bore."""
    for one in part.features:
        if isinstance(one, f.Bore) and one.stage is f.Stage.IN_PLACE:
            for member in members(part):
                if member.blank.section.shape == "tube" and _off(
                    member.blank.box.placed(member.frame), one.axis.origin, _along(one)
                ) == (0.0, 0.0):
                    return member, one
    return None


def _along(one: f.Bore) -> int:
    return "xyz".index(one.axis.along[1])


def _off(box: Box, at: Point, along: int) -> tuple[float, float]:
    """How far a box lies beside a line, each way."""
    one, other = (max(box.low[i] - at[i], at[i] - box.high[i], 0.0) for i in range(3) if i != along)
    return one, other


def _plug(place: int, part: Part, found: tuple[Member, f.Bore], shop: Shop, mm: Said) -> Wanted:
    tube, bore = found
    section, along = tube.blank.section, _along(bore)
    inside = section.width_mm - 2 * section.thickness_mm
    own = tube.blank.box.placed(tube.frame)
    # no wider than the tube: the cheek ends with it
    past, near = 0.0, section.width_mm / 2 + ROOM_MM
    for one in members(part):
        box = one.blank.box.placed(one.frame)
        far = max(box.high[along] - own.high[along], own.low[along] - box.low[along])
        if one.name == tube.name or far <= 0.0:
            continue
        off = _off(box, bore.axis.origin, along)
        near = min(near, hypot(*off))
        if hypot(*off) < BARREL_MM / 2:
            past = max(past, far)
        if hypot(max(off) - shop.post_out_mm, shop.post_under_mm) < BARREL_MM / 2:
            past = max(past, min(far, 1.0 + shop.post_mm))

    def shoulder(one: Record) -> float:
        said = length_said(r"a shoulder of (\d[\d./-]*)", text(one, "made"), shop.inch)
        return said or number(one, "stock_mm")

    return Wanted(place, "tacking plug", inside, (
        (lambda one: shoulder(one) >= inside + 2 * LEDGE_MM - 0.01,
         "no shoulder is left", f"at least {mm(inside + 2 * LEDGE_MM)} across"),
        (lambda one: shoulder(one) / 2 <= near - ROOM_MM + 0.01,
         "its shoulder is in the way of what runs past it",
         f"that is {mm(near)} from the tube's axis"),
        (lambda one: number(one, "long_mm") - INSIDE_MM + CENTRE_OUT_MM >= past - 0.05,
         "too short", f"{mm(past)} run on behind the tube beside the tailstock's barrel"),
        (lambda one: "centred" in text(one, "made"),
         "it has no centre hole", "the tailstock holds it"),
        (lambda one: "paper" in text(one, "made"),
         "nothing lies between it and the tube", "current never passes a bearing"),
    ))  # fmt: skip
