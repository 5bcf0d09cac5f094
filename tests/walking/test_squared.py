"""What a cut is set by, where it must lie true to a datum: taken away or set otherwise, it is refused.

Common practice: a face that must be square to a shaft is milled with that shaft clocked over its
length, not with the jaws on a bar as it was rolled, which the weld has pulled; a plane that lies level
says nothing of how the work is turned about the upright. The angles are worked out by hand beside each.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of
from walking.part_walk import near, of_parts, walked

from planner.output.plan import Plan
from planner.walking.walk import walk

Data = dict[str, Any]
Spoil = Callable[[Data], None]


@pytest.fixture(scope="module", params=["bench-lathe", "inch-lathe"])
def one(request: pytest.FixtureRequest) -> Plan:
    """A metric and an inch shop."""
    return planned(ROOT / "examples" / f"{request.param}.toml")


def _until(plan: Plan, part: str, feature: str) -> tuple[list[Data], list[Data], Data]:
    """A part's set-ups and steps up to a feature, and the set-up that it is finished in."""
    setups, steps = (copy.deepcopy(rows) for rows in of_parts(plan, part))
    last = next(i for i, row in enumerate(steps) if feature in row["makes"])
    kept = {row["setup"] for row in steps[: last + 1]}
    own = next(row for row in setups if row["number"] == steps[last]["setup"])
    return [row for row in setups if row["number"] in kept], steps[: last + 1], own


def _said(plan: Plan, part: str, feature: str, spoil: Spoil) -> list[str]:
    setups, steps, own = _until(plan, part, feature)
    spoil(own)
    found = [one for one in walked(plan, setups, steps) if one.code == "route-not-trued"]
    remedies = {
        "nothing": "Clock the datum itself, or what was turned with it, over its length",
        "what": "Set it closer, or clock something longer",
    }
    for one in found:
        if remedy := remedies.get(one.limit.split()[0]):
            assert one.remedy == remedy
        if one.limit.startswith("nothing"):
            assert one.limit.split(" sets its angle about ")[1] in ("x", "y", "z")
    return [one.limit for one in found]


def _clocks(own: Data, word: str) -> Data:
    """What is clocked over its length; there is one such in the set-up."""
    (found,) = (
        row for row in own["align"] if row["what"].startswith(f"the {word}, over its length")
    )
    return found


@pytest.mark.parametrize(
    ("part", "feature", "word", "jaw"),
    [
        ("rotating-body", "foot flat", "journal", "block.-y"),
        ("sliding-head", "foot bearing face", "rod", "arm.-y"),
    ],
)
def test_a_face_is_milled_with_its_datum_clocked(
    one: Plan, part: str, feature: str, word: str, jaw: str
) -> None:
    assert _said(one, part, feature, lambda own: None) == []

    def without(own: Data) -> None:
        own["align"].remove(_clocks(own, word))
        own["align"].append(
            {"what": "true to the slide's travel", "surface": jaw, "by": "dial indicator"}
            | {"within_mm": 0.02}
        )

    def by_the_jaw(own: Data) -> None:
        _clocks(own, word)["surface"] = jaw

    for spoil in (without, by_the_jaw):
        told = _said(one, part, feature, spoil)
        assert any(row.startswith("nothing that lies true to ") for row in told), told


def test_a_reading_too_coarse_for_what_is_cut_is_refused(one: Plan) -> None:
    """Journal and flat, both of the part's own sizes: what shows over the one is out over the other."""
    body = next(part for part in one.attachment.parts if part.name == "rotating-body")
    flat = next(row for row in body.features if row.name == "foot flat")
    journal = next(row for row in body.features if row.name == "journal")
    (true,) = (row for row in body.trueness if row.of == "foot flat:z-low")
    wide = flat.box.high[0] - flat.box.low[0]  # type: ignore[attr-defined]
    long = abs(journal.end_mm - journal.start_mm)  # type: ignore[attr-defined]
    bound = true.value_mm * long / wide
    assert 0.004 < bound < 0.03

    def reads(within: float) -> Spoil:
        return lambda own: _clocks(own, "journal").update(within_mm=within)

    assert _said(one, "rotating-body", "foot flat", reads(bound * 0.98)) == []
    (told,) = _said(one, "rotating-body", "foot flat", reads(bound * 1.3))
    assert told.startswith("what it is set by may leave it ")
    assert told.endswith(" out over its length")


def _bored(plan: Plan, spoil: Callable[[Data, Data], None]) -> list[tuple[str, str]]:
    """What is found when the rod bore's set-up, or the housing's, is spoiled."""
    setups, steps = copy.deepcopy(plan.route.setup_records()), plan.route.operation_records()
    at = {name: next(row["setup"] for row in steps if name in row["makes"])
          for name in ("rod bore", "pivot bore")}  # fmt: skip
    mine, its = (
        next(row for row in setups if row["number"] == at[name])
        for name in ("rod bore", "pivot bore")
    )
    spoil(mine, its)
    whole = plan.attachment
    found = near(whole, plan.job, setups, steps, mine["part"], its["part"])
    return [
        (one.value.split(" to ")[0], one.limit) for one in found if one.code == "route-not-trued"
    ]


def test_the_rod_bore_is_made_with_the_pivot_square_across_the_bed(bench: Plan) -> None:
    """The level flat says nothing of it: the housing's shank does, by whose side that was bored."""

    def without(mine: Data, its: Data) -> None:
        mine["align"] = [row for row in mine["align"] if "against" not in row]

    def by_its_top(mine: Data, its: Data) -> None:
        for rows in (mine["align"], its["align"]):
            for row in rows:
                side = row.get("against", row)
                if side["surface"] == "shank.+z":
                    side["surface"] = "shank.+y"

    def bored_otherwise(mine: Data, its: Data) -> None:
        its["align"] = [row for row in its["align"] if not row["surface"].endswith("z")]

    for spoil in (without, by_its_top, bored_otherwise):
        ((name, told),) = [row for row in _bored(bench, spoil) if row[0] == "rod bore"]
        assert told.startswith("nothing that lies true to C"), (name, spoil.__name__)


def test_what_lies_level_is_not_tried_by_a_square() -> None:
    """As it was: a flat that looks up, set by a square, whose blade stands along none of it (a fact of
    the tool): an indicator, or the scriber of a block, is passed over it."""
    what, said = "the lever seat parallel to the table", []
    machines = {"milling slide": {}, "drill press": {}, "bandsaw": {}, "welder": {}}
    for owned in (True, False):
        shop = {"shop.machines": machines, "shop.measuring": {"dial_indicator": owned}}
        job, whole, route = of("engine-lathe", **shop)
        (lever,) = [part for part in whole.parts if part.name == "clamp-lever"]
        setups = [row for row in route.setup_records() if row["part"] == lever.name]
        numbers = {row["number"] for row in setups}
        steps = [row for row in route.operation_records() if row["setup"] in numbers]
        (where,) = [row for row in setups if any(o["what"] == what for o in row["align"])]
        assert list(walk([lever], job, setups, steps)) == []
        said += [row["by"] for row in where["align"]]
        where["align"][0]["by"] = "square"
        assert [(o.code, o.limit, o.remedy) for o in walk([lever], job, setups, steps)] == [
            (
                "route-not-trued",
                "a square reads only what stands upright",
                "Run an indicator over it, or a scribing block",
            )
        ]
    assert said == ["dial indicator", "scribing block"]
