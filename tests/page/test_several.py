"""The page of a class set and of balls turned alike: each has ticks, sizes and readings of its own."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from commands import call
from page_browser import ENGINE, PHONE, Visit, write_page


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The engine lathe's job for two attachments, four of its knob."""
    text = ENGINE.read_text(encoding="utf-8")
    text = text.replace("[attachment]", "[attachment]\nquantity = 2")
    text = text.replace('name = "knob"', 'name = "knob"\nquantity = 4')
    path = tmp_path_factory.mktemp("several") / "engine-lathe.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def visit(browser: Any, job: Path) -> Iterator[Visit]:
    if not (page := job.with_name("page.html")).exists():
        write_page(job, job.parent)
    found = Visit(browser, page, PHONE)
    yield found
    found.done()


@pytest.mark.build
def test_each_of_a_class_set_has_its_box_and_its_size(visit: Visit, job: Path) -> None:
    """It was one box and one size for all: whoever measured the second wrote over the first."""
    page = visit.page
    visit.show("steps")
    page.evaluate(
        "() => { pommel.store.kept.at = pommel.data.steps.find("
        "(one) => one.sizes.some((row) => row.key === 'housing|pivot bore')).key;"
        " pommel.store.save(); }"
    )
    page.reload()
    fields, boxes = (
        page.locator(".card .size >> nth=0 >> .typed input"),
        page.locator(".card .each input"),
    )
    assert fields.count() == boxes.count() == 2
    fields.nth(0).fill("30.005")
    fields.nth(1).fill("30.018")
    boxes.nth(1).click()
    assert page.inner_text(".count span").startswith("0 of ")  # not all are through
    page.reload()
    assert [fields.nth(n).input_value() for n in (0, 1)] == ["30.005", "30.018"]
    assert [boxes.nth(n).is_checked() for n in (0, 1)] == [False, True]
    visit.show("more")
    with page.expect_download() as saved:
        page.click("text=Save for the record")
    path = job.with_name("measured.toml")
    saved.value.save_as(path)
    said = tomllib.loads(path.read_text(encoding="utf-8"))
    bores = [(one.get("number", 1), one["value"]) for one in said["size"]]
    assert bores == [(1, "30.005 mm"), (2, "30.018 mm")]
    assert {one["number"] for one in said["done"]} == {2}
    told = call("record", str(job), "--merge", str(path), "--json")
    record = json.loads(told.stdout)
    assert told.exit_code == 0, record["findings"]
    assert [one["number"] for one in record["tables"]["sizes"]] == [1, 2]
    visit.show("steps")
    page.locator(".actions .box input").click()  # one tap where all are through at once
    page.click(".actions button >> nth=0")
    assert all(boxes.nth(n).is_checked() for n in (0, 1))


@pytest.mark.build
def test_each_ball_turned_alike_has_its_ticks_and_its_readings(visit: Visit, job: Path) -> None:
    page = visit.page
    visit.show("ball")
    one = page.locator("#screen-ball select").nth(1)
    assert one.locator("option").count() == 4
    first = page.locator("#screen-ball .passes .box input").first
    accuracy = page.get_by_label("Accuracy").first
    one.select_option("3")
    first.click()
    accuracy.fill("0.005")
    rows = page.locator(".rows").first.locator("fieldset")
    for row in rows.all():
        row.locator("input").nth(1).fill("60.02")
    one.select_option("2")
    assert not first.is_checked() and accuracy.input_value() == ""
    page.reload()
    one.select_option("3")
    assert first.is_checked() and accuracy.input_value() == "0.005"
    assert "no. 3" in page.inner_text("#screen-ball .measuring >> xpath=preceding-sibling::h3[1]")
    with page.expect_download() as saved:
        page.click("text=Save as a file")
    assert saved.value.suggested_filename == "knob-3-readings.toml"
    path = job.with_name("readings.toml")
    saved.value.save_as(path)
    assert tomllib.loads(path.read_text(encoding="utf-8"))["piece"] == "3"
    call("correct", str(job), str(path))
    (line,) = (job.parent / "engine-lathe-record" / "balls.jsonl").read_text().splitlines()
    assert json.loads(line)["piece"] == "3"
