"""Which views a sheet needs, and no more: the fewest in which everything it says can be said.

What can be said where is a rule by feature type: a hole where it is seen as a circle or is cut along
its axis, a milled face where the cutter came from, a turned one where its axis lies in the plane.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from itertools import combinations
from math import inf
from typing import Any, NamedTuple

from parts import features as f
from parts.frame import Box, vector
from parts.places import SAME_MM, surface
from parts.value import Value
from planner.drawing.joints import runs_along
from planner.drawing.scheme import Edge, Scheme
from planner.drawing.signs import Sign, signs, sized_by
from planner.drawing.subjects import Subject
from planner.solids.seen import SIDES, bounds, up

HIDDEN = 4.0
"""What it costs to dimension to hidden lines, against a view more."""


class View(NamedTuple):
    """A side one looks from; at_mm: where it is cut, None for a view from outside."""

    side: str
    at_mm: float | None = None

    @property
    def towards(self) -> tuple[float, float, float]:
        """Where the viewer stands."""
        return SIDES[self.side][0]

    @property
    def depth(self) -> int:
        """The direction one looks along: 0, 1 or 2."""
        return next(i for i in range(3) if self.towards[i])

    @property
    def across(self) -> int:
        """The direction that lies level in it."""
        return next(i for i in range(3) if SIDES[self.side][1][i])

    @property
    def upright(self) -> int:
        """The direction that stands upright in it."""
        return next(i for i in range(3) if up(self.side)[i])

    @property
    def base(self) -> str:
        """The main view that it stands beside, itself if it is one."""
        return self.side.partition("/")[0]

    @property
    def role(self) -> str:
        """From which side of the main view it looks, "" for the main view."""
        return self.side.partition("/")[2]


MAIN_COST = {"front": 2.0, "top": 2.1, "back": 2.3, "bottom": 2.4}
ROLE_COST = {"": 0.0, "top": 2.2, "left": 2.2, "right": 2.3, "bottom": 2.4}
SECTION = 0.6
"""What a view costs, and a section more."""

BESIDE, CUT_THROUGH = 0.6, 0.02
"""What it costs to point at a weld from beside its run, and at a face's edge in a section."""

END_VIEW = 2.5
"""What it costs to show a flat on a round bar without the view along the bar."""


IN_CUT, CUT_FACING, TAKEN_FROM_END, IN_SECTION = 0.4, 0.5, 0.2, 1.0
"""What it costs to measure in a section to what it cuts, and to a hole that faces one there; to what is
taken away at an end, seen from there; and to call out in a section what shows outside."""

LESS = 1e-9
"""A set of views is cheaper if by so much."""

CUTS, WITHIN_MM = 3, 0.5
"""Sections that are tried each way, and how far within the metal each is."""


class Ask(Value, frozen=True):
    """One thing to say, and what it costs to say it in each view."""

    what: Edge | str
    costs: dict[View, float]


def views(scheme: Scheme) -> tuple[tuple[View, ...], dict[Any, View]]:
    """The views a sheet needs, and which of them each edge and each feature's call-out is said in."""
    subject = scheme.subject
    body = bounds(subject.member or subject.part)
    possible = list(_possible(subject, body))
    asks = [
        _edge_ask(scheme, edge, possible, body) for edge in scheme.edges if edge.said == "drawn"
    ]
    asks += [_note_ask(subject, name, possible, body) for name in noted(scheme)]
    asks += [_sign_ask(subject, sign, possible, body) for sign in signs(subject)]
    best, found = inf, None
    for base in MAIN_COST:
        for chosen, cost in _sets([v for v in possible if v.base == base]):
            if cost >= best - LESS:
                continue
            for ask in asks:
                cost += min(ask.costs[view] for view in chosen)
            if cost < best - LESS:
                best, found = cost, chosen
    if found is None:
        lost = [a.what for a in asks if min(a.costs.values()) == inf]
        raise LookupError(f"{subject.name}: no view shows {lost}")
    where = {ask.what: min(found, key=lambda v: ask.costs[v]) for ask in asks}
    return found, where


def noted(scheme: Scheme) -> list[str]:
    """Names of the features that have a call-out, in order."""
    names = [size.feature for size in scheme.sizes]
    names += [edge.feature for edge in scheme.edges if edge.said == "noted"]
    return list(dict.fromkeys(names))


def _possible(subject: Subject, body: Box) -> Iterator[View]:
    for side in SIDES:
        yield View(side)
    for side in SIDES:
        if side.partition("/")[2] in ("right", "bottom"):
            continue
        places: set[float] = set()
        for thing, _ in subject.carriers.values():
            if isinstance(thing, f.Hole) and thing in subject.features:
                k = View(side).depth
                if "xyz".index(thing.axis.along[1]) != k:
                    places.add(round(thing.axis.origin[k], 6) + 0.0)
        stock = subject.stock
        if stock is not None and stock.section.shape == "tube" and View(side).depth != 0:
            places.add(0.0)
        for at in sorted(places)[:CUTS]:
            i = View(side).depth
            if body.low[i] + WITHIN_MM < at < body.high[i] - WITHIN_MM:
                yield View(side, at)


def _sets(possible: list[View]) -> Iterator[tuple[tuple[View, ...], float]]:
    """Sets of up to four views round one main view, and what they cost by themselves."""
    price = {
        view: ROLE_COST[view.role]
        + (0.0 if view.role else MAIN_COST[view.side])
        + (SECTION if view.at_mm is not None else 0.0)
        for view in possible
    }
    mains = [view for view in possible if not view.role]
    others = [view for view in possible if view.role]
    for count in (0, 1, 2, 3):
        for rest in combinations(others, count):
            if len({view.role for view in rest}) == count:
                for main in mains:
                    yield (main, *rest), price[main] + sum(price[v] for v in rest)


def _edge_ask(scheme: Scheme, edge: Edge, possible: list[View], body: Box) -> Ask:
    costs = {}
    for view in possible:
        both = [
            _station_cost(scheme.subject, ref, edge.direction, view, body)
            for ref in (edge.one, edge.other)
        ]
        costs[view] = sum(both) if edge.direction != view.depth else inf
    return Ask(edge, costs)


def _station_cost(subject: Subject, ref: str, direction: int, view: View, body: Box) -> float:
    carrier, element = surface(ref)
    thing, frame = subject.carriers[carrier]
    round_bar = subject.stock is not None and subject.stock.round
    if isinstance(thing, f.MilledFlat) and round_bar and view.depth != 0:
        return END_VIEW
    if isinstance(thing, f.Feature) and frame.origin == (0.0, 0.0, 0.0):
        return seen_cost(thing, view, body)
    return 0.0


def _note_ask(subject: Subject, name: str, possible: list[View], body: Box) -> Ask:
    thing: Any = next((x for x in (*subject.features, *subject.welds) if x.name == name), None)
    if thing is None:  # the blank's own diameter
        return Ask(name, {v: inf if v.depth == 0 else 0.0 for v in possible})
    return Ask(name, {view: note_cost(thing, view, body) for view in possible})


def _sign_ask(subject: Subject, sign: Sign, possible: list[View], body: Box) -> Ask:
    """A face shows where it is seen edge-on; what is round, where its own call-out stands."""
    if sign.what == "weld":
        along = runs_along(subject, sign.thing)
        return Ask(
            sign.mark,
            {
                v: (0.0 if along in (-1, v.depth) else BESIDE) + note_cost(sign.thing, v, body)
                for v in possible
            },
        )
    if sign.round:
        carrier = surface(sign.of)[0]
        name = sized_by(subject, sign.of) if sign.what != "texture" else carrier
        if name:
            costs = _note_ask(subject, name, possible, body).costs  # paid for by the call-out
            return Ask(sign.mark, {v: inf if cost == inf else 0.0 for v, cost in costs.items()})
        along = subject.place(sign.of).along
        return Ask(sign.mark, {v: inf if v.depth == along else 0.0 for v in possible})
    along = subject.place(sign.of).along
    return Ask(
        sign.mark,
        {v: inf if v.depth == along else 0.0 if v.at_mm is None else CUT_THROUGH for v in possible},
    )


@singledispatch
def seen_cost(feature: Any, view: View, body: Box) -> float:
    """What it costs to measure to a feature in a view; infinite where it does not show."""
    return 0.0


@seen_cost.register
def _(feature: f.Turned, view: View, body: Box) -> float:
    return 0.0


@seen_cost.register
def _(feature: f.Hole, view: View, body: Box) -> float:
    j, k = "xyz".index(feature.axis.along[1]), view.depth
    if j == k:
        facing = (
            sum(a * b for a, b in zip(vector(feature.axis.along), view.towards, strict=True)) < 0
        )
        if view.at_mm is not None:
            before = (feature.axis.origin[k] - view.at_mm) * sum(view.towards)
            return inf if before > SAME_MM else (CUT_FACING if facing else inf)
        both = feature.through and not feature.opens_into
        return 0.0 if facing or both else HIDDEN
    if view.at_mm is None:
        return HIDDEN
    return IN_CUT if abs(feature.axis.origin[k] - view.at_mm) < SAME_MM else inf


@seen_cost.register
def _(feature: f.Removed, view: View, body: Box) -> float:
    k, box = view.depth, feature.box
    ends = (box.low[k] <= body.low[k] + SAME_MM, box.high[k] >= body.high[k] - SAME_MM)
    if view.at_mm is not None:
        return IN_CUT if box.low[k] < view.at_mm < box.high[k] else inf
    if all(ends):
        return 0.0
    return TAKEN_FROM_END if ends[view.towards[k] > 0] else HIDDEN


@singledispatch
def note_cost(feature: Any, view: View, body: Box) -> float:
    """What it costs to call a feature out in a view."""
    return seen_cost(feature, view, body)


@note_cost.register(f.Turned)
def _(feature: f.Turned, view: View, body: Box) -> float:
    return inf if view.depth == "xyz".index(feature.axis.along[1]) else 0.0


@note_cost.register
def _(feature: f.IndexMark, view: View, body: Box) -> float:
    end_on = view.depth == "xyz".index(feature.axis.along[1]) and view.at_mm is None
    return 0.0 if end_on else IN_SECTION


@note_cost.register
def _(feature: f.SawnNotch, view: View, body: Box) -> float:
    return 0.0 if view.depth == 2 and view.at_mm is None else inf


@note_cost.register
def _(feature: f.Weld, view: View, body: Box) -> float:
    return 0.0 if view.at_mm is None else IN_SECTION
