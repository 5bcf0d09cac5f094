"""Running a command in a test: through the group itself, never behind the outermost net."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

import click
from click.testing import CliRunner, Result
from jobs import EXAMPLES, planned

from planner.cli.main import main
from planner.output import readiness
from planner.output.plan import Plan
from planner.output.topic import Asked, Topic

PLAIN = {"arrangement": "across"}
"""As a job is worked out where nothing else is asked."""

_WORKED_OUT: dict[tuple[Any, ...], Plan] = {}
"""Plans of the tracked examples, by the path that was given, what the file says, and what was asked."""


def _plan(topic: Topic, job: Path, asked: Asked) -> Plan:
    """As a topic works a job out; an example as it is tracked, with no record, once for all tests."""
    says = job.read_bytes() if job.is_file() else None
    own = {option.name: asked[option.name] for option in topic.options if option.plans}
    if job in EXAMPLES and all(own[name] == PLAIN.get(name) for name in own):
        return planned(job)
    if says not in _tracked() or {path.suffix for path in job.parent.iterdir()} != {".toml"}:
        return Plan(job, **own)
    key = (str(job), says, *own.items())
    if key not in _WORKED_OUT:
        _WORKED_OUT[key] = Plan(job, **own)
    return _WORKED_OUT[key]


_look = readiness.kernel_look


@cache
def _kernel() -> readiness.Look:
    """Whether the CAD kernel loads here, in a process of its own: asked once for all tests."""
    return _look()


@cache
def _tracked() -> set[bytes]:
    return {path.read_bytes() for path in EXAMPLES}


def call(*words: str) -> Result:
    """Run ``pommel`` with these words; any exception but the command's own end fails the test."""
    with patch.object(Topic, "plan", _plan), patch.object(readiness, "kernel_look", _kernel):
        result = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert "Traceback" not in result.output and "[internal-error]" not in result.stderr
    return result


@cache
def answered(topic: str, example: Path) -> str:
    """What a topic prints for machines of an example: each asked once in a run of the tests."""
    return call(topic, str(example), "--json").stdout


def ended(*words: str) -> Result:
    """Run ``pommel`` with these words, whatever comes of it: who calls looks at ``exception``.

    What it prints comes as to a terminal: click would else take out what steers one.
    """
    return CliRunner().invoke(main, list(words), color=True)


def known() -> list[str]:
    """The names of all commands."""
    return main.list_commands(click.Context(main))


def takes(command: str, *words: str) -> bool:
    """Whether there is the command; a word or an option that it does not take raises."""
    one = main.get_command(click.Context(main), command)
    if one is not None and words:
        one.make_context(command, list(words))
    return one is not None
