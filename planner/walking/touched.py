"""Whether the side that a cutter is touched on lies as far from its cut as the step says.

A cutter meets a side at its own depth: where the work is cut back there, not where it is whole.
Imported by planner.walking.cutting.
"""

from __future__ import annotations

import re
from itertools import product

import numpy as np

from parts import features as f
from parts.standard.sections import MM_PER_INCH
from planner.walking.doing import Doing
from planner.walking.shape import Block, even

SAID = re.compile(r"touched on the \S+ ([+-])([xyz]) side.*?(\d[\d/.-]*) as drawn")
"""Which side, and how far in from there: of a fraction with its decimals the decimals."""

ACROSS, FINE_MM, NEAR_MM = 5, 0.02, 0.1
"""So many lines each way through the cut, points on them so close, and how near the two must be: a
surface that is asked for point by point, and a place said to a tenth."""

OFF_MM = 0.05
"""Off what is even with the work's own faces: a point on a face that two cuts leave is of neither."""


def side_there(do: Doing, inch: bool) -> None:
    """The outermost metal beside the cut, on the side said, lies as far from its middle as is said."""
    said = SAID.search(str(do.operation.get("text") or ""))
    blocks = [one for one in do.cut.regions if isinstance(one, Block)]
    if said is None or not blocks:
        return
    sign, k = 1 if said[1] == "+" else -1, "xyz".index(said[2])
    told = float(said[3]) * (MM_PER_INCH if inch else 1.0)
    _counted(do)
    middle = (blocks[0].low[k] + blocks[0].high[k]) / 2
    far = _outermost(do, blocks[0], k, sign, middle)
    if far is not None and abs(far - told) > NEAR_MM:
        do.faults.refuse(
            "route-words",
            f"counted {do.faults.mm(told)} from the {said[1]}{said[2]} side",
            f"it lies {do.faults.mm(far)} off",
            "Count from the side as it is where the cutter comes to it",
        )


def _counted(do: Doing) -> None:
    """A slit that lies closely from a datum is counted from there: the side of a bar is not so near."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    if not isinstance(feature, f.Slit):
        return
    for place in feature.locations:
        said = f"measured from {place.datum} " in str(do.operation.get("text"))
        if place.element.endswith("middle") and not said:
            do.faults.refuse(
                "route-words",
                f"{feature.name}: counted from a side as drawn",
                f"it lies from {place.datum}, and that side as it was rolled, welded and faced",
                f"Count by what is measured from {place.datum} to that side",
            )


def _outermost(do: Doing, block: Block, k: int, sign: int, middle: float) -> float | None:
    """How far from the middle of a cut the work's side lies at the cut's own depth, mm; None where
    the cut finds no metal, which is told of it already."""
    low, high = do.piece.metal.box
    ends = [(max(block.low[i], low[i]) + OFF_MM, min(block.high[i], high[i])) for i in range(3)]
    lines = product(*(even(*ends[i], ACROSS + 2)[1:-1] for i in range(3) if i != k))
    edge = high[k] if sign > 0 else low[k]
    steps = np.arange(0.0, abs(edge - middle) + FINE_MM, FINE_MM)
    cloud = []
    for line in lines:
        points = np.empty((len(steps), 3))
        points[:, [i for i in range(3) if i != k]] = line
        points[:, k] = middle + sign * steps
        cloud.append(points)
    there = do.piece.metal.has(np.concatenate(cloud)).reshape(len(cloud), len(steps)).any(axis=0)
    return float(steps[np.flatnonzero(there)[-1]]) if there.any() else None
