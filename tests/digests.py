"""What is made held against what was made when it was last looked over, in short, as a tracked text.

A digest holds nothing to be right: it notices that something is other, where what is made has no truth
outside the project. A piece is a list of lines, the first its name; tracked of it are its name, how
many lines follow, and a sum of them all. Imported by route_digest and book_digest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

Piece = list[str]


def flat(value: Any, idle: Sequence[str] = ()) -> str:
    """A record in one line: what is nothing, and the keys that are idle, left out; five figures."""
    if isinstance(value, Mapping):
        kept = [
            f"{key}={flat(one, idle)}"
            for key, one in value.items()
            if key not in idle and one not in (None, "", [], {}, False)
        ]
        return "{" + " ".join(kept) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flat(one, idle) for one in value) + "]"
    return f"{value:.5g}" if isinstance(value, float) else str(value)


def short(piece: Piece) -> str:
    """The name of a piece, how many lines follow, and the sum."""
    return f"{piece[0]}: {len(piece) - 1}, {sha256(chr(10).join(piece).encode()).hexdigest()[:10]}"


def tracked(path: Path) -> dict[str, list[str]]:
    """The pieces of each thing, in short, as they were when they were last looked over."""
    found: dict[str, list[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            own = found.setdefault(line[3:], [])
        else:
            own.append(line)
    return found


def differences(was: list[str], now: list[Piece]) -> list[str]:
    """What is gone, what is new, in full, and whether the order is another. was: in short."""
    new = [short(piece) for piece in now]
    found = [f"- {line}" for line in was if line not in new]
    found += [
        f"+ {chr(10).join(one)}" for one, line in zip(now, new, strict=True) if line not in was
    ]
    return found or ([] if was == new else ["the same in another order"])


def make_anew(
    path: Path, names: Sequence[str], made: Callable[[str], Iterator[Piece]], asked: Sequence[str]
) -> None:
    """Write the file and print how it differs; asked: print these in full instead."""
    for name in asked:
        print("\n".join("\n".join(piece) for piece in made(name)))
    if asked:
        return
    old = tracked(path) if path.exists() else {}
    written = []
    for name in names:
        now = list(made(name))
        for line in differences(old.get(name, []), now):
            print(f"{name}: {line}")
        written += [f"## {name}", *map(short, now)]
    path.write_text("\n".join(written) + "\n", encoding="utf-8")
