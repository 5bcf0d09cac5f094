"""The order of operations: every feature made once, on which machine, how held, measured with what.

making.pieces plans the set-ups of each part, making.sequence puts them in order, here they are
numbered, given their speeds and times, and made records of. Imported by output.plan; needs no solid.
"""

from __future__ import annotations

from functools import cached_property
from math import inf
from typing import Any

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.part import members
from parts.value import Value
from planner.job.tables import Job
from planner.making import records
from planner.making.aids import Aid, aids
from planner.making.assembly import assembly, put_on_after
from planner.making.gauges import asked_for
from planner.making.hardening import fed_firmly, thick_oil
from planner.making.holding import holdings
from planner.making.leastsetups import least_setups
from planner.making.model import Measure, Missing, Op, SetUp, Stub, rpm_in_fingers
from planner.making.pieces import Pieces
from planner.making.places import Places
from planner.making.plugs import read_off
from planner.making.sequence import RULES, SENT, changes, ordered, waits
from planner.making.workshop import ON_LATHE, Workshop

HSS_WORK = ("drill", "counterbore", "ream", "mill", "tap")
HSS_TOOLS = ("boring bar between centres", "facing cutter", "form tool")
"""High-speed steel, whatever the shop turns with: bits across a bar, forms ground by hand; so is
what its name says is."""


KNURLED = 0.6
"""A round is knurled at no more of the speed it was turned at (parts/standard/speed_factors.csv)."""

NOT_BARE = (
    "The end mill in a collet, or in a holder with a screw on its flat, never bare in the chuck's jaws:"
    " it creeps out and digs in"
)
"""A hard, smooth shank slips in hard jaws, and the helix draws it out (common practice)."""

SWEPT = (
    "Turn the spindle by hand a full turn first: the bit must clear work, clamps and slide; stand out"
    " of its plane"
)
"""A fly cutter's one bit sweeps wider than its body shows, and is not seen as it turns (common
practice)."""

DIALLED = ("mill", "milling slide")
"""Machines on which a place is set by dials."""


class Operation(Value, frozen=True):
    """One line of the operation sequence.

    number counts from 1 over the whole job, and setup over its set-ups: operations of one set-up are
    done without letting go of the work. place: where the feature lies, said by the operation that
    begins it. measure and gauge: what is measured and with what, "" for nothing. makes: the features
    finished here, prepares: those this is a step toward. after: the numbers that must be done first.
    speed_rpm is None for hand work; speed_from: where the cutting speed comes from.
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
    speed_from: str
    feed_mm: float | None
    cuts: int
    depth_mm: float
    coolant: str
    minutes: float
    minutes_basis: str
    measure: str
    gauge: str
    measures: tuple[Measure, ...]
    caution: str
    note: str
    makes: tuple[str, ...]
    prepares: tuple[str, ...]
    after: tuple[int, ...]
    op: Op


class Route(Value, frozen=True):
    """The whole: set-ups by number, operations, aids to make first, what is assumed and missing.

    order: why a set-up waits for another: its number, the other's, the reason (common practice).
    least_changes: of machine, that any order of these set-ups must have, with the fewest journeys.
    """

    setups: tuple[SetUp, ...]
    operations: tuple[Operation, ...]
    aids: tuple[Aid, ...]
    assumed: tuple[tuple[str, str], ...]
    missing: tuple[Missing, ...]
    order: tuple[tuple[int, int, str], ...]
    least_changes: int = 0

    @property
    def changes(self) -> int:
        """How often the work goes to another machine."""
        pairs = zip(self.setups, self.setups[1:], strict=False)
        return sum(a.machine != b.machine for a, b in pairs)

    @cached_property
    def least_setups(self) -> int:
        """No order of the work has fewer set-ups."""
        return least_setups(self.setups)

    def setup_records(self) -> list[dict[str, Any]]:
        """The set-ups as the JSON has them."""
        return [records.setup(number, one, self._minutes(number)) for number, one in
                enumerate(self.setups, 1)]  # fmt: skip

    def operation_records(self) -> list[dict[str, Any]]:
        """The operations as the JSON has them."""
        return [records.operation(one, self.setups[one.setup - 1]) for one in self.operations]

    def _minutes(self, number: int) -> float:
        own = sum(op.minutes for op in self.operations if op.setup == number)
        return own + self.setups[number - 1].minutes


CUTTING = frozenset(
    (
        "turn",
        "face",
        "bore",
        "drill",
        "ream",
        "tap",
        "thread",
        "mill",
        "slit",
        "part",
        "groove",
        "counterbore",
        "chamfer",
        "spot",
        "centre",
        "knurl",
    )
)
"""Kinds of work that make chips, and take a cutting fluid."""

SET_UP_MINUTES = {"four-jaw chuck": 12.0, "tool post": 25.0, "V-blocks": 8.0, "machine vice": 6.0,
                  "cross slide": 20.0, "flat plate": 10.0, "faceplate": 20.0, "mandrel": 8.0,
                  "clamps on the table": 10.0}  # fmt: skip
"""Minutes to hold and set true, else three (common practice)."""


def whole_route(attachment: Attachment, job: Job, stub: Stub | None = None) -> Route:
    """The route of an attachment in a shop; stub: that its first ball is turned on, as the head needs
    it."""
    shop = Workshop(job, stub)
    planner = Pieces(attachment, holdings(attachment, job), shop)
    listed: list[SetUp] = []
    for part in attachment.parts:
        listed += planner.of_part(part)
    put_on_after(listed, attachment)
    listed = [*(one for one in listed if one.ops), *assembly(attachment, shop)]
    order, before, runs = ordered(listed, attachment)
    setups = [listed[i] for i in order]
    for one in setups:
        one.minutes = SET_UP_MINUTES.get(one.hold.by, 3.0)
        one.align = tuple(
            replace(true, within_mm=job.series.tolerance(true.within_mm)) for true in one.align
        )
    _journeys(setups, shop)
    read_off(setups, attachment.fits)
    operations = _numbered(setups, order, before, shop)
    made = aids(setups, shop, attachment.sizes)
    number = {i: place for place, i in enumerate(order, 1)}
    reasons = sorted(
        (number[i], number[j], RULES[rule])
        for i, own in waits(listed, attachment).items()
        for j, rule in own.items()
        if rule != "piece"
    )
    return Route(
        tuple(setups),
        operations,
        made,
        shop.kit.assumed,
        tuple(asked_for(shop.missing, setups)),
        tuple(reasons),
        changes(runs.least),
    )


def _journeys(setups: list[SetUp], shop: Workshop) -> None:
    """What is welded elsewhere, in how many journeys."""
    runs, away = 0, False
    parts: list[str] = []
    for one in setups:
        sent = one.machine in SENT
        if sent and not away:
            runs += 1
        if sent:
            parts.append(one.on.part.name.replace("-", " "))
        away = sent
    if runs:
        said = "one journey" if runs == 1 else f"{runs} journeys"
        shop.lacks(
            "",
            "a welder",
            f"Take the pieces with their weld sheets ({', '.join(parts)}), in {said}",
        )


def route(attachment: Attachment, job: Job) -> tuple[Operation, ...]:
    """The operation sequence of an attachment in a shop."""
    return whole_route(attachment, job).operations


def _numbered(
    setups: list[SetUp], order: list[int], before: dict[int, set[int]], shop: Workshop
) -> tuple[Operation, ...]:
    found: list[Operation] = []
    last_of: dict[int, int] = {}
    begun: dict[str, set[str]] = {}
    turned: dict[tuple[str, str], float] = {}
    for place, setup in enumerate(setups):
        waits = sorted(last_of[i] for i in before.get(order[place], ()))
        for first, op in enumerate(setup.ops):
            after = tuple(waits) if first == 0 else (found[-1].number,)
            own = (setup.part, setup.piece)
            most = min((n for n in (setup.most_rpm, op.most_rpm) if n), default=None)
            if op.kind == "knurl" and own in turned:
                most = min(KNURLED * turned[own], most or inf)
            if setup.hold.follows_mm and op.kind == "turn":  # fingers rub on what was just turned
                most = min(rpm_in_fingers(op.cut["after_mm"]), most or inf)
            numbers = (len(found) + 1, place + 1, after)
            found.append(_operation(op, setup, numbers, shop, begun, most))
            if op.kind == "turn" and found[-1].speed_rpm:
                turned[own] = found[-1].speed_rpm
        last_of[order[place]] = len(found)
    return tuple(found)


def _operation(
    op: Op, setup: SetUp, numbers: tuple[int, int, tuple[int, ...]], shop: Workshop,
    begun: dict[str, set[str]], most_rpm: float | None,
) -> Operation:  # fmt: skip
    number, place, after = numbers
    part, member = setup.on.part, setup.on.member
    own = begun.setdefault(part.name, set())
    said = op.place
    if op.feature is not None and op.feature.name not in own and not said:
        owner = member if setup.on.piece else None
        dials = setup.machine in DIALLED
        places = Places(part, shop.numbers, own | {op.feature.name}, dials)
        said = places.of(op.feature, owner or member)
        own.add(op.feature.name)
    metal = member.blank.material if member else members(part)[0].blank.material
    rpm, source, cautions = None, "", [op.caution] if op.caution else []
    if op.tool.kind == "end mill" and setup.machine in ON_LATHE:
        cautions.append(NOT_BARE)
    if op.tool.kind == "fly cutter":
        cautions.append(SWEPT)
    cautions += fed_firmly(metal, op.kind)
    diameter = 0.0
    if op.speed:
        operation, diameter = op.speed
        ground = op.tool.kind in HSS_TOOLS or op.tool.name.startswith("HSS")
        hard = "HSS" if operation in HSS_WORK or ground else shop.tool
        speed = shop.speed(operation, hard, metal, diameter, setup.machine, most_rpm)
        rpm, source = speed.rpm, speed.source
        cautions += [speed.caution] if speed.caution else []
    minutes, basis, feed, cut_count, depth = op.minutes, "handling (common practice)", None, 1, 0.0
    if op.rate:
        minutes, fed, cut_count, depth, basis = shop.minutes(
            op.rate, rpm, diameter, op.length_mm, op.stock_mm, op.feed_mm, op.deepest_mm
        )
        feed = fed or None
        if op.cut.get("shape") == "thread":
            feed = op.cut["pitch_mm"]
    wet = op.kind in CUTTING and op.tool.kind != "file"
    fluid = thick_oil(metal, op.kind) or shop.fluid(metal, op.kind)
    name = (op.feature.name,) if op.feature else ()
    texts = "; ".join(m.what for m in op.measures)
    gauges = "; ".join(dict.fromkeys(m.gauge.name for m in op.measures))
    return Operation(
        number=number,
        setup=place,
        part=setup.part,
        piece=setup.piece,
        stage=setup.stage,
        kind=op.kind,
        machine=setup.machine,
        holding=setup.hold.said,
        datum=op.feature.datum if op.feature else "",
        text=op.text,
        place=said,
        tool=op.tool.name,
        speed_rpm=rpm,
        speed_from=source,
        feed_mm=feed,
        cuts=cut_count,
        depth_mm=depth,
        coolant=fluid if wet and setup.machine != "bench" else "",
        minutes=round(minutes, 1),
        minutes_basis=basis,
        measure=texts,
        gauge=gauges,
        measures=op.measures,
        caution="; ".join(cautions),
        note=op.note,
        makes=name if op.last else (),
        prepares=() if op.last else name,
        after=after,
        op=op,
    )
