"""What an inch machinist would stop at in the words of a job: what is said, and how.

Inch pitches: 1 in over the threads per inch (ASME B1.1).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from jobs import ROOT, planned

from parts.standard.series import INCH as INCH_SERIES
from planner.book.model import Rows
from planner.output.book import book
from planner.output.topics import TOPICS
from planner.words.numbers import INCH
from planner.words.tables import as_text

EXAMPLE = ROOT / "examples" / "inch-lathe.toml"


def said(path: Path, topic: str) -> str:
    """A topic's text of a job, in one line."""
    one = next(one for one in TOPICS if one.name == topic)
    return re.sub(r"\s+", " ", as_text(list(one.tables(planned(path), one.asked(one.packaged)))))


def test_how_long_a_stubs_thread_is_stands_there_as_a_number(tmp_path: Path) -> None:
    """It was "3/8 in long less one pitch": 3/8 less 1/20 is 0.325, on a rule 5/16."""
    job = tmp_path / "stub.toml"
    ball = '[[ball]]\nname = "knob"\ndiameter = 1\nthread = "1/4-20 UNC"\nhole_depth = "3/8"\n'
    job.write_text(EXAMPLE.read_text(encoding="utf-8") + ball, encoding="utf-8")
    told = said(job, "turn")
    assert "less one pitch" not in told
    assert "thread 5/16 in long, a pitch short of the ball's own" in told


def test_a_turn_the_other_way_has_one_name() -> None:
    """Counter-clockwise, as an inch reader has it, in the route and on the dial's sheet alike."""
    told = said(EXAMPLE, "route") + said(EXAMPLE, "dial")
    assert "counter-clockwise" in told
    assert not re.search(r"anti-?clockwise|counterclockwise", told)


def test_the_books_speeds_have_the_surface_speed_beside_the_spindles() -> None:
    """v = pi d n (any handbook): a drill of 1/4 in at 1100 rev/min runs at 72 ft/min."""
    made = book(planned(EXAMPLE), "pictures/attachment.svg")
    (speeds,) = [
        one
        for chapter in made.chapters
        for one in chapter.blocks
        if isinstance(one, Rows) and one.title == "Speeds"
    ]
    assert speeds.heads == ("machine", "tool", "rev/min", "ft/min", "steps")
    seen = 0
    for _, tool, rpm, surface, _ in speeds.rows:
        found = re.fullmatch(r"(?:drill|reamer|end mill) (?:.*, )?([\d/.]+)(?: in)?", tool)
        if found:
            top, _, under = found[1].partition("/")
            wide = float(top) / float(under or 1)
            assert abs(float(surface) - 3.14159 * wide * float(rpm) / 12) <= 0.51, (
                tool,
                rpm,
                surface,
            )
            seen += 1
    assert seen > 8
    assert sum(not row[3] for row in speeds.rows) < len(speeds.rows) / 4


@pytest.mark.parametrize(
    ("inches", "written", "read"),
    [
        (13 / 16, "0.8125 ±0.0010", "0.8115 to 0.8135 in"),
        (1 + 3 / 16, "1.1875 ±0.0010", "1.1865 to 1.1885 in"),
        (15 / 32, "0.4688 ±0.0010", "0.4678 to 0.4698 in"),
        (0.812, "0.812 ±0.001", "0.811 to 0.813 in"),
    ],
)
def test_a_height_is_drawn_as_the_spindle_has_it(inches: float, written: str, read: str) -> None:
    """As it was: 1.188 ±0.001 for a bore that is bored at the spindle's 1.1875, so that half of its
    band was gone. A dimension has as many decimals as its tolerance (ASME Y14.5, from memory)."""
    size = INCH_SERIES.within(inches * 25.4, 0.02, -0.02)
    assert (INCH.limits(size), INCH.between(size)) == (written, read)
