"""What the turning of a job's balls comes to: plain data, millimetres, newtons and degrees.

Imported by the other modules of the room and by the sheets and pictures.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.checking.clearance import BallClearance, behind_equator
from planner.checking.strength import Load
from planner.job.tables import Ball
from planner.turning.passes import Cut, Socket, Sweep
from planner.turning.roughing import Roughing
from planner.words.findings import Finding

AIR_RATE = 5.0
"""How much faster the handle is swung where nothing is cut (common practice)."""


@dataclass(frozen=True)
class BallWork:
    """One ball as it is turned: everything stated, nothing left to a default."""

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


@dataclass(frozen=True)
class PassLoad:
    """A pass and what it asks: forces, N; deflection of tip and work, mm; grip over passive force.

    seconds: of swinging, in air AIR_RATE times as fast.
    """

    cut: Cut
    depth_mm: float
    load: Load
    deflection_mm: float
    grip_factor: float

    @property
    def seconds(self) -> float:
        """Of one swing."""
        swing = self.cut.swing_deg[1] - self.cut.swing_deg[0]
        cutting = sum(high - low for low, high in self.cut.arcs_deg)
        if self.depth_mm == 0.0:
            cutting = swing  # a spring pass goes slowly all the way
        whole = self.cut.seconds
        return whole * (cutting + (swing - cutting) / AIR_RATE) / swing


@dataclass(frozen=True)
class BallPlan:
    """How one ball is turned.

    clearance: of its sweep; sweep: what the tip may do. roughing: its steps, first_mm: the tip radius
    that clears what they leave. passes: in order. corner_mm: the tip radius that clears the blank's
    corner without roughing. blank_length_mm: in front of the jaws. limited_by: what set the depth.
    measure_deg: angles to measure across at. seconds: for all the swings.
    """

    ball: BallWork
    clearance: BallClearance
    sweep: Sweep
    roughing: Roughing
    first_mm: float
    corner_mm: float
    passes: tuple[PassLoad, ...]
    depth_mm: float
    limited_by: str
    blank_length_mm: float
    measure_deg: tuple[float, ...]

    @property
    def seconds(self) -> float:
        """Of swinging, air included."""
        return sum(one.seconds for one in self.passes)


@dataclass(frozen=True)
class SocketPass:
    """One pass of a hollow: the tip radius and how far it is out from the pass before."""

    number: int
    radius_mm: float
    depth_mm: float
    removed_mm3: float
    passive_N: float
    deflection_mm: float


@dataclass(frozen=True)
class SocketPlan:
    """How a hollow is turned with the bit the other way round, its tip beyond the arm.

    least_mm, greatest_mm: the radii this head reaches so; deepest_mm: how deep it may go before the arm
    comes to the face. passes: none where it is refused.
    """

    ball: BallWork
    shape: Socket
    least_mm: float
    greatest_mm: float
    deepest_mm: float
    rev_min: float
    passes: tuple[SocketPass, ...]


@dataclass(frozen=True)
class Turned:
    """All balls of a job, and what to look at first."""

    balls: tuple[BallPlan, ...]
    sockets: tuple[SocketPlan, ...]
    findings: tuple[Finding, ...]
