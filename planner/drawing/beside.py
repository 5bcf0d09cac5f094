"""A view with the dimensions beside it: which side each goes to, and how far its lanes reach."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import Struct, field

from parts import features as f
from planner.drawing.callouts import Call
from planner.drawing.choose import View
from planner.drawing.lanes import Lined, Side, arranged, beyond, depth_mm
from planner.drawing.marks import size_mark
from planner.drawing.model import Box, Point
from planner.drawing.outline import Outline
from planner.drawing.scheme import Edge, Scheme, Size
from planner.words.numbers import Numbers

SAME_MM = 1e-6
"""Two places nearer each other are one."""

CUT_MM, TAIL_MM = 4.0, 7.0
"""Of a cutting line's end, and of the arrow on it."""

TITLE_MM, LETTER_MM = 8.0, 4.0
"""What a section's title takes over it, and the letter beyond the end of a cutting line."""

PAST_MM, SPARE_MM, CORNER_MM, NEARER_MM = 0.5, 2.0, 2.0, 4.0
"""Level words that run so far past the view's side count, with so much to spare; upright ones that go
beyond its corner by so much begin clear of them, so much nearer as none stands on the line itself."""

LANE_PART, MOST_LANES = 0.25 / 3, 3
"""A dimension more on a side is as bad as extension lines longer by this part of the view's girth; and
so many dimensions, at most, before a diameter goes to the other side."""


class Beside(Struct, eq=False, dict=True):
    """One view and the dimensions beside it."""

    outline: Outline
    dims: dict[Side, list[Lined]] = field(
        default_factory=lambda: {"below": [], "above": [], "left": [], "right": []}
    )
    lanes: dict[Side, int] = field(default_factory=dict)
    start: dict[Side, float] = field(default_factory=dict)
    cut_level: bool = False
    cut_upright: bool = False
    over: dict[Side, float] = field(default_factory=dict)
    origin: Point = (0.0, 0.0)

    @property
    def view(self) -> View:
        """The view itself."""
        return self.outline.view

    def cell(self, scale: float) -> Box:
        """The rectangle it takes round its own origin, with all its lanes, on the paper."""
        left, low, right, top = (scale * x for x in self.outline.span)
        title = TITLE_MM if self.view.at_mm is not None else 0.0
        level, upright = (
            CUT_MM + LETTER_MM if cut else 0.0 for cut in (self.cut_level, self.cut_upright)
        )
        return Box(
            left - self.far("left") - level,
            low - self.far("below") - upright,
            right + self.far("right") + level,
            top + self.far("above") + title + upright,
        )

    def far(self, side: Side) -> float:
        """How far beside the view its lanes reach on a side."""
        lanes = self.lanes[side]
        return max(depth_mm(lanes) + (self.start[side] if lanes else 0.0), self.over.get(side, 0.0))

    def arrange(self, numbers: Numbers, scale: float) -> None:
        """All its dimensions into lanes, the upright ones clear of level words beyond a corner."""
        self.start = dict.fromkeys(self.dims, 0.0)
        self.over = {}
        for side, dims in self.dims.items():
            self.lanes[side] = arranged(dims, numbers, scale)
        left, low, right, top = (scale * x for x in self.outline.span)
        level = [self.taken(d, numbers, scale) for s in ("below", "above") for d in self.dims[s]]
        over: dict[Side, float] = {
            "left": beyond(left - a for a, _ in level),
            "right": beyond(b - right for _, b in level),
        }
        for side, far in over.items():
            if far > PAST_MM:
                self.over[side] = far + SPARE_MM
            runs = [self.taken(d, numbers, scale) for d in self.dims[side]]
            outside = any(a < low - CORNER_MM or b > top + CORNER_MM for a, b in runs)
            if far > PAST_MM and outside:
                self.start[side] = max(0.0, far - NEARER_MM)
        upright = [self.taken(d, numbers, scale) for s in ("left", "right") for d in self.dims[s]]
        self.over["below"] = beyond(low - a for a, _ in upright)
        self.over["above"] = beyond(b - top for _, b in upright)

    @staticmethod
    def taken(dim: Lined, numbers: Numbers, scale: float) -> tuple[float, float]:
        """From where to where a dimension with its words runs along its lane."""
        low, high = sorted((dim.a * scale, dim.b * scale))
        middle, half = (low + high) / 2 + dim.shift, dim.wide(numbers) / 2
        return min(low, middle - half), max(high, middle + half)

    def at(self, point: tuple[float, float], scale: float) -> Point:
        """A point of the view on the paper."""
        return self.origin[0] + scale * point[0], self.origin[1] + scale * point[1]


def to_sides(
    scheme: Scheme, beside: dict[View, Beside], where: dict[Any, View], said: Sequence[Call]
) -> list[Call]:
    """Give every drawn edge and every diameter that shows from an end its side; returns the calls
    that are left for leaders."""
    for edge in scheme.edges:
        if edge.said == "drawn":
            _edge(edge, beside[where[edge]])
    rest = []
    for call in said:
        one = beside[call.view]
        size = call.lone_diameter
        if size is None or not _diameter(scheme, size, one):
            rest.append(call)
        elif call.without_diameter:
            rest.append(call.without_diameter)
    return rest


def _edge(edge: Edge, one: Beside) -> None:
    outline = one.outline
    level = edge.direction == outline.view.across
    a, b = (outline.coordinate(ref, edge.direction) for ref in (edge.one, edge.other))
    (a0, a1), (b0, b1) = (outline.reach(ref, edge.direction) for ref in (edge.one, edge.other))
    feet: dict[Side, tuple[float, float]] = (
        {"below": (a0, b0), "above": (a1, b1)} if level else {"left": (a0, b0), "right": (a1, b1)}
    )
    lined = Lined(edge, edge.size, level, a, b, feet)
    _to_side(lined, one)


def _to_side(lined: Lined, one: Beside) -> None:
    """The side with the shorter extension lines and the fewer lanes."""
    left, low, right, top = one.outline.span
    edge = {"below": low, "above": top, "left": left, "right": right}

    def cost(side: Side) -> float:
        far = sum(abs(foot - edge[side]) for foot in lined.feet[side])
        return far + LANE_PART * (right - left + top - low) * len(one.dims[side])

    lined.side = min(lined.feet, key=cost)
    one.dims[lined.side].append(lined)


def _diameter(scheme: Scheme, size: Size, one: Beside) -> bool:
    """Whether a cylinder's diameter goes beside the view, past no thicker one to an end."""
    outline = one.outline
    ref = f"{size.feature}:axis"
    surface = next((s for s in scheme.claims.of if s.name == ref), None)
    assert size.size is not None
    if surface is None or surface.place.along == outline.view.depth or surface.form != "cylinder":
        return False
    thing = scheme.subject.carriers[size.feature][0]
    if isinstance(thing, f.Hole):
        return False
    level = (
        surface.place.along != outline.view.across
    )  # measured level where the axis stands upright
    spans = [outline.face_span(x) for x in outline.faces_of(ref) if x.kind == "cylinder"]
    spans = [s for s in spans if s]
    k = 1 if level else 0
    low, high = min(s[k] for s in spans), max(s[k + 2] for s in spans)
    u, v = outline.flat(surface.place.at)
    middle = u if level else v
    radius = size.size.nominal_mm / 2
    whole = outline.span
    best: list[tuple[int, float, Side, float]] = []
    sides: tuple[Side, Side] = ("below", "above") if level else ("left", "right")
    for side, end, edge in ((sides[0], low, whole[k]), (sides[1], high, whole[k + 2])):
        reach = (min(end, edge), max(end, edge))
        if not _thicker(outline, surface.place.along, reach, k, radius, middle):
            best.append((len(one.dims[side]), abs(end - edge), side, end))
    best = [b for b in best if b[0] < MOST_LANES]
    if not best:
        return False
    _, _, side, end = min(best)
    lined = Lined(
        size_mark(size),
        size.size,
        level,
        middle - radius,
        middle + radius,
        {side: (end, end)},
        "Ø",
        side,
    )
    one.dims[side].append(lined)
    return True


def _thicker(
    outline: Outline, along: int, reach: tuple[float, float], k: int, radius: float, middle: float
) -> bool:
    """Whether anything stands out further than a radius between two places along the axis."""
    for face in outline.scheme.claims.faces:
        span = outline.face_span(face)
        if span[k + 2] <= reach[0] + SAME_MM or span[k] >= reach[1] - SAME_MM:
            continue
        across = (span[1 - k], span[3 - k])
        if max(abs(across[0] - middle), abs(across[1] - middle)) > radius + SAME_MM:
            return True
    return False
