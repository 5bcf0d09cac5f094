"""What of one part goes with what of another: fits, declared overlaps, surfaces that agree.

Imported by parts.attachment, which shows these names to everyone else.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from parts.part import Part, every_feature
from parts.places import SAME_MM, Agreement
from parts.standard.fits import Limits, limits


@dataclass(frozen=True)
class Fit:
    """A hole and the shaft that runs in it; the hole is made first and the shaft made to it."""

    hole_part: str
    hole: str
    shaft_part: str
    shaft: str


@dataclass(frozen=True)
class Overlap:
    """Two items whose nominal solids may overlap: an outer thread in an inner one's tap drill.

    outer, inner: a part's name, or the use of a bought item.
    """

    outer: str
    inner: str


CLAMPS_ROD, HOLDS_BIT, HOLDS_DIAL = "clamps the rod", "holds the bit", "holds the dial"
"""What the screws are for."""

FITS = (
    Fit("housing", "pivot bore", "rotating-body", "journal"),
    Fit("rotating-body", "rod bore", "sliding-head", "rod"),
    Fit("rotating-body", "spigot bore", "rotating-body", "spigot"),
    Fit("sliding-head", "rod hole", "sliding-head", "rod spigot"),
    Fit("dial", "dial bore", "feed-screw", "screw journal"),
)
"""Which hole takes which shaft."""


OVERLAPS = (
    Overlap("handle", "rotating-body"),
    Overlap("handle", "knob"),
    Overlap("feed-screw", "sliding-head"),
    Overlap(CLAMPS_ROD, "rotating-body"),
    Overlap(HOLDS_BIT, "sliding-head"),
    Overlap(HOLDS_DIAL, "dial"),
)
"""Every outer thread in its inner one: a cylinder of the major diameter in a tap drill's hole."""

AGREEMENTS = (
    Agreement(
        "touching",
        "housing/thrust face:start",
        "rotating-body/body thrust face:start",
        "the thrust faces run on each other",
    ),
    Agreement("coaxial", "housing/pivot bore:axis", "rotating-body/journal:axis", "the pivot"),
    Agreement(
        "coaxial", "rotating-body/rod bore:axis", "sliding-head/rod/rod:axis", "the rod slides"
    ),
    Agreement(
        "touching", "dial/blank:x-low", "rotating-body/block:y-low", "takes the feed's thrust"
    ),
    Agreement(
        "touching", "feed-screw/collar:end", "rotating-body/block:y-high", "and its back thrust"
    ),
    Agreement(
        "coaxial",
        "feed-screw/screw journal:axis",
        "rotating-body/feed screw hole:axis",
        "runs in it",
    ),
    Agreement("coaxial", "dial/dial bore:axis", "feed-screw/screw journal:axis", "sits on it"),
    Agreement(
        "coaxial", "feed-screw/feed thread:axis", "sliding-head/feed nut thread:axis", "moves it"
    ),
    Agreement("coaxial", "handle/shaft end:axis", "rotating-body/handle hole:axis", "screwed in"),
    Agreement("coaxial", "knob/knob hole:axis", "handle/knob end:axis", "screwed on"),
)
"""What of one part agrees with what of another, tip on top and at radius zero."""


def loose_fits(made: Mapping[str, Part]) -> list[str]:
    """Every fit whose shaft does not go into its hole, or is loose in it, by the limits of both.

    made: parts by name; a fit of a part that is missing is left out. Loosest: the tolerance IT10 of the
    size (ISO 286-1), which is more than any running fit of this design (common practice).
    """
    found = []
    for fit in FITS:
        if fit.hole_part not in made or fit.shaft_part not in made:
            continue
        hole = _diameter(made[fit.hole_part], fit.hole)
        shaft = _diameter(made[fit.shaft_part], fit.shaft)
        where = f"{fit.shaft_part}, {fit.shaft} in {fit.hole_part}, {fit.hole}"
        if hole.min_mm < shaft.max_mm - SAME_MM:
            found.append(f"{where}: Ø{shaft.max_mm:g} does not go into Ø{hole.min_mm:g}")
        elif hole.max_mm - shaft.min_mm > limits(hole.nominal_mm, "H10").upper_mm + SAME_MM:
            found.append(f"{where}: Ø{shaft.min_mm:g} is loose in Ø{hole.max_mm:g}")
    return found


def _diameter(part: Part, name: str) -> Limits:
    found: Limits = next(f for _, f in every_feature(part) if f.name == name).diameter  # type: ignore[attr-defined]
    return found
