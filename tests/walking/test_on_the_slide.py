"""Work clamped to the cross slide: the top slide comes off first, and a round on it points somewhere.

Common practice: the top slide is bolted to the cross slide where the work is to lie, with the tool post
on it; who clamps work to the slide takes it off. A shaft that stands out of the work by several times
what is clamped lies level across the bed, or along it toward the spindle or away from it: packing sets
one of these up, and a cross slide has no room below for another.
"""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import shop

from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]
OFF = "top slide and post off; "


def _slide(part: str) -> tuple[list[Data], list[Data], list[Data]]:
    """Set-ups and steps of a part where there is but a lathe, and the set-ups on its cross slide."""
    _, _, route = shop("a lathe alone")
    setups = [one for one in route.setup_records() if one["part"] == part]
    steps = [one for one in route.operation_records() if one["part"] == part]
    return setups, steps, [one for one in setups if one["hold"]["by"] == "cross slide"]


def _walked(part: str, setups: list[Data], steps: list[Data]) -> list[Finding]:
    job, whole, _ = shop("a lathe alone")
    parts = [one for one in whole.parts if one.name == part]
    return list(walk(parts, job, setups, steps, placed=whole.placed))


@pytest.mark.parametrize("part", ["rotating-body", "stop-bar", "index-ring", "sliding-head"])
def test_the_top_slide_is_off_before_work_lies_on_the_cross_slide(part: str) -> None:
    setups, steps, on = _slide(part)
    assert on and all(one["holding"].startswith(OFF) for one in on)
    assert not any("top slide" in one["holding"] for one in setups if one not in on)
    old = [one | {"holding": one["holding"].removeprefix(OFF)} for one in setups]
    why = "the top slide stands where the work is to lie"
    found = {o.key for o in _walked(part, old, steps) if o.limit == why}
    assert found == {f"set-up {one['number']}" for one in on}
    assert not [o for o in _walked(part, setups, steps) if o.limit == why]


def test_which_way_a_shaft_welded_to_the_work_points_is_said() -> None:
    """The body's shaft runs along x, its flat looks along z, the feed screw's hole runs along y: with
    each of the two toward the spindle the shaft is level. As it was, the faces stood "apart between
    stops", which would have set the shaft upright, and nothing was said of it."""
    setups, steps, on = _slide("rotating-body")
    told = [one for one in on if not one["piece"] and "arbor" not in one["holding"]]
    assert {one["hold"]["up"] for one in told} >= {"+z", "+y", "-z"}
    for one in told:
        assert "; the shaft across the bed" in one["holding"]
        assert "apart between stops" not in one["holding"]
    (flat,) = [one for one in told if one["hold"]["up"] == "+z"]
    assert "apart, one of them down, against stops" in flat["holding"]
    key = f"set-up {flat['number']}"

    def limits(words: str) -> list[str]:
        other = [one | {"holding": words} if one is flat else one for one in setups]
        return [o.limit for o in _walked("rotating-body", other, steps) if o.key == key]

    assert limits(flat["holding"]) == []
    lies = "where the shaft points is not said"
    assert limits(flat["holding"].replace("; the shaft across the bed", "")) == [lies]
    assert limits(flat["holding"].replace("across the bed", "toward the spindle")) == [lies]
    between = flat["holding"].replace(", one of them down, against stops", " between stops")
    assert limits(between) == ["with the shaft across the bed one of these faces is down"]


def test_a_rod_along_the_bed_points_to_one_end_of_it() -> None:
    """The rod stands out of the arm's -y side: that side toward the spindle, so does the rod."""
    _, _, on = _slide("sliding-head")
    ends = {"+y": "the rod toward the tailstock", "-y": "the rod toward the spindle"}
    seen = [one for one in on if not one["piece"] and one["hold"]["up"] in ends]
    assert seen and all(ends[one["hold"]["up"]] in one["holding"] for one in seen)


def test_a_feed_nut_drilled_along_the_bed_without_setting_the_rod_is_refused() -> None:
    """The arm lies by its faces, and the rod was welded to them square within 0.2 (common practice): as
    tests/walking/test_along_the_rod.py reckons it, the screw would bind. So the lathe alone had it."""
    setups, steps, _ = _slide("sliding-head")
    why = "nothing sets the shaft upright: what it is welded to may lean"
    thread = {one["setup"] for one in steps if one["feature"] == "feed nut thread"}
    own = [one for one in setups if one["number"] in thread]
    what = "shims under and beside the work until the rod is both ways parallel to the bed"
    assert len(own) > 1 and all(any(a["what"] == what for a in one["align"]) for one in own)

    def found(setups: list[Data]) -> list[str]:
        return [o.key for o in _walked("sliding-head", setups, steps) if o.limit == why]

    assert found(setups) == []
    old = [
        one | {"align": [row for row in one["align"] if row["what"] != what]} if one in own else one
        for one in setups
    ]
    spot, drill = (
        f"step {one['number']}"
        for one in steps
        if one["feature"] == "feed nut thread" and one["kind"] in ("spot", "drill")
    )
    assert {spot, drill} <= set(found(old))
