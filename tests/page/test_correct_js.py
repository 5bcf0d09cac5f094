"""The page's correction against pommel correct: every digit printed, every verdict and refusal.

The two share no code: one is Python, the other JavaScript, run in node.
"""

from __future__ import annotations

import json
import os
import random
import re
import subprocess
import sys
from collections import Counter
from math import isfinite
from pathlib import Path
from typing import Any

import correct_cases
import pytest
from correct_cases import Case, answered, asked
from jobs import ROOT
from page_node import in_node

from planner.measuring.correct import Earlier, Measured, Pip, Reading, Rig, Series, Size

FILES = ["numbers.js", "fit.js", "faults.js", "advice.js"]
BODY = "return pommel.correct(one[0], one[1], one[2], one[3], words.correct)"


def held(cases: list[Case]) -> Counter[str]:
    """Hold the two against each other; how many of each outcome there were."""
    found = in_node(FILES, BODY, [asked(case) for case in cases])
    outcomes: Counter[str] = Counter()
    for case, page in zip(cases, found, strict=True):
        wanted = answered(case)
        assert page == wanted, case
        outcomes[wanted["refused"][0]["code"] if wanted["refused"] else wanted["verdict"]] += 1
        outcomes["justified"] += any(wanted.get("justified", ()))
        outcomes["odd"] += bool(wanted.get("odd"))
    return outcomes


def test_some_balls_by_seed() -> None:
    rng = random.Random(1)
    outcomes = held([correct_cases.drawn(rng) for _ in range(300)])
    assert outcomes["justified"] > 30 and outcomes["good"] and outcomes["rework"]


@pytest.mark.parametrize("inch", [False, True], ids=["metric", "inch"])
def test_an_uncertainty_that_an_anvil_does_not_change_is_not_told_twice(inch: bool) -> None:
    """A fine reading feels an anvil off its angle, a coarse one not: no figure instead of itself."""
    told: Counter[bool] = Counter()
    cases = []
    for accuracy in (0.0005, 0.01, 0.02, 0.05):
        for slope in (0.0, 1 / 9000, 1 / 900):
            readings = tuple(Reading(at, 50.0 + slope * at) for at in (29.0, 44.0, 60.0, 90.0))
            measured = Measured(readings, accuracy, 50.0, stem_mm=17.5)
            case = (measured, Rig(tip_mm_per_division=0.02), Earlier(), inch)
            cases.append(case)
            (note,) = (one for one in answered(case)["notes"] if one.startswith("An anvil"))
            pair = re.search(r"uncertain by (\S+) \w+ instead of (\S+) ", note)
            assert pair is None or pair[1] != pair[2], note
            assert pair or note.endswith(" at most: the skew is no more uncertain for it."), note
            told[pair is not None] += 1
    assert told[True] > (0 if inch else 2) and told[False] > 2  # inches say less of it
    held(cases)  # the page says the same


@pytest.mark.parametrize("many", [4_000, pytest.param(10_000, marks=pytest.mark.slow)])
def test_thousands_of_balls_by_seed(many: int) -> None:
    rng = random.Random(2026)
    outcomes = held([correct_cases.drawn(rng) for _ in range(many)])
    refusals = ("reading-slip", "reading-angle", "on-the-stem", "on-the-pip", "on-the-wall")
    more = ("stem-size", "out-of-range", "no-readings", "scrap", "good", "rework", "unknown", "odd")
    assert all(outcomes[one] >= 10 for one in (*refusals, *more)), outcomes
    assert outcomes["justified"] > many // 5


def test_every_ball_that_the_tests_of_the_correction_measure(tmp_path: Path) -> None:
    out = tmp_path / "cases.json"
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "page_harvest", "-p", "no:cacheprovider",
         "tests/measuring", "tests/cli/test_correct.py", "tests/cli/test_correct_half.py"],
        cwd=ROOT,
        env=os.environ | {"HARVEST": str(out), "PYTHONPATH": f"{ROOT}:{ROOT / 'tests'}"},
        capture_output=True,
        text=True,
        check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-2000:]
    cases = [read(one) for one in json.loads(out.read_text(encoding="utf-8"))]
    sendable = [case for case in cases if finite(asked(case))]  # JSON has no NaN and no infinity
    assert len(sendable) > 100 and len(cases) - len(sendable) < 40
    held(sendable)


def read(one: list[Any]) -> Case:
    """A case that was noted, as the correction takes it."""
    measured, rig, earlier, inch = one
    readings = tuple(Reading(**row) for row in measured.pop("readings"))
    pips = tuple(Pip(**row) for row in measured.pop("pips"))
    sizes = tuple(Size(**row) for row in measured.pop("sizes"))
    series = tuple(
        Series(tuple(Reading(**row) for row in each["readings"]), each["accuracy_mm"])
        for each in earlier["series"]
    )
    before = Earlier(
        series,
        tuple(Pip(**row) for row in earlier["pips"]),
        tuple(Size(**row) for row in earlier["sizes"]),
    )
    return Measured(readings=readings, pips=pips, sizes=sizes, **measured), Rig(**rig), before, inch


def finite(value: Any) -> bool:
    if isinstance(value, dict):
        return all(map(finite, value.values()))
    if isinstance(value, list | tuple):
        return all(map(finite, value))
    return not isinstance(value, float) or isfinite(value)
