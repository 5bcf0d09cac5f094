"""The straight lines through readings and through pips, and how sure they are."""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, cos, degrees, hypot, inf, isfinite, radians, sin, sqrt
from typing import NamedTuple

from planner.measuring.correct.model import (
    ANVIL_OFF_DEG,
    SURE,
    AnvilsOff,
    Estimate,
    Fit,
    Pip,
    PipFit,
    Reading,
    Scatter,
    Series,
    Size,
    SizeFit,
    Squareness,
)

SAME_SIZE = 0.05
"""Balls within this part of the greatest diameter count as one size."""

MOST_TILT = 0.7
"""Sine of a tilt beyond any tool post that was squared by eye."""

ONE_ANGLE = 1e-6
"""Sines no farther apart than this are one angle."""


def chi2_limit(dof: int) -> float:
    """What chi-square of dof degrees of freedom (1 up) exceeds once in a hundred, within 1 %.

    Wilson and Hilferty (1931; from memory): the cube root of chi-square / dof is nearly normal about
    1 - 2/(9 dof) with variance 2/(9 dof); 2.326 is the normal distribution's 99 % point.
    """
    part = 2.0 / (9.0 * dof)
    return float(dof * (1.0 - part + 2.3263478740408408 * sqrt(part)) ** 3)


def _scatter(chi2: float, dof: int) -> Scatter:
    if dof < 1:
        return "untested"
    return "contradict" if chi2 > chi2_limit(dof) else "agree"


class _Line(NamedTuple):
    """A line through its weighted mean (at, level), where level and slope are uncorrelated."""

    at: float
    level: float
    level_u: float
    slope: float
    slope_u: float
    chi2: float
    worst: int


def _line(x: Sequence[float], y: Sequence[float], u: Sequence[float]) -> _Line:
    """Least squares of y, each with its u, on x; level where all x are one.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 and 4.1.4.3 (section
    numbers from memory).
    """
    w = [1 / v**2 for v in u]
    at, level = (sum(k * v for k, v in zip(w, z, strict=True)) / sum(w) for z in (x, y))
    spread = sum(k * (v - at) ** 2 for k, v in zip(w, x, strict=True))
    sloped = max(x) - min(x) > ONE_ANGLE
    cross = sum(k * (v - at) * (q - level) for k, v, q in zip(w, x, y, strict=True))
    slope = cross / spread if sloped else 0.0
    parts = [k * (q - level - slope * (v - at)) ** 2 for k, v, q in zip(w, x, y, strict=True)]
    slope_u = 1 / sqrt(spread) if sloped else inf
    return _Line(at, level, 1 / sqrt(sum(w)), slope, slope_u, sum(parts), parts.index(max(parts)))


def fit_readings(
    readings: Sequence[Reading], accuracy_mm: float, earlier: Sequence[Series] = ()
) -> Fit:
    """Least squares of sound readings, one or more, on the sine of their angles.

    accuracy_mm: standard uncertainty of each, independent of the others. The results' uncertainties
    come from it and not from the scatter, which is held against it by chi-square. earlier: balls of the
    same skew, each with a size of its own: parallel lines of one slope, whose least squares weighs each
    ball's slope by its own spread (analysis of covariance; any handbook of regression).
    """
    own = _line_of(readings, accuracy_mm)
    others = [line for line in (_line_of(*_of(one)) for one in earlier) if isfinite(line.slope_u)]
    lines = [line for line in (own, *others) if isfinite(line.slope_u)]
    slope, slope_u = 0.0, inf
    if lines:
        weight = sum(line.slope_u**-2 for line in lines)
        slope = sum(line.slope / line.slope_u**2 for line in lines) / weight
        slope_u = 1 / sqrt(weight)
    dof, radius, skew, correlation = len(readings) - 1, None, None, None
    words = (
        "All readings stand at one angle (an angle and its supplement are one line) and give the "
        "diameter there only: to find the skew, measure at the equator and near the stem, or half a "
        "ball its height over nose and flat."
    )
    if lines:  # D = 2 R0 + 2 h sin a: halves of the line's intercept and slope
        words = "The readings give the skew, and the radius that the ball has without it."
        base_u = hypot(own.level_u, own.at * slope_u)
        radius = Estimate((own.level - own.at * slope) / 2, base_u / 2)
        skew = Estimate(slope / 2, slope_u / 2)
        correlation = -own.at * slope_u / base_u
    if isfinite(own.slope_u):
        dof -= 1
    elif lines:
        words = "The readings, all at one angle, give the radius, earlier balls the skew."
    scatter = _scatter(own.chi2, dof)
    if scatter == "contradict":
        words += (
            f" They contradict each other beyond the stated accuracy, reading {own.worst + 1} most: "
            "measure again, or state the accuracy that was really reached."
        )
    residual, limit = (accuracy_mm * sqrt(own.chi2 / dof), chi2_limit(dof)) if dof else (None, None)
    mean = Estimate(own.level, own.level_u)
    anvils = None
    if skew and radius:
        anvils = anvils_off(readings, accuracy_mm, earlier, skew, radius)
    return Fit(
        *(mean, radius, skew, correlation, residual, own.chi2, limit, dof, scatter, words),
        balls=1 + len(others),
        anvils=anvils,
    )


def apart(readings: Sequence[Reading], accuracy_mm: float, earlier: Sequence[Series]) -> bool:
    """Whether a ball's own skew differs from that of earlier balls by more than both allow.

    Once in a hundred by chance, as the scatter is judged.
    """
    own = _line_of(readings, accuracy_mm)
    others = [line for line in (_line_of(*_of(one)) for one in earlier) if isfinite(line.slope_u)]
    if not others or not isfinite(own.slope_u):
        return False
    weight = sum(line.slope_u**-2 for line in others)
    before = sum(line.slope / line.slope_u**2 for line in others) / weight
    return (own.slope - before) ** 2 / (own.slope_u**2 + 1 / weight) > chi2_limit(1)


def sound(series: Series) -> bool:
    """Whether the readings of a ball turned before agree with each other, as far as can be told."""
    line = _line_of(*_of(series))
    dof = len(series.readings) - (2 if isfinite(line.slope_u) else 1)
    return _scatter(line.chi2, dof) != "contradict"


def anvils_off(
    readings: Sequence[Reading],
    accuracy_mm: float,
    earlier: Sequence[Series],
    skew: Estimate,
    radius: Estimate,
) -> AnvilsOff:
    """What anvils off their angles do to the skew and the radius of fit_readings.

    A reading at a + d instead of a is 2 h (sin(a + d) - sin a) off; the mean square of that, d normal
    of standard deviation s, is (2 h)^2 (cos^2 a s^2 + 3/4 sin^2 a s^4), to the second order. It goes
    into skew and radius by the weights that least squares gives the reading. h, itself doubtful, is
    taken with its uncertainty.
    """
    off = radians(ANVIL_OFF_DEG)
    own = _line_of(readings, accuracy_mm)
    spread = 1 / (2 * skew.u_mm) ** 2
    on_skew = on_radius = 0.0
    for number, (rows, u) in enumerate([(readings, accuracy_mm), *map(_of, earlier)]):
        line = _line_of(rows, u)
        for reading in rows:
            a = radians(reading.angle_deg)
            part = (cos(a) * off) ** 2 + 0.75 * (sin(a) * off**2) ** 2
            slope = (sin(a) - line.at) / u**2 / spread
            level = 1 / len(rows) if number == 0 else 0.0
            on_skew += slope**2 * part
            on_radius += (level - own.at * slope) ** 2 * part
    size = hypot(skew.mm, skew.u_mm)
    turned = (radians(r.angle_deg) + way for r in readings for way in (-off, off))
    angles = (radians(r.angle_deg) for r in readings for _ in range(2))
    most = max(abs(sin(b) - sin(a)) for a, b in zip(angles, turned, strict=True))
    skew_u = hypot(skew.u_mm, size * sqrt(on_skew))
    radius_u = hypot(radius.u_mm, size * sqrt(on_radius))
    return AnvilsOff(2 * size * most, skew_u, radius_u, Estimate(skew.mm, skew_u).clear)


def _of(series: Series) -> tuple[Sequence[Reading], float]:
    return series.readings, series.accuracy_mm


def _line_of(readings: Sequence[Reading], accuracy_mm: float) -> _Line:
    """The line of the diameters on the sines of their angles."""
    sines = [sin(radians(r.angle_deg)) for r in readings]
    return _line(sines, [r.diameter_mm for r in readings], [accuracy_mm] * len(readings))


def _less_skew(pip: float, u: float, skew: float, skew_u: float) -> Estimate:
    """A pip's radius without the skew's part, root(p^2 - h^2).

    The uncertainty of p^2 - h^2 has the second-order terms of normal variables; near zero, where the
    root is steep, that of the root is held to the root of it.
    """
    if not skew and not skew_u:
        return Estimate(pip, u)
    square_u = sqrt(4 * (pip * u) ** 2 + 2 * u**4 + 4 * (skew * skew_u) ** 2 + 2 * skew_u**4)
    rest = sqrt(max(pip**2 - skew**2, 0.0))
    return Estimate(rest, max(u, square_u / (2 * max(rest, sqrt(square_u) / 2))))


def fit_pips(pips: Sequence[Pip], skew: Estimate | None) -> PipFit:
    """The offset, and from balls of several sizes the pivot's squareness; pips: one or more, sound.

    skew: the fit's; None when unknown, zero without uncertainty when the sweep began before the nose. A
    sweep from the nose leaves root(e^2 + h^2) for h above zero and |e| below. Out of square by t the
    place of e takes R sin t - e cos t: a line in R that lost its sign. It changes sign once at most,
    so the patterns are: all alike, and one a place between two balls. The skew's uncertainty counts as
    each pip's own.
    """
    h, h_u = max(skew.mm, 0.0) if skew else 0.0, skew.u_mm if skew else 0.0
    if skew and skew.clear and skew.mm < 0:  # surely below zero: no part in the pip
        h_u = 0.0
    pips = sorted(pips, key=lambda pip: pip.ball_diameter_mm)
    p, u = [pip.diameter_mm / 2 for pip in pips], [pip.accuracy_mm / 2 for pip in pips]
    mean = _line([0.0] * len(p), p, u)
    offset = _less_skew(mean.level, mean.level_u, h, h_u)
    clear = offset.clear and Estimate(mean.level - h, hypot(mean.level_u, h_u)).clear
    radii = [pip.ball_diameter_mm / 2 for pip in pips]
    rests = [_less_skew(*pair, h, h_u) for pair in zip(p, u, strict=True)]
    answers, chi2, dof = [], mean.chi2, len(pips) - 1
    for change in range(1, len(pips) + 1) if radii[0] < (1 - SAME_SIZE) * radii[-1] else ():
        signed = [rest.mm if i < change else -rest.mm for i, rest in enumerate(rests)]
        line = _line(radii, signed, [rest.u_mm for rest in rests])
        if abs(line.slope) < MOST_TILT:
            square = sqrt(1 - line.slope**2)  # slope sin t and intercept -e cos t, t taken positive
            e = (line.slope * line.at - line.level) / square * (-1 if line.slope < 0 else 1)
            at = Estimate(e, hypot(line.level_u, line.at * line.slope_u) / square)
            tilt, tilt_u = degrees(asin(abs(line.slope))), degrees(line.slope_u / square)
            answers.append(Squareness(tilt, tilt_u, at, change < len(pips), line.chi2))
    if answers:
        chi2, dof = min(answer.chi2 for answer in answers), len(pips) - 2
    good = sorted((a for a in answers if a.chi2 <= chi2 + SURE**2), key=lambda a: a.tilt_deg)
    found = tuple(good)
    return PipFit(offset, clear, skew is not None, found, chi2, dof, _scatter(chi2, dof))


def fit_sizes(sizes: Sequence[Size]) -> SizeFit:
    """The dial's zero and the screw's rate, from sizes turned at its readings: one or more, sound.

    The error of the radius, half of measured less set, is a line in the radius set: its level is the
    zero's, its slope the screw's (a worn or wrong pitch).
    """
    radii = [size.set_mm / 2 for size in sizes]
    errors = [(size.diameter_mm - size.set_mm) / 2 for size in sizes]
    apart = max(radii) - min(radii) > SAME_SIZE * max(radii)
    places = radii if apart else [0.0] * len(radii)
    line = _line(places, errors, [size.accuracy_mm / 2 for size in sizes])
    screw = Estimate(line.slope, line.slope_u) if apart else None
    dof = len(sizes) - (2 if apart else 1)
    return SizeFit(
        Estimate(line.level, line.level_u), screw, line.chi2, dof, _scatter(line.chi2, dof)
    )
