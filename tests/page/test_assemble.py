"""The page as one file: nothing asked of any other place, its words complete, its colours readable."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT, planned, unwalked
from page_node import PAGE

from parts.features import TurnedBall
from planner.book.model import Heading, Points, Rows, Step, Words
from planner.drawing.lettering import FAMILY, FONT
from planner.output.book.opening import GOVERNING
from planner.output.book.opening import findings as book_findings
from planner.output.book.pages import Pages
from planner.output.book.parts import every, order
from planner.output.page_data import page_data, sketches
from planner.output.page_files import stands
from planner.output.plan import Plan
from planner.output.sheets.turn import ball_sheets
from planner.page import Blocks, page, strings
from planner.page.assemble import SCRIPTS

SOURCES = {path.name: path.read_text(encoding="utf-8") for path in sorted(PAGE.glob("*.*"))}


def made(plan: Plan) -> str:
    return page(Blocks(data_of(plan), [], None, None), FONT, FAMILY)


@cache
def data_of(plan: Plan) -> dict[str, Any]:
    return page_data(plan)


def test_the_same_job_gives_the_same_page_of_one_file(bench: Plan) -> None:
    text = made(bench)
    assert page_data(bench) == data_of(bench) and text == made(bench)
    assert text.startswith("<!doctype html>")
    assert len(text.encode()) < 600_000  # the scene and the sheets come on top: 1.5 MB in all
    assert "{{" not in re.sub(r"<script.*?</script>", "", text, flags=re.S)


def test_no_box_to_tick_with_a_pencil_stands_beside_one_to_tap(bench: Plan) -> None:
    assert "[ ]" not in json.dumps(data_of(bench))


def test_what_a_step_says_is_not_in_the_shop_is_in_the_list_of_that(bench: Plan) -> None:
    """A list that says "none" beside a step that tells of one sends nobody to buy it."""
    found = 0
    for plan in (bench, planned(ROOT / "tests" / "data" / "shops" / "farm-shed.toml")):
        data = data_of(plan)
        (listed,) = [one for one in data["route"] if one["name"] == "missing"]
        names = [row[1].removeprefix("a ") for row in listed["rows"]]
        for step in data["steps"]:
            tool, lacks, _ = step["tool"].partition("not in the shop: ")
            if lacks:
                assert tool.split(",")[0] in names, (step["number"], tool, names)
                found += 1
    assert found


def test_the_datums_and_axes_that_a_step_is_told_in_stand_on_the_page(bench: Plan) -> None:
    """Each letter that a place is said from is told what it is, and each side with a sign which way its
    axis runs: by the drawing alone nobody knows a piece's +y."""
    data, signed = data_of(bench), 0
    for step in data["steps"]:
        said = " ".join(step[key] for key in ("held", "align", "place", "text"))
        letters = set(re.findall(r"\bfrom ([A-Z])\b", said))
        axes = set(re.findall(r"(?:^|\s)[+-]([xyz])\b", said))
        if not letters | axes:
            continue
        told = " ".join(data["frames"]["|".join(filter(None, (step["part"], step["piece"])))])
        assert all(f"{letter} = " in told for letter in letters), (step["number"], told)
        assert all(re.search(rf"\b{axis}\b", told) for axis in axes), (step["number"], told)
        signed += bool(axes)
    assert signed > 20


def test_every_step_has_a_sketch_of_its_set_up(bench: Plan) -> None:
    there = sketches(bench)
    steps = data_of(bench)["steps"]
    # where the parts are put together the same bench sixteen times over tells nothing
    held = {str(step["setup"]) for step in steps if step["title"] != "Assembly"}
    assert held == set(there) and len(there) > 80
    assert all(one.startswith("<svg ") and one.endswith("</svg>") for one in there.values())


def test_nothing_is_asked_of_any_other_place(bench: Plan) -> None:
    text = made(bench)
    places = set(re.findall(r"(?:https?:)?//[\w.]+\.\w+[\w/.]*", text))
    assert places <= {"http://www.w3.org/2000/svg"}  # the name of SVG, not an address
    assert re.findall(r"\b(?:src|href)\s*=\s*[\"']?([^\"'#\s>]*)", text.split("<body>")[0]) == [
        "data:,"
    ]
    assert "default-src 'none'" in text
    for word in ("fetch(", "XMLHttpRequest", "WebSocket", "sendBeacon", "importScripts", "import("):
        assert word not in text


def test_every_file_is_in_it_and_says_what_it_is() -> None:
    scripts = {name for name in SOURCES if name.endswith(".js")}
    assert scripts == set(SCRIPTS)
    for name in scripts:
        assert SOURCES[name].startswith("// ") and '"use strict"' in SOURCES[name]
        assert SOURCES[name].count("\n") <= 400


def test_every_word_is_used_and_every_word_used_is_there() -> None:
    there = set(strings()["ui"])
    code = "\n".join(SOURCES[name] for name in SCRIPTS)
    used = set(re.findall(r"\bt\(\"(\w+)\"", code)) | {"skip", "navigation", "no_script"}
    used |= set(re.findall(r"\bline\(\"(\w+)\"", code)) | set(
        re.findall(r"\bview\(\"(\w+)\"", code)
    )
    kinds = (
        "outside",
        "inside",
        "depth",
        "length",
        "thread",
        "flat",
        "square",
        "runout",
        "angle",
        "eye",
    )
    made_up = {f"kind_{kind}" for kind in kinds}
    made_up |= {"refused", "warning", "note", "good", "rework", "scrap", "unknown"}
    for screen in re.findall(r"NAMES = \[(.*?)\]", code)[0].replace('"', "").split(", "):
        made_up |= {f"head_{screen}", f"nav_{screen}"}
    for name, fields in (("reading", "angle diameter"), ("pip", "ball_diameter diameter accuracy"),
                         ("size", "set diameter accuracy")):  # fmt: skip
        made_up |= {f"{name}s", f"{name}_n", f"{name}_out", f"{name}_more"}
        made_up |= {f"{name}_{field}" for field in fields.split()}
    assert there == used | made_up


def test_no_json_ends_its_script(bench: Plan) -> None:
    data = dict(data_of(bench))
    data["job"] = data["job"] | {"name": "</script><b>x</b>"}
    text = page(Blocks(data, [], None, None), FONT, FAMILY)
    (block,) = re.findall(r'<script type="application/json" id="data">(.*?)</script>', text, re.S)
    assert json.loads(block)["job"]["name"] == "</script><b>x</b>"
    assert "<title>&lt;/script&gt;" in text


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, terms and definitions)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("number", [0, 1, 2], ids=["light", "dark by itself", "dark"])
def test_text_stands_out_from_its_ground(number: int) -> None:
    # WCAG 2.2, 1.4.3 (AA): 4.5 to 1 for text; 1.4.11: 3 to 1 for the edges of what is worked
    blocks = re.findall(r"\{([^{}]*--ground:[^{}]*)\}", SOURCES["page.css"])
    colours = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", blocks[number]))
    for ground in ("ground", "card"):
        for text in ("ink", "quiet", "good", "bad", "mark"):
            assert contrast(colours[ground], colours[text]) >= 4.5, (ground, text)
        assert contrast(colours[ground], colours["line"]) >= 3, ground
    assert contrast(colours["mark"], colours["on-mark"]) >= 4.5
    assert contrast(colours["warn-ground"], colours["warn-ink"]) >= 4.5


def test_every_step_of_the_route_is_there_with_what_it_measures(plan: Plan) -> None:
    steps = data_of(plan)["steps"]
    route = plan.route
    assert [one["number"] for one in steps] == [op.number for op in route.operations]
    assert len({one["key"] for one in steps}) == len(steps)
    for one, op in zip(steps, route.operations, strict=True):
        assert one["text"] == op.text and op.holding in one["held"]
        held = [row for row in op.measures if row.low_mm is not None]
        assert [row["what"] for row in one["sizes"]] == [row.what for row in held]
        assert one["caution"] == op.caution
    keys = [row["key"] for one in steps for row in one["sizes"] if row["sha"]]
    assert len(keys) > 30


def test_a_size_of_a_feature_has_its_limits_and_the_records_name(bench: Plan) -> None:
    rows = [row for one in data_of(bench)["steps"] for row in one["sizes"]]
    (bore,) = (row for row in rows if row["key"] == "housing|pivot bore")
    # 20 H7: ISO 286-2:2010; what the seat to its wall must measure is no size that the record keeps
    assert (bore["low_mm"], bore["high_mm"]) == (20.0, 20.021) and len(bore["sha"]) == 16
    others = [row for row in rows if row["feature"] == "pivot bore" and row is not bore]
    assert others and not any(row["sha"] for row in others)


def test_findings_stand_under_the_same_heads_as_in_the_book(plan: Plan) -> None:
    heads: dict[str, list[str]] = {}
    for block in book_findings(Pages(plan)).blocks:
        if isinstance(block, Heading):
            own = heads.setdefault(block.words, [])
        elif isinstance(block, Step):
            own.append(block.words)
        elif isinstance(block, Points):
            own += block.words
    found = data_of(plan)["findings"]
    ui = strings()["ui"]
    assert list(heads) == [ui["to_decide"], ui["good_to_know"]]
    assert [one["text"] for one in found["decide"]] == heads[ui["to_decide"]]
    many = found["unlisted"]
    more = [ui["unlisted_one"] if many == 1 else ui["unlisted"].replace("{n}", str(many))]
    assert found["know"] + (more if many else []) == heads[ui["good_to_know"]]
    assert heads[ui["good_to_know"]] and {*found} == {"decide", "know", "unlisted"}


def test_steps_are_called_as_the_book_calls_their_set_ups(plan: Plan) -> None:
    of = Pages(plan)
    (rows,) = (one for one in order(of).blocks if isinstance(one, Rows))
    named = {int(row[0]): row[1] for row in rows.rows}
    data = data_of(plan)
    assert [one["title"] for one in data["steps"]] == [named[one["setup"]] for one in data["steps"]]
    assert data["steps"][-2]["title"] != data["steps"][0]["title"] and "Assembly" in named.values()
    assert data["parts"] == [*(chapter.title for chapter in every(of)), "Assembly"]
    # what is measured is still of the part whose size it is
    parts = {part.name: part.title for part in plan.attachment.parts}
    assert all(row["title"] == parts[row["part"]] for one in data["steps"] for row in one["sizes"])


def test_every_step_names_a_sheet_of_its_own_part(plan: Plan) -> None:
    data = data_of(plan)
    for one in data["steps"]:
        title = data["sheets"][one["sheet"]]
        if one["title"] == "Assembly":
            assert title == "Exploded view"  # as the book's chapter of it names sheet 3
        else:
            part, _, piece = title.partition(": ")
            assert part == one["title"] and piece in ("", one["piece"]), (one["number"], title)
    # a piece that is welded on has a sheet of its own
    assert any(": " in data["sheets"][one["sheet"]] for one in data["steps"])


def test_sizes_have_the_words_of_the_shop_and_no_name_of_a_job_file(plan: Plan) -> None:
    (table,) = (t for o in data_of(plan)["topics"] for t in o["tables"] if t["name"] == "sizes")
    names = [step.name for step in plan.sizing.steps]
    words = strings()["sizes"]
    assert [row[0] for row in table["rows"]] == [words[name] for name in names]
    assert not any("_" in word for word in words.values())
    assert len(set(words.values())) == len(words) and set(words) == set(names)
    for key, said in GOVERNING:  # as the book's cover has them
        assert words[key.removesuffix("_mm")] == said


def test_a_caution_of_a_ball_is_parted_from_how_it_is_done(plan: Plan) -> None:
    found = 0
    own = [one for one in data_of(plan)["balls"] if not one["intro"]]
    for ball, (_, tables) in zip(own, ball_sheets(plan.turned, plan.job), strict=True):
        for one, table in zip(ball["tables"], tables, strict=True):
            if "caution" not in {column.key for column in table.columns}:
                continue
            records = table.records()
            assert one["cautions"] == [record["caution"] for record in records]
            how = one["heads"].index("how")
            assert [row[how] for row in one["rows"]] == [record["how"] for record in records]
            found += sum(map(bool, one["cautions"]))
    assert found > 5


def test_the_first_ball_has_its_sheets_on_the_page_as_in_the_book(bench: Plan) -> None:
    """As it was: a step to turn the knob, and its dial readings on paper alone."""
    *_, knob = data_of(bench)["balls"]
    (chapter,) = (one for one in bench.book.chapters if one.title == "Ball: knob, the first")
    assert any(isinstance(one, Words) and one.words == knob["intro"] for one in chapter.blocks)
    steps = [one for one in chapter.blocks if isinstance(one, Step)]
    setup = next(one for one in knob["tables"] if "cautions" in one)
    assert [row[0] for row in setup["rows"]] == [step.number for step in steps]
    assert not {"blank", "face", "part off"} & {row[1] for row in setup["rows"]}
    passes = next(one for one in knob["tables"] if one["name"] == "passes")
    shown = next(one for one in chapter.blocks if isinstance(one, Rows) and "passes" in one.title)
    k = shown.heads.index("dial at")
    at = [row[passes["heads"].index("dial at")] for row in passes["rows"]]
    assert at == [row[k] for row in shown.rows] and at[-1] == "0"
    # and is measured across as its table says: its ball, the seat that it stands on
    part = next(one for one in bench.attachment.parts if one.name == "knob")
    (ball,) = (one for one in part.features if isinstance(one, TurnedBall))
    assert knob["across"] and knob["wanted_mm"] == ball.diameter.nominal_mm
    height = ball.end_mm - ball.diameter.nominal_mm / 2
    seat = 2 * (ball.diameter.nominal_mm**2 / 4 - height**2) ** 0.5
    assert knob["stem_mm"] == pytest.approx(seat, abs=0.05)
    rows = next(one for one in chapter.blocks if isinstance(one, Rows) and "across" in one.title)
    assert [f"{one:g}" for one in knob["angles_deg"] for _ in "AB"] == [row[0] for row in rows.rows]
    assert rows.notes[-1].endswith(f'There: ball = "{knob["name"]}".')


def test_a_hollow_is_called_one_and_is_not_measured_across(tmp_path: Path) -> None:
    """As it was: a hollow that the head does not reach stood among the balls, with a form for diameters
    across it; a micrometer goes across no hollow (common practice)."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    hollow = """
[[ball]]
name = "{}"
shape = "socket"
diameter = {}
depth = 4
blank_diameter = 50
"""
    job = tmp_path / "hollows.toml"
    job.write_text(text + hollow.format("dish", 150) + hollow.format("cup", 40), encoding="utf-8")
    plan = unwalked(job)
    reached = [one.ball.name for one in plan.turned.sockets if one.passes]
    assert reached == ["dish"]
    found = {one["name"]: one for one in data_of(plan)["balls"]}
    assert "cup" not in found and not found["dish"]["across"]
    assert found["dish"]["title"] == "dish, a hollow, 150 mm" and found["dish"]["tables"]
    # no line to write on with a pencil: it is typed, and judged where there is a tolerance
    assert "________" not in json.dumps(found)
    assert found["dish"]["cap"]["what"] == "75 mm" and not found["dish"]["cap"]["judged"]


def test_a_ball_that_is_called_one_is_not_called_so_twice(tmp_path: Path) -> None:
    """As it was: "On the lathe: hitch ball ball"."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job = tmp_path / "hitch.toml"
    job.write_text(text + '\n[[ball]]\nname = "hitch ball"\ndiameter = 40\n', encoding="utf-8")
    assert [title for title, *_ in stands(Plan(job))] == ["hitch ball, 40 mm"]


def test_the_package_data_are_named(bench: Plan) -> None:
    assert (ROOT / "planner" / "page" / "page.html").exists()
    assert {one["name"] for one in data_of(bench)["topics"]} >= {"sizes", "check", "cutlist"}


def test_a_long_step_has_a_short_heading_as_in_the_book(bench: Plan) -> None:
    """As it was: the hinge slit's step was a heading of four hundred letters, its caution and its
    sketch a screen below; the pivot's end play was asked for by all its step's words, as a run-out."""
    said: dict[str, set[str]] = {}
    for one in (one for chapter in bench.book.chapters for one in chapter.blocks):
        if isinstance(one, Step):
            said.setdefault(one.number, set()).add(one.words)
    found, parted = data_of(bench)["steps"], 0
    for step in found:
        head, rest = step["text"][: step["head"]], step["text"][step["head"] + 2 :]
        assert "dial-engraving table" in head or head in said[str(step["number"])]
        parted += bool(rest)
        assert not rest or step["text"][step["head"] :][:2] in (": ", "; ", ". ")
    assert parted > 20 and max(one["head"] for one in found) < 130
    rows = [row for one in found for row in one["sizes"]]
    assert max(len(row["feature"]) for row in rows) < 100
    (play,) = (row for row in rows if row["feature"].startswith("end play of the pivot"))
    assert play["kind"] == "" and all(row["kind"] for row in rows if row["sha"])


def test_what_was_measured_is_headed_by_one_article(bench: Plan) -> None:
    """As it was: "What was measured on the The attachment's own knob"."""
    for ball in data_of(bench)["balls"]:
        said = strings()["ui"]["measured_ball"].replace("{title}", ball["called"])
        assert " on the " in said and "the the" not in said.lower() and "The" not in said, said
        assert ball["called"].lower().removeprefix("the ") == ball["title"].lower().removeprefix(
            "the "
        )
