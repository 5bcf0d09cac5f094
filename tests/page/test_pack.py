"""A scene as the page gets it, unpacked again by hand: sixteen bits to a length, base64 (RFC 4648)."""

from __future__ import annotations

from base64 import b64decode
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace

from parts.frame import Frame
from parts.placed import Carrier
from planner.page import Blocks, packed
from planner.page.assemble import FOLDER, page, strings
from planner.scene import Mesh, Scene, Thing

POINTS = np.array([[0.0, 0, 0], [40.0, 0, 0], [0, 12.3456, 0], [-1.25, 3.0, 131.07]])
MESH = Mesh(POINTS, np.array([[0, 1, 2], [0, 2, 3]], np.int32), np.array([[0, 1]], np.int32))
THING = Thing("arm", "Arm", "part", MESH, Frame((1.0, -0.0000001, 3.1234567), x="+y", z="+z"),
              Carrier.HEAD, (0.12349, 0.5, 1.0), (0.0, 7.00000049, -2.0))  # fmt: skip


def numbers(text: str) -> np.ndarray:
    return np.frombuffer(b64decode(text), dtype="<u2")


def test_every_point_is_unpacked_within_half_a_step() -> None:
    (mesh,) = packed(Scene((THING,), (4.0, 20.0), (0.0, 180.0)), [])["meshes"]
    # the longest side, 131.07, in 65535 steps: 0.002 each, no step being finer
    assert mesh["step"] == 0.002
    assert mesh["low"] == [-1.25, 0.0, 0.0] and mesh["high"] == [40.0, 12.3456, 131.07]
    points = numbers(mesh["points"]).reshape(-1, 3) * mesh["step"] + mesh["low"]
    assert np.abs(points - POINTS).max() <= 0.001 + 1e-9
    assert numbers(mesh["triangles"]).tolist() == [0, 1, 2, 0, 2, 3]
    assert numbers(mesh["edges"]).tolist() == [0, 1]


@pytest.mark.parametrize(
    ("side", "step"), [(131.0, 0.002), (131.08, 0.002001), (655.35, 0.01), (700.0, 0.010682)]
)
def test_a_larger_mesh_has_larger_steps(side: float, step: float) -> None:
    for off in (0.0, 300.0, -90.0):  # wherever it lies
        points = np.array([[0.0, 0, 0], [side, 0, 0], [0, 1, 0], [1, 1, 1.0]]) + off
        mesh = replace(MESH, points=points)
        (made,) = packed(Scene((replace(THING, mesh=mesh),), (4, 20), (0, 180)), [])["meshes"]
        assert made["step"] == step and numbers(made["points"]).max() <= 65535


def test_things_share_meshes_and_a_ball_brings_its_own() -> None:
    other = replace(THING, name="nut", title="Nut", kind="bought", solid=False)
    work = replace(THING, name="work", kind="work", mesh=replace(MESH))
    alone = Scene((THING, other), (4.0, 20.00000049), (0.0, 180.0))
    ball = Scene((THING, other, work), (15.0, 18.0), (12.3456789, 150.0))
    made: dict[str, Any] = packed(alone, [("ball, 30 mm", ball)])
    assert len(made["meshes"]) == 2
    assert [(one["name"], one["mesh"]) for one in made["things"]] == [("arm", 0), ("nut", 0)]
    first, second = made["things"]
    assert first == {
        "name": "arm", "title": "Arm", "kind": "part", "mesh": 0, "origin": [1.0, 0.0, 3.123457],
        "axes": [[0, 1, 0], [-1, 0, 0], [0, 0, 1]], "carrier": Carrier.HEAD.value,
        "colour": [0.123, 0.5, 1.0], "away": [0.0, 7.0, -2.0], "solid": True,
    }  # fmt: skip
    assert (second["kind"], second["solid"]) == ("bought", False)
    assert str(first["origin"][1]) == "0.0"  # nothing is minus nothing
    (one,) = made["balls"]
    assert [(thing["name"], thing["mesh"]) for thing in one["things"]] == [("work", 1)]
    assert (made["tip_mm"], made["swing_deg"]) == ([4.0, 20.0], [0.0, 180.0])
    assert (one["title"], one["tip_mm"], one["swing_deg"]) == (
        "ball, 30 mm",
        [15, 18],
        [12.345679, 150],
    )


def test_sixteen_bits_number_65535_points() -> None:
    for many, good in ((65535, True), (65536, False)):
        mesh = replace(MESH, points=np.zeros((many, 3)) + np.arange(many)[:, None] % 7)
        scene = Scene((replace(THING, mesh=mesh),), (4, 20), (0, 180))
        if good:
            assert len(numbers(packed(scene, [])["meshes"][0]["points"])) == 3 * many
        else:
            with pytest.raises(ValueError, match="65536 points; sixteen bits number 65535"):
                packed(scene, [])


def test_what_is_packed_in_the_page_is_deflate_that_zlib_unpacks() -> None:
    """RFC 1951 without a head, in base64; what is little stands as JSON that ends no script."""
    import json
    import re
    import zlib

    from planner.drawing.lettering import FAMILY, FONT

    pictures = [{"name": "a", "svg": "<svg>" + "x" * 500 + "</svg>"}]
    text = page(Blocks({"job": {"name": "a < b"}}, pictures, {"k": [1]}, None), FONT, FAMILY)
    found = dict(re.findall(r'data-packed id="(\w+)">([^<]*)<', text))
    assert set(found) == {"pictures", "scene"}
    for name, wanted in (("pictures", pictures), ("scene", {"k": [1]})):
        data = b64decode(found[name])
        assert json.loads(zlib.decompress(data, -15)) == wanted
    assert len(found["pictures"]) < 120  # packed hard: five hundred letters alike
    assert '"name":"a \\u003c b"' in text and "<title>a &lt; b</title>" in text
    for script in FOLDER.glob("*.js"):
        assert script.read_text(encoding="utf-8") in text
    ui = strings()["ui"]
    assert all(
        ui[key].replace("'", "&#x27;") in text for key in ("skip", "navigation", "no_script")
    )
    assert text.startswith("<!doctype html>")  # what the frame says of itself is for us
