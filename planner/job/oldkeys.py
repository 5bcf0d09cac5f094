"""Keys of the job file that were renamed: the old one works on for two minor versions, with a warning.

Imported by job.reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from parts.value import Value
from planner import __version__
from planner.words.findings import BadInput, Finding, finding

MINORS = 2
"""An old key is read by the version that renames it and by the minor version after that."""


class OldKey(Value, frozen=True):
    """A renamed key.

    old, new: with their tables, as "lathe.jaw_reach"; the tables are the same, and a table that is a
    list counts for each of its entries. since: the minor version that renamed it, as "0.3". unit: what
    the old one's number was of, whatever the file's units are.
    """

    old: str
    new: str
    since: str
    unit: str = ""

    def read_by(self, version: str) -> bool:
        """Whether a version still reads the old key."""
        now, then = _minor(version), _minor(self.since)
        return now[0] == then[0] and now[1] < then[1] + MINORS


OLD_KEYS: tuple[OldKey, ...] = (
    OldKey("lathe.motor_kW", "lathe.motor_power", "0.2", "kW"),
    OldKey("turning.clamp_torque_Nm", "turning.clamp_torque", "0.2", "Nm"),
    OldKey("own_head.grip_N", "own_head.grip", "0.2", "N"),
)
"""Every key renamed so far; one that is no longer read stays, so that it is told what it is now."""


def renamed(
    data: dict[str, Any],
    file: str,
    keys: Sequence[OldKey] | None = None,
    version: str = __version__,
) -> tuple[dict[str, Any], tuple[Finding, ...]]:
    """A job's TOML with its old keys renamed, and a warning for each; the data given stays as it is.

    keys: by default OLD_KEYS. Raises BadInput with every old key that stands beside its new one, or
    that this version no longer reads.
    """
    from copy import deepcopy

    keys = OLD_KEYS if keys is None else keys
    if not keys:
        return data, ()
    data, found = deepcopy(data), []
    for key in keys:
        *tables, old = key.old.split(".")
        new = key.new.rpartition(".")[2]
        for table, place in _tables(data, tables, ""):
            if old not in table:
                continue
            found.append(_finding(key, file, f"{place}{old}", new in table, version))
            if found[-1].severity == "warning":
                table[new] = _said(table.pop(old), key)
    if stops := [one for one in found if one.severity == "refused"]:
        raise BadInput(stops)
    return data, tuple(found)


def _said(value: Any, key: OldKey) -> Any:
    """A number with the unit that its old key was named by; anything else stays."""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return " ".join((repr(value), key.unit)) if key.unit and number else value


def _finding(key: OldKey, file: str, place: str, both: bool, version: str) -> Finding:
    limit = f"called {key.new} since version {key.since}"
    if both:
        limit += ", and that is given too"
        return finding(
            "old-key", file, place, "", limit, "Take the old one out", severity="refused"
        )
    if not key.read_by(version):
        return finding("old-key", file, place, "", limit, "Rename it", severity="refused")
    major, minor = _minor(key.since)
    last = f"{major}.{minor + MINORS - 1}"
    remedy = f"Rename it; {last} is the last version that reads the old one"
    return finding("old-key", file, place, "", limit, remedy, severity="warning")


def _tables(data: Any, names: list[str], place: str) -> Iterator[tuple[dict[str, Any], str]]:
    """The tables of a name, each with its place in the file, a point behind it."""
    if isinstance(data, list):
        for number, one in enumerate(data, 1):
            yield from _tables(one, names, f"{place.rstrip('.')}[{number}].")
    elif isinstance(data, dict):
        if not names:
            yield data, place
        elif names[0] in data:
            yield from _tables(data[names[0]], names[1:], f"{place}{names[0]}.")


def _minor(version: str) -> tuple[int, int]:
    major, minor, *_ = version.split(".")
    return int(major), int(minor)
