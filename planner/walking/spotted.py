"""A hole spotted through another part: the drill fills that part's hole, and the part cannot move.

Where the parts stand comes from parts.placed. Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from parts import features as f
from parts.fitting import FITS
from parts.frame import Frame
from parts.part import every_feature
from parts.places import element
from planner.walking.faults import Faults
from planner.walking.finished import line_of
from planner.walking.records import Missing, Record, need, number, rows, table, text
from planner.walking.shape import Line
from planner.walking.state import Key, Piece
from planner.walking.surfaces import Cylinder, NoSurface, Plane, Surface, surface

PLAY_MM = 0.25
"""A drill that is guided by a hole is no more than this smaller (common practice: of its size)."""

FACES_MM = 0.2
"""Faces that are held together lie in one plane, but for running clearance (common practice)."""

MATES_MM = 0.05
"""Holes are in line with each other within this."""

LEANS_MM = 0.055
"""A shaft that a hole is to run along is set upright within this over its length: 0.05, or 0.002 in
(common practice: half of a tenth of play)."""

BESIDE_MM = 0.3
"""So far beside a flat is looked at what stands there."""

OFF = "clear of the round in the corner"
"""What is said where a part stops short of a corner."""

TAKEN_OFF = ("drill", "ream", "tap", "counterbore", "bore")
"""What is done with the other part off."""


HELD_UPRIGHT = ("machine vice", "clamps on the table", "cross slide")
"""What holds work under a tool that comes from above, or from the lathe's spindle along the bed."""


class Spotting:
    """What is spotted through another part: where each part stands, what was taken off, and by what
    drill each hole of a part was made."""

    def __init__(self, frames: Mapping[str, Frame], pieces: dict[Key, Piece]) -> None:
        self.frames, self.pieces = frames, pieces
        self.off: set[tuple[object, str]] = set()
        self.drilled: dict[tuple[str, str], float] = {}
        self.rounds: dict[tuple[str, str], float] = {}

    def look(self, piece: Piece, operation: Record, setup: Record, faults: Faults) -> None:
        """One step of a set-up with other parts mounted."""
        feature = piece.features.get(str(operation.get("feature") or ""))
        if isinstance(feature, f.MilledFlat) and operation.get("kind") == "mill":
            self._corner(piece, feature, operation, setup)
        if not isinstance(feature, f.Hole) or piece.member is not None:
            return
        if operation.get("kind") == "drill":
            tool = table(operation, "tool")
            self.drilled[piece.part.name, feature.name] = number(tool, "diameter_mm")
        elif operation.get("kind") in ("bore", "ream"):
            self.drilled.pop((piece.part.name, feature.name), None)
        self._along_the_shaft(piece, feature, operation, setup, faults)
        for other in setup.get("with_parts") or ():
            there = self.pieces.get((str(other), ""))
            if there is None or other not in self.frames or piece.part.name not in self.frames:
                continue
            key = (setup.get("number"), str(other))
            if operation.get("kind") in TAKEN_OFF:
                self.off.add(key)
                continue
            line = self._line(piece, feature)
            guide = next((o for o, at in self._drilled(there) if at.same(line, MATES_MM)), None)
            if operation.get("kind") != "spot" or guide is None:
                continue
            if key in self.off:
                faults.refuse(
                    "route-spot-guide",
                    f"{feature.name} through {other}, put back",
                    "it was taken off for the hole before and may lie otherwise now",
                    "Spot all holes through it before it is taken off",
                )
            _fills(operation, guide, self._made(there, guide), faults)
            self._off_the_round(piece, str(other), setup, faults)
            if not self._kept(piece, there, setup, line):
                faults.refuse(
                    "route-spot-guide",
                    f"{feature.name} through {other}",
                    "nothing keeps it from turning or moving while it is spotted through",
                    "Hold face against face, or a rod through a hole of both, and say so",
                )

    def _corner(self, piece: Piece, flat: f.MilledFlat, operation: Record, setup: Record) -> None:
        """A cutter that mills a flat by its side leaves its round where metal stands at its end."""
        cut, up = table(operation, "cut"), str((setup.get("hold") or {}).get("up") or "")
        if cut.get("shape") != "flat" or not up or up[-1] == text(cut, "normal")[-1]:
            return
        normal, box = text(cut, "normal"), need(cut, "box")
        i, k = "xyz".index(normal[-1]), "xyz".index(up[-1])
        j, open_side = 3 - i - k, 1 if normal[0] == "+" else -1
        points = []
        for end, out in ((0, -1), (1, 1)):
            for part in range(1, 6):
                at = [0.0, 0.0, 0.0]
                at[i] = number(cut, "at_mm") + open_side * BESIDE_MM
                at[j] = float(box[end][j]) + out * BESIDE_MM
                at[k] = box[0][k] + (box[1][k] - box[0][k]) * part / 6
                points.append((at[0], at[1], at[2]))
        if any(piece.metal.at(*points)):
            radius = number(table(operation, "tool"), "diameter_mm") / 2
            self.rounds[piece.part.name, flat.name] = radius

    def _off_the_round(self, piece: Piece, other: str, setup: Record, faults: Faults) -> None:
        """What is held against a flat stops short of the round that its cutter left in a corner."""
        for one in rows(setup, "align"):
            name = text(one, "surface").partition(".")[0]
            radius = self.rounds.get((piece.part.name, name))
            against = one.get("against") or {}
            if radius is None or against.get("part") != other or OFF in text(one, "what"):
                continue
            faults.refuse(
                "route-spot-guide",
                f"{other} against the {name}, pushed home",
                f"the cutter left a round of {faults.mm(radius)} in the corner: it stands on that",
                "Stop it short of the corner, clear of the round, and say how far",
            )

    def _along_the_shaft(
        self, piece: Piece, feature: f.Hole, operation: Record, setup: Record, faults: Faults
    ) -> None:
        """A hole that is made with a part which slides on a shaft beside it runs along that shaft.

        Where it is begun or finished the shaft is set true, not only the face that is welded to it.
        """
        names = {piece.part.name, feature.made_with}
        fit = any({one.hole_part, one.shaft_part} == names for one in FITS)
        hold = setup.get("hold") or {}
        if not fit or not hold.get("up") or str(hold.get("by")) not in HELD_UPRIGHT:
            return
        if operation.get("kind") not in ("spot", "drill", "tap"):
            return
        along = line_of(feature.axis).along
        for one in rows(setup, "align"):
            try:
                own = surface(piece, text(one, "surface"))
            except NoSurface:
                continue
            upright = isinstance(own, Cylinder) and own.line.along == along and not own.inside
            if upright and not one.get("against") and number(one, "within_mm") <= LEANS_MM:
                return
        faults.refuse(
            "route-not-trued",
            f"{feature.name} beside the shaft of the {feature.made_with}",
            "nothing sets the shaft upright: what it is welded to may lean",
            "Clock the shaft both ways, and shim the work until it stands",
        )

    def _line(self, piece: Piece, feature: f.Hole) -> Line:
        place = element(feature, "axis").placed(self.frames[piece.part.name])
        return Line(place.along, 1, place.at)

    def _drilled(self, piece: Piece) -> Iterator[tuple[f.DrilledHole, Line]]:
        for _, feature in every_feature(piece.part):
            if isinstance(feature, f.DrilledHole) and feature.name in piece.features:
                yield feature, self._line(piece, feature)

    def _kept(self, piece: Piece, there: Piece, setup: Record, spot: Line) -> bool:
        """Whether a round takes the other part's place and something besides its angle."""
        names = {piece.part.name, there.part.name}
        centred = any({fit.hole_part, fit.shaft_part} == names for fit in FITS)
        turned = False
        for one in rows(setup, "align"):
            against = one.get("against")
            if not against or against.get("part") != there.part.name:
                continue
            try:
                own = self._placed(surface(piece, text(one, "surface")), piece)
                its = self._placed(surface(there, text(against, "surface")), there)
            except NoSurface:
                continue
            if isinstance(own, Plane) and own.along != spot.along:
                if isinstance(its, Plane):
                    turned |= its.along == own.along and abs(its.at - own.at) <= FACES_MM
                elif isinstance(its, Cylinder):  # measured from: a hole off the middle
                    turned |= its.line.along == spot.along
            elif isinstance(own, Cylinder) and isinstance(its, Cylinder):
                size = against.get("size_mm")
                if size is None:
                    raise Missing("align.against.size_mm")
                wide = min(self._wide(piece, one, own), self._wide(there, against, its))
                centred |= (
                    own.line.same(its.line, MATES_MM)
                    and 0 <= (wide + 0.02 - number(against, "size_mm")) <= PLAY_MM
                )
        return centred and turned

    def _made(self, piece: Piece, hole: f.DrilledHole) -> float:
        """How wide a hole is by the drill that made it, mm."""
        return self.drilled.get((piece.part.name, hole.name), hole.diameter.nominal_mm)

    def _wide(self, piece: Piece, named: Record, round_: Cylinder) -> float:
        """How wide a round is that a shank goes through, mm: a hole by its drill."""
        name = text(named, "surface").removesuffix(".bore")
        return self.drilled.get((piece.part.name, name), 2 * round_.radius)

    def _placed(self, one: Surface, piece: Piece) -> Surface:
        """A surface of a part where that stands in the whole."""
        frame = self.frames[piece.part.name]
        if isinstance(one, Plane):
            point = [0.0, 0.0, 0.0]
            point[one.along] = one.at
            along = frame.turned(one.along)
            return replace(one, along=along, at=frame.place((point[0], point[1], point[2]))[along])
        line = Line(frame.turned(one.line.along), 1, frame.place(one.line.through))
        return replace(one, line=line)


def _fills(operation: Record, guide: f.DrilledHole, size: float, faults: Faults) -> None:
    """The drill goes through the hole that guides it, size wide, without room to wander."""
    drill = number(table(operation, "tool"), "diameter_mm")
    if not -0.02 <= size - drill <= PLAY_MM:
        faults.refuse(
            "route-spot-guide",
            f"a drill of {faults.mm(drill)} in the {guide.name} of {faults.mm(size)}",
            f"it wanders by {faults.mm(size - drill)}"
            if size > drill
            else "it does not go through",
            "Spot with a drill that just goes through the hole on that axis",
        )
