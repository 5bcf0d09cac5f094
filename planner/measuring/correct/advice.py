"""From the fits to what is moved, which way and by how much, in the order in which to act."""

from __future__ import annotations

from dataclasses import replace
from math import radians, sqrt, tan

from planner.dial.sense import DEEPER
from planner.measuring.correct.faults import problems
from planner.measuring.correct.fit import fit_pips, fit_readings, fit_sizes
from planner.measuring.correct.model import (
    SURE,
    Advice,
    CannotFit,
    Correction,
    Estimate,
    Fit,
    Measured,
    PipFit,
    Rig,
    SizeFit,
    What,
)

_DEEPER = DEEPER[0].upper() + DEEPER[1:]

OVER_MM = 100.0
"""The length over which an out-of-square is given in millimetres."""

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
    move, reason = "tip in", f"The ball is large: advance the tip. {_DEEPER}."
    if error.mm < 0:
        move = "tip out"
        reason = (
            "For the next ball draw the tip back past this and come in to it, the play taken up."
            f" {_DEEPER}."
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


def _dial(sizes: SizeFit, rig: Rig, doubt: str) -> list[Advice]:
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
    zero = _advise("zero", sizes.zero, doubt, "dial zero", rig.tip_mm_per_division, reason)
    if sizes.screw is None:
        return [zero]
    reason = "The screw moves more, or less, than its dial says: look for wear, or another pitch."
    per = Estimate(OVER_MM * sizes.screw.mm, OVER_MM * sizes.screw.u_mm)
    screw = replace(_advise("screw", per, doubt, "feed screw", None, reason), over_mm=OVER_MM)
    return [screw, zero]


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
    sizes = None
    if measured.sizes:
        sizes = fit_sizes(measured.sizes)
        doubt = "The sizes contradict each other." if sizes.scatter == "contradict" else ""
        advice += _dial(sizes, rig, doubt)
    return Correction(fit, pips, tuple(advice), sizes)
