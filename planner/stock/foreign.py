"""Bars of the other system's sizes that are too short for what would be made of them.

An inch shop saws up a metric bar that it has, but buys no other: where one is too short, all that was
to be made of it is made of bars of the shop's own sizes, which its dealer has. Imported by output.plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parts.standard.sections import Section, standard_sections
from planner.job.shop import BuyBar, RackBar
from planner.job.tables import Job
from planner.stock.bars import same_section
from planner.stock.cutlist import laid_out
from planner.stock.pieces import Piece
from planner.words.findings import Finding, finding


def foreign_bars(job: Job) -> tuple[RackBar | BuyBar, ...]:
    """The bars of a job's rack and buy list that its own system has no such section of."""
    listed: tuple[RackBar | BuyBar, ...] = (*job.shop.rack, *job.shop.buy)
    return tuple(bar for bar in listed if _foreign(bar.section, job))


def without_short(job: Job, file: str, pieces: Sequence[Piece]) -> Job:
    """The job without the other system's bars that these pieces do not go on; the same where all do.

    file: what findings call the job. Raises BadInput where the pieces are more than can be laid out.
    """
    bars = foreign_bars(job)
    theirs = tuple(p for p in pieces if any(same_section(p.section, b.section) for b in bars))
    if not theirs:
        return job
    short = [group for group in laid_out(theirs, job, file).groups if group.short]
    gone = [
        bar
        for bar in bars
        for group in short
        if same_section(bar.section, group.section) and bar.material == group.material
    ]
    if not gone:
        return job
    rack = tuple(bar for bar in job.shop.rack if bar not in gone)
    buy = tuple(bar for bar in job.shop.buy if bar not in gone)
    shop = job.shop.model_copy(update={"rack": rack, "buy": buy})
    return job.model_copy(update={"shop": shop})


def left_findings(job: Job, own: Job, file: str) -> Iterator[Finding]:
    """A note on each bar of a job that is left where it is; own: the job without those bars."""
    for table in ("rack", "buy"):
        for number, bar in enumerate(getattr(job.shop, table), 1):
            if bar not in getattr(own.shop, table):
                yield finding(
                    "bar-left",
                    file,
                    f"shop.{table}[{number}]",
                    job.numbers.stock(bar.section),
                    "too short for what would be made of it, and not sold in the shop's own sizes",
                    "The parts are of bars that are; give a longer one to have it used",
                )


def _foreign(section: Section, job: Job) -> bool:
    own = standard_sections(section.shape, job.inch)
    other = standard_sections(section.shape, not job.inch)
    return not any(same_section(section, one) for one in own) and any(
        same_section(section, one) for one in other
    )
