"""The steps of a job as nodes that wait for each other, and their topological order.

making.pieces adds the nodes, making.order what must come before what; making.route reads them in
order. Knows nothing of features but what a node carries.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.part import Member, Part
from planner.making.steps import Step

RANK = {
    "saw": 0,
    "face": 10,
    "centre": 12,
    "notch": 14,
    "mill": 16,
    "turn": 20,
    "spot": 30,
    "drill": 31,
    "bore": 32,
    "ream": 33,
    "counterbore": 34,
    "shoulder": 36,
    "thread": 40,
    "tap": 42,
    "knurl": 44,
    "engrave": 50,
    "ball": 60,
    "grind": 70,
    "weld": 80,
    "check": 85,
    "part": 90,
    "end": 92,
    "slit": 99,
}
"""The order of kinds of work within one set-up (common practice: faces before diameters before
holes, threads after their diameters, engraving on a finished rim, parting off and slitting last)."""

Key = tuple[int | float | str, ...]


@dataclass(frozen=True)
class Workpiece:
    """What is worked on: a piece of a part (the whole of a part of one piece), or the welded whole."""

    part: Part
    member: Member | None = None

    @property
    def name(self) -> str:
        """The piece's name, the part's for the whole."""
        return self.member.name if self.member else self.part.name


@dataclass(frozen=True)
class Toward:
    """The feature a step is toward: whether the step begins it, and whether it finishes it.

    facing: the way a hole across the axis goes; holes of one direction share a set-up.
    """

    feature: Feature
    first: bool
    last: bool
    facing: str = ""


@dataclass
class Node:
    """A step in its place: on which workpiece, when, by which machine, of which material.

    toward: None for sawing, facing, centring and parting off. before: the nodes it waits for.
    """

    step: Step
    on: Workpiece
    stage: Stage
    machine: str
    material: str
    toward: Toward | None = None
    before: set[int] = field(default_factory=set)

    @property
    def set_up(self) -> tuple[str, ...]:
        """What must not change between two operations of one set-up."""
        facing = self.toward.facing if self.toward else ""
        hold = self.step.holding
        return (self.on.part.name, self.on.name, self.stage, self.machine, hold, facing)

    @property
    def station_mm(self) -> float:
        """Where along the axis the feature begins: of equals, what comes first is made first."""
        return getattr(self.toward.feature, "start_mm", 0.0) if self.toward else 0.0


class Nodes:
    """The nodes of a job, by number, and by the feature they are toward."""

    def __init__(self) -> None:
        self.all: list[Node] = []
        self._toward: dict[tuple[str, str], list[int]] = {}

    def __getitem__(self, index: int) -> Node:
        return self.all[index]

    def add(self, node: Node) -> int:
        """Take a node in; returns its number."""
        index = len(self.all)
        self.all.append(node)
        if node.toward:
            key = (node.on.part.name, node.toward.feature.name)
            self._toward.setdefault(key, []).append(index)
        return index

    def of_part(self, name: str) -> list[int]:
        """The nodes of a part."""
        return [index for index, node in enumerate(self.all) if node.on.part.name == name]

    def toward(self, part: str, feature: str) -> Sequence[int]:
        """The nodes toward a feature, in order: the first begins it, the last finishes it."""
        return self._toward[part, feature]

    def wait(self, later: int, *earlier: int) -> None:
        """Let a node wait for others."""
        self[later].before.update(earlier)

    def ordered(self, attachment: Attachment) -> list[int]:
        """Topological order that stays in one set-up while it can, else takes the earliest.

        Earliest by the attachment's order of parts, then by stage, piece and kind of work. Raises
        ValueError when nodes wait for each other.
        """
        waiting = {index: set(node.before) for index, node in enumerate(self.all)}
        keys = self._keys(attachment)
        followers: dict[int, list[int]] = {index: [] for index in waiting}
        for index, before in waiting.items():
            for earlier in before:
                followers[earlier].append(index)
        ready = [index for index, before in waiting.items() if not before]
        order: list[int] = []
        while ready:
            now = self[order[-1]].set_up if order else None
            index = min(ready, key=lambda i: (self[i].set_up != now, keys[i]))
            ready.remove(index)
            order.append(index)
            for follower in followers[index]:
                waiting[follower].discard(index)
                if not waiting[follower]:
                    ready.append(follower)
        if len(order) != len(self.all):
            stuck = sorted({self[i].on.part.name for i, before in waiting.items() if before})
            raise ValueError(f"operations wait for each other in: {', '.join(stuck)}")
        return order

    def _keys(self, attachment: Attachment) -> list[Key]:
        """What comes first among nodes that wait for nothing."""
        part_at = {part.name: place for place, part in enumerate(attachment.parts)}
        stage_at = {stage: place for place, stage in enumerate(Stage)}
        return [
            (
                part_at[node.on.part.name],
                stage_at[node.stage],
                node.on.name,
                RANK[node.step.kind],
                node.station_mm,
                index,
            )
            for index, node in enumerate(self.all)
        ]
