"""What stands too high beside a knurl is turned with its round, on bars made up here.

Common practice: a knurling wheel stands little more than 3 mm out of its fork, whose cheeks are some
3 mm thick; a parted end has 1 mm to face and is parted 3 mm wide.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

import pytest
from making.shops import of
from making.test_on_axis_by_hand import diameter, made, on_lathe

from parts import features as f
from parts.standard.fits import Limits
from planner.job.tables import Job

JobWith = Callable[..., Job]


@pytest.mark.parametrize("bar", [28.0, 18.6, 18.4])
@pytest.mark.parametrize("parted", [True, False])
def test_a_head_that_is_parted_off_is_turned_on_past_its_end(
    job_with: JobWith, bar: float, parted: bool
) -> None:
    work = on_lathe(job_with(), (0.0, 38.5, bar), along="-x", jaws=(21.5, 38.5))
    work.parted = (16.5, 20.5) if parted else None
    thin, head = diameter(0.0, 9.5, 5.0), diameter(9.5, 16.5, 12.5)
    knurl = f.Knurl(name="knurl", datum="A", start_mm=9.5, end_mm=16.5,
                    diameter=Limits(12.5, 0.0, -0.2, ""), pitch_mm=1.0)  # fmt: skip
    part = cast(Any, work.on.part)
    part.features, part.datums = (thin, head, knurl), {}
    first, second, last = made(work, thin, head, knurl)
    assert last.tool.instead in ("", "file or saw notches, spaced by dividers round the rim")
    assert (first.feature, second.feature, last.kind) == (thin, head, "knurl")
    assert (second.cut["from_mm"], second.cut["to_mm"]) == (9.5, 20.5 if parted else 16.5)
    assert ("on past where it is parted off" in second.text) is parted
    assert ("shoulder faced square" in second.text) is not parted
    assert second.stock_mm == pytest.approx((bar - 12.4) / 2)  # to the middle of its limits
    assert work.profile.largest(16.5, 20.5) == pytest.approx(12.4 if parted else bar)
    assert work.profile.largest(20.5, 38.5) == bar


def test_without_a_knurling_tool_only_a_dial_is_notched_by_its_lines() -> None:
    """As it was: the drag screw's head too was to be notched by divisions, and it has none."""
    _, _, route = of("bench-lathe", **{"lathe.knurling_tool": False})
    told = {op.part: op.op.tool.instead for op in route.operations if op.kind == "knurl"}
    assert told == {
        "dial": "file or saw notches by the divisions, once they are cut",
        "drag-screw": "file or saw notches, spaced by dividers round the rim",
    }
