"""What things are called in an American shop, beside the names that the planner has for them.

Any module of the planner may import this; it imports nothing of the project.
"""

from __future__ import annotations

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


def american(inch: bool) -> tuple[str, ...]:
    """What is read once before an inch job's sheets; nothing for a metric one, which has the names.

    inch: whether the job is in inches, whose shop is taken to be an American one.
    """
    if not inch:
        return ()
    said = "; ".join(f"{here} = {there}" for here, there in NAMES)
    return (f"Names here and in an American shop: {said}.",)
