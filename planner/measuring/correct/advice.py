"""From the fits to what is moved, which way and by how much, in the order in which to act."""

from __future__ import annotations

from math import radians, sqrt, tan
from typing import Literal

from msgspec.structs import replace

from planner.dial.sense import DEEPER
from planner.measuring.correct.faults import problems
from planner.measuring.correct.fit import apart, fit_pips, fit_readings, fit_sizes, sound
from planner.measuring.correct.model import (
    SURE,
    Advice,
    CannotFit,
    Correction,
    Earlier,
    Estimate,
    Fit,
    Measured,
    PipFit,
    Rig,
    SizeFit,
    Toleranced,
    What,
)
from planner.measuring.correct.slips import farthest_mm
from planner.measuring.correct.within import toleranced
from planner.words.numbers import METRIC, Numbers

NOTHING = Earlier()
"""Nothing was measured before at the same setting."""

_DEEPER = DEEPER[0].upper() + DEEPER[1:]

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


_FAR = (
    "The error is larger than that of any ball turned to the dial: look at the readings, and whether "
    "this is the ball they are of, before anything is moved."
)
_WITHIN = "The ball is within its tolerance and needs none."
_UNTOLD = (
    "Whether the ball is within its tolerance cannot be told: measure oftener, or more finely."
)


def _advise(
    what: What,
    error: Estimate,
    doubt: str,
    move: str,
    step: float | None,
    reason: str,
    farthest_mm: float | None = None,
    at_tip: float = 1.0,
) -> Advice:
    """Advice to move, unless there is a doubt, the error is within twice its uncertainty or too far.

    farthest_mm: how far the tip can plausibly be off; at_tip: the tip's part in the error.
    """
    size, remains = abs(error.mm), SURE * error.u_mm
    far = farthest_mm is not None and size * at_tip > farthest_mm and error.clear
    if far:
        doubt = doubt or _FAR
    if not doubt and not error.clear:
        doubt = "The error is within twice its uncertainty."
    if doubt:
        reason = f"No correction is justified. {doubt}"
        return Advice(what, error, False, "", 0.0, None, size + remains, reason, far=far)
    return Advice(what, error, True, move, size, size / step if step else None, remains, reason)


def _skew(fit: Fit, rig: Rig, doubt: str, farthest_mm: float) -> Advice:
    if not fit.skew:
        doubt = f"No correction is justified. {doubt or fit.words}"
        return Advice("skew", None, False, "", 0.0, None, None, doubt)
    if not doubt and fit.skew.clear and fit.anvils and not fit.anvils.skew_clear:
        doubt = (
            "With an anvil a little off its angle it is within twice its uncertainty: measure nearer "
            "the stem too."
        )
    move, reason = _SKEW[rig.arrangement, (fit.skew.mm > 0) != rig.other_side]
    step = rig.slide_mm_per_division if rig.arrangement == "upright" else None
    return _advise("skew", fit.skew, doubt, move, step, reason, farthest_mm)


def _size(
    fit: Fit,
    rig: Rig,
    wanted_mm: float,
    skew_mended: bool,
    doubt: str,
    farthest_mm: float,
    standing: Toleranced | None = None,
) -> Advice:
    """Of the ball that the skew's correction leaves, R0; where it stays as it is, of the mean read.

    standing: to its tolerance, if it has one: a ball that is nowhere under that is not too small.
    """
    error = least = Estimate((fit.mean.mm - wanted_mm) / 2, fit.mean.u_mm / 2)
    if skew_mended and fit.radius and fit.skew:
        error = least = Estimate(fit.radius.mm - wanted_mm / 2, fit.radius.u_mm)
        if fit.skew.mm < 0:  # then the equator, R0 + h, is the smallest
            shared = 2 * (fit.correlation or 0.0) * fit.radius.u_mm * fit.skew.u_mm
            square = fit.radius.u_mm**2 + fit.skew.u_mm**2 + shared
            least = Estimate(error.mm + fit.skew.mm, sqrt(max(square, 0.0)))
    move, reason = "tip in", f"The ball is large: advance the tip. {_DEEPER}."
    if error.mm < 0:
        move = "tip out"
        reason = (
            "For the next ball draw the tip back past this and come in to it, the play taken up."
            f" {_DEEPER}."
        )
    advice = _advise("size", error, doubt, move, rig.tip_mm_per_division, reason, farthest_mm)
    if doubt or advice.far or not (least.mm < 0 and least.clear):
        return advice
    if standing is not None and not standing.small:
        return advice
    reason = f"{advice.reason} This ball is too small somewhere and cannot be mended."
    return replace(advice, undersize=True, reason=reason)


def _square(pips: PipFit, rig: Rig, doubt: str, farthest_mm: float, largest_mm: float) -> Advice:
    """The least tilt that fits, once all that fit are clear of nothing and alike.

    largest_mm: diameter of the largest ball; the tilt shifts its nose by its radius times the slope.
    """
    least, most = pips.answers[0], pips.answers[-1]
    slopes = [
        rig.over_mm * tan(radians(x)) for x in (least.tilt_deg, least.tilt_u_deg, most.tilt_deg)
    ]
    if not doubt and most.tilt_deg - least.tilt_deg > SURE * least.tilt_u_deg:
        doubt = (
            "More than one tilt fits the pips, which do not tell their side: turn a ball of a size "
            "between and measure its pip too."
        )
    move, reason = _SQUARE[rig.arrangement]
    reason += " and turn two sizes again: if their pips differ more, go back twice as much."
    slope, at_nose = Estimate(slopes[0], slopes[1]), largest_mm / 2 / rig.over_mm
    advice = _advise("squareness", slope, doubt, move, None, reason, farthest_mm, at_nose)
    remains = (advice.remains_mm or 0.0) + slopes[2] - slopes[0]
    return replace(advice, remains_mm=remains, sign_known=False, over_mm=rig.over_mm)


def _offset(pips: PipFit, rig: Rig, doubt: str, farthest_mm: float) -> Advice:
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
    advice = _advise("offset", pips.offset, doubt, move, step, reason, farthest_mm)
    return replace(advice, sign_known=False)


def _dial(sizes: SizeFit, rig: Rig, doubt: str, farthest_mm: float) -> list[Advice]:
    """The zero of the dial, and whether its screw moves as far as it says."""
    reason = (
        "Slack the dial and set it to a lower number by this, the screw still: balls come out larger"
        " than it says."
    )
    if sizes.zero.mm < 0:
        reason = (
            "Slack the dial and set it to a higher number by this, the screw still: balls come out"
            " smaller than it says."
        )
    step = rig.tip_mm_per_division
    zero = _advise("zero", sizes.zero, doubt, "dial zero", step, reason, farthest_mm)
    if sizes.screw is None:
        return [zero]
    reason = "The screw moves more, or less, than its dial says: look for wear, or another pitch."
    per = Estimate(rig.over_mm * sizes.screw.mm, rig.over_mm * sizes.screw.u_mm)
    screw = replace(_advise("screw", per, doubt, "feed screw", None, reason), over_mm=rig.over_mm)
    return [screw, zero]


def correct(
    measured: Measured, rig: Rig, earlier: Earlier = NOTHING, numbers: Numbers = METRIC
) -> Correction:
    """What to move after a ball was turned and measured, or that nothing is justified.

    Squareness comes first, then skew, offset and size. An error is corrected when it exceeds twice its
    uncertainty, is one that can plausibly be, and the measurements do not contradict each other; skew
    and size only where the ball is out of its tolerance, if it has one. Moving the skew or the offset
    away changes the radius by h^2 and e^2 over 2 R at most, which is left out.
    earlier: what was measured at the same setting; left out where it does not agree with what is
    measured now. numbers: the language of the problems. Raises CannotFit with every problem of what was
    given.
    """
    found = problems(measured, rig, numbers)
    if found:
        raise CannotFit(found)
    far = farthest_mm(measured, rig)
    fit, pips, advice, standing = None, None, [], None
    differ: list[Literal["readings", "pips", "sizes"]] = []
    if measured.readings:
        series = tuple(one for one in earlier.series if sound(one))
        if apart(measured.readings, measured.accuracy_mm, series):
            differ.append("readings")
            series = ()
        fit = fit_readings(measured.readings, measured.accuracy_mm, series)
        standing = toleranced(fit, measured)
        doubt = "The readings contradict each other." if fit.scatter == "contradict" else ""
        if standing and not doubt and standing.standing != "outside":
            doubt = _WITHIN if standing.standing == "within" else _UNTOLD
        skew = _skew(fit, rig, doubt, far)
        size = _size(fit, rig, measured.wanted_mm, skew.justified, doubt, far, standing)
        advice = [skew, size]
    if measured.pips:
        trusted = fit.skew if fit and fit.scatter != "contradict" else None
        held = Estimate(0.0, 0.0) if measured.before_nose else trusted
        pips = fit_pips([*measured.pips, *earlier.pips], held)
        if pips.scatter == "contradict" and earlier.pips:
            pips = fit_pips(measured.pips, held)
            differ += ["pips"] if pips.scatter != "contradict" else []
        doubt = "The pips contradict each other." if pips.scatter == "contradict" else ""
        advice.insert(len(advice) // 2, _offset(pips, rig, doubt, far))
        largest = max(pip.ball_diameter_mm for pip in (*measured.pips, *earlier.pips))
        advice[:0] = [_square(pips, rig, doubt, far, largest)] if pips.answers else []
    sizes = None
    if measured.sizes:
        sizes = fit_sizes([*measured.sizes, *earlier.sizes])
        if sizes.scatter == "contradict" and earlier.sizes:
            sizes = fit_sizes(measured.sizes)
            differ += ["sizes"] if sizes.scatter != "contradict" else []
        doubt = "The sizes contradict each other." if sizes.scatter == "contradict" else ""
        advice += _dial(sizes, rig, doubt, far)
    return Correction(fit, pips, tuple(advice), sizes, standing, tuple(differ), far)
