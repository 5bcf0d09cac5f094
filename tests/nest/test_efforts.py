"""How long the nest tries, and its slacks: a slip in one shows in no nest that the checker passes."""

from __future__ import annotations

import importlib

import pytest

ROUNDING = "far below what a saw or a torch can hold, far above what floats lose"
MEASURED = "about half a second of tries, by test_many_pieces_in_bounded_time"

EFFORTS = {
    "tries": (
        {
            "MOST_BY_OUTLINE": 300,
            "MOST_OUTLINES": 25,
            "WORK": 450_000,
            "TRIES": 400,
            "MOST_WASTE": (0.0, 0.02, 0.05, 0.1, 0.2),
            "MOST_JOINED": 60,
        },
        MEASURED,
    ),
    "place": (
        {"MOST_PIECES": 2000, "SHEET_WORK": 50, "ALIKE": 3},
        MEASURED + "; a thousandth of a mm",
    ),
    "model": ({"TOLERANCE_MM": 0.001}, ROUNDING),
    "guillotine": ({"SAME_MM": 1e-6}, ROUNDING),
    "offset": ({"SMOOTH": 1e-6}, ROUNDING),
    "nofit": ({"SLACK_MM": 1e-4, "GAP_SIDES": 32}, "1 / cos(pi / 32) is 1.005: half a hundredth"),
    "nofit: efforts": (
        {"REGION_WORK": 150, "LAID_WORK": 50, "HULL_WORK": 4, "CORNERS": 4},
        MEASURED,
    ),
    "sawblocks": ({"PAIR_WORK": 8, "SHAKEN": (0.5, 1.5), "TIES": 1e-3}, MEASURED),
    "outlines": ({"CHORD_MM": 0.02}, "a torch holds some tenths (common practice)"),
    "dxf": ({"PIERCE_SHARE": 0.7}, "room all round a pierce (common practice)"),
}


@pytest.mark.parametrize("module", EFFORTS)
def test_the_efforts_and_slacks_are_those_that_were_measured(module: str) -> None:
    held, source = EFFORTS[module]
    room = importlib.import_module(f"planner.nest.{module.split(':')[0]}")
    assert source and {name: getattr(room, name) for name in held} == held
