"""The page with its letters twice as large, and at the reader's own size of letters.

WCAG 2.2, success criterion 1.4.4: text is resized up to 200 per cent without loss of content or
function; what is tapped stays 44 px or more (2.5.5).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from page_browser import DESK, SCREENS, SMALL, Visit

TWICE = "document.documentElement.style.fontSize = '225%'"
"""Twice the page's own 112.5 %."""

CUT = """() => [...document.querySelectorAll("button, nav a, label.box, summary")]
  .filter((one) => one.offsetParent && one.scrollWidth > one.clientWidth + 1)
  .map((one) => one.textContent)"""
OVER = """() => {
  const boxes = [...document.querySelectorAll(".actions > *, nav a")]
    .filter((one) => one.offsetParent)
    .map((one) => [one.textContent, one.parentElement, one.getBoundingClientRect()]);
  const found = [];
  for (const [name, row, a] of boxes) for (const [other, own, b] of boxes)
    if (name < other && row === own && a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom
      && b.top < a.bottom) found.push([name, other]);
  return found;
}"""


@pytest.mark.parametrize("size", [SMALL, DESK], ids=["phone", "desk"])
def test_letters_twice_as_large_are_neither_cut_nor_overprinted(
    browser: Any, file: Path, size: dict[str, int]
) -> None:
    visit = Visit(browser, file, size)
    visit.page.evaluate(TWICE)
    for screen in SCREENS:
        visit.show(screen)
        wide = visit.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, f"{screen} goes {wide} px past the screen"
        assert visit.page.evaluate(CUT) == [] and visit.page.evaluate(OVER) == [], screen
    visit.show("steps")
    box = visit.page.locator(".actions .box input").bounding_box()
    assert box["width"] >= 36 and box["height"] >= 36
    if size is SMALL:  # the box has a row of its own over Back and Next
        row = [one.bounding_box() for one in visit.page.locator(".actions > *").all()]
        assert row[1]["y"] < row[0]["y"] == row[2]["y"] and row[1]["width"] > 1.8 * row[0]["width"]
    job = visit.page.locator("#job").bounding_box()
    assert job["height"] < 120  # not a letter a line
    named = visit.page.locator("nav a[aria-current]").bounding_box()
    assert named["x"] >= 0 and named["x"] + named["width"] <= size["width"]
    visit.done()


def test_the_readers_own_size_of_letters_counts(browser: Any, file: Path) -> None:
    """A size in px would pass over what is set in the browser."""
    visit = Visit(browser, file, SMALL)
    sheet = visit.page.evaluate(
        "[...document.styleSheets[0].cssRules].find((one) => one.selectorText === 'html')"
        ".style.fontSize"
    )
    assert sheet.endswith("%")
    assert visit.page.evaluate("getComputedStyle(document.documentElement).fontSize") == "18px"
    visit.done()


def test_a_table_has_no_column_without_a_word(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, DESK)
    for screen in ("saw", "ball", "more"):
        visit.show(screen)
        empty = visit.page.evaluate(
            """(screen) => [...document.querySelectorAll(`#screen-${screen} table`)].flatMap((one) =>
              [...one.tHead.rows[0].cells].filter((head, k) => one.tBodies[0].rows.length
                && [...one.tBodies[0].rows].every((row) => row.cells[k]
                  && [...row.cells[k].childNodes].slice(1).every((node) => !node.textContent
                    && !(node.querySelector && node.querySelector("input")) && node.tagName !== "INPUT")
                  && !row.cells[k].querySelector("input")))
                .map((head) => head.textContent))""",
            screen,
        )
        assert empty == [], screen
    visit.done()


def test_a_set_up_says_to_set_but_once(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    words = visit.page.evaluate("document.querySelector('#screen-steps').textContent")
    assert "Set: true to" in words and "true: true" not in words
    visit.done()
