"""What a route is made of: set-ups with how the work is held, and the operations in each, as data.

Plain records that every way of this room fills in; making.route numbers them, the sheets print them and
whatever checks a route reads them. Lengths in mm, in the frame of the piece or of the whole part.
Surfaces are named "carrier.element": "blank.+x", "journal.round", "block.-z".
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi
from typing import Any, NamedTuple

from msgspec import Struct, field

from parts.features import Feature, Stage
from parts.frame import Point
from parts.part import Member, Part
from parts.placed import Placed
from parts.value import Value

Cut = dict[str, Any]
"""What an operation takes away, by its shape: see ``making.cuts``."""


OUT_OF_BALANCE_RPM = 400.0
"""Work out of balance, or a bar on a carrier, turns no faster (common practice)."""

FINGERS_M_MIN = 60.0
"""Work rubs no faster in the plain fingers of a steady, oiled: they seize and score it (common
practice)."""


def rpm_in_fingers(size_mm: float) -> float:
    """The fastest that a round of this diameter, mm, turns in a steady, rev/min."""
    return 1000 * FINGERS_M_MIN / (pi * size_mm)


class Workpiece(Value, frozen=True):
    """What is worked on: a piece of a part (the whole of a part of one piece), or the welded whole."""

    part: Part
    member: Member | None

    @property
    def piece(self) -> str:
        """The piece's name, "" for the whole of a part."""
        return self.member.name if self.member and self.member.name != self.part.name else ""

    @property
    def name(self) -> str:
        """What it is called on the sheet."""
        return self.member.name if self.member else self.part.name


class Line(Value, frozen=True):
    """A line of the work: the way it runs, headstock to tailstock, and a point of it."""

    along: str
    through: Point


class Grip(Value, frozen=True):
    """Where jaws, vice or clamps bear.

    surface and other: the two opposite faces, or the round surface alone; from_mm to to_mm: the length
    held along the axis, or the height held along ``up``; size_mm: between the jaws; inside: held from
    inside; packing: what goes between, "" for none; wide_mm: how wide that is, where it is narrower
    than the jaws.
    """

    surface: str
    size_mm: float
    from_mm: float
    to_mm: float
    other: str = ""
    inside: bool = False
    packing: str = ""
    wide_mm: float | None = None


class Centre(Value, frozen=True):
    """A centre that the work runs on: live or dead, at which end of it ("+x"), its hole's mouth."""

    kind: str
    end: str
    hole_mm: float


class At(Value, frozen=True):
    """A driver or a steady: where along the work, on which diameter."""

    at_mm: float
    size_mm: float


class Strap(Value, frozen=True):
    """A strap: the surface it presses on, where, and where its bolts stand."""

    surface: str
    at: Point
    bolts: tuple[Point, ...]


class Plate(Value, frozen=True):
    """Work on the faceplate: what straps it down, the side that lies against an angle plate ("" for
    none), how high the packing is between work and plate (0 for none).
    """

    straps: tuple[Strap, ...]
    angle_plate: str = ""
    packing_mm: float = 0.0


class Hold(Value, frozen=True):
    """How the work is held; ``words`` is what a shop says of it, ``by`` its kind.

    follows_mm: the diameter that a travelling steady follows the tool on, None without one.
    chuck_instead, steady_instead: where the shop has no such chuck or steady, what serves or is made.
    backed: a face, opposite the cut, that a block keeps from springing away, "" for none.
    plate: how it is clamped to the faceplate, None where it is held otherwise.
    """

    by: str
    words: str
    grips: tuple[Grip, ...] = ()
    axis: Line | None = None
    centre: Centre | None = None
    headstock_centre: Centre | None = None
    driver: At | None = None
    steady: At | None = None
    follows_mm: float | None = None
    chuck_instead: str = ""
    steady_instead: str = ""
    out_mm: float | None = None
    rests: str = ""
    up: str = ""
    stop: str = ""
    backed: str = ""
    plate: Plate | None = None

    @property
    def said(self) -> str:
        """The words, and what of it the shop has not, with what serves instead."""
        means = self.by if self.by == "faceplate" else "chuck"
        lacking = ((means, self.chuck_instead), ("steady", self.steady_instead))
        return "; ".join(
            [
                self.words,
                *(
                    f"the shop has no such {what}: {instead[0].lower()}{instead[1:]}"
                    for what, instead in lacking
                    if instead
                ),
            ]
        )


class Align(Value, frozen=True):
    """What is set true before cutting: which surface, by what, and the reading it may show.

    against: what of another part is set to it, as (part, surface); size_mm: of a rod through both, 0
    for none.
    """

    what: str
    surface: str
    by: str
    within_mm: float
    against: tuple[str, str] = ("", "")
    size_mm: float = 0.0


class Gauge(Value, frozen=True):
    """An instrument as it is used here."""

    name: str
    kind: str
    least_mm: float
    most_mm: float
    resolution_mm: float


class Measure(Value, frozen=True):
    """What is measured: limits, between which surfaces, with what and how; ``what`` as it is said.

    kind: outside, inside, depth, length, thread, flat, square, runout, angle or eye; low and high None
    where it is no length.
    """

    what: str
    kind: str
    low_mm: float | None
    high_mm: float | None
    start: str
    end: str
    gauge: Gauge
    how: str = ""


class Tool(Value, frozen=True):
    """A tool: its kind and name, sizes where they matter, whether the shop has it, else what then.

    bit_at_mm: of a bar between centres, from the end that its carrier is on to its bit, which is
    width_mm thick; centre_out_mm: how far the tailstock's centre stands out of its barrel for it, None
    as any does. teeth, collar_mm: of a slitting saw, and the diameter of its arbor's collar.
    """

    kind: str
    name: str
    diameter_mm: float | None = None
    width_mm: float | None = None
    reach_mm: float | None = None
    owned: bool = True
    instead: str = ""
    bit_at_mm: float | None = None
    centre_out_mm: float | None = None
    teeth: int | None = None
    collar_mm: float | None = None


class Op(Struct, dict=True):
    """One operation, before it is numbered.

    speed: (operation of the tables, diameter in mm) or None for hand work; rate: the row of
    cutting_data it is timed by, length_mm: how far the tool feeds, wide_mm: how far across it must go;
    stock_mm: what is taken off in depth; feed_mm: for each turn, where it is not that row's;
    deepest_mm: of one cut, where the work bears less than that row's; most_rpm: no faster, None as the
    tables have it. last: whether it finishes the
    feature. divided: how lines are put round, as `planner.making.ways.dividing` records it. eased: the
    nut that a play is set by, and how far it is turned at a time, as `planner.making.assembly` says.
    puts_on: the placed things put on in it; tries: what of the whole is tried.
    """

    kind: str
    text: str
    tool: Tool
    feature: Feature | None = None
    last: bool = False
    cut: Cut = field(default_factory=lambda: {"shape": "other"})
    allowance_mm: float = 0.0
    speed: tuple[str, float] | None = None
    rate: str = ""
    length_mm: float = 0.0
    stock_mm: float = 0.0
    minutes: float = 0.0
    measures: tuple[Measure, ...] = ()
    place: str = ""
    caution: str = ""
    note: str = ""
    dry: bool = False
    feed_mm: float = 0.0
    deepest_mm: float = 0.0
    most_rpm: float | None = None
    divided: Mapping[str, str | int | float] = field(default_factory=dict)
    eased: Mapping[str, str | float] = field(default_factory=dict)
    puts_on: tuple[Placed, ...] = ()
    tries: str = ""


class SetUp(Struct, dict=True):
    """A holding of one workpiece on one machine, and what is done in it.

    with_parts: the parts it is mounted with; after_parts: parts of which all must be made before;
    together: it is of no part, but of all put together; most_rpm: no faster, out of balance or on a
    carrier.
    """

    on: Workpiece
    stage: Stage
    machine: str
    hold: Hold
    ops: list[Op] = field(default_factory=list)
    align: tuple[Align, ...] = ()
    with_parts: tuple[str, ...] = ()
    caution: str = ""
    minutes: float = 0.0
    after_parts: tuple[str, ...] = ()
    together: bool = False
    most_rpm: float | None = None

    @property
    def part(self) -> str:
        """The part it is of; "attachment" where all are put together."""
        return "attachment" if self.together else self.on.part.name

    @property
    def piece(self) -> str:
        """The piece it is of, the part's name for the whole of one."""
        return "attachment" if self.together else self.on.name

    @property
    def holding(self) -> tuple[str, str, str, str]:
        """What tells one holding from another: the work, the machine, how it is held."""
        return (self.part, self.piece, self.machine, repr(self.hold))

    def add(self, *ops: Op) -> SetUp:
        """Take operations in, in their order."""
        self.ops += ops
        return self


class Stub(NamedTuple):
    """What a ball is turned on with the attachment, mm: how far it stands out of the jaws, the diameter
    it is turned to under the ball's seat, and how far it is no thicker behind that. rev_min: of the
    first pass, as the ball's own sheet has it; None where it has none."""

    out_mm: float
    seat_mm: float
    thin_mm: float
    rev_min: float | None = None


class Missing(Value, frozen=True):
    """What the shop lacks for an operation, and the cheapest way out."""

    part: str
    what: str
    remedy: str


def as_record(line: Line | None) -> Mapping[str, Any] | None:
    """A line as the record has it."""
    return None if line is None else {"along": line.along, "through": list(line.through)}
