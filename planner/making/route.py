"""The order of operations: every feature made once, by which machine, how held, measured with what.

making.steps says which steps make a feature, making.pieces plans each part, making.order says what
must come before what and making.sequence sorts them, staying in one set-up as long as it can. Here
they are read in that order. Imported by output.plan; needs no solid.
"""

from __future__ import annotations

from dataclasses import dataclass

from parts.attachment import Attachment
from parts.features import Weld
from parts.part import members
from parts.standard.materials import material
from planner.job.tables import Job
from planner.making import order
from planner.making.holding import holdings
from planner.making.machines import Workshop
from planner.making.pieces import plan_part
from planner.making.places import Places
from planner.making.sequence import Node, Nodes

CAUTIONS = {
    "weld": "Weld away from oil and chips; screen, ventilation; by a competent welder to local rules",
    "grind": "Goggles; rest close to the wheel",
    "part": "Slow, tool on centre; stand clear",
    "engrave": "Spindle off and locked",
    "slit": "Clamp well; slow; goggles",
}


@dataclass(frozen=True)
class Operation:
    """One line of the operation sequence.

    number counts from 1 over the whole job, and setup over its set-ups: operations of one set-up are
    done without letting go of the work. place: where the feature lies, said by the operation that
    begins it. gauge: what measures it; without anything to measure, what the place is laid out by.
    makes: the features finished here, prepares: those this is a step toward. after: the numbers that
    must be done first. speed_rpm is None for hand work.
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
    place: str
    tool: str
    speed_rpm: float | None
    measure: str
    gauge: str
    caution: str
    note: str
    makes: tuple[str, ...]
    prepares: tuple[str, ...]
    after: tuple[int, ...]


def route(attachment: Attachment, job: Job) -> tuple[Operation, ...]:
    """The operation sequence of an attachment in a shop."""
    shop, nodes = Workshop(job), Nodes()
    held = holdings(attachment, job)
    for part in attachment.parts:
        plan_part(part, held, shop, nodes)
    order.across(nodes, attachment)
    return _Operations(nodes, shop).read(nodes.ordered(attachment))


class _Operations:
    """Nodes read off in order, as operations."""

    def __init__(self, nodes: Nodes, shop: Workshop) -> None:
        self.nodes, self.shop = nodes, shop
        self.number: dict[int, int] = {}
        self.begun: dict[str, set[str]] = {}

    def read(self, indices: list[int]) -> tuple[Operation, ...]:
        """The operations of the nodes, in this order."""
        self.number = {index: place for place, index in enumerate(indices, 1)}
        self.begun = {part: set() for part in {node.on.part.name for node in self.nodes.all}}
        operations: list[Operation] = []
        setup, before = 0, None
        for index in indices:
            node = self.nodes[index]
            setup += node.set_up != before
            before = node.set_up
            operations.append(self._operation(node, self.number[index], setup))
        return tuple(operations)

    def _operation(self, node: Node, number: int, setup: int) -> Operation:
        step, toward = node.step, node.toward
        place = self._place(node)
        last = toward is not None and toward.last
        name = (toward.feature.name,) if toward else ()
        self.begun[node.on.part.name].update(name)
        speed_rpm, caution = self._speed(node)
        return Operation(
            number=number,
            setup=setup,
            part=node.on.part.name,
            piece=node.on.name,
            stage=node.stage.value,
            kind=step.kind,
            machine=node.machine,
            holding=step.holding,
            datum=toward.feature.datum if toward else "",
            text=step.text,
            place=place,
            tool=step.tool,
            speed_rpm=speed_rpm,
            measure=step.measure,
            gauge=step.gauge,
            caution=caution,
            note=toward.feature.note if toward and last else "",
            makes=name if last else (),
            prepares=() if last else name,
            after=tuple(sorted(self.number[i] for i in node.before)),
        )

    def _place(self, node: Node) -> str:
        """Where the feature lies that a node begins."""
        if node.toward is None or not node.toward.first:
            return ""
        part = node.on.part
        places = Places(part, self.shop.numbers, self.begun[part.name])
        return places.of(node.toward.feature, node.on.member)

    def _speed(self, node: Node) -> tuple[float | None, str]:
        """The spindle speed, and what to take care of."""
        step, speed_rpm = node.step, None
        cautions = [CAUTIONS[step.kind]] if step.kind in CAUTIONS else []
        if step.speed:
            operation, diameter = step.speed
            tool = "HSS" if operation in ("drill", "ream", "mill", "tap") else self.shop.tool
            found = self.shop.speed(operation, tool, node.material, diameter, node.machine)
            speed_rpm = found.rpm
            cautions += [found.caution] if found.caution else []
        feature = node.toward.feature if node.toward else None
        welded = feature.members if isinstance(feature, Weld) else ()
        metals = [m.blank.material for m in members(node.on.part) if m.name in welded]
        if any(material(metal).weldable == "preheat" for metal in metals):
            cautions.append("preheat by the steel maker's sheet")
        return speed_rpm, "; ".join(cautions)
