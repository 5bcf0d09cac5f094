"""The check: clearance of each ball, forces, deflection by links, stresses, clamp, error budget."""

from __future__ import annotations

from parts.sizes import Sizes
from planner.checking.budget import Budget
from planner.checking.clearance import BallCase, BallClearance
from planner.checking.strength import ABUSE_N, StrengthReport
from planner.checking.work import Bending
from planner.job.tables import Job
from planner.output.sheets.post import post_table
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns


def check_tables(
    balls: tuple[BallClearance, ...],
    strength: StrengthReport,
    bendings: tuple[Bending, ...],
    budgets: tuple[tuple[BallCase, Budget], ...],
    sizes: Sizes,
    job: Job,
) -> list[Table]:
    """All tables of the check."""
    numbers = job.numbers
    return [
        _clearance(balls, job, numbers),
        _gaps(balls, numbers),
        *([post_table(balls, sizes, job)] if balls[0].arrangement == "across" else []),
        _forces(strength, numbers),
        _links(strength, numbers),
        _work(bendings, numbers),
        _strengths(strength, numbers),
        _clamp(strength, numbers),
        _budget(budgets[0][1], numbers),
        _every_ball(budgets, numbers),
    ]


def _clearance(balls: tuple[BallClearance, ...], job: Job, numbers: Numbers) -> Table:
    hollows = [one.name for one in job.ball if one.shape == "socket"]
    plain = numbers.plain
    across = numbers.alike(*(b.ball.diameter_mm for b in balls))
    rows, shown = [], []
    for b, diameter in zip(balls, across, strict=True):
        rows.append(
            (
                b.ball.name,
                round(b.ball.diameter_mm, 3),
                round(b.start_deg, 2),
                round(b.end_deg, 2),
                b.end_limit,
                round(b.stick_out_mm, 3),
                round(b.relief_mm, 3),
                round(b.cross_slide_mm, 3),
                round(b.beside_mm, 3),
            )
        )
        shown.append(
            (
                b.ball.name,
                diameter,
                plain.swing(b.start_deg, b.end_deg),
                "",
                b.end_limit,
                *(
                    plain.clearance(mm)
                    for mm in (b.stick_out_mm, b.relief_mm, b.cross_slide_mm, b.beside_mm)
                ),
            )
        )
    return Table(
        "clearance",
        f"Clearance through the sweep ({numbers.unit})",
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
            *(
                [f"Hollows are looked at where they are turned, pommel turn: {', '.join(hollows)}."]
                if hollows
                else []
            ),
        ),
    )


def _gaps(balls: tuple[BallClearance, ...], numbers: Numbers) -> Table:
    """The least distance to every obstacle, with the ball's centre at the stick-out."""
    every = [(b.ball.name, gap) for b in balls for gap in b.gaps]
    plain = numbers.plain
    return Table(
        "gaps",
        f"The tightest spots ({numbers.unit}), the jaws at the least distance",
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
                plain.clearance(gap.distance_mm),
                plain.clearance(gap.least_mm),
                gap.part,
                plain.angle(gap.swing_deg),
                plain.clearance(gap.tip_radius_mm),
            )
            for name, gap in every
        ),
    )


def _every_ball(budgets: tuple[tuple[BallCase, Budget], ...], numbers: Numbers) -> Table:
    plain = numbers.plain
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
    across = numbers.alike(*(case.diameter_mm for case, _ in budgets))
    return Table(
        "ball_errors",
        f"Each ball ({numbers.unit}): likely error of diameter and form, 95 of 100 within, pip across",
        columns(
            ("ball", "ball"),
            ("diameter_mm", "diameter"),
            ("size_mm", "size ±"),
            ("form_mm", "form"),
            ("size_95_mm", "95: size ±"),
            ("form_95_mm", "form"),
            ("pip_mm", "pip"),
        ),
        tuple((name, *(round(mm, 6) for mm in lengths)) for name, *lengths in rows),
        tuple(
            (name, diameter, *(plain.micrometer(mm) for mm in lengths))
            for diameter, (name, _, *lengths) in zip(across, rows, strict=True)
        ),
    )


def _forces(found: StrengthReport, numbers: Numbers) -> Table:
    load = found.load
    entries = (
        ("material turned", load.material),
        ("depth of cut", numbers.size(load.depth_mm)),
        ("feed per turn", numbers.feed(load.feed_mm)),
        ("main force, along the pivot", numbers.force(load.main_N)),
        ("passive force, along the rod", numbers.force(load.passive_N)),
        ("feed force, round the pivot", numbers.force(load.feed_N)),
        ("at the handle's knob", numbers.force(found.hold.hand_N, 1)),
    )
    return Table("forces", "The pass", columns(("what", "what"), ("value", "value")), entries)


def _links(found: StrengthReport, numbers: Numbers) -> Table:
    plain = numbers.plain
    rows = tuple(
        (
            link.name,
            round(link.deflection_mm, 6),
            round(link.main_mm, 6),
            round(link.share, 4),
            round(link.play_mm, 6),
            link.thicken,
            link.mend,
        )
        for link in found.links
    )
    shown = tuple(
        (
            link.name,
            plain.deflection(link.deflection_mm),
            plain.deflection(link.main_mm),
            numbers.share(link.share),
            plain.deflection(link.play_mm) if link.play_mm else "",
            link.thicken,
            link.mend,
        )
        for link in found.links
    )
    gives, tilt = numbers.deflection, numbers.micrometer(found.tilt_mm)
    return Table(
        "deflection",
        f"Deflection of the tip along the rod, on top ({numbers.unit})",
        columns(
            ("link", "link"),
            ("deflection_mm", "by passive force"),
            ("main_mm", "by main force"),
            ("share", "share"),
            ("play_mm", "more if loose"),
            ("thicken", "size"),
            ("mend", "to mend it"),
        ),
        rows,
        shown,
        notes=(
            f"Together {gives(found.sprung_mm)} with shaft and rod held fast in their fits by the load,"
            f" the least it can be, and {gives(found.loose_mm)} with both loose on two supports, the"
            " most; the ball changes by twice that in the pass. Shares are of both forces: a link with"
            " less than nothing lets the tip spring the other way. Three-dimensional elements found the"
            " least, by passive force, on the solids of fourteen attachments: from a twentieth more to"
            " a tenth less.",
            f"At the nose {gives(found.nose_mm)}, toward the neck {gives(found.neck_mm)}.",
            f"The bearing's greatest clearance lets the tip shift {tilt}: once, to the side the cut"
            " pushes it; set the pivot's nut with no shake, and lock it.",
        ),
    )


def _work(found: tuple[Bending, ...], numbers: Numbers) -> Table:
    plain = numbers.plain
    return Table(
        "work",
        f"The work's own bending in the pass ({numbers.unit})",
        columns(
            ("ball", "ball"),
            ("stem_mm", "stem"),
            ("free_mm", "centre from jaws"),
            ("mm_per_N", f"for {numbers.force(numbers.force_step_N)}"),
            ("passive_N", numbers.force_unit),
            ("bends_mm", "bends"),
        ),
        tuple(
            (
                one.ball.name,
                round(one.stem_mm, 3),
                round(one.free_mm, 2),
                round(one.mm_per_N, 8),
                round(one.passive_N, 2),
                round(one.mm, 6),
            )
            for one in found
        ),
        tuple(
            (
                one.ball.name,
                plain.caliper(one.stem_mm),
                plain.clearance(one.free_mm),
                plain.deflection(numbers.force_step_N * one.mm_per_N),
                plain.cutting_force(one.passive_N),
                plain.deflection(one.mm),
            )
            for one in found
        ),
        notes=(
            "Blank, stem and ball as a beam from the jaws, the chuck taken as stiff: the equator gives"
            " way by this, the nose by nothing. Spring passes take it out; a thicker stem saves them.",
        ),
    )


def _strengths(found: StrengthReport, numbers: Numbers) -> Table:
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
            numbers.plain.stress(one.stress_MPa),
            numbers.plain.stress(one.limit_MPa),
            f"{one.safety:.1f}" if one.safety < 20 else "over 20",
            one.thicken,
            one.source,
        )
        for one in found.strengths
    )
    heads = columns(
        ("part", "part"),
        ("stress_MPa", numbers.stress_unit),
        ("limit_MPa", "bears"),
        ("safety", "safety"),
        ("thicken", "size"),
        ("source", "source"),
    )
    return Table("strength", "Stress at the largest ball", heads, rows, shown)


def _clamp(found: StrengthReport, numbers: Numbers) -> Table:
    hold = found.hold
    entries = (
        (
            "hand at the end of its lever",
            f"{numbers.force(hold.lever_N)}, a torque of {numbers.fine_torque(hold.torque_Nm)}",
        ),
        (
            "stud's preload",
            f"{numbers.force(hold.preload_N)}, {numbers.share(hold.share_of_proof)} of its proof load",
        ),
        ("of it, to close the slit", numbers.force(hold.closing_N)),
        (
            "thread engaged",
            f"{numbers.size(hold.engaged_mm)}, needs {numbers.size(hold.needed_mm)}",
        ),
        (
            "grip on the rod",
            f"{numbers.force(hold.grip_N)}, {hold.factor:.0f} times the passive force",
        ),
        ("from slack to tight", f"{numbers.angle(hold.turn_deg)} of the lever"),
        (
            "least metal of the hinge",
            f"{numbers.caliper(hold.hinge_mm)}, over {numbers.size(hold.joined_mm)} of joined metal",
        ),
        (
            f"once {numbers.borne(ABUSE_N)} on the lever",
            f"safety of the hinge {hold.abuse_safety:.1f}, {numbers.share(hold.abuse_share)} of the"
            " stud's proof load",
        ),
    )
    return Table("clamp", "The clamp", columns(("what", "what"), ("value", "value")), entries)


def _budget(found: Budget, numbers: Numbers) -> Table:
    plain = numbers.plain
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
    pip = numbers.micrometer(2 * found.pip_radius_mm)
    return Table(
        "budget",
        f"Error budget of the largest ball ({numbers.unit}): diameter, and out of round on the radius",
        columns(("source", "source"), ("size_mm", "size ±"), ("form_mm", "form"), ("by", "by")),
        tuple((n, round(size, 6), round(form, 6), by) for n, size, form, by in entries),
        tuple((n, plain.error(size), plain.error(form), by) for n, size, form, by in entries),
        notes=(
            f"Most of the size comes from the {found.dominates_size}, most of the form from the"
            f" {found.dominates_form}. A trial ball, measured, takes the size out; the form stays.",
            f"Pip at the nose up to {pip} across, until the cross slide is corrected.",
        ),
    )
