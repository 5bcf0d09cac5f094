"""Signs at their places: on a drawn edge where there is room, under a call-out, else on a leader.

Imported by layout.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import cos, radians, sin
from typing import Any

from msgspec.structs import replace

from parts.value import Value
from planner.drawing.choose import View
from planner.drawing.joints import runs_along
from planner.drawing.lanes import DoesNotFit
from planner.drawing.lettering import width_mm
from planner.drawing.model import (
    Balloon,
    Box,
    DatumSymbol,
    GeometricTolerance,
    Item,
    Point,
    TextureSymbol,
    WeldSymbol,
)
from planner.drawing.outline import Outline
from planner.drawing.pointing import Pointing, Spot
from planner.drawing.room import Room
from planner.drawing.signs import Sign
from planner.drawing.strokes import along, direction_deg, distance
from planner.drawing.subjects import Subject
from planner.drawing.symbols import (
    FRAME_PITCH,
    frame_width_mm,
    texture_box,
    weld_box,
)
from planner.words.numbers import Numbers

TEXTURE_MM = 2.5
"""Height of the letters on a texture's sign."""

SIGN_MM = 3.5
"""Height of the letters in frames and datums."""

REACHES_MM = (5.0, 9.0, 13.0, 18.0, 24.0, 31.0)
"""From a surface to its datum's box: what is tried, nearest first."""

HANGS_MM = 4.0
"""From a frame, or the line under a call-out's words, to the datum's box below it."""

BEYOND_MM = (4.0, 7.0, 11.0, 16.0, 22.0, 30.0)
"""How far beyond the outline a datum's triangle may stand on the line that carries its face on."""

ASIDE_MM = 5.0
"""How far a datum hangs from the end of what it hangs under."""

CROSSING_MM = 8.0
"""What a datum may stand farther off, to cross a line less."""

FOOT_MM, MOUTH_MM = 1.6, 2.0
"""From a surface to where a datum's stem is looked at, and how much of it must stand alone."""

ON_EDGE_MM = 1.2
"""The foot of a texture's sign stands on its edge: so much of it may lie over lines."""

FLAG_MM, FLAG_HIGH_MM, FLAG_APART_MM = 2.6, 2.5, 0.8
"""Of the circle round a note's number: its radius, the height of its figures, what is clear of it."""

Views = Mapping[View, tuple[Outline, Point]]


class Block(Value, frozen=True):
    """What stands at a leader's knee: how far it reaches from there, on the paper, and its making.

    of: for whoever is told that there is no place; tips: lists of places to point at, the better
    first; wide: away from the tip, of which back lies toward it.
    """

    of: str
    tips: tuple[tuple[Point, ...], ...]
    wide: float
    above: float
    below: float
    make: Any
    back: float = 0.0


def texture(sign: Sign, numbers: Numbers, at: Point, turn: float = 0.0) -> TextureSymbol:
    """The sign of a surface's texture at a place."""
    words = numbers.plain.roughness(sign.thing)
    return TextureSymbol(at, words, rotation_deg=turn, height=TEXTURE_MM, feature=sign.mark)


def tolerance(sign: Sign, numbers: Numbers, at: Point) -> GeometricTolerance:
    """The frame that says how true a surface lies."""
    one = sign.thing
    value = numbers.trueness(one.value_mm)
    return GeometricTolerance(
        at, one.characteristic, value, one.datums, height=SIGN_MM, feature=sign.mark
    )


WELD_SIZES = {"fillet": "z"}
"""The letter before a weld's size: z its leg, s how deep it goes in (ISO 2553, from memory)."""


def weld_symbol(sign: Sign, numbers: Numbers, points: tuple[Point, ...]) -> WeldSymbol:
    """The symbol of a weld; an inch sheet has the sign below its line for the arrow's side."""
    weld = sign.thing
    size = numbers.plain.size(weld.leg_mm)
    return WeldSymbol(
        points,
        weld.kind,
        size if numbers.inch else WELD_SIZES.get(weld.kind, "s") + size,
        "" if weld.all_round else numbers.plain.run(weld.length_mm),
        all_round=weld.all_round,
        system="B" if numbers.inch else "A",
        feature=sign.mark,
    )


# ---- under a call-out ----


def hung(held: Sequence[Sign], numbers: Numbers, words_mm: float) -> tuple[float, float, float]:
    """How wide what a call-out holds makes it, and how far it reaches above and below its line."""
    frames = [tolerance(s, numbers, (0.0, 0.0)) for s in held if s.what == "true"]
    wide = max([words_mm, *(frame_width_mm(one) for one in frames)])
    above = 0.0
    for sign in held:
        if sign.what == "texture":
            box = texture_box(texture(sign, numbers, (0.0, 0.0)))
            wide = max(wide, words_mm + box.right - box.left + 2.0)
            above = max(above, box.top)
    tall = FRAME_PITCH * SIGN_MM
    below = tall * len(frames)
    if any(s.what == "datum" for s in held):
        below += HANGS_MM + tall
    return wide, above, below


def hanging(
    held: Sequence[Sign], numbers: Numbers, knee: Point, rightward: bool, words_mm: float
) -> Iterator[Item]:
    """Frames and a datum under a call-out's line, a texture on the end of it."""
    x, y = knee
    left = x if rightward else x - words_mm
    tall = FRAME_PITCH * SIGN_MM
    for sign in held:
        if sign.what == "true":
            one = tolerance(sign, numbers, (left, y - tall))
            if not rightward:
                one = replace(one, at=(x - frame_width_mm(one), y - tall))
            y -= tall
            yield one
    for sign in held:
        if sign.what == "datum":
            at = (left + ASIDE_MM if rightward else x - ASIDE_MM, y)
            yield DatumSymbol(at, sign.thing, 270.0, HANGS_MM, SIGN_MM, sign.mark)
        elif sign.what == "texture":
            mark = texture(sign, numbers, (0.0, 0.0))
            box = texture_box(mark)
            if rightward:
                start, end = left + words_mm, left + words_mm + box.right - box.left + 2.0
                at = (start + 1.0 - box.left, knee[1])
            else:
                start, end = left, left - (box.right - box.left + 2.0)
                at = (end + 1.0 - box.left, knee[1])
            yield replace(mark, at=at, leader=((start, knee[1]), (end, knee[1])), end="none")


def flags_mm(flags: Sequence[str]) -> float:
    """How much longer the numbers of notes make the line that they stand at the end of."""
    return len(flags) * (2 * FLAG_MM + FLAG_APART_MM)


def flags_at(flags: Sequence[str], start: Point, rightward: bool) -> list[Balloon]:
    """The numbers of notes in a row; start: the near end of the first one's circle."""
    way = 1 if rightward else -1
    return [
        Balloon(
            (start[0] + way * (FLAG_MM + k * (2 * FLAG_MM + FLAG_APART_MM)), start[1]),
            number,
            radius=FLAG_MM,
            height=FLAG_HIGH_MM,
        )
        for k, number in enumerate(flags)
    ]


# ---- at an edge ----


def standing(
    subject: Subject, free: Sequence[Sign], views: Views, scale: float, room: Room, numbers: Numbers
) -> tuple[list[Item], list[Block]]:
    """What stands on edges, noted in the room; and what is left for leaders.

    Raises DoesNotFit where a datum finds no place.
    """
    items: list[Item] = []
    blocks: list[Block] = []
    framed = {s.of for s in free if s.what == "true"}
    for sign in free:
        if sign.what == "weld":
            blocks.append(_weld_block(subject, sign, views, scale, numbers))
            continue
        if sign.what == "datum" and sign.of in framed:
            continue
        spots = _spots(sign.of, views, scale)
        if sign.what == "true":
            held = [s for s in free if s.of == sign.of and s.what in ("true", "datum")]
            if held[0] is sign:
                blocks.append(_frame_block(held, spots, numbers))
            continue
        one: Item | None = None
        if sign.what == "texture":
            one = _texture(sign, spots, room, numbers)
        else:
            one = _datum(sign, spots, room) or _datum(sign, _beyond(sign.of, views, scale), room)
        if one is not None:
            room.take([one])
            items.append(one)
        elif sign.what == "datum":
            raise DoesNotFit(f"no place for datum {sign.thing}")
        else:
            blocks.append(_texture_block(sign, spots, numbers))
    return items, blocks


def _spots(ref: str, views: Views, scale: float) -> list[Spot]:
    """Where a surface shows, on the paper, in every view; where it is hidden only if nowhere else."""
    found = []
    for outline, origin in views.values():
        for spot in Pointing(outline).spots(ref):
            u, v = spot.at
            found.append(spot._replace(at=(origin[0] + scale * u, origin[1] + scale * v)))
    seen = [spot for spot in found if spot.seen]
    return seen or found


def _beyond(ref: str, views: Views, scale: float) -> list[Spot]:
    """Places on the line that carries a face on beyond the outline."""
    found = []
    for outline, origin in views.values():
        for spot in Pointing(outline).beyond(ref, [mm / scale for mm in BEYOND_MM]):
            assert spot.start is not None
            at, start = (
                (origin[0] + scale * u, origin[1] + scale * v) for u, v in (spot.at, spot.start)
            )
            found.append(spot._replace(at=at, start=start))
    return found


def _datum(sign: Sign, spots: Sequence[Spot], room: Room) -> DatumSymbol | None:
    """A datum's triangle on an edge, its box away from the metal, near and crossing little."""
    tall = FRAME_PITCH * SIGN_MM
    best: tuple[float, DatumSymbol] | None = None
    for spot in spots:
        if spot.away_deg is None:
            continue
        c, s = round(cos(radians(spot.away_deg))), round(sin(radians(spot.away_deg)))
        for reach in REACHES_MM:
            if best is not None and reach >= best[0]:
                break
            x, y = spot.at[0] + c * (reach + tall / 2), spot.at[1] + s * (reach + tall / 2)
            foot = (spot.at[0] + FOOT_MM * c, spot.at[1] + FOOT_MM * s)
            half = SIGN_MM / 2
            mouth = Box(
                min(foot[0], foot[0] + MOUTH_MM * c) - half * abs(s),
                min(foot[1], foot[1] + MOUTH_MM * s) - half * abs(c),
                max(foot[0], foot[0] + MOUTH_MM * c) + half * abs(s),
                max(foot[1], foot[1] + MOUTH_MM * s) + half * abs(c),
            )
            if not room.empty(Box(x - tall / 2, y - tall / 2, x + tall / 2, y + tall / 2)):
                continue
            if not room.empty(mouth):
                break
            hit, crossed = room.crossings((foot, (x - c * tall / 2, y - s * tall / 2)), 0.0)
            cost = reach + CROSSING_MM * crossed
            if not hit and (best is None or cost < best[0]):
                one = DatumSymbol(spot.at, sign.thing, spot.away_deg, reach, SIGN_MM, sign.mark)
                if spot.start is not None:
                    on = distance(spot.start, spot.at) + 2.0
                    end = along(spot.start, direction_deg(spot.start, spot.at), on)
                    one = replace(one, extension=(spot.start, end))
                best = (cost, one)
    return best[1] if best else None


def _texture(
    sign: Sign, spots: Sequence[Spot], room: Room, numbers: Numbers
) -> TextureSymbol | None:
    """The sign on a level edge from above, or on an upright one from the left."""
    for spot in spots:
        if spot.away_deg in (90.0, 180.0):
            one = texture(sign, numbers, spot.at, 0.0 if spot.away_deg == 90.0 else 90.0)
            around = texture_box(one)
            if spot.away_deg == 90.0:
                around = replace(around, low=around.low + ON_EDGE_MM)
            else:
                around = replace(around, right=around.right - ON_EDGE_MM)
            if room.empty(around):
                return one
    return None


# ---- on leaders ----


def _texture_block(sign: Sign, spots: Sequence[Spot], numbers: Numbers) -> Block:
    box = texture_box(texture(sign, numbers, (0.0, 0.0)))
    wide = box.right - box.left + 2.0

    def make(tip: Point, knee: Point, rightward: bool) -> list[Item]:
        end = (knee[0] + (wide if rightward else -wide), knee[1])
        at = (min(knee[0], end[0]) + 1.0 - box.left, knee[1])
        return [replace(texture(sign, numbers, at), leader=(tip, knee, end))]

    return Block(sign.of, (tuple(spot.at for spot in spots),), wide, box.top, 0.0, make)


def _frame_block(held: Sequence[Sign], spots: Sequence[Spot], numbers: Numbers) -> Block:
    """Frames one over the other, the leader at the middle of the first, a datum under the last."""
    tall = FRAME_PITCH * SIGN_MM
    frames = [s for s in held if s.what == "true"]
    wide = max(frame_width_mm(tolerance(s, numbers, (0.0, 0.0))) for s in frames)
    below = tall * (len(frames) - 0.5)
    below += HANGS_MM + tall if len(frames) < len(held) else 0.0

    def make(tip: Point, knee: Point, rightward: bool) -> list[Item]:
        x, y = knee[0], knee[1] + tall / 2
        out: list[Item] = []
        for sign in frames:
            y -= tall
            one = tolerance(sign, numbers, (x, y))
            left = x if rightward else x - frame_width_mm(one)
            leader = () if out else (tip, knee)
            out.append(replace(one, at=(left, y), leader=leader))
        for sign in held:
            if sign.what == "datum":
                at = (x + (ASIDE_MM if rightward else -ASIDE_MM), y)
                out.append(DatumSymbol(at, sign.thing, 270.0, HANGS_MM, SIGN_MM, sign.mark))
        return out

    tips = tuple(spot.at for spot in spots)
    return Block(held[0].of, (tips,), wide, tall / 2, below, make)


def _weld_block(
    subject: Subject, sign: Sign, views: Views, scale: float, numbers: Numbers
) -> Block:
    """Where a straight run is seen end-on it is told from the one on the other side."""
    box = weld_box(weld_symbol(sign, numbers, ((0.0, 0.0), (1.0, 0.0))))
    way = runs_along(subject, sign.thing)
    end_on: list[Point] = []
    beside: list[Point] = []
    dressed: list[Point] = []
    for view, (outline, origin) in views.items():
        on, near = (
            [(origin[0] + scale * u, origin[1] + scale * v) for u, v in places]
            for places in Pointing(outline).welded(sign.thing)
        )
        (end_on if view.depth == way else beside).extend(on)
        dressed += near

    def make(tip: Point, knee: Point, rightward: bool) -> list[Item]:
        return [weld_symbol(sign, numbers, (tip, knee))]

    tips = tuple(tuple(places) for places in (end_on, beside, dressed) if places)
    return Block(sign.of, tips, box.right - 1.0, box.top, -box.low, make)


def words_mm(lines: Sequence[str], height: float) -> float:
    """How wide the widest of some lines is."""
    return max((width_mm(words, height) for words in lines), default=0.0)
