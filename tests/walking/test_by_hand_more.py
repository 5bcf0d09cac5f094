"""More questions of the walk by hand: cuts as regions, surfaces, readings, what a tool comes to."""

from __future__ import annotations

from typing import Any

import pytest
from walk_records import along, bar
from walking.test_by_hand import BOX, LOC, SIX, TENTH, Told, centred, ends, held, rod, turned

from parts import features as f
from parts.frame import Axis
from parts.standard.sections import Section
from planner.walking.centres import on_centre
from planner.walking.cuts import Cut, cloud, cut_of
from planner.walking.cutting import _marked, _small, _within_limits, finished_sizes
from planner.walking.doing import Doing
from planner.walking.fixed import Fixed, _height
from planner.walking.gauging import _between, _covered, _fine, _places
from planner.walking.held import Held
from planner.walking.order import _bore, _last_cut, _ream, _spot, _turn
from planner.walking.reach import (
    _bar,
    _between_collars,
    _clear_of_centre,
    _clear_of_jaws,
    _from_the_end,
    _slender,
)
from planner.walking.records import Missing
from planner.walking.shape import FAR_MM, Line, OffBall, Ring, even, others
from planner.walking.spans import bored_mm, bottoms, spans
from planner.walking.state import Mark, Piece, sawn
from planner.walking.surfaces import Axis as Untouched
from planner.walking.surfaces import Cylinder, NoSurface, Plane, bare, sides, surface

X = Line(0, 1, (0.0, 0.0, 0.0))


def doing(piece: Piece, cut: Cut | None = None, kind: str = "turn", **operation: Any) -> Doing:
    """An operation on the lathe as the checks look at it."""
    record = {"tool": {"kind": "", "name": "x"}, "feature": "", **operation}
    return Doing(piece, record, {}, kind, "lathe", cut or Cut("none"), None, Told())


def codes(do: Doing) -> list[str]:
    return [one.code for one in do.faults.found]


# ---- cuts ----


@pytest.mark.parametrize(
    ("kind", "cut", "regions"),
    [
        # a face: the skin off it, a hundredth over its diameter, a thousandth past its far side
        ("face", {"shape": "face", "at_mm": 50.0, "keeps": "-x", "diameter_mm": 20.0, "off_mm": 2.0},
         [[50.0, 52.001, 10.01, 0.0]]),
        ("face", {"shape": "face", "at_mm": 50.0, "keeps": "+x", "diameter_mm": 20.0, "off_mm": 2.0},
         [[47.999, 50.0, 10.01, 0.0]]),
        ("turn", {"shape": "turn", "from_mm": 30.0, "to_mm": 10.0, "before_mm": 20.0, "after_mm": 16.0},
         [[10.0, 30.0, 10.01, 8.0]]),
        ("bore", {"shape": "bore", "from_mm": 10.0, "to_mm": 30.0, "before_mm": 8.0, "after_mm": 9.0},
         [[10.0, 30.0, 4.5, 0.0]]),
        ("drill", {"shape": "hole", "from_mm": 10.0, "to_mm": 30.0, "after_mm": 5.0}, [[10.0, 30.0,
        2.5, 0.0]]),
        ("thread", {"shape": "thread", "from_mm": 10.0, "to_mm": 30.0, "diameter_mm": 8.0,
        "pitch_mm": 1.0}, []),
        ("mill", {"shape": "slot", "box": [[9, 5, 1], [2, -5, 8]]}, [[2, -5, 1, 9, 5, 8]]),
        ("mill", {"shape": "flat", "normal": "+z", "at_mm": 5.02, "box": [[2, -5, 5], [9, 5, 8]]},
         [[2, -5, 5, 9, 5, 8]]),
        ("mill", {"shape": "flat", "normal": "-z", "at_mm": 7.98, "box": [[2, -5, 5], [9, 5, 8]]},
         [[2, -5, 5, 9, 5, 8]]),
    ],
)  # fmt: skip
def test_a_cut_takes_the_region_that_its_record_says(
    kind: str, cut: dict[str, Any], regions: list[list[float]]
) -> None:
    found = cut_of(rod(), {"kind": kind, "cut": {"axis": along("+x"), **cut}}, None)
    assert [ends(one) for one in found.regions] == regions and found.drops == ()
    low, high = (regions[0][:2] if regions else (10.0, 30.0)) if "box" not in cut else (0.0, 0.0)
    if kind != "face":
        assert (found.low, found.high) == (low, high)
    sizes = {"turn": (8.0, 10.0), "bore": (4.5, 4.0), "drill": (2.5, 0.0), "thread": (4.0, 0.0)}
    if kind in sizes:
        assert (found.radius, found.before) == sizes[kind]
    assert found.inside is (kind in ("bore", "drill"))


def test_what_a_cut_says_wrongly_is_told() -> None:
    flat = {"shape": "flat", "normal": "+z", "at_mm": 5.03, "box": [[2, -5, 5], [9, 5, 8]]}
    face = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 1.0,
        "keeps": "+y",
        "diameter_mm": 2.0,
        "off_mm": 1.0,
    }
    for cut, key in ((flat, "cut.at_mm"), (face, "cut.keeps"), ({"shape": "round"}, "cut.shape")):
        with pytest.raises(Missing) as caught:
            cut_of(rod(), {"kind": "mill", "cut": cut}, None)
        assert caught.value.key == key


def test_a_parting_cut_drops_what_is_behind_it_and_a_face_passes_a_journal() -> None:
    cut = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 50.0,
        "keeps": "-x",
        "diameter_mm": 20.0,
        "off_mm": 3.0,
    }
    found = cut_of(rod(), {"kind": "part", "cut": cut}, None)
    assert [ends(one) for one in found.drops] == [[53.0, FAR_MM, FAR_MM, 0.0]]
    back = cut_of(rod(), {"kind": "part", "cut": cut | {"keeps": "+x"}}, None)
    assert [ends(one) for one in back.drops] == [[-FAR_MM, 47.0, FAR_MM, 0.0]]
    for journal, inner in ((9.9, 9.9), (9.96, 0.0)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 52.0, 200.0, FAR_MM, journal))
        face = cut_of(piece, {"kind": "face", "cut": cut | {"off_mm": 2.0}}, None)
        assert (face.before, ends(face.regions[0])[3]) == (inner, inner)


def test_a_balls_cut_is_outside_its_sphere() -> None:
    ball = turned(f.TurnedBall, start_mm=10.0, end_mm=28.0, diameter=TENTH)
    record = {"kind": "ball", "cut": {"shape": "other"}, "makes": ["x"]}
    found = cut_of(rod(), record, ball)
    assert [ends(one) for one in found.regions] == [[18.0, 10.0, 10.0, 28.01]]
    assert (found.low, found.high, found.radius) == (10.0, 28.0, 10.0)
    back = turned(
        f.TurnedBall, Axis((50.0, 0.0, 0.0), "-x"), start_mm=10.0, end_mm=28.0, diameter=TENTH
    )
    assert [ends(one) for one in cut_of(rod(), record, back).regions] == [[32.0, 10.0, 22.0, 40.01]]
    assert cut_of(rod(), record | {"makes": []}, ball) == Cut("other")
    knurl = turned(f.Knurl, start_mm=1.0, end_mm=9.0, diameter=TENTH, pitch_mm=1.0)
    found = cut_of(
        rod(), {"kind": "knurl", "cut": {"shape": "other", "from_mm": 9, "to_mm": 2}}, knurl
    )
    assert (found.low, found.high, found.regions) == (2.0, 9.0, ())


def test_points_of_a_region_lie_in_it_and_come_to_its_faces() -> None:
    metal = rod(20.0, 0.0, 100.0).metal
    for region in (
        Ring(0, (0.0, 0.0, 0.0), 20.0, 120.0, FAR_MM, 6.0),
        Ring(0, (0.0, 0.0, 0.0), 20.0, 40.0, 5.0),
    ):
        points = cloud(region, metal)
        assert region.has(points).all() and 0.0005 < points[:, 0].min() - 20.0 < 0.0015
        assert abs(points[:, 0].max() - min(region.high, 100.0)) < 0.0015
    ball = OffBall(0, (18.0, 0.0, 0.0), 10.0, 10.0, 28.01)
    points = cloud(ball, metal)
    assert len(points) and ball.has(points).all()
    assert len(cloud(Ring(0, (0.0, 0.0, 0.0), 101.0, 120.0, 5.0), metal)) == 0
    assert len(cloud(OffBall(0, (0.0, 0.0, 0.0), 5.0, 101.0, 120.0), metal)) == 0
    # with the ends of the metal: a skin of 0.05 at an end is found there
    short = rod(20.0, 0.0, 100.0).metal
    short.cut(Ring(0, (0.0, 0.0, 0.0), 90.05, 300.0, FAR_MM))
    at = cloud(Ring(0, (0.0, 0.0, 0.0), 0.0, 100.0, 12.0, 5.0), short, ends=True)[:, 0]
    assert any(abs(x - 90.03) < 0.001 for x in at) and any(abs(x - 0.02) < 0.001 for x in at)
    assert even(1.0, 4.0, 4) == [1.0, 2.0, 3.0, 4.0] and [others(i) for i in range(3)] == [
        (1, 2),
        (2, 0),
        (0, 1),
    ]


# ---- the work along a line ----


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


# ---- surfaces ----


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


# ---- readings ----


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


# ---- what a tool comes to ----


def test_a_cut_stays_clear_of_jaws_carrier_and_steady() -> None:
    for near, far, kind, keeps, code in (
        (30.5, 60.0, "turn", 0, ""), (30.49, 60.0, "turn", 0, "route-cut-in-grip"),
        (30.5, 32.0, "face", 1, ""), (30.5, 31.9, "face", 1, "route-tool-reach"),
        (30.5, 31.9, "part", 1, ""),
    ):  # fmt: skip
        do = doing(
            rod(), Cut("face" if kind != "turn" else "turn", X, near, far, keeps=keeps), kind
        )
        _clear_of_jaws(do, held(30.0), near, far)
        assert codes(do) == [code] * bool(code), (near, kind)
    for key, at, clear in (
        ("driver", 94.0, True), ("driver", 94.1, False), ("driver", 126.0, True),
        ("driver", 125.9, False),
        ("steady", 97.0, True), ("steady", 97.1, False), ("steady", 123.0, True),
        ("steady", 122.9, False),
    ):  # fmt: skip
        do, one = doing(rod(), Cut("turn", X, 100.0, 120.0)), held(30.0)
        setattr(one, key, at)
        _clear_of_jaws(do, one, 100.0, 120.0)
        assert codes(do) == ([] if clear else ["route-cut-in-grip"]), (key, at)


def test_a_tool_behind_a_collar_wants_room_before_the_jaws() -> None:
    """Between jaws at 30 and a collar: six millimetres, two to groove, a blade its own width."""
    for kind, room, wide, good in (
        ("turn", 6.0, None, True), ("turn", 5.9, None, False), ("groove", 2.0, None, True),
        ("groove", 1.9, None, False), ("groove", 1.5, 1.5, True), ("groove", 1.5, 1.53, False),
        ("part", 1.5, 1.51, True), ("turn", 5.9, 1.0, False),
    ):  # fmt: skip
        do = doing(rod(), Cut("turn", X, 30.0, 30.0 + room, 8.0), kind)
        do.operation["tool"]["width_mm"] = wide  # type: ignore[index]
        _between_collars(do, held(30.0), 30.0, 30.0 + room)
        assert codes(do) == ([] if good else ["route-tool-reach"]), (kind, room, wide)
    do = doing(rod(20.0, 0.0, 36.0), Cut("turn", X, 32.0, 36.0, 8.0))
    _between_collars(do, held(30.0), 32.0, 36.0)
    assert codes(do) == []  # nothing stands before it


def test_holes_are_come_to_from_the_tailstock() -> None:
    back = Line(0, -1, (0.0, 0.0, 0.0))
    for line, tail, name, code in (
        (back, None, "drill", ""), (X, None, "drill", "route-tool-reach"),
        (back, 101.0, "drill", "route-tail-in-way"), (back, 101.0, "bar between centres", ""),
    ):  # fmt: skip
        do = doing(
            rod(20.0, 0.0, 100.0), Cut("hole", line, 80.0, 100.0, 3.0), "drill", tool={"name": name}
        )
        one = held(30.0)
        one.tail = tail
        _from_the_end(do, one, 80.0, 100.0)
        assert codes(do) == [code] * bool(code)
    for begins, good in ((100.0, True), (99.0, False)):  # metal before the hole
        do = doing(rod(20.0, 0.0, 100.0), Cut("hole", back, 80.0, begins, 3.0), "drill")
        _from_the_end(do, held(30.0), 80.0, begins)
        assert codes(do) == ([] if good else ["route-tool-reach"])


def test_nothing_is_faced_away_that_runs_on_a_centre() -> None:
    for far, keeps, before, name, clear in (
        (100.0, -1, 0.0, "x", False), (97.1, -1, 0.0, "x", False), (97.0, -1, 0.0, "x", True),
        (103.0, -1, 0.0, "x", True), (100.0, 1, 0.0, "x", True), (100.0, -1, 4.0, "x", True),
        (100.0, -1, 0.0, "half centre", True),
    ):  # fmt: skip
        do = doing(
            rod(), Cut("face", X, far - 1, far, 10.0, before, keeps), "face", tool={"name": name}
        )
        one = held(30.0)
        one.tail = 100.0
        _clear_of_centre(do, one, far)
        assert codes(do) == ([] if clear else ["route-tail-in-way"]), (far, keeps)


@pytest.mark.parametrize(
    ("kind", "size", "most"),
    [
        ("drill", 6.0, 8.0),
        ("ream", 6.0, 8.0),
        ("tap", 6.0, 4.0),
        ("tap", 9.4, 4.0),
        ("tap", 9.5, 8.0),
    ],
)
def test_a_tool_goes_so_many_diameters_deep(kind: str, size: float, most: float) -> None:
    for over, good in ((0.49, True), (0.6, False)):
        deep = most * size + over
        do = doing(rod(40.0), Cut("hole", X, 10.0, 10.0 + deep, size / 2), kind)
        do.operation["tool"]["diameter_mm"] = size  # type: ignore[index]
        _slender(do)
        assert codes(do) == ([] if good else ["route-tool-reach"]), over
    # an open bore on the way does not count: half of the way is in metal
    piece = rod(40.0)
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 10.0, 10.0 + deep / 2, 15.0))
    do = doing(piece, Cut("hole", X, 10.0, 10.0 + deep, size / 2), kind)
    do.operation["tool"]["diameter_mm"] = size  # type: ignore[index]
    _slender(do)
    assert codes(do) == []


def test_a_parting_tool_reaches_from_the_outside_to_where_it_breaks_through() -> None:
    for bore, reach, good in (
        (0.0, 10.0, True),
        (0.0, 9.9, False),
        (4.0, 6.0, True),
        (4.0, 5.9, False),
    ):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 90.0, bore))
        do = doing(piece, Cut("face", X, 50.0, 53.0, 10.0), "part", tool={"reach_mm": reach})
        _slender(do)
        assert codes(do) == ([] if good else ["route-tool-reach"]), (bore, reach)


def test_a_boring_bar_is_long_thick_and_thin_enough() -> None:
    for name, thick, reach, before, deep, refused in (
        ("boring bar", 10.0, 40.0, 12.5, 40.0, 0), ("boring bar", 10.0, 39.9, 12.5, 40.0, 1),
        ("boring bar", 10.0, 40.1, 12.5, 40.0, 1), ("boring bar, carbide", 10.0, 80.0, 12.5, 40.0, 0),
        ("boring bar, carbide", 10.0, 80.1, 12.5, 40.0, 1), ("boring bar", 10.0, 40.0, 12.4, 40.0, 1),
        ("bar between centres", 10.0, 120.0, 12.5, 40.0, 0),
        ("bar between centres", 10.0, 120.1, 12.5, 40.0, 1),
        ("facing tool", 1.0, 1.0, 1.0, 40.0, 0),
    ):  # fmt: skip
        do = doing(rod(40.0), Cut("bore", X, 10.0, 10.0 + deep, 8.0, before / 2), "bore",
                   tool={"name": name, "diameter_mm": thick, "reach_mm": reach})  # fmt: skip
        _bar(do)
        assert codes(do) == ["route-tool-reach"] * refused, (name, reach)


# ---- what was done before ----


def test_what_a_reamer_and_a_bore_find() -> None:
    for there, good in ((5.97, True), (5.98, False), (5.2, True), (5.19, False), (0.0, False)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, there / 2))
        do = doing(piece, Cut("hole", X, 0.0, 30.0, 3.0), "ream", tool={"diameter_mm": 6.0})
        _ream(do, X)
        assert codes(do) == ([] if good else ["route-order"]), there
    for size, good in ((6.05, True), (6.06, False), (5.94, False)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, 2.8))
        do = doing(piece, Cut("hole", X, 0.0, 30.0, 3.0), "ream", tool={"diameter_mm": size})
        _ream(do, X)
        assert codes(do) == ([] if good else ["route-words"])
    for before, code in (
        (10.0, ""),
        (10.14, ""),
        (10.16, "route-more-there"),
        (9.86, ""),
        (9.84, "route-cuts-nothing"),
    ):
        piece = rod(40.0)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, 5.0))
        do = doing(piece, Cut("bore", X, 0.0, 30.0, 6.0, before / 2), "bore")
        _bore(do, X)
        assert codes(do) == [code] * bool(code), before


def test_what_turning_finds() -> None:
    for before, code in (
        (20.0, ""),
        (19.82, ""),
        (19.78, "route-more-there"),
        (20.78, ""),
        (20.82, "route-cuts-nothing"),
    ):
        do = doing(rod(), Cut("turn", X, 10.0, 30.0, 8.0, before / 2))
        _turn(do)
        assert codes(do) == [code] * bool(code), before
    # limits within 0.05 are come to by a last cut of 1.5 a side, and a twentieth
    for band, off, code in ((0.05, 3.04, ""), (0.05, 3.06, "route-order"), (0.051, 9.0, "")):
        feature = turned(
            f.TurnedDiameter, start_mm=0.0, end_mm=10.0, diameter=f.Limits(20.0, band, 0.0, "")
        )
        do = doing(rod(20.0, 0.0, 200.0, feature), feature="x", makes=["x"])
        _last_cut(do, off)
        assert codes(do) == [code] * bool(code), (band, off)
    for sign, entry, good in (
        (1, 0.0, True),
        (1, 1.0, False),
        (-1, 200.0, True),
        (-1, 199.0, False),
        (1, 201.0, False),
    ):
        line = Line(0, sign, (0.0, 0.0, 0.0))
        low, high = sorted((entry, entry + 3.0 * sign))
        do = doing(rod(), Cut("hole", line, low, high, 2.0), "spot")
        _spot(do, line)
        assert codes(do) == ([] if good else ["route-order"]), (sign, entry)


def test_a_cut_is_worked_to_within_its_limits() -> None:
    feature = turned(
        f.TurnedDiameter, start_mm=0.0, end_mm=10.0, diameter=f.Limits(20.0, 0.02, -0.01, "")
    )
    for size, left, code in (
        (20.021, 0.0, ""),
        (20.022, 0.0, "x"),
        (19.989, 0.0, ""),
        (19.988, 0.0, "x"),
        (20.0, 0.1, "x"),
    ):
        do = doing(rod(), Cut("turn", X, 0.0, 10.0, size / 2), allowance_mm=left)
        _within_limits(do, feature)
        assert codes(do) == ["route-not-made"] * bool(code), size
    small = [
        (Cut("turn", X, 0, 1, 8.0, 10.0), "groove", True),
        (Cut("turn", X, 0, 1, 8.0, 10.1), "groove", False),
        (Cut("hole", X, 0, 1, 7.0), "centre", True), (Cut("hole", X, 0, 1, 7.1), "centre", False),
        (Cut("hole", X, 0, 1, 3.0), "drill", False), (Cut("flat"), "deburr", True),
        (Cut("flat"), "mill", False),
    ]  # fmt: skip
    assert [_small(doing(rod(), cut, kind)) for cut, kind, _ in small] == [
        one for _, _, one in small
    ]


def test_a_thread_or_knurl_is_cut_over_its_length() -> None:
    """A thread may lack a pitch and a half, as a groove leaves it; each of them 0.6 mm."""
    for kind, word, lacks in (
        (f.Thread, "thread", 2.1),
        (f.Knurl, "knurl", 0.6),
        (f.EngravedScale, "engraved", 0.6),
    ):
        more = {"thread": "M8x1"} if kind is f.Thread else {"diameter": TENTH}
        more |= {"pitch_mm": 1.0} if kind is f.Knurl else {}
        more |= {"divisions": 9, "line_width_mm": 0.2} if kind is f.EngravedScale else {}
        feature: Any = turned(kind, start_mm=5.0, end_mm=25.0, **more)
        for less, good in ((lacks - 0.01, True), (lacks + 0.01, False)):
            piece = rod()
            piece.marks.append(Mark(word, X, 5.0, 25.0 - less, 4.0))
            assert _marked(piece, feature) is good, (word, less)
            piece.marks[0] = Mark("spot", X, 5.0, 25.0, 4.0)
            assert not _marked(piece, feature)


def test_nothing_is_left_where_a_feature_is_to_be() -> None:
    feature = turned(
        f.TurnedDiameter, start_mm=150.0, end_mm=200.0, diameter=f.Limits(16.0, 0.1, -0.1, "")
    )
    for radius, done in ((8.05, True), (8.1, False)):
        piece = rod(20.0, 0.0, 200.0, feature)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 150.0, 200.0, FAR_MM, radius))
        assert finished_sizes(piece) is done


def test_of_two_centres_on_one_end_the_outer_holds() -> None:
    piece, one = rod(20.0, 0.0, 100.0), Held(X, "three-jaw chuck")
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 90.0, 100.0, 9.9))
    piece.marks += [centred(90.0, 1), centred(100.0, 1)]
    piece.metal.bodies[0].cuts.clear()
    piece.marks[0] = centred(100.0, 1)
    on_centre(piece, one, {"kind": "live", "end": "+x", "hole_mm": 5.0}, 1, Told())
    assert one.tail == 100.0


def test_enough_of_the_height_is_in_the_vice() -> None:
    """A third of it, three millimetres at least, fifteen at most (common practice)."""
    for tall, least in ((30.0, 9.9), (6.0, 3.0), (60.0, 15.0)):
        for short, good in ((0.04, True), (0.06, False)):
            piece = sawn(bar("b", Section("square", tall), 50.0, "S355"), "b", 0.0, 50.0)
            faults = Told()
            _height(piece, Fixed("machine vice"), 2, -tall, -tall / 2 + least - short, faults)
            assert faults.codes == ([] if good else ["route-vice-height"]), (tall, short)
            _height(piece, Fixed("bench vice"), 2, -tall, -tall / 2, faults)
            assert len(faults.codes) == (not good)
