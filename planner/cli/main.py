"""The commands together, and the console script."""

from __future__ import annotations

import atexit
import gc
import os
import sys
from contextlib import suppress
from importlib import import_module

import click

from planner import __version__
from planner.words.short import begun

OWN = ("build", "correct", "draw", "explain", "list", "new", "ready", "record", "schema")
"""Commands that are no topic, each the function of its name in the module of its name."""


KERNEL = ("cadquery", "cadquery-ocp")
"""The distributions that make the CAD kernel."""


def _version(ctx: click.Context, _param: click.Parameter, asked: bool) -> None:
    """Print what --version says: pommel, the kernel (as installed, not loaded), the formats."""
    if not asked or ctx.resilient_parsing:
        return
    from importlib.metadata import PackageNotFoundError, version

    from planner.output.schemas import FILES, outputs

    click.echo(f"pommel, version {__version__}")
    for name in KERNEL:
        try:
            click.echo(f"{name} {version(name)}")
        except PackageNotFoundError:
            click.echo(f"{name} is not installed")
    read = ", ".join(f"{name} {', '.join(map(str, file.numbers))}" for name, file in FILES.items())
    click.echo(f"formats read: {read}")
    click.echo(f"formats of JSON: {', '.join(f'{name} {n}' for name, n in outputs().items())}")
    ctx.exit()


class Commands(click.Group):
    """The commands of OWN and of the topics; a module is loaded when its command is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands."""
        from planner.output.topics import TOPICS

        return sorted([*OWN, *(topic.name for topic in TOPICS if topic.columns)])

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name; None when there is none."""
        if cmd_name in OWN:
            made: click.Command = getattr(import_module(f"planner.cli.{cmd_name}"), cmd_name)
            return made
        if cmd_name not in self.list_commands(ctx):
            return None
        from planner.cli.topics import command
        from planner.output.topics import topic

        return command(topic(cmd_name))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the words name; where there is none, the one that was perhaps meant."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError:
            from difflib import get_close_matches

            word = args[0]
            near = get_close_matches(word, self.list_commands(ctx), 1)
            shown = begun(word, 60)
            said = f"No such command: {shown}."
            if word.endswith(".toml"):
                said += f" A command stands before the file: pommel check {shown}"
            elif word.lower() == "help":
                said += " Write: pommel --help"
            elif near:
                said += f" Did you mean {near[0]}?"
            raise click.UsageError(said, ctx) from None


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with: pommel new my-lathe.toml",
)
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_version,
    help="Show the versions of pommel, its CAD kernel and its formats, and exit.",
)
def main() -> None:
    """Plan the building of a ball-turning attachment for your lathe, from one job file.

    \b
    pommel new my-lathe.toml      a commented job file to fill in
    pommel sizes my-lathe.toml    every size, and what the swing needs
    pommel check my-lathe.toml    will it clear, will it hold, how much will it bend
    pommel build my-lathe.toml    the whole package into exports/my-lathe/
    pommel draw my-lathe.toml     a drawing of every part, to print
    pommel turn my-lathe.toml     setting up and turning each ball
    pommel correct my-lathe.toml readings.toml    what a measured ball says to move
    pommel record my-lathe.toml   what was made of it so far, as measured
    pommel list threads           what names and sizes there are, and where they come from
    pommel ready                  whether this computer has all that is needed

    Exit code: 0 clean, 1 something to look at first, 2 the input will not do.
    """


def run() -> None:
    """The console script: the commands in the outermost net.

    A command is short: it collects garbage rarely and not at its end, where all goes with the process
    (a tenth of a short command), and lets pydantic look for no plug-ins. Its books and matrices are
    small: typst and numpy's BLAS work in one thread, for a book with a tenth less work and no slower.
    """
    from planner.cli.net import Terminated, caught, listen, put_off, stopped

    gc.set_threshold(500_000, 50, 50)
    atexit.register(gc.freeze)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "true")
    os.environ.setdefault("RAYON_NUM_THREADS", "1")
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    words = sys.argv[1:]
    listen()
    try:
        with put_off():
            _loaded_early(words)
    except (KeyboardInterrupt, Terminated) as stop:
        sys.exit(stopped(stop))
    if "_POMMEL_COMPLETE" in os.environ:  # a shell asks what may follow
        main(prog_name="pommel")
    sys.exit(caught(main, "pommel", words))


def _loaded_early(words: list[str]) -> None:
    """Load what a topic's command works with before click stands on the stack.

    Deep in calls the same imports cost up to 0.07 s more: where the stack of Python 3.11 comes to the
    end of a block, each call past it takes a new one.
    """
    if len(words) > 1 and words[0] not in OWN and not {"-h", "--help"} & set(words):
        with suppress(ModuleNotFoundError):  # met again by the command, in its net
            import planner.output.plan  # noqa: F401

            gc.freeze()  # what is loaded stays: it is not looked through again
