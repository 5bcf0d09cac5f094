"""Finding one's way on a telephone of 390 by 844 dots: steps, what a screen holds, ways back."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from jobs import planned
from page_browser import DESK, ENGINE, SMALL, Visit

LONG = ("first", "steps", "ball", "saw", "more")


def top_of(visit: Visit, selector: str) -> float:
    return float(visit.page.locator(selector).first.bounding_box()["y"])


def down(visit: Visit, dots: int) -> None:
    """Scrolls so far down, and waits until the page has heard of it."""
    visit.page.evaluate(
        "dots => new Promise(go => { window.scrollTo(0, dots); requestAnimationFrame(() =>"
        " requestAnimationFrame(go)); })",
        dots,
    )


def scrolled(visit: Visit) -> float:
    return float(visit.page.evaluate("window.scrollY"))


def comes_to(visit: Visit, dots: float) -> None:
    """The page stands so far down, at the latest when what was clicked is drawn."""
    visit.page.wait_for_function("dots => Math.abs(window.scrollY - dots) <= 2", arg=dots)


def test_the_next_step_is_shown_from_its_top(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    tried = {".actions .box input": 0, ".actions > button:last-child": 0}  # done, next
    for _ in range(6):
        for button in tried:
            down(visit, 700)
            tried[button] += top_of(visit, ".card h3") < -100
            visit.page.locator(button).click()
            assert 0 <= top_of(visit, ".card") < top_of(visit, ".card h3") < 120
            assert visit.page.evaluate("document.activeElement.closest('.card h3') !== null")
    assert min(tried.values()) > 1  # the step before was so long that the top would be out of sight
    visit.done()


def test_every_run_of_steps_at_a_part_is_reached_by_the_part(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    page = visit.page
    groups = page.evaluate(
        "[...document.querySelectorAll('#screen-steps optgroup')].map(group => [group.label,"
        " [...group.children].map(one => one.textContent)])"
    )
    titles = [part.title for part in planned(ENGINE).attachment.parts]
    assert [label for label, _ in groups] == [*titles, "Assembly"]
    assert len(dict(groups)["Housing"]) > 2
    firsts = []
    for label, said in groups:
        for one in (said[0], said[-1]) if label in ("Housing", "Knob", "Assembly") else ():
            for _ in range(2):  # the same again goes there again
                page.select_option("#screen-steps select", label=one)
                _, number, *_ = (small := page.inner_text(".card .small")).split()
                assert page.input_value("#screen-steps select") == ""  # so it may be chosen again
                assert one.startswith(f"{label}, step") and f" {number}" in one
                assert small.endswith(f" {label}")
                page.click(".actions > button:last-child")
        firsts += [int(one.split(" to ")[0].split()[-1]) for one in said]
    steps = page.evaluate("pommel.data.steps.map(one => one.title)")
    begins = [n + 1 for n, one in enumerate(steps) if n == 0 or steps[n - 1] != one]
    assert sorted(firsts) == begins
    visit.done()


def test_a_long_screen_says_what_it_holds_and_leads_there_and_back(
    browser: Any, file: Path
) -> None:
    visit = Visit(browser, file, SMALL)
    for screen in LONG:
        leads(visit, screen)
    visit.done()


def leads(visit: Visit, screen: str) -> None:
    visit.show(screen)
    page, place = visit.page, f"#screen-{screen}"
    heads = page.evaluate(
        f"[...document.querySelectorAll('{place} h3')].filter(one => !one.closest('.card')"
        " && one.checkVisibility()).map(one => one.textContent)"
    )
    assert len(heads) > 2 and page.locator("#up").is_hidden()
    for number in (len(heads) - 1, 1):
        page.click(f"{place} .contents summary")
        buttons = page.locator(f"{place} .contents button")
        buttons.first.wait_for()
        page.wait_for_function(  # the list is there when it is opened, all of it a moment later
            "([of, many]) => { const all = [...document.querySelectorAll(of)];"
            " return all.length === many && all.every(one => one.checkVisibility()); }",
            arg=[f"{place} .contents button", len(heads)],
        )
        assert buttons.all_inner_texts() == heads
        heights = page.evaluate(
            "of => [...document.querySelectorAll(of)].map(one => one.getBoundingClientRect().height)",
            f"{place} .contents button",
        )
        assert min(heights) >= 44
        buttons.nth(number).click()
        assert page.evaluate("document.activeElement.textContent") == heads[number]
        assert page.evaluate("document.activeElement.closest('details')?.open !== false")
        left = page.evaluate("document.documentElement.scrollHeight - innerHeight - scrollY")
        y = page.evaluate("document.activeElement.getBoundingClientRect().top")
        assert 0 <= y < (100 if left > 2 else 700)
        if number > 1:
            down(visit, 9999)
            far = scrolled(visit) > 1.5 * SMALL["height"]
            assert page.locator("#up").is_visible() == far
            seen = page.locator("#up" if far else f'nav a[href="#{screen}"]')
            assert min(seen.bounding_box()[k] for k in ("width", "height")) >= 44
            seen.click()
        else:
            page.click(f'nav a[href="#{screen}"]')  # the lit name goes to the top too
        assert scrolled(visit) == 0
        assert page.evaluate("document.activeElement.id") == f"head-{screen}"


def test_what_is_long_is_folded_under_its_heading_and_stays_as_it_was_left(
    browser: Any, file: Path
) -> None:
    """Fresh, a screen is no more than ten of this telephone high, where they were up to 28; the
    cautions of the steps that set up a ball are in sight."""
    visit = Visit(browser, file, SMALL)
    page = visit.page
    for screen in LONG:
        visit.show(screen)
        warned = page.locator(f"#screen-{screen} .caution:not(.card *, .all *)")
        assert warned.count() == page.locator(f"#screen-{screen} > div > .caution:visible, "
            f"#screen-{screen} ol.passes .caution:visible").count()  # fmt: skip
        if screen == "ball":
            assert warned.count() > 5
        assert page.evaluate("document.documentElement.scrollHeight / innerHeight") < 10, screen
    visit.show("more")
    first = page.locator("#screen-more .fold").first
    rows = first.locator("tbody tr").count()
    assert rows > 4 and first.locator("summary .small").inner_text() == f"{rows} rows"
    assert not first.locator("table").is_visible()
    first.locator("summary").focus()
    page.keyboard.press("Enter")
    assert first.locator("table").is_visible()
    for event in ("beforeprint", "afterprint"):  # all of it on paper, and then as it was
        page.evaluate(f"dispatchEvent(new Event('{event}'))")
        shut = page.locator("#screen-more .fold:not([open])").count()
        assert (shut == 0) == (event == "beforeprint")
    page.reload()
    assert page.locator("#screen-more .fold").first.get_attribute("open") is not None
    assert page.locator("#screen-more .fold[open]").count() == 1
    visit.done()


def test_of_what_sets_up_a_ball_the_row_one_has_come_to_is_open(browser: Any, file: Path) -> None:
    """The others say what and how much, with their cautions; a box ticked leads on to the next row. At
    a desk, where there is room, all are open."""
    opened = "all => all.map((one, n) => one.open ? n + 1 : 0).filter(Boolean)"
    place = "#screen-ball .fold[open] ol.passes > li"
    visit = Visit(browser, file, SMALL)
    visit.show("ball")
    page = visit.page
    assert page.locator(f"{place} details").evaluate_all(opened) == [1]
    many = page.locator(place).count()
    assert many > 15 and page.locator(f"{place} summary").count() == many
    for number in (1, 2):
        page.locator(f"{place} .box input").nth(number - 1).check()
        assert page.locator(f"{place} details").evaluate_all(opened) == [number + 1]
    page.reload()
    assert page.locator(f"{place} details").evaluate_all(opened) == [3]
    summary = page.locator(f"{place} summary").nth(1)
    assert summary.bounding_box()["height"] >= 44
    summary.click()
    assert "mm out of the jaws" in page.locator(place).nth(1).inner_text()
    notes = page.locator("#screen-ball details:has(> summary:text-is('How these are read')) .note")
    assert notes.count() > 1 and not notes.first.is_visible()
    visit.done()
    desk = Visit(browser, file, DESK)
    desk.show("ball")
    assert len(desk.page.locator(f"{place} details").evaluate_all(opened)) == many
    desk.done()


def test_the_list_of_all_steps_is_open_at_the_step_that_is_shown(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    page = visit.page
    setups = page.evaluate("pommel.data.steps[pommel.data.steps.length - 1].setup")
    assert page.inner_text("#screen-steps .fold summary .small") == f"{setups} set-ups"
    page.click("#screen-steps .fold summary")
    for _ in range(8):
        shown = page.inner_text(".card .held b").rstrip(":")
        (now,) = page.locator(".all > details[open]").all()
        assert now.get_attribute("aria-current") == "step"
        assert now.locator("summary").inner_text().startswith(f"{shown}:")
        page.click("text=Next >> nth=0")
    visit.done()


def test_a_table_without_rows_says_so(browser: Any, file: Path) -> None:
    """As the book does: a heading over nothing reads as something lost."""
    visit = Visit(browser, file, SMALL)
    visit.show("saw")
    said = visit.page.evaluate(
        "(() => { const one = pommel.table({ title: 'x', heads: ['y'], rows: [], notes: [] });"
        " return [...one.children].map(part => part.textContent); })()"
    )
    assert said == ["x", "None."]
    visit.done()


def test_each_screen_keeps_its_place(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    places = {"saw": 2100, "more": 3300, "first": 900}
    for screen, dots in places.items():
        visit.show(screen)
        if screen == "more":
            visit.page.click(f"#screen-{screen} .fold summary")  # what is open stays open too
        down(visit, dots)
    for screen, dots in places.items():
        visit.show(screen)
        comes_to(visit, dots)
    visit.page.reload()
    assert scrolled(visit) == pytest.approx(places["first"], abs=2)
    visit.show("saw")
    assert scrolled(visit) == pytest.approx(places["saw"], abs=2)
    visit.show("draw")
    assert scrolled(visit) == 0
    visit.done()


def test_a_step_leads_to_its_drawing_and_back(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    page = visit.page
    seen = set()
    for number in (2, 60, 180):
        step = page.locator(f'[data-step="{number}"]')
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true;")
        step.locator("button.quiet").click()
        page.locator(".drawn").scroll_into_view_if_needed()
        before = scrolled(visit)
        part, piece = page.evaluate(
            "n => [pommel.data.steps[n - 1].title, pommel.data.steps[n - 1].piece]", number
        )
        page.click(".drawn")
        wanted = f"{part}: {piece}" if piece else part
        page.wait_for_function(  # a sheet takes a moment to be drawn
            "of => document.querySelector('#screen-draw .paper svg title')?.textContent === of",
            arg=wanted,
        )
        comes_to(visit, 0)
        seen.add(wanted)
        page.click(f"text=Back to step {number}")
        assert page.inner_text(".card .small").startswith(f"Step {number} of")
        comes_to(visit, before)
    assert len(seen) == 3
    visit.show("draw")
    assert page.locator("text=Back to step").count() == 0
    visit.done()


def test_the_row_of_buttons_covers_nothing_under_it(browser: Any, file: Path) -> None:
    visit = Visit(browser, file, SMALL)
    visit.show("steps")
    visit.page.locator(
        "#screen-steps .all"
    ).scroll_into_view_if_needed()  # the row in its own place
    bar = visit.page.locator(".actions").bounding_box()
    shadow = visit.page.evaluate(
        "getComputedStyle(document.querySelector('.actions')).boxShadow.match(/[\\d.]+px/g)[1]"
    )
    under = top_of(visit, "#screen-steps select")
    assert under >= bar["y"] + bar["height"] + float(shadow.removesuffix("px"))
    visit.done()
