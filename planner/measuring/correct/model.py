"""What goes into a correction and what comes out: plain frozen data, millimetres and degrees."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import Literal

from parts.value import Value
from planner.geometry.ball import Arrangement

SURE = 2.0
"""Standard uncertainties an error must exceed to be corrected: about 95 % sure."""

ANVIL_OFF_DEG = 2.0
"""How far an anvil held by eye along a protractor's line stands off its angle, two times in three (from
memory)."""

UNSEEN = (
    "An odd number of lobes: such a ball measures the same across everywhere.",
    "A ball more pointed at the nose than at the stem: each reading goes through both halves.",
    "The tip's offset: it leaves the ball round, and shows in the pip alone.",
    "The pivot out of square: the ball stays round; only pips of several sizes of ball show it.",
    "The pip itself: the anvils stand beside it.",
    "A micrometer that reads wrong by the same amount everywhere: that goes into the size.",
)
"""What readings across the ball cannot show, however many are taken."""

Scatter = Literal["agree", "contradict", "untested"]
What = Literal["squareness", "skew", "offset", "size", "zero", "screw"]
Standing = Literal["within", "cannot be told", "outside"]
"""Where a ball stands to its tolerance."""


class Fault(Value, frozen=True):
    """One thing wrong with what was given: where, what stands there, its limit and what to do.

    code: its kind, of the register of findings.
    """

    code: str
    where: str
    value: str
    limit: str
    remedy: str


class CannotFit(Exception):
    """Nothing can be fitted to what was given; carries every problem."""

    def __init__(self, problems: Sequence[Fault]) -> None:
        self.problems = tuple(problems)
        lines = (f"{p.where}: {p.value}: {p.limit}. {p.remedy}" for p in self.problems)
        super().__init__("\n".join(lines))


class Reading(Value, frozen=True):
    """A diameter read with an anvil at a polar angle: 0 at the nose, 90 at the equator, up to 180."""

    angle_deg: float
    diameter_mm: float


class Pip(Value, frozen=True):
    """The pip at a ball's nose: its diameter (0 when none is seen), its uncertainty, and the ball's."""

    diameter_mm: float
    accuracy_mm: float
    ball_diameter_mm: float


class Size(Value, frozen=True):
    """A ball's size: the diameter that the feed dial was set to, the one measured, its uncertainty."""

    set_mm: float
    diameter_mm: float
    accuracy_mm: float


class Measured(Value, frozen=True):
    """What was measured, and what was wanted.

    readings: of one ball. accuracy_mm: standard uncertainty of one, above zero. wanted_mm: the ball's
    diameter on the drawing. stem_mm: the stem's diameter, 0 without one. anvil_mm: diameter of the
    micrometer's flat anvils, 0 to count only the point they touch. pips: one a ball, all turned at one
    setting of pivot and slide. before_nose: the sweep began before the nose and crossed it. sizes: of
    balls turned at different readings of the feed dial. tolerance_mm: plus or minus on the diameter,
    None where none is stated. wall_mm: how far behind the ball's centre the wall of the relief or a
    shoulder stands, of the blank's diameter blank_mm; None where it is not known.
    """

    readings: tuple[Reading, ...]
    accuracy_mm: float
    wanted_mm: float
    stem_mm: float = 0.0
    anvil_mm: float = 0.0
    pips: tuple[Pip, ...] = ()
    before_nose: bool = False
    sizes: tuple[Size, ...] = ()
    tolerance_mm: float | None = None
    wall_mm: float | None = None
    blank_mm: float = 0.0


class Series(Value, frozen=True):
    """The readings of one ball turned before at the same setting, and the uncertainty of each."""

    readings: tuple[Reading, ...]
    accuracy_mm: float


class Earlier(Value, frozen=True):
    """What was measured before at the same setting: the skew and the offset were the same.

    series: the readings, one ball each. pips and sizes: those that the new measurement does not have.
    """

    series: tuple[Series, ...] = ()
    pips: tuple[Pip, ...] = ()
    sizes: tuple[Size, ...] = ()


OVER_MM, OVER_INCH_MM = 100.0, 4 * 25.4
"""The length over which an out-of-square is given: 100 mm, or 4 in (common practice)."""


class Rig(Value, frozen=True):
    """What moves the tip.

    tip_mm_per_division: advance of the tip (of the ball's radius). slide_mm_per_division: travel of the
    cross slide; half of what a dial that reads diameters says. other_side: the tip passes the equator
    underneath (across) or behind (upright), not over the top or on the operator's side. most_mm: how
    far a radius, skew or offset can plausibly be off: what roughing leaves on the ball, or one turn of
    the feed dial, whichever is more; None where neither is known. over_mm: the length over which an
    out-of-square, and what a screw's travel is off, is given.
    """

    arrangement: Arrangement = "across"
    tip_mm_per_division: float | None = None
    slide_mm_per_division: float | None = None
    other_side: bool = False
    most_mm: float | None = None
    over_mm: float = OVER_MM


class Estimate(Value, frozen=True):
    """A length found, and its standard uncertainty."""

    mm: float
    u_mm: float

    @property
    def clear(self) -> bool:
        """Whether it differs from nothing by more than twice its uncertainty."""
        return abs(self.mm) > SURE * self.u_mm


class AnvilsOff(Value, frozen=True):
    """What anvils off their angles, each by ANVIL_OFF_DEG two times in three, add to a fit.

    reading_mm: how much one reading changes where its anvil is off by that, at most. skew_u_mm and
    radius_u_mm: the fit's standard uncertainties with the anvils' part. skew_clear: the skew differs
    from nothing by more than twice its own.
    """

    reading_mm: float
    skew_u_mm: float
    radius_u_mm: float
    skew_clear: bool


class Fit(Value, frozen=True):
    """The straight line through the readings.

    mean: of the diameters. radius (R0), skew (h) and their correlation: None where all readings stand
    at one angle. residual_mm: root(sum of squares / dof). chi2_limit: what chi2 exceeds once in a
    hundred fits if the accuracy is as stated; beyond it the readings contradict each other. Both None
    without a reading to spare; they and chi2 are of this ball's own readings. words: what the readings
    determine. balls: how many the skew rests on, this one and earlier ones. anvils: None without it.
    """

    mean: Estimate
    radius: Estimate | None
    skew: Estimate | None
    correlation: float | None
    residual_mm: float | None
    chi2: float
    chi2_limit: float | None
    dof: int
    scatter: Scatter
    words: str
    balls: int = 1
    anvils: AnvilsOff | None = None


class Squareness(Value, frozen=True):
    """One answer to pips of several sizes: the pivot's tilt (taken positive) and the offset with it.

    changes_side: the tip passes the spindle on one side for small balls and the other for large ones.
    """

    tilt_deg: float
    tilt_u_deg: float
    offset: Estimate
    changes_side: bool
    chi2: float


class PipFit(Value, frozen=True):
    """The offset without its sign, were the pivot square; and what answers there are out of square.

    clear: the pip stands out of its own uncertainty and the skew's. skew_known: its part is taken out.
    answers: those that fit as well as the best, least tilt first; none for balls of one size.
    """

    offset: Estimate
    clear: bool
    skew_known: bool
    answers: tuple[Squareness, ...]
    chi2: float
    dof: int
    scatter: Scatter


class Toleranced(Value, frozen=True):
    """A ball held against its tolerance, on the diameter at every angle clear of the stem.

    worst: how far the diameter that is farthest off lies from the drawing. standing: "within" where
    every diameter lies inside by twice its uncertainty, "outside" where one lies out by as much. small:
    one is too small by as much, so that the ball cannot be mended.
    """

    standing: Standing
    worst: Estimate
    small: bool


class SizeFit(Value, frozen=True):
    """What sizes at several dial readings say of the dial: its zero, and the screw that moves it.

    zero: by how much the tip stands farther out than the dial says, mm of radius, at the middle of the
    sizes. screw: how much farther it moves for each mm that the dial says; None for balls of one size.
    """

    zero: Estimate
    screw: Estimate | None
    chi2: float
    dof: int
    scatter: Scatter


class Advice(Value, frozen=True):
    """One correction, or why none is justified.

    error: None where it is not determined. move: what moves and which way, "" for nothing; amount_mm:
    by how much; divisions: the same on its dial, if it has one. remains_mm: two uncertainties; where
    nothing is moved the error as well. reason: sentences without numbers. sign_known: False where the
    way must be tried. over_mm: the length a tilt is taken over. undersize: the ball cannot be mended.
    far: the error is more than it can plausibly be.
    """

    what: What
    error: Estimate | None
    justified: bool
    move: str
    amount_mm: float
    divisions: float | None
    remains_mm: float | None
    reason: str
    sign_known: bool = True
    over_mm: float | None = None
    undersize: bool = False
    far: bool = False

    @property
    def outward(self) -> bool:
        """Whether the tip is to cut less: then a division begun is gone to its end."""
        return self.what in ("size", "zero") and self.error is not None and self.error.mm < 0


class Correction(Value, frozen=True):
    """The fit, the pips' answer and the advice, in the order in which to act.

    tolerance: None where none is stated or nothing was read across. apart: which of these differ from
    the earlier ones by more than either allows, so that the earlier ones are left out. farthest_mm: how
    far anything can plausibly be off at the tip.
    """

    fit: Fit | None
    pips: PipFit | None
    advice: tuple[Advice, ...]
    sizes: SizeFit | None = None
    tolerance: Toleranced | None = None
    apart: tuple[Literal["readings", "pips", "sizes"], ...] = ()
    farthest_mm: float = inf
    unseen: tuple[str, ...] = UNSEEN
