"""Surfaces by name, holes along a line, and readings of them, by hand."""

from __future__ import annotations

import pytest
from walk_asked import (
    BOX,
    LOC,
    SIX,
    TENTH,
    X,
    codes,
    doing,
    rod,
    turned,
)
from walk_records import bar

from parts import features as f
from parts.frame import Axis
from parts.standard.sections import Section
from planner.walking.gauging import _between, _covered, _fine, _places
from planner.walking.metal import _mouths, rims
from planner.walking.records import Missing
from planner.walking.shape import Line, OffBall, Ring
from planner.walking.spans import bored_mm, bottoms, spans
from planner.walking.state import sawn
from planner.walking.surfaces import Axis as Untouched
from planner.walking.surfaces import Cylinder, NoSurface, Plane, bare, sides, surface


def test_holes_and_their_bottoms_along_a_line() -> None:
    piece = rod(20.0, 0.0, 100.0)
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, 3.0))
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 15.0, 5.0))
    for low, high, size in (
        (0.0, 15.0, 10.0),
        (0.0, 40.0, 6.0),
        (0.0, 40.2, 6.0),
        (0.0, 40.4, 0.0),
        (50.0, 60.0, 0.0),
    ):
        assert bored_mm(piece.metal, X, low, high, 6.0) == size, (low, high)
    assert [round(bottoms(piece.metal, X, at), 3) for at in (15.0, 14.1, 15.9, 13.9, 16.1, 40.0)] == [
        10.0, 10.0, 10.0, 0.0, 0.0, 6.0,
    ]  # fmt: skip
    assert bottoms(piece.metal, Line(0, -1, X.through), 0.0) == 10.0
    for size, found in ((0.38, 0.0), (0.42, 0.84)):  # no drill is thinner than 0.8
        thin = rod(20.0, 0.0, 100.0)
        thin.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, size))
        assert bored_mm(thin.metal, X, 0.0, 40.0, 1.0) == found
    # a tube has its own
    pipe = sawn(bar("p", Section("tube", 35.0, 8.0), 60.0, "S355"), "p", 0.0, 60.0)
    assert bored_mm(pipe.metal, X, 0.0, 60.0, 10.0) == 19.0
    assert [(s.low, s.high, s.outer, s.bore) for s in spans(pipe.metal, X)] == [
        (0.0, 60.0, 17.5, 9.5)
    ]


def test_surfaces_by_their_names() -> None:
    journal = turned(f.TurnedDiameter, start_mm=10.0, end_mm=30.0, diameter=TENTH)
    hole = f.TappedHole(
        name="h",
        datum="A",
        axis=Axis((50.0, 0.0, 10.0), "-z"),
        depth_mm=8.0,
        thread="M6",
        through=False,
    )
    flat = f.MilledFlat(name="m", datum="A", box=BOX, locations=LOC)
    piece = rod(20.0, 0.0, 100.0, journal, hole, flat)
    with pytest.raises(NoSurface):
        surface(piece, "x.round")
    for name in ("x", "h", "m"):
        piece.begun[name] = ["turn"]
    for name, at in (("blank.-x", 0.0), ("blank.x-high", 100.0), ("x.start", 10.0), ("x.end", 30.0),
                     ("h.entry", 10.0), ("h.bottom", 2.0), ("m.-z", 5.0), ("m.+y", 8.0),
                     ("rod.+x", 100.0)):  # fmt: skip
        found = surface(piece, name)
        assert isinstance(found, Plane) and found.at == at, name
    for name, figures in (("blank.round", (0.0, 100.0, 10.0, False)), ("x.round",
            (10.0, 30.0, 10.0, False)),
                          ("h.bore", (2.0, 10.0, 4.9175 / 2, True))):  # fmt: skip
        one = surface(piece, name)
        assert isinstance(one, Cylinder)
        assert (one.low, one.high, one.radius, one.inside) == pytest.approx(figures, abs=1e-3)
    for name in ("blank.axis", "x.axis", "h.axis"):
        assert isinstance(surface(piece, name), Untouched)
    for name in ("blank.bore", "blank.+y", "blank.top", "x.top", "m.top", "y.round"):
        with pytest.raises(NoSurface):
            surface(piece, name)
    pipe = sawn(bar("p", Section("tube", 35.0, 8.0), 60.0, "S355"), "p", 0.0, 60.0)
    inner = surface(pipe, "blank.bore")
    assert isinstance(inner, Cylinder) and (inner.radius, inner.inside) == (9.5, True)


def test_how_much_of_a_round_is_there_and_bare() -> None:
    metal = rod(20.0, 0.0, 100.0).metal
    for radius, share in ((10.0, 1.0), (10.05, 1.0), (9.95, 1.0), (10.07, 0.0), (9.93, 0.0)):
        assert bare(metal, Cylinder(X, 0, 100, radius, False, ""), 10.0, 90.0) == share
    # five stations, at 8, 30, 50, 70 and 92 in a hundred of the way
    for end, share in ((93.0, 1.0), (91.0, 0.8), (69.0, 0.6), (49.0, 0.4), (29.0, 0.2), (7.0, 0.0)):
        assert (
            bare(rod(20.0, 0.0, end).metal, Cylinder(X, 0, 100, 10.0, False, ""), 0.0, 100.0)
            == share
        )
    up, down = sides(metal, Plane(0, 100.0, "", X, 10.0))
    assert len(up) > 50 and len(down) == 0
    up, down = sides(metal, Plane(0, 0.0, "", X, 10.0))
    assert len(up) == 0 and len(down) > 50
    assert [len(one) for one in sides(metal, Plane(0, 50.0, "", X, 10.0))] == [0, 0]


@pytest.mark.parametrize(
    ("kind", "low", "high", "good"),
    [
        ("outside", 20.3, 20.4, True), ("outside", 20.36, 20.4, False), ("outside", 19.6, 19.66, True),
        ("outside", 19.5, 19.64, False), ("inside", 19.9, 20.1, False),
    ],
)  # fmt: skip
def test_a_round_is_read_from_its_own_side_near_its_size(
    kind: str, low: float, high: float, good: bool
) -> None:
    do = doing(rod(20.0, 0.0, 100.0))
    one = Cylinder(X, 0.0, 100.0, 10.0, False, "journal")
    _between(do, kind, one, one, low, high)
    wanted = "route-words" if kind == "outside" else "route-anvil"
    assert codes(do) == [] if good else codes(do) == [wanted]
    if not good and kind == "outside":
        said = do.faults.found[0]
        assert said.value == "journal is 20 mm on the work"
        assert said.limit == f"to be measured {low:g} mm to {high:g} mm"


def test_faces_are_read_as_far_apart_as_they_are() -> None:
    for low, high, good in (
        (99.0, 99.97, True),
        (99.0, 99.96, False),
        (100.03, 101.0, True),
        (100.04, 101.0, False),
    ):
        do = doing(rod(20.0, 0.0, 100.0))
        first, last = (Plane(0, at, name, X, 10.0) for at, name in ((0.0, "a"), (100.0, "b")))
        _between(do, "length", first, last, low, high)
        assert codes(do) == ([] if good else ["route-words"]), low
    for kind, good in (("outside", True), ("inside", False), ("length", True)):
        do = doing(rod(20.0, 0.0, 100.0))
        _between(do, kind, last, first, 99.0, 101.0)
        assert codes(do) == ([] if good else ["route-anvil"])
    do = doing(rod(20.0, 0.0, 100.0))
    _between(do, "length", first, Plane(1, 10.0, "c"), 1.0, 2.0)
    assert codes(do) == ["route-anvil"]


@pytest.mark.parametrize(
    ("name", "resolution", "band", "good"),
    [
        ("micrometer", 0.01, 0.0125, True), ("micrometer", 0.01, 0.0124, False),
        ("vernier caliper", 0.02, 0.0625, True), ("vernier caliper", 0.02, 0.0624, False),
        ("vernier caliper", 0.1, 0.125, True), ("vernier caliper", 0.1, 0.124, False),
        ("rule", 0.1, 0.625, True), ("steel tape", 0.1, 0.624, False),
    ],
)  # fmt: skip
def test_a_gauge_reads_four_fifths_of_the_limits(
    name: str, resolution: float, band: float, good: bool
) -> None:
    """A caliper is true to 0.05 (DIN 862), a rule is read to half a millimetre (common practice)."""
    gauge = {"name": name, "least_mm": 0.0, "most_mm": 25.0, "resolution_mm": resolution}
    do = doing(rod())
    _fine(do, gauge, name, 10.0, 10.0 + band)
    assert codes(do) == ([] if good else ["route-gauge-coarse"])
    saw = doing(rod(), kind="saw")
    _fine(saw, gauge, name, 10.0, 10.001)
    assert codes(saw) == []
    for least, most, fits in (
        (10.0, 10.0 + band, True),
        (10.001, 25.0, False),
        (0.0, 9.99 + band, False),
    ):
        do = doing(rod(), kind="saw")
        _fine(do, gauge | {"least_mm": least, "most_mm": most}, name, 10.0, 10.0 + band)
        assert codes(do) == ([] if fits else ["route-gauge-range"])
    with pytest.raises(Missing):
        _fine(do, gauge, name, 10.0, 9.999)


def test_a_caliper_longer_than_a_workshop_s_is_named() -> None:
    """A shaft of 7-3/16 in was measured by "vernier caliper": one of 6 in, 150 mm, does not open so far
    (common practice; DIN 862 has 150, 200, 300 and 500)."""
    gauge = {"least_mm": 0.0, "most_mm": 508.0, "resolution_mm": 0.0254}
    for name, high, good in (
        ("vernier caliper", 152.4, True), ("vernier caliper", 152.5, False),
        ("vernier caliper to 12 in", 182.7, True),
    ):  # fmt: skip
        do = doing(rod())
        _fine(do, gauge, name, high - 0.24, high)
        assert codes(do) == ([] if good else ["route-gauge-range"]), (name, high)


def test_every_size_with_limits_has_a_reading_of_its_own() -> None:
    bore = turned(f.Bore, depth_mm=10.0, diameter=TENTH)
    read = {"kind": "inside", "low_mm": 19.9, "high_mm": 20.1}
    for low, high, good in ((19.9, 20.1, True), (19.899, 20.101, True), (19.897, 20.1, False),
            (19.9, 20.103, False),
                            (20.0, 20.0, False)):  # fmt: skip
        do = doing(rod())
        _covered(do, bore, [read | {"low_mm": low, "high_mm": high}])
        assert codes(do) == ([] if good else ["route-not-measured"]), (low, high)
    do = doing(rod())
    _covered(do, bore, [])
    assert codes(do) == ["route-not-measured"]
    # where it lies: limits of 5 within 0.2 in all are under nine tenths of the general ones, 0.2 of m
    for upper, wanted in ((0.08, 1), (0.1, 0)):
        size = f.Limits(5.0, upper, -upper, "")
        placed = turned(
            f.Bore, depth_mm=1.0, diameter=SIX, locations=(f.Location("A", "+z", size),)
        )
        assert len(list(_places(placed))) == wanted
    flat = f.MilledFlat(
        name="m",
        datum="A",
        box=BOX,
        locations=(f.Location("A", "+z", f.Limits(5.0, 9.0, -9.0, "")),),
    )
    assert len(list(_places(flat))) == 1


def test_a_ball_ends_at_the_rim_of_the_centre_it_was_turned_on() -> None:
    """Ø20 about 18, a centre of Ø3 in its pole: the rim at the root of 10 and 1.52 squared off."""
    piece = rod(24.0, 0.0, 40.0)
    body, metal = piece.metal.bodies[0], piece.metal
    assert rims(body, 0) == []  # without a ball a hole has no rim to look for
    metal.cut(OffBall(0, (18.0, 0.0, 0.0), 10.0, 10.0, 41.0))
    metal.cut(Ring(0, (0.0, 0.0, 0.0), 20.0, 41.0, 1.5))
    metal.cut(Ring(1, (0.0, 0.0, 0.0), 20.0, 41.0, 1.0))  # across: no centre
    metal.cut(Ring(0, (0.0, 0.0, 0.0), 39.0, 41.0, 9.0, 4.0))  # not a hole
    assert rims(body, 0) == pytest.approx([1.54])
    assert sorted(_mouths(body, 0)) == pytest.approx([18 - 9.8838, 18 + 9.8838], abs=1e-3)
    assert metal.end(0, 1) == pytest.approx(18 + (100 - 1.52**2) ** 0.5)
    for pit, found in ((9.97, 2), (9.99, 0)):  # one as wide as the ball has no rim on it
        other = rod(24.0, 0.0, 40.0)
        other.metal.cut(OffBall(0, (18.0, 0.0, 0.0), 10.0, 10.0, 41.0))
        other.metal.cut(Ring(0, (0.0, 0.0, 0.0), 20.0, 41.0, pit))
        assert len(_mouths(other.metal.bodies[0], 0)) == found
