"""One browser and one page for all tests that use the page as one at the lathe does."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import page_browser
import pytest


@pytest.fixture(scope="package")
def browser() -> Iterator[Any]:
    with page_browser.chromium() as found:
        yield found


@pytest.fixture(scope="package")
def file(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = page_browser.write_page(page_browser.ENGINE, tmp_path_factory.mktemp("page"))
    assert found.stat().st_size < 1_500_000
    return found
