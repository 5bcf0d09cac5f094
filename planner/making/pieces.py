"""The sequence of a part: its pieces sawn, faced, made and parted off, joined, made on as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import hypot, sqrt

from parts import features as f
from parts.features import Feature, Stage
from parts.frame import Box
from parts.part import Joined, Member, Part, members
from planner.making import order
from planner.making.holding import (
    Hold,
    Holding,
    facing_mm,
    from_sheet,
    is_axial,
    parting_mm,
)
from planner.making.machines import Workshop
from planner.making.sequence import Node, Nodes, Toward, Workpiece
from planner.making.steps import IN_PLACE, Step, Work, steps

Held = Mapping[tuple[str, str], Holding]


def plan_part(part: Part, held: Held, shop: Workshop, nodes: Nodes) -> None:
    """Add the nodes of a part; held: how its pieces are held, by part and piece."""
    before_welding: list[int] = []
    for member in members(part):
        piece = _Piece(Workpiece(part, member), held[part.name, member.name], shop, nodes)
        before_welding += piece.plan()
    if isinstance(part.blank, Joined):
        _Work(Workpiece(part), shop, nodes).whole(part.blank, before_welding)


class _Work:
    """Nodes added on one workpiece."""

    def __init__(self, on: Workpiece, shop: Workshop, nodes: Nodes) -> None:
        self.on, self.shop, self.nodes = on, shop, nodes

    def whole(self, blank: Joined, before_welding: Sequence[int]) -> None:
        """The welds of a weldment and what is made on it."""
        joined: list[int] = []
        for weld in blank.welds:
            made = self.feature(weld, [*before_welding, *joined])
            joined.append(made[-1])
        features = self.on.part.features
        order.within(self.nodes, features, [self.feature(item, joined) for item in features])

    def feature(self, feature: Feature, after: Sequence[int], hold: str = "") -> list[int]:
        """Add the steps of one feature, each after the one before it and all after ``after``.

        hold: how it is held for this, "" for its own way.
        """
        stock = (self.on.member or _under(self.on.part, feature)).blank
        axial = is_axial(feature) or (isinstance(feature, f.FacedLength) and stock.round)
        swings = stock.section.width_mm if self.on.member else swing_mm(self.on.part, feature)
        hole = 0.0
        if stock.section.shape == "tube":
            hole = stock.section.width_mm - 2 * stock.section.thickness_mm
        made = steps(feature, Work(self.shop, swings, hole, axial))
        indices: list[int] = []
        for place, step in enumerate(made):
            toward = Toward(feature, place == 0, place == len(made) - 1, _facing(feature, axial))
            held = replace(step, holding=hold or feature.held or step.holding)
            node = self.node(held, stock.material, toward)
            node.before.update((*after, *indices[-1:]))
            indices.append(self.nodes.add(node))
        return indices

    def node(self, step: Step, material: str, toward: Toward | None = None) -> Node:
        """A node on this workpiece, held its own way where the step says no other."""
        stage = toward.feature.stage if toward else Stage.BLANK
        held = replace(step, holding=step.holding or self.own_holding(stage, step))
        return Node(held, self.on, stage, self.shop.machine(step.work), material, toward)

    def own_holding(self, stage: Stage, step: Step) -> str:
        """How the welded whole is held when nothing else is said."""
        if stage is Stage.IN_PLACE:
            return IN_PLACE
        return "between centres" if step.work == "turn" else "machine vice"


class _Piece(_Work):
    """Nodes added on one piece of stock, before it is welded or as the part it becomes."""

    def __init__(self, on: Workpiece, held: Holding, shop: Workshop, nodes: Nodes) -> None:
        super().__init__(on, shop, nodes)
        assert on.member is not None
        self.member: Member = on.member
        self.stock, self.held, self.numbers = self.member.blank, held, shop.numbers

    def plan(self) -> list[int]:
        """All of it, from the saw to what is made on it; returns its nodes."""
        own = list(self.member.features)
        length = next((item for item in own if isinstance(item, f.FacedLength)), None)
        rest = [item for item in own if item is not length]
        parted = self.held.hold in (Hold.PARTED, Hold.BAR)
        start = [] if self.held.hold is Hold.BAR else [self._add(self._sawing())]
        if parted:
            start = [self._add(self._first_end(), start)]
        elif length is not None:
            start = self.feature(length, start)
        if self.held.hold is Hold.CENTRES:
            start = [self._add(CENTRING, start)]
        made = [self.feature(item, start) for item in rest]
        order.within(self.nodes, rest, made)
        if parted and length is not None:
            made.append(self._part_off(length, list(zip(rest, made, strict=True)), start))
        return [index for group in [start, *made] for index in group]

    def _add(self, step: Step, after: Sequence[int] = ()) -> int:
        """Add a step that is toward no feature."""
        node = self.node(step, self.stock.material)
        node.before.update(after)
        return self.nodes.add(node)

    def _sawing(self) -> Step:
        stock, numbers = self.stock, self.numbers
        if from_sheet(stock, self.shop.job):
            plate = f"{numbers.size(stock.section.thickness_mm)} {stock.material} plate"
            return Step(
                "saw",
                "saw",
                f"cut the outline of the {self.member.name} from {plate} by its DXF (cutting/); grind"
                " the edges, a torch leaves them hard",
                "plasma table, or saw",
                "sheet",
                measure=numbers.rule(stock.length_mm),
                gauge="rule",
            )
        hard = self.held.hold is Hold.ASIS
        verb = "cut off with an abrasive wheel" if hard else "saw"
        cut = numbers.rule(stock.length_mm + self.held.facing_mm + self.held.grip_mm)
        return Step(
            "saw",
            "saw",
            f"{verb} {numbers.stock(stock.section)} {stock.material}, {cut}",
            "abrasive wheel" if hard else "saw",
            "saw vice",
            measure=cut,
            gauge="rule",
        )

    def _first_end(self) -> Step:
        stock, numbers = self.stock, self.numbers
        by = f"by the spare {numbers.rule(self.held.grip_mm)}"
        if self.held.hold is Hold.BAR:
            out = numbers.rule(
                stock.length_mm + self.held.facing_mm + parting_mm(self.shop.job.series)
            )
            bar = f"{numbers.stock(stock.section)} {stock.material}"
            by = f"the bar {bar} through the spindle, {out} out"
        return Step(
            "face",
            "turn",
            f"chuck {by}, face the first end, {numbers.rule(facing_mm(self.shop.job.series))} off",
            "facing tool",
            speed=("face", stock.section.width_mm),
        )

    def _part_off(
        self,
        length: f.FacedLength,
        made: Sequence[tuple[Feature, list[int]]],
        start: Sequence[int],
    ) -> list[int]:
        """Part off after all that is made in the chucking, then face to length; the rest follows."""
        chucked: list[list[int]] = []
        others: list[list[int]] = []
        for feature, group in made:
            in_chuck = is_axial(feature) and feature.stage is Stage.BLANK
            (chucked if in_chuck else others).append(group)
        long = length.length.nominal_mm + facing_mm(self.shop.job.series)
        step = Step(
            "part",
            "turn",
            f"part off at {self.numbers.rule(long)}",
            "parting tool",
            speed=("part", self.stock.section.width_mm),
        )
        done = [index for group in chucked for index in group] or start
        off = self._add(step, done)
        faced = self.feature(length, [off], "chuck, on the made end")
        for group in others:
            self.nodes.wait(group[0], faced[-1])
        return [off, *faced]

    def own_holding(self, stage: Stage, step: Step) -> str:
        """How the piece is held when nothing else is said."""
        if stage in (Stage.IN_PLACE, Stage.LAST):
            return super().own_holding(stage, step)
        hold = self.held.hold
        if hold is Hold.PARTED:
            return "chuck, by the spare grip"
        if hold is Hold.BAR:
            return "chuck, the bar through the spindle"
        if hold is Hold.CENTRES:
            return "between centres" if step.kind == "turn" else "chuck"
        if hold is Hold.CHUCK:
            return "chuck"
        return "machine vice" if step.work in ("mill", "drill") else "vice"


CENTRING = Step(
    "centre",
    "turn",
    "centre-drill both ends",
    "centre drill",
    holding="chuck",
    speed=("drill", 4.0),
)


def _under(part: Part, feature: Feature) -> Member:
    """The member of a weldment that a feature is made on: the one whose own axis it lies about.

    A feature about no member's axis is taken to be on the stoutest.
    """
    axis = getattr(feature, "axis", None)
    if axis is not None:
        for member in members(part):
            along, origin = member.frame.x, member.frame.origin
            off = [a - b for i, (a, b) in enumerate(zip(axis.origin, origin, strict=True))
                   if "xyz"[i] != along[1]]  # fmt: skip
            if axis.along[1] == along[1] and all(abs(d) < 1e-6 for d in off):
                return member
    return max(members(part), key=lambda m: m.blank.section.area_mm2)


def swing_mm(part: Part, feature: Feature) -> float:
    """The diameter a weldment sweeps when a feature of it is turned: its farthest corner, twice."""
    axis = getattr(feature, "axis", None)
    if axis is None:
        return max(m.blank.section.width_mm for m in members(part))
    across = [i for i in range(3) if "xyz"[i] != axis.along[1]]
    farthest = 0.0
    for member in members(part):
        half_y = member.blank.section.width_mm / 2
        half_z = member.blank.section.height_mm / 2
        if member.blank.round:
            half_y = half_z = half_y / sqrt(2)
        box = Box((0.0, -half_y, -half_z), (member.blank.length_mm, half_y, half_z))
        for corner in box.placed(member.frame).corners():
            farthest = max(farthest, hypot(*(corner[i] - axis.origin[i] for i in across)))
    return 2 * farthest


def _facing(feature: Feature, axial: bool) -> str:
    """The way a hole across the axis goes: holes of one direction share a set-up."""
    axis = getattr(feature, "axis", None)
    return axis.along if axis is not None and not axial else ""
