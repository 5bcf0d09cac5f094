"""Pieces come together: each finished, bright, with its bevels cut, and tacked before it is welded.

Imported by planner.walking.walk.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import numpy as np

from parts import features as f
from parts.part import Joined, Member, Part
from parts.places import Agreement, along_index, surface
from planner.walking.faults import Faults
from planner.walking.fineness import FINE_BAND_MM
from planner.walking.metal import Metal
from planner.walking.records import Missing, Record, rows, table, text
from planner.walking.shape import ANGLES, Line, Points, even
from planner.walking.state import Key, Piece, joined

BRIGHT = ("dress", "file", "grind")
"""What leaves bright metal where a weld goes."""


def join(part: Part, there: Mapping[Key, Piece], faults: Faults) -> Piece | None:
    """The weldment of a part's pieces, with what is wrong about them; None where one is missing."""
    if not isinstance(part.blank, Joined):
        return None
    pieces = {}
    for member in part.blank.members:
        piece = there.get((part.name, member.name))
        if piece is None:
            faults.refuse(
                "route-weld",
                f"{member.name} is not there",
                "all pieces are welded",
                "Saw and make it first",
            )
            return None
        pieces[member.name] = piece
        _prepared(part.blank, member, piece, faults)
        open_ones = [one.name for one in member.features if not piece.made.get(one.name)]
        if open_ones:
            faults.refuse(
                "route-weld",
                f"{member.name}: {open_ones[0]}",
                "is not made yet",
                "Finish the pieces before they are welded",
            )
        if not set(piece.kinds) & set(BRIGHT):
            faults.refuse(
                "route-weld",
                member.name,
                "is not bright where the weld goes",
                "Clean it to bright metal",
            )
    _vented(part.blank, pieces, faults)
    whole = joined(part, pieces)
    _open(part.blank, whole.metal, faults)
    _sides(part.blank, whole.metal, faults)
    _ledges(part.blank, whole.metal, faults)
    return whole


def _vented(blank: Joined, pieces: Mapping[str, Piece], faults: Faults) -> None:
    """A blind bore with a weld all round its mouth has a hole out of it, which is there by then."""
    for weld in blank.welds:
        for member in blank.members:
            if not weld.all_round or member.name not in weld.members:
                continue
            made = pieces[member.name].made
            for bore in member.features:
                if not isinstance(bore, f.Bore | f.ReamedHole | f.DrilledHole) or bore.through:
                    continue
                vents = [o for o in member.features if o is not bore and _meet(o, bore)]
                if not any(made.get(vent.name) for vent in vents):
                    faults.refuse(
                        "route-weld",
                        f"{weld.name}: {bore.name}",
                        "shuts air in, which bursts out of the weld",
                        "Drill a vent into it before it is welded",
                    )


def _meet(vent: f.Feature, bore: f.Bore | f.ReamedHole | f.DrilledHole) -> bool:
    """Whether the middle of a hole comes into a bore between its mouth and its bottom."""
    if not isinstance(vent, f.Hole):
        return False
    mouth, bottom = bore.axis.origin, bore.axis.at(bore.depth_mm)
    along = max(range(3), key=lambda i: abs(bottom[i] - mouth[i]))
    low, high = sorted((mouth[along], bottom[along]))
    ends = vent.axis.origin, vent.axis.at(vent.depth_mm)
    return any(
        low < end[along] < high
        and sum((end[i] - mouth[i]) ** 2 for i in range(3) if i != along)
        < (bore.diameter.min_mm / 2) ** 2
        for end in ends
    )


def _grooves(blank: Joined) -> Iterator[tuple[f.Weld, str, f.Bore | f.ReamedHole, Line]]:
    """The welds that lie in a bevel round a hole: the holed piece, its hole, and the line from the
    hole's mouth out of the metal, in the frame of the whole."""
    for weld in blank.welds:
        letter, _, side = weld.edge.partition("-")
        along, sign = "xyz".find(letter), 1 if side == "high" else -1
        for member in blank.members:
            if not weld.all_round or weld.kind != "bevel" or member.name not in weld.members:
                continue
            for hole in member.features:
                if not isinstance(hole, f.Bore | f.ReamedHole) or (
                    member.frame.turned(along_index(hole.axis.along)) != along
                ):
                    continue
                ends = [member.frame.place(hole.axis.at(at)) for at in (0.0, hole.depth_mm)]
                mouth = max(ends, key=lambda end: sign * end[along])
                yield weld, member.name, hole, Line(along, sign, mouth)


def _ringed(line: Line, offs: list[float], radii: list[float]) -> Points:
    """Points round a line, so far out along it from its own point."""
    base = line.through[line.along]
    return line.cloud([base + line.sign * off for off in offs], radii, ANGLES)


def _open(blank: Joined, metal: Metal, faults: Faults) -> None:
    """Nothing stands over the groove that a weld lies in, as far out of it as the torch needs."""
    for weld, holed, hole, line in _grooves(blank):
        inside, leg = hole.diameter.max_mm / 2, weld.leg_mm
        near, reach = inside + COVERED * leg, leg + TORCH_MM
        places = _ringed(line, even(0.05, reach - 0.05, 25), even(near, inside + leg, 6))
        others = [body.has(places) for body in metal.bodies if body.name != holed]
        covers = np.logical_or.reduce(others)
        if covers.any():
            off = min(abs(places[covers][:, line.along] - line.through[line.along]))
            faults.refuse(
                "route-weld",
                f"{weld.name}: metal stands {faults.mm(off)} off over its groove",
                f"the torch needs it open for {faults.least(reach)}",
                "Turn what stands there down to the spigot before it is welded",
            )


def _sides(blank: Joined, metal: Metal, faults: Faults) -> None:
    """A groove round a hole has metal outside it all round: it does not run out of the piece's side."""
    for weld, holed, hole, line in _grooves(blank):
        leg, inside = weld.leg_mm, hole.diameter.max_mm / 2
        deep = min(0.05, leg / 2)
        places = _ringed(line, [-deep], even(inside + 0.1, inside + leg + BESIDE_MM - deep, 40))
        own = next(body for body in metal.bodies if body.name == holed)
        there = own.has(places)
        if not there.all():
            base = np.delete(places - np.array(line.through), line.along, axis=1)
            out = inside + leg - float(np.hypot(*base[~there].T).min())
            faults.refuse(
                "route-weld",
                f"{weld.name}: its groove of {faults.mm(leg)} comes {faults.mm(max(out, 0.0))} out of"
                f" the side of the {holed}",
                f"it needs {faults.least(BESIDE_MM)} of metal beside it",
                "Make the weld smaller there, or the piece wider",
            )


def _ledges(blank: Joined, metal: Metal, faults: Faults) -> None:
    """A fillet weld lies on a ledge: one of the two pieces stands out beside the other."""
    for weld in blank.welds:
        if weld.kind != "fillet" or weld.all_round:
            continue
        letter, _, side = weld.edge.partition("-")
        ends = [metal.end("xyz".index(letter), 1 if side == "high" else -1, one)
                for one in weld.members]  # fmt: skip
        if None in ends:
            continue
        ledge = abs((ends[0] or 0.0) - (ends[1] or 0.0))
        if ledge < weld.leg_mm + EDGE_MM - 0.05:
            faults.refuse(
                "route-weld",
                f"{weld.name}: fillet of {faults.mm(weld.leg_mm)} on a ledge of {faults.mm(ledge)}",
                f"it needs {faults.least(weld.leg_mm + EDGE_MM)}",
                "Bevel the piece and weld it in the bevel, or use a wider bar",
            )


def weld_left(whole: Piece | None, faults: Faults) -> None:
    """What is faced after it is welded leaves of a groove's weld what the check counts on."""
    if whole is None or not isinstance(whole.part.blank, Joined):
        return
    for weld, _, hole, line in _grooves(whole.part.blank):
        depths = even(0.01, weld.leg_mm - 0.01, 50)
        places = _ringed(line, [-deep for deep in depths], [hole.diameter.max_mm / 2 + 0.1])
        left = weld.leg_mm * float(whole.metal.has(places).mean())
        if left < THROAT * weld.leg_mm:
            faults.refuse(
                "route-spoils",
                f"{weld.name}: {faults.mm(left)} of {faults.mm(weld.leg_mm)} left",
                f"its strength is counted on {faults.mm(THROAT * weld.leg_mm)}",
                "Take less off there after it is welded, or make the weld larger",
            )


EDGE_MM = 1.0
"""A ledge is wider than the leg of the fillet on it by so much: its edge melts away else (common
practice)."""

BESIDE_MM = 0.3
"""Metal beside a groove, out to the nearest side (common practice: without it the edge melts away)."""

COVERED = 0.25
"""What stands over a groove may cover so much of its leg (common practice: the torch leans)."""

TORCH_MM = 2.0
"""The torch needs a weld's leg and so much more beside its groove (common practice)."""

THROAT = 0.707
"""Of a weld's leg: the throat that its strength is counted on (ISO 2553: a = 0.7 z)."""


def _prepared(blank: Joined, member: Member, piece: Piece, faults: Faults) -> None:
    """A weld in a bevel has its bevel cut: round a hole of a piece, else on the first piece."""
    for weld in blank.welds:
        if weld.kind not in ("bevel", "plug") or member.name not in weld.members:
            continue
        holed = [m.name for m in blank.members if m.name in weld.members and _entered(m)]
        if member.name == [*holed, weld.members[0]][0] and "chamfer" not in piece.kinds:
            faults.refuse(
                "route-weld",
                f"{weld.name}: {member.name}",
                "has no bevel for the weld to lie in",
                "Cut its preparation before it is welded",
            )


def weld_on_the_plate(piece: Piece, setup: Record, operation: Record, faults: Faults) -> None:
    """A weld all round does not lie in the face that the work is laid on."""
    weld = piece.features.get(str(operation.get("feature") or ""))
    rests = (setup.get("hold") or {}).get("rests")
    if not isinstance(weld, f.Weld) or not weld.all_round or not rests:
        return
    carrier, _, side = str(rests).rpartition(".")
    edge = f"{side[1:]}-{'low' if side.startswith('-') else 'high'}"
    if carrier in weld.members and edge == weld.edge:
        faults.refuse(
            "route-no-rest",
            f"{weld.name}: all round in {rests}",
            "lies on the plate",
            "Lay it on another face, or stand it on its edge",
        )


def _entered(member: Member) -> bool:
    """Whether another piece goes into a hole of this one."""
    return any(isinstance(one, f.Bore | f.ReamedHole) for one in member.features)


FILED = ("file", "emery", "grind")
"""What takes metal off where it cleans."""


def spared(piece: Piece, operation: Record, faults: Faults) -> None:
    """No file and no emery on a fine diameter that is finished, unless the step says beside what; none
    in a fine hole of what is cleaned for its weld, unless that is spared."""
    tool = str(table(operation, "tool").get("name"))
    if operation.get("kind") != "dress" or not any(word in tool for word in FILED):
        return
    said = text(operation, "text")
    for name, one in piece.features.items():
        size = getattr(one, "diameter", None)
        if size is None or not piece.made.get(name):
            continue
        if isinstance(one, f.Bore | f.ReamedHole) and piece.member and "emery" in tool:
            left = re.search(rf"the {name}\b[^:;,]* itself spared", said) is not None
        elif isinstance(one, f.TurnedDiameter):
            left = f"only beside the {name}" in said
        else:
            continue
        if size.upper_mm - size.lower_mm <= FINE_BAND_MM and not left:
            faults.refuse(
                "route-spoils",
                f"{tool} on the {name}",
                "is finished, and no longer its size when filed",
                "Wipe it with acetone, and say what is cleaned beside it",
            )


def tacked(piece: Piece, operation: Record, faults: Faults) -> None:
    """A weld is tacked before, and looked at after. Raises Missing."""
    name = str(operation.get("feature") or "")
    if "tack" not in piece.kinds:
        faults.refuse("route-weld", name, "welded without tacks", "Tack it, look at it, then weld")
    feature = piece.features.get(name)
    if isinstance(feature, f.Weld) and not rows(operation, "measure"):
        raise Missing("measure")


def laid(piece: Piece, operation: Record, faults: Faults) -> None:
    """Pieces that end at one place are said to, at which of their ends, and one that stands on the
    bottom of a hole that it does. Raises Missing."""
    said = text(operation, "place")
    for one in piece.part.agreements:
        _home(one, said, faults)
        names = [side.partition(":")[0] for side in (one.one, one.other)]
        lows = [piece.metal.end(0, -1, name) for name in names]
        if one.kind != "flush" or None in lows:
            continue  # of a feature, or of pieces that lie otherwise
        place = piece.part.place(*surface(one.one))
        ends = [piece.metal.end(place.along, sign, names[0]) for sign in (-1, 1)]
        at, low, high = place.at[place.along], ends[0] or 0.0, ends[1] or 0.0
        end = f"{'+' if at > (low + high) / 2 else '-'}{'xyz'[place.along]} end of the "
        if not any(f"{end}{name} flush with" in said for name in names):
            faults.refuse(
                "route-words",
                f"{names[0]} and {names[1]}",
                f"they are flush at the {end[:6]} of both",
                "Say at which end they are flush",
            )


def _home(one: Agreement, said: str, faults: Faults) -> None:
    """How deep a piece goes into a blind hole is said by its bottom, or it is pulled out a bit."""
    for side, other in ((one.one, one.other), (one.other, one.one)):
        carrier, element = surface(side)
        hole, own = carrier.rpartition("/")[2], surface(other)[0]
        told = f"the {own} home on the bottom of the {hole}" in said
        if one.kind == "touching" and element == "bottom" and not told:
            faults.refuse(
                "route-words",
                own,
                f"it stands on the bottom of the {hole}",
                "Say that it goes home on it",
            )
