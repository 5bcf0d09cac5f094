"""A whole part: turned after welding, made across its axis, worked in place on the lathe, slit last.

Imported by making.pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.features import Stage
from parts.part import members
from parts.standard.holding import holding_limit
from planner.making import bodies as b
from planner.making import plated as plates
from planner.making import unbalance
from planner.making.across import BALANCED
from planner.making.chucked import (
    MOUTH,
    MOUTH_PART,
    STEADY_INSTEAD,
    centre_drill,
    centre_said,
    on_bar,
)
from planner.making.inplace import InPlace
from planner.making.model import (
    Align,
    At,
    Centre,
    Grip,
    Hold,
    Line,
    SetUp,
    rpm_in_fingers,
)
from planner.making.near import ordered, same, way_of
from planner.making.profile import FINE_MM, Profile, Stretch
from planner.making.ways.onaxis import OnAxis

CLEAR_OF_JAWS_MM = 3.0
"""What is turned beside the block ends so far from the jaws (common practice)."""

STEADY_MM = 12.0
"""A steady's jaws want so much of the work beside the cut (common practice)."""


OUT_OF_BALANCE = (
    "Out of balance, and a chuck has nowhere to bolt a counterweight: begin at the slowest speed, turn"
    " it round by hand first; keep clear of the corners"
)
"""What is said of work out of balance in a chuck."""

AT_ITS_LAST_CUT = (
    "the carriage run up to its last cut before: bolts and angle plate clear slide and tool"
)
"""What is said besides of work on an angle plate, which stands out beside it."""

OUT_DONE = "Have it turned where there is one"


class Whole(InPlace):
    """The set-ups of a whole part."""

    # ---- after welding ----

    def after_welding(self) -> list[SetUp]:
        """What is turned on the weldment, then what is made across."""
        here = self.of(Stage.WELDED)
        turned = [o for o in here if isinstance(o, f.Turned)]
        rest = [o for o in here if o not in turned]
        setups = self._turned(turned) if turned else []
        self.across.turned_before = bool(turned)
        self.across.bodies = [b.turned(body, turned) for body in self.across.bodies]
        for one in turned:
            if isinstance(one, f.FacedShoulder):
                self._shouldered(one)
        return setups + self.across.plan(rest, Stage.WELDED)

    def _shouldered(self, one: f.FacedShoulder) -> None:
        """The block is thinner by what was faced off it."""
        i, sign = way_of(one.axis.along)
        at, gone = (one.axis.at(station)[i] for station in (one.start_mm, one.end_mm))
        for body in self.across.bodies:
            if body.axis is None and same(body.end(i, sign), gone):
                self.across.bodies = b.faced(self.across.bodies, body, i, sign, at)
                return

    def last(self) -> list[SetUp]:
        """What is made last of all."""
        return self.across.plan(self.of(Stage.LAST), Stage.LAST)

    def _turned(self, features: Sequence[f.Turned]) -> list[SetUp]:
        """A weldment turned about one axis: its block in the four-jaw chuck, its end on a centre."""
        first = features[0]
        way = first.axis.along
        i, sign = way_of(way)
        bodies = self.across.bodies
        end = sign * max(sign * first.axis.at(o.end_mm)[i] for o in features)
        foot = sign * min(sign * first.axis.at(o.start_mm)[i] for o in features)
        boxes = [body for body in bodies if body.axis is None]
        block = min(boxes, key=lambda body: abs(body.end(i, sign) - foot))
        far = block.end(i, -sign)
        jaws = self.shop.jaws_mm
        deep = abs(far - foot) - CLEAR_OF_JAWS_MM
        others = [j for j in range(3) if j != i]
        far_off = [
            max(abs(block.end(j, s) - first.axis.origin[j]) for s in (-1, 1)) for j in others
        ]
        reach, corner = 2 * max(far_off), 2 * hypot(*far_off)
        kit, lacking, plate = self.shop.kit, "", None
        four = kit.four_jaw and kit.four_jaw.takes(reach)
        if kit.faceplate_mm and not four:
            over = self.shop.job.lathe.spindle_over_cross_slide
            plate = plates.plated(block, (i, sign), first.axis.origin, kit.faceplate_mm, 0.0,
                                  far + sign * deep, over_slide_mm=over)  # fmt: skip
        if plate is None:
            deep = min(jaws, deep)
            if not four:
                lacking = OUT_DONE
                said = f"a four-jaw chuck that opens {self.numbers.rule_up(reach)}"
                self.shop.lacks(self.part.name, said, lacking)
        low, high = sorted((far, far + sign * deep))
        grips = [
            Grip(block.face(j, -1), block.size(j), low, high, block.face(j, 1)) for j in others
        ]
        own = self._round_on(first)
        at = block.end(i, sign)
        profile = Profile(
            Stretch(*ordered(end, at), own.diameter, own.name),
            Stretch(*ordered(at, far), corner, block.name),
        )
        thin = min(o.diameter.nominal_mm for o in features if isinstance(o, f.TurnedDiameter))
        _, pilot = centre_drill(MOUTH_PART * thin, self.numbers)
        kind = "live" if kit.live_centre else "dead"
        out = abs(end - (far + sign * deep))
        slender = out > holding_limit("work", "chuck and centre") * self._mean(features)
        instead = ""
        if slender and not kit.steadies(own.diameter):
            instead = STEADY_INSTEAD
            said = f"a steady for Ø{self.numbers.size(own.diameter)}"
            self.shop.lacks(self.part.name, said, instead)
        by, rests = "four-jaw chuck", ""
        words = f"{by} on the {block.name}'s four sides, {self.numbers.rule(deep)} gripped"
        if plate:
            by, rests = "faceplate", block.face(i, -sign)
            grips = [plates.clamped(plate, block, rests, (low, high))]
            back = f"the {block.name}'s {rests.rpartition('.')[2]} side"
            words = plates.words(plate, back, "") + "; where it gapes at the faceplate, shims"
        words += f"; the far end on the {centre_said(kind)}; {self.numbers.rule(out)} out"
        hold = Hold(by, words, tuple(grips), Line(way, first.axis.origin),
                    Centre(kind, way, MOUTH * pilot), out_mm=out, rests=rests, chuck_instead=lacking,
                    plate=plate)  # fmt: skip
        align = (
            Align("the bar runs true beside the block and at its end", f"{own.name}.round",
                  "dial indicator", 0.05),
        )  # fmt: skip
        metal = next(m.blank.material for m in members(self.part) if m.name == own.name)
        work = OnAxis(self.on, self.shop, self.gauges, profile, metal)
        groups: list[tuple[list[f.Turned], At | None]] = [(list(features), None)]
        if slender:
            groups = self._in_two(features, own, i)
        found = []
        for some, steady in groups:
            said, made = words, ""
            if steady:
                made = "" if kit.steadies(steady.size_mm) else instead
                near = self.numbers.rule(abs(end - steady.at_mm))
                said += (
                    f"; the fixed steady {near} from the end, on"
                    f" Ø{self.numbers.plain.size(steady.size_mm)}"
                    + on_bar(steady, own.diameter, metal)
                )
            setup = SetUp(
                self.on,
                Stage.WELDED,
                "lathe",
                replace(hold, steady=steady, words=said, steady_instead=made),
                align=align,
            )
            off = unbalance.most_rpm(self.part, bodies, i, first.axis.origin)
            setup.most_rpm = plates.MOST_RPM if plate else off
            if steady:
                setup.most_rpm = min(setup.most_rpm, rpm_in_fingers(steady.size_mm))
            setup.caution = f"{BALANCED}; {AT_ITS_LAST_CUT}" if plate else OUT_OF_BALANCE
            work.all(setup, some, Line(way, first.axis.origin), FINE_MM)
            found.append(setup)
        return found

    def _in_two(
        self, features: Sequence[f.Turned], own: b.Body, i: int
    ) -> list[tuple[list[f.Turned], At | None]]:
        """The end first, the steady on the bar; then the rest, the steady on the end."""
        turned = sorted(
            (o for o in features if isinstance(o, f.TurnedDiameter)), key=lambda o: -o.end_mm
        )
        last = turned[0]
        beside = last.axis.at(last.start_mm - STEADY_MM)[i]
        on = last.axis.at(last.start_mm + STEADY_MM)[i]
        return [
            ([last], At(beside, own.diameter)),
            ([o for o in features if o is not last], At(on, last.diameter.mean_mm)),
        ]

    def _mean(self, features: Sequence[f.Turned]) -> float:
        """The diameter of a plain bar that is as limber, by the fourth powers (beam formula)."""
        turned = [o for o in features if isinstance(o, f.TurnedDiameter)]
        soft = sum((o.end_mm - o.start_mm) / o.diameter.nominal_mm**4 for o in turned)
        total = sum(o.end_mm - o.start_mm for o in turned)
        return float((total / soft) ** 0.25)
