"""The tightest spot: a gap known by hand, and the gaps of the examples measured on the picture."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from xml.etree import ElementTree

import pytest
import shapely
from msgspec.structs import replace
from picture_boxes import (
    Box,
    box_of,
    named,
    overlapping,
    points_of,
    smallest_pt,
    within_paper,
    words_of,
)

from parts.attachment import Carrier, in_pose
from planner.checking.clearance import Gap
from planner.geometry.ball import Arrangement
from planner.geometry.envelope import Edge, Outline, swinging_outlines
from planner.output.pictures.tight import tight_svg
from planner.output.pictures.tight_scene import Standing
from planner.output.plan import Plan
from planner.sizing.post import post_near_mm
from planner.turning.model import BallPlan
from planner.words.numbers import INCH, METRIC, Numbers

Things = list[tuple[str, list[tuple[float, float]]]]


def block(name: str, y: tuple[float, float], z: tuple[float, float], x: float = 0.0) -> Outline:
    """A block of the head, from x - 10 to x along the pivot."""
    return tuple(
        Edge(name, Carrier.HEAD, x - 10.0, x, a, b, 0.0, cuts=name == "tool bit")
        for a in y
        for b in z
    )


BIT, ARM = block("tool bit", (0.0, 30.0), (-3.0, 3.0)), block("arm", (20.0, 30.0), (-5.0, 5.0))
WORK = [(-70.0, 15.0), (-48.0, 15.0), (-48.0, 5.0), (-14.0, 5.0), (0.0, 15.0), (15.0, 0.0)]
STANDING = Standing(55.0, 10.0, 60.0, 80.0, 1.0, slide_mm=60.0, post_mm=12.0)


def things(text: str) -> Things:
    return [(name, points_of(path)) for name, path in named(ElementTree.fromstring(text))]


def one(found: Things, name: str) -> Box:
    """The box of the first of a name."""
    return box_of(next(points for known, points in found if known == name))


def gap_mm(found: Things, chuck_mm: float, name: str = "gap") -> float:
    """The gap as it is drawn, to the chuck's drawn diameter as a scale."""
    (x0, y0), (x1, y1) = next(points for known, points in found if known == name)
    _, low, _, high = one(found, "chuck")
    return hypot(x1 - x0, y1 - y0) * chuck_mm / (high - low)


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("numbers", [METRIC, INCH])
def test_an_arm_pointing_at_the_jaws(numbers: Numbers, arrangement: Arrangement) -> None:
    # tip radius 20, straight at the chuck: the arm runs from 40 to 50 behind the centre, 5 over and
    # under the axis; the jaws' front stands at 55, so 5 are left
    gap = Gap("jaws", 5.0, "arm", 180.0, 20.0, 1.0)
    text = tight_svg(
        "a ball", WORK, (BIT, ARM), gap, STANDING, numbers, [("neck", -14.0, 5.0)], arrangement
    )
    found = things(text)
    _, low, _, high = one(found, "chuck")
    scale = (high - low) / 80.0
    assert gap_mm(found, 80.0) == pytest.approx(5.0, abs=0.05)
    # where everything is, from the jaws' front: the arm 5 to 15 off it, the tip 35, the ball's end 70
    front = one(found, "jaws' front")[0]
    arm, bit, work = (one(found, name) for name in ("arm", "tool bit", "work"))
    for at, expected in ((arm[0], 5), (arm[2], 15), (bit[2], 35), (work[2], 70), (work[0], -15)):
        assert (at - front) / scale == pytest.approx(expected, abs=0.05)
    assert (arm[3] - arm[1]) / scale == pytest.approx(10.0, abs=0.05)
    words = " ".join(text for text, _ in words_of(ElementTree.fromstring(text)))
    assert f"arm to jaws, {numbers.clearance(5.0)}" in words and "neck" in words
    assert ("From the front" in words) == (arrangement == "across")


def test_what_goes_over_the_jaws_does_not_meet_them() -> None:
    # the arm's root reaches 65 behind the centre, past the jaws' front at 55, but 35 to 45 over the
    # spindle: the jaws go out to 30. What meets them is still the arm's end, 5 off
    root = block("arm", (30.0, 45.0), (35.0, 45.0))
    gap = Gap("jaws", 5.0, "arm", 180.0, 20.0, 1.0)
    found = things(tight_svg("a", WORK, (BIT, ARM, root), gap, STANDING, METRIC))
    assert gap_mm(found, 80.0) == pytest.approx(5.0, abs=0.05)
    # the chuck's face goes out to 40: 65 behind the centre as well, it is met
    gap = replace(gap, obstacle="chuck face", distance_mm=0.0)
    found = things(tight_svg("a", WORK, (BIT, ARM, root), gap, STANDING, METRIC))
    assert gap_mm(found, 80.0) == pytest.approx(0.0, abs=0.05)


def test_a_small_gap_is_enlarged_and_a_wide_one_is_not() -> None:
    # 0.5 left: drawn eight times full size, the most, so 4 on the paper; 20 left needs no enlarging
    for left, enlarged in ((0.5, 4.0), (20.0, None)):
        gap = Gap("jaws", left, "arm", 180.0, 20.0, 0.2)
        standing = replace(STANDING, jaws_mm=50.0 + left)
        found = things(tight_svg("a", WORK, (BIT, ARM), gap, standing, METRIC))
        drawn = [points for name, points in found if name == "gap, enlarged"]
        assert len(drawn) == (enlarged is not None)
        for (x0, y0), (x1, y1) in drawn:
            assert hypot(x1 - x0, y1 - y0) == pytest.approx(enlarged, abs=0.02)


def test_over_the_top_is_over_from_the_front_and_below_from_above() -> None:
    # upright it is seen from above and the operator stands at the foot of the sheet: his side is low
    gap = Gap("jaws", 5.0, "arm", 120.0, 20.0, 1.0)
    views: dict[Arrangement, bool] = {"across": True, "upright": False}
    for arrangement, over in views.items():
        found = things(tight_svg("a", WORK, (BIT, ARM), gap, STANDING, METRIC, (), arrangement))
        work, arm = one(found, "work"), one(found, "arm")
        assert ((arm[1] + arm[3]) / 2 > (work[1] + work[3]) / 2) == over
        assert arm[0] < work[2]  # the chuck on the left in both


def test_a_gap_to_the_slide_to_the_post_and_to_the_stem_by_hand() -> None:
    # straight down (which no sweep does): the arm's end 20 + 30 = 50 under the axis, the slide at 60
    down = Gap("cross slide", 10.0, "arm", -90.0, 20.0, 1.0)
    found = things(tight_svg("a", WORK, (BIT, ARM), down, STANDING, METRIC))
    assert gap_mm(found, 80.0) == pytest.approx(10.0, abs=0.05)
    # on top: the arm reaches 5 beyond the pivot, the post stands at 12
    post = Gap("tool post", 7.0, "arm", 90.0, 20.0, 1.0)
    found = things(tight_svg("a", WORK, (BIT, ARM), post, STANDING, METRIC))
    assert gap_mm(found, 80.0) == pytest.approx(7.0, abs=0.05)
    # at 135 degrees, tip radius 30: the blunt bit's lower corner stands (30 - 3) sin 45 = 19.09 over
    # the axis and (30 + 3) cos 45 = 23.33 behind, over the stem, which is 5 thick from 48 to 14
    stem = Gap("stem", 14.09, "tool bit", 135.0, 30.0, 0.2)
    found = things(tight_svg("a", WORK, (BIT, ARM), stem, STANDING, METRIC))
    assert gap_mm(found, 80.0) == pytest.approx(27.0 * sin(radians(45)) - 5.0, abs=0.05)


def test_what_is_not_seen_from_the_side_is_said_and_not_ringed() -> None:
    gap = Gap("blank", 3.0, "body", 0.0, 20.0, 1.0)
    root = ElementTree.fromstring(tight_svg("a", WORK, (BIT, ARM), gap, STANDING, METRIC))
    assert "gap" not in [name for name, _ in named(root)]
    assert "out of sight" in " ".join(text for text, _ in words_of(root))


def test_no_profile_and_an_unknown_part_are_refused() -> None:
    gap = Gap("jaws", 5.0, "lever", 180.0, 20.0, 1.0)
    with pytest.raises(ValueError, match="lever"):
        tight_svg("a", WORK, (BIT, ARM), gap, STANDING, METRIC)
    with pytest.raises(ValueError, match="1 points"):
        tight_svg("a", WORK[:1], (BIT, ARM), replace(gap, part="arm"), STANDING, METRIC)


# ---- the examples ----


def work_of(ball: BallPlan, jaws_mm: float) -> list[tuple[float, float]]:
    profile, blank = ball.roughing.profile, ball.ball.blank_mm / 2
    line = [(-jaws_mm - 10.0, blank), (profile[0].z_from_mm, blank)]
    for part in profile:
        line += [(part.z_from_mm, part.radius_mm), (part.z_to_mm, part.radius_mm)]
    return [*line, (profile[-1].z_to_mm, 0.0)]


def drawn(plan: Plan, ball: BallPlan, gap: Gap, arrangement: Arrangement = "across") -> str:
    lathe, s, found = plan.job.lathe, plan.sizing.sizes, ball.clearance
    jaws = found.stick_out_mm
    standing = Standing(
        jaws,
        lathe.jaw_reach,
        lathe.jaw_diameter or lathe.chuck_diameter,
        lathe.chuck_diameter,
        s.clearance_mm,
        s.spindle_over_cross_slide_mm,
        float(post_near_mm(s, plan.job)),
        (s.post_rear_x_mm, s.post_front_x_mm),
    )
    labels = [
        ("neck", -ball.ball.radius_mm, ball.ball.stem_mm / 2),
        ("relief", -found.relief_mm, ball.ball.blank_mm / 2),
    ]
    return tight_svg(
        f"{plan.job.name}: {ball.ball.name}, the tightest spot",
        work_of(ball, jaws),
        swinging_outlines(plan.attachment),
        gap,
        standing,
        plan.job.numbers,
        labels,
        arrangement,
    )


def test_every_gap_of_the_examples_is_as_wide_on_the_picture_as_it_was_worked_out(
    plan: Plan,
) -> None:
    chuck = plan.job.lathe.chuck_diameter
    for ball in plan.turned.balls:
        for gap in ball.clearance.gaps:
            found = things(drawn(plan, ball, gap))
            if gap.obstacle == "blank":
                continue
            # a hundredth of a millimetre on the paper at each end, at up to 1 : 4
            assert gap_mm(found, chuck) == pytest.approx(gap.distance_mm, abs=0.1), gap


def test_the_bit_is_drawn_with_its_tip_at_the_radius_and_the_gap_on_its_part(plan: Plan) -> None:
    chuck = plan.job.lathe.chuck_diameter
    for ball in plan.turned.balls:
        (gap,) = (g for g in ball.clearance.gaps if g.obstacle == "jaws")
        found = things(drawn(plan, ball, gap))
        _, low, _, high = one(found, "chuck")
        scale, axis = (high - low) / chuck, (high + low) / 2
        # the centre stands the stick-out in front of the jaws' front
        centre = one(found, "jaws' front")[0] + scale * ball.clearance.stick_out_mm
        a = radians(gap.swing_deg)
        tip = (gap.tip_radius_mm * cos(a), gap.tip_radius_mm * sin(a))
        bit = next(points for name, points in found if name == "tool bit")
        off = min(hypot((x - centre) / scale - tip[0], (y - axis) / scale - tip[1]) for x, y in bit)
        assert off < 0.1
        # the gap's end lies on the part, as parts.placed carries its edges into the pose
        hulls = []
        for outline in swinging_outlines(plan.attachment):
            if outline[0].name == gap.part:
                corners = [
                    shapely.Point(z, y).buffer(e.round_mm + 0.01)
                    for e in outline
                    for _, y, z in (
                        in_pose((0.0, e.y_mm, e.z_mm), e.carrier, gap.tip_radius_mm, gap.swing_deg),
                    )
                ]
                hulls.append(shapely.union_all(corners).convex_hull)
        (x, y), _ = next(points for name, points in found if name == "gap")
        end = shapely.Point((x - centre) / scale, (y - axis) / scale)
        assert min(hull.boundary.distance(end) for hull in hulls) < 0.15


@pytest.mark.parametrize("arrangement", ["across", "upright"])
def test_it_is_readable_at_the_lathe(plan: Plan, arrangement: Arrangement) -> None:
    ball = plan.turned.balls[0]
    for gap in ball.clearance.gaps:
        root = ElementTree.fromstring(drawn(plan, ball, gap, arrangement))
        boxes = words_of(root)
        said = {words for words, _ in boxes}
        assert {"tool bit", "arm", "neck", "relief", "jaws", "chuck"} <= said
        assert overlapping(boxes) == [] and within_paper(root, boxes) == []
        wide, high = (float(root.attrib[k].removesuffix("mm")) for k in ("width", "height"))
        # as wide as A4 less what it is filed by; no higher than Letter less its foot
        assert wide <= 177.0 and high <= 260.0 and smallest_pt(root) >= 12.0
