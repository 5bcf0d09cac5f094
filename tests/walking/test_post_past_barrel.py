"""To bore the housing the tool post is turned along the bed, and goes to the tailstock with the work.

A tailstock's barrel is 25 to 32 mm thick, its centre stands 25 out of it (both common practice): a post
whose jaws come nearer to the bore's axis than 16 strikes it, unless the bar's tail is as long.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from making.shops import of

from parts.attachment import Attachment
from planner.job.tables import Job
from planner.making.route import Route
from planner.walking.walk import walk

Data = dict[str, Any]

FRONT_MM, DEPTH_MM, TUBE_MM, BARREL_MM, CENTRE_MM = 98.0, 92.0, 76.0, 16.0, 25.0
"""Of the engine lathe's example: the post's front behind the housing's, its depth, the tube's length;
half of a barrel, and how far a centre stands out."""


@cache
def _made(out: str) -> tuple[Job, Attachment, Route]:
    return of("engine-lathe", **{"tool_post.stands_out": out})


def _bores(route: Route) -> list[Data]:
    steps = route.operation_records()
    return [one for one in steps if one["part"] == "housing" and one["kind"] == "bore"]


def _told(out: str, **tool: Any) -> list[tuple[str, str]]:
    """What is said of the bar's steps, the bar changed."""
    job, whole, route = _made(out)
    numbers = {one["number"] for one in _bores(route)}
    steps = [
        one | {"tool": one["tool"] | tool} if one["number"] in numbers else one
        for one in route.operation_records()
    ]
    found = walk(whole.parts, job, route.setup_records(), steps, placed=whole.placed)
    keys = {f"step {number}" for number in numbers}
    return [(one.code, one.value) for one in found if one.key in keys]


@pytest.mark.parametrize("out", ["3 mm", "5 mm", "8 mm"])
def test_the_bars_tail_lets_the_post_go_by(out: str) -> None:
    """The tube's front comes to the bit; then the post's rear is its depth and front behind that."""
    _, whole, route = _made(out)
    assert whole.sizes.shank_inner_z_mm == pytest.approx(19.9)
    for one in _bores(route):
        tail = one["tool"]["reach_mm"] - one["tool"]["bit_at_mm"]
        assert tail + CENTRE_MM >= FRONT_MM + DEPTH_MM
    assert _told(out) == []


def test_a_post_that_stands_out_no_farther_than_the_shank_clears_it() -> None:
    _, whole, route = _made("0 mm")
    assert whole.sizes.shank_inner_z_mm > BARREL_MM + 1.0
    for one in _bores(route):
        assert one["tool"]["reach_mm"] - one["tool"]["bit_at_mm"] < FRONT_MM + DEPTH_MM - CENTRE_MM
    assert _told("0 mm") == []


def test_a_short_bar_drives_the_post_into_the_barrel() -> None:
    """As it was: with jaws 5 out, 14.9 from the axis, the bar of the shank alone, 186 long."""
    short = _bores(_made("0 mm")[2])[0]["tool"]
    changed = {key: short[key] for key in ("reach_mm", "bit_at_mm")}
    told = [value for code, value in _told("5 mm", **changed) if code == "route-tool-reach"]
    assert len(told) == len(_bores(_made("5 mm")[2])) >= 2
    past = DEPTH_MM + 1.0  # at the best its front is 1 behind the tube, where the shank is free
    assert all(one.startswith(f"the tool post runs {past:g} mm on beside") for one in told)
