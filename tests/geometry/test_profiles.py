"""Flat profiles against areas worked out by hand, counted cells and facts of the trade."""

import math
import random
import subprocess
import sys
from itertools import pairwise

import pytest
from ezdxf.math import Vec2, bulge_center, bulge_radius
from jobs import ROOT
from profile_cases import area, assert_sound, drilled, notch, one, plate

from parts.attachment import attachment
from parts.errors import NotMakeable
from parts.features import (
    FacedLength,
    Location,
    MilledFlat,
    general,
)
from parts.frame import Box, Frame
from parts.part import Datum, Joined, Member, Part, Stock
from parts.standard.sections import Section
from planner.geometry.profiles import NoProfile, flat_profiles
from planner.job.reading import read_job
from planner.sizing.apply import size_up

# A round fillet of radius r in a square inner corner leaves the square r x r less a quarter disc:
# (1 - pi/4) r^2 of metal that a sharp notch would take (plane geometry).
FILLET = 1 - math.pi / 4


@pytest.fixture(scope="module")
def whole():
    job = read_job(ROOT / "examples" / "bench-lathe.toml")
    return attachment(size_up(job, "test").sizes)


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
        except (NoProfile, NotMakeable):
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
    with pytest.raises((NoProfile, NotMakeable)) as caught:
        flat_profiles(plate(*features))
    assert str(caught.value).startswith("plate: ")
    assert says in str(caught.value)


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
        "import sys, planner.geometry.profiles, planner.dxf.profiles;"
        "heavy = {'ezdxf', 'numpy', 'cadquery', 'OCP'} & set(sys.modules);"
        "sys.exit(', '.join(sorted(heavy)) or 0)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
