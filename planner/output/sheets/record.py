"""What is recorded of a job, against the job as it is now."""

from __future__ import annotations

from collections.abc import Sequence

from planner.job.tables import Job
from planner.record.judge import Judged
from planner.record.model import BallTurned, SizeMade
from planner.words.tables import Table, columns

SIZES = columns(
    ("part", "part"),
    ("feature", "feature"),
    ("number", "no."),
    ("value_mm", "measured"),
    ("least_mm", "least"),
    ("greatest_mm", "greatest"),
    ("verdict", "verdict"),
    ("out_mm", "out by"),
    ("state", "in the job"),
    ("counts", "counts"),
    ("gauge", "gauge"),
    ("date", "date"),
)
DONE = columns(
    ("part", "part"), ("feature", "feature"), ("number", "no."), ("state", "in the job"),
    ("counts", "counts"), ("date", "date"),
)  # fmt: skip
BALLS = columns(
    ("ball", "ball"),
    ("date", "date"),
    ("setting", "setting"),
    ("set_mm", "set to"),
    ("readings", "readings"),
    ("least_mm", "least"),
    ("greatest_mm", "greatest"),
    ("verdict", "verdict"),
    ("note", "note"),
)
COLUMNS = {
    name: tuple(one.key for one in row)
    for name, row in (("sizes", SIZES), ("done", DONE), ("balls", BALLS))
}
"""The keys of each table, by its name."""


def record_tables(
    sizes: Sequence[Judged], done: Sequence[Judged], balls: Sequence[BallTurned], job: Job
) -> list[Table]:
    """The sizes measured, the features made, the balls turned."""
    return [_sizes(sizes, job), _done(done), _balls(balls, job)]


def verdict(one: Judged) -> str | None:
    """Whether a measured size is in or out of its limits; None where it is not judged."""
    return None if one.out_mm is None else "out" if one.out_mm else "in"


def _sizes(found: Sequence[Judged], job: Job) -> Table:
    numbers = job.numbers.plain
    rows, shown = [], []
    for one in found:
        entry, limits = one.entry, one.limits
        assert isinstance(entry, SizeMade)
        ends = (limits.min_mm, limits.max_mm) if limits else (None, None)
        day = entry.date.isoformat() if entry.date else None
        low, high = (None if end is None else round(end, 6) for end in ends)
        out = None if one.out_mm is None else round(one.out_mm, 6)
        rest = (one.state, one.counts, entry.gauge, day)
        value = round(entry.value, 6)
        named = (entry.part, entry.feature, entry.number)
        rows.append((*named, value, low, high, verdict(one), out, *rest))
        between = (
            numbers.read_between(*ends) if ends[0] is not None and ends[1] is not None else ("", "")
        )
        read = (numbers.micrometer(entry.value), *between)
        by = numbers.micrometer(one.out_mm) if one.out_mm else ""
        told = (*read, verdict(one) or "", by, *_words(one, entry.gauge))
        shown.append((entry.part, entry.feature, str(entry.number), *told))
    title = f"sizes as measured, {numbers.unit}"
    return Table("sizes", title, SIZES, tuple(rows), tuple(shown), _none(rows))


def _done(found: Sequence[Judged]) -> Table:
    rows, shown = [], []
    for one in found:
        entry = one.entry
        day = entry.date.isoformat() if entry.date else None
        rows.append((entry.part, entry.feature, entry.number, one.state, one.counts, day))
        shown.append((entry.part, entry.feature, str(entry.number), *_words(one)))
    return Table("done", "made", DONE, tuple(rows), tuple(shown), _none(rows))


def _words(one: Judged, *between: str) -> tuple[str, ...]:
    day = one.entry.date.isoformat() if one.entry.date else ""
    return (one.state, "yes" if one.counts else "no", *between, day)


def _balls(balls: Sequence[BallTurned], job: Job) -> Table:
    numbers = job.numbers.plain
    rows, shown = [], []
    for ball in balls:
        read = [one.diameter_mm for one in ball.readings]
        ends = (min(read), max(read)) if read else (None, None)
        day = ball.date.isoformat() if ball.date else None
        after = (ball.verdict, ball.note)
        number = ball.setting.number
        rows.append((ball.ball, day, number, ball.setting.diameter_mm, len(read), *ends, *after))
        words = ["" if mm is None else numbers.micrometer(mm) for mm in ends]
        set_to = numbers.micrometer(ball.setting.diameter_mm)
        first = (ball.ball, day or "", str(number or ""), set_to)
        shown.append((*first, str(len(read)), *words, *after))
    title = f"balls turned, {numbers.unit}"
    return Table("balls", title, BALLS, tuple(rows), tuple(shown), _none(rows))


def _none(rows: Sequence[object]) -> tuple[str, ...]:
    return () if rows else ("none recorded",)
