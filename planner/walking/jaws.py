"""The room that a vice's jaws and V-blocks take beside what they bear on. Imported by walking.fixed."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import numpy as np

from parts import features as f
from planner.walking.faults import Faults
from planner.walking.finished import line_of
from planner.walking.records import Record, rows, text
from planner.walking.shape import Points, even
from planner.walking.state import Piece
from planner.walking.surfaces import Cylinder, NoSurface, Plane, surface

WIDE_MM = 100.0
"""The jaws of a small machine vice are so wide (common practice: they are as wide as it opens)."""

HIGH_MM = 40.0
"""And so high over its bed (common practice: 30 to 40 mm)."""

HIGH = 0.55
"""And no higher than so much of what it opens: a milling slide's of 50 has jaws of 20 to 25 (common
practice)."""

THICK_MM = (0.4, 2.0, 6.0, 15.0, 35.0)
"""How far outside the gripped faces metal is looked for: a jaw is a block."""

STRIP_MM = 5.0
"""Strips put between jaws and work are so thick: what stands out less passes under the jaws."""

VEE_LONG_MM = 20.0
"""A V-block, and a clamp beside the cut, want so much of a round (common practice)."""

FLANK_MM = 4.0
"""A vee's flank goes on so far past where a round touches it, at least (common practice)."""

UNDER_MM = 0.1
"""What stands lower by so much lies on the parallels alone (a thick hair is seen under work)."""

BORNE_MM = 4.0
"""Less than this of a face between the jaws lets the work turn in them (common practice)."""

STATIONS = 41

PATCH_STATIONS = 161
"""Where something stands out of a gripped face it is looked at so much closer."""

FINE_UM, CLOSE_MM = 1.6, 0.05
"""A face so smooth, or in place within so much, is finished: bare jaws mark it (common practice)."""


def jaws_have_room(
    piece: Piece, grip: Record, up: int, faces: tuple[Plane | Cylinder, Plane | Cylinder],
    opens_mm: float, faults: Faults,
) -> None:  # fmt: skip
    """Nothing stands in the way of the jaws, and they are as high as is gripped; opens_mm: the vice."""
    low, high = sorted((float(grip["from_mm"]), float(grip["to_mm"])))
    bottom, top = piece.metal.end(up, -1), piece.metal.end(up, 1)
    if bottom is None or top is None:
        return
    low, high = max(low, bottom), min(high, top)
    tall = min(HIGH_MM, HIGH * opens_mm)
    if high - low > tall + 0.05:
        faults.refuse(
            "route-jaws-room",
            f"{faults.mm(high - low)} of the height gripped",
            f"a small vice's jaws are {faults.most(tall)} high",
            "Let it stand out of the jaws, or clamp it on the table",
        )
    across, along, ends = _between(up, faces)
    strip = grip.get("wide_mm")
    places = even(*_reach(piece, along), STATIONS)
    heights = even(low + 0.1, high - 0.1, 3)
    if isinstance(faces[0], Cylinder) and low < faces[0].line.through[up] < high:
        heights.append(faces[0].line.through[up])
    ways = (along, up, across)
    borne = _borne(piece, ways, places, heights, ends)
    step = places[1] - places[0]
    on_a_line = isinstance(faces[0], Cylinder) and faces[0].line.along == up
    least = 1 if on_a_line else min(BORNE_MM, 0.5 * STATIONS * step) / step
    touched = [
        (first, last)
        for first, last in _free(piece, ways, places, heights, ends, THICK_MM)
        if sum(borne[first : last + 1]) >= least
    ]
    if strip is not None:
        touched = [one for one in touched if _takes(one, step, float(strip))]
        jaws = [d for d in THICK_MM if d > STRIP_MM]
        touched = [
            wide
            for wide in _free(piece, ways, places, heights, ends, jaws)
            if any(wide[0] <= first and last <= wide[1] for first, last in touched)
        ]
    if any(_takes(one, step, WIDE_MM) for one in touched):
        if strip is None and isinstance(faces[0], Plane):
            _patch(piece, (faces[0].name, ways), heights, ends, faults)
        return
    faults.refuse(
        "route-jaws-room",
        f"jaws on {faces[0].name} and {faces[1].name}",
        "metal beside them stands out where the jaws are, on both sides",
        "Grip other faces, or put strips between that are narrower than the room",
    )


def parallels_bear(piece: Piece, grip: Record, up: tuple[int, int], faults: Faults) -> None:
    """Parallels run along under the work as far as the jaws do: where what is thicker stands beside a
    round on both sides, it lies on them, and the round on nothing."""
    try:
        one = surface(piece, text(grip, "surface"))
    except NoSurface:
        return  # said already
    if not isinstance(one, Cylinder) or one.line.along == up[0]:
        return
    along, across = one.line.along, 3 - up[0] - one.line.along
    places = even(*_reach(piece, along), STATIONS)
    bottom, middle = one.line.through[up[0]] - up[1] * one.radius, one.line.through[across]
    off = even(middle - 0.8 * one.radius, middle + 0.8 * one.radius, 5)
    below = _points((along, up[0], across), places, [bottom - up[1] * UNDER_MM], off)
    there = piece.metal.has(below).reshape(len(places), -1)
    step = places[1] - places[0]
    for run in _windows([not low for low in np.logical_or.reduce(there, axis=1).tolist()]):
        bears = places[run[0]] < one.high and one.low < places[run[1]]
        if bears and _takes(run, step, WIDE_MM):
            return
    faults.refuse(
        "route-no-rest",
        f"parallels under {one.name}",
        "thicker metal on both sides of it lies lower",
        "Lay it on a packing that is shorter than the room between",
    )


def borne_runs(
    piece: Piece, ways: tuple[int, int, int], span: tuple[float, float], ends: tuple[float, float],
    stations: int = PATCH_STATIONS,
) -> list[tuple[float, float]]:  # fmt: skip
    """From where to where the jaws bear on both faces, where nothing beside keeps them off.

    ways: the way the jaws run, up, the way they close; span: the height gripped; ends: the faces;
    stations: how many places along the work are looked at.
    """
    places = even(*_reach(piece, ways[0]), stations)
    heights = even(min(span) + 0.1, max(span) - 0.1, 3)
    borne = _borne(piece, ways, places, heights, ends)
    found = []
    for first, last in _free(piece, ways, places, heights, ends, THICK_MM):
        on = [places[i] for i in range(first, last + 1) if borne[i]]
        if on:
            found.append((min(on), max(on)))
    return found


def _patch(
    piece: Piece, face: tuple[str, tuple[int, int, int]], heights: list[float],
    ends: tuple[float, float], faults: Faults,
) -> None:  # fmt: skip
    """Beside what stands out of a gripped face, between its ends, the jaws bear on as much of its
    length as the work is thick between them: else it turns in them (common practice)."""
    name, ways = face
    own = name.rpartition(".")[0]
    low, high = (piece.metal.end(ways[0], sign, own) for sign in (-1, 1))
    if low is None or high is None:
        if len(piece.metal.bodies) > 1:
            return
        low, high = _reach(piece, ways[0])
    places = even(low + 0.02, high - 0.02, PATCH_STATIONS)
    borne = _borne(piece, ways, places, heights, ends)
    runs = _free(piece, ways, places, heights, ends, THICK_MM[:2])
    if runs == [(0, PATCH_STATIONS - 1)]:
        return
    step = places[1] - places[0]
    longest = max((sum(borne[a : b + 1]) * step for a, b in runs), default=0.0)
    thick = ends[1] - ends[0]
    if longest < thick - 2 * step:
        faults.refuse(
            "route-jaws-room",
            f"{faults.mm(longest)} of the face is free beside what stands out of it",
            f"the work is {faults.mm(thick)} thick between the jaws",
            "Grip the pair of faces that nothing stands out of",
        )


def scraped_free(operation: Record, setup: Record, faults: Faults) -> None:
    """What is filed or scraped flat by blue is not what the jaws close on."""
    if operation.get("kind") != "dress":
        return
    gripped = {
        str(grip.get(side))
        for grip in rows(setup.get("hold") or {}, "grips")
        for side in ("surface", "other")
    }
    for measure in rows(operation, "measure"):
        face = str(measure.get("from") or "")
        if face in gripped:
            faults.refuse(
                "route-cut-in-grip",
                f"{face} is filed and scraped",
                "the jaws close on it",
                "Grip the work by its other faces, this one up",
            )


def planes_unmarked(piece: Piece, faces: Sequence[Plane], faults: Faults) -> None:
    """No bare jaws on a finished face."""
    for name in piece.made:
        feature = piece.features.get(name)
        if feature is None or not (
            0 < feature.roughness_um <= FINE_UM
            or any(o.size.upper_mm - o.size.lower_mm <= CLOSE_MM for o in feature.locations)
        ):
            continue
        for face in faces:
            if any(
                along == face.along and abs(at - face.at) < 0.05 for along, at in _planes(feature)
            ):
                faults.refuse(
                    "route-grip-finished",
                    f"jaws on the {name}",
                    "they would mark it",
                    "Put card or soft jaws between, or grip elsewhere",
                )
                return


def _planes(feature: f.Feature) -> list[tuple[int, float]]:
    """The plane that a feature finishes: square to which direction, and where."""
    if isinstance(feature, f.MilledFlat):
        letter, _, side = feature.locations[0].element.partition("-")
        i = "xyz".index(letter)
        return [(i, (feature.box.low if side == "low" else feature.box.high)[i])]
    if isinstance(feature, f.FacedShoulder):
        line = line_of(feature.axis)
        base = line.through[line.along]
        ends = (feature.start_mm, feature.end_mm)
        return [(line.along, base + line.sign * to) for to in ends]
    return []


def _between(
    up: int, faces: tuple[Plane | Cylinder, Plane | Cylinder]
) -> tuple[int, int, tuple[float, float]]:
    """The way the jaws close, the way they run, and where they stand."""
    one, other = faces
    if isinstance(one, Plane) and isinstance(other, Plane):
        across = one.along
        return across, 3 - up - across, (min(one.at, other.at), max(one.at, other.at))
    assert isinstance(one, Cylinder)
    along = one.line.along if one.line.along != up else (up + 1) % 3
    across = 3 - up - along
    at = one.line.through[across]
    return across, along, (at - one.radius, at + one.radius)


def _reach(piece: Piece, along: int) -> tuple[float, float]:
    low, high = piece.metal.end(along, -1), piece.metal.end(along, 1)
    return (low or 0.0) + 0.02, (high or 0.0) - 0.02


def _points(
    ways: tuple[int, int, int], places: list[float], heights: list[float], off: list[float]
) -> Points:
    along, up, across = ways
    points = np.empty((3, len(places), len(heights), len(off)))
    points[along] = np.asarray(places)[:, None, None]
    points[up] = np.asarray(heights)[:, None]
    points[across] = off
    return points.reshape(3, -1).T


def _takes(window: tuple[int, int], step: float, wide_mm: float) -> bool:
    """Whether something so wide goes into a run of places, or stands out past the work's end."""
    first, last = window
    return first == 0 or last == STATIONS - 1 or (last - first + 2) * step > wide_mm


def _free(
    piece: Piece, ways: tuple[int, int, int], places: list[float], heights: list[float],
    ends: tuple[float, float], depths: Sequence[float],
) -> list[tuple[int, int]]:  # fmt: skip
    """The runs of places where no metal stands out past the gripped faces, so far from them."""
    off = [side for depth in depths for side in (ends[0] - depth, ends[1] + depth)]
    there = piece.metal.has(_points(ways, places, heights, off)).reshape(len(places), -1)
    return _windows([not one for one in np.logical_or.reduce(there, axis=1).tolist()])


def _borne(
    piece: Piece, ways: tuple[int, int, int], places: list[float], heights: list[float],
    ends: tuple[float, float],
) -> list[bool]:  # fmt: skip
    """At which places there is metal on both faces."""
    off = [ends[0] + 0.05, ends[1] - 0.05]
    there = piece.metal.has(_points(ways, places, heights, off))
    both = there.reshape(len(places), len(heights), 2)
    borne = np.logical_or.reduce(np.logical_and.reduce(both, axis=2), axis=1)
    return [bool(one) for one in borne]


def _windows(free: list[bool]) -> list[tuple[int, int]]:
    """The runs of free places, by their first and last."""
    found: list[tuple[int, int]] = []
    for i, one in enumerate(free):
        if one and found and found[-1][1] == i - 1:
            found[-1] = (found[-1][0], i)
        elif one:
            found.append((i, i))
    return found


def vees_have_room(
    piece: Piece, round_: Cylinder, up: tuple[int, int], span: tuple[float, float], faults: Faults
) -> None:
    """A V-block is longer than a disc is thick, thicker metal beside it lifts the work out, and what is
    joined to the round's side, down past where it touches the vee, stands on the block."""
    low, high = span
    if high - low < VEE_LONG_MM - 0.05:
        faults.refuse(
            "route-jaws-room",
            f"{faults.mm(high - low)} of it in the vees",
            f"block and clamp want {faults.least(VEE_LONG_MM)}",
            "Grip it in the vice by its faces",
        )
        return
    places = even(*_reach(piece, round_.line.along), STATIONS)
    touch = round_.radius * sqrt(0.5)
    looked = [(0.0, round_.radius + depth) for depth in THICK_MM[1:]]
    for out in (FLANK_MM / 2, FLANK_MM):
        for depth in THICK_MM[1:]:
            looked += [(side * (touch + out), touch - out + depth) for side in (-1, 1)]
    line = round_.line
    beside = 3 - up[0] - line.along
    points = []
    for at in places:
        for off, deep in looked:
            point = list(line.point(at))
            point[up[0]] -= up[1] * deep
            point[beside] += off
            points.append((point[0], point[1], point[2]))
    there = np.asarray(piece.metal.at(*points)).reshape(len(places), -1)
    clear = [not bool(one.any()) for one in there]
    step = places[1] - places[0]
    for first, last in _windows(clear):
        inside = min(high, places[last] + step) - max(low, places[first] - step)
        opens = first == 0 or last == STATIONS - 1
        if inside > VEE_LONG_MM - 0.05 and (
            opens or (last - first) * step + 2 * step > VEE_LONG_MM
        ):
            return
    faults.refuse(
        "route-jaws-room",
        f"V-blocks under {round_.name}",
        "metal beside it stands where the blocks are",
        "Grip it in the vice between narrow strips, or clamp it on the table by a face",
    )
