"""What the turning of a job's balls comes to: plain data, millimetres, newtons and degrees.

Imported by the other modules of the room and by the sheets and pictures.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from parts.value import Value
from planner.checking.behind import Room, Stand
from planner.checking.clearance import BallClearance, behind_equator
from planner.checking.strength import Load
from planner.job.tables import Ball
from planner.turning.passes import Cut, Socket, Sweep
from planner.turning.roughing import Roughing
from planner.words.findings import Finding

if TYPE_CHECKING:
    from planner.turning.head import Head
    from planner.turning.piece import Behind

Holding = Literal["threaded stub", "soft jaws", "cup"]
"""How a ball is held the second time, by its finished side."""

HoleOrder = Literal["after the touches", "before the touches"]
"""When a hole from the nose is drilled: the tip's touches on the faced end want its middle."""


class BallWork(Value, frozen=True):
    """One ball as it is turned: everything stated, nothing left to a default.

    blank_mm: across the flats of a bar that is not round.
    """

    name: str
    spec: Ball
    radius_mm: float
    blank_mm: float
    stem_mm: float
    material: str

    @property
    def behind(self) -> bool:
        """Whether it is turned behind its equator."""
        return behind_equator(self.spec)


class PassLoad(Value, frozen=True):
    """A pass and what it asks at the feed as meant: forces, N; deflection of tip and work, mm; grip
    over passive force. held_by: what stops it from being deeper; speed_by: the spindle from being
    faster."""

    cut: Cut
    depth_mm: float
    load: Load
    deflection_mm: float
    grip_factor: float
    held_by: str
    speed_by: str

    @property
    def seconds(self) -> float:
        """Of one swing, air included."""
        return self.cut.seconds


class Hole(Value, frozen=True):
    """A hole from the nose: drill and thread; depth_mm: of full diameter, None right through the ball.

    wide_mm: once tapped. ring_mm: where the tip touches the faced end beside it, from the axis; 0 where
    it is drilled after.
    """

    drill_mm: float
    drill_name: str
    thread: str | None
    depth_mm: float | None
    tap_depth_mm: float | None
    order: HoleOrder
    ring_mm: float
    wide_mm: float


class SecondHolding(Value, frozen=True):
    """The stem side, finished in a second holding.

    holding: by what; stub_radius_mm, stub_end_mm: what is left of the stem, how thick and how far from
    the centre; blend_deg: where the first holding's sweep ended, from the stem's pole; to_deg: how far
    the second goes over it; touch_deg: how far the tip feels its way over the finished zone. mouth_mm:
    of jaws or cup, in front of the equator toward the tip, and mouth_diameter_mm there; outside_mm:
    diameter of jaws or cup there. stub_diameter_mm, stub_length_mm: of the threaded stub. slips_N: the
    cutting force, at the stub's edge, at which it turns in its holding; passes: as of the first;
    clear_mm: what swings to jaws or cup.
    """

    holding: Holding
    stub_radius_mm: float
    stub_end_mm: float
    blend_deg: float
    to_deg: float
    touch_deg: float
    mouth_mm: float
    mouth_diameter_mm: float
    outside_mm: float
    thread: str | None
    stub_length_mm: float
    slips_N: float
    first_mm: float
    sweep: Sweep
    passes: tuple[PassLoad, ...]
    clear_mm: float
    worst_N: float

    @property
    def seconds(self) -> float:
        """Of swinging."""
        return sum(one.seconds for one in self.passes)


class BallPlan(Value, frozen=True):
    """How one ball is turned.

    clearance: of its sweep past stem and jaws; sweep: what the tip may do, its end no later. behind:
    the piece behind the ball; room: how thick work may stand there while the head swings. roughing: its
    steps; flank_deg: how steep the right side of the tool behind the ball must stand; first_mm: the tip
    radius that clears what they leave. passes: in order; least_s: of all plans within the limits, in
    whole divisions; one_speed: all roughing goes at one. corner_mm: the tip radius that clears the
    blank's corner without roughing. blank_length_mm: in front of the jaws. over: a limit that not even
    one division keeps. bends_mm_per_N: of the work. measure_deg: angles to measure across at.
    ring_mm: where the tip touches the faced end beside a hole, its own or the centre's, from the axis;
    0 for the middle.
    """

    ball: BallWork
    clearance: BallClearance
    sweep: Sweep
    behind: Behind
    room: Room
    stands: tuple[Stand, ...]
    roughing: Roughing
    flank_deg: float
    first_mm: float
    corner_mm: float
    passes: tuple[PassLoad, ...]
    least_s: float
    one_speed: bool
    over: str
    blank_length_mm: float
    bends_mm_per_N: float
    measure_deg: tuple[float, ...]
    hole: Hole | None
    second: SecondHolding | None
    part_off_mm: float
    ring_mm: float

    @property
    def seconds(self) -> float:
        """Of swinging, air included."""
        return sum(one.seconds for one in self.passes)

    @property
    def limited_by(self) -> str:
        """What stops most of the roughing passes from being deeper."""
        names = [one.held_by for one in self.passes if one.held_by]
        return max(names, key=names.count) if names else ""


class SocketPass(Value, frozen=True):
    """One pass of a hollow: the tip radius, how far it is out from the pass before, the dial behind it.

    to_go: divisions still to turn out after it.
    """

    number: int
    kind: Literal["rough", "finish", "spring"]
    radius_mm: float
    depth_mm: float
    to_go: int
    removed_mm3: float
    rev_min: float
    seconds: float
    passive_N: float
    deflection_mm: float


class SocketPlan(Value, frozen=True):
    """How a hollow is turned with the bit the other way round, its tip beyond the arm.

    least_mm, greatest_mm: the radii this head reaches so, of a hollow so deep; deepest_mm: how deep it
    may go before the arm comes to the face. out_mm: of the blank, in front of the jaws. passes: none
    where it is refused.
    """

    ball: BallWork
    shape: Socket
    least_mm: float
    greatest_mm: float
    deepest_mm: float
    rev_min: float
    out_mm: float
    passes: tuple[SocketPass, ...]


class Turned(Value, frozen=True):
    """All balls of a job with the head that turns them, and what to look at first."""

    head: Head
    balls: tuple[BallPlan, ...]
    sockets: tuple[SocketPlan, ...]
    findings: tuple[Finding, ...]
