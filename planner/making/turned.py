"""A round piece from the bar: its ends, what is turned about its axis, parted off, as set-ups.

Made from one end on a spare grip where it can be (``making.holding``), else one end after the other,
long stretches on the tailstock's centre. What lies across the axis is made afterwards. Imported by
making.pieces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from parts import features as f
from parts.features import Feature, Stage
from parts.frame import Box
from parts.standard.cutting_data import cutting_data
from parts.standard.holding import holding_limit
from parts.standard.threads import thread
from planner.making import bodies as b
from planner.making import cuts
from planner.making.bending import arms_mm, deepest_mm
from planner.making.chucked import ORIGIN, SHIMMED, SHORT_GRIP, Chucked
from planner.making.holding import (
    BAR_BEHIND,
    BUSH_LEAST_MM,
    CLEAR_MM,
    PARTED,
    PARTED_LONG,
    SOFT_JAWS,
    SOFT_LEAST_MM,
    Hold,
    neck_mm,
    one_by_one,
    parting_mm,
)
from planner.making.model import OUT_OF_BALANCE_RPM, Line, Op, SetUp, Tool
from planner.making.near import Span, below, outside, same, within
from planner.making.profile import Stretch
from planner.making.unthreaded import unthreaded
from planner.making.ways.later import centre_later
from planner.making.ways.screwed import by_die

DRAWN_BACK = "the centre drawn back"

SAME_MM = 0.1
"""Jaws close on a round past what is no more than so much thicker: packing takes it up (common
practice)."""

PAST_MM = 1.0
"""What is too thick for the chuck's bore sticks out behind the jaws no farther (common practice)."""

FINGER_MM = 3.0
"""What a steady's finger bears on has one diameter over so much (common practice)."""

COVERED = 0.7
"""From so much of its length turned a piece is parted in two sides at its thickest stretch."""


class Turning(Chucked):
    """The set-ups of one round piece."""

    def plan(self) -> list[SetUp]:
        """All of it, after the saw."""
        if self.held.hold in (Hold.PARTED, Hold.BAR):
            self._from_one_end()
        else:
            self._ends_in_turn()
        return self.setups

    # ---- on a spare grip ----

    def _from_one_end(self) -> None:
        cut_off, axis = self.long + self.facing, Line("-x", ORIGIN)
        parted = cut_off + parting_mm(self.shop.job.series)
        self.ways.parted, front = (self.long, parted), parted + CLEAR_MM
        if self.held.centre:
            first = self._end_setup(low=True, need=0.0)
            self._pulled_out(first)
            self._face(first, low=True)
            self._centre(first, low=True)
            centre = self._centre_at(low=True)
            bar = f"{self._bar()}, drawn out for it" if self._bar() else ""
            work = self._new(self._chuck(axis, (front, self.profile.high), centre, bar))
        else:
            work = self._new(self._chuck(axis, (front, self.profile.high), None, self._bar()))
            self._pulled_out(work)
            self._face(work, low=True)
        self._turn(work, self.axial, axis)
        off = work if not self.held.centre else self._new(
            self._chuck(axis, (front, self.profile.high), None, f"as before, {DRAWN_BACK}")
        )  # fmt: skip
        self._part_off(off, cut_off)
        last = self._second_end()
        if last is not None:
            self._to_length(last, low=False)
        else:
            self._filed_to_length()

    def _bar(self) -> str:
        """What is said where the piece is turned off the bar."""
        return "the bar through the spindle" if self.held.hold is Hold.BAR else ""

    def _pulled_out(self, setup: SetUp) -> None:
        """A bar through the spindle is drawn out for the next piece."""
        if self.held.hold is not Hold.BAR:
            return
        out = self.numbers.rule(setup.hold.out_mm or 0.0)
        bar = f"{self.numbers.stock(self.stock.section)} {self.metal}"
        setup.add(Op("rest", f"draw the bar {bar} out of the spindle, {out} from the jaws",
                     Tool("none", "none"), cut=cuts.saw(self.profile.low, self.profile.high),
                     minutes=1.0, note=one_by_one(self.held, self.shop.job),
                     caution=BAR_BEHIND))  # fmt: skip

    def _part_off(self, setup: SetUp, at_mm: float) -> None:
        blade = parting_mm(self.shop.job.series)
        thick = self.profile.largest(at_mm, at_mm + blade)
        reach = self.shop.job.series.up(thick / 2 + 2.0, 1.0)
        name = f"{self.shop.tool} parting tool {self.numbers.size(blade)} wide"
        tool = Tool("parting tool", name, None, blade, reach)
        cut = cuts.face(Line("-x", ORIGIN), at_mm, "-x", thick, blade)
        text, caution = f"part off at {self.numbers.size(at_mm)}", PARTED
        stout = self.profile.largest(self.profile.low, self.long)
        if at_mm - self.profile.low > holding_limit("work", "chuck only, finishing") * stout:
            neck = self.numbers.rule(neck_mm(stout))
            text += f": to a neck of {neck}, then switch off and saw the neck through by hand"
            caution, setup.most_rpm = PARTED_LONG, OUT_OF_BALANCE_RPM
        setup.add(
            Op("part", text, tool, cut=cut, speed=("part", thick), rate="part",
               length_mm=thick / 2, caution=caution)
        )  # fmt: skip
        self.profile.crop(self.profile.low, at_mm)

    def _filed_to_length(self) -> None:
        """The parted end filed to length in the bench vice, where no chuck holds what is left."""
        band = self.length.length.upper_mm - self.length.length.lower_mm
        if not self.shop.attains("file", band, self.long):
            said = f"soft jaws or a collet for the {self.on.name}'s second end"
            self.shop.lacks(self.on.part.name, said, "Bore a split bush to it")
        setup = SetUp(self.on, Stage.BLANK, "bench", b.bench_hold(unthreaded(self.on)))
        self.setups.append(setup)
        ball = any(
            isinstance(o, f.TurnedBall) and same(o.axis.at(o.end_mm)[0], self.long)
            for o in self.axial
        )
        shape = "round, into the ball" if ball else "flat"
        half = self.profile.largest(self.long - 1.0, self.profile.high) / 2
        box = Box((self.long, -half, -half), (self.profile.high, half, half))
        said = self.numbers.worked_limits(self.length.length)
        setup.add(
            Op(
                "file",
                f"file the parted end {shape}, to length {said}",
                Tool("file", "files"),
                self.length,
                True,
                cuts.flat("+x", self.long, box),
                minutes=8.0,
                note=self.length.note,
                measures=(
                    self.gauges.length(self.length.length, "blank.-x", "blank.+x", "outside"),
                ),
            )
        )
        self.profile.crop(self.profile.low, self.long)

    def _in_front(self, top: float, low: float) -> float:
        """How far from its made end work may be gripped: what the chuck's bore does not take comes
        against its face, the jaws' length behind their front."""
        passes, back = self.shop.kit.passes, top - self.jaws
        if back <= low + PAST_MM or passes(self.profile.largest(low, back)):
            return top
        thick = [one.low for one in self.profile.stretches if not passes(one.diameter)]
        return min([top, *(max(at, low) + self.jaws for at in thick)])

    def _second_end(self) -> SetUp | None:
        """The made end in the chuck, the parted end out: by the stretch that grips best; None by
        none. What does not go back through the chuck stands out of it, long work on the steady."""
        low, high = self.profile.low, self.profile.high
        end = self.long
        best: tuple[float, Stretch, float, float] | None = None
        for one, (least, most) in self._smooth():
            top = self._in_front(min(most, end - 1.5), low)
            bottom = max(least, top - self.jaws)
            grip, out = top - bottom, high - top
            if one.diameter < self.shop.kit.three_jaw.least_mm:
                continue  # thinner than the jaws close
            if one.diameter < BUSH_LEAST_MM and self._bored_to(one, grip):
                continue  # thinner than a bush is bored
            behind = self.profile.largest(low, bottom)
            if (
                grip <= 0.5 or behind > one.diameter + 0.1
            ):  # nothing thicker goes back through the jaws
                continue
            wide = grip / one.diameter
            disc = end <= self.thick and grip >= 0.5 * self._length()
            good = wide >= 0.6 if out <= 1.5 * one.diameter else wide >= 1.0 and grip >= 10.0
            rank = (2 if good else 1 if disc else 0) + min(wide, 1.5) / 10 - out / one.diameter / 10
            if best is None or rank > best[0]:
                best = (rank, one, bottom, top)
        if best is None or best[0] < 1:
            return None
        _, one, bottom, top = best
        packing = ""
        if self._bored_to(one, top - bottom):
            soft = self.shop.job.lathe.soft_jaws and one.diameter >= SOFT_LEAST_MM
            packing = SOFT_JAWS if soft else "split bush"
        elif one.name != "blank.round":
            packing = "copper or card"
        steady, instead, beside = None, "", 0.0
        if high - top > holding_limit("work", "chuck only, finishing") * one.diameter:
            off = high - self._coordinate(0.0, False)
            beside = self._beside(one.diameter, high - top - off)
            away = beside + off
            here = self.profile.largest(high - away - FINGER_MM, high - away)
            steady, instead = self._steady(away, False, here)
        return self._new(self._chuck(Line("+x", ORIGIN), (bottom, top), None, "on the made end", one,
                                     packing, steady, instead, beside))  # fmt: skip

    def _bored_to(self, one: Stretch, grip_mm: float) -> bool:
        """Whether a grip wants jaws, or a bush, bored to the work: a short one, or one on a thread."""
        return grip_mm < 10 or one.name != "blank.round" and self._is_thread(one)

    def _smooth(self) -> Iterator[tuple[Stretch, Span]]:
        """What of each round no knurl stands on: it is proud, and crushed."""
        knurls = [self.ways.span(o) for o in self.axial if isinstance(o, f.Knurl)]
        for one in self.profile.stretches:
            if not one.name.endswith(".round"):
                continue
            spans: list[Span] = [(one.low, one.high)]
            for knurl in knurls:
                spans = [left for span in spans for left in outside(span, knurl)]
            yield from ((one, span) for span in spans)

    def _is_thread(self, one: Stretch) -> bool:
        return any(
            isinstance(o, f.Thread) and o.start_mm < one.high and o.end_mm > one.low
            for o in self.axial
        )

    # ---- one end after the other ----

    def _ends_in_turn(self) -> None:
        low_side, high_side = self._sides()
        late = bool(low_side) and not high_side
        order = (False, True) if late or len(low_side) > len(high_side) else (True, False)
        made = {True: low_side, False: high_side}
        if self._room_after(made[order[0]], order[0]) < SHORT_GRIP * self.thick:
            order = max(order, order[::-1], key=lambda way: self._room_after(made[way[0]], way[0]))
        long_sides = {True: self._is_long(low_side, True), False: self._is_long(high_side, False)}
        wants_centre = {
            low: long_sides[low]
            or (centre_later(self.on, low) and not (low_side if low else high_side))
            for low in (True, False)
        }
        for place, low in enumerate(order):
            side = low_side if low else high_side
            here = self._first_at_end(side, low) if long_sides[low] else side
            reach = max([self._reach(one, low) for one in here] or [0.0])
            setup = self._end_setup(low, reach)
            self._face(setup, low) if place == 0 else self._to_length(setup, low)
            self._turn(setup, here, self._axis(low))
            if wants_centre[low]:
                self._centre(setup, low)
        sides = [low for low in (False, True) if long_sides[low]]
        for low in sides:
            side = low_side if low else high_side
            done = self._first_at_end(side, low)
            last: list[Feature] = []
            if not done:
                last = [o for o in self._at_end(side, low) if isinstance(o, f.Thread)]
            rest = [one for one in side if one not in done and one not in last]
            self._long_side(rest, low, last)

    def _sides(self) -> tuple[list[Feature], list[Feature]]:
        """What is made from the low end, and what from the high: parted at the thickest stretch."""
        turned = [o for o in self.axial if isinstance(o, f.TurnedDiameter)]
        low: list[Feature] = []
        high: list[Feature] = []
        parting = self.long / 2
        if sum(o.end_mm - o.start_mm for o in turned) >= COVERED * self.long:
            parting = max(turned, key=lambda o: o.diameter.nominal_mm).start_mm
        for one in self.axial:
            if isinstance(one, f.Hole):
                (low if one.axis.along == "+x" else high).append(one)
            elif isinstance(one, f.Turned):
                (high if below(parting, one.end_mm) else low).append(one)
        return low, high

    def _is_long(self, side: list[Feature], low: bool) -> bool:
        """Whether a side is too slender to be turned without a centre."""
        turned = [o for o in side if isinstance(o, f.TurnedDiameter)]
        if not turned:
            return False
        reach = max(self._reach(one, low) for one in turned)
        thin = min(one.diameter.nominal_mm for one in turned)
        return reach > holding_limit("work", "chuck only, roughing") * thin

    def _at_end(self, side: list[Feature], low: bool) -> list[Feature]:
        """The short threaded end of a long side: made before there is a centre in the way."""
        found: list[Feature] = []
        for one in side:
            if isinstance(one, f.Thread) and self._by_die(one):
                found.append(one)
        spans = [(o.start_mm, o.end_mm) for o in found if isinstance(o, f.Turned)]
        under = [
            o for o in side
            if isinstance(o, f.TurnedDiameter)
            and any(all(within(at, o.start_mm, o.end_mm) for at in span) for span in spans)
            and self._reaches(o, low)
        ]  # fmt: skip
        return [*under, *found] if under else []

    def _first_at_end(self, side: list[Feature], low: bool) -> list[Feature]:
        """What of a long side is made out of the chuck, before the centre holds it; nothing where its
        thread would not bear the roughing of the rest."""
        here = self._at_end(side, low)
        rest = [o for o in side if isinstance(o, f.TurnedDiameter) and o not in here]
        roots = [
            Stretch(o.start_mm, o.end_mm, thread(o.thread).minor_external_mm, o.name)
            for o in here
            if isinstance(o, f.Thread)
        ]
        if not roots or not rest:
            return here
        foot = max(self._reach(one, low) for one in rest) + CLEAR_MM
        cut = min(o.start_mm for o in rest), max(o.end_mm for o in rest)
        arms = arms_mm(roots, self._coordinate(0.0, low), foot, cut, True)
        whole = cutting_data("turn", 0.0, self.shop.inch).depth_mm
        return here if deepest_mm(self.metal, arms, self.shop.inch) >= whole else []

    def _by_die(self, one: f.Thread) -> bool:
        return by_die(one.thread, one.end_mm - one.start_mm, self.shop) and self.shop.kit.die_holder

    def _long_side(self, side: list[Feature], low: bool, last: Sequence[Feature]) -> None:
        """Turn a slender side on the centre, gripped as near its foot as the piece allows; ``last`` is
        threaded by the die in the same chucking, the centre drawn back."""
        axis = self._axis(low)
        feet = [o for o in side if isinstance(o, f.Turned)]
        foot = max(self._reach(one, low) for one in feet)
        front, one = self._foot(foot, low)
        inner = min(front + self.jaws, self._from_end(one.high if low else one.low, low))
        ends = sorted((self._coordinate(front, low), self._coordinate(inner, low)))
        fine = one.name != "blank.round"
        four = fine and self.shop.kit.four_jaw and self.shop.kit.four_jaw.grips(one.diameter)
        hold = self._chuck(axis, (ends[0], ends[1]), self._centre_at(low), "", one,
                           "copper" if fine else "")  # fmt: skip
        if four:
            hold = replace(hold, by="four-jaw chuck", words=hold.words.replace("three", "four"))
        thin = min(
            (one.diameter.nominal_mm for one in feet if isinstance(one, f.TurnedDiameter)),
            default=self.thick,
        )
        beside = sorted((self._coordinate(front, low), self._coordinate(0.0, low)))
        least = min(thin, self.profile.least(beside[0], beside[1]))
        assert hold.out_mm is not None
        if hold.out_mm > holding_limit("work", "chuck and centre") * least:
            instead = ""
            if not self.shop.kit.travelling_steady:
                instead = "Make one: a bracket on the carriage, two brass fingers"
                said = f"a travelling steady for Ø{self.numbers.size(thin)}"
                self.shop.lacks(self.on.part.name, said, instead)
            words = f"{hold.words}, the travelling steady behind the tool, oiled"
            hold = replace(hold, follows_mm=thin, steady_instead=instead, words=words)
        setup = self._new(hold)
        if fine and hold.by == "three-jaw chuck":
            self._true(setup, SHIMMED)
        self._turn(setup, side, axis)
        if last:
            self.ways.groove(last)
            packed = ", packed with copper" if fine else ""
            words = f"{hold.by}{packed}, not opened since, {DRAWN_BACK}"
            die = replace(hold, centre=None, follows_mm=None, steady_instead="", words=words)
            self._turn(self._new(die), list(last), axis)

    def _foot(self, foot: float, low: bool) -> tuple[float, Stretch]:
        """The nearest stretch past the foot that is long enough to hold, and where the jaws begin.

        What sticks out behind goes back through the jaws; what is too thick for the chuck's bore stands
        in the jaws alone, with what is thin enough behind it. Where neither can, the far end is held.
        """
        kit, whole = self.shop.kit, self._length()
        share = holding_limit("grip", "with a centre")
        deepest = whole - self.jaws - self._goes_in(low)
        for one in self.profile.stretches if low else reversed(self.profile.stretches):
            near, far = sorted((self._from_end(one.low, low), self._from_end(one.high, low)))
            front = max(near, foot) + CLEAR_MM
            behind = self.profile.largest(*sorted((self._coordinate(far, low),
                                                   self._coordinate(whole, low))))  # fmt: skip
            through = kit.passes(max(one.diameter, behind)) and whole - front <= kit.chuck_depth_mm
            if not through:
                if behind > one.diameter + SAME_MM:
                    continue
                front = max(front, deepest)
            if far - front >= max(10.0, share * one.diameter):
                return front, one
        front = min(max(whole - self.jaws, foot + CLEAR_MM), whole - CLEAR_MM)
        jaws = sorted((self._coordinate(front, low), self._coordinate(whole, low)))
        under = self.profile.between(*jaws)
        return front, under[0] if low else under[-1]
