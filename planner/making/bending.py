"""How deep a cut may be on a centre, so that what is thin beside the centre is not bent for good.

The centre's share of the cutting force bends what lies between it and the tool. Imported by
making.turned and making.ways.onaxis.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import floor, hypot, pi
from typing import TYPE_CHECKING

from parts.standard.cutting_data import cutting_data
from parts.standard.cutting_forces import PASSIVE_SHARE, specific_force_MPa
from parts.standard.materials import material
from planner.making.profile import Profile, Stretch

if TYPE_CHECKING:
    from planner.making.ways.onaxis import OnAxis

SAFE = 1.5
"""The stress of a cut stays under the yield by so much (common practice)."""

LEAST_CUT_MM = 0.1
"""Cuts are set no finer to rough by: thinner ones rub (common practice)."""

CUT_STEP_MM = 0.05
"""Depths are told in such steps."""

FOLLOWED_MM = 10.0
"""From so far into a cut the fingers of a travelling steady take its force (common practice)."""

Arms = list[tuple[float, float]]


def deepest_mm(metal: str, arms: Arms, inch: bool = False) -> float:
    """The deepest cut that all that lies between a centre and the tool bears, mm on the radius.

    metal: of materials.csv; arms: of each place its diameter, mm, above 0, and the bending there over
    the force of the cut, mm (``arms_mm``); inch: whether feed and cut
    are those of an inch job. Never more than the table's roughing cut, nor less than 0.1.
    """
    row, steel = cutting_data("turn", 0.0, inch), material(metal)
    if steel.yield_MPa is None:
        return row.depth_mm
    chip = specific_force_MPa(steel.group, row.feed_mm) * row.feed_mm
    for_a_mm = chip * hypot(1.0, PASSIVE_SHARE)
    borne = [
        steel.yield_MPa / SAFE * pi * thick**3 / 32 / (arm * for_a_mm) for thick, arm in arms if arm
    ]
    least = min(borne, default=row.depth_mm)
    if least >= row.depth_mm:
        return row.depth_mm
    return max(floor(least / CUT_STEP_MM + 1e-6) * CUT_STEP_MM, LEAST_CUT_MM)


def arms_mm(
    stretches: Iterable[Stretch],
    end: float,
    out_mm: float,
    cut: tuple[float, float],
    followed: bool,
) -> Arms:
    """Of what lies between a centre and the tool, each diameter and its greatest bending, mm.

    end: of the work, on the centre; out_mm: how far the jaws are from it; cut: from where to where it
    is turned; followed: a travelling steady takes the force once it is on what was turned. The bar is
    fast in the jaws and propped by the centre, which takes F (l - a)² (2 l + a) / (2 l³) of a force a
    from it (a handbook's formula, from memory).
    """
    near, far = sorted(abs(at - end) for at in cut)
    far = min(far, out_mm, near + FOLLOWED_MM if followed else far)
    found: Arms = []
    for one in stretches:
        begins, ends = sorted(abs(at - end) for at in (one.low, one.high))
        ends = min(ends, far)
        for step in range(1, 9):
            at = begins + (ends - begins) * step / 8
            tool = max(at, near)
            if at > begins and tool < out_mm:
                share = (out_mm - tool) ** 2 * (2 * out_mm + tool) / (2 * out_mm**3)
                found.append((one.diameter, share * at))
    return found


def borne_mm(on: OnAxis, cut: tuple[float, float], after_mm: float) -> float:
    """The deepest of the cuts to a diameter that the work bears, mm on the radius; 0 for any.

    on: the work as it is before, held as its set-up says; cut: from where to where; after_mm: diameter.
    """
    hold, inch, profile = on.setup.hold, on.shop.inch, on.profile
    if hold.centre is None or hold.out_mm is None or not on.metal:
        return 0.0
    state = Profile(*profile.stretches)
    state.turn(*cut, after_mm, "", False)
    end = profile.low if hold.centre.end[0] == "-" else profile.high
    here = [*state.stretches, *profile.cores]
    arms = arms_mm(here, end, hold.out_mm, cut, bool(hold.follows_mm))
    deepest = deepest_mm(on.metal, arms, inch)
    return deepest if deepest < cutting_data("turn", 0.0, inch).depth_mm else 0.0
