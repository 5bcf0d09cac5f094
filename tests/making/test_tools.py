"""Which tool does it, by hand: bars, drills, reamers, end mills; just inside their limits, and outside.

A boring bar stands out four diameters and takes 0.8 of its bore at most,
five millimetres longer than it
bores; an end mill cuts two and a half diameters deep; a hacksaw goes through 75 mm2 a minute, a small
bandsaw through 400 (all common practice). The bench lathe's shop has bars of 6, 10 and 12,
end mills of 6,
8, 10, 12 and 16, drills to 13.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import pytest
from jobs import ROOT, changed, planned

from parts.standard.cutting_data import cutting_data
from parts.standard.fits import Limits
from parts.standard.measuring import instruments
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.gauges import Gauges
from planner.making.workshop import Workshop, sawing_minutes

JobWith = Callable[..., Job]


@pytest.mark.parametrize(
    ("depth", "bar"), [(19.0, 6), (19.1, 10), (35.0, 10), (35.1, 12), (43.0, 12), (43.1, 0)]
)
def test_the_least_bar_that_reaches(job_with: JobWith, depth: float, bar: float) -> None:
    assert Workshop(job_with()).stout_bar(depth) == bar


@pytest.mark.parametrize(
    ("bore", "depth", "size", "owned"),
    [
        (12.5, 35.0, 10.0, True), (12.4, 19.0, 6.0, True), (15.0, 43.0, 12.0, True),
        # else one is made: three quarters of the bore in whole millimetres, while it reaches
        (12.5, 35.1, 9.0, False), (12.4, 36.0, 9.0, False), (7.0, 10.0, 5.0, False),
        # then a quarter of the depth, as thick as the chips allow; then that, in tenths
        (12.4, 38.0, 9.5, False), (12.4, 39.6, 9.9, False), (12.4, 41.0, 9.9, False),
    ],
)  # fmt: skip
def test_the_stoutest_bar_with_room_for_its_chips(
    job_with: JobWith, bore: float, depth: float, size: float, owned: bool
) -> None:
    tool = Workshop(job_with()).boring_bar(bore, depth)
    assert (tool.kind, tool.diameter_mm, tool.reach_mm) == ("boring bar", size, 4 * size)
    assert tool.owned is owned and tool.name == f"boring bar {size:g} mm"
    assert bool(tool.instead) is not owned


def test_what_a_bar_is_made_of_has_the_name_it_is_sold_by(job_with: JobWith) -> None:
    # silver steel here is drill rod there (common practice)
    for example, name in (("bench-lathe", "silver steel"), ("inch-lathe", "drill rod")):
        made = Workshop(job_with(example)).boring_bar(7.0, 10.0)
        assert made.instead == f"turn one of {name} with a cross hole for a bit"


def test_the_largest_drill_that_is_no_larger(job_with: JobWith) -> None:
    shop = Workshop(job_with(**{"shop.drills": [20, 14]}))
    for most, size in (
        (0.99, None),
        (1.0, 1.0),
        (13.0, 13.0),
        (13.99, 13.0),
        (14.0, 14.0),
        (19.9, 14.0),
        (25.0, 20.0),
    ):
        found = shop.drill(most)
        assert (found.diameter_mm if found else None) == size, most
    for size, there in (
        (13.0, True),
        (13.00095, True),
        (13.00105, False),
        (14.009, True),
        (14.011, False),
        (13.5, False),
    ):
        assert shop.has_drill(size) is there, size
    drill = shop.drill(6.0)
    assert drill is not None
    tool = shop.twist_drill(drill)
    # DIN 338: flutes of about nine diameters
    assert (tool.name, tool.diameter_mm, tool.reach_mm, tool.owned) == (
        "drill 6 mm",
        6.0,
        54.0,
        True,
    )


def test_reamers_taps_and_dies_of_the_shop(job_with: JobWith) -> None:
    shop = Workshop(
        job_with(**{"shop.reamers": [6, 14], "shop.taps": ["M5", "M8"], "shop.dies": ["M8"]})
    )
    assert [shop.reamer(one) for one in (6.0, 6.009, 6.011, 5.989, 14.0, 8.0)] == [
        True, True, False, False, True, False,
    ]  # fmt: skip
    for tool, name, size, owned in (
        (shop.tap("M5"), "tap M5", 5.0, True), (shop.tap("M6"), "tap M6", 6.0, False),
        (shop.die("M8"), "die M8 in the tailstock holder", 8.0, True),
        (shop.die("M6"), "die M6 in the tailstock holder", 6.0, False),
    ):  # fmt: skip
        assert (tool.name, tool.diameter_mm, tool.owned) == (name, size, owned)
        assert bool(tool.instead) is not owned


@pytest.mark.parametrize(
    ("most", "size", "owned"),
    [(6.0, 6.0, True), (5.9, 5.0, False), (7.99, 6.0, True), (8.0, 8.0, True), (99.0, 16.0, True)],
)
def test_the_largest_end_mill_that_is_no_larger(
    job_with: JobWith, most: float, size: float, owned: bool
) -> None:
    tool = Workshop(job_with()).end_mill(most)
    # flutes of two diameters; a long one 3.9, and is asked for by a deeper cut (common practice)
    assert (tool.diameter_mm, tool.width_mm, tool.reach_mm) == (size, size, 2 * size)
    just, long = (Workshop(job_with()).end_mill(most, deep) for deep in (2 * size, 2 * size + 0.01))
    assert just == tool and long.reach_mm == pytest.approx(3.9 * size)
    assert long.name == f"long end mill {size:g} mm"
    # those of a set are short (ISO 1641-1: 32 of flutes at 16, and 63 in the long series)
    assert (long.owned, long.instead) == (False, "buy one of the long series")
    assert tool.owned is owned and tool.name == f"end mill {size:g} mm"


def test_what_a_cut_takes_in_minutes(job_with: JobWith) -> None:
    """Length over feed and speed, as many cuts as the depth asks; handling by the root of the cuts."""
    shop, row = Workshop(job_with()), cutting_data("rough bore", 20.0)
    deep, feed = row.depth_mm, row.feed_mm
    for stock, cuts in ((deep, 1), (deep + 0.01, 2), (2 * deep, 2), (0.0, 1)):
        total, said, many, depth, basis = shop.minutes("rough bore", 500.0, 20.0, 60.0, stock)
        # whole on a dial of 0.05 mm, rounded up, the last cut what is left: 0.51 for each is 0.55
        assert (many, said) == (cuts, feed)
        assert depth == pytest.approx(-(-stock / cuts // 0.05) * 0.05 if cuts > 1 else stock)
        assert total == pytest.approx(
            cuts * 60.0 / (feed * 500.0) + row.handling_s / 60 * cuts**0.5
        )
        assert basis.startswith("length over feed and speed, and handling (")
    total, _, many, depth, _ = shop.minutes("finish", 500.0, 20.0, 60.0, 0.4)
    assert many == 2 and depth == pytest.approx(0.2)
    total, _, _, _, basis = shop.minutes("rough bore", None, 20.0, 60.0, deep)
    assert total == pytest.approx(row.handling_s / 60) and basis.startswith("handling (")
    assert sawing_minutes(pi / 4 * 25**2, "hacksaw") == pytest.approx(6.545, abs=1e-3)
    assert sawing_minutes(pi / 4 * 25**2, "bandsaw") == pytest.approx(1.227, abs=1e-3)


def test_a_plate_of_speeds_that_is_not_known_is_said_in_two_figures(job_with: JobWith) -> None:
    """End mills in mild steel 25 to 35 m/min: 16 mm at 597 is said 600; 3 mm at 3183, 3200."""
    shop = Workshop(job_with(**{"shop.machines": {"mill": {}}}))
    assert shop.speed("mill", "HSS", "S355", 16.0, "mill").rpm == 600
    assert shop.speed("mill", "HSS", "S355", 3.0, "mill").rpm == 3200
    assert shop.speed("mill", "HSS", "S355", 160.0, "mill").rpm == 60
    # a drill of 11 at the published 70 ft/min, 21.3 m/min: 617, and no faster
    assert shop.speed("drill", "HSS", "S355", 11.0, "mill").rpm == 610
    slow = shop.speed("mill", "HSS", "S355", 3000.0, "mill")
    assert slow.rpm == 10 and slow.surface_m_min == pytest.approx(pi * 30)
    lathe = Workshop(job_with())
    assert lathe.speed("turn", "HSS", "S355", 25.0, "lathe", 340.0).rpm == 340
    assert lathe.speed("turn", "HSS", "S355", 25.0, "lathe", 339.0).rpm == 220
    assert lathe.speed("turn", "HSS", "S355", 25.0, "lathe", 50.0).rpm == 80


@pytest.mark.parametrize(
    ("metal", "kind", "fluid"),
    [
        ("CW614N", "tap", "dry"), ("6082-T6", "ream", "paraffin"), ("S355", "tap", "cutting oil"),
        ("S355", "thread", "cutting oil"), ("C45", "ream", "cutting oil"),
        ("S355", "turn", "soluble oil or cutting oil"), ("C45", "drill", "soluble oil or cutting oil"),
    ],
)  # fmt: skip
def test_what_is_put_on_the_cut(job_with: JobWith, metal: str, kind: str, fluid: str) -> None:
    assert Workshop(job_with()).fluid(metal, kind) == fluid


def test_an_inch_shop_cuts_aluminium_with_kerosene_and_washes_with_it(job_with: JobWith) -> None:
    # what is paraffin in Britain is kerosene in the States, where paraffin is a wax (common knowledge)
    shop = Workshop(job_with("inch-lathe"))
    assert shop.fluid("6061-T6", "drill") == shop.fluid("6061-T6", "tap") == "kerosene"
    assert shop.fluid("C360", "turn") == "dry" and shop.fluid("1018", "tap") == "cutting oil"
    plan = planned(ROOT / "examples" / "inch-lathe.toml")
    words = " ".join(op.tool.name for setup in plan.route.setups for op in setup.ops if op.tool)
    assert "brush, kerosene, clean cloth" in words and "paraffin" not in words


def test_a_way_of_working_holds_its_band(job_with: JobWith) -> None:
    shop = Workshop(job_with())  # a file holds 0.062 at 33 (parts.standard.holding)
    assert shop.attains("file", 0.062, 33.0) and not shop.attains("file", 0.0619, 33.0)
    assert shop.attains("no such way", 0.0, 33.0)
    assert shop.attains("file", 0.025, 0.1) is shop.attains("file", 0.025, 1.0)


def test_what_the_shop_lacks_is_noted_once_for_all_that_want_it(job_with: JobWith) -> None:
    shop = Workshop(job_with())
    for part in ("a", "b", "a"):
        shop.lacks(part, "a shaper", "Borrow it")
    shop.lacks("a", "a shaper", "Buy it")
    assert [(one.part, one.remedy) for one in shop.missing] == [
        ("a, b", "Borrow it"),
        ("a", "Buy it"),
    ]


OWNED = {
    "depth micrometer": "depth_micrometer",
    "telescoping gauge and micrometer": "telescoping_gauges",
    "small-hole gauge and micrometer": "telescoping_gauges",
    "inside micrometer": "inside_micrometer",
    "gauge blocks": "gauge_blocks",
    "dial indicator over gauge blocks": "dial_indicator gauge_blocks",
    "height gauge": "height_gauge",
}
"""What a shop has only where it says so, by the keys of the job; a rule, a caliper, a micrometer and
what it turns itself are there anyway."""


@pytest.mark.parametrize("inch", [False, True])
def test_an_instrument_is_used_only_where_the_shop_has_it(job_with: JobWith, inch: bool) -> None:
    keys = sorted({key for keys in OWNED.values() for key in keys.split()})
    kinds = ("outside", "inside", "depth", "length", "gap", "height")
    every = {row.name: row for kind in kinds for row in instruments(kind, inch)}
    assert set(OWNED) <= set(every)
    for without in ("", *keys):
        measuring = {key: key != without for key in keys}
        example = "inch-lathe" if inch else "bench-lathe"
        gauges = Gauges(Workshop(job_with(example, **{"shop.measuring": measuring})))
        for name, row in every.items():
            wanted = OWNED.get(name, "").split()
            assert gauges.owned(row) is (without not in wanted), (name, without)


def test_a_depth_micrometer_s_rod_goes_into_what_is_as_wide(job_with: JobWith) -> None:
    """It is 4 mm thick (common practice): a slit of a saw's width is read with a caliper's blade."""
    gauges = Gauges(Workshop(job_with("bench-lathe", **{"shop.measuring.depth_micrometer": True})))
    deep = Limits(7.0, 0.0, -0.1, "")
    for wide, name in ((4.0, "depth micrometer"), (3.9, "vernier caliper")):
        assert gauges.length(deep, "a", "b", "depth", wide_mm=wide).gauge.name == name
    assert gauges.length(deep, "a", "b", "depth").gauge.name == "depth micrometer"


def test_the_coarsest_instrument_that_is_sure_to_a_quarter_of_the_limits(job_with: JobWith) -> None:
    """By the instruments' table: a caliper is sure to 0.03 outside, a micrometer to 0.005."""
    gauges = Gauges(Workshop(job_with()))

    def name(kind: str, low: float, high: float) -> str:
        found = gauges.gauge(kind, Limits(low, high - low, 0.0, ""))
        return found.name if found else ""

    assert name("outside", 20.0, 20.12) == "vernier caliper"
    assert name("outside", 20.0, 20.119) == "micrometer 0 to 25 mm"
    # what is called a caliper reads to 150 mm, 6 in, and the next to 300 mm, 12 in (common practice)
    assert name("outside", 152.0, 152.4) == "vernier caliper"
    assert (
        name("outside", 152.0, 152.41)
        == name("outside", 299.0, 300.0)
        == "vernier caliper to 300 mm"
    )
    assert name("outside", 304.0, 305.0) == "vernier caliper to 500 mm"
    assert name("depth", 160.0, 161.0) == "vernier caliper to 200 mm"
    inch = Gauges(Workshop(job_from(changed("inch-lathe"), "job.toml")))
    found = inch.gauge("outside", Limits(182.575, 0.12, -0.12, ""))
    assert found is not None and found.name == "vernier caliper to 12 in"
    assert (found.least_mm, found.most_mm) == (0.0, 304.8)
    assert name("outside", 30.0, 30.06) == "micrometer 25 to 50 mm"
    assert name("inside", 20.0, 20.2) == "vernier caliper"
    assert name("inside", 20.0, 20.199) == "telescoping gauge and micrometer"
    assert name("inside", 20.0, 20.008) == "telescoping gauge and micrometer"  # reads 0.002
    assert name("inside", 4.0, 4.06) == "small-hole gauge and micrometer"
    assert name("gap", 0.9, 1.0) == ""  # gauge blocks begin at 1
    assert name("gap", 1.0, 1.004) == "gauge blocks" and name("gap", 1.0, 1.0039) == ""
