"""Sizes ten times too large, or in the other unit, that are in range each and belied by the others.

The facts are common practice: a lathe swings over its bed about twice what it swings over its slide;
jaws stand out of a chuck by a quarter to a third of its diameter; a chuck of 100 mm runs at 2000 to
4000 rev/min, its rim at some 10 to 20 m/s, and cast iron is not run near 50.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from jobs import ROOT, changed

from planner.job.reading import job_from
from planner.job.tables import Job

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
AGAIN = "Look at the decimal point and the unit, or measure it again"


def told(job: Job) -> list[tuple[str, str, str]]:
    assert all(one.code == "unlikely-size" for one in job.findings)
    assert all((one.severity, one.remedy) == ("warning", AGAIN) for one in job.findings)
    return [(one.key, one.value, one.limit) for one in job.findings]


def inch(**changes: Any) -> dict[str, Any]:
    data = tomllib.loads((ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8"))
    for key, value in changes.items():
        data["lathe"][key] = value
    return data


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_usual_lathe_has_nothing_unlikely(path: Any) -> None:
    assert told(job_from(tomllib.loads(path.read_text(encoding="utf-8")), str(path))) == []


BY_62 = "more than a lathe swings whose spindle lies 62 mm over its cross slide"


@pytest.mark.parametrize(
    "key, value, said",
    [
        ("lathe.chuck_diameter", 1000, ("1000 mm", BY_62)),
        ("lathe.chuck_diameter", 260, ("260 mm", BY_62)),
        ("lathe.jaw_reach", 260, ("260 mm", "more than the chuck's diameter, 100 mm")),
        ("lathe.spindle_bore", 200, ("200 mm", "more than the chuck's diameter, 100 mm")),
        ("lathe.spindle_over_cross_slide", 620,
         ("620 mm", "more than 15 times spindle_over_seat, 20 mm")),
        ("lathe.spindle_speeds", [80, 19000], ("19000", "faster than a chuck of 100 mm may turn")),
        ("tool_post.slot_to_middle", 110, ("110 mm", "too far out for a tool post 56 mm deep")),
    ],
)  # fmt: skip
def test_a_size_ten_times_too_large_is_told(key: str, value: Any, said: tuple[str, str]) -> None:
    assert told(job_from(changed(**{key: value, "tool_post.depth": 56}), "job.toml")) == [
        (key, *said)
    ]


def test_what_is_large_and_still_a_lathe_is_not_told() -> None:
    # a chuck of 200 mm on a lathe of 62 mm over the slide, some 120 over the bed; 5000 rev/min with 100
    for key, value in (
        ("lathe.chuck_diameter", 200),
        ("lathe.jaw_reach", 100),
        ("lathe.spindle_speeds", [80, 5000]),
        ("lathe.spindle_over_cross_slide", 200),
    ):
        assert told(job_from(changed(**{key: value}), "job.toml")) == []


@pytest.mark.parametrize("section, thick", [("round 25", "25 in"), ("flat 60 x 15", "15 in")])
def test_a_bar_of_millimetres_in_an_inch_job_is_told(section: str, thick: str) -> None:
    data = inch()
    data["shop"]["rack"][1]["section"] = section
    limit = "a bar thicker than anything that the lathe swings"
    assert told(job_from(data, "job.toml")) == [("shop.rack[2].section", thick, limit)]
