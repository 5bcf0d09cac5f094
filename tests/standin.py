"""A stand-in for a job and its topics: a package of a few small files, made in a moment.

For the tests of how a package is written, which must write very many. Run as a script it builds one:

    python standin.py JOB TARGET [VERSION]

It prints "ready" when all is loaded, then builds, in the outermost net as the console script does.
"""

from __future__ import annotations

import errno
import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from planner.output.package import build as write_package
from planner.output.topic import File, Topic

MODULES = [f"planner.output.package.{name}" for name in ("write", "origin")]


class Job:
    """What a build asks of a plan, and how often the slow file was made."""

    def __init__(self, file: Path, version: str = "one", shape: str = "round") -> None:
        self.file, self.version, self.shape = str(file), version, shape
        self.job = SimpleNamespace(name="stand-in")
        self.attachment = shape
        self.made = 0

    def topics(self) -> tuple[Topic, ...]:
        """Two topics: texts and a table, and what stands for solids."""

        def slow(path: Path) -> None:
            self.made += 1
            path.write_text(f"solid {self.shape}\n", encoding="utf-8")

        def texts(_topic: Topic, _plan: Any) -> Iterator[File]:
            yield File("a.txt", "a text", f"text {self.version}\n")
            yield File("tables/b.csv", "a table", f"b\n{self.version}\n")

        def solids(_topic: Topic, _plan: Any) -> Iterator[File]:
            yield File("solids/c.step", "a solid", slow)

        return (
            Topic(name="texts", summary="Print a text.", first="a.txt", files=texts),
            Topic(
                name="solids",
                summary="Solids.",
                needs="solids",
                files=solids,
                made_of=lambda plan: plan.shape,
            ),
        )


def install(job: Job, patch: Callable[[str, Any], None]) -> None:
    """Put the stand-in in place of the topics; patch: sets what has a dotted name."""
    for module in MODULES:
        patch(f"{module}.TOPICS", job.topics())
    patch("os.fsync", no_wait)
    patch("planner.output.package.write.build_findings", lambda _plan: ())
    patch("planner.output.package.write._check_solids", lambda _plan, _tell: None)


def set_for_good(name: str, value: Any) -> None:
    """Set what has a dotted name, in a process that ends soon."""
    module, _, attribute = name.rpartition(".")
    setattr(sys.modules[module], attribute, value)


def build(job: Job, target: Path, **asked: Any) -> dict[str, Any]:
    """Build it; nobody reads the progress."""
    return write_package(job, target, lambda _text: None, **asked)  # type: ignore[arg-type]


STEPS = ("mkdir", "rename", "replace", "open", "write", "fsync", "unlink", "rmdir", "scandir")
"""What a build asks of the system, by its name in ``os``; the files' own opening comes besides."""


class Steps:
    """Every step a build takes in the file system, counted; before one of them something happens.

    at: the number of the step, from 1.
    """

    def __init__(self, at: int, what: Callable[[], None]) -> None:
        self.at, self.what, self.count = at, what, 0

    def install(self, patch: Callable[[str, Any], None]) -> None:
        """Put the counting in place of the system's own."""
        import fcntl
        import io
        import shutil

        import planner.output.package.swap

        for module, name in (
            *((os, name) for name in STEPS),
            (io, "open"),
            (fcntl, "flock"),
            (shutil, "rmtree"),
            (planner.output.package.swap, "exchanged"),
        ):
            real = no_wait if name == "fsync" else getattr(module, name)
            patch(f"{module.__name__}.{name}", self.counting(real))

    def counting(self, real: Callable[..., Any]) -> Callable[..., Any]:
        """A function of the system's, counted."""

        def step(*given: Any, **named: Any) -> Any:
            self.count += 1
            if self.count == self.at:
                self.what()
            return real(*given, **named)

        return step


def no_wait(_number: int) -> None:
    """In place of os.fsync, whose waiting for the disk no test can see."""


def kills_itself(number: signal.Signals) -> Callable[[], None]:
    """The process sends itself a signal."""
    return lambda: os.kill(os.getpid(), number)


def full_disk() -> None:
    """There is no room left on the disk."""
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def no_permission() -> None:
    """The permission has been taken away."""
    raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))


class Command:
    """The build as the outermost net runs a command."""

    def __init__(self, job: Job, target: Path) -> None:
        self.job, self.target = job, target

    def make_context(self, _name: str, _words: list[str]) -> AbstractContextManager[None]:
        return nullcontext()

    def invoke(self, _context: None) -> None:
        from planner.cli.answer import bad_input_told

        with bad_input_told(False):
            build(self.job, self.target)


def command(job: Job, target: Path) -> int:
    """The build in the outermost net: its exit code."""
    from planner.cli.net import caught, listen

    listen()
    try:
        return caught(Command(job, target), "stand-in", [])  # type: ignore[arg-type]
    except SystemExit as end:
        return int(end.code or 0)


if __name__ == "__main__":
    words = sys.argv[1:]
    stand_in = Job(Path(words[0]), *words[2:])
    install(stand_in, set_for_good)
    import planner.nest.model  # noqa: F401  # what a build loads on its way

    print("ready", flush=True)
    sys.exit(command(stand_in, Path(words[1])))
