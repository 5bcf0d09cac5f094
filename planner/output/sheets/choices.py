"""What the search found: what to choose otherwise, what it gains, what the next size up would buy."""

from __future__ import annotations

from planner.checking.search import MARGIN, Found
from planner.job.tables import Job
from planner.output.sheets.show import Show, plain
from planner.stock.jobcopy import spelled
from planner.words.tables import Table, columns

PREFERS = {
    "stiff": f"the least deflection; within {MARGIN:.0%} of it, least to buy, then least changed",
    "light": "the least mass of the main bars",
    "on-hand": "the least to order, then to buy; then the least changed",
}


def choices_tables(found: Found, job: Job) -> list[Table]:
    """The search's figures, its choices, and the next sizes up."""
    show = Show(job.inch)
    places = 5 if job.inch else 4
    now, best = found.present, found.best
    figures = (
        ("preferred", found.prefer),
        ("combinations of stock, reamers and threads", found.combinations),
        ("of them fit", found.fitting),
        (f"least deflection of those, {show.unit}", show.length(found.least_mm, places)),
    )
    compared = tuple(
        (what, a, b)
        for what, a, b in (
            ("deflection_mm", now.deflection_mm, best.deflection_mm),
            ("mass_kg", now.mass_kg, best.mass_kg),
        )
    )
    shown = (
        (
            f"deflection of the tip, {show.unit}",
            show.length(now.deflection_mm, places),
            show.length(best.deflection_mm, places),
        ),
        ("mass of the main bars, kg", f"{now.mass_kg:.2f}", f"{best.mass_kg:.2f}"),
    )
    block = [f'{change.name} = "{spelled(change.after, job.inch)}"' for change in found.changes]
    how = ("To take them, add to the job file:", "", "[attachment.sizes]", *block)
    note = "\n".join(how) if block else "The sizes as they are are the best of these."
    return [
        Table(
            "search",
            f"Of all choices that fit: {PREFERS[found.prefer]}",
            columns(("what", "what"), ("value", "value")),
            figures,
        ),
        Table(
            "outcome",
            "What it comes to",
            columns(("what", "what"), ("now", "now"), ("best", "best")),
            tuple((what, round(a, 6), round(b, 6)) for what, a, b in compared),
            shown,
        ),
        Table(
            "choices",
            "Choose otherwise",
            columns(("size", "size"), ("now", "now"), ("best", "best"), ("origin", "from")),
            tuple((c.name, plain(c.before), plain(c.after), c.origin) for c in found.changes),
            tuple(
                (c.name, show.value(c.before), show.value(c.after), c.origin) for c in found.changes
            ),
            notes=(note,),
        ),
        Table(
            "next_up",
            f"What the next size up would buy ({show.unit} of deflection, kg)",
            columns(
                ("size", "size"),
                ("now", "best"),
                ("larger", "next up"),
                ("origin", "from"),
                ("deflection_mm", "deflection"),
                ("mass_kg", "mass"),
            ),
            tuple(
                (
                    step.name,
                    plain(step.now),
                    plain(step.larger),
                    step.origin,
                    round(step.deflection_mm, 6),
                    round(step.mass_kg, 4),
                )
                for step in found.steps
            ),
            tuple(
                (
                    step.name,
                    show.value(step.now),
                    show.value(step.larger),
                    step.origin,
                    f"-{show.length(-step.deflection_mm, places)}",
                    f"{step.mass_kg:+.2f}",
                )
                for step in found.steps
            ),
            notes=() if found.steps else ("No next size up takes 2 % off the deflection.",),
        ),
    ]
