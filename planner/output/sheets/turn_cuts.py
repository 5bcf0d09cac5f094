"""The cuts of a ball: the roughing steps and the passes, as the turner ticks them off."""

from __future__ import annotations

from planner.dial.sense import DEEPER, READ_AT
from planner.job.tables import Job
from planner.turning.model import BallPlan
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns


def roughing_table(plans: tuple[BallPlan, ...], job: Job, title: str) -> Table:
    """The roughing steps of each ball, with the readings of the lathe's own dials."""
    numbers, plain = job.numbers, job.numbers.plain
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
                    plain.size(step.from_mm),
                    plain.size(step.to_mm),
                    plain.size(step.diameter_mm),
                    plain.size(step.infeed_mm),
                    *(f"{d:g}" for d in rows[-1][7:] if d is not None),
                    "[ ]",
                )
            )
    turning = job.turning
    width = (
        f"{plain.size(turning.roughing_width)} wide, " if turning.roughing_tool == "parting" else ""
    )
    over = " ".join(
        f"{plan.ball.name}: {plain.size(plan.roughing.least_mm)} to"
        f" {numbers.size(plan.roughing.greatest_mm)} left over the ball."
        for plan in plans
    )
    return Table(
        "roughing",
        f"{title}: roughing with a {turning.roughing_tool} tool, {width}corner"
        f" {plain.size(turning.roughing_corner)} ({plain.unit})",
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


def _pass_heads(numbers: Numbers) -> tuple[str, ...]:
    return (
        "ball",
        "",
        "pass",
        "dial at",
        "turns to go",
        "tip radius",
        "depth",
        "cuts, deg",
        "takes",
        numbers.spindle_speed_unit,
        f"{numbers.angle(90.0)} in s",
        "swing s",
        f"push {numbers.force_unit}",
        "springs",
        "grip x",
        "done",
    )


def passes_table(plans: tuple[BallPlan, ...], job: Job, title: str) -> Table:
    """The passes of each ball, down to the finished size."""
    plain = job.numbers.plain
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
                    taken.reads,
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
                    f"{taken.reads:g}",
                    str(taken.turns),
                    plain.size(taken.radius_mm),
                    plain.micrometer(taken.depth_mm),
                    arcs,
                    plain.volume(cut.removed_mm3),
                    plain.spindle_speed(cut.rev_min),
                    plain.seconds(90 / (cut.deg_per_turn * cut.rev_min / 60)),
                    plain.seconds(one.seconds),
                    plain.force(one.load.passive_N),
                    plain.micrometer(one.deflection_mm),
                    f"{one.grip_factor:.0f}",
                )
            )
    depths = " ".join(
        f"{plan.ball.name}: at most {plain.micrometer(plan.depth_mm)} a pass, set by"
        f" {plan.limited_by}."
        for plan in plans
    )
    return Table(
        "passes",
        f"{title}: passes ({plain.unit}, {plain.volume_unit})",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("kind", "pass"),
            ("turns", "turns"),
            ("divisions", "divisions"),
            ("reads", "dial at"),
            ("radius_mm", "tip radius"),
            ("depth_mm", "depth"),
            ("arcs_deg", "cuts, deg"),
            ("removed_mm3", "takes"),
            ("rev_min", plain.spindle_speed_unit),
            ("deg_per_turn", "deg a turn"),
            ("seconds", "swing s"),
            ("passive_N", f"push {plain.force_unit}"),
            ("deflection_mm", "springs"),
            ("grip_factor", "grip x"),
        ),
        tuple(rows),
        tuple((*row, "[ ]") for row in shown),
        notes=(
            f"Dial at: the number under its line, with so many whole turns to go; 0 with none is the"
            f" finished ball. {DEEPER[0].upper()}{DEEPER[1:]}. Readings are of radius.",
            READ_AT,
            depths,
        ),
        heads=_pass_heads(job.numbers),
    )


def _arcs(arcs: tuple[tuple[float, float], ...]) -> str:
    """Where a pass cuts, in degrees of swing; many small arcs are the corners of the steps."""
    if len(arcs) > 3:
        return f"corners, {arcs[0][0]:.0f}-{arcs[-1][1]:.0f}"
    return ", ".join(f"{a:.0f}-{b:.0f}" for a, b in arcs) or "air"
