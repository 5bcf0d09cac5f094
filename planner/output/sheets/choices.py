"""What the search found: what to choose otherwise, what it gains, what the next size up would buy."""

from __future__ import annotations

from planner.checking.search import MARGIN, WIDTHS, Found
from planner.job.tables import Job
from planner.output.sheets.rows import recorded
from planner.sizing.apply import public_name
from planner.stock.jobcopy import spelled
from planner.words.tables import Table, columns

PREFERS = {
    "stiff": f"the least deflection; within {MARGIN:.0%} of it, least to buy, then least changed",
    "light": "the least mass of the main bars",
    "on-hand": "the least to order, then to buy; then the least changed",
}


def _why(found: Found, job: Job) -> tuple[str, ...]:
    """Why what is called the best is not the least, where it is not."""
    now, best, least = found.present.deflection_mm, found.best.deflection_mm, found.least_mm
    if found.prefer != "stiff" or best <= least * 1.001:
        return ()
    gives = job.numbers.deflection
    text = (
        f"The least deflection of all is {gives(least)}. Whatever comes within {MARGIN:.0%} of the"
        " least that passes every check counts as stiff, and of that the best has least to order and to"
        " buy, then least changed"
    )
    return (f"{text}: so it may bend more than what is there now." if best > now else f"{text}.",)


def choices_tables(found: Found, job: Job) -> list[Table]:
    """The search's figures, its choices, and the next sizes up."""
    numbers = job.numbers
    gives, mass, unit = numbers.plain.deflection, numbers.plain.mass, numbers.unit
    now, best = found.present, found.best
    figures = (
        ("preferred", found.prefer),
        ("combinations of stock, reamers and threads", found.combinations),
        ("of them fit", found.fitting),
        (f"least deflection of those, {unit}", gives(found.least_mm)),
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
            f"deflection of the tip, {unit}",
            gives(now.deflection_mm),
            gives(best.deflection_mm),
        ),
        (f"mass of the main bars, {numbers.mass_unit}", mass(now.mass_kg), mass(best.mass_kg)),
    )
    block = [f'{change.name} = "{spelled(change.after, job.inch)}"' for change in found.changes]
    how = ("To take them, add to the job file:", "", "[attachment.sizes]", *block)
    note = "\n".join(how) if block else "The sizes as they are are the best of these."
    return [
        Table(
            "search",
            f"Of the entries considered that fit: {PREFERS[found.prefer]}",
            columns(("what", "what"), ("value", "value")),
            figures,
            notes=(
                "Of each choice the first few entries that fit are considered, rack and buy list first:"
                f" {', '.join(f'{public_name(name)} {n}' for name, n in WIDTHS.items())}.",
            ),
        ),
        Table(
            "outcome",
            "What it comes to",
            columns(("what", "what"), ("now", "now"), ("best", "best")),
            tuple((what, round(a, 6), round(b, 6)) for what, a, b in compared),
            shown,
            notes=_why(found, job),
        ),
        Table(
            "choices",
            "Choose otherwise",
            columns(("size", "size"), ("now", "now"), ("best", "best"), ("origin", "from")),
            tuple((c.name, recorded(c.before), recorded(c.after), c.origin) for c in found.changes),
            tuple(
                (c.name, numbers.value(c.before), numbers.value(c.after), c.origin)
                for c in found.changes
            ),
            notes=(note,),
        ),
        Table(
            "next_up",
            f"What the next size up would buy ({unit} of deflection, {numbers.mass_unit})",
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
                    recorded(step.now),
                    recorded(step.larger),
                    step.origin,
                    round(step.deflection_mm, 6),
                    round(step.mass_kg, 4),
                )
                for step in found.steps
            ),
            tuple(
                (
                    step.name,
                    numbers.value(step.now),
                    numbers.value(step.larger),
                    step.origin,
                    f"-{gives(-step.deflection_mm)}",
                    numbers.plain.mass_change(step.mass_kg),
                )
                for step in found.steps
            ),
            notes=() if found.steps else ("No next size up takes 2% off the deflection.",),
        ),
    ]
