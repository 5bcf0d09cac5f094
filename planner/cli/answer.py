"""How every command answers: results on stdout, messages on stderr, and the exit code.

0: clean. 1: something to look at first. 2: the input will not do. A command works everything out
before it prints anything.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TextIO

import click

from planner.words.short import printed

if TYPE_CHECKING:  # help needs neither
    from planner.words.findings import Finding
    from planner.words.register import Severity

CLEAN, FINDINGS, BAD_INPUT = 0, 1, 2

STOPS: tuple[Severity, ...] = ("warning", "refused")
"""Severities that make the exit code 1, unless a command says otherwise."""


PATH = click.Path(path_type=Path)
job_argument = click.argument("job", metavar="JOB", type=PATH)
json_option = click.option("--json", "as_json", is_flag=True, help="Print for machines.")


@contextmanager
def bad_input_told(as_json: bool) -> Iterator[None]:
    """Where BadInput is raised inside: every finding in words, for machines as JSON too, and exit 2."""
    from planner.words.findings import BadInput

    try:
        yield
    except BadInput as error:
        from planner.job.lines import located

        found = located(error.findings)
        for finding in found:
            tell(finding.message)
        if as_json:
            say_json(findings_record(found))
        sys.exit(BAD_INPUT)


def findings_record(findings: Sequence[Finding]) -> dict[str, Any]:
    """What machines get where there is nothing but findings."""
    from planner.words.formats import format_name

    return {
        "format": format_name("findings"),
        "findings": [finding.as_dict() for finding in findings],
    }


def finish(found: Sequence[Finding], stops: tuple[Severity, ...] = STOPS) -> NoReturn:
    """Tell the findings and end: 1 when one has a severity that stops, else 0."""
    if found:
        from planner.job.lines import located

        found = located(found)
    for finding in found:
        tell(finding.message)
    end(found, stops)


def end(found: Sequence[Finding], stops: tuple[Severity, ...] = STOPS) -> NoReturn:
    """End, the findings told already: 1 when one has a severity that stops, else 0."""
    sys.exit(FINDINGS if any(finding.severity in stops for finding in found) else CLEAN)


def say_json(record: Any) -> None:
    """A result for machines, as strict JSON."""
    from planner.words.tables import as_json

    say(as_json(record))


def say(text: str) -> None:
    """A result, on stdout, no sign of it steering a terminal; a reader who has gone is no fault, a full
    disk is exit 2."""
    try:
        click.echo(printed(text, keep="\n"), nl=False)
    except BrokenPipeError:
        mute(sys.stdout)
    except OSError as error:
        mute(sys.stdout)
        tell(f"the answer cannot be printed ({error.strerror})")
        sys.exit(BAD_INPUT)


def tell(text: str) -> None:
    """A message, on stderr, no sign of it steering a terminal; lost where nobody reads it."""
    try:
        click.echo(printed(text, keep="\n"), err=True)
    except OSError:
        mute(sys.stderr)


def mute(stream: TextIO) -> None:
    """Let what is still in a stream's buffer go nowhere, so that the program ends quietly."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
