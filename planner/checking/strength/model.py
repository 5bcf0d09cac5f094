"""What a strength report says: forces of a pass, links, stresses, the clamp's hold."""

from __future__ import annotations

from typing import Any

from parts.value import Value
from planner.geometry.ball import Arrangement


class Load(Value, frozen=True):
    """The forces of a pass, N; chip_mm is the mean chip thickness; material: what is turned."""

    material: str
    depth_mm: float
    feed_mm: float
    chip_mm: float
    main_N: float
    passive_N: float
    feed_N: float


class Give(Value, frozen=True):
    """Movement of the tip along the rod, mm, for one newton of passive and one of main force."""

    passive: Any
    main: Any


class Link(Value, frozen=True):
    """One link of the chain: how much of the tip's radial deflection is its own.

    deflection_mm under the passive force; share: of the sum by both forces; thicken: the size behind
    it; mend: what to do about it, in words. mm_per_N: for one newton of passive force. main_mm: what
    the main force adds, by its lever along the rod; less than nothing where it works against the
    passive force. play_mm: what both forces add at most where the fit it sits in is loose.
    """

    name: str
    deflection_mm: float
    share: float
    thicken: str
    mm_per_N: float
    main_mm: float
    mend: str = ""
    play_mm: float = 0.0

    @property
    def sprung_mm(self) -> float:
        """What it adds to the tip's deflection, passive and main force together."""
        return self.deflection_mm + self.main_mm


class Strength(Value, frozen=True):
    """A stress against what the material bears: safety is limit over stress; code: of its finding.

    of_housing: it is in what holds the pivot in the tool post, which an upright pivot does without.
    """

    name: str
    stress_MPa: float
    limit_MPa: float
    safety: float
    thicken: str
    source: str
    code: str
    of_housing: bool = False


class Hold(Value, frozen=True):
    """The clamp: tightening torque, stud's preload, force that closes the slit, grip, its factor.

    share_of_proof: preload over the stud's proof load. hand_N: at the handle's knob. engaged_mm: of
    the stud's thread in the block; needed_mm: what bears LEAST_SAFETY times the preload. lever_N: at
    the end of the clamp's lever for that torque. abuse_share, abuse_safety: preload over proof load,
    and yield over stress of the hinge, with ABUSE_N there. hinge_mm: its thinnest with the slit at its
    limits; joined_mm: how much of it along the rod is joined metal of the block.
    turn_deg: how far the lever goes from where the rod just slides to tight.
    """

    torque_Nm: float
    preload_N: float
    closing_N: float
    grip_N: float
    factor: float
    share_of_proof: float
    hand_N: float
    engaged_mm: float
    needed_mm: float
    lever_N: float
    abuse_share: float
    hinge_mm: float
    joined_mm: float
    turn_deg: float
    abuse_safety: float


class StrengthReport(Value, frozen=True):
    """All of it, for the largest ball; tilt_mm is what the bearing's clearance lets the tip shift.

    deflection_mm: of the tip along the rod under the passive force; main_mm: what the main force adds;
    both on top, where the diameter is measured. nose_mm, neck_mm: of both forces, near either end of
    the sweep.
    """

    load: Load
    links: tuple[Link, ...]
    strengths: tuple[Strength, ...]
    hold: Hold
    deflection_mm: float
    tilt_mm: float
    main_mm: float
    arrangement: Arrangement = "across"
    nose_mm: float = 0.0
    neck_mm: float = 0.0

    @property
    def sprung_mm(self) -> float:
        """The deflection of the tip, passive and main force together, the fits tied by the load."""
        return self.deflection_mm + self.main_mm

    @property
    def loose_mm(self) -> float:
        """The same with every fit loose: the most it can be."""
        return self.sprung_mm + sum(link.play_mm for link in self.links)
