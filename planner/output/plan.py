"""One job worked out: sizes, attachment, cut list, route, each made once when first asked for.

Every topic is answered from it (``planner.output.topics``). Needs no solid.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from parts.attachment import Attachment, attachment
from parts.tool import nose_radius_mm
from planner.job.reading import read_job
from planner.job.tables import Job
from planner.sizing.apply import Sizing, size_up

if TYPE_CHECKING:  # each topic loads only what answers it
    from planner.checking.budget import Budget
    from planner.checking.clearance import BallCase, BallClearance
    from planner.checking.search import Found, Preference, Table
    from planner.checking.strength import StrengthReport
    from planner.checking.work import Bending
    from planner.geometry.ball import Arrangement
    from planner.making.route import Operation
    from planner.stock.bars import CutList
    from planner.stock.flats import FlatPlan
    from planner.turning.model import Turned
    from planner.words.findings import Finding


class Plan:
    """A job file and what follows from it. Raises BadInput when the file or the job is no good.

    arrangement: how the check takes the pivot to lie; everything else is for one across the bed.
    ball: the one ball whose turning is wanted; None for all.
    """

    def __init__(
        self, path: Path, arrangement: Arrangement = "across", ball: str | None = None
    ) -> None:
        self.file, self.arrangement, self.ball = str(path), arrangement, ball
        self._flats: dict[str, FlatPlan] = {}
        self._searched: dict[Preference, Found] = {}
        self._table: Table | None = None
        self.job: Job = read_job(path)
        self.sizing: Sizing = size_up(self.job, self.file)
        if prefer := self.job.attachment.prefer:
            from planner.checking.search import preferred

            found = preferred(self.job, self.file, self.sizing, prefer)
            self.sizing, self._table = found.best.sizing, found.table

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What to look at first, whatever is asked: of the job file itself, and of the sizing."""
        return self.job.findings + self.sizing.findings

    @cached_property
    def attachment(self) -> Attachment:
        """The attachment of these sizes."""
        return attachment(self.sizing.sizes)

    @cached_property
    def cuts(self) -> CutList:
        """Its cut list."""
        from planner.stock.cutlist import cut_list

        return cut_list(self.attachment, self.job, self.file)

    @cached_property
    def operations(self) -> tuple[Operation, ...]:
        """Its operation sequence."""
        from planner.making.route import route

        return route(self.attachment, self.job)

    @cached_property
    def clearances(self) -> tuple[BallClearance, ...]:
        """The clearance of each ball through its sweep."""
        from planner.checking.clearance import clearances

        return clearances(self.attachment, self.job, self.arrangement)

    @property
    def nose_mm(self) -> float:
        """Nose radius of the ground bit."""
        return nose_radius_mm(self.sizing.sizes)

    @cached_property
    def strength(self) -> StrengthReport:
        """Forces, deflection, stresses and grip."""
        from planner.checking.strength import strength_report

        return strength_report(self.sizing.sizes, self.job, self.nose_mm, self.arrangement)

    @cached_property
    def bendings(self) -> tuple[Bending, ...]:
        """How far the work of each ball bends in the pass."""
        from planner.checking.work import bendings

        return bendings(self.clearances, self.job, self.nose_mm)

    @cached_property
    def budgets(self) -> tuple[tuple[BallCase, Budget], ...]:
        """The error budget of each ball, the largest first."""
        from planner.checking.budget import budget, tolerances_of
        from planner.checking.clearance import ball_cases

        sizes = self.sizing.sizes
        whole = tolerances_of(sizes, self.strength.sprung_mm, self.arrangement)
        return tuple(
            (
                case,
                budget(
                    replace(whole, work_mm=work.mm),
                    case.diameter_mm / 2,
                    100_000 if case.name == "largest" else 20_000,
                ),
            )
            for case, work in zip(ball_cases(sizes, self.job), self.bendings, strict=True)
        )

    @cached_property
    def turned(self) -> Turned:
        """How the balls are turned."""
        from planner.turning.plan import turned

        return turned(self.attachment, self.job, self.file, self.nose_mm, self.ball)

    def flats(self, process: str) -> FlatPlan:
        """The flat pieces on the shop's sheets, for "plasma" or "saw"."""
        from planner.stock.flats import flat_plan

        if process not in self._flats:
            made = flat_plan(self.attachment, self.job, self.file, process)
            self._flats[process] = made
        return self._flats[process]

    def search(self, prefer: Preference) -> Found:
        """The best of all choices that fit, by what is preferred."""
        from planner.checking.search import search
        from planner.sizing.apply import request

        if prefer not in self._searched:
            wanted = request(self.job, self.file)
            load = self.strength.load
            found = search(wanted, self.sizing, load, self.nose_mm, prefer, self._table)
            self._searched[prefer], self._table = found, found.table
        return self._searched[prefer]
