"""The search: of all choices of stock, reamer and thread that fit, the best by what is preferred.

The rules of sizing take the leanest of everything. Here each choice keeps its next larger entries too,
all combinations stand side by side as columns, those that break a requirement are struck out, and the
rest is put in the order of what is preferred. The first that passes every check, one by one, is the
answer. Imported by output.plan; needs no solid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Literal, get_args

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from parts.attachment import attachment
from parts.sizes import Sizes
from parts.standard.materials import material
from parts.standard.threads import thread
from parts.tool import nose_radius_mm
from parts.value import Value
from planner.checking.clearance import clearances
from planner.checking.strength import Load, deflection_mm, strength_findings, strength_report
from planner.checking.sweep_findings import GEOMETRY, clearance_findings
from planner.job.tables import Job
from planner.sizing.apply import Candidates, Request, Sizing, candidates, public_name, request
from planner.sizing.candidates import Must, in_blocks, picked, sized
from planner.sizing.requirements import MOST_STICKOUT, REQUIREMENTS, tail_reach_mm
from planner.words.findings import BadInput, Finding

Preference = Literal["stiff", "light", "on-hand"]
"""What is preferred: least deflection, least mass, or least to buy."""

PREFERENCES: tuple[str, ...] = get_args(Preference)

MARGIN = 0.10
"""How much more than the least deflection is accepted where it is on the rack or in the shop."""

WIDTHS = {
    "rod_diameter_mm": 5,
    "clamp_screw": 2,
    "pivot_diameter_mm": 5,
    "feed_thread": 2,
    "block_stock": 4,
    "bit_stock": 2,
    "arm_stock": 8,
    "shank_stock": 5,
    "tube_stock": 12,
}
"""How many entries of each choice are tried: from the leanest up, the shank's from the largest down.
The tube has most, since its bed holds the shank, which has most of the spring."""

BLOCK_ROWS = 32_768
"""Combinations that stand side by side at a time: more would not keep within a processor's cache, and
of fewer there would be so many blocks that what each costs by itself tells."""

LEAST_GAIN = 0.02
"""A next size up that takes less than this off the deflection is not worth naming."""

MOST_TRIED = 60
"""Combinations that are checked one by one, best first, before the search gives up."""

CHOICES = tuple(WIDTHS)
"""Sizes the search chooses; every other follows by its rule."""


class Outcome(Value, frozen=True):
    """An attachment and what it comes to: deflection of the tip in the pass, mass of its main bars."""

    sizing: Sizing
    deflection_mm: float
    mass_kg: float


class Change(Value, frozen=True):
    """A size that the search takes otherwise than the rules do, and where the new one is from."""

    name: str
    before: Any
    after: Any
    origin: str


class Step(Value, frozen=True):
    """What the next size up of one choice would buy; deflection_mm, mass_kg: the change."""

    name: str
    now: Any
    larger: Any
    origin: str
    deflection_mm: float
    mass_kg: float


class Found(Value, frozen=True):
    """The answer of a search.

    combinations: how many stood side by side, one that was struck out before all was chosen counted
    once, not for each that it would have become; fitting: how many broke no requirement; least_mm:
    the least deflection of those.
    present: the attachment as sized; best: the one found; changes: between them, those that must be
    given by hand to have the rest follow. steps: from the best, one choice at a time. table: what
    another search for the same job may use.
    """

    prefer: Preference
    combinations: int
    fitting: int
    least_mm: float
    present: Outcome
    best: Outcome
    changes: tuple[Change, ...]
    steps: tuple[Step, ...]
    table: Table


def search(
    wanted: Request,
    present: Sizing,
    load: Load,
    nose_mm: float,
    prefer: Preference,
    table: Table | None = None,
) -> Found:
    """The best attachment for a job by what is preferred.

    wanted: the job with its own sizes, which stay; present: as sized now; load: of the pass; nose_mm:
    of the bit; table: of an earlier search for the same job, which is used again where the load is
    the same. Where nothing better passes every check, the present one is the best.
    """
    if not _holds(wanted):
        wanted = wanted.lean()  # the shop's own stock made the job impossible
    if table is None or table.load != load:
        table = Table(wanted, load)
    judge = _Judge(wanted, present, load, nose_mm)
    now = judge.outcome(present)
    best = _best(table, judge, present.sizes, prefer) or now
    changes = _changes(wanted, present, best.sizing)
    least = float(table.deflection_mm.min(initial=now.deflection_mm))
    steps, fitting = _steps(table, judge, best), len(table.deflection_mm)
    return Found(prefer, table.combinations, fitting, least, now, best, changes, steps, table=table)


def _holds(wanted: Request) -> bool:
    """Whether the rules make an attachment that is not refused, with the shop's own stock first."""
    try:
        found = candidates(wanted, 1).sizing(0).findings
    except BadInput:
        return False
    return not any(finding.severity == "refused" for finding in found)


def preferred(job: Job, file: str, present: Sizing, prefer: Preference) -> Found:
    """The search whose best is taken for the one the rules make; for a job that asks for it."""
    nose_mm = nose_radius_mm(present.sizes)
    load = strength_report(present.sizes, job, nose_mm).load
    return search(request(job, file), present, load, nose_mm, prefer)


def bars_kg(s: Any) -> Any:
    """Mass of the main bars at their finished lengths: block, arm, foot, rod, tube, cheek and shank.

    s: sizes, or columns of them.
    """
    steel = material(s.structure_material).density_kg_m3
    structure = (
        s.block_stock.area_mm2 * s.block_length_mm
        + s.arm_stock.area_mm2 * s.arm_length_mm
        + s.foot_stock.area_mm2 * s.foot_length_mm
        + s.tube_stock.area_mm2 * s.housing_length_mm
        + s.cheek_mm * 2 * s.spindle_over_seat_mm * s.housing_length_mm
        + s.shank_stock.area_mm2 * s.shank_length_mm
    )
    rod = s.rod_stock.area_mm2 * s.rod_length_mm * material(s.shaft_material).density_kg_m3
    return (structure * steel + rod) * 1e-9


class Table:
    """The combinations that fit, and what each comes to: gone through in blocks, and kept as columns.

    combinations: how many were gone through, as ``Found`` counts them. picks: of each
    choice, the place in ``entries``.
    """

    def __init__(self, wanted: Request, load: Load) -> None:
        self.wanted, self.load, self.combinations = wanted, load, 0
        self.entries: dict[str, dict[Any, int]] = {name: {} for name in CHOICES}
        found: list[tuple[NDArray[Any], ...]] = []
        picks: list[NDArray[np.int16]] = []
        for rows in in_blocks(wanted, WIDTHS, BLOCK_ROWS, MUST):
            self.combinations += rows.rows + rows.struck
            if not rows.rows:
                continue
            columns = (
                deflection_mm(rows.draft, load),
                bars_kg(rows.draft),
                rows.counted(CHOICES, "standard"),
                rows.counted(CHOICES, "buy list"),
            )
            found.append(tuple(np.broadcast_to(column, (rows.rows,)) for column in columns))
            picks.append(np.stack([self._places(rows, name) for name in CHOICES]))
        none = np.zeros((4, 0)), np.zeros((len(CHOICES), 0), dtype=np.int16)
        whole = [np.concatenate(column) for column in zip(none[0], *found, strict=True)]
        self.deflection_mm, self.mass_kg, self.ordered, self.bought = whole
        self.picks: NDArray[np.int16] = np.concatenate([none[1], *picks], axis=1)

    def _places(self, rows: Candidates, name: str) -> NDArray[np.int16]:
        known = self.entries[name]
        return rows.measure(name, lambda entry: known.setdefault(entry, len(known))).astype(
            np.int16
        )

    def changed(self, present: Sizes) -> NDArray[np.int8]:
        """How many choices of each row are not those of sizes."""
        same = [self.same(name, getattr(present, name)) for name in CHOICES]
        return np.asarray(len(CHOICES) - np.sum(same, axis=0, dtype=np.int8), dtype=np.int8)

    def same(self, name: str, value: Any) -> NDArray[np.bool_]:
        """The rows whose choice is an entry, as Sizes has it."""
        return self._of(name, lambda entry: sized(entry) == value) > 0

    def sizes(self, name: str) -> NDArray[np.float64]:
        """Each row's entry of a choice as one number to compare by."""
        return self._of(name, _size)

    def _of(self, name: str, by: Callable[[Any], float]) -> NDArray[np.float64]:
        numbers = np.array([by(entry) for entry in self.entries[name]], dtype=float)
        return np.asarray(numbers[self.picks[CHOICES.index(name)]], dtype=float)

    def sizing(self, row: int) -> Sizing:
        """One of them as plain sizes, checked."""
        entries = {
            name: list(self.entries[name])[self.picks[at, row]] for at, name in enumerate(CHOICES)
        }
        return picked(self.wanted, entries).sizing(0)

    def order(self, keys: tuple[Any, ...], most_deflection_mm: float) -> Iterator[int]:
        """Rows that bend no more than that, least first by the keys, the first key first."""
        kept = np.flatnonzero(self.deflection_mm <= most_deflection_mm)
        if len(kept) > MOST_TRIED:  # none beyond the first key's so-manieth can be among the first
            first = keys[0][kept]
            kept = kept[first <= np.partition(first, MOST_TRIED - 1)[MOST_TRIED - 1]]
        ranked = kept[np.lexsort([key[kept] for key in reversed(keys)])]
        yield from (int(row) for row in ranked[:MOST_TRIED])


def _stout(s: Any) -> Any:
    """Whether the bit sticks out no more than it may."""
    return s.bit_stickout_mm <= MOST_STICKOUT * s.bit_stock.width_mm


def _clears(s: Any) -> Any:
    """Whether the tail clears the cross-slide."""
    return tail_reach_mm(s) + s.clearance_mm <= s.spindle_over_cross_slide_mm + 1e-6


MUST: tuple[Must, ...] = (*(one.met for one in REQUIREMENTS), _stout, _clears)
"""What a combination must meet to be gone into."""


class _Judge:
    """Checks combinations one by one, as exactly as a job is checked."""

    def __init__(self, wanted: Request, present: Sizing, load: Load, nose_mm: float) -> None:
        self.wanted, self.load, self.nose_mm = wanted, load, nose_mm
        self.allowed = {self._mark(f) for f in self._findings(present) if f.severity == "warning"}

    def outcome(self, sizing: Sizing) -> Outcome:
        """What an attachment comes to."""
        s = sizing.sizes
        return Outcome(sizing, float(deflection_mm(s, self.load)), float(bars_kg(s)))

    def passes(self, sizing: Sizing) -> bool:
        """Whether nothing refuses it and nothing warns that did not warn of the present one."""
        if any(f.severity == "refused" for f in sizing.findings):
            return False
        return all(
            f.severity == "note" or (f.severity == "warning" and self._mark(f) in self.allowed)
            for f in self._findings(sizing)
        )

    def _findings(self, sizing: Sizing) -> Iterator[Finding]:
        """One after the other, those that are found soonest first: the first refusal is enough."""
        s, job, file = sizing.sizes, self.wanted.job, self.wanted.file
        yield from sizing.findings
        report = strength_report(s, job, self.nose_mm)
        yield from strength_findings(report, s, job, file, sought=False)
        yield from clearance_findings(clearances(attachment(s), job), s, job, file)

    @staticmethod
    def _mark(finding: Finding) -> tuple[str, str]:
        whichever = finding.source == GEOMETRY  # a warning of the sweep is one, whichever the ball
        return finding.code, "" if whichever else finding.key


def _best(table: Table, judge: _Judge, present: Sizes, prefer: Preference) -> Outcome | None:
    bent, mass = table.deflection_mm, table.mass_kg
    at_hand = (table.ordered, table.bought, table.changed(present), bent)
    if prefer == "light":
        return _first(table, judge, (mass, bent), np.inf)
    if prefer == "on-hand":
        return _first(table, judge, at_hand, np.inf)
    least = _first(table, judge, (bent, table.ordered), np.inf)
    if least is None:
        return None
    limit = least.deflection_mm * (1 + MARGIN)
    return _first(table, judge, at_hand, limit) or least


def _first(
    table: Table, judge: _Judge, keys: tuple[Any, ...], most_deflection_mm: float
) -> Outcome | None:
    for row in table.order(keys, most_deflection_mm):
        sizing = table.sizing(row)
        if judge.passes(sizing):
            return judge.outcome(sizing)
    return None


def _changes(wanted: Request, present: Sizing, best: Sizing) -> tuple[Change, ...]:
    """The sizes to give by hand so that the rules make the best of the rest; none when it is there."""
    if best.sizes == present.sizes:
        return ()
    own: dict[str, Any] = {}
    origin = {step.name: step.origin for step in best.steps}
    for _ in CHOICES:
        trial = candidates(replace(wanted, own={**wanted.own, **own}), 1).sizing(0).sizes
        name = next((n for n in CHOICES if getattr(trial, n) != getattr(best.sizes, n)), None)
        if name is None:
            break
        own[name] = _entry(getattr(best.sizes, name))
    return tuple(
        Change(
            public_name(name),
            getattr(present.sizes, name),
            getattr(best.sizes, name),
            origin[public_name(name)],
        )
        for name in own
    )


def _entry(value: Any) -> Any:
    """A size as the catalogue has it."""
    return thread(value) if isinstance(value, str) else value


def _steps(table: Table, judge: _Judge, best: Outcome) -> tuple[Step, ...]:
    """What the next larger entry of each choice alone would buy, most first; none that buys nothing."""
    s = best.sizing.sizes
    same = {name: table.same(name, getattr(s, name)) for name in CHOICES}
    found = []
    for name in CHOICES:
        alone = table.deflection_mm < best.deflection_mm * (1 - LEAST_GAIN)
        for other in CHOICES:
            if other != name:
                alone &= same[other]
        sizes = table.sizes(name)
        alone &= sizes > _size(_entry(getattr(s, name)))
        if not alone.any():
            continue
        places = np.flatnonzero(alone)
        sizing = table.sizing(int(places[sizes[places].argmin()]))
        if not judge.passes(sizing):
            continue
        larger, shown = judge.outcome(sizing), public_name(name)
        found.append(
            Step(
                shown,
                getattr(s, name),
                getattr(sizing.sizes, name),
                next(step.origin for step in sizing.steps if step.name == shown),
                larger.deflection_mm - best.deflection_mm,
                larger.mass_kg - best.mass_kg,
            )
        )
    return tuple(sorted(found, key=lambda step: step.deflection_mm))


def _size(entry: Any) -> float:
    """An entry as one number to compare by: a diameter, a section's area, a thread's diameter."""
    if isinstance(entry, float | int):
        return float(entry)
    return float(getattr(entry, "major_mm", 0.0) or entry.area_mm2)
