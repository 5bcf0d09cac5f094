"""The tool post and the lathe's travel: every finding just inside and just outside, by hand.

The bench lathe's post is 56 mm deep, stands out 1.5 and is held beside the pivot's nut; its figures
here are sums of the size sheet's, written out.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from msgspec.structs import replace

from parts.attachment import attachment
from parts.sizes import Sizes
from planner.checking.clearance import clearances
from planner.checking.sweep_findings import clearance_findings
from planner.geometry.envelope import swinging_edges
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.sizing.post import post_near_mm, post_plan
from planner.sizing.requirements.post import post_findings
from planner.words.findings import BadInput, Finding

JobWith = Callable[..., Job]


def told(plan: Plan, job: Job, code: str, **sizes: Any) -> list[Finding]:
    """The findings of a kind on a plan's attachment, for another job or changed sizes."""
    return of(plan.sizing.sizes, job, code, **sizes)


def of(made: Sizes, job: Job, code: str, **sizes: Any) -> list[Finding]:
    edges = swinging_edges(attachment(made))
    found = post_findings(replace(made, **sizes), edges, job, "job.toml")
    return [one for one in found if one.code == code]


def refused(job: Job) -> set[str]:
    try:
        found = size_up(job, "job.toml").findings
    except BadInput as problem:
        found = tuple(problem.findings)
    return {one.code for one in found if one.severity == "refused"}


# tube 35 less a flat of 2.6: the shank's side lies 14.9 from the pivot axis. The nut of 24 and half a
# millimetre take 12.5 of it, a boring bar of 0.6 x 20 and its 2 mm 8, the pin of 13 and half one 7.
@pytest.mark.parametrize(
    ("holding", "code", "inside", "outside"),
    [
        ("beside the nut", "tool-post", 14.9 - 12.5, 14.9 - 12.4),
        ("behind the nut", "boring-bar", 14.9 - 8.0, 14.9 - 7.9),
        ("behind the nut", "tool-post", 14.9 - 7.0, 14.9 - 6.9),
    ],
)
def test_how_far_the_jaws_may_stand_out(
    job_with: JobWith, holding: str, code: str, inside: float, outside: float
) -> None:
    made = size_up(job_with(**{"tool_post.holding": holding}), "job.toml").sizes
    assert made.post_gap_mm == (1.0 if holding == "beside the nut" else 1.0 + 10.0 + 2 * 2.0)
    for out, number in ((inside, 0), (outside, 1)):
        job = job_with(**{"tool_post.stands_out": round(out, 6), "tool_post.holding": holding})
        found = of(made, job, code)
        assert len(found) == number, (out, found)
        for one in found:
            assert (one.key, one.severity) == ("tool_post.stands_out", "refused")
            assert code in refused(job)
    assert code not in refused(job_with(**{"tool_post.stands_out": 2.4}))


def test_what_is_told_beside_the_nut_names_the_way_out(bench: Plan, job_with: JobWith) -> None:
    job = job_with(**{"tool_post.stands_out": 3.1, "tool_post.holding": "beside the nut"})
    (one,) = told(bench, job, "tool-post")
    # 14.9 - 3.1 - 12 is -0.2
    assert one.text.startswith("the pivot nut clears the tool post by -0.2 mm: needs 0.5 mm")
    assert "stand out at most 2.4 mm" in one.text
    assert 'tool_post.holding = "behind the nut"' in one.text


def test_a_post_is_held_beside_the_nut_where_it_is_known_to_clear(job_with: JobWith) -> None:
    def gap(**post: Any) -> float:
        job = job_with(**{f"tool_post.{key}": value for key, value in post.items()})
        return size_up(job, "job.toml").sizes.post_gap_mm

    behind = 1.0 + 10.0 + 2 * 2.0  # the nut, two turns of M16 and a millimetre
    assert gap(stands_out=2.4) == 1.0 and gap(stands_out=2.5) == behind
    assert gap(stands_out=None) == behind  # not known to clear
    assert gap(stands_out=0, holding="behind the nut") == behind
    assert gap(stands_out=None, holding="beside the nut") == 1.0
    # one lower than the axis is passed over: 20 - 11 below and 14.9 - 3 beside are 14.9 away
    assert gap(stands_out=3, height=11) == 1.0 and gap(stands_out=3, height=18) == behind


def test_how_near_a_low_post_comes(bench: Plan, job_with: JobWith) -> None:
    s = bench.sizing.sizes

    def near(**post: Any) -> float:
        return float(post_near_mm(s, job_with(**{f"tool_post.{k}": v for k, v in post.items()})))

    assert near(stands_out=2.9, height=30) == pytest.approx(12.0)
    assert near(stands_out=2.9, height=None) == pytest.approx(12.0)
    assert near(stands_out=2.9, height=15) == pytest.approx(13.0)  # 5, 12, 13
    assert near(stands_out=20, height=15) == pytest.approx(5.0)  # right under the axis
    assert near(stands_out=20, height=30) == pytest.approx(-5.1)  # over the axis


def test_an_unknown_post_is_told_and_taken_as_flush(bench: Plan, job_with: JobWith) -> None:
    job = job_with(**{"tool_post.stands_out": None})
    (one,) = of(size_up(job, "job.toml").sizes, job, "post-unknown")
    assert (one.severity, one.key) == ("note", "tool_post.stands_out")
    # behind the nut the pin of 13 turns: 14.9 - 6.5 - 0.5 is left
    assert "held behind the pivot's nut it may be 7.9 mm" in one.text
    assert not told(bench, bench.job, "post-unknown")
    assert post_plan(bench.sizing.sizes, job).near_mm == pytest.approx(14.9)


def test_two_screws_bear_on_the_shank(bench: Plan, job_with: JobWith) -> None:
    assert not told(bench, job_with(**{"tool_post.screws": 2}), "post-screws")
    (one,) = told(bench, job_with(**{"tool_post.screws": 1}), "post-screws")
    assert one.severity == "refused" and one.text.startswith("1 of the tool post's screws bears on")
    # a shank that ends in the post: half its side past the second screw, 28 from the front, will do
    length = 50.0 - 4.0 + 1.0 + 28.0 + 8.0
    assert not told(bench, bench.job, "post-screws", shank_length_mm=length)
    assert told(bench, bench.job, "post-screws", shank_length_mm=length - 0.1)
    # spread evenly where it is not said: two of 56 mm at 18.67 and 37.33
    even = {"tool_post.first_screw": None, "tool_post.screw_spacing": None, "tool_post.screws": 2}
    length = 50.0 - 4.0 + 1.0 + 56 * 2 / 3 + 8.0
    assert not told(bench, job_with(**even), "post-screws", shank_length_mm=length + 0.01)
    assert told(bench, job_with(**even), "post-screws", shank_length_mm=length - 0.01)


def test_the_cross_slide_goes_far_enough_out_and_in(bench: Plan, job_with: JobWith) -> None:
    # out: 66.5 to the thrust face (27 of arm, 39.5 of block), 50 of housing, 1, half of 56
    # in: 14.9 to the shank, 16 of it, 11 to the post's middle
    s = bench.sizing.sizes
    assert -s.thrust_x_mm == pytest.approx(27 + 40 - 0.5)
    far, near = 66.5 + 50 + 1 + 28, 14.9 + 16 + 11
    for key, inside, outside in (
        ("post_farthest", far, far - 0.1),
        ("post_nearest", near, near + 0.1),
    ):
        assert not told(bench, job_with(**{f"lathe.{key}": inside}), "cross-travel")
        (one,) = told(bench, job_with(**{f"lathe.{key}": outside}), "cross-travel")
        assert (one.key, one.severity) == (f"lathe.{key}", "refused")
        assert not told(bench, job_with(**{f"lathe.{key}": None}), "cross-travel")


def test_the_knob_level_with_the_spindle(bench: Plan) -> None:
    # 20 over the seat, a millimetre to clear: 38
    assert not told(bench, bench.job, "knob-swing", knob_diameter_mm=38.0)
    (one,) = told(bench, bench.job, "knob-swing", knob_diameter_mm=38.1)
    assert (one.severity, one.key) == ("warning", "attachment.sizes.knob_diameter")


def reach(bench: Plan, job: Job, code: str) -> list[Finding]:
    found = clearances(bench.attachment, job)
    told = clearance_findings(found, bench.sizing.sizes, job, "job.toml")
    return [one for one in told if one.code == code]


def test_the_carriage_brings_the_post_to_the_ball(bench: Plan, job_with: JobWith) -> None:
    # the nearest ball stands so far out of the jaws, and the post's middle 14.9 + 16 + 11 behind it
    need = min(one.stick_out_mm for one in bench.clearances) + 41.9
    assert not reach(bench, job_with(**{"lathe.post_to_jaws": need}), "carriage-reach")
    (one,) = reach(bench, job_with(**{"lathe.post_to_jaws": need + 0.1}), "carriage-reach")
    assert (one.key, one.severity) == ("lathe.post_to_jaws", "refused")
    assert not reach(bench, job_with(**{"lathe.post_to_jaws": None}), "carriage-reach")


def test_the_tailstocks_centre_comes_past_what_swings(bench: Plan, job_with: JobWith) -> None:
    centre = {"turning.tailstock_centre": {"diameter": 12, "point_length": 10}}
    job = job_with(**centre)
    need = max(one.tailstock_mm for one in clearances(bench.attachment, job))
    inside, outside = ({**centre, "lathe.tailstock_reach": need + d} for d in (0.01, -0.01))
    assert not reach(bench, job_with(**inside), "tailstock-reach")
    found = reach(bench, job_with(**outside), "tailstock-reach")
    assert found and {(f.key, f.severity) for f in found} == {("lathe.tailstock_reach", "warning")}
    # without a centre nothing has to reach
    assert not reach(bench, job_with(**{"lathe.tailstock_reach": need - 0.01}), "tailstock-reach")


def test_an_attachment_without_a_stop_bar_is_whole(job_with: JobWith) -> None:
    # 12 over the seat: under the pin nothing of 6 mm stands clear of the slide
    s = size_up(job_with(**{"lathe.spindle_over_seat": 12}), "job.toml").sizes
    assert s.stop_stock is None and s.stop_mm == 0.0
    names = {part.name for part in attachment(s).parts}
    assert "stop-bar" not in names and {"pivot-nut", "drag-screw"} <= names
    assert not [item for item in attachment(s).bought if "stop" in item.use]
