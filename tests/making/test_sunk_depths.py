"""A depth that begins at another hole's bottom says so: the man at the drill counts from the face."""

from __future__ import annotations

import pytest
from making.shops import of

from planner.walking.walk import walk


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
        found = walk(whole.parts, job, route.setup_records(), steps)
        return [one.value for one in found if one.code == "route-words"]

    assert told() == []
    for one in sunk:
        one["text"] = one["text"].replace(said, " deep")
    assert told() == [f'"{one["text"]}"' for one in sunk]
