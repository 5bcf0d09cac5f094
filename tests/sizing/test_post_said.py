"""What is told of the tool post and the slides, whole sentences by hand; a bound just met is kept.

Figures of the post's plan are set one by one; those of the bench lathe are met: its shank's inner side
lies 14.9 from the pivot axis, its pivot is 20, its spindle 20 over the seat.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import hypot
from types import SimpleNamespace
from typing import Any

import pytest
from msgspec.structs import replace

from parts.attachment import attachment
from planner.geometry.envelope import swinging_edges
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.sizing.post import PostPlan, post_plan
from planner.sizing.requirements import check_sizes
from planner.sizing.requirements import post as rules
from planner.sizing.requirements.check import tail_reach_mm
from planner.sizing.requirements.model import no_less, no_more
from planner.words.findings import Finding

ROUNDING_MM = 5e-7


@pytest.fixture
def found(bench: Plan, monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[Finding]]:
    """The findings where the post's plan has these figures, the job's lathe those travels."""
    s = bench.sizing.sizes
    edges = swinging_edges(attachment(s))
    plan = post_plan(s, bench.job)

    def told(sizes: dict[str, Any] | None = None, **figures: Any) -> list[Finding]:
        travels = {key: figures.pop(key) for key in list(figures) if key.startswith("post_")}
        lathe = bench.job.lathe.model_copy(update=travels)
        job: Job = bench.job.model_copy(update={"lathe": lathe})
        changed: PostPlan = replace(plan, **figures)
        monkeypatch.setattr(rules, "post_plan", lambda s, job: changed)
        return list(rules.post_findings(replace(s, **(sizes or {})), edges, job, "job.toml"))

    return told


@pytest.mark.parametrize(
    ("screws", "sentence"),
    [
        (0, "0 of the tool post's screws bear on the shank: needs 2: under one the cut turns it."),
        (1, "1 of the tool post's screws bears on the shank: needs 2: under one the cut turns it."),
    ],
)
def test_screws_that_do_not_bear(
    found: Callable[..., list[Finding]], screws: int, sentence: str
) -> None:
    assert found(screws=2) == []
    (one,) = found(screws=screws)
    assert one.text == f"{sentence} Use a post with two screws in a row, or a longer shank"


def test_a_boring_bar_that_does_not_pass(found: Callable[..., list[Finding]]) -> None:
    assert found(bar_mm=12.0, bar_wanted_mm=12.0) == []
    assert found(bar_mm=12.0 - ROUNDING_MM, bar_wanted_mm=12.0) == []
    (one,) = found(bar_mm=9.4, bar_wanted_mm=12.0, known=True)
    # 14.9 less half a bar of 12 and 2 to clear
    assert one.text == (
        "a boring bar of at most 9.4 mm passes the tool post: the bore of 20 mm wants one of 12 mm."
        " Use a post that stands out at most 6.9 mm, a larger tube or a cheek"
    )
    assert (one.severity, one.key) == ("refused", "tool_post.stands_out")
    (one,) = found(bar_mm=-3.0, bar_wanted_mm=40.0, known=False)
    assert one.text == (
        "a boring bar of at most 0 mm passes the tool post: the bore of 20 mm wants one of 40 mm."
        " Use a post that stands out at most 0 mm, a larger tube or a cheek"
    )
    assert one.severity == "warning"


def test_a_cross_slide_that_does_not_go_out(found: Callable[..., list[Finding]]) -> None:
    assert found(turning_mm=150.0, post_farthest=150.0) == []
    assert found(turning_mm=150.0 + ROUNDING_MM, post_farthest=150.0) == []
    assert found(turning_mm=150.0, post_farthest=None) == []
    (one,) = found(turning_mm=157.5, post_farthest=150.0, beside_nut=True)
    assert one.text == (
        "turning, the post's middle stands 157.5 mm out: the cross slide goes to 150 mm (7.5 mm too"
        " little). Swing the top slide along it, a shallower post or a thinner blank"
    )
    (one,) = found(turning_mm=157.5, post_farthest=150.0, beside_nut=False)
    assert one.remedy == (
        'Swing the top slide along it, holding = "beside the nut", a shallower post or a thinner'
        " blank"
    )


def test_a_cross_slide_that_does_not_go_in(found: Callable[..., list[Finding]]) -> None:
    assert found(boring_mm=40.0, post_nearest=40.0) == []
    assert found(boring_mm=40.0 - ROUNDING_MM, post_nearest=40.0) == []
    assert found(boring_mm=40.0, post_nearest=None) == []
    (one,) = found(boring_mm=38.5, post_nearest=40.0)
    assert one.text == (
        "boring the housing, the post's middle stands 38.5 mm from the spindle axis: the cross slide"
        " goes in to 40 mm: 1.5 mm too far. Hold it on the other side of the post, or use a cheek"
    )
    assert one.key == "lathe.post_nearest"


def test_a_knob_that_comes_down_to_the_seat(found: Callable[..., list[Finding]]) -> None:
    # 20 less half a knob, 1 to clear: 38
    assert found({"knob_diameter_mm": 38.0}) == []
    assert found({"knob_diameter_mm": 38.0 + ROUNDING_MM}) == []
    (one,) = found({"knob_diameter_mm": 39.0})
    assert one.text == (
        "level with the spindle the knob clears the seat's height by 0.5 mm: needs 1 mm where the slide"
        " is as high and as wide. See that no slide lies under it, or use a smaller knob"
    )
    assert one.key == "attachment.sizes.knob_diameter"


def test_what_turns_beside_the_post(bench: Plan) -> None:
    # the nut reaches 12, the post stands 1.5 out of the shank's side, 14.9 off: 1.4 between; half a
    # millimetre is kept
    s, job = bench.sizing.sizes, bench.job
    edges = swinging_edges(attachment(s))

    def told(**post: Any) -> list[Finding]:
        other = job.model_copy(update={"tool_post": job.tool_post.model_copy(update=post)})
        return [
            one
            for one in rules.post_findings(s, edges, other, "job.toml")
            if one.code in ("tool-post", "post-unknown")
        ]

    assert told() == [] and told(stands_out=14.9 - 12.5) == []
    assert told(stands_out=14.9 - 12.5 + ROUNDING_MM) == []
    (one,) = told(stands_out=2.7)
    assert one.text == (
        "the pivot nut clears the tool post by 0.2 mm: needs 0.5 mm. A post whose jaws stand out at"
        ' most 2.4 mm, a larger tube or a cheek; or tool_post.holding = "behind the nut"'
    )
    (one,) = told(stands_out=None)
    assert one.text == (
        "how far the tool post stands out beside the shank is not said: held beside the pivot's nut it"
        " may be 2.4 mm. Measure it; less would hold the shank nearer the work, and much stiffer"
    )
    assert one.severity == "note"


@pytest.mark.parametrize("loss", [0.0, ROUNDING_MM, -ROUNDING_MM])
def test_a_bound_just_met_is_kept_whatever_a_float_loses(loss: float) -> None:
    for rule in (no_less, no_more):
        made = rule("thin-wall", "x", "wall", lambda s: 3.0 + loss, lambda s: 3.0, "Mend it")
        assert made.met(None)
        # a hundredth of a thousandth past it is past it
        way = -1 if rule is no_less else 1
        past = rule(
            "thin-wall", "x", "wall", lambda s, way=way: 3.0 + way * 1e-5, lambda s: 3.0, "Mend it"
        )
        assert not past.met(None)


@pytest.mark.parametrize(
    ("changes", "reach"),
    [
        # the arm's inner face comes in to 8 + 22: rod and foot reach 40 below it, each with its
        # corner, 7 and 9 aside; the dial 16 + 4 + 28 down, 20 + 16 aside: 60 it is
        ({}, (48.0, 36.0)),
        ({"rod_length_mm": 90.0}, (60.0, 7.0)),
        ({"foot_length_mm": 110.0, "flat_offset_mm": 9.0}, (80.0, 9.0)),
        ({"foot_length_mm": 30.0, "flat_offset_mm": 61.0}, (0.0, 61.0)),
        ({"index_ring_mm": 14.0}, (58.0, 36.0)),
        ({"dial_length_mm": 38.0}, (58.0, 36.0)),
        ({"block_length_mm": 52.0}, (58.0, 36.0)),
        ({"dial_diameter_mm": 52.0}, (48.0, 46.0)),
        ({"feed_offset_mm": 30.0}, (48.0, 46.0)),
        ({"tip_radius_min_mm": 6.0, "rod_length_mm": 90.0}, (62.0, 7.0)),
        ({"bit_stickout_mm": 20.0, "rod_length_mm": 90.0}, (62.0, 7.0)),
    ],
)
def test_how_far_the_tail_reaches(changes: dict[str, float], reach: tuple[float, float]) -> None:
    sizes = {
        "tip_radius_min_mm": 8.0, "bit_stickout_mm": 22.0, "rod_length_mm": 70.0,
        "rod_diameter_mm": 14.0, "foot_length_mm": 70.0, "flat_offset_mm": 9.0,
        "block_length_mm": 32.0, "index_ring_mm": 4.0, "dial_length_mm": 28.0,
        "feed_offset_mm": 20.0, "dial_diameter_mm": 32.0,
    }  # fmt: skip
    found = tail_reach_mm(SimpleNamespace(**(sizes | changes)))
    assert float(found) == pytest.approx(hypot(*reach))


def test_an_inch_slides_travel_is_told_by_the_rule_and_adds_up(
    job_with: Callable[..., Job],
) -> None:
    # measured by a rule, and so in the table of check: 6.531 beside 6.500 and 0.032 did not add up
    sizes = size_up(job_with("inch-lathe"), "job.toml").sizes

    def lengths(**travel: object) -> tuple[float, ...]:
        found = check_sizes(sizes, job_with("inch-lathe", **travel), "job.toml")
        (said,) = [one.text for one in found if one.code == "cross-travel"]
        words = said.partition("the post's middle")[2].partition(". ")[0]
        found = re.findall(r"(\d+)?-?(?:(\d+)/(\d+))? in\b", words)
        assert "." not in words, words
        return tuple(
            float(whole or 0) + (float(top) / float(under) if top else 0.0)
            for whole, top, under in found
            if whole or top
        )

    stands, goes, lacks = lengths(**{"lathe.post_farthest": "2-1/4"})
    assert goes == 2.25 and stands - goes == lacks > 0
    stands, comes, lacks = lengths(**{"lathe.post_nearest": "5-3/16"})
    assert comes == 5.1875 and comes - stands == lacks > 0
