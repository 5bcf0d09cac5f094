"""How far the end of a bar is tapped and drilled, where the piece is parted off through the thread."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from jobs import ROOT, planned

from parts.features import TappedHole
from parts.frame import Axis
from parts.standard.series import METRIC
from planner.making.ways.beside import wrench_mm
from planner.making.ways.holes import _tapped_to

AT_END = SimpleNamespace(shop=SimpleNamespace(job=SimpleNamespace(series=METRIC)))


@pytest.mark.parametrize(
    ("whole", "tapped", "drilled"),
    [
        # M10, 1.5 mm of pitch, 15 deep and 1 more to part and face off; a tap's lead of three pitches
        (90.0, 16.0, 20.5),
        # no farther than the bar is long
        (18.0, 16.0, 18.0),
        (10.0, 10.0, 10.0),
    ],
)
def test_a_thread_goes_past_where_it_is_parted_off_and_the_hole_past_the_thread(
    whole: float, tapped: float, drilled: float
) -> None:
    hole = TappedHole(name="t", datum="A", axis=Axis(), depth_mm=15.0, thread="M10", through=True)
    assert _tapped_to(hole, whole, AT_END) == pytest.approx((tapped, drilled))  # type: ignore[arg-type]


def test_a_point_that_comes_out_in_the_tube_is_said_to() -> None:
    """The boat yard's tube is 12.5 thick, its drag hole 12.5 deep by 4.2: a point of 118 degrees
    is 2.1 over the tangent of 59, 1.3 long, and breaks through into the tube's own bore of 35."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "boat-yard.toml")
    (op,) = [one for one in plan.route.operations if one.text.startswith("drill drag hole")]
    assert op.text == (
        "drill drag hole 4.2 mm, through the wall into the tube's bore as bought; ease off as it breaks"
        " through: the pivot bore is made later"
    )


def test_a_thick_tap_wants_room_for_a_bar_wrench() -> None:
    """Up to M12 or 1/2 in a T-handled wrench turns beside what stands there, over it a bar of 200 mm
    (common practice)."""
    for thread, wide in (("M6", 17.0), ("M12", 17.0), ("1/2-20 UNF", 17.0), ("M16", 110.0)):
        one = TappedHole(name="x", datum="A", axis=Axis(), depth_mm=20.0, thread=thread)
        assert wrench_mm(one) == wide
