"""A drill is asked for in a size that is sold, or by the name it is sold under.

ISO 235: by tenths of a millimetre, past 14 by quarters (from memory). ASME B94.11M: #7 is 0.201 in,
5.11 mm; no drill of 5.11, 11.35 or 15.7 mm is made.
"""

from __future__ import annotations

from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of
from walk_asked import doing, rod
from walking.part_walk import of_parts, walked
from walking.shop_files import walked as whole

from parts.standard.drills import sold_at_most
from planner.making.outfit import outfit
from planner.walking.shop import shop_of
from planner.walking.sold import sold
from planner.walking.walk import walk

Data = dict[str, Any]
SHOPS = ROOT / "tests" / "data" / "shops"


def _told(shop: str, kind: str, feature: str, new: str, was: str, size: float) -> list[str]:
    """What is found of a head's tool where its name is the old one, beside what is found as it is."""
    plan = planned(SHOPS / f"{shop}.toml")
    setups, steps = of_parts(plan, "sliding-head")
    found = [one for one in steps if (one["kind"], one["feature"]) == (kind, feature)]
    step = found[-1]
    assert step["tool"]["name"] == new
    old = step | {"tool": step["tool"] | {"name": was, "diameter_mm": size}}
    spoiled = [old if one is step else one for one in steps]
    before = walked(plan, setups, steps)
    return [
        one.value
        for one in walked(plan, setups, spoiled)
        if one not in before and one.code == "route-tool-missing"
    ]


@pytest.mark.parametrize(
    ("shop", "kind", "feature", "new", "was", "size"),
    [
        ("farm-shed", "drill", "rod hole", "drill 15.75 mm", "drill 15.7 mm", 15.7),
        (
            *("mixed-stock", "counterbore", "outer wiper seat"),
            *("flat drill 11.5 mm", "flat drill 11.35 mm", 11.35),
        ),
    ],
)
def test_a_drill_that_nobody_makes_is_refused(
    shop: str, kind: str, feature: str, new: str, was: str, size: float
) -> None:
    assert _told(shop, kind, feature, new, was, size) == [was]
    assert _told(shop, kind, feature, new, new, float(new.split()[-2])) == []


def test_an_inch_thread_in_a_metric_shop_is_drilled_by_the_drill_of_its_name() -> None:
    """The feed nut of 20 tpi was drilled by "drill 5.11 mm", beside a tap drill #7; DIN 336 has 5.1 for
    1/4-20 UNC (from memory), which serves."""
    plan = planned(SHOPS / "mixed-stock.toml")
    setups, steps = plan.route.setup_records(), plan.route.operation_records()
    drilled = [one for one in steps if one["feature"] == "feed nut thread"]
    step = next(one for one in drilled if one["kind"] == "drill")
    assert "drill feed nut thread #7, 5.11 mm (or 5.1 mm)" in step["text"]
    assert step["tool"]["name"].endswith("drill #7, 5.11 mm (or 5.1 mm)")
    old = step | {"tool": step["tool"] | {"name": "long drill 5.11 mm"}}
    spoiled = [old if one is step else one for one in steps]
    before = whole("mixed-stock", setups, steps)
    told = [one for one in whole("mixed-stock", setups, spoiled) if one not in before]
    assert [(one.code, one.value) for one in told] == [("route-tool-missing", "long drill 5.11 mm")]


def test_a_slitting_saw_that_nobody_makes_is_refused() -> None:
    """ISO 2296: saws of 2 and of 2.5, none of 2.4 (from memory). A slit of 2.4 within 0.2 takes 2.5."""
    job, attachment, route = of(**{"attachment.sizes": {"slit_width": 2.4}})
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["tool"].get("kind") == "slitting saw"]
    assert step["tool"]["width_mm"] == 2.5 and step["tool"]["owned"] is False

    def told(wide: float) -> list[str]:
        old = step | {"tool": step["tool"] | {"width_mm": wide}}
        rows = [old if one is step else one for one in steps]
        found = walk(attachment.parts, job, setups, rows, placed=attachment.placed)
        here = [one for one in found if one.key == f"step {step['number']}"]
        return [one.limit for one in here if one.code == "route-tool-missing"]

    assert told(2.4) == ["no saw of that width is made"]
    assert told(2.5) == []


def test_a_countersink_that_nobody_makes_is_refused() -> None:
    """DIN 335 form C goes to 31 mm (from memory): the mouth of a rod's hole of 31 mm, 2 wider all
    round for its weld, is filed in the mill; it was to be countersunk."""
    lathe = {"spindle_over_seat": "45 mm", "spindle_over_cross_slide": "150 mm",
             "chuck_diameter": "250 mm", "between_centres": "1500 mm"}  # fmt: skip
    head = {"max_ball_diameter": "120 mm", "min_ball_diameter": "40 mm",
            "max_blank_diameter": "130 mm", "prefer": "stiff"}  # fmt: skip
    post = {"largest_shank": "32 mm", "depth": "120 mm", "stands_out": "6 mm", "height": "70 mm"}
    large = {f"lathe.{key}": said for key, said in lathe.items()}
    large |= {f"attachment.{key}": said for key, said in head.items()}
    large |= {f"tool_post.{key}": said for key, said in post.items()}
    large |= {"ball": [], "shop.reamers": [], "shop.rack": [], "shop.buy": []}
    job, attachment, route = of("engine-lathe", **large)
    setups, steps = route.setup_records(), route.operation_records()
    mouths = [one for one in steps if "mouth" in one["text"] and "for the weld" in one["text"]]
    filed, set_over = sorted(mouths, key=lambda one: one["tool"]["kind"] != "file")
    assert (filed["tool"]["kind"], filed["coolant"]) == ("file", "")
    assert set_over["tool"]["name"] == "a tool set over 45 degrees"
    old = filed | {"kind": "chamfer"}
    old["tool"] = filed["tool"] | {
        "kind": "countersink",
        "name": "countersink",
        "diameter_mm": 35.0,
    }
    rows = [old | {"speed_rpm": 90} if one is filed else one for one in steps]
    found = walk(attachment.parts, job, setups, rows, placed=attachment.placed)
    told = [one.limit for one in found if one.key == f"step {filed['number']}"]
    assert told == ["countersinks are made to 31 mm"]


INCH_SHOP = {
    "attachment.screw_pitch": "1.25 mm",
    "shop.reamers": ["1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "8 mm"],
    "shop.end_mills": ["6 mm", "16 mm"],
    "shop.boring_bars": ["8 mm", "10 mm"],
    "shop.taps": ["M8", "No.6-32 UNC", "No.8-32 UNC", "No.10-32 UNF", "1/4-20 UNC"],
}
METRIC_SHOP = {
    "shop.end_mills": ["1/4 in", "1/2 in"],
    "shop.boring_bars": ["3/8 in"],
}


@pytest.mark.parametrize(
    ("example", "changes", "kind", "new", "was"),
    [
        ("inch-lathe", INCH_SHOP, "reamer", "reamer 8 mm (0.315 in)", "reamer 0.315 in"),
        ("inch-lathe", INCH_SHOP, "end mill", "end mill 16 mm (0.6299 in)", "end mill 0.630 in"),
        (
            "inch-lathe",
            INCH_SHOP,
            "boring bar",
            "boring bar 10 mm (0.3937 in)",
            "boring bar 0.394 in",
        ),
        ("bench-lathe", METRIC_SHOP, "end mill", "end mill 1/2 in (12.7 mm)", "end mill 12.7 mm"),
        (
            "bench-lathe",
            METRIC_SHOP,
            "boring bar",
            "boring bar 3/8 in (9.52 mm)",
            "boring bar 9.53 mm",
        ),
    ],
)
def test_a_tool_of_the_other_language_is_asked_for_by_what_is_marked_on_it(
    example: str, changes: Data, kind: str, new: str, was: str
) -> None:
    """A reamer of 8 mm has "8 H7" on it, no 0.315 (DIN 212, from memory); end mills and bars of a shop
    in inches go by fractions (common practice). 16 / 25.4 = 0.6299, 10 / 25.4 = 0.3937."""
    job, attachment, route = of(example, **changes)
    setups, steps = route.setup_records(), route.operation_records()
    of_kind = {one["tool"]["name"]: one for one in steps if one["tool"].get("kind") == kind}
    assert new in of_kind and was not in of_kind
    step = of_kind[new]

    def told(name: str) -> list[str]:
        old = step | {"tool": step["tool"] | {"name": name}}
        rows = [old if one is step else one for one in steps]
        found = walk(attachment.parts, job, setups, rows, placed=attachment.placed)
        here = [one for one in found if one.key == f"step {step['number']}"]
        return [one.value for one in here if one.code == "route-words"]

    assert told(was) == [was]
    assert told(new) == []


def test_a_second_drill_is_bought_by_what_is_marked_on_it() -> None:
    """16 / 25.4 = 0.6299: "a second drill of 0.630 in" is on no dealer's list."""
    job, _, route = of("inch-lathe", **{"shop.drills": ["16 mm"]})
    bought = {one.name for one in outfit(route, job) if one.name.startswith("a second drill")}
    assert "a second drill of 16 mm (0.6299 in) for the flat drill 16 mm (0.6299 in)" in bought
    assert not any("0.630 in" in one for one in bought)


def test_a_drill_of_a_decimal_of_an_inch_is_refused() -> None:
    """Over 1 in taper-shank drills come by 64ths (ASME B94.11M, from memory): 1-7/64 before a reamer of
    1-1/8, not 1.1053, half a millimetre under it; nor is 1.1024 sold in inches, which is 28 mm."""
    job = planned(ROOT / "examples" / "inch-lathe.toml").job
    for name, size, told in (
        ("drill 1.1053 in", 28.075, True),
        ("long drill 1.1024 in", 28.0, True),
        ("drill 1-7/64, 1.1094 in", 71 / 64 * 25.4, False),
    ):
        tool = {"kind": "drill", "name": name, "diameter_mm": size, "owned": False}
        do = doing(rod(), kind="drill", tool=tool)
        sold(do, shop_of(job))
        assert bool([o for o in do.faults.found if o.code == "route-tool-missing"]) is told, name


@pytest.mark.parametrize(
    ("inch", "most_mm", "sold_mm"),
    [
        (True, 28.275, 71 / 64 * 25.4),
        (True, 20.0, 25 / 32 * 25.4),
        (False, 25.7, 25.5),
        (False, 27.7, 27.5),
    ],
)
def test_thick_drills_come_in_coarse_steps(inch: bool, most_mm: float, sold_mm: float) -> None:
    """By quarters of a millimetre (ISO 235) and by 64ths of an inch (ASME B94.11M; from memory)."""
    assert sold_at_most(most_mm, inch) == pytest.approx(sold_mm)
