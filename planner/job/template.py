"""The commented files that ``pommel new`` writes, and the writing of a file that is not there yet.

Imported by the commands only. The texts are data: planner/job/new-metric.toml, new-inch.toml,
new-own-head.toml and new-readings.toml.
"""

from __future__ import annotations

import os
from importlib.resources import files
from pathlib import Path

from planner.words.findings import BadInput, finding


def job_template(inch: bool) -> str:
    """The text of a new job file."""
    name = "new-inch.toml" if inch else "new-metric.toml"
    return (files("planner.job") / name).read_text(encoding="utf-8")


def own_head_template(inch: bool) -> str:
    """The text of a new job for turning with a head that exists."""
    text = (files("planner.job") / "new-own-head.toml").read_text(encoding="utf-8")
    return text.replace('units = "mm"', 'units = "in"') if inch else text


def readings_template(inch: bool) -> str:
    """The text of a new readings file."""
    text = (files("planner.job") / "new-readings.toml").read_text(encoding="utf-8")
    return text.replace('units = "mm"', 'units = "in"') if inch else text


def write_new(path: Path, text: str) -> None:
    """Write a new file, whole or not at all. Raises BadInput when it exists or cannot be written."""
    try:
        if not _linked(path, text.encode("utf-8")):
            _written(path, text.encode("utf-8"))
    except FileExistsError:
        found = finding(
            "already-there", str(path), "", "", "is there already", "Choose another name"
        )
        raise BadInput([found]) from None
    except OSError as error:
        limit = f"cannot be written ({error.strerror})"
        found = finding("unwritable", str(path), "", "", limit, "Choose another place")
        raise BadInput([found]) from None


def _linked(path: Path, data: bytes) -> bool:
    """Write a file that has no name until it is whole, so that no crash leaves a part of it.

    Returns whether the system can do that. Raises OSError.
    """
    nameless = getattr(os, "O_TMPFILE", 0)
    try:
        handle = os.open(path.parent, os.O_WRONLY | nameless, 0o666) if nameless else -1
    except OSError:  # not on this file system, or there is no such folder
        handle = -1
    if handle < 0:
        return False
    with os.fdopen(handle, "wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
        try:
            os.link(f"/proc/self/fd/{out.fileno()}", path, follow_symlinks=True)
        except FileExistsError:
            raise
        except OSError:  # the system names no open file
            return False
    return True


def _written(path: Path, data: bytes) -> None:
    """The same where a file has its name from the beginning. Raises OSError."""
    with path.open("xb") as out:
        try:
            out.write(data)
            out.flush()
        except BaseException:  # an interrupt too leaves nothing half-written
            path.unlink(missing_ok=True)
            raise
