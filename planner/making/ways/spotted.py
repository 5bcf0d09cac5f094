"""What is spotted through another part: the hole that guides the drill, what keeps that part in place.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from parts import features as f
from parts.attachment import Attachment
from parts.frame import Frame
from parts.part import Part, every_feature
from parts.places import Place, element
from planner.making import bodies as b
from planner.making import cuts
from planner.making.model import Align, Line, Op
from planner.making.near import off_axis, way_of
from planner.making.ways.holes import drill_mm

if TYPE_CHECKING:
    from planner.making.holds import Holds

FACING_MM = 0.2
"""Two flats that bear on each other in use lie no farther apart (common practice)."""

ROD = "locating rod"
"""What a part is set by where no drill's shank is as thick as its holes: made for it (making.aids)."""

SHANK_MM = 13.0
"""A drill thicker than this has often a thinner shank (common practice: chucks of 13 mm, 1/2 in)."""

STANDS_OFF_MM = 10.0
"""A part that slides up to a corner stops so far from it: the cutter left its round there, of half of
16 mm, 5/8 in (common practice)."""

SPOT_MM = 1.0
"""A drill goes in so deep where it only spots (common practice)."""

HELD_MM = 0.05
"""A face held against another by a clamp is there within this (common practice)."""

BY_SHANK_MM, BY_CALIPER_MM = 0.2, 0.2
"""A drill's shank in holes of its size, and a caliper over holes, place a part within this (common
practice)."""


CLOCKED_MM = 0.05
"""A round that a hole must run along stands upright within this, over its length: the hole leans no
more than the play of what runs in it lets it (common practice)."""


CLOCKED_IN = ("machine vice", "clamps on the table", "cross slide")
"""What holds work by a face or two: not by the round itself, as V-blocks do."""


def clocked(
    work: Holds, attachment: Attachment, group: Sequence[f.Hole], up: str, align: tuple[Align, ...]
) -> tuple[Align, ...]:
    """What is set true where a hole runs along the shaft that another part slides on: that shaft too.

    group: what is made in the set-up. A hole that is spotted through the other part, and what follows
    on its axis, keep the shaft's direction: the face that the work lies on was welded to it.
    """
    upward, own = way_of(up)[0], work.on.part
    mates = {
        o.made_with
        for o in own.features
        if isinstance(o, f.Hole) and o.made_with
        and any(way_of(one.axis.along)[0] == upward
                and not off_axis(one.axis.origin, o.axis.origin, upward) for one in group)
    }  # fmt: skip
    fits = [
        o
        for o in attachment.fits
        for mate in mates
        if {o.hole_part, o.shaft_part} == {own.name, mate}
    ]
    rounds = [body for body in work.bodies if body.axis == upward]
    if not fits or not rounds:
        return align
    body = max(rounds, key=lambda o: o.size(upward))
    name = max(body.rounds, key=lambda r: r.high - r.low).surface
    indicated = work.shop.job.shop.measuring.dial_indicator
    what = f"shims under and beside the work until the {body.name} is both ways square to the table"
    by = "dial indicator" if indicated else "square"
    return (
        *(one for one in align if one.surface != name),
        Align(what, name, by, CLOCKED_MM),
    )


class Spotted:
    """One part spotted through another, as both stand in the whole."""

    def __init__(self, work: Holds, attachment: Attachment, other: str) -> None:
        self.work, self.attachment = work, attachment
        self.frames = {placed.name: placed.frame for placed in attachment.placed}
        self.own = work.on.part
        self.other = next(part for part in attachment.parts if part.name == other)
        self.words = other.replace("-", " ")

    def bush(self, hole: f.Hole) -> float | None:
        """The size of the other part's hole on the axis of one of this part, in the whole, mm.

        That of the drill that made it: where the shop has none of the hole's own size, that is another.
        """
        return next((drill_mm(one, self.work.shop) for one, _ in self._in_line(hole)), None)

    def spot(self, hole: f.Hole, line: Line, top: float, want: float) -> Op:
        """A spot through the other part's hole, by a drill of its size; want: what is drilled after."""
        bush = self.bush(hole) or want
        sign = way_of(line.along)[1]
        return Op(
            "spot", f"spot {hole.name} through the {self.words}'s own hole, with a drill that just"
            " goes through it", self.work.shop.drill_to_buy(bush), hole,
            cut=cuts.hole(line, (top, top + sign * SPOT_MM), min(bush, want or bush)),
            speed=("drill", bush), rate="spot", length_mm=2 * SPOT_MM,
        )  # fmt: skip

    def located(self, hole: f.Hole) -> tuple[Align, ...]:
        """What keeps the other part in its place while this hole is spotted through it."""
        return self._on_its_shaft(hole) or self._on_a_shank(hole)

    def _in_line(self, hole: f.Hole) -> Iterator[tuple[f.DrilledHole, Place]]:
        at = self._place(self.own, hole)
        for one, place in self._holes(self.other):
            if place.along == at.along and not off_axis(place.at, at.at, at.along):
                yield one, place

    def _on_its_shaft(self, hole: f.Hole) -> tuple[Align, ...]:
        """On a shaft of one in a bore of the other it can swing: flat is held against flat."""
        names = {self.own.name, self.other.name}
        fit = next((o for o in self.attachment.fits if {o.hole_part, o.shaft_part} == names), None)
        if fit is None:
            return ()
        along = self._place(self.own, hole).along
        for flat, surface, normal, at in self._flats(self.own):
            for facing, against, way, far in self._flats(self.other):
                turns = normal[0] != along
                if turns and normal == (way[0], -way[1]) and abs(at - far) < FACING_MM:
                    shop, on = self.work.shop, b.owner(self.work.bodies, hole.axis.origin).name
                    off = shop.numbers.size(shop.job.series.nominal(STANDS_OFF_MM))
                    what = (
                        f"the {self.words} pushed up the {fit.shaft} to {off} from the {on}, clear of"
                        f" the round in the corner there, its {facing.name} held against the"
                        f" {flat.name} by a clamp across both: else it swings"
                    )
                    return (
                        Align(what, surface, "feeler gauge", HELD_MM, (self.other.name, against)),
                    )
        return ()

    def _on_a_shank(self, hole: f.Hole) -> tuple[Align, ...]:
        """It lies on a face, the shank of a drill through a hole of both, its holes in line."""
        shop, along = self.work.shop, self._place(self.own, hole).along
        taken = {one.name for one, _ in self._in_line(hole)}
        mine = list(self._holes(self.own))
        for one, place in self._holes(self.other):
            for bore, at in mine:
                coaxial = place.along == at.along == along and not off_axis(place.at, at.at, along)
                if one.name in taken or not coaxial:
                    continue
                size = min(drill_mm(one, shop), drill_mm(bore, shop))
                by, rod = ROD, f"a rod turned to {shop.numbers.size(size)}"
                if size <= SHANK_MM:
                    drill = shop.numbers.drill(shop.named_drill(size))
                    by, rod = "drill shank", f"the shank of a drill of {drill}"
                what = (
                    f"the {self.words} held down by a clamp, through the {one.name} and the {bore.name}"
                    f" {rod}"
                )
                found = [Align(what, f"{bore.name}.bore", by, BY_SHANK_MM,
                               (self.other.name, f"{one.name}.bore"), size)]  # fmt: skip
                return (*found, *self._turned(hole, along))
        return ()

    def _turned(self, hole: f.Hole, along: int) -> Iterator[Align]:
        """How a part on a shank is turned: its holes as far from a flat as each other."""
        one = next((o for o, _ in self._in_line(hole)), None)
        mark = next((o for o in self.other.features if isinstance(o, f.IndexMark)), None)
        for flat, surface, normal, _ in self._flats(self.own):
            if one is not None and normal[0] != along:
                side = f"its {mark.name} away from the {flat.name}, " if mark else ""
                what = f"{side}both holes of the {self.words} equally far from the {flat.name}"
                against = (self.other.name, f"{one.name}.bore")
                yield Align(what, surface, "caliper", BY_CALIPER_MM, against)
                return

    def _holes(self, part: Part) -> Iterator[tuple[f.DrilledHole, Place]]:
        for member, one in every_feature(part):
            if isinstance(one, f.DrilledHole) and (member is None or member.blank is part.blank):
                yield one, self._place(part, one)

    def _place(self, part: Part, one: f.Feature) -> Place:
        return element(one, "axis").placed(self.frames[part.name])

    def _flats(self, part: Part) -> Iterator[tuple[f.MilledFlat, str, tuple[int, int], float]]:
        """The milled flats of a part: the surface, which way it looks in the whole, and where it is."""
        frame: Frame = self.frames[part.name]
        for one in part.features:
            if isinstance(one, f.MilledFlat):
                face = one.locations[0].element
                letter, _, side = face.partition("-")
                own, sign = "xyz".index(letter), {"low": 1, "high": -1}[side]
                place = element(one, face).placed(frame)
                way = frame.directions()[own][place.along]
                yield (
                    one,
                    f"{one.name}.{face}",
                    (place.along, sign if way > 0 else -sign),
                    (place.at[place.along]),
                )
