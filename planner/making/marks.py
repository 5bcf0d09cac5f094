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


def marks(operations: Sequence[Operation], done: Made, changed: Made) -> Mapping[int, Mark]:
    """A mark for each step that has one, by its number.

    done: features that are made as the job has them; changed: made, but the job has them otherwise now.
    A step on no feature (sawing, tacking) is done where a step that waits for it is. So is all that a
    weldment's pieces had before they were welded, and its welds, where something on the whole is made.
    """
    found: dict[int, Mark] = {}
    waited: set[int] = set()
    for op in reversed(operations):
        own = [(op.part, name) for name in (*op.makes, *op.prepares)]
        if any(one in changed for one in own):
            found[op.number] = "again"
        elif own and all(one in done for one in own) or not own and op.number in waited:
            found[op.number] = "done"
        if op.number in found or op.number in waited:
            waited.update(op.after)
    welded = {op.part for op in operations if op.number in found and op.stage in AFTER_WELDING}
    joined = {op.part for op in operations if op.stage == Stage.JOINING} & welded
    for op in operations:
        if op.part in joined and op.stage not in AFTER_WELDING:
            found.setdefault(op.number, "done")
    return found


def measured_from(attachment: Attachment, changed: Made, done: Made) -> Iterator[tuple[str, str]]:
    """Features that are made and lie where they do by one that has changed: to be looked at."""
    for part in attachment.parts:
        for member, one in every_feature(part):
            datums = member.datums if member is not None else part.datums
            letters = {loc.datum for loc in one.locations}
            from_changed = any((part.name, datums[x].of) in changed for x in letters if x in datums)
            if (part.name, one.name) in done and from_changed:
                yield part.name, one.name
