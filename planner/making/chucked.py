"""A round piece in the chuck: how it is gripped, its ends faced and centred.

Imported by making.turned.
"""

from __future__ import annotations

from parts import features as f
from parts.features import Feature, Stage
from parts.standard.holding import holding_limit
from parts.standard.materials import material
from planner.making import cuts
from planner.making.gauges import Gauges
from planner.making.holding import (
    SOFT_JAWS,
    Hold,
    Holding,
    facing_mm,
    is_axial,
    least_grip_mm,
)
from planner.making.model import (
    Align,
    At,
    Centre,
    Grip,
    Line,
    Op,
    SetUp,
    Tool,
    Workpiece,
    rpm_in_fingers,
)
from planner.making.model import Hold as Held
from planner.making.near import below, same
from planner.making.profile import FINE_MM, Profile, Stretch
from planner.making.ways import onaxis
from planner.making.ways.later import end_later
from planner.making.workshop import Workshop
from planner.words.numbers import Numbers
from planner.words.units import MM_PER_INCH

ORIGIN = (0.0, 0.0, 0.0)

BUSH_MM = 10.0
"""A split bush is so much thicker than what it is bored for (common practice: a wall of 5)."""

SHORT_GRIP = 0.6
"""Short work is held by so much of its diameter (common practice)."""

STEADY_ROOM_MM = 8.0
"""A steady's fingers stand so far off jaws and cut at the least, their middle (common practice: 10 mm
wide, and a little clear)."""

RUNS_TRUE = "runs true beside the jaws"
"""What four jaws, each for itself, set a round to."""

SHIMMED = f"{RUNS_TRUE}, a slip of shim under one of them where it does not"
"""And three that move together: they are out by more than what is finished may be (common practice)."""


CAT_HEAD_MM = 24.0
"""A cat head is so long at the least: the track of the fingers, a row of screws on either side of it
(common practice)."""


def black(size_mm: float, bar_mm: float, metal: str) -> bool:
    """Whether a steady's fingers would run on steel as it was bought, black it may be."""
    return same(size_mm, bar_mm) and "steel" in material(metal).group


def on_bar(steady: At, bar_mm: float, metal: str, room_mm: float = CAT_HEAD_MM) -> str:
    """What is said of a steady whose fingers run on steel as it was bought: a black bar is no round,
    and its scale wears them; in a cat head it is carried by screws, where there is room for one to
    either side, else on a turned band (common practice). room_mm: to the nearer of jaws and cut."""
    if not black(steady.size_mm, bar_mm, metal):
        return ""
    if below(room_mm, CAT_HEAD_MM / 2):
        return ", on bright bar; a black one on a band there, turned true first by light cuts"
    return ", on bright bar; a black one in a cat head there, set true by its screws"


STEADY_INSTEAD = "Make a wooden steady with a brass bush"
"""What serves a shop without a steady that opens so far (common practice)."""

BEHIND_MM = 3.0
"""What of the work goes back through the jaws no farther is not told (common practice)."""

PILOTS_MM = (3.15, 2.5, 2.0, 1.6, 1.0)
"""Centre drills, DIN 333 form A, by their pilot."""

INCH_PILOTS = {"No.4": 0.125, "No.3": 0.109375, "No.2": 0.078125, "No.1": 0.046875, "No.0": 0.03125}
"""Those of an inch shop by number, in (ASME B94.11M, combined drills and countersinks, plain; from
memory)."""

MOUTH = 2.12
"""The mouth of a centre hole over its pilot (ISO 866, form A)."""

CENTRE_DEEP = 0.9
"""A centre hole is so deep over its mouth: pilot and cone (ISO 866, form A; from memory)."""

BALL_SAG_MM = 0.1
"""A centre hole takes so much of a ball's height: half its mouth squared over the ball's diameter."""

MOUTH_PART = 0.6
"""Of the end's diameter the mouth takes at most so much (common practice)."""


def centre_drill(most_mm: float, numbers: Numbers) -> tuple[str, float]:
    """The centre drill whose mouth is at most so wide, else the smallest: its name, its pilot."""
    if numbers.inch:
        rows = [
            (f"{number} ({numbers.size(MM_PER_INCH * inches)})", MM_PER_INCH * inches)
            for number, inches in INCH_PILOTS.items()
        ]
    else:
        rows = [(numbers.size(mm), mm) for mm in PILOTS_MM]
    return next((row for row in rows if MOUTH * row[1] <= most_mm), rows[-1])


def centre_said(kind: str) -> str:
    """A centre in the tailstock: the work turns on a dead one, which wants grease and some play."""
    return f"{kind} centre" + (", greased and set up without pressure" if kind == "dead" else "")


class Chucked:
    """One round piece and its set-ups on the lathe."""

    def __init__(self, on: Workpiece, held: Holding, shop: Workshop, gauges: Gauges) -> None:
        assert on.member is not None
        self.on, self.held, self.shop, self.gauges = on, held, shop, gauges
        self.member, self.stock = on.member, on.member.blank
        self.numbers, self.metal = shop.numbers, self.stock.material
        self.long, self.thick = self.stock.length_mm, self.stock.section.width_mm
        self.facing = facing_mm(shop.job.series)
        own = [one for one in self.member.features if is_axial(one) and one.stage is Stage.BLANK]
        self.length = next(o for o in self.member.features if isinstance(o, f.FacedLength))
        self.axial: list[Feature] = own
        self.jaws = shop.jaws_mm
        spare = held.grip_mm if held.hold in (Hold.PARTED, Hold.BAR) else 0.0
        high = self.long + held.facing_mm - self.facing + spare
        self.profile = Profile(Stretch(-self.facing, high, self.thick, "blank.round"))
        self.ways = onaxis.OnAxis(on, shop, gauges, self.profile)
        self.setups: list[SetUp] = []

    def _coordinate(self, from_end: float, low: bool) -> float:
        return from_end if low else self.long - from_end

    def _from_end(self, at: float, low: bool) -> float:
        return at if low else self.long - at

    def _reaches(self, one: f.Turned, low: bool) -> bool:
        """Whether something turned along +x goes as far as an end."""
        return same(one.start_mm, 0.0) if low else same(one.end_mm, self.long)

    def _length(self) -> float:
        return self.profile.high - self.profile.low

    # ---- holdings ----

    def _axis(self, low: bool) -> Line:
        """The spindle's line with an end at the tailstock."""
        return Line("-x" if low else "+x", ORIGIN)

    def _new(self, hold: Held) -> SetUp:
        setup = SetUp(self.on, Stage.BLANK, "lathe", hold)
        if hold.steady:
            setup.most_rpm = rpm_in_fingers(hold.steady.size_mm)
        if hold.by == "four-jaw chuck":
            self._true(setup, RUNS_TRUE)
        self.setups.append(setup)
        return setup

    def _true(self, setup: SetUp, what: str) -> None:
        """Set what is gripped true."""
        at = setup.hold.grips[0].surface
        setup.align = (Align(what, at, "dial indicator", 0.02),)

    def _chuck(
        self, axis: Line, between_mm: tuple[float, float], centre: Centre | None, words: str = "",
        one: Stretch | None = None, packing: str = "", steady: At | None = None, instead: str = "",
        beside_mm: float = 0.0,
    ) -> Held:  # fmt: skip
        """The chuck on a stretch between two places."""
        kit, (low_mm, high_mm) = self.shop.kit, between_mm
        name, size_mm = (one.name, one.diameter) if one else ("blank.round", self.thick)
        at_low = axis.along == "-x"
        end = self.profile.low if at_low else self.profile.high
        out = abs((low_mm if at_low else high_mm) - end)
        by = "three-jaw chuck"
        if size_mm in kit.collets and not packing:
            by = "collet"
        lacking = ""
        across = size_mm + (BUSH_MM if packing == "split bush" else 0.0)
        if not kit.three_jaw.grips(across) and by != "collet":
            if kit.four_jaw and kit.four_jaw.grips(across):
                by = "four-jaw chuck"
            else:
                lacking = "Have it turned where there is one"
                said = f"a chuck that grips Ø{self.numbers.size(size_mm)}"
                if across > size_mm:
                    said += f" in a split bush of {self.numbers.rule_up(across)}"
                self.shop.lacks(self.on.part.name, said, lacking)
        numbers = self.numbers
        parts = [
            words or by,
            f"{numbers.rule(high_mm - low_mm)} gripped on Ø{numbers.plain.gripped(size_mm)}",
        ]
        if words:
            parts.insert(0, by)
        if packing:
            parts.append(
                f"in a {packing}"
                if packing == "split bush"
                else f"packed with {packing}"
                if packing != SOFT_JAWS
                else f"in {packing}, closed on a plug as they are bored"
            )
        parts.append(f"{numbers.rule(out)} out")
        last = self.profile.high - high_mm if at_low else low_mm - self.profile.low
        barred = self.held.hold is Hold.BAR and at_low  # else it is parted off the bar
        if last > BEHIND_MM and not barred:
            jaws = "collet" if by == "collet" else "jaws"
            parts.append(f"{numbers.rule(last)} back through the {jaws}")
        if centre:
            parts.append(centre_said(centre.kind))
        if steady:
            away = abs(steady.at_mm - end)
            bar = on_bar(steady, self.thick, self.metal, min(beside_mm, out - away))
            parts.append(f"the steady {numbers.rule(away)} from the end{bar}")
        grip = Grip(name, size_mm, low_mm, high_mm, packing=packing)
        return Held(by, ", ".join(parts), (grip,), axis, centre, steady=steady, out_mm=out,
                    chuck_instead=lacking, steady_instead=instead)  # fmt: skip

    def _end_setup(self, low: bool, need: float) -> SetUp:
        """One end out of the chuck, no farther than it must: through the jaws, or on the steady."""
        kit, whole = self.shop.kit, self._length()
        room = max(need + 3.0, 0.5 * self.thick)
        through = kit.passes(self.thick)
        behind = kit.chuck_depth_mm if through else self.jaws + self._goes_in(low)
        out = max(room, whole - behind)
        out = min(out, whole - min(self.jaws, 0.6 * self.thick)) if out > whole - 10 else out
        if whole - out < min(self.jaws, SHORT_GRIP * self.thick):  # short and thick: half of it
            out = min(out, max(need + 3.0, 0.5 * whole, whole - behind))
        ratio = holding_limit("work", "chuck only, roughing")
        steady, instead, beside = None, "", 0.0
        barely = self.jaws < least_grip_mm(self.thick, out, whole)
        if out > ratio * self.thick or barely:
            off = abs(self._outer(0.0, low) - self._coordinate(0.0, low))
            beside = self._beside(self.thick, out - need - off)
            apart = need + off + beside + STEADY_ROOM_MM  # its fingers before the jaws
            if below(out, apart) and not below(whole - self.jaws, apart):
                out = apart
            beside = min(beside, max(out - need - off - STEADY_ROOM_MM, 0.0))
            if not below(beside, min(STEADY_ROOM_MM, 0.5 * self.thick)):
                steady, instead = self._steady(need + beside + off, low, self.thick)
        ends = sorted((self._outer(out, low), self._outer(min(out + self.jaws, whole), low)))
        under = self.profile.between(*ends)
        one = max(under, key=lambda s: (s.diameter, s.high - s.low))
        fine = any(s.fine for s in under if s.diameter > one.diameter - 1.0)
        here = (max(ends[0], one.low), min(ends[1], one.high))
        packing = "copper" if fine else ""
        hold = self._chuck(self._axis(low), here, None, "", one, packing, steady, instead, beside)
        return self._new(hold)

    def _beside(self, thick: float, room: float) -> float:
        """How far a steady stands off what is cut: room for a cat head on a bar as it was bought, where
        there is as much to the jaws; room: from the cut to those."""
        if black(thick, self.thick, self.metal) and not below(room, CAT_HEAD_MM):
            return max(0.5 * thick, CAT_HEAD_MM / 2)
        return 0.5 * thick

    def _steady(self, away: float, low: bool, thick: float) -> tuple[At, str]:
        """The fixed steady so far from the end, on so thick a round; what serves without such a one."""
        kit, instead = self.shop.kit, ""
        if not kit.steadies(thick):
            instead = STEADY_INSTEAD
            self.shop.lacks(
                self.on.part.name,
                f"a steady for Ø{self.numbers.size(thick)}, or a chuck it goes into",
                f"{instead}, or have the ends faced and centred",
            )
        return At(self._outer(away, low), thick), instead

    def _goes_in(self, low: bool) -> float:
        """How much of the far end goes on behind the jaws: what is thin enough for the chuck's bore."""
        depth = 0.0
        for one in reversed(self.profile.stretches) if low else self.profile.stretches:
            if not self.shop.kit.passes(one.diameter):
                break
            depth += one.high - one.low
        return min(depth, max(self.shop.kit.chuck_depth_mm - self.jaws, 0.0))

    def _reach(self, one: Feature, low: bool) -> float:
        """How far from its end something of a side goes."""
        if not isinstance(one, f.Turned):
            return 0.0
        return one.end_mm if low else self.long - one.start_mm

    def _room_after(self, side: list[Feature], low: bool) -> float:
        """What the jaws still grip of the bar over an end that is made: it stands within them, unless
        it goes into the chuck's bore."""
        turned = [o for o in side if isinstance(o, f.TurnedDiameter)]
        if all(self.shop.kit.passes(one.diameter.nominal_mm) for one in turned):
            return self.jaws
        return self.jaws - max(self._reach(one, low) for one in turned)

    def _outer(self, from_end: float, low: bool) -> float:
        """A place by its distance from the end as it is now."""
        return self.profile.low + from_end if low else self.profile.high - from_end

    # ---- operations on the ends ----

    def _face(self, setup: SetUp, low: bool) -> None:
        """Clean up the first end."""
        setup.add(self._facing(low, "face the first end"))

    def _to_length(self, setup: SetUp, low: bool) -> None:
        """Face the other end to the length."""
        said = self.numbers.worked_limits(self.length.length)
        op = self._facing(low, f"face the other end to length {said}")
        op.feature, op.last, op.note = self.length, True, self.length.note
        op.measures = (self.gauges.length(self.length.length, "blank.-x", "blank.+x", "outside"),)
        setup.add(op)

    def _facing(self, low: bool, text: str) -> Op:
        at = self._coordinate(0.0, low)
        gone = (self.profile.low, at) if low else (at, self.profile.high)
        left = (at, self.profile.high) if low else (self.profile.low, at)
        off, thick = gone[1] - gone[0], self.profile.largest(*gone)
        cut = cuts.face(self._axis(low), at, "+x" if low else "-x", thick, off)
        self.profile.crop(*left)
        tool = self.shop.turning("facing", self.metal)
        return Op("face", f"{text}, {self.numbers.size(off)} off", tool, cut=cut,
                  speed=("face", thick), rate="face", length_mm=thick / 2, stock_mm=off)  # fmt: skip

    def _pilot(self, low: bool) -> tuple[str, float]:
        ends = [o.diameter.nominal_mm for o in self.member.features
                if isinstance(o, f.TurnedDiameter) and is_axial(o)
                and self._reaches(o, low)]  # fmt: skip
        thin = min([*ends, end_later(self.on, low), self.thick])
        balls = [o.diameter.nominal_mm for o in self.member.features
                 if isinstance(o, f.TurnedBall) and is_axial(o)
                 and same(o.axis.at(o.end_mm)[0], self._coordinate(0.0, low))]  # fmt: skip
        most = min([MOUTH_PART * thin, *(2 * (BALL_SAG_MM * ball) ** 0.5 for ball in balls)])
        return centre_drill(most, self.numbers)

    def _centre(self, setup: SetUp, low: bool) -> None:
        name, pilot = self._pilot(low)
        mouth, deep = MOUTH * pilot, MOUTH * pilot * CENTRE_DEEP
        axis = Line("+x" if low else "-x", ORIGIN)
        cut = cuts.hole(axis, (self._outer(0.0, low), self._outer(deep, low)), mouth)
        tool = Tool("centre drill", f"centre drill {name}", pilot)
        setup.add(
            Op("centre", f"centre-drill the end, its mouth {self.numbers.caliper(mouth)}",
               tool, cut=cut, speed=("drill", pilot), rate="spot", length_mm=deep)
        )  # fmt: skip

    def _centre_at(self, low: bool) -> Centre:
        kind = "live" if self.shop.kit.live_centre else "dead"
        if kind == "dead" and not self.shop.kit.dead_centre:
            self.shop.lacks(self.on.part.name, "a centre for the tailstock", "Buy a dead centre")
        return Centre(kind, "-x" if low else "+x", MOUTH * self._pilot(low)[1])

    def _turn(self, setup: SetUp, features: list[Feature], axis: Line) -> None:
        """What is turned, bored and threaded in one chucking, in the trade's order."""
        self.ways.all(setup, features, axis, FINE_MM)
