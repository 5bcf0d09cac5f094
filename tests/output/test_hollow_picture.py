"""The picture of a hollow: what is drawn against the sizes of the job, its words apart and large."""

from __future__ import annotations

from math import hypot, sqrt
from xml.etree import ElementTree

import pytest
from picture_boxes import SVG, overlapping, points_of, smallest_pt, within_paper, words_of
from turned import job_of, turned_of

from planner.output.pictures.hollow import hollow_svg

DISHES = [
    {"diameter": 160, "depth": 0.5, "blank_diameter": 50},
    {"diameter": 160, "depth": 3, "blank_diameter": 50},
    {"diameter": 160, "depth": 8, "blank_diameter": 75},
    {"diameter": 196, "depth": 6, "blank_diameter": 70},  # past what goes in the text at 1:1
]


def drawn(dish: dict[str, object], name: str = "x") -> ElementTree.Element:
    job = job_of({"shape": "socket", "name": name} | dish)
    (plan,) = turned_of(job).sockets
    assert plan.passes
    return ElementTree.fromstring(hollow_svg(plan, job))


@pytest.mark.parametrize("dish", DISHES)
def test_the_cap_is_drawn_about_the_pivot_to_its_mouth_and_depth(dish: dict[str, float]) -> None:
    root = drawn(dict(dish))
    words = " ".join(said for said, _ in words_of(root))
    scale = 0.5 if "scale 1:2" in words else 1.0
    radius, depth = dish["diameter"] / 2, dish["depth"]
    # the firm outline of the work: what of it lies in the face and behind it is the cap
    work = points_of(next(p for p in root.iter(f"{SVG}path") if p.get("fill") == "url(#work)"))
    half = sqrt(depth * (2 * radius - depth))  # of the mouth of a cap, any handbook
    cap = [(z, y) for z, y in work if abs(y) < scale * half + 0.02 and z <= 0.011]
    assert len(cap) > 50
    pivot = scale * (radius - depth)
    for z, y in cap:
        assert hypot(z - pivot, y) == pytest.approx(scale * radius, abs=0.02)
    assert min(z for z, _ in cap) == pytest.approx(-scale * depth, abs=0.02)
    assert max(y for _, y in cap) == pytest.approx(scale * half, abs=0.02)
    for said in (f"mouth {2 * half:.2f} mm", f"{depth:g} mm deep", f"pivot {radius - depth:g} mm"):
        assert said in words, words


@pytest.mark.parametrize("dish", DISHES)
@pytest.mark.parametrize("name", ["x", "the seat of the ball under the garden gate's lower hinge"])
def test_its_words_are_large_apart_and_on_the_paper(dish: dict[str, object], name: str) -> None:
    root = drawn(dish, name)
    words = words_of(root)
    assert len(words) >= 7 and overlapping(words) == [] and within_paper(root, words) == []
    assert smallest_pt(root) >= 12.0  # read at the machine (common practice)
    # no dimension's line goes through words, the pivot's among them
    for path in root.iter(f"{SVG}path"):
        points = points_of(path)
        if len(points) == 2 and points[0][0] == points[1][0]:
            (x, y0), (_, y1) = points
            for said, (left, low, right, top) in words:
                crossed = left < x < right and min(y0, y1) < top and low < max(y0, y1)
                assert not crossed, said


def test_a_book_with_a_hollow_shows_it() -> None:
    from jobs import ROOT, planned

    from planner.book.model import Picture
    from planner.output.book.balls import every
    from planner.output.book.pages import Pages

    of = Pages(planned(ROOT / "examples" / "engine-lathe.toml"))
    (dish,) = [one for one in every(of) if one.title == "Hollow: dish"]
    shown = [one for one in dish.blocks if isinstance(one, Picture)]
    assert [one.name for one in shown] == ["Sizes and passes, dish"]
