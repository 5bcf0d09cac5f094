"""Put together, each fit is tried to the limits that the sheets say, and what to do is said beside."""

from __future__ import annotations

import pytest
from making.shops import of

from planner.making.outfit import outfit


@pytest.mark.parametrize(
    ("example", "limit", "note"),
    [
        ("bench-lathe", "at most 0.05 mm", "0.05 mm"),
        ("inch-lathe", "at most 0.002 in", "0.002 in"),
    ],
)
def test_the_feed_screws_end_float_is_tried(example: str, limit: str, note: str) -> None:
    """The sheet of the screw: end float with the tail nuts locked, at most so much."""
    job, whole, route = of(example)
    screw = next(part for part in whole.parts if part.name == "feed-screw")
    said = f"End float with the tail nuts locked: at most {note}."
    assert said in screw.notes
    (tried,) = (op for op in route.operations if "end float" in op.text)
    assert tried.text == (
        "end float of the feed screw, pushed and pulled against an indicator, both tail nuts locked:"
        " stiff to turn, slack the inner a little; more, draw it up; lock them and try again"
    )
    assert tried.measure == limit and tried.gauge == "dial indicator"
    assert "two thin spanners" in {one.name for one in outfit(route, job)}
    (play,) = (op for op in route.operations if "play of the feed screw" in op.text)
    assert tried.number < play.number  # what floats would be read as play


@pytest.mark.parametrize("example", ["bench-lathe", "inch-lathe"])
def test_where_a_step_of_the_assembly_says_a_figure_there_is_room_to_write(example: str) -> None:
    """A limit is written beside what was read (common practice of an inspection sheet)."""
    from jobs import ROOT, planned

    from planner.book.route import step
    from planner.output.book.pages import Pages

    of_ = Pages(planned(ROOT / "examples" / f"{example}.toml"))
    limits = {}
    for one in (one for one in of_.route if one.of_the_whole):
        for doing in one.doings:
            for line in step(doing).lines:
                if line.words.startswith("Measure ") and any(map(str.isdigit, line.words)):
                    limits[line.words] = line.kind
    assert len(limits) >= 3 and set(limits.values()) == {"reading"}, limits
    assert any("divisions of play" in words for words in limits)
