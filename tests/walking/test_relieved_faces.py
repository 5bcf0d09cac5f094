"""A face that is cut back beside a nut gives the jaws so much less to grip.

A drill's thrust lies past the jaws by no more than the length they grip (common practice): farther
out the work tips.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

from drawn_shops import drawn

from parts import features as f
from parts.attachment import attachment
from parts.blank import Joined, Member, Stock
from parts.frame import Box, Frame
from parts.part import Part
from parts.standard.sections import Section
from planner.job.reading import job_from
from planner.making.bodies import bodies_of
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk


def test_a_members_flat_is_gone_from_the_whole_and_not_yet_from_the_piece() -> None:
    """The shank's relief for the nut is milled before it is welded: the jaws find it gone."""
    box = Box((33.0, -6.0, -6.0), (47.5, 6.0, -4.3))
    relief = f.MilledFlat(name="nut relief", datum="R", box=box,
                          locations=(f.Location("R", "-z", f.general(9.3)),))  # fmt: skip
    shank = Member("shank", Stock(Section("square", 10.0), 80.0, "S355"), Frame(), (relief,))
    part = cast(Part, SimpleNamespace(name="p", blank=Joined((shank,), ())))
    (whole,) = bodies_of(part, None)
    (piece,) = bodies_of(part, shank)
    assert whole.voids == (box,)
    assert piece.voids == ()


def test_a_relieved_shank_is_clamped_where_the_vice_is_too_short() -> None:
    """A vice has 33 mm past the relief, the oil hole lies 32.8 past the jaws: as far as they grip."""
    _, data = drawn(3330051)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()
    oil = next(one for one in steps if one["makes"] == ["oil hole"])
    held = next(one for one in setups if one["number"] == oil["setup"])
    assert held["hold"]["by"] == "clamps on the table"
    assert not walk(whole.parts, job, setups, steps, placed=whole.placed)
