"""One job worked out: sizes, attachment, cut list, route, each made once when first asked for.

The commands and the build share it. Needs no solid.
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.attachment import Attachment, attachment
from parts.tool import nose_radius_mm
from planner.job.reading import read_job
from planner.job.tables import Job
from planner.sizing.apply import Sizing, size_up
from planner.words.findings import Finding, once
from planner.words.tables import Table, as_text

if TYPE_CHECKING:  # each topic loads only what answers it
    from planner.checking.budget import Budget
    from planner.checking.clearance import BallCase, BallClearance
    from planner.checking.search import Found, Preference
    from planner.checking.strength import StrengthReport
    from planner.geometry.ball import Arrangement
    from planner.making.route import Operation
    from planner.stock.cutlist import CutList
    from planner.stock.flats import FlatPlan
    from planner.turning.model import Turned


class Plan:
    """A job file and what follows from it. Raises BadInput when the file or the job is no good.

    arrangement: how the check takes the pivot to lie; everything else is for one across the bed.
    only_ball: the one ball whose turning is wanted; None for all.
    """

    def __init__(
        self, path: Path, arrangement: Arrangement = "across", only_ball: str | None = None
    ) -> None:
        self.file, self.arrangement, self.only_ball = str(path), arrangement, only_ball
        self.job: Job = read_job(path)
        self.sizing: Sizing = size_up(self.job, self.file)
        if prefer := self.job.attachment.prefer:
            from planner.checking.search import preferred

            self.sizing = preferred(self.job, self.file, self.sizing, prefer)

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
    def budgets(self) -> tuple[tuple[BallCase, Budget], ...]:
        """The error budget of each ball, the largest first."""
        from planner.checking.budget import budget, tolerances_of
        from planner.checking.clearance import ball_cases

        sizes = self.sizing.sizes
        tolerances = tolerances_of(sizes, self.strength.sprung_mm, self.arrangement)
        return tuple(
            (case, budget(tolerances, case.diameter_mm / 2, 100_000 if first else 20_000))
            for case, first in ((c, c.name == "largest") for c in ball_cases(sizes, self.job))
        )

    @cached_property
    def turned(self) -> Turned:
        """How the balls are turned."""
        from planner.turning.plan import turned

        return turned(self.attachment, self.job, self.file, self.nose_mm, self.only_ball)

    def flats(self, process: str) -> FlatPlan:
        """The flat pieces on the shop's sheets, for "plasma" or "saw"."""
        from planner.stock.flats import flat_plan

        return flat_plan(self.attachment, self.job, self.file, process)

    def search(self, prefer: Preference) -> Found:
        """The best of all choices that fit, by what is preferred."""
        from planner.checking.search import search
        from planner.sizing.apply import request

        wanted = request(self.job, self.file)
        return search(wanted, self.sizing, self.strength.load, self.nose_mm, prefer)

    def tables(self, topic: str, explain: bool = True) -> list[Table]:
        """The tables of a topic, one of TOPICS."""
        if topic == "sizes":
            from planner.output.sheets.sizes import sizes_tables

            return sizes_tables(self.sizing, self.attachment, self.job, explain)
        if topic == "cutlist":
            from planner.output.sheets.cutlist import cutlist_tables

            return cutlist_tables(self.cuts, self.attachment, self.job)
        if topic == "route":
            from planner.output.sheets.route import route_tables

            return route_tables(self.operations, self.job)
        if topic == "check":
            from planner.output.sheets.check import check_tables

            return check_tables(self.clearances, self.strength, self.budgets, self.job)
        if topic == "turn":
            from planner.output.sheets.turn import turn_tables

            return turn_tables(self.turned, self.sizing.sizes, self.job)
        from planner.output.sheets.dial import dial_tables

        return dial_tables(self.sizing, self.job)

    def text(self, topic: str, explain: bool = False) -> str:
        """The topic as the terminal and the text file have it."""
        if topic == "route":
            from planner.output.sheets.route import route_text

            return route_text(self.operations, self.attachment, self.job)
        if topic == "turn":
            from planner.output.sheets.turn import turn_text

            return turn_text(self.turned, self.sizing.sizes, self.job)
        return as_text(self.tables(topic, explain))

    def findings(self, topic: str) -> tuple[Finding, ...]:
        """What to look at first, for a topic or for the whole "build"."""
        found = self.sizing.findings
        if topic in ("cutlist", "build"):
            found += self.cuts.findings
        if topic in ("check", "build"):
            from planner.checking.budget import budget_findings
            from planner.checking.strength import strength_findings
            from planner.checking.sweep_findings import clearance_findings

            sizes = self.sizing.sizes
            found += tuple(clearance_findings(self.clearances, sizes, self.job, self.file))
            found += tuple(strength_findings(self.strength, sizes, self.job, self.file))
            found += tuple(budget_findings(self.budgets, self.job, self.file))
        if topic in ("turn", "build"):
            found += self.turned.findings
        return once(found)

    def record(self, topic: str, explain: bool = True) -> dict[str, Any]:
        """The topic for machines: job, units, a list of records a table, findings."""
        record: dict[str, Any] = {
            "job": self.job.name,
            "lengths": "mm",
            "tables": {table.name: table.records() for table in self.tables(topic, explain)},
        }
        if topic == "cutlist":
            from planner.output.sheets.cutlist import proofs

            record["proofs"] = proofs(self.cuts)
        return record | {"findings": [finding.as_dict() for finding in self.findings(topic)]}


TOPICS = ("sizes", "check", "cutlist", "route", "dial", "turn")
