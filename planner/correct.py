"""What to move, which way and by how much, from what was measured on a turned ball.

A micrometer across the ball, its anvils at polar angles a and 180 - a on either side of the spindle,
reads D(a) = 2 (R0 + h sin a): exact for a tip in the plane of the axis (the swept circle stands h off
the spindle: its support at a is R0 + h sin a), to first order beside it; R0 is root(R^2 + e^2). So the
line of D on sin a gives R0 and the skew h, and a pip gives the offset e.

Signs: h above zero is a pivot that passes the spindle on the side where the tip meets the equator.
Across the bed, tip over the top, the tip stands at h + R there: the pivot is h too high, the ball thick
at its equator and flat at its nose. h below zero: too low, the ball long on its axis.
Lengths in millimetres, angles in degrees; u and "uncertainty" are standard uncertainties.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import asin, atan2, degrees, hypot, inf, isfinite, radians, sin, sqrt, tan
from typing import Literal, NamedTuple

from planner.ball import Arrangement

SURE = 2.0  # standard uncertainties an error must exceed to be corrected: about 95 % sure
SLIP = 0.2  # part of the median beyond which a reading is likely a slip of unit or digit
SAME_SIZE = 0.05  # balls within this part of the greatest diameter count as one size
OVER_MM = 100.0  # the length over which an out-of-square is given in millimetres
MOST_TILT = 0.7  # sine of a tilt beyond any tool post that was squared by eye
ONE_ANGLE = 1e-6  # sines no farther apart than this are one angle

UNSEEN = (
    "An odd number of lobes: such a ball measures the same across everywhere.",
    "A ball more pointed at the nose than at the stem: each reading goes through both halves.",
    "The tip's offset: it leaves the ball round, and shows in the pip alone.",
    "The pivot out of square: the ball stays round; only pips of several sizes of ball show it.",
    "The pip itself: the anvils stand beside it.",
    "A micrometer that reads wrong by the same amount everywhere: that goes into the size.",
)
"""What readings across the ball cannot show, however many are taken."""

Scatter = Literal["agree", "contradict", "untested"]
What = Literal["squareness", "skew", "offset", "size"]

# Whether the pivot goes down (across) or the cross slide in, away from the operator (upright).
_SKEW = {
    ("across", True): ("pivot down", "The pivot is too high: less packing, or scrape its seat."),
    ("across", False): ("pivot up", "The pivot is too low: shim under the shank."),
    ("upright", True): ("cross slide in", "The pivot stands off toward the operator."),
    ("upright", False): ("cross slide out", "The pivot stands off away from the operator."),
}
_SQUARE = {
    "across": ("swivel", "Swivel the tool post one way by this"),
    "upright": ("pivot lean", "Pack the pivot's base along the bed one way by this"),
}


@dataclass(frozen=True)
class Problem:
    """One thing wrong with what was given: where, what stands there, its limit and what to do."""

    where: str
    value: str
    limit: str
    remedy: str


class CannotFit(ValueError):
    """Nothing can be fitted to what was given; carries every problem."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        lines = (f"{p.where}: {p.value}: {p.limit}. {p.remedy}" for p in self.problems)
        super().__init__("\n".join(lines))


@dataclass(frozen=True)
class Reading:
    """A diameter read with an anvil at a polar angle: 0 at the nose, 90 at the equator, up to 180."""

    angle_deg: float
    diameter_mm: float


@dataclass(frozen=True)
class Pip:
    """The pip at a ball's nose: its diameter (0 when none is seen), its uncertainty, and the ball's."""

    diameter_mm: float
    accuracy_mm: float
    ball_diameter_mm: float


@dataclass(frozen=True)
class Measured:
    """What was measured, and what was wanted.

    readings: of one ball. accuracy_mm: standard uncertainty of one, above zero. wanted_mm: the ball's
    diameter on the drawing. stem_mm: the stem's diameter, 0 without one. anvil_mm: diameter of the
    micrometer's flat anvils, 0 to count only the point they touch. pips: one a ball, all turned at one
    setting of pivot and slide. before_nose: the sweep began before the nose and crossed it.
    """

    readings: tuple[Reading, ...]
    accuracy_mm: float
    wanted_mm: float
    stem_mm: float = 0.0
    anvil_mm: float = 0.0
    pips: tuple[Pip, ...] = ()
    before_nose: bool = False


@dataclass(frozen=True)
class Rig:
    """What moves the tip.

    tip_mm_per_division: advance of the tip (of the ball's radius). slide_mm_per_division: travel of the
    cross slide; half of what a dial that reads diameters says. other_side: the tip passes the equator
    underneath (across) or behind (upright), not over the top or on the operator's side.
    """

    arrangement: Arrangement = "across"
    tip_mm_per_division: float | None = None
    slide_mm_per_division: float | None = None
    other_side: bool = False


@dataclass(frozen=True)
class Estimate:
    """A length found, and its standard uncertainty."""

    mm: float
    u_mm: float

    @property
    def clear(self) -> bool:
        """Whether it differs from nothing by more than twice its uncertainty."""
        return abs(self.mm) > SURE * self.u_mm


@dataclass(frozen=True)
class Fit:
    """The straight line through the readings.

    mean: of the diameters. radius (R0), skew (h) and their correlation: None where all readings stand
    at one angle. residual_mm: root(sum of squares / dof). chi2_limit: what chi2 exceeds once in a
    hundred fits if the accuracy is as stated; beyond it the readings contradict each other. Both None
    without a reading to spare. words: what the readings determine.
    """

    mean: Estimate
    radius: Estimate | None
    skew: Estimate | None
    correlation: float | None
    residual_mm: float | None
    chi2: float
    chi2_limit: float | None
    dof: int
    scatter: Scatter
    words: str


@dataclass(frozen=True)
class Squareness:
    """One answer to pips of several sizes: the pivot's tilt (taken positive) and the offset with it.

    changes_side: the tip passes the spindle on one side for small balls and the other for large ones.
    """

    tilt_deg: float
    tilt_u_deg: float
    offset: Estimate
    changes_side: bool
    chi2: float


@dataclass(frozen=True)
class PipFit:
    """The offset without its sign, were the pivot square; and what answers there are out of square.

    clear: the pip stands out of its own uncertainty and the skew's. skew_known: its part is taken out.
    answers: those that fit as well as the best, least tilt first; none for balls of one size.
    """

    offset: Estimate
    clear: bool
    skew_known: bool
    answers: tuple[Squareness, ...]
    chi2: float
    dof: int
    scatter: Scatter


@dataclass(frozen=True)
class Advice:
    """One correction, or why none is justified.

    error: None where it is not determined. move: what moves and which way, "" for nothing; amount_mm:
    by how much; divisions: the same on its dial, if it has one. remains_mm: two uncertainties; where
    nothing is moved the error as well. reason: sentences without numbers. sign_known: False where the
    way must be tried. over_mm: the length a tilt is taken over. undersize: the ball cannot be mended.
    """

    what: What
    error: Estimate | None
    justified: bool
    move: str
    amount_mm: float
    divisions: float | None
    remains_mm: float | None
    reason: str
    sign_known: bool = True
    over_mm: float | None = None
    undersize: bool = False


@dataclass(frozen=True)
class Correction:
    """The fit, the pips' answer and the advice, in the order in which to act."""

    fit: Fit | None
    pips: PipFit | None
    advice: tuple[Advice, ...]
    unseen: tuple[str, ...] = UNSEEN


def chi2_limit(dof: int) -> float:
    """What chi-square of dof degrees of freedom (1 up) exceeds once in a hundred, within 1 %.

    Wilson and Hilferty (1931): the cube root of chi-square / dof is nearly normal about 1 - 2/(9 dof)
    with variance 2/(9 dof); 2.326 is the normal distribution's 99 % point.
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

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 and 4.1.4.3.
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


def _length(where: str, value: float, zero: bool = False) -> list[Problem]:
    if isfinite(value) and (value > 0 or (zero and value == 0)):
        return []
    limit = "must be a finite length " + ("of zero or more" if zero else "above zero")
    return [Problem(where, f"{value:g} mm", limit, "Measure it and write it in millimetres")]


def problems(measured: Measured, rig: Rig) -> tuple[Problem, ...]:
    """Everything for which nothing can be fitted, all at once; empty when all is well."""
    found = _length("accuracy", measured.accuracy_mm)
    found += _length("wanted diameter", measured.wanted_mm)
    found += _length("stem diameter", measured.stem_mm, zero=True)
    found += _length("anvil diameter", measured.anvil_mm, zero=True)
    for dial, step in (("tip", rig.tip_mm_per_division), ("slide", rig.slide_mm_per_division)):
        found += _length(f"{dial} dial, one division", 1.0 if step is None else step)
    for i, pip in enumerate(measured.pips, 1):
        found += _length(f"pip {i}", pip.diameter_mm, zero=True)
        found += _length(f"pip {i}: accuracy", pip.accuracy_mm)
        found += _length(f"pip {i}: ball diameter", pip.ball_diameter_mm)
        if pip.diameter_mm >= pip.ball_diameter_mm > 0:
            limit = f"must be less than its ball's {pip.ball_diameter_mm:g} mm"
            found.append(Problem(f"pip {i}", f"{pip.diameter_mm:g} mm", limit, "Measure again"))
    if not measured.readings and not measured.pips:
        found.append(Problem("readings", "none", "need one or a pip", "Measure across the ball"))
    for i, reading in enumerate(measured.readings, 1):
        found += _length(f"reading {i}", reading.diameter_mm)
        if not 0 <= reading.angle_deg <= 180:  # so that NaN is refused as well
            value, limit = f"angle {reading.angle_deg:g} degrees", "must be 0 at the nose to 180"
            found.append(Problem(f"reading {i}", value, limit, "The equator is at 90"))
    return tuple(found or (_misplaced(measured) if measured.readings else ()))


def _misplaced(measured: Measured) -> list[Problem]:
    """Readings off by an absurd amount, on the stem or on the pip.

    The pip stands as high as the facing left the nose, z = R: an anvil at a rests on its corner (p, R)
    while p sin a + R cos a is above R, that is tan(a/2) below p/R. An anvil's flat touches the ball at
    its angle and reaches half its width along the tangent, toward the stem.
    """
    sizes = sorted(r.diameter_mm for r in measured.readings)
    median = (sizes[len(sizes) // 2] + sizes[(len(sizes) - 1) // 2]) / 2
    unit = "Look for a slip of digit, or inches among millimetres"
    found = []
    if not 0.5 <= median / measured.wanted_mm <= 2:
        limit = f"must be within half to twice the wanted {measured.wanted_mm:g} mm"
        found.append(Problem("readings", f"median {median:g} mm", limit, unit))
    if measured.stem_mm >= median:
        limit = f"must be less than the ball's {median:g} mm"
        return [*found, Problem("stem diameter", f"{measured.stem_mm:g} mm", limit, unit)]
    wide = hypot(median, measured.anvil_mm)
    stem = degrees(asin(measured.stem_mm / wide) + atan2(measured.anvil_mm, median))
    pip = min(measured.pips, key=lambda p: abs(p.ball_diameter_mm - median), default=None)
    for i, reading in enumerate(measured.readings, 1):
        at = min(reading.angle_deg, 180 - reading.angle_deg)  # one line, from either side
        faults = []
        if abs(reading.diameter_mm - median) > SLIP * median:
            faults.append((f"more than {SLIP:.0%} from the median {median:g} mm", unit))
        if measured.stem_mm and at <= stem + 1e-9:
            limit = f"an anvil is on the stem up to {stem:.1f} and from {180 - stem:.1f} degrees"
            faults.append((limit, "Measure nearer the equator"))
        elif pip and tan(radians(at) / 2) < pip.diameter_mm / pip.ball_diameter_mm:
            faults.append(("an anvil rests on the pip", "Measure beside the pip"))
        value = f"{reading.diameter_mm:g} mm at {reading.angle_deg:g} degrees"
        found += [Problem(f"reading {i}", value, *fault) for fault in faults]
    return found


def fit_readings(readings: Sequence[Reading], accuracy_mm: float) -> Fit:
    """Least squares of sound readings, one or more, on the sine of their angles.

    accuracy_mm: standard uncertainty of each, independent of the others. The results' uncertainties
    come from it and not from the scatter, which is held against it by chi-square.
    """
    sines, n = [sin(radians(r.angle_deg)) for r in readings], len(readings)
    line = _line(sines, [r.diameter_mm for r in readings], [accuracy_mm] * n)
    dof, radius, skew, correlation = n - 1, None, None, None
    words = (
        "All readings stand at one angle (an angle and its supplement are one line) and give the "
        "diameter there only: to find the skew, measure at the equator and near the stem."
    )
    if isfinite(line.slope_u):  # D = 2 R0 + 2 h sin a: halves of the line's intercept and slope
        dof, words = n - 2, "The readings give the radius and the skew."
        base_u = hypot(line.level_u, line.at * line.slope_u)
        radius = Estimate((line.level - line.at * line.slope) / 2, base_u / 2)
        skew = Estimate(line.slope / 2, line.slope_u / 2)
        correlation = -line.at * line.slope_u / base_u
    scatter = _scatter(line.chi2, dof)
    if scatter == "contradict":
        words += (
            f" They contradict each other beyond the stated accuracy, reading {line.worst + 1} most: "
            "measure again, or state the accuracy that was really reached."
        )
    residual, limit = (
        (accuracy_mm * sqrt(line.chi2 / dof), chi2_limit(dof)) if dof else (None, None)
    )
    mean = Estimate(line.level, line.level_u)
    return Fit(mean, radius, skew, correlation, residual, line.chi2, limit, dof, scatter, words)


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


def _advise(
    what: What, error: Estimate, doubt: str, move: str, step: float | None, reason: str
) -> Advice:
    """Advice to move, unless there is a doubt or the error is within twice its uncertainty."""
    size, remains = abs(error.mm), SURE * error.u_mm
    if not doubt and not error.clear:
        doubt = "The error is within twice its uncertainty."
    if doubt:
        reason = f"No correction is justified. {doubt}"
        return Advice(what, error, False, "", 0.0, None, size + remains, reason)
    return Advice(what, error, True, move, size, size / step if step else None, remains, reason)


def _skew(fit: Fit, rig: Rig, doubt: str) -> Advice:
    if not fit.skew:
        doubt = f"No correction is justified. {doubt or fit.words}"
        return Advice("skew", None, False, "", 0.0, None, None, doubt)
    move, reason = _SKEW[rig.arrangement, (fit.skew.mm > 0) != rig.other_side]
    step = rig.slide_mm_per_division if rig.arrangement == "upright" else None
    return _advise("skew", fit.skew, doubt, move, step, reason)


def _size(fit: Fit, rig: Rig, wanted_mm: float, skew_mended: bool, doubt: str) -> Advice:
    """Of the ball that the skew's correction leaves, R0; where it stays as it is, of the mean read."""
    error = least = Estimate((fit.mean.mm - wanted_mm) / 2, fit.mean.u_mm / 2)
    if skew_mended and fit.radius and fit.skew:
        error = least = Estimate(fit.radius.mm - wanted_mm / 2, fit.radius.u_mm)
        if fit.skew.mm < 0:  # then the equator, R0 + h, is the smallest
            shared = 2 * (fit.correlation or 0.0) * fit.radius.u_mm * fit.skew.u_mm
            square = fit.radius.u_mm**2 + fit.skew.u_mm**2 + shared
            least = Estimate(error.mm + fit.skew.mm, sqrt(max(square, 0.0)))
    move, reason = "tip in", "The ball is large: advance the tip."
    if error.mm < 0:
        move = "tip out"
        reason = (
            "For the next ball draw the tip back past this and come in to it, the play taken up."
        )
    advice = _advise("size", error, doubt, move, rig.tip_mm_per_division, reason)
    if doubt or not (least.mm < 0 and least.clear):
        return advice
    reason = f"{advice.reason} This ball is too small somewhere and cannot be mended."
    return replace(advice, undersize=True, reason=reason)


def _square(pips: PipFit, rig: Rig, doubt: str) -> Advice:
    """The least tilt that fits, once all that fit are clear of nothing and alike."""
    least, most = pips.answers[0], pips.answers[-1]
    slopes = [OVER_MM * tan(radians(x)) for x in (least.tilt_deg, least.tilt_u_deg, most.tilt_deg)]
    if not doubt and most.tilt_deg - least.tilt_deg > SURE * least.tilt_u_deg:
        doubt = (
            "More than one tilt fits the pips, which do not tell their side: turn a ball of a size "
            "between and measure its pip too."
        )
    move, reason = _SQUARE[rig.arrangement]
    reason += " and turn two sizes again: if their pips differ more, go back twice as much."
    advice = _advise("squareness", Estimate(slopes[0], slopes[1]), doubt, move, None, reason)
    remains = (advice.remains_mm or 0.0) + slopes[2] - slopes[0]
    return replace(advice, remains_mm=remains, sign_known=False, over_mm=OVER_MM)


def _offset(pips: PipFit, rig: Rig, doubt: str) -> Advice:
    if not doubt and not pips.clear:
        doubt = "The pip is within twice its uncertainty of what the skew alone leaves."
    if not doubt and pips.answers and all(a.tilt_deg > SURE * a.tilt_u_deg for a in pips.answers):
        doubt = "The pip changes with the ball: square the pivot, or it goes for one size only."
    reason = (
        "A pip does not tell its side: move one way, the play taken up, and turn again; if the pip "
        "grew, go back twice as much."
    )
    if not pips.skew_known:
        reason += " The skew is not known: if the pip grows either way, that is what leaves it."
    slide = rig.arrangement == "across"
    move, step = ("cross slide", rig.slide_mm_per_division) if slide else ("tip height", None)
    advice = _advise("offset", pips.offset, doubt, move, step, reason)
    return replace(advice, sign_known=False)


def correct(measured: Measured, rig: Rig) -> Correction:
    """What to move after a ball was turned and measured, or that nothing is justified.

    Squareness comes first, then skew, offset and size. An error is corrected when it exceeds twice its
    uncertainty and the measurements do not contradict each other. Moving the skew or the offset away
    changes the radius by h^2 and e^2 over 2 R at most, which is left out.
    Raises CannotFit with every problem of what was given.
    """
    found = problems(measured, rig)
    if found:
        raise CannotFit(found)
    fit, pips, advice = None, None, []
    if measured.readings:
        fit = fit_readings(measured.readings, measured.accuracy_mm)
        doubt = "The readings contradict each other." if fit.scatter == "contradict" else ""
        skew = _skew(fit, rig, doubt)
        size = _size(fit, rig, measured.wanted_mm, skew.justified, doubt)
        advice = [skew, size]
    if measured.pips:
        trusted = fit.skew if fit and fit.scatter != "contradict" else None
        pips = fit_pips(measured.pips, Estimate(0.0, 0.0) if measured.before_nose else trusted)
        doubt = "The pips contradict each other." if pips.scatter == "contradict" else ""
        advice.insert(len(advice) // 2, _offset(pips, rig, doubt))
        advice[:0] = [_square(pips, rig, doubt)] if pips.answers else []
    return Correction(fit, pips, tuple(advice))
