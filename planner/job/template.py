"""The commented files that ``pommel new`` writes, and the writing of a file that is not there yet.

Imported by the commands only. The texts are data: planner/job/new-metric.toml, new-inch.toml,
new-own-head.toml and new-readings.toml.
"""

from __future__ import annotations

import os
import re
from functools import partial
from importlib.resources import files
from pathlib import Path

from planner.words.findings import BadInput, finding
from planner.words.numbers import INCH
from planner.words.units import MM_PER_INCH


def job_template(inch: bool) -> str:
    """The text of a new job file."""
    name = "new-inch.toml" if inch else "new-metric.toml"
    return (files("planner.job") / name).read_text(encoding="utf-8")


def own_head_template(inch: bool) -> str:
    """The text of a new job for turning with a head that exists."""
    text = (files("planner.job") / "new-own-head.toml").read_text(encoding="utf-8")
    return _in_inches(text) if inch else text


def readings_template(inch: bool) -> str:
    """The text of a new readings file."""
    text = (files("planner.job") / "new-readings.toml").read_text(encoding="utf-8")
    return _in_inches(text) if inch else text


MM_FOR_AN_INCH = 25
"""An example of so many millimetres is one of an inch: round sizes become round ones."""

INCH_WORDS = {
    'units = "mm"': 'units = "in"',
    '("45 mm", "1-3/4 in")': '("1-3/4 in", "45 mm")',
    '"1 mm"': '"20 tpi"',
    "under 100 N": "under 20 lbf",
    '"250 N"': '"55 lbf"',
    '"0.4 kW"': '"1/2 hp"',
    "or in horsepower": "as on its plate",
    '"6.4 mm"': '"1/4 in"',
    '"0.1 mm"': '"0.005 in"',
    '"M8"': '"5/16-18 UNC"',
    '"CW614N"': '"C360"',
}
"""What an inch shop has in the stead of what a template says besides its lengths."""


def _in_inches(text: str) -> str:
    """A template with an inch shop's own examples; its comments stay where they stand."""
    for metric, inch in INCH_WORDS.items():
        text = re.sub(f"({re.escape(metric)})( *)", partial(_for, inch), text)
    return re.sub(r'(?<== )("[\d.]+ mm")( *)', _example, text)


def _for(inch: str, found: re.Match[str]) -> str:
    """Other words in the same room, where something stands behind them."""
    return inch.ljust(len(found[0]) - 1) + " " if found[2] else inch


def _example(found: re.Match[str]) -> str:
    mm = found[1].strip('"').removesuffix(" mm")
    inches = float(mm) / MM_FOR_AN_INCH
    if "." in mm:  # with the noughts of the millimetres: a column of readings is written one way
        exact = INCH.plain.exact(inches * MM_PER_INCH, 4)
        more = int(inches >= 1)  # a whole size is read to tenths, a small one as it is
        places = max(len(exact.partition(".")[2]), len(mm.partition(".")[2]) + more)
        return _for(f'"{INCH.length(inches * MM_PER_INCH, min(places, 4))}"', found)
    return _for(f'"{INCH.size(round(inches * 16) / 16 * MM_PER_INCH)}"', found)


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
