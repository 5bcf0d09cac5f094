"""The hollows turned into a face: their set-up and their passes."""

from __future__ import annotations

from parts.sizes import Sizes
from planner.dial.sense import DEEPER
from planner.job.tables import Job
from planner.output.sheets.turn_setup import CAUTION
from planner.turning.model import SocketPlan
from planner.words.tables import Table, columns


def hollow_tables(plans: tuple[SocketPlan, ...], s: Sizes, job: Job) -> list[Table]:
    """How to set up for each hollow, and its passes."""
    numbers, plain = job.numbers, job.numbers.plain
    division = s.screw_pitch_mm / s.dial_divisions
    rows = []
    for plan in plans:
        shape = plan.shape
        rows += [
            (plan.ball.name, "sphere", numbers.size(2 * shape.radius_mm), "diameter of the hollow"),
            (plan.ball.name, "mouth", numbers.size(2 * shape.mouth_radius_mm), "across the face"),
            (plan.ball.name, "pivot", numbers.size(shape.pivot_mm), "in front of the face"),
            (
                plan.ball.name,
                "swing",
                numbers.angle(shape.end_deg),
                "either side of the spindle axis",
            ),
            (plan.ball.name, "bit", "turned round", "its point out, beyond the arm"),
            (
                plan.ball.name,
                plain.spindle_speed_unit,
                plain.spindle_speed(plan.rev_min),
                "of the lathe's",
            ),
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
            f"Passes of the hollows, the tip moving out ({plain.unit})",
            columns(
                ("ball", "ball"),
                ("number", ""),
                ("radius_mm", "tip radius"),
                ("depth_mm", "depth"),
                ("divisions", "div out"),
                ("removed_mm3", f"takes {plain.chip_unit}"),
                ("passive_N", f"push {plain.force_unit}"),
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
                    plain.size(one.radius_mm),
                    plain.micrometer(one.depth_mm),
                    f"{one.depth_mm / division:.1f}",
                    plain.chip(one.removed_mm3),
                    plain.force(one.passive_N),
                    plain.micrometer(one.deflection_mm),
                )
                for name, one in cuts
            ),
            notes=(
                f"Dial: {DEEPER}; a hollow grows the other way, so turn it back by these, the play"
                " taken up outward.",
            ),
        ),
    ]
