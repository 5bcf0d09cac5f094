"""The sizes and what the swing needs."""

from __future__ import annotations

from typing import Any

from parts.attachment import Attachment
from parts.part import every_feature
from parts.standard.fits import Limits
from planner.checking.clearance import ball_cases, ball_clearance
from planner.geometry.envelope import lowest, swinging_outlines
from planner.job.tables import Job
from planner.output.sheets.rows import recorded
from planner.sizing.apply import Sizing
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns


def sizes_tables(sizing: Sizing, attachment: Attachment, job: Job, explain: bool) -> list[Table]:
    """Every size; with ``explain`` its rule and source too. Then what the swing reaches."""
    numbers = job.numbers
    heads = [("size", "size"), ("value", "value"), ("origin", "from")]
    if explain:
        heads += [("rule", "rule"), ("source", "source")]
    rows, shown = [], []
    for step in sizing.steps:
        extra = (step.text, step.source) if explain else ()
        rows.append((step.name, recorded(step.value), step.origin, *extra))
        values = _values(step.value, numbers)
        if step.name == "screw_pitch" and numbers.inch:
            values = (numbers.screw_pitch(step.value), *values[1:])
        shown.append((step.name, *values, step.origin, *extra))
    main = Table(
        "sizes",
        f"Sizes for {job.name}",
        columns(*heads),
        tuple(rows),
        tuple(shown),
        heads=_heads(tuple(head for _, head in heads), numbers),
        lengths=("value",),
    )
    return [main, _fits_table(attachment, numbers), _reach_table(sizing, attachment, job, numbers)]


def _fits_table(attachment: Attachment, numbers: Numbers) -> Table:
    """What goes in what: the limits of both with their class, and the play that comes of them."""
    sizes = {
        (part.name, feature.name): feature
        for part in attachment.parts
        for _, feature in every_feature(part)
    }
    rows, shown = [], []
    for fit in attachment.fits:
        hole: Limits = getattr(sizes[fit.hole_part, fit.hole], "diameter")  # noqa: B009
        shaft: Limits = getattr(sizes[fit.shaft_part, fit.shaft], "diameter")  # noqa: B009
        name = f"{fit.shaft} in {fit.hole}"
        least, most = hole.min_mm - shaft.max_mm, hole.max_mm - shaft.min_mm
        ends = (*_ends(hole), *_ends(shaft), round(least, 5), round(most, 5))
        rows.append((name, hole.designation, shaft.designation, *ends))
        shown.append((name, numbers.limits(hole), numbers.limits(shaft), numbers.play(hole, shaft)))
    keys = "fit hole_class shaft_class hole_least_mm hole_most_mm shaft_least_mm shaft_most_mm"
    return Table(
        "fits",
        f"Fits, by the limits of both ({numbers.unit})",
        columns(*((key, key) for key in (*keys.split(), "play_least_mm", "play_most_mm"))),
        tuple(rows),
        tuple(shown),
        heads=("fit", "hole", "shaft", "play"),
    )


def _ends(size: Limits) -> tuple[float, float]:
    return round(size.min_mm, 5), round(size.max_mm, 5)


def _heads(heads: tuple[str, ...], numbers: Numbers) -> tuple[str, ...]:
    """An inch job has its decimals in a column of their own, beside the fractions."""
    return (*heads[:2], f"decimal, {numbers.unit}", *heads[2:]) if numbers.inch else heads


def _values(value: Any, numbers: Numbers) -> tuple[str, ...]:
    """A size as a sheet has it; in inches its fraction, where it is one, and its decimal."""
    if value is None:
        return ("none", "") if numbers.inch else ("none",)
    if not numbers.inch:
        return (numbers.value(value),)
    if not isinstance(value, float):
        return (numbers.value(value), "")
    said = numbers.value(value).partition(" = ")[0]
    return ("" if said.endswith(" in") and "." in said else said, numbers.plain.micrometer(value))


def _reach_table(sizing: Sizing, attachment: Attachment, job: Job, numbers: Numbers) -> Table:
    s = sizing.sizes
    outlines = swinging_outlines(attachment)
    edges = tuple(edge for outline in outlines for edge in outline)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, (0.0, 180.0))
    largest = ball_clearance(ball_cases(s, job)[0], outlines, s, job)
    out = largest.stick_out_by
    entries = [
        (
            "needed over the cross slide",
            down.distance_mm + s.clearance_mm,
            f"{down.name} at swing {numbers.angle(down.swing_deg)}, clearance included",
        ),
        ("had over the cross slide", s.spindle_over_cross_slide_mm, "job file"),
        (
            "ball's centre from the jaws",
            largest.stick_out_mm,
            f"{out.name} at swing {numbers.angle(out.swing_deg)}, largest ball, clearance included",
        ),
    ]
    return Table(
        "reach",
        "What the swing needs",
        columns(("what", "what"), ("length_mm", numbers.unit), ("where", "where")),
        tuple((what, round(mm, 3), where) for what, mm, where in entries),
        tuple((what, numbers.plain.clearance(mm), where) for what, mm, where in entries),
    )
