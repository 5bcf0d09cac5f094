"""What sits on a boring bar to set its bit, what goes through two parts: does it, and out again; and is
a bore read that a shaft is turned to, and what an indicator reads.

Imported by planner.walking.aided.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from parts import features as f
from parts.fitting import FITS
from parts.part import Part, every_feature
from parts.standard.materials import galls
from planner.job.tables import Job
from planner.job.usual import kit
from planner.walking.faults import Faults
from planner.walking.records import Missing, Record, length_said, number, rows, table, text
from planner.walking.wanted import Said, Wanted

ASTRIDE = 1.0 / sqrt(2.0)
"""A round touches a vee of 90 degrees on lines so much of its diameter apart."""

APEX = (sqrt(2.0) - 1.0) / 2.0
"""And the vee's bottom lies so much of it above the round."""

LOOSE_MM = 0.5
"""A bit that comes up into a hole is so much thinner than that (common practice)."""

PULLED_MM = 5.0
"""A rod that goes through two parts is pulled out again by so much at the least (common practice)."""


SAME_MM = 0.006
"""Sizes are said to a hundredth."""

CHUCKS_MM = (6.5, 8.0, 10.0, 13.0)
"""What drill chucks are made for (common practice)."""

STOP_MM = 2.0
"""It comes so much longer off the saw at the most, by the stop's step (1/16 in is 1.6)."""

JAW_OF_CHUCK = 5.0
"""A chuck's jaws stand out of it by its diameter over this (common practice)."""

PLUG, READ_BY = "plug gauge turned to size", "micrometer"
"""What tries a bore between two sizes; what reads the plug that slides in it."""


def seizes(one: Record, job: Job, faults: Faults) -> None:
    """An aid turns, slides or is tried in what is made with it: of a metal that tears and seizes on its
    like it is of another (common practice): a dead centre or a plug of stainless steel sticks there."""
    own, metals = text(one, "material"), job.materials
    for other in (metals.structure, metals.shaft, metals.screw):
        if galls(own, other):
            wrong = f"{own}, in work of {other}", "it seizes there"
            faults.refuse("route-aid", *wrong, "Make it of plain steel")
            return


def as_told(operations: Sequence[Record], faults: Faults) -> None:
    """What is told to be read by an indicator is read with one."""
    for one in operations:
        for measure in rows(one, "measure"):
            name = str(table(measure, "with").get("name"))
            if "indicator" in str(measure.get("how")) and "indicator" not in name:
                faults.key = f"step {one.get('number')}"
                faults.refuse(
                    "route-not-measured",
                    f"{one.get('feature')}: {measure.get('what')}",
                    f"it is told by an indicator, and is to be read with {name}",
                    "Read it as it is told",
                )


def bores_read(operations: Sequence[Record], faults: Faults) -> None:
    """A bore that a shaft is turned to as it came out is read, not only tried: the play goes by it."""
    bores = {(one.hole_part, one.hole) for one in FITS if one.play}
    for one in operations:
        if (one.get("part"), one.get("feature")) not in bores:
            continue
        for measure in rows(one, "measure"):
            tried = table(measure, "with").get("name") == PLUG
            if tried and READ_BY not in str(measure.get("how")):
                faults.key = f"step {one.get('number')}"
                faults.refuse(
                    "route-not-measured",
                    f"{one.get('feature')}: {measure.get('what')}",
                    "the shaft is turned to what it came to, and plugs do not tell that",
                    "Say how it is read: off a plug that slides in it",
                )


def in_drill_chuck(job: Job, one: Record) -> bool:
    """Whether what is held in the tailstock's drill chuck goes into it, whole or turned down there."""
    has = kit(job)
    drills = [one for one in (has.drills_to_mm, *has.drills) if one <= CHUCKS_MM[-1] + SAME_MM]
    most = max(drills, default=CHUCKS_MM[-1])
    takes = next(size for size in CHUCKS_MM if size >= most - SAME_MM)
    down = length_said(r"down to (\d[\d./-]*)", text(one, "made"), job.inch)
    return (down or number(one, "size_mm")) <= takes + SAME_MM


def flat_drill(setup: int, name: str, size_mm: float, operations: Sequence[Record]) -> Wanted:
    """A drill whose end is ground flat is none that drills as well: its point is gone."""

    def kept(one: Record) -> bool:
        return "second drill" in text(one, "made") or not any(
            step.get("kind") == "drill"
            and abs(float(table(step, "tool").get("diameter_mm") or 0.0) - size_mm) < SAME_MM
            for step in operations
        )

    asks = ((kept, "the only drill of its size", "its point is wanted as well"),)
    return Wanted(setup, name, size_mm, asks)


def setting_gauge(
    setup: int, bar_mm: float, bit_mm: float, out_mm: float, inch: bool, mm: Said
) -> Wanted:
    """A gauge whose vee sits on a bar, its indicator down a hole over the bit; out_mm: how far the bit
    stands out of the bar. The hole cuts the vee's sides away, and the bit stands in its mouth."""

    def clears(one: Record) -> bool:
        hole = number(one, "drill_mm")
        wide = length_said(r"opened to (\d[\d./-]*)", text(one, "made"), inch) or hole
        return out_mm < APEX * bar_mm - hole / 2 or bit_mm <= wide - LOOSE_MM + 0.01

    return Wanted(setup, "setting gauge for boring bars", None, (
        (lambda one: number(one, "stock_mm") >= ASTRIDE * bar_mm - 0.01,
         "too narrow", f"it sits astride a bar of {mm(bar_mm)}"),
        (clears, "it does not sit down on the bar",
         f"the bit, {mm(bit_mm)} thick, stands out {mm(out_mm)}, into its hole"),
    ))  # fmt: skip


def rod(
    parts: Sequence[Part], setup: Record, operations: Sequence[Record], true: Record, mm: Said
) -> Wanted:
    """A rod through a hole of two parts, as thick as both were made, and out again. Raises Missing."""
    against, place = table(true, "against"), int(number(setup, "number"))
    own = text(setup, "part"), text(true, "surface").rpartition(".")[0]
    other = text(against, "part"), text(against, "surface").rpartition(".")[0]
    size, far = _wide(operations, own, place), _wide(operations, other, place)
    deep = _hole(parts, own).depth_mm + _hole(parts, other).depth_mm
    return Wanted(place, "locating rod", size, (
        (lambda one: abs(far - number(one, "size_mm")) < 0.05,
         "it is no fit in one of the holes", f"one is {mm(far)}"),
        (lambda one: number(one, "long_mm") >= deep + PULLED_MM - 0.01,
         "too short", f"it goes through {mm(deep)}, and is pulled out again"),
    ))  # fmt: skip


def _wide(operations: Sequence[Record], hole: tuple[str, str], setup: int) -> float:
    """How wide a hole is when a set-up begins: as it was last drilled, bored or reamed before it."""
    made = [
        number(cut, "after_mm")
        for one in operations
        if (one.get("part"), one.get("feature")) == hole and number(one, "setup") < setup
        and (cut := one.get("cut") or {}).get("shape") in ("hole", "bore")
    ]  # fmt: skip
    if not made:
        raise Missing("align.surface")
    return made[-1]


def _hole(parts: Sequence[Part], hole: tuple[str, str]) -> f.Hole:
    for one in parts:
        for _, feature in every_feature(one):
            if (one.name, feature.name) == hole and isinstance(feature, f.Hole):
                return feature
    raise Missing("align.surface")


def stub_fits(one: Record, out_mm: float, job: Job) -> bool:
    """Whether what of a stub is not to stand out goes into the chuck."""
    most = in_chuck_mm(number(one, "stock_mm"), job) + STOP_MM
    return number(one, "long_mm") <= out_mm + most


def in_chuck_mm(round_mm: float, job: Job) -> float:
    """How much of a round is in the chuck at the most: as deep as its jaws, or as its bore goes."""
    own, jaws = kit(job), job.lathe.jaw_reach or job.lathe.chuck_diameter / JAW_OF_CHUCK
    return max(own.chuck_depth_mm if own.passes(round_mm) else 0.0, jaws)
