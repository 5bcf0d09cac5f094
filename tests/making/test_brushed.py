"""Aluminium is brushed just before the arc: its oxide grows again and does not melt with it (common
practice). What goes to a welder's shop is brushed there once more.
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from making.shops import ALUMINIUM, of, walked_whole
from walking.part_walk import near

from parts.part import Joined
from planner.making.outfit import outfit
from planner.making.welding import weld_sheet
from planner.making.workshop import Workshop
from planner.walking.faults import Faults
from planner.walking.gathered import Gathered
from planner.walking.walk import WITH_ALL

AWAY: dict[str, Any] = {"shop.machines": {"mill": {"speeds": [500, 930]}}}
ANEW = (
    "  It was brushed bright where it is welded: wipe it with acetone and brush it anew just before the"
    " arc, by a stainless brush kept for aluminium. Oxide grows on it again meanwhile, and does not"
    " melt with the metal."
)


@pytest.mark.parametrize(
    ("changes", "when", "anew"),
    [
        (ALUMINIUM, "just before it is welded", False),
        (ALUMINIUM | AWAY, "the day it goes to be welded", True),
        (AWAY, "", False),  # steel keeps
    ],
)
def test_what_goes_away_to_be_welded_is_brushed_there_again(
    changes: dict[str, Any], when: str, anew: bool
) -> None:
    job, whole, route = of(**changes)
    brushed = [op.text for op in route.operations if "brush bright" in op.text]
    assert bool(brushed) == bool(when)
    assert all(f", {when}: no emery, its grit stays in the metal" in text for text in brushed)
    sheets = [weld_sheet(p, Workshop(job)) for p in whole.parts if isinstance(p.blank, Joined)]
    assert len(sheets) == 3
    assert [ANEW in lines for lines in sheets] == [anew] * 3


def test_a_piece_is_brushed_when_the_others_are_made() -> None:
    """No machine works on another piece of the weldment between the brush and the arc; put back to
    where it was, before the rod is turned, the walk refuses it."""
    job, whole, route = of(**ALUMINIUM)
    setups = route.setup_records()
    steps = copy.deepcopy(route.operation_records())
    assert walked_whole(**ALUMINIUM) == ()
    machines = {one["number"]: one["machine"] for one in setups}
    brushed = [i for i, one in enumerate(steps) if "brush bright" in one["text"]]
    assert len(brushed) == 6
    for i in brushed:
        own = [one for one in steps[i:] if one["part"] == steps[i]["part"]]
        until = next(n for n, one in enumerate(own) if not one["piece"])
        assert {machines[one["setup"]] for one in own[:until]} == {"bench"}
    foot = next(one for one in steps if "brush bright" in one["text"] and one["piece"] == "foot")
    moved = [one for one in steps if one["setup"] == foot["setup"]]
    rest = [one for one in steps if one["setup"] != foot["setup"]]
    rod = next(i for i, one in enumerate(rest) if one["piece"] == "rod" and one["kind"] == "turn")
    rest[rod:rod] = moved
    found = near(whole, job, setups, rest, foot["part"])
    assert [(one.code, one.key, one.value, one.limit, one.remedy) for one in found] == [
        ("route-weld", f"step {foot['number']}", "foot is brushed", "before the rod is ready",
         "Brush it when the other pieces are made, just before it is welded")
    ]  # fmt: skip


def test_what_is_turned_bright_is_wiped() -> None:
    """One diameter is spoken of as one, two as two."""
    wiped = {op.text.partition(";")[0] for op in of()[2].operations if op.text.startswith("wipe")}
    assert wiped == {
        "wipe the spigot with acetone: turned bright it wants no file and no emery",
        "wipe the rod spigot and the rod with acetone: turned bright they want no file and no emery",
    }


def test_a_fine_hole_is_spared_the_emery() -> None:
    """Emery in a hole of a few hundredths (ISO 286 H8) takes its fit, as it does a spigot's (common
    practice). As it was: the pieces were cleaned 25 mm back, what they are bored for included."""
    job, whole, route = of()
    setups, steps = route.setup_records(), copy.deepcopy(route.operation_records())
    own = [one for one in steps if "itself spared: wiped" in one["text"]]
    spared = {one["piece"]: one["text"].partition("; the ")[2] for one in own}
    assert spared == {
        "block": "spigot bore itself spared: wiped with acetone",
        "arm": "rod hole itself spared: wiped with acetone",
    }
    names = {one["part"] for one in own}
    before = near(whole, job, setups, steps, *names)
    for one in own:
        one["text"] = one["text"].partition("; the ")[0]
    found = [one for one in near(whole, job, setups, steps, *names) if one not in before]
    assert [(one.code, one.key, one.value) for one in found] == [
        ("route-spoils", f"step {one['number']}", f"file, emery, acetone on the {hole}")
        for one, hole in zip(own, ("spigot bore", "rod hole"), strict=True)
    ]


def test_what_runs_in_aluminium_is_eased_without_emery() -> None:
    """Grit stays in soft metal and laps what runs in it (common practice): a steel rod in a steel bore
    is eased with fine emery, one of aluminium is not, and the old words are refused."""
    for changes, soft in (({}, False), (ALUMINIUM, True)):
        job, whole, route = of(**changes)
        setups, steps = route.setup_records(), copy.deepcopy(route.operation_records())
        (one,) = [o for o in steps if "over the whole travel" in o["text"]]
        assert ("fine file" in one["text"] and "no emery" in one["text"]) is soft
        assert ("with fine emery" in one["text"]) is not soft
        head, _, _ = one["text"].partition("with fine")
        one["text"] = f"{head}with fine emery"
        found = near(whole, job, setups, steps, one["part"])
        assert [(o.code, o.value) for o in found] == [
            ("route-spoils", "emery on aluminium that runs")
        ] * soft


STAINLESS: dict[str, Any] = {"materials.structure": "304", "materials.shaft": "304"}


@pytest.mark.parametrize(
    ("changes", "smeared"),
    [({}, "oiled"), (ALUMINIUM, "greased"), (STAINLESS, "smeared with anti-seize paste")],
)
def test_what_seizes_on_its_like_is_not_put_together_on_oil(
    changes: dict[str, Any], smeared: str
) -> None:
    """Stainless steel on stainless steel, and aluminium on aluminium, tear and seize on oil alone:
    grease, or an anti-seize paste (common practice; so too the check's own advice)."""
    job, whole, route = of(**changes)
    steps = copy.deepcopy(route.operation_records())
    own = [
        one
        for one in steps
        if one.get("tries") == "slide"
        or {o["name"] for o in one["puts_on"]} & {"rotating-body", "sliding-head"}
    ]
    assert len(own) == 3 and all(f", {smeared}, " in one["text"] for one in own)
    used = {one.name for one in outfit(route, job) if one.kind == "consumable"}
    assert ("anti-seize paste" in used) is (changes is STAINLESS)

    def found(spoil: bool) -> list[tuple[str, str]]:
        faults = Faults("", job.numbers, "refused")
        gathered = Gathered(whole.placed, faults, WITH_ALL)
        for one in steps:
            gathered.look(
                one | {"text": one["text"].replace(smeared, "oiled" if spoil else smeared)}
            )
        gathered.all_on()
        return [(one.code, str(one.limit)) for one in faults.found]

    assert found(spoil=False) == []
    assert found(spoil=True) == [("route-words", "they seize on oil alone")] * (3 * bool(changes))


def test_threads_that_seize_on_their_like_are_not_put_together_dry() -> None:
    """The nut that sets the end play, washed dry, and the feed screw, oiled, tear in threads of their
    own stainless steel: an anti-seize paste (common practice; so too the check's own advice)."""
    all_of_it = STAINLESS | {"materials.screw": "304"}
    job, whole, route = of(**all_of_it)
    threaded = {"pivot-nut": ", smeared with anti-seize paste", "feed-screw": ", its thread too"}

    def found(spoil: str) -> list[tuple[str, str]]:
        faults = Faults("", job.numbers, "refused")
        gathered = Gathered(whole.placed, faults, WITH_ALL)
        for one in copy.deepcopy(route.operation_records()):
            if spoil in {o["name"] for o in one["puts_on"]}:
                assert threaded[spoil] in one["text"] and "anti-seize paste" in one["text"]
                one["text"] = one["text"].replace("smeared with anti-seize paste", "oiled")
            gathered.look(one)
        gathered.all_on()
        return [(one.code, str(one.value)) for one in faults.found]

    assert found("") == []
    assert {spoil: found(spoil) for spoil in threaded} == {
        "pivot-nut": [("route-words", "pivot-nut on rotating-body: 304 on 304")],
        "feed-screw": [("route-words", "feed-screw on sliding-head: 304 on 304")],
    }
    _, _, other = of(**STAINLESS)  # a screw of steel: the nut is of the screw's
    texts = [one["text"] for one in other.operation_records()]
    assert any("the feed screw, oiled, through" in one for one in texts)
    assert any("and on its thread, its bearing face" in one for one in texts)


@pytest.mark.parametrize(("changes", "said"), [(ALUMINIUM, "greased"), (STAINLESS, "smeared")])
def test_what_seizes_is_not_drawn_home_dry_to_be_bored(changes: dict[str, Any], said: str) -> None:
    """The body drawn into its own housing by the nut, for the rod's bore, is the first time that they
    meet: what seizes on its like has more than nothing between (common practice)."""
    job, whole, route = of(**changes)
    setups = copy.deepcopy(route.setup_records())
    (own,) = [one for one in setups if "drawn home on the thrust faces" in one["holding"]]
    assert f"housing, {said}" in own["holding"]

    def found() -> list[tuple[str, str, str]]:
        faults = Faults("", job.numbers, "refused")
        Gathered(whole.placed, faults, WITH_ALL).drawn_home(own, lambda _: True)
        return [(one.code, str(one.value), str(one.limit)) for one in faults.found]

    assert found() == []
    head, _, tail = own["holding"].partition(f", {said}")
    own["holding"] = f"{head}, drawn{tail.partition('drawn')[2]}"
    metal = job.materials.structure
    wrong = f"rotating-body on housing: {metal} on {metal}"
    assert found() == [("route-words", wrong, "they seize on oil alone")]


def test_a_dial_that_seizes_on_its_ring_is_not_put_on_dry() -> None:
    """Dial and ring are of one metal: of aluminium they are greased (common practice)."""
    job, whole, route = of(**{"materials.dial": "6082-T6"})

    def found(said: str) -> list[tuple[str, str]]:
        faults = Faults("", job.numbers, "refused")
        gathered = Gathered(whole.placed, faults, WITH_ALL)
        for one in copy.deepcopy(route.operation_records()):
            if "dial" in {o["name"] for o in one["puts_on"]}:
                assert ", greased where it turns on that;" in one["text"]
                one["text"] = one["text"].replace("greased", said)
            gathered.look(one)
        gathered.all_on()
        return [(one.code, str(one.value)) for one in faults.found]

    assert found("greased") == []
    assert found("oiled") == [("route-words", "dial on index-ring: 6082-T6 on 6082-T6")]
