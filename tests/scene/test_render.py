"""The z-buffer and the PNG: areas, what hides what, edges, and bytes that another program reads."""

from __future__ import annotations

import io
from math import pi

import numpy as np
import pytest
from PIL import Image

from planner.scene.bodies import block, turned
from planner.scene.png import png
from planner.scene.render import Drawn, render

FRONT = (0.0, 0.0, 1.0)
"""Looking along z: x to the right, y up."""


def drawn(mesh, colour=(0.5, 0.5, 0.5), solid=True):  # type: ignore[no-untyped-def]
    return Drawn(mesh.points, mesh.triangles, mesh.edges, colour, solid)


def inked(picture: np.ndarray) -> np.ndarray:
    """Where the picture is not white paper."""
    found: np.ndarray = (picture < 250).any(axis=2)
    return found


def test_a_block_seen_square_on_covers_its_own_area() -> None:
    picture = render([drawn(block((0, 0, 0), (40, 20, 5)))], FRONT, 400, 200)
    assert picture.shape == (200, 400, 3)
    # the margin: it fills 0.94 of the paper, so 0.94^2 of it is covered
    assert inked(picture).mean() == pytest.approx(0.94**2, abs=0.01)


def test_a_ball_covers_the_area_of_its_circle() -> None:
    angles = [pi * k / 60 for k in range(61)]
    ball = turned([(-10 * np.cos(a), 10 * np.sin(a)) for a in angles])
    picture = render([drawn(ball)], (1.0, 0.3, 0.7), 300, 300)
    # pi/4 of the square it stands in; a polygon of 48 sides loses 0.3 % of it
    assert inked(picture).mean() == pytest.approx(0.94**2 * pi / 4, abs=0.012)


def middle(picture: np.ndarray) -> tuple[int, ...]:
    height, width = picture.shape[:2]
    return tuple(int(v) for v in picture[height // 2, width // 2])


def test_what_stands_nearer_hides_what_is_behind_whatever_the_order() -> None:
    near = drawn(block((-5, -5, 20), (5, 5, 25)), (1.0, 0.0, 0.0))
    far = drawn(block((-20, -20, -5), (20, 20, 0)), (0.0, 0.0, 1.0))
    one, other = render([near, far], FRONT, 200, 200), render([far, near], FRONT, 200, 200)
    assert (one == other).all()
    red, _, blue = middle(one)
    assert red > blue
    red, _, blue = middle(render([near, far], (0.0, 0.01, -1.0), 200, 200))  # from behind
    assert blue > red


def test_edges_are_drawn_in_black_and_hidden_behind_a_body() -> None:
    wire = drawn(block((-5, -5, -30), (5, 5, -20)), solid=False)
    wall = drawn(block((-20, -20, 0), (20, 20, 1)), (1.0, 1.0, 1.0))
    bare = render([wire], FRONT, 200, 200)
    assert (bare < 60).all(axis=2).sum() > 300 and middle(bare) == (255, 255, 255)
    both = render([wire, wall], FRONT, 200, 200)
    inside = both[60:140, 60:140]
    assert not (inside < 60).all(axis=2).any()  # only the wall's own outline is seen


def test_faces_that_look_another_way_are_of_another_shade() -> None:
    picture = render([drawn(block((0, 0, 0), (10, 10, 10)))], (-0.7, 0.5, 0.7), 200, 200)
    shades = {tuple(v) for v in picture.reshape(-1, 3).tolist() if 60 < v[0] < 250}
    counts = [((picture == shade).all(axis=2)).sum() for shade in shades]
    assert sum(count > 1500 for count in counts) == 3  # three faces are seen, each flat


def test_another_program_reads_the_png_as_it_was_drawn() -> None:
    rng = np.random.default_rng(5)
    for shape in ((7, 11, 3), (1, 1, 3), (64, 3, 3)):
        pixels = rng.integers(0, 256, shape, dtype=np.uint8)
        grey = np.repeat(pixels[..., :1], 3, axis=2)
        for one, mode in ((pixels, "RGB"), (grey, "L" if shape != (1, 1, 3) else "L")):
            image = Image.open(io.BytesIO(png(one, 11.811)))
            image.load()
            assert image.mode == mode or (one == one[..., :1]).all()
            assert (np.asarray(image.convert("RGB")) == one).all()
            assert image.info["dpi"] == pytest.approx((300, 300), abs=0.1)
    assert png(pixels) == png(pixels)
    with pytest.raises(ValueError, match="8-bit"):
        png(pixels.astype(np.float64))
