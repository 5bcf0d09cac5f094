"""What of one part goes with what of another: fits, threads in tapped holes, surfaces that agree.

Imported by parts.attachment, which shows these names to everyone else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import Literal

from parts.features import TappedHole, Thread
from parts.part import Bought, Part, every_feature
from parts.placed import Placed
from parts.places import SAME_MM, Agreement, Place, element
from parts.sizes import Sizes
from parts.standard.fits import Limits, limits
from parts.standard.threads import thread
from parts.value import Value


class Fit(Value, frozen=True):
    """A hole and the shaft that runs in it; the hole is made first and the shaft made to it.

    play: the size (parts.sizes) that says their greatest clearance where the shaft is made to the hole
    as it came out; "" where the limits of both say it.

    seat: what limits how wide the hole may be bored for a bush: the "tube" it is in, the "slits" of a
    clamp, which would cut a bush loose, or "" where metal enough stands round it.
    """

    hole_part: str
    hole: str
    shaft_part: str
    shaft: str
    play: str = ""
    seat: Literal["", "tube", "slits"] = ""


SEAT_WALL_MM = 2.0
"""So much metal is left round what a bush is pressed into, or it bulges (common practice)."""


def widest_seat_mm(fit: Fit, s: Sizes) -> float:
    """How wide a fit's hole may be bored for a bush: a tube keeps its wall where it is flat."""
    if fit.seat == "tube":
        return s.tube_stock.width_mm - 2 * (s.shank_flat_mm + SEAT_WALL_MM)
    return 0.0 if fit.seat == "slits" else inf


class Overlap(Value, frozen=True):
    """Two items whose nominal solids may overlap: an outer thread in an inner one's tap drill.

    outer, inner: a part's name, or the use of a bought item.
    """

    outer: str
    inner: str


FITS = (
    Fit("housing", "pivot bore", "rotating-body", "journal", "pivot_play_mm", "tube"),
    Fit("rotating-body", "rod bore", "sliding-head", "rod", "rod_play_mm", "slits"),
    Fit("rotating-body", "spigot bore", "rotating-body", "spigot"),
    Fit("sliding-head", "rod hole", "sliding-head", "rod spigot"),
    Fit("dial", "dial bore", "feed-screw", "screw journal"),
)
"""Which hole takes which shaft."""

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
    Agreement("touching", "dial/blank:x-low", "index-ring/blank:x-high", "takes the feed's thrust"),
    Agreement(
        "touching", "index-ring/blank:x-low", "rotating-body/block:y-low", "hands the thrust on"
    ),
    Agreement(
        "coaxial", "index-ring/ring bore:axis", "rotating-body/feed screw hole:axis", "round it"
    ),
    Agreement(
        "coaxial",
        "index-ring/near ring hole:axis",
        "rotating-body/near index hole:axis",
        "its screw",
    ),
    Agreement(
        "coaxial",
        "index-ring/far ring hole:axis",
        "rotating-body/far index hole:axis",
        "its screw",
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
    Agreement(
        "coaxial", "pivot-nut/nut thread:axis", "rotating-body/pivot thread:axis", "screwed on"
    ),
    Agreement("touching", "pivot-nut/blank:x-low", "housing/tube:x-low", "takes the end play"),
    Agreement("coaxial", "drag-screw/drag thread:axis", "housing/drag hole:axis", "screwed in"),
)
"""What of one part agrees with what of another, tip on top and at radius zero."""


def screwed(placed: Sequence[Placed]) -> tuple[Overlap, ...]:
    """Every outer thread in its inner one: the same thread on the same axis, of two things in place.

    placed: as they stand, tip on top and at radius zero; the head moves along the feed screw's axis, so
    that what is in line there is in line at every radius.
    """
    holes = [(p, *hole) for p in placed for hole in _threads(p, TappedHole)]
    found: dict[Overlap, None] = {}
    for outer in placed:
        for designation, axis in _threads(outer, Thread):
            for inner, wanted, line in holes:
                if outer is not inner and designation == wanted and _SAME_AXIS.holds(axis, line):
                    found.setdefault(Overlap(outer.name, inner.name))
    return tuple(found)


_SAME_AXIS = Agreement("coaxial", "outer:axis", "inner:axis", "a screw in its hole")


def _threads(p: Placed, kind: type[Thread] | type[TappedHole]) -> Iterator[tuple[str, Place]]:
    """Designation and axis of each thread of a kind on a thing, in the frame of the whole."""
    if isinstance(p.item, Bought):
        if kind is Thread and p.item.kind.endswith(("screw", "stud")):
            yield thread(p.item.thread).designation, Place("axis", 0, (0, 0, 0)).placed(p.frame)
        return
    for member, feature in every_feature(p.item):
        if isinstance(feature, kind):
            axis = element(feature, "axis")
            own = axis.placed(member.frame) if member else axis
            yield thread(feature.thread).designation, own.placed(p.frame)


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
