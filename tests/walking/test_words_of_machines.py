"""What a route says of a machine is of one that has it (common practice), word by word."""

from __future__ import annotations

from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of
from walk_asked import Told
from walk_shops import shop
from walk_sound import SOUND
from walking.part_walk import near

from planner.walking.said import cuts_said, dials_said, doubly_said, machine_said
from planner.walking.walk import walk


@pytest.mark.parametrize(
    ("machine", "what", "refused"),
    [
        ("milling slide", "square to the table", True),
        ("milling slide", "square to the milling slide's face", False),
        ("mill", "square to the table", False),
    ],
)
def test_a_milling_slide_has_no_table(machine: str, what: str, refused: bool) -> None:
    told = Told()
    machine_said({"machine": machine, "hold": {"by": "V-blocks"}, "align": [{"what": what}]}, told)
    assert told.codes == ["route-words"] * refused


@pytest.mark.parametrize(
    ("holding", "refused"),
    [
        ("V-blocks under the Ø19, clamped to the table, card under the clamps", True),
        ("clamped on the arm, flat, its +y side up, on packing", True),
        ("clamped on the arm, its +z side, where the hole begins, up, level on packing", True),
        ("clamped on the arm, on packing of 84 mm, the rest hanging free", True),
        ("machine vice across the shank, 35 gripped, on parallels, standing on its end", True),
        ("machine vice across the block, on parallels; the other end up", True),
        ("V-blocks under the Ø19, a jack under the work beside it", True),
        ("clamped to the milling slide's face, its +y side toward the spindle", False),
        ("clamped on the cross slide, packed up under it", False),
    ],
)
def test_work_on_a_milling_slide_looks_to_the_spindle(holding: str, refused: bool) -> None:
    """Its face stands upright before the lathe's spindle: no side of the work that is drilled is up,
    nothing hangs below it (common practice). So routes said it."""
    for machine, wrong in (("milling slide", refused), ("mill", False)):
        told = Told()
        machine_said({"machine": machine, "hold": {"by": "clamps"}, "holding": holding}, told)
        assert told.codes == ["route-words"] * wrong, machine


def test_work_clamped_against_a_block_says_what_looks_to_the_spindle() -> None:
    """An arm was "clamped against a squared block, the drill in the chuck", and which of its sides the
    drill comes to was left to be guessed (common practice). What has card round it is a round."""
    words = "clamped to the cross slide, on packing and against a squared block"
    for holding, packing, refused in (
        (words, "", True),
        (f"{words}; its +y side toward the spindle", "", False),
        (f"{words}; its -y side toward the spindle", "", True),
        (f"{words}; card between clamps and work", "card", False),
    ):
        told = Told()
        hold = {"by": "cross slide", "up": "+y", "grips": [{"packing": packing}]}
        machine_said({"machine": "lathe", "hold": hold, "holding": holding}, told)
        assert told.codes == ["route-words"] * refused, holding


def test_a_dead_centre_is_greased() -> None:
    """Work was turned on a dead centre at 900 rev/min, and of grease nothing was said (common
    practice)."""
    for kind, holding, refused in (
        ("dead", "three-jaw chuck, 19 gripped, dead centre", True),
        (
            "dead",
            "three-jaw chuck, 19 gripped, dead centre, greased and set up without pressure",
            False,
        ),
        ("live", "three-jaw chuck, 19 gripped, live centre", False),
    ):
        told = Told()
        hold = {"by": "three-jaw chuck", "centre": {"kind": kind}}
        machine_said({"machine": "lathe", "hold": hold, "holding": holding}, told)
        assert told.codes == ["route-words"] * refused, holding


@pytest.mark.parametrize("what", ["the mark 45 degrees off, seen {}", "the ring held {} a clamp"])
@pytest.mark.parametrize("machine", ["mill", "drill press", "milling slide", "lathe"])
def test_what_the_lathe_s_spindle_cuts_is_not_seen_from_above(machine: str, what: str) -> None:
    """Its spindle lies level: the face that is drilled looks to the chuck."""
    level = machine in ("milling slide", "lathe")
    for words, wrong in (
        (what.format("from above" if "seen" in what else "down by"), level),
        (what.format("from the spindle" if "seen" in what else "on by"), False),
    ):
        told = Told()
        machine_said(
            {"machine": machine, "hold": {"by": "clamps"}, "align": [{"what": words}]}, told
        )
        assert told.codes == ["route-words"] * wrong


@pytest.mark.parametrize(
    ("machine", "by", "caution", "refused"),
    [
        ("drill press", "machine vice", "", True),
        ("drill press", "machine vice", "The vice bolted down, or its end against a stop", False),
        ("drill press", "clamps on the table", "", False),
        ("mill", "machine vice", "", False),  # there it always is
    ],
)
def test_a_vice_on_a_drill_press_is_kept_from_spinning(
    machine: str, by: str, caution: str, refused: bool
) -> None:
    """Common practice: work held by hand under a drill breaks fingers when the drill catches."""
    told = Told()
    machine_said({"machine": machine, "hold": {"by": by}, "caution": caution}, told)
    assert told.codes == ["route-words"] * refused


def test_a_route_says_so_wherever_it_drills_in_a_vice() -> None:
    setups = planned(ROOT / "tests" / "data" / "shops" / "farm-shed.toml").route.setup_records()
    own = [o for o in setups if (o["machine"], o["hold"]["by"]) == ("drill press", "machine vice")]
    assert len(own) > 5 and all("bolted down" in one["caution"] for one in own)


@pytest.mark.parametrize(
    ("hold", "refused"),
    [
        ({"by": "four-jaw chuck"}, True), ({"by": "faceplate"}, False),
        ({"by": "four-jaw chuck", "owned": False, "instead": "the faceplate"}, False),
    ],
)  # fmt: skip
def test_a_counterweight_is_bolted_to_a_faceplate(hold: dict[str, object], refused: bool) -> None:
    told = Told()
    machine_said(
        {"machine": "lathe", "hold": hold, "caution": "bolt a counterweight opposite"}, told
    )
    assert told.codes == ["route-words"] * refused


@pytest.mark.parametrize(
    ("place", "text", "inch", "refused"),
    [
        ("47/64 +x from B", "spot by edge finder and dials", True, True),
        ("1-21/32 +x from B", "spot by edge finder and dials", True, True),
        ("47/64 = 0.734 +x from B", "spot by edge finder and dials", True, False),
        ("0.7340 +x from B", "spot by edge finder and dials", True, False),
        ("47/64 +x from B", "spot by scribed lines", True, False),
        ("12 +x from B", "spot by edge finder and dials", False, False),
        ("", "rough turn journal to Ø57/64", True, True),
        ("", "rough turn journal to Ø57/64 = 0.891", True, False),
        ("", "face the other end to length 5-11/32, 3/64 in off", True, True),
        ("", "face the other end to length 5-11/32 = 5.344, 3/64 in off", True, False),
        ("", "face the other end to length 0.2188 ±0.0020, 3/64 in off", True, False),
    ],
)
def test_a_dial_reads_no_fractions(place: str, text: str, inch: bool, refused: bool) -> None:
    told = Told()
    dials_said({"place": place, "text": text}, inch, told)
    assert told.codes == ["route-words"] * refused


@pytest.mark.parametrize(
    ("text", "place", "refused"),
    [
        # 57/64 is 0.890625, 5-11/32 is 5.34375
        ("rough turn journal to Ø57/64 = 0.891", "", False),
        ("rough turn journal to Ø57/64 = 0.890", "", True),
        ("face to length 5-11/32 = 5.344", "5-11/32 = 5.344 +x from B", False),
        ("face to length 5-11/32 = 5.344", "5-11/32 = 5.354 +x from B", True),
        ("face to length 5.344", "", False),
    ],
)
def test_a_size_said_twice_is_one_size(text: str, place: str, refused: bool) -> None:
    told = Told()
    doubly_said({"text": text, "place": place}, told)
    assert told.codes == ["route-words"] * refused


ROUGH = {"shape": "turn", "before_mm": 20.0, "after_mm": 18.0}
"""A millimetre off the radius."""


@pytest.mark.parametrize(
    ("said", "inch", "codes"),
    [
        ({"cuts": 3, "depth_mm": 0.35, "stock_mm": 1.0, "cut": ROUGH}, False, []),
        ({"cuts": 2, "depth_mm": 0.5, "stock_mm": 1.0, "cut": ROUGH}, False, []),
        ({"cuts": 1, "depth_mm": 1.0, "cut": ROUGH}, False, []),
        # 3 of 0.3 leave a tenth; the fourth of 0.35 has nothing left; 1.1 is not between 20 and 18
        ({"cuts": 3, "depth_mm": 0.3, "stock_mm": 1.0, "cut": ROUGH}, False, ["route-words"]),
        ({"cuts": 4, "depth_mm": 0.35, "stock_mm": 1.0, "cut": ROUGH}, False, ["route-words"]),
        ({"cuts": 4, "depth_mm": 0.3, "stock_mm": 1.1, "cut": ROUGH}, False, ["route-words"]),
        ({"cuts": 3, "depth_mm": 0.35, "cut": ROUGH}, False, ["route-record"]),
        # a dial of thousandths has 0.016 in and 0.0155 in, not 0.0157
        ({"cuts": 3, "depth_mm": 0.4064, "stock_mm": 1.190625, "cut": {}}, True, []),
        ({"cuts": 3, "depth_mm": 0.396875, "stock_mm": 1.190625, "cut": {}}, True, ["route-words"]),
    ],
)
def test_cuts_take_off_what_there_is(said: dict[str, object], inch: bool, codes: list[str]) -> None:
    told = Told()
    cuts_said(said, inch, told)
    assert told.codes == codes


def test_cuts_whose_depth_is_not_said_are_refused() -> None:
    """Three cuts of nothing: how deep the tool is set is what the hand on the dial asks."""
    route = SOUND["slit_clamp"]()
    assert walk(route.parts, shop(), route.setups, route.operations) == ()
    slit = route.operations[-1]
    assert (slit["cuts"], slit.pop("depth_mm"), slit["stock_mm"]) == (3, 2.8, 8.4)
    (told,) = walk(route.parts, shop(), route.setups, route.operations)
    assert (told.code, told.value) == ("route-record", "depth_mm")


def test_a_bar_between_centres_does_not_turn_dry_on_a_dead_one() -> None:
    """With no live centre the boring bar turns on the tailstock's dead one at 400 rev/min; of grease
    nothing was said (common practice: dry, it seizes and burns the hole)."""
    for centres in (["dead"], ["live", "dead"]):
        job, whole, route = of("bench-lathe", **{"lathe.centres": centres})
        setups, steps = route.setup_records(), route.operation_records()
        bored = [one for one in setups if one["hold"]["by"] == "tool post"]
        dry = ". The bar's end on the dead centre greased, set up without pressure"
        assert len(bored) == 2
        assert all(one["caution"].endswith(dry) is (centres == ["dead"]) for one in bored)
        old = [one | {"caution": one["caution"].replace(dry, "")} for one in setups]

        def found(
            setups: list[Any],
            job: Any = job,
            whole: Any = whole,
            steps: Any = steps,
            bored: Any = bored,
        ) -> Any:
            said = near(whole, job, setups, steps, *{one["part"] for one in bored})
            return {o.key for o in said if o.limit == "it turns on a dead centre: dry, it seizes"}

        assert found(setups) == set()
        wanted = {f"set-up {one['number']}" for one in bored} if centres == ["dead"] else set()
        assert found(old) == wanted
