"""Made-up measured balls by seed, sound and spoiled, and what Python answers as the page has it."""

from __future__ import annotations

import random
from math import radians, sin
from types import SimpleNamespace
from typing import Any

from msgspec import to_builtins

from planner.measuring.correct import (
    CannotFit,
    Earlier,
    Measured,
    Pip,
    Reading,
    Rig,
    Series,
    Size,
    correct,
    odd,
)
from planner.measuring.log import verdict
from planner.output.sheets.correct import correct_tables
from planner.words.numbers import INCH, METRIC

Case = tuple[Measured, Rig, Earlier, bool]

ANGLES = (90, 90, 60, 45, 70, 120, 110, 50, 30)


def drawn(rng: random.Random) -> Case:
    """One ball with its readings, pips and sizes; one in some has a slip in it."""
    wanted = rng.choice([20.0, 25.4, 38.1, 50.0, 60.0, rng.uniform(8, 120)])
    stem = rng.choice([0.0, 0.35 * wanted, 0.35 * wanted, 0.5 * wanted])
    if rng.random() < 0.1:
        stem = rng.uniform(0, 1.1 * wanted)
    accuracy = rng.choice([0.002, 0.005, 0.01, 0.02, rng.uniform(0.0005, 0.05)])
    skew = rng.choice([0.0, rng.gauss(0, 0.02), rng.gauss(0, 0.2)])
    radius = wanted / 2 + rng.gauss(0, 0.03)
    pips = tuple(
        Pip(
            round(abs(rng.gauss(0.3, 0.3)), 2),
            rng.choice([0.02, 0.05, 0.1]),
            rng.choice([wanted, wanted * 0.5, wanted * 1.6]),
        )
        for _ in range(rng.choice([0, 0, 1, 2, 3]))
    )
    sizes = tuple(
        Size(one, one + rng.gauss(0.02, 0.02), rng.choice([0.005, 0.01]))
        for one in rng.choices(
            [wanted, wanted * 0.7, wanted * 0.5, 10.0], k=rng.choice([0, 0, 1, 3])
        )
    )
    measured = Measured(
        _readings(rng, radius, skew, accuracy),
        accuracy if rng.random() > 0.01 else rng.choice([0.0, -1.0]),
        wanted,
        stem,
        rng.choice([6.4, 0.0, 6.35]),
        pips,
        rng.random() < 0.2,
        sizes,
        rng.choice([None, 0.02, 0.05, 0.1]),
        rng.choice([None, None, None, wanted * 0.6, wanted]),
        rng.choice([wanted, wanted * 1.1]),
    )
    rig = Rig(
        rng.choice(["across", "upright"]),
        rng.choice([0.02, 0.0127, None]),
        rng.choice([0.05, None, 0.025]),
        rng.random() < 0.2,
        rng.choice([None, 1.0, 0.5]),
    )
    earlier = Earlier()
    if rng.random() < 0.3:
        earlier = Earlier(
            tuple(
                Series(_readings(rng, radius, skew, accuracy, clean=True), accuracy)
                for _ in range(rng.choice([1, 2]))
            ),
            tuple(Pip(0.4, 0.05, wanted * 0.7) for _ in range(rng.choice([0, 1]))),
            tuple(Size(wanted * 0.8, wanted * 0.8 + 0.02, 0.01) for _ in range(rng.choice([0, 1]))),
        )
    return measured, rig, earlier, rng.random() < 0.3


def _readings(
    rng: random.Random, radius: float, skew: float, accuracy: float, clean: bool = False
) -> tuple[Reading, ...]:
    found = []
    for _ in range(3 if clean else rng.choice([0, 1, 2, 3, 4, 5, 6, 8])):
        angle = float(rng.choice([*ANGLES, rng.uniform(25, 155)]))
        size = 2 * (radius + skew * sin(radians(angle)))
        size = round(
            size + rng.gauss(0, accuracy * rng.choice([1, 1, 1, 3])), rng.choice([2, 3, 4])
        )
        if not clean and rng.random() < 0.015:
            slips = (size / 2, size * 2, size / 25.4, size * 25.4, size * 10, size / 10, 0.0, -size)
            size = rng.choice([*slips, size + rng.uniform(-5, 5)])
        if not clean and rng.random() < 0.01:
            angle = rng.choice([-3.0, 181.0, 200.0, 0.0, 180.0])
        found.append(Reading(angle, size))
    if not clean and rng.random() < 0.06:
        factor = rng.choice([2.0, 0.5, 1 / 25.4, 25.4, 10.0, 0.1]) * rng.uniform(0.85, 1.15)
        found = [Reading(one.angle_deg, one.diameter_mm * factor) for one in found]
    return tuple(found)


def asked(case: Case) -> list[Any]:
    """A case as the page's correct takes it."""
    measured, rig, earlier, inch = case
    return [to_builtins(measured), to_builtins(rig), to_builtins(earlier), inch]


def answered(case: Case) -> dict[str, Any]:
    """What pommel correct prints and decides, as the page's correct returns it."""
    measured, rig, earlier, inch = case
    numbers = INCH if inch else METRIC
    try:
        found = correct(measured, rig, earlier, numbers)
    except CannotFit as error:
        return {"refused": [to_builtins(one) for one in error.problems]}
    fit, advice, _ = correct_tables(found, measured, SimpleNamespace(numbers=numbers), "")  # type: ignore[arg-type]
    standing = found.tolerance.standing if found.tolerance else None
    justified = [one.justified for one in found.advice]
    return {
        "refused": [],
        "fit": [[*row, ""][:3] for row in fit.shown or ()],
        "notes": list(fit.notes),
        "advice": [list(row) for row in advice.shown or ()],
        "standing": standing,
        "verdict": verdict(found),
        "odd": [to_builtins(one) for one in odd(found, numbers)],
        "justified": justified,
        "act": any(justified) or standing not in (None, "within"),
    }
