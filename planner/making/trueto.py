"""What a cut that must lie true to a datum is set by: the datum itself, clocked over its length.

A vice's jaw on a bar as it was rolled, or on a weldment, says nothing of a journal. Imported by the
ways that mill a face and by making.inplace.
"""

from __future__ import annotations

from collections.abc import Iterator

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature
from parts.part import Part, datum_place, every_feature, members
from parts.places import Trueness, element
from planner.making.apart import apart_in
from planner.making.model import Align
from planner.making.near import way_of
from planner.words.numbers import Numbers

SHARE = 0.5
"""What of a trueness the setting may use up; the machine and what bends have the rest (common
practice)."""

READINGS_MM = (0.02, 0.015, 0.01, 0.005)
"""What an indicator may show over the length of what is clocked (common practice)."""


ON_TRAVEL = "true to the slide's travel"
"""What sets work about a line square to the table."""


def set_to_datum(
    part: Part, feature: Feature, up: str, align: tuple[Align, ...]
) -> tuple[Align, ...]:
    """What is clocked before a feature is cut: what the hold says, and the datum it must lie true to.

    up: which way of the part's looks at the tool, or away from the table. Where the datum sets the same
    angle as what is held, that alone is clocked.
    """
    found = tuple(
        one
        for true in part.trueness
        if true.of.partition(":")[0] == feature.name
        and true.characteristic in ("parallelism", "perpendicularity")
        for letter in true.datums
        for one in _by(part, feature, true, letter, way_of(up)[0])
    )
    if any(one.what.endswith(ON_TRAVEL) for one in found):
        align = tuple(one for one in align if one.what != ON_TRAVEL)
    return (*align, *found)


def _by(part: Part, feature: Feature, true: Trueness, letter: str, up: int) -> Iterator[Align]:
    """The round that lies along a datum, or whose shoulder the datum is, level, upright or in line."""
    datum = datum_place(part, None, letter).along
    own = element(feature, true.of.partition(":")[2]).along
    if datum == own:
        return
    about = 3 - datum - own
    found = _round_along(part, datum)
    if found is None:
        return
    name, long_mm = found
    box = getattr(feature, "box", None)
    size = box.size()[3 - own - about] if box is not None else long_mm
    within = reading_mm(true.value_mm, size, long_mm)
    what = f"the {name.rpartition('/')[2]}, over its length, "
    if about == up:
        what += ON_TRAVEL
    else:
        what += "square to the table" if datum == up else "parallel to the table"
    yield Align(what, f"{name}.round", "dial indicator", within)


def free_side(part: Part, bore: f.Bore) -> tuple[str, float]:
    """The side, away from a bore, of what is in the tool post when it is bored; how long it is, mm."""
    seat = part.datums[bore.locations[0].datum]
    held = next(member for member in members(part) if member.name == seat.of)
    box = held.blank.box.placed(held.frame)
    along = way_of(bore.axis.along)[0]
    k = 3 - datum_place(part, None, bore.locations[0].datum).along - along
    away = box.low[k] + box.high[k] > 2 * bore.axis.origin[k]
    return f"{held.name}.{'+' if away else '-'}{'xyz'[k]}", box.size()[along]


def set_in_post(part: Part, attachment: Attachment, hole: f.Hole) -> tuple[Align, ...]:
    """What sets the pivot of a part that runs in another, in the tool post, square across the bed.

    It is the side that the other one's bore was set by; nothing where the hole need not be square.
    """
    true = next(
        (
            one
            for one in part.trueness
            if one.of == f"{hole.name}:axis" and one.characteristic == "perpendicularity"
        ),
        None,
    )
    if true is None:
        return ()
    other = next((one for one in attachment.parts if one.name == hole.made_with), None)
    bore = next((one for one in other.features if isinstance(one, f.Bore)), None) if other else None
    if other is None or bore is None:
        return ()
    side, long_mm = free_side(other, bore)
    round_ = _round_along(part, datum_place(part, None, true.datums[0]).along)
    if round_ is None:
        return ()
    what = (
        f"the {other.name}'s {side.partition('.')[0]} square to the bed: its side, over its length, by"
        " the cross slide's travel"
    )
    within = reading_mm(true.value_mm, hole.depth_mm, long_mm)
    return (Align(what, f"{round_[0]}.round", "dial indicator", within, (other.name, side)),)


def in_its_own(part: Part, attachment: Attachment, holder: str) -> tuple[str, tuple[str, ...]]:
    """What of the attachment draws a part home in the one it runs in, so that the place where it stands
    is its own: in words, and the names of those parts. What seizes on its like is not
    drawn home dry."""
    carrier = {one.name: one.carrier for one in attachment.placed}
    nuts = tuple(
        one.name
        for one in attachment.placed
        if isinstance(one.item, Part)
        and one.seat is not None
        and one.seat.on == holder
        and one.carrier == carrier[part.name] != carrier[holder]
    )
    items = (one.item for one in attachment.placed if one.name in (holder, *nuts))
    others = [one for one in items if isinstance(one, Part)]
    smeared = apart_in(part, others)
    words = f", {smeared} where it runs and on the thread" * bool(smeared) + "".join(
        f", drawn home on the thrust faces by the {name.replace('-', ' ')}" for name in nuts
    )
    return words, nuts


def reading_mm(true_mm: float, size_mm: float, long_mm: float) -> float:
    """What the indicator may show over so long a surface, for one of a size to be so true."""
    most = SHARE * true_mm * long_mm / size_mm
    return next((one for one in READINGS_MM if one <= most), READINGS_MM[-1])


def run_out(
    part: Part, face: f.FacedShoulder, usual_mm: float, numbers: Numbers
) -> tuple[float, str]:
    """What a face may run out, mm, and how that is said: what the part's sheet has, where that is less
    than what is usual."""
    of = f"{face.name}:start"
    drawn = (
        one.value_mm for one in part.trueness if one.of == of and one.characteristic == "run-out"
    )
    least = min(drawn, default=usual_mm)
    if least >= usual_mm:
        return usual_mm, numbers.within(usual_mm)
    return least, numbers.framed(least)


def _round_along(part: Part, along: int) -> tuple[str, float] | None:
    """The round that was turned about a datum axis of the part, and its length, mm."""
    axes = {
        datum.of
        for letter, datum in part.datums.items()
        if datum.element == "axis" and datum_place(part, None, letter).along == along
    }
    for member, feature in every_feature(part):
        name = f"{member.name}/{feature.name}" if member else feature.name
        if name in axes and isinstance(feature, f.TurnedDiameter):
            return name, abs(feature.end_mm - feature.start_mm)
    return None


ACROSS_MM = 0.2
"""How far a wall may be thicker on one side than on the other where it is bored, half of it (common
practice: what welding leaves of a tube is no truer)."""


def across(name: str, hollow: bool) -> Align:
    """How what is bored in the tool post comes onto the bar: its height is the seat's, its place across
    the cross slide's."""
    onto = (
        "its bore as far from the bar before it as behind"
        if hollow
        else "the middle scribed on its end at the headstock centre's point"
    )
    by = "caliper" if hollow else "eye-glass"
    return Align(f"the {name} across, by the cross slide: {onto}", f"{name}.round", by, ACROSS_MM)
