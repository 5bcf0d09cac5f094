"""What the chapters share: the plan, the sheets' numbers, the route as read, the paper.

Imported by the chapters.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

from msgspec.structs import replace

from parts.features import Bore, DrilledHole, Feature, ReamedHole, Stage, TurnedDiameter
from parts.standard.fits import Limits
from planner.book.bodies import Body
from planner.book.model import Drawn, Rows, rows_of
from planner.book.route import Held, read_route
from planner.book.sketch import Shop
from planner.output.book.held import bodies, with_marks
from planner.output.part_sheets import Wanted, ground, wanted
from planner.output.topic import SHEETS
from planner.words.tables import Table

if TYPE_CHECKING:
    from planner.output.plan import Plan

CARD = "Card for each mounting"
"""The chapter by which the attachment is put back into the post."""

REACH_MM = 25.0
"""A chuck's jaws out of its face, where the job does not say (common practice); for sketches alone."""


def diameter_of(feature: Feature) -> Limits | None:
    """The diameter that a feature makes, with its limits; a face's is none."""
    if isinstance(feature, TurnedDiameter | ReamedHole | Bore | DrilledHole):
        return feature.diameter
    return None


def _without_chapter(one: Held) -> Held:
    """A set-up whose ball has no chapter of its own to be led to."""
    return replace(one, doings=tuple(replace(doing, swung=False) for doing in one.doings))


class Pages:
    """One job's book in the making."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.job, self.numbers = plan, plan.job, plan.job.numbers
        self.sizes = plan.sizing.sizes
        self.paper: Literal["A4", "Letter"] = "Letter" if self.job.inch else "A4"
        lathe = self.job.lathe
        self.shop = Shop(lathe.chuck_diameter, lathe.jaw_reach or REACH_MM)

    @cached_property
    def revision(self) -> str:
        """Of the sheets."""
        return ground(self.plan).revision

    @cached_property
    def sheets(self) -> tuple[tuple[int, Wanted], ...]:
        """Every sheet with its number, which is its page in the PDF of all."""
        return tuple(enumerate(wanted(ground(self.plan)), 1))

    def drawn(self, part: str) -> tuple[Drawn, ...]:
        """The sheets of a part, or of the whole with ""."""
        return tuple(
            Drawn(SHEETS, number, f"Sheet {number}: {one.title}")
            for number, one in self.sheets
            if one.part == part
        )

    @cached_property
    def record(self) -> dict[str, Any]:
        """The route for machines."""
        from planner.output.topics import topic

        one = topic("route")
        return one.record(self.plan, one.asked(one.packaged))

    @cached_property
    def route(self) -> tuple[Held, ...]:
        """The route's set-ups in order."""
        route = with_marks(read_route(self.record, self.numbers), self.plan.attachment)
        return route if self.plan.knob else tuple(map(_without_chapter, route))

    @cached_property
    def as_bored(self) -> Held | None:
        """The set-up in which what holds the whole in the post is bored there; None where none is."""
        found = (
            one
            for one in self.route
            if one.stage == Stage.IN_PLACE.value
            and not one.with_parts
            and any(doing.kind == "bore" for doing in one.doings)
        )
        return next(found, None)

    def bodies(self, held: Held) -> tuple[Body, ...]:
        """The bodies of a set-up's work, in the frame of its record; none for what is no part."""
        return bodies(held, self.route, self.plan.attachment)

    @cached_property
    def titles(self) -> dict[str, str]:
        """Each part's title by its name."""
        return {part.name: part.title for part in self.plan.attachment.parts}

    def tables(self, name: str, **asked: Any) -> dict[str, Table]:
        """A topic's tables by their names, as asked."""
        from planner.output.topics import topic

        one = topic(name)
        return {table.name: table for table in one.tables(self.plan, one.asked(asked))}

    def rows(self, name: str, table: str, **asked: Any) -> Rows:
        """One table of a topic, as the book has it."""
        return rows_of(self.tables(name, **asked)[table])
