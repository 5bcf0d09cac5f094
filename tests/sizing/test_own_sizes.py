"""A size of one's own that will not do: whole sentences, and its range just inside and just outside."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from planner.job.tables import Job
from planner.sizing.bound import LargestBall, with_bound
from planner.sizing.own import own_sizes
from planner.words.findings import BadInput, finding

JobWith = Callable[..., Job]


def told(job_with: JobWith, sizes: dict[str, Any], **changes: Any) -> list[tuple[str, str, str]]:
    """Code, key and whole sentence of each problem of these sizes; none where they will do."""
    job = job_with(**{"attachment.sizes": sizes} | changes)
    try:
        own_sizes(job, "job.toml")
    except BadInput as problem:
        return [(one.code, one.key, one.text) for one in problem.findings]
    return []


@pytest.mark.parametrize(
    "name, value, code, says",
    [
        ("rod_diamter", 14, "unknown-size", "no size of that name. Did you mean rod_diameter?"),
        ("zzz", 14, "unknown-size", "no size of that name. See the names in: pommel sizes"),
        (
            "rod_diameter",
            "14 kg",
            "wrong-unit",
            "'14 kg': 'kg' is not a unit of length. Write mm, cm, m, in or ft, as in \"12 mm\"",
        ),
        (
            "rod_diameter",
            0.049,
            "out-of-range",
            "0.049: a size between 0.05 mm and 1000 mm. Correct it",
        ),
        (
            "rod_diameter",
            1000.1,
            "out-of-range",
            "1000.1: a size between 0.05 mm and 1000 mm. Correct it",
        ),
        (
            "arm_stock",
            "round 20",
            "wrong-value",
            "'round 20': arm_stock is made of flat or square. Name a flat",
        ),
        (
            "feed_thread",
            8,
            "wrong-value",
            '8: a thread is named in quotes. Write its name, as in "M6"',
        ),
        (
            "feed_thread",
            "M7",
            "unknown-name",
            "'M7': no thread of that name in the tables. Nearest: M8; see them all with:"
            " pommel list threads",
        ),
        (
            "feed_thread",
            "Q",
            "unknown-name",
            "'Q': no thread of that name in the tables. See them all with: pommel list threads",
        ),
        (
            "pivot_thread",
            "M14",
            "unknown-name",
            "'M14': no thin nut is sold in that thread."
            ' See those with: pommel list fasteners --like "thin nut"',
        ),
    ],
)
def test_a_size_that_will_not_do_is_told_whole(
    job_with: JobWith, name: str, value: Any, code: str, says: str
) -> None:
    assert told(job_with, {name: value}) == [(code, f"attachment.sizes.{name}", says)]


def test_a_size_that_follows_names_what_to_set_instead(job_with: JobWith) -> None:
    from planner.sizing.draft import public_name
    from planner.sizing.rules import RULES

    following = {public_name(rule.name): rule.follows for rule in RULES if rule.follows}
    assert following
    for name, others in following.items():
        assert told(job_with, {name: 10}) == [
            (
                "unknown-size",
                f"attachment.sizes.{name}",
                f"follows from other sizes and cannot be set. Set {' or '.join(others)}",
            )
        ]


def test_a_size_just_within_the_range_is_read(job_with: JobWith) -> None:
    # a twentieth of a millimetre to a metre: nothing on an attachment for a small lathe is finer or
    # longer (common practice)
    assert told(job_with, {"rod_diameter": 0.05, "leaf_thickness": 1000}) == []
    assert told(job_with, {"arm_stock": "flat 1000x0.05"}) == []
    for section in ("flat 1000.1x10", "flat 40x0.049"):
        ((code, _, text),) = told(job_with, {"arm_stock": section})
        assert code == "out-of-range" and "a size between 0.05 mm and 1000 mm" in text


def test_a_refusal_names_the_ball_or_the_numbers_that_would_work(job_with: JobWith) -> None:
    job = job_with()  # its largest ball is 50 mm
    stop = finding("thin-wall", "job.toml", "x", "3 mm", "too thin", "Mend it", severity="refused")
    none = "Mend it: no ball works with the rest as it is"
    assert with_bound(stop, job, None, []).remedy == none
    ways = ["a at least 3 mm", "b at most 4"]
    assert with_bound(stop, job, None, ways).remedy == (
        "Mend it: no ball works; one would with a at least 3 mm, or b at most 4"
    )
    best = LargestBall(42.0, "wall: 2 mm")
    assert with_bound(stop, job, best, []).remedy == (
        "On this lathe a ball of at most 42 mm. Or: Mend it"
    )
    for diameter, named in ((49.9, True), (49.96, False), (50.0, False)):
        remedy = with_bound(stop, job, LargestBall(diameter, "x"), []).remedy
        assert remedy.startswith("On this lathe") is named
    told = with_bound(stop, job, best, [])
    assert (told.code, told.file, told.key, told.value, told.limit, told.severity) == (
        "thin-wall",
        "job.toml",
        "x",
        "3 mm",
        "too thin",
        "refused",
    )


def test_a_ball_far_too_large_is_told_before_what_it_asks_of_the_rest(job_with: JobWith) -> None:
    stop = finding("nothing-fits", "job.toml", "attachment.sizes.rod_diameter", "", "no reamer",
                   "List one", severity="refused")  # fmt: skip
    told = with_bound(stop, job_with(), LargestBall(33.0, "x"), [])  # its largest ball is 50 mm
    assert (told.code, told.key, told.value, told.limit) == (
        "nothing-fits", "attachment.max_ball_diameter", "ball 50 mm", "rod_diameter: no reamer"
    )  # fmt: skip
    assert told.remedy == "On this lathe a ball of at most 33 mm. Or: List one"
    near = with_bound(stop, job_with(), LargestBall(34.0, "x"), [])
    assert near.key == "attachment.sizes.rod_diameter"
