"""A cutter that is touched on a side to find its place meets that side at its own depth: an edge that
is filed back there is not where the whole edge is (a fact of the trade, common practice).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from drawn_shops import drawn
from making.shops import of

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk

SIDE = "Count from the side as it is where the cutter comes to it"

SLIDE = {"shop.machines": {"milling slide": {"travel": "100 mm"}}}


@cache
def planned(name: str, slide: bool = False) -> tuple[Any, Any, Any]:
    found: tuple[Any, Any, Any] = of(name, **(SLIDE if slide else {}))
    return found


def walked(
    name: str, slide: bool, steps: list[dict[str, Any]], remedy: str = SIDE
) -> dict[str, tuple[str, str, str]]:
    job, whole, route = planned(name, slide)
    found = walk(whole.parts, job, route.setup_records(), steps, placed=whole.placed)
    said = [one for one in found if one.remedy.startswith(remedy)]
    return {one.key: (one.code, one.value or "", one.limit or "") for one in said}


@pytest.mark.parametrize(
    ("name", "slide", "now", "was", "told"),
    [
        # the rod 9 mm from the arm's edge, which is filed back 2.5 beside the slot: 6.5
        ("bench-lathe", False, "6.5 as", "9 as", ("9 mm", 6.5)),
        ("bench-lathe", True, "6.5 as", "9 as", ("9 mm", 6.5)),
        ("engine-lathe", False, "8.5 as", "14 as", ("14 mm", 8.5)),
        ("inch-lathe", False, "1/4 = 0.250 as", "3/8 = 0.375 as", ("0.375 in", 0.25)),
    ],
)
def test_a_slot_is_not_counted_from_an_edge_that_is_filed_back(
    name: str, slide: bool, now: str, was: str, told: tuple[str, float]
) -> None:
    """As it was: counted from the whole edge, which the vice's jaws cover: the cutter, touched on what
    it reaches, went in too far by as much as the notch is deep."""
    steps = copy.deepcopy(planned(name, slide)[2].operation_records())
    assert walked(name, slide, steps) == {}
    (slot,) = (one for one in steps if "tool slot" in one["makes"])
    assert now in slot["text"]
    slot["text"] = slot["text"].replace(", where it is cut back,", "").replace(now, was)
    (one,) = walked(name, slide, steps).values()
    assert one[0] == "route-words"
    assert one[1] == f"counted {told[0]} from the -z side"
    lies, far, unit, off = one[2].rsplit(" ", 3)
    assert (lies, unit, off) == ("it lies", told[0][-2:], "off")
    assert float(far) == pytest.approx(told[1], rel=0.01)


def test_a_slit_is_counted_from_the_side_said() -> None:
    steps = copy.deepcopy(planned("bench-lathe")[2].operation_records())
    for one in steps:
        if one["kind"] == "slit":
            one["text"] = one["text"].replace("-z side", "-x side").replace("+x side", "-x side")
    assert len(walked("bench-lathe", False, steps)) == 2


@pytest.mark.parametrize("slide", [False, True])
def test_a_slit_beside_a_bore_is_not_counted_as_drawn(slide: bool) -> None:
    """As it was: the hinge's slit, 5.6 +-0.1 from the rod bore, counted from the block's end as drawn.
    That end is a side of the bar, a millimetre off where it is rolled 40 thick (EN 10058, from memory),
    and the bore itself was set from the thrust face, not from there."""
    steps = copy.deepcopy(planned("bench-lathe", slide)[2].operation_records())
    assert walked("bench-lathe", slide, steps, "Count by") == {}
    (slit,) = (one for one in steps if "hinge slit" in one["makes"])
    measured = "5.6 more than is measured from D to that side (23.6 as drawn)"
    assert measured in slit["text"]
    slit["text"] = slit["text"].replace(measured, "23.6 as drawn")
    (one,) = walked("bench-lathe", slide, steps, "Count by what is measured from D").values()
    assert one == (
        "route-words",
        "hinge slit: counted from a side as drawn",
        "it lies from D, and that side as it was rolled, welded and faced",
    )


def test_a_side_cut_back_as_far_as_the_end_face_is_found() -> None:
    """A notch of 2 from an end that was faced: at the face itself nothing is left of the bar's side,
    8 from the slot's middle; the cutter comes to the notch's, 6 from it."""
    data = drawn(110026)[1]
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    rows = (route.setup_records(), route.operation_records())
    found = walk(whole.parts, job, *rows, placed=whole.placed)
    assert [one for one in found if one.code == "route-words"] == []
    (step,) = [one for one in rows[1] if one["feature"] == "tool slot" and one["kind"] == "mill"]
    old = step | {"text": step["text"].replace("in by 6 as", "in by 8 as")}
    steps = [old if one is step else one for one in rows[1]]
    told = walk(whole.parts, job, rows[0], steps, placed=whole.placed)
    assert [one.code for one in told if one not in found] == ["route-words"]
