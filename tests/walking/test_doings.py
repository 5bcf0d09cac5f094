"""Steps that a toolmaker would not do as they are written: put into sound work, they are refused.

Common practice throughout, the source beside each. The routes are those of a lathe alone and of a shop
with a mill; what is asked of them is asked of their records, by letters of directions and arithmetic.
"""

from __future__ import annotations

import copy
from functools import cache
from math import pi
from typing import Any

import pytest
from making.shops import SHOPS, shop
from msgspec.structs import force_setattr
from walk_asked import Told, X, codes, doing, rod
from walk_shops import shop as usual

from parts import features as f
from parts.standard.fits import Limits
from planner.walking.cuts import Cut
from planner.walking.fineness import set_by_packing
from planner.walking.fixed import Fixed
from planner.walking.held import Held
from planner.walking.knurled import wheel_comes
from planner.walking.shape import Line
from planner.walking.shop import shop_of
from planner.walking.speeds import speed
from planner.walking.trued import set_along
from planner.walking.walk import walk
from planner.walking.wayup import WayUp
from planner.words.findings import Finding

Data = dict[str, Any]
ALONE = "a lathe alone"


@cache
def _records(name: str) -> tuple[list[Data], list[Data]]:
    """To be read only."""
    _, _, route = shop(name)
    return route.setup_records(), route.operation_records()


def _own(name: str, *parts: str) -> tuple[list[Data], list[Data]]:
    """Copies of what is done to some parts."""
    setups, operations = _records(name)
    return (copy.deepcopy([one for one in setups if one["part"] in parts]),
            copy.deepcopy([one for one in operations if one["part"] in parts]))  # fmt: skip


def _walked(name: str, setups: list[Data], operations: list[Data]) -> list[Finding]:
    """What is found in set-ups and steps: the route is not walked to its end."""
    job, whole, _ = shop(name)
    names = {one["part"] for one in setups}
    parts = [one for one in whole.parts if one.name in names]
    found = walk(parts, job, setups, operations, placed=whole.placed)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]


# ---- on the cross slide a face is set to the bed or to the spindle ----


@pytest.mark.parametrize(
    ("what", "surface", "spindle", "refused"),
    [
        # a face looks along its normal: square to the spindle where that runs along the spindle
        ("the face parallel to the bed", "blank.-x", 2, False),
        ("the face parallel to the bed", "blank.-x", 0, True),
        ("the face square to the spindle", "blank.-x", 0, False),
        ("the face square to the spindle", "blank.-x", 1, True),
        # a round lies as its axis lies
        ("the rod parallel to the bed", "blank.round", 0, False),
        ("the rod parallel to the bed", "blank.round", 1, True),
        ("square to the spindle", "blank.round", 1, False),
        ("square to the spindle", "blank.round", 0, True),
        ("true to the slide's travel", "blank.round", 0, False),
    ],
)
def test_words_and_face_agree_with_the_spindle(
    what: str, surface: str, spindle: int, refused: bool
) -> None:
    told = Told()
    row = {"what": what, "surface": surface, "by": "square", "within_mm": 0.1}
    set_along(rod(), {"align": [row]}, Line(spindle, 1, (0.0, 0.0, 0.0)), told)
    assert told.codes == ["route-not-trued"] * refused


def test_every_face_on_the_cross_slide_lies_as_it_is_said() -> None:
    setups, _ = _records(ALONE)
    seen = {"parallel to the bed": 0, "square to the spindle": 0}
    for setup in setups:
        if setup["hold"]["by"] != "cross slide":
            continue
        spindle = setup["hold"]["axis"]["along"][1]
        for row in setup["align"]:
            assert "to the table" not in row["what"], row  # there is none
            for words in seen:
                if row["what"].endswith(words) and not row["surface"].endswith(".round"):
                    normal = row["surface"][-1]
                    assert (normal == spindle) == (words == "square to the spindle"), row
                    assert row["what"] != words or row["by"] == "dial indicator", row  # it is named
                    seen[words] += 1
    assert seen["parallel to the bed"] > 5 and seen["square to the spindle"] >= 1


# ---- another side up is said ----


def test_work_turned_on_is_not_held_by_the_same_words() -> None:
    way = WayUp()
    first = {"part": "bar", "machine": "mill", "holding": "machine vice", "hold": {"up": "+z"}}
    for up, holding, machine, refused in (
        ("+z", "machine vice", "mill", False),
        ("+y", "machine vice", "mill", True),
        ("+y", "machine vice; turned a quarter turn", "mill", False),
        ("+y", "machine vice", "drill press", False),
    ):
        told = Told()
        way.look(first, Told())
        way.look(first | {"hold": {"up": up}, "holding": holding, "machine": machine}, told)
        assert told.codes == ["route-words"] * refused
    set_by = Told()
    way.look(first | {"hold": {"up": "-y"}, "align": [{"what": "the flat level"}]}, set_by)
    assert set_by.codes == []  # what it is set by tells it


@pytest.mark.parametrize("name", SHOPS)
def test_the_stop_bars_screws_cross_its_fixing_holes(name: str) -> None:
    """Its fixing screws go one way, its stop screws across: nobody guesses that it is turned."""
    setups, operations = _records(name)
    by = {one["feature"]: one["setup"] for one in operations if one["kind"] in ("drill", "tap")}
    held = {one["number"]: one for one in setups}
    fixing, stop = held[by["stop fixing hole 1"]], held[by["nose stop hole"]]
    assert fixing["hold"]["up"][1] != stop["hold"]["up"][1]
    last = max(fixing, stop, key=lambda one: one["number"])
    assert "turned a quarter turn" in last["holding"] and "hole" in last["holding"]


# ---- speeds ----


def _spun(work: str, rpm: float, tool: Data) -> list[str]:
    do = doing(rod(), None, work, speed_rpm=rpm, tool={"kind": work, "name": "x"} | tool)
    do.operation = {**do.operation, "cut": {"diameter_mm": 35.0}}
    speed(do, shop_of(usual()))
    return codes(do)


@pytest.mark.parametrize(
    ("kind", "tool", "most_m_min", "wide"),
    [
        # mild steel, HSS: turned at 25 to 45 m/min, drilled at 21.3 to 36 (parts/standard, published
        # ranges); a form tool at about a third of turning, a counterbore at half of drilling at most
        ("face", {"kind": "facing cutter"}, 0.4 * 45.0, 35.0),
        ("counterbore", {"diameter_mm": 13.0}, 0.5 * 36.0, 13.0),
        ("chamfer", {"kind": "countersink", "diameter_mm": 14.0}, 0.5 * 36.0, 14.0),
        ("drill", {"diameter_mm": 13.0}, (21.336 + 36.0) / 2, 13.0),
    ],
)
def test_wide_edges_turn_slowly(
    kind: str, tool: dict[str, Any], most_m_min: float, wide: float
) -> None:
    listed = [80, 140, 220, 340, 520, 800, 1250, 1900]
    most = 1000 * most_m_min / (pi * wide)
    for rpm in listed:
        assert _spun(kind, rpm, tool) == ["route-speed"] * (rpm > most)
    assert listed[-1] > most > listed[0]


def test_what_a_steady_holds_turns_no_faster_than_its_fingers_bear() -> None:
    """Common practice: plain fingers, oiled, up to about 60 m/min: 764 rev/min at 25 mm."""
    for size, rpm, refused in (
        (25.0, 520.0, False), (25.0, 800.0, True), (10.0, 1900.0, False), (0.0, 1900.0, False),
    ):  # fmt: skip
        do = doing(rod(), None, "spot", speed_rpm=rpm, tool={"kind": "centre drill", "name": "x"})
        do.held = Held(Line(0, 1, (0.0, 0.0, 0.0)), "three-jaw chuck", steady=90.0, steady_mm=size)
        speed(do, shop_of(usual()))
        assert codes(do) == ["route-speed"] * refused, (size, rpm)


def test_a_thin_drill_is_none_of_it_and_a_thick_one_is_fed_gently() -> None:
    assert _spun("drill", 1900.0, {"diameter_mm": 9.8}) == []
    for feed, refused in ((0.1, False), (0.12, False), (0.18, True)):
        do = doing(rod(), None, "drill", speed_rpm=520.0, feed_mm_per_rev=feed,
                   tool={"kind": "drill", "name": "x", "diameter_mm": 13.0})  # fmt: skip
        speed(do, shop_of(usual()))
        assert codes(do) == ["route-feed"] * refused


def test_a_knurl_is_no_faster_than_what_was_turned() -> None:
    # common practice: at about half of the turning speed
    piece = rod()
    for kind, rpm, refused in (
        ("knurl", 1250.0, False),  # nothing was turned
        ("turn", 800.0, False),
        ("knurl", 800.0, False),
        ("knurl", 1250.0, True),
    ):
        do = doing(piece, None, kind, speed_rpm=rpm)
        speed(do, shop_of(usual()))
        assert codes(do) == ["route-speed"] * refused
    for name in SHOPS:
        turned_at: dict[tuple[str, str], float] = {}
        for one in _records(name)[1]:
            own = (one["part"], one["piece"])
            if one["kind"] == "turn":
                turned_at[own] = one["speed_rpm"]
            if one["kind"] == "knurl":
                assert one["speed_rpm"] <= 0.6 * turned_at[own], (name, one["text"])


# ---- between two collars ----


@pytest.mark.parametrize("name", [ALONE, "everything"])
def test_a_neck_is_turned_by_a_tool_that_comes_in(name: str) -> None:
    """The clamp lever's arm lies between its boss and its ball, both thicker."""
    setups, operations = _own(name, "clamp-lever")
    assert _walked(name, setups, operations) == []
    (arm,) = (o for o in operations if o["feature"] == "lever arm" and o["kind"] == "turn")
    assert arm["tool"]["kind"] == "grooving tool" and "round-nosed" in arm["tool"]["name"]
    # a round nose has no corner to face a shoulder with
    assert ", its corners as round as the tool's nose" in arm["text"]
    assert not any(
        "faced square with the tool's corner" in o["text"]
        for o in operations
        if "round-nosed" in o["tool"]["name"]
    )
    arm["tool"]["kind"] = "turning tool"
    (found,) = _walked(name, setups, operations)
    assert (found.code, found.key) == ("route-tool-reach", f"step {arm['number']}")


# ---- where packing sets the depth ----


@pytest.mark.parametrize(
    ("normal", "left", "text", "found"),
    [
        # the spindle runs along x: a face that looks along it is cut by the cutter's end, fed by the
        # carriage; any other's depth is the packing's, within a leaf of a feeler gauge, 0.05 mm
        ("+z", 0.03, "mill it; the depth by packing and shims", ["route-not-fine"]),
        ("+z", 0.08, "mill it; the depth by packing and shims", []),
        ("+z", 0.0, "mill it; the depth by packing and shims", []),
        ("+z", 0.08, "mill it", ["route-words"]),
        ("+x", 0.03, "mill it", []),
    ],
)
def test_no_feed_of_the_lathe_raises_the_work(
    normal: str, left: float, text: str, found: list[str]
) -> None:
    do = doing(rod(), Cut("flat"), "mill", text=text, allowance_mm=left)
    do.operation = {**do.operation, "cut": {"normal": normal}}
    do.held = Fixed("cross slide", axis=X)
    set_by_packing(do)
    assert codes(do) == found
    on_a_mill = doing(rod(), Cut("flat"), "mill", text=text)
    on_a_mill.operation = do.operation
    on_a_mill.held = Fixed("machine vice")
    set_by_packing(on_a_mill)
    assert codes(on_a_mill) == []


def test_what_is_left_to_scrape_where_packing_sets_the_depth() -> None:
    # 0.05 to 0.1 mm; on a mill or slide, whose dial sets it, 0.01 to 0.05
    for name, low, high in ((ALONE, 0.05, 0.1), ("no welder", 0.0, 0.05)):
        _, operations = _records(name)
        (mill,) = (o for o in operations
                   if o["feature"] == "foot bearing face" and o["kind"] == "mill")  # fmt: skip
        assert low <= mill["allowance_mm"] <= high
        assert ("packing" in mill["text"]) == (name == ALONE)


# ---- a strap over a turned shaft ----


def _slit_alone() -> tuple[list[Data], list[Data], Data]:
    setups, operations = _own(ALONE, "rotating-body", "housing", "index-ring")
    number = next(one["setup"] for one in operations if one["feature"] == "hinge slit")
    return setups, operations, next(one for one in setups if one["number"] == number)


def test_the_strap_over_the_journal_has_copper_or_card_between() -> None:
    setups, _, slit = _slit_alone()
    _, whole, _ = shop(ALONE)
    body = next(one for one in whole.parts if one.name == "rotating-body")
    journal = next(o for o in body.features if o.name == "journal")
    assert isinstance(journal, f.TurnedDiameter) and journal.roughness_um <= 0.8
    (strap,) = (one for one in slit["hold"]["grips"] if not one["other"])
    assert strap["surface"].startswith("journal.") and strap["packing"] in slit["holding"]
    ends = [journal.axis.at(at)[0] for at in (journal.start_mm, journal.end_mm)]
    assert min(ends) <= strap["from_mm"] < strap["to_mm"] <= max(ends)
    assert strap["size_mm"] == pytest.approx(journal.diameter.nominal_mm, abs=0.03)


@pytest.mark.parametrize(("gone", "code"), [(False, "route-grip-finished"), (True, "route-words")])
def test_a_bare_strap_and_one_that_is_not_in_the_data(gone: bool, code: str) -> None:
    setups, operations, slit = _slit_alone()
    grips = slit["hold"]["grips"]
    strap = next(one for one in grips if not one["other"])
    grips.remove(strap) if gone else strap.update(packing=None)
    found = _walked(ALONE, setups, operations)
    assert [(one.code, one.key) for one in found] == [(code, f"set-up {slit['number']}")]


# ---- nothing turns a drill in the bench vice ----


@pytest.mark.parametrize("name", SHOPS)
def test_a_notchs_corner_is_drilled_where_the_holes_are(name: str) -> None:
    setups, operations = _records(name)
    own = [one for one in operations if one["feature"] == "arm notch"]
    machine = {one["number"]: one["machine"] for one in setups}
    at = {one["kind"]: machine[one["setup"]] for one in own}
    assert at["file"] == "bench" and at["drill"] in (
        "mill",
        "drill press",
        "lathe",
        "milling slide",
    )
    _, whole, _ = shop(name)
    arm = next(m for p in whole.parts if p.name == "sliding-head" for m in p.blank.members
               if m.name == "arm")  # type: ignore[union-attr]  # fmt: skip
    notch = next(o for o in arm.features if o.name == "arm notch")
    assert isinstance(notch, f.SawnNotch)
    drill = next(one for one in own if one["kind"] == "drill")["cut"]
    # its rim touches both inner walls: the hole's radius off each, and so inside the notch
    centre, radius = drill["axis"]["through"], drill["after_mm"] / 2
    i = "xyz".index(drill["axis"]["along"][1])
    walls = []
    for k in (k for k in range(3) if k != i):
        low, high = notch.box.low[k], notch.box.high[k]
        walls += [side for side in (centre[k] - low, high - centre[k])
                  if side == pytest.approx(radius, abs=1e-6)]  # fmt: skip
    assert len(walls) == 2
    if name == "everything":
        assert at["saw"] == "bandsaw"


def test_a_hole_drilled_at_the_bench_is_refused() -> None:
    setups, operations = _own(ALONE, "sliding-head")
    step = next(o for o in operations if o["feature"] == "arm notch" and o["kind"] == "file")
    step["text"] = step["text"].replace("saw both ways", "drill 6 mm in the corner, saw both ways")
    found = _walked(ALONE, setups, operations)
    assert ("route-machine-cannot", f"step {step['number']}") in {(o.code, o.key) for o in found}


# ---- the cheeks of a knurling wheel's fork ----


@pytest.mark.parametrize("name", SHOPS)
def test_a_knurl_beside_a_high_shoulder_is_refused(name: str) -> None:
    """Common practice: a wheel of 20 mm stands 4 mm out of its fork, whose cheeks are 3 mm thick. The
    drag screw's head is turned out of a bar far thicker, and the bar stood beside its knurl: it is
    turned on past where the screw is parted off."""
    setups, operations = _own(name, "drag-screw")
    assert _walked(name, setups, operations) == []
    (head,) = [one for one in operations if one["makes"] == ["drag head"]]
    (knurl,) = [one for one in operations if one["kind"] == "knurl"]
    assert head["cut"]["to_mm"] >= knurl["cut"]["to_mm"] + 3.0
    head["cut"]["to_mm"] = knurl["cut"]["to_mm"]
    found = [one for one in _walked(name, setups, operations) if one.code == "route-tool-reach"]
    assert "a shoulder of " in found[0].value and "beside drag head knurl" in found[0].value
    assert "the wheel stands " in found[0].limit and " out of its fork" in found[0].limit
    assert found[0].remedy.startswith("Turn it down to the knurl's size for ")
    assert found[0].remedy.endswith(" first, or knurl it clear of it")


def test_jaws_beside_a_knurl_stand_in_the_forks_way() -> None:
    """Three millimetres of cheek: jaws whose front is nearer than that are met."""
    for front, refused in ((16.9, False), (17.1, True)):
        piece = rod()
        knurl = f.Knurl(name="k", datum="A", start_mm=20.0, end_mm=30.0, pitch_mm=1.0,
                        diameter=Limits(20.0, 0.0, -0.2, ""))  # fmt: skip
        force_setattr(piece.part, "features", (*piece.part.features, knurl))
        line = Line(0, 1, (0.0, 0.0, 0.0))
        wheel = {"kind": "knurling tool", "name": "x", "width_mm": 10.0}
        do = doing(piece, Cut("other", line, 20.0, 30.0), "knurl", feature="k", tool=wheel)
        do.held = Held(line, "three-jaw chuck", [(0.0, front, 20.0, False)])
        wheel_comes(do)
        assert codes(do) == ["route-tool-reach"] * refused, front
        assert not refused or "the jaws beside k" in str(do.faults.found[0])


@pytest.mark.parametrize("name", SHOPS)
def test_a_wheel_between_lines_and_shoulder_is_no_wider_than_its_knurl(name: str) -> None:
    """Common practice: wheels of 8 and 10 mm are sold most; on a dial the numerals stand on one side of
    the knurl, the bar on the other. The drag screw's thread is thinner: its wheel stands out there."""
    for part, bound in (("dial", True), ("drag-screw", False)):
        setups, operations = _own(name, part)
        (step,) = [one for one in operations if one["kind"] == "knurl"]
        long = abs(step["cut"]["to_mm"] - step["cut"]["from_mm"])
        assert step["tool"]["width_mm"] == (pytest.approx(long, abs=1e-3) if bound else None)
        assert (", its wheel at most " in step["tool"]["name"]) == bound
        for wide in (None, 8.0):
            other = step | {"tool": step["tool"] | {"width_mm": wide}}
            found = _walked(name, setups, [other if one is step else one for one in operations])
            assert [one.code for one in found] == ["route-tool-reach"] * bound
            assert not bound or "a wheel of " in found[0].value
