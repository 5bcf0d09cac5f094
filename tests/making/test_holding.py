"""How a bar is held, worked out by hand: 1 mm to face on each end, a parting tool of 3 mm, 1 mm clear.

Shares of the diameter are common practice (parts/standard/holding_limits.csv): out of a chuck alone
three diameters roughing and four finishing, ten on a centre; gripped by one diameter, by 0.6 of it
where no more than one and a half stand out.
"""

from __future__ import annotations

import pytest

from parts import features as f
from parts.frame import Axis, Frame
from parts.part import Member, Stock
from parts.standard.sections import Section
from parts.standard.series import Series
from planner.making.holding import Hold, Holding, from_one_end, holding, is_axial

METRIC = Series(inch=False)
FINE, LOOSE = (0.0, -0.05), (0.05, -0.05)
"""Limits 0.05 apart are roughed first, 0.1 apart not."""


def length(long: float) -> f.FacedLength:
    return f.FacedLength(name="l", datum="B", length=f.general(long))


def round_(
    start: float, end: float, size: float, band: tuple[float, float] = LOOSE
) -> f.TurnedDiameter:
    size_ = f.Limits(size, *band, "")
    return f.TurnedDiameter(
        name=f"d{start:g}", datum="A", start_mm=start, end_mm=end, diameter=size_
    )


def held(
    bar: float, long: float, *features: f.Feature, welded: bool = False, shape: str = "round"
) -> Holding:
    section = Section("round", bar) if shape == "round" else Section("flat", bar, bar / 2)
    member = Member("m", Stock(section, long, "S355"), Frame(), (length(long), *features))
    return holding(member, welded, METRIC)


@pytest.mark.parametrize(
    ("bar", "long", "grip"),
    [
        # out: 6 more than it is long, faced by 1 at either end, parted by 3, 1 clear. 0.6 of 20 and 4
        # for parting, up to whole millimetres
        (20.0, 24.0, 16.0), (20.0, 24.1, 24.0), (18.4, 20.0, 16.0), (18.3, 20.0, 15.0),
        # 10 at the least, and 15 with what is parted off
        (10.0, 9.0, 15.0), (10.0, 20.0, 15.0), (11.4, 20.0, 16.0), (60.0, 84.0, 40.0),
        (60.0, 84.1, 64.0),
    ],
)  # fmt: skip
def test_what_is_gripped_of_a_bar(bar: float, long: float, grip: float) -> None:
    found = held(bar, long, round_(0.0, long, bar))
    assert (found.hold, found.facing_mm, found.grip_mm) == (Hold.PARTED, 2.0, grip)


@pytest.mark.parametrize(
    ("band", "long", "centre"),
    [(LOOSE, 75.0, False), (LOOSE, 75.1, True), (FINE, 55.0, False), (FINE, 55.1, True)],
)
def test_when_the_tailstock_is_brought_up(
    band: tuple[float, float], long: float, centre: bool
) -> None:
    """Ø20: at four diameters out, three where it is roughed (of the bar), else of the widest."""
    assert held(20.0, long, round_(0.0, long, 20.0, band)).centre is centre
    thinner = held(24.0, long, round_(0.0, long, 20.0, band))
    assert thinner.centre is (centre if band is LOOSE else False)


def test_what_is_too_long_for_a_centre_is_held_by_its_ends() -> None:
    for long, hold in ((75.0, Hold.PARTED), (75.1, Hold.CHUCK)):
        found = held(10.0, long, round_(0.0, 10.0, 8.0), round_(10.0, long, 10.0))
        assert found.hold is hold and found.facing_mm == 2.0


def test_what_is_turned_over_seven_tenths_is_made_on_its_grip() -> None:
    for turned, hold in ((28.0, Hold.PARTED), (27.9, Hold.CHUCK)):
        assert held(20.0, 40.0, round_(0.0, turned, 16.0)).hold is hold
    assert held(20.0, 40.0) == Holding(Hold.CHUCK, 2.0, 0.0)
    assert held(20.0, 40.0, shape="flat") == Holding(Hold.VICE, 2.0, 0.0)
    member = Member("m", Stock(Section("round", 20.0), 40.0, "S355"), Frame(), ())
    assert holding(member, False, METRIC) == Holding(Hold.ASIS, 0.0, 0.0)
    bit = Member("m", Stock(Section("square", 8.0), 40.0, "HSS"), Frame(), (length(40.0),))
    assert holding(bit, False, METRIC) == Holding(Hold.ASIS, 0.0, 0.0)


def hole(x: float, y: float, z: float, along: str) -> f.DrilledHole:
    axis = Axis((x, y, z), along)  # type: ignore[arg-type]
    return f.DrilledHole(
        name="h", datum="B", axis=axis, depth_mm=5.0, diameter=f.general(4.0), through=False
    )


def test_what_lies_about_its_own_axis_and_is_reached_from_one_end() -> None:
    for one, axial in ((hole(0, 0, 0, "+x"), True), (hole(40, 0, 0, "-x"), True),
            (hole(0, 0.1, 0, "+x"), False),
                       (hole(0, 0, -0.1, "+x"), False), (hole(0, 0, 0, "+y"), False),
                       (length(4.0), False)):  # fmt: skip
        assert is_axial(one) is axial
    thread = f.Thread(name="t", datum="A", start_mm=10.0, end_mm=20.0, thread="M8")

    def one_end(*features: f.Feature) -> bool:
        return from_one_end(
            Member("m", Stock(Section("round", 20.0), 40.0, "S355"), Frame(), features)
        )

    assert one_end(thread, round_(0.0, 10.0, 8.1)) and not one_end(thread, round_(0.0, 10.0, 8.11))
    assert one_end(thread, round_(10.0, 20.0, 9.0)) and not one_end(thread, round_(9.99, 20.0, 9.0))
    assert one_end(hole(0, 0, 0, "+x")) and not one_end(hole(40, 0, 0, "-x"))
