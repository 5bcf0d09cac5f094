"""The order of operations: every feature made once, by which machine, how held, measured with what.

making.steps says which steps make a feature; ``route`` adds sawing, facing and parting off, ties
the steps with what must come before what, and sorts them, staying in one set-up as long as it can.
Imported by output.plan; needs no solid.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import hypot, sqrt

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.frame import Box
from parts.part import Joined, Member, Part, members
from parts.standard.materials import material
from planner.job.tables import Job
from planner.making.holding import (
    FACING_MM,
    PARTING_MM,
    Hold,
    Holding,
    from_sheet,
    holdings,
    is_axial,
)
from planner.making.machines import Workshop
from planner.making.steps import IN_PLACE, Step, Work, steps

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


@dataclass(frozen=True)
class Operation:
    """One line of the operation sequence.

    number counts from 1 over the whole job, and setup over its set-ups: operations of one set-up are
    done without letting go of the work. makes: the features finished here, prepares: those
    this is a step toward. after: the numbers that must be done first. speed_rpm is None for hand
    work.
    """

    number: int
    setup: int
    part: str
    piece: str
    stage: str
    kind: str
    machine: str
    holding: str
    datum: str
    text: str
    tool: str
    speed_rpm: float | None
    measure: str
    gauge: str
    caution: str
    note: str
    makes: tuple[str, ...]
    prepares: tuple[str, ...]
    after: tuple[int, ...]


@dataclass
class _Node:
    step: Step
    part: Part
    piece: str
    stage: Stage
    datum: str
    material: str
    makes: tuple[str, ...] = ()
    prepares: tuple[str, ...] = ()
    station: float = 0.0
    facing: str = ""
    note: str = ""
    before: set[int] = field(default_factory=set)
    machine: str = ""


# ---- the sequence ----

CAUTIONS = {
    "weld": "Weld away from oil and chips; screen, ventilation; by a competent welder to local rules",
    "grind": "Goggles; rest close to the wheel",
    "part": "Slow, tool on centre; stand clear",
    "engrave": "Spindle off and locked",
    "slit": "Clamp well; slow; goggles",
}


def route(attachment: Attachment, job: Job) -> tuple[Operation, ...]:
    """The operation sequence of an attachment in a shop."""
    return _Router(attachment, job).sequence()


class _Router:
    def __init__(self, attachment: Attachment, job: Job) -> None:
        self.attachment = attachment
        self.shop, self.numbers = Workshop(job), job.numbers
        self.held = holdings(attachment, job)
        self.tool = job.shop.tool_material
        self.nodes: list[_Node] = []
        self.of_part: dict[str, list[int]] = {}
        self.finishing: dict[tuple[str, str], int] = {}
        self.first: dict[tuple[str, str], int] = {}

    def sequence(self) -> tuple[Operation, ...]:
        for part in self.attachment.parts:
            self.of_part[part.name] = []
            self._plan(part)
        self._across_parts()
        for node in self.nodes:
            node.machine = self.shop.machine(node.step.work)
        order = self._sorted()
        number = {index: position + 1 for position, index in enumerate(order)}
        operations = []
        setup = 0
        for position, index in enumerate(order):
            if position == 0 or self._set_up(index) != self._set_up(order[position - 1]):
                setup += 1
            operations.append(self._operation(index, number, setup))
        return tuple(operations)

    def _set_up(self, index: int) -> tuple[str, ...]:
        """What must not change between two operations of one set-up."""
        node = self.nodes[index]
        step = node.step
        return (node.part.name, node.piece, node.stage, node.machine, step.holding, node.facing)

    # -- one part --

    def _plan(self, part: Part) -> None:
        before_welding: list[int] = []
        for member in members(part):
            before_welding += self._piece(part, member)
        if not isinstance(part.blank, Joined):
            return
        joined: list[int] = []
        for weld in part.blank.welds:
            made = self._feature(part, None, weld, part.name, before_welding + joined)
            joined.append(made[-1])
        whole = [self._feature(part, None, item, part.name, joined) for item in part.features]
        self._stages(part.features, whole)

    def _piece(self, part: Part, member: Member) -> list[int]:
        held = self.held[part.name, member.name]
        piece = member.name
        own = list(member.features)
        parted = held.hold in (Hold.PARTED, Hold.BAR)
        start = []
        if held.hold is not Hold.BAR:
            start = [self._add(part, piece, Stage.BLANK, self._sawing(member, held))]
        length = next((item for item in own if isinstance(item, f.FacedLength)), None)
        rest = [item for item in own if item is not length]
        if parted:
            start = [self._face_first_end(part, member, start)]
        elif length is not None:
            start = self._feature(part, member, length, piece, start)
        if held.hold is Hold.CENTRES:
            start = [self._centre(part, member, start)]
        made = [self._feature(part, member, item, piece, start) for item in rest]
        self._stages(rest, made)
        if parted and length is not None:
            made.append(self._part_off(part, member, length, rest, made, start))
        return [index for group in [start, *made] for index in group]

    def _sawing(self, member: Member, held: Holding) -> Step:
        stock = member.blank
        cut = stock.length_mm + held.facing_mm + held.grip_mm
        if from_sheet(stock, self.shop.job):
            plate = f"{self.numbers.size(stock.section.thickness_mm)} {stock.material} plate"
            return Step(
                "saw",
                "saw",
                f"cut the outline of the {member.name} from {plate} by its DXF (flat/); grind the"
                " edges, a torch leaves them hard",
                "plasma table, or saw",
                "sheet",
                measure=self.numbers.rule(stock.length_mm),
                gauge="rule",
            )
        hard = held.hold is Hold.ASIS
        verb = "cut off with an abrasive wheel" if hard else "saw"
        return Step(
            "saw",
            "saw",
            f"{verb} {self.numbers.stock(stock.section)} {stock.material},"
            f" {self.numbers.rule(cut)}",
            "abrasive wheel" if hard else "saw",
            "saw vice",
            measure=self.numbers.rule(cut),
            gauge="rule",
        )

    def _face_first_end(self, part: Part, member: Member, after: Sequence[int]) -> int:
        held, stock = self.held[part.name, member.name], member.blank
        by = f"by the spare {self.numbers.rule(held.grip_mm)}"
        if held.hold is Hold.BAR:
            out = self.numbers.rule(stock.length_mm + held.facing_mm + PARTING_MM)
            bar = f"{self.numbers.stock(stock.section)} {stock.material}"
            by = f"the bar {bar} through the spindle, {out} out"
        step = Step(
            "face",
            "turn",
            f"chuck {by}, face the first end, {self.numbers.rule(FACING_MM)} off",
            "facing tool",
            speed=("face", member.blank.section.width_mm),
        )
        return self._add(part, member.name, Stage.BLANK, step, after, member=member)

    def _centre(self, part: Part, member: Member, after: Sequence[int]) -> int:
        step = Step(
            "centre",
            "turn",
            "centre-drill both ends",
            "centre drill",
            holding="chuck",
            speed=("drill", 4.0),
        )
        return self._add(part, member.name, Stage.BLANK, step, after, member=member)

    def _part_off(
        self,
        part: Part,
        member: Member,
        length: f.FacedLength,
        rest: Sequence[Feature],
        made: Sequence[Sequence[int]],
        start: Sequence[int],
    ) -> list[int]:
        """Part off after all that is made in the chucking, then face to length; the rest follows."""
        chucked = [
            group
            for item, group in zip(rest, made, strict=True)
            if is_axial(item) and item.stage is Stage.BLANK
        ]
        others = [
            group
            for item, group in zip(rest, made, strict=True)
            if not (is_axial(item) and item.stage is Stage.BLANK)
        ]
        done = [index for group in chucked for index in group] or list(start)
        off = self._add(
            part,
            member.name,
            Stage.BLANK,
            Step(
                "part",
                "turn",
                f"part off at {self.numbers.rule(length.length.nominal_mm + FACING_MM)}",
                "parting tool",
                speed=("part", member.blank.section.width_mm),
            ),
            done,
            member=member,
        )
        faced = self._feature(part, member, length, member.name, [off], "chuck, on the made end")
        for group in others:
            self.nodes[group[0]].before.add(faced[-1])
        return [off, *faced]

    def _feature(
        self,
        part: Part,
        member: Member | None,
        feature: Feature,
        piece: str,
        after: Sequence[int],
        hold: str = "",
    ) -> list[int]:
        """Add the steps of one feature, each after the one before it and all after ``after``."""
        stock = (member or _under(part, feature)).blank
        axial = is_axial(feature) or (
            isinstance(feature, f.FacedLength) and stock.section.shape in ("round", "tube")
        )
        swings = stock.section.width_mm if member else swing_mm(part, feature)
        hole = stock.section.width_mm - 2 * stock.section.thickness_mm
        if stock.section.shape != "tube":
            hole = 0.0
        work = Work(self.shop, swings, hole, hold, axial, self.tool)
        made = steps(feature, work)
        indices: list[int] = []
        for position, step in enumerate(made):
            last = position == len(made) - 1
            index = self._add(
                part,
                piece,
                feature.stage,
                replace(step, holding=hold or step.holding),
                [*after, *indices[-1:]],
                feature,
                last,
                stock.material,
                axial,
                member,
            )
            indices.append(index)
        self.finishing[(part.name, feature.name)] = indices[-1]
        self.first[(part.name, feature.name)] = indices[0]
        return indices

    def _add(
        self,
        part: Part,
        piece: str,
        stage: Stage,
        step: Step,
        after: Sequence[int] = (),
        feature: Feature | None = None,
        last: bool = False,
        material_name: str = "",
        axial: bool = True,
        member: Member | None = None,
    ) -> int:
        if not material_name:
            found = [m for m in members(part) if m.name == piece]
            material_name = found[0].blank.material if found else members(part)[0].blank.material
        hold = step.holding or self._own_holding(part, member, stage, step)
        station = getattr(feature, "start_mm", 0.0) if feature else 0.0
        self.nodes.append(
            _Node(
                replace(step, holding=hold),
                part,
                piece,
                stage,
                feature.datum if feature else "",
                material_name,
                (feature.name,) if feature and last else (),
                (feature.name,) if feature and not last else (),
                station,
                _facing(feature) if feature and not axial else "",
                feature.note if feature and last else "",
                set(after),
            )
        )
        index = len(self.nodes) - 1
        self.of_part[part.name].append(index)
        return index

    def _own_holding(self, part: Part, member: Member | None, stage: Stage, step: Step) -> str:
        if stage is Stage.IN_PLACE:
            return IN_PLACE
        if stage in (Stage.WELDED, Stage.LAST):
            return "between centres" if step.work == "turn" else "machine vice"
        found = member or next((m for m in members(part)), None)
        if found is None:
            return "vice"
        held = self.held[part.name, found.name]
        if held.hold is Hold.PARTED:
            return "chuck, by the spare grip"
        if held.hold is Hold.BAR:
            return "chuck, the bar through the spindle"
        if held.hold is Hold.CENTRES:
            return "between centres" if step.kind == "turn" else "chuck"
        if held.hold is Hold.CHUCK:
            return "chuck"
        return "machine vice" if step.work in ("mill", "drill") else "vice"

    # -- what must come before what --

    def _stages(self, features: Sequence[Feature], made: Sequence[Sequence[int]]) -> None:
        """Order among the features of one piece or weldment."""
        for item, group in zip(features, made, strict=True):
            for other, others in zip(features, made, strict=True):
                if other is not item and _comes_after(other, item):
                    self.nodes[others[0]].before.add(group[-1])

    def _across_parts(self) -> None:
        for fit in self.attachment.fits:
            hole = self.finishing[(fit.hole_part, fit.hole)]
            shaft = self.finishing[(fit.shaft_part, fit.shaft)]
            self.nodes[shaft].before.add(hole)
        for part in self.attachment.parts:
            features = [*part.features]
            for feature in features:
                if not feature.made_with:
                    continue
                first = self.first[(part.name, feature.name)]
                others = (
                    [p.name for p in self.attachment.parts if p.name != part.name]
                    if feature.made_with == "attachment"
                    else [feature.made_with]
                )
                for name in others:
                    self.nodes[first].before.update(self.of_part[name])
        slits = [i for i, node in enumerate(self.nodes) if node.step.kind == "slit"]
        for slit in slits:
            same = self.of_part[self.nodes[slit].part.name]
            self.nodes[slit].before.update(index for index in same if index not in slits)

    def _sorted(self) -> list[int]:
        """Topological order that stays in one set-up while it can, else takes the earliest."""
        waiting = {index: set(node.before) for index, node in enumerate(self.nodes)}
        ready: list[tuple[tuple[int | float | str, ...], int]] = []
        part_at = {part.name: i for i, part in enumerate(self.attachment.parts)}
        stage_at = {stage: i for i, stage in enumerate(Stage)}

        def key(index: int) -> tuple[int | float | str, ...]:
            node = self.nodes[index]
            return (
                part_at[node.part.name],
                stage_at[node.stage],
                node.piece,
                RANK[node.step.kind],
                node.station,
                index,
            )

        followers: dict[int, list[int]] = {index: [] for index in waiting}
        for index, before in waiting.items():
            for earlier in before:
                followers[earlier].append(index)
            if not before:
                ready.append((key(index), index))
        order: list[int] = []
        while ready:
            best = min(
                range(len(ready)),
                key=lambda i: (
                    not (order and self._set_up(ready[i][1]) == self._set_up(order[-1])),
                    ready[i][0],
                ),
            )
            _, index = ready.pop(best)
            order.append(index)
            for follower in followers[index]:
                waiting[follower].discard(index)
                if not waiting[follower]:
                    ready.append((key(follower), follower))
        if len(order) != len(self.nodes):
            stuck = sorted({self.nodes[i].part.name for i, before in waiting.items() if before})
            raise ValueError(f"operations wait for each other in: {', '.join(stuck)}")
        return order

    def _operation(self, index: int, number: dict[int, int], setup: int) -> Operation:
        node = self.nodes[index]
        step = node.step
        speed, caution = None, CAUTIONS.get(step.kind, "")
        if step.speed:
            operation, diameter = step.speed
            tool = "HSS" if operation in ("drill", "ream", "mill", "tap") else self.tool
            found = self.shop.speed(operation, tool, node.material, diameter, node.machine)
            speed = found.rpm
            caution = "; ".join(text for text in (caution, found.caution) if text)
        if step.kind == "weld" and material(node.material).weldable == "preheat":
            caution += "; preheat by the steel maker's sheet"
        return Operation(
            number[index],
            setup,
            node.part.name,
            node.piece,
            node.stage.value,
            step.kind,
            node.machine,
            step.holding,
            node.datum,
            step.text,
            step.tool,
            speed,
            step.measure,
            step.gauge,
            caution,
            node.note,
            node.makes,
            node.prepares,
            tuple(sorted(number[i] for i in node.before)),
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
        if member.blank.section.shape in ("round", "tube"):
            half_y = half_z = half_y / sqrt(2)
        box = Box((0.0, -half_y, -half_z), (member.blank.length_mm, half_y, half_z))
        for corner in box.placed(member.frame).corners():
            farthest = max(farthest, hypot(*(corner[i] - axis.origin[i] for i in across)))
    return 2 * farthest


def _facing(feature: Feature) -> str:
    """The way a hole across the axis goes: holes of one direction share a set-up."""
    axis = getattr(feature, "axis", None)
    return axis.along if axis is not None else ""


_STAGES = list(Stage)


def _comes_after(later: Feature, earlier: Feature) -> bool:
    """Whether ``later`` must wait for ``earlier`` on the same piece: stage, then kind of feature."""
    if _STAGES.index(later.stage) != _STAGES.index(earlier.stage):
        return _STAGES.index(later.stage) > _STAGES.index(earlier.stage)
    turned = isinstance(earlier, f.Turned) and not isinstance(later, f.Turned)
    if turned and later.stage is Stage.WELDED and later.datum == earlier.datum:
        return True  # the axis it is measured from must be there first
    if isinstance(later, f.Thread | f.Knurl | f.EngravedScale) and isinstance(
        earlier, f.TurnedDiameter
    ):
        return earlier.start_mm <= later.start_mm and later.end_mm <= earlier.end_mm
    if isinstance(later, f.EngravedScale):
        return is_axial(earlier)
    if isinstance(later, f.FacedShoulder) and isinstance(earlier, f.Bore):
        return True
    return isinstance(later, f.TappedHole) and isinstance(earlier, f.MilledSlot)
