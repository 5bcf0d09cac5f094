"""Aluminium is brushed just before the arc: its oxide grows again and does not melt with it (common
practice). What goes to a welder's shop is brushed there once more.
"""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import ALUMINIUM, of

from parts.part import Joined
from planner.making.welding import weld_sheet
from planner.making.workshop import Workshop

AWAY: dict[str, Any] = {"shop.machines": {"mill": {"speeds": [500, 930]}}}
ANEW = (
    "  It was brushed bright where it is welded: wipe it with acetone and brush it anew just before the"
    " arc, by a stainless brush kept for aluminium. Oxide grows on it again meanwhile, and does not"
    " melt with the metal."
)


@pytest.mark.parametrize(
    ("changes", "when", "anew"),
    [
        (ALUMINIUM, "just before it is welded", False),
        (ALUMINIUM | AWAY, "the day it goes to be welded", True),
        (AWAY, "", False),  # steel keeps
    ],
)
def test_what_goes_away_to_be_welded_is_brushed_there_again(
    changes: dict[str, Any], when: str, anew: bool
) -> None:
    job, whole, route = of(**changes)
    brushed = [op.text for op in route.operations if "brush bright" in op.text]
    assert bool(brushed) == bool(when)
    assert all(f", {when}: no emery, its grit stays in the metal" in text for text in brushed)
    sheets = [weld_sheet(p, Workshop(job)) for p in whole.parts if isinstance(p.blank, Joined)]
    assert len(sheets) == 3
    assert [ANEW in lines for lines in sheets] == [anew] * 3
