"""The books of the other examples, and of the bench lathe in a process of its own."""

from __future__ import annotations

import re
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest
from bound_books import MM, Read, bound, read
from jobs import EXAMPLES, ROOT, planned

from planner.output.book.pages import Pages

OTHERS = [path for path in EXAMPLES if path.stem != "bench-lathe"]


@pytest.fixture(scope="module", params=OTHERS, ids=lambda path: path.stem)
def other(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(request.param, tmp_path_factory.mktemp("other"))


def test_every_page_of_the_others_is_numbered_and_nothing_overprinted(other: Read) -> None:
    drawn = {page for _, title, page in other.marks if title.startswith(("Sheet ", "Dial"))}
    for page, words in enumerate(other.words):
        assert f"{page + 1} / {len(other.words)}" in words and "revision" in words
        assert other.overprinted(page, page in drawn) == [], page + 1
        wide, high = other.pdf[page].get_size()
        boxes, edge = other.boxes(page), 4.0 / MM
        assert (boxes[:, :2] > edge).all(), page + 1
        assert (boxes[:, 2] < wide - edge).all() and (boxes[:, 3] < high - edge).all(), page + 1


def test_no_length_stands_unrounded_and_no_sawing_sheet_is_larger_than_the_book(
    other: Read,
) -> None:
    # a length straight out of the sums, 28.971875 say, is no size that anybody measures
    for page, words in enumerate(other.words):
        assert not re.search(r"[1-9]\d*\.\d{5,}", words), page + 1
    first = other.pdf[0].get_size()
    sheets = [page for _, title, page in other.marks if title.startswith("Sawing sheet")]
    assert sheets and all(other.pdf[page].get_size() == first for page in sheets)


def test_an_inch_shops_book_is_on_letter() -> None:
    found = planned(ROOT / "examples" / "inch-lathe.toml").book
    assert found.paper == "Letter"


def test_its_pages_are_letter_or_tabloid(tmp_path: Path) -> None:
    made = read(ROOT / "examples" / "inch-lathe.toml", tmp_path)
    sizes = {tuple(sorted(round(side / 72, 2) for side in page.get_size())) for page in made.pdf}
    assert sizes == {(8.5, 11.0), (11.0, 17.0)}  # ASME Y14.1


def test_each_ball_and_hollow_of_the_job_has_its_chapter() -> None:
    plan = planned(ROOT / "examples" / "engine-lathe.toml")
    chapters = [chapter.title for chapter in plan.book.chapters]
    balls = [f"Ball: {ball.ball.name}" for ball in plan.turned.balls]
    hollows = [f"Hollow: {one.ball.name}" for one in plan.turned.sockets if one.passes]
    at = chapters.index(balls[0])
    assert len(balls) > 1 and hollows
    assert chapters[at : at + len(balls) + len(hollows)] == balls + hollows


def test_it_is_black_and_white(tmp_path: Path) -> None:
    made = read(ROOT / "examples" / "bench-lathe.toml", tmp_path)
    for page in made.pdf:
        shown = page.render(scale=0.4).to_numpy()[..., :3].astype(int)
        assert np.ptp(shown, axis=2).max() <= 2


def test_another_process_makes_the_same_bytes(tmp_path: Path) -> None:
    bench = ROOT / "examples" / "bench-lathe.toml"
    out = tmp_path / "other.pdf"
    code = f"import sys; sys.path.insert(0, {str(ROOT / 'tests')!r}); import runpy;"
    code += f"sys.argv = ['x', {str(bench)!r}, {str(tmp_path / 'there')!r}, {str(out)!r}];"
    code += "runpy.run_module('bound_books', run_name='__main__')"
    env = {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "PATH": ""}
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, env=env)
    here = bound(planned(bench), tmp_path / "here")
    assert sha256(out.read_bytes()).digest() == sha256(here).digest()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_set_ups_heading_is_on_the_page_of_its_first_step(path: Path, tmp_path: Path) -> None:
    """Of every set-up of the route that has steps; the heading by its bookmark."""
    book, found = read(path, tmp_path), 0
    of = {f"Set-up {one.number}:": one for one in Pages(planned(path)).route if one.doings}
    for _, title, page in book.marks:
        one = of.get(title.partition(":")[0] + ":")
        if one is not None:
            first = one.doings[0]
            assert f"{first.number} {' '.join(first.words.split()[:2])}" in book.words[page], title
            found += 1
    assert found == sum(not one.of_the_whole for one in of.values()) > 80


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_page_has_a_line_or_two_alone(path: Path, tmp_path: Path) -> None:
    """A page's lowest ink over its foot stands under the upper ninth of the paper, but on a page to
    write on: less is a page turned for a line or two (common practice of setting)."""
    book = read(path, tmp_path)
    for number, page in enumerate(book.pdf):
        ink = np.asarray(page.render(scale=0.5).to_pil().convert("L")) < 200
        body = np.flatnonzero(ink[: int(0.93 * len(ink))].any(axis=1))
        assert len(body) and body.max() > len(ink) / 9, f"page {number + 1}"
