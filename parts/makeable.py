"""What cannot be made: the geometry of each feature against the metal it is made in.

Closed form and by feature type, so that a part with sizes that no machinist could make is refused by
its own constructor, before a solid is asked for. It looks for nonsense, not for strength: what a wall
must be is a requirement of the planner. Imported by parts.part alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import singledispatch
from math import hypot, isfinite, pi, radians, tan

from parts import features as f
from parts.blank import Joined, Member, Stock
from parts.features import Feature
from parts.metal import Metal, Piece, metal, piece, stretch
from parts.places import SAME_MM
from parts.standard.fits import Limits
from parts.standard.threads import thread

WELD_GAP_MM = 0.5
"""Members that are to be welded stand no farther apart than this (common practice)."""


def complaints(name: str, blank: Stock | Joined, features: Sequence[Feature]) -> list[str]:
    """Everything that is wrong with a part's geometry; each names the feature and the sizes."""
    found: list[str] = []
    if isinstance(blank, Joined):
        for member in blank.members:
            found += _of_piece(f"{name}, {member.name}", member.blank, member.features)
        found += [f"{name}: {text}" for text in _welds(blank)]
    else:
        found += [f"{name}: {text}" for text in _stock(blank)]
    made = metal(name, blank, features)
    found += [f"{name}: {text}" for text in _of_features(made)]
    return found


def _of_piece(name: str, stock: Stock, features: Sequence[Feature]) -> list[str]:
    """What is wrong with one member by itself, before it is welded."""
    found = [*_stock(stock)]
    found += _of_features(metal(name, stock, features))
    return [f"{name}: {text}" for text in found]


def _of_features(made: Metal) -> Iterator[str]:
    for feature in made.features:
        for text in faults(feature, made):
            yield f"{feature.name}: {text}"


def _stock(stock: Stock) -> Iterator[str]:
    if not (isfinite(stock.length_mm) and stock.length_mm > 0):
        yield f"its blank is {stock.length_mm:g} mm long"


def _welds(blank: Joined) -> Iterator[str]:
    by_name = {member.name: member for member in blank.members}
    for weld in blank.welds:
        missing = [name for name in weld.members if name not in by_name]
        if missing:
            yield f"{weld.name}: joins {', '.join(missing)}, which is no member"
            continue
        one, other = (by_name[name] for name in weld.members)
        if not (weld.leg_mm > 0 and weld.length_mm > 0):
            yield f"{weld.name}: leg {weld.leg_mm:g}, run {weld.length_mm:g} mm"
        thinnest = min(one.blank.section.thinnest_mm, other.blank.section.thinnest_mm)
        if weld.leg_mm > thinnest + SAME_MM:
            yield f"{weld.name}: leg {weld.leg_mm:g} mm on {thinnest:g} mm of metal"
        gap = _gap_mm(_placed(one), _placed(other))
        if gap > WELD_GAP_MM:
            yield f"{weld.name}: {one.name} and {other.name} stand {gap:.3g} mm apart"


def _placed(member: Member) -> Piece:
    return piece(member.name, member.blank, member.frame)


def _gap_mm(one: Piece, other: Piece) -> float:
    return max(max(one.low[i] - other.high[i], other.low[i] - one.high[i], 0.0) for i in range(3))


def _size(size: Limits, what: str) -> Iterator[str]:
    if not (isfinite(size.nominal_mm) and size.min_mm > 0):
        yield f"{what} {size.nominal_mm:g} mm is no size"
    if size.lower_mm > size.upper_mm:
        yield f"its limits {size.upper_mm:g}, {size.lower_mm:g} are the wrong way round"


# ---- one rule a feature type ----


@singledispatch
def faults(feature: Feature, made: Metal) -> Iterator[str]:
    """What is wrong with a feature in its metal.

    Raises TypeError for a feature type without a rule: add one here.
    """
    raise TypeError(f"no geometry rule for {type(feature).__name__}")


@faults.register
def _(feature: f.FacedLength, made: Metal) -> Iterator[str]:
    yield from _size(feature.length, "length")
    one = made.pieces[0]
    length = one.high[one.along] - one.low[one.along]
    if abs(feature.length.nominal_mm - length) > SAME_MM:
        yield f"{feature.length.nominal_mm:g} mm, but the blank is {length:g} mm long"


def _stations(feature: f.Turned, made: Metal) -> Iterator[str]:
    """Stations in order, and inside some piece of the part."""
    if feature.end_mm <= feature.start_mm + SAME_MM:
        yield f"from {feature.start_mm:g} to {feature.end_mm:g} mm it has no length"
        return
    along, (low, high) = stretch(feature)
    pieces = [bar] if (bar := made.bar(feature)) else made.pieces
    if not any(p.low[along] - SAME_MM <= low and high <= p.high[along] + SAME_MM for p in pieces):
        ends = f"{feature.start_mm:g} to {feature.end_mm:g} mm"
        yield f"from {ends} it runs past the end of its metal"


def _turned(feature: f.Turned, diameter: Limits, made: Metal) -> Iterator[str]:
    """Stations, a size, and a bar that thick."""
    yield from _stations(feature, made)
    yield from _size(diameter, "diameter")
    bar = made.bar(feature)
    if bar is not None and diameter.nominal_mm > 2 * bar.radius_mm + SAME_MM:
        yield f"Ø{diameter.nominal_mm:g} is fatter than its blank, Ø{2 * bar.radius_mm:g}"


@faults.register
def _(feature: f.TurnedDiameter, made: Metal) -> Iterator[str]:
    yield from _turned(feature, feature.diameter, made)


@faults.register
def _(feature: f.FacedShoulder, made: Metal) -> Iterator[str]:
    yield from _turned(feature, feature.diameter, made)


@faults.register
def _(feature: f.Thread, made: Metal) -> Iterator[str]:
    yield from _stations(feature, made)
    size, under = thread(feature.thread), made.diameter_at(feature)
    bar = made.bar(feature)
    if under is not None:
        least, most = under.diameter.min_mm, under.diameter.max_mm
    elif bar is not None:
        least = most = 2 * bar.thinnest_mm(stretch(feature)[1])
    else:
        yield f"{feature.thread} has no bar to be cut on"
        return
    if most > size.major_mm + 1e-3 or least < size.pitch_diameter_mm:
        yield f"{feature.thread} on Ø{most:g}, which is no diameter for it"


def _on_cylinder(feature: f.Knurl | f.EngravedScale | f.IndexMark, made: Metal) -> Iterator[str]:
    yield from _turned(feature, feature.diameter, made)
    under = made.diameter_at(feature)
    if under is not None and abs(under.diameter.nominal_mm - feature.diameter.nominal_mm) > 1e-3:
        there = under.diameter.nominal_mm
        yield f"on Ø{feature.diameter.nominal_mm:g}, but Ø{there:g} is turned there"


@faults.register
def _(feature: f.Knurl, made: Metal) -> Iterator[str]:
    yield from _on_cylinder(feature, made)
    if not 0 < feature.pitch_mm < feature.diameter.nominal_mm:
        yield f"pitch {feature.pitch_mm:g} mm on Ø{feature.diameter.nominal_mm:g}"


@faults.register
def _(feature: f.EngravedScale, made: Metal) -> Iterator[str]:
    yield from _on_cylinder(feature, made)
    apart = pi * feature.diameter.nominal_mm / max(feature.divisions, 1)
    if feature.divisions < 1 or apart < 2 * feature.line_width_mm:
        yield f"{feature.divisions} lines {feature.line_width_mm:g} wide stand {apart:.2g} mm apart"


@faults.register
def _(feature: f.IndexMark, made: Metal) -> Iterator[str]:
    yield from _on_cylinder(feature, made)
    if not 0 < feature.line_width_mm < feature.diameter.nominal_mm / 4:
        yield f"a line {feature.line_width_mm:g} mm wide on Ø{feature.diameter.nominal_mm:g}"


@faults.register
def _(feature: f.TurnedBall, made: Metal) -> Iterator[str]:
    yield from _turned(feature, feature.diameter, made)
    if feature.end_mm - feature.start_mm > feature.diameter.nominal_mm + SAME_MM:
        length = feature.end_mm - feature.start_mm
        yield f"SØ{feature.diameter.nominal_mm:g} over {length:g} mm"


def _hole(feature: f.Hole, diameter_mm: float, made: Metal, lead_mm: float = 0.0) -> Iterator[str]:
    """In metal that surrounds it, as deep as it says and no deeper."""
    if not feature.depth_mm > SAME_MM:
        yield f"{feature.depth_mm:g} mm deep"
        return
    along, (low, high) = stretch(feature)
    radius, origin = diameter_mm / 2, feature.axis.origin
    round_it = [
        p
        for p in made.pieces
        if p.low[along] < high - SAME_MM
        and p.high[along] > low + SAME_MM
        and p.surrounds(origin, along, radius)
    ]
    if not round_it:
        yield f"Ø{diameter_mm:g} breaks out of the metal it is made in"
        return
    forward = feature.axis.along[0] == "+"
    end = (
        (high + lead_mm if forward else low - lead_mm)
        if not feature.through
        else (high if forward else low)
    )
    extents = [p.extent(origin, along, radius) for p in round_it]
    far = max(b for _, b in extents) if forward else min(a for a, _ in extents)
    past = (end - far) if forward else (far - end)
    if feature.opens_into:
        if made.named(feature.opens_into) is None:
            yield f"opens into {feature.opens_into}, which is no feature of the part"
    elif feature.through and past < -SAME_MM:
        yield f"is said to go through, but ends {-past:.3g} mm before the far side"
    elif not feature.through and past > -SAME_MM:
        yield f"blind, {feature.depth_mm:g} mm deep, but comes out at the far side"
    yield from _run_in(feature, radius, made)


def _run_in(feature: f.Hole, radius_mm: float, made: Metal) -> Iterator[str]:
    """Holes of one part that run into each other without being meant to."""
    for other in made.features:
        if other is feature:
            return  # each pair once
        if not isinstance(other, f.Hole) or _meant(feature, other):
            continue
        if _apart_mm(feature, other) < radius_mm + hole_mm(other) / 2 - SAME_MM:
            yield f"runs into the {other.name}"


def _meant(one: f.Hole, other: f.Hole) -> bool:
    """Whether two holes meet by design: one opens into the other, or they are in line."""
    if one.name == other.opens_into or other.name == one.opens_into:
        return True
    along, _ = stretch(one)
    same = one.axis.along[1] == other.axis.along[1]
    a, b = one.axis.origin, other.axis.origin
    return same and all(abs(a[i] - b[i]) < SAME_MM for i in range(3) if i != along)


def _apart_mm(one: f.Hole, other: f.Hole) -> float:
    """The least distance of two holes' axes, each between its ends."""
    boxes = []
    for hole in (one, other):
        along, (low, high) = stretch(hole)
        ends = [[c, c] for c in hole.axis.origin]
        ends[along] = [low, high]
        boxes.append(ends)
    gaps = (max(a[0] - b[1], b[0] - a[1], 0.0) for a, b in zip(boxes[0], boxes[1], strict=True))
    return hypot(*gaps)


@singledispatch
def hole_mm(feature: f.Hole) -> float:
    """The diameter of a hole as it is drawn: a tapped one's is its thread's."""
    raise TypeError(f"no diameter for {type(feature).__name__}")


@hole_mm.register(f.DrilledHole)
@hole_mm.register(f.ReamedHole)
@hole_mm.register(f.Bore)
@hole_mm.register(f.Counterbore)
def _(feature: f.DrilledHole | f.ReamedHole | f.Bore | f.Counterbore) -> float:
    return feature.diameter.nominal_mm


@hole_mm.register
def _(feature: f.TappedHole) -> float:
    return thread(feature.thread).major_mm


@faults.register(f.DrilledHole)
@faults.register(f.ReamedHole)
@faults.register(f.Bore)
@faults.register(f.Counterbore)
def _(feature: f.DrilledHole | f.ReamedHole | f.Bore | f.Counterbore, made: Metal) -> Iterator[str]:
    yield from _size(feature.diameter, "diameter")
    yield from _hole(feature, feature.diameter.nominal_mm, made)


@faults.register
def _(feature: f.TappedHole, made: Metal) -> Iterator[str]:
    size = thread(feature.thread)
    yield from _hole(feature, size.major_mm, made, size.tap_lead_mm)


def _removed(feature: f.Removed, made: Metal) -> Iterator[str]:
    """A box with an inside, that takes something away and leaves one piece."""
    if feature.box.empty:
        size = " x ".join(f"{edge:.4g}" for edge in feature.box.size())
        yield f"{size} mm: it would take nothing away"
        return
    met = [p for p in made.pieces if p.meets(feature.box)]
    if not met:
        yield "lies beside the metal"
    for one in met:
        covered = one.covered(feature.box)
        inside = [
            one.low[i] + SAME_MM < feature.box.low[i]
            and feature.box.high[i] < one.high[i] - SAME_MM
            for i in range(3)
        ]
        if all(covered):
            yield f"takes all of the {one.name} away"
        elif sum(covered) == 2 and inside[covered.index(False)]:
            yield f"cuts the {one.name} in two"


@faults.register(f.ScribedLine)
def _(feature: f.ScribedLine, made: Metal) -> Iterator[str]:
    yield from _removed(feature, made)


@faults.register
def _(feature: f.MilledFlat, made: Metal) -> Iterator[str]:
    if not feature.locations:
        yield "says nothing of what it is measured from"
        return
    yield from _size(feature.across, "size")
    if feature.box.empty:
        yield from _removed(feature, made)


@faults.register(f.MilledSlot)
@faults.register(f.Slit)
def _(feature: f.MilledSlot | f.Slit, made: Metal) -> Iterator[str]:
    yield from _size(feature.width, "width")
    yield from _removed(feature, made)
    edges = feature.box.size()
    if not feature.box.empty and all(
        abs(edge - feature.width.nominal_mm) > SAME_MM for edge in edges
    ):
        yield f"width {feature.width.nominal_mm:g} mm is none of its sizes"


@faults.register
def _(feature: f.SawnNotch, made: Metal) -> Iterator[str]:
    yield from _removed(feature, made)
    if not feature.box.empty and feature.corner_radius_mm >= max(feature.box.size()):
        yield f"its corner R{feature.corner_radius_mm:g} is larger than the notch"


@faults.register
def _(feature: f.GroundPoint, made: Metal) -> Iterator[str]:
    one = made.pieces[0]
    half = (one.high[1] - one.low[1]) / 2
    if not (0 < feature.included_deg < 180 and 0 < feature.clearance_deg < 45):
        yield f"{feature.included_deg:g} degrees included, {feature.clearance_deg:g} clearance"
        return
    if not 0 < feature.nose_radius_mm < half:
        yield f"nose R{feature.nose_radius_mm:g} on a bit {2 * half:g} mm wide"
    if half / tan(radians(feature.included_deg / 2)) > one.high[0] - one.low[0]:
        yield f"the bit, {one.high[0] - one.low[0]:g} mm long, is all point"


@faults.register
def _(feature: f.Weld, made: Metal) -> Iterator[str]:
    return iter(())  # looked at with the members it joins
