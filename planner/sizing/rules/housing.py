"""The shank, the tube and what joins them."""

from __future__ import annotations

from typing import Any

import numpy as np
from msgspec.structs import replace

from parts.drag import HEAD_OVER, drag_material
from parts.housing import nut_reach_mm
from parts.standard.materials import SPARES_STEEL, material
from parts.stop import HEADS_APART, MOST_BAR, SEAT_GAP_MM, least_bar_mm
from planner.sizing.catalogue import Bars, NothingFits, Options
from planner.sizing.draft import OURS, TRADE, Draft, Rule, flat_bar, one, round_bar
from planner.sizing.post import post_near_mm
from planner.sums.columns import alike, least, most


def _drag_bar(d: Draft) -> Options:
    """The drag screw's bar: the thinnest of the shop's own, the knob's and the dial's that takes its
    head, where those are of brass or bronze; else one to buy for it."""
    dial = d.job.materials.dial
    asked = d.series.nearest(HEAD_OVER * d.drag_thread.major_mm) + d.nominal(1.0)
    if material(dial).group not in SPARES_STEEL:
        return round_bar(d, drag_material(dial, d.series), asked)
    bars, knob = d.shop.bars("round", dial), d.knob_stock.width_mm
    listed = np.where(bars.listed[:, None] & (bars.width_mm >= asked), bars.width_mm, np.inf)
    thin = least(listed.min(axis=0, initial=np.inf), np.where(knob >= asked, knob, np.inf))
    return round_bar(d, dial, least(d.dial_stock.width_mm, thin))


def _wall_mm(d: Draft, pivot_mm: Any) -> Any:
    return most(d.nominal(3.0), 0.2 * pivot_mm)


def _seat_flat_mm(d: Draft) -> Any:
    wall = (d.tube_stock.width_mm - d.pivot_diameter_mm) / 2
    return d.series.nearest(least(d.nominal(3.0), most(0.3, 0.35 * wall)))


def _beds(tube: Any, d: Draft) -> Any:
    flat = _seat_flat_mm(d)
    radius = tube.width_mm / 2
    half_height = np.sqrt(most(0.0, 2 * radius * flat - flat**2))
    return half_height - (d.spindle_over_seat_mm - d.shank_stock.width_mm) >= 1.5


def _tube(d: Draft) -> Options:
    pivot, same = np.unique(np.atleast_1d(d.pivot_diameter_mm), return_inverse=True)
    wall = _wall_mm(d, pivot)

    def fits(s: Bars) -> Any:
        inside = s.width_mm - 2 * s.thickness_mm if s.shape == "tube" else 0.0
        return (s.width_mm >= pivot + 2 * wall) & (inside <= pivot - 0.5)

    wanted = (
        f"an outside of at least {d.job.numbers.size(one(pivot + 2 * wall))}, a hole of at most"
        f" {d.job.numbers.size(one(pivot) - 0.5)}"
    )
    found = d.shop.section(("tube", "round"), d.job.materials.structure, wanted, fits)
    return replace(found, same=same)


def _cheek(d: Draft) -> Options:
    """Nothing where the tube beds on the shank, else a plate from the seat to above the axis."""
    beds = np.atleast_1d(_beds(d.tube_stock, d))
    height = d.spindle_over_seat_mm + 0.3 * d.tube_stock.width_mm
    flats = flat_bar(d, height, least(10.0, most(7.9, 0.6 * d.shank_stock.width_mm)), ("flat",))
    same = np.zeros(1, dtype=np.intp) if flats.same is None else flats.same
    rows = max(len(beds), len(same))
    kinds = flats.fits.shape[1]  # and one kind of row more, that needs none
    fits = np.zeros((len(flats.items) + 1, kinds + 1), dtype=bool)
    fits[1:, :kinds], fits[0, kinds] = flats.fits, True
    same = np.where(np.broadcast_to(beds, (rows,)), kinds, np.broadcast_to(same, (rows,)))
    origins = ("rule", *flats.origins)
    return replace(flats, items=(None, *flats.items), origins=origins, fits=fits, same=same)


def _shank(d: Draft) -> Options:
    limit = min(d.job.tool_post.largest_shank, one(d.post_depth_mm))
    return d.shop.section(
        ("square",),
        d.job.materials.structure,
        f"a side of at most {d.job.numbers.size(limit)}",
        lambda s: (s.width_mm >= 6.0) & (s.width_mm <= limit + 1e-6),
        largest=True,
    )


def _post_gap(d: Draft) -> Any:
    """Beside the nut where the job allows it and the post's near side clears it, else behind."""
    beside = d.nominal(1.0)
    behind = d.thread_run_mm + beside
    post = d.job.tool_post
    if post.holding == "behind the nut" or (post.holding is None and post.stands_out is None):
        return behind
    if post.holding == "beside the nut":
        return np.full_like(np.atleast_1d(behind), beside)
    room = post_near_mm(d, d.job) - nut_reach_mm(d)
    return np.where(room >= -1e-9, beside, behind)


def _stop(d: Draft) -> Options:
    """The largest square that goes under the pin and leaves the seat free, else none."""
    keys = np.broadcast_arrays(
        *map(np.atleast_1d, (d.stop_drop_mm, d.shank_stock.width_mm, d.stop_major_mm))
    )
    first, same = alike(np.stack(keys, axis=1).astype(float))
    drop, shank, major = (key[first] for key in keys)
    room = d.spindle_over_seat_mm - drop - SEAT_GAP_MM
    two_screws = shank / 2 >= HEADS_APART * major
    inside = d.spindle_over_seat_mm - drop - shank + major

    def fits(s: Bars) -> Any:
        in_shank = s.width_mm / 2 >= inside  # the fixing screws, in the bar's middle
        thick = s.width_mm >= least_bar_mm(major) - 1e-6
        low = s.width_mm <= least(room, MOST_BAR * major) + 1e-6
        return thick & low & two_screws & in_shank

    try:
        bars = d.shop.section(
            ("square",), d.job.materials.structure, "a square bar", fits, largest=True
        )
    except NothingFits:
        return Options((None,), ("rule",), np.array([[True]]))
    found = np.atleast_2d(bars.fits)
    none = ~found.any(axis=0, keepdims=True)
    return replace(
        bars,
        items=(*bars.items, None),
        origins=(*bars.origins, "rule"),
        fits=np.concatenate([found, none]),
        same=same,
    )


STOP_SCREWS = "thin nut, set screw, socket screw"
"""What the stop bar wants of its thread."""


HOUSING: tuple[Rule, ...] = (
    Rule(
        "shank_stock",
        "the largest the tool post takes, no thicker than the post is deep",
        TRADE,
        _shank,
        shapes=("square",),
    ),
    Rule(
        "tube_stock",
        "a wall of {3 mm} or 0.2 of the pivot left round the bore, and a hole that cleans up",
        OURS,
        _tube,
        shapes=("tube", "round"),
    ),
    Rule(
        "shank_flat_mm",
        "depth of the flat for the shank: about a third of the wall, at most {3 mm}",
        OURS,
        lambda d: d.series.nearest(_seat_flat_mm(d), 0.1),
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
        "drag_thread",
        "a small one: it presses, of brass",
        OURS,
        lambda d: d.shop.tapped(4.7, "any"),
    ),
    Rule(
        "drag_stock",
        "the shop's own, the knob's bar or the dial's, the thinnest that takes its head, where those"
        " are brass or bronze; else brass, {1 mm} to turn off its head",
        OURS,
        _drag_bar,
        shapes=("round",),
    ),
    Rule(
        "post_gap_mm",
        "from the tube's end to the tool post: {1 mm} where the post clears the nut that turns beside"
        " it, else behind the nut by {1 mm}",
        "geometry",
        _post_gap,
    ),
    Rule(
        "stop_thread",
        "0.22 of the shank",
        OURS,
        lambda d: d.shop.tapped(
            least(8.0, most(2.9, 0.22 * d.shank_stock.width_mm)), STOP_SCREWS, own_to=1.2
        ),
        sold=STOP_SCREWS,
    ),
    Rule(
        "stop_stock",
        "the largest square between the handle pin and the seat, with room for the stop screws; none"
        " where less than {6 mm}, or two of them, would go",
        OURS,
        _stop,
        shapes=("square",),
    ),
    Rule(
        "shank_length_mm",
        "along the tube, through the whole tool post, and so far behind it that the knob swings clear",
        "geometry",
        lambda d: d.up(
            d.housing_length_mm
            - d.setback_mm
            + d.post_gap_mm
            + d.post_depth_mm
            + most(
                d.nominal(2.0),
                d.knob_diameter_mm / 2
                + d.clearance_mm
                - most(d.stop_mm, d.handle_stock.width_mm) / 2,
            )
        ),
    ),
    Rule(
        "weld_leg_mm",
        "0.6 of the wall left round the bore, {3} to {6 mm}",
        OURS,
        lambda d: d.down(
            least(6.5, most(3.2, 0.3 * (d.tube_stock.width_mm - d.pivot_diameter_mm))), 0.5
        ),
    ),
)
