"""``pommel correct``: what a measured ball says to move."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click
from msgspec.structs import replace

from planner.cli.answer import (
    CLEAN,
    FINDINGS,
    PATH,
    bad_input_told,
    job_argument,
    json_option,
    say,
    say_json,
    tell,
)
from planner.words.findings import BadInput, Finding, finding
from planner.words.formats import format_name

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from planner.job.tables import Job
    from planner.measuring.correct import Correction, Fault
    from planner.measuring.readings import OwnKnob
    from planner.record.model import MoveMade
    from planner.words.tables import Table


UNRECORDED = {"unwritable", "record-busy"}
"""Why a ball may not be recorded though its readings are sound: the answer is given all the same."""


class _Answer(NamedTuple):
    """What is printed: the tables, the findings, and what became of the record."""

    ball: str
    tables: list[Table]
    findings: list[Finding]
    standing: str | None = None
    setting: int = 0
    balls: int = 0
    recorded: bool = False
    look: bool = False


@click.command()
@job_argument
@click.argument("readings", metavar="[READINGS]", type=PATH, required=False)
@click.option("--moved", is_flag=True, help="What was said to move is moved: a new setting begins.")
@click.option("--date", metavar="DAY", help="The day the ball was turned, as in 2026-11-28.")
@click.option("--no-record", is_flag=True, help="Neither record the ball nor use earlier ones.")
@json_option
def correct(
    job: Path, readings: Path | None, moved: bool, date: str | None, no_record: bool, as_json: bool
) -> None:
    """Print what READINGS on a turned ball say, and what to move by how many divisions.

    \b
    Example:  pommel new readings.toml --readings
              pommel correct examples/bench-lathe.toml readings.toml
              pommel correct examples/bench-lathe.toml --moved

    Nothing is moved that the stated accuracy of the readings does not bear out, nor where the ball is
    within its tolerance. Each ball is added to the record beside JOB (pommel record), and those before
    it at the same setting sharpen the skew and the offset; the same readings count once. Once pivot,
    tool post, cross slide, tip height or the dial's zero is moved, say so with --moved, alone or with
    the READINGS of the next ball: balls before it are no longer used. Feeding the tip in or out is no
    such move.

    Exit code 1 when a correction is justified, the ball is not surely within its tolerance,
    measurements contradict each other or earlier ones, or an error is larger than any ball has.

    JSON keys: format ("pommel.correct/1"), ball, tables.fit[] (what, value, uncertainty),
    tables.advice[] (what, error_mm, uncertainty_mm, justified, move, amount_mm, divisions, sign_known,
    remains_mm, reason), tables.unseen[] (what); job, lengths, standing ("within", "cannot be told",
    "outside" of the tolerance, or null), setting (its number, 0 without a record), balls (that the skew
    rests on), recorded (whether anything was added), findings[].
    """
    from planner.job.reading import read_job
    from planner.words.tables import as_text

    with bad_input_told(as_json):
        read = read_job(job)
        on = _day(date)
        if on and no_record:
            limit, remedy = "nothing is recorded with it", "Leave --date or --no-record out"
            raise BadInput([finding("missing-key", "correct", "--date", str(on), limit, remedy)])
        if readings is not None:
            answer = _answered(job, read, readings, moved, on, no_record)
        elif moved and not no_record:
            answer = _moved(job, on)
        else:
            limit, remedy = "nothing to work on", "Name a file of readings, or give --moved alone"
            raise BadInput([finding("missing-key", "correct", "READINGS", "", limit, remedy)])
    told = [*read.findings, *answer.findings]
    if as_json:
        say_json(
            {
                "format": format_name("correct"),
                "job": read.name,
                "ball": answer.ball,
                "lengths": "mm",
                "tables": {table.name: table.records() for table in answer.tables},
                "standing": answer.standing,
                "setting": answer.setting,
                "balls": answer.balls,
                "recorded": answer.recorded,
                "findings": [one.as_dict() for one in told],
            }
        )
    elif readings is not None:
        say(as_text(answer.tables))
    elif answer.recorded:
        say(f"setting {answer.setting} begins: balls before it are no longer used\n")
    for one in told:
        tell(one.message)
    stops = any(one.severity != "note" for one in told)
    sys.exit(FINDINGS if answer.look or stops else CLEAN)


def _day(text: str | None) -> date | None:
    """The day given. Raises BadInput."""
    from planner.record.model import day
    from planner.words.units import UnitError

    try:
        return None if text is None else day(text, None)
    except UnitError as error:
        stop = finding(error.code, "correct", "--date", str(text), error.limit, error.remedy)
        raise BadInput([stop]) from None


def _moved(job: Path, on: date | None) -> _Answer:
    """A move is confirmed, and nothing was measured since."""
    from planner.output.sheets.correct import no_tables
    from planner.record.adding import add_turned
    from planner.record.files import record_folder

    added, setting = add_turned(job, None, _move(on))
    found = []
    if not added:
        limit, remedy = "no ball is recorded at this setting yet", "Nothing to do"
        found.append(finding("nothing-moved", str(record_folder(job)), "", "", limit, remedy))
    return _Answer("", no_tables(), found, setting=setting, recorded=added)


def _move(on: date | None) -> MoveMade:
    from planner.record.model import MoveMade

    return MoveMade(setting=2, date=on)  # its number is given as it is added


def _answered(
    job: Path, read: Job, readings: Path, moved: bool, on: date | None, no_record: bool
) -> _Answer:
    """What the readings say, with what was recorded before unless no_record; the ball is added."""
    from planner.measuring.correct import Earlier, odd, problems
    from planner.measuring.correct import correct as corrected
    from planner.measuring.log import as_turned, earlier_of, verdict
    from planner.measuring.readings import read_readings
    from planner.output.sheets.correct import correct_tables
    from planner.record.adding import add_turned, refuse_earlier
    from planner.record.files import record_folder
    from planner.record.reading import job_sha256, read_turned

    given = read_readings(readings, read, lambda: _own_knob(job, read))
    measured, setting, earlier, notes = given.measured, 0, Earlier(), []
    line = None
    if not no_record:
        turned = read_turned(job)
        notes, setting = list(turned.findings), turned.setting
    if wrong := problems(measured, given.rig, read.numbers):
        raise _refused(wrong, readings, len(measured.readings))
    if not no_record:
        line = as_turned(measured, given.rig, given.ball, given.piece, job_sha256(job))
        line = line.model_copy(update={"date": on})
        if not moved:
            earlier = earlier_of(turned.balls, line, setting)
    found = corrected(measured, given.rig, earlier, read.numbers)
    kept, added = "", False
    if line is not None:
        if found.apart:
            refuse_earlier(turned, line, setting, record_folder(job))
        else:
            line = line.model_copy(update={"verdict": verdict(found)})
            try:
                added, setting = add_turned(job, line, _move(on) if moved else None)
            except BadInput as error:
                if {one.code for one in error.findings} - UNRECORDED:
                    raise
                notes += error.findings
                line = None
        kept = _kept(found, added, line is None, setting, job, record_folder(job))
    notes += [
        finding(one.code, str(readings), one.where, one.value, one.limit, one.remedy)
        for one in odd(found, read.numbers)
    ]
    return _Answer(
        given.ball,
        correct_tables(found, measured, read, given.ball, kept),
        notes,
        found.tolerance.standing if found.tolerance else None,
        setting,
        found.fit.balls if found.fit else 0,
        added,
        any(one.justified for one in found.advice)
        or bool(found.tolerance and found.tolerance.standing != "within"),
    )


def _own_knob(job: Path, read: Job) -> OwnKnob | None:
    """The attachment's own knob, the first ball; None where it is not turned with it."""
    from planner.output.plan import Plan

    return None if read.own_head is not None else Plan(job).own_knob


def _kept(
    found: Correction, added: bool, failed: bool, setting: int, job: Path, folder: Path
) -> str:
    """What is said of the record, and what to say to it once something is moved."""
    if found.apart or failed:
        return f"Not recorded in {folder}."
    said = f"These readings are in {folder} already, setting {setting}."
    if added:
        said = f"Recorded in {folder}, setting {setting}."
    if any(one.justified and one.what != "size" for one in found.advice):
        said += f" Once that is moved, say so: pommel correct {job} --moved"
    return said


def _refused(wrong: Sequence[Fault], readings: Path, count: int) -> BadInput:
    """The problems of readings as findings, each with its line of the file where that is plain."""
    from planner.measuring.readings import reading_lines

    lines = reading_lines(readings, count)
    found = []
    for one in wrong:
        kind, _, number = one.where.partition(" ")
        line = None
        if kind == "reading" and number.isdigit() and lines:
            line = lines[int(number) - 1]
        where = f"{one.where}, line {line}" if line else one.where
        made = finding(one.code, str(readings), where, one.value, one.limit, one.remedy)
        found.append(replace(made, line=line))
    return BadInput(found)
