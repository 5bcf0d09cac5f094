"""A ball with a figure or a point too many: told alone, with the least ball, which is tried.

That a ball of 5 mm is a slip for 50 on a lathe of 100 mm is common practice: a form tool turns such.
"""

from __future__ import annotations

import re

import pytest
from jobs import ROOT, changed

from planner.job.reading import job_from, read_job
from planner.sizing.apply import size_up
from planner.words.findings import BadInput, Finding


def refused(ball: float | str, **more: float) -> list[Finding]:
    with pytest.raises(BadInput) as caught:
        size_up(job_from(changed(**{"attachment.max_ball_diameter": ball} | more), "job.toml"), "j")
    return list(caught.value.findings)


def test_a_ball_far_too_small_is_the_one_cause() -> None:
    (one,) = refused(5)
    assert (one.key, one.value) == ("attachment.max_ball_diameter", "ball 5 mm")
    said = re.fullmatch(r"On this lathe a ball of at least (.* mm)", one.remedy)
    assert said and one.limit.startswith("arm_overhang: ")
    size_up(job_from(changed(**{"attachment.max_ball_diameter": said[1]}), "job.toml"), "j")


def test_a_ball_a_little_too_small_or_sizes_of_ones_own_are_told_as_before() -> None:
    assert all(one.key.startswith("attachment.sizes.") for one in refused(12))
    own = refused(5, **{"attachment.sizes.rod_diameter": 8})
    assert all(one.key != "attachment.max_ball_diameter" for one in own)


def test_in_inches_the_least_ball_is_a_fraction() -> None:
    job = read_job(ROOT / "examples" / "inch-lathe.toml")
    small = {"max_ball_diameter": 5.08, "min_ball_diameter": None, "max_blank_diameter": None}
    wanted = job.attachment.model_copy(update=small)
    with pytest.raises(BadInput) as caught:
        size_up(job.model_copy(update={"attachment": wanted}), "j")
    (one,) = caught.value.findings
    assert re.fullmatch(r"On this lathe a ball of at least \d+/\d+ in", one.remedy)
