"""Which way the spindle runs, where the tip goes and which way its rake face looks: one picture.

Frame (parts.attachment): x along the pivot toward the rear, y up, z along the spindle away from the
chuck. Forward, the spindle turns about z by the right-hand rule: counter-clockwise as seen from the
tailstock, the near side of the work going down (ISO 841: clockwise as one looks out along the spindle
from the headstock). The rake face lies in the plane of the swing and looks along the pivot, away from
what carries it: to the rear across the bed, up with the pivot upright, whose body stands on the slide
(the whole turned a quarter about the spindle). So the work comes on to the rake face wherever the tip
stands over the axis (across) or on the operator's side of it (upright), and on to the bit's back with
the spindle reversed or the tip on the other side. Black on white; works nothing out but where lines go.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, radians, sin, tan

from parts.attachment import Carrier
from parts.tool import INCLUDED_DEG
from parts.value import Value
from planner.geometry.ball import Arrangement
from planner.geometry.envelope import Outline
from planner.geometry.swept import corners
from planner.output.pictures.marks import (
    HEAD,
    ROW_MM,
    TITLE,
    WORDS,
    Point,
    arc,
    arrow,
    cross,
    halves,
    leader,
    rows,
    toward,
    wrapped,
)
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet

View = Callable[[float, float], Point]
"""From millimetres of a view to millimetres of the paper."""

BALL_MM, SMALL_MM = 30.0, 13.0
"""How large the ball is drawn, and in the two that are crossed out."""

OUT_MM = 24.0
"""How long the bit is drawn at most: of a small ball it is drawn smaller than the ball."""

BACK = tan(radians(8.0)) / sin(radians(INCLUDED_DEG / 2))
"""How fast the ridge under the nose leans back, of two sides ground as those of parts.tool."""


class _Said(Value, frozen=True):
    """The words of one arrangement."""

    side: str
    path: str
    face: tuple[str, ...]
    comes: str
    you: tuple[str, ...]
    wrong: tuple[str, ...]


SAID: dict[Arrangement, _Said] = {
    "across": _Said(
        side="From the front, as you stand; the chuck on the left",
        path="the tip swings over the top",
        face=("rake face: looks", "to the rear,", "away from you"),
        comes="the top of the work comes toward you",
        you=("you stand", "on this side"),
        wrong=("Never with the tip below the axis: the", "work comes on to the back of the bit."),
    ),
    "upright": _Said(
        side="From above; the chuck on the left, you stand below",
        path="the tip swings round your side",
        face=("rake face:", "looks up"),
        comes="your side of the work goes down",
        you=("you stand", "on this side"),
        wrong=(
            "Never with the tip behind the axis, on",
            "the far side: the work comes on to the",
            "back of the bit.",
        ),
    ),
}


def cut_sense_svg(
    title: str,
    outlines: Sequence[Outline],
    ball_mm: float,
    stem_mm: float,
    sweep_deg: tuple[float, float],
    arrangement: Arrangement = "across",
) -> str:
    """The sense of the cut: from the tailstock's end, along the swing, and two ways never to do it.

    outlines: of what swings. ball_mm, stem_mm: diameters, over 0. sweep_deg: where the sweep begins and
    ends, 0 at the nose, up to 180. arrangement: how the pivot lies.
    """
    if not (0 < stem_mm < ball_mm and 0 <= sweep_deg[0] < sweep_deg[1] <= 180):
        raise ValueError(
            f"ball_mm {ball_mm:g}, stem_mm {stem_mm:g}, sweep_deg {sweep_deg}: give a stem thinner"
            " than the ball and a sweep within 0 to 180"
        )
    sheet, said = Sheet(), SAID[arrangement]
    carried = [o for o in outlines if o[0].carrier is Carrier.HEAD and _at_tip(o, outlines)]
    high = max(e.y_mm for o in carried for e in o)
    scale = min(BALL_MM / ball_mm, OUT_MM / high)
    tool = _Tool(BALL_MM / 2 / scale, scale, carried, arrangement)
    stem = stem_mm / ball_mm * 2 * tool.radius_mm
    sheet.text(0.0, 8.0, title, TITLE)
    low = _end_view(sheet, tool, said)
    low = _side_view(sheet, tool, said, stem, sweep_deg, low)
    low = _never(sheet, arrangement, said, low)
    rows(sheet, (0.0, low - ROW_MM), wrapped(CAUTION))
    return sheet.svg(title)


CAUTION = (
    "Goggles on, guard in place, sleeves close, no gloves. Before each"
    " setting, and before a hand goes near the tip: spindle stopped and"
    " switched off. In reverse a screwed-on chuck comes off."
)


class _Tool(Value, frozen=True):
    """The bit and what holds it at the tip plane, how large they are drawn, and the ball's radius at
    that scale."""

    radius_mm: float
    scale: float
    carried: list[Outline]
    arrangement: Arrangement

    def end_on(self, origin: Point) -> View:
        """Seen from the tailstock: the rear on the right, up is up; upright a quarter turn on."""
        upright = self.arrangement == "upright"

        def view(x: float, y: float) -> Point:
            across, up = (-y, x) if upright else (x, y)
            return origin[0] + self.scale * across, origin[1] + self.scale * up

        return view

    def along(self, origin: Point) -> View:
        """Seen along the pivot: away from the chuck on the right; upright from above, your side low."""
        flip = -1.0 if self.arrangement == "upright" else 1.0
        return lambda z, y: (origin[0] + self.scale * z, origin[1] + flip * self.scale * y)

    @property
    def out_mm(self) -> float:
        """How far out from the ball's centre what holds the bit goes."""
        return self.radius_mm + max(
            max(e.y_mm for e in o) for o in self.carried if not o[0].cuts
        )  # fmt: skip


def _at_tip(outline: Outline, outlines: Sequence[Outline]) -> bool:
    """Whether a prism is the bit, or holds it: as wide along the pivot as to the tip plane."""
    if outline[0].cuts:
        return True
    bits = [e for o in outlines for e in o if e.cuts]
    out = max(e.y_mm for e in bits)
    return (
        max(e.x_high_mm for e in outline) > min(e.x_low_mm for e in bits)
        and min(e.y_mm for e in outline) < out
        and max(e.z_mm for e in outline) - min(e.z_mm for e in outline)
        > max(e.z_mm for e in bits) - min(e.z_mm for e in bits)
    )


def _end_view(sheet: Sheet, tool: _Tool, said: _Said) -> float:
    """From the tailstock's end, the tip on top (upright: on your side); returns how low it goes."""
    upright = tool.arrangement == "upright"
    high = BALL_MM / 2 + 9.0 if upright else tool.out_mm * tool.scale
    middle = (64.0, -9.0 - high)
    view, r = tool.end_on(middle), tool.radius_mm
    sheet.text(0.0, 0.0, "From the tailstock's end, looking at the chuck", HEAD)
    sheet.circle(*middle, BALL_MM / 2, THICK)
    cross(sheet, middle, 2.0)
    arrow(sheet, arc(middle, 10.0, 205.0, 335.0), THICK, "spindle forward")
    sheet.text(middle[0], middle[1] - BALL_MM / 2 - 5.6, "spindle forward", WORDS, "middle")
    for outline in sorted(tool.carried, key=lambda o: o[0].cuts):
        _end_prism(sheet, view, outline, r)
    bits = [e for o in tool.carried for e in o if e.cuts]
    rake = max(e.x_high_mm for e in bits)
    arm = r + min(e.y_mm for o in tool.carried if not o[0].cuts for e in o)
    sheet.path([view(rake, r), view(rake, arm)], 1.2, name="rake face")
    turn = 90.0 if upright else 0.0
    near = arc(middle, BALL_MM / 2 + 2.6, 22.0 + turn, 80.0 + turn)
    arrow(sheet, near, THICK, "work on to the rake face")
    face = view(rake, (r + 2 * arm) / 3)
    if upright:
        leader(sheet, (face[0], face[1] + 9.0), face)
        rows(sheet, (face[0] - 24.0, face[1] + 10.0 + ROW_MM), said.face)
        rows(
            sheet,
            (middle[0] - 4.0, middle[1] + BALL_MM / 2 + 4.0),
            ("the work comes down on to it",),
        )
        rows(sheet, (0.0, middle[1] - 8.0), said.you)
    else:
        leader(sheet, (face[0] + 15.0, face[1] + 4.0), face)
        rows(sheet, (face[0] + 16.0, face[1] + 6.0), said.face)
        rows(sheet, (middle[0] + 19.0, middle[1] + 5.0), ("the work comes", "over on to it"))
        rows(sheet, (0.0, middle[1]), said.you)
    return middle[1] - BALL_MM / 2 - 9.0


def _end_prism(sheet: Sheet, view: View, outline: Outline, r: float) -> None:
    """A prism seen along the spindle: a box; the bit's end leans back under its nose."""
    left, right = min(e.x_low_mm for e in outline), max(e.x_high_mm for e in outline)
    low, high = (r + f(e.y_mm - e.round_mm for e in outline) for f in (min, max))
    lean = BACK * (right - left) if outline[0].cuts else 0.0
    ring = [(right, low), (right, high), (left, high), (left, low + lean)]
    fill = "#fff" if outline[0].cuts else "url(#steel)"
    sheet.path([view(*p) for p in ring], MIDDLE, fill="#fff", closed=True)
    sheet.path([view(*p) for p in ring], MIDDLE, fill=fill, closed=True, name=outline[0].name)


def _side_view(
    sheet: Sheet,
    tool: _Tool,
    said: _Said,
    stem_mm: float,
    sweep_deg: tuple[float, float],
    top: float,
) -> float:
    """Along the pivot: the tip's way from the nose to the stem; returns how low it goes."""
    upright = tool.arrangement == "upright"
    out = tool.out_mm * tool.scale
    sheet.text(0.0, top - 5.0, said.side, HEAD)
    up, down = (BALL_MM / 2 + 3.0, out) if upright else (out, BALL_MM / 2 + 3.0)
    middle = (60.0, top - 8.0 - up)
    view, r = tool.along(middle), tool.radius_mm
    neck, stem = (r**2 - stem_mm**2 / 4) ** 0.5, stem_mm / 2
    back = -(middle[0] - 6.0) / tool.scale
    for side in (1, -1):
        sheet.path([view(-neck, side * stem), view(back, side * stem)], THICK)
    start, end = sweep_deg
    turn = -1.0 if upright else 1.0
    sheet.circle(*middle, BALL_MM / 2, THICK)
    sheet.path([view(back, 0.0), view(1.1 * r, 0.0)], THIN, "8 1.5 1 1.5")
    for swing in (end, start, 90.0):
        for outline in sorted(tool.carried, key=lambda o: o[0].cuts):
            ring = [view(*_posed(p, r, swing)) for p in corners(outline)]
            firm = swing == 90.0
            width, dash = (MIDDLE, "") if firm else (THIN, "2 1")
            sheet.path(ring, width, dash, "#fff", True, f"{outline[0].name}, {swing:.0f}")
    path = arc(middle, BALL_MM / 2 + 3.0, turn * (start + 8.0), turn * (end - 6.0))
    arrow(sheet, path, THICK, "tip over the top" if not upright else "tip round your side")
    rows(sheet, (middle[0] + 12.0, middle[1] + turn * (out - 6.0)), halves(said.path))
    nose = [view(*_posed(p, r, start))[1] for o in tool.carried for p in corners(o)]
    clear = max(nose) + 2.0 + ROW_MM if upright else min(nose) - WORDS
    off = max(16.0, clear - middle[1]) if upright else min(-10.0, clear - middle[1])
    beside = (middle[0] + 22.0, middle[1] + off)
    rows(sheet, beside, halves(said.comes))
    toward(sheet, (middle[0], middle[1] + turn * (BALL_MM / 2 - 4.0)), not upright)
    leader(
        sheet,
        (beside[0] - 1.0, beside[1]),
        (middle[0] + 2.0, middle[1] + turn * (BALL_MM / 2 - 5.5)),
    )
    return min(middle[1] - down, beside[1] - ROW_MM - 1.0) - 4.0


def _never(sheet: Sheet, arrangement: Arrangement, said: _Said, top: float) -> float:
    """The two that are crossed out, seen from the tailstock's end: reversed, and on the wrong side."""
    tip = 180.0 if arrangement == "upright" else 90.0
    wrong = (
        ("spindle reversed", tip, (335.0, 205.0),
         ("Never with the spindle reversed: the", "work comes on to the back of the bit.")),
        ("tip on the wrong side", tip + 180.0, (205.0, 335.0), said.wrong),
    )  # fmt: skip
    y = top
    for name, at, (start, end), words in wrong:
        across = arrangement == "across"
        over = 7.5 if across and at == 90.0 else 1.0
        under = 7.5 if across and at == 270.0 else 1.0
        middle = (26.0, y - over - SMALL_MM / 2)
        sheet.circle(*middle, SMALL_MM / 2, MIDDLE)
        arrow(sheet, arc(middle, 4.0, start, end), MIDDLE, name)
        _small_bit(sheet, middle, at, arrangement)
        for side in (1, -1):
            sheet.path(
                [(1.0, middle[1] - side * 3.5), (8.0, middle[1] + side * 3.5)], THICK, name="never"
            )
        rows(sheet, (45.0, middle[1] + 0.5), words)
        y = middle[1] - SMALL_MM / 2 - under - 2.0
    return y


def _small_bit(sheet: Sheet, middle: Point, at_deg: float, arrangement: Arrangement) -> None:
    """A bit with its tip at a polar angle as seen from the tailstock, its rake face heavy."""
    r, long, wide = SMALL_MM / 2, 7.0, 2.4
    a = radians(at_deg)
    out = (cos(a), sin(a))
    back = (0.0, -1.0) if arrangement == "upright" else (-1.0, 0.0)

    def put(along: float, behind: float) -> Point:
        return (
            middle[0] + (r + along) * out[0] + behind * back[0],
            middle[1] + (r + along) * out[1] + behind * back[1],
        )

    ring = [put(0, 0), put(long, 0), put(long, wide), put(BACK * wide, wide)]
    sheet.path(ring, MIDDLE, fill="#fff", closed=True)
    sheet.path([put(0, 0), put(long, 0)], 1.0)


def _posed(point: Point, tip_mm: float, swing_deg: float) -> Point:
    """A corner of an outline at a swing: z and y."""
    out, across, a = point[0] + tip_mm, point[1], radians(swing_deg)
    return out * cos(a) + across * sin(a), out * sin(a) - across * cos(a)
