"""What a feature is measured from is there when the feature is made: every location of every part."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from msgspec.structs import replace

from parts.body import rotating_body
from parts.features import Feature, Location, Stage
from parts.part import Part, every_feature
from parts.places import Datum
from planner.output.plan import Plan

STAGES = list(Stage)


def late(part: Part) -> Iterator[str]:
    """Features of a part with a location from a datum whose own feature is made at a later stage."""
    for owner, feature in every_feature(part):
        datums = owner.datums if owner else part.datums
        inside = owner.features if owner else part.features
        made: dict[str, Feature] = {one.name: one for one in inside}
        for location in feature.locations:
            carrier = made.get(datums[location.datum].of)
            if carrier and STAGES.index(carrier.stage) > STAGES.index(feature.stage):
                yield feature.name


def test_every_location_is_from_what_is_there_already(plan: Plan) -> None:
    found = {(part.name, name) for part in plan.attachment.parts for name in late(part)}
    assert found == set()
    located = [f for p in plan.attachment.parts for _, f in every_feature(p) if f.locations]
    assert len(located) >= 20


def test_the_route_makes_the_datum_first(plan: Plan) -> None:
    # by the numbers of the operations: the datum's feature is finished before the other is begun
    seen = 0
    for part in plan.attachment.parts:
        ops = [op for op in plan.operations if op.part == part.name]
        done = {name: op.number for op in ops for name in op.makes}
        begun: dict[str, int] = {}
        for op in ops:
            for name in (*op.makes, *op.prepares):
                begun.setdefault(name, op.number)
        for feature in part.features:
            for location in feature.locations:
                carrier = part.datums[location.datum].of
                if carrier in done:
                    assert done[carrier] < begun[feature.name], (part.name, feature.name)
                    seen += 1
    assert seen >= 6


@pytest.mark.parametrize("of", ["rod bore", "hinge slit"])
def test_a_datum_that_is_made_later_is_found(bench: Plan, of: str) -> None:
    # the same body, its handle hole measured from the rod's bore or from a slit
    body = rotating_body(bench.sizing.sizes)
    assert not list(late(body))
    element = "axis" if of == "rod bore" else "x-middle"
    there = body.place(of, element).at[0]
    moved = []
    for feature in body.features:
        if feature.name == "handle hole":
            far = there - body.place("handle hole", "axis").at[0]
            size = replace(feature.locations[0].size, nominal_mm=far)
            feature = replace(feature, locations=(Location("Z", "-x", size),))
        moved.append(feature)
    datums = {**body.datums, "Z": Datum(of, element, "made later")}
    wrong = replace(body, features=tuple(moved), datums=datums)
    assert list(late(wrong)) == ["handle hole"]
