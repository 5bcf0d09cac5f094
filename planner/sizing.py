"""From the governing sizes to every size of every part.

``size_up`` applies planner.rules, takes the user's own sizes instead where given, checks the result
and refuses the impossible with the number that would work. Imported by planner.plan.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from difflib import get_close_matches
from math import floor
from typing import Any

from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from parts.standard.threads import thread
from planner.catalogue import Choice, NothingFits
from planner.checks import check_sizes
from planner.findings import BadInput, Finding, refused
from planner.job import Job
from planner.rules import RULES, Draft
from planner.units import UnitError, length_mm, section, unit_name


@dataclass(frozen=True)
class SizedBy:
    """One size of a job and how it came about; ``origin`` is "job", "own size", "rule", "rack"..."""

    name: str
    value: Any
    text: str
    source: str
    origin: str


@dataclass(frozen=True)
class Sizing:
    """The sizes of a job, how each came about, and what to look at before building."""

    sizes: Sizes
    steps: tuple[SizedBy, ...]
    findings: tuple[Finding, ...]


def size_up(job: Job, file: str) -> Sizing:
    """Every size for a job.

    file: what findings call the job file. Raises BadInput when one of the job's own sizes cannot be
    read, or when the job is impossible: then with the largest ball that would work on this lathe,
    found by search on the same rules.
    """
    own = _own_sizes(job, file)
    sizing, stops = _tried(job, own, file)
    if sizing is not None:
        return sizing
    best_mm = largest_ball_mm(job, file)
    raise BadInput([_with_bound(finding, job, best_mm) for finding in stops])


def largest_ball_mm(job: Job, file: str) -> float | None:
    """The largest ball diameter, to 0.1 mm, that the rules allow on this lathe; None when none.

    The ball is searched from 4 mm to the diameter that the swing over the cross slide would take,
    its blank and its smallest ball in proportion; everything else of the job stays. Stock comes in
    steps, so what works is not quite one range: it is walked down coarsely, then bisected.
    """
    own = _own_sizes(job, file)

    def works(ball_mm: float) -> bool:
        return _tried(_with_ball(job, ball_mm), own, file)[0] is not None

    step = max(0.5, job.lathe.spindle_over_cross_slide / 40)
    good = 2 * job.lathe.spindle_over_cross_slide
    while good >= 4.0 and not works(good):
        good -= step
    if good < 4.0:
        return None
    bad = good + step
    while bad - good > 0.05:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if works(middle) else (good, middle)
    rounded = floor(good * 10 + 1e-6) / 10
    return rounded if works(rounded) else good


def _tried(job: Job, own: dict[str, Any], file: str) -> tuple[Sizing | None, list[Finding]]:
    """The sizing that keeps to the shop's own stock, else the leanest; or why neither will do."""
    stops: list[Finding] = []
    for lean in (False, True):
        try:
            sizing = _apply(job, own, file, lean)
            refusals = [finding for finding in sizing.findings if finding.severity == "refused"]
        except BadInput as problem:
            refusals = list(problem.findings)
        if not refusals:
            return sizing, []
        stops = stops or refusals
    return None, stops


def _with_ball(job: Job, ball_mm: float) -> Job:
    wanted = job.attachment
    ratio = ball_mm / wanted.max_ball_diameter
    scaled = wanted.model_copy(
        update={
            "max_ball_diameter": ball_mm,
            "min_ball_diameter": wanted.min_ball_diameter
            and min(wanted.min_ball_diameter, ball_mm),
            "max_blank_diameter": wanted.max_blank_diameter and wanted.max_blank_diameter * ratio,
        }
    )
    return job.model_copy(update={"attachment": scaled})


def _with_bound(finding: Finding, job: Job, best_mm: float | None) -> Finding:
    wanted = job.attachment.max_ball_diameter
    if best_mm is None:
        remedy = (
            f"{finding.remedy}; no ball of 4 mm or more works with the rest of the job as it is"
        )
    elif best_mm < wanted - 0.05:
        unit = unit_name(job.inch)
        shown = _floored(best_mm, job.inch)
        remedy = f"On this lathe at most {shown} {unit}. Or: {finding.remedy}"
    else:
        remedy = finding.remedy
    return refused(finding.file, finding.key, finding.value, finding.limit, remedy)


def _floored(mm: float, inch: bool) -> str:
    """A bound shown so that it never rounds over itself: to 0.1 mm or 0.01 in, down."""
    return (
        f"{floor(mm / 25.4 * 100 + 1e-6) / 100:.2f}" if inch else f"{floor(mm * 10 + 1e-6) / 10:g}"
    )


def _apply(job: Job, own: dict[str, Any], file: str, lean: bool) -> Sizing:
    draft = Draft(job, lean)
    findings: list[Finding] = []
    steps = []
    for rule in RULES:
        try:
            if rule.name in own:
                found: Any = Choice(own[rule.name], "own size")
            else:
                found = rule.value(draft)
        except NothingFits as problem:
            key = f"attachment.sizes.{_public(rule.name)}"
            findings.append(refused(file, key, "", problem.wanted, problem.remedy))
            raise BadInput(findings) from None
        except (UnknownSize, ValueError, ArithmeticError) as problem:
            key = f"attachment.sizes.{_public(rule.name)}"
            findings.append(
                refused(file, key, "", f"no size follows ({problem})", "Change the sizes it needs")
            )
            raise BadInput(findings) from None
        origin = "rule"
        if isinstance(found, Choice):
            found, origin = found.value, found.origin
        elif rule.source == "job file":
            origin = "job"
        draft.known[rule.name] = found
        steps.append(SizedBy(_public(rule.name), found, rule.text, rule.source, origin))
    sizes = Sizes(**draft.known)
    try:
        findings += check_sizes(sizes, job, file)
    except (UnknownSize, ValueError, ArithmeticError, TypeError) as problem:
        key = "attachment.sizes" if own else "attachment.max_ball_diameter"
        limit = f"these sizes make no attachment ({problem})"
        findings.append(refused(file, key, "", limit, "Change the sizes given by hand"))
    return Sizing(sizes, tuple(steps), tuple(findings))


def _public(name: str) -> str:
    return name.removesuffix("_mm")


_READERS: dict[str, Callable[[Any, str | None], Any]] = {
    "float": length_mm,
    "Section": section,
    "str": lambda value, _unit: thread(value).designation,
}
_GOVERNING = {rule.name for rule in RULES if rule.source == "job file"}


def _own_sizes(job: Job, file: str) -> dict[str, Any]:
    """The user's own sizes by field name; raises BadInput with every one that cannot be read."""
    kinds = {field.name: str(field.type) for field in fields(Sizes)}
    settable = {_public(name): name for name in kinds if name not in _GOVERNING}
    own: dict[str, Any] = {}
    problems: list[Finding] = []
    for key, value in job.attachment.sizes.items():
        place = f"attachment.sizes.{key}"
        name = settable.get(key)
        if name is None:
            near = get_close_matches(key, settable, 1)
            hint = f"Did you mean {near[0]}?" if near else "See the names in: pommel sizes"
            problems.append(refused(file, place, "", "no size of that name", hint))
            continue
        try:
            read = _READERS[kinds[name]](value, job.units)
        except UnitError as error:
            problems.append(refused(file, place, repr(value), error.limit, error.remedy))
            continue
        except (UnknownSize, AttributeError, TypeError) as error:
            problems.append(refused(file, place, repr(value), str(error), "Name one of those"))
            continue
        if isinstance(read, float) and not 0.05 <= read <= 2000:
            problems.append(
                refused(file, place, repr(value), "a size between 0.05 and 2000 mm", "Correct it")
            )
            continue
        own[name] = read
    if problems:
        raise BadInput(problems)
    return own
