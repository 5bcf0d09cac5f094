"""The handle that swings the head, and the ball on its end.

Frame of each: its own axis is x. The handle screws through the shaft's plain end; the knob is the
first ball to be turned with the finished attachment.
"""

from __future__ import annotations

from math import sqrt

from parts.features import (
    FacedLength,
    Stage,
    TappedHole,
    Thread,
    TurnedBall,
    TurnedDiameter,
)
from parts.frame import Axis
from parts.part import Agreement, Datum, Part, Stock
from parts.sizes import Sizes, larger
from parts.standard.threads import thread

HANDLE_PAST_MM = 2.0
"""The handle's thread goes so far past the pin it is screwed through."""

SEAT_MM = 2.0
"""The knob's seat is wider than the handle's thread by this, both sides together."""

KNOB_STEP_MM = 0.05
"""The knob's length is worked out, and faced to what a caliper reads (common practice)."""

ENGAGED = 1.25
"""Length of thread in the knob, over its diameter (common practice: one to one and a half)."""


HANDLE_GAP_MM = 1.0
"""Between the shank's end and the handle, which comes level with it at the nose, where the stop screws
let it: no less than the shank's length and the handle's place may be off together, 0.3 or 0.5 each
(ISO 2768-m). Where there is less room the shank is filed back as it is put together."""

END_FLAT = 0.6
"""The flat of a set screw's end over its diameter, at the least (ISO 4026: 2.5 of M4, 4 of M6)."""

NO_BAR_MM = 1e3
"""So far off is the end of a stop screw that there is none of."""


def handle_station_mm(s: Sizes) -> float:
    """From the thrust face back to the handle: over the stop bar, and so behind the tool post.

    Clear of the shank's end, for a handle that meets it stops the tip before the nose; but no farther
    from the bar's middle than the flat of its screws, which its underside lies on.
    """
    half = s.handle_stock.width_mm / 2
    over = s.series.nearest(larger(s.stop_mm / 2, half), 0.5)
    clear = s.series.up(half + s.series.nominal(HANDLE_GAP_MM), 0.5)
    flat = s.series.down(s.stop_mm / 2 + END_FLAT * s.stop_major_mm / 2, 0.5)
    within = -larger(-clear, -flat - (s.stop_mm <= 0) * NO_BAR_MM)
    behind: float = larger(over, within)
    return s.setback_mm + s.shank_length_mm + behind


def handle_past_mm(s: Sizes) -> float:
    """How far the handle's thread goes past the pin."""
    return s.series.nominal(HANDLE_PAST_MM)


def handle_thread_mm(s: Sizes) -> float:
    """Length of the thread that the knob screws on to."""
    return s.series.nearest(ENGAGED * thread(s.handle_thread).major_mm)


def knob_seat_mm(s: Sizes) -> float:
    """The flat that the knob seats on: wider than the handle's thread by a millimetre all round."""
    return thread(s.handle_thread).major_mm + s.series.nominal(SEAT_MM)


def knob_length_mm(s: Sizes) -> float:
    """From the knob's nose to its seat."""
    radius = s.knob_diameter_mm / 2
    ball = radius + sqrt(max(0.0, radius**2 - (knob_seat_mm(s) / 2) ** 2))
    return s.series.down(ball, KNOB_STEP_MM)


def handle(s: Sizes) -> Part:
    """The handle bar for the given sizes."""
    screwed = s.pin_diameter_mm + handle_past_mm(s)
    knob_end = s.handle_length_mm - handle_thread_mm(s)
    thread_size = s.series.major(thread(s.handle_thread), -0.03, -0.15)
    return Part(
        name="handle",
        title="Handle",
        colour=(0.50, 0.50, 0.52),
        blank=Stock(s.handle_stock, s.handle_length_mm, s.screw_material),
        features=(
            FacedLength(
                name="handle length", datum="B", length=s.series.general(s.handle_length_mm)
            ),
            TurnedDiameter(
                name="shaft end", datum="A", start_mm=0.0, end_mm=screwed, diameter=thread_size
            ),
            TurnedDiameter(
                name="knob end",
                datum="A",
                start_mm=knob_end,
                end_mm=s.handle_length_mm,
                diameter=thread_size,
            ),
            Thread(
                name="shaft end thread",
                datum="A",
                start_mm=0.0,
                end_mm=screwed,
                thread=s.handle_thread,
            ),
            Thread(
                name="knob end thread",
                datum="A",
                start_mm=knob_end,
                end_mm=s.handle_length_mm,
                thread=s.handle_thread,
            ),
        ),
        datums={
            "A": Datum("blank", "axis", "axis"),
            "B": Datum("blank", "x-low", "the shaft end"),
        },
    )


def knob(s: Sizes) -> Part:
    """The ball on the handle's end."""
    length = knob_length_mm(s)
    return Part(
        name="knob",
        title="Knob",
        colour=(0.15, 0.15, 0.17),
        blank=Stock(s.knob_stock, length, s.dial_material),
        features=(
            FacedLength(name="knob length", datum="B", length=s.series.general(length)),
            TappedHole(
                name="knob hole",
                datum="A",
                axis=Axis((0.0, 0.0, 0.0), "+x"),
                depth_mm=handle_thread_mm(s),
                thread=s.handle_thread,
                through=False,
                note="its mouth countersunk to the thread's outside before the tap, so that the"
                " handle's shoulder seats flat, and the stub's",
            ),
            TurnedBall(
                name="ball",
                datum="A",
                start_mm=0.0,
                end_mm=length,
                diameter=s.series.general(s.knob_diameter_mm),
                stage=Stage.IN_PLACE,
                made_with="attachment",
                held="on a threaded stub in the chuck",
                note="the first ball: turned with the attachment, a nut on the handle's end"
                if s.knob_diameter_mm >= s.min_ball_diameter_mm
                else "",
            ),
        ),
        datums={
            "A": Datum("knob hole", "axis", "axis of the hole"),
            "B": Datum("blank", "x-low", "the seat"),
        },
        agreements=(
            Agreement("coaxial", "ball:axis", "knob hole:axis", "turned on a stub in the hole"),
        ),
    )
