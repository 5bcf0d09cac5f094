"""The hollows turned into a face: how each is set up, in order, and its passes."""

from __future__ import annotations

from collections.abc import Iterator

from parts.standard.fits import Limits
from planner.dial.sense import DEEPER, READ_AT
from planner.job.tables import Job
from planner.output.sheets.turn_rows import Row, in_order, many, row, whole_divisions
from planner.turning.head import Head
from planner.turning.model import SocketPlan
from planner.words.tables import Table, columns

READS_MM = 0.02
"""What a caliper's or a depth gauge's reading may be off (common practice)."""

OUTWARD = "Counter-clockwise, seen from the dial's free end, moves the tip out and the hollow grows"


def hollow_tables(plans: tuple[SocketPlan, ...], s: Head, job: Job) -> list[Table]:
    """How to set up for each hollow, and its passes; one that is refused has neither."""
    made = tuple(plan for plan in plans if plan.passes)
    return [_setup(made, s, job), _passes(made, s, job), _measuring(made, job)] if made else []


def _measuring(plans: tuple[SocketPlan, ...], job: Job) -> Table:
    """What is measured of each hollow and what it comes to, with room to write.

    Of a cap of half its mouth a and depth h the radius is (a^2 + h^2) / 2h (any handbook): how much a
    reading's error tells in it is that by h and by 2a.
    """
    numbers = job.numbers
    plain = numbers.plain
    rows: list[tuple[object, ...]] = []
    shown: list[tuple[str, ...]] = []
    notes = []
    for plan in plans:
        shape, tolerance = plan.shape, plan.ball.spec.tolerance
        half, deep, radius = shape.mouth_radius_mm, shape.depth_mm, shape.radius_mm
        half_of = tolerance / 2 if tolerance else 0.0  # the job's is on the diameter
        limits = Limits(radius, half_of, -half_of, "") if half_of else None
        asked = plain.between(limits, reads_mm=READS_MM) if limits else plain.radius(radius)
        for what, wanted, words in (
            ("mouth, across the face", 2 * half, plain.dial(2 * half)),
            ("depth in the middle", deep, plain.radius(deep)),
            ("radius by both", radius, asked),
        ):
            bounds = (limits.min_mm, limits.max_mm) if limits and wanted == radius else (None, None)
            rows.append((plan.ball.name, what, round(wanted, 5), *bounds, None))
            shown.append((plan.ball.name, what, words, "________"))
        off = job.series.tolerance(READS_MM)
        by_depth, by_mouth = off * abs(1 - (half / deep) ** 2) / 2, off * half / deep / 2
        named = f"{plan.ball.name}: " if len(plans) > 1 else ""
        notes.append(
            f"{named}{numbers.within(off)} more read of the depth is"
            f" {numbers.micrometer(by_depth)} {'less' if half > deep else 'more'} of the radius, and of"
            f" the mouth {numbers.micrometer(by_mouth)} more."
        )
    return Table(
        "socket_measuring",
        f"Hollows: measuring, before it comes out of the chuck ({plain.unit})",
        columns(
            ("ball", "ball"),
            ("what", "what"),
            ("wanted_mm", "wanted"),
            ("least_mm", "at least"),
            ("most_mm", "at most"),
            ("reading_mm", "reads"),
        ),
        tuple(rows),
        tuple(shown),
        heads=("ball", "what", "wanted", "reads"),
        notes=(
            *notes,
            "So a shallow hollow is better judged by a ball of its size, or a template, and marking"
            " blue: blue in the middle alone, it is too flat; at the rim alone, too round.",
        ),
    )


def _setup(plans: tuple[SocketPlan, ...], s: Head, job: Job) -> Table:
    steps = ((plan.ball.name, _steps(plan, s, job)) for plan in plans)
    notes = (
        "Goggles, guard and sleeves as local rules ask; no gloves. Shop rules and the lathe's own"
        " book"
        " come first.",
    )
    return in_order("socket", "Hollows", steps, notes)


def _steps(plan: SocketPlan, s: Head, job: Job) -> Iterator[Row]:
    shape, numbers = plan.shape, job.numbers
    mm, ball = numbers.size, plan.ball
    division = s.screw_pitch_mm / s.dial_divisions
    several = many(ball.spec.quantity)
    high = job.lathe.spindle_over_cross_slide + shape.radius_mm
    yield row(
        "sphere", mm(2 * shape.radius_mm), f"diameter of the hollow, {ball.material}{several}"
    )
    yield row(
        "blank",
        f"{mm(ball.blank_mm)} thick",
        f"{numbers.rule_up(plan.out_mm)} or so out of the jaws, as short as it may be; faced true",
        "The chuck's key is out before the spindle is switched on, each time.",
    )
    yield row(
        "bit",
        "turned round",
        f"its point out, beyond the arm, {numbers.worked(s.bit_stickout_mm)} out of it; end for end,"
        " its rake face still to the rear, to the oncoming work",
    )
    yield row(
        "dial zero",
        "at 0",
        "tip straight up, fed outward until a height gauge on the cross slide reads"
        f" {numbers.dial(high)} at the point, the spindle's height and half the sphere; swung over to"
        " the tailstock's side, as at a ball's nose, the dial set to 0 there, no turn to go: that is"
        " the finished hollow."
        f" {READ_AT}",
        "Spindle stopped.",
    )
    yield row(
        "pivot",
        f"{numbers.radius(shape.pivot_mm)} before the face",
        f"feed the tip in by {whole_divisions(shape.depth_mm, division)} divisions from 0 (half a"
        " turn past it and out again), tip straight at the"
        " chuck; carriage up until it touches the faced end; lock the carriage",
        "From here on the carriage stays locked whenever the head is swung.",
    )
    yield row(
        "cross slide",
        "tip on the axis",
        "the point where the face turns without moving: move the cross slide until it scribes a dot and"
        " no ring",
    )
    yield row(
        "swing",
        numbers.angle(shape.end_deg),
        "from the tailstock's side, tip over the top, in by the mouth's edge to straight at the chuck,"
        f" where the point is on the axis: it cuts over the last {numbers.angle(shape.end_deg)}. A stop"
        " there, at the axis, never past it: on the far side the work comes from behind the edge",
        "Spindle forward; one full swing by hand first, spindle isolated, hand clear of the chuck.",
    )
    yield row(
        "spindle",
        numbers.spindle_speed(plan.rev_min),
        "the first pass; the others by the table",
    )
    yield row(
        "each pass",
        "by the table",
        "tip on the tailstock's side, clear of the work: slacken the clamp, turn out, tighten, swing in"
        f" to the axis and back. {OUTWARD}; its play is"
        " taken"
        f" up outward: past a reading, half a turn in and out again. ({DEEPER[0].upper()}{DEEPER[1:]})",
        "Hand away from the chuck at clamp and dial.",
    )
    yield row(
        "measure",
        f"mouth {numbers.dial(2 * shape.mouth_radius_mm)}",
        f"across the face, and {numbers.radius(shape.depth_mm)} deep in the middle by a depth gauge:"
        " half the mouth squared and depth squared, over twice the depth, is the hollow's radius: by"
        " the table below",
        "Spindle stopped: nothing is measured or touched while the work turns.",
    )
    seconds = sum(one.seconds for one in plan.passes)
    yield row("time", numbers.minutes(seconds), "swinging; setting comes on top")


def _passes(plans: tuple[SocketPlan, ...], s: Head, job: Job) -> Table:
    plain = job.numbers.plain
    division = s.screw_pitch_mm / s.dial_divisions
    cuts = [(plan.ball.name, one) for plan in plans for one in plan.passes]
    return Table(
        "socket_passes",
        f"Passes of the hollows, the tip moving out ({plain.unit})",
        columns(
            ("ball", "ball"),
            ("number", ""),
            ("kind", "pass"),
            ("to_go", "div to go"),
            ("reads", "dial at"),
            ("radius_mm", "tip radius"),
            ("depth_mm", "depth"),
            ("divisions", "div out"),
            ("removed_mm3", f"takes {plain.chip_unit}"),
            ("rev_min", plain.spindle_speed_unit),
            ("seconds", "swing s"),
            ("passive_N", f"push {plain.force_unit}"),
            ("deflection_mm", "springs"),
        ),
        tuple(
            (
                name,
                one.number,
                one.kind,
                one.to_go,
                one.to_go % s.dial_divisions,
                round(one.radius_mm, 5),
                round(one.depth_mm, 5),
                round(one.depth_mm / division, 2),
                round(one.removed_mm3, 3),
                one.rev_min,
                round(one.seconds, 2),
                round(one.passive_N, 2),
                round(one.deflection_mm, 6),
            )
            for name, one in cuts
        ),
        tuple(
            (
                name,
                str(one.number),
                one.kind,
                f"{one.to_go % s.dial_divisions}",
                str(one.to_go // s.dial_divisions),
                plain.radius(one.radius_mm),
                plain.micrometer(one.depth_mm),
                f"{one.depth_mm / division:.1f}",
                plain.chip(one.removed_mm3),
                plain.spindle_speed(one.rev_min),
                plain.seconds(one.seconds),
                plain.cutting_force(one.passive_N),
                plain.micrometer(one.deflection_mm),
                "[ ]",
            )
            for name, one in cuts
        ),
        heads=(
            "ball",
            "",
            "pass",
            "dial at",
            "turns to go",
            "tip radius",
            "depth",
            "div out",
            f"takes {plain.chip_unit}",
            plain.spindle_speed_unit,
            "swing s",
            f"push {plain.force_unit}",
            "springs",
            "done",
        ),
        notes=(
            "Dial at: the number under its line, with so many whole turns still to go outward; 0 with"
            f" none is the finished hollow. {OUTWARD}, and the numbers fall.",
        ),
    )
