"""``pommel record``: what was made and which balls were turned, kept beside the job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.cli.answer import PATH, bad_input_told, finish, json_option, say, say_json
from planner.words.formats import format_name

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.record.adding import Kind
    from planner.record.model import Record
    from planner.words.findings import Finding


@click.command()
@click.argument("job", metavar="JOB", type=PATH)
@click.option("--made", nargs=3, multiple=True, metavar="PART FEATURE VALUE",
              help="Record a size as measured; may be given more than once.")  # fmt: skip
@click.option("--done", nargs=2, multiple=True, metavar="PART FEATURE",
              help="Record a feature as made; may be given more than once.")  # fmt: skip
@click.option("--number", type=click.IntRange(1), default=1, metavar="N",
              help="Which of several made alike, by the number stamped on it; default: 1.")  # fmt: skip
@click.option("--gauge", metavar="TEXT", default="", help="What --made was measured with.")
@click.option("--date", metavar="DAY", help="The day of it, as in 2026-11-28.")
@click.option("--merge", type=PATH, metavar="FILE",
              help="Add what FILE has, in the form of made.toml: the page saves one.")  # fmt: skip
@json_option
def record(
    job: Path,
    made: tuple[tuple[str, str, str], ...],
    done: tuple[tuple[str, str], ...],
    number: int,
    gauge: str,
    date: str | None,
    merge: Path | None,
    as_json: bool,
) -> None:
    """Print what is recorded of JOB against the job as it is now, or add to it.

    \b
    Example:  pommel record my-lathe.toml
              pommel record my-lathe.toml --made rotating-body journal "19.985 mm" --gauge micrometer
              pommel record my-lathe.toml --done housing "oil hole"
              pommel record my-lathe.toml --merge my-lathe-measured.toml

    The record lies beside the job, in my-lathe-record/: made.toml, yours to edit, and what pommel
    correct adds, balls.jsonl and moves.jsonl, a line for each ball turned and each move. After --made,
    --done or --merge only what was added is printed. Where several alike are made, each is recorded by
    --number. A bare VALUE is in the job's units. What FILE says
    otherwise than the record is told and left out. Exit code 1 then, when a size is out of its limits,
    or the job no longer has what was made; state says which: "as recorded", "changed" or "gone".

    JSON keys: format ("pommel.record/1"), job, folder, lengths ("mm"), tables.sizes[] (part, feature,
    number, value_mm, least_mm, greatest_mm, verdict, out_mm, state, counts, gauge, date),
    tables.done[] (part, feature, number, state, counts, date), tables.balls[] (ball, date, setting,
    set_mm, readings, least_mm, greatest_mm, verdict, note), findings[].
    """
    with bad_input_told(as_json):
        from planner.output.asmade import judged_as_made
        from planner.output.plan import Plan
        from planner.output.sheets.record import record_tables
        from planner.record.judge import judged, record_findings
        from planner.record.reading import read_record
        from planner.words.findings import finding
        from planner.words.tables import as_text

        plan = Plan(job)
        entries = _entries(plan, made, done, gauge, date, number)
        added = len(made), len(done)
        conflicts: tuple[Finding, ...] = ()
        if merge is not None:
            kept, added, conflicts = _merged(plan, merge, bool(entries))
        elif entries:
            from planner.record.adding import add_made

            kept = add_made(job, entries, plan.job.units)
        else:
            kept = read_record(job)
        sizes = judged_as_made(kept.made.size, plan.attachment, plan.job)
        steps = judged(kept.made.done, plan.attachment)
        balls = kept.balls
        if entries or merge is not None:  # they stand last
            sizes, steps = sizes[len(sizes) - added[0] :], steps[len(steps) - added[1] :]
            balls = ()
        tables = record_tables(sizes, steps, balls, plan.job)
        found: list[Finding] = [*plan.findings, *kept.findings, *conflicts]
        found += record_findings([*sizes, *steps], str(kept.folder / "made.toml"), plan.job.numbers)
        if merge is None and not (kept.made.size or kept.made.done or kept.balls):
            limit, remedy = "nothing is recorded yet", "Record with --made or --done"
            found.append(finding("nothing-recorded", str(kept.folder), "", "", limit, remedy))
    if as_json:
        say_json(
            {
                "format": format_name("record"),
                "job": plan.job.name,
                "folder": str(kept.folder),
                "lengths": "mm",
                "tables": {table.name: table.records() for table in tables},
                "findings": [one.as_dict() for one in found],
            }
        )
    else:
        adding = entries or merge is not None
        say(as_text([table for table in tables if table.rows or not adding]))
    finish(found)


def _merged(
    plan: Plan, file: Path, more: bool
) -> tuple[Record, tuple[int, int], tuple[Finding, ...]]:
    """The record with what a file adds to it, how much of each list, and what was left out.

    more: whether anything is recorded by hand too, which is refused. Raises BadInput.
    """
    from planner.record.merging import merge
    from planner.words.findings import BadInput, finding

    if more:
        limit, remedy = "merged by itself alone", "Give --made or --done in a command of their own"
        raise BadInput([finding("wrong-value", "record", "--merge", str(file), limit, remedy)])
    job = plan.job
    many = job.attachment.quantity
    found = merge(Path(plan.file), file, plan.attachment, job.units, job.numbers, many)
    return found.record, (found.sizes, found.done), found.findings


def _entries(
    plan: Plan,
    made: tuple[tuple[str, str, str], ...],
    done: tuple[tuple[str, str], ...],
    gauge: str,
    date: str | None,
    number: int,
) -> list[tuple[Kind, dict[str, Any]]]:
    """What is to be added, each entry held against the job. Raises BadInput with every problem."""
    from planner.record.judge import feature_sha256, find, made_alike, measured, only_so_many
    from planner.record.model import day
    from planner.record.reading import job_sha256
    from planner.words.findings import BadInput, finding
    from planner.words.units import UnitError

    stops: list[Finding] = []
    if (date is not None or gauge or number > 1) and not (made or done):
        limit, remedy = "nothing is recorded with it", "Give --made or --done too"
        stops.append(finding("missing-key", "record", "--made", "", limit, remedy))
    said: dict[str, Any] = {}
    if date is not None:
        try:
            said["date"] = day(date, None)
        except UnitError as error:
            stops.append(finding(error.code, "record", "--date", date, error.limit, error.remedy))
    found: list[tuple[Kind, dict[str, Any]]] = []
    sha256 = job_sha256(Path(plan.file)) if made or done else ""

    def entry(option: str, part: str, name: str, value: str | None) -> None:
        try:
            feature = find(plan.attachment, part, name, "record", option)
            own: dict[str, Any] = {"part": part, "feature": name}
            most = made_alike(part, plan.attachment, plan.job.attachment.quantity)
            if number > most:
                limit, remedy = only_so_many(most), "Look which of them is meant"
                stop = finding("wrong-value", "record", "--number", str(number), limit, remedy)
                raise BadInput([stop])
            own |= {"number": number} if number > 1 else {}
            if value is not None:
                own["value"] = _spelled(value, plan.job.units, option)
                if measured(feature) is None:
                    limit, remedy = "has no one size to measure", "Record it with --done"
                    stop = finding("no-size", "record", option, f"{part}, {name}", limit, remedy)
                    raise BadInput([stop])
                own |= {"gauge": gauge} if gauge else {}
        except BadInput as error:
            stops.extend(error.findings)
            return
        own |= said | {"feature_sha256": feature_sha256(feature), "job_file_sha256": sha256}
        found.append(("done" if value is None else "size", own))

    for part, name, value in made:
        entry("--made", part, name, value)
    for part, name in done:
        entry("--done", part, name, None)
    if stops:
        raise BadInput(stops)
    return found


def _spelled(value: str, units: str | None, option: str) -> str:
    """A measured length as the record has it: as given, with a unit. Raises BadInput."""
    from planner.job.fields import LONGEST_MM
    from planner.words.findings import BadInput, finding
    from planner.words.units import UnitError, length_mm

    try:
        mm = length_mm(value, units)
        try:
            length_mm(value, None)
        except UnitError:
            value = f"{value.strip()} {units}"
        if not 0.001 <= mm <= LONGEST_MM:
            raise UnitError("out-of-range", "no size that can be measured", "Check the unit")
    except UnitError as error:
        stop = finding(error.code, "record", option, value, error.limit, error.remedy)
        raise BadInput([stop]) from None
    return value
