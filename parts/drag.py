"""The drag screw: brass, through the housing's wall on to the journal; it slows the swing or locks it.

Frame: its own axis is x, from the tip that bears on the journal up to the head: turned so, the die runs
on from the tip, and it is parted off behind the head.
"""

from __future__ import annotations

from typing import Any

from parts.features import FacedLength, Knurl, Thread, TurnedDiameter
from parts.part import Datum, Part, Stock
from parts.screw import KNURL_MM
from parts.sizes import Sizes
from parts.standard.materials import SPARES_STEEL, material
from parts.standard.series import Series
from parts.standard.threads import thread

HEAD_MM = 7.0
"""Height of the knurled head (common practice)."""

HEAD_OVER = 2.5
"""Diameter of the head over the thread (common practice: two fingers turn it)."""

GAP_MM = 2.0
"""Between the head and the tube while the tip bears: the tip may wear so far."""

TIP_MM = 1.5
"""Length of the plain tip, under the thread's root: a burr on it cannot lock the thread."""


TIP_UNDER_MM = 0.2
"""The tip under the thread's root."""

TIP_STEP_MM = 0.1
"""Its diameter has general limits, and stands in what a caliper reads."""


def drag_tip_mm(s: Any) -> Any:
    """Length of the plain tip; s: sizes, or columns of them."""
    return s.series.down(TIP_MM)


BRASS = "{CW614N|C360}"
"""Of what the drag screw is where the dial is neither brass nor bronze: it neither scores a journal of
steel nor galls on one of aluminium (common practice)."""


def drag_material(dial_material: str, series: Series) -> str:
    """The drag screw's material: the dial's where that is brass or bronze, else brass of its own."""
    own = material(dial_material).group in SPARES_STEEL
    return dial_material if own else series.words(BRASS)


def drag_wall_mm(s: Sizes) -> float:
    """The tube's wall round the bore, which the screw is threaded in."""
    return (s.tube_stock.width_mm - s.pivot_diameter_mm) / 2


def drag_head_mm(s: Sizes) -> float:
    """Diameter of the head: 2.5 times the thread, out of its bar."""
    head = s.series.nearest(HEAD_OVER * thread(s.drag_thread).major_mm)
    return min(head, s.drag_stock.width_mm - s.series.nominal(1.0))


def drag_length_mm(s: Sizes) -> float:
    """From the tip to the top of the head."""
    return s.series.nominal(HEAD_MM) + s.series.up(GAP_MM + drag_wall_mm(s), 0.5)


def _on_the_journal(s: Sizes) -> str:
    """What bears on what, and what comes of it."""
    own, journal = drag_material(s.dial_material, s.series), s.shaft_material
    kind = material(own).group
    if material(journal).group == "aluminium":
        return (
            f"{own}, {kind}, on the journal of {journal}: it does not gall as aluminium on aluminium"
            " would; a drop of oil on its tip, for screwed down hard it leaves a mark."
        )
    return f"{own}, {kind}, on the journal of {journal}: it does not score."


def drag_screw(s: Sizes) -> Part:
    """The drag screw for the given sizes."""
    size = thread(s.drag_thread)
    length = drag_length_mm(s)
    head, tip = length - s.series.nominal(HEAD_MM), drag_tip_mm(s)
    return Part(
        name="drag-screw",
        title="Drag screw",
        colour=(0.80, 0.70, 0.35),
        blank=Stock(s.drag_stock, length, drag_material(s.dial_material, s.series)),
        features=(
            FacedLength(name="drag screw length", datum="B", length=s.series.general(length)),
            TurnedDiameter(
                name="drag tip",
                datum="A",
                start_mm=0.0,
                end_mm=tip,
                diameter=s.series.general(
                    s.series.down(size.minor_external_mm - TIP_UNDER_MM, TIP_STEP_MM)
                ),
                note="faced flat: it bears on the journal",
            ),
            TurnedDiameter(
                name="drag thread diameter",
                datum="A",
                start_mm=tip,
                end_mm=head,
                diameter=s.series.major(size, -0.03, -0.15),
            ),
            TurnedDiameter(
                name="drag head",
                datum="A",
                start_mm=head,
                end_mm=length,
                diameter=s.series.general(drag_head_mm(s)),
            ),
            Knurl(
                name="drag head knurl",
                datum="A",
                start_mm=head,
                end_mm=length,
                diameter=s.series.general(drag_head_mm(s)),
                pitch_mm=s.series.knurl(KNURL_MM),
            ),
            Thread(
                name="drag thread",
                datum="A",
                start_mm=tip,
                end_mm=head - s.series.nominal(0.5),
                thread=s.drag_thread,
            ),
        ),
        datums={
            "A": Datum("blank", "axis", "axis"),
            "B": Datum("blank", "x-low", "the tip"),
        },
        notes=(
            f"{_on_the_journal(s)} Tightened until the swing stays where the hand leaves it; harder, it"
            " locks the swing. Out while the housing is bored.",
        ),
    )
