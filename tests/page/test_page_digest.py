"""The pages of the examples are made of the same data as when they were looked over."""

from __future__ import annotations

import pytest
from book_digest import DIGESTS, TRACKED, made
from digests import differences, tracked


@pytest.mark.parametrize("name", [name for name in DIGESTS if name.endswith("page")])
def test_a_page_says_what_it_said(name: str) -> None:
    was = tracked(TRACKED)[name]
    assert len(was) > 250
    found = differences(was, list(made(name)))
    assert found == [], "look at it; if it was meant: python tests/book_digest.py"
