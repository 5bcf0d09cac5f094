"""The solids against sums worked out here, another reader of STEP, and the rules of projection."""

from __future__ import annotations

import builtins
import hashlib
import importlib
import itertools
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from math import acos, atan, ceil, cos, dist, floor, hypot, pi, radians, sin, sqrt, tan
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, changed
from msgspec.structs import replace
from scipy.integrate import quad

from parts.attachment import Attachment, Carrier, Placed, attachment, in_pose
from parts.errors import NotMakeable
from parts.features import (
    DrilledHole,
    EngravedScale,
    FacedLength,
    Feature,
    GroundPoint,
    Location,
    MilledFlat,
    SawnNotch,
    Slit,
    TappedHole,
    Thread,
    TurnedBall,
    TurnedDiameter,
    feature_types,
    general,
)
from parts.frame import Axis, Box, Frame
from parts.part import Bought, Datum, Joined, Part, Ring, Stock, every_feature, members
from parts.screw import dial
from parts.sizes import Sizes
from parts.standard.fasteners import thin_nut, washer
from parts.standard.sections import Section
from parts.standard.threads import thread
from planner.geometry.curves import Arc, Curve, Line, Polyline
from planner.job.reading import job_from
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.solids import (
    TRUTH,
    KernelMissing,
    bought_solid,
    cutters,
    kernel,
    label,
    location,
    mass_kg,
    placement,
    solid,
    step,
    volume_mm3,
    write_assembly_step,
    write_step,
)
from planner.solids.kernel import not_yet
from planner.solids.seen import seen
from planner.solids.shapes import tube

DATUMS = {"A": Datum("blank", "y-middle", "middle")}


@pytest.fixture
def made(plan: Plan) -> Attachment:
    """Each example's attachment; one object a session, so its solids are built once."""
    return plan.attachment


@pytest.fixture(scope="module")
def gmsh() -> Iterator[Any]:
    """gmsh, which reads STEP by itself (though with the same kernel)."""
    import gmsh

    gmsh.initialize(interruptible=False)
    gmsh.option.setNumber("General.Terminal", 0)
    yield gmsh
    gmsh.finalize()


def part_of(attachment: Attachment, name: str) -> Part:
    return next(part for part in attachment.parts if part.name == name)


def feature_of(part: Part, name: str) -> Any:
    found = [f for m in members(part) for f in m.features if f.name == name]
    return next(iter(found + [f for f in part.features if f.name == name]))


def plain(section: Section, length_mm: float, *features: Feature) -> Part:
    """A part of one piece with the features given."""
    return Part("piece", "Piece", Stock(section, length_mm, "S355"), features, DATUMS, (0, 0, 0))


IN_INCHES = {0.5: 1 / 64, 1.0: 3 / 64, 2.0: 5 / 64, 3.0: 1 / 8, 4.0: 5 / 32, 7.0: 9 / 32}
"""The nearest fractions to what a metric part allows, mm: 64ths below 1/8 in, 32nds above; by hand."""


def given(s: Sizes, mm: float) -> float:
    """What a part allows, in the job's own series."""
    return 25.4 * IN_INCHES[mm] if s.series.inch else mm


def up(s: Sizes, mm: float) -> float:
    """What comes to a whole 64th where the job is in inches; metric as it is."""
    return ceil(round(mm / 25.4 * 64, 6)) * 25.4 / 64 if s.series.inch else mm


def half_up(s: Sizes, mm: float) -> float:
    """What comes to a 64th, or to half a millimetre, as a rule shows (common practice)."""
    return up(s, mm) if s.series.inch else ceil(round(2 * mm, 6)) / 2


def knob_mm(s: Sizes) -> float:
    """The knob's seat is a millimetre wider all round than its thread: its height over the nose."""
    # a metric one is faced to what a caliper reads, 0.05 (common practice)
    ball, seat = s.knob_diameter_mm / 2, (thread(s.handle_thread).major_mm + given(s, 2.0)) / 2
    height = ball + sqrt(ball**2 - seat**2)
    return (
        floor(height / 25.4 * 64) * 25.4 / 64 if s.series.inch else floor(height * 20 + 1e-6) / 20
    )


def rod(diameter_mm: float, length_mm: float) -> float:
    return pi / 4 * diameter_mm**2 * length_mm


# ---- the kernel and the rules ----


def test_every_feature_type_has_its_rule_and_its_truth() -> None:
    nobody = cutters.dispatch(object)
    for kind in feature_types():
        assert cutters.dispatch(kind) is not nobody, f"{kind.__name__}: no solid rule"
        assert TRUTH.get(kind), f"{kind.__name__}: not said how true its solid is"
    assert set(TRUTH) == set(feature_types())


def test_a_feature_type_without_a_rule_is_refused() -> None:
    with pytest.raises(TypeError, match="'logo': Feature has no solid rule"):
        cutters(Feature(name="logo", datum="A"), Box((0, 0, 0), (1, 1, 1)))


@pytest.mark.parametrize(
    ("cause", "remedy"),
    [
        # What a bare Debian 12 says, and the package that holds the file (packages.debian.org).
        (
            ImportError("libGL.so.1: cannot open shared object file: No such file or directory"),
            "apt-get install libgl1",
        ),
        (ModuleNotFoundError("No module named 'cadquery'"), "pip install cadquery"),
    ],
)
def test_a_missing_kernel_says_what_to_install(
    cause: ImportError, remedy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    normal = builtins.__import__

    def without(name: str, *args: Any, **kwargs: Any) -> Any:
        if name == "cadquery":
            raise cause
        return normal(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(KernelMissing, match=remedy):
        kernel.__wrapped__()


@pytest.mark.parametrize("loads", [True, False])
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_a_stop_while_the_kernel_loads_waits_until_it_is_loaded(
    name: str, loads: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    # raised inside, a compiled module drops it, or turns it into an ImportError (pybind11's way)
    normal, number, passed = builtins.__import__, signal.Signals[name], []

    class Stopped(BaseException):
        pass

    def stop(*_: object) -> None:
        raise Stopped

    def stopped(module: str, *args: Any, **kwargs: Any) -> Any:
        if module == "cadquery":
            signal.raise_signal(number)
            passed.append(module)
            if not loads:
                raise ImportError("initialization failed")
        return normal(module, *args, **kwargs)

    before = signal.signal(number, stop)
    try:
        monkeypatch.setattr(builtins, "__import__", stopped)
        with pytest.raises(Stopped):
            kernel.__wrapped__()
        assert passed == ["cadquery"] and signal.getsignal(number) is stop
    finally:
        signal.signal(number, before)


def test_a_library_is_loaded_only_when_something_of_it_is_called(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    name = "colorsys"  # of the standard library
    monkeypatch.delitem(sys.modules, name, raising=False)
    with not_yet(name):
        named = importlib.import_module(name).rgb_to_yiq
        assert not hasattr(importlib.import_module(name), "__file__")
    assert name not in sys.modules and callable(named)
    assert named(1.0, 1.0, 1.0) == importlib.import_module(name).rgb_to_yiq(1.0, 1.0, 1.0)
    real = sys.modules[name]
    with not_yet(name):
        assert importlib.import_module(name) is real


def test_the_kernel_loads_what_shows_pictures_and_solves_when_it_is_asked_to() -> None:
    cq = kernel()
    one = cq.Solid.makeBox(1, 1, 1)
    importlib.import_module("vtkmodules.vtkCommonDataModel")
    assert one.toVtkPolyData(0.1).GetNumberOfPolys() == 6 * 2  # two triangles a side
    two = cq.Assembly(one, name="one").add(one, name="two", loc=cq.Location((5, 0, 0)))
    assert two.constrain("one", "Fixed").constrain("one@faces@>Z", "two@faces@<Z", "Plane").solve()
    assert two.objects["two"].loc.toTuple()[0][2] == pytest.approx(1.0, abs=1e-4)


# ---- volumes: sums from the sizes ----


def test_every_part_is_one_sound_solid_smaller_than_its_stock(made: Attachment) -> None:
    areas = {
        # Area of each section, sharp-cornered.
        "round": lambda s: pi / 4 * s.width_mm**2,
        "tube": lambda s: pi / 4 * (s.width_mm**2 - (s.width_mm - 2 * s.thickness_mm) ** 2),
        "square": lambda s: s.width_mm**2,
        "flat": lambda s: s.width_mm * s.thickness_mm,
    }
    for part in made.parts:
        shape = solid(part)
        stock = sum(
            areas[m.blank.section.shape](m.blank.section) * m.blank.length_mm for m in members(part)
        )
        assert shape.ShapeType() == "Solid", part.name
        assert shape.isValid(), part.name
        assert 0 < shape.Volume() <= volume_mm3(part) + 1e-6 < stock, part.name


def test_turned_parts_are_the_sum_of_their_cylinders(made: Attachment) -> None:
    s = made.sizes
    tail = up(
        s,
        washer(s.feed_tail_thread).thickness_mm
        + 2 * thin_nut(s.feed_tail_thread).height_mm
        + 2 * thread(s.feed_tail_thread).pitch_mm,
    )
    short = given(s, 0.5)
    screw = (
        rod(thread(s.feed_thread).major_mm, s.feed_thread_length_mm)
        + rod(s.feed_collar_diameter_mm, s.feed_collar_thickness_mm)
        + rod(
            s.feed_journal_diameter_mm,
            s.block_length_mm + s.index_ring_mm + s.dial_length_mm - short,
        )
        + rod(thread(s.feed_tail_thread).major_mm, short + tail)
    )
    assert volume_mm3(part_of(made, "feed-screw")) == pytest.approx(screw, rel=1e-6)

    major = thread(s.handle_thread).major_mm
    screwed = s.pin_diameter_mm + given(s, 2.0) + up(s, 1.25 * major)
    bar = rod(major, screwed) + rod(s.handle_stock.width_mm, s.handle_length_mm - screwed)
    assert volume_mm3(part_of(made, "handle")) == pytest.approx(bar, rel=1e-6)


def radial_hole(drill_mm: float, outer_mm: float, inner_mm: float) -> float:
    """What a drill takes on its way from one cylinder in to another, square to their axis."""
    r, outer, inner = drill_mm / 2, outer_mm / 2, inner_mm / 2
    return quad(
        lambda t: 2 * sqrt(r**2 - t**2) * (sqrt(outer**2 - t**2) - sqrt(inner**2 - t**2)), -r, r
    )[0]


def test_dial_is_a_ring_less_its_screw_hole(made: Attachment) -> None:
    s = made.sizes
    assert volume_mm3(part_of(made, "dial")) == pytest.approx(dial_mm3(s, dial(s)), rel=1e-5)


def dial_mm3(s: Sizes, made: Part) -> float:
    """A ring less its screw's hole: wide from the rim to a flat bottom, where it is, then thin."""
    outer, bore = s.dial_diameter_mm / 2, s.feed_journal_diameter_mm / 2
    ring = rod(2 * outer, s.dial_length_mm) - rod(2 * bore, s.dial_length_mm)
    r = thread(s.dial_set_screw).tap_drill_mm / 2
    wide = [one for one in made.features if isinstance(one, DrilledHole)]
    if not wide:
        return ring - radial_hole(2 * r, 2 * outer, 2 * bore)
    bottom, w = outer - wide[0].depth_mm, wide[0].diameter.nominal_mm / 2
    above = quad(lambda t: 2 * sqrt(w**2 - t**2) * (sqrt(outer**2 - t**2) - bottom), -w, w)
    below = quad(lambda t: 2 * sqrt(r**2 - t**2) * (bottom - sqrt(bore**2 - t**2)), -r, r)
    return float(ring - above[0] - below[0])


@pytest.mark.parametrize("diameter", [26.0, 44.0])
def test_a_thick_dial_is_drilled_clear_of_its_screw(bench: Plan, diameter: float) -> None:
    bar = Section("round", diameter + 2.0)
    s = replace(bench.attachment.sizes, dial_diameter_mm=diameter, dial_stock=bar)
    made = dial(s)
    assert any(isinstance(one, DrilledHole) for one in made.features) == (diameter > 40.0)
    assert volume_mm3(made) == pytest.approx(dial_mm3(s, made), rel=1e-5)


def test_dial_lines_take_their_width_depth_and_length(bench: Plan) -> None:
    dial = part_of(bench.attachment, "dial")
    scale: EngravedScale = feature_of(dial, "scale")
    assert scale.divisions == 50
    run = scale.end_mm - scale.start_mm
    # Fifty lines go by tens with middle lines at the fives, 10 : 7 : 5 long (common practice).
    length = run * (5 * 1.0 + 5 * 0.7 + 40 * 0.5)
    # Each is 0.15 mm deep in the middle, less at its sides by the rise of the rim's circle.
    radius, half = bench.attachment.sizes.dial_diameter_mm / 2, scale.line_width_mm / 2
    area = quad(lambda t: sqrt(radius**2 - t**2) - (radius - 0.15), -half, half)[0]
    taken = volume_mm3(dial) - solid(dial).Volume()
    assert taken == pytest.approx(length * area, rel=1e-3)


def test_knob_is_a_sphere_less_a_cap_and_a_hole(made: Attachment) -> None:
    s = made.sizes
    size, radius = thread(s.handle_thread), s.knob_diameter_mm / 2
    cap = 2 * radius - knob_mm(s)
    # Volume of a spherical cap of height h: pi h^2 (3 r - h) / 3 (any book of mensuration).
    ball = 4 / 3 * pi * radius**3 - pi * cap**2 * (3 * radius - cap) / 3
    # Drilled three pitches past the full thread for the tap's lead, to a 64th (common practice).
    lead = 3 * size.pitch_mm
    lead = ceil(lead * 64 / 25.4 - 1e-6) * 25.4 / 64 if s.series.inch else lead
    hole = rod(size.tap_drill_mm, up(s, 1.25 * size.major_mm) + lead)
    assert volume_mm3(part_of(made, "knob")) == pytest.approx(ball - hole, rel=1e-6)


def test_tool_bit_is_a_bar_less_what_is_ground_off(made: Attachment) -> None:
    bit = part_of(made, "tool-bit")
    point: GroundPoint = feature_of(bit, "point")
    side, length, r = made.sizes.bit_stock.width_mm, bit.blank.length_mm, point.nose_radius_mm
    half, clearance = radians(point.included_deg / 2), radians(point.clearance_deg)
    # With sharp sides the bar begins, at y from the middle and d below the rake face, at
    #   x = |y| cot(half) + d tan(clearance) / sin(half) - back,
    # so the ridge below the nose leans by phi, tan(phi) = tan(clearance) / sin(half). The angle
    # between the sides square to the ridge is 2 q, cos(q) = cos(half) cos(clearance): what two
    # planes with those normals make. A nose of radius r in it stands r (1 / sin(q) - 1) behind
    # the sharp ridge, and takes r^2 (cot(q) - (pi / 2 - q)) of its section.
    lean = tan(clearance) / sin(half)
    q = acos(cos(half) * cos(clearance))
    back = r * (1 / sin(q) - 1) / cos(atan(lean))
    sides = side**3 / 4 / tan(half) + side**3 / 2 * lean - back * side**2
    nose = r**2 * (1 / tan(q) - (pi / 2 - q)) * side / cos(atan(lean))
    assert volume_mm3(bit) == pytest.approx(side**2 * length - sides - nose, rel=1e-6)


def test_housing_is_a_bored_tube_with_a_flat_and_a_shank(made: Attachment) -> None:
    s = made.sizes
    radius, depth = s.tube_stock.width_mm / 2, s.shank_flat_mm
    # Area of a circular segment of height h: r^2 acos(1 - h/r) - (r - h) sqrt(2 r h - h^2).
    segment = radius**2 * acos(1 - depth / radius)
    segment -= (radius - depth) * sqrt(2 * radius * depth - depth**2)
    ring = pi * radius**2 - segment - pi / 4 * s.pivot_diameter_mm**2
    oil = radial_hole(given(s, 4.0), s.tube_stock.width_mm, s.pivot_diameter_mm)
    drag = thread(s.drag_thread).tap_drill_mm
    oil += radial_hole(drag, s.tube_stock.width_mm, s.pivot_diameter_mm)
    tube = ring * s.housing_length_mm - oil
    # The shank, less what the pivot's nut needs beside it: half a millimetre more than its radius,
    # over the nut, two turns of thread and 3 mm.
    side = s.shank_stock.width_mm
    relief = max(0.0, s.nut_diameter_mm / 2 + given(s, 0.5) - (radius - depth))
    run = up(s, s.nut_length_mm + 2 * thread(s.pivot_thread).pitch_mm)
    shank = side**2 * s.shank_length_mm - relief * side * (run + given(s, 3.0))
    # Two holes in its end for the stop bar's screws: those reach 1.3 diameters in at least, and are
    # stocked as 16 and 25 mm (ISO 4762) and as 5/8 in; two turns past them and three for the tap.
    assert s.stop_stock is not None
    size = thread(s.stop_thread)
    screw = {"M4": 16.0, "M6": 25.0, "No.6-32 UNC": 15.875}[s.stop_thread]
    deep = screw - s.stop_stock.width_mm
    assert deep >= 1.3 * size.major_mm
    deep = half_up(s, deep + 2 * size.pitch_mm) + 3 * size.pitch_mm
    shank -= 2 * rod(size.tap_drill_mm, deep)
    housing = part_of(made, "housing")
    assert volume_mm3(housing) == pytest.approx(tube + shank, rel=1e-5)

    # Steel 7850, aluminium 2700 kg/m3 for 6061 and 6082 (any handbook).
    assert mass_kg(housing) == pytest.approx((tube + shank) * 7.85e-6, rel=0.01)
    assert isinstance(housing.blank, Joined)
    bar = housing.blank.members[1]
    light = replace(bar, blank=replace(bar.blank, material="6082-T6"))
    mixed = replace(
        housing, blank=replace(housing.blank, members=(housing.blank.members[0], light))
    )
    assert mass_kg(mixed) == pytest.approx(tube * 7.85e-6 + shank * 2.70e-6, rel=0.01)


def test_a_notch_keeps_the_round_of_its_inner_corner() -> None:
    notch = SawnNotch(name="n", datum="A", box=Box((30, -5, -4), (60, 20, 4)), corner_radius_mm=3)
    plate = plain(Section("flat", 40, 8), 60, notch)
    # Rectangle less notch, plus the corner between two tangents and their arc: (1 - pi/4) r^2.
    area = 60 * 40 - 30 * 25 + (1 - pi / 4) * 3**2
    assert volume_mm3(plate) == pytest.approx(8 * area, rel=1e-9)


def test_a_ball_ground_from_bar_and_a_blind_hole() -> None:
    ball = TurnedBall(name="b", datum="A", start_mm=10, end_mm=40, diameter=general(20.0))
    neck = TurnedDiameter(name="t", datum="A", start_mm=0, end_mm=20.0, diameter=general(12.0))
    hole = TappedHole(
        name="h", datum="A", axis=Axis((0, 0, 0), "+x"), depth_mm=9, thread="M6", through=False
    )
    stem = plain(Section("round", 25), 40, neck, replace(ball, start_mm=22.0), hole)
    # From 20 to 22 the bar keeps its 25 mm; the ball's centre is at 30, cut off flat at 22.
    cap = 10.0 - 8.0
    sphere = 4 / 3 * pi * 10**3 - pi * cap**2 * (30 - cap) / 3
    # M6: 5 mm tap drill, 1 mm pitch (ISO 724, ISO 2306).
    wanted = rod(12, 20) + rod(25, 2) + sphere - rod(5, 9 + 3 * 1.0)
    assert volume_mm3(stem) == pytest.approx(wanted, rel=1e-6)


def test_a_part_cut_in_two_is_refused() -> None:
    width = general(2.0)
    whole = Slit(name="s", datum="A", box=Box((20, -30, -30), (22, 30, 30)), width=width)
    with pytest.raises(NotMakeable, match="s: cuts the piece in two"):
        plain(Section("round", 20), 50, whole)
    halves = [
        Slit(name=name, datum="A", box=Box((20, -30, low), (22, 30, high)), width=width)
        for name, low, high in (("upper", 0, 30), ("lower", -30, 1))
    ]
    with pytest.raises(NotMakeable, match="piece: .* make 2 pieces"):
        solid(plain(Section("round", 20), 50, *halves))


@pytest.mark.parametrize(
    ("kind", "size", "length", "volume"),
    [
        # ISO 7089 M6: 6.4 x 12 x 1.6 (from memory).
        ("washer", "M6", 0.0, pi / 4 * (12**2 - 6.4**2) * 1.6),
        # ISO 4035 M6: 10 across flats, 3.2 high (from memory); a hexagon is sqrt(3)/2 s^2.
        ("thin nut", "M6", 0.0, (sqrt(3) / 2 * 10**2 - pi / 4 * 6**2) * 3.2),
        ("set screw", "M6", 8.0, pi / 4 * 6**2 * 8),
        # ISO 4762 M5: head 8.5 x 5 (from memory), solid here.
        ("socket screw", "M5", 20.0, pi / 4 * (8.5**2 * 5 + 5**2 * 20)),
    ],
)
def test_bought_items_are_simple_solids(kind: str, size: str, length: float, volume: float) -> None:
    shape = bought_solid(Bought(kind, size, "standard", "use", 1, length))
    assert shape.isValid()
    assert shape.Volume() == pytest.approx(volume, rel=1e-6)
    box = shape.BoundingBox()
    assert box.xmin == pytest.approx(-5.0 if kind == "socket screw" else 0.0, abs=1e-6)
    assert length == 0.0 or box.xmax == pytest.approx(length, abs=1e-6)


def test_a_ring_and_a_disc_are_simple_solids() -> None:
    # pi / 4 (D^2 - d^2) by the thickness in place
    for inside in (0.0, 8.0):
        ring = Ring(13.0, inside, 3.0, 2.5)
        shape = bought_solid(Bought("felt ring", "M8", "standard", "use", ring=ring))
        assert shape.isValid()
        assert shape.Volume() == pytest.approx(pi / 4 * (13**2 - inside**2) * 2.5, rel=1e-6)


def test_an_unknown_bought_item_is_refused() -> None:
    with pytest.raises(ValueError, match="circlip M6"):
        bought_solid(Bought("circlip", "M6", "standard", "use"))


# ---- outside measures ----


def expected_boxes(s: Sizes) -> dict[str, tuple[float, ...]]:
    """Low and high x, y, z of each part, read off the sizes."""
    tube, side = s.tube_stock.width_mm / 2, s.shank_stock.width_mm
    # Behind the shank's end (4 mm back from the face): half the stop bar, or half the handle and what
    # the flat of the stop's screw, six tenths of it, lets it stand clear, at most 1 mm; then a thread.
    assert s.stop_stock is not None
    stop, screw = s.stop_stock.width_mm / 2, thread(s.stop_thread).major_mm
    back, half_handle = given(s, 4.0), s.handle_stock.width_mm / 2
    flat = -half_up(s, -(stop + 0.3 * screw))
    body_end = (
        back
        + s.shank_length_mm
        + max(half_handle, stop, min(up(s, half_handle + given(s, 1.0)), flat))
    )
    body_end = up(s, body_end + thread(s.handle_thread).major_mm)
    # The stop bar: a screw beyond the shank and one beside the pin, with a screw and a half of metal.
    shank_out = (
        tube - s.shank_flat_mm + (s.cheek_stock.thickness_mm if s.cheek_stock else 0.0) + side
    )
    across = half_up(s, shank_out + s.pin_diameter_mm / 2 + 3.5 * screw) + 2 * half_up(
        s, 1.5 * screw
    )
    across += 25.4 * 13 / 64 if s.series.inch else 1.5 * screw  # of No.6 13.25 64ths
    wall = tube - s.pivot_diameter_mm / 2
    nut, head = s.nut_diameter_mm / 2, 1.25 * thread(s.drag_thread).major_mm
    if s.series.inch:  # 2.5 of No.10 is 0.475 in, 30.4 64ths
        assert s.drag_thread == "No.10-32 UNF"
        head = 25.4 * 15 / 64
    half, thick = s.arm_width_mm / 2, s.arm_stock.thickness_mm
    dial, collar = s.dial_diameter_mm / 2, s.feed_collar_diameter_mm / 2
    tail = washer(s.feed_tail_thread).thickness_mm + 2 * thin_nut(s.feed_tail_thread).height_mm
    tail = up(s, tail + 2 * thread(s.feed_tail_thread).pitch_mm)
    feed = (
        s.feed_thread_length_mm + s.feed_collar_thickness_mm + s.block_length_mm + s.index_ring_mm
    )
    bar, knob, bit = s.handle_stock.width_mm / 2, s.knob_diameter_mm / 2, s.bit_stock.width_mm / 2
    lever = s.lever_boss_mm / 2
    seat = 0.7 * lever
    if s.series.inch:  # 0.35 of 11/32 is 7.7 64ths
        assert s.lever_boss_mm == pytest.approx(25.4 * 11 / 32)
        seat = 25.4 * 8 / 64
    return {
        "housing": (
            *(-back - s.shank_length_mm, -s.spindle_over_seat_mm, -tube),
            *(0.0, tube, tube - s.shank_flat_mm + side),
        ),
        "rotating-body": (
            *(-body_end, -s.block_length_mm / 2, s.leaf_z_mm),
            *(s.block_thickness_mm, s.block_length_mm / 2, s.flat_offset_mm),
        ),
        "sliding-head": (
            *(-s.arm_length_mm, s.bit_stickout_mm - s.rod_length_mm, -half),
            *(0.0, s.bit_stickout_mm + thick, s.arm_stock.width_mm - half),
        ),
        "index-ring": (0.0, -dial, -dial, s.index_ring_mm, dial, dial),
        "dial": (0.0, -dial, -dial, s.dial_length_mm, dial, dial),
        "feed-screw": (
            *(0.0, -collar, -collar),
            *(feed + s.dial_length_mm + tail, collar, collar),
        ),
        "handle": (0.0, -bar, -bar, s.handle_length_mm, bar, bar),
        "knob": (0.0, -knob, -knob, knob_mm(s), knob, knob),
        # the lever's seat is milled 0.15 of its boss deep; half a boss lies beyond the stud
        "clamp-lever": (
            *(0.0, -lever, -seat),
            *(s.lever_length_mm + lever, lever, lever),
        ),
        "tool-bit": (0.0, -bit, -bit, s.bit_stickout_mm + thick + given(s, 2.0), bit, bit),
        "pivot-nut": (0.0, -nut, -nut, s.nut_length_mm, nut, nut),
        # a head of 7 mm, 2 mm over the tube, and the wall down to the journal
        "drag-screw": (0.0, -head, -head, given(s, 7.0) + up(s, 2.0 + wall), head, head),
        "stop-bar": (0.0, -stop, -stop, across, stop, stop),
    }


def test_every_part_fills_the_box_its_sizes_give(made: Attachment) -> None:
    boxes = expected_boxes(made.sizes)
    assert set(boxes) == {part.name for part in made.parts}
    for part in made.parts:
        box = solid(part, engraved=False).copy().BoundingBox()  # without another test's mesh
        found = (box.xmin, box.ymin, box.zmin, box.xmax, box.ymax, box.zmax)
        assert found == pytest.approx(boxes[part.name], abs=1e-4), part.name


# ---- poses ----


def posed(placed: Placed, radius_mm: float, swing_deg: float) -> Any:
    item = placed.item
    shape = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
    return shape.moved(placement(placed, radius_mm, swing_deg))


def placed_of(attachment: Attachment, name: str) -> Placed:
    return next(p for p in attachment.placed if isinstance(p.item, Part) and p.item.name == name)


@pytest.mark.parametrize("swing_deg", [0.0, 90.0, 150.0])
def test_the_nose_of_the_bit_goes_round_the_ball(made: Attachment, swing_deg: float) -> None:
    vertex, swing = kernel().Vertex.makeVertex, radians(swing_deg)
    for radius in (made.sizes.tip_radius_min_mm, made.sizes.tip_radius_max_mm):
        bit = posed(placed_of(made, "tool-bit"), radius, swing_deg)
        # Polar coordinates from the nose of the ball: the tip is in the plane x = 0.
        tip = vertex(0.0, radius * sin(swing), radius * cos(swing))
        assert bit.distance(tip) == pytest.approx(0.0, abs=1e-5)
        # Nothing of the bit is nearer to the ball's centre than its nose.
        assert bit.distance(vertex(0.0, 0.0, 0.0)) == pytest.approx(radius, abs=1e-5)


def test_solids_are_placed_where_points_are(made: Attachment) -> None:
    for placed in made.placed:
        for point in ((0.0, 0.0, 0.0), (7.0, 0.0, 0.0), (0.0, 5.0, 0.0), (1.0, 2.0, 3.0)):
            wanted = in_pose(placed.frame.place(point), placed.carrier, 11.0, 37.0)
            vertex = kernel().Vertex.makeVertex(*point).moved(placement(placed, 11.0, 37.0))
            assert vertex.toTuple() == pytest.approx(wanted, abs=1e-9), label(placed.item)


def overlap_mm3(a: Any, b: Any) -> float:
    return float(a.intersect(b).Volume())


@pytest.mark.parametrize("swing_deg", [0.0, 90.0, 150.0])
def test_housing_body_and_head_keep_out_of_each_other(made: Attachment, swing_deg: float) -> None:
    for radius in (made.sizes.tip_radius_min_mm, made.sizes.tip_radius_max_mm):
        housing, body, head = (
            posed(placed_of(made, name), radius, swing_deg)
            for name in ("housing", "rotating-body", "sliding-head")
        )
        # Fits are modelled at their nominal size, so mating faces touch and no more.
        assert overlap_mm3(housing, body) == pytest.approx(0.0, abs=1e-3)
        assert overlap_mm3(housing, head) == pytest.approx(0.0, abs=1e-3)
        assert overlap_mm3(body, head) == pytest.approx(0.0, abs=1e-3)


def outside_threads_mm3(
    shared: Any, one: Placed, other: Placed, radius: float, deg: float
) -> float:
    """What two things share that is not an outer thread's metal in its tapped hole.

    A screw's solid has the major diameter and the hole its tap drill's, so a screw in its own hole
    shares the ring between them over the hole's depth and no more.
    """
    for outer, inner in ((one, other), (other, one)):
        if not isinstance(inner.item, Part):
            continue
        if isinstance(outer.item, Bought):
            cut = outer.item.kind.endswith(("screw", "stud"))
            outside = {outer.item.thread} if cut else set()
        else:
            outside = {f.thread for _, f in every_feature(outer.item) if isinstance(f, Thread)}
        for member, hole in every_feature(inner.item):
            if isinstance(hole, TappedHole) and hole.thread in outside and shared.Volume() > 1e-9:
                size, axis = thread(hole.thread), hole.axis
                frame = member.frame if member else Frame()
                ring = tube(axis, 0.0, hole.depth_mm, size.major_mm / 2 + 1e-4, 1e-3)
                place = placement(inner, radius, deg)
                shared = shared.cut(ring.moved(location(frame)).moved(place))
    return float(shared.Volume())


def clashes(attachment: Attachment) -> list[str]:
    """Every pair that overlaps at the smallest ball, outer threads in inner ones left aside."""
    found = []
    radius = attachment.sizes.tip_radius_min_mm
    for swing_deg in (0.0, 90.0, 150.0):
        things = [(label(p.item), p, posed(p, radius, swing_deg)) for p in attachment.placed]
        for (name, a, first), (other, b, second) in itertools.combinations(things, 2):
            # What swings together stands together at every swing: once is enough.
            if swing_deg and Carrier.POST not in (a.carrier, b.carrier):
                continue
            if overlap_mm3(first, second) <= 1e-3:
                continue
            if outside_threads_mm3(first.intersect(second), a, b, radius, swing_deg) > 1e-3:
                found.append(f"{name} and {other} at {swing_deg:g} degrees")
    return found


def test_nothing_else_is_where_something_is(made: Attachment) -> None:
    assert clashes(made) == []


# ---- STEP ----


def read(gmsh: Any, path: Path) -> list[tuple[str, float, tuple[int, ...]]]:
    """Name, volume and colour of each solid in a STEP file."""
    gmsh.clear()
    gmsh.merge(str(path))
    return [
        (
            gmsh.model.getEntityName(3, tag).rsplit("/", 1)[-1],
            gmsh.model.occ.getMass(3, tag),
            gmsh.model.getColor(3, tag)[:3],
        )
        for _, tag in gmsh.model.getEntities(3)
    ]


def test_a_part_is_one_named_coloured_solid_in_millimetres(
    made: Attachment, gmsh: Any, tmp_path: Path
) -> None:
    for part in made.parts:
        path = tmp_path / f"{part.name}.step"
        write_step(path, part)
        ((name, volume, colour),) = read(gmsh, path)
        assert name == part.title
        assert volume == pytest.approx(solid(part).Volume(), rel=1e-4)
        assert colour == pytest.approx([255 * share for share in part.colour], abs=1)
        text = path.read_text(encoding="ascii")
        # ISO 10303-21 names the file by its header; ISO 10303-41 spells a millimetre so.
        assert f"FILE_NAME('{part.title}','1970-01-01T00:00:00'" in text
        assert "SI_UNIT(.MILLI.,.METRE.)" in text
        assert len(re.findall(r"= PRODUCT\(", text)) == 1
        assert str(tmp_path) not in text
    assert len(list(tmp_path.iterdir())) == len(made.parts)


def test_an_assembly_holds_all_of_it_where_it_belongs(
    bench: Plan, gmsh: Any, tmp_path: Path
) -> None:
    path, attachment = tmp_path / "all.step", bench.attachment
    write_assembly_step(path, attachment, 25.0, 60.0)
    found = read(gmsh, path)
    wanted = [
        (
            label(p.item),
            (solid(p.item) if isinstance(p.item, Part) else bought_solid(p.item)).Volume(),
            [255 * c for c in (p.item.colour if isinstance(p.item, Part) else step.STEEL_GREY)],
        )
        for p in attachment.placed
    ]
    assert len(found) == len(wanted)
    for (name, volume, colour), (title, mm3, rgb) in zip(
        sorted(found), sorted(wanted), strict=True
    ):
        assert name == title
        assert volume == pytest.approx(mm3, rel=1e-4)
        assert colour == pytest.approx(rgb, abs=1)
    # The ball on the handle, by the handle's length alone: round the pivot with the swing.
    tags = {
        gmsh.model.getEntityName(3, t).rsplit("/", 1)[-1]: t for _, t in gmsh.model.getEntities(3)
    }
    _, y, z = gmsh.model.occ.getCenterOfMass(3, tags["Knob"])
    knob = placed_of(attachment, "knob")
    centre = solid(knob.item).Center().x + knob.frame.origin[1]
    assert (y, z) == pytest.approx((centre * cos(radians(30)), centre * sin(radians(30))), abs=1e-2)


def test_step_files_repeat_byte_for_byte(bench: Plan, tmp_path: Path) -> None:
    attachment = bench.attachment

    def write(folder: Path) -> dict[str, str]:
        folder.mkdir()
        write_step(folder / "dial.step", part_of(attachment, "dial"))
        write_step(folder / "housing.step", part_of(attachment, "housing"))
        write_assembly_step(folder / "all.step", attachment, 20.0, 90.0)
        return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in folder.iterdir()}

    here = write(tmp_path / "one")
    assert write(tmp_path / "two") == here
    code = (
        "import sys; from pathlib import Path; from planner.output.plan import Plan\n"
        "from planner.solids import write_assembly_step, write_step\n"
        "a, out = Plan(Path(sys.argv[1])).attachment, Path(sys.argv[2])\n"
        "write_assembly_step(out / 'all.step', a, 20.0, 90.0)\n"
        "for part in a.parts:\n"
        "    if part.name in ('dial', 'housing'): write_step(out / f'{part.name}.step', part)\n"
    )
    other = tmp_path / "three"
    other.mkdir()
    job = ROOT / "examples" / "bench-lathe.toml"
    subprocess.run(
        [sys.executable, "-c", code, str(job), str(other)],
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "7"},
    )
    assert {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in other.iterdir()} == here


def test_a_file_is_written_whole_or_not_at_all(
    bench: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bit = part_of(bench.attachment, "tool-bit")
    with pytest.raises(OSError):
        write_step(tmp_path / "nowhere" / "bit.step", bit)
    earlier = tmp_path / "bit.step"
    earlier.write_text("earlier", encoding="ascii")

    def full(*_: Any) -> None:
        raise OSError("No space left on device")

    monkeypatch.setattr("planner.solids.step.os.replace", full)
    with pytest.raises(OSError, match="No space"):
        write_step(earlier, bit)
    assert earlier.read_text(encoding="ascii") == "earlier"
    assert [p.name for p in tmp_path.iterdir()] == ["bit.step"]


# ---- views ----


def projected_edges(part: Part, view: str) -> tuple[Curve, ...]:
    """What a sheet shows of a part from the front, and beside that from above and the left."""
    return seen(part, "front" if view == "front" else f"front/{view}").curves


def of(curves: tuple[Curve, ...], kind: type, hidden: bool) -> list[Any]:
    return [c for c in curves if isinstance(c, kind) and c.hidden is hidden]


def ends(lines: list[Line]) -> set[tuple[tuple[float, float], tuple[float, float]]]:
    return {(line.start, line.end) for line in lines}


def test_a_cylinder_is_a_rectangle_and_a_circle() -> None:
    bar = plain(Section("round", 20), 50, FacedLength(name="l", datum="A", length=general(50.0)))
    for view in ("front", "top"):
        found = projected_edges(bar, view)
        assert len(found) == 4
        assert ends(of(found, Line, False)) == {
            ((0.0, -10.0), (0.0, 10.0)),
            ((0.0, -10.0), (50.0, -10.0)),
            ((0.0, 10.0), (50.0, 10.0)),
            ((50.0, -10.0), (50.0, 10.0)),
        }
    assert projected_edges(bar, "left") == (Arc((0.0, 0.0), 10.0, 0.0, 360.0),)


def test_first_angle_views_show_what_is_near_and_dash_what_is_behind() -> None:
    # A plate 60 x 40 x 10 with a step milled into its +y, +z edge and a hole down through it:
    # unlike from every side. First angle: each view shows the side it is taken from (ISO 128-3).
    step = MilledFlat(
        name="s",
        datum="A",
        box=Box((-1, 10, 0), (61, 21, 6)),
        locations=(Location("A", "+y", general(10.0), "y-low"),),
    )
    hole = DrilledHole(
        name="h", datum="A", axis=Axis((15, -5, 5), "-z"), depth_mm=10, diameter=general(8.0)
    )
    plate = plain(Section("flat", 40, 10), 60, step, hole)
    front = projected_edges(plate, "front")
    # From +z: the step's edge at y = 10 and the hole are in sight, nothing is hidden.
    assert ((0.0, 10.0), (60.0, 10.0)) in ends(of(front, Line, False))
    assert of(front, Arc, False) == [Arc((15.0, -5.0), 4.0, 0.0, 360.0)]
    assert not [c for c in front if c.hidden]
    # From +y, -z up: the step's floor (z = 0) is in sight, the hole's two sides are hidden.
    top = projected_edges(plate, "top")
    assert ((0.0, 0.0), (60.0, 0.0)) in ends(of(top, Line, False))
    assert ends(of(top, Line, True)) == {
        ((11.0, -5.0), (11.0, 5.0)),
        ((19.0, -5.0), (19.0, 5.0)),
    }
    # From -x, z to the right: an L, open at the upper right; the hole's sides run across it.
    left = projected_edges(plate, "left")
    assert ends(of(left, Line, False)) == {
        ((-5.0, -20.0), (-5.0, 20.0)),
        ((-5.0, -20.0), (5.0, -20.0)),
        ((5.0, -20.0), (5.0, 10.0)),
        ((0.0, 10.0), (5.0, 10.0)),
        ((0.0, 10.0), (0.0, 20.0)),
        ((-5.0, 20.0), (0.0, 20.0)),
    }
    assert ends(of(left, Line, True)) == {
        ((-5.0, -9.0), (5.0, -9.0)),
        ((-5.0, -1.0), (5.0, -1.0)),
    }


def test_where_a_hole_enters_a_cylinder_the_points_follow_the_curve() -> None:
    # A hole of radius r square into a bar of radius R: seen square to both, the curve of entry
    # is y = sqrt(R^2 - r^2 + (x - a)^2) (two circles' Pythagoras).
    hole = DrilledHole(
        name="h", datum="A", axis=Axis((20, 10, 0), "-y"), depth_mm=20, diameter=general(12.0)
    )
    found = projected_edges(plain(Section("round", 20), 40, hole), "front")
    paths = of(found, Polyline, False)
    assert not of(found, Polyline, True)
    for above in (True, False):
        across = [u for path in paths for u, v in path.points if (v > 0) is above]
        assert (min(across), max(across)) == (14.0, 26.0)
    for path in paths:
        for (u, v), (x, y) in itertools.pairwise(path.points):
            for a, b in ((u, v), ((u + x) / 2, (v + y) / 2)):
                assert abs(b) == pytest.approx(sqrt(64 + (a - 20) ** 2), abs=0.02)


def test_a_view_is_as_large_as_its_part(made: Attachment) -> None:
    boxes = expected_boxes(made.sizes)
    for part in made.parts:
        x0, y0, z0, x1, y1, z1 = boxes[part.name]
        for view, box in (
            ("front", (x0, y0, x1, y1)),
            ("top", (x0, -z1, x1, -z0)),
            ("left", (z0, y0, z1, y1)),
        ):
            points = [p for c in projected_edges(part, view) for p in outermost(c)]
            across, up = zip(*points, strict=True)
            found = (min(across), min(up), max(across), max(up))
            # What the tilt moved is taken back, but for two thousandths at the silhouette of a ball.
            assert found == pytest.approx(box, abs=2e-3), f"{part.name}, {view}"


def outermost(curve: Curve) -> list[tuple[float, float]]:
    if isinstance(curve, Line):
        return [curve.start, curve.end]
    if isinstance(curve, Polyline):
        return list(curve.points)
    # An arc reaches farthest at its ends or where it crosses an axis.
    turns = [90.0 * k for k in range(9) if curve.start_deg <= 90.0 * k <= curve.end_deg]
    return [
        (
            curve.centre[0] + curve.radius_mm * cos(radians(a)),
            curve.centre[1] + curve.radius_mm * sin(radians(a)),
        )
        for a in (curve.start_deg, curve.end_deg, *turns)
    ]


def test_no_line_lies_on_another(made: Attachment) -> None:
    for part, view in itertools.product(made.parts, ("front", "top", "left")):
        lines = [c for c in projected_edges(part, view) if isinstance(c, Line)]
        for one, other in itertools.permutations(lines, 2):
            middle = [(a + b) / 2 for a, b in zip(one.start, one.end, strict=True)]
            there = dist(middle, other.start) + dist(middle, other.end)
            if there > dist(other.start, other.end) + 1e-6:
                continue
            # Its middle is on the other: then they must cross, not share a direction.
            u = [b - a for a, b in zip(one.start, one.end, strict=True)]
            w = [b - a for a, b in zip(other.start, other.end, strict=True)]
            turned = abs(u[0] * w[1] - u[1] * w[0]) / (hypot(*u) * hypot(*w))
            assert turned > 1e-3, f"{part.name}, {view}: {one} on {other}"


def test_views_repeat(bench: Plan) -> None:
    body = part_of(bench.attachment, "rotating-body")
    again = replace(body, notes=())  # another object: nothing kept from before is used
    for view in ("front", "top", "left"):
        assert projected_edges(again, view) == projected_edges(body, view)


def test_an_unknown_view_is_refused(bench: Plan) -> None:
    with pytest.raises(KeyError, match="front/behind"):
        projected_edges(part_of(bench.attachment, "knob"), "behind")


def test_a_low_shank_is_reached_by_a_cheek_and_all_is_one_solid() -> None:
    # 25 mm over the seat and a 12 mm shank: its top lies 13 mm under the axis, the tube's flank
    # far above it (by hand), so a plate stands between them.
    low = {"lathe.spindle_over_seat": 25, "tool_post.largest_shank": 12}
    job = job_from(changed(**low), "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    housing = part_of(whole, "housing")
    assert [member.name for member in members(housing)] == ["tube", "cheek", "shank"]
    shape = solid(housing)
    assert shape.isValid() and len(shape.Solids()) == 1
    bounds = shape.BoundingBox()
    assert bounds.ymin == pytest.approx(-25.0) and bounds.ymax > 0
    assert clashes(whole) == []
