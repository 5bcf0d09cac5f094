"""The sheets of an example, made once for all tests that look at them. Imported by tests of drawing."""

from __future__ import annotations

from functools import cache

from planner.drawing.model import Sheet
from planner.drawing.scheme import Scheme
from planner.drawing.sheets import sheets
from planner.drawing.subjects import Subject
from planner.output.plan import Plan

Made = tuple[Subject, Scheme, Sheet]


@cache
def made_sheets(plan: Plan) -> tuple[Made, ...]:
    """Every sheet, in order."""
    return tuple(sheets(plan.attachment, plan.job.numbers, plan.job.name))
