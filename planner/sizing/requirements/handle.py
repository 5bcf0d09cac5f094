"""The handle and its knob."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.handle import ENGAGED, KNOB_STEP_MM, SEAT_MM, handle_past_mm
from planner.sizing.requirements.model import Requirement, major_mm, no_less, no_more, of_thread


def _seat_mm(s: Any) -> Any:
    """What parts.handle.knob_seat_mm says, for columns too."""
    return major_mm(s.handle_thread) + s.series.nominal(SEAT_MM)


def _knob_mm(s: Any) -> Any:
    """The knob from its nose to its seat, likewise."""
    above = np.maximum(0.0, s.knob_diameter_mm**2 / 4 - _seat_mm(s) ** 2 / 4)
    return s.series.down(s.knob_diameter_mm / 2 + np.sqrt(above), KNOB_STEP_MM)


HANDLE: tuple[Requirement, ...] = (
    no_less(
        "small-stock",
        "handle_stock",
        "handle bar",
        lambda s: s.handle_stock.width_mm,
        lambda s: major_mm(s.handle_thread),
        "Use a thicker bar",
    ),
    no_less(
        "short-part",
        "handle_length",
        "handle between its threads",
        lambda s: (
            s.handle_length_mm
            - s.pin_diameter_mm
            - handle_past_mm(s)
            - s.series.nearest(ENGAGED * major_mm(s.handle_thread))
        ),
        lambda s: 20.0,
        "Make the handle longer",
    ),
    no_less(
        "small-stock",
        "knob_stock",
        "knob bar",
        lambda s: s.knob_stock.width_mm,
        lambda s: s.knob_diameter_mm,
        "Use a thicker bar",
    ),
    no_less(
        "too-small",
        "knob_diameter",
        "knob round its seat",
        lambda s: s.knob_diameter_mm - _seat_mm(s),
        lambda s: 1.0,
        "Make the knob larger",
    ),
    no_more(
        "too-large",
        "knob_diameter",
        "knob",
        lambda s: s.knob_diameter_mm,
        lambda s: np.maximum(s.max_ball_diameter_mm, 3 * major_mm(s.handle_thread)),
        "Make the knob smaller: it is turned with the attachment",
    ),
    no_less(
        "too-small",
        "knob_diameter",
        "knob over the end of its hole",
        lambda s: (
            _knob_mm(s)
            - s.series.nearest(ENGAGED * major_mm(s.handle_thread))
            - of_thread(s.handle_thread, lambda size: size.tap_lead_mm)
        ),
        lambda s: 0.1,
        "Make the knob larger",
    ),
)
