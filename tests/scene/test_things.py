"""What stands in a scene, blocks in the solids' stead: names, titles, what is alike, how it moves."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from parts.part import Bought, Part
from planner.output.plan import Plan
from planner.scene import scene as made_of
from planner.scene.bodies import block
from planner.scene.model import joined

BLOCK = block((-1.0, -2.0, -3.0), (1.0, 2.0, 3.0))


@pytest.fixture
def blocks(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """Every solid a block; the things that one was asked for."""
    asked: list[object] = []

    def mesh(item: object) -> tuple[np.ndarray, np.ndarray]:
        asked.append(item)
        return BLOCK.points, BLOCK.triangles

    monkeypatch.setitem(made_of.__globals__, "mesh", mesh)
    return asked


def test_every_thing_has_a_name_of_its_own_and_things_alike_a_mesh(
    plan: Plan, blocks: list[object]
) -> None:
    found = made_of(plan.attachment, lambda item: item.kind)
    names = [one.name for one in found.things]
    assert len(set(names)) == len(names) == len(plan.attachment.placed)
    seen: Counter[str] = Counter()
    for placed, name in zip(plan.attachment.placed, names, strict=True):
        seen[placed.name] += 1
        again = seen[placed.name]
        assert name == (placed.name if again == 1 else f"{placed.name} ({again})")
    assert max(seen.values()) > 1
    # a bought item is meshed once however often it is there, a part too
    bought = [one for one in blocks if isinstance(one, Bought)]
    assert len(bought) == len(set(bought)) and len(blocks) < len(names)
    assert len({id(one.mesh) for one in found.things}) == len(blocks)


def test_titles_kinds_colours_and_reach(bench: Plan, blocks: list[object]) -> None:
    found = made_of(bench.attachment, lambda item: f"{item.kind} of {item.length_mm}")
    sizes = bench.attachment.sizes
    assert found.tip_mm == (sizes.tip_radius_min_mm, sizes.tip_radius_max_mm)
    assert found.swing_deg == (0.0, 180.0)
    for thing, placed in zip(found.things, bench.attachment.placed, strict=True):
        item = placed.item
        assert (thing.frame, thing.carrier, thing.solid) == (placed.frame, placed.carrier, True)
        if isinstance(item, Part):
            assert (thing.kind, thing.title, thing.colour) == ("part", item.title, item.colour)
        else:
            assert (thing.kind, thing.colour) == ("bought", (0.55, 0.57, 0.60))
            called = f"{item.kind.capitalize()} of {item.length_mm}"
            assert thing.title == f"{called}: {item.use}"
    assert blocks


def test_a_triangle_without_an_area_has_no_normal_and_does_no_harm() -> None:
    points = np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0], [0, 1, 0]])
    with np.errstate(all="raise"):
        mesh = joined(points, np.array([[0, 1, 2], [0, 1, 3]], np.int32))
    assert len(mesh.triangles) == 2 and np.isfinite(mesh.points).all()
