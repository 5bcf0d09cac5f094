"""The attachment put together: each fit tried, with its limits and what to do when it is out.

Imported by making.route. Limits are common practice for slides and pivots of this size.
"""

from __future__ import annotations

from math import pi

from parts.attachment import Attachment
from parts.features import Stage, TappedHole, TurnedDiameter
from parts.screw import END_FLOAT_MM
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.making.gauges import Gauges, by_eye
from planner.making.model import Gauge, Hold, Measure, Op, SetUp, Tool, Workpiece
from planner.making.workshop import Workshop

END_PLAY_MM = (0.01, 0.03)
"""End play of a pivot, by indicator (common practice)."""

RIM_STEP_MM = 0.5
"""So much of a turn is seen at a nut's rim, beside a line over it and what it bears on (common
practice)."""

SCREW_PLAY_MM = 0.1
"""What a feed screw may turn before it moves anything, as travel (common practice)."""


NUT, NUT_THREAD, NUT_RIM = "pivot-nut", "nut thread", "nut rim"
"""What sets the end play, as the parts name it."""


def _rim_step(attachment: Attachment, shop: Workshop) -> float:
    """How far the nut is turned at its rim at a time, mm: no more than the limits are apart."""
    nut = next(part for part in attachment.parts if part.name == NUT)
    (rim,) = (o for o in nut.features if isinstance(o, TurnedDiameter) and o.name == NUT_RIM)
    (own,) = (o for o in nut.features if isinstance(o, TappedHole) and o.name == NUT_THREAD)
    low, high = END_PLAY_MM
    arc = (high - low) * pi * rim.diameter.nominal_mm / thread(own.thread).pitch_mm
    return shop.job.series.down(arc, RIM_STEP_MM) or arc


def _eased(shop: Workshop) -> str:
    """What a tight rod is eased with: grit that stays in soft metal laps what runs in it."""
    metals = shop.job.materials
    if "aluminium" in (material(metals.structure).group, material(metals.shaft).group):
        return "with a fine file and wash it: no emery, its grit stays in the metal"
    return "with fine emery"


def assembly(attachment: Attachment, shop: Workshop, gauges: Gauges) -> list[SetUp]:
    """The set-up at the bench in which all is put together and tried."""
    del gauges
    numbers = shop.numbers
    on = Workpiece(attachment.parts[0], None)
    others = tuple(part.name for part in attachment.parts)
    setup = SetUp(on, Stage.LAST, "bench", Hold("hand", "on the bench, then on the lathe"),
                  with_parts=others, after_parts=others)  # fmt: skip
    clean = Op("assemble", "wash every part, blow out holes and slits, oil the bearing surfaces",
               Tool("brush", f"brush, {shop.lamp_oil}, oil can"), minutes=15.0,
               caution="Goggles with compressed air, never toward the skin")  # fmt: skip
    setup.together = True
    setup.add(clean)
    ink = Op(
        "assemble", "thrust faces inked thinly, put together, turned: ink on both all round; else"
                    " dress the"
        " high side by scraper", Tool("ink", "marking blue"), minutes=15.0,
        measures=(by_eye("ink on three quarters of both faces", "", "eye"),),
    )  # fmt: skip
    setup.add(ink)
    low, high = END_PLAY_MM
    indicator = Gauge("dial indicator", "outside", 0.0, 10.0, 0.002)
    play = Measure(
        f"{numbers.plain.micrometer(low)} to {numbers.micrometer(high)}",
        "runout",
        low,
        high,
        "",
        "",
        indicator,
    )
    arc = _rim_step(attachment, shop)
    setup.add(
        Op(
            "check",
            "end play of the pivot, pushed and pulled against an indicator: less, slack the nut by"
            f" {numbers.rule(arc)} at its rim, a pencil line over it and the housing; more, draw it up"
            " as much; lock it and try again",
            Tool("nut", "pin spanner"),
            minutes=10.0,
            measures=(play,),
            eased={"part": NUT, "thread": NUT_THREAD, "rim": NUT_RIM, "arc_mm": arc},
        ),
        Op(
            "check",
            "the swing by a spring balance at the handle's end: the same all the way round; a tight"
            " place is a"
            " burr or a high spot: ink it and ease it",
            Tool("balance", "spring balance"),
            minutes=10.0,
            measures=(by_eye("even all round", "", "spring balance"),),
        ),
        Op(
            "check",
            "slides over the whole travel, clamp slack: no tight place, no shake; tight, ease the rod"
            f" {_eased(shop)}; shake that the nipped clamp does not take up, a new rod turned to"
            " its bore",
            Tool("hand", "the hand"),
            minutes=10.0,
            measures=(by_eye("free over the whole travel", "", "the hand"),),
        ),
    )
    setup.add(
        Op(
            "check",
            "end float of the feed screw, pushed and pulled against an indicator, both tail nuts"
            " locked: stiff to turn, slack the inner a little; more, draw it up; lock them and try"
            " again",
            Tool("spanner", "two thin spanners"),
            minutes=5.0,
            measures=(
                Measure(
                    f"at most {numbers.within(END_FLOAT_MM)}",
                    "runout",
                    0.0,
                    shop.job.series.tolerance(END_FLOAT_MM),
                    "",
                    "",
                    indicator,
                ),
            ),
        )
    )
    pitch = shop.job.attachment.screw_pitch
    division = pitch / shop.job.attachment.dial_divisions
    most = max(1.0, SCREW_PLAY_MM / division)
    setup.add(
        Op("check", f"play of the feed screw, by its dial: no more than {most:.0f} divisions before"
                    " the slide"
           " moves; more, a new nut thread, or take the play up one way and note it by the dial",
           Tool("hand", "the dial"), minutes=5.0,
           measures=(by_eye(f"divisions of play: at most {most:.0f}", "", "the dial"),))
    )  # fmt: skip
    return [setup]
