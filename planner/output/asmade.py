"""What is recorded of a job, as its route needs it: fits to what was made, steps done, steps undone.

Imported by output.plan. The record says it; making.asmade and making.marks work it out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from os.path import lexists
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts.attachment import Attachment, Fit
from parts.standard.fits import Limits
from parts.value import Value
from planner.job.tables import Job
from planner.making.asmade import Mated, anew_pieces, mated, remade
from planner.making.marks import measured_from
from planner.record.files import record_folder
from planner.record.names import MADE
from planner.words.findings import Finding, finding

if TYPE_CHECKING:
    from planner.record.judge import Judged
    from planner.record.model import SizeMade


class AsMade(Value, frozen=True):
    """A job with its record.

    attachment: with the limits that follow from what was measured; the same object where none do.
    fits: those of which something is measured. done, changed: features that are made, as the job has
    them and otherwise. look: made, and placed by one that has changed. other_job: the job file has
    changed since something was recorded. findings: on the record's own files. others: where several
    attachments are made, the fits of each but the first, by its number; all else is of the first.
    """

    attachment: Attachment
    fits: tuple[Mated, ...]
    done: frozenset[tuple[str, str]]
    changed: tuple[Judged, ...]
    look: tuple[tuple[str, str], ...]
    other_job: bool
    file: str
    findings: tuple[Finding, ...]
    others: Mapping[int, tuple[Mated, ...]] = {}

    @property
    def undone(self) -> frozenset[tuple[str, str]]:
        """Features that were made and that the job has otherwise now, or not at all."""
        return frozenset((one.entry.part, one.entry.feature) for one in self.changed)

    @property
    def measured(self) -> Mapping[tuple[str, str], float]:
        """What is measured of the fits, mm, by part and feature."""
        both = ((*_ends(one.fit), one.hole_mm, one.shaft_mm) for one in self.fits)
        pairs = (pair for hole, shaft, a, b in both for pair in ((hole, a), (shaft, b)))
        return {key: mm for key, mm in pairs if mm is not None}

    @property
    def anew(self) -> frozenset[tuple[str, str]]:
        """Part and piece of each shaft that is made, and to be made anew."""
        return frozenset(anew_pieces(self.attachment, self.fits))

    @property
    def told(self) -> frozenset[tuple[str, str]]:
        """Shafts of which a finding says what is to be done."""
        return frozenset(_ends(one.fit)[1] for one in self.fits if one.do)


def _ends(fit: Fit) -> tuple[tuple[str, str], tuple[str, str]]:
    """Part and feature of the hole, and of the shaft."""
    return (fit.hole_part, fit.hole), (fit.shaft_part, fit.shaft)


def as_made(path: Path, job: Job, attachment: Attachment) -> AsMade:
    """What is recorded of the job at a path. Raises BadInput when the record cannot be read.

    Most jobs have none: then nothing that reads one is loaded.
    """
    folder = record_folder(path)
    file = str(folder / MADE)
    if not lexists(folder):
        return AsMade(attachment, (), frozenset(), (), (), False, file, ())
    from planner.record.judge import judged
    from planner.record.model import SizeMade
    from planner.record.reading import job_sha256, read_record

    kept = read_record(path)
    entries = [*kept.made.size, *kept.made.done]
    if not entries:
        return AsMade(attachment, (), frozenset(), (), (), False, file, kept.findings)
    sizes = [one for one in judged(kept.made.size, attachment) if one.counts]
    found = [*sizes, *(one for one in judged(kept.made.done, attachment) if one.counts)]
    changed = tuple(one for one in found if one.state != "as recorded")
    undone = {(one.entry.part, one.entry.feature) for one in changed}
    first = [one.entry for one in found if one.entry.number == 1]
    done = frozenset((one.part, one.feature) for one in first) - undone
    measured: dict[int, dict[tuple[str, str], float]] = {1: {}}
    for one in sizes:
        key = (one.entry.part, one.entry.feature)
        if isinstance(one.entry, SizeMade) and key not in undone:
            measured.setdefault(one.entry.number, {})[key] = one.entry.value
    each = {number: mated(attachment, job, own) for number, own in sorted(measured.items())}
    fits = each.pop(1)
    now = job_sha256(path)
    other = any(e.job_file_sha256 and not now.startswith(e.job_file_sha256) for e in entries)
    look = tuple(measured_from(attachment, undone, done))
    return AsMade(
        remade(attachment, fits), fits, done, changed, look, other, file, kept.findings, each
    )  # fmt: skip


def judged_as_made(entries: Sequence[SizeMade], attachment: Attachment, job: Job) -> list[Judged]:
    """Sizes against the job, each by the limits that follow from the mates recorded before it.

    A hole that is as drawn stays so: holes come first, and its shaft was not. Where several are made,
    mates are of one number.
    """
    from planner.record.judge import judged, out_mm
    from planner.record.model import SizeMade

    each: dict[int, dict[tuple[str, str], float]] = {}
    found = []
    for one in judged(entries, attachment):
        entry = one.entry
        key = (entry.part, entry.feature)
        measured = each.setdefault(entry.number, {})
        if one.limits is not None and isinstance(entry, SizeMade):
            limits = _to_its_mate(key, attachment, job, measured)
            hole = any(key == (fit.hole_part, fit.hole) for fit in attachment.fits)
            if limits is not None and (one.out_mm or not hole):
                one = replace(one, limits=limits, out_mm=out_mm(entry.value, limits))
            measured[key] = entry.value
        found.append(one)
    return found


def _to_its_mate(
    key: tuple[str, str], attachment: Attachment, job: Job, sizes: Mapping[tuple[str, str], float]
) -> Limits | None:
    """The limits of a feature by what it fits in, or what fits in it; None where that is not made."""
    others = {other: mm for other, mm in sizes.items() if other != key}
    for one in mated(attachment, job, others):
        fit = one.fit
        own = {"shaft to the hole": (fit.shaft_part, fit.shaft)}.get(
            one.state, (fit.hole_part, fit.hole)
        )
        if own == key and one.limits is not None:
            return one.limits
    return None


def _each_fit(made: AsMade) -> Iterator[tuple[int, Mated]]:
    """Every fit of which something is measured, with the number of the attachment it is of."""
    for number, fits in ((1, made.fits), *made.others.items()):
        yield from ((number, one) for one in fits)


def made_findings(made: AsMade, job: Job) -> Iterator[Finding]:
    """Fits that want something done, features that a change of the job undoes."""
    numbers = job.numbers
    for number, one in _each_fit(made):
        if one.do and (one.anew or one.state != "hole to the shaft"):
            name = f"{one.fit.shaft_part}, {one.fit.shaft} in {one.fit.hole_part}, {one.fit.hole}"
            name += f", no. {number}" if number > 1 else ""
            value = "; ".join(
                f"{what} {numbers.micrometer(mm)}"
                for what, mm in (("hole", one.hole_mm), ("shaft", one.shaft_mm))
                if mm is not None
            )
            low = numbers.plain.micrometer(one.designed.least_mm)
            limit = f"{one.state}; play must be {low} to {numbers.micrometer(one.designed.most_mm)}"
            yield finding("fit-as-made", made.file, name, value, limit, one.do)
    for part, feature in sorted(made.undone):
        limit = "made, but the job has it otherwise now"
        remedy = "Change the job back, or make it anew and record that"
        yield finding("undone", made.file, f"{part}, {feature}", "", limit, remedy)
    for part, feature in made.look:
        limit = "made from a surface that the job has otherwise now"
        remedy = "Measure where it lies, then record it again"
        yield finding("undone", made.file, f"{part}, {feature}", "", limit, remedy)
