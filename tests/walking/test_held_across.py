"""How work is held and set for holes across it, and spotted through another part: taken wrong, refused.

Common practice: jaws stand clear of what stands out of a face and do not mark a finished one; a drill
that comes out below finds air; a round lies in a vee at any angle; a transfer drill is of the size of
the hole that guides it, and what it goes through is kept from moving. Each fault here was once in a
route: it is put back into one that is sound, as data.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from jobs import ROOT, planned

from parts.fitting import AGREEMENTS
from parts.part import Part
from planner.output.plan import Plan
from planner.walking.walk import walk
from planner.words.findings import Finding

Data = dict[str, Any]
Spoil = Callable[[Data, list[Data]], None]


def _made_in(plan: Plan, feature: str) -> tuple[list[Data], list[Data], Data, list[Data]]:
    """Records of a route, the set-up that a feature is made in and that set-up's steps, as copies.

    Up to that set-up, of its part and of those it is mounted with.
    """
    setups, operations = plan.route.setup_records(), plan.route.operation_records()
    number = next(one["setup"] for one in operations if one["feature"] == feature)
    at = next(k for k, one in enumerate(setups) if one["number"] == number)
    own = copy.deepcopy(setups[at])
    names = {own["part"], *own["with_parts"]}
    before = [one for one in setups[:at] if one["part"] in names]
    numbers = {one["number"] for one in before}
    steps = copy.deepcopy([one for one in operations if one["setup"] == number])
    return [*before, own], [o for o in operations if o["setup"] in numbers] + steps, own, steps


def _walked(plan: Plan, setups: list[Data], operations: list[Data]) -> list[Finding]:
    """What is found in set-ups and steps: the route is not walked to its end."""
    whole, names = plan.attachment, {one["part"] for one in setups}
    parts = [part for part in whole.parts if part.name in names]
    found = walk(parts, plan.job, setups, operations, placed=whole.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]


def _said(plan: Plan, feature: str, spoil: Spoil) -> list[tuple[str, str]]:
    """What is found in the set-up and the steps that were spoiled, and nothing anywhere else."""
    setups, operations, setup, steps = _made_in(plan, feature)
    spoil(setup, steps)
    found = _walked(plan, setups, operations)
    own = {f"set-up {setup['number']}", *(f"step {one['number']}" for one in steps)}
    assert {one.key for one in found} <= own
    return [(one.code, one.value) for one in found]


@pytest.fixture(scope="module", params=["bench-lathe", "inch-lathe"])
def one(request: pytest.FixtureRequest) -> Plan:
    """A metric and an inch shop."""
    return planned(ROOT / "examples" / f"{request.param}.toml")


def _thick(part: Part, body: str) -> float:
    """How thick a block is behind its thrust face, from the face to its far side."""
    member = next(m for m in part.blank.members if m.name == body)  # type: ignore[union-attr]
    return member.blank.box.placed(member.frame).high[0]


def test_jaws_on_a_finished_face_beside_a_shaft(one: Plan) -> None:
    part = next(p for p in one.attachment.parts if p.name == "rotating-body")
    thick = _thick(part, "block")

    def old(setup: Data, _: list[Data]) -> None:
        setup["hold"]["grips"][0] |= {
            "surface": "block.-x", "other": "block.+x", "size_mm": thick, "packing": None,
        }  # fmt: skip
        setup["align"] = [o for o in setup["align"] if "against" in o or "table" in o["what"]]
        setup["align"].append(
            {"what": "true", "surface": "block.-x", "by": "dial", "within_mm": 0.02}
        )

    found = _said(one, "feed screw hole", old)
    assert ("route-grip-finished", "jaws on the body thrust face") in found
    assert [code for code, _ in found] in (
        ["route-jaws-room", "route-grip-finished"], ["route-grip-finished"]
    )  # fmt: skip

    def bare(setup: Data, _: list[Data]) -> None:
        setup["hold"]["grips"][0]["packing"] = None

    assert _said(one, "feed screw hole", bare) == [("route-grip-finished", "jaws on the foot flat")]

    def unsaid(setup: Data, _: list[Data]) -> None:
        setup["holding"] = setup["holding"].replace("card", "something")

    assert [code for code, _ in _said(one, "feed screw hole", unsaid)] == ["route-words"]


def test_a_cross_hole_drilled_into_a_v_block_that_nothing_was_turned_by(one: Plan) -> None:
    def under(setup: Data, steps: list[Data]) -> None:
        at = next(o["cut"]["axis"]["through"][0] for o in steps if o["kind"] == "drill")
        setup["hold"]["grips"][0]["from_mm"] = at - 6.0

    found = _said(one, "handle hole", under)
    assert {code for code, _ in found} == {"route-cut-in-grip"} and "V-block" in found[0][1]

    def by_the_round(setup: Data, _: list[Data]) -> None:
        setup["align"][0] |= {"surface": "handle pin.round", "what": "square to the table"}

    assert [code for code, _ in _said(one, "handle hole", by_the_round)] == ["route-not-trued"] * 2

    def by_the_way_it_lies(setup: Data, _: list[Data]) -> None:
        setup["align"][0] |= {"surface": "handle pin.round", "what": "level"}

    found = _said(one, "handle hole", by_the_way_it_lies)
    assert found == [("route-not-trued", "a round alone lies in the vees or the jaws")]


def test_the_head_stands_square_by_its_rod(one: Plan) -> None:
    def by_the_top(setup: Data, _: list[Data]) -> None:
        top = setup["hold"]["grips"][0]["surface"]
        setup["align"][0] |= {"surface": top, "what": "square to the table"}

    assert [code for code, _ in _said(one, "tool screw hole", by_the_top)] == ["route-not-trued"]


@pytest.mark.parametrize("play", [-0.5, 0.3])
def test_a_drill_that_does_not_fill_the_hole_that_guides_it(one: Plan, play: float) -> None:
    def thinner(_: Data, steps: list[Data]) -> None:
        steps[0]["tool"]["diameter_mm"] -= play

    found = _said(one, "feed nut thread", thinner)
    assert [code for code, _ in found] == ["route-spot-guide"] and "feed screw hole" in found[0][1]


def test_the_drill_is_that_of_the_hole_the_feed_screw_runs_in(one: Plan) -> None:
    """The screw runs in the body's hole and the head's thread: one axis, as the parts agree."""
    runs = {o.one.split("/")[1].split(":")[0]: o.other.split("/")[1].split(":")[0]
            for o in AGREEMENTS if o.one.startswith("feed-screw/") and o.kind == "coaxial"}  # fmt: skip
    assert runs["feed thread"] == "feed nut thread"
    body = next(p for p in one.attachment.parts if p.name == "rotating-body")
    hole = next(o for o in body.features if o.name == runs["screw journal"])
    _, _, _, steps = _made_in(one, "feed nut thread")
    size = hole.diameter.nominal_mm  # type: ignore[attr-defined]
    assert steps[0]["kind"] == "spot" and abs(steps[0]["tool"]["diameter_mm"] - size) < 0.02


@pytest.mark.parametrize("feature", ["feed nut thread", "near index hole"])
def test_what_is_spotted_through_is_kept_from_moving(one: Plan, feature: str) -> None:
    """Each of what keeps it, taken away or put on what does not keep it."""
    many = 1 if feature == "feed nut thread" else 2
    for gone in range(many):

        def loose(setup: Data, _: list[Data], gone: int = gone) -> None:
            kept = [o for o in setup["align"] if "against" in o]
            assert len(kept) == many
            setup["align"].remove(kept[gone])

        found = _said(one, feature, loose)
        assert found and {code for code, _ in found} == {"route-spot-guide"}


def test_a_rod_too_thin_for_the_holes_it_is_put_through(one: Plan) -> None:
    def thin(setup: Data, _: list[Data]) -> None:
        rod = next(o["against"] for o in setup["align"] if "size_mm" in o.get("against", {}))
        rod["size_mm"] -= 0.4

    assert {code for code, _ in _said(one, "near index hole", thin)} == {"route-spot-guide"}


def test_a_part_is_not_put_back_to_be_spotted_through_again(one: Plan) -> None:
    setups, operations, setup, steps = _made_in(one, "near index hole")
    if setup["machine"] == "lathe":
        pytest.skip("each hole is set to the spindle by itself there")
    second = next(o for o in steps if o["kind"] == "spot" and o["feature"] == "far index hole")
    first = [o for o in steps if o["feature"] == "near index hole"]
    operations.remove(second)
    operations.insert(operations.index(first[-1]) + 1, second)
    found = _walked(one, setups, operations)
    assert [(f.key, f.code) for f in found] == [(f"step {second['number']}", "route-spot-guide")]


def test_nothing_is_measured_from_a_bore_that_is_not_there(one: Plan) -> None:
    def bore(_: Data, steps: list[Data]) -> None:
        line = next(o for o in steps if o["feature"] == "top line")
        line["measure"][0]["what"] = "in line with the bore"

    assert [code for code, _ in _said(one, "top line", bore)] == ["route-words"]
