"""The end of turning a ball: measured, its stem or taper turned, parted, its other side finished."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, sqrt

from parts.standard.fits import Limits
from parts.standard.threads import thread
from planner.dial.sense import reading, said
from planner.job.tables import Job
from planner.output.sheets.turn_rows import SENSE, Row, row, spindle_row, whole_divisions
from planner.turning.ball import RING_MM
from planner.turning.dials import dials_of, whole_near
from planner.turning.head import Head
from planner.turning.model import BallPlan, SecondHolding
from planner.words.numbers import counted

READS_MM = 0.01
"""What a micrometer's thimble is divided to (common practice); in inches it reads thousandths."""

GROOVE_MM = 2.0
"""How deep under the ball the parting line of half a ball is plunged, a third of its radius at most."""

NECK_MM = 3.0
"""What a parting tool leaves for the saw (common practice)."""
CLOTH = "Cloth is never wound round the work or a finger: a strip held by both ends, or on a stick."
NOTHING_TURNING = "Spindle stopped, ball cool: nothing is measured or touched while the work turns."


def parting_line(plan: BallPlan, job: Job) -> Iterator[Row]:
    """The line that half a ball is parted at, plunged with the roughing tools in the post."""
    if plan.ball.behind:
        return
    radius, mm = plan.ball.radius_mm, job.numbers.dial
    left = radius + job.turning.roughing_width
    yield row(
        "parting line",
        f"to diameter {mm(2 * (radius - min(GROOVE_MM, radius / 3)))}",
        "now, before the head is in the post: the parting tool's right side at the equator, its left"
        f" side reads {_read(left, job)} on the carriage; the tip runs out into it, and nothing stands"
        " behind where the ball is measured",
    )


def finish_rows(plan: BallPlan, s: Head, job: Job) -> Iterator[Row]:
    """From the last pass to the finished piece."""
    ball, numbers, radius = plan.ball, job.numbers, plan.ball.radius_mm
    mm = numbers.size
    yield row(
        "measure",
        "by the table below",
        f"{_asked(plan, job)}tip at the nose, the cross slide run out for room and back to its 0 from"
        " the same side, the"
        f" carriage still locked. For every {numbers.division(2 * s.division_mm)} too thick one more"
        " division and swing, or: pommel correct",
        NOTHING_TURNING,
    )
    yield _nose_zero(plan, job)
    if plan.behind.length_mm > 0.0:
        yield from _stem(plan, job)
    yield row("polish", "if wanted", "file and cloth, the attachment backed away", CLOTH)
    blade = job.turning.roughing_width
    part = radius + plan.part_off_mm + blade
    if ball.behind:  # the flat of half a ball lies where it lies, between two lines if need be
        part = _reading_mm(part, job)
    if ball.behind and ball.spec.stemless:
        past = numbers.dial(part - blade - 2 * radius)
        how = f"{past} behind the ball's pole; what the saw leaves is filed flush"
    elif ball.behind:
        how = (
            f"{numbers.bought_length(plan.behind.length_mm)} of stem left"
            if plan.behind.length_mm
            else "at the neck"
        )
    else:
        how = (
            "at the equator; by a micrometer over nose and flat the half is then"
            f" {numbers.micrometer(radius)} high: as much as it differs from half the diameter, the"
            " pivot stands off the spindle's height"
        )
    neck = job.series.nominal(NECK_MM)
    yield row(
        "part off",
        f"carriage {_read(part, job)}",
        f"the parting tool's left side there: {how}",
        f"Slow, the blade on centre and square, stand aside; to a neck of {mm(neck)}, then spindle"
        " off and saw it through, a hand under the piece.",
    )
    if plan.second is not None:
        yield from _second(plan, plan.second, s, job)


def _reading_mm(mm: float, job: Job) -> float:
    """A place along the bed as the carriage's dial shows it, mm: its nearest division."""
    return whole_near(mm, dials_of(job).carriage_mm)


def _read(mm: float, job: Job) -> str:
    """The same as it is said."""
    return job.numbers.slide_reading(mm, dials_of(job).carriage_mm)


def _asked(plan: BallPlan, job: Job) -> str:
    """Between what its readings are to lie, as a micrometer is read; "" where no tolerance is given."""
    across, off = 2 * plan.ball.radius_mm, plan.ball.spec.tolerance
    if not off:
        return ""
    return f"each reading {job.numbers.between(Limits(across, off, -off, ''), reads_mm=READS_MM)}; "


def _nose_zero(plan: BallPlan, job: Job) -> Row:
    """The carriage's zero for the tools after the head: the faced end is the ball's nose by now."""
    radius = plan.ball.radius_mm
    hole = plan.ring_mm - RING_MM if plan.ring_mm else plan.hole.wide_mm / 2 if plan.hole else 0.0
    rim = _reading_mm(radius - sqrt(radius**2 - hole**2), job)
    where = (
        f"on the rim of the hole, which lies {job.numbers.dial(rim)} behind the pole"
        if hole
        else "at the nose"
    )
    return row(
        "carriage zero",
        _read(rim, job) if hole else "0",
        f"the carriage free, the attachment out. Each tool that follows: its left side {where}, the"
        " carriage's dial set to this there",
        "Spindle stopped.",
    )


def _at_size(plan: BallPlan) -> bool:
    """Whether roughing has left all of a straight stem at its size."""
    behind, work = plan.behind, plan.roughing.profile
    if behind.taper_deg or min(part.z_from_mm for part in work) > -behind.end_mm + 1e-6:
        return False
    there = [p for p in work if p.z_from_mm < -behind.shoulder_mm and p.z_to_mm > -behind.end_mm]
    past = [part for part in there if part.z_to_mm <= -plan.sweep.back_mm + 1e-6]
    return all(part.radius_mm <= behind.small_mm / 2 + SIZED_MM for part in past)


SIZED_MM = 0.01
"""A stem no thicker over its size than this is at it."""


def _stem(plan: BallPlan, job: Job) -> Iterator[Row]:
    behind, numbers = plan.behind, job.numbers
    mm = numbers.worked
    if _at_size(plan):
        how = "as roughing left it back to where it is parted off: measured, no tool on it any more"
        yield row("stem's size", mm(behind.small_mm), how)
        return
    yield row(
        "steady",
        "hollow centre",
        "a cup of brass or hard wood in the tailstock, greased, bears on the nose; the attachment out",
        "No more than a finger's push: the ball runs, it is not gripped.",
    )
    end = _reading_mm(plan.ball.radius_mm + behind.end_mm, job)
    readings = f"carriage {_read(end, job)}"
    if behind.taper_deg:
        travel = job.lathe.top_slide_travel
        times = ceil(behind.length_mm / travel - 1e-9) if travel else 1
        lengths = f" in {times} lengths, the carriage moved between" if times > 1 else ""
        yield row(
            "taper",
            numbers.angle(behind.taper_deg, 2),
            f"top slide set over: {mm(behind.small_mm)} where it leaves the ball to"
            f" {mm(behind.large_mm)} at its end, {numbers.bought_length(behind.length_mm)} behind it"
            f" ({readings}); turned by the top slide{lengths}, from the ball toward the chuck",
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
        numbers.within(RUN_OUT_MM),
        "an indicator on the finished zone beside the holding, over a turn by hand; "
        + (
            "else unscrew it and face the shoulder again"
            if second.holding == "threaded stub"
            else "tap it true"
        ),
        "Spindle isolated, indicator away before it is switched on.",
    )
    hole = plan.hole.wide_mm / 2 if plan.hole and plan.hole.depth_mm is None else 0.0
    ring = (hole + second.stub_radius_mm) / 2
    yield row(
        "attachment back",
        "in the tool post",
        "seated as before, bit as it was; cross slide: "
        + (
            f"a ring scribed on the stub's end {mm(ring)} off the axis measures {mm(2 * ring)} across,"
            " its dial to 0 on the axis anew"
            if hole
            else "tip at the middle of the stub's end, where it turns without moving, its dial to 0"
            " anew"
        ),
        SENSE,
    )
    to_go = said(reading(whole_divisions(second.first_mm - radius, division), s.dial_divisions))
    first = numbers.radius(second.first_mm)
    yield row(
        "centre",
        "on the finished zone",
        f"dial to 0 as it was; cross slide at its 0. The tip swung slowly from"
        f" {numbers.angle(second.to_deg)} to {numbers.angle(second.touch_deg)} over the finished zone,"
        " carriage and"
        " dial moved until a strip of thin paper just drags all the way: then the pivot is under the"
        " centre; carriage locked. Cross slide run out, the tip to the nose, the dial set there to as"
        " much to go as the paper is thick (by a micrometer), cross slide back to its 0 from the same"
        f" side: 0 is {numbers.radius(radius)} from the centre",
        "Spindle isolated while the paper is between tip and ball.",
    )
    yield spindle_row(second.passes, numbers)
    step = numbers.within(BLEND_MM)
    if tolerance and tolerance / 2 < BLEND_MM:
        step = numbers.micrometer(tolerance / 2)
    yield row(
        "second sweep",
        numbers.swing(0.0, second.to_deg),
        f"start {to_go}, tip radius {first}; {counted(len(second.passes), 'pass')} by the"
        f" table, from the stub's pole to {numbers.angle(second.to_deg - second.blend_deg)} over what"
        f" is finished; the last leaves a step of at most {step}: none that a fingernail finds",
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
            f"stub {numbers.thread_made(size.designation, False)}",
            "turned in place in the chuck and not taken out: thread"
            f" {numbers.rule_down(second.stub_length_mm - size.pitch_mm)} long, a pitch short of the"
            f" ball's own, undercut at its root, the shoulder {mm(second.outside_mm)} across dished to"
            " bear"
            " on the ball at its rim; the finished side screwed home by hand. The cut tightens it",
            "Unscrew it with a strap, not with a hand on a running chuck.",
        )
        return
    name = "soft jaws" if second.holding == "soft jaws" else "split cup"
    how = (
        "soft jaws bored to the ball with a boring tool on this head or a form tool, tightened on a"
        " ring"
        if second.holding == "soft jaws"
        else f"a cup turned from bar {numbers.stock_at_least(second.outside_mm)} thick or more, bored"
        " to the ball, then slit lengthways once"
    )
    yield row(
        "second holding",
        f"{name}, mouth {numbers.dial(second.mouth_diameter_mm)}",
        f"{how}; the mouth {numbers.dial(second.mouth_mm)} past the equator,"
        f" {mm(second.outside_mm)} across outside, paper or brass foil round the finished side;"
        f" {numbers.force(second.worst_N)} is the"
        f" most the cut asks at the stub, it would turn at {numbers.force(second.slips_N)} with jaws"
        " well"
        f" tightened",
        "Light passes: a ball that turns in its holding comes out of it. Stand aside at the start.",
    )
