"""Whether this computer has what pommel needs: what ``pommel ready`` looks at, and what helps.

Each look is a function that returns what it found. The kernel is loaded in a process of its own, so
that one that breaks there breaks nothing here.
"""

from __future__ import annotations

import importlib.metadata
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from planner.output.caches import caches_away

LEAST_PYTHON = (3, 11)
"""As requires-python of pyproject.toml."""

WIDE = 100
"""Columns a terminal has room for when no table of the usual commands is broken."""

ROOM_MB = 50
"""Free space that one package and its making take with plenty to spare, in 10^6 bytes."""

LETTERS = "Ø±°×µ"
"""Letters of the sheets that are not ASCII."""


class Look(NamedTuple):
    """One thing looked at.

    what: its name. found: what is there. right: whether that will do. needed: whether pommel cannot
    work without; else it only serves less well. remedy: the command or step that mends it.
    """

    what: str
    found: str
    right: bool
    needed: bool
    remedy: str


def looks() -> Iterator[Look]:
    """Everything there is to look at, on this computer, in this folder."""
    yield python_look(sys.version_info[:3])
    yield from library_looks(required())
    yield kernel_look()
    yield pdf_look()
    yield watch_look()
    yield fonts_look(font_folders())
    yield browser_look()
    yield folder_look("this folder", Path.cwd())
    yield folder_look("folder for temporary files", Path(tempfile.gettempdir()))
    yield letters_look(sys.stdout.encoding or "")
    yield width_look(shutil.get_terminal_size().columns if sys.stdout.isatty() else None)


def python_look(version: tuple[int, ...]) -> Look:
    """Whether Python is new enough."""
    found = ".".join(map(str, version))
    least = ".".join(map(str, LEAST_PYTHON))
    remedy = f"Install Python {least} or newer: apt-get install python3, or from python.org"
    return Look("Python", found, version >= LEAST_PYTHON, True, remedy)


def required() -> list[str]:
    """What the installed program asks for, as "cadquery<2.9,>=2.8"; [] when it is not installed."""
    try:
        asked = importlib.metadata.requires("pommel") or []
    except importlib.metadata.PackageNotFoundError:
        return []
    return [one for one in asked if "extra ==" not in one]


def library_looks(asked: Iterable[str]) -> Iterator[Look]:
    """Whether each library is there in a version that will do; asked: as ``required`` has them."""
    asked = list(asked)
    if not asked:
        remedy = f"In the folder of pommel: {sys.executable} -m pip install -e ."
        yield Look("pommel", "not installed, run from its folder", False, False, remedy)
    for one in asked:
        name, bounds = re.findall(r"^([\w.-]+)\s*(.*)$", one.split(";")[0].strip())[0]
        remedy = f'{sys.executable} -m pip install "{name}{bounds}"'
        try:
            version = importlib.metadata.version(name)
        except importlib.metadata.PackageNotFoundError:
            yield Look(name, "not installed", False, True, remedy)
            continue
        yield Look(name, version, within(version, bounds), True, remedy)


def within(version: str, bounds: str) -> bool:
    """Whether a version lies in bounds such as "<2.9,>=2.8", by the numbers at its beginning.

    >>> within("2.8.1", "<2.9,>=2.8"), within("2.10", "<2.9,>=2.8")
    (True, False)
    """
    number = _numbers(version)
    for sign, edge in re.findall(r"(<=|>=|==|<|>)\s*([\w.]+)", bounds):
        bound = _numbers(edge)
        wide = max(len(number), len(bound))
        a = number + (0,) * (wide - len(number))
        b = bound + (0,) * (wide - len(bound))
        right = {"<": a < b, "<=": a <= b, "==": a == b, ">=": a >= b, ">": a > b}[sign]
        if not right:
            return False
    return True


def _numbers(version: str) -> tuple[int, ...]:
    first = re.match(r"\d+(?:\.\d+)*", version)
    return tuple(map(int, first[0].split("."))) if first else ()


LOAD_KERNEL = "from planner.solids.kernel import kernel; print(kernel().__version__)"


def kernel_look(script: str = LOAD_KERNEL) -> Look:
    """Whether the CAD kernel loads; script: Python that loads it and prints its version."""
    what = "CAD kernel"
    pip = f"{sys.executable} -m pip install --force-reinstall cadquery"
    root = str(Path(__file__).parents[2])
    path = os.pathsep.join([root, os.environ.get("PYTHONPATH", "")])
    try:
        with caches_away():
            done = subprocess.run(
                [sys.executable, "-c", script],
                capture_output=True,
                text=True,
                errors="replace",
                timeout=300,
                check=False,
                env={**os.environ, "PYTHONPATH": path},
            )
    except subprocess.TimeoutExpired:
        return Look(what, "does not end loading", False, True, pip)
    if done.returncode == 0:
        return Look(what, f"loads, {done.stdout.strip()}", True, True, pip)
    if done.returncode < 0:
        return Look(what, f"breaks by signal {-done.returncode} while loading", False, True, pip)
    lines = done.stderr.strip().splitlines()
    remedy = "apt-get install libgl1" if "libGL" in done.stderr else pip
    return Look(what, f"does not load: {lines[-1] if lines else 'no reason'}", False, True, remedy)


def pdf_look() -> Look:
    """Whether sheets can be written as PDF."""
    from planner.drawing.pdf import BOUNDS, NEEDS

    what, remedy = "PDF of the sheets", f'{sys.executable} -m pip install "{NEEDS}{BOUNDS}"'
    try:
        version = importlib.metadata.version(NEEDS)
    except importlib.metadata.PackageNotFoundError:
        return Look(what, f"{NEEDS} not installed", False, False, remedy)
    return Look(what, f"{NEEDS} {version}", within(version, BOUNDS), False, remedy)


def watch_look() -> Look:
    """Whether a job can be watched by pommel build --watch."""
    from planner.output.live import BOUNDS, NEEDS

    what, remedy = "watching a job", f'{sys.executable} -m pip install "{NEEDS}{BOUNDS}"'
    try:
        version = importlib.metadata.version(NEEDS)
    except importlib.metadata.PackageNotFoundError:
        return Look(what, f"{NEEDS} not installed", False, False, remedy)
    return Look(what, f"{NEEDS} {version}", within(version, BOUNDS), False, remedy)


def font_folders() -> list[Path]:
    """Where fonts lie on this system."""
    if sys.platform == "win32":
        return [Path(os.environ.get("WINDIR", "C:/Windows")) / "Fonts"]
    if sys.platform == "darwin":
        return [Path("/System/Library/Fonts"), Path("/Library/Fonts")]
    home = Path.home()
    return [Path("/usr/share/fonts"), Path("/usr/local/share/fonts"), home / ".local/share/fonts"]


def fonts_look(folders: Iterable[Path]) -> Look:
    """Whether there is any font to letter the pictures with."""
    remedy = "apt-get install fonts-dejavu-core"
    for folder in folders:
        for kind in ("*.ttf", "*.otf", "*.ttc"):
            first = next(folder.rglob(kind), None) if folder.is_dir() else None
            if first:
                return Look("fonts for lettering", first.name, True, False, remedy)
    return Look("fonts for lettering", "none found", False, False, remedy)


def browser_look() -> Look:
    """Whether there is a browser to open the pictures in."""
    import webbrowser

    remedy = "apt-get install firefox-esr, or open the pictures (SVG) on another computer"
    try:
        found = getattr(webbrowser.get(), "name", "found")
    except webbrowser.Error:
        return Look("browser for pictures", "none found", False, False, remedy)
    return Look("browser for pictures", str(found), True, False, remedy)


def folder_look(what: str, folder: Path) -> Look:
    """Whether files can be written to a folder, and enough of them."""
    remedy = f'chmod u+w "{folder}", or work in a folder of your own'
    try:
        with tempfile.TemporaryFile(dir=folder) as file:
            file.write(b"pommel")
        free = shutil.disk_usage(folder).free / 1e6
    except OSError as error:
        return Look(what, f"{folder} cannot be written ({error.strerror})", False, True, remedy)
    if free < ROOM_MB:
        remedy = f"Make room: {ROOM_MB} MB are wanted"
        return Look(what, f"{folder}: {free:.0f} MB free", False, True, remedy)
    return Look(what, f"{folder} can be written", True, True, remedy)


def letters_look(encoding: str) -> Look:
    """Whether what is printed may hold the letters of the sheets."""
    remedy = "export PYTHONUTF8=1 LC_ALL=C.UTF-8 (Windows: set PYTHONUTF8=1)"
    try:
        LETTERS.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        found = f"{encoding or 'unknown'}, which lacks the signs for diameter and degrees"
        return Look("letters printed", found, False, True, remedy)
    return Look("letters printed", encoding, True, True, remedy)


def width_look(columns: int | None) -> Look:
    """Whether a terminal is wide enough for the tables; columns: None off a terminal."""
    remedy = f"Widen the window to {WIDE} columns, or: pommel route JOB | less -S"
    if columns is None:
        return Look("width", "no terminal: nothing is broken", True, False, remedy)
    return Look("width", f"{columns} columns", columns >= WIDE, False, remedy)
