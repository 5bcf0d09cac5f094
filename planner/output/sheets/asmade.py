"""What was made already, on the sheet of the route: fits, the error budget, what a change undoes.

Imported by output.answers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from planner.job.tables import Job
from planner.making.route import Route
from planner.output.asmade import AsMade
from planner.words.tables import Table, columns

if TYPE_CHECKING:  # the budget loads numpy
    from planner.checking.budget import Budget
    from planner.making.asmade import Mated

ONE_OF_THEM = (
    "No. 1 of the {}: what follows, the limits as made in the steps and what is marked there hold for"
    " that one and what is stamped with its number. The others go by their own sizes, as drawn until"
    " those are measured; pommel record judges each by its own."
)
"""Said where there are several: a shaft made to one bore does not go into the others."""

PIVOT_PLAY = "pivot_play_mm"
"""The fit whose play the error budget has (parts.fitting: Fit.play)."""


def fits_table(made: AsMade, job: Job) -> Table:
    """Fits of which something is measured: what is still to be made to it, or to be done."""
    del job
    return Table(
        "as_made",
        "Fits as made",
        columns(
            ("hole_part", "hole of"),
            ("hole", "hole"),
            ("hole_mm", "measured, mm"),
            ("shaft_part", "shaft of"),
            ("shaft", "shaft"),
            ("shaft_mm", "measured, mm"),
            ("state", "state"),
            ("least_mm", "make, least, mm"),
            ("greatest_mm", "greatest, mm"),
            ("play_least_mm", "play, least, mm"),
            ("play_greatest_mm", "greatest, mm"),
            ("do", "do"),
        ),
        tuple(
            (
                one.fit.hole_part,
                one.fit.hole,
                one.hole_mm,
                one.fit.shaft_part,
                one.fit.shaft,
                one.shaft_mm,
                one.state,
                round(one.limits.min_mm, 4) if one.limits else None,
                round(one.limits.max_mm, 4) if one.limits else None,
                round(one.designed.least_mm, 4),
                round(one.designed.most_mm, 4),
                one.do,
            )
            for one in made.fits
        ),
    )


def undone_table(made: AsMade, route: Route) -> Table:
    """Features made that a change of the job undoes, and the steps that make them."""
    rows = [(*one, "changed") for one in sorted(made.undone)]
    rows += [(*one, "placed from what changed") for one in made.look]
    return Table(
        "undone",
        "Made, and undone by a change of the job",
        columns(("part", "part"), ("feature", "feature"), ("why", "why"), ("steps", "steps")),
        tuple(
            (part, feature, why, " ".join(map(str, _steps(route, part, feature))))
            for part, feature, why in rows
        ),
    )


def made_lines(
    made: AsMade, route: Route, job: Job, budget: Callable[[float], str]
) -> Iterator[str]:
    """What was made already, in lines; none where nothing is recorded.

    budget: what becomes of the error budget with a play of the pivot, mm.
    """
    if not (made.done or made.changed):
        return
    yield "AS MADE"
    yield "=" * 7
    if job.attachment.quantity > 1:
        yield f"  {ONE_OF_THEM.format(job.attachment.quantity)}"
    for one in made.fits:
        yield f"  {_fit_said(one, job)}"
        out = one.play_mm is not None and not one.designed.takes(one.play_mm)
        if out and one.fit.play == PIVOT_PLAY and one.play_mm is not None and one.play_mm > 0:
            yield f"  {budget(one.play_mm)}"
    for part, feature, why, steps in undone_table(made, route).rows:
        again = f" (steps {steps})" if steps else ""
        yield f"  UNDONE: {part}, {feature}{again}: {why}."
    if made.other_job and not made.changed:
        yield "  The job file has changed since something was recorded; nothing made is undone by it."
    yield "  [x] is done; [!] was done and is to be done again."


def budget_said(drawn: Budget, now: Budget, job: Job) -> str:
    """The error budget of the largest ball as drawn and with the play as made."""
    fine = job.numbers.fine
    return (
        f"Error budget of the largest ball with that play: 95 of 100 round within"
        f" {fine(now.form_95_mm)} on the radius ({fine(drawn.form_95_mm)} as drawn), within"
        f" {fine(now.size_95_mm)} of the diameter ({fine(drawn.size_95_mm)} as drawn)."
    )


def _fit_said(one: Mated, job: Job) -> str:
    numbers = job.numbers
    hole, shaft = f"{one.fit.hole_part}, {one.fit.hole}", f"{one.fit.shaft_part}, {one.fit.shaft}"
    if one.hole_mm is not None:
        hole += f" {numbers.micrometer(one.hole_mm)} as made"
    if one.shaft_mm is not None:
        shaft += f" {numbers.micrometer(one.shaft_mm)} as made"
    said = f"{shaft} in {hole}: {one.state}"
    if one.limits is not None:
        said += f", {numbers.between(one.limits)}"
    if one.play_mm is not None:
        least = numbers.plain.micrometer(one.designed.least_mm)
        most = numbers.micrometer(one.designed.most_mm)
        which = "play" if one.hole_mm is not None and one.shaft_mm is not None else "play at most"
        said += f", {which} {numbers.micrometer(one.play_mm)} (as designed {least} to {most})"
    return f"{said}. {one.do}." if one.do else f"{said}."


def _steps(route: Route, part: str, feature: str) -> list[int]:
    return [
        op.number
        for op in route.operations
        if op.part == part and feature in (*op.makes, *op.prepares)
    ]
