"""Whether a facing cutter in a boring bar turns clear of what stands beside the mouth that it cuts, and
trues all that a nut bears on there; whether a tapped mouth on which a shoulder seats is countersunk.

Imported by planner.walking.cutting and planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from parts import features as f
from parts.frame import Frame
from parts.part import Part
from parts.places import element
from planner.walking.doing import Doing
from planner.walking.faults import Faults
from planner.walking.finished import line_of
from planner.walking.fixed import Fixed
from planner.walking.records import Record, number, table
from planner.walking.shape import Line, even
from planner.walking.state import Piece

CUTTER = "facing cutter"

WALL_MM = (0.5, 1.0, 1.5)
"""So far outside the bore what was bored is looked for."""

BEARS_MM = 1.0
"""A nut whose face stands so near a mouth bears on it: what is faced still, and the light cut."""

STEPS, ANGLES = 200, 48
"""So many points along the work, and round the axis."""


def swings_clear(do: Doing) -> None:
    """The circle that its edge sweeps is free of metal before the mouth, and covers the face that it
    makes. Raises Missing where it is not said."""
    if do.tool.get("kind") != CUTTER or not isinstance(do.held, Fixed) or do.held.axis is None:
        return
    across, thick = number(do.tool, "diameter_mm"), number(do.tool, "width_mm") / 3
    cut = do.cut
    if cut.shape == "face" and cut.line is not None:
        if across < 2 * cut.radius - 0.05:
            do.faults.refuse(
                "route-tool-reach",
                f"a cutter {do.faults.mm(across)} across",
                f"the face is {do.faults.mm(2 * cut.radius)} wide",
                "Grind one longer than the face is wide",
            )
        at, open_ = (cut.high, 1) if cut.keeps < 0 else (cut.low, -1)
        _free(do, cut.line, (at, open_), across, thick)
        return
    for bore in do.piece.features.values():
        if isinstance(bore, f.Bore) and (axis := line_of(bore.axis)).same(do.held.axis):
            mouth = _other_mouth(do.piece, bore, axis)
            if mouth is not None:
                _free(do, axis, mouth, across, thick)


def mouth_eased(do: Doing) -> None:
    """A tap raises a burr round its hole, on which no shoulder seats: a ball is turned on a stub, and
    screwed on for good, against a mouth that is countersunk first (common practice)."""
    own = do.piece.features.get(str(do.operation.get("feature") or ""))
    if do.kind != "tap" or not isinstance(own, f.TappedHole) or own.through:
        return
    if not any(isinstance(one, f.TurnedBall) for one in do.piece.features.values()):
        return
    said = f"{do.operation.get('text')} {do.operation.get('note')}"
    if "countersunk" not in said and "countersink" not in said:
        do.faults.refuse(
            "route-words",
            f"{own.name}: its mouth as it is tapped",
            "a shoulder seats on it, and not on a burr",
            "Say that it is countersunk before it is tapped",
        )


def all_trued(
    piece: Piece, operation: Record, frames: Mapping[str, Frame], parts: Mapping[str, Part],
    faults: Faults,
) -> None:  # fmt: skip
    """A mouth trued over less than a nut bears on is a pit: the nut comes against its rim, which is as
    square to the bore as it was before the welding. Raises Missing where the cutter is not said."""
    tool, own = operation.get("tool") or {}, frames.get(piece.part.name)
    faces = (table(operation, "cut") if operation.get("cut") else {}).get("shape") == "face"
    if tool.get("kind") != CUTTER or faces or own is None or piece.member is not None:
        return
    across = number(tool, "diameter_mm")
    for bore in piece.features.values():
        if not isinstance(bore, f.Bore):
            continue
        axis = line_of(bore.axis)
        mouth = _other_mouth(piece, bore, axis)
        if mouth is None:
            continue
        line, at = _placed(bore, own), own.place(axis.point(mouth[0]))
        for name, wide in _nuts(line, at[line.along], frames, parts):
            bears = min(wide, 2 * _all_round(piece, axis, mouth, wide / 2))
            if across < bears - 0.05:
                faults.refuse(
                    "route-tool-reach",
                    f"a cutter {faults.mm(across)} across",
                    f"the {name} bears {faults.mm(bears)} wide there, on the rim it leaves standing",
                    "Grind one as wide as what bears on that mouth",
                )


def _placed(hole: f.Hole, frame: Frame) -> Line:
    place = element(hole, "axis").placed(frame)
    return Line(place.along, 1, place.at)


def _nuts(
    line: Line, mouth: float, frames: Mapping[str, Frame], parts: Mapping[str, Part]
) -> Iterator[tuple[str, float]]:
    """Nuts on a line whose face comes against a mouth there, and how wide each is."""
    for name, part in parts.items():
        if name not in frames:
            continue
        rims = [one for one in part.features if isinstance(one, f.TurnedDiameter)]
        for hole in part.features:
            if not isinstance(hole, f.TappedHole) or not _placed(hole, frames[name]).same(line):
                continue
            ends = [hole.axis.at(at) for at in (0.0, hole.depth_mm)]
            if all(abs(frames[name].place(at)[line.along] - mouth) > BEARS_MM for at in ends):
                continue
            yield name, max((one.diameter.nominal_mm for one in rims), default=0.0)


def _all_round(piece: Piece, axis: Line, mouth: tuple[float, int], most: float) -> float:
    """The largest radius, up to the most, at which there is metal half the way round at a mouth."""
    at, way = mouth
    radii = even(0.5, most, 60)
    there = piece.metal.has(axis.cloud([at - way * 0.5], radii, ANGLES)).reshape(len(radii), -1)
    return max((r for r, one in zip(radii, there, strict=True) if one.mean() > 0.5), default=0.0)


def _other_mouth(piece: Piece, bore: f.Bore, axis: Line) -> tuple[float, int] | None:
    """Where the mouth lies that no face is drawn for, and which way it looks."""
    metal, along = piece.metal, axis.along
    low, high = metal.box
    steps = even(low[along] + 0.02, high[along] - 0.02, STEPS)
    radii = [bore.diameter.mean_mm / 2 + over for over in WALL_MM]
    all_round = (
        metal.has(axis.cloud(steps, radii, ANGLES)).reshape(len(steps), -1).mean(axis=1) > 0.9
    )
    walls = [at for at, there in zip(steps, all_round, strict=True) if there]
    if not walls:
        return None
    ends = {-1: walls[0], 1: walls[-1]}
    for face in piece.features.values():
        if isinstance(face, f.FacedShoulder) and line_of(face.axis).same(axis):
            faced = face.axis.at(face.start_mm)[along]
            way = min(ends, key=lambda sign: abs(ends[sign] - faced))
            return ends[-way], -way
    return None


def _free(do: Doing, axis: Line, mouth: tuple[float, int], across: float, thick: float) -> None:
    """Before the mouth nothing stands in its way; mouth: where it is, and which way it looks."""
    at, way = mouth
    step = (do.piece.metal.box[1][axis.along] - do.piece.metal.box[0][axis.along]) / STEPS
    stations = [at + way * (step + over) for over in even(0.3, thick, 4)]
    radii = [float(one) for one in even(1.0, across / 2, 12)]
    if do.piece.metal.has(axis.cloud(stations, radii, ANGLES)).any():
        do.faults.refuse(
            "route-tool-reach",
            f"a cutter {do.faults.mm(across)} across",
            "it strikes what stands beside the mouth",
            "Grind one for this mouth that turns clear of it",
        )
