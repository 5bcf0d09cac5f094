"""The work of a sketch as it stands in the lathe: thin as far as it was turned before the set-up, thick
what is turned in it, and the last tool at its cut.

Positions along the axis count from the jaws' front away from the chuck, mm. Imported by book.sketch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from parts.value import Value
from planner.book.bodies import Ball, Body
from planner.drawing import setup, setup_tools
from planner.drawing.model import Item
from planner.drawing.setup import Step
from planner.drawing.sketch import At, box

Record = Mapping[str, Any]

SHANK_MM = 8.0
"""Of the tools; for looks alone."""

NEAR_MM = 1e-6


class Along(Value, frozen=True):
    """How positions of a record are seen: along which axis, to which side, from the jaws' front."""

    axis: int
    sign: float
    front: float

    def at(self, value: Any) -> float:
        """A position of the record."""
        return self.sign * float(value) - self.front

    def span(self, cut: Record) -> tuple[float, float]:
        """From where to where a cut reaches, the lower first."""
        low, high = sorted(self.at(cut[key]) for key in ("from_mm", "to_mm"))
        return low, high

    def turns(self, cut: Record) -> bool:
        """Whether a cut takes the outside down, about this axis."""
        return cut["shape"] == "turn" and "xyz".index(cut["axis"]["along"][1]) == self.axis

    def ball(self, cut: Record) -> Ball | None:
        """The ball that a cut turns about this axis, None for any other cut."""
        if cut["shape"] != "ball" or "xyz".index(cut["way"]) != self.axis:
            return None
        low, high = self.span(cut)
        return Ball(low, high, self.at(cut["middle_mm"]), float(cut["diameter_mm"]))


class Profile:
    """Diameters along the axis, mm: stretches from low to high without a gap."""

    def __init__(self, stretches: Sequence[tuple[float, float, float]]) -> None:
        self.stretches = list(stretches)

    def turned(self, low: float, high: float, diameter: float) -> Profile:
        """What is left when a stretch was turned down to a diameter."""
        found = []
        for a, b, wide in self.stretches:
            for start, end in pairwise(sorted({a, b, *(x for x in (low, high) if a < x < b)})):
                inside = low - NEAR_MM <= start and end <= high + NEAR_MM
                found.append((start, end, min(wide, diameter) if inside else wide))
        return Profile(found)

    def balled(self, ball: Ball) -> Profile:
        """What is left when a ball was turned."""
        found = self
        for low, high, wide in ball.strips():
            found = found.turned(low, high, wide)
        return found

    def at(self, u: float) -> float:
        """The diameter there, the larger one at a shoulder; 0 where there is no work."""
        return max(
            (d for a, b, d in self.stretches if a - NEAR_MM <= u <= b + NEAR_MM), default=0.0
        )

    def steps(self, start: float, out: float) -> tuple[Step, ...]:
        """The work between two places, those of one diameter together."""
        found: list[Step] = []
        for a, b, wide in self.stretches:
            long = min(b, out) - max(a, start)
            if long <= NEAR_MM:
                continue
            if found and abs(found[-1].diameter_mm - wide) < NEAR_MM:
                long += found.pop().length_mm
            found.append(Step(long, wide))
        return tuple(found)


def before_it(
    size: float,
    bodies: Sequence[Body],
    before: Sequence[Record],
    cuts: Sequence[Record],
    along: Along,
    span: tuple[float, float],
) -> Profile:
    """The work as it comes into a set-up, over a span.

    size: what is gripped, mm across; bodies: of the work, which are drawn where they are several;
    before, cuts: what was and what is cut from this piece. One body is its bar, as thick as the first
    cut says, less what was turned before.
    """
    taken = [cut for cut in before if along.turns(cut)]
    balls = [ball for cut in before if (ball := along.ball(cut))]
    bar = max(
        [size, *(float(c.get("before_mm") or 0.0) for c in [*taken, *cuts] if c["shape"] == "turn")]
    )
    solid = [one for one in bodies if one.style == "thin"]
    found = Profile([(*span, bar)])
    if len(solid) > 1:
        found = _joined(solid, along, span, size)
    for cut in taken:
        found = found.turned(*along.span(cut), float(cut["after_mm"]))
    for ball in balls:
        found = found.balled(ball)
    return found


def _joined(
    bodies: Sequence[Body], along: Along, span: tuple[float, float], size: float
) -> Profile:
    """Several bodies along the axis: rounds as thick as they are, the square as wide as is gripped."""
    pieces = []
    for one in bodies:
        if one.axis == along.axis and one.rounds:
            pieces += [
                (*sorted((along.at(r.low), along.at(r.high))), r.diameter_mm) for r in one.rounds
            ]
        else:
            ends = sorted((along.at(one.low[along.axis]), along.at(one.high[along.axis])))
            pieces.append((*ends, size))
    places = sorted({*span, *(u for a, b, _ in pieces for u in (a, b) if span[0] < u < span[1])})
    found = []
    for low, high in pairwise(places):
        there = [d for a, b, d in pieces if a - NEAR_MM <= low and high <= b + NEAR_MM]
        found.append((low, high, max(there, default=size)))
    return Profile(found)


def work(
    profile: Profile,
    start: float,
    out: float,
    cuts: Sequence[Record],
    along: Along,
    at: At,
    follows: bool = False,
) -> Iterator[Item]:
    """The work from its start to its end as it comes, thin; what is cut in this set-up, thick; the last
    tool at it, and the travelling steady where one follows it."""
    if steps := profile.steps(start, out):
        yield from setup.piece(at.moved(start), setup.turned_edges(steps))
    yield at.path(((start - 4.0, 0.0), (out + 6.0, 0.0)), "centre")
    left, tool = profile, list[Item]()
    for cut in cuts:
        shape = cut["shape"]
        if shape == "face":
            u = along.at(cut["at_mm"])
            if start <= u <= out + NEAR_MM:
                half = min(float(cut["diameter_mm"]), left.at(u)) / 2
                yield at.path(((u, -half), (u, half)), "visible")
                tool = list(_facing(cut, u, half, along, at))
        elif ball := along.ball(cut):
            if start <= ball.low and ball.high <= out:
                left = left.balled(ball)
                at_it = _near(at, ball.middle, ball.diameter_mm / 2)
                tool = list(setup_tools.turning_tool(at_it, SHANK_MM))
        elif shape in ("turn", "bore", "thread", "hole"):
            low, high = along.span(cut)
            low, high = max(low, start), min(high, out)
            wide = float(cut.get("after_mm") or cut.get("diameter_mm") or 0.0)
            if high - low <= 0 or not 0 < wide <= 1.02 * max(profile.at(low), profile.at(high)):
                continue
            if shape == "turn":
                left = left.turned(low, high, wide)
            else:
                yield from _sides(low, high, wide, at)
            if shape in ("bore", "hole"):
                yield at.path(((low, -wide / 2), (low, wide / 2)), "visible")
            if follows and tool and _kind(cut) == "grooving tool":
                continue  # the steady follows the tool that is drawn
            tool = list(_at_work(cut, (low, high), wide, out, at, follows)) or tool
    yield from _turned(profile, left, start, out, at)
    yield from tool


def _sides(low: float, high: float, wide: float, at: At) -> Iterator[Item]:
    for half in (wide / 2, -wide / 2):
        yield at.path(((low, half), (high, half)), "visible")


def _turned(was: Profile, left: Profile, start: float, out: float, at: At) -> Iterator[Item]:
    """What is turned, as it is left, with its shoulders."""
    u = start
    for step in left.steps(start, out):
        for low, high in pairwise(sorted({u, u + step.length_mm, *_ends(was, u, step)})):
            if was.at((low + high) / 2) <= step.diameter_mm + NEAR_MM:
                continue
            yield from _sides(low, high, step.diameter_mm, at)
            for end in (low, high):
                top = min(left.at(end), was.at(end))
                if top > step.diameter_mm + NEAR_MM:
                    for side in (0.5, -0.5):
                        yield at.path(
                            ((end, side * step.diameter_mm), (end, side * top)), "visible"
                        )
        u += step.length_mm


def _ends(of: Profile, u: float, step: Step) -> list[float]:
    return [x for a, b, _ in of.stretches for x in (a, b) if u < x < u + step.length_mm]


# ---- its tool ----


def _kind(cut: Record) -> str:
    """What kind of tool makes a cut, "" where the record has none."""
    return str((cut.get("tool") or {}).get("kind", ""))


def _facing(cut: Record, u: float, half: float, along: Along, at: At) -> Iterator[Item]:
    """At a face; a parting tool beside it, on the side that comes off as chips."""
    if _kind(cut) != "parting tool":
        yield from setup_tools.facing_tool(_near(at, u, half), SHANK_MM)
        return
    blade = float(cut["off_mm"])
    outward = (cut["keeps"][0] == "+") == (along.sign > 0)
    yield from setup_tools.parting_tool(
        _near(at, u - blade if outward else u, half), blade, half + 2.0, max(SHANK_MM, 1.5 * blade)
    )


def _at_work(
    cut: Record, span: tuple[float, float], wide: float, out: float, at: At, follows: bool
) -> Iterator[Item]:
    """The tool of a cut that is no face, the travelling steady with it; none where it is not drawn."""
    (low, high), kind = span, _kind(cut)
    if kind == "die":
        yield from setup_tools.die(at.moved(out), wide)
    elif cut["shape"] == "thread" and cut.get("inside"):
        return
    elif cut["shape"] == "bore":
        bar = min(float((cut.get("tool") or {}).get("diameter_mm") or 0.6 * wide), 0.7 * wide)
        middle = (low + high) / 2
        yield from setup_tools.boring_tool(_near(at, middle, wide / 2), bar, out - middle + 4.0)
    elif cut["shape"] == "hole":
        yield from setup_tools.drill(
            At(at.point((out + 2.0, 0.0)), at.scale, at.turn_deg - 90.0),
            wide,
            max(18.0, 2.5 * wide),
        )
    elif kind == "grooving tool":
        yield from setup_tools.parting_tool(
            _near(at, low, wide / 2), high - low, wide, max(SHANK_MM, 1.5 * (high - low))
        )
    else:
        stands = (low + high) / 2 if follows else high
        yield from setup_tools.turning_tool(_near(at, stands, wide / 2), SHANK_MM)
        if follows:
            yield from setup.travelling_steady(at.moved(stands + 3.0), wide, 6.0)


def _near(at: At, u: float, half: float) -> At:
    """On the work's near side, where the tool stands, seen from above."""
    return At(at.point((u, -half)), at.scale, at.turn_deg, flip=True)


def behind(profile: Profile, deep: float, back: float, at: At) -> Iterator[Item]:
    """What goes back through the jaws: hidden in the chuck, whose own back is so far behind the jaws'
    front."""
    first = min(a for a, _, _ in profile.stretches)
    u = first
    for step in profile.steps(first, -deep):
        half, end = step.diameter_mm / 2, u + step.length_mm
        yield at.ring(box(u, -half, end, half), "hidden")
        if u < -back:
            yield at.ring(box(u, -half, min(end, -back), half))
        u = end
