"""Setting up for a ball: what is set to what, and how, in the order it is done."""

from __future__ import annotations

from collections.abc import Iterator

from parts.sizes import Sizes
from parts.standard.drills import Drill
from parts.standard.threads import thread
from planner.checking.strength import clamp_hold
from planner.dial.sense import DEEPER, READ_AT, reading, said
from planner.job.tables import Job
from planner.turning.ball import taper_deg
from planner.turning.model import BallPlan
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns

CAUTION = (
    "Goggles, guard and sleeves as local rules ask; no gloves. The handle and the tail swing toward the"
    " chuck: keep the hand on the knob, and never swing with the carriage unlocked. Work the clamp's"
    " lever with the tip at the nose: it then stands on top, away from the chuck. Keep its slits filled"
    " with grease: a chip in one stops it closing."
)

Row = tuple[str, str, str]


def setup_table(plans: tuple[BallPlan, ...], s: Sizes, job: Job, title: str) -> Table:
    """How to set up for each ball, a row a step."""
    rows = [(plan.ball.name, *row) for plan in plans for row in _steps(plan, s, job)]
    return Table(
        "setup",
        f"{title}: setting up",
        columns(("ball", "ball"), ("what", "what"), ("value", "set to"), ("how", "how")),
        tuple(rows),
        notes=(CAUTION,),
    )


def _halves(mm: float, division_mm: float) -> float:
    """A distance in divisions of a dial, to half of one."""
    return round(mm / division_mm * 2) / 2


def _steps(plan: BallPlan, s: Sizes, job: Job) -> Iterator[Row]:
    ball, clear, radius = plan.ball, plan.clearance, plan.ball.radius_mm
    division = s.screw_pitch_mm / s.dial_divisions
    slide, carriage = job.lathe.cross_slide_division, job.lathe.carriage_division
    numbers = job.numbers
    mm = numbers.size
    tolerance = ball.spec.tolerance
    spread = f" +- {numbers.plain.micrometer(tolerance)}" if tolerance else ""
    yield "ball", f"{mm(2 * radius)}{spread}", f"{ball.spec.shape}, {ball.material}"
    yield (
        "blank",
        f"{mm(ball.blank_mm)} thick",
        f"{mm(plan.blank_length_mm)} or more out of the jaws",
    )
    if job.turning.tailstock_centre:
        yield "tailstock", "centre up", f"the sweep begins at {numbers.angle(clear.start_deg)}"
    yield "face", "the end true", "carriage dial to 0 with the roughing tool at the end"
    if ball.spec.thread or ball.spec.hole:
        yield _hole(plan, numbers)
    yield "rough", f"{len(plan.roughing.steps)} steps", "by the roughing table"
    over = (ball.blank_mm / 2 - radius) if not plan.roughing.steps else None
    if over is None or over <= 0:
        over = max(r.radius_mm for r in plan.roughing.profile) - radius

    def dial_at(to_go_mm: float) -> str:
        return said(reading(_halves(to_go_mm, division), s.dial_divisions))

    yield (
        "dial zero",
        dial_at(over),
        f"tip on top, touch the work where it is {mm(2 * (radius + over))} thick; swing back to the"
        " nose, slack the dial's screw and set it to this: 0 is the finished ball",
    )
    yield (
        "set-over",
        f"{mm(radius)} behind the end",
        "dial to 0 with no turn to go, tip at the nose, carriage up until the tip touches the faced"
        " end: the pivot now stands half the diameter behind it; lock the carriage"
        + (f" ({_halves(radius, carriage):g} div of its dial)" if carriage else ""),
    )
    yield (
        "cross slide",
        "tip on the axis",
        "the tip at the middle of the faced end, where it turns without moving"
        + (f"; one division is {numbers.slide_division(slide)}" if slide else ""),
    )
    yield (
        "start at",
        dial_at(plan.first_mm - radius),
        f"tip radius {mm(plan.first_mm)}: clears the roughed work"
        f" (unroughed {mm(plan.corner_mm)}, dial {dial_at(plan.corner_mm - radius)})",
    )
    swing = numbers.swing(plan.sweep.start_deg, plan.sweep.limits_deg(radius)[1])
    where = (
        f"stop with the tip {mm(clear.shoulder_mm)} behind the centre: the nose then just clears the"
        " stem, and its round stays in the neck"
        if ball.behind
        else "equator"
    )
    yield "sweep", swing, f"from the nose; {where}"
    tight = min(clear.gaps, key=lambda gap: gap.distance_mm)
    yield (
        "by hand",
        "one full swing",
        f"spindle stopped and switched off, at the start reading: the {tight.part} clears the"
        f" {tight.obstacle} by {mm(tight.distance_mm)}; jaws at least"
        f" {mm(plan.blank_length_mm - radius)} from the centre",
    )
    hold = clamp_hold(s, plan.passes[0].load, job.turning.clamp_torque_Nm)
    yield (
        "each pass",
        f"lever, {numbers.force(hold.lever_N)}",
        "tip at the nose: slacken by the clamp's lever, not past the rod's line; feed in to the"
        " reading, tighten with the lever toward yourself"
        f" ({numbers.fine_torque(hold.torque_Nm)}), swing. Past a reading: back a whole turn, come in"
        " again: so the play is always taken up",
    )
    yield (
        "dial",
        f"1 div = {numbers.division(division)}",
        f"on the radius; the ball's diameter changes by twice that,"
        f" {numbers.plain.division(2 * division)}. {DEEPER[0].upper()}{DEEPER[1:]}. {READ_AT}",
    )
    if ball.spec.shape == "taper handle":
        yield (
            "taper",
            numbers.angle(taper_deg(ball.spec), 2),
            f"top slide set over: {mm(ball.stem_mm)} at the ball to"
            f" {mm(ball.spec.large_diameter or 0.0)} in {mm(ball.spec.stem_length or 0.0)}; turned"
            " after the ball, the ball steadied by a hollow centre",
        )
    elif ball.behind:
        yield (
            "part off",
            f"stem {mm(ball.stem_mm)}",
            "slow, tool on centre, stand clear"
            + (
                f"; stem left {mm(ball.spec.stem_length)} long"
                if ball.spec.stem_length is not None
                else ""
            ),
        )
    yield "time", numbers.minutes(plan.seconds), "swinging, faster in air; setting comes on top"


def _hole(plan: BallPlan, numbers: Numbers) -> Row:
    spec = plan.ball.spec
    depth = spec.hole_depth or 2 * plan.ball.radius_mm
    deep = "right through" if spec.hole_depth is None else f"{numbers.plain.rule(depth)} deep"
    if spec.thread:
        size = thread(spec.thread)
        tap_drill = numbers.drill(Drill(size.tap_drill_name, size.tap_drill_mm))
        drill = f"{tap_drill}, tap {numbers.thread(size.designation)}"
    else:
        drill = numbers.value(spec.hole)
    return (
        "hole",
        drill,
        f"{deep}, before the ball is finished: the last passes take its burr, and no pip is left",
    )
