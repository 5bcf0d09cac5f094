"""What a sketch of a set-up shows beside its record: the work's bodies as far as they are turned, what
is mounted on it, and what is cleaned, dressed or scribed at the bench.

Imported by output.book.pages. All in mm, in the frame of the record.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.features import Feature, Hole, ScribedLine, TurnedBall, TurnedDiameter
from parts.frame import Box, Frame, Point
from parts.part import Joined, Member, Part, members
from planner.book.bodies import Ball, Body, Round
from planner.book.route import Held
from planner.making import bodies as planned

CLEANED_MM, DRESSED_MM = 25.0, 6.0
"""So far from a weld a piece is bright before it, and the whole is dressed after it (common practice);
for looks alone."""

SCRAPER = "scraper"
"""The kind of tool that goes over a face by hand."""

ROD_OUT_MM = 25.0
"""How far a rod through two parts is drawn out of the work; for looks alone."""

IN_ITS_FRAME = Frame()


def part_of(held: Held, attachment: Attachment) -> tuple[Part, Member | None] | None:
    """The part of a set-up and the piece of it, None for the whole; None for what is no part."""
    part = next((one for one in attachment.parts if one.name == held.part), None)
    if part is None:
        return None
    own = [one for one in members(part) if one.name == (held.piece or part.name)]
    return part, own[0] if own else None


def bodies(held: Held, route: Sequence[Held], attachment: Attachment) -> tuple[Body, ...]:
    """The bodies of a set-up's work, and in phantom lines what is spotted through on it."""
    found = part_of(held, attachment)
    if found is None:
        return ()
    part, member = found
    done = {
        cut.get("feature")
        for one in route
        if one.number < held.number and one.part == held.part
        for cut in one.cuts
    }
    since = [o for o in part.features if isinstance(o, TurnedDiameter) and o.name in done]
    work = planned.bodies_of(part, member)
    if member is None:
        work = [planned.turned(one, since) for one in work]
    through = [cut for cut in held.cuts if cut["op"] == "spot"]
    beside: list[Body] = []
    if through and len(held.with_parts) == 1:
        beside = [*_beside(part.name, held.with_parts[0], attachment), *_rods(held, part)]
    features = member.features if member else part.features
    balls = [one for one in features if isinstance(one, TurnedBall)]
    return (*(_balled(_plain(one), one, balls, done) for one in work), *beside)


def _balled(
    body: Body, planned_: planned.Body, balls: Sequence[TurnedBall], done: Collection[Any]
) -> Body:
    """A body with its balls; where one is still to be turned, as thick as its stock."""
    found, rounds = list[Ball](), list(body.rounds)
    for one in balls:
        if planned_.axis is None or not planned.about(planned_, one):
            continue
        ball = _ball(one, planned_.axis)
        if one.name in done:
            found.append(ball)
        else:
            rounds.append(Round(ball.low, ball.high, planned_.diameter))
    return body._replace(rounds=tuple(rounds), balls=tuple(found))


def _ball(one: TurnedBall, k: int) -> Ball:
    low, high = sorted((one.axis.at(one.start_mm)[k], one.axis.at(one.end_mm)[k]))
    size = one.diameter.nominal_mm
    return Ball(low, high, one.axis.at(one.end_mm - size / 2)[k], size)


def _plain(one: planned.Body) -> Body:
    return Body(
        one.name,
        one.box.low,
        one.box.high,
        one.axis,
        tuple(Round(each.low, each.high, each.diameter) for each in one.rounds),
        tuple((void.low, void.high) for void in one.voids),
    )


def _beside(own: str, other: str, attachment: Attachment) -> Iterator[Body]:
    """Another part's bodies as they stand in the whole, in the frame of this one."""
    frames = {one.name: one.frame for one in attachment.placed}
    part = next(one for one in attachment.parts if one.name == other)
    for one in map(_plain, planned.bodies_of(part, None)):
        ends = [_seen_from(frames[own], frames[other].place(p)) for p in (one.low, one.high)]
        axis = one.axis
        if axis is not None:
            axis = _turned(frames[own], frames[other].turned(axis))
        low, high = _corners(*ends)
        rounds = []
        for each in one.rounds if axis is not None and one.axis is not None else ():
            at = []
            for along in (each.low, each.high):
                spot = [0.0, 0.0, 0.0]
                spot[one.axis] = along  # type: ignore[index]
                at.append(_seen_from(frames[own], frames[other].place(tuple(spot)))[axis])  # type: ignore[arg-type,index]
            rounds.append(Round(min(at), max(at), each.diameter_mm))
        yield Body(one.name, low, high, axis, tuple(rounds), (), "phantom")


def _rods(held: Held, part: Part) -> Iterator[Body]:
    """What stands through a hole of the work and that of what is mounted on it."""
    for name, size in held.rods:
        hole = next((o for o in part.features if o.name == name and isinstance(o, Hole)), None)
        if hole is None:
            continue
        k = "xyz".index(hole.axis.along[1])
        ends = sorted(hole.axis.at(along)[k] for along in (-ROD_OUT_MM, hole.depth_mm))
        low, high = list(hole.axis.origin), list(hole.axis.origin)
        for i in range(3):
            low[i], high[i] = (
                (ends[0], ends[1]) if i == k else (low[i] - size / 2, high[i] + size / 2)
            )
        (a, b, c), (d, e, f) = low, high
        yield Body("rod", (a, b, c), (d, e, f), k, (Round(ends[0], ends[1], size),), (), "phantom")


def _turned(frame: Frame, along: int) -> int:
    """Which of a frame's axes lies along one of its parent's."""
    return next(k for k in range(3) if frame.turned(k) == along)


def _seen_from(frame: Frame, point: Point) -> Point:
    """A point of the parent in a frame."""
    off = [a - b for a, b in zip(point, frame.origin, strict=True)]
    x, y, z = (sum(a * b for a, b in zip(off, way, strict=True)) for way in frame.directions())
    return x, y, z


def _corners(one: Point, other: Point) -> tuple[Point, Point]:
    pairs = [sorted(ends) for ends in zip(one, other, strict=True)]
    (a, d), (b, e), (c, f) = pairs
    return (a, b, c), (d, e, f)


# ---- what is worked by hand ----


def marks(held: Held, attachment: Attachment) -> Iterator[dict[str, Any]]:
    """Boxes of what is cleaned, dressed or scribed in a set-up at the bench, as cuts of its sketch."""
    found = part_of(held, attachment)
    if found is None or held.machine != "bench":
        return
    part, member = found
    kinds = {cut["op"] for cut in held.cuts}
    if "dress" in kinds and isinstance(part.blank, Joined):
        frame, wide = (member.frame, CLEANED_MM) if member else (IN_ITS_FRAME, DRESSED_MM)
        for low, high in _joints(part, member):
            ends = _corners(_seen_from(frame, low), _seen_from(frame, high))
            box = _grown(ends, wide)
            yield {"shape": "near", "op": "dress", "box": box}
    for cut in held.cuts:
        if (cut.get("tool") or {}).get("kind") == SCRAPER:
            yield from _scraped(cut, planned.bodies_of(part, member))
    named = {cut.get("feature") for cut in held.cuts}
    own: tuple[Feature, ...] = member.features if member else part.features
    for one in own:
        if isinstance(one, ScribedLine) and one.name in named:
            yield {"shape": "line", "op": "engrave", "box": (one.box.low, one.box.high)}


def _scraped(cut: Mapping[str, Any], of: Sequence[planned.Body]) -> Iterator[dict[str, Any]]:
    """The faces of pieces that a scraper goes over, as far as the piece goes."""
    for one in of:
        for face in cut["faces"]:
            name, _, way = face.rpartition(".")
            if name == one.name and way[:1] in ("+", "-"):
                at = (one.box.high if way[0] == "+" else one.box.low)["xyz".index(way[1])]
                box = (one.box.low, one.box.high)
                yield {"shape": "flat", "op": "dress", "normal": way, "at_mm": at, "box": box}


def _joints(part: Part, member: Member | None) -> Iterator[tuple[Point, Point]]:
    """Where the pieces of a weldment meet, in its frame: all joints, or those of one piece."""
    every = planned.bodies_of(part, None)
    for k, one in enumerate(every):
        for other in every[k + 1 :]:
            if member is not None and member.name not in (one.name, other.name):
                continue
            low, high = _common(one.box, other.box)
            if all(b - a > -1.0 for a, b in zip(low, high, strict=True)):
                yield _corners(low, high)


def _common(one: Box, other: Box) -> tuple[Point, Point]:
    a, b, c = (max(p, q) for p, q in zip(one.low, other.low, strict=True))
    d, e, f = (min(p, q) for p, q in zip(one.high, other.high, strict=True))
    return (a, b, c), (d, e, f)


def _grown(box: tuple[Point, Point], by_mm: float) -> tuple[Point, Point]:
    (a, b, c), (d, e, f) = box
    return (a - by_mm, b - by_mm, c - by_mm), (d + by_mm, e + by_mm, f + by_mm)


def with_marks(route: Sequence[Held], attachment: Attachment) -> tuple[Held, ...]:
    """The set-ups, those at the bench with what is worked there, balls with their shape."""
    return tuple(
        replace(
            one,
            cuts=(*_shaped(one, one.cuts, attachment), *marks(one, attachment)),
            before=tuple(_shaped(one, one.before, attachment)),
        )
        for one in route
    )


def _shaped(
    held: Held, cuts: Sequence[Mapping[str, Any]], attachment: Attachment
) -> Iterator[Mapping[str, Any]]:
    """Cuts as they are, those of balls with where each lies along which axis."""
    found = part_of(held, attachment)
    part, member = found or (None, None)
    own = member.features if member else part.features if part else ()
    balls = {one.name: one for one in own if isinstance(one, TurnedBall)}
    for cut in cuts:
        if cut["op"] != "ball" or cut.get("feature") not in balls:
            yield cut
            continue
        one = balls[cut["feature"]]
        k = "xyz".index(one.axis.along[1])
        ball = _ball(one, k)
        yield {
            **cut,
            **{"shape": "ball", "way": "xyz"[k], "from_mm": ball.low, "to_mm": ball.high},
            **{"middle_mm": ball.middle, "diameter_mm": ball.diameter_mm},
        }
