"""One job worked out: sizes, attachment, cut list, route, each made once when first asked for.

Every topic is answered from it (``planner.output.topics``). Its sheets alone need solids.
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts.attachment import Attachment, attachment
from parts.tool import nose_radius_mm
from planner.job.reading import read_job
from planner.job.tables import Job
from planner.sizing.apply import Sizing, size_up
from planner.words.findings import BadInput, Finding, finding

if TYPE_CHECKING:  # each topic loads only what answers it
    from planner.book.model import Book
    from planner.checking.budget import Budget
    from planner.checking.clearance import BallCase, BallClearance
    from planner.checking.search import Found, Preference, Table
    from planner.checking.strength import StrengthReport
    from planner.checking.work import Bending
    from planner.geometry.ball import Arrangement
    from planner.making.model import Stub
    from planner.making.outfit import Item
    from planner.making.route import Operation, Route
    from planner.measuring.readings import OwnKnob
    from planner.output.asmade import AsMade
    from planner.output.part_sheets import Drawings
    from planner.stock.bars import CutList
    from planner.stock.flats import FlatPlan
    from planner.turning.model import BallPlan, Turned


def nothing_built(file: str) -> Finding:
    """What is said of a job with a head that exists, where its building is asked for."""
    return finding(
        "nothing-built",
        file,
        "own_head",
        "the head exists",
        "nothing of it is planned or drawn",
        "See: pommel turn, pommel correct; leave own_head out to build one",
    )


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
        self.own_job = self.job  # without bars of the other system that are too short to be of use
        if self.job.own_head is None:
            _ = self.sizing  # so that a job of which nothing can be made is refused at once

    @cached_property
    def sizing(self) -> Sizing:
        """The attachment's sizes. Raises BadInput where none fit, or the job has a head of its own."""
        if self.job.own_head is not None:
            raise BadInput([nothing_built(self.file)])
        found = self._sized
        if prefer := self.job.attachment.prefer:
            from planner.checking.search import preferred

            chosen = preferred(self.own_job, self.file, found, prefer)
            found, self._table = chosen.best.sizing, chosen.table
        return found

    @cached_property
    def _sized(self) -> Sizing:
        """The attachment's sizes before any search, by bars that all that is made of them goes on."""
        from planner.stock.foreign import foreign_bars, without_short
        from planner.stock.pieces import pieces_of

        found = size_up(self.job, self.file)
        while foreign_bars(self.own_job):
            pieces = pieces_of(attachment(found.sizes), self.own_job)
            less = without_short(self.own_job, self.file, pieces)
            if less is self.own_job:
                break
            self.own_job = less
            try:
                found = size_up(less, self.file)
            except BadInput:
                break
        return found

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What to look at first, whatever is asked: of the job file itself, and of the sizing."""
        if self.job.own_head is not None:
            return self.job.findings
        return self.job.findings + self.sizing.findings

    @cached_property
    def attachment(self) -> Attachment:
        """The attachment of these sizes."""
        return attachment(self.sizing.sizes)

    @cached_property
    def cuts(self) -> CutList:
        """Its cut list, the aids that its route makes first in it."""
        from planner.stock.aidpieces import aid_pieces
        from planner.stock.cutlist import cut_list
        from planner.stock.pieces import Piece

        more = aid_pieces(self.drawn_route.aids, self.job)
        if self.job.turning.order_blanks:
            from planner.turning.blanks import blank_pieces

            more += tuple(Piece(*one) for one in blank_pieces(self.turned, self.job))
        return cut_list(self.attachment, self.job, self.file, more)

    @cached_property
    def drawn_route(self) -> Route:
        """How it is made as drawn: set-ups, operations, aids, what is assumed and what is missing."""
        from planner.making.route import whole_route
        from planner.stock.aidpieces import aid_pieces
        from planner.stock.foreign import foreign_bars, without_short
        from planner.stock.pieces import pieces_of

        found = whole_route(self.attachment, self.own_job, self.stub)
        if foreign_bars(self.own_job):
            pieces = pieces_of(self.attachment, self.job) + aid_pieces(found.aids, self.job)
            less = without_short(self.own_job, self.file, pieces)
            if less is not self.own_job:
                self.own_job = less
                found = whole_route(self.attachment, less, self.stub)
        return found

    @cached_property
    def knob(self) -> BallPlan | None:
        """How the attachment's own knob is turned with it: its first ball."""
        from planner.turning.knob import knob_plan

        return knob_plan(self.attachment, self.job, self.nose_mm)

    @cached_property
    def own_knob(self) -> OwnKnob | None:
        """The same as it is measured across; None where it has no sheets."""
        from planner.measuring.readings import OwnKnob

        if self.knob is None or self.stub is None:
            return None
        ball = self.knob.ball
        return OwnKnob(2 * ball.radius_mm, ball.stem_mm, ball.blank_mm)

    @cached_property
    def stub(self) -> Stub | None:
        """What that is turned on, as the route makes it."""
        from planner.checking.stub import stub_of
        from planner.making.model import Stub

        found = stub_of(self.attachment, self.job)
        passes = self.knob.passes if found and self.knob else ()
        return Stub(*found, passes[0].cut.rev_min if passes else None) if found else None

    @cached_property
    def made(self) -> AsMade:
        """What is recorded of it beside the job. Raises BadInput when that cannot be read."""
        from planner.output.asmade import as_made

        return as_made(Path(self.file), self.job, self.attachment)

    @cached_property
    def route(self) -> Route:
        """The route with the limits that follow from what is made already, and from which bar it is."""
        found = self.drawn_route
        if self.made.attachment is not self.attachment:
            from planner.making.route import whole_route

            found = whole_route(self.made.attachment, self.own_job, self.stub)
        if not self.job.shop.turn_down:
            return found
        from planner.stock.thicker import told

        return told(found, self.cuts, self.job)

    @cached_property
    def walked(self) -> tuple[Finding, ...]:
        """What of the route cannot be held, reached or measured, by a walk apart from its planner.

        With the limits that follow from what is made already, as the route is shown.
        """
        from planner.stock.aidpieces import aid_records
        from planner.walking.aided import aided
        from planner.walking.walk import walk

        setups, operations = self.route.setup_records(), self.route.operation_records()
        whole, made = self.made.attachment, aid_records(self.route.aids, self.job)
        steps = whole.parts, self.job, setups, operations
        found = walk(*steps, self.file, "warning", whole.placed)
        found += aided(*steps, made, self.file, "warning")
        if not self.made.fits:
            return found
        from planner.walking.mated import mated

        sizes, told = self.made.measured, self.made.told
        return found + mated(self.attachment, sizes, told, operations, self.job, self.file)

    @cached_property
    def outfit(self) -> tuple[Item, ...]:
        """What the route is made with: tools, gauges, consumables, and what of them is there."""
        from planner.making.outfit import outfit

        return outfit(self.route, self.job)

    @property
    def operations(self) -> tuple[Operation, ...]:
        """Its operation sequence."""
        return self.route.operations

    @cached_property
    def sheets(self) -> Drawings:
        """Its drawings as the package has them; loads the CAD kernel."""
        from planner.output.part_sheets import drawings

        return drawings(self)

    @cached_property
    def book(self) -> Book:
        """Its build book, but for the drawings in it."""
        from planner.output.book import book
        from planner.output.topic import COVER

        return book(self, COVER)

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

        return bendings(self.clearances, self.attachment, self.job, self.nose_mm)

    @cached_property
    def budgets(self) -> tuple[tuple[BallCase, Budget], ...]:
        """The error budget of each ball, the largest first."""
        return self.budgets_with(self.sizing.sizes.pivot_play_mm)

    def budgets_with(self, pivot_play_mm: float) -> tuple[tuple[BallCase, Budget], ...]:
        """The same with another clearance of the pivot in its bore, as it was made."""
        from planner.checking.budget import budget, tolerances_of, usual_spring_passes
        from planner.checking.clearance import ball_cases

        sizes = self.sizing.sizes
        drawn = tolerances_of(sizes, self.strength.sprung_mm, self.arrangement)
        whole = replace(drawn, clearance_mm=pivot_play_mm)
        return tuple(
            (
                case,
                budget(
                    replace(
                        whole,
                        work_mm=work.mm,
                        spring_passes=usual_spring_passes(self.job, work.material),
                    ),
                    case.diameter_mm / 2,
                    100_000 if case.name == "largest" else 20_000,
                ),
            )
            for case, work in zip(ball_cases(sizes, self.job), self.bendings, strict=True)
        )

    @cached_property
    def turned(self) -> Turned:
        """How the balls are turned."""
        from planner.turning.plan import turned, turned_with_own

        if self.job.own_head is not None:
            return turned_with_own(self.job.own_head, self.job, self.file, self.ball)
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
