"""A depth that begins at another hole's bottom says so: the man at the drill counts from the face."""

from __future__ import annotations

import pytest
from making.shops import of, walked_whole
from walking.part_walk import near

from parts.features import Hole, TappedHole
from parts.part import every_feature

PITCHES = {"M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5}
"""ISO 261, coarse, mm (from memory)."""


@pytest.mark.parametrize(
    ("example", "changes", "kinds"),
    [
        ("bench-lathe", {}, {"tap"}),
        ("inch-lathe", {}, {"tap"}),
        # a thin drill does not go so deep from the face: the wide one first, it from there
        ("engine-lathe", {"attachment.sizes": {"clamp_screw": "M5"}}, {"drill", "tap"}),
    ],
)
def test_a_depth_below_another_hole_says_from_where(
    example: str, changes: dict[str, object], kinds: set[str]
) -> None:
    """The clamp's thread lies under its clear hole: "9/16 in deep" after "3/4 deep" drilled nothing,
    counted from the face (common practice). So routes had it."""
    job, whole, route = of(example, **changes)
    steps = route.operation_records()
    said = " deep from the bottom of the clamp screw hole"
    sunk = [one for one in steps if said in one["text"]]
    assert {one["kind"] for one in sunk} == kinds
    assert {one["feature"] for one in sunk} == {"clamp screw thread"}

    def told() -> list[str]:
        found = near(whole, job, route.setup_records(), steps, *{one["part"] for one in sunk})
        return [one.value for one in found if one.code == "route-words"]

    assert [o for o in walked_whole(example, **changes) if o.code == "route-words"] == []
    for one in sunk:
        one["text"] = one["text"].replace(said, " deep")
    assert told() == [f'"{one["text"]}"' for one in sunk]


@pytest.mark.parametrize("example", ["bench-lathe", "engine-lathe"])
def test_before_a_tap_a_hole_is_drilled_as_deep_as_its_drawing_has_it(example: str) -> None:
    """Three threads deeper than the full ones, for the tap's lead (common practice). By a rule "M5 6.25
    deep, drill 8.65" was drilled 8.5."""
    _, whole, route = of(example)
    blind = {
        one.name: one
        for part in whole.parts
        for _, one in every_feature(part)
        if isinstance(one, TappedHole) and not one.through
    }
    (clear,) = (
        one.depth_mm
        for part in whole.parts
        for _, one in every_feature(part)
        if isinstance(one, Hole) and one.name == "clamp screw hole"
    )
    drills = [
        one
        for one in route.operation_records()
        if one["feature"] in blind and one["kind"] == "drill" and " mm deep" in one["text"]
    ]
    assert len(drills) > 3
    odd = 0
    for step in drills:
        hole = blind[step["feature"]]
        pitch = PITCHES[hole.thread.partition("-")[0]]
        above = clear if hole.name == "clamp screw thread" else 0.0  # it lies under its clear hole
        deep = round(above + hole.depth_mm + 3 * pitch, 2)
        assert f", {deep:g} mm deep" in step["text"], step["text"]
        odd += deep % 0.5 > 0
    assert odd or example == "engine-lathe"
