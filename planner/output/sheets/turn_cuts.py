"""The cuts of a ball: the roughing steps and the passes, as the turner ticks them off."""

from __future__ import annotations

from collections.abc import Iterator

from planner.dial.sense import DEEPER, READ_AT
from planner.job.tables import Job
from planner.turning.model import BallPlan, PassLoad
from planner.turning.roughing import Step
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
                    _tool(step, job),
                    round(step.from_mm, 4),
                    round(step.to_mm, 4),
                    round(step.diameter_mm, 4),
                    round(step.infeed_mm, 4),
                    _divisions(step.from_mm if step.parted else step.to_mm, carriage),
                    _divisions(step.infeed_mm, slide),
                )
            )
            shown.append(
                (
                    plan.ball.name,
                    str(step.number),
                    step.side,
                    _tool(step, job),
                    plain.caliper(step.from_mm),
                    plain.caliper(step.to_mm),
                    plain.caliper(step.diameter_mm),
                    plain.caliper(step.infeed_mm),
                    *(f"{d:g}" for d in rows[-1][8:] if d is not None),
                    "[ ]",
                )
            )
    turning = job.turning
    blade = (
        f", the parting tool {plain.tool(turning.roughing_width)} wide"
        if turning.roughing_tool == "parting"
        else ""
    )
    over = " ".join(
        f"{plan.ball.name}: {plain.size(plan.roughing.least_mm)} to"
        f" {numbers.size(plan.roughing.greatest_mm)} left over the ball."
        for plan in plans
    )
    return Table(
        "roughing",
        f"{title}: roughing, corners {plain.size(turning.roughing_corner)}{blade} ({plain.unit})",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("side", "side"),
            ("tool", "tool"),
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
            *("ball", "", "side", "tool", "carriage from", "to", "turn to", "in from the blank"),
            *(("stop at div",) if carriage else ()),
            *(("in by div",) if slide else ()),
            "done",
        ),
        notes=(
            " ".join(
                (
                    "Carriage 0: the tool's left side at the faced end; it counts toward the chuck.",
                    *_sides({row[2] for row in rows}),
                    over,
                )
            ),
        ),
    )


SIDES = (
    (("body", "nose"), "from the end up to 'to'."),
    (
        ("neck", "stem"),
        "plunge at 'from', then beside it in widths of the blade up to 'to', each step between its"
        " neighbours.",
    ),
    (
        ("behind",),
        "from the neck's groove toward the chuck up to 'to', in as many cuts as the lathe likes.",
    ),
)
"""How the steps of each side are cut."""


def _sides(there: set[str]) -> Iterator[str]:
    """What is said of the sides that there are steps of."""
    for names, how in SIDES:
        if said := [name for name in names if name in there]:
            yield f"{' and '.join(said).capitalize()}: {how}"


def _tool(step: Step, job: Job) -> str:
    """The tool of a step."""
    if step.side == "behind":
        return "pointed"
    return job.turning.roughing_tool if step.parted else "turning"


def _divisions(mm: float, division_mm: float | None) -> float | None:
    """A reading in divisions of a dial, to a tenth; None without one."""
    return None if division_mm is None else round(mm / division_mm, 1)


HELD_BY = (
    "Held by: what keeps the pass from being deeper, and the spindle from being faster; depths are"
    " judged at twice the feed, for a hand swings unevenly and meets the steps of roughing at once."
)
"""What stands under passes whose table says what holds them."""


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
        f"takes {numbers.volume_unit}",
        numbers.spindle_speed_unit,
        f"{numbers.angle(90.0)} in s",
        "swing s",
        f"push {numbers.force_unit}",
        "springs",
        "grip x",
        "held by",
        "done",
    )


def passes_table(plans: tuple[BallPlan, ...], job: Job, title: str) -> Table:
    """The passes of each ball, down to the finished size."""
    named = [(plan.ball.name, one) for plan in plans for one in plan.passes]
    return _passes("passes", f"{title}: passes", named, plans, job)


def second_table(plans: tuple[BallPlan, ...], job: Job, title: str) -> Table:
    """The passes over the stem side of each ball that is held a second time."""
    named = [(plan.ball.name, one) for plan in plans if plan.second for one in plan.second.passes]
    return _passes("second_passes", f"{title}: passes over the stem side", named, (), job)


def _passes(
    name: str,
    title: str,
    named: list[tuple[str, PassLoad]],
    plans: tuple[BallPlan, ...],
    job: Job,
) -> Table:
    plain = job.numbers.plain
    rows, shown = [], []
    for ball, one in named:
        taken, cut = one.cut.taken, one.cut
        rows.append(
            (
                ball,
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
                one.held_by or None,
                one.speed_by,
            )
        )
        shown.append(
            (
                ball,
                str(taken.number),
                taken.kind,
                f"{taken.reads:g}",
                str(taken.turns),
                plain.radius(taken.radius_mm),
                plain.micrometer(taken.depth_mm),
                _arcs(cut.arcs_deg),
                plain.volume(cut.removed_mm3),
                plain.spindle_speed(cut.rev_min),
                plain.seconds(90 / (cut.deg_per_turn * cut.rev_min / 60)),
                plain.seconds(one.seconds),
                plain.cutting_force(one.load.passive_N),
                plain.micrometer(one.deflection_mm),
                f"{one.grip_factor:.0f}",
                "; ".join(x for x in (one.held_by.partition(":")[0], one.speed_by) if x),
            )
        )
    return Table(
        name,
        f"{title} ({plain.unit})",
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
            ("removed_mm3", f"takes {plain.volume_unit}"),
            ("rev_min", plain.spindle_speed_unit),
            ("deg_per_turn", "deg a turn"),
            ("seconds", "swing s"),
            ("passive_N", f"push {plain.force_unit}"),
            ("deflection_mm", "springs"),
            ("grip_factor", "grip x"),
            ("held_by", "depth held by"),
            ("speed_by", "speed held by"),
        ),
        tuple(rows),
        tuple((*row, "[ ]") for row in shown),
        notes=(
            f"Dial at: the number under its line, with so many whole turns to go; 0 with none is the"
            f" finished ball. {DEEPER[0].upper()}{DEEPER[1:]}. Readings are of radius.",
            HELD_BY,
            READ_AT,
            *(_limits(plan) for plan in plans),
        ),
        heads=_pass_heads(job.numbers),
    )


def _limits(plan: BallPlan) -> str:
    """What holds most of a ball's passes, and its speeds."""
    one = "one spindle speed for all roughing" if plan.one_speed else "spindle speeds pass by pass"
    held = plan.limited_by or "nothing but the last cut"
    return f"{plan.ball.name}: most passes are held by {held}; {one}."


def _arcs(arcs: tuple[tuple[float, float], ...]) -> str:
    """Where a pass cuts, in degrees of swing; many small arcs are the corners of the steps."""
    if len(arcs) > 3:
        return f"corners, {arcs[0][0]:.0f}-{arcs[-1][1]:.0f}"
    return ", ".join(f"{a:.0f}-{b:.0f}" for a, b in arcs) or "air"
