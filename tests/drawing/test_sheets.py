"""Finished sheets of the examples: proven, readable, true to the solid.

The proof is held against an independent one by the rank of linear equations (tests/sheet_rank.py), and
what is printed against the kernel's own boxes and areas and against shapely.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees, dist
from typing import Literal

import pytest
from msgspec.structs import replace
from shapely.geometry import Point, Polygon
from sheet_faults import mutations, overlaps, shape
from sheet_rank import Equations, shortfalls
from sheets_made import Made, made_sheets

from parts import features as f
from parts.housing import bore_height_mm
from parts.standard.series import Series
from planner.drawing import stations
from planner.drawing.apart import drawn
from planner.drawing.choose import View, views
from planner.drawing.marks import SAYING, said
from planner.drawing.model import Arc, Circle, Dimension, Leader, Polyline, Text
from planner.drawing.outline import reach_of
from planner.drawing.proof import faults, implied
from planner.drawing.scheme import Contradiction, Scheme, position
from planner.drawing.scheme import scheme as scheme_of
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import Subject, subjects
from planner.output.plan import Plan
from planner.solids import kernel, solid
from planner.solids.build import piece
from planner.solids.seen import SIDES, onto, section, seen


@pytest.fixture
def made(plan: Plan) -> tuple[Made, ...]:
    """Every sheet of an example, made once."""
    return made_sheets(plan)


def _shape(subject: Subject) -> object:
    if subject.member is not None:
        return piece(subject.member)
    return solid(subject.part, engraved=False)


def test_there_is_a_sheet_of_every_part_every_piece_and_every_weldment(
    plan: Plan, made: tuple[Made, ...]
) -> None:
    names = [subject.name for subject, _, _ in made]
    assert len(set(names)) == len(names)
    for part in plan.attachment.parts:
        assert part.name in names
        members = getattr(part.blank, "members", ())
        assert all(f"{part.name}-{m.name}" in names for m in members if m.features)


def test_every_sheet_is_proven_and_every_change_of_it_is_seen(made: tuple[Made, ...]) -> None:
    for subject, _, sheet in made:
        assert faults(subject, sheet) == []
        for what, changed in mutations(sheet):
            assert faults(subject, changed), f"{subject.name}: {what}"


def test_the_rank_of_the_equations_says_the_same(made: tuple[Made, ...]) -> None:
    """Complete: only the shift of the whole is free; nothing twice: each dimension raises the rank."""
    for subject, _, sheet in made:
        system = Equations(subject)
        assert shortfalls(system, sheet) == [], subject.name
        for what, changed in mutations(sheet):
            if any(f"|{x}|" in what for x in "xyz"):
                assert shortfalls(system, changed), f"{subject.name}: {what}"


def test_every_implied_relation_has_a_reason_and_holds_on_the_solid(
    made: tuple[Made, ...],
) -> None:
    """Within a micrometre, wherever both have faces of the kernel's solid."""
    held = 0
    for subject, scheme, _ in made:
        for one in implied(subject):
            assert len(one.reason.split()) > 1
            there = [list(_coordinates(scheme, ref, one.direction)) for ref in (one.one, one.other)]
            for a in there[0]:
                for b in there[1]:
                    assert abs(b - a - one.apart_mm) < 1e-3, (subject.name, one)
                    held += 1
    assert held > 150


def _coordinates(scheme: Scheme, ref: str, direction: int) -> Iterator[float]:
    """Where the faces of a station lie, of those that have a place in a direction."""
    for surface, numbers in scheme.claims.of.items():
        if surface.name == ref and surface.form in ("plane", "cylinder"):
            yield from (scheme.claims.faces[n].at[direction] for n in numbers)


def test_nothing_stands_on_anything_or_off_the_sheet(made: tuple[Made, ...]) -> None:
    for subject, _, sheet in made:
        assert list(overlaps(sheet)) == [], subject.name


def test_every_arrow_of_a_call_out_ends_on_a_drawn_line(made: tuple[Made, ...]) -> None:
    for subject, _, sheet in made:
        lines = [
            shape(stroke)
            for item in sheet.items
            if not isinstance(item, SAYING)
            for stroke in drawn(item).strokes
            if stroke.style in ("visible", "hidden", "thin", "phantom")
        ]
        for item in sheet.items:
            if isinstance(item, Leader):
                tip = Point(item.points[0])
                # a scribed line is a groove: the arrow ends in it, between its two edges
                near = 0.2 if any(word.startswith("line ") for word in item.words) else 0.05
                assert min(tip.distance(line) for line in lines) < near, (subject.name, item.words)


def test_the_index_marks_arrow_ends_where_the_mark_is_engraved(made: tuple[Made, ...]) -> None:
    """As one reads it who scribes by the sheet: its note says that the near hole stands 45 degrees
    clockwise from the mark, seen from the dial's side; the holes are across from each other. An arrow
    anywhere else on the rim has the line cut there."""
    ((subject, _, sheet),) = [one for one in made if one[0].name == "index-ring"]
    (near,) = [o.note for o in subject.features if o.name == "near ring hole"]
    assert near == "45 degrees clockwise from the index mark, seen from the dial's side"
    rounds = [item for item in sheet.items if isinstance(item, Circle)]
    rim = max(rounds, key=lambda one: one.radius)
    holes = {one.centre for one in rounds if dist(one.centre, rim.centre) > 1.0}
    assert len(holes) == 2
    (mark,) = [
        item.points[0]
        for item in sheet.items
        if isinstance(item, Leader) and item.words[0].startswith("line all along")
    ]
    assert 0.8 < dist(mark, rim.centre) / rim.radius < 1.001
    bearing, *both = (
        degrees(atan2(y - rim.centre[1], x - rim.centre[0])) for x, y in (mark, *holes)
    )
    assert all((bearing - hole) % 180.0 == pytest.approx(45.0, abs=0.1) for hole in both)


def test_a_depth_is_said_from_the_axis_that_the_hole_begins_on(made: tuple[Made, ...]) -> None:
    """Where no face is round a hole's mouth; the axis is called by its own part's or piece's name."""
    found = 0
    for subject, _, sheet in made:
        names = {name.rpartition("/")[2]: thing for name, (thing, _) in subject.carriers.items()}
        for item in sheet.items:
            for words in item.words if isinstance(item, Leader) else ():
                if "deep from the " in words:
                    name = words.split("from the ")[1].removesuffix("'s axis")
                    assert words.endswith("'s axis") and name in names, words
                    (hole,) = {mark.split("|")[0] for mark in item.feature.split(";")}
                    mouth = subject.place(f"{hole}:entry")
                    i = mouth.along
                    whole = next(k for k in subject.carriers if k.rpartition("/")[2] == name)
                    axis = subject.place(f"{whole}:axis")
                    assert axis.fixes(i) and axis.at[i] == pytest.approx(mouth.at[i]), words
                    found += 1
    bodies = [subject for subject, _, _ in made if subject.name == "rotating-body"]
    assert found >= len(bodies)  # its screw into the middle of the journal


def test_an_angle_has_its_vertex_in_the_middle_of_what_is_turned(made: tuple[Made, ...]) -> None:
    """Its legs end on the rim that its mark is scribed on, one of them on a centre line."""
    looked = 0
    for subject, _, sheet in made:
        rings = [one for one in sheet.items if isinstance(one, Circle | Arc)]
        for item in sheet.items:
            if isinstance(item, Dimension) and item.kind == "angle":
                (x, y), *legs = item.feet
                mark = subject.carriers[item.feature.split("|")[0]][0]
                radius = mark.diameter.nominal_mm / 2 * float(item.scale)  # type: ignore[attr-defined]
                middles = [dist(ring.centre, (x, y)) for ring in rings]
                assert min(middles) < 1e-3, subject.name
                assert [dist((x, y), leg) for leg in legs] == [pytest.approx(radius)] * 2
                assert min(abs(legs[0][0] - x), abs(legs[0][1] - y)) < 1e-6
                assert dist((x, y), item.at) == pytest.approx(radius + 7.0)
                looked += 1
    assert looked


def test_each_section_has_its_title_and_a_letter_at_either_end_of_its_line(
    made: tuple[Made, ...],
) -> None:
    """The way one looks is the same at both ends, and the letters stand behind the arrows."""
    for subject, scheme, sheet in made:
        cut = [view for view in views(scheme)[0] if view.at_mm is not None]
        words = [item for item in sheet.items if isinstance(item, Text)]
        titles = [item for item in words if "–" in item.words and len(item.words) == 3]
        assert len({one.words for one in titles}) == len(titles) <= len(cut), subject.name
        for title in titles:
            letter = title.words[0]
            assert title.words == f"{letter}–{letter}"
            ends = [item for item in words if item.words == letter]
            assert len(ends) == 2 and {one.height for one in (*ends, title)} == {5.0}
            same = [abs(a - b) < 1e-6 for a, b in zip(ends[0].at, ends[1].at, strict=True)]
            assert any(same), (subject.name, letter)  # one line, level or upright
            for one in ends:
                arrows = [
                    stroke.points[0]
                    for stroke in sheet.items
                    if isinstance(stroke, Polyline) and stroke.filled
                ]
                assert min(dist(one.at, tip) for tip in arrows) < 7.0 + 5.0 + 3.5


def test_functional_limits_stand_on_the_dimensions(plan: Plan, made: tuple[Made, ...]) -> None:
    """The bore's height over the seat sets the ball's form; the foot's flat and every fit."""
    numbers, sizes = plan.job.numbers, plan.sizing.sizes
    inch = 25.4 if plan.job.inch else 1.0
    for subject, _, sheet in made:
        for number, one in said(sheet):
            item = sheet.items[number]
            if subject.name == "housing" and (one.feature, one.what) == ("pivot bore", "y"):
                assert isinstance(item, Dimension)
                assert item.measured == pytest.approx(sizes.spindle_over_seat_mm)
                printed = float(item.text.split("±")[1])
                most = bore_height_mm(sizes) / inch + 1e-9
                assert printed <= most < printed + 1.5 * 10 ** -(3 + (inch > 1))
            if one.what == "diameter" and one.feature != "blank":
                thing = subject.carriers[one.feature][0]
                assert isinstance(thing, f.Feature)
                size = thing.diameter  # type: ignore[attr-defined]
                upper, lower = numbers.dimensioned(size)[1:]
                if upper or lower:
                    words = (
                        (item.upper, item.lower) if isinstance(item, Dimension) else item.words  # type: ignore[union-attr]
                    )
                    assert any(upper in word for word in words), (subject.name, one)
                    assert any(lower in word for word in words), (subject.name, one)


def test_a_view_reaches_as_far_as_the_solid(bench: Plan) -> None:
    """Its rectangle is that of the kernel's box, seen from that side."""
    for subject, _, _ in made_sheets(bench):
        around = _shape(subject).BoundingBox()  # type: ignore[attr-defined]
        for side in SIDES:
            ends = [
                onto(side, (around.xmin, around.ymin, around.zmin)),
                onto(side, (around.xmax, around.ymax, around.zmax)),
            ]
            curves = seen(subject.member or subject.part, side).curves
            points = [p for c in curves for p in _points(c)]
            for k in (0, 1):
                low, high = sorted(end[k] for end in ends)
                assert min(p[k] for p in points) == pytest.approx(low, abs=0.02)
                assert max(p[k] for p in points) == pytest.approx(high, abs=0.02)


def _points(curve: object) -> list[tuple[float, float]]:
    return list(reach_of(curve))  # type: ignore[arg-type]


def test_a_section_cuts_the_area_that_the_solid_has_there(bench: Plan) -> None:
    """The hatched loops against the kernel's cross-section with a plane."""
    looked = 0
    for subject, scheme, _ in made_sheets(bench):
        chosen, _ = views(scheme)
        for view in chosen:
            if view.at_mm is None:
                continue
            cut = section(subject.member or subject.part, view.side, view.at_mm).cut
            area = sum(Polygon(loops[0], loops[1:]).area for _, loops in cut)
            assert area == pytest.approx(_kernel_area(subject, view), rel=2e-3), subject.name
            looked += 1
    assert looked >= 3


def _kernel_area(subject: Subject, view: View) -> float:
    at = [0.0, 0.0, 0.0]
    assert view.at_mm is not None
    at[view.depth] = view.at_mm
    plane = kernel().Face.makePlane(1e3, 1e3, tuple(at), view.towards)
    return float(plane.intersect(_shape(subject)).Area())


def test_dimensions_measure_the_solid(made: tuple[Made, ...]) -> None:
    """What a dimension measures in its view is how far its two surfaces are apart."""
    for subject, _, sheet in made:
        for number, one in said(sheet):
            item = sheet.items[number]
            if isinstance(item, Dimension) and one.what in "xyz":
                i = "xyz".index(one.what)
                apart = position(subject, one.other, i) - position(subject, one.one, i)
                assert item.measured == pytest.approx(abs(apart), abs=1e-6)


def test_views_are_no_more_than_needed(made: tuple[Made, ...]) -> None:
    """Each of them says something that no other does: what is turned alone takes one."""
    for subject, scheme, _ in made:
        chosen, where = views(scheme)
        assert set(where.values()) <= set(chosen)
        assert len(chosen) <= 3, subject.name
        only_turned = all(isinstance(x, f.Turned | f.FacedLength) for x in subject.features)
        if only_turned and subject.stock is not None and subject.stock.section.shape == "round":
            assert len(chosen) == 1, subject.name


def test_the_same_features_are_located_alike_whatever_the_sizes(bench: Plan) -> None:
    """A hole's places are said from the same surfaces on the metric and the inch lathe."""
    from jobs import ROOT, planned

    inch = made_sheets(planned(ROOT / "examples" / "inch-lathe.toml"))
    metric = {s.name: _places(scheme) for s, scheme, _ in made_sheets(bench)}
    for subject, scheme, _ in inch:
        assert _places(scheme) == metric[subject.name], subject.name


def _places(scheme: Scheme) -> set[tuple[str, str, int]]:
    return {(e.one, e.other, e.direction) for e in scheme.edges}


def test_a_face_that_nobody_claims_is_refused(bench: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were there no rule for slits, their faces would go undimensioned; so the sheet is refused."""
    body = next(s for s in subjects(bench.attachment) if s.name == "rotating-body")
    rule = stations.leaves

    def without_slits(carrier: object) -> object:
        return iter(()) if isinstance(carrier, f.Slit) else rule(carrier)

    assert stations.claims(body)
    monkeypatch.setattr(stations, "leaves", without_slits)
    with pytest.raises(stations.UnclaimedFace, match="rotating-body"):
        stations.claims(body)


def test_a_place_within_limits_that_is_fixed_already_is_a_contradiction(bench: Plan) -> None:
    """The dial's screw points at the axis by agreement: limits for it would be a second size."""
    dial = next(part for part in bench.attachment.parts if part.name == "dial")
    more = f.Location("A", "+y", Series(inch=False).within(0.0, 0.01, -0.01))
    features = tuple(
        replace(one, locations=(*one.locations, more)) if one.name == "dial screw hole" else one
        for one in dial.features
    )
    with pytest.raises(Contradiction, match="dial screw hole"):
        scheme_of(Subject(replace(dial, features=features)))


@pytest.mark.parametrize(("projection", "below"), [("first", True), ("third", False)])
def test_what_is_seen_from_above_stands_below_in_first_angle_and_above_in_third(
    bench: Plan, projection: Literal["first", "third"], below: bool
) -> None:
    """ISO 5456-2 (from memory). The stop bar's fixing holes are seen from the front, its stops' holes
    from above."""
    bar = next(s for s in subjects(bench.attachment) if s.name == "stop-bar")
    sheet = drawn_sheet(bar, bench.job.numbers, (1, 1), "x", "A4", projection)
    tips = {
        one.feature: sheet.items[number].points[0][1]  # type: ignore[union-attr]
        for number, one in said(sheet)
        if isinstance(sheet.items[number], Leader)
    }
    assert (tips["neck stop hole"] < tips["stop fixing hole 1"]) is below
    assert sheet.projection == projection
