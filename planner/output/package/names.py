"""Names of files and folders that every system takes: Windows, macOS and Linux."""

from __future__ import annotations

import re
from collections.abc import Iterable

RESERVED = frozenset(
    ["con", "prn", "aux", "nul"]
    + [f"{port}{number}" for port in ("com", "lpt") for number in range(10)]
)
"""Devices of Windows, in any case and with any ending (its rules for naming files, from memory)."""

LONGEST = 120
"""Characters of a name: well under the 255 of the usual file systems, so that a path stays short."""


LETTERS = r"[A-Za-z0-9 ._-]+"
"""What a package's own names are made of."""


def unsafe(path: str, letters: str = LETTERS) -> str:
    """Why a path's names are not safe everywhere, in words; "" when they are.

    path: relative, its folders parted by "/"; letters: a pattern of what a name may be made of. A safe
    name has no space or dot at either end, is no device of Windows and no longer than LONGEST.
    """
    for name in path.split("/"):
        if not re.fullmatch(letters, name):
            return "only letters, digits, space, dot, hyphen and underscore are safe in a name"
        if name.strip(" .") != name:
            return "a name may not begin or end with a dot or a space"
        if name.split(".")[0].strip().lower() in RESERVED:
            return "Windows keeps that name for a device"
        if len(name) > LONGEST:
            return f"longer than {LONGEST} characters"
    return ""


def clashing(paths: Iterable[str]) -> list[str]:
    """The paths that another one is the same as where upper and lower case are one.

    A folder counts too: a file may not be called what another file's folder is.
    """
    spelt: dict[str, str] = {}
    clashes, files = [], list(paths)
    for path in files:
        steps = path.split("/")
        for depth in range(1, len(steps) + 1):
            part = "/".join(steps[:depth])
            kind = part if depth == len(steps) else f"{part}/"
            if spelt.setdefault(part.lower(), kind) != kind:
                clashes.append(path)
    return clashes + sorted({path for path in files if files.count(path) > 1})
