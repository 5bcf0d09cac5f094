"""What really swings against what the planner's envelope says swings.

The envelope is a set of outlines, each of lines parallel to the pivot with a radius about them; what it
claims is that nothing lies outside the hull of an outline's lines, from its first station to its last.
Here points of the solids are held against that, thing by thing, and against the reaches that the checks
read off it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

import numpy as np
from msgspec.structs import replace
from real_things import Points, Thing, posed_points

from parts.attachment import Attachment, Carrier
from parts.features import GroundPoint, SawnNotch
from parts.part import Bought, Part, every_feature
from parts.value import Value
from planner.geometry.envelope import Outline, lowest, swinging_outlines
from planner.geometry.swept import deepest

WITHIN_MM = 0.01
"""What a point may stand out of its outline."""

ROUND = np.radians(np.arange(0.0, 360.0, 1.0))
WAYS = np.array((np.cos(ROUND), np.sin(ROUND)))
"""Directions square to the pivot in which an outline is tried: a corner between two of them is
missed by no more than 1 - cos 0.5 degrees of its distance."""


class Outside(Value, frozen=True):
    """A thing that stands out of the envelope: by how much, and where its worst point lies at rest."""

    name: str
    by_mm: float
    at: tuple[float, float, float]


def outlines(whole: Attachment, things: Sequence[Thing]) -> list[tuple[Outline, ...]]:
    """What the envelope says of each thing that swings, taken alone."""
    return [
        swinging_outlines(replace(whole, placed=(thing.placed,)))
        if thing.carrier is not Carrier.POST
        else ()
        for thing in things
    ]


def stands_out_mm(points: Points, claims: Sequence[Outline]) -> Points:
    """By how much each point lies outside every outline; inf where none passes its station.

    An outline is a prism: the hull of its edges, from the least station of any to the greatest.
    """
    out = np.full(len(points), inf)
    for edges in claims:
        low = min(edge.x_low_mm for edge in edges) - WITHIN_MM
        high = max(edge.x_high_mm for edge in edges) + WITHIN_MM
        lines = np.array([(edge.y_mm, edge.z_mm) for edge in edges])
        reach = (lines @ WAYS + np.array([edge.round_mm for edge in edges])[:, None]).max(axis=0)
        here = (points[:, 0] >= low) & (points[:, 0] <= high)
        out[here] = np.minimum(out[here], (points[here, 1:] @ WAYS - reach).max(axis=1))
    return out


def known_mm(things: Sequence[Thing]) -> dict[str, float]:
    """What the envelope is known to leave out, by the name of the thing: what may stand out then.

    The radius that a saw or a file leaves in the corner of a notch, and how far a rounded point's
    sides stand outside those of a sharp one. An envelope that has them keeps within this all the more.
    """
    known: dict[str, float] = {}
    for thing in things:
        if isinstance(thing.placed.item, Part):
            for _, feature in every_feature(thing.placed.item):
                if isinstance(feature, SawnNotch):
                    left = feature.corner_radius_mm
                elif isinstance(feature, GroundPoint):
                    left = feature.nose_radius_mm
                else:
                    continue
                known[thing.name] = max(known.get(thing.name, 0.0), left)
    return known


def outside(
    things: Sequence[Thing],
    claims: Sequence[Sequence[Outline]],
    known: Mapping[str, float] | None = None,
    only: str = "",
) -> list[Outside]:
    """Every thing that swings with a point outside its own outline and outside every other's.

    claims: the outlines of each thing; known: what may stand out, by name; only: the one thing that is
    looked at, by name. A screw's shank needs no outline of its own where it stands in a part that has
    one. The head's things move out together, so the tip radius does not matter here.
    """
    found = []
    for number, thing in enumerate(things):
        if thing.carrier is Carrier.POST or only not in ("", thing.name):
            continue
        left = stands_out_mm(thing.points, claims[number])
        for other, claim in enumerate(claims):
            if other != number and things[other].carrier is thing.carrier:
                bad = left > WITHIN_MM
                if bad.any():
                    left[bad] = np.minimum(left[bad], stands_out_mm(thing.points[bad], claim))
        worst = int(left.argmax())
        if left[worst] > WITHIN_MM + (known or {}).get(thing.name, 0.0):
            x, y, z = thing.points[worst]
            found.append(Outside(thing.name, float(left[worst]), (float(x), float(y), float(z))))
    return found


class Reached(Value, frozen=True):
    """A reach as the envelope says it and as points of the solids have it, mm."""

    what: str
    said_mm: float
    real_mm: float


def reaches(
    whole: Attachment, things: Sequence[Thing], to_deg: float, within_mm: float
) -> list[Reached]:
    """Down and toward the chuck, over the swing from the nose to an angle, at three tip radii.

    Of everything together, then of each thing but screws, whose shanks stand in other things.
    within_mm: only what comes less than this near the spindle's axis counts toward the chuck.
    """
    s = whole.sizes
    radii, swing = (s.tip_radius_min_mm, s.tip_radius_max_mm), (0.0, to_deg)
    real = {
        thing.name: _reach(thing, (*radii, sum(radii) / 2), to_deg, within_mm)
        for thing in things
        if thing.carrier is not Carrier.POST
    }
    found = []
    swinging = [thing for thing in things if thing.carrier is not Carrier.POST]
    for what, outlined, names in (
        ("all", swinging_outlines(whole), list(real)),
        *(
            (t.name, swinging_outlines(replace(whole, placed=(t.placed,))), [t.name])
            for t in swinging
        ),
    ):
        if "screw" in _kind(things, what):
            continue
        edges = tuple(edge for outline in outlined for edge in outline)
        down, back = (max(real[name][way] for name in names) for way in (0, 1))
        found.append(Reached(f"{what}: down", lowest(edges, radii, swing).distance_mm, down))
        if back > -inf:
            reach = deepest(outlined, radii, swing, within_mm)
            found.append(
                Reached(f"{what}: to the chuck", reach.distance_mm if reach else 0.0, back)
            )
    return found


def _kind(things: Sequence[Thing], name: str) -> str:
    items = [thing.placed.item for thing in things if thing.name == name]
    return next((item.kind for item in items if isinstance(item, Bought)), "")


def _reach(
    thing: Thing, radii: Sequence[float], to_deg: float, within_mm: float
) -> tuple[float, float]:
    """How far down and how far toward the chuck the points of a thing really come."""
    down, back = -inf, -inf
    for radius in radii if thing.carrier is Carrier.HEAD else radii[:1]:
        for deg in np.arange(0.0, to_deg + 1e-9, 0.5):
            at = posed_points(thing.corners, thing.carrier, radius, float(deg))
            down = max(down, float(-at[:, 1].min()))
            near = at[np.hypot(at[:, 0], at[:, 1]) < within_mm]
            if len(near):
                back = max(back, float(-near[:, 2].min()))
    return down, back
