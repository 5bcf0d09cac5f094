"""What the slides of a lathe travel over with a milling slide on them, by hand.

Up and down its own travel, across the bed the cross slide's (common practice); along the bed the
carriage is locked.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from parts.frame import Box
from planner.making.ways.travels import fed_by, from_below, passes_both, reaches, stays_over, under
from planner.making.workshop import Workshop


def shop(own: float, cross: float | None) -> Workshop:
    kit = SimpleNamespace(slide_travel_mm=own, cross_travel_mm=cross)
    return cast(Workshop, SimpleNamespace(kit=kit))


def body(*size: float) -> Any:
    return SimpleNamespace(low=lambda i: 0.0, high=lambda i: size[i])


@pytest.mark.parametrize(
    ("machine", "own", "cross", "box", "spindle", "goes"),
    [
        # 120 by 60, a cutter of 16: the longer by the cross slide, 44 of the shorter by the slide
        ("milling slide", 44.0, None, (120.0, 60.0, 5.0), 2, True),
        ("milling slide", 43.9, None, (120.0, 60.0, 5.0), 2, False),
        ("milling slide", 44.0, 104.0, (120.0, 60.0, 5.0), 2, True),
        ("milling slide", 44.0, 103.9, (120.0, 60.0, 5.0), 2, False),
        ("milling slide", 10.0, None, (120.0, 60.0, 5.0), 0, True),
        ("milling slide", 10.0, None, (120.0, 60.0, 5.0), 1, True),
        ("mill", 0.0, None, (120.0, 60.0, 5.0), 2, True),
        # what stands over the metal is not gone over: of 200 by 200 it is 150 by 100
        ("milling slide", 84.0, 134.0, (200.0, 200.0, 5.0), 2, True),
        ("milling slide", 83.9, 134.0, (200.0, 200.0, 5.0), 2, False),
    ],
)
def test_a_face_that_the_slides_go_over(
    machine: str, own: float, cross: float | None, box: tuple[float, float, float], spindle: int,
    goes: bool,
) -> None:  # fmt: skip
    metal = [body(150.0, 100.0, 40.0)]
    here = Box((0.0, 0.0, 0.0), box)
    assert reaches(shop(own, cross), machine, metal, here, spindle, 16.0) is goes


@pytest.mark.parametrize(
    ("own", "cross", "turned", "by"),
    [
        # 85 past the saw, 12 deep
        (85.0, None, False, "milling slide"), (85.0, None, True, "milling slide"),
        (85.0, 12.0, False, "milling slide"), (85.0, 11.9, False, ""),
        (84.9, None, False, "cross slide"), (84.9, 85.0, False, "cross slide"),
        (84.9, 84.9, False, ""), (84.9, 200.0, True, ""),
        (12.0, 85.0, False, "cross slide"), (11.9, 85.0, False, ""),
    ],
)  # fmt: skip
def test_which_slide_feeds_a_slit(own: float, cross: float | None, turned: bool, by: str) -> None:
    assert fed_by(shop(own, cross), 85.0, 12.0, turned) == by


@pytest.mark.parametrize(
    ("machine", "own", "cross", "passes"),
    [
        # 195 long and 16 beyond: 211
        ("milling slide", 75.0, 211.0, True), ("milling slide", 75.0, 210.9, False),
        ("milling slide", 211.0, 150.0, True), ("milling slide", 75.0, None, True),
        ("mill", 0.0, 100.0, True),
    ],
)  # fmt: skip
def test_a_cutter_past_both_ends(
    machine: str, own: float, cross: float | None, passes: bool
) -> None:
    assert passes_both(shop(own, cross), machine, 195.0, 16.0) is passes


@pytest.mark.parametrize(
    ("end", "by", "said"),
    [
        # 105 over the cross slide, half a saw of 63: 73.5 below its rim; the slit's bottom at 50
        (-23.5, "cross slide", ""), (-23.6, "cross slide", "the shaft upward"),
        (-200.0, "milling slide", ""),
    ],
)  # fmt: skip
def test_a_slit_is_sawn_from_below_where_the_work_would_hang_on_to_the_cross_slide(
    end: float, by: str, said: str
) -> None:
    lathe = SimpleNamespace(lathe=SimpleNamespace(spindle_over_cross_slide=105.0))
    here = cast(Workshop, SimpleNamespace(job=lathe))
    shaft = cast(Any, SimpleNamespace(name="shaft", end=lambda axis, sign: end))
    words = from_below(here, [shaft], (0, 1), 50.0, 31.5, by)
    assert words == (f"; {said}, the side to be slit down on to the saw" if said else "")


def block(low: float, high: float) -> Any:
    """A body from one coordinate to another each way."""
    return SimpleNamespace(end=lambda i, sign: high if sign > 0 else low, size=lambda i: high - low)


@pytest.mark.parametrize(
    ("over", "travel", "closes", "by", "let_in"),
    [
        # a block of 30, the slit in its middle: 15 and 12 of jaw hang under it (common practice), 1 is
        # clear. Of 60 that leaves 64 of travel; let in at the upper end 30 and 12 are below, 3 clear
        (60.0, 64.0, 1, "milling slide", True), (60.0, 64.1, 1, "cross slide", True),
        (60.0, 88.0, 2, "milling slide", True), (60.0, 88.1, 2, "cross slide", True),
        (45.0, 34.0, 1, "milling slide", True), (44.9, 34.0, 1, "cross slide", False),
        (33.0, 34.0, 2, "milling slide", True), (32.9, 33.0, 2, "milling slide", False),
    ],
)  # fmt: skip
def test_what_hangs_under_a_slit_that_the_milling_slide_feeds(
    over: float, travel: float, closes: int, by: str, let_in: bool
) -> None:
    own = block(10.0, 40.0)
    here = shop(100.0, None)
    here.job = cast(Any, SimpleNamespace(lathe=SimpleNamespace(spindle_over_cross_slide=over)))
    hung = under([own], own, (25.0, 25.0, 25.0), 1, closes)
    assert hung == (27.0 if closes == 1 else 15.0)
    assert fed_by(here, travel, 5.0, under_mm=hung) == by
    assert stays_over(here, [own], own, 1, closes, (travel, 5.0)) is let_in
    assert not stays_over(here, [own], own, 1, closes, (100.1, 5.0))
    # what stands out farther hangs farther, the other side down where that is less
    shaft = block(-20.0, 60.0)
    assert under([own, shaft], own, (25.0, 25.0, 25.0), 1, closes) == 35.0
