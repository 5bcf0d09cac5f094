"""Whether drills and taps come past what stands up beside a hole. Imported by making.across."""

from __future__ import annotations

from dataclasses import replace

from parts import features as f
from parts.standard.holding import drill_out_mm, tap_out_mm
from parts.standard.threads import thread
from planner.making.holds import Holds
from planner.making.model import Op
from planner.making.ways.holes import size_of

CHUCK_MM = 17.0
"""Half of what a drill chuck, or a tap's wrench, is wide (common practice: a 10 mm chuck)."""

HANDLE_MM = 10.0
"""Half of what a T-handled tap wrench is wide (common practice: 18 across for M3 to M6)."""


def long_drill(work: Holds, op: Op, tall_mm: float) -> Op:
    """A drilling with a long drill, where the chuck does not come down beside what stands so tall."""
    size = size_of(op.tool)
    out = tall_mm + op.length_mm
    if not tall_mm or out <= drill_out_mm(size):
        return op
    name = f"long {op.tool.name}"
    if out > drill_out_mm(size, long=True):
        work.shop.lacks(
            work.on.part.name,
            f"{name} that stands {work.numbers.rule(out)} out",
            "Braze a drill into a bored rod, thinner than the hole",
        )
    op.tool = replace(
        op.tool, name=name, reach_mm=out, owned=False, instead="buy one of the long series"
    )
    return op


def long_tap(work: Holds, op: Op, sunk_mm: float) -> Op:
    """A tapping with a long tap, where the thread lies deeper than a hand tap's wrench comes."""
    size = size_of(op.tool)
    out = sunk_mm + op.length_mm
    if op.kind != "tap" or not sunk_mm or out <= tap_out_mm(size):
        return op
    name = op.tool.name.replace("tap", "long tap", 1)
    work.shop.lacks(work.on.part.name, f"{name} that stands {work.numbers.rule(out)} out",
                    "Buy one, or braze a rod with a square to a tap's end")  # fmt: skip
    op.tool = replace(op.tool, name=name, reach_mm=out, owned=False, instead="buy one")
    return op


def wrench_comes(one: f.Hole, tall_mm: float) -> bool:
    """Whether a tap is long enough for its wrench to turn over what stands beside."""
    if not isinstance(one, f.TappedHole) or not tall_mm or not one.through or one.opens_into:
        return True
    return tall_mm + one.depth_mm <= tap_out_mm(thread(one.thread).major_mm)
