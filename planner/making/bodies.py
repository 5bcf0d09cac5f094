"""Work that does not turn: its bodies as boxes and cylinders now, and where vice or V-blocks hold them.

Imported by making.across and making.whole. A body's faces are named as the record names surfaces.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from parts import features as f
from parts.blank import Member
from parts.frame import Box, Frame, Point
from parts.part import Joined, Part, members
from parts.value import Value
from planner.making.model import Grip, Hold
from planner.making.near import Span, below, off_axis, outside, overlap, way_of, with_face, within
from planner.making.near import middle as middle_of
from planner.making.workshop import VICE_OPENS_MM

FAR = 1e4
"""Past the end of any work, mm."""

TIPS = 0.95
"""A drill's thrust may lie past the jaws by so many times what they grip (common practice: one)."""

LEAST_HEIGHT = 0.34
"""Of the height of flat work at least so much is gripped (common practice: a third)."""

LEAST_GRIP_MM, ENOUGH_MM = 2.5, 15.0
"""And no less; however high it is, so much holds it for a small machine's cuts (common practice)."""

JAW_HIGH_MM = 35.0
"""The jaws of a small machine vice are so high (common practice: 30 to 40)."""

JAW_HIGH = 0.5
"""And no higher than so much of what it opens: a milling slide's vice of 50 has jaws of some 25 (common
practice)."""

JAW_WIDE_MM = 100.0
"""And so wide: beside the gripped faces nothing may stand out there, but past one end of the jaws."""

LEAST_LONG_MM, LEAST_LONG = 15.0, 0.5
"""Jaws bear on so much of a face's length, or of a short one on half (common practice)."""

HANGS = 2.5
"""A cut may hang out of the jaws so many times the length they grip (common practice)."""

PARALLEL_MM = 2.0
"""So little may hang below the face that rests on parallels (common practice)."""

BESIDE_MM = 1.0
"""The jaws stay so far from what stands before a face (common practice)."""

CROWDED = 10.0
"""Jaws beside what stands out of a face are taken where others let the cut hang so much farther, mm."""

SIDES = {-1: "-", 1: "+"}


class Round(Value, frozen=True):
    """A cylinder of a round body: from where to where along its axis, its diameter, its surface."""

    low: float
    high: float
    diameter: float
    surface: str


class Body(Value, frozen=True):
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
        if not isinstance(one, f.TurnedDiameter | f.TurnedBall) or not about(body, one):
            continue
        low, high = sorted((one.axis.at(one.start_mm)[i], one.axis.at(one.end_mm)[i]))
        kept = []
        if isinstance(one, f.TurnedDiameter):
            kept = [Round(low, high, one.diameter.mean_mm, f"{one.name}.round")]
        for old in rounds:
            left = outside((old.low, old.high), (low, high))
            kept += [replace(old, low=a, high=b) for a, b in left]
        rounds = kept
    wide = max((one.diameter for one in rounds), default=body.diameter)
    box, at = body.box, middle_of(body.box)
    for k in (k for k in range(3) if k != i):  # no thicker than what is left of it
        box = with_face(with_face(box, k, -1, at[k] - wide / 2), k, 1, at[k] + wide / 2)
    return replace(body, rounds=tuple(rounds), box=box, diameter=wide)


def about(body: Body, one: f.Turned | f.Hole) -> bool:
    """Whether a round body lies about the axis that something is turned or bored about."""
    along = way_of(one.axis.along)[0]
    return body.axis == along and not off_axis(middle_of(body.box), one.axis.origin, along)


def _body(name: str, member: Member, frame: Frame) -> Body:
    stock = member.blank
    gone = f.SawnNotch if name == "blank" else f.SawnNotch | f.MilledFlat  # of a whole, all are cut
    voids = [o.box.placed(frame) for o in member.features if isinstance(o, gone)]
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


class Gripped(Value, frozen=True):
    """A vice on two faces of a body: the grip, the face it rests on, how far off the cut hangs.

    crowded: whether the jaws bear beside something that stands out of a face.
    """

    grip: Grip
    rests: str
    body: Body
    across: int
    hangs_mm: float
    crowded: bool = False


def vice(
    bodies: Sequence[Body], up: str, points: Iterable[Point], floor_mm: float, avoid: int | None,
    opens_mm: float = VICE_OPENS_MM, drilled: bool = False,
) -> Gripped | None:  # fmt: skip
    """Where a vice holds the work for cuts at some points, the tool above in ``up``; None nowhere.

    floor_mm: the jaws end under this coordinate along ``up``; avoid: no squeezing in this direction;
    opens_mm: what the vice takes; drilled: a drill pushes down at the points.
    """
    upward, sign = way_of(up)
    found: list[tuple[float, Gripped]] = []
    places = list(points)
    for body in bodies:
        if body.axis is not None:
            continue
        for across in range(3):
            if across in (upward, avoid) or body.size(across) > opens_mm:
                continue
            jaws = min(JAW_HIGH_MM, JAW_HIGH * opens_mm)
            if one := _on(body, bodies, (upward, sign, across), places, floor_mm, drilled, jaws):
                held = (one.grip.to_mm - one.grip.from_mm) / body.size(upward)
                wide = body.size(across) / 20  # a long piece bows between jaws at its ends
                crowded = CROWDED if one.crowded else 0.0
                found.append((one.hangs_mm - 5 * min(held, 0.7) + wide + crowded, one))
    return min(found, key=lambda pair: pair[0])[1] if found else None


def _on(
    body: Body, bodies: Sequence[Body], way: tuple[int, int, int], places: Sequence[Point],
    floor_mm: float, drilled: bool, jaws_mm: float,
) -> Gripped | None:  # fmt: skip
    upward, sign, across = way
    along = 3 - upward - across
    bottom = body.end(upward, -sign)
    top = body.end(upward, sign)
    top = min(top, floor_mm) if sign > 0 else max(top, floor_mm)
    height = sign * (top - bottom)
    gone: list[Span] = []
    for void in body.voids:  # takes a face away, from some height on or for some of its length
        for face in (body.low(across), body.high(across)):
            if within(face, void.low[across], void.high[across]):
                starts = void.low[upward] if sign > 0 else void.high[upward]
                far = sign * (starts - bottom)
                if far > LEAST_GRIP_MM:
                    height = min(height, far)
                else:
                    gone.append((void.low[along], void.high[along]))
    height = min(height - 1.0, 0.85 * body.size(upward), jaws_mm)
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
    past = [max(span[0] - p[along], p[along] - span[1]) for p in places]
    if drilled and max(past, default=0.0) > TIPS * (span[1] - span[0]):
        return None
    low, high = sorted((bottom, bottom + sign * height))
    grip = Grip(body.face(across, -1), body.size(across), low, high, body.face(across, 1))
    crowded = span[1] - span[0] < body.size(along) - BESIDE_MM
    return Gripped(grip, body.face(upward, -sign), body, across, hangs, crowded)


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
    gone: Sequence[Span],
) -> Span | None:
    """The longest stretch of both faces that no other body stands before; None where it is too short.

    Beside what stands out of a face the jaws bear on as much of its length as the work is thick between
    them, or it turns in them (common practice).
    """
    upward, sign, across, along = way
    bottom = body.end(upward, -sign)
    low, high = sorted((bottom, bottom + sign * height))
    before: list[Span] = []
    for other in bodies:
        beside = overlap((other.low(upward), other.high(upward)), (low, high))
        past = any(below(*far) for far in ((other.low(across), body.low(across)),
                                           (body.high(across), other.high(across))))  # fmt: skip
        if other is not body and beside and past:
            before.append((other.low(along) - BESIDE_MM, other.high(along) + BESIDE_MM))
    spans = [(body.low(along), body.high(along))]
    for taken in (*gone, *before):
        spans = [left for span in spans for left in outside(span, taken)]
    spans = [span for span in spans if _room(span, before)]
    best = max(spans, key=lambda span: span[1] - span[0], default=None)
    least = min(LEAST_LONG_MM, LEAST_LONG * body.size(along))
    if any(overlap(one, (body.low(along), body.high(along))) for one in before):
        least = max(least, body.size(across))
    return best if best and best[1] - best[0] >= least else None


def _room(span: Span, before: Sequence[Span]) -> bool:
    """Whether the jaws come to a stretch: past one of its ends nothing stands before them."""
    low = any(not below(span[0], high) for _, high in before)
    high = any(not below(low_, span[1]) for low_, _ in before)
    return not (low and high) or span[1] - span[0] >= JAW_WIDE_MM


def between(body: Body, one: Round) -> bool:
    """Whether a round lies between thicker ones, or balls, on both sides."""
    thick = [r for r in body.rounds if below(one.diameter, r.diameter)]
    ball_low, ball_high = balls(body)
    low = any(not below(one.low, r.high) for r in thick) or ball_low
    high = any(not below(r.low, one.high) for r in thick) or ball_high
    return low and high


def balls(body: Body) -> tuple[bool, bool]:
    """Whether a round ends in a ball at its low end, and at its high: it reaches past its cylinders."""
    assert body.axis is not None
    low, high = min(r.low for r in body.rounds), max(r.high for r in body.rounds)
    return below(body.low(body.axis), low), below(high, body.high(body.axis))


def flat_ended(body: Body) -> bool:
    """Whether a round has two flat ends."""
    return not any(balls(body))


def blocked(bodies: Sequence[Body], up: str, box: Box, own: Body) -> bool:
    """Whether another body stands between a face and the tool that comes straight down on it."""
    upward, sign = way_of(up)
    level = own.end(upward, sign)
    for other in bodies:
        if other is own:
            continue
        above = below(0.0, sign * (other.end(upward, sign) - level))
        over = all(
            overlap((other.low(i), other.high(i)), (box.low[i], box.high[i]))
            for i in range(3)
            if i != upward
        )
        if above and over:
            return True
    return False


def covers(box: Box, own: Body, i: int) -> bool:
    """Whether a cut goes right across a body, square to a direction."""
    return all(
        not below(own.low(j), box.low[j]) and not below(box.high[j], own.high(j))
        for j in range(3)
        if j != i
    )


def faced(bodies: Sequence[Body], own: Body, i: int, sign: int, at: float) -> list[Body]:
    """The bodies after a flat is cut right across one of them."""
    box = with_face(own.box, i, sign, at)
    return [replace(b, box=box) if b is own else b for b in bodies]


def towers(bodies: Sequence[Body], up: str, own: Body, most_mm: float) -> bool:
    """Whether another body stands up beside one, farther than ``most_mm`` over it."""
    upward, sign = way_of(up)
    level = own.end(upward, sign)
    return any(sign * (o.end(upward, sign) - level) > most_mm for o in bodies if o is not own)


def bench_hold(bodies: Sequence[Body], free: int | None = None, up: str = "") -> Hold:
    """The bench vice on the two nearest faces of the stoutest block that it opens to, else on a round.

    free: the axis whose two faces are worked on; up: which way the worked face of a block looks, "" for
    no matter, and it is said. The jaws leave both free."""
    boxes = [body for body in bodies if body.axis is None]
    words = f"bench vice, soft jaws, the {up} side up" if up else "bench vice, soft jaws"
    if not boxes:
        return _round_in_bench_vice(bodies[0], 2 if bodies[0].axis != 2 else 1, 1, words)
    body = max(boxes, key=lambda b: b.size(0) * b.size(1) * b.size(2))
    ways = sorted((i for i in range(3) if i != free), key=body.size)
    upward, sign = way_of(up) if up else (next(i for i in (2, 1, 0) if i != ways[0]), 1)
    ways, tall = [i for i in ways if i != upward], 0.6 * body.size(upward)
    clear = (i for i in ways if not up
             or _free(body, bodies, (upward, sign, i, 3 - i - upward), tall, ()))  # fmt: skip
    across, bottom = next(clear, ways[0]), body.end(upward, -sign)
    rounds = [one for one in bodies if one.axis not in (None, upward) and one.rounds]
    if up and rounds and body.size(across) > VICE_OPENS_MM:
        return _round_in_bench_vice(rounds[0], upward, sign, words)
    low, high = sorted((bottom, bottom + sign * tall))
    near, far = (body.face(across, side) for side in (-1, 1))
    grip = Grip(near, body.size(across), low, high, far, packing="soft jaws")
    return Hold("bench vice", words, (grip,), up=f"{SIDES[sign]}{'xyz'[upward]}")


def _round_in_bench_vice(body: Body, upward: int, sign: int, words: str) -> Hold:
    """The same by the longest of a body's rounds."""
    one = max(body.rounds, key=lambda r: r.high - r.low)
    half, centre = one.diameter / 2, (body.low(upward) + body.high(upward)) / 2
    low, high = sorted((centre - sign * half, centre + sign * half * 0.8))
    grip = Grip(one.surface, one.diameter, low, high, one.surface, packing="soft jaws")
    return Hold("bench vice", words, (grip,), up=f"{SIDES[sign]}{'xyz'[upward]}")
