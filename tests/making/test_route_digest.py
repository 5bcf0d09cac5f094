"""No route of the shops, nor of seven users' jobs in others, says else than when it was looked over.

Where jaws close, in what order, by which of several tools, has no truth outside the project, and this
holds none of it to be right: it notices that something is other. Some of them are walked too, by what
shares nothing with the planner.
"""

from __future__ import annotations

import pytest
from digests import differences, tracked
from route_digest import DIGESTS, TRACKED, lines, made_of

from planner.walking.walk import walk

WAS = tracked(TRACKED)
WALKED = (
    "a lathe alone",
    "no welder",
    "job-502",
    "job-154",
    "job-001",
    "kit 0",
    "kit 34",
    "kit 55",
)


@pytest.mark.parametrize("name", DIGESTS)
def test_a_route_says_what_it_said(name: str) -> None:
    found = differences(WAS[name], list(lines(*made_of(name))))
    assert found == [], "look at it; if it was meant: python tests/route_digest.py"


@pytest.mark.parametrize("name", WALKED)
def test_each_is_walked_without_a_word_against_it(name: str) -> None:
    job, whole, route = made_of(name)
    setups, operations = route.setup_records(), route.operation_records()
    assert [
        str(one) for one in walk(whole.parts, job, setups, operations, placed=whole.placed)
    ] == []


def test_a_change_of_any_kind_is_noticed() -> None:
    was, now = WAS["no mill"], list(lines(*made_of("no mill")))
    assert len(was) > 90 and differences(was, now) == []
    assert differences(was, now[1:]) == [f"- {was[0]}"]
    assert differences(was, [now[1], now[0], *now[2:]]) == ["the same in another order"]
    other = [[*now[0][:-1], now[0][-1].replace("1", "2", 1)], *now[1:]]
    gone, new = differences(was, other)
    assert gone == f"- {was[0]}" and new.startswith("+ 1 ") and "cut=" in new
