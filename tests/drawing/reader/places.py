"""Exact places from printed numbers: lines are known by where they are drawn, numbers join them."""

from __future__ import annotations

from .ink import Unreadable
from .views import SAME_MM

LETTERS = "XYZ"


class Places:
    """Along each axis of the space: places as drawn, the numbers between them, exact places."""

    def __init__(self) -> None:
        self.drawn: list[list[float]] = [[], [], []]
        self.links: list[list[tuple[int, int, float]]] = [[], [], []]
        self.ends: list[list[float]] = [[], [], []]
        self.anchors: list[float | None] = [None, None, None]
        self._solved: list[dict[int, float] | None] = [None, None, None]

    def node(self, axis: int, at: float) -> int:
        """The place drawn there, a new one if there is none."""
        places = self.drawn[axis]
        if places:
            k = min(range(len(places)), key=lambda n: abs(places[n] - at))
            if abs(places[k] - at) < SAME_MM:
                return k
        places.append(at)
        return len(places) - 1

    def link(self, axis: int, one: float, other: float, apart: float) -> None:
        """A number between two places; its sense is that in which they are drawn."""
        a, b = self.node(axis, one), self.node(axis, other)
        size = abs(apart) if other >= one else -abs(apart)
        self.links[axis].append((a, b, size))
        self._solved[axis] = None

    def kept(
        self,
    ) -> tuple[list[list[float]], list[list[tuple[int, int, float]]], list[list[float]]]:
        """What is known so far, to go back to."""
        return ([list(x) for x in self.drawn], [list(x) for x in self.links],
                [list(x) for x in self.ends])  # fmt: skip

    def back(
        self, kept: tuple[list[list[float]], list[list[tuple[int, int, float]]], list[list[float]]]
    ) -> None:
        """Back to what was known then."""
        self.drawn, self.links, self.ends = ([list(x) for x in one] for one in kept)  # type: ignore[misc]
        self._solved = [None, None, None]

    def reach(self, axis: int, low: float, high: float) -> None:
        """How far a view shows the piece."""
        self.ends[axis] += [low, high]

    def anchor(self, axis: int, at: float) -> None:
        """Where no number lies along an axis, what is drawn there is the origin."""
        self.anchors[axis] = at
        self._solved[axis] = None

    def _component(self, axis: int, start: int) -> dict[int, float]:
        exact = {start: self.drawn[axis][start]}
        rest = [start]
        while rest:
            k = rest.pop()
            for a, b, size in self.links[axis]:
                for one, other, by in ((a, b, size), (b, a, -size)):
                    if one == k and other not in exact:
                        exact[other] = exact[one] + by
                        rest.append(other)
        return exact

    def solved(self, axis: int) -> dict[int, float]:
        """The exact places, from the place that most numbers reach; middles last."""
        known = self._solved[axis]
        if known is not None:
            return known
        anchor = self.anchors[axis]
        base = self.node(axis, anchor) if anchor is not None else -1
        places = self.drawn[axis]
        parts: list[dict[int, float]] = []
        for k in range(len(places)):
            if not any(k in part for part in parts):
                parts.append(self._component(axis, k))
        parts.sort(key=lambda part: (base not in part, -len(part)))
        exact = dict(parts[0]) if parts else {}
        left = parts[1:]
        while left:
            joined = next((p for p in left if self._middle(axis, exact, p)), None)
            if joined is None:
                break
            left.remove(joined)
            by = self._middle(axis, exact, joined)
            assert by is not None
            exact |= {k: x + by[0] for k, x in joined.items()}
        self._solved[axis] = exact
        return exact

    def _middle(
        self, axis: int, exact: dict[int, float], part: dict[int, float]
    ) -> tuple[float] | None:
        """Common practice: what is drawn in the middle and has no number lies in the middle."""
        places = self.drawn[axis]
        for base, other in ((exact, part), (part, exact)):
            ends = [k for k in base if any(abs(places[k] - e) < SAME_MM for e in self.ends[axis])]
            for a in ends:
                for b in ends:
                    if places[b] - places[a] < SAME_MM:
                        continue
                    for k in other:
                        if abs(places[k] - (places[a] + places[b]) / 2) < SAME_MM / 2:
                            by = (base[a] + base[b]) / 2 - other[k]
                            return (by if base is exact else -by,)
        return None

    def exact(self, axis: int, at: float) -> float:
        """The exact place of what is drawn there. Raises Unreadable where no number reaches it."""
        places = self.drawn[axis]
        k = min(range(len(places)), key=lambda n: abs(places[n] - at), default=-1)
        if k < 0 or abs(places[k] - at) >= SAME_MM:
            if not places:
                self.node(axis, at)
                return at
            raise Unreadable(f"nothing says where {LETTERS[axis]} {at:.3f} is")
        exact = self.solved(axis)
        if k not in exact:
            raise Unreadable(f"no number reaches {LETTERS[axis]} {at:.3f}")
        return exact[k]

    def knows(self, axis: int, at: float) -> bool:
        """Whether a number reaches what is drawn there."""
        try:
            self.exact(axis, at)
        except Unreadable:
            return False
        return True
