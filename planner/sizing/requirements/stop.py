"""The drag screw and the stop bar."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.drag import drag_tip_mm, drag_wall_mm
from parts.standard.fasteners import set_screw
from parts.stop import (
    HEADS_APART,
    MOST_BAR,
    SEAT_GAP_MM,
    least_bar_mm,
    stop_tops_mm,
)
from planner.sizing.requirements.model import Requirement, major_mm, no_less, no_more, of_thread
from planner.sums.columns import least


def _if_bar(s: Any, value: Any) -> Any:
    """A measure of the stop bar; without one, all that is needed."""
    return np.where(np.asarray(s.stop_mm) > 0, value, np.inf)


def _engaged_mm(s: Any) -> Any:
    """How far the longest screw sold for the neck's stop goes into the bar."""
    longest = of_thread(s.stop_thread, lambda size: set_screw(size.designation).lengths_mm[-1])
    return longest - stop_tops_mm(s)[1] - s.stop_drop_mm


STOP: tuple[Requirement, ...] = (
    no_less(
        "too-small",
        "drag_thread",
        "drag screw",
        lambda s: major_mm(s.drag_thread),
        lambda s: 3.0,
        "Use a larger thread",
    ),
    no_more(
        "too-large",
        "drag_thread",
        "drag screw",
        lambda s: major_mm(s.drag_thread),
        lambda s: least(
            (s.drag_stock.width_mm - 1.0) / 1.5,
            0.6 * s.pivot_diameter_mm,
            s.housing_length_mm / 2 - 2.0,
        ),
        "Use a smaller thread: its head is turned from its bar, its hole stands on the journal",
    ),
    no_less(
        "thin-wall",
        "drag_thread",
        "thread of the drag screw in the tube's wall",
        lambda s: drag_wall_mm(s) - drag_tip_mm(s),
        lambda s: 1.5 * of_thread(s.drag_thread, lambda size: size.pitch_mm),
        "Use a finer thread, or a thicker tube",
    ),
    no_less(
        "too-small",
        "stop_stock",
        "stop bar",
        lambda s: _if_bar(s, s.stop_mm),
        lambda s: least_bar_mm(s.stop_major_mm),
        "Use a larger square, or smaller screws",
    ),
    no_more(
        "too-large",
        "stop_stock",
        "stop bar",
        lambda s: s.stop_mm,
        lambda s: MOST_BAR * s.stop_major_mm,
        "Use a smaller square",
    ),
    no_less(
        "too-large",
        "stop_stock",
        "stop bar over the seat",
        lambda s: _if_bar(s, s.spindle_over_seat_mm - s.stop_drop_mm - s.stop_mm),
        lambda s: SEAT_GAP_MM,
        "Use a smaller square",
    ),
    no_less(
        "thin-wall",
        "stop_stock",
        "shank over the middle of the stop bar's screws",
        lambda s: _if_bar(
            s,
            s.shank_stock.width_mm - (s.spindle_over_seat_mm - s.stop_drop_mm - s.stop_mm / 2),
        ),
        lambda s: s.stop_major_mm,
        "Use a larger square, or a taller shank",
    ),
    no_less(
        "thin-wall",
        "stop_thread",
        "between the stop bar's screws in the shank",
        lambda s: _if_bar(s, s.shank_stock.width_mm / 2),
        lambda s: HEADS_APART * s.stop_major_mm,
        "Use a smaller thread",
    ),
    no_less(
        "short-part",
        "stop_thread",
        "the neck's stop screw in the bar",
        lambda s: _if_bar(s, _engaged_mm(s)),
        lambda s: s.stop_major_mm,
        "Use a larger thread, which is sold longer",
    ),
)
