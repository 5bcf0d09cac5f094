"""Which steps of a route are done, and which are to be done again since the job was changed.

Imported by output.asmade, which brings what is recorded.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Literal

from parts.attachment import Attachment
from parts.features import Stage
from parts.part import every_feature
from planner.making.route import Operation

AFTER_WELDING = (Stage.WELDED, Stage.IN_PLACE, Stage.LAST)
"""What is made then is made on the whole, no more on its pieces."""

Mark = Literal["done", "again"]
Made = Collection[tuple[str, str]]
"""Features by part and name."""


def marks(
    operations: Sequence[Operation], done: Made, changed: Made, anew: Made = ()
) -> Mapping[int, Mark]:
    """A mark for each step that has one, by its number.

    done: features that are made as the job has them; changed: made, but the job has them otherwise now.
    anew: part and piece of what is made and is to be made once more, from the bar on.
    A step on no feature (sawing, tacking) is done where a step that waits for it is. So is, recorded or
    not, what a set-up has before a step of it that is done, for the work was not held twice; all that a
    weldment's pieces had before they were welded, and its welds, where something on the whole is made;
    and all of a part where its last cuts are.
    """
    found: dict[int, Mark] = {}
    waited: set[int] = set()
    held: set[int] = set()
    finished: set[str] = set()
    for op in reversed(operations):
        own = [(op.part, name) for name in (*op.makes, *op.prepares)]
        if any(one in changed for one in own):
            found[op.number] = "again"
        elif own and all(one in done for one in own):
            found[op.number] = "done"
            held.add(op.setup)
            finished |= {op.part} if op.stage == Stage.LAST else set()
        elif (not own and op.number in waited) or op.setup in held or _before(op, finished):
            found[op.number] = "done"
        if op.number in found or op.number in waited:
            waited.update(op.after)
    welded = {op.part for op in operations if op.number in found and op.stage in AFTER_WELDING}
    joined = {op.part for op in operations if op.stage == Stage.JOINING} & welded
    for op in operations:
        if op.part in joined and op.stage not in AFTER_WELDING:
            found.setdefault(op.number, "done")
    for op in operations:
        if op.number in found and anew and (op.part, op.piece) in anew:
            found[op.number] = "again"
    return found


def stood_on(attachment: Attachment, done: Made) -> frozenset[tuple[str, str]]:
    """What is done, and what that was measured from as it was made: recorded or not, it is there."""
    found = set(done)
    while True:
        more = {
            (part.name, datums[at.datum].of.rpartition("/")[2])
            for part in attachment.parts
            for member, one in every_feature(part)
            for datums in (member.datums if member is not None else part.datums,)
            for at in one.locations
            if (part.name, one.name) in found and at.datum in datums
        }
        if more <= found:
            return frozenset(found)
        found |= more


def _before(op: Operation, finished: Collection[str]) -> bool:
    """Whether a step comes before the last cuts of a part that has them."""
    return op.part in finished and op.stage != Stage.LAST


def measured_from(attachment: Attachment, changed: Made, done: Made) -> Iterator[tuple[str, str]]:
    """Features that are made and lie where they do by one that has changed: to be looked at."""
    for part in attachment.parts:
        for member, one in every_feature(part):
            datums = member.datums if member is not None else part.datums
            letters = {loc.datum for loc in one.locations}
            from_changed = any((part.name, datums[x].of) in changed for x in letters if x in datums)
            if (part.name, one.name) in done and from_changed:
                yield part.name, one.name
