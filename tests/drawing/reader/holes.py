"""Holes and slots by their words, in the bodies that they are made in."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from . import shapes
from .blanks import Lathe, drawn_depth
from .ink import Straight, Unreadable
from .sheet import GUESS_MM, Sheet
from .views import SAME_MM, View
from .words import Said


@dataclass
class Drilled:
    """A hole in its place. side: from which end of its axis it is made, 1 or -1; at: on its axis."""

    words: Said
    axis: int
    at: tuple[float, float, float]
    side: int
    radius: float
    view: View
    drawn: tuple[float, float]
    """Its drawn places along the two axes of its view that are not its own, in their order."""
    run: tuple[float, float] | None = None
    """How far it is drawn along its axis, where it is seen lengthwise."""

    def within(self, metal: list[tuple[float, float]]) -> tuple[int, float]:
        """From which side it is made in the metal on its axis, and where it begins."""
        if not metal:
            raise Unreadable(f"{self.words.call.lines}: no metal there")
        if self.run is None:
            return self.side, metal[-1][1] if self.side > 0 else metal[0][0]
        low, high = self.run
        middle = (low + high) / 2
        outer = [k for k, (a, b) in enumerate(metal) if a < middle < b]
        if len(metal) > 1 and outer in ([0], [len(metal) - 1]):
            return (-1, metal[0][0]) if outer == [0] else (1, metal[-1][1])
        offs = [(abs(low - a), -1, a) for a, _ in metal] + [(abs(high - b), 1, b) for _, b in metal]
        return min(offs)[1:]


def drilled(sheet: Sheet, on: Lathe | None) -> list[Drilled]:
    """Every hole of a sheet, each of a number of them by itself."""
    found = []
    for words, view in sheet.calls:
        if not words.hole:
            continue
        size = words.drill if words.thread else words.diameter and words.diameter.value
        if not size:
            raise Unreadable(f"{words.call.lines}: how wide?")
        tip = view.at(words.call.tip)
        ring = sheet.ring(view, tip, size / 2)
        if ring is not None:
            for one in sheet.alike(words, view, ring):
                found.append(_end_on(sheet, view, words, size, one.centre, one.layer))
            continue
        pair = sheet.pair(view, tip, size / 2)
        if pair is None:
            raise Unreadable(f"{words.call.lines}: no hole of its size at the arrow")
        found.append(_lengthwise(sheet, view, words, size, pair, on))
    return found


def _end_on(
    sheet: Sheet, view: View, words: Said, size: float, centre: tuple[float, float], layer: str
) -> Drilled:
    u, v, w = view.axes
    at = [0.0, 0.0, 0.0]
    at[u], at[v] = sheet.places.exact(u, centre[0]), sheet.places.exact(v, centre[1])
    side = view.signs[2] * (-1 if layer == "HIDDEN" else 1)
    return Drilled(words, w, (at[0], at[1], at[2]), side, size / 2, view, centre)


def _lengthwise(
    sheet: Sheet,
    view: View,
    words: Said,
    size: float,
    pair: tuple[int, float, float, float, float],
    on: Lathe | None,
) -> Drilled:
    k, middle, _, low, high = pair
    along, across, deep = view.axes[1 - k], view.axes[k], view.axes[2]
    depth = plane_of(sheet, view, on)
    at = [0.0, 0.0, 0.0]
    at[across] = sheet.places.exact(across, middle)
    at[deep] = sheet.places.exact(deep, depth)
    return Drilled(
        words, along, (at[0], at[1], at[2]), 1, size / 2, view, (middle, depth), (low, high)
    )


def plane_of(sheet: Sheet, view: View, on: Lathe | None) -> float:
    """Where a section is cut: at its mark in another view, else through the turning axis."""
    deep = view.axes[2]
    if view.cut:
        marks = []
        for other in sheet.views:
            if other is view or deep not in other.axes[:2]:
                continue
            k = other.axes.index(deep)
            for s in sheet.ink.straights:
                long = max(abs(s.a[0] - s.b[0]), abs(s.a[1] - s.b[1]))
                if s.layer != "VISIBLE" or long > 4.5 or not (s.level if k else s.upright):
                    continue
                beside = other.box[k] < s.a[k] < other.box[k + 2]
                if beside and not any(v.holds(s.a, 0.05) for v in sheet.views):
                    marks.append((other.away(s.a), other.at(s.a)[k]))
        if marks:
            return min(marks)[1]
    if on is not None:
        if on.view is view:
            return drawn_depth(sheet, on)
        if deep in on.view.axes[:2]:
            return on.middle
    raise Unreadable("a hole seen lengthwise, and nothing says how deep behind the sheet")


def cut_holes(sheet: Sheet, body: Any, slots: list[Any], on: Lathe | None) -> Any:
    """The body with its holes and slots: what goes through first, then what opens into it."""
    holes = drilled(sheet, on)
    tools = list(slots)
    for hole in holes:
        if hole.words.through:
            tools.append(shapes.cylinder(hole.axis, hole.at, -900, 900, hole.radius))
        elif not hole.words.into:
            tools.append(_blind(sheet, body, hole))
    open_ = body.cut(*tools) if tools else body
    into = [_into(open_, hole) for hole in holes if hole.words.into]
    return open_.cut(*into).clean() if into else open_.clean()


def _blind(sheet: Sheet, body: Any, hole: Drilled) -> Any:
    assert hole.words.depth is not None
    side, entry = hole.within(shapes.inside(body, hole.axis, hole.at))
    if hole.words.origin:
        entry = _axis_before(sheet, hole)
    end = entry - side * hole.words.depth
    return shapes.cylinder(hole.axis, hole.at, entry, end, hole.radius)


def _axis_before(sheet: Sheet, hole: Drilled) -> float:
    """The axis that a depth is measured from: where the hole's drawn end lies so deep from it."""
    assert hole.words.depth is not None
    best = []
    for view in sheet.views:
        if hole.axis not in view.axes[:2]:
            continue
        k = view.axes.index(hole.axis)
        other = view.axes[1 - k]
        middle = next((hole.drawn[j] for j in (0, 1) if hole.view.axes[j] == other), None)
        if middle is None:
            continue
        ends = [
            p[k]
            for s in view.lines("VISIBLE", "HIDDEN")
            if abs(abs(s.a[1 - k] - middle) - hole.radius) < GUESS_MM
            and abs(s.a[1 - k] - s.b[1 - k]) < 1e-6
            for p in s.points
        ]
        for c in view.lines("CENTER"):
            if abs(c.a[k] - c.b[k]) > 1e-6:
                continue
            for end in ends:
                off = abs((c.a[k] - end) * hole.side - hole.words.depth)
                if off < GUESS_MM:
                    best.append((off, c.a[k]))
    if not best:
        raise Unreadable(f"{hole.words.call.lines}: from which axis?")
    return sheet.places.exact(hole.axis, min(best)[1])


def _into(body: Any, hole: Drilled) -> Any:
    """From outside to the middle of the first hollow on its way."""
    metal = shapes.inside(body, hole.axis, hole.at)
    side, entry = hole.within(metal)
    if side < 0:
        hollow = next(((a[1] + b[0]) / 2 for a, b in pairwise(metal) if a[0] >= entry), None)
    else:
        hollow = next(
            ((a[1] + b[0]) / 2 for a, b in reversed(list(pairwise(metal))) if b[1] <= entry), None
        )
    if hollow is None:
        raise Unreadable(f"{hole.words.call.lines}: it meets no hollow")
    return shapes.cylinder(hole.axis, hole.at, hollow, entry + side * 900, hole.radius)


def slots(sheet: Sheet, body: Any) -> list[Any]:
    """Slots and slits: open where nothing is before them, else to a hole's middle or a drawn end."""
    found = []
    for words, view in sheet.calls:
        if words.kind != "slot":
            continue
        k, a, b, one, other = sheet.slot(words, view)
        axis, along = view.axes[k], view.axes[1 - k]
        sides = sorted(sheet.places.exact(axis, x) for x in (a, b))
        low = max(min(s.a[1 - k], s.b[1 - k]) for s in (one, other))
        high = min(max(s.a[1 - k], s.b[1 - k]) for s in (one, other))
        ends = [_end(sheet, view, k, body, sides, x, way, (one, other))
                for x, way in ((low, -1), (high, 1))]  # fmt: skip
        lows, highs = [-900.0] * 3, [900.0] * 3
        lows[axis], highs[axis] = sides
        lows[along], highs[along] = ends
        found.append(shapes.box(tuple(lows), tuple(highs)))  # type: ignore[arg-type]
    return found


def _end(
    sheet: Sheet,
    view: View,
    k: int,
    body: Any,
    sides: list[float],
    x: float,
    way: int,
    edges: tuple[Straight, Straight],
) -> float:
    along = view.axes[1 - k]
    for r in view.circles("VISIBLE", "HIDDEN", whole=False):
        for s in edges:
            for p in s.points:
                off = ((p[0] - r.centre[0]) ** 2 + (p[1] - r.centre[1]) ** 2) ** 0.5 - r.radius
                if abs(p[1 - k] - x) < SAME_MM and abs(off) < 5 * SAME_MM:
                    return sheet.places.exact(along, r.centre[1 - k])
    at = sheet.places.exact(along, x)
    lows, highs = [-900.0] * 3, [900.0] * 3
    lows[view.axes[k]], highs[view.axes[k]] = sides
    lows[along], highs[along] = sorted((at + way * 0.05, at + way * 0.1))
    before = shapes.box(tuple(lows), tuple(highs)).intersect(body)  # type: ignore[arg-type]
    return at + way * 900 if shapes.volume(before) < 1e-6 else at
