"""A slit sawn by hand: how many blades the frame holds for its width, how the work is held under them.

Imported by ways.slits.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts import features as f
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.model import Grip, Hold, Measure, Op, Tool
from planner.making.near import below
from planner.making.ways.asked import open_sides

if TYPE_CHECKING:
    from planner.making.across import Across
    from planner.making.ways.slits import Way

BLADE_MM, SET_MM = 0.65, 0.3
"""A hand blade is so thick (ISO 2336, from memory), and fine teeth are set so much wider (common
practice: one of 24 or 32 teeth an inch cuts about 1 mm)."""

STROKE_MM = 1.0
"""A hacksaw's blades stay so far over the jaws: soft ones stand a little proud (common practice)."""

SLIT_CAUTION = "Clamp well; slow; goggles; nothing is squeezed into the slit to hold it open"

IN_CHUCK = (
    "Turn the spindle by hand a full turn at both ends of the feed first: work, vice and clamps must"
    " clear the arbor and the chuck's jaws. "
)
"""A saw on a stub arbor runs close before the chuck, and what holds the work is wider than the work
(common practice)."""

CLEAR = "beside the vice's slide"
"""Where long work hangs down: a vice's slide and screw are a hand's width under its jaws (common
practice), and its jaws stand out at both ends past them."""

IN_FRAME = {1: "a fine blade", 2: "two blades side by side", 3: "three blades side by side"}
"""What a frame's pins take (common practice)."""


def by_blades(wide_mm: float) -> tuple[str, Tool]:
    """The words for how a slit is sawn by hand, and the saw; what is wider is two cuts."""
    many = max(1, round((wide_mm - SET_MM) / BLADE_MM))
    if many > max(IN_FRAME):
        return (
            "one blade in the hacksaw frame, a cut inside each of two scribed lines, what stands"
            " between them sawn and filed out",
            Tool("hacksaw", "hacksaw, a fine blade, slim file"),
        )
    fine = {1: "a fine blade", 2: "two fine blades", 3: "three fine blades"}[many]
    return f"{IN_FRAME[many]} in the hacksaw frame, along a scribed line", Tool(
        "hacksaw", f"hacksaw, {fine}"
    )


def by_hand(work: Across, feature: f.Slit, way: Way, measures: tuple[Measure, ...]) -> None:
    """Add the set-up and the operation, the open side up: the frame goes over the jaws, which hold what
    is under the slit."""
    (k, sign), own, numbers = way.opens, way.own, work.numbers
    floor = own.end(k, -sign)
    low, high = sorted((floor, way.bottom - sign * STROKE_MM))
    hung = [o.name for o in work.bodies
            if o is not own and below(sign * o.end(k, -sign), sign * floor)]  # fmt: skip
    down = f", the {' and '.join(hung)} down between them at their end, {CLEAR}" if hung else ""
    words = (
        f"{feature.held or 'bench vice'}; its {way.up} side up,"
        f" {numbers.rule(work.shop.job.series.down(high - low, 0.5))} gripped, the jaws' tops"
        f" below the slit{down}"
    )
    near, far = (own.face(way.long, side) for side in (-1, 1))
    grip = Grip(near, own.size(way.long), low, high, far, packing="soft jaws")
    hold = Hold("bench vice", words, (grip,), up=way.up)
    blades, saw = by_blades(feature.width.nominal_mm)
    work.new("bench", hold).add(
        Op(
            "slit",
            f"saw the {feature.name}: {callout(feature, numbers)}, {blades}, by short strokes"
            " from both ends in turn",
            saw,
            feature,
            True,
            cuts.slot(feature.box, open_sides(work, feature)),
            minutes=20.0,
            measures=measures,
            note=feature.note,
            caution=SLIT_CAUTION,
        )
    )
