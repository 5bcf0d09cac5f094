"""Each rule of sizing by a sum of its own, before anything is rounded to a step or chosen from a list.

The bench lathe's sizes are what the sums begin from; each term that another hides there is brought out
by sizes of its own. The rules in words stand in `pommel sizes --explain`.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot, pi, sqrt
from typing import Any

import numpy as np
import pytest
from jobs import changed

from parts.standard.sections import Section
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.sizing.apply import candidates, request
from planner.sizing.catalogue import Bars, Options
from planner.sizing.draft import Draft
from planner.sizing.rules import RULES

RULE = {rule.name: rule for rule in RULES}
GRID = [0.05 * n for n in range(1, 1400)]


class Asking:
    """In the catalogue's place: keeps what a rule asks it for."""

    inch = False

    def __init__(self) -> None:
        self.asked: tuple[Any, ...] = ()

    def _kept(self, *asked: Any) -> Options:
        self.asked = tuple(
            round(float(np.min(x)), 4) if isinstance(x, float | np.ndarray | np.generic) else x
            for x in asked
        )
        return Options((Section("flat", 40.0, 10.0),), ("standard",), np.array([[True]]))

    def reamer(self, low: Any, high: Any) -> Options:
        return self._kept("reamer", low, high)

    def tapped(self, least: Any, kind: str, own_to: float = 1.5) -> Options:
        return self._kept("tap", least, kind, own_to)

    def of_pitch(self, pitch: float, low: Any, high: Any) -> Options:
        return self._kept("pitch", pitch, low, high)

    def nut_thread(self, most: Any) -> Options:
        return self._kept("nut", most)

    def tool_bit(self, least: Any) -> Options:
        return self._kept("bit", least)

    def section(
        self, shapes: tuple[str, ...], material: str, wanted: str, fits: Any, largest: bool = False
    ) -> Options:
        """The narrowest and the thinnest that fit, of squares, rounds or flats in fine steps."""

        def ends(sections: list[Section], of: list[float]) -> tuple[float, float]:
            bars = Bars(sections[0].shape, [(one, "standard") for one in sections])
            good = np.broadcast_to(np.asarray(fits(bars)), (len(sections), 1))[:, 0]
            found = [size for size, fit in zip(of, good, strict=True) if fit]
            return round(min(found), 2), round(max(found), 2)

        if shapes[0] == "flat":
            wide = ends([Section("flat", w, 69.95) for w in GRID], GRID)[0]
            thick = ends([Section("flat", 69.95, t) for t in GRID], GRID)[0]
            self._kept(shapes, material, wide, thick)
        elif shapes[0] == "tube":
            wide = ends([Section("tube", w, w / 2 - 0.01) for w in GRID], GRID)[0]
            walls = [t for t in GRID if t < 35]
            bore = ends([Section("tube", 70.0, t) for t in walls], [70 - 2 * t for t in walls])[1]
            self._kept(shapes, material, wide, bore)
        else:
            self._kept(
                shapes, material, *ends([Section(shapes[0], w) for w in GRID], GRID), largest
            )
        return Options((Section("flat", 40.0, 10.0),), ("standard",), np.array([[True]]))


@pytest.fixture(scope="module")
def request_of_bench() -> Draft:
    return candidates(request(job_from(changed(), "job.toml"), "job.toml"), 1).draft


def drafted(draft: Draft, **sizes: Any) -> Draft:
    """A draft of the bench lathe's sizes with some of one's own, its steps a hair wide."""
    fresh = Draft(draft.job, Asking())  # type: ignore[arg-type]
    fresh.known = dict(draft.known) | {name: np.atleast_1d(v) for name, v in sizes.items()}
    fresh.step_mm = 1e-6
    return fresh


S355, C45, CW = "S355", "C45", "CW614N"
MOST = 69.95

CHOSEN: list[tuple[str, dict[str, float], tuple[Any, ...]]] = [
    # from 38 mm of tip radius: 38 / 2.75 = 13.818, to 1.4 times that; never under 9.5
    ("rod_diameter_mm", {}, ("reamer", 13.8182, 19.3455)),
    ("rod_diameter_mm", {"tip_radius_max_mm": 20.0}, ("reamer", 9.5, 13.3)),
    ("rod_stock", {}, (("round",), S355, 15.0, MOST, False)),  # 14 + 1
    ("clamp_screw", {}, ("tap", 4.9, "socket screw", 1.5)),  # 0.35 of 14
    ("pivot_diameter_mm", {}, ("reamer", 16.8, 21.0)),  # 1.2 to 1.5 of 14
    ("pivot_thread", {}, ("nut", 18.0)),  # 20 - 2
    ("shaft_stock", {}, (("round",), S355, 23.0, MOST, False)),  # 22 + 1
    ("feed_thread", {}, ("pitch", 1.0, 5.6, 9.1)),  # 0.4 to 0.65 of 14
    ("feed_thread", {"rod_diameter_mm": 30.0}, ("pitch", 1.0, 10.0, 19.5)),
    ("feed_journal_diameter_mm", {}, ("reamer", 8.0, 10.4)),  # M8, to 1.3 of it
    ("feed_tail_thread", {}, ("nut", 6.5)),  # 8 - 1.5
    ("dial_stock", {}, (("round",), CW, 25.0, MOST, False)),  # 24 + 1
    ("dial_set_screw", {}, ("tap", 3.9, "set screw", 1.5)),
    ("feed_stock", {}, (("round",), C45, 14.5, MOST, False)),  # 14 + 0.5
    # half the rod, the leaf of 7, 33 to the flat, 0.5 to dress; 18 + 7 + 8 and as much, the 8 or 0.4
    # of the pivot
    ("block_stock", {}, (("flat", "square"), S355, 47.5, 33.5)),
    ("block_stock", {"pivot_diameter_mm": 30.0}, (("flat", "square"), S355, 47.5, 37.5)),
    ("foot_stock", {}, (("flat", "square"), S355, 17.5, 7.9)),  # 1.25 of 14
    # 18 / 2 + 33 + 8 wide; thick 1.5 of M8, 27 / 1.8 or 0.7 of the rod
    ("arm_stock", {}, (("flat", "square"), S355, 50.0, 15.0)),
    ("arm_stock", {"arm_overhang_mm": 18.0}, (("flat", "square"), S355, 50.0, 12.0)),
    (
        "arm_stock",
        {"arm_overhang_mm": 18.0, "rod_diameter_mm": 20.0},
        (("flat", "square"), S355, 50.0, 14.0),
    ),
    ("shank_stock", {}, (("square",), S355, 6.0, 16.0, True)),
    # 20 and twice 4 round it; a hole of 19.5 cleans up to 20
    ("tube_stock", {}, (("tube", "round"), S355, 28.0, 19.5)),
    ("tube_stock", {"pivot_diameter_mm": 10.0}, (("tube", "round"), S355, 16.0, 9.5)),
    ("cheek_stock", {}, (("flat",), S355, 30.5, 9.6)),  # 20 + 0.3 of 35; 0.6 of 16
    ("bit_stock", {}, ("bit", 5.32)),  # 0.14 of 38
    ("bit_stock", {"tip_radius_max_mm": 20.0}, ("bit", 4.7)),
    ("tool_screw", {}, ("tap", 4.2, "set screw", 1.35)),  # 0.7 of 6
    ("handle_thread", {}, ("tap", 5.85, "any", 1.5)),  # 0.45 of 13
    ("handle_stock", {}, (("round",), C45, 7.9, MOST, False)),  # M6 + 1.9
    ("knob_stock", {}, (("round",), CW, 23.0, MOST, False)),  # 22 + 1
]


@pytest.mark.parametrize("name, sizes, asked", CHOSEN)
def test_what_each_rule_asks_of_the_catalogue(
    request_of_bench: Draft, name: str, sizes: dict[str, float], asked: tuple[Any, ...]
) -> None:
    draft = drafted(request_of_bench, **sizes)
    RULE[name].value(draft)
    assert draft.shop.asked == asked  # type: ignore[attr-defined]


FIGURED: list[tuple[str, dict[str, float], float]] = [
    # root of 25^2 + 25^2, and 2 clear; half the ball of 16; 38 - 8; 25 + 2
    ("tip_radius_max_mm", {}, hypot(25, 25) + 2),
    ("tip_radius_max_mm", {"max_blank_diameter_mm": 60.0}, hypot(30, 25) + 2),
    ("tip_radius_min_mm", {}, 8.0),
    ("travel_mm", {}, 30.0),
    ("arm_overhang_mm", {}, 27.0),
    # the clearance hole of M5 is 5.5 (ISO 273): 2.75 + 3; 6 + 2.75 + 2 + 7
    ("clamp_screw_from_front_mm", {}, 5.75),
    ("rod_from_front_mm", {}, 17.75),
    ("leaf_thickness_mm", {}, 6.3),  # 0.45 of 14, 4 at least
    ("leaf_thickness_mm", {"rod_diameter_mm": 8.0}, 4.0),
    ("slit_width_mm", {}, 1.6),
    ("hinge_mm", {}, 2.52),  # 0.18 of 14, 2 at least
    ("hinge_mm", {"rod_diameter_mm": 10.0}, 2.0),
    ("spigot_diameter_mm", {}, 22.0),
    ("pin_diameter_mm", {}, 13.546 - 0.3),  # the root of M16: 16 - 1.226869 x 2 (ISO 68-1)
    ("feed_collar_diameter_mm", {}, 14.0),
    ("feed_collar_thickness_mm", {}, 4.7),
    # 50 lines 1 mm apart are 15.9 across; three journals of 8; 22 for the fingers
    ("dial_diameter_mm", {}, 24.0),
    ("dial_diameter_mm", {"feed_journal_diameter_mm": 6.0}, 22.0),
    ("dial_diameter_mm", {"dial_divisions": 100.0}, 100 / pi),
    ("dial_rim_mm", {}, 8.4),  # 0.6 of 14, 7 to 9
    ("dial_rim_mm", {"rod_diameter_mm": 16.0}, 9.0),
    ("dial_rim_mm", {"rod_diameter_mm": 10.0}, 7.0),
    ("dial_length_mm", {}, 18.0),
    ("feed_offset_mm", {}, 12 + 7 + 1.0),
    ("flat_offset_mm", {}, 20 + 13.0),  # the dial's 12 and 1
    ("flat_offset_mm", {"feed_journal_diameter_mm": 20.0}, 20 + 15.0),  # half of it and 5
    ("block_length_mm", {}, 32.0),  # 22 + 10 over 28
    ("block_length_mm", {"rod_diameter_mm": 18.0}, 36.0),
    ("block_length_mm", {"spigot_diameter_mm": 30.0}, 40.0),
    ("arm_lead_mm", {}, 6.5),  # 3 + 3.5
    # one and a half bits; 16 + 5 + 1 - 8; what clears the stem of 0.35: (2 + 6.5 x 0.93675) / 0.35
    ("bit_stickout_mm", {}, (2 + 6.5 * sqrt(1 - 0.35**2)) / 0.35),
    ("bit_stickout_mm", {"tip_radius_min_mm": -8.0}, 30.0),
    ("bit_stickout_mm", {"arm_lead_mm": 1.0}, 14.0),
    ("arm_width_mm", {}, 18.0),  # 14 + 4 over 6 + 2 x 5
    ("arm_width_mm", {"rod_diameter_mm": 10.0}, 16.0),
    ("arm_length_mm", {}, 27 + 18 + 12.5),  # the foot of 25
    ("arm_length_mm", {"rod_diameter_mm": 20.0}, 27 + 18 + 14.0),
    ("foot_length_mm", {}, 38 + 23.5 - 16 + 15),
    ("foot_length_mm", {"rod_diameter_mm": 24.0}, 38 + 23.5 - 16 + 18),
    ("rod_length_mm", {}, 38 + 23.5 - 16 + 21),
    ("feed_thread_length_mm", {}, 38 + 23.5 + 15 - 16 - 5),
    # a wall of 7.5: 0.35 of it is 2.625, to a tenth
    ("shank_flat_mm", {}, 2.6),
    ("shank_flat_mm", {"pivot_diameter_mm": 10.0}, 3.0),
    ("shank_flat_mm", {"pivot_diameter_mm": 34.0}, 0.3),
    ("housing_length_mm", {}, 50.0),  # 2.5 of 20
    ("shank_length_mm", {}, 50 - 4 + 50.0),  # 4 of it beside the tube; 48 are three of 16
    ("shank_length_mm", {"housing_length_mm": 60.0}, 60 - 4 + 50.0),
    ("block_back_wall_mm", {}, 40 - 0.5 - 18 - 7),
    ("weld_leg_mm", {}, 4.5),  # 0.3 of 35 - 20, 3.2 to 6.5
    ("weld_leg_mm", {"pivot_diameter_mm": 30.0}, 3.2),
    ("weld_leg_mm", {"pivot_diameter_mm": 5.0}, 6.5),
    ("handle_length_mm", {}, 114.0),  # three of 38
    ("knob_diameter_mm", {}, 22.0),  # three of M6 are 18
    ("knob_diameter_mm", {"max_ball_diameter_mm": 20.0}, 20.0),
    ("knob_diameter_mm", {"max_ball_diameter_mm": 10.0}, 15.0),  # 2.5 of M6
]


@pytest.mark.parametrize("name, sizes, figure", FIGURED)
def test_each_rule_by_a_sum(
    request_of_bench: Draft, name: str, sizes: dict[str, float], figure: float
) -> None:
    found = RULE[name].value(drafted(request_of_bench, **sizes))
    assert float(np.min(found)) == pytest.approx(figure, abs=6e-4)


def test_every_rule_has_its_sum_here() -> None:
    named = {name for name, _, _ in (*CHOSEN, *FIGURED)}
    rest = {"clearance_mm"}  # 2 mm or 1/16 in: below
    assert named | rest == {rule.name for rule in RULES if rule.source != "job file"}


@pytest.mark.parametrize(
    "example, sizes",
    [
        # kept clear, the collar, the slit, the spigot over the pivot: 2, 5, 1.6 and 2 mm, or
        # 1/16, 3/16, 1/16 and 1/8 in
        ("bench-lathe", (2.0, 5.0, 1.6, 2.0)),
        ("inch-lathe", (25.4 / 16, 3 * 25.4 / 16, 25.4 / 16, 25.4 / 8)),
    ],
)
def test_sizes_that_are_fixed_in_millimetres_and_in_inches(
    job_with: Callable[..., Job], example: str, sizes: tuple[float, ...]
) -> None:
    job = job_with(example, **{"attachment.clearance": None})
    draft = Draft(job, Asking())  # type: ignore[arg-type]
    draft.known["pivot_diameter_mm"] = np.array([20.0])
    names = ("clearance_mm", "feed_collar_thickness_mm", "slit_width_mm", "spigot_diameter_mm")
    found = [float(np.min(RULE[name].value(draft))) for name in names]
    assert found == pytest.approx([*sizes[:3], 20.0 + sizes[3]])
    step = 25.4 / 16 if job.inch else 1.0
    assert [float(draft.up(x * step)) / step for x in (4.0, 4.1, 4.9)] == pytest.approx([4, 5, 5])
    assert [float(draft.down(x * step)) / step for x in (4.0, 4.1, 4.9)] == pytest.approx([4, 4, 4])
    assert float(draft.up(4.1 * step, 2)) == pytest.approx(6 * step)
    assert float(draft.down(4.9 * step, 0.5)) == pytest.approx(4.5 * step)
