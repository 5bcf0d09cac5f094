"""``pommel list``: every table can be looked up, filtered, with its sources."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pint
import pytest
from commands import call
from jobs import changed

import parts.standard
from parts.standard.table import SOURCES
from planner.job.reading import job_from
from planner.output.listing import KINDS, Kind
from planner.output.schemas import schema_of
from planner.words.units import section

FOLDER = Path(parts.standard.__file__).parent
each_kind = pytest.mark.parametrize("one", KINDS, ids=lambda one: one.name)


def rows_of(*words: str) -> list[dict[str, Any]]:
    """What ``pommel list --json`` prints of a kind."""
    result = call("list", *words, "--json")
    assert result.exit_code == 0, result.stderr
    rows: list[dict[str, Any]] = json.loads(result.stdout)[words[0]]
    return rows


def test_every_table_is_listed_under_one_kind() -> None:
    behind = Counter(file for one in KINDS for file in one.tables)
    assert set(behind) == {p.name for p in FOLDER.glob("*.csv")} - {SOURCES}
    assert set(behind.values()) == {1}
    shown = call("list").stdout
    assert all(re.search(rf"^{one.name} ", shown, re.M) for one in KINDS)


@each_kind
def test_a_list_has_every_row_of_its_tables_and_the_keys_its_help_names(one: Kind) -> None:
    rows = rows_of(one.name)
    lines = 0
    for file in one.tables:
        text = (FOLDER / file).read_text(encoding="utf-8").splitlines()
        lines += sum(1 for line in text if line and not line.startswith("#")) - 1
    if one.name == "fasteners":
        # the standards they are ordered to, counted in fastener_standards.csv by hand; those of studs
        # and of what is cut from sheet stand for no size
        lines -= 15
    assert len(rows) == lines or not one.tables
    shown = re.sub(r"\s+", " ", call("list", "--help").stdout)
    named = re.search(rf"\b{one.name}\[\] \(([^)]*)\)", shown)
    assert named and all(list(row) == named[1].split(", ") for row in rows)
    assert all(row["source"] and row["mark"] and "[" not in row["source"] for row in rows)


@each_kind
def test_text_tells_every_row_and_numbers_its_sources(one: Kind) -> None:
    shown = call("list", one.name).stdout
    rows = rows_of(one.name)
    assert f"{one.name}: {len(rows)}." in shown and one.about in shown
    sources = shown.split("\nSources\n")[1].splitlines()
    assert [line.split()[0] for line in sources] == [str(i + 1) for i in range(len(sources))]
    assert {row["source"] for row in rows} <= {
        re.sub(r"^\d+ ", "", line).removesuffix(f" ({row['mark']})")
        for line in sources
        for row in rows
    }


def test_inch_tables_have_the_decimals_of_a_chart() -> None:
    # ASME B94.11M: letter F is 0.257 in, #7 0.201, #25 0.1495; a fraction's decimal by long division,
    # halves to even: 29/32 is 0.90625
    drills = {row["name"]: row["diameter_in"] for row in rows_of("drills", "--inch")}
    for name, inches in (("F", 0.257), ("#7", 0.201), ("#25", 0.1495), ("29/32 in", 0.9062)):
        assert drills[name] == inches
    # the tap drill of 1/4-20 is a #7, the normal hole of a No.8 screw a #9, 0.196 (ASME B18.2.8)
    (quarter,) = rows_of("threads", "--like", "1/4-20")
    assert quarter["tap_drill_in"] == 0.201
    assert {row["hole_in"] for row in rows_of("holes", "--like", "No.8")} == {0.18, 0.196}


def test_an_inch_shops_gauges_are_divided_in_inches() -> None:
    """A caliper of 12 in by 0.001, a rule by 64ths, micrometers by 0.0001 (common practice).

    None reads or spans what is whole in millimetres alone: 11.811 in are 300 mm, 0.000787 are 0.02.
    """
    rows = rows_of("gauges", "--inch")
    told = {(r["name"], r["kind"]): [r[key] / 25.4 for key in GAUGED] for r in rows}
    assert told["vernier caliper", "length"][:3] == pytest.approx([0, 12, 0.001])
    assert told["steel rule", "length"][:3] == pytest.approx([0, 12, 1 / 64])
    assert told["micrometer", "outside"][2] == pytest.approx(0.0001)
    for name, values in told.items():
        for value in values:  # whole tenths of a thousandth, or 128ths: half of what a rule reads
            wholes = (value * 10_000, value * 128)
            assert min(abs(one - round(one)) for one in wholes) < 1e-6, (name, value)


GAUGED = ("least_mm", "most_mm", "resolution_mm", "uncertainty_mm")


def test_inch_limits_are_listed() -> None:
    # ANSI B4.1 LC5 over 0.71 to 1.19 in; .XXX 0.005 is common practice
    fits = {(row["fit"], row["over_in"]): row for row in rows_of("fits")}
    row = fits["LC5", 0.71]
    assert (row["hole"], row["hole_upper_thou"], row["hole_lower_thou"]) == ("H7", 0.8, 0.0)
    assert (row["shaft"], row["shaft_upper_thou"], row["shaft_lower_thou"]) == ("g6", -0.3, -0.8)
    rows = rows_of("decimals")
    assert (3, 0.005) in {(row["decimals"], row["tolerance_in"]) for row in rows}


def test_known_rows() -> None:
    # ISO 261/724 and ISO 2306 (M8: pitch 1.25, drill 6.8); EN 10025-2 (S355: 355 MPa); ASME B1.1 and
    # Machinery's Handbook (1/4-20: drill No. 7): from memory.
    by_name = {row["designation"]: row for row in rows_of("threads", "--like", "m8")}
    assert set(by_name) == {"M8", "M8x1"}
    assert by_name["M8"]["pitch_mm"] == 1.25 and by_name["M8"]["tap_drill_mm"] == 6.8
    assert rows_of("materials", "--like", "S355")[0]["yield_MPa"] == 355
    (quarter,) = rows_of("threads", "--like", "1/4-20")
    assert quarter["tap_drill_mm"] == pytest.approx(0.201 * 25.4, abs=0.01)
    # M6: ISO 4762 (head 10 by 6), ISO 4026 (key 3), ISO 4035 (10 across flats, 3.2 high), ISO 7089
    # (12 outside, 1.6 thick): from memory.
    found = rows_of("fasteners", "--like", "M6")
    assert [
        (row["kind"], row["standard"], row["across_mm"], row["height_mm"]) for row in found
    ] == [
        ("socket screw", "ISO 4762", 10, 6),
        ("set screw", "ISO 4026", None, None),
        ("thin nut", "ISO 4035", 10, 3.2),
        ("washer", "ISO 7089", 12, 1.6),
    ]
    assert found[1]["key"] == "3 mm"
    # common practice: a bandsaw saves the hacksaw, a drill press drills what the mill does not
    machines = {(row["work"], row["order"]): row["machine"] for row in rows_of("machines")}
    assert machines["saw", 1] == "bandsaw" and machines["drill", 2] == "drill press"


def test_like_asks_for_the_beginning_of_a_word() -> None:
    assert {row["size"] for row in rows_of("holes", "--like", "M1")} == {
        "M10",
        "M12",
        "M14",
        "M16",
        "M18",
    } & {row["size"] for row in rows_of("holes")}
    assert rows_of("sections", "--like", "Round 20") == rows_of("sections", "--like", "round  20")
    groups = {row["group"] for row in rows_of("speeds", "--like", "brass")}
    assert groups == {"brass"}
    assert call("list", "threads", "--like", "8").exit_code == 0  # the major diameter
    assert call("list", "threads", "--like", "x1").exit_code == 1  # M8x1 has it, in its middle
    # a source is not looked through: ISO stands in those alone
    assert call("list", "drills", "--like", "ISO").exit_code == 1


@pytest.mark.parametrize("one", [k for k in KINDS if k.inch], ids=lambda one: one.name)
def test_metric_and_inch_part_a_list_in_two(one: Kind) -> None:
    every, metric, inch = (rows_of(one.name, *w) for w in ([], ["--metric"], ["--inch"]))
    assert metric and inch and len(metric) + len(inch) == len(every)
    for row in inch:
        row.pop("nearest", None)  # of the other kind
        assert not any(re.match(r"(M|Tr)\d|.* mm$", str(value)) for value in row.values()), row
    assert all(not re.search(r" in\b", str(row.get("name", ""))) for row in metric)


@pytest.mark.parametrize(
    ("words", "head", "row"),
    [
        # 1/4-20: major 0.25, pitch diameter 0.2175, minor of the nut 0.1959 in (ASME B1.1, from memory)
        (["threads", "--like", "1/4-20"], "major, in tpi", "UNC 0.25 20 0.2175 0.1959"),
        # a round of 1 in of steel is 2.67 lb a foot (any steel table, from memory)
        (["sections", "--like", "round 1 in"], "mass, lb/ft", "sizes 1 2.67"),
        (["drills", "--like", "#7"], "diameter, in", "#7 0.201"),  # ASME B94.11M
        (["gauges", "--like", "micrometer"], "resolution, in", "outside inch 0.0000 12.0 0.0001"),
        # 0.2 and 0.3 mm over 25.4 in thousandths, from 3/16 to 3/4: no bound is converted
        (["reaming"], "least, in", "0.188 0.750 0.008 0.012"),
        # 0.12 mm in half thousandths, 1 mm as a dial is set
        (["feeds", "--like", "turn"], "feed, in", "turn inch 0.0045 0.040 60"),
        (["feeds", "--like", "drill"], "upto, in", "drill inch 0.125 0.0015 40"),
        (["holes", "--like", "No.4"], "hole, in", "close #31 0.1200"),  # ASME B18.2.8
        (["lengths", "--like", "socket screw"], "length, in", "inch 0.250 1/4 in"),
        (["fasteners", "--like", "No.4-40"], "height, in", "ASME B18.3 0.183 0.112 3/32 in"),
    ],
)
def test_an_inch_list_is_in_inches(words: list[str], head: str, row: str) -> None:
    text = " ".join(call("list", *words, "--inch").stdout.split())
    assert head in text and row in text
    assert ", mm" not in text and "kg" not in text.replace("Hand", "")


@pytest.mark.parametrize("series", [["--inch"], ["--metric"], []])
@each_kind
def test_a_columns_numbers_are_told_in_one_way(one: Kind, series: list[str]) -> None:
    """A chart has 0.0400 over 0.0410, and no sign before nothing (common practice).

    Three figures of a mass or of a stress, and what a limit is of, differ from row to row.
    """
    if series and not (one.inch or one.measured):
        return
    text = call("list", one.name, *series).stdout.partition("\nSources\n")[0]
    _, _, heads, rule, *rows = text.splitlines()
    spans = [match.span() for match in re.finditer("-+", rule)]
    for start, end in spans:
        head = heads[start:end].strip()
        if head.startswith(("mass", "stress", "density", "limit", "modulus", "name", "circles")):
            continue
        cells = [row[start:end].strip() for row in rows if row[start:end].strip()]
        if not all(re.fullmatch(r"-?\d+(\.\d+)?", cell) for cell in cells):
            continue
        split = one.inch is not None and not series
        decimals = {len(cell.partition(".")[2]) for cell in cells}
        assert len(decimals) <= 1 + split, (head, decimals)
        assert not any(re.fullmatch(r"-0(\.0+)?", cell) for cell in cells), head


def test_a_cutting_speed_is_whole_and_within_what_is_published() -> None:
    """15 to 25 m/min are 49.2 to 82.02 ft/min: 50 to 82. What a table has in ft/min stays: 80, 125."""
    for series, per in (("--inch", 1000 / 304.8), ("--metric", 1.0)):
        text = call("list", "speeds", series).stdout
        told = re.findall(r"(\d+) +(\d+) +\d+$", text.partition("\nSources\n")[0], re.M)
        rows = rows_of("speeds")
        assert len(told) == len(rows)
        for (low, high), row in zip(told, rows, strict=True):
            least, most = row["low_m_min"] * per, row["high_m_min"] * per
            if least == most:
                assert abs(int(low) - least) <= 0.5 and low == high
            else:
                assert least - 1e-6 <= int(low) < least + 1
                assert most - 1 < int(high) <= most + 1e-6
    assert re.search(r"12L14 .* 120 +120 ", call("list", "speeds", "--inch").stdout)


def test_a_drill_has_its_nearest_of_the_other_kind_and_how_far_it_is_off() -> None:
    # by the charts (from memory): #7 is 0.2010 in, F 0.2570, H 0.2660; 5.1 mm are 0.2008 in
    rows = {row["name"]: row for row in rows_of("drills")}
    told = {name: tuple(rows[name][k] for k in ("nearest", "off_mm", "off_in")) for name in NEAREST}
    assert told == NEAREST
    ureg = pint.get_application_registry()
    for row in rows.values():
        other = rows[row["nearest"]]
        assert (other["series"] == "metric") != (row["series"] == "metric")
        off = other["diameter_mm"] - row["diameter_mm"]
        assert row["off_mm"] == pytest.approx(off, abs=0.00051)
        inches = ureg.Quantity(off, "mm").to("inch").magnitude
        assert row["off_in"] == pytest.approx(inches, abs=0.000051)


def test_a_drill_is_named_as_it_is_marked_in_an_inch_list_too() -> None:
    """No drill is marked 0.201 in that is sold as 5.1 mm (common practice): who looks for one asks for
    it by its name, and off says how far."""
    text = call("list", "drills", "--inch").stdout
    for name, (other, _, off) in NEAREST.items():
        if not name.endswith(" mm"):
            assert re.search(rf"^\w+ +{name} +\d\.\d+ +{other} +{off:.4f} ", text, re.M), name
    sold = {row["name"] for row in rows_of("drills", "--metric")}
    rows = re.findall(r"^(?:number|letter|fractional) .*? \d\.\d{4} +(.*?)  ", text, re.M)
    assert len(rows) == len(rows_of("drills", "--inch")) and set(rows) <= sold


NEAREST = {
    "#7": ("5.1 mm", -0.005, -0.0002),
    "F": ("6.5 mm", -0.028, -0.0011),
    "6.8 mm": ("H", -0.044, -0.0017),
    "5.1 mm": ("#7", 0.005, 0.0002),
}


def test_shapes_part_the_sections() -> None:
    # pi/4 20^2 7850 kg/m3 = 2.466 kg/m: EN 10060 has 2.47 (memory)
    shapes = [rows_of("sections", "--shape", s) for s in ("round", "square", "flat", "tube")]
    assert sum(map(len, shapes)) == len(rows_of("sections"))
    assert all(row["shape"] == "round" for row in shapes[0])
    twenty = [row for row in shapes[0] if row["section"] == "round 20"]
    assert [row["mass_kg_m"] for row in twenty] == [pytest.approx(2.466, abs=0.001)]


def test_a_job_file_takes_every_name_listed() -> None:
    for row in rows_of("sections"):
        read = section(row["section"], "mm")
        assert (read.shape, read.thickness_mm) == (row["shape"], pytest.approx(row["thickness_mm"]))
        assert read.width_mm == pytest.approx(row["width_mm"], abs=1e-6)
    names = [row["name"] for row in rows_of("materials")]
    taps = [row["designation"] for row in rows_of("threads")]
    for name in names:
        assert job_from(changed(**{"materials.dial": name}), "job.toml").materials.dial == name
    assert job_from(changed(**{"shop.taps": taps}), "job.toml").shop.taps == taps
    machines = schema_of("job")["$defs"]["Shop"]["properties"]["machines"]["propertyNames"]["enum"]
    assert set(machines) <= {row["machine"] for row in rows_of("machines")}


@pytest.mark.parametrize(
    ("words", "code", "remedy"),
    [
        (["thread"], "unknown-kind", "threads"),
        (["zzz"], "unknown-kind", "pommel list"),
        (["plates", "--inch"], "no-filter", "Leave"),
        (["grades", "--inch"], "no-filter", "pommel list fits"),
        (["tolerances", "--inch"], "no-filter", "pommel list decimals"),
        (["threads", "--shape", "round"], "no-filter", "Leave"),
        (["sections", "--shape", "hexagon"], "not-a-choice", "Name one"),
    ],
)
def test_what_cannot_be_asked_is_told_with_what_helps(
    words: list[str], code: str, remedy: str
) -> None:
    result = call("list", *words, "--json")
    assert result.exit_code == 2 and f"[{code}]" in result.stderr
    (found,) = json.loads(result.stdout)["findings"]
    assert found["code"] == code and remedy in found["remedy"]


def test_nothing_like_it_is_exit_1_and_names_the_whole_list() -> None:
    result = call("list", "threads", "--like", "M77", "--json")
    assert result.exit_code == 1 and "pommel list threads" in result.stderr
    record = json.loads(result.stdout)
    assert record["threads"] == [] and record["findings"][0]["code"] == "none-listed"


@pytest.mark.parametrize(
    ("key", "value", "command"),
    [
        ("materials.shaft", "zzzz", "pommel list materials"),
        ("materials.shaft", "S356", "pommel list materials"),
        ("shop.taps", ["Q"], "pommel list threads"),
        ("attachment.sizes", {"pivot_thread": "zz"}, "pommel list threads"),
    ],
)
def test_a_name_that_is_not_in_the_tables_names_the_list_to_look_in(
    key: str, value: Any, command: str, tmp_path: Path
) -> None:
    import tomlkit

    job = tmp_path / "job.toml"
    job.write_text(tomlkit.dumps(changed(**{key: value})), encoding="utf-8")
    result = call("sizes", str(job))
    assert result.exit_code == 2 and command in result.stderr, result.stderr
    assert call(*command.split()[1:]).exit_code == 0
