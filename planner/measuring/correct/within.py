"""A ball held against the tolerance of its drawing, with the uncertainty of its readings."""

from __future__ import annotations

from math import sqrt

from planner.measuring.correct.model import SURE, Estimate, Fit, Measured, Standing, Toleranced


def toleranced(fit: Fit, measured: Measured) -> Toleranced | None:
    """Where a ball stands to its tolerance; None where none is stated.

    The diameter goes in a straight line with the sine of its angle, from where the stem begins to the
    equator, so that it is farthest off at one of them; where all readings stand at one angle, there. It
    is inside, or outside, when it is by twice its uncertainty (as JCGM 106:2012 guards an acceptance by
    the expanded uncertainty; from memory). Readings that contradict each other tell nothing.
    """
    if measured.tolerance_mm is None:
        return None
    tolerance = measured.tolerance_mm
    errors = [Estimate(one.mm - measured.wanted_mm, one.u_mm) for one in _ends(fit, measured)]
    outside = [error for error in errors if abs(error.mm) - SURE * error.u_mm > tolerance]
    inside = all(abs(error.mm) + SURE * error.u_mm <= tolerance for error in errors)
    standing: Standing = "within" if inside else "outside" if outside else "cannot be told"
    if fit.scatter == "contradict":
        standing, outside = "cannot be told", []
    worst = max(errors, key=lambda error: abs(error.mm) + SURE * error.u_mm)
    return Toleranced(standing, worst, any(error.mm < 0 for error in outside))


def _ends(fit: Fit, measured: Measured) -> list[Estimate]:
    """The diameter beside the stem and at the equator; where no skew is known, the one read."""
    if not fit.skew or not fit.radius:
        return [fit.mean]
    found = []
    for sine in (min(1.0, measured.stem_mm / measured.wanted_mm), 1.0):
        shared = 2 * sine * (fit.correlation or 0.0) * fit.radius.u_mm * fit.skew.u_mm
        square = fit.radius.u_mm**2 + (sine * fit.skew.u_mm) ** 2 + shared
        size = 2 * (fit.radius.mm + sine * fit.skew.mm)
        found.append(Estimate(size, 2 * sqrt(max(square, 0.0))))
    return found
