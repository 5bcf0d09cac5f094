"""Plug gauges that a set-up's bores are tried with. Imported by making.aids and making.route."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from parts.attachment import Fit
from planner.making.gauges import PLUG
from planner.making.model import SetUp

HANDLE_MM = 20.0
"""A plug gauge is held between its ends by so much (common practice)."""

CAME_TO = (
    "what it came to, once the work is out: a plug of an offcut, turned to slide in it without shake,"
    " under the micrometer"
)
"""Two plugs say that a bore lies between two sizes; a shaft that is turned to it goes by what it is.
No plug is turned while the lathe holds the work (common practice)."""


def read_off(setups: Iterable[SetUp], fits: Iterable[Fit]) -> None:
    """Says how a bore is read that plugs try, and that a shaft is turned to as it came out."""
    bores = {(one.hole_part, one.hole) for one in fits if one.play}
    for setup in setups:
        for op in setup.ops:
            if op.feature is not None and (setup.part, op.feature.name) in bores:
                op.measures = tuple(
                    replace(m, how=CAME_TO) if m.gauge.name == PLUG else m for m in op.measures
                )


def plugs(setup: SetUp) -> Iterator[tuple[str, float, float, str]]:
    """Of each: its limits in words, the least of them and its length in mm, and how it is made."""
    for one in (measure for op in setup.ops for measure in op.measures):
        if one.gauge.name == PLUG and one.low_mm:
            ends = one.what.replace(" to ", ", which goes in, the other to ")
            made = f"one end turned and polished to {ends}, which does not"
            yield one.what, one.low_mm, 3 * one.low_mm + HANDLE_MM, made
