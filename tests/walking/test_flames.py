"""A weld by gas is not told as one by an arc (common practice; the usual cautions of gas welding)."""

from __future__ import annotations

import pytest
from making.shops import of, walked_whole
from walking.part_walk import near

from parts.part import Joined
from planner.making.welding import weld_sheet
from planner.making.workshop import Workshop

ARC = (
    "Oil, chips and solvents away; screen, mask, leather, ventilation; extinguisher at hand; look for"
    " fire for half an hour after. By a competent welder to local rules"
)
GAS = {"shop.machines": {"mill": {"speeds": [95, 180, 500, 930]}, "welder": {"process": "gas"}}}


def test_a_torch_has_no_return_clamp_and_its_cylinders_are_minded() -> None:
    job, whole, route = of("bench-lathe", **GAS)
    setups, steps = route.setup_records(), route.operation_records()
    welded = {one["setup"] for one in steps if one["kind"] == "weld"}
    assert len(welded) == 3

    assert [one for one in walked_whole(**GAS) if one.code == "route-words"] == []
    parts = {one["part"] for one in setups if one["number"] in welded}

    def told() -> set[str]:
        found = near(whole, job, setups, steps, *parts)
        return {one.limit for one in found if one.code == "route-words"}

    for one in setups:
        if one["number"] in welded:
            assert "return clamp" not in one["holding"]
            assert "oxygen" in one["caution"] and "cylinders" in one["caution"]
            one["holding"] += "; return clamp on bright metal of the work itself"
    assert told() == {"a torch has no current"}
    for one in setups:
        if one["number"] in welded:
            one["caution"] = ARC
    assert told() == {
        "a torch has no current",
        "nothing is said of oil near oxygen and of the cylinders",
    }


def test_what_is_handed_to_who_welds_by_gas() -> None:
    """A rod for a torch (EN 12536, AWS A5.2; from memory), no electrode; no solvent near the flame."""
    for example, rod in (
        ("bench-lathe", "rod O III (EN 12536)"),
        ("inch-lathe", "rod R60 (AWS A5.2)"),
    ):
        job, whole, route = of(example, **GAS)
        shop = Workshop(job)
        welded = [one for one in whole.parts if isinstance(one.blank, Joined)]
        sheets = ["\n".join(weld_sheet(one, shop)) for one in welded]
        assert len(sheets) == 3
        for one in sheets:
            assert f"filler {rod}, no flux" in one
            assert "E7018" not in one and "current" not in one and "before the arc" not in one
            assert "its bottle put far away, and let it dry before the torch is lit" in one
        cautions = {one["caution"] for one in route.operation_records() if one["kind"] == "dress"}
        assert "No chlorinated cleaner near a flame: it turns to poison gas" in cautions
        assert all(one.name != "tacking plug" for one in route.aids)


@pytest.mark.parametrize(("metal", "fluxed"), [("6082-T6", True), ("304", True), ("S355", False)])
def test_a_flux_is_washed_off_before_anything_else(metal: str, fluxed: bool) -> None:
    """Aluminium and stainless steel are welded by a torch with a flux, mild steel without one; what is
    left eats the metal (common practice). As it was, spatter was chipped off, which a torch has not."""
    metals = {f"materials.{key}": metal for key in ("structure", "shaft")}
    job, whole, route = of("bench-lathe", **GAS, **metals)
    setups, steps = route.setup_records(), route.operation_records()
    washed = [one for one in steps if one["text"].startswith("wash off all the flux")]
    assert len(washed) == (3 if fluxed else 0)
    assert all("spatter" not in one["text"] for one in steps if "another part bears" in one["text"])

    welded = {one["part"] for one in steps if one["kind"] == "weld"}

    def told(records: list[dict[str, object]]) -> list[str]:
        return [o.value for o in near(whole, job, setups, records, *welded) if "flux" in o.value]

    assert told(steps) == []
    left = told([one for one in steps if one not in washed])
    assert left == ["dress on a weld with its flux on it"] * len(washed)


@pytest.mark.parametrize(
    ("process", "beside", "left", "note"),
    [
        (
            "gas",
            "the flame kept off the rest, which it scales, and nothing wrapped round it that burns",
            "scale",
            "keep the flame off the rod",
        ),
        (
            "TIG",
            "wrap all but what is welded: where the arc is struck it scars",
            "mark of the arc",
            "strike no arc on the rod",
        ),
        (
            "MIG",
            "wrap all but what is welded, spatter sticks to it",
            "spatter",
            "keep spatter off the rod",
        ),
        (
            "stick",
            "wrap all but what is welded, spatter sticks to it",
            "spatter",
            "keep spatter off the rod",
        ),
    ],
)
def test_bright_work_beside_a_weld_is_minded_by_the_process(
    process: str, beside: str, left: str, note: str
) -> None:
    """A melting electrode throws drops, a torch and TIG do not; what is wrapped round work beside a
    flame burns (common practice). As it was, the rod was wrapped for the torch, against spatter, and
    TIG's was chipped off; and the foot's weld was told to keep spatter off the rod."""
    machines = {"mill": {"speeds": [95, 180, 500, 930]}, "welder": {"process": process}}
    job, whole, route = of("bench-lathe", **{"shop.machines": machines})
    setups, steps = route.setup_records(), route.operation_records()
    (wiped,) = [one for one in steps if one["text"].startswith("wipe the rod spigot")]
    assert wiped["text"].endswith(f"file and no emery; {beside}")
    dressed = [one for one in steps if "another part bears" in one["text"]]
    assert len(dressed) == 3
    assert {"spatter" in one["text"] for one in dressed} == {left == "spatter"}
    head = next(one for one in whole.parts if one.name == "sliding-head")
    sheet = "\n".join(weld_sheet(head, Workshop(job)))
    assert f"no {left} and no clamp's mark on the rod." in " ".join(sheet.split())

    welded = {one["part"] for one in steps if one["kind"] == "weld"}

    def told(records: list[dict[str, object]]) -> set[str]:
        found = near(whole, job, setups, records, *welded)
        return {o.value for o in found if o.code == "route-words"}

    assert told(steps) == set()
    old = "wipe the rod with acetone; wrap all but what is welded, spatter sticks to it"
    spoiled = [one | {"text": old} if one is wiped else one for one in steps]
    spoiled = [
        one | {"text": "chip off spatter, dress the welds"} if one in dressed else one
        for one in spoiled
    ]
    foot = [one for one in steps if one["kind"] == "weld" and "the rod" in one["note"]]
    assert any(one["note"].endswith(note) for one in foot)
    assert any(line.endswith(note) for line in weld_sheet(head, Workshop(job)))
    burns = {"work wrapped beside a torch's flame"} if process == "gas" else set()
    drops = {"spatter of a torch or of TIG"} if left != "spatter" else set()
    assert told(spoiled) == burns | drops
    old = "on the outside; keep spatter off the rod"
    assert told([one | {"note": old} if one in foot else one for one in steps]) == drops


SHEET = {"thickness": "8 mm", "width": "300 mm", "length": "400 mm"}


@pytest.mark.parametrize(
    ("machine", "steel", "missing"),
    [
        ("torch table", "S355", "fire, extinguisher, eyes, fume, hot"),
        ("torch table", "304", "fire, extinguisher, eyes, fume, hot, chromium"),
        ("bandsaw", "S355", "stick, not fingers"),
    ],
)
def test_what_is_cut_out_by_torch_or_by_hand_has_its_cautions(
    machine: str, steel: str, missing: str
) -> None:
    """Thermal cutting sets on fire, blinds and fumes, a bandsaw fed by hand takes fingers (common
    practice of both); as it was, plate was cut out without a word of it."""
    job, whole, route = of(
        "bench-lathe",
        **{"shop.machines": {machine: {}}, "shop.sheet": [{**SHEET, "material": steel}]},
        **{"materials.structure": steel, "materials.shaft": steel},
    )
    setups, steps = route.setup_records(), route.operation_records()
    own = [one for one in steps if one["text"].startswith("cut the outline")]
    assert own
    parts = {one["part"] for one in own}

    def told() -> set[str]:
        found = near(whole, job, setups, steps, *parts)
        return {str(one.limit) for one in found if one.value == f"cut on the {machine}"}

    assert told() == set()
    for one in own:
        one["caution"] = ""
    assert told() == {f"nothing is said of {missing}"}
