"""The check: clearance of each ball, forces, deflection by links, stresses, clamp, error budget."""

from __future__ import annotations

from planner.checking.budget import Budget
from planner.checking.clearance import BallCase, BallClearance
from planner.checking.strength import StrengthReport
from planner.job.tables import Job
from planner.output.sheets.show import Show
from planner.words.tables import Table, columns


def check_tables(
    balls: tuple[BallClearance, ...],
    strength: StrengthReport,
    budgets: tuple[tuple[BallCase, Budget], ...],
    job: Job,
) -> list[Table]:
    """All tables of the check."""
    show = Show(job.inch)
    return [
        _clearance(balls, show),
        _gaps(balls, show),
        _forces(strength, show),
        _links(strength, show),
        _strengths(strength),
        _clamp(strength, show),
        _budget(budgets[0][1], show),
        _every_ball(budgets, show),
    ]


def _clearance(balls: tuple[BallClearance, ...], show: Show) -> Table:
    rows, shown = [], []
    for b in balls:
        rows.append(
            (
                b.ball.name,
                round(b.ball.diameter_mm, 3),
                round(b.start_deg, 2),
                round(b.end_deg, 2),
                b.end_limit,
                round(b.stick_out_mm, 2),
                round(b.relief_mm, 2),
                round(b.cross_slide_mm, 2),
                round(b.beside_mm, 2),
            )
        )
        places = 2 if show.inch else 1
        shown.append(
            (
                b.ball.name,
                show.length(b.ball.diameter_mm),
                f"{b.start_deg:.0f} to {b.end_deg:.0f}",
                "",
                b.end_limit,
                *(
                    show.length(mm, places)
                    for mm in (b.stick_out_mm, b.relief_mm, b.cross_slide_mm, b.beside_mm)
                ),
            )
        )
    return Table(
        "clearance",
        f"Clearance through the sweep ({show.unit})",
        columns(
            ("ball", "ball"),
            ("diameter_mm", "diameter"),
            ("start_deg", "sweep, deg"),
            ("end_deg", ""),
            ("ends_at", "ends at"),
            ("stick_out_mm", "centre from jaws"),
            ("relief_mm", "stem turned back"),
            ("cross_slide_mm", "over cross slide"),
            ("beside_blank_mm", "beside blank"),
        ),
        tuple(rows),
        tuple(shown),
        notes=(
            "Centre from jaws: at least this far, clearance included. Stem turned back: so far behind"
            " the ball's centre the blank must be down to the stem before the sweep.",
        ),
    )


def _gaps(balls: tuple[BallClearance, ...], show: Show) -> Table:
    """The least distance to every obstacle, with the ball's centre at the stick-out."""
    every = [(b.ball.name, gap) for b in balls for gap in b.gaps]
    places = 2 if show.inch else 1
    return Table(
        "gaps",
        f"The tightest spots ({show.unit}), the centre at that distance from the jaws",
        columns(
            ("ball", "ball"),
            ("obstacle", "obstacle"),
            ("distance_mm", "clears by"),
            ("least_mm", "at least"),
            ("part", "part"),
            ("swing_deg", "swing, deg"),
            ("tip_radius_mm", "tip radius"),
        ),
        tuple(
            (
                name,
                gap.obstacle,
                round(gap.distance_mm, 3),
                round(gap.least_mm, 3),
                gap.part,
                round(gap.swing_deg, 2),
                round(gap.tip_radius_mm, 3),
            )
            for name, gap in every
        ),
        tuple(
            (
                name,
                gap.obstacle,
                show.length(gap.distance_mm, places),
                show.length(gap.least_mm, places),
                gap.part,
                f"{gap.swing_deg:.0f}",
                show.length(gap.tip_radius_mm, places),
            )
            for name, gap in every
        ),
    )


def _every_ball(budgets: tuple[tuple[BallCase, Budget], ...], show: Show) -> Table:
    places = 4 if show.inch else 3
    rows = [
        (
            case.name,
            case.diameter_mm,
            b.rss_size_mm,
            b.rss_form_mm,
            b.size_95_mm,
            b.form_95_mm,
            2 * b.pip_radius_mm,
        )
        for case, b in budgets
    ]
    return Table(
        "ball_errors",
        f"Each ball ({show.unit}): likely error of diameter and form, 95 of 100 within, pip across",
        columns(
            ("ball", "ball"),
            ("diameter_mm", "diameter"),
            ("size_mm", "size +-"),
            ("form_mm", "form"),
            ("size_95_mm", "95: size +-"),
            ("form_95_mm", "form"),
            ("pip_mm", "pip"),
        ),
        tuple((name, *(round(mm, 6) for mm in lengths)) for name, *lengths in rows),
        tuple(
            (name, show.length(across), *(show.length(mm, places) for mm in lengths))
            for name, across, *lengths in rows
        ),
    )


def _forces(found: StrengthReport, show: Show) -> Table:
    load = found.load
    entries = (
        ("material turned", load.material),
        ("depth of cut", show.value(load.depth_mm)),
        ("feed per turn", f"{show.length(load.feed_mm, 4 if show.inch else 2)} {show.unit}"),
        ("main force, along the pivot", f"{load.main_N:.0f} N"),
        ("passive force, along the rod", f"{load.passive_N:.0f} N"),
        ("feed force, round the pivot", f"{load.feed_N:.0f} N"),
        ("at the handle's knob", f"{found.hold.hand_N:.1f} N"),
    )
    return Table("forces", "The pass", columns(("what", "what"), ("value", "value")), entries)


def _links(found: StrengthReport, show: Show) -> Table:
    places = 5 if show.inch else 4
    rows = tuple(
        (
            link.name,
            round(link.deflection_mm, 6),
            round(link.main_mm, 6),
            round(link.share, 4),
            link.thicken,
        )
        for link in found.links
    )
    shown = tuple(
        (
            link.name,
            show.length(link.deflection_mm, places),
            show.length(link.main_mm, places),
            f"{link.share:.0%}",
            link.thicken,
        )
        for link in found.links
    )
    total = show.length(found.sprung_mm, places)
    tilt = show.length(found.tilt_mm, 4 if show.inch else 3)
    return Table(
        "deflection",
        f"Deflection of the tip along the rod ({show.unit})",
        columns(
            ("link", "link"),
            ("deflection_mm", "by passive force"),
            ("main_mm", "by main force"),
            ("share", "share"),
            ("thicken", "to mend it, thicken"),
        ),
        rows,
        shown,
        notes=(
            f"Together {total} {show.unit}; the ball changes by twice that in the pass.",
            f"The bearing's greatest clearance lets the tip shift {tilt} {show.unit}: once, to the"
            " side the cut pushes it; lock the nuts with no shake.",
        ),
    )


def _strengths(found: StrengthReport) -> Table:
    rows = tuple(
        (
            one.name,
            round(one.stress_MPa, 2),
            round(one.limit_MPa, 1),
            round(one.safety, 2),
            one.thicken,
            one.source,
        )
        for one in found.strengths
    )
    shown = tuple(
        (
            one.name,
            f"{one.stress_MPa:.0f}",
            f"{one.limit_MPa:.0f}",
            f"{one.safety:.1f}" if one.safety < 20 else "over 20",
            one.thicken,
            one.source,
        )
        for one in found.strengths
    )
    heads = columns(
        ("part", "part"),
        ("stress_MPa", "MPa"),
        ("limit_MPa", "bears"),
        ("safety", "safety"),
        ("thicken", "size"),
        ("source", "source"),
    )
    return Table("strength", "Stress at the largest ball", heads, rows, shown)


def _clamp(found: StrengthReport, show: Show) -> Table:
    hold = found.hold
    entries = (
        ("tightening torque", f"{hold.torque_Nm:.1f} Nm"),
        ("screw preload", f"{hold.preload_N:.0f} N, {hold.share_of_proof:.0%} of its proof load"),
        ("of it, to close the slit", f"{hold.closing_N:.0f} N"),
        (
            "thread engaged",
            f"{show.value(hold.engaged_mm)}, needs {show.value(hold.needed_mm)}",
        ),
        ("grip on the rod", f"{hold.grip_N:.0f} N, {hold.factor:.0f} times the passive force"),
    )
    return Table("clamp", "The clamp", columns(("what", "what"), ("value", "value")), entries)


def _budget(found: Budget, show: Show) -> Table:
    places = 5 if show.inch else 4
    entries = [(one.name, one.size_mm, one.form_mm, one.source) for one in found.shares]
    entries += [
        ("worst case, all at once", found.worst_size_mm, found.worst_form_mm, "sum"),
        ("likely", found.rss_size_mm, found.rss_form_mm, "root of the sum of squares"),
        (
            "95 of 100 balls",
            found.size_95_mm,
            found.form_95_mm,
            f"{found.trials} balls simulated, fixed seed",
        ),
    ]
    pip = show.length(2 * found.pip_radius_mm, 3 if show.inch else 2)
    return Table(
        "budget",
        f"Error budget of the largest ball ({show.unit}): diameter, and out of round on the radius",
        columns(("source", "source"), ("size_mm", "size +-"), ("form_mm", "form"), ("by", "by")),
        tuple((n, round(size, 6), round(form, 6), by) for n, size, form, by in entries),
        tuple(
            (n, show.length(size, places), show.length(form, places), by)
            for n, size, form, by in entries
        ),
        notes=(
            f"Most of the size comes from the {found.dominates_size}, most of the form from the"
            f" {found.dominates_form}. A trial ball, measured, takes the size out; the form stays.",
            f"Pip at the nose up to {pip} {show.unit} across, until the cross slide is corrected.",
        ),
    )
