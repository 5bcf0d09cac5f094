"""Whether what a step must measure can be measured: anvils on real faces, in range, fine enough.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.standard.fits import Limits, general_tolerance_mm
from planner.walking.bars import out_to_measure
from planner.walking.depths import reading_said
from planner.walking.doing import Doing
from planner.walking.nuts import nut_comes_on, nut_there
from planner.walking.records import Missing, Record, number, rows, table, text
from planner.walking.shape import NEAR_MM
from planner.walking.surfaces import Axis, Cylinder, NoSurface, Plane, Surface, bare, sides, surface

SAID = ("thread", "eye", "angle", "square", "runout", "flat")
"""Kinds of reading that are no distance between two surfaces."""

NEEDS_LIMITS = ("outside", "inside", "depth", "length")

CALIPER_MM = 0.05
"""A caliper is true to this whatever its last figure says (DIN 862 and common practice)."""

CALIPER, POCKET_MM = "vernier caliper", 152.4
"""What is called so reads to 150 mm, 6 in, and a longer one is a thing of its own (common practice)."""

RULE_MM = 0.5

PART_OF_BAND = 0.8
"""A gauge whose reading is coarser than this part of the limits cannot tell good from bad."""

TOUCHLESS = ("height gauge", "edge finder", "indicator", "readout", "gauge blocks", "pin", "dial")
"""What finds an axis over pins or by a spindle; no anvil lies on it."""

ROD_MM = 2.5
"""The thinnest rod of a depth micrometer; 4 mm is usual (common practice)."""

WITHIN_MM = 0.03
"""A distance on the work agrees with the limits within this."""

GRAIN_MM = 0.0005
"""A reading and what the sheet asks are the same within this."""

BLOCKS_MM = 1.0
"""The thinnest of a usual set of gauge blocks (common practice: one of 47 or of 32)."""


def measured(do: Doing, feature: f.Feature | None, makes: tuple[str, ...]) -> None:
    """Every reading of an operation, and that what it finishes is read."""
    readings = list(rows(do.operation, "measure"))
    nut_there(do, makes)
    nut_comes_on(do)
    out_to_measure(do)
    reading_said(do)
    for one in readings:
        _reading(do, one)
    for name in makes:
        if (made := do.piece.features.get(name)) is not None:
            _covered(do, made, readings)


def _covered(do: Doing, feature: f.Feature, readings: list[Record]) -> None:
    """Something reads each size of a feature that has limits."""
    kinds = {str(one.get("kind")) for one in readings}
    if isinstance(feature, f.Thread | f.TappedHole):
        if "thread" not in kinds:
            _unread(do, feature, feature.thread)
        return
    if not readings:
        _unread(do, feature, feature.name)
        return
    if isinstance(feature, f.Counterbore) and "depth" not in kinds:
        _unread(do, feature, f"{do.faults.mm(feature.depth_mm)} deep")
    if isinstance(feature, f.FacedShoulder) and "runout" not in kinds:
        for asked in _asked_to_run(do, f"{feature.name}.start"):
            _unread(do, feature, f"{feature.name} runs out {do.faults.numbers.fine(asked)} at most")
    left = list(readings)
    for size in _own(feature):
        _take(do, feature, left, [one for one in left if _holds(one, size)], size)
    for size in sorted(_places(feature), key=lambda one: one.upper_mm - one.lower_mm):
        _take(do, feature, left, [one for one in left if _narrow(one, size)], size)


def _take(
    do: Doing, feature: f.Feature, left: list[Record], fit: list[Record], size: Limits
) -> None:
    """A reading serves one size."""
    if fit:
        left.remove(fit[0])
    else:
        _unread(do, feature, do.faults.numbers.between(size))


def _own(feature: f.Feature) -> Iterator[Limits]:
    """The sizes of a feature that its finishing step reads."""
    skip = (f.FacedShoulder, f.Knurl, f.EngravedScale, f.IndexMark, f.TurnedBall)
    if isinstance(feature, skip):
        return
    for key in ("diameter", "length", "width"):
        if (size := getattr(feature, key, None)) is not None:
            yield size


def _places(feature: f.Feature) -> Iterator[Limits]:
    """Where it lies, in limits closer than the general ones; of a flat its first in any case."""
    for number_, location in enumerate(feature.locations):
        size = location.size
        usual = 2 * general_tolerance_mm(max(size.nominal_mm, 0.5))
        first = isinstance(feature, f.MilledFlat) and number_ == 0
        close = size.upper_mm - size.lower_mm < 0.9 * usual
        if first or (close and not size.is_general):
            yield size


def _limits(one: Record) -> tuple[float, float] | None:
    low, high = one.get("low_mm"), one.get("high_mm")
    return None if low is None or high is None else (float(low), float(high))


def _holds(one: Record, size: Limits) -> bool:
    """Whether a reading keeps a size in its limits."""
    said = _limits(one)
    if said is None:
        return False
    return size.min_mm - 0.002 <= said[0] < said[1] <= size.max_mm + 0.002


def _narrow(one: Record, size: Limits) -> bool:
    """Whether a reading is as narrow as a size's limits; it may differ by a part that was measured."""
    said = _limits(one)
    return said is not None and 0 < said[1] - said[0] <= size.upper_mm - size.lower_mm + 0.004


def _unread(do: Doing, feature: f.Feature, what: str) -> None:
    do.faults.refuse(
        "route-not-measured",
        f"{feature.name}: {what}",
        "nothing reads it",
        "Say what to measure, from where to where and with what",
    )


def _reading(do: Doing, one: Record) -> None:
    kind = text(one, "kind")
    text(one, "what")
    gauge = table(one, "with")
    name = text(gauge, "name")
    if kind not in (*NEEDS_LIMITS, *SAID):
        raise Missing("measure.kind")
    if kind not in NEEDS_LIMITS:
        said = _limits(one)
        if said is not None and said[1] < said[0]:
            raise Missing("measure.high_mm")
        if kind in ("flat", "runout", "square") and one.get("from") is not None:
            _face(do, one, "from")
        if kind == "runout" and said is not None:
            _as_the_sheet(do, one, said[1])
        return
    low, high = number(one, "low_mm"), number(one, "high_mm")
    _fine(do, gauge, name, low, high)
    _goes_in(do, name, text(one, "to"))
    first, second = _face(do, one, "from"), _face(do, one, "to")
    if first is None or second is None:
        return
    for face in (first, second):
        if isinstance(face, Axis) and not any(word in name.lower() for word in TOUCHLESS):
            do.faults.refuse(
                "route-anvil",
                f"{name} from {face.name}",
                "no anvil touches an axis",
                "Measure from a surface: half the measured diameter comes off or on",
            )
            return
    _between(do, kind, first, second, low, high)


def _asked_to_run(do: Doing, name: str) -> Iterator[float]:
    """What the part's sheet lets a surface run out, mm."""
    for true in do.piece.part.trueness:
        if true.characteristic == "run-out" and true.of.replace(":", ".") == name:
            yield true.value_mm


def _as_the_sheet(do: Doing, one: Record, most: float) -> None:
    """A reading of how a face runs lets nothing pass that its sheet refuses."""
    name = str(one.get("from") or "")
    for asked in _asked_to_run(do, name):
        if most > asked + GRAIN_MM:
            do.faults.refuse(
                "route-not-measured",
                f"{name.partition('.')[0]}, read to run out {do.faults.numbers.fine_up(most)}",
                f"its sheet lets it run out {do.faults.numbers.fine(asked)}",
                "Read it as closely as its sheet has it",
            )


def _fine(do: Doing, gauge: Record, name: str, low: float, high: float) -> None:
    faults, lower = do.faults, name.lower()
    least, most = number(gauge, "least_mm"), number(gauge, "most_mm")
    resolution = number(gauge, "resolution_mm")
    if high < low - 1e-9:
        raise Missing("measure.high_mm")
    if name == CALIPER and high > POCKET_MM + 1e-6:
        faults.refuse(
            "route-gauge-range",
            f"{faults.mm(low)} to {faults.mm(high)}",
            f"a {name} of no more than its name reads to {faults.most(POCKET_MM)}",
            "Say how long a one it wants",
        )
    if lower.startswith("gauge blocks") and low < BLOCKS_MM - 1e-6:
        least = max(least, BLOCKS_MM)
    if low < least - 1e-6 or high > most + 1e-6:
        faults.refuse(
            "route-gauge-range",
            f"{faults.mm(low)} to {faults.mm(high)}",
            f"{name} reads {faults.mm(least)} to {faults.mm(most)}",
            "Take a gauge that reads it",
        )
    if "caliper" in lower:
        resolution = max(resolution, CALIPER_MM)
    elif "rule" in lower or "tape" in lower:
        resolution = max(resolution, RULE_MM)
    if do.kind != "saw" and resolution > PART_OF_BAND * (high - low) + 1e-6:
        faults.refuse(
            "route-gauge-coarse",
            f"{name} to {faults.numbers.fine(resolution)}",
            f"limits {faults.numbers.fine(high - low)} apart",
            "Take a finer gauge",
        )


def _goes_in(do: Doing, name: str, end: str) -> None:
    """A depth micrometer's rod goes into the slot or slit whose bottom it reads."""
    feature = do.piece.features.get(end.partition(".")[0])
    if name != "depth micrometer" or not isinstance(feature, f.Slit | f.MilledSlot):
        return
    if feature.width.min_mm < ROD_MM:
        do.faults.refuse(
            "route-anvil",
            f"{name} in the {feature.name}, {do.faults.mm(feature.width.nominal_mm)} wide",
            f"its rod is {do.faults.least(ROD_MM)} thick at the least",
            "Take a caliper's depth blade, or measure over a slip of sheet",
        )


def _face(do: Doing, one: Record, key: str) -> Surface | None:
    try:
        return _as_left(do, surface(do.piece, text(one, key)))
    except NoSurface as none:
        other = _with_part(do, none.what)
        if not other:
            do.faults.refuse(
                "route-anvil",
                none.what,
                "the work has no such surface as it is then",
                "Measure from a surface that is there",
            )
        return None


def _as_left(do: Doing, found: Surface) -> Surface:
    """A flat that is not come to yet lies where its cut stops: with what is left on it."""
    left = float(do.operation.get("allowance_mm") or 0.0)
    if not left or not isinstance(found, Plane) or do.cut.shape != "flat":
        return found
    at = number(table(do.operation, "cut"), "at_mm")
    own = found.name.startswith(f"{do.operation.get('feature')}.")
    return replace(found, at=at) if own and abs(found.at - at) < left + NEAR_MM else found


def _with_part(do: Doing, name: str) -> bool:
    """Whether a surface is of another part that is mounted with the work."""
    return any(
        name.startswith(f"{part}.") or name.startswith(f"{part}/")
        for part in do.setup.get("with_parts") or ()
    )


def _between(do: Doing, kind: str, one: Surface, other: Surface, low: float, high: float) -> None:
    """The two surfaces lie so far apart, look the right way and are bare."""
    faults, metal = do.faults, do.piece.metal
    if isinstance(one, Cylinder) and isinstance(other, Cylinder) and one == other:
        size, inside = 2 * one.radius, kind == "inside"
        if one.inside != inside:
            faults.refuse(
                "route-anvil",
                f"{one.name} measured {kind}",
                "it looks the other way",
                "Take a gauge for that side",
            )
        elif _best(do, one) < 0.35:
            faults.refuse(
                "route-anvil",
                one.name,
                "is not bare where the anvils go",
                "Measure where there is metal on both sides, while it can be come at",
            )
        _agrees(do, one.name, size, low, high, 0.35)
        return
    places = [_place(a, b, kind) for a, b in ((one, other), (other, one))]
    start, end = places
    if start is None or end is None:
        faults.refuse(
            "route-anvil",
            f"{one.name} to {other.name}",
            "are not opposite each other",
            "Measure between faces that are parallel",
        )
        return
    for face in (one, other):
        if isinstance(face, Plane):
            rising, falling = sides(metal, face)
            if len(rising) + len(falling) < 2:
                faults.refuse(
                    "route-anvil",
                    face.name,
                    "there is no face there yet",
                    "Measure when it is made",
                )
                return
    if (
        isinstance(one, Plane)
        and isinstance(other, Plane)
        and kind in ("outside", "length", "inside")
    ):
        _opposite(do, kind, one, other)
    _agrees(do, f"{one.name} to {other.name}", abs(start - end), low, high, WITHIN_MM)


def _place(face: Surface, other: Surface, kind: str) -> float | None:
    """Where a surface meets the gauge, along the direction that the other is square to."""
    along = (
        other.along if isinstance(other, Plane) else face.along if isinstance(face, Plane) else None
    )
    if along is None:
        return _across(face, other)
    if isinstance(face, Plane):
        return face.at if face.along == along else None
    line = face.line
    if line.along == along:
        return None
    at = line.through[along]
    if isinstance(face, Axis):
        return at
    toward = other.at - at if isinstance(other, Plane) else 0.0
    side = 1 if toward > 0 else -1
    if kind == "outside" and not face.inside:
        side = -side  # over the far side of a round
    return at + side * face.radius


def _across(face: Surface, other: Surface) -> float | None:
    """Two rounds or axes side by side."""
    if isinstance(face, Plane) or isinstance(other, Plane) or face.line.along != other.line.along:
        return None
    away = [face.line.through[i] - other.line.through[i] for i in range(3) if i != face.line.along]
    apart = hypot(away[0], away[1])
    return apart / 2 if id(face) < id(other) else -apart / 2


def _opposite(do: Doing, kind: str, one: Plane, other: Plane) -> None:
    """Outside anvils on faces that look apart, inside ones on faces that look at each other."""
    lower, upper = (one, other) if one.at < other.at else (other, one)
    up, down = sides(do.piece.metal, upper), sides(do.piece.metal, lower)
    apart = len(up[0]) > 0 and len(down[1]) > 0
    facing = len(up[1]) > 0 and len(down[0]) > 0
    if (kind in ("outside",) and not apart) or (kind == "inside" and not facing):
        do.faults.refuse(
            "route-anvil",
            f"{one.name} to {other.name} measured {kind}",
            "the faces do not look that way",
            "Take the other kind of gauge",
        )


def _best(do: Doing, round_: Cylinder) -> float:
    """The most that is bare of a round over some stretch of it."""
    length = round_.high - round_.low
    parts = 3 if length > 5 else 1
    steps = [round_.low + length * i / parts for i in range(parts + 1)]
    return max(
        bare(do.piece.metal, round_, a, b, 0.4) for a, b in zip(steps, steps[1:], strict=False)
    )


def _agrees(do: Doing, name: str, there: float, low: float, high: float, within: float) -> None:
    if not low - within <= there <= high + within:
        do.faults.refuse(
            "route-words",
            f"{name} is {do.faults.mm(there)} on the work",
            f"to be measured {do.faults.mm(low)} to {do.faults.mm(high)}",
            "Say the size that is there",
        )
