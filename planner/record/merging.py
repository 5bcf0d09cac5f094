"""Merging what was recorded elsewhere, a file in the form of made.toml, into a record.

What is new goes behind what is there; what the record has otherwise, or the job no longer has, is a
conflict: told, and left out. Nothing that stands in the record is changed. Imported by the commands.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from parts.attachment import Attachment
from parts.value import Value
from planner.job.reading import read_bytes
from planner.record.adding import Kind, add_chosen
from planner.record.judge import (
    READ_TO_MM,
    called,
    feature_sha256,
    find,
    made_alike,
    measured,
    only_so_many,
)
from planner.record.model import Entry, Record, SizeMade, StepDone
from planner.record.reading import made_from
from planner.words.findings import BadInput, Finding, finding
from planner.words.numbers import Numbers
from planner.words.short import begun
from planner.words.units import UnitError, length_mm

Addition = tuple[Kind, Entry, dict[str, Any]]
"""The list it is of, the entry as it is read, and its keys as the record will have them."""


class Merged(Value, frozen=True):
    """The record after merging; how many entries of each list were added; conflicts, as findings."""

    record: Record
    sizes: int
    done: int
    findings: tuple[Finding, ...]


def merge(
    job: Path, file: Path, attachment: Attachment, units: str | None, numbers: Numbers, many: int
) -> Merged:
    """Add to a job's record what a file has that is new to it.

    file: in the form of made.toml, of which a bare number is in the units that it declares. units:
    those that a new made.toml declares. numbers: the language of the findings. many: so many
    attachments are made. Raises BadInput with every problem of the file, or where the record cannot
    be read or written.
    """
    offered = _offered(file)
    added: list[tuple[Kind, Mapping[str, Any]]] = []
    found: list[Finding] = []

    def chosen(record: Record) -> list[tuple[Kind, Mapping[str, Any]]]:
        added.clear()
        found.clear()
        known: dict[tuple[Kind, str, str, int], Entry] = {}
        for one in (*record.made.size, *record.made.done):
            known[_named(one)] = one
        for name in [name for name, one in known.items() if not _still(one, attachment)]:
            del known[name]  # of a size that the job no longer has: what is new is of another
        for kind, entry, keys in offered:
            there = known.get(_named(entry))
            if trouble := _trouble(entry, there, attachment, str(file), numbers, many):
                found.append(trouble)
            elif there is None:
                known[_named(entry)] = entry
                added.append((kind, keys))
        return added

    record = add_chosen(job, chosen, units)
    sizes = sum(kind == "size" for kind, _ in added)
    if not added and not found:
        limit, remedy = "the record has all that is in it already", "Nothing to do"
        found.append(finding("nothing-merged", str(file), "", "", limit, remedy))
    return Merged(record, sizes, len(added) - sizes, tuple(found))


def _named(entry: Entry) -> tuple[Kind, str, str, int]:
    kind: Kind = "size" if isinstance(entry, SizeMade) else "done"
    return kind, entry.part, entry.feature, entry.number


def _still(entry: Entry, attachment: Attachment) -> bool:
    """Whether an entry is of a feature as the job has it now."""
    try:
        sha256 = feature_sha256(find(attachment, entry.part, entry.feature, "", ""))
    except BadInput:
        return True  # told as gone wherever the record is shown
    return sha256.startswith(entry.feature_sha256)


def _offered(file: Path) -> list[Addition]:
    """What a file has, in its order. Raises BadInput."""
    text = read_bytes(file, "Check its name")
    made = made_from(text, file)
    if made.model_extra and not (made.size or made.done):
        has = next(iter(made.model_extra))
        limit = f"neither [[size]] nor [[done]] in it, but {begun(has, 40)}"
        near = get_close_matches(has, ("size", "done"), 1)
        remedy = f"Write [[{near[0]}]]" if near else "Name a file in the form of made.toml"
        raise BadInput([finding("unknown-key", str(file), has, "", limit, remedy)])
    said = tomllib.loads(text.decode("utf-8"))
    found: list[Addition] = []
    for size, keys in zip(made.size, said.get("size", ()), strict=True):
        found.append(("size", size, dict(keys) | {"value": _spelled(keys["value"], made.units)}))
    for done, keys in zip(made.done, said.get("done", ()), strict=True):
        found.append(("done", done, dict(keys)))
    return found


def _spelled(value: Any, units: str | None) -> str:
    """A length with its unit: that of its own, or the one that its file declares."""
    try:
        length_mm(value, None)
    except UnitError:
        return f"{value} {units}"
    return str(value)


def _trouble(
    entry: Entry,
    there: Entry | None,
    attachment: Attachment,
    file: str,
    numbers: Numbers,
    many: int,
) -> Finding | None:
    """Why an entry is left out though it is none that the record has."""
    name = called(entry)
    value = numbers.micrometer(entry.value) if isinstance(entry, SizeMade) else ""
    try:
        feature = find(attachment, entry.part, entry.feature, file, name)
    except BadInput as error:
        (stop,) = error.findings
        return finding("merge-conflict", file, name, value, stop.limit, stop.remedy)
    if entry.number > (most := made_alike(entry.part, attachment, many)):
        limit, remedy = only_so_many(most), "Look which of them is meant"
        return finding("merge-conflict", file, name, value, limit, remedy)
    if isinstance(entry, SizeMade) and measured(feature) is None:
        remedy = "Record it with --done"
        return finding("merge-conflict", file, name, value, "has no one size to measure", remedy)
    if not _still(entry, attachment):
        limit = "made to another size or place than the job now has"
        remedy = "Look which is meant; record it by hand if it holds all the same"
        return finding("merge-conflict", file, name, value, limit, remedy)
    if there is None or isinstance(there, StepDone):
        return None
    assert isinstance(there, SizeMade) and isinstance(entry, SizeMade)
    if abs(there.value - entry.value) <= READ_TO_MM:
        return None
    value, other = numbers.unlike(entry.value, there.value)
    on = f" on {there.date}" if there.date else ""
    limit = f"the record has {other}{on}, which stays"
    remedy = "Measure again, and record that with --made"
    return finding("merge-conflict", file, name, value, limit, remedy)
