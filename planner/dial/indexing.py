"""Dividing a circle: index plates on a worm head, direct plates, a graduated rotary table."""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from parts.standard.index_plates import IndexPlate
from parts.value import Value

FULL_TURN_DEG = 360
ARCSEC_PER_DEG = 3600
FEWEST_DIVISIONS = 2
MOST_DIVISIONS = 1000
# Direct plates commonly met: 24, 30 and 36 on milling heads, 60 on lathe spindles and
# bull gears (common practice).
DIRECT_CIRCLES = (24, 30, 36, 60)

Angle = Fraction | int | tuple[int, int, int | Fraction]


class Setting(Value, frozen=True):
    """One movement of the crank: whole turns, and then holes on a circle.

    `holes` are spaces moved, not holes counted. `sector_holes` is what stands between the sector
    arms counted inclusive, the hole the pin is in among them: holes + 1 (common practice); 0 when
    the movement is whole turns only, where the arms are not used and any circle will do.
    """

    turns: int
    holes: int
    circle: int
    sector_holes: int


class Indexing(Value, frozen=True):
    """How to move the work by one angle, again and again, round a full turn.

    angle_deg: the angle wanted per move, exact. ratio: crank turns to one turn of the work.
    moves: whole moves in a full turn. crank_turns: turns wanted per move, exact.
    exact: whether `setting` gives the angle exactly; when False it is the nearest.
    setting: the setting on the largest circle, where the holes are farthest from the axis and
    their errors count least. alternatives: the same movement on the other circles, largest first.
    error_deg, error_arcsec: angle moved less angle wanted, per move.
    closing_error_deg, closing_error_arcsec: the same after `moves` moves.
    """

    angle_deg: Fraction
    ratio: int
    moves: int
    crank_turns: Fraction
    exact: bool
    setting: Setting
    alternatives: tuple[Setting, ...]
    error_deg: Fraction
    error_arcsec: float
    closing_error_deg: Fraction
    closing_error_arcsec: float


class PlateIndexing(Value, frozen=True):
    """What one index plate of a set gives."""

    set_name: str
    plate: str
    indexing: Indexing


class DirectIndexing(Value, frozen=True):
    """Direct indexing: holes to step on the plate fixed to the spindle.

    `step_holes` is None when `circle` cannot be stepped evenly; `circles_that_do` are the direct
    plates, of those asked about, that can.
    """

    divisions: int
    circle: int
    step_holes: int | None
    circles_that_do: tuple[int, ...]


class DegMinSec(Value, frozen=True):
    """An angle as a graduated table is set to it: to the nearest whole second.

    `angle_deg` is the exact angle; `residue_arcsec` is exact less stated, never over half a second.
    """

    angle_deg: Fraction
    degrees: int
    minutes: int
    seconds: int
    residue_arcsec: Fraction

    def __str__(self) -> str:
        return f"{self.degrees}° {self.minutes:02d}′ {self.seconds:02d}″"


class RotaryTable(Value, frozen=True):
    """The settings of a graduated rotary table: the step, and each line's angle from line 0."""

    divisions: int
    step: DegMinSec
    lines: tuple[DegMinSec, ...]


def simple_indexing(divisions: int, ratio: int, circles: Iterable[int]) -> Indexing:
    """The crank setting for equal divisions by plain (simple) indexing: ratio / divisions turns.

    Arguments:
        divisions: 2 to 1000.
        ratio: turns of the crank to one turn of the work, 1 or more: 40 or 90, as a rule.
        circles: the hole circles to hand, numbers of holes.
    Returns the exact setting and every circle that gives it. When none does, the nearest setting:
    the one whose error accumulated over a full turn is least (of equals, the larger circle), with
    its errors. Neither case is rounded. The sector arms enclose holes + 1 counted inclusive.
    Raises ValueError on input out of range.
    Source: plain indexing rule, US Army ordnance OD 16448 par. 4c(5), and common practice.

    >>> found = simple_indexing(6, 40, [15, 16, 17, 18, 19, 20])
    >>> found.setting
    Setting(turns=6, holes=12, circle=18, sector_holes=13)
    """
    return _index(Fraction(FULL_TURN_DEG, check_divisions(divisions)), ratio, circles)


def angle_indexing(angle: Angle, ratio: int, circles: Iterable[int]) -> Indexing:
    """The crank setting for an angle: one crank turn moves the work 360/ratio degrees.

    Arguments:
        angle: over 0 up to 360 degrees: a Fraction or int of degrees, or (degrees, minutes,
            seconds). No floats: 11.5 degrees is Fraction("11.5") or (11, 30, 0).
        ratio, circles: as for `simple_indexing`.
    Returns as `simple_indexing`; the closing error is taken over the whole moves that go into a
    full turn.
    Raises ValueError on input out of range.

    >>> angle_indexing((11, 30, 0), 40, [18]).setting
    Setting(turns=1, holes=5, circle=18, sector_holes=6)
    """
    return _index(_exact_angle(angle), ratio, circles)


def index_on_plates(divisions: int, plates: Iterable[IndexPlate]) -> tuple[PlateIndexing, ...]:
    """What each plate gives for these divisions, exact plates first, then by closing error.

    Arguments:
        divisions: 2 to 1000.
        plates: the plates to hand, e.g. all those of `parts.standard.index_plates.plate_sets()`.
    Raises ValueError as `simple_indexing`.

    >>> from parts.standard.index_plates import plate_sets
    >>> index_on_plates(50, plate_sets()["three-plate set A 40:1"])[0].indexing.setting
    Setting(turns=0, holes=16, circle=20, sector_holes=17)
    """
    found = (
        PlateIndexing(
            plate.set_name,
            plate.plate,
            simple_indexing(divisions, plate.ratio, plate.circles),
        )
        for plate in plates
    )
    return tuple(sorted(found, key=lambda row: abs(row.indexing.closing_error_deg)))


def direct_indexing(
    divisions: int, direct_circle: int = 24, circles: Iterable[int] = DIRECT_CIRCLES
) -> DirectIndexing:
    """The step in holes on a plate fixed to the spindle, worm out of mesh.

    Arguments:
        divisions: 2 to 1000.
        direct_circle: holes in the direct plate on the machine.
        circles: other direct plates that could be fitted.
    Raises ValueError on input out of range.

    >>> direct_indexing(6).step_holes
    4
    """
    check_divisions(divisions)
    (own,) = _checked_circles([direct_circle])
    step = own // divisions if own % divisions == 0 else None
    that_do = (c for c in _checked_circles([own, *circles]) if c % divisions == 0)
    return DirectIndexing(divisions, own, step, tuple(that_do))


def by_degrees(divisions: int) -> RotaryTable:
    """Equal divisions on a graduated rotary table.

    Each line's angle is rounded on its own from the exact fraction, so no rounding accumulates.
    Arguments: divisions: 2 to 1000.
    Raises ValueError on input out of range.

    >>> str(by_degrees(7).step)
    '51° 25′ 43″'
    """
    check_divisions(divisions)
    lines = tuple(to_dms(Fraction(FULL_TURN_DEG * n, divisions)) for n in range(divisions))
    return RotaryTable(divisions, lines[1], lines)


def to_dms(angle_deg: Fraction) -> DegMinSec:
    """An exact angle (degrees, 0 or more) to the nearest second; a half goes to the even one.

    Raises ValueError when the angle is negative.
    """
    if angle_deg < 0:
        raise ValueError(f"angle {angle_deg} deg; the least is 0. Measure it the other way round")
    total = round(angle_deg * ARCSEC_PER_DEG)
    minutes, seconds = divmod(total, 60)
    degrees, minutes = divmod(minutes, 60)
    return DegMinSec(angle_deg, degrees, minutes, seconds, angle_deg * ARCSEC_PER_DEG - total)


def is_whole(value: object) -> bool:
    """True for an int that is a number, not a truth value."""
    return isinstance(value, int) and not isinstance(value, bool)


def check_divisions(divisions: int) -> int:
    """`divisions`, if it is a whole number from 2 to 1000; else raises ValueError."""
    if not is_whole(divisions) or not FEWEST_DIVISIONS <= divisions <= MOST_DIVISIONS:
        raise ValueError(
            f"divisions {divisions!r}; must be a whole number from {FEWEST_DIVISIONS} to "
            f"{MOST_DIVISIONS}. Give a count of equal divisions in that range"
        )
    return divisions


def _index(angle_deg: Fraction, ratio: int, circles: Iterable[int]) -> Indexing:
    """The setting nearest to the angle; an exact one is simply the nearest there can be."""
    if not is_whole(ratio) or ratio < 1:
        raise ValueError(
            f"ratio {ratio!r}; must be a whole number, 1 or more. "
            "Give the crank turns to one turn of the work (40 for a 40:1 head)"
        )
    turns = angle_deg * ratio / FULL_TURN_DEG
    moves = FULL_TURN_DEG // angle_deg
    # A movement of nothing divides nothing, however near it is.
    candidates = {
        (circle, spaces)
        for circle in _checked_circles(circles)
        for spaces in (math.floor(turns * circle), math.ceil(turns * circle))
        if spaces > 0
    }

    def nearness(candidate: tuple[int, int]) -> tuple[Fraction, int, int]:
        circle, spaces = candidate
        return abs(Fraction(spaces, circle) - turns), -circle, spaces

    circle, spaces = min(candidates, key=nearness)
    moved = Fraction(spaces, circle)
    same = sorted((c for c in candidates if Fraction(c[1], c[0]) == moved), reverse=True)
    settings = [_setting(spaces, circle) for circle, spaces in same]
    error_deg = (moved - turns) * FULL_TURN_DEG / ratio
    return Indexing(
        angle_deg=angle_deg,
        ratio=ratio,
        moves=moves,
        crank_turns=turns,
        exact=error_deg == 0,
        setting=settings[0],
        alternatives=tuple(settings[1:]),
        error_deg=error_deg,
        error_arcsec=float(error_deg * ARCSEC_PER_DEG),
        closing_error_deg=error_deg * moves,
        closing_error_arcsec=float(error_deg * moves * ARCSEC_PER_DEG),
    )


def _setting(spaces: int, circle: int) -> Setting:
    turns, holes = divmod(spaces, circle)
    return Setting(turns, holes, circle, sector_holes=holes + 1 if holes else 0)


def _checked_circles(circles: Iterable[int]) -> tuple[int, ...]:
    """The circles once each, smallest first."""
    given = tuple(circles)
    wrong = [circle for circle in given if not is_whole(circle) or circle < 1]
    if wrong or not given:
        raise ValueError(
            f"hole circles {wrong or 'none'}; each must be a whole number of holes, 1 or more. "
            "Give at least one circle of an index plate"
        )
    return tuple(sorted(set(given)))


def _exact_angle(angle: Angle) -> Fraction:
    """The angle in degrees as a Fraction, over 0 up to 360."""
    if isinstance(angle, tuple):
        exact = _from_dms(angle)
    elif is_whole(angle) or isinstance(angle, Fraction):
        exact = Fraction(angle)
    else:
        raise ValueError(
            f"angle {angle!r}; must be exact. "
            'Give Fraction("11.5") degrees, or (11, 30, 0) degrees, minutes, seconds'
        )
    if not 0 < exact <= FULL_TURN_DEG:
        raise ValueError(
            f"angle {exact} deg; must be over 0 up to {FULL_TURN_DEG}. "
            "Take off whole turns, or measure it the other way round"
        )
    return exact


def _from_dms(angle: tuple[int, int, int | Fraction]) -> Fraction:
    whole = len(angle) == 3 and is_whole(angle[0]) and is_whole(angle[1])
    if not whole or not (is_whole(angle[2]) or isinstance(angle[2], Fraction)):
        raise ValueError(
            f"angle {angle!r}; must be three numbers, degrees and minutes whole. "
            "Give (degrees, minutes, seconds), e.g. (11, 30, 0)"
        )
    degrees, minutes, seconds = angle
    if degrees < 0 or not 0 <= minutes < 60 or not 0 <= seconds < 60:
        raise ValueError(
            f"angle {angle!r}; degrees must be 0 or more, minutes and seconds 0 to under 60. "
            "Carry whole minutes and degrees over"
        )
    return degrees + Fraction(minutes, 60) + Fraction(seconds) / ARCSEC_PER_DEG
