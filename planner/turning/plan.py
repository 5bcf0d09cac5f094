"""Turning the balls of a job: for each its setting up, its roughing, its passes, its measuring.

The geometry is that of passes and roughing beside it, the clearance checking.clearance's, forces and
deflection checking.strength's; here they become one plan a ball. Imported by output.plan and the
sheets; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import asin, atan2, ceil, degrees, hypot, inf, pi

from parts.attachment import Attachment
from parts.sizes import Sizes
from parts.standard.materials import material
from parts.standard.speeds import speed_m_min
from planner.checking.clearance import BallCase, BallClearance, ball_clearance, reaching_remedy
from planner.checking.strength import (
    LEAST_GRIP,
    MOST_DEFLECTION_MM,
    MOST_HAND_N,
    Load,
    clamp_hold,
    cutting_load,
    deflection_mm,
)
from planner.geometry.envelope import USUAL_STEM, swinging_edges
from planner.job.tables import Ball, Job
from planner.turning.passes import (
    Cut,
    Socket,
    Sweep,
    cuts,
    deepest_mm,
    finish_feed_mm,
    schedule,
    socket,
    spindle_rev_min,
    start_radius_mm,
)
from planner.turning.roughing import Divisions, Roughing, Tool, Work, roughing
from planner.words.findings import BadInput, Finding, Severity, refused
from planner.words.units import show_length, unit_name

PITCHES = 12
"""Steps of roughing in a ball's diameter, unless the job says otherwise."""

AIR_RATE = 5.0
"""How much faster the handle is swung where nothing is cut (common practice)."""

OFF_JAWS_MM = 3.0
"""The roughing tool keeps so far off the jaws at the wall of the relief (common practice)."""

READINGS = 5
"""Angles at which a ball is measured across."""

OFF_STEM_DEG = 5.0
"""How far from the stem's edge a reading is kept."""


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
        return self.spec.shape in ("ball", "taper handle")


@dataclass(frozen=True)
class PassLoad:
    """A pass and what it asks: forces, N; deflection of the tip, mm; grip over passive force.

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


def ball_works(s: Sizes, job: Job) -> tuple[BallWork, ...]:
    """The balls of a job; the attachment's largest where it names none."""
    listed = job.ball or [Ball.model_construct(name="largest", diameter=s.max_ball_diameter_mm)]
    found = []
    for number, ball in enumerate(listed, 1):
        blank = ball.blank_diameter or ball.diameter
        if not job.ball:
            blank = s.max_blank_diameter_mm
        found.append(
            BallWork(
                ball.name or f"ball {number}",
                ball,
                ball.diameter / 2,
                blank,
                ball.stem_diameter or USUAL_STEM * ball.diameter,
                ball.material or job.materials.dial,
            )
        )
    return tuple(found)


def turned(
    attachment: Attachment, job: Job, file: str, nose_mm: float, only: str | None = None
) -> Turned:
    """The turning of every ball of a job.

    nose_mm: of the ground bit; file: what findings call the job file. A ball that this attachment
    cannot turn has a finding and no plan. only: the name of one ball; None for all. Raises BadInput
    when the job has none of that name.
    """
    s = attachment.sizes
    edges = swinging_edges(attachment)
    plans: list[BallPlan] = []
    hollows: list[SocketPlan] = []
    findings: list[Finding] = []
    balls = ball_works(s, job)
    if only is not None:
        names = ", ".join(ball.name for ball in balls)
        balls = tuple(ball for ball in balls if ball.name == only)
        if not balls:
            limit = "no ball of that name in the job"
            raise BadInput([refused(file, "ball", only, limit, f"Name one: {names}")])
    for ball in balls:
        say = _Speaker(ball, job, file)
        if ball.spec.shape == "socket":
            hollow = _socket_plan(ball, s, job, nose_mm)
            hollows.append(hollow)
            findings += _socket_findings(hollow, s, say)
            continue
        case = BallCase(ball.name, 2 * ball.radius_mm, ball.blank_mm, ball.stem_mm)
        clear = ball_clearance(case, edges, s, job)
        refusals = list(_refusals(clear, s, say))
        findings += refusals
        if refusals:
            continue
        plan = _ball_plan(ball, clear, s, job, nose_mm)
        plans.append(plan)
        findings += _findings(plan, say)
    return Turned(tuple(plans), tuple(hollows), tuple(findings))


def _ball_plan(
    ball: BallWork, clear: BallClearance, s: Sizes, job: Job, nose_mm: float
) -> BallPlan:
    turning, radius = job.turning, ball.radius_mm
    steps, relief = _roughed(ball, clear.relief_mm, job)
    end = clear.end_deg if ball.behind else 90.0
    stem = ball.stem_mm / 2 if ball.behind else 0.0
    sweep = Sweep(min(clear.start_deg, 89.0), end, stem, relief if ball.behind else inf)
    division = s.screw_pitch_mm / s.dial_divisions
    first = start_radius_mm(steps.profile, sweep)
    most, limited = _depth(ball, first, s, job, nose_mm, division)
    depth = max(most, division)
    finish = min(max(turning.finish_depth, division), depth)
    passes = schedule(
        max(first, radius + division), radius, depth, finish, turning.spring_passes, division,
        s.dial_divisions,
    )  # fmt: skip
    feed = finish_feed_mm(turning.finish, nose_mm, turning.feed, radius)
    speed = speed_m_min("turn", job.shop.tool_material, material(ball.material).group)
    made = cuts(
        steps.profile, passes, sweep, turning.feed, feed, job.lathe.spindle_speeds, speed.low_m_min
    )
    behind = relief if ball.behind else 0.0
    out = max(clear.stick_out_mm, behind + OFF_JAWS_MM) + radius
    return BallPlan(
        ball=ball,
        clearance=clear,
        sweep=sweep,
        roughing=steps,
        first_mm=first,
        corner_mm=hypot(radius, ball.blank_mm / 2),
        passes=tuple(_loaded(one, ball, s, job, nose_mm) for one in made),
        depth_mm=depth,
        limited_by=limited if most >= division else "one division of the dial",
        blank_length_mm=out,
        measure_deg=_measure_deg(ball),
    )


def _roughed(ball: BallWork, relief_mm: float, job: Job) -> tuple[Roughing, float]:
    """The roughing steps, the relief set farther back where the tool is too wide for it."""
    turning = job.turning
    plain = turning.roughing_tool == "plain"
    tool = Tool(0.0 if plain else turning.roughing_width, turning.roughing_corner)
    pitch = turning.roughing_pitch or max(0.5, round(ball.radius_mm / PITCHES * 4) / 2)
    stem = ball.stem_mm / 2 if ball.behind else None
    carriage = job.lathe.carriage_division or 0.0
    # behind the centre the tool's corner stands off by less than ball, allowance and corner together
    room = ball.radius_mm + turning.allowance + tool.corner_mm + tool.across_mm + carriage
    relief_mm = max(relief_mm, room)
    if carriage:
        relief_mm = ceil((ball.radius_mm + relief_mm) / carriage - 1e-9) * carriage - ball.radius_mm
    work = Work(ball.radius_mm, ball.blank_mm / 2, ball.radius_mm, stem, relief_mm if stem else 0.0)
    found = roughing(
        work,
        tool,
        min(turning.allowance, 0.4 * ball.radius_mm),
        pitch_mm=pitch,
        stem_allowance_mm=0.0,
        divisions=Divisions(carriage, job.lathe.cross_slide_division or 0.0),
    )
    return found, relief_mm


def _at(s: Sizes, tip_mm: float) -> Sizes:
    """The sizes with the tip at a radius, for the sums that take the largest ball."""
    return replace(s, max_ball_diameter_mm=2 * tip_mm)


def _depth(
    ball: BallWork, first_mm: float, s: Sizes, job: Job, nose_mm: float, division_mm: float
) -> tuple[float, str]:
    """The deepest pass within the check's limits, and which of them stopped it."""
    turning, stopped = job.turning, "the job's depth of cut"
    at = _at(s, first_mm)

    def ok(depth_mm: float) -> bool:
        nonlocal stopped
        load = cutting_load(depth_mm, turning.feed, nose_mm, ball.material)
        hold = clamp_hold(at, load, turning.clamp_torque_Nm)
        for good, what in (
            (deflection_mm(at, load) <= MOST_DEFLECTION_MM, "the deflection"),
            (hold.factor >= LEAST_GRIP, "the clamp's grip"),
            (hold.hand_N <= MOST_HAND_N, "the force at the hand"),
        ):
            if not good:
                stopped = what
                return False
        return True

    return deepest_mm(ok, turning.depth_of_cut, division_mm), stopped


def _loaded(cut: Cut, ball: BallWork, s: Sizes, job: Job, nose_mm: float) -> PassLoad:
    """What a pass asks at its worst: the metal it takes where it takes most.

    A spring pass is counted as a tenth of the last cut: what the cut's deflection left.
    """
    turning, one = job.turning, cut.taken
    depth = one.depth_mm or 0.1 * turning.finish_depth
    at = _at(s, one.radius_mm)
    load = cutting_load(depth, cut.feed_mm, nose_mm, ball.material)
    hold = clamp_hold(at, load, turning.clamp_torque_Nm)
    return PassLoad(cut, one.depth_mm, load, float(deflection_mm(at, load)), hold.factor)


def _measure_deg(ball: BallWork) -> tuple[float, ...]:
    """Angles to measure across at, from clear of the stem to the equator, in whole degrees."""
    if not ball.behind:
        return (90.0,)
    low = ceil(degrees(asin(min(1.0, ball.stem_mm / (2 * ball.radius_mm)))) + OFF_STEM_DEG)
    step = (90.0 - low) / (READINGS - 1)
    return tuple(float(round(low + step * i)) for i in range(READINGS))


def taper_deg(ball: Ball) -> float:
    """The angle a taper handle's side makes with its axis: the top slide's set-over."""
    if not (ball.large_diameter and ball.stem_length):
        return 0.0
    small = ball.stem_diameter or USUAL_STEM * ball.diameter
    return degrees(atan2((ball.large_diameter - small) / 2, ball.stem_length))


# hollows


def _socket_plan(ball: BallWork, s: Sizes, job: Job, nose_mm: float) -> SocketPlan:
    """A hollow with the bit the other way round: its point out, beyond the arm.

    The arm's outer face then runs at the tip radius less the stick-out. Inside the work only the bit
    goes: the arm is as wide as the whole overhang, so it stays in front of the face.
    """
    turning = job.turning
    shape = socket(ball.radius_mm, ball.spec.depth or ball.radius_mm)
    reach = s.arm_stock.height_mm + 2 * s.bit_stickout_mm
    least, greatest = s.tip_radius_min_mm + reach, s.tip_radius_max_mm + reach
    deepest = s.bit_stickout_mm - s.clearance_mm
    speed = speed_m_min("turn", job.shop.tool_material, material(ball.material).group)
    turns = spindle_rev_min(job.lathe.spindle_speeds, speed.low_m_min, 2 * shape.mouth_radius_mm)
    fits = (
        least <= ball.radius_mm <= greatest
        and shape.depth_mm <= deepest
        and 2 * shape.mouth_radius_mm <= ball.blank_mm
    )
    passes: list[SocketPass] = []
    if fits:
        division = s.screw_pitch_mm / s.dial_divisions
        depth, _ = _depth(ball, ball.radius_mm, s, job, nose_mm, division)
        depth = max(depth, division)
        count = ceil(shape.depth_mm / depth - 1e-9)
        before, taken = ball.radius_mm - shape.depth_mm, 0.0
        for number in range(1, count + 1):
            radius = ball.radius_mm - (count - number) * depth
            high = radius - shape.pivot_mm
            cap = pi * high**2 * (3 * radius - high) / 3
            load = cutting_load(radius - before, turning.feed, nose_mm, ball.material)
            at = _at(s, radius - reach)
            bent = float(deflection_mm(at, load))
            passes.append(
                SocketPass(number, radius, radius - before, cap - taken, load.passive_N, bent)
            )
            before, taken = radius, cap
    return SocketPlan(ball, shape, least, greatest, deepest, turns, tuple(passes))


# findings


class _Speaker:
    def __init__(self, ball: BallWork, job: Job, file: str) -> None:
        self.ball, self.file, self.inch = ball, file, job.inch
        self.key = f"ball.{ball.name}" if job.ball else "attachment.max_ball_diameter"

    def mm(self, value: float) -> str:
        return f"{show_length(round(value, 3), self.inch)} {unit_name(self.inch)}"

    def finding(
        self, code: str, severity: Severity, value: str, limit: str, remedy: str, source: str = ""
    ) -> Finding:
        text = f"{value}: {limit}. {remedy}"
        return Finding(severity, self.file, self.key, value, limit, remedy, text, code, source)


def _refusals(clear: BallClearance, s: Sizes, say: _Speaker) -> Iterator[Finding]:
    ball = say.ball
    across = 2 * ball.radius_mm
    if across > s.max_ball_diameter_mm + 1e-6:
        limit = f"the attachment takes {say.mm(s.max_ball_diameter_mm)}"
        remedy = "Turn a smaller ball, or raise attachment.max_ball_diameter and build for it"
        yield say.finding("ball-size", "refused", f"ball {say.mm(across)}", limit, remedy)
    if across < s.min_ball_diameter_mm - 1e-6:
        limit = f"the head comes in to {say.mm(s.min_ball_diameter_mm)}"
        remedy = "Lower attachment.min_ball_diameter and build for it"
        yield say.finding("ball-size", "refused", f"ball {say.mm(across)}", limit, remedy)
    if clear.beside_mm < s.clearance_mm - 1e-6:
        most = say.mm(2 * (s.arm_overhang_mm - s.clearance_mm))
        limit = f"the body stands beside a blank of at most {most}"
        yield say.finding(
            "beside-blank", "refused", f"blank {say.mm(ball.blank_mm)}", limit, "Turn it down first"
        )
    if clear.cross_slide_mm < s.clearance_mm - 1e-6:
        limit = (
            f"{clear.cross_slide_by.name} clears the cross slide by {say.mm(clear.cross_slide_mm)}"
        )
        yield say.finding(
            "cross-slide", "refused", f"ball {say.mm(across)}", limit, "Turn a smaller ball"
        )
    if clear.start_deg >= 90.0:
        limit = "the tailstock centre leaves no room before the equator"
        yield say.finding(
            "centre", "refused", f"ball {say.mm(across)}", limit, "Use a slimmer centre, or none"
        )


def _findings(plan: BallPlan, say: _Speaker) -> Iterator[Finding]:
    ball, clear = plan.ball, plan.clearance
    if ball.behind and clear.end_limit != "the stem":
        yield say.finding(
            "sweep",
            "warning",
            f"the {clear.end_limit} ends the sweep at {clear.end_deg:.0f} deg",
            f"the stem begins at {clear.neck_deg:.0f} deg",
            reaching_remedy(clear, say.mm),
            "geometry of the sweep",
        )
    if plan.limited_by == "one division of the dial":
        yield say.finding(
            "pass-depth",
            "warning",
            "not even one division of the dial is within the limits of the check",
            "force, deflection or grip",
            "Take less feed, tighten the clamp, or see: pommel check",
        )
    if plan.roughing.least_mm < 1e-6:
        more = say.mm(2 * ball.radius_mm + (25.4 / 16 if say.inch else 1.0))
        yield say.finding(
            "thin-blank",
            "note",
            f"blank {say.mm(ball.blank_mm)}",
            "no thicker than the ball: its equator keeps the bar's skin",
            f"Take a blank of {more} or more, or turn it to a smaller ball",
            "common practice",
        )
    out = clear.stick_out_mm + ball.radius_mm
    if out > 4 * ball.blank_mm and clear.start_deg == 0.0:
        yield say.finding(
            "stick-out",
            "note",
            f"the blank sticks out {say.mm(out)}",
            "more than four of its diameters",
            "Rough it with the tailstock up; light cuts with the swing tool",
            "common practice",
        )


def _socket_findings(plan: SocketPlan, s: Sizes, say: _Speaker) -> Iterator[Finding]:
    radius = plan.ball.radius_mm
    if not plan.least_mm - 1e-9 <= radius <= plan.greatest_mm + 1e-9:
        limit = f"this head reaches {say.mm(plan.least_mm)} to {say.mm(plan.greatest_mm)} with the"
        limit += " bit the other way round"
        remedy = "Use a form tool or a boring head for it"
        yield say.finding("socket-radius", "refused", f"radius {say.mm(radius)}", limit, remedy)
    if 2 * plan.shape.mouth_radius_mm > plan.ball.blank_mm + 1e-9:
        value = f"mouth {say.mm(2 * plan.shape.mouth_radius_mm)}"
        limit = f"wider than its blank, {say.mm(plan.ball.blank_mm)}"
        yield say.finding("socket-mouth", "refused", value, limit, "Hollow it less deep")
    beside = s.arm_overhang_mm - plan.ball.blank_mm / 2
    if beside < s.clearance_mm - 1e-6:
        most = say.mm(2 * (s.arm_overhang_mm - s.clearance_mm))
        limit = f"the body stands beside a blank of at most {most}"
        value = f"blank {say.mm(plan.ball.blank_mm)}"
        yield say.finding("beside-blank", "refused", value, limit, "Turn it down first")
    if plan.shape.depth_mm > plan.deepest_mm + 1e-9:
        limit = f"the arm comes to the face at {say.mm(plan.deepest_mm)}"
        remedy = (
            f"Set the bit out {say.mm(plan.shape.depth_mm + s.clearance_mm)}, or hollow it less"
        )
        value = f"{say.mm(plan.shape.depth_mm)} deep"
        yield say.finding("socket-depth", "refused", value, limit, remedy)
