"""Flat profiles against areas worked out by hand, counted cells and facts of the trade."""

import math
import random
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from ezdxf.math import Vec2, bulge_center, bulge_radius

from parts.attachment import attachment
from parts.errors import NotMakeable
from parts.features import (
    Bore,
    Counterbore,
    DrilledHole,
    FacedLength,
    Hole,
    Location,
    MilledFlat,
    ReamedHole,
    SawnNotch,
    Stage,
    TappedHole,
    feature_types,
    general,
)
from parts.frame import Axis, Box, Frame
from parts.part import Datum, Joined, Member, Part, Stock
from parts.standard.sections import Section
from planner.geometry import profiles
from planner.geometry.profiles import flat_profiles
from planner.job.reading import read_job
from planner.sizing.apply import size_up

ROOT = Path(__file__).parents[2]

# A round fillet of radius r in a square inner corner leaves the square r x r less a quarter disc:
# (1 - pi/4) r^2 of metal that a sharp notch would take (plane geometry).
FILLET = 1 - math.pi / 4


@pytest.fixture(scope="module")
def whole():
    job = read_job(ROOT / "examples" / "bench-lathe.toml")
    return attachment(size_up(job, "test").sizes)


LEFT = {"A": Datum("blank", "x-low", "left end")}


def plate(*features, length=100.0, width=60.0, thickness=10.0, shape="flat", datums=LEFT):
    return Part(
        name="plate",
        title="Plate",
        blank=Stock(Section(shape, width, thickness), length, "S355"),
        features=features,
        datums=datums,
        colour=(0.5, 0.5, 0.5),
    )


def notch(x0, y0, x1, y1, radius=0.0, name="notch", width=60.0, thickness=10.0):
    """A notch given from the lower left corner of the plate."""
    low, high = (x0, y0 - width / 2, -thickness / 2), (x1, y1 - width / 2, thickness / 2)
    return SawnNotch(name=name, datum="A", box=Box(low, high), corner_radius_mm=radius)


def hole(kind, x, y, depth=10.0, along="+z", name="hole", entry=-5.0, width=60.0, **more):
    axis = Axis((x, y - width / 2, entry), along)
    return kind(name=name, datum="A", axis=axis, depth_mm=depth, **more)


def drilled(x, y, diameter, **more):
    return hole(DrilledHole, x, y, diameter=general(diameter), **more)


def one(*features, **more):
    (profile,) = flat_profiles(plate(*features, **more))
    return profile


def area(outline):
    """Signed area by Green's theorem; anticlockwise is above 0.

    The shoelace sum, and for each arc its circular segment r^2 (a - sin a) / 2 with the angle
    a = 4 atan(bulge): Bronstein, plane figures (from memory).
    """
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in pairwise([*outline.vertices, outline.vertices[0]]):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.hypot(x1 - x0, y1 - y0) / (2 * math.sin(abs(angle) / 2))
            total += radius**2 * (angle - math.sin(angle)) / 2
    return total


def assert_sound(outline):
    """No vertex twice, no edge without length, and no vertex in the middle of a straight run."""
    points = [(x, y) for x, y, _ in outline.vertices]
    for i, (x0, y0) in enumerate(points):
        assert all(math.hypot(x0 - x1, y0 - y1) > 1e-6 for x1, y1 in points[i + 1 :])
    bulges = [bulge for _, _, bulge in outline.vertices]
    for i, (x1, y1) in enumerate(points):
        (x0, y0), (x2, y2) = points[i - 1], points[(i + 1) % len(points)]
        if not bulges[i - 1] and not bulges[i]:
            assert abs((x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)) > 1e-6


def test_the_members_cut_from_flat_bar_and_no_others(whole):
    found = [profile for part in whole.parts for profile in flat_profiles(part)]
    # The stock of every member stands in the part files: three are flats.
    assert [p.name for p in found] == [
        "rotating-body-block",
        "sliding-head-arm",
        "sliding-head-foot",
    ]
    assert [p.title for p in found][1] == "Sliding head: arm"
    s = whole.sizes
    assert [p.thickness_mm for p in found] == [
        section.thickness_mm for section in (s.block_stock, s.arm_stock, s.foot_stock)
    ]
    for profile in found:
        assert_sound(profile.outline)
        assert profile.material == "S355"


def test_the_arm_has_a_round_inner_corner_on_either_side(whole):
    (head,) = [part for part in whole.parts if part.name == "sliding-head"]
    arm = flat_profiles(head)[0]
    s = whole.sizes
    # By hand: the bar, less the overhang times what the front of the arm does not need on either
    # side, plus the metal left by the fillets in the inner corners: 3 mm, and 0.8 of a shallower
    # notch's depth.
    front = s.arm_lead_mm + s.arm_width_mm / 2
    rectangle = s.arm_length_mm * s.arm_stock.width_mm
    corners = s.arm_overhang_mm * (s.arm_stock.width_mm - front)
    shallow = s.arm_width_mm / 2 - s.arm_lead_mm
    fillets = FILLET * (3.0**2 + min(3.0, round(0.8 * shallow, 1)) ** 2)
    assert area(arm.outline) == pytest.approx(rectangle - corners + fillets, rel=1e-12)
    # Eight corners, two of them arcs with two ends each.
    assert len(arm.outline.vertices) == 10
    assert min(x for x, _, _ in arm.outline.vertices) == 0
    assert min(y for _, y, _ in arm.outline.vertices) == 0
    # The rod hole lies on the rod's axis: at the overhang and the rod's distance behind the
    # body's front face, half the arm's width from its chuck-side edge.
    assert arm.holes == ()
    ((x, y),) = arm.marks
    assert x == pytest.approx(s.arm_overhang_mm + s.rod_from_front_mm)
    assert y == pytest.approx(s.arm_width_mm / 2)


@pytest.mark.parametrize("side", ["lower left", "lower right", "upper right", "upper left"])
@pytest.mark.parametrize("radius", [0.0, 4.0])
def test_a_notch_at_any_corner(side, radius):
    x0, x1 = (-1.0, 30.0) if "left" in side else (70.0, 101.0)
    y0, y1 = (-1.0, 20.0) if "lower" in side else (40.0, 61.0)
    outline = one(notch(x0, y0, x1, y1, radius)).outline
    assert_sound(outline)
    assert area(outline) == pytest.approx(100 * 60 - 30 * 20 + FILLET * radius**2, rel=1e-12)
    arcs = [
        (Vec2(p[:2]), Vec2(q[:2]), p[2])
        for p, q in pairwise([*outline.vertices, outline.vertices[0]])
        if p[2]
    ]
    assert len(arcs) == (1 if radius else 0)
    for start, end, bulge in arcs:
        # ezdxf's own reading of a bulge. A fillet's centre lies in the notch, a radius from both
        # its edges; passing it on the right is a bulge below 0.
        assert bulge < 0
        assert bulge_radius(start, end, bulge) == pytest.approx(radius)
        centre = bulge_center(start, end, bulge)
        assert abs(centre.x - (30 if "left" in side else 70)) == pytest.approx(radius)
        assert abs(centre.y - (20 if "lower" in side else 40)) == pytest.approx(radius)
        assert x0 < centre.x < x1 and y0 < centre.y < y1


def test_a_notch_in_each_side_has_two_inner_corners():
    outline = one(
        notch(20, -1, 40, 15, 2.0, "below"),
        notch(85, 20, 101, 40, 3.0, "right"),
        notch(50, 50, 80, 61, 4.0, "above"),
        notch(-1, 25, 10, 45, 5.0, "left"),
    ).outline
    assert_sound(outline)
    cut = 20 * 15 + 15 * 20 + 30 * 10 + 10 * 20
    fillets = 2 * FILLET * (2**2 + 3**2 + 4**2 + 5**2)
    assert area(outline) == pytest.approx(100 * 60 - cut + fillets, rel=1e-12)
    assert sum(1 for vertex in outline.vertices if vertex[2]) == 8


def test_a_notch_as_wide_as_its_two_radii_ends_in_a_half_circle():
    outline = one(notch(40, 40, 50, 61, 5.0)).outline
    assert_sound(outline)
    # A slot 10 wide, its end a half circle of radius 5 with its centre 15 deep.
    assert area(outline) == pytest.approx(6000 - 10 * 15 - math.pi * 25 / 2, rel=1e-12)
    assert len(outline.vertices) == 4 + 2 + 3


def test_a_fillet_that_ends_at_the_edge_leaves_no_short_edge():
    outline = one(notch(-1, 55, 30, 61, 5.0)).outline
    assert_sound(outline)
    assert area(outline) == pytest.approx(6000 - 30 * 5 + FILLET * 25, rel=1e-12)
    assert len(outline.vertices) == 6


def test_stepped_notches_round_only_the_corners_they_leave():
    # 0..30 is taken 10 deep, 20..50 is taken 25 deep: one step, an inner corner at each end of
    # the deep one, one at the shallow one's end.
    outline = one(notch(-1, 50, 30, 61, 2.0, "shallow"), notch(20, 35, 50, 61, 4.0, "deep")).outline
    assert_sound(outline)
    cut = 30 * 10 + 30 * 25 - 10 * 10
    assert area(outline) == pytest.approx(6000 - cut + 2 * FILLET * 16, rel=1e-12)


def test_edges_that_differ_by_dust_are_one_edge():
    outline = one(
        notch(-1, 40, 30, 61, 0.0, "first"), notch(30 + 1e-9, 40 - 1e-9, 60, 61, 0.0, "second")
    ).outline
    assert_sound(outline)
    assert len(outline.vertices) == 6
    assert area(outline) == pytest.approx(6000 - 60 * 20, abs=1e-4)


def test_random_notches_against_counted_cells():
    # Whole-millimetre notches: what is left is the number of 1 mm squares that no notch covers.
    chance = random.Random(7)
    sound = refused = 0
    for _ in range(400):
        boxes = []
        for _ in range(chance.randint(1, 5)):
            x0, y0 = chance.randint(-3, 17), chance.randint(-3, 11)
            x1, y1 = x0 + chance.randint(1, 8), y0 + chance.randint(1, 6)
            if x1 > 0 and y1 > 0:  # one beside the plate takes nothing away
                boxes.append((x0, y0, x1, y1))
        left = {
            (i, j)
            for i in range(20)
            for j in range(12)
            if not any(x0 <= i < x1 and y0 <= j < y1 for x0, y0, x1, y1 in boxes)
        }
        notches = [notch(*box, name=str(k), width=12.0) for k, box in enumerate(boxes)]
        try:
            outline = one(*notches, length=20.0, width=12.0).outline
        except (ValueError, NotMakeable):
            assert not one_piece_without_windows(left)
            refused += 1
            continue
        assert one_piece_without_windows(left)
        assert_sound(outline)
        assert area(outline) == pytest.approx(len(left), rel=1e-12)
        sound += 1
    assert sound > 100 and refused > 20


def one_piece_without_windows(cells):
    """By flood: the cells hang together by edges, and so does all round them by edges."""
    every = {(i, j) for i in range(-1, 21) for j in range(-1, 13)}

    def flooded(region):
        if not region:
            return False
        reached, edge = set(), [min(region)]
        while edge:
            i, j = edge.pop()
            if (i, j) in region and (i, j) not in reached:
                reached.add((i, j))
                edge += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
        return reached == region

    return flooded(cells) and flooded(every - cells)


@pytest.mark.parametrize(
    ("features", "says"),
    [
        ([notch(40, 20, 60, 40)], "stand inside"),
        ([notch(40, -1, 60, 61)], "cuts the plate in two"),
        ([notch(40, -1, 60, 40), notch(40, 30, 60, 61, name="b")], "part the blank"),
        ([notch(-1, -1, 101, 61)], "takes all of the plate away"),
        ([notch(-1, -1, 60, 61), notch(50, -1, 101, 61, name="b")], "nothing"),
        ([notch(-1, 40, 30, 61), notch(30, 20, 50, 40, name="b")], "meet at a point"),
        ([notch(40, 57, 60, 61, 5.0)], "radius on an edge of 3 mm"),
        ([notch(40, 40, 49, 61, 5.0)], "on an edge of 9 mm"),
        ([notch(40, 40, 60, 61, thickness=8.0)], "goes through the thickness"),
        ([notch(-1, 40, 30, 61), drilled(20, 50, 12)], "'hole' at (20, 50)"),
        ([drilled(95, 30, 12)], "breaks out of the metal"),
        ([notch(60, -1, 101, 61), drilled(55, 30, 12)], "needs 6 mm of plate"),
        ([drilled(30, 30, 12), drilled(40, 30, 12, name="b")], "b: runs into the hole"),
        ([drilled(30, 30, 12, depth=6.0)], "ends 4 mm before the far side"),
    ],
)
def test_what_cannot_be_cut_is_refused_with_its_reason(features, says):
    with pytest.raises((ValueError, NotMakeable)) as caught:
        flat_profiles(plate(*features))
    assert str(caught.value).startswith("plate: ")
    assert says in str(caught.value)


@pytest.mark.parametrize(
    ("thickness", "diameter", "is_cut"),
    [
        # Common practice: plasma cuts no hole narrower than the plate is thick, and its edge is
        # hard: under 10 mm a hole is marked and drilled.
        (10.0, 10.0, True),
        (10.0, 9.9, False),
        (6.0, 9.9, False),
        (6.0, 10.0, True),
        (15.0, 14.0, False),
        (15.0, 15.0, True),
        (20.0, 25.0, True),
    ],
)
def test_small_holes_are_marked_and_large_ones_cut(thickness, diameter, is_cut):
    profile = one(
        drilled(30, 20, diameter, depth=thickness, entry=-thickness / 2), thickness=thickness
    )
    if not is_cut:
        assert (profile.holes, profile.marks) == ((), ((30.0, 20.0),))
        return
    assert profile.marks == ()
    (circle,) = profile.holes
    assert area(circle) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-12)
    start, end = (Vec2(vertex[:2]) for vertex in circle.vertices)
    assert start.lerp(end) == Vec2(30, 20)
    assert start.distance(end) == pytest.approx(diameter)


def test_only_holes_right_through_along_the_thickness_are_cut():
    # The plate is 10 thick, its faces at z = -5 and 5; every hole here is wide enough to cut.
    profile = one(
        drilled(20, 20, 12, depth=10.0, entry=5.0, along="-z", name="from the other face"),
        drilled(40, 20, 12, depth=6.0, through=False, name="blind"),
        drilled(80, 0, 8, depth=60.0, along="+y", entry=0.0, name="from the edge"),
        hole(Counterbore, 20, 20, depth=4, diameter=general(20), through=False, name="counterbore"),
        replace(drilled(60, 40, 12, name="later"), stage=Stage.IN_PLACE),
    )
    assert [circle.vertices[0] for circle in profile.holes] == [(14.0, 20.0, 1.0)]
    assert profile.marks == ((40.0, 20.0),)


def test_each_place_is_cut_or_marked_once():
    profile = one(
        drilled(20, 20, 6, name="pilot"),
        hole(ReamedHole, 20, 20, diameter=general(8), name="reamed"),
        drilled(60, 20, 16, name="rough"),
        hole(Bore, 60, 20, diameter=general(20), name="bored"),
        drilled(60, 20, 5, name="centre"),
    )
    assert profile.marks == ((20.0, 20.0),)
    assert [area(circle) for circle in profile.holes] == [pytest.approx(64 * math.pi)]


def test_a_hole_to_be_finished_later_is_marked_and_not_cut():
    # A plasma cut hardens the edge; what is reamed, bored or tapped is drilled: common practice.
    profile = one(
        hole(TappedHole, 50, 30, thread="M16"),
        hole(ReamedHole, 20, 20, diameter=general(20), name="reamed"),
        hole(Bore, 80, 20, diameter=general(25), name="bored"),
    )
    assert profile.holes == ()
    assert set(profile.marks) == {(50.0, 30.0), (20.0, 20.0), (80.0, 20.0)}


def test_every_type_of_hole_has_a_rule():
    kinds = [kind for kind in feature_types() if issubclass(kind, Hole)]
    assert len(kinds) == 5
    for kind in kinds:
        more = {"thread": "M20"} if kind is TappedHole else {"diameter": general(20)}
        found = one(hole(kind, 50, 30, **more))
        assert len(found.holes) == (kind is DrilledHole)
        assert len(found.marks) == (kind not in (DrilledHole, Counterbore))

    with pytest.raises(TypeError, match="no rule for the profile of a Hole"):
        profiles._diameter_mm(hole(Hole, 50, 30))


def test_shapes_and_names():
    features = (
        FacedLength(name="length", datum="A", length=general(100)),
        MilledFlat(
            name="flat",
            datum="A",
            box=Box((-1, -30, 4), (50, 30, 6)),
            locations=(Location("M", "+z", general(4), "z-low"),),
        ),
    )
    datums = {"A": Datum("blank", "x-low", "end"), "M": Datum("blank", "z-middle", "middle")}
    sheet = one(*features, shape="sheet", datums=datums)
    assert (sheet.name, sheet.title, sheet.thickness_mm) == ("plate", "Plate", 10.0)
    # A milled flat is made after the blank is cut out: the rectangle is whole.
    assert area(sheet.outline) == pytest.approx(6000)
    member = Member("Front Web", Stock(Section("sheet", 40, 5), 30, "S235"), Frame())
    round_bar = Member("pin", Stock(Section("round", 10), 30, "C45"), Frame())
    part = Part("post", "Post", Joined((round_bar, member), ()), (), {}, (0, 0, 0))
    (web,) = flat_profiles(part)
    assert (web.name, web.title, web.material) == ("post-front-web", "Post: Front Web", "S235")
    for shape, thickness in (("round", 0), ("square", 0), ("tube", 4)):
        blank = Stock(Section(shape, 40, thickness), 30, "S355")
        assert flat_profiles(Part("bar", "Bar", blank, (), {}, (0, 0, 0))) == ()


def test_the_modules_stay_light():
    code = (
        "import sys, planner.geometry.profiles, planner.dxf.write;"
        "heavy = {'ezdxf', 'numpy', 'cadquery', 'OCP'} & set(sys.modules);"
        "sys.exit(', '.join(sorted(heavy)) or 0)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
