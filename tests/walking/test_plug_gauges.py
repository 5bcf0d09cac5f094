"""A bore that nothing in the shop reads is tried by a plug gauge, which is made first: an end that goes
in, at the least size, and one that does not, at the largest (ISO 1938-1, the principle, from memory).

As it was, routes asked for plugs "made first" that stood among no aids and in no cut list.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from making.shops import of

from planner.stock.aidpieces import aid_records
from planner.walking.aided import aided

Data = dict[str, Any]


@cache
def _bare() -> tuple[Any, ...]:
    job, whole, route = of("bench-lathe", **{"shop.measuring": {"telescoping_gauges": False}})
    return job, whole.parts, route.setup_records(), route.operation_records(), route.aids


def _tried() -> list[tuple[int, Data]]:
    steps = _bare()[3]
    return [
        (one["setup"], reading)
        for one in steps
        for reading in one["measure"]
        if reading["with"]["name"] == "plug gauge turned to size"
    ]


def test_every_plug_is_among_the_aids_with_both_its_ends() -> None:
    job, *_, aids = _bare()
    plugs = [one for one in aid_records(aids, job) if one["name"] == "plug gauge"]
    assert len(_tried()) >= 4
    for setup, reading in _tried():
        low, _, high, unit = reading["what"].split()
        assert (float(low), unit) == (pytest.approx(reading["low_mm"], abs=0.005), "mm")
        said = f"to {low}, which goes in, the other to {high} mm, which does not"
        (own,) = (one for one in plugs if one["made"].endswith(said))
        assert own["setup"] <= setup and own["saw_mm"] >= own["long_mm"]
        assert own["stock_mm"] > reading["high_mm"]


@pytest.mark.parametrize(
    ("changes", "value"),
    [
        ({}, None),
        ({"name": "plug"}, "is made of"),
        ({"made": "turned to size"}, "the bore is"),
        ({"long_mm": 8.0}, "long at the least"),
        ({"saw_mm": None}, "is not in the cut list"),
        ({"setup": 999}, "is made before set-up 999 only"),
    ],
)
def test_a_plug_that_is_not_there_or_has_one_end_is_refused(
    changes: Data, value: str | None
) -> None:
    job, parts, setups, steps, aids = _bare()
    made = [dict(one) for one in aid_records(aids, job)]
    plug = max((one for one in made if one["name"] == "plug gauge"), key=lambda o: o["size_mm"])
    plug |= changes
    said = [one.limit for one in aided(parts, job, setups, steps, made)]
    assert said == [] if value is None else any(value in one for one in said)


def test_a_bore_that_a_shaft_is_turned_to_is_read_and_not_only_tried() -> None:
    """A journal goes "to the bore as it came out, at most 0.015 mm less": two plugs, 0.02 apart, do not
    tell where between them the bore lies (common practice: one turns a plug to it and measures that).
    As it was, nothing was said of it, in a shop that has a micrometer and no inside gauge."""
    job, parts, setups, steps, aids = _bare()
    made = aid_records(aids, job)
    read = [(one["feature"], row["how"]) for one in steps for row in one["measure"]
            if row["with"]["name"] == "plug gauge turned to size"]  # fmt: skip
    said = (
        "what it came to, once the work is out: a plug of an offcut, turned to slide in it without"
    )
    said += " shake, under the micrometer"
    to = {"pivot bore", "rod bore"}
    assert {name for name, how in read if how == said} == to
    assert {name for name, how in read if how == ""} == {name for name, _ in read} - to

    def found(how: str) -> list[tuple[str, str]]:
        other = [one | {"measure": [row | {"how": how} for row in one["measure"]]}
                 if one["feature"] in to else one for one in steps]  # fmt: skip
        return [(o.code, o.value) for o in aided(parts, job, setups, other, made)]

    assert found(said) == []
    assert {code for code, _ in found("")} == {"route-not-measured"}
    assert {value.partition(":")[0] for _, value in found("")} == to
