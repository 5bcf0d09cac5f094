"""What is to be read and seen on a telephone of 390 by 844 dots: passes, cautions, sheets, the view."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jobs import planned
from page_browser import DESK, ENGINE, PHONE, SMALL, Visit


def test_passes_come_first_with_what_is_read_at_the_dial_in_large(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("ball")
    page = visit.page
    rows = page.locator("#screen-ball ol.passes").first.locator("li")
    box = rows.first.bounding_box()
    assert box["y"] + box["height"] < SMALL["height"]
    body = float(page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)"))
    wanted = [one.cut.taken for one in planned(ENGINE).turned.balls[0].passes]
    assert rows.count() == len(wanted) > 3
    for row, taken in zip(rows.all(), wanted, strict=True):
        large = row.locator("dl.large > div").all_inner_texts()
        assert large == [f"dial at\n{taken.reads:g}", f"turns to go\n{taken.turns}"]
        for one in row.locator("dl.large dd").all():
            size = one.evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
            assert float(size) > 1.5 * body
        assert row.inner_text().startswith(f"{taken.number}. {taken.kind}")
        assert "springs" not in row.inner_text()
    rows.first.locator("summary").click()
    assert "springs" in rows.first.inner_text() and "held by" in rows.first.inner_text()
    # a pass is ticked once it is made, and stays so
    rows.nth(1).locator("input").check()
    page.reload()
    assert rows.nth(1).locator("input").is_checked()
    visit.done()


def test_what_the_saws_stop_is_set_to_stands_out(browser: Any, file: Path) -> None:
    """At the saw one looks for the length: large, above the rest of its card, as in the cut list."""
    visit = Visit(browser, file, SMALL)
    visit.show("saw")
    page, plan = visit.page, planned(ENGINE)
    body = float(page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)"))
    cells = page.locator("#screen-saw .table").first.locator("td.set")
    pieces = [one for group in plan.cuts.groups for one in group.pieces]
    said = [one.inner_text().removeprefix("saw to").strip() for one in cells.all()]
    assert len(said) >= 10
    numbers = plan.job.numbers.plain
    assert said == [numbers.rule(one.sawn_mm(numbers)) for one in pieces]
    for one in cells.all()[:3]:
        assert one.evaluate("one => parseFloat(getComputedStyle(one).fontSize)") > 1.1 * body
        box, card = one.bounding_box(), one.locator("xpath=..").bounding_box()
        assert box["y"] - card["y"] < 0.4 * card["height"]
    visit.done()


def test_a_caution_looks_alike_at_a_ball_and_at_a_step(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    page, looks = visit.page, set()
    for screen in ("ball", "steps"):
        visit.show(screen)
        found = page.locator(f"#screen-{screen} .caution:visible")
        assert found.count() > (5 if screen == "ball" else 0)
        for one in found.all():
            assert one.inner_text().startswith("CAUTION: ")
            looks.add(
                one.evaluate(
                    "one => { const s = getComputedStyle(one);"
                    " return s.backgroundColor + s.color + s.borderLeft; }"
                )
            )
        assert "CARE" not in page.inner_text(f"#screen-{screen}")
    assert len(looks) == 1
    visit.done()


def test_what_is_bought_is_called_in_the_view_as_in_the_parts_list(
    browser: Any, file: Path
) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("view")
    page = visit.page
    page.click("#screen-view summary")
    labels = page.locator("#screen-view .parts label").all_inner_texts()
    assert len(set(labels)) == len(labels) and labels.count("Tool post") == 1
    listed = page.evaluate(
        "pommel.data.topics.flatMap(one => one.tables).find(one => one.name === 'bought').rows"
    )
    # number, item and use of the list, each as the view has it
    wanted = Counter({f"{name}: {use}".lower(): int(many) for many, name, _, use in listed})
    found: Counter[str] = Counter()
    for label in labels:
        many, name = re.fullmatch(r"(?:(\d+) x )?(.*)", label).groups()
        if ": " in name:
            found[name.lower()] += int(many or 1)
    assert found == wanted and sum(found.values()) > len(found) > 8
    # one box hides all that is called so
    before = visit.painted()
    page.locator("#screen-view .parts label", has_text="Tool post").first.locator("input").uncheck()
    hidden = page.evaluate("[...pommel.viewer.hidden]")
    assert len(hidden) == 3 and all(one.startswith("tool post") for one in hidden)
    assert (before != visit.painted()).any()
    visit.done()


def ink(picture: np.ndarray) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is drawn on white, as shares of the frame."""
    dark = (picture[4:-4, 4:-4] < 200).any(axis=2)
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    high, wide = dark.shape
    return columns[0] / wide, rows[0] / high, columns[-1] / wide, rows[-1] / high


@pytest.mark.parametrize("size", [SMALL, PHONE, DESK], ids=["small", "phone", "desk"])
def test_the_first_view_has_all_of_the_scene_in_its_frame(
    browser: Any, file: Path, size: dict[str, int]
) -> None:
    """Chuck, slide and attachment with a free edge all round: nothing drawn reaches the frame, and the
    whole fills two thirds of it one way; so it stays wherever the head is swung."""
    visit = Visit(browser, file, size, color_scheme="light")
    visit.show("view")
    for swing in (None, 0.0, 1.0):
        if swing is not None:
            visit.slide(0, swing)
        left, top, right, bottom = ink(visit.painted())
        assert min(left, top) > 0.005 and max(right, bottom) < 0.99, swing
        assert max(right - left, bottom - top) > 0.66
    visit.done()


@pytest.mark.parametrize("stands", ["0", "-1"], ids=["on the lathe", "alone"])
def test_taken_apart_it_fills_the_frame_and_lies_in_its_middle(
    browser: Any, file: Path, stands: str
) -> None:
    visit = Visit(browser, file, SMALL, color_scheme="light")
    visit.show("view")
    visit.page.select_option("#screen-view select", stands)
    visit.slide(2, 1.0)
    for side in ("", "Rear", "End", "Above"):  # first as it was turned before
        if side:
            visit.page.click(f"#screen-view button:text-is('{side}')")
        left, top, right, bottom = ink(visit.painted())
        assert min(left, top) > 0 and max(right, bottom) < 0.995, side  # nothing is cut off
        assert max(right - left, bottom - top) > 0.8, side
        assert abs(left + right - 1) < 0.16 and abs(top + bottom - 1) < 0.16, side
    visit.done()


def test_buttons_move_the_view_and_bring_it_back(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL, color_scheme="light")
    visit.show("view")
    page = visit.page
    page.select_option("#screen-view select", "-1")
    first = visit.painted()
    whole, placed = ink(first), page.evaluate("pommel.viewer.views()")
    high, wide = first.shape[0] - 8, first.shape[1] - 8
    for name, across, along in (
        ("Move it left", -40 / wide, 0.0),
        ("Move it right", 0.0, 0.0),
        ("Move it up", 0.0, -40 / high),
        ("Move it down", 0.0, 0.0),
    ):
        button = page.get_by_label(name)
        assert min(button.bounding_box()[k] for k in ("width", "height")) >= 44
        button.click()
        now = ink(visit.painted())
        # by the edge that comes in, which is surely in sight
        assert now[2] - whole[2] == pytest.approx(across, abs=0.015), name
        assert now[3] - whole[3] == pytest.approx(along, abs=0.015), name
    page.click("#screen-view button:text-is('Larger')")
    page.get_by_label("Move it left").click()
    page.locator("canvas").focus()
    page.keyboard.press("ArrowLeft")
    assert (visit.painted() != first).any(axis=2).mean() > 0.02
    page.click("#screen-view button:text-is('Front')")
    page.get_by_label("Move it left").click()
    page.click("#screen-view button:text-is('Fit')")
    assert page.evaluate("pommel.viewer.views()") == placed
    visit.done()


MARKS = """() => {
  const frame = document.querySelector(".paper").getBoundingClientRect();
  return [...document.querySelectorAll(".paper path, .paper circle, .paper text")].filter((one) => {
    const box = one.getBoundingClientRect();
    const [x, y] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
    return x > frame.left && x < frame.right && y > frame.top && y < frame.bottom;
  }).length;
}"""


def test_what_is_enlarged_is_never_an_empty_place(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("draw")
    select = visit.page.locator("#screen-draw select").first
    for number in range(0, select.locator("option").count(), 3):
        select.select_option(str(number))
        for _ in range(5):  # 1.5 times each
            visit.page.click("#screen-draw button:text-is('Larger') >> nth=0")
            seen = visit.page.evaluate(MARKS)
            assert seen >= 4, (visit.page.locator(".paper title").first.text_content(), seen)
    visit.done()


def test_a_sheet_goes_over_the_whole_screen_and_back(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("draw")
    page = visit.page
    paper = page.locator("#screen-draw .paper").first
    assert paper.bounding_box()["height"] < SMALL["height"] / 2
    page.click("#screen-draw button:text-is('Whole screen') >> nth=0")
    assert paper.bounding_box()["height"] > 0.7 * SMALL["height"]
    assert paper.bounding_box()["width"] > 0.9 * SMALL["width"]
    # what lies beneath is out of reach; the buttons stay, large enough
    beneath = "['header', 'nav', '#screen-draw h2'].map(one => document.querySelector(one).inert)"
    assert page.evaluate(beneath) == [True] * 3
    for one in page.locator(".browser.full button").all():
        box = one.bounding_box()
        assert min(box["width"], box["height"]) >= 44
        assert box["y"] + box["height"] <= SMALL["height"]
    page.click(".browser.full button:text-is('Larger')")
    assert page.evaluate(MARKS) >= 5

    def escape() -> None:
        paper.focus()
        page.keyboard.press("Escape")

    for ends in (escape, lambda: page.click(".browser.full button:text-is('Close')"), page.go_back):
        ends()
        page.wait_for_function("!document.querySelector('.browser.full')")
        page.wait_for_timeout(100)  # until the way back is gone, too
        assert page.locator("#screen-draw").is_visible()
        assert paper.bounding_box()["height"] < SMALL["height"] / 2
        assert page.evaluate(beneath) == [False] * 3
        page.click("#screen-draw button:text-is('Whole screen') >> nth=0")
        assert page.evaluate(beneath) == [True] * 3
    visit.done()


def test_the_title_of_a_picture_is_there_in_full(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("draw")
    place = visit.page.locator(".browser").last  # the pictures: their titles are the long ones
    titles = place.locator("option").all_text_contents()
    assert max(map(len, titles)) > 35
    for number, title in enumerate(titles):
        place.locator("select").select_option(str(number))
        said = place.locator("p.small")
        assert said.inner_text() == title
        assert said.evaluate("one => one.scrollWidth <= one.clientWidth")
    visit.done()
