"""Work that does not turn: its bodies as boxes and cylinders now, and where a vice or V-blocks hold
them.

Imported by making.across and making.whole. A body's faces are named as the record names surfaces.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot

from parts import features as f
from parts.blank import Member
from parts.frame import Box, Frame, Point
from parts.part import Joined, Part, members
from planner.making.model import Grip, Hold

FAR = 1e4
"""Past the end of any work, mm."""

VICE_OPENS_MM = 100.0
"""A small machine vice opens so far (common practice)."""

LEAST_HEIGHT = 0.34
"""Of the height of flat work at least so much is gripped (common practice: a third)."""

LEAST_GRIP_MM = 2.5
"""And no less than this."""

ENOUGH_MM = 15.0
"""However high it is, so much gripped holds it for the cuts of a small machine (common practice)."""

JAW_HIGH_MM = 35.0
"""The jaws of a small machine vice are so high (common practice: 30 to 40)."""

JAW_WIDE_MM = 100.0
"""And so wide: beside the gripped faces nothing may stand out there, but past one end of the jaws."""

HANGS = 2.5
"""A cut may hang out of the jaws so many times the length they grip (common practice)."""

PARALLEL_MM = 2.0
"""So little may hang below the face that rests on parallels (common practice)."""

SIDES = {-1: "-", 1: "+"}


@dataclass(frozen=True)
class Round:
    """A cylinder of a round body: from where to where along its axis, its diameter, its surface."""

    low: float
    high: float
    diameter: float
    surface: str


@dataclass(frozen=True)
class Body:
    """A piece of stock in the frame of the work: its box, and the way of its axis where it is round."""

    name: str
    box: Box
    axis: int | None
    diameter: float
    rounds: tuple[Round, ...] = ()
    voids: tuple[Box, ...] = ()

    def low(self, i: int) -> float:
        """Its least coordinate in a direction."""
        return self.box.low[i]

    def high(self, i: int) -> float:
        """Its largest."""
        return self.box.high[i]

    def size(self, i: int) -> float:
        """Its extent in a direction."""
        return self.box.high[i] - self.box.low[i]

    def face(self, i: int, sign: int) -> str:
        """The name of the face that looks a way."""
        return f"{self.name}.{SIDES[sign]}{'xyz'[i]}"

    def end(self, i: int, sign: int) -> float:
        """Where that face lies."""
        return self.high(i) if sign > 0 else self.low(i)


def bodies_of(part: Part, member: Member | None) -> list[Body]:
    """The bodies of a piece in its own frame, or of the whole part in its frame."""
    if member is not None:
        return [_body("blank", member, Frame())]
    if isinstance(part.blank, Joined):
        return [_body(m.name, m, m.frame) for m in part.blank.members]
    return [_body("blank", members(part)[0], Frame())]


def turned(body: Body, features: Iterable[f.Feature]) -> Body:
    """The body with what was turned about its axis since."""
    i = body.axis
    if i is None:
        return body
    rounds = list(body.rounds)
    for one in features:
        if (
            not isinstance(one, f.TurnedDiameter | f.TurnedBall)
            or "xyz".index(one.axis.along[1]) != i
        ):
            continue
        middle = [(lo + hi) / 2 for lo, hi in zip(body.box.low, body.box.high, strict=True)]
        if any(abs(middle[j] - one.axis.origin[j]) > 1e-6 for j in range(3) if j != i):
            continue
        low, high = sorted((one.axis.at(one.start_mm)[i], one.axis.at(one.end_mm)[i]))
        kept = []
        if isinstance(one, f.TurnedDiameter):
            kept = [Round(low, high, one.diameter.mean_mm, f"{one.name}.round")]
        for old in rounds:
            for a, b in ((old.low, min(old.high, low)), (max(old.low, high), old.high)):
                if b - a > 1e-6:
                    kept.append(replace(old, low=a, high=b))
        rounds = kept
    return replace(body, rounds=tuple(rounds))


def _body(name: str, member: Member, frame: Frame) -> Body:
    stock = member.blank
    voids = [o.box.placed(frame) for o in member.features if isinstance(o, f.SawnNotch)]
    if not stock.round:
        return Body(name, stock.box.placed(frame), None, 0.0, (), tuple(voids))
    wide, long = stock.section.width_mm, stock.length_mm
    plain = Body(name, stock.box, 0, wide, (Round(0.0, long, wide, f"{name}.round"),))
    rounds = turned(plain, member.features).rounds or plain.rounds
    wide = max(one.diameter for one in rounds)
    box = Box((0.0, -wide / 2, -wide / 2), (long, wide / 2, wide / 2)).placed(frame)
    axis = frame.turned(0)
    placed = []
    for one in rounds:
        ends = [frame.place((at, 0.0, 0.0))[axis] for at in (one.low, one.high)]
        of_stock = one.surface == f"{name}.round"
        surface = one.surface if of_stock or name == "blank" else f"{name}/{one.surface}"
        placed.append(Round(min(ends), max(ends), one.diameter, surface))
    return Body(name, box, axis, wide, tuple(placed), tuple(voids))


def owner(bodies: Sequence[Body], point: Point) -> Body:
    """The body that a point lies in, or is nearest to."""

    def outside(body: Body) -> float:
        return sum(max(body.low(i) - point[i], 0.0, point[i] - body.high(i)) for i in range(3))

    return min(bodies, key=lambda body: (outside(body), -body.size(0) * body.size(1)))


@dataclass(frozen=True)
class Gripped:
    """A vice on two faces of a body: the grip, the face it rests on, how far off the cut hangs."""

    grip: Grip
    rests: str
    body: Body
    across: int
    hangs_mm: float


def vice(
    bodies: Sequence[Body], up: str, points: Iterable[Point], floor_mm: float, avoid: int | None
) -> Gripped | None:
    """Where a vice holds the work for cuts at some points, the tool above in ``up``; None nowhere.

    floor_mm: the jaws end under this coordinate along ``up``; avoid: no squeezing in this direction.
    """
    upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
    found: list[tuple[float, Gripped]] = []
    places = list(points)
    for body in bodies:
        if body.axis is not None:
            continue
        for across in range(3):
            if across in (upward, avoid) or body.size(across) > VICE_OPENS_MM:
                continue
            if one := _on(body, bodies, (upward, sign, across), places, floor_mm):
                held = (one.grip.to_mm - one.grip.from_mm) / body.size(upward)
                wide = body.size(across) / 20  # a long piece bows between jaws at its ends
                found.append((one.hangs_mm - 5 * min(held, 0.7) + wide, one))
    return min(found, key=lambda pair: pair[0])[1] if found else None


def _on(
    body: Body, bodies: Sequence[Body], way: tuple[int, int, int], places: Sequence[Point],
    floor_mm: float,
) -> Gripped | None:  # fmt: skip
    upward, sign, across = way
    along = 3 - upward - across
    bottom = body.end(upward, -sign)
    top = body.end(upward, sign)
    top = min(top, floor_mm) if sign > 0 else max(top, floor_mm)
    height = sign * (top - bottom)
    gone: list[tuple[float, float]] = []
    for (
        void
    ) in body.voids:  # a notch takes a face away, from some height on or for some of its length
        for face in (body.low(across), body.high(across)):
            if void.low[across] - 1e-6 < face < void.high[across] + 1e-6:
                starts = void.low[upward] if sign > 0 else void.high[upward]
                far = sign * (starts - bottom)
                if far > LEAST_GRIP_MM:
                    height = min(height, far)
                else:
                    gone.append((void.low[along], void.high[along]))
    height = min(height - 1.0, 0.85 * body.size(upward), JAW_HIGH_MM)
    whole = max(o.high(upward) for o in bodies) - min(o.low(upward) for o in bodies)
    if height < max(min(LEAST_HEIGHT * whole, ENOUGH_MM), LEAST_GRIP_MM):
        return None
    if not stands(body, bodies, upward, sign):
        return None
    span = _free(body, bodies, (upward, sign, across, along), height, gone)
    if span is None:
        return None
    reach = [
        max(span[0] - p[along], p[along] - span[1], body.low(across) - p[across],
            p[across] - body.high(across), 0.0)
        for p in places
    ]  # fmt: skip
    hangs = max(reach or [0.0])
    if hangs > max(HANGS * (span[1] - span[0]), 20.0):
        return None
    low, high = sorted((bottom, bottom + sign * height))
    grip = Grip(body.face(across, -1), body.size(across), low, high, body.face(across, 1))
    return Gripped(grip, body.face(upward, -sign), body, across, hangs)


def stands(body: Body, bodies: Sequence[Body], upward: int, sign: int) -> bool:
    """Whether nothing hangs farther below the face it rests on than parallels lift it."""
    bottom = body.end(upward, -sign)
    return all(
        sign * (other.end(upward, -sign) - bottom) > -PARALLEL_MM
        for other in bodies
        if other is not body
    )


def _free(
    body: Body,
    bodies: Sequence[Body],
    way: tuple[int, int, int, int],
    height: float,
    gone: Sequence[tuple[float, float]],
) -> tuple[float, float] | None:
    """The longest stretch of both faces that no other body stands before."""
    upward, sign, across, along = way
    bottom = body.end(upward, -sign)
    low, high = sorted((bottom, bottom + sign * height))
    spans = [(body.low(along), body.high(along))]
    before: list[tuple[float, float]] = []
    for start, end in gone:
        spans = [
            (a, b)
            for x, y in spans
            for a, b in ((x, min(y, start)), (max(x, end), y))
            if b - a > 1e-6
        ]
    for other in bodies:
        if other is body or other.high(upward) < low + 1e-6 or other.low(upward) > high - 1e-6:
            continue
        stands = other.low(across) < body.low(across) - 1e-6 or (
            other.high(across) > body.high(across) + 1e-6
        )
        if not stands:
            continue
        before.append((other.low(along) - 1, other.high(along) + 1))
        cut: list[tuple[float, float]] = []
        for a, b in spans:
            cut += [(a, min(b, other.low(along) - 1)), (max(a, other.high(along) + 1), b)]
        spans = [(a, b) for a, b in cut if b - a > 1e-6]
    spans = [span for span in spans if _room(span, before)]
    if not spans:
        return None
    best = max(spans, key=lambda span: span[1] - span[0])
    least = min(15.0, 0.5 * body.size(along))
    return best if best[1] - best[0] >= least else None


def _room(span: tuple[float, float], before: Sequence[tuple[float, float]]) -> bool:
    """Whether the jaws come to a stretch: past one of its ends nothing stands before them."""
    low = any(high <= span[0] + 1e-6 for _, high in before)
    high = any(low_ >= span[1] - 1e-6 for low_, _ in before)
    return not (low and high) or span[1] - span[0] >= JAW_WIDE_MM


def between(body: Body, one: Round) -> bool:
    """Whether a round lies between thicker ones, or balls, on both sides."""
    thick = [r for r in body.rounds if r.diameter > one.diameter + 1e-6]
    i = body.axis or 0
    ends = (min(r.low for r in body.rounds), max(r.high for r in body.rounds))
    balls = (body.low(i) < ends[0] - 1e-6, body.high(i) > ends[1] + 1e-6)
    low = any(r.high <= one.low + 1e-6 for r in thick) or balls[0]
    high = any(r.low >= one.high - 1e-6 for r in thick) or balls[1]
    return low and high


def flat_ended(body: Body) -> bool:
    """Whether a round has two flat ends."""
    i = body.axis or 0
    lows, highs = [r.low for r in body.rounds], [r.high for r in body.rounds]
    return min(lows) < body.low(i) + 1e-6 and max(highs) > body.high(i) - 1e-6


def blocked(bodies: Sequence[Body], up: str, box: Box, own: Body) -> bool:
    """Whether another body stands between a face and the tool that comes straight down on it."""
    upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
    level = own.end(upward, sign)
    for other in bodies:
        if other is own:
            continue
        above = sign * (other.end(upward, sign) - level) > 1e-6
        over = all(
            other.low(i) < box.high[i] - 1e-6 and other.high(i) > box.low[i] + 1e-6
            for i in range(3)
            if i != upward
        )
        if above and over:
            return True
    return False


def stands_beside(bodies: Sequence[Body], up: str, at: Point, own: Body, wide_mm: float) -> float:
    """How far metal stands up beside a point of one body, nearer to it than ``wide_mm``; mm, or 0."""
    upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
    tall = 0.0
    over = [at[i] + (sign if i == upward else 0.0) for i in range(3)]
    for void in own.voids:  # a notch's own walls
        if all(void.low[i] < over[i] < void.high[i] for i in range(3)):
            walls = [
                abs(edge - at[i])
                for i in range(3)
                if i != upward
                for edge, end in ((void.low[i], own.low(i)), (void.high[i], own.high(i)))
                if abs(edge - end) > 1e-6 and own.low(i) < edge < own.high(i)
            ]
            if min(walls, default=wide_mm) < wide_mm:
                tall = sign * (own.end(upward, sign) - at[upward])
    for other in bodies:
        if other is own:
            continue
        near = [
            max(other.low(i) - at[i], at[i] - other.high(i), 0.0) for i in range(3) if i != upward
        ]
        if hypot(*near) < wide_mm:
            tall = max(tall, sign * (other.end(upward, sign) - at[upward]))
    return tall


def covers(box: Box, own: Body, i: int) -> bool:
    """Whether a cut goes right across a body, square to a direction."""
    return all(
        box.low[j] <= own.low(j) + 1e-6 and box.high[j] >= own.high(j) - 1e-6
        for j in range(3)
        if j != i
    )


def faced(bodies: Sequence[Body], own: Body, i: int, sign: int, at: float) -> list[Body]:
    """The bodies after a flat is cut right across one of them."""
    low, high = list(own.box.low), list(own.box.high)
    (high if sign > 0 else low)[i] = at
    box = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return [replace(b, box=box) if b is own else b for b in bodies]


def towers(bodies: Sequence[Body], up: str, own: Body, most_mm: float) -> bool:
    """Whether another body stands up beside one, farther than ``most_mm`` over it."""
    upward, sign = "xyz".index(up[1]), 1 if up[0] == "+" else -1
    level = own.end(upward, sign)
    return any(sign * (o.end(upward, sign) - level) > most_mm for o in bodies if o is not own)


def bench_hold(bodies: Sequence[Body], free: int | None = None) -> Hold:
    """The bench vice on the two nearest faces of the stoutest block, else on a round.

    free: the axis (0 to 2) whose two faces are worked on: the jaws leave them free.
    """
    boxes = [body for body in bodies if body.axis is None]
    if not boxes:
        body = bodies[0]
        one = max(body.rounds, key=lambda r: r.high - r.low)
        other = 2 if body.axis != 2 else 1
        half = one.diameter / 2
        centre = (body.low(other) + body.high(other)) / 2
        grip = Grip(one.surface, one.diameter, centre - half, centre + half * 0.8, one.surface,
                    packing="soft jaws")  # fmt: skip
        return Hold("bench vice", "bench vice, soft jaws", (grip,), up="+" + "xyz"[other])
    body = max(boxes, key=lambda b: b.size(0) * b.size(1) * b.size(2))
    across = min((i for i in range(3) if i != free), key=body.size)
    upward = next(i for i in (2, 1, 0) if i != across)
    low, high = body.low(upward), body.low(upward) + 0.6 * body.size(upward)
    grip = Grip(body.face(across, -1), body.size(across), low, high, body.face(across, 1),
                packing="soft jaws")  # fmt: skip
    return Hold("bench vice", "bench vice, soft jaws", (grip,), up="+" + "xyz"[upward])
