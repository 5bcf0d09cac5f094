"""The shank, the tube and what joins them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.sizes import SETBACK_MM
from planner.sizing.catalogue import Bars, Options
from planner.sizing.draft import OURS, TRADE, Draft, Rule, flat_bar, one
from planner.sums.columns import least, most


def _wall_mm(pivot_mm: Any) -> Any:
    return most(3.0, 0.2 * pivot_mm)


def _seat_flat_mm(tube: Any, pivot_mm: Any) -> Any:
    wall = (tube.width_mm - pivot_mm) / 2
    return least(3.0, most(0.3, 0.35 * wall))


def _beds(tube: Any, d: Draft) -> Any:
    flat = _seat_flat_mm(tube, d.pivot_diameter_mm)
    radius = tube.width_mm / 2
    half_height = np.sqrt(most(0.0, 2 * radius * flat - flat**2))
    return half_height - (d.spindle_over_seat_mm - d.shank_stock.width_mm) >= 1.5


def _tube(d: Draft) -> Options:
    pivot = d.pivot_diameter_mm
    wall = _wall_mm(pivot)

    def fits(s: Bars) -> Any:
        inside = s.width_mm - 2 * s.thickness_mm if s.shape == "tube" else 0.0
        return (s.width_mm >= pivot + 2 * wall) & (inside <= pivot - 0.5)

    wanted = (
        f"an outside of at least {d.job.numbers.size(one(pivot + 2 * wall))}, a hole of at most"
        f" {d.job.numbers.size(one(pivot) - 0.5)}"
    )
    return d.shop.section(("tube", "round"), d.job.materials.structure, wanted, fits)


def _cheek(d: Draft) -> Options:
    """Nothing where the tube beds on the shank, else a plate from the seat to above the axis."""
    beds = np.atleast_1d(_beds(d.tube_stock, d))
    height = d.spindle_over_seat_mm + 0.3 * d.tube_stock.width_mm
    flats = flat_bar(d, height, least(10.0, most(7.9, 0.6 * d.shank_stock.width_mm)), ("flat",))
    rows = max(len(beds), flats.fits.shape[1])
    none = np.broadcast_to(beds, (1, rows))
    fits = np.concatenate([none, np.broadcast_to(flats.fits, (len(flats.items), rows)) & ~none])
    return replace(flats, items=(None, *flats.items), origins=("rule", *flats.origins), fits=fits)


def _shank(d: Draft) -> Options:
    limit = d.job.tool_post.largest_shank
    return d.shop.section(
        ("square",),
        d.job.materials.structure,
        f"a side of at most {d.job.numbers.size(limit)}",
        lambda s: (s.width_mm >= 6.0) & (s.width_mm <= limit + 1e-6),
        largest=True,
    )


HOUSING: tuple[Rule, ...] = (
    Rule(
        "shank_stock",
        "the largest the tool post takes",
        TRADE,
        _shank,
        shapes=("square",),
    ),
    Rule(
        "tube_stock",
        "a wall of 3 mm or 0.2 of the pivot left round the bore, and a hole that cleans up",
        OURS,
        _tube,
        shapes=("tube", "round"),
    ),
    Rule(
        "shank_flat_mm",
        "depth of the flat for the shank: about a third of the wall, at most 3 mm",
        OURS,
        lambda d: np.round(_seat_flat_mm(d.tube_stock, d.pivot_diameter_mm), 1),
    ),
    Rule(
        "cheek_stock",
        "none where the tube beds on the shank; else a plate from the seat to 0.3 tubes above the"
        " axis",
        OURS,
        _cheek,
        shapes=("flat",),
    ),
    Rule(
        "housing_length_mm",
        "2.5 pivots",
        f"{TRADE}: a plain bearing that must not tilt is two to three diameters long",
        lambda d: d.up(2.5 * d.pivot_diameter_mm, 2),
    ),
    Rule(
        "shank_length_mm",
        "along the tube, and three shanks or 50 mm in the tool post",
        TRADE,
        lambda d: d.up(
            d.housing_length_mm - SETBACK_MM + most(50.0, 3 * d.shank_stock.width_mm), 2
        ),
    ),
    Rule(
        "weld_leg_mm",
        "0.6 of the wall left round the bore, 3 to 6 mm",
        OURS,
        lambda d: d.down(
            least(6.5, most(3.2, 0.3 * (d.tube_stock.width_mm - d.pivot_diameter_mm))), 0.5
        ),
    ),
)
