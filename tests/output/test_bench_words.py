"""What an inch machinist would stop at in the words of a job: what is said, and how.

Inch pitches: 1 in over the threads per inch (ASME B1.1).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from jobs import ROOT, planned

from parts.features import SawnNotch
from parts.frame import Box
from parts.standard.series import INCH as INCH_SERIES
from planner.book.model import Rows
from planner.making.callouts import callout
from planner.output.book import book
from planner.output.topics import TOPICS
from planner.words.numbers import INCH, METRIC
from planner.words.tables import as_text

EXAMPLE = ROOT / "examples" / "inch-lathe.toml"
OTHERS = [
    ROOT / "tests" / "data" / "inch-jobs" / f"{name}.toml"
    for name in ("tool-room", "milling-slide")
]


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


def test_what_is_laid_and_bored_by_a_rule_is_a_fraction() -> None:
    """A piece is laid for its weld, and a bush is bored, by a rule (common practice): the foot's place
    was 1.405, the bush 0.160 deep."""
    told = said(EXAMPLE, "route") + " ".join(said(one, "route") for one in OTHERS)
    laid = re.findall(r" end of the \w+ ([\d./-]+) [+-][xyz] from", told)
    deep = re.findall(
        r"the chuck it is used in, ([\d./-]+) in deep|bored on to ([\d./-]+) in", told
    )
    assert len(laid) > 5 and len(deep) > 2
    numbers = [*laid, *(one or other for one, other in deep)]
    assert [one for one in numbers if not re.fullmatch(r"\d+(?:-\d+/\d+)?|\d+/\d+", one)] == []


def test_a_division_of_a_metric_slide_is_told_by_both() -> None:
    """0.02 mm is 0.000787 in: as 0.0008 a hundred of them would be 1.3 thousandths too far."""
    assert INCH.slide_division(0.02) == "0.02 mm = 0.00079 in"
    assert INCH.slide_division(0.0254) == "0.001 in"
    assert INCH.slide_division(0.0127) == "0.0005 in"
    assert METRIC.slide_division(0.0254) == "0.0254 mm"


def test_a_whole_inch_to_a_line_is_said_as_a_rule_has_it() -> None:
    """It was "notch 1.000 x 1-11/16: to the line": a rule has no thousandths; a dial has, and the size
    with limits keeps them."""
    notch = SawnNotch(name="n", datum="A", box=Box((0.0, 0.0, 0.0), (25.4, 27 * 25.4 / 16, 12.7)))
    assert callout(notch, INCH) == "notch 1 x 1-11/16"
    assert callout(notch, METRIC) == "notch 25.4 x 42.86"
    assert INCH.lined(INCH_SERIES.general(50.8)) == "2"
    assert INCH.worked_limits(INCH_SERIES.general(25.4)) == "1.000"
    assert INCH.lined(INCH_SERIES.within(25.4, 0.1, -0.1)) == "1.000 ±0.004"


def test_a_size_that_the_job_gives_is_said_to_be_the_jobs(tmp_path: Path) -> None:
    """A clearance that was given was said to be a rule's, and a post's depth that was not the job's."""
    text = EXAMPLE.read_text(encoding="utf-8").replace('depth = "2-1/4"\n', "")
    given = tmp_path / "given.toml"
    given.write_text(text.replace("[attachment]", '[attachment]\nclearance = "3/32"'), "utf-8")
    found = {
        path.stem: {one.name: one.origin for one in planned(path).sizing.steps}
        for path in (given, EXAMPLE)
    }
    names = ("clearance", "post_depth", "max_ball_diameter", "min_ball_diameter")
    assert [found["given"][one] for one in names] == ["job", "rule", "job", "rule"]
    assert [found["inch-lathe"][one] for one in names] == ["rule", "job", "job", "rule"]
