"""Small solids and plane curves by hand: what stands in what, curves without doubles, a STEP text.

Volumes and places are sums of elementary geometry, written beside each; STEP's records are those of
ISO 10303-21 and AP214. Two bought items at most, so that each takes a moment.
"""

from __future__ import annotations

import re
from math import cos, pi, radians, sin
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from msgspec.structs import replace

from parts.attachment import Carrier, Overlap, Placed
from parts.features import DrilledHole, IndexMark, SawnNotch, TappedHole, general
from parts.frame import Axis, Box, Frame
from parts.part import Bought
from planner.geometry.curves import Arc, Curve, Line, Polyline
from planner.solids import clashes, write_assembly_step
from planner.solids.cutters import cutters
from planner.solids.shapes import cylinder
from planner.solids.step import _coloured, _reproducible
from planner.solids.tidy import tidied
from planner.solids.views import _arc, _circle, _Snap

# ---- what stands in what ----


def stud(use: str, thread: str, length_mm: float) -> Bought:
    return Bought("stud", thread, "by hand", use, length_mm=length_mm)


def whole(*placed: Placed, overlaps: tuple[Overlap, ...] = ()) -> Any:
    """As much of an attachment as two things in their places need."""
    sizes = SimpleNamespace(tip_radius_min_mm=10.0, tip_radius_max_mm=30.0)
    return SimpleNamespace(sizes=sizes, placed=placed, overlaps=overlaps)


def test_two_studs_end_to_end_touch_and_a_millimetre_nearer_share_a_disc() -> None:
    # M10, 10 across: a millimetre of overlap along the axis is pi/4 x 100 x 1
    one = Placed(stud("one", "M10", 20.0), Frame(), Carrier.BODY)
    for far, shared in ((20.0, 0.0), (20.5, 0.0), (19.0, pi * 25), (19.9, pi * 2.5)):
        other = Placed(stud("other", "M10", 20.0), Frame((far, 0.0, 0.0)), Carrier.BODY)
        found = clashes(whole(one, other))
        assert [c.volume_mm3 for c in found] == ([pytest.approx(shared)] if shared else [])
        for clash in found:
            assert (clash.one, clash.other) == ("one", "other")
            assert (clash.swing_deg, clash.tip_radius_mm) == (0.0, 10.0)
    near = Placed(stud("other", "M10", 20.0), Frame((19.0, 0.0, 0.0)), Carrier.BODY)
    assert clashes(whole(one, near, overlaps=(Overlap("other", "one"),))) == ()


@pytest.mark.parametrize("side", ["x", "y", "z"])
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_studs_are_apart_on_every_side(side: str, sign: float) -> None:
    # along x they end at 20, across they are 10 thick: 20.5 and 10.5 are apart, 19.5 and 9.5 are not
    one = Placed(stud("one", "M10", 20.0), Frame(), Carrier.BODY)
    free = 20.0 if side == "x" else 10.0
    for gap, meet in ((0.5, 0), (-0.5, 1)):
        at = tuple(sign * (free + gap) if side == axis else 0.0 for axis in "xyz")
        other = Placed(stud("other", "M10", 20.0), Frame(at), Carrier.BODY)  # type: ignore[arg-type]
        assert len(clashes(whole(one, other))) == meet


def test_what_meets_in_one_pose_only() -> None:
    # a stud along y on the head, its end 30 farther out with the tip at its largest radius: 10 + 30 is
    # 40 from the axis on top, where one of the post's lies across at 45, 5 thick either way
    head = Placed(stud("head's", "M10", 12.0), Frame((0, 0, 0), x="+y", z="+z"), Carrier.HEAD)
    post = Placed(stud("post's", "M10", 30.0), Frame((-15.0, 45.0, 0.0)), Carrier.POST)
    (found,) = clashes(whole(head, post))
    assert (found.swing_deg, found.tip_radius_mm) == (90.0, 30.0)
    # 2 of its 12 stand in the other's half of 5
    assert found.volume_mm3 > 0.0
    assert clashes(whole(head, replace(post, frame=Frame((-15.0, 48.0, 0.0))))) == ()
    # the same on one body never move to each other
    assert clashes(whole(replace(head, carrier=Carrier.BODY), post)) == ()


# ---- cutters ----


def test_a_notchs_corner_within_a_rounding_of_the_edge_is_no_inner_corner() -> None:
    # 40 x 20: a notch to the edges has one corner inside, rounded 3: it leaves (1 - pi/4) x 9 a depth
    blank = Box((0.0, -10.0, -5.0), (40.0, 10.0, 5.0))
    for high_x, high_y in ((40.0, 10.0), (40.0 - 5e-7, 10.0 - 5e-7), (40.0 + 5e-7, 10.0 + 5e-7)):
        box = Box((30.0, 0.0, -5.0), (high_x, high_y, 5.0))
        notch = SawnNotch(name="n", datum="A", box=box, corner_radius_mm=3.0)
        (cut,) = cutters(notch, blank)
        assert cut.Volume() == pytest.approx(10 * 10 * 10 - (1 - pi / 4) * 9 * 10, abs=1e-3)
    low = SawnNotch(name="n", datum="A", corner_radius_mm=3.0,
                    box=Box((5e-7, -10.0 + 5e-7, -5.0), (10.0, 0.0, 5.0)))  # fmt: skip
    (cut,) = cutters(low, blank)
    assert cut.Volume() == pytest.approx(1000 - (1 - pi / 4) * 90, abs=1e-3)


def test_a_mark_is_a_groove_of_its_length_and_width_and_15_hundredths_deep() -> None:
    # what stands under the rim of 24 across: 0.15 deep, 0.2 wide, 6 long, less the rim's sagitta
    rim = cylinder(Axis(), 0.0, 10.0, 12.0)
    mark = IndexMark(
        name="m", datum="A", axis=Axis(), start_mm=1.0, end_mm=7.0, diameter=general(24.0),
        line_width_mm=0.2, angle_deg=30.0,
    )  # fmt: skip
    (groove,) = cutters(mark, Box((0, -12, -12), (10, 12, 12)))
    assert groove.Volume() == pytest.approx((0.15 + 1.0) * 0.2 * 6.0)
    assert rim.intersect(groove).Volume() == pytest.approx(0.15 * 0.2 * 6.0, rel=0.01)


def test_how_deep_holes_go() -> None:
    # M6: 5 mm tap drill and three pitches of 1 deeper where it is blind; 1 past either end of a
    # through hole (the trade: a through drill comes out)
    blank = Box((0, -10, -10), (20, 10, 10))
    for depth, through, drilled, tapped in ((20.0, True, 22.0, 22.0), (12.0, False, 12.0, 15.0)):
        where: dict[str, Any] = {"name": "h", "datum": "A", "axis": Axis(), "depth_mm": depth}
        where["through"] = through
        (plain,) = cutters(DrilledHole(diameter=general(6.6), **where), blank)
        assert plain.Volume() == pytest.approx(pi / 4 * 6.6**2 * drilled)
        (thread,) = cutters(TappedHole(thread="M6", **where), blank)
        assert thread.Volume() == pytest.approx(pi / 4 * 5.0**2 * tapped)


# ---- curves without doubles ----


def line(x0: float, x1: float, hidden: bool = False, y: float = 0.0) -> Line:
    return Line((x0, y), (x1, y), hidden)


@pytest.mark.parametrize(
    "drawn, left",
    [
        # what overlaps or touches is one line, whichever way it was drawn; a gap of a tenth stays
        ([line(0, 10), line(5, 20)], [line(0, 20)]),
        ([line(0, 10), line(20, 10)], [line(0, 20)]),
        ([line(0, 10), line(2, 3)], [line(0, 10)]),
        ([line(0, 10), line(10.1, 20)], [line(0, 10), line(10.1, 20)]),
        # hidden under visible is not drawn; what stands out of it is, on both sides
        ([line(0, 10), line(0, 10, True)], [line(0, 10)]),
        ([line(3, 6), line(0, 10, True)], [line(3, 6), line(0, 3, True), line(6, 10, True)]),
        ([line(0, 4), line(2, 10, True)], [line(0, 4), line(4, 10, True)]),
        ([line(0, 4), line(6, 10, True)], [line(0, 4), line(6, 10, True)]),
        # a hundredth is dust, and 5 micrometres beside it is the same line
        ([line(0, 10), line(12, 12.005)], [line(0, 10)]),
        ([line(0, 10), line(5, 15, y=0.004)], [line(0, 15)]),
        ([line(0, 10), line(5, 14, y=0.1)], [line(0, 10), line(5, 14, y=0.1)]),
    ],
)
def test_lines_without_doubles(drawn: list[Curve], left: list[Curve]) -> None:
    assert list(tidied(drawn)) == left
    assert list(tidied(drawn[::-1])) == left


def arc(low: float, high: float, hidden: bool = False, radius: float = 10.0) -> Arc:
    return Arc((0.0, 0.0), radius, low, high, hidden)


@pytest.mark.parametrize(
    "drawn, left",
    [
        ([arc(0, 90), arc(45, 180)], [arc(0, 180)]),
        ([arc(0, 180), arc(180, 360)], [arc(0, 360)]),
        # over the zero: from 300 on to 30 is one arc, 300 to 390
        ([arc(300, 390)], [arc(300, 390)]),
        ([arc(300, 360), arc(0, 30)], [arc(300, 390)]),
        ([arc(300, 390), arc(200, 310)], [arc(200, 390)]),
        ([arc(0, 360), arc(10, 50, True)], [arc(0, 360)]),
        ([arc(30, 60), arc(0, 90, True)], [arc(30, 60), arc(0, 30, True), arc(60, 90, True)]),
        ([arc(0, 90), arc(0, 90, radius=10.1)], [arc(0, 90), arc(0, 90, radius=10.1)]),
        ([arc(0, 90), arc(90, 120, radius=10.004)], [arc(0, 120)]),
        # a hundredth of a millimetre of 10 is 0.057 degrees: less is dust
        ([arc(0, 90), arc(100, 100.05)], [arc(0, 90)]),
        ([arc(0, 90), arc(100, 100.07)], [arc(0, 90), arc(100, 100.07)]),
    ],
)
def test_arcs_without_doubles(drawn: list[Curve], left: list[Curve]) -> None:
    assert list(tidied(drawn)) == left


def test_paths_without_doubles() -> None:
    long = Polyline(((0.0, 0.0), (5.0, 1.0), (10.0, 0.0)), False)
    on_it = Polyline(((1.0, 0.2), (4.0, 0.8)), True)
    beside = Polyline(((1.0, 0.3), (4.0, 0.9)), True)
    past = Polyline(((10.0, 0.0), (12.0, -0.4)), False)
    assert tidied([on_it, long]) == (long,)
    assert tidied([beside, long]) == (long, beside)
    assert tidied([long, past]) == (long, past)
    # lines, then arcs, then paths; what is seen before what is hidden
    order = [long, arc(0, 90), line(0, 10, True), line(0, 10, y=5.0)]
    assert tidied(order) == (line(0, 10, y=5.0), line(0, 10, True), arc(0, 90), long)


# ---- STEP ----


def test_a_step_text_without_time_and_counts() -> None:
    kernels = (
        "FILE_NAME('Open CASCADE Shape Model','2026-01-02T03:04:05',('Author'),(\n 'x'),'a','b','c');\n"
        "#9 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('41','one','',#5,\n    #8,$);\n"
        "#12 = NEXT_ASSEMBLY_USAGE_OCCURRENCE(\n  '107','two','',#5,#11,$);\n"
    )
    assert _reproducible(kernels, "Smith's part") == (
        "FILE_NAME('Smith''s part','1970-01-01T00:00:00',(''),(''),'Open CASCADE','pommel','');\n"
        "#9 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('1','one','',#5,#8,$);\n"
        "#12 = NEXT_ASSEMBLY_USAGE_OCCURRENCE('2','two','',#5,#11,$);\n"
    )


def test_a_step_text_with_a_colour_for_each_solid() -> None:
    # ISO 10303-214: the colour, through fill, surface and usage, to an item and its context
    bare = (
        "DATA;\n#1 = MANIFOLD_SOLID_BREP('',#7);\n"
        "#2 = ADVANCED_BREP_SHAPE_REPRESENTATION('',(#3,#1),#20);\n"
        "#20 = X;\nENDSEC;\nEND-ISO-10303-21;\n"
    )
    assert _coloured(bare, [(0.62, 0.64, 0.66)]) == (
        "DATA;\n#1 = MANIFOLD_SOLID_BREP('',#7);\n"
        "#2 = ADVANCED_BREP_SHAPE_REPRESENTATION('',(#3,#1),#20);\n"
        "#20 = X;\n"
        "#21 = COLOUR_RGB('',0.6200,0.6400,0.6600);\n"
        "#22 = FILL_AREA_STYLE_COLOUR('',#21);\n"
        "#23 = FILL_AREA_STYLE('',(#22));\n"
        "#24 = SURFACE_STYLE_FILL_AREA(#23);\n"
        "#25 = SURFACE_SIDE_STYLE('',(#24));\n"
        "#26 = SURFACE_STYLE_USAGE(.BOTH.,#25);\n"
        "#27 = PRESENTATION_STYLE_ASSIGNMENT((#26));\n"
        "#28 = STYLED_ITEM('colour',(#27),#1);\n"
        "#29 = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#28),#20);\n"
        "ENDSEC;\nEND-ISO-10303-21;\n"
    )


def test_an_assembly_of_three_bought_items(tmp_path: Path) -> None:
    # two alike: one product in two places, in the grey of steel
    washer = Bought("washer", "M6", "ISO 7089", "one")
    placed = (
        Placed(washer, Frame(), Carrier.POST),
        Placed(replace(washer, use="other"), Frame((30.0, 0.0, 0.0)), Carrier.POST),
        Placed(stud("stud", "M6", 20.0), Frame((0.0, 40.0, 0.0)), Carrier.HEAD),
    )
    write_assembly_step(tmp_path / "a.step", whole(*placed), 25.0, 90.0)
    text = (tmp_path / "a.step").read_text(encoding="ascii")
    names = re.findall(r"PRODUCT\('([^']*)'", text)
    assert sorted(names) == ["Attachment", "Stud M6 x 20 mm by hand", "Washer M6 ISO 7089"]
    assert len(re.findall(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d'", text)) == 3
    assert text.count("COLOUR_RGB('',0.6200,0.6400,0.6600)") == 2
    assert "LENGTH_MEASURE(1.E-06)" in text and "SI_UNIT(.MILLI.,.METRE.)" in text
    # the stud's place: 40 up and the tip's radius of 25 out, on top
    assert re.search(r"CARTESIAN_POINT\('',\(0\.,65\.,", text)
    assert [path.name for path in tmp_path.iterdir()] == ["a.step"]


# ---- views: what a projected edge is ----


def round_points(low: float, high: float, count: int = 12) -> list[tuple[float, float]]:
    """Points on a circle of 10 about (3, 4), from one angle to another."""
    angles = [radians(low + (high - low) * k / count) for k in range(count + 1)]
    return [(3 + 10 * cos(a), 4 + 10 * sin(a)) for a in angles]


@pytest.mark.parametrize(
    ("low", "high", "drawn"),
    [
        # anticlockwise from the start, whichever way the points run; over the zero past 360
        (10, 100, (10, 100)),
        (100, 10, (10, 100)),
        (300, 390, (300, 390)),
        (350, 370, (350, 370)),
        (20, 300, (20, 300)),
        (300, 20, (20, 300)),
        (0, 360, (0, 360)),
        (90, 450, (0, 360)),
    ],
)
def test_the_arc_through_points(low: float, high: float, drawn: tuple[float, float]) -> None:
    points = round_points(low, high)
    found = _arc(points, (3.0, 4.0), 10.0, True)
    assert (found.centre, found.radius_mm, found.hidden) == ((3.0, 4.0), 10.0, True)
    assert (found.start_deg, found.end_deg) == pytest.approx(drawn)
    (x, y), radius = _circle(points)
    assert (x, y, radius) == pytest.approx((3.0, 4.0, 10.0))


def test_an_arc_whose_ends_all_but_meet_is_a_circle() -> None:
    # ends 0.0017 apart on a circle of 10 meet; 0.0035 apart they do not
    assert _arc(round_points(0, 359.99), (3.0, 4.0), 10.0, False).end_deg == 360.0
    assert _arc(round_points(0, 359.98), (3.0, 4.0), 10.0, False).end_deg == pytest.approx(359.98)


def test_projected_values_are_taken_to_the_models_own() -> None:
    # within five micrometres; else rounded to a tenth of one; there is no minus nought
    snap = _Snap([0.0, 10.0, 10.004, 20.0])
    assert [snap(v) for v in (0.0049, -0.0049, 9.996, 10.001, 10.003, 19.9951)] == [
        *(0.0, 0.0, 10.0, 10.0, 10.004, 20.0),
    ]
    assert [snap(v) for v in (0.0051, 9.9949, 20.00512345)] == [0.0051, 9.9949, 20.0051]
    assert snap.near(5.0) is None and snap.near(20.003) == 20.0
    assert _Snap([]).near(1.0) is None and str(_Snap([-0.0])(0.001)) == "0.0"


def test_arcs_that_end_and_begin_at_nought_within_a_rounding_are_one() -> None:
    for low, high, one in ((0.0, 360.0, True), (5e-7, 360 - 5e-7, True), (1e-3, 360.0, False),
                           (0.0, 360 - 1e-3, False)):  # fmt: skip
        found = tidied([arc(300, high), arc(low, 30)])
        assert len(found) == (1 if one else 2), (low, high)
