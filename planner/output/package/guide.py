"""README.txt of a package: what to open first, and what is where. Made from the topics' entries."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.output.topic import BOOK, FOLDERS, Topic

README = "README.txt"


class Written(NamedTuple):
    """A file of the package: whose it is, its path in it, and what it is."""

    topic: Topic
    path: str
    what: str


def guide(job: str, files: Sequence[Written]) -> str:
    """The text of the package's README.txt.

    job: its name; files: all others of the package but the manifest, in the order of the topics.
    """
    texts = [file for file in files if file.path.endswith(".txt")]
    first = [file for file in files if file.path == file.topic.first]
    first.sort(key=lambda file: file.path != BOOK)
    blocks = [
        f"{job}: what it takes to build a ball-turning attachment for this lathe.",
        _listed("Open first:", [(one.path, one.what) for one in first]),
        _listed(
            "Then, in the order of the work:",
            [(one.path, one.what) for one in texts if one not in first],
        ),
        _listed("The folders:", [(f"{folder.name}/", folder.what) for folder in FOLDERS]),
    ]
    for folder in FOLDERS:
        inside = [file for file in files if file.path.startswith(f"{folder.name}/")]
        rows = [(one.path.removeprefix(f"{folder.name}/"), one.what) for one in inside]
        blocks.append(_listed(f"In {folder.name}/:", rows))
    blocks.append(
        "package.json lists every file with its hash. Keep notes of your own elsewhere: a\n"
        "package with anything added or changed is not replaced by a new one."
    )
    return "\n\n".join(block for block in blocks if block) + "\n"


def _listed(head: str, rows: Sequence[tuple[str, str]]) -> str:
    width = max((len(name) for name, _ in rows), default=0)
    lines = [f"  {name:<{width}}  {what}" for name, what in rows]
    return "\n".join([head, *lines]) if rows else ""
