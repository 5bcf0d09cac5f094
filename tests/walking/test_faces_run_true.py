"""A face that must run true is read as closely as its sheet has it, else the sheet refuses it.

Common practice: what the shop's gauge lets pass, the drawing must let pass too (ISO 14253-1 has it so,
from memory). The figures are those of the frames of the sheets: the pivot's play over the housing's
length, on the tube's width, worked out by hand below.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from jobs import ROOT, planned
from walking.part_walk import of_parts, walked

from planner.output.plan import Plan
from planner.words.findings import Finding

Data = dict[str, Any]
FACES = [("rotating-body", "body thrust face"), ("housing", "thrust face")]


@pytest.fixture(scope="module", params=["bench-lathe", "inch-lathe"])
def one(request: pytest.FixtureRequest) -> Plan:
    """A metric and an inch shop."""
    return planned(ROOT / "examples" / f"{request.param}.toml")


def _read(plan: Plan, part: str, face: str) -> tuple[list[Data], list[Data], Data]:
    """A part's set-ups and steps up to where a face is finished, and that step."""
    setups, steps = (copy.deepcopy(rows) for rows in of_parts(plan, part))
    last = next(i for i, row in enumerate(steps) if face in row["makes"])
    kept = {row["setup"] for row in steps[: last + 1]}
    return [row for row in setups if row["number"] in kept], steps[: last + 1], steps[last]


def _spoiled(plan: Plan, part: str, face: str, spoil: Callable[[Data], None]) -> list[Finding]:
    setups, steps, own = _read(plan, part, face)
    spoil(own)
    at = f"step {own['number']}"
    return [one for one in walked(plan, setups, steps) if one.key == at]


@pytest.mark.parametrize(("part", "face"), FACES)
def test_a_face_is_read_as_its_sheet_has_it(one: Plan, part: str, face: str) -> None:
    """The pivot may lean by its play over the housing's length: a face runs out as much."""
    sizes = one.sizing.sizes
    by_hand = sizes.pivot_play_mm / sizes.housing_length_mm * sizes.tube_stock.width_mm
    _, _, own = _read(one, part, face)
    (read,) = (row for row in own["measure"] if row["kind"] == "runout")
    assert read["high_mm"] == pytest.approx(by_hand, abs=1e-4)
    assert by_hand < 0.012  # less than what is usual, 0.015 and 0.02
    assert not _spoiled(one, part, face, lambda row: None)


@pytest.mark.parametrize(("part", "face"), FACES)
@pytest.mark.parametrize("most", [0.02, 0.015])
def test_a_reading_that_lets_more_pass_is_refused(
    one: Plan, part: str, face: str, most: float
) -> None:
    """As it once was said, 0.02 and 0.015 mm, where the sheet has 0.01 or less."""

    def loose(row: Data) -> None:
        for reading in row["measure"]:
            reading["high_mm"] = most

    (found,) = _spoiled(one, part, face, loose)
    assert found.code == "route-not-measured"
    assert found.limit.startswith("its sheet lets it run out ")
    assert found.remedy == "Read it as closely as its sheet has it"


@pytest.mark.parametrize(("part", "face"), FACES)
def test_a_face_that_nothing_reads_is_refused(one: Plan, part: str, face: str) -> None:
    """Seen by eye, it is not known how it runs."""

    def by_eye(row: Data) -> None:
        for reading in row["measure"]:
            reading["kind"] = "eye"

    (found,) = _spoiled(one, part, face, by_eye)
    assert (found.code, found.limit) == ("route-not-measured", "nothing reads it")
