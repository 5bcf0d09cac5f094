"""No sheet of the examples, nor of three other jobs, is drawn otherwise than when it was looked at.

Costs, gaps and tries of a layout have no truth outside the project, and this holds none of them to be
right: it notices that what is drawn has changed. Look at it, then make the file anew
(tests/drawn_digest.py).
"""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path

import pytest
from drawn_digest import DRAWN, differences, digest, rounded, tracked

SLOW = ("job-511", "job-434")
"""Jobs of other sizes: with the tests that CI does not run."""


def _of(job: str, name: str) -> bool:
    """Whether a sheet is of a job, or of none."""
    first = name.partition(" ")[0]
    return first == job or (job == "else" and first not in DRAWN)


@pytest.mark.parametrize(
    "job", [pytest.param(one, marks=pytest.mark.slow) if one in SLOW else one for one in DRAWN]
)
def test_what_is_drawn_has_not_changed(job: str, tmp_path: Path) -> None:
    now = {name: digest(sheet) for name, sheet in DRAWN[job](tmp_path).items()}
    was = {name: one for name, one in tracked().items() if _of(job, name)}
    assert was and all(_of(job, name) for name in now)
    changed = list(differences(was, now))
    assert changed == [], "look at these sheets; then: python tests/drawn_digest.py"


@pytest.mark.parametrize(
    ("key", "change"),
    [
        ("sheet", lambda of: of.__setitem__(3, "1:20")),
        ("fields", lambda of: of.pop("material")),
        ("items", lambda of: of.pop("Dimension")),
        ("strokes", lambda of: of["thin"].__setitem__(1, of["thin"][1] + 0.2)),
        ("strokes", lambda of: of["visible"].__setitem__(2, of["visible"][2] * 1.0001)),
        ("texts", lambda of: of[5].__setitem__(0, of[5][0] + 0.2)),
        ("texts", lambda of: of[5].__setitem__(2, of[5][2] + ".")),
        ("texts", lambda of: of.append(of[0])),
    ],
)
def test_a_change_of_any_kind_is_noticed(key: str, change: object) -> None:
    was = {"bench-lathe dial": tracked()["bench-lathe dial"]}
    now = deepcopy(was)
    assert list(differences(was, now)) == []
    change(now["bench-lathe dial"][key])  # type: ignore[operator]
    found = list(differences(was, now))
    assert found and all(line.startswith("bench-lathe dial: ") for line in found)


def test_a_sheet_that_comes_or_goes_is_noticed() -> None:
    was = tracked()
    less = {name: one for name, one in was.items() if name != "set-ups"}
    assert list(differences(was, less)) == ["set-ups: is gone"]
    assert list(differences(less, was)) == ["set-ups: is new"]


def test_a_rounded_value_is_near_its_own() -> None:
    """Halves too, whichever way they go."""
    was = {
        "x": {"sheet": [], "fields": {}, "items": {}, "strokes": {"thin": [1, 0.15, 0.25, -0.05]}}
    }
    was["x"]["texts"] = [[0.05, 0.35, "a"]]
    assert list(differences(rounded(was), was)) == []
