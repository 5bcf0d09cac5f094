"""What things are called in an American shop, beside the names that the planner has for them.

Any module of the planner may import this; it imports nothing of the project.
"""

from __future__ import annotations

import re

NAMES = (
    ("carrier", "lathe dog"),
    ("catch plate", "dog plate"),
    ("fixed steady", "steady rest"),
    ("travelling steady", "follow rest"),
    ("top slide", "compound rest"),
    ("spanner", "wrench"),
    ("hexagon key", "hex key"),
    ("vice", "vise"),
    ("scribing block", "surface gauge"),
    ("figure punches", "number stamps"),
    ("thin nut", "jam nut"),
)
"""A name as it stands in sheets, and the American one (South Bend Lathe Works, How to Run a Lathe;
ASME B18.2.2 for the nut; else common practice; all from memory)."""


def american(inch: bool, words: str | None = None) -> tuple[str, ...]:
    """What is read once before an inch job's sheets; nothing for a metric one, which has the names.

    inch: whether the job is in inches, whose shop is taken to be an American one. words: what the
    sheets say, of whose names alone it is; None: of all.
    """
    there = [pair for pair in NAMES if words is None or _used(pair[0], words)]
    if not inch or not there:
        return ()
    said = "; ".join(f"{here} = {other}" for here, other in there)
    return (f"Names here and in an American shop: {said}.",)


def _used(name: str, words: str) -> bool:
    """Whether words have a name, of one thing or of several."""
    return re.search(rf"\b{name}s?\b", words, re.IGNORECASE) is not None
