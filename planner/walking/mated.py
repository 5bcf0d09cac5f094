"""Whether what a step turns to goes into the hole that is measured already, and runs in it as drawn.

Imported by planner.output.plan, which has what is recorded. Has only the parts from what plans a route.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from parts.attachment import Attachment
from parts.features import ReamedHole
from parts.part import every_feature
from parts.standard.holding import finest_band_mm
from planner.job.tables import Job
from planner.walking.faults import Faults
from planner.walking.records import Record, number, rows
from planner.words.findings import Finding

GRAIN_MM = 1e-3
"""Limits of records are rounded."""

SLIDES_MM = 0.003
"""Size for size nothing slides: so much play at the least (common practice)."""

HIT = 0.75
"""So much of the finest band that turning holds (IT6, "polished to fit") is left between a shaft's
limits at the least: narrower ones are come to by luck (common practice)."""

Named = tuple[str, str]
"""A part, and a feature of it."""


def mated(
    drawn: Attachment,
    made: Mapping[Named, float],
    told: Collection[Named],
    operations: Sequence[Record],
    job: Job,
    file: str,
) -> tuple[Finding, ...]:
    """Limits by which the two would run tighter or looser than drawn; nothing where all is well.

    drawn: by the sheets, nothing measured; made: what is measured, mm; told: shafts of which is said
    already that none will do.
    """
    faults = Faults(file, job.numbers, "warning")
    known = {(part.name, one.name): one for part in drawn.parts for _, one in every_feature(part)}
    steps = {(str(one.get("part")), str(name)): one
             for one in operations for name in one.get("makes") or ()}  # fmt: skip
    for fit in drawn.fits:
        hole, shaft = (fit.hole_part, fit.hole), (fit.shaft_part, fit.shaft)
        if (hole in made) is (shaft in made) or shaft in told:
            continue
        other = shaft if hole in made else hole
        if other not in steps or isinstance(known[other], ReamedHole):
            continue  # a reamed hole comes out as the reamer makes it
        bore, pin = (getattr(known[one], "diameter") for one in (hole, shaft))  # noqa: B009
        loosest = bore.max_mm - pin.min_mm
        tightest = bore.min_mm - pin.max_mm
        if fit.play:  # the sheet's own word, which goes before the limits
            loosest = float(getattr(drawn.sizes, fit.play))
            tightest = min(tightest, max(SLIDES_MM, loosest - (pin.max_mm - pin.min_mm)))
        faults.key = f"step {steps[other].get('number')}"
        for low, high in _limits(steps[other], other[1]):
            if fit.play and other is shaft:
                _can_be_hit(faults, other[1], low, high)
            least, most = (
                (made[hole] - high, made[hole] - low)
                if hole in made
                else (low - made[shaft], high - made[shaft])
            )
            if least < tightest - GRAIN_MM or most > loosest + GRAIN_MM:
                fine = faults.numbers.micrometer
                faults.refuse(
                    "route-not-made",
                    f"{other[1]} {fine(low)} to {fine(high)}: play {fine(least)} to {fine(most)}",
                    f"drawn with {fine(tightest)} to {fine(loosest)}, the other as measured",
                    "Make it to what is measured",
                )
    return tuple(faults.found)


def _can_be_hit(faults: Faults, feature: str, low: float, high: float) -> None:
    """Between the limits of a shaft that is turned to its bore there is room to stop in."""
    finest = finest_band_mm("turn", high)
    if finest is not None and high - low < HIT * finest - GRAIN_MM / 10:
        fine = faults.numbers.micrometer
        faults.refuse(
            "route-not-fine",
            f"{feature} {fine(low)} to {fine(high)}: {fine(high - low)} apart",
            f"turned and polished, no closer than {fine(HIT * finest)} at its size",
            "Let it run looser in its bore",
        )


def _limits(step: Record, feature: str) -> list[tuple[float, float]]:
    """What a step's gauges allow of a feature's diameter."""
    return [
        (number(one, "low_mm"), number(one, "high_mm"))
        for one in rows(step, "measure")
        if one.get("kind") in ("outside", "inside") and one.get("from") == one.get("to")
        if _of(one, feature)
    ]


def _of(measure: Any, feature: str) -> bool:
    return str(measure.get("from")).rpartition("/")[2].partition(".")[0] == feature
