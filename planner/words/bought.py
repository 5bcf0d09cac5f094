"""What a bought item is called: as one asks for it in a shop, and several of them in a sentence.

Any room may import it.
"""

from __future__ import annotations

from parts.part import Bought
from parts.standard.threads import thread
from planner.words.numbers import Numbers


def _designation(item: Bought, numbers: Numbers) -> str:
    """A thread; of a ring its outside, hole and thickness, of a disc its outside and thickness."""
    if item.kind == "washer":
        return numbers.washer(item.thread)
    if not item.ring:
        return numbers.thread(item.thread)
    sizes = (item.ring.outside_mm, item.ring.inside_mm, item.ring.thickness_mm)
    return " x ".join(numbers.size(one) for one in sizes if one)


def bought_name(item: Bought, numbers: Numbers) -> str:
    """A bought item as one asks for it: "set screw M4 x 6", "felt ring 13 x 8 x 3"."""
    name = f"{item.kind} {_designation(item, numbers)}"
    if not item.length_mm:
        return name
    unified = thread(item.thread).system == "unified"
    length = numbers.screw_length(item.length_mm, unified, cut=item.kind == "stud")
    return f"{name} x {length}"


def several(item: Bought, count: int, numbers: Numbers) -> str:
    """So many of an item in a sentence: "the set screw M4 x 6", "2 thin nuts M6"."""
    name = bought_name(item, numbers)
    return f"the {name}" if count == 1 else f"{count} {name.replace(item.kind, item.kind + 's', 1)}"
