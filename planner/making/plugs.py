"""Plug gauges that a set-up's bores are tried with. Imported by making.aids."""

from __future__ import annotations

from collections.abc import Iterator

from planner.making.gauges import PLUG
from planner.making.model import SetUp

HANDLE_MM = 20.0
"""A plug gauge is held between its ends by so much (common practice)."""


def plugs(setup: SetUp) -> Iterator[tuple[str, float, float, str]]:
    """Of each: its limits in words, the least of them and its length in mm, and how it is made."""
    for one in (measure for op in setup.ops for measure in op.measures):
        if one.gauge.name == PLUG and one.low_mm:
            ends = one.what.replace(" to ", ", which goes in, the other to ")
            made = f"one end turned and polished to {ends}, which does not"
            yield one.what, one.low_mm, 3 * one.low_mm + HANDLE_MM, made
