"""Whether a facing cutter in a boring bar turns clear of what stands beside the mouth that it cuts;
whether a tapped mouth on which a shoulder seats is countersunk.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.finished import line_of
from planner.walking.fixed import Fixed
from planner.walking.records import number
from planner.walking.shape import Line, even

CUTTER = "facing cutter"

WALL_MM = (0.5, 1.0, 1.5)
"""So far outside the bore what was bored is looked for."""

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
            mouth = _other_mouth(do, bore, axis)
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


def _other_mouth(do: Doing, bore: f.Bore, axis: Line) -> tuple[float, int] | None:
    """Where the mouth lies that no face is drawn for, and which way it looks."""
    metal, along = do.piece.metal, axis.along
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
    for face in do.piece.features.values():
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
