"""What a thicker round serves for is turned down before it is begun, and the route says so.

Common practice: who is handed a bar of 27 for one of 18 turns it down first, else the jaws of the route
close on no such size, and its first cut is four times as deep. Of a bar through the spindle what the
jaws hold cannot be turned.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from parts.attachment import attachment
from planner.job.tables import Job
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.stock.aidpieces import aid_pieces
from planner.stock.cutlist import cut_list
from planner.stock.thicker import told

JobWith = Callable[..., Job]
RACK = [{"section": "round 20", "material": "S355", "length": 600}]


def _notes(job_with: JobWith, **changes: Any) -> tuple[Any, Any]:
    job = job_with(
        **{"shop.rack": RACK, "attachment.sizes": {"rod_stock": "round 18 mm"}} | changes
    )
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    cuts = cut_list(whole, job, "job.toml", aid_pieces(route.aids, job))
    return route, told(route, cuts, job)


@pytest.mark.parametrize(
    ("bore", "said"),
    [
        (None, "the cut list takes round 20 for it: turned down to round 18 first, end for end"),
        (
            26.0,
            "the cut list takes round 20 for it: the jaws grip that, and what stands out of them is"
            " turned down to round 18 first, each time it is drawn",
        ),
    ],
)
def test_the_first_step_of_a_piece_says_from_which_bar_it_is(
    job_with: JobWith, bore: float | None, said: str
) -> None:
    plain, found = _notes(job_with, **{"shop.turn_down": 2, "lathe.spindle_bore": bore})
    own = [op for op in found.operations if op.piece == "rod"]
    assert own[0].kind == ("rest" if bore else "saw") and own[0].note.endswith(said)
    assert not any("the cut list takes" in op.note for op in own[1:])
    assert all("the cut list takes" not in op.note for op in plain.operations)
    assert [op.text for op in plain.operations] == [op.text for op in found.operations]


def test_an_aid_says_it_too_and_where_nothing_is_turned_down_nothing_is_said(
    job_with: JobWith,
) -> None:
    plain, found = _notes(job_with)
    assert found is plain
    rack = [{"section": "round 37", "material": "S355", "length": 300}]
    changes = {"shop.rack": rack, "shop.turn_down": 20, "attachment.sizes": {}}
    plain, found = _notes(job_with, **changes)
    words = "; the cut list takes round 37 for it: turned down to"
    told_of = [one for one in found.aids if words in one.made]
    assert told_of and all(one.made.endswith("first, end for end") for one in told_of)
    assert all(a.made.startswith(b.made) for a, b in zip(found.aids, plain.aids, strict=True))
