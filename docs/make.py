"""Make the pages of docs/ that are read off the program: ``python -m docs.make``.

One page a command and one of the package, of findings, of tables, an index, and the pictures. A test
makes them in memory and compares; docs/first-ball.md alone is written by hand.
"""

from __future__ import annotations

import inspect
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import click

from docs import draw
from planner.cli.main import main
from planner.output.listing import KINDS
from planner.output.plan import Plan
from planner.output.topic import Topic
from planner.output.topics import TOPICS
from planner.words.register import page as findings_page

FOLDER = Path(__file__).parent
EXAMPLE = FOLDER.parent / "examples" / "bench-lathe.toml"
SHOTS = ("attachment-apart", "attachment-sweep-top")
"""The pictures of planner.scene that the README shows."""

MADE = "This page is made by `python -m docs.make`; do not edit it."


def pages(plan: Plan) -> Iterator[tuple[str, str]]:
    """Every made page: its path in docs/ and its text. plan: the example's, for what it brings."""
    context = click.Context(main, info_name="pommel")
    commands = {name: main.get_command(context, name) for name in main.list_commands(context)}
    found = {name: command for name, command in commands.items() if command is not None}
    yield "README.md", index(found)
    for name, command in found.items():
        yield f"commands/{name}.md", command_page(name, command, plan)
    yield "findings.md", findings_page()
    yield "tables.md", tables_page()
    yield "package.md", package_page(plan)
    yield "pictures/attachment.svg", draw.attachment(plan)
    yield "pictures/sweep.svg", draw.sweep(plan)
    yield "pictures/measuring.svg", draw.measuring(plan.job)


def shots(plan: Plan) -> Iterator[tuple[str, bytes]]:
    """The PNG pictures that the README shows: their paths in docs/ and their bytes."""
    from planner.output.page_files import scenes
    from planner.scene.pictures import shots

    alone, on_lathe = scenes(plan)
    for shot in shots(alone, on_lathe[0][1]):
        if shot.name in SHOTS:
            yield f"pictures/{shot.name}.png", shot.draw()


def index(commands: dict[str, click.Command]) -> str:
    """The page to begin at."""
    lines = [
        "# The documentation",
        "",
        MADE,
        "",
        "- [From a bare lathe to the first ball](first-ball.md)",
        "- [The package and its files](package.md)",
        "- [Findings](findings.md): what each code means and what helps",
        "- [Tables](tables.md): materials, sections, threads and the rest, with their sources",
        "- [For developers](../DEVELOPERS.md)",
        "",
        "Pictures: [the attachment](pictures/attachment.svg), [a sweep](pictures/sweep.svg),",
        "[where to measure](pictures/measuring.svg).",
        "",
        "## Commands",
        "",
    ]
    for name, command in commands.items():
        lines.append(f"- [pommel {name}](commands/{name}.md): {summary(command)}")
    return "\n".join(lines) + "\n"


def whole_help(command: click.Command) -> str:
    """A command's long help, as its source has it."""
    made = getattr(command, "whole_help", None)
    return inspect.cleandoc(made() if made else command.help or "")


def summary(command: click.Command) -> str:
    """The first sentence of a command's help."""
    return " ".join(whole_help(command).split("\n\n")[0].split())


def command_page(name: str, command: click.Command, plan: Plan) -> str:
    """One command: its help, its options, and what it brings to the package."""
    blocks = [f"# pommel {name}", MADE, *map(_block, whole_help(command).split("\n\n"))]
    context = click.Context(command, info_name=f"pommel {name}")
    usage = " ".join(command.collect_usage_pieces(context))
    blocks.insert(2, f"    pommel {name} {usage}")
    rows = []
    for option in command.params:
        if isinstance(option, click.Option):
            flags = " / ".join([*option.opts, *option.secondary_opts])
            kind = option.type
            value = "/".join(kind.choices) if isinstance(kind, click.Choice) else option.metavar
            value = value or ("" if option.is_flag else "TEXT")
            default = option.default if isinstance(option.default, str) else ""
            rows.append(f"| `{flags}` | {value} | {option.help or ''} | {default} |")
    if rows:
        blocks.append("## Options")
        head = ["| option | value | what it does | else |", "|---|---|---|---|"]
        blocks.append("\n".join(head + rows))
    for topic in TOPICS:
        if topic.name == name:
            blocks += ["## In the package", _files(topic, plan)]
    return "\n\n".join(blocks) + "\n"


def _block(text: str) -> str:
    """A paragraph of help as Markdown: lines that are kept as they stand become code."""
    if not text.startswith("\b"):
        return " ".join(text.split())
    lines = text.removeprefix("\b").strip("\n").splitlines()
    return "\n".join(f"    {line}" for line in lines)


def _files(topic: Topic, plan: Plan) -> str:
    """What a topic brings to the example's package."""
    head = ["| file | what |", "|---|---|"]
    return "\n".join(
        head + [f"| `{file.path}` | {file.what} |" for file in topic.files(topic, plan)]
    )


def package_page(plan: Plan) -> str:
    """Every file of the example's package, by topic."""
    blocks = ["# The package", MADE, f"What `pommel build examples/{plan.job.name}.toml` writes:"]
    for topic in TOPICS:
        blocks += [f"## {topic.name}", topic.summary, _files(topic, plan)]
    blocks.append("`package.json` lists every file with its size and hash.")
    return "\n\n".join(blocks) + "\n"


def tables_page() -> str:
    """What ``pommel list`` shows: the kinds, their keys, how many rows, and every source."""
    lines = ["# Tables", "", MADE, "", "`pommel list KIND` prints each; filters are in its help."]
    for kind in KINDS:
        rows = kind.rows()
        marks = Counter(row.mark for row in rows)
        lines += ["", f"## {kind.name}", "", f"{kind.about} {len(rows)} rows.", ""]
        lines += ["Keys: " + ", ".join(f"`{key}`" for key in kind.keys) + ".", ""]
        lines += ["Marks: " + ", ".join(f"{mark} {n}" for mark, n in marks.items()) + ".", ""]
        lines += [f"- {source}" for source in dict.fromkeys(row.source for row in rows)]
    return "\n".join(lines) + "\n"


def write() -> None:
    """Write every made page, and take away those of commands that are gone."""
    kept = set()
    for name, text in pages(Plan(EXAMPLE)):
        path = FOLDER / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        kept.add(path)
    for name, picture in shots(Plan(EXAMPLE)):
        (FOLDER / name).write_bytes(picture)
    for old in set((FOLDER / "commands").glob("*.md")) - kept:
        old.unlink()


if __name__ == "__main__":
    write()
