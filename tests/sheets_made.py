"""Sheets made once for all tests that look at them. Imported by tests of drawing."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Literal

from jobs import planned

from planner.drawing.model import Sheet
from planner.drawing.scheme import Scheme
from planner.drawing.sheets import sheets
from planner.drawing.subjects import Subject
from planner.output.part_sheets import Place, ground, wanted
from planner.output.plan import Plan
from planner.output.whole_sheets import WHOLE

Made = tuple[Subject, Scheme, Sheet]
Projection = Literal["first", "third"]


def made_sheets(
    plan: Plan, paper: str = "A4", projection: Projection = "first"
) -> tuple[Made, ...]:
    """Every sheet of the parts, in order."""
    return _made_sheets(plan, paper, projection)


@cache
def _made_sheets(plan: Plan, paper: str, projection: Projection) -> tuple[Made, ...]:
    return tuple(sheets(plan.attachment, plan.job.numbers, plan.job.name, paper, projection))


@cache
def made_whole(
    path: Path,
    paper: str,
    projection: Projection,
    arrangement: Literal["across", "upright"] = "across",
) -> dict[str, Sheet]:
    """The sheets of the whole by their names; upright the arrangement alone, for the others are the
    same."""
    of = ground(planned(path, arrangement))
    every = wanted(of)
    count = 1 if arrangement == "upright" else len(WHOLE)
    return {
        one.name: one.draw(of, Place(number, len(every), paper, projection))
        for number, one in enumerate(every[:count], 1)
    }


def by_unit(path: Path) -> tuple[str, Projection]:
    """The paper and projection of a job by default."""
    return ("Letter", "third") if planned(path).job.inch else ("A4", "first")
