"""From the governing sizes to every size of every part.

``size_up`` applies sizing.rules, takes the user's own sizes instead where given, checks the result
and refuses the impossible with the number that would work. Imported by output.plan.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from math import floor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.errors import NotMakeable
from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from parts.standard.threads import thread, threads
from planner.job.fields import named
from planner.job.tables import Job
from planner.sizing.catalogue import Catalogue, NothingFits, Options
from planner.sizing.requirements import check_sizes
from planner.sizing.rules import RULES, Draft
from planner.sums.columns import Picked
from planner.words.findings import BadInput, Finding, finding
from planner.words.units import UnitError, length_mm, section


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


@dataclass(frozen=True)
class Request:
    """What is to be sized: the job, its own sizes by field name, the catalogue to choose from."""

    job: Job
    file: str
    own: Mapping[str, Any]
    shop: Catalogue

    def with_ball(self, ball_mm: float) -> Request:
        """The same with another largest ball, its blank in proportion."""
        wanted = self.job.attachment
        ratio = ball_mm / wanted.max_ball_diameter
        smallest, blank = wanted.min_ball_diameter, wanted.max_blank_diameter
        scaled = wanted.model_copy(
            update={
                "max_ball_diameter": ball_mm,
                "min_ball_diameter": smallest and min(smallest, ball_mm),
                "max_blank_diameter": blank and blank * ratio,
            }
        )
        return replace(self, job=self.job.model_copy(update={"attachment": scaled}))

    def lean(self) -> Request:
        """The same, favouring no stock over the leanest."""
        return replace(self, shop=self.shop.lean)


def request(job: Job, file: str) -> Request:
    """A request for a job. Raises BadInput when one of its own sizes cannot be read."""
    return Request(job, file, _own_sizes(job, file), Catalogue(job.shop, job.inch))


def size_up(job: Job, file: str) -> Sizing:
    """Every size for a job.

    file: what findings call the job file. Raises BadInput when one of the job's own sizes cannot be
    read, or when the job is impossible: then with the largest ball that would work on this lathe,
    found by search on the same rules.
    """
    wanted = request(job, file)
    sizing, stops = _tried(wanted)
    if sizing is not None:
        return sizing
    best = _largest_ball(wanted)
    ways = [] if best is not None else _ways_out(wanted)
    raise BadInput([_with_bound(stop, job, best, ways) for stop in stops])


@dataclass(frozen=True)
class LargestBall:
    """The largest ball that works, and what stops a larger one."""

    diameter_mm: float
    bound: str


def largest_ball(job: Job, file: str) -> LargestBall | None:
    """The largest ball, to 0.1 mm, that the rules allow on this lathe, and what binds; None when none.

    The ball is searched from 4 mm to the diameter that the swing over the cross slide would take,
    its blank and its smallest ball in proportion; everything else of the job stays. Stock comes in
    steps, so what works is not quite one range: it is walked down coarsely, then bisected.
    """
    return _largest_ball(request(job, file))


def _largest_ball(wanted: Request) -> LargestBall | None:
    def works(ball_mm: float) -> bool:
        return _tried(wanted.with_ball(ball_mm))[0] is not None

    height = wanted.job.lathe.spindle_over_cross_slide
    step = max(0.5, height / 40)
    good = 2 * height
    while good >= 4.0 and not works(good):
        good -= step
    if good < 4.0:
        return None
    bad = good + step
    while bad - good > 0.05:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if works(middle) else (good, middle)
    rounded = floor(good * 10 + 1e-6) / 10
    best = rounded if works(rounded) else good
    (stop, *_) = _tried(wanted.with_ball(bad))[1]
    return LargestBall(best, f"{stop.value}: {stop.limit}" if stop.value else stop.limit)


def _tried(wanted: Request) -> tuple[Sizing | None, list[Finding]]:
    """The sizing that keeps to the shop's own stock, else the leanest; or why neither will do."""
    stops: list[Finding] = []
    for trial in (wanted, wanted.lean()):
        try:
            sizing = candidates(trial, 1).sizing(0)
            refusals = [one for one in sizing.findings if one.severity == "refused"]
        except BadInput as problem:
            refusals = list(problem.findings)
        if not refusals:
            return sizing, []
        stops = stops or refusals
    return None, stops


@dataclass(frozen=True)
class Lever:
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


def _ways_out(wanted: Request) -> list[str]:
    """For each lever that alone makes the job possible, the least change that does, by bisection."""
    ways = []
    for lever in LEVERS:
        table = getattr(wanted.job, lever.table)
        now = getattr(table, lever.key)

        def works(value: float, lever: Lever = lever) -> bool:
            moved = getattr(wanted.job, lever.table).model_copy(update={lever.key: value})
            job = wanted.job.model_copy(update={lever.table: moved})
            return _tried(replace(wanted, job=job))[0] is not None

        good: float = lever.far
        if lever.key == "screw_pitch":  # pitches are the standards'
            steps = sorted({t.pitch_mm for t in threads(None)}, key=lambda p: abs(p - now))
            found = next((pitch for pitch in steps[:16] if works(pitch)), None)
            if found is not None:
                ways.append(f"screw_pitch = {found:.4g} mm ({25.4 / found:.4g} tpi)")
            continue
        if not works(good):
            continue
        bad = float(now)
        while abs(good - bad) > (1 if lever.whole else 0.05):
            middle = (good + bad) / 2
            middle = round(middle) if lever.whole else middle
            good, bad = (middle, bad) if works(middle) else (good, middle)
        word = "at least" if good > now else "at most"
        rising = good > now
        if lever.whole:
            shown = f"{good:g}"
        else:
            numbers = wanted.job.numbers
            shown = numbers.at_least(good) if rising else numbers.at_most(good)
        ways.append(f"{lever.key} {word} {shown}")
    return ways


def _with_bound(stop: Finding, job: Job, best: LargestBall | None, ways: Sequence[str]) -> Finding:
    remedy = stop.remedy
    if best is None:
        remedy += "; no ball of 4 mm or more works with the rest of the job as it is"
        if ways:
            remedy += f". It would with: {', or '.join(ways)}"
    elif best.diameter_mm < job.attachment.max_ball_diameter - 0.05:
        shown = job.numbers.at_most(best.diameter_mm)
        remedy = f"On this lathe at most {shown} (what binds there: {best.bound}). Or: {remedy}"
    return finding(
        stop.code, stop.file, stop.key, stop.value, stop.limit, remedy, severity=stop.severity
    )


class Candidates:
    """Sizings of a job side by side: a column for each size, a row for each candidate."""

    def __init__(
        self, wanted: Request, draft: Draft, origins: dict[str, NDArray[np.str_]], rows: int
    ) -> None:
        self.wanted, self.draft, self.origins, self.rows = wanted, draft, origins, rows

    def measure(self, name: str, by: Callable[[Any], float]) -> NDArray[np.float64]:
        """A number of each row's entry of a choice."""
        column = self.draft.known[name]
        found = column.of(by) if isinstance(column, Picked) else column
        return np.broadcast_to(found, (self.rows,))

    def equal(self, name: str, value: Any) -> NDArray[np.bool_]:
        """The rows whose choice is an entry, as Sizes has it."""
        column = self.draft.known[name]
        if isinstance(column, Picked):
            return self.measure(name, lambda entry: _sized(entry) == value) > 0
        return np.broadcast_to(column == value, (self.rows,))

    def sizing(self, row: int) -> Sizing:
        """One candidate as plain sizes, checked."""
        values: dict[str, Any] = {}
        steps = []
        for rule in RULES:
            column = self.draft.known[rule.name]
            values[rule.name] = value = _plain(column, row)
            origin = str(_plain(self.origins[rule.name], row))
            steps.append(SizedBy(public_name(rule.name), value, rule.text, rule.source, origin))
        sizes = Sizes(**values)
        try:
            findings = check_sizes(sizes, self.wanted.job, self.wanted.file)
        except (UnknownSize, NotMakeable) as problem:
            by_hand = bool(self.wanted.own)
            key = "attachment.sizes" if by_hand else "attachment.max_ball_diameter"
            limit = f"these sizes make no attachment ({problem})"
            remedy = "Change the sizes given by hand"
            findings = [finding("not-makeable", self.wanted.file, key, "", limit, remedy)]
        return Sizing(sizes, tuple(steps), tuple(findings))


def candidates(wanted: Request, width: int | Mapping[str, int]) -> Candidates:
    """Every rule applied in turn, each choice keeping its first ``width`` entries a row.

    width: 1 for the one sizing the rules prefer; more, or a number by size, for a search. Raises
    BadInput when a size has no value in any row.
    """
    draft = Draft(wanted.job, wanted.shop)
    own, file = wanted.own, wanted.file
    rows = 1
    origins: dict[str, NDArray[np.str_]] = {}
    for rule in RULES:
        key = f"attachment.sizes.{public_name(rule.name)}"
        try:
            if rule.name in own:
                found: Any = Options((own[rule.name],), ("own size",), np.array([[True]]))
            else:
                found = rule.value(draft)
        except NothingFits as problem:
            stop = finding("nothing-fits", file, key, "", problem.wanted, problem.remedy)
            raise BadInput([stop]) from None
        except UnknownSize as problem:
            limit = f"no size follows ({problem})"
            stop = finding("not-makeable", file, key, "", limit, "Change the sizes it needs")
            raise BadInput([stop]) from None
        if not isinstance(found, Options):
            origin = "job" if rule.source == "job file" else "rule"
            origins[rule.name] = np.array([origin])
            draft.known[rule.name] = found if isinstance(found, str) else np.atleast_1d(found)
            continue
        kept = width if isinstance(width, int) else width.get(rule.name, 1)
        parent, item = _chosen(found, rows, kept)
        if not len(parent):
            raise BadInput([finding("nothing-fits", file, key, "", found.wanted, found.remedy)])
        if len(parent) != rows or kept > 1:
            rows = len(parent)
            for name, column in draft.known.items():
                draft.known[name] = _taken(column, parent)
            origins = {name: _taken(column, parent) for name, column in origins.items()}
        numbers = isinstance(found.items[0], float | int)
        draft.known[rule.name] = (
            np.array(found.items, dtype=float)[item] if numbers else Picked(found.items, item)
        )
        origins[rule.name] = np.array(found.origins)[item]
    return Candidates(wanted, draft, origins, rows)


def _chosen(found: Options, rows: int, kept: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The row and the entry of each choice: in every row the first ``kept`` entries that fit.

    An entry that comes twice (the shop has it and it is sold) is one choice.
    """
    fits = np.broadcast_to(found.fits, (len(found.items), rows)).T
    if kept == 1:
        parent = np.flatnonzero(fits.any(axis=1))
        return parent, fits[parent].argmax(axis=1)
    fits = fits.copy()
    first: dict[Any, int] = {}
    for at, entry in enumerate(found.items):
        if entry in first:
            fits[:, at] &= ~fits[:, first[entry]]
        else:
            first[entry] = at
    place = np.cumsum(fits, axis=1, dtype=np.int16)
    parent, item = np.nonzero(fits & (place <= kept))
    return parent, item


def _taken(column: Any, rows: NDArray[np.intp]) -> Any:
    """A column for a choice of rows; one that is the same in every row stays as it is."""
    if isinstance(column, str) or len(column) == 1:
        return column
    return column.take(rows) if isinstance(column, Picked) else column[rows]


def _plain(column: Any, row: int) -> Any:
    """One row of a column as Sizes has it: a float, a count, a section or a thread's name."""
    if isinstance(column, str):
        return column
    row = row if len(column) > 1 else 0
    value = column.row(row) if isinstance(column, Picked) else column[row].item()
    return _sized(value)


def _sized(entry: Any) -> Any:
    """An entry of the catalogue as Sizes has it: a thread by its name."""
    return getattr(entry, "designation", entry)


def public_name(name: str) -> str:
    """A size as the job file names it."""
    return name.removesuffix("_mm")


_READERS: dict[str, Callable[[Any, str | None], Any]] = {
    "float": length_mm,
    "Section": section,
    "Section | None": section,
    "str": named(thread, "thread"),
}
_GOVERNING = {rule.name for rule in RULES if rule.source == "job file"}


def _own_sizes(job: Job, file: str) -> dict[str, Any]:
    """The user's own sizes by field name; raises BadInput with every one that cannot be read."""
    kinds = {field.name: str(field.type) for field in fields(Sizes)}
    settable = {public_name(name): name for name in kinds if name not in _GOVERNING}
    own: dict[str, Any] = {}
    problems: list[Finding] = []
    for key, value in job.attachment.sizes.items():
        place = f"attachment.sizes.{key}"
        name = settable.get(key)
        if name is None:
            near = get_close_matches(key, settable, 1)
            hint = f"Did you mean {near[0]}?" if near else "See the names in: pommel sizes"
            limit = "no size of that name"
            problems.append(finding("unknown-size", file, place, "", limit, hint))
            continue
        try:
            read = _READERS[kinds[name]](value, job.units)
        except UnitError as error:
            shown, limit, remedy = repr(value), error.limit, error.remedy
            problems.append(finding(error.code, file, place, shown, limit, remedy))
            continue
        if isinstance(read, float) and not 0.05 <= read <= 2000:
            limit = "a size between 0.05 and 2000 mm"
            problems.append(finding("out-of-range", file, place, repr(value), limit, "Correct it"))
            continue
        own[name] = read
    if problems:
        raise BadInput(problems)
    return own
