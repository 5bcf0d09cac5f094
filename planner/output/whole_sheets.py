"""The sheets of the whole of one job: general arrangement, section, exploded view with its list.

What the arrangement shows are the lathe's sizes and the check's own numbers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.attachment import Attachment
from planner.drawing.arrangement import Post, Standing, Tight
from planner.drawing.arrangement_sheet import arrangement_sheet
from planner.drawing.cutaway import section_sheet
from planner.drawing.exploded import exploded_sheet
from planner.drawing.items import numbered
from planner.drawing.model import Sheet
from planner.drawing.subjects import subjects
from planner.drawing.whole import Drawing
from planner.sizing.post import post_plan

if TYPE_CHECKING:
    from planner.output.plan import Plan

EXPLODED = "exploded-view"

WHOLE = (
    ("general-arrangement", "General arrangement"),
    ("section", "Section through pivot and clamp"),
    (EXPLODED, "Exploded view"),
)
"""Names and titles of the sheets before those of the parts, in order."""


def whole_sheet(
    whole: Attachment, stands: Standing, tip_radius_mm: float, drawing: Drawing, paper: str
) -> Sheet:
    """One of them. paper: a key of drawing.layout.PAPERS. Raises DoesNotFit."""
    if drawing.name == "general-arrangement":
        return arrangement_sheet(whole, stands, drawing, paper)
    sheets = {one.name: n for n, one in enumerate(subjects(whole), len(WHOLE) + 1)}
    items = numbered(whole, drawing.numbers, sheets)
    made = {"section": section_sheet, EXPLODED: exploded_sheet}[drawing.name]
    return made(whole, tip_radius_mm, items, drawing, paper)


def standing(plan: Plan) -> Standing:
    """What a job's attachment stands in, with the clearances that ``pommel check`` prints."""
    s, job, balls = plan.sizing.sizes, plan.job, plan.clearances
    lathe, largest = job.lathe, balls[0]
    every = [(b.ball.name, gap) for b in balls for gap in b.gaps]
    obstacles = dict.fromkeys(gap.obstacle for _, gap in every)
    tightest = [
        min(
            (one for one in every if one[1].obstacle == what),
            key=lambda one: round(one[1].distance_mm, 3),
        )
        for what in obstacles
    ]
    return Standing(
        arrangement=largest.arrangement,
        slide_mm=s.spindle_over_cross_slide_mm,
        seat_mm=s.spindle_over_seat_mm,
        chuck_mm=lathe.chuck_diameter,
        jaw_mm=lathe.jaw_diameter or lathe.chuck_diameter,
        jaw_reach_mm=lathe.jaw_reach,
        jaws_mm=largest.stick_out_mm,
        ball_mm=largest.ball.diameter_mm,
        blank_mm=largest.ball.blank_mm,
        stem_mm=largest.ball.stem_mm,
        relief_mm=largest.relief_mm,
        shoulder_mm=largest.shoulder_mm,
        start_deg=largest.start_deg,
        end_deg=largest.end_deg,
        tip_range_mm=(s.tip_radius_min_mm, s.tip_radius_max_mm),
        post=_post(plan) if largest.arrangement == "across" else None,
        gaps=tuple(_tight(largest.ball.name, gap) for gap in largest.gaps),
        tightest=tuple(_tight(*one) for one in tightest),
    )


def _tight(ball: str, gap: Any) -> Tight:
    return Tight(
        gap.obstacle,
        ball,
        gap.distance_mm,
        gap.least_mm,
        gap.part,
        gap.swing_deg,
        gap.tip_radius_mm,
    )


def _post(plan: Plan) -> Post:
    """The tool post where it holds the shank; what is not said of it is as the check has it."""
    s, job = plan.sizing.sizes, plan.job
    out = post_plan(s, job).out_mm
    side = s.shank_inner_z_mm - (job.tool_post.stands_out or 0.0)
    height = job.tool_post.height
    top = -s.spindle_over_seat_mm + height if height is not None else 0.25 * s.spindle_over_seat_mm
    return Post(
        front_x_mm=s.post_front_x_mm,
        rear_x_mm=s.post_rear_x_mm,
        near_mm=side,
        far_mm=max(2 * out - side, s.shank_inner_z_mm + s.shank_stock.width_mm + 2.0),
        top_mm=top,
        side_known=job.tool_post.stands_out is not None,
        top_known=height is not None,
    )
