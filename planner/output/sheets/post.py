"""How the tool post holds the attachment, and where the slides must bring it."""

from __future__ import annotations

from collections.abc import Callable

from parts.sizes import Sizes
from planner.checking.clearance import BallClearance
from planner.job.tables import Job
from planner.sizing.post import BORING_LENGTH_MM, post_plan
from planner.words.tables import Table, columns


def post_table(balls: tuple[BallClearance, ...], s: Sizes, job: Job) -> Table:
    """What post, cross slide, carriage and tailstock must do, beside what the lathe is said to have.

    What is a limit is rounded to what a rule reads so that it allows no more.
    """
    plan, lathe, numbers = post_plan(s, job), job.lathe, job.numbers.plain
    near, up, down = numbers.rule, numbers.rule_up, numbers.rule_down
    held = "beside the pivot's nut" if plan.beside_nut else "behind the pivot's nut"
    nearest = min(balls, key=lambda b: b.post_from_jaws_mm)
    tail = max(balls, key=lambda b: b.tailstock_mm)
    rows: list[tuple[str, Callable[[float], str], float | None, float | None, str]] = [
        (
            "front of the post from the spindle axis, turning",
            near,
            plan.front_mm,
            None,
            f"held {held}",
        ),
        (
            "from the pivot axis to the post",
            down,
            plan.near_mm,
            None,
            "what turns beside it must clear this" if plan.known else "taken as flush: not said",
        ),
        (
            "middle of the post from the spindle axis, turning",
            up,
            plan.turning_mm,
            lathe.post_farthest,
            "at most the lathe's",
        ),
        (
            "the same, turned a quarter for boring the housing",
            down,
            plan.boring_mm,
            lathe.post_nearest,
            "at least the lathe's",
        ),
        (
            "boring bar that passes the post, thickest",
            down,
            plan.bar_mm,
            None,
            f"{job.numbers.rule_up(plan.bar_wanted_mm)} or more is wanted",
        ),
        (
            "boring bar between its supports",
            up,
            2 * s.housing_length_mm + BORING_LENGTH_MM,
            None,
            "at least: two housings, carrier and cutter",
        ),
        (
            f"middle of the post from the jaws, {nearest.ball.name}",
            down,
            nearest.post_from_jaws_mm,
            lathe.post_to_jaws,
            "at least the lathe's",
        ),
        (
            f"tailstock's centre out of its body, {tail.ball.name}",
            up,
            tail.tailstock_mm,
            lathe.tailstock_reach,
            "at most the lathe's, where a centre or a drill is used",
        ),
        (
            "cross slide's travel from boring to turning",
            up,
            plan.turning_mm - plan.boring_mm,
            None,
            "",
        ),
    ]
    return Table(
        "tool_post",
        f"The tool post ({job.numbers.unit}): {plan.screws} of its screws bear on the shank",
        columns(("what", "what"), ("needed_mm", "needed"), ("lathe_mm", "lathe"), ("note", "note")),
        tuple(
            (what, round(needed or 0.0, 3), None if have is None else round(have, 3), note)
            for what, _, needed, have, note in rows
        ),
        tuple(
            (what, said(needed or 0.0), "" if have is None else near(have), note)
            for what, said, needed, have, note in rows
        ),
        notes=(_unsaid([have for _, _, _, have, _ in rows]),),
    )


def _unsaid(lathe: list[float | None]) -> str:
    """What is said of what the job does not say of its lathe, the column left out where it is all."""
    what = "What the lathe column leaves empty" if any(lathe) else "What the lathe has of these"
    return f"{what} was not said in the job and is not checked: measure it before cutting metal."
