"""Each rule of sizing by a sum of its own, before anything is rounded to a step or chosen from a list.

The bench lathe's sizes are what the sums begin from; each term that another hides there is brought out
by sizes of its own. The rules in words stand in `pommel sizes --explain`.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, hypot, pi, sin, sqrt
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from jobs import changed

from parts.standard.sections import Section
from parts.standard.threads import ThreadSize, thread
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.sizing.apply import candidates, request
from planner.sizing.catalogue import Bars, Options
from planner.sizing.clamping import design_passive_N, grip_torque_Nm
from planner.sizing.draft import LOOKED_UP, Draft
from planner.sizing.post import _screws
from planner.sizing.rules import RULES
from planner.sizing.rules.lever import _for_the_grip_mm
from planner.sums.columns import Picked
from planner.sums.cutting import cutting_forces_N

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

    def bars(self, shape: str, _material: str) -> Bars:
        """One bar of the shop's own, and one that is sold."""
        return Bars(shape, [(Section("round", 16.0), "rack"), (Section("round", 14.0), "standard")])

    def reamer(self, low: Any, high: Any) -> Options:
        return self._kept("reamer", low, high)

    def tapped(self, least: Any, kind: str, own_to: float = 1.5) -> Options:
        return self._kept("tap", least, kind, own_to)

    def of_pitch(self, pitch: float, low: Any, high: Any) -> Options:
        return self._kept("pitch", pitch, low, high)

    def nut_thread(self, most: Any) -> Options:
        return self._kept("nut", most)

    def made_nut_thread(self, most: Any) -> Options:
        return self._kept("made nut", most)

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
    """A draft of the bench lathe's sizes with some of one's own, its steps a hair wide.

    A thread is given by its name; what is looked up of it is looked up anew.
    """
    fresh = Draft(draft.job, Asking())  # type: ignore[arg-type]
    fresh.known = {name: v for name, v in draft.known.items() if name not in LOOKED_UP}
    for name, v in sizes.items():
        entry = thread(v) if isinstance(v, str) else v
        one = isinstance(entry, Section | ThreadSize)
        fresh.known[name] = Picked([entry], np.array([0])) if one else np.atleast_1d(entry)
    fresh.step_mm = 1e-6
    return fresh


S355, C45, CW = "S355", "C45", "CW614N"
STOP_SCREWS = "thin nut, set screw, socket screw"
MOST = 69.95

CHOSEN: list[tuple[str, dict[str, Any], tuple[Any, ...]]] = [
    # from 38 mm of tip radius: 38 / 2.75 = 13.818, to 1.4 times that; never under 9.5
    ("rod_diameter_mm", {}, ("reamer", 13.8182, 19.3455)),
    ("rod_diameter_mm", {"tip_radius_max_mm": 20.0}, ("reamer", 9.5, 13.3)),
    ("rod_stock", {}, (("round",), S355, 15.0, MOST, False)),  # 14 + 1
    ("clamp_screw", {}, ("tap", 4.8, "stud", 1.25)),  # 0.25 of 14 is 3.5: M5 at least
    ("clamp_screw", {"rod_diameter_mm": 24.0}, ("tap", 6.0, "stud", 1.25)),
    ("lever_stock", {}, (("round",), C45, 9.5, MOST, False)),  # 9 + 0.5
    ("lever_stock", {"lever_boss_mm": 14.5}, (("round",), C45, 15.0, MOST, False)),
    ("pivot_diameter_mm", {}, ("reamer", 16.8, 21.0)),  # 1.2 to 1.5 of 14
    ("pivot_thread", {}, ("made nut", 18.0)),  # 20 - 2
    ("shaft_stock", {}, (("round",), S355, 23.0, MOST, False)),  # 22 + 1
    ("feed_thread", {}, ("pitch", 1.0, 5.6, 9.1)),  # 0.4 to 0.65 of 14
    ("feed_thread", {"rod_diameter_mm": 30.0}, ("pitch", 1.0, 10.0, 19.5)),
    ("feed_journal_diameter_mm", {}, ("reamer", 8.0, 10.4)),  # M8, to 1.3 of it
    ("feed_tail_thread", {}, ("nut", 6.5)),  # 8 - 1.5
    ("dial_stock", {}, (("round",), CW, 25.0, MOST, False)),  # 24 + 1
    ("dial_set_screw", {}, ("tap", 2.9, "set screw", 1.2)),
    # a wall of (58 - 18) / 2 = 20, tapped right through by a hand tap of four diameters of thread
    (
        "dial_set_screw",
        {"dial_diameter_mm": 58.0, "feed_journal_diameter_mm": 18.0},
        ("tap", 5.0, "set screw", 1.2),
    ),
    ("index_screw", {}, ("tap", 2.8, "socket screw", 1.15)),
    ("nut_screw", {}, ("tap", 2.9, "set screw", 1.25)),  # 0.15 of 16 is 2.4
    ("nut_screw", {"pivot_thread": "M24"}, ("tap", 3.6, "set screw", 1.25)),
    ("nut_stock", {}, (("round",), S355, 24.5, MOST, False)),  # 24 + 0.5
    ("nut_stock", {"nut_diameter_mm": 35.0}, (("round",), S355, 35.5, MOST, False)),
    ("feed_stock", {}, (("round",), C45, 14.5, MOST, False)),  # 14 + 0.5
    # half the rod, the leaf of 7, 33 to the flat, 0.5 to dress; 18 + 7, 0.5 and what is behind the rod:
    # 0.35 of the spigot of 22 and 2, 0.4 of the pivot, or 6 of spigot and 2
    ("block_stock", {}, (("flat", "square"), S355, 47.5, 35.2)),
    ("block_stock", {"pivot_diameter_mm": 30.0}, (("flat", "square"), S355, 47.5, 37.5)),
    # half a dial of 64 reaches 3 behind the thrust face at most: 18 + 32 - 3, and 0.5 to dress
    ("block_stock", {"dial_diameter_mm": 64.0}, (("flat", "square"), S355, 47.5, 47.5)),
    (
        "block_stock",
        {"pivot_diameter_mm": 15.0, "spigot_diameter_mm": 16.0},
        (("flat", "square"), S355, 47.5, 33.5),
    ),
    ("foot_stock", {}, (("flat", "square"), S355, 17.5, 7.9)),  # 1.25 of 14
    # 18 / 2 + 33 + 8 wide; thick 27 / 1.8, 1.2 of M8 between two seats 2.5 deep (9.6 + 5), 0.7 of the
    # rod, or 1.5 of M20 (whose 1.2 and 5 are 29)
    ("arm_stock", {}, (("flat", "square"), S355, 50.0, 15.0)),
    ("arm_stock", {"arm_overhang_mm": 18.0}, (("flat", "square"), S355, 50.0, 14.6)),
    (
        "arm_stock",
        {"arm_overhang_mm": 18.0, "rod_diameter_mm": 22.0},
        (("flat", "square"), S355, 50.0, 15.4),
    ),
    ("arm_stock", {"feed_thread": "M20"}, (("flat", "square"), S355, 50.0, 30.0)),
    ("shank_stock", {}, (("square",), S355, 6.0, 16.0, True)),
    # 20 and twice 4 round it; a hole of 19.5 cleans up to 20
    ("tube_stock", {}, (("tube", "round"), S355, 28.0, 19.5)),
    ("tube_stock", {"pivot_diameter_mm": 10.0}, (("tube", "round"), S355, 16.0, 9.5)),
    ("cheek_stock", {}, (("flat",), S355, 30.5, 9.6)),  # 20 + 0.3 of 35; 0.6 of 16
    ("bit_stock", {}, ("bit", 5.32)),  # 0.14 of 38
    ("bit_stock", {"tip_radius_max_mm": 20.0}, ("bit", 4.7)),
    ("drag_thread", {}, ("tap", 4.7, "any", 1.5)),  # M5, No.10
    ("stop_thread", {}, ("tap", 3.52, STOP_SCREWS, 1.2)),  # 0.22 of 16, 2.9 to 8
    ("stop_thread", {"shank_stock": Section("square", 40.0)}, ("tap", 8.0, STOP_SCREWS, 1.2)),
    ("stop_thread", {"shank_stock": Section("square", 12.0)}, ("tap", 2.9, STOP_SCREWS, 1.2)),
    # its top 9.8 under the axis (worked out in requirements.txt): 20 - 9.8 - 1 are 9.2 high; two
    # of M4 thick at least, 6 for smaller ones; 4 of them at most; and its middle 4 under the shank's
    # top, which lies 26 - 16 or 29 - 16 under the axis: 2 (26 - 9.8 - 16 + 4) = 8.4, and 14.4
    ("stop_stock", {}, (("square",), S355, 8.0, 9.2, True)),
    ("stop_stock", {"spindle_over_seat_mm": 26.0}, (("square",), S355, 8.4, 15.2, True)),
    ("stop_stock", {"spindle_over_seat_mm": 29.0}, (("square",), S355, 14.4, 16.0, True)),
    ("tool_screw", {}, ("tap", 3.6, "set screw", 1.14)),  # 0.6 of 6
    ("handle_thread", {}, ("tap", 5.85, "any", 1.5)),  # 0.45 of 13
    ("handle_stock", {}, (("round",), C45, 7.9, MOST, False)),  # M6 + 1.9
    ("knob_stock", {}, (("round",), CW, 23.0, MOST, False)),  # 22 + 1
    # M5: a head of 12.5 and 1 to turn off, out of the 16 on the rack; of M8, 21, out of the knob's bar
    # of 24, of M10, 26, out of the dial's of 28: the thinnest there is (common practice)
    ("drag_stock", {"drag_thread": "M5"}, (("round",), CW, 16.0, MOST, False)),
    (
        "drag_stock",
        {"drag_thread": "M8", "knob_stock": Section("round", 24.0)},
        (("round",), CW, 24.0, MOST, False),
    ),
    (
        "drag_stock",
        {"drag_thread": "M10", "knob_stock": Section("round", 24.0)},
        (("round",), CW, 28.0, MOST, False),
    ),
]


@pytest.mark.parametrize("name, sizes, asked", CHOSEN)
def test_what_each_rule_asks_of_the_catalogue(
    request_of_bench: Draft, name: str, sizes: dict[str, Any], asked: tuple[Any, ...]
) -> None:
    draft = drafted(request_of_bench, **sizes)
    RULE[name].value(draft)
    assert draft.shop.asked == asked  # type: ignore[attr-defined]


FIGURED: list[tuple[str, dict[str, Any], float]] = [
    # root of 25^2 + 25^2, and 2 clear; half the ball of 16; 38 - 8; 25 + 2
    ("tip_radius_max_mm", {}, hypot(25, 25) + 2),
    ("tip_radius_max_mm", {"max_blank_diameter_mm": 60.0}, hypot(30, 25) + 2),
    ("tip_radius_min_mm", {}, 8.0),
    ("travel_mm", {}, 30.0),
    ("arm_overhang_mm", {}, 27.0),
    ("lever_boss_mm", {}, 9.0),  # 1.8 of M5
    ("lever_boss_mm", {"clamp_screw": "M8"}, 14.4),
    # the clearance hole of M5 is 5.5 (ISO 273): 2.75 + 3; half a boss; half a washer of M12, 24 (ISO
    # 7089), is more than its hole of 13.5 and 3; 6 + 2.75 + 2 + 7
    ("clamp_screw_from_front_mm", {}, 5.75),
    ("clamp_screw_from_front_mm", {"lever_boss_mm": 13.0}, 6.5),
    # half a dial of 64, less 2.75 of the hole, 2 of metal and 7 of the rod; and nothing of it in front
    ("clamp_screw_from_front_mm", {"dial_diameter_mm": 64.0}, 20.25),
    ("rod_from_front_mm", {"dial_diameter_mm": 64.0}, 32.0),
    ("clamp_screw_from_front_mm", {"clamp_screw": "M12"}, 12.0),
    ("rod_from_front_mm", {}, 17.75),
    # 0.45 of 14, 4 at least; 2.5 outside half of the spigot, from half of the rod
    ("leaf_thickness_mm", {"spigot_diameter_mm": 20.0}, 6.3),
    ("leaf_thickness_mm", {"rod_diameter_mm": 8.0, "spigot_diameter_mm": 8.0}, 4.0),
    ("leaf_thickness_mm", {"spigot_diameter_mm": 22.0}, 11.0 + 2.5 - 7.0),
    ("slit_width_mm", {}, 1.6),
    ("hinge_mm", {}, 2.8),  # 0.2 of 14, 2.6 at least
    ("hinge_mm", {"rod_diameter_mm": 10.0}, 2.6),
    ("spigot_diameter_mm", {}, 22.0),
    ("pin_diameter_mm", {}, 13.546 - 0.3),  # the root of M16: 16 - 1.226869 x 2 (ISO 68-1)
    ("feed_collar_diameter_mm", {}, 14.0),
    ("feed_collar_thickness_mm", {}, 4.7),
    # 50 lines 1 mm apart are 15.9 across; three journals of 8; 22 for the fingers
    ("dial_diameter_mm", {}, 24.0),
    ("dial_diameter_mm", {"feed_journal_diameter_mm": 6.0}, 22.0),
    ("dial_diameter_mm", {"dial_divisions": 100.0}, 100 / pi),
    ("dial_diameter_mm", {"dial_divisions": 101.0}, 101 * 0.9 / pi),  # more lines than 100: closer
    ("dial_diameter_mm", {"dial_divisions": 200.0}, 200 * 0.9 / pi),
    ("dial_rim_mm", {}, 8.4),  # 0.6 of 14, 7 to 9
    ("dial_rim_mm", {"rod_diameter_mm": 16.0}, 9.0),
    ("dial_rim_mm", {"rod_diameter_mm": 10.0}, 7.0),
    ("dial_rim_mm", {"rod_diameter_mm": 10.0, "dial_divisions": 125.0}, 9.0),
    # the rim of 9; the rim less 4, or M4 and 1, which are 5 too; of a rim of 7 they are more
    ("dial_length_mm", {}, 14.0),
    ("dial_length_mm", {"dial_rim_mm": 12.0}, 20.0),
    ("dial_length_mm", {"dial_rim_mm": 7.0}, 12.0),
    ("index_ring_mm", {}, 4.5),  # the head of M3 is 3 high, of M4 4 (ISO 4762); 1.5 under it
    ("index_ring_mm", {"index_screw": "M4"}, 5.5),
    # 16 and twice 3.8, or 20 and 2 mm round the bore it bears on; 1.45 of 24; the screw of 5 on its
    # pellet of 0.25, its edges inside the rim
    ("nut_diameter_mm", {}, 24.0),
    ("nut_diameter_mm", {"pivot_diameter_mm": 19.0}, 23.6),
    ("nut_diameter_mm", {"pivot_thread": "M24"}, 34.8),
    ("nut_diameter_mm", {"nut_screw_mm": 5.0}, 2 * hypot(8 + 0.25 + 5, 1.5)),
    ("nut_diameter_mm", {"pivot_diameter_mm": 35.0}, 35 + 2 * 2.0),
    ("nut_length_mm", {}, 9.6),  # 0.6 of 16; 8 mm or 5/16 in at least
    ("nut_length_mm", {"pivot_thread": "M12"}, 7.9),
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
    ("arm_width_mm", {"rod_diameter_mm": 10.0}, 14.0),
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
    # the post's side 14.9 - 1.5 off the pivot axis, the nut's rim and its play 12 + 0.5: beside it, or
    # behind the nut of 10 and two turns of 2, or of 15 and two of 3
    ("post_gap_mm", {}, 1.0),
    ("post_gap_mm", {"nut_diameter_mm": 25.8}, 1.0),
    ("post_gap_mm", {"nut_diameter_mm": 25.9}, 10 + 4 + 1.0),
    (
        "post_gap_mm",
        {"nut_diameter_mm": 35.0, "nut_length_mm": 15.0, "pivot_thread": "M24"},
        15 + 6 + 1.0,
    ),
    # 4 of it beside the tube, 1 to the post of 56; half the knob of 22 and 2 to clear, less half the
    # bar of 10 that the handle is; 2 at least
    ("shank_length_mm", {}, 50 - 4 + 1 + 56 + 8.0),
    ("shank_length_mm", {"housing_length_mm": 60.0}, 60 - 4 + 1 + 56 + 8.0),
    ("shank_length_mm", {"knob_diameter_mm": 8.0, "post_gap_mm": 15.0}, 50 - 4 + 15 + 56 + 2.0),
    ("shank_length_mm", {"stop_stock": Section("square", 16.0)}, 50 - 4 + 1 + 56 + 5.0),
    ("block_back_wall_mm", {}, 40 - 0.5 - 18 - 7),
    ("weld_leg_mm", {}, 4.5),  # 0.3 of 35 - 20, 3.2 to 6.5
    ("weld_leg_mm", {"pivot_diameter_mm": 30.0}, 3.2),
    ("weld_leg_mm", {"pivot_diameter_mm": 5.0}, 6.5),
    ("handle_length_mm", {}, 114.0),  # three of 38
    ("knob_diameter_mm", {}, 22.0),  # three of M6 are 18
    ("knob_diameter_mm", {"max_ball_diameter_mm": 20.0}, 20.0),
    ("knob_diameter_mm", {"max_ball_diameter_mm": 10.0}, 15.0),  # 2.5 of M6
    # two fingers' hold; past half the block by the boss of 9; no farther than the arm's outer face at
    # the smallest ball, 8 + 5 + 15; and one and a half bosses and 5 whatever the rest says
    ("lever_length_mm", {}, 25.0),
    ("lever_length_mm", {"block_length_mm": 40.0}, 20 + 9.0),
    ("lever_length_mm", {"block_length_mm": 40.0, "bit_stickout_mm": 5.0}, 28.0),
    # a boss of 9 has an arm of 6 (5.85 to the nearest half): ten of it, less 4.5 and 5
    ("lever_length_mm", {"block_length_mm": 120.0, "bit_stickout_mm": 40.0}, 50.5),
    ("lever_length_mm", {"bit_stickout_mm": -10.0}, 18.5),
]


@pytest.mark.parametrize("name, sizes, figure", FIGURED)
def test_each_rule_by_a_sum(
    request_of_bench: Draft, name: str, sizes: dict[str, Any], figure: float
) -> None:
    found = RULE[name].value(drafted(request_of_bench, **sizes))
    assert float(np.min(found)) == pytest.approx(figure, abs=6e-4)


def test_every_rule_has_its_sum_here() -> None:
    named = {name for name, _, _ in (*CHOSEN, *FIGURED)}
    rest = {"clearance_mm"}  # 2 mm or 1/16 in: below
    assert named | rest == {rule.name for rule in RULES if rule.source != "job file"}


@pytest.mark.parametrize(
    "example, depth, boss, longest",
    [("bench-lathe", 1.0, 9.0, 46.5), ("engine-lathe", 0.5, 11.0, 71.0)],
)
def test_a_lever_is_as_long_as_the_grip_it_is_to_give(
    job_with: Callable[..., Job], example: str, depth: float, boss: float, longest: float
) -> None:
    # 40 N at its end, T = 0.2 F d of a plated screw (Shigley, table 8-15), 0.65 of F counted on: it
    # closes a clearance of 0.012 (the hinge bends all along: the integral of 1/t^3, and 0.82 / t^2 at
    # either root, turns the leaf about it; the rule's own sum is good to half a percent) and presses
    # the rod on two lines, mu 0.12, for six times the passive force
    job = job_with(example, **{"turning.depth_of_cut": f"{depth} mm"})
    draft = drafted(candidates(request(job, "job.toml"), 1).draft)
    s = {
        name: float(np.min(draft.known[f"{name}_mm"]))
        for name in ("rod_diameter", "hinge", "slit_width", "block_length", "rod_from_front")
    }
    bit = float(draft.bit_stock.width_mm[0])
    metals = {ball.material or CW for ball in job.ball} or {CW}
    passive = max(cutting_forces_N(depth, 0.08, max(0.4, bit / 12), m)[2] for m in metals)
    bore, n = s["rod_diameter"] / 2, 20_000
    deep = (
        0.6 * bore + s["hinge"]
    )  # the bore is 0.6 radii high where the slit is 0.8 behind its axis
    ends = [0.8 * bore + side * s["slit_width"] / 2 for side in (-1, 1)]
    low, high = (atan2(end, deep) for end in ends)
    step, bends = (high - low) / n, 0.0
    for i in range(n):
        t = deep / cos(low + (i + 0.5) * step) - bore
        bends += (bore + t / 2) * step / t**3
    near, far = (hypot(end, deep) - bore for end in ends)
    bends += 0.82 * (near**-2 + far**-2)
    radius = bore + near / 2
    screw = s["rod_from_front"] - float(np.min(draft.clamp_screw_from_front_mm))
    arm = screw + radius * sin(low)
    play = 0.012 if bore <= 9.0 else 0.014  # of a rod to 18, to 30
    closing = play * 210_000 * s["block_length"] / (12 * bends * arm * radius)
    preload = (closing + 6 * passive / (2 * 0.12 * arm / radius)) / 0.65
    length = 0.2 * preload * float(draft.clamp_screw.major_mm[0]) / 40
    assert max(25.0, s["block_length"] / 2 + boss) < length < longest  # none of these is what binds
    assert float(np.min(RULE["lever_length_mm"].value(draft))) == pytest.approx(length, rel=5e-3)


def test_a_lever_is_the_torque_over_the_hand(request_of_bench: Draft) -> None:
    # M = F l: at 40 N a torque of 1 Nm takes 25 mm
    draft = drafted(request_of_bench)
    passive = draft.bit_stock.of(lambda bit: design_passive_N(draft.job, bit.width_mm))
    torque = grip_torque_Nm(draft, passive, draft.clamp_screw.major_mm)
    assert _for_the_grip_mm(draft) == pytest.approx(np.asarray(torque) * 25.0, rel=1e-9)


@pytest.mark.parametrize(
    ("post", "end", "screws"),
    [
        # three screws 17 apart from 11 on: at 11, 28 and 45 of a post 56 deep, of a shank that ends so
        # far in it; half its side of 16 must lie past a screw
        ({}, 60.0, 3),
        ({}, 56.0, 3),
        ({}, 52.9, 2),
        ({}, 36.0, 2),
        ({}, 35.9, 1),
        ({}, 19.0, 1),
        ({}, 18.9, 0),
        ({"screws": 5}, 60.0, 3),  # the fourth would be at 62, past the post's end
        # evenly where nothing is said: four at 11.2, 22.4, 33.6 and 44.8
        ({"screws": 4, "first_screw": None, "screw_spacing": None}, 60.0, 4),
        ({"screws": 4, "first_screw": None, "screw_spacing": None}, 52.9, 4),
        ({"screws": 4, "first_screw": None, "screw_spacing": None}, 52.7, 3),
        # three 10 apart, about the middle: 18, 28, 38
        ({"screws": 3, "first_screw": None, "screw_spacing": 10.0}, 46.0, 3),
        ({"screws": 3, "first_screw": None, "screw_spacing": 10.0}, 45.9, 2),
    ],
)
def test_how_many_screws_find_the_shank(
    job_with: Callable[..., Job], post: dict[str, Any], end: float, screws: int
) -> None:
    job = job_with()
    set_so = {"screws": 3, "first_screw": 11.0, "screw_spacing": 17.0} | post
    job = job.model_copy(update={"tool_post": job.tool_post.model_copy(update=set_so)})
    sizes = SimpleNamespace(
        post_depth_mm=56.0, post_front_x_mm=-100.0, shank_end_x_mm=-100.0 - end,
        shank_stock=Section("square", 16.0),
    )  # fmt: skip
    assert _screws(sizes, job) == screws  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("example", "changes", "gap", "depth"),
    [
        # a post 15 high, its side 20 out, over an axis 20 up: 5 below it, no nearer than hypot(0, 5)
        ("bench-lathe", {"tool_post.height": 15, "tool_post.stands_out": 20}, 15.0, 56.0),
        # one 4 high: 16 below, past the nut's 12.5
        ("bench-lathe", {"tool_post.height": 4, "tool_post.stands_out": 20}, 1.0, 56.0),
        # nobody says how far it stands out, or it is wanted behind, or beside
        ("bench-lathe", {"tool_post.stands_out": None}, 15.0, 56.0),
        ("bench-lathe", {"tool_post.holding": "behind the nut"}, 15.0, 56.0),
        (
            "bench-lathe",
            {"tool_post.stands_out": None, "tool_post.holding": "beside the nut"},
            1.0,
            56.0,
        ),
        # three of its largest shanks where its depth is not said: of 16 mm, of 5/8 in; 1 mm off it, or
        # 3/64 in
        ("bench-lathe", {"tool_post.depth": None}, 1.0, 48.0),
        ("inch-lathe", {"tool_post.depth": None}, 25.4 * 3 / 64, 25.4 * 15 / 8),
    ],
)
def test_where_the_tool_post_stands(
    job_with: Callable[..., Job], example: str, changes: dict[str, Any], gap: float, depth: float
) -> None:
    job = job_with(example, **changes)
    draft = candidates(request(job_with(example), "job.toml"), 1).draft
    posted = Draft(job, Asking())  # type: ignore[arg-type]
    posted.known = dict(draft.known)
    assert float(np.min(RULE["post_depth_mm"].value(posted))) == pytest.approx(depth)
    assert float(np.min(RULE["post_gap_mm"].value(posted))) == pytest.approx(gap)


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


@pytest.mark.parametrize(
    ("own", "wide"),
    [
        # common practice: slits are sawn with the saw there is; under 1 mm it wanders, over some 2 it
        # takes what a small clamp is made of. The nearest to 1.6, of two as near the thinner
        ([], 1.6), ([2.0], 2.0), ([0.8, 3.0], 1.6), ([1.2, 1.5, 2.0], 1.5), ([1.2, 2.0], 1.2),
        ([2.2, 0.9], 2.2),
    ],
)  # fmt: skip
def test_slits_are_as_wide_as_a_saw_of_the_shop(
    job_with: Callable[..., Job], own: list[float], wide: float
) -> None:
    job = job_with(**{"shop.slitting_saws": own})
    draft = Draft(job, Asking())  # type: ignore[arg-type]
    assert float(RULE["slit_width_mm"].value(draft)) == pytest.approx(wide)
