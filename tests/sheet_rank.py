"""Whether a sheet fixes every face of a solid, by the rank of its equations.

Shares nothing with the program's own proof, which joins stations into trees: each face of the kernel's
solid is an unknown place (a round one two), each dimension and each agreement one linear equation. A
sheet is complete when only the shift of the whole is left over, and says nothing twice when every
dimension raises the rank. Which face a surface is, the kernel says: a point of the face lies on the
skin of the stock or of what the feature cuts away.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Any

import numpy as np

from parts import features as f
from parts.blank import Joined, Stock
from parts.part import Member
from parts.places import surface
from parts.standard.threads import thread
from planner.drawing.marks import said
from planner.drawing.model import Sheet
from planner.drawing.subjects import Subject
from planner.solids import cutters, kernel, location, solid
from planner.solids.build import _bounds, _stock, piece

SKIN_MM = 1e-4
"""A point nearer to a skin lies on it."""

Node = tuple[int, object]
Equation = tuple[str, Node, Node]


class Equations:
    """The unknowns and equations of one subject."""

    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        thing = subject.member or subject.part
        self.shape = piece(thing) if isinstance(thing, Member) else solid(thing, engraved=False)
        self.faces = [(face, *_described(face)) for face in self.shape.Faces()]
        self.owners: dict[str, set[int]] = {}
        for name, skins in self._skins():
            for number, (_, _, _, point) in enumerate(self.faces):
                vertex = kernel().Vertex.makeVertex(*point)
                if any(shell.distance(vertex) < SKIN_MM for shell in skins):
                    self.owners.setdefault(name, set()).add(number)

    def _skins(self) -> Iterator[tuple[str, list[Any]]]:
        """The skin of each stock and of what each feature takes away, in the subject's frame."""
        subject = self.subject
        if subject.stock is not None:
            yield "blank", _stock(subject.stock).Shells()
        for member in subject.joined.members if subject.joined else ():
            place = location(member.frame)
            blank = _stock(member.blank)
            yield member.name, [shell.moved(place) for shell in blank.Shells()]
            for feature in member.features:
                cut = cutters(feature, _bounds(blank))
                yield (
                    f"{member.name}/{feature.name}",
                    [shell.moved(place) for tool in cut for shell in tool.Shells()],
                )
        bounds = _bounds(self.shape)
        for feature in subject.features:
            if not isinstance(feature, f.ScribedLine | f.IndexMark | f.EngravedScale):
                cut = cutters(feature, bounds)
                yield feature.name, [shell for tool in cut for shell in tool.Shells()]

    def nodes(self, ref: str, i: int) -> list[Node]:
        """The unknowns that a surface is in a direction; itself where it has no face."""
        carrier, name = surface(ref)
        found: list[Node] = []
        place = None if name == "drilled" else self.subject.place(ref)
        for number in self.owners.get(carrier, ()):
            _, kind, along, point = self.faces[number]
            if place is None or name in ("entry", "bottom"):
                continue
            if place.kind == "plane" and kind == "plane" and along == i == place.along:
                if abs(point[i] - place.at[i]) < 1e-3:
                    found.append((i, number))
            elif place.kind == "axis" and kind == "axis" and along == place.along != i:
                centre = self.faces[number][0]
                if abs(_centre(centre)[i] - place.at[i]) < 1e-3:
                    found.append((i, number))
        return found or [(i, ref)]

    def given(self) -> list[Equation]:
        """What the part declares, and what follows from how a thing is made."""
        subject, out = self.subject, []
        for one in subject.agreements:
            a, b = subject.place(one.one), subject.place(one.other)
            for i in range(3):
                if a.fixes(i) and b.fixes(i) and abs(a.at[i] - b.at[i]) < 1e-6:
                    out += self._same("agrees", one.one, one.other, i)
        for ref in self._refs():
            for i in range(3):
                nodes = self.nodes(ref, i)
                out += [("one surface", nodes[0], other) for other in nodes[1:]]
        out += self._made()
        for i in range(3):
            out += self._pieces(i)
        return out

    def _same(self, why: str, one: str, other: str, i: int) -> list[Equation]:
        return [(why, self.nodes(one, i)[0], self.nodes(other, i)[0])]

    def _refs(self) -> list[str]:
        names = ("axis", "start", "end", *(f"{x}-{s}" for x in "xyz" for s in ("low", "high")))
        refs = []
        for carrier in self.subject.carriers:
            for name in names:
                try:
                    self.subject.place(f"{carrier}:{name}")
                except (KeyError, AttributeError):
                    continue
                refs.append(f"{carrier}:{name}")
        return refs

    def _made(self) -> Iterator[Equation]:
        """Middles, bars' axes, noses of balls, mouths of holes, places given once for several."""
        subject = self.subject
        for carrier, (thing, _) in subject.carriers.items():
            stock = thing.blank if isinstance(thing, Member) else thing
            if isinstance(thing, f.Removed) or (isinstance(stock, Stock) and not stock.round):
                for i, x in enumerate("xyz"):
                    low, high = f"{carrier}:{x}-low", f"{carrier}:{x}-high"
                    if all(isinstance(self.nodes(r, i)[0][1], int) for r in (low, high)):
                        yield from self._same("halfway", low, f"{carrier}:{x}-middle", i)
                        if not isinstance(thing, f.Removed):
                            yield from self._same("halfway", low, f"{carrier}:axis", i)
        first: dict[Any, str] = {}
        for feature in subject.features:
            for at, datum, own in subject.located(feature):
                i, size = "xyz".index(at.along[1]), at.size
                key = (datum, at.along, size.nominal_mm, size.upper_mm, subject.place(own).kind)
                if key in first:
                    yield from self._same("in one line", first[key], own, i)
                first.setdefault(key, own)
            if isinstance(feature, f.GroundPoint):
                yield from self._same("rake face", "point:tip", "blank:z-high", 2)
            if isinstance(feature, f.Turned | f.Hole):
                yield from self._turned(feature)
            for other in subject.features:
                if isinstance(feature, f.Turned) and isinstance(other, f.Turned):
                    yield from self._shoulder(feature, other)
            if isinstance(feature, f.Hole) and not feature.through:
                yield from self._mouth(feature)

    def _turned(self, feature: Any) -> Iterator[Equation]:
        subject, own = self.subject, f"{feature.name}:axis"
        datum = subject.datum(feature.datum)
        stock = subject.stock
        mate = datum
        if stock is not None and stock.round:
            mate = "blank:axis"
        elif not isinstance(feature, f.Turned):
            return
        a, b = subject.place(own), subject.place(mate)
        if a.kind == b.kind == "axis" and a.along == b.along:
            off = [i for i in range(3) if i != a.along and abs(a.at[i] - b.at[i]) > 1e-6]
            if not off:
                for i in range(3):
                    if i != a.along:
                        yield from self._same("turned about it", own, mate, i)
        if isinstance(feature, f.TurnedBall):
            for end in ("blank:x-low", "blank:x-high"):
                if (
                    abs(subject.place(f"{feature.name}:end").at[0] - subject.place(end).at[0])
                    < 1e-6
                ):
                    yield from self._same("nose", f"{feature.name}:end", end, 0)
        for letter in subject.datums:
            ref = subject.datum(letter)
            place = subject.place(ref)
            old = isinstance(feature, f.FacedShoulder) and subject.place(f"{feature.name}:end")
            if old and place.kind == "plane" and abs(place.at[0] - old.at[0]) < 1e-6:
                yield ("faced off", (0, ref), (0, f"{feature.name}:end"))

    def _shoulder(self, one: f.Turned, other: f.Turned) -> Iterator[Equation]:
        """Where one turned surface ends and the next begins about one axis, there is one shoulder."""
        if one is other or one.axis != other.axis:
            return
        i = "xyz".index(one.axis.along[1])
        for end, at in (("end", one.end_mm), ("start", one.start_mm)):
            for start, there in (("start", other.start_mm), ("end", other.end_mm)):
                if abs(at - there) < 1e-6:
                    yield from self._same(
                        "shoulder", f"{one.name}:{end}", f"{other.name}:{start}", i
                    )
        if self.subject.stock is not None and self.subject.stock.round:
            length = self.subject.stock.length_mm
            for ref, at in (("blank:x-low", 0.0), ("blank:x-high", length)):
                for end, there in (("start", one.start_mm), ("end", one.end_mm)):
                    if abs(one.axis.at(there)[0] - at) < 1e-6:
                        yield from self._same("the bar's end", f"{one.name}:{end}", ref, 0)

    def _mouth(self, hole: f.Hole) -> Iterator[Equation]:
        i = "xyz".index(hole.axis.along[1])
        mouth = hole.axis.origin
        entry, bottom = (i, f"{hole.name}:entry"), (i, f"{hole.name}:bottom")
        deep = hole.depth_mm
        if isinstance(hole, f.TappedHole):
            lead = 3 * thread(hole.thread).pitch_mm
            if " UN" in hole.thread:  # in whole 64ths of an inch (common practice)
                lead = ceil(lead * 64 / 25.4 - 1e-6) * 25.4 / 64
            deep += lead
        end, opened = hole.axis.at(deep)[i], False
        for number, (face, kind, along, point) in enumerate(self.faces):
            box = face.BoundingBox(1e-4)
            low, high = (box.xmin, box.ymin, box.zmin), (box.xmax, box.ymax, box.zmax)
            over = all(low[k] - 1e-3 <= mouth[k] <= high[k] + 1e-3 for k in range(3))
            own = number in self.owners.get(hole.name, ())
            if kind == "plane" and along == i and own and abs(point[i] - end) < 1e-3:
                yield ("its bottom", bottom, (i, number))
            elif kind == "plane" and along == i and over and abs(point[i] - mouth[i]) < 1e-3:
                yield ("its mouth", entry, (i, number))
            elif kind == "axis" and along != i and not own:
                centre = _centre(face)
                off = [abs(centre[k] - mouth[k]) for k in range(3) if k != along]
                radius = _cylinder(face).Radius()
                square = abs(np.hypot(*off) - radius) < 1e-3 or abs(centre[i] - mouth[i]) < 1e-6
                if square and not opened:
                    opened = True
                    yield ("its mouth", entry, (i, number))

    def _pieces(self, i: int) -> Iterator[Equation]:
        blank = self.subject.part.blank if self.subject.joined else None
        for member in blank.members if isinstance(blank, Joined) else ():
            named = self.subject.carriers
            own = {m for m in named if m == member.name or m.startswith(f"{member.name}/")}
            nodes: dict[Node, None] = {}
            for number in {n for m in own for n in self.owners.get(m, ())}:
                _, kind, along, _ = self.faces[number]
                if (kind == "plane" and along == i) or (kind == "axis" and along != i):
                    nodes.setdefault((i, number))
            for ref in self._refs():
                if surface(ref)[0] in own | {member.name} and self.subject.place(ref).fixes(i):
                    for node in self.nodes(ref, i):
                        nodes.setdefault(node)
            for carrier in own:  # how deep its hole is stands on its own sheet
                if isinstance(self.subject.carriers[carrier][0], f.Hole):
                    bottom = f"{carrier}:bottom"
                    if self.subject.place(bottom).fixes(i):
                        nodes.setdefault((i, bottom))
            for side in ("low", "middle", "high"):
                nodes.setdefault((i, f"{member.name}:{'xyz'[i]}-{side}"))
            first, *rest = nodes
            yield from (("its piece", first, other) for other in rest)


def _described(face: Any) -> tuple[str, int, tuple[float, float, float]]:
    """Kind, direction and a point on a face, off its edges."""
    points, triangles = face.copy().tessellate(0.01, 0.2)  # a mesh on the face would change its box
    a, b, c = (np.array(points[k].toTuple()) for k in triangles[len(triangles) // 2])
    point = (a + b + c) / 3
    kind = face.geomType()
    if kind == "PLANE":
        n = face.normalAt().toTuple()
        along = next((i for i in range(3) if abs(abs(n[i]) - 1) < 1e-9), -1)
        return ("plane" if along >= 0 else "other"), along, tuple(point)
    if kind == "CYLINDER":
        d = _cylinder(face).Axis().Direction()
        along = next((i for i, v in enumerate((d.X(), d.Y(), d.Z())) if abs(abs(v) - 1) < 1e-9), -1)
        if along < 0:
            return "other", -1, tuple(point)
        centre = np.array(_centre(face))
        centre[along] = point[along]
        out = point - centre
        point = centre + out / np.linalg.norm(out) * _cylinder(face).Radius()
        return "axis", along, tuple(point)
    return "other", -1, tuple(point)


def _cylinder(face: Any) -> Any:
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    return BRepAdaptor_Surface(face.wrapped).Cylinder()


def _centre(face: Any) -> tuple[float, float, float]:
    at = _cylinder(face).Location()
    return (at.X(), at.Y(), at.Z())


def shortfalls(system: Equations, sheet: Sheet) -> list[str]:
    """What the equations of a sheet leave open, or say more than once, by direction."""
    free = system.given()
    wrong = []
    for i in range(3):
        dims = [
            ("said", system.nodes(one.one, i)[0], system.nodes(one.other, i)[0])
            for _, one in said(sheet)
            if one.what == "xyz"[i]
        ]
        own = [equation for equation in free if equation[1][0] == i]
        wanted = {
            (i, number)
            for number, (_, kind, along, _) in enumerate(system.faces)
            if (kind == "plane" and along == i)
            or (kind == "axis" and along != i and _held(system, number))
        }
        wanted |= {node for ref in _lines(system.subject, i) for node in system.nodes(ref, i)}
        rank_free = _rank(own)
        rank = _rank(own + dims)
        if rank != rank_free + len(dims):
            wrong.append(f"along {'xyz'[i]}: {rank_free + len(dims) - rank} said twice")
        loose = _loose(own + dims, wanted)
        if loose:
            wrong.append(f"along {'xyz'[i]}: {loose} places are not fixed")
    return wrong


def _lines(subject: Subject, i: int) -> Iterator[str]:
    """Where threads and knurls begin and end and the noses of balls, which no plane face shows."""
    for feature in subject.features:
        if isinstance(feature, f.TurnedBall) and "xyz".index(feature.axis.along[1]) == i:
            yield f"{feature.name}:end"
        if isinstance(feature, f.GroundPoint):
            yield f"{feature.name}:tip"
        if isinstance(feature, f.Thread | f.Knurl) and "xyz".index(feature.axis.along[1]) == i:
            yield from (f"{feature.name}:start", f"{feature.name}:end")


def _held(system: Equations, number: int) -> bool:
    """Not a fillet of a notch: its radius says where it is."""
    owners = [name for name, numbers in system.owners.items() if number in numbers]
    things = [
        system.subject.carriers[name][0] for name in owners if name in system.subject.carriers
    ]
    return not any(isinstance(thing, f.SawnNotch) for thing in things)


def _matrix(equations: list[Equation], nodes: list[Node]) -> Any:
    index = {node: k for k, node in enumerate(nodes)}
    matrix = np.zeros((len(equations) + 1, len(nodes)))
    for row, (_, one, other) in enumerate(equations):
        matrix[row, index[one]] += 1.0
        matrix[row, index[other]] -= 1.0
    return matrix


def _rank(equations: list[Equation]) -> int:
    nodes = list(dict.fromkeys(n for e in equations for n in e[1:]))
    return int(np.linalg.matrix_rank(_matrix(equations, nodes))) if nodes else 0


def _loose(equations: list[Equation], wanted: set[Node]) -> int:
    """How many places are still free when one is held: what each null vector moves of the wanted."""
    nodes = list(dict.fromkeys([n for e in equations for n in e[1:]] + sorted(wanted, key=str)))
    if not wanted:
        return 0
    _, values, rows = np.linalg.svd(_matrix(equations, nodes))
    rank = int((values > 1e-9).sum())
    moves = rows[rank:, [nodes.index(n) for n in sorted(wanted, key=str)]]
    return int(np.linalg.matrix_rank(moves, tol=1e-9)) - 1
