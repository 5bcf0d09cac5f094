"""The sense of the cut: vectors on the placed bit, then what the picture shows of them."""

from __future__ import annotations

import re
from math import cos, hypot, radians, sin
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from jobs import ROOT
from picture_boxes import box_of, named, overlapping, points_of, smallest_pt, within_paper, words_of

from parts.attachment import Carrier, in_pose
from parts.features import GroundPoint
from parts.part import Part
from planner.geometry.ball import Arrangement
from planner.geometry.envelope import swinging_outlines
from planner.output.pictures.cut import cut_sense_svg
from planner.output.plan import Plan

Z = np.array([0.0, 0.0, 1.0])
"""Along the spindle, away from the chuck; x to the rear, y up (parts.placed), the operator at -x."""

QUARTER = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
"""Upright: the whole turned a quarter about the spindle, so that what stands in front of the work
across the bed (the body, at -x) stands below it, on the cross slide."""

SET_UP: dict[Arrangement, Any] = {"across": np.eye(3), "upright": QUARTER}


def rake(plan: Plan, radius_mm: float, swing_deg: float) -> tuple[Any, Any]:
    """The tip and the rake face's outward normal at a pose, from the bit's own feature and datum."""
    (placed,) = (p for p in plan.attachment.placed if p.name == "tool-bit")
    bit = placed.item
    assert isinstance(bit, Part) and placed.carrier is Carrier.HEAD
    (point,) = (f for f in bit.features if isinstance(f, GroundPoint))
    assert (bit.datums["A"].of, bit.datums["A"].element) == ("blank", "z-high")
    nose = point.tip

    def at(z_mm: float) -> Any:
        own = placed.frame.place((nose[0], nose[1], nose[2] + z_mm))
        return np.array(in_pose(own, Carrier.HEAD, radius_mm, swing_deg))

    return at(0.0), at(1.0) - at(0.0)


def test_forward_is_the_near_side_going_down() -> None:
    # common practice; ISO 841: clockwise as one looks out along the spindle from the headstock, which
    # is the right-hand rule about the direction of looking
    near = np.array([-1.0, 0.0, 0.0])
    assert np.cross(Z, near) == pytest.approx([0.0, -1.0, 0.0])
    assert np.cross(Z, [0.0, 1.0, 0.0]) == pytest.approx(near)  # and the top comes to the operator


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("swing_deg", [0.5, 45.0, 90.0, 135.0, 158.0])
def test_the_work_comes_on_to_the_rake_face(
    plan: Plan, arrangement: Arrangement, swing_deg: float
) -> None:
    turn = SET_UP[arrangement]
    for radius in (plan.sizing.sizes.tip_radius_min_mm, plan.sizing.sizes.tip_radius_max_mm):
        tip, normal = (turn @ v for v in rake(plan, radius, swing_deg))
        assert hypot(*tip[:2]) == pytest.approx(radius * sin(radians(swing_deg)))
        assert tip[2] == pytest.approx(radius * cos(radians(swing_deg)))
        forward, backward = np.cross(Z, tip), np.cross(-Z, tip)
        # square on to the face, at full speed, at every swing; off its back when reversed
        speed = np.linalg.norm(forward)
        assert forward @ normal == pytest.approx(-speed) and speed > 0.0
        assert backward @ normal == pytest.approx(speed)
        # the tip on the other side of the axis: the work comes on to the bit's back
        below, same = (turn @ v for v in rake(plan, radius, -swing_deg))
        assert np.cross(Z, below) @ same == pytest.approx(speed)
        if arrangement == "across":
            assert tip[1] > 0.0 and normal == pytest.approx([1.0, 0.0, 0.0])  # over; to the rear
        else:
            assert tip[0] < 0.0 and normal == pytest.approx([0.0, 1.0, 0.0])  # on your side; up


def picture(plan: Plan, arrangement: Arrangement, ball_mm: float = 30.0) -> ElementTree.Element:
    outlines = swinging_outlines(plan.attachment)
    text = cut_sense_svg(
        f"{plan.job.name}: a ball, sense of the cut",
        outlines,
        ball_mm,
        0.35 * ball_mm,
        (0.0, 158.0),
        arrangement,
    )
    return ElementTree.fromstring(text)


def turns(points: list[tuple[float, float]]) -> float:
    """Of three points of an arc: over nothing when it goes counter-clockwise."""
    (x0, y0), (x1, y1), (x2, y2) = points
    return (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)


@pytest.mark.parametrize("arrangement", ["across", "upright"])
def test_the_arrows_go_as_the_vectors_do(bench: Plan, arrangement: Arrangement) -> None:
    things: dict[str, list[tuple[float, float]]] = {
        name: points_of(path) for name, path in named(picture(bench, arrangement))
    }
    # the eye at the tailstock looks along -z, up is y: its right is -z cross y, the rear
    right = np.cross(-Z, [0.0, 1.0, 0.0])
    assert right == pytest.approx([1.0, 0.0, 0.0])
    # so a turn about +z is seen counter-clockwise, and reversed clockwise
    assert turns(things["spindle forward"]) > 0.0 > turns(things["spindle reversed"])
    assert turns(things["work on to the rake face"]) > 0.0
    assert turns(things["tip on the wrong side"]) > 0.0  # wrong by its place alone
    # the rake face as it is drawn: the work's arrow ends before it, on the side it looks to
    tip, normal = (SET_UP[arrangement] @ v for v in rake(bench, 15.0, 90.0))
    seen = np.array([normal @ right, normal[1]])
    face = box_of(things["rake face"])
    middle = np.array([(face[0] + face[2]) / 2, (face[1] + face[3]) / 2])
    # on that side of the bit, all along it
    bit = box_of(things["tool bit"])
    corners = [np.array([x, y]) for x in (bit[0], bit[2]) for y in (bit[1], bit[3])]
    assert middle @ seen == pytest.approx(max(corner @ seen for corner in corners), abs=0.02)
    (x0, y0), _, (x1, y1) = things["work on to the rake face"]
    assert (np.array([x1, y1]) - middle) @ seen > 0.0
    assert np.array([x1 - x0, y1 - y0]) @ seen < 0.0
    # and the tip stands where it is said to: the face's foot, from the ball's centre
    centre = np.mean([things["spindle forward"][0], things["spindle forward"][2]], axis=0)
    where = middle - centre
    assert where @ np.array([tip @ right, tip[1]]) > 15.0


def test_the_tip_goes_from_the_nose_over_the_top_to_the_stem(bench: Plan) -> None:
    # from the front the chuck is left, up is up: from the right over the top is counter-clockwise;
    # from above with the operator low on the paper, round his side is clockwise
    front, above = (dict(named(picture(bench, one))) for one in SET_UP)
    across, upright = front["tip over the top"], above["tip round your side"]
    for view, way in ((front, across), (above, upright)):
        # the bit at 90 stands across the middle of the way, at the nose right of it, at the end left
        middle, nose, end = (box_of(points_of(view[f"tool bit, {k}"])) for k in (90, 0, 158))
        _, (x, y), _ = points_of(way)
        assert middle[1] < y < middle[3] and nose[0] > x > end[2]
    (x0, _), (_, top), (x1, _) = points_of(across)
    assert turns(points_of(across)) > 0.0 and x0 > x1
    assert top > max(points_of(across)[0][1], points_of(across)[2][1])
    (x0, _), (_, low), (x1, _) = points_of(upright)
    assert turns(points_of(upright)) < 0.0 and x0 > x1
    assert low < min(points_of(upright)[0][1], points_of(upright)[2][1])


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("ball_mm", [2.0, 30.0, 200.0])
def test_it_is_readable_at_the_lathe(plan: Plan, arrangement: Arrangement, ball_mm: float) -> None:
    root = picture(plan, arrangement, ball_mm)
    boxes = words_of(root)
    said = " ".join(words for words, _ in boxes)
    for words in ("spindle forward", "rake face", "Goggles", "reversed", "you stand"):
        assert words in said
    assert ("over the top" in said) == (arrangement == "across")
    assert [n for n, _ in named(root)].count("never") == 4  # two crosses of two strokes
    assert overlapping(boxes) == [] and within_paper(root, boxes) == []
    wide, high = (float(root.attrib[k].removesuffix("mm")) for k in ("width", "height"))
    # as wide as A4 less what it is filed by; no higher than Letter less its foot
    assert wide <= 177.0 and high <= 260.0 and smallest_pt(root) >= 12.0


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("ball_mm", [10.0, 28.0, 50.0])
def test_no_word_lies_on_the_tool_at_the_nose(
    arrangement: Arrangement, ball_mm: float, tmp_path: Path
) -> None:
    """As it was: the dashes of a broad arm, of a larger lathe, ran through "the top of the work"."""
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    for key, large in (("spindle_over_seat", "1"), ("chuck_diameter", "6"), ("jaw_reach", "1-1/4"),
                       ("spindle_over_cross_slide", "3-1/4"), ("largest_shank", "3/4"),
                       ("max_ball_diameter", "2-1/2"), ("depth", "2-3/4")):  # fmt: skip
        text, found = re.subn(rf"(?m)^{key} = .*$", f'{key} = "{large}"', text, count=1)
        assert found == 1, key
    (tmp_path / "large.toml").write_text(text, encoding="utf-8")
    root = picture(Plan(tmp_path / "large.toml"), arrangement, ball_mm)
    dashed = [box_of(points_of(path)) for name, path in named(root) if name.endswith(", 0")]
    assert len(dashed) > 1
    words = words_of(root)
    for said, (left, low, right, top) in words:
        for box in dashed:
            apart = right < box[0] or box[2] < left or top < box[1] or box[3] < low
            assert apart, (said, box)
    assert overlapping(words) == [] and within_paper(root, words) == []


def test_what_is_no_sweep_is_refused(bench: Plan) -> None:
    outlines = swinging_outlines(bench.attachment)
    for ball, stem, sweep in ((30, 30, (0, 90)), (30, 10, (90, 90)), (30, 10, (0, 181))):
        with pytest.raises(ValueError, match="within 0 to 180"):
            cut_sense_svg("a", outlines, ball, stem, sweep)
