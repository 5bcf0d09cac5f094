"""Turning a ball, from the bar to the piece: what is done and set in which order, a row a step."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians

from parts.standard.drills import Drill, drill_of
from parts.standard.materials import SPARES_STEEL, material
from parts.standard.threads import thread
from planner.dial.sense import DEEPER, READ_AT, reading, said
from planner.job.tables import Job
from planner.output.sheets.turn_centre import centre_up, nose_rows, with_centre
from planner.output.sheets.turn_finish import finish_rows, parting_line
from planner.output.sheets.turn_rows import (
    NEAR_A_LINE,
    SENSE,
    Row,
    in_order,
    many,
    row,
    spindle_row,
    whole_divisions,
    whole_divisions_in,
)
from planner.turning.blanks import gripped_mm
from planner.turning.head import Head
from planner.turning.model import BallPlan, Hole
from planner.words.numbers import Numbers, counted
from planner.words.tables import Table
from planner.words.units import MM_PER_INCH

CAUTION = (
    "Goggles, guard and sleeves as local rules ask; no gloves, hair and cuffs tied back. Shop rules and"
    " the lathe's own book come first."
)
"""What holds for the whole sheet; each other caution stands at its step."""

KEY_OUT = "The chuck's key is out before the spindle is switched on, each time."
STOPPED = "Nothing is measured, touched or brushed while the work turns."


def setup_table(plans: tuple[BallPlan, ...], s: Head, job: Job, title: str) -> Table:
    """How each ball is turned, a row a step."""
    steps = ((plan.ball.name, _steps(plan, s, job)) for plan in plans)
    return in_order("setup", title, steps, (CAUTION,))


def _steps(plan: BallPlan, s: Head, job: Job) -> Iterator[Row]:
    yield from _blank(plan, job)
    if plan.hole and plan.hole.order == "before the touches":
        yield from _hole(plan, plan.hole, job.numbers)
    if job.turning.tailstock_centre:
        yield from centre_up(plan, job)
    yield from _rough(plan, job)
    yield from parting_line(plan, job)
    yield from _attachment(plan, s, job)
    if plan.hole and plan.hole.order == "after the touches":
        yield row(
            "clear the end",
            "tip to the stem",
            "swing the tip over to the stem side, so that nothing stands before the faced end",
            "Spindle stopped.",
        )
        yield from _hole(plan, plan.hole, job.numbers)
    yield from _swing(plan, s, job)
    yield from finish_rows(plan, s, job)


def _blank(plan: BallPlan, job: Job) -> Iterator[Row]:
    ball, numbers, spec = plan.ball, job.numbers, plan.ball.spec
    mm = numbers.size
    tolerance = spec.tolerance
    wanted = numbers.asked(2 * ball.radius_mm, tolerance or 0.0)
    yield row("ball", wanted, f"{spec.shape}, {ball.material}{many(spec.quantity)}")
    shape = "" if spec.blank_shape == "round" else f" {spec.blank_shape}, across its flats"
    jaws = {"round": "three", "hexagon": "three", "square": "four"}[spec.blank_shape]
    how = (
        f"{numbers.rule_up(plan.blank_length_mm)} out of the jaws, no less and hardly more, gripped"
        f" over {numbers.rule(gripped_mm(ball.blank_mm, job))} in {jaws} jaws"
    )
    if spec.skin:
        how += (
            f"; the first cut goes under its skin, deeper than {mm(spec.skin)}: never let an edge run"
            " in"
            " it"
        )
    limit = job.lathe.chuck_limit
    fast = (
        f" Never faster than {numbers.spindle_speed(limit)}, the chuck's own limit."
        if limit
        else ""
    )
    yield row("blank", f"{numbers.bought_length(ball.blank_mm)} thick{shape}", how, KEY_OUT + fast)
    yield row(
        "face",
        "the end true",
        "with the turning tool; then the carriage's dial to 0 with the tool's left side at the end",
    )


def _hole(plan: BallPlan, hole: Hole, numbers: Numbers) -> Iterator[Row]:
    full = numbers.bought_length(hole.tap_depth_mm or 0.0)
    deep = "right through the ball"
    if hole.depth_mm is not None:
        deep = f"{numbers.bought_length(hole.depth_mm)} deep"
    why = (
        "now, while the blank is stiff: the neck is thinned after it"
        if hole.order == "before the touches"
        else "the last passes take its burr, and no pip is left"
    )
    named: Drill | None = Drill(hole.drill_name, hole.drill_mm)
    if not hole.drill_name:  # the job's own size: a drill's, of either language, or none's
        own, other = (drill_of(hole.drill_mm, inch) for inch in (numbers.inch, not numbers.inch))
        named = own or other
    value = numbers.drill(named) if named else numbers.worked(hole.drill_mm)
    yield row(
        "drill",
        value,
        f"centre drill, then {deep}; {why}",
        "Clear the chips with the spindle stopped." if hole.depth_mm else "",
    )
    if hole.thread and hole.tap_depth_mm:
        size = thread(hole.thread)
        yield row(
            "tap",
            numbers.thread_made(size.designation, True),
            f"{full} of full thread, the tap held straight by the tailstock",
            "By hand: the chuck turned by hand, the spindle switched off and isolated.",
        )


def _rough(plan: BallPlan, job: Job) -> Iterator[Row]:
    numbers, steps = job.numbers, plan.roughing.steps
    if not steps:
        yield row("rough", "not at all", "the blank is turned by the swing alone")
        return
    turned = sum(1 for step in steps if step.side in ("body", "nose"))
    parted = sum(1 for step in steps if step.parted)
    behind = len(steps) - turned - parted
    tool = "turning tool" + ("" if job.turning.roughing_tool == "parting" else " throughout")
    how = [f"{turned} with the {tool}"]
    if parted:
        how.append(f"{parted} with the parting tool")
    if behind:
        steep = numbers.angle(min(90.0, plan.flank_deg + 5.0))
        how.append(
            f"{behind} behind the ball with a pointed tool whose right side stands {steep} to the work"
            " or steeper, as a screw-cutting tool's does"
        )
    corners = "" if plan.ball.spec.blank_shape == "round" else ", its corners"
    zero = (
        ". Each tool is set anew: its left side at the faced end, the carriage's dial to 0; where it"
        f" just touches the blank as it came{corners}, the cross slide's to 0"
    )
    table = ": by the roughing table" + zero
    yield row("rough", counted(len(steps), "step"), "; ".join(how) + table, STOPPED)


def _attachment(plan: BallPlan, s: Head, job: Job) -> Iterator[Row]:
    ball, radius, numbers = plan.ball, plan.ball.radius_mm, job.numbers
    mm = numbers.size
    division = s.screw_pitch_mm / s.dial_divisions
    slide = job.lathe.cross_slide_division
    group = material(ball.material).group
    rake = (
        f" A rake of 0 for {group}: stone the top flat, or it digs in."
        if group in SPARES_STEEL
        else ""
    )
    yield row(
        "bit",
        f"{numbers.worked(s.bit_stickout_mm)} out of the arm",
        "rake face to the rear, away from you, so that the work comes over the top onto it: a depth"
        " gauge"
        f" or a packing of that size from the arm's outer face, within {numbers.within(STICKOUT_MM)};"
        " its screw tight. Ground again, it is set to the same stick-out; dial zero, cross slide and"
        " the first touch are set again, and its nose kept at"
        f" {mm(plan.sweep.nose_mm)} for the neck's sake.{rake}",
    )
    yield row(
        "attachment",
        "in the tool post",
        f"{with_centre(job)}shank seated along its whole length, pivot square across the bed,"
        " every post screw tight",
        SENSE,
    )
    top = next(
        (part.radius_mm for part in plan.roughing.profile if part.z_to_mm > 0.0), ball.blank_mm / 2
    )

    per = f"; one division is {numbers.slide_division(slide)}" if slide else ""
    if plan.ring_mm:
        off, across = numbers.dial(plan.ring_mm), numbers.dial(2 * plan.ring_mm)
        yield row(
            "cross slide",
            "tip on the axis",
            f"the hole has taken the middle: tip at the nose, about {off} off the axis, a light touch"
            f" scribes a ring on the end; it should measure {across} across. Half of what it is more"
            " or less moves the cross slide; then its dial to 0 on the axis" + per,
        )
    else:
        yield row(
            "cross slide",
            "tip on the axis",
            "the tip at the middle of the faced end, where it turns without moving; its dial to 0 there"
            + per,
        )
    to_zero = whole_divisions_in(top - radius, division)
    over = top - radius - to_zero * division
    rest = (
        f". A dial is set to whole divisions: {numbers.micrometer(over)} more is there to go, and 0 is"
        " as much over the finished radius, until the ball is measured"
        if over > NEAR_A_LINE * division
        else ""
    )
    fine = job.inch and whole_divisions(2 * top, MM_PER_INCH / 1000) != whole_divisions_in(
        2 * top, MM_PER_INCH / 1000
    )
    thick = numbers.micrometer(2 * top) if fine else numbers.dial(2 * top)
    yield row(
        "dial zero",
        said(reading(to_zero, s.dial_divisions)),
        f"tip on top, lightly touch the work where it is {thick} thick (half of what it measures"
        " more or less is so much more or less to go); carriage run out to the right until the tip is"
        " past the end (else it meets the steps), only then swing back to the nose, slack the dial's"
        f" screw and set it to this: 0 is the finished ball{rest}",
    )
    ring = ""
    if plan.ring_mm:
        e = plan.ring_mm
        div = f" ({whole_divisions(e, slide)} div)" if slide else ""
        out = numbers.dial(e) + div
        ring = f", the cross slide moved out {out} beside the hole, and back to 0 after it"
    yield row(
        "set-over",
        f"{numbers.radius(radius)} behind the end",
        f"dial to 0 with no turn to go, tip at the nose{ring}; carriage up until the tip touches the"
        " faced end: the pivot now stands half the diameter behind it; lock the carriage",
        "From here on the carriage stays locked whenever the head is swung.",
    )


STICKOUT_MM = 0.2
"""How near a bit's stick-out is set with a packing (common practice): the dial's zero takes it up."""


_MARKED = (
    "swung there by hand, the spindle off, a pencil line across what swings and what stands beside"
    " it"
)
SWING_ENDS = {
    True: "both stops set and locked",
    False: f"it has no stops: {_MARKED}, and then to the line, no farther",
    None: f"its stops set and locked; where it has none, {_MARKED}",
}
"""How the swing ends where it should, by whether the head has stops: None where it is not known."""


def _swing(plan: BallPlan, s: Head, job: Job) -> Iterator[Row]:
    ball, clear, radius, numbers = plan.ball, plan.clearance, plan.ball.radius_mm, job.numbers
    mm = numbers.size
    division = s.screw_pitch_mm / s.dial_divisions

    def dial_at(to_go_mm: float) -> str:
        return said(reading(whole_divisions(to_go_mm, division), s.dial_divisions))

    yield row(
        "start at",
        dial_at(plan.first_mm - radius),
        f"tip radius {numbers.radius(plan.first_mm)}: just touches the roughed work (unroughed"
        f" {numbers.radius(plan.corner_mm)}, dial {dial_at(plan.corner_mm - radius)})",
    )
    end = plan.sweep.limits_deg(radius)[1]
    swing = numbers.swing(plan.sweep.start_deg, end)
    behind = numbers.at_most(-radius * cos(radians(end)))
    where = (
        f"stop with the tip {behind} behind the centre: the nose then just"
        " clears the stem, and its round stays in the neck"
        if ball.behind
        else "to the equator and no farther"
    )
    yield row("sweep", swing, f"from the nose; {where}; {SWING_ENDS[s.stops]}")
    tight = min(clear.gaps, key=lambda gap: gap.distance_mm)
    yield row(
        "by hand",
        "one full swing",
        f"at the start reading, over the work: nothing touches. Nearest comes the {tight.part} to the"
        f" {tight.obstacle}, {mm(tight.distance_mm)} at the least: by hand again at 0, before the last"
        f" pass. Jaws at least {numbers.rule_up(plan.blank_length_mm - radius)} from the centre",
        "Spindle switched off and isolated, chuck's key out, a hand's room round the knob all the way.",
    )
    yield spindle_row(plan.passes, numbers)
    yield row(
        "dial",
        f"1 div = {numbers.division_of(division, s.screw_pitch_mm)}",
        f"on the radius; the ball's diameter changes by twice that,"
        f" {numbers.plain.division(2 * division)}. {DEEPER[0].upper()}{DEEPER[1:]}. {READ_AT}",
    )
    if job.turning.tailstock_centre:
        yield from nose_rows(plan, job)
    lever = f"lever, {numbers.force(s.lever_N)}" if s.lever_N else "the clamp tight"
    torque = f" ({numbers.fine_torque(s.torque_Nm)})" if s.torque_Nm else ""
    slacken, tighten, slits = "slacken the clamp", "tighten it", ""
    if s.lever_N:
        slacken = "slacken by the clamp's lever, not past the rod's line"
        tighten = f"tighten with the lever toward yourself{torque}"
        slits = " Keep the clamp's slits filled with grease: a chip in one stops it closing."
    yield row(
        "each pass",
        lever,
        f"tip at the nose, clear of the work: {slacken}; feed in to the reading, {tighten}, swing. Past"
        " a reading: back a whole turn, come in again: so the play is always taken up",
        "The hand is away from the chuck at the clamp and at the dial; one hand stays on the knob."
        + slits,
    )
    yield row(
        "time",
        numbers.minutes(plan.seconds),
        f"swinging; {numbers.minutes(plan.least_s)} is the least that any plan in whole divisions takes"
        " within the same limits, every depth and spindle speed tried; setting comes on top",
    )
