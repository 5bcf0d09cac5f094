"""The commands of the topics, each made from its entry in ``planner.output.topics``."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click
from msgspec.structs import fields

from planner.cli.answer import (
    FINDINGS,
    PATH,
    bad_input_told,
    finish,
    job_argument,
    json_option,
    say,
    say_json,
    tell,
)
from planner.output.topic import Asked, Copy, Instead, Option, Topic
from planner.words.formats import format_name

if TYPE_CHECKING:
    from planner.output.plan import Plan


NARROWEST, WIDEST = 60, 140
"""Lines of a sheet are no shorter nor longer on a terminal."""


def wide() -> int | None:
    """Letters that a line of running text has on this terminal; None off one."""
    if not sys.stdout.isatty():
        return None
    return min(max(shutil.get_terminal_size().columns, NARROWEST), WIDEST)


class TopicCommand(click.Command):
    """A command that works out its long help only when that is asked for."""

    topic: Topic

    def whole_help(self) -> str:
        """The help that the topic's entry makes."""
        return help_text(self.topic)

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the whole help."""
        self.help = self.whole_help()
        super().format_help_text(ctx, formatter)


def command(topic: Topic) -> click.Command:
    """The command of a topic, its help and its options as the entry says."""
    made = TopicCommand(topic.name, callback=partial(_run, topic), help=topic.summary)
    made.topic = topic
    job_argument(made)
    for option in topic.options:
        _option(option)(made)
    for other in topic.instead:
        click.option(f"--{other.name}", is_flag=True, help=other.help)(made)
    if topic.copy:
        click.option("--write", metavar="FILE", type=PATH, help=topic.copy.help)(made)
    return json_option(made)


def help_text(topic: Topic) -> str:
    """What ``--help`` says: the summary, worked examples, what is worth knowing, and the JSON keys."""
    first, *others = topic.examples
    shown = "\n".join([f"Example:  {first}", *(f"          {other}" for other in others)])
    blocks = [topic.summary, f"\b\n{shown}", topic.about, f"JSON keys: {_json_keys(topic)}"]
    return "\n\n".join(block for block in blocks if block)


def _json_keys(topic: Topic) -> str:
    from planner.words.findings import Finding

    lists = {f"tables.{name}": keys for name, keys in topic.columns.items()}
    lists |= {more.key: more.keys for more in topic.records}
    lists["findings"] = tuple(one.name for one in fields(Finding))
    named = [f"{name}[] ({', '.join(keys)})" for name, keys in lists.items()]
    if topic.copy:
        named.append("written (the copy, or null)")
    text = (
        ", ".join(
            [f'format ("{format_name(topic.name, topic.number)}")', "job", 'lengths ("mm")', *named]
        )
        + "."
    )
    for other in topic.instead:
        only = [f'format ("{format_name(other.name, other.number)}")', *other.keys[1:]]
        text += f" With --{other.name} only: {', '.join(only)}."
    return text


def _option(option: Option) -> Callable[[click.Command], click.Command]:
    if option.default is False:
        return click.option(f"--{option.name}", is_flag=True, help=option.help)
    return click.option(
        f"--{option.name}",
        default=option.default,
        show_default=option.default is not None,
        type=click.Choice(option.choices) if option.choices else None,
        metavar=option.metavar,
        help=option.help,
    )


def _run(
    topic: Topic, job: Path, as_json: bool, write: Path | None = None, **given: Any
) -> NoReturn:
    asked = topic.asked(given)
    with bad_input_told(as_json):
        for other in topic.instead:
            if given[other.name]:
                _reply(other, job, as_json)
        plan = topic.plan(job, asked)
        record = topic.record(plan, asked) if as_json else {}
        text = "" if as_json else topic.printed(plan, {**asked, "wide": wide()})
        found = topic.all_findings(plan, asked)
        if topic.copy and write is not None:
            _write_copy(topic.copy, plan, asked, write)
    if as_json:
        say_json(record | ({"written": write and str(write)} if topic.copy else {}))
    else:
        say(text)
        if write is not None:
            tell(f"wrote {write}")
    finish(found, topic.stops)


def _reply(other: Instead, job: Path, as_json: bool) -> NoReturn:
    reply = other.answer(job)
    if as_json:
        record = {"format": format_name(other.name, other.number)} | reply.record
        say_json(record | {"findings": [one.as_dict() for one in reply.findings]})
    else:
        say(reply.text)
    if reply.clean:
        finish(reply.findings)
    for one in reply.findings:
        tell(one.message)
    sys.exit(FINDINGS)


def _write_copy(copy: Copy, plan: Plan, asked: Asked, path: Path) -> None:
    from planner.job.template import write_new
    from planner.stock.jobcopy import CannotCopy
    from planner.words.findings import BadInput, finding

    try:
        text = copy.changed(plan, asked, Path(plan.file).read_bytes().decode("utf-8"))
    except CannotCopy as error:
        stop = finding("job-copy", plan.file, "", "", str(error), copy.by_hand)
        raise BadInput([stop]) from None
    write_new(path, text)
