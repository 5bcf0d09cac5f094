"""What would work where a job is impossible: the largest ball, and each number that alone would do.

Found by search on the same rules. Imported by sizing.apply and the commands.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from msgspec.structs import replace

from parts.standard.series import SIXTYFOURTH_MM
from parts.standard.threads import threads
from parts.value import Value
from planner.job.tables import Job
from planner.sizing.candidates import Request
from planner.sizing.trying import balls_that_work, tried, works
from planner.words.findings import Finding, finding
from planner.words.numbers import inch_pitch

LEAST_BALL_MM = 4.0
"""The smallest ball worth an attachment: below it a form tool serves (common practice)."""


class LargestBall(Value, frozen=True):
    """The largest ball that works, and what stops a larger one."""

    diameter_mm: float
    bound: str


def largest_for(wanted: Request) -> LargestBall | None:
    """The largest ball, to 0.1 mm or 1/64 in, that the rules allow; None when none of 4 mm is."""

    def good_ball(ball_mm: float) -> bool:
        return works(wanted.with_ball(ball_mm))

    height = wanted.job.lathe.spindle_over_cross_slide
    step = max(0.5, height / 40)
    falling = [2 * height]
    while falling[-1] - step >= LEAST_BALL_MM:
        falling.append(falling[-1] - step)
    works_or_not = zip(falling, balls_that_work(wanted, falling), strict=True)
    first = next((ball for ball, does in works_or_not if does), None)
    if first is None:
        return None
    good, bad = first, first + step
    while bad - good > 0.05:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if good_ball(middle) else (good, middle)
    # as it is said: the largest whole grain that does, though the bisection stopped a hair under it
    grain = SIXTYFOURTH_MM if wanted.job.inch else 0.1
    most = floor(bad / grain + 1e-6)
    whole = (round(grains * grain, 6) for grains in (most, most - 1))
    best = next((ball for ball in whole if good_ball(ball)), good)
    (stop, *_) = tried(wanted.with_ball(bad))[1]
    return LargestBall(best, f"{stop.value}: {stop.limit}" if stop.value else stop.limit)


SMALL = 1.25
"""A ball so many times smaller than the smallest that works is a figure too few, told alone."""


def too_small(wanted: Request, stop: Finding, best: LargestBall | None) -> Finding | None:
    """The refusal of a ball that is far too small, with the least that works; None for any other.

    stop: the first refusal; best: the largest ball that works. Not of a job with sizes of its own: they
    may be what does not fit.
    """
    now = wanted.job.attachment.max_ball_diameter
    if (
        best is None
        or wanted.own
        or SMALL * now > best.diameter_mm
        or works(wanted.with_ball(SMALL * now))
    ):
        return None
    bad, good = SMALL * now, best.diameter_mm
    while good - bad > 0.5:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if works(wanted.with_ball(middle)) else (good, middle)
    numbers = wanted.job.numbers
    about = ": ".join(one for one in (stop.key.rpartition(".")[2], stop.value) if one)
    limit, value = f"{about}: {stop.limit}", f"ball {numbers.size(now)}"
    remedy = f"On this lathe a ball of at least {numbers.at_least(good)}"
    return finding(stop.code, stop.file, BALL_KEYS[0], value, limit, remedy, severity=stop.severity)


class Lever(Value, frozen=True):
    """A number of the job that may make an impossible one possible.

    table, key: where it stands; far: as far as it is moved, at most; whole: whether it is a count.
    """

    table: str
    key: str
    far: float
    whole: bool = False


LEVERS = (
    Lever("tool_post", "largest_shank", 100.0),
    Lever("lathe", "spindle_over_seat", 3.0),
    Lever("lathe", "spindle_over_cross_slide", 800.0),
    Lever("attachment", "dial_divisions", 4, whole=True),
    Lever("attachment", "screw_pitch", 0.75),
)
"""What may stand in the way of every ball, each moved alone toward where it is easiest."""


def ways_out(wanted: Request) -> list[str]:
    """For each lever that alone makes the job possible, the least change that does, by bisection."""
    ways = []
    for lever in LEVERS:
        table = getattr(wanted.job, lever.table)
        now = getattr(table, lever.key)

        def helps(value: float, lever: Lever = lever) -> bool:
            moved = getattr(wanted.job, lever.table).model_copy(update={lever.key: value})
            job = wanted.job.model_copy(update={lever.table: moved})
            return works(replace(wanted, job=job))

        good: float = lever.far
        if lever.key == "screw_pitch":  # pitches are the standards', in an inch job's own language
            system = "unified" if wanted.job.inch and inch_pitch(now) else None
            steps = sorted({t.pitch_mm for t in threads(system)}, key=lambda p: abs(p - now))
            found = next((pitch for pitch in steps[:16] if helps(pitch)), None)
            if found is not None:
                ways.append(f'screw_pitch = "{wanted.job.numbers.asked_pitch(found)}"')
            continue
        if not helps(good):
            continue
        bad = float(now)
        while abs(good - bad) > (1 if lever.whole else 0.05):
            middle = (good + bad) / 2
            middle = round(middle) if lever.whole else middle
            good, bad = (middle, bad) if helps(middle) else (good, middle)
        word, numbers = ("at least" if good > now else "at most"), wanted.job.numbers
        rounded = numbers.at_least if good > now else numbers.at_most
        ways.append(f"{lever.key} {word} {f'{good:g}' if lever.whole else rounded(good)}")
    return ways


FAR = 1.5
"""A ball so many times the largest that works is told first: a figure too many, perhaps."""

MOST_WAYS = 2
"""So many ways out are told; one is taken."""

BALL_KEYS = ("attachment.max_ball_diameter", "attachment.max_blank_diameter")
"""Keys of findings whose remedy is a smaller ball or blank."""


def with_bound(stop: Finding, job: Job, best: LargestBall | None, ways: Sequence[str]) -> Finding:
    """A refusal whose remedy names the ball, or the other numbers, that would work."""
    remedy = stop.remedy
    if best is None:
        none = "no ball works with the rest as it is"
        if ways:
            none = f"no ball works; one would with {', or '.join(ways[:MOST_WAYS])}"
        # a smaller ball would not do either: that is no remedy
        remedy = f"N{none[1:]}" if stop.key in BALL_KEYS else f"{remedy}: {none}"
    elif best.diameter_mm < job.attachment.max_ball_diameter - 0.05:
        shown = job.numbers.at_most(best.diameter_mm)
        remedy = f"On this lathe a ball of at most {shown}. Or: {remedy}"
        if stop.key not in BALL_KEYS and best.diameter_mm * FAR < job.attachment.max_ball_diameter:
            about = ": ".join(one for one in (stop.key.rpartition(".")[2], stop.value) if one)
            key, value = BALL_KEYS[0], f"ball {job.numbers.size(job.attachment.max_ball_diameter)}"
            limit = f"{about}: {stop.limit}"
            return finding(stop.code, stop.file, key, value, limit, remedy, severity=stop.severity)
    return finding(
        stop.code, stop.file, stop.key, stop.value, stop.limit, remedy, severity=stop.severity
    )
