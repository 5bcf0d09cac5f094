"""The outermost net: whatever goes wrong, the program ends in words and with its exit code.

Only the console script runs in it. The tests call the commands without, so that a fault shows.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

import click

from planner import __version__
from planner.cli.answer import BAD_INPUT, CLEAN, findings_record, mute, say_json, tell
from planner.words.short import begun, printed

if TYPE_CHECKING:  # help needs it not
    from planner.words.findings import Finding

LONGEST_USAGE = 250
"""Signs of what is told of a command line that cannot be read."""

INTERRUPTED, TERMINATED = 130, 143
"""Exit codes after ctrl-C and after SIGTERM: 128 and the signal's number, as shells have it."""


class Terminated(BaseException):
    """The system asks the program to end (SIGTERM): it puts its things in order first, as at ctrl-C."""


_heard: list[int] = []
"""The signals that came: a library in between may make an error of its own of what they raise."""


_put_off: list[bool] = []
"""Not empty while what a signal raises is put off."""


def _stop(number: int, _frame: FrameType | None) -> None:
    _heard.append(number)
    if not _put_off:
        raise _heard_stop()


def _heard_stop() -> BaseException:
    return Terminated() if _heard[0] == signal.SIGTERM else KeyboardInterrupt()


@contextmanager
def put_off() -> Iterator[None]:
    """What a signal raises meanwhile is raised at the end: as libraries are loaded they make errors of
    their own of it, or the interpreter drops it. Raises Terminated or KeyboardInterrupt."""
    _put_off.append(True)
    try:
        yield
    finally:
        _put_off.clear()
        if _heard:
            raise _heard_stop()


def listen() -> None:
    """From here on SIGTERM raises Terminated and ctrl-C KeyboardInterrupt, and that they came is kept.

    Where ctrl-C is ignored, as by a shell in what it starts in the background, it stays so.
    """
    _heard.clear()
    signal.signal(signal.SIGTERM, _stop)
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, _stop)


def deaf() -> None:
    """The command is over: a signal now ends the program as the system does, with nothing to tidy."""
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, signal.SIG_DFL)


def stopped(stop: BaseException) -> int:
    """Tell in one word that a signal ended the program; returns the exit code."""
    terminated = isinstance(stop, Terminated)
    tell("terminated" if terminated else "interrupted")
    return TERMINATED if terminated else INTERRUPTED


def caught(group: click.Group, name: str, words: Sequence[str]) -> int:
    """Run a command and return its exit code; an unexpected exception is told as internal-error,
    a library that is not there as library-missing.

    name: of the program; words: of the command line after it. SystemExit, by which the commands end,
    goes through.
    """
    try:
        with group.make_context(name, list(words)) as context:
            group.invoke(context)
    except click.exceptions.Exit as end:
        return end.exit_code
    except click.ClickException as error:
        if isinstance(error, click.UsageError):
            said = begun(printed(error.format_message()), LONGEST_USAGE)
            said += _dashed(words, error.ctx)
            error = click.UsageError(said, error.ctx)
        error.show()
        return error.exit_code
    except (KeyboardInterrupt, click.Abort, Terminated) as stop:
        return stopped(stop)
    except BrokenPipeError:
        mute(sys.stdout)
    except Exception as error:
        if _heard:
            return stopped(_heard_stop())
        found = library_missing(error) or internal_error(error, [name, *words])
        tell(found.message)
        if "--json" in words:
            say_json(findings_record([found]))
        return BAD_INPUT
    finally:
        deaf()
    return CLEAN


def _dashed(words: Sequence[str], context: click.Context | None) -> str:
    """What a word was perhaps meant as that begins with one dash, or with one of a word processor."""
    known = {opt for one in context.command.params for opt in one.opts} if context else set()
    for word in words:
        if word[:1] not in "-−–—‐‑":
            continue
        meant = f"--{word.lstrip('-−–—‐‑')}"
        if not word.startswith("--") and meant in known:
            return f" Write {meant} with two dashes of the keyboard."
    return ""


def library_missing(error: Exception) -> Finding | None:
    """The finding of a library that is not installed; None for any other error."""
    if not isinstance(error, ModuleNotFoundError) or not error.name:
        return None
    library = error.name.partition(".")[0]
    if library in ("planner", "parts"):
        return None
    from planner.words.findings import finding

    remedy = f"Install it: {sys.executable} -m pip install {library}; then: pommel ready"
    limit = "this command needs it"
    return finding("library-missing", "pommel", library, "not installed", limit, remedy)


def internal_error(error: Exception, words: Sequence[str]) -> Finding:
    """The finding of a fault of the program's own, its traceback written to a file.

    words: the command line, for the file. The file lies in the system's folder for temporary files,
    never in a folder of the user's; where there is none, the traceback goes to stderr.
    """
    import platform
    import traceback

    from planner.words.findings import finding

    trace = "".join(traceback.format_exception(error))
    about = f"pommel {__version__}, Python {platform.python_version()}: {' '.join(words)}\n\n"
    what = "".join(traceback.format_exception_only(error)).strip().splitlines()[-1]
    try:
        path = _kept(about + trace)
        place, send = f"its traceback is in {path}", "that file"
    except OSError:
        tell(trace)
        place, send = "its traceback stands above", "it"
    limit = f"a fault of pommel, not of the input; {place}"
    remedy = f"Send {send} with the job to those who keep pommel"
    return finding("internal-error", "pommel", "", what, limit, remedy)


def _kept(text: str) -> Path:
    """Write a new file for temporary things and return its path. Raises OSError."""
    import tempfile

    folder = tempfile.gettempdir()
    if "TMPDIR" not in os.environ and Path(folder) == Path.cwd():
        raise OSError("no folder for temporary files")  # Python then takes the user's own
    number, name = tempfile.mkstemp(prefix="pommel-", suffix=".txt", dir=folder)
    with open(number, "w", encoding="utf-8", errors="backslashreplace") as out:
        out.write(text)
    return Path(name)
