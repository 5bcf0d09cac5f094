"""The error budget of a ball: what each source adds to its size and its form, and all together.

Sizes and forms are first order in small errors; the Monte Carlo goes through the exact surface of
geometry.ball. numpy is loaded for it. Imported by output.plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, ceil, degrees, sqrt

import numpy as np
from numpy.typing import NDArray

from parts.housing import bore_height_mm
from parts.sizes import Sizes
from parts.standard.materials import material
from parts.trueness import dial_reading_mm, rod_square_mm
from parts.value import Value
from planner.checking.clearance import BallCase
from planner.geometry.ball import Arrangement, setting, squareness_pip_mm
from planner.job.tables import Job
from planner.words.findings import Finding, finding

SPINDLE_RUN_OUT_MM = 0.01
"""Total run-out of a sound lathe spindle's nose, a fair figure for a used machine (common practice)."""

CROSS_SLIDE_MM = 0.05
"""How near the cross slide is set to the spindle axis by its dial (common practice)."""

TIP_HEIGHT_MM = 0.1
"""How near a gauge sets a tip to the spindle's height, for an upright pivot (common practice)."""

SET_BY = {
    "across": ("pivot bore height", "tip plane by the cross slide"),
    "upright": ("pivot by the cross slide", "tip height"),
}
"""What sets the skew and the tip plane in each arrangement."""

SPRING_LEAVES = 0.1
"""Of a cut's spring, what one more pass at the same reading leaves (common practice)."""

WORK_HARDENS = ("stainless steel",)
"""Groups that no edge may rub: no pass without depth (common practice)."""

SEED = 20_240_229


class Tolerances(Value, frozen=True):
    """Half-bands of what can be off, mm and degrees.

    skew_mm, offset_mm: of the pivot and of the tip plane, and what sets them (skew_by, offset_by);
    square_mm: the rod bore out of square over its length; clearance_mm: of the pivot in its bearing,
    full; lever: tip shift for one of it; run_out_mm: of the spindle, full; dial_mm: one reading;
    deflection_mm: of the tip in a full cut; work_mm: of the work's own bending, at the equator;
    spring_passes: how often the ball is gone over once more at the last reading.
    """

    skew_mm: float
    offset_mm: float
    square_deg: float
    clearance_mm: float
    lever: float
    run_out_mm: float
    dial_mm: float
    deflection_mm: float
    skew_by: str = "pivot bore height"
    offset_by: str = "tip plane by the cross slide"
    work_mm: float = 0.0
    spring_passes: int = 1

    @property
    def left(self) -> float:
        """What of a cut's spring is left in the end."""
        return SPRING_LEAVES**self.spring_passes


class Share(Value, frozen=True):
    """One source: its part in the diameter's error and in the form (peak to valley of radius), mm."""

    name: str
    size_mm: float
    form_mm: float
    source: str


class Budget(Value, frozen=True):
    """The whole: shares, worst case, root sum of squares, Monte Carlo 95 % of balls, the pip.

    size figures are half-bands of the diameter; form figures are peak to valley of the radius.
    dominates_size, dominates_form: the source that adds most.
    """

    radius_mm: float
    shares: tuple[Share, ...]
    worst_size_mm: float
    worst_form_mm: float
    rss_size_mm: float
    rss_form_mm: float
    trials: int
    size_95_mm: float
    form_95_mm: float
    pip_radius_mm: float
    dominates_size: str
    dominates_form: str


def tolerances_of(
    s: Sizes, deflection_mm: float, arrangement: Arrangement = "across"
) -> Tolerances:
    """The tolerances that stand on the sheets: bore height, fit, squareness, dial.

    deflection_mm: of the tip in the pass, below nothing where it springs toward the work.

    With the pivot upright, height and cross slide change places: the cross slide sets the skew, and the
    tip's height the tip plane.
    """
    height = bore_height_mm(s) if arrangement == "across" else TIP_HEIGHT_MM
    place = setting(arrangement, height, CROSS_SLIDE_MM)
    skew_by, offset_by = SET_BY[arrangement]
    square = degrees(atan2(rod_square_mm(s), s.block_length_mm))
    return Tolerances(
        skew_mm=place.skew_mm,
        offset_mm=place.offset_mm,
        square_deg=square,
        clearance_mm=s.pivot_play_mm,
        lever=0.5 + -s.thrust_x_mm / s.housing_length_mm,
        run_out_mm=SPINDLE_RUN_OUT_MM,
        dial_mm=dial_reading_mm(s),
        deflection_mm=abs(deflection_mm),  # a band: whichever way the tip springs
        skew_by=skew_by,
        offset_by=offset_by,
    )


def usual_spring_passes(job: Job, material_name: str) -> int:
    """The job's number of spring passes; else one, none where metal hardens under a rubbing edge."""
    if job.turning.spring_passes is not None:
        return job.turning.spring_passes
    return 0 if material(material_name).group in WORK_HARDENS else 1


def shares(t: Tolerances, radius_mm: float) -> tuple[Share, ...]:
    """Each source to first order, at a ball radius.

    The cut holds the shaft against one side of its bearing, so its clearance shifts the pivot rather
    than shaking it: half of it, times the lever, is taken as skew. Each spring pass leaves a tenth of
    the deflection of the tip, and of the work's own bending. An offset e changes the radius by e^2 /
    2R and the form not at all.
    """
    held = t.clearance_mm * t.lever / 2
    return (
        Share(t.skew_by, 2 * t.skew_mm, t.skew_mm, "skew h: form |h|"),
        Share("bearing clearance", 2 * held, held, "shifted, not shaken: taken as skew"),
        Share(t.offset_by, t.offset_mm**2 / radius_mm, 0.0, "radius root(R^2 + e^2)"),
        Share("rod bore out of square", 0.0, 0.0, "stays a sphere; see the pip"),
        Share("spindle run-out", 0.0, t.run_out_mm / 2, "half the run-out, once a turn"),
        Share("dial reading", 2 * t.dial_mm, 0.0, "a radius is read, a diameter changes twice"),
        Share(
            "deflection left at the end",
            2 * t.left * t.deflection_mm,
            t.left * t.deflection_mm,
            f"a tenth of the cut's deflection for each spring pass, {t.spring_passes} (common"
            " practice)",
        ),
        Share(
            "work's bending left at the end",
            2 * t.left * t.work_mm,
            t.left * t.work_mm,
            "the same at the equator, none at the nose",
        ),
    )


def budget(t: Tolerances, radius_mm: float, trials: int = 100_000) -> Budget:
    """The error budget of a ball.

    radius_mm: of the ball, above 0. trials: balls of the Monte Carlo, 1000 to 10 million; its seed is
    fixed, each source uniform within its band.
    """
    if not (0.0 < radius_mm < 1e4):
        raise ValueError(f"ball radius {radius_mm:g} mm; give a size above zero")
    if not 1000 <= trials <= 10_000_000:
        raise ValueError(f"{trials} trials; give 1000 to 10 million")
    found = shares(t, radius_mm)
    size, form = simulate(t, radius_mm, trials)
    return Budget(
        radius_mm=radius_mm,
        shares=found,
        worst_size_mm=sum(one.size_mm for one in found),
        worst_form_mm=sum(one.form_mm for one in found),
        rss_size_mm=sqrt(sum(one.size_mm**2 for one in found)),
        rss_form_mm=sqrt(sum(one.form_mm**2 for one in found)),
        trials=trials,
        size_95_mm=_within(np.abs(size), 0.95),
        form_95_mm=_within(form, 0.95),
        pip_radius_mm=max(squareness_pip_mm(radius_mm, t.square_deg, -t.offset_mm), t.offset_mm),
        dominates_size=max(found, key=lambda one: one.size_mm).name,
        dominates_form=max(found, key=lambda one: one.form_mm).name,
    )


def _within(values: NDArray[np.float64], share: float) -> float:
    """What so large a share of the values does not exceed: one of them."""
    last = ceil(share * len(values)) - 1
    return float(np.partition(values, last)[last])


def simulate(t: Tolerances, radius_mm: float, trials: int) -> tuple[np.ndarray, np.ndarray]:
    """Errors of the diameter and of the form of so many balls, through the exact surface.

    The size of a ball is its diameter across the equator, as a micrometer takes it.
    """
    draw = np.random.default_rng(SEED)

    def band(half_mm: float) -> np.ndarray:
        return (draw.random(trials, dtype=np.float32) * 2 - 1) * np.float32(half_mm)

    skew = band(t.skew_mm) + band(t.clearance_mm * t.lever / 2)
    offset = band(t.offset_mm)
    sprung = band(t.left * t.deflection_mm)
    radius = np.float32(radius_mm) + band(t.dial_mm) + sprung
    nose = np.sqrt(radius**2 + offset**2 + skew**2)
    equator = np.sqrt((radius + skew) ** 2 + offset**2)
    run_out = np.abs(band(t.run_out_mm / 2))
    bent = band(t.left * t.work_mm)
    form = np.abs(equator - nose) + run_out + np.abs(sprung) + np.abs(bent)
    equator = equator + bent
    return 2 * equator - np.float32(2 * radius_mm), form


def budget_findings(
    budgets: Sequence[tuple[BallCase, Budget]], job: Job, file: str
) -> Iterator[Finding]:
    """Balls whose stated tolerance the errors are likely to pass.

    Size is taken out by a trial ball that is measured and corrected, so that is a note; form stays.
    """
    wanted = {ball.name or f"ball {n}": ball.tolerance for n, ball in enumerate(job.ball, 1)}
    mm = job.numbers.fine
    for case, found in budgets:
        tolerance = wanted.get(case.name)
        if tolerance is None:
            continue

        def over(found_mm: float, most: str = mm(tolerance)) -> str:
            return mm(found_mm) if mm(found_mm) != most else job.numbers.fine_up(found_mm)

        key, limit = f"ball.{case.name}.tolerance", f"tolerance ±{mm(tolerance)}"
        source = "error budget: tolerances on the sheets, through the exact surface"
        if found.form_95_mm > tolerance:
            value = f"95 of 100 balls are round within {over(found.form_95_mm)} on the radius"
            remedy = f"Better the {found.dominates_form}, or widen the tolerance"
            yield finding("ball-form", file, key, value, limit, remedy, source=source)
        elif found.size_95_mm > tolerance:
            value = f"95 of 100 balls come within {over(found.size_95_mm)} of the diameter"
            remedy = "Turn a trial ball, measure it, and see: pommel correct"
            yield finding("ball-diameter", file, key, value, limit, remedy, source=source)
