"""Fits as made: what a shaft must come to in a hole as measured, or what is to be done where none will.

Imported by output.asmade, which brings the measured sizes. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import Any, Literal

from msgspec.structs import replace

from parts.attachment import Attachment, Fit
from parts.features import DrilledHole, FacedShoulder, Feature, Hole, ReamedHole, Slit
from parts.part import Joined, Member, Part, Stock, every_feature, members
from parts.standard.errors import UnknownSize
from parts.standard.fits import PRESSED, Limits
from parts.trueness import LEAST_PLAY_MM
from parts.value import Value
from planner.job.tables import Job
from planner.job.usual import kit
from planner.making.bodies import bodies_of, owner
from planner.words.numbers import Numbers
from planner.words.workedoff import off_a_shaft, out_of_a_hole

AS_MADE = "as made"
"""The designation of limits that follow from a measured size."""

MOST_OVER_MM = 0.5
"""A hole so much over its size is bushed: walls and seats were checked as drawn (common practice)."""

NEXT_REAMER_MM = 2.0
"""The next reamer of a set: with one larger than that over the drawn, walls get thin (practice)."""

CLEANS_UP_MM = 0.5
"""On a diameter, what a turned surface needs of its bar to clean up, as sizing has it (practice)."""

NEAR_NOMINAL_MM = 0.1
"""A size as made is roughed, gripped and said by the size as drawn while it is so near to it."""

BUSH_WALL_MM = 2.0
"""Wall of a pressed-in bush of bronze, in which steel runs, at the least (common practice)."""

CLEAN_UP_MM = 1.0
"""What is bored out of a hole that came out too wide, at the least, for the bush's seat to be clean all
round (common practice)."""

RUNS_CLEAR_MM = 0.1
"""A shaft is so much under a drilled hole that it runs clear in (common practice)."""

SAME_MM = 1e-6

Sizes = Mapping[tuple[str, str], float]
"""Measured sizes, mm, by part and feature."""

State = Literal[
    "shaft to the hole", "hole to the shaft", "fits", "tight", "loose", "under", "outside"
]
"""What became of a fit: what is still to be made follows what is; both are made and fit, or are tight
or loose; a hole has metal left; no shaft will do."""


class Play(Value, frozen=True):
    """The clearance that a fit is designed to have, least and greatest, mm; below 0 it is pressed."""

    least_mm: float
    most_mm: float

    def takes(self, play_mm: float) -> bool:
        """Whether a clearance is within it."""
        return self.least_mm - SAME_MM <= play_mm <= self.most_mm + SAME_MM


class Mated(Value, frozen=True):
    """One fit of which something is measured.

    hole_mm, shaft_mm: as measured, None where not yet. limits: of what is still to be made (the shaft,
    or the hole to a shaft), None where both are made or nothing will do. play_mm: the greatest that
    comes of it; None where nothing is mated. do: what is to be done, "" for nothing. anew: the shaft is
    to be made anew, and nothing else helps.
    """

    fit: Fit
    hole_mm: float | None
    shaft_mm: float | None
    designed: Play
    state: State
    limits: Limits | None
    play_mm: float | None
    do: str = ""
    anew: bool = False


def designed(fit: Fit, attachment: Attachment) -> Play:
    """The clearance of a fit as designed.

    By the limits of both; where the design gives a greatest play, that one, and the least so much less
    that the shaft keeps its own tolerance, but enough for it to slide."""
    hole, shaft = (_size(attachment, *one) for one in _pair(fit))
    least, most = hole.min_mm - shaft.max_mm, hole.max_mm - shaft.min_mm
    if fit.play:
        most = getattr(attachment.sizes, fit.play)
        slides = attachment.sizes.series.limit(LEAST_PLAY_MM)
        least = min(least, max(slides, most - (shaft.max_mm - shaft.min_mm)))
    return Play(least, most)


def mated(attachment: Attachment, job: Job, sizes: Sizes) -> tuple[Mated, ...]:
    """Every fit of which the hole or the shaft is measured, as it then is."""
    found = []
    for fit in attachment.fits:
        hole, shaft = (sizes.get(one) for one in _pair(fit))
        if hole is not None or shaft is not None:
            found.append(_Fitted(fit, attachment, job, hole, shaft).mated())
    return tuple(found)


def made_to(fit: Fit, attachment: Attachment, job: Job) -> tuple[Play, float, float]:
    """The play of a fit, and the least and the widest hole that its shaft is made to, mm."""
    own = _Fitted(fit, attachment, job, None, None)
    widest = min(own.hole.max_mm + MOST_OVER_MM, own.most_mm() + own.play.least_mm)
    return own.play, own.hole.min_mm, widest


class _Fitted:
    """One fit, its hole or its shaft or both measured."""

    def __init__(
        self, fit: Fit, attachment: Attachment, job: Job, hole: float | None, shaft: float | None
    ) -> None:
        self.fit, self.attachment, self.job = fit, attachment, job
        self.hole_mm, self.shaft_mm = hole, shaft
        self.play = designed(fit, attachment)
        self.hole, self.shaft = (_size(attachment, *one) for one in _pair(fit))
        self.numbers: Numbers = job.numbers

    def mated(self) -> Mated:
        """What becomes of it."""
        if self.hole_mm is not None and self.shaft_mm is not None:
            return self._both(self.hole_mm, self.shaft_mm)
        if self.hole_mm is not None:
            return self._to_hole(self.hole_mm)
        assert self.shaft_mm is not None
        return self._to_shaft(self.shaft_mm)

    def _is(self, state: State, size: Limits | None, play_mm: float | None, do: str = "") -> Mated:
        return Mated(self.fit, self.hole_mm, self.shaft_mm, self.play, state, size, play_mm, do)

    def _shaft_for(self, hole_mm: float) -> Limits:
        """The shaft for a hole: its nominal size as drawn, its limits by the play."""
        low, high = hole_mm - self.play.most_mm, hole_mm - self.play.least_mm
        return self._limits(self.shaft, low, high)

    def _limits(self, drawn: Limits, low: float, high: float) -> Limits:
        """Limits about the size as drawn, or about one so near to them that roughing leaves enough."""
        off = (low + high) / 2 - drawn.nominal_mm
        nominal = drawn.nominal_mm
        if abs(off) > NEAR_NOMINAL_MM:
            step = self.job.series.nominal(NEAR_NOMINAL_MM)
            nominal += round(off / step) * step
        return Limits(nominal, high - nominal, low - nominal, AS_MADE)

    def most_mm(self) -> float:
        """The thickest shaft that its bar gives, and that goes through what it runs through besides.

        The bar was taken for the shaft as drawn, so one to a hole within its own limits comes of it.
        """
        bar = _member(self.attachment, self.fit.shaft_part, self.fit.shaft).blank.section
        drawn = self.hole.max_mm - self.play.least_mm
        return min(max(bar.height_mm - CLEANS_UP_MM, drawn), *self._clear_mm())

    def _clear_mm(self) -> list[float]:
        """How thick a shaft goes through each clear hole that lies in line with it."""
        line, clear = {f"{self.fit.shaft_part}/{self.fit.shaft}:axis"}, [inf]
        coaxial = [{a.one, a.other} for a in self.attachment.agreements if a.kind == "coaxial"]
        while more := set().union(*(two for two in coaxial if two & line)) - line:
            line |= more
        for part in self.attachment.parts:
            for _, one in every_feature(part):
                own = (part.name, one.name) in _pair(self.fit)
                if (
                    isinstance(one, DrilledHole)
                    and f"{part.name}/{one.name}:axis" in line
                    and not own
                ):
                    clear.append(one.diameter.nominal_mm - RUNS_CLEAR_MM)
        return clear

    def _out(self, hole_mm: float) -> bool:
        """Whether no shaft will do in a hole."""
        over = hole_mm - self.hole.max_mm > MOST_OVER_MM
        return over or self._shaft_for(hole_mm).max_mm > self.most_mm() + SAME_MM

    def _clears(self, hole_mm: float) -> bool:
        """Whether its shaft goes through what it runs through besides, whatever bar it is turned of."""
        return bool(self._shaft_for(hole_mm).max_mm <= min(self._clear_mm()) + SAME_MM)

    def _both(self, hole_mm: float, shaft_mm: float) -> Mated:
        play = hole_mm - shaft_mm
        fine = self.numbers.micrometer
        if self.play.takes(play):
            return self._is("fits", None, play)
        if play < self.play.least_mm:
            by = self.numbers.plain.micrometer(self.play.least_mm - play)
            to = fine(self.play.most_mm - play)
            how = off_a_shaft(self.play.least_mm - play)
            return self._is(
                "tight", None, play, f"Take {by} to {to} off the shaft's diameter {how}"
            )
        if self._out(hole_mm):
            return self._is("outside", None, play, self._ways_out(hole_mm))
        bush = "" if self._no_bush() else f", or bush the hole: {self._bush()}"
        new = f"Make a new shaft, {self.numbers.between(self._shaft_for(hole_mm))}"
        return replace(self._is("loose", None, play, f"{new}{bush}"), anew=not bush)

    def _to_hole(self, hole_mm: float) -> Mated:
        if hole_mm < self.hole.min_mm - SAME_MM:
            low = self.numbers.plain.micrometer(self.hole.min_mm - hole_mm)
            high = self.numbers.micrometer(self.hole.max_mm - hole_mm)
            hole = _feature(self.attachment, self.fit.hole_part, self.fit.hole)
            how = out_of_a_hole(self.hole.min_mm - hole_mm, isinstance(hole, ReamedHole))
            do = f"Work the hole larger by {low} to {high}, {how}"
            return self._is("under", None, None, do)
        if self._out(hole_mm):
            return self._is("outside", None, None, self._ways_out(hole_mm))
        return self._is("shaft to the hole", self._shaft_for(hole_mm), self.play.most_mm)

    def _to_shaft(self, shaft_mm: float) -> Mated:
        low, high = shaft_mm + self.play.least_mm, shaft_mm + self.play.most_mm
        size = self._limits(self.hole, low, high)
        hole = _feature(self.attachment, self.fit.hole_part, self.fit.hole)
        if isinstance(hole, ReamedHole):  # comes out as the reamer makes it
            if low - SAME_MM <= self.hole.min_mm and self.hole.max_mm <= high + SAME_MM:
                return self._is("hole to the shaft", None, self.hole.max_mm - shaft_mm)
            if high < self.hole.min_mm - SAME_MM:
                reamed = self.numbers.between(self.hole)
                do = f"Make a new shaft: the reamer makes the hole {reamed}, too wide for this one"
                return replace(self._is("hole to the shaft", None, None, do), anew=True)
            do = (
                f"Ream the hole and measure it; it must be {self.numbers.between(size)}, else a new"
            )
            return self._is("hole to the shaft", None, None, f"{do} shaft to it")
        return self._is("hole to the shaft", size, self.play.most_mm)

    def _ways_out(self, hole_mm: float) -> str:
        """What to do with a hole that no shaft will do in."""
        hole = _feature(self.attachment, self.fit.hole_part, self.fit.hole)
        ways = []
        if hole_mm - self.hole.max_mm <= MOST_OVER_MM and self._clears(hole_mm):
            turned = self.numbers.between(self._shaft_for(hole_mm))
            ways.append(f"Turn the shaft of a thicker bar, {turned}")
        if isinstance(hole, ReamedHole):
            most = self.hole.nominal_mm + NEXT_REAMER_MM + SAME_MM
            larger = [
                r
                for r in kit(self.job).reamers
                if hole_mm + SAME_MM < r <= most and self._shaft_for(r).max_mm <= self.most_mm()
            ]
            if larger:
                size = self._shaft_for(larger[0])
                reamer = self.numbers.size(larger[0])
                slit = self._slit()
                when = f", the {slit.name} not sawn yet," if slit else ""
                first = "or ream" if ways else "Ream"
                ways.append(
                    f"{first} it to {reamer}{when} and turn the shaft {self.numbers.between(size)} for"
                    " that"
                )
        if why := self._no_bush():
            ways.append(f"{'or make' if ways else 'Make'} its piece anew: {why}")
        else:
            ways.append(f"{'or bush' if ways else 'Bush'} it: {self._bush()}")
        return ", ".join(ways)

    def _slit(self) -> Slit | None:
        """The slit that leaves a hinge beside the hole, located from it."""
        part = _part(self.attachment, self.fit.hole_part)
        for _, one in every_feature(part):
            if isinstance(one, Slit) and one.least_mm:
                named = (part.datums[at.datum].of for at in one.locations)
                if self.fit.hole in named:
                    return one
        return None

    def _no_bush(self) -> str:
        """Why a bush's seat cannot be bored round a hole, "" where it can."""
        if slit := self._slit():
            return f"a bush takes the metal beside the {slit.name}, and the hinge tears"
        if self.fit.hole_part == self.fit.shaft_part:
            return "the weld would hold the bush, and the bush no more than it is pressed in"
        for member, one in every_feature(_part(self.attachment, self.fit.hole_part)):
            if one.name == self.fit.hole and isinstance(one, Hole):
                bodies = bodies_of(_part(self.attachment, self.fit.hole_part), member)
                own = owner(bodies, one.axis.origin)
                across = [
                    i for i in range(3) if abs(one.axis.at(1.0)[i] - one.axis.origin[i]) < 0.5
                ]
                room = min(sign * (own.end(i, sign) - one.axis.origin[i])
                           for i in across for sign in (-1, 1))  # fmt: skip
                if room < self._seat_mm() / 2 + BUSH_WALL_MM - SAME_MM:
                    return "the seat of a bush leaves too thin a wall"
        return ""

    def _seat_mm(self) -> float:
        """The outside of a bush, where it is pressed in."""
        series = self.job.series
        wide = series.up(self.hole.nominal_mm + 2 * BUSH_WALL_MM, 1.0)
        if self.hole_mm is not None:
            wide = max(wide, series.up(self.hole_mm + CLEAN_UP_MM, 1.0))
        return float(wide)

    def _bush(self) -> str:
        """The bush of a hole: its outside pressed in, its bore as the hole is drawn."""
        series, says, wide = self.job.series, self.numbers.between, self._seat_mm()
        try:
            seat, bush = series.hole(wide, PRESSED), series.shaft(wide, PRESSED)
        except UnknownSize:  # thicker or thinner than the tables of ISO 286 here
            return "by its own fit"
        of = series.words("a bush of bearing bronze ({CC493K|C932}), turned")
        return f"bore it {says(seat)}, press in {of} {says(bush)}, bore that {says(self.hole)}"


def remade(attachment: Attachment, found: Sequence[Mated]) -> Attachment:
    """The attachment with the limits of what is still to be made to what is made."""
    sizes = {
        _pair(one.fit)[one.hole_mm is not None]: one.limits
        for one in found
        if one.limits is not None
    }
    if not sizes:
        return attachment
    drawn = {key: _size(attachment, *key) for key in sizes}

    def size_of(part: str, one: Feature) -> Limits | None:
        if isinstance(one, FacedShoulder):  # it is faced down to what is turned beside it
            beside = [key for key in sizes if key[0] == part and drawn[key] == one.diameter]
            return sizes[beside[0]] if beside else None
        return sizes.get((part, one.name))

    def changed(part: str, features: Sequence[Feature]) -> tuple[Feature, ...]:
        return tuple(_with(one, size_of(part, one)) for one in features)

    placed = []
    for p in attachment.placed:
        part = p.item
        if isinstance(part, Part) and any(name == part.name for name, _ in sizes):
            blank = part.blank
            if isinstance(blank, Joined):
                pieces = tuple(replace(m, features=changed(part.name, m.features))
                               for m in blank.members)  # fmt: skip
                blank = replace(blank, members=pieces)
            part = replace(part, blank=blank, features=changed(part.name, part.features))
            p = replace(p, item=part)
        placed.append(p)
    return replace(attachment, placed=tuple(placed))


def _with(one: Feature, size: Limits | None) -> Feature:
    made: Any = one
    return one if size is None else replace(made, diameter=size)


def anew_pieces(attachment: Attachment, found: Sequence[Mated]) -> Iterator[tuple[str, str]]:
    """Part and piece, the part again where it is of one, of each shaft that is to be made anew."""
    for one in found:
        part = _part(attachment, one.fit.shaft_part)
        own = next(m for m, f in every_feature(part) if f.name == one.fit.shaft)
        if one.anew and (own is not None or isinstance(part.blank, Stock)):
            yield part.name, own.name if own is not None else part.name


def _pair(fit: Fit) -> tuple[tuple[str, str], tuple[str, str]]:
    """Part and feature of the hole, and of the shaft."""
    return (fit.hole_part, fit.hole), (fit.shaft_part, fit.shaft)


def _part(attachment: Attachment, name: str) -> Part:
    return next(part for part in attachment.parts if part.name == name)


def _feature(attachment: Attachment, part: str, name: str) -> Feature:
    return next(one for _, one in every_feature(_part(attachment, part)) if one.name == name)


def _size(attachment: Attachment, part: str, name: str) -> Limits:
    size: Limits = getattr(_feature(attachment, part, name), "diameter")  # noqa: B009
    return size


def _member(attachment: Attachment, part: str, name: str) -> Member:
    """The piece a feature is on; of the whole, the thinnest round that holds its size."""
    whole = _part(attachment, part)
    for member, one in every_feature(whole):
        if one.name == name and member is not None:
            return member
    size = _size(attachment, part, name).nominal_mm
    rounds = [m for m in members(whole) if m.blank.section.shape == "round"]
    fitting = [m for m in rounds if m.blank.section.width_mm >= size] or list(members(whole))
    return min(fitting, key=lambda m: m.blank.section.width_mm)
