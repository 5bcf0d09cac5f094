"""The turning of the balls: set-up, roughing, passes, measuring, a sheet a ball."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import floor, sqrt

from parts.sizes import Sizes
from parts.standard.threads import thread
from planner.checking.strength import clamp_hold
from planner.job.tables import Job
from planner.measuring.correct import UNSEEN
from planner.output.sheets.show import Show
from planner.turning.ball import taper_deg
from planner.turning.model import BallPlan, SocketPlan, Turned
from planner.words.tables import Table, as_text, columns

CAUTION = (
    "Goggles, guard and sleeves as local rules ask; no gloves. The handle and the tail swing toward the"
    " chuck: keep the hand on the knob, and never swing with the carriage unlocked."
)

Row = tuple[str, str, str]


def turn_text(turned: Turned, s: Sizes, job: Job) -> str:
    """Every ball's sheets, one ball after another."""
    sheets = [_ball_tables((plan,), s, job, plan.ball.name) for plan in turned.balls]
    sheets += [_socket_tables((hollow,), s, job) for hollow in turned.sockets]
    return "\n".join(as_text([_without_ball(table) for table in tables]) for tables in sheets)


def _without_ball(table: Table) -> Table:
    """A table of one ball without its first column, the ball's name."""
    shown = table.shown or tuple(tuple(str(v) for v in row) for row in table.rows)
    return replace(
        table,
        columns=table.columns[1:],
        heads=table.heads and table.heads[1:],
        rows=tuple(row[1:] for row in table.rows),
        shown=tuple(row[1:] for row in shown),
    )


def turn_tables(turned: Turned, s: Sizes, job: Job) -> list[Table]:
    """All balls in one table of each kind, for machines."""
    tables = _ball_tables(turned.balls, s, job, job.name) if turned.balls else []
    return tables + (_socket_tables(turned.sockets, s, job) if turned.sockets else [])


def _ball_tables(plans: tuple[BallPlan, ...], s: Sizes, job: Job, title: str) -> list[Table]:
    show = Show(job.inch)
    return [
        _setup(plans, s, job, show, title),
        _roughing(plans, job, show, title),
        _passes(plans, s, show, title),
        _measuring(plans, show, title),
    ]


def _dial(mm: float, division_mm: float, divisions: int) -> str:
    """A distance on a dial: whole turns and divisions, to half a division."""
    parts = round(mm / division_mm * 2) / 2
    turns = floor(parts / divisions)
    rest = parts - turns * divisions
    whole = f"{turns} turn{'s' if turns > 1 else ''} + " if turns else ""
    return f"{whole}{rest:g} div"


def _setup(plans: tuple[BallPlan, ...], s: Sizes, job: Job, show: Show, title: str) -> Table:
    rows = [(plan.ball.name, *row) for plan in plans for row in _steps(plan, s, job, show)]
    return Table(
        "setup",
        f"{title}: setting up",
        columns(("ball", "ball"), ("what", "what"), ("value", "set to"), ("how", "how")),
        tuple(rows),
        notes=(CAUTION,),
    )


def _steps(plan: BallPlan, s: Sizes, job: Job, show: Show) -> Iterator[Row]:
    ball, clear, radius = plan.ball, plan.clearance, plan.ball.radius_mm
    division = s.screw_pitch_mm / s.dial_divisions
    slide, carriage = job.lathe.cross_slide_division, job.lathe.carriage_division

    def mm(value: float) -> str:
        return f"{show.length(value)} {show.unit}"

    tolerance = ball.spec.tolerance
    spread = f" +- {show.length(tolerance, 4 if show.inch else 3)}" if tolerance else ""
    yield "ball", f"{mm(2 * radius)}{spread}", f"{ball.spec.shape}, {ball.material}"
    yield (
        "blank",
        f"{mm(ball.blank_mm)} thick",
        f"{mm(plan.blank_length_mm)} or more out of the jaws",
    )
    if job.turning.tailstock_centre:
        yield "tailstock", "centre up", f"the sweep begins at {clear.start_deg:.0f} deg"
    yield "face", "the end true", "carriage dial to 0 with the roughing tool at the end"
    if ball.spec.thread or ball.spec.hole:
        yield _hole(plan, show)
    yield "rough", f"{len(plan.roughing.steps)} steps", "by the roughing table"
    over = (ball.blank_mm / 2 - radius) if not plan.roughing.steps else None
    if over is None or over <= 0:
        over = max(r.radius_mm for r in plan.roughing.profile) - radius
    yield (
        "dial zero",
        _dial(over, division, s.dial_divisions),
        f"tip on top, touch the work where it is {mm(2 * (radius + over))} thick, set the dial to"
        " this: 0 is the finished ball",
    )
    yield (
        "set-over",
        f"{mm(radius)} behind the end",
        "dial to 0, tip at the nose, carriage up until the tip touches the faced end: the pivot now"
        " stands half the diameter behind it; lock the carriage"
        + (f" ({_dial(radius, carriage, 10**9)} of its dial)" if carriage else ""),
    )
    yield (
        "cross slide",
        "tip on the axis",
        "the tip at the middle of the faced end, where it turns without moving"
        + (f"; one division is {show.length(slide, 4)} {show.unit}" if slide else ""),
    )
    corner = _dial(plan.corner_mm - radius, division, s.dial_divisions)
    yield (
        "start at",
        _dial(plan.first_mm - radius, division, s.dial_divisions),
        f"tip radius {mm(plan.first_mm)}: clears the roughed work"
        f" (unroughed {mm(plan.corner_mm)}, {corner})",
    )
    end = f"{plan.sweep.limits_deg(radius)[1]:.0f}"
    behind = sqrt(max(0.0, radius**2 - (ball.stem_mm / 2) ** 2))
    where = (
        f"stop where the shoulder is {mm(behind)} behind the centre" if ball.behind else "equator"
    )
    yield "sweep", f"{plan.sweep.start_deg:.0f} to {end} deg", f"from the nose; {where}"
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
        f"clamp to {hold.torque_Nm:.1f} Nm",
        "slacken, feed in to the reading, tighten, swing. Past a reading: back a whole turn and come"
        " in again, so that the play is always taken up",
    )
    yield (
        "dial",
        f"1 div = {show.length(division, 5 if show.inch else 3)} {show.unit}",
        f"on the radius; the ball's diameter changes by twice that,"
        f" {show.length(2 * division, 5 if show.inch else 3)}",
    )
    if ball.spec.shape == "taper handle":
        yield (
            "taper",
            f"{taper_deg(ball.spec):.2f} deg",
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
    yield "time", f"{plan.seconds / 60:.0f} min", "swinging, faster in air; setting comes on top"


def _hole(plan: BallPlan, show: Show) -> Row:
    spec = plan.ball.spec
    depth = spec.hole_depth or 2 * plan.ball.radius_mm
    deep = "right through" if spec.hole_depth is None else f"{show.length(depth)} deep"
    if spec.thread:
        size = thread(spec.thread)
        drill = f"{size.tap_drill_name}, tap {size.designation}"
    else:
        drill = show.value(spec.hole)
    return (
        "hole",
        drill,
        f"{deep}, before the ball is finished: the last passes take its burr, and no pip is left",
    )


def _roughing(plans: tuple[BallPlan, ...], job: Job, show: Show, title: str) -> Table:
    slide, carriage = job.lathe.cross_slide_division, job.lathe.carriage_division
    rows, shown = [], []
    for plan in plans:
        for step in plan.roughing.steps:
            rows.append(
                (
                    plan.ball.name,
                    step.number,
                    step.side,
                    round(step.from_mm, 4),
                    round(step.to_mm, 4),
                    round(step.diameter_mm, 4),
                    round(step.infeed_mm, 4),
                    _divisions(step.to_mm if step.side in FRONT else step.from_mm, carriage),
                    _divisions(step.infeed_mm, slide),
                )
            )
            shown.append(
                (
                    plan.ball.name,
                    str(step.number),
                    step.side,
                    show.length(step.from_mm),
                    show.length(step.to_mm),
                    show.length(step.diameter_mm),
                    show.length(step.infeed_mm),
                    *(f"{d:g}" for d in rows[-1][7:] if d is not None),
                    "[ ]",
                )
            )
    turning = job.turning
    width = (
        f"{show.length(turning.roughing_width)} wide, "
        if turning.roughing_tool == "parting"
        else ""
    )
    over = " ".join(
        f"{plan.ball.name}: {show.length(plan.roughing.least_mm)} to"
        f" {show.length(plan.roughing.greatest_mm)} {show.unit} left over the ball."
        for plan in plans
    )
    return Table(
        "roughing",
        f"{title}: roughing with a {turning.roughing_tool} tool, {width}corner"
        f" {show.length(turning.roughing_corner)} ({show.unit})",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("side", "side"),
            ("from_mm", "carriage from"),
            ("to_mm", "to"),
            ("diameter_mm", "turn to"),
            ("infeed_mm", "in from the blank"),
            ("carriage_div", "carriage div"),
            ("cross_slide_div", "cross-slide div"),
        ),
        tuple(rows),
        tuple(shown),
        heads=(
            *("ball", "", "side", "carriage from", "to", "turn to", "in from the blank"),
            *(("stop at div",) if carriage else ()),
            *(("in by div",) if slide else ()),
            "done",
        ),
        notes=(
            "Carriage 0: the tool's left side at the faced end; it counts toward the chuck. Body and"
            " nose: turn from the end up to 'to'. Stem and neck: plunge at 'from', work on to 'to' in"
            f" widths of the tool. {over}",
        ),
    )


FRONT = ("body", "nose")


def _divisions(mm: float, division_mm: float | None) -> float | None:
    """A reading in divisions of a dial, to a tenth; None without one."""
    return None if division_mm is None else round(mm / division_mm, 1)


PASS_HEADS = (
    "ball",
    "",
    "pass",
    "dial",
    "tip radius",
    "depth",
    "cuts, deg",
    "takes",
    "rev/min",
    "90 deg in s",
    "swing s",
    "push N",
    "springs",
    "grip x",
    "done",
)


def _passes(plans: tuple[BallPlan, ...], s: Sizes, show: Show, title: str) -> Table:
    rows, shown = [], []
    for plan in plans:
        for one in plan.passes:
            taken, cut = one.cut.taken, one.cut
            arcs = _arcs(cut.arcs_deg)
            rows.append(
                (
                    plan.ball.name,
                    taken.number,
                    taken.kind,
                    taken.turns,
                    taken.divisions,
                    round(taken.radius_mm, 5),
                    round(taken.depth_mm, 5),
                    [[round(a, 3), round(b, 3)] for a, b in cut.arcs_deg],
                    round(cut.removed_mm3, 3),
                    cut.rev_min,
                    round(cut.deg_per_turn, 5),
                    round(one.seconds, 2),
                    round(one.load.passive_N, 2),
                    round(one.deflection_mm, 6),
                    round(one.grip_factor, 2),
                )
            )
            shown.append(
                (
                    plan.ball.name,
                    str(taken.number),
                    taken.kind,
                    f"{taken.turns} + {taken.divisions}",
                    show.length(taken.radius_mm),
                    show.length(taken.depth_mm, 4 if show.inch else 3),
                    arcs,
                    f"{cut.removed_mm3 / (16387.064 if show.inch else 1000):.3f}",
                    f"{cut.rev_min:g}",
                    f"{90 / (cut.deg_per_turn * cut.rev_min / 60):.0f}",
                    f"{one.seconds:.0f}",
                    f"{one.load.passive_N:.0f}",
                    show.length(one.deflection_mm, 4 if show.inch else 3),
                    f"{one.grip_factor:.0f}",
                )
            )
    depths = " ".join(
        f"{plan.ball.name}: at most {show.length(plan.depth_mm, 4 if show.inch else 3)} a pass, set by"
        f" {plan.limited_by}."
        for plan in plans
    )
    return Table(
        "passes",
        f"{title}: passes ({show.unit}, {'in3' if show.inch else 'cm3'})",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("kind", "pass"),
            ("turns", "turns"),
            ("divisions", "divisions"),
            ("radius_mm", "tip radius"),
            ("depth_mm", "depth"),
            ("arcs_deg", "cuts, deg"),
            ("removed_mm3", "takes"),
            ("rev_min", "rev/min"),
            ("deg_per_turn", "deg a turn"),
            ("seconds", "swing s"),
            ("passive_N", "push N"),
            ("deflection_mm", "springs"),
            ("grip_factor", "grip x"),
        ),
        tuple(rows),
        tuple((*row, "[ ]") for row in shown),
        notes=(
            "Dial: turns + divisions still to go; 0 + 0 is the finished ball. Readings are of radius.",
            depths,
        ),
        heads=PASS_HEADS,
    )


def _arcs(arcs: tuple[tuple[float, float], ...]) -> str:
    """Where a pass cuts, in degrees of swing; many small arcs are the corners of the steps."""
    if len(arcs) > 3:
        return f"corners, {arcs[0][0]:.0f}-{arcs[-1][1]:.0f}"
    return ", ".join(f"{a:.0f}-{b:.0f}" for a, b in arcs) or "air"


def _measuring(plans: tuple[BallPlan, ...], show: Show, title: str) -> Table:
    rows = [
        (plan.ball.name, angle, mark, None)
        for plan in plans
        for angle in plan.measure_deg
        for mark in ("A", "B")
    ]
    ink = "Mark two meridians, A and B, a quarter turn apart, with ink from the nose to the stem."
    unseen = " ".join(UNSEEN)
    return Table(
        "measuring",
        f"{title}: measuring across, before it comes out of the chuck ({show.unit})",
        columns(
            ("ball", "ball"),
            ("angle_deg", "deg from the nose"),
            ("meridian", "meridian"),
            ("reading_mm", "reads"),
        ),
        tuple(rows),
        tuple((name, f"{angle:.0f}", mark, "________") for name, angle, mark, _ in rows),
        notes=(
            f"{ink} An anvil at the angle, the other across the centre. Spindle stopped, ball cool.",
            f"Two-point readings cannot show: {unseen}",
            "So also: an indicator on the turning ball at each angle (reading over a turn), and the"
            " ball in a V-block of 90 degrees or a three-point gauge, turned under an indicator.",
            "Then: pommel correct JOB READINGS (a file to fill in: pommel new READINGS --readings).",
        ),
    )


def _socket_tables(plans: tuple[SocketPlan, ...], s: Sizes, job: Job) -> list[Table]:
    show = Show(job.inch)
    places = 4 if show.inch else 3
    division = s.screw_pitch_mm / s.dial_divisions
    rows = []
    for plan in plans:
        shape = plan.shape
        rows += [
            (plan.ball.name, "sphere", show.value(2 * shape.radius_mm), "diameter of the hollow"),
            (plan.ball.name, "mouth", show.value(2 * shape.mouth_radius_mm), "across the face"),
            (plan.ball.name, "pivot", show.value(shape.pivot_mm), "in front of the face"),
            (
                plan.ball.name,
                "swing",
                f"{shape.end_deg:.0f} deg",
                "either side of the spindle axis",
            ),
            (plan.ball.name, "bit", "turned round", "its point out, beyond the arm"),
            (plan.ball.name, "rev/min", f"{plan.rev_min:g}", "of the lathe's"),
        ]
    cuts = [(plan.ball.name, one) for plan in plans for one in plan.passes]
    return [
        Table(
            "socket",
            "Hollows",
            columns(("ball", "ball"), ("what", "what"), ("value", "value"), ("how", "how")),
            tuple(rows),
            notes=(CAUTION,),
        ),
        Table(
            "socket_passes",
            f"Passes of the hollows, the tip moving out ({show.unit})",
            columns(
                ("ball", "ball"),
                ("number", ""),
                ("radius_mm", "tip radius"),
                ("depth_mm", "depth"),
                ("divisions", "div out"),
                ("removed_mm3", "takes mm3"),
                ("passive_N", "push N"),
                ("deflection_mm", "springs"),
            ),
            tuple(
                (
                    name,
                    one.number,
                    round(one.radius_mm, 5),
                    round(one.depth_mm, 5),
                    round(one.depth_mm / division, 2),
                    round(one.removed_mm3, 3),
                    round(one.passive_N, 2),
                    round(one.deflection_mm, 6),
                )
                for name, one in cuts
            ),
            tuple(
                (
                    name,
                    str(one.number),
                    show.length(one.radius_mm),
                    show.length(one.depth_mm, places),
                    f"{one.depth_mm / division:.1f}",
                    f"{one.removed_mm3:.0f}",
                    f"{one.passive_N:.0f}",
                    show.length(one.deflection_mm, places),
                )
                for name, one in cuts
            ),
        ),
    ]
