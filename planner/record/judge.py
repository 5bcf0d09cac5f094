"""What is recorded, held against the job as it is now: names, sizes, limits.

The rules by feature type for what one measures on a feature stand together here.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from difflib import get_close_matches
from functools import singledispatch
from hashlib import sha256
from typing import Any, Literal

from msgspec import to_builtins

from parts import features as f
from parts.attachment import Attachment
from parts.fitting import FITS
from parts.part import every_feature
from parts.standard.fits import Limits
from parts.value import Value
from planner.record.model import Entry, SizeMade
from planner.words.findings import BadInput, Finding, finding
from planner.words.numbers import Numbers
from planner.words.short import begun, few
from planner.words.units import MM_PER_INCH
from planner.words.workedoff import off_a_shaft, out_of_a_hole

Round = Literal["outside", "inside", "reamed", "", "flat"]
"""What a size is the diameter of; "" where it is none."""

State = Literal["as recorded", "changed", "gone"]
"""What became of a recorded feature: the same in the job, another size or place, not there."""

READ_TO_MM = 1e-6
"""Finer than any gauge: what sums of lengths differ by is no difference."""

WORDS_ONLY = ("name", "note", "check", "held", "made_with")
"""Fields of a feature that do not say how large it is or where it lies."""


@singledispatch
def measured(feature: f.Feature) -> Limits | None:
    """The size that is measured on a feature, with its limits; None where a gauge says yes or no."""
    raise TypeError(f"no rule for what is measured on a {type(feature).__name__}")


@measured.register
def _(feature: f.FacedLength) -> Limits | None:
    return feature.length


@measured.register(f.TurnedDiameter)
@measured.register(f.TurnedBall)
@measured.register(f.Knurl)
@measured.register(f.EngravedScale)
@measured.register(f.DrilledHole)
@measured.register(f.ReamedHole)
@measured.register(f.Bore)
@measured.register(f.Counterbore)
def _(feature: Any) -> Limits | None:
    size: Limits = feature.diameter
    return size


@measured.register
def _(feature: f.MilledFlat) -> Limits | None:
    return feature.across


@measured.register(f.MilledSlot)
@measured.register(f.Slit)
def _(feature: f.MilledSlot | f.Slit) -> Limits | None:
    return feature.width


@measured.register(f.FacedShoulder)
@measured.register(f.Thread)
@measured.register(f.TappedHole)
@measured.register(f.SawnNotch)
@measured.register(f.IndexMark)
@measured.register(f.ScribedLine)
@measured.register(f.GroundPoint)
@measured.register(f.Weld)
def _(feature: f.Feature) -> Limits | None:
    return None


def feature_sha256(feature: f.Feature) -> str:
    """Sixteen digits that change when a feature's kind, sizes, limits or place do, and else not."""
    sizes = {k: v for k, v in to_builtins(feature).items() if k not in WORDS_ONLY}
    text = json.dumps([type(feature).__name__, _rounded(sizes)], sort_keys=True)
    return sha256(text.encode()).hexdigest()[:16]


def _rounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _rounded(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(one) for one in value]
    return round(value, 6) + 0.0 if isinstance(value, int | float) else value


def find(attachment: Attachment, part: str, feature: str, file: str, key: str) -> f.Feature:
    """A feature by its part's and its own name.

    file, key: what findings call the place where it is named. Raises BadInput with the nearest name.
    """
    parts = {one.name: one for one in attachment.parts}
    if part not in parts:
        limit, remedy = "no part of that name", _nearest(part, list(parts))
        raise BadInput([finding("unknown-part", file, key, begun(part, 40), limit, remedy)])
    named = {one.name: one for _, one in every_feature(parts[part])}
    if feature in named:
        return named[feature]
    elsewhere = [
        p.name for p in parts.values() for _, one in every_feature(p) if one.name == feature
    ]
    remedy = f"It is on: {few(elsewhere)}" if elsewhere else _nearest(feature, list(named))
    limit = f"no feature of that name on the {part}"
    raise BadInput([finding("unknown-feature", file, key, begun(feature, 40), limit, remedy)])


def _nearest(name: str, known: Sequence[str]) -> str:
    near = get_close_matches(name, known, 1)
    return f"Did you mean {near[0]}?" if near else f"Known here: {few(known, signs=150)}"


class Judged(Value, frozen=True):
    """One entry against the job.

    state: whether the job still has what was made. limits: of the size now, None where there is none
    or the state is another. out_mm: how far a measured size is out of them, 0 inside, under the least
    negative; None where nothing is judged. counts: no later entry is of the same feature of the same
    one, where several are made. meant: of a
    name that is misspelt, the part and the feature that the entry is surely of. round_: whether the
    size is that of something turned, a hole, a reamed one or a flat.
    """

    entry: Entry
    state: State
    limits: Limits | None
    out_mm: float | None
    counts: bool
    meant: tuple[str, str] | None = None
    round_: Round = ""


def judged(entries: Sequence[Entry], attachment: Attachment) -> list[Judged]:
    """The entries of one list of a record, each against the job as it is now."""
    last = {(one.part, one.feature, one.number): at for at, one in enumerate(entries)}
    return [
        _judged(one, attachment, last[one.part, one.feature, one.number] == at)
        for at, one in enumerate(entries)
    ]


def made_alike(part: str, attachment: Attachment, many: int) -> int:
    """How many of a part are made for so many attachments, 1 at least."""
    return many * next((one.quantity for one in attachment.parts if one.name == part), 1)


def only_so_many(most: int) -> str:
    """Said of a number beyond the last."""
    return f"{most} of it are made" if most > 1 else "one of it is made"


def called(entry: Entry) -> str:
    """What an entry is of, as findings call it."""
    own = f", no. {entry.number}" if entry.number > 1 else ""
    return f"{entry.part}, {entry.feature}{own}"


def _judged(entry: Entry, attachment: Attachment, counts: bool) -> Judged:
    try:
        feature = find(attachment, entry.part, entry.feature, "", "")
    except BadInput:
        return Judged(entry, "gone", None, None, counts, _meant(entry, attachment))
    if (
        entry.feature_sha256
        and entry.feature_sha256 != feature_sha256(feature)[: len(entry.feature_sha256)]
    ):
        return Judged(entry, "changed", None, None, counts)
    limits = measured(feature)
    if limits is None or not isinstance(entry, SizeMade):
        return Judged(entry, "as recorded", limits, None, counts)
    off = out_mm(entry.value, limits)
    return Judged(entry, "as recorded", limits, off, counts, round_=_round(feature))


def _round(feature: f.Feature) -> Round:
    if isinstance(feature, f.ReamedHole):
        return "reamed"
    if isinstance(feature, f.Hole):
        return "inside"
    if isinstance(feature, f.MilledFlat):
        return "flat"
    return "outside" if isinstance(feature, f.Turned) else ""


NEARLY = 0.8
"""So alike two names are that one is the other misspelt: dial, rib is not dial, rim."""


def _meant(entry: Entry, attachment: Attachment) -> tuple[str, str] | None:
    """The part and the feature of nearly the names of an entry, as it was then where it says so."""
    parts = {one.name: [f for _, f in every_feature(one)] for one in attachment.parts}
    if not (part := next(iter(get_close_matches(entry.part, parts, 1, NEARLY)), None)):
        return None
    named = {one.name: one for one in parts[part]}
    if not (name := next(iter(get_close_matches(entry.feature, named, 1, NEARLY)), None)):
        return None
    same = feature_sha256(named[name]).startswith(entry.feature_sha256)
    return (part, name) if same else None


SLIPS = (
    (0.1, "the decimal point"),
    (10.0, "the decimal point"),
    (MM_PER_INCH, "inches taken for millimetres"),
    (1 / MM_PER_INCH, "millimetres taken for inches"),
)
"""What undoes a slip of a measured size, and what it was."""

SURELY = 0.02
"""So near to its limits, as a part of the size, what undoes a slip brings it: then it is one."""


def _slip(value_mm: float, limits: Limits, numbers: Numbers) -> str:
    """The remedy of a size that is surely a slip of the pen; "" for one that is only out."""
    for undone_by, what in SLIPS:
        meant = value_mm * undone_by
        if abs(out_mm(meant, limits)) <= SURELY * meant:
            return f"{numbers.micrometer(meant)} is likely meant: {what}. Record it again"
    return ""


MATED = {(one.hole_part, one.hole) for one in FITS} | {(one.shaft_part, one.shaft) for one in FITS}
"""What something else is turned, reamed or bored to: no rim and no head has a hole of its own."""


def _worked(what: Round, value_mm: float, limits: Limits, mated: bool, numbers: Numbers) -> str:
    """What is done with a size that is out of its limits; mated: something else is made to it."""
    if not what:
        return "Measure again, then work it to size or make it anew"
    if what == "flat" and value_mm > limits.max_mm:
        return "Measure again, then work it to size"
    if what == "flat":
        to_it = "what bears there is milled to it, where that is still to be made"
        return f"Measure again; {to_it}; else make it anew"
    most, least = value_mm - limits.min_mm, value_mm - limits.max_mm
    if what != "outside":
        least, most = limits.min_mm - value_mm, limits.max_mm - value_mm
    if least <= 0.0 and not mated:  # too little metal
        return "Measure again, then make it anew"
    if least <= 0.0:
        mate = "what runs in it" if what != "outside" else "its hole"
        return f"Measure again, then make it anew, or {mate} to it where that is still to be made"
    by = f"{numbers.plain.micrometer(least)} to {numbers.micrometer(most)}"
    if what == "outside":
        return f"Measure again, then take {by} off its diameter {off_a_shaft(least)}"
    return f"Measure again, then work it larger by {by}, {out_of_a_hole(least, what == 'reamed')}"


def out_mm(value_mm: float, limits: Limits) -> float:
    """How far a size is out of its limits, mm: over the greatest positive, under the least negative."""
    if value_mm > limits.max_mm + READ_TO_MM:
        return value_mm - limits.max_mm
    if value_mm < limits.min_mm - READ_TO_MM:
        return value_mm - limits.min_mm
    return 0.0


def record_findings(found: Sequence[Judged], file: str, numbers: Numbers) -> list[Finding]:
    """What to look at of the entries that count: sizes out of limits, features no longer in the job."""
    told = []
    for one in found:
        name = called(one.entry)
        if not one.counts:
            continue
        if one.state != "as recorded":
            limit = "made, and not in the job any more"
            if one.state == "changed":
                limit = "made to another size or place than the job now has"
            remedy = "Change the job back, or make it anew and record that"
            if one.meant:
                limit = "no part or feature of that name in the job"
                remedy = f"Did you mean {', '.join(one.meant)}?"
            told.append(finding("not-as-recorded", file, name, "", limit, remedy))
        elif one.out_mm and one.limits and isinstance(one.entry, SizeMade):
            value = numbers.micrometer(one.entry.value)
            way = "over" if one.out_mm > 0 else "under"
            limit = f"out by {numbers.micrometer(abs(one.out_mm))} {way}"
            limit += f"; must be {numbers.between(one.limits)}"
            remedy = _slip(one.entry.value, one.limits, numbers)
            mated = (one.entry.part, one.entry.feature) in MATED
            remedy = remedy or _worked(one.round_, one.entry.value, one.limits, mated, numbers)
            told.append(finding("out-of-limits", file, name, value, limit, remedy))
    return told
