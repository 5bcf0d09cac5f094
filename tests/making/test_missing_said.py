"""What is said to be missing is not what the job has, and its remedy is one that helps."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import SHOPS, shop
from msgspec.structs import replace
from walking.part_walk import near

from parts.frame import Box
from planner.making.bodies import Body
from planner.making.outfit import outfit
from planner.making.records import operation
from planner.making.route import Route
from planner.making.ways.elsewhere import no_mill

JOBS = sorted((ROOT / "tests" / "data" / "jobs").glob("*.toml"))


def _contradicts(route: Route, machines: set[str]) -> list[str]:
    """Lacks that send for a machine that is there: by its name in what lacks, or in the remedy."""
    told = []
    for one in route.missing:
        what = one.what.partition(" (")[0]
        named = [m for m in machines if f"a {m}" in what.replace("a mill with a table", "")]
        borrowed = [m for m in machines if f"borrow a {m}" in one.remedy]
        told += [f"{one.what}: {one.remedy}"] if named or borrowed else []
    return told


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_no_job_is_told_to_get_a_machine_it_has(path) -> None:  # type: ignore[no-untyped-def]
    plan = planned(path)
    owned = {str(name) for name in plan.job.shop.machines}
    assert _contradicts(plan.route, owned) == []


@pytest.mark.parametrize("name", SHOPS)
def test_no_shop_is_told_to_get_a_machine_it_has(name: str) -> None:
    job, _, route = shop(name)
    assert _contradicts(route, {str(one) for one in job.shop.machines}) == []


def test_a_milling_slide_that_does_not_hold_it_is_the_reason() -> None:
    """The small lathe has its milling slide: what it lacks is a table that the arm is clamped to."""
    plan = planned(ROOT / "tests" / "data" / "jobs" / "small-alone.toml")
    assert "milling slide" in {str(name) for name in plan.job.shop.machines}
    said = {one.what: one.remedy for one in plan.route.missing}
    what = "a mill with a table for the foot bearing face (no milling slide's vice holds it)"
    assert said[what] == "Have that one face milled"
    assert any(
        "foot bearing face" in o.text and o.machine == "a shop with a mill" for o in plan.operations
    )


def test_where_a_slide_would_hold_it_one_may_be_borrowed() -> None:
    """A block of 40 x 30 x 30 goes into a vice that opens 50; one of 80 x 70 x 70 does not."""
    for size, slide, held in ((40.0, False, True), (80.0, False, False), (80.0, True, False)):
        said: list[tuple[str, str, str]] = []
        box = Box((0.0, 0.0, 0.0), (size, size - 10.0, size - 10.0))
        work: Any = SimpleNamespace(
            bodies=[Body("block", box, None, 0.0)],
            on=SimpleNamespace(part=SimpleNamespace(name="head")),
            shop=SimpleNamespace(
                vice_opens_mm=lambda machine: 50.0,
                owns=lambda machine, slide=slide: slide,
                lacks=lambda *words, said=said: said.append(words),
            ),
        )
        feature: Any = SimpleNamespace(
            name="seat", box=Box((0.0, 0.0, size - 11.0), (size, size - 10.0, size - 10.0))
        )
        no_mill(work, feature, [(("+z", "face"), size - 11.0)], 40.0)
        if held:
            what = "a mill or a milling slide for the seat"
            remedy = "Have that one face milled, or borrow a milling slide for the lathe"
        else:
            what = "a mill with a table for the seat (no milling slide's vice holds it)"
            remedy = "Have that one face milled"
        assert said == [("head", what, remedy)]


def test_nothing_is_bought_for_what_is_done_elsewhere() -> None:
    """Who mills the one face has his own cutter, and sets the work true by his own indicator (common
    practice). As it was, a long end mill was to be bought for it, and an indicator for its set-up."""
    plan = planned(ROOT / "tests" / "data" / "jobs" / "small-alone.toml")
    (sent,) = [one for one in plan.operations if one.machine == "a shop with a mill"]
    bought = replace(sent.op.tool, owned=False, instead="buy one of the long series")
    away = replace(sent, op=replace(sent.op, tool=bought))
    setup = plan.route.setups[sent.setup - 1]
    assert operation(away, setup)["tool"]["instead"] == "a shop with a mill"
    assert not [one for one in outfit(plan.route, plan.job) if sent.setup in one.setups]
    steps = plan.route.operation_records()
    old = {"instead": "buy one of the long series"}
    spoiled = [
        one | {"tool": one["tool"] | old} if one["number"] == sent.number else one for one in steps
    ]

    assert [one for one in plan.walked if one.code == "route-words"] == []
    part = next(one["part"] for one in steps if one["number"] == sent.number)
    found = near(plan.attachment, plan.job, plan.route.setup_records(), spoiled, part)
    told = [one.limit for one in found if one.code == "route-words"]
    assert told == ["is to be bought for the mill, which the shop has not"]
