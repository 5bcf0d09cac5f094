"""The commands. Each reads a job, asks the planner and prints; nothing is worked out here.

Results go to stdout, messages to stderr. Exit codes: 0 clean, 1 findings, 2 bad input.
"""

from __future__ import annotations

import gc
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from planner import __version__
from planner.words.findings import BadInput, Finding, refused

CLEAN, FINDINGS, BAD_INPUT = 0, 1, 2

_job = click.argument("job", metavar="JOB", type=click.Path(path_type=Path))
_as_json = click.option("--json", "as_json", is_flag=True, help="Print for machines.")


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with: pommel new my-lathe.toml",
)
@click.version_option(__version__, prog_name="pommel")
def main() -> None:
    """Plan the building of a ball-turning attachment for your lathe, from one job file.

    \b
    pommel new my-lathe.toml      a commented job file to fill in
    pommel sizes my-lathe.toml    every size, and what the swing needs
    pommel check my-lathe.toml    will it clear, will it hold, how much will it bend
    pommel build my-lathe.toml    the whole package into exports/my-lathe/
    pommel turn my-lathe.toml     setting up and turning each ball
    pommel correct my-lathe.toml readings.toml    what a measured ball says to move

    Exit code: 0 clean, 1 something to look at first, 2 the input will not do.
    """


@main.command()
@click.argument("job", metavar="FILE", type=click.Path(path_type=Path))
@click.option("--inch", is_flag=True, help="Write it in inches.")
@click.option("--readings", is_flag=True, help="A file for readings of a ball, for pommel correct.")
@_as_json
def new(job: Path, inch: bool, readings: bool, as_json: bool) -> None:
    """Write a commented job FILE to fill in.

    \b
    Example:  pommel new my-lathe.toml
              pommel new my-lathe.toml --inch
              pommel new readings.toml --readings

    JSON keys: written (the file's name), units. An existing file is left alone.
    """
    from planner.job.template import job_template, readings_template, write_new

    with _speaking(as_json):
        write_new(job, readings_template(inch) if readings else job_template(inch))
    if as_json:
        _print_json({"written": str(job), "units": "in" if inch else "mm"})
    elif readings:
        click.echo(f"wrote {job}: fill in what you measured, then: pommel correct JOB {job}")
    else:
        click.echo(f"wrote {job}: fill in your lathe, then: pommel sizes {job}")


@main.command()
@_job
@click.option("--explain", is_flag=True, help="Each size's rule and source too.")
@click.option("--largest", is_flag=True, help="Only the largest ball this lathe can take.")
@_as_json
def sizes(job: Path, explain: bool, largest: bool, as_json: bool) -> None:
    """Print every size of the attachment and what its swing needs.

    \b
    Example:  pommel sizes examples/bench-lathe.toml --explain
              pommel sizes examples/bench-lathe.toml --largest

    JSON keys: job, lengths ("mm"), tables.sizes[] (size, value, origin, rule, source),
    tables.reach[] (what, length_mm, where), findings[] (severity, file, key, value, limit, remedy,
    text). With --largest: job, largest_ball_mm and bound, what stops a larger one
    (null when no ball works).
    """
    if not largest:
        _answer("sizes", job, as_json, explain)
        return
    from planner.job.reading import read_job
    from planner.sizing.apply import largest_ball
    from planner.words.units import show_length, unit_name

    with _speaking(as_json):
        read = read_job(job)
        best = largest_ball(read, str(job))
    if as_json:
        found = {"largest_ball_mm": best and best.diameter_mm, "bound": best and best.bound}
        _print_json({"job": read.name} | found)
    elif best is None:
        click.echo("no ball of 4 mm or more works with the rest of the job as it is")
    else:
        click.echo(
            f"largest ball: {show_length(best.diameter_mm, read.inch, 2 if read.inch else 1)}"
            f" {unit_name(read.inch)}, the rest of the job as it is\nwhat binds: {best.bound}"
        )
    sys.exit(CLEAN if best is not None else FINDINGS)


@main.command()
@_job
@click.option(
    "--prefer",
    type=click.Choice(["stiff", "light", "on-hand"]),
    default="stiff",
    show_default=True,
    help="What the search of all choices that fit prefers.",
)
@click.option(
    "--arrangement",
    type=click.Choice(["across", "upright"]),
    default="across",
    show_default=True,
    help="Pivot across the bed in the tool post, or upright on the cross slide.",
)
@click.option(
    "--write",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Write a copy of the job with the sizes found; JOB itself is left alone.",
)
@_as_json
def check(job: Path, prefer: str, arrangement: str, write: Path | None, as_json: bool) -> None:
    """Print whether it will clear and hold, how much it bends and how round the ball will be.

    \b
    Example:  pommel check examples/bench-lathe.toml
              pommel check examples/bench-lathe.toml --prefer light --write lighter.toml

    Then what a search of all stock, reamer and thread choices would take otherwise; not for an upright
    pivot, whose base is your own. Exit code 1 when a finding says not to build.

    JSON keys: tables.clearance[] (ball, diameter_mm, start_deg, end_deg, ends_at, stick_out_mm,
    relief_mm, cross_slide_mm, beside_blank_mm), tables.gaps[] (ball, obstacle, distance_mm, least_mm,
    part, swing_deg, tip_radius_mm), tables.forces[] (what, value), tables.deflection[] (link,
    deflection_mm, main_mm, share, thicken), tables.strength[] (part, stress_MPa, limit_MPa, safety,
    thicken, source), tables.clamp[] (what, value), tables.budget[] (source, size_mm, form_mm, by),
    tables.ball_errors[] (ball, diameter_mm, size_mm, form_mm, size_95_mm, form_95_mm, pip_mm),
    tables.search[] (what, value), tables.outcome[] (what, now, best), tables.choices[] (size, now,
    best, origin), tables.next_up[] (size, now, larger, origin, deflection_mm, mass_kg); written (the
    copy, or null); job, lengths and findings[] as for sizes, each with code and source.
    """
    from planner.output.plan import Plan
    from planner.output.sheets.choices import choices_tables
    from planner.stock.jobcopy import with_own_sizes
    from planner.words.tables import as_text

    def changed(plan: Plan, text: str) -> str:
        chosen = {change.name: change.after for change in found.changes} if found else {}
        return with_own_sizes(text, chosen, plan.job.inch)

    with _speaking(as_json):
        plan = Plan(job, arrangement)  # type: ignore[arg-type]
        found = plan.search(prefer) if arrangement == "across" else None  # type: ignore[arg-type]
        tables = choices_tables(found, plan.job) if found else []
        record = plan.record("check") if as_json else {}
        text = "" if as_json else as_text(plan.tables("check") + tables)
        _write_changed(plan, job, write, changed, "Add the sizes printed by hand")
    if as_json:
        record["tables"] |= {table.name: table.records() for table in tables}
    _print_copy(record, text, write, as_json)
    _finish(plan.findings("check"), ("refused",))


@main.command()
@_job
@click.option(
    "--write",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Write a copy of the job with the rack as it is after sawing; JOB is left alone.",
)
@_as_json
def cutlist(job: Path, write: Path | None, as_json: bool) -> None:
    """Print the pieces to saw, the bars to saw them from, and the items to buy.

    \b
    Example:  pommel cutlist examples/bench-lathe.toml
              pommel cutlist examples/bench-lathe.toml --write after.toml

    Least cost, then least length drawn, proven for each section: proofs[] holds what the proof needs to
    be gone over again without a solver (barcut.check_proof).

    JSON keys: tables.pieces[] (section, material, taken_from, part, piece, quantity, finished_mm,
    facing_mm, grip_mm, saw_mm, swarf_kg), tables.bars[] (bar, count, section, material, origin,
    length_mm, saw_mm, drop_mm, price), tables.cuts[] (bar, cut, stop_mm, set_anew, piece, left_mm),
    tables.stock[] (section, material, bars, drawn_mm, drop_mm, sawn_kg, drawn_kg, price, proven),
    tables.buying[] (section, material, length_mm, number, price, cutting_charge, total),
    tables.rack_after[] (section, material, length_mm, quantity), tables.bought[] (quantity, kind,
    thread, length_mm, standard, use), proofs[] (section, material, unit_mm, kerf, demands: [length,
    quantity, name], bars: [length, available, cost, name], plan), written (the copy, or null); job,
    lengths and findings[] as for sizes.
    """
    from planner.output.plan import Plan
    from planner.stock.jobcopy import with_rack

    def changed(plan: Plan, text: str) -> str:
        return with_rack(text, plan.cuts.rack_after, plan.job.inch)

    with _speaking(as_json):
        plan = Plan(job)
        record = plan.record("cutlist") if as_json else {}
        text = "" if as_json else plan.text("cutlist")
        _write_changed(plan, job, write, changed, "Change the rack by hand")
    _print_copy(record, text, write, as_json)
    _finish(plan.findings("cutlist"))


@main.command()
@_job
@click.option(
    "--process",
    type=click.Choice(["plasma", "saw"]),
    default="plasma",
    show_default=True,
    help="A torch cuts any outline; a saw cuts straight, from edge to edge.",
)
@_as_json
def flat(job: Path, process: str, as_json: bool) -> None:
    """Print the flat pieces and where they lie on the sheets of the shop.

    \b
    Example:  pommel flat examples/bench-lathe.toml
              pommel flat examples/bench-lathe.toml --process saw

    Parts of a thickness that lies in the shop as [[shop.sheet]], a template of each shaped piece and a
    drilling jig from thin sheet. pommel build writes the DXF files. JSON keys: tables.flat_pieces[]
    (piece, use, quantity, material, thickness_mm, cut_from), tables.flat_sheets[] (thickness_mm,
    material, number, sheet, length_mm, width_mm, pieces, used_mm, left_mm), tables.flat_places[]
    (thickness_mm, material, sheet, piece, copy, x_mm, y_mm, turn_deg), tables.flat_cuts[] (for the saw:
    thickness_mm, material, sheet, cut, panel, along, position_mm, length_mm); job, lengths and
    findings[] as for sizes.
    """
    from planner.output.plan import Plan
    from planner.output.sheets.flat import flat_tables
    from planner.words.tables import as_text

    with _speaking(as_json):
        plan = Plan(job)
        made = plan.flats(process)
        tables = flat_tables(made, plan.job, process)
    findings = plan.sizing.findings + made.findings
    if as_json:
        _print_json(
            {
                "job": plan.job.name,
                "lengths": "mm",
                "tables": {table.name: table.records() for table in tables},
                "findings": [finding.as_dict() for finding in findings],
            }
        )
    else:
        click.echo(as_text(tables), nl=False)
    _finish(findings)


@main.command()
@_job
@_as_json
def route(job: Path, as_json: bool) -> None:
    """Print the order of operations, by set-up.

    \b
    Example:  pommel route examples/bench-lathe.toml

    JSON keys: tables.route[] (number, setup, part, piece, stage, kind, machine, holding, datum,
    text, tool, speed_rpm, measure, gauge, note, caution, makes, prepares, after: the numbers of the
    operations that must be done first); job, lengths and findings[] as for sizes.
    """
    _answer("route", job, as_json)


@main.command()
@_job
@_as_json
def dial(job: Path, as_json: bool) -> None:
    """Print the dial-engraving table and how to index it.

    \b
    Example:  pommel dial examples/bench-lathe.toml

    JSON keys: tables.dial[] (line, angle_deg, angle_dms, length_class, line_mm, numeral,
    advance_mm, diameter_change_mm, arc_mm), tables.figures[] (what, value),
    tables.indexing[] (plates, plate, ratio, turns, holes, circle, sector_holes, exact,
    error_arcsec, closing_error_arcsec), tables.ways[] (way, value); job, lengths and
    findings[] as for sizes.
    """
    _answer("dial", job, as_json)


@main.command()
@_job
@click.option("--ball", metavar="NAME", help="Only this ball of the job.")
@_as_json
def turn(job: Path, ball: str | None, as_json: bool) -> None:
    """Print how each ball is set up, roughed, turned and measured.

    \b
    Example:  pommel turn examples/bench-lathe.toml
              pommel turn examples/engine-lathe.toml --ball knob

    Exit code 1 when a ball of the job cannot be turned. JSON keys: tables.setup[] (ball, what, value,
    how), tables.roughing[] (ball, number, side, from_mm, to_mm, diameter_mm, infeed_mm,
    carriage_div, cross_slide_div: null without the dial's division),
    tables.passes[] (ball, number, kind, turns, divisions, radius_mm, depth_mm, arcs_deg, removed_mm3,
    rev_min, deg_per_turn, seconds, passive_N, deflection_mm, grip_factor), tables.measuring[] (ball,
    angle_deg, meridian, reading_mm: null, to fill in), tables.socket[] (ball, what, value, how),
    tables.socket_passes[] (ball, number, radius_mm, depth_mm, divisions, removed_mm3, passive_N,
    deflection_mm); job, lengths and findings[] as for sizes, each with its code.
    """
    from planner.output.plan import Plan

    with _speaking(as_json):
        plan = Plan(job, only_ball=ball)
        text = "" if as_json else plan.text("turn")
        record = plan.record("turn") if as_json else {}
    if as_json:
        _print_json(record)
    else:
        click.echo(text, nl=False)
    _finish(plan.findings("turn"))


@main.command()
@_job
@click.argument("readings", metavar="READINGS", type=click.Path(path_type=Path))
@_as_json
def correct(job: Path, readings: Path, as_json: bool) -> None:
    """Print what READINGS on a turned ball say, and what to move by how many divisions.

    \b
    Example:  pommel new readings.toml --readings
              pommel correct examples/bench-lathe.toml readings.toml

    Nothing is moved that the stated accuracy of the readings does not bear out. Exit code 1 when a
    correction is justified or the readings contradict each other. JSON keys: ball, tables.fit[] (what,
    value, uncertainty), tables.advice[] (what, error_mm, uncertainty_mm, justified, move, amount_mm,
    divisions, sign_known, remains_mm, reason), tables.unseen[] (what); job, lengths, findings[].
    """
    from planner.job.reading import read_job
    from planner.measuring.correct import CannotFit
    from planner.measuring.correct import correct as corrected
    from planner.measuring.readings import read_readings
    from planner.output.sheets.correct import correct_tables
    from planner.words.tables import as_text

    with _speaking(as_json):
        read = read_job(job)
        measured, rig, name = read_readings(readings, read)
        try:
            found = corrected(measured, rig)
        except CannotFit as error:
            raise BadInput(
                [
                    refused(str(readings), p.where, p.value, p.limit, p.remedy)
                    for p in error.problems
                ]
            ) from None
        tables = correct_tables(found, measured, read, name)
    if as_json:
        records = {table.name: table.records() for table in tables}
        said = {"job": read.name, "ball": name, "lengths": "mm", "tables": records, "findings": []}
        _print_json(said)
    else:
        click.echo(as_text(tables), nl=False)
    at_odds = found.fit is not None and found.fit.scatter == "contradict"
    sys.exit(FINDINGS if at_odds or any(a.justified for a in found.advice) else CLEAN)


@main.command()
@_job
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="The folder to write. [default: exports/JOB-NAME]",
)
@_as_json
def build(job: Path, out: Path | None, as_json: bool) -> None:
    """Write the whole package: sizes, cut list, route, dial, DXF and STEP.

    \b
    Example:  pommel build examples/bench-lathe.toml
              pommel build my-lathe.toml --out ~/attachment

    An earlier package in the folder is replaced only if nothing in it was changed.

    JSON keys: those of package.json: job, made_by, job_file_sha256, findings[], files[] (path,
    what, bytes, sha256); and folder.
    """
    from planner.output.plan import Plan

    with _speaking(as_json):
        plan = Plan(job)
        target = out or Path("exports") / plan.job.name
        from planner.output.package import build as write_package
        from planner.solids import KernelMissing

        try:
            manifest = write_package(plan, target, lambda text: click.echo(text, err=True))
        except KernelMissing as missing:
            raise BadInput([refused(str(job), "", "", str(missing), "Then build again")]) from None
    found = plan.findings("build")
    if as_json:
        _print_json(manifest | {"folder": str(target)})
    else:
        click.echo(f"{target}: {len(manifest['files'])} files, listed in package.json")
    _finish(found)


@main.command()
def schema() -> None:
    """Print the JSON Schema of a job file, for editors that complete and check TOML.

    \b
    Example:  pommel schema > pommel-job.schema.json
    """
    from planner.job.reading import json_schema

    _print_json(json_schema())


def _answer(topic: str, job: Path, as_json: bool, explain: bool = False) -> None:
    from planner.output.plan import Plan

    with _speaking(as_json):
        plan = Plan(job)
        text = "" if as_json else plan.text(topic, explain)
        record = plan.record(topic) if as_json else {}
    if as_json:
        _print_json(record)
    else:
        click.echo(text, nl=False)
    _finish(plan.findings(topic))


def _write_changed(
    plan: Any, job: Path, write: Path | None, changed: Callable[[Any, str], str], by_hand: str
) -> None:
    """Write a copy of the job with something changed, where one is asked for."""
    from planner.job.template import write_new
    from planner.stock.jobcopy import CannotCopy

    if write is None:
        return
    try:
        copy = changed(plan, job.read_bytes().decode("utf-8"))
    except CannotCopy as error:
        raise BadInput([refused(str(job), "", "", str(error), by_hand)]) from None
    write_new(write, copy)


def _print_copy(record: dict[str, Any], text: str, write: Path | None, as_json: bool) -> None:
    if as_json:
        _print_json(record | {"written": str(write) if write else None})
        return
    click.echo(text, nl=False)
    if write is not None:
        click.echo(f"wrote {write}", err=True)


def _finish(found: tuple[Finding, ...], stops: tuple[str, ...] = ("warning", "refused")) -> None:
    for finding in found:
        code = f" [{finding.code}]" if finding.code else ""
        click.echo(f"{finding.severity}{code}: {finding}", err=True)
    sys.exit(FINDINGS if any(f.severity in stops for f in found) else CLEAN)


class _speaking:
    """Turns BadInput into messages on stderr (and findings on stdout for machines) and exit 2."""

    def __init__(self, as_json: bool) -> None:
        self.as_json = as_json

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: Any, error: BaseException | None, trace: Any) -> None:
        if not isinstance(error, BadInput):
            return
        for finding in error.findings:
            click.echo(str(finding), err=True)
        if self.as_json:
            _print_json({"findings": [finding.as_dict() for finding in error.findings]})
        sys.exit(BAD_INPUT)


def _print_json(record: Any) -> None:
    click.echo(json.dumps(record, indent=1, ensure_ascii=False, allow_nan=False))


def run() -> None:
    """The console script: a closed pipe ends it quietly.

    A command is short: it collects garbage rarely, and lets pydantic look for no plug-ins.
    """
    gc.set_threshold(100_000, 50, 50)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "true")
    try:
        main()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(CLEAN)
