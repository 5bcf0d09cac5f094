"""Where features lie, in words: from which datums, in line with what, and what is still to come."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

import pytest
from making.shops import shop
from msgspec.structs import replace

from parts.attachment import attachment
from parts.body import rotating_body
from parts.features import DrilledHole, Feature, Hole, Location, Removed, Slit, general
from parts.frame import Axis
from parts.part import Agreement, Datum, Joined, Member, Part, Stock, every_feature
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.making.places import Places
from planner.making.route import Operation, route, whole_route
from planner.output.plan import Plan
from planner.output.sheets.route import route_text
from planner.sizing.apply import size_up
from planner.words.numbers import INCH, METRIC

FROM = re.compile(r"(\S+)(?: \(\S+\)| ±\S+)? ([+-][xyz]) from ([A-Z])")


def begun(plan: Plan) -> Iterator[tuple[Operation, Part, Member | None, Feature]]:
    """The operation that begins each feature."""
    for part in plan.attachment.parts:
        for member, feature in every_feature(part):
            yield (
                next(
                    op
                    for op in plan.operations
                    if op.part == part.name and feature.name in (*op.makes, *op.prepares)
                ),
                part,
                member,
                feature,
            )


def test_every_location_is_said_once_where_the_feature_is_begun(plan: Plan) -> None:
    said = 0
    for op, _, _, feature in begun(plan):
        own = op.place.split("; ")[0]
        assert [(way, letter) for _, way, letter in FROM.findall(own)] == [
            (location.along, location.datum) for location in feature.locations
        ]
        for location in feature.locations:
            assert plan.job.numbers.limits(location.size) in own
        said += len(feature.locations)
    assert said > 15
    assert sum(bool(op.place) for op in plan.operations) > 15


def test_what_lies_beside_an_axis_is_placed_in_every_way_it_can_be_moved(plan: Plan) -> None:
    # common practice: a hole is laid out in both ways across it, unless the lathe sets it true
    for op, part, _, feature in begun(plan):
        if not isinstance(feature, Hole) or op.machine == "lathe" and not op.place:
            continue
        if isinstance(part.blank, Joined) or feature.axis.along[1] != "x":
            words = [word for word in op.place.split("; ")[0].split(", ") if word]
            whole = any(word.startswith("on the axis of") for word in words)
            assert len(words) == 2 or whole, (feature.name, op.place)


def test_milled_and_sawn_features_say_where_they_lie(plan: Plan) -> None:
    for op, _, _, feature in begun(plan):
        if isinstance(feature, Removed):
            assert op.place, feature.name


def test_a_slit_says_its_depth_with_its_limits(bench: Plan) -> None:
    # rod 14: the slit lies 0.8 of its radius behind the axis, 5.6; there the bore is 0.6 x 7 = 4.2
    # deep, and the hinge of 2.8 beyond it begins at 7; the leaf of 7 has its face 14 off: 7 deep.
    # At its limits the slit's near corner is 5.6 - 0.1 - 0.9 = 4.6 behind: root(4.6^2 + 7^2) = 8.376
    s = bench.sizing.sizes
    assert (s.rod_diameter_mm, s.hinge_mm, s.leaf_thickness_mm) == (14.0, 2.8, 7.0)
    (op,) = [op for op in bench.operations if "hinge slit" in op.makes]
    assert op.place == "middle 5.6 ±0.1 -x from D, bottom 7 (0/-0.1) +z from E"
    assert "slit 1.6 ±0.2 wide, 7 (0/-0.1) deep, leaves at least 1.38" in op.text
    assert "too deep is dangerous" in op.note.lower() and "grease" in op.note
    slits = [f for p in bench.attachment.parts for _, f in every_feature(p) if isinstance(f, Slit)]
    assert len(slits) == 2


def test_a_bore_in_place_says_its_height_with_its_limits(plan: Plan) -> None:
    # 20 H7 and the like are sizes; the height over the seat is the spindle's
    (op,) = [op for op, _, _, f in begun(plan) if f.name == "pivot bore"]
    said = re.match(r"([\d.]+) ±([\d.]+) ", op.place)
    assert said and "from B" in op.place
    unit = 25.4 if plan.job.inch else 1.0
    assert float(said[1]) * unit == pytest.approx(plan.job.lathe.spindle_over_seat, abs=0.002)


def to_come(part: Part, operations: Iterable[Operation]) -> tuple[list[str], int]:
    """Features whose place says wrongly whether its datum is there; and how many say it is to come."""
    wrong, coming = [], 0
    known = {f.name for _, f in every_feature(part)}
    started: set[str] = set()
    for op in (op for op in operations if op.part == part.name):
        for datum in {letter for _, _, letter in FROM.findall(op.place)}:
            if op.piece != op.part or datum not in part.datums:
                continue
            carrier = part.datums[datum].of
            if carrier in known and carrier not in {m.name for m in _pieces(part)}:
                said = f"the {carrier} is still to come" in op.place
                wrong += [op.text] if said != (carrier not in started) else []
                coming += said
        started |= {*op.makes, *op.prepares}
    return wrong, coming


def test_what_a_place_is_given_from_is_there(plan: Plan) -> None:
    # nothing of the examples is laid out from what is still to come
    for part in plan.attachment.parts:
        assert to_come(part, plan.operations) == ([], 0), part.name


def test_what_a_place_is_given_from_is_there_or_said_to_come(bench: Plan) -> None:
    # a body made up: its handle hole, drilled after welding, measured from the rod's bore, which is
    # bored in place
    body = rotating_body(bench.sizing.sizes)
    far = body.place("rod bore", "axis").at[0] - body.place("handle hole", "axis").at[0]
    moved = tuple(
        replace(f, locations=(Location("Z", "-x", general(far)),)) if f.name == "handle hole" else f
        for f in body.features
    )
    datums = {**body.datums, "Z": Datum("rod bore", "axis", "axis of the rod's bore")}
    made_up = replace(body, features=moved, datums=datums)
    placed = tuple(
        replace(p, item=made_up) if isinstance(p.item, Part) and p.item.name == body.name else p
        for p in bench.attachment.placed
    )
    operations = route(replace(bench.attachment, placed=placed), bench.job)
    assert to_come(made_up, operations) == ([], 1)
    # where it is not said, that is found; and where it is said of what is there
    hole = next(op for op in operations if "the rod bore is still to come" in op.place)
    silent = [replace(op, place=op.place.split("; ")[0]) for op in operations]
    assert to_come(made_up, silent) == ([hole.text], 0)
    last_of_all = [op for op in operations if op != hole] + [hole]
    assert to_come(made_up, last_of_all) == ([hole.text], 1)


def _pieces(part: Part) -> tuple[Member, ...]:
    return part.blank.members if isinstance(part.blank, Joined) else ()


def test_words_of_agreements_by_hand() -> None:
    bar = Stock(Section("square", 20), 60.0, "S355")

    def hole(name: str, x: float, z: float, *locations: Location) -> DrilledHole:
        return DrilledHole(
            name=name,
            datum="A",
            axis=Axis((x, 10.0, z), "-y"),
            depth_mm=20.0,
            diameter=general(5.0),
            locations=locations,
        )

    first = hole("first hole", 10.0, 0.0, Location("A", "+x", general(10.0)))
    second = hole("second hole", 35.0, 0.0, Location("B", "+x", general(25.0)))
    part = Part(
        name="bar",
        title="Bar",
        blank=bar,
        features=(first, second),
        datums={
            "A": Datum("blank", "x-low", "end"),
            "B": Datum("first hole", "axis", "the first hole"),
        },
        colour=(0, 0, 0),
        agreements=(
            Agreement("symmetric", "first hole:axis", "blank:z-middle", "in the middle"),
            Agreement("symmetric", "second hole:axis", "first hole:axis", "in line"),
        ),
    )
    there, to_come = Places(part, METRIC, {"first hole"}), Places(part, METRIC, set())
    assert there.of(first, None) == "10 +x from A, in the middle of the blank"
    assert there.of(second, None) == "25 +x from B, in line with the first hole"
    assert to_come.of(second, None) == (
        "25 +x from B, in line with the first hole; the first hole is still to come, 10 +x from A,"
        " in the middle of the blank"
    )
    inch = Places(part, INCH, {"first hole"}).of(second, None)
    assert inch == "0.984 +x from B, in line with the first hole"  # 25 / 25.4: 0.984252


def test_a_place_is_said_once(plan: Plan) -> None:
    """Two holes on one axis lie in one place: of the one that comes first it is said, and no more."""
    for op in plan.route.operations:
        places = re.findall(r"[\d.]+(?: ±[\d.]+)? [+-][xyz] from \w+", op.place)
        assert len(places) == len(set(places)), op.place
    _, _, route = shop("everything")
    coming = [op.place for op in route.operations if "dial screw hole is still to come" in op.place]
    assert len(coming) == 1 and coming[0].count(" from B") == 1, coming


def test_the_sheet_explains_every_letter_it_measures_from(plan: Plan) -> None:
    text = " ".join(route_text(plan.route, plan.attachment, plan.job, False).split())
    for op, part, member, feature in begun(plan):
        if op.place:
            datums = member.datums if member else part.datums
            for location in feature.locations:
                assert f"{location.datum} = {datums[location.datum]}" in text
            assert f": {op.place}" in text
    for part in plan.attachment.parts:
        for member in _pieces(part):
            words = "; ".join(f"{letter} = {datum}" for letter, datum in member.datums.items())
            assert not words or text.count(f"Datums: {words} ") >= 1
    assert f"Places ({plan.job.numbers.unit}):" in text


@pytest.mark.parametrize("example", ["bench-lathe", "inch-lathe"])
def test_datums_of_a_piece_stand_with_its_first_set_up(
    job_with: Callable[..., Job], example: str
) -> None:
    job = job_with(example)
    made = attachment(size_up(job, "job.toml").sizes)
    lines = route_text(whole_route(made, job), made, job, False).splitlines()
    for part in made.parts:
        for member in _pieces(part):
            heads = [
                i for i, line in enumerate(lines) if re.match(rf"Set-up \d+: {member.name},", line)
            ]
            told = ["  Datums: " in "\n".join(lines[i : lines.index("", i)]) for i in heads]
            assert told == [bool(member.datums), *[False] * (len(told) - 1)]
