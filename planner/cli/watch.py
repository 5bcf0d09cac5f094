"""``pommel build JOB --watch``: built again whenever what it is made from was saved.

``rounds`` is the order of it, without a clock; ``Saves`` waits for a save by the library watchfiles.
Imported by cli.build.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from queue import SimpleQueue
from typing import Any, NoReturn

from msgspec.structs import replace

from planner.words.findings import BadInput

STEP_MS, GATHERED_MS, LOOK_MS = 150, 1500, 2000
"""A save is taken when nothing more came for STEP, or for GATHERED at the latest; the files are looked
at every LOOK, for a folder that tells of no save (another computer's) or that came only now."""


def rounds(
    build: Callable[[], None], seen: Callable[[], Any], wait: Callable[[], None]
) -> NoReturn:
    """Build, then whenever what is seen is other than it was before the last build.

    seen: what a build is made from, as hashes; wait: returns when it may be other. What changes while
    a build runs makes one more, however often. Ends by what one of the three raises.
    """
    while True:
        before = seen()
        build()
        while seen() == before:
            wait()


class Saves:
    """Tells when something in a few folders was saved; those that are not there are left out.

    folders: asked anew each time. Used as a context, so that its thread ends.
    """

    def __init__(self, folders: Callable[[], tuple[Path, ...]]) -> None:
        import watchfiles

        self._watch, self._folders = watchfiles.watch, folders
        self._told: SimpleQueue[None] = SimpleQueue()
        self._end = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> Saves:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._end.set()
        self._thread.join()

    def wait(self) -> None:
        """Until something was saved, or may have been; several saves are told as one."""
        self._told.get()  # in a thread of its own it is looked, so that ctrl-C is heard here
        while not self._told.empty():
            self._told.get()

    def _look(self) -> None:
        while not self._end.is_set():
            there = self._there()
            try:
                for _ in self._watch(
                    *there,
                    watch_filter=None,
                    debounce=GATHERED_MS,
                    step=STEP_MS,
                    rust_timeout=LOOK_MS,
                    yield_on_timeout=True,
                    recursive=False,
                    stop_event=self._end,
                ):
                    self._told.put(None)
                    if self._there() != there:
                        break
            except OSError:  # a folder went just now
                self._end.wait(LOOK_MS / 1000)
                self._told.put(None)

    def _there(self) -> tuple[Path, ...]:
        return tuple(one for one in self._folders() if one.is_dir())


def watched(
    job: Path, build: Callable[[], tuple[Path, dict[str, Any]]], told: Callable[..., None]
) -> NoReturn:
    """Build and build again, and show in the browser what came of it, until ctrl-C.

    build: writes the package; returns its folder and manifest, raises BadInput. told: says what was
    built, or with findings alone what was not. Raises BadInput where the job is not there at all.
    """
    from planner.cli.answer import tell
    from planner.job.lines import located
    from planner.output.live import Served, Shown
    from planner.output.package import read_files, read_hashes
    from planner.output.page_files import PAGE

    def folders() -> tuple[Path, ...]:
        near = [one.absolute().parent for one in read_files(job)]
        real = [
            one.resolve().parent for one in read_files(job)
        ]  # what a link leads to is saved there
        return tuple(dict.fromkeys([*near, *real]))

    served = Served(Shown(job.name))

    def once() -> None:
        served.shown = replace(served.shown, state="building", findings=())
        try:
            folder, manifest = build()
        except BadInput as error:
            found = located(error.findings)
            served.shown = replace(served.shown, state="broken", findings=tuple(found))
            told(found)
        else:
            served.shown = Shown(job.name, "built", (folder / PAGE).read_bytes())
            told((), folder, manifest)

    if not job.is_file():
        build()  # raises what is said of it
    with Saves(folders) as saves, served.up():
        tell(f"watching {job}: open {served.address} in a browser; ctrl-C ends it")
        rounds(once, lambda: read_hashes(job), saves.wait)
