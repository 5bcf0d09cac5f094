"""A table for an inch shop's spreadsheet: units in its heads, numbers converted by pint."""

from __future__ import annotations

import csv
import io
import re

import pint
import pytest
from jobs import ROOT, planned

from planner.output.sheets.sizes import sizes_tables
from planner.output.topics import TOPICS
from planner.words.inches import UNITS, heads
from planner.words.tables import Table, as_csv, columns

UREG = pint.get_application_registry()

PINT = {
    "_mm": ("mm", "inch"),
    "_mm2": ("mm**2", "inch**2"),
    "_mm3": ("mm**3", "inch**3"),
    "_N": ("newton", "pound_force"),
    "_MPa": ("megapascal", "psi"),
    "_kg": ("kilogram", "pound"),
    "mm_per_N": ("mm/newton", "inch/pound_force"),
    "_kg_m": ("kilogram/m", "pound/foot"),
    "_kg_m3": ("kilogram/m**3", "pound/inch**3"),
    "_m_min": ("m/minute", "foot/minute"),
}


@pytest.mark.parametrize("ends", PINT)
def test_a_column_has_its_unit_in_its_head_and_its_numbers_in_it(ends: str) -> None:
    key = ends if ends.startswith("mm") else f"some{ends}"
    table = Table("t", "T", columns((key, "")), ((0.0,), (1.0,), (123.456,), (None,), ("-",)))
    head, *rows = csv.reader(io.StringIO(as_csv(table, inch=True)))
    metric, inch = PINT[ends]
    (unit,) = (to for was, to, _ in UNITS if was == ends)
    assert head == [key.replace(ends, unit)]
    for (found,), mm in zip(rows[:3], (0.0, 1.0, 123.456), strict=True):
        wanted = UREG.Quantity(mm, metric).to(inch).magnitude
        # lengths to four decimals, or six under a thousandth; others to five figures
        places = {"abs": 5e-5} if unit.endswith("_in") else {"rel": 5e-5}
        assert float(found) == pytest.approx(wanted, **places)
    assert [row[0] for row in rows[3:]] == ["", "-"]


def test_sections_and_lengths_without_a_unit_are_in_inches_too_and_counts_stay() -> None:
    rows = (("bar", 25.4), ("tube 31.75x7.938", 12), ("round 22.225", 0.79375))
    table = Table("t", "T", columns(("what", ""), ("value", "")), rows, lengths=("value",))
    assert as_csv(table, inch=True).splitlines() == [
        *("what,value_in", "bar,1.0", "tube 1-1/4 x 5/16 in,12", "round 7/8 in,0.0312")
    ]
    assert as_csv(table).splitlines()[:2] == ["what,value", "bar,25.4"]


def test_a_metric_bar_is_named_as_it_is_sold_and_the_play_is_that_of_the_limits_beside_it() -> None:
    # nobody sells a bar of 0.7874 in: it is 20 mm (EN 10060), as the sheets have it
    table = Table("t", "T", columns(("section", "")), (("round 20",), ("flat 60x16",)))
    assert as_csv(table, inch=True).splitlines() == [
        *("section", "round 20 mm (0.787 in)", "flat 60x16 mm (2.362 x 0.630 in)")
    ]
    # 12 H7/g6: +18/0 and -6/-17 um (ISO 286-2): 0.47244 to 0.47315 and 0.47177 to 0.47220 in, inward
    keys = [
        "hole_least_mm",
        "hole_most_mm",
        "shaft_least_mm",
        "shaft_most_mm",
        "play_least_mm",
        "play_most_mm",
    ]
    row = (12.0, 12.018, 11.983, 11.994, 0.006, 0.035)
    fits = Table("t", "T", columns(*((key, "") for key in keys)), (row,))
    assert as_csv(fits, inch=True).splitlines()[1] == "0.4725,0.4731,0.4718,0.4722,0.0003,0.0013"


def test_a_row_of_lengths_is_in_inches_and_a_64th_is_one_again() -> None:
    # 50.4031 mm is 1-63/64 in, 138.113 5-7/16, 31.3531 1.23437 of a rounded 1-15/64, 60.7219 2-25/64;
    # 4.762 is 3/16 rounded to a micrometre; 0.00012 in is a deflection
    rows = (("50.4031", 4.762, 3.048e-3), ("138.113 50.8 31.3531 60.7219", 15.08, 1.0))
    names = columns(("saw_mm", ""), ("size_mm", ""), ("gives_mm", ""))
    assert as_csv(Table("t", "T", names, rows), inch=True).splitlines() == [
        "saw_in,size_in,gives_in",
        "1.9844,0.1875,0.00012",
        "5.4375 2 1.2344 2.3906,0.5937,0.0394",
    ]


def test_a_steel_that_is_called_by_a_number_is_no_length() -> None:
    # SAE 1018 and 1045 are steels by number, no lengths of 1018 and 1045 mm
    steels = (("shaft", "1018"), ("screw", "1045"), ("rod", 15.875))
    table = Table("t", "T", columns(("what", ""), ("value", "")), steels, lengths=("value",))
    assert as_csv(table, inch=True).splitlines()[1:] == ["shaft,1018", "screw,1045", "rod,0.625"]
    plan = planned(ROOT / "examples" / "inch-lathe.toml")
    sizes, *_ = sizes_tables(plan.sizing, plan.attachment, plan.job, explain=False)
    found = {row[0]: row[1] for row in csv.reader(io.StringIO(as_csv(sizes, inch=True)))}
    assert (found["structure_material"], found["screw_material"]) == ("1018", "1045")


def test_limits_in_a_spreadsheet_are_rounded_inward_as_on_the_sheets() -> None:
    # LC5 over 0.40 to 0.71 in, thousandths: hole +0.7/0, shaft -0.25/-0.65, clearance 0.25 to 1.35
    # (ANSI B4.1, tests/parts/standard/data/ansi_b4_1.csv); what rounds outward would pass a bad part
    mm = [one * 25.4 for one in (0.5625, 0.5632, 0.56185, 0.56225, 0.00025, 0.00135)]
    keys = "hole_least_mm hole_most_mm shaft_least_mm shaft_most_mm play_least_mm play_greatest_mm"
    fit = Table("t", "T", columns(*((key, "") for key in keys.split())), (tuple(mm),))
    assert as_csv(fit, inch=True).splitlines()[1] == "0.5625,0.5632,0.5619,0.5622,0.0003,0.0013"
    # and the fits of the example are those that its sheet has
    plan = planned(ROOT / "examples" / "inch-lathe.toml")
    _, fits, _ = sizes_tables(plan.sizing, plan.attachment, plan.job, explain=False)
    _, *rows = csv.reader(io.StringIO(as_csv(fits, inch=True)))
    assert len(rows) == 5
    for row, shown in zip(rows, fits.shown or (), strict=True):
        *hole_and_shaft, least, most = map(float, row[3:])
        assert f"{least:.4f} to {most:.4f}" == shown[3]
        for text, (low, high) in zip(
            shown[1:3], (hole_and_shaft[:2], hole_and_shaft[2:]), strict=True
        ):
            size, upper, lower = (float(one) for one in re.findall(r"[+-]?\d\.\d{4}", text))
            assert (low, high) == pytest.approx((size + lower, size + upper), abs=1e-9)


def test_what_a_spreadsheet_has_is_what_the_sheets_say() -> None:
    # 3/32 in is 0.09375, halves to even 0.0938 (ASTM E29, from memory), whatever a float loses over
    # 25.4; a number is written out, no 3.1e-05, which people do not read
    table = Table("t", "T", columns(("long_mm", "long")), ((2.38125,), (88.10625,), (0.00079,)))
    assert as_csv(table, inch=True).splitlines() == ["long_in", "0.0938", "3.4688", "0.000031"]
    assert as_csv(table).splitlines() == ["long_mm", "2.38125", "88.10625", "0.00079"]
    tiny = Table("t", "T", columns(("share", "share")), ((3.1e-05,), (-2e-07,), (1e-12,)))
    assert as_csv(tiny).splitlines() == ["share", "0.000031", "-0.0000002", "0.0"]


def test_a_feed_in_the_table_of_a_route_is_the_one_its_step_says() -> None:
    # 0.12 mm is 0.00472 in, told to half thousandths; the lead of a thread is 1 in over its threads
    plan = planned(ROOT / "examples" / "inch-lathe.toml")
    route = next(one for one in TOPICS if one.name == "route")
    (table,) = (one for one in route.tables(plan, route.asked({})) if one.name == "route")
    keys = [column.key for column in table.columns]
    feeds = set()
    for row in csv.DictReader(as_csv(table, inch=True).splitlines()):
        if row["feed_in"]:
            feeds.add(float(row["feed_in"]))
    assert "feed_mm" in keys and len(feeds) > 6
    leads = {one for one in feeds if one > 0.02}
    assert leads and all(abs(1 / one - round(1 / one)) < 0.02 for one in leads)
    assert {one for one in feeds - leads if abs(one * 2000 - round(one * 2000)) > 1e-6} == set()


def test_no_key_of_a_table_names_a_metric_unit_in_inches() -> None:
    keys = {key for one in TOPICS for row in one.columns.values() for key in row}
    told = heads(tuple(sorted(keys)), ())
    assert len(keys) > 150
    assert [one for one in told if one.split("_")[-1] in ("mm", "N", "MPa", "kg", "mm3")] == []
