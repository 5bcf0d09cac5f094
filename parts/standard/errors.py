"""What a look-up raises when a table has no such row."""

from __future__ import annotations

import difflib
from collections.abc import Sequence


class UnknownSize(LookupError):
    """A size, grade or name that no table of this project holds: a look-up that missed.

    Not a ValueError, so that it is caught where a look-up may miss and nowhere else.

    Attributes: `kind` (what was looked up, e.g. "thread"), `name` (as asked for), `nearest` (the
    nearest name that is known, or "" when nothing is near) and `remedy` (what to do, or "").
    """

    def __init__(self, kind: str, name: str, nearest: str = "", remedy: str = "") -> None:
        self.kind = kind
        self.name = name
        self.nearest = nearest
        self.remedy = remedy
        hint = remedy or (f"nearest known: {nearest}" if nearest else "none is near it")
        super().__init__(f"{kind}: no {name!r} in the tables; {hint}")


def unknown(kind: str, name: str, known: Sequence[str], remedy: str = "") -> UnknownSize:
    """The error to raise for `name`, naming the nearest spelling among `known`."""
    near = difflib.get_close_matches(name.lower(), [k.lower() for k in known], n=1, cutoff=0.3)
    nearest = next((k for k in known if near and k.lower() == near[0]), "")
    return UnknownSize(kind, name, nearest, remedy)


class BadTable(Exception):
    """A table of ours that may not be used: says the file, line, column, value and remedy."""

    def __init__(self, file: str, line: int, column: str, value: str, remedy: str) -> None:
        self.file = file
        self.line = line
        self.column = column
        self.value = value
        self.remedy = remedy
        super().__init__(f"{file} line {line}, column {column!r}: {value!r}; {remedy}")
