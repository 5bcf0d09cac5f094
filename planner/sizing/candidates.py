"""The rules applied: sizings of a job side by side, a column for each size, a row for each candidate.

One row is the sizing the rules prefer; a search keeps more. Imported by sizing.apply, sizing.bound and
checking.search.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.errors import NotMakeable
from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from planner.job.tables import Job
from planner.sizing.catalogue import Catalogue, NothingFits, Options
from planner.sizing.draft import Draft, public_name
from planner.sizing.requirements import check_sizes, tail_reach_mm
from planner.sizing.rules import RULES
from planner.sums.columns import Picked
from planner.words.findings import BadInput, Finding, finding


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
        except NotMakeable as problem:
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


def tried(wanted: Request) -> tuple[Sizing | None, list[Finding]]:
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


def works(wanted: Request) -> bool:
    """Whether ``tried`` makes a sizing, without the words: what the columns strike out is not built."""
    for trial in (wanted, wanted.lean()):
        try:
            found = candidates(trial, 1)
        except BadInput:
            continue
        s = found.draft
        have = s.spindle_over_cross_slide_mm + 1e-6
        if not np.all(tail_reach_mm(s) + s.clearance_mm <= have):
            continue
        if not any(one.severity == "refused" for one in found.sizing(0).findings):
            return True
    return False
