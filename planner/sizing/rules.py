"""The rules of sizing: one a size, in the order of parts.sizes.Sizes, each with its source.

A rule is a name, the rule in words, where it comes from and a function of what is already known.
sizing.apply applies them; a new size is a field of Sizes and a rule here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import pi
from typing import Any

import numpy as np

from parts.screw import LINE_SPACING_MM
from parts.sizes import DRESSING_MM, Sizes, thread_run_mm
from parts.standard.fasteners import clearance_hole_mm, washer
from planner.geometry.envelope import USUAL_STEM
from planner.job.tables import Job
from planner.sizing.catalogue import Bars, Catalogue, Options
from planner.sums.columns import down, least, most, up

OURS = "rule of this design"
TRADE = "common practice"

SLENDERNESS = 2.75
"""Free length of the rod over its diameter at the largest ball."""

LEAST_ROD_MM = 9.5
"""A thinner rod leaves its clamp and the handle's thread too little metal."""


class Draft:
    """The sizes known so far, as columns, and the job and catalogue they are chosen with.

    A size is an attribute; so is any property of Sizes that follows from known ones.
    """

    def __init__(self, job: Job, shop: Catalogue) -> None:
        self.job, self.shop = job, shop
        self.step_mm = 25.4 / 16 if job.inch else 1.0
        self.known: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        known = self.__dict__.get("known", {})
        if name in known:
            return known[name]
        if name in LOOKED_UP:
            of, look_up = LOOKED_UP[name]
            known[name] = known[of].of(look_up)
            return known[name]
        derived = getattr(Sizes, name, None)
        if isinstance(derived, property) and derived.fget is not None:
            return derived.fget(self)
        raise AttributeError(f"size '{name}' is used before its rule")

    def up(self, value_mm: Any, steps: float = 1) -> Any:
        """Rounded up to a whole step: 1 mm or 1/16 in, or that many of them."""
        return up(value_mm, self.step_mm * steps)

    def down(self, value_mm: Any, steps: float = 1) -> Any:
        """Rounded down to a whole step."""
        return down(value_mm, self.step_mm * steps)


LOOKED_UP: dict[str, tuple[str, Callable[[Any], float]]] = {
    "cheek_mm": ("cheek_stock", lambda cheek: cheek.thickness_mm if cheek else 0.0),
    "thread_run_mm": ("pivot_thread", lambda size: thread_run_mm(size.designation)),
    "pivot_washer_mm": ("pivot_thread", lambda size: washer(size.designation).outside_mm),
}
"""Properties of Sizes that are looked up by an entry: the size it is, and the look-up."""


@dataclass(frozen=True)
class Rule:
    """How one size is found: ``value`` returns it, or the Options it may be chosen from."""

    name: str
    text: str
    source: str
    value: Callable[[Draft], Any]


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
        f"an outside of at least {_one(pivot + 2 * wall):.4g} mm, a hole of at most"
        f" {_one(pivot) - 0.5:.4g} mm"
    )
    return d.shop.section(("tube", "round"), d.job.materials.structure, wanted, fits)


def _cheek(d: Draft) -> Options:
    """Nothing where the tube beds on the shank, else a plate from the seat to above the axis."""
    beds = np.atleast_1d(_beds(d.tube_stock, d))
    height = d.spindle_over_seat_mm + 0.3 * d.tube_stock.width_mm
    flats = _flat(d, height, least(10.0, most(7.9, 0.6 * d.shank_stock.width_mm)), ("flat",))
    rows = max(len(beds), flats.fits.shape[1])
    none = np.broadcast_to(beds, (1, rows))
    fits = np.concatenate([none, np.broadcast_to(flats.fits, (len(flats.items), rows)) & ~none])
    return replace(flats, items=(None, *flats.items), origins=("rule", *flats.origins), fits=fits)


def _one(value: Any) -> float:
    """A number for a sentence: the least of a column."""
    return float(np.min(value))


def _round(d: Draft, material: str, at_least_mm: Any) -> Options:
    return d.shop.section(
        ("round",),
        material,
        f"a diameter of at least {_one(at_least_mm):.4g} mm",
        lambda s: s.width_mm >= at_least_mm - 1e-6,
    )


def _flat(
    d: Draft, width_mm: Any, thickness_mm: Any, shapes: tuple[str, ...] = ("flat", "square")
) -> Options:
    return d.shop.section(
        shapes,
        d.job.materials.structure,
        f"at least {_one(width_mm):.4g} x {_one(thickness_mm):.4g} mm",
        lambda s: (s.width_mm >= width_mm - 1e-6) & (s.height_mm >= thickness_mm - 1e-6),
    )


def _shank(d: Draft) -> Options:
    limit = d.job.tool_post.largest_shank
    return d.shop.section(
        ("square",),
        d.job.materials.structure,
        f"a side of at most {limit:.4g} mm",
        lambda s: (s.width_mm >= 6.0) & (s.width_mm <= limit + 1e-6),
        largest=True,
    )


def _rod_mm(d: Draft) -> Any:
    return most(LEAST_ROD_MM, d.tip_radius_max_mm / SLENDERNESS)


def _clearance(d: Draft) -> float:
    return d.job.attachment.clearance or (25.4 / 16 if d.job.inch else 2.0)


def _clamp_hole_mm(d: Draft) -> Any:
    return d.clamp_screw.of(lambda size: clearance_hole_mm(size.designation))


RULES: tuple[Rule, ...] = (
    Rule(
        "spindle_over_seat_mm", "the lathe's", "job file", lambda d: d.job.lathe.spindle_over_seat
    ),
    Rule(
        "spindle_over_cross_slide_mm",
        "the lathe's",
        "job file",
        lambda d: d.job.lathe.spindle_over_cross_slide,
    ),
    Rule(
        "largest_shank_mm", "the tool post's", "job file", lambda d: d.job.tool_post.largest_shank
    ),
    Rule(
        "max_ball_diameter_mm",
        "the largest ball wanted",
        "job file",
        lambda d: d.job.attachment.max_ball_diameter,
    ),
    Rule(
        "min_ball_diameter_mm",
        "the smallest ball wanted, or a third of the largest",
        "job file",
        lambda d: d.job.attachment.min_ball_diameter or d.down(d.max_ball_diameter_mm / 3),
    ),
    Rule(
        "max_blank_diameter_mm",
        "the thickest blank wanted, or the largest ball's diameter",
        "job file",
        lambda d: d.job.attachment.max_blank_diameter or d.max_ball_diameter_mm,
    ),
    Rule(
        "screw_pitch_mm", "advance for one turn", "job file", lambda d: d.job.attachment.screw_pitch
    ),
    Rule(
        "dial_divisions", "lines on the dial", "job file", lambda d: d.job.attachment.dial_divisions
    ),
    Rule(
        "clearance_mm",
        "kept between what moves and what stands; 2 mm or 1/16 in unless given",
        TRADE,
        _clearance,
    ),
    Rule("structure_material", "welded parts", "job file", lambda d: d.job.materials.structure),
    Rule("shaft_material", "pivot shaft and rod", "job file", lambda d: d.job.materials.shaft),
    Rule("screw_material", "feed screw and handle", "job file", lambda d: d.job.materials.screw),
    Rule("dial_material", "dial and knob", "job file", lambda d: d.job.materials.dial),
    Rule("tool_material", "cutting tool", "job file", lambda d: d.job.shop.tool_material),
    Rule(
        "tip_radius_max_mm",
        "clears the corner of the thickest blank: root of (blank/2)^2 + (ball/2)^2, plus clearance",
        "geometry: the blank's end is faced at the ball's nose",
        lambda d: d.up(
            np.hypot(d.max_blank_diameter_mm / 2, d.max_ball_diameter_mm / 2) + d.clearance_mm
        ),
    ),
    Rule(
        "tip_radius_min_mm",
        "half the smallest ball",
        "geometry",
        lambda d: d.min_ball_diameter_mm / 2,
    ),
    Rule(
        "travel_mm",
        "from the smallest ball out to the blank's corner",
        "geometry",
        lambda d: d.tip_radius_max_mm - d.tip_radius_min_mm,
    ),
    Rule(
        "arm_overhang_mm",
        "half the thickest blank plus clearance: the body stands beside the blank",
        "geometry",
        lambda d: d.up(d.max_blank_diameter_mm / 2 + d.clearance_mm),
    ),
    Rule(
        "rod_diameter_mm",
        f"free length at the largest ball at most {SLENDERNESS:g} diameters, at least"
        f" {LEAST_ROD_MM:g} mm; a reamer's size",
        f"{TRADE}: a steel bar is steady to about four diameters; kept well inside",
        lambda d: d.shop.reamer(_rod_mm(d), 1.4 * _rod_mm(d)),
    ),
    Rule(
        "rod_stock",
        "1 mm to turn off the rod",
        TRADE,
        lambda d: _round(d, d.job.materials.shaft, d.rod_diameter_mm + 1.0),
    ),
    Rule(
        "clamp_screw",
        "at least 0.35 of the rod",
        OURS,
        lambda d: d.shop.tapped(0.35 * d.rod_diameter_mm, "socket screw"),
    ),
    Rule(
        "clamp_screw_from_front_mm",
        "half its clearance hole plus 3 mm of metal in front",
        OURS,
        lambda d: d.up(_clamp_hole_mm(d) / 2 + 3.0, 0.5),
    ),
    Rule(
        "rod_from_front_mm",
        "behind the clamp screw's hole, 2 mm of metal between them",
        OURS,
        lambda d: d.up(
            d.clamp_screw_from_front_mm + _clamp_hole_mm(d) / 2 + 2.0 + d.rod_diameter_mm / 2
        ),
    ),
    Rule(
        "leaf_thickness_mm",
        "0.45 of the rod, at least 4 mm: the lever on its hinge, stiff",
        OURS,
        lambda d: d.up(most(4.0, 0.45 * d.rod_diameter_mm)),
    ),
    Rule("slit_width_mm", "a slitting saw's", TRADE, lambda d: 25.4 / 16 if d.job.inch else 1.6),
    Rule(
        "hinge_mm",
        "0.18 of the rod, at least 2 mm: thin enough to turn, thick enough to hold",
        OURS,
        lambda d: d.up(most(2.0, 0.18 * d.rod_diameter_mm), 0.5),
    ),
    Rule(
        "pivot_diameter_mm",
        "1.2 rods",
        OURS,
        lambda d: d.shop.reamer(1.2 * d.rod_diameter_mm, 1.5 * d.rod_diameter_mm),
    ),
    Rule(
        "pivot_thread",
        "the largest that leaves its thin nuts room to pass over, 2 mm under the pivot",
        OURS,
        lambda d: d.shop.nut_thread(d.pivot_diameter_mm - 2.0),
    ),
    Rule(
        "spigot_diameter_mm",
        "2 mm or 1/8 in over the pivot, so that all of the journal is turned after welding",
        OURS,
        lambda d: d.pivot_diameter_mm + (2.0 if not d.job.inch else 25.4 / 8),
    ),
    Rule(
        "shaft_stock",
        "1 mm to turn off the spigot",
        TRADE,
        lambda d: _round(d, d.job.materials.shaft, d.spigot_diameter_mm + 1.0),
    ),
    Rule(
        "pin_diameter_mm",
        "clear of the nuts: under the pivot thread's root",
        OURS,
        lambda d: d.down(d.pivot_thread.minor_external_mm - 0.3, 0.5),
    ),
    Rule(
        "feed_thread",
        "of the pitch asked for, 0.4 (or 10 mm) to 0.65 of the rod",
        OURS,
        lambda d: d.shop.of_pitch(
            d.job.attachment.screw_pitch,
            least(10.0, 0.4 * d.rod_diameter_mm),
            0.65 * d.rod_diameter_mm,
        ),
    ),
    Rule(
        "feed_journal_diameter_mm",
        "not under the thread, and room for a nut thread 1.5 mm under it; a reamer's size",
        OURS,
        lambda d: d.shop.reamer(
            most(d.feed_thread.major_mm, 7.9 if d.job.inch else 6.0),
            1.3 * d.feed_thread.major_mm,
        ),
    ),
    Rule(
        "feed_collar_diameter_mm",
        "6 mm over the journal",
        OURS,
        lambda d: d.up(d.feed_journal_diameter_mm + 6.0),
    ),
    Rule("feed_collar_thickness_mm", "5 mm or 3/16 in", OURS, lambda d: d.up(4.7)),
    Rule(
        "feed_tail_thread",
        "the largest whose thin nuts pass over, 1.5 mm under the journal",
        OURS,
        lambda d: d.shop.nut_thread(d.feed_journal_diameter_mm - 1.5),
    ),
    Rule(
        "dial_diameter_mm",
        f"lines {LINE_SPACING_MM:g} mm apart on the rim, and room for fingers and a set screw",
        TRADE,
        lambda d: d.up(
            most(
                d.dial_divisions * LINE_SPACING_MM / pi,
                3.0 * d.feed_journal_diameter_mm,
                22.0,
            ),
            2,
        ),
    ),
    Rule(
        "dial_stock",
        "1 mm to turn off the rim",
        TRADE,
        lambda d: _round(d, d.job.materials.dial, d.dial_diameter_mm + 1.0),
    ),
    Rule(
        "dial_rim_mm",
        "room for the longest line and its numeral: 0.6 of the rod, 7 to 9 mm",
        OURS,
        lambda d: d.up(least(9.0, most(7.0, 0.6 * d.rod_diameter_mm))),
    ),
    Rule("dial_length_mm", "the rim and as much knurl", OURS, lambda d: 2 * d.dial_rim_mm),
    Rule("dial_set_screw", "a small one", OURS, lambda d: d.shop.tapped(3.9, "set screw")),
    Rule(
        "feed_offset_mm",
        "the dial clears the rod's tail by 1 mm",
        "geometry",
        lambda d: d.up(d.dial_diameter_mm / 2 + d.rod_diameter_mm / 2 + 1.0),
    ),
    Rule(
        "flat_offset_mm",
        "from the rod's axis to the foot's flat: past the dial's rim by 1 mm, and 5 mm of metal beyond"
        " the feed screw",
        "geometry",
        lambda d: (
            d.feed_offset_mm
            + most(d.dial_diameter_mm / 2 + 1.0, d.feed_journal_diameter_mm / 2 + 5.0)
        ),
    ),
    Rule(
        "block_stock",
        "holds leaf, rod and the foot's flat; behind the rod 8 mm or 0.4 of the pivot",
        OURS,
        lambda d: _flat(
            d,
            d.rod_diameter_mm / 2 + d.leaf_thickness_mm + d.flat_offset_mm + DRESSING_MM,
            d.rod_from_front_mm
            + d.rod_diameter_mm / 2
            + most(8.0, 0.4 * d.pivot_diameter_mm)
            + DRESSING_MM,
        ),
    ),
    Rule(
        "block_length_mm",
        "two rods, and 5 mm round the shaft's spigot",
        OURS,
        lambda d: d.up(most(2 * d.rod_diameter_mm, d.spigot_diameter_mm + 10.0), 2),
    ),
    Rule(
        "block_back_wall_mm",
        "what the block leaves behind the rod",
        "geometry",
        lambda d: (
            d.block_stock.height_mm - DRESSING_MM - d.rod_from_front_mm - d.rod_diameter_mm / 2
        ),
    ),
    Rule(
        "bit_stock",
        "0.14 of the greatest tip radius; a stocked bit",
        OURS,
        lambda d: d.shop.tool_bit(most(4.7, 0.14 * d.tip_radius_max_mm)),
    ),
    Rule(
        "tool_screw",
        "0.7 of the bit",
        OURS,
        lambda d: d.shop.tapped(0.7 * d.bit_stock.width_mm, "set screw"),
    ),
    Rule(
        "arm_lead_mm",
        "from the bit's middle to the arm's chuck side: half the bit and 3.5 mm, so that it reaches"
        " behind the ball",
        OURS,
        lambda d: d.up(d.bit_stock.width_mm / 2 + 3.5, 0.5),
    ),
    Rule(
        "bit_stickout_mm",
        "one and a half bits; what keeps the arm off the feed screw's collar at the smallest ball;"
        " and what keeps its corner off the usual stem with the tip at the neck",
        "geometry",
        lambda d: d.up(
            most(
                1.5 * d.bit_stock.width_mm,
                d.block_length_mm / 2 + d.feed_collar_thickness_mm + 1.0 - d.tip_radius_min_mm,
                (d.clearance_mm + d.arm_lead_mm * np.sqrt(1 - USUAL_STEM**2)) / USUAL_STEM,
            ),
            0.5,
        ),
    ),
    Rule(
        "arm_width_mm",
        "the bit with one tool screw's diameter of thread each side, or the rod and 4 mm",
        OURS,
        lambda d: d.up(
            most(
                d.bit_stock.width_mm + 2 * d.tool_screw.major_mm,
                d.rod_diameter_mm + 4.0,
            )
        ),
    ),
    Rule(
        "foot_stock",
        "as wide as 1.25 rods, 8 mm or 5/16 in thick",
        OURS,
        lambda d: _flat(d, 1.25 * d.rod_diameter_mm, 7.9),
    ),
    Rule(
        "arm_stock",
        "wide enough for arm, feed nut and foot; thick for 1.5 diameters of feed thread and"
        " 1/1.8 of the overhang",
        OURS,
        lambda d: _flat(
            d,
            d.arm_width_mm / 2 + d.flat_offset_mm + d.foot_stock.height_mm,
            most(
                1.5 * d.feed_thread.major_mm,
                d.arm_overhang_mm / 1.8,
                0.7 * d.rod_diameter_mm,
            ),
        ),
    ),
    Rule(
        "arm_length_mm",
        "overhang, to the rod, and past it by half the foot or the rod and 4 mm",
        "geometry",
        lambda d: d.up(
            d.arm_overhang_mm
            + d.rod_from_front_mm
            + most(d.foot_stock.width_mm / 2, d.rod_diameter_mm / 2 + 4.0)
        ),
    ),
    Rule(
        "foot_length_mm",
        "still on the flat by 15 mm or 0.75 rods with the head right out",
        OURS,
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            - d.block_length_mm / 2
            + most(15.0, 0.75 * d.rod_diameter_mm)
        ),
    ),
    Rule(
        "rod_length_mm",
        "below the arm: still 1.5 diameters in the clamp with the head right out",
        TRADE,
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            - d.block_length_mm / 2
            + 1.5 * d.rod_diameter_mm
        ),
    ),
    Rule(
        "feed_thread_length_mm",
        "from the collar through the arm with the head right out",
        "geometry",
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            + d.arm_stock.height_mm
            - d.block_length_mm / 2
            - d.feed_collar_thickness_mm
        ),
    ),
    Rule(
        "feed_stock",
        "0.5 mm to turn off the collar",
        TRADE,
        lambda d: _round(d, d.job.materials.screw, d.feed_collar_diameter_mm + 0.5),
    ),
    Rule("shank_stock", "the largest the tool post takes", TRADE, _shank),
    Rule(
        "tube_stock",
        "a wall of 3 mm or 0.2 of the pivot left round the bore, and a hole that cleans up",
        OURS,
        _tube,
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
        lambda d: d.up(d.housing_length_mm - 4.0 + most(50.0, 3 * d.shank_stock.width_mm), 2),
    ),
    Rule(
        "weld_leg_mm",
        "0.6 of the wall left round the bore, 3 to 6 mm",
        OURS,
        lambda d: d.down(
            least(6.5, most(3.2, 0.3 * (d.tube_stock.width_mm - d.pivot_diameter_mm))), 0.5
        ),
    ),
    Rule(
        "handle_thread",
        "0.45 of the pin it goes through",
        OURS,
        lambda d: d.shop.tapped(0.45 * d.pin_diameter_mm, "any"),
    ),
    Rule(
        "handle_stock",
        "2 mm over its thread",
        OURS,
        lambda d: _round(d, d.job.materials.screw, d.handle_thread.major_mm + 1.9),
    ),
    Rule(
        "handle_length_mm",
        "three times the greatest tip radius: a third of the tangential force at the hand",
        "lever",
        lambda d: d.up(3 * d.tip_radius_max_mm, 5),
    ),
    Rule(
        "knob_diameter_mm",
        "fills the hand: 22 mm, or three handle threads; no larger than the largest ball unless"
        " the thread needs it",
        OURS,
        lambda d: most(
            least(d.up(most(22.0, 3 * d.handle_thread.major_mm)), d.max_ball_diameter_mm),
            d.up(2.5 * d.handle_thread.major_mm),
        ),
    ),
    Rule(
        "knob_stock",
        "1 mm over the ball",
        TRADE,
        lambda d: _round(d, d.job.materials.dial, d.knob_diameter_mm + 1.0),
    ),
)
