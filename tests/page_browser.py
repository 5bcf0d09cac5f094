"""The page of an example in a real browser: Chromium from the distribution, driven by playwright."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jobs import ROOT, planned
from PIL import Image

from planner.output.page_files import PAGE, SCENE, SHEET_DATA
from planner.output.topics import topic

ENGINE = ROOT / "examples" / "engine-lathe.toml"
"""The job whose page the browser is shown: one page is written for all its tests."""

PHONE, DESK = {"width": 412, "height": 915}, {"width": 1280, "height": 860}
SMALL = {"width": 390, "height": 844}
SCREENS = ("first", "steps", "view", "draw", "ball", "saw", "more")

FLAGS = (
    *("--no-sandbox", "--disable-gpu", "--use-gl=angle", "--use-angle=swiftshader"),
    *("--enable-unsafe-swiftshader", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync"),
)


def write_page(job: Path, folder: Path) -> Path:
    """The page of a job with its scene and sheets, and nothing else of its package."""
    plan = planned(job)
    for name, path in (("pictures", SCENE), ("drawings", SHEET_DATA), ("page", PAGE)):
        one = topic(name)
        next(file for file in one.files(one, plan) if file.path == path).write(folder)
    return folder / PAGE


@contextmanager
def chromium() -> Iterator[Any]:
    """The browser, headless; skips the test where it or what drives it is not installed."""
    driven = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    path = shutil.which("chromium")
    if path is None:
        pytest.skip("no Chromium here (Debian: apt-get install chromium): the page is not tried")
    with driven.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=path, headless=True, args=list(FLAGS))
        try:
            yield browser
        finally:
            browser.close()


class Visit:
    """A visit of the page in a fresh profile: every request but its own file is aborted and noted."""

    def __init__(self, browser: Any, file: Path, size: dict[str, int], **more: Any) -> None:
        script = more.pop("script", None)
        self.context = browser.new_context(
            viewport=size, has_touch=size is PHONE, accept_downloads=True, **more
        )
        if script:
            self.context.add_init_script(script)
        self.file, self.asked, self.errors = file, [], []
        self.page = self.context.new_page()
        self.context.route("**/*", self._requested)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("console", self._printed)
        self.page.goto(file.as_uri())

    def _requested(self, route: Any) -> None:
        url = route.request.url
        if url.split("#")[0] == self.file.as_uri() or url.startswith(("data:", "blob:")):
            route.continue_()
        else:
            self.asked.append(url)
            route.abort()

    def _printed(self, message: Any) -> None:
        if message.type == "error":
            self.errors.append(message.text)

    def show(self, screen: str) -> None:
        self.page.click(f'nav a[href="#{screen}"]')
        self.page.wait_for_selector(f"#screen-{screen}:not([hidden])")

    def slide(self, number: int, share: float) -> None:
        """A slider of the three-dimensional view to a share of its way."""
        self.page.locator(".slide input").nth(number).evaluate(
            "(one, share) => { one.value = +one.min + share * (one.max - one.min);"
            " one.dispatchEvent(new Event('input', { bubbles: true })); }",
            share,
        )

    def painted(self) -> np.ndarray:
        """The dots of the three-dimensional view, once it has been drawn."""
        self.page.evaluate(
            "new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go)))"
        )
        data = self.page.locator("canvas").screenshot()
        return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))

    def done(self) -> None:
        """Ends the visit; nothing was asked of anywhere, and no script failed."""
        self.context.close()
        assert self.asked == [] and self.errors == []
