"""Sizes that no machinist could make: refused by a requirement first, then by the parts themselves."""

from __future__ import annotations

import random
from collections import Counter
from typing import Any

import numpy as np
import pytest
from jobs import changed
from msgspec.structs import fields

from parts.attachment import attachment
from parts.errors import NotMakeable
from parts.sizes import Sizes
from parts.standard.sections import Section
from parts.standard.threads import threads
from planner.job.reading import job_from
from planner.sizing.apply import candidates, request, size_up
from planner.sizing.requirements import REQUIREMENTS
from planner.sizing.rules import RULES
from planner.words.findings import BadInput

EXAMPLES = ("bench-lathe", "engine-lathe", "inch-lathe")
KINDS = {field.name: str(field.type) for field in fields(Sizes)}
SETTABLE = [rule for rule in RULES if rule.source != "job file" and not rule.follows]
CASES, MORE = 400, 1000
SEED = 20_261_128
"""So many draws wherever solids are tried, so many in the slow set."""


def odd(chance: random.Random, value: Any, shapes: tuple[str, ...]) -> str:
    """A value for a size: near what the rules take, far from it, or absurd; as a job file has it."""
    factor = chance.choice((0.01, 0.2, 0.5, 0.7, 0.85, 0.95, 1.0, 1.05, 1.2, 1.5, 2.0, 4.0, 30.0))
    if isinstance(value, float):
        return f"{value * factor:.4f} mm"
    if isinstance(value, str):
        return chance.choice(threads(None)).designation
    shape = chance.choice(shapes)
    base = value or Section("flat", 40.0, 10.0)
    width = max(0.01, base.width_mm * factor)
    thin = max(
        0.005, (base.thickness_mm or base.width_mm / 3) * chance.choice((0.1, 0.7, 1.0, 1.4))
    )
    if shape in ("round", "square"):
        return f"{shape} {width:.4f} mm"
    if shape == "tube":
        return f"tube {width:.4f}x{min(thin, 0.49 * width):.4f} mm"
    return f"flat {width:.4f}x{thin:.4f} mm"


def drawn(cases: int) -> list[tuple[str, dict[str, str]]]:
    """Examples with one to four sizes of one's own, drawn by seed."""
    chance = random.Random(SEED)
    usual = {name: size_up(job_from(changed(name), "j"), "j").sizes for name in EXAMPLES}
    found = []
    for _ in range(cases):
        name = chance.choice(EXAMPLES)
        rules = chance.sample(SETTABLE, chance.choice((1, 1, 2, 2, 3, 4)))
        own = {
            rule.name.removesuffix("_mm"): odd(chance, getattr(usual[name], rule.name), rule.shapes)
            for rule in rules
        }
        found.append((name, own))
    return found


@pytest.mark.parametrize("cases", [CASES, pytest.param(MORE, marks=pytest.mark.slow)])
def test_whatever_a_part_refuses_a_requirement_has_refused_with_its_key(cases: int) -> None:
    came = Counter[str]()
    for name, own in drawn(cases):
        job = job_from(changed(name, **{"attachment.sizes": own}), "job.toml")
        try:
            s = candidates(request(job, "job.toml"), 1).sizing(0).sizes
        except BadInput as problem:
            assert all(finding.key and finding.remedy for finding in problem.findings)
            came["no size follows"] += 1
            continue
        unmet = [asked for asked in REQUIREMENTS if not asked.met(s)]
        try:
            attachment(s)
        except NotMakeable as problem:
            assert unmet, f"{name} {own}: {problem}"
            came["refused by both"] += 1
        else:
            came["refused by a requirement" if unmet else "accepted"] += 1
    # both kinds of answer must come up often, or the test looks at nothing
    assert came["accepted"] >= cases / 20, came
    assert came["refused by both"] >= cases / 10, came


# What a part could be made with and a machinist would still laugh at (common practice): a collar of
# foil, a bar with nothing to turn off, thread that no nut reaches, a shank as
# long as the bed, a bore no bar reaches through, a knob that the attachment cannot turn.
LAUGHED_AT = {
    "feed_collar_thickness": "0.1 mm",
    "feed_thread_length": "300 mm",
    "rod_stock": "round 14 mm",
    "shaft_stock": "round 22 mm",
    "shank_length": "500 mm",
    "housing_length": "400 mm",
    "knob_diameter": "90 mm",
}


@pytest.mark.parametrize(("key", "value"), LAUGHED_AT.items())
def test_what_a_machinist_would_laugh_at_is_refused_by_its_key(key: str, value: str) -> None:
    job = job_from(changed("bench-lathe", **{"attachment.sizes": {key: value}}), "job.toml")
    with pytest.raises(BadInput) as problem:
        size_up(job, "job.toml")
    told = [found for found in problem.value.findings if found.key == f"attachment.sizes.{key}"]
    assert told and all(found.remedy for found in told)


def test_a_lock_screw_thicker_than_its_nut_is_told_by_both() -> None:
    own = {"nut_screw": "M24", "nut_diameter": "20 mm"}
    job = job_from(changed(**{"attachment.sizes": own}), "job.toml")
    s = candidates(request(job, "job.toml"), 1).sizing(0).sizes
    assert "nut_diameter" in {asked.key for asked in REQUIREMENTS if not asked.met(s)}
    with pytest.raises(NotMakeable):
        attachment(s)


@pytest.mark.parametrize(
    "example",
    [
        name if name == "inch-lathe" else pytest.param(name, marks=pytest.mark.slow)
        for name in EXAMPLES
    ],
)
def test_requirements_say_the_same_on_columns_as_on_one(example: str) -> None:
    wanted = request(job_from(changed(example), "j"), "j")
    many = candidates(
        wanted, {"rod_diameter_mm": 3, "block_stock": 2, "tube_stock": 3, "clamp_screw": 2}
    )
    assert many.rows >= 12
    rows = range(0, many.rows, max(1, many.rows // 12))
    for asked in REQUIREMENTS:
        column = np.broadcast_to(asked.met(many.draft), (many.rows,))
        for row in rows:
            assert bool(asked.met(many.sizing(row).sizes)) == bool(column[row]), asked.what
