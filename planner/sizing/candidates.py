"""The rules applied: sizings of a job side by side, a column for each size, a row for each candidate.

One row is the sizing the rules prefer; a search keeps more. Imported by sizing.apply, sizing.bound and
checking.search.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from parts.errors import NotMakeable
from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from parts.standard.threads import thread
from parts.value import Value
from planner.job.tables import Job
from planner.sizing.catalogue import Catalogue, NothingFits, Options
from planner.sizing.draft import Draft, Rule, Unknown, public_name
from planner.sizing.requirements import check_sizes
from planner.sizing.rules import RULES
from planner.sums.columns import Chosen, Picked, Rows, first_true
from planner.words.findings import BadInput, Finding, finding


class SizedBy(Value, frozen=True):
    """One size of a job and how it came about; ``origin`` is "job", "own size", "rule", "rack"..."""

    name: str
    value: Any
    text: str
    source: str
    origin: str


class Sizing(Value, frozen=True):
    """The sizes of a job, how each came about, and what to look at before building."""

    sizes: Sizes
    steps: tuple[SizedBy, ...]
    findings: tuple[Finding, ...]


class Request(Value, frozen=True):
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

    def ball_columns(self, balls_mm: Sequence[float]) -> dict[str, NDArray[np.float64]]:
        """The governing sizes of ``with_ball`` for many balls, side by side; those the job leaves out
        follow by their rules."""
        wanted, balls = self.job.attachment, np.array(balls_mm, dtype=float)
        found = {"max_ball_diameter_mm": balls}
        if wanted.min_ball_diameter:
            found["min_ball_diameter_mm"] = np.minimum(wanted.min_ball_diameter, balls)
        if wanted.max_blank_diameter:
            ratio = balls / wanted.max_ball_diameter
            found["max_blank_diameter_mm"] = wanted.max_blank_diameter * ratio
        return found

    def lean(self) -> Request:
        """The same, favouring no stock over the leanest."""
        return replace(self, shop=self.shop.lean)


class Candidates:
    """Sizings of a job side by side: a column for each size, a row for each candidate.

    struck: how many were struck out on the way, each before it was multiplied by later choices.
    """

    def __init__(
        self,
        wanted: Request,
        draft: Draft,
        origins: dict[str, Picked],
        rows: int,
        struck: int = 0,
    ) -> None:
        self.wanted, self.draft, self.origins, self.rows = wanted, draft, origins, rows
        self.struck = struck

    def measure(self, name: str, by: Callable[[Any], float]) -> NDArray[np.float64]:
        """A number of each row's entry of a choice."""
        column = self.draft.known[name]
        if isinstance(column, Picked):
            found = column.of(by)
        else:
            values, place = np.unique(column, return_inverse=True)
            found = np.array([by(value.item()) for value in values], dtype=float)[place]
        return np.broadcast_to(found, (self.rows,))

    def counted(self, names: Sequence[str], origin: str) -> NDArray[np.int8]:
        """How many of those choices each row has from an origin."""
        found = np.zeros(self.rows, dtype=np.int8)
        for name in names:
            found += self.origins[name].of(lambda one: one == origin).astype(np.int8)
        return found

    def chosen(self, row: int) -> dict[str, Any]:
        """What each rule came to in a row."""
        return {rule.name: _plain(self.draft.known[rule.name], row) for rule in RULES}

    def sizing(self, row: int, wanted: Request | None = None) -> Sizing:
        """One candidate as plain sizes, checked; wanted: what the row is of, where rows differ."""
        wanted = wanted or self.wanted
        values = self.chosen(row)
        steps, words = [], self.draft.series.words
        taps = {thread(name).designation for name in wanted.job.shop.taps}
        for rule in RULES:
            value = values[rule.name]
            origin = str(_plain(self.origins[rule.name], row))
            if origin == "standard" and value in taps:  # what any dealer has, and the shop too
                origin = "shop"
            steps.append(
                SizedBy(public_name(rule.name), value, words(rule.text), rule.source, origin)
            )
        sizes = Sizes(series=self.draft.series, **values)
        try:
            findings = check_sizes(sizes, wanted.job, wanted.file)
        except NotMakeable as problem:
            by_hand = bool(wanted.own)
            key = "attachment.sizes" if by_hand else "attachment.max_ball_diameter"
            limit = f"these sizes make no attachment ({problem})"
            remedy = "Change the sizes given by hand"
            findings = [finding("not-makeable", wanted.file, key, "", limit, remedy)]
        return Sizing(sizes, tuple(steps), tuple(findings))


def candidates(
    wanted: Request, width: int | Mapping[str, int], balls_mm: Sequence[float] = ()
) -> Candidates:
    """Every rule applied in turn, each choice keeping its first ``width`` entries a row.

    width: 1 for the one sizing the rules prefer; more, or a number by size, for a search. balls_mm:
    largest balls to size for instead of the job's, side by side; those with a size that has no value
    have no row. Raises BadInput when a size has no value in any row.
    """
    found = _Candidates(wanted, width)
    if balls_mm:
        found.given, found.rows = wanted.ball_columns(balls_mm), len(balls_mm)
    for rule in RULES:
        found.apply(rule)
    return found.whole()


Must = Callable[[Any], Any]
"""What rows must meet: of the sizes, as columns, a truth for each row or one for all."""


def in_blocks(
    wanted: Request, width: int | Mapping[str, int], most_rows: int, must: Sequence[Must] = ()
) -> Iterator[Candidates]:
    """The rows of ``candidates`` that meet what they must, in the same order, so many at a time.

    Before a choice that would make more, what stands side by side is parted, and the rules go on with
    one part after another: a search then needs room for a block, not for all. What a row must meet is
    asked before the first choice by which all its sizes are known, so that a row that does not is
    struck out before it is multiplied; a block of which no row is left comes without its last columns.
    Raises BadInput when a size has no value in any row of any block.
    """
    waiting, stops = [(_Candidates(wanted, width, must=must), 0)], list[BadInput]()
    early: set[tuple[int, int]] = set()
    came = False
    while waiting:
        found, at = waiting.pop()
        try:
            while at < len(RULES):
                kept = found.kept(RULES[at])
                if kept > 1 and not found.strike(at, early):
                    came = True
                    yield found.whole()
                    break
                room = max(1, most_rows // kept)
                if found.rows > room:
                    waiting += reversed([(part, at) for part in found.parted(room)])
                    break
                found.apply(RULES[at])
                at += 1
            else:
                came = True
                found.strike(at, early)
                yield found.whole()
        except BadInput as problem:
            stops.append(problem)
    if not came:
        raise stops[0]


def picked(wanted: Request, entries: Mapping[str, Any]) -> Candidates:
    """The one row that has those entries of its choices, as ``in_blocks`` came to it."""
    found = _Candidates(wanted, 1, entries)
    for rule in RULES:
        found.apply(rule)
    return found.whole()


class _Candidates:
    """Rows in the making: the sizes known so far, where each is from, and what is kept of a choice."""

    def __init__(
        self,
        wanted: Request,
        width: int | Mapping[str, int],
        entries: Mapping[str, Any] | None = None,
        must: Sequence[Must] = (),
    ) -> None:
        self.wanted, self.width, self.entries = wanted, width, entries or {}
        self.must, self.struck = dict(enumerate(must)), 0
        self.draft = Draft(wanted.job, wanted.shop)
        self.origins: dict[str, Picked] = {}
        self.given: dict[str, NDArray[np.float64]] = {}
        self.rows = 1

    def whole(self) -> Candidates:
        return Candidates(self.wanted, self.draft, self.origins, self.rows, self.struck)

    def strike(self, at: int, early: set[tuple[int, int]]) -> int:
        """Strike out the rows that do not meet what can be asked after so many rules; rows left.

        early: what has been asked too early, after which rule; it is not asked there again.
        """
        met = np.ones(self.rows, dtype=bool)
        for number, one in list(self.must.items()):
            if (at, number) in early:
                continue
            try:
                met &= one(self.draft)
            except Unknown:
                if at == len(RULES):
                    raise
                early.add((at, number))
            else:
                del self.must[number]
        if not met.all():
            rows = np.flatnonzero(met)
            self.struck += self.rows - len(rows)
            self._take(self, rows, len(rows))
        return self.rows

    def kept(self, rule: Rule) -> int:
        """How many entries of its choice are kept in each row."""
        return self.width if isinstance(self.width, int) else self.width.get(rule.name, 1)

    def parted(self, most_rows: int) -> Iterator[_Candidates]:
        """The same rows, at most so many at a time."""
        for start in range(0, self.rows, most_rows):
            stop = min(start + most_rows, self.rows)
            part = _Candidates(self.wanted, self.width, self.entries)
            part.must = dict(self.must)
            part.struck, self.struck = self.struck, 0  # counted with the first of them
            part._take(self, slice(start, stop), stop - start)
            yield part

    def _take(self, other: _Candidates, rows: Rows, count: int) -> None:
        """A choice of another's rows, so many."""
        self.draft.known = Chosen(other.draft.known, rows)
        self.origins = Chosen(other.origins, rows)
        self.rows = count

    def apply(self, rule: Rule) -> None:
        """One rule more. Raises BadInput when it leaves no row."""
        file, draft = self.wanted.file, self.draft
        key = f"attachment.sizes.{public_name(rule.name)}"
        try:
            if rule.name in self.wanted.own:
                own = self.wanted.own[rule.name]
                found: Any = Options((own,), ("own size",), np.array([[True]]))
            elif rule.name in self.given:
                found = self.given[rule.name]
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
            origin = rule.origin(draft.job)
            self.origins[rule.name] = Picked((origin,), np.zeros(1, dtype=np.intp))
            draft.known[rule.name] = found if isinstance(found, str) else np.atleast_1d(found)
            return
        if rule.name in self.entries:
            same = [entry == self.entries[rule.name] for entry in found.items]
            found = replace(found, fits=found.fits & np.array(same)[:, None])
        kept = self.kept(rule)
        parent, item = _chosen(found, self.rows, kept)
        if not len(parent):
            raise BadInput([finding("nothing-fits", file, key, "", found.wanted, found.remedy)])
        if len(parent) != self.rows or kept > 1:
            self._take(self, parent, len(parent))
        numbers = isinstance(found.items[0], float | int)
        self.draft.known[rule.name] = (
            np.array(found.items, dtype=float)[item] if numbers else Picked(found.items, item)
        )
        self.origins[rule.name] = Picked(found.origins, item)


def _chosen(found: Options, rows: int, kept: int) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The row and the entry of each choice: in every row the first ``kept`` entries that fit.

    An entry that comes twice (the shop has it and it is sold) is one choice.
    """
    if kept == 1:
        item = first_true(found.fits)
        some = found.fits[item, np.arange(len(item))]
        if found.same is not None:
            item, some = item[found.same], some[found.same]
        item, some = np.broadcast_to(item, (rows,)), np.broadcast_to(some, (rows,))
        return np.flatnonzero(some), item[some]
    fits = found.fits.T.copy()
    first: dict[Any, int] = {}
    for at, entry in enumerate(found.items):
        if entry in first:
            fits[:, at] &= ~fits[:, first[entry]]
        else:
            first[entry] = at
    place = np.cumsum(fits, axis=1, dtype=np.int16)
    kind, item = np.nonzero(fits & (place <= kept))  # by the kinds of rows, one after another
    many = np.bincount(kind, minlength=len(fits))
    same = np.arange(rows) if found.same is None else found.same
    if len(fits) == 1:
        same = np.zeros(rows, dtype=np.intp)
    each = many[same]
    parent = np.repeat(np.arange(rows), each)
    start = (np.cumsum(many) - many)[same] - (np.cumsum(each) - each)
    return parent, item[np.arange(len(parent)) + start[parent]]


def _plain(column: Any, row: int) -> Any:
    """One row of a column as Sizes has it: a float, a count, a section or a thread's name."""
    if isinstance(column, str):
        return column
    row = row if len(column) > 1 else 0
    value = column.row(row) if isinstance(column, Picked) else column[row].item()
    return sized(value)


def sized(entry: Any) -> Any:
    """An entry of the catalogue as Sizes has it: a thread by its name."""
    return getattr(entry, "designation", entry)
