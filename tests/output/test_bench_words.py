"""What an inch machinist would stop at in the words of a job: what is said, and how.

Inch pitches: 1 in over the threads per inch (ASME B1.1).
"""

from __future__ import annotations

import re
from pathlib import Path

from jobs import ROOT, planned

from planner.output.topics import TOPICS
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
