"""Lines scribed on the bench, a run of them with the work held once. Imported by making.across."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts import features as f
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.gauges import by_eye
from planner.making.model import Op, Tool
from planner.making.near import looks

if TYPE_CHECKING:
    from planner.making.across import Across


def line(work: Across, one: f.ScribedLine) -> None:
    """A line, in the bench vice of the last one where that is the last set-up."""
    last = work.setups[-1] if work.setups else None
    if last is None or last.machine != "bench" or last.hold.by != "bench vice":
        last = work.new("bench", work.bench(up=looks(one.box)))
    last.add(
        Op(
            "engrave",
            f"scribe the {one.name}, {callout(one, work.numbers)}",
            Tool("scriber", "scriber and square, or graver"),
            one,
            True,
            cuts.along((one.box.low[0], one.box.high[0])),  # lines run along x
            minutes=3.0,
            note=one.note,
            measures=(by_eye(one.check[0], f"{one.name}.x-low", one.check[1]),),
        )
    )
