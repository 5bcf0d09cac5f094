"""What each topic answers on its sheets: its tables, its text, its findings, and copies of the job.

The functions stand in the entries of ``planner.output.topics``. What they use they import in their
bodies, so that a command loads only what answers it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.output.topic import Asked, Reply

if TYPE_CHECKING:
    from planner.making.marks import Mark
    from planner.output.plan import Plan
    from planner.words.findings import Finding
    from planner.words.tables import Table


def sizes_tables(plan: Plan, _asked: Asked) -> list[Table]:
    """Every size with its rule and source, and the reach of the swing."""
    from planner.output.sheets import sizes

    return sizes.sizes_tables(plan.sizing, plan.attachment, plan.job, explain=True)


def sizes_text(plan: Plan, asked: Asked) -> str:
    """The same in words; rules and sources only where asked for."""
    from planner.output.sheets import sizes
    from planner.words.tables import as_text

    return as_text(sizes.sizes_tables(plan.sizing, plan.attachment, plan.job, asked["explain"]))


def largest_reply(path: Path) -> Reply:
    """The largest ball this lathe can take, instead of the sizes. Raises BadInput."""
    from planner.job.reading import read_job
    from planner.output.sheets import largest
    from planner.sizing.apply import largest_ball

    job = read_job(path)
    best = largest_ball(job, str(path))
    return Reply(
        largest.largest_text(best, job),
        largest.largest_record(best, job),
        job.findings,
        best is not None,
    )


def check_tables(plan: Plan, asked: Asked) -> list[Table]:
    """Clearance, strength and roundness; then the choices, where a preference is asked for."""
    from planner.output.sheets import check

    tables = check.check_tables(
        plan.clearances, plan.strength, plan.bendings, plan.budgets, plan.sizing.sizes, plan.job
    )
    if asked["prefer"] is None or plan.arrangement != "across":
        return tables
    from planner.output.sheets import choices

    return tables + choices.choices_tables(plan.search(asked["prefer"]), plan.job)


def check_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    """What does not clear, does not hold, bends or is out of round."""
    from planner.checking.budget import budget_findings
    from planner.checking.strength import strength_findings
    from planner.checking.sweep_findings import clearance_findings
    from planner.checking.work import bending_findings

    sizes = plan.sizing.sizes
    return (
        *clearance_findings(plan.clearances, sizes, plan.job, plan.file),
        *strength_findings(plan.strength, sizes, plan.job, plan.file),
        *bending_findings(plan.bendings, plan.job, plan.file),
        *budget_findings(plan.budgets, plan.job, plan.file),
    )


def check_copy(plan: Plan, asked: Asked, text: str) -> str:
    """The job with the sizes that the search found."""
    from planner.stock.jobcopy import with_own_sizes

    if plan.arrangement != "across":
        return text
    changes = plan.search(asked["prefer"]).changes
    return with_own_sizes(text, {change.name: change.after for change in changes}, plan.job.inch)


def cutlist_tables(plan: Plan, _asked: Asked) -> list[Table]:
    """The pieces, the bars they are sawn from, and what is bought."""
    from planner.output.sheets import cutlist

    return cutlist.cutlist_tables(plan.cuts, plan.attachment, plan.job)


def cutlist_proofs(plan: Plan) -> list[dict[str, Any]]:
    """What each plan of sawing is proven by."""
    from planner.output.sheets import cutlist

    return cutlist.proofs(plan.cuts)


def cutlist_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    """What the stock leaves over and what is to be ordered."""
    from planner.stock.foreign import left_findings

    return (*plan.cuts.findings, *left_findings(plan.job, plan.own_job, plan.file))


def cutlist_copy(plan: Plan, _asked: Asked, text: str) -> str:
    """The job with the rack as it is after sawing."""
    from planner.stock.jobcopy import with_rack

    return with_rack(text, plan.cuts.rack_after, plan.job.inch)


def flat_tables(plan: Plan, asked: Asked) -> list[Table]:
    """The flat pieces and where they lie on the sheets."""
    from planner.output.sheets import flat

    return flat.flat_tables(plan.flats(asked["process"]), plan.job, asked["process"])


def flat_findings(plan: Plan, asked: Asked) -> tuple[Finding, ...]:
    """What does not go on the sheets, or is not cut."""
    return plan.flats(asked["process"]).findings


def route_tables(plan: Plan, _asked: Asked) -> list[Table]:
    """The operations in order."""
    from planner.output.sheets import route

    return [*route.route_tables(plan.route, plan.job, _marks(plan)), *_made_tables(plan)]


def _marks(plan: Plan) -> Mapping[int, Mark]:
    from planner.making.marks import marks, stood_on

    done = stood_on(plan.attachment, plan.made.done)
    return marks(plan.route.operations, done, plan.made.undone, plan.made.anew)


def _made_tables(plan: Plan) -> list[Table]:
    from planner.output.sheets import asmade

    return [asmade.fits_table(plan.made, plan.job), asmade.undone_table(plan.made, plan.route)]


def route_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    """What the shop lacks for the route, what no shop could do of it, what is made and does not fit."""
    from planner.output.asmade import made_findings
    from planner.output.sheets.outfit import missing_findings

    told = (*_refused_by_check(plan), *missing_findings(plan.route, plan.outfit, plan.file))
    return (*told, *plan.walked, *plan.made.findings, *made_findings(plan.made, plan.job))


def _refused_by_check(plan: Plan) -> tuple[Finding, ...]:
    """One line on what the check refuses of what the route makes, before anything of it is sawn."""
    from planner.checking.strength import strength_findings
    from planner.checking.sweep_findings import clearance_findings
    from planner.words.findings import finding

    sizes = plan.sizing.sizes
    found = (
        *clearance_findings(plan.clearances, sizes, plan.job, plan.file),
        *strength_findings(plan.strength, sizes, plan.job, plan.file),
    )
    refused = list(dict.fromkeys(one.code for one in found if one.severity == "refused"))
    if not refused:
        return ()
    return (
        finding(
            "check-refuses",
            plan.file,
            "",
            f"check refuses what is made by this route: {', '.join(refused)}",
            "it does not work as it stands",
            "Mend that before metal is cut: pommel check says what helps",
        ),
    )


def route_setups(plan: Plan) -> list[dict[str, Any]]:
    """The set-ups as records."""
    return plan.route.setup_records()


def route_operations(plan: Plan) -> list[dict[str, Any]]:
    """The operations as records."""
    return plan.route.operation_records()


def route_text(plan: Plan, asked: Asked) -> str:
    """The operations by set-up, with the datums they are measured from."""
    from planner.output.sheets import asmade, route

    lines = asmade.made_lines(plan.made, plan.route, plan.job, _budget_line(plan))
    wide = asked.get("wide") or route.WIDE
    explain, marks = bool(asked["explain"]), _marks(plan)
    return route.route_text(
        plan.route, plan.attachment, plan.job, explain, marks, tuple(lines), wide, plan.outfit
    )


def _budget_line(plan: Plan) -> Callable[[float], str]:
    """What becomes of the error budget with another play of the pivot; worked out where asked."""

    def said(play_mm: float) -> str:
        from planner.output.sheets import asmade

        return asmade.budget_said(plan.budgets[0][1], plan.budgets_with(play_mm)[0][1], plan.job)

    return said


def dial_tables(plan: Plan, _asked: Asked) -> list[Table]:
    """The lines of the dial and the ways to index them."""
    from planner.output.sheets import dial

    return dial.dial_tables(plan.sizing, plan.job)


def pdf_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    """That no PDF is written, where what writes it is not installed."""
    from planner.drawing.pdf import BOUNDS, NEEDS, has_pdf
    from planner.words.findings import finding

    if has_pdf():
        return ()
    return (
        finding(
            "no-pdf",
            plan.file,
            "",
            f"{NEEDS} is not installed",
            "sheets are written as SVG and DXF only",
            f'For PDF too: python -m pip install "{NEEDS}{BOUNDS}"',
        ),
    )


def turn_tables(plan: Plan, _asked: Asked) -> list[Table]:
    """Set-up, roughing, passes and measuring of each ball."""
    from planner.output.sheets import turn

    return turn.turn_tables(plan.turned, plan.job)


def turn_text(plan: Plan, _asked: Asked) -> str:
    """The same in words, ball by ball."""
    from planner.output.sheets import turn

    return turn.turn_text(plan.turned, plan.job)


def turn_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    """What cannot be turned, or not well."""
    return plan.turned.findings
