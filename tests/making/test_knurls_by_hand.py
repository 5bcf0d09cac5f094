"""What stands too high beside a knurl is turned down first, on bars made up here.

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


@pytest.mark.parametrize(
    ("bar", "size", "ends", "turned"),
    [
        (28.0, 12.5, (9.5, 16.5), True),  # a shoulder of 7.75
        (18.6, 12.5, (9.5, 16.5), True),
        (18.4, 12.5, (9.5, 16.5), False),  # the fork goes over 2.95
        (28.0, 12.5, (9.5, 12.0), False),  # its own head goes on past it
    ],
)
def test_a_shoulder_beside_a_knurl_is_turned_down_where_it_is_cut_off(
    job_with: JobWith, bar: float, size: float, ends: tuple[float, float], turned: bool
) -> None:
    work = on_lathe(job_with(), (0.0, 38.5, bar), along="-x", jaws=(21.5, 38.5))
    thin, head = diameter(0.0, 9.5, 5.0), diameter(9.5, 16.5, size)
    knurl = f.Knurl(name="knurl", datum="A", start_mm=ends[0], end_mm=ends[1],
                    diameter=Limits(size, 0.0, -0.2, ""), pitch_mm=1.0)  # fmt: skip
    part = cast(Any, work.on.part)
    part.features, part.datums = (thin, head, knurl), {}
    first, second, *down, last = made(work, thin, head, knurl)
    assert last.tool.instead in ("", "file or saw notches, spaced by dividers round the rim")
    assert (first.feature, second.feature, last.kind) == (thin, head, "knurl")
    assert len(down) == turned
    for one in down:
        assert one.feature is head and not one.last
        assert one.text == (
            "turn down what stands beside the d12.5 to Ø12.5, 4 mm long: the knurl's wheel runs out"
            " there"
        )
        assert (one.cut["from_mm"], one.cut["to_mm"]) == (16.5, 20.5)
        assert one.stock_mm == pytest.approx((bar - size) / 2)
        assert work.profile.largest(16.5, 20.5) == size and work.profile.largest(20.5, 38.5) == bar


def test_without_a_knurling_tool_only_a_dial_is_notched_by_its_lines() -> None:
    """As it was: the drag screw's head too was to be notched by divisions, and it has none."""
    _, _, route = of("bench-lathe", **{"lathe.knurling_tool": False})
    told = {op.part: op.op.tool.instead for op in route.operations if op.kind == "knurl"}
    assert told == {
        "dial": "file or saw notches by the divisions, once they are cut",
        "drag-screw": "file or saw notches, spaced by dividers round the rim",
    }
