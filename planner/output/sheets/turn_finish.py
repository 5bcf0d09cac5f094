"""The end of turning a ball: measured, its stem or taper turned, parted, its other side finished."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from parts.standard.threads import thread
from planner.dial.sense import reading, said
from planner.job.tables import Job
from planner.output.sheets.turn_rows import Row, halves, row, spindle_row
from planner.turning.head import Head
from planner.turning.model import BallPlan, SecondHolding

GROOVE_MM = 2.0
"""How deep the parting line of half a ball is plunged before its last pass."""

NECK_MM = 3.0
"""What a parting tool leaves for the saw (common practice)."""
CLOTH = "Cloth is never wound round the work or a finger: a strip held by both ends, or on a stick."
NOTHING_TURNING = "Spindle stopped, ball cool: nothing is measured or touched while the work turns."


def parting_line(plan: BallPlan, job: Job) -> Iterator[Row]:
    """The line that half a ball is parted at, plunged before its last pass."""
    if plan.ball.behind:
        return
    radius, mm, turning = plan.ball.radius_mm, job.numbers.size, job.turning
    left = radius + (turning.roughing_width if turning.roughing_tool == "parting" else 0.0)
    yield row(
        "parting line",
        f"{mm(GROOVE_MM)} deep",
        "once all passes but the last are made: the parting tool's right side at the equator, its left"
        f" side reads {mm(left)} on the carriage; so nothing stands behind where the ball is measured",
    )


def finish_rows(plan: BallPlan, s: Head, job: Job) -> Iterator[Row]:
    """From the last pass to the finished piece."""
    ball, numbers, radius = plan.ball, job.numbers, plan.ball.radius_mm
    mm = numbers.size
    yield row(
        "measure",
        "by the table below",
        "then one more division and swing, or: pommel correct",
        NOTHING_TURNING,
    )
    if plan.behind.length_mm > 0.0:
        yield from _stem(plan, job)
    yield row("polish", "if wanted", "file and cloth, the attachment backed away", CLOTH)
    part = radius + plan.part_off_mm + job.turning.roughing_width
    if ball.behind and ball.spec.stemless:
        how = f"{mm(plan.part_off_mm - radius)} behind the ball's pole"
    elif ball.behind:
        how = (
            f"{mm(plan.behind.length_mm)} of stem left" if plan.behind.length_mm else "at the neck"
        )
    else:
        how = (
            f"at the equator; by a micrometer over nose and flat the half is then {mm(radius)} high: as"
            " much as it differs from half the diameter, the pivot stands off the spindle's height"
        )
    yield row(
        "part off",
        f"carriage {mm(part)}",
        f"the parting tool's left side there: {how}",
        f"Slow, the blade on centre and square, stand aside; to a neck of {mm(NECK_MM)}, then spindle"
        " off and saw it through, a hand under the piece.",
    )
    if plan.second is not None:
        yield from _second(plan, plan.second, s, job)


def _stem(plan: BallPlan, job: Job) -> Iterator[Row]:
    behind, numbers = plan.behind, job.numbers
    mm = numbers.size
    yield row(
        "steady",
        "hollow centre",
        "a cup of brass or hard wood in the tailstock, greased, bears on the nose; the attachment out",
        "No more than a finger's push: the ball runs, it is not gripped.",
    )
    readings = f"carriage {mm(plan.ball.radius_mm + behind.end_mm)}"
    if behind.taper_deg:
        travel = job.lathe.top_slide_travel
        times = ceil(behind.length_mm / travel - 1e-9) if travel else 1
        lengths = f" in {times} lengths, the carriage moved between" if times > 1 else ""
        yield row(
            "taper",
            numbers.angle(behind.taper_deg, 2),
            f"top slide set over: {mm(behind.small_mm)} where it leaves the ball to"
            f" {mm(behind.large_mm)} at its end, {mm(behind.length_mm)} behind it ({readings});"
            f" turned by the top slide{lengths}, from the ball toward the chuck",
            "The chuck stays clear of the slide's end: turn it by hand a full turn first.",
        )
    else:
        yield row(
            "stem",
            mm(behind.small_mm),
            f"turned to size from the neck's groove back to {readings}, the turning tool never nearer"
            " to"
            " the ball than the groove",
        )


def _second(plan: BallPlan, second: SecondHolding, s: Head, job: Job) -> Iterator[Row]:
    numbers, radius = job.numbers, plan.ball.radius_mm
    mm = numbers.size
    division = s.screw_pitch_mm / s.dial_divisions
    tolerance = plan.ball.spec.tolerance
    yield from _holding(plan, second, job)
    yield row(
        "run true",
        numbers.micrometer(RUN_OUT_MM),
        "an indicator on the finished zone beside the holding, over a turn by hand; tap it true",
        "Spindle isolated, indicator away before it is switched on.",
    )
    to_go = said(reading(halves(second.first_mm - radius, division), s.dial_divisions))
    yield row(
        "centre",
        "on the finished zone",
        f"dial to 0 as it was; cross slide at its 0. Swing the tip slowly from"
        f" {numbers.angle(second.to_deg)} to {numbers.angle(second.touch_deg)} over the finished zone,"
        " carriage and"
        " dial moved until a strip of thin paper just drags all the way: then the pivot is under the"
        f" centre; carriage locked, dial to 0 there. {mm(radius)} from the ball's own pole",
        "Spindle isolated while the paper is between tip and ball.",
    )
    yield spindle_row(second.passes, numbers)
    step = numbers.micrometer(tolerance / 2) if tolerance else numbers.micrometer(BLEND_MM)
    yield row(
        "second sweep",
        numbers.swing(0.0, second.to_deg),
        f"start {to_go}, tip radius {mm(second.first_mm)}; {len(second.passes)} passes by the table,"
        f" from the stub's pole to {numbers.angle(second.to_deg - second.blend_deg)} over what is"
        f" finished; the last leaves a step of at most {step}: none that a fingernail finds",
        "Tip over the top, spindle forward, as before; one full swing by hand first.",
    )


RUN_OUT_MM = 0.02
"""Of a finished ball in its second holding, over a turn (common practice)."""

BLEND_MM = 0.01
"""A step that a fingernail does not find (common practice)."""


def _holding(plan: BallPlan, second: SecondHolding, job: Job) -> Iterator[Row]:
    numbers, mm = job.numbers, job.numbers.size
    if second.holding == "threaded stub":
        size = thread(second.thread or "")
        yield row(
            "second holding",
            f"stub {numbers.thread(size.designation)}",
            f"turned in place in the chuck and not taken out: thread {mm(second.stub_length_mm)} long"
            " less"
            f" one pitch, undercut at its root, the shoulder {mm(second.outside_mm)} across dished to"
            " bear"
            f" on the ball at its rim; the finished side screwed home by hand. The cut tightens it",
            "Unscrew it with a strap, not with a hand on a running chuck.",
        )
        return
    name = "soft jaws" if second.holding == "soft jaws" else "split cup"
    how = (
        "soft jaws bored to the ball with a boring tool on this head or a form tool, tightened on a"
        " ring"
        if second.holding == "soft jaws"
        else f"a cup turned from bar {mm(second.outside_mm)} across, bored to the ball, then slit"
        " lengthways once"
    )
    yield row(
        "second holding",
        f"{name}, mouth {mm(second.mouth_diameter_mm)}",
        f"{how}; the mouth {mm(second.mouth_mm)} past the equator, {mm(second.outside_mm)} across"
        f" outside, paper or brass foil round the finished side; {numbers.force(second.worst_N)} is the"
        f" most the cut asks at the stub, it would turn at {numbers.force(second.slips_N)} with jaws"
        " well"
        f" tightened",
        "Light passes: a ball that turns in its holding comes out of it. Stand aside at the start.",
    )
