"""What a route is made with: each tool and gauge of its steps once, what is missing with a way out."""

from __future__ import annotations

import re

import pytest
from making.shops import SHOPS, of, shop

from parts.part import Joined
from planner.making.outfit import Item, outfit
from planner.making.welding import weld_sheet
from planner.making.workshop import Workshop
from planner.output.sheets.outfit import outfit_lines


def test_every_tool_and_gauge_of_the_steps_is_listed_once() -> None:
    job, _, route = of()
    items = outfit(route, job)
    named = [(one.kind, one.name) for one in items]
    assert len(named) == len(set(named))
    for op in route.operations:
        tool = op.op.tool
        if tool.kind not in ("none", "hand", "welder"):
            (one,) = (i for i in items if (i.kind, i.name) == ("tool", tool.name))
            assert op.setup in one.setups and (one.has != "no" or not tool.owned)
        for measure in op.measures:
            if measure.gauge.kind not in ("eye", "thread"):
                (one,) = (i for i in items if (i.kind, i.name) == ("gauge", measure.gauge.name))
                assert op.setup in one.setups
    made = {i.name for i in items if i.has == "made first"}
    assert any(name.startswith("boring bar") for name in made)
    assert "cutting oil" in {i.name for i in items if i.kind == "consumable"}


@pytest.mark.parametrize(
    ("example", "gauges", "nut"),
    [
        # the handle is M6 and 1/4-20, the pivot M16; the feed screw's own nut is made (ISO 261, UN)
        ("bench-lathe", ("nut M6", "screw M6", "nut M16", "screw M8x1"), "nut M6"),
        ("inch-lathe", ("nut 1/4-20 UNC", "screw 1/4-20 UNC"), "nut 1/4-20 UNC"),
    ],
)
def test_what_tries_a_thread_is_listed_by_its_thread(
    example: str, gauges: tuple[str, ...], nut: str
) -> None:
    """One nut tries one thread: "nut or thread gauge" was all that stood there; and the handle has a
    nut on its end while the first ball is turned with it (common practice)."""
    job, _, route = of(example)
    items = {one.name: one for one in outfit(route, job)}
    for name in gauges:
        one = items[f"{name} or thread gauge"]
        assert (one.kind, one.has) == ("gauge", "look") and one.setups
    assert not {"nut or thread gauge", "screw or thread gauge"} & set(items)
    stands_in = items[f"{nut} where the knob goes, till that is turned"]
    last = [o.setup for o in route.operations if "nut on the handle's end" in o.note]
    assert (stands_in.kind, stands_in.setups) == ("consumable", tuple(last)) and last


def test_what_is_missing_has_a_way_out() -> None:
    # no reamers, no indicator, no blocks: each is said with what does for it
    bare = {
        "shop.reamers": [],
        "shop.measuring": {"dial_indicator": False, "gauge_blocks": False, "v_blocks": False},
    }
    job, _, route = of(**bare)
    items = outfit(route, job)
    missing = {i.name: i for i in items if i.has == "no"}
    assert all(one.instead for one in missing.values())
    assert any(name.startswith("reamer") for name in missing)
    assert any("indicator" in name for name in missing)
    assert "a pair of V-blocks" in missing
    full, _, whole = of()
    assert not [i for i in outfit(whole, full) if i.has == "no" and "indicator" in i.name]


def test_what_is_done_elsewhere_wants_no_tools_here() -> None:
    job, _, route = of(**{"shop.machines": {}, "shop.dividing_head_ratio": None})
    sent = {op.setup for op in route.operations if op.machine.startswith("a ")}
    assert sent
    for one in outfit(route, job):
        if one.kind == "tool":
            assert not sent & set(one.setups), one


@pytest.mark.parametrize("name", SHOPS)
def test_what_a_route_names_in_its_words_is_on_the_list(name: str) -> None:
    """A word of a step, of its holding or of what is set: the thing it needs (common practice)."""
    job, _, route = shop(name)
    items = outfit(route, job)
    listed = " | ".join(one.name for one in items)
    here = [op for op in route.operations if not op.machine.startswith("a ")]
    words = " ".join(f"{op.text} {op.note} {op.holding} {op.measure} {op.gauge}" for op in here)
    words += " ".join(a.what + " " + a.by for one in route.setups for a in one.align)
    asked = 0
    for word, thing in (
        (r"edge finder", "edge finder"), (r"wobbler", "wobbler"), (r"\brule\b", "rule"),
        (r"punch mark", "centre punch"), (r"scribed", "scriber"), (r"protractor", "protractor"),
        (r"thread-locking compound", "thread-locking compound"), (r"grease", "grease"),
        (r"ink it", "ink"), (r"machine vice", "machine vice"), (r"bench vice", "bench vice"),
        (r"squared block", "angle plate"), (r"feeler", "feeler gauge"), (r"shims", "shim"),
        (r"on parallels", "parallels in pairs"), (r"eye-glass", "eye-glass"),
        (r"surface plate", "surface plate"), (r"V of hardwood", "V sawn in hardwood"),
        (r"V-blocks on the plate", "V-blocks"), (r"\btap (M|No\.|\d)", "tap wrench"),
        (r"by a carrier", "carrier"), (r"ground rod", "ground rod"),
        (r"cigarette paper", "cigarette paper"), (r"put together", "hexagon keys"),
    ):  # fmt: skip
        if re.search(word, words):
            asked += 1
            assert thing in listed, (word, thing)
    assert asked >= 10
    # a clamp holds; what is closed within 0.05 mm is tried by a feeler
    assert "clamp" not in {one.name for one in items if one.kind == "gauge"}
    pads = [one.holding for one in route.operations if "drilling pad" in one.holding]
    assert pads == []  # none is on the list


@pytest.mark.parametrize("name", SHOPS)
def test_what_an_aid_is_drilled_with_is_on_the_list(name: str) -> None:
    """A hole that the words of an aid size: of a bit across a bar, a stem, a tapping drill."""
    job, _, route = shop(name)
    drills = {i.name: i for i in outfit(route, job) if i.kind == "tool" and "drill" in i.name}
    sized = [
        (aid, size[1])
        for aid in route.aids
        for size in re.finditer(r"(?:cross hole for a|a hole of|drilled) (\S+ (?:mm|in))", aid.made)
    ]
    assert sized
    for aid, size in sized:
        said = size.removesuffix(" in") if job.inch else size
        named = [one for key, one in drills.items() if key.startswith(f"drill {said}")]
        assert any(aid.setup in one.setups for one in named), (aid.name, size)


@pytest.mark.parametrize(
    ("process", "listed"),
    [("gas", "rod O III (EN 12536)"), ("stick", "E42 4 B (E7018)"), (None, "E42 4 B (E7018)")],
)
def test_a_torch_is_given_its_rods(process: str | None, listed: str) -> None:
    """Gas welding melts in bare rods of EN 12536; a covered electrode burns in an arc alone (common
    practice). What is looked for is what the weld sheets say."""
    welder = {"process": process} if process else {}
    machines = {"mill": {"speeds": [500, 930]}, "welder": welder}
    job, _, route = of(**{"shop.machines": machines})
    fillers = [one.name for one in outfit(route, job) if one.name.startswith("filler")]
    assert fillers and all(listed in one for one in fillers)
    assert any(("E7018" in one) == (process != "gas") for one in fillers)


@pytest.mark.parametrize(
    ("process", "own", "others"),
    [
        ("MIG", "G3Si1 (ER70S-6)", ("W3Si1", "E7018", "TIG", "stick")),
        ("TIG", "W3Si1 (ER70S-6)", ("G3Si1", "E7018", "MIG", "stick")),
        ("stick", "E42 4 B (E7018), dry", ("G3Si1", "W3Si1", "TIG", "MIG")),
    ],
)
def test_the_weld_sheet_names_the_filler_of_its_own_process(
    process: str, own: str, others: tuple[str, ...]
) -> None:
    """Wires of ISO 14341 are for MIG, rods of ISO 636 for TIG, covered electrodes of ISO 2560 for a
    stick welder: one who has the one cannot burn the other."""
    machines = {"mill": {"speeds": [500, 930]}, "welder": {"process": process}}
    job, whole, route = of(**{"shop.machines": machines})
    named = [one.name for one in outfit(route, job) if one.name.startswith("filler")]
    assert named == [f"filler {own}"]
    sheets = [
        weld_sheet(one, Workshop(job, None))[0]
        for one in whole.parts
        if isinstance(one.blank, Joined)
    ]
    assert sheets and all(one.endswith(f"; filler {own}") for one in sheets)
    assert not any(word in one for word in others for one in (*named, *sheets))


@pytest.mark.parametrize(
    ("ratio", "machines", "gears", "thing"),
    [
        (40, {}, [20, 30], "dividing head with its plates"),
        (
            None,
            {"rotary table": {}},
            [20, 30],
            "rotary table that stands on its edge, a chuck on it",
        ),
        (None, {}, [20, 50], "change gear to go on the spindle, a pin on a bracket for its spaces"),
        (
            None,
            {},
            [25, 30],
            "change gear to go on the spindle, two pins on brackets for its spaces",
        ),
        (None, {}, [20, 30], "tape, wooden disc on the spindle and a fixed pointer"),
    ],
)
def test_what_the_dial_is_divided_by_is_on_the_list(
    ratio: int | None, machines: dict[str, object], gears: list[int], thing: str
) -> None:
    """Fifty lines: by 50 teeth, by half spaces of 25, by none of 20 and 30 (arithmetic)."""
    milled = {"mill": {"speeds": [500, 930]}} | machines
    more = {"shop.dividing_head_ratio": ratio, "lathe.change_gears": gears}
    job, _, route = of(**{"shop.machines": milled} | more)
    divided = {step.setup for step in route.operations if step.op.divided}
    (item,) = (one for one in outfit(route, job) if one.name == thing)
    assert item.kind == "tool" and set(item.setups) == divided and len(divided) == 1


@pytest.mark.parametrize("ground", [True, False])
def test_nothing_is_ground_where_there_is_no_grinder(ground: bool) -> None:
    machines = {"mill": {"speeds": [500, 930]}} | ({"grinder": {}} if ground else {})
    job, _, route = of(**{"shop.machines": machines})
    tools = {one.name: one for one in outfit(route, job) if one.kind == "tool"}
    bit = next(op for op in route.operations if op.part == "tool-bit" and op.kind == "saw")
    assert bit.op.tool.owned == ground and ("abrasive wheel" in bit.text) == ground
    assert ("chisel, file, grinder" in tools) == ground and ("chisel and file" in tools) != ground
    if not ground:
        assert tools["abrasive wheel"].has == "no" and "buy the bit to length" in bit.text


def test_the_far_mouth_has_a_cutter_of_its_own() -> None:
    """A bit cuts the face on the side that its edge is ground on; turned to the other side its top runs
    away from the work (common practice). There the post stands beside the nut, 13.4 mm from the axis
    (14.9 to the shank, 1.5 past it): half a millimetre is left of that, and the nut is 24 across."""
    _, _, route = of()
    (cutter,) = (one for one in route.aids if one.name == "facing cutter for the bar")
    assert cutter.made == (
        "a bit through the bar's cross hole, longer than the face is wide, its edge ground square to"
        " the bar; a second one, ground the other way round and 25.5 mm across, for the far mouth"
    )
    (true,) = (op.text for op in route.operations if "other mouth" in op.text)
    assert true.startswith(
        "true the bore's other mouth over Ø25.5, no wider: the tool post stands beside it, with the"
        " facing cutter that is ground for it, a light cut; break its edges, and those of the holes"
        " that come out in it"
    )


def test_what_is_missing_says_in_which_set_up() -> None:
    """One set-up is spoken of as one, more as more."""
    told = list(outfit_lines([_missing(5), _missing(3, 4, 5, 9)]))
    assert told == [
        "  MISSING: die M6 (set-up 5): buy one",
        "  MISSING: die M6 (set-ups 3 to 5, 9): buy one",
    ]


def _missing(*setups: int) -> Item:
    return Item("tool", "die M6", setups, "no", "buy one")


def test_a_wheel_that_is_lacking_leaves_the_threading_tool_there() -> None:
    """28 threads an inch want a wheel that 7 divides (28 = 4 x 7). As it was, the threading tool was
    missing, in every set-up that cuts a thread, to the 24 threads of which all wheels are there."""
    wheels = {
        "lathe.change_gears": [20, 24, 30, 36, 40, 48, 60],
        "lathe.tailstock_die_holder": False,
    }
    job, _, route = of("inch-lathe", **wheels)
    items = {one.name: one for one in outfit(route, job)}
    cut = [one for one in route.operations if one.op.tool.kind == "threading tool"]
    wanting = [one.setup for one in cut if "one of 28 teeth" in one.text]
    assert wanting and len(cut) > len(wanting)
    wheel = items["change wheel of 28 teeth"]
    assert (wheel.kind, wheel.has, list(wheel.setups)) == (
        "tool",
        "no",
        list(dict.fromkeys(wanting)),
    )
    tools = [one for one in items.values() if "threading tool" in one.name]
    assert tools and {one.has for one in tools} == {"yes"}
